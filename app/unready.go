package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Unready is what every page says when its program has not come, or cannot run:
// first the signs that need no guide, then what to do about the page. It is plain
// markup that works without any script. static/load.js puts what it knows about
// the cause into the paragraph unready-why.
func Unready() app.UI {
	return ui.El("div", "",
		parts.StopLine(),
		ui.Fold("", "If someone has eaten from it", ui.El("ul", "", ui.Texts(rules.CautionByID("botulism").Lines)...)),
		ui.Txt("h2", "", "No jar can be checked on this page yet"),
		ui.Txt("p", "unready-why", "The guide has not started. On a slow connection it may still be on its way. It starts by itself once it is here."),
		ui.Txt("p", "", "What you can try:"),
		ui.El("ul", "",
			ui.El("li", "", app.A().Href("?").Text(ui.Local("Load this page again."))),
			ui.Txt("li", "", "In a hotel, a café or on the Wi-Fi of a shop: open any other page and sign in there. Then load this page again."),
			ui.Txt("li", "", "Without a connection: open this page once where there is one. After that it works without."),
			ui.Txt("li", "", "Look in the settings of your browser. Scripts may be off, or sites may not be free to store data."),
			ui.Txt("li", "", "Update the browser, or try another one."),
		),
		// Before scripts run, nothing else on the page is in the language.
		ui.Only(ui.Reader != nil, func() app.UI { return ui.Txt("p", "", unreviewed) }),
	)
}

// unreviewed is [ui.Unreviewed] in one line: every page carries it in every language.
const unreviewed prose.Text = "This is translated from English. No food-safety educator who speaks your language has reviewed it yet. Where the two differ, do what the stricter one says."
