package house

import (
	"larderlamp/app/pantry"
	"larderlamp/app/store"
)

// Holding is a household that is open, holds what is given and keeps nothing: for
// what draws the screens without a browser.
func Holding(p *pantry.Pantry) *House {
	h := New(nil)
	h.begin.Do(func() {})
	close(h.ready)
	h.store, h.status = store.NewMemory(), store.Status{Durable: true}
	h.Shelf = &Shelf{Pantry: p, Loaded: true}
	return h
}
