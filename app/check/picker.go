package check

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
)

// picker finds the product: by name, by group, or by the questions of the
// finder.
func (p *Page) picker() app.UI {
	if p.odd.open {
		return p.oddPanel()
	}
	if p.find.Busy() {
		return p.find.Step(p.beginAs, p.moveOn)
	}
	query := p.find.Query
	found := parts.Search(query, parts.MostShown)
	return ui.Once("div", "picker",
		ui.Title("What is in the jar?"),
		p.reminder(),
		p.find.NameField(),
		// Beside the field: on a phone nothing further down is seen to change.
		ui.Live("found-products",
			ui.Only(query != "" && len(found) == 0, func() app.UI { return ui.Txt("p", "", "We have nothing by that name.") }),
			ui.Only(query != "", func() app.UI { return p.find.Products(found, p.beginAs, p.moveOn) }),
		),
		ui.Only(len(p.odd.seen) == 0, func() app.UI { return ui.El("p", "", p.oddButton("button plain")) }),
		parts.StopLine(),
		ui.Only(query == "", p.groups),
		ui.El("p", "", ui.Action("button plain", "Not in the list, or I don't know", func() {
			p.find.StartQuestions()
			p.moveOn()
		})),
		parts.StopSigns(p.filled || app.IsServer),
	)
}

// groups lists the catalog to browse. Only the group that is open is filled,
// except before the program has loaded.
func (p *Page) groups() app.UI {
	return ui.El("div", "groups", ui.Each(len(rules.GroupNames), func(i int) app.UI {
		g := rules.GroupNames[i]
		if g.Group == rules.GroupUnlisted {
			return nil
		}
		if app.IsServer {
			return ui.Elem("details", "").ID(string(g.Group)).Body(ui.Txt("summary", "", g.Name), p.find.Products(parts.PlainHits(rules.ProductsOf(g.Group)), p.beginAs, p.moveOn))
		}
		return ui.Elem("details", "").Attr("open", p.group == g.Group).Body(
			ui.Elem("summary", "").Text(ui.Local(g.Name)).On("click", func(ctx app.Context, e app.Event) {
				e.PreventDefault()
				if p.group == g.Group {
					p.group = ""
				} else {
					p.group = g.Group
				}
			}, app.EventScope(g.Group)),
			ui.Only(p.group == g.Group, func() app.UI { return p.find.Products(parts.PlainHits(rules.ProductsOf(g.Group)), p.beginAs, p.moveOn) }),
		)
	})...)
}
