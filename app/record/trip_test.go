package record_test

import (
	"bytes"
	"hash/fnv"
	"strconv"
	"strings"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/testkit"
)

// The size of a cooler in quarts stays as it was entered, is rounded to the
// nearest liter, and is valid in a record.
func TestCoolerInQuarts(t *testing.T) {
	trip, err := record.NewTrip(record.DayOf(time.Now()), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	for n := 4; n <= 317; n++ {
		trip.SetQuarts(n)
		if off := float64(trip.Liters)*1000 - float64(n)*record.Quart; trip.InQuarts() != n || off > 500 || off < -500 {
			t.Errorf("%d quarts: got %d back, counted as %d liters", n, trip.InQuarts(), trip.Liters)
		}
		if err := trip.Validate(); err != nil {
			t.Errorf("%d quarts: got error %v", n, err)
		}
	}
}

// oldKeys returns the text of a trip as earlier editions wrote it.
func oldKeys(text []byte) []byte {
	return bytes.ReplaceAll(bytes.ReplaceAll(text, []byte(`"liters":`), []byte(`"litres":`)), []byte(`"most_milliliters":`), []byte(`"most_millilitres":`))
}

// A trip that an earlier edition wrote, with keys in British spelling, is read
// completely and written with the current keys, and one with both keys is refused.
func TestTripOfAnEarlierEdition(t *testing.T) {
	trip, err := record.NewTrip(record.DayOf(testkit.Noon), testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	trip.Liters, trip.Space, trip.Name = 28, 5000, `the "litres": and "liters": of <b>`
	text := testkit.Encoded(t, trip)
	old := oldKeys(text)
	if bytes.Count(text, []byte(`"liters":28`)) != 1 || bytes.Contains(text, []byte(`"litres":`)) || bytes.Equal(old, text) {
		t.Fatalf("got %s", text)
	}
	back, err := record.Decode(record.Trips, old)
	if err != nil {
		t.Fatal(err)
	}
	if got := back.(*record.Trip); got.Liters != 28 || got.Space != 5000 || got.Name != trip.Name {
		t.Errorf("got %d liters, room for %d ml, %q", got.Liters, got.Space, got.Name)
	}
	if again := testkit.Encoded(t, back); !bytes.Equal(again, text) {
		t.Errorf("written again\n%s, want\n%s", again, text)
	}
	for _, k := range []string{"liters", "most_milliliters"} {
		both := bytes.Replace(old, []byte(`{`), []byte(`{"`+k+`":40,`), 1)
		if _, err := record.Decode(record.Trips, both); err == nil || !strings.Contains(err.Error(), k+": it is there as") {
			t.Errorf("%s in both spellings: got error %v", k, err)
		}
	}
}

// A version that an earlier edition wrote keeps the name that it had there: a change
// to it names it as replaced, on every device, and a merge keeps nothing of it.
func TestVersionsHaveOneNameInEveryEdition(t *testing.T) {
	trip, err := record.NewTrip(record.DayOf(testkit.Noon), testkit.Noon)
	if err != nil {
		t.Fatal(err)
	}
	trip.Space = 5000
	old := oldKeys(testkit.Encoded(t, trip)) // without a past, this is what names the version
	sum := fnv.New64a()
	sum.Write(old)
	read, err := record.Decode(record.Trips, old)
	if err != nil {
		t.Fatal(err)
	}
	changed := read.(*record.Trip)
	changed.Liters = 50
	changed.Touch(testkit.Noon.Add(time.Hour))
	testkit.Encoded(t, changed)
	if want := strconv.FormatUint(sum.Sum64(), 36); len(changed.Past) != 1 || changed.Past[0] != want {
		t.Errorf("it has replaced %v, want %s", changed.Past, want)
	}
	before, err := record.Decode(record.Trips, old)
	if err != nil {
		t.Fatal(err)
	}
	merged, err := record.Merge(before, changed)
	if err != nil || merged.(*record.Trip).Liters != 50 || len(record.SetAside(merged)) != 0 {
		t.Errorf("merged: got %+v, %v", merged, err)
	}
}
