package parts

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
	"larderlamp/rules/prose"
)

// ProcessForm works out whether a jar was processed enough: what was done is
// compared with the published table. It only proposes an answer; the person
// gives it.
type ProcessForm struct {
	app.Compo
	Product *rules.Product
	Method  process.Method
	House   *house.House
	Answer  func(rules.Value)
	Worked  func(process.Status) // called with the judgment of the figures

	table  string // "product" or "product/form" of the published tables
	pack   process.Pack
	jar    process.Size
	gauge  process.Gauge
	vented process.Vent
	// As typed; empty for not known.
	minutes, pounds, high string
}

// record is what was entered. What was left empty is not known.
func (f *ProcessForm) record() process.Record {
	r := processed.Record(f.Product, f.table)
	r.Pack, r.Jar, r.Method, r.Gauge, r.Vented = f.pack, f.jar, f.Method, f.gauge, f.vented
	r.Minutes = house.Whole(f.minutes, 1)
	r.Pressure = house.Whole(f.pounds, 10)
	r.ReadsHigh = house.Whole(f.high, 10)
	if feet := f.House.AltitudeFeet(); feet > 0 {
		r.Altitude = process.BandUpTo(process.Feet(feet))
	}
	return r
}

func (f *ProcessForm) Render() app.UI {
	tables := processed.Tables(f.Product)
	if len(tables) == 0 {
		return ui.Fold("work", "Work it out",
			ui.Txt("p", "", "The published tables held here have no entry for this food. Use the recipe you followed."))
	}
	j := process.Was(f.record())
	f.Worked(j.Possible)
	pressure := f.Method == 0 || f.Method == process.Pressure
	names := []ui.Choice{{Value: "", Text: "Which is it?"}}
	for _, t := range tables {
		names = append(names, ui.Choice{Value: t, Text: record.TableName(t)})
	}
	sizes := []ui.Choice{{Value: "0", Text: "not known"}}
	for _, s := range record.Sizes {
		sizes = append(sizes, ui.Choice{Value: formatFlag(s.Jar), Text: s.Name})
	}
	return ui.Fold("work", "Work it out from the minutes, pressure, jar size and altitude",
		ui.Only(len(tables) > 1, func() app.UI {
			return ui.Menu(f.Product.ID, "Kind", f.table, func(v string) { f.table = v }, names...)
		}),
		ui.Menu(f.Product.ID, "Packed", formatFlag(f.pack), func(v string) { f.pack = process.Pack(parseFlag(v)) },
			ui.Line("0", "not known"), ui.Line(formatFlag(process.Hot), "hot"), ui.Line(formatFlag(process.Raw), "raw")),
		ui.Menu(f.Product.ID, "Jar", formatFlag(f.jar), func(v string) { f.jar = process.Size(parseFlag(v)) }, sizes...),
		f.number("Minutes, without a break", f.minutes, func(v string) { f.minutes = v }),
		ui.Only(pressure, func() app.UI {
			return ui.El("div", "",
				ui.Menu(f.Product.ID, "Gauge", formatFlag(f.gauge), func(v string) { f.gauge = process.Gauge(parseFlag(v)) },
					ui.Line("0", "not known"), ui.Line(formatFlag(process.Dial), "dial"), ui.Line(formatFlag(process.Weighted), "weight")),
				f.number("Pressure, in pounds (psi)", f.pounds, func(v string) { f.pounds = v }),
				ui.Only(f.gauge != process.Weighted, func() app.UI {
					return f.number("The dial reads high by, in pounds (0 if tested right, empty if never tested)", f.high, func(v string) { f.high = v })
				}),
				ui.Menu(f.Product.ID, "Vented 10 minutes before closing", formatFlag(f.vented), func(v string) { f.vented = process.Vent(parseFlag(v)) },
					ui.Line("0", "not known"), ui.Line(formatFlag(process.Vented), "yes"), ui.Line(formatFlag(process.Unvented), "no")),
			)
		}),
		altitudeMenu(f.House),
		ui.Live("worked", ui.El("ul", "", ui.Texts(j.Why())...)),
		ui.El("p", "row",
			ui.Only(j.Possible == process.Met, func() app.UI {
				return ui.Action("button", "So: as published", func() { f.Answer(rules.ProcessMet) }, "met")
			}),
			// A row from memory supports nothing by itself: the person has to
			// confirm it.
			ui.Only(j.Possible == process.Agrees, func() app.UI {
				return ui.Action("button", "I have found the same in current published guidance: as published", func() { f.Answer(rules.ProcessMet) }, "agrees")
			}),
			ui.Only(processed.RulesOut(j.Possible), func() app.UI {
				return ui.Action("button", "So: not as published", func() { f.Answer(rules.ProcessShort) }, "short")
			}),
		),
	)
}

func formatFlag[T ~uint8](v T) string { return strconv.Itoa(int(v)) }

func parseFlag(text string) uint8 {
	n, _ := strconv.ParseUint(text, 10, 8) // only values from the menu itself
	return uint8(n)
}

func (f *ProcessForm) number(label prose.Text, value string, set func(string)) app.UI {
	return ui.Field(label, ui.Input("text", value, "").Attr("inputmode", "decimal").Attr("maxlength", 6).
		On("input", func(ctx app.Context, e app.Event) { set(ui.Typed(ctx)) }, app.EventScope(label)))
}
