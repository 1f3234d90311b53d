package record

import (
	"slices"
	"time"
)

// The stages of a jar.
type Stage uint8

// A jar is on the shelf, open, gone (eaten, given away or discarded), or nobody
// knows where.
const (
	OnShelf Stage = iota
	IsOpen
	IsGone
	IsMissing
)

// Standing is where a jar is: the result of its events.
type Standing struct {
	Stage Stage
	Place string // "" when nobody said
	// Cold says that it was never on a shelf: Opened is when it was chilled.
	Cold   bool
	Since  time.Time
	Opened *Event
	Ended  *Event // event that took it from the shelf permanently
	Look   *Event // the last look or check
	// Stays lists where it has been, in order.
	Stays []Stay
	// Warmest is the highest temperature of a trip, in tenths of a degree.
	Warmest *int
	// Coldest is the lowest temperature of a trip, in tenths of a degree.
	Coldest *int
}

// Stay is a period in one place.
type Stay struct {
	Place string
	From  time.Time
}

// Standing applies the events in the order in which they happened.
func (j *Jar) Standing() (s Standing) {
	if !j.inOrder() {
		events := make([]*Event, len(j.Events))
		for i := range j.Events {
			events[i] = &j.Events[i]
		}
		slices.SortStableFunc(events, ByTime)
		for _, e := range events {
			s.apply(e)
		}
		return
	}
	for i := range j.Events {
		s.apply(&j.Events[i])
	}
	return
}

// inOrder reports whether the events are recorded in the order in which they happened.
func (j *Jar) inOrder() bool {
	for i := 1; i < len(j.Events); i++ {
		if ByTime(&j.Events[i], &j.Events[i-1]) < 0 {
			return false
		}
	}
	return true
}

// apply continues with the next event.
func (s *Standing) apply(e *Event) {
	if e.Undone {
		return
	}
	switch e.What {
	case Stored, Moved, Found:
		if s.Stage == IsMissing {
			s.Stage, s.Ended = OnShelf, nil
		}
		s.stay(e)
	case Opened:
		// The days of a jar that was never on a shelf count from when it was
		// made, opened or not.
		if s.Stage != IsGone && !s.Cold {
			s.Stage, s.Opened = IsOpen, e
		}
		if e.Place != "" {
			s.stay(e)
		}
	case Chilled:
		if s.Stage != IsGone {
			s.Stage, s.Opened, s.Cold = IsOpen, e, true
		}
		if e.Place != "" {
			s.stay(e)
		}
	case Eaten, Given, Discarded:
		s.Stage, s.Ended = IsGone, e
	case Missing:
		if s.Stage != IsGone {
			s.Stage = IsMissing
		}
	case Looked, Checked:
		s.Look = e
	case Traveled:
		if e.Warmest != nil && (s.Warmest == nil || *e.Warmest > *s.Warmest) {
			s.Warmest = e.Warmest
		}
		if e.Coldest != nil && (s.Coldest == nil || *e.Coldest < *s.Coldest) {
			s.Coldest = e.Coldest
		}
		if e.Place != "" {
			s.stay(e)
		}
	}
}

func (s *Standing) stay(e *Event) {
	s.Place, s.Since = e.Place, e.At
	s.Stays = append(s.Stays, Stay{e.Place, e.At})
}
