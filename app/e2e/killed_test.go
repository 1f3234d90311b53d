//go:build e2e && linux

package e2e

import (
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"net/http/httputil"
	"net/url"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"larderlamp/app/demo"
	"larderlamp/app/e2e/drive"
	"larderlamp/app/record"
	"larderlamp/app/store"
)

// witness stands before the site and hears what a page says is kept, as it says
// so: nobody can ask a page that was killed.
type witness struct {
	*httptest.Server
	mu   sync.Mutex
	said []string
}

func newWitness(t *testing.T, s *site) *witness {
	t.Helper()
	to, err := url.Parse("http://" + s.addr)
	if err != nil {
		t.Fatal(err)
	}
	w := &witness{}
	proxy := httputil.NewSingleHostReverseProxy(to)
	w.Server = httptest.NewServer(http.HandlerFunc(func(out http.ResponseWriter, r *http.Request) {
		if r.URL.Path == "/kept" {
			w.mu.Lock()
			defer w.mu.Unlock()
			w.said = append(w.said, r.URL.Query().Get("what"))
			out.WriteHeader(http.StatusNoContent)
			return
		}
		proxy.ServeHTTP(out, r)
	}))
	t.Cleanup(w.Close)
	return w
}

// counts returns how much was said since the last time.
func (w *witness) counts() int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return len(w.said)
}

// heard returns what was said since the last time.
func (w *witness) heard() []string {
	w.mu.Lock()
	defer w.mu.Unlock()
	said := w.said
	w.said = nil
	return said
}

// The drivers go on as fast as the page allows, and tell the witness what it has
// said is kept.
const (
	telling     = `const kept = what => fetch("/kept?what=" + encodeURIComponent(what)), wait = ms => new Promise(done => setTimeout(done, ms));`
	answersFast = `((async () => { ` + telling + `
		const heading = () => document.querySelector(".question h1")?.innerText;
		for (let n = 1; heading(); n++) {
			const was = heading();
			[...document.querySelectorAll(".question input[type=radio]")].at(-1).click();
			await wait(5);
			if (heading() === was) document.querySelector(".question form, form.question")?.requestSubmit();
			while (heading() === was || document.querySelector(".saved")?.innerText !== "Saved on this device") await wait(1);
			await kept(new URLSearchParams(location.hash.slice(1)).get("id") + " " + n);
		}
	})(), true)`
	takesIn = `((async () => { ` + telling + `
		[...document.querySelectorAll("button")].find(b => b.innerText === "Bring it in").click();
		while (!document.querySelector("main").innerText.includes("Brought in:")) await wait(1);
		await kept("all");
	})(), true)`
)

// In each engine the browser is killed at seeded moments of checks and of importing
// a backup. What the page had said is kept is there when it is opened again,
// nothing is half written, and a backup is there whole or not at all. MOMENTS says
// how often; make lost does it 200 times in each.
func TestKilledInEveryEngine(t *testing.T) {
	first, end := span(t, "MOMENTS", 4)
	demo, err := demo.Records(time.Now())
	if err != nil {
		t.Fatal(err)
	}
	backup := backupOf(t, demo)
	file := filepath.Join(t.TempDir(), "backup.json")
	if err := os.WriteFile(file, backup, 0o600); err != nil {
		t.Fatal(err)
	}
	inEveryEngine(t, func(t *testing.T, e drive.Engine) {
		w := newWitness(t, serve(t, ""))
		b := drive.Start(t, e)
		kept, whole := 0, 0
		for n := first; n < end; n++ {
			r := rand.New(rand.NewPCG(21, uint64(n)))
			p := b.Open(t, w.URL, drive.Phone)
			p.ExpectFaults = true // what a dying page complains of
			p.Visit("/about")
			drive.Eval[bool](p, `new Promise((ok, bad) => { const r = indexedDB.deleteDatabase("larderlamp"); r.onsuccess = () => ok(true); r.onerror = () => bad(r.error); r.onblocked = () => bad(new Error("blocked")) })`)
			w.heard()
			what, most, page := "checks", 400, "/history"
			if n%2 == 0 {
				p.Visit("/check#product=peaches")
				p.Wait(`!!document.querySelector(".question")`)
				drive.Eval[bool](p, answersFast)
				// In the middle of the check, however fast the browser is.
				for first, late := r.IntN(5), time.Now().Add(drive.Patience); w.counts() < first; time.Sleep(5 * time.Millisecond) {
					if time.Now().After(late) {
						t.Fatalf("moment %d: got %d acknowledgements, want %d", n, w.counts(), first)
					}
				}
			} else {
				what, most, page = "taking in a backup", 900, "/shelf"
				p.Visit("/keeping")
				p.Wait(`!!(` + drive.Saying("button", "Bring in a backup") + `)`)
				p.Touch("button", "Bring in a backup")
				p.Wait(`!!document.querySelector("input[data-choose]")`)
				p.Files("input[data-choose]", file)
				p.Wait(`!!(` + drive.Saying("button", "Bring it in") + `)`)
				drive.Eval[bool](p, takesIn)
			}
			time.Sleep(time.Duration(r.IntN(most)) * time.Millisecond)
			said := w.heard()
			b.Kill(t)
			where := fmt.Sprintf("moment %d: killed during %s, after %d acknowledgements", n, what, len(said))
			p = b.Open(t, w.URL, drive.Phone)
			p.Visit(page)
			p.Wait(`!document.querySelector("main").innerText.includes("Opening what is kept")`)
			answers, records := map[string]int{}, 0
			for kind, rows := range allRows(p) {
				for _, row := range rows {
					if kind == string(store.KindSettings) {
						continue
					}
					rec, err := record.Decode(record.Kind(kind), []byte(row))
					if err != nil {
						t.Errorf("%s: got half a record: %v", where, err)
						continue
					}
					records++
					if c, ok := rec.(*record.Check); ok {
						answers[c.ID] = len(c.Answers)
					}
				}
			}
			kept += len(said)
			if n%2 == 0 {
				for _, line := range said {
					id, count, _ := strings.Cut(line, " ")
					if want, err := strconv.Atoi(count); err != nil || answers[id] < want {
						t.Errorf("%s: check %q has %d answers", where, line, answers[id])
					}
				}
			} else if records != 0 && records != len(demo) || records == 0 && len(said) > 0 {
				t.Errorf("%s: got %d of %d records", where, records, len(demo))
			} else if records > 0 {
				whole++
			}
			p.Close()
		}
		t.Logf("moments %d to %d: %d acknowledgements, all there; %d backups whole", first+1, end, kept, whole)
		if kept == 0 {
			t.Error("got no acknowledged write at all")
		}
	})
}
