package rules

import (
	"cmp"
	"slices"
)

// match is a product with the best of its names.
type match struct {
	at        int // in the catalog
	cost      int
	guessed   bool  // by a word that may be misspelled
	uncovered []int // words of the query, by place
}

// matches returns the products that have a word of the query in a name, each by
// the name that fits best, in shelf order.
func (ix *index) matches(q *asked) (found []match) {
	best := make([]int, len(Catalog)) // place in found, counted from 1
	tried := make([]bool, len(ix.names))
	try := func(fits []uint8) {
		for w, cost := range fits {
			if cost == noFit {
				continue
			}
			for _, k := range ix.having[w] {
				if tried[k] {
					continue
				}
				tried[k] = true
				m, ok := ix.match(q, k)
				switch i := best[m.at]; {
				case !ok:
				case i == 0:
					found = append(found, m)
					best[m.at] = len(found)
				case m.cost < found[i-1].cost:
					found[i-1] = m
				}
			}
		}
	}
	for i := range q.words {
		if q.words[i].kind == plainWord {
			try(q.fits[i])
		}
		try(q.pairs[i])
	}
	slices.SortStableFunc(found, func(a, b match) int { return cmp.Compare(a.at, b.at) })
	return
}

// match compares a name of a product with the query.
func (ix *index) match(q *asked, k int) (m match, ok bool) {
	n := &ix.names[k]
	at := n.at
	m.at = at
	var taken [longestQuery]bool // words of the query
	var used [longestQuery]bool  // words of the name
	strong, spare := 0, 0        // words matched, and of the name unmatched, that say which food it is
	made := false                // a word matched that says what was made of it
	head := false                // the same, and the name says no more
	begun := false               // the last word is only the beginning of one
	last := -1
	many := len(q.words) > 1
	take := func(i, j int, cost int) {
		w := &q.words[i]
		taken[i], used[j] = true, true
		m.cost += cost
		m.guessed = m.guessed || cost >= costSound
		begun = begun || cost == costPrefix
		if w.kind == plainWord && (cost <= costTypo+costPrefix || len(w.text) > 6) {
			if w.in&isWeak == 0 {
				strong++
			}
			if w.in&isHead != 0 {
				head, made = true, true
			}
		}
		if j < last {
			m.cost += costOrder
		}
		last = j
	}
	for i := range q.words {
		w := &q.words[i]
		if w.kind > fillWord || taken[i] {
			continue
		}
		best, where, two := noFit, -1, false
		final := i == len(q.words)-1 && w.in&isMade != 0
		for j := range n.words {
			if used[j] || j >= longestQuery || final && !ix.ends(n, j) || w.added && j < last {
				continue // "relish with onions" is no onion relish
			}
			if c := int(q.fits[i][n.words[j]]); c < best {
				best, where, two = c, j, false
			}
			if i+1 < len(q.words) && q.pairs[i] != nil && !taken[i+1] {
				if c := int(q.pairs[i][n.words[j]]); c != noFit && c+costJoined < best {
					best, where, two = c+costJoined, j, true
				}
			}
		}
		if best == noFit || best == costLonger {
			continue
		}
		take(i, where, best)
		if two {
			taken[i+1] = true
		}
	}
	for i := range q.words {
		w := &q.words[i]
		if taken[i] {
			continue
		}
		if w.kind == fillWord {
			m.cost += costIdle // a name that has the word comes first
			continue
		}
		if w.kind == absent {
			if ix.covers(q, at, n, i) {
				continue
			}
		} else if ix.says(q, at, n, i, used[:]) {
			m.cost += costSame
			continue
		}
		m.uncovered = append(m.uncovered, i)
		switch {
		case w.kind == absent:
			m.cost += costLonger
		case ix.longer(q, n, i, used[:len(n.words)]):
			m.cost += costLonger
			strong++
		case ix.common(w.text):
			m.cost += costCommon
		default:
			m.cost += costMissing
		}
	}
	if last < 0 {
		return m, false
	}
	for j := range n.words {
		switch {
		case used[j] || j >= longestQuery:
		case n.idle[j]:
			m.cost += costIdle
		case made && ix.vocabulary[n.words[j]].in&isMade != 0:
			m.cost += costIdle // "jelly or jam"
		case ix.vocabulary[n.words[j]].in&isMade != 0:
			m.cost += costMade
			head = false
		case ix.vocabulary[n.words[j]].light() && many && !begun:
			m.cost += 2 * costSpare
			head = false
		case ix.vocabulary[n.words[j]].light() || len(m.uncovered) == 0 && (!many || begun):
			m.cost += costSpare
			if head = false; !ix.vocabulary[n.words[j]].light() {
				spare++
			}
		default:
			m.cost += costOther
			head = false
			if !ix.vocabulary[n.words[j]].light() {
				spare++
			}
		}
	}
	if !head && spare >= strong && (len(m.uncovered) > 0 || strong == 0 && spare > 0 && !begun && !made) {
		return m, false // no more than a word in common
	}
	for _, w := range n.without {
		if !q.lacks(ix.vocabulary[w].text) {
			m.cost += costSpare
		}
	}
	if n.alias && !m.guessed {
		m.cost += costAlias // of two guesses the stricter food comes first
	}
	return m, true
}

// ends reports whether nothing follows word j of a name but other things that were
// made: a pie is not what "pie cherries" are.
func (ix *index) ends(n *indexed, j int) bool {
	for k := j + 1; k < len(n.words); k++ {
		if !n.idle[k] && ix.vocabulary[n.words[k]].in&isMade == 0 {
			return false
		}
	}
	return true
}

// common reports whether a word stands in so many names that it says little
// about which is meant.
func (ix *index) common(text string) bool {
	i, ok := ix.at[text]
	return ok && ix.vocabulary[i].names >= commonWord
}

// longer reports whether a word of the query may be the beginning of a word of
// the name.
func (ix *index) longer(q *asked, n *indexed, i int, used []bool) bool {
	for j, w := range n.words {
		if q.fits[i][w] == costLonger {
			used[j] = true
			return true
		}
	}
	return false
}

// says reports whether a word that the name does not have is still part of the
// product: it says how the food was cut, or is in another name of the product
// that shares a word with this one ("Bartlett" and "halves" of pears).
func (ix *index) says(q *asked, at int, n *indexed, i int, used []bool) bool {
	w := &q.words[i]
	if harmless(w.text) || ofGroup(Catalog[at].Group, w.text) {
		return true
	}
	for j := range n.words {
		if !used[j] && !n.idle[j] {
			return false // this name says more itself
		}
	}
	for k := ix.of[at][0]; k < ix.of[at][1]; k++ {
		other := &ix.names[k]
		if other == n {
			continue
		}
		shares, has := false, false
		for j, v := range other.words {
			has = has || !other.idle[j] && q.fits[i][v] <= costSame
			for j, mine := range n.words {
				shares = shares || used[j] && mine == v && ix.vocabulary[v].in&isMade == 0
			}
		}
		if shares && has {
			return true
		}
	}
	return false
}

// covers reports whether a product also stands for one that lacks something. No
// product covers missing acid; sugar and salt are part of what preserves some
// foods; anything else that is left out changes nothing, unless it is the food
// itself.
func (ix *index) covers(q *asked, at int, n *indexed, i int) bool {
	w := &q.words[i]
	if w.acid {
		return false
	}
	for _, v := range n.without {
		if ix.vocabulary[v].text == w.text {
			return true
		}
	}
	for _, v := range n.words {
		if ix.vocabulary[v].text == w.text {
			return false
		}
	}
	switch p := &Catalog[at]; w.text {
	case "sugar", "sweetener":
		return p.Group != GroupJam && p.Group != GroupForaged && p.Keeps != KeepsJam && p.Keeps != KeepsReduced
	case "salt", "brine", "cure":
		return p.Group != GroupPickle && p.Group != GroupForaged && p.Group != GroupCured
	}
	return ix.knows(w.text) || isKnownWord(w.text) || harmless(w.text)
}

// lacks reports whether the query says that something is not in it.
func (q *asked) lacks(text string) bool {
	return slices.ContainsFunc(q.words, func(w said) bool { return w.kind == absent && w.text == text })
}
