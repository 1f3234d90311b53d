package tally

import (
	"fmt"
	"math"
	"sort"
)

// Life is how long a seal was known to hold, in months, and whether it then
// failed. One that did not was eaten, given away, or holds still: it is
// censored.
type Life struct {
	Months int
	Failed bool
}

// Step is one month of a survival curve in which seals failed.
type Step struct {
	Month    int
	AtRisk   int // seals that had held until then
	Failures int
	Share    float64  // of seals that hold beyond this month
	Error    float64  // standard error of the share (Greenwood)
	Bounds   Interval // of the share
}

// Survival is the Kaplan-Meier curve of seals, with Greenwood's standard error
// and bounds on the complementary log-log scale, which stay between 0 and 1. It
// is an error when a life is below zero months or the confidence is not between
// 0 and 1.
//
// Sources: E. L. Kaplan and P. Meier, JASA 53 (1958); M. Greenwood (1926); the
// scale of the bounds: J. D. Kalbfleisch and R. L. Prentice (1980) (from memory).
func Survival(lives []Life, confidence float64) ([]Step, error) {
	if !(confidence > 0 && confidence < 1) {
		return nil, fmt.Errorf("survival: confidence %v is not between 0 and 1", confidence)
	}
	failures, ends := map[int]int{}, map[int]int{}
	var months []int
	for i, l := range lives {
		if l.Months < 0 {
			return nil, fmt.Errorf("survival: life %d: %d months", i+1, l.Months)
		}
		if ends[l.Months] == 0 {
			months = append(months, l.Months)
		}
		ends[l.Months]++
		if l.Failed {
			failures[l.Months]++
		}
	}
	sort.Ints(months)
	z := quantile((1 + confidence) / 2)
	var steps []Step
	atRisk, share, sum := len(lives), 1.0, 0.0
	for _, m := range months {
		if d := failures[m]; d > 0 {
			n := float64(atRisk)
			share *= 1 - float64(d)/n
			// The last seal failing leaves no share to have an error.
			if atRisk > d {
				sum += float64(d) / (n * (n - float64(d)))
			}
			s := Step{Month: m, AtRisk: atRisk, Failures: d, Share: share, Error: share * math.Sqrt(sum)}
			if share > 0 {
				width := z * math.Sqrt(sum) / math.Log(share)
				s.Bounds = Interval{math.Pow(share, math.Exp(-width)), math.Pow(share, math.Exp(width))}
			}
			steps = append(steps, s)
		}
		atRisk -= ends[m]
	}
	return steps, nil
}
