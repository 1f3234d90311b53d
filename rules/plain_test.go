package rules_test

import (
	"strings"
	"testing"
	"unicode"

	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// syllables counts the syllables of an English word roughly: groups of vowels,
// without a silent e.
func syllables(word string) int {
	word = strings.ToLower(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }))
	if word == "" {
		return 1 // a number is read as a word
	}
	n, vowel := 0, false
	for _, r := range word {
		is := strings.ContainsRune("aeiouyéâ", r)
		if is && !vowel {
			n++
		}
		vowel = is
	}
	if n > 1 && (strings.HasSuffix(word, "e") && !strings.HasSuffix(word, "le") || strings.HasSuffix(word, "ed") && !strings.HasSuffix(word, "ted") && !strings.HasSuffix(word, "ded")) {
		n--
	}
	return max(n, 1)
}

// grade is the school grade by the formula of Flesch and Kincaid (1975).
func grade(text string) float64 {
	words, sylls := 0, 0
	for _, w := range strings.Fields(text) {
		words++
		sylls += syllables(w)
	}
	if words == 0 {
		return 0
	}
	return .39*float64(words)/float64(len(sentences(text))) + 11.8*float64(sylls)/float64(words) - 15.59
}

// hardest is the grade that every question and every advice must be readable at.
const hardest = 6

// A tired person reads every question and every advice at once.
func TestGrade(t *testing.T) {
	check := func(where, text string) {
		if g := grade(text); g > hardest {
			t.Errorf("%s: got grade %.1f: %s", where, g, text)
		}
	}
	for i := range rules.Advices {
		a := &rules.Advices[i]
		text := a.Title.String()
		if !strings.HasSuffix(text, ".") && !strings.HasSuffix(text, "?") {
			text += "."
		}
		check("advice "+a.ID, text+" "+prose.List(a.Steps, " ").String())
	}
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() {
			s := id.Info()
			check("question "+s.ID, strings.TrimSpace((s.Ask + " " + s.How).String()))
			for _, w := range s.Wordings {
				if w.Ask != "" {
					check("question "+s.ID+" in other words", strings.TrimSpace((w.Ask + " " + w.How).String()))
				}
			}
		}
	}
	for _, f := range rules.Forms() {
		check("question "+f[0], strings.TrimSpace(f[2]+" "+f[1]))
	}
}

// No question takes more than one breath to read aloud.
func TestQuestionsAreShort(t *testing.T) {
	check := func(where, ask string) {
		for _, s := range sentences(ask) {
			if n := len(strings.Fields(s)); n > mostWords {
				t.Errorf("question %s: %d words in %q", where, n, s)
			}
		}
	}
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() {
			s := id.Info()
			check(s.ID, s.Ask.String())
			for _, w := range s.Wordings {
				check(s.ID+" in other words", w.Ask.String())
			}
		}
	}
	for _, f := range rules.Forms() {
		check(f[0], f[2])
	}
}

// mostInReason is how many words a sentence of a reason may have.
const mostInReason = 25

// No sentence of a reason is so long that it has to be read twice.
func TestReasonsAreShort(t *testing.T) {
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			for _, s := range sentences(r.Say.String()) {
				if n := len(strings.Fields(s)); n > mostInReason {
					t.Errorf("%s: %d words in %q", r.ID, n, s)
				}
			}
		}
	}
}

// The formula is that of the paper: a sentence of ten words of one syllable each
// is below the first grade, long words in a long sentence are far above.
func TestGradeFormula(t *testing.T) {
	for text, want := range map[string]float64{
		"The cat sat on the mat and ate the fish.": .39*10 + 11.8 - 15.59,
		"Sit. Stand.": .39 + 11.8 - 15.59,
		"Contaminated preparations necessitate decontamination.": .39*4 + 11.8*19/4 - 15.59,
	} {
		if got := grade(text); got-want > 3 || want-got > 3 {
			t.Errorf("%q: got grade %.1f, want about %.1f", text, got, want)
		}
	}
}
