package app_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// No package of screens has more than 2,000 lines, and no file of the app more than 400:
// who looks for something has a chance to find it.
func TestSizes(t *testing.T) {
	const most, mostOfScreens = 400, 2000
	screens := map[string]int{"batch": 0, "check": 0, "learn": 0, "office": 0, "parts": 0, "shelf": 0, "sweep": 0, "trip": 0}
	files, err := filepath.Glob("*/*.go")
	if err != nil {
		t.Fatal(err)
	}
	if len(files) < 100 {
		t.Fatalf("got only %d files", len(files))
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		lines := bytes.Count(text, []byte("\n"))
		if lines > most {
			t.Errorf("%s: got %d lines, want at most %d", name, lines, most)
		}
		if _, ok := screens[filepath.Dir(name)]; ok {
			screens[filepath.Dir(name)] += lines
		}
	}
	for room, lines := range screens {
		if lines == 0 || lines > mostOfScreens {
			t.Errorf("app/%s: got %d lines, want some, and at most %d", room, lines, mostOfScreens)
		}
	}
}
