package trip

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/travel"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/keeping"
	"larderlamp/rules/order"
)

// shown is the plan of a trip: what it covers, what to do next, the plan, and what
// it rests on.
func (p *Page) shown() []app.UI {
	t, j := p.trip, p.journey
	head := []app.UI{ui.Title(parts.TripName(t)),
		ui.Txt("p", "", ui.DayWords(t.From)+" · "+ui.Count(t.Days, "day", "days")+" · "+ui.Count(t.People, "person", "people")+" · "+standing(t))}
	if j == nil {
		return append(head, ui.Txt("p", "notice", p.fault), p.tools())
	}
	days := ui.El("section", "card trip-days", append([]app.UI{ui.Txt("h2", "", "Day by day")}, p.daysShown()...)...)
	if len(t.Packed) > 0 {
		// What was packed stays the plan, whatever has become of the jars.
		return append(head,
			ui.Live("", p.keptSummary()),
			ui.Only(t.Home == nil, func() app.UI {
				return ui.El("p", "row noprint", ui.Action("button big", "We are home again", func() { p.comeHome() }, t.ID), p.prints())
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

// prints are the ways to take the plan along.
func (p *Page) prints() app.UI {
	return ui.El("span", "row",
		ui.Action("button plain", "Print the plan", func() { app.Window().Call("print") }, p.trip.ID),
		ui.Action("button plain", "Save the card as a file", func() { ui.SaveFile("trip.html", "text/html", p.card()) }, p.trip.ID))
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
		return ui.El("section", "notice noprint",
			ui.Txt("p", "", ui.Say("Nobody has looked at %s of them lately. Unlooked-at they may not be eaten: look before you pack.", fmt.Sprint(len(looks)))),
			ui.El("p", "row", ui.Action("button big", ui.Say("Look at these %s", ui.Count(len(looks), "jar", "jars")), p.lookFirst, p.trip.ID, len(looks))))
	case goers(j) > 0:
		return ui.El("p", "row noprint", ui.Action("button big", "We pack these jars", func() { p.pack() }, p.trip.ID))
	}
	return ui.Txt("p", "notice", "There is no jar to pack for this trip.")
}

// lookFirst begins the short walk to the jars that have to be looked at.
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
				p.turned()
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
			p.turned()
		}, "all"),
	)
}

// sliders ask what would be if.
func (p *Page) sliders() app.UI {
	slide := func(label, id string, value, most int, set func(int)) app.UI {
		return ui.El("label", "field slide", ui.Txt("span", "", label),
			ui.Elem("input", "").ID(id).Attr("type", "range").Attr("min", 0).Attr("max", most).Attr("value", value).
				On("input", func(ctx app.Context, _ app.Event) {
					n, _ := strconv.Atoi(ui.Typed(ctx))
					set(n)
					p.plan()
				}, app.EventScope(id, p.turn)))
	}
	hotter := "Weather as expected"
	if n := p.what.Hotter; n > 0 {
		hotter = ui.Say("%d °C (%d °F) hotter than expected", n, n*9/5)
	}
	ice := "Ice as long as it lasts"
	if n := p.what.IceGone; n > 0 {
		ice = ui.Say("No more cold from day %d on", n)
	}
	return ui.El("section", "card noprint",
		ui.Txt("h2", "", "What if"),
		ui.El("div", "grid",
			slide(hotter, "hotter", p.what.Hotter, 15, func(n int) { p.what.Hotter = n }),
			ui.Only(p.journey.Chill != nil, func() app.UI {
				// To the right it gets worse: the ice goes sooner.
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
		ui.Only(p.what != (travel.WhatIf{}), func() app.UI { return ui.El("ul", "notice", ui.Texts(p.changes())...) }),
	)
}

// changes says what a what-if changes.
func (p *Page) changes() (lines []string) {
	was := map[string]*travel.Traveler{}
	for _, tr := range p.base.Jars {
		was[tr.Jar.ID] = tr
	}
	var drop, add, sooner []string
	for _, tr := range p.journey.Jars {
		old := was[tr.Jar.ID]
		if old == nil {
			continue
		}
		name := p.House.Shelf.JarName(tr.Jar)
		went, goes := old.Fate == travel.Goes || old.Fate == travel.Spare, tr.Fate == travel.Goes || tr.Fate == travel.Spare
		switch {
		case went && !goes:
			drop = append(drop, name+p.reason(tr))
		case goes && !went:
			add = append(add, name)
		case goes && tr.LastDay < old.LastDay:
			sooner = append(sooner, ui.Say("%s by day %d", name, tr.LastDay+1))
		}
	}
	tell := func(what string, names []string) {
		if len(names) > 4 {
			names = append(names[:4:4], ui.Say("and %d more", len(names)-4))
		}
		if len(names) > 0 {
			lines = append(lines, ui.Say("%s%s.", what, strings.Join(names, "; ")))
		}
	}
	tell("Then these stay, or are not to be eaten: ", drop)
	tell("Others would go instead: ", add)
	tell("To be opened sooner: ", sooner)
	if a, b := p.holds(p.base), p.holds(p.journey); a != b {
		lines = append(lines, ui.Say("The cooler %s.", b))
	}
	if p.base.Plan != nil && p.journey.Plan != nil {
		if more := len(p.journey.Plan.Missed) - len(p.base.Plan.Missed); more > 0 {
			lines = append(lines, ui.Say("%s can no longer be covered.", ui.Count(more, "meal", "meals")))
		}
	}
	if len(lines) == 0 {
		lines = []string{"The plan holds."}
	}
	return
}

// holds says for how long the cooler is cold enough.
func (p *Page) holds(j *travel.Journey) string {
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

// bindWords say what costs meals.
var bindWords = map[string]string{
	travel.BindWeight: "Without the limit of weight",
	travel.BindSpace:  "Without the limit of space",
	travel.BindCold:   "If the cooler held to the end (now what is opened has to be finished while it holds)",
	travel.BindHeat:   "If the jars rode and stood where it is neither hot nor freezing",
}

// summary says whether the meals are covered, and what binds.
func (p *Page) summary() app.UI {
	j := p.journey
	if j.Plan == nil {
		what := "weigh"
		if j.Binds[0].What == travel.BindSpace {
			what = "take"
		}
		return ui.El("p", "notice", ui.Prose(ui.Say("The jars that must come already %s more than the limit. Let one of them stay, or raise the limit.", what)))
	}
	missed := len(j.Plan.Missed)
	lines := []string{}
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
	if missed > 0 {
		lines = append([]string{ui.Say("Not from your jars: %s.", p.missing(j.Served()))}, lines...)
	}
	return ui.El("div", "trip-sum",
		ui.Txt("p", "lead", covered(len(j.Meals)-missed, len(j.Meals))),
		ui.Txt("p", "", ui.Say("%s, %s. The cooler %s.", ui.Count(goers(j), "jar", "jars"), p.House.Grams(j.Luggage()), p.holds(j))),
		p.nextStep(),
		ui.Only(len(lines) > 0, func() app.UI { return ui.El("ul", "notice", ui.Texts(lines)...) }),
	)
}

// covered says how many of the meals the jars cover.
func covered(n, of int) string {
	switch {
	case of == 0:
		return "No meals are wanted from the jars."
	case n == of:
		return ui.Say("All %s from your jars.", ui.Count(of, "meal", "meals"))
	}
	return ui.Say("%d of %d meals from your jars.", n, of)
}

// missing lists the meals that the jars do not cover, by kind of food.
func (p *Page) missing(lines []record.Served) string {
	var n [len(record.Dishes)]int
	for _, v := range lines {
		if v.Jar == "" {
			n[v.Dish]++
		}
	}
	var words []string
	for i := range n {
		if n[i] > 0 {
			words = append(words, ui.Say("%d × %s", n[i], ui.LowerFirst(ui.Local(record.Dishes[i].Name))))
		}
	}
	return strings.Join(words, ", ")
}

// keptSummary is what a plan that was packed covers.
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

func goers(j *travel.Journey) (n int) {
	for _, tr := range j.Jars {
		if tr.Fate == travel.Goes || tr.Fate == travel.Spare {
			n++
		}
	}
	return
}

// day names a day of the trip.
func (p *Page) day(n int) string {
	from, ok := p.trip.From.Number()
	if !ok {
		return ui.Say("Day %d", n+1)
	}
	return ui.Say("Day %d · %s", n+1, ui.DayWords(record.DayOf(time.Unix(int64(from+n)*86400, 0).UTC())))
}

// lines are the meals of the plan: of the one that was packed, or of the one that
// is being made.
func (p *Page) lines() []record.Served {
	if len(p.trip.Packed) > 0 {
		return travel.Kept(p.House.Shelf.Pantry, p.trip)
	}
	return p.journey.Served()
}

// serving says what is done with a jar at a meal.
func (p *Page) serving(v record.Served) string {
	j := p.House.Shelf.Jars[v.Jar]
	if j == nil {
		return ui.Local("A jar that is not recorded any more")
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
		text += ui.Local(", boil it first")
	default:
		text += ui.Say(", boil it first for %s", boilMinutes(p.trip))
	}
	if v.Left > 0 {
		text += ui.Say(": %s left, into the cooler within %s", ui.Count(v.Left, "portion", "portions"), p.within(v.Day))
	} else if v.Open {
		text += ui.Local(": eat it up")
	}
	return text
}

// within is how long opened food may be out on a day.
func (p *Page) within(day int) string {
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
			until := ""
			if day, ok := last[v.Jar]; ok && v.Open && day < p.trip.Days {
				until = ui.Say(" Not after day %d: it gets too warm.", day+1)
			}
			meals = append(meals, ui.El("li", "", ui.Txt("strong", "", dish+". "), ui.Prose(p.serving(v)+"."+until),
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

// lastDays gives the last day on which each jar that goes should be opened.
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
func (p *Page) spares() (names []string) {
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

// going lists the jars that go, as they were packed or as they are planned.
func (p *Page) going() (jars []*record.Jar) {
	for _, one := range p.trip.Packed {
		if j := p.House.Shelf.Jars[one.Jar]; j != nil {
			jars = append(jars, j)
		}
	}
	if len(p.trip.Packed) == 0 {
		for _, tr := range p.journey.Jars {
			if tr.Fate == travel.Goes || tr.Fate == travel.Spare {
				jars = append(jars, tr.Jar)
			}
		}
	}
	return
}

// byPlace lists what to pack, place by place as they are walked, batch by batch.
func (p *Page) byPlace() (places []string, lines map[string][]string) {
	s := p.House.Shelf
	lines = map[string][]string{}
	numbers := map[[2]string][]string{}
	var keys [][2]string
	going := p.going()
	order.By(going, func(a, b **record.Jar) bool { return (*a).Number < (*b).Number })
	for _, j := range going {
		k := [2]string{j.Standing().Place, j.Batch}
		if numbers[k] == nil {
			keys = append(keys, k)
		}
		numbers[k] = append(numbers[k], strconv.Itoa(j.Number))
	}
	ids := []string{}
	for _, place := range s.PlaceOrder() {
		ids = append(ids, place.ID)
	}
	ids = append(ids, "")
	for _, id := range ids {
		for _, k := range keys {
			if k[0] != id && (id != "" || s.Places[k[0]] != nil) {
				continue
			}
			name, b := s.PlaceName(id), s.Batches[k[1]]
			if len(lines[name]) == 0 {
				places = append(places, name)
			}
			if b != nil {
				lines[name] = append(lines[name], ui.Say("%s %s, jar %s", b.Name(), b.Made.Year(), strings.Join(numbers[k], ", ")))
			}
		}
	}
	return
}

// packingList is what to take from which place, to tick off by hand.
func (p *Page) packingList() app.UI {
	places, lines := p.byPlace()
	if len(places) == 0 {
		return nil
	}
	return ui.El("section", "card packing",
		ui.Txt("h2", "", "Packing list"),
		ui.El("div", "", ui.Each(len(places), func(i int) app.UI {
			return ui.El("div", "", ui.Elem("h3", "").Text(places[i]), ui.El("ul", "to-tick", ui.Each(len(lines[places[i]]), func(k int) app.UI {
				return ui.Elem("li", "").Text(lines[places[i]][k])
			})...))
		})...),
	)
}

// chart draws the temperatures of the air, of the jar that gets warmest, and of
// the cooler.
func (p *Page) chart() string {
	j := p.journey
	series := func(name string, at []keeping.Range) draw.Series {
		s := draw.Series{Name: name, Band: true}
		for i := 0; i < len(at); i += max(1, len(at)/160) {
			s.Points = append(s.Points, draw.Point{X: float64(i) / 24, Low: p.scale(at[i].Low), High: p.scale(at[i].High)})
		}
		return s
	}
	l := draw.Lines{Label: "Temperatures of the trip, from the lowest to the highest that is possible", Unit: "°C", Series: []draw.Series{series("air there", j.Outside)}}
	if p.House.Settings.Fahrenheit {
		l.Unit = "°F"
	}
	if c, ok := j.Hottest(); ok {
		l.Series = append(l.Series, series("in a jar", c.At))
	}
	if j.Chill != nil {
		l.Series = append(l.Series, series("in the cooler", j.Chill.At))
	}
	l.Limits = []draw.Limit{{At: p.scale(35), Name: ui.Say("%s: the most for jars", p.House.Degrees(350))}, {At: p.scale(4), Name: ui.Say("%s: opened food", p.House.Degrees(40))}}
	if len(j.Nights) > 0 {
		l.Limits = append(l.Limits, draw.Limit{At: p.scale(0), Name: "frost"})
	}
	for d := range p.trip.Days {
		if p.trip.Days < 9 || d%3 == 0 {
			l.Ticks = append(l.Ticks, draw.Tick{X: float64(d), Name: ui.Say("day %d", d+1)})
		}
	}
	return l.SVG()
}

func (p *Page) scale(c float64) float64 {
	if p.House.Settings.Fahrenheit {
		return c*1.8 + 32
	}
	return c
}

// warmth says what the temperatures come to.
func (p *Page) warmth() (lines []string) {
	j := p.journey
	if e, ok := j.Worst(); ok {
		hot := "never above 35 °C (95 °F)"
		if h := e.HoursHot.High; h > 0 {
			hot = ui.Say("up to %.0f hours above 35 °C (95 °F)", h)
		}
		lines = append(lines, ui.Say("Jars: at most %s, %s; the trip ages them like %.0f to %.0f days at 20 °C.",
			p.House.Degrees(int(e.Warmest.High*10)), hot, e.Aged.Low, e.Aged.High))
	}
	if n := len(j.Nights); n > 0 {
		lines = append(lines, ui.Say("%s on which a jar may freeze: a frozen jar can lose its seal. Take them where it does not freeze.", ui.Count(n, "night", "nights")))
	}
	if j.Chill != nil {
		lines = append(lines, ui.Say("The cooler %s. A thermometer inside is the only proof.", p.holds(j)))
		if j.IceADay > 0 {
			lines = append(lines, ui.Say("Up to %s of ice may melt in a day.", p.House.Grams(int(j.IceADay*1000))))
		}
	}
	return
}

// reason says why a jar stays, to follow its name.
func (p *Page) reason(tr *travel.Traveler) string {
	switch w := whyWords[tr.Why]; {
	case w != "" && tr.Look && tr.Fate == travel.NotNeeded:
		return ui.Say(" (%s; to be looked at first)", w)
	case w != "":
		return ui.Say(" (%s)", w)
	case tr.Look:
		return ui.Local(" (to be looked at first)")
	}
	return ""
}

var whyWords = map[string]string{
	travel.WhyDiscard:  "it has to be discarded",
	travel.WhyOpen:     "it is open: eat it up at home",
	travel.WhyMissing:  "its place is not known",
	travel.WhyHeat:     "it would get too warm for it",
	travel.WhyFrost:    "it might freeze",
	travel.WhyNoMeal:   "no meal of its kind is wanted",
	travel.WhyTooMuch:  "opened, it would not be finished in time",
	travel.WhyOthers:   "others go first",
	travel.WhyTooLate:  "it would have to be opened before its first meal",
	travel.WhyNoRecord: "what is in it is not known",
	travel.WhyUnknown:  "too little is known about it, and a look would not tell",
}

// kin is jars of a batch with the same fate.
type kin struct {
	first *travel.Traveler
	jars  []*travel.Traveler
}

// kins puts jars together that the plan has the same to say of.
func kins(all []*travel.Traveler, take func(*travel.Traveler) bool) (ks []*kin) {
	type key struct {
		batch, why string
		fate       travel.Fate
		look       bool
	}
	of := map[key]*kin{}
	for _, tr := range all {
		if !take(tr) {
			continue
		}
		k := key{tr.Jar.Batch, tr.Why, tr.Fate, tr.Look}
		if of[k] == nil {
			of[k] = &kin{first: tr}
			ks = append(ks, of[k])
		}
		of[k].jars = append(of[k].jars, tr)
	}
	return
}

// kinName names the jars of a batch.
func (p *Page) kinName(k *kin) string {
	name := "Jars of a batch that is not recorded"
	if b := k.first.Batch(); b != nil {
		name = ui.Say("%s %s", b.Name(), b.Made.Year())
	}
	return ui.Say("%d × %s", len(k.jars), name)
}

// mostKins is how many rows of a kind are shown at first.
const mostKins = 40

// others lists what does not go: what needs a look first, what must not, and
// what is not needed.
func (p *Page) others() app.UI {
	j := p.journey
	stays := kins(j.Jars, func(tr *travel.Traveler) bool { return tr.Fate == travel.Stays })
	rest := kins(j.Jars, func(tr *travel.Traveler) bool {
		return tr.Fate == travel.NotNeeded || tr.Must && tr.Fate != travel.Stays
	})
	many := func(ks []*kin) (n int) {
		for _, k := range ks {
			n += len(k.jars)
		}
		return
	}
	return ui.El("div", "",
		ui.Only(len(stays) > 0, func() app.UI {
			return ui.Fold("card", ui.Say("%s that must stay", ui.Count(many(stays), "jar", "jars")),
				ui.El("ul", "", ui.Each(min(len(stays), mostKins), func(i int) app.UI { return p.stay(stays[i]) })...))
		}),
		ui.Only(len(rest) > 0, func() app.UI {
			return ui.Fold("card", ui.Say("%s that could go", ui.Count(many(rest), "jar", "jars")),
				ui.Txt("p", "hint", "Ask for one of them, and the plan is worked out again."),
				ui.El("ul", "plain-list", ui.Each(min(len(rest), mostKins), func(i int) app.UI { return p.offer(rest[i]) })...))
		}),
	)
}

// stay says why jars stay, with the rules.
func (p *Page) stay(k *kin) app.UI {
	rs := p.planner.Reasons(k.first)
	if why := k.first.Why; why != travel.WhyDiscard && why != travel.WhyHeat && why != travel.WhyFrost {
		rs = nil
	}
	return ui.El("li", "", ui.Prose(p.kinName(k)+p.reason(k.first)),
		ui.Only(len(rs) > 0, func() app.UI {
			return ui.Fold("", "Why", ui.Each(len(rs), func(i int) app.UI {
				return ui.El("div", "", ui.Txt("p", "", rs[i].Say), parts.Cites(rs[i].Cites))
			})...)
		}))
}

// offer lets a jar be asked for, or no longer.
func (p *Page) offer(k *kin) app.UI {
	first := k.first
	text, label := "Bring one", ui.Say("Bring one: %s", p.kinName(k))
	if first.Must {
		text, label = "It may stay", ui.Say("It may stay: %s", p.kinName(k))
	}
	return ui.El("li", "offer", ui.Prose(p.kinName(k)+p.reason(first)+" "),
		ui.Only(p.trip.Home == nil && len(p.trip.Packed) == 0, func() app.UI {
			return ui.Named("button plain", text, label, func() {
				t := p.trip
				var must []string
				for _, id := range t.Must {
					if id != first.Jar.ID {
						must = append(must, id)
					}
				}
				if !first.Must {
					must = append(must, first.Jar.ID)
				}
				t.Must = must
				p.keep(t, func() { p.open(t) })
			}, first.Jar.ID, first.Must)
		}))
}

// cautions are what has to be said of jars on a trip.
func (p *Page) cautions() app.UI {
	return ui.El("section", "card", ui.Txt("h2", "", "On the way and there"), ui.El("ul", "", ui.Texts(p.advice())...))
}

// advice is what is said on the screen and on the card.
func (p *Page) advice() []string {
	t := p.trip
	opened := "What is open stays in the cooler."
	if t.Cooler == record.NoCooler {
		opened = "Without a cooler, what is opened is eaten up at once."
	}
	lines := []string{
		ui.Say("On the road the jars are %s; there they stand %s. %s", choiceOf(rides, t.Ride), choiceOf(stands, t.Stand), opened),
		"Glass breaks: upright, padded, not on top of each other, nothing heavy above them. Jars are heavy; keep them low in the vehicle.",
		"Before you open a jar: lid curved down and tight, no leak, nothing rising or cloudy. When you open it: air must go in, nothing may come out. A jar with a sign of spoilage is not opened, not tasted, and not brought back into the cooler.",
		ui.Say("Boil food that is not acid %s before you taste it. That is an extra, never a rescue.", boilMinutes(t)),
		"Opened food is out of the cold for 2 hours at most, 1 hour above 32 °C (90 °F). What was out for longer is thrown away. A jar is not closed again to be kept on the shelf.",
	}
	if t.Cooler != record.NoCooler {
		lines = append(lines, "A thermometer in the cooler: when it shows more than 4 °C (40 °F), what is open is thrown away. Blocks of ice last longer than cubes; a full cooler in the shade lasts longest; drinks go into another.")
	}
	if t.Ride == record.InCar || t.Ride == record.InTrailer || t.Stand == record.InCar || t.Stand == record.InTrailer {
		lines = append(lines, "A closed vehicle in the sun gets 22 to 26 °C (40 to 47 °F) warmer than the air in an hour, even with the windows ajar.")
	}
	return append(lines, "For food storage at a campground, and for animals, the rules of the place come first. This guide supports, and never replaces, your local food-safety authority.")
}

// choiceOf is the text of a choice.
func choiceOf(choices []string, chosen string) string {
	for i := 0; i < len(choices); i += 2 {
		if choices[i] == chosen {
			return choices[i+1]
		}
	}
	return ""
}

// pack keeps the plan.
func (p *Page) pack() {
	if err := p.base.Pack(); err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	p.keep(p.trip, func() {
		p.open(p.trip)
		p.said = "Packed. The plan is kept on this device."
	})
}

// card is the plan as one page that needs nothing else.
func (p *Page) card() string {
	j := p.journey
	var b strings.Builder
	text := func(tag, s string) { b.WriteString("<" + tag + ">" + draw.Escape(s) + "</" + tag + ">\n") }
	b.WriteString("<!doctype html>\n<html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">\n<title>" + draw.Escape(parts.TripName(p.trip)) + "</title>\n<style>body{font:1rem/1.45 sans-serif;max-width:44rem;margin:1rem auto;padding:0 1rem}h2{margin:1em 0 .2em}ul{margin:.2em 0}</style>\n")
	text("h1", parts.TripName(p.trip))
	text("p", ui.Say("The cooler %s.", p.holds(j)))
	lines := p.lines()
	for d := range p.trip.Days {
		text("h2", p.day(d))
		b.WriteString("<ul>\n")
		for _, v := range lines {
			if v.Day == d && v.Jar != "" {
				text("li", ui.Local(record.Dishes[v.Dish].Name)+". "+p.serving(v)+".")
			}
		}
		b.WriteString("</ul>\n")
	}
	text("h2", ui.Local("Packing list"))
	places, packing := p.byPlace()
	for _, place := range places {
		text("h3", place)
		b.WriteString("<ul>\n")
		for _, line := range packing[place] {
			text("li", line)
		}
		b.WriteString("</ul>\n")
	}
	text("h2", "On the way and there")
	b.WriteString("<ul>\n")
	for _, line := range p.advice() {
		text("li", line)
	}
	b.WriteString("</ul>\n</html>\n")
	return b.String()
}
