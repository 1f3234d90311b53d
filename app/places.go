package app

import (
	"fmt"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/rules"
)

// placesPage records the places, in the order in which they are walked, and how
// warm they are.
type placesPage struct {
	app.Compo
	house *household

	ctx    app.Context
	ready  bool
	edit   *record.Place
	errors []string
	said   string
	// A reading of today, as typed.
	low, high string
	turn      int
}

func (p *placesPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/places") {
		return
	}
	p.ctx = ctx
	p.turn++
	p.house.shelved(ctx, func(app.Context) { p.ready = true })
}

func (p *placesPage) turned() {
	p.turn++
	p.errors, p.said = nil, ""
	p.low, p.high = "", ""
	focus(p.ctx, "title")
}

// kindsOfPlace are what a place can be.
var kindsOfPlace = []string{record.Shelf, "shelf, cellar, pantry", record.Fridge, "refrigerator", record.Freezer, "freezer", record.Box, "box, trailer, cooler"}

func (p *placesPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("Places"), txt("p", "", "Opening what is kept on this device…"))
	}
	body := []app.UI{p.house.notices(), p.house.undoDelete(p.ctx), live("", only(p.said != "", func() app.UI { return txt("p", "notice", p.said) }))}
	if p.edit != nil {
		return frame("/shelf", append(body, p.form())...)
	}
	s := p.house.shelf
	places := s.PlaceOrder()
	return frame("/shelf", append(body,
		title("Places"),
		txt("p", "", "In the order in which you walk round. What is known of a place counts for every jar that stood there."),
		el("ul", "shelf", each(len(places), func(i int) app.UI { return p.row(places, i) })...),
		el("p", "row", action("button", "Add a place", func() {
			place, err := record.NewPlace("", time.Now())
			if err != nil {
				p.house.complain(plain(err))
				return
			}
			place.Order = len(places)
			p.edit = place
			p.turned()
		}, "add")),
		unitsMenu(p.house, p.ctx),
	)...)
}

// unitsMenu chooses the unit of temperature.
func unitsMenu(h *household, ctx app.Context) app.UI {
	return field("Temperatures in", elem("select", "").On("change", func(_ app.Context, e app.Event) {
		f := e.Get("target").Get("value").String() == "F"
		h.keepSettings(ctx, func(s *record.Settings) { s.Fahrenheit = f })
	}).Body(option("C", "°C", !h.settings.Fahrenheit), option("F", "°F", h.settings.Fahrenheit)))
}

// tenths reads a temperature in the household's unit into tenths of a degree
// Celsius. A half is rounded up: warmer is the stricter side.
func (h *household) tenths(text string) (int, bool) {
	n := whole(strings.TrimSpace(text), 10)
	if !n.Known {
		return 0, false
	}
	if !h.settings.Fahrenheit {
		return n.Low, true
	}
	// (F - 32) / 1.8 in tenths: 10 F is 180 steps of a tenth of a tenth.
	v := (n.Low - 320) * 5
	q := v / 9
	if v > 0 && v%9 != 0 {
		q++
	}
	return q, true
}

func (p *placesPage) row(places []*record.Place, i int) app.UI {
	place, s := places[i], p.house.shelf
	jars := 0
	for _, j := range s.Jars {
		if st := j.Standing(); st.Place == place.ID && st.Stage != record.IsGone {
			jars++
		}
	}
	return el("li", "row-jar",
		el("div", "",
			el("h2", "", anchor("", "/shelf", place.Name)),
			txt("p", "", count(jars, "jar", "jars")+" · "+p.airWords(place)),
			el("p", "row",
				named("button plain", "Change", say("Change: %s", place.Name), func() {
					copied := *place
					p.edit = &copied
					p.turned()
				}, place.ID),
				only(i > 0, func() app.UI {
					return named("button plain", "Up", say("Up, walk earlier: %s", place.Name), func() { p.swap(places, i, i-1) }, place.ID, i)
				}),
				only(i < len(places)-1, func() app.UI {
					return named("button plain", "Down", say("Down, walk later: %s", place.Name), func() { p.swap(places, i, i+1) }, place.ID, i)
				}),
			),
		),
	)
}

// airWords says what is known of a place's temperature.
func (p *placesPage) airWords(place *record.Place) string {
	a := place.Air
	if a == nil {
		return "temperature not known"
	}
	d := p.house.degrees
	switch a.How {
	case record.Steady:
		return say("%s to %s all year", d(a.Low), d(a.High))
	case record.Seasons:
		return say("winter %s to %s, summer %s to %s", d(a.Low), d(a.High), d(a.Summer[0]), d(a.Summer[1]))
	}
	low, high := 1000, -1000
	for _, r := range a.Days {
		low, high = min(low, r.Min), max(high, r.Max)
	}
	if len(a.Days) == 0 {
		return "no readings yet"
	}
	return say("%s of readings, %s to %s", count(len(a.Days), "day", "days"), d(low), d(high))
}

// swap changes the order of two places, and gives all of them a number.
func (p *placesPage) swap(places []*record.Place, i, j int) {
	now := time.Now()
	places[i], places[j] = places[j], places[i]
	var records []record.Record
	for n, place := range places {
		if place.Order != n {
			copied := *place
			copied.Order = n
			copied.Touch(now)
			records = append(records, &copied)
		}
	}
	p.house.commit(p.ctx, records...)
	p.turn++
	p.said = ""
}

// degree is a labelled field for a temperature.
func (p *placesPage) degree(label string, v *int) app.UI {
	unit := " (°C)"
	shown := decimal(*v, 10)
	if p.house.settings.Fahrenheit {
		unit = " (°F)"
		shown = fmt.Sprintf("%.0f", float64(*v)*0.18+32)
	}
	return field(say("%s%s", label, unit), input("text", shown, "").Attr("inputmode", "text").Attr("maxlength", 6).
		On("change", func(ctx app.Context, e app.Event) {
			if n, ok := p.house.tenths(typed(ctx)); ok {
				*v = n
				p.said = ""
			} else {
				p.said = say("%s: “%s” is not a temperature.", label, typed(ctx))
			}
		}, app.EventScope(label, p.turn)))
}

func (p *placesPage) form() app.UI {
	e := p.edit
	how := ""
	if e.Air != nil {
		how = e.Air.How
	}
	head := "New place"
	if e.Name != "" {
		head = e.Name
	}
	return elem("form", "card").On("submit", p.onSubmit).Body(
		title(head),
		el("div", "grid",
			field("Name", input("text", e.Name, "cellar, shelf 1").Attr("maxlength", record.MostName).On("change", func(ctx app.Context, ev app.Event) { e.Name = strings.TrimSpace(typed(ctx)) }, app.EventScope("name", p.turn))),
			menu(p.turn, "It is a", e.What, func(v string) { e.What = v }, kindsOfPlace...),
			signMenu(p.turn, rules.SignWet, e.Wet, func(v string) { e.Wet = v }),
			signMenu(p.turn, rules.SignPlace, e.Light, func(v string) { e.Light = v }),
			menu(p.turn, "Temperature", how, func(v string) { p.setAir(v) }, "", "not known", record.Steady, "about the same all year",
				record.Seasons, "winter and summer differ", record.Days, "I have readings of days, or a logger"),
		),
		p.airFields(),
		live("", only(len(p.errors) > 0, func() app.UI { return el("ul", "notice", texts(p.errors)...) })),
		el("p", "row",
			elem("button", "button big").Attr("type", "submit").Text(local("Save the place")),
			action("button plain", "Cancel", func() {
				p.edit = nil
				p.turned()
			}, "cancel"),
			only(p.house.shelf.Places[e.ID] != nil, func() app.UI {
				return action("quiet", "Delete this place", func() {
					place := p.house.shelf.Places[e.ID]
					place.Delete(time.Now())
					p.house.keep(p.ctx, func() {
						p.house.deleted = []record.Record{place}
						p.edit = nil
						p.turned()
					}, place)
				}, e.ID)
			}),
		),
	)
}

// setAir begins another way of knowing the temperature, with sensible figures
// to be corrected.
func (p *placesPage) setAir(how string) {
	switch how {
	case "":
		p.edit.Air = nil
	case record.Steady:
		p.edit.Air = &record.Air{How: how, Low: 120, High: 200}
	case record.Seasons:
		p.edit.Air = &record.Air{How: how, Low: 80, High: 120, Summer: [2]int{180, 220}, Swing: 20}
	case record.Days:
		p.edit.Air = &record.Air{How: how}
	}
}

func (p *placesPage) airFields() app.UI {
	a := p.edit.Air
	if a == nil {
		return nil
	}
	switch a.How {
	case record.Steady:
		return el("div", "grid", p.degree("Coldest", &a.Low), p.degree("Warmest", &a.High))
	case record.Seasons:
		return el("div", "",
			el("div", "grid",
				p.degree("Winter, at least", &a.Low), p.degree("Winter, at most", &a.High),
				p.degree("Summer, at least", &a.Summer[0]), p.degree("Summer, at most", &a.Summer[1]),
				p.swing(a),
			),
			tick(p.turn, "South of the equator", a.South, func(on bool) { a.South = on }),
			txt("p", "hint", "The averages of a winter and a summer day; between them the year is taken as a smooth wave. Derived, not measured: readings are better."),
		)
	}
	return el("div", "",
		txt("p", "", p.airWords(p.edit)),
		el("div", "grid",
			field("Lowest today", input("text", p.low, "").Attr("maxlength", 6).On("input", func(ctx app.Context, e app.Event) { p.low = typed(ctx) }, app.EventScope("low", p.turn))),
			field("Highest today", input("text", p.high, "").Attr("maxlength", 6).On("input", func(ctx app.Context, e app.Event) { p.high = typed(ctx) }, app.EventScope("high", p.turn))),
		),
		el("p", "row",
			action("button plain", "Take today's reading", p.takeReading, p.edit.ID, "today"),
			action("button plain", "Take a logger's file (CSV)", p.takeLog, p.edit.ID, "log"),
		),
	)
}

// swing is what a day goes up and down by: a difference, in the household's unit. A part
// of a tenth of a degree Celsius is rounded up, which is the stricter side.
func (p *placesPage) swing(a *record.Air) app.UI {
	label, shown := "A day goes up and down by, at most (°C)", decimal(a.Swing, 10)
	if p.house.settings.Fahrenheit {
		label, shown = "A day goes up and down by, at most (°F)", fmt.Sprintf("%.0f", float64(a.Swing)*0.18)
	}
	return field(label, input("text", shown, "").Attr("inputmode", "decimal").
		On("change", func(ctx app.Context, e app.Event) {
			n := whole(typed(ctx), 10)
			switch {
			case !n.Known:
				p.said = say("%s: “%s” is not a temperature.", local(label), typed(ctx))
				return
			case p.house.settings.Fahrenheit:
				n.Low = (n.Low*5 + 8) / 9
			}
			a.Swing, p.said = n.Low, ""
		}, app.EventScope("swing", p.turn)))
}

func (p *placesPage) takeReading() {
	low, okLow := p.house.tenths(p.low)
	high, okHigh := p.house.tenths(p.high)
	if !okLow || !okHigh || high < low {
		p.errors = []string{"A reading is two temperatures, the lower first."}
		return
	}
	p.errors = nil
	p.edit.Air.Record(record.DayReading{Day: record.DayOf(time.Now()), Min: low, Max: high})
	p.said = "Taken. It counts once the place is saved."
	p.low, p.high = "", ""
	p.turn++
}

// takeLog reads a logger's file.
func (p *placesPage) takeLog() {
	promised(p.ctx, device().Call("choose", ".csv,text/csv,text/plain", 32<<20), func(v app.Value) {
		if !v.Truthy() {
			return
		}
		readings, err := tables.ReadLog([]byte(v.Index(1).String()))
		if err != nil {
			p.errors = strings.Split(plain(err), "\n")
			return
		}
		p.errors = nil
		air := *p.edit.Air
		air.Days = append([]record.DayReading(nil), air.Days...)
		air.Record(readings...)
		p.edit.Air = &air
		p.said = say("%s read from %s. They count once the place is saved.", count(len(readings), "day", "days"), v.Index(0).String())
	}, func(text string) { p.errors = []string{upperFirst(text) + "."} })
}

func (p *placesPage) onSubmit(ctx app.Context, e app.Event) {
	e.PreventDefault()
	if p.house.shelf.Places[p.edit.ID] != nil {
		p.edit.Touch(time.Now())
	}
	if err := p.edit.Validate(); err != nil {
		p.errors = strings.Split(plain(err), "\n")
		return
	}
	place := p.edit
	p.house.keep(p.ctx, func() {
		p.edit = nil
		p.turned()
		p.said = say("Saved: %s.", place.Name)
	}, place)
}
