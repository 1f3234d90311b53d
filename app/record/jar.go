package record

import (
	"encoding/json"
	"fmt"
	"time"
)

// Jar is one container of a batch.
type Jar struct {
	Head
	Batch  string  `json:"batch"`
	Number int     `json:"number"` // within its batch, from 1
	Events []Event `json:"events"` // in the order of their ids
}

// NewJar makes a jar of a batch.
func NewJar(batch string, number int, now time.Time) (*Jar, error) {
	head, err := newHead(now)
	if err != nil {
		return nil, fmt.Errorf("jar: %w", err)
	}
	return &Jar{Head: head, Batch: batch, Number: number, Events: []Event{}}, nil
}

// Kind implements [Record].
func (j *Jar) Kind() Kind { return Jars }

// body leaves the events out: they are merged one by one.
func (j *Jar) body() ([]byte, error) {
	copied := *j
	copied.Past, copied.Aside, copied.Events = nil, nil, []Event{}
	return json.Marshal(&copied)
}

// Encode implements [Record].
func (j *Jar) Encode() ([]byte, error) { return encode(j, j) }

// mostEvents bounds a record that is read.
const mostEvents = 2000

// Validate implements [Record].
func (j *Jar) Validate() error {
	f := faults{record: "jar " + j.ID}
	j.check(&f)
	if !isID(j.Batch) {
		f.add("batch", "%q is not an id of this program", j.Batch)
	}
	f.within("number", j.Number, 1, MostJars, "")
	if j.Events == nil {
		f.add("events", "null is no list")
	}
	if len(j.Events) > mostEvents {
		f.add("events", "%d of them, at most %d", len(j.Events), mostEvents)
	}
	for i := range j.Events {
		j.Events[i].check(&f, i)
	}
	return f.err()
}

// Add records that something happened and returns the event, to be filled in.
func (j *Jar) Add(what string, at time.Time) (*Event, error) {
	id, err := newID()
	if err != nil {
		return nil, fmt.Errorf("jar %s: %w", j.ID, err)
	}
	if what == Looked || what == Checked {
		at = j.afterLooks(at)
	}
	j.Events = append(j.Events, Event{ID: id, What: what, At: at.UTC().Truncate(time.Millisecond)})
	return &j.Events[len(j.Events)-1], nil
}

// afterLooks is a time, or one just after the last look if that is later: a clock
// that was set back must not hide what was seen behind an older look.
func (j *Jar) afterLooks(at time.Time) time.Time {
	for i := range j.Events {
		if e := &j.Events[i]; (e.What == Looked || e.What == Checked) && !e.At.Before(at) {
			at = e.At.Add(time.Millisecond)
		}
	}
	return at
}

// Undo marks an event as a mistake, or takes the mark back.
func (j *Jar) Undo(id string, undone bool) {
	for i := range j.Events {
		if e := &j.Events[i]; e.ID == id && e.Undone != undone {
			e.Undone = undone
			e.Revision++
		}
	}
}

// Trouble says whether the jar is known to have spoiled or lost its seal: from
// the reason it was discarded, or from the last look.
func (j *Jar) Trouble() string {
	trouble := ""
	for i := range j.Events {
		e := &j.Events[i]
		if e.Undone {
			continue
		}
		switch {
		case e.What == Discarded && e.Why == ForSpoiled:
			return ForSpoiled
		case e.What == Discarded && e.Why == ForSeal:
			trouble = ForSeal
		case e.What == Looked || e.What == Checked:
			switch e.Trouble() {
			case ForSpoiled:
				return ForSpoiled
			case ForSeal:
				trouble = ForSeal
			}
		}
	}
	return trouble
}
