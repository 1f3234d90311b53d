package hosting

import (
	"bytes"
	"compress/gzip"
	"encoding/base64"
	"encoding/json"
	"io"
	"io/fs"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/andybalholm/brotli"
	goapp "github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/static"
)

// program stands for a WebAssembly program: its magic number and enough to
// compress.
var program = append([]byte("\x00asm\x01\x00\x00\x00"), bytes.Repeat([]byte("lamp"), 500)...)

// testPage has what makes prerendering hard: many attributes, quotes, an aria
// attribute that is true, markup of its own and links.
type testPage struct {
	goapp.Compo
	prefix string
}

func (p *testPage) Render() goapp.UI {
	return goapp.Div().ID("a").Class("b").Title(`5 < 6 & "quoted" \ it's`).Aria("hidden", true).DataSet("x", "1").DataSet("y", "2").Body(
		goapp.H1().Text("Jars & <lids>"),
		goapp.A().Href(p.prefix+"/check").Text("Check"),
		goapp.A().Href("#a").Text("Up"),
		goapp.Raw(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><path stroke="none" fill="#fff" d="M0 0"/></svg>`),
	)
}

func assemble(t testing.TB, prefix string) *Site { return assembleKept(t, prefix, "") }

func assembleKept(t testing.TB, prefix string, kept Kept) *Site {
	t.Helper()
	pages := []string{"/", "/check", "/shell", "/shell/large"}
	for _, p := range pages {
		goapp.Route(p, func() goapp.Composer { return &testPage{prefix: prefix} })
	}
	s, err := Assemble(App{
		Name: "Test", Describe: `A "test"`, Program: program, Scanner: []byte("\x00asm of a scanner"), Pages: pages, Unstored: []string{"/shell/large"}, Shell: "/shell",
		Prefix: prefix, Static: static.Files, Unready: goapp.P().Text("Bring a light."),
		Kept: kept,
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// do asks a site and returns its answer with the body read.
func do(t *testing.T, s *Site, method, target string, header ...string) (*http.Response, []byte) {
	t.Helper()
	r := httptest.NewRequest(method, target, nil)
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	s.ServeHTTP(w, r)
	body, err := io.ReadAll(w.Result().Body)
	if err != nil {
		t.Fatal(err)
	}
	return w.Result(), body
}

// tree reads all files below a folder.
func tree(t *testing.T, dir string) map[string]string {
	t.Helper()
	files := map[string]string{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		body, err := os.ReadFile(filepath.Join(dir, name))
		files[name] = string(body)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestPublishTwiceIsIdentical(t *testing.T) {
	root := t.TempDir()
	first, second := filepath.Join(root, "a"), filepath.Join(root, "b")
	for _, dir := range []string{first, second, second} {
		if err := assemble(t, "/sub").Publish(dir, Quick); err != nil {
			t.Fatal(err)
		}
	}
	a, b := tree(t, first), tree(t, second)
	if len(a) != len(b) {
		t.Errorf("got %d files, then %d", len(a), len(b))
	}
	for name, body := range a {
		if b[name] != body {
			t.Errorf("%s: got different bytes", name)
		}
	}
	entries, err := os.ReadDir(root)
	if err != nil || len(entries) != 2 {
		t.Errorf("work folders were left: %v, %v", entries, err)
	}
}

func TestPublishRefusesWhatItDidNotMake(t *testing.T) {
	s := assemble(t, "")
	foreign := t.TempDir()
	precious := filepath.Join(foreign, "thesis.txt")
	if err := os.WriteFile(precious, []byte("ten years"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := s.Publish(foreign, Quick); err == nil || !strings.Contains(err.Error(), "not empty") {
		t.Errorf("a folder that was not empty: got %v", err)
	}

	ours := filepath.Join(t.TempDir(), "deep", "site")
	if err := s.Publish(ours, Quick); err != nil {
		t.Fatal(err)
	}
	added := filepath.Join(ours, "wasm", "notes.txt")
	if err := os.WriteFile(added, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := s.Publish(ours, Quick); err == nil || !strings.Contains(err.Error(), "notes.txt") {
		t.Errorf("an added file: got %v", err)
	}
	for _, name := range []string{precious, added} {
		if _, err := os.Stat(name); err != nil {
			t.Error(err)
		}
	}
	if err := os.Remove(added); err != nil {
		t.Fatal(err)
	}
	if err := s.Publish(ours, Quick); err != nil {
		t.Errorf("our own folder: got %v", err)
	}
	if err := s.Publish(t.TempDir(), Quick); err != nil {
		t.Errorf("an empty folder: got %v", err)
	}
}

func TestPublishIsAllOrNothing(t *testing.T) {
	s := assemble(t, "")
	dir := filepath.Join(t.TempDir(), "site")
	if err := s.Publish(dir, Quick); err != nil {
		t.Fatal(err)
	}
	before := tree(t, dir)
	// A path that leads through a file cannot be written.
	s.add("/robots.txt/impossible", "text/plain", nil)
	if err := s.Publish(dir, Quick); err == nil {
		t.Fatal("got an impossible file written")
	}
	after := tree(t, dir)
	if len(before) != len(after) {
		t.Errorf("got %[2]d files, want the %[1]d from before", len(before), len(after))
	}
	if entries, err := os.ReadDir(filepath.Dir(dir)); err != nil || len(entries) != 1 {
		t.Errorf("work folders were left: %v, %v", entries, err)
	}
}

var (
	addresses = regexp.MustCompile(`(?:href|src)="([^"]*)"`)
	external  = regexp.MustCompile(`(?i)(?:(?:href|src|srcset|action|content)="|url\(['"]?|@import\s*['"]|(?:fetch|import|importScripts)\(['"\x60])(?:https?:)?//`)
)

func TestEveryAddressIsInsideThePrefix(t *testing.T) {
	for _, prefix := range []string{"", "/sub", "/sub/deeper"} {
		s := assemble(t, prefix)
		seen := 0
		for _, f := range s.files {
			if !f.page {
				continue
			}
			for _, m := range addresses.FindAllStringSubmatch(string(f.body), -1) {
				seen++
				address := m[1]
				if strings.HasPrefix(address, "#") || address == "?" {
					continue
				}
				if p, ok := strings.CutPrefix(address, prefix); !ok || s.files[p] == nil {
					t.Errorf("prefix %q: %s links to %s, which does not exist", prefix, f.path, address)
				}
			}
		}
		if seen < 30 {
			t.Errorf("prefix %q: got only %d addresses", prefix, seen)
		}
	}
}

func TestNothingPointsToAnotherHost(t *testing.T) {
	s := assemble(t, "")
	for name, body := range s.disk(Quick) {
		if at := external.FindIndex(body); at != nil && !strings.HasPrefix(name, "wasm/") {
			t.Errorf("%s: got the outside address %s, want none", name, body[at[0]:min(at[1]+40, len(body))])
		}
	}
	for _, bad := range []string{`<a href="https://x`, `<img src="//x`, `url(http://x`, `@import "//x`, "fetch(`https://x"} {
		if !external.MatchString(bad) {
			t.Errorf("the test does not notice %s", bad)
		}
	}
}

// said reads what a worker was given by a name of its template.
func said[T any](t *testing.T, worker, name string) (v T) {
	t.Helper()
	m := regexp.MustCompile(`(?m)^const ` + name + ` = (.*);$`).FindStringSubmatch(worker)
	if m == nil {
		t.Fatalf("the worker does not say its %s", name)
	}
	if err := json.Unmarshal([]byte(m[1]), &v); err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return v
}

// Every file of the site is stored, each once: fetched by itself or in the bundle,
// where it is what is published, or when it is first wanted. Left out are the worker
// itself, copies, what only hosts and robots read, and pages that are too large. What
// is fetched has the digest of what is published.
func TestWorkerKeepsTheWholeSite(t *testing.T) {
	digest := func(f *file) string { return "sha256-" + base64.StdEncoding.EncodeToString(f.digest[:]) }
	for _, prefix := range []string{"", "/sub"} {
		s := assemble(t, prefix)
		worker := string(s.files[workerFile].body)
		if strings.Contains(worker, "{{") {
			t.Error("got a placeholder in the worker")
		}
		found := map[string]int{}
		fetched, later, packed := said[map[string]string](t, worker, "files"), said[map[string]string](t, worker, "later"), said[map[string]string](t, worker, "packed")
		for _, of := range []map[string]string{fetched, later} {
			for address, is := range of {
				p := strings.TrimPrefix(address, prefix)
				if found[p]++; s.files[p] == nil || is != digest(s.files[p]) {
					t.Errorf("prefix %q: %s with digest %s", prefix, address, is)
				}
			}
		}
		for address, is := range packed {
			copied := s.files[strings.TrimPrefix(address, prefix)+".gz"]
			if fetched[address] == "" || copied == nil || is != digest(copied) {
				t.Errorf("prefix %q: a copy of %s with digest %s", prefix, address, is)
			}
		}
		var bundle [][3]string
		if err := json.Unmarshal(s.files[bundleFile].body, &bundle); err != nil {
			t.Fatal(err)
		}
		addresses := said[[]string](t, worker, "bundled")
		if len(bundle) != len(addresses) {
			t.Errorf("prefix %q: the worker knows %d files in the bundle, want %d", prefix, len(addresses), len(bundle))
		}
		for i, b := range bundle {
			p := strings.TrimPrefix(b[0], prefix)
			if found[p]++; s.files[p] == nil || addresses[i] != b[0] || b[1] != s.files[p].kind || b[2] != string(s.files[p].body) {
				t.Errorf("prefix %q: file %d in the bundle is not the %s of the site", prefix, i, b[0])
			}
		}
		not := []string{workerFile, "/404.html", "/robots.txt", programFile + ".gz", bundleFile + ".gz", "/shell/large"}
		for p := range s.files {
			want := 1
			if slices.Contains(not, p) {
				want = 0
			}
			if found[p] != want {
				t.Errorf("prefix %q: %s is stored %d times, want %d", prefix, p, found[p], want)
			}
		}
		for _, p := range not {
			if s.files[p] == nil {
				t.Errorf("prefix %q: the site lacks %s", prefix, p)
			}
		}
		if len(fetched) != 4 || len(packed) != 2 || later[prefix+scannerFile] == "" || said[string](t, worker, "bundle") != prefix+bundleFile {
			t.Errorf("prefix %q: got %v fetched, %v packed, %v later", prefix, fetched, packed, later)
		}
	}
}

// A picture does not belong into a bundle of texts, and is not damaged by it.
func TestBundleIsOfTexts(t *testing.T) {
	s := assemble(t, "")
	s.add("/picture", "image/png", []byte("\x89PNG"))
	if _, err := s.addBundle(); err == nil || !strings.Contains(err.Error(), "/picture is no text") {
		t.Errorf("got %v", err)
	}
}

// Any change of content is a new edition, even one that leaves the program as it is.
func TestVersionFollowsContent(t *testing.T) {
	edition := regexp.MustCompile(`family \+ "([0-9a-f]{16})"`)
	one := edition.FindSubmatch(assemble(t, "").files["/app-worker.js"].body)
	same := edition.FindSubmatch(assemble(t, "").files["/app-worker.js"].body)
	if one == nil || string(one[1]) != string(same[1]) {
		t.Fatalf("got the versions %s and %s for the same site", one, same)
	}
	old := program
	t.Cleanup(func() { program = old })
	program = append(bytes.Clone(program), 0)
	other := edition.FindSubmatch(assemble(t, "").files["/app-worker.js"].body)
	if string(one[1]) == string(other[1]) {
		t.Error("got the same version for another program")
	}
}

func TestHeaders(t *testing.T) {
	s := assemble(t, "/sub")
	for target, kind := range map[string]string{
		"/sub/":                          "text/html; charset=utf-8",
		"/sub/check?jar=1":               "text/html; charset=utf-8",
		"/sub/wasm/app.wasm":             "application/wasm",
		"/sub/app-worker.js":             "text/javascript; charset=utf-8",
		"/sub/static/larderlamp.js":      "text/javascript; charset=utf-8",
		"/sub/static/larderlamp.css":     "text/css; charset=utf-8",
		"/sub/static/icons/mark.svg":     "image/svg+xml",
		"/sub/static/icons/icon-192.png": "image/png",
		"/sub/manifest.webmanifest":      "application/manifest+json",
		"/sub/robots.txt":                "text/plain; charset=utf-8",
	} {
		got, body := do(t, s, http.MethodGet, target)
		if got.StatusCode != http.StatusOK || got.Header.Get("Content-Type") != kind || int(got.ContentLength) != len(body) {
			t.Errorf("%s: status %d, type %q, length %d of %d", target, got.StatusCode, got.Header.Get("Content-Type"), got.ContentLength, len(body))
		}
		for name, value := range map[string]string{
			"X-Content-Type-Options":       "nosniff",
			"Referrer-Policy":              "no-referrer",
			"Cross-Origin-Opener-Policy":   "same-origin",
			"Cross-Origin-Resource-Policy": "same-origin",
			"Cache-Control":                "no-cache",
			"Vary":                         "Accept-Encoding",
			"Content-Security-Policy": "default-src 'none'; script-src 'self' '" + digestOf([]byte(waitScript(DefaultPatience))) + "' '" + digestOf([]byte(firstScript)) + "' 'wasm-unsafe-eval'; style-src 'self' '" + digestOf([]byte(firstStyle(DefaultPatience, nil))) + "'; img-src 'self' blob: data:; " +
				"connect-src 'self'; manifest-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; " +
				"require-trusted-types-for 'script'; trusted-types default; frame-ancestors 'none'",
		} {
			if got.Header.Get(name) != value {
				t.Errorf("%s: %s: got %q", target, name, got.Header.Get(name))
			}
		}
		if !strings.HasPrefix(got.Header.Get("Permissions-Policy"), "camera=(self), ") {
			t.Errorf("%s: Permissions-Policy: got %q", target, got.Header.Get("Permissions-Policy"))
		}

		head, none := do(t, s, http.MethodHead, target)
		if head.StatusCode != http.StatusOK || len(none) != 0 || head.Header.Get("Content-Length") != got.Header.Get("Content-Length") {
			t.Errorf("HEAD %s: got status %d, %d bytes, length %s", target, head.StatusCode, len(none), head.Header.Get("Content-Length"))
		}
		again, none := do(t, s, http.MethodGet, target, "If-None-Match", `"other", `+got.Header.Get("ETag"))
		if again.StatusCode != http.StatusNotModified || len(none) != 0 {
			t.Errorf("%s again: status %d, %d bytes", target, again.StatusCode, len(none))
		}
		changed, _ := do(t, s, http.MethodGet, target, "If-None-Match", `W/"0123"`)
		if changed.StatusCode != http.StatusOK {
			t.Errorf("%s with another tag: got status %d", target, changed.StatusCode)
		}
	}
}

func TestAddressesWithoutAFile(t *testing.T) {
	for _, c := range []struct {
		prefix, method, target string
		status                 int
		location               string
	}{
		{"", "GET", "/check/0199", http.StatusNotFound, ""},
		{"", "GET", "/static/", http.StatusNotFound, ""},
		{"", "GET", "//elsewhere/check/", http.StatusNotFound, ""},
		{"", "GET", "/check/?a=1", http.StatusFound, "/check?a=1"},
		{"", "POST", "/", http.StatusMethodNotAllowed, ""},
		{"/sub", "GET", "/", http.StatusFound, "/sub/"},
		{"/sub", "GET", "/sub", http.StatusFound, "/sub/"},
		{"/sub", "GET", "/sub/check/", http.StatusFound, "/sub/check"},
		{"/sub", "GET", "/sub/check/0199", http.StatusNotFound, ""},
		{"/sub", "GET", "/check", http.StatusNotFound, ""},
		{"/sub", "GET", "/subway", http.StatusNotFound, ""},
	} {
		s := assemble(t, c.prefix)
		got, body := do(t, s, c.method, c.target)
		if got.StatusCode != c.status || got.Header.Get("Location") != c.location {
			t.Errorf("prefix %q, %s %s: got status %d, location %q", c.prefix, c.method, c.target, got.StatusCode, got.Header.Get("Location"))
		}
		deep := strings.HasSuffix(c.target, "/0199")
		if deep && !bytes.Equal(body, s.files["/shell"].body) {
			t.Errorf("%s: want the shell as the answer", c.target)
		}
		if c.status == http.StatusNotFound && got.Header.Get("ETag") != "" {
			t.Errorf("%s: got a tag for an address without a file", c.target)
		}
	}
}

func TestCompression(t *testing.T) {
	s := assemble(t, "")
	if got, body := do(t, s, http.MethodGet, "/wasm/app.wasm", "Accept-Encoding", "br"); got.Header.Get("Content-Encoding") != "" || !bytes.Equal(body, program) {
		t.Error("want a file without compressed copies to be sent as it is")
	}
	s.Compress(Quick)
	for accept, want := range map[string]string{
		"":                        "",
		"identity":                "",
		"br":                      "br",
		"gzip, deflate, br, zstd": "br",
		"gzip":                    "gzip",
		"GZIP;q=0.5":              "gzip",
		"br;q=0, gzip":            "gzip",
		"br;q=0, *":               "gzip",
		"br ; q=0.0":              "",
		"*":                       "br",
		"br;q=x":                  "",
		"brotli":                  "",
		"br;q=1.5":                "",
		"br;q=NaN":                "",
		"br;q=0.1, gzip;q=0.9":    "gzip",
		"gzip;q=0.9, br;q=0.1":    "gzip",
		"gzip;q=0.5, br;q=0.5":    "br",
		"gzip; Q=0.5":             "gzip",
		"x-gzip":                  "gzip",
		"identity, br;q=0.9":      "",
		"identity;q=0.1, br;q=.2": "br",
		"*;q=0.5, br;q=0.1":       "gzip",
		"identity;q=0, *":         "br",
		"deflate, *;q=0.1":        "br",
	} {
		got, body := do(t, s, http.MethodGet, "/wasm/app.wasm", "Accept-Encoding", accept)
		if got.Header.Get("Content-Encoding") != want {
			t.Errorf("%q: got the encoding %q, want %q", accept, got.Header.Get("Content-Encoding"), want)
		}
		var plain []byte
		var err error
		switch got.Header.Get("Content-Encoding") {
		case "br":
			plain, err = io.ReadAll(brotli.NewReader(bytes.NewReader(body)))
		case "gzip":
			var r *gzip.Reader
			if r, err = gzip.NewReader(bytes.NewReader(body)); err == nil {
				plain, err = io.ReadAll(r)
			}
		default:
			plain = body
		}
		if err != nil || !bytes.Equal(plain, program) {
			t.Errorf("%q: got a different program after unpacking: %v", accept, err)
		}
	}
	for _, accept := range []string{"*;q=0", "identity;q=0", "identity;q=0, deflate"} {
		if got, _ := do(t, s, http.MethodGet, "/static/icons/icon-192.png", "Accept-Encoding", accept); got.StatusCode != http.StatusNotAcceptable {
			t.Errorf("%q: status %d for a file that has no copy", accept, got.StatusCode)
		}
	}
	if got, _ := do(t, s, http.MethodGet, "/static/icons/icon-192.png", "Accept-Encoding", "br"); got.Header.Get("Content-Encoding") != "" {
		t.Error("got a compressed picture, want it as it is")
	}
}

// Copies of an earlier start are used again: those of the same bytes, and no others.
func TestKeptCopies(t *testing.T) {
	folder := t.TempDir()
	first := assembleKept(t, "", Kept(folder))
	first.Compress(Quick)
	kept, err := filepath.Glob(filepath.Join(folder, "*"))
	if err != nil || len(kept) < 4 {
		t.Fatalf("got only %d stored copies: %v", len(kept), err)
	}
	marked := []byte("a kept copy")
	for _, name := range kept {
		if ext := filepath.Ext(name); ext != ".br" && ext != ".gz" {
			t.Errorf("%s was left behind", name)
		}
		if err := os.WriteFile(name, marked, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	second := assembleKept(t, "", Kept(folder))
	second.Compress(Quick)
	for _, coding := range []string{"br", "gzip"} {
		if _, body := do(t, second, http.MethodGet, "/wasm/app.wasm", "Accept-Encoding", coding); !bytes.Equal(body, marked) {
			t.Errorf("%s: got a new copy, want the stored one", coding)
		}
	}
	old := program
	program = append(slices.Clone(program), "another edition"...)
	defer func() { program = old }()
	third := assembleKept(t, "", Kept(folder))
	third.Compress(Quick)
	if _, body := do(t, third, http.MethodGet, "/wasm/app.wasm", "Accept-Encoding", "br"); bytes.Equal(body, marked) {
		t.Error("got a copy of other bytes")
	}
	none := assembleKept(t, "", Kept(filepath.Join(folder, "not there")))
	none.Compress(Quick)
	if _, body := do(t, none, http.MethodGet, "/wasm/app.wasm", "Accept-Encoding", "br"); len(body) >= len(program) {
		t.Error("want copies even without a folder to store them in")
	}
}

func TestPublishedCopies(t *testing.T) {
	s := assemble(t, "")
	files := s.disk(Quick)
	for _, p := range []string{programFile, bundleFile} {
		name, want := strings.TrimPrefix(p, "/"), s.files[p].body
		br, err := io.ReadAll(brotli.NewReader(bytes.NewReader(files[name+".br"])))
		if err != nil || !bytes.Equal(br, want) {
			t.Errorf("%s in brotli: %v", p, err)
		}
		r, err := gzip.NewReader(bytes.NewReader(files[name+".gz"]))
		if err != nil {
			t.Fatal(err)
		}
		if gz, err := io.ReadAll(r); err != nil || !bytes.Equal(gz, want) {
			t.Errorf("%s in gzip: %v", p, err)
		}
	}
	for _, name := range []string{"index.html", "check/index.html", "shell/index.html", "404.html", "robots.txt", "app-worker.js"} {
		if files[name] == nil {
			t.Errorf("%s is missing", name)
		}
	}
}

// The loader must be the one of the toolchain that builds the program.
func TestWasmExecIsTheToolchains(t *testing.T) {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "wasm_exec.js"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(assemble(t, "").files["/wasm_exec.js"].body, want) {
		t.Error("the loader for the worker that reads codes is not that of this toolchain")
	}
	if want, err = minified(kinds[".js"], want); err != nil {
		t.Fatal(err)
	}
	if !bytes.HasPrefix(assemble(t, "").files[scriptFile].body, want) {
		t.Error("go-app's wasm_exec.js is not that of this toolchain")
	}
}

func TestPage(t *testing.T) {
	page := string(assemble(t, "/sub").files["/check"].body)
	for _, want := range []string{
		`<title>Test</title>`,
		`<script>` + waitScript(DefaultPatience) + `</script>`,
		`<script>` + string(firstScript) + `</script>`,
		`<meta name="description" content="A &#34;test&#34;">`,
		`<div aria-hidden="true" class="b" data-x="1" data-y="2" id="a" title="5 &lt; 6 &amp; &#34;quoted&#34; \ it&#39;s">`,
		`<h1>Jars &amp; &lt;lids&gt;</h1>`,
		`<path d="M0 0" fill="#fff" stroke="none"/></svg>`,
		`<script async src="/sub/static/larderlamp.js" integrity="sha256-`,
		`<link rel="stylesheet" href="/sub/static/larderlamp.css" integrity="sha256-`,
		`http-equiv="Content-Security-Policy" content="default-src &#39;none&#39;; script-src &#39;self&#39;`,
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %s", want)
		}
	}
	// The notice, which needs no other file, comes before everything that does.
	notice, style, before := strings.Index(page, `id="unready"`), strings.Index(page, `rel="stylesheet"`), strings.Index(page, `<div id="before">`)
	if !(0 < notice && notice < style && style < before) {
		t.Errorf("got the notice, the style sheet and the page in the wrong order: %d, %d, %d", notice, style, before)
	}
	if strings.Count(page, "<script>") != 2 || strings.Contains(page, " style=") {
		t.Error("the page contains what its own policy forbids")
	}
}

func TestCanonical(t *testing.T) {
	for in, want := range map[string]string{
		"<!doctype html>\n<p>a</p>":             `<!doctype html><p>a</p>`,
		`<a href="x" class="y" data-b>t</a> 1 `: `<a class="y" data-b href="x">t</a> 1 `,
		`<b title="\"&amp;&\"">`:                `<b title="&#34;&amp;&amp;&#34;">`,
		`<use b="2" a="1" />`:                   `<use a="1" b="2"/>`,
		`<i aria-busy aria-live="off">`:         `<i aria-busy="true" aria-live="off">`,
		`<p>1 < 2</p`:                           `<p>1 < 2</p`,
		// The spaces of a text stay, next to any other tag, and its lines inside it.
		"<p>\n  a \n  <b> b </b>\n   c\n  <i>\n    <u>d</u>\n  </i>\n</p>": "<p>a <b> b </b> c<i><u>d</u></i></p>",
		"<p>\n  <wbr></wbr>\n  <br>\n  a\n</p>\n<p>\n  b\n   c\n</p>":      "<p><wbr></wbr><br>a</p><p>b\n   c</p>",
	} {
		if got, err := canonical(in); err != nil || got != want {
			t.Errorf("%s\n got %s, %v\nwant %s", in, got, err, want)
		}
	}
	for _, bad := range []string{`<a href=x>`, `<a href="x>`, `<a href`, `<a / b>`, `<a`} {
		if got, err := canonical(bad); err == nil {
			t.Errorf("%s: got %s, want an error", bad, got)
		}
	}
}

func TestManifest(t *testing.T) {
	for _, prefix := range []string{"", "/sub"} {
		s := assemble(t, prefix)
		var m struct {
			ID, Scope string
			Start     string `json:"start_url"`
			Icons     []struct{ Src, Purpose string }
		}
		if err := json.Unmarshal(s.files["/manifest.webmanifest"].body, &m); err != nil {
			t.Fatal(err)
		}
		if root := prefix + "/"; m.ID != root || m.Scope != root || m.Start != root {
			t.Errorf("prefix %q: got id %s, scope %s, start %s", prefix, m.ID, m.Scope, m.Start)
		}
		for _, icon := range m.Icons {
			if s.files[strings.TrimPrefix(icon.Src, prefix)] == nil {
				t.Errorf("the icon %s is missing", icon.Src)
			}
		}
	}
}

func TestParsePrefix(t *testing.T) {
	for in, want := range map[string]string{"": "", "/": "", "/larder": "/larder", "/larder/": "/larder", "/a/b-c_d.e": "/a/b-c_d.e"} {
		if got, err := ParsePrefix(in); err != nil || got != want {
			t.Errorf("%q: got %q, %v, want %q", in, got, err, want)
		}
	}
	for _, bad := range []string{"larder", "//", "/a//b", "/a/../b", "/.", "/a b", "/ä", "/web", "/web/x", `/"`, "https://x"} {
		if got, err := ParsePrefix(bad); err == nil {
			t.Errorf("%q: got %q, want an error", bad, got)
		}
	}
}

func TestAssembleNamesTheFault(t *testing.T) {
	goapp.Route("/", func() goapp.Composer { return &testPage{} })
	for _, c := range []struct {
		app  App
		want string
	}{
		{App{Pages: []string{"/", "/nowhere"}, Shell: "/"}, "/nowhere"},
		{App{Pages: []string{"/"}, Shell: "/absent"}, "/absent"},
	} {
		c.app.Static = static.Files
		if _, err := Assemble(c.app); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("want an error that names %s, got %v", c.want, err)
		}
	}
}

// The file for hosts of plain files says the same as `site serve`, in the form
// that they read: a path at the margin, and its headers indented below.
func TestPublishedHeaders(t *testing.T) {
	for _, prefix := range []string{"", "/sub"} {
		s := assemble(t, prefix)
		path, told := "", map[string]string{}
		for line := range strings.Lines(string(s.disk(Quick)[headersFile])) {
			line = strings.TrimSuffix(line, "\n")
			field, indented := strings.CutPrefix(line, "  ")
			if !indented {
				path = line
				continue
			}
			name, value, found := strings.Cut(field, ": ")
			if !found || len(line) > 2000 || strings.TrimSpace(value) != value {
				t.Errorf("prefix %q: got the line %q", prefix, line)
			}
			told[path+" "+name] = value
		}
		served, _ := do(t, s, http.MethodGet, prefix+"/robots.txt")
		count := 0
		for name := range served.Header {
			switch name {
			case "Content-Type", "Content-Length", "Etag", "Vary", "Accept-Ranges":
				continue
			}
			count++
			if got := told[prefix+"/* "+name]; got != served.Header.Get(name) {
				t.Errorf("prefix %q: %s: got %q in the file, want %q as served", prefix, name, got, served.Header.Get(name))
			}
		}
		if told[prefix+"/manifest.webmanifest Content-Type"] != manifestKind || len(told) != count+1 {
			t.Errorf("prefix %q: got in the file: %v", prefix, told)
		}
		if strings.Contains(string(s.files["/app-worker.js"].body), headersFile) {
			t.Error("the worker stores the file that is for the host")
		}
	}
}
