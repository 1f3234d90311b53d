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
	return frame("/rules", append(body, each(len(rules.Parts), func(i int) app.UI { return p.part(&rules.Parts[i]) })...)...)
}

func (p *rulesPage) part(part *rules.Part) app.UI {
	body := []app.UI{txt("h2", "", part.Chapter.String()+": "+part.Name)}
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
