package sweep

import (
	"fmt"
	"maps"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules"
)

// Page is the walk round all jars: choose where, look at one after the
// other, see what follows.
type Page struct {
	app.Compo
	House *house.House

	ctx     app.Context
	ready   bool
	report  string // id of an ended sweep that is shown
	made    *walk.Report
	walk    *walk.Walk
	chosen  map[string]bool // places for a new sweep
	dueOnly bool
	row     bool            // the whole row is being answered
	except  map[string]bool // jars of the row that are not sound
	unread  int             // lines of the short look that have not been on the screen
	passed  map[string]bool // places that nobody could describe
	finding bool            // a jar that is not in the list is being added
	query   string
	taken   int // answers taken back, one after the other
	said    string
	notice  string // about what was done last, to be seen
	busy    bool   // an answer is being written
	stop    func() // stops listening to keys
	turn    int
}

// How a person likes to walk, kept with the browser.
const (
	handKey  = "larderlamp-hand"  // left, or empty
	soundKey = "larderlamp-sound" // on, or empty
	buzzKey  = "larderlamp-buzz"  // on, or empty
)

func (p *Page) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/sweep") {
		return
	}
	*p = Page{Compo: p.Compo, House: p.House, ctx: ctx, stop: p.stop, ready: p.ready, turn: p.turn + 1, dueOnly: true, except: map[string]bool{}, passed: map[string]bool{}}
	p.House.Screen = p
	p.report = ctx.Page().URL().Query().Get("report")
	p.House.Shelved(ctx, func(app.Context) {
		p.ready = true
		p.chosen = map[string]bool{}
		for _, place := range p.House.Shelf.PlaceOrder() {
			p.chosen[place.ID] = place.What != record.Fridge
		}
		p.look()
		if p.walk != nil {
			ui.Device().Call("awake", true)
		}
		p.measure()
	})
}

// Renew implements screen: where the sweep stands is worked out again.
func (p *Page) Renew(ctx app.Context, done func(app.Context)) {
	row, except := p.row, maps.Clone(p.except)
	p.made, p.busy = nil, false
	p.turn++
	p.look()
	if row && p.walk != nil && len(p.walk.Row()) > 1 {
		p.row, p.except = true, except
	}
	p.measure()
	done(ctx)
}

// OnMount listens to the keys of the walk.
func (p *Page) OnMount(ctx app.Context) {
	ui.Measured("answerable")
	heard := app.FuncOf(func(_ app.Value, args []app.Value) any {
		e := args[0]
		tag := e.Get("target").Get("tagName").String()
		if tag == "INPUT" || tag == "SELECT" || tag == "TEXTAREA" || e.Get("ctrlKey").Bool() || e.Get("metaKey").Bool() || e.Get("altKey").Bool() {
			return nil
		}
		k := e.Get("key").String()
		ctx.Dispatch(func(app.Context) { p.key(k) })
		return nil
	})
	app.Window().Call("addEventListener", "keydown", heard)
	read := app.FuncOf(func(app.Value, []app.Value) any {
		ctx.Dispatch(func(app.Context) { p.readLines() })
		return nil
	})
	ui.Device().Call("onRead", read)
	p.stop = func() {
		app.Window().Call("removeEventListener", "keydown", heard)
		ui.Device().Call("onRead", nil)
		heard.Release()
		read.Release()
	}
}

// measure asks for the lines that can be seen, once the page has been drawn.
func (p *Page) measure() {
	p.ctx.Defer(func(ctx app.Context) {
		was := p.unread
		if p.readLines(); p.unread != was {
			ctx.Update()
		}
	})
}

// readLines asks which lines of the short look have been on the screen since this
// jar came up.
func (p *Page) readLines() {
	p.unread = 0
	if c := p.card(); c == cardLook || c == cardRow {
		p.unread = ui.Device().Call("unread", fmt.Sprint(c, p.walk.Next[0].ID)).Int()
	}
}

// read tells whether every line of the short look has been on the screen, and
// otherwise shows the first that has not.
func (p *Page) read() bool {
	if p.readLines(); p.unread > 0 {
		ui.Device().Call("showUnread")
		return false
	}
	return true
}

// key answers a key of the walk.
func (p *Page) key(k string) {
	if !p.ready || p.card() != cardLook && p.card() != cardOut {
		return
	}
	out := p.card() == cardOut
	switch k {
	case "s", "S":
		if !out {
			p.soundOne()
		}
	case "t", "T":
		if out {
			p.takeOut(p.walk.Next[:1])
		}
	case "r", "R":
		p.openRow()
	case "o", "O":
		p.odd(nil)
	case "n", "N":
		p.missing()
	case "u", "U":
		p.undo()
	case "1", "2", "3", "4", "5":
		if n := int(k[0] - '1'); !out && n < len(rules.ShortLook) {
			p.odd(&rules.ShortLook[n])
		}
	}
}

// OnDismount lets the screen sleep again.
func (p *Page) OnDismount() {
	ui.Device().Call("awake", false)
	if p.stop != nil {
		p.stop()
	}
}

// look works out where the sweep stands.
func (p *Page) look() {
	p.walk = nil
	if s := walk.Running(p.House.Shelf.Pantry); s != nil {
		p.walk = walk.New(p.House.Shelf.Pantry, s, time.Now())
	}
	p.row = false
	clear(p.except)
}

func (p *Page) Render() app.UI {
	if !p.ready {
		return ui.Frame("/sweep", ui.Title("The sweep"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	body := []app.UI{p.House.Notices(), ui.Live("unseen-live", ui.Prose(p.said)),
		ui.Live("", ui.Only(p.notice != "", func() app.UI { return ui.Txt("p", "notice", p.notice) }))}
	switch p.card() {
	case cardReport:
		body = append(body, p.showReport())
	case cardNone:
		body = append(body, ui.Title("The sweep"),
			ui.Txt("p", "lead", "Four times a year, take every jar in your hand. Look at lid and glass, and move the oldest to the front."),
			ui.Txt("p", "", "There are no jars yet."), ui.El("p", "row", ui.Anchor("button", "/batch", "Add a batch")))
	case cardBegin:
		body = append(body, p.begin())
	case cardFound:
		body = append(body, p.found())
	case cardEnd:
		body = append(body, p.end())
	case cardRow:
		body = append(body, p.wholeRow())
	case cardPlace:
		body = append(body, p.placeCard(p.unknownPlace()))
	case cardOut:
		body = append(body, p.outCard())
	default:
		body = append(body, p.walking())
	}
	return ui.Frame("/sweep", body...)
}

// card is what the page shows.
type card uint8

const (
	cardNone card = iota // there are no jars
	cardBegin
	cardPlace // what is a place like?
	cardLook  // does the short look hold for this jar?
	cardOut   // this jar has to be taken out, whatever it looks like
	cardRow   // which jars of this row are not like the others?
	cardFound // of which batch is the jar that was found?
	cardEnd
	cardReport
)

// card tells what the page shows.
func (p *Page) card() card {
	switch {
	case p.report != "":
		return cardReport
	case p.walk == nil && len(p.House.Shelf.Jars) == 0:
		return cardNone
	case p.walk == nil:
		return cardBegin
	case len(p.walk.Next) == 0:
		return cardEnd
	case p.finding:
		return cardFound
	case p.row:
		return cardRow
	case p.walk.Condemned(p.walk.Next[0]):
		return cardOut
	case p.unknownPlace() != nil:
		return cardPlace
	}
	return cardLook
}

// unknownPlace is a place of the next jar that has to be described before a look
// at its jars settles anything, or nil.
func (p *Page) unknownPlace() *record.Place {
	for _, place := range p.House.Shelf.Prospect(p.walk.Next[0], time.Now()).Places {
		if !p.passed[place.ID] {
			return place
		}
	}
	return nil
}

// begin chooses what to walk past.
func (p *Page) begin() app.UI {
	s := p.House.Shelf
	now := time.Now()
	places := s.PlaceOrder()
	order := walk.Order(s.Pantry, p.places(), p.dueOnly, now)
	ended := walk.Ended(s.Pantry)
	due := walk.NextDue(s.Pantry, now)
	words := ui.Say("The next sweep is due %s.", ui.DayWords(due))
	if due <= record.DayOf(now) {
		words = "A sweep is due."
	} else if len(order) > 0 && p.dueOnly {
		words += ui.Say(" %s not been looked at for so long, or never.", ui.UpperFirst(ui.Count(len(order), "jar has", "jars have")))
	}
	return ui.El("div", "",
		ui.Title("The sweep"),
		ui.Txt("p", "lead", words),
		ui.Elem("fieldset", "").Body(
			ui.Txt("legend", "", "Which places to walk"),
			ui.El("div", "choose", ui.Each(len(places), func(i int) app.UI {
				place := places[i]
				return ui.Tick(p.turn, place.Name, p.chosen[place.ID], func(on bool) { p.chosen[place.ID] = on })
			})...),
			ui.Tick(p.turn, "Only jars that are due", p.dueOnly, func(on bool) { p.dueOnly = on }),
		),
		p.likings(),
		ui.El("p", "go",
			ui.Only(len(order) > 0, func() app.UI {
				return ui.Action("button big", ui.Say("Begin: %s", ui.Count(len(order), "jar", "jars")), func() { p.start(order) }, len(order))
			}),
			ui.Only(len(order) == 0, func() app.UI { return ui.Txt("p", "", "No jar there is due.") }),
		),
		ui.Only(len(ended) > 0, func() app.UI {
			return ui.El("section", "card", ui.Txt("h2", "", "Earlier sweeps"), ui.El("ul", "links-only", ui.Each(len(ended), func(i int) app.UI {
				return ui.El("li", "", ui.Anchor("", "/sweep?report="+ended[i].ID, ui.DayWords(record.DayOf(*ended[i].Ended))))
			})...))
		}),
	)
}

// places are the chosen places, in walking order; jars without a place come
// last.
func (p *Page) places() (ids []string) {
	for _, place := range p.House.Shelf.PlaceOrder() {
		if p.chosen[place.ID] {
			ids = append(ids, place.ID)
		}
	}
	return append(ids, "")
}

// likings are the person's own ways.
func (p *Page) likings() app.UI {
	like := func(key, on, words string) app.UI {
		v, _ := ui.DeviceItem(key)
		return ui.Tick(key, words, v == on, func(chosen bool) {
			if chosen {
				ui.SetDeviceItem(key, on)
			} else {
				ui.SetDeviceItem(key, "")
			}
		})
	}
	return ui.Fold("", "How you walk",
		like(handKey, "left", "Buttons for the left hand"),
		like(soundKey, "on", "A tone for each answer"),
		ui.Only(ui.Device().Call("canVibrate").Bool(), func() app.UI { return like(buzzKey, "on", "A buzz for each answer") }),
	)
}

func (p *Page) start(order []string) {
	// A second touch must not begin a second sweep.
	if p.walk != nil || p.busy && p.House.AtWork() {
		return
	}
	s, err := record.NewSweep(p.places(), order, time.Now())
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	p.busy = p.House.Keep(p.ctx, func() {
		ui.Device().Call("awake", true)
		p.turned()
	}, s)
}

// turned goes on to what is next.
func (p *Page) turned() {
	p.turn++
	p.busy, p.notice = false, ""
	p.look()
	ui.Focus(p.ctx, "title")
	p.measure()
}

// feel says by tone and buzz that an answer was taken, if the person likes it.
func feel(good bool) {
	tone, buzz := 660, 20
	if !good {
		tone, buzz = 330, 80
	}
	if v, _ := ui.DeviceItem(soundKey); v == "on" {
		ui.Device().Call("beep", tone)
	}
	if v, _ := ui.DeviceItem(buzzKey); v == "on" {
		ui.Device().Call("buzz", buzz)
	}
}

// keep writes the jars and goes on.
func (p *Page) keep(good bool, words string, err error, jars ...*record.Jar) {
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	records := make([]record.Record, len(jars))
	for i, j := range jars {
		records[i] = j
	}
	// The next jar comes when this answer is on the device, a few milliseconds
	// later: what was seen to be taken is never lost.
	p.busy = p.House.Keep(p.ctx, func() {
		feel(good)
		p.said = words
		p.taken = 0
		p.turned()
	}, records...)
}

// soundOne notes that the short look holds for the jar in the hand, once every
// line of it has been on the screen.
func (p *Page) soundOne() {
	if p.read() {
		p.sound(p.walk.Next[:1])
	}
}

// sound notes that the short look holds.
func (p *Page) sound(jars []*record.Jar) {
	if p.busy && p.House.AtWork() {
		return
	}
	words := "It looks fine."
	if pr := p.House.Shelf.Prospect(jars[0], time.Now()); pr.Hopeless() {
		words = "It looks fine. But too little is known about it: discard it unless you find out more."
	}
	p.keep(true, words, p.walk.Sound(jars, time.Now()), jars...)
}

// takeOut notes that jars that have to be discarded were taken from the shelf.
func (p *Page) takeOut(jars []*record.Jar) {
	if p.busy && p.House.AtWork() {
		return
	}
	p.keep(false, ui.Say("%s taken out.", ui.Count(len(jars), "jar", "jars")), p.walk.TakeOut(jars, time.Now()), jars...)
}

// leave lets jars that have to be discarded stand for now.
func (p *Page) leave(jars []*record.Jar) {
	if p.busy && p.House.AtWork() {
		return
	}
	p.keep(false, "It stays for now.", walk.LeftStanding(p.walk.Sweep, jars, time.Now()), jars...)
}

// cooled is the line of the look that asks for the hours of the jar in the hand since
// it was canned; empty for a jar that has had them.
func (p *Page) cooled() string {
	if b := p.House.Shelf.Batches[p.walk.Next[0].Batch]; b != nil {
		return b.CooledLine(time.Now())
	}
	return ""
}

// leaveCooling lets the jar in the hand cool, without a look.
func (p *Page) leaveCooling() {
	if p.busy && p.House.AtWork() {
		return
	}
	jars := p.walk.Next[:1]
	p.keep(false, "Still cooling. It is not looked at yet.", walk.StillCooling(p.walk.Sweep, jars, time.Now()), jars...)
}

// describe notes what a place is like.
func (p *Page) describe(place *record.Place, warmest int) {
	if p.busy && p.House.AtWork() {
		return
	}
	copied := *place
	copied.Describe(warmest, time.Now())
	p.busy = p.House.Keep(p.ctx, func() {
		p.said = ui.Say("Noted: %s.", place.Name)
		p.turned()
	}, &copied)
}

func (p *Page) missing() {
	if p.busy && p.House.AtWork() {
		return
	}
	j := p.walk.Next[0]
	p.keep(false, "Not found.", walk.Lost(p.walk.Sweep, j, time.Now()), j)
}

// odd opens the full check of the jar, with what the shelf knows filled in, and
// that a statement of the short look does not hold. It leads back here.
func (p *Page) odd(g *rules.Glance) {
	if p.busy && p.House.AtWork() {
		return
	}
	j := p.walk.Next[0]
	c, err := p.House.Shelf.NewCheckOf(j, time.Now())
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	c.Sweep = p.walk.Sweep.ID
	if g != nil {
		c.Fails(g)
		j.Take(c)
	}
	p.busy = p.House.Keep(p.ctx, func() { p.ctx.Navigate(ui.Link("/check#id=" + c.ID)) }, c, j)
}

func (p *Page) openRow() {
	if len(p.walk.Row()) > 1 {
		p.row = true
		p.turn++
		ui.Focus(p.ctx, "title")
		p.measure()
	}
}

// undo takes the last answer back; a row comes back as one.
func (p *Page) undo() {
	if p.busy && p.House.AtWork() {
		return
	}
	last := p.walk.LastAnswer()
	if len(last) == 0 || p.taken >= walk.MostUndo {
		return
	}
	var records []record.Record
	for _, a := range last {
		a.Jar.Undo(a.Event.ID, true)
		records = append(records, a.Jar)
	}
	p.busy = p.House.Keep(p.ctx, func() {
		p.taken++
		p.said = ui.Say("Undone: %s.", p.House.Shelf.JarName(last[0].Jar))
		p.turned()
	}, records...)
}

// found adds a jar that is not in the list.
func (p *Page) found() app.UI {
	s := p.House.Shelf
	var fit []*record.Batch
	for _, b := range s.BatchOrder() {
		g := pantry.NewGroup(b)
		if len(fit) < 12 && g.Fits(p.query) {
			fit = append(fit, b)
		}
	}
	place := p.walk.Next[0].Standing().Place
	return ui.El("section", "card",
		ui.Title("Which batch is it of?"),
		ui.Field("Find", ui.Input("search", p.query, "peaches 2025").ID("find").On("input", func(ctx app.Context, e app.Event) { p.query = ui.Typed(ctx) })),
		ui.El("ul", "products", ui.Each(len(fit), func(i int) app.UI {
			b := fit[i]
			return ui.El("li", "", ui.Elem("button", "product").Attr("type", "button").On("click", func(app.Context, app.Event) { p.add(b, place) }, app.EventScope(b.ID)).
				Body(ui.Txt("span", "", ui.Say("%s %s", b.Name(), b.Made.Year())), ui.Txt("small", "", ui.DayWords(b.Made))))
		})...),
		ui.El("p", "row",
			ui.Action("button plain", "Back", func() {
				p.finding = false
				p.turned()
			}, p.turn),
			ui.Anchor("button plain", "/batch", "Its batch is not recorded"),
		),
	)
}

// add puts a jar that was found into the walk: it is the next to be looked at.
func (p *Page) add(b *record.Batch, place string) {
	if p.busy && p.House.AtWork() {
		return
	}
	now := time.Now()
	sw := *p.walk.Sweep
	j, err := walk.AddFound(p.House.Shelf.Pantry, b.ID, place, now)
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	sw.Join(j, now)
	p.busy = p.House.Keep(p.ctx, func() {
		p.finding = false
		p.said = ui.Say("Added: %s.", p.House.Shelf.JarName(j))
		p.turned()
	}, j, &sw)
}
