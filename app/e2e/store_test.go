//go:build e2e && linux

package e2e

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"larderlamp/app/backup"
	"larderlamp/app/demo"
	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/rules"
)

const (
	onDevice = "Saved on this device"
	inPage   = "Kept only while this page is open"
)

// saved waits until the page says where the check is kept.
func (p *tab) saved(where string) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`document.querySelector(".saved")?.innerText === %q`, where))
}

// says waits until a notice holds the words.
func (p *tab) says(words string) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`[...document.querySelectorAll(".notice")].some(e => e.innerText.includes(%q))`, words))
}

// onlyCheck returns the one check that is stored.
func (p *tab) onlyCheck() *record.Check {
	p.t.Helper()
	checks := p.sound("the check")[record.Checks]
	if len(checks) != 1 {
		p.t.Fatalf("got %d stored checks, want one", len(checks))
	}
	return checks[0].(*record.Check)
}

// Where the browser gives the site no more room, the page says so and never
// that it is saved; what was saved before stays and
// once there is room everything is kept.
func TestNoRoom(t *testing.T) {
	s, b := serve(t, ""), start(t)
	p := b.open(s, phone)
	h := byTouch{p}
	room := func(bytes int) {
		p.call("Storage.overrideQuotaForOrigin", map[string]any{"origin": "http://" + s.addr, "quotaSize": bytes})
	}
	p.visit("/about")
	p.installed() // the files of the site take room too
	used := eval[int](p, `navigator.storage.estimate().then(e => e.usage)`)
	room(used + 100000)
	p.visit("/check")
	h.product("Green beans")
	h.choose("None of these")
	p.saved(onDevice)
	said := len(p.onlyCheck().Answers)
	// Words follow words until there is no room.
	n := 0
	for full := false; !full; n++ {
		p.set("Your words for this jar", fmt.Sprintf("words %d", n))
		p.wait(fmt.Sprintf(`document.querySelector(".jar-label")?.textContent === "words %d"`, n))
		p.wait(`!!document.querySelector(".notice") || !!document.querySelector(".saved").innerText`)
		if full = p.has(".notice"); n == 1000 {
			t.Fatal("got no end of the room")
		}
	}
	p.says("no room left")
	p.axe("no room")
	if got := p.text(".saved"); got != "" {
		t.Errorf("without room: got the page %q", got)
	}
	c := p.onlyCheck()
	if want := fmt.Sprintf("words %d", n-2); len(c.Answers) != said || n > 1 && c.Label != want || n == 1 && c.Label != "" {
		t.Errorf("got %d answers and %q stored, want the words %q as before the room ran out", len(c.Answers), c.Label, want)
	}
	room(1 << 30)
	h.choose("Closed, on the shelf, or only frost has pushed its lid loose")
	p.saved(onDevice)
	if c := p.onlyCheck(); len(c.Answers) <= said || c.Label != fmt.Sprintf("words %d", n-1) {
		t.Errorf("with room again: got %d answers, %q", len(c.Answers), c.Label)
	}
}

// What could not be written is not forgotten as long as the page is open: it is
// there after the page was looked away from, it is written with whatever can be
// written next, and nothing is said to be saved before that. What a form makes is
// made again when it is resubmitted.
func TestFailedWriteIsDoneAgain(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.before(mayBeFull)
	full := func(what string) { p.t.Helper(); eval[bool](p, `(window.full = `+what+`, true)`) }
	lookAway := func() {
		p.t.Helper()
		if !eval[bool](p, `(document.dispatchEvent(new Event("visibilitychange")), !!document.querySelector(".cover"))`) {
			t.Error("want the page covered while it reads again")
		}
		p.wait(`!document.querySelector(".cover") && !window.larderWriting`)
	}

	// A batch that is sent again has its jars too, and is not saved without them; one
	// that is sent twice at once is there once.
	p.fillBatch("2")
	for _, what := range []string{`true`, `"stored"`} { // everything, or only the jars
		full(what)
		p.tap(saying("button", "Save the batch"))
		p.says("no room left")
		p.wait(`!window.larderWriting`)
		p.drawn()
		if got := p.text("main"); strings.Contains(got, "Saved: ") {
			t.Errorf("without room for %s: got the page %q", what, got)
		}
	}
	full(`undefined`)
	eval[bool](p, `(save => { save.click(); save.click(); return true })(`+saying("button", "Save the batch")+`)`)
	p.wait(`document.querySelector("main").innerText.includes("Saved: Peaches, yellow")`)
	if p.has(".notice") && strings.Contains(p.text("main"), "no room left") {
		t.Error("the page still says “not saved” although everything is saved")
	}
	home := p.sound("a batch that was sent three times")
	if len(home[record.Batches]) != 1 || len(home[record.Jars]) != 2 {
		t.Errorf("got %d batches and %d jars stored", len(home[record.Batches]), len(home[record.Jars]))
	}

	// An answer stays on the page, whatever is read again.
	h := byTouch{p}
	p.visit("/check")
	h.product("Green beans")
	h.choose("None of these")
	p.saved(onDevice)
	full(`true`)
	h.choose("Closed, on the shelf, or only frost has pushed its lid loose")
	p.says("no room left")
	asks := p.text(".question h1")
	lookAway()
	if got := p.text(".question h1"); got != asks || p.text(".saved") != "" {
		t.Errorf("after coming back: got the question %q, want %q as before; the page says %q", got, asks, p.text(".saved"))
	}
	full(`undefined`)
	lookAway()
	p.saved(onDevice)
	if got := p.text(".question h1"); got != asks {
		t.Errorf("once saved: got the question %q, want %q as before", got, asks)
	}
	said := eval[int](p, `document.querySelectorAll(".said li").length`)
	if c := p.onlyCheck(); len(c.Answers) != said {
		t.Errorf("got %d answers on the page and %d stored", said, len(c.Answers))
	}
}

// mayBeFull lets every write of a page from now on fail while window.full says so:
// all writes, or those of rows that hold a text.
const mayBeFull = `(() => {
	const { put } = IDBObjectStore.prototype;
	IDBObjectStore.prototype.put = function (...row) {
		if (window.full === true || row[0].includes(window.full)) throw new DOMException("full", "QuotaExceededError");
		return put.apply(this, row) };
})()`

// Wherever the shelf is written to, a write that finds no room is said, nothing is
// said to be done before it is, and once there is room it is done: once.
func TestFailedWritesOfTheShelf(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.before(mayBeFull)
	// fails does something for which there is no room, in each of the ways, and then
	// once more with room, by itself or as often as the person does it.
	fails := func(what, done string, ways []string, act func()) {
		t.Helper()
		for _, way := range ways {
			eval[bool](p, `(window.full = `+way+`, true)`)
			act()
			p.says("no room left")
			p.wait(`!window.larderWriting`)
			p.drawn()
			if says := p.text("main"); strings.Contains(says, done) {
				t.Errorf("%s, without room: got the page %q", what, done)
			}
		}
		eval[bool](p, `(window.full = undefined, true)`)
	}
	done := func(words string) {
		t.Helper()
		p.wait(fmt.Sprintf(`!window.larderWriting && document.querySelector("main").innerText.includes(%q) && ![...document.querySelectorAll(".notice")].some(e => e.innerText.includes("no room left"))`, words))
	}
	lookAgain := func() {
		t.Helper()
		eval[bool](p, `(document.dispatchEvent(new Event("visibilitychange")), true)`)
		p.wait(`!document.querySelector(".cover") && !window.larderWriting`)
	}
	count := func(what string, kind record.Kind, want int) []record.Record {
		t.Helper()
		var there []record.Record
		for _, r := range p.sound(what)[kind] {
			if !r.IsDeleted() {
				there = append(there, r)
			}
		}
		if len(there) != want {
			t.Fatalf("%s: got %d stored records of %s, want %d", what, len(there), kind, want)
		}
		return there
	}

	// A table of batches: all of it or nothing, and once.
	p.visit("/many")
	p.wait(`!!document.querySelector("#many")`)
	p.tap(saying("summary", "A whole table"))
	p.set("The table", "product,date,jars,place\npeaches,2026-08-14,3,Cellar\npears,2026-09-01,2,Cellar\n")
	p.tap(saying("button", "Look at it"))
	p.wait(`!!(` + saying("button", "Add 2 batches") + `)`)
	fails("a table", "Added: 2", []string{`true`, `"stored"`}, func() { p.tap(saying("button", "Add 2 batches")) })
	count("a table without room", record.Batches, 0)
	eval[bool](p, `(add => { add.click(); add.click(); return true })(`+saying("button", "Add 2 batches")+`)`)
	done("Added: 2 batches")
	count("a table", record.Batches, 2)
	count("a table", record.Jars, 5)

	// A sweep that begins, a jar that was found, and a step.
	p.visit("/sweep")
	p.wait(`!!(` + saying("button", "Begin: 5 jars") + `)`)
	fails("a sweep", "1 of 5", []string{`true`}, func() { p.tap(saying("button", "Begin: 5 jars")) })
	count("a sweep without room", record.Sweeps, 0)
	p.tap(saying("button", "Begin: 5 jars"))
	p.next(1)
	count("a sweep", record.Sweeps, 1)
	p.tap(saying("button", "Here is a jar that is not in the list"))
	p.wait(`!!document.querySelector(".product")`)
	fails("a found jar", "Added: ", []string{`true`}, func() { p.tap(saying(".product", "Pears")) })
	count("a found jar without room", record.Jars, 5)
	p.tap(saying(".product", "Pears"))
	done("Added: ")
	count("a found jar", record.Jars, 6)
	at := eval[string](p, walkHint)
	fails("a step", "Not found.", []string{`true`}, func() { p.tap(saying("button", "It is not here")) })
	if now := eval[string](p, walkHint); now != at {
		t.Errorf("a step that is not saved: got the walk at %q, want %q as before", now, at)
	}
	lookAgain()
	p.wait(fmt.Sprintf(`(%s) !== %q`, walkHint, at))
	missing := 0
	for _, r := range count("a step", record.Jars, 6) {
		for _, e := range r.(*record.Jar).Events {
			if e.What == record.Missing {
				missing++
			}
		}
	}
	if missing != 1 {
		t.Errorf("a step that was saved later: got it stored %d times", missing)
	}

	// What is deleted is said to be when it is.
	p.visit("/places")
	p.tap(`document.querySelector('button[aria-label="Change: Cellar"]')`)
	p.wait(`!!(` + saying("button", "Delete this place") + `)`)
	fails("a place", "Deleted.", []string{`true`}, func() { p.tap(saying("button", "Delete this place")) })
	count("a place without room", record.Places, 1)
	lookAgain()
	count("a place", record.Places, 0)

	// A setting.
	p.visit("/keeping")
	p.wait(`!!(` + control("Sweep every") + `)`)
	fails("a setting", "Saved", []string{`true`}, func() { p.set("Sweep every", "5") })
	if got := p.settings().SweepMonths; got == 5 {
		t.Error("got a setting stored without room")
	}
	lookAgain()
	if got := p.settings().SweepMonths; got != 5 {
		t.Errorf("a setting that was saved later: got %d", got)
	}

	// A photo, with its jar or not at all.
	jar := p.sound("a photo")[record.Jars][0].Key()
	p.visit("/jar?id=" + jar)
	p.wait(`!!(` + saying("button", "A photo") + `)`)
	fails("a photo", "The photo is kept", []string{`"jpeg"`, `"` + record.Pictured + `"`}, func() { p.tap(saying("button", "A photo")); p.snap(300, 500) })
	count("a photo without room", record.Photos, 0)
	p.tap(saying("button", "A photo"))
	p.snap(300, 500)
	done("The photo is kept with the jar.")
	count("a photo", record.Photos, 1)
}

// A browser that fails in the middle of importing a backup has imported nothing.
func TestImportWithoutRoom(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.batch("2")
	before := p.rows()
	records, err := demo.Records(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	backup, err := backup.Write(backup.File{Written: time.Now(), Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: records})
	if err != nil {
		t.Fatal(err)
	}
	p.view("/keeping")
	p.tap(saying("button", "Bring in a backup"))
	p.give("backup.json", string(backup))
	p.wait("!!(" + saying("button", "Bring it in") + ")")
	eval[bool](p, fmt.Sprintf(`(() => {
		const { put } = IDBObjectStore.prototype;
		let n = 0;
		IDBObjectStore.prototype.put = function (...row) {
			if (++n > %d) throw new DOMException("full", "QuotaExceededError");
			return put.apply(this, row) };
		return true })()`, len(records)/2))
	p.tap(saying("button", "Bring it in"))
	p.says("no room left")
	if strings.Contains(p.text("main"), "Brought in") {
		t.Error("got a page that says the import is complete")
	}
	if got := p.rows(); fmt.Sprint(got) != fmt.Sprint(before) {
		t.Error("got part of the import stored")
	}
}

// A browser that fails to open the store, in any of its ways, keeps nothing and
// says so, and the check works.
func TestStorageFails(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	for name, script := range map[string]string{
		"throws": `IDBFactory.prototype.open = () => { throw new DOMException("no", "SecurityError") }`,
		"fails": `const { open } = IDBFactory.prototype;
			IDBFactory.prototype.open = function (name) {
				const request = open.call(this, name + " that fails", 1);
				request.addEventListener("upgradeneeded", event => { event.stopImmediatePropagation(); request.transaction.abort() });
				return request }`,
		"missing": `Object.defineProperty(window, "indexedDB", { value: undefined })`,
	} {
		t.Run(name, func(t *testing.T) {
			p := (&browser{t, b.ctx}).open(s, phone)
			p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": script})
			p.visit("/check")
			h := byTouch{p}
			h.product("Green beans")
			p.says("gone when the page is closed")
			h.choose("None of these")
			p.saved(inPage)
		})
	}
}

// Two tabs that write the same jar in the same moments, again and again, lose
// nothing of either.
func TestTwoTabsAtOnce(t *testing.T) {
	s, b := serve(t, ""), start(t)
	one := b.open(s, phone)
	one.batch("1")
	one.tap(saying(".row-jar a", "Peaches"))
	one.wait(`location.pathname === "/jar"`)
	one.running()
	jar := strings.TrimPrefix(eval[string](one, "location.href"), "http://"+s.addr)
	two := b.open(s, phone)
	two.visit(jar)
	const notes = 15
	for i, p := range []*tab{one, two} {
		p.wait(`!!(` + saying("button", "A note") + `)`)
		// Chromium gives a hidden tab fewer turns; both are to be as fast as they
		// can, and neither hears of the other's writes.
		p.call("Emulation.setFocusEmulationEnabled", map[string]any{"enabled": true})
		eval[bool](p, fmt.Sprintf(`(() => {
			larderDevice.tell = () => {};
			let n = 0, step = 0;
			const act = () => {
				const field = %[1]s;
				const keep = %[2]s;
				if (field && keep && step === 0 && n < %[4]d) {
					field.value = "tab %[5]d, note " + ++n + ".";
					field.dispatchEvent(new Event("input", { bubbles: true }));
					field.dispatchEvent(new Event("change", { bubbles: true }));
					step = 1;
				} else if (field && keep && step === 1) {
					keep.click();
					step = 2;
				} else if (!field) {
					step = 0;
					if (n < %[4]d) (%[3]s)?.click(); else window.through = true;
				}
				setTimeout(act, 30);
			};
			act();
			return true })()`, control("Words"), saying("button", "Keep the note"), saying("button", "A note"), notes, i+1))
	}
	for _, p := range []*tab{one, two} {
		p.wait(`window.through === true && !window.larderWriting`)
	}
	words := map[string]int{}
	for _, r := range one.sound("written by two")[record.Jars] {
		for _, e := range r.(*record.Jar).Events {
			words[e.Words]++
		}
	}
	for i := range 2 {
		for n := range notes {
			if w := fmt.Sprintf("tab %d, note %d.", i+1, n+1); words[w] != 1 {
				t.Errorf("%q: got it stored %d times", w, words[w])
			}
		}
	}
}

// A tab of a newer edition brings a new schema while this one is open: this one
// lets go at once, says so at the next answer, and also when it is loaded again.
func TestNewerTab(t *testing.T) {
	s, b := serve(t, ""), start(t)
	p := b.open(s, phone)
	h := byTouch{p}
	p.visit("/check")
	h.product("Green beans")
	h.choose("None of these")
	p.saved(onDevice)
	newer := b.open(s, phone)
	newer.visit("/about") // which opens no store
	eval[bool](newer, fmt.Sprintf(`new Promise((ok, bad) => {
		const r = indexedDB.open("larderlamp", %d);
		r.onupgradeneeded = () => r.result.createObjectStore("later");
		r.onsuccess = () => { r.result.close(); ok(true) };
		r.onerror = () => bad(r.error) })`, len(store.Steps)+1))
	h.choose("Closed, on the shelf, or only frost has pushed its lid loose")
	p.says("A newer edition is open in another tab")
	if got := p.text(".saved"); got != "" {
		t.Errorf("got the page %q", got)
	}
	rows := newer.rows()[string(record.Checks)]
	if c, err := record.DecodeCheck([]byte(strings.Join(rows, ""))); err != nil || len(c.Answers) == 0 {
		t.Errorf("got none of the earlier answers: %v", err)
	}
	p.visit("/check")
	h.product("Peaches, yellow")
	p.says("A newer edition was used in this browser")
	p.saved(inPage)
}

// turnable is a clock that a test can set; it stays when another page is opened.
const turnable = `(() => {
	const Clock = Date;
	const ahead = () => Number(sessionStorage.getItem("ahead") ?? 0);
	globalThis.Date = class extends Clock {
		constructor(...at) { if (at.length === 0) super(Clock.now() + ahead()); else super(...at) }
		static now() { return Clock.now() + ahead() }
	};
})()`

func (p *tab) turnClock(by time.Duration) {
	p.t.Helper()
	eval[bool](p, fmt.Sprintf(`(sessionStorage.setItem("ahead", %d), true)`, by.Milliseconds()))
}

// A clock that is set back or forward while a check is made, by an hour or by
// years, loses nothing of it.
func TestClockIsSet(t *testing.T) {
	const day = 24 * time.Hour
	p := start(t).open(serve(t, ""), phone)
	p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": turnable})
	h := byTouch{p}
	for i, shift := range []time.Duration{-time.Hour, -3 * day, 400 * day, -2000 * day} {
		p.visit("/about")
		p.turnClock(0)
		p.visit("/check")
		h.product("Green beans")
		h.choose("None of these")
		p.saved(onDevice)
		p.turnClock(shift)
		h.choose("Closed, on the shelf, or only frost has pushed its lid loose")
		p.saved(onDevice)
		id := eval[string](p, `new URLSearchParams(location.hash.slice(1)).get("id")`)
		said := eval[int](p, `document.querySelectorAll(".said li").length`)
		checks := p.sound(fmt.Sprintf("clock set by %v", shift))[record.Checks]
		if len(checks) != i+1 {
			t.Errorf("clock set by %v: got %d checks", shift, len(checks))
		}
		for _, r := range checks {
			if c := r.(*record.Check); c.ID == id && len(c.Answers) != said {
				t.Errorf("clock set by %v: got %d answers on the page and %d stored", shift, said, len(c.Answers))
			}
		}
		p.visit("/history")
		p.wait(fmt.Sprintf(`document.querySelectorAll(".entry").length === %d`, i+1))
	}
	// A clock that was never set, as after a flat battery, is said to be wrong.
	p.visit("/about")
	p.turnClock(-time.Since(time.Date(1970, 1, 2, 0, 0, 0, 0, time.UTC)))
	p.visit("/check")
	h.product("Green beans")
	p.says("1970")
	unsaved := func(when string) {
		t.Helper()
		if got := p.text(".saved"); got != "" {
			t.Errorf("in 1970 %s: got the page %q", when, got)
		}
	}
	unsaved("")
	// What else is written meanwhile, as the end of an earlier check without an
	// answer, does not make it saved.
	p.wait(`!globalThis.larderWriting`)
	unsaved("after another write")
}

// Over the end of summer time, when an hour comes twice, checks keep their
// order, their answers and the local time at which they were begun.
func TestSummerTimeEnds(t *testing.T) {
	p := start(t).open(serve(t, ""), phone)
	p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": turnable})
	p.call("Emulation.setTimezoneOverride", map[string]any{"timezoneId": "Europe/Berlin"})
	h := byTouch{p}
	first := time.Date(2026, 10, 25, 0, 30, 0, 0, time.UTC) // 2:30 in summer
	p.visit("/about")
	p.turnClock(time.Until(first))
	p.visit("/check")
	h.product("Green beans")
	h.choose("None of these")
	p.saved(onDevice)
	p.turnClock(time.Until(first.Add(time.Hour))) // 2:30 in winter, the page still open
	h.choose("Closed, on the shelf, or only frost has pushed its lid loose")
	p.saved(onDevice)
	p.visit("/check")
	h.product("Peaches, yellow")
	p.saved(onDevice)
	p.visit("/history")
	p.wait(`document.querySelectorAll(".entry").length === 2`)
	entries := eval[[]string](p, `[...document.querySelectorAll(".entry")].map(e => e.innerText)`)
	at := "25 Oct 2026, 02:3"
	if speaking != nil {
		at = "25 oct 2026, 2:3"
	}
	for i, name := range []string{"Peaches", "Green beans"} {
		if !strings.Contains(entries[i], name) || !strings.Contains(entries[i], at) {
			t.Errorf("entry %d: got %q, want %s at 02:30 local time", i+1, entries[i], name)
		}
	}
	for _, r := range p.sound("summer time ends")[record.Checks] {
		if c := r.(*record.Check); c.Product == "green-beans" && c.Changed.Sub(c.Begun) < 59*time.Minute {
			t.Errorf("got begun %v, changed %v", c.Begun, c.Changed)
		}
	}
}
