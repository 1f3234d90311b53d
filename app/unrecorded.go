package app

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// unrecorded says what can become of a jar that was checked and stands on no shelf of
// the household: the check carries it there. First comes what the answer asks for;
// while it waits for something, that is to find it out, which is done above.
func (p *checkPage) unrecorded(s *rules.Situation, t *rules.Trace) app.UI {
	check := p.session.check.ID
	closed := s.Is(rules.OpenedNo)
	open := !s.Possible(rules.OpenedNo) && !s.Possible(rules.OpenedFrozen)
	next := action("button plain", "Check the next jar", func() {
		p.reset()
		p.house.replaceAddress(link("/check"))
		p.turned()
	}, check)
	if thrown := p.session.check.Thrown; thrown != "" {
		return el("section", "card noprint",
			txt("h2", "", thrownWords(thrown)),
			el("p", "row", next, action("button plain", "Undo: it is not thrown out", func() { p.throw("") }, check, p.turn)),
		)
	}
	lead := "button plain"
	if t.Settled() && p.session.holds(t.Highest, time.Now()) {
		lead = "button"
	}
	return el("section", "card noprint",
		txt("h2", "", "What did you do with it?"),
		only(!t.Settled(), func() app.UI {
			return txt("p", "", "Find out first what is asked above. Set the jar aside until then.")
		}),
		el("p", "row",
			only(t.Highest != rules.Discard && closed, func() app.UI {
				return anchor(lead, "/batch?check="+check, "Add it to my shelf list")
			}),
			only(t.Highest != rules.Discard && open, func() app.UI {
				return anchor(lead, "/batch?check="+check+"&cold=1", "I put it in the refrigerator: show its last day")
			}),
			p.thrownOut(lead, t),
			next,
		),
	)
}

// thrownOut notes that the jar is gone. It leads where the answer is to discard it.
func (p *checkPage) thrownOut(class string, t *rules.Trace) app.UI {
	if t.Highest != rules.Discard {
		class = "button plain"
	}
	return action(class, "I threw it out", func() { p.throw(record.DayOf(time.Now())) }, p.session.check.ID, p.turn)
}

// thrownWords says on which day a jar was thrown out.
func thrownWords(day record.Day) string { return say("Thrown out on %s", dayWords(day)) }

// throw notes that the jar was thrown out, or with "" that it was not.
func (p *checkPage) throw(day record.Day) {
	p.session.throw(day, time.Now())
	p.after()
}

// take opens the form of a batch for the one jar of a check.
func (p *batchPage) take(c *record.Check, cold bool) {
	b, err := c.Record(time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	made, title := b.Made, b.Title
	p.begin(b.Food(), title)
	if p.edit == nil {
		return
	}
	b.Feet, b.Table, b.Count = p.edit.Feet, p.edit.Table, 1
	b.Made = made
	p.edit, p.from, p.cold, p.last = b, c, cold, nil
	p.turned()
}

// settle keeps the jar of a check: on a shelf, or opened in the refrigerator, which is
// made when there is none.
func (p *batchPage) settle(b *record.Batch, now time.Time) (records []record.Record, err error) {
	into := ""
	if p.cold {
		for _, place := range p.house.shelf.PlaceOrder() {
			if place.What == record.Fridge {
				into = place.ID
				break
			}
		}
		if into == "" {
			fridge, err := record.NewPlace("Refrigerator", now)
			if err != nil {
				return nil, err
			}
			fridge.What, fridge.Order = record.Fridge, len(p.house.shelf.Places)
			into = fridge.ID
			records = append(records, fridge)
		}
	} else {
		place, fresh, err := p.stands(now)
		if err != nil {
			return nil, err
		}
		if fresh {
			records = append(records, place)
		}
		into = place.ID
	}
	check := *p.from
	j, err := check.Onto(b, into, p.cold, now)
	if err != nil {
		return nil, err
	}
	return append(records, j, &check), nil
}
