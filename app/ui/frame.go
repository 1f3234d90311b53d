package ui

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// brandBreak is where the name may go on in the next line, on the smallest screens.
const brandBreak = len("Larder")

// Frame puts a page between the header and the cautions that are always there.
func Frame(here string, body ...app.UI) app.UI {
	return El("div", "page",
		Elem("a", "skip").Attr("href", "#main").Text(Local("Skip to the content")),
		El("header", "top",
			ToPage("brand", "/").Body(El("span", "brand-lamp"), Elem("span", "brand-name").Attr("translate", "no").Body(app.Text(Name[:brandBreak]), Elem("wbr", ""), app.Text(Name[brandBreak:]))),
			links("", "Pages", here, "/check", "Check", "/shelf", "Shelf", "/sweep", "Sweep", "/trip", "Trip", "/learn", "Learn"),
		),
		Elem("main", "").ID("main").TabIndex(-1).Body(body...),
		El("footer", "foot",
			links("more", "More pages", "", "/about", "Cautions and limits", "/rules", "Rule book", "/history", "Earlier checks",
				"/places", "Places", "/stock", "What you have", "/labels", "Labels", "/keeping", "Backups", "/notices", "Notices"),
			El("p", "",
				Txt("strong", "", "Never taste to decide. "),
				Prose("Eaten from a suspect jar? Blurred sight, slurred speech, weakness: emergency room at once. "),
				Anchor("", "/about", "What to do"),
			),
			Txt("p", "", "This guide supports, and never replaces, your local food-safety authority and current published guidance."),
		),
	)
}

// links lists pages: paths and names in turn. The one that is shown is marked.
func links(class, label, here string, to ...string) app.UI {
	return Elem("nav", class).Aria("label", Local(label)).Body(Each(len(to)/2, func(i int) app.UI {
		a := ToPage("", to[2*i]).Text(Local(to[2*i+1]))
		if here == to[2*i] {
			a = a.Aria("current", "page").Class("here")
		}
		return a
	})...)
}

// Focus moves the keyboard and the screen reader to an element once the page
// has been updated. It does nothing while a page is prerendered.
func Focus(ctx app.Context, id string) {
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

// Name is the product's name.
const Name = "Larderlamp"
