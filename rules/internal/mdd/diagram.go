package mdd

import "math/bits"

// Diagram is one function of a graph, laid out for reading: children come
// before their parents, so that one pass over the nodes answers a question.
type Diagram struct {
	nodes []node
	root  Node
}

// Compact lays out one function. The diagram never changes and may be read by
// several goroutines.
func (g *Graph) Compact(n Node) *Diagram {
	d := &Diagram{nodes: make([]node, Terminals)}
	place := map[Node]Node{}
	var walk func(Node) Node
	walk = func(n Node) Node {
		if n < Terminals {
			return n
		}
		if m, ok := place[n]; ok {
			return m
		}
		kids := make([]Node, len(g.nodes[n].kids))
		for i, k := range g.nodes[n].kids {
			kids[i] = walk(k)
		}
		m := Node(len(d.nodes))
		d.nodes = append(d.nodes, node{g.nodes[n].variable, kids})
		place[n] = m
		return m
	}
	d.root = walk(n)
	return d
}

// Reach returns the constants that the function takes where every variable lies
// in its set: bit i stands for the constant i.
func (d *Diagram) Reach(sets []uint16) uint8 {
	reached := make([]uint8, len(d.nodes))
	for t := range Terminals {
		reached[t] = 1 << t
	}
	for n := Terminals; n < len(d.nodes); n++ {
		at := &d.nodes[n]
		for set := sets[at.variable]; set != 0; set &= set - 1 {
			reached[n] |= reached[at.kids[bits.TrailingZeros16(set)]]
		}
	}
	return reached[d.root]
}

// Chances returns, for each constant, how likely the function takes it where every
// variable lies in its set and its values come up by their weights,
// independently of each other. Weights are above zero.
func (d *Diagram) Chances(sets []uint16, weights [][]float64) [Terminals]float64 {
	chances := make([][Terminals]float64, len(d.nodes))
	for t := range Terminals {
		chances[t][t] = 1
	}
	for n := Terminals; n < len(d.nodes); n++ {
		at, c := &d.nodes[n], &chances[n]
		total := 0.0
		for set := sets[at.variable]; set != 0; set &= set - 1 {
			value := bits.TrailingZeros16(set)
			w := weights[at.variable][value]
			total += w
			for t, p := range chances[at.kids[value]] {
				c[t] += p * w
			}
		}
		for t := range c {
			c[t] /= total
		}
	}
	return chances[d.root]
}
