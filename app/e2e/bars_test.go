//go:build e2e && linux

package e2e

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"larderlamp/app/demo"
	"larderlamp/app/record"
	"larderlamp/rules"
)

// fill writes a pantry into the browser's store: copies of the made-up household
// under ids of their own, with four checks for each jar; looked tells whether
// every jar on the shelf has been looked at today.
func (p *tab) fill(t testing.TB, most int, looked bool) {
	t.Helper()
	records, err := demo.Records(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	var places, batches, jars []string
	for _, r := range records {
		if j, ok := r.(*record.Jar); ok && looked && j.Standing().Stage == record.OnShelf {
			e, err := j.Add(record.Looked, time.Now())
			if err != nil {
				t.Fatal(err)
			}
			for id := range rules.SignID(rules.NumSigns) {
				if c := id.Info().Chapter; c == rules.ChapterOutside || c == rules.ChapterGlass {
					e.Seen = append(e.Seen, record.Seen{Sign: id.ID(), Values: []string{id.Info().Sound.ID()}})
				}
			}
		}
		text, err := r.Encode()
		if err != nil {
			t.Fatal(err)
		}
		switch r.(type) {
		case *record.Place:
			places = append(places, string(text))
		case *record.Batch:
			batches = append(batches, string(text))
		case *record.Jar:
			jars = append(jars, string(text))
		}
	}
	c, err := record.NewCheck("peaches", time.Now())
	if err != nil {
		t.Fatal(err)
	}
	c.Edition, c.Lowest, c.Highest = "2026.1", "keep", "discard"
	for _, sign := range []string{"lid", "press", "lift", "seep", "rust", "glass", "cloud", "bubbles"} {
		c.Answers = append(c.Answers, record.Answer{Sign: sign, Values: []string{"down"}, Question: sign, At: c.Begun})
	}
	check, err := c.Encode()
	if err != nil {
		t.Fatal(err)
	}
	eval[bool](p, fmt.Sprintf(`(async () => {
		const most = %d, places = %s, batches = %s, jars = %s, check = %s;
		const db = await new Promise((ok, bad) => { const r = indexedDB.open("larderlamp"); r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
		const tx = db.transaction(["places", "batches", "jars", "checks"], "readwrite");
		const id = n => "0199f1f0-" + (n >> 16).toString(16).padStart(4, "0") + "-7" + (n >> 4 & 0xfff).toString(16).padStart(3, "0") + "-8" + (n & 0xf).toString(16).padStart(3, "0") + "-000000000000";
		for (const r of places) tx.objectStore("places").put(r, JSON.parse(r).id);
		let n = 0;
		for (let copy = 0; n < most; copy++) {
			const names = new Map();
			for (const r of batches) {
				const old = JSON.parse(r).id, fresh = id(++n + 1000000);
				names.set(old, fresh);
				tx.objectStore("batches").put(r.replace(old, fresh), fresh);
			}
			for (const r of jars) {
				if (n >= most) break;
				const jar = JSON.parse(r), fresh = id(++n);
				tx.objectStore("jars").put(r.replace(jar.id, fresh).replace(jar.batch, names.get(jar.batch)), fresh);
			}
		}
		const old = JSON.parse(check).id;
		for (let i = 0; i < 4 * most; i++) tx.objectStore("checks").put(check.replace(old, id(i + 5000000)), id(i + 5000000));
		await new Promise((ok, bad) => { tx.oncomplete = ok; tx.onerror = () => bad(tx.error) });
		db.close();
		return true })()`, most, list(places), list(batches), list(jars), quoted(string(check))))
}

func list(texts []string) string {
	s := "["
	for i, t := range texts {
		if i > 0 {
			s += ","
		}
		s += quoted(t)
	}
	return s + "]"
}

// plainJS reads rows as a program without a framework would, and returns the
// milliseconds.
const plainJS = `(async (kinds) => {
	const db = await new Promise((ok, bad) => { const r = indexedDB.open("larderlamp"); r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
	const from = performance.now();
	const all = [];
	for (const kind of kinds) {
		const rows = await new Promise((ok, bad) => { const r = db.transaction(kind).objectStore(kind).getAll(); r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
		all.push(rows.map(row => JSON.parse(row)));
	}
	const took = performance.now() - from;
	db.close();
	return took + (all.length > 99 ? 1 : 0) })`

// between returns the milliseconds between the last marks with two names.
func (p *tab) between(a, b string) float64 {
	p.t.Helper()
	return eval[float64](p, fmt.Sprintf(`performance.getEntriesByName(%q).at(-1).startTime - performance.getEntriesByName(%q).at(-1).startTime`, b, a))
}

// reference does the fixed work in the program of the page, and returns the
// milliseconds of both halves.
func (p *tab) reference() (decode, pass float64) {
	p.t.Helper()
	took := eval[map[string]float64](p, `(async () => {
		const program = new Go();
		program.argv = ["reference"];
		program.exit = () => {}; // the page goes on
		const { instance } = await WebAssembly.instantiateStreaming(fetch(document.documentElement.dataset.wasm), program.importObject);
		await program.run(instance);
		return window.larderReference })()`)
	if took["found"] == 0 {
		p.t.Fatal("got no result from the reference work")
	}
	return took["decode"], took["pass"]
}

// longest is how many rows the longest list or table of a page has.
const longest = `Math.max(0, ...[...document.querySelectorAll("main :is(ul, ol, tbody)")].map(e => e.children.length))`

// keys types a word into the search of a list, and returns the milliseconds that
// the slowest key took until the list said something else.
func (p *tab) keys(list string) float64 {
	p.t.Helper()
	slowest := eval[float64](p, fmt.Sprintf(`(async () => {
		const find = document.querySelector("#find"), says = () => document.querySelector(%q).innerText;
		let worst = 0;
		for (const text of ["p", "pe", "pea", "peac", "peach"]) {
			const was = says(), from = performance.now();
			find.value = text;
			find.dispatchEvent(new Event("input", { bubbles: true }));
			while (performance.now() - from < 400 && says() === was) await new Promise(done => setTimeout(done, 0));
			if (says() !== was) worst = Math.max(worst, performance.now() - from);
		}
		return worst })()`, list))
	if slowest == 0 {
		p.t.Fatalf("got no change in %s after any key", list)
	}
	return slowest
}

// BenchmarkBars measures the shelf with 10,000 jars and 40,000 checks, beside
// plain JavaScript in the same page, and then a trip: medians where a page is
// opened several times, and otherwise the slowest. Times are no test: it is run
// by `make bench`, and wasm/bars knows the bars.
func BenchmarkBars(b *testing.B) {
	for b.Loop() {
		for _, measure := range []func(*testing.B, *site){bars, tabs, trips, sweeps} {
			s := serve(b, "") // with a shelf of its own
			<-s.packed        // it would take the time that is measured
			measure(b, s)
		}
	}
}

func bars(b *testing.B, s *site) {
	p := start(b).open(s, phone)
	p.visit("/shelf")
	p.wait(`document.querySelector("main").innerText.includes("Add the first batch")`)
	p.installed()
	p.fill(b, 10000, false)
	var opens, same, whole, judges, keys []float64
	rows := 0
	for range 5 {
		p.visit("/shelf")
		p.wait(`performance.getEntriesByName("judged").length > 0 && document.querySelectorAll(".row-jar").length > 0`)
		opens = append(opens, p.between("shelf-asked", "shelf-read"))
		judges = append(judges, p.between("judging", "judged"))
		same = append(same, eval[float64](p, plainJS+`(["places", "batches", "jars", "sweeps", "trips"])`))
		whole = append(whole, eval[float64](p, plainJS+`(["places", "batches", "jars", "sweeps", "trips", "checks"])`))
		keys = append(keys, p.keys(".found"))
	}
	p.visit("/shelf")
	for range 10 { // as far as the list goes
		p.wait(longest + " > 0")
		rows = max(rows, eval[int](p, longest))
		if more := saying("main button", "Show more"); eval[bool](p, "!!"+more) {
			p.tap(more)
			p.drawn()
		}
	}
	p.view("/history")
	for range 10 {
		p.wait(longest + " > 0")
		rows = max(rows, eval[int](p, longest))
		if more := saying("main button", "Older checks"); eval[bool](p, "!!"+more) {
			p.tap(more)
			p.drawn()
		}
	}
	for _, path := range []string{"/stock", "/labels", "/places", "/batch", "/keeping"} {
		p.view(path)
		rows = max(rows, eval[int](p, longest))
	}
	p.visit("/sweep")
	p.wait(`!!(` + saying("button", "Begin:") + `)`)
	p.tap(saying("button", "Begin:"))
	p.next(1)
	next := eval[float64](p, `(async () => {
		let worst = 0;
		for (let i = 0; i < 20; i++) {
			const was = document.querySelector(".walk .stand .hint").innerText;
			const from = performance.now();
			document.querySelector(".hands .sound").click();
			while (document.querySelector(".walk .stand .hint").innerText === was) await new Promise(done => setTimeout(done, 0));
			worst = Math.max(worst, performance.now() - from);
			await new Promise(done => setTimeout(done, 300));
		}
		return worst })()`)
	p.tap(saying("button", "not in the list"))
	p.wait(`!!document.querySelector("#find")`)
	b.ReportMetric(p.keys(".products"), "batch-key-ms")
	decode, pass := p.reference()
	b.ReportMetric(decode, "decode-ms")
	b.ReportMetric(pass, "pass-ms")
	b.ReportMetric(median(opens), "open-ms")
	b.ReportMetric(median(same), "same-plain-ms")
	b.ReportMetric(median(whole), "whole-plain-ms")
	b.ReportMetric(median(judges), "judge-ms")
	b.ReportMetric(median(keys), "key-ms")
	b.ReportMetric(next, "touch-ms")
	b.ReportMetric(float64(max(rows, eval[int](p, longest))), "rows")
}

// trips measures the planning of a trip: 500 jars, 7 days, 5 people, without a
// limit, with 40 and with 20 kg.
func trips(b *testing.B, s *site) {
	p := start(b).open(s, phone)
	p.visit("/shelf")
	p.wait(`document.querySelector("main").innerText.includes("Add the first batch")`)
	p.installed()
	p.fill(b, 500, true)
	p.visit("/trip")
	p.tap(saying("button", "Plan a trip"))
	for label, value := range map[string]string{"Days": "7", "People": "5", "Fruit": "7", "Jam and spread": "5", "Pickles and salsa": "5", "Tomatoes and sauce": "4", "Vegetables": "7", "Soup and broth": "3", "Meat and fish": "7"} {
		p.set(label, value)
	}
	var plans, slides []float64
	for i, limit := range []string{"0", "40", "20"} {
		if i > 0 {
			p.tap(saying("button", "Change the trip"))
		}
		p.tap(saying("summary", "Limits"))
		p.set("Jars weigh at most, 0 for no limit (kg)", limit)
		p.drawn()
		was := eval[int](p, `performance.getEntriesByName("planned").length`)
		p.tap(saying("button", "Work it out"))
		p.wait(fmt.Sprintf(`performance.getEntriesByName("planned").length > %d && !!document.querySelector(".trip-days")`, was))
		plans = append(plans, p.between("choosing", "planned"))
		slides = append(slides, eval[float64](p, `(async () => {
			const slider = document.querySelector("#hotter");
			let worst = 0;
			for (let n = 1; n <= 15; n++) {
				const from = performance.now();
				slider.value = n;
				slider.dispatchEvent(new Event("input", { bubbles: true }));
				while (!document.querySelector(".slide span").innerText.startsWith(n + " ")) await new Promise(done => setTimeout(done, 0));
				worst = Math.max(worst, performance.now() - from);
			}
			return worst })()`))
	}
	b.ReportMetric(slices.Max(plans), "plan-ms")
	b.ReportMetric(slices.Max(slides), "slide-ms")
}

// tabs measures the way from each tab of the header to every other with 300 jars,
// four times slowed: the slowest median.
func tabs(b *testing.B, s *site) {
	p := start(b).open(s, phone)
	p.visit("/shelf")
	p.installed()
	p.fill(b, 300, false)
	p.visit("/shelf")
	p.wait(`document.querySelectorAll(".row-jar").length > 0`)
	p.call("Emulation.setCPUThrottlingRate", map[string]any{"rate": 4})
	took := map[string][]float64{}
	var decodes []float64 // in every round, which another program may disturb
	headers := []string{"/check", "/shelf", "/sweep", "/trip", "/learn"}
	for range 3 {
		decode, _ := p.reference()
		decodes = append(decodes, decode)
		for _, from := range headers {
			for _, to := range headers {
				if from == to {
					continue
				}
				for _, step := range []string{from, to} {
					ms := eval[float64](p, fmt.Sprintf(`(async () => {
						if (location.pathname === %[1]q) return 0;
						const was = document.querySelector("main h1"), from = performance.now();
						document.querySelector("header nav a[href='" + %[1]q + "']").click();
						while (document.querySelector("main h1") === was || document.activeElement?.id !== "title") await new Promise(done => setTimeout(done, 0));
						await new Promise(done => requestAnimationFrame(() => setTimeout(done)));
						return performance.now() - from })()`, step))
					p.drawn()
					if step == to {
						took[from+to] = append(took[from+to], ms)
					}
				}
			}
		}
	}
	slowest := 0.0
	for _, ms := range took {
		slowest = max(slowest, median(ms))
	}
	b.ReportMetric(slowest, "tab-ms")
	b.ReportMetric(median(decodes), "slow-decode-ms")
}

// sweeps measures the memory of the page after the first of 21 sweeps of 300 jars and
// after the last, and that of a page loaded afterward that makes one more sweep: the
// records are the same, so any difference is a leak.
func sweeps(b *testing.B, s *site) {
	p := start(b).open(s, phone)
	p.call("Page.addScriptToEvaluateOnNewDocument", map[string]any{"source": `(() => {
		const made = WebAssembly.instantiate;
		WebAssembly.instantiate = async (...what) => { const is = await made(...what); window.programMemory = (is.instance ?? is).exports.mem; return is };
	})()`})
	p.call("HeapProfiler.enable", nil)
	p.visit("/about")
	p.installed()
	p.cellars()
	sweep := func() (heap float64) {
		p.turn("/sweep")
		// All jars, also those that were looked at today.
		due := `[...document.querySelectorAll("main label")].find(e => e.innerText.includes("Only jars that are due"))`
		p.wait("!!" + due)
		if eval[bool](p, due+".control.checked") {
			p.tap(due)
		}
		p.tap(saying("button", "Begin: 300 jars"))
		p.next(1)
		looked := eval[int](p, `(async () => {
			const hint = () => document.querySelector(".walk .stand .hint")?.innerText ?? "";
			let n = 0;
			while (document.querySelector(".walk")) {
				const was = hint();
				document.querySelector("#sound").click();
				n++;
				for (const end = performance.now() + 30000; document.querySelector(".walk") && hint() === was;) {
					if (performance.now() > end) throw new Error("the walk stays at " + was);
					await new Promise(done => setTimeout(done, 0));
				}
			}
			return n })()`)
		if looked != 300 {
			b.Fatalf("got %d jars looked at", looked)
		}
		p.tap(saying("button", "End the sweep and see what was found"))
		p.wait(`!!document.querySelector(".report") && !window.larderWriting`)
		p.call("HeapProfiler.collectGarbage", nil)
		var in struct {
			Scripts float64 `json:"usedSize"`
			Page    float64 `json:"embedderHeapUsedSize"`
		}
		if err := p.ask("Runtime.getHeapUsage", nil, &in); err != nil {
			b.Fatal(err)
		}
		program := eval[float64](p, `window.programMemory.buffer.byteLength`)
		b.Logf("scripts %.0f kB, page %.0f kB, program %.0f kB", in.Scripts/1000, in.Page/1000, program/1000)
		return (in.Scripts + in.Page + program) / 1000
	}
	b.ReportMetric(sweep(), "sweep-heap-kB")
	last := 0.0
	for range 20 {
		last = sweep()
	}
	b.ReportMetric(last, "sweeps-heap-kB")
	p.visit("/sweep")
	b.ReportMetric(sweep(), "afresh-heap-kB")
}

func median(v []float64) float64 {
	slices.Sort(v)
	return v[len(v)/2]
}
