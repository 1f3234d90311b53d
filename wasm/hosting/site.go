// Package hosting turns registered go-app pages and a WebAssembly program into
// a complete site: prerendered pages, program, scripts, styles, icons, manifest
// and service worker. The same bytes are served by ServeHTTP and written by
// Publish, so that what was tested is what is published.
//
// Every address is the same from edition to edition and is revalidated by its
// digest. The service worker, which holds the digest of each file, makes an
// edition all or nothing.
package hosting

import (
	"cmp"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"net/http"
	"net/http/httptest"
	"path"
	"regexp"
	"slices"
	"strings"
	"time"

	"larderlamp/rules/prose"

	goapp "github.com/maxence-charriere/go-app/v10/pkg/app"
)

// The colors of the page before its styles are there, and of the windows and
// bars that a device draws around it.
const (
	themeColor      = "#14201b"
	backgroundColor = "#14201b"
)

// App is what a site is made of. The routes of its pages have to be registered
// with go-app before Assemble.
type App struct {
	Name, Describe string
	// Program is the WebAssembly program that runs the pages.
	Program []byte
	// Scanner is the WebAssembly program that reads codes where the browser cannot.
	Scanner []byte
	// Pages are the paths to prerender, such as "/" and "/check".
	Pages []string
	// Unstored are those of Pages that are too large to be stored: the worker answers
	// with the shell in their place, and the program draws them.
	Unstored []string
	// Shell is the page that stands in for every address without a page.
	Shell string
	// Prefix is the folder the site is published under, as ParsePrefix gives it.
	Prefix string
	// Static holds css/*.css, icons/*, *.js and the template worker.js.
	Static fs.FS
	// Data holds JSON files by name, served next to the static ones.
	Data map[string][]byte
	// Environment is what the program finds with go-app's Getenv, by name, besides
	// what go-app itself needs.
	Environment map[string]string
	// Languages are those that a reader can choose besides English, in which the
	// pages are made.
	Languages []Language
	// Said gives every text that the pages have said when they were made.
	Said func() []prose.Text
	// Unready is what a page says when its program has not come after Patience, or
	// cannot run. It is shown without any script. Patience is DefaultPatience if
	// it is not given.
	Unready  goapp.UI
	Patience time.Duration
	Kept     Kept
}

// firstStyle is the style that every page carries.
func (a *App) firstStyle() string {
	return firstStyle(cmp.Or(a.Patience, DefaultPatience), a.Languages)
}

// waitScript is the script that every page runs first.
func (a *App) waitScript() string {
	return waitScript(cmp.Or(a.Patience, DefaultPatience))
}

// Where the programs and the worker are, below the prefix.
const (
	programFile = "/wasm/app.wasm"
	scannerFile = "/wasm/scan.wasm"
	workerFile  = "/app-worker.js"
)

// packedEnd is what the name of a copy for hosts that compress nothing ends with.
const packedEnd = ".gz"

// Site is a complete site, ready to be served or published.
type Site struct {
	prefix string
	policy string           // what its pages may load
	files  map[string]*file // by path below the prefix
	kept   Kept
}

// file is one file of a site.
type file struct {
	path   string // below the prefix, with a slash in front
	kind   string // media type
	body   []byte
	digest [sha256.Size]byte
	page   bool
	later  bool // not stored until it is first wanted
	// unstored means that a device does not store it: it is for hosts and robots, a copy
	// of another file, or a page that is too large.
	unstored bool
	plain    *representation // the file as it is
	packed   packed
}

// ParsePrefix reads the folder a site is published under: "" or "/" for none,
// otherwise such as "/larder". The result has no slash at the end.
func ParsePrefix(s string) (string, error) {
	s = strings.TrimSuffix(s, "/")
	if s == "" {
		return "", nil
	}
	if !folders.MatchString(s) || path.Clean(s) != s {
		return "", fmt.Errorf("prefix %q: want a path such as /larder, of letters, digits, dot, dash and underscore", s)
	}
	if s == "/web" || strings.HasPrefix(s, "/web/") {
		return "", fmt.Errorf("prefix %q: the name web is taken", s)
	}
	return s, nil
}

var folders = regexp.MustCompile(`^(/[A-Za-z0-9._-]+)+$`)

// Assemble makes a site. Errors name the page or file that is wrong.
func Assemble(a App) (*Site, error) {
	s := &Site{prefix: a.Prefix, policy: policy(a), files: map[string]*file{}, kept: a.Kept}
	s.addPacked(programFile, "application/wasm", a.Program)
	if a.Scanner != nil {
		s.add(scannerFile, "application/wasm", a.Scanner).later = true
	}
	if err := s.addStatic(a.Static); err != nil {
		return nil, err
	}
	for name, data := range a.Data {
		s.add("/static/"+name, "application/json", data)
	}

	version := s.version()
	handler := &goapp.Handler{
		Name:        a.Name,
		Title:       a.Name,
		Description: a.Describe,
		Lang:        "en",
		Version:     version,
		Resources:   layout(a.Prefix),
	}
	if err := s.addScript(a, handler); err != nil {
		return nil, err
	}
	if err := s.addStyles(a); err != nil {
		return nil, err
	}
	prerendered := make([]string, len(a.Pages))
	for i, p := range a.Pages {
		page, err := get(handler, p)
		if err != nil {
			return nil, fmt.Errorf("prerender: %w", err)
		}
		prerendered[i] = string(page)
	}
	if err := s.addLanguages(a); err != nil {
		return nil, err
	}
	environment := map[string]string{
		"GOAPP_VERSION":              version,
		"GOAPP_ROOT_PREFIX":          a.Prefix + "/",
		"GOAPP_STATIC_RESOURCES_URL": a.Prefix + "/static",
	}
	maps.Copy(environment, a.Environment)
	head, err := s.head(a, environment)
	if err != nil {
		return nil, err
	}
	for i, p := range a.Pages {
		body, err := head.page(prerendered[i])
		if err != nil {
			return nil, fmt.Errorf("prerender %s: %w", p, err)
		}
		f := s.add(p, "text/html; charset=utf-8", body)
		f.page, f.unstored = true, slices.Contains(a.Unstored, p)
	}
	shell, ok := s.files[a.Shell]
	if !ok {
		return nil, fmt.Errorf("the shell %q is not among the pages", a.Shell)
	}

	manifest, err := s.manifest(a, "en", a.Describe)
	if err != nil {
		return nil, err
	}
	s.add("/manifest.webmanifest", manifestKind, manifest)
	worker, err := s.worker(a)
	if err != nil {
		return nil, err
	}
	s.add(workerFile, "text/javascript; charset=utf-8", worker)
	for _, f := range []*file{
		s.add("/404.html", shell.kind, shell.body),
		s.add("/robots.txt", "text/plain; charset=utf-8", []byte("User-agent: *\nAllow: /\n")),
	} {
		f.unstored = true
	}
	return s, nil
}

// layout maps the addresses of go-app, in which /web/ is fixed, to ours. What
// already has the prefix keeps it, because go-app resolves our own links too.
type layout string // the prefix

func (l layout) Resolve(p string) string {
	prefix := string(l)
	switch {
	case p == "" || p == "/":
		return prefix + "/"
	case p == "/web/app.wasm":
		return prefix + programFile
	case p == "/web" || strings.HasPrefix(p, "/web/"):
		return prefix + "/static" + strings.TrimPrefix(p, "/web")
	case prefix != "" && (p == prefix || strings.HasPrefix(p, prefix+"/")):
		return p
	case strings.HasPrefix(p, "/"):
		return prefix + p
	}
	return p // a fragment, or another host
}

// kinds are the media types of static files, by extension.
var kinds = map[string]string{
	".css": "text/css; charset=utf-8",
	".js":  "text/javascript; charset=utf-8",
	".png": "image/png",
	".svg": "image/svg+xml",
}

func (s *Site) addStatic(files fs.FS) error {
	return fs.WalkDir(files, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		if folder := path.Dir(name); folder == "." && path.Ext(name) == ".js" || folder == "css" {
			return nil // the worker is a template, and the others are joined
		}
		kind, ok := kinds[path.Ext(name)]
		if !ok {
			return fmt.Errorf("static file %s: unknown media type", name)
		}
		body, err := fs.ReadFile(files, name)
		if err != nil {
			return fmt.Errorf("static file: %w", err)
		}
		// A device asks for the images that it needs when the guide is installed.
		s.add("/static/"+name, kind, body).later = path.Ext(name) == ".png"
		return nil
	})
}

func (s *Site) add(p, kind string, body []byte) *file {
	f := &file{path: p, kind: kind, body: body, digest: sha256.Sum256(body)}
	f.plain = s.represent(f, body, identity)
	s.files[p] = f
	return f
}

// addPacked adds a file, and the copy of it for hosts that compress nothing.
func (s *Site) addPacked(p, kind string, body []byte) {
	s.add(p, kind, body)
	s.add(p+packedEnd, "application/gzip", s.gzip(body)).unstored = true
}

// packedCopy is that copy of a file; nil when there is none.
func (s *Site) packedCopy(f *file) *file { return s.files[f.path+packedEnd] }

// sorted returns the files in the order of their paths.
func (s *Site) sorted() []*file {
	var files []*file
	for _, p := range slices.Sorted(maps.Keys(s.files)) {
		files = append(files, s.files[p])
	}
	return files
}

// version names the files that are there so far by what is in them.
func (s *Site) version() string {
	sum := sha256.New()
	for _, f := range s.sorted() {
		fmt.Fprintf(sum, "%s%s %x\n", s.prefix, f.path, f.digest)
	}
	return hex.EncodeToString(sum.Sum(nil)[:8])
}

// worker bundles the files that are there so far, and fills in the template of the
// service worker with the digest of the bundle and of every file outside of it.
func (s *Site) worker(a App) ([]byte, error) {
	template, err := fs.ReadFile(a.Static, "worker.js")
	if err != nil {
		return nil, fmt.Errorf("service worker: %w", err)
	}
	inBundle, err := s.addBundle()
	if err != nil {
		return nil, fmt.Errorf("service worker: %w", err)
	}
	digests, packed, later := map[string]string{}, map[string]string{}, map[string]string{}
	digest := func(f *file) string { return "sha256-" + base64.StdEncoding.EncodeToString(f.digest[:]) }
	for _, f := range s.files {
		address := s.prefix + f.path
		switch {
		case f.later:
			later[address] = digest(f)
		case !f.unstored && !slices.Contains(inBundle, address):
			digests[address] = digest(f)
			if copied := s.packedCopy(f); copied != nil {
				packed[address] = digest(copied)
			}
		}
	}
	worker := string(template)
	for name, value := range map[string]any{
		"{{.Files}}":   digests,
		"{{.Packed}}":  packed,
		"{{.Program}}": s.prefix + programFile,
		"{{.Bundle}}":  s.prefix + bundleFile,
		"{{.Bundled}}": inBundle,
		"{{.Later}}":   later,
		"{{.Scope}}":   s.prefix + "/",
		"{{.Shell}}":   s.prefix + a.Shell,
		"{{.Version}}": s.version(),
	} {
		text, err := json.Marshal(value)
		if err != nil {
			return nil, fmt.Errorf("service worker: %w", err)
		}
		if strings.Count(worker, name) != 1 {
			return nil, fmt.Errorf("service worker: want %s once in the template", name)
		}
		worker = strings.Replace(worker, name, string(text), 1)
	}
	return []byte(worker), nil
}

// get asks go-app for one of its files or pages.
func get(h http.Handler, p string) ([]byte, error) {
	answer := httptest.NewRecorder()
	h.ServeHTTP(answer, httptest.NewRequest(http.MethodGet, p, nil))
	if answer.Code != http.StatusOK {
		return nil, fmt.Errorf("%s: %w", p, errors.New(http.StatusText(answer.Code)))
	}
	return answer.Body.Bytes(), nil
}

// Prefix is the folder the site is published under, without a slash at the end.
func (s *Site) Prefix() string { return s.prefix }
