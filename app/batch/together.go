package batch

import (
	"fmt"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules/prose"
)

// together moves some jars of a group to another place: the group is split, and
// jars that end up in one place are one group again. Nothing moves until the
// button that says how many is touched.
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
	return ui.Fold("noprint", "Move jars", ui.El("div", "", ui.Each(len(movable), func(i int) app.UI {
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

// placeChoices lists the places to move to, without the one where the jar is.
func placeChoices(places []*record.Place, but string) []ui.Choice {
	choices := []ui.Choice{ui.Line("", "choose a place")}
	for _, place := range places {
		if place.ID != but {
			choices = append(choices, ui.Line(place.ID, prose.Own(place.Name)))
		}
	}
	return choices
}

// toDiscard is the action for jars that have to be discarded: how to do it, and one
// touch that records for all of them in a place that they are out.
func (p *Page) toDiscard(groups []*pantry.Group) app.UI {
	var out []*pantry.Group
	for _, g := range groups {
		if g.State == pantry.ToDiscard {
			out = append(out, g)
		}
	}
	return ui.Only(len(out) > 0, func() app.UI {
		return ui.Once("section", "card verdict-discard",
			ui.Txt("h2", "", "Take them out"),
			parts.Disposal("Still closed: how to discard it", "dispose.sealed"),
			parts.Disposal("Open or leaking: how to discard it", "dispose.low"),
			ui.El("p", "row", ui.Each(len(out), func(i int) app.UI {
				g := out[i]
				words := ui.Say("%s thrown out, %s", ui.Count(len(g.Jars), "jar", "jars"), p.House.Shelf.PlaceName(g.Place))
				return ui.Action("button", words, func() { p.throwOut(g) }, g.First().Jar.ID, len(g.Jars))
			})...),
		)
	})
}

// throwOut records that all jars of a group were thrown out, and why.
func (p *Page) throwOut(g *pantry.Group) {
	now := time.Now()
	var records []record.Record
	events := map[string]string{} // event ids by jar
	for i := range g.Jars {
		j := g.Jars[i].Jar
		why := walk.WhyOut(p.House.Shelf.Pantry, j, now)
		e, err := j.Add(record.Discarded, now)
		if err != nil {
			p.House.Complain(ui.Plain(err))
			return
		}
		e.Why, events[j.ID] = why, e.ID
		records = append(records, j)
	}
	p.House.Keep(p.ctx, func() {
		p.announce(ui.Say("%s thrown out.", ui.Count(len(records), "jar", "jars")), events)
		p.moveOn()
	}, records...)
}

func (p *Page) move(g *pantry.Group, n int, to string) {
	var records []record.Record
	events := map[string]string{} // event ids by jar
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
		p.announce(ui.Say("%s moved to %s.", ui.Count(len(records), "jar", "jars"), p.House.Shelf.PlaceName(to)), events)
		p.moving, p.to = nil, nil
		p.moveOn()
	}, records...)
}

// announce says what happened to jars, and offers to undo it as long as the notice is
// shown: the events are listed by jar.
func (p *Page) announce(words prose.Text, events map[string]string) {
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
			p.moveOn()
		}, records...)
	}
}

// undoNotice undoes what the notice says.
func (p *Page) undoNotice() { p.undo() }
