package app

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// finder names a food: by what is typed, or, for what is not in the list or not
// all of it, by a few plain questions that end at an acid class.
type finder struct {
	query string
	doubt *rules.Hit     // was chosen, and does not cover what was typed
	asks  bool           // the questions for a food that is not in the list
	said  []rules.Answer // to them
	own   string         // what the person calls that food
}

// nameField is where the food is named.
func (f *finder) nameField() app.UI {
	return field("Name it", input("search", f.query, "peaches, dill pickles, stew…").ID("product").Attr("autocomplete", "off").
		On("input", func(ctx app.Context, e app.Event) { f.query = typed(ctx) }))
}

// unlist begins with the questions; what was typed is the name of the food.
func (f *finder) unlist() {
	f.doubt, f.asks, f.said, f.own = nil, true, nil, ownWords(f.query)
}

// busy tells whether a step after the choice is open: the doubt, or a question.
func (f *finder) busy() bool { return f.doubt != nil || f.asks }

// step is that step. done takes the product and the person's own words for it;
// turned is told that the screen has changed.
func (f *finder) step(done func(p *rules.Product, own string), turned func()) app.UI {
	if f.asks {
		return f.question(done, turned)
	}
	product := f.doubt.Product
	return el("section", "card",
		title(say("“%s” is not just “%s”.", strings.TrimSpace(f.query), product.Name)),
		txt("p", "", notCovered(f.doubt)),
		txt("p", "", "What is added or left out can make food dangerous, so don't use this entry for it. Answer a few questions instead."),
		el("p", "row",
			action("button", "Ask me about this food", func() {
				f.unlist()
				turned()
			}),
			action("button plain", say("It is plain “%s”, and nothing else", product.Name), func() { done(product, ownWords(f.query)) }),
			action("button plain", "Back", func() {
				f.doubt = nil
				turned()
			}),
		),
	)
}

// question places a food that is not in the list. "Don't know" settles on the
// strictest class.
func (f *finder) question(done func(p *rules.Product, own string), turned func()) app.UI {
	answer := func(class, text string, a rules.Answer) app.UI {
		return action(class, text, func() {
			f.said = append(f.said, a)
			if product, ok := rules.ProductByID(rules.Unlisted(f.said...)); ok {
				done(product, ownWords(f.own))
				return
			}
			turned()
		})
	}
	return el("section", "card",
		title(rules.UnlistedQuestions[len(f.said)].Ask),
		txt("p", "", "A few questions tell how acid it is. What you don't know, we take to be the worst."),
		el("p", "row",
			answer("button", "Yes", rules.AnswerYes),
			answer("button", "No", rules.AnswerNo),
			answer("button plain", "I don't know", rules.AnswerUnsure),
			action("button plain", "Back", func() {
				if f.asks = len(f.said) > 0; f.asks {
					f.said = f.said[:len(f.said)-1]
				}
				turned()
			}),
		),
		only(len(f.said) == 0, func() app.UI {
			return field("What you call it (kept as its name)", input("text", f.own, "grandma's bean pot").Attr("maxlength", record.MostName).
				On("input", func(ctx app.Context, e app.Event) { f.own = typed(ctx) }, app.EventScope("own")))
		}),
	)
}

// ownWords is what was typed as the name of a food, no longer than a name may be.
func ownWords(typed string) string {
	words := []rune(strings.TrimSpace(typed))
	return string(words[:min(len(words), record.MostName)])
}

// choose takes a hit of the search: at once when it covers what was typed.
func (f *finder) choose(h *rules.Hit, done func(p *rules.Product, own string), turned func()) {
	if len(h.NotCovered) == 0 {
		done(h.Product, "")
		return
	}
	f.doubt = h
	turned()
}

// products is a list of foods to choose from.
func (f *finder) products(found []rules.Hit, done func(p *rules.Product, own string), turned func()) app.UI {
	return el("ul", "products", each(len(found), func(i int) app.UI {
		h := &found[i]
		if app.IsServer {
			return el("li", "", elem("a", "product").Attr("href", link("/check#product="+h.Product.ID)).Body(foodWords(h)...))
		}
		return el("li", "",
			elem("button", "product").Attr("type", "button").On("click", func(app.Context, app.Event) { f.choose(h, done, turned) }, app.EventScope(h.Product.ID, f.query)).
				Body(foodWords(h)...))
	})...)
}

// foodWords are the texts of a food in a list.
func foodWords(h *rules.Hit) []app.UI {
	return []app.UI{txt("span", "", h.Product.Name), txt("small", "", classWords(h.Product)),
		only(len(h.NotCovered) > 0, func() app.UI { return txt("small", "lacks", notCovered(h)) })}
}

// notCovered says what of the words typed is no part of an entry.
func notCovered(h *rules.Hit) string {
	if len(h.NotCovered) == 1 {
		return say("“%s” is not part of this entry.", h.NotCovered[0])
	}
	return say("Not part of this entry: “%s”.", strings.Join(h.NotCovered, "”, “"))
}

// plainHits are products that were not searched for.
func plainHits(products []*rules.Product) []rules.Hit {
	hits := make([]rules.Hit, len(products))
	for i, p := range products {
		hits[i].Product = p
	}
	return hits
}

// classWords says what a product's acid class means for it.
func classWords(p *rules.Product) string {
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
