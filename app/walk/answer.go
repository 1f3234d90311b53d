package walk

import (
	"time"

	"larderlamp/app/record"
	"larderlamp/rules/prose"
)

// AnswerOf is the answer of a sweep for a jar: its last event of the sweep, or
// nil. A check that was started and in which nothing was seen is not an answer.
func AnswerOf(s *record.Sweep, j *record.Jar) (last *record.Event) {
	for i := range j.Events {
		if e := &j.Events[i]; answered(s, e) && (last == nil || record.ByTime(last, e) < 0) {
			last = e
		}
	}
	return
}

// answered reports whether an event is an answer of the sweep.
func answered(s *record.Sweep, e *record.Event) bool {
	if e.Sweep != s.ID || e.Undone {
		return false
	}
	switch e.What {
	case record.Missing, record.Discarded, record.Noted:
		return true
	}
	return len(e.Seen) > 0
}

// worst is the worst that the sweep saw of a jar, and when: one that was found
// spoiled and then thrown out counts as found spoiled.
func worst(s *record.Sweep, j *record.Jar) (trouble string, at time.Time) {
	for i := range j.Events {
		e := &j.Events[i]
		if !answered(s, e) {
			continue
		}
		if t := e.Trouble(); t == record.ForSpoiled && (trouble != record.ForSpoiled || e.At.After(at)) || t == record.ForSeal && trouble == "" {
			trouble, at = t, e.At
		}
	}
	return
}

// LeaveOnShelf records that jars stay on the shelf for now although they have to be
// discarded, so that the walk can continue. The note is written in the language of
// the reader, and stays so.
func LeaveOnShelf(s *record.Sweep, jars []*record.Jar, at time.Time, in prose.Language) error {
	return note(s, jars, record.Noted, at, func(e *record.Event) {
		e.Words = prose.Text("Still on the shelf after a sweep, though it has to be discarded.").In(in)
	})
}

// StillCooling records that jars were not looked at because they have not cooled
// long enough: the walk continues, and the next one comes back to them.
func StillCooling(s *record.Sweep, jars []*record.Jar, at time.Time, in prose.Language) error {
	return note(s, jars, record.Noted, at, func(e *record.Event) {
		e.Words = prose.Text("Still cooling when the sweep came by: not looked at.").In(in)
	})
}

// note adds an event of the sweep to jars.
func note(s *record.Sweep, jars []*record.Jar, what string, at time.Time, fill func(*record.Event)) error {
	for _, j := range jars {
		e, err := j.Add(what, at)
		if err != nil {
			return err
		}
		e.Sweep = s.ID
		if fill != nil {
			fill(e)
		}
	}
	return nil
}

// Lost records that a jar was not found.
func Lost(s *record.Sweep, j *record.Jar, at time.Time) error {
	return note(s, []*record.Jar{j}, record.Missing, at, nil)
}

// lookOf is the last look of the sweep at a jar, or nil.
func lookOf(s *record.Sweep, j *record.Jar) (last *record.Event) {
	for i := range j.Events {
		if e := &j.Events[i]; answered(s, e) && (e.What == record.Looked || e.What == record.Checked) && (last == nil || record.ByTime(last, e) < 0) {
			last = e
		}
	}
	return
}
