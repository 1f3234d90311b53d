package keeping_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"larderlamp/rules/keeping"
)

// inF converts a difference in degrees Fahrenheit.
func inF(d float64) float64 { return d / 1.8 }

// The published figures lie within the curve, and the curve stays within what
// was published.
func TestVehicleRise(t *testing.T) {
	for _, c := range []struct {
		source  string
		minutes float64
		celsius float64
	}{
		{"McLaren 2005: about 40 °F in an hour", 60, inF(40)},
		{"McLaren 2005: 80 % of it in 30 minutes", 30, inF(32)},
		{"Grundstein 2010: 4 °C in 5 minutes", 5, 4},
		{"Grundstein 2010: 7 °C in 10 minutes", 10, 7},
		{"Grundstein 2010: 16 °C in 30 minutes", 30, 16},
		{"Grundstein 2010: 26 °C in 60 minutes", 60, 26},
	} {
		if r := keeping.VehicleRise(c.minutes); c.celsius < r.Low-0.03 || c.celsius > r.High+0.03 {
			t.Errorf("%s: got the curve's range without %.1f °C: %v", c.source, c.celsius, r)
		}
	}
	// McLaren 2005, read: 117 °F inside on the coolest day (72 °F outside), and
	// earlier studies: up to 154 °F above 86 °F outside.
	if got := 72 + keeping.VehicleRise(120).High*1.8; got < 117 {
		t.Errorf("at 72 °F outside: got at most %.0f °F, want at least the measured 117", got)
	}
	if got := 86 + keeping.VehicleRise(120).High*1.8; got < 154 {
		t.Errorf("at 86 °F outside: got at most %.0f °F, want at least the measured 154", got)
	}
	// Derived in the same sources: the storage limit of 95 °F is passed in 15 to
	// 20 minutes at 75 to 80 °F outside.
	for _, outside := range []float64{75, 80} {
		passed := 0.0
		for m := 0.0; m < 60 && passed == 0; m += 0.5 {
			if outside+keeping.VehicleRise(m).High*1.8 > 95 {
				passed = m
			}
		}
		if passed < 8 || passed > 20 {
			t.Errorf("at %v °F outside: got 95 °F passed after %v minutes, want 8 to 20", outside, passed)
		}
	}
	last := keeping.Range{}
	for m := -5.0; m <= 300; m++ {
		r := keeping.VehicleRise(m)
		if r.Low < last.Low || r.High < last.High || r.Low > r.High {
			t.Errorf("after %v minutes: got %v, want no less than the earlier %v", m, r, last)
		}
		last = r
	}
	if last != keeping.VehicleRise(120) {
		t.Errorf("after five hours: got %v, want the same as after two", last)
	}
}

// A day goes through its lowest and highest temperature, and never beyond.
func TestOutside(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		days := make([]keeping.Reading, 1+r.IntN(10))
		for i := range days {
			days[i].Min = float64(r.IntN(40) - 10)
			days[i].Max = days[i].Min + float64(r.IntN(20))
		}
		unsure := float64(r.IntN(4))
		air, err := keeping.Outside(days, unsure)
		if err != nil || len(air) != 24*len(days) {
			t.Fatalf("got %d hours, %v, want %d", len(air), err, 24*len(days))
		}
		for d, day := range days {
			if got := air[24*d+5].Low; !near(got+100, day.Min-unsure+100, 1e-9) {
				t.Fatalf("%+v: day %d: got %v at its coldest", days, d+1, got)
			}
			if got := air[24*d+14].High; !near(got+100, day.Max+unsure+100, 1e-9) {
				t.Fatalf("%+v: day %d: got %v at its hottest", days, d+1, got)
			}
			for h, a := range air[24*d+5 : 24*d+15] {
				if a.Low < day.Min-unsure-1e-9 || a.High > day.Max+unsure+1e-9 || a.Low > a.High {
					t.Fatalf("%+v: day %d, hour %d: got %v, want it within the day's temperatures", days, d+1, h+5, a)
				}
			}
		}
		for h := 1; h < len(air); h++ {
			if air[h].Low > air[h-1].High || air[h].High < air[h-1].Low {
				t.Fatalf("%+v: got a jump at hour %d", days, h)
			}
		}
	}
	for _, bad := range []keeping.Reading{{Min: 5, Max: 4}, {Min: math.NaN(), Max: 4}, {Min: 0, Max: math.Inf(1)}} {
		if _, err := keeping.Outside([]keeping.Reading{bad}, 0); err == nil {
			t.Errorf("%+v: got no error, want one", bad)
		}
	}
	if _, err := keeping.Outside(nil, -1); err == nil {
		t.Error("a negative uncertainty: got no error, want one")
	}
}

// Any place only ever makes a thing hotter than in the shade, and only while the
// sun shines or a vehicle gives off its heat.
func TestAround(t *testing.T) {
	air := make([]keeping.Range, 48)
	for i := range air {
		air[i] = keeping.Range{Low: 18, High: 22}
	}
	all := func(s keeping.Stand) []keeping.Stand {
		stands := make([]keeping.Stand, len(air))
		for i := range stands {
			stands[i] = s
		}
		return stands
	}
	for _, s := range []keeping.Stand{keeping.Shade, keeping.Sun, keeping.Car, keeping.Trailer, keeping.Cabin} {
		around, err := keeping.Around(air, all(s))
		if err != nil {
			t.Fatal(err)
		}
		for h, a := range around {
			if a.Low != 18 || a.High < 22 || s == keeping.Shade && a.High != 22 {
				t.Errorf("place %d, hour %d: got %v, want 18 to 22, and more only in the sun", s, h, a)
			}
			if noon := h%24 >= 10 && h%24 < 16; noon && s == keeping.Car && a.High < 22+26 {
				t.Errorf("a car at %d o'clock: got %v", h%24, a)
			}
			if night := h%24 >= 1 && h%24 < 4; night && a.High > 22.5 {
				t.Errorf("place %d at %d o'clock: got %v", s, h%24, a)
			}
		}
	}
	if _, err := keeping.Around(air, all(9)); err == nil {
		t.Error("an unknown place: got no error, want one")
	}
	if _, err := keeping.Around(air, nil); err == nil {
		t.Error("hours without places: got no error, want one")
	}
}

// Constant air gives the exponential solution, within rounding.
func TestJarAgainstTheExponential(t *testing.T) {
	for _, tau := range []float64{0.7, 2, 5, 11} {
		for _, c := range []struct{ start, air float64 }{{5, 35}, {30, 2}, {20, 20}} {
			air := make([]keeping.Range, 24)
			for i := range air {
				air[i] = keeping.Exactly(c.air)
			}
			course, err := keeping.Follow(keeping.Exactly(c.start), air, keeping.Exactly(tau))
			if err != nil {
				t.Fatal(err)
			}
			for h, at := range course.At {
				want := c.air + (c.start-c.air)*math.Exp(-float64(h)/tau)
				if !near(at.Low, want, 1e-12) || !near(at.High, want, 1e-12) {
					t.Fatalf("tau %v, hour %d: got %v, want %v", tau, h, at, want)
				}
			}
			if got := keeping.Respond(c.start, c.air, 3, tau); !near(got, course.At[3].Low, 1e-12) {
				t.Errorf("after 3 hours in one step: got %v", got)
			}
		}
	}
}

// Whatever course the air takes within its hours, with whatever time constant,
// changing all the time, the jar stays within its bounds: against steps of 20
// seconds.
func TestJarAgainstSmallSteps(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	draw := func(a keeping.Range) float64 { return a.Low + r.Float64()*(a.High-a.Low) }
	for range 200 {
		start := keeping.Range{Low: r.Float64() * 20}
		start.High = start.Low + r.Float64()*5
		tau := keeping.Range{Low: 0.5 + r.Float64()*4}
		tau.High = tau.Low * (1 + 2*r.Float64())
		air := make([]keeping.Range, 48)
		for i := range air {
			air[i].Low = r.Float64()*50 - 10
			air[i].High = air[i].Low + r.Float64()*10
		}
		course, err := keeping.Follow(start, air, tau)
		if err != nil {
			t.Fatal(err)
		}
		jar, hot, peak := draw(start), 0.0, math.Inf(-1)
		for h, a := range air {
			const steps = 180
			around, k := draw(a), draw(tau)
			for i := range steps {
				if i%60 == 0 && r.IntN(3) > 0 {
					around, k = draw(a), draw(tau)
				}
				jar += (around - jar) / k / steps
				peak = max(peak, jar)
				if jar > keeping.TooHot {
					hot += 1.0 / steps
				}
			}
			if at := course.At[h+1]; jar < at.Low-0.05 || jar > at.High+0.05 {
				t.Fatalf("hour %d: got %v, want it within %v", h+1, jar, at)
			}
		}
		e := course.Expose(0, course.Hours())
		if peak > e.Warmest.High+0.05 || peak < e.Warmest.Low-0.05 || hot > e.HoursHot.High+1e-9 || hot < e.HoursHot.Low-1e-9 {
			t.Fatalf("got a peak of %v and %v hot hours, want both within %+v", peak, hot, e)
		}
	}
}

// The exposure of a whole is that of its parts.
func TestExposureOfACourse(t *testing.T) {
	air := []keeping.Range{{Low: 10, High: 20}, {Low: 30, High: 45}, {Low: 40, High: 50}, {Low: -20, High: -10}, {Low: -20, High: -15}}
	c, err := keeping.Follow(keeping.Exactly(15), air, keeping.Range{Low: 0.5, High: 1})
	if err != nil {
		t.Fatal(err)
	}
	whole := c.Expose(0, 5)
	for cut := range 6 {
		parts := c.Expose(0, cut).Add(c.Expose(cut, 5))
		if !near(parts.Aged.High, whole.Aged.High, 1e-12) || parts.Warmest != whole.Warmest || parts.Coldest != whole.Coldest || parts.HoursHot != whole.HoursHot || parts.HoursCold != whole.HoursCold {
			t.Errorf("cut at %d: got %+v, want %+v as for the whole", cut, parts, whole)
		}
	}
	if whole.HoursHot.High == 0 || whole.HoursCold.High == 0 || whole.Unfrozen() {
		t.Errorf("got %+v, want hours that may be hot, hours that may be cold, and none unfrozen", whole)
	}
}

// A jar is slower the larger and the thicker, and far quicker in water. Figures
// from memory: a quart jar takes a morning to warm up, a half-pint an hour or
// two.
func TestTimeConstant(t *testing.T) {
	at := func(ml int, f keeping.Fill, m keeping.Medium) keeping.Range {
		r, err := keeping.TimeConstant(ml, f, m)
		if err != nil || r.Low <= 0 || r.Low > r.High {
			t.Fatalf("%d ml: got %v, %v, want a positive range", ml, r, err)
		}
		return r
	}
	for _, f := range []keeping.Fill{keeping.Liquid, keeping.Pieces, keeping.Thick} {
		last := keeping.Range{}
		for ml := 50; ml <= 10_000; ml += 50 {
			air, water := at(ml, f, keeping.StillAir), at(ml, f, keeping.Water)
			if air.Low <= last.Low || air.High <= last.High || water.High >= air.High {
				t.Errorf("%d ml, filling %d: got %v after %v for the one before, in water %v", ml, f, air, last, water)
			}
			last = air
		}
	}
	if q := at(950, keeping.Pieces, keeping.StillAir); q.Low > 3 || q.High < 4 {
		t.Errorf("a quart: got %v hours", q)
	}
	for _, bad := range []int{0, 49, 10_001} {
		if _, err := keeping.TimeConstant(bad, keeping.Liquid, keeping.StillAir); err == nil {
			t.Errorf("%d ml: got no error, want one", bad)
		}
	}
	if _, err := keeping.TimeConstant(500, 3, keeping.StillAir); err == nil {
		t.Error("an unknown filling: got no error, want one")
	}
}

// steadily returns hours of one temperature.
func steadily(hours int, celsius float64) []keeping.Range {
	air := make([]keeping.Range, hours)
	for i := range air {
		air[i] = keeping.Exactly(celsius)
	}
	return air
}

// The latent heat of ice, 333.55 kJ/kg, is what the ice takes up: 8 kg that last
// three days at 25 °C come to 0.41 W for each degree, and a cooler that leaks as
// much loses 8 kg in three days.
func TestIceAgainstTheEnergyBalance(t *testing.T) {
	leak := 8 * 333_550 / (25.0 * 3 * 86400)
	if r, err := keeping.Calibrate(8, 3, 25); err != nil || r.Low >= leak || r.High <= leak || r.Low < 0.6*leak || r.High > 1.6*leak {
		t.Errorf("got the leak %v, want a range around %v (%v)", r, leak, err)
	}
	c := &keeping.Cooler{Leak: keeping.Exactly(leak), Contents: keeping.Range{Low: 1, High: 10}, Ice: map[int]float64{0: 8}, Fails: -1}
	chill, err := c.Run(steadily(96, 25))
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range []int{0, 1, 24, 71, 72, 73} {
		want := max(0, 8-8*float64(h)/72)
		if got := chill.Ice[h].Low; math.Abs(got-want) > 1e-9 {
			t.Errorf("hour %d: got at least %v kg, want %v", h, got, want)
		}
	}
	// The last tenth is not counted on: 90 % of 72 hours are 64.8. With 8 kg more
	// after a day there are 13.33 kg, of 16 a tenth of which is 1.33: 132 hours, and
	// the one in which the limit is passed does not count.
	if h := chill.Holds(0); h != 64 {
		t.Errorf("got %d cold hours, want 64", h)
	}
	if got := chill.At[71].Low; got > 0 {
		t.Errorf("while there may be ice: got at least %v, want 0 °C to be possible", got)
	}
	// Half the leak, twice the time; twice the ice too.
	c.Leak = keeping.Exactly(leak / 2)
	if chill, _ = c.Run(steadily(200, 25)); chill.Holds(0) != 129 {
		t.Errorf("with half the leak: got %d cold hours, want 129", chill.Holds(0))
	}
	c.Leak, c.Ice[24] = keeping.Exactly(leak), 8
	if chill, _ = c.Run(steadily(200, 25)); chill.Holds(0) != 131 {
		t.Errorf("with 8 kg more on the second day: got %d cold hours, want 131", chill.Holds(0))
	}
	c.Fails = 30
	if chill, _ = c.Run(steadily(200, 25)); chill.Holds(0) > 30 || chill.Holds(0) < 29 {
		t.Errorf("ice gone after 30 hours: got %d cold hours, want 29 or 30", chill.Holds(0))
	}
	if chill.At[120].High < 24 {
		t.Errorf("days later: got %v", chill.At[120])
	}
	if chill.At[40].High <= keeping.Cold {
		t.Errorf("ten hours later: got %v", chill.At[40])
	}
}

// A cooler with any leak within its range, any ice between 0 and -18 °C, any
// number of openings as stated, in any air within its hours, stays within its
// bounds: against steps of a minute.
func TestCoolerAgainstSmallSteps(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	draw := func(a keeping.Range) float64 { return a.Low + r.Float64()*(a.High-a.Low) }
	melted := 0
	for n := range 300 {
		leak, err := keeping.Leak(5+r.IntN(80), keeping.Wall(n%3))
		if err != nil {
			t.Fatal(err)
		}
		c := &keeping.Cooler{Leak: leak, Contents: keeping.Range{Low: 1, High: 1 + r.Float64()*20}, Ice: map[int]float64{0: 1 + r.Float64()*15}, Fails: -1}
		air := make([]keeping.Range, 96)
		for i := range air {
			air[i].Low = 8 + r.Float64()*25
			air[i].High = air[i].Low + r.Float64()*8
		}
		chill, err := c.Run(air)
		if err != nil {
			t.Fatal(err)
		}
		ua, contents := draw(leak), draw(c.Contents)
		cold := c.Ice[0] * draw(keeping.Range{Low: 333.55, High: 333.55 + 18*2.1})
		temp := draw(keeping.Range{Low: 0, High: 4})
		inside := temp
		for h, a := range air {
			out := draw(a)
			for range 60 {
				if cold > 0 {
					cold -= ua * (out - inside) * 0.06
					temp = inside
				} else {
					temp = out + (temp-out)*math.Exp(-ua*0.06/(contents*4.186))
				}
			}
			if got := max(0, cold) / 333.55; got < chill.Ice[h+1].Low-1e-6 || got > chill.Ice[h+1].High*(333.55+18*2.1)/333.55+1e-6 {
				t.Fatalf("hour %d: got %v kg, want it within %v", h+1, got, chill.Ice[h+1])
			}
			if temp < chill.At[h+1].Low-0.05 || temp > chill.At[h+1].High+0.05 {
				t.Fatalf("hour %d: got %v °C, want it within %v (ice %v)", h+1, temp, chill.At[h+1], chill.Ice[h+1])
			}
		}
		if cold <= 0 {
			melted++
		}
	}
	if melted < 50 || melted > 290 {
		t.Errorf("got %d of 300 coolers without ice, want 50 to 290", melted)
	}
}

// More ice, thicker walls, cooler air and fewer openings never make a cooler hold
// for a shorter time; electricity holds until it fails.
func TestCoolerIsMonotone(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	for range 300 {
		liters, wall := 10+r.IntN(60), keeping.Wall(r.IntN(2))
		leak, _ := keeping.Leak(liters, wall)
		thicker, _ := keeping.Leak(liters, wall+1)
		if thicker.Low > leak.Low || thicker.High > leak.High {
			t.Fatalf("thicker walls: got the leaks %v and then %v, want a smaller one", leak, thicker)
		}
		c := keeping.Cooler{Leak: leak, Liters: liters, Openings: r.IntN(30), Contents: keeping.Range{Low: 1, High: 8}, Daily: r.Float64(), Ice: map[int]float64{0: r.Float64() * 20}, Fails: -1}
		air := steadily(120, 5+r.Float64()*30)
		hold := func(c keeping.Cooler, air []keeping.Range) int {
			ch, err := c.Run(air)
			if err != nil {
				t.Fatal(err)
			}
			for h := range ch.At {
				if ch.At[h].Low > ch.At[h].High || ch.Ice[h].Low > ch.Ice[h].High {
					t.Fatalf("hour %d: got %v, %v, want the low end of each below the high one", h, ch.At[h], ch.Ice[h])
				}
			}
			return ch.Holds(0)
		}
		base := hold(c, air)
		better := c
		better.Leak = thicker
		more := c
		more.Ice = map[int]float64{0: c.Ice[0] * 1.5}
		closed := c
		closed.Openings = 0
		hotter := steadily(120, air[0].Low+8)
		if hold(better, air) < base || hold(more, air) < base || hold(closed, air) < base || hold(c, hotter) > base {
			t.Fatalf("%+v holds %d hours; walls %d, ice %d, closed %d, hotter %d", c, base, hold(better, air), hold(more, air), hold(closed, air), hold(c, hotter))
		}
		// Ice that does not fit is as good as none: put in at the beginning or later.
		tight, little := c, c
		tight.Fits, tight.Ice = 3, map[int]float64{0: 3 + r.Float64()*20, 30: 20}
		little.Fits, little.Ice = 3, map[int]float64{0: 3, 30: 3}
		if a, b := hold(tight, air), hold(little, air); a != b {
			t.Fatalf("%+v: got %d cold hours, want the %d of as much ice as fits", tight, a, b)
		}
		if ch, err := tight.Run(air); err != nil || slices.ContainsFunc(ch.Ice, func(kg keeping.Range) bool { return kg.High > tight.Fits+1e-9 }) {
			t.Fatalf("%+v: got the error %v, or more ice than fits: %v", tight, err, ch.Ice)
		}
		c.Electric, c.Fails = true, 50
		if h := hold(c, air); h != 50 {
			t.Fatalf("an electric cooler that fails after 50 hours: got %d cold hours, want 50", h)
		}
	}
}

// Input that makes no sense is rejected by name.
func TestBadCoolers(t *testing.T) {
	good := keeping.Cooler{Leak: keeping.Exactly(1), Contents: keeping.Exactly(1), Fails: -1}
	for name, spoil := range map[string]func(*keeping.Cooler){
		"leak":     func(c *keeping.Cooler) { c.Leak = keeping.Range{} },
		"order":    func(c *keeping.Cooler) { c.Leak = keeping.Range{Low: 2, High: 1} },
		"contents": func(c *keeping.Cooler) { c.Contents.Low = -1 },
		"ice":      func(c *keeping.Cooler) { c.Ice = map[int]float64{3: math.NaN()} },
		"daily":    func(c *keeping.Cooler) { c.Daily = -1 },
	} {
		c := good
		spoil(&c)
		if _, err := c.Run(steadily(3, 20)); err == nil {
			t.Errorf("%s: got no error, want one", name)
		}
	}
	if _, err := good.Run([]keeping.Range{{Low: 3, High: 2}}); err == nil {
		t.Error("a reversed range of air: got no error, want one")
	}
	for _, c := range [][3]float64{{0, 3, 25}, {8, 0.5, 25}, {8, 3, 3}, {8, 31, 25}, {201, 3, 25}, {8, 3, 61}, {math.NaN(), 3, 25}} {
		if r, err := keeping.Calibrate(c[0], c[1], c[2]); err == nil {
			t.Errorf("calibrated by %v: got %v, want an error", c, r)
		}
	}
	for _, c := range [][3]float64{{0.1, 1, 3.1}, {200, 30, 60}} {
		if r, err := keeping.Calibrate(c[0], c[1], c[2]); err != nil || r.Low <= 0 || r.Low > r.High {
			t.Errorf("calibrated by %v: got %v, %v, want a range", c, r, err)
		}
	}
	for _, l := range []int{2, 301} {
		if _, err := keeping.Leak(l, keeping.HardWall); err == nil {
			t.Errorf("%d liters: got no error, want one", l)
		}
	}
	if _, err := keeping.Leak(30, 3); err == nil {
		t.Error("an unknown wall: got no error, want one")
	}
}
