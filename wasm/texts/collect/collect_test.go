package collect

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// module is a program with texts, and with everything that must not be done with one.
// Each line with a fault says which.
const module = `
-- go.mod --
module larderlamp

go 1.26
-- static/say.js --
x = say("Said by a script", 1) + say("a \"quoted\" one") + essay("not this");
-- static/later/say.js --
window.larderBoot.say("Said by a script that comes later");
-- wasm/site/main.go --
package main

func main() {}
-- wasm/hosting/hosting.go --
package hosting
-- app/store/store.go --
package store

import "larderlamp/rules/prose"

var ErrFull prose.Text = "Full."
-- app/store/store_js.go --
package store

import "larderlamp/rules/prose"

var ErrBrowser prose.Text = "The browser does not let it."
-- rules/rules.go --
package rules

import (
	"fmt"

	"larderlamp/rules/prose"
)

type Kind string

const (
	Keep    prose.Text = "Keep"
	Edition            = "2026"
	key     Kind       = "not a text"
)

type Rule struct {
	ID   string
	Text prose.Text
}

var rule = Rule{"lid", "  The lid bulges. "}

type Verdict int

func (v Verdict) Text() prose.Text { return Keep }
func (v Verdict) String() string   { return "keep" }

type ID int

func (id ID) String() string { return "lid" }

func again(n int, name string, t prose.Text) []any {
	both := []prose.Text{Keep, "Discard", "Keep", ""}
	prose.Say("%d of %s, 100 %%", n, name)
	prose.Say("Edition %s", Edition)
	prose.Count(n, "jar", "jars")
	prose.Agree(n, "It is %s.", "They are %s.", prose.Text("fine"))
	prose.Say("%s", []any{1}...)
	prose.Say("%s, %s", Verdict(n).Text(), ID(n).String())
	return []any{both, t.String(), len(t)}
}

func faults(n int, name string, t prose.Text) {
	_ = prose.Text(name)                  // a string is made a text
	_ = string(t)                         // a text is made a string
	_ = t + Keep                          // put together with +
	t += "more"                           // added to with +=
	_ = t[1:]                             // a text is cut
	_ = t[0]                              // a letter of a text
	fmt.Println(t)                        // fmt.Println is given a text
	prose.Say("%d of %s", n)              // 1 are filled in where the text has 2 places
	prose.Say("%s", "a word")             // "a word" is filled in as words
	prose.Say("It is %s", Verdict(n).String()) // String is filled in
	prose.Say("It is %s", t.String())     // String is filled in
	prose.Count(n, t, "jars")             // have to be constants
	prose.Agree(n, "%s is", "%s are", "it") // "it" is filled in as words
}
`

// laidOut writes the module into a folder, with the type of this one.
func laidOut(t *testing.T, module string) string {
	t.Helper()
	root := t.TempDir()
	archive := txtar.Parse([]byte(module))
	for _, name := range []string{"prose.go", "errors.go"} {
		text, err := os.ReadFile(filepath.Join("../../../rules/prose", name))
		if err != nil {
			t.Fatal(err)
		}
		archive.Files = append(archive.Files, txtar.File{Name: "rules/prose/" + name, Data: text})
	}
	if err := txtar.Write(archive, root); err != nil {
		t.Fatal(err)
	}
	return root
}

// The texts are those that have the type, in their order, each once with all files that
// it is in; and each fault is named with its place.
func TestCollect(t *testing.T) {
	found, err := Collect(laidOut(t, module))
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, x := range found.Texts {
		line := strings.Join(x.In, " ") + ": " + x.All
		if x.One != "" {
			line = strings.Join(x.In, " ") + ": " + x.One + " | " + x.All
		}
		got = append(got, line)
	}
	want := []string{
		"app/store/store.go: Full.",
		"rules/rules.go: Keep",
		"rules/rules.go: The lid bulges.",
		"rules/rules.go: Discard",
		"rules/rules.go: %d of %s, 100 %%",
		"rules/rules.go: Edition %s",
		"rules/rules.go: jar | jars",
		"rules/rules.go: It is %s. | They are %s.",
		"rules/rules.go: fine",
		"app/store/store_js.go: The browser does not let it.",
		"static/say.js: Said by a script",
		`static/say.js: a "quoted" one`,
		"static/later/say.js: Said by a script that comes later",
	}
	for _, w := range want {
		if !slices.Contains(got, w) {
			t.Errorf("got no text %q in\n%s", w, strings.Join(got, "\n"))
		}
	}
	for _, not := range []string{"not a text", "not this", "lid", "2026"} {
		if slices.ContainsFunc(got, func(line string) bool { return strings.HasSuffix(line, ": "+not) }) {
			t.Errorf("got %q as a text", not)
		}
	}

	source := ""
	for _, f := range txtar.Parse([]byte(module)).Files {
		if f.Name == "rules/rules.go" {
			source = string(f.Data)
		}
	}
	expected := 0
	for n, line := range strings.Split(source, "\n") {
		_, fault, ok := strings.Cut(line, " // ")
		if !ok {
			continue
		}
		expected++
		where := fmt.Sprintf("rules/rules.go:%d: ", n+1)
		if !slices.ContainsFunc(found.Faults, func(err error) bool {
			return strings.HasPrefix(err.Error(), where) && strings.Contains(err.Error(), strings.TrimSpace(fault))
		}) {
			t.Errorf("%s: got no fault %q in %v", where, fault, found.Faults)
		}
	}
	if len(found.Faults) != expected {
		t.Errorf("got %d faults, want %d: %v", len(found.Faults), expected, found.Faults)
	}
}

// A program that does not compile, or has no scripts, is an error and not one without
// texts.
func TestCollectRefuses(t *testing.T) {
	for what, c := range map[string]struct{ old, new, want string }{
		"no scripts":        {"say.js --", "say.css --", "static: no scripts"},
		"a bad escape":      {`a \"quoted\" one`, `a \q one`, "static/say.js: "},
		"it has no package": {"package hosting", "package", "go list: "},
		"it has no types":   {"return []any{both, t.String(), len(t)}", "return nothing", "go list: "},
	} {
		if _, err := Collect(laidOut(t, strings.ReplaceAll(module, c.old, c.new))); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %s", what, err, c.want)
		}
	}
}
