package rules

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"
	"sync"

	"larderlamp/rules/locale"
	"larderlamp/rules/order"
)

// Hit is a product that a search found.
type Hit struct {
	Product *Product
	// NotCovered is what was asked for and is not part of the product, in the
	// words of the query: “gravy” of “chicken in gravy” for plain chicken. While
	// there is any, the product must not be taken for the food that was named.
	NotCovered []string
}

// Search gives the products whose name or other names fit the query best, at
// most limit of them. It forgives spelling, accents, hyphens, plurals and word
// order, and words that change nothing ("grandma's", "7 pints", "raw pack"). A
// word that may change the food is never dropped in silence: see
// [Hit.NotCovered]. The empty query gives the catalogue in shelf order.
func Search(query string, limit int) []Hit {
	limit = max(limit, 0)
	if strings.TrimSpace(query) == "" {
		var all []Hit
		for i := range min(limit, len(Catalogue)) {
			all = append(all, Hit{Product: &Catalogue[i]})
		}
		return all
	}
	ix := sought()
	q := ix.read(query)
	if q == nil {
		return nil
	}
	return q.choose(ix.matches(q), limit)
}

// Costs of a fit, in points; fewer is better.
const (
	costAlias    = 1  // found by another name than its own
	costOrder    = 1  // right words in another order
	costJoined   = 1  // right letters, words split or joined differently
	costSame     = 2  // another word for the same thing, or another form of it
	costPrefix   = 3  // a word that only begins as asked
	costSound    = 4  // written otherwise, spoken the same
	costTypo     = 5  // for each letter wrong, missing, added or swapped
	costFirst    = 3  // the first letter is wrong: the rarest misspelling
	costSpare    = 10 // a word of the name that was not asked for
	costMade     = 25 // a word of the name that says what was made, and was not asked for: jam is not the fruit
	costIdle     = 1  // the same of a word that says little
	costOther    = 26 // the same when a word asked for is not covered: another food
	costCommon   = 20 // a word asked for, in many names, and not covered
	costMissing  = 24 // a word asked for and not covered
	costLonger   = 12 // the same when the word may only be unfinished
	commonWord   = 8  // names that make a word common
	farBehind    = 40 // a match that much worse than the best is not shown
	noFit        = 255
	longestQuery = 24 // words
)

// match is a product with the best of its names.
type match struct {
	at        int // in the catalogue
	cost      int
	guessed   bool  // by a word that may be misspelt
	uncovered []int // words of the query, by place
}

// choose orders the matches and keeps the best. Names that fit equally well come in shelf order; where a word is
// guessed or not covered, the stricter food comes first, so that a guess is
// never the milder one.
func (q *asked) choose(found []match, limit int) []Hit {
	order.By(found, func(a, b *match) bool {
		switch {
		case a.cost != b.cost:
			return a.cost < b.cost
		case len(a.uncovered) != len(b.uncovered):
			return len(a.uncovered) < len(b.uncovered)
		case a.guessed != b.guessed:
			return b.guessed
		case a.guessed || len(a.uncovered) > 0:
			return strictness(&Catalogue[a.at]) > strictness(&Catalogue[b.at])
		}
		return false
	})
	hits := make([]Hit, 0, min(limit, len(found)))
	for i := range found {
		if len(hits) == limit || found[i].cost > found[0].cost+farBehind || len(found[i].uncovered) > 0 && len(found[0].uncovered) == 0 {
			break
		}
		hits = append(hits, Hit{&Catalogue[found[i].at], q.phrases(found[i].uncovered)})
	}
	return hits
}

// strictness orders products by how much it takes to keep a jar of them.
func strictness(p *Product) int {
	n := 2 * int(p.Class)
	if p.Route == RouteNone {
		n++
	}
	return n
}

// indexed is a name cut into words.
type indexed struct {
	words   []int  // places in the vocabulary
	pairs   []int  // words i and i+1 joined, places in the vocabulary
	idle    []bool // words that need not be asked for
	without []int  // what the name says is not in it
	alias   bool
}

// index holds the names of the catalogue and each of their words once.
type index struct {
	vocabulary []entry
	at         map[string]int
	names      [][]indexed // by place in the catalogue
	having     [][]place   // the names that have a word of the vocabulary
}

// place is where a name stands: the product and which of its names.
type place struct{ at, name int }

// entry is a word of the vocabulary.
type entry struct {
	text    string
	letters uint32 // those in it, a bit each
	sound   string
	names   int  // products that have it
	alone   bool // it is a word by itself, not only two joined
	light   bool // it says little about which food it is
}

// searchIndex is made when something is first looked for. The maker is named
// where it is needed, so that a program without a search does not hold it.
var searchIndex struct {
	made sync.Once
	*index
}

func sought() *index {
	searchIndex.made.Do(func() { searchIndex.index = newIndex() })
	return searchIndex.index
}

func newIndex() *index {
	ix := &index{names: make([][]indexed, len(Catalogue)), at: map[string]int{}}
	for i := range Catalogue {
		p := &Catalogue[i]
		for j, name := range append([]string{p.Name}, p.Also...) {
			if locale.Foreign() {
				name = locale.Text(name)
			}
			if n := ix.name(name); len(n.words) > 0 {
				n.alias = j > 0
				ix.names[i] = append(ix.names[i], n)
			}
		}
	}
	ix.having = make([][]place, len(ix.vocabulary))
	for at, names := range ix.names {
		for k, n := range names {
			for _, w := range slices.Concat(n.words, n.pairs) {
				if had := ix.having[w]; len(had) == 0 || had[len(had)-1].at != at {
					ix.vocabulary[w].names++
				}
				ix.having[w] = append(ix.having[w], place{at, k})
			}
		}
	}
	return ix
}

// name reads a name of the catalogue.
func (ix *index) name(text string) (n indexed) {
	words := spoken(text)
	for i := range words {
		w := &words[i]
		switch w.kind {
		case idleWord:
		case absent:
			n.without = append(n.without, ix.word(w.text, true))
		default:
			n.words = append(n.words, ix.word(w.text, true))
			n.idle = append(n.idle, w.kind == fillWord || w.aside)
		}
	}
	for i := 1; i < len(n.words); i++ {
		n.pairs = append(n.pairs, ix.word(ix.vocabulary[n.words[i-1]].text+ix.vocabulary[n.words[i]].text, false))
	}
	return
}

// word gives the place of a word in the vocabulary.
func (ix *index) word(text string, alone bool) int {
	i, known := ix.at[text]
	if !known {
		i = len(ix.vocabulary)
		ix.at[text] = i
		light := filler(text) || harmless(text) || weak(text)
		ix.vocabulary = append(ix.vocabulary, entry{text: text, letters: lettersOf(text), sound: soundOf(text), light: light})
	}
	if alone {
		ix.vocabulary[i].alone = true
	}
	return i
}

// asked is a query that was read.
type asked struct {
	words []said
	fits  [][]uint8 // of each word with each of the vocabulary: cost or noFit
	pairs [][]uint8 // of word i and the next joined; nil when they are no pair
}

// read cuts a query into words and holds each against the vocabulary. It gives
// nil when the query names no food at all.
func (ix *index) read(query string) *asked {
	q := &asked{}
	names := false
	for _, w := range spoken(query) {
		if w.kind == noFood {
			return nil
		}
		if w.kind != idleWord && len(q.words) < longestQuery {
			q.words = append(q.words, w)
			names = names || w.kind == plainWord
		}
	}
	if !names {
		return nil // nothing but words that say little: "14 day", "summer"
	}
	last := len(q.words) - 1
	open := !strings.HasSuffix(query, " ")
	for i := range q.words {
		w := &q.words[i]
		q.fits = append(q.fits, ix.fit(w, open && i == last))
		q.pairs = append(q.pairs, nil)
		if i > 0 && w.at == q.words[i-1].at+1 && w.kind <= fillWord && q.words[i-1].kind <= fillWord {
			q.pairs[i-1] = ix.pair(q.words[i-1].text, w.text)
		}
	}
	return q
}

// fit gives the cost of a word against each word of the vocabulary. A word that
// is known, here or elsewhere, is never taken for a misspelt one.
func (ix *index) fit(w *said, unfinished bool) []uint8 {
	fits := slices.Repeat([]uint8{noFit}, len(ix.vocabulary))
	if i, ok := ix.at[w.text]; ok {
		fits[i] = 0
	}
	if w.kind == absent {
		return fits
	}
	for _, other := range sameWords(w.text) {
		if i, ok := ix.at[other]; ok {
			fits[i] = costSame
		}
	}
	whole := ix.knows(w.text) || elsewhere(w.text)
	known := whole
	if w.kind == fillWord {
		return fits
	}
	letters, sound := lettersOf(w.text), soundOf(w.text)
	most := tolerance(len(w.text))
	if unfinished && ix.begins(w.full) {
		known = true // rather unfinished than misspelt
	}
	for i := range ix.vocabulary {
		v := &ix.vocabulary[i]
		if fits[i] != noFit {
			continue
		}
		if unfinished && v.alone && len(v.text) > len(w.text) && strings.HasPrefix(v.text, w.full) {
			if !whole {
				fits[i] = costPrefix
			} else if len(w.text) > 2 {
				fits[i] = costLonger
			}
			continue
		}
		if known || most == 0 {
			continue
		}
		cost, most := noFit, most
		if !v.alone || v.light {
			most = 1
		}
		if len(v.text) < 4 {
			most = 0
		}
		if bits.OnesCount32(letters^v.letters) <= 2*most {
			if d := editDistance(w.text, v.text, most); d > 0 {
				cost = costTypo * d
				if v.text[0] != w.text[0] && sound[0] != v.sound[0] {
					if cost += costFirst; d > 1 {
						cost = noFit
					}
				}
			}
		}
		if sound == v.sound && v.alone && (len(sound) > 3 && editDistance(w.text, v.text, most+2) > 0 || cost == costTypo) {
			if cost == costTypo {
				cost = costSound
			} else {
				cost = costTypo + 1
			}
		}
		if unfinished && cost == noFit && v.alone && len(w.text) > 4 && len(v.text) > len(w.text) && v.text[0] == w.text[0] {
			if d := editDistance(w.text, v.text[:len(w.text)], 1); d > 0 {
				cost = costPrefix + costTypo*d
			}
		}
		fits[i] = uint8(min(cost, noFit))
	}
	return fits
}

// begins tells whether a word of the vocabulary goes on where this one ends.
func (ix *index) begins(text string) bool {
	return slices.ContainsFunc(ix.vocabulary, func(v entry) bool {
		return v.alone && len(v.text) > len(text) && strings.HasPrefix(v.text, text)
	})
}

// pair gives the cost of two words that may be one, split by mistake: "egg
// plant". Two words that are both known are one only letter by letter.
func (ix *index) pair(a, b string) []uint8 {
	known := func(w string) bool { return ix.knows(w) || elsewhere(w) || filler(w) || harmless(w) }
	joined := a + b
	i, exact := ix.at[joined]
	if !exact && (known(a) && known(b) || len(joined) < 7) {
		return nil
	}
	fits := slices.Repeat([]uint8{noFit}, len(ix.vocabulary))
	if exact {
		fits[i] = 0
		return fits
	}
	for i := range ix.vocabulary {
		if v := &ix.vocabulary[i]; v.alone && editDistance(joined, v.text, 1) == 1 {
			fits[i] = costTypo
		}
	}
	return fits
}

// knows tells whether the catalogue has that very word.
func (ix *index) knows(text string) bool {
	i, ok := ix.at[text]
	return ok && ix.vocabulary[i].alone
}

// matches gives the products that have a word of the query in a name, each by
// the name that fits best, in shelf order.
func (ix *index) matches(q *asked) (found []match) {
	best := make([]*match, len(Catalogue))
	tried := map[place]bool{}
	try := func(fits []uint8) {
		for w, cost := range fits {
			if cost == noFit {
				continue
			}
			for _, p := range ix.having[w] {
				if tried[p] {
					continue
				}
				tried[p] = true
				if m, ok := ix.match(q, p.at, p.name); ok && (best[p.at] == nil || m.cost < best[p.at].cost) {
					best[p.at] = &m
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
	for _, m := range best {
		if m != nil {
			found = append(found, *m)
		}
	}
	return
}

// match holds a name of a product against the query.
func (ix *index) match(q *asked, at, k int) (m match, ok bool) {
	n := &ix.names[at][k]
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
			if !weak(w.text) {
				strong++
			}
			if listsOf(w.text)&isHead != 0 {
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
		best, where, spread := noFit, -1, 0
		for j := range n.words {
			if used[j] || j >= longestQuery || i == len(q.words)-1 && makes(w.text) && !ix.ends(n, j) {
				continue
			}
			if c := int(q.fits[i][n.words[j]]); c < best {
				best, where, spread = c, j, 0
			}
			if j+1 < len(n.words) && !used[j+1] {
				if c := int(q.fits[i][n.pairs[j]]); c != noFit && c+costJoined < best {
					best, where, spread = c+costJoined, j, 1 // one word for two
				}
			}
			if i+1 < len(q.words) && q.pairs[i] != nil && !taken[i+1] {
				if c := int(q.pairs[i][n.words[j]]); c != noFit && c+costJoined < best {
					best, where, spread = c+costJoined, j, -1 // two words for one
				}
			}
		}
		if best == noFit || best == costLonger {
			continue
		}
		take(i, where, best)
		switch spread {
		case 1:
			used[where+1] = true
		case -1:
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
		case made && makes(ix.vocabulary[n.words[j]].text):
			m.cost += costIdle // "jelly or jam"
		case makes(ix.vocabulary[n.words[j]].text):
			m.cost += costMade
			head = false
		case ix.vocabulary[n.words[j]].light && many && !begun:
			m.cost += 2 * costSpare
			head = false
		case ix.vocabulary[n.words[j]].light || len(m.uncovered) == 0 && (!many || begun):
			m.cost += costSpare
			if head = false; !ix.vocabulary[n.words[j]].light {
				spare++
			}
		default:
			m.cost += costOther
			head = false
			if !ix.vocabulary[n.words[j]].light {
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

// ends tells whether nothing follows word j of a name but other things that were
// made: a pie is not what "pie cherries" are.
func (ix *index) ends(n *indexed, j int) bool {
	for k := j + 1; k < len(n.words); k++ {
		if !n.idle[k] && !makes(ix.vocabulary[n.words[k]].text) {
			return false
		}
	}
	return true
}

// common tells whether a word stands in so many names that it says little
// about which is meant.
func (ix *index) common(text string) bool {
	i, ok := ix.at[text]
	return ok && ix.vocabulary[i].names >= commonWord
}

// longer tells whether a word of the query may be the beginning of a word of
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

// says tells whether a word that the name does not have is still part of the
// product: it says how the food was cut, or is in another name of the product
// that shares a word with this one ("Bartlett" and "halves" of pears).
func (ix *index) says(q *asked, at int, n *indexed, i int, used []bool) bool {
	w := &q.words[i]
	if harmless(w.text) || ofGroup(Catalogue[at].Group, w.text) {
		return true
	}
	for j := range n.words {
		if !used[j] && !n.idle[j] {
			return false // this name says more itself
		}
	}
	for k := range ix.names[at] {
		other := &ix.names[at][k]
		if other == n {
			continue
		}
		shares, has := false, false
		for j, v := range other.words {
			has = has || !other.idle[j] && q.fits[i][v] <= costSame
			for j, mine := range n.words {
				shares = shares || used[j] && mine == v && !makes(ix.vocabulary[v].text)
			}
		}
		if shares && has {
			return true
		}
	}
	return false
}

// covers tells whether a product may be taken for one that lacks something.
// What takes acid away is covered by no product; sugar and salt are part of
// what keeps some; whatever else is left out changes nothing, unless it is the
// food itself.
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
	switch p := &Catalogue[at]; w.text {
	case "sugar", "sweetener":
		return p.Group != GroupJam && p.Group != GroupForaged && p.Keeps != KeepsJam && p.Keeps != KeepsReduced
	case "salt", "brine", "cure":
		return p.Group != GroupPickle && p.Group != GroupForaged && p.Group != GroupCured
	}
	return ix.knows(w.text) || elsewhere(w.text) || harmless(w.text)
}

// lacks tells whether the query says that something is not in it.
func (q *asked) lacks(text string) bool {
	return slices.ContainsFunc(q.words, func(w said) bool { return w.kind == absent && w.text == text })
}

// phrases gives words of the query as they were typed; words that stand side by
// side make one phrase.
func (q *asked) phrases(words []int) (said []string) {
	for n, i := range words {
		if n > 0 && words[n-1] == i-1 && q.words[i].at == q.words[i-1].at+q.words[i-1].span && q.words[i].kind == plainWord && q.words[i-1].kind == plainWord {
			said[len(said)-1] += " " + q.words[i].typed
			continue
		}
		said = append(said, q.words[i].typed)
	}
	return
}

// tolerance is the number of wrong letters forgiven in a word of n letters.
func tolerance(n int) int {
	switch {
	case n < 4:
		return 0
	case n < 6:
		return 1
	case n < 11:
		return 2
	}
	return 3
}

// lettersOf gives a bit for each letter of a word. Each wrong letter changes
// two bits at most, which rules most pairs of words out at once.
func lettersOf(text string) (set uint32) {
	for i := range len(text) {
		set |= 1 << (text[i] & 31)
	}
	return
}

// editDistance counts the letters wrong, missing, added or swapped with their
// neighbour between two words, or gives -1 when there are more than most.
func editDistance(a, b string, most int) int {
	if len(a)-len(b) > most || len(b)-len(a) > most {
		return -1
	}
	const longest = 64
	if len(b) >= longest {
		if a == b {
			return 0
		}
		return -1
	}
	var rows [3][longest]int
	before, last, next := &rows[0], &rows[1], &rows[2]
	for j := range len(b) + 1 {
		last[j] = j
	}
	for i := range len(a) {
		next[0] = i + 1
		least := next[0]
		for j := range len(b) {
			d := last[j]
			if a[i] != b[j] {
				d++
			}
			d = min(d, last[j+1]+1, next[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				d = min(d, before[j-1]+1)
			}
			next[j+1] = d
			least = min(least, d)
		}
		if least > most {
			return -1
		}
		before, last, next = last, next, before
	}
	if last[len(b)] > most {
		return -1
	}
	return last[len(b)]
}

// Nearest gives the n names most like id, for the message about a name that
// does not exist. Names with nothing in common are left out.
func Nearest(id string, among []string, n int) []string {
	type near struct {
		name string
		d    int
	}
	var nears []near
	for _, name := range among {
		d := editDistance(id, name, max(len(id), len(name))/2)
		if len(id) > 2 && strings.Contains(name, id) {
			d = 1
		}
		if d >= 0 {
			nears = append(nears, near{name, d})
		}
	}
	order.By(nears, func(a, b *near) bool { return cmp.Or(cmp.Compare(a.d, b.d), cmp.Compare(a.name, b.name)) < 0 })
	var names []string
	for _, x := range nears[:min(max(n, 0), len(nears))] {
		names = append(names, x.name)
	}
	return names
}
