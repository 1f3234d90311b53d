//go:build e2e && linux

package drive

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// A page with what the guide is made of, and nothing else.
const bench = `<!doctype html><meta name="viewport" content="width=device-width"><title>bench</title><body>
<label class="choice"><input type="radio" name="choice" value="a"><span>The lid bulges</span></label>
<label class="choice"><input type="radio" name="choice" value="b"><span>The lid is flat</span></label>
<input id="text"><button id="button">Press me</button><input type="file" id="file"><a href="/other">Elsewhere</a>
<script>
const said = [];
for (const type of ["pointerdown", "pointerup", "click"]) {
	addEventListener(type, e => { if (e.isTrusted) said.push(type + " " + e.target.localName + (e.pointerType ? " " + e.pointerType : "")); }, true);
}
const open = () => new Promise((done, fail) => {
	const r = indexedDB.open("bench", 1);
	r.onupgradeneeded = () => r.result.createObjectStore("rows");
	r.onsuccess = () => done(r.result);
	r.onerror = () => fail(r.error);
});
const put = async text => { const db = await open(); await new Promise((done, fail) => { const t = db.transaction("rows", "readwrite", { durability: "strict" }); t.objectStore("rows").put(text, 1); t.oncomplete = done; t.onabort = () => fail(t.error); }); db.close(); return true; };
const get = async () => { const db = await open(); const v = await new Promise((done, fail) => { const r = db.transaction("rows").objectStore("rows").get(1); r.onsuccess = () => done(r.result); r.onerror = () => fail(r.error); }); db.close(); return v ?? ""; };
</script>`

func each(t *testing.T, do func(t *testing.T, e Engine, site string)) {
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		if r.URL.Path == "/strict" {
			w.Header().Set("Content-Security-Policy", "default-src 'none'; script-src 'none'")
		}
		io.WriteString(w, bench)
	}))
	t.Cleanup(site.Close)
	for _, e := range Engines {
		t.Run(string(e), func(t *testing.T) { do(t, e, site.URL) })
	}
}

// A first page that hangs is loaded once more, with what was stored, and said to have
// hung; one that hangs again fails the test.
func TestHang(t *testing.T) {
	loops := 0
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		io.WriteString(w, bench+"<main>")
		if loops--; loops >= 0 {
			io.WriteString(w, "<script>onload = () => setTimeout(() => { for (;;); })</script>")
		}
	}))
	t.Cleanup(site.Close)
	t.Cleanup(func(usual time.Duration, was int, to string) func() {
		return func() { Answers, hung, Hangs = usual, was, to }
	}(Answers, hung, Hangs))
	Answers, Hangs = time.Second, filepath.Join(t.TempDir(), "hung.txt")
	b := Start(t, WebKit)
	open := func() *Tab { return b.Open(t, site.URL, Phone) }
	p := open()
	p.Visit("/")
	Eval[bool](p, `put("here")`)
	if _, err := os.Stat(Hangs); err == nil {
		t.Error("got a note of a hang, and there was none")
	}
	b.Restart(t)
	p = open()
	loops = 1
	p.Visit("/")
	if got := Eval[string](p, "get()"); got != "here" {
		t.Errorf("got %q after a hang, want what was stored", got)
	}
	if said, err := os.ReadFile(Hangs); err != nil || !strings.Contains(string(said), "WebKitWebProces") {
		t.Errorf("got the note %q (%v), want the processes", said, err)
	}
	b.Restart(t)
	p = open()
	hung = mostHangs
	failed := &failing{TB: t}
	p.T, loops = failed, 1
	ended := make(chan bool)
	go func() {
		defer close(ended)
		p.Visit("/")
	}()
	<-ended
	if !failed.fatal {
		t.Error("got one hang after another, and no failure")
	}
	b.Kill(t) // what hangs would make the end of the test wait
}

// Of pages that load at once one may hang: the browser is another one then. One that
// answers what was not asked for is the same browser, and the test judges.
func TestHung(t *testing.T) {
	site := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html; charset=utf-8")
		io.WriteString(w, bench+"<main>")
		if r.URL.Path == "/loops" {
			io.WriteString(w, "<script>onload = () => setTimeout(() => { for (;;); })</script>")
		}
	}))
	t.Cleanup(site.Close)
	t.Cleanup(func(usual time.Duration, was int, to string) func() {
		return func() { Answers, hung, Hangs = usual, was, to }
	}(Answers, hung, Hangs))
	Hangs = filepath.Join(t.TempDir(), "hung.txt")
	b := Start(t, WebKit)
	tabs := []*Tab{b.Open(t, site.URL, Phone), b.Open(t, site.URL, Phone)}
	for _, p := range tabs {
		p.Visit("/")
	}
	was := b.running
	if b.Hung(tabs, Runs) || b.running != was {
		t.Error("got a hang of pages that answer")
	}
	tabs[1].Load("/loops")
	Answers = time.Second
	if !b.Hung(tabs, Runs+" && false || location.pathname === '/'") || b.running == was {
		t.Error("got the same browser after a hang")
	}
	if said, err := os.ReadFile(Hangs); err != nil || !strings.Contains(string(said), "page 2 of 2") {
		t.Errorf("got the note %q (%v), want which page hung", said, err)
	}
}

// failing is a test that may fail.
type failing struct {
	testing.TB
	fatal bool
}

func (f *failing) Fatal(...any) {
	f.fatal = true
	runtime.Goexit()
}

// The same calls do the same in every engine: what was touched, pressed, given
// and kept is there.
func TestDrive(t *testing.T) {
	each(t, func(t *testing.T, e Engine, site string) {
		b := Start(t, e)
		p := b.Open(t, site, Phone)
		p.Load("/")
		if got := Eval[string](p, `innerWidth + "x" + innerHeight`); got != "360x640" {
			t.Errorf("got the page %s", got)
		}
		p.Touch("label", "The lid is flat")
		p.Wait(`document.querySelector("[value=b]").checked`)
		t.Logf("a touch of a label is %s", Eval[[]string](p, `said`))
		p.Touch("button", "Press me")
		p.Wait(`said.includes("click button touch") || said.includes("click button mouse") || said.includes("click button")`)
		p.Walk(`e.id === "text"`)
		p.Type("green, É 7")
		p.Press(Backspace, Left, "x")
		if got := Eval[string](p, `document.querySelector("#text").value`); got != "green, Éx " {
			t.Errorf("got %q typed", got)
		}
		name := filepath.Join(t.TempDir(), "file.json")
		if err := os.WriteFile(name, []byte(`{"a": 1}`), 0o600); err != nil {
			t.Fatal(err)
		}
		p.Files("#file", name)
		if got := Eval[string](p, `document.querySelector("#file").files[0].text()`); got != `{"a": 1}` {
			t.Errorf("got the file %q", got)
		}
		// A chooser that the page opens by itself waits for the file.
		Eval[bool](p, `(() => { const button = document.querySelector("#button"); window.canceled = false; window.given = "";
			button.onclick = () => { const f = document.createElement("input"); f.type = "file"; f.dataset.choose = ""; document.body.append(f);
				f.oncancel = () => { canceled = true }; f.onchange = async () => { given = await f.files[0].text() }; f.click() }; return true })()`)
		p.Touch("button", "Press me")
		p.Files("[data-choose]", name)
		p.Wait(`given === '{"a": 1}'`)
		if Eval[bool](p, `canceled`) {
			t.Error("got a canceled file chooser")
		}
		p.Touch("a", "Elsewhere")
		p.Wait(`location.pathname === "/other"`)
		p.Back()
		p.Wait(`location.pathname === "/"`)
		if png := p.Picture(); !strings.HasPrefix(string(png), "\x89PNG") {
			t.Errorf("got the picture %.20q", png)
		}
		if _, err := Evaluate[bool](p, `nothing.of.that`); err == nil {
			t.Error("got no error for an exception")
		}
		Eval[bool](p, `put("kept")`)
		q := b.Open(t, site, Phone)
		q.Load("/second")
		if got := Eval[string](q, `get()`); got != "kept" {
			t.Errorf("a second tab: got %q", got)
		}
		if got := Eval[string](p, `location.pathname`); got != "/" {
			t.Errorf("the first tab: got %s", got)
		}
		Eval[bool](q, `put("for good")`)
		b.Restart(t)
		r := b.Open(t, site, Desktop)
		r.Load("/third")
		if got := Eval[string](r, `get()`); got != "for good" {
			t.Errorf("after a restart: got %q", got)
		}
		r.Touch("label", "The lid bulges")
		r.Wait(`document.querySelector("[value=a]").checked`)
		Eval[bool](r, `put("strict")`)
		b.Kill(t)
		s := b.Open(t, site, Phone)
		s.Load("/fourth")
		if got := Eval[string](s, `get()`); got != "strict" {
			t.Errorf("after it was killed: got %q", got)
		}
	})
}

// Nothing of a browser outlives its end, by itself or by force: what is left of
// it would go on writing into the folder of its profile.
func TestNothingOfABrowserIsLeft(t *testing.T) {
	left := func(profile string) (found []string) {
		commands, err := filepath.Glob("/proc/[0-9]*/cmdline")
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range commands {
			// Every process of a browser is told the profile in one of these.
			line, _ := os.ReadFile(name)
			environment, _ := os.ReadFile(filepath.Join(filepath.Dir(name), "environ"))
			if strings.Contains(string(line)+string(environment), profile) {
				found = append(found, strings.ReplaceAll(string(line), "\x00", " "))
			}
		}
		return found
	}
	each(t, func(t *testing.T, e Engine, site string) {
		start, err := starter(e)
		if err != nil {
			t.Fatal(err)
		}
		for what, end := range map[string]func(engine) error{"quit": engine.quit, "killed": engine.kill} {
			profile := t.TempDir()
			running, err := start(profile, watch, limits{})
			if err != nil {
				t.Fatal(err)
			}
			p, err := running.open(Phone, &faults{site: site})
			if err == nil {
				err = p.load(site + "/")
			}
			if err != nil {
				t.Error(err)
			}
			if n := len(left(profile)); n < 2 {
				t.Errorf("got %d processes while the browser runs", n)
			}
			if err := end(running); err != nil {
				t.Errorf("%s: %v", what, err)
			}
			if found := left(profile); len(found) > 0 {
				t.Errorf("%s: got processes that still run: %q", what, found)
			}
		}
	})
}

// What a page must not do is heard in every engine.
func TestFaultsAreHeard(t *testing.T) {
	each(t, func(t *testing.T, e Engine, site string) {
		b := Start(t, e)
		for _, fault := range []struct{ path, does, says string }{
			{"/", `console.error("an error of the page"), true`, "an error of the page"},
			{"/", `setTimeout(() => { throw new Error("an exception of the page") }), true`, "an exception of the page"},
			{"/strict", `true`, breach},
			{"/", `fetch("http://larder.example/spy").catch(() => {}), true`, foreign + "http://larder.example/spy"},
		} {
			heard := &recorder{TB: t}
			p := b.Open(t, site, Phone)
			p.Load(fault.path)
			p.T = heard
			Eval[bool](p, fault.does)
			err := await("a fault", func() error {
				p.page.listen()
				if all := strings.Join(p.faults.all(), "\n"); !strings.Contains(all, fault.says) {
					return fmt.Errorf("got the faults %q", all)
				}
				return nil
			})
			if err != nil {
				t.Errorf("%s: %v", fault.does, err)
			}
			p.check()
			if !heard.failed {
				t.Errorf("%s: want it to fail its test", fault.does)
			}
			p.Close()
			p.faults = &faults{}
		}
	})
}

// A touch that hits something else than it was meant for is noticed, with what it
// has hit, and one that is meant for what is covered waits until it is free.
func TestTouchesHitWhatTheyAreMeantFor(t *testing.T) {
	each(t, func(t *testing.T, e Engine, site string) {
		p := Start(t, e).Open(t, site, Phone)
		load := func() {
			p.Load("/")
			Eval[bool](p, `(() => { window.cover = () => { const over = document.createElement("div"); over.id = "over"; over.setAttribute("style", "position: fixed; inset: 0"); document.body.append(over) }; return true })()`)
		}
		load()
		at := Eval[*Place](p, Spot(`document.querySelector("#button")`))
		Eval[bool](p, `(cover(), true)`)
		p.TapAt(at.X, at.Y)
		if miss := Eval[string](p, Struck); !strings.Contains(miss, `id="button"`) || !strings.Contains(miss, `id="over"`) {
			t.Errorf("an element that is covered: got %q hit", miss)
		}
		load()
		Eval[bool](p, `(cover(), setTimeout(() => document.querySelector("#over").remove(), 500), true)`)
		p.Touch("button", "Press me") // when it is no longer covered
		p.Wait(`said.some(s => s.startsWith("click button"))`)
	})
}

// recorder is a test that may fail.
type recorder struct {
	testing.TB
	failed bool
}

func (r *recorder) Errorf(string, ...any) { r.failed = true }
func (r *recorder) Failed() bool          { return false }
