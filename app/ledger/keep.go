package ledger

import (
	"context"
	"errors"
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

// Commit saves records: all of them or none. The page shows them at once; a
// write that fails is reported.
func (l *Ledger) Commit(records ...record.Record) bool { return l.Keep(nil, nil, records...) }

// Keep is Commit, and calls done once the records are on the device: nothing is said
// to be saved before that. If they can't be written, it calls fail on the page. If
// done is set, records that are new are then taken out of memory: the person can
// submit them again.
func (l *Ledger) Keep(done, fail func(), records ...record.Record) bool {
	var changes []store.Change
	var ids []string
	known := map[string]bool{} // ids of what another tab may have written
	before := map[string]record.Record{}
	fresh := false // something in it is new on the shelf
	records = slices.Clone(records)
	for i, r := range records {
		text, err := r.Encode()
		// A button that was drawn before the records were read again holds a jar as
		// it was then. Nothing that happened to the jar since may be lost.
		if j, ok := r.(*record.Jar); ok && err == nil && l.Shelf != nil && l.Shelf.Jars[j.ID] != nil && l.Shelf.Jars[j.ID] != j {
			if r, err = record.Merge(l.Shelf.Jars[j.ID], j); err == nil {
				records[i] = r
				text, err = r.Encode()
			}
		}
		if err != nil {
			l.refuse(err, r.Key())
			return false
		}
		changes = append(changes, store.Change{Row: store.Row{Kind: store.Kind(r.Kind()), ID: r.Key(), JSON: text}})
		ids = append(ids, r.Key())
	}
	if l.Shelf != nil {
		for _, r := range records {
			known[r.Key()], before[r.Key()] = l.Shelf.Has(r), l.Shelf.inMemory(r)
			fresh = fresh || !known[r.Key()] && r.Kind() != record.Checks && r.Kind() != record.Photos
			l.Shelf.Put(r)
		}
		l.Shelf.stale()
	}
	w := &write{ids: ids, fail: fail}
	if done != nil {
		w.done = done
		if fresh {
			w.undo = func() {
				for _, r := range records {
					l.Shelf.putBack(r, before[r.Key()])
				}
				l.Shelf.stale()
			}
		}
	}
	w.show = func() {
		for _, r := range records {
			l.Shelf.join(r)
		}
		l.Shelf.stale()
	}
	w.do = func(c context.Context) error {
		merged, err := l.joinStored(c, changes, known)
		if err == nil {
			err = l.store.Write(c, changes)
		}
		if merged {
			l.page.Do(func() {
				if l.Shelf != nil {
					l.load()
				}
			})
		}
		return err
	}
	l.ask(w)
	return true
}

// UndoDelete brings back what was deleted last.
func (l *Ledger) UndoDelete() {
	now := time.Now()
	for _, r := range l.Deleted {
		r.Restore(now)
	}
	l.Commit(l.Deleted...)
	l.Deleted = nil
}

// mostGot is how many rows are read one by one; if more are needed, all of
// their kind are read at once.
const mostGot = 60

// joinStored merges what is about to be written with what another tab has
// written by then, and reports whether there was anything.
func (l *Ledger) joinStored(ctx context.Context, changes []store.Change, known map[string]bool) (merged bool, err error) {
	n := 0
	for i := range changes {
		if known[changes[i].Row.ID] {
			n++
		}
	}
	get := l.store.Get
	if n > mostGot {
		get = l.getter()
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
			return merged, err
		}
		kind := record.Kind(row.Kind)
		theirs, err := record.Decode(kind, there.JSON)
		if err != nil {
			return merged, err
		}
		ours, err := record.Decode(kind, row.JSON)
		if err != nil {
			return merged, err
		}
		both, err := record.Merge(theirs, ours)
		if err != nil {
			return merged, err
		}
		text, err := both.Encode()
		if err != nil {
			return merged, err
		}
		if string(text) != string(row.JSON) {
			row.JSON, merged = text, true
		}
	}
	return merged, nil
}

// getter returns what Get of the store returns, but reads all rows of a kind
// when one of them is requested.
func (l *Ledger) getter() func(context.Context, store.Kind, string) (store.Row, error) {
	read := map[store.Kind]map[string]store.Row{}
	return func(ctx context.Context, kind store.Kind, id string) (store.Row, error) {
		if read[kind] == nil {
			rows, err := l.store.List(ctx, kind, store.ListOptions{})
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
