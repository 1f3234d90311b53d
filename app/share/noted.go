package share

import (
	"context"
	"slices"

	"larderlamp/app/store"
)

// Noted is a store that marks every record written here to be sent, when the shelf
// is shared. What comes from other phones is written to the store below it.
type Noted struct{ store.Store }

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
	if h != nil && !h.Ended {
		changes = append(slices.Clone(changes), marks(changes)...)
	}
	return n.Store.Write(ctx, changes)
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
	return n.Store.WriteAll(ctx, func(put func(store.Change) error) error {
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
	})
}
