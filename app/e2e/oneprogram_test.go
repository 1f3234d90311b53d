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

// there is JavaScript that follows a link to another page, looks at what comes, and
// goes back: it gives what is wrong. A finger has followed the links of the first
// page; here a script does, as all pages have the same, and one round is all that
// the test and the page say to each other.
const there = `(async (from, title, to) => {
	const until = async (what, holds) => {
		for (const end = Date.now() + %d; !holds(); await new Promise(done => setTimeout(done, 5))) {
			if (Date.now() > end) throw new Error(from + " to " + to + ": " + what + "; the page says " + document.body.innerText.slice(0, 300));
		}
	};
	const heading = () => document.querySelector("main h1")?.innerText;
	const address = () => location.pathname + location.search + location.hash;
	const focused = () => document.activeElement?.id === "title";
	const wrong = [];
	if (!%t) [...document.querySelectorAll("a[href='" + to + "']")].at(-1).click();
	await until("it never comes", () => address() === to);
	await until("it does not begin at its top with the focus on its heading", () => focused() && scrollY === 0);
	if (heading() === title) wrong.push("the heading is still " + title);
	const left = document.title;
	history.back();
	await until("a step back does not return", () => location.pathname === from && heading() === title);
	await until("a step back returns to another place", () => focused() && scrollY === (history.state?.top ?? 0));
	document.dispatchEvent(new Event("wheel", { bubbles: true })); // from now on the person scrolls
	await until("the tab is called as before after a step back", () => document.title !== left);
	return wrong;
})(%q, %q, %q)`

// From any page to any other that has a link, without loading anything: each
// begins at its top with the focus on its heading, and a step back returns to
// where the page before it was left.
func TestFromPageToPage(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.batch("3")
	for i, from := range app.Pages() {
		p.view(from)
		eval[bool](p, `window.same = true`)
		for _, to := range eval[[]string](p, `[...new Set([...document.querySelectorAll("header a[href^='/'], footer a[href^='/']")].map(a => a.getAttribute("href")))]`) {
			if to == from {
				continue
			}
			touched, title := i == 0, p.text("main h1")
			if touched {
				p.drawn()
				p.tap(fmt.Sprintf(`[...document.querySelectorAll('a[href=%q]')].at(-1)`, to))
			}
			for _, wrong := range eval[[]string](p, fmt.Sprintf(there, patience.Milliseconds()/2, touched, from, title, to)) {
				t.Errorf("%s to %s: %s", from, to, wrong)
			}
		}
		if !eval[bool](p, `window.same === true`) {
			t.Errorf("%s: got the page loaded again", from)
		}
	}
}

// What one page has written is on the next, which runs in the same program: a jar that
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
		t.Error("got the page loaded again")
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
		t.Fatalf("got %d stored answers before the write was released", got)
	}
	p.follow("/history")
	eval[bool](p, `(window.letGo(), true)`)
	p.wait(`!window.larderWriting && !!document.querySelector('main a[href^="/check#id="]')`)
	if got := len(p.onlyCheck().Answers); got <= before {
		t.Errorf("got %d stored answers, with %d before", got, before)
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
		t.Errorf("got %d jars", n)
	}
}

// A page that is left while what it shows is read again hears nothing of the end of
// that. The page that is shown then is uncovered all the same, whether it is another
// page or the same one, come to once more.
func TestLeftWhileItIsReadAgain(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.batch("2")
	p.visit("/stock")
	p.wait(`document.querySelector("main").innerText.includes("2 jars")`)
	eval[bool](p, `(() => {
		const { rows } = larderStore;
		let wait;
		window.hold = () => { window.held = false; wait = new Promise((go) => { window.letGo = go }) };
		larderStore.rows = async (...asked) => {
			if (asked[1] === "checks" && wait) {
				window.held = true;
				await wait;
			}
			return rows(...asked);
		};
		return true })()`)
	for _, to := range []string{"/stock", "/history"} {
		p.follow("/history")
		p.wait(`document.querySelector("main h1").innerText === "Earlier checks" && !document.querySelector(".cover")`)
		eval[bool](p, `(window.hold(), larderFresh.again(), true)`)
		p.wait(`window.held && !!document.querySelector(".cover")`)
		eval[bool](p, fmt.Sprintf(`(document.querySelector('.foot a[href="%s"]').click(), true)`, to))
		p.wait(fmt.Sprintf(`location.pathname === %q`, to))
		eval[bool](p, `(window.letGo(), true)`)
		p.wait(`!document.querySelector(".cover")`)
	}
}
