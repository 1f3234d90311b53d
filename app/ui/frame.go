package ui

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules/prose"
)

// brandBreak is where the name may break on the smallest screens.
const brandBreak = len("Larder")

// Frame puts a page between the header and the cautions that are always there.
func Frame(here string, body ...app.UI) app.UI {
	class := "page"
	if here == "/" {
		class = "page home"
	}
	return El("div", class,
		Elem("a", "skip").Attr("href", "#main").Text(Local("Skip to the content")),
		El("header", "top",
			ToPage("brand", "/").Body(El("span", "brand-lamp"), Elem("span", "brand-name").Attr("translate", "no").Body(app.Text(Name[:brandBreak]), Elem("wbr", ""), app.Text(Name[brandBreak:]))),
			El("div", "languages", languageButtons()...),
			links("", "Pages", here, Choice{"/check", "Check"}, Choice{"/shelf", "Shelf"}, Choice{"/sweep", "Sweep"}, Choice{"/trip", "Trip"}, Choice{"/learn", "Learn"}),
		),
		Elem("main", "").ID("main").TabIndex(-1).Body(body...),
		El("footer", "foot",
			El("div", "languages", languageButtons()...),
			links("more", "More pages", "", Choice{"/", "First page"}, Choice{"/about", "Cautions and limits"}, Choice{"/rules", "Rule book"}, Choice{"/history", "Earlier checks"},
				Choice{"/places", "Places"}, Choice{"/stock", "What you have"}, Choice{"/labels", "Labels"}, Choice{"/keeping", "Backups"}, Choice{"/share", "Share the shelf"}, Choice{"/notices", "Notices"}),
			El("p", "",
				Txt("strong", "", "Never taste to decide. "),
				Prose("Eaten from a suspect jar? Blurred sight, slurred speech, weakness: emergency room at once. "),
				Anchor("", "/about", "What to do"),
			),
			Txt("p", "", "This guide supports, and never replaces, your local food-safety authority and current published guidance."),
			Only(Reader != nil, func() app.UI {
				return El("p", "", Prose("No one who teaches food safety has checked this translation yet. "), Anchor("", "/about", "More about it"))
			}),
		),
	)
}

// links lists pages: paths and names in turn. The current page is marked.
func links(class string, label prose.Text, here string, to ...Choice) app.UI {
	return Elem("nav", class).Aria("label", Local(label)).Body(Each(len(to), func(i int) app.UI {
		a := ToPage("", to[i].Value).Text(Local(to[i].Text))
		if here == to[i].Value {
			a = a.Aria("current", "page").Class("here")
		}
		return a
	})...)
}

// OneDrawLater does something when the page that comes now has been drawn: what is not
// seen at once is added then, and a touch is answered sooner.
func OneDrawLater(ctx app.Context, do func(app.Context)) {
	// Counted from that draw on, which takes longer on a slow phone.
	ctx.Defer(func(ctx app.Context) { ctx.After(20*time.Millisecond, do) })
}

// Focus moves the keyboard and the screen reader to an element once the page
// has been updated. It does nothing while a page is prerendered.
func Focus(ctx app.Context, id string) {
	ctx.Defer(func(app.Context) {
		if !app.IsClient {
			return
		}
		if e := app.Window().GetElementByID(id); e.Truthy() {
			// Without scrolling: the picture above stays in view, as on paper.
			e.Call("focus", map[string]any{"preventScroll": true})
		}
		app.Window().Call("scrollTo", 0, 0)
	})
}

// Unreviewed is said of every language but English.
const Unreviewed prose.Text = "This is translated from English. No food-safety educator who speaks your language has reviewed it yet. If something seems wrong, compare it with the English, and follow the stricter of the two. Tell whoever gave you this guide which page it is, and which words."

// Name is the product's name.
const Name = "Larderlamp"
