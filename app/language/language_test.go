package language_test

import (
	"testing"

	"larderlamp/app/language"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// keyed gives texts the keys of their English.
func keyed(texts map[string]string) map[string]string {
	all := map[string]string{}
	for english, theirs := range texts {
		all[language.Key(english)] = theirs
	}
	return all
}

// Texts that a page is given in a language are used, and those it is not given stay
// English.
func TestReader(t *testing.T) {
	texts := &language.Texts{
		Whole: keyed(map[string]string{"Keep": "Behalten", "So far:": "Bisher:", "%d of %s": "von %[2]s %[1]d", "Lid": "Deckel", "Green beans, raw": "Grüne Bohnen, roh"}),
		Forms: map[string]map[string]string{language.Key(language.FormsOf("jar", "jars")): {"one": "Glas", "other": "Gläser"}},
	}
	for n := range language.Sampled + 1 {
		texts.Plural += string("o1"[max(0, 1-max(n-1, 1-n))])
	}
	for _, c := range []struct {
		text         prose.Text
		want, german string
	}{
		{"Keep", "Behalten", "Behalten"},
		{" So far: ", " Bisher: ", " Bisher: "},
		{"Discard", "Discard", "Discard"},
		{prose.Own("Keep"), "Keep", "Keep"},
		{prose.Say("%d of %s", 2, prose.Text("Lid")), "von Deckel 2", "von Deckel 2"},
		{prose.Count(1, "jar", "jars"), "1 Glas", "1 Glas"},
		{prose.Count(2, "jar", "jars"), "2 Gläser", "2 Gläser"},
		{prose.Count(201, "jar", "jars"), "201 Gläser", "201 Gläser"},
		{prose.Count(2, "batch", "batches"), "2 batches", "2 batches"},
		{prose.Lower("Lid"), "deckel", "Deckel"},
		{prose.Lower(prose.Head("Green beans, raw")), "grüne Bohnen", "Grüne Bohnen"},
	} {
		texts.Capitals = false
		if got := c.text.In(texts.Reader()); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
		texts.Capitals = true
		if got := c.text.In(texts.Reader()); got != c.german {
			t.Errorf("with capitals: got %q, want %q", got, c.german)
		}
	}
}

// A food is found by its translated name, by its other names in the language and by
// those in English.
func TestFoodsAreFoundInTheLanguage(t *testing.T) {
	beans, ok := rules.ProductByID("green-beans")
	if !ok {
		t.Fatal("green beans are not in the catalog")
	}
	texts := &language.Texts{Whole: keyed(map[string]string{beans.Name.String(): "Grüne Bohnen"}), Foods: map[string][]string{beans.ID: {"Fisolen"}}}
	finder := rules.NewFinder(texts.Names, texts.Search)
	for _, typed := range []string{"grüne bohnen", "grune bohnen", "fisolen", "green beans", "grüne b"} {
		if found := finder.Search(typed, 3); len(found) == 0 || found[0].Product != beans || len(found[0].NotCovered) > 0 {
			t.Errorf("%q: got %+v", typed, found)
		}
	}
}
