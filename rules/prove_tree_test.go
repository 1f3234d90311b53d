package rules_test

import (
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/internal/mdd"
)

// tree is the whole rule base as one decision diagram over every sign. It is a
// third evaluator, which can be asked about the whole space at once.
type tree struct {
	g       *mdd.Graph
	order   []rules.SignID // the sign behind each variable
	at      [rules.NumSigns]int
	parts   [rules.NumParts]mdd.Node // the strictest restriction of each part, 0 for none
	support mdd.Node
	verdict mdd.Node
}

// readings is the order in which the diagram tests the signs: the record, on
// which everything rests, then what several parts share, then the rest.
func readings() (order []rules.SignID) {
	var used [rules.NumSigns]bool
	add := func(ids ...rules.SignID) {
		for _, id := range ids {
			if !used[id] && id != rules.SignBacking {
				used[id] = true
				order = append(order, id)
			}
		}
	}
	add(rules.Parts[rules.PartRecord].Inputs()...)
	add(rules.SignFrozen, rules.SignOpened, rules.SignCloud, rules.SignBody)
	for p := range rules.Parts {
		add(rules.Parts[p].Inputs()...)
	}
	return
}

func newTree() *tree {
	t := &tree{order: readings()}
	var sizes []int
	for v, id := range t.order {
		t.at[id] = v
		sizes = append(sizes, len(id.Info().Values))
	}
	t.g = mdd.New(sizes)
	conditions := func(r *rules.Rule) (box []mdd.Condition, backing uint16) {
		for _, c := range r.When {
			var set uint16
			for i, v := range c[0].Sign().Info().Values {
				for _, w := range c {
					if v.Value == w {
						set |= 1 << i
					}
				}
			}
			if id := c[0].Sign(); id == rules.SignBacking {
				backing = set
			} else {
				box = append(box, mdd.Condition{Variable: t.at[id], Values: set})
			}
		}
		return
	}
	t.support = mdd.Node(rules.Discard)
	for i := range rules.Parts[rules.PartRecord].Rules {
		if r := &rules.Parts[rules.PartRecord].Rules[i]; r.Kind == rules.Support {
			box, _ := conditions(r)
			t.support = t.g.Min(t.support, t.g.All(box, mdd.Node(r.Then), mdd.Node(rules.Discard)))
		}
	}
	tested := t.g.Map(t.support, func(v int) int {
		if rules.Verdict(v) == rules.Keep {
			return 1
		}
		return 0
	})
	t.verdict = t.support
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			if r.Kind != rules.Restriction {
				continue
			}
			box, backing := conditions(r)
			n := t.g.All(box, mdd.Node(r.Then), 0)
			switch backing {
			case 1 << 0:
				n = t.g.Choose(tested, n, 0)
			case 1 << 1:
				n = t.g.Choose(tested, 0, n)
			}
			t.parts[p] = t.g.Max(t.parts[p], n)
		}
		t.verdict = t.g.Max(t.verdict, t.parts[p])
	}
	return t
}

// reach gives the lowest and the highest verdict that completions reach, exactly.
func (t *tree) reach(s rules.Situation) (lowest, highest rules.Verdict) {
	sets := make([]uint16, len(t.order))
	for v, id := range t.order {
		sets[v] = uint16(s[id])
	}
	reached := t.g.Reach(t.verdict, sets)
	for _, v := range rules.Verdicts {
		if reached>>v&1 != 0 {
			if lowest == 0 {
				lowest = v
			}
			highest = v
		}
	}
	return
}

// The ceilings are half as much again as the diagrams were when they were set.
// A tree that grows past them is a decision to be seen, not to be slid into.
var ceilings = map[string]int{"support": 42, "record": 12, "outside": 68, "liquid": 72, "colour": 125, "deposit": 63, "storage": 54, "opening": 50, "opened": 15, "the whole": 2970}

// The whole space is counted, not sampled, and the diagrams stay small enough
// to be proved over.
func TestProveTreeIsCountedAndSmall(t *testing.T) {
	tree := newTree()
	total := big.NewInt(1)
	for _, id := range tree.order {
		total.Mul(total, big.NewInt(int64(len(id.Info().Values))))
	}
	counts := tree.g.Count(tree.verdict)
	sum := new(big.Int)
	for _, v := range rules.Verdicts {
		if counts[v].Sign() <= 0 {
			t.Errorf("no situation is %v", v)
		}
		sum.Add(sum, counts[v])
	}
	if sum.Cmp(total) != 0 {
		t.Errorf("%v situations have a verdict, of %v", sum, total)
	}
	t.Logf("%v situations of %d signs: keep %v, use soon %v, discard %v", total, len(tree.order), counts[rules.Keep], counts[rules.UseSoon], counts[rules.Discard])
	small := func(name string, n mdd.Node) {
		nodes := tree.g.Nodes(n)
		t.Logf("%s: %d nodes", name, nodes)
		if nodes > ceilings[name] {
			t.Errorf("%s has %d nodes, its ceiling is %d", name, nodes, ceilings[name])
		}
	}
	small("support", tree.support)
	for p := range rules.Parts {
		small(rules.Parts[p].ID, tree.parts[p])
	}
	small("the whole", tree.verdict)
}

// Every sign can change the verdict, and every value of it means something: no
// value is, in all situations, the same as the value a sound jar shows, unless a
// note tells them apart.
func TestProveEverySignAndValueMatters(t *testing.T) {
	tree := newTree()
	for v, id := range tree.order {
		kids := map[mdd.Node][]string{}
		for i, value := range id.Info().Values {
			n := tree.g.Fix(tree.verdict, v, i)
			kids[n] = append(kids[n], value.ID)
		}
		if len(kids) == 1 {
			t.Errorf("%s never changes a verdict", id.ID())
		}
		for _, same := range kids {
			if slices.Contains(same, id.Info().Sound.ID()) && len(same) > 1 && !toldApart(id, same) {
				t.Errorf("%s: %v are the same in every situation", id.ID(), same)
			}
		}
	}
}

// toldApart tells whether notes or missing-support rules name the values
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
	tree := newTree()
	n := 0
	for p := range rules.Parts {
		if p == rules.PartRecord && testing.Short() {
			continue
		}
		n += eachSituation(t, &rules.Parts[p], func(s rules.Situation) {
			o := rules.Evaluate(s)
			if lowest, highest := tree.reach(s); lowest != o.Lowest || highest != o.Highest {
				t.Fatalf("the diagram says %v..%v, the engine %v..%v: %v", lowest, highest, o.Lowest, o.Highest, describe(s))
			}
		})
	}
	r := rand.New(rand.NewPCG(20, 26))
	exact, partial := 0, 0
	for range 60000 {
		s := soundJar(t)
		for _, id := range tree.order {
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
		lowest, highest := tree.reach(s)
		partial++
		if o.Lowest > lowest || o.Highest < highest {
			t.Fatalf("the engine says %v..%v, exactly it is %v..%v: %v", o.Lowest, o.Highest, lowest, highest, describe(s))
		}
		if o.Lowest == lowest && o.Highest == highest {
			exact++
		}
	}
	t.Logf("%d situations of the parts equal; of %d partial ones drawn over all signs the interval is exact in %.2f %%", n, partial, 100*float64(exact)/float64(partial))
}

func BenchmarkTree(b *testing.B) {
	for b.Loop() {
		newTree()
	}
}

func BenchmarkReach(b *testing.B) {
	tree := newTree()
	s := rules.NewSituation()
	for b.Loop() {
		tree.reach(s)
	}
}
