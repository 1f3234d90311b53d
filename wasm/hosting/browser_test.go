//go:build e2e && linux

package hosting

import (
	"context"
	"fmt"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"testing/fstest"
	"time"

	"github.com/chromedp/chromedp"

	"larderlamp/app/e2e/drive"
	"larderlamp/static"
)

// bareProgram builds the bare page's program, a real one that starts quickly.
var bareProgram = sync.OnceValues(func() ([]byte, error) {
	dir, err := os.MkdirTemp("", "larderlamp-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	at := filepath.Join(dir, "bare.wasm")
	build := exec.Command("go", "build", "-o", at, "larderlamp/wasm/bare/browser")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return nil, err
	}
	return os.ReadFile(at)
})

// host serves one edition after another, each a site with a real program, and
// can spoil or lose a file on the way.
type host struct {
	*httptest.Server
	site    atomic.Pointer[Site]
	spoilt  atomic.Pointer[string] // the path of a file that arrives damaged
	lost    atomic.Pointer[string] // the path of a file that is not there, or of a folder
	says    bool                   // it sends the compressed copy as a form of the program
	counted sync.Map               // path to *atomic.Int64: answers with status 200
}

func newHost(t *testing.T) *host {
	h := &host{}
	h.publish(t, "First edition")
	h.Server = httptest.NewServer(h)
	t.Cleanup(h.Close)
	return h
}

// publish replaces the edition.
func (h *host) publish(t *testing.T, describe string) {
	t.Helper()
	wasm, err := bareProgram()
	if err != nil {
		t.Fatal(err)
	}
	old := program
	program = wasm
	s := assemble(t, "/sub")
	program = old
	// The heads of all pages change with the edition, and so do their digests.
	for _, f := range maps.Clone(s.files) {
		if f.page {
			s.add(f.path, f.kind, append(f.body, "<!-- "+describe+" -->\n"...)).page = true
		}
	}
	delete(s.files, "/app-worker.js")
	worker, err := s.worker(App{Shell: "/shell", Static: static.Files})
	if err != nil {
		t.Fatal(err)
	}
	s.add("/app-worker.js", "text/javascript", worker)
	h.site.Store(s)
}

func (h *host) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if p := h.lost.Load(); p != nil && strings.HasPrefix(r.URL.Path, *p) {
		http.NotFound(w, r)
		return
	}
	recorded := httptest.NewRecorder()
	h.site.Load().ServeHTTP(recorded, r)
	if recorded.Code == http.StatusOK && r.Method == http.MethodGet {
		n, _ := h.counted.LoadOrStore(r.URL.Path, &atomic.Int64{})
		n.(*atomic.Int64).Add(1)
	}
	maps.Copy(w.Header(), recorded.Header())
	if h.says && strings.HasSuffix(r.URL.Path, ".gz") {
		w.Header().Set("Content-Encoding", "gzip")
	}
	body := recorded.Body.Bytes()
	if p := h.spoilt.Load(); p != nil && *p == r.URL.Path {
		w.Header().Del("ETag")
		body[len(body)-1] ^= 1
	}
	w.WriteHeader(recorded.Code)
	w.Write(body)
}

// fetched proves that exactly these files have been. When a browser requests the
// manifest and the icon is its own affair.
func (h *host) fetched(t *testing.T, want []*file) {
	t.Helper()
	found := map[string]bool{}
	h.counted.Range(func(p, _ any) bool {
		found[strings.TrimPrefix(p.(string), "/sub")] = true
		return true
	})
	for _, f := range want {
		if kind := path.Ext(f.path); !found[f.path] && kind != ".webmanifest" && kind != ".svg" {
			t.Errorf("%s was not fetched", f.path)
		}
		delete(found, f.path)
	}
	for p := range found {
		t.Errorf("%s was fetched", p)
	}
}

func (h *host) count(path string) int64 {
	if n, ok := h.counted.Load(path); ok {
		return n.(*atomic.Int64).Load()
	}
	return 0
}

// tab is one tab of a browser of its own.
type tab struct {
	t   *testing.T
	ctx context.Context
}

func newTab(t *testing.T) tab {
	t.Helper()
	profile := t.TempDir()
	follow, ended := drive.Follow()
	t.Cleanup(func() {
		if err := ended(); err != nil {
			t.Error(err)
		}
	})
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(profile), chromedp.ModifyCmdFunc(follow),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true))
	ctx, stop := chromedp.NewExecAllocator(context.Background(), options...)
	t.Cleanup(stop)
	ctx, leave := chromedp.NewContext(ctx)
	t.Cleanup(leave)
	ctx, cancel := context.WithTimeout(ctx, 2*time.Minute)
	t.Cleanup(cancel)
	return tab{t, ctx}
}

func (b tab) visit(address string) {
	b.t.Helper()
	if err := chromedp.Do(b.ctx, chromedp.Navigate(address)); err != nil {
		b.t.Fatalf("%s: %v", address, err)
	}
}

// until waits for a JavaScript expression, or what it promises, to be true.
func (b tab) until(expression string) {
	b.t.Helper()
	var err error
	for end := time.Now().Add(30 * time.Second); time.Now().Before(end); time.Sleep(50 * time.Millisecond) {
		var ok bool
		if ok, err = chromedp.Run(b.ctx, chromedp.Evaluate[bool](expression, chromedp.EvalAwaitPromise)); err == nil && ok {
			return
		}
	}
	page, _ := chromedp.Run(b.ctx, chromedp.Evaluate[string](`location.href + "\n" + document.documentElement.outerHTML`))
	b.t.Fatalf("waited in vain for %s (%v)\n%s", expression, err, page)
}

func (b tab) text(expression string) string {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[string](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		b.t.Fatalf("%s: %v", expression, err)
	}
	return v
}

const (
	runs      = `window.larderUpdate !== undefined && document.getElementById("app-wasm-loader") === null`
	installed = `navigator.serviceWorker.ready.then(() => navigator.serviceWorker.controller !== null)`
	editions  = `caches.keys().then((names) => names.filter((n) => n.startsWith("larderlamp /sub/ ")).sort().join("|"))`
)

// serves reports whether the worker answers with an edition.
func serves(edition string) string {
	return `fetch("/sub/check").then((r) => r.text()).then((t) => t.includes("` + edition + `"))`
}

// install opens the site and waits until it is on the device.
func (b tab) install(h *host) {
	b.t.Helper()
	b.visit(h.URL + "/sub/")
	b.until(runs)
	b.until(installed)
}

// A host that compresses nothing sends the compressed copy of the program once for
// the page and the worker together; a host that compresses sends the program itself.
// So it is with the bundle, for the worker. A missing copy is not needed, and nothing of
// a damaged one is stored. Every page on the device has the policy that the host sends.
func TestBrowserFetchesTheSmallerProgram(t *testing.T) {
	const plain, copied = "/sub/wasm/app.wasm", "/sub/wasm/app.wasm.gz"
	for name, c := range map[string]struct {
		prepare       func(*host)
		plain, copied int64
	}{
		"plain":         {func(*host) {}, 0, 1},
		"compresses":    {func(h *host) { h.site.Load().Compress(Quick) }, 1, 0},
		"without copy":  {func(h *host) { lost := copied; h.lost.Store(&lost) }, 1, 0},
		"says its kind": {func(h *host) { h.says = true }, 0, 1},
	} {
		t.Run(name, func(t *testing.T) {
			h := newHost(t)
			c.prepare(h)
			b := newTab(t)
			b.install(h)
			if n, m := h.count(plain), h.count(copied); n != c.plain || m != c.copied {
				t.Errorf("got the program %d times and its copy %d times, want %d and %d", n, m, c.plain, c.copied)
			}
			bundle := [2]int64{0, 1}
			if name == "compresses" {
				bundle = [2]int64{1, 0}
			}
			if n, m := h.count("/sub"+bundleFile), h.count("/sub"+bundleFile+".gz"); n != bundle[0] || m != bundle[1] {
				t.Errorf("got the bundle %d times and its copy %d times, want %v", n, m, bundle)
			}
			if got := b.text(`caches.match("/sub/check").then((r) => r.headers.get("Content-Security-Policy") + " as " + r.headers.get("Content-Type"))`); got != h.site.Load().policy+"; frame-ancestors 'none' as text/html; charset=utf-8" {
				t.Errorf("a page on the device has the policy %s", got)
			}
			if name == "plain" || name == "compresses" {
				h.fetched(t, h.site.Load().visit("/", name == "plain"))
			}
			kept := b.text(`caches.match("` + plain + `").then((r) => r.arrayBuffer()).then((b) => crypto.subtle.digest("SHA-256", b)).then((d) => [...new Uint8Array(d)].map((n) => n.toString(16).padStart(2, "0")).join(""))`)
			if want := fmt.Sprintf("%x", h.site.Load().files[programFile].digest); kept != want {
				t.Errorf("got a program with the digest %s on the device, want %s", kept, want)
			}
		})
	}
}

func TestBrowserWorksWithoutAConnection(t *testing.T) {
	h := newHost(t)
	b := newTab(t)
	b.install(h)
	h.CloseClientConnections()
	h.Close()
	for address, path := range map[string]string{
		"/sub/":                "/sub/",
		"/sub/?from=home":      "/sub/",
		"/sub/check":           "/sub/check",
		"/sub/check/":          "/sub/check",
		"/sub/check/0199-abcd": "/sub/check/0199-abcd",
		"/sub/shell/large":     "/sub/shell/large", // which is not on the device
	} {
		b.visit(h.URL + address)
		b.until(runs)
		if got := b.text("location.pathname"); got != path {
			t.Errorf("%s: got the page at %s, want %s", address, got, path)
		}
	}
}

// Hosts of plain files redirect a page to its folder. The page must find its
// route anyway, and the worker must keep it without the redirect.
func TestBrowserOnAHostOfPlainFiles(t *testing.T) {
	h := newHost(t)
	files := fstest.MapFS{}
	for _, f := range h.site.Load().files {
		files[f.name()] = &fstest.MapFile{Data: f.body}
	}
	plain := httptest.NewServer(http.StripPrefix("/sub", http.FileServerFS(files)))
	t.Cleanup(plain.Close)
	b := newTab(t)
	b.visit(plain.URL + "/sub/check")
	b.until(runs)
	b.until(installed)
	if got := b.text("location.pathname"); got != "/sub/check" {
		t.Errorf("got the page at %s", got)
	}
	plain.CloseClientConnections()
	plain.Close()
	b.visit(plain.URL + "/sub/check")
	b.until(runs)
	b.until(serves("First edition"))
}

func TestBrowserUpdateWaitsForThePerson(t *testing.T) {
	h := newHost(t)
	b := newTab(t)
	b.install(h)
	b.text(`caches.open("of a neighbor").then(() => "")`)
	first := b.text(editions)
	if waiting := b.text("String(window.larderUpdate.waiting)"); waiting != "false" {
		t.Error("got an update notice for the first edition")
	}

	h.publish(t, "Second edition")
	b.text(`window.heard = false; document.addEventListener("larder-update", () => { window.heard = true }); ""`)
	b.text(`navigator.serviceWorker.ready.then((r) => r.update()).then(() => "")`)
	b.until("window.heard && window.larderUpdate.waiting")
	b.visit(h.URL + "/sub/check")
	b.until(runs)
	b.until("window.larderUpdate.waiting")
	b.until(serves("First edition"))

	b.text(`window.before = true; window.larderUpdate.take(); ""`)
	b.until("window.before === undefined && " + runs)
	b.until(serves("Second edition"))
	b.until(editions + `.then((names) => names !== "` + first + `" && !names.includes("|"))`)
	if got := b.text(`caches.has("of a neighbor").then(String)`); got != "true" {
		t.Error("the cache of another site on this host is gone")
	}
	if waiting := b.text("String(window.larderUpdate.waiting)"); waiting != "false" {
		t.Error("got an update notice after the update")
	}
}

func TestBrowserBrokenUpdateLeavesTheOldEdition(t *testing.T) {
	for name, spoil := range map[string]func(*host, string){
		"damaged": func(h *host, path string) { h.spoilt.Store(&path) },
		"lost":    func(h *host, path string) { h.lost.Store(&path) },
	} {
		t.Run(name, func(t *testing.T) {
			h := newHost(t)
			h.site.Load().Compress(Quick) // so that the bundle itself is fetched, and no copy
			b := newTab(t)
			b.install(h)
			first := b.text(editions)

			h.publish(t, "Second edition")
			h.site.Load().Compress(Quick)
			spoil(h, "/sub/bundle.json")
			b.text(`navigator.serviceWorker.ready.then((r) => r.update()).then(() => "")`)
			b.until(`navigator.serviceWorker.getRegistration().then((r) => r.installing === null && r.waiting === null)`)
			b.until(editions + `.then((names) => names === "` + first + `")`)
			if n := h.count("/sub/app-worker.js"); n != 2 {
				t.Fatalf("got %d workers, want 2", n)
			}
			h.CloseClientConnections()
			h.Close()
			b.visit(h.URL + "/sub/check")
			b.until(runs)
			b.until(serves("First edition"))
		})
	}
}

// A file that few people need is not fetched with an edition. Once it has been
// requested, it is there without a connection, and in the next edition too.
func TestBrowserStoresWhatIsWantedLater(t *testing.T) {
	const file = "/sub" + scannerFile
	kept := func(want string) string {
		return `caches.keys().then((names) => Promise.all(names.map(async (name) => (await (await caches.open(name)).match("` + file + `")) !== undefined))).then((found) => found.join() === "` + want + `")`
	}
	h := newHost(t)
	b := newTab(t)
	b.install(h)
	b.until(kept("false"))
	if n := h.count(file); n != 0 {
		t.Errorf("got %d fetches before anybody needed it", n)
	}
	for range 2 {
		if body := b.text(`fetch("` + file + `").then((r) => r.text())`); body != "\x00asm of a scanner" {
			t.Errorf("it is %q", body)
		}
		b.until(kept("true"))
	}
	if n := h.count(file); n != 1 {
		t.Errorf("got %d fetches", n)
	}
	h.publish(t, "Second edition")
	b.text(`navigator.serviceWorker.ready.then((r) => r.update()).then(() => "")`)
	b.until(`navigator.serviceWorker.getRegistration().then((r) => r.waiting !== null)`)
	b.until(kept("true,true"))
	h.CloseClientConnections()
	h.Close()
	if body := b.text(`fetch("` + file + `").then((r) => r.text())`); body != "\x00asm of a scanner" {
		t.Errorf("without a connection: got %q", body)
	}
}

func TestBrowserSaysThatTheProgramHasStopped(t *testing.T) {
	h := newHost(t)
	b := newTab(t)
	b.install(h)
	b.text(`new Go().exit(2); ""`)
	b.until(`document.activeElement.closest(".stopped[role=alert]")?.textContent.includes("do not rely on it")`)

	gone := "/sub/wasm/" // and with it the compressed copy
	broken := newHost(t)
	broken.lost.Store(&gone)
	b.visit(broken.URL + "/sub/")
	b.until(`document.querySelector(".unstarted[role=alert]")?.textContent.includes("could not start")`)
}

func TestBrowserNeverBreaksItsOwnPolicy(t *testing.T) {
	h := newHost(t)
	b := newTab(t)
	var broken sync.Map
	if err := chromedp.Do(b.ctx, chromedp.Navigate("about:blank")); err != nil {
		t.Fatal(err)
	}
	go func() {
		for message, err := range chromedp.Console(b.ctx) {
			if err != nil {
				return
			}
			if message.Type == chromedp.ConsoleError || message.Type == chromedp.ConsoleWarning || message.Type == chromedp.ConsoleException {
				broken.Store(message.Text, true)
			}
		}
	}()
	b.install(h)
	b.until(`performance.getEntriesByName("answerable").length > 0`)
	broken.Range(func(text, _ any) bool {
		t.Errorf("got on the console: %v", text)
		return true
	})
}
