package trip

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/travel"
	"larderlamp/app/ui"
	"larderlamp/rules/order"
	"larderlamp/rules/process"
)

// Page plans which jars travel, shows the plan, and takes them home again.
type Page struct {
	app.Compo
	House *house.House

	ctx     app.Context
	ready   bool
	edit    *record.Trip // being asked about
	trip    *record.Trip // being shown
	planner *travel.Planner
	what    travel.WhatIf
	journey *travel.Journey
	base    *travel.Journey // without any what-if
	fault   string
	said    string
	errors  []string
	coming  map[string]string // what became of each jar, by id
	reading *int              // the warmest that was read on the way, in tenths of a degree
	turn    int
}

func (p *Page) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/trip") {
		return
	}
	*p = Page{Compo: p.Compo, House: p.House, ctx: ctx, ready: p.ready, turn: p.turn + 1}
	p.House.Screen = p
	id := ctx.Page().URL().Query().Get("id")
	p.House.Shelved(ctx, func(app.Context) {
		p.ready = true
		if t := p.House.Shelf.Trips[id]; t != nil {
			p.open(t)
		}
	})
}

// Renew implements screen: the trip that is shown is planned again with the jars
// as they are now. One that is being asked about stays as it is.
func (p *Page) Renew(ctx app.Context, done func(app.Context)) {
	if p.trip != nil {
		t := p.House.Shelf.Trips[p.trip.ID]
		if t == nil {
			p.trip, p.coming = nil, nil
			p.turned()
			done(ctx)
			return
		}
		edit, coming, what := p.edit, p.coming, p.what
		p.show(t)
		p.edit, p.coming, p.what = edit, coming, what
		if p.planner != nil && what != (travel.WhatIf{}) {
			p.plan()
		}
		p.turn++
	}
	done(ctx)
}

// open goes to a trip.
func (p *Page) open(t *record.Trip) {
	p.show(t)
	p.turned()
}

// show takes up a trip and works it out.
func (p *Page) show(t *record.Trip) {
	copied := *t
	p.trip, p.edit, p.coming, p.what = &copied, nil, nil, travel.WhatIf{}
	ui.Measured("choosing")
	p.planner = travel.NewPlanner(p.House.Shelf.Pantry, p.trip, time.Now())
	p.plan()
	p.base = p.journey
}

// plan works the trip out as it stands.
func (p *Page) plan() {
	ui.Measured("planning")
	j, err := p.planner.Plan(p.what)
	ui.Measured("planned")
	p.fault = ""
	if err != nil {
		p.fault = ui.UpperFirst(ui.Plain(err)) + "."
		return
	}
	p.journey = j
}

// turned marks that another part of the page is shown.
func (p *Page) turned() {
	p.turn++
	p.errors, p.said = nil, ""
	ui.Focus(p.ctx, "title")
}

func (p *Page) Render() app.UI {
	if !p.ready {
		return ui.Frame("/trip", ui.Title("What travels"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	body := []app.UI{ui.El("div", "noprint", p.House.Notices(), p.House.UndoDelete(),
		ui.Live("", ui.Only(p.said != "", func() app.UI { return ui.Txt("p", "notice", p.said) })))}
	switch {
	case p.edit != nil:
		body = append(body, p.form())
	case p.coming != nil:
		body = append(body, p.home())
	case p.trip != nil:
		body = append(body, p.shown()...)
	default:
		body = append(body, p.list()...)
	}
	return ui.Frame("/trip", body...)
}

// list shows the trips, the latest first.
func (p *Page) list() []app.UI {
	s := p.House.Shelf
	var trips []*record.Trip
	for _, t := range s.Trips {
		trips = append(trips, t)
	}
	order.By(trips, func(a, b **record.Trip) bool { return (*a).From > (*b).From })
	return []app.UI{
		ui.Title("What travels"),
		ui.Txt("p", "lead", "For a trip with a small cooler, or none. Which jars go, what to open on which day, and what stays home. And what to do when the ice is gone."),
		ui.Only(len(s.Jars) == 0, func() app.UI {
			return ui.El("div", "", ui.Txt("p", "", "There are no jars yet."), ui.El("p", "row", ui.Anchor("button", "/batch", "Add a batch")))
		}),
		ui.Only(len(s.Jars) > 0, func() app.UI {
			return ui.El("p", "row", ui.Action("button big", "Plan a trip", func() {
				t, err := record.NewTrip(record.DayOf(time.Now().AddDate(0, 0, 1)), time.Now())
				if err != nil {
					p.House.Complain(ui.Plain(err))
					return
				}
				t.Feet = p.House.AltitudeFeet()
				p.edit = t
				p.turned()
			}))
		}),
		ui.El("ul", "shelf", ui.Each(len(trips), func(i int) app.UI {
			t := trips[i]
			return ui.El("li", "row-jar", ui.El("div", "",
				ui.El("h2", "", ui.Action("quiet", parts.TripName(t), func() { p.open(t) }, t.ID)),
				ui.Txt("p", "", ui.DayWords(t.From)+", "+ui.Count(t.Days, "day", "days")+", "+ui.Count(t.People, "person", "people")+" · "+standing(t)),
			))
		})...),
	}
}

// standing says how far a trip has come.
func standing(t *record.Trip) string {
	switch {
	case t.Home != nil:
		return "home again"
	case len(t.Packed) > 0:
		return ui.Say("%s packed", ui.Count(len(t.Packed), "jar", "jars"))
	}
	return "being planned"
}

// The choices of the form: values and their texts in turn.
var (
	rides    = []string{record.InCabin, "in the cabin, with us", record.InCar, "in the trunk of a car", record.InTrailer, "in a closed trailer"}
	stands   = []string{record.InShade, "in the shade, aired", record.InTrailer, "in a closed trailer in the sun", record.InCar, "in a closed car in the sun", record.InSun, "in the open sun"}
	coolers  = []string{record.NoCooler, "none", record.SoftCooler, "a soft bag with ice", record.HardCooler, "a hard box with ice", record.ThickCooler, "a box with thick walls, with ice", record.FridgeOnBus, "a refrigerator that holds 4 °C (40 °F)"}
	appetite = []string{"75", "small", "100", "usual", "150", "hearty"}
)

// form asks for the trip. Everything has a sensible answer already.
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
				}, "0", "none on the way", "1", "every day", "2", "every 2nd day", "3", "every 3rd day")
			}),
			ui.Only(iced && t.Every > 0, func() app.UI { return p.weight("Ice each time", &t.More) }),
			ui.Only(iced, func() app.UI {
				return ui.Menu(p.turn, "It stands", t.CoolerStand, func(v string) { t.CoolerStand = v }, stands...)
			}),
		),
		ui.Only(iced, func() app.UI {
			return ui.Fold("", "How long its ice lasted before", ui.El("div", "grid",
				p.weight("This much ice", &t.SeenIce),
				ui.Field("lasted this many days", ui.Input("number", halves(t.SeenHalf), "").Attr("min", 0).Attr("max", 30).Attr("step", 0.5).
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
		ui.Live("", ui.Only(len(p.errors) > 0, func() app.UI { return ui.El("ul", "notice", ui.Texts(p.errors)...) })),
		ui.El("p", "row",
			ui.Elem("button", "button big").Attr("type", "submit").Text(ui.Local("Work it out")),
			ui.Action("button plain", "Cancel", func() {
				p.edit = nil
				p.turned()
			}, "cancel"),
			ui.Only(p.House.Shelf.Trips[t.ID] != nil, func() app.UI {
				return ui.Action("quiet", "Delete this trip", func() {
					t := p.House.Shelf.Trips[t.ID]
					t.Delete(time.Now())
					p.House.Keep(p.ctx, func() {
						p.House.Deleted = []record.Record{t}
						p.edit, p.trip = nil, nil
						p.turned()
					}, t)
				}, t.ID)
			}),
		),
	)
}

func halves(n int) string { return strconv.FormatFloat(float64(n)/2, 'f', -1, 64) }

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

// weather asks for one day that stands for all, or for each.
func (p *Page) weather() app.UI {
	t := p.edit
	each1 := len(t.Weather) > 1
	return ui.El("div", "",
		ui.El("div", "grid", ui.Each(2*len(t.Weather), func(i int) app.UI {
			w := &t.Weather[i/2]
			day := ""
			if each1 {
				day = ui.Say("Day %d, ", i/2+1)
			}
			if i%2 == 0 {
				return p.degree(ui.UpperFirst(ui.Say("%scoldest at night", day)), &w.Night)
			}
			return p.degree(ui.UpperFirst(ui.Say("%shottest by day", day)), &w.Day)
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

// altitudeThere asks for the altitude of the camp, for the boiling.
func altitudeThere(t *record.Trip, turn int) app.UI {
	choices := []string{"0", "not known"}
	for i, feet := range parts.Altitudes {
		choices = append(choices, fmt.Sprint(feet), ui.Say("below %d,000 ft (%d m)", i+1, (i+1)*3048/10))
	}
	return ui.Menu(turn, "Altitude there", fmt.Sprint(t.Feet), func(v string) { t.Feet, _ = strconv.Atoi(v) }, choices...)
}

// number is a labelled field for a whole number.
func (p *Page) number(label string, v *int, low, high int, then func()) app.UI {
	return ui.Field(label, ui.Input("number", fmt.Sprint(*v), "").Attr("min", low).Attr("max", high).Attr("inputmode", "numeric").
		On("change", func(ctx app.Context, _ app.Event) {
			n, err := strconv.Atoi(strings.TrimSpace(ui.Typed(ctx)))
			if err != nil || n < low || n > high {
				p.errors = []string{ui.Say("%s: “%s” is not a whole number from %d to %d.", label, ui.Typed(ctx), low, high)}
				return
			}
			p.errors = nil
			*v = n
			if then != nil {
				then()
			}
		}, app.EventScope(label, p.turn)))
}

// scaled is a labelled field for a number that is kept in a smaller unit.
func (p *Page) scaled(label string, v *int, unit float64) app.UI {
	shown := strconv.FormatFloat(float64(int(float64(*v)/unit*10+0.5))/10, 'f', -1, 64)
	return ui.Field(label, ui.Input("number", shown, "").Attr("min", 0).Attr("step", "any").Attr("inputmode", "decimal").
		On("change", func(ctx app.Context, _ app.Event) {
			n, err := strconv.ParseFloat(strings.Replace(ui.Typed(ctx), ",", ".", 1), 64)
			if err != nil || !(n >= 0 && n <= 1000) {
				p.errors = []string{ui.Say("%s: “%s” is not a number from 0 to 1000.", label, ui.Typed(ctx))}
				return
			}
			p.errors = nil
			*v = int(n*unit + 0.5)
		}, app.EventScope(label, p.turn)))
}

// weight is a labelled field for a weight, kept in grams.
func (p *Page) weight(label string, v *int) app.UI {
	if p.House.Settings.Fahrenheit {
		return p.scaled(ui.Say("%s (lb)", label), v, house.Pound)
	}
	return p.scaled(ui.Say("%s (kg)", label), v, 1000)
}

// volume is a labelled field for a volume, kept in milliliters.
func (p *Page) volume(label string, v *int) app.UI {
	if p.House.Settings.Fahrenheit {
		return p.scaled(ui.Say("%s (quarts)", label), v, record.Quart)
	}
	return p.scaled(ui.Say("%s (liters)", label), v, 1000)
}

// cooler is a labelled field for the size of a cooler, in whole liters or quarts. It is
// counted in liters; quarts are kept too, or 28 of them would come back as 27.
func (p *Page) cooler(label string) app.UI {
	t := p.edit
	if !p.House.Settings.Fahrenheit {
		return p.number(ui.Say("%s (liters)", label), &t.Litres, 3, 300, func() { t.Quarts = 0 })
	}
	quarts := t.InQuarts()
	return p.number(ui.Say("%s (quarts)", label), &quarts, 4, 317, func() { t.SetQuarts(quarts) })
}

// degree is a labelled field for a temperature, kept in tenths of a degree
// Celsius.
func (p *Page) degree(label string, v *int) app.UI {
	unit, shown := " (°C)", ui.Decimal(*v, 10)
	if p.House.Settings.Fahrenheit {
		unit, shown = " (°F)", fmt.Sprintf("%.0f", float64(*v)*0.18+32)
	}
	return ui.Field(ui.Say("%s%s", label, unit), ui.Input("text", shown, "").Attr("inputmode", "text").Attr("maxlength", 6).
		On("change", func(ctx app.Context, _ app.Event) {
			n, ok := p.House.Tenths(ui.Typed(ctx))
			if !ok {
				p.errors = []string{ui.Say("%s: “%s” is not a temperature.", label, ui.Typed(ctx))}
				return
			}
			p.errors = nil
			*v = n
		}, app.EventScope(label, p.turn)))
}

// onSubmit works the trip out, when it makes sense.
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

// keep keeps the trip and goes on once it is on the device.
func (p *Page) keep(t *record.Trip, done func()) {
	t.Touch(time.Now())
	if err := t.Validate(); err != nil {
		p.errors = strings.Split(ui.Plain(err), "\n")
		return
	}
	p.House.Keep(p.ctx, done, t)
}

// boilMinutes says how long to boil low-acid food there.
func boilMinutes(t *record.Trip) string {
	if t.Feet == 0 {
		return ui.Local("10 minutes, and 1 minute more for each 1,000 ft (305 m) of altitude")
	}
	return ui.Say("%d minutes", process.BoilMinutes(process.Feet(t.Feet)))
}
