//go:build e2e && linux

package e2e

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"larderlamp/app"
	"larderlamp/app/e2e/drive"
)

// view opens a page and waits until all that is kept has been read.
func (p *tab) view(path string) {
	p.t.Helper()
	p.visit(path)
	p.wait(`!document.querySelector("main").innerText.includes("Opening what is kept")`)
	p.drawn()
}

// turn is view for a test that is not about loading: it goes to the page as a link
// does, if the program runs already.
func (p *tab) turn(path string) {
	p.t.Helper()
	if !eval[bool](p, drive.Ready) {
		p.view(path)
		return
	}
	eval[bool](p, drive.FollowLink(p.site.url(path)))
	p.wait(`!document.querySelector("main").innerText.includes("Opening what is kept")`)
}

// media emulates what a reader has asked of the browser: features and their
// values in turn. Motion is reduced unless they say otherwise.
func (p *tab) media(features ...string) {
	p.t.Helper()
	asked := []map[string]any{{"name": "prefers-reduced-motion", "value": "reduce"}}
	for i := 0; i < len(features); i += 2 {
		asked = append(asked, map[string]any{"name": features[i], "value": features[i+1]})
	}
	p.call("Emulation.setEmulatedMedia", map[string]any{"features": asked})
}

// resize makes the screen another size.
func (p *tab) resize(width, height int64) {
	p.t.Helper()
	p.width = width
	p.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": false})
}

// invented fills the browser with the made-up household.
func (p *tab) invented() {
	p.t.Helper()
	p.view("/keeping")
	p.click(saying("button", "Show the made-up household"))
	p.wait(`location.pathname.endsWith("/shelf") && document.querySelectorAll(".row-jar").length > 20`)
}

// withAJar is every page, and those of a jar, of its batch and of a question.
func (p *tab) withAJar() []string {
	p.t.Helper()
	p.view("/shelf")
	var found []string
	for _, kind := range []string{"/jar?", "/batch?"} {
		p.wait(`!!document.querySelector('a[href*="` + kind + `"]')`)
		found = append(found, strings.TrimPrefix(eval[string](p, `document.querySelector('a[href*="`+kind+`"]').href`), p.site.url("")))
		p.view(found[len(found)-1])
	}
	return append(app.Pages(), append(found, "/check?product=green-beans")...)
}

// movements is evaluated before a page's own scripts and notes what moves.
const movements = `window.moved = [];
	for (const kind of ["animationstart", "transitionrun"]) addEventListener(kind, e => moved.push(kind + " of " + e.target.className), true)`

// moved reports what has moved or moves on a page.
func (p *tab) moved() string {
	p.t.Helper()
	return eval[string](p, `[...moved, ...document.getAnimations().map(a => "running on " + a.effect.target?.className), ...document.querySelectorAll("animate, animateTransform, marquee, video[autoplay]")].join(", ")`)
}

// pushes is evaluated before a page's own scripts and notes what can be touched
// and is pushed elsewhere after the program has drawn it first, with nobody
// doing anything: a finger on its way would land on something else.
const pushes = `window.pushed = new Set();
	addEventListener("DOMContentLoaded", () => {
		const at = new Map();
		let runs = false;
		const look = () => {
			runs ||= ` + drive.Runs + `;
			for (const e of runs && !window.looked ? document.querySelectorAll("main :is(button, a, label, input, summary, select)") : []) {
				const y = Math.round(e.getBoundingClientRect().y + scrollY);
				if (Math.abs((at.get(e) ?? y) - y) > 12) pushed.add((e.innerText || e.name) + " from " + at.get(e) + " to " + y);
				at.set(e, y);
			}
			requestAnimationFrame(look);
		};
		look();
	})`

// small lists what is to be touched and is less than 48 pixels high or wide, but for
// links in the text of a source, and the one that only keys reach.
const small = `(() => {
	const found = new Set();
	for (const e of document.querySelectorAll("a[href], button, summary, select, input:not([type=checkbox], [type=radio]), label:has(> input[type=checkbox], > input[type=radio])")) {
		const r = e.getBoundingClientRect();
		if (!e.checkVisibility() || r.width < 1 || getComputedStyle(e).display === "inline" || e.closest(".source, .skip")) continue;
		if (r.height < 47.5 || r.width < 47.5) found.add(Math.round(r.width) + " by " + Math.round(r.height) + ": " + (e.innerText || e.getAttribute("aria-label") || e.tagName).slice(0, 40));
	}
	return [...found].join("; ") })()`

// wordy lists the sentences that stand on the first screen, whole or in part, and have
// more than 14 words, or 25 in a reason. What the household wrote, the titles of sources and names are
// not ours to shorten.
const wordy = `(() => {
	const blocks = new Map(), walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	while (walk.nextNode()) {
		const e = walk.currentNode.parentElement;
		if (!e.checkVisibility() || e.closest("noscript, script, svg, select, textarea, cite, [translate=no], [class*=unseen]")) continue;
		let block = e;
		while (getComputedStyle(block).display.startsWith("inline") && !block.matches("a, button, label")) block = block.parentElement;
		const box = block.getBoundingClientRect();
		if (box.top < innerHeight && box.bottom > 0) blocks.set(block, (blocks.get(block) ?? "") + walk.currentNode.data);
	}
	return [...blocks].flatMap(([block, text]) => text.split(/[.!?:]["”)]?\s+| · /).filter(s => s.trim().split(/\s+/).length > (block.closest(".reason") ? 25 : 14))).join("; ") })()`

// On every page, with nothing kept and with a whole household, in both lights,
// axe finds nothing, no sentence of the first screen is long, controls stand out, and nothing moves for a reader who has
// asked for stillness.
func TestEveryPage(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	const question = "/check?product=green-beans"
	for _, household := range []string{"empty", "invented"} {
		t.Run(household, func(t *testing.T) {
			p := (&browser{t, b.ctx}).open(s, phone)
			p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": movements + ";" + pushes})
			paths := append(app.Pages(), question)
			if household == "invented" {
				p.invented()
				paths = p.withAJar()
			}
			fields := 0
			for _, path := range paths {
				p.view(path)
				// The rule book grows by its cases, which are fetched when it is opened.
				if got := eval[string](p, `(window.looked = true, [...pushed].slice(0, 5).join(", "))`); got != "" && path != "/rules" {
					t.Errorf("%s: pushed by itself: %s", path, got)
				}
				p.axe(path + ", light")
				if got := eval[string](p, `document.querySelector("main").innerText.match(/.{0,20}\b\d{4}-\d\d-\d\d\b/)?.[0] ?? ""`); got != "" {
					t.Errorf("%s: got %q, want a date as people write it", path, got)
				}
				p.edges(path+", light", 3)
				// Of Spanish the reading level is measured; see wasm/texts.
				if got := eval[string](p, wordy); got != "" && speaking == nil {
					t.Errorf("%s: got more than 14 words in a sentence: %s", path, got)
				}
				if household == "invented" {
					if got := eval[string](p, small); got != "" {
						t.Errorf("%s: got targets too small for a finger: %s", path, got)
					}
				}
				p.media("prefers-color-scheme", "dark")
				p.axe(path+", dark", "color-contrast")
				p.edges(path+", dark", 3)
				p.media("prefers-color-scheme", "light")
				if what := p.moved(); what != "" {
					t.Errorf("%s: got movement: %s", path, what)
				}
				if household == "invented" {
					fields += p.typedStays(path)
				}
			}
			if household == "invented" && fields < 10 {
				t.Errorf("got %d fields to type into, want 10 and more", fields)
			}
			p.media("prefers-reduced-motion", "no-preference")
			p.view(question)
			if p.moved() == "" {
				t.Error("the test does not notice movement where there is some")
			}
		})
	}
}

// typedStays types into every field, and tests that it is still there when the page is
// read again, as when another phone of the household has noted something. It returns
// how many fields there are.
func (p *tab) typedStays(path string) int {
	p.t.Helper()
	const fields = `[...document.querySelectorAll("main input:not([type]), main input[type=text], main input[type=search], main input[type=number], main textarea")].filter(e => !e.readOnly && !e.disabled)`
	const typed = fields + `.map(e => (e.closest("label")?.innerText ?? e.ariaLabel ?? e.id).trim().split("\n")[0] + ": " + e.value).join("; ")`
	n := eval[int](p, fields+`.length`)
	if n == 0 {
		return 0
	}
	eval[bool](p, fields+`.every(e => (e.value = e.type === "number" ? 7 : "7 pears", e.dispatchEvent(new Event("input", { bubbles: true }))))`)
	p.drawn()
	want := eval[string](p, typed)
	eval[bool](p, `(larderFresh.again(), true)`)
	p.wait(`!document.querySelector(".cover")`)
	p.drawn()
	if got := eval[string](p, typed); got != want {
		p.t.Errorf("%s: got %q after it was read again, want %q", path, got, want)
	}
	return n
}

// crowded tells what is cut off, lies over something else or reaches beyond the
// sides of the screen. Boxes and fields that scroll by themselves may hold more
// than they show, and so may menus, which show it when opened.
const crowded = `(() => {
	const found = new Set();
	if (document.documentElement.scrollWidth > innerWidth) found.add("the page scrolls sideways, " + document.documentElement.scrollWidth + " wide");
	const name = e => e.tagName.toLowerCase() + (e.className && e.className.baseVal === undefined ? "." + e.className : "") + " “" + (e.innerText ?? e.textContent ?? e.value ?? "").trim().slice(0, 40) + "”";
	// What is meant to be heard and not seen is left out.
	const seen = e => e.checkVisibility({ visibilityProperty: true, opacityProperty: true });
	const texts = [];
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	while (walk.nextNode()) {
		const node = walk.currentNode, e = node.parentElement;
		if (!node.data.trim() || !seen(e) || e.closest("noscript, script, option, textarea, svg")) continue;
		let box = null, hidden = false, scrolls = false, fixed = false;
		for (let a = e; a; a = a.parentElement) {
			const style = getComputedStyle(a);
			if (style.clipPath.startsWith("inset(50%")) hidden = true;
			if (style.position === "fixed" || style.position === "sticky") fixed = true;
			if (/auto|scroll/.test(style.overflowX) && a !== document.documentElement && a !== document.body) scrolls = true;
			if (!box && /hidden|clip/.test(style.overflowX + style.overflowY)) box = a;
		}
		if (hidden) continue;
		const range = document.createRange();
		range.selectNodeContents(node);
		for (const r of range.getClientRects()) {
			if (r.width < 1 || r.height < 1) continue;
			if (!scrolls && (r.left < -1 || r.right > innerWidth + 1)) found.add(name(e) + " reaches beyond the side");
			if (box) {
				const b = box.getBoundingClientRect();
				if (r.left < b.left - 1 || r.right > b.right + 1 || r.top < b.top - 3 || r.bottom > b.bottom + 3) found.add(name(e) + " is cut off by " + name(box));
			}
			// A line box is taller than its letters.
			if (!fixed) texts.push({ e, left: r.left + 1, right: r.right - 1, top: r.top + r.height * .2, bottom: r.bottom - r.height * .2 });
		}
	}
	texts.sort((a, b) => a.top - b.top);
	for (let i = 0; i < texts.length; i++) for (let j = i + 1; j < texts.length && texts[j].top < texts[i].bottom; j++) {
		const a = texts[i], b = texts[j];
		if (a.left < b.right && b.left < a.right) found.add(name(a.e) + " lies over " + name(b.e));
	}
	for (const e of document.querySelectorAll("button, a, summary, label, th, td, dt, dd")) {
		if (seen(e) && getComputedStyle(e).display !== "inline" && !getComputedStyle(e).clipPath.startsWith("inset(50%") && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0) found.add(name(e) + " is wider than its place");
	}
	return [...found].join("\n    ");
})()`

// With text at twice its size, as a reader sets it in the browser, nothing is
// cut off, nothing overlaps and no page scrolls sideways, on a phone and on a
// desktop.
func TestLargeText(t *testing.T) {
	s := serve(t, "")
	p := startOwn(t, chromedp.Flag("blink-settings", "defaultFontSize=32")).open(s, desktop)
	p.visit("/about")
	if size := eval[float64](p, `parseFloat(getComputedStyle(document.documentElement).fontSize)`); size < 32 {
		t.Fatalf("got text of %v pixels", size)
	}
	p.invented()
	for _, path := range p.withAJar() {
		p.turn(path)
		for _, width := range []int64{360, 1280} {
			p.resize(width, 800)
			p.drawn()
			if found := eval[string](p, crowded); found != "" {
				t.Errorf("%s at %d pixels:\n    %s", path, width, found)
			}
			p.shoot(fmt.Sprint(path, width))
		}
	}
}

// light is JavaScript for the contrast of two colors, by WCAG 2.2, and for the
// color that lies behind an element.
const light = `(() => {
	const part = c => c <= .04045 ? c / 12.92 : ((c + .055) / 1.055) ** 2.4;
	const numbers = color => color.match(/[\d.]+/g).map(Number);
	const luminance = color => { const [r, g, b] = numbers(color).map(c => part(c / 255)); return .2126 * r + .7152 * g + .0722 * b };
	window.contrast = (a, b) => { const [x, y] = [luminance(a), luminance(b)]; return (Math.max(x, y) + .05) / (Math.min(x, y) + .05) };
	window.behind = e => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor; if ((numbers(c)[3] ?? 1) > 0) return c } return "rgb(255, 255, 255)" };
	return true })()`

// edges reports every control whose edge does not stand out from what is around
// it, 3 to 1 by success criterion 1.4.11 of WCAG 2.2.
func (p *tab) edges(where string, least int) {
	p.t.Helper()
	eval[bool](p, light)
	found := eval[string](p, fmt.Sprintf(`[...new Set([...document.querySelectorAll("input:not([type=radio], [type=checkbox], .unseen-live), select, textarea")].filter(e => e.checkVisibility()).map(e => {
		const around = behind(e.parentElement), edge = getComputedStyle(e).borderTopColor, ratio = contrast(edge, around);
		return ratio < %d ? e.tagName + "#" + e.id + " " + edge + " on " + around + ": " + ratio.toFixed(1) : "" }).filter(Boolean))].join("\n    ")`, least))
	if found != "" {
		p.t.Errorf("%s: edges that are hard to see:\n    %s", where, found)
	}
}

// rings reports every control on which the ring of the keyboard's focus does
// not stand out.
func (p *tab) rings(where string) {
	p.t.Helper()
	eval[bool](p, light)
	eval[bool](p, `(document.querySelector(".skip").focus(), true)`)
	p.press("\t") // from here on focus shows
	found := eval[string](p, `[...new Set([...document.querySelectorAll("a[href], button, input, select, textarea, summary, [tabindex='0']")].filter(e => e.checkVisibility()).map(e => {
		e.focus({ preventScroll: true });
		const name = e.tagName + "." + (e.className.baseVal ?? e.className) + " " + (e.innerText ?? "").slice(0, 20);
		if (document.activeElement !== e) return e.disabled ? "" : name + " does not take the focus";
		const zone = e.closest("svg") && e.querySelector("rect");
		if (zone) return getComputedStyle(zone).strokeWidth === "3px" ? "" : name + " shows no focus";
		const style = getComputedStyle(e);
		if (style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2) return name + " shows no focus";
		const around = behind(parseFloat(style.outlineOffset) < 0 ? e : e.parentElement), ratio = contrast(style.outlineColor, around);
		return ratio < 3 ? name + ": a ring " + style.outlineColor + " on " + around + ", " + ratio.toFixed(1) : "" }).filter(Boolean))].slice(0, 12).join("\n    ")`)
	if found != "" {
		p.t.Errorf("%s: focus\n    %s", where, found)
	}
}

// cut is a picture of what an element shows, as PNG, without the pixels at its
// margin.
func (p *tab) cut(selector string, margin int) []byte {
	p.t.Helper()
	p.wait(fmt.Sprintf(`!!document.querySelector(%q)`, selector))
	clip := eval[string](p, fmt.Sprintf(`(() => {
		const e = document.querySelector(%q);
		e.scrollIntoView({ block: "center", behavior: "instant" });
		document.activeElement.blur();
		const r = e.getBoundingClientRect();
		const margin = %d;
		return JSON.stringify({ x: Math.round(r.x + scrollX) + margin, y: Math.round(r.y + scrollY) + margin, width: Math.floor(r.width) - 2 * margin, height: Math.floor(r.height) - 2 * margin, scale: 1 }) })()`, selector, margin))
	var shot struct {
		Data []byte `json:"data"`
	}
	if err := p.ask("Page.captureScreenshot", map[string]any{"clip": json.RawMessage(clip)}, &shot); err != nil {
		p.t.Fatal(err)
	}
	if len(shot.Data) == 0 {
		p.t.Fatalf("got no picture of %s", selector)
	}
	return shot.Data
}

// Whatever a reader has asked of the browser, verdicts can be told apart, the
// picture is the same picture, controls stand out and the focus shows.
func TestAskedOfTheBrowser(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, desktop)
	p.invented()
	for _, path := range []string{"/check?product=green-beans", "/shelf", "/", "/batch", "/places", "/sweep", "/practice", "/keeping"} {
		p.turn(path)
		var picture []byte
		for _, asked := range []struct{ contrast, forced, light string }{
			{"no-preference", "none", "light"}, {"no-preference", "none", "dark"},
			{"more", "none", "light"}, {"more", "none", "dark"},
			{"no-preference", "active", "light"}, {"no-preference", "active", "dark"},
		} {
			where := fmt.Sprintf("%s, contrast %s, forced colors %s, %s", path, asked.contrast, asked.forced, asked.light)
			p.media("prefers-contrast", asked.contrast, "forced-colors", asked.forced, "prefers-color-scheme", asked.light)
			p.drawn()
			p.shoot(where)
			p.rings(where)
			switch {
			case asked.contrast == "more":
				p.axe(where, "color-contrast-enhanced")
				p.edges(where, 7)
			case asked.forced == "none":
				p.edges(where, 3)
			}
			switch path {
			case "/check?product=green-beans":
				shown := p.cut(".jar-box svg", 12) // its corners are round
				if picture != nil && !bytes.Equal(shown, picture) {
					t.Errorf("%s: the picture of the jar has changed", where)
				}
				picture = shown
			case "/shelf":
				marks := map[string]string{}
				for _, verdict := range []string{"keep", "use-soon", "discard"} {
					count := ".count.verdict-" + verdict
					if p.text(count+" span:last-child") == "" {
						t.Errorf("%s: no word beside the mark of %s", where, verdict)
					}
					shown := string(p.cut(count+" .mark svg", 1))
					if other, ok := marks[shown]; ok {
						t.Errorf("%s: the marks of %s and %s look the same", where, verdict, other)
					}
					marks[shown] = verdict
				}
			}
		}
	}
}

// Dates are written in the reader's manner, and temperatures in the unit of the
// reader's country until the household says otherwise.
func TestReadersManner(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	p := b.open(s, phone)
	p.invented()
	for locale, unit := range map[string]string{"de-DE": "°C", "en-GB": "°C", "en-US": "°F", "es-PR": "°F", "en": "°C"} {
		t.Run(locale, func(t *testing.T) {
			p := (&browser{t, b.ctx}).open(s, phone)
			p.call("Emulation.setLocaleOverride", map[string]any{"locale": locale})
			p.call("Emulation.setUserAgentOverride", map[string]any{"userAgent": "reader", "acceptLanguage": locale})
			p.view("/places")
			if got := p.text(".field option:checked"); got != unit {
				t.Errorf("got temperatures asked for in %s, want %s", got, unit)
			}
			if says := p.text(".shelf"); !strings.Contains(says, unit) {
				t.Errorf("want temperatures in %s, got %.300s", unit, says)
			}
			p.view("/shelf")
			p.wait(`!!document.querySelector(".row-jar")`) // es-PR reads Spanish
			if got := eval[string](p, `(() => {
				const shown = document.querySelector(".row-jar").innerText.match(/(?:canned|enlatado:) (.*)/)[1].trim();
				for (let back = 0; back < 1500; back++) {
					const day = new Date(Date.now() - back * 86400000);
					if (day.toLocaleDateString("`+locale+`", { dateStyle: "medium" }) === shown) return "";
				}
				return shown })()`); got != "" {
				t.Errorf("got the date %q", got)
			}
		})
	}
}
