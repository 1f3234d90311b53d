package process

import (
	"fmt"
	"math"
)

// Fahrenheit converts to degrees Fahrenheit.
func (c Celsius) Fahrenheit() float64 { return float64(c)*1.8 + 32 }

// SaturationPressure is the pressure at which water boils at a temperature.
// Valid from 273.15 to 647.096 K.
//
// Source: IAPWS R7-97(2012), region 4, equation 30.
func SaturationPressure(t Kelvin) (Pascals, error) {
	if !(t >= 273.15 && t <= 647.096) {
		return 0, fmt.Errorf("saturated steam: temperature %g K is outside 273.15 to 647.096 K", float64(t))
	}
	th := float64(t) + n[8]/(float64(t)-n[9])
	a := th*th + n[0]*th + n[1]
	b := n[2]*th*th + n[3]*th + n[4]
	c := n[5]*th*th + n[6]*th + n[7]
	r := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return Pascals(r * r * r * r * 1e6), nil
}

// BoilingPoint is the temperature of boiling water in the standard
// atmosphere. Valid from -6,500 to 36,000 ft.
func BoilingPoint(at Feet) (Celsius, error) { return CannerTemperature(0, at, 1) }
