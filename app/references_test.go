package app

import (
	"errors"
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
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/app/tables"
	"larderlamp/rules"
	"larderlamp/testdata/hostile"
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
	// Every use is made of the first jars, so that every line about a jar is drawn.
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

// mutate puts some references of the records wrong: to a record that is not
// there, to one of another kind, or to one that is deleted or left out.
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
		default: // some references lead elsewhere
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

// takenIn puts records through a file and a merge with what is there, as an
// import does, and gives the household that results.
func takenIn(t testing.TB, here, file []record.Record) *household {
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
	h := newHousehold(nil)
	h.begin.Do(func() {})
	close(h.ready)
	h.store, h.status = store.NewMemory(), store.Status{Durable: true}
	h.shelf = &shelf{Pantry: pantry.New(), loaded: true}
	for _, r := range append(slices.Clone(here), plan.Writes...) {
		h.shelf.Put(r)
	}
	return h
}

// screens draws every screen that shows something of what is kept, with every
// record that it can be asked for.
func screens(t testing.TB, h *household, checks []*record.Check, labels bool) {
	t.Helper()
	drawn := func(what string, page func() app.Composer) {
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
	drawn("the shelf", func() app.Composer { return &shelfPage{house: h, ready: true, part: -1, most: 100} })
	drawn("what there is", func() app.Composer { return &stockPage{house: h, ready: true} })
	drawn("places", func() app.Composer { return &placesPage{house: h, ready: true} })
	drawn("safe keeping", func() app.Composer { return &keepingPage{house: h, ready: true} })
	drawn("a new batch", func() app.Composer { return &batchPage{house: h, ready: true} })
	all := map[string]bool{}
	for _, id := range append([]string{"", "gone"}, keys(h.shelf.Batches)...) {
		all[id] = true
		drawn("batch "+id, func() app.Composer { return &batchPage{house: h, ready: true, id: id} })
	}
	if labels { // which take long to draw
		drawn("labels", func() app.Composer { return &labelsPage{house: h, ready: true, chosen: all, start: 1} })
	}
	for _, id := range append([]string{"", "gone"}, keys(h.shelf.Jars)...) {
		for _, doing := range []string{"", record.Opened, record.Moved, record.Discarded} {
			drawn("jar "+id+" "+doing, func() app.Composer {
				return &jarPage{house: h, ready: true, id: id, doing: doing, photos: map[string]*record.Photo{}}
			})
		}
		if labels {
			drawn("the label of jar "+id, func() app.Composer { return &labelsPage{house: h, ready: true, jar: id, start: 1} })
		}
	}
	drawn("the sweep", func() app.Composer {
		p := &sweepPage{house: h, ready: true, except: map[string]bool{}, chosen: map[string]bool{}, passed: map[string]bool{}}
		p.look()
		return p
	})
	for _, id := range append([]string{"gone"}, keys(h.shelf.Sweeps)...) {
		drawn("the report of sweep "+id, func() app.Composer { return &sweepPage{house: h, ready: true, report: id, except: map[string]bool{}} })
	}
	drawn("trips", func() app.Composer { return &tripPage{house: h, ready: true} })
	for _, id := range keys(h.shelf.Trips) {
		planned := tripPage{house: h, ready: true}
		drawn("trip "+id, func() app.Composer {
			planned.show(h.shelf.Trips[id])
			p := planned
			return &p
		})
		for _, then := range []func(*tripPage){func(p *tripPage) { p.coming = map[string]string{} }, func(p *tripPage) { p.card() }} {
			drawn("trip "+id, func() app.Composer {
				p := planned
				then(&p)
				return &p
			})
		}
	}
	for _, c := range checks {
		drawn("check "+c.ID, func() app.Composer { return &checkPage{house: h, session: resume(*c), id: c.ID} })
	}
	drawn("earlier checks", func() app.Composer {
		p := &historyPage{house: h, loaded: true}
		for _, c := range checks {
			p.checks = append(p.checks, *c)
		}
		return p
	})
}

func keys[R any](records map[string]R) (ids []string) {
	for id := range records {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return
}

// Whatever a reference of a record leads to, nothing that reads it ends the
// program: 300 backups with references put wrong are taken in, beside the sound
// household or into an empty one, and every screen is drawn. No jar whose batch
// is not recorded may be kept.
func TestReferencesPutWrong(t *testing.T) {
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
			h := takenIn(t, here, file)
			var checks []*record.Check
			for _, rec := range file {
				if c, ok := rec.(*record.Check); ok {
					checks = append(checks, c)
				}
			}
			screens(t, h, checks, n%15 == 0)
			if h.trouble != "" {
				t.Errorf("it complains: %s", h.trouble)
			}
			for _, j := range h.shelf.Jars {
				if v := h.shelf.Judge(j, now); h.shelf.Batches[j.Batch] == nil && v.Basis.Stage != record.IsGone && v.Highest != rules.Discard {
					t.Errorf("jar %s of no batch: %v", j.ID, v.Highest)
				}
				if _, err := h.shelf.NewCheckOf(j, now); err != nil {
					t.Errorf("no check of jar %s: %v", j.ID, err)
				}
			}
			if len(tables.Jars(h.shelf.Pantry, now)) == 0 || len(tables.Checks(file)) == 0 {
				t.Error("no tables")
			}
			if _, err := tables.Calendar(h.shelf.Pantry, now); err != nil {
				t.Error(err)
			}
		})
		if t.Failed() {
			t.Fatal(errors.New("the first file that fails is enough"))
		}
	}
}
