package app

import (
	"context"
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

// screen is a page that holds something of what is kept beside the shelf: a
// check, a plan, a list. renew takes that afresh from the records, and then
// calls done.
type screen interface {
	app.Composer
	renew(ctx app.Context, done func(app.Context))
}

// kept lists the pages that show something of what is kept. They are covered
// while it is read again: see static/fresh.js.
var kept = []string{"/", "/check", "/history", "/shelf", "/jar", "/batch", "/many", "/places", "/labels", "/stock", "/keeping", "/sweep", "/trip"}

// fresh is the helper that covers the page, or nothing.
func fresh() app.Value { return app.Window().Get("larderFresh") }

// watch says what page is shown.
func (h *household) watch(path string) {
	h.screen = nil
	if !app.IsClient || !fresh().Truthy() {
		return
	}
	if slices.Contains(kept, path) {
		fresh().Call("watch", link(path))
	} else {
		fresh().Call("watch", "")
	}
}

// hearOfChange reads again whatever may have changed behind the back of the page.
func (h *household) hearOfChange() {
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
func (h *household) renew(ctx app.Context, number int) {
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
			h.complain(say("Your settings could not be read: %s", plain(err)))
		}
		h.onPage(func(ctx app.Context) {
			h.mu.Lock()
			newer := h.asked != asked
			h.mu.Unlock()
			if newer { // The settings may be among what was written meanwhile.
				h.renew(ctx, number)
				return
			}
			if err == nil && !h.isUnsaved(record.SettingsID) {
				h.settings = settings
			}
			next := func(ctx app.Context) {
				if h.screen != nil {
					h.screen.renew(ctx, done)
					return
				}
				done(ctx)
			}
			if h.shelf == nil {
				next(ctx)
				return
			}
			h.shelf.loaded = false
			h.shelf.waiting = append(h.shelf.waiting, next)
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
	if err == nil && app.IsClient && device().Truthy() {
		device().Call("tell", "written")
	}
	return err
}
