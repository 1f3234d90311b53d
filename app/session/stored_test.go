package session

import (
	"slices"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// A check that is merged with what another tab has stored of it has the answers
// of both, and is judged by both.
func TestWithWhatIsStored(t *testing.T) {
	now := time.Date(2026, 10, 1, 9, 0, 0, 0, time.UTC)
	here, err := New(productOf(t, "green-beans"), now)
	if err != nil {
		t.Fatal(err)
	}
	here.Say("seal", now, rules.PressFirm)
	there := Resume(here.Check)
	there.Check.Answers = slices.Clone(here.Check.Answers)
	if !here.Same(there) || here.With(there) != here {
		t.Fatal("a check is not the same as itself")
	}
	there.Say("look", now.Add(time.Minute), rules.LidBulged)
	if err := there.Name("on the sill", now.Add(time.Minute)); err != nil {
		t.Fatal(err)
	}
	both := here.With(there)
	s := both.Situation()
	if here.Same(there) || !s.Is(rules.LidBulged) || !s.Is(rules.PressFirm) || both.Check.Label != "on the sill" {
		t.Errorf("put together: got %v, %q", both.Check.Answers, both.Check.Label)
	}
	if got := both.Check.Lowest; got != rules.Discard.ID() {
		t.Errorf("a bulging lid that another tab has noted: got %s", got)
	}
	if got, want := both.Worries(), []rules.Value{rules.LidBulged}; !slices.Equal(got, want) {
		t.Errorf("what is odd: got %v, want %v", got, want)
	}
	if got := here.Worries(); got != nil {
		t.Errorf("nothing is odd: got %v", got)
	}
	if both.Name("two\nlines", now) == nil || both.Check.Label != "on the sill" {
		t.Error("words that can't be stored are accepted")
	}
	both.Throw(record.DayOf(now), now)
	if both.Check.Thrown != "2026-10-01" {
		t.Errorf("got thrown out on %q", both.Check.Thrown)
	}
	both.Throw("", now)
	if both.Check.Thrown != "" {
		t.Error("it can't be undone")
	}
}

func productOf(t *testing.T, id string) *rules.Product {
	t.Helper()
	p, ok := rules.ProductByID(id)
	if !ok {
		t.Fatalf("no product %s", id)
	}
	return p
}
