package app

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
)

// rulesPage is the rule book: every rule, in the order of the chapters, with an
// anchor of its own and its sources.
type rulesPage struct {
	app.Compo
	query string
}

func (p *rulesPage) OnNav(ctx app.Context) {
	tabTitle(ctx, "/rules")
	if anchor := ctx.Page().URL().Fragment; anchor != "" && app.IsClient {
		ctx.Defer(func(ctx app.Context) { ctx.ScrollTo(anchor) })
	}
}

func (p *rulesPage) Render() app.UI {
	body := []app.UI{
		title("Rule book"),
		txt("p", "", "Edition "+rules.Edition+". Every rule this guide decides by. A jar needs support; the strictest restriction that matches wins; without support it is discarded. The order of the rules never matters."),
		only(app.IsClient, func() app.UI {
			return el("div", "noprint", field("Find a rule", input("search", p.query, "").
				On("input", func(ctx app.Context, e app.Event) { p.query = typed(ctx) })))
		}),
	}
	body = append(body, each(len(rules.Parts), func(i int) app.UI { return p.part(&rules.Parts[i]) })...)
	return frame("/rules", append(body, only(p.query == "", numbers), only(p.query == "", unread))...)
}

// numbers lists the limits that measured numbers are held against.
func numbers() app.UI {
	return el("section", "", append([]app.UI{txt("h2", "", "Numbers")}, each(len(rules.Bands), func(i int) app.UI {
		b := &rules.Bands[i]
		return elem("article", "card rule").ID("number."+b.ID).Body(
			txt("h3", "", b.Sign.Info().Name+", in "+b.Unit),
			el("ul", "", texts(b.Edges())...),
			cites(b.Cites),
		)
	})...)...)
}

// unread lists, in one place, what was not read in a published source.
func unread() app.UI {
	us := rules.UnreadCites()
	return el("section", "",
		txt("h2", "", "Not read in a published source"),
		txt("p", "", "Everything this edition rests on that is from memory, common practice without a source, or derived."),
		fold("", count(len(us), "entry", "entries"), el("ul", "cites", each(len(us), func(i int) app.UI {
			return el("li", "cite", txt("strong", "", us[i].Where+": "), app.Text(us[i].Cite.String()+" "), evidence(us[i].Cite.Evidence))
		})...)),
	)
}

func (p *rulesPage) part(part *rules.Part) app.UI {
	body := []app.UI{txt("h2", "", part.Heading())}
	for i := range part.Rules {
		if p.matches(&part.Rules[i]) {
			body = append(body, ruleCard(&part.Rules[i]))
		}
	}
	if len(body) == 1 {
		return nil
	}
	return el("section", "", body...)
}

// matches tells whether every word of the query stands somewhere in the rule.
func (p *rulesPage) matches(r *rules.Rule) bool {
	text := r.ID + " " + r.Say + " " + r.Kind.String() + " " + r.Then.ID()
	for _, c := range r.Cites {
		text += " " + c.String() + " " + c.Evidence.String()
	}
	text = strings.ToLower(text)
	for _, word := range strings.Fields(strings.ToLower(p.query)) {
		if !strings.Contains(text, word) {
			return false
		}
	}
	return true
}

func ruleCard(r *rules.Rule) app.UI {
	kind := r.Kind.String()
	if r.Then != 0 {
		kind += ": " + r.Then.String()
	}
	return elem("article", "card rule").ID(r.ID).Body(
		el("h3", "", ruleLink(r, r.ID)),
		txt("p", "kind", kind),
		txt("p", "", r.Say),
		el("ul", "conditions", each(len(r.When), func(i int) app.UI {
			return txt("li", "", r.When[i][0].Sign().Info().Name+": "+labels(r.When[i]))
		})...),
		cites(r.Cites),
	)
}
