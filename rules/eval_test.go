package rules_test

import (
	"encoding/json"
	"runtime"
	"testing"
	"time"

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

// BenchmarkReference is work of a fixed size that a verdict and the next question
// are compared with: decoding a row of JSON.
func BenchmarkReference(b *testing.B) {
	text := []byte(`{"id":"jar-17","number":17,"place":"shelf 3","seen":[{"at":"2026-01-02T10:00:00Z","sound":true},{"at":"2026-04-03T11:30:00Z","sound":false}]}`)
	where := "here"
	if runtime.GOOS == "js" {
		where = "in the browser"
	}
	b.Run(where, func(b *testing.B) {
		for b.Loop() {
			var row struct {
				ID     string
				Number int
				Place  string
				Seen   []struct {
					At    time.Time
					Sound bool
				}
			}
			if err := json.Unmarshal(text, &row); err != nil || len(row.Seen) != 2 {
				b.Fatalf("got %v, %v, want two numbers", row, err)
			}
		}
	})
}

func TestSound(t *testing.T) {
	o := rules.Evaluate(soundJar(t))
	if o.Lowest != rules.Keep || o.Highest != rules.Keep {
		t.Fatalf("sound beans: got %v..%v, want keep", o.Lowest, o.Highest)
	}
}
