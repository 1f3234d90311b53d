package house

import (
	"context"
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/app/ui"
)

// screen is a page that holds something of what is kept beside the shelf: a
// check, a plan, a list. renew takes that afresh from the records, and then
// calls done.
type screen interface {
	app.Composer
	Renew(ctx app.Context, done func(app.Context))
}

// kept lists the pages that show something of what is kept. They are covered
// while it is read again: see static/fresh.js.
var kept = []string{"/", "/check", "/history", "/shelf", "/jar", "/batch", "/many", "/places", "/labels", "/stock", "/keeping", "/sweep", "/trip"}

// fresh is the helper that covers the page, or nothing.
func fresh() app.Value { return app.Window().Get("larderFresh") }

// watch says what page is shown.
func (h *House) watch(path string) {
	h.Screen = nil
	if !app.IsClient || !fresh().Truthy() {
		return
	}
	if slices.Contains(kept, path) {
		fresh().Call("watch", ui.Link(path))
	} else {
		fresh().Call("watch", "")
	}
}

// HearOfChange reads again whatever may have changed behind the back of the page.
func (h *House) HearOfChange() {
	if !app.IsClient || !fresh().Truthy() {
		return
	}
	fresh().Call("begin", app.FuncOf(func(_ app.Value, args []app.Value) any {
		number := args[0].Int()
		h.mu.Lock()
		h.asked++
		h.mu.Unlock()
		h.onPage(func(ctx app.Context) { h.renew(ctx, number) })
		return nil
	}))
}

// renew reads what is kept again and draws the page anew, and then uncovers it.
func (h *House) renew(ctx app.Context, number int) {
	done := func(ctx app.Context) {
		ctx.Update()
		ctx.Defer(func(app.Context) { fresh().Call("done", number) })
	}
	if !h.begun {
		done(ctx)
		return
	}
	if len(h.waiting()) > 0 { // there may be room now
		h.write(ctx, func(context.Context) error { return nil })
	}
	go func() {
		h.written()
		h.mu.Lock()
		asked := h.asked
		h.mu.Unlock()
		settings, err := loadSettings(h.store)
		if err != nil {
			h.Complain(ui.Say("Your settings could not be read: %s", ui.Plain(err)))
		}
		h.onPage(func(ctx app.Context) {
			h.mu.Lock()
			newer := h.asked != asked
			h.mu.Unlock()
			if newer { // The settings may be among what was written meanwhile.
				h.renew(ctx, number)
				return
			}
			if err == nil && !h.IsUnsaved(record.SettingsID) {
				h.Settings = settings
			}
			next := func(ctx app.Context) {
				if h.Screen != nil {
					h.Screen.Renew(ctx, done)
					return
				}
				done(ctx)
			}
			if h.Shelf == nil {
				next(ctx)
				return
			}
			h.Shelf.Loaded = false
			h.Shelf.waiting = append(h.Shelf.waiting, next)
			h.load(ctx)
		})
	}()
}

// telling is a store that tells the other tabs of every write.
type telling struct{ store.Store }

// Write implements store.Store.
func (t telling) Write(ctx context.Context, changes []store.Change) error {
	return tell(t.Store.Write(ctx, changes))
}

// WriteAll implements store.Store.
func (t telling) WriteAll(ctx context.Context, fill func(put func(store.Change) error) error) error {
	return tell(t.Store.WriteAll(ctx, fill))
}

// tell tells the other tabs of a write that has gone well.
func tell(err error) error {
	if err == nil && app.IsClient && ui.Device().Truthy() {
		ui.Device().Call("tell", "written")
	}
	return err
}
