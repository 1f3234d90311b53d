package record_test

import (
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/testkit"
)

// What happened decides where a jar is, in whatever order it was written down.
func TestStanding(t *testing.T) {
	_, place, _, jars := testkit.Home(t, "peaches")
	j := jars[0]
	add := func(what string, hours int, where string) *record.Event {
		e, err := j.Add(what, testkit.Noon.Add(time.Duration(hours)*time.Hour))
		if err != nil {
			t.Fatal(err)
		}
		e.Place = where
		return e
	}
	const other = "0199f1f0-7b7c-7abc-8def-0123456789ab"
	add(record.Moved, 2, other)
	add(record.Missing, 3, "")
	if s := j.Standing(); s.Stage != record.IsMissing || s.Place != other {
		t.Errorf("got %+v", s)
	}
	add(record.Found, 4, place.ID)
	if s := j.Standing(); s.Stage != record.OnShelf || s.Place != place.ID || len(s.Stays) != 3 {
		t.Errorf("got %+v", s)
	}
	add(record.Moved, 1, place.ID) // written later, happened earlier
	if s := j.Standing(); s.Place != place.ID || s.Stays[1].Place != place.ID {
		t.Errorf("got %+v", s)
	}
	gone := add(record.Eaten, 5, "").ID
	if s := j.Standing(); s.Stage != record.IsGone || s.Ended.What != record.Eaten {
		t.Errorf("got %+v", s)
	}
	j.Undo(gone, true)
	if s := j.Standing(); s.Stage != record.OnShelf {
		t.Errorf("got %+v", s)
	}
}
