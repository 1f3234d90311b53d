// Package testkit makes households, jars and records for the tests of the packages
// that use records. Only tests import it.
package testkit

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"larderlamp/app/backup"
	"larderlamp/app/demo"
	"larderlamp/app/hostile"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/walk"
	"larderlamp/rules"
)

var Noon = time.Date(2026, 9, 12, 12, 0, 0, 0, time.UTC)

var Evening = time.Date(2026, 10, 5, 20, 0, 0, 0, time.UTC)

var TripNow = time.Date(2026, 6, 20, 10, 0, 0, 0, time.UTC)

// Encoded returns a record's bytes.
func Encoded(t testing.TB, r record.Record) []byte {
	t.Helper()
	text, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// ReadBack reads back what was written.
func ReadBack(t testing.TB, r record.Record) record.Record {
	t.Helper()
	back, err := record.Decode(r.Kind(), Encoded(t, r))
	if err != nil {
		t.Fatal(err)
	}
	return back
}

func Merge(t testing.TB, a, b record.Record) record.Record {
	t.Helper()
	m, err := record.Merge(ReadBack(t, a), ReadBack(t, b))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func Hostile(t testing.TB, texts ...string) []record.Record {
	t.Helper()
	records, err := hostile.Household(Noon, texts...)
	if err != nil {
		t.Fatal(err)
	}
	return records
}

// Home is a pantry with one place that is cool, dry and dark, and a batch of
// three jars that can be kept and were looked at a week ago.
func Home(t testing.TB, product string) (*pantry.Pantry, *record.Place, *record.Batch, []*record.Jar) {
	t.Helper()
	fail := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	p := pantry.New()
	place, err := record.NewPlace("Cellar", Noon)
	fail(err)
	place.Wet, place.Light = "dry", "dark"
	place.Air = &record.Air{How: record.Steady, Low: 100, High: 180}
	p.Put(place)
	b, err := record.NewBatch(product, Noon)
	fail(err)
	thirty, feet := 30, 500
	b.Made, b.Count, b.Size, b.Standing, b.Method, b.Extras, b.Closure = "2026-06-12", 3, "quart", "published", "boiling-water", "none", "flat-lid"
	b.Pack, b.Minutes, b.Feet, b.Condition = "raw", &thirty, &feet, "met"
	p.Put(b)
	var jars []*record.Jar
	for n := range 3 {
		j, err := record.NewJar(b.ID, n+1, Noon)
		fail(err)
		e, err := j.Add(record.Stored, time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC))
		fail(err)
		e.Place = place.ID
		Look(t, j, Noon.AddDate(0, 0, -7))
		p.Put(j)
		jars = append(jars, j)
	}
	return p, place, b, jars
}

// Look records a look at which everything was sound except for some values.
func Look(t testing.TB, j *record.Jar, at time.Time, odd ...rules.Value) {
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

// ByTheBook is a batch of a food with every line true, in the first size and way
// of its table.
func ByTheBook(t *testing.T, food *rules.Product) *record.Batch {
	t.Helper()
	b, err := record.NewBatch(food.ID, Evening)
	if err != nil {
		t.Fatal(err)
	}
	b.Made = "2026-09-01"
	feet := 500
	b.Feet = &feet
	ids, _ := b.Kinds()
	for _, table := range ids {
		b.Table = table
		for _, size := range b.SizesOf() {
			b.Size = size
			if ways := b.Ways(); len(ways) > 0 {
				b.Go(ways[0])
			}
		}
	}
	for _, l := range b.Lines() {
		b.Set(l.Sign, l.Want)
	}
	return b
}

func Demo(t testing.TB) []record.Record {
	t.Helper()
	records, err := demo.Records(Noon)
	if err != nil {
		t.Fatal(err)
	}
	return records
}

// Invented is the made-up household.
func Invented(t testing.TB, now time.Time) *pantry.Pantry {
	t.Helper()
	records, err := demo.Records(now)
	if err != nil {
		t.Fatal(err)
	}
	p := pantry.New()
	for _, r := range records {
		p.Put(r)
	}
	return p
}

// Big is a pantry of 10,000 jars.
func Big(tb testing.TB) *pantry.Pantry {
	p := pantry.New()
	records := Demo(tb)
	for n := 0; len(p.Jars) < 10000; n++ {
		for _, r := range records {
			switch r := r.(type) {
			case *record.Jar:
				j, err := record.NewJar(r.Batch, r.Number, Noon)
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

// StartSweep starts a sweep of every jar of a household.
func StartSweep(t testing.TB, p *pantry.Pantry, now time.Time) *record.Sweep {
	t.Helper()
	places := []string{""}
	for _, pl := range p.PlaceOrder() {
		places = append(places, pl.ID)
	}
	s, err := record.NewSweep(places, walk.Order(p, places, false, now), now)
	if err != nil {
		t.Fatal(err)
	}
	p.Put(s)
	return s
}

// CheckRoundTrip writes a backup, reads it again and imports it twice: nothing may
// change on the way, and the second time there must be nothing to do.
func CheckRoundTrip(t *testing.T, b *backup.File) {
	t.Helper()
	text, err := backup.Write(*b)
	if err != nil {
		t.Fatalf("what was read cannot be written: %v", err)
	}
	back, err := backup.Read(text)
	if err != nil {
		t.Fatalf("what was written cannot be read: %v\n%s", err, text)
	}
	twice, err := backup.Write(*back)
	if err != nil || !bytes.Equal(text, twice) {
		t.Fatalf("written again it is different: %v\n%s\n%s", err, text, twice)
	}
	here := map[string]record.Record{}
	find := func(k record.Kind, id string) (record.Record, error) {
		if r, ok := here[string(k)+id]; ok {
			return r, nil
		}
		return nil, nil
	}
	for _, want := range []int{len(b.Records), 0} {
		plan, err := backup.PlanMerge(back, find)
		if err != nil {
			t.Fatalf("what was read cannot be taken in: %v\n%s", err, text)
		}
		if len(plan.Writes) != want {
			t.Fatalf("%d records would be written, want %d\n%s", len(plan.Writes), want, text)
		}
		for _, r := range plan.Writes {
			here[string(r.Kind())+r.Key()] = ReadBack(t, r)
		}
	}
}

// First returns the first record of a list of a backup.
func First(t *testing.T, text []byte, list string) string {
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

// Round is a pantry of two cellars with batches of fruit, and a sweep of it.
func Round(t testing.TB, batches int) (*pantry.Pantry, *record.Sweep) {
	t.Helper()
	p := pantry.New()
	var places []string
	for i, name := range []string{"Cellar", "Cupboard"} {
		place, err := record.NewPlace(name, Noon)
		if err != nil {
			t.Fatal(err)
		}
		place.Order, place.Wet, place.Light = i, "dry", "dark"
		place.Air = &record.Air{How: record.Steady, Low: 100, High: 180}
		p.Put(place)
		places = append(places, place.ID)
	}
	for n := range batches {
		_, _, b, jars := Home(t, "peaches")
		b.LidLot = string(rune('A' + n%3))
		p.Put(b)
		for _, j := range jars {
			j.Events = j.Events[:1]
			j.Events[0].Place = places[n%2]
			p.Put(j)
		}
	}
	s, err := record.NewSweep(places, walk.Order(p, places, true, Noon), Noon)
	if err != nil {
		t.Fatal(err)
	}
	p.Put(s)
	return p, s
}
