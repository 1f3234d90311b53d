package pantry

import (
	"time"

	"larderlamp/rules/order"
)

// Part is one of the four heaps into which a household sorts its jars.
type Part uint8

// The parts, in the order in which a household should turn to them.
const (
	TakeOut  Part = iota // discard safely
	EatFirst             // open, or use soon
	LookAt               // something has to be looked at, or the jar to be found
	Fine                 // keep
)

var partNames = [...]string{"Take out", "Eat first", "Look at", "Fine"}

// String names the part.
func (p Part) String() string { return partNames[p] }

// Parts lists the parts.
var Parts = []Part{TakeOut, EatFirst, LookAt, Fine}

// Part is the heap that a state belongs to.
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

// Today is what a household has to do with its jars on a day.
type Today struct {
	Out     []*Group // to take out, the most dangerous first
	Finish  []*Group // open, that with the nearest day first
	Eat     []*Group // to use soon, then what is oldest of what may be kept
	Look    int      // jars to be looked at
	Seek    int      // jars that were not found
	Total   int      // jars that are there
	Sweep   *Sweep   // that is under way, and
	Done    int      // how many jars of it were looked at, of
	Of      int
	Packed  *Trip // that is packed, and from which nobody is back
	Nothing bool  // there is nothing to do
}

// mostEat is how many groups to eat first are named.
const mostEat = 3

// Today sorts what is to be done, from what every jar was judged to be.
func (p *Pantry) Today(groups []*Group, now time.Time) *Today {
	t := &Today{}
	for _, g := range groups {
		t.Total += len(g.Jars)
		switch g.State {
		case ToDiscard:
			t.Out = append(t.Out, g)
		case ToFinish:
			t.Finish = append(t.Finish, g)
		case ToUse, ToKeep:
			if len(t.Eat) < mostEat {
				t.Eat = append(t.Eat, g)
			}
		case ToLook:
			t.Look += len(g.Jars)
		case ToSeek:
			t.Seek += len(g.Jars)
		}
	}
	// What has grown something endangers whoever touches it; what leaks, others.
	danger := func(g *Group) int {
		worst := 2
		for i := range g.Jars {
			switch g.Jars[i].Jar.trouble() {
			case ForSpoiled:
				return 0
			case ForSeal:
				worst = 1
			}
		}
		return worst
	}
	rank := map[*Group]int{}
	for i, g := range t.Out {
		rank[g] = danger(g)*len(t.Out) + i // the order of the list stands among equals
	}
	order.By(t.Out, func(a, b **Group) bool { return rank[*a] < rank[*b] })
	if t.Sweep = p.Running(); t.Sweep != nil {
		w := p.Walk(t.Sweep, now)
		t.Done, t.Of = w.Done, w.Total
	}
	for _, trip := range p.Trips {
		if len(trip.Packed) > 0 && trip.Home == nil && (t.Packed == nil || trip.From < t.Packed.From) {
			t.Packed = trip
		}
	}
	t.Nothing = len(t.Out)+len(t.Finish)+len(t.Eat)+t.Look+t.Seek == 0 && t.Sweep == nil && t.Packed == nil
	return t
}
