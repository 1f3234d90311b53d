package sweep

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// moveOn moves on to what is next.
func (p *Page) moveOn() {
	p.turn++
	p.busy, p.notice = false, ""
	p.look()
	ui.Focus(p.ctx, "title")
	p.measure()
}

// signal confirms an answer with a tone and a buzz, if the person likes that.
func signal(good bool) {
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

// keep writes the jars and moves on.
func (p *Page) keep(good bool, words prose.Text, err error, jars ...*record.Jar) {
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	records := make([]record.Record, len(jars))
	for i, j := range jars {
		records[i] = j
	}
	// The next jar comes when this answer is on the device, a few milliseconds
	// later: an answer that was confirmed is never lost.
	p.busy = p.House.Keep(p.ctx, func() {
		signal(good)
		p.said = words
		p.taken = 0
		p.moveOn()
	}, records...)
}

// soundOne records that the jar in hand passed the short look, once every line
// of it has been on the screen.
func (p *Page) soundOne() {
	if p.read() {
		p.sound(p.walk.Next[:1])
	}
}

// sound records that jars passed the short look.
func (p *Page) sound(jars []*record.Jar) {
	if p.busy && p.House.AtWork() {
		return
	}
	words := prose.Text("It looks fine.")
	if pr := p.House.Shelf.Prospect(jars[0], time.Now()); pr.Hopeless() {
		words = "It looks fine. But too little is known about it: discard it unless you find out more."
	}
	p.keep(true, words, p.walk.Sound(jars, time.Now()), jars...)
}

// takeOut records that jars that have to be discarded were taken from the
// shelf.
func (p *Page) takeOut(jars []*record.Jar) {
	if p.busy && p.House.AtWork() {
		return
	}
	p.keep(false, ui.Say("%s taken out.", ui.Count(len(jars), "jar", "jars")), p.walk.TakeOut(jars, time.Now()), jars...)
}

// leave leaves jars that have to be discarded on the shelf for now.
func (p *Page) leave(jars []*record.Jar) {
	if p.busy && p.House.AtWork() {
		return
	}
	p.keep(false, "It stays for now.", walk.LeaveOnShelf(p.walk.Sweep, jars, time.Now(), ui.Reader), jars...)
}

// coolingLine is the line of the look that asks how many hours the jar in hand has cooled
// since it was canned; empty for a jar that has had enough.
func (p *Page) coolingLine() prose.Text {
	if b := p.House.Shelf.Batches[p.walk.Next[0].Batch]; b != nil {
		return b.CooledLine(time.Now())
	}
	return ""
}

// leaveCooling leaves the jar in hand to cool, without a look.
func (p *Page) leaveCooling() {
	if p.busy && p.House.AtWork() {
		return
	}
	jars := p.walk.Next[:1]
	p.keep(false, "Still cooling. It is not looked at yet.", walk.StillCooling(p.walk.Sweep, jars, time.Now(), ui.Reader), jars...)
}

// describe records what a place is like.
func (p *Page) describe(place *record.Place, warmest int) {
	if p.busy && p.House.AtWork() {
		return
	}
	copied := *place
	copied.Describe(warmest, time.Now())
	p.busy = p.House.Keep(p.ctx, func() {
		p.said = ui.Say("Noted: %s.", place.Name)
		p.moveOn()
	}, &copied)
}

func (p *Page) missing() {
	if p.busy && p.House.AtWork() {
		return
	}
	j := p.walk.Next[0]
	p.keep(false, "Not found.", walk.Lost(p.walk.Sweep, j, time.Now()), j)
}

// openCheck opens the full check of the jar, filled in with what the shelf knows, and
// with the statement of the short look that is not true. It leads back here.
func (p *Page) openCheck(g *rules.Glance) {
	if p.busy && p.House.AtWork() {
		return
	}
	j := p.walk.Next[0]
	c, err := p.House.Shelf.NewCheckOf(j, time.Now(), ui.Reader)
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	c.Sweep = p.walk.Sweep.ID
	if g != nil {
		c.MarkUntrue(g)
		j.AddCheck(c)
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

// undo undoes the last answer; the answer for a row is undone as one.
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
		p.moveOn()
	}, records...)
}

// found adds a jar that is not in the list.
func (p *Page) found() app.UI {
	s := p.House.Shelf
	var fit []*record.Batch
	for _, b := range s.BatchOrder() {
		g := pantry.NewGroup(b)
		if len(fit) < 12 && g.Matches(p.query, ui.Reader) {
			fit = append(fit, b)
		}
	}
	place := p.walk.Next[0].Standing().Place
	return ui.Once("section", "card",
		ui.Title("Which batch is it of?"),
		ui.Field("Find", ui.Input("search", p.query, "peaches 2025").ID("find").On("input", func(ctx app.Context, e app.Event) { p.query = ui.Typed(ctx) })),
		ui.El("ul", "products", ui.Each(len(fit), func(i int) app.UI {
			b := fit[i]
			return ui.El("li", "", ui.Elem("button", "product").Attr("type", "button").On("click", func(app.Context, app.Event) { p.add(b, place) }, app.EventScope(b.ID)).
				Body(ui.Txt("span", "", ui.Say("%s %s", b.Name(), b.Made.Year())), ui.Txt("small", "", prose.Own(ui.DayWords(b.Made)))))
		})...),
		ui.El("p", "row",
			ui.Action("button plain", "Back", func() {
				p.finding = false
				p.moveOn()
			}, p.turn),
			ui.Anchor("button plain", "/batch", "Its batch is not recorded"),
		),
	)
}

// add adds a jar that was found to the walk: it is the next to be looked at.
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
		p.moveOn()
	}, j, &sw)
}
