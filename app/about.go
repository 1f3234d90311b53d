package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
)

// aboutPage holds the cautions, the limits and what stays on the device.
type aboutPage struct {
	app.Compo
	house *household
}

func (p *aboutPage) OnNav(ctx app.Context) { p.house.arrive(ctx, "/about") }

func (p *aboutPage) Render() app.UI {
	return frame("/about",
		title("Cautions and limits"),
		cautionCards(),
		el("section", "card",
			txt("h2", "", "How sure this guide is"),
			el("ul", "", texts([]string{
				"A jar is kept only when it was canned by a published, tested process, its seal holds, every sign has been looked at, and none is odd.",
				"What you do not know stays unknown, and the answer stays cautious.",
				"Where published advice differs, the stricter is followed and both are named.",
				"The rules cannot prove that their sources are right, or that you saw everything.",
			})...),
			el("p", "",
				prose("The rules and their sources can be read, rule by rule, in the "),
				anchor("", "/rules", "rule book"),
				prose(say(". This is edition %s.", rules.Edition)),
			),
		),
		el("section", "card",
			txt("h2", "", "What leaves your device"),
			txt("p", "", "Nothing. The guide has no server to talk to; checks are kept in this browser, on this device. Clearing the browser's data for this site deletes them."),
		),
	)
}

func cautionCards() app.UI {
	return el("div", "cautions", each(len(rules.Cautions), func(i int) app.UI {
		c := &rules.Cautions[i]
		return el("section", "card caution",
			txt("h2", "", c.Title),
			el("ul", "", texts(c.Lines)...),
			fold("", "Sources", cites(c.Cites)),
		)
	})...)
}
