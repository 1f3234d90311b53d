package parts

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Finder names a food: by what is typed, or, for what is missing from the list
// or only partly in it, by a few plain questions that end at an acid class.
type Finder struct {
	Query string
	doubt *rules.Hit     // was chosen, and does not cover everything that was typed
	asks  bool           // the questions for a food that is not in the list
	said  []rules.Answer // answers to those questions
	own   string         // what the person calls that food
}

// NameField is where the food is named.
func (f *Finder) NameField() app.UI {
	return ui.Field("Name it", ui.Input("search", f.Query, "peaches, dill pickles, stew…").ID("product").Attr("autocomplete", "off").
		On("input", func(ctx app.Context, e app.Event) { f.Query = ui.Typed(ctx) }))
}

// StartQuestions starts the questions; what was typed is the name of the food.
func (f *Finder) StartQuestions() {
	f.doubt, f.asks, f.said, f.own = nil, true, nil, ownWords(f.Query)
}

// Busy reports whether a step after the choice is open: the doubt, or a
// question.
func (f *Finder) Busy() bool { return f.doubt != nil || f.asks }

// Step is that step. done gets the product and the person's own words for it;
// moveOn is called when the screen has changed.
func (f *Finder) Step(done func(p *rules.Product, own string), moveOn func()) app.UI {
	if f.asks {
		return f.question(done, moveOn)
	}
	product := f.doubt.Product
	return ui.Once("section", "card",
		ui.Title(ui.Say("“%s” is not just “%s”.", strings.TrimSpace(f.Query), product.Name)),
		ui.Txt("p", "", NotCovered(f.doubt)),
		ui.Txt("p", "", "What is added or left out can make food dangerous, so don't use this entry for it. Answer a few questions instead."),
		ui.El("p", "row",
			ui.Action("button", "Ask me about this food", func() {
				f.StartQuestions()
				moveOn()
			}),
			ui.Action("button plain", ui.Say("It is plain “%s”, and nothing else", product.Name), func() { done(product, ownWords(f.Query)) }),
			ui.Again(ui.Action("button plain", "Back", func() {
				f.doubt = nil
				moveOn()
			})),
		),
	)
}

// question places a food that is not in the list. "Don't know" settles on the
// strictest class.
func (f *Finder) question(done func(p *rules.Product, own string), moveOn func()) app.UI {
	answer := func(class string, text prose.Text, a rules.Answer) app.UI {
		return ui.Action(class, text, func() {
			f.said = append(f.said, a)
			if product, ok := rules.ProductByID(rules.Unlisted(f.said...)); ok {
				done(product, ownWords(f.own))
				return
			}
			moveOn()
		})
	}
	return ui.Once("section", "card",
		ui.Title(rules.UnlistedQuestions[len(f.said)].Ask),
		ui.Txt("p", "", "A few questions tell how acid it is. What you don't know, we take to be the worst."),
		ui.El("p", "row",
			answer("button", "Yes", rules.AnswerYes),
			answer("button", "No", rules.AnswerNo),
			answer("button plain", "I don't know", rules.AnswerUnsure),
			ui.Again(ui.Action("button plain", "Back", func() {
				if f.asks = len(f.said) > 0; f.asks {
					f.said = f.said[:len(f.said)-1]
				}
				moveOn()
			})),
		),
		ui.Only(len(f.said) == 0, func() app.UI {
			return ui.Field("What you call it (kept as its name)", ui.Input("text", f.own, "grandma's bean pot").Attr("maxlength", record.MostName).
				On("input", func(ctx app.Context, e app.Event) { f.own = ui.Typed(ctx) }, app.EventScope("own")))
		}),
	)
}

// ownWords is what was typed as the name of a food, shortened to the longest name
// allowed.
func ownWords(typed string) string {
	words := []rune(strings.TrimSpace(typed))
	return string(words[:min(len(words), record.MostName)])
}

// choose accepts a hit of the search: at once when it covers what was typed.
func (f *Finder) choose(h *rules.Hit, done func(p *rules.Product, own string), moveOn func()) {
	if len(h.NotCovered) == 0 {
		done(h.Product, "")
		return
	}
	f.doubt = h
	moveOn()
}

// Products is a list of foods to choose from.
func (f *Finder) Products(found []rules.Hit, done func(p *rules.Product, own string), moveOn func()) app.UI {
	return ui.El("ul", "products", ui.Each(len(found), func(i int) app.UI {
		h := &found[i]
		if app.IsServer {
			return ui.El("li", "", ui.Elem("a", "product").Attr("href", ui.Link("/check#product="+h.Product.ID)).Body(foodWords(h)...))
		}
		return ui.El("li", "",
			ui.Elem("button", "product").Attr("type", "button").On("click", func(app.Context, app.Event) { f.choose(h, done, moveOn) }, app.EventScope(h.Product.ID, f.Query)).
				Body(foodWords(h)...))
	})...)
}

// foods find foods by their names in a language and in English: a finder for each
// language that the page has been read in, by its tag.
var foods = map[string]*rules.Finder{}

// others find foods by their names in another language and in English, for a page in
// English: none until it has those names.
var others []*rules.Finder

// Search finds foods by what is typed, in the language of the reader or in English, and
// on a page in English in another language when no name in English is meant: see
// [rules.Finder.SearchToo].
func Search(query string, limit int) []rules.Hit {
	finder := foods[ui.ReaderTag]
	if finder == nil {
		names, words := rules.EnglishNames, (*rules.Spoken)(nil)
		if spoken, ok := ui.Reader.(interface {
			Names(*rules.Product) []string
			Spoken() *rules.Spoken
		}); ok {
			names, words = spoken.Names, spoken.Spoken()
		}
		finder = rules.NewFinder(names, words)
		foods[ui.ReaderTag] = finder
	}
	return finder.SearchToo(query, limit, func() []*rules.Finder {
		if ui.Reader != nil {
			return nil // it has the names of both languages
		}
		if others == nil {
			for _, t := range ui.Foods() {
				others = append(others, rules.NewFinder(t.Names, t.Search))
			}
		}
		return others
	})
}

// See finds what may be meant by words about what looks odd, in the language of the
// reader or in English: see [rules.See].
func See(query string, limit int) []rules.Value {
	var words *rules.Spoken
	if spoken, ok := ui.Reader.(interface{ Spoken() *rules.Spoken }); ok {
		words = spoken.Spoken()
	}
	return rules.See(query, words, limit)
}

// foodWords are the texts of a food in a list.
func foodWords(h *rules.Hit) []app.UI {
	return []app.UI{ui.Txt("span", "", h.Product.Name), ui.Txt("small", "", ClassWords(h.Product)),
		ui.Only(len(h.NotCovered) > 0, func() app.UI { return ui.Txt("small", "lacks", NotCovered(h)) })}
}

// NotCovered says which of the words typed are not part of an entry.
func NotCovered(h *rules.Hit) prose.Text {
	if len(h.NotCovered) == 1 {
		return ui.Say("“%s” is not part of this entry.", h.NotCovered[0])
	}
	return ui.Say("Not part of this entry: “%s”.", strings.Join(h.NotCovered, "”, “"))
}

// PlainHits are products that were not searched for.
func PlainHits(products []*rules.Product) []rules.Hit {
	hits := make([]rules.Hit, len(products))
	for i, p := range products {
		hits[i].Product = p
	}
	return hits
}

// ClassWords says what a product's acid class means for it.
func ClassWords(p *rules.Product) prose.Text {
	switch {
	case (p.Route == rules.RouteNone || p.Group == rules.GroupNever) && p.Group != rules.GroupUnlisted:
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

// Named is what is in the jar, and the person's own words for it.
func Named(s *session.Session) app.UI {
	return ui.El("div", "",
		ui.Txt("p", "jar-name", s.Product.Name),
		ui.Only(s.Check.Label != "", func() app.UI { return ui.Txt("p", "jar-label", prose.Own(s.Check.Label)) }))
}

// CheckName names a check by its product and the person's own words.
func CheckName(c *record.Check) prose.Text {
	name := prose.Own(c.Product)
	if product, ok := rules.ProductByID(c.Product); ok {
		name = product.Name
	}
	if c.Label != "" {
		return ui.Say("%s · %s", name, c.Label)
	}
	return name
}

// mostShown is how many products a list shows at once.
const MostShown = 14
