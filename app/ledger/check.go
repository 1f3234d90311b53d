package ledger

import (
	"context"
	"errors"
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/store"
	"larderlamp/rules/prose"
)

// Save saves a check as it is now, and records it with its jar, both or neither.
// What another tab has said in the same check by then is merged with it; joined
// is then called on the page.
func (l *Ledger) Save(c *record.Check, joined func()) {
	text, err := c.Encode()
	if err != nil {
		l.refuse(err, c.ID)
		return
	}
	jar, seen := c.Jar, *c
	seen.Answers = slices.Clone(c.Answers) // the session continues with its own copy
	show := func() { l.know(jar, func(j *record.Jar) { j.AddCheck(&seen) }) }
	show()
	l.ask(&write{ids: []string{c.ID}, show: show, do: func(ctx context.Context) error {
		merged, err := l.join(ctx, &seen)
		if err != nil {
			return err
		}
		if merged {
			if text, err = seen.Encode(); err != nil {
				return err
			}
			l.page.Do(func() {
				show()
				joined()
			})
		}
		changes := []store.Change{{Row: store.Row{Kind: store.Kind(record.Checks), ID: seen.ID, JSON: text}}}
		if jar != "" {
			row, err := l.store.Get(ctx, store.Kind(record.Jars), jar)
			if err == nil {
				j, err := record.DecodeJar(row.JSON)
				if err != nil {
					return err
				}
				j.AddCheck(&seen)
				if row.JSON, err = j.Encode(); err != nil {
					return err
				}
				changes = append(changes, store.Change{Row: row})
			} else if !errors.Is(err, store.ErrNotFound) {
				return err
			}
		}
		return l.store.Write(ctx, changes)
	}})
}

// join adds to a check what is stored of it and was not read, and reports whether
// inMemory was anything.
func (l *Ledger) join(ctx context.Context, c *record.Check) (bool, error) {
	row, err := l.store.Get(ctx, store.Kind(record.Checks), c.ID)
	if errors.Is(err, store.ErrNotFound) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	there, err := record.DecodeCheck(row.JSON)
	if err != nil {
		return false, err
	}
	joined, err := c.Join(&there)
	if err != nil || !joined {
		return false, err
	}
	s := session.Resume(*c)
	s.Judge(time.Now())
	*c = s.Check
	return true, nil
}

// mostUnanswered is how many checks are looked through for those without an answer.
const mostUnanswered = 30

// DropUnanswered removes earlier checks of the same food in which nothing was
// ever said: a link to a food that is opened three times leaves one check.
func (l *Ledger) DropUnanswered(begun *record.Check) {
	id, product := begun.ID, begun.Product
	l.write(func(ctx context.Context) error {
		rows, err := l.store.List(ctx, store.Kind(record.Checks), store.ListOptions{Newest: true, Limit: mostUnanswered})
		if err != nil {
			return err
		}
		var changes []store.Change
		for _, row := range rows {
			other, err := record.DecodeCheck(row.JSON)
			if err == nil && other.ID != id && other.Product == product && other.Jar == "" && other.Label == "" && len(other.Answers) == 0 && !other.IsDeleted() {
				changes = append(changes, store.Change{Row: row, Delete: true})
			}
		}
		if len(changes) == 0 {
			return nil
		}
		return l.store.Write(ctx, changes)
	})
}

// know changes a jar in memory as it is about to be changed in the store, so that
// the pages of the shelf show at once what a check has found.
func (l *Ledger) know(jar string, change func(*record.Jar)) {
	if l.Shelf == nil {
		return
	}
	if j := l.Shelf.Jars[jar]; j != nil {
		change(j)
		l.Shelf.Put(j)
		l.Shelf.stale()
	}
}

// Picture saves a photo and records it with its jar, both or neither.
func (l *Ledger) Picture(photo *record.Photo, done func()) {
	text, err := photo.Encode()
	if err != nil {
		l.Complain(prose.Say("The photo could not be saved: %s", prose.Plain(err)))
		return
	}
	l.write(func(ctx context.Context) error {
		row, err := l.store.Get(ctx, store.Kind(record.Jars), photo.Jar)
		if err != nil {
			return err
		}
		j, err := record.DecodeJar(row.JSON)
		if err != nil {
			return err
		}
		e, err := j.Add(record.Pictured, photo.At)
		if err != nil {
			return err
		}
		e.Photo, e.Check = photo.ID, photo.Check
		if row.JSON, err = j.Encode(); err != nil {
			return err
		}
		if err := l.store.Write(ctx, []store.Change{{Row: store.Row{Kind: store.Kind(record.Photos), ID: photo.ID, JSON: text}}, {Row: row}}); err != nil {
			return err
		}
		l.page.Do(func() {
			l.know(photo.Jar, func(j *record.Jar) { j.Events = append(j.Events, *e) })
			done()
		})
		return nil
	})
}

// Find fetches a check; the session is nil when this device does not have it. It
// blocks, and so must not be called on the goroutine that draws the page.
func (l *Ledger) Find(id string) *session.Session {
	l.written()
	row, err := l.store.Get(context.Background(), store.Kind(record.Checks), id)
	if err == nil {
		var c record.Check
		if c, err = record.DecodeCheck(row.JSON); err == nil {
			return session.Resume(c)
		}
	}
	if !errors.Is(err, store.ErrNotFound) {
		l.Complain(prose.Say("This check could not be read: %s", prose.Plain(err)))
	}
	return nil
}

// List fetches checks that are not deleted, newest first, older than the one with
// the id given; more reports whether there are still older ones. It blocks, and so
// must not be called on the goroutine that draws the page.
func (l *Ledger) List(after string, limit int) (checks []record.Check, more bool) {
	l.written()
	unread, more := 0, true
	for more && len(checks) < limit {
		rows, err := l.store.List(context.Background(), store.Kind(record.Checks), store.ListOptions{Newest: true, After: after, Limit: limit})
		if err != nil {
			l.Complain(prose.Say("The checks could not be read: %s", prose.Plain(err)))
			break
		}
		more = len(rows) == limit
		for _, row := range rows {
			after = row.ID
			switch c, err := record.DecodeCheck(row.JSON); {
			case err != nil:
				unread++
			case c.Deleted == nil:
				checks = append(checks, c)
			}
		}
	}
	if unread > 0 {
		l.Complain(prose.Count(unread, "check could not be read. It is left as it is.", "checks could not be read. They are left as they are."))
	}
	return checks, more
}
