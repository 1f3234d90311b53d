package shelf

import (
	"fmt"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// PlacesPage records the places, in the order in which they are walked, and how
// warm they are.
type PlacesPage struct {
	app.Compo
	House *house.House

	ctx    app.Context
	ready  bool
	edit   *record.Place
	errors []prose.Text
	said   prose.Text
	// A reading of today, as typed.
	low, high string
	turn      int
}

func (p *PlacesPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/places") {
		return
	}
	p.ctx = ctx
	p.turn++
	p.House.WithShelf(ctx, func(app.Context) { p.ready = true })
}

func (p *PlacesPage) moveOn() {
	p.turn++
	p.errors, p.said = nil, ""
	p.low, p.high = "", ""
	ui.Focus(p.ctx, "title")
}

// kindsOfPlace are the kinds of places.
var kindsOfPlace = []ui.Choice{ui.Line(record.Shelf, "shelf, cellar, pantry"), ui.Line(record.Fridge, "refrigerator"), ui.Line(record.Freezer, "freezer"), ui.Line(record.Box, "box, trailer, cooler")}

func (p *PlacesPage) Render() app.UI {
	if !p.ready {
		return ui.Frame("/shelf", ui.Title("Places"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	body := []app.UI{p.House.Notices(), p.House.UndoDelete(), ui.Live("", ui.Only(p.said != "", func() app.UI { return ui.Txt("p", "notice", p.said) }))}
	if p.edit != nil {
		return ui.Frame("/shelf", append(body, p.form())...)
	}
	s := p.House.Shelf
	places := s.PlaceOrder()
	return ui.Frame("/shelf", append(body,
		ui.Title("Places"),
		ui.Txt("p", "", "In the order you walk past them. What you say of a place counts for every jar that stood there."),
		ui.El("ul", "shelf", ui.Each(len(places), func(i int) app.UI { return p.row(places, i) })...),
		ui.El("p", "row", ui.Action("button", "Add a place", func() {
			place, err := record.NewPlace("", time.Now())
			if err != nil {
				p.House.Complain(ui.Plain(err))
				return
			}
			place.Order = len(places)
			p.edit = place
			p.moveOn()
		}, "add")),
		unitsMenu(p.House, p.ctx),
	)...)
}

// unitsMenu chooses the unit of temperature.
func unitsMenu(h *house.House, ctx app.Context) app.UI {
	return ui.Field("Temperatures in", ui.Elem("select", "").On("change", func(_ app.Context, e app.Event) {
		f := e.Get("target").Get("value").String() == "F"
		h.KeepSettings(func(s *record.Settings) { s.Fahrenheit = f })
	}).Body(ui.Option("C", "°C", !h.Settings.Fahrenheit), ui.Option("F", "°F", h.Settings.Fahrenheit)))
}

func (p *PlacesPage) row(places []*record.Place, i int) app.UI {
	place, s := places[i], p.House.Shelf
	jars := 0
	for _, j := range s.Jars {
		if st := j.Standing(); st.Place == place.ID && st.Stage != record.IsGone {
			jars++
		}
	}
	return ui.El("li", "row-jar",
		ui.El("div", "",
			ui.El("h2", "", ui.Anchor("", "/shelf", prose.Own(place.Name))),
			ui.Txt("p", "", ui.Say("%s · %s", ui.Count(jars, "jar", "jars"), p.airWords(place))),
			p.aside(place),
			ui.El("p", "row",
				ui.Named("button plain", "Change", ui.Say("Change: %s", place.Name), func() {
					copied := *place
					p.edit = &copied
					p.moveOn()
				}, place.ID),
				ui.Only(i > 0, func() app.UI {
					return ui.Named("button plain", "Up", ui.Say("Up, walk earlier: %s", place.Name), func() { p.swap(places, i, i-1) }, place.ID, i)
				}),
				ui.Only(i < len(places)-1, func() app.UI {
					return ui.Named("button plain", "Down", ui.Say("Down, walk later: %s", place.Name), func() { p.swap(places, i, i+1) }, place.ID, i)
				}),
			),
		),
	)
}

// aside shows what another device wrote about the same place.
func (p *PlacesPage) aside(place *record.Place) app.UI {
	return parts.Apart(p.House, place, "Two devices changed this place apart from each other. Until you choose, go by the stricter one. The other says:",
		func(other *record.Place) app.UI {
			words := []prose.Text{prose.Own(other.Name), p.airWords(other)}
			if v, ok := rules.SignWet.ValueByID(other.Wet); ok {
				words = append(words, v.Info().Label)
			}
			if v, ok := rules.SignPlace.ValueByID(other.Light); ok {
				words = append(words, v.Info().Label)
			}
			return ui.Txt("p", "", prose.List(words, " · "))
		}, p.moveOn)
}

// airWords says what is known about a place's temperature.
func (p *PlacesPage) airWords(place *record.Place) prose.Text {
	a := place.Air
	if a == nil {
		return "temperature not known"
	}
	d := p.House.Degrees
	switch a.How {
	case record.Steady:
		return ui.Say("%s to %s all year", d(a.Low), d(a.High))
	case record.Seasons:
		return ui.Say("winter %s to %s, summer %s to %s", d(a.Low), d(a.High), d(a.Summer[0]), d(a.Summer[1]))
	}
	low, high := 1000, -1000
	for _, r := range a.Days {
		low, high = min(low, r.Min), max(high, r.Max)
	}
	if len(a.Days) == 0 {
		return "no readings yet"
	}
	return ui.Say("%s of readings, %s to %s", ui.Count(len(a.Days), "day", "days"), d(low), d(high))
}

// swap exchanges the order of two places, and numbers all of them.
func (p *PlacesPage) swap(places []*record.Place, i, j int) {
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
	p.House.Commit(records...)
	p.turn++
	p.said = ""
}

// degree is a labeled field for a temperature.
func (p *PlacesPage) degree(label prose.Text, v *int) app.UI {
	return p.House.DegreeField(label, v, p.turn, func(wrong prose.Text) { p.said = wrong })
}

func (p *PlacesPage) form() app.UI {
	e := p.edit
	how := ""
	if e.Air != nil {
		how = e.Air.How
	}
	head := prose.Text("New place")
	if e.Name != "" {
		head = prose.Own(e.Name)
	}
	return ui.Elem("form", "card").On("submit", p.onSubmit).Body(
		ui.Title(head),
		ui.El("div", "grid",
			ui.Field("Name", ui.Input("text", e.Name, "cellar, shelf 1").Attr("maxlength", record.MostName).On("change", func(ctx app.Context, ev app.Event) { e.Name = strings.TrimSpace(ui.Typed(ctx)) }, app.EventScope("name", p.turn))),
			ui.Menu(p.turn, "It is a", e.What, func(v string) { e.What = v }, kindsOfPlace...),
			parts.SignMenu(p.turn, rules.SignWet, e.Wet, func(v string) { e.Wet = v }),
			parts.SignMenu(p.turn, rules.SignPlace, e.Light, func(v string) { e.Light = v }),
			ui.Menu(p.turn, "Temperature", how, func(v string) { p.setAir(v) }, ui.Line("", "not known"), ui.Line(record.Steady, "about the same all year"),
				ui.Line(record.Seasons, "winter and summer differ"), ui.Line(record.Days, "I have daily readings, or a logger")),
		),
		p.airFields(),
		ui.Faults(p.errors),
		ui.El("p", "row",
			ui.Elem("button", "button big").Attr("type", "submit").Text(ui.Local("Save the place")),
			ui.Action("button plain", "Cancel", func() {
				p.edit = nil
				p.moveOn()
			}, "cancel"),
			ui.Only(p.House.Shelf.Places[e.ID] != nil, func() app.UI {
				return p.House.DeleteButton(p.ctx, "Delete this place", e.ID, func() record.Record { return p.House.Shelf.Places[e.ID] }, func() {
					p.edit = nil
					p.moveOn()
				})
			}),
		),
	)
}

// setAir switches to another way of knowing the temperature, with sensible
// figures to be corrected.
func (p *PlacesPage) setAir(how string) {
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

func (p *PlacesPage) airFields() app.UI {
	a := p.edit.Air
	if a == nil {
		return nil
	}
	switch a.How {
	case record.Steady:
		return ui.El("div", "grid", p.degree("Coldest", &a.Low), p.degree("Warmest", &a.High))
	case record.Seasons:
		return ui.El("div", "",
			ui.El("div", "grid",
				p.degree("Winter, at least", &a.Low), p.degree("Winter, at most", &a.High),
				p.degree("Summer, at least", &a.Summer[0]), p.degree("Summer, at most", &a.Summer[1]),
				p.dailySwing(a),
			),
			ui.Tick(p.turn, "South of the equator", a.South, func(on bool) { a.South = on }),
			ui.Txt("p", "hint", "The averages of a winter day and of a summer day. Between them the year is drawn as a smooth wave. It is an estimate: readings are better."),
		)
	}
	return ui.El("div", "",
		ui.Txt("p", "", p.airWords(p.edit)),
		ui.El("div", "grid",
			ui.Field("Lowest today", ui.Input("text", p.low, "").Attr("maxlength", 6).On("input", func(ctx app.Context, e app.Event) { p.low = ui.Typed(ctx) }, app.EventScope("low", p.turn))),
			ui.Field("Highest today", ui.Input("text", p.high, "").Attr("maxlength", 6).On("input", func(ctx app.Context, e app.Event) { p.high = ui.Typed(ctx) }, app.EventScope("high", p.turn))),
		),
		ui.El("p", "row",
			ui.Action("button plain", "Add today's reading", p.takeReading, p.edit.ID, "today"),
			ui.Action("button plain", "Read a logger's file (CSV)", p.takeLog, p.edit.ID, "log"),
		),
	)
}

// dailySwing is how much a day goes up and down: a difference, in the household's unit. A
// part of a tenth of a degree Celsius is rounded up, which is the stricter side.
func (p *PlacesPage) dailySwing(a *record.Air) app.UI {
	label, shown := prose.Text("From day to night it swings by at most (°C)"), ui.Decimal(a.Swing, 10)
	if p.House.Settings.Fahrenheit {
		label, shown = "From day to night it swings by at most (°F)", fmt.Sprintf("%.0f", float64(a.Swing)*0.18)
	}
	return ui.Field(label, ui.Input("text", shown, "").Attr("inputmode", "decimal").
		On("change", func(ctx app.Context, e app.Event) {
			n := house.Whole(ui.Typed(ctx), 10)
			switch {
			case !n.Known:
				p.said = ui.Say("%s: “%s” is not a temperature.", ui.Local(label), ui.Typed(ctx))
				return
			case p.House.Settings.Fahrenheit:
				n.Low = record.StepsOfFahrenheit(n.Low)
			}
			a.Swing, p.said = n.Low, ""
		}, app.EventScope("swing", p.turn)))
}

func (p *PlacesPage) takeReading() {
	low, okLow := p.House.Tenths(p.low)
	high, okHigh := p.House.Tenths(p.high)
	if !okLow || !okHigh || high < low {
		p.errors = []prose.Text{"Type two temperatures, the lower one first."}
		return
	}
	p.errors = nil
	p.edit.Air.Record(record.DayReading{Day: record.DayOf(time.Now()), Min: low, Max: high})
	p.said = "Added. It counts once the place is saved."
	p.low, p.high = "", ""
	p.turn++
}

// takeLog reads a logger's file.
func (p *PlacesPage) takeLog() {
	ui.OnPromise(p.ctx, ui.Device().Call("choose", ".csv,text/csv,text/plain", 32<<20), func(v app.Value) {
		if !v.Truthy() {
			return
		}
		readings, err := tables.ReadLog([]byte(v.Index(1).String()))
		if err != nil {
			p.errors = ui.EachFault(err)
			return
		}
		p.errors = nil
		air := *p.edit.Air
		air.Days = append([]record.DayReading(nil), air.Days...)
		air.Record(readings...)
		p.edit.Air = &air
		p.said = ui.Say("%s read from %s. They count once the place is saved.", ui.Count(len(readings), "day", "days"), v.Index(0).String())
	}, func(text string) { p.errors = []prose.Text{prose.Upper(ui.Say("%s.", text))} })
}

func (p *PlacesPage) onSubmit(ctx app.Context, e app.Event) {
	e.PreventDefault()
	if p.House.Shelf.Places[p.edit.ID] != nil {
		p.edit.Touch(time.Now())
	}
	if err := p.edit.Validate(); err != nil {
		p.errors = ui.EachFault(err)
		return
	}
	place := p.edit
	p.House.Keep(p.ctx, func() {
		p.edit = nil
		p.moveOn()
		p.said = ui.Say("Saved: %s.", place.Name)
	}, place)
}
