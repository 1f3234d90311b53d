package ledger

import (
	"context"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/rules/prose"
)

// Shelf is the pantry in memory and what the rules say about it now.
type Shelf struct {
	*pantry.Pantry
	at       time.Time // time of the verdicts
	Verdicts []pantry.Verdict
	Grouped  []*pantry.Group
	FirstOf  map[string]*pantry.Verdict // the jar to use first, by product
	loading  bool
	Loaded   bool
	waiting  []func() // calls to make on the page once the records are read
	page     Page
}

// WithShelf loads the pantry once and then calls f on the page.
func (l *Ledger) WithShelf(f func()) {
	if l.Shelf == nil {
		l.Shelf = &Shelf{Pantry: pantry.New(), page: l.page}
	}
	if l.Shelf.Loaded {
		f()
		return
	}
	l.Shelf.waiting = append(l.Shelf.waiting, f)
	l.load()
}

// load reads every record except the checks and photos, unless that is already
// running.
func (l *Ledger) load() {
	if l.Shelf.loading {
		return
	}
	l.Shelf.loading = true
	l.Open()
	go func() {
		l.written()
		asked := l.count()
		l.page.Mark("shelf-asked")
		fresh := pantry.New()
		unread := 0
		for _, kind := range []record.Kind{record.Places, record.Batches, record.Jars, record.Sweeps, record.Trips} {
			rows, err := l.store.List(context.Background(), store.Kind(kind), store.ListOptions{})
			if err != nil {
				l.Complain(prose.Say("Your %s could not be read: %s", kind, prose.Plain(err)))
			}
			for _, row := range rows {
				r, err := record.Decode(kind, row.JSON)
				if err != nil {
					l.page.Log(err)
					unread++
					continue
				}
				fresh.Put(r)
			}
		}
		if unread > 0 {
			l.Complain(prose.Count(unread, "record could not be read. It is left as it is.", "records could not be read. They are left as they are."))
		}
		l.page.Mark("shelf-read")
		l.page.Do(func() {
			s := l.Shelf
			if l.count() != asked { // What was written in between may be missing from what was read.
				s.loading = false
				l.load()
				return
			}
			fresh.SetSettings(l.Settings)
			s.Pantry, s.Loaded, s.loading = fresh, true, false
			for _, w := range l.waiting() {
				if w.show != nil {
					w.show()
				}
			}
			s.stale()
			waiting := s.waiting
			s.waiting = nil
			for _, f := range waiting {
				f()
			}
		})
	}()
}

// stale discards the verdicts: something has changed.
func (s *Shelf) stale() { s.at = time.Time{} }

// Judged judges every jar, once until something changes or a new hour or day
// begins: how long a jar has been open is counted in hours.
func (s *Shelf) Judged(now time.Time) {
	if !s.at.IsZero() && record.DayOf(s.at) == record.DayOf(now) && s.at.Truncate(time.Hour).Equal(now.Truncate(time.Hour)) {
		return
	}
	s.at = now
	s.page.Mark("judging")
	s.Verdicts = s.JudgeAll(now)
	s.page.Mark("judged")
	s.Grouped = s.Groups(s.Verdicts)
	s.FirstOf = s.FirstToUse(s.Verdicts)
}

// putBack puts back the record that was in memory before, or nothing.
func (s *Shelf) putBack(r, before record.Record) {
	if before == nil {
		text, err := r.Encode()
		if err == nil {
			before, err = record.Decode(r.Kind(), text) // the form continues with its own
		}
		if err != nil {
			s.page.Log(err)
			return
		}
		before.Delete(time.Now())
	}
	s.Put(before)
}

// join merges a record that could not be written with what was read of it.
func (s *Shelf) join(r record.Record) {
	if there := s.inMemory(r); there != nil {
		both, err := record.Merge(there, r)
		if err != nil {
			s.page.Log(err)
			return
		}
		r = both
	}
	s.Put(r)
}

// inMemory is the record in memory, or nil.
func (s *Shelf) inMemory(r record.Record) record.Record {
	if !s.Has(r) {
		return nil
	}
	switch id := r.Key(); r.Kind() {
	case record.Places:
		return s.Places[id]
	case record.Batches:
		return s.Batches[id]
	case record.Jars:
		return s.Jars[id]
	case record.Sweeps:
		return s.Sweeps[id]
	case record.Trips:
		return s.Trips[id]
	}
	return nil
}
