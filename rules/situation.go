package rules

import (
	"fmt"
	"math/bits"
)

// Set is a set of values of one sign: bit i stands for the sign's i-th value.
type Set uint16

// full is the set of all values of each sign: nothing is known.
var full = fullSets()

// fullSets stays a function of its own: see prepared.
//
//go:noinline
func fullSets() (f [NumSigns]Set) {
	for i := range Signs {
		f[i] = 1<<len(Signs[i].Values) - 1
	}
	return
}

// bit is the value's place in the set of its sign.
func (v Value) bit() Set { return 1 << valueAt[v] }

// Situation holds, for every sign, the values that are still possible.
// It is a plain comparable array: copying it copies the knowledge.
// A situation made by [NewSituation] and narrowed by [Situation.Tell] never
// holds an empty set.
type Situation [NumSigns]Set

// NewSituation is the situation of a jar about which nothing is known.
func NewSituation() Situation { return Situation(full) }

// Possible reports whether the value is still possible.
func (s *Situation) Possible(v Value) bool { return s[signOf[v]]&v.bit() != 0 }

// Known returns the one value that is left for a sign; ok is false while several are.
func (s *Situation) Known(id SignID) (v Value, ok bool) {
	if bits.OnesCount16(uint16(s[id])) != 1 {
		return 0, false
	}
	return Signs[id].Values[bits.TrailingZeros16(uint16(s[id]))].Value, true
}

// Is reports whether the value is the only one left for its sign.
func (s *Situation) Is(v Value) bool { return s[signOf[v]] == v.bit() }

// Open reports whether more than one value is left for the sign.
func (s *Situation) Open(id SignID) bool { return bits.OnesCount16(uint16(s[id])) > 1 }

// Untouched reports whether nothing at all has been said about the sign.
func (s *Situation) Untouched(id SignID) bool { return s[id] == full[id] }

// Values lists the values still possible for a sign, in the sign's order.
func (s *Situation) Values(id SignID) []Value {
	var vs []Value
	for _, v := range Signs[id].Values {
		if s.Possible(v.Value) {
			vs = append(vs, v.Value)
		}
	}
	return vs
}

// Conflict says that two statements about one jar cannot both be true.
type Conflict struct {
	Sign SignID
	Said []Value // what was said before
	Now  []Value // what was said now
}

func (c *Conflict) Error() string {
	return fmt.Sprintf("%s: %s contradicts %s", c.Sign.ID(), valueIDs(c.Now), valueIDs(c.Said))
}

func valueIDs(vs []Value) (ids []string) {
	for _, v := range vs {
		ids = append(ids, v.ID())
	}
	return
}

// Tell narrows each sign that the values belong to down to those values. What can
// only be seen once a jar is open also says that the jar is not closed. It
// returns a *Conflict, and changes nothing, when a sign would be left without
// any value.
func (s *Situation) Tell(values ...Value) error {
	var told Situation
	first, last := SignID(NumSigns), SignID(0) // mostly the same: one statement is about one sign
	for _, v := range values {
		id := signOf[v]
		told[id] |= v.bit()
		first, last = min(first, id), max(last, id)
	}
	next := *s
	for i := first; i <= last; i++ {
		t := told[i]
		if t == 0 {
			continue
		}
		if next[i] &= t; next[i] == 0 {
			return &Conflict{i, s.Values(i), told.Values(i)}
		}
		implied := opensJar(i)
		if implied == 0 || t == full[i] {
			continue
		}
		if next[SignOpened]&implied == 0 {
			return &Conflict{SignOpened, s.Values(SignOpened), told.Values(i)}
		}
		next[SignOpened] &= implied
	}
	*s = next
	return nil
}

// opensJar returns the values of SignOpened under which the sign can be observed
// at all, or 0 for signs that can be observed on any jar.
func opensJar(id SignID) Set {
	switch Signs[id].Chapter {
	case ChapterOpening:
		switch id {
		case SignOpened:
			return 0
		case SignRelease:
			return setOf(prised)
		}
		return setOf(open)
	case ChapterOpened:
		if id == SignIll {
			return setOf(tasted)
		}
		return setOf(chilled)
	}
	return 0
}

// Forget opens the sign again: every value is possible.
func (s *Situation) Forget(id SignID) { s[id] = full[id] }
