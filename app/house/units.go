package house

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// Degrees writes a temperature, given in tenths of a degree Celsius, in the
// household's unit.
func (h *House) Degrees(tenths int) prose.Text {
	if h.Settings.Fahrenheit {
		return ui.Say("%.0f °F", record.Fahrenheit(float64(tenths)/10))
	}
	return ui.Say("%s °C", ui.Decimal(tenths, 10))
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
	return record.TenthsOfFahrenheit(n.Low), true
}

// DegreeField is a labeled field for a temperature, kept in tenths of a degree
// Celsius and asked for in the household's unit. After each change tell gets
// what is wrong with what was typed, or "" and the temperature is set.
func (h *House) DegreeField(label prose.Text, tenths *int, turn int, tell func(wrong prose.Text)) app.UI {
	unit, shown := prose.Text("%s (°C)"), ui.Decimal(*tenths, 10)
	if h.Settings.Fahrenheit {
		unit, shown = "%s (°F)", fmt.Sprintf("%.0f", record.Fahrenheit(float64(*tenths)/10))
	}
	return ui.Field(ui.Say(unit, label), ui.Input("text", shown, "").Attr("inputmode", "text").Attr("maxlength", 6).
		On("change", func(ctx app.Context, _ app.Event) {
			n, ok := h.Tenths(ui.Typed(ctx))
			if !ok {
				tell(ui.Say("%s: “%s” is not a temperature.", label, ui.Typed(ctx)))
				return
			}
			*tenths = n
			tell("")
		}, app.EventScope(label, turn)))
}

// Whole reads a number with at most one decimal, in units of 1/scale. Anything
// else is not known.
func Whole(text string, scale int) process.Range {
	n, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	n *= float64(scale)
	// A decimal such as 11.3 is not exact in binary: the nearest whole number is
	// used, if it is close enough.
	if err != nil || math.Abs(n) > 10000 || !(math.Abs(n-math.Round(n)) <= 1e-6) {
		return process.Range{}
	}
	return process.Exactly(int(math.Round(n)))
}

// Pound is in grams.
const Pound = 453.59237

// Grams writes a weight.
func (h *House) Grams(g int) prose.Text {
	if h.Settings.Fahrenheit {
		return ui.Say("%.0f lb", float64(g)/Pound)
	}
	return ui.Say("%.1f kg", float64(g)/1000)
}
