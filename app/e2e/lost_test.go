//go:build e2e && linux

package e2e

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"larderlamp/app/demo"
	"larderlamp/app/e2e/drive"
	"larderlamp/app/record"
	"larderlamp/app/store"
)

// wholeStore is JavaScript that reads every row of the browser's store, as it is, by
// kind. Where there is no store none is made.
const wholeStore = `(async () => {
	const done = r => new Promise((ok, bad) => { r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
	const request = indexedDB.open("larderlamp"), rows = {};
	request.onupgradeneeded = () => request.transaction.abort();
	const db = await done(request);
	for (const kind of db.objectStoreNames) rows[kind] = await done(db.transaction(kind).objectStore(kind).getAll());
	db.close();
	return rows })()`

// rows reads every row of the browser's store.
func (p *tab) rows() map[string][]string {
	p.t.Helper()
	return eval[map[string][]string](p, wholeStore)
}

// sound reads the rows and fails for every one that is not a whole record.
func (p *tab) sound(what string) map[record.Kind][]record.Record {
	p.t.Helper()
	all := map[record.Kind][]record.Record{}
	for kind, texts := range p.rows() {
		for _, text := range texts {
			if kind == string(store.KindSettings) {
				if _, err := record.DecodeSettings([]byte(text)); err != nil {
					p.t.Errorf("%s: settings: %v", what, err)
				}
				continue
			}
			r, err := record.Decode(record.Kind(kind), []byte(text))
			if err != nil {
				p.t.Errorf("%s: got half a record: %v", what, err)
				continue
			}
			all[r.Kind()] = append(all[r.Kind()], r)
		}
	}
	return all
}

// wipe takes the database away, from a page that does not use it.
func (p *tab) wipe() {
	p.t.Helper()
	p.visit("/about")
	eval[bool](p, `new Promise((ok, bad) => { localStorage.clear(); const r = indexedDB.deleteDatabase("larderlamp"); r.onsuccess = () => ok(true); r.onerror = () => bad(r.error); r.onblocked = () => bad(new Error("blocked")) })`)
}

// schemas counts the earlier schemas; testdata/schemas has a database of each.
var schemas = len(store.Steps) - 1

// lay lays down a database of an earlier schema, as the edition of its time wrote
// it, with copies of its checks, and returns the ids of all rows but the settings.
func (p *tab) lay(schema, copies int) (ids []string) {
	p.t.Helper()
	text, err := os.ReadFile(fmt.Sprintf("../../testdata/schemas/%d.json", schema))
	if err != nil {
		p.t.Fatal(err)
	}
	var kinds []string
	for _, step := range store.Steps[:schema] {
		for _, k := range step {
			kinds = append(kinds, string(k))
		}
	}
	list, err := json.Marshal(kinds)
	if err != nil {
		p.t.Fatal(err)
	}
	return eval[[]string](p, fmt.Sprintf(`(async () => {
		const { schema, rows } = %s, kinds = %s;
		const db = await new Promise((ok, bad) => {
			const r = indexedDB.open("larderlamp", schema);
			r.onupgradeneeded = () => { for (const kind of kinds) r.result.createObjectStore(kind) };
			r.onsuccess = () => ok(r.result);
			r.onerror = () => bad(r.error);
		});
		const tx = db.transaction(kinds, "readwrite"), ids = [];
		for (const [kind, all] of Object.entries(rows)) for (const [id, row] of Object.entries(all)) {
			for (let n = 0; n < (kind === "checks" ? %d : 1); n++) {
				const fresh = n ? id.slice(0, -4) + (n + 4096).toString(16) : id;
				tx.objectStore(kind).put(JSON.stringify(kind === "settings" ? row : { ...row, id: fresh }), fresh);
				if (kind !== "settings") ids.push(fresh);
			}
		}
		await new Promise((ok, bad) => { tx.oncomplete = ok; tx.onerror = () => bad(tx.error) });
		db.close();
		return ids })()`, text, list, copies))
}

// version is that of the database as it is stored.
func (p *tab) version() int {
	return eval[int](p, `indexedDB.databases().then(all => all.find(d => d.name === "larderlamp")?.version ?? 0)`)
}

// acknowledged collects what the page has said is kept, as it says so: after the
// page is killed nobody can ask it.
type acknowledged struct {
	mu   sync.Mutex
	said []string
}

func (a *acknowledged) hear(event any) {
	if e, ok := event.(*runtime.EventConsoleAPICalled); ok && e.Type == "info" && len(e.Args) > 0 {
		var text string
		if json.Unmarshal([]byte(e.Args[0].Value), &text) == nil && strings.HasPrefix(text, "kept ") {
			a.mu.Lock()
			defer a.mu.Unlock()
			a.said = append(a.said, strings.TrimPrefix(text, "kept "))
		}
	}
}

func (a *acknowledged) all() []string {
	a.mu.Lock()
	defer a.mu.Unlock()
	return append([]string{}, a.said...)
}

// The drivers answer as fast as the page allows, and say what it has said.
const (
	answering = `(async () => {
		const heading = () => document.querySelector(".question h1")?.innerText;
		for (let n = 1; heading(); n++) {
			const was = heading();
			[...document.querySelectorAll(".question input[type=radio]")].at(-1).click();
			await new Promise(done => setTimeout(done, 5));
			if (heading() === was) document.querySelector(".question form, form.question")?.requestSubmit();
			while (heading() === was || document.querySelector(".saved")?.innerText !== "Saved on this device") await new Promise(done => setTimeout(done, 1));
			console.info("kept check " + new URLSearchParams(location.hash.slice(1)).get("id") + " " + n);
		}
	})(), true`
	sweeping = `(async () => {
		const hint = () => document.querySelector(".walk .stand .hint")?.innerText;
		for (let n = 1; hint(); n++) {
			const was = hint();
			document.querySelector(".hands .sound").click();
			while (hint() === was) await new Promise(done => setTimeout(done, 1));
			console.info("kept look " + n);
		}
	})(), true`
	importing = `(async () => {
		while (!document.querySelector("main").innerText.includes("Brought in:")) await new Promise(done => setTimeout(done, 1));
		console.info("kept all");
	})(), true`
)

// The tab or the whole browser is killed at seeded moments of checks, sweeps,
// imports and migrations. Whatever the page had said is kept is there when it is
// opened again, nothing is half written, and an import is there whole or not at
// all. MOMENTS says how often; make lost does it 200 times.
func TestKilled(t *testing.T) {
	first, end := span(t, "MOMENTS", 8)
	demo, err := demo.Records(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	backup := backupOf(t, demo)
	s := serve(t, "")
	profile := t.TempDir()
	b := startOwn(t, chromedp.UserDataDir(profile))
	kept, whole, upgraded := 0, 0, 0
	for n := first; n < end; n++ {
		r := rand.New(rand.NewPCG(22, uint64(n)))
		what := []string{"checks", "a sweep", "an import", "a migration"}[n%4]
		p := b.open(s, phone)
		p.wipe()
		heard := &acknowledged{}
		if err := chromedp.Listen(p.ctx, heard.hear); err != nil {
			t.Fatal(err)
		}
		var old []string
		most := 1200
		switch what {
		case "checks":
			p.visit("/check?product=peaches")
			p.wait(`!!document.querySelector(".question")`)
			eval[bool](p, answering)
		case "a sweep":
			p.visit("/shelf")
			p.wait(`document.querySelector("main").innerText.includes("Add the first batch")`)
			p.fill(t, 60, false)
			p.visit("/sweep")
			p.tap(saying("button", "Begin:"))
			p.next(1)
			eval[bool](p, sweeping)
		case "an import":
			most = 300
			p.visit("/keeping")
			p.tap(saying("button", "Bring in a backup"))
			p.give("backup.json", string(backup))
			p.wait(`!!(` + saying("button", "Bring it in") + `)`)
			eval[bool](p, importing)
			eval[bool](p, `(`+saying("button", "Bring it in")+`.click(), true)`)
		case "a migration":
			old = p.lay(1+r.IntN(schemas), 200)
			most = 700
			p.load("/history")
		}
		time.Sleep(time.Duration(r.IntN(most)) * time.Millisecond)
		said := heard.all()
		how := "the tab"
		p.expectFaults = true // what a dying page complains of
		if r.IntN(2) == 0 {
			chromedp.Cancel(p.ctx)
		} else {
			how = "the browser"
			process := chromedp.FromContext(b.ctx).Browser.Process()
			if err := process.Kill(); err != nil {
				t.Fatal(err)
			}
			for chromedp.Do(b.ctx, chromedp.Navigate("about:blank")) == nil {
				time.Sleep(10 * time.Millisecond)
			}
			if err := drive.EndGroup(process.Pid); err != nil {
				t.Fatal(err)
			}
			b = startOwn(t, chromedp.UserDataDir(profile))
		}
		where := fmt.Sprintf("moment %d: %s killed during %s, after %d acknowledgements", n, how, what, len(said))
		p = b.open(s, phone)
		page := "/history"
		if what == "a sweep" || what == "an import" {
			page = "/shelf"
		}
		p.visit(page)
		p.wait(`!document.querySelector("main").innerText.includes("Opening what is kept") && !document.querySelector("main").innerText.includes("Reading")`)
		all := p.sound(where)
		kept += len(said)
		switch what {
		case "checks":
			answers := map[string]int{}
			for _, rec := range all[record.Checks] {
				c := rec.(*record.Check)
				answers[c.ID] = len(c.Answers)
			}
			for _, line := range said {
				var id string
				var count int
				if _, err := fmt.Sscanf(line, "check %s %d", &id, &count); err != nil {
					t.Fatalf("%q: %v", line, err)
				}
				if answers[id] < count {
					t.Errorf("%s: check %s: got %d answers", where, id, answers[id])
				}
			}
		case "a sweep":
			looks := 0
			for _, rec := range all[record.Jars] {
				for _, e := range rec.(*record.Jar).Events {
					if e.What == record.Looked && e.Sweep != "" {
						looks++
					}
				}
			}
			if looks < len(said) {
				t.Errorf("%s: got %d stored looks", where, looks)
			}
		case "an import":
			count := 0
			for _, rs := range all {
				count += len(rs)
			}
			if count != 0 && count != len(demo) || count == 0 && len(said) > 0 {
				t.Errorf("%s: got %d of %d records", where, count, len(demo))
			}
			if count > 0 {
				whole++
			}
		case "a migration":
			missing(t, where, old, all)
			if v := p.version(); v != len(store.Steps) {
				t.Errorf("%s: got a database at version %d", where, v)
			}
			upgraded++
		}
		chromedp.Cancel(p.ctx)
	}
	t.Logf("moments %d to %d: %d acknowledgements, all there; %d imports whole, %d migrations", first+1, end, kept, whole, upgraded)
	if kept == 0 {
		t.Error("got no acknowledged write at all")
	}
}

// missing fails for every row that is not among the records.
func missing(t *testing.T, where string, ids []string, all map[record.Kind][]record.Record) {
	t.Helper()
	have := map[string]bool{}
	for _, rs := range all {
		for _, r := range rs {
			have[r.Key()] = true
		}
	}
	for _, id := range ids {
		if !have[id] {
			t.Fatalf("%s: %s is gone", where, id)
		}
	}
}

// A database of every earlier schema is brought up to date on the way in:
// everything is there, and its settings hold.
func TestEveryEarlierSchema(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	for schema := 1; schema <= schemas; schema++ {
		for _, page := range []string{"/history", "/shelf", "/trip"} {
			p.wipe()
			ids := p.lay(schema, 3)
			p.visit(page)
			p.wait(`!document.querySelector("main").innerText.includes("Opening what is kept")`)
			p.wait(fmt.Sprintf(`indexedDB.databases().then(all => all.find(d => d.name === "larderlamp").version === %d)`, len(store.Steps)))
			where := fmt.Sprintf("schema %d, %s", schema, page)
			missing(t, where, ids, p.sound(where))
		}
		p.visit("/history")
		p.wait(`document.querySelectorAll(".entry").length >= 3`)
	}
}

// hasty lets the time of a page run ten times as fast, for the program too: what it
// waits for in vain is given up the sooner.
const hasty = `(() => {
	const { now } = performance, later = setTimeout;
	performance.now = () => 10 * now.call(performance);
	window.setTimeout = (what, time, ...more) => later(what, time / 10, ...more);
})()`

// A page of an older edition that will not let go of the database is named, and
// nothing is said to be kept meanwhile. When it is gone everything is there.
func TestOlderTab(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	old := b.open(s, phone)
	old.wipe()
	ids := old.lay(1, 1)
	eval[bool](old, `new Promise(ok => { const r = indexedDB.open("larderlamp", 1); r.onsuccess = () => { window.held = r.result; ok(true) } })`)
	p := b.open(s, phone)
	p.before(hasty)
	p.visit("/check?product=peaches")
	p.wait(`document.querySelector(".notice")?.innerText.includes("older edition")`)
	if says := p.text(".notice"); !strings.Contains(says, "Close every other tab") {
		t.Errorf("got %q", says)
	}
	p.axe("an older tab")
	if p.has(".saved") && p.text(".saved") == "Saved on this device" {
		t.Error("got a page that calls it saved")
	}
	eval[bool](old, `(held.close(), true)`)
	p = b.open(s, phone)
	p.visit("/history")
	p.wait(`document.querySelectorAll(".entry").length >= 2`)
	missing(t, "after the older tab", ids, p.sound("after the older tab"))
}

// A private window keeps what it is given until it is closed, and says so;
// another one sees nothing of it. Chromium and WebKit for Linux do not tell a page
// that its window is private.
func TestPrivateWindow(t *testing.T) {
	said := map[drive.Engine]string{
		drive.Chromium: "Saved on this device\nIn a private window: until it is closed.",
		drive.Firefox:  "Saved until this private window is closed",
		drive.WebKit:   "Saved on this device\nIn a private window: until it is closed.",
	}
	inEveryEngine(t, func(t *testing.T, e drive.Engine) {
		s := serve(t, "")
		b := drive.StartPrivate(t, e)
		p := guide{b.Open(t, s.url(""), drive.Phone)}
		p.Visit("/about")
		p.product("green-beans")
		p.touched("None of these")
		p.Wait(fmt.Sprintf(`[document.querySelector(".saved"), document.querySelector(".saved + .hint")].filter(Boolean).map(e => e.innerText).join("\n") === %q`, said[e]))
		p.Wait(`!window.larderWriting`)
		p.Visit("/history")
		p.Wait(`document.querySelectorAll(".entry").length === 1`)
		p.Turn("/keeping")
		p.Wait(`/private window/.test(document.querySelector("main").innerText)`)
		b.Restart(t)
		p = guide{b.Open(t, s.url(""), drive.Phone)}
		p.Visit("/history")
		p.Wait(`!document.querySelector("main").innerText.includes("Opening what is kept") && document.querySelectorAll(".entry").length === 0`)
	})
}

// A clock that was set back, or forward, or a zone with summer time: nothing
// stumbles, a later look is later, and a look from the future does not count as
// sound.
func TestClock(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	p := b.open(s, phone)
	p.batch("1")
	for _, c := range []struct {
		zone  string
		shift int // days
	}{{"Europe/Berlin", -900}, {"America/Chicago", 900}, {"Australia/Lord_Howe", -20000}, {"Pacific/Apia", 0}} {
		q := b.open(s, phone)
		q.call("Emulation.setTimezoneOverride", map[string]any{"timezoneId": c.zone})
		q.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": turnable})
		q.visit("/about")
		q.turnClock(time.Duration(c.shift) * 24 * time.Hour)
		for _, path := range []string{"/shelf", "/sweep", "/stock", "/trip"} {
			q.visit(path)
			q.wait(`!document.querySelector("main").innerText.includes("Opening what is kept")`)
			if q.has(".stopped") {
				t.Errorf("%s, %d days off: got a stopped program on %s", c.zone, c.shift, path)
			}
		}
		q.sound(fmt.Sprintf("%s, %d days off", c.zone, c.shift))
	}
}
