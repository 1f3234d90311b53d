package travel_test

import (
	"slices"
	"testing"
	"time"

	"larderlamp/app/demo"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/app/travel"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/packing"
)

// traveling returns the made-up household, with every jar looked at today.
func traveling(t testing.TB) *pantry.Pantry {
	t.Helper()
	records, err := demo.Records(testkit.TripNow)
	if err != nil {
		t.Fatal(err)
	}
	p := pantry.New()
	for _, r := range records {
		if j, ok := r.(*record.Jar); ok && j.Standing().Stage == record.OnShelf {
			seen := []record.Seen{}
			for id := range rules.SignID(rules.NumSigns) {
				if c := id.Info().Chapter; c == rules.ChapterOutside || c == rules.ChapterGlass {
					seen = append(seen, record.Seen{Sign: id.ID(), Values: []string{id.Info().Sound.ID()}})
				}
			}
			e, err := j.Add(record.Looked, testkit.TripNow)
			if err != nil {
				t.Fatal(err)
			}
			e.Seen = seen
		}
		p.Put(r)
	}
	return p
}

func newTrip(t testing.TB, change func(*record.Trip)) *record.Trip {
	t.Helper()
	trip, err := record.NewTrip(record.DayOf(testkit.TripNow.AddDate(0, 0, 3)), testkit.TripNow)
	if err != nil {
		t.Fatal(err)
	}
	if change != nil {
		change(trip)
	}
	if err := trip.Validate(); err != nil {
		t.Fatal(err)
	}
	return trip
}

func planned(t testing.TB, p *pantry.Pantry, trip *record.Trip, what travel.WhatIf) *travel.Journey {
	t.Helper()
	j, err := travel.NewPlanner(p, trip, testkit.TripNow).Plan(what)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// On every trip, whatever the weather: no jar goes that would have to be
// discarded, one that nobody has looked at is listed as one to look at, none is
// opened after its last day, and every jar has a fate with a reason.
func TestNothingTravelsThatMayNot(t *testing.T) {
	p := traveling(t)
	goes := 0
	for _, stand := range []string{record.InShade, record.InSun, record.InCar, record.InTrailer} {
		for _, cooler := range []string{record.NoCooler, record.SoftCooler, record.HardCooler, record.ThickCooler, record.FridgeOnBus} {
			for _, hotter := range []int{-20, 0, 8, 15} {
				if testing.Short() && cooler != record.HardCooler {
					continue // all of them natively
				}
				trip := newTrip(t, func(t *record.Trip) { t.Stand, t.Cooler = stand, cooler })
				j := planned(t, p, trip, travel.WhatIf{Hotter: hotter})
				if j.Plan == nil {
					t.Fatalf("%s, %s, %d: no plan", stand, cooler, hotter)
				}
				for _, tr := range j.Jars {
					name := p.JarName(tr.Jar)
					switch tr.Fate {
					case travel.Goes:
						goes++
						if tr.Lowest == rules.Discard || tr.Best > rules.UseSoon || tr.Look != (tr.Highest > rules.UseSoon) {
							t.Errorf("%s, %s, %d: %s goes, got %v to %v", stand, cooler, hotter, name, tr.Lowest, tr.Highest)
						}
						if day := j.Meals[tr.Opens].Day; day > tr.LastDay {
							t.Errorf("%s: opened on day %d, its last day is %d", name, day, tr.LastDay)
						}
						if class := tr.Batch().Food().Class; tr.Exposure.Warmest.High >= 37.8 && class == rules.ClassLow && tr.LastDay >= trip.Days-1 {
							t.Errorf("%s: got %v at %.1f °C", name, class, tr.Exposure.Warmest.High)
						}
					case travel.NotNeeded, travel.Stays:
						if tr.Why == "" {
							t.Errorf("%s stays without a reason", name)
						}
						if tr.Why == travel.WhyHeat && len(travel.NewPlanner(p, trip, testkit.TripNow).Reasons(tr)) == 0 {
							t.Errorf("%s stays for the heat without a rule", name)
						}
					}
				}
				for _, s := range j.Plan.Servings {
					if s.Left > 0 && j.Cold[j.Meals[s.Meal].Day] < j.Meals[s.Meal].Day {
						t.Errorf("%s, %s: leftovers are kept although it is not cold", stand, cooler)
					}
				}
				if cooler == record.NoCooler && j.Plan.Score.Left > 0 {
					t.Error("leftovers are kept without a cooler")
				}
			}
		}
	}
	if goes < 200 && !testing.Short() {
		t.Errorf("got only %d jars that go", goes)
	}
}

// A closed car in the sun is no place for low-acid jars; in the shade they may
// go.
func TestCarInTheSun(t *testing.T) {
	p := traveling(t)
	fates := func(stand string) map[travel.Fate]int {
		n := map[travel.Fate]int{}
		trip := newTrip(t, func(t *record.Trip) { t.Stand, t.Drive = stand, 0 })
		for _, tr := range planned(t, p, trip, travel.WhatIf{}).Jars {
			if b := tr.Batch(); b != nil && b.Food().Class == rules.ClassLow {
				n[tr.Fate]++
			}
		}
		return n
	}
	shade, car := fates(record.InShade), fates(record.InCar)
	if shade[travel.Goes] == 0 || car[travel.Goes] != 0 || car[travel.NotNeeded] != 0 {
		t.Errorf("got %v in the shade, %v in a car", shade, car)
	}
}

// Hotter weather, ice that melts sooner, a lower weight limit: never a better
// plan.
func TestWorseTripsGiveNoBetterPlans(t *testing.T) {
	p := traveling(t)
	pl := travel.NewPlanner(p, newTrip(t, nil), testkit.TripNow)
	score := func(w travel.WhatIf) packing.Score {
		j, err := pl.Plan(w)
		if err != nil {
			t.Fatal(err)
		}
		return j.Plan.Score
	}
	for hotter := 1; hotter <= 15; hotter++ {
		if a, b := score(travel.WhatIf{Hotter: hotter - 1}), score(travel.WhatIf{Hotter: hotter}); b.Compare(a) < 0 {
			t.Errorf("%d degrees hotter: got %+v, before it was %+v", hotter, b, a)
		}
	}
	for day := 4; day >= 2; day-- {
		if a, b := score(travel.WhatIf{IceGone: day}), score(travel.WhatIf{IceGone: day - 1}); b.Compare(a) < 0 {
			t.Errorf("ice gone on day %d: got %+v, a day later %+v", day-1, b, a)
		}
	}
}

// A jar that must come comes, or is refused; when the limit is too low for it,
// there is no plan but a reason. The limit is named.
func TestLocksAndBinds(t *testing.T) {
	p := traveling(t)
	var sound, spoiled, open *record.Jar
	for _, v := range p.JudgeAll(testkit.TripNow) {
		switch b := p.Batches[v.Jar.Batch]; {
		case v.Basis.Stage == record.IsOpen:
			open = v.Jar
		case v.Lowest == rules.Discard:
			spoiled = v.Jar
		case b != nil && b.Product == "potatoes":
			sound = v.Jar
		}
	}
	if sound == nil || spoiled == nil || open == nil {
		t.Fatalf("got %v, %v, %v", sound, spoiled, open)
	}
	trip := newTrip(t, func(t *record.Trip) { t.Must = []string{sound.ID, spoiled.ID, open.ID} })
	j := planned(t, p, trip, travel.WhatIf{})
	if !slices.Contains(j.Refused, spoiled.ID) || !slices.Contains(j.Refused, open.ID) || len(j.Refused) != 2 {
		t.Errorf("got refused %v", j.Refused)
	}
	fate := func(j *travel.Journey, jar *record.Jar) travel.Fate {
		for _, tr := range j.Jars {
			if tr.Jar == jar {
				return tr.Fate
			}
		}
		t.Fatal("the jar is missing")
		return 0
	}
	if f := fate(j, sound); f != travel.Goes && f != travel.Spare {
		t.Errorf("what must come: got %v", f)
	}
	if err := j.Pack(); err != nil {
		t.Fatal(err)
	}
	if err := trip.Validate(); err != nil || len(trip.Packed) == 0 {
		t.Errorf("got %d packed, %v", len(trip.Packed), err)
	}
	light := newTrip(t, func(t *record.Trip) { t.Must, t.Grams = []string{sound.ID}, 100 })
	if j := planned(t, p, light, travel.WhatIf{}); j.Plan != nil || len(j.Binds) != 1 || j.Binds[0].What != travel.BindWeight {
		t.Errorf("100 g: got %+v, %v", j.Plan, j.Binds)
	}
	binds := func(change func(*record.Trip)) (what []string) {
		for _, b := range planned(t, p, newTrip(t, change), travel.WhatIf{}).Binds {
			what = append(what, b.What)
		}
		return
	}
	for _, c := range []struct {
		want   string
		change func(*record.Trip)
	}{
		{travel.BindWeight, func(t *record.Trip) { t.Grams = 3000 }},
		{travel.BindSpace, func(t *record.Trip) { t.Space = 3000 }},
		{travel.BindCold, func(t *record.Trip) { t.Cooler = record.NoCooler; t.Meals[1] = 4 }},
		{travel.BindHeat, func(t *record.Trip) { t.Stand = record.InCar }},
	} {
		if got := binds(c.change); !slices.Contains(got, c.want) {
			t.Errorf("%s does not bind: %v", c.want, got)
		}
	}
}

// A shelf that nobody has looked at still gives a plan. It says which jars to look
// at, and can't be packed before that is done. When they are looked at and sound,
// the same meals are covered; a jar that is found bad is replaced, and not asked
// for again.
func TestTripBeforeTheLook(t *testing.T) {
	p := testkit.Invented(t, testkit.TripNow.AddDate(0, -8, 0))
	trip := newTrip(t, nil)
	p.Put(trip)
	j := planned(t, p, trip, travel.WhatIf{})
	covered := len(j.Meals) - len(j.Plan.Missed)
	if covered < 10 || len(j.Looks()) < 5 {
		t.Fatalf("got %d of %d meals, %d to look at", covered, len(j.Meals), len(j.Looks()))
	}
	if err := j.Pack(); err == nil || len(trip.Packed)+len(trip.Plan) > 0 {
		t.Errorf("packed without the looks: got %v, %d", err, len(trip.Packed))
	}
	bad := ""
	for n := 0; len(j.Looks()) > 0; n++ {
		if n > 60 {
			t.Fatal("the looks do not end")
		}
		s, err := travel.LookBefore(p, j, testkit.TripNow)
		if err != nil {
			t.Fatal(err)
		}
		if s.Trip != trip.ID || len(s.Order) != len(j.Looks()) || s.Validate() != nil {
			t.Fatalf("got %+v", s)
		}
		p.Put(s)
		at := testkit.TripNow.Add(time.Duration(n) * time.Minute)
		for _, id := range s.Order {
			jar := p.Jars[id]
			pr := p.Prospect(jar, at)
			// Unless another jar of its batch was found spoiled on the way.
			if (pr.Condemned || pr.Hopeless()) && (bad == "" || jar.Batch != p.Jars[bad].Batch) {
				t.Errorf("%s has to be looked at for nothing", p.JarName(jar))
			}
			for _, place := range pr.Places {
				place.Describe(record.CoolPlace, at)
				p.Put(place)
			}
			if bad == "" {
				bad = jar.ID
				e, err := jar.Add(record.Looked, at)
				if err != nil {
					t.Fatal(err)
				}
				e.Sweep, e.Seen = s.ID, []record.Seen{{Sign: "lid", Values: []string{"bulging"}}}
			} else if err := walk.New(p, s, at).Sound([]*record.Jar{jar}, at); err != nil {
				continue // a jar of its batch was found spoiled in the meantime
			}
			p.Put(jar)
		}
		j = planned(t, p, trip, travel.WhatIf{})
	}
	if now := len(j.Meals) - len(j.Plan.Missed); now < covered-1 {
		t.Errorf("got %d meals covered after the looks, %d before", now, covered)
	}
	for _, tr := range j.Jars {
		if tr.Jar.ID == bad && tr.Why != travel.WhyDiscard {
			t.Errorf("the bad jar: got %v, %q", tr.Fate, tr.Why)
		}
		if tr.Fate == travel.Goes && tr.Highest > rules.UseSoon {
			t.Errorf("%s goes although it is %v", p.JarName(tr.Jar), tr.Highest)
		}
	}
	if err := j.Pack(); err != nil || trip.Validate() != nil {
		t.Fatalf("got %v, %v", err, trip.Validate())
	}
	// The plan stays as it was packed, whatever happens to the jars.
	kept := slices.Clone(travel.Kept(p, trip))
	if !slices.Equal(kept, j.Served()) {
		t.Errorf("got kept %v", kept)
	}
	for _, one := range trip.Packed {
		if _, err := p.Jars[one.Jar].Add(record.Eaten, testkit.TripNow.AddDate(0, 0, 5)); err != nil {
			t.Fatal(err)
		}
	}
	trip.Home = &testkit.TripNow
	if read := testkit.ReadBack(t, trip).(*record.Trip); !slices.Equal(travel.Kept(p, read), kept) {
		t.Errorf("after the trip: got %v, kept %v", travel.Kept(p, read), kept)
	}
	// The edition before this one kept only what was packed.
	trip.Plan = nil
	opened := 0
	for _, one := range trip.Packed {
		if one.Open >= 0 {
			opened++
		}
	}
	if lines := travel.Kept(p, trip); len(lines) != opened || opened == 0 {
		t.Errorf("got %d lines for %d opened jars", len(lines), opened)
	}
}

// The lines of a plan are its meals, each of them once or with the jars that
// cover it.
func TestServedIsThePlan(t *testing.T) {
	p := traveling(t)
	j := planned(t, p, newTrip(t, func(t *record.Trip) { t.Meals[5] = 8 }), travel.WhatIf{})
	missed, open := 0, map[string]int{}
	for _, v := range j.Served() {
		switch {
		case v.Jar == "":
			missed++
		case v.Open:
			open[v.Jar]++
		}
	}
	if missed != len(j.Plan.Missed) || missed == 0 || len(open) != len(j.Plan.Openings) {
		t.Errorf("%d missed of %d, %d opened of %d", missed, len(j.Plan.Missed), len(open), len(j.Plan.Openings))
	}
	for id, n := range open {
		if n != 1 {
			t.Errorf("jar %s is opened %d times", id, n)
		}
	}
}

// Among jars that are alike, those that somebody has looked at go, and an empty
// trip can't be packed.
func TestLookedAtGoFirst(t *testing.T) {
	p := traveling(t)
	trip := newTrip(t, nil)
	j := planned(t, p, trip, travel.WhatIf{})
	for _, tr := range j.Jars {
		if tr.Fate == travel.Goes { // what went has not been looked at any more
			last := &tr.Jar.Events[len(tr.Jar.Events)-1]
			last.At = testkit.TripNow.AddDate(-1, 0, 0)
			p.Put(tr.Jar)
		}
	}
	j = planned(t, p, trip, travel.WhatIf{})
	stays := map[string]bool{}
	for _, tr := range j.Jars {
		if tr.Fate == travel.NotNeeded && tr.Why == travel.WhyOthers && !tr.Look {
			stays[tr.Jar.Batch] = true
		}
	}
	for _, tr := range j.Looks() {
		if stays[tr.Jar.Batch] {
			t.Errorf("%s is to be looked at, and one of its batch that was looked at stays", p.JarName(tr.Jar))
		}
	}
	empty := newTrip(t, func(t *record.Trip) { t.Meals = make([]int, len(record.Dishes)) })
	if err := planned(t, p, empty, travel.WhatIf{}).Pack(); err == nil || len(empty.Packed) > 0 {
		t.Errorf("an empty trip was packed: %v", empty.Packed)
	}
}

// Frost: a jar that may freeze stays, unless it is kept indoors at night.
func TestFrost(t *testing.T) {
	p := traveling(t)
	frosty := func(t *record.Trip) { t.Weather = []record.Weather{{Night: -80, Day: 20}} }
	j := planned(t, p, newTrip(t, frosty), travel.WhatIf{})
	if len(j.Nights) == 0 {
		t.Error("no night in which a jar may freeze")
	}
	in := planned(t, p, newTrip(t, func(t *record.Trip) { frosty(t); t.Indoors = true }), travel.WhatIf{})
	if len(in.Nights) != 0 {
		t.Errorf("indoors: got %v", in.Nights)
	}
	if in.Plan.Score.Compare(j.Plan.Score) > 0 {
		t.Errorf("got indoors %+v, outside %+v", in.Plan.Score, j.Plan.Score)
	}
}

// A jar that comes back is judged by what the trip did to it.
func TestComingHome(t *testing.T) {
	p := traveling(t)
	trip := newTrip(t, func(t *record.Trip) { t.Stand = record.InCar })
	j := planned(t, p, trip, travel.WhatIf{Hotter: 5})
	home := testkit.TripNow.AddDate(0, 0, 8)
	worse := 0
	for _, tr := range j.Jars {
		if tr.Basis.Stage != record.OnShelf || tr.Highest > rules.UseSoon {
			continue
		}
		before := tr.Highest
		if err := tr.Return(home, tr.Basis.Place, "Back"); err != nil {
			t.Fatal(err)
		}
		if err := tr.Jar.Validate(); err != nil {
			t.Fatal(err)
		}
		after := p.Judge(tr.Jar, home)
		if after.Highest < before {
			t.Errorf("%s became better: %v after %v", p.JarName(tr.Jar), after.Highest, before)
		}
		if after.Highest > before {
			worse++
		}
		if after.Highest != tr.Back.Highest {
			t.Errorf("%s: got %v, predicted %v", p.JarName(tr.Jar), after.Highest, tr.Back.Highest)
		}
	}
	if worse == 0 {
		t.Error("a week in a hot car made no jar worse")
	}
}

// The days after opening are those of the published card, by class, on both
// sides, if the record says that nothing shortens them.
func TestOpenDays(t *testing.T) {
	for _, c := range []struct {
		product string
		days    int
	}{{"chicken-broth", 2}, {"green-beans", 4}, {"peaches", 7}, {"strawberry-jam", 30}} {
		p, ok := rules.ProductByID(c.product)
		if !ok {
			t.Fatal(c.product)
		}
		s := rules.NewSituation()
		if err := p.Tell(&s); err != nil {
			t.Fatal(err)
		}
		if got, want := travel.OpenDays(s), min(4, c.days); got != want {
			t.Errorf("%s, of which nothing more is known: keeps for %d days once opened, want %d", c.product, got, want)
		}
		if err := s.Tell(rules.ConditionMet, rules.AcidFull, rules.ExtrasNone); err != nil {
			t.Fatal(err)
		}
		if got := travel.OpenDays(s); got != c.days {
			t.Errorf("%s keeps for %d days once opened, want %d", c.product, got, c.days)
		}
	}
}

// 500 jars, 7 days, 5 people.
func bigTrip(b testing.TB) (*pantry.Pantry, *record.Trip) {
	p := traveling(b)
	n := len(p.Jars)
	for _, j := range p.JudgeAll(testkit.TripNow) {
		if n >= 500 {
			break
		}
		copied := *j.Jar
		head, err := record.NewJar(j.Jar.Batch, 200+n, testkit.TripNow)
		if err != nil {
			b.Fatal(err)
		}
		copied.Head = head.Head
		p.Put(&copied)
		n++
	}
	trip := newTrip(b, func(t *record.Trip) {
		t.Days, t.People = 7, 5
		t.Meals = []int{7, 5, 5, 4, 7, 3, 7}
		t.Every, t.More = 2, 6000
		t.Grams = 40000
	})
	return p, trip
}

func BenchmarkPlan(b *testing.B) {
	p, trip := bigTrip(b)
	b.Run("fresh", func(b *testing.B) {
		for b.Loop() {
			planned(b, p, trip, travel.WhatIf{})
		}
	})
	pl := travel.NewPlanner(p, trip, testkit.TripNow)
	b.Run("slider", func(b *testing.B) {
		n := 0
		for b.Loop() {
			n++
			if _, err := pl.Plan(travel.WhatIf{Hotter: n % 15}); err != nil {
				b.Fatal(err)
			}
		}
	})
}
