//go:build e2e && linux

package e2e

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp/kb"
)

// keepFile makes the page keep the files it offers, instead of saving them.
func (p *tab) keepFile() {
	p.t.Helper()
	eval[bool](p, `(() => { window.kept = {}; larderDevice.save = async (name, type, content) => { window.kept[type] = [name, await new Blob([content]).text()] }; return true })()`)
}

// kept is the text of the last file of a media type.
func (p *tab) kept(kind string) string {
	p.t.Helper()
	p.wait(fmt.Sprintf(`!!window.kept[%q]`, kind))
	return eval[string](p, fmt.Sprintf(`window.kept[%q][1]`, kind))
}

// give answers the file that the page asks for.
func (p *tab) give(name, text string) {
	p.t.Helper()
	p.wait(`!!document.querySelector("input[data-choose]")`)
	eval[bool](p, fmt.Sprintf(`(() => {
		const input = document.querySelector("input[data-choose]");
		const files = new DataTransfer();
		files.items.add(new File([%s], %q));
		input.files = files.files;
		input.dispatchEvent(new Event("change"));
		return true })()`, quoted(text), name))
}

func quoted(text string) string {
	b, err := json.Marshal(text)
	if err != nil {
		panic(err) // a string always has a form in JSON
	}
	return string(b)
}

// control is JavaScript for the control with a label.
func control(label string) string {
	return fmt.Sprintf(`[...document.querySelectorAll("label.field")].find(e => e.querySelector("span").innerText.startsWith(%q))?.querySelector("input, select, textarea")`, label)
}

// set fills a labeled field as a person would leave it.
func (p *tab) set(label, value string) {
	p.t.Helper()
	p.wait(fmt.Sprintf(`!!(%s)`, control(label)))
	eval[bool](p, fmt.Sprintf(`(() => {
		const control = %s;
		control.value = %q;
		control.dispatchEvent(new Event("input", { bubbles: true }));
		control.dispatchEvent(new Event("change", { bubbles: true }));
		return true })()`, control(label), value))
	p.drawn()
}

// batch records a batch of peaches as published.
func (p *tab) batch(jars string) {
	p.t.Helper()
	p.fillBatch(jars)
	p.tap(saying("button", "Save the batch"))
	p.wait(`document.querySelector("main").innerText.includes("Saved: Peaches, yellow")`)
}

// fillBatch fills in the form of a batch and does not send it.
func (p *tab) fillBatch(jars string) {
	p.t.Helper()
	p.visit("/batch")
	p.wait(`!!document.querySelector("#product")`)
	p.tap(`document.querySelector("#product")`)
	p.press(strings.Split("Peaches", "")...)
	p.found("Peaches, yellow")
	p.tap(saying(".product span", "Peaches, yellow"))
	p.wait(`!!document.querySelector(".batch-form")`)
	p.tap(saying("summary", "Another way"))
	p.set("Jars", jars)
	p.set("Size", "quart")
	p.set("Recipe", "published")
	p.set("Heating", "boiling-water")
	p.set("What else is in it", "none")
	p.set("Closure", "flat-lid")
	p.set("Packed", "raw")
	p.set("Minutes", "30")
	p.set("Altitude where it was canned", "999")
	p.wait(`document.querySelector(".worked").innerText.includes("as published")`)
	if p.has(`.batch-form input[placeholder="cellar, shelf 1"]`) {
		p.set("Name of the place", "Cellar")
	}
}

func TestBatchToVerdict(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/shelf")
	p.wait(`document.querySelector("main").innerText.includes("Add the first batch")`)
	p.axe("empty shelf")
	p.batch("12")
	p.axe("batch")
	p.shoot("batch")
	if !strings.Contains(p.text("main"), "× 12") {
		t.Errorf("got no group of 12 jars: %.300s", p.text("main"))
	}

	// A second batch needs the product and two touches: all else is offered again, and
	// nothing of it counts before that is confirmed.
	p.visit("/batch")
	p.wait(`!!document.querySelector(".product")`)
	p.tap(saying(".product span", "Peaches, yellow"))
	p.wait(`!!document.querySelector(".batch-form")`)
	entered := func() string {
		return eval[string](p, `[...document.querySelectorAll(".batch-form select, .batch-form input")].map(e => e.value).join("|")`)
	}
	if got := entered(); strings.Contains(got, "published") || strings.Contains(got, "raw") || strings.Contains(got, "|12|") {
		t.Errorf("got fields carried over before they were confirmed: %s", got)
	}
	p.tap(saying("button", "Yes, the same"))
	p.drawn()
	if got := entered(); !strings.Contains(got, "published|boiling-water|none|flat-lid|raw|30") || !strings.Contains(got, "|12|999|quart|") {
		t.Errorf("got the confirmed fields %s", got)
	}
	p.tap(saying("button", "Save the batch"))
	p.wait(`document.querySelector("main").innerText.includes("Saved: Peaches, yellow")`)

	// One jar: it has to be looked at; the check knows the record.
	p.tap(saying("summary", "Every jar"))
	p.tap(saying("details a", "Jar 3"))
	p.wait(`location.pathname === "/jar"`)
	p.running()
	p.wait(`!!document.querySelector(".verdict")`)
	if got := p.text(".verdict h1"); got != "Not looked at yet" {
		t.Errorf("a jar nobody has looked at: got %q", got)
	}
	p.axe("jar")
	jar := eval[string](p, `location.href`)
	p.tap(saying("button", "Check it now"))
	p.wait(`location.pathname === "/check"`)
	p.running()
	p.wait(`!!document.querySelector(".question")`)
	hand := byTouch{p}
	for n := 0; !p.has(".answer"); n++ {
		if n == 20 {
			t.Fatal("the check never ends")
		}
		p.wait(`!!document.querySelector(".question h1")`)
		was := p.text(".question h1")
		if strings.Contains(was, "recipe") || strings.Contains(was, "heated") {
			t.Errorf("got a question about the record again: %s", was)
		}
		first := "label.choice.none"
		if !p.has(first) {
			first = "label.choice"
		}
		p.tap(fmt.Sprintf(`document.querySelector(%q)`, first))
		p.wait(fmt.Sprintf(`!!document.querySelector(".answer") || document.querySelector(".question h1")?.innerText !== %q`, was))
	}
	_ = hand
	p.axe("answer of a jar")
	p.tap(saying("a", "Back to the jar"))
	p.wait(`location.pathname === "/jar"`)
	p.running()
	p.wait(`document.querySelector("main").innerText.includes("Checked")`)
	if eval[string](p, `location.href`) != jar {
		t.Error("another jar")
	}
	p.shoot("jar")

	// Events are recorded, and can be undone.
	p.tap(saying("button", "Eaten"))
	p.tap(saying("button", "Yes, the jar is empty"))
	p.wait(`document.querySelector("main").innerText.includes("Noted: eaten")`)
	p.visit("/shelf")
	p.wait(`document.querySelector(".found")?.innerText.includes("23 jars")`)
	p.visit(jar[strings.Index(jar, "/jar"):])
	p.tap(saying("button", "It is still here after all"))
	p.wait(`document.querySelector("main").innerText.includes("Noted: still here")`)
	p.visit("/shelf")
	p.wait(`document.querySelector(".found")?.innerText.includes("24 jars")`)
	p.shoot("shelf")

	// A jar that stands on no shelf goes on from its answer onto one, and the check and
	// the jar know of each other.
	p.visit("/check")
	byTouch{p}.product("Pears")
	p.soundly()
	// However much was asked, the answer takes no more paper than one that was found at once.
	if n := p.pdf("sound", letter); n == 0 || n > 5 {
		t.Errorf("got an answer of %d printed pages, want at most 5", n)
	}
	p.tap(saying("a", "Add it to my shelf list"))
	p.wait(`!!document.querySelector(".batch-form")`)
	p.axe("a jar of a check")
	p.tap(saying("button", "Save the batch"))
	p.wait(`document.querySelector("main").innerText.includes("Saved: ")`)
	p.visit("/history")
	p.wait(`document.querySelectorAll(".entry").length > 1`)
	// became waits for what the history says of the jar of its newest check.
	became := func(words string) {
		t.Helper()
		p.wait(fmt.Sprintf(`document.querySelector(".entry .became")?.innerText.startsWith(%q)`, words))
	}
	became("On the shelf: ")
	p.tap(`document.querySelector(".entry a[href*='/jar?id=']")`)
	p.wait(`location.pathname === "/jar" && document.querySelector(".timeline")?.innerText.includes("Checked")`)

	// Opened, it is on the first page with the day by which it has to be finished.
	pears := eval[string](p, `location.pathname + location.search`)
	p.tap(saying("button", "Open it"))
	p.tap(saying("button", "Opened, into the refrigerator"))
	p.wait(`document.querySelector("main").innerText.includes("Noted: opened")`)
	p.visit("/")
	p.wait(`[...document.querySelectorAll(".day-line")].some(e => e.innerText.includes("Pears") && /Open: finish by .*\d/.test(e.innerText))`)
	p.visit("/history")
	became("Open, in Refrigerator.")
	p.visit(pears)
	p.tap(saying("button", "Eaten"))
	p.tap(saying("button", "Yes, the jar is empty"))
	p.wait(`document.querySelector("main").innerText.includes("Noted: eaten")`)
	p.visit("/history")
	became("Eaten on ")
}

// soundly answers what is asked of a jar as one that is sound, until there is an answer.
func (p *tab) soundly() {
	p.t.Helper()
	p.wait(`!!document.querySelector(".question")`)
	for n := 0; !p.has(".answer"); n++ {
		if n == 30 {
			p.t.Fatal("the check never ends")
		}
		p.wait(`!!document.querySelector(".question h1")`)
		was := p.text(".question h1")
		first := "label.choice.none"
		if !p.has(first) {
			first = "label.choice"
		}
		p.tap(fmt.Sprintf(`document.querySelector(%q)`, first))
		p.wait(fmt.Sprintf(`!!document.querySelector(".answer") || document.querySelector(".question h1")?.innerText !== %q`, was))
	}
}

// The backup of one phone, brought in by another, is everything; a damaged file
// changes nothing; a second time changes nothing.
func TestBackupToAnotherPhone(t *testing.T) {
	s := serve(t, "")
	one := start(t).open(s, phone)
	one.batch("5")
	one.visit("/keeping")
	one.wait(`!!(` + saying("button", "Save a backup") + `)`)
	one.keepFile()
	one.tap(saying("button", "Save a backup"))
	backup := one.kept("application/json")
	one.tap(saying("button", "Jars as a table"))
	if table := one.kept("text/csv"); strings.Count(table, "\r\n") != 6 {
		t.Errorf("got %d lines for 5 jars", strings.Count(table, "\r\n"))
	}
	one.tap(saying("button", "Dates for a calendar"))
	if dates := one.kept("text/calendar"); !strings.Contains(dates, "BEGIN:VEVENT") {
		t.Errorf("got no dates: %s", dates)
	}
	one.axe("backups")

	two := startOwn(t).open(s, phone)
	two.visit("/keeping")
	for name, text := range map[string]string{"cut.json": backup[:len(backup)/2], "other.json": `{"format":"other"}`, "spoilt.json": strings.Replace(backup, `"number":1`, `"number":-1`, 1)} {
		two.tap(saying("button", "Bring in a backup"))
		two.give(name, text)
		two.wait(fmt.Sprintf(`document.querySelector("main").innerText.includes("What is wrong with %s")`, name))
	}
	two.tap(saying("button", "Bring in a backup"))
	two.give("backup.json", backup)
	two.wait(`!!(` + saying("button", "Bring it in") + `)`)
	two.wait(`document.querySelector("main").innerText.includes("altitude up to 999 ft")`)
	two.shoot("preview")
	two.axe("preview")
	two.tap(saying("button", "Bring it in"))
	two.wait(`document.querySelector("main").innerText.includes("Brought in: 7 records")`)
	two.visit("/shelf")
	two.wait(`document.querySelector(".found")?.innerText.includes("5 jars")`)
	two.visit("/keeping")
	two.tap(saying("button", "Bring in a backup"))
	two.give("backup.json", backup)
	two.wait(`document.querySelector("main").innerText.includes("all of it is here already")`)

	// A batch is deleted only once it is said how many jars go with it, and the backup
	// says what stays deleted.
	two.visit("/shelf")
	two.wait(`!!document.querySelector(".row-jar a")`)
	two.tap(`document.querySelector(".row-jar a")`)
	two.tap(saying("button", "Delete the batch and its jars"))
	two.tap(saying("button", "Delete 5 jars"))
	two.wait(`!!document.querySelector(".undo")`)
	two.visit("/keeping")
	two.tap(saying("button", "Bring in a backup"))
	two.give("backup.json", backup)
	two.wait(`document.querySelector("main").innerText.includes("the rest of it is here already")`)
	if says := two.text("main"); !strings.Contains(says, "6 records of the file were deleted here.") {
		t.Errorf("got the preview %q", says)
	}
}

// The made-up household comes and goes with one touch and never meets the
// real one. Every page of the shelf is free of faults in both lights.
func TestDemoHousehold(t *testing.T) {
	s := serve(t, "/larder")
	b := start(t)
	p := b.open(s, phone)
	p.batch("3")
	p.visit("/keeping")
	p.tap(saying("button", "Show the made-up household"))
	p.wait(`location.pathname === "/larder/shelf" && document.querySelectorAll(".row-jar").length > 20`)
	if p.has(`a[href*="Peaches, yellow 2026"]`) || eval[int](p, `document.querySelectorAll(".row-jar").length`) > 100 {
		t.Error("too many rows, or a jar of one's own in the made-up household")
	}
	for _, as := range []screen{night, desktop} {
		q := b.open(s, as)
		for _, path := range []string{"/shelf", "/batch", "/many", "/places", "/labels", "/stock", "/keeping", "/trip"} {
			q.turn(path)
			q.axe(path + " " + as.String())
			q.fits(path + " " + as.String())
			q.shoot(path + as.String())
		}
	}
	p.visit("/shelf")
	p.wait(`document.querySelectorAll(".row-jar").length > 20`)
	p.wait(`document.querySelectorAll(".shelf-drawn .stands").length > 20`)
	p.axe("shelves")
	p.visit("/")
	p.wait(`document.querySelectorAll(".day-line").length > 3`)
	p.axe("the day")
	p.shoot("day")
	// A line of the day leads to its act, for all the jars that it names, and what was
	// noted by mistake is taken back.
	p.tap(saying(".day-line", "Take out: 6 jars"))
	p.wait(`location.pathname === "/larder/batch"`)
	p.tap(saying("button", "6 jars thrown out, "))
	p.wait(`document.querySelector("main").innerText.includes("6 jars thrown out.")`)
	p.tap(saying("button", "Undo"))
	p.wait(`document.querySelector("main").innerText.includes("Undone for 6 jars.") && !!(` + saying("button", "6 jars thrown out, ") + `)`)
	p.axe("jars to discard")
	p.shoot("discard")
	// Nothing offers to open or to eat such a jar.
	p.tap(saying("summary", "Every jar"))
	p.tap(saying("details li", "Discard safely") + `.querySelector("a")`)
	p.wait(`location.pathname === "/larder/jar" && !!(` + saying(".acts button", "Thrown out") + `)`)
	if says := p.text(".acts"); strings.Contains(says, "Open it") || strings.Contains(says, "Eaten") || strings.Contains(says, "Given away") {
		t.Errorf("a jar to discard: got the offers %s", says)
	}
	p.visit("/keeping")
	p.tap(saying("button", "Remove the made-up household"))
	p.wait(`location.pathname === "/larder/shelf" && document.querySelector(".found")?.innerText.includes("3 jars")`)
}

// Two tabs that change the same jar lose neither change, although each knows
// only what it has read.
func TestTwoTabs(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	one := b.open(s, phone)
	one.batch("1")
	one.tap(saying(".row-jar a", "Peaches"))
	one.wait(`location.pathname === "/jar"`)
	one.running()
	one.wait(`!!(` + saying("button", "A note") + `)`)
	two := b.open(s, phone)
	two.visit(strings.TrimPrefix(eval[string](one, "location.href"), "http://"+s.addr))
	two.wait(`!!(` + saying("button", "A note") + `)`)
	// The first no longer hears of the other: as if it were busy.
	eval[bool](one, `(larderDevice.tell = () => {}, true)`)
	eval[bool](two, `(larderDevice.tell = () => {}, true)`)
	for i, p := range []*tab{one, two} {
		p.tap(saying("button", "A note"))
		p.set("Words", fmt.Sprintf("said by tab %d", i+1))
		p.tap(saying("button", "Keep the note"))
		p.wait(fmt.Sprintf(`document.querySelector(".timeline")?.innerText.includes("said by tab %d")`, i+1))
	}
	two.wait(`document.querySelector(".timeline").innerText.includes("said by tab 1")`)
	one.visit(strings.TrimPrefix(eval[string](one, "location.href"), "http://"+s.addr))
	one.wait(`document.querySelector(".timeline")?.innerText.includes("said by tab 1") && document.querySelector(".timeline").innerText.includes("said by tab 2")`)
}

// A table of batches is shown line by line before anything is added.
func TestManyBatches(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/many")
	p.wait(`!!document.querySelector("#many")`)
	p.tap(saying("summary", "A whole table"))
	p.set("The table", "product,date,jars,place\npeaches,2025-08-14,7,Cellar\npeaches,2999-01-01,7,\n<img src=x onerror=alert(1)>,2025-08-14,7,\npears,2025-09-01,4,Cellar\n")
	p.tap(saying("button", "Look at it"))
	p.wait(`document.querySelector("main").innerText.includes("2 batches with 11 jars can be added; 2 rows have a mistake")`)
	p.axe("many")
	p.shoot("many")
	if n := eval[int](p, `document.querySelectorAll("input[aria-invalid=true]").length`); n != 2 {
		t.Errorf("got %d marked cells, want 2", n)
	}
	p.tap(saying("button", "Add 2 batches"))
	p.wait(`document.querySelector("main").innerText.includes("Added: 2 batches. 2 rows are still to fix")`)
	// The rows with a mistake stay and are put right in their cell; dates and sizes are
	// written as people do, and cells are pasted from a spreadsheet.
	for _, cell := range [][2]string{{"Row 1, date", "Aug 3 2025"}, {"Row 2, food", "pears"}} {
		eval[bool](p, fmt.Sprintf(`(cell => { cell.value = %q; cell.dispatchEvent(new Event("change", { bubbles: true })); return true })(document.querySelector("input[aria-label='%s']"))`, cell[1], cell[0]))
	}
	eval[bool](p, `(() => { const data = new DataTransfer(); data.setData("text", "apricots\t2025-07-01\t5\tqt\nplums\t2025-07-02\t6\t1/2 pint"); document.querySelector("input[aria-label='Row 3, food']").dispatchEvent(new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true })); return true })()`)
	p.wait(`document.querySelector("main").innerText.includes("4 batches with 25 jars can be added; 0 rows have a mistake")`)
	p.tap(saying("button", "Add 4 batches"))
	p.wait(`document.querySelector("main").innerText.includes("Added: 4 batches.") && [...document.querySelectorAll(".many input")].every(e => e.value === "")`)
	p.visit("/shelf")
	p.wait(`document.querySelector(".found")?.innerText.includes("36 jars")`)

	// No key moves jars. A button that says how many does, and its notice undoes it.
	p.tap(saying(".row-jar a", "Apricots"))
	p.wait(`location.pathname === "/batch"`)
	p.tap(saying("summary", "Move jars"))
	p.wait(`!!(` + control("To") + `)`)
	eval[bool](p, `(`+control("To")+`.focus(), true)`)
	p.press(kb.ArrowDown)
	p.wait(`!!(` + saying("button", "Move 5 jars to") + `)`)
	if says := p.text("main"); strings.Contains(says, "moved to") {
		t.Errorf("got jars moved by a key: %s", says)
	}
	p.tap(saying("button", "Move 5 jars to"))
	p.wait(`document.querySelector("main").innerText.includes("5 jars moved to ")`)
	p.tap(saying("button", "Undo"))
	p.wait(`document.querySelector("main").innerText.includes("Undone for 5 jars.") && !` + saying("button", "Undo") + ` && document.querySelector(".row-jar").innerText.includes("Shelf 1")`)

	// Labels of a batch, one for each jar.
	p.visit("/labels")
	p.says("which only this computer can reach")
	p.tap(saying("summary", "Batches"))
	p.tap(saying(".choose label", "Pears"))
	p.wait(`document.querySelectorAll(".sheet svg path[fill='#000']").length === 4`)
	p.axe("labels")
}

// snap answers the photo that the page asks for with a picture of its own.
func (p *tab) snap(width, height int) {
	p.t.Helper()
	p.wait(chooses)
	eval[bool](p, snapshot(width, height))
}

// chooses is true while the page asks for a photo, and snapshot answers with a picture.
const chooses = `!!document.querySelector("input[data-choose]")`

func snapshot(width, height int) string {
	return fmt.Sprintf(`(async () => {
		const canvas = document.createElement("canvas");
		canvas.width = %d; canvas.height = %d;
		canvas.getContext("2d").fillRect(10, 10, 200, 200);
		const blob = await new Promise(done => canvas.toBlob(done, "image/png"));
		const input = document.querySelector("input[data-choose]");
		const files = new DataTransfer();
		files.items.add(new File([blob], "jar.png", { type: "image/png" }));
		input.files = files.files;
		input.dispatchEvent(new Event("change"));
		return true })()`, width, height)
}

// Photos are shrunk, kept with the jar and with the check, and travel with the
// backup. What is no picture is refused.
func TestPhotos(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.batch("1")
	p.tap(saying(".row-jar a", "Peaches"))
	p.wait(`location.pathname === "/jar"`)
	p.running()
	p.wait(`!!(` + saying("button", "A photo") + `)`)
	p.tap(saying("button", "A photo"))
	p.give("no.png", "this is no picture")
	p.wait(`document.querySelector("main").innerText.includes("not a picture")`)
	p.tap(saying("button", "A photo"))
	p.snap(3200, 2000)
	p.wait(`document.querySelector("img.photo")?.naturalWidth === 1600 && document.querySelector("img.photo").naturalHeight === 1000`)
	p.axe("photo")
	p.tap(saying("button", "Check it now"))
	p.wait(`location.pathname === "/check"`)
	p.running()
	p.wait(`!!document.querySelector(".question")`)
	p.tap(saying("button", "Take a photo of the jar"))
	p.snap(300, 500)
	p.wait(`document.querySelector(".unseen-live").innerText.includes("kept with the check")`)
	p.visit("/keeping")
	p.keepFile()
	p.tap(saying("button", "Save a backup"))
	var backup struct {
		Photos []struct{ Check, JPEG string }
	}
	if err := json.Unmarshal([]byte(p.kept("application/json")), &backup); err != nil || len(backup.Photos) != 2 || backup.Photos[1].Check == "" || len(backup.Photos[0].JPEG) < 1000 {
		t.Errorf("got %d photos, %v", len(backup.Photos), err)
	}
}

// A place and its readings, by hand and from a logger.
func TestPlaces(t *testing.T) {
	s := serve(t, "")
	p := start(t).open(s, phone)
	p.visit("/places")
	p.tap(saying("button", "Add a place"))
	p.set("Name", "Cellar")
	p.set("Temperature", "days")
	p.tap(saying("button", "Read a logger's file"))
	p.give("bad.csv", "date,temp\n2025-07-01,warm\n")
	p.wait(`document.querySelector("main").innerText.includes("line 2")`)
	p.tap(saying("button", "Read a logger's file"))
	p.give("good.csv", "date,temp\n2025-07-01 04:00,12\n2025-07-01 16:00,36.2\n2025-07-02 04:00,11\n")
	p.wait(`document.querySelector("main").innerText.includes("2 days read from good.csv")`)
	p.axe("place")
	p.tap(saying("button", "Save the place"))
	p.wait(`document.querySelector(".row-jar")?.innerText.includes("2 days of readings, 11 °C to 36.2 °C")`)
	p.visit("/stock")
	p.wait(`document.querySelector("main").innerText.includes("Temperature: Cellar")`)
	p.axe("temperature")
}
