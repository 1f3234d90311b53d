package rules

import "math/bits"

// Outcome is what a situation allows.
type Outcome struct {
	// Lowest and Highest bound the verdicts that completions of the situation
	// can reach. They are equal when the check is settled.
	Lowest, Highest Verdict
	// Certain holds the rules that match every completion, Possible those that
	// match some completion: one bit per rule, by part.
	Certain, Possible [NumParts]uint64
	// Backing holds which values of SignBacking are still possible.
	Backing Set
	// Support is what the record alone still allows.
	Support struct{ Best, Worst Verdict }
}

// Settled reports whether only one verdict is left.
func (o *Outcome) Settled() bool { return o.Lowest == o.Highest }

// lane holds, for one input of a part, which rules admit which value.
type lane struct {
	sign   SignID
	full   Set
	every  uint64     // rules that admit all values
	admits [12]uint64 // by value
}

// engine is a part made ready for evaluation.
type engine struct {
	lanes   []lane
	all     uint64
	keep    uint64 // support rules, by verdict
	use     uint64
	tested  uint64 // support rules, by the backing they make
	plain   uint64
	useSoon uint64 // restriction rules, by verdict
	discard uint64
}

// engines is built once from Parts and never changes.
var engines = prepared()

// prepared makes every part ready. Loops are kept out of the initialization of the
// package: that is one very long function, and a browser that sees it loop optimizes
// all of it while the program starts, which takes 100 ms and helps nobody.
func prepared() (es [NumParts]engine) {
	for p := range Parts {
		e := &es[p]
		for i := range Parts[p].Rules {
			r, b := &Parts[p].Rules[i], uint64(1)<<i
			e.all |= b
			switch {
			case r.Kind.Supports() && r.Then == Keep:
				e.keep |= b
			case r.Kind.Supports():
				e.use |= b
			case r.Kind == Restriction && r.Then == UseSoon:
				e.useSoon |= b
			case r.Kind == Restriction:
				e.discard |= b
			}
		}
		for i := range Parts[p].Rules {
			switch r, b := &Parts[p].Rules[i], uint64(1)<<i; {
			case !r.Kind.Supports():
			case r.Backs() == BackingTested:
				e.tested |= b
			case r.Backs() == BackingPlain:
				e.plain |= b
			}
		}
		for _, id := range Parts[p].Inputs() {
			l := lane{sign: id, full: full[id], every: e.all}
			for v := range Signs[id].Values {
				l.admits[v] = e.all
				for i := range Parts[p].Rules {
					for _, c := range Parts[p].Rules[i].When {
						if c[0].Sign() == id && setOf(c)&(1<<v) == 0 {
							l.admits[v] &^= 1 << i
						}
					}
				}
				l.every &= l.admits[v]
			}
			e.lanes = append(e.lanes, l)
		}
	}
	return
}

// setOf is the set of a condition's values.
func setOf(c []Value) (s Set) {
	for _, v := range c {
		s |= v.bit()
	}
	return
}

// match returns the rules of the part that match every completion of the
// situation, and those that match some completion.
func (e *engine) match(s *Situation) (certain, possible uint64) {
	certain, possible = e.all, e.all
	for i := range e.lanes {
		l := &e.lanes[i]
		switch set := s[l.sign]; {
		case set == l.full:
			certain &= l.every
		case set&(set-1) == 0:
			m := l.admits[bits.TrailingZeros16(uint16(set))%12]
			certain &= m
			possible &= m
		default:
			some := uint64(0)
			for ; set != 0; set &= set - 1 {
				m := l.admits[bits.TrailingZeros16(uint16(set))%12]
				certain &= m
				some |= m
			}
			possible &= some
		}
	}
	return
}

// The values of SignBacking as sets.
var backingTested, backingPlain, backingOther = BackingTested.bit(), BackingPlain.bit(), BackingOther.bit()

// Evaluate returns the outcome of a situation. It is the only evaluator: the
// explanation, the next question and the proofs all rest on it.
//
// The interval is sound: it contains the verdict of every completion. It can be
// wider than what completions reach when two rules exclude each other through
// a sign that is still open; it is exact once every sign is known.
func Evaluate(s Situation) Outcome {
	var o Outcome
	// How much the certain and the possible support allow, and the backing that
	// follows.
	o.Support.Best, o.Support.Worst = Discard, Discard
	var tested, plain, surelyTested, surelyPlain bool
	for p := range supportParts {
		e := &engines[p]
		c, m := e.match(&s)
		o.Certain[p], o.Possible[p] = c, m
		switch {
		case m&e.keep != 0:
			o.Support.Best = Keep
		case m&e.use != 0:
			o.Support.Best = min(o.Support.Best, UseSoon)
		}
		switch {
		case c&e.keep != 0:
			o.Support.Worst = Keep
		case c&e.use != 0:
			o.Support.Worst = min(o.Support.Worst, UseSoon)
		}
		tested, plain = tested || m&e.tested != 0, plain || m&e.plain != 0
		surelyTested, surelyPlain = surelyTested || c&e.tested != 0, surelyPlain || c&e.plain != 0
	}
	if tested {
		o.Backing |= backingTested
	}
	if plain && !surelyTested {
		o.Backing |= backingPlain
	}
	if !surelyTested && !surelyPlain {
		o.Backing |= backingOther
	}
	s[SignBacking] = o.Backing
	o.Lowest, o.Highest = o.Support.Best, o.Support.Worst
	for p := range engines {
		e := &engines[p]
		if p >= supportParts {
			o.Certain[p], o.Possible[p] = e.match(&s)
		}
		switch {
		case o.Certain[p]&e.discard != 0:
			o.Lowest, o.Highest = Discard, Discard
		case o.Certain[p]&e.useSoon != 0:
			o.Lowest = max(o.Lowest, UseSoon)
			o.Highest = max(o.Highest, UseSoon)
		}
		switch {
		case o.Possible[p]&e.discard != 0:
			o.Highest = Discard
		case o.Possible[p]&e.useSoon != 0:
			o.Highest = max(o.Highest, UseSoon)
		}
	}
	return o
}
