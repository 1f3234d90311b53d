package pantry_test

import (
	"testing"

	"larderlamp/app/pantry"
	"larderlamp/app/testkit"
	"larderlamp/rules"
	"larderlamp/rules/process"
)

// Moving to a new home changes no old batch: each keeps the altitude it was judged
// by.
func TestMovingHouseJudgesNothingAnew(t *testing.T) {
	old, own := 999, 4000
	for _, now := range []int{0, 999, 1999, 5999, 9999} {
		p := pantry.New()
		p.Settings.AltitudeFeet = &old
		food, _ := rules.ProductByID("peaches")
		for _, feet := range []*int{nil, &own} {
			b := testkit.ByTheBook(t, food)
			b.Feet = feet
			p.Put(b)
		}
		before := map[string]process.Status{}
		for id, b := range p.Batches {
			before[id] = b.Process(p.Settings.AltitudeFeet).Possible
		}
		bound := p.BatchesWithoutAltitude(old, testkit.Evening)
		if len(bound) != 1 {
			t.Fatalf("%d batches are bound, want the one without an altitude", len(bound))
		}
		for _, r := range bound {
			p.Put(r)
		}
		for id, b := range p.Batches {
			if got := b.Process(&now).Possible; got != before[id] {
				t.Errorf("after a move to %d ft: got %s, before it was %s", now, got, before[id])
			}
		}
	}
}
