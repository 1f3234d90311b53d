package rules_test

import (
	"encoding/json"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// The rules and everything below them import the standard library only, and hold
// nothing that changes: no function assigns to a variable of a package or to a part of
// one. What is computed on first use is a sync.OnceValue, which always returns the same
// result.
func TestRulesHoldNothingThatChanges(t *testing.T) {
	if testing.Short() {
		t.Skip("in a browser there is no go command")
	}
	list := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles,Standard,Imports", "./...")
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	type listed struct {
		ImportPath, Dir, Export string
		GoFiles, Imports        []string
		Standard                bool
	}
	all := map[string]listed{}
	var own []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		all[p.ImportPath] = p
		if !p.Standard {
			own = append(own, p)
		}
	}
	if len(own) < 10 {
		t.Fatalf("got only %d packages", len(own))
	}
	fset := token.NewFileSet()
	imports := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(all[path].Export) })
	for _, p := range own {
		if !strings.HasPrefix(p.ImportPath, "larderlamp/rules") {
			t.Errorf("rules depend on %s, which is not in the standard library", p.ImportPath)
		}
		for _, path := range p.Imports {
			switch path {
			case "os", "time", "net", "net/http":
				if !strings.HasPrefix(p.ImportPath, "larderlamp/rules/internal/") {
					t.Errorf("%s imports %s: rules must not use a clock or files", p.ImportPath, path)
				}
			}
		}
		if strings.HasPrefix(p.ImportPath, "larderlamp/rules/internal/d") {
			continue // commands
		}
		var files []*ast.File
		for _, name := range p.GoFiles {
			f, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, f)
		}
		info := &types.Info{Uses: map[*ast.Ident]types.Object{}, Types: map[ast.Expr]types.TypeAndValue{}, Selections: map[*ast.SelectorExpr]*types.Selection{}}
		conf := types.Config{Importer: imports}
		pkg, err := conf.Check(p.ImportPath, fset, files, info)
		if err != nil {
			t.Fatal(err)
		}
		// held is the variable of a package that an expression is a part of.
		var held func(e ast.Expr) types.Object
		held = func(e ast.Expr) types.Object {
			switch v := e.(type) {
			case *ast.Ident:
				if o, ok := info.Uses[v].(*types.Var); ok && !o.IsField() && o.Parent() == o.Pkg().Scope() {
					return o
				}
			case *ast.SelectorExpr:
				if info.Selections[v] == nil {
					return held(v.Sel)
				}
				return held(v.X)
			case *ast.IndexExpr:
				return held(v.X)
			case *ast.StarExpr:
				return held(v.X)
			case *ast.ParenExpr:
				return held(v.X)
			}
			return nil
		}
		wrong := func(n ast.Node, what string, o types.Object) {
			t.Errorf("%s: %s %s, a variable of the package %s", fset.Position(n.Pos()), what, o.Name(), pkg.Name())
		}
		for _, f := range files {
			for _, d := range f.Decls {
				fn, ok := d.(*ast.FuncDecl)
				if !ok || fn.Recv == nil && fn.Name.Name == "init" {
					continue
				}
				ast.Inspect(fn, func(n ast.Node) bool {
					switch v := n.(type) {
					case *ast.AssignStmt:
						for _, l := range v.Lhs {
							if o := held(l); o != nil && v.Tok != token.DEFINE {
								wrong(v, "assigns to", o)
							}
						}
					case *ast.IncDecStmt:
						if o := held(v.X); o != nil {
							wrong(v, "counts", o)
						}
					case *ast.CallExpr:
						if id, ok := v.Fun.(*ast.Ident); ok && (id.Name == "delete" || id.Name == "clear") {
							if o := held(v.Args[0]); o != nil {
								wrong(v, "takes from", o)
							}
						}
					}
					return true
				})
			}
		}
	}
}
