package rules_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
)

// mostWords is how many words a sentence on a first screen may have.
const mostWords = 14

// sentences splits a text where a sentence ends.
func sentences(text string) (all []string) {
	for {
		at := strings.IndexFunc(text, func(r rune) bool { return strings.ContainsRune(".!?", r) })
		for at >= 0 && at+1 < len(text) && text[at+1] != ' ' {
			next := strings.IndexFunc(text[at+1:], func(r rune) bool { return strings.ContainsRune(".!?", r) })
			if next < 0 {
				at = -1
				break
			}
			at += 1 + next
		}
		if at < 0 {
			return append(all, strings.TrimSpace(text))
		}
		all = append(all, strings.TrimSpace(text[:at+1]))
		if text = strings.TrimSpace(text[at+1:]); text == "" {
			return all
		}
	}
}

// Every rule has a short sentence for the first screen, and no short sentence
// belongs to a rule that is not there.
func TestShort(t *testing.T) {
	said := map[string]bool{}
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			said[r.ID] = true
			for _, s := range sentences(r.Short()) {
				if n := len(strings.Fields(s)); n > mostWords {
					t.Errorf("%s: %d words in %q; give it a shorter sentence in brief.go", r.ID, n, s)
				}
			}
			if r.Kind == rules.Restriction && r.Then == rules.Discard && (strings.Contains(r.Short(), "harmless") && !strings.Contains(r.Short(), "no harmless")) {
				t.Errorf("%s discards, and %q says harmless", r.ID, r.Short())
			}
		}
	}
	for _, id := range rules.Shorts() {
		if !said[id] {
			t.Errorf("%s is no rule", id)
		}
	}
}

// briefed goes through every case, and every seventh with each sign told in each
// way, and gives what the first screen says.
func briefed(t *testing.T, f func(where string, s rules.Situation, trace *rules.Trace, b rules.Brief)) {
	for n, k := range cases(t) {
		situations := map[string]rules.Situation{k.id: k.situation}
		for i := range rules.Signs {
			id := rules.SignID(i)
			if id.Fact() || n%7 != 0 {
				continue
			}
			for _, v := range rules.Signs[i].Values {
				other := k.situation
				other.Forget(id)
				if other.Tell(v.Value) == nil {
					situations[k.id+" "+id.ID()+"="+v.ID] = other
				}
			}
		}
		for where, s := range situations {
			trace := rules.Explain(s)
			f(where, s, &trace, rules.BriefFor(s, k.product, &trace))
		}
	}
}

// The first screen of an answer says what the whole answer says, and never
// anything milder: no comfort beside a discard, no day that is later than the
// advice and the rules about days allow, and never to eat what is not settled.
func TestBriefIsNeverMilder(t *testing.T) {
	briefed(t, func(where string, s rules.Situation, trace *rules.Trace, b rules.Brief) {
		if b.Do == "" || len(b.Worry) == 0 || len(b.Worry) > 2 {
			t.Errorf("%s: says %q and %q", where, b.Worry, b.Do)
		}
		for _, text := range append(slices.Clone(b.Worry), b.Do) {
			for _, sentence := range sentences(text) {
				if n := len(strings.Fields(sentence)); n > mostWords {
					t.Errorf("%s: %d words in %q", where, n, sentence)
				}
			}
		}
		all := strings.Join(b.Worry, " ") + " " + b.Do
		if trace.Highest == rules.Discard {
			if comfort := strings.ReplaceAll(all, "no harmless", ""); strings.Contains(comfort, "harmless") || strings.Contains(comfort, ": usual") || strings.Contains(comfort, ": safe") {
				t.Errorf("%s: a discard says %q", where, all)
			}
			if b.Days >= 0 || b.Boil {
				t.Errorf("%s: a discard has %d days, boiled %v", where, b.Days, b.Boil)
			}
			for _, eats := range []string{"eat it", "Put it back", "serve", "Keep it"} {
				if strings.Contains(b.Do, eats) {
					t.Errorf("%s: a discard says %q", where, b.Do)
				}
			}
		}
		if trace.Highest > rules.Keep && strings.Contains(b.Do, "Put it back") {
			t.Errorf("%s: %v says %q", where, trace.Highest, b.Do)
		}
		least := 0
		for _, a := range rules.AdviceFor(s) {
			if a.Within > 0 {
				least = a.Within
			}
		}
		if b.Days >= 0 && (least == 0 || b.Days > least-1) {
			t.Errorf("%s: %d days after today, the advice gives %d", where, b.Days, least)
		}
		if most := rules.KeptDays(s); b.Days >= 0 && !s.Possible(rules.OpenedNo) && b.Days > max(0, most-1) {
			t.Errorf("%s: %d days after today, the rules give %d", where, b.Days, most)
		}
		if s.Is(rules.IllSeen) && trace.Highest == rules.Discard && !strings.Contains(b.Do, "ambulance") {
			t.Errorf("%s: somebody is ill, and it says %q", where, b.Do)
		}
	})
}

// A day of a band that has gone by is taken off the days that are left.
func TestBriefDays(t *testing.T) {
	for _, c := range []struct {
		product string
		values  []rules.Value
		want    int
	}{
		{"peaches", []rules.Value{rules.OpenedNow}, 6},
		{"peaches", []rules.Value{rules.OpenedBefore, rules.DaysTwo, rules.ChillCold, rules.OutOne}, 4},
		{"peaches", []rules.Value{rules.OpenedBefore, rules.DaysWeek, rules.ChillCold, rules.OutOne}, 0},
		{"green-beans", []rules.Value{rules.OpenedNow}, 3},
		{"green-beans", []rules.Value{rules.OpenedBefore, rules.DaysFour, rules.ChillCold, rules.OutOne}, 0},
		{"strawberry-jam", []rules.Value{rules.OpenedNow}, 29},
		{"strawberry-jam", []rules.Value{rules.OpenedBefore, rules.DaysTwoWeeks, rules.ChillCold, rules.OutOne}, 15},
	} {
		p, ok := rules.ProductByID(c.product)
		if !ok {
			t.Fatalf("%s is not in the catalogue", c.product)
		}
		s := rules.NewSituation()
		if err := p.Tell(&s); err != nil {
			t.Fatal(err)
		}
		if err := s.Tell(c.values...); err != nil {
			t.Fatal(err)
		}
		for i := range rules.Signs {
			id := rules.SignID(i)
			if !id.Fact() && s.Untouched(id) && s.Possible(rules.Signs[i].Sound) {
				_ = s.Tell(rules.Signs[i].Sound) // what an open jar cannot show any more stays open
			}
		}
		if p.Class == rules.ClassAcid {
			s.Forget(rules.SignMethod)
			if err := s.Tell(rules.MethodBoiling); err != nil {
				t.Fatal(err)
			}
		}
		trace := rules.Explain(s)
		if b := rules.BriefFor(s, p, &trace); trace.Highest != rules.UseSoon || b.Days != c.want {
			t.Errorf("%s %v: %v, %d days after today, want %d", c.product, c.values, trace.Highest, b.Days, c.want)
		}
	}
}
