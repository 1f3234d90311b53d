package tally

import (
	"cmp"
	"slices"
	"strings"

	"larderlamp/rules/prose"
)

// A Factor is something by which jars can be put into groups.
type Factor uint8

// The factors, in the order in which they are reported.
const (
	Batch Factor = iota
	LidLot
	Size
	Method
	Place
	Age
	NumFactors
)

var factorNames = [NumFactors]prose.Text{"Batch", "Lid lot", "Size", "Heating", "Place", "Age"}

// Text names the factor.
func (f Factor) Text() prose.Text { return factorNames[f] }

// String is it in English.
func (f Factor) String() string { return f.Text().String() }

// Observation is one jar that was looked at: its groups and whether its seal
// had failed. A group that is "" is not known, and leaves the jar out of that
// factor.
type Observation struct {
	Groups [NumFactors]prose.Text
	Failed bool
}

// Finding is how one group did.
type Finding struct {
	Factor   Factor
	Group    prose.Text
	Jars     int
	Failures int
	Share    Interval // of failures
	Others   int      // jars with a known group of the same factor, but another
	OtherBad int      // failures among them
	P        float64  // that chance puts as many failures, or more, into this group
	Adjusted float64  // P, corrected for every group that was tested
	// More says that the group fails more often than chance explains.
	More bool
}

// leastOthers is how many jars the rest must have for a test to mean anything.
const leastOthers = 1

// Findings compares every group of every factor with the rest: does it fail
// more often? The test is one-sided, because only that is asked. Groups are
// tested against the jars of the other groups of the factor, and all tests are
// corrected together. The order is by factor, then by how unlikely chance is,
// then by name.
func Findings(obs []Observation, confidence, level float64) ([]Finding, error) {
	var found []Finding
	for f := range NumFactors {
		of := map[prose.Text]*Finding{}
		jars, bad := 0, 0
		var names []prose.Text
		for i := range obs {
			g := obs[i].Groups[f]
			if g == "" {
				continue
			}
			if of[g] == nil {
				of[g] = &Finding{Factor: f, Group: g}
				names = append(names, g)
			}
			of[g].Jars++
			jars++
			if obs[i].Failed {
				of[g].Failures++
				bad++
			}
		}
		slices.SortFunc(names, func(a, b prose.Text) int { return strings.Compare(a.String(), b.String()) })
		for _, name := range names {
			g := of[name]
			var err error
			if g.Share, err = Wilson(g.Failures, g.Jars, confidence); err != nil {
				return nil, err
			}
			g.Others, g.OtherBad, g.P = jars-g.Jars, bad-g.Failures, 1
			if g.Others >= leastOthers {
				e, err := Fisher(g.Failures, g.Jars-g.Failures, g.OtherBad, g.Others-g.OtherBad)
				if err != nil {
					return nil, err
				}
				g.P = e.Greater
			}
			found = append(found, *g)
		}
	}
	var p []float64
	for i := range found {
		if found[i].Others >= leastOthers {
			p = append(p, found[i].P)
		}
	}
	adjusted := Holm(p)
	for i, k := 0, 0; i < len(found); i++ {
		found[i].Adjusted = 1
		if found[i].Others >= leastOthers {
			found[i].Adjusted = adjusted[k]
			k++
		}
		found[i].More = found[i].Adjusted <= level
	}
	slices.SortStableFunc(found, func(a, b Finding) int { return cmp.Or(cmp.Compare(a.Factor, b.Factor), cmp.Compare(a.P, b.P)) })
	return found, nil
}
