package rules_test

import (
	"net/url"
	"testing"

	"larderlamp/rules"
)

// lost is what no address is known of: what is common practice.
var lost = map[string]bool{"practice": true}

// pageless are the sources that lead to their publisher only: their pages were looked
// for and not found. The first is a collection, each of whose pages has the name of the
// recipe that is cited.
var pageless = map[string]bool{
	"nchfp-recipes": true, "uga-manual": true, "umaine-fiddleheads": true, "unr-butter": true,
}

// Every source is listed once, and a citation can be followed: to the page where it
// was read, or to its publisher. Those for which neither is known are named.
func TestSourcesHaveAddresses(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range rules.Sources() {
		if got := s.Page() == ""; got != (pageless[s.ID] || lost[s.ID]) {
			t.Errorf("%s has no page: %v, listed as without one: %v", s.ID, got, !got)
		}
		if s.Known == rules.Read && s.Copy() {
			t.Errorf("%s is a copy, and is said to be read at its publisher", s.ID)
		}
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
	named := map[string]bool{}
	for _, id := range rules.Pages() {
		if !seen[id] || named[id] {
			t.Errorf("%s has a page and is no source, or has two", id)
		}
		named[id] = true
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
