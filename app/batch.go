package app

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/process"
)

// batchPage records a batch, and shows one with its jars.
type batchPage struct {
	app.Compo
	house *household

	ctx    app.Context
	ready  bool
	id     string // of the batch shown; "" for a new one
	edit   *record.Batch
	find   finder            // of the product
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

func (p *batchPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/batch") {
		return
	}
	q := ctx.Page().URL().Query()
	*p = batchPage{Compo: p.Compo, house: p.house, ctx: ctx, turn: p.turn + 1, ready: p.ready}
	p.id, p.look = q.Get("id"), q.Get("look") != ""
	p.house.shelved(ctx, func(app.Context) {
		p.ready = true
		if food, ok := rules.ProductByID(q.Get("product")); ok && p.id == "" {
			p.begin(food, "")
		}
	})
	if check := q.Get("check"); check != "" {
		cold := q.Get("cold") != ""
		p.house.find(ctx, check, func(ctx app.Context, s *session) {
			if s == nil || s.check.Jar != "" {
				return
			}
			p.house.shelved(ctx, func(app.Context) { p.take(&s.check, cold) })
		})
	}
}

func (p *batchPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("A batch"), txt("p", "", "Opening what is kept on this device…"))
	}
	body := []app.UI{p.house.notices(), p.house.undoDelete(p.ctx), live("", only(p.said != "" && !p.look, func() app.UI {
		return el("p", "notice", prose(p.said+" "), only(p.undo != nil, func() app.UI { return action("button plain", "Undo", p.takeBack, p.turn) }))
	}))}
	b := p.house.shelf.Batches[p.id]
	switch {
	case p.edit != nil:
		body = append(body, p.form())
	case p.id == "":
		body = append(body, p.picker())
	case b == nil:
		body = append(body, title("This batch is not on this device"), el("p", "", anchor("button", "/shelf", "The shelf")))
	case p.look && len(p.toLook(b)) > 0:
		body = append(body, p.lookAll(b))
	default:
		body = append(body, p.batch(b))
	}
	return frame("/shelf", body...)
}

// picker finds the product of a new batch: one that was canned before, by its group
// or by its name.
func (p *batchPage) picker() app.UI {
	if p.find.busy() {
		return p.find.step(p.begin, p.turned)
	}
	query := p.find.query
	var found, before []rules.Hit
	if query != "" {
		found = rules.Search(query, mostShown)
	} else {
		var foods []*rules.Product
		for _, b := range p.house.shelf.BatchOrder() {
			if f := b.Food(); !slices.Contains(foods, f) && len(foods) < 6 {
				foods = append(foods, f)
			}
		}
		before = plainHits(foods)
	}
	return el("div", "picker",
		title("What was canned?"),
		p.find.nameField(),
		live("", only(query != "" && len(found) == 0, func() app.UI { return txt("p", "", "We have nothing by that name.") })),
		only(query != "", func() app.UI { return p.find.products(found, p.begin, p.turned) }),
		only(len(before) > 0, func() app.UI {
			return el("div", "", txt("p", "hint", "Canned before:"), p.find.products(before, p.begin, p.turned))
		}),
		only(query == "", p.groups),
		el("p", "row",
			action("button plain", "Record it as not in the list", func() {
				p.find.unlist()
				p.turned()
			}),
			anchor("button plain", "/many", "Enter many at once"),
		),
	)
}

// groups lists the catalogue to browse. Only the group that is open is filled.
func (p *batchPage) groups() app.UI {
	return el("div", "groups", each(len(rules.GroupNames), func(i int) app.UI {
		g := rules.GroupNames[i]
		if g.Group == rules.GroupUnlisted {
			return nil
		}
		open := p.group == g.Group
		return elem("details", "").Attr("open", open).Body(
			elem("summary", "").Text(local(g.Name)).On("click", func(ctx app.Context, e app.Event) {
				e.PreventDefault()
				if p.group = g.Group; open {
					p.group = ""
				}
			}, app.EventScope(g.Group, open)),
			only(open, func() app.UI { return p.find.products(plainHits(rules.ProductsOf(g.Group)), p.begin, p.turned) }),
		)
	})...)
}

// begin opens the form of a new batch. Nothing is carried over from another food but
// where the jars stand and how high the household lives; what was said of the last
// batch of the same food is offered, to be confirmed. The person may have a name of
// their own for the food.
func (p *batchPage) begin(product *rules.Product, own string) {
	b, err := record.NewBatch(product.ID, time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	b.Count, b.Title = 0, own
	if feet := p.house.settings.AltitudeFeet; feet != nil {
		here := *feet
		b.Feet = &here
	}
	if ids, _ := b.Kinds(); len(ids) == 1 {
		b.Table = ids[0]
	}
	p.last = nil
	for _, old := range p.house.shelf.BatchOrder() {
		if old.Product == b.Product {
			p.last = old
			break
		}
	}
	p.into, p.fresh, p.told = p.house.lastPlace(), "", nil
	p.find, p.group, p.edit, p.said, p.undo, p.look = finder{}, "", b, "", nil, false
	p.went, p.opened, p.month, p.bad = false, 0, "", map[string]string{}
	p.from, p.cold = nil, false
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
			delete(p.bad, label)
			p.went = false
			if text == "" {
				set(nil)
				return
			}
			n := whole(text, scale)
			if !n.Known {
				p.bad[label] = say("%s: “%s” is not a number that can be taken here.", local(label), text)
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

// onSubmit saves the batch, its jars and, if it is new, their place: all of
// them or none.
func (p *batchPage) onSubmit(ctx app.Context, e app.Event) {
	e.PreventDefault()
	p.saveBatch()
}

func (p *batchPage) saveBatch() {
	if p.busy {
		return
	}
	b, now := p.edit, time.Now()
	p.errors = p.badWords()
	if p.month != "" {
		// The day that the form still holds is not the one that is being chosen.
		p.errors = append(p.errors, say("Canned on which day of %s?", monthWords(p.month, "long")))
	}
	known := p.house.shelf.Batches[b.ID] != nil
	if known {
		b.Touch(now)
	}
	if b.Count == 0 {
		p.errors = append(p.errors, "How many jars?")
	} else if err := b.Validate(); err != nil {
		p.errors = append(p.errors, strings.Split(strings.ReplaceAll(plain(err), "batch "+b.ID+": ", ""), "\n")...)
	}
	if b.Late(record.DayOf(now)) {
		p.errors = append(p.errors, say("Canned on %s: that day has not come yet.", dayWords(b.Made)))
	}
	records := []record.Record{b}
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
	p.house.send(p.ctx, &p.busy, func() {
		p.edit, p.id, p.undo = nil, b.ID, nil
		p.said = say("Saved: %s, %s.", b.Name(), count(b.Count, "jar", "jars"))
		p.look, _ = b.LookToo(now)
		p.look = p.look && !known && p.from == nil
		p.from = nil
		p.house.replaceAddress(link("/batch?id=" + b.ID))
		p.turned()
	}, records...)
}

// stands is the place of the new jars, and whether it has to be written: because it
// is new, or because something was said of it.
func (p *batchPage) stands(now time.Time) (place *record.Place, changed bool, err error) {
	place = p.house.shelf.Places[p.into]
	switch {
	case place == nil:
		if place, err = record.NewPlace(strings.TrimSpace(cmpOr(p.fresh, "Shelf 1")), now); err != nil {
			return nil, false, err
		}
		place.Order = len(p.house.shelf.Places)
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
func (p *batchPage) fill(b *record.Batch, now time.Time) (records []record.Record, err error) {
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
	jars, err := newJars(b, place.ID, now)
	return append(records, jars...), err
}

// change opens the form of a batch that is recorded.
func (p *batchPage) change(b *record.Batch) {
	copied := *b
	p.edit, p.said, p.undo, p.went, p.opened, p.month, p.bad = &copied, "", nil, false, 0, "", map[string]string{}
	p.turned()
}

// lastPlace is where the jars of the batch that was recorded last were put; the first
// place when there is none.
func (h *household) lastPlace() string {
	var last *record.Jar
	for _, j := range h.shelf.Jars {
		if last == nil || j.ID > last.ID {
			last = j
		}
	}
	if last != nil && len(last.Events) > 0 && last.Events[0].What == record.Stored {
		if place := h.shelf.Places[last.Events[0].Place]; place != nil {
			return place.ID
		}
	}
	for _, place := range h.shelf.PlaceOrder() {
		if place.What == record.Shelf {
			return place.ID
		}
	}
	return newPlace
}

// batch shows a batch and its jars.
func (p *batchPage) batch(b *record.Batch) app.UI {
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
		if j.Standing().Stage == record.IsGone {
			gone++
		}
	}
	j := b.Process(p.house.settings.AltitudeFeet)
	return el("div", "",
		title(say("%s %s", b.Name(), b.Made.Year())),
		el("p", "", prose(say("Canned %s, %s, %v gone. Process: %s.", dayWords(b.Made), count(b.Count, "jar", "jars"), gone, processWords(&j)))),
		p.aside(b),
		p.next(b),
		fold("", "The record", p.recordList(b)),
		el("ul", "shelf", each(len(groups), func(i int) app.UI { return p.house.groupRow(groups[i], false) })...),
		p.together(groups),
		fold("", "Every jar", el("ul", "", each(len(jars), func(i int) app.UI {
			v := s.Judge(jars[i], time.Now())
			return el("li", "", anchor("", "/jar?id="+jars[i].ID, say("Jar %v", jars[i].Number)), prose(say(" · %s", stageWords(&v))))
		})...)),
		el("p", "row",
			action("button plain", "Change the record", func() { p.change(b) }, b.ID),
			anchor("button plain", "/labels?batch="+b.ID, "Print labels"),
			action("quiet", "Delete the batch and its jars", func() { p.remove(b) }, b.ID),
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
		return say("gone since %s", dayWords(record.DayOf(v.Basis.Ended.At)))
	}
	return verdictWords(v)
}

// recordList is what the batch says of its canning.
func (p *batchPage) recordList(b *record.Batch) app.UI {
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
			add(n.label, decimal(*n.v, n.scale)+n.unit)
		}
	}
	add("Lid lot", b.LidLot)
	add("Recipe from", b.RecipeFrom)
	add("Notes", b.Notes)
	return el("ul", "", texts(lines)...)
}

// aside shows what another device wrote of the same batch.
func (p *batchPage) aside(b *record.Batch) app.UI {
	if len(b.Aside) == 0 {
		return nil
	}
	return el("div", "notice",
		txt("p", "", "Two devices changed this batch apart from each other. This is the version that counts; the other said:"),
		el("ul", "", each(len(b.Aside), func(i int) app.UI {
			r, err := record.Decode(record.Batches, b.Aside[i])
			if err != nil {
				return txt("li", "", "a version that cannot be read")
			}
			other := r.(*record.Batch)
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
// what comes together in a place is one group again. Nothing moves before a button
// that says how many was touched.
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
		first, n := g.First().Jar.ID, len(g.Jars)
		if m := p.moving[first]; m > 0 && m < n {
			n = m
		}
		return el("div", "grid",
			field(say("How many of the %v in %s", len(g.Jars), p.house.shelf.PlaceName(g.Place)),
				input("number", fmt.Sprint(n), "").Attr("min", 1).Attr("max", len(g.Jars)).On("change", func(ctx app.Context, e app.Event) {
					if p.moving == nil {
						p.moving = map[string]int{}
					}
					p.moving[first], _ = strconv.Atoi(typed(ctx))
				}, app.EventScope(first, p.turn))),
			menu(p.turn, "To", p.to[first], func(to string) {
				if p.to == nil {
					p.to = map[string]string{}
				}
				p.to[first] = to
			}, placeChoices(places, g.Place)...),
			only(p.to[first] != "", func() app.UI {
				return action("button", say("Move %s to %s", count(n, "jar", "jars"), p.house.shelf.PlaceName(p.to[first])), func() { p.move(g, n, p.to[first]) }, first, n)
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

func (p *batchPage) move(g *pantry.Group, n int, to string) {
	var records []record.Record
	events := map[string]string{} // by jar
	for i := range g.Jars[:max(1, min(n, len(g.Jars)))] {
		j := g.Jars[i].Jar
		e, err := j.Add(record.Moved, time.Now())
		if err != nil {
			p.house.complain(plain(err))
			return
		}
		e.Place = to
		events[j.ID] = e.ID
		records = append(records, j)
	}
	p.house.keep(p.ctx, func() {
		p.happened(say("%s moved to %s.", count(len(records), "jar", "jars"), p.house.shelf.PlaceName(to)), events)
		p.moving, p.to = nil, nil
		p.turned()
	}, records...)
}

// happened says what happened to jars, and how to take it back for as long as the notice
// stands: events are by jar.
func (p *batchPage) happened(words string, events map[string]string) {
	p.said = words
	p.undo = func() {
		var records []record.Record
		for jar, event := range events {
			if j := p.house.shelf.Jars[jar]; j != nil {
				j.Undo(event, true)
				records = append(records, j)
			}
		}
		p.house.keep(p.ctx, func() {
			p.said, p.undo = say("Taken back for %s.", count(len(records), "jar", "jars")), nil
			p.turned()
		}, records...)
	}
}

// takeBack takes back what the notice says.
func (p *batchPage) takeBack() { p.undo() }

// remove puts a batch and its jars in the bin.
func (p *batchPage) remove(b *record.Batch) {
	now := time.Now()
	var records []record.Record
	for _, j := range p.house.shelf.OfBatch(b.ID) {
		j.Delete(now)
		records = append(records, j)
	}
	b.Delete(now)
	records = append(records, b)
	p.house.keep(p.ctx, func() {
		p.house.deleted = records
		p.id = ""
		p.house.replaceAddress(link("/batch"))
		p.turned()
	}, records...)
}
