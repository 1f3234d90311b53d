package rules

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"
)

// See finds what people may mean when they say in their own words what is odd about
// a jar: the values of signs, the likeliest first, up to a limit. It decides
// nothing: the person chooses, by the words and the picture of each.
//
// Every value has phrases that people use for it. A word of the query counts the
// more, the fewer values it speaks of. Of two that fit about as well the more
// dangerous comes first, so that a harmless look never hides a danger.
//
// Every word is looked for in English; spoken adds the words of another language, and
// nil adds none.
func See(query string, spoken *Spoken, limit int) []Value {
	ix := sightIndex()
	if spoken != nil {
		query = spoken.sights(query)
	}
	words := ix.read(query)
	if len(words) == 0 {
		return nil
	}
	asked := 0.0
	for _, w := range words {
		asked += ix.weight(w)
	}
	type found struct {
		v    Value
		fits float64
	}
	var all []found
	best := 0.0
	for i := range ix.sights {
		s := &ix.sights[i]
		most, covered := 0.0, 0.0
		for _, w := range words {
			if s.all[w] {
				covered += ix.weight(w)
			}
		}
		for _, phrase := range s.phrases {
			both := 0.0
			for _, w := range words {
				if phrase.words[w] {
					both += ix.weight(w)
				}
			}
			most = max(most, 2*both/(asked+phrase.weight))
		}
		if fits := .65*most + .35*covered/asked; fits > 0 {
			all = append(all, found{s.v, fits})
			best = max(best, fits)
		}
	}
	slices.SortStableFunc(all, func(a, b found) int {
		// Within a tenth of the best counts as about as well.
		tenth := func(f found) int { return int(10 * f.fits / best) }
		harmless := func(f found) int {
			if f.v.Shows() != NoFault {
				return 0
			}
			return 1
		}
		return cmp.Or(cmp.Compare(tenth(b), tenth(a)), cmp.Compare(harmless(a), harmless(b)), cmp.Compare(b.fits, a.fits))
	})
	var vs []Value
	for _, f := range all {
		if f.fits >= best*.45 && f.fits > .12 && len(vs) < limit {
			vs = append(vs, f.v)
		}
	}
	return vs
}

// sights puts the words of a query that it knows into English, and leaves the others:
// a person may use both languages at once. Where a word has an ending of its own, or is
// still being typed, the longest that begins like it counts.
func (s *Spoken) sights(query string) string {
	var english []string
	for _, t := range tokens(query) {
		w, ok := s.Sights[t.text]
		for n := len(t.text); !ok && n >= 4; n-- {
			w, ok = s.Sights[t.text[:n]]
		}
		if !ok {
			w = t.text
		}
		english = append(english, w)
	}
	return strings.Join(english, " ")
}

// sight is a value with the phrases for it, as sets of words.
type sight struct {
	v       Value
	phrases []phrase
	all     map[string]bool
}

type phrase struct {
	words  map[string]bool
	weight float64
}

// sightings is the index over the phrases.
type sightings struct {
	sights []sight
	known  map[string]float64 // words, and in the phrases of how many values they stand
	same   map[string]string  // words that mean another one
}

// sightIndex builds the index when it is first wanted.
var sightIndex = sync.OnceValue(func() *sightings {
	ix := &sightings{known: map[string]float64{}, same: map[string]string{}}
	for _, line := range strings.Split(sightWords, "\n") {
		means, words, _ := strings.Cut(line, ":")
		for _, w := range strings.Fields(words) {
			ix.same[stem(w)] = means
		}
	}
	for _, s := range sights {
		one := sight{v: s.v, all: map[string]bool{}}
		for _, text := range strings.Split(s.phrases, ",") {
			p := phrase{words: map[string]bool{}}
			for _, w := range ix.words(text) {
				p.words[w], one.all[w] = true, true
			}
			if len(p.words) > 0 {
				one.phrases = append(one.phrases, p)
			}
		}
		for w := range one.all {
			ix.known[w]++
		}
		ix.sights = append(ix.sights, one)
	}
	for i := range ix.sights {
		for j := range ix.sights[i].phrases {
			p := &ix.sights[i].phrases[j]
			// Always added in the same order: rounding must not decide between two.
			for _, w := range slices.Sorted(maps.Keys(p.words)) {
				p.weight += ix.weight(w)
			}
		}
	}
	return ix
})

// weight is what a word counts.
func (ix *sightings) weight(w string) float64 {
	return math.Log(1 + float64(len(ix.sights))/ix.known[w])
}

// words returns the words of a text that say something: without idle ones, in one
// form, and words that mean the same as one.
func (ix *sightings) words(text string) (words []string) {
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && r != '’' }) {
		w = strings.NewReplacer("'", "", "’", "").Replace(w)
		if strings.Contains(idleSights, " "+w+" ") {
			continue
		}
		w = stem(w)
		if means, ok := ix.same[w]; ok {
			w = means
		}
		words = append(words, w)
	}
	return words
}

// read returns the words of a query that stand in a phrase, mistyped ones too, each once.
func (ix *sightings) read(query string) (words []string) {
	seen := map[string]bool{}
	for _, w := range ix.words(query) {
		if ix.known[w] == 0 {
			w = ix.near(w)
		}
		if w != "" && !seen[w] {
			seen[w] = true
			words = append(words, w)
		}
	}
	slices.Sort(words) // the order in which they were typed does not matter
	return words
}

// near is the known word that a mistyped one may be, or that a word that is still
// being typed begins; "" where there is none.
func (ix *sightings) near(w string) (word string) {
	if len(w) < 4 {
		return ""
	}
	least := 1
	if len(w) >= 8 {
		least = 2
	}
	try := func(candidate, means string) {
		d := editDistance(w, candidate, least)
		if d < 0 && len(candidate) <= len(w)+4 && strings.HasPrefix(candidate, w) {
			d = least
		}
		if d >= 0 && (d < least || word == "" || means < word) {
			least, word = d, means
		}
	}
	for c := range ix.known {
		try(c, c)
	}
	for c, means := range ix.same {
		if ix.known[means] > 0 {
			try(c, means)
		}
	}
	return word
}

// stem takes the ending off a word, roughly: it only has to bring the forms of a
// word together.
func stem(w string) string {
	for _, end := range []string{"iness", "ness", "ing", "ies", "ied", "ed", "es", "ly", "y", "s", "e"} {
		if rest, ok := strings.CutSuffix(w, end); ok && len(rest) >= 3 {
			if n := len(rest); n > 3 && rest[n-1] == rest[n-2] && rest[n-1] != 'l' && rest[n-1] != 's' {
				rest = rest[:n-1]
			}
			return rest
		}
	}
	return w
}
