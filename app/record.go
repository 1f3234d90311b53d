package app

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
)

// chips is a group of buttons of which one is chosen: values and their texts in
// turn. They are buttons and no radio buttons, so that no arrow key changes
// anything, and so that what is shown as chosen is always what is recorded.
func chips(legend, chosen string, set func(string), choices ...string) app.UI {
	return el("div", "chips-box", txt("span", "chips-name", legend),
		elem("div", "chips").Role("group").Aria("label", local(legend)).Body(each(len(choices)/2, func(i int) app.UI {
			value := choices[2*i]
			return elem("button", "chip").Attr("type", "button").Aria("pressed", fmt.Sprint(value == chosen)).Text(local(choices[2*i+1])).
				On("click", func(app.Context, app.Event) { set(value) }, app.EventScope(legend, value))
		})...))
}

// usualCounts are the numbers of jars that are offered; any other can be typed.
var usualCounts = []int{4, 5, 6, 7, 8, 9, 10, 12, 14}

// usualPlaces are the names offered for a first place.
var usualPlaces = []string{"Cellar", "Pantry", "Kitchen cupboard", "Garage"}

// newPlace is the choice of a place that is not recorded yet.
const newPlace = "new"

// form is where a batch is entered or changed. What has to be said of every batch
// is a touch each; everything else is in the fold below.
func (p *batchPage) form() app.UI {
	b := p.edit
	known := p.house.shelf.Batches[b.ID] != nil
	food := b.Food()
	head := say("New batch: %s", food.Name)
	if known {
		head = say("Change: %s", b.Name())
	}
	return elem("form", "card batch-form").On("submit", p.onSubmit).Body(
		title(head),
		only(food.Caution != "", func() app.UI { return txt("p", "notice", food.Caution) }),
		only(!known, p.asLastTime),
		p.when(),
		only(p.from != nil, func() app.UI {
			return txt("p", "hint", "What you said in the check is kept. If you do not know the day, leave it: it is the earliest that the jar can be from.")
		}),
		only(!known && p.from == nil, p.howMany),
		p.size(),
		only(!known && !p.cold, p.where),
		p.how(),
		p.record(),
		p.worked(b),
		p.figures(b),
		fold("", "Name, lid lot, notes",
			p.words("Your name for it", "text", b.Title, food.Name, record.MostName, func(v string) { b.Title = v }),
			p.words("Lid lot", "text", b.LidLot, "as printed on the box", record.MostName, func(v string) { b.LidLot = v }),
			p.words("Where the recipe is from", "text", b.RecipeFrom, "", record.MostName, func(v string) { b.RecipeFrom = v }),
			field("Notes", elem("textarea", "").Attr("rows", 3).Attr("maxlength", record.MostNotes).Text(b.Notes).
				On("change", func(ctx app.Context, e app.Event) { b.Notes = strings.Join(strings.Fields(typed(ctx)), " ") }, app.EventScope("notes", p.turn))),
		),
		live("", only(len(p.errors) > 0, func() app.UI { return el("ul", "notice", texts(p.errors)...) })),
		el("p", "row",
			elem("button", "button big").Attr("type", "submit").Text(local("Save the batch")),
			action("quiet", "Cancel", func() {
				p.edit = nil
				p.turned()
			}, "cancel"),
		),
	)
}

// asLastTime offers the last batch of the same food, in one line, to be confirmed.
func (p *batchPage) asLastTime() app.UI {
	old := p.last
	if old == nil {
		return nil
	}
	return el("div", "notice", txt("p", "", say("Same as last time, canned %s? %s.", dayWords(old.Made), p.howWords(old))),
		action("button plain", "Yes, the same", func() {
			again, err := old.Again(time.Now())
			if err != nil {
				p.house.complain(plain(err))
				return
			}
			again.Made, again.Feet, again.Head = p.edit.Made, p.edit.Feet, p.edit.Head
			p.edit, p.last = again, nil
			p.anew++
		}, old.ID))
}

// howWords says in a line how a batch was canned.
func (p *batchPage) howWords(b *record.Batch) string {
	words := []string{count(b.Count, "jar", "jars")}
	for _, s := range record.Sizes {
		if s.ID == b.Size {
			words = append(words, s.Name)
		}
	}
	if b.Table != "" {
		ids, names := b.Kinds()
		if i := slices.Index(ids, b.Table); i >= 0 && len(ids) > 1 {
			words = append(words, names[i])
		}
	}
	if b.Pack != "" {
		words = append(words, map[string]string{"hot": "packed hot", "raw": "packed raw"}[b.Pack])
	}
	if v, ok := rules.SignMethod.ValueByID(b.Method); ok {
		words = append(words, lowerFirst(v.Info().Label))
	}
	if b.Minutes != nil {
		words = append(words, count(*b.Minutes, "minute", "minutes"))
	}
	if b.TenthsPSI != nil {
		words = append(words, decimal(*b.TenthsPSI, 10)+" psi")
	}
	// What is confirmed stands below in full, and is saved only from there.
	holds := true
	for _, l := range b.Lines() {
		if v, ok := l.Sign.ValueByID(l.Have); !l.Holds() {
			holds = false
			if ok {
				words = append(words, local(l.Sign.Info().Name)+": "+lowerFirst(local(v.Info().Label)))
			}
		}
	}
	if holds {
		words = append(words, local("by the book, as listed below"))
	}
	return strings.Join(words, " · ")
}

// monthLayout is how a month is written, without its day.
const monthLayout = "2006-01"

// monthsBack is how many months are offered to choose the day from; an earlier day
// can be typed.
const monthsBack = 12

// when asks for the day: today and yesterday are one touch, any other day of the
// last year is two, its month and then the day. A calendar of the phone takes four.
func (p *batchPage) when() app.UI {
	b, now := p.edit, time.Now()
	today, yesterday := string(record.DayOf(now)), string(record.DayOf(now.AddDate(0, 0, -1)))
	set := func(v string) {
		b.Made, p.month = record.Day(v), ""
		p.anew++
	}
	var months []string
	first := time.Date(now.Year(), now.Month(), 1, 12, 0, 0, 0, now.Location())
	for i := range monthsBack {
		month := first.AddDate(0, -i, 0).Format(monthLayout)
		months = append(months, month, monthWords(month, "short"))
	}
	chosen, day := p.month, string(b.Made)
	if chosen != "" {
		day = "" // it is being chosen
	} else if made := string(b.Made); made != today && made != yesterday && len(made) > len(monthLayout) {
		chosen = made[:len(monthLayout)]
	}
	return el("div", "",
		el("div", "grid",
			chips("Canned", day, set, today, "today", yesterday, "yesterday"),
			p.words("Canned on", "date", string(b.Made), "", 10, set),
		),
		chips("Or in", chosen, func(v string) { p.month = v }, months...),
		only(p.month != "", func() app.UI { return p.days(string(b.Made), today, set) }),
	)
}

// days offers the days of the month that was touched, but none that has not come yet.
func (p *batchPage) days(made, today string, set func(string)) app.UI {
	var days []string
	first, err := time.Parse(monthLayout, p.month)
	for d := first; err == nil && d.Month() == first.Month(); d = d.AddDate(0, 0, 1) {
		if day := string(record.DayOf(d)); day <= today {
			days = append(days, day, strconv.Itoa(d.Day()))
		}
	}
	return el("div", "month-days",
		chips(say("Which day of %s?", monthWords(p.month, "long")), made, set, days...),
		txt("p", "hint", "Not sure? Choose the earliest day it can have been."),
	)
}

// howMany asks for the number of jars.
func (p *batchPage) howMany() app.UI {
	b := p.edit
	var choices []string
	for _, n := range usualCounts {
		choices = append(choices, strconv.Itoa(n), strconv.Itoa(n))
	}
	shown := ""
	if b.Count > 0 {
		shown = strconv.Itoa(b.Count)
	}
	return el("div", "grid",
		chips("How many jars", shown, func(v string) { b.Count, _ = strconv.Atoi(v) }, choices...),
		field("Jars", input("number", shown, "another number").Attr("min", 1).Attr("max", record.MostJars).
			On("change", func(ctx app.Context, e app.Event) { b.Count, _ = strconv.Atoi(typed(ctx)) }, app.EventScope("count", p.turn))),
	)
}

// size asks for the kind of table, where a food has several, and the size of the
// jars: those of the published table are a touch.
func (p *batchPage) size() app.UI {
	b := p.edit
	ids, names := b.Kinds()
	var kinds, sizes []string
	for i := range ids {
		kinds = append(kinds, ids[i], names[i])
	}
	for _, id := range b.SizesOf() {
		for _, s := range record.Sizes {
			if s.ID == id {
				short, _, _ := strings.Cut(local(s.Name), " (")
				sizes = append(sizes, id, short)
			}
		}
	}
	unsaid := func(set func(string)) func(string) {
		return func(v string) {
			set(v)
			// A way is one for this kind and size: of another it was never said.
			if b.Minutes != nil && p.went {
				b.Pack, b.Minutes, b.TenthsPSI, b.Gauge, b.Vented, b.ReadsHigh, b.Method = "", nil, nil, "", "", nil, ""
			}
			p.went = false
			p.anew++
		}
	}
	return el("div", "",
		only(len(ids) > 1, func() app.UI { return chips("Which kind", b.Table, unsaid(func(v string) { b.Table = v }), kinds...) }),
		chips("Size of the jars", b.Size, unsaid(func(v string) { b.Size = v }), sizes...),
	)
}

// where asks for the place of the jars, and of a new place how jars stand there.
func (p *batchPage) where() app.UI {
	places := p.house.shelf.PlaceOrder()
	var choices []string
	for _, place := range places {
		if place.What == record.Shelf || place.What == record.Box {
			choices = append(choices, place.ID, place.Name)
		}
	}
	first := len(choices) == 0
	if !first {
		choices = append(choices, newPlace, "a new place")
	}
	if place := p.house.shelf.Places[p.into]; place != nil && !place.AnyTold() && p.told == nil {
		copied := *place
		p.told = &copied
	}
	fresh := p.into == newPlace || first
	var names []string
	for _, name := range usualPlaces {
		if !slices.ContainsFunc(places, func(pl *record.Place) bool { return strings.EqualFold(pl.Name, name) }) {
			names = append(names, name, name)
		}
	}
	return el("div", "",
		only(!first, func() app.UI {
			return chips("Stands in", p.into, func(v string) { p.into, p.told = v, nil }, choices...)
		}),
		only(fresh, func() app.UI {
			return el("div", "grid",
				chips("A new place", p.fresh, func(v string) {
					p.fresh = v
					p.anew++
				}, names...),
				p.words("Name of the place", "text", p.fresh, "cellar, shelf 1", record.MostName, func(v string) { p.fresh = v }),
			)
		}),
		only(fresh || p.told != nil, p.calm),
	)
}

// calm asks of a place what has to be known of it for its jars to be kept.
func (p *batchPage) calm() app.UI {
	if p.told == nil {
		p.told = &record.Place{}
	}
	place := p.told
	holds := place.AnyTold()
	return el("div", "lines-box",
		txt("p", "", "What is it like there, all year round?"),
		el("ul", "lines",
			txt("li", "", "Dry: nothing drips, mists or floods"),
			txt("li", "", "Dark, and away from anything hot"),
			txt("li", "", "Never freezing, and never above 24 °C (75 °F)"),
		),
		elem("button", "button plain all").Attr("type", "button").Aria("pressed", fmt.Sprint(holds)).Text(local("All of this is true there")).
			On("click", func(app.Context, app.Event) {
				if holds {
					place.Wet, place.Light, place.Air = "", "", nil
				} else {
					place.Describe(record.CoolPlace, time.Now())
				}
			}, app.EventScope("calm", holds)),
		txt("p", "hint", "If not, leave it: say under “Places” what it is like."),
	)
}

// how asks how the jars were processed: the published ways for this food, size and
// altitude are a touch each.
func (p *batchPage) how() app.UI {
	b := p.edit
	ways := b.Ways()
	chosen := ""
	var choices []string
	for i, w := range ways {
		choices = append(choices, strconv.Itoa(i), wayWords(&w))
		if b.Went(w) {
			chosen = strconv.Itoa(i)
		}
	}
	methods := []string{}
	if !b.HasTable() {
		for _, v := range []rules.Value{rules.MethodBoiling, rules.MethodPressure, rules.MethodSteam} {
			methods = append(methods, v.ID(), v.Info().Label)
		}
	}
	return el("div", "",
		p.altitude(),
		only(len(methods) > 0, func() app.UI {
			return chips("How the jars were heated", b.Method, func(v string) { b.Method = v }, methods...)
		}),
		only(len(ways) > 0, func() app.UI {
			return chips("Processed, as published for this jar and altitude", chosen, func(v string) {
				i, _ := strconv.Atoi(v)
				b.Go(ways[i])
				p.went = true
				p.anew++
			}, choices...)
		}),
		only(b.HasTable() && len(ways) == 0, func() app.UI {
			return txt("p", "hint", "Choose size and altitude, and the published ways to process these jars are shown here.")
		}),
		only(len(ways) > 0 || !b.HasTable(), func() app.UI {
			return txt("p", "hint", "In another way, longer or shorter? Enter the figures below.")
		}),
	)
}

// wayWords says a way with all that it takes for granted.
func wayWords(w *record.Way) string {
	pack := "packed raw"
	if w.Pack == "hot" {
		pack = "packed hot"
	}
	switch w.Gauge {
	case "dial":
		return say("%s, pressure canner: %d minutes at %s pounds without a break, vented 10 minutes before, cooled by itself, by a dial that was tested within a year and read right", upperFirst(local(pack)), w.Minutes, decimal(w.TenthsPSI, 10))
	case "weighted":
		return say("%s, pressure canner: %d minutes with the %s-pound weight without a break, vented 10 minutes before, cooled by itself", upperFirst(local(pack)), w.Minutes, decimal(w.TenthsPSI, 10))
	}
	return say("%s: %d minutes in boiling water, without a break", upperFirst(local(pack)), w.Minutes)
}

// altitude asks where the batch was canned. It stays with the batch; the household's
// is only what is offered first.
func (p *batchPage) altitude() app.UI {
	b := p.edit
	feet := 0
	if b.Feet != nil {
		feet = *b.Feet
	}
	choices := []string{"0", "choose"}
	offered := false
	for i, a := range altitudes {
		choices = append(choices, strconv.Itoa(a), say("below %d,000 ft (%d m)", i+1, (i+1)*3048/10))
		offered = offered || a == feet
	}
	if !offered && b.Feet != nil {
		choices = append(choices, strconv.Itoa(feet), say("%d ft (%d m)", feet, feet*3048/10000))
	}
	return menu(p.turn, "Altitude where it was canned", strconv.Itoa(feet), func(v string) {
		n, err := strconv.Atoi(v)
		if err != nil {
			return
		}
		b.Feet = &n
		if n == 0 {
			b.Feet = nil
		} else if p.house.settings.AltitudeFeet == nil {
			p.house.setAltitude(p.ctx, v)
		}
	}, choices...)
}

// record asks for what makes a batch one by the book, as lines that hold or do not.
func (p *batchPage) record() app.UI {
	b := p.edit
	lines := b.Lines()
	all := true
	for i := range lines {
		all = all && lines[i].Holds()
	}
	agrees := b.Process(p.house.settings.AltitudeFeet).Possible == process.Agrees
	all = all && (!agrees || b.FoundMet)
	return el("div", "lines-box",
		txt("p", "", "The record. Touch a line that is not true."),
		el("ul", "lines", append(each(len(lines), func(i int) app.UI { return p.line(&lines[i]) }),
			only(agrees, func() app.UI {
				return el("li", "", txt("span", "tick", tickMark(b.FoundMet)), txt("span", "", "I have found these minutes in current published guidance, which this guide only remembers"))
			}))...),
		el("p", "row",
			elem("button", "button plain all").Attr("type", "button").Aria("pressed", fmt.Sprint(all)).Text(local("All of this is true")).
				On("click", func(app.Context, app.Event) { p.recordHolds(!all, agrees) }, app.EventScope("all", all, b.Product, agrees)),
			only(!all, func() app.UI {
				return action("button", "All true: save it", func() {
					p.recordHolds(true, agrees)
					p.saveBatch()
				}, "all-save", b.Product, agrees)
			}),
		),
	)
}

// recordHolds says of every line of the record that it is true, or takes that back.
func (p *batchPage) recordHolds(holds, agrees bool) {
	b := p.edit
	for _, l := range b.Lines() {
		if holds {
			b.Set(l.Sign, l.Want)
		} else {
			b.Set(l.Sign, "")
		}
	}
	b.FoundMet = agrees && holds
	p.opened = 0
	p.anew++
}

// tickMark says whether a line holds, by a sign and not by color.
func tickMark(holds bool) string {
	if holds {
		return "✓"
	}
	return "–"
}

// line is one line of the record; opened it offers the other answers.
func (p *batchPage) line(l *record.Line) app.UI {
	b, id := p.edit, l.Sign
	words := local(l.Say)
	if c := b.Food().Condition; c != nil && id == rules.SignCondition {
		words = local(c.Ask) + " " + words
	}
	if v, ok := id.ValueByID(l.Have); ok && !l.Holds() {
		words = say("%s: %s", local(id.Info().Name), local(v.Info().Label))
		if c := b.Food().Condition; id == rules.SignCondition && c != nil {
			words = local(c.Ask) + " " + local(c.Not)
		}
	}
	open := p.opened == id
	mark := elem("span", "tick").Text(tickMark(l.Holds()))
	return el("li", "",
		elem("button", "line").Attr("type", "button").Aria("expanded", fmt.Sprint(open)).Body(mark, app.Elem("span").Text(words)).
			On("click", func(app.Context, app.Event) {
				if p.opened = id; open {
					p.opened = 0
				}
			}, app.EventScope("line", id.ID(), open)),
		only(open, func() app.UI {
			choices := []string{"", "not known"}
			for _, v := range id.Info().Values {
				text := v.Label
				if c := b.Food().Condition; c != nil && id == rules.SignCondition {
					if text = c.Not; v.ID == rules.ConditionMet.ID() {
						text = c.OK
					}
				}
				choices = append(choices, v.ID, text)
			}
			return chips(id.Info().Ask, l.Have, func(v string) {
				b.Set(id, v)
				p.opened = 0
				p.anew++
			}, choices...)
		}),
	)
}

// figures are all fields of the record, for what was canned in another way. They are
// made anew when a touch above has changed what they hold.
func (p *batchPage) figures(b *record.Batch) app.UI {
	food := b.Food()
	sizes := []string{"", "not known"}
	for _, s := range record.Sizes {
		sizes = append(sizes, s.ID, s.Name)
	}
	fresh := "div"
	if p.anew%2 == 1 {
		fresh = "section"
	}
	return fold("figures", "Another way, or other figures", el(fresh, "grid",
		menu(p.turn, "Size", b.Size, func(v string) { b.Size = v }, sizes...),
		only(food.Condition != nil, func() app.UI {
			c := food.Condition
			return menu(p.turn, c.Ask, b.Condition, func(v string) { b.Condition = v },
				"", "not known", rules.ConditionMet.ID(), c.OK, rules.ConditionNot.ID(), c.Not)
		}),
		signMenu(p.turn, rules.SignStanding, b.Standing, func(v string) { b.Standing = v }),
		signMenu(p.turn, rules.SignMethod, b.Method, func(v string) { b.Method = v }),
		only(b.AsksAcid(), func() app.UI {
			return signMenu(p.turn, rules.SignAcid, b.Acid, func(v string) { b.Acid = v })
		}),
		signMenu(p.turn, rules.SignExtras, b.Extras, func(v string) { b.Extras = v }),
		signMenu(p.turn, rules.SignClosure, b.Closure, func(v string) { b.Closure = v }),
		p.processFields(b),
		signMenu(p.turn, rules.SignProcess, b.Followed, func(v string) { b.Followed = v }),
	))
}

// processFields are the figures that are held against the published tables.
func (p *batchPage) processFields(b *record.Batch) app.UI {
	tables := processed.Tables(b.Food())
	ids, words := b.Kinds()
	names := []string{"", "which is it?"}
	for i := range ids {
		names = append(names, ids[i], words[i])
	}
	pressure := b.Method == rules.MethodPressure.ID()
	return el("div", "",
		only(len(tables) > 1, func() app.UI { return menu(p.turn, "Kind", b.Table, func(v string) { b.Table = v }, names...) }),
		menu(p.turn, "Packed", b.Pack, func(v string) { b.Pack = v }, "", "not known", "hot", "hot", "raw", "raw"),
		p.number("Minutes, without a break", b.Minutes, 1, func(n *int) { b.Minutes = n }),
		only(pressure, func() app.UI {
			return menu(p.turn, "Gauge", b.Gauge, func(v string) { b.Gauge = v }, "", "not known", "dial", "dial", "weighted", "weight")
		}),
		only(pressure, func() app.UI {
			return p.number("Pressure, in pounds (psi)", b.TenthsPSI, 10, func(n *int) { b.TenthsPSI = n })
		}),
		only(pressure && b.Gauge != "weighted", func() app.UI {
			return p.number("The dial reads high by (psi; 0 if tested right)", b.ReadsHigh, 10, func(n *int) { b.ReadsHigh = n })
		}),
		only(pressure, func() app.UI {
			return menu(p.turn, "Vented 10 minutes before closing", b.Vented, func(v string) { b.Vented = v }, "", "not known", "yes", "yes", "no", "no")
		}),
	)
}

// worked says at once whether the process meets the published one, and what
// that makes of the jars: of exactly what would be saved now.
func (p *batchPage) worked(b *record.Batch) app.UI {
	here := p.house.settings.AltitudeFeet
	j := b.Process(here)
	s := rules.NewSituation()
	_ = b.Food().Tell(&s) // a test tells every product
	b.Tell(&s, here)
	o := rules.Judge(s)
	return live("worked",
		el("p", "", prose("With all else sound these jars can be: "), verdictWord(o.Lowest)),
		txt("p", "", say("Against the published process: %s.", processWords(&j))),
		el("ul", "", texts(p.badWords())...),
		fold("", "Why", el("ul", "", texts(j.Why())...)),
	)
}

// badWords says what stands in the fields and cannot be taken.
func (p *batchPage) badWords() (words []string) {
	for _, w := range p.bad {
		words = append(words, w)
	}
	slices.Sort(words)
	return words
}
