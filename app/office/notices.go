package office

import (
	"encoding/json"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/ui"
)

// NoticesFile is the file with the licenses, next to the static files.
const NoticesFile = "notices.json"

// NoticesPage names the parts of this guide that others have written, with their
// licenses.
type NoticesPage struct {
	app.Compo
	House *house.House

	ctx    app.Context
	all    []notice
	failed bool
}

type notice struct {
	Name, Version, Scripts, License string
}

func (p *NoticesPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/notices") {
		return
	}
	p.ctx = ctx
	failed := func(string) { p.failed = true }
	ui.OnPromise(ctx, ui.Device().Call("data", NoticesFile), func(text app.Value) {
		p.failed = json.Unmarshal([]byte(text.String()), &p.all) != nil
	}, failed)
}

func (p *NoticesPage) Render() app.UI {
	return ui.Frame("",
		ui.Title("Notices"),
		ui.Txt("p", "lead", "This guide is built with the work of others, who let everybody use it. These are their names and licenses."),
		ui.Live("", ui.Only(p.failed, func() app.UI {
			return ui.Txt("p", "notice", "The licenses could not be read. They are in the file notices.json of this site.")
		})),
		ui.Only(len(p.all) == 0 && !p.failed, func() app.UI { return ui.Txt("p", "", "Fetching the licenses…") }),
		ui.El("div", "", ui.Each(len(p.all), func(i int) app.UI {
			n := &p.all[i]
			summary := n.Name
			if n.Version != "" {
				summary += " " + n.Version
			}
			if n.Scripts != "" {
				summary += " (" + n.Scripts + ")"
			}
			return ui.El("details", "",
				ui.Elem("summary", "").Attr("translate", "no").Text(summary),
				ui.Elem("pre", "license").Attr("lang", "en").Attr("translate", "no").TabIndex(0).Text(n.License),
			)
		})...),
	)
}
