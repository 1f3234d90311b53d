package keeping_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/keeping"
)

// near reports whether two numbers agree to a part of their size.
func near(a, b, part float64) bool { return math.Abs(a-b) <= part*max(math.Abs(a), math.Abs(b), 1e-9) }

// Abramowitz and Stegun, Handbook of Mathematical Functions, table 9.8, and
// public reference data: the modified Bessel function of order 0.
func TestBesselI0(t *testing.T) {
	for x, want := range map[float64]float64{0: 1, 0.1: 1.002501562934, 0.5: 1.063483370741, 1: 1.266065877752, 2: 2.279585302336, 5: 27.239871823604} {
		if got := keeping.BesselI0(x); !near(got, want, 1e-12) || got != keeping.BesselI0(-x) {
			t.Errorf("I0(%v): got %.13g, want %.13g", x, got, want)
		}
	}
	// The mean of exp(x sin t) over a whole wave, by adding up.
	for x := 0.0; x <= 6; x += 0.25 {
		sum, n := 0.0, 4000
		for i := range n {
			sum += math.Exp(x * math.Sin(2*math.Pi*float64(i)/float64(n)))
		}
		if got := keeping.BesselI0(x); !near(got, sum/float64(n), 1e-12) {
			t.Errorf("I0(%v): got %v, want the sum %v", x, got, sum/float64(n))
		}
	}
}

// truth adds up one possible course of temperature, minute by minute.
type truth struct{ aged, hot, cold, warmest, coldest float64 }

func follow(days int, q10 float64, at func(day float64) float64) (tr truth) {
	const steps = 480
	tr.warmest, tr.coldest = math.Inf(-1), math.Inf(1)
	for i := range days * steps {
		c := at((float64(i) + 0.5) / steps)
		tr.aged += math.Pow(q10, (c-keeping.Reference)/10) / steps
		if c > keeping.TooHot {
			tr.hot += 24.0 / steps
		}
		if c < 0 {
			tr.cold += 24.0 / steps
		}
		tr.warmest, tr.coldest = max(tr.warmest, c), min(tr.coldest, c)
	}
	return
}

func within(v float64, r keeping.Range, slack float64) bool {
	return v >= r.Low-slack && v <= r.High+slack
}

// Every course that fits what is known of a place lies within the bounds.
func TestBoundsHoldForEveryCourse(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	draw := func(low, high float64) float64 { return low + r.Float64()*(high-low) }
	for range 150 {
		winter := keeping.Range{Low: draw(-15, 15)}
		winter.High = winter.Low + draw(0, 6)
		summer := keeping.Range{Low: draw(10, 36)}
		summer.High = summer.Low + draw(0, 6)
		place := keeping.Seasons{Winter: winter, Summer: summer, Swing: draw(0, 12), South: r.IntN(2) == 0}
		from, days := 19000+r.IntN(1000), 1+r.IntN(40)
		e := keeping.Expose(place, from, from+days)
		w, s, swing, q := draw(winter.Low, winter.High), draw(summer.Low, summer.High), draw(0, place.Swing), draw(keeping.Q10.Low, keeping.Q10.High)
		shift := 0.0
		if place.South {
			shift = math.Pi
		}
		got := follow(days, q, func(d float64) float64 {
			n := float64(from) + math.Floor(d)
			share := (1 - math.Cos(2*math.Pi*(n-keeping.Coldest)/keeping.Year+shift)) / 2
			return w + (s-w)*share + swing*math.Sin(2*math.Pi*(d-math.Floor(d)))
		})
		if !within(got.aged, e.Aged, 1e-3*got.aged) || !within(got.hot, e.HoursHot, 0.11*float64(days)) || !within(got.cold, e.HoursCold, 0.11*float64(days)) ||
			got.warmest > e.Warmest.High+1e-9 || got.coldest < e.Coldest.Low-1e-9 || got.warmest < e.Warmest.Low-1e-3 || got.coldest > e.Coldest.High+1e-3 {
			t.Fatalf("%+v over %d days: got %+v, want it within %+v", place, days, got, e)
		}
	}
}

// A whole year of seasons agrees with the closed form: two waves give the
// product of two Bessel functions.
func TestYearAgreesWithTheClosedForm(t *testing.T) {
	for _, c := range []struct{ winter, summer, swing float64 }{{8, 18, 0}, {5, 25, 4}, {-5, 30, 8}} {
		a := keeping.Seasons{Winter: keeping.Exactly(c.winter), Summer: keeping.Exactly(c.summer), Swing: c.swing}
		e := keeping.Expose(a, 0, 1461) // four years
		mean, wave := (c.winter+c.summer)/2, (c.summer-c.winter)/2
		closed := func(q10, swing float64) float64 {
			k := math.Log(q10) / 10
			return 1461 * math.Exp(k*(mean-keeping.Reference)) * keeping.BesselI0(k*wave) * keeping.BesselI0(k*swing)
		}
		high := max(closed(keeping.Q10.Low, c.swing), closed(keeping.Q10.High, c.swing))
		if e.Aged.High < high*(1-1e-4) || e.Aged.Low > min(closed(keeping.Q10.Low, 0), closed(keeping.Q10.High, 0))*(1+1e-4) {
			t.Errorf("%+v: got %+v, want up to %v as by the closed form", c, e.Aged, high)
		}
	}
	// Q10 = 2: a place at 30 °C ages twice as fast as one at 20 °C (Labuza-style
	// example: 20 weeks at 20 °C, 10 weeks at 30 °C).
	if e := keeping.Expose(keeping.Steady(keeping.Exactly(30)), 0, 70); !near(e.Aged.Low, 140, 1e-12) || !near(e.Aged.High, 210, 1e-12) {
		t.Errorf("70 days at 30 °C: got %+v", e.Aged)
	}
}

// A time cut anywhere is the sum of its parts, and a meter gives the same as
// going day by day.
func TestCutAnywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	readings := keeping.Readings{}
	for n := 100; n < 400; n++ {
		if r.IntN(10) > 0 {
			low := r.Float64()*30 - 5
			readings[n] = keeping.Reading{Min: low, Max: low + r.Float64()*12}
		}
	}
	for _, a := range []keeping.Air{readings, keeping.Seasons{Winter: keeping.Range{Low: 2, High: 6}, Summer: keeping.Range{Low: 20, High: 34}, Swing: 6}, keeping.Steady{Low: 8, High: 12}, nil} {
		m := keeping.NewMeter(a, 100, 400)
		for range 400 {
			from, to := 80+r.IntN(340), 80+r.IntN(340)
			if from > to {
				from, to = to, from
			}
			cut := from + r.IntN(to-from+1)
			whole := m.Between(from, to)
			parts := m.Between(from, cut).Add(m.Between(cut, to))
			if whole.Days != to-from || whole.Days != parts.Days || whole.Unknown != parts.Unknown || whole.Warmest != parts.Warmest || whole.Coldest != parts.Coldest ||
				!near(whole.Aged.Low+1, parts.Aged.Low+1, 1e-9) || !near(whole.HoursHot.High+1, parts.HoursHot.High+1, 1e-9) {
				t.Fatalf("%d to %d cut at %d: got %+v as a whole and %+v in parts, want the same", from, to, cut, whole, parts)
			}
			slow := keeping.Expose(a, max(from, 100), max(from, 100, min(to, 400)))
			if whole.Warmest != slow.Warmest || whole.Coldest != slow.Coldest || !near(whole.Aged.High+1, slow.Aged.High+1, 1e-9) {
				t.Fatalf("%d to %d: got %+v, want %+v as day by day", from, to, whole, slow)
			}
		}
	}
}

// Hotter is never milder, and knowing less never makes a range smaller.
func TestMonotone(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	holds := func(outer, inner keeping.Range) bool {
		return outer.Low <= inner.Low+1e-9 && outer.High >= inner.High-1e-9
	}
	for range 500 {
		low := r.Float64()*50 - 10
		a := keeping.Steady{Low: low, High: low + r.Float64()*5}
		hotter := keeping.Steady{Low: a.Low + r.Float64()*5, High: a.High + 5}
		wider := keeping.Steady{Low: a.Low - r.Float64(), High: a.High + r.Float64()}
		e, h, w := keeping.Expose(a, 0, 9), keeping.Expose(hotter, 0, 9), keeping.Expose(wider, 0, 9)
		if h.Aged.Low < e.Aged.Low-1e-9 || h.Aged.High < e.Aged.High-1e-9 || h.HoursHot.High < e.HoursHot.High || h.Warmest.High < e.Warmest.High {
			t.Fatalf("%v: got %+v; the hotter %v: got the milder %+v", a, e, hotter, h)
		}
		if !holds(w.Aged, e.Aged) || !holds(w.HoursHot, e.HoursHot) || !holds(w.Warmest, e.Warmest) || !holds(w.Coldest, e.Coldest) {
			t.Fatalf("%v: got %+v; the wider range %v: got %+v, want one that contains it", a, e, wider, w)
		}
	}
}

// The bands: both sides of every edge, and what is not known stays open.
func TestHeat(t *testing.T) {
	heat := func(warmest float64, unknown int) []rules.Value {
		e := keeping.Exposure{Days: 10, Unknown: unknown, Warmest: keeping.Exactly(warmest)}
		return e.Heat()
	}
	for warmest, want := range map[float64]rules.Value{23.8: rules.HeatCool, 23.81: rules.HeatWarm, 35: rules.HeatWarm, 35.01: rules.HeatHot, 37.7: rules.HeatHot, 37.71: rules.HeatExtreme} {
		if got := heat(warmest, 0); !slices.Equal(got, []rules.Value{want}) {
			t.Errorf("%v °C: got %v", warmest, got)
		}
		if got := heat(warmest, 1); got[0] != want || got[len(got)-1] != rules.HeatExtreme {
			t.Errorf("%v °C and a day about which nothing is known: got %v", warmest, got)
		}
	}
	none := keeping.Exposure{Days: 3, Unknown: 3, Warmest: keeping.Range{Low: math.Inf(-1), High: math.Inf(-1)}}
	if got := none.Heat(); len(got) != 4 {
		t.Errorf("nothing known: got %v, want every value", got)
	}
	for coldest, ok := range map[float64]bool{0: false, 0.1: true, -3: false} {
		e := keeping.Exposure{Days: 1, Coldest: keeping.Range{Low: coldest, High: 20}}
		if e.Unfrozen() != ok {
			t.Errorf("%v °C: got unfrozen %v", coldest, !ok)
		}
	}
}

// Hours above the limit on one day: none, all, and a half where the mean is the
// limit.
func TestHoursAbove(t *testing.T) {
	for _, c := range []struct{ min, max, hours float64 }{{20, 35, 0}, {35.1, 40, 24}, {30, 40, 12}, {30, 36, 24 / math.Pi * math.Acos(2.0/3)}} {
		e := keeping.Expose(keeping.Readings{5: {Min: c.min, Max: c.max}}, 5, 6)
		if !near(e.HoursHot.High, c.hours, 1e-12) {
			t.Errorf("%v to %v: got %v hours, want %v", c.min, c.max, e.HoursHot.High, c.hours)
		}
	}
}

func BenchmarkMeter(b *testing.B) {
	m := keeping.NewMeter(keeping.Seasons{Winter: keeping.Range{Low: 5, High: 8}, Summer: keeping.Range{Low: 18, High: 24}, Swing: 2}, 0, 1100)
	for b.Loop() {
		m.Between(37, 1050)
	}
}

func BenchmarkNewMeter(b *testing.B) {
	for b.Loop() {
		keeping.NewMeter(keeping.Seasons{Winter: keeping.Range{Low: 5, High: 8}, Summer: keeping.Range{Low: 18, High: 24}, Swing: 2}, 0, 1100)
	}
}
