//go:build e2e && linux

package e2e

import (
	"strings"
	"testing"

	"larderlamp/app/record"
)

// The food in the jar and the check that is meant come after the # of the address,
// which no host ever sees, even when the page was opened by an older link. The link
// to the content leaves them there, a reload comes back to them, and a food that
// is opened three times leaves one check without an answer.
func TestAddressesTellTheHostNothing(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	h := byTouch{p}
	p.visit("/check")
	h.product("Green beans")
	h.choose("None of these")
	p.saved(onDevice)
	check := eval[string](p, `location.pathname + location.search + location.hash`)
	if !strings.HasPrefix(check, "/check#id=") {
		t.Errorf("got the address %s", check)
	}
	eval[bool](p, `(document.querySelector("a.skip").click(), true)`)
	p.drawn()
	if got := eval[string](p, `document.activeElement.id + " " + location.hash`); got != "main "+strings.TrimPrefix(check, "/check") {
		t.Errorf("the link to the content: got %s", got)
	}
	eval[bool](p, `(window.before = true, location.reload(), true)`)
	p.wait(`!window.before`)
	p.running()
	p.wait(`document.querySelector(".said summary")?.innerText.includes("What you said")`)
	for _, link := range []string{"/check?product=peaches", "/check#product=peaches", "/check?product=peaches"} {
		p.visit("/about")
		p.visit(link)
		p.wait(`location.hash.startsWith("#id=") && location.search === "" && !!document.querySelector(".question")`)
		p.saved(onDevice)
		p.wait(`!window.larderWriting`)
	}
	unanswered := 0
	checks := p.sound("opened three times")[record.Checks]
	for _, r := range checks {
		if c := r.(*record.Check); len(c.Answers) == 0 {
			unanswered++
		}
	}
	if unanswered != 1 || len(checks) != 2 {
		t.Errorf("got %d checks, %d of them without an answer", len(checks), unanswered)
	}
	for _, page := range []string{"/signs?product=dill-pickles", "/signs#product=dill-pickles"} {
		p.visit("/about")
		p.visit(page)
		p.wait(`document.querySelector("main").innerText.toLowerCase().includes("dill")`)
	}
	p.tap(`document.querySelector('a[href^="/practice#product="]')`)
	p.wait(`location.pathname === "/practice" && location.search === ""`)
}
