//go:build e2e && linux

package e2e

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime/pprof"
	"slices"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"larderlamp/app/e2e/drive"
)

// In one run of many, Chromium fell silent in the middle of a test: not the page,
// which it keeps apart in another process, but the browser, which did not even end
// when it was told to. Nothing can be said of such a test. It is broken off, which is
// noted as a hang of WebKit is (see drive.NoteHang), and done once more after all the
// others, in another browser. A page that hangs, and a test that has failed already,
// fail as ever.

var (
	// silenced are the tests that were broken off.
	silenced []string
	// repeated is set while they are done once more.
	repeated bool
)

// mostSilences is how many tests of one run may be broken off.
const mostSilences = 2

// watched is a test that looks at the browser before it fails for good.
type watched struct {
	testing.TB
	ctx context.Context // of the browser
}

func (w watched) Fatal(args ...any) {
	w.Helper()
	w.unlessSilent()
	w.TB.Fatal(args...)
}

func (w watched) Fatalf(format string, args ...any) {
	w.Helper()
	w.unlessSilent()
	w.TB.Fatalf(format, args...)
}

// unlessSilent returns if the browser answers. Otherwise it ends the browser and breaks
// the test off.
func (w watched) unlessSilent() {
	w.Helper()
	if w.Failed() || !silent(w.ctx) {
		return
	}
	process := chromedp.FromContext(w.ctx).Browser.Process()
	var goes bytes.Buffer
	pprof.Lookup("goroutine").WriteTo(&goes, 1)
	says := fmt.Sprintf("%s: chromium answered nothing any more\n%s\n%s\n", w.Name(), drive.Doing(process.Pid), &goes)
	drive.NoteHang(w, says)
	process.Kill() // an error says that it has ended
	select {
	case <-w.ctx.Done():
	case <-time.After(drive.Answers):
		w.Log("and did not end when it was killed")
	}
	name, _, _ := strings.Cut(w.Name(), "/")
	if !slices.Contains(silenced, name) {
		if repeated || len(silenced) == mostSilences {
			w.Log(says)
			return
		}
		silenced = append(silenced, name)
	}
	w.Skip(says)
}

// silent reports whether a browser that runs says nothing of itself for as long as
// drive.Answers.
func silent(ctx context.Context) bool {
	if ctx.Err() != nil {
		return false // it was ended, or has died
	}
	inTime, late := context.WithTimeout(ctx, drive.Answers)
	defer late()
	err := chromedp.FromContext(ctx).Browser.Call(inTime, "Browser.getVersion", nil, nil)
	return err != nil && inTime.Err() != nil
}

// again does the tests once more that were broken off.
func again(m *testing.M) int {
	names := silenced
	silenced, repeated = nil, true
	fmt.Printf("once more, in another browser: %s\n", strings.Join(names, ", "))
	if err := flag.Set("test.run", "^("+strings.Join(names, "|")+")$"); err != nil {
		panic(err) // the name is right
	}
	return m.Run()
}

// A browser that falls silent is found, said and ended; the test is done once more,
// and fails when it happens again. A page that is silent alone fails at once.
func TestSilentBrowser(t *testing.T) {
	if os.Getenv("FALLS_SILENT") != "" {
		fallsSilent(t)
		return
	}
	for _, c := range []struct {
		what, falls string
		fails       bool
		says        string
	}{
		{"once", "browser", false, "once more, in another browser: TestSilentBrowser"},
		{"ever again", "browser browser", true, "chromium answered nothing any more"},
		{"only the page", "page", true, "the page answers nothing"},
	} {
		t.Run(c.what, func(t *testing.T) {
			falls := filepath.Join(t.TempDir(), "falls")
			if err := os.WriteFile(falls, []byte(c.falls), 0o600); err != nil {
				t.Fatal(err)
			}
			run := exec.Command(os.Args[0], "-test.run", "^TestSilentBrowser$", "-test.timeout", "5m")
			run.Env = append(run.Environ(), "FALLS_SILENT="+falls)
			said, err := run.CombinedOutput()
			if fails := err != nil; fails != c.fails || !strings.Contains(string(said), c.says) {
				t.Errorf("got %v, want failed %v, and %q in:\n%s", err, c.fails, c.says, said)
			}
		})
	}
}

// fallsSilent is a test with a browser or a page that answers nothing, once for each
// word of a file.
func fallsSilent(t *testing.T) {
	name := os.Getenv("FALLS_SILENT")
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	falls := strings.Fields(string(text))
	drive.Answers = time.Second
	drive.Hangs = filepath.Join(filepath.Dir(name), "hung.txt")
	p := start(t).open(&site{addr: "127.0.0.1:9"}, phone)
	if len(falls) == 0 {
		if got := eval[int](p, "1 + 1"); got != 2 {
			t.Errorf("got %d", got)
		}
		return
	}
	if err := os.WriteFile(name, []byte(strings.Join(falls[1:], " ")), 0o600); err != nil {
		t.Fatal(err)
	}
	if falls[0] == "browser" {
		if err := chromedp.FromContext(shared.ctx).Browser.Process().Signal(syscall.SIGSTOP); err != nil {
			t.Fatal(err)
		}
	}
	p.t.Fatal("the page answers nothing")
}
