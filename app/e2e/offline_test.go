//go:build e2e && linux

package e2e

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"larderlamp/rules"
)

// Without a connection the guide starts again, a saved check is opened by its
// address, and a new one is made and kept. The server is really gone.
func TestOffline(t *testing.T) {
	for _, prefix := range []string{"", "/cellar"} {
		t.Run("below "+prefix+"/", func(t *testing.T) {
			s := serve(t, prefix)
			p := start(t).open(s, phone)
			p.visit("/")
			p.installed()
			p.visit("/check")
			h := byTouch{p}
			h.product("Green beans")
			h.choose("None of these")
			p.wait(`document.querySelector(".saved").innerText === "Saved on this device"`)
			address := strings.TrimPrefix(eval[string](p, "location.href"), s.url(""))

			s.stop()
			p.visit("/")
			p.visit(address)
			p.wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText === %q`, rules.SignOpened.Info().Ask))
			p.visit("/history?from=home-screen")
			p.wait(`document.querySelectorAll(".entry").length === 1`)
			p.tap(saying("nav a", "Check"))
			h.product("Peaches, yellow")
			h.report("lid", "lid", "Bulging")
			if got := p.text(".verdict h1"); !strings.HasPrefix(got, "Discard") {
				t.Errorf("got the answer %q", got)
			}
			p.wait(`document.querySelector(".saved").innerText === "Saved on this device"`)
			p.visit("/no/such/page")
			p.wait(`!!document.querySelector("main")?.innerText.includes("no such page")`)
		})
	}
}

// Before the program has loaded, and with scripts switched off, the stop signs
// can be read and the ways to discard a jar unfolded.
func TestBeforeTheProgram(t *testing.T) {
	s := serve(t, "")
	// Where the signs come once the program is late, they come sooner here.
	soon := serve(t, "")
	soon.with(need(t, "SITE"), need(t, "PROGRAMS"), "-patience", "1s")
	b := start(t)
	for name, hold := range map[string]func(*tab){
		"program on its way": func(p *tab) {
			p.slowly(time.Minute)
		},
		"scripts off": func(p *tab) {
			p.scriptless = true
			p.call("Emulation.setScriptExecutionDisabled", map[string]any{"value": true})
		},
	} {
		t.Run(name, func(t *testing.T) {
			p := (&browser{t, b.ctx}).open(s, phone)
			p.expectFaults = true // the program is kept away on purpose
			hold(p)
			for _, path := range []string{"/", "/check", "/shell"} {
				p.load(path)
				for _, want := range []string{"The lid bulges", "do not taste it", "do not open it", "Cleaning up"} {
					p.wait(fmt.Sprintf(`document.querySelector("main").innerText.includes(%q)`, want)) // once its language is there
				}
				p.tap(saying("summary", "Still closed"))
				p.wait(`document.querySelector(".stop details").open && document.querySelector(".stop details li").offsetHeight > 0`)
				p.fits(path)
				if !p.scriptless {
					p.axe(path)
				}
			}
			p = (&browser{t, b.ctx}).open(soon, phone)
			p.expectFaults = true
			hold(p)
			p.load("/check")
			p.wait(`!!document.querySelector(".stop-short")?.innerText.includes("a bulging lid")`)
			if !p.scriptless && eval[bool](p, `"runs" in document.documentElement.dataset`) {
				t.Error("got no stop signs before the program runs")
			}
			p.shoot("check")
			if p.scriptless {
				return
			}
			p.tap(saying("summary", "Fruit"))
			p.tap(saying("details[open] a.product", "Apples"))
			p.wait(`document.querySelector("h1").innerText.includes("Apple")`)
			p.axe("waiting")
			p.shoot("waiting")
		})
	}
}

// Where the browser refuses to keep anything, the page says so and the check
// still works.
func TestRefusedStorage(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": `IDBFactory.prototype.open = () => { throw new DOMException("no", "SecurityError") }`})
	p.visit("/check")
	h := byTouch{p}
	h.product("Green beans")
	p.wait(`!!document.querySelector(".notice")`)
	if says := p.text(".notice"); !strings.Contains(says, "gone when the page is closed") {
		t.Errorf("got the notice %q", says)
	}
	h.report("lid", "lid", "Bulging")
	p.wait(`document.querySelector(".saved").innerText === "Kept only while this page is open"`)
	p.axe("refused")
	p.tap(saying("nav a", "Earlier checks"))
	p.wait(`document.querySelectorAll(".entry").length === 1`)
}

// Axe finds nothing on the first pages and in the states of a question, on a phone
// in the dark and on a desktop by day; TestEveryPage goes over all pages.
func TestAxe(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	for _, as := range []screen{night, desktop} {
		t.Run(as.String(), func(t *testing.T) {
			p := (&browser{t, b.ctx}).open(s, as)
			for _, path := range []string{"/", "/check", "/history", "/rules", "/about", "/nothing"} {
				p.visit(path)
				p.shoot("page" + path)
				p.axe(path)
				p.fits(path)
			}
			p.visit("/check?product=green-beans")
			p.wait(`!!document.querySelector(".question")`)
			p.axe("question")
			for _, zone := range []string{"lid", "food", "place"} {
				eval[bool](p, `document.querySelector('[data-zone="`+zone+`"]').focus(), true`)
				p.press("\r")
				p.wait(`!!document.querySelector(".zone-panel")`)
				p.axe("zone " + zone)
				p.point(saying("button", "Done"), as.touch)
				p.wait(`!document.querySelector(".zone-panel")`)
			}
		})
	}
}

// slowly makes the program come late.
func (p *tab) slowly(late time.Duration) {
	p.t.Helper()
	p.call("Network.emulateNetworkConditionsByRule", map[string]any{"matchedNetworkConditions": []any{map[string]any{
		"urlPattern": p.site.url("/wasm/*"), "latency": late.Milliseconds(), "downloadThroughput": -1, "uploadThroughput": -1, "packetReordering": false, "offline": false}}})
}

// hold keeps the program away from a page until it is let go.
func (p *tab) hold() (letGo func()) {
	p.t.Helper()
	p.call("Fetch.enable", map[string]any{"patterns": []map[string]any{{"urlPattern": p.site.url("/wasm/*")}}})
	return func() {
		p.t.Helper()
		p.call("Fetch.disable", nil)
	}
}

// What is in the jar can be said before the program has loaded, and the program
// goes on from there: from the food, the words, or the group that was opened.
func TestSaidBeforeTheProgram(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.call("Network.setBypassServiceWorker", map[string]any{"bypass": true})
	early := func() (letGo func()) {
		t.Helper()
		letGo = p.hold()
		p.load("/check")
		p.wait(`document.readyState === "complete"`)
		if !p.has("#app-wasm-loader") {
			t.Fatal("got a program that has already loaded")
		}
		return letGo
	}
	words := strings.Split("green b", "")

	letGo := early()
	p.tap(`document.querySelector("#product")`)
	p.press(words...)
	p.wait(`document.querySelector(".found-products .product span")?.innerText === "Green beans"`)
	p.tap(`document.querySelector(".found-products .product")`)
	p.wait(`location.hash === "#product=green-beans" && document.querySelector("h1").innerText === "Green beans" && document.activeElement.tagName === "H1"`)
	p.tap(saying("button", "Another food"))
	p.wait(`location.hash === "" && document.querySelector("#product").value === "green b"`)
	p.tap(`document.querySelector(".found-products .product")`)
	letGo()
	p.wait(`!!document.querySelector(".question")`)
	if got := p.text(".jar-name"); got != "Green beans" {
		t.Errorf("got a check of %q", got)
	}

	letGo = early()
	p.tap(`document.querySelector("#product")`)
	p.press(words...)
	letGo()
	p.running()
	p.wait(`document.querySelector(".picker .product span")?.innerText === "Green beans" && document.activeElement?.id === "product"`)
	p.press("e")
	p.wait(`document.querySelector("#product").value === "green be"`)

	letGo = early()
	p.tap(saying("summary", "Fruit"))
	p.wait(`!!document.querySelector("details[open] a.product")?.checkVisibility()`)
	letGo()
	p.running()
	p.wait(`document.querySelector("details[open] summary")?.innerText.includes("Fruit") && !!document.querySelector("details[open] button.product")`)
}

// One file on a stick is the whole guide: it is started where nothing else of it
// is, and a check goes through in it.
func TestStick(t *testing.T) {
	name := filepath.Join(t.TempDir(), "larderlamp")
	if says, err := exec.Command(need(t, "SITE"), "stick", "-programs", need(t, "PROGRAMS"), name).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, says)
	}
	s := serve(t, "")
	s.stop()
	s.cmd = exec.Command(name, "serve", "-addr", s.addr)
	s.cmd.Dir = t.TempDir()
	s.await()
	p := start(t).open(s, phone)
	p.visit("/check")
	h := byTouch{p}
	h.product("Green beans")
	h.report("lid", "lid", "Bulging")
	p.wait(`document.querySelector(".answer h1")?.innerText === "Discard safely"`)
}
