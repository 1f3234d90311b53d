package pantry

import (
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// Looks counts jars by what their last look is worth today. What is true of one jar
// is never said of the others beside it.
type Looks struct {
	Never  int // jars that nobody has looked at
	Old    Looked
	Lately Looked // what was sound still counts
	// Partly is how many of those looked at lately still have something to be seen on
	// the outside or through the glass.
	Partly int
	// Unlooked is what is still to be seen on each of them, if it is the same for all.
	Unlooked []rules.SignID
	Disputed int // jars on which what was seen contradicts the record
	Apart    int // jars about which two devices do not agree
}

// Looked is how many jars were looked at, and when the first and the last of them.
type Looked struct {
	Jars        int
	First, Last time.Time
}

func (l *Looked) add(at time.Time) {
	if l.Jars++; l.Jars == 1 || at.Before(l.First) {
		l.First = at
	}
	if at.After(l.Last) {
		l.Last = at
	}
}

// Days are the days of the first and the last look, in a zone.
func (l *Looked) Days(zone *time.Location) (first, last record.Day) {
	return record.DayOf(l.First.In(zone)), record.DayOf(l.Last.In(zone))
}

// All is how many jars were counted.
func (l *Looks) All() int { return l.Never + l.Old.Jars + l.Lately.Jars }

// Add counts a jar.
func (l *Looks) Add(v *Verdict) {
	b := &v.Basis
	switch {
	case b.Look == nil:
		l.Never++
	case b.Stale:
		l.Old.add(b.Look.At)
	default:
		if l.Lately.add(b.Look.At); l.Lately.Jars == 1 {
			l.Unlooked = b.Unlooked
		} else if !slices.Equal(l.Unlooked, b.Unlooked) {
			l.Unlooked = nil
		}
		if len(b.Unlooked) > 0 {
			l.Partly++
		}
	}
	if b.Disputed {
		l.Disputed++
	}
	if b.Apart {
		l.Apart++
	}
}

// Looks is what the last look at the jar is worth.
func (v *Verdict) Looks() (l Looks) {
	l.Add(v)
	return
}

// Strictest is the jar of the group about which the least good is known.
func (g *Group) Strictest() *Verdict {
	worst := g.First()
	for i := range g.Jars {
		if v := &g.Jars[i]; v.Highest > worst.Highest {
			worst = v
		}
	}
	return worst
}

// Odd lists the signs of a look that were told to be other than sound, whatever they
// mean. That a closure has no such test, or that nobody could tell, is not odd.
func Odd(look *record.Event) (ids []rules.SignID) {
	for _, v := range counting(look.Values(), true) {
		if v != rules.LidNone && v != rules.PressNone && v != rules.LiftNone && !slices.Contains(ids, v.Sign()) {
			ids = append(ids, v.Sign())
		}
	}
	return
}

// Worrying lists the signs that were odd at the last look at a jar about which nothing is
// settled yet: somebody began to check it, and left.
func (v *Verdict) Worrying() []rules.SignID {
	if v.Settled() || v.Basis.Look == nil {
		return nil
	}
	return Odd(v.Basis.Look)
}
