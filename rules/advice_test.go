package rules_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/process"
)

// The minutes that the advice gives for mashed potatoes are those of the
// published boil at both edges.
func TestPotatoesAreBoiledLongEnough(t *testing.T) {
	for feet, minutes := range map[process.Feet]int{999: 10, 1000: 11, 5999: 15, 6000: 16} {
		if got := process.BoilMinutes(feet); got != minutes {
			t.Errorf("at %d ft %d minutes, want %d", feet, got, minutes)
		}
	}
	if steps := strings.Join(rules.AdviceByID("boil").Steps, " "); !strings.Contains(steps, "15 minutes up to 5,999 ft") || !strings.Contains(steps, "10 minutes below 1,000 ft") {
		t.Error("the advice gives other edges")
	}
}

// Every discarded jar is told how to be disposed of, whatever is known of it,
// and no jar that may be open or leaking low-acid food without the careful way.
func TestEveryDiscardIsDisposedOf(t *testing.T) {
	for p := range rules.Parts {
		eachSituation(t, &rules.Parts[p], func(s rules.Situation) {
			o := rules.Evaluate(s)
			if o.Highest != rules.Discard {
				return
			}
			var ids []string
			for _, a := range rules.AdviceFor(s) {
				ids = append(ids, a.ID)
			}
			if !slices.ContainsFunc(ids, func(id string) bool { return strings.HasPrefix(id, "dispose.") && id != "dispose.glass" }) {
				t.Fatalf("no disposal among %v: %v", ids, describe(s))
			}
			low := s.Possible(rules.ClassLow) || s.Possible(rules.ClassBorderline)
			loose := !s.Is(rules.OpenedNo) || s.Is(rules.SeepWet) || s.Is(rules.SeepStreak) || s.Is(rules.LidFlat) || s.Is(rules.PressGives) || s.Is(rules.LiftOff) || s.Is(rules.GlassCracked)
			if low && loose && (!slices.Contains(ids, "dispose.low") || !slices.Contains(ids, "cleanup")) {
				t.Fatalf("only %v: %v", ids, describe(s))
			}
		})
	}
}

// Every stop sign names a source, and one that was read.
func TestStopSignsNameTheirSources(t *testing.T) {
	for i := range rules.StopSigns {
		s := &rules.StopSigns[i]
		read := false
		for _, c := range s.Cites() {
			read = read || c.Evidence.Found()
		}
		if !read {
			t.Errorf("%q: no source that was read among %v", s.Do, s.Cites())
		}
	}
}
