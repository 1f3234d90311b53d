package record_test

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/testkit"
)

// Two devices that share a history and then change it independently, in any
// way, can be merged in any order and grouping: the result is the same bytes, a
// second merge changes nothing, and every version that nobody replaced is
// there.
func TestMergeInAnyOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	draws := 400
	if testing.Short() {
		draws = 80 // all of them natively
	}
	for range draws {
		for _, first := range testkit.EveryKind(t, r) {
			for range r.IntN(3) {
				first = testkit.Change(t, first, r)
			}
			versions := []record.Record{first, first, first}
			for i := range versions {
				for range r.IntN(4) {
					if r.IntN(5) == 0 {
						versions[i] = testkit.Merge(t, versions[i], versions[r.IntN(3)])
					} else {
						versions[i] = testkit.Change(t, versions[i], r)
					}
				}
			}
			a, b, c := versions[0], versions[1], versions[2]
			ab := testkit.Encoded(t, testkit.Merge(t, a, b))
			if ba := testkit.Encoded(t, testkit.Merge(t, b, a)); !bytes.Equal(ab, ba) {
				t.Fatalf("order matters for %s:\n%s\n%s", a.Kind(), ab, ba)
			}
			left, right := testkit.Encoded(t, testkit.Merge(t, testkit.Merge(t, a, b), c)), testkit.Encoded(t, testkit.Merge(t, a, testkit.Merge(t, b, c)))
			if !bytes.Equal(left, right) {
				t.Fatalf("grouping matters for %s:\n%s\n%s", a.Kind(), left, right)
			}
			if same := testkit.Encoded(t, testkit.Merge(t, a, a)); !bytes.Equal(same, testkit.Encoded(t, a)) {
				t.Fatalf("merging a %s with itself changes it:\n%s\n%s", a.Kind(), testkit.Encoded(t, a), same)
			}
			if twice := testkit.Encoded(t, testkit.Merge(t, testkit.Merge(t, a, b), b)); !bytes.Equal(twice, ab) {
				t.Fatalf("merging again changes a %s", a.Kind())
			}
			for _, v := range versions {
				kept(t, testkit.Merge(t, testkit.Merge(t, a, b), c), v)
			}
		}
	}
}

// kept fails unless what a version says is in the merged record, or was
// replaced by a later version: nothing is lost.
func kept(t *testing.T, merged, v record.Record) {
	t.Helper()
	if j, ok := v.(*record.Jar); ok {
		have := map[string]int{}
		for _, e := range merged.(*record.Jar).Events {
			have[e.ID] = e.Revision
		}
		for _, e := range j.Events {
			if rev, ok := have[e.ID]; !ok || rev < e.Revision {
				t.Fatalf("event %s of revision %d is lost", e.ID, e.Revision)
			}
		}
	}
	// Merging it once more adds nothing: it is there, aside, or past.
	if twice := testkit.Encoded(t, testkit.Merge(t, merged, v)); !bytes.Equal(twice, testkit.Encoded(t, merged)) {
		t.Fatalf("a version of %s is lost", v.Kind())
	}
}

// Two independent changes: the later revision wins, the other is set aside; a
// change made with knowledge of the other replaces it.
func TestMergeSetsAsideOnlyWhatWasMadeApart(t *testing.T) {
	b, err := record.NewBatch("peaches", testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	testkit.Encoded(t, b)
	edit := func(from record.Record, notes string) *record.Batch {
		c := testkit.ReadBack(t, from).(*record.Batch)
		c.Notes = notes
		c.Touch(testkit.Noon)
		testkit.Encoded(t, c)
		return c
	}
	one, two := edit(b, "one"), edit(b, "two")
	both := testkit.Merge(t, one, two).(*record.Batch)
	if len(both.Aside) != 1 {
		t.Fatalf("got %d set aside", len(both.Aside))
	}
	if older := testkit.Merge(t, b, one).(*record.Batch); older.Notes != "one" || len(older.Aside) != 0 {
		t.Errorf("an older version was set aside: %+v", older)
	}
	settled := testkit.ReadBack(t, both).(*record.Batch)
	settled.Settle(testkit.Noon)
	testkit.Encoded(t, settled)
	for _, v := range []record.Record{one, two, both, b} {
		if m := testkit.Merge(t, settled, v).(*record.Batch); len(m.Aside) != 0 || m.Notes != settled.Notes {
			t.Errorf("what was settled came back: %+v", m)
		}
	}
}

// Whichever of two versions made apart the person chooses, its words count from then
// on, nothing is set aside any more, and it replaces both wherever they still are.
func TestChosenReplacesTheOthers(t *testing.T) {
	words := func(r record.Record) string {
		switch r := r.(type) {
		case *record.Batch:
			return r.Notes
		case *record.Place:
			return r.Notes
		}
		t.Fatalf("got a %T", r)
		return ""
	}
	now := testkit.Noon.Add(time.Hour)
	for _, made := range []func() (record.Record, func(record.Record, string)){
		func() (record.Record, func(record.Record, string)) {
			b, err := record.NewBatch("peaches", testkit.Noon)
			if err != nil {
				t.Fatal(err)
			}
			return b, func(r record.Record, notes string) { r.(*record.Batch).Notes = notes; r.(*record.Batch).Touch(now) }
		},
		func() (record.Record, func(record.Record, string)) {
			p, err := record.NewPlace("Cellar", testkit.Noon)
			if err != nil {
				t.Fatal(err)
			}
			return p, func(r record.Record, notes string) { r.(*record.Place).Notes = notes; r.(*record.Place).Touch(now) }
		},
	} {
		first, change := made()
		a, b := testkit.ReadBack(t, first), testkit.ReadBack(t, first)
		change(a, "here")
		change(b, "there")
		both := testkit.Merge(t, a, b)
		aside := record.SetAside(both)
		if len(aside) != 1 {
			t.Fatalf("%s: got %d versions set aside, want 1", both.Kind(), len(aside))
		}
		lost, err := record.Decode(both.Kind(), aside[0])
		if err != nil {
			t.Fatal(err)
		}
		for _, version := range []record.Record{both, lost} {
			want := words(version)
			chosen, err := record.Chosen(testkit.ReadBack(t, both), version, now)
			if err != nil {
				t.Fatal(err)
			}
			for _, other := range []record.Record{chosen, a, b, both} {
				got := testkit.Merge(t, chosen, other)
				if words(got) != want || len(record.SetAside(got)) != 0 {
					t.Errorf("%s: got %q and %d set aside, want %q and none", got.Kind(), words(got), len(record.SetAside(got)), want)
				}
			}
		}
	}
}

// A deletion is a revision of its own: an older copy does not undo it.
func TestDeletionSurvivesMerge(t *testing.T) {
	for _, old := range testkit.EveryKind(t, rand.New(rand.NewPCG(5, 6))) {
		old = testkit.ReadBack(t, old)
		if old.IsDeleted() {
			old.Restore(testkit.Noon)
			testkit.Encoded(t, old)
		}
		gone := testkit.ReadBack(t, old)
		gone.Delete(testkit.Noon.Add(time.Hour))
		testkit.Encoded(t, gone)
		if m := testkit.Merge(t, old, gone); !m.IsDeleted() {
			t.Errorf("%s came back", m.Kind())
		}
		back := testkit.ReadBack(t, gone)
		back.Restore(testkit.Noon.Add(2 * time.Hour))
		testkit.Encoded(t, back)
		if m := testkit.Merge(t, gone, back); m.IsDeleted() {
			t.Errorf("%s was not restored", m.Kind())
		}
	}
}

// Only records of one kind and id can be merged.
func TestMergeOfDifferentRecordsIsRefused(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	a, b := testkit.EveryKind(t, r), testkit.EveryKind(t, r)
	for i := range a {
		if _, err := record.Merge(a[i], b[i]); err == nil {
			t.Errorf("two different %s were merged", a[i].Kind())
		}
		if _, err := record.Merge(a[i], a[(i+1)%len(a)]); err == nil {
			t.Errorf("%s was merged with another kind", a[i].Kind())
		}
	}
}

// SweepMonths record comes back as it was written, and its bytes do not change.
func TestEveryKindComesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		for _, rec := range testkit.EveryKind(t, r) {
			rec = testkit.Change(t, rec, r)
			if text := testkit.Encoded(t, rec); !bytes.Equal(text, testkit.Encoded(t, testkit.ReadBack(t, rec))) {
				t.Fatalf("%s changed when it was read:\n%s\n%s", rec.Kind(), text, testkit.Encoded(t, testkit.ReadBack(t, rec)))
			}
		}
	}
}

// A check of the first version is read, and becomes one of this version.
func TestFirstVersionIsRead(t *testing.T) {
	const old = `{"version":1,"id":"0199f1f0-7b7c-7abc-8def-0123456789ab","product":"green-beans","begun":"2026-09-12T12:00:00Z","changed":"2026-09-12T12:05:00Z","answers":[{"sign":"lid","values":["down"],"question":"lid","at":"2026-09-12T12:00:01Z"}],"edition":"2026.1","lowest":"keep","highest":"discard","finished":false,"revision":3}`
	c, err := record.DecodeCheck([]byte(old))
	if err != nil {
		t.Fatal(err)
	}
	if c.Version != record.Version || len(c.Answers) != 1 || c.Revision != 3 {
		t.Errorf("got %+v", c)
	}
}

// SweepMonths fault in every kind is refused with the name of the record and of the
// field.
func TestFaultsOfTheShelfNameTheField(t *testing.T) {
	n := func(v int) *int { return &v }
	for field, spoil := range map[string]func([]record.Record){
		"places name":             func(r []record.Record) { r[0].(*record.Place).Name = "" },
		"places name: characters": func(r []record.Record) { r[0].(*record.Place).Name = "a\u202eb" },
		"places what":             func(r []record.Record) { r[0].(*record.Place).What = "attic" },
		"places order":            func(r []record.Record) { r[0].(*record.Place).Order = -1 },
		"places wet":              func(r []record.Record) { r[0].(*record.Place).Wet = "soaked" },
		"places light":            func(r []record.Record) { r[0].(*record.Place).Light = "dry" },
		"places air: how":         func(r []record.Record) { r[0].(*record.Place).Air = &record.Air{} },
		"places air: low":         func(r []record.Record) { r[0].(*record.Place).Air = &record.Air{How: record.Steady, Low: 10, High: 5} },
		"places air: summer": func(r []record.Record) {
			r[0].(*record.Place).Air = &record.Air{How: record.Seasons, Summer: [2]int{1, 1001}}
		},
		"places air: swing": func(r []record.Record) { r[0].(*record.Place).Air = &record.Air{How: record.Seasons, Swing: 501} },
		"places air: days: 1": func(r []record.Record) {
			r[0].(*record.Place).Air = &record.Air{How: record.Days, Days: []record.DayReading{{Day: "2025-02-30", Min: 1, Max: 2}}}
		},
		"places air: days: 2": func(r []record.Record) {
			r[0].(*record.Place).Air = &record.Air{How: record.Days, Days: []record.DayReading{{Day: "2025-03-01", Min: 1, Max: 2}, {Day: "2025-03-01", Min: 1, Max: 2}}}
		},
		"batches product":                  func(r []record.Record) { r[1].(*record.Batch).Product = "<b>" },
		"batches made":                     func(r []record.Record) { r[1].(*record.Batch).Made = "31.8.2025" },
		"batches count":                    func(r []record.Record) { r[1].(*record.Batch).Count = 0 },
		"batches size":                     func(r []record.Record) { r[1].(*record.Batch).Size = "bucket" },
		"batches method":                   func(r []record.Record) { r[1].(*record.Batch).Method = "wishing" },
		"batches standing":                 func(r []record.Record) { r[1].(*record.Batch).Standing = "full" },
		"batches gauge":                    func(r []record.Record) { r[1].(*record.Batch).Gauge = "guess" },
		"batches minutes":                  func(r []record.Record) { r[1].(*record.Batch).Minutes = n(1001) },
		"batches tenths_psi":               func(r []record.Record) { r[1].(*record.Batch).TenthsPSI = n(-1) },
		"batches altitude_feet":            func(r []record.Record) { r[1].(*record.Batch).Feet = n(record.MostAltitude + 1) },
		"batches reads_high_tenths_psi":    func(r []record.Record) { r[1].(*record.Batch).ReadsHigh = n(101) },
		"batches title":                    func(r []record.Record) { r[1].(*record.Batch).Title = strings.Repeat("x", record.MostName+1) },
		"jars batch":                       func(r []record.Record) { r[2].(*record.Jar).Batch = "7" },
		"jars number":                      func(r []record.Record) { r[2].(*record.Jar).Number = 0 },
		"jars events: 1: id":               func(r []record.Record) { r[2].(*record.Jar).Events[0].ID = "" },
		"jars events: 1: what":             func(r []record.Record) { r[2].(*record.Jar).Events[0].What = "flew" },
		"jars events: 1: at":               func(r []record.Record) { r[2].(*record.Jar).Events[0].At = time.Time{} },
		"jars events: 1: why":              func(r []record.Record) { r[2].(*record.Jar).Events[0].Why = "mood" },
		"jars events: 1: seen":             func(r []record.Record) { r[2].(*record.Jar).Events[0].Seen = []record.Seen{{Sign: "lid", Values: nil}} },
		"jars events: 1: warmest_tenths_c": func(r []record.Record) { r[2].(*record.Jar).Events[0].Warmest = n(1501) },
		"photos jpeg":                      func(r []record.Record) { r[4].(*record.Photo).JPEG = "PHN2Zz4=" },
		"photos jar":                       func(r []record.Record) { r[4].(*record.Photo).Jar = "" },
		"sweeps order":                     func(r []record.Record) { r[5].(*record.Sweep).Order = []string{"x"} },
		"trips days":                       func(r []record.Record) { r[6].(*record.Trip).Days = 22 },
		"trips people":                     func(r []record.Record) { r[6].(*record.Trip).People = 0 },
		"trips meals":                      func(r []record.Record) { r[6].(*record.Trip).Meals = []int{1} },
		"trips weather":                    func(r []record.Record) { r[6].(*record.Trip).Weather = nil },
		"trips cooler":                     func(r []record.Record) { r[6].(*record.Trip).Cooler = "cellar" },
		"trips packed":                     func(r []record.Record) { r[6].(*record.Trip).Packed[0].Jar = "7" },
		"trips must":                       func(r []record.Record) { r[6].(*record.Trip).Must = []string{""} },
		"jars events: 1: coldest_tenths_c": func(r []record.Record) { r[2].(*record.Jar).Events[0].Coldest = n(-1001) },
		"sweeps begun":                     func(r []record.Record) { r[5].(*record.Sweep).Begun = time.Time{} },
	} {
		kind, name, _ := strings.Cut(field, " ")
		name, _, _ = strings.Cut(name, ": characters")
		records := testkit.EveryKind(t, rand.New(rand.NewPCG(11, 12)))
		spoil(records)
		for _, rec := range records {
			_, err := rec.Encode()
			if string(rec.Kind()) != kind {
				if err != nil {
					t.Errorf("%s: the fault also makes the %s invalid: %v", field, rec.Kind(), err)
				}
				continue
			}
			if err == nil || !strings.Contains(err.Error(), ": "+name+": ") || !strings.Contains(err.Error(), rec.Key()) {
				t.Errorf("%s: got %v", field, err)
			}
		}
	}
}
