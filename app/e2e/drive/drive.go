//go:build e2e && linux

// Package drive uses the guide as a person does, in each of three browser
// engines, with one set of calls: open a page, touch what says something, press
// keys, go back, open a second tab, leave and come back with the same data.
//
// Chromium is driven over its DevTools, Firefox over WebDriver BiDi, and WebKit
// over WebKitWebDriver with a window of our own (see window). The Makefile
// installs all three; a missing one is an error, never a reason to skip.
package drive

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

// Patience is how long anything in a browser may take before a test gives up on
// it. It bounds a hang; nothing is judged by it.
const Patience = 60 * time.Second

// Engine is the name of a browser engine.
type Engine string

const (
	Chromium Engine = "chromium"
	Firefox  Engine = "firefox"
	WebKit   Engine = "webkit"
)

// Engines are all of them, in the order in which tests go through them.
var Engines = []Engine{Chromium, Firefox, WebKit}

// engine is a running browser.
type engine interface {
	open(as Screen, faults *faults) (page, error)
	// quit ends the browser as a person does; what it keeps is on the disk then.
	quit() error
	// kill ends it at once, with all that it has started.
	kill() error
}

// page is one tab of it. An expression gives JSON text.
type page interface {
	load(address string) error
	back() error
	evaluate(expression string) (string, error)
	touch(x, y float64) error
	click(x, y float64) error
	press(key string) error
	files(selector string, names []string) error
	picture() ([]byte, error)
	// listen hears what the page has said until now.
	listen()
	close() error
}

// Screen is the size of a page, and how it is pointed at.
type Screen struct {
	Width, Height int
	Touch         bool
}

var (
	Phone   = Screen{360, 640, true}
	Desktop = Screen{1280, 800, false}
)

// Browser is one browser with a profile of its own.
type Browser struct {
	Engine  Engine
	profile string
	script  string
	running engine
	start   starting
}

// starting starts an engine with the data of a profile, and a script that every
// page evaluates before its own.
type starting func(profile, script string) (engine, error)

// Start starts a browser, which ends with the test. Every page evaluates the
// scripts before its own.
func Start(t testing.TB, e Engine, scripts ...string) *Browser {
	t.Helper()
	start, err := starter(e)
	if err != nil {
		t.Fatal(err)
	}
	b := &Browser{Engine: e, profile: t.TempDir(), script: watch + strings.Join(scripts, "\n"), start: start}
	b.again(t)
	t.Cleanup(func() {
		if err := b.running.kill(); err != nil {
			t.Errorf("%s does not end: %v", e, err)
		}
	})
	return b
}

// starter gives what starts an engine.
func starter(e Engine) (starting, error) {
	switch e {
	case Chromium:
		return startChromium, nil
	case Firefox:
		return startFirefox, nil
	case WebKit:
		return startWebKit, nil
	}
	return nil, fmt.Errorf("there is no engine %q", e)
}

func (b *Browser) again(t testing.TB) {
	t.Helper()
	running, err := b.start(b.profile, b.script)
	if err != nil {
		t.Fatalf("%s does not start: %v", b.Engine, err)
	}
	b.running = running
}

// Restart closes the browser and starts it again with the same data. All tabs
// are gone.
func (b *Browser) Restart(t testing.TB) {
	t.Helper()
	if err := b.running.quit(); err != nil {
		t.Fatalf("%s does not end: %v", b.Engine, err)
	}
	b.again(t)
}

// Kill ends the browser in the middle of whatever it does, and starts it again
// with the same data. All tabs are gone.
func (b *Browser) Kill(t testing.TB) {
	t.Helper()
	if err := b.running.kill(); err != nil {
		t.Fatalf("%s does not end: %v", b.Engine, err)
	}
	b.again(t)
}

// Tab is one page of a browser. It fails its test for every error on the
// console, breach of the content security policy and request to another host.
type Tab struct {
	T      testing.TB
	Engine Engine
	Screen Screen
	// Site is what the addresses of pages are relative to.
	Site string
	// ExpectFaults says that errors on the console are the test's own. What must
	// never happen still fails it.
	ExpectFaults bool

	page   page
	faults *faults
	gone   bool
}

// Open opens a tab, which is closed with the test.
func (b *Browser) Open(t testing.TB, site string, as Screen) *Tab {
	t.Helper()
	heard := &faults{site: site}
	p, err := b.running.open(as, heard)
	if err != nil {
		t.Fatalf("%s opens no tab: %v", b.Engine, err)
	}
	tab := &Tab{T: t, Engine: b.Engine, Screen: as, Site: site, page: p, faults: heard}
	running := b.running
	t.Cleanup(func() {
		tab.gone = tab.gone || b.running != running
		tab.check()
		tab.Close()
	})
	return tab
}

// Close closes the tab.
func (p *Tab) Close() {
	if !p.gone {
		p.gone = true
		p.page.close()
	}
}

// check looks at what was heard, and keeps what there is to see of a failure.
func (p *Tab) check() {
	if !p.gone {
		p.page.listen()
	}
	for _, f := range p.faults.all() {
		if !p.ExpectFaults || strings.HasPrefix(f, breach) || strings.HasPrefix(f, foreign) {
			p.T.Errorf("%s: %s", p.Engine, f)
		}
	}
	if p.T.Failed() && !p.gone {
		p.keep()
	}
}

// keep writes a picture and the console of a failed test to build/failed.
func (p *Tab) keep() {
	folder := "build/failed"
	for up := "."; ; up = filepath.Join(up, "..") {
		if _, err := os.Stat(filepath.Join(up, "go.mod")); err == nil {
			folder = filepath.Join(up, folder)
			break
		}
		if whole, err := filepath.Abs(up); err != nil || whole == "/" {
			break
		}
	}
	folder, _ = filepath.Abs(folder)
	name := filepath.Join(folder, strings.NewReplacer("/", "-", " ", "-").Replace(p.T.Name())+"-"+string(p.Engine))
	if err := os.MkdirAll(folder, 0o755); err != nil {
		p.T.Logf("nothing is kept of the failure: %v", err)
		return
	}
	address, _ := p.page.evaluate(`location.href`)
	text, _ := p.page.evaluate(`document.body?.innerText ?? ""`)
	var says string
	json.Unmarshal([]byte(text), &says)
	notes := "address: " + address + "\n\nconsole:\n" + strings.Join(append(p.faults.all(), p.faults.other...), "\n") + "\n\npage:\n" + says + "\n"
	if err := os.WriteFile(name+".txt", []byte(notes), 0o644); err != nil {
		p.T.Logf("no notes: %v", err)
	}
	png, err := p.page.picture()
	if err == nil {
		err = os.WriteFile(name+".png", png, 0o644)
	}
	if err != nil {
		p.T.Logf("no picture: %v", err)
	}
	p.T.Logf("what there is to see: %s.png and .txt", name)
}

// Picture gives the page as it looks, as PNG.
func (p *Tab) Picture() []byte {
	p.T.Helper()
	png, err := p.page.picture()
	p.must(err, "picture")
	return png
}

// Load opens an address of the site without waiting for its program.
func (p *Tab) Load(path string) {
	p.T.Helper()
	p.must(p.page.load(p.Site+path), path)
}

// Blank leaves the site for an empty page: whatever address is opened next is
// loaded, even if only what follows its # is another.
func (p *Tab) Blank() {
	p.T.Helper()
	p.must(p.page.load("about:blank"), "an empty page")
}

// Visit opens an address of the site and waits until the program runs.
func (p *Tab) Visit(path string) {
	p.T.Helper()
	p.Load(path)
	p.Running()
}

// Running waits until the program has replaced the prerendered page.
func (p *Tab) Running() {
	p.T.Helper()
	p.Wait(Runs)
}

// Runs is JavaScript that tells whether the program has replaced the prerendered
// page. The mark of a page that waits for it stands at the end of the document,
// and so the document has to be there to its end.
const Runs = `document.readyState !== "loading" && !document.getElementById("app-wasm-loader") && !!document.querySelector("main")`

// Installed waits until the worker has stored the whole edition.
func (p *Tab) Installed() {
	p.T.Helper()
	p.Wait(`navigator.serviceWorker.ready.then(() => !!navigator.serviceWorker.controller)`)
}

// Back goes back as the browser's own button does.
func (p *Tab) Back() {
	p.T.Helper()
	p.must(p.page.back(), "back")
}

// Wait polls until the JavaScript expression, or what it promises, holds.
func (p *Tab) Wait(expression string) {
	p.T.Helper()
	deadline := time.Now().Add(Patience)
	for {
		ok, err := Evaluate[bool](p, "Promise.resolve("+expression+").then(v => !!v)")
		if err == nil && ok {
			return
		}
		if time.Now().After(deadline) {
			says, _ := Evaluate[string](p, `document.body.innerText`)
			p.T.Fatalf("%s: waited in vain for %s (%v); the page says: %.600s", p.Engine, expression, err, says)
		}
		time.Sleep(15 * time.Millisecond)
	}
}

// Drawn waits until the program has drawn what it was told before: it draws in
// ticks, at most a few frames apart.
func (p *Tab) Drawn() {
	p.T.Helper()
	// A tab that stands behind another may draw no frames at all.
	Eval[bool](p, `new Promise(done => setTimeout(() => { setTimeout(() => done(true), 500); requestAnimationFrame(() => requestAnimationFrame(() => done(true))) }, 60))`)
}

// Eval evaluates JavaScript, waits for what it promises, and fails the test when
// it throws.
func Eval[T any](p *Tab, expression string) T {
	p.T.Helper()
	v, err := Evaluate[T](p, expression)
	p.must(err, expression)
	return v
}

// Evaluate is Eval for a test that goes on when the page is gone or throws.
func Evaluate[T any](p *Tab, expression string) (v T, err error) {
	text, err := p.page.evaluate(expression)
	if err != nil {
		return v, err
	}
	if err := json.Unmarshal([]byte(text), &v); err != nil {
		return v, fmt.Errorf("%.100s: %w", text, err)
	}
	return v, nil
}

// asJSON makes an expression give JSON text, whatever it gives.
func asJSON(expression string) string {
	return "(async () => JSON.stringify(await (" + expression + ")) ?? 'null')()"
}

// Text is what an element says; "" when there is none.
func (p *Tab) Text(selector string) string {
	p.T.Helper()
	return strings.TrimSpace(Eval[string](p, fmt.Sprintf(`document.querySelector(%q)?.innerText ?? ""`, selector)))
}

// Has tells whether there is such an element.
func (p *Tab) Has(selector string) bool {
	p.T.Helper()
	return Eval[bool](p, fmt.Sprintf(`!!document.querySelector(%q)`, selector))
}

// Saying is JavaScript for the first element of a kind that holds a text.
func Saying(selector, text string) string {
	return fmt.Sprintf(`[...document.querySelectorAll(%q)].find(e => e.innerText.includes(%q))`, selector, text)
}

// Touch touches the first element of a kind that holds a text, with a finger or
// on a desktop with the mouse.
func (p *Tab) Touch(selector, text string) {
	p.T.Helper()
	p.Tap(Saying(selector, text))
}

// Tap touches the element of a JavaScript expression, with a finger or on a
// desktop with the mouse.
func (p *Tab) Tap(element string) {
	p.T.Helper()
	p.Wait("!!(" + element + ")")
	// The page may still be drawing and scrolling: a finger waits until what it
	// wants to touch stands still.
	p.Wait(`new Promise(still => {
		const where = () => { const e = ` + element + `; if (!e) return null; e.scrollIntoView({block: "center", behavior: "instant"}); const r = e.getBoundingClientRect(); return {X: r.x + r.width / 2, Y: r.y + r.height / 2} };
		const was = where();
		setTimeout(() => requestAnimationFrame(() => { const at = where(); window.driven = at; still(!!was && !!at && was.X === at.X && was.Y === at.Y) }), 30);
	})`)
	at := Eval[place](p, `window.driven`)
	p.TapAt(at.X, at.Y)
}

type place struct{ X, Y float64 }

// TapAt touches a place of the screen.
func (p *Tab) TapAt(x, y float64) {
	p.T.Helper()
	if p.Screen.Touch {
		p.must(p.page.touch(x, y), "touch")
	} else {
		p.must(p.page.click(x, y), "click")
	}
}

// TapZone touches a part of the jar's picture, somewhere inside its outline.
func (p *Tab) TapZone(zone string) {
	p.T.Helper()
	p.Wait(fmt.Sprintf(`!!document.querySelector('[data-zone=%q]')`, zone))
	at := Eval[place](p, fmt.Sprintf(`(() => {
		const zone = document.querySelector('[data-zone=%q]');
		zone.scrollIntoView({block: "center", behavior: "instant"});
		const r = zone.getBoundingClientRect();
		for (let y = r.y + 8; y < r.bottom; y += 8) for (let x = r.x + 8; x < r.right; x += 8)
			if (document.elementFromPoint(x, y)?.closest("[data-zone]") === zone) return {X: x, Y: y};
		throw new Error("the part cannot be touched");
	})()`, zone))
	p.TapAt(at.X, at.Y)
}

// Keys that are no characters.
const (
	Enter     = "Enter"
	Tabulator = "Tab"
	Escape    = "Escape"
	Backspace = "Backspace"
	Up        = "ArrowUp"
	Down      = "ArrowDown"
	Left      = "ArrowLeft"
	Right     = "ArrowRight"
)

// Press presses keys, one after the other: names of keys, or single characters.
func (p *Tab) Press(keys ...string) {
	p.T.Helper()
	for _, k := range keys {
		p.must(p.page.press(k), "key "+k)
	}
}

// Type presses the keys of a text.
func (p *Tab) Type(text string) {
	p.T.Helper()
	p.Press(strings.Split(text, "")...)
}

// Walk presses Tab until the focus is on what the JavaScript expression of `e`
// asks for.
func (p *Tab) Walk(want string) {
	p.T.Helper()
	for range 150 {
		if Eval[bool](p, "(e => !!("+want+"))(document.activeElement)") {
			return
		}
		p.Press(Tabulator)
	}
	p.T.Fatalf("%s: the keyboard does not reach %s", p.Engine, want)
}

// Files gives files to the input that a selector finds; no dialog opens.
func (p *Tab) Files(selector string, names ...string) {
	p.T.Helper()
	p.Wait(fmt.Sprintf(`!!document.querySelector(%q)`, selector))
	p.must(p.page.files(selector, names), "files")
}

func (p *Tab) must(err error, doing string) {
	p.T.Helper()
	if err != nil {
		p.T.Fatalf("%s: %s: %v", p.Engine, doing, err)
	}
}

// These faults are never a test's own.
const (
	breach  = "breach of the content security policy: "
	foreign = "request to another host: "
)

// watch is evaluated in every page before its own scripts. It also keeps from
// the page that a chooser of files was cancelled: Firefox and WebKit cancel one
// that no test has given a file to yet.
const watch = `
document.addEventListener("securitypolicyviolation", e => console.error("` + breach + `" + e.violatedDirective + " " + e.blockedURI));
window.addEventListener("cancel", e => { if (e.target.type === "file") e.stopImmediatePropagation(); }, true);
`

// faults are what a tab must not do.
type faults struct {
	site  string
	mu    sync.Mutex
	list  []string
	other []string
}

// hears notes what is no error; it is kept when the test fails.
func (f *faults) hears(text string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.other = append(f.other, text)
}

// says notes an error on the console.
func (f *faults) says(text string) {
	if strings.Contains(text, breach) || strings.Contains(text, "Content Security Policy") {
		f.add(breach + text)
		return
	}
	f.add("console: " + text)
}

// asks notes a request, if it is to another host.
func (f *faults) asks(address string) {
	for _, own := range []string{f.site + "/", "data:", "blob:", "about:"} {
		if strings.HasPrefix(address, own) {
			return
		}
	}
	if address != f.site {
		f.add(foreign + address)
	}
}

func (f *faults) add(fault string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.list = append(f.list, fault)
}

func (f *faults) all() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return append([]string(nil), f.list...)
}

// await asks again until it is answered.
func await(what string, ask func() error) error {
	deadline := time.Now().Add(Patience)
	for {
		err := ask()
		if err == nil {
			return nil
		}
		if time.Now().After(deadline) {
			return fmt.Errorf("%s: %w", what, err)
		}
		time.Sleep(20 * time.Millisecond)
	}
}

var errClosed = errors.New("the browser is closed")
