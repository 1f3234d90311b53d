package practice_test

import (
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/practice"
)

// A sound jar is kept where a process is published for it, and with any one
// value told it is still a jar, unless no jar of that food shows it.
func TestSound(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		j, err := practice.Sound(p)
		if err != nil {
			t.Fatal(err)
		}
		if (j.Verdict == rules.Keep) != p.Processed() {
			t.Errorf("%s, sound: got %v", p.ID, j.Verdict)
		}
	}
	peaches, _ := rules.ProductByID("peaches")
	for id := range rules.SignID(rules.NumSigns) {
		if id.Fact() || id.Info().Chapter == rules.ChapterRecord {
			continue
		}
		for _, v := range id.Info().Values {
			j, err := practice.Sound(peaches, v.Value)
			if err != nil {
				t.Errorf("%s=%s: %v", id.ID(), v.ID, err)
			} else if !j.Situation.Is(v.Value) || !told(&j.Situation) {
				t.Errorf("%s=%s is not shown, or not all is told", id.ID(), v.ID)
			}
		}
	}
	if _, err := practice.Sound(peaches, rules.StandingPublished, rules.ExtrasOil); err == nil {
		t.Error("a recipe followed exactly, yet packed in oil: got no error, want one")
	}
	if _, err := practice.Sound(peaches, rules.OpenedNo, rules.SmellOff); err == nil {
		t.Error("a closed jar with a smell: got no error, want one")
	}
}
