package process_test

import (
	"fmt"

	"larderlamp/rules/process"
)

// A quart of snap beans, 25 minutes at 11 pounds on a sound dial gauge, is as
// published up to 2,000 ft. Nobody is sure how high the cabin stands.
func ExampleWas() {
	beans := process.Record{
		Product: "beans-snap-and-italian", Pack: process.Raw, Jar: process.Quart,
		Method: process.Pressure, Gauge: process.Dial, Vented: process.Vented,
		Minutes: process.Exactly(25), Pressure: process.Exactly(110), ReadsHigh: process.Exactly(0),
		Altitude: process.Between(1800, 2200),
	}
	j := process.Was(beans)
	fmt.Println(j.Possible, j.Missing.Words())

	beans.Altitude = process.Exactly(2200)
	j = process.Was(beans)
	for _, line := range j.Why() {
		fmt.Println(line)
	}
	// Output:
	// cannot tell: as published, short of the published process [the altitude]
	// Short of the published process.
	// At 2200 ft the table asks for 25 minutes at 12 pounds by a dial gauge. Source: Michigan State University Extension, bulletin 01600883 (1997, from AIB 539) (read in a copy).
	// Too little pressure by 1.0 pounds.
	// The canner held about 115.0 °C where 116.3 °C was asked for: 75 % of the published heat.
}
