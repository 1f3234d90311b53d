package keeping

import (
	"math"

	"larderlamp/rules"
)

// freezes is the temperature, in degrees Celsius, above which no jar freezes:
// that of water, the highest of any filling.
const freezes = 0.0

// Heat returns the values of the sign "warmest" that the exposure leaves possible.
// Days about which nothing is known could have been anything.
func (e *Exposure) Heat() []rules.Value {
	if e.Days == 0 {
		return nil
	}
	high := e.Warmest.High
	if e.Unknown > 0 {
		high = 200
	}
	low := e.Warmest.Low
	if math.IsInf(low, -1) {
		low = -200
	}
	return bandValues("warmest_tenths_c", low, high)
}

// HeatOf returns the values of the sign "warmest" for a highest temperature, in
// degrees Celsius.
func HeatOf(r Range) []rules.Value { return bandValues("warmest_tenths_c", r.Low, r.High) }

// AirOf returns the values of the sign "how warm there" for the air around an
// opened jar, in degrees Celsius.
func AirOf(r Range) []rules.Value { return bandValues("air_tenths_c", r.Low, r.High) }

// bandValues returns the values for temperatures from low to high, rounded up to
// tenths.
func bandValues(id string, low, high float64) []rules.Value {
	b, ok := rules.BandByID(id)
	if !ok {
		panic("no band " + id) // the names are constants of the rules
	}
	up := func(c float64) int { return int(math.Ceil(c*10 - 1e-9)) }
	vs, err := b.Values(up(low), up(high))
	if err != nil {
		panic(err) // low is never above high
	}
	return vs
}

// Unfrozen reports whether the exposure rules out that a jar froze.
func (e *Exposure) Unfrozen() bool {
	return e.Days > 0 && e.Unknown == 0 && e.Coldest.Low > freezes
}
