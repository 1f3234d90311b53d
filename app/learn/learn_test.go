package learn

import (
	"strings"
	"testing"

	"larderlamp/app/draw"
	"larderlamp/app/parts"
	"larderlamp/rules"
	"larderlamp/rules/practice"
)

// Every value that alone makes an otherwise sound jar one to discard is shown
// beside a harmless look, and no other value is called a danger.
func TestEveryDangerHasItsPair(t *testing.T) {
	listed := map[rules.Value]bool{}
	for _, p := range pairs {
		if listed[p.danger] {
			t.Errorf("%s is listed twice", p.danger.ID())
		}
		listed[p.danger] = true
		if p.danger.Sign() != p.mate.Sign() && p.danger != rules.MoldSeen {
			t.Errorf("%s and %s belong to different signs", p.danger.ID(), p.mate.ID())
		}
	}
	for id := range rules.SignID(rules.NumSigns) {
		if id.Fact() || id.Info().Chapter == rules.ChapterRecord || id == rules.SignOpened {
			continue
		}
		for _, v := range id.Info().Values {
			danger := false
			for i := range rules.Catalog {
				p := &rules.Catalog[i]
				j, err := practice.Sound(p, v.Value)
				danger = danger || err == nil && p.Processed() && j.Verdict == rules.Discard
			}
			if danger != listed[v.Value] {
				t.Errorf("%s=%s: is a danger %v, is listed %v", id.ID(), v.ID, danger, listed[v.Value])
			}
		}
	}
}

// Each pair has foods to show it on, the danger is shown beside something that
// is not one, and the two pictures differ even without their words.
func TestPairsShowWhatTheySay(t *testing.T) {
	for i := range pairs {
		p := &pairs[i]
		dAcid, dLow := examples(p.danger, false)
		mAcid, mLow := examples(p.mate, true)
		danger, mate := firstOf(dAcid, dLow), firstOf(mAcid, mLow)
		if danger == nil || mate == nil {
			t.Errorf("%s: no food to show it on", p.danger.ID())
			continue
		}
		d, m := specimenJar(danger.ID, p.danger), specimenJar(mate.ID, p.mate)
		if d.Verdict != rules.Discard || m.Verdict == rules.Discard {
			t.Errorf("%s: the danger is %v, the look-alike %v", p.danger.ID(), d.Verdict, m.Verdict)
		}
		bare := func(v rules.Value) string {
			j := specimenJar(mate.ID, v)
			_, picture, _ := strings.Cut(parts.JarPicture(mate, j.Situation, 0, draw.Options{Plain: true}), "</desc>")
			return picture
		}
		if p.danger != p.mate && parts.HasPictures(p.danger.Sign()) && specimenVerdict(mate, p.danger) != 0 && bare(p.danger) == bare(p.mate) {
			t.Errorf("%s and %s are drawn alike", p.danger.ID(), p.mate.ID())
		}
		p.card() // every jar in it can be made
		if p.danger == p.mate && p.tell != foodTells {
			t.Errorf("%s: only the food distinguishes them", p.danger.ID())
		}
	}
}

// Every harmless look of every food can be shown beside the danger it is
// mistaken for, and the rules agree which is which.
func TestLooksOfEveryFood(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		for _, l := range p.Looks {
			seen, mistaken := parts.LooksLike(p, l)
			if seen == nil {
				t.Fatalf("%s: %s has no look", p.ID, l.Trait.ID())
			}
			lookCard(p, l) // every jar in it can be made
			want := rules.Keep
			if browns := p.LookAlikeFor(rules.SignBrowns); browns != nil && browns.Trait == rules.BrownsSoon && (l == browns || l.Trait == rules.TogetherDull) {
				want = rules.UseSoon // not a danger, but it does not keep
			}
			known, flipped := specimenVerdict(p, seen...), specimenVerdict(p, mistaken...)
			if p.Processed() && known != want || flipped != rules.Discard {
				t.Errorf("%s: %s is %v, its danger %v", p.ID, l.Trait.ID(), known, flipped)
			}
		}
	}
}

// Lessons point to rules, advice and jars that exist, and take about half an
// hour.
func TestLessons(t *testing.T) {
	minutes := 0
	for i := range lessons {
		l := &lessons[i]
		minutes += l.minutes
		if found, at := lessonByID(l.id); found != l || at != i {
			t.Errorf("%s is not at its place", l.id)
		}
		for _, id := range l.rules {
			if _, ok := rules.RuleByID(id); !ok {
				t.Errorf("%s: no rule %s", l.id, id)
			}
		}
		for _, id := range l.advice {
			if rules.AdviceByID(id) == nil {
				t.Errorf("%s: no advice %s", l.id, id)
			}
		}
		for _, id := range l.cautions {
			if rules.CautionByID(id) == nil {
				t.Errorf("%s: no caution %s", l.id, id)
			}
		}
		for _, s := range l.jars {
			p, ok := rules.ProductByID(s.product)
			if !ok {
				t.Fatalf("%s: no product %s", l.id, s.product)
			}
			if specimenVerdict(p, s.shows...) == 0 {
				t.Errorf("%s: no jar of %s shows this", l.id, s.product)
			}
		}
		if len(l.try) == 0 || len(l.rules)+len(l.advice) == 0 {
			t.Errorf("%s: nothing to try, or nothing cited", l.id)
		}
	}
	if minutes < 25 || minutes > 35 {
		t.Errorf("got %d minutes", minutes)
	}
}

// What a lesson says about a jar is what the rules say.
func TestLessonNotesAgreeWithTheRules(t *testing.T) {
	for i := range lessons {
		for _, s := range lessons[i].jars {
			v := specimenJar(s.product, s.shows...).Verdict
			note := strings.ToLower(s.note.String())
			for word, says := range map[string]rules.Verdict{"discard": rules.Discard, "use soon": rules.UseSoon, "harmless": rules.Keep, "nothing to be afraid of": rules.Keep, "can it again": rules.UseSoon} {
				if strings.Contains(note, word) && v != says && !(says == rules.Keep && v == rules.UseSoon && len(s.shows) > 0 && s.shows[0].Sign().Info().Chapter == rules.ChapterOpening) {
					t.Errorf("%s: the lesson says %q, but the rules say %v", lessons[i].id, s.note, v)
				}
			}
		}
	}
}

// Neither the picture nor the words of an item give its answer away: no
// verdict, and no difference except in the sign that was changed.
func TestItemsDoNotGiveTheAnswerAway(t *testing.T) {
	for n := range 300 {
		it, _ := practice.Deck{Seed: 77}.Item(n)
		var pictures [2]string
		for i := range it.Jars {
			j := &it.Jars[i]
			pictures[i] = parts.JarPicture(j.Product, j.Situation, 0, draw.Options{Prefix: "q", Interactive: true})
			for _, v := range rules.Verdicts {
				if strings.Contains(pictures[i], v.String()) || strings.Contains(pictures[i], draw.Mark(v)) {
					t.Fatalf("item %d reveals %q", n, v)
				}
			}
		}
		if parts.HasPictures(it.Sign) && it.Sign.Info().Chapter != rules.ChapterRecord && pictures[0] == pictures[1] {
			t.Errorf("item %d: the pictures are the same, but %s differs", n, it.Sign.ID())
		}
	}
}

func TestShare(t *testing.T) {
	if got := share(0, 0); got != "none met yet" {
		t.Error(got)
	}
	if got := share(5, 10).String(); got != "5 of 10 (24 to 76 %)" {
		t.Error(got)
	}
}

// What is shown of the trace is about the sign that differs wherever the rules
// mention it, and nothing of the trace is lost.
func TestPointed(t *testing.T) {
	for n := range 900 {
		it, _ := practice.Deck{Seed: 5}.Item(n)
		about := 0
		for i := range it.Jars {
			j := &it.Jars[i]
			point, rest := splitTrace(j, it.Sign)
			trace := rules.Explain(j.Situation)
			if len(point) == 0 || len(point)+len(rest) != len(trace.Deciding)+len(trace.Also) {
				t.Fatalf("item %d, jar %d: got %d and %d lines, want %d in all", n, i, len(point), len(rest), len(trace.Deciding)+len(trace.Also))
			}
			for _, v := range point[0].Shown {
				if dependsOn(v, it.Sign) {
					about++
					break
				}
			}
			if r := because(j, it.Sign); r.Say == "" || r.Cites[0].String() == "" || !strings.Contains(knownBy(r).String(), "rule "+r.ID) {
				t.Errorf("item %d, jar %d: got the reason %q, the source %q %q of rule %s", n, i, r.Say, r.Cites[0], knownBy(r), r.ID)
			}
		}
		if about == 0 {
			t.Errorf("item %d: no reason of either jar speaks of %s", n, it.Sign.ID())
		}
	}
}
