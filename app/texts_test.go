package app_test

import (
	"encoding/json"
	"flag"
	"maps"
	"os"
	"slices"
	"testing"

	"larderlamp/testdata/texts"
)

var update = flag.Bool("update", false, "write testdata/texts/en.json anew")

// testdata/texts/en.json lists every text that another language has to say.
func TestTexts(t *testing.T) {
	const list = "../testdata/texts/en.json"
	found, err := texts.Collect("..")
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		text, err := json.MarshalIndent(found, "", "\t")
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(list, append(text, '\n'), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(list)
	if err != nil {
		t.Fatal(err)
	}
	var listed map[string][]string
	if err := json.Unmarshal(text, &listed); err != nil {
		t.Fatal(err)
	}
	for _, s := range slices.Sorted(maps.Keys(found)) {
		if !slices.Equal(listed[s], found[s]) {
			t.Errorf("%q stands in %q, listed is %q (make texts writes the list anew)", s, found[s], listed[s])
		}
	}
	for _, s := range slices.Sorted(maps.Keys(listed)) {
		if found[s] == nil {
			t.Errorf("%q is listed and stands nowhere (make texts writes the list anew)", s)
		}
	}
}
