//go:build e2e && linux

package e2e

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"larderlamp/app/e2e/drive"
)

// published writes the site into a folder, as for a host of plain files.
func published(t *testing.T) string {
	t.Helper()
	folder := filepath.Join(t.TempDir(), "site")
	if out, err := exec.Command(need(t, "SITE"), "publish", "-quick", "-kept", keptCopies(t), "-programs", need(t, "PROGRAMS"), folder).CombinedOutput(); err != nil {
		t.Fatalf("publish: %v\n%s", err, out)
	}
	return folder
}

// withExchange serves the site with an exchange whose log is in a folder.
func withExchange(t *testing.T, folder, log string) *site {
	t.Helper()
	s := &site{t: t, addr: freeAddress(t)}
	s.exchange(folder, log)
	t.Cleanup(s.stop)
	return s
}

// exchange starts the command that serves a published site with an exchange.
func (s *site) exchange(folder, log string) {
	s.t.Helper()
	s.stop()
	s.cmd = exec.Command(need(s.t, "SHARE"), "-addr", s.addr, "-site", folder, "-folder", log)
	s.await()
}

// showsStatus waits for a line about the state of the sharing.
func (p guide) showsStatus(words string) {
	p.T.Helper()
	p.Wait(fmt.Sprintf(`document.querySelector(".together")?.innerText.trim() === %q`, words))
}

const together = "This phone and the shared shelf are the same."

// Phones with different browsers share a shelf: the second sees what it will get and
// give, each change is on the others and in every tab of theirs, also that which was
// made without a connection, and a phone that was lost gets nothing more.
func TestShareTheShelf(t *testing.T) {
	folder, log := published(t), filepath.Join(t.TempDir(), "log")
	s := withExchange(t, folder, log)
	cellar := drive.Start(t, drive.Chromium)
	a := guide{cellar.Open(t, s.url(""), drive.Phone)}
	b := guide{drive.Start(t, drive.Firefox).Open(t, s.url(""), drive.Phone)}
	a.Visit("/keeping")
	b.Visit("/about")
	a.Wait(`!document.querySelector("main").innerText.includes("Opening what is kept")`)
	records := soundHousehold(t, time.Now().AddDate(0, -4, 0))
	put(a.Tab, records)
	a.Visit("/about")
	a.said("green-beans")

	a.Turn("/share")
	a.Wait(`!!document.querySelector("#phone")`)
	a.Tap(`document.querySelector("#phone")`)
	a.Type("Cellar")
	a.Touch("button", "Share this shelf")
	code := a.invitation(s)
	a.showsStatus(together)

	b.join(code, "Kitchen", "Jars 3 0")
	for _, p := range []guide{a, b} {
		p.Wait(`[...document.querySelectorAll(".phones li strong")].map(e => e.innerText).sort().join() === "Cellar,Kitchen"`)
	}
	b.Turn("/shelf")
	b.Wait(`document.querySelector(".found")?.innerText.includes("3 jars")`)

	// Two walk one sweep: each sees what the other has looked at.
	at := func(p guide, n int) {
		p.Wait(fmt.Sprintf(`(%s).startsWith("%d of ")`, walkHint, n))
	}
	a.Turn("/sweep")
	a.Touch("button", "Begin: 3 jars")
	at(a, 1)
	b.Turn("/sweep")
	at(b, 1)
	a.Tap(`document.querySelector("#sound")`)
	at(b, 2)
	b.Tap(`document.querySelector("#sound")`)
	at(a, 3)
	a.Tap(`document.querySelector("#sound")`)
	a.says("Every jar was looked at")
	b.says("Every jar was looked at")

	// A photo that one takes is on the page that the other has open.
	jar := "/jar?id=" + records[3].Key()
	b.Turn(jar)
	a.Turn(jar)
	a.Touch("button", "A photo")
	a.Wait(chooses)
	drive.Eval[bool](a.Tab, snapshot(1600, 1000))
	b.photo()

	// So is what one does, in both tabs of the other. The second tab leaves it to the
	// first to talk with the exchange, and says the same about it.
	second := guide{cellar.Open(t, s.url(""), drive.Phone)}
	second.Visit("/share")
	second.showsStatus(together)
	for _, p := range []guide{a, second} {
		p.Turn("/history")
		p.entries(1)
	}
	b.said("dill-pickles")
	for _, p := range []guide{a, second} {
		p.entries(2)
		p.Wait(`!document.querySelector(".cover")`)
	}
	second.Turn("/share")

	// The same without a connection: it waits, and arrives afterward. What was said before
	// must not wait too.
	b.Turn("/share")
	b.showsStatus(together)
	s.stop()
	b.said("pears")
	b.Turn("/share")
	b.showsStatus("1 record waits for a connection. It is saved on this phone.")
	a.entries(2)
	second.showsStatus("Not connected now. What you do is saved, and sent later.")
	s.exchange(folder, log)
	b.showsStatus(together)
	a.entries(3)
	second.showsStatus(together)
	second.Close()

	// A phone is lost.
	a.Turn("/share")
	a.Touch("button", "A phone was lost")
	a.Touch("button", "Make a new code")
	if again := a.invitation(s); again == code {
		t.Fatal("got the same code as before")
	} else {
		code = again
	}
	a.showsStatus(together)
	b.Wait(`document.querySelector("main").innerText.includes("shares its shelf under a new code")`)
	a.said("peaches")
	a.Turn("/share")
	a.showsStatus(together)
	b.Turn("/history")
	b.entries(3)
	b.join(code, "Kitchen", "Jars 3 3")
	b.Turn("/history")
	b.entries(4)
	c := guide{drive.Start(t, drive.WebKit).Open(t, s.url(""), drive.Phone)}
	c.Visit("/about")
	c.join(code, "Porch", "Jars 3 0")
	c.Turn(jar)
	c.photo()

	// A phone that leaves keeps everything, and gets nothing more.
	b.Turn("/share")
	b.Touch("button", "Stop sharing here")
	b.Touch("button", "Stop sharing")
	b.Wait(`document.querySelector("main").innerText.includes("does not share its shelf any more")`)
	a.Turn("/share")
	a.Wait(`document.querySelectorAll(".phones li").length === 2`)
	c.said("applesauce")
	a.Turn("/history")
	a.entries(5)
	b.Turn("/history")
	b.entries(4)
}

// photo waits for the photo of the jar.
func (p guide) photo() {
	p.T.Helper()
	p.Wait(`document.querySelector("img.photo")?.naturalWidth === 1600`)
}

// A site of plain files cannot share, and says so; so does a code that is none.
func TestNothingToShareAt(t *testing.T) {
	s := serve(t, "")
	p := guide{drive.Start(t, drive.Chromium).Open(t, s.url(""), drive.Phone)}
	p.Visit("/share")
	p.Wait(`document.querySelector("main").innerText.includes("This copy of the guide is plain files")`)
	p.Turn("/share#code=L1abc")
	p.Wait(`document.querySelector(".notice")?.innerText === "This is no code to join a shelf. Copy the whole link."`)
	p.Installed()
	s.stop()
	p.Visit("/share")
	p.Wait(`document.querySelector("main").innerText.includes("there is none now")`)
}

// said begins a check of a food and says one thing in it.
func (p guide) said(food string) {
	p.T.Helper()
	p.product(food)
	p.touched("None of these")
	p.saved()
}

func (p guide) entries(n int) {
	p.T.Helper()
	p.Wait(fmt.Sprintf(`document.querySelectorAll(".entry").length === %d`, n))
}

// invitation reads the code in the link that is shown.
func (p guide) invitation(s *site) string {
	p.T.Helper()
	p.Wait(`!!document.querySelector(".invitation svg")`)
	link := drive.Eval[string](p.Tab, `document.querySelector("#invitation").value`)
	address, code, found := strings.Cut(link, "/share#code=")
	if !found || address != strings.TrimSuffix(s.url(""), "/") {
		p.T.Fatalf("got the link %q", link)
	}
	return code
}

// join opens the link, sees what it would get and give, and joins.
func (p guide) join(code, name, jars string) {
	p.T.Helper()
	p.Turn("/share#code=" + code)
	p.Wait(`document.querySelector("main h2")?.innerText === "Join this shelf?"`)
	if got := drive.Eval[string](p.Tab, `[...document.querySelectorAll("main tr")].find(e => e.innerText.startsWith("Jars")).innerText.replace(/\s+/g, " ").trim()`); got != jars {
		p.T.Errorf("before it joins: got %q, want %q", got, jars)
	}
	p.Tap(`document.querySelector("#phone")`)
	p.Type(name)
	p.Touch("button", "Join it")
	p.showsStatus(together)
}
