package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
)

// frame puts a page between the header and the cautions that are always there.
func frame(here string, body ...app.UI) app.UI {
	return el("div", "page",
		elem("a", "skip").Attr("href", "#main").Text("Skip to the content"),
		el("header", "top",
			toPage("brand", "/").Body(el("span", "brand-lamp"), txt("span", "", Name)),
			elem("nav", "").Aria("label", "Pages").Body(
				tab(here, "/check", "Check"),
				tab(here, "/shelf", "Shelf"),
				tab(here, "/sweep", "Sweep"),
				tab(here, "/learn", "Learn"),
			),
		),
		elem("main", "").ID("main").TabIndex(-1).Body(append([]app.UI{&updateNotice{}}, body...)...),
		el("footer", "foot",
			elem("nav", "more").Aria("label", "More pages").Body(
				anchor("", "/about", "Cautions and limits"),
				anchor("", "/rules", "Rule book"),
				anchor("", "/history", "Earlier checks"),
				anchor("", "/places", "Places"),
				anchor("", "/stock", "What there is"),
				anchor("", "/labels", "Labels"),
				anchor("", "/keeping", "Safe keeping"),
			),
			el("p", "",
				txt("strong", "", "Never taste to decide. "),
				app.Text("Eaten from a suspect jar? Blurred sight, slurred speech, weakness: emergency room at once. "),
				anchor("", "/about", "What to do"),
			),
			txt("p", "", "This guide supports, and never replaces, your local food-safety authority and current published guidance."),
		),
	)
}

func tab(here, path, name string) app.UI {
	a := toPage("", path).Text(name)
	if here == path {
		a = a.Aria("current", "page").Class("here")
	}
	return a
}

// cite writes where a reason comes from and how we know.
func cite(c rules.Cite) app.UI {
	return el("li", "cite", txt("cite", "", c.String()), app.Text(" "), evidence(c.Evidence))
}

// evidence says how we know what a source says.
func evidence(e rules.Evidence) app.UI {
	class := "evidence unseen"
	if e == rules.Read {
		class = "evidence"
	}
	return txt("span", class, e.String())
}

func cites(cs []rules.Cite) app.UI {
	return el("ul", "cites", each(len(cs), func(i int) app.UI { return cite(cs[i]) })...)
}

// ruleLink leads to a rule in the rule book.
func ruleLink(r *rules.Rule, text string) app.UI { return anchor("", "/rules#"+r.ID, text) }

// focus moves the keyboard and the screen reader to an element once the page
// has been updated. It does nothing while a page is prerendered.
func focus(ctx app.Context, id string) {
	ctx.Defer(func(app.Context) {
		if e := app.Window().GetElementByID(id); app.IsClient && e.Truthy() {
			// Without a jump: the picture above stays in view, as on paper.
			e.Call("focus", map[string]any{"preventScroll": true})
			app.Window().Call("scrollTo", 0, 0)
		}
	})
}
