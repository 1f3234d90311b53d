package pantry_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/testkit"
)

// A code is found however it is typed, and never when another code is typed; it
// stays the same from one edition to the next.
func TestCodes(t *testing.T) {
	p := testkit.Invented(t, time.Date(2026, 11, 26, 12, 0, 0, 0, time.UTC))
	codes := map[string]int{}
	for _, j := range p.Jars {
		code := j.Code()
		codes[code]++
		if len(code) != 7 || code[3] != '-' || strings.ContainsAny(code, "ILOU") {
			t.Fatalf("the code of %s: got %q", j.ID, code)
		}
		similar := strings.NewReplacer("0", "o", "1", "l").Replace(strings.ToLower(code))
		for _, typed := range []string{code, strings.ToLower(code), strings.Replace(code, "-", "", 1), " " + strings.Replace(code, "-", " ", 1) + " ", similar} {
			if found := p.WithCode(typed); !slices.Contains(found, j) {
				t.Errorf("typed %q: %s was not found", typed, code)
			}
		}
		for _, typed := range []string{"", code[:6], code + "2", "?" + code[1:]} {
			if found := p.WithCode(typed); found != nil {
				t.Errorf("typed %q: got %v, want nothing", typed, found)
			}
		}
	}
	if len(codes) < len(p.Jars)-1 {
		t.Errorf("got %d codes for %d jars", len(codes), len(p.Jars))
	}
	// Labels outlive editions.
	fixed := record.Jar{Head: record.Head{ID: "0199f1f0-7b7c-7abc-8def-0123456789ab"}}
	if got := fixed.Code(); got != "EJB-QXC" {
		t.Errorf("the code of a printed label: got %q", got)
	}
}
