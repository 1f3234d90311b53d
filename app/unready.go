package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
)

// Unready is what every page says when its program has not come, or cannot run:
// first the signs that need no guide, then what to do about the page. It is plain
// markup that works without any script. static/load.js puts what it knows of the
// cause into the paragraph unready-why.
func Unready() app.UI {
	return el("div", "",
		stopLine(),
		fold("", "If someone has eaten from it", el("ul", "", texts(rules.CautionByID("botulism").Lines)...)),
		txt("h2", "", "No jar can be checked on this page yet"),
		txt("p", "unready-why", "The guide has not started. On a slow connection it may still be on its way, and starts by itself once it is here."),
		txt("p", "", "What you can try:"),
		el("ul", "",
			el("li", "", app.A().Href("?").Text(local("Load this page again."))),
			txt("li", "", "In a hotel, a café or on the Wi-Fi of a shop: open any other page and sign in there. Then load this page again."),
			txt("li", "", "Without a connection: open this page once where there is one. After that it works without."),
			txt("li", "", "See in the settings of the browser whether scripts are switched off, or whether websites may not store data."),
			txt("li", "", "Update the browser, or try another one."),
		),
	)
}
