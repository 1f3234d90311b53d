package mdd_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"larderlamp/rules/internal/mdd"
)

// table is a function given value by value, to compare diagrams with.
type table struct {
	sizes  []int
	values []int
}

func (f *table) at(point []int) int {
	i := 0
	for v, p := range point {
		i = i*f.sizes[v] + p
	}
	return f.values[i]
}

// points calls f with every combination of values.
func points(sizes []int, f func([]int)) {
	point := make([]int, len(sizes))
	var walk func(int)
	walk = func(v int) {
		if v == len(sizes) {
			f(point)
			return
		}
		for point[v] = range sizes[v] {
			walk(v + 1)
		}
	}
	walk(0)
}

// random makes a function out of boxes, and the same as a table.
func random(g *mdd.Graph, sizes []int, r *rand.Rand) (mdd.Node, *table) {
	n := 1
	for _, s := range sizes {
		n *= s
	}
	f := &table{sizes, make([]int, n)}
	node := mdd.Node(0)
	for range 1 + r.IntN(6) {
		to := r.IntN(4)
		var box []mdd.Condition
		for v, s := range sizes {
			if r.IntN(2) == 0 {
				box = append(box, mdd.Condition{Variable: v, Values: uint16(1 + r.IntN(1<<s-1))})
			}
		}
		r.Shuffle(len(box), func(i, j int) { box[i], box[j] = box[j], box[i] })
		node = g.Max(node, g.All(box, mdd.Node(to), 0))
		i := 0
		points(sizes, func(p []int) {
			inside := true
			for _, c := range box {
				inside = inside && c.Values>>p[c.Variable]&1 != 0
			}
			if inside {
				f.values[i] = max(f.values[i], to)
			}
			i++
		})
	}
	return node, f
}

func sets(point []int) (s []uint16) {
	for _, p := range point {
		s = append(s, 1<<p)
	}
	return
}

// Every operation agrees with the tables at every point.
func TestOperationsAgreeWithTables(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		sizes := []int{2, 3, 4, 2}
		g := mdd.New(sizes)
		a, fa := random(g, sizes, r)
		b, fb := random(g, sizes, r)
		test := g.Map(a, func(c int) int { return c & 1 })
		v := r.IntN(len(sizes))
		to := r.IntN(sizes[v])
		least, largest, chosen, fixed := g.Min(a, b), g.Max(a, b), g.Choose(test, a, b), g.Fix(a, v, to)
		var counts [mdd.Terminals]int64
		points(sizes, func(p []int) {
			x, y := fa.at(p), fb.at(p)
			counts[x]++
			for name, c := range map[string]struct {
				node mdd.Node
				want int
			}{
				"a": {a, x}, "max": {largest, max(x, y)}, "min": {least, min(x, y)},
				"choose": {chosen, map[bool]int{true: x, false: y}[x&1 == 1]},
			} {
				if got := g.Compact(c.node).Reach(sets(p)); got != 1<<c.want {
					t.Fatalf("%s at %v: got %08b, want %d", name, p, got, c.want)
				}
			}
			q := append([]int{}, p...)
			q[v] = to
			if got := g.Compact(fixed).Reach(sets(p)); got != 1<<fa.at(q) {
				t.Fatalf("fix at %v: got %08b", p, got)
			}
		})
		for c, n := range g.Count(a) {
			if n.Int64() != counts[c] {
				t.Fatalf("got a count of %v for %d, want %d", n, c, counts[c])
			}
		}
		if w := g.Witness(a, b); w == nil {
			for i := range fa.values {
				if fa.values[i] != fb.values[i] {
					t.Fatal("different functions have no witness")
				}
			}
		} else if fa.at(w) == fb.at(w) {
			t.Fatalf("at the witness %v: got %d from both functions, want two values", w, fa.at(w))
		}
		// Over sets, Reach gives exactly what some point of them gives.
		s := make([]uint16, len(sizes))
		for i := range s {
			s[i] = uint16(1 + r.IntN(1<<sizes[i]-1))
		}
		var want uint8
		points(sizes, func(p []int) {
			inside := true
			for i := range p {
				inside = inside && s[i]>>p[i]&1 != 0
			}
			if inside {
				want |= 1 << fa.at(p)
			}
		})
		d := g.Compact(a)
		if got := d.Reach(s); got != want {
			t.Fatalf("over %v: got %08b, want %08b", s, got, want)
		}
		weights := make([][]float64, len(sizes))
		for i := range weights {
			for range sizes[i] {
				weights[i] = append(weights[i], 0.1+r.Float64())
			}
		}
		inside, hits := 0.0, [mdd.Terminals]float64{}
		points(sizes, func(p []int) {
			for i := range p {
				if s[i]>>p[i]&1 == 0 {
					return
				}
			}
			w := 1.0
			for i := range p {
				w *= weights[i][p[i]]
			}
			inside += w
			hits[fa.at(p)] += w
		})
		for c, share := range d.Chances(s, weights) {
			if math.Abs(share-hits[c]/inside) > 1e-12 {
				t.Fatalf("chance of %d over %v: got %v, want %v", c, s, share, hits[c]/inside)
			}
		}
	}
}

// Equal functions are one node, however they were made.
func TestEqualFunctionsAreOneNode(t *testing.T) {
	g := mdd.New([]int{3, 3})
	a := g.All([]mdd.Condition{{Variable: 0, Values: 0b001}}, 1, 0)
	b := g.All([]mdd.Condition{{Variable: 0, Values: 0b110}}, 1, 0)
	if g.Max(a, b) != 1 || g.Max(b, a) != 1 {
		t.Error("a function and its complement together are not everywhere 1")
	}
	if g.Nodes(a) != 1 || g.Nodes(1) != 0 {
		t.Errorf("got %d and %d nodes", g.Nodes(a), g.Nodes(1))
	}
}

// Placing queens that do not threaten each other has known numbers of
// solutions: for boards of 4 to 7 they are 2, 10, 4 and 40 (common knowledge of
// the field, no source).
func TestQueens(t *testing.T) {
	for size, want := range map[int]int64{4: 2, 5: 10, 6: 4, 7: 40} {
		sizes := make([]int, size)
		for i := range sizes {
			sizes[i] = size
		}
		g := mdd.New(sizes)
		threat := mdd.Node(0)
		for a := range size {
			for b := a + 1; b < size; b++ {
				for x := range size {
					var hit uint16
					for y := range size {
						if d := x - y; d == 0 || d == b-a || d == a-b {
							hit |= 1 << y
						}
					}
					threat = g.Max(threat, g.All([]mdd.Condition{{Variable: a, Values: 1 << x}, {Variable: b, Values: hit}}, 1, 0))
				}
			}
		}
		if got := g.Count(threat)[0].Int64(); got != want {
			t.Errorf("%d queens: got %d ways, want %d", size, got, want)
		}
	}
}
