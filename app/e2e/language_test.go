//go:build e2e && linux

package e2e

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app"
	"larderlamp/app/demo"
	"larderlamp/app/hostile"
	"larderlamp/app/record"
	"larderlamp/wasm/texts"
)

// filledIn is what a text has filled in, which stays as it is.
var filledIn = regexp.MustCompile(`%(\[\d+\])?[-+#0]*[\d.]*[a-zA-Z%]|\{[a-z]+\}`)

// pseudo is a text in a made-up language: it is readable, longer, and enclosed in
// marks.
func pseudo(english string) string {
	accents := strings.NewReplacer("a", "á", "e", "ë", "i", "ï", "o", "ö", "u", "ü", "y", "ý", "A", "Á", "E", "Ë", "I", "Ï", "O", "Ö", "U", "Ü", "c", "ç", "n", "ñ")
	var b strings.Builder
	at := 0
	for _, m := range filledIn.FindAllStringIndex(english, -1) {
		b.WriteString(accents.Replace(english[at:m[0]]) + english[m[0]:m[1]])
		at = m[1]
	}
	b.WriteString(accents.Replace(english[at:]))
	return "⟦" + b.String() + strings.Repeat(" öö", len(english)/10) + "⟧"
}

// pseudoFile writes the texts of the made-up language: all of them, or only
// some.
func pseudoFile(t testing.TB, only ...string) string {
	t.Helper()
	english, err := texts.English()
	if err != nil {
		t.Fatal(err)
	}
	language := texts.File{Language: "en-XA", Name: "Pseudo", Texts: map[string]texts.Translation{}}
	for i := range english {
		e := &english[i]
		if len(only) > 0 && !slices.Contains(only, e.All) {
			continue
		}
		theirs := texts.Translation{From: e.From(), To: pseudo(e.All)}
		if e.One != "" {
			theirs.To, theirs.One, theirs.Other = "", pseudo(e.One), pseudo(e.All)
		}
		language.Texts[e.ID] = theirs
	}
	text, err := json.Marshal(language)
	if err != nil {
		t.Fatal(err)
	}
	name := filepath.Join(t.TempDir(), "pseudo.json")
	if err := os.WriteFile(name, text, 0o644); err != nil {
		t.Fatal(err)
	}
	return name
}

// untold gives every piece of text that a reader can meet on a page and that is
// no text of the language. What the household wrote, sources, numbers with their
// units and dates are left out, and so is a notice in another language that is hidden.
const untold = `(own => {
	const found = new Set(), skip = "[translate=no], script, style, noscript, textarea, .unready [lang]:not([lang=en-XA])";
	const look = (text, where) => {
		let rest = text, before;
		// Of some texts only the first sentence is shown, which ends without a mark.
		do { before = rest; rest = rest.replace(/⟦[^⟦⟧]*(?:[⟧…]|\.\s*$)/g, " ") } while (rest !== before);
		for (const words of own) rest = rest.replaceAll(words, " ");
		rest = rest.replace(/\d+(st|nd|rd|th)?|°[CF]|\b(Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sept?|Oct|Nov|Dec)[a-z]*\b|\b(kg|g|lb|ml|l|L|qt|pt|psi|ft|m|cm|h|pH|a\.m|p\.m)\b|Larderlamp|CSV|iCalendar|https?:\S*|[\w-]+\.(json|csv|ics)/g, " ");
		if (/[A-Za-z]{2,}/.test(rest)) found.add(where + " “" + text.trim().slice(0, 150) + "” leaves “" + rest.trim().replace(/\s+/g, " ").slice(0, 60) + "”");
	};
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	let begun = "";
	while (walk.nextNode()) {
		const e = walk.currentNode.parentElement;
		if (e.closest(skip)) continue;
		const text = begun + walk.currentNode.data;
		// A name in a chart goes on in the next line, which is a text of its own.
		const goesOn = e.matches("svg text") && text.split("⟦").length > text.split(/[⟧…]/).length;
		begun = goesOn ? text + " " : "";
		if (!goesOn) look(text, e.tagName.toLowerCase() + "." + (e.className.baseVal ?? e.className));
	}
	if (begun) look(begun, "the last chart");
	for (const e of document.querySelectorAll("[aria-label], [placeholder], [title], [alt], [aria-description]")) {
		if (!e.closest(skip)) for (const a of ["aria-label", "placeholder", "title", "alt", "aria-description"]) if (e.hasAttribute(a)) look(e.getAttribute(a), a + " of " + e.tagName.toLowerCase());
	}
	look(document.title, "title");
	return [...found] })`

// own lists the words that are in the records of a household, longest first.
func own(t testing.TB, records []record.Record) []string {
	words := map[string]bool{}
	for _, r := range records {
		for _, f := range hostile.Fields(r) {
			if s := f.Get(); strings.ContainsAny(s, " ") || len(s) > 3 && s[0] >= 'A' && s[0] <= 'Z' {
				words[s] = true
			}
		}
	}
	var all []string
	for w := range words {
		all = append(all, w)
	}
	slices.SortFunc(all, func(a, b string) int { return cmp.Or(len(b)-len(a), strings.Compare(a, b)) })
	return all
}

// In a made-up language, every page and the steps of every use are in that language,
// nothing is cut off, and a check works to its end.
func TestAnotherLanguage(t *testing.T) {
	s := serve(t, "")
	s.stop()
	s.with(need(t, "SITE"), need(t, "PROGRAMS"), "-texts", pseudoFile(t))
	records, err := demo.Records(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	words, err := json.Marshal(own(t, records))
	if err != nil {
		t.Fatal(err)
	}
	p := start(t).open(s, desktop)
	p.resize(360, 640)
	said := map[string]bool{}
	told := func(where string) {
		t.Helper()
		p.drawn()
		eval[bool](p, `(document.querySelectorAll("main details").forEach(d => { d.open = true }), true)`)
		for _, text := range eval[[]string](p, untold+"("+string(words)+")") {
			if !said[text] {
				said[text] = true
				t.Errorf("%s: %s", where, text)
			}
		}
		if found := eval[string](p, crowded); found != "" {
			t.Errorf("%s:\n    %s", where, found)
		}
	}
	seen := func(path string) {
		t.Helper()
		p.turn(path)
		p.wait(`!document.querySelector("main").innerText.includes(` + quoted(pseudo("Opening what is kept")) + `)`)
		told(path)
	}

	p.visit("/about")
	p.tap(inLanguage("en-XA"))
	p.wait(`document.documentElement.lang === "en-XA" && document.querySelector("main h1").innerText.startsWith("⟦")`)
	told("chosen on the page")
	letGo := p.hold()
	p.load("/check")
	p.wait(`!("translates" in document.documentElement.dataset)`)
	told("before the program")
	letGo()
	p.visit("/about")
	if got := eval[string](p, "document.documentElement.lang"); got != "en-XA" {
		t.Errorf("got %q as the language of the page", got)
	}
	seen("/shelf") // with nothing on it
	p.inventedInAnyLanguage()
	for _, path := range app.Pages() {
		seen(path)
	}
	p.visit("/shelf")
	p.wait(`document.querySelectorAll(".row-jar a").length > 20`)
	var jar, batch string
	jar = eval[string](p, `(a => a.pathname + a.search)(document.querySelector('.row-jar a[href*="/jar?id="]') ?? { pathname: "", search: "" })`)
	batch = eval[string](p, `(a => a.pathname + a.search)(document.querySelector('.row-jar a[href*="/batch?id="]') ?? { pathname: "", search: "" })`)
	for _, path := range []string{jar, batch, "/history", "/signs?by=product", "/signs?sign=cloud", "/signs?sign=days", "/signs?product=dill-pickles", "/learn?lesson=glass", "/learn?lesson=away",
		"/class?set=42&n=4", "/class?set=42&n=4&show=screen", "/class?set=42&n=4&show=handout", "/class?set=42&n=4&show=cards"} {
		if path != "" {
			seen(path)
		}
	}

	// Checks of different foods, answered the unsuspicious way.
	for _, product := range []string{"green-beans", "dill-pickles", "peaches", "beef-broth"} {
		p.visit("/check?product=" + product)
		for n := 0; !p.has(".answer"); n++ {
			p.wait(`!!document.querySelector(".question") || !!document.querySelector(".answer")`)
			if p.has(".answer") {
				break
			}
			where := fmt.Sprintf("check of %s, question %d", product, n+1)
			told(where)
			if n == 25 {
				t.Fatal("the check never ends")
			}
			was := p.text(".question h1")
			first := "label.choice.none"
			if !p.has(first) {
				first = "label.choice"
			}
			p.click(fmt.Sprintf(`document.querySelector(%q)`, first))
			p.drawn()
			if p.has(".question h1") && p.text(".question h1") == was {
				eval[bool](p, `(document.querySelector("form.question, .question form")?.requestSubmit(), true)`)
			}
			p.wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText !== %s`, quoted(was)))
		}
		told("answer for " + product)
	}
	p.visit("/check?product=green-beans")
	p.wait(`!!document.querySelector(".question")`)
	p.click(`document.querySelector("label.choice")`)
	p.drawn()
	if !p.has(".answer") {
		eval[bool](p, `(document.querySelector("form.question, .question form")?.requestSubmit(), true)`)
	}
	p.wait(`!!document.querySelector(".answer")`)
	told("a dangerous jar")
	p.shoot("danger")

	const begins = `[...document.querySelectorAll("main button.big, main button.button")].find(b => !b.closest(".notice"))`
	p.visit("/trip")
	p.wait(`!!document.querySelector("main button")`)
	told("trips")
	p.click(begins)
	p.drawn()
	told("a trip")
	p.shoot("trip")
	p.click(`document.querySelector("main button[type=submit]")`)
	p.wait(`!!document.querySelector(".trip-days")`)
	told("a plan")
	p.shoot("plan")

	p.visit("/practice")
	p.wait(`!!` + begins)
	p.click(begins)
	p.drawn()
	told("practice")
	eval[bool](p, `(document.querySelectorAll("fieldset").forEach(f => f.querySelector("input[type=radio]").click()), true)`)
	p.drawn()
	p.click(`document.querySelector("main button[type=submit]")`)
	p.drawn()
	told("practiced")
	p.shoot("practiced")

	p.visit("/sweep")
	p.wait(`!!document.querySelector("main button.big")`)
	p.click(`document.querySelector("main button.big")`)
	p.wait(`!!document.querySelector(".walk")`)
	told("a sweep")
	p.shoot("sweep")
	p.press("r")
	p.drawn()
	told("a row")
	p.press("\x1b")
	p.drawn()
	for range 3 {
		p.press("n")
		p.drawn()
	}
	told("not found")
	p.visit("/sweep")
	p.wait(`document.querySelectorAll('a[href*="report="]').length > 0 || !!document.querySelector(".walk")`)
	told("a sweep taken up again")
}
