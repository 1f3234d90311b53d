package learn

import (
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/practice"
	"larderlamp/rules/prose"
)

// question asks about the item.
func (p *PracticePage) question() app.UI {
	heading := prose.Text("Two jars, one sign apart. What would you do with each?")
	if !p.pair {
		heading = "What would you do with this jar?"
	}
	return ui.Elem("form", "practice").Attr("data-once", true).On("submit", func(ctx app.Context, e app.Event) {
		e.PreventDefault()
		p.answer()
	}).Body(
		p.where(),
		ui.Title(heading),
		ui.El("div", p.columns(), ui.Each(p.asked(), p.askJar)...),
		p.askSign(),
		ui.Live("", ui.Only(p.missing != "", func() app.UI { return ui.Txt("p", "notice", p.missing) })),
		ui.El("p", "row",
			ui.Elem("button", "button big").Attr("type", "submit").Text(ui.Local("Answer")),
			ui.Action("button plain", "Stop here", p.stop),
		),
	)
}

func (p *PracticePage) columns() string {
	if p.pair {
		return "twins"
	}
	return "twins alone"
}

// where says how far the learner is.
func (p *PracticePage) where() app.UI {
	turn, at := p.ladder.Turn+1, p.at+1
	if p.answered { // the answered item is still on the screen
		turn, at = turn-1, at-1
	}
	text := ui.Say("Item %d", turn)
	if p.set != nil {
		text = ui.Say("%s, item %d of %d", p.name, at, len(p.set))
	}
	return ui.Txt("p", "kind", text)
}

// letters name the two jars.
var letters = [...]string{"A", "B"}

func (p *PracticePage) jarName(i int) prose.Text {
	if !p.pair {
		return p.item.Jars[0].Product.Name
	}
	return ui.Say("Jar %s", letters[i])
}

// askJar shows a jar and what is said about it, and asks for the verdict.
func (p *PracticePage) askJar(i int) app.UI {
	j := &p.item.Jars[i]
	return ui.El("section", "twin",
		ui.Elem("div", "jar-box").
			On("click", func(ctx app.Context, e app.Event) { p.touch(ctx, e, i) }, app.EventScope(p.turn(), i)).
			On("keydown", func(ctx app.Context, e app.Event) {
				if k := e.Get("key").String(); k == "Enter" || k == " " {
					e.PreventDefault()
					p.touch(ctx, e, i)
					return
				}
				ctx.PreventUpdate()
			}, app.EventScope(p.turn(), i)).
			Body(app.Raw(parts.JarPicture(j.Product, j.Situation, 0, draw.Options{Prefix: "q" + letters[i], Interactive: true}))),
		ui.Txt("h2", "", p.jarName(i)),
		ui.Only(p.pair, func() app.UI { return ui.Txt("p", "hint", j.Product.Name) }),
		told(j),
		ui.El("fieldset", "verdicts",
			ui.Txt("legend", "", ui.Say("%s: your verdict", p.jarName(i))),
			ui.El("div", "choices", ui.Each(len(rules.Verdicts), func(k int) app.UI {
				v := rules.Verdicts[k]
				return ui.El("label", "choice small",
					ui.Radio("verdict-"+letters[i], v.ID(), p.said[i] == v).
						On("change", func(app.Context, app.Event) { p.said[i] = v }, app.EventScope(p.turn(), i, v.ID())),
					parts.Mark(v), ui.Txt("span", "", v.Text()))
			})...),
		),
	)
}

// told says what is known about the jar: the remarkable lines in view, all of
// it folded.
func told(j *practice.Twin) app.UI {
	all := j.KnownSigns()
	return ui.El("div", "told",
		notes(j),
		ui.Fold("", "All that is known", ui.El("ul", "", ui.Each(len(all), func(i int) app.UI { return noteLine(j, all[i]) })...)),
	)
}

// notes lists how a jar was heated, how old it is and whatever is not as it
// should be.
func notes(j *practice.Twin) app.UI {
	ids := j.Odd()
	for _, id := range []rules.SignID{rules.SignMethod, rules.SignAge} {
		if !slices.Contains(ids, id) {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	return ui.El("ul", "notes", append(ui.Each(len(ids), func(i int) app.UI { return noteLine(j, ids[i]) }),
		ui.Txt("li", "rest", "Everything else as it should be."))...)
}

func noteLine(j *practice.Twin, id rules.SignID) app.UI {
	v, _ := j.Situation.Known(id)
	return ui.El("li", "", ui.Txt("strong", "", ui.Say("%s: ", id.Info().Name)), ui.Prose(v.Info().Label))
}

// touch opens the part of the picture that was touched, or chooses its only
// sign.
func (p *PracticePage) touch(ctx app.Context, e app.Event, jar int) {
	zone := parts.ZoneAt(ctx, e)
	if zone == nil {
		return
	}
	p.zone, p.jar = zone, jar
	signs := p.inZone()
	if len(signs) == 1 {
		p.touched = int(signs[0])
	}
	ctx.Defer(func(app.Context) {
		if e := app.Window().GetElementByID("deciding"); e.Truthy() {
			e.Call("focus")
		}
	})
}

// inZone lists the signs of the part that was touched, as far as they were
// reported.
func (p *PracticePage) inZone() (ids []rules.SignID) {
	if p.zone == nil {
		return nil
	}
	for _, id := range p.item.Jars[p.jar].KnownSigns() {
		if slices.Contains(p.zone.Signs, id) {
			ids = append(ids, id)
		}
	}
	return
}

// askSign asks for the deciding sign: first those of the part that was touched,
// then all.
func (p *PracticePage) askSign() app.UI {
	ask := prose.Text("Which one sign makes the difference?")
	if !p.pair {
		ask = "Which sign decides?"
	}
	zone := p.inZone()
	all := p.item.Jars[0].KnownSigns()
	name := func(id rules.SignID) prose.Text { return id.Info().Name }
	options := []app.UI{ui.Option("", "Choose, or touch it on the picture", p.touched < 0)}
	if !p.pair {
		options = append(options, ui.Option(strconv.Itoa(int(practice.NoSign)), "None: nothing holds this jar back", p.touched == int(practice.NoSign)))
	}
	options = append(options, ui.Option(strconv.Itoa(int(rules.SignRoute)), "The food itself", p.touched == int(rules.SignRoute)))
	for _, id := range all {
		options = append(options, ui.Option(strconv.Itoa(int(id)), name(id), p.touched == int(id)))
	}
	return ui.El("div", "card",
		ui.Field(ask, ui.Elem("select", "").ID("deciding").
			On("change", func(ctx app.Context, e app.Event) {
				n, err := strconv.Atoi(ui.Typed(ctx))
				if err != nil {
					n = -1
				}
				p.touched = n
			}, app.EventScope(p.turn())).Body(options...)),
		ui.Only(len(zone) > 1, func() app.UI {
			return ui.El("div", "", ui.Txt("p", "hint", ui.Say("%s: which sign of it?", p.zone.Label)), ui.El("p", "row", ui.Each(len(zone), func(i int) app.UI {
				class := "button plain"
				if p.touched == int(zone[i]) {
					class = "button"
				}
				return ui.Action(class, name(zone[i]), func() { p.touched = int(zone[i]) }, p.turn(), i)
			})...))
		}),
	)
}
