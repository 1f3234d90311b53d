package pantry

import (
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// Prospect is what a jar can turn out to be when somebody looks at it: its
// outcome if everything that nobody has looked at yet is sound. It is never a
// verdict: until somebody has looked, the jar is what [Pantry.Judge] says.
type Prospect struct {
	rules.Outcome
	// Condemned says that no look can save the jar: what is known about it
	// already means that it is discarded.
	Condemned bool
	// Look says that the outcome depends on a look that nobody has taken.
	Look bool
	// Places are those that nobody has described and on which the outcome
	// depends.
	Places []*record.Place

	Situation rules.Situation
}

// Hopeless says that a look alone settles nothing: something else about the jar
// is not known, and until it is, the jar counts as one to discard.
func (pr *Prospect) Hopeless() bool { return !pr.Condemned && pr.Highest > rules.UseSoon }

// Open lists what nobody knows about a jar and a look does not show.
func (pr *Prospect) Open() []rules.SignID {
	if !pr.Hopeless() {
		return nil
	}
	return rules.Explain(pr.Situation).Open
}

// Prospect says what the best result of a look at a jar can be.
func (p *Pantry) Prospect(j *record.Jar, now time.Time) *Prospect {
	s, basis := p.Situation(j, now)
	return p.prospect(s, &basis)
}

func (p *Pantry) prospect(s rules.Situation, basis *Basis) *Prospect {
	pr := &Prospect{Outcome: p.Outcome(s), Situation: s}
	if pr.Lowest == rules.Discard {
		pr.Condemned = true
		return pr
	}
	if pr.Highest <= rules.UseSoon {
		return pr
	}
	look := assumed(s, isLookedAt)
	pr.Look = look != s
	pr.Situation, pr.Outcome = look, p.Outcome(look)
	if pr.Highest <= rules.UseSoon {
		return pr
	}
	places := p.undescribed(basis)
	if len(places) == 0 {
		return pr
	}
	stood := assumed(look, func(id rules.SignID) bool { return slices.Contains(toldByPlace, id) })
	if o := p.Outcome(stood); o.Highest <= rules.UseSoon {
		pr.Places, pr.Situation, pr.Outcome = places, stood, o
	}
	return pr
}

// toldByPlace are the signs of a jar that the description of its place answers.
var toldByPlace = []rules.SignID{rules.SignWet, rules.SignPlace, rules.SignHeat, rules.SignFrozen}

// assumed treats the signs that are open as sound.
func assumed(s rules.Situation, which func(rules.SignID) bool) rules.Situation {
	for id := range rules.SignID(rules.NumSigns) {
		if which(id) && s.Open(id) {
			// What is known already rules out that it is sound: it stays open.
			_ = s.Tell(id.Info().Sound)
		}
	}
	return s
}

// undescribed lists the places where a jar was that nobody has described, in
// the order in which it was there. There are none when one of the places is not
// recorded: then no description can help.
func (p *Pantry) undescribed(basis *Basis) (places []*record.Place) {
	for _, stay := range basis.Stays {
		place := p.Places[stay.Place]
		if place == nil {
			return nil
		}
		if !place.AllKnown() && !slices.Contains(places, place) {
			places = append(places, place)
		}
	}
	return
}

// Outcome is the outcome of a situation, worked out once.
func (p *Pantry) Outcome(s rules.Situation) rules.Outcome {
	o, ok := p.judged[s]
	if !ok {
		o = rules.Judge(s)
		p.judged[s] = o
	}
	return o
}
