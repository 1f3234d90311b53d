package pantry

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// JudgeAll judges every jar that is not gone.
func (p *Pantry) JudgeAll(now time.Time) []Verdict {
	// Verdicts are large: they are not moved again.
	jars := slices.SortedFunc(maps.Values(p.Jars), func(a, b *record.Jar) int { return cmp.Compare(a.ID, b.ID) })
	all := make([]Verdict, 0, len(jars))
	for _, j := range jars {
		if v := p.Judge(j, now); v.Basis.Stage != record.IsGone {
			all = append(all, v)
		}
	}
	return all
}

// State is what a list says about a jar.
type State uint8

// The states, in the order in which a household should deal with them.
const (
	ToDiscard State = iota // discard safely is settled
	ToFinish               // open
	ToUse                  // use soon is settled
	ToSeek                 // missing
	ToLook                 // something has to be looked at first
	ToKeep
)

var stateNames = [...]prose.Text{"Discard safely", "Opened", "Use soon", "Not found", "Not settled yet", "Keep"}

// String names the state.
func (s State) Text() prose.Text { return stateNames[s] }

// String is the state in English.
func (s State) String() string { return s.Text().String() }

// States lists the states.
var States = []State{ToDiscard, ToFinish, ToUse, ToSeek, ToLook, ToKeep}

// State is what a list says about the jar.
func (v *Verdict) State() State {
	switch {
	case v.Lowest == rules.Discard:
		return ToDiscard
	case v.Basis.Stage == record.IsMissing:
		return ToSeek
	case v.Basis.Stage == record.IsOpen:
		return ToFinish
	case v.Settled() && v.Lowest == rules.UseSoon:
		return ToUse
	case !v.Settled():
		return ToLook
	}
	return ToKeep
}

// Group is jars of one batch that are in one place and in the same state.
type Group struct {
	Batch *record.Batch // nil for jars of a batch that is not recorded
	Place string
	State State
	Jars  []Verdict
	Looks Looks // what the last looks at its jars are worth

	sought []prose.Text // the words by which it is found
	// They are made ready in the language of the reader when they are first searched.
	ready    *rules.Sought
	language prose.Language
}

// NewGroup is a group of a batch without jars, for a search.
func NewGroup(b *record.Batch) *Group {
	g := &Group{Batch: b}
	if b != nil {
		g.sought = []prose.Text{b.Name(), b.Food().Name, prose.Own(string(b.Made)), prose.Own(b.LidLot)}
	}
	return g
}

// First is the jar by which the group is named and reached. Its batch, its place, its
// state, its lowest verdict and its deadline are those of every jar of the group; what
// else is said of the group has to hold for all of them.
func (g *Group) First() *Verdict { return &g.Jars[0] }

// Aged is how old a jar is as its food ages: in days at the reference
// temperature, at most, if its places say how warm they are, and otherwise by
// the calendar.
func (v *Verdict) Aged() float64 {
	if e := &v.Basis.Exposure; e.Days > 0 && e.Unknown == 0 {
		return max(e.Aged.High, float64(v.Basis.Age))
	}
	return float64(v.Basis.Age)
}

// near is within how many days two jars count as equally old; then what lasts
// longest at the household's pace comes first.
const near = 30

// Groups puts jars together and orders them by what should be used first: by
// state, then by deadline, then use soon at best before keep at best, then by
// effective age, month by month, then by how long the stock lasts at the pace
// it is eaten.
func (p *Pantry) Groups(all []Verdict) []*Group {
	left := map[string]float64{}
	if len(all) > 0 {
		for _, s := range p.Stocks(all[0].Basis.Now) {
			left[s.Product.ID] = s.Left
		}
	}
	lasts := func(g *Group) float64 {
		if g.Batch == nil {
			return -1
		}
		return left[g.Batch.Product]
	}
	type key struct {
		batch, place string
		state        State
		lowest       rules.Verdict
		deadline     record.Day
	}
	of := map[key]*Group{}
	var groups []*Group
	jars := map[*Group][]*Verdict{}
	for i := range all {
		v := &all[i]
		k := key{v.Jar.Batch, v.Basis.Place, v.State(), v.Lowest, v.Deadline}
		g := of[k]
		if g == nil {
			g = NewGroup(p.Batches[k.batch])
			g.Place, g.State = k.place, k.state
			g.sought = append(g.sought, p.PlaceName(k.place), g.State.Text())
			of[k] = g
			groups = append(groups, g)
		}
		jars[g] = append(jars[g], v)
	}
	for _, g := range groups {
		slices.SortStableFunc(jars[g], func(a, b *Verdict) int { return cmp.Compare(a.Jar.Number, b.Jar.Number) })
		g.Jars = make([]Verdict, len(jars[g]))
		for i, v := range jars[g] {
			g.Jars[i] = *v
			g.Looks.Add(v)
		}
	}
	slices.SortStableFunc(groups, func(a, b *Group) int {
		x, y := a.First(), b.First()
		return cmp.Or(
			cmp.Compare(a.State, b.State),
			cmp.Compare(x.Deadline, y.Deadline),
			-cmp.Compare(x.Lowest, y.Lowest),
			-cmp.Compare(int(x.Aged()/near), int(y.Aged()/near)),
			-cmp.Compare(lasts(a), lasts(b)),
			-cmp.Compare(x.Aged(), y.Aged()),
			cmp.Compare(x.Jar.ID, y.Jar.ID),
		)
	})
	return groups
}

// Matches reports whether every word of a search, in the language of the reader or in
// English, is in the group's name, place, date, lid lot or state.
func (g *Group) Matches(search string, in prose.Language) bool {
	if search == "" {
		return true
	}
	if g.ready == nil || g.language != in {
		words := rules.Seek(in, g.sought...)
		g.ready, g.language = &words, in
	}
	return g.ready.Holds(search)
}

// Stock is what a household has of one product.
type Stock struct {
	Product *rules.Product
	ByAge   [3]int // jars up to one year old, up to two, older
	Shelf   int    // all jars on the shelf
	Eaten   int    // jars eaten in the last twelve months, or since the first record if that is later
	Months  float64
	// Left is how many months the shelf lasts at that pace; below zero when
	// nothing was eaten yet.
	Left float64
}

// What the stock of a product suggests.
const (
	TooMany    prose.Text = "more than is eaten in two years"
	RunningOut prose.Text = "gone within two months"
)

// Suggestion reports what the stock suggests; nothing when there is no pace to judge
// it by. Two years is the time within which published advice wants a jar used;
// two months is ours, time to plan for the season.
func (s *Stock) Suggestion() prose.Text {
	switch {
	case s.Left < 0:
		return ""
	case s.Left > 24 && s.Shelf > 2:
		return TooMany
	case s.Left < 2:
		return RunningOut
	}
	return ""
}

// leastMonths keeps a first month of records from counting as a pace.
const leastMonths = 2

// Stocks counts the shelf by product, in shelf order of the catalog, and
// learns how fast it is eaten.
func (p *Pantry) Stocks(now time.Time) []Stock {
	of := map[string]*Stock{}
	first := now
	since := now.AddDate(-1, 0, 0)
	for _, j := range p.Jars {
		b := p.Batches[j.Batch]
		if b == nil {
			continue
		}
		s := of[b.Product]
		if s == nil {
			s = &Stock{Product: b.Food()}
			of[b.Product] = s
		}
		for i := range j.Events {
			if e := &j.Events[i]; e.At.Before(first) {
				first = e.At
			}
		}
		switch st := j.Standing(); st.Stage {
		case record.OnShelf:
			made, _ := b.Made.Number()
			today, _ := record.DayOf(now).Number()
			s.ByAge[min(2, max(0, today-made-1)/365)]++
			s.Shelf++
		case record.IsOpen:
			if st.Opened.At.After(since) {
				s.Eaten++
			}
		case record.IsGone:
			if st.Ended.What == record.Eaten && st.Ended.At.After(since) {
				s.Eaten++
			}
		}
	}
	if first.Before(since) {
		first = since
	}
	var stocks []Stock
	for i := range rules.Catalog {
		s := of[rules.Catalog[i].ID]
		if s == nil || s.Shelf+s.Eaten == 0 {
			continue
		}
		s.Months = max(leastMonths, now.Sub(first).Hours()/24/30.4375)
		s.Left = -1
		if s.Eaten > 0 {
			s.Left = float64(s.Shelf) / (float64(s.Eaten) / s.Months)
		}
		stocks = append(stocks, *s)
	}
	return stocks
}

// FirstToUse returns for each product the jar to take first: an open one, then what
// has to be used soon, then the oldest.
func (p *Pantry) FirstToUse(all []Verdict) map[string]*Verdict {
	firsts := map[string]*Verdict{}
	for i := range all {
		v := &all[i]
		b := p.Batches[v.Jar.Batch]
		if st := v.State(); b == nil || st == ToDiscard || st == ToSeek {
			continue
		}
		if best := firsts[b.Product]; best == nil || v.usedBefore(best) {
			firsts[b.Product] = v
		}
	}
	return firsts
}

// Instead names the jar of the same product to take before this one, or nil.
func (p *Pantry) Instead(v *Verdict, firsts map[string]*Verdict) *Verdict {
	b := p.Batches[v.Jar.Batch]
	if b == nil {
		return nil
	}
	if best := firsts[b.Product]; best != nil && best.usedBefore(v) && best.Jar.Batch != v.Jar.Batch {
		return best
	}
	return nil
}

// usedBefore reports whether v should be used before o.
func (v *Verdict) usedBefore(o *Verdict) bool {
	rank := func(v *Verdict) int {
		switch v.State() {
		case ToFinish:
			return 0
		case ToUse:
			return 1
		}
		return 2
	}
	return cmp.Or(cmp.Compare(rank(v), rank(o)), -cmp.Compare(v.Aged(), o.Aged()), cmp.Compare(v.Jar.ID, o.Jar.ID)) < 0
}

// Part is one of the four groups into which a household sorts its jars.
type Part uint8

// The parts, in the order in which a household should deal with them.
const (
	TakeOut  Part = iota // discard safely
	EatFirst             // open, or use soon
	LookAt               // something has to be looked at, or the jar has to be found
	Fine                 // keep
)

var partNames = [...]prose.Text{"Take out", "Eat first", "Look at", "Fine"}

// String is the part in English.
func (p Part) String() string { return p.Text().String() }

// String names the part.
func (p Part) Text() prose.Text { return partNames[p] }

// Parts lists the parts.
var Parts = []Part{TakeOut, EatFirst, LookAt, Fine}

// Part is the group that a state belongs to.
func (s State) Part() Part {
	switch s {
	case ToDiscard:
		return TakeOut
	case ToFinish, ToUse:
		return EatFirst
	case ToKeep:
		return Fine
	}
	return LookAt
}
