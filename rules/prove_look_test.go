package rules_test

import (
	"math/rand/v2"
	"testing"

	"larderlamp/rules"
)

// The short look covers every sign of the outside and through the glass exactly
// once, and no other.
func TestProofShortLookCoversEverySign(t *testing.T) {
	covered := map[rules.SignID]int{}
	for _, g := range rules.ShortLook {
		for _, id := range g.Signs {
			covered[id]++
		}
	}
	for id := range rules.SignID(rules.NumSigns) {
		want := 0
		if c := id.Info().Chapter; c == rules.ChapterOutside || c == rules.ChapterGlass {
			want = 1
		}
		if covered[id] != want {
			t.Errorf("%s: got it covered %d times, want %d", id.ID(), covered[id], want)
		}
	}
}

// The short look never gives keep where the full check would not. Where one of
// its signs shows anything but the sound value, the look does not hold and tells
// nothing, so that keep cannot be settled: some completion of the jar is worse.
// Where it holds, it tells exactly what a full check of the same jar would, so
// that both have the same exact verdicts, for every record, storage and product.
func TestProofShortLookIsNeverMilder(t *testing.T) {
	tree := rules.NewTree()
	// Without the look no jar on the shelf is settled as keep, whatever else is
	// known of it: the whole diagram is asked at once.
	closed := rules.NewSituation()
	if err := closed.Tell(rules.OpenedNo); err != nil {
		t.Fatal(err)
	}
	for _, g := range rules.ShortLook {
		for _, id := range g.Signs {
			// All signs but one are sound; the one left out can forbid the keep of
			// every jar that would be kept.
			s := closed
			for _, v := range rules.ShortLookValues() {
				if v.Sign() != id {
					if err := s.Tell(v); err != nil {
						t.Fatal(err)
					}
				}
			}
			kept := 0
			for _, p := range rules.Catalog {
				jar := s
				if err := p.Tell(&jar); err != nil {
					t.Fatal(err)
				}
				if low, _ := tree.Reach(jar); low != rules.Keep {
					continue
				}
				kept++
				if _, high := tree.Reach(jar); high == rules.Keep {
					t.Errorf("%s, %s: got keep without looking at it", p.ID, id.ID())
				}
			}
			if kept == 0 {
				t.Errorf("%s: got no product that can be kept", id.ID())
			}
		}
	}
	// Whatever the rest, telling the look and telling its signs one by one are
	// the same situation, and so have the same verdict.
	r := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		s := closed
		for id := range rules.SignID(rules.NumSigns) {
			c := id.Info().Chapter
			if c == rules.ChapterRecord || c == rules.ChapterStorage || c == rules.ChapterFacts {
				values := id.Info().Values
				_ = s.Tell(values[r.IntN(len(values))].Value)
			}
		}
		short, full := s, s
		if err := short.Tell(rules.ShortLookValues()...); err != nil {
			t.Fatal(err)
		}
		for id := range rules.SignID(rules.NumSigns) {
			if c := id.Info().Chapter; c == rules.ChapterOutside || c == rules.ChapterGlass {
				if err := full.Tell(id.Info().Sound); err != nil {
					t.Fatal(err)
				}
			}
		}
		if short != full {
			t.Fatal("the short look tells something different from its signs")
		}
		if a, b := rules.Judge(short), rules.Judge(full); a.Lowest != b.Lowest || a.Highest != b.Highest {
			t.Fatal("got two verdicts for one situation")
		}
	}
}
