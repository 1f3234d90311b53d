package record_test

import (
	"strings"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// A check that was stored with the names of an earlier edition says the same
// about the jar as it did then: otherwise an unknown sign would be ignored.
func TestOldNamesInChecks(t *testing.T) {
	food, _ := rules.ProductByID("green-beans")
	now := time.Date(2026, 9, 12, 12, 0, 0, 0, time.UTC)
	check := func(answers ...record.Answer) record.Check {
		c, err := record.NewCheck(food.ID, now)
		if err != nil {
			t.Fatal(err)
		}
		c.Edition, c.Lowest, c.Highest, c.Answers = "2026.2", "discard", "discard", answers
		return c
	}
	stored := func(c record.Check, old, new string) record.Check {
		text, err := c.Encode()
		if err != nil {
			t.Fatal(err)
		}
		c, err = record.DecodeCheck([]byte(strings.ReplaceAll(string(text), new, old)))
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	for _, v := range []struct {
		value    rules.Value
		old, new string
	}{
		{rules.MoldSeen, `"mould"`, `"mold"`},
		{rules.ColorPink, `"colour"`, `"color"`},
		{rules.ColorDark, `"grey-black"`, `"gray-black"`},
	} {
		sign := v.value.Sign().ID()
		today := check(record.Answer{Sign: sign, Values: []string{v.value.ID()}, Question: sign, At: now})
		old := stored(today, v.old, v.new)
		if got, want := old.Situation(food), today.Situation(food); got != want {
			t.Errorf("%s: got %v, want %v", v.old, got, want)
		}
		event := record.Event{Seen: old.Seen()}
		if got := event.Values(); len(got) != 1 || got[0] != v.value {
			t.Errorf("%s: got %v on the shelf, want %v", v.old, got, v.value)
		}
	}

	// A new answer replaces the old one about the same sign.
	old := stored(check(record.Answer{Sign: "mold", Values: []string{"seen"}, Question: "mold", At: now}), `"mould"`, `"mold"`)
	again := old
	again.Answers = append(again.Answers[:1:1], record.Answer{Sign: "mold", Values: []string{"none"}, Question: "mold", At: now.Add(time.Minute)})
	if seen := again.Seen(); len(seen) != 1 || seen[0].Sign != "mold" || seen[0].Values[0] != "none" {
		t.Errorf("got %v, want one answer about mold", seen)
	}
	other := old
	other.Answers = again.Answers[1:]
	other.Revision++
	if joined, err := old.Join(&other); err != nil || !joined || len(old.Answers) != 1 || old.Answers[0].Values[0] != "none" {
		t.Errorf("got %v, %v, %v, want the later of two answers about mold", old.Answers, joined, err)
	}
}
