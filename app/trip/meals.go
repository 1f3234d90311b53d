package trip

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/travel"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/keeping"
	"larderlamp/rules/prose"
)

// covered says how many of the meals the jars cover.
func covered(n, of int) prose.Text {
	switch {
	case of == 0:
		return "No meals are wanted from the jars."
	case n == of:
		return ui.Say("All %s from your jars.", ui.Count(of, "meal", "meals"))
	}
	return ui.Say("%d of %d meals from your jars.", n, of)
}

// missing lists the meals that the jars do not cover, by kind of food.
func (p *Page) missing(lines []record.Served) prose.Text {
	var n [len(record.Dishes)]int
	for _, v := range lines {
		if v.Jar == "" {
			n[v.Dish]++
		}
	}
	var words []prose.Text
	for i := range n {
		if n[i] > 0 {
			words = append(words, ui.Say("%d × %s", n[i], prose.Lower(record.Dishes[i].Name)))
		}
	}
	return prose.List(words, ", ")
}

// day names a day of the trip.
func (p *Page) day(n int) prose.Text {
	from, ok := p.trip.From.Number()
	if !ok {
		return ui.Say("Day %d", n+1)
	}
	return ui.Say("Day %d · %s", n+1, ui.DayWords(record.DayOf(time.Unix(int64(from+n)*86400, 0).UTC())))
}

// lines are the meals of the plan: of the packed one, or of the one being made.
func (p *Page) lines() []record.Served {
	if len(p.trip.Packed) > 0 {
		return travel.Kept(p.House.Shelf.Pantry, p.trip)
	}
	return p.journey.Served()
}

// serving says what is done with a jar at a meal.
func (p *Page) serving(v record.Served) prose.Text {
	j := p.House.Shelf.Jars[v.Jar]
	if j == nil {
		return "A jar that is not recorded any more"
	}
	b := p.House.Shelf.Batches[j.Batch]
	name := p.House.Shelf.JarName(j)
	text := ui.Say("Open %s", name)
	if !v.Open {
		text = ui.Say("Finish %s", name)
		if v.Left > 0 {
			text = ui.Say("More of %s", name)
		}
	}
	switch {
	case b.Food().Class != rules.ClassLow:
	case p.trip.Feet == 0:
		text = ui.Say("%s, boil it first", text)
	default:
		text = ui.Say("%s, boil it first for %s", text, boilMinutes(p.trip))
	}
	if v.Left > 0 {
		text = ui.Say("%s: %s left, into the cooler within %s", text, ui.Count(v.Left, "portion", "portions"), p.within(v.Day))
	} else if v.Open {
		text = ui.Say("%s: eat it up", text)
	}
	return text
}

// within is how long opened food may be out on a day.
func (p *Page) within(day int) prose.Text {
	for _, a := range p.journey.Outside[24*day : 24*day+24] {
		for _, v := range keeping.AirOf(a) {
			if v == rules.AirHot {
				return "1 hour"
			}
		}
	}
	return "2 hours"
}

// daysShown lists the days with their meals.
func (p *Page) daysShown() []app.UI {
	lines := p.lines()
	if lines == nil && p.journey.Plan == nil {
		return []app.UI{ui.Txt("p", "", "There is no plan yet.")}
	}
	looks := map[string]bool{}
	for _, tr := range p.journey.Looks() {
		looks[tr.Jar.ID] = len(p.trip.Packed) == 0
	}
	last := p.lastDays()
	var days []app.UI
	for d := range p.trip.Days {
		var meals []app.UI
		for _, v := range lines {
			if v.Day != d {
				continue
			}
			dish := record.Dishes[v.Dish].Name
			if v.Jar == "" {
				meals = append(meals, ui.Txt("li", "missed-meal", ui.Say("%s: not from the jars", dish)))
				continue
			}
			until := prose.Text("")
			if day, ok := last[v.Jar]; ok && v.Open && day < p.trip.Days {
				until = ui.Say(" Not after day %d: it gets too warm.", day+1)
			}
			meals = append(meals, ui.El("li", "", ui.Txt("strong", "", ui.Say("%s. ", dish)), ui.Prose(ui.Say("%s.%s", p.serving(v), until)),
				ui.Only(v.Open && looks[v.Jar], func() app.UI { return ui.Txt("em", "look-first", " Look at it before you pack it.") })))
		}
		days = append(days, ui.El("div", "trip-day", ui.Txt("h3", "", p.day(d)), ui.El("ul", "", meals...),
			ui.Only(len(meals) == 0, func() app.UI { return ui.Txt("p", "hint", "Nothing from the jars.") })))
	}
	if spare := p.spares(); len(spare) > 0 {
		days = append(days, ui.El("div", "trip-day", ui.Txt("h3", "", "Spare"), ui.El("ul", "", ui.Texts(spare)...)))
	}
	return days
}

// lastDays returns the last day on which each jar that goes should be opened.
func (p *Page) lastDays() map[string]int {
	last := map[string]int{}
	for _, one := range p.trip.Packed {
		last[one.Jar] = one.Last
	}
	if len(p.trip.Packed) == 0 {
		for _, tr := range p.journey.Jars {
			last[tr.Jar.ID] = tr.LastDay
		}
	}
	return last
}

// spares names the jars that come along unopened.
func (p *Page) spares() (names []prose.Text) {
	for _, j := range p.going() {
		opened := false
		for _, v := range p.lines() {
			opened = opened || v.Jar == j.ID
		}
		if !opened {
			names = append(names, ui.Say("%s: comes along, unopened.", p.House.Shelf.JarName(j)))
		}
	}
	return
}
