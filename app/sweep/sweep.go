package sweep

import (
	"fmt"
	"maps"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Page is the walk past all jars: choose where, look at one after the other,
// and see what follows.
type Page struct {
	app.Compo
	House *house.House

	ctx     app.Context
	ready   bool
	report  string // id of a finished sweep that is shown
	made    *walk.Report
	walk    *walk.Walk
	chosen  map[string]bool // places for a new sweep
	dueOnly bool
	row     bool            // the whole row is being answered
	except  map[string]bool // jars of the row that are not sound
	unread  int             // lines of the short look that have not yet been on the screen
	passed  map[string]bool // places that nobody could describe
	finding bool            // a jar that is not in the list is being added
	query   string
	taken   int // answers undone, one after the other
	said    prose.Text
	notice  prose.Text // visible message about what was done last
	busy    bool       // an answer is being written
	stop    func()     // stops listening to keys
	turn    int
}

// How a person likes to walk; the browser keeps this.
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
	p.House.WithShelf(ctx, func(app.Context) {
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

// OnMount listens for the keys of the walk.
func (p *Page) OnMount(ctx app.Context) {
	ui.MarkTime("answerable")
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

// measure requests the lines that can be seen, once the page has been drawn.
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

// read reports whether every line of the short look has been on the screen, and
// otherwise scrolls to the first that has not.
func (p *Page) read() bool {
	if p.readLines(); p.unread > 0 {
		ui.Device().Call("showUnread")
		return false
	}
	return true
}

// key handles a key of the walk.
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
		p.openCheck(nil)
	case "n", "N":
		p.missing()
	case "u", "U":
		p.undo()
	case "1", "2", "3", "4", "5":
		if n := int(k[0] - '1'); !out && n < len(rules.ShortLook) {
			p.openCheck(&rules.ShortLook[n])
		}
	}
}

// OnDismount lets the screen turn off again.
func (p *Page) OnDismount() {
	ui.Device().Call("awake", false)
	if p.stop != nil {
		p.stop()
	}
}

// look works out where the sweep is.
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

// card is the kind of card that the page shows.
type card uint8

const (
	cardNone card = iota // there are no jars
	cardBegin
	cardPlace // what is a place like?
	cardLook  // does the short look hold for this jar?
	cardOut   // this jar has to be taken out, whatever it looks like
	cardRow   // which jars of this row are not like the others?
	cardFound // which batch does the jar that was found belong to?
	cardEnd
	cardReport
)

// card returns what the page shows.
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

// begin asks which places to walk past.
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
		words = ui.Say("%s %s not been looked at for so long, or never.", words, prose.Upper(ui.Count(len(order), "jar has", "jars have")))
	}
	return ui.El("div", "",
		ui.Title("The sweep"),
		ui.Txt("p", "lead", words),
		ui.Elem("fieldset", "").Body(
			ui.Txt("legend", "", "Which places to walk"),
			ui.El("div", "choose", ui.Each(len(places), func(i int) app.UI {
				place := places[i]
				return ui.Tick(p.turn, prose.Own(place.Name), p.chosen[place.ID], func(on bool) { p.chosen[place.ID] = on })
			})...),
			ui.Tick(p.turn, "Only jars that are due", p.dueOnly, func(on bool) { p.dueOnly = on }),
		),
		p.preferences(),
		ui.El("p", "go",
			ui.Only(len(order) > 0, func() app.UI {
				return ui.Action("button big", ui.Say("Begin: %s", ui.Count(len(order), "jar", "jars")), func() { p.start(order) }, len(order))
			}),
			ui.Only(len(order) == 0, func() app.UI { return ui.Txt("p", "", "No jar there is due.") }),
		),
		ui.Only(len(ended) > 0, func() app.UI {
			return ui.El("section", "card", ui.Txt("h2", "", "Earlier sweeps"), ui.El("ul", "links-only", ui.Each(len(ended), func(i int) app.UI {
				return ui.El("li", "", ui.Anchor("", "/sweep?report="+ended[i].ID, prose.Own(ui.DayWords(record.DayOf(*ended[i].Ended)))))
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

// preferences are the person's own preferences.
func (p *Page) preferences() app.UI {
	like := func(key, on string, words prose.Text) app.UI {
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
	// A second touch must not start a second sweep.
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
		p.moveOn()
	}, s)
}
