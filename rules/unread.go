package rules

import "strconv"

// Unread is one thing this edition rests on that was not read in a published
// source.
type Unread struct {
	Where string // rule, number, advice, caution or product
	Cite  Cite
}

// UnreadCites lists, in one place, every value from memory, every trade
// practice without a source and everything derived, in the order of the book.
func UnreadCites() (us []Unread) {
	add := func(where string, cs []Cite) {
		for _, c := range cs {
			if c.Evidence != Read {
				us = append(us, Unread{where, c})
			}
		}
	}
	for p := range Parts {
		for i := range Parts[p].Rules {
			add(Parts[p].Rules[i].ID, Parts[p].Rules[i].Cites)
		}
	}
	for i := range Bands {
		add("number "+Bands[i].ID, Bands[i].Cites)
	}
	for i := range Advices {
		add("advice "+Advices[i].ID, Advices[i].Cites)
	}
	for i := range Cautions {
		add("caution "+Cautions[i].ID, Cautions[i].Cites)
	}
	for i := range Catalogue {
		p := &Catalogue[i]
		add("product "+p.ID, p.Cites)
		for _, l := range p.Looks {
			add("look of "+p.ID, l.Cites)
		}
	}
	return
}

// Edges writes the edges of a band, one line for each value.
func (b *Band) Edges() (lines []string) {
	from := ""
	for _, s := range b.Steps {
		line := from
		if s.Max != noEdge {
			if line != "" {
				line += ", "
			}
			line += "up to " + strconv.Itoa(s.Max)
			from = "above " + strconv.Itoa(s.Max)
		}
		lines = append(lines, line+": "+s.Value.Info().Label)
	}
	return
}
