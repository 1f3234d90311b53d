package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
)

// mostShown is how many products a list shows at once.
const mostShown = 14

// picker finds the product: by name, by group, or, for what is not in the
// list, by a few plain questions that end at an acid class.
func (p *checkPage) picker() app.UI {
	if p.unlists {
		return p.unlisted()
	}
	found := rules.Search(p.query, mostShown)
	return el("div", "picker",
		title("What is in the jar?"),
		stopLine(),
		field("Name it", input("search", p.query, "peaches, dill pickles, stew…").ID("product").Attr("autocomplete", "off").
			On("input", func(ctx app.Context, e app.Event) { p.query = typed(ctx) })),
		live("found-products",
			only(p.query != "" && len(found) == 0, func() app.UI { return txt("p", "", "Nothing in the list sounds like that.") }),
			only(p.query != "", func() app.UI { return p.products(found) }),
		),
		only(p.query == "", p.groups),
		el("p", "", action("button plain", "Not in the list, or nobody knows", func() {
			p.unlists, p.placed = true, nil
			p.turned()
		})),
		stopSigns(),
	)
}

// products is a list of products to choose from.
func (p *checkPage) products(found []*rules.Product) app.UI {
	return el("ul", "products", each(len(found), func(i int) app.UI {
		product := found[i]
		if app.IsServer {
			return el("li", "", elem("a", "product").Attr("href", link("/check?product="+product.ID)).Body(txt("span", "", product.Name), txt("small", "", classWords(product))))
		}
		return el("li", "",
			elem("button", "product").Attr("type", "button").On("click", func(app.Context, app.Event) { p.begin(product) }, app.EventScope(product.ID)).
				Body(txt("span", "", product.Name), txt("small", "", classWords(product))),
		)
	})...)
}

// classWords says what a product's acid class means for it.
func classWords(p *rules.Product) string {
	switch {
	case p.Route == rules.RouteNone && p.Group != rules.GroupUnlisted:
		return "no published process"
	case p.Class == rules.ClassAcid:
		return "acid"
	case p.Class == rules.ClassPickled:
		return "acid by its vinegar"
	case p.Class == rules.ClassBorderline:
		return "acid only by its recipe"
	}
	return "not acid"
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
			return elem("details", "").ID(string(g.Group)).Body(txt("summary", "", g.Name), p.products(rules.ProductsOf(g.Group)))
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
			only(p.group == g.Group, func() app.UI { return p.products(rules.ProductsOf(g.Group)) }),
		)
	})...)
}

// unlisted places a food that is not in the list. "Don't know" settles on the
// strictest class.
func (p *checkPage) unlisted() app.UI {
	answer := func(class, text string, a rules.Answer) app.UI {
		return action(class, text, func() {
			p.placed = append(p.placed, a)
			if product, ok := rules.ProductByID(rules.Unlisted(p.placed...)); ok {
				p.begin(product)
				return
			}
			p.turned()
		})
	}
	return el("section", "card",
		title(rules.UnlistedQuestions[len(p.placed)].Ask),
		txt("p", "", "A few questions decide how acid it is. What nobody knows counts as the strictest."),
		el("p", "row",
			answer("button", "Yes", rules.AnswerYes),
			answer("button", "No", rules.AnswerNo),
			answer("button plain", "Don't know", rules.AnswerUnsure),
			action("button plain", "Back", func() {
				if p.unlists = len(p.placed) > 0; p.unlists {
					p.placed = p.placed[:len(p.placed)-1]
				}
				p.turned()
			}),
		),
	)
}
