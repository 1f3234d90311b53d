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
