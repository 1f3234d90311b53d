package app

import (
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/pantry"
	"larderlamp/rules"
	"larderlamp/rules/keeping"
	"larderlamp/rules/order"
	"larderlamp/rules/packing"
)

// shown is the plan of a trip.
func (p *tripPage) shown() []app.UI {
	t, j := p.trip, p.journey
	if j == nil {
		return []app.UI{title(tripName(t)), txt("p", "notice", p.fault), p.tools()}
	}
	packed := len(t.Packed) > 0
	return []app.UI{
		title(tripName(t)),
		txt("p", "", dayWords(t.From)+" · "+count(t.Days, "day", "days")+" · "+count(t.People, "person", "people")+" · "+standing(t)),
		only(t.Home == nil, func() app.UI { return p.sliders() }),
		live("", p.summary()),
		only(p.fault != "", func() app.UI { return txt("p", "notice", p.fault) }),
		el("section", "card trip-days", append([]app.UI{txt("h2", "", "Day by day")}, p.daysShown()...)...),
		el("section", "card noprint", txt("h2", "", "How warm it gets"),
			el("div", "chart-box", app.Raw(p.chart())), el("ul", "", texts(p.warmth())...)),
		p.cautions(),
		el("div", "noprint", p.others()),
		only(t.Home == nil, func() app.UI {
			return el("p", "row",
				only(!packed && j.Plan != nil && p.what == (pantry.WhatIf{}), func() app.UI {
					return action("button big", "We pack these jars", func() { p.pack() }, t.ID)
				}),
				only(packed, func() app.UI { return action("button big", "We are home again", func() { p.comeHome() }, t.ID) }),
				action("button", "Print the card", func() { app.Window().Call("print") }, t.ID),
				action("button plain", "Save the card as a file", func() {
					saveFile("trip.html", "text/html", p.card())
				}, t.ID),
			)
		}),
		p.tools(),
	}
}

// tools lead away from a trip.
func (p *tripPage) tools() app.UI {
	t := p.trip
	return el("p", "row",
		only(t.Home == nil && len(t.Packed) == 0, func() app.UI {
			return action("button plain", "Change the trip", func() {
				copied := *t
				copied.Weather = append([]pantry.Weather{}, t.Weather...)
				copied.Meals = append([]int{}, t.Meals...)
				p.edit = &copied
				p.turned()
			}, t.ID)
		}),
		only(t.Home == nil && len(t.Packed) > 0, func() app.UI {
			return action("button plain", "Unpack, and plan again", func() {
				t.Packed = nil
				p.keep(t, func() { p.open(t) })
			}, t.ID)
		}),
		action("button plain", "All trips", func() {
			p.trip = nil
			p.turned()
		}, "all"),
	)
}

// sliders ask what would be if.
func (p *tripPage) sliders() app.UI {
	slide := func(label, id string, value, most int, set func(int)) app.UI {
		return el("label", "field slide", txt("span", "", label),
			elem("input", "").ID(id).Attr("type", "range").Attr("min", 0).Attr("max", most).Attr("value", value).
				On("input", func(ctx app.Context, _ app.Event) {
					n, _ := strconv.Atoi(typed(ctx))
					set(n)
					p.plan()
				}, app.EventScope(id, p.turn)))
	}
	hotter := "Weather as expected"
	if n := p.what.Hotter; n > 0 {
		hotter = say("%d °C (%d °F) hotter than expected", n, n*9/5)
	}
	ice := "Ice as long as it lasts"
	if n := p.what.IceGone; n > 0 {
		ice = say("No more cold from day %d on", n)
	}
	return el("section", "card noprint",
		txt("h2", "", "What if"),
		el("div", "grid",
			slide(hotter, "hotter", p.what.Hotter, 15, func(n int) { p.what.Hotter = n }),
			only(p.journey.Chill != nil, func() app.UI {
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
		only(p.what != (pantry.WhatIf{}), func() app.UI { return el("ul", "notice", texts(p.changes())...) }),
	)
}

// changes says what a what-if changes.
func (p *tripPage) changes() (lines []string) {
	was := map[string]*pantry.Traveller{}
	for _, tr := range p.base.Jars {
		was[tr.Jar.ID] = tr
	}
	var drop, add, sooner []string
	for _, tr := range p.journey.Jars {
		old := was[tr.Jar.ID]
		if old == nil {
			continue
		}
		name := p.house.shelf.JarName(tr.Jar)
		went, goes := old.Fate == pantry.Goes || old.Fate == pantry.Spare, tr.Fate == pantry.Goes || tr.Fate == pantry.Spare
		switch {
		case went && !goes:
			drop = append(drop, name+p.reason(tr))
		case goes && !went:
			add = append(add, name)
		case goes && tr.LastDay < old.LastDay:
			sooner = append(sooner, say("%s by day %d", name, tr.LastDay+1))
		}
	}
	tell := func(what string, names []string) {
		if len(names) > 4 {
			names = append(names[:4:4], say("and %d more", len(names)-4))
		}
		if len(names) > 0 {
			lines = append(lines, say("%s%s.", what, strings.Join(names, "; ")))
		}
	}
	tell("Then these stay, or are not to be eaten: ", drop)
	tell("Others would go instead: ", add)
	tell("To be opened sooner: ", sooner)
	if a, b := p.holds(p.base), p.holds(p.journey); a != b {
		lines = append(lines, say("The cooler %s.", b))
	}
	if p.base.Plan != nil && p.journey.Plan != nil {
		if more := len(p.journey.Plan.Missed) - len(p.base.Plan.Missed); more > 0 {
			lines = append(lines, say("%s can no longer be covered.", count(more, "meal", "meals")))
		}
	}
	if len(lines) == 0 {
		lines = []string{"The plan holds."}
	}
	return
}

// holds says for how long the cooler is cold enough.
func (p *tripPage) holds(j *pantry.Journey) string {
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
	return say("holds 4 °C (40 °F) for certain until day %d, %d:00", h/24+1, h%24)
}

// bindWords say what costs meals.
var bindWords = map[string]string{
	pantry.BindWeight: "Without the limit of weight",
	pantry.BindSpace:  "Without the limit of space",
	pantry.BindCold:   "If the cooler held to the end (now what is opened has to be finished while it holds)",
	pantry.BindHeat:   "If the jars rode and stood where it is neither hot nor freezing",
	pantry.BindLooks:  "If the jars that nobody has looked at lately are looked at and sound",
}

// summary says whether the meals are covered, and what binds.
func (p *tripPage) summary() app.UI {
	j := p.journey
	if j.Plan == nil {
		what := "weigh"
		if j.Binds[0].What == pantry.BindSpace {
			what = "take"
		}
		return el("p", "notice", prose(say("The jars that must come already %s more than the limit. Let one of them stay, or raise the limit.", what)))
	}
	missed := len(j.Plan.Missed)
	lines := []string{}
	for _, b := range j.Binds {
		if b.What == pantry.BindStock {
			lines = append(lines, "Nothing but more jars would help: these are all that may go and can be finished.")
		} else {
			lines = append(lines, say("%s: %s more.", bindWords[b.What], count(b.Meals, "meal", "meals")))
		}
	}
	for _, id := range j.Refused {
		for _, tr := range j.Jars {
			if tr.Jar.ID == id {
				lines = append(lines, say("%s was asked for and cannot come%s.", p.house.shelf.JarName(tr.Jar), p.reason(tr)))
			}
		}
	}
	head := say("All %s are covered.", count(len(j.Meals), "meal", "meals"))
	if len(j.Meals) == 0 {
		head = "No meals are wanted."
	} else if missed > 0 {
		head = say("%d of %d meals cannot be covered. This is the nearest plan.", missed, len(j.Meals))
	}
	return el("div", "trip-sum",
		el("p", "", txt("strong", "", head), prose(say(" %s, %s. The cooler %s.", count(goers(j), "jar", "jars"), p.house.grams(j.Luggage()), p.holds(j)))),
		only(len(lines) > 0, func() app.UI { return el("ul", "notice", texts(lines)...) }),
	)
}

func goers(j *pantry.Journey) (n int) {
	for _, tr := range j.Jars {
		if tr.Fate == pantry.Goes || tr.Fate == pantry.Spare {
			n++
		}
	}
	return
}

// served is one line of the plan.
type served struct {
	tr   *pantry.Traveller
	s    packing.Serving
	open bool
}

// meals lists what is served at each meal.
func meals(j *pantry.Journey) map[int][]served {
	of := map[int][]served{}
	opens := map[packing.Opening]bool{}
	for _, o := range j.Plan.Openings {
		opens[o] = true
	}
	for _, s := range j.Plan.Servings {
		of[s.Meal] = append(of[s.Meal], served{j.Traveller(s.Jar), s, opens[packing.Opening{Jar: s.Jar, Meal: s.Meal}]})
	}
	return of
}

// day names a day of the trip.
func (p *tripPage) day(n int) string {
	from, ok := p.trip.From.Number()
	if !ok {
		return say("Day %d", n+1)
	}
	return say("Day %d · %s", n+1, dayWords(pantry.DayOf(time.Unix(int64(from+n)*86400, 0).UTC())))
}

// serving says what is done with a jar at a meal.
func (p *tripPage) serving(v served) string {
	j := p.journey
	b := v.tr.Batch()
	text := say("Open %s %s", b.Name(), b.Made.Year())
	if !v.open {
		text = say("Finish %s %s", b.Name(), b.Made.Year())
		if v.s.Left > 0 {
			text = say("More of %s %s", b.Name(), b.Made.Year())
		}
	}
	text += say(" (jar %d)", v.tr.Jar.Number)
	if p.boils(v.tr) {
		text += local(", boil it first")
		if p.trip.Feet != 0 {
			text += say(" for %s", boilMinutes(p.trip))
		}
	}
	if v.s.Left > 0 {
		text += say(": %s left, into the cooler within %s", count(v.s.Left, "portion", "portions"), p.within(j.Meals[v.s.Meal].Day))
	} else if v.open {
		text += local(": eat it up")
	}
	return text
}

// boils tells whether the food is boiled before it is served.
func (p *tripPage) boils(tr *pantry.Traveller) bool { return tr.Batch().Food().Class == rules.ClassLow }

// within is how long opened food may be out on a day.
func (p *tripPage) within(day int) string {
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
func (p *tripPage) daysShown() []app.UI {
	j := p.journey
	if j.Plan == nil {
		return []app.UI{txt("p", "", "There is no plan yet.")}
	}
	of := meals(j)
	missed := map[int]bool{}
	for _, m := range j.Plan.Missed {
		missed[m] = true
	}
	var days []app.UI
	for d := range p.trip.Days {
		var lines []app.UI
		for m, meal := range j.Meals {
			if meal.Day != d {
				continue
			}
			dish := pantry.Dishes[meal.Kind].Name
			if missed[m] {
				lines = append(lines, txt("li", "missed-meal", say("%s: not from the jars", dish)))
				continue
			}
			list := of[m]
			lines = append(lines, el("li", "", txt("strong", "", dish+". "), el("ul", "plain-list", each(len(list), func(i int) app.UI {
				v := list[i]
				last := ""
				if v.open && v.tr.LastDay < p.trip.Days {
					last = say(" Not after day %d: it gets too warm.", v.tr.LastDay+1)
				}
				return txt("li", "", p.serving(v)+"."+last)
			})...)))
		}
		days = append(days, el("div", "trip-day", txt("h3", "", p.day(d)), el("ul", "", lines...),
			only(len(lines) == 0, func() app.UI { return txt("p", "hint", "Nothing from the jars.") })))
	}
	var spare []string
	for _, tr := range j.Jars {
		if tr.Fate == pantry.Spare {
			spare = append(spare, say("%s: comes along, unopened.", p.house.shelf.JarName(tr.Jar)))
		}
	}
	if len(spare) > 0 {
		days = append(days, el("div", "trip-day", txt("h3", "", "Spare"), el("ul", "", texts(spare)...)))
	}
	return days
}

// chart draws the temperatures of the air, of the jar that gets warmest, and of
// the cooler.
func (p *tripPage) chart() string {
	j := p.journey
	series := func(name string, at []keeping.Range) draw.Series {
		s := draw.Series{Name: name, Band: true}
		for i := 0; i < len(at); i += max(1, len(at)/160) {
			s.Points = append(s.Points, draw.Point{X: float64(i) / 24, Low: p.scale(at[i].Low), High: p.scale(at[i].High)})
		}
		return s
	}
	l := draw.Lines{Label: "Temperatures of the trip, from the lowest to the highest that is possible", Unit: "°C", Series: []draw.Series{series("air there", j.Outside)}}
	if p.house.settings.Fahrenheit {
		l.Unit = "°F"
	}
	if c, ok := j.Hottest(); ok {
		l.Series = append(l.Series, series("in a jar", c.At))
	}
	if j.Chill != nil {
		l.Series = append(l.Series, series("in the cooler", j.Chill.At))
	}
	l.Limits = []draw.Limit{{At: p.scale(35), Name: "35 °C: the most for jars"}, {At: p.scale(4), Name: "4 °C: opened food"}}
	if len(j.Nights) > 0 {
		l.Limits = append(l.Limits, draw.Limit{At: p.scale(0), Name: "frost"})
	}
	for d := range p.trip.Days {
		if p.trip.Days < 9 || d%3 == 0 {
			l.Ticks = append(l.Ticks, draw.Tick{X: float64(d), Name: say("day %d", d+1)})
		}
	}
	return l.SVG()
}

func (p *tripPage) scale(c float64) float64 {
	if p.house.settings.Fahrenheit {
		return c*1.8 + 32
	}
	return c
}

// warmth says what the temperatures come to.
func (p *tripPage) warmth() (lines []string) {
	j := p.journey
	if e, ok := j.Worst(); ok {
		hot := "never above 35 °C (95 °F)"
		if h := e.HoursHot.High; h > 0 {
			hot = say("up to %.0f hours above 35 °C (95 °F)", h)
		}
		lines = append(lines, say("Jars: at most %s, %s; the trip ages them as %.0f to %.0f days at 20 °C do.",
			p.house.degrees(int(e.Warmest.High*10)), hot, e.Aged.Low, e.Aged.High))
	}
	if n := len(j.Nights); n > 0 {
		lines = append(lines, say("%s on which a jar may freeze: a frozen jar can lose its seal. Take them where it does not freeze.", count(n, "night", "nights")))
	}
	if j.Chill != nil {
		lines = append(lines, say("The cooler %s. A thermometer inside is the only proof.", p.holds(j)))
		if j.IceADay > 0 {
			lines = append(lines, say("Up to %s of ice may melt in a day.", p.house.grams(int(j.IceADay*1000))))
		}
	}
	return
}

// reason says why a jar stays, to follow its name.
func (p *tripPage) reason(tr *pantry.Traveller) string {
	if w := whyWords[tr.Why]; w != "" {
		return say(" (%s)", w)
	}
	if tr.Fate == pantry.NeedsLook {
		return local(" (nobody has looked at it lately)")
	}
	return ""
}

var whyWords = map[string]string{
	pantry.WhyDiscard:  "it has to be discarded",
	pantry.WhyOpen:     "it is open: eat it up at home",
	pantry.WhyMissing:  "nobody knows where it is",
	pantry.WhyHeat:     "it would get too warm for it",
	pantry.WhyFrost:    "it might freeze",
	pantry.WhyNoMeal:   "no meal of its kind is wanted",
	pantry.WhyTooMuch:  "opened, it would not be finished in time",
	pantry.WhyOthers:   "others go first",
	pantry.WhyTooLate:  "it would have to be opened before its first meal",
	pantry.WhyNoRecord: "nobody knows what is in it",
}

// kin is jars of a batch with the same fate.
type kin struct {
	first *pantry.Traveller
	jars  []*pantry.Traveller
}

// kins puts jars together that the plan has the same to say of.
func kins(all []*pantry.Traveller, take func(*pantry.Traveller) bool) (ks []*kin) {
	type key struct {
		batch, why string
		fate       pantry.Fate
	}
	of := map[key]*kin{}
	for _, tr := range all {
		if !take(tr) {
			continue
		}
		k := key{tr.Jar.Batch, tr.Why, tr.Fate}
		if of[k] == nil {
			of[k] = &kin{first: tr}
			ks = append(ks, of[k])
		}
		of[k].jars = append(of[k].jars, tr)
	}
	return
}

// kinName names the jars of a batch.
func (p *tripPage) kinName(k *kin) string {
	name := "Jars of a batch that is not recorded"
	if b := k.first.Batch(); b != nil {
		name = say("%s %s", b.Name(), b.Made.Year())
	}
	return say("%d × %s", len(k.jars), name)
}

// mostKins is how many rows of a kind are shown at first.
const mostKins = 40

// others lists what does not go: what needs a look first, what must not, and
// what is not needed.
func (p *tripPage) others() app.UI {
	j := p.journey
	looks := kins(j.Jars, func(tr *pantry.Traveller) bool { return tr.Fate == pantry.NeedsLook })
	stays := kins(j.Jars, func(tr *pantry.Traveller) bool { return tr.Fate == pantry.Stays })
	rest := kins(j.Jars, func(tr *pantry.Traveller) bool {
		return tr.Fate == pantry.NotNeeded || tr.Must && tr.Fate != pantry.Stays
	})
	many := func(ks []*kin) (n int) {
		for _, k := range ks {
			n += len(k.jars)
		}
		return
	}
	return el("div", "",
		only(len(looks) > 0, func() app.UI {
			return fold("card", say("%s to look at first", count(many(looks), "jar", "jars")),
				txt("p", "hint", "Nothing travels that nobody has looked at. A look takes a minute; a sweep does them all."),
				el("p", "row", anchor("button plain", "/sweep", "Begin a sweep")),
				el("ul", "", each(min(len(looks), mostKins), func(i int) app.UI {
					k := looks[i]
					return el("li", "", prose(p.kinName(k)+" "),
						named("quiet", "Check one", say("Check one: %s", p.kinName(k)), func() { p.house.check(p.ctx, k.first.Jar) }, k.first.Jar.ID, p.turn))
				})...))
		}),
		only(len(stays) > 0, func() app.UI {
			return fold("card", say("%s that must stay", count(many(stays), "jar", "jars")),
				el("ul", "", each(min(len(stays), mostKins), func(i int) app.UI { return p.stay(stays[i]) })...))
		}),
		only(len(rest) > 0, func() app.UI {
			return fold("card", say("%s that could go", count(many(rest), "jar", "jars")),
				txt("p", "hint", "Ask for one of them and the plan is worked out anew."),
				el("ul", "plain-list", each(min(len(rest), mostKins), func(i int) app.UI { return p.offer(rest[i]) })...))
		}),
	)
}

// stay says why jars stay, with the rules.
func (p *tripPage) stay(k *kin) app.UI {
	rs := p.planner.Reasons(k.first)
	if why := k.first.Why; why != pantry.WhyDiscard && why != pantry.WhyHeat && why != pantry.WhyFrost {
		rs = nil
	}
	return el("li", "", prose(p.kinName(k)+p.reason(k.first)),
		only(len(rs) > 0, func() app.UI {
			return fold("", "Why", each(len(rs), func(i int) app.UI {
				return el("div", "", txt("p", "", rs[i].Say), cites(rs[i].Cites))
			})...)
		}))
}

// offer lets a jar be asked for, or no longer.
func (p *tripPage) offer(k *kin) app.UI {
	first := k.first
	text, label := "Bring one", say("Bring one: %s", p.kinName(k))
	if first.Must {
		text, label = "It may stay", say("It may stay: %s", p.kinName(k))
	}
	return el("li", "offer", prose(p.kinName(k)+p.reason(first)+" "),
		only(p.trip.Home == nil && len(p.trip.Packed) == 0, func() app.UI {
			return named("button plain", text, label, func() {
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
func (p *tripPage) cautions() app.UI {
	return el("section", "card", txt("h2", "", "On the way and there"), el("ul", "", texts(p.advice())...))
}

// advice is what is said on the screen and on the card.
func (p *tripPage) advice() []string {
	t := p.trip
	opened := "What is open stays in the cooler."
	if t.Cooler == pantry.NoCooler {
		opened = "Without a cooler, what is opened is eaten up at once."
	}
	lines := []string{
		say("On the road the jars are %s; there they stand %s. %s", choiceOf(rides, t.Ride), choiceOf(stands, t.Stand), opened),
		"Glass breaks: upright, padded, not on top of each other, nothing heavy above them. Jars are heavy; keep them low in the vehicle.",
		"Before you open a jar: lid curved down and tight, no leak, nothing rising or cloudy. When you open it: air must go in, nothing may come out. A jar with a sign of spoilage is not opened, not tasted, and not brought back into the cooler.",
		say("Boil food that is not acid %s before you taste it. That is an extra, never a rescue.", boilMinutes(t)),
		"Opened food is out of the cold for 2 hours at most, 1 hour above 32 °C (90 °F). What was out for longer is thrown away. A jar is not closed again to be kept on the shelf.",
	}
	if t.Cooler != pantry.NoCooler {
		lines = append(lines, "A thermometer in the cooler: when it shows more than 4 °C (40 °F), what is open is thrown away. Blocks of ice last longer than cubes; a full cooler in the shade lasts longest; drinks go into another.")
	}
	if t.Ride == pantry.InCar || t.Ride == pantry.InTrailer || t.Stand == pantry.InCar || t.Stand == pantry.InTrailer {
		lines = append(lines, "A closed vehicle in the sun gets 22 to 26 °C (40 to 47 °F) warmer than the air in an hour, with the windows ajar too.")
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
func (p *tripPage) pack() {
	p.base.Pack()
	order.By(p.trip.Packed, func(a, b *pantry.Packed) bool { return a.Open < b.Open || a.Open == b.Open && a.Jar < b.Jar })
	p.keep(p.trip, func() {
		p.open(p.trip)
		p.said = "Packed. The plan is kept on this device."
	})
}

// card is the plan as one page that needs nothing else.
func (p *tripPage) card() string {
	j := p.journey
	var b strings.Builder
	text := func(tag, s string) { b.WriteString("<" + tag + ">" + draw.Escape(s) + "</" + tag + ">\n") }
	b.WriteString("<!doctype html>\n<html lang=\"en\"><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">\n<title>" + draw.Escape(tripName(p.trip)) + "</title>\n<style>body{font:1rem/1.45 sans-serif;max-width:44rem;margin:1rem auto;padding:0 1rem}h2{margin:1em 0 .2em}ul{margin:.2em 0}</style>\n")
	text("h1", tripName(p.trip))
	text("p", say("The cooler %s.", p.holds(j)))
	if j.Plan != nil {
		of := meals(j)
		for d := range p.trip.Days {
			text("h2", p.day(d))
			b.WriteString("<ul>\n")
			for m, meal := range j.Meals {
				if meal.Day == d {
					for _, v := range of[m] {
						text("li", pantry.Dishes[meal.Kind].Name+". "+p.serving(v)+".")
					}
				}
			}
			b.WriteString("</ul>\n")
		}
	}
	text("h2", "On the way and there")
	b.WriteString("<ul>\n")
	for _, line := range p.advice() {
		text("li", line)
	}
	b.WriteString("</ul>\n</html>\n")
	return b.String()
}
