package walk_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/app/walk"
	"larderlamp/rules"
)

// The order is place by place, batch by batch, number by number, and holds
// every jar that is due exactly once.
func TestWalkOrder(t *testing.T) {
	p, s := testkit.Round(t, 6)
	if len(s.Order) != 18 {
		t.Fatalf("got %d jars", len(s.Order))
	}
	seen := map[string]bool{}
	var lastPlace, lastBatch string
	donePlaces, doneBatches := map[string]bool{}, map[string]bool{}
	lastNumber := 0
	for _, id := range s.Order {
		j := p.Jars[id]
		if seen[id] {
			t.Errorf("%s appears twice", id)
		}
		seen[id] = true
		if place := j.Standing().Place; place != lastPlace {
			if donePlaces[place] {
				t.Error("a place is walked twice")
			}
			donePlaces[place], lastPlace = true, place
		}
		if j.Batch != lastBatch {
			if doneBatches[j.Batch] {
				t.Error("a batch is walked twice")
			}
			doneBatches[j.Batch], lastBatch, lastNumber = true, j.Batch, 0
		}
		if j.Number <= lastNumber {
			t.Error("numbers are not ascending")
		}
		lastNumber = j.Number
	}
	// A jar that was looked at yesterday is not due, one of three months ago is.
	j := p.Jars[s.Order[0]]
	testkit.Look(t, j, testkit.Noon.AddDate(0, -3, 1))
	if walk.Due(p, j, testkit.Noon) {
		t.Error("a jar looked at within three months is due")
	}
	j.Events = j.Events[:1]
	testkit.Look(t, j, testkit.Noon.AddDate(0, -3, 0))
	if !walk.Due(p, j, testkit.Noon) {
		t.Error("a jar looked at three months ago is not due")
	}
}

// Whatever is answered, in whatever steps, and read back from storage at any
// moment, the walk is where it was: done and left add up, nothing is asked
// twice, and undoing leads to the same place again.
func TestWalkSurvivesAnything(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		p, s := testkit.Round(t, 4)
		at := testkit.Noon
		for range 40 {
			w := walk.New(p, s, at)
			if w.Done+len(w.Next) != w.Total || w.Total != 12 {
				t.Fatalf("got %d done, %d left of %d", w.Done, len(w.Next), w.Total)
			}
			at = at.Add(time.Second)
			var changed []*record.Jar
			switch k := r.IntN(6); {
			case len(w.Next) == 0 || k == 0:
				for _, a := range w.LastAnswer() {
					a.Jar.Undo(a.Event.ID, true)
					changed = append(changed, a.Jar)
				}
			case k == 1:
				if err := walk.Lost(s, w.Next[0], at); err != nil {
					t.Fatal(err)
				}
				changed = w.Next[:1]
			case k == 2:
				changed = slices.Clone(w.Row())
				if err := w.Sound(changed, at); err != nil {
					t.Fatal(err)
				}
			default:
				if err := w.Sound(w.Next[:1], at); err != nil {
					t.Fatal(err)
				}
				changed = w.Next[:1]
			}
			for _, j := range changed {
				p.Put(j)
			}
			// Closed and opened again: all that exists is what was written.
			fresh := pantry.New()
			for _, b := range p.Batches {
				fresh.Put(testkit.ReadBack(t, b))
			}
			for _, pl := range p.Places {
				fresh.Put(testkit.ReadBack(t, pl))
			}
			for _, j := range p.Jars {
				fresh.Put(testkit.ReadBack(t, j))
			}
			back := testkit.ReadBack(t, s).(*record.Sweep)
			fresh.Put(back)
			one, two := walk.New(p, s, at), walk.New(fresh, back, at)
			if one.Done != two.Done || len(one.Next) != len(two.Next) || len(one.Answers) != len(two.Answers) {
				t.Fatalf("%d done and %d left: got %d and %d after reading back", one.Done, len(one.Next), two.Done, len(two.Next))
			}
			for i := range one.Next {
				if one.Next[i].ID != two.Next[i].ID {
					t.Fatal("the walk continues at another jar")
				}
			}
		}
	}
}

// A row that was answered with one touch is undone as one; two touches on jars
// of one batch are two.
func TestUndoTakesBackOneTouch(t *testing.T) {
	p, s := testkit.Round(t, 1)
	w := walk.New(p, s, testkit.Noon)
	if err := w.Sound(w.Next[:1], testkit.Noon); err != nil {
		t.Fatal(err)
	}
	if err := w.Sound(w.Next[1:3], testkit.Noon.Add(time.Millisecond)); err != nil {
		t.Fatal(err)
	}
	if last := walk.New(p, s, testkit.Noon).LastAnswer(); len(last) != 2 {
		t.Errorf("%d jars come back, want 2", len(last))
	}
}

// A spoiled jar puts its whole batch under a second look at once, even those
// that were found sound before; in food that is not acid they are discarded.
func TestSpoiledJarsBringTheirBatchBack(t *testing.T) {
	for _, product := range []string{"peaches", "green-beans"} {
		p, s := testkit.Round(t, 1)
		for _, b := range p.Batches {
			b.Product = product
			if product == "green-beans" {
				b.Method, b.Gauge, b.Vented, b.Size = "pressure-canner", "dial", "yes", "pint"
				twenty, eleven, zero := 20, 110, 0
				b.Minutes, b.TenthsPSI, b.ReadsHigh = &twenty, &eleven, &zero
			}
			p.Put(b)
		}
		w := walk.New(p, s, testkit.Noon)
		first, second, third := w.Next[0], w.Next[1], w.Next[2]
		if err := w.Sound([]*record.Jar{first}, testkit.Noon); err != nil {
			t.Fatal(err)
		}
		e, err := second.Add(record.Looked, testkit.Noon.Add(time.Minute))
		if err != nil {
			t.Fatal(err)
		}
		e.Sweep = s.ID
		e.Seen = []record.Seen{{Sign: "lid", Values: []string{"bulging"}}}
		for _, j := range []*record.Jar{first, second, third} {
			p.Put(j)
		}
		w = walk.New(p, s, testkit.Noon.Add(time.Hour))
		v := p.Judge(first, testkit.Noon.Add(time.Hour))
		if product == "green-beans" {
			if w.Again != 0 || v.Lowest != rules.Discard {
				t.Errorf("%s: %d come again, the sibling is %v", product, w.Again, v.Lowest)
			}
			continue
		}
		if w.Again != 1 || len(w.Next) != 2 || w.Next[1].ID != first.ID || v.Highest != rules.UseSoon {
			t.Errorf("%s: %d come again, %d left, the sibling is %v", product, w.Again, len(w.Next), v.Highest)
		}
		if err := w.Sound([]*record.Jar{first, third}, testkit.Noon.Add(2*time.Hour)); err != nil {
			t.Fatal(err)
		}
		p.Put(first)
		if w = walk.New(p, s, testkit.Noon.Add(3*time.Hour)); len(w.Next) != 0 {
			t.Errorf("%s: %d are left after the second look", product, len(w.Next))
		}
	}
}

// The report counts what was found, names the lid lot that fails too often and
// no other, and compares with the sweep before.
func TestReport(t *testing.T) {
	p, s := testkit.Round(t, 24)
	sweep := func(s *record.Sweep, at time.Time, fails func(*record.Batch, *record.Jar) bool) {
		w := walk.New(p, s, at)
		for _, id := range s.Order {
			j := p.Jars[id]
			if fails(p.Batches[j.Batch], j) {
				e, err := j.Add(record.Looked, at)
				if err != nil {
					t.Fatal(err)
				}
				e.Sweep = s.ID
				e.Seen = []record.Seen{{Sign: "press", Values: []string{"gives"}}}
			} else if err := w.Sound([]*record.Jar{j}, at); err != nil {
				t.Fatal(err)
			}
			p.Put(j)
		}
		ended := at.Add(time.Hour)
		s.Ended = &ended
		p.Put(s)
	}
	sweep(s, testkit.Noon, func(*record.Batch, *record.Jar) bool { return false })
	later := testkit.Noon.AddDate(0, 3, 1)
	time.Sleep(2 * time.Millisecond) // ids sort by time
	second, err := record.NewSweep(s.Places, walk.Order(p, s.Places, true, later), later)
	if err != nil {
		t.Fatal(err)
	}
	sweep(second, later, func(b *record.Batch, j *record.Jar) bool { return b.LidLot == "B" && j.Number == 1 })
	r, err := walk.NewReport(p, second, later.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	if r.Looked != 72 || r.Failed != 8 || r.Fine != 64 || r.Seal != 8 || r.Spoiled != 0 || r.Answered() != 72 || r.Left != 0 || len(r.Discard) != 8 {
		t.Errorf("got %+v", r)
	}
	for _, f := range r.Findings {
		if f.More != (f.Factor.String() == "Lid lot" && f.Group.String() == "B") {
			t.Errorf("got %+v", f)
		}
	}
	if r.Before == nil || r.Before.Difference < 0.1 || r.Before.P > 0.01 || r.Earlier.ID != s.ID {
		t.Errorf("got %+v", r.Before)
	}
	if len(r.Curve) != 1 || r.Curve[0].Failures != 8 {
		t.Errorf("got %+v", r.Curve)
	}
	if table := string(r.Table()); !strings.Contains(table, "Lid lot,B,24,8,") {
		t.Errorf("got %s", table)
	}
	if due := walk.NextDue(p, later); due != record.DayOf(second.Ended.AddDate(0, 3, 0)) {
		t.Errorf("got due %s", due)
	}
}

// A jar that turns up: a missing one of its batch, or a new one.
func TestFound(t *testing.T) {
	p, s := testkit.Round(t, 1)
	w := walk.New(p, s, testkit.Noon)
	lost := w.Next[0]
	if err := walk.Lost(s, lost, testkit.Noon); err != nil {
		t.Fatal(err)
	}
	p.Put(lost)
	j, err := walk.AddFound(p, lost.Batch, s.Places[1], testkit.Noon.Add(time.Minute))
	if err != nil || j.ID != lost.ID || j.Standing().Stage != record.OnShelf || j.Standing().Place != s.Places[1] {
		t.Errorf("got %+v, %v", j, err)
	}
	p.Put(j)
	j, err = walk.AddFound(p, lost.Batch, s.Places[1], testkit.Noon.Add(time.Minute))
	if err != nil || j.Number != 4 {
		t.Errorf("got %+v, %v", j, err)
	}
	p.Put(j)
	s.Join(j, testkit.Noon)
	if w := walk.New(p, s, testkit.Noon.Add(time.Hour)); w.Total != 4 || w.Next[0].ID != j.ID {
		t.Errorf("got %d jars, next %v", w.Total, w.Next[0].Number)
	}
	if _, err := walk.AddFound(p, "no such batch", "", testkit.Noon); err == nil {
		t.Error("a jar of no batch was added")
	}
}

func BenchmarkWalk(b *testing.B) {
	p := testkit.Big(b)
	var places []string
	for _, pl := range p.PlaceOrder() {
		places = append(places, pl.ID)
	}
	s, err := record.NewSweep(places, walk.Order(p, places, false, testkit.Noon), testkit.Noon)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(len(s.Order)), "jars")
	for b.Loop() {
		walk.New(p, s, testkit.Noon)
	}
}
