package rules_test

import (
	"slices"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/cases"
)

// answer picks the choice that is true of the jar: of the things it shows, the
// first that the question lists, or "none of these".
func answer(t *testing.T, q rules.Question, truth *rules.Situation) rules.Choice {
	for _, c := range q.Choices {
		fits := true
		for _, id := range q.Signs {
			told := false
			hit := false
			for _, v := range c.Tell {
				if v.Sign() == id {
					told = true
					hit = hit || truth.Possible(v)
				}
			}
			fits = fits && (!told || hit)
		}
		if fits {
			return c
		}
	}
	// Values that no such jar can show are not offered; then answer with the strictest.
	for _, c := range q.Choices {
		if u := q.Signs[0].Info().IfUnknown; len(q.Signs) == 1 && u != 0 && c.Tell[0] == u {
			return c
		}
	}
	t.Fatalf("question %s: no choice is true of the jar", q.ID)
	return rules.Choice{}
}

// settle asks until nothing is left to ask, and returns the questions asked.
func settle(t *testing.T, s, truth rules.Situation) (asked []string, o rules.Outcome) {
	for {
		q, ok := rules.Next(s, rules.Skipped{})
		if !ok {
			return asked, rules.Evaluate(s)
		}
		asked = append(asked, q.ID)
		if len(asked) > 60 {
			t.Fatalf("the questions never end: %v", asked)
		}
		was := s
		if err := s.Tell(answer(t, q, &truth).Tell...); err != nil {
			t.Fatalf("question %s: %v", q.ID, err)
		}
		if was == s {
			t.Fatalf("question %s: the answer changed nothing", q.ID)
		}
	}
}

// recorded is what the catalog and the batch record say of a jar.
func recorded(truth rules.Situation) rules.Situation {
	s := rules.NewSituation()
	for i := range rules.Signs {
		id := rules.SignID(i)
		if c := rules.Signs[i].Chapter; c == rules.ChapterFacts || c == rules.ChapterRecord && id != rules.SignBacking && id != rules.SignSiblings || id == rules.SignAge {
			s[id] = truth[id]
		}
	}
	return s
}

func TestSoundJarIsSettledInNineAnswers(t *testing.T) {
	total, jars := 0, 0
	for _, class := range []rules.Value{rules.ClassAcid, rules.ClassPickled, rules.ClassBorderline, rules.ClassLow} {
		route, method := rules.RouteBoiling, rules.MethodBoiling
		if class == rules.ClassLow {
			route, method = rules.RoutePressure, rules.MethodPressure
		}
		truth := soundJar(t, class, route, method)
		asked, o := settle(t, recorded(truth), truth)
		if !o.Settled() || o.Lowest != rules.Keep {
			t.Errorf("%s: got %v..%v after the questions %v, want keep", class.ID(), o.Lowest, o.Highest, asked)
		}
		total, jars = total+len(asked), jars+1
		t.Logf("%s: %d answers: %v", class.ID(), len(asked), asked)
	}
	if mean := float64(total) / float64(jars); mean > 9 {
		t.Errorf("a sound jar: got %.1f answers on average, want at most 9", mean)
	}
}

// Every stop sign of the first look settles the check with that one answer,
// whatever is in the jar, and asks nothing else.
func TestFirstStopSignSettles(t *testing.T) {
	for _, class := range rules.SignClass.Info().Values {
		s := rules.NewSituation()
		if err := s.Tell(class.Value); err != nil {
			t.Fatal(err)
		}
		q, ok := rules.Next(s, rules.Skipped{})
		if !ok || q.ID != "look" {
			t.Fatalf("%s: the first question is %q", class.ID, q.ID)
		}
		for _, c := range q.Choices {
			if c.ID == "none" {
				continue
			}
			told := s
			if err := told.Tell(c.Tell...); err != nil {
				t.Fatal(err)
			}
			if o := rules.Evaluate(told); o.Lowest != rules.Discard {
				t.Errorf("%s, %s: got %v..%v, want discard", class.ID, c.ID, o.Lowest, o.Highest)
			}
			if next, ok := rules.Next(told, rules.Skipped{}); ok {
				t.Errorf("%s, %s: got the further question %s, want none", class.ID, c.ID, next.ID)
			}
		}
	}
}

func TestSkippedSignsAreNotAskedAgain(t *testing.T) {
	s := rules.NewSituation()
	if err := s.Tell(rules.ClassLow, rules.RoutePressure); err != nil {
		t.Fatal(err)
	}
	var skipped rules.Skipped
	var asked []string
	for {
		q, ok := rules.Next(s, skipped)
		if !ok {
			break
		}
		if slices.Contains(asked, q.ID) {
			t.Fatalf("got the question %s twice: %v", q.ID, asked)
		}
		asked = append(asked, q.ID)
		skipped = skipped.With(q.Signs...)
	}
	o := rules.Evaluate(s)
	if o.Highest != rules.Discard {
		t.Errorf("a jar that nobody knows anything about: got %v..%v", o.Lowest, o.Highest)
	}
}

// An opened jar is never asked for tests that only a closed jar allows, as long
// as it is remembered how its lid came off.
func TestOpenedJarIsAskedHowItOpened(t *testing.T) {
	truth := soundJar(t, rules.OpenedBefore, rules.ReleaseIn, rules.SmellUsual, rules.FilmClean, rules.UnderlidClean,
		rules.IllNone, rules.DaysTwo, rules.ChillCold, rules.OutOne, rules.AirMild)
	asked, o := settle(t, recorded(truth), truth)
	if !o.Settled() || o.Lowest != rules.UseSoon {
		t.Errorf("got %v..%v after %v, want use soon", o.Lowest, o.Highest, asked)
	}
	for _, id := range []string{"lid", "press", "lift"} {
		if slices.Contains(asked, id) {
			t.Errorf("got the question %s, want it not asked: %v", id, asked)
		}
	}
	t.Logf("%d answers: %v", len(asked), asked)
}

// Every sign that is not a fact of the catalog can be asked for, by a
// question that offers all of its values.
func TestEverySignCanBeAsked(t *testing.T) {
	s := rules.NewSituation()
	for i := range rules.Signs {
		id := rules.SignID(i)
		if id.Fact() {
			continue
		}
		q, ok := rules.QuestionByID(id.ID(), &s)
		if !ok || len(q.Signs) != 1 || q.Signs[0] != id {
			t.Errorf("%s: %v, %d choices", id.ID(), q.Signs, len(q.Choices))
		}
		for _, v := range id.Info().Values {
			if !slices.ContainsFunc(q.Choices, func(c rules.Choice) bool { return slices.Contains(c.Tell, v.Value) }) {
				t.Errorf("%s: the choice %s is missing", id.ID(), v.ID)
			}
		}
		if q.Ask == "" || q.Why == "" {
			t.Errorf("%s has no question or no reason", id.ID())
		}
	}
}

// BenchmarkNext chooses the next question for a jar about which only the product
// is known: the state with the most left to weigh.
func BenchmarkNext(b *testing.B) {
	p, _ := rules.ProductByID("green-beans")
	s := rules.NewSituation()
	if err := p.Tell(&s); err != nil {
		b.Fatal(err)
	}
	after := s
	if err := after.Tell(rules.LidDown, rules.SeepNone, rules.MoldNone, rules.BubblesNone, rules.GlassSound, rules.RustNone, rules.OpenedNo, rules.PressFirm, rules.LiftHolds); err != nil {
		b.Fatal(err)
	}
	for _, c := range []struct {
		name string
		s    rules.Situation
	}{{"first", s}, {"contents", after}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				rules.Next(c.s, rules.Skipped{})
			}
		})
	}
}

// Of a jar that is open, what spurted, smells or grows is asked for before the
// record; of a closed one nothing that shows only once it is open.
func TestDangerFirstOfAnOpenJar(t *testing.T) {
	for _, product := range []string{"green-beans", "peaches", "dill-pickles", "beef-broth", "strawberry-jam"} {
		for _, state := range []rules.Value{rules.OpenedNow, rules.OpenedBefore, rules.OpenedNo} {
			p, _ := rules.ProductByID(product)
			s := rules.NewSituation()
			if err := p.Tell(&s); err != nil {
				t.Fatal(err)
			}
			if err := s.Tell(state); err != nil {
				t.Fatal(err)
			}
			record := false
			var skipped rules.Skipped
			for range 40 {
				q, more := rules.Next(s, skipped)
				if !more {
					break
				}
				record = record || q.Stage == rules.StageRecord
				if opening := q.Stage == rules.StageRelease || q.Stage == rules.StageOpening; opening && (record || state == rules.OpenedNo) {
					t.Errorf("%s, %s: got the question %s after the record or for a closed jar", product, state.ID(), q.ID)
				}
				// The unsuspicious answer: none of these, or what a sound jar shows.
				answer := q.Choices[len(q.Choices)-1]
				if len(q.Signs) == 1 {
					for _, c := range q.Choices {
						if c.ID == q.Signs[0].Info().Sound.ID() {
							answer = c
						}
					}
				}
				if err := s.Tell(answer.Tell...); err != nil {
					skipped = skipped.With(q.Signs...)
				}
			}
		}
	}
}

// "Don't know" counts as the strictest, and yet is not the same as knowing the
// worst: where finding out could make the answer milder, a discard is not
// settled. Several things that nobody knows are found out together.
func TestNotKnowingIsNotTheWorst(t *testing.T) {
	record := []rules.SignID{rules.SignCondition, rules.SignMethod, rules.SignStanding, rules.SignProcess, rules.SignAcid}
	tried := 0
	for _, product := range []string{"green-beans", "tomatoes-whole", "dill-pickles", "venison", "mincemeat", "tomato-salsa"} {
		for set := 1; set < 1<<len(record); set++ {
			k := cases.Case{Situation: rules.NewSituation()}
			for _, step := range [][2]string{{"product", product}, {"like", "sound"}} {
				if err := k.Set(step[0], step[1]); err != nil {
					t.Fatal(err)
				}
			}
			s := k.Situation
			var unknown []rules.SignID
			for i, id := range record {
				// What the catalog says is not asked, and vinegar is not asked of all.
				if set>>i&1 == 0 || id == rules.SignCondition && k.Product.Condition == nil {
					continue
				}
				unknown = append(unknown, id)
				s.Forget(id)
				if err := s.Tell(id.Info().IfUnknown); err != nil {
					t.Fatal(err)
				}
			}
			if rules.Judge(s).Lowest != rules.Discard {
				continue
			}
			tried++
			ids, best := rules.FindOut(s, unknown...)
			if len(ids) == 0 || best != rules.Keep {
				t.Errorf("%s: with %v unknown: got %v to find out, for %v", product, unknown, ids, best)
			}
			for _, id := range ids {
				if !slices.Contains(unknown, id) {
					t.Errorf("%s: with %v unknown: got %v to find out", product, unknown, id)
				}
			}
			if trace := rules.ExplainUnknown(s, unknown...); trace.Settled() || trace.Highest != rules.Discard || trace.Lowest != rules.Keep {
				t.Errorf("%s: with %v unknown: got %v to %v at the end", product, unknown, trace.Lowest, trace.Highest)
			}
			// Somebody who knows the worst has nothing to find out.
			if s.Is(rules.MethodUntold) {
				continue
			}
			if s.Is(rules.ProcessUntold) {
				s.Forget(rules.SignProcess)
				if err := s.Tell(rules.ProcessShort); err != nil {
					t.Fatal(err)
				}
			}
			if ids, _ := rules.FindOut(s); len(ids) != 0 {
				t.Errorf("%s: with the worst known for %v: got %v to find out, want nothing", product, unknown, ids)
			}
			// Nor is there anything to find out where the jar is lost anyway.
			s.Forget(rules.SignMold)
			if err := s.Tell(rules.MoldSeen); err != nil {
				t.Fatal(err)
			}
			if trace := rules.ExplainUnknown(s, unknown...); !trace.Settled() {
				t.Errorf("%s with mold, with %v unknown: got an unsettled check, want it settled", product, unknown)
			}
		}
	}
	if tried < 60 {
		t.Errorf("got only %d jars tried", tried)
	}
}

// A dial gauge that was never tested can still be tested.
func TestGaugeCanBeTested(t *testing.T) {
	k := cases.Case{Situation: rules.NewSituation()}
	for _, step := range [][2]string{{"product", "venison"}, {"like", "sound"}, {"say", "process=untested-gauge"}} {
		if err := k.Set(step[0], step[1]); err != nil {
			t.Fatal(err)
		}
	}
	if ids, best := rules.FindOut(k.Situation); !slices.Equal(ids, []rules.SignID{rules.SignProcess}) || best != rules.Keep {
		t.Errorf("got %v to find out, for %v", ids, best)
	}
}

// Once something of a question about several signs was noticed, the rest is asked
// for in other words: nobody who has just said that it is pink is asked whether
// all is as usual. For a food of every group, every choice and every value.
func TestNobodyIsAskedTheSameTwice(t *testing.T) {
	groups := map[rules.Group]bool{}
	asked := 0
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if groups[p.Group] {
			continue
		}
		groups[p.Group] = true
		s := rules.NewSituation()
		if err := p.Tell(&s); err != nil {
			t.Fatal(err)
		}
		for range 60 {
			q, more := rules.Next(s, rules.Skipped{})
			if !more {
				break
			}
			sound := q.Choices[len(q.Choices)-1]
			if len(q.Signs) == 1 {
				for _, c := range q.Choices {
					if c.Tell[0] == q.Signs[0].Info().Sound {
						sound = c
					}
				}
			} else {
				for _, c := range q.Choices[:len(q.Choices)-1] {
					for _, v := range c.Tell {
						after := s
						if after.Tell(v) != nil {
							continue
						}
						again, more := rules.Next(after, rules.Skipped{})
						if !more || again.ID != q.ID {
							continue
						}
						asked++
						if none := again.Choices[len(again.Choices)-1].Label; again.Ask == q.Ask || again.ID == "contents" && none == sound.Label {
							t.Errorf("%s: after %s: got the question %q with the choice %q, want other words", p.ID, v.ID(), again.Ask, none)
						}
					}
				}
			}
			if err := s.Tell(sound.Tell...); err != nil {
				t.Fatal(err)
			}
		}
	}
	if asked < 20 {
		t.Errorf("got only %d questions asked again", asked)
	}
}
