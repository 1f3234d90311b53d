package rules_test

import (
	"slices"
	"testing"

	"larderlamp/rules"
)

// Every condition of every rule that decides has a pair of situations that
// differ in its sign alone: in one the rule matches, in the other it does not,
// and the verdicts differ. (This is modified condition and decision coverage,
// found by going over the whole space of each part.)
func TestProveEveryConditionHasItsPair(t *testing.T) {
	pairs := 0
	for p := range rules.Parts {
		part := &rules.Parts[p]
		found := make([][]bool, len(part.Rules))
		for i := range found {
			found[i] = make([]bool, len(part.Rules[i].When))
		}
		eachSituation(t, part, func(s rules.Situation) {
			o := rules.Evaluate(s)
			for i := range part.Rules {
				r := &part.Rules[i]
				if o.Certain[p]>>i&1 == 0 || r.Kind != rules.Restriction && !r.Kind.Supports() || without(&o, p, i) == o.Lowest {
					continue
				}
				for k, c := range r.When {
					id := c[0].Sign()
					if found[i][k] {
						continue
					}
					if id == rules.SignBacking {
						// The backing follows from the record: the pair has another recipe.
						other := s
						other.Forget(rules.SignStanding)
						if s.Is(rules.StandingPublished) {
							continue
						}
						if err := other.Tell(rules.StandingPublished); err != nil {
							t.Fatal(err)
						}
						e := rules.Evaluate(other)
						found[i][k] = e.Certain[p]>>i&1 == 0 && e.Lowest != o.Lowest
						continue
					}
					for bit, v := range id.Info().Values {
						if slices.Contains(c, v.Value) {
							continue
						}
						other := s
						other[id] = 1 << bit
						if e := rules.Evaluate(other); e.Lowest != o.Lowest {
							found[i][k] = true
							break
						}
					}
				}
			}
		})
		for i := range part.Rules {
			r := &part.Rules[i]
			if r.Kind != rules.Restriction && !r.Kind.Supports() {
				continue
			}
			for k, c := range r.When {
				if !found[i][k] {
					t.Errorf("%s: no pair for %s", r.ID, c[0].Sign().ID())
				}
				pairs++
			}
		}
	}
	t.Logf("%d conditions, each with its pair", pairs)
}
