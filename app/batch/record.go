package batch

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ledger"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// chips is a group of buttons of which one is chosen: values with their texts.
// They are buttons, not radio buttons, so that no arrow key changes anything,
// and so that what is shown as chosen is always what is recorded.
func chips(legend prose.Text, chosen string, set func(string), choices ...ui.Choice) app.UI {
	return ui.El("div", "chips-box", ui.Txt("span", "chips-name", legend),
		ui.Elem("div", "chips").Role("group").Aria("label", ui.Local(legend)).Body(ui.Each(len(choices), func(i int) app.UI {
			value := choices[i].Value
			return ui.Elem("button", "chip").Attr("type", "button").Aria("pressed", fmt.Sprint(value == chosen)).Text(ui.Local(choices[i].Text)).
				On("click", func(app.Context, app.Event) { set(value) }, app.EventScope(legend, value))
		})...))
}

// usualCounts are the numbers of jars that are offered; any other can be typed.
var usualCounts = []int{4, 5, 6, 7, 8, 9, 10, 12, 14}

// usualPlaces are the names offered for a first place.
var usualPlaces = []prose.Text{"Cellar", "Pantry", "Kitchen cupboard", "Garage"}

// form is where a batch is entered or changed. What has to be said about every
// batch is one touch each; everything else is in the fold below.
func (p *Page) form() app.UI {
	b := p.edit
	known := p.House.Shelf.Batches[b.ID] != nil
	food := b.Food()
	head := ui.Say("New batch: %s", food.Name)
	if known {
		head = ui.Say("Change: %s", b.Name())
	}
	return ui.Elem("form", "card batch-form").Attr("data-once", true).On("submit", p.onSubmit).Body(
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
		ui.Faults(p.errors),
		ui.El("p", "row",
			ui.Elem("button", "button big").Attr("type", "submit").Text(ui.Local("Save the batch")),
			ui.Action("quiet", "Cancel", func() {
				p.edit = nil
				p.moveOn()
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

// howWords says in one line how a batch was canned.
func (p *Page) howWords(b *record.Batch) prose.Text {
	words := []prose.Text{ui.Count(b.Count, "jar", "jars")}
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
		words = append(words, map[process.Pack]prose.Text{process.Hot: "packed hot", process.Raw: "packed raw"}[process.PackByID(b.Pack)])
	}
	if v, ok := rules.SignMethod.ValueByID(b.Method); ok {
		words = append(words, prose.Lower(v.Info().Label))
	}
	if b.Minutes != nil {
		words = append(words, ui.Count(*b.Minutes, "minute", "minutes"))
	}
	if b.TenthsPSI != nil {
		words = append(words, ui.Say("%s psi", ui.Decimal(*b.TenthsPSI, 10)))
	}
	// What is confirmed is shown below in full, and is saved only from there.
	holds := true
	for _, l := range b.Lines() {
		if v, ok := l.Sign.ValueByID(l.Have); !l.Holds() {
			holds = false
			if ok {
				words = append(words, ui.Say("%s: %s", l.Sign.Info().Name, prose.Lower(v.Info().Label)))
			}
		}
	}
	if holds {
		words = append(words, "by the book, as listed below")
	}
	return prose.List(words, " · ")
}

// monthsBack is how many months are offered when choosing the day; an earlier day
// can be typed.
const monthsBack = 12

// when asks for the day: today and yesterday are one touch, any other day of the
// last year is two: its month, then the day. A phone's own calendar takes four.
func (p *Page) when() app.UI {
	b, now := p.edit, time.Now()
	today, yesterday := string(record.DayOf(now)), string(record.DayOf(now.AddDate(0, 0, -1)))
	set := func(v string) {
		b.Made, p.month = record.Day(v), ""
		p.anew++
	}
	var months []ui.Choice
	first := time.Date(now.Year(), now.Month(), 1, 12, 0, 0, 0, now.Location())
	for i := range monthsBack {
		month := first.AddDate(0, -i, 0).Format(ui.MonthLayout)
		months = append(months, ui.Line(month, prose.Own(ui.MonthWords(month, "short"))))
	}
	chosen, day := p.month, string(b.Made)
	if chosen != "" {
		day = "" // the day is being chosen
	} else if made := string(b.Made); made != today && made != yesterday && len(made) > len(ui.MonthLayout) {
		chosen = made[:len(ui.MonthLayout)]
	}
	return ui.El("div", "",
		ui.El("div", "grid",
			chips("Canned", day, set, ui.Line(today, "today"), ui.Line(yesterday, "yesterday")),
			p.words("Canned on", "date", string(b.Made), "", 10, set),
		),
		chips("Or in", chosen, func(v string) { p.month = v }, months...),
		ui.Only(p.month != "", func() app.UI { return p.days(string(b.Made), today, set) }),
	)
}

// days offers the days of the month that was touched, except future ones.
func (p *Page) days(made, today string, set func(string)) app.UI {
	var days []ui.Choice
	first, err := time.Parse(ui.MonthLayout, p.month)
	for d := first; err == nil && d.Month() == first.Month(); d = d.AddDate(0, 0, 1) {
		if day := string(record.DayOf(d)); day <= today {
			days = append(days, ui.Line(day, ui.Number(d.Day())))
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
	var choices []ui.Choice
	for _, n := range usualCounts {
		choices = append(choices, ui.Line(strconv.Itoa(n), ui.Number(n)))
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

// size asks for the kind of table, if a food has several, and the size of the
// jars: those of the published table are one touch.
func (p *Page) size() app.UI {
	b := p.edit
	ids, names := b.Kinds()
	var kinds, sizes []ui.Choice
	for i := range ids {
		kinds = append(kinds, ui.Line(ids[i], names[i]))
	}
	for _, id := range b.SizesOf() {
		for _, s := range record.Sizes {
			if s.ID == id {
				short, _, _ := strings.Cut(ui.Local(s.Name), " (")
				sizes = append(sizes, ui.Line(id, prose.Own(short)))
			}
		}
	}
	unsaid := func(set func(string)) func(string) {
		return func(v string) {
			set(v)
			// A way is for this kind and size: about another, nothing was said.
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

// where asks for the place of the jars, and how jars are stored in a new place.
func (p *Page) where() app.UI {
	places := p.House.Shelf.PlaceOrder()
	var choices []ui.Choice
	for _, place := range places {
		if place.What == record.Shelf || place.What == record.Box {
			choices = append(choices, ui.Line(place.ID, prose.Own(place.Name)))
		}
	}
	first := len(choices) == 0
	if !first {
		choices = append(choices, ui.Line(ledger.NewPlace, "a new place"))
	}
	if place := p.House.Shelf.Places[p.into]; place != nil && !place.AnyKnown() && p.told == nil {
		copied := *place
		p.told = &copied
	}
	fresh := p.into == ledger.NewPlace || first
	var names []ui.Choice
	for _, name := range usualPlaces {
		if !slices.ContainsFunc(places, func(pl *record.Place) bool { return strings.EqualFold(pl.Name, ui.Local(name)) }) {
			names = append(names, ui.Line(ui.Local(name), name))
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
		ui.Only(fresh || p.told != nil, p.askAboutPlace),
	)
}

// askAboutPlace asks about a place what has to be known about it for its jars to be
// kept.
func (p *Page) askAboutPlace() app.UI {
	if p.told == nil {
		p.told = &record.Place{}
	}
	place := p.told
	holds := place.AnyKnown()
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
