package rules

import (
	"maps"
	"slices"
	"strings"
	"sync"
)

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
	spoken     *Spoken
	heard      *strings.Replacer
	spelled    []spelling // the words of the other language that say one of the vocabulary
}

// spelling is a word as it is typed that counts as one of the vocabulary.
type spelling struct {
	text, heard string
	letters     uint32
	at          int
}

// hear writes a word as it sounds in the other language; nothing in English, which has
// [soundOf].
func (ix *index) hear(word string) string {
	if ix.heard == nil {
		return ""
	}
	return ix.heard.Replace(word)
}

// entry is a word of the vocabulary.
type entry struct {
	text    string
	heard   string // as it sounds in the other language
	letters uint32 // those in it, a bit each
	in      lists
	names   int // products that have it
}

// light reports whether a word says little about which food it is.
func (v *entry) light() bool { return v.in&(isFill|isHarmless|isWeak) != 0 }

// Finder finds products by what is typed, by the names that its maker gives them.
type Finder struct {
	names  func(*Product) []string
	spoken *Spoken
	index  func() *index // made when something is first looked for
}

// Spoken is what another language adds to the search besides the names of foods.
type Spoken struct {
	// Words has the English word for each word that this package has to understand,
	// such as "con" for "with" or "encurtido" for "pickled": in lower case, without
	// accents.
	Words map[string]string `json:"words"`
	// Sounds are letters, and what is heard of them: words that sound alike, such as
	// "betabel" and "vetabel", are the same word.
	Sounds [][2]string `json:"sounds,omitempty"`
	// Sights has the English words for each word, or for the beginning of words, by
	// which people say what looks odd; none for one that says nothing.
	Sights map[string]string `json:"sights,omitempty"`
}

// NewFinder makes a finder by the names of each product, its own name first, in
// English or in another language.
func NewFinder(names func(*Product) []string, spoken *Spoken) *Finder {
	if spoken == nil {
		spoken = &Spoken{}
	}
	return &Finder{names, spoken, sync.OnceValue(func() *index { return newIndex(names, spoken) })}
}

// EnglishNames are the names of a product in English, its own first.
func EnglishNames(p *Product) []string {
	return append([]string{p.Name.String()}, p.Also...)
}

// english finds products by their names in English.
var english = NewFinder(EnglishNames, nil)

func newIndex(names func(*Product) []string, spoken *Spoken) *index {
	ix := &index{of: make([][2]int, len(Catalog)), at: map[string]int{}, spoken: spoken}
	if len(spoken.Sounds) > 0 {
		var pairs []string
		for _, s := range spoken.Sounds {
			pairs = append(pairs, s[0], s[1])
		}
		ix.heard = strings.NewReplacer(pairs...)
	}
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
	for _, word := range slices.Sorted(maps.Keys(spoken.Words)) {
		if i, ok := ix.at[singular(spoken.Words[word])]; ok {
			ix.spelled = append(ix.spelled, spelling{singular(word), ix.hear(singular(word)), lettersOf(word), i})
		}
	}
	return ix
}

// name reads a name of the catalog.
func (ix *index) name(text string) (n indexed) {
	words := splitWords(text, ix.spoken)
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
		ix.vocabulary = append(ix.vocabulary, entry{text: text, heard: ix.hear(text), letters: lettersOf(text), in: listsOf(text)})
	}
	return i
}
