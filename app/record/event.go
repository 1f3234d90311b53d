package record

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"slices"
	"time"

	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// What can happen to a jar.
const (
	Stored    = "stored"    // put in a place, after canning
	Moved     = "moved"     // put in another place
	Opened    = "opened"    // opened, and put in a place or left where it was
	Chilled   = "chilled"   // put in a refrigerator or freezer on the day it was made
	Eaten     = "eaten"     // the jar is empty
	Given     = "given"     // given away
	Discarded = "discarded" // Why says why
	Missing   = "missing"   // looked for and not found
	Found     = "found"     // found in a place, after it was missing, or if it was never recorded
	Looked    = "looked"    // the short look of a sweep; Seen holds what was seen
	Checked   = "checked"   // a full check; Seen holds what was seen
	Traveled  = "travelled" // back from a trip, with what the trip did to it
	Noted     = "noted"     // words
	Pictured  = "pictured"  // a photo
)

var happenings = []string{Stored, Moved, Opened, Chilled, Eaten, Given, Discarded, Missing, Found, Looked, Checked, Traveled, Noted, Pictured}

// The reasons for which a jar is discarded.
const (
	ForSpoiled = "spoiled"
	ForSeal    = "lost-seal"
	ForProcess = "process" // not processed as published, nothing wrong to be seen
	ForAge     = "age"
	ForTaste   = "taste" // nobody wants it
)

// Seen is what was seen of one sign: the values still possible.
type Seen struct {
	Sign   string   `json:"sign"`
	Values []string `json:"values"`
}

// Event is one thing that happened to a jar. Events are only ever added; a
// mistake is marked as undone.
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
	Warmest  *int      `json:"warmest_tenths_c,omitempty"` // highest temperature of a trip
	Coldest  *int      `json:"coldest_tenths_c,omitempty"` // lowest temperature of a trip
	Undone   bool      `json:"undone,omitempty"`
	Revision int       `json:"revision,omitempty"`

	// The outcome of Seen, worked out when it is first requested.
	values []rules.Value
	asked  bool
}

// Values returns what was seen, sign by sign, for the signs that come from a
// look.
func (e *Event) Values() []rules.Value {
	if e.asked {
		return e.values
	}
	e.asked = true
	named := 0
	for i := range e.Seen {
		named += len(e.Seen[i].Values)
	}
	if named > 0 {
		e.values = make([]rules.Value, 0, named)
	}
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
		f.add(at("what"), "%q is none of %s", e.What, fmt.Sprintf("%q", happenings))
	}
	if e.At.Year() < 1950 || e.At.Year() > 9999 {
		f.time(at("at"), e.At)
	}
	f.one(at("why"), e.Why, ForSpoiled, ForSeal, ForProcess, ForAge, ForTaste)
	if err := PlainText(e.Words, MostNotes); err != nil {
		f.add(at("words"), "%s", prose.Error(err))
	}
	if len(e.Seen) > mostAnswers {
		f.add(at("seen"), "%d of them, at most %d", len(e.Seen), mostAnswers)
	}
	for _, s := range e.Seen {
		if !IsName(s.Sign) || len(s.Values) == 0 || !allNames(s.Values) {
			f.add(at("seen"), "sign %q or its values %s are not names", s.Sign, fmt.Sprintf("%q", s.Values))
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

// mergeEvents merges two lists of events. Of two versions of one event the
// later revision wins; of equal ones, the one whose bytes sort last.
func mergeEvents(a, b []Event) []Event {
	all := slices.Concat(a, b)
	text := func(e *Event) []byte {
		t, err := json.Marshal(e)
		if err != nil {
			panic(err) // an event holds only text and numbers
		}
		return t
	}
	slices.SortStableFunc(all, func(x, y Event) int {
		if x.ID != y.ID {
			return cmp.Compare(x.ID, y.ID)
		}
		return cmp.Or(cmp.Compare(y.Revision, x.Revision), bytes.Compare(text(&y), text(&x)))
	})
	all = slices.CompactFunc(all, func(x, y Event) bool { return x.ID == y.ID })
	if all == nil {
		all = []Event{}
	}
	return all
}

// ByTime puts events in the order in which they happened.
func ByTime(x, y *Event) int { return cmp.Or(x.At.Compare(y.At), cmp.Compare(x.ID, y.ID)) }

// looked reports whether a sign comes from the last look. The rest is known
// better elsewhere: the record and the age from the batch, the days open from
// the clock.
func looked(id rules.SignID) bool {
	switch id.Info().Chapter {
	case rules.ChapterOutside, rules.ChapterGlass:
		return true
	case rules.ChapterStorage:
		return id != rules.SignAge && id != rules.SignHeat
	case rules.ChapterOpening:
		return id != rules.SignOpened
	case rules.ChapterOpened:
		return id == rules.SignIll || id == rules.SignOut || id == rules.SignAir || id == rules.SignChill
	}
	return false
}

// Trouble says what was certainly seen at a look: [ForSpoiled], [ForSeal] or
// nothing.
func (e *Event) Trouble() string {
	trouble := ""
	values := e.Values()
	for i, v := range values {
		alone := (i == 0 || values[i-1].Sign() != v.Sign()) && (i+1 == len(values) || values[i+1].Sign() != v.Sign())
		if !alone {
			continue
		}
		switch v.Shows() {
		case rules.Spoilage:
			return ForSpoiled
		case rules.LostSeal:
			trouble = ForSeal
		}
	}
	return trouble
}

// MadeIll reports whether someone was said to be ill who ate from the jar. Unlike what
// is seen of it, that stays true, whatever a later look says.
func (j *Jar) MadeIll() bool {
	for i := range j.Events {
		if e := &j.Events[i]; !e.Undone && slices.Contains(e.Values(), rules.IllSeen) && !slices.Contains(e.Values(), rules.IllNone) {
			return true
		}
	}
	return false
}
