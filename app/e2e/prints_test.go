//go:build e2e && linux

package e2e

import (
	"context"
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"larderlamp/rules"
)

// sheet is a size of paper: in inches, as the browser's printing takes it, and how
// many pixels a page has room for between its margins.
type sheet struct {
	name          string
	width, height float64
	room          int64
}

var letter, a4 = sheet{"Letter", 8.5, 11, 739}, sheet{"A4", 8.27, 11.69, 717}

// pdfPage begins a page of a PDF, and nothing else in it.
var pdfPage = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// pdf prints the page as it stands and counts the pages of paper.
func (p *tab) pdf(name string, on sheet) int {
	p.t.Helper()
	var out struct {
		Data string `json:"data"`
	}
	err := chromedp.Do(p.ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		return t.Call(ctx, "Page.printToPDF", map[string]any{"paperWidth": on.width, "paperHeight": on.height}, &out)
	}))
	if err != nil {
		p.t.Fatalf("%s: %v", name, err)
	}
	pdf, err := base64.StdEncoding.DecodeString(out.Data)
	if err != nil {
		p.t.Fatalf("%s: %v", name, err)
	}
	if folder := os.Getenv("SHOTS"); folder != "" {
		if err := os.WriteFile(filepath.Join(folder, "print-"+name+"-"+on.name+".pdf"), pdf, 0o644); err != nil {
			p.t.Log(err)
		}
	}
	return len(pdfPage.FindAll(pdf, -1))
}

// notForPaper lists what is on paper and has no use there, or is cut off by its edge.
const notForPaper = `(() => {
	const out = [], seen = e => e.checkVisibility() && e.getBoundingClientRect().height > 0;
	for (const e of document.querySelectorAll(".top, .foot, .demo, button, input, select, textarea"))
		if (seen(e) && !e.closest(".to-find, .glances, .counts")) out.push("to be touched: " + e.innerText.slice(0, 60));
	for (const e of document.querySelectorAll("main *")) {
		// A sheet of labels is as wide as its paper, and what is only heard is nowhere.
		if (!seen(e) || e.closest("svg, .sheet, .unseen-live")) continue;
		const r = e.getBoundingClientRect();
		if (r.left < -1 || r.right > innerWidth + 1 || getComputedStyle(e).overflowX !== "visible" && e.scrollWidth > e.clientWidth + 1)
			out.push("cut off: " + e.className + " " + e.innerText.slice(0, 60));
	}
	return out.join("\n") })()`

// onPaper prints the page as it stands, on at most so many pages of each paper, and
// gives what is said there.
func (p *tab) onPaper(name string, most int, papers ...sheet) string {
	p.t.Helper()
	for _, on := range papers {
		if n := p.pdf(name, on); n == 0 || n > spaceFor(most) {
			p.t.Errorf("%s: got %d pages of %s, want at most %d", name, n, on.name, spaceFor(most))
		} else {
			p.t.Logf("%s: %d pages of %s", name, n, on.name)
		}
	}
	// The same as the page lays it out for paper.
	features := []map[string]any{{"name": "prefers-reduced-motion", "value": "reduce"}}
	p.call("Emulation.setEmulatedMedia", map[string]any{"media": "print", "features": features})
	p.resize(papers[len(papers)-1].room, 900)
	eval[bool](p, `(dispatchEvent(new Event("beforeprint")), true)`)
	if out := eval[string](p, notForPaper); out != "" {
		p.t.Errorf("%s:\n%s", name, out)
	}
	says := eval[string](p, `document.body.saidText ?? document.body.innerText`)
	eval[bool](p, `(dispatchEvent(new Event("afterprint")), true)`)
	p.resize(desktop.width, desktop.height)
	p.call("Emulation.setEmulatedMedia", map[string]any{"features": features})
	if timesSaid(says, "This is a made-up household") > 0 {
		p.t.Errorf("%s: got the notice of the made-up household in print", name)
	}
	return says
}

// holds fails the test for each of the words that a print lacks.
func holds(t *testing.T, name, says string, words ...string) {
	t.Helper()
	for _, w := range words {
		if timesSaid(says, w) == 0 {
			t.Errorf("%s: the print does not say %q:\n%.1500s", name, w, says)
		}
	}
}

// Everything that is printed has on paper what it is printed for, nothing that is of
// use on a screen only, and no page more than it needs.
func TestPrints(t *testing.T) {
	p := start(t).open(serve(t, ""), desktop)
	// An answer has its reasons, its sources, and every step, each once.
	p.visit("/check?product=green-beans")
	p.click(saying("label.choice", "A lid that bulges"))
	p.wait(`!!document.querySelector(".answer")`)
	says := p.onPaper("answer", 5, letter, a4)
	holds(t, "answer", says, "Discard safely", "Do not open it. Do not taste it.", "A bulging lid means gas", "read in the source", "Put the closed jar in a strong bag", "Either bag it", "Mix 1 part unscented bleach", "Look at its whole batch", "What you said")
	if n := timesSaid(says, "call an ambulance now"); n != 1 {
		t.Errorf("got what to do for somebody who has eaten %d times in the answer, want once", n)
	}
	// A rule that was opened by its address is alone.
	p.visit("/rules#outside.lid.bulging")
	p.wait(`!!document.querySelector(".rule.asked .cites")`)
	says = p.onPaper("rule", 1, letter)
	holds(t, "rule", says, "outside.lid.bulging", "A bulging lid means gas", "read in the source")
	if strings.Contains(says, "outside.lid.flat") || timesSaid(says, "Edition %s. These are all the rules") > 0 {
		t.Errorf("got other rules in print along with one: %.600s", says)
	}
	for show, words := range map[string][]string{
		"notes":   {"How to lead it", "Ask:", "Because:", "Jar B:", "never replaces"},
		"handout": {"What would you do with these jars?", "☐ Discard safely", "The sign that decides", "Answers", "never replaces"},
		"cards":   {"Set 42, card 1A, rules " + rules.Edition, "Set 42, card 3B, rules " + rules.Edition, "read in the source", "never replaces"},
	} {
		p.visit("/class?set=42&n=3&show=" + show)
		p.wait(`!!document.querySelector(".paper")`)
		p.drawn()
		holds(t, show, p.onPaper(show, 4, a4), words...)
	}

	p.invented()
	jar := eval[string](p, `document.querySelector('a[href*="/jar?"]').getAttribute("href")`)
	batch := eval[string](p, `document.querySelector('a[href*="/batch?id"]').getAttribute("href")`)
	// As it stands on the screen the shelf says that there is more; from its button
	// all of it is printed.
	holds(t, "shelf", p.onPaper("shelf-begins", 5, a4), "groups are drawn and listed.")
	groups := eval[int](p, `Number(document.querySelector(".found").innerText.match(/in (\d+) groups/)[1])`)
	eval[bool](p, `(window.print = () => { window.printed = true }, true)`)
	p.click(saying("button", "Print the shelf"))
	p.wait(`window.printed`)
	if n := eval[int](p, `document.querySelectorAll(".part tbody tr").length`); n != groups || groups <= 30 {
		t.Errorf("got %d of %d groups in print", n, groups)
	}
	if n := eval[int](p, `document.querySelectorAll(".stands").length`); n != groups {
		t.Errorf("got %d of %d groups drawn on paper", n, groups)
	}
	says = p.onPaper("shelf", 4, letter)
	holds(t, "shelf", says, "Take out", "Eat first", "Look at", "Fine", "Discard safely", "Keep", "Cellar, left")
	if timesSaid(says, "groups are drawn and listed.") > 0 {
		t.Error("got a note that part of the shelf is missing, although all of it is printed")
	}
	p.visit("/")
	p.wait(`!!document.querySelector(".day-line")`)
	holds(t, "day", p.onPaper("day", 4, letter), "Take out:", "Eat first", "Stop signs", "Still closed: how to discard it", "Either bag it")
	p.visit(jar)
	p.wait(`!!document.querySelector(".acts")`)
	p.drawn()
	holds(t, "jar", p.onPaper("jar", 3, letter), "Why", "read in", "What happened")
	p.visit("/stock")
	p.wait(`document.querySelectorAll(".chart-box svg").length > 2`)
	holds(t, "stock", p.onPaper("stock", 7, a4), "By age", "The table behind it")
	// Labels take as many pages as they have sheets, on paper of another size too.
	_, batch, _ = strings.Cut(batch, "id=")
	batch, _, _ = strings.Cut(batch, "&")
	p.view("/labels?batch=" + batch)
	p.wait(`!!document.querySelector(".sheet svg")`) // of the paper of the reader's country
	p.onPaper("labels", eval[int](p, `document.querySelectorAll(".sheet").length`), a4, letter)
	p.visit("/trip")
	p.click(saying("button", "Plan a trip"))
	p.set("Altitude there", "3999")
	p.click(saying("button", "Work it out"))
	p.wait(`!!document.querySelector(".trip-days")`)
	boil := "boil it first for 13 minutes"
	if speaking != nil {
		boil = "boil it first" // how long is read on the card, by TestTrip
	}
	holds(t, "plan", p.onPaper("plan", 3, letter, a4), "Day 1", boil, "Packing list", "Cellar, right", "On the way and there")

	// The red card of the sweep says why and how, and so does the report at its end.
	p.visit("/sweep")
	for _, place := range []string{"Cellar, left", "Cellar, right", "Kitchen cupboard", "Trailer box"} {
		p.click(saying(".choose label", place))
	}
	p.click(saying("button", "Begin"))
	for n := 0; !p.has(".walk.out"); n++ {
		if n == 60 {
			t.Fatal("no jar of the made-up household is taken out")
		}
		p.wait(`!!document.querySelector(".walk")`)
		const at = `(document.querySelector(".walk .stand .hint")?.innerText ?? "") + document.querySelector("h1").innerText`
		was := eval[string](p, at)
		eval[bool](p, `([...document.querySelectorAll(".walk button")].find(b => /It is not here|I don.t know/.test(b.innerText)).click(), true)`)
		p.wait(fmt.Sprintf(`(%s) !== %q`, at, was))
	}
	holds(t, "red card", p.onPaper("red-card", 1, letter), "Take it out", "read in", "Still closed: how to discard it", "Put the closed jar in a strong bag", "Either bag it")
	p.together("a jar that is taken out", ".hand-top h1, .stop-line, #out", nil)
	p.resize(desktop.width, desktop.height)
	p.click(saying("button", "It stays for now"))
	p.click(saying("button", "End the sweep here"))
	p.wait(`!!document.querySelector(".report")`)
	holds(t, "report", p.onPaper("report", 2, letter), "to discard because of their record", "Put the closed jar in a strong bag", "Either bag it")
}
