package check

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
)

// unrecorded says what can be done with a jar that was checked and is on no shelf of
// the household: the check can put it there. What the answer asks for comes first;
// while the answer waits for something, that is to find it out, which is done above.
func (p *Page) unrecorded(s *rules.Situation, t *rules.Trace) app.UI {
	check := p.session.Check.ID
	closed := s.Is(rules.OpenedNo)
	open := !s.Possible(rules.OpenedNo) && !s.Possible(rules.OpenedFrozen)
	next := ui.Action("button plain", "Check the next jar", func() {
		p.reset()
		p.House.ReplaceAddress(ui.Link("/check"))
		p.moveOn()
	}, check)
	if thrown := p.session.Check.Thrown; thrown != "" {
		return ui.El("section", "card noprint",
			ui.Txt("h2", "", parts.ThrownWords(thrown)),
			ui.El("p", "row", next, ui.Action("button plain", "Undo: it is not thrown out", func() { p.throw("") }, check, p.turn)),
		)
	}
	lead := "button plain"
	if t.Settled() && p.session.Holds(t.Highest, time.Now()) {
		lead = "button"
	}
	return ui.El("section", "card noprint",
		ui.Txt("h2", "", "What did you do with it?"),
		ui.Only(!t.Settled(), func() app.UI {
			return ui.Txt("p", "", "Find out first what is asked above. Set the jar aside until then.")
		}),
		ui.El("p", "row",
			ui.Only(t.Highest != rules.Discard && closed, func() app.UI {
				return ui.Anchor(lead, "/batch?check="+check, "Add it to my shelf list")
			}),
			ui.Only(t.Highest != rules.Discard && open, func() app.UI {
				return ui.Anchor(lead, "/batch?check="+check+"&cold=1", "I put it in the refrigerator: show its last day")
			}),
			p.thrownOut(lead, t),
			next,
		),
	)
}

// thrownOut records that the jar is gone. It comes first when the answer is to
// discard the jar.
func (p *Page) thrownOut(class string, t *rules.Trace) app.UI {
	if t.Highest != rules.Discard {
		class = "button plain"
	}
	return ui.Action(class, "I threw it out", func() { p.throw(record.DayOf(time.Now())) }, p.session.Check.ID, p.turn)
}

// throw records that the jar was thrown out; "" means that it was not.
func (p *Page) throw(day record.Day) {
	p.session.Throw(day, time.Now())
	p.after()
}
