package house

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"larderlamp/app/ui"
	"larderlamp/rules/process"
)

// Degrees writes a temperature, given in tenths of a degree Celsius, in the
// household's unit.
func (h *House) Degrees(tenths int) string {
	if h.Settings.Fahrenheit {
		return fmt.Sprintf("%.0f °F", float64(tenths)*0.18+32)
	}
	return ui.Decimal(tenths, 10) + " °C"
}

// Tenths reads a temperature in the household's unit into tenths of a degree
// Celsius. A half is rounded up: warmer is the stricter side.
func (h *House) Tenths(text string) (int, bool) {
	n := Whole(strings.TrimSpace(text), 10)
	if !n.Known {
		return 0, false
	}
	if !h.Settings.Fahrenheit {
		return n.Low, true
	}
	// (F - 32) / 1.8 in tenths: 10 F is 180 steps of a tenth of a tenth.
	v := (n.Low - 320) * 5
	q := v / 9
	if v > 0 && v%9 != 0 {
		q++
	}
	return q, true
}

// Whole reads a number with at most one decimal, in units of 1/scale. What is
// not such a number is not known.
func Whole(text string, scale int) process.Range {
	n, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	n *= float64(scale)
	// A decimal such as 11.3 is not exact in binary: the nearest whole number is
	// meant, if it is that near.
	if err != nil || math.Abs(n) > 10000 || !(math.Abs(n-math.Round(n)) <= 1e-6) {
		return process.Range{}
	}
	return process.Exactly(int(math.Round(n)))
}

// Pound is in grams.
const Pound = 453.59237

// Grams writes a weight.
func (h *House) Grams(g int) string {
	if h.Settings.Fahrenheit {
		return fmt.Sprintf("%.0f lb", float64(g)/Pound)
	}
	return fmt.Sprintf("%.1f kg", float64(g)/1000)
}
