package app_test

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
	"larderlamp/testdata/texts"
)

// worded is what must not stand in a text, and what to say instead.
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
			t.Fatalf("words.txt:%d: says not what to write instead", n+1)
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
// people type into a search in whatever spelling.
var published = []string{"rules/cites.go", "rules/words.go", "rules/sights.go"}

// No text of a screen holds a word of the other spelling or a retired phrase.
func TestOneWordForOneThing(t *testing.T) {
	list := wordList(t)
	found, err := texts.Collect("..")
	if err != nil {
		t.Fatal(err)
	}
	for text, files := range found {
		if !slices.ContainsFunc(files, func(f string) bool { return !slices.Contains(published, f) }) {
			continue
		}
		if _, id := rules.SignByID(text); id || text == "litres" {
			continue // the name of a sign or a field in files, which stays as it is
		}
		for _, w := range list {
			if at := w.bad.FindString(text); at != "" {
				t.Errorf("%q in %v: say %q, not %q", text, files, w.instead, at)
			}
		}
	}
}

// mostInSentence is how many words a sentence of any screen may have, up to a full
// stop, a colon or a semicolon.
const mostInSentence = 20

// sayings end where a reader takes breath.
var sayings = regexp.MustCompile(`[.!?:;]["”)]?\s`)

// unread are folders whose texts are errors and files, and what is said of a canner
// line by line, as it is said to the rules.
var unread = []string{"app/record/", "app/store/", "app/backup/", "app/tables/", "app/sheet/", "app/calendar/", "app/demo/", "app/travel/", "app/draw/", "app/batch/process.go", "app/walk/walk.go"}

// A sentence of a screen can be read at once: the texts of rules have a bar of their
// own in their package.
func TestSentencesAreShort(t *testing.T) {
	found, err := texts.Collect("..")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for text, files := range found {
		if !slices.ContainsFunc(files, func(f string) bool {
			return (strings.HasPrefix(f, "app/") || strings.HasPrefix(f, "static/")) && !slices.ContainsFunc(unread, func(u string) bool { return strings.HasPrefix(f, u) })
		}) {
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
		t.Errorf("only %d texts of screens were read", n)
	}
}
