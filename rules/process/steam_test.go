package process_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"larderlamp/rules/process"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s: got %.10g, want %.10g", what, got, want)
	}
}

// must takes the value of a call that has to succeed.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// TestVerificationValues holds the six values of IAPWS R7-97(2012), tables 35
// and 36, to all printed digits.
func TestVerificationValues(t *testing.T) {
	for _, c := range []struct {
		kelvin process.Kelvin
		mpa    float64
	}{{300, 0.353658941e-2}, {500, 0.263889776e1}, {600, 0.123443146e2}} {
		p := must(process.SaturationPressure(c.kelvin))
		near(t, "pressure at a temperature", float64(p)/1e6/c.mpa, 1, 2e-9)
	}
	for _, c := range []struct {
		mpa    float64
		kelvin float64
	}{{0.1, 372.755919}, {1, 453.035632}, {10, 584.149488}} {
		near(t, "temperature at a pressure", float64(must(process.SaturationTemperature(process.Pascals(c.mpa*1e6)))), c.kelvin, 5e-7)
	}
	near(t, "boiling point at 101325 Pa", float64(must(process.SaturationTemperature(101325)).Celsius()), 99.9743, 5e-5)
}

// TestCoefficientsAsText compares the coefficients as they are written: a
// misprint of the fifth that is in circulation (…323333e7) still gives the six
// verification values.
func TestCoefficientsAsText(t *testing.T) {
	want := []string{"0.11670521452767e4", "-0.72421316703206e6", "-0.17073846940092e2", "0.12020824702470e5", "-0.32325550322333e7",
		"0.14915108613530e2", "-0.48232657361591e4", "0.40511340542057e6", "-0.23855557567849", "0.65017534844798e3"}
	file, err := parser.ParseFile(token.NewFileSet(), "steam.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	ast.Inspect(file, func(node ast.Node) bool {
		spec, ok := node.(*ast.ValueSpec)
		if !ok || spec.Names[0].Name != "n" {
			return true
		}
		for _, e := range spec.Values[0].(*ast.CompositeLit).Elts {
			sign := ""
			if u, ok := e.(*ast.UnaryExpr); ok {
				sign, e = u.Op.String(), u.X
			}
			got = append(got, sign+e.(*ast.BasicLit).Value)
		}
		return false
	})
	if !slices.Equal(got, want) {
		t.Errorf("coefficients\n got %v\nwant %v", got, want)
	}
}

// TestRoundTrip goes from temperature to pressure and back over the whole
// range: the two equations invert each other. They share their coefficients,
// so this proves the formulas; the digits are proved as text above. (At
// 273.15 K the pressure rounds below the published lower limit.)
func TestRoundTrip(t *testing.T) {
	for k := process.Kelvin(273.2); k <= 647; k += 0.1 {
		back := must(process.SaturationTemperature(must(process.SaturationPressure(k))))
		near(t, "there and back", float64(back), float64(k), 1e-9)
	}
	near(t, "lower end", float64(must(process.SaturationTemperature(611.213))), 273.15, 1e-4)
	near(t, "upper end", float64(must(process.SaturationTemperature(22.064e6))), 647.096, 1e-4)
}

func TestStandardAtmosphere(t *testing.T) {
	for _, c := range []struct{ meters, pascals, tolerance float64 }{
		{0, 101325, 0}, {500, 95460.8, 0.05}, {1000, 89874.6, 0.05}, {1500, 84556, 0.5},
		{2000, 79495.2, 0.05}, {2500, 74682.5, 0.05}, {3000, 70108.5, 0.05}, // the last two from memory
	} {
		near(t, "standard atmosphere", float64(must(process.StandardPressure(c.meters))), c.pascals, c.tolerance)
	}
}

// TestBoilingPoints compares with the boiling points behind the published
// jelly points (8 °F less) from sea level up to 8,000 ft, which are whole
// degrees read from weather as it is, and with the computed ones.
func TestBoilingPoints(t *testing.T) {
	jelly := []float64{220, 218, 216, 214, 212, 211, 209, 207, 205}
	computed := []float64{211.95, 210.13, 208.31, 206.48, 204.65, 202.83, 201.00, 199.16, 197.33, 195.50, 193.66}
	celsius := []float64{99.97, 98.96, 97.95, 96.93, 95.92, 94.90, 93.89, 92.87, 91.85, 90.83, 89.81}
	for i, want := range computed {
		at := process.Feet(i * 1000)
		c := must(process.BoilingPoint(at))
		near(t, "boiling point, computed", c.Fahrenheit(), want, 0.0055)
		near(t, "boiling point, computed", float64(c), celsius[i], 0.0055)
		if i < len(jelly) {
			near(t, "boiling point, from the jelly point", c.Fahrenheit(), jelly[i]-8, 0.66)
		}
	}
}

// grid is the temperature in °F for gauge pressures from 5 to 15 psi, at 0 to
// 10,000 ft, computed apart from this program.
const grid = `
0  227.10 229.74 232.28 234.72 237.08 239.36 241.56 243.69 245.76 247.77 249.72
1000  225.68 228.38 230.97 233.46 235.86 238.18 240.41 242.58 244.68 246.72 248.70
2000  224.26 227.02 229.66 232.20 234.65 237.01 239.29 241.49 243.62 245.69 247.70
3000  222.86 225.67 228.37 230.96 233.45 235.85 238.17 240.41 242.58 244.68 246.72
4000  221.46 224.34 227.09 229.74 232.27 234.72 237.07 239.35 241.55 243.68 245.75
5000  220.08 223.02 225.83 228.52 231.11 233.59 235.99 238.30 240.54 242.70 244.80
6000  218.71 221.71 224.58 227.32 229.95 232.48 234.92 237.27 239.54 241.73 243.86
7000  217.35 220.42 223.34 226.14 228.82 231.39 233.86 236.25 238.55 240.78 242.94
8000  216.00 219.14 222.12 224.97 227.69 230.31 232.83 235.25 237.59 239.85 242.03
9000  214.67 217.87 220.91 223.81 226.59 229.25 231.80 234.26 236.64 238.93 241.14
10000 213.35 216.61 219.72 222.67 225.50 228.20 230.80 233.30 235.70 238.02 240.27`

func TestCannerGrid(t *testing.T) {
	lines := strings.Split(strings.TrimSpace(grid), "\n")
	if len(lines) != 11 {
		t.Fatalf("got %d lines, want 11", len(lines))
	}
	for _, line := range lines {
		f := strings.Fields(line)
		at := must(strconv.Atoi(f[0]))
		if len(f) != 12 {
			t.Fatalf("%d ft: got %d columns, want 12", at, len(f))
		}
		for i, cell := range f[1:] {
			c := must(process.CannerTemperature(float64(5+i), process.Feet(at), 1))
			near(t, f[0]+" ft", c.Fahrenheit(), must(strconv.ParseFloat(cell, 64)), 0.0055)
		}
	}
}

// TestPublishedPressuresHold240 checks the pressures of the tables against the
// 240 °F they stand for. At the very top of its band each falls a little
// short: within 1 °F for a dial, 2 °F for a weight. The table applies anyway.
func TestPublishedPressuresHold240(t *testing.T) {
	carrots := func(g process.Gauge, at process.Feet) float64 {
		lines := must(process.Lines(process.Query{Product: "carrots", Pack: process.Raw, Jar: process.Pint,
			Method: process.Pressure, Gauge: g, Altitude: at}))
		return must(process.CannerTemperature(float64(lines[0].PSI), at, 1)).Fahrenheit()
	}
	for _, c := range []struct {
		gauge           process.Gauge
		bottom, top     process.Feet
		atBottom, atTop float64 // computed
		below           float64 // how far under 240 °F the top may be
	}{
		{process.Dial, 0, 2000, 241.56, 239.29, 1},
		{process.Dial, 2001, 4000, 241.49, 239.35, 1},
		{process.Dial, 4001, 6000, 241.55, 239.54, 1},
		{process.Dial, 6001, 8000, 241.73, 239.85, 1},
		{process.Weighted, 0, 1000, 239.36, 238.18, 2},
		{process.Weighted, 1001, 8000, 248.70, 242.03, 0},
	} {
		near(t, "bottom of the band", carrots(c.gauge, c.bottom), c.atBottom, 0.0065)
		top := carrots(c.gauge, c.top)
		near(t, "top of the band", top, c.atTop, 0.0055)
		if top < 240-c.below {
			t.Errorf("at %d ft: got %.2f °F, want no more than %g below 240", c.top, top, c.below)
		}
	}
	// Lethal rate at the top of each dial band and of the lower weighted band.
	for _, c := range []struct {
		psi  float64
		at   process.Feet
		rate float64
	}{{11, 2000, 0.2546}, {12, 4000, 0.2567}, {13, 6000, 0.2629}, {14, 8000, 0.2736}, {10, 1000, 0.2209}} {
		near(t, "lethal rate", must(process.LethalRate(must(process.CannerTemperature(c.psi, c.at, 1)))), c.rate, 0.0001)
	}
	// Gauge pressures that hold exactly 240 °F at 0, 1,000, … 10,000 ft.
	for i, psi := range []float64{10.289, 10.812, 11.320, 11.814, 12.293, 12.757, 13.208, 13.645, 14.069, 14.480, 14.878} {
		near(t, "240 °F", must(process.CannerTemperature(psi, process.Feet(i*1000), 1)).Fahrenheit(), 240, 0.0015)
	}
}

// TestPublishedCorrespondences holds the round figures in print: 5, 10 and 15
// pounds at sea level are about 227, 240 and 250 °F.
func TestPublishedCorrespondences(t *testing.T) {
	for psi, fahrenheit := range map[float64]float64{5: 227, 10: 240, 15: 250} {
		near(t, "correspondence", must(process.CannerTemperature(psi, 0, 1)).Fahrenheit(), fahrenheit, 1)
	}
}

func TestTrappedAir(t *testing.T) {
	for _, c := range []struct{ steam, fahrenheit, rate float64 }{
		{1, 241.56, 0.3405}, {0.98, 240.4, 0.295}, {0.95, 238.7, 0.237}, {0.90, 235.8, 0.162}, {0.80, 229.4, 0.072},
	} {
		c2 := must(process.CannerTemperature(11, 0, c.steam))
		near(t, "trapped air", c2.Fahrenheit(), c.fahrenheit, 0.055)
		near(t, "trapped air", must(process.LethalRate(c2)), c.rate, 0.00055)
	}
	// A gauge that reads high: what is left of the lethal rate at 11 psi, sea level.
	sound := must(process.LethalRate(must(process.CannerTemperature(11, 0, 1))))
	for off, left := range map[float64]float64{1: 0.755, 2: 0.564} {
		near(t, "gauge reads high", must(process.LethalRate(must(process.CannerTemperature(11-off, 0, 1))))/sound, left, 0.0006)
	}
}

func TestLethality(t *testing.T) {
	for c, want := range map[process.Celsius]float64{100: 0.007762, 104.4: 0.021380, 110: 0.077625, 115: 0.245471,
		115.56: 0.279254, 116: 0.309030, 118: 0.489779, 120: 0.776247, 121.1: 1, 125: 2.454709} {
		near(t, "lethal rate", must(process.LethalRate(c)), want, 6e-7)
	}
	// A dairy text prints 0.077 for 110 °C, with a reference of 121.11 °C.
	near(t, "lethal rate in print", must(process.LethalRate(110)), 0.077, 0.0007)
	for c, minutes := range map[process.Celsius]float64{100: 324.64, 110: 32.46, 115.56: 9.02, 116: 8.15, 121.1: 2.52} {
		near(t, "minutes for a botulinum cook", process.BotulinumCook/must(process.LethalRate(c)), minutes, 0.006)
		near(t, "botulinum cook", must(process.HoldF0(c, minutes)), process.BotulinumCook, 0.002)
	}
}

func TestOutsideTheRange(t *testing.T) {
	nan := math.NaN()
	for what, err := range map[string]error{
		"height too low":        second(process.StandardPressure(-2000.1)),
		"height too great":      second(process.StandardPressure(11000.1)),
		"height not a number":   second(process.StandardPressure(nan)),
		"temperature too low":   second(process.SaturationPressure(273.14)),
		"temperature too high":  second(process.SaturationPressure(647.1)),
		"pressure too low":      second(process.SaturationTemperature(611)),
		"pressure too high":     second(process.SaturationTemperature(22.065e6)),
		"gauge below zero":      second(process.CannerTemperature(-0.1, 0, 1)),
		"gauge above 30":        second(process.CannerTemperature(30.1, 0, 1)),
		"no steam":              second(process.CannerTemperature(10, 0, 0)),
		"more than all steam":   second(process.CannerTemperature(10, 0, 1.01)),
		"too little steam":      second(process.CannerTemperature(0, 0, 0.001)),
		"altitude too great":    second(process.BoilingPoint(40000)),
		"lethal rate below 0":   second(process.LethalRate(-0.1)),
		"lethal rate above 140": second(process.LethalRate(140.1)),
		"hold below no time":    second(process.HoldF0(116, -1)),
		"hold too hot":          second(process.HoldF0(150, 1)),
	} {
		if err == nil {
			t.Errorf("%s: got no error, want one", what)
		}
	}
	for what, err := range map[string]error{
		"lowest height": second(process.StandardPressure(-2000)), "greatest height": second(process.StandardPressure(11000)),
		"freezing": second(process.SaturationPressure(273.15)), "critical": second(process.SaturationPressure(647.096)),
		"140 °C": second(process.LethalRate(140)), "0 °C": second(process.LethalRate(0)),
		"the Dead Sea": second(process.BoilingPoint(-1412)),
	} {
		if err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
}

// second drops the value of a call.
func second[T any](_ T, err error) error { return err }

func TestFeetFromMeters(t *testing.T) {
	// 304 m are 997.4 ft, 305 m are 1,000.66 ft; 3,048 m are 10,000 ft exactly.
	for meters, feet := range map[int]process.Feet{0: 0, 1: 4, 304: 998, 305: 1001, 609: 1999, 610: 2002, 3048: 10000, 3049: 10004, -3048: -10000, -430: -1410} {
		if got := process.FeetFromMeters(meters); got != feet {
			t.Errorf("%d m: got %d ft, want %d", meters, got, feet)
		}
	}
	for m := -500; m < 5000; m++ {
		exact := float64(m) / 0.3048
		if f := float64(process.FeetFromMeters(m)); f < exact-1e-9 || f >= exact+1 {
			t.Fatalf("%d m: got %g ft, want %g rounded up", m, f, exact)
		}
	}
}

func TestBoilMinutes(t *testing.T) {
	for at, want := range map[process.Feet]int{-1412: 10, 0: 10, 999: 10, 1000: 11, 1001: 11, 1999: 11, 2000: 12, 2001: 12, 4999: 14, 5000: 15, 5001: 15, 8000: 18} {
		if got := process.BoilMinutes(at); got != want {
			t.Errorf("%d ft: got %d minutes, want %d", at, got, want)
		}
	}
	// Never less than the reading that rounds a part of a thousand up.
	for at := process.Feet(-2000); at < 20000; at++ {
		lenient := 10
		for step := process.Feet(1000); step < at; step += 1000 {
			lenient++
		}
		if got := process.BoilMinutes(at); got < lenient || got > lenient+1 || got < process.BoilMinutes(at-1) {
			t.Fatalf("%d ft: got %d minutes, want at least the %d of the other reading, and at most one more", at, got, lenient)
		}
	}
}

func BenchmarkSaturationTemperature(b *testing.B) {
	for b.Loop() {
		process.SaturationTemperature(177168)
	}
}
