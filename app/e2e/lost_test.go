//go:build e2e

package e2e

import (
	"encoding/json"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"larderlamp/app/pantry"
	"larderlamp/rules"
)

// plainPage is an address of the site that starts no program: the store can be
// looked at there without any code under test.
const plainPage = "/static/icons/mark.svg"

// opening is JavaScript that names two helpers: get waits for a request, and
// opened opens the household's database, at a version, as it is without one.
const opening = `const get = r => new Promise((ok, bad) => { r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error); r.onblocked = () => {} });
	const opened = (version, upgrade) => { const r = indexedDB.open("larderlamp", version); r.onupgradeneeded = () => upgrade(r.result); return get(r) };`

// database is what a browser holds for the household: the text of every row by
// object store and id, and the version of the schema.
type database struct {
	Version int                          `json:"version"`
	Stores  map[string]map[string]string `json:"stores"`
}

// dump reads the whole database. The tab must be at the plain page.
func (p *tab) dump() (d database) {
	p.t.Helper()
	text := eval[string](p, `(async () => {`+opening+`
		if (!(await indexedDB.databases()).some(d => d.name === "larderlamp")) return "{}";
		const db = await opened();
		const all = { version: db.version, stores: {} };
		for (const kind of db.objectStoreNames) {
			const tx = db.transaction(kind);
			const [ids, texts] = await Promise.all([get(tx.objectStore(kind).getAllKeys()), get(tx.objectStore(kind).getAll())]);
			all.stores[kind] = Object.fromEntries(ids.map((id, i) => [id, texts[i]]));
		}
		db.close();
		return JSON.stringify(all) })()`)
	if err := json.Unmarshal([]byte(text), &d); err != nil {
		p.t.Fatal(err)
	}
	return d
}

// restore puts a database in the place of the one that is there.
func (p *tab) restore(d database) {
	p.t.Helper()
	text, err := json.Marshal(d)
	if err != nil {
		p.t.Fatal(err)
	}
	eval[bool](p, `(async () => {`+opening+`
		const all = JSON.parse(`+quoted(string(text))+`);
		await get(indexedDB.deleteDatabase("larderlamp"));
		const db = await opened(all.version, db => Object.keys(all.stores).forEach(kind => db.createObjectStore(kind)));
		const tx = db.transaction(Object.keys(all.stores), "readwrite");
		for (const [kind, rows] of Object.entries(all.stores))
			for (const [id, text] of Object.entries(rows)) tx.objectStore(kind).put(text, id);
		await new Promise((ok, bad) => { tx.oncomplete = ok; tx.onabort = () => bad(tx.error) });
		db.close();
		return true })()`)
}

// stored reads a stored database of an earlier schema.
func stored(t testing.TB, name string) (d database) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("../../testdata/schemas", name))
	if err == nil {
		err = json.Unmarshal(text, &d)
	}
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// now makes a database of the present schema with records in it.
func now(t testing.TB, records []pantry.Record) database {
	t.Helper()
	d := database{2, map[string]map[string]string{"checks": {}, "settings": {}, "places": {}, "batches": {}, "jars": {}, "photos": {}, "sweeps": {}}}
	for _, r := range records {
		d.put(t, r)
	}
	return d
}

func (d database) put(t testing.TB, r pantry.Record) {
	t.Helper()
	text, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	d.Stores[string(r.Kind())][r.Key()] = string(text)
}

// records reads every row as the program would, and fails for one that is
// half-written or refers to something that is not there.
func (d database) records(t testing.TB) map[string]pantry.Record {
	t.Helper()
	all := map[string]pantry.Record{}
	for kind, rows := range d.Stores {
		for id, text := range rows {
			if kind == "settings" {
				if _, err := pantry.DecodeSettings([]byte(text)); err != nil {
					t.Errorf("settings: %v", err)
				}
				continue
			}
			r, err := pantry.Decode(pantry.Kind(kind), []byte(text))
			if err != nil || r.Key() != id {
				t.Errorf("%s %s: %v", kind, id, err)
				continue
			}
			all[id] = r
		}
	}
	for id, r := range all {
		jar, ok := r.(*pantry.Jar)
		if !ok {
			continue
		}
		if all[jar.Batch] == nil {
			t.Errorf("jar %s without its batch", id)
		}
		for _, e := range jar.Events {
			if e.What == pantry.Checked && all[e.Check] == nil {
				t.Errorf("jar %s notes the check %s, which is not there", id, e.Check)
			}
		}
	}
	return all
}

// witness is evaluated in every page. It tells the test, at once, what the page
// says is saved, and acts: it answers a check and then changes the words for
// the jar, or goes through a sweep, as fast as the page takes it.
const witness = `(() => {
	const one = s => document.querySelector(s);
	let last = "";
	const say = text => { if (text !== last) { last = text; told(text) } };
	new MutationObserver(() => {
		if (one(".saved")?.textContent === "Saved on this device")
			say("check " + JSON.stringify({ id: new URLSearchParams(location.search).get("id"), words: one(".jar-label")?.textContent ?? "",
				said: [...document.querySelectorAll(".said li > span")].map(e => e.textContent) }));
		const hint = one(".walk > .hint");
		if (hint) say("walk " + parseInt(hint.textContent));
		const notice = [...document.querySelectorAll(".notice")].find(e => e.textContent.startsWith("Taken in: "));
		if (notice) say("import");
	}).observe(document, { subtree: true, childList: true, characterData: true });

	const { transaction } = IDBDatabase.prototype;
	IDBDatabase.prototype.transaction = function (kinds, mode, options) {
		if (mode === "readwrite" && location.pathname === "/keeping") told("writing");
		return transaction.call(this, kinds, mode, options);
	};
	const { open } = IDBFactory.prototype;
	IDBFactory.prototype.open = function (name, version) {
		const request = open.call(this, name, version);
		request.addEventListener("upgradeneeded", () => told("upgrading"));
		return request;
	};

	let seed = SEED;
	const draw = n => (seed = seed * 1103515245 + 12345 & 0x7fffffff) % n;
	let words = 0;
	const act = () => {
		const choices = document.querySelectorAll(".question label.choice input");
		const field = one(".tools .field input");
		if (location.pathname === "/check" && choices.length > 0) {
			(one(".question label.choice.none input") ?? choices[draw(Math.min(2, choices.length))]).dispatchEvent(new MouseEvent("click", { detail: 1, bubbles: true, cancelable: true }));
		} else if (location.pathname === "/check" && one(".answer") && field && (one(".jar-label")?.textContent ?? "") === (words ? "words " + words : "")) {
			field.value = "words " + ++words;
			field.dispatchEvent(new Event("change", { bubbles: true }));
		} else if (location.pathname === "/sweep") {
			const begin = [...document.querySelectorAll("button")].find(e => e.textContent.startsWith("Begin: "));
			const missing = [...document.querySelectorAll("button")].find(e => e.textContent === "It is not here");
			(begin ?? (draw(4) === 0 ? missing : one("#sound")))?.click();
		}
		setTimeout(act, 5 + draw(40));
	};
	addEventListener("DOMContentLoaded", act);
})()`

// life is one profile of a browser that dies again and again, and what its
// pages have told.
type life struct {
	t    *testing.T
	dir  string
	b    *browser
	mu   sync.Mutex
	told []string
	news chan struct{}
}

// page opens a tab, in the browser that runs or in a new one on the profile.
func (l *life) page(s *site, seed int) *tab {
	l.t.Helper()
	if l.b == nil {
		l.b = start(l.t, chromedp.UserDataDir(l.dir))
	}
	p := l.b.open(s, phone)
	l.told = nil // as of this page
	l.news = make(chan struct{}, 1000)
	err := chromedp.Listen(p.ctx, func(event any) {
		if e, ok := event.(*runtime.EventBindingCalled); ok && e.Name == "told" {
			l.mu.Lock()
			defer l.mu.Unlock()
			l.told = append(l.told, e.Payload)
			select {
			case l.news <- struct{}{}:
			default:
			}
		}
	})
	if err != nil {
		l.t.Fatal(err)
	}
	p.call("Runtime.addBinding", map[string]any{"name": "told"})
	p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": strings.Replace(witness, "SEED", strconv.Itoa(seed), 1)})
	return p
}

// hears waits until a page has told something that begins so.
func (l *life) hears(prefix string) {
	l.t.Helper()
	timeout := time.After(patience)
	for {
		l.mu.Lock()
		heard := slices.ContainsFunc(l.told, func(s string) bool { return strings.HasPrefix(s, prefix) })
		l.mu.Unlock()
		if heard {
			return
		}
		select {
		case <-l.news:
		case <-timeout:
			l.t.Fatalf("the page never told %q, only %q", prefix, l.told)
		}
	}
}

// die kills the browser, or only closes the tab, and gives what the page had
// told until then.
func (l *life) die(p *tab, kill bool) []string {
	l.t.Helper()
	if kill {
		process := chromedp.FromContext(l.b.ctx).Browser.Process()
		if err := process.Kill(); err != nil {
			l.t.Fatal(err)
		}
		for deadline := time.Now().Add(patience); !errors.Is(process.Signal(os.Interrupt), os.ErrProcessDone); time.Sleep(5 * time.Millisecond) {
			if time.Now().After(deadline) {
				l.t.Fatal("the browser does not die")
			}
		}
		l.b = nil
	} else {
		chromedp.Cancel(p.ctx)
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	return slices.Clone(l.told)
}

// acknowledged is a check as a page showed it beside "Saved on this device".
type acknowledged struct {
	ID    string
	Words string
	Said  []string
}

// saidOf lists what was said in a check as its page does.
func saidOf(c *pantry.Check) (said []string) {
	for i, a := range c.Answers {
		if slices.ContainsFunc(c.Answers[i+1:], func(b pantry.Answer) bool { return b.Sign == a.Sign }) {
			continue
		}
		id, _ := rules.SignByID(a.Sign)
		var labels []string
		for _, v := range id.Info().Values {
			if slices.Contains(a.Values, v.ID) {
				labels = append(labels, v.Label)
			}
		}
		words := strings.Join(labels, ", or: ")
		if len(labels) == len(id.Info().Values) {
			words = "don't know"
		}
		said = append(said, id.Info().Name+": "+words)
	}
	return said
}

// in tells what of an acknowledged check is not in the stored one.
func (a *acknowledged) missing(c *pantry.Check) (lost []string) {
	said := saidOf(c)
	for _, s := range a.Said {
		if !slices.Contains(said, s) {
			lost = append(lost, s)
		}
	}
	number := func(words string) int {
		n, _ := strconv.Atoi(strings.TrimPrefix(words, "words "))
		return n
	}
	if number(c.Label) < number(a.Words) {
		lost = append(lost, a.Words)
	}
	return lost
}

// seedOfMoments fixes when the browser dies.
const seedOfMoments = 20261125

// At seeded moments the tab is closed or the whole browser killed: while a check
// is answered, a sweep is walked, a backup is taken in, or a database of the
// first schema is brought up to date. On the same profile everything is found
// that a page had said was saved, and nothing is half-written. MOMENTS says how
// many; a kill ends the program as a crash does, it is not a power cut.
func TestKilled(t *testing.T) {
	moments := 20
	if v := os.Getenv("MOMENTS"); v != "" {
		n, err := strconv.Atoi(v)
		if err != nil || n < 1 {
			t.Fatalf("MOMENTS is %q, want a number", v)
		}
		moments = n
	}
	t.Logf("%d moments, seed %d", moments, seedOfMoments)
	l := &life{t: t, dir: t.TempDir()}
	// Each activity has an origin, and so a database, of its own.
	var sites [4]*site
	for i := range sites {
		sites[i] = serve(t, "")
	}
	draw := rand.New(rand.NewPCG(seedOfMoments, 0))
	seen := map[string]int{}
	kept := map[string]acknowledged{} // every check that was ever said to be saved
	for i := range moments {
		what, kill := i%4, (i/4+i)%2 == 0
		s, delay := sites[what], time.Duration(draw.IntN(1000))*time.Millisecond
		p := l.page(s, draw.IntN(1<<30))
		note := func(outcome string) {
			how := "tab"
			if kill {
				how = "browser"
			}
			seen[[]string{"check", "sweep", "import", "migration"}[what]+", "+how+": "+outcome]++
		}
		found := func() database {
			q := l.page(s, 0)
			q.load(plainPage)
			d := q.dump()
			chromedp.Cancel(q.ctx)
			return d
		}
		switch what {
		case 0:
			products := []string{"green-beans", "peaches", "strawberry-jam"}
			p.load("/check?product=" + products[draw.IntN(len(products))])
			l.hears("check")
			time.Sleep(delay)
			id := ""
			for _, told := range l.die(p, kill) {
				if text, ok := strings.CutPrefix(told, "check "); ok {
					var a acknowledged
					if err := json.Unmarshal([]byte(text), &a); err != nil {
						t.Fatal(err)
					}
					kept[a.ID], id = a, a.ID
				}
			}
			note(fmt.Sprintf("%d answers and words", min(9, len(kept[id].Said))))
			all := found().records(t)
			for id, a := range kept {
				c, ok := all[id].(*pantry.Check)
				if !ok {
					t.Errorf("moment %d: the check %s is lost", i, id)
				} else if lost := a.missing(c); len(lost) > 0 {
					t.Errorf("moment %d: lost of the check %s: %q, it holds %q, %q", i, id, lost, saidOf(c), c.Label)
				}
			}
		case 1:
			if i/4%10 == 0 {
				records, err := pantry.Demo(time.Now())
				if err != nil {
					t.Fatal(err)
				}
				p.load(plainPage)
				p.restore(now(t, records))
			}
			p.load("/sweep")
			l.hears("walk")
			time.Sleep(delay)
			at := 0
			said := l.die(p, kill)
			for _, told := range said {
				if n, err := strconv.Atoi(strings.TrimPrefix(told, "walk ")); err == nil {
					at = n
				}
			}
			note("walked")
			all := found().records(t)
			running, begun, done := "", 0, 0
			for id, r := range all {
				if sweep, ok := r.(*pantry.Sweep); ok && sweep.Ended == nil {
					running = id
					begun++
				}
			}
			if begun > 1 {
				t.Errorf("moment %d: %d sweeps were begun", i, begun)
			}
			for id, r := range all {
				jar, ok := r.(*pantry.Jar)
				if !ok || running == "" {
					continue
				}
				noted := 0
				for _, e := range jar.Events {
					if e.Sweep == running {
						noted++
					}
				}
				if noted > 1 {
					t.Errorf("moment %d: jar %s was noted %d times", i, id, noted)
				}
				done += noted
			}
			if done < at-1 {
				t.Errorf("moment %d, after %v: the page had come to jar %d, and %d are stored as looked at; %q", i, delay, at, done, said)
			}
		case 2:
			before, after, backup := importing(t)
			p.load(plainPage)
			p.restore(before)
			p.visit("/keeping")
			p.tap(saying("button", "Take in a backup"))
			p.give("backup.json", backup)
			p.wait("!!(" + saying("button", "Take it in") + ")")
			eval[bool](p, `(setTimeout(() => `+saying("button", "Take it in")+`.click(), 20), true)`)
			l.hears("writing")
			time.Sleep(delay / 5)
			said := slices.Contains(l.die(p, kill), "import")
			d := found()
			d.records(t)
			switch {
			case same(d, after) && said:
				note("there, and said so")
			case same(d, after):
				note("there")
			case same(d, before) && !said:
				note("absent")
			default:
				t.Errorf("moment %d: the import is neither there nor absent, or was said to be there (%v)", i, said)
			}
		case 3:
			first := stored(t, "1.json")
			p.load(plainPage)
			p.restore(first)
			p.load("/check?product=peaches")
			if draw.IntN(4) == 0 {
				time.Sleep(delay)
			} else {
				l.hears("upgrading")
				time.Sleep(delay / 5)
			}
			l.die(p, kill)
			d := found()
			note(fmt.Sprintf("schema %d", d.Version))
			d.holds(t, fmt.Sprintf("moment %d", i), first)
			if want := map[int]int{1: 2, 2: 7}[d.Version]; len(d.Stores) != want {
				t.Errorf("moment %d: %d object stores of schema %d", i, len(d.Stores), d.Version)
			}
			q := l.page(s, 0)
			q.visit("/history")
			q.wait(`document.querySelectorAll(".entry").length >= 4`)
			q.load(plainPage)
			if d = q.dump(); d.Version != 2 {
				t.Errorf("moment %d: schema %d after the next start", i, d.Version)
			}
			d.records(t)
			d.holds(t, fmt.Sprintf("moment %d, next start", i), first)
			chromedp.Cancel(q.ctx)
		}
		if t.Failed() {
			break
		}
	}
	for _, outcome := range slices.Sorted(func(yield func(string) bool) {
		for k, n := range seen {
			if !yield(fmt.Sprintf("%s: %d", k, n)) {
				return
			}
		}
	}) {
		t.Log(outcome)
	}
}

// holds fails unless every row of an earlier database is there as it was.
func (d database) holds(t testing.TB, when string, earlier database) {
	t.Helper()
	for kind, rows := range earlier.Stores {
		for id, text := range rows {
			if d.Stores[kind][id] != text {
				t.Errorf("%s: %s %s is %.100q, was %.100q", when, kind, id, d.Stores[kind][id], text)
			}
		}
	}
}

// same tells whether two databases hold the same records.
func same(a, b database) bool {
	for _, kind := range pantry.Kinds {
		x, y := a.Stores[string(kind)], b.Stores[string(kind)]
		if len(x) != len(y) {
			return false
		}
		for id := range x {
			if x[id] != y[id] {
				return false
			}
		}
	}
	return true
}

// importing makes a household of which half is on the device, a backup that
// changes that half and adds the other, and what comes of both.
func importing(t testing.TB) (before, after database, backup string) {
	t.Helper()
	records, err := pantry.Demo(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	before, after = now(t, nil), now(t, nil)
	for i, r := range records {
		jar, ok := r.(*pantry.Jar)
		if ok && i%2 == 0 {
			continue
		}
		before.put(t, r)
		if ok {
			e, err := jar.Add(pantry.Noted, time.Now())
			if err != nil {
				t.Fatal(err)
			}
			e.Words = "by the other phone"
		} else {
			r.Restore(time.Now())
		}
	}
	for _, r := range records {
		after.put(t, r)
	}
	text, err := pantry.WriteBackup(pantry.Backup{Written: time.Now(), Edition: rules.Edition, Settings: pantry.Settings{Version: pantry.Version}, Records: records})
	if err != nil {
		t.Fatal(err)
	}
	return before, after, string(text)
}
