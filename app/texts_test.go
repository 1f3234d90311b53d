package app_test

import (
	"bytes"
	"flag"
	"os"
	"sync"
	"testing"

	"larderlamp/wasm/texts"
	"larderlamp/wasm/texts/collect"
)

var update = flag.Bool("update", false, "write wasm/texts/en.json anew")

// collected is every text of the sources, found once for all tests.
var collected = sync.OnceValues(func() (*collect.Found, error) { return collect.Collect("..") })

// wasm/texts/en.json lists every text that another language has to translate, and
// nothing else is made a text.
func TestTexts(t *testing.T) {
	const list = "../wasm/texts/en.json"
	found, err := collected()
	if err != nil {
		t.Fatal(err)
	}
	for _, fault := range found.Faults {
		t.Error(fault)
	}
	if len(found.Texts) < 3000 {
		t.Errorf("got only %d texts", len(found.Texts))
	}
	was, err := os.ReadFile(list)
	if err != nil {
		t.Fatal(err)
	}
	before, err := texts.Read(was)
	if err != nil {
		t.Fatal(err)
	}
	want, err := texts.Write(texts.Named(before, found.Texts))
	if err != nil {
		t.Fatal(err)
	}
	if *update {
		if err := os.WriteFile(list, want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(was, want) {
		t.Errorf("%s does not match the sources (make texts rewrites it)", list)
	}
}
