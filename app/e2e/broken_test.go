//go:build e2e && linux

package e2e

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"larderlamp/app/e2e/drive"
)

// breakages are the ways in which a file of the site does not come as it should.
var breakages = map[string]func(w http.ResponseWriter, r *http.Request, f *fetchedFile){
	"missing": func(w http.ResponseWriter, r *http.Request, _ *fetchedFile) { http.NotFound(w, r) },
	"cut off": func(w http.ResponseWriter, _ *http.Request, f *fetchedFile) {
		w.Header().Set("Content-Type", f.kind)
		w.Write(f.body[:len(f.body)/2])
	},
	"a sign-in page": func(w http.ResponseWriter, _ *http.Request, _ *fetchedFile) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		io.WriteString(w, "<!doctype html><title>Welcome</title><h1>Sign in to use the Wi-Fi</h1><form><input name=room></form>")
	},
	"damaged": func(w http.ResponseWriter, _ *http.Request, f *fetchedFile) {
		w.Header().Set("Content-Type", f.kind)
		body := slices.Clone(f.body)
		body[len(body)/2] ^= 1
		w.Write(body)
	},
	"endless": func(w http.ResponseWriter, r *http.Request, f *fetchedFile) {
		w.Header().Set("Content-Type", f.kind)
		w.Write(f.body[:len(f.body)/2])
		w.(http.Flusher).Flush()
		<-r.Context().Done()
	},
}

// fetchedFile is a file as the site answers with it.
type fetchedFile struct {
	kind, policy string
	status       int
	body         []byte
}

// mirror stands in front of a site, which it asks for each file once.
type mirror struct {
	site  string
	files sync.Map // address to func() (*fetchedFile, error)
}

func (m *mirror) get(address string) (*fetchedFile, error) {
	once, _ := m.files.LoadOrStore(address, sync.OnceValues(func() (*fetchedFile, error) {
		answer, err := http.Get(m.site + address)
		if err != nil {
			return nil, err
		}
		defer answer.Body.Close()
		body, err := io.ReadAll(answer.Body)
		return &fetchedFile{answer.Header.Get("Content-Type"), answer.Header.Get("Content-Security-Policy"), answer.StatusCode, body}, err
	}))
	return once.(func() (*fetchedFile, error))()
}

// without serves the site with some of its files broken, at an address of its own
// and so with storage of its own, until it is told to end.
func (m *mirror) without(t *testing.T, files []string, how string) (address string, end func()) {
	broken := map[string]bool{}
	for _, f := range files {
		broken[f] = true
		if path.Ext(f) == ".wasm" {
			broken[f+".gz"] = true // the copy that is fetched in its place
		}
	}
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/begin" {
			w.Header().Set("Content-Type", "text/html")
			io.WriteString(w, "<!doctype html><title>A page to start from</title>")
			return
		}
		f, err := m.get(r.URL.RequestURI())
		if err != nil {
			http.Error(w, err.Error(), http.StatusBadGateway)
			return
		}
		if broken[r.URL.Path] {
			breakages[how](w, r, f)
			return
		}
		w.Header().Set("Content-Type", f.kind)
		w.Header().Set("Content-Security-Policy", f.policy)
		w.WriteHeader(f.status)
		w.Write(f.body)
	}))
	end = func() {
		server.CloseClientConnections()
		server.Close()
	}
	t.Cleanup(end)
	return server.URL, end
}

// state tells what a person sees: "runs" when the program does and the page is
// styled or says why not; "notice" when the notice that needs no script is on the
// screen, whole, with the stop signs above what to try; "" when it is neither.
const state = `(() => {
	const notice = document.getElementById("unready");
	if (notice && getComputedStyle(notice).visibility === "visible") {
		const says = notice.innerText, stop = says.indexOf("Stop signs"), attempt = says.indexOf("What you can try");
		const whole = stop >= 0 && stop < attempt && says.includes("sign in there");
		return whole && notice.getBoundingClientRect().height > 200 && notice.getBoundingClientRect().top <= 0 && !says.includes("Error") ? "notice" : "";
	}
	const styled = getComputedStyle(document.documentElement).getPropertyValue("--lamp") !== "" || document.querySelector(".unstyled");
	return "runs" in document.documentElement.dataset && document.querySelector("main h1") && !document.querySelector(".stopped") && styled ? "runs" : "";
})()`

var listed = regexp.MustCompile(`(?m)^const (files|later|bundled) = (.*);$`)

// list lists every file of the site: those that its worker stores, by its three lists,
// and the page that it does not.
func (m *mirror) list(t *testing.T) []string {
	t.Helper()
	worker, err := m.get("/app-worker.js")
	if err != nil {
		t.Fatal(err)
	}
	files := []string{"/app-worker.js", "/rules"}
	lists := listed.FindAllSubmatch(worker.body, -1)
	if len(lists) != 3 {
		t.Fatalf("the worker has %d lists of files", len(lists))
	}
	for _, l := range lists {
		if l[2][0] == '[' {
			var bundled []string
			if err := json.Unmarshal(l[2], &bundled); err != nil {
				t.Fatal(err)
			}
			files = append(files, bundled...)
			continue
		}
		var digests map[string]string
		if err := json.Unmarshal(l[2], &digests); err != nil {
			t.Fatal(err)
		}
		for f := range digests {
			files = append(files, f)
		}
	}
	slices.Sort(files)
	if len(files) < 50 {
		t.Fatalf("only %d files", len(files))
	}
	return files
}

// ordeal is a page that is opened while some files of the site are broken, and the
// result it must reach: a JavaScript expression.
type ordeal struct {
	files    []string
	how      string
	page     string
	ends     string
	language string // that was chosen before; "" is none
}

// ordeals are all of them: every file broken in every way. Together means that the
// files that no page needs at its start are broken together, and that one page is
// cut off and the next never ends, by turns, as the half that comes is the same.
// The page of a check, which every engine is asked for, is broken in both ways.
func ordeals(files []string, together bool) (all []ordeal) {
	const notice, runs = state + ` === "notice"`, state + ` === "runs"`
	for how := range breakages {
		groups, pages := map[string][]string{}, 0
		for _, f := range files {
			switch {
			case how == "damaged" && f != "/wasm/app.wasm" && f != "/static/es.json": // one byte may well change nothing
			case path.Ext(f) == "": // a page
				if how != "cut off" && how != "endless" { // what comes in its place is no page of ours
					break
				}
				if pages++; !together || f == "/check" || how == []string{"cut off", "endless"}[pages%2] {
					all = append(all, ordeal{[]string{f}, how, f, runs, ""})
				}
			case f == "/wasm/app.wasm", f == "/static/larderlamp.js": // nothing runs without
				all = append(all, ordeal{[]string{f}, how, "/check", notice, ""})
			case f == "/static/larderlamp.css" && how == "endless": // for which a browser may wait with the scripts
				all = append(all, ordeal{[]string{f}, how, "/check", state + ` !== ""`, ""})
			case f == "/static/larderlamp.css":
				all = append(all, ordeal{[]string{f}, how, "/check", runs + ` && !!document.querySelector(".unstyled")`, ""})
			case f == "/static/cases.json":
				all = append(all, ordeal{[]string{f}, how, "/rules", runs + ` && [...document.querySelectorAll("main .notice")].some(e => e.innerText.includes("could not be fetched"))`, ""})
			case f == "/static/notices.json":
				all = append(all, ordeal{[]string{f}, how, "/notices", runs + ` && [...document.querySelectorAll("main .notice")].some(e => e.innerText.includes("could not be read"))`, ""})
			case f == "/static/es.json": // the page is in English, and says why in Spanish
				all = append(all, ordeal{[]string{f}, how, "/check", runs + ` && document.documentElement.lang === "en" && !!document.querySelector(".untold[lang=es]")`, "es"})
			case !together:
				all = append(all, ordeal{[]string{f}, how, "/check", runs, ""})
			default:
				groups[path.Dir(f)] = append(groups[path.Dir(f)], f)
			}
		}
		for _, group := range groups {
			all = append(all, ordeal{group, how, "/check", runs, ""})
		}
	}
	slices.SortFunc(all, func(a, b ordeal) int {
		return cmp.Or(strings.Compare(a.how, b.how), strings.Compare(a.files[0], b.files[0]))
	})
	return all
}

// Whatever file of the site is missing, cut off, damaged, replaced by another site's
// page or never ends: the page works, or says that it does not and what can be done.
// In Chromium that is so for every file, as ordeals says, and the notice comes
// sooner than on a published page. With
// BROKEN=all each file is broken by itself, in every engine, with the patience of
// a published page.
func TestNoPageIsDeadWithoutAWord(t *testing.T) {
	everything := os.Getenv("BROKEN") == "all"
	s := serve(t, "")
	if !everything {
		s.with(need(t, "SITE"), need(t, "PROGRAMS"), "-patience", "3s")
	}
	m := &mirror{site: s.url("")}
	all := ordeals(m.list(t), !everything)
	inEveryEngine(t, func(t *testing.T, e drive.Engine) {
		mine := all
		if e != drive.Chromium && !everything {
			mine = slices.DeleteFunc(slices.Clone(all), func(o ordeal) bool {
				return o.page != "/check" || len(o.files) > 1 || o.how == "damaged"
			})
		}
		if e == drive.WebKit {
			// Its driver does not respond while a page loads.
			mine = slices.DeleteFunc(slices.Clone(mine), func(o ordeal) bool {
				return o.how == "endless" && path.Ext(o.files[0]) != ".wasm"
			})
		}
		b := drive.Start(t, e)
		// Most of the time is spent waiting, and so several wait together. Among
		// more than that a page that never ends gets no turn in Firefox.
		together := 12
		if e == drive.Chromium {
			together = 24
		}
		type trial struct {
			ordeal
			tab  *drive.Tab
			end  func()
			late time.Time
		}
		var open []trial
		rest := mine
		for len(rest)+len(open) > 0 {
			for len(rest) > 0 && len(open) < together {
				o := rest[0]
				rest = rest[1:]
				address, end := m.without(t, o.files, o.how)
				tab := b.Open(t, address, drive.Phone)
				tab.ExpectFaults = true
				tab.Load("/begin")
				drive.Eval[bool](tab, fmt.Sprintf(`(localStorage.setItem("larderlamp-language", %q), true)`, o.language))
				// The page that never ends would not let this call end either.
				drive.Eval[bool](tab, fmt.Sprintf(`(setTimeout(() => location.assign(%q)), true)`, o.page))
				open = append(open, trial{o, tab, end, time.Now().Add(drive.Patience)})
			}
			// One that has come to its end makes room at once: its worker would only go
			// on storing the whole site.
			open = slices.DeleteFunc(open, func(o trial) bool {
				there, err := drive.Evaluate[bool](o.tab, `!!(location.pathname === "`+o.page+`" && `+o.ends+`)`)
				if (err != nil || !there) && time.Now().Before(o.late) {
					return false
				}
				if err != nil || !there {
					sees, _ := drive.Evaluate[string](o.tab, state)
					says, _ := drive.Evaluate[string](o.tab, `document.body.innerText.slice(0, 300)`)
					t.Errorf("%v is %s: got the state %[4]q of %[3]s; the page says %[5]q", o.files, o.how, o.page, sees, says)
				}
				o.tab.Close()
				o.end()
				return true
			})
			time.Sleep(20 * time.Millisecond)
		}
		t.Logf("%d pages, each with something broken: none without a word", len(mine))
	})
}

// A check can be made, and is not said to be saved, in a browser that gives the
// site no storage; and a browser is not taken for a crawler by its name.
func TestOddBrowsers(t *testing.T) {
	s := serve(t, "")
	const robot = "Mozilla/5.0 (Linux; Android 14; Cubot X70) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/130.0 Mobile Safari/537.36 Googlebot"
	blocked := t.TempDir()
	if err := os.MkdirAll(filepath.Join(blocked, "Default"), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(blocked, "Default", "Preferences"), []byte(`{"profile":{"default_content_setting_values":{"cookies":2}}}`), 0o644); err != nil {
		t.Fatal(err)
	}
	check := func(t *testing.T, p *tab, path string) {
		t.Helper()
		h := byTouch{p}
		p.load(path)
		p.wait(`"runs" in document.documentElement.dataset && !!document.querySelector("#product")`)
		h.product("Green beans")
		// What is said of a refused storage moves the picture when it comes.
		p.wait(`!!document.querySelector(".question") && (!window.refused || !!document.querySelector(".notice"))`)
		p.drawn()
		h.report("lid", "lid", "Bulging")
		p.wait(`!!document.querySelector(".answer.verdict-discard")`)
	}
	t.Run("the name of a crawler", func(t *testing.T) {
		p := startOwn(t, chromedp.Flag("user-agent", robot)).open(s, phone)
		check(t, p, "/check")
		if !eval[bool](p, `navigator.userAgent.includes("bot")`) {
			t.Error("got a browser with another name")
		}
	})
	t.Run("wasm=false", func(t *testing.T) { check(t, start(t).open(s, phone), "/check?wasm=false") })
	t.Run("all cookies blocked", func(t *testing.T) {
		p := startOwn(t, chromedp.UserDataDir(blocked)).open(s, phone)
		p.expectFaults = true // the site is not stored, and that is said on the console
		p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": `try { window.refused = !localStorage } catch { window.refused = true }`})
		check(t, p, "/check")
		if !eval[bool](p, `window.refused`) {
			t.Fatal("got storage from the browser, want it refused")
		}
		if says := p.text("main"); strings.Contains(says, onDevice) {
			t.Errorf("got a page that calls the check saved: %.300s", says)
		}
	})
	for what, script := range map[string]string{
		"no WebAssembly":        `delete window.WebAssembly`,
		"an old WebAssembly":    `WebAssembly.compileStreaming = WebAssembly.compile = () => Promise.reject(new WebAssembly.CompileError("invalid opcode 0xfc"))`,
		"no memory left":        `WebAssembly.instantiate = () => Promise.reject(new RangeError("out of memory"))`,
		"an error at the start": `addEventListener("DOMContentLoaded", () => { const get = Reflect.get; Reflect.get = (o, k, ...more) => { if (k === "firstElementChild") throw new Error("a test"); return get(o, k, ...more); }; })`,
	} {
		t.Run(what, func(t *testing.T) {
			p := start(t).open(s, phone)
			p.expectFaults = true
			p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": script})
			p.load("/check")
			p.wait(state + ` === "notice" && document.querySelector("#unready.unstarted")?.innerText.includes("could not start")`)
			if says := p.text("#unready"); strings.Contains(says, "opcode") || strings.Contains(says, "a test") || strings.Contains(says, "out of memory") {
				t.Errorf("got the raw error in the notice: %s", says)
			}
			p.axe("the notice after " + what)
		})
	}
}
