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
	"errors"
	"fmt"
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
	limits  limits
	running engine
	start   starting
}

// starting starts an engine with the data of a profile, and a script that every
// page evaluates before its own.
type starting func(profile, script string, limits limits) (engine, error)

// limits are what a browser lets a site keep: about this many bytes, or the usual
// number for 0, and in a private window only until it is closed.
type limits struct {
	room    int64
	private bool
}

// Script is evaluated in every page before its own scripts, and Words changes every
// expression of a test. Both are for tests that run in another language.
var (
	Script string
	Words  = func(expression string) string { return expression }
)

// Start starts a browser, which ends with the test. Every page evaluates the
// scripts before its own.
func Start(t testing.TB, e Engine, scripts ...string) *Browser {
	t.Helper()
	return begin(t, e, limits{}, scripts)
}

// StartSmall starts a browser in which a site may keep about that many bytes.
func StartSmall(t testing.TB, e Engine, room int64, scripts ...string) *Browser {
	t.Helper()
	return begin(t, e, limits{room: room}, scripts)
}

// StartPrivate starts a browser in which every window is private.
func StartPrivate(t testing.TB, e Engine, scripts ...string) *Browser {
	t.Helper()
	return begin(t, e, limits{private: true}, scripts)
}

func begin(t testing.TB, e Engine, limits limits, scripts []string) *Browser {
	t.Helper()
	start, err := starter(e)
	if err != nil {
		t.Fatal(err)
	}
	b := &Browser{Engine: e, profile: t.TempDir(), script: watch + Script + strings.Join(scripts, "\n"), limits: limits, start: start}
	b.again(t)
	t.Cleanup(func() {
		if err := b.running.kill(); err != nil {
			t.Errorf("%s does not end: %v", e, err)
		}
	})
	return b
}

// starter returns what starts an engine.
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
	running, err := b.start(b.profile, b.script, b.limits)
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

// Close closes the tab.
func (p *Tab) Close() {
	if !p.gone {
		p.gone = true
		p.page.close()
	}
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

// A test never causes these faults on purpose.
const (
	breach  = "breach of the content security policy: "
	foreign = "request to another host: "
)

// watch is evaluated in every page before its own scripts. It also keeps from
// the page that a chooser of files was canceled: Firefox and WebKit cancel one
// that no test has given a file to yet.
const watch = `
document.addEventListener("securitypolicyviolation", e => console.error("` + breach + `" + e.violatedDirective + " " + e.blockedURI));
window.addEventListener("cancel", e => { if (e.target.type === "file") e.stopImmediatePropagation(); }, true);
` + Aiming + Resting

// faults are what a tab must not do.
type faults struct {
	site  string
	mu    sync.Mutex
	list  []string
	other []string
}

// hears records what is not an error; it is stored when the test fails.
func (f *faults) hears(text string) {
	f.mu.Lock()
	defer f.mu.Unlock()
	f.other = append(f.other, text)
}

// says records an error on the console.
func (f *faults) says(text string) {
	if strings.Contains(text, breach) || strings.Contains(text, "Content Security Policy") {
		f.add(breach + text)
		return
	}
	f.add("console: " + text)
}

// asks records a request, if it is to another host.
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

// await repeats a call until it succeeds.
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
