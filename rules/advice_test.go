package rules_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
)

// The advice on how long food keeps in the refrigerator is what the rules about
// days allow, for every kind of food, and a jar is never given two times.
func TestOneDeadlineTheStrictest(t *testing.T) {
	for _, keeps := range rules.SignKeeps.Info().Values {
		s := soundJar(t, rules.ClassAcid, rules.RouteBoiling, keeps.Value)
		for _, state := range []rules.Value{rules.OpenedNow, rules.OpenedBefore, rules.OpenedChilled, rules.OpenedThawed} {
			one := s
			one.Forget(rules.SignOpened)
			if err := one.Tell(state); err != nil {
				t.Fatal(err)
			}
			for i := range rules.Signs {
				if c := rules.Signs[i].Chapter; c >= rules.ChapterOpening && rules.SignID(i) != rules.SignOpened {
					one[i] = 1
				}
			}
			within := 0
			for _, a := range rules.AdviceFor(one) {
				if a.Within > 0 {
					within = a.Within
				}
			}
			if days := rules.KeptDays(one); within != days || days == 0 {
				t.Errorf("%s, %s: got advice for %d days, want the %d that the rules allow", keeps.ID, state.ID(), within, days)
			}
		}
	}
	for p := range rules.Parts {
		eachSituation(t, &rules.Parts[p], func(s rules.Situation) {
			timed := 0
			for _, a := range rules.AdviceFor(s) {
				if a.Within > 0 {
					timed++
				}
			}
			if timed > 1 {
				t.Fatalf("got %d pieces of advice that set a time for one jar, want at most one: %v", timed, describe(s))
			}
		})
	}
}

// Every discarded jar has a way to dispose of it, whatever is known about it,
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
				t.Fatalf("got the advice %v, want a way of disposal in it: %v", ids, describe(s))
			}
			low := s.Possible(rules.ClassLow) || s.Possible(rules.ClassBorderline)
			loose := !s.Is(rules.OpenedNo) && !s.Is(rules.OpenedFrozen) || s.Is(rules.SeepWet) || s.Is(rules.SeepStreak) || s.Is(rules.LidFlat) || s.Is(rules.PressGives) || s.Is(rules.LiftOff) || s.Is(rules.GlassCracked)
			if slices.Contains(ids, "dispose.leftover") {
				// It was good: no rule outside the days and hours may speak against it.
				for q := range rules.Parts {
					for i := range rules.Parts[q].Rules {
						if r := &rules.Parts[q].Rules[i]; q != rules.PartOpened && q != rules.PartSour && q != rules.PartWarmth && r.Kind == rules.Restriction && r.Then == rules.Discard && o.Possible[q]>>i&1 != 0 {
							t.Fatalf("%s may apply, and yet the jar is called a leftover: %v", r.ID, describe(s))
						}
					}
				}
				return
			}
			if low && loose && (!slices.Contains(ids, "dispose.low") || !slices.Contains(ids, "cleanup")) {
				t.Fatalf("got only the advice %v, want the careful disposal too: %v", ids, describe(s))
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
			read = read || c.Known().Found()
		}
		if !read {
			t.Errorf("%q: got the sources %v, want at least one that was read", s.Do, s.Cites())
		}
	}
}
