package hosting

import (
	"bytes"
	"cmp"
	"encoding/json"
	"fmt"
	"io/fs"
	"net/http"
	"slices"
	"strings"
)

// The one script of a page, below the prefix.
const scriptFile = "/static/larderlamp.js"

// The script that is no part of it, the one that does not wait for the page, and
// the one that comes last in it.
const (
	workerSource = "worker.js"
	askerSource  = "program.js"
	loaderSource = "load.js"
)

// addScript joins everything that runs in a page into one file, so that a page
// has all of it or nothing: what Go brings, and the scripts of the site in the order
// of their names, the loader last. Each keeps its names to itself.
//
// The program is requested at once. The other scripts start when the page is there.
// A page whose rest never arrives would never be: they start with what there is of it
// before the patience ends, and the program draws the page. That is why the file is
// not deferred. A page in another language also waits for its texts, but no longer
// than a third of the patience.
func (s *Site) addScript(a App, handler http.Handler) error {
	exec, err := get(handler, "/wasm_exec.js")
	if err != nil {
		return err
	}
	s.add("/wasm_exec.js", kinds[".js"], exec).later = true // for the worker that reads codes
	all := bytes.NewBuffer(bytes.Clone(exec))
	names, err := fs.Glob(a.Static, "*.js")
	if err != nil {
		return err
	}
	if i := slices.Index(names, loaderSource); i >= 0 {
		names = append(slices.Delete(names, i, i+1), loaderSource)
	}
	add := func(name string) error {
		source, err := fs.ReadFile(a.Static, name)
		if err != nil {
			return fmt.Errorf("script: %w", err)
		}
		// The first statement stays first, so that "use strict" counts.
		fmt.Fprintf(all, "\n(() => { // %s\n%s})();\n", name, source)
		return nil
	}
	parts, err := json.Marshal(programParts(a.Program))
	if err != nil {
		return fmt.Errorf("digests of the program: %w", err)
	}
	foods, err := s.addFoods(a)
	if err != nil {
		return err
	}
	fmt.Fprintf(all, "\nwindow.larderParts = %s;\nwindow.larderFoods = %s;\n", parts, foods)
	if slices.Contains(names, askerSource) {
		if err := add(askerSource); err != nil {
			return err
		}
	}
	patience := cmp.Or(a.Patience, DefaultPatience)
	fmt.Fprintf(all, `
window.larderScript = document.currentScript.src;
(() => {
  function begin() {
    if (window.larderBegun) {
      return;
    }
    window.larderBegun = true;
    const coming = window.larderLanguages?.coming;
    if (coming) {
      const late = new Promise((_, reject) => setTimeout(reject, %d, new Error("the texts of the language have not come in time")));
      Promise.race([coming, late]).then((texts) => { window.larderLanguage = texts; }, (err) => { window.larderLanguages.fault = err; }).then(rest);
    } else {
      rest();
    }
  }

  function rest() {
`, (patience / 3).Milliseconds())
	for _, name := range names {
		if name == workerSource || name == askerSource {
			continue
		}
		if err := add(name); err != nil {
			return err
		}
	}
	fmt.Fprintf(all, `
  }
  if (document.readyState === "loading") {
    document.addEventListener("DOMContentLoaded", begin);
    setTimeout(begin, %d);
  } else {
    begin();
  }
})();
`, (patience * 3 / 4).Milliseconds())
	return s.addMinified(scriptFile, kinds[".js"], all.Bytes())
}

// partSize is how much of the program has a digest of its own, in bytes.
const partSize = 1 << 20

// parts are the digests of the program by which static/load.js proves it while it
// comes: of each piece of Size bytes, and of what is left, which may be nothing.
type parts struct {
	Size    int      `json:"size"`
	Digests []string `json:"digests"` // SHA-256, base64
}

func programParts(program []byte) parts {
	p := parts{Size: partSize}
	for {
		n := min(len(program), partSize)
		p.Digests = append(p.Digests, strings.TrimPrefix(digestOf(program[:n]), "sha256-"))
		program = program[n:]
		if n < partSize {
			return p
		}
	}
}

// styleFile is the style sheet of every page, below the prefix.
const styleFile = "/static/larderlamp.css"

// addStyles joins the style sheets of the site, if it has any, in the order of
// their names.
func (s *Site) addStyles(a App) error {
	names, err := fs.Glob(a.Static, "css/*.css")
	if err != nil || len(names) == 0 {
		return err
	}
	var all bytes.Buffer
	for _, name := range names {
		source, err := fs.ReadFile(a.Static, name)
		if err != nil {
			return fmt.Errorf("style sheet: %w", err)
		}
		all.Write(source)
	}
	return s.addMinified(styleFile, kinds[".css"], all.Bytes())
}
