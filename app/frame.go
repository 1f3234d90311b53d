package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
)

// brandBreak is where the name may go on in the next line, on the smallest screens.
const brandBreak = len("Larder")

// frame puts a page between the header and the cautions that are always there.
func frame(here string, body ...app.UI) app.UI {
	return el("div", "page",
		elem("a", "skip").Attr("href", "#main").Text(local("Skip to the content")),
		el("header", "top",
			toPage("brand", "/").Body(el("span", "brand-lamp"), elem("span", "brand-name").Attr("translate", "no").Body(app.Text(Name[:brandBreak]), elem("wbr", ""), app.Text(Name[brandBreak:]))),
			links("", "Pages", here, "/check", "Check", "/shelf", "Shelf", "/sweep", "Sweep", "/trip", "Trip", "/learn", "Learn"),
		),
		elem("main", "").ID("main").TabIndex(-1).Body(body...),
		el("footer", "foot",
			links("more", "More pages", "", "/about", "Cautions and limits", "/rules", "Rule book", "/history", "Earlier checks",
				"/places", "Places", "/stock", "What you have", "/labels", "Labels", "/keeping", "Backups", "/notices", "Notices"),
			el("p", "",
				txt("strong", "", "Never taste to decide. "),
				prose("Eaten from a suspect jar? Blurred sight, slurred speech, weakness: emergency room at once. "),
				anchor("", "/about", "What to do"),
			),
			txt("p", "", "This guide supports, and never replaces, your local food-safety authority and current published guidance."),
		),
	)
}

// links lists pages: paths and names in turn. The one that is shown is marked.
func links(class, label, here string, to ...string) app.UI {
	return elem("nav", class).Aria("label", local(label)).Body(each(len(to)/2, func(i int) app.UI {
		a := toPage("", to[2*i]).Text(local(to[2*i+1]))
		if here == to[2*i] {
			a = a.Aria("current", "page").Class("here")
		}
		return a
	})...)
}

// source names a source as it was published.
func source(c rules.Cite) app.UI {
	return el("span", "", elem("cite", "").Attr("lang", "en").Attr("translate", "no").Body(app.Text(c.String())), app.Text(" "))
}

// cite writes where a reason comes from and how we know.
func cite(c rules.Cite) app.UI {
	return el("li", "cite", source(c), evidence(c.Evidence))
}

// evidence says how we know what a source says.
func evidence(e rules.Evidence) app.UI {
	class := "evidence unseen"
	if e.Found() {
		class = "evidence"
	}
	return txt("span", class, e.String())
}

func cites(cs []rules.Cite) app.UI {
	return el("ul", "cites", each(len(cs), func(i int) app.UI { return cite(cs[i]) })...)
}

// ruleLink leads to a rule in the rule book.
func ruleLink(r *rules.Rule, text string) app.UI {
	a := toPage("", "/rules#"+r.ID)
	if text == r.ID {
		return a.Attr("translate", "no").Text(text)
	}
	return a.Text(local(text))
}

// focus moves the keyboard and the screen reader to an element once the page
// has been updated. It does nothing while a page is prerendered.
func focus(ctx app.Context, id string) {
	ctx.Defer(func(app.Context) {
		if !app.IsClient {
			return
		}
		if e := app.Window().GetElementByID(id); e.Truthy() {
			// Without a jump: the picture above stays in view, as on paper.
			e.Call("focus", map[string]any{"preventScroll": true})
		}
		app.Window().Call("scrollTo", 0, 0)
	})
}
