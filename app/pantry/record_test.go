package pantry_test

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"larderlamp/app/backup"
	"larderlamp/app/demo"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/rules"
)

// must gives a record's bytes.
func must(t testing.TB, r record.Record) []byte {
	t.Helper()
	text, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// again reads what was written.
func again(t testing.TB, r record.Record) record.Record {
	t.Helper()
	back, err := record.Decode(r.Kind(), must(t, r))
	if err != nil {
		t.Fatal(err)
	}
	return back
}

// everyKind makes one record of each kind, drawn from the source.
func everyKind(t testing.TB, r *rand.Rand) []record.Record {
	t.Helper()
	fail := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	place, err := record.NewPlace("Cellar", noon)
	fail(err)
	batch, err := record.NewBatch("peaches", noon)
	fail(err)
	jar, err := record.NewJar(batch.ID, 1, noon)
	fail(err)
	_, err = jar.Add(record.Stored, noon)
	fail(err)
	check := sample(t, r)
	photo, err := record.NewPhoto(jar.ID, "", "/9j/AAAA", noon)
	fail(err)
	sweep, err := record.NewSweep([]string{place.ID}, []string{jar.ID}, noon)
	fail(err)
	trip, err := record.NewTrip(record.DayOf(noon), noon)
	fail(err)
	trip.Name, trip.Must = "To the lake", []string{jar.ID}
	trip.Packed = []record.Packed{{Jar: jar.ID, Open: 1, Last: 3}}
	return []record.Record{place, batch, jar, &check, photo, sweep, trip}
}

// change makes a change to a record as a device would: something of its own,
// a new revision, written.
func change(t testing.TB, rec record.Record, r *rand.Rand) record.Record {
	t.Helper()
	rec = again(t, rec)
	word := fmt.Sprint("word ", r.IntN(4))
	now := noon.Add(time.Duration(r.IntN(1000)) * time.Minute)
	switch c := rec.(type) {
	case *record.Place:
		c.Notes = word
		c.Touch(now)
	case *record.Batch:
		c.Notes = word
		c.Touch(now)
	case *record.Check:
		c.Label = word
		c.Thrown = record.DayOf(now)
		c.Touch(now)
	case *record.Photo:
		c.At = now
		c.Touch(now)
	case *record.Sweep:
		c.Ended = &now
		c.Touch(now)
	case *record.Trip:
		c.Name = word
		c.Quarts = 1 + r.IntN(317)
		c.Touch(now)
	case *record.Jar:
		switch r.IntN(3) {
		case 0:
			c.Undo(c.Events[r.IntN(len(c.Events))].ID, r.IntN(2) == 0)
		default:
			if _, err := c.Add(record.Noted, now); err != nil {
				t.Fatal(err)
			}
		}
	}
	if r.IntN(8) == 0 {
		rec.Delete(now)
	} else if rec.Gone() && r.IntN(2) == 0 {
		rec.Restore(now)
	}
	must(t, rec)
	return rec
}

func merge(t testing.TB, a, b record.Record) record.Record {
	t.Helper()
	m, err := record.Merge(again(t, a), again(t, b))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Two devices that share a history and go on apart, in any way, can be put
// together in any order and grouping: the result is the same bytes, a second
// time changes nothing, and every version that nobody replaced is there.
func TestMergeInAnyOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	draws := 400
	if testing.Short() {
		draws = 80 // all of them natively
	}
	for range draws {
		for _, first := range everyKind(t, r) {
			for range r.IntN(3) {
				first = change(t, first, r)
			}
			versions := []record.Record{first, first, first}
			for i := range versions {
				for range r.IntN(4) {
					if r.IntN(5) == 0 {
						versions[i] = merge(t, versions[i], versions[r.IntN(3)])
					} else {
						versions[i] = change(t, versions[i], r)
					}
				}
			}
			a, b, c := versions[0], versions[1], versions[2]
			ab := must(t, merge(t, a, b))
			if ba := must(t, merge(t, b, a)); !bytes.Equal(ab, ba) {
				t.Fatalf("order matters for %s:\n%s\n%s", a.Kind(), ab, ba)
			}
			left, right := must(t, merge(t, merge(t, a, b), c)), must(t, merge(t, a, merge(t, b, c)))
			if !bytes.Equal(left, right) {
				t.Fatalf("grouping matters for %s:\n%s\n%s", a.Kind(), left, right)
			}
			if same := must(t, merge(t, a, a)); !bytes.Equal(same, must(t, a)) {
				t.Fatalf("merging a %s with itself changes it:\n%s\n%s", a.Kind(), must(t, a), same)
			}
			if twice := must(t, merge(t, merge(t, a, b), b)); !bytes.Equal(twice, ab) {
				t.Fatalf("merging again changes a %s", a.Kind())
			}
			for _, v := range versions {
				kept(t, merge(t, merge(t, a, b), c), v)
			}
		}
	}
}

// kept fails unless what a version says is in the merged record, or was
// replaced by a later one: nothing is lost.
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
	if twice := must(t, merge(t, merged, v)); !bytes.Equal(twice, must(t, merged)) {
		t.Fatalf("a version of %s is lost", v.Kind())
	}
}

// Two changes made apart: the later revision stands, the other is set aside;
// a change made with knowledge of the other replaces it.
func TestMergeSetsAsideOnlyWhatWasMadeApart(t *testing.T) {
	b, err := record.NewBatch("peaches", noon)
	if err != nil {
		t.Fatal(err)
	}
	must(t, b)
	edit := func(from record.Record, notes string) *record.Batch {
		c := again(t, from).(*record.Batch)
		c.Notes = notes
		c.Touch(noon)
		must(t, c)
		return c
	}
	one, two := edit(b, "one"), edit(b, "two")
	both := merge(t, one, two).(*record.Batch)
	if len(both.Aside) != 1 {
		t.Fatalf("%d set aside", len(both.Aside))
	}
	if older := merge(t, b, one).(*record.Batch); older.Notes != "one" || len(older.Aside) != 0 {
		t.Errorf("an older version was set aside: %+v", older)
	}
	settled := again(t, both).(*record.Batch)
	settled.Settle(noon)
	must(t, settled)
	for _, v := range []record.Record{one, two, both, b} {
		if m := merge(t, settled, v).(*record.Batch); len(m.Aside) != 0 || m.Notes != settled.Notes {
			t.Errorf("what was settled came back: %+v", m)
		}
	}
}

// A deletion is a revision of its own: an older copy does not undo it.
func TestDeletionSurvivesMerge(t *testing.T) {
	for _, old := range everyKind(t, rand.New(rand.NewPCG(5, 6))) {
		old = again(t, old)
		if old.Gone() {
			old.Restore(noon)
			must(t, old)
		}
		gone := again(t, old)
		gone.Delete(noon.Add(time.Hour))
		must(t, gone)
		if m := merge(t, old, gone); !m.Gone() {
			t.Errorf("%s came back", m.Kind())
		}
		back := again(t, gone)
		back.Restore(noon.Add(2 * time.Hour))
		must(t, back)
		if m := merge(t, gone, back); m.Gone() {
			t.Errorf("%s was not restored", m.Kind())
		}
	}
}

// Records of one kind and id only.
func TestMergeOfDifferentRecordsIsRefused(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	a, b := everyKind(t, r), everyKind(t, r)
	for i := range a {
		if _, err := record.Merge(a[i], b[i]); err == nil {
			t.Errorf("two different %s were merged", a[i].Kind())
		}
		if _, err := record.Merge(a[i], a[(i+1)%len(a)]); err == nil {
			t.Errorf("%s was merged with another kind", a[i].Kind())
		}
	}
}

// Every record comes back as it was written, and its bytes do not change.
func TestEveryKindComesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 200 {
		for _, rec := range everyKind(t, r) {
			rec = change(t, rec, r)
			if text := must(t, rec); !bytes.Equal(text, must(t, again(t, rec))) {
				t.Fatalf("%s changes by being read:\n%s\n%s", rec.Kind(), text, must(t, again(t, rec)))
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
		t.Errorf("%+v", c)
	}
}

// Every fault of every kind is refused with the name of the record and of the
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
		records := everyKind(t, rand.New(rand.NewPCG(11, 12)))
		spoil(records)
		for _, rec := range records {
			_, err := rec.Encode()
			if string(rec.Kind()) != kind {
				if err != nil {
					t.Errorf("%s: the %s are refused too: %v", field, rec.Kind(), err)
				}
				continue
			}
			if err == nil || !strings.Contains(err.Error(), ": "+name+": ") || !strings.Contains(err.Error(), rec.Key()) {
				t.Errorf("%s: %v", field, err)
			}
		}
	}
}

// Jars of the demo are real records: a backup of it comes back byte for byte,
// and taking it in twice changes nothing.
func TestBackupComesBack(t *testing.T) {
	records := demoRecords(t)
	text, err := backup.Write(backup.File{Written: noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: noon}, Records: records})
	if err != nil {
		t.Fatal(err)
	}
	b, err := backup.Read(text)
	if err != nil {
		t.Fatal(err)
	}
	second, err := backup.Write(*b)
	if err != nil || !bytes.Equal(text, second) {
		t.Fatalf("the backup changes by being read: %v", err)
	}
	here := map[string]record.Record{}
	find := func(k record.Kind, id string) (record.Record, error) {
		if r, ok := here[string(k)+id]; ok {
			return r, nil
		}
		return nil, nil
	}
	p, err := backup.PlanMerge(b, find)
	if err != nil || len(p.Writes) != len(records) || p.Added[record.Jars] == 0 {
		t.Fatalf("%+v, %v", p, err)
	}
	for _, r := range p.Writes {
		here[string(r.Kind())+r.Key()] = r
	}
	if p, err = backup.PlanMerge(b, find); err != nil || len(p.Writes) != 0 {
		t.Fatalf("the second time %d records change, %v", len(p.Writes), err)
	}
}

// A file with a fault is refused as a whole, with a message that says where.
func TestBadBackupsAreRefused(t *testing.T) {
	good, err := backup.Write(backup.File{Written: noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: noon}, Records: demoRecords(t)[:40]})
	if err != nil {
		t.Fatal(err)
	}
	replace := func(old, with string) string {
		s := strings.Replace(string(good), old, with, 1)
		if s == string(good) {
			t.Fatalf("%q is not in the backup", old)
		}
		return s
	}
	for name, c := range map[string]struct{ text, want string }{
		"empty":           {"", "cut off"},
		"cut off":         {string(good[:len(good)/2]), "cut off"},
		"not JSON":        {"Dear sister, ", "byte 1"},
		"another program": {replace(`"larderlamp-backup"`, `"other"`), "format"},
		"another version": {replace(`"version":3`, `"version":9`), "version 9"},
		"two backups":     {string(good) + string(good), "follows"},
		"unknown field":   {replace(`"edition"`, `"color":1,"edition"`), "color"},
		"a jar at fault":  {replace(`"number":1`, `"number":-1`), "number"},
		"a huge number":   {replace(`"number":1`, `"number":1e99`), "number"},
		"an id twice":     {replace(`"batches":[`, `"batches":[`+first(t, good, "batches")+`,`), "is also that of"},
		"deep nesting":    {replace(`"photos":[]`, `"photos":[`+strings.Repeat("[", 20000)+strings.Repeat("]", 20000)+`]`), "depth"},
		"markup is no id": {replace(`"batch":"`, `"batch":"<script>`), "batch"},
		"null for a list": {replace(`"photos":[]`, `"photos":[null]`), "photos, number 1"},
	} {
		b, err := backup.Read([]byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
		_ = b
	}
}

// A file that is no backup is named by what it is, in words without bytes and
// characters, and with what to do.
func TestWrongFilesAreNamed(t *testing.T) {
	good, err := backup.Write(backup.File{Written: noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version, Changed: noon}, Records: demoRecords(t)[:40]})
	if err != nil {
		t.Fatal(err)
	}
	p := pantry.New()
	for _, r := range demoRecords(t) {
		p.Put(r)
	}
	dates, err := tables.Calendar(p, noon)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"": "empty", " \n": "empty",
		string(tables.Jars(p, noon)):                    "a table",
		"product;date;jars\npeaches;1 May 2026;7\n":     "a table",
		"product\tdate\tjars\npeaches\t1 May 2026\t7\n": "a table",
		string(dates):                         "a calendar",
		"\xff\xd8\xff\xe0\x00\x10JFIF":        "a picture",
		"\x89PNG\r\n\x1a\n":                   "a picture",
		"\x00\x00\x00\x18ftypheic":            "a picture",
		"%PDF-1.7\n":                          "a document",
		"<!doctype html><p>x":                 "a document",
		"PK\x03\x04....":                      "packed",
		`{"name":"x"}`:                        "another program",
		`[1,2]`:                               "another program",
		"Dear sister, it rains.":              "not a backup",
		string(good[:len(good)/2]):            "cut off",
		"\ufeff" + string(good[:len(good)-3]): "cut off",
	} {
		_, err := backup.Read([]byte(text))
		wrong, ok := errors.AsType[*backup.NotBackup](err)
		if !ok {
			t.Errorf("%.30q: %v", text, err)
			continue
		}
		if says := wrong.Plain(); !strings.Contains(says, want) || strings.Contains(says, "byte") || strings.Contains(says, "character") {
			t.Errorf("%.30q: %s", text, says)
		}
	}
}

// first gives the first record of a list of a backup.
func first(t *testing.T, text []byte, list string) string {
	t.Helper()
	_, rest, ok := strings.Cut(string(text), `"`+list+`":[`)
	if !ok {
		t.Fatal(list)
	}
	depth := 0
	for i, c := range rest {
		switch c {
		case '{':
			depth++
		case '}':
			if depth--; depth == 0 {
				return rest[:i+1]
			}
		}
	}
	t.Fatal("no end")
	return ""
}

func demoRecords(t testing.TB) []record.Record {
	t.Helper()
	records, err := demo.Records(noon)
	if err != nil {
		t.Fatal(err)
	}
	return records
}
