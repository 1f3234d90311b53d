package record_test

import (
	"math/rand/v2"
	"testing"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/rules"
)

// A jar that is put on the shelf from a check never gets a milder settled answer
// there than the check gave: over random checks of every food.
func TestFromACheckOntoTheShelf(t *testing.T) {
	draw := rand.New(rand.NewPCG(7, 16))
	settled, same, milder := 0, 0, 0
	for i := range rules.Catalog {
		food := &rules.Catalog[i]
		for range 6 {
			c, err := record.NewCheck(food.ID, testkit.Evening)
			if err != nil {
				t.Fatal(err)
			}
			c.Edition = rules.Edition
			for {
				s := c.Situation(food)
				q, more := rules.Next(s, rules.Skipped{})
				if !more {
					break
				}
				choice := q.Choices[draw.IntN(len(q.Choices))]
				if draw.IntN(4) > 0 { // most jars are sound in most signs
					for _, ch := range q.Choices {
						if len(q.Signs) == 1 && len(ch.Tell) == 1 && ch.Tell[0] == q.Signs[0].Info().Sound {
							choice = ch
						}
					}
				}
				told := map[string][]string{}
				for _, v := range choice.Tell {
					told[v.Sign().ID()] = append(told[v.Sign().ID()], v.ID())
				}
				for sign, values := range told {
					c.Answers = append(c.Answers, record.Answer{Sign: sign, Values: values, Question: q.ID, At: testkit.Evening})
				}
			}
			s := c.Situation(food)
			o := rules.Judge(s)
			c.Lowest, c.Highest, c.Finished = o.Lowest.ID(), o.Highest.ID(), true
			opened := !s.Possible(rules.OpenedNo)
			p := pantry.New()
			what := record.Shelf
			if opened {
				what = record.Fridge
			}
			place, err := record.NewPlace("Cellar", testkit.Evening)
			if err != nil {
				t.Fatal(err)
			}
			place.Describe(record.CoolPlace, testkit.Evening)
			place.What = what
			b, err := c.Record(testkit.Evening)
			if err != nil {
				t.Fatal(err)
			}
			j, err := c.PutOnShelf(b, place.ID, opened, testkit.Evening)
			if err != nil {
				t.Fatal(err)
			}
			for _, r := range []record.Record{place, b, j, &c} {
				if err := r.Validate(); err != nil {
					t.Fatal(err)
				}
				p.Put(r)
			}
			if c.Jar != j.ID {
				t.Fatal("the check does not know its jar")
			}
			v := p.Judge(j, testkit.Evening.Add(time.Minute))
			if !v.Settled() || !o.Settled() {
				continue
			}
			settled++
			switch {
			case v.Highest < o.Highest:
				milder++
				t.Errorf("%s: the check says %s, the milder shelf %s: %+v", food.ID, o.Highest, v.Highest, c.Answers)
			case v.Highest == o.Highest:
				same++
			}
			if milder > 5 {
				t.Fatal("more fail than are shown")
			}
		}
	}
	t.Logf("%d settled, %d the same", settled, same)
	if same < 300 {
		t.Errorf("only %d of %d keep their verdict", same, settled)
	}
}

// The day of canning is the earliest that the age in a check allows, so that the shelf
// counts the jar as old as the check did or older.
func TestRecordOfAge(t *testing.T) {
	for _, v := range rules.SignAge.Info().Values {
		c, err := record.NewCheck("peaches", testkit.Evening)
		if err != nil {
			t.Fatal(err)
		}
		c.Answers = []record.Answer{{Sign: rules.SignAge.ID(), Values: []string{v.ID}, Question: rules.SignAge.ID(), At: testkit.Evening}}
		b, err := c.Record(testkit.Evening)
		if err != nil {
			t.Fatal(err)
		}
		p := pantry.New()
		p.Put(b)
		j, err := record.NewJar(b.ID, 1, testkit.Evening)
		if err != nil {
			t.Fatal(err)
		}
		p.Put(j)
		s, _ := p.Situation(j, testkit.Evening)
		want := v.Value
		if want == rules.AgeUnknown {
			want = rules.AgeOlder
		}
		if !s.Possible(want) {
			t.Errorf("%s: got %v", v.ID, s.Values(rules.SignAge))
		}
		for _, got := range s.Values(rules.SignAge) {
			if got < v.Value && v.Value != rules.AgeUnknown {
				t.Errorf("%s: got a younger age: %s", v.ID, got.ID())
			}
		}
	}
}
