//go:build e2e && linux

package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"larderlamp/app/record"
)

// before evaluates a script before those of every page that is opened from now on.
func (p *tab) before(script string) {
	p.t.Helper()
	p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": script})
}

// settings reads the settings of the household.
func (p *tab) settings() (s record.Settings) {
	p.t.Helper()
	for _, row := range p.rows()["settings"] {
		var err error
		if s, err = record.DecodeSettings([]byte(row)); err != nil {
			p.t.Fatal(err)
		}
	}
	return
}

// A share that the person cancels, or that the browser wants another touch for, is
// no backup, and is said to be none; one that was made is.
func TestCancelledShare(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.before(`navigator.canShare = () => true;
		navigator.share = async () => { if (window.ends) throw new DOMException("a test", window.ends) };`)
	p.batch("2")
	p.view("/keeping")
	share := saying("button", "Share it")
	for _, c := range []struct{ ends, says string }{{"AbortError", "Nothing was shared: there is no new backup."}, {"NotAllowedError", "Touch “Share it” once more."}} {
		eval[bool](p, fmt.Sprintf(`(window.ends = %q, true)`, c.ends))
		p.tap(share)
		p.says(c.says)
		if at := p.settings().LastBackup; at != nil {
			t.Errorf("%s: got a backup dated %v, want none", c.ends, at)
		}
	}
	if got := p.text("main"); !strings.Contains(got, "Last backup: never") {
		t.Errorf("got the page %q", got)
	}
	eval[bool](p, `(window.ends = "", true)`)
	p.tap(share)
	p.says("Backup shared")
	p.wait(`!window.larderWriting`)
	if p.settings().LastBackup == nil {
		t.Error("a completed share: got no backup")
	}
}

// Nothing is said to be saved for longer than it is: in a private window until
// that is closed, and the same where the browser keeps to itself whether it is one.
func TestPrivateWindowSaysSo(t *testing.T) {
	s, b := serve(t, ""), startOwn(t, chromedp.Flag("incognito", true))
	for _, c := range []struct{ script, saved, keeping string }{
		// Chromium does not tell.
		{``, "Saved on this device\nIn a private window: until it is closed.", "In a private window it is deleted when the window is closed"},
		// Firefox and Safari do, by this.
		{`delete Navigator.prototype.webkitTemporaryStorage; StorageManager.prototype.getDirectory = () => Promise.reject(new DOMException("no", "SecurityError"))`,
			"Saved until this private window is closed", "This is a private window"},
		{`delete Navigator.prototype.webkitTemporaryStorage; StorageManager.prototype.getDirectory = () => Promise.resolve({})`,
			"Saved on this device", "when it runs short of room."},
	} {
		p := b.open(s, phone)
		p.before(c.script)
		h := byTouch{p}
		p.visit("/check")
		h.product("Green beans")
		h.choose("None of these")
		// The browser may say later than the page whether its window is private.
		p.wait(fmt.Sprintf(`[document.querySelector(".saved"), document.querySelector(".saved + .hint")].filter(Boolean).map(e => e.innerText).join("\n") === %q`, c.saved))
		p.view("/keeping")
		p.wait(fmt.Sprintf(`document.querySelector("main").innerText.includes(%q)`, c.keeping))
	}
}

// Whether the guide works in the cellar is said, and what to do when not; an
// update that finds no room says so.
func TestReadyForTheCellar(t *testing.T) {
	s, b := serve(t, ""), start(t)
	p := b.open(s, phone)
	p.view("/keeping")
	p.wait(`/Ready for the cellar: (yes|not yet|\d+ of \d+ files)/.test(document.querySelector(".cellar")?.innerText)`)
	p.installed()
	p.wait(`/Ready for the cellar: yes\. All \d+ files/.test(document.querySelector(".cellar")?.innerText)`)
	p.axe("ready for the cellar")
	// The browser has cleared a file away.
	eval[bool](p, `caches.keys().then(all => caches.open(all[0])).then(async c => c.delete((await c.keys())[0]))`)
	p.view("/keeping")
	p.wait(`/Ready for the cellar: \d+ of \d+ files/.test(document.querySelector(".cellar")?.innerText)`)
	// What the worker tells when it finds no room for a new edition.
	eval[bool](p, `navigator.serviceWorker.dispatchEvent(new MessageEvent("message", { data: { notStored: "QuotaExceededError" } }))`)
	p.wait(`document.querySelector(".unstored")?.innerText.includes("no room on this device to store it")`)
	p.axe("no room for an update")

	q := b.open(s, phone)
	q.before(`delete Navigator.prototype.serviceWorker`)
	q.view("/keeping")
	q.wait(`document.querySelector(".cellar")?.innerText.includes("Ready for the cellar: no. This browser can't store a guide")`)
}

// A browser that asks the person whether it may keep things, and never hears, does
// not hold up the page.
func TestPersistNeverAnswers(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.before(`StorageManager.prototype.persist = StorageManager.prototype.persisted = () => new Promise(() => {})`)
	p.view("/keeping")
	p.tap(saying("button", "Ask the browser not to clear it"))
	p.says("The browser may ask you now")
	p.batch("1")
}

// A phone whose browser deletes what a page keeps after seven days is told so, with
// the way out, as long as the guide is not installed; then a backup is due after a
// day. Others hear nothing of it.
func TestBrowserThatForgets(t *testing.T) {
	s, b := serve(t, ""), start(t)
	for agent, want := range map[string]string{
		"Mozilla/5.0 (iPhone; CPU iPhone OS 18_0 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.0 Mobile/15E148 Safari/604.1": "Add to Home Screen",
		"Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/605.1.15 (KHTML, like Gecko) Version/18.0 Safari/605.1.15":                   "Add to Dock",
		"Mozilla/5.0 (Macintosh; Intel Mac OS X 10_15_7) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/150.0.0.0 Safari/537.36":                   "",
		"Mozilla/5.0 (Linux; Android 15) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/150.0.0.0 Mobile Safari/537.36":                            "",
	} {
		p := b.open(s, phone)
		p.call("Emulation.setUserAgentOverride", map[string]any{"userAgent": agent})
		p.view("/keeping")
		says := p.text("main")
		if want == "" {
			if strings.Contains(says, "seven days") {
				t.Errorf("%.40s: got the notice about seven days", agent)
			}
			continue
		}
		if !strings.Contains(says, want) {
			t.Errorf("%.40s: got the page %q", agent, says)
		}
		p.axe("a browser that forgets")
		if len(p.rows()["jars"]) == 0 {
			p.batch("1")
		}
		p.view("/shelf")
		if says := p.text("main"); !strings.Contains(says, want) || !strings.Contains(says, "Save one now") {
			t.Errorf("%.40s: got the shelf %q", agent, says)
		}
	}
}

// A browser whose language has a name that it does not take itself, as on systems
// that are set to none, shows every page with a date.
func TestLanguageWithoutAName(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	for _, language := range []string{`"C"`, `"en_US.UTF-8"`, `""`, `undefined`} {
		p.before(`Object.defineProperty(Navigator.prototype, "language", { configurable: true, get: () => ` + language + ` })`)
		if len(language) == 3 {
			p.batch("1")
		}
		p.visit("/about") // with what is evaluated before it
		for _, page := range []string{"/shelf", "/sweep", "/trip", "/stock", "/keeping", "/labels", "/places", "/history"} {
			p.turn(page)
			if p.has(".stopped") {
				t.Errorf("%s in the language %s: got a stopped program", page, language)
			}
		}
	}
}
