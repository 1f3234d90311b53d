// Command diffrules compares two editions of the rule base, as dump prints
// them: how many situations became milder, how many stricter, an example of
// each, and the rules responsible.
//
// Usage: diffrules OLD.json NEW.json
package main

import (
	"encoding/json"
	"fmt"
	"io"
	"log"
	"os"
	"slices"
	"strings"

	"larderlamp/rules/internal/mdd"
)

// book is one edition of the rule base.
type book struct {
	Edition string `json:"edition"`
	// Order is the order in which the edition's own diagram tests the signs;
	// editions before 2026.2 do not state it.
	Order []string `json:"order"`
	Signs []struct {
		ID     string   `json:"id"`
		Values []string `json:"values"`
	} `json:"signs"`
	Rules []rule `json:"rules"`
}

type rule struct {
	ID   string              `json:"id"`
	Kind string              `json:"kind"`
	Then string              `json:"then"`
	When map[string][]string `json:"when"`
}

// verdicts are the constants of the diagrams, by the ids in the files. They are not
// taken from this edition: the file of an older one keeps the ids of its own.
var verdicts = map[string]mdd.Node{"keep": 1, "use-soon": 2, "discard": 3}

const discard = 3

// backing is the sign that follows from the record.
const backing = "backing"

// space is every sign and value that either edition knows.
type space struct {
	signs  []string
	values map[string][]string
	graph  *mdd.Graph
}

func newSpace(books ...*book) *space {
	s := &space{values: map[string][]string{}}
	for _, b := range books {
		for _, sign := range b.Signs {
			if sign.ID == backing {
				continue
			}
			if s.values[sign.ID] == nil {
				s.signs = append(s.signs, sign.ID)
			}
			for _, v := range sign.Values {
				if !slices.Contains(s.values[sign.ID], v) {
					s.values[sign.ID] = append(s.values[sign.ID], v)
				}
			}
		}
	}
	// The order of the newest edition keeps the diagrams small.
	order := books[len(books)-1].Order
	place := func(id string) int {
		if i := slices.Index(order, id); i >= 0 {
			return i
		}
		return len(order)
	}
	slices.SortStableFunc(s.signs, func(a, b string) int { return place(a) - place(b) })
	var sizes []int
	for _, id := range s.signs {
		sizes = append(sizes, len(s.values[id]))
	}
	s.graph = mdd.New(sizes)
	return s
}

// box is the conditions of a rule as those of a diagram.
func (s *space) box(r *rule) (box []mdd.Condition, err error) {
	for id, values := range r.When {
		if id == backing {
			continue
		}
		c := mdd.Condition{Variable: slices.Index(s.signs, id)}
		for _, v := range values {
			i := slices.Index(s.values[id], v)
			if c.Variable < 0 || i < 0 {
				return nil, fmt.Errorf("rule %s: no value %s of %s", r.ID, v, id)
			}
			c.Values |= 1 << i
		}
		box = append(box, c)
	}
	return
}

// The backings, the strongest first, as terminals of a diagram. Editions before
// 2026.2 have no plain one.
var backings = []string{"tested", "plain", "other"}

// backs returns the backing that a support rule makes.
func (r *rule) backs() int {
	switch {
	case r.Kind == "cold support", r.Kind == "support" && r.Then == "keep":
		return 0
	case r.Kind == "plain support":
		return 1
	}
	return 2
}

// verdict builds the diagram of an edition.
func (s *space) verdict(b *book) (mdd.Node, error) {
	g := s.graph
	support, rests := mdd.Node(discard), mdd.Node(2)
	for i := range b.Rules {
		if r := &b.Rules[i]; strings.HasSuffix(r.Kind, "support") && r.Kind != "missing support" {
			box, err := s.box(r)
			if err != nil {
				return 0, err
			}
			support = g.Min(support, g.All(box, verdicts[r.Then], discard))
			rests = g.Min(rests, g.All(box, mdd.Node(r.backs()), 2))
		}
	}
	all := support
	for i := range b.Rules {
		r := &b.Rules[i]
		if r.Kind != "restriction" {
			continue
		}
		box, err := s.box(r)
		if err != nil {
			return 0, err
		}
		n := g.All(box, verdicts[r.Then], 0)
		if need := r.When[backing]; need != nil {
			n = g.Choose(g.Map(rests, func(v int) int {
				if slices.Contains(need, backings[v]) {
					return 1
				}
				return 0
			}), n, 0)
		}
		all = g.Max(all, n)
	}
	return all, nil
}

// both is where every sign shows a value that all editions know: 1 there, 0
// elsewhere. A sign that only one of them knows may show any.
func (s *space) both(books ...*book) mdd.Node {
	var box []mdd.Condition
	for i, id := range s.signs {
		c := mdd.Condition{Variable: i, Values: 1<<len(s.values[id]) - 1}
		for _, b := range books {
			for _, sign := range b.Signs {
				if sign.ID != id {
					continue
				}
				for k, v := range s.values[id] {
					if !slices.Contains(sign.Values, v) {
						c.Values &^= 1 << k
					}
				}
			}
		}
		box = append(box, c)
	}
	return s.graph.All(box, 1, 0)
}

// below is where one verdict is milder than another: 1 there, 0 elsewhere.
func (s *space) below(a, b mdd.Node) mdd.Node {
	g := s.graph
	at := func(n mdd.Node, v int, yes, no int) mdd.Node {
		return g.Map(n, func(t int) int {
			if t >= v {
				return yes
			}
			return no
		})
	}
	found := mdd.Node(0)
	for v := 2; v <= discard; v++ {
		found = g.Max(found, g.Min(at(a, v, 0, 1), at(b, v, 1, 0)))
	}
	return found
}

// changed lists the rules that are not the same in both editions and match the
// values in one of them.
func (s *space) changed(point []int, old, now *book) (ids []string) {
	match := func(b *book) map[string]string {
		found := map[string]string{}
		for i := range b.Rules {
			r := &b.Rules[i]
			box, err := s.box(r)
			fits := err == nil
			for _, c := range box {
				fits = fits && c.Values>>point[c.Variable]&1 != 0
			}
			if fits && r.Then != "" {
				text, _ := json.Marshal(r)
				found[r.ID] = string(text)
			}
		}
		return found
	}
	a, b := match(old), match(now)
	for id, text := range a {
		if b[id] != text {
			ids = append(ids, id)
		}
	}
	for id := range b {
		if a[id] == "" {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return
}

// compare writes what changed from one edition to the other.
func compare(out io.Writer, old, now *book) error {
	s := newSpace(old, now)
	before, err := s.verdict(old)
	if err != nil {
		return fmt.Errorf("old edition: %w", err)
	}
	after, err := s.verdict(now)
	if err != nil {
		return fmt.Errorf("new edition: %w", err)
	}
	fmt.Fprintf(out, "edition %s to %s, over every sign that either knows and every value that both know\n", old.Edition, now.Edition)
	both := s.both(old, now)
	for _, c := range []struct {
		word string
		node mdd.Node
	}{{"milder", s.graph.Min(both, s.below(after, before))}, {"stricter", s.graph.Min(both, s.below(before, after))}} {
		fmt.Fprintf(out, "%v situations became %s\n", s.graph.Count(c.node)[1], c.word)
		point := s.graph.Witness(c.node, 0)
		if point == nil {
			continue
		}
		var words []string
		for v, id := range s.signs {
			words = append(words, id+"="+s.values[id][point[v]])
		}
		fmt.Fprintf(out, "  for example: %s\n  by: %s\n", strings.Join(words, " "), strings.Join(s.changed(point, old, now), ", "))
	}
	return nil
}

func read(name string) (*book, error) {
	text, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var b book
	if err := json.Unmarshal(text, &b); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return &b, nil
}

func main() {
	log.SetFlags(0)
	if len(os.Args) != 3 {
		log.Fatal("usage: diffrules OLD.json NEW.json")
	}
	old, err := read(os.Args[1])
	if err != nil {
		log.Fatal(err)
	}
	now, err := read(os.Args[2])
	if err != nil {
		log.Fatal(err)
	}
	if err := compare(os.Stdout, old, now); err != nil {
		log.Fatal(err)
	}
}
