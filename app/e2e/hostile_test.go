//go:build e2e && linux

package e2e

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/backup"
	"larderlamp/app/hostile"
	"larderlamp/app/record"
	"larderlamp/rules"
)

// What the other tests rely on: a violation of the policy and a request to another
// host are noticed, even with the page's scripts switched off, and are blocked.
func TestBreachesAreHeard(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/about")
	for name, c := range map[string]struct{ script, fault string }{
		// Text does not even become a script or markup: the types forbid it.
		"a script in the page": {`(() => { const s = document.createElement("script"); try { s.textContent = "window.trapped = 1" } catch { /* heard */ } document.body.append(s); return true })()`, "require-trusted-types-for"},
		"a handler":            {`(() => { const b = document.createElement("b"); try { b.innerHTML = "<img src=/none.png onerror='window.trapped = 1'>" } catch { /* heard */ } document.body.append(b); return true })()`, "require-trusted-types-for"},
		"an address":           {`(() => { location.href = "javascript:window.trapped=1"; return true })()`, "script-src"},
		"a style":              {`(() => { const s = document.createElement("style"); s.textContent = "b{}"; document.head.append(s); return true })()`, "style-src-elem"},
		"a picture from afar":  {`(() => { new Image().src = "http://elsewhere.invalid/a.png"; return true })()`, "elsewhere.invalid"},
		"data to afar":         {`fetch("http://elsewhere.invalid/", { method: "POST", body: "x" }).then(() => false, () => true)`, "connect-src"},
		"a form":               {`(() => { const f = document.createElement("form"); f.action = "http://elsewhere.invalid/"; document.body.append(f); f.submit(); return true })()`, "form-action"},
		"a frame":              {`(() => { const f = document.createElement("iframe"); f.src = "http://elsewhere.invalid/"; document.body.append(f); return true })()`, "frame-src"},
	} {
		p.mu.Lock()
		p.faults = nil
		p.mu.Unlock()
		eval[bool](p, c.script)
		deadline := time.Now().Add(patience)
		for heard := false; !heard; {
			p.mu.Lock()
			heard = slices.ContainsFunc(p.faults, func(f string) bool { return strings.HasPrefix(f, breach) && strings.Contains(f, c.fault) })
			p.mu.Unlock()
			if time.Now().After(deadline) {
				t.Fatalf("%s is not noticed: got %q", name, p.faults)
			}
			time.Sleep(15 * time.Millisecond)
		}
		if eval[bool](p, `"trapped" in window`) {
			t.Errorf("%s ran", name)
		}
	}
	p.mu.Lock()
	p.faults = nil
	p.mu.Unlock()
}

// harmless fails when any of the hostile texts has become more than text.
func (p *tab) harmless(where string) {
	p.t.Helper()
	eval[bool](p, `(() => { document.querySelectorAll("main details").forEach(e => e.open = true); return true })()`)
	p.drawn()
	if got := eval[string](p, `[
		"trapped" in window ? "a script ran" : "",
		document.getElementById("trapped") ? "markup stands in the page" : "",
		...[...document.querySelectorAll("style")].slice(1).map(e => e.outerHTML.slice(0, 200)), // the first is the page's own
		...[...document.querySelectorAll("script:not([src]), iframe, [onerror], [onload], [onclick], img[src=x], a[href^='javascript:' i]")]
			// The page's own come first in its head: for the notice, the language and the program.
			.filter(e => !["dataset.waits", "dataset.languages", "larderProgram"].some((says, n) => e.matches("head > script") && e === document.querySelectorAll("script:not([src])")[n] && e.textContent.includes(says)))
			.map(e => e.outerHTML.slice(0, 200)),
		getComputedStyle(document.querySelector("main")).display === "none" ? "a style holds" : "",
	].filter(Boolean).join("; ")`); got != "" {
		p.t.Errorf("%s: %s", where, got)
	}
	p.fits(where)
}

// shows fails when a screen does not hold the text as it was written.
func (p *tab) shows(where, text string) {
	p.t.Helper()
	if !eval[bool](p, fmt.Sprintf(`document.querySelector("main").textContent.includes(%s)`, quoted(text))) {
		p.t.Errorf("%s: %q is not shown as it was written: %.400s", where, text, p.text("main"))
	}
}

// importRecords reads a backup with some records, and no text of it does anything on
// the way.
func (p *tab) importRecords(records []record.Record) {
	p.t.Helper()
	backup, err := backup.Write(backup.File{Written: time.Now(), Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: records})
	if err != nil {
		p.t.Fatal(err)
	}
	p.view("/keeping")
	p.tap(saying("button", "Bring in a backup"))
	p.give("<img src=x onerror=window.trapped=1>.json", string(backup))
	p.wait(`!!(` + saying("button", "Bring it in") + `)`)
	p.harmless("preview")
	p.tap(saying("button", "Bring it in"))
	p.wait(fmt.Sprintf(`document.querySelector("main").innerText.includes("Brought in: %d records")`, len(records)))
}

// Whatever words stand in a record, every screen shows them as they are, fits,
// and runs nothing of them; a form offers them again unchanged.
func TestHostileWordsOnEveryScreen(t *testing.T) {
	records, err := hostile.Household(time.Now(), hostile.Texts...)
	if err != nil {
		t.Fatal(err)
	}
	p := start(t).open(serve(t, ""), phone)
	p.importRecords(records)
	var sweep, jar, batch, check string
	for _, r := range records {
		switch r.Kind() {
		case record.Sweeps:
			sweep = r.Key()
		case record.Jars:
			jar = r.Key()
		case record.Batches:
			batch = r.Key()
		case record.Checks:
			check = r.Key()
		}
	}
	for path, every := range map[string]bool{
		"/": false, "/trip": true, "/shelf": true, "/batch": false, "/places": true, "/labels": true, "/stock": false, "/keeping": false,
		"/history": true, "/sweep": false, "/sweep?report=" + sweep: false, "/check?id=" + check: false,
		"/jar?do=noted&id=" + jar: false, "/labels?batch=" + batch: false,
	} {
		p.turn(path)
		p.harmless(path)
		if every {
			for _, text := range hostile.Texts {
				p.shows(path, text)
			}
		}
	}
	for i, text := range hostile.Texts {
		if !strings.ContainsAny(text, "<{:") {
			continue // seen on the pages above, and no more than words
		}
		of := records[i*hostile.Each:][:hostile.Each]
		p.turn("/jar?id=" + of[2].Key())
		p.harmless("jar " + text)
		p.shows("jar", text)
		p.turn("/batch?id=" + of[1].Key())
		p.harmless("batch " + text)
		p.shows("batch", text)
		p.tap(saying("button", "Change the record"))
		p.wait(`!!document.querySelector(".batch-form")`)
		p.harmless("form " + text)
		for _, label := range []string{"Your name for it", "Lid lot", "Where the recipe is from", "Notes"} {
			if got := eval[string](p, control(label)+".value"); got != text {
				t.Errorf("%s offers %q for %q", label, got, text)
			}
		}
	}
}
