package practice

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"

	"larderlamp/rules"
)

// Entry is an item by names, to be kept or passed on. It holds no verdict: that
// is the evaluator's whenever the item is read.
type Entry struct {
	About   string            `json:"about"`   // rule
	Product string            `json:"product"` // of both jars
	Shows   map[string]string `json:"shows"`   // the first jar: sign to value, where it is not as on a sound jar
	Sign    string            `json:"sign"`    // the one that differs
	Changed string            `json:"turned"`  // what the second jar shows of it
}

// Entry writes the item by names.
func (it *Item) Entry() Entry {
	j := &it.Jars[0]
	e := Entry{it.About.ID, j.Product.ID, map[string]string{}, it.Sign.ID(), it.Jars[1].value(it.Sign).ID()}
	for i := range rules.Signs {
		id := rules.SignID(i)
		if v, ok := j.Situation.Known(id); ok && !id.Fact() && v != rules.Signs[i].Sound {
			e.Shows[id.ID()] = v.ID()
		}
	}
	return e
}

// Item reads an item by names and judges both jars. The error names the field.
func (e *Entry) Item() (it Item, err error) {
	rule, ok := rules.RuleByID(e.About)
	if !ok {
		return it, fmt.Errorf("about: no rule %q", e.About)
	}
	product, ok := rules.ProductByID(e.Product)
	if !ok {
		return it, fmt.Errorf("product: no product %q", e.Product)
	}
	s := rules.NewSituation()
	if err := product.Tell(&s); err != nil {
		return it, fmt.Errorf("product: %w", err)
	}
	for _, sign := range slices.Sorted(maps.Keys(e.Shows)) {
		switch id, ok := rules.SignByID(sign); {
		case !ok:
			return it, fmt.Errorf("shows: no sign %q", sign)
		case id.Fact():
			return it, fmt.Errorf("shows: %s is a fact of the product", sign)
		}
		if err := s.TellNamed(sign, []string{e.Shows[sign]}); err != nil {
			return it, fmt.Errorf("shows: %w", err)
		}
	}
	rest(&s)
	first, ok := judged(product, s)
	if !ok {
		return it, fmt.Errorf("shows: no jar shows this, or not all of it is told")
	}
	sign, ok := rules.SignByID(e.Sign)
	if !ok || sign.Fact() || sign == rules.SignOpened {
		return it, fmt.Errorf("sign: %q cannot be turned", e.Sign)
	}
	s.Forget(sign)
	if err := s.TellNamed(e.Sign, []string{e.Changed}); err != nil {
		return it, fmt.Errorf("turned: %w", err)
	}
	second, ok := judged(product, s)
	if !ok || second.Verdict == first.Verdict {
		return it, fmt.Errorf("turned: no jar shows it, or its verdict is the same")
	}
	return Item{rule, sign, [2]Twin{first, second}}, nil
}

// Set is a row of items to be passed on as a file.
type Set struct {
	Version int     `json:"version"`
	Edition string  `json:"edition"` // of the rules it was made with
	Seed    uint64  `json:"seed"`
	Items   []Entry `json:"items"`
}

// SetVersion is the version of the format of a set.
const SetVersion = 1

// MostItems is how many items a set can have.
const MostItems = 200

// Set takes the first n items of the deck, at most [MostItems].
func (d Deck) Set(n int) Set {
	s := Set{Version: SetVersion, Edition: rules.Edition, Seed: d.Seed}
	for i := range min(n, MostItems) {
		if it, ok := d.Item(i); ok {
			s.Items = append(s.Items, it.Entry())
		}
	}
	return s
}

// ParseSet reads a set from JSON and judges its items by the rules of now. The
// error names the item, counted from 1, and the field.
func ParseSet(text []byte) (Set, []Item, error) {
	var s Set
	if err := json.Unmarshal(text, &s); err != nil {
		return s, nil, fmt.Errorf("practice set: %w", err)
	}
	if s.Version != SetVersion {
		return s, nil, fmt.Errorf("practice set: version %d is not known, only %d", s.Version, SetVersion)
	}
	if len(s.Items) == 0 || len(s.Items) > MostItems {
		return s, nil, fmt.Errorf("practice set: %d items; there have to be 1 to %d", len(s.Items), MostItems)
	}
	var items []Item
	for i := range s.Items {
		it, err := s.Items[i].Item()
		if err != nil {
			return s, nil, fmt.Errorf("practice set: item %d: %w", i+1, err)
		}
		items = append(items, it)
	}
	return s, items, nil
}
