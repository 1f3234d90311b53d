package app

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
)

// batchPage records a batch, and shows one with its jars.
type batchPage struct {
	app.Compo
	house *household

	ctx    app.Context
	ready  bool
	id     string // of the batch shown; "" for a new one
	place  string // of the jars, when it is asked for
	edit   *pantry.Batch
	find   finder // of the product
	into   string // place of the new jars
	fresh  string // name of a place to be made
	errors []string
	said   string
	turn   int // makes each form a fresh one
	moving int // how many jars to move
}

func (p *batchPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/batch") {
		return
	}
	q := ctx.Page().URL().Query()
	*p = batchPage{Compo: p.Compo, house: p.house, ctx: ctx, turn: p.turn + 1, ready: p.ready}
	p.id, p.place = q.Get("id"), q.Get("place")
	p.house.shelved(ctx, func(app.Context) {
		p.ready = true
		if places := p.house.shelf.PlaceOrder(); len(places) > 0 {
			p.into = places[0].ID
		}
	})
}

func (p *batchPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("A batch"), txt("p", "", "Opening what is kept on this device…"))
	}
	body := []app.UI{p.house.notices(), p.house.undoDelete(p.ctx), live("", only(p.said != "", func() app.UI { return txt("p", "notice", p.said) }))}
	b := p.house.shelf.Batches[p.id]
	switch {
	case p.edit != nil:
		body = append(body, p.form())
	case p.id == "":
		body = append(body, p.picker())
	case b == nil:
		body = append(body, title("This batch is not on this device"), el("p", "", anchor("button", "/shelf", "The shelf")))
	default:
		body = append(body, p.batch(b))
	}
	return frame("/shelf", body...)
}

// picker finds the product of a new batch. What was canned before is offered
// again, newest first.
func (p *batchPage) picker() app.UI {
	if p.find.busy() {
		return p.find.step(p.begin, p.turned)
	}
	query := p.find.query
	var found []rules.Hit
	if query != "" {
		found = rules.Search(query, mostShown)
	} else {
		var before []*rules.Product
		for _, b := range p.house.shelf.BatchOrder() {
			if f := b.Food(); !slices.Contains(before, f) && len(before) < 8 {
				before = append(before, f)
			}
		}
		found = plainHits(before)
	}
	return el("div", "picker",
		title("What was canned?"),
		p.find.nameField(),
		live("", only(query != "" && len(found) == 0, func() app.UI { return txt("p", "", "Nothing in the list sounds like that.") })),
		only(query == "" && len(found) > 0, func() app.UI { return txt("p", "hint", "Canned before:") }),
		p.find.products(found, p.begin, p.turned),
		el("p", "row",
			action("button plain", "Record it as not in the list", func() {
				p.find.unlist()
				p.turned()
			}),
			anchor("button plain", "/many", "Enter many at once"),
		),
	)
}

// begin fills a new batch with what was entered last and opens the form. The
// person may have a name of their own for the food.
func (p *batchPage) begin(product *rules.Product, own string) {
	b, err := pantry.NewBatch(product.ID, time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	b.Count = 6
	recallBatch(b)
	for _, old := range p.house.shelf.BatchOrder() {
		// The last batch of the same food is nearer than the last of any.
		if old.Product == b.Product {
			b.Table, b.Pack, b.Minutes, b.TenthsPSI, b.Size, b.Method, b.Standing = old.Table, old.Pack, old.Minutes, old.TenthsPSI, old.Size, old.Method, old.Standing
			b.Acid, b.Count, b.RecipeFrom, b.Gauge, b.Vented, b.ReadsHigh = old.Acid, old.Count, old.RecipeFrom, old.Gauge, old.Vented, old.ReadsHigh
			break
		}
	}
	b.Title = own
	p.find, p.edit = finder{}, b
	p.turned()
}

func (p *batchPage) turned() {
	p.turn++
	p.errors = nil
	focus(p.ctx, "title")
}

// words is a labelled field of text.
func (p *batchPage) words(label, kind, value, hint string, most int, set func(string)) app.UI {
	return field(label, input(kind, value, hint).Attr("maxlength", most).On("change", func(ctx app.Context, e app.Event) { set(typed(ctx)) }, app.EventScope(label, p.turn)))
}

// number is a labelled field for a number, in units of 1/scale; empty is not
// known. What is no such number is said and not taken.
func (p *batchPage) number(label string, v *int, scale int, set func(*int)) app.UI {
	value := ""
	if v != nil {
		value = decimal(*v, scale)
	}
	return field(label, input("text", value, "").Attr("inputmode", "decimal").Attr("maxlength", 7).
		On("change", func(ctx app.Context, e app.Event) {
			text := strings.TrimSpace(typed(ctx))
			p.said = ""
			if text == "" {
				set(nil)
				return
			}
			n := whole(text, scale)
			if !n.Known {
				p.said = say("%s: “%s” is not a number that can be taken here.", label, text)
				return
			}
			set(&n.Low)
		}, app.EventScope(label, p.turn)))
}

// decimal writes a number given in units of 1/scale, scale being 1 or 10.
func decimal(n, scale int) string {
	if scale == 10 && n%10 != 0 {
		return strconv.FormatFloat(float64(n)/10, 'f', 1, 64)
	}
	return strconv.Itoa(n / scale)
}

// form is where a batch is entered or changed. What is usual is above the fold;
// the rest makes verdicts better.
func (p *batchPage) form() app.UI {
	b := p.edit
	known := p.house.shelf.Batches[b.ID] != nil
	food := b.Food()
	places := p.house.shelf.PlaceOrder()
	placeChoices := []string{}
	for _, place := range places {
		placeChoices = append(placeChoices, place.ID, place.Name)
	}
	sizes := []string{"", "not known"}
	for _, s := range pantry.Sizes {
		sizes = append(sizes, s.ID, s.Name)
	}
	head := say("New batch: %s", food.Name)
	if known {
		head = say("Change: %s", b.Name())
	}
	return elem("form", "card batch-form").On("submit", p.onSubmit).Body(
		title(head),
		only(food.Caution != "", func() app.UI { return txt("p", "notice", food.Caution) }),
		el("div", "grid",
			p.words("Canned on", "date", string(b.Made), "", 10, func(v string) { b.Made = pantry.Day(v) }),
			only(!known, func() app.UI {
				return field("Jars", input("number", strconv.Itoa(b.Count), "").Attr("min", 1).Attr("max", pantry.MostJars).
					On("change", func(ctx app.Context, e app.Event) { b.Count, _ = strconv.Atoi(typed(ctx)) }, app.EventScope("count", p.turn)))
			}),
			menu(p.turn, "Size", b.Size, func(v string) { b.Size = v }, sizes...),
			only(!known && len(places) > 0, func() app.UI {
				return menu(p.turn, "Stands in", p.into, func(v string) { p.into = v }, append(placeChoices, "", "a new place")...)
			}),
			only(!known && p.into == "", func() app.UI {
				return p.words("Name of the place", "text", p.fresh, "cellar, shelf 1", pantry.MostName, func(v string) { p.fresh = v })
			}),
		),
		el("div", "grid",
			only(food.Condition != nil, func() app.UI {
				c := food.Condition
				return menu(p.turn, c.Ask, b.Condition, func(v string) { b.Condition = v },
					"", "not known", rules.ConditionMet.ID(), c.OK, rules.ConditionNot.ID(), c.Not)
			}),
			signMenu(p.turn, rules.SignStanding, b.Standing, func(v string) { b.Standing = v }),
			signMenu(p.turn, rules.SignMethod, b.Method, func(v string) { b.Method = v }),
			only(food.Class != rules.ClassAcid && food.Class != rules.ClassLow, func() app.UI {
				return signMenu(p.turn, rules.SignAcid, b.Acid, func(v string) { b.Acid = v })
			}),
			signMenu(p.turn, rules.SignExtras, b.Extras, func(v string) { b.Extras = v }),
			signMenu(p.turn, rules.SignClosure, b.Closure, func(v string) { b.Closure = v }),
		),
		p.processFields(b),
		el("div", "grid", signMenu(p.turn, rules.SignProcess, b.Followed, func(v string) { b.Followed = v })),
		p.worked(b),
		elem("details", "").Body(
			txt("summary", "", "Name, lid lot, notes"),
			p.words("Your name for it", "text", b.Title, food.Name, pantry.MostName, func(v string) { b.Title = v }),
			p.words("Lid lot", "text", b.LidLot, "as printed on the box", pantry.MostName, func(v string) { b.LidLot = v }),
			p.words("Where the recipe is from", "text", b.RecipeFrom, "", pantry.MostName, func(v string) { b.RecipeFrom = v }),
			field("Notes", elem("textarea", "").Attr("rows", 3).Attr("maxlength", pantry.MostNotes).Text(b.Notes).
				On("change", func(ctx app.Context, e app.Event) { b.Notes = strings.Join(strings.Fields(typed(ctx)), " ") }, app.EventScope("notes", p.turn))),
		),
		live("", only(len(p.errors) > 0, func() app.UI { return el("ul", "notice", texts(p.errors)...) })),
		el("p", "row",
			elem("button", "button big").Attr("type", "submit").Text(local("Save the batch")),
			action("button plain", "Cancel", func() {
				p.edit = nil
				p.turned()
			}, "cancel"),
		),
	)
}

// processFields are the figures that are held against the published tables.
func (p *batchPage) processFields(b *pantry.Batch) app.UI {
	tables := processed.Tables(b.Food())
	names := []string{"", "which is it?"}
	for _, t := range tables {
		names = append(names, t, strings.ReplaceAll(strings.ReplaceAll(t, "-", " "), "/", ", "))
	}
	pressure := b.Method == rules.MethodPressure.ID()
	return el("div", "grid",
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
		altitudeMenu(p.house),
	)
}

// worked says at once whether the process meets the published one, and what
// that makes of the jars.
func (p *batchPage) worked(b *pantry.Batch) app.UI {
	j := b.Process(p.house.settings.AltitudeFeet)
	s := rules.NewSituation()
	_ = b.Food().Tell(&s) // a test tells every product
	b.Tell(&s, p.house.settings.AltitudeFeet)
	o := rules.Judge(s)
	return live("worked",
		txt("p", "", say("Against the published process: %s.", j.Possible.String())),
		el("ul", "", texts(j.Why())...),
		only(j.Possible == process.Agrees, func() app.UI {
			return tick(p.turn, "I have found the same in current published guidance", b.FoundMet, func(on bool) { b.FoundMet = on })
		}),
		el("p", "", prose("With all else sound these jars can be: "), verdictWord(o.Lowest)),
	)
}

// onSubmit saves the batch, its jars and, if it is new, their place: all of
// them or none.
func (p *batchPage) onSubmit(ctx app.Context, e app.Event) {
	e.PreventDefault()
	b, now := p.edit, time.Now()
	p.errors = nil
	known := p.house.shelf.Batches[b.ID] != nil
	if known {
		b.Touch(now)
	}
	if err := b.Validate(); err != nil {
		p.errors = strings.Split(plain(err), "\n")
	}
	if b.Late(pantry.DayOf(now)) {
		p.errors = append(p.errors, say("Canned on %s: that day has not come yet.", dayWords(b.Made)))
	}
	records := []pantry.Record{b}
	if !known {
		more, err := p.fill(b, now)
		if err != nil {
			p.errors = append(p.errors, plain(err))
		}
		records = append(records, more...)
	}
	if len(p.errors) > 0 {
		return
	}
	p.house.keep(p.ctx, func() {
		rememberBatch(b)
		p.edit, p.id = nil, b.ID
		p.said = say("Saved: %s, %s.", b.Name(), count(b.Count, "jar", "jars"))
		p.house.replaceAddress(link("/batch?id=" + b.ID))
		p.turned()
	}, records...)
}

// fill makes the jars of a new batch, and their place if it is new.
func (p *batchPage) fill(b *pantry.Batch, now time.Time) (records []pantry.Record, err error) {
	into := p.into
	if into == "" {
		place, err := pantry.NewPlace(strings.TrimSpace(cmpOr(p.fresh, "Shelf 1")), now)
		if err != nil {
			return nil, err
		}
		place.Order = len(p.house.shelf.Places)
		if err := place.Validate(); err != nil {
			return nil, err
		}
		into = place.ID
		records = append(records, place)
	}
	jars, err := newJars(b, into, now)
	return append(records, jars...), err
}

// batch shows a batch and its jars.
func (p *batchPage) batch(b *pantry.Batch) app.UI {
	s := p.house.shelf
	s.judged(time.Now())
	var groups []*pantry.Group
	for _, g := range s.groups {
		if g.Batch == b {
			groups = append(groups, g)
		}
	}
	jars := s.OfBatch(b.ID)
	gone := 0
	for _, j := range jars {
		if j.Standing().Stage == pantry.IsGone {
			gone++
		}
	}
	j := b.Process(p.house.settings.AltitudeFeet)
	return el("div", "",
		title(say("%s %s", b.Name(), b.Made.Year())),
		el("p", "", prose(say("Canned %s, %s, %v gone. Process: %s.", dayWords(b.Made), count(b.Count, "jar", "jars"), gone, processWords(&j)))),
		p.aside(b),
		fold("", "The record", p.recordList(b)),
		el("ul", "shelf", each(len(groups), func(i int) app.UI { return p.house.groupRow(groups[i], false) })...),
		p.together(groups),
		fold("", "Every jar", el("ul", "", each(len(jars), func(i int) app.UI {
			v := s.Judge(jars[i], time.Now())
			return el("li", "", anchor("", "/jar?id="+jars[i].ID, say("Jar %v", jars[i].Number)), prose(say(" · %s", stageWords(&v))))
		})...)),
		el("p", "row",
			action("button plain", "Change the record", func() {
				copied := *b
				p.edit = &copied
				p.turned()
			}, b.ID),
			anchor("button plain", "/labels?batch="+b.ID, "Print labels"),
			action("button plain", "Another batch of this", func() { p.begin(b.Food(), b.Title) }, b.ID, "again"),
			action("quiet", "Delete the batch and its jars", func() { p.remove(b) }, b.ID),
		),
	)
}

// processWords says what a judgement of the process comes to.
func processWords(j *process.Judgement) string {
	if j.Possible.Settled() {
		return j.Possible.String()
	}
	return "cannot be told from what is recorded"
}

// stageWords says where a jar stands and what it comes to.
func stageWords(v *pantry.Verdict) string {
	if v.Basis.Stage == pantry.IsGone {
		return say("gone since %s", dayWords(pantry.DayOf(v.Basis.Ended.At)))
	}
	return verdictWords(v)
}

// recordList is what the batch says of its canning.
func (p *batchPage) recordList(b *pantry.Batch) app.UI {
	var lines []string
	add := func(label, value string) {
		if value != "" {
			lines = append(lines, label+": "+value)
		}
	}
	for _, s := range []struct {
		id    rules.SignID
		value string
	}{{rules.SignCondition, b.Condition}, {rules.SignStanding, b.Standing}, {rules.SignMethod, b.Method}, {rules.SignAcid, b.Acid}, {rules.SignExtras, b.Extras}, {rules.SignClosure, b.Closure}} {
		if v, ok := s.id.ValueByID(s.value); ok {
			add(s.id.Info().Name, v.Info().Label)
		} else {
			add(s.id.Info().Name, "not known")
		}
	}
	for _, s := range pantry.Sizes {
		if s.ID == b.Size {
			add("Jar", s.Name)
		}
	}
	for _, n := range []struct {
		label, unit string
		v           *int
		scale       int
	}{{"Minutes", "", b.Minutes, 1}, {"Pressure", " psi", b.TenthsPSI, 10}, {"Altitude", " ft", b.Feet, 1}} {
		if n.v != nil {
			add(n.label, decimal(*n.v, n.scale)+n.unit)
		}
	}
	add("Lid lot", b.LidLot)
	add("Recipe from", b.RecipeFrom)
	add("Notes", b.Notes)
	return el("ul", "", texts(lines)...)
}

// aside shows what another device wrote of the same batch.
func (p *batchPage) aside(b *pantry.Batch) app.UI {
	if len(b.Aside) == 0 {
		return nil
	}
	return el("div", "notice",
		txt("p", "", "Two devices changed this batch apart from each other. This is the version that counts; the other said:"),
		el("ul", "", each(len(b.Aside), func(i int) app.UI {
			r, err := pantry.Decode(pantry.Batches, b.Aside[i])
			if err != nil {
				return txt("li", "", "a version that cannot be read")
			}
			other := r.(*pantry.Batch)
			return el("li", "", p.recordList(other), action("button plain", "Use this version", func() {
				took := *other
				took.Head = b.Head
				took.Settle(time.Now())
				p.house.commit(p.ctx, &took)
				p.turned()
			}, b.ID, i))
		})...),
		action("button plain", "Keep what counts now", func() {
			kept := *b
			kept.Settle(time.Now())
			p.house.commit(p.ctx, &kept)
			p.turned()
		}, b.ID, "settle"),
	)
}

// together moves some jars of a group to another place: a group is split, and
// what comes together in a place is one group again.
func (p *batchPage) together(groups []*pantry.Group) app.UI {
	places := p.house.shelf.PlaceOrder()
	if len(places) < 2 {
		return nil
	}
	var movable []*pantry.Group
	for _, g := range groups {
		if g.State != pantry.ToSeek {
			movable = append(movable, g)
		}
	}
	return fold("", "Move jars", el("div", "", each(len(movable), func(i int) app.UI {
		g := movable[i]
		n := len(g.Jars)
		if p.moving > 0 && p.moving < n {
			n = p.moving
		}
		return el("div", "grid",
			field(say("How many of the %v in %s", len(g.Jars), p.house.shelf.PlaceName(g.Place)),
				input("number", fmt.Sprint(n), "").Attr("min", 1).Attr("max", len(g.Jars)).On("change", func(ctx app.Context, e app.Event) {
					p.moving, _ = strconv.Atoi(typed(ctx))
				}, app.EventScope(g.First().Jar.ID, p.turn))),
			menu(p.turn, "To", "", func(to string) { p.move(g, n, to) }, placeChoices(places, g.Place)...),
		)
	})...))
}

// placeChoices lists places to move to, but for the one where a jar is.
func placeChoices(places []*pantry.Place, but string) []string {
	choices := []string{"", "choose a place"}
	for _, place := range places {
		if place.ID != but {
			choices = append(choices, place.ID, place.Name)
		}
	}
	return choices
}

func (p *batchPage) move(g *pantry.Group, n int, to string) {
	if to == "" {
		return
	}
	var records []pantry.Record
	for i := range g.Jars[:max(1, min(n, len(g.Jars)))] {
		j := g.Jars[i].Jar
		e, err := j.Add(pantry.Moved, time.Now())
		if err != nil {
			p.house.complain(plain(err))
			return
		}
		e.Place = to
		records = append(records, j)
	}
	p.house.keep(p.ctx, func() {
		p.said = say("%s moved to %s.", count(len(records), "jar", "jars"), p.house.shelf.PlaceName(to))
		p.moving = 0
		p.turned()
	}, records...)
}

// remove puts a batch and its jars in the bin.
func (p *batchPage) remove(b *pantry.Batch) {
	now := time.Now()
	var records []pantry.Record
	for _, j := range p.house.shelf.OfBatch(b.ID) {
		j.Delete(now)
		records = append(records, j)
	}
	b.Delete(now)
	if p.house.commit(p.ctx, append(records, b)...) {
		p.house.deleted = append(records, b)
		p.id = ""
		p.house.replaceAddress(link("/batch"))
		p.turned()
	}
}
