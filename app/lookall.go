package app

import (
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/rules"
)

// toLook lists the jars of a batch that stand on a shelf and have to be looked at.
func (p *batchPage) toLook(b *record.Batch) (jars []*record.Jar) {
	now := time.Now()
	for _, j := range p.house.shelf.OfBatch(b.ID) {
		if v := p.house.shelf.Judge(j, now); v.State() == pantry.ToLook && v.Basis.Stage == record.OnShelf && len(v.Basis.Unlooked) > 0 {
			jars = append(jars, j)
		}
	}
	return
}

// lookLines are the statements of the short look: before them, for jars that may still
// be cooling, that they have had their hours.
func lookLines(b *record.Batch) app.UI {
	var lines []string
	if b != nil {
		if cooled := b.CooledLine(time.Now()); cooled != "" {
			lines = append(lines, cooled)
		}
	}
	for _, g := range rules.ShortLook {
		lines = append(lines, g.Say)
	}
	return el("ul", "lines look-lines", texts(lines)...)
}

// lookAll asks whether all jars of a batch are sealed and sound today: the short look
// of the sweep, said for every one of them.
func (p *batchPage) lookAll(b *record.Batch) app.UI {
	jars := p.toLook(b)
	sound := jars[:0:0]
	for _, j := range jars {
		if !p.odd[j.ID] {
			sound = append(sound, j)
		}
	}
	ask := say("Are all %d jars sealed and sound today?", len(jars))
	if len(jars) == 1 {
		ask = "Is the jar sealed and sound today?"
	}
	if p.some {
		return el("div", "walk",
			title("Which of them are not?"),
			txt("p", "hint", "Touch every jar for which a line is not true, or that you have not held in your hand."),
			el("div", "row-jars", each(len(jars), func(i int) app.UI {
				id := jars[i].ID
				return elem("button", "pick").Attr("type", "button").Aria("pressed", fmt.Sprint(p.odd[id])).Text(say("Jar %v", jars[i].Number)).
					On("click", func(app.Context, app.Event) {
						if p.odd == nil {
							p.odd = map[string]bool{}
						}
						p.odd[id] = !p.odd[id]
					}, app.EventScope(id))
			})...),
			el("div", "hands",
				only(len(sound) > 0 && len(sound) < len(jars), func() app.UI {
					return action("button big sound", say("All true for the other %d", len(sound)), func() { p.sound(b, sound) }, len(sound))
				}),
				el("p", "row others", action("button plain", "Back", func() {
					p.some, p.odd = false, nil
					p.turned()
				})),
			),
		)
	}
	yes := say("Yes, all true for all %d", len(jars))
	if len(jars) == 1 {
		yes = "Yes, all true"
	}
	return el("div", "walk look-all",
		title(ask),
		live("saved", only(p.said != "", func() app.UI { return txt("p", "hint", p.said) })),
		txt("p", "hint", "Screw bands off. Each jar in your hand, then up to a light:"),
		lookLines(b),
		el("div", "hands",
			action("button big sound", yes, func() { p.sound(b, jars) }, len(jars)),
			el("p", "row others",
				only(len(jars) > 1, func() app.UI {
					return action("button plain", "Some are not", func() {
						p.some = true
						p.turned()
					})
				}),
				action("button plain", "Not today", func() {
					p.look, p.said = false, ""
					p.turned()
				}),
			),
		),
	)
}

// sound notes that the short look held for jars of the batch.
func (p *batchPage) sound(b *record.Batch, jars []*record.Jar) {
	if err := record.Look(jars, time.Now()); err != nil {
		p.house.complain(plain(err))
		return
	}
	events := map[string]string{}
	records := make([]record.Record, len(jars))
	for i, j := range jars {
		events[j.ID] = j.Events[len(j.Events)-1].ID
		records[i] = j
	}
	p.house.keep(p.ctx, func() {
		kept := 0
		for _, j := range jars {
			if v := p.house.shelf.Judge(p.house.shelf.Jars[j.ID], time.Now()); v.State() == pantry.ToKeep {
				kept++
			}
		}
		p.happened(say("Noted: %s looked at, %d of them %s.", count(len(jars), "jar", "jars"), kept, lowerFirst(rules.Keep.String())), events)
		p.look, p.some, p.odd = false, false, nil
		p.turned()
	}, records...)
}

// next is what follows for a batch that was just recorded or is come back to: look at
// its jars, record the next one.
func (p *batchPage) next(b *record.Batch) app.UI {
	jars := p.toLook(b)
	able, why := b.LookToo(time.Now())
	return el("div", "",
		p.open(b),
		el("p", "go",
			only(len(jars) > 0 && able, func() app.UI {
				return action("button big", say("Look at %s", count(len(jars), "jar", "jars")), func() {
					p.look, p.said, p.undo = true, "", nil
					p.turned()
				}, b.ID, "look")
			}),
			action("button", "Record the next batch", func() {
				p.id, p.said, p.undo = "", "", nil
				p.house.replaceAddress(link("/batch"))
				p.turned()
			}, b.ID, "next"),
			action("button plain", "Another batch of this", func() { p.begin(b.Food(), b.Title) }, b.ID, "again"),
			anchor("button plain", "/shelf", "The shelf"),
		),
		only(len(jars) > 0 && !able, func() app.UI { return txt("p", "hint", why) }),
	)
}

// open says what is still not known of jars that have been looked at, and where to say
// it.
func (p *batchPage) open(b *record.Batch) app.UI {
	now := time.Now()
	for _, j := range p.house.shelf.OfBatch(b.ID) {
		v := p.house.shelf.Judge(j, now)
		if v.Basis.Stage != record.OnShelf || v.Settled() || len(v.Basis.Unlooked) > 0 {
			continue
		}
		s, _ := p.house.shelf.Situation(j, now)
		var record, place []string
		trace := rules.Explain(s)
		for _, id := range trace.Open {
			if id.Info().Chapter == rules.ChapterStorage && id != rules.SignAge {
				place = append(place, id.Info().Name)
			} else {
				record = append(record, id.Info().Name)
			}
		}
		return el("div", "notice",
			txt("p", "", "These jars were looked at. What is still not known, and decides:"),
			el("ul", "", append(texts(record), texts(place)...)...),
			el("p", "row",
				only(len(record) > 0, func() app.UI {
					return action("button plain", "Say it in the record", func() { p.change(b) }, b.ID, "open")
				}),
				only(len(place) > 0, func() app.UI { return anchor("button plain", "/places", "Say it of the place") }),
			),
		)
	}
	return nil
}
