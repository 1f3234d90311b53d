//go:build e2e && linux

package e2e

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// main is what the page says.
func (p *tab) main() string { return p.text("main") }

// A trip from the first question to the day after: planned with the answers
// offered, asked "what if", packed, and brought home. What came back carries it.
func TestTrip(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	p := b.open(s, phone)
	p.visit("/trip")
	p.wait(`document.querySelector("main").innerText.includes("no jars yet")`)
	p.axe("no jars")
	p.invented()
	p.visit("/trip")
	p.wait(`!!(` + saying("button", "Plan a trip") + `)`)
	p.tap(saying("button", "Plan a trip"))
	p.wait(`!!document.querySelector("form.card")`)
	p.axe("form")
	p.shoot("form")
	// Nonsense is refused by name, and nothing is planned.
	p.set("Days", "0")
	p.tap(saying("button", "Work it out"))
	p.wait(`document.querySelector("form.card .notice")?.innerText.startsWith("Days:")`)
	p.set("Days", "4")
	p.set("Name", "Quill lake")
	p.set("Altitude there", "3999")
	p.tap(saying("button", "Work it out"))
	p.wait(`!!document.querySelector(".trip-days")`)
	says := p.main()
	for _, want := range []string{"Quill lake", "All 14 meals from your jars", "holds 4 °C (40 °F) to the end", "Day 1", "Day 4", "boil it first for 13 minutes", "rules of the place come first", "could go"} {
		if !strings.Contains(says, want) {
			t.Errorf("want %q in the plan", want)
		}
	}
	p.axe("plan")
	p.shoot("plan")
	// What must stay says why, with its sources.
	p.tap(saying("summary", "that must stay"))
	p.tap(saying("details[open] summary", "Why"))
	p.wait(`!!document.querySelector("details[open] details[open] .cites")`)
	p.axe("reasons")
	slide := func(id string, to int) {
		t.Helper()
		eval[bool](p, fmt.Sprintf(`(e => { e.value = %d; e.dispatchEvent(new Event("input", { bubbles: true })); return true })(document.querySelector("#%s"))`, to, id))
	}
	tells := func(words string) {
		t.Helper()
		p.wait(fmt.Sprintf(`document.querySelector("main").innerText.includes(%q)`, words))
	}
	slide("ice", 4)
	tells("No more cold from day 1 on")
	tells("cannot be counted on at all")
	slide("ice", 0)
	slide("hotter", 15)
	tells("15 °C (27 °F) hotter than expected")
	tells("Then these stay, or are not to be eaten")
	p.axe("what if")
	slide("hotter", 0)
	p.wait(`!document.querySelector("main").innerText.includes("hotter than expected")`)
	// A jar that must come.
	p.tap(saying("summary", "that could go"))
	p.tap(saying("button", "Bring one"))
	p.wait(`!!(` + saying("button", "It may stay") + `)`)
	p.tap(saying("button", "We pack these jars"))
	p.wait(`document.querySelector("main").innerText.includes("Packed. The plan is kept")`)
	plan := p.text(".trip-days")
	// A tab leads to the start of the use that is open, though its address is the same.
	p.tap(`document.querySelector('.top [href$="/trip"]')`)
	p.wait(`!document.querySelector(".trip-days") && !!(` + saying("main button", "Quill lake") + `)`)
	for _, path := range []string{"/check", "/shelf", "/sweep", "/learn", "/"} {
		p.turn(path)
		eval[bool](p, `(document.activeElement.blur(), scrollTo(0, 300), true)`)
		p.drawn()
		p.tap(`document.querySelector('.top [href="' + location.pathname + '"]')`)
		p.wait(`scrollY === 0 && document.activeElement.id === "title"`)
	}
	// It is there when the page is opened afresh, and the day leads to it.
	p.visit("/")
	p.tap(saying(".day-line", "Packed: Quill lake"))
	p.wait(`!!(` + saying("button", "We are home again") + `)`)
	p.keepFile()
	p.tap(saying("button", "Save the card as a file"))
	if card := p.inEnglish(p.kept("text/html")); !strings.Contains(card, `<html lang="`+eval[string](p, "document.documentElement.lang")+`">`) || !strings.Contains(card, "<h1>Quill lake</h1>") || !strings.Contains(card, "boil it first for 13 minutes") || !strings.Contains(card, "<h2>Packing list</h2>") || strings.Contains(card, "<script") {
		t.Errorf("got the card %.300s", card)
	}
	p.tap(saying("button", "We are home again"))
	p.wait(`document.querySelector("h1").innerText === "Home again"`)
	p.axe("home again")
	p.shoot("home")
	first := eval[string](p, `document.querySelector(".grid .field span").innerText`)
	p.set(first, "back")
	p.tap(saying("button", "Save what became of them"))
	p.wait(`document.querySelector("main").innerText.includes("Saved.")`)
	packed := eval[[]string](p, `(async () => {
		const db = await new Promise((ok, bad) => { const r = indexedDB.open("larderlamp-demo"); r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
		const rows = await new Promise((ok, bad) => { const r = db.transaction("jars").objectStore("jars").getAll(); r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
		db.close();
		return rows.filter(r => r.includes('"travelled"')) })()`)
	if len(packed) == 0 || !strings.Contains(packed[0], "warmest_tenths_c") || !strings.Contains(packed[0], "coldest_tenths_c") || !strings.Contains(p.inEnglish(packed[0]), "Back from Quill lake") {
		t.Errorf("got %d jars back: %.400s", len(packed), packed)
	}
	// A trip that is over keeps its plan as it was.
	if now := p.text(".trip-days"); now != plan || plan == "" {
		t.Errorf("got the plan\n%[2]s\nwant\n%[1]s", plan, now)
	}
	p.axe("after")
	// The notice of the made-up household leaves room for the short look.
	p.visit("/sweep")
	p.tap(saying("button", "Begin:"))
	p.wait(`!!document.querySelector(".walk")`)
	for n := 0; !p.has(".glance"); n++ {
		if n == 20 {
			t.Fatal("got no jar to look at")
		}
		was := p.text("main")
		p.tap(`document.querySelector(".hands .sound")`)
		p.wait(fmt.Sprintf(`document.querySelector("main").innerText.trim() !== %q`, was))
		p.drawn()
	}
	p.looksFit("of the made-up household", 5)
}

// For a reader in the United States paper is Letter, and the size of a cooler is typed in
// quarts: it stays as it was typed, and decides what can be kept cold.
func TestReaderInTheUnitedStates(t *testing.T) {
	p := start(t).open(serve(t, ""), desktop)
	p.call("Emulation.setLocaleOverride", map[string]any{"locale": "en-US"})
	p.call("Emulation.setUserAgentOverride", map[string]any{"userAgent": "reader", "acceptLanguage": "en-US"})
	p.invented()
	_, batch, _ := strings.Cut(eval[string](p, `document.querySelector('a[href*="/batch?id"]').getAttribute("href")`), "id=")
	batch, _, _ = strings.Cut(batch, "&")
	p.view("/labels?batch=" + batch)
	p.wait(`!!document.querySelector(".sheet.letter svg")`)
	p.visit("/trip")
	p.click(saying("button", "Plan a trip"))
	plans := map[string]string{}
	const field = "Its size (quarts)"
	for i, quarts := range []string{"48", "28", "5"} {
		if i > 0 {
			p.click(saying("button", "Change the trip"))
		}
		p.set(field, quarts)
		p.click(saying("button", "Work it out"))
		p.wait(`!!document.querySelector(".trip-days")`)
		plans[quarts] = p.text(".trip-sum")
		t.Logf("%s quarts: %s", quarts, plans[quarts])
		p.click(saying("button", "Change the trip"))
		p.wait(`!!document.querySelector("form.card")`)
		if back := eval[string](p, `[...document.querySelectorAll(".field")].find(e => e.innerText.includes("`+field+`")).querySelector("input").value`); back != quarts {
			t.Errorf("%s quarts: got %s back", quarts, back)
		}
		p.click(saying("button", "Work it out"))
		p.wait(`!!document.querySelector(".trip-days")`)
	}
	if says := plans["5"]; !strings.Contains(says, "No more than 6 lb of ice fits into the cooler") {
		t.Errorf("got 26 pounds of ice counted in a cooler of 5 quarts: %s", says)
	}
	if plans["28"] == plans["5"] {
		t.Errorf("got the same plan with coolers of 28 and of 5 quarts: %s", plans["5"])
	}
}

// A trip is planned with nothing but keys, in the evening theme on a large
// screen, without a connection.
func TestTripByKeyboard(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	p := b.open(s, evening)
	p.invented()
	p.installed()
	s.stop()
	p.visit("/trip")
	h := byKeyboard{p}
	h.walk(`e.innerText === "Plan a trip"`)
	h.press(kb.Enter)
	p.wait(`document.activeElement.id === "title" && !!document.querySelector("form.card")`)
	h.walk(`e.innerText === "Work it out"`)
	h.press(kb.Enter)
	p.wait(`document.activeElement.id === "title" && !!document.querySelector(".trip-days")`)
	h.walk(`e.id === "hotter"`)
	h.press(kb.ArrowRight)
	p.wait(`document.querySelector("main").innerText.includes("1 °C (1 °F) hotter than expected")`)
	p.axe("evening")
	p.shoot("evening")
	// The plan as expected is packed by keys too.
	h.walk(`e.id === "hotter"`)
	h.press(kb.ArrowLeft)
	p.wait(`!!(` + saying("button", "We pack these jars") + `)`)
	h.walk(`e.innerText === "We pack these jars"`)
	h.press(kb.Enter)
	p.wait(`document.querySelector("main").innerText.includes("Packed. The plan is kept") && document.activeElement.id === "title"`)
}
