package rules_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/cases"
)

// journey is a check from its first question to its end, by somebody who answers
// truthfully and says "don't know" where nothing is known.
type journey struct {
	name    string
	product string
	truth   string   // what is true of the jar besides what a sound one shows, as in a case
	unknown []string // signs about which the person knows nothing
	most    int      // answers, at most
	lowest  rules.Verdict
	highest rules.Verdict
	open    []string // what is left to find out at an unsettled end
	fires   string   // a rule that must be among the reasons
	advice  string   // a piece of advice that must be given
	never   []string // questions that must not be asked
}

const uncanned = "method=none process=short standing=unshown acid=short"

// unopened are the questions that only an opened jar, or one in the cold, is asked.
var unopened = []string{"release", "opening", "days", "chill", "out", "air"}

var journeys = []journey{
	{name: "a gift jam of this year", product: "strawberry-jam", truth: "standing=unshown method=untold process=untold",
		unknown: []string{"method", "standing", "process"}, most: 8,
		lowest: rules.UseSoon, highest: rules.UseSoon, fires: "record.acid.plain", never: unopened},
	{name: "a gift jam of this year with crystals of sugar", product: "strawberry-jam", truth: "standing=unshown method=untold process=untold deposit=crystals",
		unknown: []string{"method", "standing", "process"}, most: 10,
		lowest: rules.UseSoon, highest: rules.UseSoon, fires: "deposit.crystals-harmless", never: unopened},
	{name: "a published recipe whose minutes are forgotten", product: "green-beans", truth: "", most: 10,
		lowest: rules.Keep, highest: rules.Keep, fires: "record.low.pressure", never: unopened},
	{name: "don't know to the whole record", product: "green-beans", truth: "standing=unshown method=untold process=untold age=unknown",
		unknown: []string{"condition", "method", "standing", "process", "acid", "extras", "siblings", "age"}, most: 5,
		lowest: rules.Discard, highest: rules.Discard, fires: "record.lack.untold-low", advice: "dispose.sealed", never: unopened},
	{name: "a glass-lid jar", product: "peaches", truth: "closure=glass-lid lid=no-metal press=no-metal", most: 12,
		lowest: rules.UseSoon, highest: rules.UseSoon, fires: "record.closure.other", never: append([]string{"press"}, unopened...)},
	{name: "an opened jar", product: "strawberry-jam", truth: "opened=before release=drawn-in smell=usual ill=no film=clean underlid=clean open_days=10 chill=cold out=1-hour air=mild", most: 15,
		lowest: rules.UseSoon, highest: rules.UseSoon, fires: "opening.clock", advice: "keep.jam", never: []string{"lid", "press", "lift"}},
	{name: "refrigerator pickles", product: "refrigerator-pickles", truth: "opened=refrigerator smell=usual ill=no film=clean underlid=clean open_days=6 chill=cold out=1-hour air=mild method=none process=short standing=unshown acid=full", most: 10,
		lowest: rules.UseSoon, highest: rules.UseSoon, fires: "cold.pickled", advice: "keep.jam", never: []string{"method", "standing", "process", "lid", "press", "lift", "release"}},
	{name: "a jar that did not seal this morning", product: "peaches", truth: "age_days=1 lid=flat press=gives lift=comes-off", most: 9,
		lowest: rules.UseSoon, highest: rules.UseSoon, fires: "outside.lid.flat-day", advice: "day.freeze", never: unopened},
	{name: "freezer jam that thawed in a freezer that failed", product: "freezer-jam", truth: "opened=thawed smell=usual ill=no film=clean underlid=clean open_days=1 chill=warm out=1-hour air=mild " + uncanned, most: 8,
		lowest: rules.UseSoon, highest: rules.UseSoon, fires: "cold.acid", never: []string{"method", "standing", "process", "release"}},
	{name: "own pickles, one part vinegar to four of water", product: "dill-pickles", truth: "standing=unshown acid=short", most: 9,
		lowest: rules.Discard, highest: rules.Discard, fires: "record.lack.acid", never: unopened},
	{name: "home beans in boiling water", product: "green-beans", truth: "method=boiling-water", most: 5,
		lowest: rules.Discard, highest: rules.Discard, fires: "record.lack.boiled-low", advice: "dispose.sealed", never: unopened},
	{name: "white peaches", product: "peaches", truth: "condition=not", most: 8,
		lowest: rules.Discard, highest: rules.Discard, fires: "record.lack.condition", never: unopened},
	{name: "a sound jar from a pressure canner", product: "beef", truth: "", most: 10,
		lowest: rules.Keep, highest: rules.Keep, fires: "record.low.pressure", never: unopened},
	{name: "soup whose lid frost has pushed off, still frozen", product: "chicken-soup", truth: "lift=comes-off frozen=seal-broke-still-frozen", most: 14,
		lowest: rules.UseSoon, highest: rules.UseSoon, fires: "storage.frozen.cold", advice: "frozen.cold", never: unopened},
	{name: "jelly that stood on the table over night", product: "grape-jelly", truth: "opened=before release=drawn-in smell=usual ill=no film=clean underlid=clean open_days=10 chill=cold out_minutes=600 air=mild", most: 15,
		lowest: rules.UseSoon, highest: rules.UseSoon, fires: "opened.out.acid", advice: "keep.jam", never: []string{"lid", "press", "lift"}},
	{name: "a sound jar that nobody has lifted", product: "green-beans", truth: "", unknown: []string{"lift"}, most: 13,
		lowest: rules.Keep, highest: rules.Discard, open: []string{"lift"}, never: unopened},
}

// truthful picks the first choice all of which is true of the jar.
func truthful(t *testing.T, q rules.Question, truth *rules.Situation) rules.Choice {
	for _, c := range q.Choices {
		holds := map[rules.SignID]bool{}
		for _, v := range c.Tell {
			holds[v.Sign()] = holds[v.Sign()] || truth.Possible(v)
		}
		if !slices.ContainsFunc(c.Tell, func(v rules.Value) bool { return !holds[v.Sign()] }) {
			return c
		}
	}
	return answer(t, q, truth)
}

// walk answers until there is nothing left to ask.
func (j *journey) walk(t *testing.T) (asked []string, s rules.Situation) {
	t.Helper()
	k := cases.Case{Situation: rules.NewSituation()}
	for _, step := range [][2]string{{"product", j.product}, {"like", "sound"}, {"say", j.truth}} {
		if err := k.Set(step[0], step[1]); err != nil {
			t.Fatalf("%s: %v", j.name, err)
		}
	}
	s = rules.NewSituation()
	if err := k.Product.Tell(&s); err != nil {
		t.Fatal(err)
	}
	unknown := func(id rules.SignID) bool { return slices.Contains(j.unknown, id.ID()) }
	var skipped rules.Skipped
	stage := rules.StageLook
	for {
		q, more := rules.Next(s, skipped)
		if !more {
			return asked, s
		}
		// From what is safest to observe to what is not; the age alone may come
		// early, where only a jar of the first day can be saved. Where the seal is
		// lost, whether the jar froze and what else happened to it come early too.
		lost := s.Is(rules.LidFlat) || s.Is(rules.PressGives) || s.Is(rules.LiftOff)
		if q.ID != "age" && !(lost && q.Stage == rules.StageStorage) {
			if q.Stage.Before(stage, &s) {
				t.Errorf("%s: got the question %s after one of a later stage: %v", j.name, q.ID, asked)
			}
			stage = q.Stage
		}
		if asked = append(asked, q.ID); len(asked) > 40 {
			t.Fatalf("%s: the questions never end: %v", j.name, asked)
		}
		switch {
		case !slices.ContainsFunc(q.Signs, unknown):
			if err := s.Tell(truthful(t, q, &k.Situation).Tell...); err != nil {
				t.Fatalf("%s, question %s: %v", j.name, q.ID, err)
			}
		case len(q.Signs) > 1:
			skipped = skipped.WithQuestion(q.ID)
		case q.Signs[0].Info().IfUnknown != 0:
			if err := s.Tell(s.IfUnknown(q.Signs[0])...); err != nil {
				t.Fatalf("%s, question %s: %v", j.name, q.ID, err)
			}
		default:
			skipped = skipped.With(q.Signs[0])
		}
	}
}

// A check ends after a few answers, with the right verdict.
func TestJourneys(t *testing.T) {
	for i := range journeys {
		j := &journeys[i]
		t.Run(strings.ReplaceAll(j.name, " ", "-"), func(t *testing.T) {
			asked, s := j.walk(t)
			t.Logf("%d answers: %v", len(asked), asked)
			if len(asked) > j.most {
				t.Errorf("got %d answers, want at most %d", len(asked), j.most)
			}
			trace := rules.Explain(s)
			if trace.Lowest != j.lowest || trace.Highest != j.highest {
				t.Errorf("got %v to %v at the end, want %v to %v", trace.Lowest, trace.Highest, j.lowest, j.highest)
			}
			var open []string
			for _, id := range trace.Open {
				open = append(open, id.ID())
			}
			if !slices.Equal(open, j.open) {
				t.Errorf("got the open signs %v, want %v", open, j.open)
			}
			fires := j.fires == ""
			for _, l := range append(slices.Clone(trace.Deciding), trace.Also...) {
				fires = fires || l.Rule.ID == j.fires
			}
			if !fires {
				t.Errorf("%s is not among the reasons", j.fires)
			}
			if j.advice != "" && !slices.Contains(rules.AdviceFor(s), rules.AdviceByID(j.advice)) {
				t.Errorf("the advice %s is missing", j.advice)
			}
			for _, id := range j.never {
				if slices.Contains(asked, id) {
					t.Errorf("got the question %s, want it not asked", id)
				}
			}
		})
	}
}

// Nobody is told something milder for leaving out one or two of the things they
// saw or know, whether they were never asked or said "don't know".
func TestOmissionsNeverSoften(t *testing.T) {
	omitted := 0
	for _, c := range allCases(t) {
		if c.Failing != "" {
			continue
		}
		before := rules.Evaluate(c.Situation).Highest
		// without forgets the sign in each way that a person can leave it out.
		without := func(s rules.Situation, id rules.SignID) (all []rules.Situation) {
			open := s
			open.Forget(id)
			all = append(all, open)
			// "Don't know" is an answer to questions about the record. Of a person who
			// knows that it was worse than what it means, nothing milder is asked: a
			// jar that is surely old, and one that was surely not heated.
			if u := id.Info().IfUnknown; u != 0 && !slices.ContainsFunc(s.Values(id), func(v rules.Value) bool { return v > u }) {
				said := s
				said.Forget(id)
				if said.Tell(u) == nil {
					all = append(all, said)
				}
			}
			return
		}
		check := func(s rules.Situation, ids ...rules.SignID) {
			omitted++
			if after := rules.Evaluate(s).Highest; after < before {
				var left []string
				for _, id := range ids {
					left = append(left, id.ID())
				}
				t.Errorf("%s: %s: got %v, and without some answers the milder %v: %v", c.Where, c.ID, before, after, left)
			}
		}
		var told []rules.SignID
		for i := range rules.Signs {
			if id := rules.SignID(i); !id.Fact() && !c.Situation.Untouched(id) {
				told = append(told, id)
			}
		}
		for i, a := range told {
			for _, one := range without(c.Situation, a) {
				check(one, a)
				if exact := rules.Judge(one).Highest; exact < rules.Judge(c.Situation).Highest {
					t.Errorf("%s: %s: got a milder exact verdict without %s", c.Where, c.ID, a.ID())
				}
				for _, b := range told[i+1:] {
					for _, two := range without(one, b) {
						check(two, a, b)
					}
				}
			}
		}
	}
	if omitted < 100_000 {
		t.Errorf("got only %d omissions tried", omitted)
	}
	t.Logf("%d omissions", omitted)
}

// Anybody told to throw out a jar is told why: every settled answer of every
// case, and of every food however it was heated, names the rule that decides.
func TestEveryAnswerHasAReason(t *testing.T) {
	check := func(where string, s rules.Situation) {
		if trace := rules.Explain(s); trace.Settled() && len(trace.Deciding) == 0 {
			t.Errorf("%s: got %v without a rule that says why", where, trace.Lowest)
		}
	}
	for _, c := range allCases(t) {
		check(c.Where+" "+c.ID, c.Situation)
	}
	for i := range rules.Catalog {
		c := cases.Case{Product: &rules.Catalog[i], Situation: rules.NewSituation()}
		if err := c.Product.Tell(&c.Situation); err != nil {
			t.Fatal(err)
		}
		if err := c.Sound(); err != nil {
			t.Fatal(err)
		}
		for _, id := range []rules.SignID{rules.SignMethod, rules.SignAcid, rules.SignStanding, rules.SignProcess, rules.SignCondition, rules.SignExtras} {
			for _, v := range id.Info().Values {
				s := c.Situation
				s.Forget(id)
				if s.Tell(v.Value) == nil {
					check(c.Product.ID+" "+id.ID()+"="+v.ID, s)
				}
			}
		}
	}
}
