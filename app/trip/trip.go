package trip

import (
	"cmp"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/travel"
	"larderlamp/app/ui"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// Page plans which jars travel, shows the plan, and brings the jars home again.
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
	fault   prose.Text
	said    prose.Text
	errors  []prose.Text
	coming  map[string]string // what happened to each jar, by id
	reading *int              // the warmest reading on the way, in tenths of a degree
	turn    int
}

func (p *Page) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/trip") {
		return
	}
	*p = Page{Compo: p.Compo, House: p.House, ctx: ctx, ready: p.ready, turn: p.turn + 1}
	p.House.Screen = p
	id := ctx.Page().URL().Query().Get("id")
	p.House.WithShelf(ctx, func(app.Context) {
		p.ready = true
		if t := p.House.Shelf.Trips[id]; t != nil {
			p.open(t)
		}
	})
}

// Renew implements screen: the trip that is shown is planned again with the jars
// as they are now. A form that is open stays as it is.
func (p *Page) Renew(ctx app.Context, done func(app.Context)) {
	if p.trip != nil {
		t := p.House.Shelf.Trips[p.trip.ID]
		if t == nil {
			p.trip, p.coming = nil, nil
			p.moveOn()
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
	p.moveOn()
}

// show opens a trip and works it out.
func (p *Page) show(t *record.Trip) {
	copied := *t
	p.trip, p.edit, p.coming, p.what = &copied, nil, nil, travel.WhatIf{}
	ui.MarkTime("choosing")
	p.planner = travel.NewPlanner(p.House.Shelf.Pantry, p.trip, time.Now())
	p.plan()
	p.base = p.journey
}

// plan works out the trip as it is now.
func (p *Page) plan() {
	ui.MarkTime("planning")
	j, err := p.planner.Plan(p.what)
	ui.MarkTime("planned")
	p.fault = ""
	if err != nil {
		p.fault = prose.Upper(ui.Plain(err))
		return
	}
	p.journey = j
}

// moveOn records that another part of the page is shown.
func (p *Page) moveOn() {
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
	slices.SortStableFunc(trips, func(a, b *record.Trip) int { return cmp.Compare(b.From, a.From) })
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
				p.moveOn()
			}))
		}),
		ui.El("ul", "shelf", ui.Each(len(trips), func(i int) app.UI {
			t := trips[i]
			return ui.El("li", "row-jar", ui.El("div", "",
				ui.El("h2", "", ui.Action("quiet", parts.TripName(t), func() { p.open(t) }, t.ID)),
				ui.Txt("p", "", ui.Say("%s, %s, %s · %s", ui.DayWords(t.From), ui.Count(t.Days, "day", "days"), ui.Count(t.People, "person", "people"), standing(t))),
			))
		})...),
	}
}

// standing says at what stage a trip is.
func standing(t *record.Trip) prose.Text {
	switch {
	case t.Home != nil:
		return "home again"
	case len(t.Packed) > 0:
		return ui.Say("%s packed", ui.Count(len(t.Packed), "jar", "jars"))
	}
	return "being planned"
}

// The choices of the form.
var (
	rides    = []ui.Choice{ui.Line(record.InCabin, "in the cabin, with us"), ui.Line(record.InCar, "in the trunk of a car"), ui.Line(record.InTrailer, "in a closed trailer")}
	stands   = []ui.Choice{ui.Line(record.InShade, "in the shade, aired"), ui.Line(record.InTrailer, "in a closed trailer in the sun"), ui.Line(record.InCar, "in a closed car in the sun"), ui.Line(record.InSun, "in the open sun")}
	coolers  = []ui.Choice{ui.Line(record.NoCooler, "none"), ui.Line(record.SoftCooler, "a soft bag with ice"), ui.Line(record.HardCooler, "a hard box with ice"), ui.Line(record.ThickCooler, "a box with thick walls, with ice"), ui.Line(record.FridgeOnBus, "a refrigerator that holds 4 °C (40 °F)")}
	appetite = []ui.Choice{ui.Line("75", "small"), ui.Line("100", "usual"), ui.Line("150", "hearty")}
)

// keep saves the trip and continues once it is on the device.
func (p *Page) keep(t *record.Trip, done func()) {
	t.Touch(time.Now())
	if err := t.Validate(); err != nil {
		p.errors = ui.EachFault(err)
		return
	}
	p.House.Keep(p.ctx, done, t)
}

// boilMinutes says how long to boil low-acid food there.
func boilMinutes(t *record.Trip) prose.Text {
	if t.Feet == 0 {
		return "10 minutes, and 1 minute more for each 1,000 ft (305 m) of altitude"
	}
	return ui.Say("%d minutes", process.BoilMinutes(process.Feet(t.Feet)))
}
