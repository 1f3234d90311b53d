package rules_test

import (
	"net/url"
	"testing"

	"larderlamp/rules"
)

// lost lists the sources with no known address: those that are common practice.
var lost = map[string]bool{"practice": true}

// pageless are the sources that only lead to their publisher, because a search for
// their pages found none. The first is a collection whose pages are each named after
// the cited recipe.
var pageless = map[string]bool{
	"nchfp-recipes": true, "uga-manual": true, "umaine-fiddleheads": true, "unr-butter": true,
}

// Every source is listed once, and a citation can be followed: to the page where it
// was read, or to its publisher. Those for which neither is known are named.
func TestSourcesHaveAddresses(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range rules.Sources() {
		if got := s.Page() == ""; got != (pageless[s.ID] || lost[s.ID]) {
			t.Errorf("%s: got “has no page” %v, want %v as listed", s.ID, got, !got)
		}
		if s.Known == rules.Read && s.Copy() {
			t.Errorf("%s is a copy but is marked as read at its publisher", s.ID)
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
				t.Errorf("%s: %q is not an address", s.ID, address)
			}
		}
		if found == lost[s.ID] {
			t.Errorf("%s: got “has an address” %v, listed as lost: %v", s.ID, found, lost[s.ID])
		}
	}
	named := map[string]bool{}
	for _, id := range rules.Pages() {
		if !seen[id] || named[id] {
			t.Errorf("%s has a page but is not a source, or has two pages", id)
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
