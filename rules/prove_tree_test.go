package rules_test

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/internal/mdd"
)

// The ceilings are 1.5 times the size that the diagrams had when they were set. A
// tree should only grow past them by a visible decision, not by accident.
var ceilings = map[string]int{"support": 117, "record": 0, "cold": 6, "batch": 87, "seal": 69, "outside": 92, "liquid": 168, "color": 264, "aging": 21, "deposit": 183, "storage": 126, "opening": 143, "opened": 60, "sour": 14, "warmth": 60, "the whole": 18200}

// The whole space is counted, not sampled, and the diagrams stay small enough
// to be proved over.
func TestProveTreeIsCountedAndSmall(t *testing.T) {
	tree := rules.NewTree()
	total := big.NewInt(1)
	for _, id := range tree.Order {
		total.Mul(total, big.NewInt(int64(len(id.Info().Values))))
	}
	counts := tree.Graph.Count(tree.Verdict)
	sum := new(big.Int)
	for _, v := range rules.Verdicts {
		if counts[v].Sign() <= 0 {
			t.Errorf("got no situation with the verdict %v", v)
		}
		sum.Add(sum, counts[v])
	}
	if sum.Cmp(total) != 0 {
		t.Errorf("got %v situations with a verdict, want all %v", sum, total)
	}
	t.Logf("%v situations of %d signs: keep %v, use soon %v, discard %v", total, len(tree.Order), counts[rules.Keep], counts[rules.UseSoon], counts[rules.Discard])
	small := func(name string, n mdd.Node) {
		nodes := tree.Graph.Nodes(n)
		t.Logf("%s: %d nodes", name, nodes)
		if nodes > ceilings[name] {
			t.Errorf("%s: got %d nodes, want at most %d", name, nodes, ceilings[name])
		}
	}
	small("support", tree.Support)
	for p := range rules.Parts {
		small(rules.Parts[p].ID, tree.Parts[p])
	}
	small("the whole", tree.Verdict)
}

// Every sign can change the verdict, and every value of it means something: no
// value is, in all situations, the same as the value a sound jar shows, unless a
// note tells them apart.
func TestProveEverySignAndValueMatters(t *testing.T) {
	tree := rules.NewTree()
	for v, id := range tree.Order {
		kids := map[mdd.Node][]string{}
		for i, value := range id.Info().Values {
			n := tree.Graph.Fix(tree.Verdict, v, i)
			kids[n] = append(kids[n], value.ID)
		}
		if len(kids) == 1 {
			t.Errorf("%s never changes a verdict", id.ID())
		}
		for _, same := range kids {
			if slices.Contains(same, id.Info().Sound.ID()) && len(same) > 1 && !toldApart(id, same) {
				t.Errorf("%s: got the same verdicts for %v in every situation", id.ID(), same)
			}
		}
	}
}

// toldApart reports whether notes or missing-support rules name the values
// differently.
func toldApart(id rules.SignID, values []string) bool {
	seen := map[string]bool{}
	for _, name := range values {
		value, _ := id.ValueByID(name)
		key := ""
		for p := range rules.Parts {
			for i := range rules.Parts[p].Rules {
				for _, c := range rules.Parts[p].Rules[i].When {
					for _, v := range c {
						if v == value {
							key += rules.Parts[p].Rules[i].ID + " "
						}
					}
				}
			}
		}
		if seen[key] {
			return false
		}
		seen[key] = true
	}
	return true
}

// The diagram, the engine and the rules read one by one agree on every
// situation of every part, and on situations drawn over all signs at once; and
// the engine's interval always contains the exact one.
func TestProveTreeEqualsEngine(t *testing.T) {
	tree := rules.NewTree()
	n := 0
	for p := range rules.Parts {
		if p == rules.PartRecord && testing.Short() {
			continue
		}
		n += eachSituation(t, &rules.Parts[p], func(s rules.Situation) {
			o := rules.Evaluate(s)
			if lowest, highest := tree.Reach(s); lowest != o.Lowest || highest != o.Highest {
				t.Fatalf("got %v..%v from the diagram, want the engine's %v..%v: %v", lowest, highest, o.Lowest, o.Highest, describe(s))
			}
		})
	}
	r := rand.New(rand.NewPCG(20, 26))
	exact, partial := 0, 0
	for range 60000 {
		s := soundJar(t)
		for _, id := range tree.Order {
			values := len(id.Info().Values)
			switch r.IntN(12) {
			case 0:
				s[id] = 1 << r.IntN(values)
			case 1:
				s.Forget(id)
			case 2:
				s[id] = rules.Set(1 + r.IntN(1<<values-1))
			}
		}
		o := rules.Evaluate(s)
		lowest, highest := tree.Reach(s)
		partial++
		if o.Lowest > lowest || o.Highest < highest {
			t.Fatalf("got %v..%v from the engine, want it to include the exact %v..%v: %v", o.Lowest, o.Highest, lowest, highest, describe(s))
		}
		if o.Lowest == lowest && o.Highest == highest {
			exact++
		}
	}
	t.Logf("%d situations of the parts equal; of %d partial ones drawn over all signs the interval is exact in %.2f %%", n, partial, 100*float64(exact)/float64(partial))
}

func BenchmarkTree(b *testing.B) {
	for b.Loop() {
		rules.NewTree()
	}
}

func BenchmarkReach(b *testing.B) {
	tree := rules.NewTree()
	s := rules.NewSituation()
	for b.Loop() {
		tree.Reach(s)
	}
}
