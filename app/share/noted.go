package share

import (
	"context"
	"slices"
	"strings"

	"larderlamp/app/store"
)

// Noted is a store that marks every record written here to be sent, when the shelf
// is shared, and then calls Wake. What comes from other phones is written to the
// store below it.
type Noted struct {
	store.Store
	Wake func() // something may have to be sent; nil for none
}

// wake calls Wake after a write that has succeeded.
func (n Noted) wake(err error) error {
	if err == nil && n.Wake != nil {
		n.Wake()
	}
	return err
}

// IsMark reports whether a change only marks a record as one that has to be sent or
// has been: no page shows which records those are.
func IsMark(c store.Change) bool {
	return c.Row.Kind == store.KindShared && strings.HasPrefix(c.Row.ID, unmetRows)
}

// marks are the marks for what is written; a row that is deleted permanently has
// none.
func marks(changes []store.Change) (notes []store.Change) {
	for _, c := range changes {
		switch {
		case !shared(c.Row.Kind):
		case c.Delete:
			notes = append(notes, gone(unmetRows+key(c.Row.Kind, c.Row.ID)))
		default:
			notes = append(notes, row(unmetRows+key(c.Row.Kind, c.Row.ID), unmet{}))
		}
	}
	return notes
}

// Write implements store.Store.
func (n Noted) Write(ctx context.Context, changes []store.Change) error {
	h, err := readHousehold(ctx, n.Store)
	if err != nil {
		return err
	}
	if h == nil || h.Ended {
		return n.Store.Write(ctx, changes)
	}
	return n.wake(n.Store.Write(ctx, append(slices.Clone(changes), marks(changes)...)))
}

// WriteAll implements store.Store.
func (n Noted) WriteAll(ctx context.Context, fill func(put func(store.Change) error) error) error {
	h, err := readHousehold(ctx, n.Store)
	if err != nil {
		return err
	}
	if h == nil || h.Ended {
		return n.Store.WriteAll(ctx, fill)
	}
	return n.wake(n.Store.WriteAll(ctx, func(put func(store.Change) error) error {
		return fill(func(c store.Change) error {
			if err := put(c); err != nil {
				return err
			}
			for _, m := range marks([]store.Change{c}) {
				if err := put(m); err != nil {
					return err
				}
			}
			return nil
		})
	}))
}
