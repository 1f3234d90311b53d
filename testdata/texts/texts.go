// Package texts lists the texts that a reader can meet, out of the sources: what
// another language has to say.
package texts

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// folders hold the texts. Errors that only a programmer meets are in others.
var folders = []string{"app", "app/ui", "app/house", "app/ledger", "app/session", "app/parts", "app/check", "app/batch", "app/shelf", "app/sweep", "app/trip", "app/learn", "app/office", "app/draw", "app/record", "app/pantry", "app/walk", "app/travel", "app/todo", "app/tables", "app/backup", "app/demo", "app/calendar", "app/label", "app/sheet", "app/store",
	"rules", "rules/evidence", "rules/keeping", "rules/practice", "rules/process", "rules/tally", "wasm/hosting"}

var (
	letters = regexp.MustCompile(`\pL{2,}|\pL%|^\pL$`)
	// Names of classes, ids, files and the like.
	name = regexp.MustCompile(`^[a-z0-9%]*[-_.:/=#&?][-a-z0-9_.:/%=#&?]*$|^[a-z]+[A-Z]\w*$|^#|^[A-Z-]+[:;]|^-?//|^&\w+;$`)
	// One word in small letters is a text only where a text can stand.
	word   = regexp.MustCompile(`^[a-z]+$`)
	markup = regexp.MustCompile(`[<>{}]|^--|^M[0-9 ]|="`)
	said   = regexp.MustCompile(`\bsay\("((?:[^"\\]|\\.)*)"`)
)

// The functions of ui and parts stand here with a small first letter, as they are
// called within their packages and by their screens alike.

// classes tells which argument of a function is a class or an address.
var classes = map[string][]int{"el": {0, 1}, "elem": {0, 1}, "txt": {0, 1}, "fold": {0}, "action": {0}, "anchor": {0, 1}, "toPage": {0, 1}, "live": {0}, "named": {0}, "links": {0}}

// names are functions whose arguments are no texts.
var names = map[string]bool{"Attr": true, "ID": true, "DataSet": true, "Get": true, "Call": true, "Set": true, "focus": true, "On": true, "measured": true,
	"link": true, "Contains": true, "HasPrefix": true, "HasSuffix": true, "TrimPrefix": true, "TrimSuffix": true, "Split": true, "Cut": true, "Format": true, "Role": true,
	"Class": true, "device": true, "setDeviceItem": true, "deviceItem": true, "DecodeString": true, "MustCompile": true, "Replace": true, "ReplaceAll": true, "NewReplacer": true}

// spoken are functions whose arguments are texts even if they are one word.
var spoken = map[string]bool{"say": true, "local": true, "prose": true, "count": true, "title": true, "txt": true, "el": true, "action": true, "anchor": true, "fold": true,
	"named": true, "field": true, "tick": true, "option": true, "menu": true, "signMenu": true, "words": true, "number": true, "links": true, "Say": true, "Text": true, "cmpOr": true}

// Collect gives the texts of the module in the folder, each with the files it
// stands in. Errors name the file.
func Collect(root string) (map[string][]string, error) {
	found := map[string][]string{}
	add := func(text, file string) {
		text = strings.TrimSpace(text)
		if text != "" && !slices.Contains(found[text], file) {
			found[text] = append(found[text], file)
		}
	}
	for _, folder := range folders {
		files, err := filepath.Glob(filepath.Join(root, folder, "*.go"))
		if err != nil || len(files) == 0 {
			return nil, fmt.Errorf("%s: no sources: %w", folder, err)
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
			if err != nil {
				return nil, err
			}
			for _, text := range inFile(parsed) {
				add(text, folder+"/"+filepath.Base(file))
			}
		}
	}
	scripts, err := filepath.Glob(filepath.Join(root, "static", "*.js"))
	if err != nil || len(scripts) == 0 {
		return nil, fmt.Errorf("static: no scripts: %w", err)
	}
	for _, name := range scripts {
		source, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		script := "static/" + filepath.Base(name)
		for _, m := range said.FindAllSubmatch(source, -1) {
			text, err := strconv.Unquote(`"` + string(m[1]) + `"`)
			if err != nil {
				return nil, fmt.Errorf("%s: %q: %w", script, m[1], err)
			}
			add(text, script)
		}
	}
	return found, nil
}

func inFile(file *ast.File) (texts []string) {
	var look func(n ast.Node, oneWord bool)
	look = func(n ast.Node, oneWord bool) {
		switch v := n.(type) {
		case *ast.ImportSpec, *ast.StructType:
			return
		case *ast.BasicLit:
			if v.Kind != token.STRING {
				return
			}
			s, err := strconv.Unquote(v.Value)
			trimmed := strings.TrimSpace(s)
			if err != nil || !letters.MatchString(s) || markup.MatchString(s) && !strings.HasSuffix(s, "}") && !strings.Contains(s, "{progress}") || name.MatchString(trimmed) || word.MatchString(trimmed) && !oneWord {
				return
			}
			texts = append(texts, s)
			return
		case *ast.CallExpr:
			function := ""
			switch f := v.Fun.(type) {
			case *ast.Ident:
				function = strings.ToLower(f.Name[:1]) + f.Name[1:]
			case *ast.SelectorExpr:
				function = f.Sel.Name
				if x, ok := f.X.(*ast.Ident); ok && (x.Name == "ui" || x.Name == "parts") {
					function = strings.ToLower(function[:1]) + function[1:]
				}
				look(f.X, false)
			default:
				look(f, false)
			}
			for i, arg := range v.Args {
				_, literal := arg.(*ast.BasicLit)
				switch {
				case names[function] && literal, slices.Contains(classes[function], i):
					continue
				}
				look(arg, spoken[function])
			}
			return
		case *ast.ReturnStmt:
			for _, r := range v.Results {
				look(r, true)
			}
			return
		case *ast.AssignStmt:
			for _, r := range v.Rhs {
				look(r, true)
			}
			return
		case *ast.KeyValueExpr:
			look(v.Key, false)
			look(v.Value, true)
			return
		case *ast.CompositeLit:
			for i, e := range v.Elts {
				// The first field of a row is its id.
				look(e, i > 0)
			}
			return
		case *ast.BinaryExpr:
			switch v.Op {
			case token.EQL, token.NEQ, token.LSS, token.GTR:
				if _, is := v.Y.(*ast.BasicLit); is {
					return
				}
			}
			look(v.X, oneWord)
			look(v.Y, oneWord)
			return
		case *ast.ParenExpr:
			look(v.X, oneWord)
			return
		case *ast.CaseClause:
			for _, s := range v.Body {
				look(s, false)
			}
			return
		}
		children(n, func(c ast.Node) { look(c, false) })
	}
	for _, d := range file.Decls {
		look(d, false)
	}
	return texts
}

// children calls f for every child of a node.
func children(n ast.Node, f func(ast.Node)) {
	top := true
	ast.Inspect(n, func(c ast.Node) bool {
		if top {
			top = false
			return true
		}
		if c != nil {
			f(c)
		}
		return false
	})
}
