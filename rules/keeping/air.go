package keeping

import (
	"fmt"
	"math"
)

// Range is a number known to lie between two others, both included.
type Range struct{ Low, High float64 }

// Exactly is a number that is known.
func Exactly(v float64) Range { return Range{v, v} }

// add returns the range of sums.
func (r Range) add(o Range) Range { return Range{r.Low + o.Low, r.High + o.High} }

// check reports what is wrong with the range.
func (r Range) check() error {
	if !(r.Low <= r.High) || math.IsInf(r.Low, 0) || math.IsInf(r.High, 0) {
		return fmt.Errorf("%v to %v is not a range", r.Low, r.High)
	}
	return nil
}

// Q10 is how many times faster the quality of canned food falls for each 10 °C
// more, as a range.
//
// Source, from memory: T. P. Labuza, Shelf-life Dating of Foods (1982): 1.1 to 4
// for canned food, commonly 2 to 3.
var Q10 = Range{2, 3}

// Reference is the temperature, in degrees Celsius, at which a day counts as
// one. Ours; published shelf lives are commonly stated for it.
const Reference = 20.0

// TooHot is the temperature above which hours are counted: 35 °C (95 °F).
//
// Source: Michigan State University Extension, storing canned food (read).
const TooHot = 35.0

// Year is the mean length of a year in days.
const Year = 365.25

// Coldest is the day of the year on which the average is lowest north of the
// equator, counted from 0 on 1 January; half a year later south of it. From
// memory: three to four weeks after the solstice.
const Coldest = 20

// Air is what is known of the temperature of a place.
type Air interface {
	// day returns the mean of a day, counted since 1 January 1970, and the most
	// that it rises above and falls below it. ok is false when the day is not
	// known.
	day(n int) (mean, swing Range, ok bool)
}

// Steady is always within a range, in degrees Celsius.
type Steady Range

func (s Steady) day(int) (mean, swing Range, ok bool) { return Range(s), Range{}, true }

// Seasons has the means of an average day in the coldest and in the hottest
// part of the year, and at most a swing around them within a day, in degrees
// Celsius.
type Seasons struct {
	Winter, Summer Range
	Swing          float64
	South          bool // of the equator
}

func (s Seasons) day(n int) (mean, swing Range, ok bool) {
	// 1 January 1970 is day 0 of its year.
	phase := 2 * math.Pi * (float64(n) - Coldest) / Year
	if s.South {
		phase += math.Pi
	}
	summer := (1 - math.Cos(phase)) / 2
	at := func(winter, hot float64) float64 { return winter + (hot-winter)*summer }
	return Range{at(s.Winter.Low, s.Summer.Low), at(s.Winter.High, s.Summer.High)}, Range{0, s.Swing}, true
}

// Reading is the lowest and the highest temperature of a day, in degrees Celsius.
type Reading struct{ Min, Max float64 }

// Readings holds readings by day, counted since 1 January 1970. Other days are
// not known.
type Readings map[int]Reading

func (r Readings) day(n int) (mean, swing Range, ok bool) {
	d, ok := r[n]
	return Exactly((d.Min + d.Max) / 2), Exactly((d.Max - d.Min) / 2), ok
}

// BesselI0 is the modified Bessel function of the first kind of order 0: the
// mean of exp(x sin t) over a whole wave. Good to 1e-14 of its value for |x| up
// to 20.
func BesselI0(x float64) float64 {
	q, term, sum := x*x/4, 1.0, 1.0
	for k := 1.0; term > sum*1e-17; k++ {
		term *= q / (k * k)
		sum += term
	}
	return sum
}

// rate is how many days at Reference one day is equivalent to, for a mean, a swing
// and a Q10 given by its logarithm.
func rate(mean, swing, lnQ10 float64) float64 {
	return math.Exp(lnQ10*(mean-Reference)/10) * BesselI0(lnQ10*swing/10)
}

// hoursAbove is how many hours of a day lie above a limit.
func hoursAbove(mean, swing, limit float64) float64 {
	switch {
	case mean-swing > limit:
		return 24
	case mean+swing <= limit:
		return 0
	}
	return 24 / math.Pi * math.Acos((limit-mean)/swing)
}

// aged is the range of days at Reference that one day is equivalent to.
func aged(mean, swing Range) Range {
	low, high := math.Log(Q10.Low), math.Log(Q10.High)
	at := func(k float64) float64 { return rate(mean.Low, swing.Low, k) }
	r := Range{min(at(low), at(high)), max(rate(mean.High, swing.High, low), rate(mean.High, swing.High, high))}
	// The rate is convex in k. Just below Reference its minimum may lie between
	// the ends.
	if middle := at((low + high) / 2); middle < r.Low {
		for range 60 {
			a, b := low+(high-low)/3, high-(high-low)/3
			if at(a) < at(b) {
				high = b
			} else {
				low = a
			}
		}
		r.Low = at((low + high) / 2)
	}
	return r
}
