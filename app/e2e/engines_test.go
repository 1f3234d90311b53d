//go:build e2e && linux

package e2e

import (
	"encoding/base64"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rsc.io/qr"

	"larderlamp/app/backup"
	"larderlamp/app/e2e/drive"
	"larderlamp/app/record"
	"larderlamp/rules"
)

// guide is a tab in any engine, with what a household does in it.
type guide struct{ *drive.Tab }

// inEveryEngine does the same in each engine.
func inEveryEngine(t *testing.T, do func(t *testing.T, e drive.Engine)) {
	t.Helper()
	inEngines(t, drive.Engines, do)
}

// inEngines does the same in some engines, one after the other: each has a browser,
// an address and storage of its own.
func inEngines(t *testing.T, engines []drive.Engine, do func(t *testing.T, e drive.Engine)) {
	t.Helper()
	for _, e := range engines {
		t.Run(string(e), func(t *testing.T) {
			speaks(t, e)
			do(t, e)
		})
	}
}

// labeled is JavaScript for the choice with exactly these words.
func labeled(words string) string {
	return fmt.Sprintf(`[...document.querySelectorAll("label.choice")].find(e => e.innerText.trim() === %q)`, words)
}

// touched is one way to answer: one touch, and nothing else.
func (p guide) touched(words string) { p.T.Helper(); p.Tap(labeled(words)) }

// keyed is the other: keys alone. Space marks the first choice, arrows move on,
// Enter gives the answer; nothing is answered before that.
func (p guide) keyed(words string) {
	p.T.Helper()
	ask := p.Text(".question h1")
	p.Walk(`e.name === "choice"`)
	p.Press(" ")
	for range 20 {
		if drive.Eval[bool](p.Tab, fmt.Sprintf(`document.activeElement.checked && document.activeElement.closest("label").innerText.trim() === %q`, words)) {
			break
		}
		p.Press(drive.Down)
	}
	p.Drawn()
	if got := p.Text(".question h1"); got != ask {
		p.T.Errorf("%s: got the question %q after %q, want no answer before Enter", p.Engine, got, ask)
	}
	p.Press(drive.Enter)
}

// product looks for a food and begins a check of it.
func (p guide) product(id string) (*rules.Product, rules.Situation) {
	p.T.Helper()
	food, ok := rules.ProductByID(id)
	if !ok {
		p.T.Fatalf("no product %q", id)
	}
	p.Turn("/check")
	p.Tap(`document.querySelector("#product")`)
	p.Type(food.Name.String())
	p.Wait(fmt.Sprintf(`document.querySelector(".picker .product span")?.innerText === %q`, food.Name))
	p.Drawn()
	if p.Screen.Touch {
		p.Tap(`document.querySelector(".picker .product")`)
	} else {
		p.Walk(`e.classList.contains("product")`)
		p.Press(drive.Enter)
	}
	p.Wait(`!!document.querySelector(".question")`)
	s := rules.NewSituation()
	if err := food.Tell(&s); err != nil {
		p.T.Fatal(err)
	}
	return food, s
}

// answer answers every question about a jar that is sound except for what is
// noticed, and compares every question with the rules.
func (p guide) answer(food *rules.Product, s rules.Situation, noticed []rules.Value, give func(words string)) rules.Verdict {
	p.T.Helper()
	for {
		q, more := rules.Next(s, rules.Skipped{})
		if !more {
			return rules.Judge(s).Highest
		}
		q = food.Worded(q)
		p.Wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText === %q && document.activeElement.id === "title"`, q.Ask))
		choice := q.Choices[len(q.Choices)-1]
		for _, c := range q.Choices {
			if slices.Contains(c.Tell, c.Tell[0].Sign().Info().Sound) && len(q.Signs) == 1 {
				choice = c
			}
		}
		for _, c := range q.Choices {
			if slices.Contains(noticed, c.Tell[0]) {
				choice = c
			}
		}
		give(choice.Label.String())
		if err := s.Tell(choice.Tell...); err != nil {
			p.T.Fatalf("%s to %q: %v", choice.Label, q.Ask, err)
		}
	}
}

// saved waits until the page says that it is.
func (p guide) saved() {
	p.T.Helper()
	p.Wait(`document.querySelector(".saved")?.innerText === "Saved on this device"`)
}

// set fills the field with a label, as a person would leave it.
func (p guide) set(label, value string) {
	p.T.Helper()
	p.Wait(`!!(` + control(label) + `)`)
	drive.Eval[bool](p.Tab, fmt.Sprintf(`(() => {
		const control = %s;
		control.value = %q;
		control.dispatchEvent(new Event("input", { bubbles: true }));
		control.dispatchEvent(new Event("change", { bubbles: true }));
		return true })()`, control(label), value))
	p.Drawn()
}

// says waits until the page says something.
func (p guide) says(words string) {
	p.T.Helper()
	p.Wait(fmt.Sprintf(`document.querySelector("main").innerText.includes(%q)`, words))
}

// scan begins to read a label where the camera fails, and waits until the page
// has said so: what is below moves then.
func (p guide) scan() {
	p.T.Helper()
	drive.Eval[bool](p.Tab, `(() => { MediaDevices.prototype.getUserMedia = async () => { throw new DOMException("no camera", "NotFoundError") }; return true })()`)
	p.Touch("button", "Scan a label")
	p.Wait(`!document.querySelector("#camera") && document.querySelector(".scanner").innerText.includes("The camera could not be used")`)
	p.Drawn()
}

// photograph reads a label from a photo, on the shelf.
func (p guide) photograph(name string) {
	p.T.Helper()
	p.scan()
	p.Touch("button", "Take a photo of the code")
	p.Files("input[data-choose]", name)
}

// checks are one jar for each verdict.
var checks = []struct {
	product string
	noticed []rules.Value
	verdict rules.Verdict
}{
	{"green-beans", []rules.Value{rules.LidBulged}, rules.Discard},
	{"strawberry-jam", []rules.Value{rules.AgeTwo}, rules.UseSoon},
	{"peaches", nil, rules.Keep},
}

// TestEngines is what a household does in a year, in each engine. Every engine
// has service workers, IndexedDB and the rest that this needs: nothing is left
// out anywhere.
func TestEngines(t *testing.T) {
	inEveryEngine(t, func(t *testing.T, e drive.Engine) {
		b := drive.Start(t, e)
		s := serve(t, "")
		// One tab for each screen and address goes through the year: most pages are
		// turned to as links do. What is about loading loads.
		tabs := map[string]*drive.Tab{}
		open := func(part *testing.T, as drive.Screen) guide {
			name := fmt.Sprint(s.addr, as)
			if tabs[name] == nil {
				tabs[name] = b.Open(t, s.url(""), as)
			}
			tabs[name].T = part
			return guide{tabs[name]}
		}

		for _, c := range checks {
			for name, as := range map[string]drive.Screen{"touch": drive.Phone, "keys": drive.Desktop} {
				t.Run(fmt.Sprintf("%s by %s", c.verdict, name), func(t *testing.T) {
					p := open(t, as)
					give := p.keyed
					if as.Touch {
						give = p.touched
					}
					food, s := p.product(c.product)
					if got := p.answer(food, s, c.noticed, give); got != c.verdict {
						t.Fatalf("got %s from the rules", got)
					}
					p.Wait(`!!document.querySelector(".verdict h1")`)
					if got := strings.Join(strings.Fields(p.Text(".verdict h1")), " "); got != c.verdict.String() {
						t.Errorf("the answer is %q, want %q", got, c.verdict)
					}
					p.saved()
				})
			}
		}

		t.Run("history", func(t *testing.T) {
			p := open(t, drive.Phone)
			p.Turn("/history")
			p.Wait(fmt.Sprintf(`document.querySelectorAll(".entry").length === %d`, 2*len(checks)))
			for _, c := range checks {
				food, _ := rules.ProductByID(c.product)
				if n := drive.Eval[int](p.Tab, fmt.Sprintf(`[...document.querySelectorAll(".entry")].filter(e => e.innerText.includes(%q) && e.innerText.replace(/\s+/g, " ").includes(%q)).length`, food.Name, c.verdict)); n != 2 {
					t.Errorf("got %d entries for %s: %s", n, food.Name, c.verdict)
				}
			}
		})

		t.Run("thrown out", func(t *testing.T) {
			p := open(t, drive.Phone)
			p.Turn("/history")
			entry := func(says string) string {
				return fmt.Sprintf(`[...document.querySelectorAll(".entry")].find(e => e.innerText.includes("Discard") && e.innerText.includes("Thrown out on") === %s)`, says)
			}
			p.Wait("!!" + entry("false"))
			name := drive.Eval[string](p.Tab, entry("false")+`.querySelector("h2").innerText`)
			p.Tap(entry("false") + `.querySelector(".button")`)
			p.Touch("button", "I threw it out")
			p.says("Thrown out on ")
			p.Wait(`![...document.querySelectorAll("a")].some(e => e.innerText.includes("Add it to my shelf list"))`)
			p.saved()
			p.Turn("/history")
			p.Wait("!!" + entry("true"))
			if got := drive.Eval[string](p.Tab, entry("true")+`.querySelector("h2").innerText`); got != name {
				t.Errorf("%s: got %q thrown out, want %q", p.Engine, got, name)
			}
			p.Tap(entry("true") + `.querySelector(".button")`)
			p.Touch("button", "Undo: it is not thrown out")
			p.says("What did you do with it?")
			p.saved()
			p.Turn("/history")
			p.Wait(`document.querySelectorAll(".entry").length > 0 && !document.querySelector(".became")`)
		})

		t.Run("a check with a shaky thumb", func(t *testing.T) {
			empty := serve(t, "") // another address has a history of its own
			guide{b.Open(t, empty.url(""), drive.Phone)}.shakyCheck()
		})

		t.Run("a first evening", func(t *testing.T) {
			empty := serve(t, "") // another address has a shelf of its own
			firstEvening(t, &thumb{counted{guide: guide{b.Open(t, empty.url(""), drive.Phone)}}})
		})

		t.Run("a batch", func(t *testing.T) {
			p := open(t, drive.Phone)
			food, _ := rules.ProductByID("peaches")
			p.Turn("/batch")
			p.Tap(`document.querySelector("#product")`)
			p.Type(food.Name.String())
			p.Wait(fmt.Sprintf(`document.querySelector(".picker .product span")?.innerText === %q`, food.Name))
			p.Drawn()
			p.Tap(`document.querySelector(".picker .product")`)
			p.Wait(`!!document.querySelector(".batch-form")`)
			p.Touch("summary", "Another way")
			sign := func(v rules.Value) [2]string { return [2]string{v.Sign().Info().Name.String(), v.ID()} }
			for _, f := range [][2]string{{"Jars", "10"}, {"Size", "quart"}, {food.Condition.Ask.String(), rules.ConditionMet.ID()},
				sign(rules.StandingPublished), sign(rules.MethodBoiling), sign(rules.ExtrasNone), sign(rules.ClosureLid),
				{"Packed", "raw"}, {"Minutes", "30"}, {"Altitude where it was canned", "999"}, {"Name of the place", "Cellar"}} {
				p.set(f[0], f[1])
			}
			// Of a month that was touched the day is missing: no other day is saved.
			p.Tap(`[...document.querySelectorAll(".chips")].find(e => e.getAttribute("aria-label") === "Or in").querySelectorAll(".chip")[2]`)
			p.Wait(`!!document.querySelector(".month-days")`)
			p.Touch("button", "Save the batch")
			p.says("Canned on which day of ")
			p.Touch(".chip", "today")
			p.Touch("button", "Save the batch")
			p.says(("Saved: " + food.Name).String())
			// What is known of the place is not asked jar by jar.
			p.Turn("/places")
			p.Tap(`document.querySelector('button[aria-label="Change: Cellar"]')`)
			p.Wait(`!!document.querySelector("form.card")`)
			for _, f := range [][2]string{{"Damp", "dry"}, {"Where it stood", "dark"}, {"Temperature", "steady"}} {
				p.set(f[0], f[1])
			}
			p.Touch("button", "Save the place")
			p.Wait(`!document.querySelector("form.card")`)
		})

		t.Run("ten jars of a sweep", func(t *testing.T) {
			p := open(t, drive.Phone)
			p.Turn("/sweep")
			p.Touch("button", "Begin: 10 jars")
			for n := p.shakySweep(); n <= 10; n++ {
				p.Wait(fmt.Sprintf(`(%s).startsWith("%d of ")`, walkHint, n))
				p.Tap(`document.querySelector("#sound")`)
			}
			p.says("Every jar was looked at")
			p.Touch("button", "End the sweep and see what was found")
			p.Wait(`document.querySelector(".report")?.innerText.includes("10 jars: 10 fine.")`)
		})

		t.Run("a trip", func(t *testing.T) {
			p := open(t, drive.Phone)
			p.Turn("/trip")
			p.Touch("button", "Plan a trip")
			p.Wait(`!!document.querySelector("form.card")`)
			p.set("Name", "Quill lake")
			p.Touch("button", "Work it out")
			p.Wait(`!!document.querySelector(".trip-days")`)
			p.Touch("button", "We pack these jars")
			p.says("Packed. The plan is kept")
			p.Visit("/trip")
			p.Touch("button", "Quill lake")
			p.Wait(`!!(` + saying("button", "We are home again") + `)`)
		})

		t.Run("practice", func(t *testing.T) {
			p := open(t, drive.Phone)
			p.Turn("/practice")
			p.Touch("button", "Start")
			for range 2 {
				p.Wait(`!!document.querySelector(".verdicts")`)
				for i := range drive.Eval[int](p.Tab, `document.querySelectorAll(".verdicts").length`) {
					p.Tap(fmt.Sprintf(`document.querySelectorAll(".verdicts")[%d].querySelector('input[value="discard"]').closest("label")`, i))
				}
				drive.Eval[bool](p.Tab, `(e => { e.value = [...e.options].at(-1).value; e.dispatchEvent(new Event("change")); return true })(document.querySelector("#deciding"))`)
				p.Drawn()
				p.Touch("button", "Answer")
				p.Wait(`!!document.querySelector(".outcome")`)
				p.Touch("button", "Next")
			}
		})

		written := ""
		t.Run("a backup out", func(t *testing.T) {
			p := open(t, drive.Phone)
			p.Turn("/keeping")
			// The file goes to the test instead of a folder.
			drive.Eval[bool](p.Tab, `(() => { URL.createObjectURL = blob => { blob.text().then(text => { window.written = text }); return "#" }; HTMLAnchorElement.prototype.click = function () { window.named = this.download }; return true })()`)
			p.Touch("button", "Save a backup")
			p.Wait(`!!window.written && window.named.endsWith(".json")`)
			written = drive.Eval[string](p.Tab, `window.written`)
			if _, err := backup.Read([]byte(written)); err != nil {
				t.Error(err)
			}
			// Opened from the Home Screen of an iPhone, which is played here: a file
			// that is saved there takes the place of the page, so it is shared.
			p.Visit("/keeping")
			drive.Eval[bool](p.Tab, `(() => {
				Object.defineProperty(Navigator.prototype, "standalone", { get: () => true, configurable: true });
				Navigator.prototype.canShare = () => true;
				Navigator.prototype.share = async ({ files }) => { window.shared = files[0].name; };
				HTMLAnchorElement.prototype.click = function () { window.named = this.download };
				return true })()`)
			// The page is redrawn with what the device now says it can do.
			p.Touch("nav a", "Shelf")
			p.Wait(`location.pathname === "/shelf" && !!document.querySelector(".found")`)
			p.Touch("a", "Backups")
			p.Wait(`location.pathname === "/keeping"`)
			p.Touch("button", "Save a backup")
			p.Wait(`!!window.shared`)
			p.says("Backup shared")
			if drive.Eval[bool](p.Tab, `!!window.named`) {
				t.Error("got a saved file too, want it only shared")
			}
		})

		t.Run("days", func(t *testing.T) { daysOfAShelf(t, b) })

		// In effect another phone: a new address has its own storage.
		s = serve(t, "")
		t.Run("a backup in", func(t *testing.T) {
			p := open(t, drive.Phone)
			name := filepath.Join(t.TempDir(), "backup.json")
			if err := os.WriteFile(name, []byte(written), 0o600); err != nil {
				t.Fatal(err)
			}
			p.Visit("/keeping")
			p.Tap(importButton)
			p.Files("input[data-choose]", name)
			p.Touch("button", "Bring it in")
			p.says("Brought in: ")
			p.Turn("/shelf")
			p.Wait(`document.querySelector(".found")?.innerText.includes("10 jars")`)
		})

		label := filepath.Join(t.TempDir(), "label.png")
		t.Run("a label", func(t *testing.T) {
			p := open(t, drive.Phone)
			p.Turn("/shelf")
			p.Installed()
			restored, err := backup.Read([]byte(written))
			if err != nil {
				t.Fatal(err)
			}
			var jar *record.Jar
			for _, r := range restored.Records {
				if j, ok := r.(*record.Jar); ok {
					jar = j
				}
			}
			code, err := qr.Encode(s.url("/jar?id="+jar.ID), qr.M)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(label, code.PNG(), 0o600); err != nil {
				t.Fatal(err)
			}
			// A photo of the code.
			p.photograph(label)
			p.Wait(fmt.Sprintf(`location.search === "?id=%s" && document.querySelector("main").innerText.includes(%q)`, jar.ID, fmt.Sprint(jar.Number)))
			// The short code next to it, in small letters, where the camera fails.
			p.Turn("/shelf")
			p.scan()
			p.Tap(`document.querySelector("#code")`)
			p.Wait(`document.activeElement.id === "code"`)
			p.Type("zzz")
			p.Touch("button", "Open the jar")
			p.Wait(`document.querySelector(".scanner").innerText.includes("No jar on this device has that code")`)
			drive.Eval[bool](p.Tab, `(document.querySelector("#code").focus(), true)`)
			for range 3 {
				p.Press(drive.Backspace)
			}
			p.Type(strings.ToLower(jar.Code()))
			p.Press(drive.Enter)
			p.Wait(fmt.Sprintf(`location.search === "?id=%s"`, jar.ID))
			// The camera, with a picture of the label before it.
			p.Turn("/shelf")
			if b.Engine == drive.WebKit {
				t.Log("webkit: this window plays no video, so that no picture stands in for a camera: what was tested is that the page says so, the photo and the typed code")
				p.Touch("button", "Scan a label")
				p.Wait(`document.querySelector(".scanner").innerText.includes("The camera could not be used")`)
				return
			}
			drive.Eval[bool](p.Tab, fmt.Sprintf(`(async () => {
				const image = new Image();
				image.src = "data:image/png;base64,%s";
				await image.decode();
				const canvas = Object.assign(document.createElement("canvas"), { width: 640, height: 480 });
				const paint = () => { const c = canvas.getContext("2d"); c.fillStyle = "#fff"; c.fillRect(0, 0, 640, 480); c.drawImage(image, 140, 60, 360, 360); };
				paint();
				setInterval(paint, 100);
				MediaDevices.prototype.getUserMedia = async () => canvas.captureStream(10);
				return true })()`, base64.StdEncoding.EncodeToString(code.PNG())))
			p.Touch("button", "Scan a label")
			p.Wait(fmt.Sprintf(`location.search === "?id=%s"`, jar.ID))
		})

		t.Run("offline", func(t *testing.T) {
			p := open(t, drive.Phone)
			p.Visit("/")
			p.Installed()
			food, situation := p.product("peaches")
			q, _ := rules.Next(situation, rules.Skipped{})
			p.touched(q.Choices[len(q.Choices)-1].Label.String())
			situation.Tell(q.Choices[len(q.Choices)-1].Tell...)
			next, _ := rules.Next(situation, rules.Skipped{})
			next = food.Worded(next)
			p.Wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText === %q`, next.Ask))
			p.saved()
			address := strings.TrimPrefix(drive.Eval[string](p.Tab, "location.href"), s.url(""))

			// The server has really stopped, and the browser restarts.
			s.stop()
			b.Restart(t)
			clear(tabs)
			p = open(t, drive.Phone)
			p.Visit(address)
			p.Wait(fmt.Sprintf(`document.querySelector(".question h1")?.innerText === %q`, next.Ask))
			if got := p.answer(food, situation, nil, p.touched); got != rules.Keep {
				t.Fatalf("got %s from the rules", got)
			}
			p.Wait(`!!document.querySelector(".answer.verdict-keep")`)
			p.saved()
			p.Visit("/history?from=home-screen")
			p.Wait(fmt.Sprintf(`document.querySelector(".entry")?.innerText.includes(%q)`, food.Name))
			p.Turn("/shelf")
			p.Wait(`document.querySelector(".found")?.innerText.includes("10 jars")`)
			// What reads codes was stored when it was first wanted.
			p.photograph(label)
			p.Wait(`location.pathname === "/jar"`)
		})

		t.Run("an update that waits", func(t *testing.T) {
			// The same site in another language is another edition.
			texts := pseudoFile(t, "Shelf")
			edition := func(p guide) string {
				return drive.Eval[string](p.Tab, `caches.keys().then(keys => keys.sort().join())`)
			}
			s.with(need(t, "SITE"), need(t, "PROGRAMS"), "-texts", texts)
			p := open(t, drive.Phone)
			p.Visit("/shelf")
			drive.Eval[bool](p.Tab, `navigator.serviceWorker.ready.then(r => r.update()).then(() => true)`)
			p.Wait(`document.querySelector(".edition")?.innerText.includes("A new edition of this guide is ready")`)
			both := edition(p)
			p.Touch(".edition button", "What changes?")
			p.Wait(`document.querySelector(".edition").innerText.includes("None of your 10 jars changes its verdict.")`)
			p.Touch(".edition button", "Use it now")
			p.WaitFor(drive.HandOver, `!document.querySelector(".edition")`)
			p.Running()
			p.Wait(`document.querySelector(".found")?.innerText.includes("10 jars")`)
			if now := edition(p); now == both || !strings.Contains(both, now) {
				t.Errorf("got %s stored, want %s as before", now, both)
			}
		})
	})
}

// importRecords is the button that reads a backup.
const importButton = `[...document.querySelectorAll("button")].find(e => e.innerText.startsWith("Bring in a backup"))`

// Where Firefox and WebKit really have no more room for the site, the page says so
// and never that it is saved; what was saved stays, and once there is room all of
// it is kept. TestNoRoom does the same in Chromium.
func TestNoRoomInFirefoxAndWebKit(t *testing.T) {
	inEngines(t, []drive.Engine{drive.Firefox, drive.WebKit}, func(t *testing.T, e drive.Engine) {
		s := serve(t, "")
		p := guide{drive.StartSmall(t, e, 80<<20).Open(t, s.url(""), drive.Phone)}
		p.Visit("/about")
		p.Installed() // the files of the site take room too
		p.product("green-beans")
		p.touched("None of these")
		p.saved()
		answers := len(storedChecks(p.Tab)[0].Answers)
		// Another database of the site takes all the room there is.
		full := drive.Eval[string](p.Tab, `(async () => {
			const done = r => new Promise((ok, bad) => { r.onsuccess = () => ok(r.result); r.onerror = () => bad(r.error) });
			const request = indexedDB.open("filler", 1);
			request.onupgradeneeded = () => request.result.createObjectStore("bytes", { autoIncrement: true });
			let db = await done(request), why = [];
			const noise = new Uint8Array(4 << 20);
			for (let i = 0; i < noise.length; i += 65536) crypto.getRandomValues(noise.subarray(i, i + 65536));
			for (const size of [4 << 20, 1 << 18, 1 << 14, 1 << 10])
				for (let n = 0; n < 100; n++) {
					if (n === 99 && size === 4 << 20) return "more than 400 MB fit";
					try {
						const txn = db.transaction("bytes", "readwrite");
						const ended = new Promise((ok, bad) => { txn.oncomplete = ok; txn.onabort = () => bad(txn.error) });
						txn.objectStore("bytes").put(noise.slice(0, size));
						await ended;
					} catch (error) {
						why.push(error.name);
						db.close(); // Firefox has closed it
						db = await done(indexedDB.open("filler"));
						break;
					}
				}
			db.close();
			return why.join(" ") })()`)
		if !strings.Contains(full, "QuotaExceededError") {
			t.Fatalf("got %q when the room ran out", full)
		}
		n, last := 0, ""
		for ; !p.Has(".notice"); n++ {
			if n == 1000 {
				t.Fatal("got no end of the room")
			}
			last = fmt.Sprintf("words %d", n)
			p.set("Your words for this jar", last)
			p.Wait(fmt.Sprintf(`document.querySelector(".jar-label")?.textContent === %q && !window.larderWriting`, last))
			p.Drawn()
		}
		p.Wait(`document.querySelector(".notice").innerText.includes("no room left")`)
		if got := p.Text(".saved"); got != "" {
			t.Errorf("without room: got %q", got)
		}
		if c := storedChecks(p.Tab)[0]; len(c.Answers) != answers || c.Label == last {
			t.Errorf("got %d answers and %q stored, want %d answers as before the room ran out", len(c.Answers), c.Label, answers)
		}
		if got := p.Text(".jar-label"); got != last {
			t.Errorf("the page forgets %q and shows %q", last, got)
		}
		drive.Eval[bool](p.Tab, `new Promise((ok, bad) => { const r = indexedDB.deleteDatabase("filler"); r.onsuccess = () => ok(true); r.onerror = () => bad(r.error); r.onblocked = () => bad(new Error("blocked")) })`)
		p.Touch("label.choice", "Closed, on the shelf")
		p.saved()
		if c := storedChecks(p.Tab)[0]; len(c.Answers) <= answers || c.Label != last {
			t.Errorf("with room again: got %d answers, %q", len(c.Answers), c.Label)
		}
		t.Logf("the room ended after %d more writes", n)
	})
}
