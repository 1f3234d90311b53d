package language_test

import (
	"strings"
	"testing"

	"larderlamp/app/language"
)

// Each form has a letter, and no other name has one.
func TestLetters(t *testing.T) {
	seen := map[byte]string{}
	for _, form := range []string{"zero", "one", "two", "few", "many", "other"} {
		letter := language.Letter(form)
		if seen[letter] != "" {
			t.Errorf("%s: got the letter %c, which is that of %s", form, letter, seen[letter])
		}
		seen[letter] = form
		if got := language.Category(strings.Repeat(string(letter), language.Sampled+1), 5); got != form {
			t.Errorf("%c: got %s, want %s", letter, got, form)
		}
	}
	if got := language.Letter("some"); got != language.Letter("other") {
		t.Errorf("a form that is none: got %c, want that of other", got)
	}
}

// The first numbers have a letter each; from there on the last two digits decide,
// whole millions have one of their own, and the sign does not matter.
func TestCategory(t *testing.T) {
	letters := []byte(strings.Repeat("o", language.Sampled+1))
	letters[1], letters[2], letters[100], letters[121], letters[language.Sampled] = '1', '2', 'z', 'f', 'm'
	plural := string(letters)
	for n, want := range map[int]string{
		0: "other", 1: "one", -1: "one", 2: "two", 3: "other", 100: "zero", 121: "few", 199: "other",
		200: "zero", 201: "other", 221: "few", 1000: "zero", 1021: "few",
		999_999: "other", 1_000_000: "many", -2_000_000: "many", 1_000_001: "other", 1_000_021: "few",
	} {
		if got := language.Category(plural, n); got != want {
			t.Errorf("%d: got %s, want %s", n, got, want)
		}
	}
	for _, short := range []string{"", plural[1:], plural + "o"} {
		if got := language.Category(short, 1); got != "other" {
			t.Errorf("%d letters: got %s, want other", len(short), got)
		}
	}
}
