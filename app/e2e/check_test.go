//go:build e2e && linux

package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// hand is a way to use the page.
type hand interface {
	product(name string)
	// choose answers the question on screen.
	choose(label string)
	// report says something of a part of the jar, on the picture.
	report(zone, sign, label string)
}

// found waits until the search has narrowed down to the product.
func (p *tab) found(name string) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`document.querySelector(".picker .product span")?.innerText === %q`, name))
	p.drawn()
}

// byTouch uses a finger.
type byTouch struct{ *tab }

func (h byTouch) product(name string) {
	h.t.Helper()
	h.tap(`document.querySelector("#product")`)
	h.wait(`document.activeElement.id === "product"`)
	h.press(strings.Split(name, "")...)
	h.found(name)
	h.tap(saying(".product span", name))
	h.wait(`!!document.querySelector(".question")`)
}

func (h byTouch) choose(label string) {
	h.t.Helper()
	was := h.text(".question h1")
	h.tap(saying("label.choice", label))
	h.wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText !== %q`, was))
}

func (h byTouch) report(zone, sign, label string) {
	h.t.Helper()
	if width := eval[int](h.tab, "innerWidth"); width < 782 {
		h.tap(`document.querySelector(".jar-box")`)
		h.wait(`!!document.querySelector(".look.large")`)
	}
	h.touch(h.inside(zone))
	h.wait(`!!document.querySelector(".zone-panel")`)
	h.tap(fmt.Sprintf(`[...document.querySelectorAll('input[name="sign-%s"]')].map(e => e.closest("label")).find(e => e.innerText.includes(%q))`, sign, label))
	h.closePanel(func() { h.tap(saying("button", "Done")) })
}

// closePanel closes the panel of a part, unless the report ended the check and
// the answer has taken its place.
func (p *tab) closePanel(done func()) {
	p.t.Helper()
	p.wait(`!document.querySelector(".zone-panel") || !!document.querySelector(".zone-panel input:checked")`)
	p.drawn()
	if p.has(".zone-panel") {
		done()
	}
	p.wait(`!document.querySelector(".zone-panel")`)
}

// byKeyboard uses nothing but keys.
type byKeyboard struct{ *tab }

// walk presses Tab until the focus is on what the expression of `e` asks for.
func (h byKeyboard) walk(want string) {
	h.t.Helper()
	for range 150 {
		if eval[bool](h.tab, "(e => !!("+want+"))(document.activeElement)") {
			return
		}
		h.press(kb.Tab)
	}
	h.t.Fatalf("the keyboard does not reach %s", want)
}

func (h byKeyboard) product(name string) {
	h.t.Helper()
	h.walk(`e.id === "product"`)
	h.press(strings.Split(name, "")...)
	h.found(name)
	h.walk(fmt.Sprintf(`e.classList.contains("product") && e.innerText.includes(%q)`, name))
	h.press(kb.Enter)
	h.wait(`!!document.querySelector(".question")`)
}

func (h byKeyboard) choose(label string) {
	h.t.Helper()
	was := h.text(".question h1")
	h.wait(`document.activeElement.id === "title"`)
	h.walk(`e.name === "choice"`)
	// The first choice is reached unmarked: space marks it, arrows go on.
	h.press(" ")
	for range 12 {
		if eval[bool](h.tab, fmt.Sprintf(`!!document.activeElement.checked && document.activeElement.closest("label").innerText.includes(%q)`, label)) {
			break
		}
		h.press(kb.ArrowDown)
	}
	h.press(kb.Enter)
	h.wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText !== %q`, was))
}

func (h byKeyboard) report(zone, sign, label string) {
	h.t.Helper()
	eval[bool](h.tab, `document.activeElement.blur(), true`)
	h.walk(fmt.Sprintf(`e.dataset.zone === %q`, zone))
	h.press(kb.Enter)
	h.wait(`!!document.querySelector(".zone-panel")`)
	h.walk(fmt.Sprintf(`e.name === "sign-%s"`, sign))
	h.press(" ")
	for range 12 {
		h.drawn()
		if eval[bool](h.tab, fmt.Sprintf(`!!document.querySelector(".answer") || document.activeElement.checked && document.activeElement.closest("label").innerText.includes(%q)`, label)) {
			break
		}
		h.press(kb.ArrowDown)
	}
	h.closePanel(func() {
		h.walk(`e.tagName === "BUTTON" && e.innerText === "Done"`)
		h.press(kb.Enter)
	})
}

// flow is one jar, from the shelf to its answer.
type flow struct {
	name    string
	product string
	report  [][3]string // said on the picture first: part, sign, label
	answers map[string]string
	verdict string
	says    string // of the worry
}

// sound answers every question as the person with a sound jar would.
var sound = map[string]string{
	"Before you touch":             "None of these",
	"Which is true of the jar":     "Closed, on the shelf, or only frost has pushed its lid loose",
	"Take the screw band off and":  "None of these",
	"Take the screw band off. Loo": "Curved down",
	"Press the middle":             "does not move",
	"Lift the jar":                 "The lid holds",
	"Hold the jar up":              "No, all as usual",
	"What recipe":                  "A current recipe",
	"How were":                     "Covered by boiling water",
	"Were the jars heated":         "Yes: packed",
	"How much vinegar":             "exactly what a current published recipe",
	"Did every jar get":            "Yes, the full amount",
	"Is any of this":               "None of these",
	"Has another jar":              "Not that I know of",
	"How long ago":                 "Up to 12 months",
	"Since it was":                 "None of these",
	"Did any of this":              "None of these",
	"Is anything else":             "No, everything else",
	"Is there any leak":            "Clean",
	"Is the lid rusty":             "No rust",
	"What lies on top":             "Pieces float",
	"How clear":                    "As clear as usual",
	"What closes":                  "used for the first time",
	"Is the flesh":                 "Yes, yellow",
}

func with(changes map[string]string) map[string]string {
	answers := map[string]string{}
	for q, a := range sound {
		answers[q] = a
	}
	for q, a := range changes {
		answers[q] = a
	}
	return answers
}

var flows = []flow{
	{"discard", "Green beans", [][3]string{{"lid", "lid", "Bulging"}}, sound, "Discard safely", "The lid bulges: something is growing inside."},
	{"use soon", "Strawberry jam", [][3]string{{"place", "place", "In sunlight"}}, with(map[string]string{"How were": "I don't know", "What recipe": "My own, a family"}), "Use soon", "Sun or heat ages the food"},
	{"keep", "Peaches, yellow", [][3]string{{"glass", "glass", "Whole"}}, sound, "Keep", "Sealed, nothing odd, and canned with a tested recipe."},
}

func (f *flow) run(p *tab, h hand) {
	p.t.Helper()
	p.visit("/check")
	h.product(f.product)
	for _, r := range f.report {
		h.report(r[0], r[1], r[2])
	}
	f.answer(p, h)
	if got := p.verdict(); got != f.verdict {
		p.t.Errorf("got the answer %q, want %q", got, f.verdict)
	}
}

// answer answers until nothing more is asked. An answer of "" is "don't know".
func (f *flow) answer(p *tab, h hand) {
	p.t.Helper()
	for range 30 {
		if !p.has(".question") {
			return
		}
		ask := p.text(".question h1")
		label, known := "", false
		for q, a := range f.answers {
			if strings.HasPrefix(ask, q) {
				label, known = a, true
			}
		}
		switch {
		case !known:
			p.t.Fatalf("no answer to %q", ask)
		case label == "":
			p.tap(saying("button", "I don't know"))
			p.wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText !== %q`, ask))
		default:
			h.choose(label)
		}
	}
}

// verdict is the word of the answer, on one line.
func (p *tab) verdict() string {
	p.t.Helper()
	return strings.Join(strings.Fields(p.text(".verdict h1")), " ")
}

// A discard, a use soon and a keep, each by touch on the picture of a phone and
// again by keyboard alone on a desktop. The answer is saved, and axe is content
// with it in both lights.
func TestChecks(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	for _, f := range flows {
		for _, as := range []screen{phone, evening} {
			t.Run(f.name+" "+as.String(), func(t *testing.T) {
				b := &browser{t, b.ctx}
				p := b.open(s, as)
				var h hand = byTouch{p}
				if !as.touch {
					h = byKeyboard{p}
				}
				f.run(p, h)
				p.shoot("answer")
				if stop := p.text(".stop-line"); (f.verdict == "Discard safely") != strings.Contains(stop, "Do not open it") {
					t.Errorf("got the line %q under the verdict", stop)
				}
				// The verdict, the worry, what to do now and help are on the first screen;
				// all else is one touch away.
				if bottom := eval[float64](p, `(window.scrollTo(0, 0), document.querySelector(".first").getBoundingClientRect().bottom - innerHeight)`); bottom > 0 {
					t.Errorf("got a first screen %.0f pixels too long: %s", bottom, p.text(".first"))
				}
				if says := p.text(".worry"); !strings.Contains(says, f.says) {
					t.Errorf("about the worry: got %q, want %q", says, f.says)
				}
				if do := p.text(".do-this"); do == "" || !strings.Contains(p.text(".first"), "Someone ate from it: what to do") {
					t.Errorf("got the first screen %q", p.text(".first"))
				}
				for _, want := range []string{"Why, and who says so", "How to", "What would change the answer", "Cautions", "The rules, by their codes"} {
					if !eval[bool](p, "!!("+saying(".answer summary", want)+")") {
						t.Errorf("got no link from the answer to %q", want)
					}
				}
				if all := eval[string](p, `document.querySelector(".answer").textContent`); !strings.Contains(all, "Never taste to decide") || !strings.Contains(all, "Say “botulism”") {
					t.Error("the answer lacks a caution")
				}
				p.wait(fmt.Sprintf(`document.activeElement.tagName === "H1" && document.activeElement.innerText.split(/\s+/).join(" ") === %q`, f.verdict))
				if said := p.text("[role=status], .unseen-live"); !strings.Contains(said, f.verdict) {
					t.Errorf("read out: %q", said)
				}
				p.wait(`document.querySelector(".saved").innerText === "Saved on this device"`)
				p.axe("answer")
				p.visit("/history")
				p.wait(`!!document.querySelector(".entry")`)
				if first := p.text(".entry"); !strings.Contains(first, f.product) || !strings.Contains(first, f.verdict) {
					t.Errorf("got %q at the start of the history", first)
				}
			})
		}
	}
}

// An answer that is given while the check is read again, as with keys under the
// cover, stays: it is given when the check has been read, and the page has not heard
// of that yet.
func TestAnswerWhileItIsReadAgain(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/check")
	byTouch{p}.product("Dill pickles, fresh-pack")
	answers := [][2]string{
		{"Before you touch", "None of these"},
		{"Which is true of the jar", "Closed, on the shelf, or only frost has pushed its lid loose"},
		{"Take the screw band off and", "None of these"},
		{"Hold the jar up", "No, all as usual"},
	}
	for i, a := range answers {
		p.wait(`document.querySelector(".saved").innerText === "Saved on this device"`)
		ask := p.text(".question h1")
		if !strings.HasPrefix(ask, a[0]) {
			t.Fatalf("after %d answers: got the question %q, want %q", i, ask, a[0])
		}
		eval[bool](p, fmt.Sprintf(`(e => {
			const get = IDBObjectStore.prototype.get;
			IDBObjectStore.prototype.get = function (key) {
				const request = get.call(this, key);
				if (this.name === "checks") {
					IDBObjectStore.prototype.get = get;
					request.addEventListener("success", () => { e.click(); e.form.requestSubmit() });
				}
				return request;
			};
			larderFresh.again();
			return true;
		})(%s.querySelector("input"))`, saying("label.choice", a[1])))
		p.wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText !== %q`, ask))
		p.wait(`!document.querySelector(".cover")`)
		p.drawn()
	}
	p.wait(`document.querySelector(".saved").innerText === "Saved on this device"`)
	if got := eval[int](p, `Number(new URLSearchParams(location.hash.slice(1)).get("n"))`); got != len(answers) {
		t.Errorf("got %d answers, want %d", got, len(answers))
	}
}

// Going back, changing an answer, starting again and resuming lose nothing.
func TestNothingIsLost(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	h := byTouch{p}
	p.visit("/check")
	h.product("Dill pickles, fresh-pack")
	h.choose("None of these")
	h.choose("Closed, on the shelf, or only frost has pushed its lid loose")
	if q := p.text(".question h1"); !strings.HasPrefix(q, "Take the screw band") {
		t.Fatalf("got the question %q", q)
	}
	p.tap(saying("button", "Back"))
	p.wait(`document.querySelector(".question h1").innerText.startsWith("Which is true")`)
	if eval[bool](p, `!!document.querySelector(".question input:checked")`) {
		t.Error("got a marked choice before anybody chose")
	}
	p.tap(saying("button", "Forward"))
	p.wait(`document.querySelector(".question h1").innerText.startsWith("Take the screw band")`)

	address := eval[string](p, "location.href")
	p.wait(`document.querySelector(".saved").innerText === "Saved on this device"`)
	p.visit("/")
	p.visit(strings.TrimPrefix(address, s.url("")))
	p.wait(`!!document.querySelector(".question h1")?.innerText.startsWith("Take the screw band")`)

	p.tap(saying("summary", "What you said"))
	p.tap(`document.querySelector('[aria-label="Change: Where it has been"]')`)
	p.wait(`document.querySelector(".question h1").innerText.startsWith("Which is true")`)
	h.choose("Opened earlier")
	if strings.HasPrefix(p.text(".question h1"), "Take the screw band") {
		t.Error("got a question about the shape of the lid for an opened jar")
	}
	p.tap(saying("button", "Start again"))
	p.wait(`document.querySelector(".question h1").innerText.startsWith("Before you touch")`)
	p.wait(`document.querySelector(".saved").innerText === "Saved on this device"`)
	p.visit("/history")
	p.wait(`document.querySelectorAll(".entry").length === 2`)
	if n := strings.Count(p.text(".history"), "Not finished"); n != 2 {
		t.Errorf("got %d unfinished checks in %q", n, p.text(".history"))
	}

	p.tap(`[...document.querySelectorAll(".entry [aria-label]")].find(e => e.getAttribute("aria-label").startsWith("Delete"))`)
	p.wait(`document.querySelectorAll(".entry").length === 1`)
	p.axe("deleted")
	p.tap(saying("button", "Undo"))
	p.wait(`document.querySelectorAll(".entry").length === 2`)
	p.visit("/history")
	p.wait(`document.querySelectorAll(".entry").length === 2`)
	p.tap(saying(".entry a.button", "Go on"))
	p.wait(`!!document.querySelector(".question")`)
}

// One test of the seal that could not be made leaves the answer at its
// strictest, and the answer says what is not known.
func TestDontKnow(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, night)
	f := flow{product: "Peaches, yellow", answers: with(map[string]string{"Take the screw band off and": "", "Press the middle": ""}), verdict: "Discard safely"}
	f.run(p, byTouch{p})
	if says := p.text(".unsettled"); !strings.Contains(says, "may be “Keep”") || !strings.Contains(says, "Press the middle") {
		t.Errorf("got the text %q", says)
	}
	p.axe("unsettled")
	// While the answer is not settled, no link offers what to do with the jar.
	const leads = ".answer .card .button:not(.plain)"
	if p.has(leads) {
		t.Errorf("an unsettled answer: got the links %q", p.text(leads))
	}
	// A line to find out leads to its question, and the answer to the verdict.
	p.tap(saying(".unsettled button", "Press the middle"))
	p.wait(`document.querySelector(".question h1")?.innerText.startsWith("Press the middle")`)
	byTouch{p}.choose("does not move")
	if got := p.verdict(); got != "Keep" {
		t.Errorf("after finding out: got the answer %q", got)
	}
	if got := p.text(leads); got != "Add it to my shelf list" {
		t.Errorf("after finding out: got the links %q", got)
	}
}

// A food that is not in the list is placed by plain questions, strictly.
func TestNotInTheList(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/check")
	p.tap(saying("button", "Not in the list"))
	p.axe("unlisted")
	p.tap(saying("button", "I don't know"))
	p.wait(`!!document.querySelector(".question")`)
	if name := p.text(".jar-name"); name != "I don't know what it is" {
		t.Errorf("got the food %q", name)
	}
}

// A compound food is never taken for the plain one: what an entry does not cover
// is shown next to it, and leads to the questions, where the food keeps the name
// that was typed. On the shelf it does so too.
func TestCompoundFood(t *testing.T) {
	const typed, plain = "peach vanilla jam", "Peach jam"
	s := serve(t, "")
	p := start(t).open(s, phone)
	look := func() {
		p.tap(`document.querySelector("#product")`)
		p.press(strings.Split(typed, "")...)
		p.found(plain)
		if says := p.text(".product .lacks"); says != "“vanilla” is not part of this entry." {
			t.Errorf("got the text %q", says)
		}
		p.fits("compound")
		p.shoot("compound")
		p.axe("compound")
		p.tap(saying(".product span", plain))
		p.wait(`!document.querySelector("#product")`)
		if says := p.text(".card"); !strings.Contains(says, "“vanilla” is not part") || p.has(".question") {
			t.Errorf("without a question: got %q", says)
		}
		p.fits("doubt")
		p.shoot("doubt")
		p.axe("doubt")
	}
	p.visit("/check")
	look()
	p.tap(saying("button", "Ask me about this food"))
	p.wait(`[...document.querySelectorAll("input")].some(e => e.value === "` + typed + `")`)
	p.axe("named")
	p.tap(saying("button", "I don't know"))
	p.wait(`!!document.querySelector(".question")`)
	if name, label := p.text(".jar-name"), p.text(".jar-label"); name != "I don't know what it is" || label != typed {
		t.Errorf("got the food %q with the name %q", name, label)
	}
	p.saved(onDevice)
	p.visit("/history")
	p.wait(`document.body.innerText.includes("` + typed + `")`)

	// Saying that nothing else is in it goes on with the plain food.
	p.visit("/check")
	look()
	p.tap(saying("button", "It is plain"))
	p.wait(`!!document.querySelector(".question")`)
	if name, label := p.text(".jar-name"), p.text(".jar-label"); name != plain || label != typed {
		t.Errorf("got %q with the name %q", name, label)
	}

	p.visit("/batch")
	look()
	p.tap(saying("button", "Ask me about this food"))
	p.wait(`!!document.querySelector(".card .field input")`)
	p.tap(saying("button", "I don't know"))
	p.wait(`[...document.querySelectorAll(".batch-form input")].some(e => e.value === "` + typed + `")`)
}

// The record's process can be worked out on the spot: what was done is held
// against the published table, and the person gives the answer it proposes.
func TestWorkItOut(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	f := flow{product: "Green beans", answers: with(map[string]string{"How were": "In a stove-top pressure canner"}), verdict: "Keep"}
	p.visit("/check")
	h := byTouch{p}
	h.product(f.product)
	for !strings.HasPrefix(p.text(".question h1"), "Was the pressure canner") {
		ask := p.text(".question h1")
		for q, a := range f.answers {
			if strings.HasPrefix(ask, q) {
				h.choose(a)
			}
		}
	}
	p.tap(saying(".work summary", "Work it out"))
	choose := func(label, option string) {
		eval[bool](p, fmt.Sprintf(`(() => { const s = %s.querySelector("select"); s.value = [...s.options].find(o => o.innerText === %q).value; s.dispatchEvent(new Event("change", {bubbles: true})); return true })()`, saying(".work label", label), option))
		p.drawn()
	}
	enter := func(label, text string) {
		p.tap(saying(".work label", label) + `.querySelector("input")`)
		p.wait(saying(".work label", label) + `.contains(document.activeElement)`)
		p.call("Input.insertText", map[string]any{"text": text})
		p.drawn()
	}
	choose("Packed", "raw")
	choose("Jar", "quart (950 ml)")
	enter("Minutes", "25")
	choose("Gauge", "dial")
	enter("Pressure", "11")
	enter("The dial reads high", "0")
	choose("Vented", "yes")
	choose("Your altitude", "below 1,000 ft (304 m)")
	p.wait("!!" + saying(".worked", "As published"))
	p.axe("work it out")
	if says := p.text(".worked"); !strings.Contains(says, "25 minutes at 11 pounds") {
		t.Errorf("got the text %q", says)
	}
	if !p.has(".work .button") {
		t.Error("got no proposed answer")
	}
	choose("Your altitude", "below 5,000 ft (1524 m)")
	p.wait("!!" + saying(".worked", "Short of the published process"))
	// Answering that it was as published anyway leads to a question.
	h.tap(saying("label.choice", "Yes, all of it"))
	p.wait(`document.querySelector("#title").innerText.startsWith("You say it was done")`)
	p.axe("disagreement")
	p.tap(saying("button", "My numbers: it was not done"))
	p.wait(`!document.querySelector("#title").innerText.startsWith("You say")`)
	f.answer(p, h)
	if got := p.verdict(); got != "Discard safely" {
		t.Errorf("got the answer %q", got)
	}
	if !strings.Contains(p.text(".answer"), "not heated as the tested recipe says") {
		t.Error("got a reason that does not name the process")
	}
}

// A reason leads to its rule in the rule book, which is searched, shows the
// cases that exercise each rule, and can be opened by its address.
func TestRuleBook(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/check?product=dill-pickles")
	p.wait(`!!document.querySelector(".question")`)
	byTouch{p}.report("headspace", "mold", "Yes")
	p.tap(saying("summary", "The rules, by their codes"))
	p.tap(saying(".codes a", "deposit.mold"))
	p.wait(`location.pathname === "/rules" && location.hash === "#deposit.mold"`)
	p.wait(`document.getElementById("deposit.mold")?.innerText.includes("cases exercise it")`)
	p.visit("/rules#outside.lid.bulging")
	p.wait(`(r => r.top >= 0 && r.top < innerHeight)(document.getElementById("outside.lid.bulging").getBoundingClientRect())`)
	p.tap(`document.querySelector("input[type=search]")`)
	p.call("Input.insertText", map[string]any{"text": "struvite salmon"})
	p.wait(`document.querySelectorAll(".rule").length === 1 && !!document.getElementById("deposit.crystals-harmless")`)
	p.axe("search in the rule book")
	// The words of a question find the rules that depend on it.
	eval[bool](p, `(e => { e.value = "lemon juice"; e.dispatchEvent(new Event("input", { bubbles: true })); return true })(document.querySelector("input[type=search]"))`)
	p.wait(`!!document.getElementById("record.lack.acid") && !document.getElementById("outside.lid.bulging")`)
}

// A check can start from what the person sees, in words of their own: a sign that
// means discard in every food is answered at once, any other in the food that is
// named, with what it may mean there. The first question fits the screen.
func TestSomethingLooksOdd(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	say := func(words, label string) {
		p.tap(`[...document.querySelectorAll("button")].find(b => b.innerText === "Something looks odd")`)
		p.wait(`document.activeElement.innerText === "What looks odd?"`)
		p.tap(`document.querySelector("#odd")`)
		p.call("Input.insertText", map[string]any{"text": words})
		p.wait(`!!(` + saying(".sight", label) + `)`)
		p.fits("what looks odd")
		p.axe("what looks odd")
		p.shoot(words)
		p.tap(saying(".sight", label))
	}
	p.visit("/check")
	say("lid popped up", "Bulging")
	p.wait(`!!document.querySelector(".answer.verdict-discard")`)
	if says := p.text(".first"); !strings.Contains(says, "The lid bulges") || !strings.Contains(says, "Do not open it") {
		t.Errorf("got the answer %q", says)
	}

	p.visit("/check?product=pears")
	p.wait(`!!document.querySelector(".question")`)
	if hidden := eval[float64](p, `document.querySelector(".choice.none").getBoundingClientRect().bottom - document.querySelector(".reach").getBoundingClientRect().top`); hidden > 0 {
		t.Errorf("got %.0f pixels of the first question below the first screen", hidden)
	}
	say("turned pink", "Pink")
	p.wait(`!!document.querySelector(".question")`)
	if says := p.text(".saw"); !strings.Contains(says, "it can be harmless here") || !strings.Contains(says, "Not harmless if") {
		t.Errorf("about pink pears: got %q", says)
	}
	f := flow{answers: sound}
	f.answer(p, byTouch{p})
	if got := p.verdict(); got != "Keep" {
		t.Errorf("got the answer %q", got)
	}
	if says := p.text(".worry"); says != "Pink: harmless in pears." {
		t.Errorf("about the worry: got %q", says)
	}
}
