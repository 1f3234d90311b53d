package house

import (
	"context"
	"sync"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ledger"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/share"
	"larderlamp/app/store"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules/prose"
)

// House is the ledger of the household beside the page that is shown.
//
// Contexts passed to it must be those of a page, not of a button: what is
// dispatched for an element that is gone is dropped.
type House struct {
	*ledger.Ledger
	titles map[string]prose.Text // titles of the tab, by path
	title  prose.Text            // of the page that is shown
	at     string                // path of the page that is shown
	Screen screen                // the page that is shown, when it shows something that is stored

	mu       sync.Mutex
	Private  string              // "yes": what is stored is lost when this window is closed; "no"; or "" when unknown
	page     app.Context         // context of the page that is shown
	shown    bool                // a page is shown
	moved    bool                // another page than the one that the browser opened is shown
	back     bool                // the next page is one that somebody goes back to
	replaced string              // address that the page has set itself
	todo     []func(app.Context) // what waits for the UI goroutine

	sharing
}

// New opens nothing yet. Which household is shown is known from the first draw on:
// a notice that came later would move a button that someone is about to touch.
func New(titles map[string]prose.Text) *House {
	h := &House{titles: titles, sharing: newSharing()}
	// Until something else is set, the unit is that of the reader's country.
	fresh := func() record.Settings {
		return record.Settings{Version: record.Version, Fahrenheit: app.Window().Get("larderFahrenheit").Truthy()}
	}
	h.Ledger = ledger.New(shownPage{h}, h.open, fresh)
	h.Demo = demoChosen()
	return h
}

// InMemory is a household that is open, holds what is given and saves nothing: for
// drawing the screens without a browser.
func InMemory(p *pantry.Pantry) *House { return &House{Ledger: ledger.InMemory(p)} }

// open opens the store of this device, and asks whether the window is private.
func (h *House) open() (store.Store, store.Status) {
	answered := make(chan struct{})
	go func() {
		private := privateWindow()
		h.mu.Lock()
		h.Private = private
		h.mu.Unlock()
		close(answered)
		h.onPage(func(app.Context) {})
	}()
	s, status := store.Open(context.Background(), h.Demo)
	select {
	case <-answered:
	case <-time.After(time.Second): // a browser that does not say, or says it later
	}
	h.below = telling{s}
	return share.Noted{Store: h.below, Wake: h.sendSoon}, status
}

// privateWindow reports whether what is stored is lost when the window is
// closed.
func privateWindow() string {
	if !app.IsClient || !ui.Device().Truthy() {
		return ""
	}
	private, err := ui.Await(ui.Device().Call("isPrivate"))
	if err != nil {
		return ""
	}
	return private.String()
}

// demoKey is where the browser keeps whether the made-up household is shown.
const demoKey = "larderlamp-demo"

// demoChosen reports whether the made-up household is to be shown. A browser
// that stores nothing shows the person's own household.
func demoChosen() bool {
	v, ok := ui.DeviceItem(demoKey)
	return ok && v == "on"
}

// ShowDemo switches to the made-up household, which is filled first, and
// HideDemo switches back, once everything is written. The page is reloaded so
// that nothing of the other household is left in memory.
func (h *House) ShowDemo() { h.switchTo("on", "/keeping?demo=fill") }

func (h *House) HideDemo() { h.switchTo("", "/shelf") }

func (h *House) switchTo(demo, path string) {
	h.Settled(h.current(), func(app.Context) {
		ui.SetDeviceItem(demoKey, demo)
		app.Window().Get("location").Call("assign", ui.Link(path))
	})
}

// inBackground runs work off the UI goroutine, and then runs the function that work
// returns on the page, unless the page has been left by then.
func (h *House) inBackground(ctx app.Context, work func() func(app.Context)) {
	h.Open()
	go func() {
		<-h.Opened()
		ctx.Dispatch(work())
	}()
}

// WithShelf loads the pantry once and then calls f on the UI goroutine, unless the
// page has been left by then.
func (h *House) WithShelf(ctx app.Context, f func(app.Context)) {
	if h.Shelf != nil && h.Shelf.Loaded {
		f(ctx)
		return
	}
	h.Ledger.WithShelf(func() {
		ctx.Dispatch(func(ctx app.Context) {
			f(ctx)
			ctx.Defer(func(app.Context) { h.settle() })
		})
	})
}

// Keep saves records, all of them or none, and calls done once they are on the
// device: nothing is said to be saved before that.
func (h *House) Keep(ctx app.Context, done func(), records ...record.Record) bool {
	return h.Ledger.Keep(dispatched(ctx, done), nil, records...)
}

// Send is Keep for a form that makes something new. If the form were sent again
// before the first save is confirmed, it would make it twice: until then, busy
// says so.
func (h *House) Send(ctx app.Context, busy *bool, done func(), records ...record.Record) {
	*busy = h.Ledger.Keep(dispatched(ctx, func() {
		*busy = false
		done()
	}), func() { *busy = false }, records...)
}

// dispatched calls f on the UI goroutine, unless the page has been left by then.
func dispatched(ctx app.Context, f func()) func() {
	if f == nil {
		return nil
	}
	return func() { ctx.Dispatch(func(app.Context) { f() }) }
}

// Save saves a check as it is now. When another tab has said something in the same
// check, the page reloads it.
func (h *House) Save(c *record.Check) {
	h.Ledger.Save(c, func() {
		if h.Screen != nil {
			h.Screen.Renew(h.current(), func(ctx app.Context) { ctx.Update() })
		}
	})
}

// Settled calls f once everything written before is done.
func (h *House) Settled(ctx app.Context, f func(app.Context)) {
	h.Ledger.Settled(func() { ctx.Dispatch(f) })
}

// Find fetches a check; the session is nil when this device does not have it.
func (h *House) Find(ctx app.Context, id string, found func(app.Context, *session.Session)) {
	h.inBackground(ctx, func() func(app.Context) {
		s := h.Ledger.Find(id)
		return func(ctx app.Context) { found(ctx, s) }
	})
}

// List fetches checks that are not deleted, newest first, older than the one
// with the id given; more reports whether there are still older ones.
func (h *House) List(ctx app.Context, after string, limit int, found func(app.Context, []record.Check, bool)) {
	h.inBackground(ctx, func() func(app.Context) {
		checks, more := h.Ledger.List(after, limit)
		return func(ctx app.Context) {
			found(ctx, checks, more)
			ctx.Defer(func(app.Context) { h.settle() })
		}
	})
}

// Fetch reads records of a kind by id and calls found with those that exist and
// can be read.
func (h *House) Fetch(ctx app.Context, kind record.Kind, ids []string, found func([]record.Record)) {
	h.inBackground(ctx, func() func(app.Context) {
		rs := h.Ledger.Fetch(kind, ids)
		return func(app.Context) { found(rs) }
	})
}

// Check begins a check of a jar with what the shelf knows already answered, and
// goes to it once it is on the device. The context must be that of a page.
func (h *House) Check(ctx app.Context, j *record.Jar) {
	c, err := h.Shelf.NewCheckOf(j, time.Now(), ui.Reader)
	if err != nil {
		h.Complain(ui.Plain(err))
		return
	}
	h.Keep(ctx, func() { ctx.Navigate(ui.Link("/check#id=" + c.ID)) }, c)
}

// Sweeping reports whether a sweep is under way and is the one with the id.
func (h *House) Sweeping(id string) bool {
	if h.Shelf == nil {
		return false
	}
	s := walk.Running(h.Shelf.Pantry)
	return s != nil && s.ID == id
}
