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

// fork returns the first node that has several ways on, or the constant to which the
// single way leads: as long as a variable has one value in its set, there is no other.
func (d *Diagram) fork(sets []uint16) Node {
	n := d.root
	for n >= Terminals {
		at := &d.nodes[n]
		set := sets[at.variable]
		if set&(set-1) != 0 {
			break
		}
		n = at.kids[bits.TrailingZeros16(set)]
	}
	return n
}

// Reach returns the constants that the function takes where every variable lies
// in its set: bit i stands for the constant i.
func (d *Diagram) Reach(sets []uint16) uint8 {
	from := d.fork(sets)
	if from < Terminals {
		return 1 << from
	}
	// Only what the sets lead to is looked at, which is little of the diagram when most
	// is known.
	reached := make([]bool, from+1)
	reached[from] = true
	for n := from; n >= Terminals; n-- {
		if !reached[n] {
			continue
		}
		at := &d.nodes[n]
		for set := sets[at.variable]; set != 0; set &= set - 1 {
			reached[at.kids[bits.TrailingZeros16(set)]] = true
		}
	}
	var constants uint8
	for t := range Terminals {
		if reached[t] {
			constants |= 1 << t
		}
	}
	return constants
}

// Chances returns, for each constant, how likely the function takes it where every
// variable lies in its set and its values come up by their weights,
// independently of each other. Weights are above zero.
func (d *Diagram) Chances(sets []uint16, weights [][]float64) (constants [Terminals]float64) {
	// How likely each node is reached.
	from := d.fork(sets)
	chances := make([]float64, max(from+1, Terminals))
	chances[from] = 1
	for n := from; n >= Terminals; n-- {
		if chances[n] == 0 {
			continue
		}
		at := &d.nodes[n]
		set, of := sets[at.variable], weights[at.variable]
		total := 0.0
		for rest := set; rest != 0; rest &= rest - 1 {
			total += of[bits.TrailingZeros16(rest)]
		}
		for rest := set; rest != 0; rest &= rest - 1 {
			value := bits.TrailingZeros16(rest)
			chances[at.kids[value]] += chances[n] * of[value] / total
		}
	}
	copy(constants[:], chances)
	return constants
}
