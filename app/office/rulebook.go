package office

import (
	"encoding/json"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// RulesPage is the rule book: every rule, in the order of the chapters, with an
// anchor of its own and its sources.
type RulesPage struct {
	app.Compo
	House *house.House

	query  string
	uses   map[string][]Use // the cases that name a rule, once they have been fetched
	failed bool             // they could not be fetched
	asked  string           // the entry that the address leads to
}

// CasesFile is the name of the file of the site that holds, as JSON, the cases
// that name each rule. It is fetched when the rule book is opened: inside the
// program it would slow down every start.
const CasesFile = "cases.json"

// Use is an acceptance case that names a rule.
type Use struct {
	ID   string `json:"id"`
	Name string `json:"name"` // the sentence of the case
}

// OnMount fetches the cases. Without them the book still has all its rules.
func (p *RulesPage) OnMount(ctx app.Context) {
	failed := func(string) { p.failed = true }
	ui.OnPromise(ctx, ui.Device().Call("data", CasesFile), func(text app.Value) {
		p.failed = json.Unmarshal([]byte(text.String()), &p.uses) != nil
	}, failed)
}

func (p *RulesPage) OnNav(ctx app.Context) {
	p.House.Arrive(ctx, "/rules")
	p.asked = rules.CurrentID(ctx.Page().URL().Fragment)
	if p.asked != "" && app.IsClient {
		ctx.Defer(func(ctx app.Context) { ctx.ScrollTo(p.asked) })
	}
}

// entry is a rule, a number or a question, with the address that leads to it. The one
// in the address is marked, and printed alone. The browser's own mark is lost when the
// program redraws the page.
func (p *RulesPage) entry(id string) app.HTMLElem {
	class := "card rule"
	if id == p.asked {
		class += " asked"
	}
	return ui.Elem("article", class).ID(id)
}

func (p *RulesPage) Render() app.UI {
	body := []app.UI{
		ui.Title("Rule book"),
		ui.Txt("p", "", ui.Say("Edition %s. These are all the rules of this guide. A jar needs support, or it is discarded. Of all rules that match, the strictest wins. Their order never matters.", rules.Edition)),
		ui.Only(ui.Reader != nil, func() app.UI { return ui.Translated("notice") }),
		ui.Only(app.IsClient, func() app.UI {
			return ui.El("div", "noprint", ui.Field("Find a rule", ui.Input("search", p.query, "").
				On("input", func(ctx app.Context, e app.Event) { p.query = ui.Typed(ctx) })))
		}),
	}
	body = append(body, ui.Live("", ui.Only(p.failed, func() app.UI {
		return ui.Txt("p", "notice", "The cases that show each rule at work could not be fetched. The rules below are all there. Load this page again when the connection is back.")
	})))
	if p.query == "" {
		body = append(body, contents())
	}
	body = append(body, ui.Each(len(rules.Parts), func(i int) app.UI { return p.part(&rules.Parts[i]) })...)
	return ui.Frame("/rules", append(body, ui.Only(p.query == "", p.numbers), ui.Only(p.query == "", p.questions), ui.Only(p.query == "", unread), ui.Only(p.query == "", sources))...)
}

// contents is the index of the book: its chapters, the signs that are asked for,
// and the lists at its end.
func contents() app.UI {
	here := func(id string, text prose.Text) app.UI {
		return ui.El("li", "", ui.Elem("a", "").Attr("href", "#"+id).Text(ui.Local(text)))
	}
	var signs []app.UI
	for i := range rules.Signs {
		if !rules.SignID(i).Fact() {
			signs = append(signs, here("question."+rules.Signs[i].ID, rules.Signs[i].Name))
		}
	}
	return ui.El("nav", "contents noprint",
		ui.Txt("h2", "", "Index"),
		ui.El("ul", "", ui.Each(len(rules.Parts), func(i int) app.UI {
			return here("part."+rules.Parts[i].ID, rules.Parts[i].Heading())
		})...),
		ui.Fold("", "By sign", ui.El("ul", "", signs...)),
		ui.El("ul", "", here("sources", "Sources and where to find them")),
	)
}

// numbers lists the limits that measured numbers are compared with.
func (p *RulesPage) numbers() app.UI {
	return ui.El("section", "", append([]app.UI{ui.Txt("h2", "", "Numbers")}, ui.Each(len(rules.Bands), func(i int) app.UI {
		b := &rules.Bands[i]
		return p.entry("number."+b.ID).Body(
			ui.Txt("h3", "", ui.Say("%s, in %s", b.Sign.Info().Name, b.Unit)),
			ui.El("ul", "", ui.Texts(b.Edges())...),
			parts.Cites(b.Cites),
		)
	})...)...)
}

// questions lists what is asked, with its answers and why.
func (p *RulesPage) questions() app.UI {
	body := []app.UI{ui.Txt("h2", "", "Questions")}
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() {
			info := id.Info()
			body = append(body, p.entry("question."+info.ID).Body(
				ui.Txt("h3", "", info.Name),
				ui.Txt("p", "kind", info.Ask),
				ui.Txt("p", "", info.Why),
				ui.Only(info.How != "", func() app.UI { return ui.Txt("p", "", info.How) }),
				ui.El("ul", "assumed", ui.Each(len(info.Values), func(i int) app.UI {
					v := &info.Values[i]
					return ui.El("li", "", ui.Txt("b", "", v.Label), ui.El("br", ""), ui.Txt("small", "", ui.Say("A rule that uses this assumes: %s.", v.Assumes)))
				})...),
				otherWords(info),
				wordsForFoods(id),
				questionRules(id),
			))
		}
	}
	return ui.El("section", "", body...)
}

// otherWords lists the words in which a question is asked where those above would
// not fit.
func otherWords(info *rules.Sign) app.UI {
	if len(info.Wordings) == 0 {
		return nil
	}
	return ui.Fold("", "Asked in other words", ui.El("ul", "", ui.Each(len(info.Wordings), func(i int) app.UI {
		w := &info.Wordings[i]
		lines := []app.UI{ui.Txt("p", "", ui.Say("When it is known: %s", parts.Labels(w.When)))}
		if w.Ask != "" {
			lines = append(lines, ui.Txt("p", "kind", w.Ask), ui.Only(w.How != "", func() app.UI { return ui.Txt("p", "", w.How) }))
		}
		for _, l := range w.Labels {
			lines = append(lines, ui.Txt("p", "", l.Label))
		}
		return ui.El("li", "", lines...)
	})...))
}

// wordsForFoods lists the words in which a question is asked of some foods only.
func wordsForFoods(id rules.SignID) app.UI {
	var lines []app.UI
	for i := range rules.FoodWordings {
		w := &rules.FoodWordings[i]
		if w.Sign != id {
			continue
		}
		words := []app.UI{ui.Txt("p", "", w.Foods), ui.Txt("p", "kind", w.Ask), ui.Txt("p", "", w.How), ui.Txt("p", "", w.Notice)}
		for _, l := range w.Labels {
			words = append(words, ui.Txt("p", "", l.Label))
		}
		for _, v := range w.Hide {
			words = append(words, ui.Txt("p", "", ui.Say("Not offered: %s", v.Info().Label)))
		}
		lines = append(lines, ui.El("li", "", words...))
	}
	if len(lines) == 0 {
		return nil
	}
	return ui.Fold("", "Asked in other words of some foods", ui.El("ul", "", lines...))
}

// questionRules lists the rules that a question affects, each with its first source:
// they are why it is asked.
func questionRules(id rules.SignID) app.UI {
	rs := rules.RulesOn(id)
	return ui.Fold("", ui.Say("It matters to %s", ui.Count(len(rs), "rule", "rules")), ui.El("ul", "", ui.Each(len(rs), func(i int) app.UI {
		return ui.El("li", "", parts.RuleLink(rs[i], prose.Own(rs[i].ID)), ui.Prose(": "), parts.Source(rs[i].Cites[0]), parts.Evidence(rs[i].Cites[0].Known()))
	})...))
}

// sources lists every source once, with where to find it.
func sources() app.UI {
	all := rules.Sources()
	return ui.Elem("section", "").ID("sources").Body(
		ui.Txt("h2", "", "Sources and where to find them"),
		ui.Txt("p", "", "Each leads to the page where it can be read, at its publisher or as a copy. Where we know no page, it leads to the publisher: search there for the title. Nothing is fetched unless you follow a link."),
		ui.Fold("", ui.Count(len(all), "source", "sources"), ui.El("ul", "cites", ui.Each(len(all), func(i int) app.UI {
			s := all[i]
			return ui.Elem("li", "cite").ID("source."+s.ID).Body(
				parts.Source(rules.Cite{Source: s.Source}),
				parts.Evidence(s.Known),
				ui.Prose(" "),
				ui.Only(s.Page() != "", func() app.UI { return outside(s.Page(), "") }),
				ui.Only(s.Page() == "" && s.Site() != "", func() app.UI { return outside(s.Site(), "publisher; no page known") }),
				ui.Only(s.Page() == "" && s.Site() == "" && s.Publisher != "", func() app.UI { return ui.Txt("span", "evidence unseen", "no address known") }))
		})...)),
	)
}

// outside is a link to another site, with what it leads to if that is not the page
// of the source.
func outside(address string, what prose.Text) app.UI {
	return ui.El("span", "",
		ui.Elem("a", "").Attr("href", address).Attr("rel", "noreferrer").Attr("translate", "no").Text(address),
		ui.Only(what != "", func() app.UI { return ui.El("span", "", ui.Prose(" "), ui.Txt("span", "evidence unseen", what)) }))
}

// unread lists, in one place, what was not read in a published source.
func unread() app.UI {
	us := rules.UnreadCites()
	return ui.El("section", "",
		ui.Txt("h2", "", "Not read in a published source"),
		ui.Txt("p", "", "These are from memory, from common practice, or worked out from other facts."),
		ui.Fold("", ui.Count(len(us), "entry", "entries"), ui.El("ul", "cites", ui.Each(len(us), func(i int) app.UI {
			return ui.El("li", "cite", ui.Elem("strong", "").Attr("translate", "no").Body(ui.Prose(ui.Say("%s: ", us[i].Where))), parts.Source(us[i].Cite), parts.Evidence(us[i].Cite.Known()))
		})...)),
	)
}

func (p *RulesPage) part(part *rules.Part) app.UI {
	body := []app.UI{ui.Elem("h2", "").ID("part." + part.ID).Text(ui.Local(part.Heading()))}
	for i := range part.Rules {
		if p.matches(&part.Rules[i]) {
			body = append(body, p.ruleCard(&part.Rules[i], p.uses[part.Rules[i].ID]))
		}
	}
	if len(body) == 1 {
		return nil
	}
	return ui.El("section", "", body...)
}

// matches reports whether every word of the query is somewhere in the rule.
func (p *RulesPage) matches(r *rules.Rule) bool {
	all := []prose.Text{prose.Own(r.ID), r.Say, r.Kind.Text(), prose.Own(r.Then.ID())}
	for _, c := range r.When {
		// The subject of a question belongs to the rule: someone who looks for
		// lemon juice means the rules about acid.
		info := c[0].Sign().Info()
		all = append(all, info.Name, info.Ask, info.How, info.Find, parts.Labels(c))
		for _, w := range info.Wordings {
			all = append(all, w.Ask, w.How)
		}
	}
	for _, c := range r.Cites {
		all = append(all, prose.Own(c.String()), c.Known().Text())
	}
	return rules.Holds(p.query, ui.Reader, all...)
}

func (p *RulesPage) ruleCard(r *rules.Rule, uses []Use) app.UI {
	kind := r.Kind.Text()
	if r.Then != 0 {
		kind = ui.Say("%s: %s", kind, r.Then)
	}
	return p.entry(r.ID).Body(
		ui.El("h3", "", parts.RuleLink(r, prose.Own(r.ID))),
		ui.Txt("p", "kind", kind),
		ui.Txt("p", "", r.Say),
		ui.El("ul", "conditions", ui.Each(len(r.When), func(i int) app.UI {
			return ui.Txt("li", "", ui.Say("%s: %s", r.When[i][0].Sign().Info().Name, parts.Labels(r.When[i])))
		})...),
		parts.Cites(r.Cites),
		ui.Only(len(uses) > 0, func() app.UI {
			return ui.Fold("noprint", ui.Count(len(uses), "case exercises it", "cases exercise it"), ui.El("ul", "cites", ui.Each(len(uses), func(i int) app.UI {
				return ui.Elem("li", "").Attr("lang", "en").Attr("translate", "no").Body(ui.El("strong", "", app.Text(uses[i].ID+" ")), app.Text(uses[i].Name))
			})...))
		}),
	)
}
