package rules

import "sync"

// indexed is a name cut into words.
type indexed struct {
	words   []int  // places in the vocabulary
	at      int    // of the product in the catalog
	idle    []bool // words that need not be asked for
	without []int  // what the name says is not in it
	alias   bool
}

// index holds the names of the catalog and each of their words once.
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

// light reports whether a word says little about which food it is.
func (v *entry) light() bool { return v.in&(isFill|isHarmless|isWeak) != 0 }

// Finder finds products by what is typed, by the names that its maker gives them.
type Finder struct {
	names func(*Product) []string
	index func() *index // made when something is first looked for
}

// NewFinder makes a finder by the names of each product, its own name first.
func NewFinder(names func(*Product) []string) *Finder {
	return &Finder{names, sync.OnceValue(func() *index { return newIndex(names) })}
}

// EnglishNames are the names of a product in English, its own first.
func EnglishNames(p *Product) []string {
	return append([]string{p.Name.String()}, p.Also...)
}

// english finds products by their names in English.
var english = NewFinder(EnglishNames)

func newIndex(names func(*Product) []string) *index {
	ix := &index{of: make([][2]int, len(Catalog)), at: map[string]int{}}
	for i := range Catalog {
		p := &Catalog[i]
		ix.of[i][0] = len(ix.names)
		for j, name := range names(p) {
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

// name reads a name of the catalog.
func (ix *index) name(text string) (n indexed) {
	words := splitWords(text)
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

// word returns the place of a word in the vocabulary.
func (ix *index) word(text string) int {
	i, known := ix.at[text]
	if !known {
		i = len(ix.vocabulary)
		ix.at[text] = i
		ix.vocabulary = append(ix.vocabulary, entry{text: text, letters: lettersOf(text), in: listsOf(text)})
	}
	return i
}
