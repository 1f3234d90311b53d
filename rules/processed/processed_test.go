package processed_test

import (
	"slices"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
)

const all = process.Met | process.Agrees | process.Short | process.NoProcess

// Over every set of answers: the figures never prove what a remembered row alone
// says, what they rule out is never taken for as published, and knowing less
// never narrows the sign.
func TestValuesOfEveryJudgment(t *testing.T) {
	for s := process.Met; s <= all; s++ {
		for _, confirmed := range []bool{false, true} {
			values := processed.Values(s, confirmed, 0, false)
			if met := slices.Equal(values, []rules.Value{rules.ProcessMet}); met && s != process.Met && !confirmed {
				t.Errorf("%v: got “as published” without confirmation", s)
			}
			if slices.Contains(values, rules.ProcessMet) == processed.RulesOut(s) {
				t.Errorf("%v, confirmed %v: got %v", s, confirmed, values)
			}
			for more := s; more <= all; more++ {
				if more&s != s {
					continue
				}
				for _, v := range values {
					if !slices.Contains(processed.Values(more, confirmed, 0, false), v) {
						t.Errorf("%v leaves %s open, but the wider %v does not", s, v.ID(), more)
					}
				}
			}
			for _, said := range rules.SignProcess.Info().Values {
				got := processed.Values(s, confirmed, said.Value, true)
				if said.Value != rules.ProcessMet && !slices.Equal(got, []rules.Value{said.Value}) {
					t.Errorf("%v with the answer %s: got %v", s, said.ID, got)
				}
				if said.Value == rules.ProcessMet && slices.Contains(got, rules.ProcessMet) == processed.RulesOut(s) {
					t.Errorf("%v with the answer “as published”: got %v", s, got)
				}
			}
		}
	}
}

// The table of a food is looked up for that food only; where several are
// possible, nothing is settled by any one of them.
func TestRecordOfEveryProduct(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		tables := processed.Tables(p)
		for _, table := range append(slices.Clone(tables), "", "no/such") {
			r := processed.Record(p, table)
			switch {
			case len(tables) == 0 && (r.Product != "" || r.Form != ""):
				t.Errorf("%s has no table: got %+[3]v for %[2]q", p.ID, table, r)
			case slices.Contains(tables, table) && r.Product+"/"+r.Form != table && r.Product != table:
				t.Errorf("%s: %q: got the table %s/%s", p.ID, table, r.Product, r.Form)
			case len(tables) > 1 && !slices.Contains(tables, table) && r.Form != "":
				t.Errorf("%s: %q: got the form %q", p.ID, table, r.Form)
			}
		}
	}
	for _, v := range rules.SignMethod.Info().Values {
		if m := processed.Method(v.Value, true); (m == 0) != (v.Value == rules.MethodUntold) {
			t.Errorf("%s: got the method %d", v.ID, m)
		}
	}
	if m := processed.Method(0, false); m != 0 {
		t.Errorf("an unknown method: got %d, want 0", m)
	}
}
