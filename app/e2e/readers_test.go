//go:build e2e && linux

package e2e

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

// steps is the schema as JavaScript.
func steps(t *testing.T) string {
	t.Helper()
	text, err := json.Marshal(store.Steps)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// databases names the databases of the browser with their versions.
func (p *tab) databases() string {
	p.t.Helper()
	return eval[string](p, `indexedDB.databases().then(all => all.map(d => d.name + " " + d.version).join(", "))`)
}

// checked fails unless a check that is made now is saved, and still there after
// the page is loaded again.
func (p *tab) checked() {
	p.t.Helper()
	h := byTouch{p}
	p.visit("/check")
	h.product("Green beans")
	h.choose("None of these")
	p.saved(onDevice)
	id := eval[string](p, `new URLSearchParams(location.hash.slice(1)).get("id")`)
	for _, r := range p.sound("a check")[record.Checks] {
		if r.Key() == id {
			return
		}
	}
	p.t.Errorf("the page calls check %s saved, but it is not", id)
}

// On a device where nothing was ever kept, saving a backup from the notice that
// the program could not start, and asking what a new edition changes, make no
// database. A check is saved afterward.
func TestReadersMakeNothing(t *testing.T) {
	t.Run("save a backup", func(t *testing.T) {
		s, b := serve(t, ""), start(t)
		p := b.open(s, phone)
		p.expectFaults = true // the program is kept away
		p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": `if (!location.search.includes("works"))
			WebAssembly.instantiateStreaming = WebAssembly.instantiate = () => Promise.reject(new Error("a test"))`})
		p.load("/check")
		p.wait(`!!document.querySelector(".unstarted")`)
		p.tap(saying(".unstarted button", "Save a backup"))
		p.wait(`document.querySelector(".unstarted").innerText.includes("nothing is kept on this device")`)
		if got := p.databases(); got != "" {
			t.Errorf("got a database: %s", got)
		}
		b.open(s, phone).checked()
	})
	t.Run("what changes", func(t *testing.T) {
		p := start(t).open(serve(t, ""), phone)
		p.visit("/about") // which opens no store
		p.installed()
		jars := eval[int](p, `navigator.serviceWorker.ready.then(async r => {
			const { compare } = await import("/static/later/rescue.js");
			return (await compare({ waiting: r.active, active: r.active }, Object.getPrototypeOf(Go))).jars })`)
		if got := p.databases(); got != "" || jars != 0 {
			t.Errorf("got the databases %q, with %d jars", got, jars)
		}
		p.checked()
	})
}

// A device on which an earlier edition's reader has made an empty database, with
// which the schema could never be completed, is healed by opening a page, and
// keeps what it has.
func TestBrokenDevice(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	for version := 1; version <= len(store.Steps); version++ {
		p.wipe()
		// What the reader made, and what the steps then added to it.
		eval[bool](p, fmt.Sprintf(`(async () => {
			const done = r => new Promise((ok, bad) => { r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
			(await done(indexedDB.open("larderlamp"))).close();
			if (%[1]d > 1) {
				const request = indexedDB.open("larderlamp", %[1]d);
				request.onupgradeneeded = () => %[2]s.slice(1, %[1]d).flat().forEach(kind => request.result.createObjectStore(kind));
				(await done(request)).close();
			}
			return true })()`, version, steps(t)))
		p.checked()
		p.batch("2")
		p.view("/shelf")
		p.wait(`document.querySelector(".found")?.innerText.includes("2 jars")`)
		p.checked()
		if got, want := len(p.rows()), len(slices.Concat(store.Steps...)); got != want {
			t.Errorf("version %d: got %d kinds of records, want %d", version, got, want)
		}
	}
}
