//go:build e2e && linux

package e2e

import (
	"fmt"
	"strings"
	"testing"
)

// asks sets the languages that a tab asks for, the most wanted first.
func (p *tab) asks(languages string) {
	p.t.Helper()
	p.call("Emulation.setUserAgentOverride", map[string]any{"userAgent": "reader", "acceptLanguage": languages})
}

// reader opens a tab on a phone whose reader asks for languages.
func (b *browser) reader(s *site, languages string) *tab {
	p := b.open(s, phone)
	p.t.Helper()
	p.asks(languages)
	return p
}

// inventedInAnyLanguage fills the browser with the made-up household, without its words.
func (p *tab) inventedInAnyLanguage() {
	p.t.Helper()
	eval[bool](p, `(localStorage.setItem("larderlamp-demo", "on"), true)`)
	p.visit("/keeping?demo=fill")
	p.wait(`location.pathname === "/shelf" && document.querySelectorAll(".row-jar").length > 20`)
}

// button is the button that shows the page in a language: in the header or, on a
// narrow screen, in the footer.
func inLanguage(tag string) string {
	return fmt.Sprintf(`[...document.querySelectorAll(".language[lang=%s]")].find(e => e.checkVisibility())`, tag)
}

// The files of Spanish: all its texts, and what finds foods by its names.
const (
	spanishTexts = "/static/es.json"
	spanishFoods = "/static/foods.es.json"
)

// requested is JavaScript for how often the page has requested a file, and isStored for
// whether the worker has it.
func requested(file string) string {
	return fmt.Sprintf(`performance.getEntriesByType("resource").filter(e => e.name.endsWith(%q)).length`, file)
}

func isStored(file string) string {
	return fmt.Sprintf(`caches.keys().then(async names => { for (const name of names) if ((await (await caches.open(name)).keys()).some(r => r.url.endsWith(%q))) return true; return false })`, file)
}

// A browser that asks for Spanish gets it, before the program too; another is asked
// for nothing. The language can be chosen on a page, in the middle of a check, without
// losing an answer; the choice stays, with a connection and without.
func TestSpanish(t *testing.T) {
	s := serve(t, "")
	b := start(t)

	english := b.reader(s, "en-US")
	english.visit("/check")
	english.installed()
	if times, kept := eval[int](english, requested(spanishTexts)), eval[bool](english, isStored(spanishTexts)); times != 0 || kept {
		t.Errorf("a first visit in English requests Spanish %d times, and stores it: %v", times, kept)
	}
	english.tap(inLanguage("es"))
	english.wait(`document.documentElement.lang === "es" && document.querySelector("h1").innerText === "¿Qué hay en el frasco?"`)
	english.wait(isStored(spanishTexts))
	english.tap(inLanguage("en"))
	english.wait(`document.documentElement.lang === "en" && document.querySelector("h1").innerText === "What is in the jar?"`)
	english.load("/about")
	english.running()
	if got := english.text("h1"); got != "Cautions and limits" {
		t.Errorf("English was chosen again, and the page says %q", got)
	}

	s = serve(t, "")
	p := b.reader(s, "fr-CA,es-MX,en-US")
	letGo := p.hold()
	p.load("/check")
	p.wait(`document.documentElement.lang === "es" && !("translates" in document.documentElement.dataset)`)
	for _, want := range []string{"¿Qué hay en el frasco?", "Fruta"} {
		if !strings.Contains(p.text("body"), want) {
			t.Errorf("before the program the page lacks %q: %.500s", want, p.text("body"))
		}
	}
	p.wait(`document.title.startsWith("Revise un frasco")`)
	p.shoot("before")
	p.tap(`document.querySelector("#product")`)
	p.press("e", "j", "o")
	p.wait(`document.querySelector(".found-products a.product")?.innerText.includes("Ejotes")`)
	p.tap(inLanguage("en"))
	p.wait(`document.documentElement.lang === "en" && document.querySelector("h1").innerText === "What is in the jar?"`)
	p.tap(inLanguage("es"))
	p.wait(`document.documentElement.lang === "es" && document.querySelector("h1").innerText === "¿Qué hay en el frasco?"`)
	letGo()
	p.running()
	if times := eval[int](p, requested(spanishTexts)); times != 1 {
		t.Errorf("got %d requests for the texts of Spanish, want 1", times)
	}
	p.shoot("start")

	// Both languages are understood, with their accents and without.
	for _, typed := range []string{"ejotes", "EJOTES", "green beans", "green b", "judias verdes"} {
		p.types(typed)
		p.wait(`document.querySelector(".picker button.product")?.innerText.startsWith("Ejotes")`)
	}
	p.tap(`document.querySelector(".picker button.product")`)
	p.wait(`!!document.querySelector(".question h1")`)
	p.drawn()
	p.tap(`document.querySelector("label.choice.none")`)
	p.wait(`document.querySelectorAll(".said > ul > li").length > 0`)
	p.drawn()
	answers := eval[int](p, `document.querySelectorAll(".said > ul > li").length`)
	p.shoot("question")
	ask, address := p.text(".question h1"), eval[string](p, "location.href")
	p.tap(inLanguage("en"))
	p.wait(`document.documentElement.lang === "en" && document.title.startsWith("Green beans")`)
	p.drawn()
	if got := p.text(".question h1"); got == ask || !strings.HasSuffix(got, "?") {
		t.Errorf("got the question %q in English for %q", got, ask)
	}
	for _, language := range []string{"es", "en", "es"} {
		p.tap(inLanguage(language))
		p.wait(`document.documentElement.lang === "` + language + `"`)
		p.drawn()
		if got := eval[int](p, `document.querySelectorAll(".said > ul > li").length`); got != answers {
			t.Errorf("in %s: got %d answers, want %d", language, got, answers)
		}
	}
	if got := p.text(".question h1"); got != ask || eval[string](p, "location.href") != address {
		t.Errorf("after switching back: got the question %q at %s, want %q at %s", got, eval[string](p, "location.href"), ask, address)
	}
	p.axe("a question in Spanish")

	// Stored for use without a connection; the choice of English stays as well.
	p.installed()
	p.wait(isStored(spanishTexts))
	p.visit("/keeping")
	p.wait(`document.querySelector("main").innerText.includes("Listo para")`)
	s.stop()
	p.visit("/learn")
	if got := p.text("h1"); got != "Aprenda a leer un frasco" {
		t.Errorf("without a connection: got the heading %q", got)
	}
	p.tap(inLanguage("en"))
	p.wait(`document.documentElement.lang === "en"`)
	p.visit("/learn")
	if got := p.text("h1"); got != "Learn to read a jar" {
		t.Errorf("English was chosen: got the heading %q", got)
	}
	p.tap(inLanguage("es"))
	p.wait(`document.querySelector("h1").innerText === "Aprenda a leer un frasco"`)
}

// Texts of a language that do not come leave a page that works in English and says so
// in the other language; they are asked for again on request.
func TestSpanishDoesNotCome(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	p := b.reader(s, "en-US")
	p.expectFaults = true
	p.visit("/about")
	p.installed()
	s.stop()
	p.tap(inLanguage("es"))
	p.wait(`document.querySelector(".untold[lang=es]")?.innerText.includes("no han llegado")`)
	if got := p.text("h1"); got != "Cautions and limits" {
		t.Errorf("got the heading %q", got)
	}
	p.axe("the notice that a language has not come")
	s.with(need(t, "SITE"), need(t, "PROGRAMS"))
	p.tap(`document.querySelector(".untold button")`)
	p.wait(`document.documentElement.lang === "es" && !document.querySelector(".untold")`)
}

// types types the name of a food, in place of what was typed before.
func (p *tab) types(name string) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(e => { e.focus(); e.value = %q; e.dispatchEvent(new Event("input", { bubbles: true })); return true })(document.querySelector("#product"))`, name))
}

const firstFood = `document.querySelector(".picker button.product span")?.innerText`

// A page in English finds foods by their Spanish names. These are requested when no English
// name is meant, and come with a later visit; without a connection and without them the
// search knows English names, and goes on. What is shown stays English.
func TestSpanishFoodsOnAPageInEnglish(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	p := b.reader(s, "en-US")
	p.visit("/check")
	p.installed()
	p.types("green beans")
	p.wait(firstFood + `?.startsWith("Green beans")`)
	if got := eval[int](p, requested(spanishFoods)); got != 0 || eval[bool](p, isStored(spanishFoods)) {
		t.Errorf("a first visit that is asked for green beans requests Spanish names %d times", got)
	}
	for _, c := range [][2]string{{"duraznos", "Peaches"}, {"tomates en trozos", "Tomatoes"}, {"ejotes", "Green beans"}, {"JUDIAS VERDES", "Green beans"}, {"alverjas", "Peas"}, {"peaches", "Peaches"}} {
		p.types(c[0])
		p.wait(firstFood + fmt.Sprintf(`?.startsWith(%q)`, c[1]))
	}
	p.types("duraznos con tocino")
	p.wait(`[...document.querySelectorAll(".picker button.product")].some(e => e.innerText.includes("Peaches") && e.querySelector(".lacks")?.innerText.includes("tocino"))`)
	if got := eval[int](p, requested(spanishFoods)); got != 1 {
		t.Errorf("got %d requests for the names, want 1", got)
	}
	p.shoot("found")
	p.types("ejotes")
	p.tap(`document.querySelector(".picker button.product")`)
	p.wait(`!!document.querySelector(".question h1") && document.querySelector(".jar-name").innerText === "Green beans"`)

	// They are on the device.
	p.wait(isStored(spanishFoods))
	s.stop()
	p.visit("/about")
	p.visit("/check")
	p.types("ejotes")
	p.wait(firstFood + `?.startsWith("Green beans")`)

	// What is typed before the program is understood as soon as it runs. A name with no
	// Latin letter at all is found by the id of its food.
	s = serve(t, "")
	p = b.reader(s, "en-US")
	letGo := p.hold()
	p.load("/check")
	p.wait(`"larderEarly" in window`)
	eval[bool](p, `(document.querySelector("a.product[href$='#product=eggs']").firstElementChild.textContent = "桃", true)`)
	p.tap(`document.querySelector("#product")`)
	p.press("e")
	p.wait(`[...document.querySelectorAll(".found-products a.product")].some(e => e.innerText.includes("桃"))`)
	p.press("j", "o", "t", "e", "s")
	letGo()
	p.running()
	p.wait(firstFood + `?.startsWith("Green beans")`)

	// A device that has been here once, without a connection.
	s = serve(t, "")
	p = b.reader(s, "en-US")
	p.visit("/check")
	p.installed()
	s.stop()
	p.types("ejotes")
	p.wait(`document.querySelector(".found-products").innerText.includes("We have nothing by that name.")`)
	p.types("green beans")
	p.wait(firstFood + `?.startsWith("Green beans")`)
	p.types("xilógrafo")
	p.wait(`document.querySelector(".found-products").innerText.includes("We have nothing by that name.")`)

	// A device that has been here twice.
	s.with(need(t, "SITE"), need(t, "PROGRAMS"))
	p.visit("/about")
	p.wait(isStored(spanishFoods))
	s.stop()
	p.visit("/check")
	p.types("ejotes")
	p.wait(firstFood + `?.startsWith("Green beans")`)
}

// On every page the Spanish texts fit the smallest phone and twice the size of text,
// axe finds nothing, and what a page says before its program is Spanish too.
func TestEveryPageInSpanish(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, desktop)
	p.asks("es-US")
	p.visit("/keeping")
	p.inventedInAnyLanguage()
	for _, path := range p.withAJar() {
		p.resize(320, 640)
		p.turn(path)
		if found := eval[string](p, crowded); found != "" {
			t.Errorf("%s at 320 pixels:\n    %s", path, found)
		}
		p.axe(path)
		p.resize(360, 640)
		p.drawn()
		p.shoot(path + " 360")
		p.resize(1280, 800)
		eval[bool](p, `(document.documentElement.style.fontSize = "32px", true)`)
		for _, width := range []int64{360, 1280} {
			p.resize(width, 800)
			p.drawn()
			if found := eval[string](p, crowded); found != "" {
				t.Errorf("%s at %d pixels and twice the size of text:\n    %s", path, width, found)
			}
		}
		eval[bool](p, `(document.documentElement.style.fontSize = "", true)`)
		p.drawn()
		p.shoot(path + " 1280")
	}
}

// Who publishes a site can say where faults are reported: the page of limits shows it,
// and in a language that nobody has reviewed the rule book too.
func TestFaultsHaveAnAddress(t *testing.T) {
	s := serve(t, "")
	s.with(need(t, "SITE"), need(t, "PROGRAMS"), "-contact", "faults@orchard.example")
	p := start(t).reader(s, "en-US")
	const link = `[...document.querySelectorAll("main .contact a")].map(a => a.href + " " + a.innerText).join()`
	const want = "mailto:faults@orchard.example faults@orchard.example"
	p.visit("/about")
	p.wait(fmt.Sprintf(`%s === %q`, link, want))
	p.visit("/rules")
	p.wait(link + ` === ""`)
	p.asks("es-MX")
	p.visit("/rules")
	p.wait(fmt.Sprintf(`%s === %q`, link, want))
	p.shoot("faults")
}

// A program that cannot start says why in the language of the page, with the buttons
// that load it again and save a backup.
func TestSpanishCannotStart(t *testing.T) {
	p := start(t).reader(serve(t, ""), "es-MX")
	p.expectFaults = true
	p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": `delete window.WebAssembly`})
	p.load("/check")
	p.wait(`document.querySelector("#unready").innerText.includes("Larderlamp no pudo arrancar. Este navegador no ejecuta WebAssembly")`)
	if got := eval[int](p, `[...document.querySelectorAll("#unready button")].filter(e => e.checkVisibility()).length`); got != 2 {
		t.Errorf("got %d buttons in the notice, want 2", got)
	}
	p.shoot("notice")
}
