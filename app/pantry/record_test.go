package pantry_test

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/rules"
)

// must gives a record's bytes.
func must(t testing.TB, r pantry.Record) []byte {
	t.Helper()
	text, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// again reads what was written.
func again(t testing.TB, r pantry.Record) pantry.Record {
	t.Helper()
	back, err := pantry.Decode(r.Kind(), must(t, r))
	if err != nil {
		t.Fatal(err)
	}
	return back
}

// everyKind makes one record of each kind, drawn from the source.
func everyKind(t testing.TB, r *rand.Rand) []pantry.Record {
	t.Helper()
	fail := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	place, err := pantry.NewPlace("Cellar", noon)
	fail(err)
	batch, err := pantry.NewBatch("peaches", noon)
	fail(err)
	jar, err := pantry.NewJar(batch.ID, 1, noon)
	fail(err)
	_, err = jar.Add(pantry.Stored, noon)
	fail(err)
	check := sample(t, r)
	photo, err := pantry.NewPhoto(jar.ID, "", "/9j/AAAA", noon)
	fail(err)
	sweep, err := pantry.NewSweep([]string{place.ID}, []string{jar.ID}, noon)
	fail(err)
	trip, err := pantry.NewTrip(pantry.DayOf(noon), noon)
	fail(err)
	trip.Name, trip.Must = "To the lake", []string{jar.ID}
	trip.Packed = []pantry.Packed{{Jar: jar.ID, Open: 1, Last: 3}}
	return []pantry.Record{place, batch, jar, &check, photo, sweep, trip}
}

// change makes a change to a record as a device would: something of its own,
// a new revision, written.
func change(t testing.TB, rec pantry.Record, r *rand.Rand) pantry.Record {
	t.Helper()
	rec = again(t, rec)
	word := fmt.Sprint("word ", r.IntN(4))
	now := noon.Add(time.Duration(r.IntN(1000)) * time.Minute)
	switch c := rec.(type) {
	case *pantry.Place:
		c.Notes = word
		c.Touch(now)
	case *pantry.Batch:
		c.Notes = word
		c.Touch(now)
	case *pantry.Check:
		c.Label = word
		c.Touch(now)
	case *pantry.Photo:
		c.At = now
		c.Touch(now)
	case *pantry.Sweep:
		c.Ended = &now
		c.Touch(now)
	case *pantry.Trip:
		c.Name = word
		c.Touch(now)
	case *pantry.Jar:
		switch r.IntN(3) {
		case 0:
			c.Undo(c.Events[r.IntN(len(c.Events))].ID, r.IntN(2) == 0)
		default:
			if _, err := c.Add(pantry.Noted, now); err != nil {
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

func merge(t testing.TB, a, b pantry.Record) pantry.Record {
	t.Helper()
	m, err := pantry.Merge(again(t, a), again(t, b))
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
			versions := []pantry.Record{first, first, first}
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
func kept(t *testing.T, merged, v pantry.Record) {
	t.Helper()
	if j, ok := v.(*pantry.Jar); ok {
		have := map[string]int{}
		for _, e := range merged.(*pantry.Jar).Events {
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
	b, err := pantry.NewBatch("peaches", noon)
	if err != nil {
		t.Fatal(err)
	}
	must(t, b)
	edit := func(from pantry.Record, notes string) *pantry.Batch {
		c := again(t, from).(*pantry.Batch)
		c.Notes = notes
		c.Touch(noon)
		must(t, c)
		return c
	}
	one, two := edit(b, "one"), edit(b, "two")
	both := merge(t, one, two).(*pantry.Batch)
	if len(both.Aside) != 1 {
		t.Fatalf("%d set aside", len(both.Aside))
	}
	if older := merge(t, b, one).(*pantry.Batch); older.Notes != "one" || len(older.Aside) != 0 {
		t.Errorf("an older version was set aside: %+v", older)
	}
	settled := again(t, both).(*pantry.Batch)
	settled.Settle(noon)
	must(t, settled)
	for _, v := range []pantry.Record{one, two, both, b} {
		if m := merge(t, settled, v).(*pantry.Batch); len(m.Aside) != 0 || m.Notes != settled.Notes {
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
		if _, err := pantry.Merge(a[i], b[i]); err == nil {
			t.Errorf("two different %s were merged", a[i].Kind())
		}
		if _, err := pantry.Merge(a[i], a[(i+1)%len(a)]); err == nil {
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
	c, err := pantry.DecodeCheck([]byte(old))
	if err != nil {
		t.Fatal(err)
	}
	if c.Version != pantry.Version || len(c.Answers) != 1 || c.Revision != 3 {
		t.Errorf("%+v", c)
	}
}

// Every fault of every kind is refused with the name of the record and of the
// field.
func TestFaultsOfTheShelfNameTheField(t *testing.T) {
	n := func(v int) *int { return &v }
	for field, spoil := range map[string]func([]pantry.Record){
		"places name":             func(r []pantry.Record) { r[0].(*pantry.Place).Name = "" },
		"places name: characters": func(r []pantry.Record) { r[0].(*pantry.Place).Name = "a\u202eb" },
		"places what":             func(r []pantry.Record) { r[0].(*pantry.Place).What = "attic" },
		"places order":            func(r []pantry.Record) { r[0].(*pantry.Place).Order = -1 },
		"places wet":              func(r []pantry.Record) { r[0].(*pantry.Place).Wet = "soaked" },
		"places light":            func(r []pantry.Record) { r[0].(*pantry.Place).Light = "dry" },
		"places air: how":         func(r []pantry.Record) { r[0].(*pantry.Place).Air = &pantry.Air{} },
		"places air: low":         func(r []pantry.Record) { r[0].(*pantry.Place).Air = &pantry.Air{How: pantry.Steady, Low: 10, High: 5} },
		"places air: summer": func(r []pantry.Record) {
			r[0].(*pantry.Place).Air = &pantry.Air{How: pantry.Seasons, Summer: [2]int{1, 1001}}
		},
		"places air: swing": func(r []pantry.Record) { r[0].(*pantry.Place).Air = &pantry.Air{How: pantry.Seasons, Swing: 501} },
		"places air: days: 1": func(r []pantry.Record) {
			r[0].(*pantry.Place).Air = &pantry.Air{How: pantry.Days, Days: []pantry.DayReading{{"2025-02-30", 1, 2}}}
		},
		"places air: days: 2": func(r []pantry.Record) {
			r[0].(*pantry.Place).Air = &pantry.Air{How: pantry.Days, Days: []pantry.DayReading{{"2025-03-01", 1, 2}, {"2025-03-01", 1, 2}}}
		},
		"batches product":                  func(r []pantry.Record) { r[1].(*pantry.Batch).Product = "<b>" },
		"batches made":                     func(r []pantry.Record) { r[1].(*pantry.Batch).Made = "31.8.2025" },
		"batches count":                    func(r []pantry.Record) { r[1].(*pantry.Batch).Count = 0 },
		"batches size":                     func(r []pantry.Record) { r[1].(*pantry.Batch).Size = "bucket" },
		"batches method":                   func(r []pantry.Record) { r[1].(*pantry.Batch).Method = "wishing" },
		"batches standing":                 func(r []pantry.Record) { r[1].(*pantry.Batch).Standing = "full" },
		"batches gauge":                    func(r []pantry.Record) { r[1].(*pantry.Batch).Gauge = "guess" },
		"batches minutes":                  func(r []pantry.Record) { r[1].(*pantry.Batch).Minutes = n(1001) },
		"batches tenths_psi":               func(r []pantry.Record) { r[1].(*pantry.Batch).TenthsPSI = n(-1) },
		"batches altitude_feet":            func(r []pantry.Record) { r[1].(*pantry.Batch).Feet = n(pantry.MostAltitude + 1) },
		"batches reads_high_tenths_psi":    func(r []pantry.Record) { r[1].(*pantry.Batch).ReadsHigh = n(101) },
		"batches title":                    func(r []pantry.Record) { r[1].(*pantry.Batch).Title = strings.Repeat("x", pantry.MostName+1) },
		"jars batch":                       func(r []pantry.Record) { r[2].(*pantry.Jar).Batch = "7" },
		"jars number":                      func(r []pantry.Record) { r[2].(*pantry.Jar).Number = 0 },
		"jars events: 1: id":               func(r []pantry.Record) { r[2].(*pantry.Jar).Events[0].ID = "" },
		"jars events: 1: what":             func(r []pantry.Record) { r[2].(*pantry.Jar).Events[0].What = "flew" },
		"jars events: 1: at":               func(r []pantry.Record) { r[2].(*pantry.Jar).Events[0].At = time.Time{} },
		"jars events: 1: why":              func(r []pantry.Record) { r[2].(*pantry.Jar).Events[0].Why = "mood" },
		"jars events: 1: seen":             func(r []pantry.Record) { r[2].(*pantry.Jar).Events[0].Seen = []pantry.Seen{{"lid", nil}} },
		"jars events: 1: warmest_tenths_c": func(r []pantry.Record) { r[2].(*pantry.Jar).Events[0].Warmest = n(1501) },
		"photos jpeg":                      func(r []pantry.Record) { r[4].(*pantry.Photo).JPEG = "PHN2Zz4=" },
		"photos jar":                       func(r []pantry.Record) { r[4].(*pantry.Photo).Jar = "" },
		"sweeps order":                     func(r []pantry.Record) { r[5].(*pantry.Sweep).Order = []string{"x"} },
		"trips days":                       func(r []pantry.Record) { r[6].(*pantry.Trip).Days = 22 },
		"trips people":                     func(r []pantry.Record) { r[6].(*pantry.Trip).People = 0 },
		"trips meals":                      func(r []pantry.Record) { r[6].(*pantry.Trip).Meals = []int{1} },
		"trips weather":                    func(r []pantry.Record) { r[6].(*pantry.Trip).Weather = nil },
		"trips cooler":                     func(r []pantry.Record) { r[6].(*pantry.Trip).Cooler = "cellar" },
		"trips packed":                     func(r []pantry.Record) { r[6].(*pantry.Trip).Packed[0].Jar = "7" },
		"trips must":                       func(r []pantry.Record) { r[6].(*pantry.Trip).Must = []string{""} },
		"jars events: 1: coldest_tenths_c": func(r []pantry.Record) { r[2].(*pantry.Jar).Events[0].Coldest = n(-1001) },
		"sweeps begun":                     func(r []pantry.Record) { r[5].(*pantry.Sweep).Begun = time.Time{} },
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
	text, err := pantry.WriteBackup(pantry.Backup{Written: noon, Edition: rules.Edition, Settings: pantry.Settings{Version: pantry.Version, Changed: noon}, Records: records})
	if err != nil {
		t.Fatal(err)
	}
	b, err := pantry.ReadBackup(text)
	if err != nil {
		t.Fatal(err)
	}
	second, err := pantry.WriteBackup(*b)
	if err != nil || !bytes.Equal(text, second) {
		t.Fatalf("the backup changes by being read: %v", err)
	}
	here := map[string]pantry.Record{}
	find := func(k pantry.Kind, id string) (pantry.Record, error) {
		if r, ok := here[string(k)+id]; ok {
			return r, nil
		}
		return nil, nil
	}
	p, err := pantry.PlanMerge(b, find)
	if err != nil || len(p.Writes) != len(records) || p.Added[pantry.Jars] == 0 {
		t.Fatalf("%+v, %v", p, err)
	}
	for _, r := range p.Writes {
		here[string(r.Kind())+r.Key()] = r
	}
	if p, err = pantry.PlanMerge(b, find); err != nil || len(p.Writes) != 0 {
		t.Fatalf("the second time %d records change, %v", len(p.Writes), err)
	}
}

// A file with a fault is refused as a whole, with a message that says where.
func TestBadBackupsAreRefused(t *testing.T) {
	good, err := pantry.WriteBackup(pantry.Backup{Written: noon, Edition: rules.Edition, Settings: pantry.Settings{Version: pantry.Version, Changed: noon}, Records: demoRecords(t)[:40]})
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
		"unknown field":   {replace(`"edition"`, `"colour":1,"edition"`), "colour"},
		"a jar at fault":  {replace(`"number":1`, `"number":-1`), "number"},
		"a huge number":   {replace(`"number":1`, `"number":1e99`), "number"},
		"an id twice":     {replace(`"batches":[`, `"batches":[`+first(t, good, "batches")+`,`), "is also that of"},
		"deep nesting":    {replace(`"photos":[]`, `"photos":[`+strings.Repeat("[", 20000)+strings.Repeat("]", 20000)+`]`), "depth"},
		"markup is no id": {replace(`"batch":"`, `"batch":"<script>`), "batch"},
		"null for a list": {replace(`"photos":[]`, `"photos":[null]`), "photos, number 1"},
	} {
		b, err := pantry.ReadBackup([]byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
		_ = b
	}
}

// A file that is no backup is named by what it is, in words without bytes and
// characters, and with what to do.
func TestWrongFilesAreNamed(t *testing.T) {
	good, err := pantry.WriteBackup(pantry.Backup{Written: noon, Edition: rules.Edition, Settings: pantry.Settings{Version: pantry.Version, Changed: noon}, Records: demoRecords(t)[:40]})
	if err != nil {
		t.Fatal(err)
	}
	p := pantry.New()
	for _, r := range demoRecords(t) {
		p.Put(r)
	}
	dates, err := p.Calendar(noon)
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]string{
		"": "empty", " \n": "empty",
		string(p.JarTable(noon)):                        "a table",
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
		_, err := pantry.ReadBackup([]byte(text))
		wrong, ok := errors.AsType[*pantry.NotBackup](err)
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

func demoRecords(t testing.TB) []pantry.Record {
	t.Helper()
	records, err := pantry.Demo(noon)
	if err != nil {
		t.Fatal(err)
	}
	return records
}
