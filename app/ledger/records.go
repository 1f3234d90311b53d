package ledger

import (
	"context"
	"errors"

	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/rules/prose"
)

// Fetch reads those records of a kind that are there and can be read. It blocks,
// and so must not be called on the goroutine that draws the page.
func (l *Ledger) Fetch(kind record.Kind, ids []string) (rs []record.Record) {
	l.written()
	for _, id := range ids {
		row, err := l.store.Get(context.Background(), store.Kind(kind), id)
		var r record.Record
		if err == nil {
			r, err = record.Decode(kind, row.JSON)
		}
		switch {
		case err == nil:
			rs = append(rs, r)
		case !errors.Is(err, store.ErrNotFound):
			l.Complain(prose.Say("One of the %s could not be read: %s", kind, prose.Plain(err)))
		}
	}
	return rs
}

// Everything reads every record of the household, for a backup or a merge. It
// must not be called on the goroutine that draws the page.
func (l *Ledger) Everything() (all []record.Record, err error) {
	l.written()
	for _, kind := range record.Kinds {
		rows, err := l.store.List(context.Background(), store.Kind(kind), store.ListOptions{})
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

// ClearDemo removes every record of the made-up household permanently, and then
// calls done on the page.
func (l *Ledger) ClearDemo(done func()) {
	l.write(func(ctx context.Context) error {
		if !l.Demo {
			return errors.New("this is not the made-up household")
		}
		var changes []store.Change
		for _, kind := range record.Kinds {
			rows, err := l.store.List(ctx, store.Kind(kind), store.ListOptions{})
			if err != nil {
				return err
			}
			for _, row := range rows {
				changes = append(changes, store.Change{Row: row, Delete: true})
			}
		}
		if err := l.store.Write(ctx, changes); err != nil {
			return err
		}
		l.page.Do(done)
		return nil
	})
}
