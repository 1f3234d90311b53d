package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/rules"
)

// food is the filling style of a product's picture.
func food(p *rules.Product) draw.Food {
	f, _ := draw.ParseFood(p.Food)
	return f
}

// jarPicture draws what has been said of a jar.
func jarPicture(p *rules.Product, s rules.Situation, verdict rules.Verdict, o draw.Options) string {
	return draw.Jar{Food: food(p), Situation: s, Verdict: verdict}.SVG(o)
}

// heroJar is the picture of the first page: a sound jar of peaches.
func heroJar() string {
	s := rules.NewSituation()
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() && rules.Signs[i].Chapter < rules.ChapterOpening {
			_ = s.Tell(rules.Signs[i].Sound) // a fresh situation holds every value
		}
	}
	_ = s.Tell(rules.OpenedNo)
	f, _ := draw.ParseFood("fruit-halves")
	return draw.Jar{Food: f, Situation: s}.SVG(draw.Options{Prefix: "hero", Plain: true})
}

// mark is a verdict's sign.
func mark(v rules.Verdict) app.UI { return el("span", "mark", app.Raw(draw.Mark(v))) }

// verdictWord is a verdict's sign and word, kept on one line.
func verdictWord(v rules.Verdict) app.UI {
	return el("span", "verdict-word", mark(v), txt("strong", "", v.String()))
}

// verdictClass is the class that colours a verdict.
func verdictClass(v rules.Verdict) string { return "verdict-" + v.ID() }
