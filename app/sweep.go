package app

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/rules"
)

// sweepPage is the walk round all jars: choose where, look at one after the
// other, see what follows.
type sweepPage struct {
	app.Compo
	house *household

	ctx     app.Context
	ready   bool
	report  string // id of an ended sweep that is shown
	made    *pantry.Report
	walk    *pantry.Walk
	chosen  map[string]bool // places for a new sweep
	dueOnly bool
	row     bool            // the whole row is being answered
	except  map[string]bool // jars of the row that are not sound
	finding bool            // a jar that is not in the list is being added
	query   string
	taken   int // answers taken back, one after the other
	said    string
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

func (p *sweepPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/sweep") {
		return
	}
	*p = sweepPage{Compo: p.Compo, house: p.house, ctx: ctx, stop: p.stop, ready: p.ready, turn: p.turn + 1, dueOnly: true, except: map[string]bool{}}
	p.house.screen = p
	p.report = ctx.Page().URL().Query().Get("report")
	p.house.shelved(ctx, func(app.Context) {
		p.ready = true
		p.chosen = map[string]bool{}
		for _, place := range p.house.shelf.PlaceOrder() {
			p.chosen[place.ID] = place.What != pantry.Fridge
		}
		p.look()
		if p.walk != nil {
			device().Call("awake", true)
		}
	})
}

// renew implements screen: where the sweep stands is worked out again.
func (p *sweepPage) renew(ctx app.Context, done func(app.Context)) {
	row, except := p.row, maps.Clone(p.except)
	p.made = nil
	p.turn++
	p.look()
	if row && p.walk != nil && len(p.walk.Row()) > 1 {
		p.row, p.except = true, except
	}
	done(ctx)
}

// OnMount listens to the keys of the walk.
func (p *sweepPage) OnMount(ctx app.Context) {
	measured("answerable")
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
	p.stop = func() {
		app.Window().Call("removeEventListener", "keydown", heard)
		heard.Release()
	}
}

// key answers a key of the walk.
func (p *sweepPage) key(k string) {
	if !p.ready || p.report != "" || p.running() == nil || p.row || p.finding || p.walk == nil || len(p.walk.Next) == 0 {
		return
	}
	switch k {
	case "s", "S":
		p.sound(p.walk.Next[:1])
	case "r", "R":
		p.openRow()
	case "o", "O":
		p.odd(nil)
	case "n", "N":
		p.missing()
	case "u", "U":
		p.undo()
	case "1", "2", "3", "4", "5":
		if n := int(k[0] - '1'); n < len(rules.ShortLook) {
			p.odd(&rules.ShortLook[n])
		}
	}
}

// OnDismount lets the screen sleep again.
func (p *sweepPage) OnDismount() {
	device().Call("awake", false)
	if p.stop != nil {
		p.stop()
	}
}

// sweeping tells whether a sweep is under way and is the one with the id.
func (h *household) sweeping(id string) bool {
	if h.shelf == nil {
		return false
	}
	s := h.shelf.Running()
	return s != nil && s.ID == id
}

func (p *sweepPage) running() *pantry.Sweep { return p.house.shelf.Running() }

// look works out where the sweep stands.
func (p *sweepPage) look() {
	p.walk = nil
	if s := p.running(); s != nil {
		p.walk = p.house.shelf.Walk(s, time.Now())
	}
	p.row = false
	clear(p.except)
}

func (p *sweepPage) Render() app.UI {
	if !p.ready {
		return frame("/sweep", title("The sweep"), txt("p", "", "Opening what is kept on this device…"))
	}
	s := p.house.shelf
	body := []app.UI{p.house.notices(), live("unseen-live", prose(p.said))}
	switch {
	case p.report != "":
		return frame("/sweep", append(body, p.showReport())...)
	case len(s.Jars) == 0:
		return frame("/sweep", append(body, title("The sweep"),
			txt("p", "lead", "Four times a year: every jar in the hand, lid and glass, and the oldest to the front."),
			el("p", "", prose("There are no jars yet. "), anchor("button", "/batch", "Add a batch")))...)
	case p.walk == nil:
		return frame("/sweep", append(body, p.begin())...)
	case p.finding:
		return frame("/sweep", append(body, p.found())...)
	case len(p.walk.Next) == 0:
		return frame("/sweep", append(body, p.end())...)
	}
	return frame("/sweep", append(body, p.walking())...)
}

// begin chooses what to walk past.
func (p *sweepPage) begin() app.UI {
	s := p.house.shelf
	now := time.Now()
	places := s.PlaceOrder()
	order := s.WalkOrder(p.places(), p.dueOnly, now)
	ended := s.Ended()
	due := s.SweepDue(now)
	words := say("The next sweep is due %s.", dayWords(due))
	if due <= pantry.DayOf(now) {
		words = "A sweep is due."
	} else if len(order) > 0 && p.dueOnly {
		words += say(" %s not been looked at for so long, or never.", upperFirst(count(len(order), "jar has", "jars have")))
	}
	return el("div", "",
		title("The sweep"),
		txt("p", "lead", words),
		elem("fieldset", "").Body(
			txt("legend", "", "Where to go round"),
			el("div", "choose", each(len(places), func(i int) app.UI {
				place := places[i]
				return tick(p.turn, place.Name, p.chosen[place.ID], func(on bool) { p.chosen[place.ID] = on })
			})...),
			tick(p.turn, "Only jars that are due", p.dueOnly, func(on bool) { p.dueOnly = on }),
		),
		p.likings(),
		el("p", "go",
			only(len(order) > 0, func() app.UI {
				return action("button big", say("Begin: %s", count(len(order), "jar", "jars")), func() { p.start(order) }, len(order))
			}),
			only(len(order) == 0, func() app.UI { return txt("p", "", "No jar there is due.") }),
		),
		only(len(ended) > 0, func() app.UI {
			return el("section", "card", txt("h2", "", "Earlier sweeps"), el("ul", "", each(len(ended), func(i int) app.UI {
				return el("li", "", anchor("", "/sweep?report="+ended[i].ID, dayWords(pantry.DayOf(*ended[i].Ended))))
			})...))
		}),
	)
}

// places are the chosen places, in walking order; jars without a place come
// last.
func (p *sweepPage) places() (ids []string) {
	for _, place := range p.house.shelf.PlaceOrder() {
		if p.chosen[place.ID] {
			ids = append(ids, place.ID)
		}
	}
	return append(ids, "")
}

// likings are the person's own ways.
func (p *sweepPage) likings() app.UI {
	like := func(key, on, words string) app.UI {
		v, _ := deviceItem(key)
		return tick(key, words, v == on, func(chosen bool) {
			if chosen {
				setDeviceItem(key, on)
			} else {
				setDeviceItem(key, "")
			}
		})
	}
	return fold("", "How you walk",
		like(handKey, "left", "Buttons for the left hand"),
		like(soundKey, "on", "A tone for each answer"),
		only(device().Call("canVibrate").Bool(), func() app.UI { return like(buzzKey, "on", "A buzz for each answer") }),
	)
}

func (p *sweepPage) start(order []string) {
	// A second touch must not begin a second sweep.
	if p.walk != nil || p.busy && p.house.atWork() {
		return
	}
	s, err := pantry.NewSweep(p.places(), order, time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	p.busy = p.house.keep(p.ctx, func() {
		device().Call("awake", true)
		p.turned()
	}, s)
}

// turned goes on to what is next.
func (p *sweepPage) turned() {
	p.turn++
	p.busy = false
	p.look()
	focus(p.ctx, "title")
}

// feel says by tone and buzz that an answer was taken, if the person likes it.
func feel(good bool) {
	tone, buzz := 660, 20
	if !good {
		tone, buzz = 330, 80
	}
	if v, _ := deviceItem(soundKey); v == "on" {
		device().Call("beep", tone)
	}
	if v, _ := deviceItem(buzzKey); v == "on" {
		device().Call("buzz", buzz)
	}
}

// keep writes the jars and goes on.
func (p *sweepPage) keep(good bool, words string, err error, jars ...*pantry.Jar) {
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	records := make([]pantry.Record, len(jars))
	for i, j := range jars {
		records[i] = j
	}
	// The next jar comes when this answer is on the device, a few milliseconds
	// later: what was seen to be taken is never lost.
	p.busy = p.house.keep(p.ctx, func() {
		feel(good)
		p.said = words
		p.taken = 0
		p.turned()
	}, records...)
}

// sound notes that the short look holds.
func (p *sweepPage) sound(jars []*pantry.Jar) {
	if p.busy && p.house.atWork() {
		return
	}
	p.keep(true, "Sound.", p.running().Sound(jars, time.Now()), jars...)
}

func (p *sweepPage) missing() {
	if p.busy && p.house.atWork() {
		return
	}
	j := p.walk.Next[0]
	p.keep(false, "Not found.", p.running().Lost(j, time.Now()), j)
}

// odd opens the full check of the jar, with what the shelf knows filled in, and
// that a statement of the short look does not hold. It leads back here.
func (p *sweepPage) odd(g *rules.Glance) {
	if p.busy && p.house.atWork() {
		return
	}
	j := p.walk.Next[0]
	c, err := p.house.shelf.NewCheckOf(j, time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	c.Sweep = p.running().ID
	if g != nil {
		c.Fails(g)
		j.Take(c)
	}
	p.busy = p.house.keep(p.ctx, func() { p.ctx.Navigate(link("/check#id=" + c.ID)) }, c, j)
}

func (p *sweepPage) openRow() {
	if len(p.walk.Row()) > 1 {
		p.row = true
		p.turn++
		focus(p.ctx, "title")
	}
}

// undo takes the last answer back; a row comes back as one.
func (p *sweepPage) undo() {
	if p.busy && p.house.atWork() {
		return
	}
	last := p.walk.LastAnswer()
	if len(last) == 0 || p.taken >= pantry.MostUndo {
		return
	}
	var records []pantry.Record
	for _, a := range last {
		a.Jar.Undo(a.Event.ID, true)
		records = append(records, a.Jar)
	}
	p.busy = p.house.keep(p.ctx, func() {
		p.taken++
		p.said = say("Taken back: %s.", p.house.shelf.JarName(last[0].Jar))
		p.turned()
	}, records...)
}

// walking is the jar in the hand.
func (p *sweepPage) walking() app.UI {
	w, s := p.walk, p.house.shelf
	j := w.Next[0]
	v := s.Judge(j, time.Now())
	if p.row {
		return p.wholeRow()
	}
	row := w.Row()
	hand, _ := deviceItem(handKey)
	name, made := "A jar of a batch that is not recorded", ""
	if b := s.Batches[j.Batch]; b != nil {
		name, made = b.Name(), say("Canned %s, ", dayWords(b.Made))
	}
	return el("div", "walk "+hand,
		elem("div", "progress").Role("progressbar").Aria("valuenow", w.Done).Aria("valuemin", 0).Aria("valuemax", w.Total).Aria("label", local("Jars looked at")).
			Body(elem("progress", "").Attr("value", w.Done).Attr("max", w.Total).Aria("hidden", true)),
		txt("p", "hint", say("%d of %d · %s", w.Done+1, w.Total, s.PlaceName(v.Basis.Place))),
		el("section", "card hand-jar",
			title(say("%s, jar %d", name, j.Number)),
			txt("p", "", made+say("%s of this row to go", count(len(row), "jar", "jars"))),
			p.batchTrouble(j, &v),
			txt("p", "hint", "Does all of this hold? Touch the line that does not."),
			el("ul", "glances", each(len(rules.ShortLook), func(i int) app.UI {
				g := &rules.ShortLook[i]
				return el("li", "", named("glance", g.Say, say("%s: this does not hold", g.Say), func() { p.odd(g) }, g.ID, p.turn))
			})...),
		),
		el("div", "hands",
			elem("button", "button big sound").ID("sound").Attr("type", "button").
				On("click", func(ctx app.Context, e app.Event) {
					if !p.row {
						p.sound(p.walk.Next[:1])
					}
				}, app.EventScope(j.ID, p.turn)).
				On("contextmenu", func(ctx app.Context, e app.Event) {
					// A long press of a finger, or the other button of a mouse.
					e.PreventDefault()
					p.openRow()
				}, app.EventScope("row", p.turn)).
				Text(local("All of it holds: sound")),
		),
		el("div", "row others",
			action("button plain", "Something else is odd", func() { p.odd(nil) }, j.ID, p.turn),
			only(len(row) > 1, func() app.UI {
				return action("button plain", "The whole row is sound, but…", p.openRow, j.ID, p.turn, "row")
			}),
			action("button plain", "It is not here", p.missing, j.ID, p.turn, "missing"),
		),
		el("p", "row",
			only(len(w.Answers) > 0 && p.taken < pantry.MostUndo, func() app.UI { return action("quiet", "Undo", p.undo, p.turn) }),
			action("quiet", "Here is a jar that is not in the list", func() {
				p.finding, p.query = true, ""
				p.turn++
				focus(p.ctx, "title")
			}, p.turn, "found"),
			action("quiet", "End the sweep here", p.finish, p.turn, "end"),
		),
		fold("", "Keys, and what the short look rests on",
			txt("p", "", "s: sound · 1 to 5: that line does not hold · o: something else is odd · r: the whole row · n: not here · u: undo. A long press on “sound” opens the row. Close the page at any moment: what you answered is kept, and the sweep goes on where it was."),
			cites(rules.ShortLookCites),
		),
	)
}

// batchTrouble says on every sibling that a jar of the batch spoiled, with the
// rule and its source.
func (p *sweepPage) batchTrouble(j *pantry.Jar, v *pantry.Verdict) app.UI {
	situation, _ := p.house.shelf.Situation(j, time.Now())
	if !situation.Is(rules.SiblingsSpoiled) {
		return nil
	}
	r, ok := rules.RuleByID("record.siblings.second-look")
	if !ok {
		return nil
	}
	words := r.Say
	if v.Lowest == rules.Discard {
		if low, ok := rules.RuleByID("record.siblings.low"); ok {
			r, words = low, say("%s Discard it safely.", low.Say)
		}
	}
	return el("div", "notice", txt("p", "", words), el("p", "source", source(r.Cites[0]), evidence(r.Cites[0].Evidence), prose(" "), ruleLink(r, say("Rule %s", r.ID))))
}

// wholeRow answers for all jars of a row but some.
func (p *sweepPage) wholeRow() app.UI {
	row := p.walk.Row()
	sound := slices.DeleteFunc(slices.Clone(row), func(j *pantry.Jar) bool { return p.except[j.ID] })
	return el("section", "card",
		title("Every jar of this row is sound, but these:"),
		txt("p", "hint", "Touch the jars that are not. They come next. Each of the others has been in your hand."),
		el("div", "row-jars", each(len(row), func(i int) app.UI {
			j := row[i]
			return elem("button", "pick").Attr("type", "button").Aria("pressed", fmt.Sprint(p.except[j.ID])).
				On("click", func(app.Context, app.Event) { p.except[j.ID] = !p.except[j.ID] }, app.EventScope(j.ID, p.turn)).
				Text(say("Jar %d", j.Number))
		})...),
		el("p", "row",
			only(len(sound) > 0, func() app.UI {
				return action("button big", say("%s sound", count(len(sound), "jar is", "jars are")), func() { p.sound(sound) }, p.turn, len(sound))
			}),
			action("button plain", "Back", p.turned, p.turn),
		),
	)
}

// found adds a jar that is not in the list.
func (p *sweepPage) found() app.UI {
	s := p.house.shelf
	var fit []*pantry.Batch
	for _, b := range s.BatchOrder() {
		g := pantry.NewGroup(b)
		if len(fit) < 12 && g.Fits(p.query) {
			fit = append(fit, b)
		}
	}
	place := p.walk.Next[0].Standing().Place
	return el("section", "card",
		title("Which batch is it of?"),
		field("Find", input("search", p.query, "peaches 2025").ID("find").On("input", func(ctx app.Context, e app.Event) { p.query = typed(ctx) })),
		el("ul", "products", each(len(fit), func(i int) app.UI {
			b := fit[i]
			return el("li", "", elem("button", "product").Attr("type", "button").On("click", func(app.Context, app.Event) { p.add(b, place) }, app.EventScope(b.ID)).
				Body(txt("span", "", say("%s %s", b.Name(), b.Made.Year())), txt("small", "", dayWords(b.Made))))
		})...),
		el("p", "row",
			action("button plain", "Back", func() {
				p.finding = false
				p.turned()
			}, p.turn),
			anchor("button plain", "/batch", "It is of a batch that is not recorded"),
		),
	)
}

// add puts a jar that was found into the walk: it is the next to be looked at.
func (p *sweepPage) add(b *pantry.Batch, place string) {
	now := time.Now()
	sw := *p.running()
	j, err := p.house.shelf.AddFound(b.ID, place, now)
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	sw.Join(j, now)
	p.finding = false
	p.busy = p.house.keep(p.ctx, func() {
		p.said = say("Added: %s.", p.house.shelf.JarName(j))
		p.turned()
	}, j, &sw)
}

// end is what is left when every jar was looked at.
func (p *sweepPage) end() app.UI {
	return el("section", "card",
		title("Every jar was looked at"),
		txt("p", "", say("%s in all. What follows is in the report.", count(p.walk.Done, "jar", "jars"))),
		el("p", "row",
			action("button big", "End the sweep and see the report", p.finish, p.turn),
			action("button plain", "Undo", p.undo, p.turn, "undo"),
		),
	)
}

// finish ends the sweep.
func (p *sweepPage) finish() {
	now := time.Now().UTC().Truncate(time.Second)
	s := *p.running()
	s.Ended = &now
	s.Touch(now)
	p.house.keep(p.ctx, func() {
		device().Call("awake", false)
		p.report = s.ID
		p.house.replaceAddress(link("/sweep?report=" + s.ID))
		p.turned()
	}, &s)
}
