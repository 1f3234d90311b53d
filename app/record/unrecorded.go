package record

import (
	"errors"
	"time"

	"larderlamp/rules"
)

// The ages, in days, that count for a jar whose day of canning nobody knows: the
// oldest that its age in a check allows.
const (
	oldestOfYear = 364
	oldestOfTwo  = 729
	oldestOfAny  = 1095
)

// Record starts the record of a jar that was checked and is not on any shelf: what
// was said about its canning, and the earliest day that its age allows.
func (c *Check) Record(now time.Time) (*Batch, error) {
	b, err := NewBatch(c.Product, now)
	if err != nil {
		return nil, err
	}
	s := c.Situation(b.Food())
	for _, said := range b.said() {
		if v, ok := s.Known(said.Sign); ok {
			b.Set(said.Sign, v.ID())
		}
	}
	if v, ok := s.Known(rules.SignProcess); ok {
		b.Set(rules.SignProcess, v.ID())
	}
	days := oldestOfAny
	switch v, _ := s.Known(rules.SignAge); v {
	case rules.AgeDay:
		days = 0
	case rules.AgeYear:
		days = oldestOfYear
	case rules.AgeTwo:
		days = oldestOfTwo
	}
	b.Made = DayOf(now.AddDate(0, 0, -days))
	name := []rune(c.Label)
	b.Title = string(name[:min(len(name), MostName)])
	return b, nil
}

// PutOnShelf puts the jar that was checked in a place: on a shelf, or opened into a
// refrigerator. Nobody recorded where it was before; what was said about that in
// the check counts. From now on the check knows its jar.
func (c *Check) PutOnShelf(b *Batch, place string, opened bool, now time.Time) (*Jar, error) {
	j, err := NewJar(b.ID, 1, now)
	if err != nil {
		return nil, err
	}
	made, err := time.ParseInLocation(DayLayout, string(b.Made), now.Location())
	if err != nil {
		return nil, errors.New("made: it is not a date")
	}
	if _, err := j.Add(Stored, made); err != nil {
		return nil, err
	}
	what, at := Moved, now
	if opened {
		what = Opened
		at = c.openedBy(b.Food())
	}
	e, err := j.Add(what, at)
	if err != nil {
		return nil, err
	}
	e.Place = place
	c.Jar, c.Thrown = j.ID, ""
	c.Touch(now)
	j.AddCheck(c)
	return j, nil
}

// openedBy is the earliest time the jar can have been opened, according to the
// check.
func (c *Check) openedBy(food *rules.Product) time.Time {
	s := c.Situation(food)
	if s.Is(rules.OpenedNow) {
		return c.Begun
	}
	band, _ := rules.BandByID("open_days")
	days := 0
	for _, step := range band.Steps {
		if s.Possible(step.Value) {
			if days = step.Max; days == 0 {
				days = oldestOfAny
			}
		}
	}
	return c.Begun.AddDate(0, 0, -max(0, days-1))
}
