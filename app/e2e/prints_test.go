//go:build e2e && linux

package e2e

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"larderlamp/app/label"
	"larderlamp/rules"
	"larderlamp/rules/prose"
	"larderlamp/wasm/texts"
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
	err := p.ask("Page.printToPDF", map[string]any{"paperWidth": on.width, "paperHeight": on.height}, &out)
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

// laidOut looks at the page as it is laid out for a paper.
func (p *tab) laidOut(on sheet, look func()) {
	p.t.Helper()
	features := []map[string]any{{"name": "prefers-reduced-motion", "value": "reduce"}}
	p.call("Emulation.setEmulatedMedia", map[string]any{"media": "print", "features": features})
	p.resize(on.room, 900)
	eval[bool](p, `(dispatchEvent(new Event("beforeprint")), true)`)
	look()
	eval[bool](p, `(dispatchEvent(new Event("afterprint")), true)`)
	p.resize(desktop.width, desktop.height)
	p.call("Emulation.setEmulatedMedia", map[string]any{"features": features})
}

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
	says := ""
	p.laidOut(papers[len(papers)-1], func() {
		if out := eval[string](p, notForPaper); out != "" {
			p.t.Errorf("%s:\n%s", name, out)
		}
		says = eval[string](p, `document.body.saidText ?? document.body.innerText`)
	})
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

// toldOnPaper lists every piece of text that is seen or heard, but for names and what is
// marked as English.
const toldOnPaper = `(() => {
	const all = new Set([document.title]), apart = "[translate=no], [lang=en], script, style, noscript, textarea, .unready";
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	while (walk.nextNode()) if (!walk.currentNode.parentElement.closest(apart)) all.add(walk.currentNode.data.trim());
	for (const name of ["aria-label", "placeholder", "title", "alt", "aria-description"])
		for (const e of document.querySelectorAll("[" + name + "]")) if (!e.closest(apart)) all.add(e.getAttribute(name).trim());
	return [...all] })()`

var (
	// englishWord is a word that nearly every English sentence has one of, and no Spanish one.
	englishWord = regexp.MustCompile(`(?:^|[^\pL-])(?:[Tt]he|of|and|[Ww]ith|[Ff]rom|[Ii]s|are|[Tt]his|[Yy]our|[Ii]t|[Nn]ot|[Ff]or|[Tt]o|[Ww]hat|[Ww]hich|[Aa]t|[Bb]y)(?:[^\pL-]|$)`)
	ruleName    = regexp.MustCompile(`[a-z-]+(?:\.[a-z-]+)+`)
	phrase      = regexp.MustCompile(`[^.,:;()·→“”"\n]+`)
	explained   = regexp.MustCompile(`\([^()]*\)`) // by the English word
)

// englishTold finds what is English among texts that are meant to be Spanish: sentences,
// and texts of the list that have a translation.
func englishTold(t *testing.T) func(told []string) (english []string) {
	t.Helper()
	list, file, err := translated("es")
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for i := range list {
		for _, s := range []string{list[i].One, list[i].All} {
			known[strings.ToLower(s)] = s != ""
		}
	}
	for _, theirs := range file.Texts {
		for _, s := range []string{theirs.To, theirs.One, theirs.Many, theirs.Other} {
			delete(known, strings.ToLower(s))
		}
	}
	return func(told []string) (english []string) {
		for _, s := range told {
			plain := ruleName.ReplaceAllString(s, "")
			is := known[strings.ToLower(s)] || englishWord.MatchString(plain)
			for _, part := range phrase.FindAllString(explained.ReplaceAllString(plain, ""), -1) {
				part = strings.ToLower(strings.TrimSpace(part))
				is = is || strings.Contains(part, " ") && known[part]
			}
			if is {
				english = append(english, s)
			}
		}
		return english
	}
}

// asTheyAre lets a test read pages as they are, in whatever language the flows run.
func asTheyAre(t *testing.T) {
	flows := speaking
	t.Cleanup(func() { speakIn(flows) })
	speakIn(nil)
}

// In Spanish every page that is printed, and the screen for a class, has no English on
// it and nothing that is cut off by its edge.
func TestPrintsInSpanish(t *testing.T) {
	asTheyAre(t)
	p := start(t).open(serve(t, ""), desktop)
	p.asks("es-MX")
	english := englishTold(t)
	if got := english([]string{"Hojas, serie 42", "Set 42, card 1A", "Flash cards, serie 42", "A sheet of 24 etiquetas", "(bread-and-butter)", "regla liquid.level.not"}); len(got) != 2 {
		t.Fatalf("got %q as English", got)
	}
	printed := func(name string) {
		t.Helper()
		p.drawn()
		p.laidOut(a4, func() {
			for _, s := range english(eval[[]string](p, toldOnPaper)) {
				t.Errorf("%s: got English: %s", name, s)
			}
			for line := range strings.Lines(eval[string](p, notForPaper)) {
				if strings.HasPrefix(line, "cut off") {
					t.Errorf("%s: %s", name, line)
				}
			}
		})
	}
	click := func(selector string) {
		t.Helper()
		p.wait(fmt.Sprintf(`!!document.querySelector(%q)`, selector))
		p.click(fmt.Sprintf(`document.querySelector(%q)`, selector))
		p.drawn()
	}

	p.visit("/keeping")
	p.inventedInAnyLanguage()
	paths := []string{"/", "/about", "/stock", "/learn", "/rules", "/signs?sign=cloud", "/learn?lesson=glass",
		"/class?set=42&n=6&show=notes", "/class?set=42&n=6&show=handout", "/class?set=42&n=6&show=cards"}
	for _, kind := range []string{"/jar?id=", "/batch?id="} {
		paths = append(paths, eval[string](p, `(a => a.pathname + a.search)(document.querySelector('main a[href*="`+kind+`"]'))`))
	}
	for _, path := range append(paths, "/check?product=green-beans") {
		p.turn(path)
		printed(path)
	}
	click("label.choice")
	printed("a question that was answered")

	p.resize(1280, 720)
	p.turn("/class?set=42&n=3&show=screen")
	for range 3 {
		click(".big-screen .button.big")
		if found := eval[string](p, crowded); found != "" || !p.has(".big-verdict") {
			t.Errorf("the screen for a class: %s\n    %s", p.text("h1"), found)
		}
		click(".big-screen .button.big")
	}

	p.turn("/labels")
	p.wait(`document.querySelectorAll(".choose input").length > 3`)
	eval[bool](p, `(document.querySelectorAll(".choose input").forEach(e => e.click()), true)`)
	p.wait(`document.querySelectorAll(".sheet").length > 3`)
	printed("labels")

	p.turn("/shelf")
	p.wait(`document.querySelectorAll(".row-jar").length > 20`)
	eval[bool](p, `(window.print = () => { window.printed = true }, true)`)
	eval[bool](p, `([...document.querySelectorAll("main button")].find(e => e.textContent.startsWith("Imprima")).click(), true)`)
	p.wait(`window.printed`)
	printed("the whole shelf")

	p.turn("/trip")
	click("main > :not(.notice) button.big, main button.big")
	click("main button[type=submit]")
	p.wait(`!!document.querySelector(".trip-days")`)
	printed("the plan of a trip")

	p.turn("/sweep")
	p.wait(`!!document.querySelector(".choose input")`)
	eval[bool](p, `(document.querySelectorAll(".choose input").forEach(e => e.checked || e.click()), true)`)
	click("main button.big")
	p.wait(`!!document.querySelector(".walk")`)
	printed("a jar in the hand")
	for n := 0; !p.has(".walk.out"); n++ {
		if n == 60 {
			t.Fatal("no jar of the made-up household is taken out")
		}
		p.press("n")
		p.drawn()
	}
	printed("a jar that is taken out")
}

// On labels of every paper the Spanish names of all foods stay within their label, and
// are whole where the label is not round.
func TestLabelsInSpanish(t *testing.T) {
	languages, err := texts.Languages()
	if err != nil {
		t.Fatal(err)
	}
	at := slices.IndexFunc(languages, func(l *texts.Language) bool { return l.Texts.Tag == "es" })
	if at < 0 {
		t.Fatal("there is no Spanish")
	}
	in := languages[at].Texts.Reader()
	asTheyAre(t)
	p := start(t).open(serve(t, ""), desktop)
	p.visit("/about")
	var all []label.Label
	for i := range rules.Catalog {
		all = append(all, label.Label{Product: rules.Catalog[i].Name.In(in), Line2: prose.Say("jar %d of %d", 14, 24).In(in), Date: "26 sept 2026", Link: "x", Short: "WMW-MWM"})
	}
	codes := regexp.MustCompile(`<path[^>]*>`)
	type line struct {
		Text                     string
		Left, Top, Right, Bottom float64
	}
	for i := range label.Stocks {
		s := &label.Stocks[i]
		sheets, err := label.Sheets(*s, 0, all, func(int) string { return "" })
		if err != nil {
			t.Fatal(err)
		}
		for k, sheet := range sheets {
			rest := all[k*s.Columns*s.Rows:]
			names := map[int]string{}
			drawn, err := json.Marshal(codes.ReplaceAllString(sheet, ""))
			if err != nil {
				t.Fatal(err)
			}
			lines := eval[[]line](p, `(svg => { const e = document.createElement("div"); e.innerHTML = svg; document.body.append(e);
				const all = [...e.querySelectorAll("text")].map(t => { const b = t.getBBox(); return { Text: t.textContent, Left: b.x, Top: b.y, Right: b.x + b.width, Bottom: b.y + b.height } });
				e.remove(); return all })(`+string(drawn)+`)`)
			for _, l := range lines {
				column, row := int(((l.Left+l.Right)/2-s.Left)/s.AcrossPitch), int(((l.Top+l.Bottom)/2-s.Top)/s.DownwardPitch)
				n := row*s.Columns + column
				names[n] += l.Text + " "
				x, y := s.Left+float64(column)*s.AcrossPitch, s.Top+float64(row)*s.DownwardPitch
				if l.Left < x || l.Right > x+s.LabelWidth || l.Top < y || l.Bottom > y+s.LabelHeight {
					t.Errorf("%s: %q leaves its label", s.ID, l.Text)
				}
			}
			for n := range min(len(rest), s.Columns*s.Rows) {
				if !s.Round && !strings.HasPrefix(names[n], rest[n].Product+" "+rest[n].Short) {
					t.Errorf("%s: got %q for %q", s.ID, names[n], rest[n].Product)
				}
			}
		}
	}
}
