package record_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
)

// A way that is offered is one that the tables call published, or one that is only
// from memory, for every food, table, size and altitude; one minute or one pound less
// falls short.
func TestWaysAreAsPublished(t *testing.T) {
	offered, foods := 0, 0
	for i := range rules.Catalog {
		food := &rules.Catalog[i]
		some := false
		for _, table := range processed.Tables(food) {
			for _, size := range record.Sizes {
				for _, feet := range []int{0, 999, 1000, 1001, 1999, 2999, 3999, 5999, 6001, 7999, 9999} {
					b, err := record.NewBatch(food.ID, testkit.Evening)
					if err != nil {
						t.Fatal(err)
					}
					b.Table, b.Size, b.Feet = table, size.ID, &feet
					for _, w := range b.Ways() {
						some = true
						offered++
						b.Go(w)
						if !b.ProcessedAs(w) {
							t.Fatalf("%s %s: %+v was chosen but is not recognized", food.ID, size.ID, w)
						}
						if err := b.Validate(); err != nil {
							t.Fatal(err)
						}
						if got := b.Process(nil).Possible; got != process.Met && got != process.Agrees {
							t.Errorf("%s %s %s at %d ft: %+v: got %s", food.ID, table, size.ID, feet, w, got)
						}
						less := w.Minutes - 1
						b.Minutes = &less
						if got := b.Process(nil).Possible; got == process.Met || b.ProcessedAs(w) {
							t.Errorf("%s %s %s at %d ft: %d minutes are enough, and %+v was offered", food.ID, table, size.ID, feet, less, w)
						}
					}
				}
			}
		}
		if some {
			foods++
		}
		if has := len(processed.Tables(food)) > 0; has != some {
			t.Errorf("%s: got a table: %v, ways: %v", food.ID, has, some)
		}
	}
	t.Logf("%d ways for %d foods", offered, foods)
}

// Without an altitude, a size or a table nothing is offered.
func TestWaysNeedTheFacts(t *testing.T) {
	feet := 500
	for name, b := range map[string]record.Batch{
		"no altitude": {Product: "peaches", Size: "quart"},
		"no size":     {Product: "peaches", Feet: &feet},
		"no kind":     {Product: "strawberry-jam", Size: "half-pint", Feet: &feet},
		"no table":    {Product: "pickled-onions", Size: "pint", Feet: &feet},
	} {
		if ways := b.Ways(); len(ways) > 0 {
			t.Errorf("%s: got %+v", name, ways)
		}
	}
	if ways := (&record.Batch{Product: "green-beans", Size: "quart", Feet: &feet}).Ways(); len(ways) != 4 || ways[0].Method != rules.MethodPressure {
		t.Errorf("beans: got %+v", ways)
	}
	if ways := (&record.Batch{Product: "peaches", Size: "quart", Feet: &feet}).Ways(); len(ways) != 2 || ways[0] != (record.Way{Method: rules.MethodBoiling, Pack: process.Hot, Minutes: 25, TenthsPSI: 0}) || ways[1].Pack != process.Raw {
		t.Errorf("peaches: got %+v", ways)
	}
}

// One touch that confirms all lines never makes a jar keepable that the same
// values, said one by one, do not; every line that is left out leaves the jar
// stricter or the same; and a food without a published process is never kept,
// whatever is said.
func TestLinesOfEveryFood(t *testing.T) {
	kept := 0
	for i := range rules.Catalog {
		food := &rules.Catalog[i]
		b := testkit.ByTheBook(t, food)
		for _, l := range b.Lines() {
			if !l.Holds() {
				t.Errorf("%s: the line %q is not true after it was confirmed", food.ID, l.Say)
			}
		}
		judge := func(b *record.Batch) rules.Outcome {
			s := rules.NewSituation()
			if err := food.Tell(&s); err != nil {
				t.Fatal(err)
			}
			b.Tell(&s, nil)
			return rules.Judge(s)
		}
		whole := judge(b)
		if whole.Lowest == rules.Keep {
			kept++
		}
		if !food.Processed() && whole.Lowest == rules.Keep {
			t.Errorf("%s has no published process but is kept", food.ID)
		}
		for _, l := range b.Lines() {
			less := *b
			less.Set(l.Sign, "")
			if got := judge(&less); got.Lowest < whole.Lowest {
				t.Errorf("%s: %s is %s, and milder without %q: %s", food.ID, b.Made, whole.Lowest, l.Say, got.Lowest)
			}
		}
	}
	t.Logf("%d of %d foods can be kept", kept, len(rules.Catalog))
	if kept < 60 {
		t.Errorf("only %d foods can be kept by the book", kept)
	}
}

// Each line by itself says everything that its value assumes: someone who denies
// one line and confirms the others has not said that their own recipe is the
// measure.
func TestLinesStandByThemselves(t *testing.T) {
	for i := range rules.Catalog {
		b := &record.Batch{Product: rules.Catalog[i].ID}
		for _, l := range b.Lines() {
			switch l.Sign {
			case rules.SignAcid, rules.SignExtras, rules.SignProcess:
				if !strings.Contains(l.Say.String(), "published recipe") {
					t.Errorf("%s: %q leaves open which recipe is meant", b.Product, l.Say)
				}
			}
		}
	}
}

// The shelf of a testkit.Evening: jars canned by the book, looked at together, in a fully
// described place, are kept; and each thing left out leaves them unsettled.
func TestAnEveningEndsInKeep(t *testing.T) {
	for _, id := range []string{"peaches", "green-beans", "strawberry-jam", "dill-pickles", "applesauce", "chicken"} {
		food, ok := rules.ProductByID(id)
		if !ok {
			t.Fatalf("no food %s", id)
		}
		for name, leave := range map[string]func(*record.Batch, *record.Place, *bool){
			"":             func(*record.Batch, *record.Place, *bool) {},
			"no look":      func(b *record.Batch, pl *record.Place, look *bool) { *look = false },
			"no recipe":    func(b *record.Batch, pl *record.Place, look *bool) { b.Standing = "" },
			"no minutes":   func(b *record.Batch, pl *record.Place, look *bool) { b.Minutes, b.Followed = nil, "" },
			"place unsaid": func(b *record.Batch, pl *record.Place, look *bool) { pl.Air, pl.Wet, pl.Light = nil, "", "" },
		} {
			p := pantry.New()
			place, err := record.NewPlace("Cellar", testkit.Evening)
			if err != nil {
				t.Fatal(err)
			}
			place.Describe(record.CoolPlace, testkit.Evening)
			b := testkit.ByTheBook(t, food)
			look := true
			leave(b, place, &look)
			p.Put(place)
			p.Put(b)
			j, err := record.NewJar(b.ID, 1, testkit.Evening)
			if err != nil {
				t.Fatal(err)
			}
			made, _ := time.Parse(record.DayLayout, string(b.Made))
			e, err := j.Add(record.Stored, made.Add(12*time.Hour))
			if err != nil {
				t.Fatal(err)
			}
			e.Place = place.ID
			if look {
				if ok, why := b.CanLookTogether(testkit.Evening); !ok {
					t.Fatal(why)
				}
				if err := record.Look([]*record.Jar{j}, testkit.Evening); err != nil {
					t.Fatal(err)
				}
			}
			p.Put(j)
			v := p.Judge(j, testkit.Evening)
			if (v.State() == pantry.ToKeep) != (name == "") {
				t.Errorf("%s, %s: got %s", id, name, v.State())
			}
		}
	}
}

// What is known about a place counts for a batch that was recorded after another,
// and canned before it.
func TestAnEarlierBatchAfterALaterOne(t *testing.T) {
	food, _ := rules.ProductByID("peaches")
	p := pantry.New()
	place, err := record.NewPlace("Cellar", testkit.Evening)
	if err != nil {
		t.Fatal(err)
	}
	place.Describe(record.CoolPlace, testkit.Evening)
	p.Put(place)
	for _, made := range []record.Day{"2026-09-01", "2026-08-01", "2026-08-15"} {
		b := testkit.ByTheBook(t, food)
		b.Made = made
		p.Put(b)
		j, err := record.NewJar(b.ID, 1, testkit.Evening)
		if err != nil {
			t.Fatal(err)
		}
		day, _ := time.Parse(record.DayLayout, string(made))
		e, err := j.Add(record.Stored, day.Add(12*time.Hour))
		if err != nil {
			t.Fatal(err)
		}
		e.Place = place.ID
		if err := record.Look([]*record.Jar{j}, testkit.Evening); err != nil {
			t.Fatal(err)
		}
		p.Put(j)
		if v := p.Judge(j, testkit.Evening); v.State() != pantry.ToKeep {
			t.Errorf("canned %s: %s, want keep", made, v.State())
		}
	}
}

// The short look is only for flat lids, and never on the day of canning.
func TestLookToo(t *testing.T) {
	for _, v := range append([]rules.ValueInfo{{}}, rules.SignClosure.Info().Values...) {
		for made, cooled := range map[record.Day]bool{"2026-10-05": false, "2026-10-04": true} {
			b := &record.Batch{Made: made, Closure: v.ID}
			flat := v.Value == rules.ClosureLid || v.Value == rules.ClosureUsed
			if ok, why := b.CanLookTogether(testkit.Evening); ok != (flat && cooled) || ok == (why != "") {
				t.Errorf("%s, made %s: got %v %q", v.ID, made, ok, why)
			}
		}
	}
}

// Jars that were canned today or yesterday may have come out of the canner late: then,
// and only then, the look asks how many hours they have cooled.
func TestCooledLine(t *testing.T) {
	for made, asks := range map[record.Day]bool{"2026-10-05": true, "2026-10-04": true, "2026-10-03": false, "": false} {
		b := &record.Batch{Made: made}
		if line := b.CooledLine(testkit.Evening); strings.Contains(line.String(), "at least 12 hours") != asks || asks == (line == "") {
			t.Errorf("made %q: got %q", made, line)
		}
	}
}

// Another batch of the same food copies how it was canned and nothing else.
func TestAgain(t *testing.T) {
	food, _ := rules.ProductByID("green-beans")
	b := testkit.ByTheBook(t, food)
	b.Notes, b.LidLot = "from the south bed", "L7"
	n, err := b.Again(testkit.Evening)
	if err != nil {
		t.Fatal(err)
	}
	if n.ID == b.ID || n.Made != record.DayOf(testkit.Evening) || n.Notes != "" || n.Feet != nil {
		t.Errorf("carried over: got %+v", n)
	}
	feet := 500
	n.Feet = &feet
	if !slices.Equal(n.Ways(), b.Ways()) || n.Process(nil).Possible != process.Met {
		t.Errorf("it was canned differently: got %+v", n)
	}
}
