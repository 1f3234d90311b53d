package parts

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Source names a source as it was published.
func Source(c rules.Cite) app.UI {
	return ui.El("span", "", ui.Elem("cite", "").Attr("lang", "en").Attr("translate", "no").Body(app.Text(c.String())), app.Text(" "))
}

// cite writes where a reason comes from and how we know.
func cite(c rules.Cite) app.UI {
	return ui.El("li", "cite", Source(c), Evidence(c.Known()))
}

// Evidence says how we know what a source says.
func Evidence(e rules.Evidence) app.UI {
	class := "evidence unseen"
	if e.Found() {
		class = "evidence"
	}
	return ui.Txt("span", class, e.Text())
}

func Cites(cs []rules.Cite) app.UI {
	return ui.El("ul", "cites", ui.Each(len(cs), func(i int) app.UI { return cite(cs[i]) })...)
}

// RuleLink leads to a rule in the rule book.
func RuleLink(r *rules.Rule, text prose.Text) app.UI {
	a := ui.ToPage("", "/rules#"+r.ID)
	if text == prose.Own(r.ID) {
		a = a.Attr("translate", "no")
	}
	return a.Text(ui.Local(text))
}
