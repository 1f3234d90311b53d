//go:build e2e && linux

package drive

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

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

	browser *Browser
	running engine // which has opened it
	page    page
	faults  *faults
	gone    bool
	thumb   Thumb
}

// Open opens a tab, which is closed with the test.
func (b *Browser) Open(t testing.TB, site string, as Screen) *Tab {
	t.Helper()
	heard := &faults{site: site}
	p, err := b.running.open(as, heard)
	if err != nil {
		t.Fatalf("%s opens no tab: %v", b.Engine, err)
	}
	tab := &Tab{T: t, Engine: b.Engine, Screen: as, Site: site, browser: b, running: b.running, page: p, faults: heard}
	t.Cleanup(func() {
		tab.T = t // which may have been a part of the test meanwhile
		tab.gone = tab.gone || b.running != tab.running
		tab.check()
		tab.Close()
	})
	return tab
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

// keep stores a picture and the console of a failed test in build/failed.
func (p *Tab) keep() {
	folder := inRepository("build/failed")
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

// inRepository is the path of a file from the root of the repository, or as it is if
// there is none.
func inRepository(name string) string {
	for up := "."; ; up = filepath.Join(up, "..") {
		whole, err := filepath.Abs(up)
		if err != nil {
			return name
		}
		if _, err := os.Stat(filepath.Join(whole, "go.mod")); err == nil {
			return filepath.Join(whole, name)
		}
		if whole == "/" {
			return name
		}
	}
}

// Picture returns the page as it looks, as PNG.
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
	if page, may := p.page.(hanging); may && page.hangs() {
		p.loadAnew(path)
	}
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

// Turn goes to an address of the site as a link on its pages does, without loading
// anything. A tab in which the program does not run yet loads it.
func (p *Tab) Turn(path string) {
	p.T.Helper()
	if Eval[bool](p, Ready) {
		Eval[bool](p, FollowLink(p.Site+path))
	} else {
		p.Visit(path)
	}
}

// Ready is JavaScript that tells whether the program runs and can follow a link.
const Ready = `"runs" in document.documentElement.dataset`

// FollowLink is JavaScript that follows a link to an address of the site and promises
// true when the page is another one and drawn. A page that is loaded instead
// breaks the promise.
func FollowLink(address string) string {
	return fmt.Sprintf(`new Promise((done, fail) => {
		const link = Object.assign(document.createElement("a"), { href: %q }), was = location.href, late = performance.now() + %d;
		// A page may write an address of its own at once, even the one it had before.
		let stepped = false;
		history.pushState = (...to) => { stepped = true; History.prototype.pushState.apply(history, to); };
		document.body.append(link);
		link.click();
		link.remove();
		const look = () => {
			if (!stepped && location.href === was && link.href !== was) {
				if (performance.now() > late) fail(new Error("no step is made to " + link.href)); else setTimeout(look, 5);
			} else {
				delete history.pushState;
				drawn().then(done);
			}
		};
		look();
	})`, address, Patience.Milliseconds()/2)
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
	p.WaitFor(Patience, expression)
}

// HandOver is how long a browser may take to replace a worker by a newer one: Chromium
// gives the old one five minutes, see static/edition.js.
const HandOver = 6 * time.Minute

// WaitFor is Wait for something that the browser takes its time for.
func (p *Tab) WaitFor(most time.Duration, expression string) {
	p.T.Helper()
	deadline := time.Now().Add(most)
	for {
		ok, err := Evaluate[bool](p, "Promise.resolve("+expression+").then(v => !!v)")
		if err == nil && ok {
			return
		}
		if time.Now().After(deadline) {
			says, _ := Evaluate[string](p, `document.body.innerText`)
			p.T.Fatalf("%s: waited in vain for %s (%v); the page says: %.600s", p.Engine, expression, err, says)
		}
		time.Sleep(5 * time.Millisecond)
	}
}

// Drawn waits until the program has drawn what it was told before; see Resting.
func (p *Tab) Drawn() {
	p.T.Helper()
	Eval[bool](p, `drawn()`)
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
	text, err := p.page.evaluate(Words(expression))
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

// Has reports whether there is such an element.
func (p *Tab) Has(selector string) bool {
	p.T.Helper()
	return Eval[bool](p, fmt.Sprintf(`!!document.querySelector(%q)`, selector))
}

// Saying is JavaScript for the first element of a kind that holds a text.
func Saying(selector, text string) string {
	return fmt.Sprintf(`[...document.querySelectorAll(%q)].find(e => e.innerText.includes(%q))`, selector, text)
}

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
