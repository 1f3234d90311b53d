package ledger

import (
	"bufio"
	"context"
	"errors"
	"io"
	"sort"
	"time"

	"larderlamp/app/backup"
	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/rules"
)

// Backups are written and read record by record. A backup with many photos is
// larger than the memory a phone allows a page, and the memory of the program
// never shrinks.

// piece is how many bytes are written at once.
const piece = 1 << 18

// pageOf is how many rows of a kind are read at once: a photo is large.
func pageOf(kind record.Kind) int {
	if kind == record.Photos {
		return 8
	}
	return 200
}

// WriteBackup writes everything that is kept. A row that can't be read is left
// out and counted. It must not be called on the goroutine that draws the page.
func (l *Ledger) WriteBackup(to io.Writer, b *backup.File) (written, unread int, err error) {
	l.written()
	buffered := bufio.NewWriterSize(to, piece)
	w, err := backup.NewWriter(buffered, b)
	if err != nil {
		return 0, 0, err
	}
	for _, kind := range record.Kinds {
		for after, more := "", true; more; {
			rows, err := l.store.List(context.Background(), store.Kind(kind), store.ListOptions{After: after, Limit: pageOf(kind)})
			if err != nil {
				return 0, 0, err
			}
			more = len(rows) == pageOf(kind)
			for _, row := range rows {
				after = row.ID
				r, err := record.Decode(kind, row.JSON)
				if err != nil {
					l.page.Log(err)
					unread++
					continue
				}
				if err := w.Add(r); err != nil {
					return 0, 0, err
				}
				written++
			}
		}
	}
	if err := w.Close(); err != nil {
		return 0, 0, err
	}
	return written, unread, buffered.Flush()
}

// storedFinder finds the stored records for those of a file, which are usually in the
// order of their ids.
type storedFinder struct {
	store store.Store
	kind  record.Kind
	rows  []store.Row // a page of them
	ended bool        // rows is the last page
}

// find returns the record of a kind and id, or nil.
func (f *storedFinder) find(kind record.Kind, id string) (record.Record, error) {
	if kind != f.kind {
		*f = storedFinder{store: f.store, kind: kind}
	}
	for !f.ended && (len(f.rows) == 0 || f.rows[len(f.rows)-1].ID < id) {
		after := ""
		if len(f.rows) > 0 {
			after = f.rows[len(f.rows)-1].ID
		}
		rows, err := f.store.List(context.Background(), store.Kind(kind), store.ListOptions{After: after, Limit: pageOf(kind)})
		if err != nil {
			return nil, err
		}
		f.ended = len(rows) < pageOf(kind)
		if len(rows) > 0 {
			f.rows = rows
		}
	}
	if len(f.rows) == 0 {
		return nil, nil
	}
	at := sort.Search(len(f.rows), func(i int) bool { return f.rows[i].ID >= id })
	var row store.Row
	switch {
	case at < len(f.rows) && f.rows[at].ID == id:
		row = f.rows[at]
	case at > 0:
		return nil, nil
	default: // before the page: the file has another order
		var err error
		if row, err = f.store.Get(context.Background(), store.Kind(kind), id); errors.Is(err, store.ErrNotFound) {
			return nil, nil
		} else if err != nil {
			return nil, err
		}
	}
	return record.Decode(kind, row.JSON)
}

// Merging is the result of importing a file.
type Merging struct {
	*backup.Plan
	Lost int             // jars whose batch is neither in the file nor here
	File record.Settings // the settings in the file
}

// merge merges a file with what is stored here and calls put with every record
// that has to be written. Batches that are new here go through bind, if it is
// set. It must not be called on the goroutine that draws the page.
func (l *Ledger) merge(file io.Reader, bind func(*record.Batch), put func(record.Record) error) (*Merging, error) {
	m := &Merging{Plan: backup.NewPlan()}
	f := &storedFinder{store: l.store}
	batches, of := map[string]bool{}, map[string]int{}
	jars := map[string]*record.Jar{}     // as they will be
	checks := map[string]*record.Check{} // that differ here and in the file
	read, err := backup.Scan(file, func(r record.Record) error {
		switch r := r.(type) {
		case *record.Batch:
			batches[r.ID] = true
		case *record.Jar:
			if !r.IsDeleted() {
				of[r.Batch]++
			}
		}
		here, err := f.find(r.Kind(), r.Key())
		if err != nil {
			return err
		}
		if j, ok := here.(*record.Jar); ok {
			jars[j.ID] = j
		}
		write, err := m.Take(r, here)
		if err != nil || write == nil {
			return err
		}
		switch r := write.(type) {
		case *record.Batch:
			if here == nil && bind != nil {
				bind(r)
			}
		case *record.Jar:
			jars[r.ID] = r
		case *record.Check:
			if here != nil {
				checks[r.ID] = r
			}
		}
		return put(write)
	})
	if err != nil {
		return nil, err
	}
	for _, c := range checks {
		// Of the two entries of the check in its jar, one had to give way.
		if j := jars[c.Jar]; j != nil && j.AddGathered(c) {
			if err := put(j); err != nil {
				return nil, err
			}
		}
	}
	m.File = read.Settings
	for id, jars := range of {
		if batches[id] {
			continue
		}
		switch _, err := l.store.Get(context.Background(), store.Kind(record.Batches), id); {
		case errors.Is(err, store.ErrNotFound):
			m.Lost += jars
		case err != nil:
			return nil, err
		}
	}
	return m, nil
}

// Survey reports what importing a file would change.
func (l *Ledger) Survey(file io.Reader) (*Merging, error) {
	l.written()
	return l.merge(file, nil, func(record.Record) error { return nil })
}

// Import imports a file, all of it or nothing, with its settings if whole is set or
// nothing was set here, and then calls done on the page with how many records were
// written. The records here may have changed since the file was surveyed: it is
// merged with what is here now.
func (l *Ledger) Import(file io.Reader, from record.Settings, whole bool, done func(int)) {
	settings := l.Settings.From(from, whole)
	changed := !settings.Same(&l.Settings)
	settings.Changed = time.Now().UTC()
	settings.Revision++
	l.write(func(c context.Context) error {
		n := 0
		bind := func(b *record.Batch) { b.Bind(&from, &settings, time.Now()) }
		err := l.store.WriteAll(c, func(put func(store.Change) error) error {
			m, err := l.merge(file, bind, func(r record.Record) error {
				text, err := r.Encode()
				if err != nil {
					return err
				}
				return put(store.Change{Row: store.Row{Kind: store.Kind(r.Kind()), ID: r.Key(), JSON: text}})
			})
			if err != nil {
				return err
			}
			n = m.Count()
			if !changed {
				return nil
			}
			text, err := settings.Encode()
			if err != nil {
				return err
			}
			return put(store.Change{Row: store.Row{Kind: store.KindSettings, ID: record.SettingsID, JSON: text}})
		})
		if err != nil {
			return err
		}
		if changed {
			l.Settings = settings
		}
		l.page.Do(func() {
			if l.Shelf != nil {
				l.Shelf.Loaded = false
				l.load()
			}
			done(n)
		})
		return nil
	})
}

// Edition is what a backup written now says about itself.
func (l *Ledger) Edition(b backup.File) *backup.File {
	b.Edition, b.Settings = rules.Edition, l.Settings
	return &b
}
