package rules_test

import (
	"net/url"
	"testing"

	"larderlamp/rules"
)

// lost are the sources that no address is known of: reports and tables that were read
// on pages which did not say whose they are, and what is common practice.
var lost = map[string]bool{
	"alaska-2019": true, "color-text": true, "pickle-table": true, "practice": true,
}

// Every source is listed once, and a citation can be followed: to the page where it
// was read, or to its publisher. Those for which neither is known are named.
func TestSourcesHaveAddresses(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range rules.Sources() {
		if seen[s.ID] {
			t.Errorf("%s is listed twice", s.ID)
		}
		seen[s.ID] = true
		found := false
		// A page that was read years ago may have been there without encryption only.
		for _, address := range []string{s.Page(), s.Site()} {
			if address == "" {
				continue
			}
			found = true
			if u, err := url.Parse(address); err != nil || u.Scheme != "https" && (u.Scheme != "http" || address != s.Page()) || u.Host == "" {
				t.Errorf("%s: %q is no address", s.ID, address)
			}
		}
		if found == lost[s.ID] {
			t.Errorf("%s: an address %v, listed as lost %v", s.ID, found, lost[s.ID])
		}
	}
	for _, id := range rules.Pages() {
		if !seen[id] {
			t.Errorf("%s has a page and is no source", id)
		}
	}
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			for _, c := range rules.Parts[p].Rules[i].Cites {
				if !seen[c.Source.ID] {
					t.Errorf("%s cites %s, which is not listed", rules.Parts[p].Rules[i].ID, c.Source.ID)
				}
			}
		}
	}
}
