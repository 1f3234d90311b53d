package batch

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/pantry"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/process"
)

// Page records a batch, and shows one with its jars.
type Page struct {
	app.Compo
	House *house.House

	ctx    app.Context
	ready  bool
	id     string // of the batch shown; "" for a new one
	edit   *record.Batch
	find   parts.Finder      // of the product
	group  rules.Group       // that is open
	into   string            // place of the new jars, or newPlace
	fresh  string            // name of a place to be made
	told   *record.Place     // what is said of the place, while it is not known
	from   *record.Check     // of the one jar that is put on the shelf
	cold   bool              // it is open, and goes into the refrigerator
	last   *record.Batch     // of the same food, offered again
	opened rules.SignID      // the line of the record whose other answers are shown; 0 for none
	went   bool              // the figures are those of a published way that was touched
	anew   int               // makes the fields of the figures fresh ones
	month  string            // whose days are offered, as 2006-01; "" for none
	bad    map[string]string // what stands in a field and cannot be taken, by its label
	errors []string
	busy   bool // the form is being saved
	said   string
	undo   func()            // takes back what the notice says
	look   bool              // all jars are being looked at together
	some   bool              // and some of them are not sound
	odd    map[string]bool   // those
	turn   int               // makes each form a fresh one
	moving map[string]int    // how many jars of a group to move, by its first jar
	to     map[string]string // and where to
}

func (p *Page) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/batch") {
		return
	}
	q := ctx.Page().URL().Query()
	*p = Page{Compo: p.Compo, House: p.House, ctx: ctx, turn: p.turn + 1, ready: p.ready}
	p.id, p.look = q.Get("id"), q.Get("look") != ""
	p.House.Shelved(ctx, func(app.Context) {
		p.ready = true
		if food, ok := rules.ProductByID(q.Get("product")); ok && p.id == "" {
			p.begin(food, "")
		}
	})
	if check := q.Get("check"); check != "" {
		cold := q.Get("cold") != ""
		p.House.Find(ctx, check, func(ctx app.Context, s *session.Session) {
			if s == nil || s.Check.Jar != "" {
				return
			}
			p.House.Shelved(ctx, func(app.Context) { p.take(&s.Check, cold) })
		})
	}
}

func (p *Page) Render() app.UI {
	if !p.ready {
		return ui.Frame("/shelf", ui.Title("A batch"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	body := []app.UI{p.House.Notices(), p.House.UndoDelete(), ui.Live("", ui.Only(p.said != "" && !p.look, func() app.UI {
		return ui.El("p", "notice", ui.Prose(p.said+" "), ui.Only(p.undo != nil, func() app.UI { return ui.Action("button plain", "Undo", p.takeBack, p.turn) }))
	}))}
	b := p.House.Shelf.Batches[p.id]
	switch {
	case p.edit != nil:
		body = append(body, p.form())
	case p.id == "":
		body = append(body, p.picker())
	case b == nil:
		body = append(body, ui.Title("This batch is not on this device"), ui.El("p", "", ui.Anchor("button", "/shelf", "The shelf")))
	case p.look && len(p.toLook(b)) > 0:
		body = append(body, p.lookAll(b))
	default:
		body = append(body, p.batch(b))
	}
	return ui.Frame("/shelf", body...)
}

// picker finds the product of a new batch: one that was canned before, by its group
// or by its name.
func (p *Page) picker() app.UI {
	if p.find.Busy() {
		return p.find.Step(p.begin, p.turned)
	}
	query := p.find.Query
	var found, before []rules.Hit
	if query != "" {
		found = rules.Search(query, parts.MostShown)
	} else {
		var foods []*rules.Product
		for _, b := range p.House.Shelf.BatchOrder() {
			if f := b.Food(); !slices.Contains(foods, f) && len(foods) < 6 {
				foods = append(foods, f)
			}
		}
		before = parts.PlainHits(foods)
	}
	return ui.El("div", "picker",
		ui.Title("What was canned?"),
		p.find.NameField(),
		ui.Live("", ui.Only(query != "" && len(found) == 0, func() app.UI { return ui.Txt("p", "", "We have nothing by that name.") })),
		ui.Only(query != "", func() app.UI { return p.find.Products(found, p.begin, p.turned) }),
		ui.Only(len(before) > 0, func() app.UI {
			return ui.El("div", "", ui.Txt("p", "hint", "Canned before:"), p.find.Products(before, p.begin, p.turned))
		}),
		ui.Only(query == "", p.groups),
		ui.El("p", "row",
			ui.Action("button plain", "Record it as not in the list", func() {
				p.find.Unlist()
				p.turned()
			}),
			ui.Anchor("button plain", "/many", "Enter many at once"),
		),
	)
}

// groups lists the catalogue to browse. Only the group that is open is filled.
func (p *Page) groups() app.UI {
	return ui.El("div", "groups", ui.Each(len(rules.GroupNames), func(i int) app.UI {
		g := rules.GroupNames[i]
		if g.Group == rules.GroupUnlisted {
			return nil
		}
		open := p.group == g.Group
		return ui.Elem("details", "").Attr("open", open).Body(
			ui.Elem("summary", "").Text(ui.Local(g.Name)).On("click", func(ctx app.Context, e app.Event) {
				e.PreventDefault()
				if p.group = g.Group; open {
					p.group = ""
				}
			}, app.EventScope(g.Group, open)),
			ui.Only(open, func() app.UI { return p.find.Products(parts.PlainHits(rules.ProductsOf(g.Group)), p.begin, p.turned) }),
		)
	})...)
}

// begin opens the form of a new batch. Nothing is carried over from another food but
// where the jars stand and how high the household lives; what was said of the last
// batch of the same food is offered, to be confirmed. The person may have a name of
// their own for the food.
func (p *Page) begin(product *rules.Product, own string) {
	b, err := record.NewBatch(product.ID, time.Now())
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	b.Count, b.Title = 0, own
	if feet := p.House.Settings.AltitudeFeet; feet != nil {
		here := *feet
		b.Feet = &here
	}
	if ids, _ := b.Kinds(); len(ids) == 1 {
		b.Table = ids[0]
	}
	p.last = nil
	for _, old := range p.House.Shelf.BatchOrder() {
		if old.Product == b.Product {
			p.last = old
			break
		}
	}
	p.into, p.fresh, p.told = p.House.LastPlace(), "", nil
	p.find, p.group, p.edit, p.said, p.undo, p.look = parts.Finder{}, "", b, "", nil, false
	p.went, p.opened, p.month, p.bad = false, 0, "", map[string]string{}
	p.from, p.cold = nil, false
	p.turned()
}

func (p *Page) turned() {
	p.turn++
	p.errors = nil
	ui.Focus(p.ctx, "title")
}

// words is a labelled field of text.
func (p *Page) words(label, kind, value, hint string, most int, set func(string)) app.UI {
	return ui.Field(label, ui.Input(kind, value, hint).Attr("maxlength", most).On("change", func(ctx app.Context, e app.Event) { set(ui.Typed(ctx)) }, app.EventScope(label, p.turn)))
}

// number is a labelled field for a number, in units of 1/scale; empty is not
// known. What is no such number is said and not taken.
func (p *Page) number(label string, v *int, scale int, set func(*int)) app.UI {
	value := ""
	if v != nil {
		value = ui.Decimal(*v, scale)
	}
	return ui.Field(label, ui.Input("text", value, "").Attr("inputmode", "decimal").Attr("maxlength", 7).
		On("change", func(ctx app.Context, e app.Event) {
			text := strings.TrimSpace(ui.Typed(ctx))
			delete(p.bad, label)
			p.went = false
			if text == "" {
				set(nil)
				return
			}
			n := house.Whole(text, scale)
			if !n.Known {
				p.bad[label] = ui.Say("%s: “%s” is not a number that can be taken here.", ui.Local(label), text)
				return
			}
			set(&n.Low)
		}, app.EventScope(label, p.turn)))
}

// onSubmit saves the batch, its jars and, if it is new, their place: all of
// them or none.
func (p *Page) onSubmit(ctx app.Context, e app.Event) {
	e.PreventDefault()
	p.saveBatch()
}

func (p *Page) saveBatch() {
	if p.busy {
		return
	}
	b, now := p.edit, time.Now()
	p.errors = p.badWords()
	if p.month != "" {
		// The day that the form still holds is not the one that is being chosen.
		p.errors = append(p.errors, ui.Say("Canned on which day of %s?", ui.MonthWords(p.month, "long")))
	}
	known := p.House.Shelf.Batches[b.ID] != nil
	if known {
		b.Touch(now)
	}
	if b.Count == 0 {
		p.errors = append(p.errors, "How many jars?")
	} else if err := b.Validate(); err != nil {
		p.errors = append(p.errors, strings.Split(strings.ReplaceAll(ui.Plain(err), "batch "+b.ID+": ", ""), "\n")...)
	}
	if b.Late(record.DayOf(now)) {
		p.errors = append(p.errors, ui.Say("Canned on %s: that day has not come yet.", ui.DayWords(b.Made)))
	}
	records := []record.Record{b}
	if !known {
		more, err := p.fill(b, now)
		if err != nil {
			p.errors = append(p.errors, ui.Plain(err))
		}
		records = append(records, more...)
	}
	if len(p.errors) > 0 {
		return
	}
	p.House.Send(p.ctx, &p.busy, func() {
		p.edit, p.id, p.undo = nil, b.ID, nil
		p.said = ui.Say("Saved: %s, %s.", b.Name(), ui.Count(b.Count, "jar", "jars"))
		p.look, _ = b.LookToo(now)
		p.look = p.look && !known && p.from == nil
		p.from = nil
		p.House.ReplaceAddress(ui.Link("/batch?id=" + b.ID))
		p.turned()
	}, records...)
}

// stands is the place of the new jars, and whether it has to be written: because it
// is new, or because something was said of it.
func (p *Page) stands(now time.Time) (place *record.Place, changed bool, err error) {
	place = p.House.Shelf.Places[p.into]
	switch {
	case place == nil:
		if place, err = record.NewPlace(strings.TrimSpace(ui.CmpOr(p.fresh, "Shelf 1")), now); err != nil {
			return nil, false, err
		}
		place.Order = len(p.House.Shelf.Places)
		changed = true
	case p.told != nil && p.told.AnyTold():
		copied := *place
		place = &copied
		place.Touch(now)
		changed = true
	}
	if p.told != nil && changed {
		place.Wet, place.Light, place.Air = p.told.Wet, p.told.Light, p.told.Air
	}
	return place, changed, place.Validate()
}

// fill makes the jars of a new batch, and their place if it has to be written.
func (p *Page) fill(b *record.Batch, now time.Time) (records []record.Record, err error) {
	if p.from != nil {
		return p.settle(b, now)
	}
	place, changed, err := p.stands(now)
	if err != nil {
		return nil, err
	}
	if changed {
		records = append(records, place)
	}
	jars, err := record.NewJars(b, place.ID, now)
	return append(records, jars...), err
}

// change opens the form of a batch that is recorded.
func (p *Page) change(b *record.Batch) {
	copied := *b
	p.edit, p.said, p.undo, p.went, p.opened, p.month, p.bad = &copied, "", nil, false, 0, "", map[string]string{}
	p.turned()
}

// batch shows a batch and its jars.
func (p *Page) batch(b *record.Batch) app.UI {
	s := p.House.Shelf
	s.Judged(time.Now())
	var groups []*pantry.Group
	for _, g := range s.Grouped {
		if g.Batch == b {
			groups = append(groups, g)
		}
	}
	jars := s.OfBatch(b.ID)
	gone := 0
	for _, j := range jars {
		if j.Standing().Stage == record.IsGone {
			gone++
		}
	}
	j := b.Process(p.House.Settings.AltitudeFeet)
	return ui.El("div", "",
		ui.Title(ui.Say("%s %s", b.Name(), b.Made.Year())),
		ui.El("p", "", ui.Prose(ui.Say("Canned %s, %s, %v gone. Process: %s.", ui.DayWords(b.Made), ui.Count(b.Count, "jar", "jars"), gone, processWords(&j)))),
		p.aside(b),
		p.next(b),
		ui.Fold("", "The record", p.recordList(b)),
		ui.El("ul", "shelf", ui.Each(len(groups), func(i int) app.UI { return parts.GroupRow(p.House, groups[i], false) })...),
		p.together(groups),
		ui.Fold("", "Every jar", ui.El("ul", "", ui.Each(len(jars), func(i int) app.UI {
			v := s.Judge(jars[i], time.Now())
			return ui.El("li", "", ui.Anchor("", "/jar?id="+jars[i].ID, ui.Say("Jar %v", jars[i].Number)), ui.Prose(ui.Say(" · %s", stageWords(&v))))
		})...)),
		ui.El("p", "row",
			ui.Action("button plain", "Change the record", func() { p.change(b) }, b.ID),
			ui.Anchor("button plain", "/labels?batch="+b.ID, "Print labels"),
			ui.Action("quiet", "Delete the batch and its jars", func() { p.remove(b) }, b.ID),
		),
	)
}

// processWords says what a judgement of the process comes to.
func processWords(j *process.Judgement) string {
	if j.Possible.Settled() {
		return j.Possible.String()
	}
	return "can't be known from what is recorded"
}

// stageWords says where a jar stands and what it comes to.
func stageWords(v *pantry.Verdict) string {
	if v.Basis.Stage == record.IsGone {
		return ui.Say("gone since %s", ui.DayWords(record.DayOf(v.Basis.Ended.At)))
	}
	return parts.VerdictWords(v)
}

// recordList is what the batch says of its canning.
func (p *Page) recordList(b *record.Batch) app.UI {
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
	for _, s := range record.Sizes {
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
			add(n.label, ui.Decimal(*n.v, n.scale)+n.unit)
		}
	}
	add("Lid lot", b.LidLot)
	add("Recipe from", b.RecipeFrom)
	add("Notes", b.Notes)
	return ui.El("ul", "", ui.Texts(lines)...)
}

// aside shows what another device wrote of the same batch.
func (p *Page) aside(b *record.Batch) app.UI {
	if len(b.Aside) == 0 {
		return nil
	}
	return ui.El("div", "notice",
		ui.Txt("p", "", "Two devices changed this batch apart from each other. This is the version that counts; the other said:"),
		ui.El("ul", "", ui.Each(len(b.Aside), func(i int) app.UI {
			r, err := record.Decode(record.Batches, b.Aside[i])
			if err != nil {
				return ui.Txt("li", "", "a version that cannot be read")
			}
			other := r.(*record.Batch)
			return ui.El("li", "", p.recordList(other), ui.Action("button plain", "Use this version", func() {
				took := *other
				took.Head = b.Head
				took.Settle(time.Now())
				p.House.Commit(&took)
				p.turned()
			}, b.ID, i))
		})...),
		ui.Action("button plain", "Keep what counts now", func() {
			kept := *b
			kept.Settle(time.Now())
			p.House.Commit(&kept)
			p.turned()
		}, b.ID, "settle"),
	)
}

// together moves some jars of a group to another place: a group is split, and
// what comes together in a place is one group again. Nothing moves before a button
// that says how many was touched.
func (p *Page) together(groups []*pantry.Group) app.UI {
	places := p.House.Shelf.PlaceOrder()
	if len(places) < 2 {
		return nil
	}
	var movable []*pantry.Group
	for _, g := range groups {
		if g.State != pantry.ToSeek {
			movable = append(movable, g)
		}
	}
	return ui.Fold("", "Move jars", ui.El("div", "", ui.Each(len(movable), func(i int) app.UI {
		g := movable[i]
		first, n := g.First().Jar.ID, len(g.Jars)
		if m := p.moving[first]; m > 0 && m < n {
			n = m
		}
		return ui.El("div", "grid",
			ui.Field(ui.Say("How many of the %v in %s", len(g.Jars), p.House.Shelf.PlaceName(g.Place)),
				ui.Input("number", fmt.Sprint(n), "").Attr("min", 1).Attr("max", len(g.Jars)).On("change", func(ctx app.Context, e app.Event) {
					if p.moving == nil {
						p.moving = map[string]int{}
					}
					p.moving[first], _ = strconv.Atoi(ui.Typed(ctx))
				}, app.EventScope(first, p.turn))),
			ui.Menu(p.turn, "To", p.to[first], func(to string) {
				if p.to == nil {
					p.to = map[string]string{}
				}
				p.to[first] = to
			}, placeChoices(places, g.Place)...),
			ui.Only(p.to[first] != "", func() app.UI {
				return ui.Action("button", ui.Say("Move %s to %s", ui.Count(n, "jar", "jars"), p.House.Shelf.PlaceName(p.to[first])), func() { p.move(g, n, p.to[first]) }, first, n)
			}),
		)
	})...))
}

// placeChoices lists places to move to, but for the one where a jar is.
func placeChoices(places []*record.Place, but string) []string {
	choices := []string{"", "choose a place"}
	for _, place := range places {
		if place.ID != but {
			choices = append(choices, place.ID, place.Name)
		}
	}
	return choices
}

func (p *Page) move(g *pantry.Group, n int, to string) {
	var records []record.Record
	events := map[string]string{} // by jar
	for i := range g.Jars[:max(1, min(n, len(g.Jars)))] {
		j := g.Jars[i].Jar
		e, err := j.Add(record.Moved, time.Now())
		if err != nil {
			p.House.Complain(ui.Plain(err))
			return
		}
		e.Place = to
		events[j.ID] = e.ID
		records = append(records, j)
	}
	p.House.Keep(p.ctx, func() {
		p.happened(ui.Say("%s moved to %s.", ui.Count(len(records), "jar", "jars"), p.House.Shelf.PlaceName(to)), events)
		p.moving, p.to = nil, nil
		p.turned()
	}, records...)
}

// happened says what happened to jars, and how to take it back for as long as the notice
// stands: events are by jar.
func (p *Page) happened(words string, events map[string]string) {
	p.said = words
	p.undo = func() {
		var records []record.Record
		for jar, event := range events {
			if j := p.House.Shelf.Jars[jar]; j != nil {
				j.Undo(event, true)
				records = append(records, j)
			}
		}
		p.House.Keep(p.ctx, func() {
			p.said, p.undo = ui.Say("Undone for %s.", ui.Count(len(records), "jar", "jars")), nil
			p.turned()
		}, records...)
	}
}

// takeBack takes back what the notice says.
func (p *Page) takeBack() { p.undo() }

// remove puts a batch and its jars in the bin.
func (p *Page) remove(b *record.Batch) {
	now := time.Now()
	var records []record.Record
	for _, j := range p.House.Shelf.OfBatch(b.ID) {
		j.Delete(now)
		records = append(records, j)
	}
	b.Delete(now)
	records = append(records, b)
	p.House.Keep(p.ctx, func() {
		p.House.Deleted = records
		p.id = ""
		p.House.ReplaceAddress(ui.Link("/batch"))
		p.turned()
	}, records...)
}
