//go:build e2e && linux

package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"larderlamp/app/record"
)

// stockUp records batches of 12 jars of fruit and beans, as a table.
func (p *tab) stockUp(batches int) {
	p.t.Helper()
	table := "product,date,jars,size,method,minutes,pressure,gauge,altitude,recipe,extras,lid lot,place\n"
	for i := range batches {
		if i%2 == 0 {
			table += fmt.Sprintf("peaches,2026-%02d-10,12,quart,boiling-water,30,,,500,published,none,L-%d,Cellar %d\n", 1+i%9, i%3, i%4)
		} else {
			table += fmt.Sprintf("green-beans,2026-%02d-11,12,pint,pressure-canner,20,11,dial,500,published,none,L-%d,Cellar %d\n", 1+i%9, i%3, i%4)
		}
	}
	p.visit("/many")
	p.wait(`!!document.querySelector("#many")`)
	p.tap(saying("summary", "A whole table"))
	p.set("The table", table)
	p.tap(saying("button", "Look at it"))
	p.tap(saying("button", fmt.Sprintf("Add %d batches", batches)))
	p.wait(fmt.Sprintf(`document.querySelector("main").innerText.includes("Added: %d batches")`, batches))
	p.wait(`!document.querySelector(".notice.trouble")`)
	p.drawn()
}

// hint is the line that says where the walk stands.
const walkHint = `document.querySelector(".walk .stand .hint")?.innerText ?? ""`

// next waits until the walk has come to its n-th jar.
func (p *tab) next(n int) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`(%s).startsWith("%d of ")`, walkHint, n))
}

// cellars records 300 jars in four places, of which all is known that is otherwise
// asked jar by jar.
func (p *tab) cellars() {
	p.t.Helper()
	p.stockUp(25)
	p.visit("/places")
	for i := range 4 {
		p.tap(fmt.Sprintf(`document.querySelector('button[aria-label="Change: Cellar %d"]')`, i))
		p.wait(`!!document.querySelector("form.card")`)
		p.set("Damp", "dry")
		p.set("Where it stood", "dark")
		p.set("Temperature", "steady")
		p.tap(saying("button", "Save the place"))
		p.wait(`!document.querySelector("form.card")`)
	}
}

// A sweep of 300 jars with 6 exceptions: every touch is counted. Half-way the
// tab is killed; every answer is still there.
func TestSweepOf300Jars(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	p := b.open(s, phone)
	p.cellars()
	touches := 0
	tap := func(element string) {
		t.Helper()
		// A thumb that walks on touches now more to the left, now more to the right: so
		// it need not wait.
		at := p.middle(element)
		at.X += float64(60 - 120*(touches%2))
		p.touch(at)
		p.struck(element)
		touches++
	}
	p.visit("/sweep")
	p.wait(`!!(` + saying("button", "Begin: 300 jars") + `)`)
	p.axe("before the sweep")
	tap(saying("button", "Begin: 300 jars"))
	p.next(1)
	p.axe("walk")
	p.shoot("walk")
	odd := map[int]bool{20: true, 70: true, 130: true, 190: true, 240: true, 299: true}
	killed := false
	for n := 1; n <= 300; n++ {
		p.next(n)
		if n == 151 && !killed {
			killed = true
			chromedp.Cancel(p.ctx)
			p = b.open(s, phone)
			p.visit("/sweep")
			p.next(n)
		}
		if !odd[n] {
			tap(`document.querySelector("#sound")`)
			continue
		}
		// The lid of this one gives: the seal has failed.
		p.drawn() // the page goes back to its top
		tap(saying("button.glance", "It does not give"))
		p.wait(`location.pathname === "/check"`)
		p.running()
		p.wait(`!!document.querySelector(".answer.verdict-discard")`)
		tap(saying("a", "Go on with the sweep"))
		p.wait(`location.pathname === "/sweep"`)
		p.running()
	}
	p.wait(`document.querySelector("main").innerText.includes("Every jar was looked at")`)
	p.axe("end of the sweep")
	tap(saying("button", "End the sweep and see what was found"))
	p.wait(`document.querySelector(".report h1")?.innerText.startsWith("Sweep of")`)
	t.Logf("%d touches for 300 jars with 6 exceptions", touches)
	if touches > 330 {
		t.Errorf("got %d touches, want at most 330", touches)
	}
	if says := p.text(".report"); !strings.Contains(says, "300 jars: 294 not certain yet, 6 with a failed seal.") {
		t.Errorf("got the report %.400s", says)
	}
	p.axe("report")
	p.shoot("report")
	p.visit("/sweep")
	p.wait(`document.querySelector("main").innerText.includes("The next sweep is due")`)
}

// A check that was begun with a danger sign and left is named on the first page, which
// counts only what nobody has looked at; and the row of its batch says how many were.
func TestLeftAfterADangerSign(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.stockUp(2)
	p.visit("/sweep")
	p.tap(saying("button", "Begin: 24 jars"))
	p.next(1)
	p.tap(`document.querySelector("#sound")`)
	p.next(2)
	p.drawn()
	p.tap(saying("button.glance", "Lifted by its edge"))
	p.wait(`location.pathname === "/check"`)
	p.running()
	p.wait(`!!document.querySelector(".question")`)
	p.visit("/")
	p.wait(`document.querySelector(".day")?.innerText.includes("Odd, and not settled: ")`)
	p.wait(`document.querySelector(".day").innerText.includes("Look at 22 jars")`)
	if says := p.text(".day-lines"); !strings.HasPrefix(strings.TrimSpace(says), "Odd, and not settled: ") || strings.Contains(says, "Go on with the check") {
		t.Errorf("got the day %q, want the jar that was odd first and once", says)
	}
	p.shoot("day")
	p.axe("day")
	p.visit("/shelf")
	p.wait(`document.querySelector("main").innerText.includes("10 never looked at")`)
	p.shoot("shelf")
	p.visit("/")
	p.tap(saying("a.day-line", "Odd, and not settled: "))
	p.wait(`location.pathname === "/check"`)
	p.running()
	p.wait(`!!document.querySelector(".question")`)
}

// The walk by keyboard alone: sound, a whole row with exceptions, undo, missing;
// and what a spoiled jar means for its batch.
func TestSweepByKeyboard(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, desktop)
	p.stockUp(2)
	p.visit("/sweep")
	p.wait(`!!(` + saying("button", "Begin: 24 jars") + `)`)
	eval[bool](p, `(`+saying("button", "Begin: 24 jars")+`.focus(), true)`)
	p.press("\r")
	p.next(1)
	p.press("s")
	p.next(2)
	p.press("s")
	p.next(3)
	p.press("u")
	p.next(2)
	p.press("n")
	p.next(3)
	p.press("r")
	p.wait(`!!document.querySelector(".row-jars")`)
	p.axe("row")
	eval[bool](p, `(document.querySelectorAll(".pick")[1].focus(), true)`)
	p.press(" ")
	p.wait(`document.querySelectorAll(".pick[aria-pressed=true]").length === 1`)
	eval[bool](p, `(`+saying("button", "All five true for")+`.focus(), true)`)
	p.press("\r")
	p.wait(`!document.querySelector(".row-jars")`)
	p.next(12) // ten of the row are done, the one taken out is next
	// It bulges: its batch comes again, unless it is discarded anyway.
	p.press("o")
	p.wait(`location.pathname === "/check"`)
	p.running()
	p.wait(`!!document.querySelector(".question")`)
	p.click(saying("label.choice", "A lid that bulges"))
	p.wait(`!!document.querySelector(".answer")`)
	eval[bool](p, `(`+saying("a", "Go on with the sweep")+`.focus(), true)`)
	p.press("\r")
	p.wait(`location.pathname === "/sweep"`)
	p.running()
	p.wait(`!!document.querySelector(".walk")`)
	p.shoot("after-bulge")
	// The other batch, in one row.
	p.press("r")
	p.wait(`!!document.querySelector(".row-jars")`)
	eval[bool](p, `(`+saying("button", "All five true for")+`.focus(), true)`)
	p.press("\r")
	p.wait(`!document.querySelector(".row-jars")`)
	p.drawn()
	for n := 0; p.has(".walk"); n++ {
		if n == 30 {
			t.Fatal("the walk never ends")
		}
		if !strings.Contains(p.text(".hand-jar .flag"), "Another jar of this batch spoiled") {
			t.Errorf("want a sibling of the jar to mention it, got %s", p.text(".hand-jar"))
		}
		was := eval[string](p, walkHint)
		p.press("s")
		p.wait(fmt.Sprintf(`!document.querySelector(".walk") || (%s) !== %q`, walkHint, was))
	}
	eval[bool](p, `(`+saying("button", "End the sweep")+`.focus(), true)`)
	p.press("\r")
	p.wait(`document.querySelector(".report h1")?.innerText.startsWith("Sweep of")`)
	says := p.text(".report")
	for _, want := range []string{"1 spoiled", "1 not found", "Discard safely"} {
		if !strings.Contains(says, want) {
			t.Errorf("want %q in the report, got %.500s", want, says)
		}
	}
	p.keepFile()
	p.click(saying("button", "The numbers as a table"))
	if table := p.kept("text/csv"); !strings.Contains(table, "Lid lot") {
		t.Errorf("got the table %q, want one with a column Lid lot", table)
	}
	p.click(saying("button", "Put it into a calendar"))
	if dates := p.kept("text/calendar"); strings.Count(dates, "BEGIN:VEVENT") != 1 {
		t.Errorf("got the dates %s, want that of the next sweep", dates)
	}
}

// On a phone whose screen is covered at its edges, the big button and the links
// stay clear of what covers it.
func TestCoveredEdges(t *testing.T) {
	const above, below = 47, 34
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.stockUp(2)
	p.visit("/sweep")
	p.tap(saying("button", "Begin: 24 jars"))
	p.next(1)
	stand := func() (top, bottom, clear float64) {
		at := p.place(`(() => { scrollTo(0, 0); return JSON.stringify({X: [...document.querySelectorAll(".top a")].find(e => e.checkVisibility()).getBoundingClientRect().top, Y: innerHeight - document.querySelector("#sound").getBoundingClientRect().bottom}) })()`)
		return at.X, at.Y, eval[float64](p, `parseFloat(getComputedStyle(document.querySelector(".hands")).paddingBottom)`)
	}
	top, _, clear := stand()
	p.call("Emulation.setSafeAreaInsetsOverride", map[string]any{"insets": map[string]any{"top": above, "bottom": below}})
	p.drawn()
	coveredTop, coveredBottom, coveredClear := stand()
	if coveredTop < top+above {
		t.Errorf("a link of the header is at %v, under the notch; without one it is at %v", coveredTop, top)
	}
	if coveredBottom < below || coveredClear < clear+below {
		t.Errorf("the button ends %v above the edge, within the home bar, and is kept %v clear of it; without one %v", coveredBottom, coveredClear, clear)
	}
	p.shoot("covered")
	p.fits("with covered edges")
	p.call("Emulation.setSafeAreaInsetsOverride", map[string]any{"insets": map[string]any{}})
	p.drawn()
	p.looksFit("of one's own", 5)
	// A narrower phone has its header in one row, with a name that can be read, and the
	// first page leads back to the walk.
	p.resize(320, 568)
	p.drawn()
	first := "Larderlamp"
	if speaking != nil {
		first = "Check" // the name of the guide makes room for longer names of pages
	}
	if at := eval[string](p, `(() => { const top = document.querySelector(".top").getBoundingClientRect(), name = [...document.querySelectorAll(".top a")].find(e => e.checkVisibility()); return top.height <= 60 && name.innerText.replace(/\s/g, "") === "`+first+`" && parseFloat(getComputedStyle(name).fontSize) >= 13 ? "" : top.height + " " + name.innerText + " " + getComputedStyle(name).fontSize })()`); at != "" {
		t.Errorf("at 320 pixels: got the header %s", at)
	}
	p.fits("320 pixels")
	p.resize(phone.width, phone.height)
	p.visit("/")
	p.tap(saying(".day-line", "Go on with the sweep: 0 of 24 jars"))
	p.wait(`location.pathname === "/sweep" && !!document.querySelector("#sound")`)
	p.drawn()

	// With letters so large that not all lines fit, the button that says all is
	// well comes only when every line has been on the screen.
	eval[bool](p, `(() => { document.documentElement.style.fontSize = "200%"; return true })()`)
	p.drawn()
	eval[bool](p, `(document.querySelector("#sound").click(), true)`)
	p.next(2)
	p.drawn()
	if p.has("#sound") || !p.has("#unread") {
		t.Error("got the button for “all is well” before every line was on the screen")
	}
	p.press("s")
	for n := 0; !p.has("#sound"); n++ {
		if n == 10 {
			t.Fatal("the lines never come onto the screen")
		}
		p.drawn()
		eval[bool](p, `(document.querySelector("#unread")?.click(), true)`)
		p.drawn()
	}
	p.next(2) // nothing was noted meanwhile
	eval[bool](p, `(document.querySelector("#sound").click(), true)`)
	p.next(3)
}

// Whatever is said of a jar before it is looked at, all of it is on a small screen with
// the lines and the button: a jar of today, whose hours of cooling are asked first, with
// a long name and a record that leaves it doubtful.
func TestLongestLookFits(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.visit("/many")
	p.wait(`!!document.querySelector("#many")`)
	p.tap(saying("summary", "A whole table"))
	p.set("The table", fmt.Sprintf("product,date,jars,size,method,minutes,altitude,recipe,extras,closure,place\nvegetable-soup,%[1]s,2,quart,,,500,,none,flat-lid,Cellar\npeaches,%[1]s,1,quart,boiling-water,30,500,published,none,flat-lid,Cellar\npears,2026-03-10,10,quart,boiling-water,25,500,published,none,flat-lid,Pantry\n", record.DayOf(time.Now())))
	p.tap(saying("button", "Look at it"))
	p.tap(saying("button", "Add 3 batches"))
	p.wait(`document.querySelector("main").innerText.includes("Added: 3 batches")`)
	// So it is with a batch whose jars are looked at together.
	p.visit("/shelf")
	p.tap(saying(".row-jar a", "Pears"))
	p.tap(saying("button", "Look at 10 jars"))
	p.wait(`!!document.querySelector(".look-lines")`)
	p.together("all jars of a batch", ".look-lines li, .look-all h1, .hands button", nil)
	p.tap(saying("button", "Some are not"))
	p.wait(`!!document.querySelector(".row-jars")`)
	p.fits("which of them are not")
	p.visit("/sweep")
	p.tap(saying("label", "Pantry"))
	p.tap(saying("button", "Begin: 3 jars"))
	for _, name := range []string{"Peaches", "Vegetable soup"} {
		p.wait(fmt.Sprintf(`!!document.querySelector("#sound") && document.querySelector("h1").innerText.startsWith(%q)`, name))
		p.looksFit("of "+name+", canned today", 6)
		if name == "Peaches" {
			p.tap(`document.querySelector("#sound")`)
		}
	}
	if says := p.text(".flag"); !strings.Contains(says, "In doubt, however it looks") {
		t.Errorf("got the flag %q", says)
	}
	if says := p.text("[data-line]"); !strings.Contains(says, "12 hours") {
		t.Errorf("got the first line %q", says)
	}
	// A jar that cannot have had its hours is left as it is, and not called sound.
	was := p.text(".walk .stand .hint")
	p.tap(saying("button.glance", "12 hours"))
	p.wait(fmt.Sprintf(`(%s) !== %q`, walkHint, was))
	p.wait(`document.querySelector("main").innerText.includes("Still cooling. It is not looked at yet.")`)
}

// looksFit fails unless the lines of the short look, what is said of the jar, its
// picture and the button are on the screen together, upright and on its side.
func (p *tab) looksFit(where string, lines int) {
	p.t.Helper()
	p.together(where, "[data-line], .hand-picture, .hand-top h1, .flag, #sound", func() {
		if n := eval[int](p, `document.querySelectorAll("[data-line]").length`); n != lines || !p.has(".hand-picture") || !p.has("#sound") {
			p.t.Errorf("%s: got %d lines, want %d, with a picture and a button", where, n, lines)
		}
	})
}

// together fails unless all that a selector names is on the screen of a phone, upright
// and on its side, and the buttons cover none of it. More is looked at in each position.
func (p *tab) together(where, selector string, more func()) {
	p.t.Helper()
	for _, size := range [][2]int64{{640, 360}, {360, 640}} {
		p.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": size[0], "height": size[1], "deviceScaleFactor": 1, "mobile": true})
		p.drawn()
		p.shoot(fmt.Sprintf("%s-%d", where, size[0]))
		off := eval[string](p, fmt.Sprintf(`(() => {
			scrollTo(0, 0);
			const bar = document.querySelector(".hands"), hands = bar.getBoundingClientRect();
			const shown = e => {
				const r = e.getBoundingClientRect(), clear = bar.contains(e) || hands.right <= r.left || hands.left >= r.right;
				return r.height > 0 && r.top >= 0 && r.bottom <= (clear ? innerHeight : Math.min(innerHeight, hands.top)) + 0.5;
			};
			return [...document.querySelectorAll(%q)].filter(e => !shown(e)).map(e => e.innerText || "the picture").join("; ") })()`, selector))
		if off != "" {
			p.t.Errorf("%s, %d by %d: not on the screen: %s", where, size[0], size[1], off)
		}
		if more != nil {
			more()
		}
	}
}
