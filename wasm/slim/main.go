// Command slim prepares the libraries of the page's program without what a page
// never runs: a web server, TLS, AES, regular expressions, hashes, SQL and logs. The
// libraries carry no build tags that would leave these out, and they are most of
// what a small program weighs. It copies the modules from the module cache into a
// folder, leaves out some files, puts ours in their place, and writes the go.mod
// to build with. Two files of Go's own library are replaced as well, by an overlay:
//
//	go run ./wasm/slim build/slim
//	GOOS=js GOARCH=wasm go build -tags slim -modfile=build/slim/go.mod -overlay=build/slim/overlay.json ./wasm/browser
//
// go.mod names the libraries as they are, and all tests run against those.
//
// What we put in place fits one version only, so each file that is left out or
// edited is compared with the one that was read when ours was written.
package main

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// library is a module and what is done to it.
type library struct {
	path, version string
	ours          string            // folder of the files that are put in place, in this package
	packages      []string          // that are copied
	known         map[string]string // digests of the files that are left out or edited
	edits         map[string][2]string
}

var libraries = []library{
	{
		path: "github.com/maxence-charriere/go-app/v10", version: "v10.1.11", ours: "goapp",
		packages: []string{"pkg/app", "pkg/errors"},
		known: map[string]string{
			"pkg/app/http.go":     "0601189a9f611378e9b24ab4bdf42780a03cbf95c1bbebd4171b523ddbe9a32d",
			"pkg/app/resource.go": "6b52ab4ec2f4171d403384bffe159e9ec22699933e768ef5868f2851a1b84baa",
			"pkg/app/crypto.go":   "c0fc14126207dc9fa15fb8869bd882874486654919835dc35d5bef8a6122aa97",
			"pkg/app/route.go":    "3252c7f2876cba69c3fbb203b0b4d5770ddd4651cdaf3ad69e5c33bfd1ccf5bd",
		},
	},
	{
		path: "github.com/google/uuid", version: "v1.6.0", ours: "uuid",
		packages: []string{"."},
		known: map[string]string{
			"hash.go": "afe975c3f3e8b9a972c66165f06e978cc5c2f8ea5a4809dae4c46b4cfebbadce",
			"null.go": "791638f42d54fcf07ac752df6b2df92593f7da308f944465e2cda443dc3346cf",
			"sql.go":  "29281b11e8f97f1ddf73d087854cb401ba42a87c4f59ce45fc69763a4d927f2f",
			"uuid.go": "0edec8e34c6b6fe0db31b71a29069a09ed832e3fd04ee0175916b58f2b60e5c1",
		},
		edits: map[string][2]string{"uuid.go": {`"crypto/rand"`, `"github.com/google/uuid/rand"`}},
	},
	{
		path: "github.com/hack-pad/go-indexeddb", version: "v0.3.2", ours: "indexeddb",
		packages: []string{"idb", "idb/internal/jscache"},
		known: map[string]string{
			"idb/open_db_request.go": "e0a640b8859b3d61f1a73764905966086a5ce1683e5de274f28c76668ad1cc1f",
			"idb/request.go":         "1eae33ffbdde736aae0efe0ccefe4491751f1c83f1ed828bce76690331e5b29c",
		},
		edits: map[string][2]string{
			"idb/open_db_request.go": {`"log"`, `"github.com/hack-pad/go-indexeddb/idb/log"`},
			"idb/request.go":         {`"log"`, `"github.com/hack-pad/go-indexeddb/idb/log"`},
		},
	},
}

// ours are the files that are put in place. Their build tag keeps them out of
// this module.
//
//go:embed goapp uuid indexeddb std
var ours embed.FS

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: slim FOLDER, below the folder of go.mod")
		os.Exit(2)
	}
	if err := prepare(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "slim:", err)
		os.Exit(1)
	}
}

// prepare writes the libraries, go.mod and the overlay into a folder.
func prepare(folder string) error {
	mod, err := os.ReadFile("go.mod")
	if err != nil {
		return err
	}
	sum, err := os.ReadFile("go.sum")
	if err != nil {
		return err
	}
	if err := os.RemoveAll(folder); err != nil {
		return err
	}
	for _, l := range libraries {
		from, err := l.find()
		if err != nil {
			return err
		}
		into := filepath.Join(folder, l.ours)
		if err := l.copy(from, into); err != nil {
			return fmt.Errorf("%s %s: %w", l.path, l.version, err)
		}
		at := into
		if !filepath.IsAbs(at) {
			at = "./" + filepath.ToSlash(at) // below the folder of the real go.mod
		}
		mod = fmt.Appendf(mod, "\nreplace %s => %s\n", l.path, at)
	}
	if err := os.WriteFile(filepath.Join(folder, "go.mod"), mod, 0o644); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(folder, "go.sum"), sum, 0o644); err != nil {
		return err
	}
	root, err := goroot()
	if err != nil {
		return err
	}
	return overlay(standard, root, folder)
}

// find returns the folder of the module in the cache, which is filled if need be.
func (l *library) find() (folder string, err error) {
	if _, err := goSays("mod", "download", l.path); err != nil {
		return "", err
	}
	out, err := goSays("list", "-m", "-f", "{{.Version}}\n{{.Dir}}", l.path)
	if err != nil {
		return "", err
	}
	version, folder, _ := strings.Cut(out, "\n")
	if version != l.version {
		return "", fmt.Errorf("%s: go.mod asks for %s, but what wasm/slim puts in place was written for %s; read its changes and fit wasm/slim to them", l.path, version, l.version)
	}
	return folder, nil
}

// goSays returns what a command of go prints.
func goSays(args ...string) (string, error) {
	cmd := exec.Command("go", args...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("go %s: %w", strings.Join(args, " "), err)
	}
	return strings.TrimSpace(string(out)), nil
}

// copy writes the module without what is left out, and with ours.
func (l *library) copy(from, into string) error {
	if err := l.check(from); err != nil {
		return err
	}
	files := []string{"go.mod"}
	for _, p := range l.packages {
		names, err := filepath.Glob(filepath.Join(from, p, "*.go"))
		if err != nil {
			return err
		}
		for _, name := range names {
			if file, err := filepath.Rel(from, name); err != nil {
				return err
			} else if !strings.HasSuffix(file, "_test.go") {
				files = append(files, filepath.ToSlash(file))
			}
		}
	}
	for _, file := range files {
		edit, edited := l.edits[file]
		if l.known[file] != "" && !edited {
			continue // left out
		}
		text, err := os.ReadFile(filepath.Join(from, file))
		if err != nil {
			return err
		}
		if edited {
			text = []byte(strings.Replace(string(text), edit[0], edit[1], 1))
		}
		if err := write(filepath.Join(into, file), text); err != nil {
			return err
		}
	}
	return fs.WalkDir(ours, l.ours, func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := ours.ReadFile(name)
		if err != nil {
			return err
		}
		return write(filepath.Join(into, strings.TrimPrefix(name, l.ours+"/")), text)
	})
}

// check compares the files that are left out or edited with those that were read.
func (l *library) check(from string) error {
	var faults []error
	for file, want := range l.known {
		text, err := os.ReadFile(filepath.Join(from, file))
		if err != nil {
			faults = append(faults, err)
			continue
		}
		if sum := sha256.Sum256(text); hex.EncodeToString(sum[:]) != want {
			faults = append(faults, fmt.Errorf("%s is not the file that wasm/slim was written for: its sha256 is %x, want %s", file, sum, want))
		}
	}
	return errors.Join(faults...)
}

func write(name string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	return os.WriteFile(name, text, 0o644)
}
