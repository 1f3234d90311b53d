package session

import (
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
)

var noon = time.Date(2026, 9, 12, 12, 0, 0, 0, time.UTC)

func begin(t *testing.T, product string) *Session {
	t.Helper()
	p, ok := rules.ProductByID(product)
	if !ok {
		t.Fatalf("no product %s", product)
	}
	s, err := New(p, noon)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// valid checks that the record can be stored after every step.
func valid(t *testing.T, s *Session) {
	t.Helper()
	if _, err := s.Check.Encode(); err != nil {
		t.Fatal(err)
	}
}

// answered is a check with the last choice of every question taken, the situation
// before the first answer and after each, and the time of the last.
func answered(t *testing.T) (s *Session, states []rules.Situation, now time.Time) {
	t.Helper()
	s, now = begin(t, "peaches"), noon
	states = append(states, s.Situation())
	for {
		q, more := s.Next()
		if !more {
			return
		}
		now = now.Add(time.Second)
		s.Say(q.ID, now, q.Choices[len(q.Choices)-1].Tell...)
		valid(t, s)
		if s.Given() != len(states) {
			t.Fatalf("%d answers: got a count of %d", len(states), s.Given())
		}
		states = append(states, s.Situation())
	}
}

// Looking again at an earlier question shows the check as it was then, and leaves
// the check itself unchanged, to the last byte.
func TestEarlierQuestionsChangeNothing(t *testing.T) {
	s, states, now := answered(t)
	kept, err := s.Check.Encode()
	if err != nil {
		t.Fatal(err)
	}
	for n := range states {
		earlier := s.UpTo(n, now)
		if earlier.Given() != n || earlier.Situation() != states[n] {
			t.Errorf("after %d answers: got %d, or a different situation", n, earlier.Given())
		}
		q, more := earlier.Next()
		if more != (n < len(states)-1) {
			t.Fatalf("after %d answers: got more %v", n, more)
		}
		if more { // answering it again does not change the check itself
			earlier.Say(q.ID, now.Add(time.Hour), q.Choices[0].Tell...)
			valid(t, earlier)
		}
		if again, err := s.Check.Encode(); err != nil || string(again) != string(kept) {
			t.Fatalf("the check changed: %v\n%s\n%s", err, kept, again)
		}
	}
}

// Going back and forth through any number of answers ends where it started.
func TestBackAndAgain(t *testing.T) {
	s, states, now := answered(t)
	if len(states) < 3 {
		t.Fatalf("got only %d states", len(states))
	}
	for i := len(states) - 2; i >= 0; i-- {
		s.Back(now)
		if s.Situation() != states[i] {
			t.Fatalf("going back to %d gives a different situation", i)
		}
		valid(t, s)
	}
	s.Back(now)
	for i := 1; i < len(states); i++ {
		s.Again(now)
		if s.Situation() != states[i] {
			t.Fatalf("going forward to %d gives a different situation", i)
		}
	}
	s.Again(now)
	if s.Situation() != states[len(states)-1] {
		t.Error("going forward past the end changes something")
	}
}

// A later answer about the same sign replaces the earlier one.
func TestAnswersAreReplaced(t *testing.T) {
	s := begin(t, "green-beans")
	s.Say("lid", noon, rules.LidDown)
	s.Say("lid", noon, rules.LidBulged)
	if situation := s.Situation(); !situation.Is(rules.LidBulged) {
		t.Errorf("the lid: got %v", situation.Values(rules.SignLid))
	}
	if len(s.Check.Answers) != 1 {
		t.Errorf("got %d answers", len(s.Check.Answers))
	}
	s.Forget(noon, rules.SignLid)
	if situation := s.Situation(); !situation.Untouched(rules.SignLid) {
		t.Error("the lid is still known")
	}
}

// What is only seen on an open jar says that it is open; saying that it is
// closed undoes what was seen inside. Neither ever counts as a contradiction
// that would silently drop a danger.
func TestOpeningAndClosing(t *testing.T) {
	s := begin(t, "green-beans")
	s.Say("opened", noon, rules.OpenedNo)
	s.Say("release", noon, rules.ReleaseSpurt)
	situation := s.Situation()
	if situation.Possible(rules.OpenedNo) || !situation.Is(rules.ReleaseSpurt) {
		t.Errorf("got opened %v, release %v", situation.Values(rules.SignOpened), situation.Values(rules.SignRelease))
	}
	if o := rules.Evaluate(situation); o.Lowest != rules.Discard {
		t.Errorf("a jar that spurted: got %v..%v", o.Lowest, o.Highest)
	}
	s.Say("days", noon, rules.DaysTwo)
	s.Say("opened", noon, rules.OpenedNow)
	if situation := s.Situation(); !situation.Untouched(rules.SignDays) || !situation.Is(rules.ReleaseSpurt) {
		t.Error("a jar just opened keeps its days, or loses how it opened")
	}
	s.Say("opened", noon, rules.OpenedNo)
	if situation := s.Situation(); !situation.Is(rules.OpenedNo) || !situation.Untouched(rules.SignRelease) {
		t.Error("a closed jar keeps what was seen on opening")
	}
	valid(t, s)
}

// "Don't know" leaves a sign open and is not asked again; for the record it
// means that the record says nothing. It never makes the answer milder.
func TestDontKnow(t *testing.T) {
	// Foods about which the catalog knows the same are asked the same.
	done := map[rules.Situation]bool{}
	for i := range rules.Catalog {
		s := begin(t, rules.Catalog[i].ID)
		if facts := s.Situation(); done[facts] {
			continue
		} else {
			done[facts] = true
		}
		asked := map[string]bool{}
		for {
			q, more := s.Next()
			if !more {
				break
			}
			if asked[q.ID] {
				t.Fatalf("%s: asks %s twice", s.Product.ID, q.ID)
			}
			asked[q.ID] = true
			s.DontKnow(q, noon)
			valid(t, s)
		}
		if !s.Check.Finished || s.Check.Highest != "discard" {
			t.Errorf("%s: got finished %v, %s..%s", s.Product.ID, s.Check.Finished, s.Check.Lowest, s.Check.Highest)
		}
	}
}

// A saved check gives the same situation when it is resumed. One whose product
// or answers are no longer known is judged as strictly as possible.
func TestResume(t *testing.T) {
	s := begin(t, "dill-pickles")
	s.Say("look", noon, rules.LidDown, rules.LidFlat, rules.MoldNone)
	s.Say("press", noon, rules.PressFirm)
	text, err := s.Check.Encode()
	if err != nil {
		t.Fatal(err)
	}
	c, err := record.DecodeCheck(text)
	if err != nil {
		t.Fatal(err)
	}
	if Resume(c).Situation() != s.Situation() {
		t.Error("got a different situation")
	}
	c.Product = "no-longer-listed"
	c.Answers = append(c.Answers, record.Answer{Sign: "no-such-sign", Values: []string{"x"}, Question: "x", At: noon})
	if o := rules.Evaluate(Resume(c).Situation()); o.Highest != rules.Discard {
		t.Errorf("an unknown product: got %v..%v", o.Lowest, o.Highest)
	}
}

// An answer is today's while the check continues, past midnight too, and for the
// whole day on which it was started; after that it is an earlier answer, unless it
// is to discard the jar. One from a clock that was ahead is of no day.
func TestAnAnswerIsOfItsDay(t *testing.T) {
	peaches, ok := rules.ProductByID("peaches")
	if !ok {
		t.Fatal("no peaches")
	}
	morning := time.Date(2026, 9, 12, 6, 0, 0, 0, time.Local)
	night := time.Date(2026, 9, 12, 23, 50, 0, 0, time.Local)
	for _, c := range []struct {
		begun, now time.Time
		holds      bool
	}{
		{morning, morning, true},
		{morning, time.Date(2026, 9, 12, 23, 59, 59, 0, time.Local), true},
		{morning, time.Date(2026, 9, 13, 0, 0, 0, 0, time.Local), false},
		{night, night.Add(sitting - time.Second), true},
		{night, night.Add(sitting), false},
		{night, night.AddDate(0, 0, 200), false},
		{morning.Add(sitting - time.Second), morning, true},
		{morning.Add(sitting), morning, false},
		{morning.AddDate(1, 0, 0), morning, false},
	} {
		s, err := New(peaches, c.begun)
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range []rules.Verdict{rules.Keep, rules.UseSoon, rules.Discard} {
			if want := c.holds || v == rules.Discard; s.Holds(v, c.now) != want {
				t.Errorf("begun %v, now %v: %v holds %v, want %v", c.begun, c.now, v, !want, want)
			}
		}
	}
}
