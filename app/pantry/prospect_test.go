package pantry_test

import (
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/app/walk"
	"larderlamp/rules"
)

// A prospect comes true: where it says that a look settles a jar, passing the
// look of a sweep gives exactly that outcome, once the places that it names are
// described; a jar that it calls condemned stays one to discard; and one that it
// calls hopeless stays unsettled.
func TestProspectsComeTrue(t *testing.T) {
	for _, described := range []bool{true, false} {
		p := testkit.Invented(t, testkit.TripNow)
		if !described {
			for _, pl := range p.PlaceOrder() {
				pl.Wet, pl.Light, pl.Air = "", "", nil
				p.Put(pl)
			}
		}
		s := testkit.StartSweep(t, p, testkit.TripNow)
		w := walk.New(p, s, testkit.TripNow)
		looks, places, condemned := 0, 0, 0
		for _, j := range w.Next {
			before := p.Judge(j, testkit.TripNow)
			pr := p.Prospect(j, testkit.TripNow)
			if pr.Condemned != (before.Lowest == rules.Discard) || pr.Condemned != w.Condemned(j) {
				t.Errorf("%s: got condemned %v, the verdict is %v to %v", p.JarName(j), pr.Condemned, before.Lowest, before.Highest)
			}
			if !pr.Look && len(pr.Places) == 0 && pr.Outcome.Highest != before.Highest {
				t.Errorf("%s: got %v without a look, the verdict is %v", p.JarName(j), pr.Highest, before.Highest)
			}
			if pr.Condemned {
				condemned++
				if err := w.Sound([]*record.Jar{j}, testkit.TripNow); err == nil {
					t.Errorf("%s is condemned but was recorded as sound", p.JarName(j))
				}
				continue
			}
			for _, pl := range pr.Places {
				if pl.AllKnown() {
					t.Errorf("%s: %s is described", p.JarName(j), pl.Name)
				}
			}
			for _, pl := range pr.Places {
				places++
				pl.Describe(record.CoolPlace, testkit.TripNow)
				p.Put(pl)
			}
			if pr.Look {
				looks++
				if err := walk.New(p, s, testkit.TripNow).Sound([]*record.Jar{j}, testkit.TripNow); err != nil {
					t.Fatal(err)
				}
				p.Put(j)
			}
			after := p.Judge(j, testkit.TripNow.Add(time.Minute))
			if pr.Hopeless() != (after.Highest > rules.UseSoon) || !pr.Hopeless() && after.Highest != pr.Highest {
				t.Errorf("%s: the prospect was %v to %v, got %v to %v", p.JarName(j), pr.Lowest, pr.Highest, after.Lowest, after.Highest)
			}
			if pr.Hopeless() != (len(pr.Open()) > 0) {
				t.Errorf("%s: got hopeless %v, open %v", p.JarName(j), pr.Hopeless(), pr.Open())
			}
		}
		if looks < 30 || condemned < 30 || !described && places < 3 {
			t.Errorf("described %v: got %d looks, %d condemned, %d places", described, looks, condemned, places)
		}
	}
}

// A place described with one touch is as cool, or as warm, as was said: both
// limits are the last degree of their band.
func TestPlaceDescribedWithOneTouch(t *testing.T) {
	for warmest, want := range map[int]rules.Value{record.CoolPlace: rules.HeatCool, record.CoolPlace + 1: rules.HeatWarm, record.WarmPlace: rules.HeatWarm, record.WarmPlace + 1: rules.HeatHot} {
		p, s := testkit.Round(t, 1)
		for _, pl := range p.PlaceOrder() {
			pl.Wet, pl.Light, pl.Air = "", "", nil
			pl.Describe(warmest, testkit.Noon)
			if err := pl.Validate(); err != nil || !pl.AllKnown() {
				t.Fatal(err)
			}
			p.Put(pl)
		}
		situation, _ := p.Situation(p.Jars[s.Order[0]], testkit.Noon)
		for sign, v := range map[rules.SignID]rules.Value{rules.SignWet: rules.WetDry, rules.SignPlace: rules.PlaceDark, rules.SignFrozen: rules.FrozenNo} {
			if known, ok := situation.Known(sign); !ok || known != v {
				t.Errorf("%d: %s: got %v", warmest, sign.ID(), situation.Values(sign))
			}
		}
		heat := situation.Values(rules.SignHeat)
		if heat[len(heat)-1] != want {
			t.Errorf("%d tenths: at most %v, want %v", warmest, heat, want)
		}
	}
	// What was said before stays.
	p, _ := testkit.Round(t, 1)
	for _, pl := range p.PlaceOrder() {
		pl.Wet, pl.Light = rules.WetDamp.ID(), rules.PlaceLight.ID()
		pl.Describe(record.WarmPlace, testkit.Noon)
		if pl.Wet != rules.WetDamp.ID() || pl.Light != rules.PlaceLight.ID() || pl.Air.High != 180 {
			t.Errorf("got %+v", pl)
		}
	}
}
