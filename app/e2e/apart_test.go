//go:build e2e && linux

package e2e

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"larderlamp/app/e2e/drive"
	"larderlamp/app/record"
)

// Another device says that the cellar was flooded, apart from what was changed here.
// The jars are judged by that until somebody decides, on the page of the places.
func TestTwoVersions(t *testing.T) {
	s := serve(t, "")
	p := guide{drive.Start(t, drive.Chromium).Open(t, s.url(""), drive.Phone)}
	p.Visit("/keeping")
	p.Wait(`!document.querySelector("main").innerText.includes("Opening what is kept")`)
	records := soundHousehold(t, time.Now().AddDate(0, -4, 0))
	cellar := records[0].(*record.Place)
	other := *cellar
	other.Wet = "flood"
	text, err := other.Encode()
	if err != nil {
		t.Fatal(err)
	}
	cellar.Notes = "swept"
	cellar.Aside = []json.RawMessage{text}
	put(p.Tab, records)
	p.Visit("/shelf")
	p.says("two phones do not agree")
	p.says("Discard safely")
	p.Turn("/places")
	p.says("Two devices changed this place apart from each other.")
	if said := drive.Eval[string](p.Tab, `document.querySelector(".row-jar .notice").innerText`); !strings.Contains(strings.ToLower(said), "flood") {
		t.Errorf("got %q, want that it was flooded", said)
	}
	p.Touch("button", "Keep what counts now")
	p.Wait(`!document.querySelector(".row-jar .notice")`)
	p.Turn("/shelf")
	p.Wait(`!document.querySelector("main").innerText.includes("Discard safely")`)
	p.Wait(`!document.querySelector("main").innerText.includes("two phones do not agree")`)
}
