package process

import (
	"math/bits"
)

// Range is a whole number known to lie between Low and High. The zero Range
// is not known at all.
type Range struct {
	Low, High int
	Known     bool
}

// Exactly is a number that is known.
func Exactly(v int) Range { return Range{v, v, true} }

// Between is a number known to lie between two others, given in any order.
func Between(a, b int) Range { return Range{min(a, b), max(a, b), true} }

// ends returns the lowest and the highest number possible.
func (r Range) ends(low, high int) (int, int) {
	if r.Known {
		return min(r.Low, r.High), max(r.Low, r.High)
	}
	return low, high
}

// open lists the fields that do not have one value.
func (r *Record) open() (d Datum) {
	for _, f := range [...]struct {
		datum Datum
		open  bool
	}{
		{DatumProduct, r.Product == ""},
		{DatumForm, r.Form == "" && len(byID[r.Product]) > 1},
		{DatumPack, isSeveral(r.Pack)},
		{DatumJar, isSeveral(r.Jar)},
		{DatumMethod, isSeveral(r.Method)},
		{DatumGauge, isSeveral(r.Gauge)},
		{DatumVented, isSeveral(r.Vented)},
		{DatumMinutes, r.Minutes.open()},
		{DatumPressure, r.Pressure.open()},
		{DatumReadsHigh, r.ReadsHigh.open()},
		{DatumAltitude, r.Altitude.open()},
	} {
		if f.open {
			d |= f.datum
		}
	}
	return
}

// eachEnd tries the two ends of a number. The answer moves one way with the
// number, so what lies between narrows it no further.
func eachEnd(r Range, low, high int, try func(Range) bool) bool {
	low, high = r.ends(low, high)
	return try(Exactly(low)) || try(Exactly(high))
}

// eachBit tries each value of a set.
func eachBit[T ~uint8](set T, try func(T) bool) bool {
	for ; set != 0; set &= set - 1 {
		if try(set & -set) {
			return true
		}
	}
	return false
}

// or returns the set, or everything when it names nothing.
func or[T ~uint8](set, all T) T {
	if set &= all; set == 0 {
		return all
	}
	return set
}

// isSeveral reports whether more than one value is left.
func isSeveral[T ~uint8](set T) bool { return bits.OnesCount8(uint8(set)) != 1 }

// open reports whether more than one number is left.
func (r Range) open() bool { return !r.Known || r.Low != r.High }

// first drops the second of two results.
func first(a, _ int) int { return a }
