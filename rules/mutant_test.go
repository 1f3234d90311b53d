package rules_test

import (
	"slices"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/cases"
)

// bench evaluates any table of rules, slowly and by the book: it is how mutants
// of the rules are judged, and an evaluator of its own for partial situations.
type bench [rules.NumParts][]rules.Rule

func table() (b bench) {
	for p := range rules.Parts {
		b[p] = rules.Parts[p].Rules
	}
	return
}

// holds reports whether a condition holds for all, and for some, of what is possible.
func holds(s *rules.Situation, c []rules.Value) (all, some bool) {
	all = true
	for _, v := range c[0].Sign().Info().Values {
		if s.Possible(v.Value) {
			in := slices.Contains(c, v.Value)
			all, some = all && in, some || in
		}
	}
	return
}

func matches(s *rules.Situation, r *rules.Rule) (certain, possible bool) {
	certain, possible = true, true
	for _, c := range r.When {
		all, some := holds(s, c)
		certain, possible = certain && all, possible && some
	}
	return
}

// judge returns the interval and the rules that certainly match.
func (b *bench) judge(s rules.Situation) (lowest, highest rules.Verdict, fired map[string]bool) {
	fired = map[string]bool{}
	best, worst := rules.Discard, rules.Discard
	backs, surely := map[rules.Value]bool{}, map[rules.Value]bool{}
	for p := range b {
		for i := range b[p] {
			r := &b[p][i]
			if !r.Kind.Supports() {
				continue
			}
			certain, possible := matches(&s, r)
			if possible {
				best = min(best, r.Then)
				backs[r.Backs()] = true
			}
			if certain {
				worst = min(worst, r.Then)
				surely[r.Backs()] = true
			}
		}
	}
	s[rules.SignBacking] = 0
	if backs[rules.BackingTested] {
		s[rules.SignBacking] |= 1 << 0
	}
	if backs[rules.BackingPlain] && !surely[rules.BackingTested] {
		s[rules.SignBacking] |= 1 << 1
	}
	if !surely[rules.BackingTested] && !surely[rules.BackingPlain] {
		s[rules.SignBacking] |= 1 << 2
	}
	lowest, highest = best, worst
	for p := range b {
		for i := range b[p] {
			r := &b[p][i]
			certain, possible := matches(&s, r)
			if certain {
				fired[r.ID] = true
			}
			if r.Kind != rules.Restriction {
				continue
			}
			if certain {
				lowest = max(lowest, r.Then)
			}
			if possible {
				highest = max(highest, r.Then)
			}
		}
	}
	return
}

// The slow evaluator is the engine's equal on every case, so that what it says
// of mutants counts.
func TestBenchEqualsEvaluate(t *testing.T) {
	b := table()
	for _, c := range allCases(t) {
		o := rules.Evaluate(c.Situation)
		lowest, highest, fired := b.judge(c.Situation)
		if lowest != o.Lowest || highest != o.Highest {
			t.Errorf("%s: got %v..%v, want %v..%v as from the engine", c.ID, lowest, highest, o.Lowest, o.Highest)
		}
		for p := range rules.Parts {
			for i := range rules.Parts[p].Rules {
				if id := rules.Parts[p].Rules[i].ID; fired[id] != (o.Certain[p]>>i&1 != 0) {
					t.Errorf("%s: %s: got fired %v, want what the engine says", c.ID, id, fired[id])
				}
			}
		}
	}
}

// firing returns the values of the sign for which the rule fires.
func firing(o cases.Only, b *bench, s rules.Situation) (set rules.Set) {
	for bit := range o.Sign.Info().Values {
		s[o.Sign] = 1 << bit
		if _, _, fired := b.judge(s); fired[o.Rule] {
			set |= 1 << bit
		}
	}
	return
}

// fails reports whether a case fails under a table of rules.
func fails(c *cases.Case, b *bench) bool {
	lowest, highest, fired := b.judge(c.Situation)
	if lowest != c.Lowest || highest != c.Highest {
		return true
	}
	for _, id := range c.Fires {
		if !fired[id] {
			return true
		}
	}
	for _, id := range c.Not {
		if fired[id] {
			return true
		}
	}
	return slices.ContainsFunc(c.Only, func(o cases.Only) bool { return firing(o, b, c.Situation) != o.Set })
}

// mutant is one small change of one rule.
type mutant struct {
	what string
	rule rules.Rule
	drop bool
}

// mutants lists the first-order changes of a rule: each value of each condition
// put in or taken out, each condition dropped, the rule dropped, its verdict
// changed to each other one.
func mutants(r *rules.Rule) (ms []mutant) {
	change := func(what string, f func(*rules.Rule)) {
		m := *r
		m.When = nil
		for _, c := range r.When {
			m.When = append(m.When, slices.Clone(c))
		}
		f(&m)
		ms = append(ms, mutant{what: r.ID + ": " + what, rule: m})
	}
	ms = append(ms, mutant{what: r.ID + ": dropped", drop: true})
	for i, c := range r.When {
		if len(r.When) > 1 {
			change("without "+c[0].Sign().ID(), func(m *rules.Rule) { m.When = slices.Delete(m.When, i, i+1) })
		}
		for _, v := range c[0].Sign().Info().Values {
			name := c[0].Sign().ID() + " " + v.ID
			switch at := slices.Index(c, v.Value); {
			case at < 0 && len(c)+1 < len(c[0].Sign().Info().Values):
				change("with "+name, func(m *rules.Rule) { m.When[i] = append(m.When[i], v.Value) })
			case at >= 0 && len(c) > 1:
				change("without "+name, func(m *rules.Rule) { m.When[i] = slices.Delete(m.When[i], at, at+1) })
			}
		}
	}
	if r.Then != 0 {
		for _, v := range rules.Verdicts {
			if v != r.Then && !(r.Kind == rules.Restriction && v == rules.Keep) { // that is dropping it
				change("then "+v.ID(), func(m *rules.Rule) { m.Then = v })
			}
		}
	}
	return
}

// equivalent proves that a mutant changes nothing: over the whole space of its
// part no verdict differs, and a rule that only explains matches where it did.
func equivalent(t *testing.T, b *bench, p int, m *mutant, id string) bool {
	plain := table()
	same := true
	eachSituation(t, &rules.Parts[p], func(s rules.Situation) {
		if !same {
			return
		}
		l1, h1, f1 := plain.judge(s)
		l2, h2, f2 := b.judge(s)
		same = l1 == l2 && h1 == h2 && (m.rule.Then != 0 || f1[id] == f2[id])
	})
	return same
}

// Every mutant of a rule fails a case, or is proved to change nothing.
func TestProveNoMutantSurvives(t *testing.T) {
	if testing.Short() {
		t.Skip("the rules and the cases are the same everywhere; run natively")
	}
	all := slices.DeleteFunc(allCases(t), func(c cases.Case) bool { return c.Failing != "" })
	killed, same := 0, 0
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			for _, m := range mutants(r) {
				b := table()
				b[p] = slices.Clone(b[p])
				if m.drop {
					b[p] = slices.Delete(b[p], i, i+1)
				} else {
					b[p][i] = m.rule
				}
				switch {
				case slices.ContainsFunc(all, func(c cases.Case) bool { return fails(&c, &b) }):
					killed++
				case p != rules.PartRecord && !m.drop && equivalent(t, &b, p, &m, r.ID):
					same++
				default:
					t.Errorf("no case fails for the mutant: %s", m.what)
				}
			}
		}
	}
	t.Logf("%d mutants fail a case, %d are proved to change nothing", killed, same)
}
