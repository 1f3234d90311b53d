package batch

import (
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// toLook lists the jars of a batch that are on a shelf and have to be looked at.
func (p *Page) toLook(b *record.Batch) (jars []*record.Jar) {
	now := time.Now()
	for _, j := range p.House.Shelf.OfBatch(b.ID) {
		if v := p.House.Shelf.Judge(j, now); v.State() == pantry.ToLook && v.Basis.Stage == record.OnShelf && len(v.Basis.Unlooked) > 0 {
			jars = append(jars, j)
		}
	}
	return
}

// lookAll asks whether all jars of a batch are sealed and sound today: the short look
// of the sweep, answered once for all of them.
func (p *Page) lookAll(b *record.Batch) app.UI {
	jars := p.toLook(b)
	sound := jars[:0:0]
	for _, j := range jars {
		if !p.odd[j.ID] {
			sound = append(sound, j)
		}
	}
	ask := prose.Agree(len(jars), "Is the jar sealed and sound today?", "Are all %d jars sealed and sound today?", len(jars))
	if p.some {
		return ui.Once("div", "walk look-some",
			ui.Title("Which of them are not?"),
			ui.Txt("p", "hint", "Touch each jar where a line is not true, and each that you have not held."),
			ui.El("div", "row-jars", ui.Each(len(jars), func(i int) app.UI {
				id := jars[i].ID
				return ui.Elem("button", "pick").Attr("type", "button").Aria("pressed", fmt.Sprint(p.odd[id])).Text(ui.Local(ui.Say("Jar %v", jars[i].Number))).
					On("click", func(app.Context, app.Event) {
						if p.odd == nil {
							p.odd = map[string]bool{}
						}
						p.odd[id] = !p.odd[id]
					}, app.EventScope(id))
			})...),
			ui.El("div", "hands",
				ui.Only(len(sound) > 0 && len(sound) < len(jars), func() app.UI {
					return ui.Action("button big sound", ui.Say("All true for the other %d", len(sound)), func() { p.sound(b, sound) }, len(sound))
				}),
				ui.El("p", "row others", ui.Action("button plain", "Back", func() {
					p.some, p.odd = false, nil
					p.moveOn()
				})),
			),
		)
	}
	yes := prose.Agree(len(jars), "Yes, all true", "Yes, all true for all %d", len(jars))
	return ui.Once("div", "walk look-all",
		ui.Title(ask),
		ui.Live("saved", ui.Only(p.said != "", func() app.UI { return ui.Txt("p", "hint", p.said) })),
		ui.Txt("p", "hint", "Screw bands off. Each jar in your hand, then up to a light:"),
		parts.LookLines(b),
		ui.El("div", "hands",
			ui.Action("button big sound", yes, func() { p.sound(b, jars) }, len(jars)),
			ui.El("p", "row others",
				ui.Only(len(jars) > 1, func() app.UI {
					return ui.Action("button plain", "Some are not", func() {
						p.some = true
						p.moveOn()
					})
				}),
				ui.Action("button plain", "Not today", func() {
					p.look, p.said = false, ""
					p.moveOn()
				}),
			),
		),
	)
}

// sound records that jars of the batch passed the short look.
func (p *Page) sound(b *record.Batch, jars []*record.Jar) {
	if err := record.Look(jars, time.Now()); err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	events := map[string]string{}
	records := make([]record.Record, len(jars))
	for i, j := range jars {
		events[j.ID] = j.Events[len(j.Events)-1].ID
		records[i] = j
	}
	p.House.Keep(p.ctx, func() {
		kept := 0
		for _, j := range jars {
			if v := p.House.Shelf.Judge(p.House.Shelf.Jars[j.ID], time.Now()); v.State() == pantry.ToKeep {
				kept++
			}
		}
		p.announce(ui.Say("Noted: %s looked at, %d of them %s.", ui.Count(len(jars), "jar", "jars"), kept, prose.Lower(rules.Keep.Text())), events)
		p.look, p.some, p.odd = false, false, nil
		if kept == len(jars) && len(p.toLook(b)) == 0 && p.recorded == b.ID {
			p.onward(b)
		}
		p.moveOn()
	}, records...)
}

// onward goes straight to the next batch: nothing is left to say about the one that
// was just recorded. Undoing the look comes back to this batch.
func (p *Page) onward(b *record.Batch) {
	undo := p.undo
	p.undo = func() {
		p.show(b.ID)
		undo()
	}
	p.show("")
}

// show is the page of a batch, or of a new one.
func (p *Page) show(id string) {
	p.id = id
	address := "/batch"
	if id != "" {
		address += "?id=" + id
	}
	p.House.ReplaceAddress(ui.Link(address))
}

// next is what follows for a batch that was just recorded or is opened again: look at
// its jars, or record the next one.
func (p *Page) next(b *record.Batch) app.UI {
	jars := p.toLook(b)
	able, why := b.CanLookTogether(time.Now())
	return ui.Once("div", "",
		p.open(b),
		ui.El("p", "go",
			ui.Only(len(jars) > 0 && able, func() app.UI {
				return ui.Action("button big", ui.Say("Look at %s", ui.Count(len(jars), "jar", "jars")), func() {
					p.look, p.said, p.undo = true, "", nil
					p.moveOn()
				}, b.ID, "look")
			}),
			ui.Action("button", "Record the next batch", func() {
				p.said, p.undo = "", nil
				p.show("")
				p.moveOn()
			}, b.ID, "next"),
			ui.Action("button plain", "Another batch of this", func() { p.begin(b.Food(), b.Title) }, b.ID, "again"),
			ui.Anchor("button plain", "/shelf", "The shelf"),
		),
		ui.Only(len(jars) > 0 && !able, func() app.UI { return ui.Txt("p", "hint", why) }),
	)
}

// open says what is still not known about jars that have been looked at, and where to
// answer it.
func (p *Page) open(b *record.Batch) app.UI {
	now := time.Now()
	for _, j := range p.House.Shelf.OfBatch(b.ID) {
		v := p.House.Shelf.Judge(j, now)
		if v.Basis.Stage != record.OnShelf || v.Settled() || len(v.Basis.Unlooked) > 0 {
			continue
		}
		s, _ := p.House.Shelf.Situation(j, now)
		var record, place []prose.Text
		trace := rules.Explain(s)
		for _, id := range trace.Open {
			if id.Info().Chapter == rules.ChapterStorage && id != rules.SignAge {
				place = append(place, id.Info().Name)
			} else {
				record = append(record, id.Info().Name)
			}
		}
		return ui.El("div", "notice",
			ui.Txt("p", "", "These jars were looked at. This is still not known, and it decides:"),
			ui.El("ul", "", append(ui.Texts(record), ui.Texts(place)...)...),
			ui.El("p", "row",
				ui.Only(len(record) > 0, func() app.UI {
					return ui.Action("button plain", "Add it to the record", func() { p.change(b) }, b.ID, "open")
				}),
				ui.Only(len(place) > 0, func() app.UI { return ui.Anchor("button plain", "/places", "Describe the place") }),
			),
		)
	}
	return nil
}
