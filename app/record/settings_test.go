package record_test

import (
	"testing"

	"larderlamp/app/record"
)

// A backup read on an empty device brings back all settings; on one that has its own
// settings it only fills in what was never set, unless the person asks for more.
func TestSettingsFromAFile(t *testing.T) {
	low, high := 999, 5999
	for _, here := range []record.Settings{{}, {AltitudeFeet: &low, Revision: 1}, {SweepMonths: 2, Revision: 1}, {AltitudeFeet: &low, SweepMonths: 2, Revision: 3}, {Fahrenheit: true, Revision: 1}} {
		for _, file := range []record.Settings{{}, {AltitudeFeet: &high, SweepMonths: 6, Fahrenheit: true}, {AltitudeFeet: &high}} {
			whole, some := here.From(file, true), here.From(file, false)
			if file.AltitudeFeet != nil && *whole.AltitudeFeet != high || file.SweepMonths > 0 && whole.SweepMonths != 6 || whole.Fahrenheit != file.Fahrenheit {
				t.Errorf("all of %+v in %+v: got %+v", file, here, whole)
			}
			if here.AltitudeFeet != nil && *some.AltitudeFeet != low || here.SweepMonths > 0 && some.SweepMonths != here.SweepMonths || here.Revision > 0 && some.Fahrenheit != here.Fahrenheit {
				t.Errorf("a setting made here was lost: %+v in %+v: got %+v", file, here, some)
			}
			if here.IsEmpty() && !some.Same(&whole) {
				t.Errorf("an empty device: got %+v from %+v", some, file)
			}
			if again := some.From(file, false); !again.Same(&some) {
				t.Errorf("read a second time: got %+v, want no change", again)
			}
		}
	}
}
