package practice

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"

	"larderlamp/rules"
)

// Mark is how an answer compares with the verdict.
type Mark uint8

// The marks.
const (
	Right      Mark = iota
	FalseAlarm      // stricter than the verdict
	TooMild         // "keep" where it should be used soon
	Missed          // a danger not seen: not discarded, but should have been
)

// Grade compares an answer with the verdict of the jar.
func Grade(is, said rules.Verdict) Mark {
	switch {
	case said == is:
		return Right
	case said > is:
		return FalseAlarm
	case is == rules.Discard:
		return Missed
	}
	return TooMild
}

// Tally counts how jars were judged. Dangers are jars to discard; all others
// are harmless.
type Tally struct {
	Dangers  int `json:"dangers"`
	Missed   int `json:"missed"`
	Harmless int `json:"harmless"`
	Alarms   int `json:"alarms"`
	Mild     int `json:"mild"` // of the harmless, kept where they should be used soon
}

// Add counts one answer: the verdict of the jar and how the answer compared.
func (t *Tally) Add(is rules.Verdict, m Mark) {
	if is == rules.Discard {
		t.Dangers++
	} else {
		t.Harmless++
	}
	switch m {
	case Missed:
		t.Missed++
	case FalseAlarm:
		t.Alarms++
	case TooMild:
		t.Mild++
	}
}

// Jars is how many jars were judged.
func (t Tally) Jars() int { return t.Dangers + t.Harmless }

// Rung is one step of the ladder: after how many further items, or after how
// many days, a rule on it comes back.
type Rung struct{ Items, Days int }

// Rungs lists them from the foot. The gaps about double; they are a choice of
// ours, from no source.
var Rungs = []Rung{{Items: 2}, {Items: 6}, {Items: 16}, {Days: 1}, {Days: 3}, {Days: 7}, {Days: 16}, {Days: 35}}

// Place is where a rule stands on the ladder.
type Place struct {
	Rung int `json:"rung"`
	Turn int `json:"turn"` // count of items from which it is due
	Day  int `json:"day"`  // day from which it is due
	// Again is the item to show once more as it was, because its danger was
	// missed.
	Again *Entry `json:"again,omitempty"`
}

// Ladder is how far a learner has come. Days are counted from any fixed day.
type Ladder struct {
	Version  int               `json:"version"`
	Seed     uint64            `json:"seed"`
	Turn     int               `json:"turn"` // items answered
	Places   map[string]*Place `json:"places"`
	Signs    map[string]*Tally `json:"signs"`
	Products map[string]*Tally `json:"products"`
	All      Tally             `json:"all"`
	Touched  int               `json:"touched"` // items in which a deciding sign was touched
}

// LadderVersion is the version of the format a ladder is kept in.
const LadderVersion = 1

// mostTurns is more items than anybody answers.
const mostTurns = 1 << 30

// NewLadder starts a learner at the foot.
func NewLadder(seed uint64) *Ladder {
	return &Ladder{Version: LadderVersion, Seed: seed, Places: map[string]*Place{}, Signs: map[string]*Tally{}, Products: map[string]*Tally{}}
}

// ParseLadder reads a ladder that was kept as JSON. Entries for rules, signs or
// products that this edition does not have are left out.
func ParseLadder(text []byte) (*Ladder, error) {
	l := NewLadder(0)
	if err := json.Unmarshal(text, l); err != nil {
		return nil, fmt.Errorf("practice: %w", err)
	}
	if l.Version != LadderVersion {
		return nil, fmt.Errorf("practice: version %d is not known, only %d", l.Version, LadderVersion)
	}
	if l.Places == nil || l.Signs == nil || l.Products == nil {
		return nil, fmt.Errorf("practice: places, signs or products: null is no list")
	}
	for _, old := range slices.Collect(maps.Keys(l.Places)) {
		if id := rules.CurrentID(old); id != old {
			l.Places[id] = l.Places[old]
			delete(l.Places, old)
		}
	}
	for _, old := range slices.Collect(maps.Keys(l.Signs)) {
		if id, ok := rules.SignByID(old); ok && id.ID() != old {
			l.Signs[id.ID()] = l.Signs[old]
			delete(l.Signs, old)
		}
	}
	for id, p := range l.Places {
		switch _, known := rules.RuleByID(id); {
		case !known || p == nil:
			delete(l.Places, id)
		case p.Rung < 0 || p.Rung >= len(Rungs):
			return nil, fmt.Errorf("practice: places: %s: there is no rung %d", id, p.Rung)
		case p.Turn < 0 || p.Turn > 2*mostTurns || p.Day < 0 || p.Day > mostTurns:
			return nil, fmt.Errorf("practice: places: %s: item %d or day %d is never due", id, p.Turn, p.Day)
		}
	}
	for _, tallies := range []map[string]*Tally{l.Signs, l.Products} {
		for id, t := range tallies {
			_, sign := rules.SignByID(id)
			_, product := rules.ProductByID(id)
			if t == nil || !sign && !product {
				delete(tallies, id)
			} else if err := t.check(); err != nil {
				return nil, fmt.Errorf("practice: %s: %w", id, err)
			}
		}
	}
	if l.Turn < 0 || l.Turn > mostTurns {
		return nil, fmt.Errorf("practice: %d items", l.Turn)
	}
	if l.Touched < 0 || l.Touched > l.Turn {
		return nil, fmt.Errorf("practice: touched %d times in %d items", l.Touched, l.Turn)
	}
	if err := l.All.check(); err != nil {
		return nil, fmt.Errorf("practice: all: %w", err)
	}
	return l, nil
}

func (t *Tally) check() error {
	if t.Missed < 0 || t.Missed > t.Dangers || t.Alarms < 0 || t.Mild < 0 || t.Alarms > t.Harmless-t.Mild {
		return fmt.Errorf("more wrong answers than answers: %+v", *t)
	}
	if t.Dangers > mostTurns || t.Harmless > mostTurns {
		return fmt.Errorf("more answers than anybody gives: %+v", *t)
	}
	return nil
}

// Next returns the item to practice now: one that is due again, what was missed
// first, or a fresh one of the deck. The deck's seed is the ladder's.
func (l *Ladder) Next(d Deck, day int) (Item, bool) {
	d.Seed = l.Seed
	var due *rules.Rule
	var at *Place
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			pl := l.Places[r.ID]
			if pl == nil || pl.Turn > l.Turn || pl.Day > day || !d.about(r) {
				continue
			}
			if at == nil || pl.urgency() < at.urgency() {
				due, at = r, pl
			}
		}
	}
	if due != nil {
		if at.Again != nil {
			// An item that this edition cannot read is replaced with a new one.
			if it, err := at.Again.Item(); err == nil && d.fits(&it) {
				return it, true
			}
		}
		again := d
		again.Rule = due
		if it, ok := again.Item(l.Turn); ok {
			return it, true
		}
	}
	return d.Item(l.Turn)
}

// fits reports whether an item belongs in a narrowed deck.
func (d Deck) fits(it *Item) bool {
	return (d.Product == nil || d.Product == it.Jars[0].Product) && (len(d.Signs) == 0 || slices.Contains(d.Signs, it.Sign))
}

// urgency orders the items that are due: missed dangers, then the lowest rung, then
// the one that has waited longest.
func (p *Place) urgency() int {
	u := p.Rung<<40 + p.Turn
	if p.Again == nil {
		u += 1 << 50
	}
	return u
}

// NoSign is touched when nothing holds a jar back.
const NoSign = rules.SignID(rules.NumSigns)

// Answer is what a learner said about an item.
type Answer struct {
	Said    [2]rules.Verdict // of each jar; 0 where it was not asked
	Touched rules.SignID     // the sign that decides, or NoSign
}

// Marks grades the answer, jar by jar.
func (a *Answer) Marks(it *Item) (marks [2]Mark) {
	for i, said := range a.Said {
		if said != 0 {
			marks[i] = Grade(it.Jars[i].Verdict, said)
		}
	}
	return
}

// Worst is the worst mark of the answer.
func (a *Answer) Worst(it *Item) Mark {
	marks := a.Marks(it)
	return max(marks[0], marks[1])
}

// Decides reports whether the sign that was touched decides: between twins the
// one that differs, of a jar alone any that holds it back.
func (a *Answer) Decides(it *Item) bool {
	if a.Said[0] != 0 && a.Said[1] != 0 {
		return a.Touched == it.Sign
	}
	asked := 0
	if a.Said[0] == 0 {
		asked = 1
	}
	holds := it.Jars[asked].Deciders()
	return slices.Contains(holds, a.Touched) || len(holds) == 0 && a.Touched == NoSign
}

// Record counts an answer and moves the rule of the item on the ladder: up a
// rung when all of it was right, down one after a false alarm or a wrong sign,
// to the foot after a missed danger.
func (l *Ladder) Record(it *Item, a Answer, day int) {
	marks := a.Marks(it)
	for i, said := range a.Said {
		if said == 0 {
			continue
		}
		is := it.Jars[i].Verdict
		l.All.Add(is, marks[i])
		tally(l.Signs, it.Sign.ID()).Add(is, marks[i])
		tally(l.Products, it.Jars[i].Product.ID).Add(is, marks[i])
	}
	worst, touched := a.Worst(it), a.Decides(it)
	if touched {
		l.Touched++
	}
	at := l.Places[it.About.ID]
	if at == nil {
		at = &Place{Rung: 1}
		l.Places[it.About.ID] = at
	}
	// A missed danger comes back unchanged, even when another jar of the same rule
	// comes in between and is judged correctly.
	if e := it.Entry(); at.Again != nil && worst != Missed && !reflect.DeepEqual(e, *at.Again) {
		l.Turn++
		return
	}
	at.Again = nil
	switch {
	case worst == Missed:
		at.Rung = 0
		again := it.Entry()
		at.Again = &again
	case worst == Right && touched:
		at.Rung = min(at.Rung+1, len(Rungs)-1)
	default:
		at.Rung = max(at.Rung-1, 0)
	}
	l.Turn++
	at.Turn, at.Day = l.Turn+Rungs[at.Rung].Items, day+Rungs[at.Rung].Days
	if Rungs[at.Rung].Days == 0 {
		at.Day = 0
	}
}

func tally(m map[string]*Tally, id string) *Tally {
	if m[id] == nil {
		m[id] = &Tally{}
	}
	return m[id]
}

// Weakest lists the signs to practice next, the most doubtful first: those
// whose share of missed dangers may still be highest, judged by the upper end
// of its interval, so that what was never practiced counts as doubtful too.
func (l *Ladder) Weakest(n int) (ids []rules.SignID) {
	doubt := map[rules.SignID]float64{}
	for i := range rules.Signs {
		id := rules.SignID(i)
		if id.Fact() || id == rules.SignOpened {
			continue
		}
		t := Tally{}
		if known := l.Signs[id.ID()]; known != nil {
			t = *known
		}
		_, missed := Wilson(t.Missed, t.Dangers)
		_, alarms := Wilson(t.Alarms, t.Harmless)
		doubt[id] = 3*missed + alarms // a missed danger can kill; a false alarm wastes food
		ids = append(ids, id)
	}
	slices.SortStableFunc(ids, func(a, b rules.SignID) int {
		switch {
		case doubt[a] > doubt[b]:
			return -1
		case doubt[a] < doubt[b]:
			return 1
		}
		return 0
	})
	return ids[:min(max(n, 0), len(ids))]
}
