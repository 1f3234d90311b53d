//go:build e2e && linux

package e2e

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"larderlamp/app/backup"
	"larderlamp/app/e2e/drive"
	"larderlamp/app/record"
)

// laterEdition builds another edition of the guide, in which one rule is
// stricter: its programs and its command. The sources stay as they are.
func laterEdition(t *testing.T) (command, programs string) {
	t.Helper()
	dir := t.TempDir()
	change := func(file string, pairs ...string) string {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		s := string(text)
		for i := 0; i < len(pairs); i += 2 {
			if strings.Count(s, pairs[i]) != 1 {
				t.Fatalf("%s: want %q exactly once", file, pairs[i])
			}
			s = strings.Replace(s, pairs[i], pairs[i+1], 1)
		}
		changed := filepath.Join(dir, filepath.Base(file))
		if err := os.WriteFile(changed, []byte(s), 0o600); err != nil {
			t.Fatal(err)
		}
		return changed
	}
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	at := func(name string) string { return filepath.Join(root, "rules", name) }
	changes := map[string]string{
		at("statement.go"): change(at("statement.go"), `const Edition = "2026.2"`, `const Edition = "2031.7"`),
		at("news.go"):      change(at("news.go"), "var News = []Text{\n", "var News = []Text{\n\t\"Every jar is to be discarded: an edition for a test.\",\n"),
		at("storage.go"):   change(at("storage.go"), `When{{AgeTwo, AgeUnknown, AgeOlder}}, UseSoon,`, `When{{AgeDay, AgeYear, AgeTwo, AgeUnknown, AgeOlder}}, Discard,`),
	}
	list := func(name string, replace map[string]string) string {
		text, err := json.Marshal(map[string]any{"Replace": replace})
		if err != nil {
			t.Fatal(err)
		}
		at := filepath.Join(dir, name)
		if err := os.WriteFile(at, text, 0o600); err != nil {
			t.Fatal(err)
		}
		return at
	}
	// Built as the first edition was, so that most of it is there already.
	run := func(name string, args ...string) {
		t.Helper()
		cmd := exec.Command(name, args...)
		cmd.Dir, cmd.Env = root, append(os.Environ(), "MAKEFLAGS=", "GOFLAGS=-trimpath -overlay="+list("command.json", changes))
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%s %s: %v\n%s", name, args, err, out)
		}
	}
	command = filepath.Join(dir, "site")
	run("go", "build", "-o", command, "./wasm/site")
	program := filepath.Join(dir, "app.wasm")
	text, err := os.ReadFile(filepath.Join(root, "build", "slim", "overlay.json"))
	if err != nil {
		t.Fatal(err)
	}
	var slim struct{ Replace map[string]string }
	if err := json.Unmarshal(text, &slim); err != nil {
		t.Fatal(err)
	}
	maps.Copy(slim.Replace, changes)
	run("make", "PAGES="+program, "OVERLAY="+list("program.json", slim.Replace), program)
	scanner, err := os.ReadFile(filepath.Join(need(t, "PROGRAMS"), "scan.wasm"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "scan.wasm"), scanner, 0o600); err != nil {
		t.Fatal(err)
	}
	return command, dir
}

// A new edition of the guide waits, says what is new and how many jars it judges
// otherwise, gives way to every open check, and takes over when it is wanted.
func TestUpdate(t *testing.T) {
	command, programs := laterEdition(t)
	s := serve(t, "")
	b := start(t)
	p := b.open(s, phone)
	p.batch("3")
	p.installed()
	s.stop()
	s.with(command, programs)
	p.visit("/shelf")
	p.wait(`document.querySelector(".found")?.innerText.includes("3 jars")`)
	update := func() {
		t.Helper()
		eval[bool](p, `navigator.serviceWorker.ready.then(r => r.update()).then(() => true)`)
	}
	// The browser has too little room for it: that is said, and the edition in use
	// stays whole.
	edition := `fetch("/static/edition.json").then(r => r.json()).then(e => e.edition)`
	before := eval[string](p, edition)
	stored := `caches.keys().then(all => Promise.all(all.map(async name => name + " " + (await (await caches.open(name)).keys()).length))).then(all => all.join())`
	p.wait(isStored(spanishFoods)) // the second visit brings them
	whole := eval[string](p, stored)
	room := func(bytes int) {
		p.call("Storage.overrideQuotaForOrigin", map[string]any{"origin": "http://" + s.addr, "quotaSize": bytes})
	}
	room(eval[int](p, `navigator.storage.estimate().then(e => e.usage)`) + 1_000_000)
	update()
	p.wait(`document.querySelector(".unstored")?.innerText.includes("no room on this device to store it")`)
	p.wait(stored + `.then(now => now === ` + strconv.Quote(whole) + `)`)
	p.load("/keeping")
	p.wait(`/Ready for the cellar: yes/.test(document.querySelector(".cellar")?.innerText)`)
	if got := eval[string](p, edition); got != before {
		t.Errorf("without room: got edition %q in use, want %q", got, before)
	}
	room(1 << 30)
	p.visit("/shelf")
	p.wait(`document.querySelector(".found")?.innerText.includes("3 jars")`)
	update()
	p.wait(`document.querySelector(".edition")?.innerText.includes("A new edition of this guide is ready")`)
	p.axe("a new edition waits")
	p.tap(saying(".edition button", "What changes?"))
	p.wait(`document.querySelector(".edition").innerText.includes("Edition 2031.7.")`)
	p.wait(`!document.querySelector(".edition").innerText.includes("Judging your jars")`)
	says := p.text(".edition")
	for _, want := range []string{"Every jar is to be discarded: an edition for a test.", "3 of your 3 jars would get another answer:", "3 × to be looked at → Discard safely"} {
		if !strings.Contains(says, want) {
			t.Errorf("got %q, want %q", says, want)
		}
	}
	p.axe("what a new edition changes")
	p.shoot("edition")
	// Neither what is stored nor the edition in use has changed.
	if got := eval[string](p, `fetch("/static/edition.json").then(r => r.json()).then(e => e.edition)`); got == "2031.7" {
		t.Error("got the new edition in use before it was accepted")
	}
	// A check in another tab holds it back, and so does one here.
	other := b.open(s, phone)
	other.visit("/check?product=peaches")
	other.wait(`!!document.querySelector(".question")`)
	// The browser grants a page its first lock only after a moment, and the page has to
	// be free for it. From then on it works however busy the page is.
	other.wait(`navigator.locks.query().then(({ held }) => held.some(lock => lock.name.startsWith("larderlamp-check")))`)
	eval[bool](other, `(setTimeout(() => { for (const end = Date.now() + 3000; Date.now() < end;); }), true)`)
	p.tap(saying(".edition button", "Use it now"))
	p.wait(`document.querySelector(".edition").innerText.includes("A check is open")`)
	other.wait(`!!document.querySelector(".edition")`)
	other.tap(saying(".edition button", "Use it now"))
	other.wait(`document.querySelector(".edition").innerText.includes("A check is open")`)
	other.visit("/about")
	// The old edition is still at work: that is said, in both tabs. In one of them a
	// check is begun meanwhile.
	signal := func(to os.Signal) {
		t.Helper()
		if err := s.cmd.Process.Signal(to); err != nil {
			t.Fatal(err)
		}
	}
	signal(syscall.SIGSTOP)
	eval[bool](other, `(fetch("/not-stored").catch(() => {}), true)`)
	for _, tab := range []*tab{p, other} {
		tab.tap(saying(".edition button", "Use it now"))
		tab.wait(`document.querySelector(".edition").innerText.includes("The old edition is still busy")`)
	}
	p.axe("the old edition is busy")
	p.shoot("busy")
	eval[bool](p, `(() => {
		const link = document.createElement("a");
		link.href = "/check?product=peaches";
		document.body.append(link);
		link.click();
		return true })()`)
	p.wait(`!!document.querySelector(".question")`)
	signal(syscall.SIGCONT)
	// Asking the worker again and again would keep the old one at work, and a worker
	// that is at work does not give way.
	other.waitFor(drive.HandOver, `!document.querySelector(".edition")`)
	other.running()
	p.wait(`document.querySelector(".edition").innerText.includes("A check is open")`)
	if !p.has(".question") {
		t.Errorf("got a check interrupted by the new edition: %.300s", p.text("body"))
	}
	p.visit("/shelf")
	if p.has(".edition") {
		t.Error("got the new edition offered again")
	}
	p.running()
	if got := eval[string](p, `fetch("/static/edition.json").then(r => r.json()).then(e => e.edition)`); got != "2031.7" {
		t.Errorf("got edition %q in use", got)
	}
	// Its rules are in use now.
	p.visit("/check?product=peaches")
	p.wait(`!!document.querySelector(".answer.verdict-discard")`)
	if p.has(".edition") {
		t.Error("got a notice for the edition that is in use")
	}
}

// A program that panics says so, and what is on the device can be saved and read
// back; nothing is lost.
func TestPanic(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.batch("2")
	p.visit("/shelf")
	p.wait(`document.querySelector(".found")?.innerText.includes("2 jars")`)
	// The program cannot go on when the browser fails it.
	p.expectFaults = true
	search := func(text string) string {
		return fmt.Sprintf(`(find => { find.value = %q; find.dispatchEvent(new Event("input", { bubbles: true })); return true })(document.querySelector("#find"))`, text)
	}
	eval[bool](p, search("zzz"))
	p.wait(`document.querySelectorAll(".row-jar").length === 0`)
	eval[bool](p, `(() => {
		const create = document.createElement.bind(document);
		document.createElement = tag => { if (tag === "li") throw new Error("a test"); return create(tag) };
		return true })()`)
	eval[bool](p, search("pea"))
	p.wait(`document.querySelector(".stopped")?.innerText.includes("has stopped working")`)
	p.axe("stopped")
	p.shoot("stopped")
	eval[bool](p, `(() => { URL.createObjectURL = blob => { blob.text().then(text => { window.rescued = text }); return "data:," }; return true })()`)
	p.tap(saying(".stopped button", "Save a backup"))
	p.wait(`!!window.rescued`)
	backup, err := backup.Read([]byte(eval[string](p, `window.rescued`)))
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[record.Kind]int{}
	for _, r := range backup.Records {
		kinds[r.Kind()]++
	}
	if kinds[record.Batches] != 1 || kinds[record.Jars] != 2 || kinds[record.Places] != 1 {
		t.Errorf("got %v in the backup", kinds)
	}
	p.tap(saying(".stopped button", "Load it again"))
	p.wait(`!document.querySelector(".stopped") && document.querySelector(".found")?.innerText.includes("2 jars")`)
}
