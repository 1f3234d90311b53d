package check

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// oddSearch starts from what the person sees: pictures of signs on the food, and
// a search in their own words.
type oddSearch struct {
	open  bool
	query string
	seen  []rules.Value // chosen before the food was named: none or one
}

// mostOdd is how many signs are shown at once.
const mostOdd = 8

// oftenOdd are what people are most often frightened by, before they say more.
var oftenOdd = []rules.Value{
	rules.LidBulged, rules.MoldSeen, rules.CloudHazy, rules.CloudSettled, rules.ColorTop, rules.TopFilm, rules.SeepStreak, rules.RustSpots,
}

// oddButton leads to the pictures.
func (p *Page) oddButton(class string) app.UI {
	return ui.Action(class, "Something looks odd", func() {
		p.moveOn()
		p.odd.open, p.odd.query = true, ""
		ui.Focus(p.ctx, "title")
	})
}

// oddPanel asks what is odd. A touch on a picture says that the jar shows it.
func (p *Page) oddPanel() app.UI {
	var found []rules.Value
	if p.odd.query != "" {
		found = parts.See(p.odd.query, mostOdd)
	} else {
		found = p.usualOdd()
	}
	return ui.Once("section", "odd",
		ui.Title("What looks odd?"),
		ui.Field("Say it in your own words", ui.Input("search", p.odd.query, "black spots under the lid…").ID("odd").Attr("autocomplete", "off").
			On("input", func(ctx app.Context, e app.Event) { p.odd.query = ui.Typed(ctx) })),
		ui.Live("", ui.Only(len(found) == 0, func() app.UI {
			return ui.Txt("p", "", "We know no sign by those words. Try fewer, or answer the questions one by one.")
		})),
		ui.Live("unseen-live", ui.Only(p.odd.query != "" && len(found) > 0, func() app.UI { return ui.Prose(ui.Count(len(found), "sign found", "signs found")) })),
		ui.El("ul", "sights", ui.Each(len(found), func(i int) app.UI { return ui.El("li", "", p.sight(found[i])) })...),
		ui.El("p", "row reach", ui.Action("button plain", "None of these: back", func() {
			p.odd.open = false
			p.moveOn()
		}), ui.Only(p.session != nil, p.ateButton)),
	)
}

// usualOdd are the looks that the food is known for, followed by the common
// ones.
func (p *Page) usualOdd() (vs []rules.Value) {
	if p.session != nil {
		for _, l := range p.session.Product.Looks {
			seen, _ := parts.LooksLike(p.session.Product, l)
			if len(seen) == 1 && !slices.Contains(vs, seen[0]) && len(vs) < mostOdd/2 {
				vs = append(vs, seen[0])
			}
		}
	}
	for _, v := range oftenOdd {
		if !slices.Contains(vs, v) && len(vs) < mostOdd {
			vs = append(vs, v)
		}
	}
	return vs
}

// sight is one sign with its picture, and the best answer still possible.
func (p *Page) sight(v rules.Value) app.UI {
	s, product := rules.NewSituation(), anyFood()
	if p.session != nil {
		s, product = p.session.Situation(), p.session.Product
	}
	s.Forget(v.Sign())
	told := s.Tell(v) == nil
	best := rules.Discard
	if told {
		best = rules.Judge(s).Lowest
	}
	chapter := v.Sign().Info().Chapter
	return ui.Elem("button", "sight").Attr("type", "button").On("click", func(app.Context, app.Event) { p.recordSeen(v) }, app.EventScope(v.Sign().ID(), v.ID(), p.turn)).Body(
		ui.Only(told && parts.HasPictures(v.Sign()) && chapter >= rules.ChapterOutside, func() app.UI {
			one := rules.NewSituation()
			_ = one.Tell(v) // a fresh situation holds every value
			return ui.El("span", "jar-box", app.Raw(parts.JarPicture(product, one, 0, draw.Options{Prefix: "sight-" + v.Sign().ID() + "-" + v.ID(), Plain: true})))
		}),
		ui.El("span", "sight-words",
			ui.Txt("strong", "", v.Sign().Info().Name),
			ui.Txt("span", "", p.seenWords(v)),
			ui.El("span", "at-best", parts.Mark(best), ui.Txt("span", "", atBest(best))),
		),
	)
}

// seenWords says what is seen, in the words of the food, and not as an answer to
// a question.
func (p *Page) seenWords(v rules.Value) prose.Text {
	switch v {
	case rules.MoldSeen:
		return "Anything fuzzy, or scraped off earlier: white, blue, green, black or gray"
	case rules.OdorOff:
		return "A bad or sour smell from the closed jar"
	case rules.IllSeen:
		return "Blurred or double vision, drooping eyelids, slurred speech"
	}
	if p.session != nil {
		open := rules.NewSituation()
		for _, c := range p.session.Product.Worded(rules.SignQuestion(v.Sign(), &open)).Choices {
			if c.ID == v.ID() {
				return c.Label
			}
		}
	}
	return v.Info().Label
}

// atBest says what the answer can be at best.
func atBest(v rules.Verdict) prose.Text {
	switch v {
	case rules.Keep:
		return "Keep at best"
	case rules.UseSoon:
		return "Use soon at best"
	}
	return "Discard safely"
}

// anyFood is what is drawn before the food is named.
func anyFood() *rules.Product {
	product, _ := rules.ProductByID("peaches")
	return product
}

// recordSeen records what the jar shows. Before the food is named, a sign that means
// discard for every food is answered at once, as for a jar of unknown contents;
// any other waits for the food.
func (p *Page) recordSeen(v rules.Value) {
	p.odd.open = false
	if p.session != nil {
		p.session.Say(v.Sign().ID(), time.Now(), v)
		p.after()
		return
	}
	p.odd.seen = []rules.Value{v}
	if v.Shows() != rules.NoFault {
		unknown, _ := rules.ProductByID("unknown-contents")
		p.begin(unknown)
		return
	}
	p.moveOn()
}

// reminder repeats, while the food is named, what was seen.
func (p *Page) reminder() app.UI {
	if len(p.odd.seen) == 0 {
		return nil
	}
	v := p.odd.seen[0]
	return ui.El("p", "saw", ui.Txt("strong", "", "You saw: "), ui.Prose(ui.Say("%s: %s.", v.Sign().Info().Name, prose.Lower(p.seenWords(v)))), ui.Prose(" What it means depends on the food."))
}

// aboutWorry says, while questions are asked, what the worry can mean for this
// food, and what would make a harmless look dangerous after all.
func (p *Page) aboutWorry() app.UI {
	worries := p.session.Worries()
	if len(worries) != 1 {
		return nil
	}
	v := worries[0]
	for fact, shown := range parts.ShownBy {
		if shown != v {
			continue
		}
		if look := p.session.Product.LookAlikeFor(fact); look != nil {
			return ui.El("p", "saw", ui.Txt("strong", "", ui.Say("%s: it can be harmless here. ", v.Info().Label)), ui.Prose(ui.Say("%s Not harmless if: %s", look.Cause, look.Flip)))
		}
	}
	return nil
}
