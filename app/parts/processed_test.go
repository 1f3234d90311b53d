package parts

import (
	"fmt"
	"testing"

	"larderlamp/app/house"
	"larderlamp/rules/process"
)

// Every figure with one decimal is read as what it is, with a point or a comma,
// and anything that is not a figure is not known rather than guessed.
func TestFiguresAreRead(t *testing.T) {
	for tenths := -200; tenths <= 2000; tenths++ {
		for _, format := range []string{"%d.%d", "%d,%d"} {
			sign, n := "", tenths
			if n < 0 {
				sign, n = "-", -n
			}
			text := sign + fmt.Sprintf(format, n/10, n%10)
			if got := house.Whole(text, 10); got != process.Exactly(tenths) {
				t.Fatalf("%s: got %+v", text, got)
			}
		}
	}
	for _, text := range []string{"", "ten", "1.25", "1.2.3", "1e99", "NaN", "Inf", "11 psi"} {
		if got := house.Whole(text, 10); got.Known {
			t.Errorf("%q: got %+v", text, got)
		}
	}
	if got := house.Whole("25.5", 1); got.Known {
		t.Errorf("half a minute: got %+v", got)
	}
}
