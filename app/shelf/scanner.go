package shelf

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// scan opens what reads a label: the camera if there is one, a photo, and a
// field for the code that can be typed.
func (p *Page) scan() {
	p.scans, p.failed = true, ""
	p.films = ui.Device().Call("canScan").Bool()
	if !p.films {
		ui.Focus(p.ctx, "code")
		return
	}
	p.ctx.Defer(func(ctx app.Context) {
		found := app.FuncOf(func(_ app.Value, args []app.Value) any {
			text := args[0].String()
			ctx.Dispatch(func(app.Context) { p.read(text) })
			return nil
		})
		ui.OnPromise(ctx, ui.Device().Call("scan", app.Window().GetElementByID("camera"), found), func(app.Value) { found.Release() }, func(text string) {
			found.Release()
			p.films, p.failed = false, ui.Say("The camera could not be used: %s. Take a photo of the code, or type it.", text)
		})
	})
}

// read opens the jar of a label, from the text of its code.
func (p *Page) read(text string) {
	if id, ok := jarOfLabel(text); ok {
		p.scans = false
		p.ctx.Navigate(ui.Link("/jar?id=" + id))
		return
	}
	p.films, p.failed = false, "That code is not a label of this guide."
}

// photographed reads the code in a photo.
func (p *Page) photographed() {
	p.closeCamera()
	ui.OnPromise(p.ctx, ui.Device().Call("scanPhoto"), func(v app.Value) {
		switch {
		case v.IsNull():
		case v.String() == "":
			p.failed = "No code can be read in that photo. Try again, closer and straight from the front, or type the short code beside it."
		default:
			p.read(v.String())
		}
	}, func(text string) { p.failed = prose.Upper(ui.Say("%s.", text)) })
}

// open opens the jar whose code was typed.
func (p *Page) open(ctx app.Context, e app.Event) {
	e.PreventDefault()
	switch found := p.House.Shelf.WithCode(p.typed); len(found) {
	case 0:
		p.same, p.failed = nil, "No jar on this device has that code. It has six letters and digits, such as 7K2-9QX."
	case 1:
		p.closeCamera()
		p.scans = false
		ctx.Navigate(ui.Link("/jar?id=" + found[0].ID))
	default:
		p.same, p.failed = found, "More than one jar has that code. Which is it?"
	}
}

func (p *Page) closeCamera() {
	if p.films {
		ui.Device().Call("stopScan")
		p.films = false
	}
}

// jarOfLabel finds the jar in the address on a label.
func jarOfLabel(address string) (string, bool) {
	_, id, found := strings.Cut(address, "/jar?id=")
	return id, found && len(id) == 36
}

func (p *Page) scanner() app.UI {
	if !p.scans {
		return nil
	}
	return ui.El("section", "card scanner",
		ui.Txt("h2", "", "The label of a jar"),
		// The picture and what is said in its place take the same room, so that
		// nothing below moves under a finger.
		ui.El("div", "camera-room",
			ui.Only(p.films, func() app.UI {
				return ui.Elem("video", "camera").ID("camera").Attr("playsinline", true).Attr("muted", true)
			}),
			ui.Live("", ui.Only(p.failed != "", func() app.UI { return ui.Txt("p", "notice", p.failed) })),
		),
		ui.Only(len(p.same) > 0, func() app.UI {
			return ui.El("ul", "", ui.Each(len(p.same), func(i int) app.UI {
				return ui.El("li", "", ui.Anchor("", "/jar?id="+p.same[i].ID, p.House.Shelf.JarName(p.same[i])))
			})...)
		}),
		ui.El("p", "row", ui.Action("button plain", "Take a photo of the code", p.photographed, "photo")),
		ui.Elem("form", "").On("submit", p.open).Body(
			ui.Field("Or type the short code", ui.Input("text", p.typed, "7K2-9QX").ID("code").Attr("autocomplete", "off").Attr("autocapitalize", "characters").Attr("spellcheck", "false").Attr("maxlength", 20).
				On("input", func(ctx app.Context, e app.Event) { p.typed = ui.Typed(ctx) })),
			ui.El("p", "row",
				ui.Elem("button", "button").Attr("type", "submit").Text(ui.Local("Open the jar")),
				ui.Action("button plain", "Stop", func() {
					p.closeCamera()
					p.scans = false
				}, "stop"),
			),
		),
		ui.Only(ui.PhoneKeepsTwo(), func() app.UI {
			return ui.Txt("p", "hint", "The camera app of this device opens labels in the browser. The browser does not see the jars of the guide on the Home Screen.")
		}),
	)
}
