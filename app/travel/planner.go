package travel

import (
	"cmp"
	"slices"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/keeping"
)

// Planner works out a trip again and again: what does not depend on the weather
// is kept.
type Planner struct {
	pantry *pantry.Pantry
	trip   *record.Trip
	jars   []*Traveler
	start  time.Time
}

// NewPlanner looks at every jar that is not gone, as it will be when the trip
// begins, but not before now. Once the trip is packed, only what was packed
// counts.
func NewPlanner(p *pantry.Pantry, t *record.Trip, now time.Time) *Planner {
	pl := &Planner{pantry: p, trip: t, start: now}
	if from, err := time.ParseInLocation(record.DayLayout, string(t.From), now.Location()); err == nil && from.After(now) {
		pl.start = from
	}
	must := map[string]bool{}
	for _, id := range t.Must {
		must[id] = true
	}
	packed := map[string]bool{}
	for _, one := range t.Packed {
		packed[one.Jar] = true
	}
	for _, j := range p.Jars {
		if len(packed) > 0 && !packed[j.ID] {
			continue
		}
		v := p.Judge(j, pl.start)
		if v.Basis.Stage == record.IsGone {
			continue
		}
		tr := &Traveler{Verdict: &v, Must: must[j.ID], Dish: -1, batch: p.Batches[j.Batch]}
		pr := p.Prospect(j, pl.start)
		// The plan is made as if everything that can be sound is sound.
		tr.base, tr.Best, tr.Look = pr.Situation, pr.Highest, v.Highest > rules.UseSoon && pr.Highest <= rules.UseSoon
		size := "other"
		if b := tr.batch; b != nil {
			tr.Dish = DishOf(b.Food())
			if _, ok := luggage[b.Size]; ok {
				size = b.Size
			}
		}
		tr.Grams, tr.space = luggage[size].grams, luggage[size].space
		pl.jars = append(pl.jars, tr)
	}
	slices.SortStableFunc(pl.jars, func(x, y *Traveler) int {
		if x.batch != nil && y.batch != nil && x.batch != y.batch {
			return cmp.Or(cmp.Compare(x.batch.Made, y.batch.Made), cmp.Compare(x.batch.ID, y.batch.ID))
		}
		// Among jars that are alike, those that somebody has looked at go
		// first.
		switch {
		case !x.Look && y.Look:
			return -1
		case x.Look && !y.Look:
			return 1
		}
		return cmp.Compare(x.Jar.ID, y.Jar.ID)
	})
	return pl
}

// Plan works out the trip.
func (pl *Planner) Plan(what WhatIf) (*Journey, error) {
	t := pl.trip
	j := &Journey{Trip: t, What: what}
	var err error
	if j.Outside, err = outside(t, what.Hotter); err != nil {
		return nil, err
	}
	if j.Around, err = keeping.Around(j.Outside, stands(t, t.Stand)); err != nil {
		return nil, err
	}
	if t.Indoors {
		for h := range j.Around {
			j.Around[h].Low = max(j.Around[h].Low, 1)
			j.Around[h].High = max(j.Around[h].High, 1)
		}
	}
	if err := j.chill(); err != nil {
		return nil, err
	}
	heats := map[body]*heating{}
	for _, tr := range pl.jars {
		tr := *tr
		tr.heat, err = j.heating(heats, tr.batch)
		if err != nil {
			return nil, err
		}
		tr.Exposure = tr.heat.until[t.Days-1]
		tr.LastDay, tr.Opens = t.Days, -1
		pl.travels(&tr)
		j.Jars = append(j.Jars, &tr)
	}
	j.wanted()
	j.pack(pl)
	return j, nil
}

// travels judges whether a jar may go, and up to which day it may be opened.
func (pl *Planner) travels(tr *Traveler) {
	tr.Fate = NotNeeded
	switch v := tr.Verdict; {
	case v.Lowest == rules.Discard:
		tr.Fate, tr.Why = Stays, WhyDiscard
	case v.Basis.Stage == record.IsMissing:
		tr.Fate, tr.Why = Stays, WhyMissing
	case v.Basis.Stage == record.IsOpen:
		tr.Fate, tr.Why = Stays, WhyOpen
	case tr.batch == nil || tr.Dish < 0:
		tr.Fate, tr.Why = Stays, WhyNoRecord
	case tr.Best > rules.UseSoon:
		tr.Fate, tr.Why = Stays, WhyUnknown
	}
	last := pl.trip.Days - 1
	tr.Back = pl.projected(tr, last)
	if tr.Fate != NotNeeded || tr.Back.Highest <= rules.UseSoon {
		return
	}
	for tr.LastDay = last - 1; tr.LastDay >= 0; tr.LastDay-- {
		if o := pl.projected(tr, tr.LastDay); o.Highest <= rules.UseSoon {
			return
		}
	}
	tr.Fate, tr.Why = Stays, WhyHeat
	if s := pl.situation(tr, 0, true); pl.judge(s).Highest <= rules.UseSoon {
		tr.Why = WhyFrost
	}
}

// situation is the situation of the jar at the end of a day of the trip.
func (pl *Planner) situation(tr *Traveler, day int, noFrost bool) rules.Situation {
	s, e := tr.base, &tr.heat.until[day]
	if tr.batch != nil {
		age := tr.Basis.Age
		s.Forget(rules.SignAge)
		_ = s.Tell(pantry.Values("age_days", max(1, age), age+day+2)...)
	}
	// At least as warm as its warmest reading on the way.
	had := s.Values(rules.SignHeat)
	var heat []rules.Value
	for _, a := range had {
		for _, b := range keeping.HeatOf(e.Warmest) {
			heat = append(heat, max(a, b)) // in rising order of harm
		}
	}
	s.Forget(rules.SignHeat)
	_ = s.Tell(heat...) // every value is one of the sign
	if !e.Unfrozen() && !noFrost {
		s.Forget(rules.SignFrozen)
	}
	return s
}

func (pl *Planner) projected(tr *Traveler, day int) rules.Outcome {
	return pl.judge(pl.situation(tr, day, false))
}

func (pl *Planner) judge(s rules.Situation) rules.Outcome { return pl.pantry.Outcome(s) }

// Reasons returns the rules because of which a jar stays, or could come back
// worse.
func (pl *Planner) Reasons(tr *Traveler) (rs []*rules.Rule) {
	day := pl.trip.Days - 1
	if tr.Why == WhyHeat || tr.Why == WhyFrost {
		day = 0
	}
	s := pl.situation(tr, day, false)
	if tr.Why == WhyDiscard {
		s = tr.base
	}
	trace := rules.Explain(s)
	seen := map[*rules.Rule]bool{}
	for _, l := range append(trace.Deciding, trace.Pending...) {
		if l.Rule.Then > rules.Keep && !seen[l.Rule] {
			seen[l.Rule] = true
			rs = append(rs, l.Rule)
		}
	}
	return
}
