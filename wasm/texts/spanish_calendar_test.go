package texts_test

import (
	"bytes"
	"strings"
	"testing"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"

	"larderlamp/app/tables"
	"larderlamp/app/testkit"
)

// A calendar in Spanish has the events of the English one, on the same days, each with
// a Spanish summary and description. Its lines are folded between letters, also where
// letters have accents.
func TestSpanishCalendar(t *testing.T) {
	all, err := inSpanish()
	if err != nil {
		t.Fatal(err)
	}
	p := testkit.Invented(t, testkit.Noon)
	english, err := tables.Calendar(p, testkit.Noon, nil)
	if err != nil {
		t.Fatal(err)
	}
	spanish, err := tables.Calendar(p, testkit.Noon, all.Reader())
	if err != nil {
		t.Fatal(err)
	}
	folded, accents := 0, 0
	for line := range strings.SplitSeq(string(spanish), "\r\n") {
		if len(line) > 75 || !utf8.ValidString(line) {
			t.Errorf("got the line %q of %d octets, want at most 75 and no letter cut", line, len(line))
		}
		if strings.HasPrefix(line, " ") {
			folded++
		}
		if strings.ContainsAny(line, "áéíóúñ") {
			accents++
		}
	}
	if folded == 0 || accents == 0 {
		t.Errorf("got %d folded lines and %d with accents, want some of each", folded, accents)
	}
	want, got := readEvents(t, english), readEvents(t, spanish)
	if len(want) < 10 || len(got) != len(want) {
		t.Fatalf("got %d events in Spanish and %d in English, want the same and at least 10", len(got), len(want))
	}
	for id, e := range want {
		s, ok := got[id]
		switch {
		case !ok:
			t.Errorf("%s: missing in Spanish", id)
		case s.day != e.day:
			t.Errorf("%s: got the day %s, want %s", id, s.day, e.day)
		case s.summary == e.summary, s.description == e.description:
			t.Errorf("%s: English in the Spanish calendar: %q, %q", id, s.summary, s.description)
		}
		// Words of the English formats, which the names inside can't have.
		for _, words := range []string{"is a year old", "Finish or discard", "on the shelf", "After this day", "Look at every jar", "sweep:"} {
			if strings.Contains(s.summary+" "+s.description, words) {
				t.Errorf("%s: got %q in %q, %q", id, words, s.summary, s.description)
			}
		}
	}
}

type dated struct{ day, summary, description string }

// readEvents reads a calendar with an independent reader of the format.
func readEvents(t *testing.T, file []byte) map[string]dated {
	t.Helper()
	read, err := ics.ParseCalendar(bytes.NewReader(file))
	if err != nil {
		t.Fatalf("got %v\n%s", err, file)
	}
	events := map[string]dated{}
	for _, e := range read.Events() {
		events[e.Id()] = dated{
			day:         e.GetProperty(ics.ComponentPropertyDtStart).Value,
			summary:     e.GetProperty(ics.ComponentPropertySummary).Value,
			description: e.GetProperty(ics.ComponentPropertyDescription).Value,
		}
	}
	return events
}
