package pantry

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"larderlamp/rules"
	"larderlamp/rules/order"
)

// What can happen to a jar.
const (
	Stored    = "stored"    // put in a place, after canning
	Moved     = "moved"     // to another place
	Opened    = "opened"    // and put in a place, or kept where it was
	Chilled   = "chilled"   // put in a refrigerator or freezer on the day it was made
	Eaten     = "eaten"     // empty
	Given     = "given"     // away
	Discarded = "discarded" // Why says what for
	Missing   = "missing"   // looked for and not found
	Found     = "found"     // in a place, after it was missing, or never recorded
	Looked    = "looked"    // the short look of a sweep; Seen holds what was seen
	Checked   = "checked"   // a full check; Seen holds what was seen
	Travelled = "travelled" // back from a trip, with what it went through
	Noted     = "noted"     // words
	Pictured  = "pictured"  // a photo
)

var happenings = []string{Stored, Moved, Opened, Chilled, Eaten, Given, Discarded, Missing, Found, Looked, Checked, Travelled, Noted, Pictured}

// The reasons for which a jar is discarded.
const (
	ForSpoiled = "spoiled"
	ForSeal    = "lost-seal"
	ForProcess = "process" // not as published, nothing wrong to be seen
	ForAge     = "age"
	ForTaste   = "taste" // nobody wants it
)

// Seen is what was seen of one sign: the values still possible.
type Seen struct {
	Sign   string   `json:"sign"`
	Values []string `json:"values"`
}

// Event is one thing that happened to a jar. Events are only ever added; one
// that was a mistake is marked as undone.
type Event struct {
	ID       string    `json:"id"`
	What     string    `json:"what"`
	At       time.Time `json:"at"`
	Place    string    `json:"place,omitempty"`
	Check    string    `json:"check,omitempty"`
	Photo    string    `json:"photo,omitempty"`
	Sweep    string    `json:"sweep,omitempty"`
	Why      string    `json:"why,omitempty"`
	Words    string    `json:"words,omitempty"`
	Seen     []Seen    `json:"seen,omitempty"`
	Warmest  *int      `json:"warmest_tenths_c,omitempty"` // of a trip
	Coldest  *int      `json:"coldest_tenths_c,omitempty"` // of a trip
	Undone   bool      `json:"undone,omitempty"`
	Revision int       `json:"revision,omitempty"`

	// What Seen comes to, worked out when it is first asked for.
	values []rules.Value
	asked  bool
}

// seenValues gives what was seen, sign by sign, of the signs that are taken from
// a look.
func (e *Event) seenValues() []rules.Value {
	if e.asked {
		return e.values
	}
	e.asked = true
	for _, s := range e.Seen {
		id, ok := rules.SignByID(s.Sign)
		if !ok || !looked(id) {
			continue
		}
		for _, name := range s.Values {
			if v, ok := id.ValueByID(name); ok {
				e.values = append(e.values, v)
			}
		}
	}
	return e.values
}

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

func (e *Event) check(f *faults, i int) {
	at := func(field string) string { return fmt.Sprintf("events: %d: %s", i+1, field) }
	for _, d := range []struct {
		field, id string
		must      bool
	}{{"id", e.ID, true}, {"place", e.Place, false}, {"check", e.Check, false}, {"photo", e.Photo, false}, {"sweep", e.Sweep, false}} {
		if (d.must || d.id != "") && !isID(d.id) {
			f.add(at(d.field), "%q is not an id of this program", d.id)
		}
	}
	if !slices.Contains(happenings, e.What) {
		f.add(at("what"), "%q is none of %q", e.What, happenings)
	}
	if e.At.Year() < 1950 || e.At.Year() > 9999 {
		f.time(at("at"), e.At)
	}
	f.one(at("why"), e.Why, ForSpoiled, ForSeal, ForProcess, ForAge, ForTaste)
	if err := plainText(e.Words, MostNotes); err != nil {
		f.add(at("words"), "%w", err)
	}
	if len(e.Seen) > mostAnswers {
		f.add(at("seen"), "%d of them, at most %d", len(e.Seen), mostAnswers)
	}
	for _, s := range e.Seen {
		if !name(s.Sign) || len(s.Values) == 0 || !allNames(s.Values) {
			f.add(at("seen"), "sign %q or its values %q are not names", s.Sign, s.Values)
		}
	}
	if e.Warmest != nil {
		f.within(at("warmest_tenths_c"), *e.Warmest, -500, 1500, "tenths of a degree")
	}
	if e.Coldest != nil {
		f.within(at("coldest_tenths_c"), *e.Coldest, -1000, 1500, "tenths of a degree")
	}
	if e.Revision < 0 {
		f.add(at("revision"), "%d is below zero", e.Revision)
	}
}

// Add notes what happened and gives the event, to be filled.
func (j *Jar) Add(what string, at time.Time) (*Event, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return nil, fmt.Errorf("jar %s: %w", j.ID, err)
	}
	if what == Looked || what == Checked {
		at = j.afterLooks(at)
	}
	j.Events = append(j.Events, Event{ID: id.String(), What: what, At: at.UTC().Truncate(time.Millisecond)})
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

// mergeEvents puts two lists of events together. Of two versions of one event
// the later revision stands, of equal ones that whose bytes sort last.
func mergeEvents(a, b []Event) []Event {
	all := slices.Concat(a, b)
	text := func(e *Event) []byte {
		t, err := json.Marshal(e)
		if err != nil {
			panic(err) // an event holds only text and numbers
		}
		return t
	}
	order.By(all, func(x, y *Event) bool {
		if x.ID != y.ID {
			return x.ID < y.ID
		}
		return cmp.Or(cmp.Compare(y.Revision, x.Revision), bytes.Compare(text(y), text(x))) < 0
	})
	all = slices.CompactFunc(all, func(x, y Event) bool { return x.ID == y.ID })
	if all == nil {
		all = []Event{}
	}
	return all
}

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

// Standing is where a jar stands: what its events come to.
type Standing struct {
	Stage Stage
	Place string // "" when nobody said
	// Cold tells that it never stood on a shelf: Opened is when it was chilled.
	Cold   bool
	Since  time.Time
	Opened *Event
	Ended  *Event // that took it from the shelf for good
	Look   *Event // the last look or check
	// Stays lists where it has stood, in order.
	Stays []Stay
	// Warmest is the highest temperature of a trip, in tenths of a degree.
	Warmest *int
	// Coldest is the lowest temperature of a trip, in tenths of a degree.
	Coldest *int
}

// Stay is a time in one place.
type Stay struct {
	Place string
	From  time.Time
}

// Standing folds the events in the order in which they happened.
func (j *Jar) Standing() (s Standing) {
	events := make([]*Event, 0, len(j.Events))
	sorted := true
	for i := range j.Events {
		if e := &j.Events[i]; !e.Undone {
			if n := len(events); n > 0 && before(e, events[n-1]) {
				sorted = false
			}
			events = append(events, e)
		}
	}
	if !sorted {
		order.By(events, func(x, y **Event) bool { return before(*x, *y) })
	}
	for _, e := range events {
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
		case Travelled:
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
	return
}

func before(x, y *Event) bool { return x.At.Before(y.At) || x.At.Equal(y.At) && x.ID < y.ID }

func (s *Standing) stay(e *Event) {
	s.Place, s.Since = e.Place, e.At
	s.Stays = append(s.Stays, Stay{e.Place, e.At})
}
