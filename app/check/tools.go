package check

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// answers lists what was said, each with a way to change it.
func (p *Page) answers() app.UI {
	var said []record.Answer
	for i, a := range p.session.Check.Answers {
		sign, _ := rules.SignByID(a.Sign)
		later := func(b record.Answer) bool { id, ok := rules.SignByID(b.Sign); return ok && id == sign }
		if a.Sign != record.Unanswered && !slices.ContainsFunc(p.session.Check.Answers[i+1:], later) {
			said = append(said, a)
		}
	}
	if len(said) == 0 {
		return nil
	}
	return ui.Fold("said", ui.Say("What you said (%v)", len(said)), ui.El("ul", "", ui.Each(len(said), func(i int) app.UI {
		id, ok := rules.SignByID(said[i].Sign)
		if !ok {
			return ui.Txt("li", "", prose.Own(said[i].Sign))
		}
		name := id.Info().Name
		return ui.El("li", "",
			ui.El("span", "", ui.Txt("strong", "", ui.Say("%s: ", name)), ui.Prose(parts.SaidWords(id, said[i].Values))),
			ui.Named("quiet", "Change", ui.Say("Change: %s", name), func() {
				p.moveOn()
				p.change, p.changes = id, true
			}, name),
		)
	})...))
}

// tools are the ways to leave a check; none of them loses anything.
func (p *Page) tools() app.UI {
	s := p.session
	label := ui.Input("text", s.Check.Label, "for example: cellar, left, 2nd shelf").Attr("maxlength", record.MostLabel).On("change", func(ctx app.Context, e app.Event) {
		kept := p.kept()
		if err := kept.Name(ui.Typed(ctx), time.Now()); err != nil {
			p.House.Complain(ui.Plain(err))
			return
		}
		p.session.Check.Label = kept.Check.Label
		p.House.Save(&kept.Check)
	}, app.EventScope(s.Check.ID))
	return ui.El("div", "tools",
		ui.Field("Your words for this jar", label),
		ui.El("p", "row",
			ui.Action("quiet", "Start again", func() { p.beginAs(s.Product, s.Check.Label) }, s.Check.ID),
			ui.Action("quiet", "Another jar", func() {
				p.reset()
				p.House.ReplaceAddress(ui.Link("/check"))
				p.moveOn()
			}, s.Check.ID),
			ui.Only(s.Check.Jar != "", func() app.UI { return ui.Action("quiet", "Take a photo of the jar", p.photo, s.Check.ID) }),
			ui.Txt("span", "saved", p.House.SavedWords()),
			ui.Only(p.House.SavedLimit() != "", func() app.UI { return ui.Txt("span", "hint", p.House.SavedLimit()) }),
		),
	)
}

// photo takes a picture of the jar and keeps it with the check.
func (p *Page) photo() {
	jar, check := p.session.Check.Jar, p.session.Check.ID
	ui.OnPromise(p.ctx, ui.Device().Call("picture", record.MostPixels), func(v app.Value) {
		if v.String() == "" {
			return
		}
		photo, err := record.NewPhoto(jar, check, v.String(), time.Now())
		if err != nil {
			p.House.Complain(ui.Plain(err))
			return
		}
		p.House.Picture(photo, func() { p.said = "The photo is kept with the check." })
	}, func(text string) { p.House.Complain(ui.Say("%s.", text)) })
}
