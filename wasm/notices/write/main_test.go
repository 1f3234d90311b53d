package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"larderlamp/wasm/notices"
)

// Everything that is shipped has its license in the file.
func TestNothingIsMissing(t *testing.T) {
	t.Chdir("../../..")
	name := filepath.Join(t.TempDir(), "notices.json")
	if err := write(name); err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(notices.File, want) {
		t.Error("wasm/notices/notices.json is not what is shipped; run: make build")
	}
	var all []notice
	if err := json.Unmarshal(notices.File, &all); err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for _, n := range all {
		if len(n.License) < 200 {
			t.Errorf("%s: got the license %q", n.Name, n.License)
		}
		found[n.Name] = true
	}
	for _, name := range []string{"Go", "github.com/maxence-charriere/go-app/v10", "github.com/hack-pad/go-indexeddb", "github.com/google/uuid", "rsc.io/qr"} {
		if !found[name] {
			t.Errorf("%s is shipped but missing from the file", name)
		}
	}
}

// A license is found under each of its usual names, with line ends as everywhere; a
// module without one is an error, and nothing is written.
func TestLicense(t *testing.T) {
	for _, name := range []string{"LICENSE", "LICENSE.txt", "LICENSE.md", "LICENCE", "COPYING"} {
		folder := t.TempDir()
		if err := os.WriteFile(filepath.Join(folder, name), []byte("You may\r\nuse it.\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		if got, err := licenseIn(folder); err != nil || got != "You may\nuse it.\n" {
			t.Errorf("%s: got %q, %v", name, got, err)
		}
	}
	folder := t.TempDir()
	if _, err := licenseIn(folder); err == nil || err.Error() != "no license in "+folder {
		t.Errorf("no license: got %v", err)
	}
}

// Outside of a module nothing can be said, so nothing is written.
func TestNoModule(t *testing.T) {
	folder := t.TempDir()
	t.Chdir(folder)
	name := filepath.Join(folder, "notices.json")
	if err := write(name); err == nil || !strings.HasPrefix(err.Error(), "go list -deps ") {
		t.Errorf("got %v, want the command that failed", err)
	}
	if _, err := os.Stat(name); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("got a file, or %v", err)
	}
}
