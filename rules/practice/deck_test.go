package practice_test

import (
	"maps"
	"reflect"
	"slices"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/practice"
)

// many is how many items the tests of the whole row look at.
const many = 12_000

// differ lists the signs in which two jars differ.
func differ(a, b *practice.Twin) (ids []rules.SignID) {
	for i := range a.Situation {
		if a.Situation[i] != b.Situation[i] {
			ids = append(ids, rules.SignID(i))
		}
	}
	return
}

// row returns the first items of a deck.
func row(t testing.TB, d practice.Deck, n int) []practice.Item {
	t.Helper()
	items := make([]practice.Item, n)
	for i := range items {
		var ok bool
		if items[i], ok = d.Item(i); !ok {
			t.Fatalf("item %d: got none", i)
		}
	}
	return items
}

// told reports whether everything that can be observed on the jar has been told:
// a closed jar has no smell, one just opened no days, and one that never stood
// on a shelf was not pried open.
func told(s *rules.Situation) bool {
	for i := range rules.Signs {
		id := rules.SignID(i)
		chapter := rules.Signs[i].Chapter
		closed := s.Is(rules.OpenedNo) || s.Is(rules.OpenedFrozen)
		cold := s.Is(rules.OpenedChilled) || s.Is(rules.OpenedThawed)
		bottle := s.Is(rules.OpenedBottle)
		hidden := id == rules.SignBacking ||
			chapter == rules.ChapterOpening && id != rules.SignOpened && closed ||
			id == rules.SignRelease && (cold || bottle) ||
			chapter == rules.ChapterOpened && !s.Is(rules.OpenedBefore) && !cold && !(bottle && id == rules.SignIll)
		if hidden != s.Open(id) {
			return false
		}
	}
	return true
}

// Every answer is the evaluator's, by the bounds and by the whole tree; every
// jar can be told to the rules sign by sign; twins differ in one sign and in
// their verdict, and a learner can say what holds a jar back.
func TestItemsAreTheEvaluatorsAndTwinsDifferInOneSign(t *testing.T) {
	tree := rules.NewTree()
	items := many
	if testing.Short() {
		items /= 5 // all of them natively
	}
	for n, it := range row(t, practice.Deck{Seed: 7}, items) {
		for i := range it.Jars {
			j := &it.Jars[i]
			o := rules.Evaluate(j.Situation)
			low, high := tree.Reach(j.Situation)
			if !o.Settled() || o.Lowest != j.Verdict || low != j.Verdict || high != j.Verdict {
				t.Fatalf("item %d, jar %d: got %v, want the evaluator's %v to %v, exactly %v to %v", n, i, j.Verdict, o.Lowest, o.Highest, low, high)
			}
			if !told(&j.Situation) || !practice.Shows(&j.Situation) {
				t.Fatalf("item %d, jar %d: no jar can show this, or some signs are not told", n, i)
			}
			again := rules.NewSituation()
			if err := j.Product.Tell(&again); err != nil {
				t.Fatal(err)
			}
			for id := range rules.SignID(rules.NumSigns) {
				if v, ok := j.Situation.Known(id); ok && !id.Fact() {
					if err := again.Tell(v); err != nil {
						t.Fatalf("item %d, jar %d: %v", n, i, err)
					}
				}
			}
			if again != j.Situation {
				t.Fatalf("item %d, jar %d: got facts that are not its product's", n, i)
			}
			if (len(j.Deciders()) == 0) != (j.Verdict == rules.Keep) {
				t.Errorf("item %d, jar %d (%s, %s): got %v, decided by %v", n, i, j.Product.ID, it.About.ID, j.Verdict, j.Deciders())
			}
		}
		if ids := differ(&it.Jars[0], &it.Jars[1]); !slices.Equal(ids, []rules.SignID{it.Sign}) || it.Jars[0].Product != it.Jars[1].Product {
			t.Errorf("item %d: got jars that differ in %v, want %s alone", n, ids, it.Sign.ID())
		}
		if it.Jars[0].Verdict == it.Jars[1].Verdict {
			t.Errorf("item %d: got %v for both jars, want two verdicts", n, it.Jars[0].Verdict)
		}
		if !it.Jars[0].Fires(it.About) {
			t.Errorf("item %d: want %s to fire", n, it.About.ID)
		}
	}
}

// The sign that is turned is one of those that hold the stricter twin back, so
// that touching it can be asked for.
func TestTurnedSignHoldsTheStricterTwinBack(t *testing.T) {
	items := many
	if testing.Short() {
		items /= 5 // all of them natively
	}
	for n, it := range row(t, practice.Deck{Seed: 11}, items) {
		strict := &it.Jars[0]
		if it.Jars[1].Verdict > strict.Verdict {
			strict = &it.Jars[1]
		}
		if !slices.Contains(strict.Deciders(), it.Sign) {
			t.Errorf("item %d (%s, %s): %s is changed, but %v decide", n, strict.Product.ID, it.About.ID, it.Sign.ID(), names(strict.Deciders()))
		}
	}
}

func names(ids []rules.SignID) (ns []string) {
	for _, id := range ids {
		ns = append(ns, id.ID())
	}
	return
}

// The row is balanced over verdicts, for the jars asked about and for all, and
// over products, and every rule is met.
func TestRowIsBalancedAndMeetsEveryRule(t *testing.T) {
	asked, all := map[rules.Verdict]int{}, map[rules.Verdict]int{}
	products := map[string]int{}
	met := map[string]bool{}
	about := map[string]int{}
	for _, it := range row(t, practice.Deck{Seed: 3}, many) {
		asked[it.Jars[0].Verdict]++
		products[it.Jars[0].Product.ID]++
		about[it.About.ID]++
		for i := range it.Jars {
			all[it.Jars[i].Verdict]++
			trace := rules.Explain(it.Jars[i].Situation)
			for _, l := range slices.Concat(trace.Deciding, trace.Also) {
				met[l.Rule.ID] = true
			}
		}
	}
	for _, v := range rules.Verdicts {
		if asked[v]*5 < many || all[v]*5 < 2*many {
			t.Errorf("%v: got %d of %d jars asked about, %d of %d in all", v, asked[v], many, all[v], 2*many)
		}
	}
	for p := range rules.Parts {
		for _, r := range rules.Parts[p].Rules {
			if !met[r.ID] {
				t.Errorf("%s never comes up", r.ID)
			}
		}
	}
	low, high := many, 0
	for i := range rules.Catalog {
		n := products[rules.Catalog[i].ID]
		low, high = min(low, n), max(high, n)
	}
	if low*6 < high {
		t.Errorf("got one product %d times and another %d times, want them balanced", low, high)
	}
	t.Logf("asked %v, all %v, products %d to %d times, %d rules as the point", asked, all, low, high, len(about))
}

// The same seed gives the same row, another seed another; an item does not need
// those before it.
func TestSeedDecides(t *testing.T) {
	a := row(t, practice.Deck{Seed: 42}, 300)
	if !reflect.DeepEqual(a, row(t, practice.Deck{Seed: 42}, 300)) {
		t.Error("the same seed: got a different row")
	}
	if reflect.DeepEqual(a, row(t, practice.Deck{Seed: 43}, 300)) {
		t.Error("another seed: got the same row")
	}
	if it, _ := (practice.Deck{Seed: 42}).Item(250); !reflect.DeepEqual(it, a[250]) {
		t.Error("item 250 by itself: got a different item than in its row")
	}
}

// Every rule, every product and every sign that can be observed can be
// practiced by itself.
func TestNarrowedDecks(t *testing.T) {
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			for n := range 6 {
				it, ok := practice.Deck{Seed: 5, Rule: r}.Item(n)
				if !ok {
					t.Errorf("nothing to practice %s on", r.ID)
					break
				}
				if it.About != r || !it.Jars[0].Fires(r) {
					t.Errorf("got an item about %[2]s, want %[1]s", r.ID, it.About.ID)
				}
			}
		}
	}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if it, ok := (practice.Deck{Seed: 5, Product: p}).Item(0); !ok || it.Jars[0].Product != p {
			t.Errorf("nothing to practice %s on", p.ID)
		}
	}
	for i := range rules.Signs {
		id := rules.SignID(i)
		if id.Fact() || id == rules.SignOpened {
			continue
		}
		for n := range 6 {
			if it, ok := (practice.Deck{Seed: 5, Signs: []rules.SignID{id}}).Item(n); !ok || it.Sign != id {
				t.Errorf("nothing to practice %s on", id.ID())
				break
			}
		}
	}
}

// A bar must exclude something that the rules could be told, and must not exclude
// a sound jar, or the learner would never see one.
func TestSoundJarsAreShown(t *testing.T) {
	met := map[string]int{}
	for _, it := range row(t, practice.Deck{Seed: 1}, 8*len(rules.Catalog)) {
		if it.Jars[0].Verdict == rules.Keep {
			met[it.Jars[0].Product.ID]++
		}
	}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if (met[p.ID] > 0) != p.Processed() {
			t.Errorf("%s: got %d kept jars with the process %s", p.ID, met[p.ID], p.Route.ID())
		}
	}
	if len(slices.Collect(maps.Keys(met))) == 0 {
		t.Error("got no kept jar at all")
	}
}

func BenchmarkFirstItem(b *testing.B) {
	for n := 0; b.Loop(); n++ {
		practice.Deck{Seed: uint64(n)}.Item(0)
	}
}

func BenchmarkItem(b *testing.B) {
	d := practice.Deck{Seed: 42}
	for n := 0; b.Loop(); n++ {
		d.Item(n)
	}
}

func BenchmarkItemOfOneRule(b *testing.B) {
	r, _ := rules.RuleByID("deposit.specks-harmless")
	d := practice.Deck{Seed: 42, Rule: r}
	for n := 0; b.Loop(); n++ {
		d.Item(n)
	}
}
