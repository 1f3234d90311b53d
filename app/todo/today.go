package todo

import (
	"cmp"
	"slices"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/walk"
)

// Today is what a household has to do with its jars on a day.
type Today struct {
	Out     []*pantry.Group   // jars to take out, the most dangerous first
	Finish  []*pantry.Group   // open jars, the one with the nearest day first
	Eat     []*pantry.Group   // jars to use soon, then the oldest of those that may be kept
	Odd     []*pantry.Verdict // jars that were odd at the last look, and about which nothing is settled
	Look    int               // jars that nobody has looked at lately
	Settle  int               // jars that were looked at, and about which something else is open
	Seek    int               // jars that were not found
	Total   int               // jars that are there
	Sweep   *record.Sweep     // sweep that is running, and
	Done    int               // how many of its jars were looked at, out of
	Of      int
	Packed  *record.Trip // trip that is packed, and from which nobody is back
	Nothing bool         // there is nothing to do
}

// mostEat is how many groups to eat first are listed.
const mostEat = 3

// Of sorts what has to be done, from the judgment of every jar.
func Of(p *pantry.Pantry, groups []*pantry.Group, now time.Time) *Today {
	t := &Today{}
	for _, g := range groups {
		t.Total += len(g.Jars)
		for i := range g.Jars {
			switch v := &g.Jars[i]; {
			case len(v.Worrying()) > 0:
				t.Odd = append(t.Odd, v)
			case g.State != pantry.ToLook:
			case v.Basis.Look == nil || v.Basis.Stale:
				t.Look++
			default:
				t.Settle++
			}
		}
		switch g.State {
		case pantry.ToDiscard:
			t.Out = append(t.Out, g)
		case pantry.ToFinish:
			t.Finish = append(t.Finish, g)
		case pantry.ToUse, pantry.ToKeep:
			if len(t.Eat) < mostEat {
				t.Eat = append(t.Eat, g)
			}
		case pantry.ToSeek:
			t.Seek += len(g.Jars)
		}
	}
	// A jar in which something grows endangers anyone who touches it; a leaking
	// one endangers others.
	danger := func(g *pantry.Group) int {
		worst := 2
		for i := range g.Jars {
			switch g.Jars[i].Jar.Trouble() {
			case record.ForSpoiled:
				return 0
			case record.ForSeal:
				worst = 1
			}
		}
		return worst
	}
	rank := map[*pantry.Group]int{}
	for i, g := range t.Out {
		rank[g] = danger(g)*len(t.Out) + i // the order of the list decides among equals
	}
	slices.SortStableFunc(t.Out, func(a, b *pantry.Group) int { return cmp.Compare(rank[a], rank[b]) })
	if t.Sweep = walk.Running(p); t.Sweep != nil {
		w := walk.New(p, t.Sweep, now)
		t.Done, t.Of = w.Done, w.Total
	}
	for _, trip := range p.Trips {
		if len(trip.Packed) > 0 && trip.Home == nil && (t.Packed == nil || trip.From < t.Packed.From) {
			t.Packed = trip
		}
	}
	t.Nothing = len(t.Out)+len(t.Finish)+len(t.Eat)+len(t.Odd)+t.Look+t.Settle+t.Seek == 0 && t.Sweep == nil && t.Packed == nil
	return t
}
