package house

import (
	"net/url"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ui"
)

// Arrive is called by every page when it is opened, also when it is opened with
// another address. All pages are in one program, so what a browser does by itself
// when it loads a page is done here: the tab is named, the page begins at its
// top, and the keyboard and the screen reader are at its heading. A page that is
// come back to is shown where it was left.
//
// It tells whether the page has to read its address: not while the page is
// prerendered, nor when it has just put the address there itself.
func (h *House) Arrive(ctx app.Context, path string) bool {
	if app.IsServer {
		h.entitle(ctx, path)
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
	h.Left()
	h.entitle(ctx, path)
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

// address is what follows the host.
func address(u *url.URL) string {
	if fragment := u.EscapedFragment(); fragment != "" {
		return u.RequestURI() + "#" + fragment
	}
	return u.RequestURI()
}

// entitle sets the title of the tab.
func (h *House) entitle(ctx app.Context, path string) {
	if title := h.titles[path]; title != "" {
		ctx.Page().SetTitle(ui.Local(ui.Say("%s · %s", title, ui.Name)))
	}
}

// HearBack notes that the person goes back or forward. Where such a page stood is
// known to static/back.js.
func (h *House) HearBack() {
	if !app.IsClient {
		return
	}
	app.Window().Call("addEventListener", "popstate", app.FuncOf(func(_ app.Value, args []app.Value) any {
		if !args[0].Get("isTrusted").Bool() {
			return nil // of our own making: see address
		}
		h.mu.Lock()
		h.back = true
		h.mu.Unlock()
		return nil
	}))
}

// HearAgain begins the page that is shown anew when a link of the frame leads to its own
// address, as if it were come to from another page. go-app does nothing for such a link,
// and so a tab would seem dead while a plan or a form is open.
func (h *House) HearAgain() {
	if !app.IsClient {
		return
	}
	app.Window().Call("addEventListener", "click", app.FuncOf(func(_ app.Value, args []app.Value) any {
		e := args[0]
		for _, key := range []string{"ctrlKey", "metaKey", "shiftKey", "altKey"} {
			if e.Get(key).Truthy() {
				return nil // for the browser, to open it elsewhere
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

// onPage calls f on the UI goroutine. What is dispatched for a page that has
// been left meanwhile is dropped by go-app; here the next page does it.
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

// shownPage is what the ledger knows of the page that is shown.
type shownPage struct{ *House }

// Do implements ledger.Page.
func (p shownPage) Do(f func()) { p.onPage(func(app.Context) { f() }) }

// Writing implements ledger.Page.
func (p shownPage) Writing(yes bool) { app.Window().Set("larderWriting", yes) }

// Log implements ledger.Page.
func (p shownPage) Log(err error) { app.Log(err.Error()) }

// Mark implements ledger.Page.
func (p shownPage) Mark(what string) { ui.Measured(what) }

// catchUp does on the UI goroutine what waits for it.
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
// in the way in which it hears of a step back: it does nothing for a link to the
// address that it takes for the present one, and so has to know it.
func (h *House) ReplaceAddress(url string) { h.address("replaceState", url) }

// PushAddress is replaceAddress, and a step back leads to the address before.
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
