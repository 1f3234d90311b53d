package batch

import (
	"fmt"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
	"larderlamp/rules/prose"
)

// how asks how the jars were processed: each published way for this food, size and
// altitude is one touch.
func (p *Page) how() app.UI {
	b := p.edit
	ways := b.Ways()
	chosen := ""
	var choices []ui.Choice
	for i, w := range ways {
		choices = append(choices, ui.Line(strconv.Itoa(i), wayWords(&w)))
		if b.ProcessedAs(w) {
			chosen = strconv.Itoa(i)
		}
	}
	var methods []ui.Choice
	if !b.HasTable() {
		for _, v := range []rules.Value{rules.MethodBoiling, rules.MethodPressure, rules.MethodSteam} {
			methods = append(methods, ui.Line(v.ID(), v.Info().Label))
		}
	}
	return ui.El("div", "",
		p.altitude(),
		ui.Only(len(methods) > 0, func() app.UI {
			return chips("How the jars were heated", b.Method, func(v string) { b.Method = v }, methods...)
		}),
		ui.Only(len(ways) > 0, func() app.UI {
			return chips("Processed, as published for this jar and altitude", chosen, func(v string) {
				i, _ := strconv.Atoi(v)
				b.Go(ways[i])
				p.went = true
				p.anew++
			}, choices...)
		}),
		ui.Only(b.HasTable() && len(ways) == 0, func() app.UI {
			return ui.Txt("p", "hint", "Choose size and altitude, and the published ways to process these jars are shown here.")
		}),
		ui.Only(len(ways) > 0 || !b.HasTable(), func() app.UI {
			return ui.Txt("p", "hint", "In another way, longer or shorter? Enter the figures below.")
		}),
	)
}

// wayWords describes a way with everything that it assumes.
func wayWords(w *record.Way) prose.Text {
	pack := prose.Text("packed raw")
	if w.Pack == process.Hot {
		pack = "packed hot"
	}
	switch w.Gauge {
	case process.Dial:
		return ui.Say("%s, pressure canner: %d minutes at %s pounds without a break, vented 10 minutes before, cooled by itself, by a dial that was tested within a year and read right", prose.Upper(pack), w.Minutes, ui.Decimal(w.TenthsPSI, 10))
	case process.Weighted:
		return ui.Say("%s, pressure canner: %d minutes with the %s-pound weight without a break, vented 10 minutes before, cooled by itself", prose.Upper(pack), w.Minutes, ui.Decimal(w.TenthsPSI, 10))
	}
	return ui.Say("%s: %d minutes in boiling water, without a break", prose.Upper(pack), w.Minutes)
}

// altitude asks where the batch was canned. The batch keeps the answer; the
// household's altitude is only offered first.
func (p *Page) altitude() app.UI {
	b := p.edit
	feet := 0
	if b.Feet != nil {
		feet = *b.Feet
	}
	choices := []ui.Choice{ui.Line("0", "choose")}
	offered := false
	for _, a := range process.Bands {
		choices = append(choices, ui.Line(strconv.Itoa(int(a)), parts.BandWords(a)))
		offered = offered || int(a) == feet
	}
	if !offered && b.Feet != nil {
		choices = append(choices, ui.Line(strconv.Itoa(feet), ui.Say("%d ft (%d m)", feet, process.Feet(feet).Meters())))
	}
	return ui.Menu(p.turn, "Altitude where it was canned", strconv.Itoa(feet), func(v string) {
		n, err := strconv.Atoi(v)
		if err != nil {
			return
		}
		b.Feet = &n
		if n == 0 {
			b.Feet = nil
		} else if p.House.Settings.AltitudeFeet == nil {
			p.House.SetAltitude(v)
		}
	}, choices...)
}

// record asks what makes a batch one that was canned by the book, as lines that are
// true or not.
func (p *Page) record() app.UI {
	b := p.edit
	lines := b.Lines()
	all := true
	for i := range lines {
		all = all && lines[i].Holds()
	}
	agrees := b.Process(p.House.Settings.AltitudeFeet).Possible == process.Agrees
	all = all && (!agrees || b.FoundMet)
	return ui.El("div", "lines-box",
		ui.Txt("p", "", "The record. Touch a line that is not true."),
		ui.El("ul", "lines", append(ui.Each(len(lines), func(i int) app.UI { return p.line(&lines[i]) }),
			ui.Only(agrees, func() app.UI {
				return ui.El("li", "", ui.Txt("span", "tick", tickMark(b.FoundMet)), ui.Txt("span", "", "I found these minutes in current published guidance. This guide has them from memory only"))
			}))...),
		ui.El("p", "row",
			ui.Elem("button", "button plain all").Attr("type", "button").Aria("pressed", fmt.Sprint(all)).Text(ui.Local("All of this is true")).
				On("click", func(app.Context, app.Event) { p.recordHolds(!all, agrees) }, app.EventScope("all", all, b.Product, agrees)),
			ui.Only(!all, func() app.UI {
				return ui.Action("button", "All true: save it", func() {
					p.recordHolds(true, agrees)
					p.saveBatch()
				}, "all-save", b.Product, agrees)
			}),
		),
	)
}

// recordHolds marks every line of the record as true, or undoes that.
func (p *Page) recordHolds(holds, agrees bool) {
	b := p.edit
	for _, l := range b.Lines() {
		if holds {
			b.Set(l.Sign, l.Want)
		} else {
			b.Set(l.Sign, "")
		}
	}
	b.FoundMet = agrees && holds
	p.opened = 0
	p.anew++
}

// tickMark shows whether a line is true, by a sign and not by color.
func tickMark(holds bool) prose.Text {
	if holds {
		return "✓"
	}
	return "–"
}

// line is one line of the record; when opened, it offers the other answers.
func (p *Page) line(l *record.Line) app.UI {
	b, id := p.edit, l.Sign
	words := l.Say
	if c := b.Food().Condition; c != nil && id == rules.SignCondition {
		words = ui.Say("%s %s", c.Ask, words)
	}
	if v, ok := id.ValueByID(l.Have); ok && !l.Holds() {
		words = ui.Say("%s: %s", id.Info().Name, v.Info().Label)
		if c := b.Food().Condition; id == rules.SignCondition && c != nil {
			words = ui.Say("%s %s", c.Ask, c.Not)
		}
	}
	open := p.opened == id
	mark := ui.Elem("span", "tick").Text(ui.Local(tickMark(l.Holds())))
	return ui.El("li", "",
		ui.Elem("button", "line").Attr("type", "button").Aria("expanded", fmt.Sprint(open)).Body(mark, app.Elem("span").Text(ui.Local(words))).
			On("click", func(app.Context, app.Event) {
				if p.opened = id; open {
					p.opened = 0
				}
			}, app.EventScope("line", id.ID(), open)),
		ui.Only(open, func() app.UI {
			choices := []ui.Choice{ui.Line("", "not known")}
			for _, v := range id.Info().Values {
				text := v.Label
				if c := b.Food().Condition; c != nil && id == rules.SignCondition {
					if text = c.Not; v.ID == rules.ConditionMet.ID() {
						text = c.OK
					}
				}
				choices = append(choices, ui.Line(v.ID, text))
			}
			return chips(id.Info().Ask, l.Have, func(v string) {
				b.Set(id, v)
				p.opened = 0
				p.anew++
			}, choices...)
		}),
	)
}

// figures are all fields of the record, for jars that were canned in another way.
// They are made again when a touch above has changed their values.
func (p *Page) figures(b *record.Batch) app.UI {
	food := b.Food()
	sizes := []ui.Choice{ui.Line("", "not known")}
	for _, s := range record.Sizes {
		sizes = append(sizes, ui.Line(s.ID, s.Name))
	}
	fresh := "div"
	if p.anew%2 == 1 {
		fresh = "section"
	}
	return ui.Fold("figures", "Another way, or other figures", ui.El(fresh, "grid",
		ui.Menu(p.turn, "Size", b.Size, func(v string) { b.Size = v }, sizes...),
		ui.Only(food.Condition != nil, func() app.UI {
			c := food.Condition
			return ui.Menu(p.turn, c.Ask, b.Condition, func(v string) { b.Condition = v }, ui.Line("", "not known"), ui.Line(rules.ConditionMet.ID(), c.OK), ui.Line(rules.ConditionNot.ID(), c.Not))
		}),
		parts.SignMenu(p.turn, rules.SignStanding, b.Standing, func(v string) { b.Standing = v }),
		parts.SignMenu(p.turn, rules.SignMethod, b.Method, func(v string) { b.Method = v }),
		ui.Only(b.AsksAcid(), func() app.UI {
			return parts.SignMenu(p.turn, rules.SignAcid, b.Acid, func(v string) { b.Acid = v })
		}),
		parts.SignMenu(p.turn, rules.SignExtras, b.Extras, func(v string) { b.Extras = v }),
		parts.SignMenu(p.turn, rules.SignClosure, b.Closure, func(v string) { b.Closure = v }),
		p.processFields(b),
		parts.SignMenu(p.turn, rules.SignProcess, b.Followed, func(v string) { b.Followed = v }),
	))
}

// processFields are the figures that are compared with the published tables.
func (p *Page) processFields(b *record.Batch) app.UI {
	tables := processed.Tables(b.Food())
	ids, words := b.Kinds()
	names := []ui.Choice{ui.Line("", "which is it?")}
	for i := range ids {
		names = append(names, ui.Line(ids[i], words[i]))
	}
	pressure := b.Method == rules.MethodPressure.ID()
	return ui.El("div", "",
		ui.Only(len(tables) > 1, func() app.UI { return ui.Menu(p.turn, "Kind", b.Table, func(v string) { b.Table = v }, names...) }),
		ui.Menu(p.turn, "Packed", b.Pack, func(v string) { b.Pack = v }, ui.Line("", "not known"), ui.Line(process.Hot.ID(), "hot"), ui.Line(process.Raw.ID(), "raw")),
		p.number("Minutes, without a break", b.Minutes, 1, func(n *int) { b.Minutes = n }),
		ui.Only(pressure, func() app.UI {
			return ui.Menu(p.turn, "Gauge", b.Gauge, func(v string) { b.Gauge = v }, ui.Line("", "not known"), ui.Line(process.Dial.ID(), "dial"), ui.Line(process.Weighted.ID(), "weight"))
		}),
		ui.Only(pressure, func() app.UI {
			return p.number("Pressure, in pounds (psi)", b.TenthsPSI, 10, func(n *int) { b.TenthsPSI = n })
		}),
		ui.Only(pressure && b.Gauge != process.Weighted.ID(), func() app.UI {
			return p.number("The dial reads high by (psi; 0 if tested right)", b.ReadsHigh, 10, func(n *int) { b.ReadsHigh = n })
		}),
		ui.Only(pressure, func() app.UI {
			return ui.Menu(p.turn, "Vented 10 minutes before closing", b.Vented, func(v string) { b.Vented = v }, ui.Line("", "not known"), ui.Line(process.Vented.ID(), "yes"), ui.Line(process.Unvented.ID(), "no"))
		}),
	)
}

// worked says at once whether the process meets the published one, and what
// that means for the jars, based on exactly what would be saved now.
func (p *Page) worked(b *record.Batch) app.UI {
	here := p.House.Settings.AltitudeFeet
	j := b.Process(here)
	s := rules.NewSituation()
	_ = b.Food().Tell(&s) // a test tells every product
	b.Tell(&s, here)
	o := rules.Judge(s)
	return ui.Live("worked",
		ui.El("p", "", ui.Prose("If all else is sound, these jars can be: "), parts.VerdictWord(o.Lowest)),
		ui.Txt("p", "", ui.Say("Compared with the published process: %s.", processWords(&j))),
		ui.El("ul", "", ui.Texts(p.badWords())...),
		ui.Fold("", "Why", ui.El("ul", "", ui.Texts(j.Why())...)),
	)
}

// badWords says which fields hold something that can't be accepted.
func (p *Page) badWords() (words []prose.Text) {
	for _, w := range p.bad {
		words = append(words, w)
	}
	ui.Sort(words)
	return words
}
