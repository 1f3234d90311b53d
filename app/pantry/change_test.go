package pantry_test

import (
	"maps"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/rules"
)

// A pantry remembers much of what it has worked out, and forgets it when it changes:
// after every change each jar is judged as by a pantry that was just read.
func TestEveryChangeIsJudged(t *testing.T) {
	for seed := range uint64(2) {
		rng := rand.New(rand.NewPCG(seed, 1))
		now, settings := testkit.Noon, pantry.New().Settings
		records := map[string]record.Record{}
		p := pantry.New()
		home := testkit.Invented(t, now)
		// Places, batches and jars: few, so that changes meet.
		ids := [3][]string{slices.Sorted(maps.Keys(home.Places)), slices.Sorted(maps.Keys(home.Batches))[:6], nil}
		keep := func(r record.Record) {
			records[r.Key()] = r
			p.Put(r)
		}
		for _, id := range ids[0] {
			keep(home.Places[id])
		}
		for _, id := range ids[1] {
			keep(home.Batches[id])
			for _, j := range home.OfBatch(id) {
				ids[2] = append(ids[2], j.ID)
				keep(j)
			}
		}
		one := func(ids []string) string { return ids[rng.IntN(len(ids))] }
		for step := range 300 {
			switch rng.IntN(12) {
			case 0:
				now = now.Add(time.Duration(rng.IntN(60*24)) * time.Hour)
			case 1:
				feet := rng.IntN(9000)
				settings.AltitudeFeet, settings.SweepMonths = &feet, 1+rng.IntN(12)
				p.SetSettings(settings)
			default:
				r := copied(t, records[one(ids[min(2, rng.IntN(4))])])
				alter(t, rng, r, one(ids[0]), one(ids[1]), now)
				keep(r)
			}
			fresh := pantry.New()
			for _, id := range slices.Sorted(maps.Keys(records)) {
				fresh.Put(copied(t, records[id]))
			}
			fresh.SetSettings(settings)
			got, want := p.JudgeAll(now), fresh.JudgeAll(now)
			if len(got) != len(want) {
				t.Fatalf("seed %d, step %d: %d jars are judged, %d in a pantry that was just read", seed, step, len(got), len(want))
			}
			for i := range got {
				if g, w := told(&got[i]), told(&want[i]); !reflect.DeepEqual(g, w) {
					t.Fatalf("seed %d, step %d: jar %s: got\n%+v, in a pantry that was just read\n%+v", seed, step, got[i].Jar.ID, g, w)
				}
			}
		}
	}
}

// told is what a verdict says, without the places of its events in memory.
func told(v *pantry.Verdict) any {
	b := v.Basis
	b.Standing = record.Standing{Stage: b.Stage, Place: b.Place, Cold: b.Cold}
	return struct {
		id      string
		outcome rules.Outcome
		basis   pantry.Basis
		day     record.Day
		state   pantry.State
	}{v.Jar.ID, v.Outcome, b, v.Deadline, v.State()}
}

// copied is a record as it is read from the device.
func copied(t *testing.T, r record.Record) record.Record {
	t.Helper()
	text, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	if r, err = record.Decode(r.Kind(), text); err != nil {
		t.Fatal(err)
	}
	return r
}

// alter makes one of the changes that a household, another device or a table can make.
func alter(t *testing.T, rng *rand.Rand, r record.Record, place, batch string, now time.Time) {
	t.Helper()
	if rng.IntN(12) == 0 {
		r.Delete(now)
		return
	}
	switch r := r.(type) {
	case *record.Place:
		r.Wet, r.Light = []string{"", "dry", "damp", "flood"}[rng.IntN(4)], []string{"", "dark", "light", "heater"}[rng.IntN(4)]
		r.Air = nil
		if low := rng.IntN(400); low > 50 {
			r.Air = &record.Air{How: record.Steady, Low: low, High: low + rng.IntN(50)}
		}
	case *record.Batch:
		r.Made = record.DayOf(now.AddDate(0, 0, -rng.IntN(1200)))
		r.Standing = []string{"", "published", "changed"}[rng.IntN(3)]
		minutes := rng.IntN(90)
		r.Minutes = &minutes
		if rng.IntN(2) == 0 {
			r.Feet = nil
		}
	case *record.Jar:
		at := now.Add(-time.Duration(rng.IntN(24*200)) * time.Hour)
		values := []rules.Value{rules.SeepWet, rules.LidFlat}
		switch rng.IntN(5) {
		case 0:
			r.Batch = batch
		case 1:
			testkit.Look(t, r, at)
		case 2:
			testkit.Look(t, r, at, values[rng.IntN(len(values))])
		case 3:
			r.Events[rng.IntN(len(r.Events))].Undone = rng.IntN(2) == 0
		default:
			e, err := r.Add([]string{record.Moved, record.Opened, record.Eaten, record.Missing, record.Found, record.Discarded}[rng.IntN(6)], at)
			if err != nil {
				t.Fatal(err)
			}
			if e.What == record.Moved || e.What == record.Opened {
				e.Place = place
			}
		}
	}
}
