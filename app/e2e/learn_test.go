//go:build e2e && linux

package e2e

import (
	"fmt"
	"strings"
	"testing"

	"larderlamp/rules"

	"github.com/chromedp/chromedp/kb"
)

// Every page that teaches can be read in both lights, fits a phone, and axe is
// content with it.
func TestLearnPages(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	for _, as := range []screen{phone, evening} {
		t.Run(as.String(), func(t *testing.T) {
			p := (&browser{t, b.ctx}).open(s, as)
			for _, path := range []string{"/learn", "/learn?lesson=glass", "/learn?lesson=away", "/signs", "/signs?by=product", "/signs?sign=cloud", "/signs?sign=days",
				"/signs?product=dill-pickles", "/practice", "/class?set=42&n=4", "/class?set=42&n=4&show=screen", "/class?set=42&n=4&show=handout", "/class?set=42&n=4&show=cards"} {
				p.turn(path)
				p.fits(path)
				p.axe(path)
				p.shoot(path)
			}
		})
	}
}

// The lessons follow each other by keyboard, and a sign is found by sign, by
// food and by what it looks like.
func TestLessonsAndSigns(t *testing.T) {
	s := serve(t, "/cellar")
	p := start(t).open(s, desktop)
	h := byKeyboard{p}
	p.visit("/learn")
	h.walk(`e.matches(".lesson-link")`)
	for n := range 8 {
		h.press(kb.Enter)
		p.wait(fmt.Sprintf(`document.querySelector("main .kind")?.innerText.startsWith("Lesson %d of 8") && document.activeElement.tagName === "H1"`, n+1))
		if !p.has(".try li") || !p.has(".source, .cite") {
			t.Errorf("lesson %d: want something to try, and a source", n+1)
		}
		h.walk(`e.matches("a.button") && (e.innerText.startsWith("Next") || e.innerText === "Now practice")`)
	}
	p.visit("/signs?by=look")
	h.walk(`e.matches("input[type=search]")`)
	h.press(strings.Split("fat cap", "")...)
	p.wait(`!!` + saying(".product", "On top"))
	p.visit("/signs?by=product")
	p.click(`document.querySelector("input[type=search]")`)
	p.press(strings.Split("salmon", "")...)
	p.wait(`!!` + saying(".product", "Salmon"))
	p.click(saying(".product", "Salmon"))
	p.wait(`!!document.querySelector(".pair") && document.querySelectorAll(".pair .specimen").length === 2 * document.querySelectorAll(".pair").length`)
	if says := p.text("main"); !strings.Contains(says, "Struvite") || !strings.Contains(says, "Not harmless if") {
		t.Errorf("about salmon: got %.300q", says)
	}
}

// verdicts is JavaScript that returns the verdict of every jar on the answer page, in order.
const verdicts = `[...document.querySelectorAll(".twin > p .verdict-word strong")].map(e => e.innerText).join("/")`

// practice returns both jars of an item the same verdict, names the last of the signs
// as the one that decides, and answers.
func (p *tab) practice(v rules.Verdict) {
	p.t.Helper()
	for i := range eval[int](p, `document.querySelectorAll(".verdicts").length`) {
		p.tap(fmt.Sprintf(`document.querySelectorAll(".verdicts")[%d].querySelector('input[value="%s"]').closest("label")`, i, v.ID()))
	}
	p.call("Runtime.evaluate", map[string]any{"expression": `(e => { e.value = [...e.options].at(-1).value; e.dispatchEvent(new Event("change")); })(document.querySelector("#deciding"))`})
	p.drawn()
	p.tap(saying("button", "Answer"))
	p.wait(`!!document.querySelector(".outcome")`)
}

// Practice by touch: what is missing is said, a missed danger is named as such,
// counted apart from a false alarm and kept, and it comes back as it was.
func TestPractice(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/practice")
	p.tap(saying("button", "Start"))
	p.wait(`!!document.querySelector(".twins")`)
	p.fits("question")
	p.axe("question")
	p.shoot("question")
	p.tap(saying("button", "Answer"))
	p.wait(`document.querySelector(".practice .notice")?.innerText.startsWith("Give a verdict")`)

	told, missed := "", 0
	for range 12 {
		told = p.text(".twins")
		p.practice(rules.Keep)
		if got := eval[string](p, verdicts); strings.Count(got, "/") != 1 {
			t.Fatalf("got the answer %q", got)
		}
		if p.has(".outcome.missed") {
			missed++
			break
		}
		p.tap(saying("button", "Next"))
		p.wait(`!!document.querySelector(".verdicts")`)
	}
	if missed == 0 {
		t.Fatal("got no missed danger in twelve items that were all called keep")
	}
	p.fits("answer")
	p.axe("answer")
	p.shoot("answer")
	if !p.has(".twin .source") {
		t.Error("the answer names no source")
	}
	if kept := eval[string](p, `localStorage.getItem("larderlamp-practice")`); !strings.Contains(kept, `"again"`) {
		t.Errorf("got the stored items %.200s", kept)
	}
	// It is the same jar that comes back, also after the page is opened afresh.
	p.visit("/practice")
	p.wait(`!!document.querySelector(".tally")?.innerText.includes("Dangers caught")`)
	p.axe("progress")
	p.shoot("progress")
	back := false
	p.tap(saying("button", "Start"))
	for range 4 {
		p.wait(`!!document.querySelector(".verdicts")`)
		p.drawn()
		back = back || notesOf(p.text(".twins")) == notesOf(told)
		p.practice(rules.Discard)
		p.tap(saying("button", "Next"))
	}
	if !back {
		t.Error("the missed danger did not come back within four items")
	}
}

// notesOf keeps of an item what is told of its first jar.
func notesOf(text string) string {
	notes, _, _ := strings.Cut(text, "Everything else")
	_, notes, _ = strings.Cut(notes, "\n")
	return notes
}

// A part of the picture that is touched offers its signs, and choosing one fills
// the list.
func TestTouchTheSign(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, desktop)
	p.visit("/practice?set=42&n=3")
	p.click(saying("button", "Start"))
	p.wait(`!!document.querySelector(".verdicts")`)
	at := p.inside("liquid")
	p.call("Input.dispatchMouseEvent", map[string]any{"type": "mousePressed", "x": at.X, "y": at.Y, "button": "left", "clickCount": 1})
	p.call("Input.dispatchMouseEvent", map[string]any{"type": "mouseReleased", "x": at.X, "y": at.Y, "button": "left", "clickCount": 1})
	p.wait(`!!` + saying(".card button", "Bubbles"))
	p.click(saying(".card button", "Bubbles"))
	p.wait(`document.querySelector("#deciding").selectedOptions[0].innerText === "Bubbles"`)
}

// An item is answered with nothing but keys, and right is said to be right.
func TestPracticeByKeyboard(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, evening)
	h := byKeyboard{p}
	// Of this sign alone the differing one is known beforehand.
	p.visit("/practice?sign=mold")
	h.walk(`e.innerText === "Start"`)
	h.press(kb.Enter)
	p.wait(`!!document.querySelector(".verdicts") && document.activeElement.tagName === "H1"`)
	p.drawn()
	number := p.text(".practice .kind")
	for i := range eval[int](p, `document.querySelectorAll(".verdicts").length`) {
		moldy := eval[bool](p, fmt.Sprintf(`document.querySelectorAll(".twin")[%d].innerText.includes("Mold: Yes")`, i))
		h.walk(fmt.Sprintf(`e.type === "radio" && e.closest(".twin") === document.querySelectorAll(".twin")[%d]`, i))
		h.press(" ")
		if moldy {
			h.press(kb.ArrowUp) // from the first round to the last
		}
		p.drawn()
	}
	h.walk(`e.id === "deciding"`)
	h.press(strings.Split("Mold", "")...)
	p.drawn()
	h.walk(`e.innerText === "Answer"`)
	h.press(kb.Enter)
	p.wait(`!!document.querySelector(".outcome") && document.activeElement.tagName === "H1"`)
	p.shoot("answered")
	if now := p.text(".practice .kind"); now != number || !strings.HasPrefix(number, "Item 1") {
		t.Errorf("got the number %[2]q over the answer, want %[1]q as over the item", number, now)
	}
	if p.has(".outcome.missed") || !strings.Contains(p.text(".tell-apart"), "Mold") {
		t.Errorf("got %q, %q", p.text(".outcome"), p.text(".tell-apart"))
	}
}

// A set that is saved as a file is read back with the same jars as its link
// gives, and a damaged file is refused in plain words.
func TestSetAsFile(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, desktop)
	begin := func() string {
		p.click(saying("button", "Start"))
		p.wait(`!!document.querySelector(".verdicts")`)
		p.drawn()
		return p.text(".twins")
	}
	p.visit("/practice?set=5&n=3")
	linked := begin()
	p.visit("/class?set=5&n=3")
	eval[bool](p, `larderDevice.save = (name, type, text) => { sessionStorage.set = text; }, true`)
	p.click(saying("button", "Save as a file"))
	p.wait(`!!sessionStorage.set`)
	open := func(text string) {
		p.visit("/practice")
		p.wait(`!!` + saying("button", "Start"))
		eval[bool](p, `larderDevice.choose = async () => ["class.json", `+text+`], true`)
		p.click(saying("button", "Open a set"))
	}
	open(`sessionStorage.set`)
	p.wait(`document.querySelector(".lead").innerText.startsWith("class.json: 3 items")`)
	if got := begin(); got != linked {
		t.Errorf("got %.200q from the file, want %.200q as from the link", got, linked)
	}
	open(`sessionStorage.set.replace('"about": "', '"about": "x')`)
	p.wait(`document.querySelector(".notice")?.innerText.includes("item 1: about: no rule")`)
}

// Two people who open the same link get the same jars, and others get others.
func TestSharedSet(t *testing.T) {
	s := serve(t, "")
	see := func(set int) string {
		p := start(t).open(s, desktop)
		p.visit(fmt.Sprintf("/practice?set=%d&n=5", set))
		p.click(saying("button", "Start"))
		p.wait(`!!document.querySelector(".verdicts")`)
		p.drawn()
		return p.text(".twins")
	}
	first := see(42)
	if see(42) != first {
		t.Error("the same set: got other jars")
	}
	if see(43) == first {
		t.Error("another set: got the same jars")
	}
}

// The big screen is driven by the keyboard alone and shows no verdict before it
// is asked to; paper carries jars, answers and sources.
func TestClass(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, evening)
	p.visit("/class?set=7&n=3&show=screen")
	p.wait(`document.activeElement.tagName === "H1"`)
	heading := func(n int) string {
		return fmt.Sprintf(`document.activeElement.innerText.startsWith("Set 7, item %d of 3")`, n)
	}
	for n := 1; n <= 3; n++ {
		p.wait(heading(n))
		if p.has(".big-screen .verdict-word") {
			t.Errorf("item %d: got its verdict before it was asked for", n)
		}
		p.press(" ")
		p.wait(`document.querySelectorAll(".big-verdict").length === 2`)
		p.press("y")
		p.wait(fmt.Sprintf(`document.querySelector(".score")?.innerText === "Score: %d of %d"`, n, n))
		p.shoot(fmt.Sprintf("item %d", n))
		p.press(kb.ArrowRight)
	}
	p.wait(heading(1))
	p.press(kb.ArrowRight, kb.ArrowRight)
	p.wait(heading(2))
	p.press(kb.ArrowLeft)
	p.wait(heading(1) + ` && document.querySelectorAll(".big-verdict").length === 2`)
	p.press(kb.Escape)
	p.wait(`document.querySelector("h1").innerText === "For a class"`)

	// A set that the guide chose stays the same on the way back and when it is loaded
	// again, without another step in the history: what is on paper is on the screen.
	steps := eval[int](p, `history.length`)
	p.visit("/class")
	p.wait(`/[?&]set=\d+&n=\d+/.test(location.search) && !!document.querySelector(".ways a")`)
	set := eval[string](p, `location.search.match(/set=\d+&n=\d+/)[0]`)
	if n := eval[int](p, `history.length`); n > steps+1 {
		t.Errorf("got %d steps in the history, want %d", n, steps+1)
	}
	// The clock has to give another number by now.
	p.wait(`!location.search.includes("set=" + Math.floor(Date.now() / 1000) % 10000 + "&")`)
	p.tap(saying("a", "On the big screen"))
	p.wait(`document.querySelector("h1").innerText.startsWith("Set ")`)
	eval[bool](p, `(history.back(), true)`)
	p.wait(`document.querySelector("h1").innerText === "For a class"`)
	if got := eval[string](p, `location.search.match(/set=\d+&n=\d+/)[0]`); got != set {
		t.Errorf("a step back: got %s, want %s", got, set)
	}
	eval[bool](p, `(window.before = true, location.reload(), true)`)
	p.wait(`!window.before && document.querySelector("h1")?.innerText === "For a class" && !!document.querySelector(".ways a")`)
	if got := eval[string](p, `document.querySelector(".ways a").getAttribute("href").match(/set=\d+&n=\d+/)[0]`); got != set {
		t.Errorf("loaded again: got %s, want %s", got, set)
	}

	// A set of one sign has only items that turn on it.
	p.visit("/class?set=7&n=3&sign=color&show=screen")
	p.wait(`document.activeElement.tagName === "H1"`)
	p.press(" ")
	p.wait(`document.querySelector(".tell-apart")?.innerText === "What decides: Color."`)

	p.call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
	p.visit("/class?set=7&n=3&show=notes")
	p.wait(`document.querySelectorAll(".sheet-item").length === 3`)
	if says := p.text(".print"); !strings.Contains(says, "How to lead it") || strings.Count(says, "Ask: ") != 3 {
		t.Errorf("got the teacher's notes %.300q", says)
	}
	p.visit("/class?set=7&n=3&show=handout")
	p.wait(`document.querySelectorAll(".sheet-item").length === 3 && document.querySelectorAll(".sheet-answer").length === 3`)
	if says := p.text(".print > .paper"); strings.Count(says, "rule ") < 6 || !strings.Contains(says, "Jar B: ") {
		t.Errorf("got the answers %.300q", says)
	}
	if eval[bool](p, `[...document.querySelectorAll(".top, .foot, .noprint")].some(e => e.offsetParent)`) {
		t.Error("got parts in print that are for the screen only")
	}
	p.shoot("handout")
	p.visit("/class?set=7&n=3&show=cards")
	p.wait(`document.querySelectorAll(".flash").length === 6`)
	if says := p.text(".flash .back"); !strings.Contains(says, "rule ") {
		t.Errorf("got the card %q", says)
	}
	p.shoot("cards")
}

// On the screen of a room every item of a set, of all jars, of one sign and of one
// food, fits with its reasons and the buttons, and can be read from the back.
func TestBigScreen(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, screen{1280, 720, false, false})
	for _, set := range []string{"set=1&n=12", "set=42&n=12", "set=5&n=6&sign=method", "set=6&n=6&food=green-beans"} {
		p.visit("/class?" + set + "&show=screen")
		p.wait(`document.activeElement.tagName === "H1"`)
		items := eval[int](p, `+document.activeElement.innerText.match(/ of (\d+)/)[1]`)
		if items == 0 {
			t.Errorf("%s: got no items", set)
		}
		for n := 1; n <= items; n++ {
			where := fmt.Sprintf("%s, item %d", set, n)
			p.wait(fmt.Sprintf(`document.activeElement.innerText.includes("item %d of ")`, n))
			p.press(" ")
			p.wait(`document.querySelectorAll(".big-verdict").length === 2`)
			p.drawn()
			if low := eval[float64](p, `Math.max(...[...document.querySelectorAll(".big-answer, .tell-apart, .big-screen .row *")].map(e => e.getBoundingClientRect().bottom)) - innerHeight`); low > 0 {
				t.Errorf("%s: got an answer %.0f pixels too long: %s", where, low, p.text("main"))
			}
			if small := eval[string](p, `[...document.querySelectorAll(".big-screen *")].filter(e => e.offsetParent && [...e.childNodes].some(n => n.nodeType === 3 && n.data.trim()) && parseFloat(getComputedStyle(e).fontSize) < 28).map(e => e.innerText).join("; ")`); small != "" {
				t.Errorf("%s: got text smaller than 28 pixels: %s", where, small)
			}
			if cut := eval[string](p, `[...document.querySelectorAll(".big-answer, .big-answer *")].filter(e => e.scrollHeight > e.clientHeight + 3 && getComputedStyle(e).overflow === "hidden").map(e => e.innerText).join("; ")`); cut != "" {
				t.Errorf("%s: got text cut off: %s", where, cut)
			}
			p.press(kb.ArrowRight)
		}
	}
}
