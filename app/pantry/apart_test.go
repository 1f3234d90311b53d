package pantry_test

import (
	"encoding/json"
	"fmt"
	"testing"

	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/rules"
)

// Two devices changed the batch or the place of a jar apart from each other. Whichever
// version won, the jar is judged by the stricter one until somebody has decided, and
// other jars are not touched.
func TestTheStricterOfTwoVersionsCounts(t *testing.T) {
	short := 29
	for name, c := range map[string]struct {
		batch func(*record.Batch)
		place func(*record.Place)
		want  rules.Verdict
	}{
		"a minute short":       {batch: func(b *record.Batch) { b.Minutes = &short }, want: rules.Discard},
		"recipe not known":     {batch: func(b *record.Batch) { b.Standing = "" }, want: rules.UseSoon},
		"made over a year ago": {batch: func(b *record.Batch) { b.Made = "2025-08-01" }, want: rules.UseSoon},
		"only a note":          {batch: func(b *record.Batch) { b.Notes = "for Sunday" }, want: rules.Keep},
		"flooded":              {place: func(p *record.Place) { p.Wet = "flood" }, want: rules.Discard},
		"by a furnace":         {place: func(p *record.Place) { p.Light = "heater" }, want: rules.UseSoon},
		"a heat wave":          {place: func(p *record.Place) { p.Air.High = 378 }, want: rules.UseSoon},
	} {
		for _, won := range []bool{false, true} { // the changed version
			t.Run(fmt.Sprint(name, " ", won), func(t *testing.T) {
				p, place, batch, jars := testkit.Home(t, "peaches")
				if v := p.Judge(jars[0], testkit.Noon); v.Highest != rules.Keep || v.Basis.Apart {
					t.Fatalf("before: got %v, apart %v", v.Highest, v.Basis.Apart)
				}
				var r record.Record
				if c.batch != nil {
					other := *batch
					other.Past, other.Notes = nil, "as it was"
					if won {
						c.batch(batch)
					} else {
						c.batch(&other)
					}
					batch.Aside = []json.RawMessage{bare(t, &other)}
					r = batch
				} else {
					other := testkit.ReadBack(t, place).(*record.Place)
					other.Past, other.Notes = nil, "as it was"
					if won {
						c.place(place)
					} else {
						c.place(other)
					}
					place.Aside = []json.RawMessage{bare(t, other)}
					r = place
				}
				p.Put(r)
				if v := p.Judge(jars[0], testkit.Noon); v.Highest != c.want || !v.Basis.Apart {
					t.Errorf("got %v, apart %v, want %v", v.Highest, v.Basis.Apart, c.want)
				}
				// Somebody keeps what counts.
				if c.batch != nil {
					batch.Settle(testkit.Noon)
				} else {
					place.Settle(testkit.Noon)
				}
				p.Put(r)
				want := rules.Keep
				if won {
					want = c.want
				}
				if v := p.Judge(jars[0], testkit.Noon); v.Highest != want || v.Basis.Apart {
					t.Errorf("when it is decided: got %v, apart %v, want %v", v.Highest, v.Basis.Apart, want)
				}
			})
		}
	}
}

// bare is a version as a merge sets it aside.
func bare(t *testing.T, r record.Record) json.RawMessage {
	t.Helper()
	var fields map[string]json.RawMessage
	if err := json.Unmarshal(testkit.Encoded(t, r), &fields); err != nil {
		t.Fatal(err)
	}
	delete(fields, "past")
	text, err := json.Marshal(fields)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
