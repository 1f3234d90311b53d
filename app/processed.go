package app

import (
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
)

// processForm works out whether a jar was processed enough: what was done is
// held against the published table. It only proposes an answer; the person
// gives it.
type processForm struct {
	app.Compo
	Product *rules.Product
	Method  process.Method
	House   *household
	Answer  func(rules.Value)
	Worked  func(process.Status) // told what the entered figures come to

	table  string // "product" or "product/form" of the published tables
	pack   process.Pack
	jar    process.Jar
	gauge  process.Gauge
	vented process.Vent
	// As typed; empty for not known.
	minutes, pounds, high string
}

// methodOf is what the answer about heating means for the tables.
func methodOf(s *rules.Situation) process.Method {
	return processed.Method(s.Known(rules.SignMethod))
}

// record is what was entered. What was left empty is not known.
func (f *processForm) record() process.Record {
	r := processed.Record(f.Product, f.table)
	r.Pack, r.Jar, r.Method, r.Gauge, r.Vented = f.pack, f.jar, f.Method, f.gauge, f.vented
	r.Minutes = whole(f.minutes, 1)
	r.Pressure = whole(f.pounds, 10)
	r.ReadsHigh = whole(f.high, 10)
	if feet := f.House.altitudeFeet(); feet > 0 {
		// The setting names the band by its highest foot.
		r.Altitude = process.Between(feet-feet%1000, feet)
	}
	return r
}

// whole reads a number with at most one decimal, in units of 1/scale. What is
// not such a number is not known.
func whole(text string, scale int) process.Range {
	n, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	n *= float64(scale)
	// A decimal such as 11.3 is not exact in binary: the nearest whole number is
	// meant, if it is that near.
	if err != nil || math.Abs(n) > 10000 || !(math.Abs(n-math.Round(n)) <= 1e-6) {
		return process.Range{}
	}
	return process.Exactly(int(math.Round(n)))
}

func (f *processForm) Render() app.UI {
	tables := processed.Tables(f.Product)
	if len(tables) == 0 {
		return fold("work", "Work it out",
			txt("p", "", "The published tables held here have no entry for this food. Use the recipe you followed."))
	}
	j := process.Was(f.record())
	f.Worked(j.Possible)
	pressure := f.Method == 0 || f.Method == process.Pressure
	names := []string{"", "Which is it?"}
	for _, t := range tables {
		names = append(names, t, record.TableName(t))
	}
	sizes := []string{"0", "not known"}
	for _, s := range record.Sizes {
		sizes = append(sizes, flag(s.Jar), s.Name)
	}
	return fold("work", "Work it out from minutes, pressure, jar size and altitude",
		only(len(tables) > 1, func() app.UI {
			return menu(f.Product.ID, "Kind", f.table, func(v string) { f.table = v }, names...)
		}),
		menu(f.Product.ID, "Packed", flag(f.pack), func(v string) { f.pack = process.Pack(unflag(v)) },
			"0", "not known", flag(process.Hot), "hot", flag(process.Raw), "raw"),
		menu(f.Product.ID, "Jar", flag(f.jar), func(v string) { f.jar = process.Jar(unflag(v)) }, sizes...),
		f.number("Minutes, without a break", f.minutes, func(v string) { f.minutes = v }),
		only(pressure, func() app.UI {
			return el("div", "",
				menu(f.Product.ID, "Gauge", flag(f.gauge), func(v string) { f.gauge = process.Gauge(unflag(v)) },
					"0", "not known", flag(process.Dial), "dial", flag(process.Weighted), "weight"),
				f.number("Pressure, in pounds (psi)", f.pounds, func(v string) { f.pounds = v }),
				only(f.gauge != process.Weighted, func() app.UI {
					return f.number("The dial reads high by, in pounds (0 if tested right, empty if never tested)", f.high, func(v string) { f.high = v })
				}),
				menu(f.Product.ID, "Vented 10 minutes before closing", flag(f.vented), func(v string) { f.vented = process.Vent(unflag(v)) },
					"0", "not known", flag(process.Vented), "yes", flag(process.Unvented), "no"),
			)
		}),
		altitudeMenu(f.House),
		live("worked", el("ul", "", texts(j.Why())...)),
		el("p", "row",
			only(j.Possible == process.Met, func() app.UI {
				return action("button", "So: as published", func() { f.Answer(rules.ProcessMet) }, "met")
			}),
			// A remembered row gives no support by itself: the person has to.
			only(j.Possible == process.Agrees, func() app.UI {
				return action("button", "I have found the same in current published guidance: as published", func() { f.Answer(rules.ProcessMet) }, "agrees")
			}),
			only(processed.RulesOut(j.Possible), func() app.UI {
				return action("button", "So: not as published", func() { f.Answer(rules.ProcessShort) }, "short")
			}),
		),
	)
}

func flag[T ~uint8](v T) string { return strconv.Itoa(int(v)) }

func unflag(text string) uint8 {
	n, _ := strconv.ParseUint(text, 10, 8) // only values that the menu itself holds
	return uint8(n)
}

func (f *processForm) number(label, value string, set func(string)) app.UI {
	return field(label, input("text", value, "").Attr("inputmode", "decimal").Attr("maxlength", 6).
		On("input", func(ctx app.Context, e app.Event) { set(typed(ctx)) }, app.EventScope(label)))
}
