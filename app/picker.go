package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
)

// mostShown is how many products a list shows at once.
const mostShown = 14

// picker finds the product: by name, by group, or by the questions of the
// finder.
func (p *checkPage) picker() app.UI {
	if p.odd.open {
		return p.oddPanel()
	}
	if p.find.busy() {
		return p.find.step(p.beginAs, p.turned)
	}
	query := p.find.query
	found := rules.Search(query, mostShown)
	return el("div", "picker",
		title("What is in the jar?"),
		p.sawFirst(),
		p.find.nameField(),
		only(len(p.odd.seen) == 0, func() app.UI { return el("p", "", p.oddButton("button plain")) }),
		stopLine(),
		live("found-products",
			only(query != "" && len(found) == 0, func() app.UI { return txt("p", "", "We have nothing by that name.") }),
			only(query != "", func() app.UI { return p.find.products(found, p.beginAs, p.turned) }),
		),
		only(query == "", p.groups),
		el("p", "", action("button plain", "Not in the list, or I don't know", func() {
			p.find.unlist()
			p.turned()
		})),
		stopSigns(),
	)
}

// groups lists the catalogue to browse. Only the group that is open is filled,
// except before the program has loaded.
func (p *checkPage) groups() app.UI {
	return el("div", "groups", each(len(rules.GroupNames), func(i int) app.UI {
		g := rules.GroupNames[i]
		if g.Group == rules.GroupUnlisted {
			return nil
		}
		if app.IsServer {
			return elem("details", "").ID(string(g.Group)).Body(txt("summary", "", g.Name), p.find.products(plainHits(rules.ProductsOf(g.Group)), p.beginAs, p.turned))
		}
		return elem("details", "").Attr("open", p.group == g.Group).Body(
			elem("summary", "").Text(local(g.Name)).On("click", func(ctx app.Context, e app.Event) {
				e.PreventDefault()
				if p.group == g.Group {
					p.group = ""
				} else {
					p.group = g.Group
				}
			}, app.EventScope(g.Group)),
			only(p.group == g.Group, func() app.UI { return p.find.products(plainHits(rules.ProductsOf(g.Group)), p.beginAs, p.turned) }),
		)
	})...)
}
