package trip

import (
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/travel"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// shown is the plan of a trip: what it covers, what to do next, the plan, and what
// it is based on.
func (p *Page) shown() []app.UI {
	t, j := p.trip, p.journey
	head := []app.UI{ui.Title(parts.TripName(t)),
		ui.Txt("p", "", ui.Say("%s · %s · %s · %s", ui.DayWords(t.From), ui.Count(t.Days, "day", "days"), ui.Count(t.People, "person", "people"), standing(t)))}
	if j == nil {
		return append(head, ui.Txt("p", "notice", p.fault), p.tools())
	}
	days := ui.El("section", "card trip-days", append([]app.UI{ui.Txt("h2", "", "Day by day")}, p.daysShown()...)...)
	if len(t.Packed) > 0 {
		// What was packed stays the plan, whatever has happened to the jars.
		return append(head,
			ui.Live("", p.keptSummary()),
			ui.Only(t.Home == nil, func() app.UI {
				return ui.Once("p", "row noprint", ui.Action("button big", "We are home again", func() { p.comeHome() }, t.ID), p.prints())
			}),
			days, p.packingList(), p.cautions(),
			ui.Only(t.Home != nil, func() app.UI { return ui.El("p", "row noprint", p.prints()) }),
			p.tools())
	}
	return append(head,
		ui.Live("", p.summary()),
		ui.Only(p.fault != "", func() app.UI { return ui.Txt("p", "notice", p.fault) }),
		days, p.packingList(),
		p.sliders(),
		ui.El("section", "card noprint", ui.Txt("h2", "", "How warm it gets"),
			ui.El("div", "chart-box", app.Raw(p.chart())), ui.El("ul", "", ui.Texts(p.warmth())...)),
		p.cautions(),
		ui.El("div", "noprint", p.others()),
		ui.El("p", "row noprint", p.prints()),
		p.tools())
}

// nextStep is what the person does next: look at the jars that nobody has looked
// at, or pack.
func (p *Page) nextStep() app.UI {
	j := p.journey
	if j.Plan == nil || p.what != (travel.WhatIf{}) {
		return nil
	}
	switch looks := j.Looks(); {
	case len(looks) > 0:
		n := len(looks)
		words := prose.Agree(n, "Nobody has looked at one of them lately. Look before you pack: until then nobody may eat it.",
			"Nobody has looked at %d of them lately. Look before you pack: until then nobody may eat them.", n)
		look := prose.Agree(n, "Look at this jar", "Look at these %d jars", n)
		return ui.El("section", "notice noprint",
			ui.Txt("p", "", words),
			ui.El("p", "row", ui.Action("button big", look, p.lookFirst, p.trip.ID, len(looks))))
	case countGoing(j) > 0:
		return ui.Once("p", "row noprint", ui.Action("button big", "We pack these jars", func() { p.pack() }, p.trip.ID))
	}
	return ui.Txt("p", "notice", "There is no jar to pack for this trip.")
}

// lookFirst starts the short walk to the jars that have to be looked at.
func (p *Page) lookFirst() {
	s, err := travel.LookBefore(p.House.Shelf.Pantry, p.journey, time.Now())
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	p.House.Keep(p.ctx, func() { p.ctx.Navigate(ui.Link("/sweep")) }, s)
}

// tools lead away from a trip.
func (p *Page) tools() app.UI {
	t := p.trip
	return ui.El("p", "row",
		ui.Only(t.Home == nil && len(t.Packed) == 0, func() app.UI {
			return ui.Action("button plain", "Change the trip", func() {
				copied := *t
				copied.Weather = append([]record.Weather{}, t.Weather...)
				copied.Meals = append([]int{}, t.Meals...)
				p.edit = &copied
				p.moveOn()
			}, t.ID)
		}),
		ui.Only(t.Home == nil && len(t.Packed) > 0, func() app.UI {
			return ui.Action("button plain", "Unpack, and plan again", func() {
				t.Unpack()
				p.keep(t, func() { p.open(t) })
			}, t.ID)
		}),
		ui.Action("button plain", "All trips", func() {
			p.trip = nil
			p.moveOn()
		}, "all"),
	)
}

// sliders ask for what-ifs.
func (p *Page) sliders() app.UI {
	slide := func(label prose.Text, id string, value, most int, set func(int)) app.UI {
		return ui.El("label", "field slide", ui.Txt("span", "", label),
			ui.Elem("input", "").ID(id).Attr("type", "range").Attr("min", 0).Attr("max", most).Attr("value", value).
				On("input", func(ctx app.Context, _ app.Event) {
					n, _ := strconv.Atoi(ui.Typed(ctx))
					set(n)
					p.plan()
				}, app.EventScope(id, p.turn)))
	}
	hotter := prose.Text("Weather as expected")
	if n := p.what.Hotter; n > 0 {
		hotter = ui.Say("%d °C (%d °F) hotter than expected", n, n*9/5)
	}
	ice := prose.Text("Ice as long as it lasts")
	if n := p.what.IceGone; n > 0 {
		ice = ui.Say("No more cold from day %d on", n)
	}
	return ui.El("section", "card noprint",
		ui.Txt("h2", "", "What if"),
		ui.El("div", "grid",
			slide(hotter, "hotter", p.what.Hotter, 15, func(n int) { p.what.Hotter = n }),
			ui.Only(p.journey.Chill != nil, func() app.UI {
				// Moving right makes it worse: the ice melts sooner.
				days := p.trip.Days
				at := 0
				if p.what.IceGone > 0 {
					at = days + 1 - p.what.IceGone
				}
				return slide(ice, "ice", at, days, func(n int) {
					p.what.IceGone = 0
					if n > 0 {
						p.what.IceGone = days + 1 - n
					}
				})
			}),
		),
		ui.Only(p.what != (travel.WhatIf{}), func() app.UI { return ui.El("ul", "notice", p.changes()...) }),
	)
}

// changes says what a what-if changes, jar by jar where it names jars.
func (p *Page) changes() (lines []app.UI) {
	was := map[string]*travel.Traveler{}
	for _, tr := range p.base.Jars {
		was[tr.Jar.ID] = tr
	}
	var drop, add, sooner []prose.Text
	for _, tr := range p.journey.Jars {
		old := was[tr.Jar.ID]
		if old == nil {
			continue
		}
		name := p.House.Shelf.JarName(tr.Jar)
		went, goes := old.Fate == travel.Goes || old.Fate == travel.Spare, tr.Fate == travel.Goes || tr.Fate == travel.Spare
		switch {
		case went && !goes:
			drop = append(drop, ui.Say("%s%s", name, p.reason(tr)))
		case goes && !went:
			add = append(add, name)
		case goes && tr.LastDay < old.LastDay:
			sooner = append(sooner, ui.Say("%s by day %d", name, tr.LastDay+1))
		}
	}
	tell := func(what prose.Text, names []prose.Text) {
		if len(names) > 4 {
			names = append(names[:4:4], ui.Say("and %d more", len(names)-4))
		}
		if len(names) > 0 {
			lines = append(lines, ui.El("li", "", ui.Prose(what), ui.El("ul", "", ui.Each(len(names), func(i int) app.UI { return ui.Txt("li", "", names[i]) })...)))
		}
	}
	tell("Then these stay, or are not to be eaten:", drop)
	tell("Others would go instead:", add)
	tell("To be opened sooner:", sooner)
	if a, b := p.holds(p.base), p.holds(p.journey); a != b {
		lines = append(lines, ui.Txt("li", "", ui.Say("The cooler %s.", b)))
	}
	if p.base.Plan != nil && p.journey.Plan != nil {
		if more := len(p.journey.Plan.Missed) - len(p.base.Plan.Missed); more > 0 {
			lines = append(lines, ui.Txt("li", "", ui.Say("%s can no longer be covered.", ui.Count(more, "meal", "meals"))))
		}
	}
	if len(lines) == 0 {
		lines = ui.Texts([]prose.Text{"The plan stays the same."})
	}
	return
}

// holds says how long the cooler is cold enough.
func (p *Page) holds(j *travel.Journey) prose.Text {
	if j.Chill == nil {
		return "is none"
	}
	h := j.Chill.Holds(0)
	switch {
	case h >= 24*p.trip.Days:
		return "holds 4 °C (40 °F) to the end"
	case h == 0:
		return "cannot be counted on at all"
	}
	return ui.Say("holds 4 °C (40 °F) for certain until day %d, %s", h/24+1, ui.Clock(h%24))
}

// bindWords says what costs meals.
var bindWords = map[string]prose.Text{
	travel.BindWeight: "Without the limit of weight",
	travel.BindSpace:  "Without the limit of space",
	travel.BindCold:   "If the cooler stayed cold to the end (now you must finish a jar while it is cold)",
	travel.BindHeat:   "If the jars rode and stood where it is neither hot nor freezing",
}

// summary says whether the meals are covered, and what limits them.
func (p *Page) summary() app.UI {
	j := p.journey
	if j.Plan == nil {
		what := prose.Text("weigh")
		if j.Binds[0].What == travel.BindSpace {
			what = "take"
		}
		return ui.El("p", "notice", ui.Prose(ui.Say("The jars that must come already %s more than the limit. Let one of them stay, or raise the limit.", what)))
	}
	missed := len(j.Plan.Missed)
	lines := []prose.Text{}
	for _, b := range j.Binds {
		if b.What == travel.BindStock {
			lines = append(lines, "The rest needs other jars: these are all that may go and can be finished.")
		} else {
			lines = append(lines, ui.Say("%s: %s more.", bindWords[b.What], ui.Count(b.Meals, "meal", "meals")))
		}
	}
	for _, id := range j.Refused {
		for _, tr := range j.Jars {
			if tr.Jar.ID == id {
				lines = append(lines, ui.Say("%s was asked for and cannot come%s.", p.House.Shelf.JarName(tr.Jar), p.reason(tr)))
			}
		}
	}
	if fits := travel.IceFits(p.trip); j.Chill != nil && p.trip.Cooler != record.FridgeOnBus && max(p.trip.Ice, p.trip.More) > fits {
		lines = append(lines, ui.Say("No more than %s of ice fits into the cooler: more was not counted.", p.House.Grams(fits)))
	}
	if missed > 0 {
		lines = append([]prose.Text{ui.Say("Not from your jars: %s.", p.missing(j.Served()))}, lines...)
	}
	return ui.El("div", "trip-sum",
		ui.Txt("p", "lead", covered(len(j.Meals)-missed, len(j.Meals))),
		ui.Txt("p", "", ui.Say("%s, %s. The cooler %s.", ui.Count(countGoing(j), "jar", "jars"), p.House.Grams(j.Luggage()), p.holds(j))),
		p.nextStep(),
		ui.Only(len(lines) > 0, func() app.UI { return ui.El("ul", "notice", ui.Texts(lines)...) }),
	)
}

// keptSummary is what a packed plan covers.
func (p *Page) keptSummary() app.UI {
	meals, from := map[int]bool{}, map[int]bool{}
	for _, v := range travel.Kept(p.House.Shelf.Pantry, p.trip) {
		meals[v.Meal] = true
		if v.Jar != "" {
			from[v.Meal] = true
		}
	}
	return ui.El("div", "trip-sum", ui.Txt("p", "lead", covered(len(from), len(meals))),
		ui.Txt("p", "", ui.Say("%s packed. The cooler %s.", ui.Count(len(p.trip.Packed), "jar", "jars"), p.holds(p.journey))))
}

func countGoing(j *travel.Journey) (n int) {
	for _, tr := range j.Jars {
		if tr.Fate == travel.Goes || tr.Fate == travel.Spare {
			n++
		}
	}
	return
}

// cautions are what has to be said about jars on a trip.
func (p *Page) cautions() app.UI {
	return ui.El("section", "card", ui.Txt("h2", "", "On the way and there"), ui.El("ul", "", ui.Texts(p.advice())...))
}

// advice is what both the screen and the card say.
func (p *Page) advice() []prose.Text {
	t := p.trip
	opened := prose.Text("What is open stays in the cooler.")
	if t.Cooler == record.NoCooler {
		opened = "Without a cooler, what is opened is eaten up at once."
	}
	lines := []prose.Text{
		ui.Say("On the road the jars are %s; there they stand %s. %s", choiceOf(rides, t.Ride), choiceOf(stands, t.Stand), opened),
		"Glass breaks: upright, padded, not on top of each other, nothing heavy above them. Jars are heavy; keep them low in the vehicle.",
		"Before you open a jar: lid curved down and tight, no leak, nothing rising or cloudy. When you open it: air must go in, nothing may come out. A jar with a sign of spoilage: do not open it, do not taste it, keep it out of the cooler.",
		ui.Say("Boil food that is not acid %s before you taste it. That is an extra, never a rescue.", boilMinutes(t)),
		"Opened food may be out of the cold for 2 hours in all. Above 32 °C (90 °F): 1 hour. Throw away what was out for longer. Never close a jar again to keep it on the shelf.",
	}
	if t.Cooler != record.NoCooler {
		lines = append(lines, "Put a thermometer in the cooler. Above 4 °C (40 °F), throw away what is open. Blocks of ice last longer than cubes; a full cooler in the shade lasts longest; drinks go into another.")
	}
	if t.Ride == record.InCar || t.Ride == record.InTrailer || t.Stand == record.InCar || t.Stand == record.InTrailer {
		lines = append(lines, "A closed vehicle in the sun gets hot: in an hour, 22 to 26 °C (40 to 47 °F) above the air outside. Windows left ajar do not change that.")
	}
	return append(lines, "At a campground the rules of the place come first, for food and for animals. Your local health office comes before this guide.")
}

// choiceOf is the text of a choice.
func choiceOf(choices []ui.Choice, chosen string) prose.Text {
	for _, c := range choices {
		if c.Value == chosen {
			return c.Text
		}
	}
	return ""
}
