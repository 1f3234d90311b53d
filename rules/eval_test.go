package rules_test

import (
	"testing"

	"larderlamp/rules"
)

// soundBeans is a fully known jar of pressure-canned beans in perfect order.
func soundJar(t testing.TB, differ ...rules.Value) rules.Situation {
	s := rules.NewSituation()
	set := func(v rules.Value) {
		s.Forget(v.Sign())
		if err := s.Tell(v); err != nil {
			t.Fatalf("tell %s %s: %v", v.Sign().ID(), v.ID(), err)
		}
	}
	for i := range rules.Signs {
		id := rules.SignID(i)
		if c := rules.Signs[i].Chapter; id == rules.SignBacking || c == rules.ChapterOpened || c == rules.ChapterOpening {
			continue
		}
		set(rules.Signs[i].Sound)
	}
	set(rules.OpenedNo)
	set(rules.ClassLow)
	set(rules.RoutePressure)
	set(rules.KeepsLow)
	for _, v := range differ {
		set(v)
	}
	return s
}

func BenchmarkEvaluate(b *testing.B) {
	unknown := rules.NewSituation()
	for _, c := range []struct {
		name string
		s    rules.Situation
	}{{"sound", soundJar(b)}, {"bulging", soundJar(b, rules.LidBulged)}, {"nothing known", unknown}} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			var o rules.Outcome
			for b.Loop() {
				o = rules.Evaluate(c.s)
			}
			_ = o
		})
	}
}

func TestSound(t *testing.T) {
	o := rules.Evaluate(soundJar(t))
	if o.Lowest != rules.Keep || o.Highest != rules.Keep {
		t.Fatalf("sound beans: %v..%v", o.Lowest, o.Highest)
	}
}
