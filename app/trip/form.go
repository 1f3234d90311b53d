package trip

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// form asks for the trip. Every field already has a sensible answer.
func (p *Page) form() app.UI {
	t := p.edit
	w := &t.Weather[0]
	iced := t.Cooler == record.SoftCooler || t.Cooler == record.HardCooler || t.Cooler == record.ThickCooler
	return ui.Elem("form", "card batch-form").On("submit", p.onSubmit).Body(
		ui.Title("Plan a trip"),
		ui.Txt("p", "hint", "Change what is different for you. The rest is a usual summer weekend."),
		ui.El("div", "grid",
			ui.Field("Name", ui.Input("text", t.Name, "lake, in June").Attr("maxlength", record.MostName).
				On("change", func(ctx app.Context, _ app.Event) { t.Name = strings.TrimSpace(ui.Typed(ctx)) }, app.EventScope(p.turn))),
			ui.Field("First day", ui.Input("date", string(t.From), "").On("change", func(ctx app.Context, _ app.Event) { t.From = record.Day(ui.Typed(ctx)) }, app.EventScope(p.turn))),
			p.number("Days", &t.Days, 1, record.MostTripDays, func() { p.days() }),
			p.number("People", &t.People, 1, record.MostPeople, nil),
			ui.Menu(p.turn, "Appetite", fmt.Sprint(t.Appetite), func(v string) { t.Appetite, _ = strconv.Atoi(v) }, appetite...),
		),
		ui.Txt("h2", "", "Meals you want from the jars"),
		ui.El("div", "meals-wanted", ui.Each(len(record.Dishes), func(i int) app.UI {
			return p.number(record.Dishes[i].Name, &t.Meals[i], 0, 2*record.MostTripDays, nil)
		})...),
		ui.Txt("h2", "", "The weather you expect"),
		p.weather(),
		ui.Txt("h2", "", "Where the jars are"),
		ui.El("div", "grid",
			ui.Menu(p.turn, "They ride", t.Ride, func(v string) { t.Ride = v }, rides...),
			p.number("Hours on the road, each way", &t.Drive, 0, 12, nil),
			ui.Menu(p.turn, "There, they stand", t.Stand, func(v string) { t.Stand = v }, stands...),
			altitudeThere(t, p.turn),
		),
		ui.Only(w.Night < 60 || t.Indoors, func() app.UI {
			return ui.Tick(p.turn, "On frosty nights we take them where it does not freeze", t.Indoors, func(on bool) { t.Indoors = on })
		}),
		ui.Txt("h2", "", "The cooler"),
		ui.El("div", "grid",
			ui.Menu(p.turn, "It is", t.Cooler, func(v string) { t.Cooler = v }, coolers...),
			ui.Only(t.Cooler != record.NoCooler, func() app.UI { return p.cooler("Its size") }),
			ui.Only(iced, func() app.UI { return p.weight("Ice at the start", &t.Ice) }),
			ui.Only(iced, func() app.UI {
				return ui.Menu(p.turn, "More ice on the way", fmt.Sprint(t.Every), func(v string) {
					t.Every, _ = strconv.Atoi(v)
					if t.Every > 0 && t.More == 0 {
						t.More = t.Ice
					}
				}, ui.Line("0", "none on the way"), ui.Line("1", "every day"), ui.Line("2", "every 2nd day"), ui.Line("3", "every 3rd day"))
			}),
			ui.Only(iced && t.Every > 0, func() app.UI { return p.weight("Ice each time", &t.More) }),
			ui.Only(iced, func() app.UI {
				return ui.Menu(p.turn, "It stands", t.CoolerStand, func(v string) { t.CoolerStand = v }, stands...)
			}),
		),
		ui.Only(iced, func() app.UI {
			return ui.Fold("", "How long its ice lasted before", ui.El("div", "grid",
				p.weight("This much ice", &t.SeenIce),
				ui.Field("lasted this many days", ui.Input("number", formatHalves(t.SeenHalf), "").Attr("min", 0).Attr("max", 30).Attr("step", 0.5).
					On("change", func(ctx app.Context, _ app.Event) {
						d, _ := strconv.ParseFloat(ui.Typed(ctx), 64)
						t.SeenHalf = int(2 * d)
						if t.SeenAir == 0 {
							t.SeenAir = (w.Night + w.Day) / 2
						}
					}, app.EventScope(p.turn))),
				p.degree("at this average of day and night", &t.SeenAir),
			), ui.Txt("p", "hint", "Without this we have to guess how well the cooler holds, and we count the worst case."))
		}),
		ui.Fold("", "Limits and jars that must come", ui.El("div", "grid",
			p.weight("Jars weigh at most, 0 for no limit", &t.Grams),
			p.volume("Room for the jars, 0 for no limit", &t.Space),
		), ui.Txt("p", "hint", "Single jars are asked for, or left at home, on the plan itself.")),
		ui.Faults(p.errors),
		ui.El("p", "row",
			ui.Elem("button", "button big").Attr("type", "submit").Text(ui.Local("Work it out")),
			ui.Action("button plain", "Cancel", func() {
				p.edit = nil
				p.moveOn()
			}, "cancel"),
			ui.Only(p.House.Shelf.Trips[t.ID] != nil, func() app.UI {
				return p.House.DeleteButton(p.ctx, "Delete this trip", t.ID, func() record.Record { return p.House.Shelf.Trips[t.ID] }, func() {
					p.edit, p.trip = nil, nil
					p.moveOn()
				})
			}),
		),
	)
}

func formatHalves(n int) string { return strconv.FormatFloat(float64(n)/2, 'f', -1, 64) }

// days keeps one weather for each day, when each has its own.
func (p *Page) days() {
	t := p.edit
	if len(t.Weather) == 1 {
		return
	}
	for len(t.Weather) < t.Days {
		t.Weather = append(t.Weather, t.Weather[len(t.Weather)-1])
	}
	t.Weather = t.Weather[:t.Days]
}

// weather asks for one day that applies to all, or for each day.
func (p *Page) weather() app.UI {
	t := p.edit
	each1 := len(t.Weather) > 1
	return ui.El("div", "",
		ui.El("div", "grid", ui.Each(2*len(t.Weather), func(i int) app.UI {
			w := &t.Weather[i/2]
			day := prose.Text("")
			if each1 {
				day = ui.Say("Day %d, ", i/2+1)
			}
			if i%2 == 0 {
				return p.degree(prose.Upper(ui.Say("%scoldest at night", day)), &w.Night)
			}
			return p.degree(prose.Upper(ui.Say("%shottest by day", day)), &w.Day)
		})...),
		ui.Only(t.Days > 1, func() app.UI {
			return ui.Tick(p.turn, "Each day has its own", each1, func(on bool) {
				w := t.Weather[0]
				t.Weather = []record.Weather{w}
				if on {
					for len(t.Weather) < t.Days {
						t.Weather = append(t.Weather, w)
					}
				}
			})
		}),
		ui.Txt("p", "hint", "We add 3 °C (5 °F) of doubt on both sides."),
	)
}

// altitudeThere asks for the altitude of the camp, to boil food there.
func altitudeThere(t *record.Trip, turn int) app.UI {
	choices := []ui.Choice{ui.Line("0", "not known")}
	for _, feet := range process.Bands {
		choices = append(choices, ui.Line(fmt.Sprint(int(feet)), parts.BandWords(feet)))
	}
	return ui.Menu(turn, "Altitude there", fmt.Sprint(t.Feet), func(v string) { t.Feet, _ = strconv.Atoi(v) }, choices...)
}

// onSubmit works out the trip, if the form makes sense.
func (p *Page) onSubmit(_ app.Context, e app.Event) {
	e.PreventDefault()
	if len(p.errors) > 0 {
		return
	}
	t := p.edit
	if t.Every == 0 {
		t.More = 0
	}
	if t.SeenIce == 0 || t.SeenHalf == 0 {
		t.SeenIce, t.SeenHalf, t.SeenAir = 0, 0, 0
	}
	for i := range t.Meals {
		t.Meals[i] = min(t.Meals[i], 2*t.Days)
	}
	p.keep(t, func() { p.open(t) })
}
