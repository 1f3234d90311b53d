package record

// Fahrenheit turns degrees Celsius into degrees Fahrenheit.
func Fahrenheit(celsius float64) float64 { return celsius*1.8 + 32 }

// Celsius turns degrees Fahrenheit into degrees Celsius.
func Celsius(fahrenheit float64) float64 { return (fahrenheit - 32) / 1.8 }

// TenthsOfFahrenheit turns tenths of a degree Fahrenheit into tenths of a degree
// Celsius, as records keep them, rounded up: warmer is the stricter side.
func TenthsOfFahrenheit(tenths int) int { return StepsOfFahrenheit(tenths - 320) }

// StepsOfFahrenheit does the same for a difference of temperatures. Go's
// division rounds negative numbers up.
func StepsOfFahrenheit(tenths int) int {
	n := tenths * 5
	if n > 0 {
		n += 8
	}
	return n / 9
}
