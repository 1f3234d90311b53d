package batch

import (
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
	"larderlamp/rules/prose"
)

// Page records a batch, and shows one with its jars.
type Page struct {
	app.Compo
	House *house.House

	ctx    app.Context
	ready  bool
	id     string // the batch shown; "" for a new one
	edit   *record.Batch
	find   parts.Finder              // finds the product
	group  rules.Group               // the group that is open
	into   string                    // place of the new jars, or newPlace
	fresh  string                    // name of a place to be made
	told   *record.Place             // what is said about the place while it is not known
	from   *record.Check             // the check of the jar that is put on the shelf
	cold   bool                      // the jar is open, and goes into the refrigerator
	last   *record.Batch             // the last batch of the same food, offered again
	opened rules.SignID              // the line of the record whose other answers are shown; 0 for none
	went   bool                      // the figures are those of a published way that was chosen
	anew   int                       // changes to make fresh fields for the figures
	month  string                    // month whose days are offered, as 2006-01; "" for none
	bad    map[prose.Text]prose.Text // what was typed and can't be accepted, by the label of its field
	errors []prose.Text
	busy   bool // the form is being saved
	// recorded is the last batch that was recorded on this page; "" for none.
	recorded string
	said     prose.Text
	undo     func()            // undoes what the notice says
	look     bool              // all jars are being looked at together
	some     bool              // some of them are not sound
	odd      map[string]bool   // the ones that are not
	removing bool              // whether to delete the batch is asked
	turn     int               // changes to make each form a fresh one
	moving   map[string]int    // how many jars of a group to move, by its first jar
	to       map[string]string // the place to move them to
}

func (p *Page) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/batch") {
		return
	}
	q := ctx.Page().URL().Query()
	*p = Page{Compo: p.Compo, House: p.House, ctx: ctx, turn: p.turn + 1, ready: p.ready}
	p.id, p.look = q.Get("id"), q.Get("look") != ""
	p.House.WithShelf(ctx, func(app.Context) {
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
			p.House.WithShelf(ctx, func(app.Context) { p.take(&s.Check, cold) })
		})
	}
}

func (p *Page) Render() app.UI {
	if !p.ready {
		return ui.Frame("/shelf", ui.Title("A batch"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	body := []app.UI{p.House.Notices(), p.House.UndoDelete(), ui.Live("", ui.Only(p.said != "" && !p.look, func() app.UI {
		return ui.El("p", "notice", ui.Prose(ui.Say("%s ", p.said)), ui.Only(p.undo != nil, func() app.UI { return ui.Action("button plain", "Undo", p.undoNotice, p.turn) }))
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

func (p *Page) moveOn() {
	p.turn++
	p.errors = nil
	ui.Focus(p.ctx, "title")
}

// words is a labeled field of text.
func (p *Page) words(label prose.Text, kind, value string, hint prose.Text, most int, set func(string)) app.UI {
	return ui.Field(label, ui.Input(kind, value, hint).Attr("maxlength", most).On("change", func(ctx app.Context, e app.Event) { set(ui.Typed(ctx)) }, app.EventScope(label, p.turn)))
}

// number is a labeled field for a number, in units of 1/scale; empty means not
// known. Anything that is not such a number is refused with a message.
func (p *Page) number(label prose.Text, v *int, scale int, set func(*int)) app.UI {
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
				p.bad[label] = ui.Say("%s: “%s” is not a number that can be taken here.", label, text)
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
		p.errors = append(p.errors, ui.EachFault(err)...)
	}
	if b.MadeAfter(record.DayOf(now)) {
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
		p.edit, p.undo = nil, nil
		if !known {
			p.recorded = b.ID
		}
		p.said = ui.Say("Saved: %s, %s.", b.Name(), ui.Count(b.Count, "jar", "jars"))
		p.look, _ = b.CanLookTogether(now)
		p.look = p.look && !known && p.from == nil
		p.from = nil
		p.show(b.ID)
		p.moveOn()
	}, records...)
}

// placeOfJars returns the place of the new jars, and whether it has to be written:
// because it is new, or because something was said about it.
func (p *Page) placeOfJars(now time.Time) (place *record.Place, changed bool, err error) {
	place = p.House.Shelf.Places[p.into]
	switch {
	case place == nil:
		if place, err = record.NewPlace(strings.TrimSpace(ui.CmpOr(p.fresh, ui.Local("Shelf 1"))), now); err != nil {
			return nil, false, err
		}
		place.Order = len(p.House.Shelf.Places)
		changed = true
	case p.told != nil && p.told.AnyKnown():
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
	place, changed, err := p.placeOfJars(now)
	if err != nil {
		return nil, err
	}
	if changed {
		records = append(records, place)
	}
	jars, err := record.NewJars(b, place.ID, now)
	return append(records, jars...), err
}

// change opens the form of a recorded batch.
func (p *Page) change(b *record.Batch) {
	copied := *b
	p.edit, p.said, p.undo, p.went, p.opened, p.month, p.bad = &copied, "", nil, false, 0, "", map[prose.Text]prose.Text{}
	p.moveOn()
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
		p.toDiscard(groups),
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
			ui.Action("quiet", "Delete the batch and its jars", func() { p.removing = !p.removing }, b.ID),
		),
		ui.Live("", ui.Only(p.removing, func() app.UI {
			return ui.El("div", "notice",
				ui.Txt("p", "", ui.Say("This deletes the record of %s %s with %s, and what was seen on them. A jar that was eaten or thrown out need not be deleted: say so on its page.", b.Name(), b.Made.Year(), ui.Count(len(jars), "jar", "jars"))),
				ui.El("p", "row",
					ui.Action("button", ui.Say("Delete %s", ui.Count(len(jars), "jar", "jars")), func() { p.remove(b) }, b.ID, len(jars)),
					ui.Action("button plain", "Keep them", func() { p.removing = false }, b.ID),
				),
			)
		})),
	)
}

// processWords says what the judgment of the process is.
func processWords(j *process.Judgment) prose.Text {
	if j.Possible.Settled() {
		return j.Possible.Text()
	}
	return "can't be known from what is recorded"
}

// stageWords says where a jar is and what the rules say about it.
func stageWords(v *pantry.Verdict) prose.Text {
	if v.Basis.Stage == record.IsGone {
		return ui.Say("gone since %s", ui.DayWords(record.DayOf(v.Basis.Ended.At)))
	}
	return parts.VerdictWords(v)
}

// recordList is what the batch says about its canning.
func (p *Page) recordList(b *record.Batch) app.UI {
	var lines []prose.Text
	add := func(label, value prose.Text) {
		if value != "" {
			lines = append(lines, ui.Say("%s: %s", label, value))
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
		label, shown prose.Text
		v            *int
		scale        int
	}{{"Minutes", "%s", b.Minutes, 1}, {"Pressure", "%s psi", b.TenthsPSI, 10}, {"Altitude", "%s ft", b.Feet, 1}} {
		if n.v != nil {
			add(n.label, ui.Say(n.shown, ui.Decimal(*n.v, n.scale)))
		}
	}
	add("Lid lot", prose.Own(b.LidLot))
	add("Recipe from", prose.Own(b.RecipeFrom))
	add("Notes", prose.Own(b.Notes))
	return ui.El("ul", "", ui.Texts(lines)...)
}

// aside shows what another device wrote about the same batch.
func (p *Page) aside(b *record.Batch) app.UI {
	return parts.Apart(p.House, b, "Two devices changed this batch apart from each other. Until you choose, go by the stricter one. The other says:", p.recordList, p.moveOn)
}

// remove moves a batch and its jars to the trash.
func (p *Page) remove(b *record.Batch) {
	now := time.Now()
	var records []record.Record
	for _, j := range p.House.Shelf.OfBatch(b.ID) {
		j.Delete(now)
		records = append(records, j)
	}
	b.Delete(now)
	records = append(records, b)
	p.removing = false
	p.House.Keep(p.ctx, func() {
		p.House.Deleted = records
		p.show("")
		p.moveOn()
	}, records...)
}
