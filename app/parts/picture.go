package parts

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/ui"
	"larderlamp/rules"
)

// Food is the filling style of a product's picture.
func Food(p *rules.Product) draw.Food {
	f, _ := draw.ParseFood(p.Food)
	return f
}

// JarPicture draws what has been said about a jar.
func JarPicture(p *rules.Product, s rules.Situation, verdict rules.Verdict, o draw.Options) string {
	o.In = ui.Reader
	return draw.Picture{Food: Food(p), Situation: s, Verdict: verdict}.SVG(o)
}

// HeroJar is the picture of the first page: a sound jar of peaches.
func HeroJar() string {
	s := rules.NewSituation()
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() && rules.Signs[i].Chapter < rules.ChapterOpening {
			_ = s.Tell(rules.Signs[i].Sound) // a fresh situation holds every value
		}
	}
	_ = s.Tell(rules.OpenedNo)
	f, _ := draw.ParseFood("fruit-halves")
	return draw.Picture{Food: f, Situation: s}.SVG(draw.Options{Prefix: "hero", Plain: true, In: ui.Reader})
}

// Mark is a verdict's sign.
func Mark(v rules.Verdict) app.UI { return ui.El("span", "mark", app.Raw(draw.Mark(v))) }

// VerdictWord is a verdict's sign and word, kept on one line.
func VerdictWord(v rules.Verdict) app.UI {
	return ui.El("span", "verdict-word", Mark(v), ui.Txt("strong", "", v.Text()))
}

// VerdictClass is the class that colors a verdict.
func VerdictClass(v rules.Verdict) string { return "verdict-" + v.ID() }

// SignMenu is a menu of the values of a sign; the first is for not known.
func SignMenu(scope any, id rules.SignID, chosen string, set func(string)) app.UI {
	choices := []ui.Choice{{Value: "", Text: "not known"}}
	for _, v := range id.Info().Values {
		choices = append(choices, ui.Choice{Value: v.ID, Text: v.Label})
	}
	return ui.Menu(scope, id.Info().Name, chosen, set, choices...)
}

// ZoneAt returns the part of the picture that an event has hit, or nil: then
// nothing is drawn.
func ZoneAt(ctx app.Context, e app.Event) *draw.Zone {
	if hit := e.Get("target").Call("closest", "[data-zone]"); hit.Truthy() {
		id := hit.Call("getAttribute", "data-zone").String()
		for i := range draw.Zones {
			if draw.Zones[i].ID == id {
				return &draw.Zones[i]
			}
		}
	}
	ctx.PreventUpdate()
	return nil
}
