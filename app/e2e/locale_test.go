//go:build e2e

package e2e

import (
	"strings"
	"testing"
	"time"
)

// Dates are written as the reader writes them, and temperatures are in the unit
// of the reader's country until another is chosen.
func TestLocales(t *testing.T) {
	s := serve(t, "")
	b := start(t)
	p := b.open(s, phone)
	agent := eval[string](p, "navigator.userAgent")
	day := time.Now().AddDate(0, 0, 1)
	for _, c := range []struct{ language, date, unit, other string }{
		{"en-US", day.Format("Jan 2, 2006"), "°F", "°C"},
		{"en-GB", day.Format("2 Jan 2006"), "°C", "°F"},
		{"de-DE", day.Format("02.01.2006"), "°C", "°F"},
	} {
		p.wipe()
		p.call("Emulation.setUserAgentOverride", map[string]any{"userAgent": agent, "acceptLanguage": c.language})
		p.batch("1")
		p.visit("/trip")
		p.tap(saying("button", "Plan a trip"))
		p.wait(`!!document.querySelector("form.card")`)
		says := p.text("form.card")
		if !strings.Contains(says, "Hottest by day ("+c.unit+")") && !strings.Contains(strings.ToLower(says), "hottest by day ("+strings.ToLower(c.unit)+")") {
			t.Errorf("%s: the form does not ask in %s", c.language, c.unit)
		}
		p.tap(saying("button", "Work it out"))
		p.wait(`!!document.querySelector(".trip-days")`)
		if says := p.text("main"); !strings.Contains(says, strings.TrimPrefix(c.date, "0")) {
			t.Errorf("%s: %q is not in %.300s", c.language, c.date, says)
		}
	}
}
