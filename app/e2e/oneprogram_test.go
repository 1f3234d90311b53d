//go:build e2e && linux

package e2e

import (
	"fmt"
	"testing"

	"larderlamp/app"
	"larderlamp/app/record"
)

// follow touches a link to a page, the last one: a link in a text may stand on
// two lines, and have no middle that can be touched.
func (p *tab) follow(path string) {
	p.t.Helper()
	p.tap(fmt.Sprintf(`[...document.querySelectorAll('a[href=%q]')].at(-1)`, path))
	p.wait(fmt.Sprintf(`location.pathname + location.search + location.hash === %q`, path))
}

// From any page to any other that has a link, without loading anything: each
// begins at its top with the focus on its heading, and a step back returns to
// where the page before it was left.
func TestFromPageToPage(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.batch("3")
	for _, from := range app.Pages() {
		p.view(from)
		eval[bool](p, `window.same = true`)
		for _, to := range eval[[]string](p, `[...new Set([...document.querySelectorAll("header a[href^='/'], footer a[href^='/']")].map(a => a.getAttribute("href")))]`) {
			if to == from {
				continue
			}
			where := from + " to " + to
			title := p.text("main h1")
			p.follow(to)
			p.wait(`document.activeElement?.id === "title" && scrollY === 0`)
			if p.text("main h1") == title {
				t.Errorf("%s: the heading is still %q", where, title)
			}
			left := eval[string](p, `document.title`)
			eval[bool](p, `(history.back(), true)`)
			p.wait(fmt.Sprintf(`location.pathname === %q && document.querySelector("main h1")?.innerText === %q`, from, title))
			p.wait(`document.activeElement?.id === "title" && scrollY === (history.state?.top ?? 0)`)
			eval[bool](p, `document.dispatchEvent(new Event("wheel", { bubbles: true }))`) // from now on the person scrolls
			p.drawn()
			if now := eval[string](p, `document.title`); now == left {
				t.Errorf("%s and back: the tab is called %q", where, now)
			}
		}
		if !eval[bool](p, `window.same === true`) {
			t.Errorf("%s: the page was loaded again", from)
		}
	}
}

// What one page has written is on the next, which is the same program: a jar that
// a check has found unsafe says so at once, also on the page of another use, and
// a new check starts with nothing of the one before it.
func TestPagesShareTheHousehold(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.batch("2")
	h := byTouch{p}
	p.tap(saying(".row-jar a", "Peaches"))
	p.wait(`location.pathname === "/jar"`)
	jar := eval[string](p, `location.pathname + location.search`)
	eval[bool](p, `window.same = true`)
	p.tap(saying("button", "Check it now"))
	p.wait(`location.pathname === "/check" && !!document.querySelector(".question")`)
	p.tap(saying("label.choice", "A lid that bulges"))
	p.wait(`!!document.querySelector(".answer.verdict-discard")`)
	p.follow(jar)
	p.wait(`document.querySelector(".verdict")?.innerText.includes("Discard safely")`)
	p.follow("/shelf")
	p.wait(`document.querySelector(".row-jar.verdict-discard")?.innerText.includes("× 1")`)
	p.follow("/check")
	p.wait(`!!document.querySelector("#product")`)
	h.product("Green beans")
	// A link to the page that is shown begins afresh.
	p.follow("/check")
	p.wait(`!!document.querySelector("#product") && !document.querySelector(".question")`)
	p.follow("/history")
	p.wait(`document.querySelectorAll(".history .entry").length >= 2`)
	if !eval[bool](p, `window.same === true`) {
		t.Error("the page was loaded again")
	}
}

// What is still being written when a page is left, in the same moment, is kept,
// and the next page shows it.
func TestLeftWhileItIsWritten(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	h := byTouch{p}
	p.visit("/check")
	h.product("Green beans")
	p.saved(onDevice)
	before := len(p.onlyCheck().Answers)
	// Every write waits, as behind another tab, until the test lets it go.
	eval[bool](p, `(() => {
		const { alone } = larderStore;
		larderStore.alone = (name) => new Promise((go) => { window.letGo = go }).then(() => { larderStore.alone = alone; return alone(name) });
		return true })()`)
	h.choose("None of these")
	p.wait(`window.larderWriting === true && !!window.letGo`)
	p.follow("/history")
	p.drawn()
	p.follow("/about")
	if got := len(p.onlyCheck().Answers); got != before {
		t.Fatalf("%d answers are stored before the write was let go", got)
	}
	p.follow("/history")
	eval[bool](p, `(window.letGo(), true)`)
	p.wait(`!window.larderWriting && !!document.querySelector('main a[href^="/check#id="]')`)
	if got := len(p.onlyCheck().Answers); got <= before {
		t.Errorf("%d answers are stored, %d before", got, before)
	}
}

// A page that is left while the records are read leaves the others with them.
func TestLeftWhileItIsRead(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.batch("2")
	p.visit("/about")
	eval[bool](p, `(() => {
		const { rows } = larderStore;
		let wait = new Promise((go) => { window.letGo = go });
		larderStore.rows = async (...asked) => { await wait; return rows(...asked) };
		return true })()`)
	p.follow("/shelf")
	p.wait(`document.querySelector("main").innerText.includes("Opening what is kept")`)
	p.follow("/trip")
	p.follow("/stock")
	eval[bool](p, `(window.letGo(), true)`)
	p.wait(`document.querySelector("main").innerText.includes("2 jars")`)
	p.wait(`document.activeElement?.id === "title"`)
	p.follow("/shelf")
	p.wait(`!!document.querySelector(".row-jar")`)
	if n := len(p.sound("after it was read")[record.Jars]); n != 2 {
		t.Errorf("%d jars", n)
	}
}
