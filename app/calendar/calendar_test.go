package calendar_test

import (
	"bytes"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"

	"larderlamp/app/calendar"
)

var stamp = time.Date(2026, 9, 12, 12, 0, 0, 0, time.UTC)

func day(n int) time.Time { return time.Date(2026, 9, 1+n, 0, 0, 0, 0, time.UTC) }

// An independent reader of the format finds every event as it was meant,
// whatever its text holds.
func TestAnotherReaderUnderstands(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	pieces := []string{"jar", ",", ";", ":", "\\", "\\n", "\n", "END:VEVENT", "BEGIN:VALARM", "ü", "🫙", " ", strings.Repeat("x", 80), "\"", "="}
	for range 300 {
		var events []calendar.Event
		for i := range 1 + r.IntN(4) {
			text := "a"
			for range r.IntN(9) {
				text += pieces[r.IntN(len(pieces))]
			}
			events = append(events, calendar.Event{UID: strings.Repeat("u", i+1) + "@x", Day: day(r.IntN(400)), Summary: text, Description: text + " more", Every: r.IntN(4)})
		}
		file, err := calendar.Write(events, stamp, "-//x//EN")
		if err != nil {
			t.Fatal(err)
		}
		read, err := ics.ParseCalendar(bytes.NewReader(file))
		if err != nil {
			t.Fatalf("got %v\n%s", err, file)
		}
		if len(read.Events()) != len(events) {
			t.Fatalf("got %d events, want %d\n%s", len(read.Events()), len(events), file)
		}
		for _, e := range events {
			var found *ics.VEvent
			for _, v := range read.Events() {
				if v.Id() == e.UID {
					found = v
				}
			}
			if found == nil {
				t.Fatalf("%s is missing\n%s", e.UID, file)
			}
			if got := found.GetProperty(ics.ComponentPropertySummary).Value; ics.FromText(got) != e.Summary && got != e.Summary {
				t.Fatalf("%q became %q", e.Summary, got)
			}
			begin, err := found.GetAllDayStartAt()
			if err != nil || begin.Format(time.DateOnly) != e.Day.Format(time.DateOnly) {
				t.Fatalf("%v came back as %v, %v", e.Day, begin, err)
			}
		}
	}
}

// RFC 5545, section 3.1: lines end with CRLF and are at most 75 octets long.
// No character is cut.
func TestLines(t *testing.T) {
	for n := range 200 {
		file, err := calendar.Write([]calendar.Event{{UID: "u", Day: day(0), Summary: strings.Repeat("x", n) + strings.Repeat("ü🫙", 40)}}, stamp, "p")
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Count(file, []byte("\n")) != bytes.Count(file, []byte("\r\n")) {
			t.Fatal("a line does not end with CRLF")
		}
		for line := range strings.SplitSeq(string(file), "\r\n") {
			if len(line) > 75 || !utf8.ValidString(line) {
				t.Fatalf("got a line of %d octets: %q", len(line), line)
			}
		}
		if !strings.Contains(strings.ReplaceAll(string(file), "\r\n ", ""), strings.Repeat("x", n)+strings.Repeat("ü🫙", 40)) {
			t.Fatal("folding lost text")
		}
	}
}

// Text can't leave its property, and nothing in it reverses the direction of
// writing.
func TestHostileText(t *testing.T) {
	file, err := calendar.Write([]calendar.Event{{UID: "u", Day: day(0), Summary: "a\r\nATTACH:http://x\u202e\x00b\u2028"}}, stamp, "p")
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(file), "\nATTACH") || strings.ContainsAny(string(file), "\u202e\x00\u2028") {
		t.Errorf("got %q", file)
	}
}

func TestOrderDoesNotMatter(t *testing.T) {
	a, b := calendar.Event{UID: "a", Day: day(3), Summary: "x"}, calendar.Event{UID: "b", Day: day(1), Summary: "y"}
	one, err1 := calendar.Write([]calendar.Event{a, b}, stamp, "p")
	two, err2 := calendar.Write([]calendar.Event{b, a}, stamp, "p")
	if err1 != nil || err2 != nil || !bytes.Equal(one, two) {
		t.Errorf("got %s\n%s\n%v %v", one, two, err1, err2)
	}
}

func TestFaults(t *testing.T) {
	for name, events := range map[string][]calendar.Event{
		"no id": {{Day: day(0), Summary: "x"}}, "no text": {{UID: "u", Day: day(0)}},
		"an id twice": {{UID: "u", Day: day(0), Summary: "x"}, {UID: "u", Day: day(1), Summary: "x"}}, "no date": {{UID: "u", Summary: "x", Day: time.Date(0, 1, 1, 0, 0, 0, 0, time.UTC)}},
	} {
		if _, err := calendar.Write(events, stamp, "p"); err == nil {
			t.Errorf("%s was written", name)
		}
	}
}
