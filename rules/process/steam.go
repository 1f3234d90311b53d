package process

import (
	"fmt"
	"math"
)

// Pascals is an absolute pressure.
type Pascals float64

// Kelvin is a thermodynamic temperature.
type Kelvin float64

// Celsius is a temperature in degrees Celsius.
type Celsius float64

// Celsius converts to degrees Celsius.
func (k Kelvin) Celsius() Celsius { return Celsius(k - 273.15) }

// PascalsPerPSI is one pound-force per square inch.
const PascalsPerPSI = 6894.757293

// StandardPressure is the air pressure of the standard atmosphere. Height is
// geopotential meters, here taken to be the altitude itself: the difference
// is under 0.005 °C of boiling point wherever people live. Valid from -2,000
// to 11,000 m.
//
// Source: ISO 2533:1975 (values read as reference data elsewhere).
func StandardPressure(meters float64) (Pascals, error) {
	if !(meters >= -2000 && meters <= 11000) {
		return 0, fmt.Errorf("standard atmosphere: height %g m is outside -2000 to 11000 m", meters)
	}
	const (
		sea     = 101325.0  // Pa
		warmth  = 288.15    // K at sea level
		lapse   = 0.0065    // K/m
		gravity = 9.80665   // m/s²
		gas     = 287.05287 // J/(kg K)
	)
	return Pascals(sea * math.Pow(1-lapse*meters/warmth, gravity/(gas*lapse))), nil
}

// n holds the coefficients of IAPWS-IF97 region 4, from n1 on.
var n = [...]float64{
	0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
	0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
}

// SaturationTemperature is the temperature at which water boils under a
// pressure. Valid from 611.213 Pa to 22.064 MPa.
//
// Source: IAPWS R7-97(2012), region 4, equation 31.
func SaturationTemperature(p Pascals) (Kelvin, error) {
	if !(p >= 611.213 && p <= 22.064e6) {
		return 0, fmt.Errorf("saturated steam: pressure %g Pa is outside 611.213 to 22064000 Pa", float64(p))
	}
	b := math.Sqrt(math.Sqrt(float64(p) / 1e6))
	e := b*b + n[2]*b + n[5]
	f := n[0]*b*b + n[3]*b + n[6]
	g := n[1]*b*b + n[4]*b + n[7]
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	s := n[9] + d
	return Kelvin((s - math.Sqrt(s*s-4*(n[8]+n[9]*d))) / 2), nil
}

// CannerTemperature is the temperature of the steam in a canner: psi is the
// true pressure above the air outside, in pounds per square inch (0 to 30),
// and steam the share of the gas in the canner that is steam, above 0 and up
// to 1. A vented canner holds steam alone. Trapped air carries its share of
// the pressure and leaves less for the steam (Dalton's law), so the gauge
// shows a pressure that the temperature does not have. Altitude is valid from
// -6,500 to 36,000 ft.
func CannerTemperature(psi float64, at Feet, steam float64) (Celsius, error) {
	if !(psi >= 0 && psi <= 30) {
		return 0, fmt.Errorf("canner: pressure %g psi is outside 0 to 30 psi", psi)
	}
	if !(steam > 0 && steam <= 1) {
		return 0, fmt.Errorf("canner: share of steam %g is outside 0 to 1", steam)
	}
	air, err := StandardPressure(float64(at) * 0.3048)
	if err != nil {
		return 0, fmt.Errorf("canner at %d ft: %w", at, err)
	}
	t, err := SaturationTemperature(Pascals(steam) * (air + Pascals(psi*PascalsPerPSI)))
	if err != nil {
		return 0, fmt.Errorf("canner at %d ft: %w", at, err)
	}
	return t.Celsius(), nil
}

// The heat that kills the spores of Clostridium botulinum is counted in
// minutes at 121.1 °C; ten degrees less take ten times as long.
const (
	LethalReference Celsius = 121.1
	LethalSlope     Celsius = 10 // z
	// BotulinumCook is the least heat for food that is not acid: twelve times
	// the 0.21 minutes that leave a tenth of the spores alive at 121.1 °C (from
	// memory; 2.45 and 3 are also in use).
	BotulinumCook = 2.52
)

// LethalRate is how many minutes at 121.1 °C one minute at a temperature is
// worth: 10^((t-121.1)/10). Valid from 0 to 140 °C.
func LethalRate(t Celsius) (float64, error) {
	if !(t >= 0 && t <= 140) {
		return 0, fmt.Errorf("lethal rate: temperature %g °C is outside 0 to 140 °C", float64(t))
	}
	return math.Pow(10, float64((t-LethalReference)/LethalSlope)), nil
}

// HoldF0 is the lethality of a hold at one temperature, in minutes at 121.1 °C.
func HoldF0(t Celsius, minutes float64) (float64, error) {
	if !(minutes >= 0) {
		return 0, fmt.Errorf("hold: %g minutes", minutes)
	}
	l, err := LethalRate(t)
	return l * minutes, err
}
