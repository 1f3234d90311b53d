package rules

import (
	"cmp"
	"math/bits"
	"slices"
	"strings"
)

// Hit is a product that a search found.
type Hit struct {
	Product *Product
	// NotCovered is what was asked for and is not part of the product, in the
	// words of the query: “gravy” of “chicken in gravy” for plain chicken. While
	// there is any, the product must not be taken for the food that was named.
	NotCovered []string
	cost       int
	guessed    bool // by a word that may be misspelled
}

// Search returns the products whose name or other names fit the query best, at
// most limit of them. It forgives spelling, accents, hyphens, plurals and word
// order, and words that change nothing ("grandma's", "7 pints", "raw pack"). A
// word that may change the food is never dropped in silence: see
// [Hit.NotCovered]. The empty query gives the catalog in shelf order.
func Search(query string, limit int) []Hit { return english.Search(query, limit) }

// Search is Search by the names of the finder.
func (f *Finder) Search(query string, limit int) []Hit {
	limit = max(limit, 0)
	if strings.TrimSpace(query) == "" {
		var all []Hit
		for i := range min(limit, len(Catalog)) {
			all = append(all, Hit{Product: &Catalog[i]})
		}
		return all
	}
	if hits := f.begun(query, limit); len(hits) > 0 {
		return hits
	}
	query = madeFirst(query, f.spoken)
	ix := f.index()
	q := ix.read(query)
	if q == nil {
		return nil
	}
	return q.choose(ix.matches(q), limit)
}

// SearchToo is Search, and where the names of f do not say which food is meant, by the
// names of others too, which are asked for only then: each knows the names of f and those
// of another language. What a name of f means stays. A guess gives way to a name, and to a
// guess that is no worse and of a stricter food; a hit with words that are not covered to
// one with fewer, or with as many and of a stricter food.
func (f *Finder) SearchToo(query string, limit int, others func() []*Finder) []Hit {
	hits := f.Search(query, limit)
	if len(hits) > 0 && !hits[0].guessed && len(hits[0].NotCovered) == 0 {
		return hits
	}
	for _, other := range others() {
		if theirs := other.Search(query, limit); len(theirs) > 0 && (len(hits) == 0 || theirs[0].takesOver(&hits[0])) {
			hits = theirs
		}
	}
	return hits
}

// takesOver reports whether a hit takes the place of one by other names.
func (h *Hit) takesOver(other *Hit) bool {
	switch here, there := len(h.NotCovered), len(other.NotCovered); {
	case here != there:
		return here < there
	case h.guessed != other.guessed:
		return other.guessed
	case here == 0 && h.cost > other.cost:
		return false
	}
	return strictness(h.Product) > strictness(other.Product)
}

// madeFirst moves what a food was made into to the front when it was typed last:
// “onions, pickled” are pickled onions.
func madeFirst(query string, spoken *Spoken) string {
	words := strings.Fields(query)
	if n := len(words); n > 1 {
		last := strings.ToLower(words[n-1])
		switch spoken.english(last) {
		case "pickled", "smoked", "candied", "brandied", "fermented":
			return last + " " + strings.TrimRight(strings.Join(words[:n-1], " "), ",")
		}
	}
	return query
}

// begun returns the products whose own name begins with what was typed so far, when
// its last word has just been begun: “green b” of green beans. One or two letters
// say too little to be read as a word.
func (f *Finder) begun(query string, limit int) (hits []Hit) {
	words := strings.Fields(query)
	if n := len(words); n < 2 || len(words[n-1]) > 2 || strings.HasSuffix(query, " ") {
		return nil
	}
	typed := strings.ToLower(strings.Join(words, " "))
	for i := range Catalog {
		if len(hits) == limit {
			break
		}
		// In another language its own name in English counts too.
		own := []string{f.names(&Catalog[i])[0], Catalog[i].Name.String()}
		if slices.ContainsFunc(own, func(name string) bool {
			return len(name) > len(typed) && strings.HasPrefix(strings.ToLower(name), typed)
		}) {
			hits = append(hits, Hit{Product: &Catalog[i]})
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
	costSound    = 4  // spelled differently, pronounced the same
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

// choose orders the matches and keeps the best. Names that fit equally well come in
// shelf order. Where a word is guessed or not covered, or one name means different foods
// in different countries, the stricter food comes first, so that a guess is never the
// milder one.
func (q *asked) choose(found []match, limit int) []Hit {
	slices.SortStableFunc(found, func(a, b match) int {
		switch {
		case a.cost != b.cost:
			return cmp.Compare(a.cost, b.cost)
		case len(a.uncovered) != len(b.uncovered):
			return cmp.Compare(len(a.uncovered), len(b.uncovered))
		case !a.guessed && b.guessed:
			return -1
		case a.guessed && !b.guessed:
			return 1
		case a.guessed || len(a.uncovered) > 0 || q.regional:
			return cmp.Compare(strictness(&Catalog[b.at]), strictness(&Catalog[a.at]))
		}
		return 0
	})
	hits := make([]Hit, 0, min(limit, len(found)))
	for i := range found {
		if len(hits) == limit || found[i].cost > found[0].cost+farBehind || len(found[i].uncovered) > 0 && len(found[0].uncovered) == 0 {
			break
		}
		hits = append(hits, Hit{&Catalog[found[i].at], q.phrases(found[i].uncovered), found[i].cost, found[i].guessed})
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

// asked is a query that was read.
type asked struct {
	words []said
	fits  [][]uint8 // of each word with each of the vocabulary: cost or noFit
	pairs [][]uint8 // of word i and the next joined; nil when they are no pair
	// regional says that a name may mean one food here and another there, as in a
	// language of many countries.
	regional bool
}

// read cuts a query into words and holds each against the vocabulary. It returns
// nil when the query names no food at all.
func (ix *index) read(query string) *asked {
	q := &asked{regional: len(ix.spoken.Words) > 0}
	names := false
	for _, w := range splitWords(query, ix.spoken) {
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
	if len(text) < 6 || len(text) > 40 || ix.knows(text) || isKnownWord(text) {
		return
	}
	for cut := len(text) - 3; cut >= 3; cut-- {
		if ix.knows(text[:cut]) && ix.knows(singular(text[cut:])) {
			return text[:cut], singular(text[cut:])
		}
	}
	return
}

// fit returns the cost of a word against each word of the vocabulary. A word that
// is known, here or elsewhere, is never taken for a misspelled one.
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
	whole := ix.knows(w.text) || isKnownWord(w.text)
	known := whole
	if w.kind == fillWord {
		return fits
	}
	letters, sound, heard := lettersOf(w.text), soundOf(w.text), ix.hear(w.text)
	most := tolerance(len(w.text))
	if unfinished && ix.begins(w.full) {
		known = true // more likely unfinished than misspelled
	}
	// hold holds the word against one that stands for word i of the vocabulary.
	hold := func(i int, text, soundsAs string, set uint32) uint8 {
		if unfinished && len(text) > len(w.text) && strings.HasPrefix(text, w.full) {
			switch {
			case !whole:
				return costPrefix
			case len(w.text) > 2:
				return costLonger
			}
			return noFit
		}
		if !known && heard != "" && heard == soundsAs {
			return costSame
		}
		if known || most == 0 || len(text) < 4 || bits.OnesCount32(letters^set) > 2*most+4 {
			return noFit
		}
		cost, far := noFit, most
		if ix.vocabulary[i].light() {
			far = 1
		}
		alike := heard == "" && sound == soundOf(text)
		if d := editDistance(w.text, text, far); d > 0 {
			cost = costTypo * d
			if text[0] != w.text[0] && !alike {
				if cost += costFirst; d > 1 {
					cost = noFit
				}
			}
		}
		switch {
		case alike && cost == costTypo:
			cost = costSound
		case alike && len(sound) > 3 && editDistance(w.text, text, most+2) > 0:
			cost = costTypo + 1
		}
		if unfinished && cost == noFit && len(w.text) > 4 && len(text) > len(w.text) && text[0] == w.text[0] {
			if d := editDistance(w.text, text[:len(w.text)], 1); d > 0 {
				cost = costPrefix + costTypo*d
			}
		}
		return uint8(min(cost, noFit))
	}
	for i := range ix.vocabulary {
		if v := &ix.vocabulary[i]; fits[i] == noFit {
			fits[i] = hold(i, v.text, v.heard, v.letters)
		}
	}
	for i := range ix.spelled {
		s := &ix.spelled[i]
		fits[s.at] = min(fits[s.at], hold(s.at, s.text, s.heard, s.letters))
	}
	return fits
}

// begins reports whether a word of the vocabulary goes on where this one ends.
func (ix *index) begins(text string) bool {
	longer := func(word string) bool { return len(word) > len(text) && strings.HasPrefix(word, text) }
	return slices.ContainsFunc(ix.vocabulary, func(v entry) bool { return longer(v.text) }) ||
		slices.ContainsFunc(ix.spelled, func(s spelling) bool { return longer(s.text) })
}

// pair returns the cost of two words that may be one, split by mistake: "egg
// plant". Two words that are both known are one only letter by letter.
func (ix *index) pair(a, b string) []uint8 {
	known := func(w string) bool { return ix.knows(w) || isKnownWord(w) || filler(w) || harmless(w) }
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

// knows reports whether the catalog has that very word.
func (ix *index) knows(text string) bool {
	_, ok := ix.at[text]
	return ok
}

// phrases returns words of the query as they were typed; words that stand side by
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
