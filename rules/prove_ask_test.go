package rules_test

import (
	"slices"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/cases"
)

// game is one chapter's part, asked about on its own: a jar about which everything
// else is known and sound, and whose product is one of its kind.
type game struct {
	name  string
	base  rules.Situation // the part's own signs are open
	signs []rules.SignID  // that are open
	sound rules.Situation // what a sound jar shows
}

// weigh is how often a value comes up in the measurement: nine jars in ten are
// sound in a sign, the rest show its other values alike. An assumption, from no
// source.
func (g *game) weigh(id rules.SignID, bit int) float64 {
	switch id.Info().Values[bit].Value {
	case rules.LidNone, rules.PressNone, rules.LiftNone, rules.BodyUnset:
		return 0 // the jar of a game has a flat metal lid and holds no jam
	}
	if g.sound[id] == 1<<bit {
		return .9
	}
	return .1 / float64(len(id.Info().Values)-1)
}

// games lists every part for products of each acid class. A part that does not
// depend on the product is the same for all, and is listed once.
func games(t testing.TB) (gs []game) {
	for p := range rules.Parts {
		part := &rules.Parts[p]
		for _, product := range []string{"green-beans", "peaches", "dill-pickles", "tomatoes-whole"} {
			c, _ := rules.ProductByID(product)
			k := cases.Case{Product: c, Situation: rules.NewSituation()}
			if err := c.Tell(&k.Situation); err != nil {
				t.Fatal(err)
			}
			if err := k.Sound(); err != nil {
				t.Fatal(err)
			}
			g := game{name: part.ID + " of " + product, base: k.Situation, sound: k.Situation}
			for i := range rules.Signs {
				if id := rules.SignID(i); id.Info().Chapter >= rules.ChapterOpening && id != rules.SignOpened {
					g.sound[i] = 1
				}
			}
			if p == rules.PartOpening || p >= rules.PartOpened {
				g.base.Forget(rules.SignOpened)
				if err := g.base.Tell(map[int]rules.Value{rules.PartOpening: rules.OpenedNow, rules.PartOpened: rules.OpenedBefore, rules.PartSour: rules.OpenedBefore, rules.PartWarmth: rules.OpenedBefore}[p]); err != nil {
					t.Fatal(err)
				}
				if p >= rules.PartOpened {
					if err := g.base.Tell(rules.ReleaseIn, rules.SmellUsual, rules.FilmClean, rules.UnderlidClean); err != nil {
						t.Fatal(err)
					}
				}
			}
			for _, id := range part.Inputs() {
				if !id.Fact() && id != rules.SignOpened {
					g.base.Forget(id)
					g.signs = append(g.signs, id)
				}
			}
			if p >= rules.PartOpened {
				// The opening part has been answered, and the others after it.
				for other := rules.PartOpened; other <= rules.PartWarmth; other++ {
					for _, id := range rules.Parts[other].Inputs() {
						if !id.Fact() && id != rules.SignOpened && !slices.Contains(part.Inputs(), id) {
							g.base[id] = 1
						}
					}
				}
				for _, id := range rules.Parts[rules.PartOpening].Inputs() {
					if id == rules.SignAge {
						g.base.Forget(id)
						g.base[id] = 1 << 1
					}
				}
			}
			gs = append(gs, g)
		}
	}
	return
}

// best is the least mean number of answers with which questions about one sign
// each can settle the game, situations coming up as weigh says: found exactly, by
// going through every state of knowledge.
func (g *game) best() float64 {
	n := len(g.signs)
	sizes, stride, states := make([]int, n), make([]int, n), 1
	for i, id := range g.signs {
		sizes[i] = len(id.Info().Values)
		stride[i] = states
		states *= sizes[i] + 1 // the last stands for not known
	}
	lowest, highest := make([]rules.Verdict, states), make([]rules.Verdict, states)
	cost := make([]float64, states)
	known := make([]int, n)
	for state := range states { // values before "not known", so children come first
		open := -1
		s := g.base
		for i := range n {
			known[i] = state / stride[i] % (sizes[i] + 1)
			if known[i] == sizes[i] {
				open = i
			} else {
				s[g.signs[i]] = 1 << known[i]
			}
		}
		if open < 0 {
			o := rules.Evaluate(s)
			lowest[state], highest[state] = o.Lowest, o.Highest
			continue
		}
		lowest[state], highest[state] = rules.Discard, rules.Keep
		for v := range sizes[open] {
			child := state - (sizes[open]-v)*stride[open]
			lowest[state], highest[state] = min(lowest[state], lowest[child]), max(highest[state], highest[child])
		}
		if lowest[state] == highest[state] {
			continue
		}
		least := -1.0
		for i := range n {
			if known[i] != sizes[i] {
				continue
			}
			mean := 1.0
			for v := range sizes[i] {
				mean += cost[state-(sizes[i]-v)*stride[i]] * g.weigh(g.signs[i], v)
			}
			if least < 0 || mean < least {
				least = mean
			}
		}
		cost[state] = least
	}
	return cost[states-1]
}

// asked is the mean number of answers that the guide takes, over every
// situation of the game, weighed alike.
func (g *game) asked(t *testing.T) float64 {
	type step struct {
		q    rules.Question
		more bool
	}
	next := map[rules.Situation]step{}
	mean := 0.0
	truth := g.base
	var walk func(int, float64)
	walk = func(i int, weight float64) {
		if i == len(g.signs) {
			s := g.base
			for {
				n, ok := next[s]
				if !ok {
					n.q, n.more = rules.Next(s, rules.Skipped{})
					next[s] = n
				}
				if !n.more {
					break
				}
				if err := s.Tell(answer(t, n.q, &truth).Tell...); err != nil {
					t.Fatal(err)
				}
				mean += weight
			}
			return
		}
		for bit := range g.signs[i].Info().Values {
			if g.weigh(g.signs[i], bit) == 0 {
				continue
			}
			truth[g.signs[i]] = 1 << bit
			walk(i+1, weight*g.weigh(g.signs[i], bit))
		}
	}
	walk(0, 1)
	return mean
}

// In each chapter the guide needs at most a tenth more answers than the best order
// of questions about single signs would, on average over every situation.
func TestProveQuestionsAreFew(t *testing.T) {
	if testing.Short() {
		t.Skip("the same rules and the same questions everywhere; run natively")
	}
	best, asked := map[rules.Chapter]float64{}, map[rules.Chapter]float64{}
	gs := games(t)
	for i, g := range gs {
		chapter := rules.Parts[i/4].Chapter
		b, a := g.best(), g.asked(t)
		best[chapter] += b
		asked[chapter] += a
		t.Logf("%s: %.2f answers, the best order of single signs takes %.2f", g.name, a, b)
	}
	for chapter, b := range best {
		if a := asked[chapter]; a > 1.1*b {
			t.Errorf("%v: got %.2f answers on average, want at most a tenth more than %.2f", chapter, a/4, b/4)
		}
	}
}
