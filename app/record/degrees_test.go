package record_test

import (
	"math"
	"testing"

	"larderlamp/app/record"
)

// Every tenth of a degree Fahrenheit that a record can hold becomes the nearest
// tenth of a degree Celsius that is not colder, and there are fixed points that
// everybody knows.
func TestFahrenheitIsRoundedToTheWarmerSide(t *testing.T) {
	for tenths := -800; tenths <= 2200; tenths++ {
		exact := record.Celsius(float64(tenths)/10) * 10
		got := record.TenthsOfFahrenheit(tenths)
		if float64(got) < exact-1e-9 || float64(got) >= exact+1-1e-9 {
			t.Errorf("%d tenths of a °F are %v tenths of a °C, got %d", tenths, exact, got)
		}
		if step := record.StepsOfFahrenheit(tenths); step != int(math.Ceil(float64(tenths)*5/9-1e-9)) {
			t.Errorf("a difference of %d tenths of a °F: got %d", tenths, step)
		}
		if back := record.Fahrenheit(record.Celsius(float64(tenths) / 10)); math.Abs(back-float64(tenths)/10) > 1e-9 {
			t.Errorf("%d tenths: got %v °F back", tenths, back)
		}
	}
	for tenths, want := range map[int]int{320: 0, 2120: 1000, -400: -400, 986: 370, 2125: 1003, 325: 3} {
		if got := record.TenthsOfFahrenheit(tenths); got != want {
			t.Errorf("%d tenths of a °F: got %d, want %d", tenths, got, want)
		}
	}
}
