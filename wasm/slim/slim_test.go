package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The program of the pages holds nothing that serves, encrypts or keeps tables.
func TestLeftOut(t *testing.T) {
	t.Chdir("../..")
	folder := t.TempDir()
	if err := prepare(folder); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("go", "list", "-tags", "slim", "-modfile="+filepath.Join(folder, "go.mod"), "-overlay="+filepath.Join(folder, "overlay.json"), "-deps", "./wasm/browser")
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	deps := strings.Fields(string(out))
	if len(deps) < 50 {
		t.Fatalf("got only %d packages: %s", len(deps), out)
	}
	for _, d := range deps {
		for _, not := range []string{"net/http", "net", "regexp", "internal/bisect", "log", "crypto", "database/sql", "text/template", "html/template", "mime"} {
			if d == not || not != "net" && strings.HasPrefix(d, not+"/") {
				t.Errorf("got %s in the program", d)
			}
		}
	}
}

// A library other than the one that was read is rejected, by the name of its file.
func TestAnotherLibrary(t *testing.T) {
	t.Chdir("../..")
	for i := range libraries {
		l := libraries[i]
		from, err := l.find()
		if err != nil {
			t.Fatal(err)
		}
		changed := t.TempDir()
		for file := range l.known {
			text, err := os.ReadFile(filepath.Join(from, file))
			if err != nil {
				t.Fatal(err)
			}
			if err := write(filepath.Join(changed, file), text); err != nil {
				t.Fatal(err)
			}
		}
		if err := l.check(changed); err != nil {
			t.Errorf("%s unchanged: got %v", l.path, err)
		}
		for file := range l.known {
			text, _ := os.ReadFile(filepath.Join(changed, file))
			if err := write(filepath.Join(changed, file), append(text, '\n')); err != nil {
				t.Fatal(err)
			}
			if err := l.check(changed); err == nil || !strings.Contains(err.Error(), file+" is not the file") {
				t.Errorf("%s with another %s: got %v", l.path, file, err)
			}
			write(filepath.Join(changed, file), text)
		}
		l.version = "v0.0.1"
		if _, err := l.find(); err == nil || !strings.Contains(err.Error(), "was written for v0.0.1") {
			t.Errorf("%s of another version: got %v", l.path, err)
		}
	}
}

// Both files of Go's library are replaced in the version that builds, theirs stay as they
// are, and one of another version, or one that is gone, is not replaced: each of both by
// itself.
func TestOverlay(t *testing.T) {
	root, err := goroot()
	if err != nil {
		t.Fatal(err)
	}
	replaced := func(root string) map[string]string {
		t.Helper()
		folder := t.TempDir()
		if err := overlay(standard, root, folder); err != nil {
			t.Fatal(err)
		}
		text, err := os.ReadFile(filepath.Join(folder, "overlay.json"))
		if err != nil {
			t.Fatal(err)
		}
		var o struct{ Replace map[string]string }
		if err := json.Unmarshal(text, &o); err != nil {
			t.Fatal(err)
		}
		return o.Replace
	}
	if got := replaced(root); len(got) != len(standard) {
		t.Errorf("got %v replaced, want %d files: read what this version of Go has changed in the others", got, len(standard))
	}
	changed := t.TempDir()
	for _, s := range standard {
		text, err := os.ReadFile(filepath.Join(root, "src", s.file))
		if err != nil {
			t.Fatal(err)
		}
		if err := write(filepath.Join(changed, "src", s.file), text); err != nil {
			t.Fatal(err)
		}
	}
	for _, s := range standard {
		at := filepath.Join(changed, "src", s.file)
		text, err := os.ReadFile(at)
		if err != nil {
			t.Fatal(err)
		}
		if err := write(at, append(text, '\n')); err != nil {
			t.Fatal(err)
		}
		if got := replaced(changed); len(got) != len(standard)-1 || got[at] != "" {
			t.Errorf("with another %s: got %v replaced", s.file, got)
		}
		if err := os.Remove(at); err != nil {
			t.Fatal(err)
		}
		if got := replaced(changed); len(got) != len(standard)-1 || got[at] != "" {
			t.Errorf("without %s: got %v replaced", s.file, got)
		}
		if err := write(at, text); err != nil {
			t.Fatal(err)
		}
	}
	for _, text := range []string{"", "aa"} {
		if _, err := (&substitute{edits: map[string]string{"a": "b"}}).text(text); err == nil {
			t.Errorf("edited %q", text)
		}
	}
}

// What is left out and tests are not copied, an edit is made, and our files stand in
// place of theirs.
func TestCopy(t *testing.T) {
	from, into := t.TempDir(), t.TempDir()
	digest := func(text string) string {
		sum := sha256.Sum256([]byte(text))
		return hex.EncodeToString(sum[:])
	}
	files := map[string]string{
		"go.mod": "module uuid\n", "uuid.go": "theirs", "version.go": "import a\nimport a\n",
		"sql.go": "tables", "uuid_test.go": "a test", "notes.txt": "words", "rand/rand.go": "theirs too",
	}
	for name, text := range files {
		if err := write(filepath.Join(from, name), []byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	l := library{
		ours: "uuid", packages: []string{".", "rand"},
		known: map[string]string{"sql.go": digest("tables"), "version.go": digest(files["version.go"])},
		edits: map[string][2]string{"version.go": {"import a", "import b"}},
	}
	if err := l.copy(from, into); err != nil {
		t.Fatal(err)
	}
	rand, err := ours.ReadFile("uuid/rand/rand.go")
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]string{
		"go.mod": "module uuid\n", "uuid.go": "theirs", "version.go": "import b\nimport a\n", "rand/rand.go": string(rand),
	} {
		if got, err := os.ReadFile(filepath.Join(into, name)); err != nil || string(got) != want {
			t.Errorf("%s: got %q, %v, want %q", name, got, err, want)
		}
	}
	for _, name := range []string{"sql.go", "uuid_test.go", "notes.txt"} {
		if _, err := os.Stat(filepath.Join(into, name)); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("%s: got it copied, or %v", name, err)
		}
	}
	if err := os.Remove(filepath.Join(from, "sql.go")); err != nil {
		t.Fatal(err)
	}
	if err := l.copy(from, t.TempDir()); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file that was to be left out is gone: got %v", err)
	}
	delete(l.known, "sql.go")
	if err := l.copy(from, filepath.Join(into, "go.mod", "below")); err == nil {
		t.Error("into a folder that can't be made: got no error")
	}
}

// In a folder below go.mod, the libraries are named by their place from there. Without
// a go.mod, or with a library that it does not name, nothing is prepared.
func TestFolders(t *testing.T) {
	module := t.TempDir()
	for _, name := range []string{"go.mod", "go.sum"} {
		text, err := os.ReadFile(filepath.Join("../..", name))
		if err != nil {
			t.Fatal(err)
		}
		if err := write(filepath.Join(module, name), text); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(module)
	if err := prepare("slim"); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile("slim/go.mod")
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range libraries {
		if want := "replace " + l.path + " => ./slim/" + l.ours + "\n"; !strings.Contains(string(text), want) {
			t.Errorf("got no line %q in\n%s", want, text)
		}
	}
	if _, err := (&library{path: "example.invalid/absent"}).find(); err == nil || !strings.Contains(err.Error(), "example.invalid/absent") {
		t.Errorf("a library that go.mod does not name: got %v", err)
	}
	for _, name := range []string{"go.sum", "go.mod"} {
		if err := os.Remove(name); err != nil {
			t.Fatal(err)
		}
		if err := prepare("slim"); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("without %s: got %v", name, err)
		}
	}
}
