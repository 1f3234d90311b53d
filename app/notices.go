package app

import (
	"encoding/json"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// NoticesFile is the file with the licenses, beside the static ones.
const NoticesFile = "notices.json"

// noticesPage names what others have written of this guide, with their licenses.
type noticesPage struct {
	app.Compo
	house *household

	ctx    app.Context
	all    []notice
	failed bool
}

type notice struct {
	Name, Version, Scripts, License string
}

func (p *noticesPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/notices") {
		return
	}
	p.ctx = ctx
	failed := func(string) { p.failed = true }
	promised(ctx, device().Call("data", NoticesFile), func(text app.Value) {
		p.failed = json.Unmarshal([]byte(text.String()), &p.all) != nil
	}, failed)
}

func (p *noticesPage) Render() app.UI {
	return frame("",
		title("Notices"),
		txt("p", "lead", "This guide is built with the work of others, who let everybody use it. These are their names and licenses."),
		live("", only(p.failed, func() app.UI {
			return txt("p", "notice", "The licenses could not be read. They are in the file notices.json of this site.")
		})),
		only(len(p.all) == 0 && !p.failed, func() app.UI { return txt("p", "", "Fetching the licenses…") }),
		el("div", "", each(len(p.all), func(i int) app.UI {
			n := &p.all[i]
			summary := n.Name
			if n.Version != "" {
				summary += " " + n.Version
			}
			if n.Scripts != "" {
				summary += " (" + n.Scripts + ")"
			}
			return el("details", "",
				elem("summary", "").Attr("translate", "no").Text(summary),
				elem("pre", "license").Attr("lang", "en").Attr("translate", "no").TabIndex(0).Text(n.License),
			)
		})...),
	)
}
