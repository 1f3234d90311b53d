// Package calendar writes dates as an iCalendar file (RFC 5545).
//
// # Promises
//
// Every event lasts one whole day. Lines end with CRLF, none is longer than 75
// octets, and no character is cut. The same events give the same bytes,
// whatever their order. Text can neither end its property nor begin another,
// and holds no control characters and none that turn the direction of writing.
package calendar

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Event is one date to remember.
type Event struct {
	UID         string // the same in every file, so that calendars replace the event
	Day         time.Time
	Summary     string
	Description string
	Every       int // repeats after this many months; 0 for once
}

// Write writes a calendar. stamp is the time of writing; product names the
// program that wrote it. Events without an id or a text, or with the id of
// another event, are an error.
func Write(events []Event, stamp time.Time, product string) ([]byte, error) {
	sorted := slices.Clone(events)
	slices.SortStableFunc(sorted, func(a, b Event) int {
		return cmp.Or(a.Day.Compare(b.Day), cmp.Compare(a.UID, b.UID))
	})
	w := &writer{}
	w.line("BEGIN:VCALENDAR")
	w.line("VERSION:2.0")
	w.line("PRODID:" + text(product))
	w.line("CALSCALE:GREGORIAN")
	seen := map[string]bool{}
	for i, e := range sorted {
		switch {
		case e.UID == "" || e.Summary == "":
			return nil, fmt.Errorf("event %d: it has no id or no text", i+1)
		case seen[e.UID]:
			return nil, fmt.Errorf("event %d: the id %q is that of another", i+1, e.UID)
		case e.Day.Year() < 1 || e.Day.Year() > 9998:
			return nil, fmt.Errorf("event %s: %d is not a year it can be in", e.UID, e.Day.Year())
		}
		seen[e.UID] = true
		w.line("BEGIN:VEVENT")
		w.line("UID:" + text(e.UID))
		w.line("DTSTAMP:" + stamp.UTC().Format("20060102T150405Z"))
		w.line("DTSTART;VALUE=DATE:" + e.Day.Format("20060102"))
		w.line("DTEND;VALUE=DATE:" + e.Day.AddDate(0, 0, 1).Format("20060102"))
		w.line("SUMMARY:" + text(e.Summary))
		if e.Description != "" {
			w.line("DESCRIPTION:" + text(e.Description))
		}
		if e.Every > 0 {
			w.line(fmt.Sprintf("RRULE:FREQ=MONTHLY;INTERVAL=%d", e.Every))
		}
		w.line("TRANSP:TRANSPARENT")
		w.line("END:VEVENT")
	}
	w.line("END:VCALENDAR")
	return []byte(w.text.String()), nil
}

// text escapes a text and removes characters that could mislead.
func text(s string) string {
	var b strings.Builder
	for _, r := range strings.ToValidUTF8(s, "") {
		switch {
		case r == '\\' || r == ';' || r == ',':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case unicode.IsControl(r), unicode.Is(unicode.Bidi_Control, r), r == '\u2028', r == '\u2029':
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// longest is how many octets a line may have, without its line end.
const longest = 75

type writer struct{ text strings.Builder }

// line writes a line, folded where it is too long, never within a character.
func (w *writer) line(s string) {
	for room := longest; len(s) > room; room = longest - 1 {
		cut := room
		for !utf8.RuneStart(s[cut]) {
			cut--
		}
		w.text.WriteString(s[:cut] + "\r\n ")
		s = s[cut:]
	}
	w.text.WriteString(s + "\r\n")
}
