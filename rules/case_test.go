package rules_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/cases"
)

func allCases(t testing.TB) []cases.Case {
	t.Helper()
	all, err := cases.All()
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestCases(t *testing.T) {
	for _, c := range allCases(t) {
		t.Run(c.ID, func(t *testing.T) {
			if c.Failing != "" {
				if b := table(); !fails(&c, &b) {
					t.Errorf("%s: marked as failing (%s), but it passes: remove the mark", c.Where, c.Failing)
				}
				return
			}
			trace := rules.Explain(c.Situation)
			if trace.Lowest != c.Lowest || trace.Highest != c.Highest {
				t.Errorf("%s: %s\n  got %v to %v, want %v to %v", c.Where, c.Name, trace.Lowest, trace.Highest, c.Lowest, c.Highest)
			}
			var open []string
			for _, id := range trace.Open {
				open = append(open, id.ID())
			}
			if !slices.Equal(open, c.Open) {
				t.Errorf("%s: got the open signs %v, want %v", c.Where, open, c.Open)
			}
			fired, sources := map[string]bool{}, ""
			for _, l := range append(slices.Clone(trace.Deciding), trace.Also...) {
				fired[l.Rule.ID] = true
				for _, cite := range l.Rule.Cites {
					sources += cite.String() + "\n"
				}
			}
			for _, id := range c.Fires {
				if !fired[id] {
					t.Errorf("%s: %s is not among the reasons; got %v", c.Where, id, fired)
				}
			}
			for _, id := range c.Not {
				if fired[id] {
					t.Errorf("%s: got %s among the reasons, want it left out", c.Where, id)
				}
			}
			b := table()
			for _, o := range c.Only {
				if fires := firing(o, &b, c.Situation); fires != o.Set {
					t.Errorf("%s: %s fires for %b of %s, want %b", c.Where, o.Rule, fires, o.Sign.ID(), o.Set)
				}
			}
			for _, text := range c.Cites {
				if !strings.Contains(sources, text) {
					t.Errorf("%s: no source says %q; they are\n%s", c.Where, text, sources)
				}
			}
			for _, id := range c.Advice {
				if !slices.Contains(rules.AdviceFor(c.Situation), rules.AdviceByID(id)) {
					t.Errorf("%s: the advice %s is missing", c.Where, id)
				}
			}
		})
	}
}

// Every rule fires in some case, and in another fails to fire because of a single
// condition.
func TestCasesCoverEveryRule(t *testing.T) {
	all := allCases(t)
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			fires, near := false, false
			for _, c := range all {
				o := rules.Evaluate(c.Situation)
				if o.Certain[p]>>i&1 != 0 {
					fires = true
				}
				failed := 0
				for _, condition := range r.When {
					holds := true
					id := condition[0].Sign()
					s := c.Situation
					if id == rules.SignBacking {
						s[id] = o.Backing
					}
					for _, v := range id.Info().Values {
						holds = holds && (!s.Possible(v.Value) || slices.Contains(condition, v.Value))
					}
					if !holds {
						failed++
					}
				}
				near = near || failed == 1 && o.Possible[p]>>i&1 == 0
			}
			if !fires || !near {
				t.Errorf("%s: fires in a case: got %v; fails by one condition in another: got %v; want both true", r.ID, fires, near)
			}
		}
	}
}
