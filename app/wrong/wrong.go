// Package wrong imports files whose references are wrong into a household, for the
// tests of the code that reads them.
package wrong

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/backup"
	"larderlamp/app/demo"
	"larderlamp/app/hostile"
	"larderlamp/app/house"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/rules"
)

// fullHousehold makes a household of records of every kind that refer to each other.
func fullHousehold(t testing.TB, now time.Time) []record.Record {
	t.Helper()
	records, err := hostile.Household(now, "one", "two", "three", "four")
	if err != nil {
		t.Fatal(err)
	}
	demo, err := demo.Records(now)
	if err != nil {
		t.Fatal(err)
	}
	// Every use refers to the first jars, so that every line about a jar is drawn.
	var jars []*record.Jar
	for _, r := range records {
		if j, ok := r.(*record.Jar); ok {
			jars = append(jars, j)
		}
	}
	for i, what := range []string{record.Opened, record.Missing, record.Discarded, record.Traveled} {
		e, err := jars[i].Add(what, now)
		if err != nil {
			t.Fatal(err)
		}
		if what == record.Discarded {
			e.Why = record.ForSpoiled
		}
	}
	return append(records, demo[:len(demo)/24]...)
}

// mutate makes some references of the records wrong: to a record that does not
// exist, to one of another kind, or to one that is deleted or left out.
func mutate(r *rand.Rand, records []record.Record) []record.Record {
	ids := []string{}
	for _, rec := range records {
		ids = append(ids, rec.Key())
	}
	one := func() record.Record { return records[r.IntN(len(records))] }
	of := func(kind record.Kind) (all []record.Record) {
		for _, rec := range records {
			if rec.Kind() == kind {
				all = append(all, rec)
			}
		}
		return
	}
	for range 1 + r.IntN(4) {
		switch r.IntN(5) {
		case 0: // a whole kind is left out
			kind := record.Kinds[r.IntN(len(record.Kinds))]
			rest := slices.DeleteFunc(slices.Clone(records), func(rec record.Record) bool { return rec.Kind() == kind })
			if len(rest) > 0 {
				records = rest
			}
		case 1: // some of a kind are deleted
			for _, rec := range of(one().Kind()) {
				if r.IntN(2) == 0 {
					rec.Delete(time.Now())
				}
			}
		default: // some references point elsewhere
			for _, rec := range of(one().Kind()) {
				for _, f := range hostile.Fields(rec) {
					if _, err := uuid.Parse(f.Get()); err != nil || f.Name == "id" || strings.HasSuffix(f.Name, ": id") || r.IntN(3) > 0 {
						continue
					}
					was := f.Get()
					f.Set(ids[r.IntN(len(ids))])
					if r.IntN(2) == 0 {
						f.Set(uuid.Must(uuid.NewV7()).String())
					}
					if rec.Validate() != nil {
						f.Set(was)
					}
				}
			}
		}
	}
	return records
}

// imported puts records through a file and a merge with what is there, as an
// import does, and returns the resulting household.
func imported(t testing.TB, here, file []record.Record) *house.House {
	t.Helper()
	at := map[string]record.Record{}
	for _, r := range here {
		at[string(r.Kind())+r.Key()] = r
	}
	text, err := backup.Write(backup.File{Written: time.Now(), Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: file})
	if err != nil {
		t.Fatal(err)
	}
	read, err := backup.Read(text)
	if err != nil {
		t.Fatal(err)
	}
	plan, err := backup.PlanMerge(read, func(k record.Kind, id string) (record.Record, error) { return at[string(k)+id], nil })
	if err != nil {
		t.Fatal(err)
	}
	p := pantry.New()
	for _, r := range append(slices.Clone(here), plan.Writes...) {
		p.Put(r)
	}
	return house.InMemory(p)
}

// Imported is a household after the import of a file with wrong references.
type Imported struct {
	*house.House
	File   []record.Record
	Checks []*record.Check // the checks in the file
	Rare   bool            // one of the few used for slow tests
}

// References calls each with 300 households: files with wrong references are
// imported beside the sound household or into an empty one.
func References(t *testing.T, each func(testing.TB, *Imported)) {
	t.Helper()
	moments := 300
	if testing.Short() {
		moments = 30
	}
	now := time.Now()
	for n := range moments {
		r := rand.New(rand.NewPCG(13, uint64(n)))
		var here []record.Record
		if n%3 == 0 {
			here = fullHousehold(t, now)
		}
		file := mutate(r, fullHousehold(t, now))
		t.Run(fmt.Sprint("file ", n), func(t *testing.T) {
			taken := &Imported{House: imported(t, here, file), File: file, Rare: n%15 == 0}
			for _, rec := range file {
				if c, ok := rec.(*record.Check); ok {
					taken.Checks = append(taken.Checks, c)
				}
			}
			each(t, taken)
			if text := app.HTMLString(taken.Notices()); strings.Contains(text, "notice") {
				t.Errorf("it complains: %s", text)
			}
		})
		if t.Failed() {
			t.Fatal("the first file that fails is enough")
		}
	}
}

// Drawn draws a page, which must not end the program and must have a heading.
func Drawn(t testing.TB, what string, page func() app.Composer) {
	t.Helper()
	defer func() {
		if err := recover(); err != nil {
			t.Errorf("%s ends the program: %v", what, err)
		}
	}()
	if text := app.HTMLString(page()); !strings.Contains(text, "<h1") {
		t.Errorf("%s has no heading: %.200s", what, text)
	}
}

// IDs lists the ids of records, and one that does not exist.
func IDs[R any](records map[string]R) []string {
	ids := []string{"gone"}
	for id := range records {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}
