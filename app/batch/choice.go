package batch

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// picker finds the product of a new batch: one that was canned before, or one found
// by its group or name.
func (p *Page) picker() app.UI {
	if p.find.Busy() {
		return p.find.Step(p.begin, p.moveOn)
	}
	query := p.find.Query
	var found, before []rules.Hit
	if query != "" {
		found = parts.Search(query, parts.MostShown)
	} else {
		var foods []*rules.Product
		for _, b := range p.House.Shelf.BatchOrder() {
			if f := b.Food(); !slices.Contains(foods, f) && len(foods) < 6 {
				foods = append(foods, f)
			}
		}
		before = parts.PlainHits(foods)
	}
	title := prose.Text("What was canned?")
	if p.recorded != "" {
		title = "What else was canned?"
	}
	return ui.Once("div", "picker",
		ui.Title(title),
		p.find.NameField(),
		ui.Live("", ui.Only(query != "" && len(found) == 0, func() app.UI { return ui.Txt("p", "", "We have nothing by that name.") })),
		ui.Only(query != "", func() app.UI { return p.find.Products(found, p.begin, p.moveOn) }),
		ui.Only(len(before) > 0, func() app.UI {
			return ui.El("div", "", ui.Txt("p", "hint", "Canned before:"), p.find.Products(before, p.begin, p.moveOn))
		}),
		ui.Only(query == "", p.groups),
		ui.El("p", "row",
			ui.Action("button plain", "Record it as not in the list", func() {
				p.find.StartQuestions()
				p.moveOn()
			}),
			ui.Anchor("button plain", "/many", "Enter many at once"),
			ui.Only(p.recorded != "", func() app.UI { return ui.Anchor("button plain", "/shelf", "The shelf") }),
		),
	)
}

// groups lists the catalog to browse. Only the group that is open is filled.
func (p *Page) groups() app.UI {
	return ui.El("div", "groups", ui.Each(len(rules.GroupNames), func(i int) app.UI {
		g := rules.GroupNames[i]
		if g.Group == rules.GroupUnlisted {
			return nil
		}
		open := p.group == g.Group
		return ui.Elem("details", "").Attr("open", open).Body(
			ui.Elem("summary", "").Text(ui.Local(g.Name)).On("click", func(ctx app.Context, e app.Event) {
				e.PreventDefault()
				if p.group = g.Group; open {
					p.group = ""
				}
			}, app.EventScope(g.Group, open)),
			ui.Only(open, func() app.UI { return p.find.Products(parts.PlainHits(rules.ProductsOf(g.Group)), p.begin, p.moveOn) }),
		)
	})...)
}

// begin opens the form of a new batch. Nothing is carried over from another food
// except where the jars stand and the household's altitude; what was said about the
// last batch of the same food is offered, to be confirmed. The person may have a
// name of their own for the food.
func (p *Page) begin(product *rules.Product, own string) {
	b, err := record.NewBatch(product.ID, time.Now())
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	b.Count, b.Title = 0, own
	if feet := p.House.Settings.AltitudeFeet; feet != nil {
		here := *feet
		b.Feet = &here
	}
	if ids, _ := b.Kinds(); len(ids) == 1 {
		b.Table = ids[0]
	}
	p.last = nil
	for _, old := range p.House.Shelf.BatchOrder() {
		if old.Product == b.Product {
			p.last = old
			break
		}
	}
	p.into, p.fresh, p.told = p.House.LastPlace(), "", nil
	p.find, p.group, p.edit, p.said, p.undo, p.look = parts.Finder{}, "", b, "", nil, false
	p.went, p.opened, p.month, p.bad = false, 0, "", map[prose.Text]prose.Text{}
	p.from, p.cold = nil, false
	p.moveOn()
}
