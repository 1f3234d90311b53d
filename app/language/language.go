// Package language translates the texts of this program: [Texts] is what a page is
// given, made by the command from a translator's file.
package language

import (
	"hash/fnv"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Texts is a language as it is given to a page. What it does not have stays
// English.
type Texts struct {
	// Tag names the language as BCP 47 has it, such as "de".
	Tag string `json:"language"`
	// Whole holds texts and formats by the [Key] of their English: the English
	// itself would make the file twice as large, and the page has it already.
	Whole map[string]string `json:"whole"`
	// Forms holds texts that depend on a number, by the key of the English for one
	// and for several, joined by [FormsOf]: one text for each plural form.
	Forms map[string]map[string]string `json:"forms,omitempty"`
	// Before holds what the pages say before their program runs and what is no
	// text of its own, such as a title with the name of the guide, by its key.
	Before map[string]string `json:"before,omitempty"`
	// Plural says which form each number takes, as [Category] reads it.
	Plural string `json:"plural,omitempty"`
	// Capitals says that a word keeps its capital inside a sentence, as German
	// nouns do.
	Capitals bool `json:"capitals,omitempty"`
	// Foods holds other names of foods besides the translated one, by product.
	Foods map[string][]string `json:"foods,omitempty"`
	// Search is what the search of foods has to know of the language.
	Search *rules.Spoken `json:"search,omitempty"`
}

// Key is what stands for an English text in [Texts]: its FNV-1a sum of 32 bits.
// static/boot.js computes the same. The command that makes the file refuses two
// texts with the same key.
func Key(english string) string {
	sum := fnv.New32a()
	sum.Write([]byte(english))
	return strconv.FormatUint(uint64(sum.Sum32()), 36)
}

// texts is what Texts holds. It is a type of its own because a field and a method
// of one type can't both be called Whole.
type texts struct{ *Texts }

// Reader is the language for [prose.Text.In].
func (t *Texts) Reader() prose.Language { return texts{t} }

// Whole returns a text or a format. White space around it stays.
func (t texts) Whole(english string) string {
	core := strings.TrimSpace(english)
	theirs, ok := t.Texts.Whole[Key(core)]
	if !ok {
		return english
	}
	before, after, _ := strings.Cut(english, core)
	return before + theirs + after
}

// Form returns the text for the form that a number takes.
func (t texts) Form(n int, one, several string) string {
	if theirs, ok := t.Forms[Key(FormsOf(one, several))][Category(t.Plural, n)]; ok {
		return theirs
	}
	return prose.English{}.Form(n, one, several)
}

// FormsOf is the English of a text that depends on a number, for its key.
func FormsOf(one, several string) string { return one + "\n" + several }

// Inside makes the first letter lower-case, in a language that does so.
func (t texts) Inside(text string) string {
	if t.Capitals {
		return text
	}
	first, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToLower(first)) + text[n:]
}

// Names are the names by which a product is found: in the language, its own first,
// and in English.
func (t *Texts) Names(p *rules.Product) []string {
	names := append([]string{p.Name.In(t.Reader())}, t.Foods[p.ID]...)
	return append(names, rules.EnglishNames(p)...)
}

// ForSearch is the part of a language that finds foods by their names: all that a page in
// English needs of it, and far smaller.
func (t *Texts) ForSearch() *Texts {
	part := &Texts{Tag: t.Tag, Whole: map[string]string{}, Foods: t.Foods}
	for i := range rules.Catalog {
		key := Key(rules.Catalog[i].Name.String())
		if theirs, ok := t.Whole[key]; ok {
			part.Whole[key] = theirs
		}
	}
	if t.Search != nil {
		part.Search = &rules.Spoken{Words: t.Search.Words, Sounds: t.Search.Sounds}
	}
	return part
}

// Spoken is what the search has to know of the language.
func (t *Texts) Spoken() *rules.Spoken { return t.Search }

// categories are the forms that a number can take in the languages of the world, by
// the letter that stands for each in [Texts.Plural].
var categories = map[byte]string{'z': "zero", '1': "one", '2': "two", 'f': "few", 'm': "many", 'o': "other"}

// Sampled is how many numbers a language lists one by one with the form they take;
// from there on the last two digits decide, except for whole millions.
const Sampled = 200

// Category reads which form a number takes: Plural has a letter for each number below
// [Sampled], and one more for whole millions.
func Category(plural string, n int) string {
	if n < 0 {
		n = -n
	}
	if len(plural) != Sampled+1 {
		return "other"
	}
	switch {
	case n >= 1_000_000 && n%1_000_000 == 0:
		n = Sampled
	case n >= Sampled:
		n = Sampled/2 + n%(Sampled/2)
	}
	return categories[plural[n]]
}

// Letter is the letter for a form in [Texts.Plural].
func Letter(category string) byte {
	for letter, c := range categories {
		if c == category {
			return letter
		}
	}
	return 'o'
}
