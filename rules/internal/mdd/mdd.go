// Package mdd builds decision diagrams over variables of several values: a
// graph in which every path from the root tests each variable at most once, in
// one order, and ends at a small number. Equal functions are the same node, so
// comparing two is comparing two numbers, and counting or bounding a function
// over a space of any size takes one pass over its nodes.
package mdd

import "math/big"

// Node is a function, as a node of a Graph. Nodes below Terminals are the
// constant functions.
type Node int32

// Terminals is how many constants there are: 0 to Terminals-1.
const Terminals = 8

// MaxValues is how many values a variable may have.
const MaxValues = 16

// Graph holds diagrams over one list of variables. The zero Graph is not
// usable; make one with New. It is not safe for use by several goroutines.
type Graph struct {
	sizes  []int
	nodes  []node
	unique map[string]Node
	larger []larger
	chosen map[[3]Node]Node
	block  []Node // what the kids of further nodes are stored in
}

// larger is what Max found of two nodes. Each pair has one place, which it may lose to
// another: it is then worked out again.
type larger struct{ a, b, is Node }

// places is the binary logarithm of how many pairs Max remembers.
const places = 15

// node tests a variable; kids holds what follows from each of its values.
type node struct {
	variable int
	kids     []Node
}

// New makes a graph over variables that have the given numbers of values, at
// most MaxValues each, tested in the order given.
func New(sizes []int) *Graph {
	g := &Graph{sizes: sizes, unique: map[string]Node{}, larger: make([]larger, 1<<places), chosen: map[[3]Node]Node{}}
	for range Terminals {
		g.nodes = append(g.nodes, node{variable: len(sizes)})
	}
	return g
}

// make returns the node that tests a variable, or what follows if the value of
// the variable makes no difference. It does not keep kids: most nodes that are asked
// for exist.
func (g *Graph) make(variable int, kids []Node) Node {
	same := true
	key := make([]byte, 0, 4*MaxValues+2)
	key = append(key, byte(variable), byte(variable>>8))
	for _, k := range kids {
		same = same && k == kids[0]
		key = append(key, byte(k), byte(k>>8), byte(k>>16), byte(k>>24))
	}
	if same {
		return kids[0]
	}
	if n, ok := g.unique[string(key)]; ok {
		return n
	}
	if cap(g.block)-len(g.block) < len(kids) {
		g.block = make([]Node, 0, 4096)
	}
	from := len(g.block)
	g.block = append(g.block, kids...)
	n := Node(len(g.nodes))
	g.nodes = append(g.nodes, node{variable, g.block[from:len(g.block):len(g.block)]})
	g.unique[string(key)] = n
	return n
}

// Condition is a set of values of one variable.
type Condition struct {
	Variable int
	Values   uint16
}

// All returns the function that is yes where all conditions hold and no
// elsewhere. The conditions are on different variables, in any order.
func (g *Graph) All(conditions []Condition, yes, no Node) Node {
	result := yes
	for v := len(g.sizes) - 1; v >= 0; v-- {
		for _, c := range conditions {
			if c.Variable != v {
				continue
			}
			var room [MaxValues]Node
			kids := room[:g.sizes[v]]
			for i := range kids {
				kids[i] = no
				if c.Values>>i&1 != 0 {
					kids[i] = result
				}
			}
			result = g.make(v, kids)
		}
	}
	return result
}

// kid is what follows from a value of a variable, even if the node does not test
// it.
func (g *Graph) kid(n Node, variable, value int) Node {
	if g.nodes[n].variable != variable {
		return n
	}
	return g.nodes[n].kids[value]
}

// Max returns the function that is the larger of two everywhere.
func (g *Graph) Max(a, b Node) Node {
	switch {
	case a == b:
		return a
	case a < Terminals && b < Terminals:
		return max(a, b)
	}
	a, b = min(a, b), max(a, b)
	found := &g.larger[(uint32(a)*0x9e3779b1^uint32(b)*0x85ebca6b)>>(32-places)] // any odd numbers scatter
	if found.a == a && found.b == b {                                            // of an empty place both are 0
		return found.is
	}
	v := min(g.nodes[a].variable, g.nodes[b].variable)
	var room [MaxValues]Node
	kids := room[:g.sizes[v]]
	for i := range kids {
		kids[i] = g.Max(g.kid(a, v, i), g.kid(b, v, i))
	}
	*found = larger{a, b, g.make(v, kids)}
	return found.is
}

// MaxOf returns the function that is the largest of several everywhere, 0 of none. In
// halves, fewer nodes come up on the way than one after the other.
func (g *Graph) MaxOf(nodes []Node) Node {
	switch half := len(nodes) / 2; len(nodes) {
	case 0:
		return 0
	case 1:
		return nodes[0]
	default:
		return g.Max(g.MaxOf(nodes[:half]), g.MaxOf(nodes[half:]))
	}
}

// Min returns the function that is the smaller of two everywhere. With the
// constants at both ends fixed it is Max upside down, so it is made of it.
func (g *Graph) Min(a, b Node) Node {
	flip := func(n Node) Node { return g.Map(n, func(t int) int { return Terminals - 1 - t }) }
	return flip(g.Max(flip(a), flip(b)))
}

// Map changes the constants of a function.
func (g *Graph) Map(n Node, change func(int) int) Node {
	return g.rebuild(n, func(n Node) (Node, bool) {
		if n < Terminals {
			return Node(change(int(n))), true
		}
		return 0, false
	})
}

// rebuild puts other nodes into a function: replace gives the one that stands in
// for a node, or false where it stays and those below it are looked at.
func (g *Graph) rebuild(n Node, replace func(Node) (Node, bool)) Node {
	done := map[Node]Node{}
	var walk func(Node) Node
	walk = func(n Node) Node {
		if m, ok := replace(n); ok {
			return m
		}
		if m, ok := done[n]; ok {
			return m
		}
		var room [MaxValues]Node
		kids := room[:len(g.nodes[n].kids)]
		for i, k := range g.nodes[n].kids {
			kids[i] = walk(k)
		}
		m := g.make(g.nodes[n].variable, kids)
		done[n] = m
		return m
	}
	return walk(n)
}

// Choose returns the function that is yes where test is 1 and no where it is 0.
func (g *Graph) Choose(test, yes, no Node) Node {
	switch {
	case test == 1 || yes == no:
		return yes
	case test == 0:
		return no
	}
	key := [3]Node{test, yes, no}
	if n, ok := g.chosen[key]; ok {
		return n
	}
	v := min(g.nodes[test].variable, g.nodes[yes].variable, g.nodes[no].variable)
	var room [MaxValues]Node
	kids := room[:g.sizes[v]]
	for i := range kids {
		kids[i] = g.Choose(g.kid(test, v, i), g.kid(yes, v, i), g.kid(no, v, i))
	}
	n := g.make(v, kids)
	g.chosen[key] = n
	return n
}

// Fix returns the function with one variable set to a value.
func (g *Graph) Fix(n Node, variable, value int) Node {
	return g.rebuild(n, func(n Node) (Node, bool) {
		switch at := g.nodes[n].variable; {
		case at > variable:
			return n, true
		case at == variable:
			return g.nodes[n].kids[value], true
		}
		return 0, false
	})
}

// Count returns, for every constant, how many combinations of values the
// function takes it for.
func (g *Graph) Count(n Node) (counts [Terminals]*big.Int) {
	done := map[Node][Terminals]*big.Int{}
	// below counts over the variables from one on.
	var below func(Node, int) [Terminals]*big.Int
	below = func(n Node, from int) [Terminals]*big.Int {
		c, ok := done[n]
		if !ok {
			for t := range c {
				c[t] = new(big.Int)
			}
			if n < Terminals {
				c[n].SetInt64(1)
			} else {
				for _, k := range g.nodes[n].kids {
					for t, more := range below(k, g.nodes[n].variable+1) {
						c[t].Add(c[t], more)
					}
				}
			}
			done[n] = c
		}
		free := big.NewInt(1)
		for v := from; v < g.nodes[n].variable; v++ {
			free.Mul(free, big.NewInt(int64(g.sizes[v])))
		}
		var scaled [Terminals]*big.Int
		for t := range c {
			scaled[t] = new(big.Int).Mul(c[t], free)
		}
		return scaled
	}
	return below(n, 0)
}

// Nodes counts the nodes of one function, constants left out.
func (g *Graph) Nodes(n Node) int {
	seen := map[Node]bool{}
	var walk func(Node)
	walk = func(n Node) {
		if n < Terminals || seen[n] {
			return
		}
		seen[n] = true
		for _, k := range g.nodes[n].kids {
			walk(k)
		}
	}
	walk(n)
	return len(seen)
}

// Witness returns values for which two functions differ, or nil when they are
// the same. Variables that make no difference are 0.
func (g *Graph) Witness(a, b Node) []int {
	if a == b {
		return nil
	}
	values := make([]int, len(g.sizes))
	for a >= Terminals || b >= Terminals {
		v := min(g.nodes[a].variable, g.nodes[b].variable)
		for i := range g.sizes[v] {
			if ka, kb := g.kid(a, v, i), g.kid(b, v, i); ka != kb {
				values[v], a, b = i, ka, kb
				break
			}
		}
	}
	return values
}
