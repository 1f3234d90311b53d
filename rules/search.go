package rules

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"unicode"

	"larderlamp/rules/locale"
	"larderlamp/rules/order"
)

// Search gives the products whose name or other names fit the query best, at
// most limit of them. It forgives spelling, accents, hyphens, plurals and word
// order. The empty query gives the catalogue in shelf order.
func Search(query string, limit int) []*Product {
	limit = max(limit, 0)
	words := wordsOf(query)
	type hit struct{ cost, at int }
	var hits []hit
	if len(words) == 0 {
		for i := range min(limit, len(Catalogue)) {
			hits = append(hits, hit{0, i})
		}
	} else {
		ix := sought()
		fits := ix.fit(words)
		joined := strings.Join(words, "")
		for i := range Catalogue {
			best := noFit
			for _, n := range ix.names[i] {
				best = min(best, n.cost(fits, joined))
			}
			if best < noFit {
				hits = append(hits, hit{best, i})
			}
		}
		order.By(hits, func(a, b *hit) bool { return a.cost < b.cost })
	}
	found := make([]*Product, 0, min(limit, len(hits)))
	for _, h := range hits[:min(limit, len(hits))] {
		found = append(found, &Catalogue[h.at])
	}
	return found
}

// Costs of a fit, in points; fewer is better. A word that is not found costs
// more than a misspelt one, and a word of the name that was not asked for costs
// least, so that the shortest fitting name comes first.
const (
	costSpare   = 2  // a word of the name that was not asked for
	costAlias   = 1  // found by another name than its own
	costPrefix  = 3  // a word that only begins as asked
	costTypo    = 6  // for each letter wrong, missing, added or swapped
	costJoined  = 1  // right letters, words split or joined differently
	costMissing = 24 // a word asked for and not found
	noFit       = 1 << 20
)

// indexed is a name cut into words.
type indexed struct {
	words  []int // places in the vocabulary
	joined string
	alias  bool
}

// index holds the names of the catalogue and each of their words once.
type index struct {
	vocabulary []string
	names      [][]indexed // by place in the catalogue
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
	ix := &index{names: make([][]indexed, len(Catalogue))}
	at := map[string]int{}
	for i := range Catalogue {
		p := &Catalogue[i]
		names := append([]string{p.Name}, p.Also...)
		if locale.Foreign() {
			for k, name := range names {
				names[k] = locale.Text(name)
			}
		}
		for j, name := range names {
			words := wordsOf(name)
			n := indexed{joined: strings.Join(words, ""), alias: j > 0}
			for _, w := range words {
				if _, known := at[w]; !known {
					at[w] = len(ix.vocabulary)
					ix.vocabulary = append(ix.vocabulary, w)
				}
				n.words = append(n.words, at[w])
			}
			ix.names[i] = append(ix.names[i], n)
		}
	}
	return ix
}

// fit gives, for every word asked for, its cost against each word of the
// vocabulary. Only the last word may be unfinished.
func (ix *index) fit(words []string) [][]int {
	fits := make([][]int, len(words))
	for i, w := range words {
		fits[i] = make([]int, len(ix.vocabulary))
		for j, v := range ix.vocabulary {
			fits[i][j] = wordCost(w, v, i == len(words)-1)
		}
	}
	return fits
}

// cost of a name against the words asked for.
func (n *indexed) cost(fits [][]int, joined string) int {
	total, found := 0, 0
	for _, fit := range fits {
		best := costMissing
		for _, w := range n.words {
			best = min(best, fit[w])
		}
		if best < costMissing {
			found++
		}
		total += best
	}
	total += costSpare * max(len(n.words)-found, 0)
	if 2*found < len(fits) {
		total = noFit
	}
	switch d := editDistance(joined, n.joined, tolerance(len(joined))); {
	case d == 0:
		total = min(total, costJoined)
	case d > 0:
		total = min(total, costJoined+costTypo*d)
	}
	if n.alias && total < noFit {
		total += costAlias
	}
	return total
}

// wordCost is the cost of taking word v for the word asked, or costMissing.
func wordCost(asked, v string, unfinished bool) int {
	if asked == v {
		return 0
	}
	cost := costMissing
	if unfinished && len(v) > len(asked) {
		if strings.HasPrefix(v, asked) {
			return costPrefix
		}
		if d := editDistance(asked, v[:len(asked)], tolerance(len(asked))); d > 0 {
			cost = costPrefix + costTypo*d
		}
	}
	if d := editDistance(asked, v, tolerance(len(asked))); d > 0 {
		cost = min(cost, costTypo*d)
	}
	return cost
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

// wordsOf cuts a name into plain lower-case words without accents, hyphens,
// plural endings and words that say nothing.
func wordsOf(name string) []string {
	plain := strings.Map(func(r rune) rune {
		r = unicode.ToLower(r)
		if i := strings.IndexRune(accented, r); i >= 0 {
			return rune(unaccented[i/2])
		}
		switch {
		case r == '\'' || r == '’':
			return -1
		case r < unicode.MaxASCII && (unicode.IsLetter(r) || unicode.IsDigit(r)):
			return r
		}
		return ' '
	}, name)
	words := strings.Fields(plain)
	kept := make([]string, 0, len(words))
	for _, w := range words {
		if !slices.Contains(idle, w) {
			kept = append(kept, singular(w))
		}
	}
	if len(kept) == 0 {
		return words
	}
	return kept
}

// Each accented letter takes two bytes, its plain letter one.
const (
	accented   = "àáâäãåçèéêëìíîïñòóôöõøùúûüýÿ"
	unaccented = "aaaaaaceeeeiiiinoooooouuuuyy"
)

// idle words say nothing about which product is meant.
var idle = []string{"a", "an", "and", "the", "of", "in", "or", "with", "my", "our", "some", "home", "canned", "jar", "jarred", "bottled", "tinned", "preserved"}

// singular takes the plural ending off an English word. It need not be right,
// only the same for the name and the query.
func singular(w string) string {
	switch {
	case len(w) < 4 || !strings.HasSuffix(w, "s") || strings.HasSuffix(w, "ss") || strings.HasSuffix(w, "us"):
		return w
	case strings.HasSuffix(w, "ies"):
		return w[:len(w)-3] + "y"
	}
	for _, end := range []string{"oes", "ches", "shes", "xes", "sses"} {
		if strings.HasSuffix(w, end) {
			return w[:len(w)-2]
		}
	}
	return w[:len(w)-1]
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
