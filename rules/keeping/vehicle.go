package keeping

import (
	"fmt"
	"math"
)

// Stand is where something stands on a trip.
type Stand uint8

// Where things stand. A trailer is taken to get as hot as a car: nobody
// measured it.
const (
	Shade   Stand = iota // in the open, out of the sun
	Sun                  // in the open, in the sun
	Car                  // in a closed car in the sun
	Trailer              // in a closed trailer in the sun
	Cabin                // in a car in which people sit
)

// cabin is by how much, in degrees Celsius, it may be warmer than outside where
// people sit in a car in the sun. Ours: they would not stand more.
const cabin = 5.0

// carRise is by how much, in degrees Celsius, the air in a closed car in the
// sun has risen above the air outside after some minutes, from the lower to the
// higher of what was measured.
//
// Sources: C. McLaren, J. Null and J. Quinn, Heat stress from enclosed vehicles,
// Pediatrics 116:e109 (2005), read in the abstract: at 22 to 36 °C outside about
// 40 °F (22.2 °C) in an hour, 80 % of it in the first 30 minutes; the 5 and 10
// minutes are derived from that as one exponential. A. Grundstein and others
// (2010), Athens, Georgia, read in an abstract: 4, 7, 16 and 26 °C in 5, 10, 30
// and 60 minutes. The end: McLaren on earlier studies, up to 154 °F inside (read)
// at more than 86 °F outside, 38 °C at the most; that it takes two hours is
// assumed.
var carRise = [...]struct {
	minutes float64
	rise    Range
}{
	{0, Range{0, 0}}, {5, Range{4, 4.9}}, {10, Range{7, 8.8}}, {30, Range{16, 17.8}}, {60, Range{22.2, 26}}, {120, Range{22.2, 38}},
}

// carCools is the time constant, in hours, with which a closed car gives its
// heat off again. Derived from 80 % of the rise of an hour in its first 30
// minutes, which is 0.3 h, and taken as half an hour.
const carCools = 0.5

// VehicleRise is by how much, in degrees Celsius, the air in a closed vehicle in
// full sun has risen above the air outside after some minutes. Windows open by
// 4 inches change little (McLaren 2005, read: 3.1 and 3.4 °F every 5
// minutes). It stays constant after two hours.
func VehicleRise(minutes float64) Range {
	last := carRise[0]
	for _, c := range carRise[1:] {
		if minutes < c.minutes {
			share := max(0, (minutes-last.minutes)/(c.minutes-last.minutes))
			return Range{last.rise.Low + share*(c.rise.Low-last.rise.Low), last.rise.High + share*(c.rise.High-last.rise.High)}
		}
		last = c
	}
	return last.rise
}

// openSun is by how much, in degrees Celsius, a jar in the open sun is warmed
// beyond the air. Derived from figures from memory: 1,000 W/m² on a quarter of
// its surface, 90 % of it taken up, given off at 8 W/(m²·K).
const openSun = 28.0

// SunShare is the most that the sun does in the hour of the day that begins with
// it, as a share of full sun: 0 at night, 1 through the middle of the day.
// Derived: the sun's height over a day of 16 hours around 13 o'clock, the longest
// of the middle latitudes on summer time; half as much again, for a low sun
// shines in at the windows.
func SunShare(hour int) float64 {
	const rise, day = 5.0, 16.0
	height := func(h float64) float64 { return 1.5 * math.Sin(math.Pi*max(0, min(h-rise, day))/day) }
	h := float64((hour%24 + 24) % 24)
	return max(0, min(1, max(height(h), height(h+1))))
}

// coldestHour and hottestHour are when a day is usually at its ends. From memory:
// about sunrise, and two to three hours after noon on summer time.
const coldestHour, hottestHour = 5, 15

// Outside returns the air outside for every hour of some days, in degrees Celsius,
// from the lowest and the highest temperature that is expected of each. The first
// hour is that after midnight. Between the lowest and the highest the air follows
// half a wave, from day to day without a jump; unsure is by how much it may be
// colder or warmer all the time.
func Outside(days []Reading, unsure float64) ([]Range, error) {
	if !(unsure >= 0) || math.IsInf(unsure, 0) {
		return nil, fmt.Errorf("trip: %v degrees of doubt are not zero or more", unsure)
	}
	for i, d := range days {
		if err := (Range{d.Min, d.Max}).check(); err != nil {
			return nil, fmt.Errorf("trip: day %d: %w", i+1, err)
		}
	}
	at := func(hour int) float64 {
		day, h := hour/24, hour%24
		day = min(day, len(days)-1)
		half := func(from, to float64, since, length int) float64 {
			return from + (to-from)*(1-math.Cos(math.Pi*float64(since)/float64(length)))/2
		}
		const falling = 24 - hottestHour + coldestHour
		switch {
		case h < coldestHour:
			return half(days[max(0, day-1)].Max, days[day].Min, h+24-hottestHour, falling)
		case h < hottestHour:
			return half(days[day].Min, days[day].Max, h-coldestHour, hottestHour-coldestHour)
		}
		return half(days[day].Max, days[min(day+1, len(days)-1)].Min, h-hottestHour, falling)
	}
	hours := make([]Range, 0, 24*len(days))
	for h := range 24 * len(days) {
		a, b := at(h), at(h+1)
		hours = append(hours, Range{min(a, b) - unsure, max(a, b) + unsure})
	}
	return hours, nil
}

// Around returns the air around something for every hour, from the air outside,
// in degrees Celsius, and from where it stands in that hour. The first hour is
// that after midnight. A cloud may always come: the low end is the air outside.
// The high end is that of a clear day.
func Around(outside []Range, stands []Stand) ([]Range, error) {
	if len(outside) != len(stands) {
		return nil, fmt.Errorf("trip: %d hours of air and %d of places", len(outside), len(stands))
	}
	around := make([]Range, 0, len(outside))
	minutes, rise := 0.0, 0.0
	for i, out := range outside {
		if err := out.check(); err != nil {
			return nil, fmt.Errorf("trip: hour %d: %w", i+1, err)
		}
		if i > 0 && stands[i] != stands[i-1] {
			minutes, rise = 0, 0
		}
		share := SunShare(i)
		switch stands[i] {
		case Shade:
		case Sun:
			rise = share * openSun
		case Cabin:
			rise = share * cabin
		case Car, Trailer:
			minutes += 60
			rise = max(share*VehicleRise(minutes).High, rise*math.Exp(-1/carCools))
		default:
			return nil, fmt.Errorf("trip: hour %d: no place %d", i+1, stands[i])
		}
		around = append(around, Range{out.Low, out.High + rise})
	}
	return around, nil
}
