package tally_test

import (
	"math"
	"math/big"
	"math/rand/v2"
	"reflect"
	"testing"

	"gonum.org/v1/gonum/stat/combin"
	"gonum.org/v1/gonum/stat/distuv"

	"larderlamp/rules/prose"
	"larderlamp/rules/tally"
)

func near(a, b, within float64) bool { return math.Abs(a-b) <= within }

// R. G. Newcombe, Two-sided confidence intervals for the single proportion,
// Statistics in Medicine 17 (1998), the four data sets, 95 %, score method
// without continuity correction (figures from memory, and recomputed).
func TestWilsonNewcombe(t *testing.T) {
	for _, c := range []struct {
		failures, n int
		low, high   float64
	}{{81, 263, 0.2553, 0.3662}, {15, 148, 0.0624, 0.1605}, {0, 20, 0, 0.1611}, {1, 29, 0.0061, 0.1718}, {0, 10, 0, 0.2775}, {10, 10, 0.7225, 1}, {5, 10, 0.2366, 0.7634}} {
		i, err := tally.Wilson(c.failures, c.n, 0.95)
		if err != nil || !near(i.Low, c.low, 6e-5) || !near(i.High, c.high, 6e-5) {
			t.Errorf("%d of %d: got %v, %v; want %v to %v", c.failures, c.n, i, err, c.low, c.high)
		}
	}
}

// The ends of the interval are where the score test just rejects: the equation
// that defines it, over every share of up to 60.
func TestWilsonSolvesItsEquation(t *testing.T) {
	z := distuv.UnitNormal.Quantile(0.975)
	for n := 1; n <= 60; n++ {
		for k := range n + 1 {
			i, err := tally.Wilson(k, n, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			p := float64(k) / float64(n)
			for _, end := range []float64{i.Low, i.High} {
				if end == 0 || end == 1 {
					continue
				}
				if s := math.Abs(p-end) / math.Sqrt(end*(1-end)/float64(n)); !near(s, z, 1e-9) {
					t.Fatalf("%d of %d: the score at %v: got %v", k, n, end, s)
				}
			}
			if !(i.Low <= p && p <= i.High) || i.Low < 0 || i.High > 1 {
				t.Fatalf("%d of %d: got %v, want it to contain the share", k, n, i)
			}
			if wider, _ := tally.Wilson(k, n, 0.99); wider.Low > i.Low || wider.High < i.High {
				t.Fatalf("%d of %d: got a narrower interval with more confidence", k, n)
			}
		}
	}
}

// L. D. Brown, T. T. Cai and A. DasGupta, Interval estimation for a binomial
// proportion, Statistical Science 16 (2001): the coverage of the simple interval
// is as low as printed there (from memory); that of this one is not. Both by
// adding up the whole distribution.
func TestCoverage(t *testing.T) {
	coverage := func(p float64, n int, interval func(k int) tally.Interval) float64 {
		sum := 0.0
		b := distuv.Binomial{N: float64(n), P: p}
		for k := range n + 1 {
			if i := interval(k); i.Low <= p && p <= i.High {
				sum += b.Prob(float64(k))
			}
		}
		return sum
	}
	for _, c := range []struct {
		p      float64
		n      int
		simple float64
	}{{0.5, 17, 0.951}, {0.5, 18, 0.904}, {0.5, 40, 0.919}, {0.2, 30, 0.946}, {0.2, 98, 0.928}, {0.005, 591, 0.945}, {0.005, 592, 0.792}} {
		simple := coverage(c.p, c.n, func(k int) tally.Interval {
			q := float64(k) / float64(c.n)
			half := 1.959963985 * math.Sqrt(q*(1-q)/float64(c.n))
			return tally.Interval{Low: q - half, High: q + half}
		})
		if !near(simple, c.simple, 6e-4) {
			t.Errorf("p %v, n %d: the simple interval: got the coverage %v, want the printed %v", c.p, c.n, simple, c.simple)
		}
		ours := coverage(c.p, c.n, func(k int) tally.Interval {
			i, err := tally.Wilson(k, c.n, 0.95)
			if err != nil {
				t.Fatal(err)
			}
			return i
		})
		if ours < 0.90 {
			t.Errorf("p %v, n %d: got the coverage %v, want at least 0.90", c.p, c.n, ours)
		}
	}
}

// Published tables. Fisher, The Design of Experiments (1935): the lady tasting
// tea, 3 of 4 right, 17/70, and all right, 1/70. The twins of the same author as
// printed with R's fisher.test: 2, 15; 10, 3. Two more from common textbook
// tables (recomputed).
func TestFisherPublished(t *testing.T) {
	for _, c := range []struct {
		a, b, c, d              int
		greater, less, twoSided float64
	}{
		{3, 1, 1, 3, 17.0 / 70, 69.0 / 70, 34.0 / 70},
		{4, 0, 0, 4, 1.0 / 70, 1, 2.0 / 70},
		{2, 15, 10, 3, math.NaN(), 0.00046518, 0.00053672},
		{1, 9, 11, 3, math.NaN(), math.NaN(), 0.00275946},
		{8, 2, 1, 5, math.NaN(), math.NaN(), 0.03496503},
	} {
		e, err := tally.Fisher(c.a, c.b, c.c, c.d)
		if err != nil {
			t.Fatal(err)
		}
		for name, v := range map[string][2]float64{"greater": {e.Greater, c.greater}, "less": {e.Less, c.less}, "two-sided": {e.TwoSided, c.twoSided}} {
			if !math.IsNaN(v[1]) && !near(v[0], v[1], 6e-9) {
				t.Errorf("%d, %d; %d, %d: %s: got %.9f, want %.9f", c.a, c.b, c.c, c.d, name, v[0], v[1])
			}
		}
	}
}

// Every table of up to 22 jars, against fractions without any rounding.
func TestFisherAgainstFractions(t *testing.T) {
	for n := 1; n <= 22; n++ {
		for a := 0; a <= n; a++ {
			for b := 0; a+b <= n; b++ {
				for c := 0; a+b+c <= n; c++ {
					d := n - a - b - c
					got, err := tally.Fisher(a, b, c, d)
					if err != nil {
						t.Fatal(err)
					}
					row, column := a+b, a+c
					prob := func(k int) *big.Int {
						return new(big.Int).Mul(new(big.Int).Binomial(int64(column), int64(k)), new(big.Int).Binomial(int64(n-column), int64(row-k)))
					}
					here := prob(a)
					var two, less, greater, all big.Int
					for k := max(0, row+column-n); k <= min(row, column); k++ {
						p := prob(k)
						all.Add(&all, p)
						if p.Cmp(here) <= 0 {
							two.Add(&two, p)
						}
						if k <= a {
							less.Add(&less, p)
						}
						if k >= a {
							greater.Add(&greater, p)
						}
					}
					for _, v := range []struct {
						got  float64
						want *big.Int
					}{{got.TwoSided, &two}, {got.Less, &less}, {got.Greater, &greater}} {
						want, _ := new(big.Rat).SetFrac(v.want, &all).Float64()
						if !near(v.got, want, 1e-10) {
							t.Fatalf("%d, %d; %d, %d: got %v, want %v", a, b, c, d, v.got, want)
						}
					}
				}
			}
		}
	}
}

// Large random tables against an independent library, and the symmetries that
// the test has.
func TestFisherAgainstAnotherLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 400 {
		a, b, c, d := r.IntN(60), r.IntN(900), r.IntN(60), r.IntN(900)
		if a+b+c+d == 0 {
			continue
		}
		e, err := tally.Fisher(a, b, c, d)
		if err != nil {
			t.Fatal(err)
		}
		row, column, n := a+b, a+c, a+b+c+d
		log := func(n, k int) float64 { return combin.LogGeneralizedBinomial(float64(n), float64(k)) }
		greater := 0.0
		for k := a; k <= min(row, column); k++ {
			greater += math.Exp(log(column, k) + log(n-column, row-k) - log(n, row))
		}
		if !near(e.Greater, min(1, greater), 1e-9) {
			t.Fatalf("%d, %d; %d, %d: got %v, want %v", a, b, c, d, e.Greater, greater)
		}
		turned, _ := tally.Fisher(c, d, a, b)
		across, _ := tally.Fisher(a, c, b, d)
		if !near(turned.TwoSided, e.TwoSided, 1e-9) || !near(turned.Less, e.Greater, 1e-9) || !near(across.TwoSided, e.TwoSided, 1e-9) {
			t.Fatalf("%d, %d; %d, %d: not symmetric", a, b, c, d)
		}
	}
}

// S. Holm (1979): the smallest times the number of tests, the next times one
// less, and so on, never falling, never above one.
func TestHolm(t *testing.T) {
	got := tally.Holm([]float64{0.01, 0.04, 0.03, 0.005})
	want := []float64{0.03, 0.06, 0.06, 0.02}
	for i := range want {
		if !near(got[i], want[i], 1e-12) {
			t.Errorf("got %v, want %v", got, want)
		}
	}
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		p := make([]float64, r.IntN(12))
		for i := range p {
			p[i] = r.Float64() * r.Float64()
		}
		adjusted := tally.Holm(p)
		for i := range p {
			if adjusted[i] < p[i] || adjusted[i] > 1 {
				t.Fatalf("%v: got the adjusted %v", p, adjusted)
			}
			for j := range p {
				if p[i] < p[j] && adjusted[i] > adjusted[j] {
					t.Fatalf("%v: got %v, want the same order", p, adjusted)
				}
			}
		}
	}
}

// E. J. Freireich et al., The effect of 6-mercaptopurine on the duration of
// steroid-induced remissions in acute leukemia, Blood 21 (1963), as printed with
// its Kaplan-Meier estimates in textbooks (from memory).
func TestSurvivalFreireich(t *testing.T) {
	var lives []tally.Life
	for _, m := range []int{6, 6, 6, 7, 10, 13, 16, 22, 23} {
		lives = append(lives, tally.Life{Months: m, Failed: true})
	}
	for _, m := range []int{6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35} {
		lives = append(lives, tally.Life{Months: m})
	}
	steps, err := tally.Survival(lives, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	want := []struct {
		month, atRisk, failures int
		share, err              float64
	}{{6, 21, 3, 0.857, 0.0764}, {7, 17, 1, 0.807, 0.0869}, {10, 15, 1, 0.753, 0.0963}, {13, 12, 1, 0.690, 0.1068}, {16, 11, 1, 0.627, 0.1141}, {22, 7, 1, 0.538, 0.1282}, {23, 6, 1, 0.448, 0.1346}}
	if len(steps) != len(want) {
		t.Fatalf("got %d steps", len(steps))
	}
	for i, w := range want {
		s := steps[i]
		if s.Month != w.month || s.AtRisk != w.atRisk || s.Failures != w.failures || !near(s.Share, w.share, 5.1e-4) || !near(s.Error, w.err, 5.1e-5) {
			t.Errorf("got %+v, want %+v", s, w)
		}
		if !(0 <= s.Bounds.Low && s.Bounds.Low < s.Share && s.Share < s.Bounds.High && s.Bounds.High <= 1) {
			t.Errorf("%+v: the bounds do not contain the share", s)
		}
	}
	// The placebo arm has no censoring: the curve is the plain share.
	lives = nil
	placebo := []int{1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23}
	for _, m := range placebo {
		lives = append(lives, tally.Life{Months: m, Failed: true})
	}
	steps, err = tally.Survival(lives, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range steps {
		left := 0
		for _, m := range placebo {
			if m > s.Month {
				left++
			}
		}
		if !near(s.Share, float64(left)/21, 1e-12) {
			t.Errorf("month %d: got %v, want %d of 21", s.Month, s.Share, left)
		}
	}
}

// Curves never rise, the order does not matter, and what is censored after the
// last failure changes no share.
func TestSurvivalProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	for range 300 {
		var lives []tally.Life
		for range 1 + r.IntN(40) {
			lives = append(lives, tally.Life{Months: r.IntN(30), Failed: r.IntN(3) == 0})
		}
		steps, err := tally.Survival(lives, 0.9)
		if err != nil {
			t.Fatal(err)
		}
		last := 1.0
		for _, s := range steps {
			if s.Share > last || s.Share < 0 || s.Failures < 1 || s.AtRisk < s.Failures || math.IsNaN(s.Error) {
				t.Fatalf("got %+v, want shares that only fall, each by a failure", steps)
			}
			last = s.Share
		}
		r.Shuffle(len(lives), func(i, j int) { lives[i], lives[j] = lives[j], lives[i] })
		if again, _ := tally.Survival(lives, 0.9); !reflect.DeepEqual(again, steps) {
			t.Fatal("got another curve for the same lives in another order")
		}
	}
}

func jars(lot string, n, failed int) (obs []tally.Observation) {
	for i := range n {
		o := tally.Observation{Failed: i < failed}
		o.Groups[tally.LidLot] = prose.Own(lot)
		obs = append(obs, o)
	}
	return
}

// A lot that fails more often is named only when chance does not explain it,
// after correction, and with the numbers behind it.
func TestFindings(t *testing.T) {
	obs := append(jars("A", 100, 1), append(jars("B", 100, 2), jars("C", 20, 9)...)...)
	found, err := tally.Findings(obs, 0.95, 0.05)
	if err != nil || len(found) != 3 {
		t.Fatalf("got %+v, %v, want three findings", found, err)
	}
	c := found[0]
	if c.Group.String() != "C" || !c.More || c.Jars != 20 || c.Failures != 9 || c.Others != 200 || c.OtherBad != 3 || c.Adjusted < c.P {
		t.Errorf("got %+v, want C with 9 of 20 against 3 of 200", c)
	}
	for _, f := range found[1:] {
		if f.More {
			t.Errorf("got %+v, want no more failures than chance explains", f)
		}
	}
	// One group alone has nothing to be compared with.
	if found, err := tally.Findings(jars("A", 10, 9), 0.95, 0.05); err != nil || len(found) != 1 || found[0].More || found[0].Adjusted != 1 {
		t.Errorf("got %+v, %v, want one finding that says nothing", found, err)
	}
	if found, err := tally.Findings(nil, 0.95, 0.05); err != nil || len(found) != 0 {
		t.Errorf("got %+v, %v, want none", found, err)
	}
}

// Where all groups are alike, "more than chance" is said of any of them at most
// as often as the level allows.
func TestFindingsKeepTheirLevel(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	wrong := 0
	const rounds = 1500
	for range rounds {
		var obs []tally.Observation
		for range 120 {
			var o tally.Observation
			for f := range tally.NumFactors {
				o.Groups[f] = prose.Own(string(rune('a' + r.IntN(5))))
			}
			o.Failed = r.IntN(12) == 0
			obs = append(obs, o)
		}
		found, err := tally.Findings(obs, 0.95, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range found {
			if f.More {
				wrong++
				break
			}
		}
	}
	// 0.05 of 1500 is 75; the exact test stays below. Three standard errors above
	// would be 100.
	if wrong > 100 {
		t.Errorf("got a group blamed for what chance explains in %d of %d rounds, want at most 100", wrong, rounds)
	}
}

func TestFaults(t *testing.T) {
	for name, err := range map[string]error{
		"more than all":  second(tally.Wilson(3, 2, 0.95)),
		"none":           second(tally.Wilson(0, 0, 0.95)),
		"confidence":     second(tally.Wilson(1, 2, 1)),
		"below zero":     second(tally.Fisher(-1, 2, 3, 4)),
		"an empty table": second(tally.Fisher(0, 0, 0, 0)),
		"a life":         second(tally.Survival([]tally.Life{{Months: -1}}, 0.95)),
		"confidence 0":   second(tally.Survival(nil, 0)),
		"a sweep":        second(tally.Compare(0, 0, 1, 2, 0.95)),
	} {
		if err == nil {
			t.Errorf("%s: got no error, want one", name)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// R. G. Newcombe (1998), method 10: 56 of 70 against 48 of 80 gives 0.0524 to
// 0.3339 (from memory).
func TestCompare(t *testing.T) {
	c, err := tally.Compare(48, 80, 56, 70, 0.95)
	if err != nil || !near(c.Difference, 0.2, 1e-12) || !near(c.Interval.Low, 0.0524, 6e-5) || !near(c.Interval.High, 0.3339, 6e-5) {
		t.Errorf("got %+v, %v, want 0.2 (0.0524 to 0.3339)", c, err)
	}
	back, _ := tally.Compare(56, 70, 48, 80, 0.95)
	if !near(back.Interval.Low, -c.Interval.High, 1e-12) || !near(back.P, c.P, 1e-12) {
		t.Errorf("got %+v and, the other way around, %+v", c, back)
	}
}

func BenchmarkFindings(b *testing.B) {
	r := rand.New(rand.NewPCG(9, 10))
	var obs []tally.Observation
	for range 10000 {
		var o tally.Observation
		for f := range tally.NumFactors {
			o.Groups[f] = prose.Own(string(rune('a' + r.IntN(20))))
		}
		o.Failed = r.IntN(40) == 0
		obs = append(obs, o)
	}
	for b.Loop() {
		if _, err := tally.Findings(obs, 0.95, 0.05); err != nil {
			b.Fatal(err)
		}
	}
}
