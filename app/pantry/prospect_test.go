package pantry_test

import (
	"math/rand/v2"
	"testing"
	"time"

	"larderlamp/app/demo"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/walk"
	"larderlamp/rules"
)

// invented is the made-up household.
func invented(t testing.TB, now time.Time) *pantry.Pantry {
	t.Helper()
	records, err := demo.Records(now)
	if err != nil {
		t.Fatal(err)
	}
	p := pantry.New()
	for _, r := range records {
		p.Put(r)
	}
	return p
}

// around begins a sweep of every jar of a household.
func around(t testing.TB, p *pantry.Pantry, now time.Time) *record.Sweep {
	t.Helper()
	places := []string{""}
	for _, pl := range p.PlaceOrder() {
		places = append(places, pl.ID)
	}
	s, err := record.NewSweep(places, walk.Order(p, places, false, now), now)
	if err != nil {
		t.Fatal(err)
	}
	p.Put(s)
	return s
}

// A prospect is what the look makes true: where it says that a look settles a
// jar, the look of a sweep that holds gives exactly that outcome, once the places
// that it names are described; a jar that it calls condemned stays one to
// discard; and what it calls hopeless stays unsettled.
func TestProspectsComeTrue(t *testing.T) {
	for _, described := range []bool{true, false} {
		p := invented(t, tripNow)
		if !described {
			for _, pl := range p.PlaceOrder() {
				pl.Wet, pl.Light, pl.Air = "", "", nil
				p.Put(pl)
			}
		}
		s := around(t, p, tripNow)
		w := walk.New(p, s, tripNow)
		looks, places, condemned := 0, 0, 0
		for _, j := range w.Next {
			before := p.Judge(j, tripNow)
			pr := p.Prospect(j, tripNow)
			if pr.Condemned != (before.Lowest == rules.Discard) || pr.Condemned != w.Condemned(j) {
				t.Errorf("%s: condemned is %v, the verdict %v to %v", p.JarName(j), pr.Condemned, before.Lowest, before.Highest)
			}
			if !pr.Look && len(pr.Places) == 0 && pr.Outcome.Highest != before.Highest {
				t.Errorf("%s: %v without a look, the verdict is %v", p.JarName(j), pr.Highest, before.Highest)
			}
			if pr.Condemned {
				condemned++
				if err := w.Sound([]*record.Jar{j}, tripNow); err == nil {
					t.Errorf("%s is condemned and was noted as sound", p.JarName(j))
				}
				continue
			}
			for _, pl := range pr.Places {
				if pl.AllTold() {
					t.Errorf("%s: %s is described", p.JarName(j), pl.Name)
				}
			}
			for _, pl := range pr.Places {
				places++
				pl.Describe(record.CoolPlace, tripNow)
				p.Put(pl)
			}
			if pr.Look {
				looks++
				if err := walk.New(p, s, tripNow).Sound([]*record.Jar{j}, tripNow); err != nil {
					t.Fatal(err)
				}
				p.Put(j)
			}
			after := p.Judge(j, tripNow.Add(time.Minute))
			if pr.Hopeless() != (after.Highest > rules.UseSoon) || !pr.Hopeless() && after.Highest != pr.Highest {
				t.Errorf("%s: the prospect is %v to %v, it became %v to %v", p.JarName(j), pr.Lowest, pr.Highest, after.Lowest, after.Highest)
			}
			if pr.Hopeless() != (len(pr.Open()) > 0) {
				t.Errorf("%s: hopeless is %v, open are %v", p.JarName(j), pr.Hopeless(), pr.Open())
			}
		}
		if looks < 30 || condemned < 30 || !described && places < 3 {
			t.Errorf("described %v: %d looks, %d condemned, %d places", described, looks, condemned, places)
		}
	}
}

// A place described with one touch is as cool, or as warm, as was said: both
// limits are the last degree of their band.
func TestPlaceDescribedWithOneTouch(t *testing.T) {
	for warmest, want := range map[int]rules.Value{record.CoolPlace: rules.HeatCool, record.CoolPlace + 1: rules.HeatWarm, record.WarmPlace: rules.HeatWarm, record.WarmPlace + 1: rules.HeatHot} {
		p, s := round(t, 1)
		for _, pl := range p.PlaceOrder() {
			pl.Wet, pl.Light, pl.Air = "", "", nil
			pl.Describe(warmest, noon)
			if err := pl.Validate(); err != nil || !pl.AllTold() {
				t.Fatal(err)
			}
			p.Put(pl)
		}
		situation, _ := p.Situation(p.Jars[s.Order[0]], noon)
		for sign, v := range map[rules.SignID]rules.Value{rules.SignWet: rules.WetDry, rules.SignPlace: rules.PlaceDark, rules.SignFrozen: rules.FrozenNo} {
			if known, ok := situation.Known(sign); !ok || known != v {
				t.Errorf("%d: %s is %v", warmest, sign.ID(), situation.Values(sign))
			}
		}
		heat := situation.Values(rules.SignHeat)
		if heat[len(heat)-1] != want {
			t.Errorf("%d tenths: at most %v, want %v", warmest, heat, want)
		}
	}
	// What was said before stays.
	p, _ := round(t, 1)
	for _, pl := range p.PlaceOrder() {
		pl.Wet, pl.Light = rules.WetDamp.ID(), rules.PlaceLight.ID()
		pl.Describe(record.WarmPlace, noon)
		if pl.Wet != rules.WetDamp.ID() || pl.Light != rules.PlaceLight.ID() || pl.Air.High != 180 {
			t.Errorf("%+v", pl)
		}
	}
}

// Whatever a walk meets, every jar that was answered for is counted once, none
// that has to be discarded is counted as fine, and none is both answered and left.
func TestReportAddsUp(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 12 {
		p := invented(t, tripNow)
		s := around(t, p, tripNow)
		at := tripNow
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
					t.Fatal("a row of both kinds")
				}
			}
			var err error
			switch k := r.IntN(10); {
			case k == 0:
				row = row[:1]
				err = walk.Lost(s, row[0], at)
			case w.Condemned(row[0]) && k < 5:
				err = walk.LeftStanding(s, row, at)
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
					if r.IntN(2) == 0 { // and thrown out at once
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
			t.Fatalf("%d answered and %d left, the report says %+v", answered, left, report)
		}
		fine := 0
		for _, id := range s.Order {
			j := p.Jars[id]
			if e := walk.AnswerOf(s, j); e != nil && e.What == record.Looked && p.Judge(j, at).Highest <= rules.UseSoon {
				fine++
			}
		}
		if report.Fine != fine {
			t.Errorf("%d are fine, the report says %d", fine, report.Fine)
		}
	}
}

// One that was found spoiled and thrown out brings its batch back like one that
// was left where it was, and is still counted as a seal that was looked at.
func TestThrownOutIsStillFound(t *testing.T) {
	p, s := round(t, 1)
	w := walk.New(p, s, noon)
	first, second := w.Next[0], w.Next[1]
	if err := w.Sound([]*record.Jar{first}, noon); err != nil {
		t.Fatal(err)
	}
	e, err := second.Add(record.Looked, noon.Add(time.Minute))
	if err != nil {
		t.Fatal(err)
	}
	e.Sweep, e.Seen = s.ID, []record.Seen{{Sign: "lid", Values: []string{"bulging"}}}
	p.Put(first)
	p.Put(second)
	w = walk.New(p, s, noon.Add(2*time.Minute))
	if err := w.TakeOut([]*record.Jar{second}, noon.Add(2*time.Minute)); err != nil {
		t.Fatal(err)
	}
	p.Put(second)
	if ended := second.Standing().Ended; ended == nil || ended.Why != record.ForSpoiled {
		t.Errorf("it ended as %+v", ended)
	}
	w = walk.New(p, s, noon.Add(time.Hour))
	if w.Again != 1 || w.Next[len(w.Next)-1].ID != first.ID {
		t.Errorf("%d come again", w.Again)
	}
	if err := w.TakeOut([]*record.Jar{first}, noon.Add(time.Hour)); err == nil {
		t.Error("a jar that nothing speaks against was taken out")
	}
	r, err := walk.NewReport(p, s, noon.Add(time.Hour))
	if err != nil || r.Spoiled != 1 || r.Looked != 2 || r.Failed != 1 {
		t.Errorf("%+v, %v", r, err)
	}
	// Taken back, it is the found jar again, and taken back once more, not looked at.
	for n, want := range []int{2, 3} {
		for _, a := range walk.New(p, s, noon.Add(time.Hour)).LastAnswer() {
			a.Jar.Undo(a.Event.ID, true)
			p.Put(a.Jar)
		}
		if w = walk.New(p, s, noon.Add(time.Hour)); n == 0 && len(w.Next) != want || second.Standing().Stage != record.OnShelf {
			t.Errorf("after %d: %d left, it is %v", n+1, len(w.Next), second.Standing().Stage)
		}
	}
	if walk.AnswerOf(s, second) != nil {
		t.Error("it still has an answer")
	}
}

// Before the first sweep the looks at the jars count: it is due when the oldest of them
// is so many months old, and at once while a jar on a shelf was never looked at.
func TestFirstSweepIsDueAfterTheLooks(t *testing.T) {
	p, _ := round(t, 3)
	p.Sweeps = nil
	var jars []*record.Jar
	for _, j := range p.Jars {
		jars = append(jars, j)
	}
	for i, j := range jars {
		if due := walk.NextDue(p, noon); due != record.DayOf(noon) {
			t.Errorf("with %d of %d jars looked at a sweep is due %s", i, len(jars), due)
		}
		if err := record.Look([]*record.Jar{j}, noon.AddDate(0, 0, -i)); err != nil {
			t.Fatal(err)
		}
	}
	if due, want := walk.NextDue(p, noon), record.DayOf(noon.AddDate(0, p.Settings.Every(), 1-len(jars))); due != want {
		t.Errorf("with all jars looked at a sweep is due %s, want %s", due, want)
	}
}

// A look before a trip is no sweep: the next one is due as before.
func TestLookBeforeATripIsNoSweep(t *testing.T) {
	p, s := round(t, 1)
	ended := noon
	s.Ended = &ended
	p.Put(s)
	due := walk.NextDue(p, noon)
	look, err := record.NewSweep(nil, s.Order, noon.AddDate(0, 1, 0))
	if err != nil {
		t.Fatal(err)
	}
	later := noon.AddDate(0, 1, 0)
	look.Trip, look.Ended = s.ID, &later
	p.Put(again(t, look))
	if got := walk.NextDue(p, later); got != due {
		t.Errorf("due %s, before it was %s", got, due)
	}
	if n := len(walk.Ended(p)); n != 1 {
		t.Errorf("%d sweeps", n)
	}
	look.Trip = "x"
	if look.Validate() == nil {
		t.Error("a trip that is no id")
	}
}
