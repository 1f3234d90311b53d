// Package collect finds the texts of this program in its sources, by their type.
package collect

import (
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"larderlamp/wasm/texts"
)

// prosePath is the package of the type.
const prosePath = "larderlamp/rules/prose"

// patterns are the packages that are looked through, and the system they are for:
// some files are for the browser only.
var patterns = []struct {
	env  []string
	what []string
}{
	{nil, []string{"./rules/...", "./app/...", "./wasm/site", "./wasm/hosting"}},
	{[]string{"GOOS=js", "GOARCH=wasm"}, []string{"./app/store"}},
}

// said is a text in a script.
var said = regexp.MustCompile(`\bsay\("((?:[^"\\]|\\.)*)"`)

// Found is what was found.
type Found struct {
	// Texts are in the order of files and places, without ids.
	Texts []texts.Text
	// Faults are places where something is made a text that is none, or the other way
	// round, each with its file and line.
	Faults []error
}

// Collect goes through the module in the folder.
func Collect(root string) (*Found, error) {
	c := &collector{at: map[string]int{}, root: root}
	for _, p := range patterns {
		if err := c.packages(p.env, p.what); err != nil {
			return nil, err
		}
	}
	if err := c.scripts(); err != nil {
		return nil, err
	}
	return &c.found, nil
}

type collector struct {
	root  string
	found Found
	at    map[string]int // of a text, by what a translation is made from
	info  *types.Info
	fset  *token.FileSet
	pkg   *types.Package
	file  string
}

// listed is a package as go list names it.
type listed struct {
	ImportPath, Dir, Export string
	GoFiles                 []string
	DepOnly                 bool
}

func (c *collector) packages(env, what []string) error {
	list := exec.Command("go", append([]string{"list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles,DepOnly"}, what...)...)
	list.Dir, list.Env, list.Stderr = c.root, append(os.Environ(), env...), os.Stderr
	out, err := list.Output()
	if err != nil {
		return fmt.Errorf("go list: %w", err)
	}
	var own []listed
	exports := map[string]string{}
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); err == io.EOF {
			break
		} else if err != nil {
			return fmt.Errorf("go list: %w", err)
		}
		exports[p.ImportPath] = p.Export
		if !p.DepOnly && p.ImportPath != prosePath {
			own = append(own, p)
		}
	}
	slices.SortFunc(own, func(a, b listed) int { return strings.Compare(a.ImportPath, b.ImportPath) })
	c.fset = token.NewFileSet()
	imports := importer.ForCompiler(c.fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	for _, p := range own {
		var files []*ast.File
		for _, name := range p.GoFiles {
			f, err := parser.ParseFile(c.fset, filepath.Join(p.Dir, name), nil, 0)
			if err != nil {
				return err
			}
			files = append(files, f)
		}
		c.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}, Selections: map[*ast.SelectorExpr]*types.Selection{}}
		conf := types.Config{Importer: imports}
		if c.pkg, err = conf.Check(p.ImportPath, c.fset, files, c.info); err != nil {
			return err
		}
		for i, f := range files {
			c.file = strings.TrimPrefix(p.ImportPath, "larderlamp/") + "/" + p.GoFiles[i]
			ast.Inspect(f, c.look)
		}
	}
	return nil
}

// scripts finds what the small scripts say.
func (c *collector) scripts() error {
	var scripts []string
	err := filepath.WalkDir(filepath.Join(c.root, "static"), func(name string, entry fs.DirEntry, err error) error {
		if filepath.Ext(name) == ".js" {
			scripts = append(scripts, name)
		}
		return err
	})
	if err != nil {
		return err
	}
	if len(scripts) == 0 {
		return errors.New("static: no scripts")
	}
	for _, name := range scripts {
		source, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		file, err := filepath.Rel(c.root, name)
		if err != nil {
			return err
		}
		c.file = filepath.ToSlash(file)
		for _, m := range said.FindAllSubmatch(source, -1) {
			text, err := strconv.Unquote(`"` + string(m[1]) + `"`)
			if err != nil {
				return fmt.Errorf("%s: %q: %w", c.file, m[1], err)
			}
			c.add("", text)
		}
	}
	return nil
}

func (c *collector) add(one, all string) {
	if one == "" {
		all = strings.TrimSpace(all)
	}
	if all == "" {
		return
	}
	t := texts.Text{One: one, All: all}
	i, ok := c.at[t.From()]
	if !ok {
		i = len(c.found.Texts)
		c.at[t.From()] = i
		c.found.Texts = append(c.found.Texts, t)
	}
	if in := &c.found.Texts[i].In; !slices.Contains(*in, c.file) {
		*in = append(*in, c.file)
	}
}

func (c *collector) fault(n ast.Node, format string, args ...any) {
	p := c.fset.Position(n.Pos())
	c.found.Faults = append(c.found.Faults, fmt.Errorf("%s:%d: %w", c.file, p.Line, fmt.Errorf(format, args...)))
}

// isText reports whether a type is that of texts.
func isText(t types.Type) bool {
	named, ok := types.Unalias(t).(*types.Named)
	return ok && named.Obj().Name() == "Text" && named.Obj().Pkg() != nil && named.Obj().Pkg().Path() == prosePath
}

// look collects constant texts, and finds what must not be done with a text.
func (c *collector) look(n ast.Node) bool {
	if a, ok := n.(*ast.AssignStmt); ok && a.Tok == token.ADD_ASSIGN && isText(c.info.TypeOf(a.Lhs[0])) {
		c.fault(a, "a text is added to with +=: a language may want another order")
	}
	e, ok := n.(ast.Expr)
	if !ok {
		return true
	}
	tv := c.info.Types[e]
	if tv.Value != nil && tv.Value.Kind() == constant.String && isText(tv.Type) {
		if !c.named(e) {
			c.add("", constant.StringVal(tv.Value))
		}
		return false
	}
	switch v := e.(type) {
	case *ast.BinaryExpr:
		if v.Op == token.ADD && isText(tv.Type) {
			c.fault(v, "two texts are put together with +: a language may want another order")
		}
	case *ast.SliceExpr:
		if t := c.info.TypeOf(v.X); t != nil && isText(t) {
			c.fault(v, "a text is cut, in no language yet")
		}
	case *ast.IndexExpr:
		if t := c.info.TypeOf(v.X); t != nil && isText(t) {
			c.fault(v, "a letter of a text, in no language yet")
		}
	case *ast.CallExpr:
		return c.call(v)
	}
	return true
}

// named reports whether an expression is the name of a constant that is a text where it
// is declared.
func (c *collector) named(e ast.Expr) bool {
	var id *ast.Ident
	switch v := e.(type) {
	case *ast.Ident:
		id = v
	case *ast.SelectorExpr:
		id = v.Sel
	default:
		return false
	}
	o := c.info.Uses[id]
	return o != nil && isText(o.Type())
}

// call looks at a call: what types its arguments are converted to.
func (c *collector) call(v *ast.CallExpr) bool {
	if c.info.Types[v.Fun].IsType() && len(v.Args) == 1 {
		from, to := c.info.TypeOf(v.Args[0]), c.info.TypeOf(v)
		switch {
		case isText(to) && !isText(from):
			c.fault(v, "a string is made a text: words of the household are not translated, use prose.Own")
		case isText(from) && !isText(to):
			c.fault(v, "a text is made a string in no language: use In or String")
		}
		return true
	}
	name := c.function(v.Fun)
	s, ok := c.info.TypeOf(v.Fun).Underlying().(*types.Signature)
	if !ok {
		return true
	}
	switch name {
	case "prose.Count", "prose.Agree", "ui.Count":
		one, all := c.info.Types[v.Args[1]].Value, c.info.Types[v.Args[2]].Value
		if one == nil || all == nil {
			if c.file != "app/ui/markup.go" {
				c.fault(v, "the forms for one and for several have to be constants")
			}
			return true
		}
		c.add(constant.StringVal(one), constant.StringVal(all))
		for _, a := range v.Args[3:] {
			c.filled(a)
			ast.Inspect(a, c.look)
		}
		ast.Inspect(v.Args[0], c.look)
		return false
	}
	// A format, and what is filled in.
	if n := s.Params().Len(); s.Variadic() && n > 1 && isText(s.Params().At(n-2).Type()) && anything(parameter(s, n-1)) && !allowed[name] {
		if v.Ellipsis == 0 {
			c.format(v.Args[n-2:])
		}
		return true
	}
	if !allowed[name] {
		for i, a := range v.Args {
			t := c.info.TypeOf(a)
			if t == nil || !isText(t) {
				continue
			}
			if p := parameter(s, i); p != nil && anything(p) {
				c.fault(a, "%s is given a text in no language: use In, or ui.Local", name)
			}
		}
	}
	return true
}

// allowed are functions that take a text as it is, and show it to nobody.
var allowed = map[string]bool{"app.EventScope": true, "ui.Action": true, "ui.Named": true, "ui.Menu": true, "ui.Tick": true, ".append": true, "append": true}

// parameter is the type of the parameter that takes an argument.
func parameter(s *types.Signature, i int) types.Type {
	n := s.Params().Len()
	switch {
	case s.Variadic() && i >= n-1:
		return s.Params().At(n - 1).Type().(*types.Slice).Elem()
	case i < n:
		return s.Params().At(i).Type()
	}
	return nil
}

// anything reports whether a parameter takes whatever it is given.
func anything(t types.Type) bool {
	if _, generic := t.(*types.TypeParam); generic {
		return false
	}
	i, ok := t.Underlying().(*types.Interface)
	return ok && i.NumMethods() == 0
}

// function names a function with its package.
func (c *collector) function(e ast.Expr) string {
	switch f := ast.Unparen(e).(type) {
	case *ast.Ident:
		if o := c.info.Uses[f]; o != nil && o.Pkg() != nil {
			return o.Pkg().Name() + "." + f.Name
		}
		return f.Name
	case *ast.SelectorExpr:
		if o := c.info.Uses[f.Sel]; o != nil && o.Pkg() != nil {
			return o.Pkg().Name() + "." + f.Sel.Name
		}
		return f.Sel.Name
	}
	return ""
}

var verbs = regexp.MustCompile(`%(\[\d+\])?[-+#0]*[\d.]*[a-zA-Z]`)

// format checks what is filled in against the format before it.
func (c *collector) format(args []ast.Expr) {
	if f := c.info.Types[args[0]].Value; f != nil {
		text := strings.ReplaceAll(constant.StringVal(f), "%%", "")
		if want := len(verbs.FindAllString(text, -1)); want != len(args)-1 && len(args) > 1 {
			c.fault(args[0], "%d are filled in where the text has %d places", len(args)-1, want)
		}
	}
	for _, a := range args[1:] {
		c.filled(a)
	}
}

// filled looks at what is filled in.
func (c *collector) filled(a ast.Expr) {
	if tv := c.info.Types[a]; tv.Value != nil && tv.Value.Kind() == constant.String && !isText(tv.Type) && !brand(a) {
		c.fault(a, "%s is filled in as words that are never translated: make it a prose.Text, or prose.Own", tv.Value)
	}
	if call, ok := ast.Unparen(a).(*ast.CallExpr); ok && len(call.Args) == 0 {
		if s, ok := call.Fun.(*ast.SelectorExpr); ok && s.Sel.Name == "String" && c.says(c.info.TypeOf(s.X)) {
			c.fault(a, "String is filled in, which is English: fill in the text itself")
		}
	}
}

// says reports whether a type is that of texts, or has one by the method Text.
func (c *collector) says(t types.Type) bool {
	if t == nil || isText(t) {
		return t != nil
	}
	o, _, _ := types.LookupFieldOrMethod(t, true, c.pkg, "Text")
	f, ok := o.(*types.Func)
	return ok && f.Signature().Params().Len() == 0 && f.Signature().Results().Len() == 1 && isText(f.Signature().Results().At(0).Type())
}

// brand reports whether an expression is a constant with a name of its own, such as
// that of the program or of an edition.
func brand(e ast.Expr) bool {
	switch e.(type) {
	case *ast.Ident, *ast.SelectorExpr:
		return true
	}
	return false
}
