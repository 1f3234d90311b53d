package app

import (
	"encoding/json"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
)

// rulesPage is the rule book: every rule, in the order of the chapters, with an
// anchor of its own and its sources.
type rulesPage struct {
	app.Compo
	house *household

	query  string
	uses   map[string][]Use // the cases that name a rule, once they have come
	failed bool             // they have not
}

// CasesFile is the name of the file of the site that holds, as JSON, the cases
// that name each rule. It is fetched when the rule book is opened: in the
// program it would weigh on every start.
const CasesFile = "cases.json"

// Use is an acceptance case that names a rule.
type Use struct {
	ID   string `json:"id"`
	Name string `json:"name"` // the sentence of the case
}

// OnMount fetches the cases. Without them the book is still whole in its rules.
func (p *rulesPage) OnMount(ctx app.Context) {
	failed := func(string) { p.failed = true }
	promised(ctx, device().Call("data", CasesFile), func(text app.Value) {
		p.failed = json.Unmarshal([]byte(text.String()), &p.uses) != nil
	}, failed)
}

func (p *rulesPage) OnNav(ctx app.Context) {
	p.house.arrive(ctx, "/rules")
	if anchor := ctx.Page().URL().Fragment; anchor != "" && app.IsClient {
		ctx.Defer(func(ctx app.Context) { ctx.ScrollTo(anchor) })
	}
}

func (p *rulesPage) Render() app.UI {
	body := []app.UI{
		title("Rule book"),
		txt("p", "", say("Edition %s. These are all the rules of this guide. A jar needs support, or it is discarded. Of all rules that match, the strictest wins. Their order never matters.", rules.Edition)),
		only(app.IsClient, func() app.UI {
			return el("div", "noprint", field("Find a rule", input("search", p.query, "").
				On("input", func(ctx app.Context, e app.Event) { p.query = typed(ctx) })))
		}),
	}
	body = append(body, live("", only(p.failed, func() app.UI {
		return txt("p", "notice", "The cases that show each rule at work could not be fetched. The rules below are all there. Load this page again when the connection is back.")
	})))
	if p.query == "" {
		body = append(body, contents())
	}
	body = append(body, each(len(rules.Parts), func(i int) app.UI { return p.part(&rules.Parts[i]) })...)
	return frame("/rules", append(body, only(p.query == "", numbers), only(p.query == "", questions), only(p.query == "", unread), only(p.query == "", sources))...)
}

// contents is the index of the book: its chapters, the signs that are asked for,
// and the lists at its end.
func contents() app.UI {
	here := func(id, text string) app.UI {
		return el("li", "", elem("a", "").Attr("href", "#"+id).Text(local(text)))
	}
	var signs []app.UI
	for i := range rules.Signs {
		if !rules.SignID(i).Fact() {
			signs = append(signs, here("question."+rules.Signs[i].ID, rules.Signs[i].Name))
		}
	}
	return el("nav", "contents noprint",
		txt("h2", "", "Index"),
		el("ul", "", each(len(rules.Parts), func(i int) app.UI {
			return here("part."+rules.Parts[i].ID, rules.Parts[i].Heading())
		})...),
		fold("", "By sign", el("ul", "", signs...)),
		el("ul", "", here("sources", "Sources and where to find them")),
	)
}

// numbers lists the limits that measured numbers are held against.
func numbers() app.UI {
	return el("section", "", append([]app.UI{txt("h2", "", "Numbers")}, each(len(rules.Bands), func(i int) app.UI {
		b := &rules.Bands[i]
		return elem("article", "card rule").ID("number."+b.ID).Body(
			txt("h3", "", say("%s, in %s", b.Sign.Info().Name, b.Unit)),
			el("ul", "", texts(b.Edges())...),
			cites(b.Cites),
		)
	})...)...)
}

// questions lists what is asked, with its answers and why.
func questions() app.UI {
	body := []app.UI{txt("h2", "", "Questions")}
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() {
			info := id.Info()
			body = append(body, elem("article", "card rule").ID("question."+info.ID).Body(
				txt("h3", "", info.Name),
				txt("p", "kind", info.Ask),
				txt("p", "", info.Why),
				only(info.How != "", func() app.UI { return txt("p", "", info.How) }),
				el("ul", "assumed", each(len(info.Values), func(i int) app.UI {
					v := &info.Values[i]
					return el("li", "", txt("b", "", v.Label), el("br", ""), txt("small", "", say("A rule that uses this assumes: %s.", v.Assumes)))
				})...),
				otherWords(info),
				wordsForFoods(id),
				questionRules(id),
			))
		}
	}
	return el("section", "", body...)
}

// otherWords lists the words in which a question is asked where those above would
// not fit.
func otherWords(info *rules.Sign) app.UI {
	if len(info.Wordings) == 0 {
		return nil
	}
	return fold("", "Asked in other words", el("ul", "", each(len(info.Wordings), func(i int) app.UI {
		w := &info.Wordings[i]
		lines := []app.UI{txt("p", "", say("When it is known: %s", labels(w.When)))}
		if w.Ask != "" {
			lines = append(lines, txt("p", "kind", w.Ask), only(w.How != "", func() app.UI { return txt("p", "", w.How) }))
		}
		for _, l := range w.Labels {
			lines = append(lines, txt("p", "", l.Label))
		}
		return el("li", "", lines...)
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
		words := []app.UI{txt("p", "", w.Foods), txt("p", "kind", w.Ask), txt("p", "", w.How), txt("p", "", w.Notice)}
		for _, l := range w.Labels {
			words = append(words, txt("p", "", l.Label))
		}
		for _, v := range w.Hide {
			words = append(words, txt("p", "", say("Not offered: %s", v.Info().Label)))
		}
		lines = append(lines, el("li", "", words...))
	}
	if len(lines) == 0 {
		return nil
	}
	return fold("", "Asked in other words of some foods", el("ul", "", lines...))
}

// questionRules lists the rules that a question bears on, each with its first source:
// they are why it is asked.
func questionRules(id rules.SignID) app.UI {
	rs := rules.RulesOn(id)
	return fold("", say("It matters to %s", count(len(rs), "rule", "rules")), el("ul", "", each(len(rs), func(i int) app.UI {
		return el("li", "", ruleLink(rs[i], rs[i].ID), prose(": "), source(rs[i].Cites[0]), evidence(rs[i].Cites[0].Evidence))
	})...))
}

// sources lists every source once, with where it is found.
func sources() app.UI {
	all := rules.Sources()
	return elem("section", "").ID("sources").Body(
		txt("h2", "", "Sources and where to find them"),
		txt("p", "", "Some addresses lead to the page where it was read. The others are from memory and lead to the publisher: search there for the title. Nothing is fetched from there unless you follow a link."),
		fold("", count(len(all), "source", "sources"), el("ul", "cites", each(len(all), func(i int) app.UI {
			s := all[i]
			return elem("li", "cite").ID("source."+s.ID).Body(
				source(rules.Cite{Source: s}),
				only(s.Page() != "", func() app.UI { return outside(s.Page(), "where it was read") }),
				only(s.Page() == "" && s.Site() != "", func() app.UI { return outside(s.Site(), "publisher, from memory") }),
				only(s.Page() == "" && s.Site() == "" && s.Publisher != "", func() app.UI { return txt("span", "evidence unseen", "no address known") }))
		})...)),
	)
}

// outside is a link away from the guide, with what it leads to.
func outside(address, what string) app.UI {
	return el("span", "",
		elem("a", "").Attr("href", address).Attr("rel", "noreferrer").Attr("translate", "no").Text(address),
		prose(" "), txt("span", "evidence", what))
}

// unread lists, in one place, what was not read in a published source.
func unread() app.UI {
	us := rules.UnreadCites()
	return el("section", "",
		txt("h2", "", "Not read in a published source"),
		txt("p", "", "Everything this edition rests on that is from memory, common practice without a source, or derived."),
		fold("", count(len(us), "entry", "entries"), el("ul", "cites", each(len(us), func(i int) app.UI {
			return el("li", "cite", elem("strong", "").Attr("translate", "no").Body(app.Text(us[i].Where+": ")), source(us[i].Cite), evidence(us[i].Cite.Evidence))
		})...)),
	)
}

func (p *rulesPage) part(part *rules.Part) app.UI {
	body := []app.UI{elem("h2", "").ID("part." + part.ID).Text(local(part.Heading()))}
	for i := range part.Rules {
		if p.matches(&part.Rules[i]) {
			body = append(body, ruleCard(&part.Rules[i], p.uses[part.Rules[i].ID]))
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
	for _, c := range r.When {
		// What the question is about belongs to the rule: who looks for lemon juice
		// means the rules about acid.
		info := c[0].Sign().Info()
		text += " " + info.Name + " " + info.Ask + " " + info.How + " " + info.Find + " " + labels(c)
		for _, w := range info.Wordings {
			text += " " + w.Ask + " " + w.How
		}
	}
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

func ruleCard(r *rules.Rule, uses []Use) app.UI {
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
		only(len(uses) > 0, func() app.UI {
			return fold("noprint", count(len(uses), "case exercises it", "cases exercise it"), el("ul", "cites", each(len(uses), func(i int) app.UI {
				return elem("li", "").Attr("lang", "en").Attr("translate", "no").Body(el("strong", "", app.Text(uses[i].ID+" ")), app.Text(uses[i].Name))
			})...))
		}),
	)
}
