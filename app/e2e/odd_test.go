//go:build e2e && linux

package e2e

import (
	"fmt"
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

// Whatever is asked for, no address ends the program or leaves the page without a
// heading, in any engine; nor does any file with references put wrong that is
// taken in, after which every screen says of each jar what the records say. FILES
// says how many files; all of them are drawn natively in the tests of the app.
func TestOddAddressesAndFiles(t *testing.T) {
	files := 2
	if text := os.Getenv("FILES"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 {
			t.Fatalf("FILES: %q is not a number from 0 on", text)
		}
		files = n
	}
	for _, e := range drive.Engines {
		t.Run(string(e), func(t *testing.T) {
			s := serve(t, "")
			b := drive.Start(t, e, dress)
			w := &window{Tab: b.Open(t, s.url(""), drive.Phone)}
			w.visit("/shelf")
			w.settled()
			records := soundHousehold(t, time.Now())
			put(w.Tab, records)
			stands := func(p *drive.Tab, where string) {
				t.Helper()
				p.Wait(`!document.querySelector("main")?.innerText.includes("Opening what is kept")`)
				if p.Has(".stopped, .unstarted") || !p.Has("main h1") {
					t.Errorf("%s ends the program, or shows nothing: %.200s", where, p.Text("body"))
				}
			}
			// Several pages load at once.
			tabs := make([]*drive.Tab, 6)
			for i := range tabs {
				tabs[i] = b.Open(t, s.url(""), drive.Phone)
			}
			for group := range slices.Chunk(oddAddresses, len(tabs)) {
				for i, odd := range group {
					tabs[i].Blank()
					drive.Eval[bool](tabs[i], fmt.Sprintf(`(setTimeout(() => location.assign(%q)), true)`, s.url(strings.ReplaceAll(odd, "{jar}", records[3].Key()))))
				}
				for i, odd := range group {
					tabs[i].Wait(`location.protocol !== "about:"`)
					tabs[i].Running()
					stands(tabs[i], odd)
				}
			}
			for _, p := range tabs {
				p.Close()
			}
			for n := range files {
				r := rand.New(rand.NewPCG(300, uint64(n)))
				wrong := soundHousehold(t, time.Now())
				for i, rec := range wrong {
					switch rec := rec.(type) {
					case *record.Batch:
						if r.IntN(2) == 0 {
							wrong[i] = wrong[0] // the batch is left out
							rec.Delete(time.Now())
						}
					case *record.Jar:
						rec.Events[0].Place = wrong[r.IntN(len(wrong))].Key()
						if r.IntN(3) == 0 {
							rec.Batch = wrong[r.IntN(len(wrong))].Key()
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
				text, err := backup.Write(backup.File{Written: time.Now(), Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: kept})
				if err != nil {
					t.Fatal(err)
				}
				file := filepath.Join(t.TempDir(), "wrong.json")
				if err := os.WriteFile(file, text, 0o600); err != nil {
					t.Fatal(err)
				}
				w.visit("/keeping")
				w.settled()
				w.Touch("button", "Bring in a backup")
				w.Files("input[data-choose]", file)
				w.Wait(`!!(` + drive.Saying("button", "Bring it in") + `)`)
				w.act("Bring it in")
				w.Wait(`document.querySelector("main").innerText.includes("Brought in:")`)
				for _, page := range []string{"/shelf", "/jar?id=" + kept[len(kept)-1].Key(), "/stock", "/sweep", "/labels", "/trip", "/places"} {
					w.visit(page)
					w.settled()
					stands(w.Tab, fmt.Sprintf("file %d, %s", n, page))
					if page != "/stock" {
						w.current(fmt.Sprintf("file %d, %s", n, page))
					}
				}
			}
		})
	}
}
