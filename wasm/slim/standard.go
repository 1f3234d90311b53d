package main

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// substitute is a file of Go's own library that the program is built without.
type substitute struct {
	file  string            // below GOROOT/src
	known []string          // digests of the versions that were read
	ours  string            // the file that is put in place, in this package; or
	edits map[string]string // what is replaced in theirs
}

// standard leaves out what a page never runs and the linker can't know of. Nobody sets
// GODEBUG in a page; and nobody records an execution trace there, so that the runtime
// need not ask at each step of a goroutine whether one is recorded.
var standard = []substitute{
	{
		file: "internal/godebug/godebug.go", ours: "std/internal/godebug/godebug.go",
		known: []string{"cd492e76ae63872ac4310fc09b2e097229588dbf114d14d713be3f027b0233c8"},
	},
	{
		file: "runtime/traceruntime.go", edits: map[string]string{
			"\treturn trace.enabled\n":              "\treturn false\n",
			"\treturn trace.enabledWithAllocFree\n": "\treturn false\n",
			"\treturn trace.shutdown.Load()\n":      "\treturn false\n",
			"\treturn tl.gen != 0\n":                "\treturn false\n",
		},
		known: []string{"9cc5ffc359ac31558fdc2cf721ce70df38f9cfe0c28aef9755f71250a56ae0cb"},
	},
}

// overlay writes our files of the standard library into a folder, and beside them the
// file that tells go build to take them. A file of another version of Go, or one that it
// no longer has, is left as it is, and that is said: the program then works as well, and
// is larger.
func overlay(substitutes []substitute, root, folder string) error {
	replace := map[string]string{}
	for _, s := range substitutes {
		at := filepath.Join(root, "src", filepath.FromSlash(s.file))
		theirs, err := os.ReadFile(at)
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return err
		}
		if sum := sha256.Sum256(theirs); !slices.Contains(s.known, hex.EncodeToString(sum[:])) {
			fmt.Fprintf(os.Stderr, "slim: %s is not the file that wasm/slim was written for: the program is built with it, and is larger\n", s.file)
			continue
		}
		text, err := s.text(string(theirs))
		if err != nil {
			return fmt.Errorf("%s: %w", s.file, err)
		}
		into, err := filepath.Abs(filepath.Join(folder, "std", filepath.FromSlash(s.file)))
		if err != nil {
			return err
		}
		if err := write(into, []byte(text)); err != nil {
			return err
		}
		replace[at] = into
	}
	text, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return err
	}
	return write(filepath.Join(folder, "overlay.json"), text)
}

// text is what is put in the place of theirs.
func (s *substitute) text(theirs string) (string, error) {
	if s.ours != "" {
		text, err := ours.ReadFile(s.ours)
		return string(text), err
	}
	for old, with := range s.edits {
		if n := strings.Count(theirs, old); n != 1 {
			return "", fmt.Errorf("got %q %d times, want it once", old, n)
		}
		theirs = strings.Replace(theirs, old, with, 1)
	}
	return theirs, nil
}

// goroot is the folder of the Go that builds.
func goroot() (string, error) { return goSays("env", "GOROOT") }
