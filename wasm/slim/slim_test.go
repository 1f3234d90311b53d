package main

import (
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
	cmd := exec.Command("go", "list", "-tags", "slim", "-modfile="+filepath.Join(folder, "go.mod"), "-deps", "./wasm/browser")
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
		for _, not := range []string{"net/http", "net", "regexp", "crypto", "database/sql", "text/template", "html/template", "mime"} {
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
