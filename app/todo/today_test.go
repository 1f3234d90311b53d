package todo_test

import (
	"testing"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/app/todo"
	"larderlamp/rules"
)

// Every jar of the made-up household is in one part, and the day names each jar that
// has to be taken out or finished, and counts the rest.
func TestTodayLeavesNothingOut(t *testing.T) {
	p := testkit.Invented(t, time.Date(2026, 11, 26, 12, 0, 0, 0, time.UTC))
	for _, days := range []int{0, 40, 120, 400} {
		now := time.Now().AddDate(0, 0, days)
		all := p.JudgeAll(now)
		today := todo.Of(p, p.Groups(all), now)
		want := map[pantry.State]int{}
		for i := range all {
			want[all[i].State()]++
		}
		named := func(groups []*pantry.Group) (n int) {
			for _, g := range groups {
				n += len(g.Jars)
			}
			return
		}
		if got := named(today.Out); got != want[pantry.ToDiscard] {
			t.Errorf("day %d: %d jars to take out, want %d", days, got, want[pantry.ToDiscard])
		}
		if got := named(today.Finish); got != want[pantry.ToFinish] {
			t.Errorf("day %d: %d jars to finish, want %d", days, got, want[pantry.ToFinish])
		}
		odd := 0
		for _, v := range today.Odd {
			if v.State() == pantry.ToLook {
				odd++
			}
		}
		if today.Look+today.Settle+odd != want[pantry.ToLook] || today.Seek != want[pantry.ToSeek] || today.Total != len(all) {
			t.Errorf("day %d: %d to look at, %d to settle, %d odd, %d to seek of %d; want %v of %d", days, today.Look, today.Settle, odd, today.Seek, today.Total, want, len(all))
		}
		for i := 1; i < len(today.Finish); i++ {
			if a, b := today.Finish[i-1].First().Deadline, today.Finish[i].First().Deadline; a > b {
				t.Errorf("day %d: %s comes before %s", days, a, b)
			}
		}
	}
	if today := todo.Of(pantry.New(), nil, time.Now()); !today.Nothing {
		t.Error("an empty shelf has something to do")
	}
}

// Spoiled jars are taken out before those that lost their seal, and those before jars
// that were never canned right.
func TestTodayDangerFirst(t *testing.T) {
	p := pantry.New()
	for i, seen := range []rules.Value{0, rules.PressGives, rules.LidBulged} {
		b, err := record.NewBatch("green-beans", testkit.Evening)
		if err != nil {
			t.Fatal(err)
		}
		b.Made, b.Standing = "2026-09-01", rules.StandingUnshown.ID()
		p.Put(b)
		j, err := record.NewJar(b.ID, i+1, testkit.Evening)
		if err != nil {
			t.Fatal(err)
		}
		if seen != 0 {
			e, err := j.Add(record.Looked, testkit.Evening)
			if err != nil {
				t.Fatal(err)
			}
			e.Seen = []record.Seen{{Sign: seen.Sign().ID(), Values: []string{seen.ID()}}}
		}
		p.Put(j)
	}
	out := todo.Of(p, p.Groups(p.JudgeAll(testkit.Evening)), testkit.Evening).Out
	if len(out) != 3 {
		t.Fatalf("got %d groups to take out", len(out))
	}
	for i, want := range []int{3, 2, 1} {
		if got := out[i].First().Jar.Number; got != want {
			t.Errorf("place %d: jar %d, want %d", i+1, got, want)
		}
	}
}

// A packed trip is named until everybody is home.
func TestTodayTrip(t *testing.T) {
	p := pantry.New()
	trip, err := record.NewTrip("2026-10-09", testkit.Evening)
	if err != nil {
		t.Fatal(err)
	}
	p.Put(trip)
	if todo.Of(p, nil, testkit.Evening).Packed != nil {
		t.Error("a trip for which nothing is packed is listed")
	}
	trip.Packed = []record.Packed{{}}
	if todo.Of(p, nil, testkit.Evening).Packed != trip {
		t.Error("the packed trip is not listed")
	}
	home := testkit.Evening
	trip.Home = &home
	if todo.Of(p, nil, testkit.Evening).Packed != nil {
		t.Error("a trip that is over is listed")
	}
}

// A jar that was odd when somebody began to check it, and left, is named until it is
// settled or was looked at again. Nobody is told to look at what was looked at lately.
func TestTodayNamesWhatWasOdd(t *testing.T) {
	p, _, b, jars := testkit.Home(t, "peaches")
	b.Standing = ""
	p.Put(b)
	fourth, err := record.NewJar(b.ID, 4, testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	stored, err := fourth.Add(record.Stored, time.Date(2026, 6, 12, 18, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	stored.Place = jars[0].Standing().Place
	p.Put(fourth)
	began := func(j *record.Jar, glance int, untrue bool) {
		c, err := p.NewCheckOf(j, testkit.Noon, nil)
		if err != nil {
			t.Fatal(err)
		}
		if untrue {
			c.MarkUntrue(&rules.ShortLook[glance])
		}
		j.AddCheck(c)
		p.Put(j)
	}
	day := func() *todo.Today { return todo.Of(p, p.Groups(p.JudgeAll(testkit.Noon)), testkit.Noon) }
	if got := day(); got.Look != 1 || got.Settle != 3 || len(got.Odd) != 0 {
		t.Errorf("three of four looked at: got %d to look at, %d to settle, %d odd", got.Look, got.Settle, len(got.Odd))
	}
	for i, g := range rules.ShortLook {
		if len(g.Signs) != 1 {
			continue
		}
		began(jars[0], i, true)
		got := day()
		// Some signs settle it: then it is to be taken out.
		named := len(got.Out) == 1
		for _, v := range got.Odd {
			named = named || v.Jar == jars[0] && v.Worrying()[0] == g.Signs[0]
		}
		if !named || got.Look != 1 || got.Settle != 2 {
			t.Errorf("%s, not true: got %d odd, %d to look at, %d to settle, %d to take out", g.Say, len(got.Odd), got.Look, got.Settle, len(got.Out))
		}
		jars[0].Undo(jars[0].Events[len(jars[0].Events)-1].ID, true)
		p.Put(jars[0])
	}
	// What says nothing against a jar is not odd.
	lift := func(values ...rules.Value) *record.Event {
		seen := record.Seen{Sign: rules.SignLift.ID()}
		for _, v := range values {
			seen.Values = append(seen.Values, v.ID())
		}
		return &record.Event{Seen: []record.Seen{seen}}
	}
	for _, c := range []struct {
		look *record.Event
		odd  int
	}{{lift(rules.LiftHolds), 0}, {lift(rules.LiftNone), 0}, {lift(rules.LiftHolds, rules.LiftOff, rules.LiftNone), 0}, {lift(rules.LiftOff), 1}, {lift(rules.LiftOff, rules.LiftNone), 1}} {
		if got := pantry.Odd(c.look); len(got) != c.odd {
			t.Errorf("%v: got %v", c.look.Seen, got)
		}
	}
}
