package rules

import (
	"slices"
)

// Separates lists the rules that answering the question could bring in or rule
// out: the reason it is asked.
func (q *Question) Separates(s Situation) (rs []*Rule) {
	o := Evaluate(s)
	for p := range Parts {
		for i := range Parts[p].Rules {
			r := &Parts[p].Rules[i]
			if (o.Possible[p]&^o.Certain[p])>>i&1 == 0 || !o.couldChange(r) {
				continue
			}
			for _, c := range r.When {
				for _, id := range q.Signs {
					if c[0].Sign() == id {
						rs = append(rs, r)
					}
				}
			}
		}
	}
	return
}

// WorstOf returns, of several values of one sign that a jar shows at once, the one
// with the strictest outcome. Of those that come to the same it is the one that
// the sign lists last.
func WorstOf(s Situation, values ...Value) (worst Value) {
	var highest, lowest Verdict
	for _, v := range values {
		one := s
		one.Forget(v.Sign())
		if one.Tell(v) != nil {
			continue
		}
		o := Judge(one)
		if o.Highest > highest || o.Highest == highest && (o.Lowest > lowest || o.Lowest == lowest && v > worst) {
			worst, highest, lowest = v, o.Highest, o.Lowest
		}
	}
	return
}

// FindOut lists what is worth finding out: what nobody could say of the record
// and, all of it together, could still make the answer milder, and the mildest
// answer it could lead to. Unknown names the signs that were answered "don't
// know"; that counts as the strictest, but is not the same as knowing the worst.
// A gauge that was never tested can still be tested.
func FindOut(s Situation, unknown ...SignID) (ids []SignID, best Verdict) {
	best = Judge(s).Lowest
	all := s
	var open []SignID
	for i := range Signs {
		id := SignID(i)
		asked := slices.Contains(unknown, id) && Signs[i].IfUnknown != 0 && s.Is(Signs[i].IfUnknown)
		if asked || id == SignMethod && s.Is(MethodUntold) || id == SignProcess && (s.Is(ProcessGauge) || s.Is(ProcessUntold)) {
			open = append(open, id)
			all.Forget(id)
		}
	}
	reach := func(s Situation) Verdict {
		lowest, _ := wholeTree().Reach(s)
		return lowest
	}
	mildest := reach(all)
	if len(open) == 0 || mildest >= best {
		return nil, best
	}
	// Whatever the milder answer requires is listed; where any of several would
	// do, all of them are.
	for _, id := range open {
		one := all
		one[id] = s[id]
		if reach(one) > mildest {
			ids = append(ids, id)
		}
	}
	if len(ids) == 0 {
		ids = open
	}
	return ids, mildest
}
