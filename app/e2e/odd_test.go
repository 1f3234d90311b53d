//go:build e2e && linux

package e2e

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"larderlamp/app/backup"
	"larderlamp/app/e2e/drive"
	"larderlamp/app/record"
	"larderlamp/rules"
)

// oddAddresses are what a person, a bookmark of another edition or a damaged label
// may ask for. {jar} stands for a jar that is there.
var oddAddresses = []string{
	"/jar", "/jar?id=", "/jar?id=x", "/jar?id={jar}", "/jar?id={jar}&do=discarded", "/jar?id={jar}&do=nothing", "/jar?id={jar}&id=x", "/jar?id=%", "/jar?id={jar}#main", "/jar/?id={jar}",
	"/jar?id=01a21812-80de-7a44-86f2-6aad73526e7a", "/jar?ID={jar}", "/jar?id=../../x", "/jar?id=<b>", "/jar?id=%00", "/jar#id={jar}",
	"/batch", "/batch?id=x", "/batch?id={jar}", "/batch?id=&place=x", "/batch?id=x&place={jar}",
	"/check?id=x", "/check#id=x", "/check#id={jar}", "/check?product=", "/check?product=x", "/check#product=peaches&product=x", "/check#product=%ff", "/check?product=peaches#product=green-beans", "/check##", "/check#=", "/check#id", "/check#main",
	"/sweep?report=x", "/sweep?report={jar}", "/sweep?report=", "/trip?id=x", "/trip?id={jar}",
	"/labels?batch=x", "/labels?jar={jar}", "/labels?jar=x&batch=y", "/keeping?demo=fill", "/keeping?demo=x",
	"/signs?product=x", "/signs?sign=x", "/signs#product=x", "/practice?product=x", "/practice#product=peaches", "/class?set=x&n=-1", "/class?set=1e99&n=99999", "/learn?lesson=x", "/rules#x", "/history?after=x", "/nowhere", "/shelf?x=%zz",
}

// oddToLoad are those of them that are odd for the browser, its worker and the host
// too, and not for the program alone.
var oddToLoad = []string{
	"/jar?id=%", "/jar/?id={jar}", "/jar?id=../../x", "/jar?id=<b>", "/jar?id=%00", "/jar?id={jar}&id=x",
	"/check#product=%ff", "/check##", "/check#main", "/class?set=1e99&n=99999", "/nowhere", "/shelf?x=%zz",
}

// oddBrowsers are what a browser may lack, by the page on which it does, and what
// that page has to come to. A finger finds out more in TestOddBrowsers.
var oddBrowsers = map[string]struct{ lacks, ends string }{
	"/check?without=storage": {`for (const name of ["localStorage", "sessionStorage", "indexedDB"]) Object.defineProperty(window, name, { get() { throw new DOMException("a test", "SecurityError") } })`, finds},
	"/check?without=name":    {`Object.defineProperty(Navigator.prototype, "userAgent", { get: () => "Mozilla/5.0 (Linux; Android 14; Cubot X70) Googlebot" })`, finds},
	"/check?wasm=false":      {``, finds},
	"/check?without=wasm":    {`delete window.WebAssembly`, state + ` === "notice" && document.querySelector("#unready.unstarted")?.innerText.includes("could not start")`},
	"/check?without=memory":  {`WebAssembly.instantiate = () => Promise.reject(new RangeError("a test"))`, state + ` === "notice" && document.querySelector("#unready.unstarted")?.innerText.includes("could not start") && !document.querySelector("#unready").innerText.includes("a test")`},
}

// finds is JavaScript that types a food as soon as the program runs, and tells
// whether it was found.
const finds = `(field => {
	if (!field || !("runs" in document.documentElement.dataset)) return false;
	if (!field.value) { field.value = "peaches"; field.dispatchEvent(new Event("input", { bubbles: true })) }
	return !!document.querySelector(".picker .product");
})(document.querySelector("#product"))`

// oddBrowser lacks what its page says, before the first script of the page.
func oddBrowser() string {
	var b strings.Builder
	b.WriteString("switch (location.pathname + location.search) {\n")
	for page, odd := range oddBrowsers {
		fmt.Fprintf(&b, "case %q: %s; break;\n", page, odd.lacks)
	}
	return b.String() + "}"
}

// wrongFile is a backup of a sound household that was put wrong: references that
// lead elsewhere, values that are of another kind or from another place, or bytes
// that were lost on the way. What it gives is the same for one number and time.
func wrongFile(t testing.TB, n int, now time.Time) []byte {
	t.Helper()
	r := rand.New(rand.NewPCG(300, uint64(n)))
	wrong := soundHousehold(t, now)
	if n%5 < 3 {
		for i, rec := range wrong {
			switch rec := rec.(type) {
			case *record.Batch:
				if r.IntN(2) == 0 {
					wrong[i] = wrong[0] // the batch is left out
					rec.Delete(now)
				}
			case *record.Jar:
				rec.Events[0].Place = wrong[r.IntN(len(wrong))].Key()
				if r.IntN(3) == 0 {
					rec.Batch = wrong[r.IntN(len(wrong))].Key()
				}
			}
		}
	}
	seen, kept := map[string]bool{}, []record.Record{}
	for _, rec := range wrong {
		if !seen[rec.Key()] {
			kept = append(kept, rec)
		}
		seen[rec.Key()] = true
	}
	text, err := backup.Write(backup.File{Written: now, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: kept})
	if err != nil {
		t.Fatal(err)
	}
	switch n % 5 {
	case 3:
		var all any
		if err := json.Unmarshal(text, &all); err != nil {
			t.Fatal(err)
		}
		for range 1 + r.IntN(3) {
			places := placesOf(all)
			from, to := places[r.IntN(len(places))], places[r.IntN(len(places))]
			odd := []any{nil, -1, 1e99, 0.5, "", "x", "<b>", strings.Repeat("long ", 2000), true, []any{}, map[string]any{}, "2999-12-31", "0001-01-01T00:00:00Z", from.get()}
			to.set(odd[r.IntN(len(odd))])
		}
		if text, err = json.Marshal(all); err != nil {
			t.Fatal(err)
		}
	case 4:
		at := r.IntN(len(text))
		switch r.IntN(3) {
		case 0:
			text = text[:at]
		case 1:
			text[at] ^= byte(1 << r.IntN(8))
		default:
			text = slices.Concat(text[:at], text[max(0, at-r.IntN(400)):])
		}
	}
	return text
}

// valuePlace is where a value stands in a document of JSON.
type valuePlace struct {
	get func() any
	set func(any)
}

// placesOf returns all of them, in the same order every time.
func placesOf(of any) (all []valuePlace) {
	switch of := of.(type) {
	case []any:
		for i := range of {
			all = append(all, valuePlace{func() any { return of[i] }, func(v any) { of[i] = v }})
			all = append(all, placesOf(of[i])...)
		}
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(of)) {
			all = append(all, valuePlace{func() any { return of[k] }, func(v any) { of[k] = v }})
			all = append(all, placesOf(of[k])...)
		}
	}
	return all
}

// span returns the numbers that a variable of the environment asks for: so many, or
// as 60-90 those from the 61st to the 90th.
func span(t *testing.T, variable string, usual int) (first, end int) {
	t.Helper()
	text := os.Getenv(variable)
	if text == "" {
		return 0, usual
	}
	from, to, part := strings.Cut(text, "-")
	if !part {
		from, to = "0", text
	}
	first, err := strconv.Atoi(from)
	if err == nil {
		end, err = strconv.Atoi(to)
	}
	if err != nil || first < 0 || end < first {
		t.Fatalf("%s: %q is neither a number nor such as 60-90", variable, text)
	}
	return first, end
}

// Whatever is asked for, no address ends the program or leaves the page without a
// heading, in any engine: in Chromium each is loaded, in the others all are turned to
// as links do, and those are loaded that are odd for more than the program. Nor does
// any file that was put wrong: it is refused, and
// nothing of it is there, or it is brought in, and every screen says of each jar what
// the records say. FILES says how many files, or as 60-90 which of them, without
// the addresses; references that lead elsewhere are tried one by one in the tests
// of the screens.
func TestOddAddressesAndFiles(t *testing.T) {
	first, end := span(t, "FILES", 5)
	inEveryEngine(t, func(t *testing.T, e drive.Engine) {
		s := serve(t, "")
		b := drive.Start(t, e, dress)
		w := &window{Tab: b.Open(t, s.url(""), drive.Phone)}
		w.visit("/keeping")
		w.settled()
		if first == 0 {
			records := soundHousehold(t, time.Now())
			put(w.Tab, records)
			address := func(odd string) string { return strings.ReplaceAll(odd, "{jar}", records[3].Key()) }
			toLoad := oddAddresses
			if e != drive.Chromium {
				toLoad = oddToLoad
				for _, odd := range oddAddresses {
					w.Turn(address(odd))
					showsPage(w.Tab, "a link to "+odd)
				}
			}
			// Several pages load at once.
			tabs := make([]*drive.Tab, 6)
			open := func() {
				for i := range tabs {
					tabs[i] = b.Open(t, s.url(""), drive.Phone)
				}
			}
			load := func(group []string) {
				for i, odd := range group {
					tabs[i].Blank()
					drive.Eval[bool](tabs[i], fmt.Sprintf(`(setTimeout(() => location.assign(%q)), true)`, s.url(address(odd))))
				}
			}
			open()
			for group := range slices.Chunk(toLoad, len(tabs)) {
				load(group)
				if b.Hung(tabs[:len(group)], `location.protocol !== "about:" && `+drive.Runs) {
					w = &window{Tab: b.Open(t, s.url(""), drive.Phone)}
					w.visit("/keeping")
					w.settled()
					open()
					load(group)
				}
				for i, odd := range group {
					tabs[i].Wait(`location.protocol !== "about:"`)
					tabs[i].Running()
					showsPage(tabs[i], odd)
				}
			}
			for _, p := range tabs {
				p.Close()
			}
		}
		refused := 0
		for n := first; n < end; n++ {
			if !w.bringIn(n) {
				refused++
			}
		}
		t.Logf("files %d to %d: %d refused, the others brought in", first+1, end, refused)
	})
}

// A browser that lacks something still finds a food where it can, and
// otherwise says in plain words that the guide could not start, in every engine.
func TestOddBrowsersInEveryEngine(t *testing.T) {
	s := serve(t, "")
	inEveryEngine(t, func(t *testing.T, e drive.Engine) {
		b := drive.Start(t, e, oddBrowser())
		for page, odd := range oddBrowsers {
			p := b.Open(t, s.url(""), drive.Phone)
			p.ExpectFaults = true // WebKit says to one page what it hears from any
			drive.Eval[bool](p, fmt.Sprintf(`(setTimeout(() => location.assign(%q)), true)`, s.url(page)))
			p.Wait(`location.protocol !== "about:" && ` + odd.ends)
		}
	})
}

// showsPage fails if a page shows nothing, has ended, or is wider than its screen.
func showsPage(p *drive.Tab, where string) {
	p.T.Helper()
	p.Wait(`!document.querySelector("main")?.innerText.includes("Opening what is kept")`)
	if p.Has(".stopped, .unstarted") || !p.Has("main h1") {
		p.T.Errorf("%s: got a stopped program or an empty page: %.200s", where, p.Text("body"))
	}
	if wide := drive.Eval[int](p, `document.documentElement.scrollWidth - innerWidth`); wide > 0 {
		p.T.Errorf("%s: got a page %d px wider than the screen", where, wide)
	}
}

// bringIn gives a wrong file to a device on which nothing is kept and looks at
// every page. It tells whether the file was brought in.
func (w *window) bringIn(n int) bool {
	w.T.Helper()
	file := filepath.Join(w.T.TempDir(), "wrong.json")
	if err := os.WriteFile(file, wrongFile(w.T, n, time.Now()), 0o600); err != nil {
		w.T.Fatal(err)
	}
	drive.Eval[bool](w.Tab, `(async () => {
		const done = r => new Promise((ok, bad) => { r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
		const db = await done(indexedDB.open("larderlamp"));
		const txn = db.transaction([...db.objectStoreNames], "readwrite");
		for (const kind of db.objectStoreNames) txn.objectStore(kind).clear();
		await new Promise((ok, bad) => { txn.oncomplete = ok; txn.onabort = () => bad(txn.error) });
		db.close();
		return true })()`)
	w.visit("/keeping")
	w.settled()
	w.Touch("button", "Bring in a backup")
	w.Files("input[data-choose]", file)
	w.Wait(`!!(` + drive.Saying("button", "Bring it in") + `) || /Nothing was brought in|Nothing: all of it/.test(document.querySelector("main").innerText)`)
	where := fmt.Sprintf("file %d", n)
	brought := drive.Eval[bool](w.Tab, `!!(`+drive.Saying("button", "Bring it in")+`)`)
	if brought {
		w.act("Bring it in")
		w.Wait(`document.querySelector("main").innerText.includes("Brought in:")`)
	}
	jar, rows := "x", 0
	for kind, all := range allRows(w.Tab) {
		rows += len(all)
		for _, row := range all {
			if r, err := record.Decode(record.Kind(kind), []byte(row)); kind == string(record.Jars) && err == nil {
				jar = r.Key()
			}
		}
	}
	if brought != (rows > 0) {
		w.T.Errorf("%s: got imported %v, with %d rows stored", where, brought, rows)
	}
	for _, page := range []string{"/shelf", "/jar?id=" + jar, "/stock", "/sweep", "/labels", "/trip", "/places", "/history"} {
		// By a link, so that the program is the same all the way.
		drive.Eval[bool](w.Tab, fmt.Sprintf(`(a => { a.href = %q; document.querySelector("main").append(a); a.click(); return true })(document.createElement("a"))`, page))
		w.Wait(fmt.Sprintf(`location.pathname + location.search === %q || !!document.querySelector(".stopped")`, page))
		w.Drawn()
		w.settled()
		showsPage(w.Tab, where+", "+page)
		if brought && page != "/stock" {
			w.current(where + ", " + page)
		}
	}
	return brought
}
