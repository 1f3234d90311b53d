package app_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
)

// worded is what a text must not contain, and what to say instead.
type worded struct {
	bad     *regexp.Regexp
	written string
	instead string
}

func wordList(t *testing.T) (list []worded) {
	t.Helper()
	text, err := os.ReadFile("../testdata/texts/words.txt")
	if err != nil {
		t.Fatal(err)
	}
	for n, line := range strings.Split(string(text), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		bad, instead, ok := strings.Cut(line, "\t")
		if !ok || instead == "" {
			t.Fatalf("words.txt:%d: does not say what to write instead", n+1)
		}
		pattern := `(?i)\b` + regexp.QuoteMeta(bad) + `\b`
		if part, ok := strings.CutPrefix(bad, "~"); ok {
			pattern = `(?i)` + regexp.QuoteMeta(part)
		}
		if all, ok := strings.CutPrefix(bad, "="); ok {
			pattern = `^` + regexp.QuoteMeta(all) + `$`
		}
		list = append(list, worded{regexp.MustCompile(pattern), bad, instead})
	}
	return list
}

// published are files that hold titles as they were published, and words that
// people type into a search in any spelling.
var published = []string{"rules/cites.go", "rules/words.go", "rules/sights.go"}

// No text of a screen holds a British spelling or a retired phrase.
func TestOneWordForOneThing(t *testing.T) {
	list := wordList(t)
	found, err := collected()
	if err != nil {
		t.Fatal(err)
	}
	for _, said := range found.Texts {
		text, files := said.From(), said.In
		if !slices.ContainsFunc(files, func(f string) bool { return !slices.Contains(published, f) }) {
			continue
		}
		for _, w := range list {
			if at := w.bad.FindString(text); at != "" {
				t.Errorf("%q in %v: say %q, not %q", text, files, w.instead, at)
			}
		}
	}
}

// mostInSentence is how many words a sentence of any screen may have, up to a
// period, a colon or a semicolon.
const mostInSentence = 20

// sayings end where a reader pauses.
var sayings = regexp.MustCompile(`[.!?:;]["”)]?\s`)

// unread are folders whose texts are errors and files, or describe a canner line by
// line in the words of the rules.
var unread = []string{"app/record/", "app/store/", "app/backup/", "app/tables/", "app/sheet/", "app/calendar/", "app/demo/", "app/travel/", "app/draw/", "app/batch/process.go", "app/walk/walk.go"}

// onScreen reports whether a text is in a file whose texts are on screens.
func onScreen(files []string) bool {
	return slices.ContainsFunc(files, func(f string) bool {
		return (strings.HasPrefix(f, "app/") || strings.HasPrefix(f, "static/")) && !slices.ContainsFunc(unread, func(u string) bool { return strings.HasPrefix(f, u) })
	})
}

// A sentence of a screen can be read at once: the texts of rules have a limit of
// their own in their package.
func TestSentencesAreShort(t *testing.T) {
	found, err := collected()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, said := range found.Texts {
		text, files := said.All, said.In
		if !onScreen(files) {
			continue
		}
		n++
		for _, s := range sayings.Split(text, -1) {
			if words := len(strings.Fields(s)); words > mostInSentence {
				t.Errorf("%d words in %q in %v", words, s, files)
			}
		}
	}
	if n < 500 {
		t.Errorf("got only %d texts of screens", n)
	}
}

// hardest is the highest school grade that a text of a screen may require, by the
// formula that rules/plain_test.go checks against its paper.
const hardest = 6

// ends are where a sentence of that formula ends, or an item of a list on one line.
var ends = regexp.MustCompile(`[.!?…]["”)]?(\s|$)| · `)

var vowels = regexp.MustCompile(`[aeiouyéâ]+`)

// syllables counts those of an English word roughly, as rules/plain_test.go does.
func syllables(word string) int {
	word = strings.ToLower(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }))
	n := len(vowels.FindAllString(word, -1))
	if n > 1 && (strings.HasSuffix(word, "e") && !strings.HasSuffix(word, "le") || strings.HasSuffix(word, "ed") && !strings.HasSuffix(word, "ted") && !strings.HasSuffix(word, "ded")) {
		n--
	}
	return max(n, 1)
}

// learned are texts that are as hard as their subject: the caution as the blueprint
// words it, and the methods of the report, for those who know them.
var learned = []string{"This guide supports, and never replaces", "It supports, and never replaces", "Wilson intervals", "Kaplan and Meier", "Against the sweep of %s"}

// A tired person can read every text of a screen at once. Short ones have no grade:
// a single long word would decide it.
func TestScreensArePlain(t *testing.T) {
	found, err := collected()
	if err != nil {
		t.Fatal(err)
	}
	n, hard := 0, map[string]bool{}
	for _, one := range found.Texts {
		text, files := one.All, one.In
		words := strings.Fields(text)
		if len(words) < 8 || !onScreen(files) {
			continue
		}
		n++
		said, spoken := 0, 0
		for _, s := range ends.Split(text, -1) {
			if strings.TrimSpace(s) != "" {
				said++
			}
		}
		for _, w := range words {
			spoken += syllables(w)
		}
		grade := .39*float64(len(words))/float64(said) + 11.8*float64(spoken)/float64(len(words)) - 15.59
		if i := slices.IndexFunc(learned, func(l string) bool { return strings.Contains(text, l) }); i >= 0 {
			hard[learned[i]] = hard[learned[i]] || grade > hardest
		} else if grade > hardest {
			t.Errorf("grade %.1f in %v: %q", grade, files, text)
		}
	}
	if n < 350 {
		t.Errorf("got only %d texts of screens", n)
	}
	for _, l := range learned {
		if !hard[l] {
			t.Errorf("no text with %q is hard", l)
		}
	}
}
