package batch

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ledger"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
)

// chips is a group of buttons of which one is chosen: values and their texts in
// turn. They are buttons and no radio buttons, so that no arrow key changes
// anything, and so that what is shown as chosen is always what is recorded.
func chips(legend, chosen string, set func(string), choices ...string) app.UI {
	return ui.El("div", "chips-box", ui.Txt("span", "chips-name", legend),
		ui.Elem("div", "chips").Role("group").Aria("label", ui.Local(legend)).Body(ui.Each(len(choices)/2, func(i int) app.UI {
			value := choices[2*i]
			return ui.Elem("button", "chip").Attr("type", "button").Aria("pressed", fmt.Sprint(value == chosen)).Text(ui.Local(choices[2*i+1])).
				On("click", func(app.Context, app.Event) { set(value) }, app.EventScope(legend, value))
		})...))
}

// usualCounts are the numbers of jars that are offered; any other can be typed.
var usualCounts = []int{4, 5, 6, 7, 8, 9, 10, 12, 14}

// usualPlaces are the names offered for a first place.
var usualPlaces = []string{"Cellar", "Pantry", "Kitchen cupboard", "Garage"}

// form is where a batch is entered or changed. What has to be said of every batch
// is a touch each; everything else is in the fold below.
func (p *Page) form() app.UI {
	b := p.edit
	known := p.House.Shelf.Batches[b.ID] != nil
	food := b.Food()
	head := ui.Say("New batch: %s", food.Name)
	if known {
		head = ui.Say("Change: %s", b.Name())
	}
	return ui.Elem("form", "card batch-form").On("submit", p.onSubmit).Body(
		ui.Title(head),
		ui.Only(food.Caution != "", func() app.UI { return ui.Txt("p", "notice", food.Caution) }),
		ui.Only(!known, p.asLastTime),
		p.when(),
		ui.Only(p.from != nil, func() app.UI {
			return ui.Txt("p", "hint", "What you said in the check is kept. Don't know the day? Leave it: it is the earliest day that the jar can be from.")
		}),
		ui.Only(!known && p.from == nil, p.howMany),
		p.size(),
		ui.Only(!known && !p.cold, p.where),
		p.how(),
		p.record(),
		p.worked(b),
		p.figures(b),
		ui.Fold("", "Name, lid lot, notes",
			p.words("Your name for it", "text", b.Title, food.Name, record.MostName, func(v string) { b.Title = v }),
			p.words("Lid lot", "text", b.LidLot, "as printed on the box", record.MostName, func(v string) { b.LidLot = v }),
			p.words("Where the recipe is from", "text", b.RecipeFrom, "", record.MostName, func(v string) { b.RecipeFrom = v }),
			ui.Field("Notes", ui.Elem("textarea", "").Attr("rows", 3).Attr("maxlength", record.MostNotes).Text(b.Notes).
				On("change", func(ctx app.Context, e app.Event) { b.Notes = strings.Join(strings.Fields(ui.Typed(ctx)), " ") }, app.EventScope("notes", p.turn))),
		),
		ui.Live("", ui.Only(len(p.errors) > 0, func() app.UI { return ui.El("ul", "notice", ui.Texts(p.errors)...) })),
		ui.El("p", "row",
			ui.Elem("button", "button big").Attr("type", "submit").Text(ui.Local("Save the batch")),
			ui.Action("quiet", "Cancel", func() {
				p.edit = nil
				p.turned()
			}, "cancel"),
		),
	)
}

// asLastTime offers the last batch of the same food, in one line, to be confirmed.
func (p *Page) asLastTime() app.UI {
	old := p.last
	if old == nil {
		return nil
	}
	return ui.El("div", "notice", ui.Txt("p", "", ui.Say("Same as last time, canned %s? %s.", ui.DayWords(old.Made), p.howWords(old))),
		ui.Action("button plain", "Yes, the same", func() {
			again, err := old.Again(time.Now())
			if err != nil {
				p.House.Complain(ui.Plain(err))
				return
			}
			again.Made, again.Feet, again.Head = p.edit.Made, p.edit.Feet, p.edit.Head
			p.edit, p.last = again, nil
			p.anew++
		}, old.ID))
}

// howWords says in a line how a batch was canned.
func (p *Page) howWords(b *record.Batch) string {
	words := []string{ui.Count(b.Count, "jar", "jars")}
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
		words = append(words, ui.LowerFirst(v.Info().Label))
	}
	if b.Minutes != nil {
		words = append(words, ui.Count(*b.Minutes, "minute", "minutes"))
	}
	if b.TenthsPSI != nil {
		words = append(words, ui.Decimal(*b.TenthsPSI, 10)+" psi")
	}
	// What is confirmed stands below in full, and is saved only from there.
	holds := true
	for _, l := range b.Lines() {
		if v, ok := l.Sign.ValueByID(l.Have); !l.Holds() {
			holds = false
			if ok {
				words = append(words, ui.Local(l.Sign.Info().Name)+": "+ui.LowerFirst(ui.Local(v.Info().Label)))
			}
		}
	}
	if holds {
		words = append(words, ui.Local("by the book, as listed below"))
	}
	return strings.Join(words, " · ")
}

// monthsBack is how many months are offered to choose the day from; an earlier day
// can be typed.
const monthsBack = 12

// when asks for the day: today and yesterday are one touch, any other day of the
// last year is two, its month and then the day. A calendar of the phone takes four.
func (p *Page) when() app.UI {
	b, now := p.edit, time.Now()
	today, yesterday := string(record.DayOf(now)), string(record.DayOf(now.AddDate(0, 0, -1)))
	set := func(v string) {
		b.Made, p.month = record.Day(v), ""
		p.anew++
	}
	var months []string
	first := time.Date(now.Year(), now.Month(), 1, 12, 0, 0, 0, now.Location())
	for i := range monthsBack {
		month := first.AddDate(0, -i, 0).Format(ui.MonthLayout)
		months = append(months, month, ui.MonthWords(month, "short"))
	}
	chosen, day := p.month, string(b.Made)
	if chosen != "" {
		day = "" // it is being chosen
	} else if made := string(b.Made); made != today && made != yesterday && len(made) > len(ui.MonthLayout) {
		chosen = made[:len(ui.MonthLayout)]
	}
	return ui.El("div", "",
		ui.El("div", "grid",
			chips("Canned", day, set, today, "today", yesterday, "yesterday"),
			p.words("Canned on", "date", string(b.Made), "", 10, set),
		),
		chips("Or in", chosen, func(v string) { p.month = v }, months...),
		ui.Only(p.month != "", func() app.UI { return p.days(string(b.Made), today, set) }),
	)
}

// days offers the days of the month that was touched, but none that has not come yet.
func (p *Page) days(made, today string, set func(string)) app.UI {
	var days []string
	first, err := time.Parse(ui.MonthLayout, p.month)
	for d := first; err == nil && d.Month() == first.Month(); d = d.AddDate(0, 0, 1) {
		if day := string(record.DayOf(d)); day <= today {
			days = append(days, day, strconv.Itoa(d.Day()))
		}
	}
	return ui.El("div", "month-days",
		chips(ui.Say("Which day of %s?", ui.MonthWords(p.month, "long")), made, set, days...),
		ui.Txt("p", "hint", "Not sure? Choose the earliest day it can have been."),
	)
}

// howMany asks for the number of jars.
func (p *Page) howMany() app.UI {
	b := p.edit
	var choices []string
	for _, n := range usualCounts {
		choices = append(choices, strconv.Itoa(n), strconv.Itoa(n))
	}
	shown := ""
	if b.Count > 0 {
		shown = strconv.Itoa(b.Count)
	}
	return ui.El("div", "grid",
		chips("How many jars", shown, func(v string) { b.Count, _ = strconv.Atoi(v) }, choices...),
		ui.Field("Jars", ui.Input("number", shown, "another number").Attr("min", 1).Attr("max", record.MostJars).
			On("change", func(ctx app.Context, e app.Event) { b.Count, _ = strconv.Atoi(ui.Typed(ctx)) }, app.EventScope("count", p.turn))),
	)
}

// size asks for the kind of table, where a food has several, and the size of the
// jars: those of the published table are a touch.
func (p *Page) size() app.UI {
	b := p.edit
	ids, names := b.Kinds()
	var kinds, sizes []string
	for i := range ids {
		kinds = append(kinds, ids[i], names[i])
	}
	for _, id := range b.SizesOf() {
		for _, s := range record.Sizes {
			if s.ID == id {
				short, _, _ := strings.Cut(ui.Local(s.Name), " (")
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
	return ui.El("div", "",
		ui.Only(len(ids) > 1, func() app.UI { return chips("Which kind", b.Table, unsaid(func(v string) { b.Table = v }), kinds...) }),
		chips("Size of the jars", b.Size, unsaid(func(v string) { b.Size = v }), sizes...),
	)
}

// where asks for the place of the jars, and of a new place how jars stand there.
func (p *Page) where() app.UI {
	places := p.House.Shelf.PlaceOrder()
	var choices []string
	for _, place := range places {
		if place.What == record.Shelf || place.What == record.Box {
			choices = append(choices, place.ID, place.Name)
		}
	}
	first := len(choices) == 0
	if !first {
		choices = append(choices, ledger.NewPlace, "a new place")
	}
	if place := p.House.Shelf.Places[p.into]; place != nil && !place.AnyTold() && p.told == nil {
		copied := *place
		p.told = &copied
	}
	fresh := p.into == ledger.NewPlace || first
	var names []string
	for _, name := range usualPlaces {
		if !slices.ContainsFunc(places, func(pl *record.Place) bool { return strings.EqualFold(pl.Name, name) }) {
			names = append(names, name, name)
		}
	}
	return ui.El("div", "",
		ui.Only(!first, func() app.UI {
			return chips("Stands in", p.into, func(v string) { p.into, p.told = v, nil }, choices...)
		}),
		ui.Only(fresh, func() app.UI {
			return ui.El("div", "grid",
				chips("A new place", p.fresh, func(v string) {
					p.fresh = v
					p.anew++
				}, names...),
				p.words("Name of the place", "text", p.fresh, "cellar, shelf 1", record.MostName, func(v string) { p.fresh = v }),
			)
		}),
		ui.Only(fresh || p.told != nil, p.calm),
	)
}

// calm asks of a place what has to be known of it for its jars to be kept.
func (p *Page) calm() app.UI {
	if p.told == nil {
		p.told = &record.Place{}
	}
	place := p.told
	holds := place.AnyTold()
	return ui.El("div", "lines-box",
		ui.Txt("p", "", "What is it like there, all year round?"),
		ui.El("ul", "lines",
			ui.Txt("li", "", "Dry: nothing drips, mists or floods"),
			ui.Txt("li", "", "Dark, and away from anything hot"),
			ui.Txt("li", "", "Never freezing, and never above 24 °C (75 °F)"),
		),
		ui.Elem("button", "button plain all").Attr("type", "button").Aria("pressed", fmt.Sprint(holds)).Text(ui.Local("All of this is true there")).
			On("click", func(app.Context, app.Event) {
				if holds {
					place.Wet, place.Light, place.Air = "", "", nil
				} else {
					place.Describe(record.CoolPlace, time.Now())
				}
			}, app.EventScope("calm", holds)),
		ui.Txt("p", "hint", "If not, leave this line, and describe the place under “Places”."),
	)
}

// how asks how the jars were processed: the published ways for this food, size and
// altitude are a touch each.
func (p *Page) how() app.UI {
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
	return ui.El("div", "",
		p.altitude(),
		ui.Only(len(methods) > 0, func() app.UI {
			return chips("How the jars were heated", b.Method, func(v string) { b.Method = v }, methods...)
		}),
		ui.Only(len(ways) > 0, func() app.UI {
			return chips("Processed, as published for this jar and altitude", chosen, func(v string) {
				i, _ := strconv.Atoi(v)
				b.Go(ways[i])
				p.went = true
				p.anew++
			}, choices...)
		}),
		ui.Only(b.HasTable() && len(ways) == 0, func() app.UI {
			return ui.Txt("p", "hint", "Choose size and altitude, and the published ways to process these jars are shown here.")
		}),
		ui.Only(len(ways) > 0 || !b.HasTable(), func() app.UI {
			return ui.Txt("p", "hint", "In another way, longer or shorter? Enter the figures below.")
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
		return ui.Say("%s, pressure canner: %d minutes at %s pounds without a break, vented 10 minutes before, cooled by itself, by a dial that was tested within a year and read right", ui.UpperFirst(ui.Local(pack)), w.Minutes, ui.Decimal(w.TenthsPSI, 10))
	case "weighted":
		return ui.Say("%s, pressure canner: %d minutes with the %s-pound weight without a break, vented 10 minutes before, cooled by itself", ui.UpperFirst(ui.Local(pack)), w.Minutes, ui.Decimal(w.TenthsPSI, 10))
	}
	return ui.Say("%s: %d minutes in boiling water, without a break", ui.UpperFirst(ui.Local(pack)), w.Minutes)
}

// altitude asks where the batch was canned. It stays with the batch; the household's
// is only what is offered first.
func (p *Page) altitude() app.UI {
	b := p.edit
	feet := 0
	if b.Feet != nil {
		feet = *b.Feet
	}
	choices := []string{"0", "choose"}
	offered := false
	for i, a := range parts.Altitudes {
		choices = append(choices, strconv.Itoa(a), ui.Say("below %d,000 ft (%d m)", i+1, (i+1)*3048/10))
		offered = offered || a == feet
	}
	if !offered && b.Feet != nil {
		choices = append(choices, strconv.Itoa(feet), ui.Say("%d ft (%d m)", feet, feet*3048/10000))
	}
	return ui.Menu(p.turn, "Altitude where it was canned", strconv.Itoa(feet), func(v string) {
		n, err := strconv.Atoi(v)
		if err != nil {
			return
		}
		b.Feet = &n
		if n == 0 {
			b.Feet = nil
		} else if p.House.Settings.AltitudeFeet == nil {
			p.House.SetAltitude(v)
		}
	}, choices...)
}

// record asks for what makes a batch one by the book, as lines that hold or do not.
func (p *Page) record() app.UI {
	b := p.edit
	lines := b.Lines()
	all := true
	for i := range lines {
		all = all && lines[i].Holds()
	}
	agrees := b.Process(p.House.Settings.AltitudeFeet).Possible == process.Agrees
	all = all && (!agrees || b.FoundMet)
	return ui.El("div", "lines-box",
		ui.Txt("p", "", "The record. Touch a line that is not true."),
		ui.El("ul", "lines", append(ui.Each(len(lines), func(i int) app.UI { return p.line(&lines[i]) }),
			ui.Only(agrees, func() app.UI {
				return ui.El("li", "", ui.Txt("span", "tick", tickMark(b.FoundMet)), ui.Txt("span", "", "I found these minutes in current published guidance. This guide has them from memory only"))
			}))...),
		ui.El("p", "row",
			ui.Elem("button", "button plain all").Attr("type", "button").Aria("pressed", fmt.Sprint(all)).Text(ui.Local("All of this is true")).
				On("click", func(app.Context, app.Event) { p.recordHolds(!all, agrees) }, app.EventScope("all", all, b.Product, agrees)),
			ui.Only(!all, func() app.UI {
				return ui.Action("button", "All true: save it", func() {
					p.recordHolds(true, agrees)
					p.saveBatch()
				}, "all-save", b.Product, agrees)
			}),
		),
	)
}

// recordHolds says of every line of the record that it is true, or takes that back.
func (p *Page) recordHolds(holds, agrees bool) {
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
func (p *Page) line(l *record.Line) app.UI {
	b, id := p.edit, l.Sign
	words := ui.Local(l.Say)
	if c := b.Food().Condition; c != nil && id == rules.SignCondition {
		words = ui.Local(c.Ask) + " " + words
	}
	if v, ok := id.ValueByID(l.Have); ok && !l.Holds() {
		words = ui.Say("%s: %s", ui.Local(id.Info().Name), ui.Local(v.Info().Label))
		if c := b.Food().Condition; id == rules.SignCondition && c != nil {
			words = ui.Local(c.Ask) + " " + ui.Local(c.Not)
		}
	}
	open := p.opened == id
	mark := ui.Elem("span", "tick").Text(tickMark(l.Holds()))
	return ui.El("li", "",
		ui.Elem("button", "line").Attr("type", "button").Aria("expanded", fmt.Sprint(open)).Body(mark, app.Elem("span").Text(words)).
			On("click", func(app.Context, app.Event) {
				if p.opened = id; open {
					p.opened = 0
				}
			}, app.EventScope("line", id.ID(), open)),
		ui.Only(open, func() app.UI {
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
func (p *Page) figures(b *record.Batch) app.UI {
	food := b.Food()
	sizes := []string{"", "not known"}
	for _, s := range record.Sizes {
		sizes = append(sizes, s.ID, s.Name)
	}
	fresh := "div"
	if p.anew%2 == 1 {
		fresh = "section"
	}
	return ui.Fold("figures", "Another way, or other figures", ui.El(fresh, "grid",
		ui.Menu(p.turn, "Size", b.Size, func(v string) { b.Size = v }, sizes...),
		ui.Only(food.Condition != nil, func() app.UI {
			c := food.Condition
			return ui.Menu(p.turn, c.Ask, b.Condition, func(v string) { b.Condition = v },
				"", "not known", rules.ConditionMet.ID(), c.OK, rules.ConditionNot.ID(), c.Not)
		}),
		parts.SignMenu(p.turn, rules.SignStanding, b.Standing, func(v string) { b.Standing = v }),
		parts.SignMenu(p.turn, rules.SignMethod, b.Method, func(v string) { b.Method = v }),
		ui.Only(b.AsksAcid(), func() app.UI {
			return parts.SignMenu(p.turn, rules.SignAcid, b.Acid, func(v string) { b.Acid = v })
		}),
		parts.SignMenu(p.turn, rules.SignExtras, b.Extras, func(v string) { b.Extras = v }),
		parts.SignMenu(p.turn, rules.SignClosure, b.Closure, func(v string) { b.Closure = v }),
		p.processFields(b),
		parts.SignMenu(p.turn, rules.SignProcess, b.Followed, func(v string) { b.Followed = v }),
	))
}

// processFields are the figures that are held against the published tables.
func (p *Page) processFields(b *record.Batch) app.UI {
	tables := processed.Tables(b.Food())
	ids, words := b.Kinds()
	names := []string{"", "which is it?"}
	for i := range ids {
		names = append(names, ids[i], words[i])
	}
	pressure := b.Method == rules.MethodPressure.ID()
	return ui.El("div", "",
		ui.Only(len(tables) > 1, func() app.UI { return ui.Menu(p.turn, "Kind", b.Table, func(v string) { b.Table = v }, names...) }),
		ui.Menu(p.turn, "Packed", b.Pack, func(v string) { b.Pack = v }, "", "not known", "hot", "hot", "raw", "raw"),
		p.number("Minutes, without a break", b.Minutes, 1, func(n *int) { b.Minutes = n }),
		ui.Only(pressure, func() app.UI {
			return ui.Menu(p.turn, "Gauge", b.Gauge, func(v string) { b.Gauge = v }, "", "not known", "dial", "dial", "weighted", "weight")
		}),
		ui.Only(pressure, func() app.UI {
			return p.number("Pressure, in pounds (psi)", b.TenthsPSI, 10, func(n *int) { b.TenthsPSI = n })
		}),
		ui.Only(pressure && b.Gauge != "weighted", func() app.UI {
			return p.number("The dial reads high by (psi; 0 if tested right)", b.ReadsHigh, 10, func(n *int) { b.ReadsHigh = n })
		}),
		ui.Only(pressure, func() app.UI {
			return ui.Menu(p.turn, "Vented 10 minutes before closing", b.Vented, func(v string) { b.Vented = v }, "", "not known", "yes", "yes", "no", "no")
		}),
	)
}

// worked says at once whether the process meets the published one, and what
// that makes of the jars: of exactly what would be saved now.
func (p *Page) worked(b *record.Batch) app.UI {
	here := p.House.Settings.AltitudeFeet
	j := b.Process(here)
	s := rules.NewSituation()
	_ = b.Food().Tell(&s) // a test tells every product
	b.Tell(&s, here)
	o := rules.Judge(s)
	return ui.Live("worked",
		ui.El("p", "", ui.Prose("If all else is sound, these jars can be: "), parts.VerdictWord(o.Lowest)),
		ui.Txt("p", "", ui.Say("Compared with the published process: %s.", processWords(&j))),
		ui.El("ul", "", ui.Texts(p.badWords())...),
		ui.Fold("", "Why", ui.El("ul", "", ui.Texts(j.Why())...)),
	)
}

// badWords says what stands in the fields and cannot be taken.
func (p *Page) badWords() (words []string) {
	for _, w := range p.bad {
		words = append(words, w)
	}
	slices.Sort(words)
	return words
}
