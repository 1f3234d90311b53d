//go:build e2e && linux

package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"larderlamp/app/e2e/drive"
	"larderlamp/rules"
)

// thumb is a person's, on a phone.
type thumb struct{ counted }

// day chooses a day of the last year: its month is touched, and then the day.
func (p *thumb) day(d time.Time) {
	p.T.Helper()
	chip := func(name string, n int) {
		p.Tap(fmt.Sprintf(`[...document.querySelectorAll(".chips")].find(e => e.getAttribute("aria-label").startsWith(%q)).querySelectorAll(".chip")[%d]`, name, n))
		p.touches++
	}
	now := time.Now()
	chip("Or in", (now.Year()-d.Year())*12+int(now.Month()-d.Month()))
	p.Wait(`!!document.querySelector(".month-days")`)
	chip("Which day of", d.Day()-1)
	p.Wait(fmt.Sprintf(`!document.querySelector(".month-days") && document.querySelector('input[type="date"]').value === %q`, d.Format(time.DateOnly)))
}

// within fails the test when an element is not wholly on the first screen.
func (p *thumb) within(what, element string) {
	p.T.Helper()
	p.Wait("!!(" + element + ")")
	if at := drive.Eval[string](p.Tab, `(() => { scrollTo(0, 0); const r = (`+element+`).getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight && r.left >= 0 && r.right <= innerWidth ? "" : [r.left, r.top, r.right, r.bottom, innerWidth, innerHeight].join(" ") })()`); at != "" {
		p.T.Errorf("%s: want %s on the first screen, got %s", p.Engine, what, at)
	}
}

// canned are six batches of ten jars, as a household has them after a summer: the
// group and name of each food, its kind, its size, and the way it was processed.
var canned = []struct{ group, food, kind, size, way string }{
	{"Fruit and juice", "Peaches, yellow", "", "quart", "Packed raw: 30 minutes"},
	{"Vegetables", "Green beans", "", "pint", "20 minutes at 11 pounds"},
	{"Jam, jelly", "Strawberry jam", "jam-or-jelly", "half-pint", "minutes in boiling water"},
	{"Pickles", "Dill pickles", "", "pint", "Packed raw"},
	{"Fruit and juice", "Pears", "", "quart", "Packed hot"},
	{"Fruit and juice", "Applesauce", "", "pint", "Packed hot"},
}

// firstEvening is a first evening: from the empty guide to a shelf of sixty jars that
// say what they should. The bar is 90 touches.
func firstEvening(t *testing.T, p *thumb) {
	p.Visit("/")
	p.touch("a", "Record what you canned")
	for i, b := range canned {
		// The next batch is asked for where the last one ends, without a touch.
		p.Wait(`!!document.querySelector(".picker")`)
		began := p.touches
		p.touch(".groups summary", b.group)
		p.touch(".product", b.food)
		p.Wait(`!!document.querySelector(".batch-form")`)
		p.day(time.Now().AddDate(0, -1-i, -i))
		p.touch(".chip", "10")
		if i == 0 {
			p.touch(".chip", "Cellar")
			p.touch(".all", "All of this is true there")
			p.set("Altitude where it was canned", "999")
			p.touches += 2 // a menu is opened, and a line of it touched
		}
		if b.kind != "" {
			p.touch(".chip", "jelly with added pectin")
		}
		p.touch(".chip", b.size)
		p.touch(".chip", b.way)
		p.touch("button", "All true: save it")
		p.Wait(`!!document.querySelector(".look-lines")`)
		p.within("the short look", `document.querySelector(".look-lines")`)
		p.within("the button that says it of all jars", `document.querySelector(".sound")`)
		p.touch("button", "all true for all 10")
		p.says(fmt.Sprintf("10 jars looked at, 10 of them %s", "keep"))
		t.Logf("%s: %s: %d touches", p.Engine, b.food, p.touches-began)
		if n := p.touches - began; i > 0 && n > 10 {
			t.Errorf("%s: %s, canned months ago: got %d touches, want at most 10 after the first batch", p.Engine, b.food, n)
		}
		p.Wait(`location.search === "" && document.querySelector("h1").innerText === "What else was canned?"`)
	}
	// Undoing the look leads back to the batch.
	p.Touch("button", "Undo")
	p.says("Undone for 10 jars.")
	p.Wait(`location.search.startsWith("?id=") && document.querySelector("h1").innerText.startsWith("Applesauce")`)
	p.Touch("button", "Look at 10 jars")
	p.Touch("button", "all true for all 10")
	p.says(fmt.Sprintf("10 jars looked at, 10 of them %s", "keep"))
	p.bar(90, "60 jars in six batches")
	p.Turn("/shelf")
	p.Wait(`document.querySelector(".found")?.innerText.includes("60 jars")`)
	if n := p.Text(".count.verdict-keep strong"); n != "60" {
		t.Errorf("%s: got %s jars that say %s", p.Engine, n, rules.Keep)
	}

	// Everything that can be done with a jar is on the first screen.
	p.Touch(".row-jar a", canned[0].food)
	p.Touch("summary", "Every jar")
	p.Touch("details a", "Jar 3")
	p.Wait(`location.pathname === "/jar" && document.querySelectorAll(".acts .button").length > 8`)
	p.Drawn()
	for i := range drive.Eval[int](p.Tab, `document.querySelectorAll(".acts .button").length`) {
		p.within("an act on a jar", fmt.Sprintf(`document.querySelectorAll(".acts .button")[%d]`, i))
	}
	// A mistake is undone from the notice.
	p.Touch("button", "Eaten")
	p.Touch("button", "Yes, the jar is empty")
	p.says("Noted: eaten")
	p.Touch("button", "Undo")
	p.says("Undone.")
	p.Wait(`document.querySelector(".verdict")?.innerText.includes("Keep")`)

	// The first page is the day: what to eat first, and nothing that is left to look at.
	p.Turn("/")
	p.Wait(`document.querySelectorAll(".day-line").length > 0`)
	if says := p.Text("main"); strings.Contains(says, "Look at") || !strings.Contains(says, "All 60 jars are fine") {
		t.Errorf("%s: got the day %.300s", p.Engine, says)
	}
	// All of them were looked at today: no sweep is due.
	p.Turn("/sweep")
	p.says("The next sweep is due ")
}
