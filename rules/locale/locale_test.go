package locale_test

import (
	"testing"

	"larderlamp/rules/locale"
)

// In English every text stays as it is; in another language whole texts, texts
// put together with punctuation and what is filled in are in that language.
func TestText(t *testing.T) {
	for _, english := range []string{"", " ", "Keep", "So far: ", "Lid: down.", "anything else"} {
		if got := locale.Text(english); got != english {
			t.Errorf("%q became %q", english, got)
		}
	}
	if got := locale.Say("%d %s", 2, "jars"); got != "2 jars" {
		t.Error(got)
	}
	locale.Use(map[string]string{"Keep": "Behalten", "Lid": "Deckel", "down": "unten", "jars": "Gläser", "%d of %s": "von %[2]s %[1]d", "So far:": "Bisher:", "older": "älter"})
	defer locale.Use(nil)
	for english, want := range map[string]string{
		"Keep": "Behalten", " Keep ": " Behalten ", "keep": "behalten", "So far: ": "Bisher: ", "Lid: down.": "Deckel: unten.", "Lid: Joss's": "Deckel: Joss's",
		"Older": "Älter", "Keep · down": "Behalten · unten", "": "", "Cellar, down": "Cellar, down",
	} {
		if got := locale.Text(english); got != want {
			t.Errorf("%q became %q, want %q", english, got, want)
		}
	}
	if got := locale.Say("%d of %s", 3, "jars"); got != "von Gläser 3" {
		t.Error(got)
	}
	if got := locale.List([]string{"Lid", "down"}, ", "); got != "Deckel, unten" {
		t.Error(got)
	}
	if !locale.Foreign() {
		t.Error("another language is used")
	}
}
