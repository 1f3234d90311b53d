//go:build e2e && linux

package drive

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// hanging is a page of an engine whose first load is sometimes lost. With WebKitGTK
// 2.50 that happened once in some hundred starts on a busy computer: every process of
// the browser was idle, none had a connection, and the page answered nothing for
// minutes, not even an empty script.
type hanging interface {
	// hangs reports whether the first page that a browser has loaded answers nothing
	// for as long as Answers. It is false for every later load.
	hangs() bool
	// silent evaluates an expression as evaluate does, and reports whether nothing was
	// answered, not even an error, for as long as Answers.
	silent(expression string) (text string, nothing bool)
	// alone reports whether the browser has no other page.
	alone() bool
	// doing is Doing of the browser.
	doing() string
}

// Answers is how long a page that is loaded may take to answer an empty script
// before it is said to hang.
var Answers = Patience / 2

// mostHangs is how often the tests of one run go on after a hang. A program that
// makes pages hang is found by the next one.
const mostHangs = 3

var hung int

// Hangs is the file with what make shows of hangs at the end of the run.
var Hangs = inRepository("build/hung.txt")

// loadAnew ends a browser whose only page hangs, starts it again with the same data,
// and loads the page once more. It says so in build/hung.txt, which `make` shows, with
// what the processes of the browser were doing. A page that answers and is wrong is
// never loaded again.
func (p *Tab) loadAnew(path string) {
	p.T.Helper()
	p.restartHung(path, p.page.(hanging).alone())
	p.running = p.browser.running
	opened, err := p.running.open(p.Screen, p.faults)
	p.must(err, "the tab after a hang")
	p.page = opened
	p.Load(path)
}

// restartHung notes that this page hangs, and kills its browser and starts it again, if
// that may be done here and was not done too often.
func (p *Tab) restartHung(path string, may bool) {
	p.T.Helper()
	hung++
	says := fmt.Sprintf("%s: %s hung after %s was loaded\n%s\n", p.T.Name(), p.Engine, path, p.page.(hanging).doing())
	NoteHang(p.T, says)
	if !may || hung > mostHangs {
		p.T.Fatal(says)
	}
	p.T.Log(says)
	p.browser.Kill(p.T)
}

// Hung is for a test that loads pages in several tabs of a browser at once, which this
// engine may lose as it does the first load of all. It waits until the expression
// holds in each tab. If one answers nothing meanwhile, it starts the browser again and
// returns true: all tabs are gone then, and the test opens and loads them once more.
// Whatever a page answers, right or wrong, is left to the test to judge.
func (b *Browser) Hung(tabs []*Tab, expression string) bool {
	for i, p := range tabs {
		page, may := p.page.(hanging)
		if !may {
			return false
		}
		p.T.Helper()
		for deadline := time.Now().Add(Patience); time.Now().Before(deadline); time.Sleep(5 * time.Millisecond) {
			text, nothing := page.silent(Words("!!(" + expression + ")"))
			if nothing {
				p.restartHung(fmt.Sprintf("page %d of %d at once", i+1, len(tabs)), true)
				return true
			}
			if text == "true" {
				break
			}
		}
	}
	return false
}

// NoteHang adds a text to Hangs.
func NoteHang(t testing.TB, says string) {
	t.Helper()
	if err := note(Hangs, says); err != nil {
		t.Logf("no note of the hang: %v", err)
	}
}

// note adds a text to a file.
func note(name, text string) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	file, err := os.OpenFile(name, os.O_CREATE|os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = file.WriteString(text)
	return errors.Join(err, file.Close())
}

// hangs implements hanging.
func (p *webkitPage) hangs() bool {
	if p.of.loaded {
		return false
	}
	p.of.loaded = true
	_, nothing := p.silent("0")
	return nothing
}

// silent implements hanging.
func (p *webkitPage) silent(expression string) (string, bool) {
	patient := p.of.client
	defer func() { p.of.client = patient }()
	p.of.client.Timeout = Answers
	began := time.Now()
	text, err := p.evaluate(expression)
	return text, err != nil && time.Since(began) >= Answers
}

// alone implements hanging.
func (p *webkitPage) alone() bool { return len(p.of.pages) == 1 }

// doing implements hanging.
func (p *webkitPage) doing() string { return Doing(p.of.driver.cmd.Process.Pid) }

// Doing lists the threads of a program that Lead prepared and of all that it started:
// what they are called, whether they run or wait, and how long they have run.
func Doing(leader int) string {
	out, err := exec.Command("ps", "-eL", "-o", "pgid,pid,lwp,stat,wchan:20,time,comm").Output()
	if err != nil {
		return fmt.Sprintf("its processes can't be listed: %v", err)
	}
	group := strconv.Itoa(leader)
	var list strings.Builder
	for line := range strings.Lines(string(out)) {
		if f := strings.Fields(line); f[0] == group || f[0] == "PGID" {
			list.WriteString(line)
		}
	}
	return list.String()
}
