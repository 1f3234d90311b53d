//go:build e2e && linux

package e2e

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"larderlamp/app/e2e/drive"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/store"
	"larderlamp/app/travel"
	"larderlamp/app/walk"
	"larderlamp/rules"
)

// soundHousehold is a batch of three jars that can be kept, looked at today, in a
// cellar, and a refrigerator.
func soundHousehold(t testing.TB, now time.Time) []record.Record {
	t.Helper()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	cellar, err := record.NewPlace("Cellar", now)
	must(err)
	cellar.Wet, cellar.Light = "dry", "dark"
	cellar.Air = &record.Air{How: record.Steady, Low: 100, High: 180}
	fridge, err := record.NewPlace("Refrigerator", now)
	must(err)
	fridge.What, fridge.Order = record.Fridge, 1
	b, err := record.NewBatch("peaches", now)
	must(err)
	thirty, feet, made := 30, 500, now.AddDate(0, -3, 0)
	b.Made, b.Count, b.Size, b.Standing, b.Method, b.Extras, b.Closure = record.DayOf(made), 3, "quart", "published", "boiling-water", "none", "flat-lid"
	b.Pack, b.Minutes, b.Feet, b.Condition = "raw", &thirty, &feet, "met"
	records := []record.Record{cellar, fridge, b}
	for n := range 3 {
		j, err := record.NewJar(b.ID, n+1, now)
		must(err)
		e, err := j.Add(record.Stored, made)
		must(err)
		e.Place = cellar.ID
		e, err = j.Add(record.Looked, now.Add(-time.Minute))
		must(err)
		for id := range rules.SignID(rules.NumSigns) {
			if c := id.Info().Chapter; c == rules.ChapterOutside || c == rules.ChapterGlass {
				e.Seen = append(e.Seen, record.Seen{Sign: id.ID(), Values: []string{id.Info().Sound.ID()}})
			}
		}
		records = append(records, j)
	}
	return records
}

// window is a tab of the tests here: its clock can be turned, together with that
// of all others, and it can be hidden and shown again.
type window struct {
	*drive.Tab
	shows string // the address that it was last sent to
}

// dress makes the clock and the sight of a page the test's own, before its first
// script, and notes what the page shows of the jars, whenever it is not covered,
// from the moment in which it is shown: in window.seen, one line for each thing
// that was ever seen. A page that comes back as it was left starts again, and
// notes whether it was covered in that moment.
const dress = `(() => {
	if (location.protocol === "about:") return;
	const Clock = Date;
	const ahead = () => { try { return Number(localStorage.getItem("ahead") ?? 0) } catch { return 0 } };
	globalThis.Date = class extends Clock {
		constructor(...at) { if (at.length === 0) super(Clock.now() + ahead()); else super(...at) }
		static now() { return Clock.now() + ahead() }
	};
	window.sight = "visible";
	Object.defineProperty(document, "visibilityState", { configurable: true, get: () => window.sight });

	const verdict = e => [...e.classList].find(c => c.startsWith("verdict-")) ?? "";
	window.shown = () => {
		switch (location.pathname) {
		case "/jar": {
			const article = document.querySelector("article");
			return !article ? [] : article.classList.contains("answer") ? [verdict(article)] : ["gone"];
		}
		case "/shelf": return [...document.querySelectorAll(".row-jar")].map(row => verdict(row) + " " + row.querySelector(".times").innerText);
		case "/stock": return [...document.querySelectorAll("main > p, .page main p")].slice(0, 1).map(p => p.innerText).filter(text => text.includes("on the shelf"));
		case "/history": return [...document.querySelectorAll(".entry-verdict strong")].map(e => e.innerText);
		case "/check": return [...document.querySelectorAll("article.answer")].map(verdict).concat(document.querySelector(".question") ? ["a question"] : []);
		case "/sweep": {
			const begin = [...document.querySelectorAll(".go")].map(e => e.innerText.match(/Begin: (\d+)|No jar there is due/)?.[0]).find(Boolean);
			return begin ? [begin] : document.querySelector(".out .hand-jar") ? ["out"] : document.querySelector("#sound, #unread") ? ["a look"] : [];
		}
		case "/trip": return [...document.querySelectorAll(".trip-sum > .lead")].map(p => p.innerText + " " + p.nextElementSibling.innerText.match(/^\d+ jars?/)[0]);
		}
		return [];
	};
	window.seen = new Set();
	const note = () => {
		if (window.sight === "visible" && !document.querySelector(".cover")) window.shown().forEach(line => window.seen.add(location.pathname + location.search + " " + line));
	};
	new MutationObserver(note).observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
	const frame = () => { note(); requestAnimationFrame(frame) };
	requestAnimationFrame(frame);
	addEventListener("pagehide", () => { window.sight = "hidden" }, true);
	addEventListener("pageshow", event => {
		window.sight = "visible";
		window.seen.clear();
		if (event.persisted) window.cameBack = document.querySelector(".cover") ? "covered" : "as it was";
	}, true);
})();`

func (w *window) visit(path string) {
	w.T.Helper()
	w.shows = path
	w.Visit(path)
}

// settled waits until the page is not covered and has read what is kept.
func (w *window) settled() {
	w.T.Helper()
	w.Wait(`!document.querySelector(".cover") && !window.larderWriting && !document.querySelector("main").innerText.includes("Opening what is kept")`)
}

// allRows reads every row of the store, from a tab of the site.
func allRows(p *drive.Tab) map[string][]string {
	p.T.Helper()
	return drive.Eval[map[string][]string](p, wholeStore)
}

// stored is the pantry that the rows of the store come to.
func stored(p *drive.Tab) *pantry.Pantry {
	p.T.Helper()
	home := pantry.New()
	for kind, rows := range allRows(p) {
		for _, row := range rows {
			if kind == string(store.KindSettings) {
				s, err := record.DecodeSettings([]byte(row))
				if err != nil {
					p.T.Fatal(err)
				}
				home.SetSettings(s)
				continue
			}
			r, err := record.Decode(record.Kind(kind), []byte(row))
			if err != nil {
				p.T.Fatal(err)
			}
			home.Put(r)
		}
	}
	return home
}

// class is how a state is shown.
func class(st pantry.State) string {
	switch st {
	case pantry.ToDiscard:
		return "verdict-discard"
	case pantry.ToUse, pantry.ToFinish:
		return "verdict-use-soon"
	case pantry.ToKeep:
		return "verdict-keep"
	}
	return "verdict-open"
}

// shown is what a page says of the jars, and due is what the records of the store
// and the clock of the page say, judged here. Both are "" for other pages.
func (w *window) shown() string {
	w.T.Helper()
	return drive.Eval[string](w.Tab, `window.shown().sort().join(", ")`)
}

func (w *window) due() string {
	w.T.Helper()
	home := stored(w.Tab)
	now := time.UnixMilli(drive.Eval[int64](w.Tab, `Date.now()`))
	address := drive.Eval[string](w.Tab, `location.pathname + location.search + location.hash`)
	page, id, _ := strings.Cut(address, "?id=")
	if before, after, ok := strings.Cut(address, "#id="); ok {
		page, id = before, after
	}
	switch page {
	case "/jar":
		v := home.Judge(home.Jars[id], now)
		if v.Basis.Stage == record.IsGone {
			return "gone"
		}
		return class(v.State())
	case "/shelf":
		var rows []string
		for _, g := range home.Groups(home.JudgeAll(now)) {
			rows = append(rows, fmt.Sprintf("%s × %d", class(g.State), len(g.Jars)))
		}
		slices.Sort(rows)
		return strings.Join(rows, ", ")
	case "/stock":
		n := 0
		stocks := home.Stocks(now)
		for i := range stocks {
			n += stocks[i].Shelf
		}
		jars := "jars"
		if n == 1 {
			jars = "jar"
		}
		return fmt.Sprintf("%d %s of 1 product on the shelf.", n, jars)
	case "/history":
		var lines []string
		for _, c := range storedChecks(w.Tab) {
			if c.Finished {
				lines = append(lines, verdictOf(c).String())
			} else {
				lines = append(lines, "Not finished")
			}
		}
		slices.Sort(lines)
		return strings.Join(lines, ", ")
	case "/check":
		// After a step back the page shows the question that came after n answers.
		id, n, _ := strings.Cut(id, "&n=")
		for _, c := range storedChecks(w.Tab) {
			if c.ID != id {
				continue
			}
			if at, err := strconv.Atoi(n); err == nil && at < given(c) {
				return "a question"
			}
			return saysOf(c, now)
		}
	case "/sweep":
		return sweepSays(home, now)
	case "/trip":
		return tripSays(w.T, home, id, now)
	}
	return ""
}

// storedChecks are the checks of the store, without those that were deleted.
func storedChecks(p *drive.Tab) (checks []*record.Check) {
	p.T.Helper()
	for _, row := range allRows(p)[string(record.Checks)] {
		r, err := record.Decode(record.Checks, []byte(row))
		if err != nil {
			p.T.Fatal(err)
		}
		if c := r.(*record.Check); !c.IsDeleted() {
			checks = append(checks, c)
		}
	}
	return checks
}

// given is how many questions a check has answers to. Several answers to one
// question have one time.
func given(c *record.Check) int {
	type touch struct {
		question string
		at       time.Time
	}
	touches := map[touch]bool{}
	for _, a := range c.Answers {
		if a.Question != record.FromShelf {
			touches[touch{a.Question, a.At.UTC()}] = true
		}
	}
	return len(touches)
}

func verdictOf(c *record.Check) rules.Verdict {
	product, _ := rules.ProductByID(c.Product)
	return rules.Judge(c.Situation(product)).Highest
}

// saysOf is what the page of a check says: what was found today, or that it was
// found on another day. Only what was to be discarded then still is.
func saysOf(c *record.Check, now time.Time) string {
	v := verdictOf(c)
	begun := c.Begun.In(now.Location())
	const sitting = 12 * time.Hour // for which a check goes on over midnight
	switch today := record.DayOf(begun) == record.DayOf(now); {
	case !c.Finished:
		return "a question"
	case v == rules.Discard:
		return "verdict-discard"
	case now.Before(begun) && begun.Sub(now) >= sitting, now.After(begun) && !today && now.Sub(begun) >= sitting:
		return "verdict-open"
	case v == rules.Keep:
		return "verdict-keep"
	}
	return "verdict-use-soon"
}

// sweepSays is what the page of the sweep says: how many jars are due, or for the
// next jar of one that is under way whether it has to be taken out.
func sweepSays(home *pantry.Pantry, now time.Time) string {
	if s := walk.Running(home); s != nil {
		w := walk.New(home, s, now)
		switch {
		case len(w.Next) == 0:
			return ""
		case w.Condemned(w.Next[0]):
			return "out"
		}
		return "a look"
	}
	if len(home.Jars) == 0 {
		return ""
	}
	var places []string
	for _, p := range home.PlaceOrder() {
		if p.What != record.Fridge {
			places = append(places, p.ID)
		}
	}
	if n := len(walk.Order(home, places, true, now)); n > 0 {
		return fmt.Sprintf("Begin: %d", n)
	}
	return "No jar there is due"
}

// tripSays is what the page of a trip says of its plan: the meals, and how many
// jars go.
func tripSays(t testing.TB, home *pantry.Pantry, id string, now time.Time) string {
	trip := home.Trips[id]
	if trip == nil {
		return ""
	}
	j, err := travel.NewPlanner(home, trip, now).Plan(travel.WhatIf{})
	if err != nil || j.Plan == nil {
		t.Fatalf("planning the trip: %v", err)
	}
	head := fmt.Sprintf("All %d meals from your jars.", len(j.Meals))
	if missed := len(j.Plan.Missed); missed > 0 {
		head = fmt.Sprintf("%d of %d meals from your jars.", len(j.Meals)-missed, len(j.Meals))
	}
	goes := 0
	for _, tr := range j.Jars {
		if tr.Fate == travel.Goes || tr.Fate == travel.Spare {
			goes++
		}
	}
	jars := "jars"
	if goes == 1 {
		jars = "jar"
	}
	return fmt.Sprintf("%s %d %s", head, goes, jars)
}

// true fails unless the page, once it is not covered, shows what is due. A message
// from tab to tab and the minute hand take a moment.
func (w *window) current(where string) {
	w.T.Helper()
	deadline := time.Now().Add(drive.Patience)
	for {
		w.settled()
		shown, due := w.shown(), w.due()
		if shown == due {
			return
		}
		if time.Now().After(deadline) {
			w.T.Fatalf("%s: got the page %q, want %q as from the records: %.300s", where, shown, due, w.Text("main"))
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// sawDue fails unless everything that the page has shown, since it was loaded or
// came back, is due, also for one frame only.
func (w *window) sawDue(where string) {
	w.T.Helper()
	due := strings.Split(w.due(), ", ")
	address := drive.Eval[string](w.Tab, `location.pathname + location.search`) + " "
	for _, line := range drive.Eval[[]string](w.Tab, `[...window.seen]`) {
		if what, here := strings.CutPrefix(line, address); here && !slices.Contains(due, what) {
			w.T.Errorf("%s: got %q on the page, want %q", where, what, due)
		}
	}
}

// lookAway hides the page and shows it again, and fails unless it is covered all
// the while.
func (w *window) lookAway(where string) {
	w.T.Helper()
	for _, sight := range []string{"hidden", "visible"} {
		if !drive.Eval[bool](w.Tab, fmt.Sprintf(`(window.sight = %q, document.dispatchEvent(new Event("visibilitychange")), !!document.querySelector(".cover"))`, sight)) {
			w.T.Errorf("%s: the page is not covered when it becomes %s", where, sight)
		}
	}
}

// put writes records past the program.
func put(p *drive.Tab, records []record.Record) {
	p.T.Helper()
	rows := map[record.Kind]map[string]string{}
	for _, r := range records {
		text, err := r.Encode()
		if err != nil {
			p.T.Fatal(err)
		}
		if rows[r.Kind()] == nil {
			rows[r.Kind()] = map[string]string{}
		}
		rows[r.Kind()][r.Key()] = string(text)
	}
	text, err := json.Marshal(rows)
	if err != nil {
		p.T.Fatal(err)
	}
	drive.Eval[bool](p, fmt.Sprintf(`(async () => {
		const done = r => new Promise((ok, bad) => { r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
		const all = %s, db = await done(indexedDB.open("larderlamp"));
		const txn = db.transaction([...db.objectStoreNames], "readwrite");
		for (const [kind, rows] of Object.entries(all)) for (const [id, row] of Object.entries(rows)) txn.objectStore(kind).put(row, id);
		await new Promise((ok, bad) => { txn.oncomplete = ok; txn.onabort = () => bad(txn.error) });
		db.close();
		return true })()`, text))
}

// act touches a button of the page as a script would, if there is one.
func (w *window) act(buttons ...string) {
	w.T.Helper()
	for _, b := range buttons {
		w.settled()
		if !drive.Eval[bool](w.Tab, `(b => { b?.click(); return !!b })(`+drive.Saying("main button, main summary, main label.choice", b)+`)`) {
			return
		}
		w.Drawn()
	}
	w.settled()
}

// answers answers the check of the page, as long as it asks and at most 12 times:
// by what a sound jar shows, or by chance.
func (w *window) answers(r *rand.Rand, sound bool) {
	w.T.Helper()
	for range 12 {
		w.settled()
		choices := drive.Eval[int](w.Tab, `document.querySelectorAll(".question label.choice").length`)
		if choices == 0 {
			return
		}
		pick := r.IntN(choices)
		if sound {
			pick = drive.Eval[int](w.Tab, `Math.max(0, [...document.querySelectorAll(".question label.choice")].findIndex(e => /None of these|Yes/.test(e.innerText)))`)
		}
		drive.Eval[bool](w.Tab, fmt.Sprintf(`(e => { e?.click(); return !!e })(document.querySelectorAll(".question label.choice")[%d])`, pick))
		w.Drawn()
		w.act("Next")
	}
}

// A jar that says keep is checked in one tab, and its lid bulges. Whatever way
// leads back to the jar, and in every other tab, it is to be discarded.
func TestDiscardedIsNeverKept(t *testing.T) {
	inEveryEngine(t, func(t *testing.T, e drive.Engine) {
		s := serve(t, "")
		b := drive.Start(t, e, dress)
		open := func() *window { return &window{Tab: b.Open(t, s.url(""), drive.Phone)} }
		one, two := open(), open()
		records := soundHousehold(t, time.Now())
		one.visit("/shelf")
		one.settled()
		put(one.Tab, records)
		jar := "/jar?id=" + records[3].Key()
		for _, w := range []*window{one, two} {
			w.visit(jar)
			w.current("at first")
			if got := w.shown(); got != "verdict-keep" {
				t.Fatalf("got %s for the jar at first", got)
			}
		}
		// Loaded afresh, so that the page before it stays in the browser as it was.
		one.act("Check it now")
		one.Wait(`location.pathname === "/check" && !!document.querySelector(".question")`)
		check := drive.Eval[string](one.Tab, `location.pathname + location.hash`)
		one.visit(jar)
		one.visit(check)
		one.Wait(`!!document.querySelector(".question")`)
		one.act("A lid that bulges", "Next")
		one.Wait(`!!document.querySelector(".answer.verdict-discard") && !window.larderWriting`)
		two.current("the other tab")
		one.Back() // to the question, or past it where no real touch led on from there
		one.Wait(`location.pathname === "/jar" || !!document.querySelector(".question")`)
		if drive.Eval[bool](one.Tab, `location.pathname === "/check"`) {
			one.Back()
		}
		one.Wait(`location.pathname === "/jar"`)
		if how := one.cameBack(); how == "as it was" {
			t.Error("got the page back as it was, and not covered")
		} else {
			t.Logf("after a write the page comes back %s", how)
		}
		one.current("after a step back")
		one.sawOnly("verdict-discard")

		// A write that no page is told of leaves the page before it in the browser
		// as it was, where that keeps pages at all: all three do, if not always.
		one.visit("/about") // a page from before the worker came knows of none
		one.Installed()
		j := records[4].(*record.Jar)
		jar = "/jar?id=" + j.Key()
		for tries := 1; ; tries++ {
			put(one.Tab, []record.Record{j})
			one.visit(jar)
			one.current("before it was left")
			one.sawOnly(one.due())
			if was := one.shown(); was == "gone" {
				t.Fatal("got the jar gone before it was discarded")
			}
			one.visit("/signs")
			gone := *j
			gone.Events = slices.Clone(j.Events)
			e, err := gone.Add(record.Discarded, time.Now())
			if err != nil {
				t.Fatal(err)
			}
			e.Why = record.ForSeal
			put(one.Tab, []record.Record{&gone})
			one.Back()
			one.Wait(`location.pathname === "/jar"`)
			one.Running()
			how := one.cameBack()
			one.current("after a step back")
			one.sawOnly(one.due())
			if how == "as it was" {
				t.Fatal("got the page back as it was, and not covered")
			}
			if how == "covered" {
				break
			}
			if tries == 5 {
				t.Fatalf("got no page restored from the browser's cache in %d tries", tries)
			}
		}
	})
}

// cameBack reports how the page came back: "covered" or "as it was", where the
// browser had kept it, or "loaded afresh".
func (w *window) cameBack() string {
	w.T.Helper()
	return drive.Eval[string](w.Tab, `window.cameBack ?? "loaded afresh"`)
}

// sawOnly fails unless this is all that the page has said of its jar, since it was
// loaded or came back, while it was not covered.
func (w *window) sawOnly(verdict string) {
	w.T.Helper()
	want := drive.Eval[string](w.Tab, `location.pathname + location.search`) + " " + verdict
	if seen := drive.Eval[[]string](w.Tab, `[...window.seen]`); !slices.Equal(seen, []string{want}) {
		w.T.Errorf("got %q on the page, want only %q", seen, want)
	}
}

// What is said about the jars is always what the records and the clock say, over
// drawn sequences of writes in either of two tabs, of steps back, of pages, of
// clocks that are turned, and of looking away; and so is the sweep, the plan of a
// trip, the history and the answer of a check. STALE says how many sequences are
// drawn in each engine.
func TestNeverStale(t *testing.T) {
	sequences, steps := 2, 14
	if text := os.Getenv("STALE"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 1 {
			t.Fatalf("STALE: %q is not a number from 1 on", text)
		}
		sequences = n
	}
	inEveryEngine(t, func(t *testing.T, e drive.Engine) {
		s := serve(t, "")
		for n := range sequences {
			b := drive.Start(t, e, dress) // of its own, so that no window of the last one is in the way
			r := rand.New(rand.NewPCG(131, uint64(n)))
			tabs := []*window{{Tab: b.Open(t, s.url(""), drive.Phone)}, {Tab: b.Open(t, s.url(""), drive.Phone)}}
			tabs[0].Visit("/about")
			drive.Eval[bool](tabs[0].Tab, `new Promise((ok, bad) => { localStorage.clear(); const r = indexedDB.deleteDatabase("larderlamp"); r.onsuccess = () => ok(true); r.onerror = () => bad(r.error); r.onblocked = () => bad(new Error("blocked")) })`)
			tabs[0].visit("/shelf")
			tabs[0].settled()
			records := soundHousehold(t, time.Now())
			put(tabs[0].Tab, records)
			jars := []string{records[3].Key(), records[4].Key()}
			trip, err := record.NewTrip(record.DayOf(time.Now().AddDate(0, 0, 1)), time.Now())
			if err != nil {
				t.Fatal(err)
			}
			put(tabs[0].Tab, []record.Record{trip})
			for i, w := range tabs {
				w.visit("/jar?id=" + jars[i])
			}
			days := 0
			for step := range steps {
				w := tabs[r.IntN(2)]
				what := ""
				// A step that writes nothing and turns no clock shows nothing that is not
				// due, not even for a moment.
				quiet := false
				onJar := strings.HasPrefix(drive.Eval[string](w.Tab, `location.pathname`), "/jar")
				switch draw := r.IntN(18); {
				case draw < 2 && onJar:
					what = "it is discarded"
					w.act("Discard", []string{"Its seal is lost", "It spoiled", "Nobody wants"}[r.IntN(3)])
				case draw < 4 && onJar:
					what = "something is taken back"
					w.act([]string{"Undo", "It did happen", "It is still here after all"}[r.IntN(3)])
				case draw == 4 && onJar:
					what = "it is opened"
					w.act("Open it", "Opened, into Refrigerator")
				case draw == 5 && onJar:
					what = "it is not found"
					w.act("Not found")
				case draw == 10 && onJar:
					what = "it is checked"
					w.act("Check it now")
					w.answers(r, r.IntN(2) == 0)
				case draw == 11:
					what = "a sweep goes on"
					w.visit("/sweep")
					w.settled()
					w.act([]string{"Begin:", "It is not here", "Take it out", "All five true"}[r.IntN(4)])
				case draw == 6:
					what = "sweeps are set"
					w.visit("/keeping")
					w.settled()
					drive.Eval[bool](w.Tab, fmt.Sprintf(`(s => { s.value = "%d"; s.dispatchEvent(new Event("change", { bubbles: true })); return true })(document.querySelector("main select"))`, 1+r.IntN(6)))
					w.Drawn()
					w.settled()
					w.visit("/jar?id=" + jars[r.IntN(2)])
				case draw == 7:
					days += []int{1, 20, 200, -30}[r.IntN(4)]
					what = fmt.Sprintf("the clock stands %d days ahead", days)
					drive.Eval[bool](w.Tab, fmt.Sprintf(`(localStorage.setItem("ahead", %d), true)`, int64(days)*24*time.Hour.Milliseconds()))
				case draw == 8:
					what, quiet = "a look away", true
					drive.Eval[bool](w.Tab, `(window.seen.clear(), true)`)
					w.lookAway(fmt.Sprintf("sequence %d, step %d", n, step))
				case draw == 9:
					what = "a step back"
					if drive.Eval[int](w.Tab, `history.length`) > 3 {
						drive.Eval[bool](w.Tab, `(window.stepped = true)`)
						w.Back()
						w.Wait(`document.readyState === "complete"`)
						w.Running()
						// Within a document the address changes before the page does.
						quiet = drive.Eval[bool](w.Tab, `!window.stepped || !!window.cameBack`)
					}
				default:
					pages := []string{"/jar?id=" + jars[r.IntN(2)], "/shelf", "/stock", "/history", "/sweep", "/trip?id=" + trip.ID}
					for _, c := range storedChecks(w.Tab) {
						pages = append(pages, "/check#id="+c.ID)
					}
					page := pages[r.IntN(len(pages))]
					what, quiet = page, true
					w.visit(page)
				}
				where := fmt.Sprintf("sequence %d, step %d, %s in tab %d", n, step, what, slices.Index(tabs, w))
				for i, other := range tabs {
					other.current(fmt.Sprintf("%s: tab %d", where, i))
				}
				if quiet {
					w.sawDue(where)
				}
			}
			for _, w := range tabs {
				w.Close()
			}
		}
	})
}
