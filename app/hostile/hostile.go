// Package hostile holds texts that are meant to run, to break out of their place
// or to read as something else, and puts them into every text field of a record.
// The fields are found by reflection, so that a new one is not forgotten.
package hostile

import (
	"cmp"
	"fmt"
	"reflect"
	"strings"
	"time"

	"larderlamp/app/record"
)

// Trap is the property that the markup among the texts would set on the window,
// if it ran.
const Trap = "trapped"

// Texts that anybody can type and that have to be accepted: they are shown as
// they are, and do nothing.
var Texts = []string{
	`<script>window.trapped=1</script>`,
	`"><img src=x onerror=window.trapped=1>`,
	`'><svg onload='window.trapped=1'>`,
	`</textarea></title><b id=trapped>`,
	`javascript:window.trapped=1`,
	`<a href=javascript:window.trapped=1>`,
	`<style>*{display:none}</style>`,
	`&lt;script&gt; &#60;b&#62; &amp; \u003cb\u003e`,
	`{{.}} ${window.trapped=1} <%= 1 %>`,
	`]]><!-- --><![CDATA[`,
	`=HYPERLINK("http://x.invalid","y")`,
	`+1`, `-1+1`, `@SUM(A1)`, `=cmd|' /C calc'!A0`,
	`BEGIN:VEVENT\nATTACH:http://x.invalid`,
	strings.Repeat("W", 60),
	"\u05d0\u05d1\u05d2 keep", // letters written from right to left, which are allowed
	"true", "false", "null", "undefined", "constructor", "__proto__",
}

// Marks are characters that no text may hold, because they are control
// characters or reverse the direction of writing: a label could read as
// another.
var Marks = []string{
	"\x00", "\x01", "\x1b", "\x7f", "\u0085", "\u009b", "\t", "\n", "\r", "\u2028", "\u2029",
	"\u061c", "\u200e", "\u200f", "\u202a", "\u202b", "\u202c", "\u202d", "\u202e", "\u2066", "\u2067", "\u2068", "\u2069",
	"\xff", "\xed\xa0\x80", // not UTF-8; the second would be a lone surrogate
}

// Field is one text field of a record.
type Field struct {
	Name string // named as in the backup: "events: 1: words"
	set  func(string)
	get  func() string
}

// Set puts a text there.
func (f *Field) Set(text string) { f.set(text) }

// Get returns the text that is there.
func (f *Field) Get() string { return f.get() }

// Fields lists every text field of a record, at whatever depth. Lists must have
// an element, or the fields in them are not found.
func Fields(r record.Record) []Field {
	var fields []Field
	find(reflect.ValueOf(r).Elem(), "", &fields)
	return fields
}

// find adds the text fields of a value. What is kept for merging is not a
// person's text: the versions set aside are records of their own.
func find(v reflect.Value, name string, fields *[]Field) {
	switch v.Kind() {
	case reflect.String:
		*fields = append(*fields, Field{name, v.SetString, v.String})
	case reflect.Pointer:
		if !v.IsNil() {
			find(v.Elem(), name, fields)
		}
	case reflect.Slice, reflect.Array:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return
		}
		for i := range v.Len() {
			find(v.Index(i), fmt.Sprintf("%s: %d", name, i+1), fields)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() {
				continue
			}
			tag, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			switch {
			case f.Anonymous:
				tag = name
			case name != "":
				tag = name + ": " + tag
			}
			find(v.Field(i), tag, fields)
		}
	}
}

// Fill puts a text into every field of a record that accepts it, and lists
// those fields.
func Fill(r record.Record, text string) (taken []string) {
	for _, f := range Fields(r) {
		was := f.Get()
		f.Set(text)
		if r.Validate() != nil {
			f.Set(was)
			continue
		}
		taken = append(taken, string(r.Kind())+": "+f.Name)
	}
	return
}

// Each is how many records a household has for each text.
const Each = 7

// Household makes records of every kind for each text: place, batch, jar, check,
// sweep, photo and trip, as full as they can be, with the text in every field
// that accepts it; "" leaves the fields as they are.
func Household(now time.Time, texts ...string) (records []record.Record, err error) {
	add := func(r record.Record, wrong error) {
		records, err = append(records, r), cmp.Or(err, wrong)
	}
	for i, text := range texts {
		begun := len(records)
		place, wrong := record.NewPlace(fmt.Sprint("Shelf ", i+1), now)
		add(place, wrong)
		batch, wrong := record.NewBatch("peaches", now)
		add(batch, wrong)
		if err != nil {
			return nil, err
		}
		jar, wrong := record.NewJar(batch.ID, 1, now)
		add(jar, wrong)
		check, wrong := record.NewCheck("peaches", now)
		add(&check, wrong)
		if err != nil {
			return nil, err
		}
		sweep, wrong := record.NewSweep([]string{place.ID}, []string{jar.ID}, now)
		add(sweep, wrong)
		photo, wrong := record.NewPhoto(jar.ID, check.ID, "/9j/AAAA", now)
		add(photo, wrong)
		trip, wrong := record.NewTrip(record.DayOf(now), now)
		add(trip, wrong)
		if err != nil {
			return nil, err
		}
		place.Wet, place.Light, place.Notes, place.Order = "dry", "dark", "notes", i
		place.Air = &record.Air{How: record.Days, Days: []record.DayReading{{Day: record.DayOf(now), Min: 100, Max: 150}}}
		batch.Title, batch.LidLot, batch.Notes, batch.RecipeFrom = "title", "lot", "notes", "a neighbour"
		batch.Size, batch.Method, batch.Standing, batch.Extras, batch.Closure, batch.Table = "quart", "boiling-water", "published", "none", "flat-lid", "peaches"
		batch.Pack = "raw"
		check.Label, check.Jar, check.Sweep, check.Edition, check.Lowest, check.Highest = "label", jar.ID, sweep.ID, "2026.1", "keep", "discard"
		trip.Name, trip.Must = "lake", []string{jar.ID}
		trip.Packed = []record.Packed{{Jar: jar.ID, Open: -1, Last: -1}}
		trip.Plan = []record.Served{{Jar: jar.ID, Open: true, Left: 1}}
		check.Answers = append(check.Answers, record.Answer{Sign: "lid", Values: []string{"down"}, Question: "lid", At: now})
		for _, what := range []string{record.Stored, record.Noted, record.Looked} {
			e, wrong := jar.Add(what, now)
			if wrong != nil {
				return nil, wrong
			}
			e.Place, e.Check, e.Photo, e.Sweep, e.Words = place.ID, check.ID, photo.ID, sweep.ID, "words"
			e.Seen = []record.Seen{{Sign: "lid", Values: []string{"down"}}}
		}
		for _, r := range records[begun:] {
			if err := r.Validate(); err != nil {
				return nil, err
			}
			if text != "" {
				Fill(r, text)
			}
		}
	}
	return records, nil
}

// Empty lists the empty lists and pointers of a record that could hold text,
// except what is kept for merging.
func Empty(r record.Record) (names []string) {
	var look func(v reflect.Value, name string)
	look = func(v reflect.Value, name string) {
		switch v.Kind() {
		case reflect.Pointer:
			if v.IsNil() && holdsText(v.Type().Elem()) {
				names = append(names, name)
			} else if !v.IsNil() {
				look(v.Elem(), name)
			}
		case reflect.Slice:
			if v.Len() == 0 && holdsText(v.Type().Elem()) {
				names = append(names, name)
			}
			for i := range v.Len() {
				look(v.Index(i), name)
			}
		case reflect.Struct:
			for i := range v.NumField() {
				if f := v.Type().Field(i); f.IsExported() && f.Name != "Head" {
					look(v.Field(i), name+"."+f.Name)
				}
			}
		}
	}
	look(reflect.ValueOf(r).Elem(), string(r.Kind()))
	return
}

// holdsText reports whether a value of a type can hold text.
func holdsText(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.String:
		return true
	case reflect.Pointer, reflect.Slice, reflect.Array:
		return holdsText(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			if f := t.Field(i); f.IsExported() && holdsText(f.Type) {
				return true
			}
		}
	}
	return false
}
