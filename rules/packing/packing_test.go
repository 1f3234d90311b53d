package packing_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"larderlamp/rules/packing"
)

// brute finds the best score by trying everything, meal by meal and jar by jar,
// in the order of time: written from the statement of the problem alone.
type brute struct {
	trip  *packing.Trip
	found bool
	best  packing.Score
	plans int
}

type leftover struct {
	portions, until int
}

func (b *brute) run() {
	s := packing.Score{}
	for _, j := range b.trip.Jars {
		if j.Must {
			s.Grams += j.Grams
			s.Space += j.Space
		}
	}
	b.meal(0, 0, map[int]leftover{}, s)
}

func (b *brute) meal(i int, gone uint64, open map[int]leftover, s packing.Score) {
	if s.Grams > b.trip.Grams || s.Space > b.trip.Space {
		return
	}
	if i == len(b.trip.Meals) {
		for _, o := range open {
			if o.portions > 0 && o.until < len(b.trip.Cold)-1 {
				return
			}
			s.Left += o.portions
		}
		b.plans++
		if !b.found || s.Compare(b.best) < 0 {
			b.found, b.best = true, s
		}
		return
	}
	m := b.trip.Meals[i]
	missed := s
	missed.Missed++
	b.meal(i+1, gone, open, missed)
	here := open[m.Kind]
	if here.portions > 0 && here.until < m.Day {
		return // it can no longer be eaten, and nothing may be left
	}
	with := func(o leftover) map[int]leftover {
		next := map[int]leftover{}
		for k, v := range open {
			next[k] = v
		}
		next[m.Kind] = o
		return next
	}
	// Every set of jars of the kind that are still closed and may be opened.
	var closed []int
	for j := range b.trip.Jars {
		if jar := &b.trip.Jars[j]; jar.Kind == m.Kind && gone&(1<<j) == 0 && jar.LastDay >= m.Day {
			closed = append(closed, j)
		}
	}
	for set := range 1 << len(closed) {
		table, now, next := here.portions, s, gone
		var opened []*packing.Candidate
		for n, j := range closed {
			if set&(1<<n) == 0 {
				continue
			}
			jar := &b.trip.Jars[j]
			opened = append(opened, jar)
			next |= 1 << j
			table += jar.Portions
			now.Opened++
			now.First += jar.First * jar.Portions
			now.Age += jar.Age * jar.Portions
			if jar.Must {
				now.Must++
			} else {
				now.Grams += jar.Grams
				now.Space += jar.Space
			}
		}
		for eaten := m.Portions; eaten <= m.Portions+m.Extra && eaten <= table; eaten++ {
			left := table - eaten
			switch {
			case left == 0:
				b.meal(i+1, next, with(leftover{}), now)
			case len(opened) == 0:
				b.meal(i+1, next, with(leftover{left, here.until}), now)
			case here.portions > eaten:
				// something was opened before the rest was eaten up
			default:
				until := -1
				for _, jar := range opened {
					if jar.Portions > left {
						until = max(until, min(m.Day+jar.Fridge-1, b.trip.Cold[m.Day]))
					}
				}
				if until >= m.Day {
					b.meal(i+1, next, with(leftover{left, until}), now)
				}
			}
		}
	}
}

// draw makes a trip, small enough to try everything.
func draw(r *rand.Rand, jars, meals, kinds int) *packing.Trip {
	t := &packing.Trip{Grams: packing.Unlimited, Space: packing.Unlimited}
	days := 1 + r.IntN(4)
	for d := range days {
		t.Cold = append(t.Cold, d-1+r.IntN(days+1))
	}
	at := make([]int, meals)
	for i := range at {
		at[i] = r.IntN(days)
	}
	slices.Sort(at)
	for _, d := range at {
		m := packing.Meal{Day: d, Kind: r.IntN(kinds), Portions: 1 + r.IntN(4)}
		m.Extra = r.IntN(min(m.Portions, 2) + 1)
		t.Meals = append(t.Meals, m)
	}
	sizes := [][3]int{{1, 200, 3}, {2, 420, 5}, {3, 500, 9}, {4, 800, 10}, {8, 1500, 19}}
	for range jars {
		s := sizes[r.IntN(len(sizes))]
		j := packing.Candidate{Kind: r.IntN(kinds), Portions: s[0], Grams: s[1], Space: s[2], LastDay: days, Fridge: r.IntN(4), Age: r.IntN(5), Must: r.IntN(8) == 0}
		if r.IntN(3) == 0 {
			j.LastDay = r.IntN(days+1) - 1
		}
		if r.IntN(2) == 0 {
			j.First = 1 + r.IntN(3)
		}
		if r.IntN(5) == 0 {
			j.Grams += r.IntN(100)
		}
		t.Jars = append(t.Jars, j)
	}
	if r.IntN(2) == 0 {
		t.Grams = r.IntN(4000)
	}
	if r.IntN(3) == 0 {
		t.Space = r.IntN(50)
	}
	return t
}

// Thousands of small trips: the plan has the score of the best of all plans, and
// is a plan.
func TestAgainstBruteForce(t *testing.T) {
	trips := 6000
	if testing.Short() {
		trips = 600
	}
	r := rand.New(rand.NewPCG(13, 14))
	plans, nothing, missed, kept, refused, bound := 0, 0, 0, 0, 0, 0
	for n := range trips {
		trip := draw(r, r.IntN(9), 1+r.IntN(5), 1+r.IntN(2))
		b := brute{trip: trip}
		b.run()
		plans += b.plans
		p, err := packing.Solve(trip)
		if err != nil {
			t.Fatalf("trip %d: %v", n, err)
		}
		if (p != nil) != b.found {
			t.Fatalf("trip %d: got the plan %v, want one to be found: %v\n%+v", n, p, b.found, trip)
		}
		if p == nil {
			refused++
			continue
		}
		if p.Score != b.best {
			t.Fatalf("trip %d: got the score %+v, want %+v as by brute force\n%+v\n%+v", n, p.Score, b.best, trip, p)
		}
		if err := valid(trip, p); err != nil {
			t.Fatalf("trip %d: %v\n%+v\n%+v", n, err, trip, p)
		}
		if len(p.Openings) == 0 {
			nothing++
		}
		if len(p.Missed) > 0 {
			missed++
		}
		for _, s := range p.Servings {
			if s.Left > 0 {
				kept++
				break
			}
		}
		free := *trip
		free.Grams, free.Space = packing.Unlimited, packing.Unlimited
		if q, _ := packing.Solve(&free); q.Score != p.Score {
			bound++
		}
	}
	t.Logf("%d trips, %d plans tried; %d with nothing, %d with a meal missed, %d with something kept cold, %d bound by weight or space, %d refused", trips, plans, nothing, missed, kept, bound, refused)
	for what, n := range map[string]int{"missed": missed, "kept": kept, "refused": refused, "bound": bound} {
		if n < trips/50 {
			t.Errorf("%s: got only %d of %d trips", what, n, trips)
		}
	}
}

// valid follows a plan through the trip, serving by serving.
func valid(t *packing.Trip, p *packing.Plan) error {
	s := packing.Score{}
	s.Grams, s.Space = t.Must()
	opened := map[int]int{}
	for _, o := range p.Openings {
		if _, twice := opened[o.Jar]; twice {
			return fmt.Errorf("jar %d is opened twice", o.Jar)
		}
		opened[o.Jar] = o.Meal
		j, m := t.Jars[o.Jar], t.Meals[o.Meal]
		if j.Kind != m.Kind || j.LastDay < m.Day {
			return fmt.Errorf("jar %d %+v is opened at meal %d %+v", o.Jar, j, o.Meal, m)
		}
		s.Opened++
		s.First += j.First * j.Portions
		s.Age += j.Age * j.Portions
		if j.Must {
			s.Must++
		} else {
			s.Grams, s.Space = s.Grams+j.Grams, s.Space+j.Space
		}
	}
	left := map[int]int{}
	eaten := make([]int, len(t.Meals))
	for _, v := range p.Servings {
		j, m := t.Jars[v.Jar], t.Meals[v.Meal]
		at, ok := opened[v.Jar]
		if !ok || at > v.Meal || j.Kind != m.Kind {
			return fmt.Errorf("jar %d is served at meal %d", v.Jar, v.Meal)
		}
		has := j.Portions
		if at != v.Meal {
			has = left[v.Jar]
			first := t.Meals[at].Day
			if m.Day > first+j.Fridge-1 || t.Cold[first] < m.Day {
				return fmt.Errorf("jar %d, opened on day %d, is eaten on day %d", v.Jar, first, m.Day)
			}
		}
		if v.Portions < 1 || has != v.Portions+v.Left {
			return fmt.Errorf("jar %d at meal %d: has %d portions, %d are eaten, %d left", v.Jar, v.Meal, has, v.Portions, v.Left)
		}
		left[v.Jar] = v.Left
		eaten[v.Meal] += v.Portions
	}
	of := map[int]bool{}
	for j, n := range left {
		s.Left += n
		day, last := t.Meals[opened[j]].Day, len(t.Cold)-1
		if n > 0 && (of[t.Jars[j].Kind] || t.Cold[day] < last || day+t.Jars[j].Fridge-1 < last) {
			return fmt.Errorf("%d portions of jar %d are left", n, j)
		}
		of[t.Jars[j].Kind] = of[t.Jars[j].Kind] || n > 0
	}
	for i, m := range t.Meals {
		if slices.Contains(p.Missed, i) {
			s.Missed++
			if eaten[i] != 0 {
				return fmt.Errorf("meal %d is missed and eaten", i)
			}
		} else if eaten[i] < m.Portions || eaten[i] > m.Portions+m.Extra {
			return fmt.Errorf("meal %d: %d portions of %d", i, eaten[i], m.Portions)
		}
	}
	if s != p.Score {
		return fmt.Errorf("got the score %+v, want %+v as in the plan", s, p.Score)
	}
	if s.Grams > t.Grams || s.Space > t.Space {
		return fmt.Errorf("too much: %+v", s)
	}
	return nil
}

// week is a pantry of 500 jars for 7 days and 5 people, in few batches or in
// many, with a limit of weight or none.
func week(r *rand.Rand, batches, grams int) *packing.Trip {
	t := &packing.Trip{Grams: grams, Space: packing.Unlimited}
	for d := range 7 {
		t.Cold = append(t.Cold, max(d-1, min(d+2, 3)))
		for kind := range 7 {
			if kind < 4 || d%2 == 0 {
				t.Meals = append(t.Meals, packing.Meal{Day: d, Kind: kind, Portions: 5, Extra: 1})
			}
		}
	}
	sizes := [][3]int{{2, 450, 400}, {4, 850, 750}, {8, 1600, 1400}, {16, 3100, 2800}}
	for len(t.Jars) < 500 {
		s := sizes[min(3, r.IntN(7)/2)]
		j := packing.Candidate{Kind: r.IntN(7), Portions: s[0], Grams: s[1], Space: s[2], LastDay: 7, Fridge: 3 + 2*r.IntN(2), Age: r.IntN(900)}
		if r.IntN(3) == 0 {
			j.First = 1
		}
		if r.IntN(6) == 0 {
			j.LastDay = r.IntN(7)
		}
		for range 500 / batches {
			t.Jars = append(t.Jars, j)
		}
	}
	return t
}

// A real size: plans are valid, the same every time, and no better with fewer
// jars, less cold or less weight.
func TestWeek(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for _, batches := range []int{10, 50, 100} {
		for _, grams := range []int{packing.Unlimited, 30_000, 15_000} {
			trip := week(r, batches, grams)
			p, err := packing.Solve(trip)
			if err != nil {
				t.Fatal(err)
			}
			if err := valid(trip, p); err != nil {
				t.Fatalf("%d batches, %d g: %v", batches, grams, err)
			}
			if again, _ := packing.Solve(trip); !reflect.DeepEqual(again, p) {
				t.Errorf("%d batches, %d g: got a different plan the second time", batches, grams)
			}
			for what, worse := range map[string]func(*packing.Trip){
				"half the jars": func(t *packing.Trip) { t.Jars = t.Jars[:len(t.Jars)/2] },
				"no cooler": func(t *packing.Trip) {
					t.Cold = slices.Clone(t.Cold)
					for d := range t.Cold {
						t.Cold[d] = d - 1
					}
				},
				"less weight": func(t *packing.Trip) { t.Grams = min(t.Grams, p.Score.Grams) * 3 / 4 },
			} {
				w := *trip
				worse(&w)
				if q, err := packing.Solve(&w); err != nil || q.Score.Compare(p.Score) < 0 {
					t.Errorf("%d batches, %d g, %s: got the score %+v, want none better than %+v (%v)", batches, grams, what, q.Score, p.Score, err)
				}
			}
		}
	}
}

// Input that is out of bounds is rejected by its number.
func TestBadTrips(t *testing.T) {
	good := func() *packing.Trip {
		return &packing.Trip{Cold: []int{0, 1}, Meals: []packing.Meal{{Day: 0, Portions: 2}, {Day: 1, Portions: 2}}, Jars: []packing.Candidate{{Portions: 2}}}
	}
	if err := good().Check(); err != nil {
		t.Fatal(err)
	}
	for what, spoil := range map[string]func(*packing.Trip){
		"day":      func(t *packing.Trip) { t.Meals[1].Day = 2 },
		"order":    func(t *packing.Trip) { t.Meals[0].Day, t.Meals[1].Day = 1, 0 },
		"portions": func(t *packing.Trip) { t.Meals[0].Portions = 0 },
		"extra":    func(t *packing.Trip) { t.Meals[0].Extra = 3 },
		"jar":      func(t *packing.Trip) { t.Jars[0].Portions = 0 },
		"weight":   func(t *packing.Trip) { t.Jars[0].Grams = -1 },
		"limit":    func(t *packing.Trip) { t.Grams = -1 },
		"days":     func(t *packing.Trip) { t.Cold = make([]int, 61) },
		"meals":    func(t *packing.Trip) { t.Meals = make([]packing.Meal, 201) },
	} {
		trip := good()
		spoil(trip)
		if _, err := packing.Solve(trip); err == nil {
			t.Errorf("%s: got no error, want one", what)
		}
	}
}

func BenchmarkWeek(b *testing.B) {
	for _, batches := range []int{5, 50, 100, 500} {
		for _, grams := range []int{packing.Unlimited, 20_000} {
			trip := week(rand.New(rand.NewPCG(17, 18)), batches, grams)
			b.Run(fmt.Sprintf("batches=%d/limit=%v", batches, grams < packing.Unlimited), func(b *testing.B) {
				for b.Loop() {
					if _, err := packing.Solve(trip); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
