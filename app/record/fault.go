package record

import (
	"errors"
	"fmt"
	"time"
	"unicode"
	"unicode/utf8"

	"larderlamp/rules/prose"
)

// faults collects what is wrong with a record.
type faults struct {
	record string
	list   []error
}

// Fault is what is wrong with a field of a record. A record that is not valid is an
// error that joins them.
type Fault struct {
	Record, Field string
	What          prose.Text
}

func (f *Fault) Error() string { return f.Text().String() }

// Text says it for a person. Records and fields have their names in files.
func (f *Fault) Text() prose.Text { return prose.Say("%s: %s: %s", f.Record, f.Field, f.What) }

// add records a fault of a field. It is never inlined: written into every check
// it would be the larger part of this package in the page program.
//
//go:noinline
func (f *faults) add(field string, format prose.Text, a ...any) {
	f.list = append(f.list, &Fault{f.record, field, prose.Say(format, a...)})
}

func (f *faults) err() error { return errors.Join(f.list...) }

// time reports a moment that no record can have.
func (f *faults) time(field string, at time.Time) {
	if at.Year() < 2000 || at.Year() > 9999 {
		f.add(field, "%s is not a date a record can have", at.Format(time.RFC3339))
	}
}

// CheckTime reports whether a record can have this moment.
func CheckTime(record, field string, at time.Time) error {
	f := faults{record: record}
	f.time(field, at)
	return f.err()
}

// text reports words that are too long or could mislead.
func (f *faults) text(field, words string, most int) {
	if err := PlainText(words, most); err != nil {
		f.add(field, "%s", prose.Error(err))
	}
}

// within reports a number outside its limits. Its name and its unit are part of
// the message.
func (f *faults) within(field string, v, low, high int, unit prose.Text) {
	if v < low || v > high {
		f.add(field, "%d %s lies outside %d to %d", v, unit, low, high)
	}
}

// one reports a word that is not one of the known ones; "" means not known.
func (f *faults) one(field, word string, known ...string) {
	if word == "" {
		return
	}
	for _, k := range known {
		if k == word {
			return
		}
	}
	f.add(field, "%q is none of %s", word, fmt.Sprintf("%q", known))
}

// PlainText reports whether text can be shown without misleading: no control
// characters, and none that reverse the direction of writing, because then a
// label could read as something else.
func PlainText(text string, most int) error {
	if !utf8.ValidString(text) {
		return prose.Errorf("not readable text")
	}
	if n := utf8.RuneCountInString(text); n > most {
		return prose.Errorf("%d characters, at most %d", n, most)
	}
	for i, r := range text {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029' {
			return prose.Errorf("character %d (U+%04X) is not allowed", utf8.RuneCountInString(text[:i])+1, r)
		}
	}
	return nil
}
