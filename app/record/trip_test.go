package record_test

import (
	"testing"
	"time"

	"larderlamp/app/record"
)

// The size of a cooler in quarts stays what was entered, is counted in the nearest
// liter, and is one that a record can have.
func TestCoolerInQuarts(t *testing.T) {
	trip, err := record.NewTrip(record.DayOf(time.Now()), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	for n := 4; n <= 317; n++ {
		trip.SetQuarts(n)
		if off := float64(trip.Litres)*1000 - float64(n)*record.Quart; trip.InQuarts() != n || off > 500 || off < -500 {
			t.Errorf("%d quarts come back as %d, and are counted as %d liters", n, trip.InQuarts(), trip.Litres)
		}
		if err := trip.Validate(); err != nil {
			t.Errorf("%d quarts: %v", n, err)
		}
	}
}
