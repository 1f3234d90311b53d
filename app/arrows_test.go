package app_test

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The picture of the house is in DEVELOPERS.md, between these two lines.
const (
	housePlan    = "<!-- arrows: a test holds this list -->"
	housePlanEnd = "<!-- end of arrows -->"
)

// room is a line of the picture: a package and what it may import.
type room struct {
	name    string
	imports []string
}

// rooms reads the picture, from the roof to the ground.
func rooms(t *testing.T) (list []room) {
	t.Helper()
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, found := strings.Cut(string(text), housePlan)
	plan, _, closed := strings.Cut(rest, housePlanEnd)
	if !found || !closed {
		t.Fatalf("DEVELOPERS.md: no list between %q and %q", housePlan, housePlanEnd)
	}
	for line := range strings.Lines(plan) {
		if name, imports, ok := strings.Cut(line, "→"); ok {
			list = append(list, room{strings.TrimSpace(name), strings.Fields(imports)})
		}
	}
	return list
}

// imported reads what each package of the module imports, for every system and
// with every tag, except the standard library. Tests are left out: they may
// import anything.
func imported(t *testing.T) map[string][]string {
	t.Helper()
	of := map[string][]string{}
	for _, top := range []string{"app", "rules", "static", "wasm"} {
		err := filepath.WalkDir(filepath.Join("..", top), func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() {
				if _, err := os.Stat(filepath.Join(path, "go.mod")); err == nil || d.Name() == "testdata" {
					return filepath.SkipDir // another module, or no package of ours
				}
				return nil
			}
			if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return nil
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			name, err := filepath.Rel("..", filepath.Dir(path))
			if err != nil {
				return err
			}
			name = filepath.ToSlash(name)
			imports := of[name]
			for _, spec := range f.Imports {
				p, err := strconv.Unquote(spec.Path.Value)
				if err != nil {
					return err
				}
				first, _, _ := strings.Cut(p, "/")
				if own, ok := strings.CutPrefix(p, "larderlamp/"); ok {
					p = own
				} else if !strings.Contains(first, ".") {
					continue
				}
				if !slices.Contains(imports, p) {
					imports = append(imports, p)
				}
			}
			of[name] = imports
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return of
}

// Every package is in the picture, imports what the picture says and nothing
// else, and every arrow points down the page.
func TestArrows(t *testing.T) {
	plan, of := rooms(t), imported(t)
	floor := map[string]int{}
	for i, r := range plan {
		if _, twice := floor[r.name]; twice {
			t.Errorf("DEVELOPERS.md: %s is in the list twice", r.name)
		}
		floor[r.name] = i
	}
	for name := range of {
		if _, ok := floor[name]; !ok {
			t.Errorf("%s is missing from the list in DEVELOPERS.md; it imports %s", name, strings.Join(of[name], " "))
		}
	}
	for i, r := range plan {
		imports, ok := of[r.name]
		if !ok {
			t.Errorf("DEVELOPERS.md: there is no package %s", r.name)
			continue
		}
		for _, p := range imports {
			if !slices.Contains(r.imports, p) {
				t.Errorf("%s imports %s, which the list in DEVELOPERS.md does not allow", r.name, p)
			}
		}
		for _, p := range r.imports {
			if !slices.Contains(imports, p) {
				t.Errorf("DEVELOPERS.md: %s does not import %s", r.name, p)
			}
			if below, ours := floor[p]; ours && below <= i {
				t.Errorf("DEVELOPERS.md: the arrow from %s to %s points up", r.name, p)
			}
			if strings.HasPrefix(r.name, "rules") && !strings.HasPrefix(p, "rules") {
				t.Errorf("%s imports %s: rules may import only the standard library", r.name, p)
			}
		}
	}
}
