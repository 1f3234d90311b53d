package rules_test

import (
	"net/url"
	"testing"

	"larderlamp/rules"
)

// Every source is listed once, and a citation can be followed: nearly every
// publisher has an address, over https and of its own.
func TestSourcesHaveAddresses(t *testing.T) {
	seen, without := map[string]bool{}, 0
	all := rules.Sources()
	for _, s := range all {
		if seen[s.ID] {
			t.Errorf("%s is listed twice", s.ID)
		}
		seen[s.ID] = true
		site := s.Site()
		if site == "" {
			without++
			t.Logf("no address: %s, %q", s.ID, s.Publisher)
			continue
		}
		if u, err := url.Parse(site); err != nil || u.Scheme != "https" || u.Host == "" {
			t.Errorf("%s: %q is no address", s.ID, site)
		}
	}
	if without*8 > len(all) {
		t.Errorf("%d of %d sources have no address", without, len(all))
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
