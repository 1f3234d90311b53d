package rules

import (
	"cmp"
	"slices"
)

// Line is one rule in an explanation, with the reported values that met its conditions.
type Line struct {
	Rule  *Rule
	Part  int
	Shown []Value
}

// Near is a restriction that would have made the advice stricter and failed by
// a single condition.
type Near struct {
	Rule  *Rule
	Sign  SignID  // the sign whose value kept the rule from matching
	Shown []Value // what is known of it
	Needs []Value // what the rule would have needed
}

// Change says how the outcome would differ if one sign showed another value.
type Change struct {
	Value           Value
	Lowest, Highest Verdict
}

// Trace explains an outcome. Every line carries its rule, and so its cites.
type Trace struct {
	Outcome
	Deciding []Line   // the rules that force the verdict
	Also     []Line   // other rules that matched
	Pending  []Line   // rules that could still match and would change the verdict
	Nearly   []Near   // restrictions that nearly matched
	Changes  []Change // single differences that would change the verdict
	Open     []SignID // signs that still matter and are not settled
}

// Explain traces how Judge comes to its outcome.
func Explain(s Situation) Trace {
	t := Trace{Outcome: Judge(s)}
	s[SignBacking] = t.Backing
	for p := range Parts {
		for i := range Parts[p].Rules {
			r := &Parts[p].Rules[i]
			certain, possible := t.Certain[p]>>i&1 != 0, t.Possible[p]>>i&1 != 0
			switch {
			case certain && t.decides(r):
				t.Deciding = append(t.Deciding, line(r, p, &s))
			// Harmless looks and support must not reassure anybody under a stricter answer.
			case certain && (r.Kind == Restriction || r.Kind.Supports() && r.Then >= t.Lowest || r.Kind == Note && t.Lowest < Discard):
				t.Also = append(t.Also, line(r, p, &s))
			case certain:
			case possible && t.couldChange(r):
				t.Pending = append(t.Pending, line(r, p, &s))
			case !possible && r.Kind == Restriction && r.Then > t.Lowest:
				if n, ok := nearMiss(r, &s); ok {
					t.Nearly = append(t.Nearly, n)
				}
			}
		}
	}
	if len(t.Deciding) == 0 && t.Settled() {
		// Whichever of several values it is, the answer is the same: the rules that
		// give it for one of them are the reasons, first those on what was noticed.
		for _, all := range []bool{false, true} {
			for p := range Parts {
				for i := range Parts[p].Rules {
					r := &Parts[p].Rules[i]
					if t.Possible[p]>>i&1 != 0 && r.Kind == Restriction && r.Then == t.Lowest && (all || r.restsOnNoticed(&s)) {
						t.Deciding = append(t.Deciding, line(r, p, &s))
					}
				}
			}
			if len(t.Deciding) > 0 {
				break
			}
		}
	}
	slices.SortStableFunc(t.Deciding, func(a, b Line) int { return cmp.Compare(decisiveness(b.Rule), decisiveness(a.Rule)) })
	t.Open = relevant(&s, &t.Outcome)
	t.Changes = changes(s, &t.Outcome)
	return t
}

// ExplainUnknown is Explain for somebody who answered "don't know" to some signs
// of the record. A discard that is only due to missing knowledge is not settled: the
// lowest verdict is the mildest that finding out could lead to, and what to find
// out is open. Until then the discard counts.
func ExplainUnknown(s Situation, unknown ...SignID) Trace {
	t := Explain(s)
	if ids, best := FindOut(s, unknown...); t.Lowest == Discard && len(ids) > 0 {
		t.Lowest, t.Open = best, ids
	}
	return t
}

// restsOnNoticed reports whether the rule rests on something odd that was noticed, and
// on nothing that was not answered.
func (r *Rule) restsOnNoticed(s *Situation) bool {
	odd := false
	for _, c := range r.When {
		id := c[0].Sign()
		seen := !id.Fact() && id != SignBacking && wasNoticed(s, id)
		if !seen && s[id]&^setOf(c) != 0 {
			return false
		}
		odd = odd || seen
	}
	return odd
}

// decides reports whether a rule that certainly matches forces the lowest verdict.
func (o *Outcome) decides(r *Rule) bool {
	switch r.Kind {
	case Restriction:
		return r.Then == o.Lowest
	case Support, PlainSupport, ColdSupport:
		return r.Then == o.Lowest && o.Support.Worst == o.Lowest
	case Lack:
		// A lack is why a jar is discarded, and why a plainly acid one is not kept.
		// Food that was never on a shelf lacks nothing: the cold is its support.
		return o.Support.Best == o.Lowest && o.Lowest > Keep && o.Backing != backingTested
	}
	return false
}

// couldChange reports whether a rule that may still match would move the verdict.
func (o *Outcome) couldChange(r *Rule) bool {
	switch r.Kind {
	case Restriction:
		return r.Then > o.Lowest
	case Support, PlainSupport, ColdSupport:
		return r.Then < o.Highest
	}
	return false
}

// decisiveness orders deciding lines: restrictions a person can see come before
// missing support, and that before support.
func decisiveness(r *Rule) int {
	return [...]int{Support: 1, PlainSupport: 1, ColdSupport: 1, Lack: 2, Restriction: 3, Note: 0}[r.Kind]
}

func line(r *Rule, part int, s *Situation) Line {
	l := Line{Rule: r, Part: part}
	for _, c := range r.When {
		for _, v := range c {
			if s.Possible(v) {
				l.Shown = append(l.Shown, v)
			}
		}
	}
	return l
}

func nearMiss(r *Rule, s *Situation) (n Near, ok bool) {
	failed := 0
	for _, c := range r.When {
		switch id := c[0].Sign(); {
		case s[id]&setOf(c) == 0:
			failed++
			n = Near{r, id, s.Values(id), c}
		case s[id]&^setOf(c) != 0:
			return n, false // still open, so not a miss
		}
	}
	// A rule with a single condition is missed by every jar that does not show it.
	return n, failed == 1 && len(r.When) > 1
}

// changes tries every other value of every observed sign, one at a time.
func changes(s Situation, o *Outcome) (cs []Change) {
	for i := range Signs {
		id := SignID(i)
		if id.Fact() || s.Untouched(id) {
			continue
		}
		for _, v := range Signs[i].Values {
			if s.Is(v.Value) {
				continue
			}
			other := s
			other.Forget(id)
			if other.Tell(v.Value) != nil {
				continue
			}
			if e := Evaluate(other); e.Lowest != o.Lowest || e.Highest != o.Highest {
				cs = append(cs, Change{v.Value, e.Lowest, e.Highest})
			}
		}
	}
	return
}

// relevant lists the open signs that can still move the outcome: those in an
// undecided condition of a rule whose matching would change it.
func relevant(s *Situation, o *Outcome) (ids []SignID) {
	if o.Settled() {
		return nil
	}
	var matters [NumSigns]bool
	mark := func(p, i int) {
		for _, c := range Parts[p].Rules[i].When {
			if id := c[0].Sign(); s[id]&^setOf(c) != 0 {
				matters[id] = true
			}
		}
	}
	for p := range Parts {
		for i := range Parts[p].Rules {
			r := &Parts[p].Rules[i]
			if r.Kind == Restriction && r.Then > o.Lowest && (o.Possible[p]&^o.Certain[p])>>i&1 != 0 {
				mark(p, i)
			}
		}
	}
	if matters[SignBacking] || o.Support.Worst > o.Lowest {
		for p := range supportParts {
			for i := range Parts[p].Rules {
				if r := &Parts[p].Rules[i]; r.Kind.Supports() && (o.Possible[p]&^o.Certain[p])>>i&1 != 0 && r.Then < max(o.Support.Worst, UseSoon) {
					mark(p, i)
				}
			}
		}
	}
	for i, m := range matters {
		if id := SignID(i); m && id != SignBacking && s.Open(id) {
			ids = append(ids, id)
		}
	}
	return
}
