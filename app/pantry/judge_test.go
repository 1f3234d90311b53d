package pantry_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/testkit"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
	"larderlamp/rules/prose"
)

func TestASoundJarIsKept(t *testing.T) {
	p, _, _, jars := testkit.Home(t, "peaches")
	v := p.Judge(jars[0], testkit.Noon)
	if !v.Settled() || v.Highest != rules.Keep || v.State() != pantry.ToKeep || len(v.Basis.Unlooked) != 0 {
		t.Fatalf("got %v to %v, unlooked %v, disputed %v", v.Lowest, v.Highest, v.Basis.Unlooked, v.Basis.Disputed)
	}
}

// Removing anything that is known removes the keep, and everything that goes
// wrong makes the verdict stricter.
func TestWhatTakesTheKeepAway(t *testing.T) {
	short := 29
	for name, c := range map[string]struct {
		change func(*pantry.Pantry, *record.Place, *record.Batch, []*record.Jar)
		want   rules.Verdict // strictest still possible
	}{
		"minutes not known":     {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Minutes = nil }, rules.Discard},
		"a minute short":        {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Minutes = &short }, rules.Discard},
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
			testkit.Look(t, js[2], testkit.Noon, rules.MoldSeen)
		}, rules.UseSoon},
		"over a year old": {func(_ *pantry.Pantry, _ *record.Place, b *record.Batch, _ []*record.Jar) { b.Made = "2025-08-01" }, rules.UseSoon},
		"its lid gives": {func(_ *pantry.Pantry, _ *record.Place, _ *record.Batch, js []*record.Jar) {
			testkit.Look(t, js[0], testkit.Noon, rules.PressGives)
		}, rules.Discard},
		"never looked at": {func(_ *pantry.Pantry, _ *record.Place, _ *record.Batch, js []*record.Jar) {
			js[0].Events = js[0].Events[:1]
		}, rules.Discard},
		"the look was taken back": {func(_ *pantry.Pantry, _ *record.Place, _ *record.Batch, js []*record.Jar) {
			js[0].Undo(js[0].Events[1].ID, true)
		}, rules.Discard},
	} {
		p, place, b, jars := testkit.Home(t, "peaches")
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
		if v := p.Judge(jars[0], testkit.Noon); v.Highest != c.want {
			t.Errorf("%s: %v to %v, want up to %v", name, v.Lowest, v.Highest, c.want)
		}
	}
}

// The table of one food proves nothing about another: a batch that names it, as
// a damaged file may, is judged as one that names none.
func TestTablesOfOtherFoods(t *testing.T) {
	feet, minutes, psi, zero := 500, 45, 150, 0
	met := 0
	for i := range rules.Catalog {
		food := &rules.Catalog[i]
		own := processed.Tables(food)
		b, err := record.NewBatch(food.ID, testkit.Noon)
		if err != nil {
			t.Fatal(err)
		}
		b.Size, b.Pack, b.Gauge, b.Vented, b.Method = "pint", "hot", "dial", "yes", rules.MethodPressure.ID()
		b.Feet, b.Minutes, b.TenthsPSI, b.ReadsHigh = &feet, &minutes, &psi, &zero
		none := b.Process(nil).Possible
		for k := range rules.Catalog {
			for _, table := range append(processed.Tables(&rules.Catalog[k]), "no/such") {
				b.Table = table
				j := b.Process(nil)
				if !slices.Contains(own, table) && j.Possible != none {
					t.Errorf("%s by the table %s: got %v, without a table %v", food.ID, table, j.Possible, none)
				}
				if j.Possible == process.Met {
					met++
				}
			}
		}
	}
	if met == 0 {
		t.Error("no batch is as published: the test proves nothing")
	}
}

// A look counts until two weeks after the next sweep is due; then what was
// sound counts as not looked at, and what was odd still counts.
func TestLooksGrowStale(t *testing.T) {
	p, _, _, jars := testkit.Home(t, "peaches")
	looked := testkit.Noon.AddDate(0, 0, -7)
	edge := looked.AddDate(0, record.SweepMonths, 14)
	if v := p.Judge(jars[0], edge); v.Basis.Stale || v.Highest != rules.Keep {
		t.Errorf("on the last day: got %v, stale %v", v.Highest, v.Basis.Stale)
	}
	if v := p.Judge(jars[0], edge.Add(time.Second)); !v.Basis.Stale || v.State() != pantry.ToLook {
		t.Errorf("on the day after: got %v, stale %v", v.State(), v.Basis.Stale)
	}
	testkit.Look(t, jars[1], looked, rules.LidBulged)
	p.Put(jars[1])
	if v := p.Judge(jars[1], edge.AddDate(1, 0, 0)); v.Lowest != rules.Discard {
		t.Errorf("a bulged lid became harmless again: got %v to %v", v.Lowest, v.Highest)
	}
}

// A look recorded while the clock was wrong, ahead of now, does not count as a
// look: neither for what was sound, nor instead of what was seen after it.
// Travel explains a day ahead.
func TestLooksAheadOfTheClock(t *testing.T) {
	for hours, stale := range map[int]bool{0: false, 24: false, 25: true, 24 * 400: true} {
		p, _, _, jars := testkit.Home(t, "peaches")
		jars[0].Events = jars[0].Events[:1]
		testkit.Look(t, jars[0], testkit.Noon.Add(time.Duration(hours)*time.Hour))
		p.Put(jars[0])
		if v := p.Judge(jars[0], testkit.Noon); v.Basis.Stale != stale || (v.State() == pantry.ToKeep) == stale || walk.Due(p, jars[0], testkit.Noon) != stale {
			t.Errorf("looked at %d hours ahead: got %v, stale %v, due %v", hours, v.State(), v.Basis.Stale, walk.Due(p, jars[0], testkit.Noon))
		}
	}
	p, _, _, jars := testkit.Home(t, "peaches")
	year := testkit.Noon.AddDate(1, 0, 0)
	testkit.Look(t, jars[0], year)
	testkit.Look(t, jars[0], testkit.Noon, rules.LidBulged)
	testkit.Look(t, jars[1], year, rules.PressGives)
	testkit.Look(t, jars[1], testkit.Noon)
	for _, j := range jars[:2] {
		p.Put(j)
		if v := p.Judge(j, testkit.Noon); v.Lowest != rules.Discard {
			t.Errorf("jar %d: got %v to %v, although one of two looks says discard", j.Number, v.Lowest, v.Highest)
		}
	}
	testkit.Look(t, jars[2], year)
	testkit.Look(t, jars[2], testkit.Noon)
	p.Put(jars[2])
	if v := p.Judge(jars[2], testkit.Noon); v.Highest == rules.Discard {
		t.Errorf("sound at both looks: got %v to %v", v.Lowest, v.Highest)
	}
}

// An opened jar keeps for the days of its kind, in the cold, and not one day
// longer.
func TestOpenedJars(t *testing.T) {
	for product, days := range map[string]int{"peaches": 7, "strawberry-jam": 30, "low-sugar-jam": 21, "green-beans": 4, "chicken-broth": 2} {
		p, _, _, jars := testkit.Home(t, product)
		fridge, err := record.NewPlace("Refrigerator", testkit.Noon)
		if err != nil {
			t.Fatal(err)
		}
		fridge.What = record.Fridge
		p.Put(fridge)
		e, err := jars[0].Add(record.Opened, testkit.Noon)
		if err != nil {
			t.Fatal(err)
		}
		e.Place = fridge.ID
		v := p.Judge(jars[0], testkit.Noon)
		if want := record.DayOf(testkit.Noon.AddDate(0, 0, days-1)); v.Deadline != want {
			t.Errorf("%s: keeps until %s, want %s", product, v.Deadline, want)
		}
		before, after := testkit.Noon.Add(time.Duration(days)*24*time.Hour-time.Second), testkit.Noon.Add(time.Duration(days)*24*time.Hour)
		if v := p.Judge(jars[0], after); v.Lowest != rules.Discard {
			t.Errorf("%s: after %d days %v is possible", product, days, v.Lowest)
		}
		if product == "peaches" {
			if v := p.Judge(jars[0], before); v.Lowest == rules.Discard {
				t.Errorf("%s: discarded before %d days are over", product, days)
			}
		}
	}
	// If it was opened while the clock was ahead, it may have been open for any
	// time.
	for hours, known := range map[int]bool{24: true, 25: false} {
		p, _, _, jars := testkit.Home(t, "peaches")
		if _, err := jars[0].Add(record.Opened, testkit.Noon.Add(time.Duration(hours)*time.Hour)); err != nil {
			t.Fatal(err)
		}
		s, _ := p.Situation(jars[0], testkit.Noon)
		v := p.Judge(jars[0], testkit.Noon)
		if s.Open(rules.SignDays) == known || (v.Deadline < record.DayOf(testkit.Noon)) == known {
			t.Errorf("opened %d hours ahead: got days open %v, deadline %s", hours, s.Open(rules.SignDays), v.Deadline)
		}
	}
	p, place, _, jars := testkit.Home(t, "peaches")
	e, err := jars[0].Add(record.Opened, testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	e.Place = place.ID
	if v := p.Judge(jars[0], testkit.Noon); v.Lowest != rules.Discard {
		t.Errorf("open on a shelf: %v is possible", v.Lowest)
	}
}

// A check of a jar starts with what the shelf knows, judges as the shelf does,
// and is recorded with the jar once, however often it is saved.
func TestCheckOfAJar(t *testing.T) {
	p, _, _, jars := testkit.Home(t, "peaches")
	j := jars[0]
	c, err := p.NewCheckOf(j, testkit.Noon, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Validate(); err != nil || c.Jar != j.ID || c.Product != "peaches" || len(c.Answers) == 0 {
		t.Fatalf("got %+v, %v", c, err)
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
		t.Errorf("got %v as seen before looking", c.Seen())
	}
	c.Answers = append(c.Answers, record.Answer{Sign: "lid", Values: []string{"flat", "down"}, Question: "lid", At: testkit.Noon}, record.Answer{Sign: "lid", Values: []string{"bulging"}, Question: "lid", At: testkit.Noon})
	for range 3 {
		j.AddCheck(c)
	}
	events := 0
	for _, e := range j.Events {
		if e.Check == c.ID {
			events++
			if len(e.Seen) != 1 || !slices.Equal(e.Seen[0].Values, []string{"bulging"}) {
				t.Errorf("got %+v", e)
			}
		}
	}
	if events != 1 {
		t.Errorf("got %d events for one check", events)
	}
	if v := p.Judge(j, testkit.Noon); v.Lowest != rules.Discard {
		t.Errorf("a bulging lid: got %v", v.Lowest)
	}
	c.Delete(testkit.Noon)
	j.AddCheck(c)
	if v := p.Judge(j, testkit.Noon); v.Highest != rules.Keep {
		t.Errorf("a deleted check still counts: got %v", v.Highest)
	}
}

// Groups hold every jar that is not gone exactly once, in the order in which to
// deal with them; a search only ever narrows them.
func TestGroups(t *testing.T) {
	p := pantry.New()
	for _, r := range testkit.Demo(t) {
		p.Put(r)
	}
	all := p.JudgeAll(testkit.Noon)
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
		t.Errorf("got %d jars in groups, %d in all", len(seen), len(all))
	}
	for _, search := range []string{"peaches", "peaches cellar", "PEACHES  2026", "h-3310", "zzz", ""} {
		n := 0
		for _, g := range groups {
			if g.Matches(search, nil) {
				n++
				for word := range strings.FieldsSeq(search) {
					if !g.Matches(word, nil) {
						t.Errorf("%q matches but %q does not", search, word)
					}
				}
			}
		}
		if (n == 0) != (search == "zzz") || (search == "" && n != len(groups)) {
			t.Errorf("%q: got %d groups", search, n)
		}
	}
	// "Take that one": always the same product, and never one to be discarded.
	firsts := p.FirstToUse(all)
	for i := range all {
		v := &all[i]
		o := p.Instead(v, firsts)
		if o == nil {
			continue
		}
		if p.Batches[o.Jar.Batch].Product != p.Batches[v.Jar.Batch].Product || o.State() == pantry.ToDiscard {
			t.Errorf("instead of %s: got %s", v.Jar.ID, o.Jar.ID)
		}
		if back := p.Instead(o, firsts); back != nil {
			t.Errorf("the jar to use instead has another to use instead of it")
		}
	}
}

// The demo shows every state, and its tables and dates can be written.
func TestDemoShowsEverything(t *testing.T) {
	p := pantry.New()
	for _, r := range testkit.Demo(t) {
		p.Put(r)
	}
	if n := len(p.Jars); n < 240 || n > 290 {
		t.Errorf("got %d jars", n)
	}
	of := map[pantry.State]int{}
	for _, v := range p.JudgeAll(testkit.Noon) {
		of[v.State()]++
	}
	for _, st := range pantry.States {
		if of[st] == 0 {
			t.Errorf("no jar is in the state %q", st)
		}
	}
	if table := string(tables.Jars(p, testkit.Noon, nil)); strings.Count(table, "\r\n") != len(p.Jars)+1 {
		t.Errorf("got %d lines for %d jars", strings.Count(table, "\r\n"), len(p.Jars))
	}
	file, err := tables.Calendar(p, testkit.Noon, nil)
	if err != nil || !strings.Contains(string(file), "Look at every jar") || !strings.Contains(string(file), "Finish or discard") || !strings.Contains(string(file), "is a year old") {
		t.Errorf("got %s, %v", file, err)
	}
	if stocks := p.Stocks(testkit.Noon); len(stocks) < 20 {
		t.Errorf("got %d products", len(stocks))
	}
	if rows := p.Aging(testkit.Noon); len(rows) != 5 {
		t.Errorf("got aging for %d places", len(rows))
	}
}

// Pace: what was eaten in the recorded time, and how long the jars last at that
// pace.
func TestPace(t *testing.T) {
	p, _, b, jars := testkit.Home(t, "peaches")
	now := time.Date(2026, 12, 12, 12, 0, 0, 0, time.UTC) // six months after canning
	e, err := jars[0].Add(record.Eaten, now.AddDate(0, -1, 0))
	if err != nil {
		t.Fatal(err)
	}
	_ = e
	s := p.Stocks(now)
	if len(s) != 1 || s[0].Product.ID != b.Product || s[0].Shelf != 2 || s[0].Eaten != 1 || s[0].Left < 11.9 || s[0].Left > 12.1 || s[0].Suggestion() != "" {
		t.Errorf("got %+v", s)
	}
	for left, want := range map[float64]prose.Text{-1: "", 1.9: pantry.RunningOut, 2: "", 24: "", 24.1: pantry.TooMany} {
		if got := (&pantry.Stock{Left: left, Shelf: 9}).Suggestion(); got != want {
			t.Errorf("%v months: got %q", left, got)
		}
	}
}

func BenchmarkJudgeAll(b *testing.B) {
	p := testkit.Big(b)
	b.ReportMetric(float64(len(p.Jars)), "jars")
	for b.Loop() {
		p.JudgeAll(testkit.Noon)
	}
}

func BenchmarkGroups(b *testing.B) {
	p := testkit.Big(b)
	all := p.JudgeAll(testkit.Noon)
	for b.Loop() {
		p.Groups(all)
	}
}

func BenchmarkSearch(b *testing.B) {
	p := testkit.Big(b)
	groups := p.Groups(p.JudgeAll(testkit.Noon))
	for b.Loop() {
		for _, g := range groups {
			g.Matches("peaches cellar 2026", nil)
		}
	}
}

// A clock that was set back hides nothing: what is seen later counts as later,
// whatever the clock says; and a look dated in the future does not count as
// sound.
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
	b, err := record.NewBatch("peaches", testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	p.Put(b)
	for _, back := range []time.Duration{0, time.Hour, 24 * time.Hour, 20 * 365 * 24 * time.Hour} {
		j, err := record.NewJar(b.ID, 1, testkit.Noon)
		if err != nil {
			t.Fatal(err)
		}
		look(j, testkit.Noon, rules.LidDown)
		look(j, testkit.Noon.Add(-back), rules.LidBulged)
		p.Put(j)
		if v := p.Judge(j, testkit.Noon.Add(time.Hour)); v.Lowest != rules.Discard {
			t.Errorf("the clock was set back by %v: got %v for a bulging lid", back, v.Lowest)
		}
	}
	j, err := record.NewJar(b.ID, 1, testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	look(j, testkit.Noon.AddDate(1, 0, 0), rules.LidDown)
	p.Put(j)
	if _, basis := p.Situation(j, testkit.Noon); !basis.Stale {
		t.Error("a look dated next year counts as fresh")
	}
	if _, basis := p.Situation(j, testkit.Noon.AddDate(1, 0, 1)); basis.Stale {
		t.Error("a look from yesterday does not count")
	}
}

// Someone who fell ill after eating from a jar speaks against its whole batch, and
// against the jar itself whatever is seen of it later, until it is taken back.
func TestIllnessStays(t *testing.T) {
	p, _, _, jars := testkit.Home(t, "peaches")
	e, err := jars[0].Add(record.Checked, testkit.Noon.AddDate(0, 0, -3))
	if err != nil {
		t.Fatal(err)
	}
	e.Seen = []record.Seen{{Sign: "opened", Values: []string{"before"}}, {Sign: "ill", Values: []string{"yes"}}}
	id := e.ID
	testkit.Look(t, jars[0], testkit.Noon.AddDate(0, 0, -2))
	p.Put(jars[0])
	for i, j := range jars {
		if v := p.Judge(j, testkit.Noon); v.Lowest != rules.Discard {
			t.Errorf("jar %d: got %v to %v, want discard", i, v.Lowest, v.Highest)
		}
	}
	jars[0].Undo(id, true)
	p.Put(jars[0])
	for i, j := range jars {
		if v := p.Judge(j, testkit.Noon); v.Highest != rules.Keep {
			t.Errorf("jar %d, once it was taken back: got %v to %v, want keep", i, v.Lowest, v.Highest)
		}
	}
}
