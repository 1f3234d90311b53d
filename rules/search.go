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
	if hits := begun(query, limit); len(hits) > 0 {
		return hits
	}
	query = madeFirst(query)
	ix := sought()
	q := ix.read(query)
	if q == nil {
		return nil
	}
	return q.choose(ix.matches(q), limit)
}

// madeFirst puts first what was made of a food where it was typed last: “onions,
// pickled” are pickled onions.
func madeFirst(query string) string {
	words := strings.Fields(query)
	if n := len(words); n > 1 {
		switch last := strings.ToLower(words[n-1]); last {
		case "pickled", "smoked", "candied", "brandied", "fermented":
			return last + " " + strings.TrimRight(strings.Join(words[:n-1], " "), ",")
		}
	}
	return query
}

// begun gives the products whose own name begins with what was typed so far, when
// its last word has just been begun: “green b” of green beans. One or two letters
// say too little to be read as a word.
func begun(query string, limit int) (hits []Hit) {
	words := strings.Fields(query)
	if n := len(words); n < 2 || len(words[n-1]) > 2 || strings.HasSuffix(query, " ") {
		return nil
	}
	typed := strings.ToLower(strings.Join(words, " "))
	for i := range Catalogue {
		if len(hits) < limit && strings.HasPrefix(strings.ToLower(Catalogue[i].Name), typed) && len(Catalogue[i].Name) > len(typed) {
			hits = append(hits, Hit{Product: &Catalogue[i]})
		}
	}
	return hits
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
	if !p.Processed() {
		n++
	}
	return n
}

// indexed is a name cut into words.
type indexed struct {
	words   []int  // places in the vocabulary
	at      int    // of the product in the catalogue
	idle    []bool // words that need not be asked for
	without []int  // what the name says is not in it
	alias   bool
}

// index holds the names of the catalogue and each of their words once.
type index struct {
	vocabulary []entry
	at         map[string]int
	names      []indexed // of all products, in shelf order
	of         [][2]int  // the names of a product: first, and after the last
	having     [][]int   // the names that have a word of the vocabulary
}

// entry is a word of the vocabulary.
type entry struct {
	text    string
	letters uint32 // those in it, a bit each
	in      lists
	names   int // products that have it
}

// light tells whether a word says little about which food it is.
func (v *entry) light() bool { return v.in&(isFill|isHarmless|isWeak) != 0 }

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
	ix := &index{of: make([][2]int, len(Catalogue)), at: map[string]int{}}
	for i := range Catalogue {
		p := &Catalogue[i]
		ix.of[i][0] = len(ix.names)
		for j := range len(p.Also) + 1 {
			name := p.Name
			if j > 0 {
				name = p.Also[j-1]
			}
			if locale.Foreign() {
				name = locale.Text(name)
			}
			if n := ix.name(name); len(n.words) > 0 {
				n.at, n.alias = i, j > 0
				ix.names = append(ix.names, n)
			}
		}
		ix.of[i][1] = len(ix.names)
	}
	ix.having = make([][]int, len(ix.vocabulary))
	for k := range ix.names {
		for _, w := range ix.names[k].words {
			if had := ix.having[w]; len(had) == 0 || ix.names[had[len(had)-1]].at != ix.names[k].at {
				ix.vocabulary[w].names++
			}
			ix.having[w] = append(ix.having[w], k)
		}
	}
	return ix
}

// name reads a name of the catalogue.
func (ix *index) name(text string) (n indexed) {
	words := spoken(text)
	n.words, n.idle = make([]int, 0, len(words)), make([]bool, 0, len(words))
	for i := range words {
		w := &words[i]
		switch w.kind {
		case idleWord:
		case absent:
			n.without = append(n.without, ix.word(w.text))
		default:
			n.words = append(n.words, ix.word(w.text))
			n.idle = append(n.idle, w.kind == fillWord || w.aside)
		}
	}
	return
}

// word gives the place of a word in the vocabulary.
func (ix *index) word(text string) int {
	i, known := ix.at[text]
	if !known {
		i = len(ix.vocabulary)
		ix.at[text] = i
		ix.vocabulary = append(ix.vocabulary, entry{text: text, letters: lettersOf(text), in: listsOf(text)})
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
			w.in = listsOf(w.text)
			q.words = append(q.words, w)
			names = names || w.kind == plainWord
		}
	}
	if !names {
		return nil // nothing but words that say little: "14 day", "summer"
	}
	open := !strings.HasSuffix(query, " ")
	for i := 0; i < len(q.words); i++ {
		w := &q.words[i]
		fits := ix.fit(w, open && i == len(q.words)-1)
		if first, rest := ix.parts(w.text); w.kind == plainWord && rest != "" && len(q.words) < longestQuery && !slices.ContainsFunc(fits, func(c uint8) bool { return c <= costTypo }) {
			// "greenbeans": two words that were not kept apart.
			two := []said{*w, *w}
			two[0].text, two[1].text = first, rest
			two[0].in, two[1].in = listsOf(first), listsOf(rest)
			q.words = slices.Replace(q.words, i, i+1, two...)
			i--
			continue
		}
		q.fits = append(q.fits, fits)
		q.pairs = append(q.pairs, nil)
		if i > 0 && w.at == q.words[i-1].at+1 && w.kind <= fillWord && q.words[i-1].kind <= fillWord {
			q.pairs[i-1] = ix.pair(q.words[i-1].text, w.text)
		}
	}
	return q
}

// parts cuts a word that is not known into two that are.
func (ix *index) parts(text string) (first, rest string) {
	if len(text) < 6 || len(text) > 40 || ix.knows(text) || elsewhere(text) {
		return
	}
	for cut := len(text) - 3; cut >= 3; cut-- {
		if ix.knows(text[:cut]) && ix.knows(singular(text[cut:])) {
			return text[:cut], singular(text[cut:])
		}
	}
	return
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
		if unfinished && len(v.text) > len(w.text) && strings.HasPrefix(v.text, w.full) {
			if !whole {
				fits[i] = costPrefix
			} else if len(w.text) > 2 {
				fits[i] = costLonger
			}
			continue
		}
		if known || most == 0 || len(v.text) < 4 || bits.OnesCount32(letters^v.letters) > 2*most+4 {
			continue
		}
		cost, far := noFit, most
		if v.light() {
			far = 1
		}
		alike := sound == soundOf(v.text)
		if d := editDistance(w.text, v.text, far); d > 0 {
			cost = costTypo * d
			if v.text[0] != w.text[0] && !alike {
				if cost += costFirst; d > 1 {
					cost = noFit
				}
			}
		}
		switch {
		case alike && cost == costTypo:
			cost = costSound
		case alike && len(sound) > 3 && editDistance(w.text, v.text, most+2) > 0:
			cost = costTypo + 1
		}
		if unfinished && cost == noFit && len(w.text) > 4 && len(v.text) > len(w.text) && v.text[0] == w.text[0] {
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
		return len(v.text) > len(text) && strings.HasPrefix(v.text, text)
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
		if v := &ix.vocabulary[i]; editDistance(joined, v.text, 1) == 1 {
			fits[i] = costTypo
		}
	}
	return fits
}

// knows tells whether the catalogue has that very word.
func (ix *index) knows(text string) bool {
	_, ok := ix.at[text]
	return ok
}

// matches gives the products that have a word of the query in a name, each by
// the name that fits best, in shelf order.
func (ix *index) matches(q *asked) (found []match) {
	best := make([]int, len(Catalogue)) // place in found, counted from 1
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
	order.By(found, func(a, b *match) bool { return a.at < b.at })
	return
}

// match holds a name of a product against the query.
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

// ends tells whether nothing follows word j of a name but other things that were
// made: a pie is not what "pie cherries" are.
func (ix *index) ends(n *indexed, j int) bool {
	for k := j + 1; k < len(n.words); k++ {
		if !n.idle[k] && ix.vocabulary[n.words[k]].in&isMade == 0 {
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
