package house

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/app/ui"
)

// Shelf is the pantry in memory and what the rules make of it now.
type Shelf struct {
	*pantry.Pantry
	at       time.Time // of the verdicts
	Verdicts []pantry.Verdict
	Grouped  []*pantry.Group
	FirstOf  map[string]*pantry.Verdict // by product
	loading  bool
	Loaded   bool
	waiting  []func(app.Context)
}

// Shelved loads the pantry once and then calls f on the UI goroutine, unless the
// page has been left meanwhile.
func (h *House) Shelved(ctx app.Context, f func(app.Context)) {
	if h.Shelf == nil {
		h.Shelf = &Shelf{Pantry: pantry.New()}
	}
	s := h.Shelf
	if s.Loaded {
		f(ctx)
		return
	}
	s.waiting = append(s.waiting, func(app.Context) {
		ctx.Dispatch(func(ctx app.Context) {
			f(ctx)
			ctx.Defer(func(app.Context) { h.settle() })
		})
	})
	h.load(ctx)
}

// load reads every record but the checks and photos, unless that is under way.
func (h *House) load(ctx app.Context) {
	if h.Shelf.loading {
		return
	}
	h.Shelf.loading = true
	h.open(ctx, nil)
	go func() {
		h.written()
		h.mu.Lock()
		asked := h.asked
		h.mu.Unlock()
		ui.Measured("shelf-asked")
		fresh := pantry.New()
		fresh.Settle(h.Settings)
		unread := 0
		for _, kind := range []record.Kind{record.Places, record.Batches, record.Jars, record.Sweeps, record.Trips} {
			rows, err := h.store.List(context.Background(), store.Kind(kind), store.ListOptions{})
			if err != nil {
				h.Complain(ui.Say("Your %s could not be read: %s", string(kind), ui.Plain(err)))
			}
			for _, row := range rows {
				r, err := record.Decode(kind, row.JSON)
				if err != nil {
					app.Log(err.Error())
					unread++
					continue
				}
				fresh.Put(r)
			}
		}
		if unread > 0 {
			h.Complain(ui.Count(unread, "record could not be read. It is left as it is.", "records could not be read. They are left as they are."))
		}
		ui.Measured("shelf-read")
		h.onPage(func(ctx app.Context) {
			s := h.Shelf
			h.mu.Lock()
			newer := h.asked != asked
			h.mu.Unlock()
			if newer { // What was written meanwhile may be missing from what was read.
				s.loading = false
				h.load(ctx)
				return
			}
			s.Pantry, s.Loaded, s.loading = fresh, true, false
			for _, w := range h.waiting() {
				if w.show != nil {
					w.show()
				}
			}
			s.stale()
			waiting := s.waiting
			s.waiting = nil
			for _, f := range waiting {
				f(ctx)
			}
		})
	}()
}

// stale forgets the verdicts: something has changed.
func (s *Shelf) stale() { s.at = time.Time{} }

// Judged judges every jar, once until something changes or a new hour or day
// begins: for how long a jar has been open is counted from the hour.
func (s *Shelf) Judged(now time.Time) {
	if !s.at.IsZero() && record.DayOf(s.at) == record.DayOf(now) && s.at.Truncate(time.Hour).Equal(now.Truncate(time.Hour)) {
		return
	}
	s.at = now
	ui.Measured("judging")
	s.Verdicts = s.JudgeAll(now)
	ui.Measured("judged")
	s.Grouped = s.Groups(s.Verdicts)
	s.FirstOf = s.Firsts(s.Verdicts)
}

// Commit keeps records: all of them or none. What is on the screen follows at
// once; a write that fails is said.
func (h *House) Commit(ctx app.Context, records ...record.Record) bool {
	return h.Keep(ctx, nil, records...)
}

// Keep is commit, and calls done once the records are on the device: nothing is
// said to be saved before it is.
func (h *House) Keep(ctx app.Context, done func(), records ...record.Record) bool {
	return h.keepOr(ctx, done, nil, records...)
}

// Send is keep for a form that makes something new. Sent once more before it is
// known whether that is on the device, it would make it twice: busy says so
// meanwhile.
func (h *House) Send(ctx app.Context, busy *bool, done func(), records ...record.Record) {
	*busy = h.keepOr(ctx, func() {
		*busy = false
		done()
	}, func() { *busy = false }, records...)
}

// keepOr is keep, and calls fail when the records are not on the device.
func (h *House) keepOr(ctx app.Context, done, fail func(), records ...record.Record) bool {
	var changes []store.Change
	var ids []string
	known := map[string]bool{} // by id: what may have been written by another tab
	before := map[string]record.Record{}
	fresh := false // something of it is new on the shelf
	records = slices.Clone(records)
	for i, r := range records {
		text, err := r.Encode()
		// A button that was drawn before the records were read again holds a jar as
		// it was then. Nothing that happened to the jar since may be forgotten.
		if j, ok := r.(*record.Jar); ok && err == nil && h.Shelf != nil && h.Shelf.Jars[j.ID] != nil && h.Shelf.Jars[j.ID] != j {
			if r, err = record.Merge(h.Shelf.Jars[j.ID], j); err == nil {
				records[i] = r
				text, err = r.Encode()
			}
		}
		if err != nil {
			h.refuse(err, r.Key())
			return false
		}
		changes = append(changes, store.Change{Row: store.Row{Kind: store.Kind(r.Kind()), ID: r.Key(), JSON: text}})
		ids = append(ids, r.Key())
	}
	if h.Shelf != nil {
		for _, r := range records {
			known[r.Key()], before[r.Key()] = h.Shelf.Has(r), h.Shelf.there(r)
			fresh = fresh || !known[r.Key()] && r.Kind() != record.Checks && r.Kind() != record.Photos
			h.Shelf.Put(r)
		}
		h.Shelf.stale()
	}
	w := &write{ids: ids, fail: fail}
	if done != nil {
		w.done = func() { ctx.Dispatch(func(app.Context) { done() }) }
		if fresh {
			w.undo = func() {
				for _, r := range records {
					h.Shelf.putBack(r, before[r.Key()])
				}
				h.Shelf.stale()
			}
		}
	}
	w.show = func() {
		for _, r := range records {
			h.Shelf.join(r)
		}
		h.Shelf.stale()
	}
	w.do = func(c context.Context) error {
		met, err := h.meet(c, changes, known)
		if err == nil {
			err = h.store.Write(c, changes)
		}
		if met {
			h.onPage(func(ctx app.Context) {
				if h.Shelf != nil {
					h.load(ctx)
				}
			})
		}
		return err
	}
	h.ask(ctx, w)
	return true
}

// putBack puts what was in memory in the place of a record, or nothing.
func (s *Shelf) putBack(r, before record.Record) {
	if before == nil {
		text, err := r.Encode()
		if err == nil {
			before, err = record.Decode(r.Kind(), text) // the form goes on with its own
		}
		if err != nil {
			app.Log(err.Error())
			return
		}
		before.Delete(time.Now())
	}
	s.Put(before)
}

// join puts a record that could not be written together with what was read of it.
func (s *Shelf) join(r record.Record) {
	if there := s.there(r); there != nil {
		both, err := record.Merge(there, r)
		if err != nil {
			app.Log(err.Error())
			return
		}
		r = both
	}
	s.Put(r)
}

// there is what is in memory of a record, or nil.
func (s *Shelf) there(r record.Record) record.Record {
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

// mostGot is how many rows are read one by one; of more, all of their kind are
// read at once.
const mostGot = 60

// meet puts what is about to be written together with what another tab has
// written meanwhile, and tells whether there was anything.
func (h *House) meet(ctx context.Context, changes []store.Change, known map[string]bool) (met bool, err error) {
	n := 0
	for i := range changes {
		if known[changes[i].Row.ID] {
			n++
		}
	}
	get := h.store.Get
	if n > mostGot {
		get = h.getter()
	}
	for i := range changes {
		row := &changes[i].Row
		if !known[row.ID] {
			continue
		}
		there, err := get(ctx, row.Kind, row.ID)
		if errors.Is(err, store.ErrNotFound) || err == nil && string(there.JSON) == string(row.JSON) {
			continue
		}
		if err != nil {
			return met, err
		}
		kind := record.Kind(row.Kind)
		theirs, err := record.Decode(kind, there.JSON)
		if err != nil {
			return met, err
		}
		ours, err := record.Decode(kind, row.JSON)
		if err != nil {
			return met, err
		}
		both, err := record.Merge(theirs, ours)
		if err != nil {
			return met, err
		}
		text, err := both.Encode()
		if err != nil {
			return met, err
		}
		if string(text) != string(row.JSON) {
			row.JSON, met = text, true
		}
	}
	return met, nil
}

// getter gives what Get of the store gives, and reads all rows of a kind when one
// of them is asked for.
func (h *House) getter() func(context.Context, store.Kind, string) (store.Row, error) {
	read := map[store.Kind]map[string]store.Row{}
	return func(ctx context.Context, kind store.Kind, id string) (store.Row, error) {
		if read[kind] == nil {
			rows, err := h.store.List(ctx, kind, store.ListOptions{})
			if err != nil {
				return store.Row{}, err
			}
			read[kind] = make(map[string]store.Row, len(rows))
			for _, row := range rows {
				read[kind][row.ID] = row
			}
		}
		row, ok := read[kind][id]
		if !ok {
			return store.Row{}, store.ErrNotFound
		}
		return row, nil
	}
}

// Fetch reads records of a kind by id and calls found with those that are there
// and can be read.
func (h *House) Fetch(ctx app.Context, kind record.Kind, ids []string, found func([]record.Record)) {
	h.open(ctx, nil)
	go func() {
		h.written()
		var rs []record.Record
		for _, id := range ids {
			row, err := h.store.Get(context.Background(), store.Kind(kind), id)
			var r record.Record
			if err == nil {
				r, err = record.Decode(kind, row.JSON)
			}
			switch {
			case err == nil:
				rs = append(rs, r)
			case !errors.Is(err, store.ErrNotFound):
				h.Complain(ui.Say("One of the %s could not be read: %s", string(kind), ui.Plain(err)))
			}
		}
		ctx.Dispatch(func(app.Context) { found(rs) })
	}()
}

// NewJars makes all jars of a batch and puts them in a place on the day they
// were canned.
func NewJars(b *record.Batch, into string, now time.Time) (records []record.Record, err error) {
	at, err := time.ParseInLocation(record.DayLayout, string(b.Made), now.Location())
	if err != nil {
		return nil, fmt.Errorf("batch %s: made: %w", b.ID, err)
	}
	for n := range max(0, min(b.Count, record.MostJars)) {
		j, err := record.NewJar(b.ID, n+1, now)
		if err != nil {
			return nil, err
		}
		e, err := j.Add(record.Stored, at.Add(12*time.Hour))
		if err != nil {
			return nil, err
		}
		e.Place = into
		records = append(records, j)
	}
	return records, nil
}

// UndoDelete offers to bring back what was deleted last.
func (h *House) UndoDelete(ctx app.Context) app.UI {
	return ui.Live("", ui.Only(len(h.Deleted) > 0, func() app.UI {
		return ui.El("p", "undo", ui.Prose("Deleted. "), ui.Action("button plain", "Undo", func() {
			now := time.Now()
			for _, r := range h.Deleted {
				r.Restore(now)
			}
			h.Commit(ctx, h.Deleted...)
			h.Deleted = nil
		}))
	}))
}

// Everything reads every record of the household, for a backup or a merge. It
// must not be called on the UI goroutine.
func (h *House) Everything() (all []record.Record, err error) {
	h.written()
	for _, kind := range record.Kinds {
		rows, err := h.store.List(context.Background(), store.Kind(kind), store.ListOptions{})
		if err != nil {
			return nil, err
		}
		for _, row := range rows {
			r, err := record.Decode(kind, row.JSON)
			if err != nil {
				return nil, err
			}
			all = append(all, r)
		}
	}
	return all, nil
}

// KeepSettings changes the settings and keeps them.
func (h *House) KeepSettings(ctx app.Context, change func(*record.Settings)) {
	if !h.opened() {
		return
	}
	change(&h.Settings)
	h.Settings.Changed = time.Now().UTC()
	h.Settings.Revision++
	if h.Shelf != nil {
		h.Shelf.Settle(h.Settings)
		h.Shelf.stale()
	}
	settings := h.Settings
	h.put(ctx, store.KindSettings, record.SettingsID, &settings)
}

// ClearDemo takes every record of the made-up household away for good, and
// then calls done.
func (h *House) ClearDemo(ctx app.Context, done func()) {
	h.write(ctx, func(c context.Context) error {
		if !h.Demo {
			return errors.New("this is not the made-up household")
		}
		var changes []store.Change
		for _, kind := range record.Kinds {
			rows, err := h.store.List(c, store.Kind(kind), store.ListOptions{})
			if err != nil {
				return err
			}
			for _, row := range rows {
				changes = append(changes, store.Change{Row: row, Delete: true})
			}
		}
		if err := h.store.Write(c, changes); err != nil {
			return err
		}
		ctx.Dispatch(func(app.Context) { done() })
		return nil
	})
}
