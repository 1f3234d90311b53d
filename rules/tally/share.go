package tally

import (
	"fmt"
	"math"
)

// Interval is a range of shares from 0 to 1.
type Interval struct{ Low, High float64 }

// Wilson is the two-sided score interval of a share, without continuity
// correction. It is an error when failures are not between 0 and n, n is 0, or
// the confidence not between 0 and 1.
//
// Source: E. B. Wilson, Probable inference, the law of succession, and
// statistical inference, JASA 22 (1927); recommended by R. G. Newcombe,
// Statistics in Medicine 17 (1998), method 3 (from memory).
func Wilson(failures, n int, confidence float64) (Interval, error) {
	if n <= 0 || failures < 0 || failures > n {
		return Interval{}, fmt.Errorf("wilson: %d of %d is not a share", failures, n)
	}
	if !(confidence > 0 && confidence < 1) {
		return Interval{}, fmt.Errorf("wilson: confidence %v is not between 0 and 1", confidence)
	}
	z := quantile((1 + confidence) / 2)
	N, p := float64(n), float64(failures)/float64(n)
	middle := p + z*z/(2*N)
	half := z * math.Sqrt(p*(1-p)/N+z*z/(4*N*N))
	scale := 1 + z*z/N
	i := Interval{(middle - half) / scale, (middle + half) / scale}
	// Rounding must not push the ends off 0 and 1, where they are exact.
	if failures == 0 {
		i.Low = 0
	}
	if failures == n {
		i.High = 1
	}
	return i, nil
}

// quantile is the value that a standard normal variable stays below with a
// probability.
func quantile(p float64) float64 { return math.Sqrt2 * math.Erfinv(2*p-1) }

// Exact holds the probabilities of Fisher's exact test of a table of two rows.
type Exact struct {
	TwoSided float64 // of a table no more probable than this one
	Less     float64 // of as few in the first cell, or fewer
	Greater  float64 // of as many in the first cell, or more
}

// tie is how much two probabilities may differ by rounding and still count as
// equal.
const tie = 1e-7

// Fisher is the exact test of the table a, b; c, d: are the shares a of a+b and
// c of c+d the same? It is an error when a count is below zero or none is
// above.
//
// Source: R. A. Fisher, The Design of Experiments (1935), section 5.
func Fisher(a, b, c, d int) (Exact, error) {
	if a < 0 || b < 0 || c < 0 || d < 0 || a+b+c+d == 0 {
		return Exact{}, fmt.Errorf("fisher: %d, %d; %d, %d is not a table of counts", a, b, c, d)
	}
	row, column, n := a+b, a+c, a+b+c+d
	low, high := max(0, row+column-n), min(row, column)
	// The logarithm of the probability of k in the first cell.
	log := func(k int) float64 {
		return choose(column, k) + choose(n-column, row-k) - choose(n, row)
	}
	here := log(a)
	var e Exact
	for k := low; k <= high; k++ {
		l := log(k)
		p := math.Exp(l)
		if l <= here+tie {
			e.TwoSided += p
		}
		if k <= a {
			e.Less += p
		}
		if k >= a {
			e.Greater += p
		}
	}
	for _, p := range []*float64{&e.TwoSided, &e.Less, &e.Greater} {
		*p = min(*p, 1)
	}
	return e, nil
}

// choose is the logarithm of the number of ways to choose k of n.
func choose(n, k int) float64 {
	log := func(v int) float64 {
		l, _ := math.Lgamma(float64(v) + 1)
		return l
	}
	return log(n) - log(k) - log(n-k)
}

// Holm adjusts the probabilities of several tests so that the chance of calling
// any of them wrongly stays what it was for one. The order is kept.
//
// Source: S. Holm, A simple sequentially rejective multiple test procedure,
// Scandinavian Journal of Statistics 6 (1979).
func Holm(p []float64) []float64 {
	adjusted := make([]float64, len(p))
	done := make([]bool, len(p))
	last := 0.0
	for left := len(p); left > 0; left-- {
		least := -1
		for i, v := range p {
			if !done[i] && (least < 0 || v < p[least]) {
				least = i
			}
		}
		done[least] = true
		last = max(last, min(1, p[least]*float64(left)))
		adjusted[least] = last
	}
	return adjusted
}

// Change is the difference of two shares, the later less the earlier.
type Change struct {
	Difference float64
	Interval   Interval // from -1 to 1
	P          float64  // that chance explains it: Fisher's exact test, two-sided
}

// Compare compares the failures of two sweeps, the earlier first.
//
// Source: R. G. Newcombe, Interval estimation for the difference between
// independent proportions, Statistics in Medicine 17 (1998), method 10 (from
// memory).
func Compare(failures1, n1, failures2, n2 int, confidence float64) (Change, error) {
	one, err := Wilson(failures1, n1, confidence)
	if err != nil {
		return Change{}, err
	}
	two, err := Wilson(failures2, n2, confidence)
	if err != nil {
		return Change{}, err
	}
	e, err := Fisher(failures1, n1-failures1, failures2, n2-failures2)
	if err != nil {
		return Change{}, err
	}
	p1, p2 := float64(failures1)/float64(n1), float64(failures2)/float64(n2)
	d := p2 - p1
	return Change{d, Interval{
		d - math.Hypot(p2-two.Low, one.High-p1),
		d + math.Hypot(two.High-p2, p1-one.Low),
	}, e.TwoSided}, nil
}
