package practice_test

import (
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/practice"
	"larderlamp/rules/seeds"
)

// truth answers both jars as the evaluator does.
func truth(it *practice.Item) practice.Answer {
	return practice.Answer{Said: [2]rules.Verdict{it.Jars[0].Verdict, it.Jars[1].Verdict}, Touched: it.Sign}
}

// Every answer is graded by how it compares with the verdict, and only a jar to
// discard can be a missed danger.
func TestGrade(t *testing.T) {
	want := map[[2]rules.Verdict]practice.Mark{
		{rules.Keep, rules.UseSoon}: practice.FalseAlarm, {rules.Keep, rules.Discard}: practice.FalseAlarm,
		{rules.UseSoon, rules.Keep}: practice.TooMild, {rules.UseSoon, rules.Discard}: practice.FalseAlarm,
		{rules.Discard, rules.Keep}: practice.Missed, {rules.Discard, rules.UseSoon}: practice.Missed,
	}
	for _, is := range rules.Verdicts {
		for _, said := range rules.Verdicts {
			if got := practice.Grade(is, said); got != want[[2]rules.Verdict{is, said}] {
				t.Errorf("%v, answered %v: got the mark %d", is, said, got)
			}
		}
	}
}

// The sign that differs decides between twins; of a jar alone any sign that
// holds it back does, and none where nothing does. What decides nothing is never
// right.
func TestDecides(t *testing.T) {
	for n, it := range row(t, practice.Deck{Seed: 6}, 600) {
		both := truth(&it)
		if !both.Decides(&it) {
			t.Errorf("item %d: %s does not decide between the twins", n, it.Sign.ID())
		}
		for id := range practice.NoSign + 1 {
			both.Touched = id
			if both.Decides(&it) != (id == it.Sign) {
				t.Errorf("item %d: sign %d decides between twins that differ in %s", n, id, it.Sign.ID())
			}
			for i := range it.Jars {
				alone := practice.Answer{Touched: id}
				alone.Said[i] = it.Jars[i].Verdict
				holds := slices.Contains(it.Jars[i].Deciders(), id) || id == practice.NoSign && it.Jars[i].Verdict == rules.Keep
				if alone.Decides(&it) != holds {
					t.Errorf("item %d, jar %d, sign %d: got that it decides: %t, want %t", n, i, id, !holds, holds)
				}
			}
		}
	}
}

// danger finds the first item whose first jar is to be discarded.
func danger(t *testing.T, l *practice.Ladder) practice.Item {
	t.Helper()
	for range 9 {
		it, ok := l.Next(practice.Deck{}, 0)
		if !ok {
			t.Fatal("nothing to practice")
		}
		if it.Jars[0].Verdict == rules.Discard {
			return it
		}
		l.Record(&it, truth(&it), 0)
	}
	t.Fatal("got nine items without a danger")
	return practice.Item{}
}

// A missed danger is counted apart from a false alarm and comes back, the very
// same jars, after two others at most; what was right does not.
func TestMissedDangerComesBackAsItWas(t *testing.T) {
	for seed := range uint64(40) {
		l := practice.NewLadder(seed)
		missed := danger(t, l)
		before := l.All
		l.Record(&missed, practice.Answer{Said: [2]rules.Verdict{rules.Keep, 0}}, 0)
		if l.All.Missed != before.Missed+1 || l.All.Alarms != before.Alarms {
			t.Fatalf("seed %d: got the count %+v after %+v", seed, l.All, before)
		}
		back := -1
		for n := range 4 {
			it, _ := l.Next(practice.Deck{}, 0)
			if reflect.DeepEqual(it, missed) {
				back = n
				l.Record(&it, truth(&it), 0)
				continue
			}
			l.Record(&it, truth(&it), 0)
		}
		if back != 2 {
			t.Errorf("seed %d: %s: got it back after %d others, want 2", seed, missed.About.ID, back)
		}
	}
}

// A learner who is always right is not asked the same again until days have
// passed, and then is.
func TestWhatIsKnownWaits(t *testing.T) {
	l := practice.NewLadder(9)
	it, _ := l.Next(practice.Deck{}, 0)
	for range 3 { // rungs 2, 3, 4
		l.Record(&it, truth(&it), 0)
	}
	place := l.Places[it.About.ID]
	if place.Day != practice.Rungs[place.Rung].Days || place.Day == 0 {
		t.Fatalf("after three right answers: got %+v", place)
	}
	due := func(day int) bool {
		next, _ := l.Next(practice.Deck{}, day)
		return next.About == it.About
	}
	if due(place.Day - 1) {
		t.Error("it is due a day early")
	}
	if !due(place.Day) {
		t.Error("it is not due on its day")
	}
}

// A false alarm costs a rung and a missed danger all of them.
func TestMissesWeighMoreThanAlarms(t *testing.T) {
	after := func(said func(*practice.Item) rules.Verdict) int {
		l := practice.NewLadder(2)
		it := danger(t, l)
		for range 4 {
			l.Record(&it, truth(&it), 0)
		}
		a := truth(&it)
		a.Said = [2]rules.Verdict{said(&it), 0}
		if it.Jars[0].Verdict == a.Said[0] {
			a.Said = [2]rules.Verdict{0, rules.Discard} // the harmless twin
		}
		l.Record(&it, a, 0)
		return l.Places[it.About.ID].Rung
	}
	alarm := after(func(*practice.Item) rules.Verdict { return rules.Discard })
	miss := after(func(*practice.Item) rules.Verdict { return rules.Keep })
	if miss != 0 || alarm != 4 {
		t.Errorf("from rung 5: got rung %d after a miss and %d after an alarm, want 0 and 4", miss, alarm)
	}
}

// A learner without knowledge who always discards misses nothing and raises an
// alarm for every harmless jar; one who always keeps misses every danger.
func TestTalliesOfTheTimidAndTheBold(t *testing.T) {
	for _, v := range []rules.Verdict{rules.Discard, rules.Keep} {
		l := practice.NewLadder(4)
		for range 300 {
			it, _ := l.Next(practice.Deck{}, 0)
			l.Record(&it, practice.Answer{Said: [2]rules.Verdict{v, v}}, 0)
		}
		if v == rules.Discard && (l.All.Missed != 0 || l.All.Alarms != l.All.Harmless) || v == rules.Keep && (l.All.Missed != l.All.Dangers || l.All.Alarms != 0) {
			t.Errorf("always answered %v: got %+v", v, l.All)
		}
		signs, products := 0, 0
		for _, tally := range l.Signs {
			signs += tally.Jars()
		}
		for _, tally := range l.Products {
			products += tally.Jars()
		}
		if signs != 600 || products != 600 || l.All.Jars() != 600 {
			t.Errorf("got %d by sign, %d by product, %d in all, want 600 of each", signs, products, l.All.Jars())
		}
	}
}

// What is practiced next is what was missed, and not what is known well.
func TestWeakestIsWhatWasMissed(t *testing.T) {
	l := practice.NewLadder(1)
	for i := range rules.Signs {
		l.Signs[rules.Signs[i].ID] = &practice.Tally{Dangers: 50, Harmless: 50}
	}
	l.Signs["cloud"].Missed = 20
	l.Signs["mold"].Alarms = 20
	w := l.Weakest(2)
	if w[0] != rules.SignCloud || w[1] != rules.SignMold {
		t.Errorf("got %v next", names(w))
	}
	delete(l.Signs, "press")
	if w := l.Weakest(1); w[0] != rules.SignPress {
		t.Errorf("got %v next, want the sign that was never practiced", names(w))
	}
}

// A ladder comes back from JSON as it was, and damage is refused with its place.
func TestLadderKeeps(t *testing.T) {
	l := practice.NewLadder(8)
	for i := range 60 {
		it, _ := l.Next(practice.Deck{}, i/20)
		a := truth(&it)
		if i%7 == 0 {
			a.Said[0] = rules.Keep
		}
		l.Record(&it, a, i/20)
	}
	text, err := json.Marshal(l)
	if err != nil {
		t.Fatal(err)
	}
	again, err := practice.ParseLadder(text)
	if err != nil || !reflect.DeepEqual(l, again) {
		t.Errorf("got a different ladder back: %v", err)
	}
	for _, bad := range []string{"", "{", `{"version":2}`, `{"version":1,"all":{"dangers":1,"missed":2}}`,
		`{"version":1,"places":{"deposit.mold":{"rung":99}}}`, `{"version":1,"signs":{"cloud":{"alarms":1}}}`, `{"version":1,"places":{"deposit.mold":{"rung":-1}}}`, `{"version":1,"turn":1,"touched":2}`, `{"version":1,"turn":-5}`, `{"version":1,"turn":9000000000000000000}`} {
		if _, err := practice.ParseLadder([]byte(bad)); err == nil {
			t.Errorf("%q: got no error, want one", bad)
		}
	}
	old, err := practice.ParseLadder([]byte(`{"version":1,"places":{"no.such.rule":{"rung":1},"deposit.mold":null},"signs":{"no-such-sign":{}}}`))
	if err != nil || len(old.Places)+len(old.Signs) != 0 {
		t.Errorf("entries that this edition does not have: got %v, %+v", err, old)
	}
}

// A set comes back from its file with the same jars and verdicts, for all kinds
// of items.
func TestSetKeeps(t *testing.T) {
	for seed := range uint64(30) {
		d := practice.Deck{Seed: seed}
		text, err := json.Marshal(d.Set(practice.MostItems))
		if err != nil {
			t.Fatal(err)
		}
		_, items, err := practice.ParseSet(text)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if !reflect.DeepEqual(items, row(t, d, practice.MostItems)) {
			t.Errorf("seed %d: got a different set back", seed)
		}
	}
	if n := len(practice.Deck{}.Set(1000).Items); n != practice.MostItems {
		t.Errorf("got a set of %d items, want at most MostItems", n)
	}
}

// A damaged set is refused with the place of the damage.
func TestDamagedSets(t *testing.T) {
	const good = `{"about":"deposit.mold","product":"peaches","shows":{"mold":"seen","method":"boiling-water"},"sign":"mold","turned":"none"}`
	set := func(entry string) []byte { return []byte(`{"version":1,"items":[` + good + `,` + entry + `]}`) }
	if _, items, err := practice.ParseSet(set(good)); err != nil || items[1].Jars[0].Verdict != rules.Discard || items[1].Jars[1].Verdict != rules.Keep {
		t.Fatalf("a good set: got the error %v", err)
	}
	for entry, want := range map[string]string{
		`{}`:                       `practice set: item 2: about: no rule ""`,
		`{"about":"deposit.mold"}`: `practice set: item 2: product: no product ""`,
		`{"about":"deposit.mold","product":"peaches","shows":{"moold":"seen"}}`:                                                   `practice set: item 2: shows: no sign "moold"`,
		`{"about":"deposit.mold","product":"peaches","shows":{"class":"low"}}`:                                                    `practice set: item 2: shows: class is a fact of the product`,
		`{"about":"deposit.mold","product":"peaches","shows":{"opened":"now","release":"drawn-in"},"sign":"lid","turned":"flat"}`: `practice set: item 2: turned: no jar shows it, or its verdict is the same`,
		`{"about":"deposit.mold","product":"peaches","shows":{"mold":"seen"},"sign":"top","turned":"floating"}`:                   `practice set: item 2: turned: no jar shows it, or its verdict is the same`,
		`{"about":"deposit.mold","product":"peaches","shows":{"mold":"seen"},"sign":"opened","turned":"now"}`:                     `practice set: item 2: sign: "opened" cannot be turned`,
		`{"about":"deposit.mold","product":"peaches","shows":{"method":"untold","process":"met"},"sign":"mold"}`:                  `practice set: item 2: shows: no jar shows this, or not all of it is told`,
		`{"about":"deposit.mold","product":"peaches","shows":{"mold":"seen"},"sign":"mold","turned":"gone"}`:                      ``,
		`{"about":"deposit.mold","product":"peaches","shows":{"opened":"closed","smell":"off"},"sign":"mold"}`:                    ``,
	} {
		_, _, err := practice.ParseSet(set(entry))
		if err == nil || want != "" && err.Error() != want {
			t.Errorf("%s: got the error %v, want %q", entry, err, want)
		}
	}
	for _, text := range []string{"", "[]", `{"version":2,"items":[` + good + `]}`, `{"version":1,"items":[]}`} {
		if _, _, err := practice.ParseSet([]byte(text)); err == nil {
			t.Errorf("%q: got no error, want one", text)
		}
	}
}

// The interval holds the share, narrows with what was seen, mirrors when right
// and wrong change places, and has the values of the published formula worked
// out by hand for 0, 1 and 5 of 10.
func TestWilson(t *testing.T) {
	for _, c := range []struct {
		k, n      int
		low, high float64
	}{{0, 0, 0, 1}, {0, 10, 0, 0.27753}, {1, 10, 0.01788, 0.40415}, {5, 10, 0.23659, 0.76341}, {10, 10, 0.72247, 1}} {
		low, high := practice.Wilson(c.k, c.n)
		if math.Abs(low-c.low) > 1e-5 || math.Abs(high-c.high) > 1e-5 {
			t.Errorf("%d of %d: got %.5f to %.5f", c.k, c.n, low, high)
		}
	}
	for n := 1; n <= 120; n++ {
		for k := range n + 1 {
			low, high := practice.Wilson(k, n)
			share := float64(k) / float64(n)
			mirrorLow, mirrorHigh := practice.Wilson(n-k, n)
			if low > share || high < share || low < 0 || high > 1 || math.Abs(low+mirrorHigh-1) > 1e-12 || math.Abs(high+mirrorLow-1) > 1e-12 {
				t.Errorf("%d of %d: got %v to %v", k, n, low, high)
			}
			wide, wider := practice.Wilson(2*k, 2*n)
			if wider-wide >= high-low {
				t.Errorf("%d of %d: got an interval no wider than for twice as many", k, n)
			}
		}
	}
}

// A set that is read holds pairs that differ as they should, and read again
// holds the same; a set that is refused says where.
func FuzzParseSet(f *testing.F) {
	seeds.Add(f, "set")
	f.Fuzz(func(t *testing.T, text []byte) {
		set, items, err := practice.ParseSet(text)
		if err != nil {
			if items != nil || !strings.HasPrefix(err.Error(), "practice set: ") {
				t.Errorf("got %d items and the error %q", len(items), err)
			}
			return
		}
		for n := range items {
			if ids := differ(&items[n].Jars[0], &items[n].Jars[1]); len(ids) != 1 || items[n].Jars[0].Verdict == items[n].Jars[1].Verdict {
				t.Errorf("item %d: got jars that differ in %v, want one sign", n, names(ids))
			}
			set.Items[n] = items[n].Entry()
		}
		written, err := json.Marshal(set)
		if err != nil {
			t.Fatal(err)
		}
		if back, same, err := practice.ParseSet(written); err != nil || !reflect.DeepEqual(back, set) || !reflect.DeepEqual(same, items) {
			t.Errorf("%s came back as %+v, %v", written, back, err)
		}
	})
}

// With a ladder that is read one can practice on and on, and it comes back as
// it was; one that is refused says where.
func FuzzParseLadder(f *testing.F) {
	seeds.Add(f, "ladder")
	f.Fuzz(func(t *testing.T, text []byte) {
		l, err := practice.ParseLadder(text)
		if err != nil {
			if l != nil || !strings.HasPrefix(err.Error(), "practice: ") {
				t.Errorf("got the ladder %v and the error %q", l, err)
			}
			return
		}
		for day := range 3 {
			written, err := json.Marshal(l)
			if err != nil {
				t.Fatal(err)
			}
			if back, err := practice.ParseLadder(written); err != nil || !reflect.DeepEqual(back, l) {
				t.Fatalf("%s came back as %+v, %v", written, back, err)
			}
			it, ok := l.Next(practice.Deck{}, day)
			if !ok {
				t.Fatal("nothing to practice")
			}
			turn, jars := l.Turn, l.All.Jars()
			l.Record(&it, truth(&it), day)
			if l.Turn != turn+1 || l.All.Jars() <= jars {
				t.Fatalf("%d items and %d jars: got %d and %d afterward", turn, jars, l.Turn, l.All.Jars())
			}
		}
	})
}
