package office

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// AboutPage holds the cautions, the limits and what stays on the device.
type AboutPage struct {
	app.Compo
	House *house.House
}

func (p *AboutPage) OnNav(ctx app.Context) { p.House.Arrive(ctx, "/about") }

func (p *AboutPage) Render() app.UI {
	return ui.Frame("/about",
		ui.Title("Cautions and limits"),
		parts.CautionCards(),
		ui.El("section", "card",
			ui.Txt("h2", "", "How sure this guide is"),
			ui.El("ul", "", ui.Texts([]prose.Text{
				"A jar is kept only if four things are true. It was canned by a published, tested process. Its seal holds. You looked for every sign. You found none.",
				"What you do not know stays unknown, and the answer stays cautious.",
				"Where published advice differs, the stricter is followed and both are named.",
				"The rules can't prove that their sources are right, or that you saw it all.",
			})...),
			ui.El("p", "",
				ui.Prose("The rules and their sources can be read, rule by rule, in the "),
				ui.Anchor("", "/rules", "rule book"),
				ui.Prose(ui.Say(". This is edition %s.", rules.Edition)),
			),
			ui.Contact(),
		),
		ui.Only(ui.Reader != nil, func() app.UI {
			return ui.El("section", "card", ui.Txt("h2", "", "How it was translated"), ui.Txt("p", "", ui.Unreviewed))
		}),
		ui.El("section", "card",
			ui.Txt("h2", "", "What leaves your device"),
			ui.Txt("p", "", "Nothing, unless you share your shelf with another phone. Checks are kept in this browser, on this device. Clearing the browser's data for this site deletes them."),
		),
	)
}
