package testkit

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"larderlamp/app/record"
)

// Draw makes a record of any kind, as a person does who begins something.
func Draw(t testing.TB, r *rand.Rand, now time.Time) record.Record {
	t.Helper()
	rec, err := draw(t, r, now)
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

func draw(t testing.TB, r *rand.Rand, now time.Time) (record.Record, error) {
	switch r.IntN(7) {
	case 0:
		return record.NewPlace("Cellar", now)
	case 1:
		return record.NewBatch("peaches", now)
	case 2:
		return record.NewSweep(nil, nil, now)
	case 3:
		return record.NewTrip(record.DayOf(now), now)
	case 4:
		c := SampleCheck(t, r)
		c.Answers = append(c.Answers, record.Answer{Sign: "rust", Values: []string{"spots"}, Question: "rust", At: now})
		return &c, nil
	}
	batch, err := record.NewBatch("peaches", now)
	if err != nil {
		return nil, err
	}
	jar, err := record.NewJar(batch.ID, 1, now)
	if err != nil || r.IntN(2) == 0 {
		return jar, err
	}
	return record.NewPhoto(jar.ID, "", "/9j/AAAA", now)
}

// Edit changes a record as a person does, and deletes or restores some.
func Edit(t testing.TB, rec record.Record, r *rand.Rand, now time.Time) {
	t.Helper()
	word := fmt.Sprint("word ", r.IntN(4))
	switch c := rec.(type) {
	case *record.Place:
		c.Notes = word
		c.Touch(now)
	case *record.Batch:
		c.Notes = word
		c.Touch(now)
	case *record.Check:
		c.Label = word
		c.Thrown = record.DayOf(now)
		c.Touch(now)
	case *record.Photo:
		c.At = now
		c.Touch(now)
	case *record.Sweep:
		c.Ended = &now
		c.Touch(now)
	case *record.Trip:
		c.Name = word
		c.Quarts = 1 + r.IntN(317)
		c.Touch(now)
	case *record.Jar:
		if len(c.Events) > 0 && r.IntN(3) == 0 {
			c.Undo(c.Events[r.IntN(len(c.Events))].ID, r.IntN(2) == 0)
		} else if _, err := c.Add(record.Noted, now); err != nil {
			t.Fatal(err)
		}
	}
	if r.IntN(8) == 0 {
		rec.Delete(now)
	} else if rec.IsDeleted() && r.IntN(2) == 0 {
		rec.Restore(now)
	}
}

// Change changes a copy of a record as a device would: something of its own, a new
// revision, written.
func Change(t testing.TB, rec record.Record, r *rand.Rand) record.Record {
	t.Helper()
	rec = ReadBack(t, rec)
	Edit(t, rec, r, Noon.Add(time.Duration(r.IntN(1000))*time.Minute))
	Encoded(t, rec)
	return rec
}

// SampleCheck is a valid random check from the source.
func SampleCheck(t testing.TB, r *rand.Rand) record.Check {
	c, err := record.NewCheck("green-beans", Noon)
	if err != nil {
		t.Fatal(err)
	}
	pick := func(all ...string) string { return all[r.IntN(len(all))] }
	c.Edition, c.Lowest, c.Highest = "2026.1", "keep", pick("keep", "use-soon", "discard")
	c.Label = pick("", "cellar, left", "Grüne Bohnen 🫘", "<b>jar</b>")
	c.Finished = r.IntN(2) == 0
	c.Revision = int64(r.IntN(4))
	if r.IntN(3) == 0 {
		c.Delete(Noon)
	}
	for _, sign := range []string{"lid", "press", "lift"} {
		if r.IntN(2) == 0 {
			c.Answers = append(c.Answers, record.Answer{Sign: sign, Values: []string{pick("down", "flat")}, Question: sign, At: Noon})
		}
	}
	return c
}

// EveryKind makes one random record of each kind from the source.
func EveryKind(t testing.TB, r *rand.Rand) []record.Record {
	t.Helper()
	fail := func(err error) {
		if err != nil {
			t.Fatal(err)
		}
	}
	place, err := record.NewPlace("Cellar", Noon)
	fail(err)
	batch, err := record.NewBatch("peaches", Noon)
	fail(err)
	jar, err := record.NewJar(batch.ID, 1, Noon)
	fail(err)
	_, err = jar.Add(record.Stored, Noon)
	fail(err)
	check := SampleCheck(t, r)
	photo, err := record.NewPhoto(jar.ID, "", "/9j/AAAA", Noon)
	fail(err)
	sweep, err := record.NewSweep([]string{place.ID}, []string{jar.ID}, Noon)
	fail(err)
	trip, err := record.NewTrip(record.DayOf(Noon), Noon)
	fail(err)
	trip.Name, trip.Must = "To the lake", []string{jar.ID}
	trip.Packed = []record.Packed{{Jar: jar.ID, Open: 1, Last: 3}}
	return []record.Record{place, batch, jar, &check, photo, sweep, trip}
}
