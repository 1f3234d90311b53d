package walk_test

import (
	"math/rand/v2"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/app/walk"
	"larderlamp/rules"
)

// Whatever a walk comes across, every jar with an answer is counted once, none
// that has to be discarded is counted as fine, and none is both answered and left.
func TestReportAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 12 {
		p := testkit.Invented(t, testkit.TripNow)
		s := testkit.StartSweep(t, p, testkit.TripNow)
		at := testkit.TripNow
		for step := 0; step < 200; step++ {
			w := walk.New(p, s, at)
			if len(w.Next) == 0 {
				break
			}
			at = at.Add(time.Second)
			row := w.Row()
			if r.IntN(2) == 0 {
				row = row[:1]
			}
			for _, j := range row {
				if w.Condemned(j) != w.Condemned(row[0]) {
					t.Fatal("a row mixes both kinds")
				}
			}
			var err error
			switch k := r.IntN(10); {
			case k == 0:
				row = row[:1]
				err = walk.Lost(s, row[0], at)
			case w.Condemned(row[0]) && k < 5:
				err = walk.LeaveOnShelf(s, row, at, nil)
			case w.Condemned(row[0]):
				err = w.TakeOut(row, at)
			case k < 3:
				row = row[:1]
				var e *record.Event
				if e, err = row[0].Add(record.Looked, at); err == nil {
					e.Sweep = s.ID
					sign, value := "lid", "bulging"
					if k == 1 {
						sign, value = "press", "gives"
					}
					e.Seen = []record.Seen{{Sign: sign, Values: []string{value}}}
					if r.IntN(2) == 0 { // thrown out at once
						p.Put(row[0])
						if w := walk.New(p, s, at); w.Condemned(row[0]) {
							err = w.TakeOut(row, at.Add(time.Millisecond))
						}
					}
				}
			default:
				err = w.Sound(row, at)
			}
			if err != nil {
				t.Fatal(err)
			}
			for _, j := range row {
				p.Put(j)
			}
		}
		report, err := walk.NewReport(p, s, at)
		if err != nil {
			t.Fatal(err)
		}
		answered, left := 0, 0
		for _, id := range s.Order {
			j := p.Jars[id]
			switch e := walk.AnswerOf(s, j); {
			case e != nil:
				answered++
			case j.Standing().Stage == record.OnShelf || j.Standing().Stage == record.IsMissing:
				left++
			}
		}
		if report.Answered() != answered || report.Left != left {
			t.Fatalf("%d answered and %d left, but the report says %+v", answered, left, report)
		}
		fine := 0
		for _, id := range s.Order {
			j := p.Jars[id]
			if e := walk.AnswerOf(s, j); e != nil && e.What == record.Looked && p.Judge(j, at).Highest <= rules.UseSoon {
				fine++
			}
		}
		if report.Fine != fine {
			t.Errorf("%d are fine, but the report says %d", fine, report.Fine)
		}
	}
}

// A jar that was found spoiled and thrown out brings its batch back just like
// one that was left where it was, and still counts as a seal that was looked
// at.
func TestThrownOutIsStillFound(t *testing.T) {
	p, s := testkit.Round(t, 1)
	w := walk.New(p, s, testkit.Noon)
	first, second := w.Next[0], w.Next[1]
	if err := w.Sound([]*record.Jar{first}, testkit.Noon); err != nil {
		t.Fatal(err)
	}
	e, err := second.Add(record.Looked, testkit.Noon.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	e.Sweep, e.Seen = s.ID, []record.Seen{{Sign: "lid", Values: []string{"bulging"}}}
	p.Put(first)
	p.Put(second)
	w = walk.New(p, s, testkit.Noon.Add(2*time.Minute))
	if err := w.TakeOut([]*record.Jar{second}, testkit.Noon.Add(2*time.Minute)); err != nil {
		t.Fatal(err)
	}
	p.Put(second)
	if ended := second.Standing().Ended; ended == nil || ended.Why != record.ForSpoiled {
		t.Errorf("got %+v at the end", ended)
	}
	w = walk.New(p, s, testkit.Noon.Add(time.Hour))
	if w.Again != 1 || w.Next[len(w.Next)-1].ID != first.ID {
		t.Errorf("got %d that come again", w.Again)
	}
	if err := w.TakeOut([]*record.Jar{first}, testkit.Noon.Add(time.Hour)); err == nil {
		t.Error("a jar with nothing wrong was taken out")
	}
	r, err := walk.NewReport(p, s, testkit.Noon.Add(time.Hour))
	if err != nil || r.Spoiled != 1 || r.Looked != 2 || r.Failed != 1 {
		t.Errorf("got %+v, %v", r, err)
	}
	// Undone, it is the found jar again, and undone once more, not looked at.
	for n, want := range []int{2, 3} {
		for _, a := range walk.New(p, s, testkit.Noon.Add(time.Hour)).LastAnswer() {
			a.Jar.Undo(a.Event.ID, true)
			p.Put(a.Jar)
		}
		if w = walk.New(p, s, testkit.Noon.Add(time.Hour)); n == 0 && len(w.Next) != want || second.Standing().Stage != record.OnShelf {
			t.Errorf("after %d: got %d left, stage %v", n+1, len(w.Next), second.Standing().Stage)
		}
	}
	if walk.AnswerOf(s, second) != nil {
		t.Error("it still has an answer")
	}
}

// Before the first sweep the looks at the jars count: the sweep is due when the oldest
// of them is so many months old, and at once while a jar on a shelf was never looked
// at.
func TestFirstSweepIsDueAfterTheLooks(t *testing.T) {
	p, _ := testkit.Round(t, 3)
	p.Sweeps = nil
	var jars []*record.Jar
	for _, j := range p.Jars {
		jars = append(jars, j)
	}
	for i, j := range jars {
		if due := walk.NextDue(p, testkit.Noon); due != record.DayOf(testkit.Noon) {
			t.Errorf("with %d of %d jars looked at: got due %s", i, len(jars), due)
		}
		if err := record.Look([]*record.Jar{j}, testkit.Noon.AddDate(0, 0, -i)); err != nil {
			t.Fatal(err)
		}
	}
	if due, want := walk.NextDue(p, testkit.Noon), record.DayOf(testkit.Noon.AddDate(0, p.Settings.MonthsBetweenSweeps(), 1-len(jars))); due != want {
		t.Errorf("with all jars looked at a sweep is due %s, want %s", due, want)
	}
}

// A look before a trip is not a sweep: the next one is due as before.
func TestLookBeforeATripIsNoSweep(t *testing.T) {
	p, s := testkit.Round(t, 1)
	ended := testkit.Noon
	s.Ended = &ended
	p.Put(s)
	due := walk.NextDue(p, testkit.Noon)
	look, err := record.NewSweep(nil, s.Order, testkit.Noon.AddDate(0, 1, 0))
	if err != nil {
		t.Fatal(err)
	}
	later := testkit.Noon.AddDate(0, 1, 0)
	look.Trip, look.Ended = s.ID, &later
	p.Put(testkit.ReadBack(t, look))
	if got := walk.NextDue(p, later); got != due {
		t.Errorf("due %s, before it was %s", got, due)
	}
	if n := len(walk.Ended(p)); n != 1 {
		t.Errorf("got %d sweeps", n)
	}
	look.Trip = "x"
	if look.Validate() == nil {
		t.Error("an invalid trip id was accepted")
	}
}
