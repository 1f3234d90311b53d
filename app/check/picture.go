package check

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
)

// wide is the width in pixels from which picture and question stand side by
// side; the style sheet has the same figure.
const wide = 782

// onPicture opens the part of the jar that was touched. On a small screen the
// first touch makes the picture large enough for a thumb.
func (p *Page) onPicture(ctx app.Context, e app.Event) {
	if width, _ := app.Window().Size(); width < wide && !p.large && e.Get("type").String() == "click" {
		p.large = true
		return
	}
	zone := parts.ZoneAt(ctx, e)
	if zone == nil {
		return
	}
	p.zone, p.changes, p.large = zone, false, false
	ui.Focus(p.ctx, "title")
}

func (p *Page) onPictureKey(ctx app.Context, e app.Event) {
	if k := e.Get("key").String(); k == "Enter" || k == " " {
		e.PreventDefault()
		p.onPicture(ctx, e)
		return
	}
	ctx.PreventUpdate()
}

// zonePanel lists the signs of the touched part as radio groups.
func (p *Page) zonePanel(situation *rules.Situation) app.UI {
	return ui.El("section", "card zone-panel",
		ui.Title(p.zone.Label),
		ui.El("div", "", ui.Each(len(p.zone.Signs), func(i int) app.UI { return p.signGroup(p.zone.Signs[i], situation) })...),
		ui.El("p", "row reach", ui.Action("button", "Done", p.moveOn), p.ateButton()),
	)
}

// signGroup is one sign as a labeled radio group; a choice is recorded at once.
func (p *Page) signGroup(id rules.SignID, situation *rules.Situation) app.UI {
	info := id.Info()
	known, isKnown := situation.Known(id)
	open := *situation
	open.Forget(id)
	asked := p.session.Product.Worded(rules.SignQuestion(id, &open))
	save := func() {
		p.said, p.whole = "", nil
		p.House.Save(&p.session.Check)
		situation := p.session.Situation()
		if o := rules.Judge(situation); o.Lowest == rules.Discard {
			p.moveOn() // nothing that is left to report can matter
		}
	}
	return ui.El("fieldset", "sign",
		ui.Txt("legend", "", asked.Ask),
		ui.El("div", "", ui.Each(len(info.Values), func(i int) app.UI {
			v := info.Values[i]
			label, fits := p.session.Product.Words(asked, v)
			if !fits {
				return nil
			}
			return ui.El("label", "choice small",
				ui.Radio("sign-"+info.ID, v.ID, isKnown && known == v.Value).
					On("change", func(ctx app.Context, e app.Event) {
						p.session.Say(info.ID, time.Now(), v.Value)
						save()
					}, app.EventScope(p.session.Check.ID, v.ID, info.ID)),
				ui.Txt("span", "", label),
			)
		})...),
		ui.Only(!situation.Untouched(id), func() app.UI {
			return ui.Again(ui.Action("quiet", "Undo", func() {
				p.session.Forget(time.Now(), id)
				save()
			}, p.session.Check.ID, info.ID))
		}),
	)
}
