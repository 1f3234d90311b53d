package house

import (
	"net/url"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// Arrive is called by every page when it is opened, also when it is opened with
// another address. All pages are in one program, so this does what a browser does
// when it loads a page: it names the tab, scrolls to the top, and moves the
// keyboard and the screen reader to the heading. A page that somebody goes back
// to is shown where it was left.
//
// It reports whether the page has to read its address: it does not while the
// page is prerendered, nor when the page has just set the address itself.
func (h *House) Arrive(ctx app.Context, path string) bool {
	if app.IsServer {
		h.setTitle(ctx, path)
		return false
	}
	if fragment := ctx.Page().URL().Fragment; fragment != "" && !strings.Contains(fragment, "=") && h.shown && h.at == path && path != "/rules" {
		return false // a place on the page that is shown
	}
	h.at = path
	h.mu.Lock()
	first, back, own := !h.shown, h.back, h.replaced != "" && h.replaced == address(ctx.Page().URL())
	h.page, h.shown, h.back, h.replaced = ctx, true, false, ""
	if own {
		h.mu.Unlock()
		return false
	}
	h.moved = !first
	h.mu.Unlock()
	h.PageLeft()
	h.setTitle(ctx, path)
	h.watch(path)
	h.catchUp(ctx)
	switch {
	case first: // the browser has done all of it
	case back:
		ctx.Defer(func(app.Context) { h.settle() })
	default:
		ui.Focus(ctx, "title")
	}
	return true
}

// address is the part after the host.
func address(u *url.URL) string {
	if fragment := u.EscapedFragment(); fragment != "" {
		return u.RequestURI() + "#" + fragment
	}
	return u.RequestURI()
}

// setTitle sets the title of the tab.
func (h *House) setTitle(ctx app.Context, path string) {
	if title := h.titles[path]; title != "" {
		h.ShowTitle(ctx, title)
	}
}

// ShowTitle names the tab for what the page shows.
func (h *House) ShowTitle(ctx app.Context, title prose.Text) {
	h.title = title
	ctx.Page().SetTitle(ui.Local(ui.Say("%s · %s", title, ui.Name)))
}

// ListenForLanguage draws the page again when the reader has chosen another language.
// Nothing else changes: an answer, a form and the place on the page stay.
func (h *House) ListenForLanguage() {
	ui.ListenForLanguage(func() {
		h.onPage(func(ctx app.Context) {
			ui.Speak(ui.Spoken())
			if h.title != "" {
				h.ShowTitle(ctx, h.title)
			}
			ctx.Update()
		})
	})
}

// ListenForBack listens for going back or forward. static/back.js knows where such a
// page was scrolled to.
func (h *House) ListenForBack() {
	if !app.IsClient {
		return
	}
	app.Window().Call("addEventListener", "popstate", app.FuncOf(func(_ app.Value, args []app.Value) any {
		if !args[0].Get("isTrusted").Bool() {
			return nil // set by us: see address
		}
		h.mu.Lock()
		h.back = true
		h.mu.Unlock()
		return nil
	}))
}

// ListenForSameAddress starts the page again when a link of the frame leads to its own address, as
// if somebody came from another page. go-app does nothing for such a link, so a tab
// would seem dead while a plan or a form is open.
func (h *House) ListenForSameAddress() {
	if !app.IsClient {
		return
	}
	app.Window().Call("addEventListener", "click", app.FuncOf(func(_ app.Value, args []app.Value) any {
		e := args[0]
		for _, key := range []string{"ctrlKey", "metaKey", "shiftKey", "altKey"} {
			if e.Get(key).Truthy() {
				return nil // the browser opens it elsewhere
			}
		}
		link := e.Get("target").Call("closest", ".top a, .foot nav a")
		if link.Truthy() && link.Get("href").Equal(app.Window().Get("location").Get("href")) {
			h.onPage(func(ctx app.Context) {
				if page, ok := ctx.Src().(app.Navigator); ok {
					page.OnNav(ctx)
				}
			})
		}
		return nil
	}))
}

// settle moves the keyboard and the screen reader to the heading of a page that
// has been opened from another. It is called again when the records have been
// read: the heading may be another then.
func (h *House) settle() {
	if !h.moved {
		return
	}
	document := app.Window().Get("document")
	if e := app.Window().GetElementByID("title"); e.Truthy() && document.Get("activeElement").Equal(document.Get("body")) {
		e.Call("focus", map[string]any{"preventScroll": true})
	}
}

// onPage calls f on the UI goroutine. go-app drops what is dispatched for a
// page that has been left; here the next page runs it.
func (h *House) onPage(f func(app.Context)) {
	h.mu.Lock()
	h.todo = append(h.todo, f)
	page, shown := h.page, h.shown
	h.mu.Unlock()
	if shown {
		page.Dispatch(h.catchUp)
	}
}

// current is the page that is shown.
func (h *House) current() app.Context {
	h.mu.Lock()
	defer h.mu.Unlock()
	return h.page
}

// shownPage is what the ledger knows about the page that is shown.
type shownPage struct{ *House }

// Do implements ledger.Page.
func (p shownPage) Do(f func()) { p.onPage(func(app.Context) { f() }) }

// Writing implements ledger.Page.
func (p shownPage) Writing(yes bool) { app.Window().Set("larderWriting", yes) }

// Log implements ledger.Page.
func (p shownPage) Log(err error) { app.Log(err.Error()) }

// Mark implements ledger.Page.
func (p shownPage) Mark(what string) { ui.MarkTime(what) }

// catchUp runs on the UI goroutine what waits for it.
func (h *House) catchUp(ctx app.Context) {
	h.mu.Lock()
	todo := h.todo
	h.todo = nil
	h.mu.Unlock()
	for _, f := range todo {
		f(ctx)
	}
}

// ReplaceAddress changes the address bar without leaving the page. go-app is told
// in the same way as about a step back: it does nothing for a link to the address
// that it believes is current, and so has to know it.
func (h *House) ReplaceAddress(url string) { h.address("replaceState", url) }

// PushAddress is ReplaceAddress, but a step back leads to the address before.
func (h *House) PushAddress(url string) { h.address("pushState", url) }

func (h *House) address(how, url string) {
	if app.IsClient && url != address(app.Window().URL()) {
		h.mu.Lock()
		h.replaced = url
		h.mu.Unlock()
		app.Window().Get("history").Call(how, nil, "", url)
		app.Window().Call("dispatchEvent", app.Window().Get("PopStateEvent").New("popstate"))
	}
}
