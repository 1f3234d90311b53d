package parts

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// CautionCards are the cautions. Lines that the page already has elsewhere are not
// printed again.
func CautionCards(said ...prose.Text) app.UI {
	return ui.El("div", "cautions", ui.Each(len(rules.Cautions), func(i int) app.UI {
		c := &rules.Cautions[i]
		return ui.El("section", "card caution",
			ui.Txt("h2", "", c.Title),
			ui.El("ul", "", ui.Each(len(c.Lines), func(i int) app.UI {
				class := ""
				if slices.Contains(said, c.Lines[i]) {
					class = "noprint"
				}
				return ui.Txt("li", class, c.Lines[i])
			})...),
			ui.Fold("", "Sources", Cites(c.Cites)),
		)
	})...)
}

// StopLine names the stop signs in a row, in as little room as possible.
func StopLine() app.UI {
	return ui.El("div", "stop-short",
		ui.El("p", "", ui.Txt("b", "", "Stop signs. "), ui.Prose("Any one of these: do not taste it, discard it safely.")),
		ui.El("ul", "", ui.Each(len(rules.StopSigns), func(i int) app.UI { return ui.Txt("li", "", rules.StopSigns[i].Short) })...),
	)
}

// StopSigns lists the signs that alone mean discard. It is plain markup, so
// that it works with scripts switched off. What is folded away may be filled in later.
func StopSigns(filled bool) app.UI {
	fold := func(summary prose.Text, body func() app.UI) app.UI {
		return ui.Fold("", summary, ui.Only(filled, body))
	}
	return ui.El("section", "stop",
		ui.Txt("h2", "", "Stop signs"),
		ui.Txt("p", "", "Any one of these: do not taste it, do not open it, discard it safely. You need no guide for that."),
		ui.El("ul", "stop-list", ui.Each(len(rules.StopSigns), func(i int) app.UI { return ui.Txt("li", "", rules.StopSigns[i].Do) })...),
		ui.Txt("p", "", "Discard these too, however they look: vegetables, meat, fish, soup or broth that were not pressure canned. The recipe must be a current, published one."),
		fold("Still closed: how to discard it", steps("dispose.sealed")),
		fold("Open or leaking: how to discard it", steps("dispose.low")),
		fold("Cleaning up", steps("cleanup")),
		fold("If someone has eaten from it", func() app.UI { return ui.El("ul", "", ui.Texts(rules.CautionByID("botulism").Lines)...) }),
		fold("Sources of the stop signs", func() app.UI {
			return ui.El("ul", "", ui.Each(len(rules.StopSigns), func(i int) app.UI {
				s := &rules.StopSigns[i]
				return ui.El("li", "", ui.Txt("span", "", s.Do), Cites(s.Cites()))
			})...)
		}),
	)
}

func steps(id string) func() app.UI {
	return func() app.UI { return ui.El("ol", "", ui.Texts(rules.AdviceByID(id).Steps)...) }
}

func Disposal(summary prose.Text, id string) app.UI {
	return ui.Fold("", summary, steps(id)())
}
