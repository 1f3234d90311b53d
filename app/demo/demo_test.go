package demo_test

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/demo"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// On any day the household is whole: every reference leads somewhere, every batch has
// the jars that it counts, nothing lies ahead, and no jar has a past before its batch.
func TestEveryDay(t *testing.T) {
	first := time.Date(2026, time.January, 1, 8, 30, 0, 0, time.UTC)
	step := 1
	if testing.Short() {
		step = 13
	}
	for day := 0; day < 3*366; day += step {
		now := first.AddDate(0, 0, day).Add(time.Duration(day%24) * time.Hour)
		records, err := demo.Records(now)
		if err != nil {
			t.Fatalf("%s: %v", now, err)
		}
		places, batches, jars := map[string]bool{}, map[string]*record.Batch{}, map[string]int{}
		for _, r := range records {
			switch r := r.(type) {
			case *record.Place:
				places[r.ID] = true
			case *record.Batch:
				batches[r.ID] = r
				if r.Made > record.DayOf(now) {
					t.Fatalf("%s: %s was made %s", now, r.Product, r.Made)
				}
			}
		}
		for _, r := range records {
			j, ok := r.(*record.Jar)
			if !ok {
				continue
			}
			b := batches[j.Batch]
			if b == nil {
				t.Fatalf("%s: got a jar of no batch", now)
			}
			jars[b.ID]++
			for _, e := range j.Events {
				if e.Place != "" && !places[e.Place] {
					t.Fatalf("%s, %s: got a place that there is not", now, b.Product)
				}
				if record.DayOf(e.At) < b.Made || e.At.After(now.AddDate(0, 0, 1)) {
					t.Fatalf("%s, %s: got %s at %s, made %s", now, b.Product, e.What, e.At, b.Made)
				}
			}
		}
		for id, b := range batches {
			if jars[id] != b.Count {
				t.Fatalf("%s, %s: got %d jars, want %d", now, b.Product, jars[id], b.Count)
			}
		}
	}
}

// louder is a language in which everything is said in capital letters.
type louder struct{ prose.English }

// Whole implements prose.Language.
func (louder) Whole(english string) string { return strings.ToUpper(english) }

// In another language every name of the household is in it, and the same has happened.
func TestNamesAreInTheLanguage(t *testing.T) {
	now := time.Date(2026, time.November, 27, 12, 0, 0, 0, time.UTC)
	plain, err := demo.Records(now)
	if err != nil {
		t.Fatal(err)
	}
	loud, err := demo.RecordsIn(louder{}, now)
	if err != nil {
		t.Fatal(err)
	}
	if len(loud) != len(plain) {
		t.Fatalf("got %d records, want %d", len(loud), len(plain))
	}
	named := 0
	for i, r := range loud {
		var got, want string
		switch r := r.(type) {
		case *record.Place:
			got, want = r.Name, plain[i].(*record.Place).Name
		case *record.Batch:
			got, want = r.Title, plain[i].(*record.Batch).Title
			if r.Product != plain[i].(*record.Batch).Product {
				t.Errorf("%s: got a batch of %s", got, r.Product)
			}
		case *record.Jar:
			if len(r.Events) != len(plain[i].(*record.Jar).Events) {
				t.Errorf("jar %d: got %d events", i, len(r.Events))
			}
		}
		if got != strings.ToUpper(want) {
			t.Errorf("got the name %q, want that of %q", got, want)
		}
		if got != "" {
			named++
		}
	}
	if named != 11 {
		t.Errorf("got %d names, want 6 of places and 5 of batches", named)
	}
}

// The household shows what the guide can do: jars to keep, to use soon and to discard,
// open, gone and missing ones, and every trouble that a look can find.
func TestShowsTroubles(t *testing.T) {
	now := time.Date(2026, time.November, 27, 12, 0, 0, 0, time.UTC)
	p := testkit.Invented(t, now)
	verdicts, seen := map[rules.Verdict]int{}, map[rules.Value]int{}
	what := map[string]int{}
	for _, j := range p.Jars {
		for _, e := range j.Events {
			what[e.What]++
			for _, v := range e.Values() {
				seen[v]++
			}
		}
		if s := j.Standing(); s.Ended == nil {
			verdicts[p.Judge(j, now).Highest]++
		}
	}
	for _, v := range []rules.Value{rules.LidBulged, rules.PressGives, rules.ColorPink, rules.TopFat, rules.CloudSettled, rules.SeepStreak} {
		if seen[v] != 1 {
			t.Errorf("%s of %s: got %d jars, want one", v.ID(), v.Sign().ID(), seen[v])
		}
	}
	for w, most := range map[string]int{record.Opened: 3, record.Discarded: 2, record.Missing: 1, record.Moved: 4} {
		if what[w] != most {
			t.Errorf("%s: got %d times, want %d", w, what[w], most)
		}
	}
	for _, v := range []rules.Verdict{rules.Keep, rules.UseSoon, rules.Discard} {
		if verdicts[v] < 5 {
			t.Errorf("%v: got %d jars of %v", v, verdicts[v], slices.Collect(maps.Values(verdicts)))
		}
	}
}
