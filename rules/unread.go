package rules

import (
	"larderlamp/rules/prose"
)

// Unread is one thing this edition rests on that was not read at its publisher.
type Unread struct {
	Where Text // rule, number, advice, caution, product or condition
	Cite  Cite
}

// UnreadCites lists, in one place, every value from memory, every trade
// practice without a source and everything derived, in the order of the book.
func UnreadCites() []Unread {
	return citesThat(func(e Evidence) bool { return !e.Found() })
}

// CopiedCites lists what was read in a copy, in the same order.
func CopiedCites() []Unread {
	return citesThat(func(e Evidence) bool { return e == Copied })
}

func citesThat(are func(Evidence) bool) (us []Unread) {
	add := func(where Text, cs []Cite) {
		for _, c := range cs {
			if are(c.Known()) {
				us = append(us, Unread{where, c})
			}
		}
	}
	for p := range Parts {
		for i := range Parts[p].Rules {
			add(prose.Own(Parts[p].Rules[i].ID), Parts[p].Rules[i].Cites)
		}
	}
	for i := range Bands {
		add(prose.Say("number %s", Bands[i].ID), Bands[i].Cites)
	}
	for i := range Advices {
		add(prose.Say("advice %s", Advices[i].ID), Advices[i].Cites)
	}
	for i := range Cautions {
		add(prose.Say("caution %s", Cautions[i].ID), Cautions[i].Cites)
	}
	for i := range Catalog {
		p := &Catalog[i]
		add(prose.Say("product %s", p.ID), p.Cites)
		if p.Condition != nil {
			add(prose.Say("condition of %s", p.ID), p.Condition.Cites)
		}
		for _, l := range p.Looks {
			add(prose.Say("look of %s", p.ID), l.Cites)
		}
	}
	return
}

// Edges writes the edges of a band, one line for each value.
func (b *Band) Edges() (lines []Text) {
	for i, s := range b.Steps {
		label := s.Value.Info().Label
		switch {
		case i == 0:
			lines = append(lines, prose.Say("up to %d: %s", s.Max, label))
		case s.Max == noEdge:
			lines = append(lines, prose.Say("above %d: %s", b.Steps[i-1].Max, label))
		default:
			lines = append(lines, prose.Say("above %d, up to %d: %s", b.Steps[i-1].Max, s.Max, label))
		}
	}
	return
}
