package rules_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/cases"
	"larderlamp/rules/prose"
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
			for _, s := range sentences(r.Short().String()) {
				if n := len(strings.Fields(s)); n > mostWords {
					t.Errorf("%s: %d words in %q; give it a shorter sentence in shorts.go", r.ID, n, s)
				}
			}
			if r.Kind == rules.Restriction && r.Then == rules.Discard && (strings.Contains(r.Short().String(), "harmless") && !strings.Contains(r.Short().String(), "no harmless")) {
				t.Errorf("%s discards: got the short sentence %q, want no “harmless” in it", r.ID, r.Short())
			}
		}
	}
	for _, id := range rules.Shorts() {
		if !said[id] {
			t.Errorf("%s has a short sentence, but there is no such rule", id)
		}
	}
}

// briefed goes through every case, and every seventh with each sign told in each
// way, and returns what the first screen says.
func briefed(t *testing.T, f func(where string, s rules.Situation, trace *rules.Trace, b rules.Brief)) {
	for n, k := range allCases(t) {
		situations := map[string]rules.Situation{k.ID: k.Situation}
		for i := range rules.Signs {
			id := rules.SignID(i)
			if id.Fact() || n%7 != 0 {
				continue
			}
			for _, v := range rules.Signs[i].Values {
				other := k.Situation
				other.Forget(id)
				if other.Tell(v.Value) == nil {
					situations[k.ID+" "+id.ID()+"="+v.ID] = other
				}
			}
		}
		for where, s := range situations {
			trace := rules.Explain(s)
			f(where, s, &trace, rules.BriefFor(s, k.Product, &trace))
		}
	}
}

// The first screen of an answer says what the whole answer says, and never
// anything milder: no reassurance with a discard, no day that is later than the
// advice and the rules about days allow, and never to eat what is not settled.
func TestBriefIsNeverMilder(t *testing.T) {
	briefed(t, func(where string, s rules.Situation, trace *rules.Trace, b rules.Brief) {
		if b.Do == "" || len(b.Worry) == 0 || len(b.Worry) > 2 {
			t.Errorf("%s: got the worry %q and the act %q, want one or two sentences and an act", where, b.Worry, b.Do)
		}
		for _, text := range append(slices.Clone(b.Worry), b.Do) {
			for _, sentence := range sentences(text.String()) {
				if n := len(strings.Fields(sentence)); n > mostWords {
					t.Errorf("%s: %d words in %q", where, n, sentence)
				}
			}
		}
		all := prose.List(b.Worry, " ").String() + " " + b.Do.String()
		if trace.Highest == rules.Discard {
			if comfort := strings.ReplaceAll(all, "no harmless", ""); strings.Contains(comfort, "harmless") || strings.Contains(comfort, ": usual") || strings.Contains(comfort, ": safe") {
				t.Errorf("%s: a discard says %q", where, all)
			}
			if b.Days >= 0 || b.Boil {
				t.Errorf("%s: a discard: got %d days and boiling %v, want neither", where, b.Days, b.Boil)
			}
			for _, eats := range []string{"eat it", "Put it back", "serve", "Keep it"} {
				if strings.Contains(b.Do.String(), eats) {
					t.Errorf("%s: a discard says %q", where, b.Do)
				}
			}
		}
		if trace.Highest > rules.Keep && strings.Contains(b.Do.String(), "Put it back") {
			t.Errorf("%s: %v: got the act %q", where, trace.Highest, b.Do)
		}
		least := 0
		for _, a := range rules.AdviceFor(s) {
			if a.Within > 0 {
				least = a.Within
			}
		}
		if b.Days >= 0 && (least == 0 || b.Days > least-1) {
			t.Errorf("%s: got %d days after today, want at most the %d of the advice", where, b.Days, least)
		}
		if most := rules.KeptDays(s); b.Days >= 0 && !s.Possible(rules.OpenedNo) && b.Days > max(0, most-1) {
			t.Errorf("%s: got %d days after today, want at most the %d of the rules", where, b.Days, most)
		}
		if b.Out && trace.Lowest != rules.Discard {
			t.Errorf("%s: the verdict may still be %v, and yet it says to clean the kitchen", where, trace.Lowest)
		}
		if s.Is(rules.IllSeen) && trace.Highest == rules.Discard && !strings.Contains(b.Do.String(), "ambulance") {
			t.Errorf("%s: somebody is ill: got the act %q", where, b.Do)
		}
	})
}

// Days that may already have passed are subtracted from the days that are left.
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
			t.Fatalf("%s is not in the catalog", c.product)
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
				_ = s.Tell(rules.Signs[i].Sound) // what an open jar cannot show any longer stays open
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
			t.Errorf("%s %v: got %v, %d days after today, want %d", c.product, c.values, trace.Highest, b.Days, c.want)
		}
	}
}

// The most common answers, as somebody who sees only the first screen must be able
// to repeat them: why, what to do, and by when (days after today; -1 for none).
func TestCommonestAnswers(t *testing.T) {
	for _, a := range []struct {
		product, truth string
		verdict        rules.Verdict
		why, do        string
		days           int
	}{
		{"green-beans", "lid=bulging", rules.Discard, "The lid bulges: something is growing inside.", "Put the jar in a strong bag and tie it. Put it in the trash now.", -1},
		{"green-beans", "seep=wet", rules.Discard, "Food came out: air and germs can get in.", "Put on rubber gloves. Bag jar, lid and spilled food twice. Put it all in the trash now.", -1},
		{"green-beans", "press=gives", rules.Discard, "The lid moves when pressed: the seal is gone.", "Put on rubber gloves. Bag the jar twice. Put it in the trash now.", -1},
		{"green-beans", "method=boiling-water", rules.Discard, "It was canned in boiling water: not hot enough, even if it looks fine.", "Put the jar in a strong bag and tie it. Put it in the trash now.", -1},
		{"green-beans", "", rules.Keep, "Sealed, nothing odd, and canned with a tested recipe.", "Put it back on the shelf, without the screw band. The lid stays on.", -1},
		{"green-beans", "age=2-years", rules.UseSoon, "Over a year old: past its best, so eat it before newer jars.", "Put it in front. Eat it next, before your other jars.", -1},
		{"peaches", "cloud=settled", rules.Discard, "A layer at the bottom is not usual here: it may be spoiled.", "Put the jar in a strong bag and tie it. Put it in the trash now.", -1},
		{"potatoes", "cloud=settled", rules.Keep, "A layer at the bottom: harmless in potatoes.", "Put it back on the shelf, without the screw band. The lid stays on.", -1},
		{"pears", "color=pink", rules.Keep, "Pink: harmless in pears.", "Put it back on the shelf, without the screw band. The lid stays on.", -1},
		{"peaches", "color=dark-top", rules.Keep, "Dark pieces above the liquid: harmless. Canning leaves a little air on top.", "Put it back on the shelf, without the screw band. The lid stays on.", -1},
		{"peaches", "top=floating", rules.Keep, "Floating pieces: harmless. They weigh less than the syrup.", "Put it back on the shelf, without the screw band. The lid stays on.", -1},
		{"peaches", "rust=spots", rules.Keep, "Rust spots outside on the lid: harmless on a sealed jar.", "Put it back on the shelf, without the screw band. The lid stays on.", -1},
		{"peaches", "mold=seen", rules.Discard, "Mold: the whole jar is spoiled. Taking the mold off does not help.", "Put the jar in a strong bag and tie it. Put it in the trash now.", -1},
		{"peaches", "cloud=murky", rules.Discard, "The liquid is murky: it has spoiled.", "Put the jar in a strong bag and tie it. Put it in the trash now.", -1},
		{"peaches", "opened=now release=drawn-in smell=usual film=clean underlid=clean", rules.UseSoon, "Open or not sealed: it keeps only in the cold, and not for long.", "Keep it in the refrigerator, at 40 °F (4 °C) or below.", 6},
		{"peaches", "opened=now release=spurted", rules.Discard, "It spurted: something was growing inside.", "Put jar, lid and spilled food in a strong bag. Put it in the trash now.", -1},
		{"strawberry-jam", "standing=unshown method=untold", rules.UseSoon, "Not from a tested recipe: don't store it any longer.", "Put it in front. Eat it next, before your other jars.", -1},
		{"strawberry-jam", "body=unset", rules.Keep, "It stayed runny, but it is safe. Use it as a syrup.", "Put it back on the shelf, without the screw band. The lid stays on.", -1},
		{"dill-pickles", "cloud=hazy", rules.Keep, "Slightly cloudy: harmless in dill pickles.", "Put it back on the shelf, without the screw band. The lid stays on.", -1},
		{"peaches", "age=24-hours press=gives", rules.UseSoon, "It did not seal. Today that can still be put right.", "Put it in the refrigerator now.", 6},
		{"beef-broth", "top=fat-cap", rules.Keep, "A pale layer of fat on top: harmless in beef or other meat broth.", "Put it back on the shelf, without the screw band. The lid stays on.", -1},
	} {
		k := cases.Case{Situation: rules.NewSituation()}
		steps := [][2]string{{"product", a.product}, {"like", "sound"}}
		if a.truth != "" {
			steps = append(steps, [2]string{"say", a.truth})
		}
		for _, step := range steps {
			if err := k.Set(step[0], step[1]); err != nil {
				t.Fatalf("%s %s: %v", a.product, a.truth, err)
			}
		}
		trace := rules.Explain(k.Situation)
		b := rules.BriefFor(k.Situation, k.Product, &trace)
		if why := prose.List(b.Worry, " ").String(); trace.Highest != a.verdict || why != a.why || b.Do.String() != a.do || b.Days != a.days {
			t.Errorf("%s %s: got %v, %q, %q, %d days; want %v, %q, %q, %d", a.product, a.truth, trace.Highest, why, b.Do, b.Days, a.verdict, a.why, a.do, a.days)
		}
	}
}
