package record_test

import (
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"larderlamp/app/hostile"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
)

// wordsOfPeople are the fields that accept any words: what a person can type,
// and the name of a table, which is never shown.
var wordsOfPeople = []string{
	"batches: lid_lot", "batches: notes", "batches: recipe_from", "batches: table", "batches: title",
	"checks: label", "jars: events: words", "places: name", "places: notes", "trips: name",
}

// No text field of any record accepts a control character, and the refusal
// names the field and the character. Fields that a person can't type into
// refuse markup too.
func TestEveryTextFieldRefusesControl(t *testing.T) {
	whole := map[reflect.Type]bool{}
	taken := map[string]bool{}
	for _, r := range testkit.Hostile(t, "") {
		if empty := hostile.Empty(r); len(empty) > 0 {
			t.Errorf("%s: nothing would be found in %q", r.Kind(), empty)
		}
		whole[reflect.TypeOf(r)] = true
		for _, f := range hostile.Fields(r) {
			was := f.Get()
			for _, m := range hostile.Marks {
				for _, text := range []string{m, "a" + m + "b"} {
					f.Set(text)
					field, _, _ := strings.Cut(f.Name, ": ")
					if err := r.Validate(); err == nil {
						t.Errorf("%s: %s accepts %q", r.Kind(), f.Name, text)
					} else if !strings.Contains(err.Error(), strings.Trim(strconv.Quote(r.Key()), `"`)) || !strings.Contains(err.Error(), field) {
						t.Errorf("%s: %s: %q is refused with %q", r.Kind(), f.Name, text, err)
					} else if strings.ContainsAny(err.Error(), "\x00\x1b\u202e\u2066") {
						t.Errorf("%s: %s: the refusal itself misleads: %q", r.Kind(), f.Name, err)
					}
				}
			}
			f.Set(was)
		}
		for _, field := range hostile.Fill(r, hostile.Texts[0]) {
			parts := strings.Split(field, ": ")
			parts = slices.DeleteFunc(parts, func(p string) bool { return strings.Trim(p, "0123456789") == "" })
			taken[strings.Join(parts, ": ")] = true
		}
	}
	for _, k := range record.Kinds {
		if r, err := record.Decode(k, []byte("{}")); err == nil || !whole[reflect.TypeOf(r)] {
			t.Errorf("the household has no record of the kind %s", k)
		}
	}
	var got []string
	for field := range taken {
		got = append(got, field)
	}
	if slices.Sort(got); !slices.Equal(got, wordsOfPeople) {
		t.Errorf("words are taken by %q, want %q", got, wordsOfPeople)
	}
}
