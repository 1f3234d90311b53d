package rules

import (
	"math"
	"math/bits"
	"sync"

	"larderlamp/rules/internal/mdd"
)

// Tree is the whole rule base as one decision diagram over every sign. It gives
// the exact interval of a situation, where Evaluate gives bounds, and it can be
// asked about the whole space at once.
type Tree struct {
	Graph   *mdd.Graph
	Order   []SignID           // the sign behind each variable of the graph
	Parts   [NumParts]mdd.Node // the strictest restriction of each part, 0 for none
	Support mdd.Node           // the best support
	Verdict mdd.Node
	verdict *mdd.Diagram // Verdict, laid out for reading
	weights [][]float64  // how often the values come up, for choosing questions
}

// weight is how often a value is taken to come up when a question is chosen:
// nine jars in ten are taken to be sound in a sign, and how they were heated is
// taken to be anything. These are assumptions, from no source; they move
// questions about and can change no verdict.
func weight(id SignID, v Value) float64 {
	if id != SignMethod && !id.Fact() && v == Signs[id].Sound {
		return 9 * float64(len(Signs[id].Values)-1)
	}
	return 1
}

// treeOrder is the order in which the diagram tests the signs: the record, on
// which everything rests, then what several parts share, then the rest.
func treeOrder() (order []SignID) {
	var used [NumSigns]bool
	add := func(ids ...SignID) {
		for _, id := range ids {
			if !used[id] && id != SignBacking {
				used[id] = true
				order = append(order, id)
			}
		}
	}
	for p := range supportParts {
		add(Parts[p].Inputs()...)
	}
	add(SignFrozen, SignOpened, SignCloud, SignBody)
	for p := range Parts {
		add(Parts[p].Inputs()...)
	}
	return
}

// NewTree builds the diagram from the rules as they are written, not from the
// engine's tables.
func NewTree() *Tree {
	t := &Tree{Order: treeOrder()}
	var at [NumSigns]int
	var sizes []int
	for v, id := range t.Order {
		at[id] = v
		sizes = append(sizes, len(Signs[id].Values))
	}
	t.Graph = mdd.New(sizes)
	conditions := func(r *Rule) (box []mdd.Condition, backing Set) {
		backing = full[SignBacking]
		for _, c := range r.When {
			if id := c[0].Sign(); id == SignBacking {
				backing = setOf(c)
			} else {
				box = append(box, mdd.Condition{Variable: at[id], Values: uint16(setOf(c))})
			}
		}
		return
	}
	// The backing is the strongest that a matching support makes; its values
	// stand in that order.
	t.Support = mdd.Node(Discard)
	backing := mdd.Node(valueAt[BackingOther])
	for p := range Parts {
		for i := range Parts[p].Rules {
			if r := &Parts[p].Rules[i]; r.Kind.Supports() {
				box, _ := conditions(r)
				t.Support = t.Graph.Min(t.Support, t.Graph.All(box, mdd.Node(r.Then), mdd.Node(Discard)))
				backing = t.Graph.Min(backing, t.Graph.All(box, mdd.Node(valueAt[r.Backs()]), mdd.Node(valueAt[BackingOther])))
			}
		}
	}
	for p := range Parts {
		for i := range Parts[p].Rules {
			r := &Parts[p].Rules[i]
			if r.Kind != Restriction {
				continue
			}
			box, needs := conditions(r)
			n := t.Graph.All(box, mdd.Node(r.Then), 0)
			if needs != full[SignBacking] {
				n = t.Graph.Choose(t.Graph.Map(backing, func(v int) int { return int(needs >> v & 1) }), n, 0)
			}
			t.Parts[p] = t.Graph.Max(t.Parts[p], n)
		}
	}
	t.Verdict = t.Graph.MaxOf(append([]mdd.Node{t.Support}, t.Parts[:]...))
	t.verdict = t.Graph.Compact(t.Verdict)
	t.weights = make([][]float64, len(t.Order))
	for v, id := range t.Order {
		for _, value := range Signs[id].Values {
			t.weights[v] = append(t.weights[v], weight(id, value.Value))
		}
	}
	return t
}

// sets returns the possible values in the order of the graph's variables.
func (t *Tree) sets(s *Situation) []uint16 {
	sets := make([]uint16, len(t.Order))
	for v, id := range t.Order {
		sets[v] = uint16(s[id])
	}
	return sets
}

// Reach returns the lowest and the highest verdict that completions of the
// situation reach, exactly.
func (t *Tree) Reach(s Situation) (lowest, highest Verdict) {
	reached := t.verdict.Reach(t.sets(&s))
	return Verdict(bits.TrailingZeros8(reached)), Verdict(bits.Len8(reached) - 1)
}

// Doubt is how much is open about the verdict of a situation, in bits: 0 when it
// is settled. Completions count by the weights of their values.
func (t *Tree) Doubt(s Situation) float64 {
	doubt := 0.0
	for _, p := range t.verdict.Chances(t.sets(&s), t.weights) {
		if p > 0 {
			doubt -= p * math.Log2(p)
		}
	}
	return doubt
}

// wholeTree is built when it is first needed and never changes. Only the proofs ask its
// graph, which is several times as large as the diagram of the verdict.
var wholeTree = sync.OnceValue(func() *Tree {
	t := NewTree()
	t.Graph = nil
	return t
})

// Judge is Evaluate with the exact interval: what is shown to a person, where
// Evaluate is for judging many jars. The two differ only while several signs
// are open at once.
func Judge(s Situation) Outcome {
	o := Evaluate(s)
	if !o.Settled() {
		o.Lowest, o.Highest = wholeTree().Reach(s)
	}
	return o
}
