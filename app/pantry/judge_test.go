package pantry_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
)

// home is a pantry with one place, cool and dry and dark, and a batch of three
// jars that can be kept, looked at a week ago.
func home(t testing.TB, product string) (*pantry.Pantry, *record.Place, *record.Batch, []*record.Jar) {
	t.Helper()
	fail := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	p := pantry.New()
	place, err := record.NewPlace("Cellar", noon)
	fail(err)
	place.Wet, place.Light = "dry", "dark"
	place.Air = &record.Air{How: record.Steady, Low: 100, High: 180}
	p.Put(place)
	b, err := record.NewBatch(product, noon)
	fail(err)
	thirty, feet := 30, 500
	b.Made, b.Count, b.Size, b.Standing, b.Method, b.Extras, b.Closure = "2026-06-12", 3, "quart", "published", "boiling-water", "none", "flat-lid"
	b.Pack, b.Minutes, b.Feet, b.Condition = "raw", &thirty, &feet, "met"
	p.Put(b)
	var jars []*record.Jar
	for n := range 3 {
		j, err := record.NewJar(b.ID, n+1, noon)
		fail(err)
		e, err := j.Add(record.Stored, time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC))
		fail(err)
		e.Place = place.ID
		look(t, j, noon.AddDate(0, 0, -7))
		p.Put(j)
		jars = append(jars, j)
	}
	return p, place, b, jars
}

// look notes a look at which everything was sound but for some values.
func look(t testing.TB, j *record.Jar, at time.Time, odd ...rules.Value) {
	t.Helper()
	e, err := j.Add(record.Looked, at)
	if err != nil {
		t.Fatal(err)
	}
	for id := range rules.SignID(rules.NumSigns) {
		c := id.Info().Chapter
		if c != rules.ChapterOutside && c != rules.ChapterGlass {
			continue
		}
		v := id.Info().Sound
		for _, o := range odd {
			if o.Sign() == id {
				v = o
			}
		}
		e.Seen = append(e.Seen, record.Seen{Sign: id.ID(), Values: []string{v.ID()}})
	}
}

func verdict(p *pantry.Pantry, j *record.Jar, now time.Time) pantry.Verdict { return p.Judge(j, now) }

func TestASoundJarIsKept(t *testing.T) {
	p, _, _, jars := home(t, "peaches")
	v := verdict(p, jars[0], noon)
	if !v.Settled() || v.Highest != rules.Keep || v.State() != pantry.ToKeep || len(v.Basis.Unlooked) != 0 {
		t.Fatalf("%v to %v, unlooked %v, disputed %v", v.Lowest, v.Highest, v.Basis.Unlooked, v.Basis.Disputed)
	}
}

// Everything that is taken away from what is known takes the keep away, and
// everything that goes wrong makes it stricter.
func TestWhatTakesTheKeepAway(t *testing.T) {
	short := 29
	for name, c := range map[string]struct {
		change func(*pantry.Pantry, *record.Place, *record.Batch, []*record.Jar)
		want   rules.Verdict // strictest still possible
	}{
		"minutes not known":     {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Minutes = nil }, rules.UseSoon},
		"a minute short":        {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Minutes = &short }, rules.UseSoon},
		"recipe not known":      {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Standing = "" }, rules.UseSoon},
		"hot filled":            {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Method = "hot-fill" }, rules.Discard},
		"extras not known":      {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Extras = "" }, rules.Discard},
		"closure not known":     {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Closure = "" }, rules.Discard},
		"batch not recorded":    {func(p *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { delete(p.Batches, b.ID) }, rules.Discard},
		"place damp":            {func(_ *pantry.Pantry, pl *record.Place, _ *record.Batch, _ []*record.Jar) { pl.Wet = "damp" }, rules.UseSoon},
		"place flooded":         {func(_ *pantry.Pantry, pl *record.Place, _ *record.Batch, _ []*record.Jar) { pl.Wet = "flood" }, rules.Discard},
		"damp not known":        {func(_ *pantry.Pantry, pl *record.Place, _ *record.Batch, _ []*record.Jar) { pl.Wet = "" }, rules.Discard},
		"place by a furnace":    {func(_ *pantry.Pantry, pl *record.Place, _ *record.Batch, _ []*record.Jar) { pl.Light = "heater" }, rules.UseSoon},
		"temperature not known": {func(_ *pantry.Pantry, pl *record.Place, _ *record.Batch, _ []*record.Jar) { pl.Air = nil }, rules.Discard},
		"a heat wave":           {func(_ *pantry.Pantry, pl *record.Place, _ *record.Batch, _ []*record.Jar) { pl.Air.High = 378 }, rules.UseSoon},
		"can have frozen":       {func(_ *pantry.Pantry, pl *record.Place, _ *record.Batch, _ []*record.Jar) { pl.Air.Low = 0 }, rules.Discard},
		"place not known":       {func(p *pantry.Pantry, pl *record.Place, _ *record.Batch, _ []*record.Jar) { delete(p.Places, pl.ID) }, rules.Discard},
		"a sibling spoiled": {func(_ *pantry.Pantry, _ *record.Place, _ *record.Batch, js []*record.Jar) {
			look(t, js[2], noon, rules.MoldSeen)
		}, rules.UseSoon},
		"over a year old": {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Made = "2025-08-01" }, rules.UseSoon},
		"its lid gives": {func(_ *pantry.Pantry, _ *record.Place, _ *record.Batch, js []*record.Jar) {
			look(t, js[0], noon, rules.PressGives)
		}, rules.Discard},
		"never looked at": {func(_ *pantry.Pantry, _ *record.Place, _ *record.Batch, js []*record.Jar) {
			js[0].Events = js[0].Events[:1]
		}, rules.Discard},
		"the look was taken back": {func(_ *pantry.Pantry, _ *record.Place, _ *record.Batch, js []*record.Jar) {
			js[0].Undo(js[0].Events[1].ID, true)
		}, rules.Discard},
	} {
		p, place, b, jars := home(t, "peaches")
		c.change(p, place, b, jars)
		if p.Places[place.ID] != nil {
			p.Put(place)
		}
		if p.Batches[b.ID] != nil {
			p.Put(b)
		}
		for _, j := range jars {
			p.Put(j)
		}
		if v := verdict(p, jars[0], noon); v.Highest != c.want {
			t.Errorf("%s: %v to %v, want up to %v", name, v.Lowest, v.Highest, c.want)
		}
	}
}

// The table of one food proves nothing of another: a batch that names it, as a
// damaged file may, is judged as one that names none.
func TestTablesOfOtherFoods(t *testing.T) {
	feet, minutes, psi, zero := 500, 45, 150, 0
	met := 0
	for i := range rules.Catalogue {
		food := &rules.Catalogue[i]
		own := processed.Tables(food)
		b, err := record.NewBatch(food.ID, noon)
		if err != nil {
			t.Fatal(err)
		}
		b.Size, b.Pack, b.Gauge, b.Vented, b.Method = "pint", "hot", "dial", "yes", rules.MethodPressure.ID()
		b.Feet, b.Minutes, b.TenthsPSI, b.ReadsHigh = &feet, &minutes, &psi, &zero
		none := b.Process(nil).Possible
		for k := range rules.Catalogue {
			for _, table := range append(processed.Tables(&rules.Catalogue[k]), "no/such") {
				b.Table = table
				j := b.Process(nil)
				if !slices.Contains(own, table) && j.Possible != none {
					t.Errorf("%s by the table %s: %v, by none: %v", food.ID, table, j.Possible, none)
				}
				if j.Possible == process.Met {
					met++
				}
			}
		}
	}
	if met == 0 {
		t.Error("no batch is as published: the test shows nothing")
	}
}

// A look counts until two weeks after the next sweep is due; then what was
// sound counts as not looked at, and what was odd still counts.
func TestLooksGrowStale(t *testing.T) {
	p, _, _, jars := home(t, "peaches")
	looked := noon.AddDate(0, 0, -7)
	edge := looked.AddDate(0, record.SweepMonths, 14)
	if v := verdict(p, jars[0], edge); v.Basis.Stale || v.Highest != rules.Keep {
		t.Errorf("on the last day: %v, stale %v", v.Highest, v.Basis.Stale)
	}
	if v := verdict(p, jars[0], edge.Add(time.Second)); !v.Basis.Stale || v.State() != pantry.ToLook {
		t.Errorf("after it: %v, stale %v", v.State(), v.Basis.Stale)
	}
	look(t, jars[1], looked, rules.LidBulged)
	p.Put(jars[1])
	if v := verdict(p, jars[1], edge.AddDate(1, 0, 0)); v.Lowest != rules.Discard {
		t.Errorf("a bulged lid grows well again: %v to %v", v.Lowest, v.Highest)
	}
}

// A look noted while the clock was wrong, ahead of now, counts as no look: not
// for what was sound, and not in the place of what was seen after it. A day
// ahead is what travel explains.
func TestLooksAheadOfTheClock(t *testing.T) {
	for hours, stale := range map[int]bool{0: false, 24: false, 25: true, 24 * 400: true} {
		p, _, _, jars := home(t, "peaches")
		jars[0].Events = jars[0].Events[:1]
		look(t, jars[0], noon.Add(time.Duration(hours)*time.Hour))
		p.Put(jars[0])
		if v := verdict(p, jars[0], noon); v.Basis.Stale != stale || (v.State() == pantry.ToKeep) == stale || walk.Due(p, jars[0], noon) != stale {
			t.Errorf("looked at %d hours ahead: %v, stale %v, due %v", hours, v.State(), v.Basis.Stale, walk.Due(p, jars[0], noon))
		}
	}
	p, _, _, jars := home(t, "peaches")
	year := noon.AddDate(1, 0, 0)
	look(t, jars[0], year)
	look(t, jars[0], noon, rules.LidBulged)
	look(t, jars[1], year, rules.PressGives)
	look(t, jars[1], noon)
	for _, j := range jars[:2] {
		p.Put(j)
		if v := verdict(p, j, noon); v.Lowest != rules.Discard {
			t.Errorf("%d: %v to %v, and one of two looks says discard", j.Number, v.Lowest, v.Highest)
		}
	}
	look(t, jars[2], year)
	look(t, jars[2], noon)
	p.Put(jars[2])
	if v := verdict(p, jars[2], noon); v.Highest == rules.Discard {
		t.Errorf("sound at both looks: %v to %v", v.Lowest, v.Highest)
	}
}

// An opened jar keeps for the days of its kind, in the cold, and not a day
// longer.
func TestOpenedJars(t *testing.T) {
	for product, days := range map[string]int{"peaches": 7, "strawberry-jam": 30, "low-sugar-jam": 21, "green-beans": 4, "chicken-broth": 2} {
		p, _, _, jars := home(t, product)
		fridge, err := record.NewPlace("Refrigerator", noon)
		if err != nil {
			t.Fatal(err)
		}
		fridge.What = record.Fridge
		p.Put(fridge)
		e, err := jars[0].Add(record.Opened, noon)
		if err != nil {
			t.Fatal(err)
		}
		e.Place = fridge.ID
		v := verdict(p, jars[0], noon)
		if want := record.DayOf(noon.AddDate(0, 0, days-1)); v.Deadline != want {
			t.Errorf("%s: keeps until %s, want %s", product, v.Deadline, want)
		}
		before, after := noon.Add(time.Duration(days)*24*time.Hour-time.Second), noon.Add(time.Duration(days)*24*time.Hour)
		if v := verdict(p, jars[0], after); v.Lowest != rules.Discard {
			t.Errorf("%s: after %d days %v is possible", product, days, v.Lowest)
		}
		if product == "peaches" {
			if v := verdict(p, jars[0], before); v.Lowest == rules.Discard {
				t.Errorf("%s: discarded before %d days are over", product, days)
			}
		}
	}
	// Opened while the clock was ahead, it may have been open for any time.
	for hours, known := range map[int]bool{24: true, 25: false} {
		p, _, _, jars := home(t, "peaches")
		if _, err := jars[0].Add(record.Opened, noon.Add(time.Duration(hours)*time.Hour)); err != nil {
			t.Fatal(err)
		}
		s, _ := p.Situation(jars[0], noon)
		v := verdict(p, jars[0], noon)
		if s.Open(rules.SignDays) == known || (v.Deadline < record.DayOf(noon)) == known {
			t.Errorf("opened %d hours ahead: days open %v, deadline %s", hours, s.Open(rules.SignDays), v.Deadline)
		}
	}
	p, place, _, jars := home(t, "peaches")
	e, err := jars[0].Add(record.Opened, noon)
	if err != nil {
		t.Fatal(err)
	}
	e.Place = place.ID
	if v := verdict(p, jars[0], noon); v.Lowest != rules.Discard {
		t.Errorf("open on a shelf: %v is possible", v.Lowest)
	}
}

// What happened decides where a jar stands, in whatever order it was written
// down.
func TestStanding(t *testing.T) {
	_, place, _, jars := home(t, "peaches")
	j := jars[0]
	add := func(what string, hours int, where string) *record.Event {
		e, err := j.Add(what, noon.Add(time.Duration(hours)*time.Hour))
		if err != nil {
			t.Fatal(err)
		}
		e.Place = where
		return e
	}
	const other = "0199f1f0-7b7c-7abc-8def-0123456789ab"
	add(record.Moved, 2, other)
	add(record.Missing, 3, "")
	if s := j.Standing(); s.Stage != record.IsMissing || s.Place != other {
		t.Errorf("%+v", s)
	}
	add(record.Found, 4, place.ID)
	if s := j.Standing(); s.Stage != record.OnShelf || s.Place != place.ID || len(s.Stays) != 3 {
		t.Errorf("%+v", s)
	}
	add(record.Moved, 1, place.ID) // written later, happened earlier
	if s := j.Standing(); s.Place != place.ID || s.Stays[1].Place != place.ID {
		t.Errorf("%+v", s)
	}
	gone := add(record.Eaten, 5, "").ID
	if s := j.Standing(); s.Stage != record.IsGone || s.Ended.What != record.Eaten {
		t.Errorf("%+v", s)
	}
	j.Undo(gone, true)
	if s := j.Standing(); s.Stage != record.OnShelf {
		t.Errorf("%+v", s)
	}
}

// A check of a jar begins with what the shelf knows, judges as the shelf does,
// and is noted with the jar once, however often it is saved.
func TestCheckOfAJar(t *testing.T) {
	p, _, _, jars := home(t, "peaches")
	j := jars[0]
	c, err := p.NewCheckOf(j, noon)
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Validate(); err != nil || c.Jar != j.ID || c.Product != "peaches" || len(c.Answers) == 0 {
		t.Fatalf("%+v, %v", c, err)
	}
	s := rules.NewSituation()
	food, _ := rules.ProductByID(c.Product)
	if err := food.Tell(&s); err != nil {
		t.Fatal(err)
	}
	for _, a := range c.Answers {
		if err := s.TellNamed(a.Sign, a.Values); err != nil {
			t.Fatal(err)
		}
		if id, _ := rules.SignByID(a.Sign); id.Info().Chapter == rules.ChapterOutside || id.Info().Chapter == rules.ChapterGlass {
			t.Errorf("%s is answered although it has to be looked at", a.Sign)
		}
	}
	if len(c.Seen()) != 0 {
		t.Errorf("seen before looking: %v", c.Seen())
	}
	c.Answers = append(c.Answers, record.Answer{Sign: "lid", Values: []string{"flat", "down"}, Question: "lid", At: noon}, record.Answer{Sign: "lid", Values: []string{"bulging"}, Question: "lid", At: noon})
	for range 3 {
		j.Take(c)
	}
	events := 0
	for _, e := range j.Events {
		if e.Check == c.ID {
			events++
			if len(e.Seen) != 1 || !slices.Equal(e.Seen[0].Values, []string{"bulging"}) {
				t.Errorf("%+v", e)
			}
		}
	}
	if events != 1 {
		t.Errorf("%d events for one check", events)
	}
	if v := verdict(p, j, noon); v.Lowest != rules.Discard {
		t.Errorf("a bulging lid: %v", v.Lowest)
	}
	c.Delete(noon)
	j.Take(c)
	if v := verdict(p, j, noon); v.Highest != rules.Keep {
		t.Errorf("a deleted check still counts: %v", v.Highest)
	}
}

// Groups hold every jar that is not gone exactly once, in the order in which to
// turn to them; a search narrows them and never widens.
func TestGroups(t *testing.T) {
	p := pantry.New()
	for _, r := range demoRecords(t) {
		p.Put(r)
	}
	all := p.JudgeAll(noon)
	groups := p.Groups(all)
	seen := map[string]bool{}
	last := pantry.ToDiscard
	for _, g := range groups {
		if g.State < last {
			t.Errorf("%v comes after %v", g.State, last)
		}
		last = g.State
		for i := range g.Jars {
			if seen[g.Jars[i].Jar.ID] || g.Jars[i].State() != g.State || g.Jars[i].Jar.Batch != g.Batch.ID {
				t.Errorf("jar %s does not belong", g.Jars[i].Jar.ID)
			}
			seen[g.Jars[i].Jar.ID] = true
		}
	}
	if len(seen) != len(all) || len(all) < 150 {
		t.Errorf("%d jars in groups, %d in all", len(seen), len(all))
	}
	for _, search := range []string{"peaches", "peaches cellar", "PEACHES  2026", "h-3310", "zzz", ""} {
		n := 0
		for _, g := range groups {
			if g.Fits(search) {
				n++
				for word := range strings.FieldsSeq(search) {
					if !g.Fits(word) {
						t.Errorf("%q fits and %q does not", search, word)
					}
				}
			}
		}
		if (n == 0) != (search == "zzz") || (search == "" && n != len(groups)) {
			t.Errorf("%q: %d groups", search, n)
		}
	}
	// "Take that one": always the same product, and never one to be discarded.
	firsts := p.Firsts(all)
	for i := range all {
		v := &all[i]
		o := p.Instead(v, firsts)
		if o == nil {
			continue
		}
		if p.Batches[o.Jar.Batch].Product != p.Batches[v.Jar.Batch].Product || o.State() == pantry.ToDiscard {
			t.Errorf("instead of %s: %s", v.Jar.ID, o.Jar.ID)
		}
		if back := p.Instead(o, firsts); back != nil {
			t.Errorf("and instead of that one again another")
		}
	}
}

// The demo shows every state, and tables and dates can be made of it.
func TestDemoShowsEverything(t *testing.T) {
	p := pantry.New()
	for _, r := range demoRecords(t) {
		p.Put(r)
	}
	if n := len(p.Jars); n < 240 || n > 290 {
		t.Errorf("%d jars", n)
	}
	of := map[pantry.State]int{}
	for _, v := range p.JudgeAll(noon) {
		of[v.State()]++
	}
	for _, st := range pantry.States {
		if of[st] == 0 {
			t.Errorf("no jar is in the state %q", st)
		}
	}
	if table := string(tables.Jars(p, noon)); strings.Count(table, "\r\n") != len(p.Jars)+1 {
		t.Errorf("%d lines for %d jars", strings.Count(table, "\r\n"), len(p.Jars))
	}
	file, err := tables.Calendar(p, noon)
	if err != nil || !strings.Contains(string(file), "Look at every jar") || !strings.Contains(string(file), "Finish or discard") || !strings.Contains(string(file), "is a year old") {
		t.Errorf("%s, %v", file, err)
	}
	if stocks := p.Stocks(noon); len(stocks) < 20 {
		t.Errorf("%d products", len(stocks))
	}
	if rows := p.Ageing(noon); len(rows) != 5 {
		t.Errorf("%d places age", len(rows))
	}
}

// Pace: eaten in the time recorded, jars left at that pace.
func TestPace(t *testing.T) {
	p, _, b, jars := home(t, "peaches")
	now := time.Date(2026, 12, 12, 12, 0, 0, 0, time.UTC) // six months after canning
	e, err := jars[0].Add(record.Eaten, now.AddDate(0, -1, 0))
	if err != nil {
		t.Fatal(err)
	}
	_ = e
	s := p.Stocks(now)
	if len(s) != 1 || s[0].Product.ID != b.Product || s[0].Shelf != 2 || s[0].Eaten != 1 || s[0].Left < 11.9 || s[0].Left > 12.1 || s[0].Says() != "" {
		t.Errorf("%+v", s)
	}
	for left, want := range map[float64]string{-1: "", 1.9: pantry.RunningOut, 2: "", 24: "", 24.1: pantry.TooMany} {
		if got := (&pantry.Stock{Left: left, Shelf: 9}).Says(); got != want {
			t.Errorf("%v months: %q", left, got)
		}
	}
}

// big is a pantry of 10,000 jars.
func big(tb testing.TB) *pantry.Pantry {
	p := pantry.New()
	records := demoRecords(tb)
	for n := 0; len(p.Jars) < 10000; n++ {
		for _, r := range records {
			switch r := r.(type) {
			case *record.Jar:
				j, err := record.NewJar(r.Batch, r.Number, noon)
				if err != nil {
					tb.Fatal(err)
				}
				j.Events = r.Events
				p.Put(j)
			default:
				p.Put(r)
			}
		}
	}
	return p
}

func BenchmarkJudgeAll(b *testing.B) {
	p := big(b)
	b.ReportMetric(float64(len(p.Jars)), "jars")
	for b.Loop() {
		p.JudgeAll(noon)
	}
}

func BenchmarkGroups(b *testing.B) {
	p := big(b)
	all := p.JudgeAll(noon)
	for b.Loop() {
		p.Groups(all)
	}
}

func BenchmarkSearch(b *testing.B) {
	p := big(b)
	groups := p.Groups(p.JudgeAll(noon))
	for b.Loop() {
		for _, g := range groups {
			g.Fits("peaches cellar 2026")
		}
	}
}

// A clock that was set back hides nothing: what is seen later is later, whatever
// the clock says; and a look dated in the future does not count as sound.
func TestClockSetBack(t *testing.T) {
	seen := func(lid rules.Value) []record.Seen {
		return []record.Seen{{Sign: rules.SignLid.ID(), Values: []string{lid.ID()}}}
	}
	look := func(j *record.Jar, at time.Time, lid rules.Value) {
		t.Helper()
		e, err := j.Add(record.Looked, at)
		if err != nil {
			t.Fatal(err)
		}
		e.Seen = seen(lid)
	}
	p := pantry.New()
	b, err := record.NewBatch("peaches", noon)
	if err != nil {
		t.Fatal(err)
	}
	p.Put(b)
	for _, back := range []time.Duration{0, time.Hour, 24 * time.Hour, 20 * 365 * 24 * time.Hour} {
		j, err := record.NewJar(b.ID, 1, noon)
		if err != nil {
			t.Fatal(err)
		}
		look(j, noon, rules.LidDown)
		look(j, noon.Add(-back), rules.LidBulged)
		p.Put(j)
		if v := p.Judge(j, noon.Add(time.Hour)); v.Lowest != rules.Discard {
			t.Errorf("the clock was set back by %v: a bulging lid is %v", back, v.Lowest)
		}
	}
	j, err := record.NewJar(b.ID, 1, noon)
	if err != nil {
		t.Fatal(err)
	}
	look(j, noon.AddDate(1, 0, 0), rules.LidDown)
	p.Put(j)
	if _, basis := p.Situation(j, noon); !basis.Stale {
		t.Error("a look of next year counts as fresh")
	}
	if _, basis := p.Situation(j, noon.AddDate(1, 0, 1)); basis.Stale {
		t.Error("a look of yesterday does not count")
	}
}
