package house

import (
	"context"
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/share"
	"larderlamp/app/store"
	"larderlamp/app/ui"
)

// screen is a page that shows something stored besides the shelf: a check, a
// plan, a list. Renew reads it again from the records, and then calls done.
type screen interface {
	app.Composer
	Renew(ctx app.Context, done func(app.Context))
}

// kept lists the pages that show something that is stored. They are covered
// while it is read again: see static/fresh.js.
var kept = []string{"/", "/check", "/history", "/shelf", "/jar", "/batch", "/many", "/places", "/labels", "/stock", "/keeping", "/sweep", "/trip"}

// fresh is the helper that covers the page, or nothing.
func fresh() app.Value { return app.Window().Get("larderFresh") }

// watch says which page is shown.
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

// ListenForChanges reads again whatever may have changed without the page knowing.
func (h *House) ListenForChanges() {
	if !app.IsClient || !fresh().Truthy() {
		return
	}
	fresh().Call("begin", app.FuncOf(func(_ app.Value, args []app.Value) any {
		number := args[0].Int()
		h.Changed()
		h.sendSoon()
		h.onPage(func(app.Context) { h.renew(number) })
		return nil
	}))
	ui.Device().Call("listen", app.FuncOf(func(_ app.Value, args []app.Value) any {
		switch text := args[0].String(); text {
		case sharingWritten:
			h.hearOfSharing()
		case standingAsked:
			h.tellStanding()
		default:
			if told, ok := strings.CutPrefix(text, standingTold); ok {
				h.hearStanding(told)
			}
		}
		return nil
	}))
}

// renew reads what is stored again, redraws the page, and then uncovers it.
func (h *House) renew(number int) {
	done := func(ctx app.Context) {
		ctx.Update()
		ctx.Defer(func(app.Context) { fresh().Call("done", number) })
	}
	h.Renew(func() {
		if h.Screen != nil && h.IsBegun() {
			h.Screen.Renew(h.current(), done)
			return
		}
		done(h.current())
	})
}

// telling is a store that tells the other tabs about every write: that records were
// written, or only how the shelf is shared.
type telling struct{ store.Store }

// Write implements store.Store.
func (t telling) Write(ctx context.Context, changes []store.Change) error {
	var n news
	for _, c := range changes {
		n.add(c)
	}
	return n.tell(t.Store.Write(ctx, changes))
}

// WriteAll implements store.Store.
func (t telling) WriteAll(ctx context.Context, fill func(put func(store.Change) error) error) error {
	var n news
	return n.tell(t.Store.WriteAll(ctx, func(put func(store.Change) error) error {
		return fill(func(c store.Change) error {
			n.add(c)
			return put(c)
		})
	}))
}

// news is what the other tabs have to be told about a write.
type news struct{ records, sharing bool }

func (n *news) add(c store.Change) {
	n.records = n.records || c.Row.Kind != store.KindShared
	n.sharing = n.sharing || c.Row.Kind == store.KindShared && !share.IsMark(c)
}

// The words that tabs tell one another: static/fresh.js covers the page at
// recordsWritten.
const (
	recordsWritten = "written"
	sharingWritten = "shared"
	// Only one tab knows how the phone stands with the exchange: it tells the others,
	// and those that are opened later ask it.
	standingAsked = "standing?"
	standingTold  = "standing "
)

// tell announces a write that has succeeded.
func (n *news) tell(err error) error {
	if err != nil || !app.IsClient || !ui.Device().Truthy() {
		return err
	}
	if n.records {
		ui.Device().Call("tell", recordsWritten)
	}
	if n.sharing {
		ui.Device().Call("tell", sharingWritten)
	}
	return nil
}
