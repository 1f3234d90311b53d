package keeping

import "math"

// Exposure is the effect of a place on a jar, over whole days.
type Exposure struct {
	Days      int
	Unknown   int   // days about which nothing is known
	Aged      Range // days at Reference, of the days that are known
	HoursHot  Range // above TooHot
	HoursCold Range // below 0 °C
	Warmest   Range // degrees Celsius; a reversed infinite range when no day is known
	Coldest   Range
}

// nothing is the exposure of no time at all.
func nothing() Exposure {
	inf := math.Inf(1)
	return Exposure{Warmest: Range{-inf, -inf}, Coldest: Range{inf, inf}}
}

// Add puts the exposure of another time after this one.
func (e Exposure) Add(o Exposure) Exposure {
	return Exposure{
		Days: e.Days + o.Days, Unknown: e.Unknown + o.Unknown,
		Aged: e.Aged.add(o.Aged), HoursHot: e.HoursHot.add(o.HoursHot), HoursCold: e.HoursCold.add(o.HoursCold),
		Warmest: Range{max(e.Warmest.Low, o.Warmest.Low), max(e.Warmest.High, o.Warmest.High)},
		Coldest: Range{min(e.Coldest.Low, o.Coldest.Low), min(e.Coldest.High, o.Coldest.High)},
	}
}

// oneDay is the exposure of one day.
func oneDay(a Air, n int) Exposure {
	e := nothing()
	e.Days = 1
	mean, swing, ok := Range{}, Range{}, false
	if a != nil {
		mean, swing, ok = a.day(n)
	}
	if !ok {
		e.Unknown = 1
		return e
	}
	e.Aged = aged(mean, swing)
	// More swing only ever adds hours on the far side of a limit; on the near
	// side it can take some away.
	hot := func(m, s float64) float64 { return hoursAbove(m, s, TooHot) }
	cold := func(m, s float64) float64 { return hoursAbove(-m, s, 0) }
	both := func(f func(m, s float64) float64, least, most float64) Range {
		return Range{min(f(least, swing.Low), f(least, swing.High)), max(f(most, swing.Low), f(most, swing.High))}
	}
	e.HoursHot, e.HoursCold = both(hot, mean.Low, mean.High), both(cold, mean.High, mean.Low)
	e.Warmest = Range{mean.Low + swing.Low, mean.High + swing.High}
	e.Coldest = Range{mean.Low - swing.High, mean.High - swing.Low}
	return e
}

// Meter answers for any time within a span after reading the span once, because
// many jars share one place.
type Meter struct {
	from int
	sums []Exposure // sums[i] is that of the first i days; only what adds up
	// peaks[k][i] covers the 2^k days from i on; only what does not add up.
	peaks [][]peak
}

type peak struct{ warmest, coldest Range }

func (p peak) with(o peak) peak {
	return peak{Range{max(p.warmest.Low, o.warmest.Low), max(p.warmest.High, o.warmest.High)}, Range{min(p.coldest.Low, o.coldest.Low), min(p.coldest.High, o.coldest.High)}}
}

// NewMeter reads the days from one up to, but without, another.
func NewMeter(a Air, from, to int) *Meter {
	m := &Meter{from: from, sums: []Exposure{nothing()}}
	var days []peak
	for n := from; n < to; n++ {
		d := oneDay(a, n)
		days = append(days, peak{d.Warmest, d.Coldest})
		m.sums = append(m.sums, m.sums[len(m.sums)-1].Add(d))
	}
	m.peaks = [][]peak{days}
	for width := 1; 2*width <= len(days); width *= 2 {
		last := m.peaks[len(m.peaks)-1]
		next := make([]peak, len(days)-2*width+1)
		for i := range next {
			next[i] = last[i].with(last[i+width])
		}
		m.peaks = append(m.peaks, next)
	}
	return m
}

// Between returns the exposure from one day up to, but without, another. Days
// that were not read count as not known.
func (m *Meter) Between(from, to int) Exposure {
	if to <= from {
		return nothing()
	}
	a, b := max(from, m.from)-m.from, min(to, m.from+len(m.sums)-1)-m.from
	if b <= a {
		e := nothing()
		e.Days, e.Unknown = to-from, to-from
		return e
	}
	x, y := m.sums[a], m.sums[b]
	less := func(p, q Range) Range { return Range{p.Low - q.Low, p.High - q.High} }
	k := 0
	for 2<<k <= b-a {
		k++
	}
	p := m.peaks[k][a].with(m.peaks[k][b-1<<k])
	return Exposure{
		Days: to - from, Unknown: y.Unknown - x.Unknown + (to - from) - (b - a),
		Aged: less(y.Aged, x.Aged), HoursHot: less(y.HoursHot, x.HoursHot), HoursCold: less(y.HoursCold, x.HoursCold),
		Warmest: p.warmest, Coldest: p.coldest,
	}
}
