package rules_test

import (
	"strings"
	"testing"

	"larderlamp/rules"
)

// british writes an id as edition 2026.2 did at first.
var british = strings.NewReplacer("color", "colour", "mold", "mould", "gray-black", "grey-black")

// Every name that had the British spelling is still accepted and means the same.
func TestOldNames(t *testing.T) {
	renamed := 0
	for i := range rules.Signs {
		sign := rules.SignID(i)
		old := british.Replace(sign.ID())
		if got, ok := rules.SignByID(old); !ok || got != sign {
			t.Errorf("sign %s: got %v, %v, want %s", old, got, ok, sign.ID())
		}
		for _, v := range sign.Info().Values {
			name := british.Replace(v.ID)
			if got, ok := sign.ValueByID(name); !ok || got != v.Value {
				t.Errorf("%s=%s: got %v, %v, want %s", sign.ID(), name, got, ok, v.ID)
			}
			s := rules.NewSituation()
			if err := s.TellNamed(old, []string{name}); err != nil && sign != rules.SignBacking {
				t.Errorf("%s=%s: %v", old, name, err)
			}
			if name != v.ID {
				renamed++
			}
		}
		if old != sign.ID() {
			renamed++
		}
	}
	for p := range rules.Parts {
		for _, r := range rules.Parts[p].Rules {
			old := british.Replace(r.ID)
			if got, ok := rules.RuleByID(old); !ok || got.ID != r.ID {
				t.Errorf("rule %s: got %v, %v, want %s", old, got, ok, r.ID)
			}
			if got := rules.CurrentID(r.ID); got != r.ID {
				t.Errorf("%s: got %s, want itself", r.ID, got)
			}
			if old != r.ID {
				renamed++
			}
		}
	}
	if renamed < 20 {
		t.Errorf("got only %d names with the British spelling", renamed)
	}
}
