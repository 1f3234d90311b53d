package main

import (
	"bytes"
	"encoding/json"
	"slices"
	"testing"

	"larderlamp/rules"
)

// What is written holds every sign and every rule of the tree, with all that it
// depends on.
func TestWrite(t *testing.T) {
	var out bytes.Buffer
	if err := write(&out); err != nil {
		t.Fatal(err)
	}
	var book Book
	if err := json.Unmarshal(out.Bytes(), &book); err != nil {
		t.Fatal(err)
	}
	if book.Edition != rules.Edition || len(book.Signs) != rules.NumSigns {
		t.Errorf("got the edition %q with %d signs, want %q with %d", book.Edition, len(book.Signs), rules.Edition, rules.NumSigns)
	}
	ids := map[string]bool{}
	for i, s := range book.Signs {
		info := rules.SignID(i).Info()
		ids[s.ID] = true
		if s.ID != info.ID || len(s.Values) != len(info.Values) {
			t.Errorf("got the sign %s with %d values, want %s with %d", s.ID, len(s.Values), info.ID, len(info.Values))
		}
	}
	for _, id := range book.Order {
		if !ids[id] {
			t.Errorf("got %s in the order, want only signs", id)
		}
	}
	want := 0
	for p := range rules.Parts {
		want += len(rules.Parts[p].Rules)
	}
	if len(book.Rules) != want {
		t.Errorf("got %d rules, want %d", len(book.Rules), want)
	}
	for _, r := range book.Rules {
		ours, ok := rules.RuleByID(r.ID)
		if !ok {
			t.Errorf("got the rule %s, which is not one", r.ID)
			continue
		}
		for _, c := range ours.When {
			var want []string
			for _, v := range c {
				want = append(want, v.ID())
			}
			if sign := c[0].Sign().ID(); !slices.Equal(r.When[sign], want) {
				t.Errorf("%s: got the values %v of %s, want %v", r.ID, r.When[sign], sign, want)
			}
		}
		if then := ours.Then.ID(); r.Then != then {
			t.Errorf("%s: got %q, want %q", r.ID, r.Then, then)
		}
		if len(r.When) != len(ours.When) {
			t.Errorf("%s: got %d conditions, want %d", r.ID, len(r.When), len(ours.When))
		}
	}
}
