package draw

import (
	"strings"
	"unicode"
)

// Wide is roughly how wide a text is, in units of its font size. The widths are
// those of a common sans-serif font, rounded up; from memory.
func Wide(s string) float64 {
	sum := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("iIjlt.,:;'!|()[] ", r):
			sum += 0.36
		case strings.ContainsRune("fr-", r):
			sum += 0.42
		case strings.ContainsRune("mwMW@%", r), r > 0x2e80:
			sum += 1.02
		case unicode.IsUpper(r):
			sum += 0.76
		default:
			sum += 0.64
		}
	}
	return sum
}

// Clip shortens a text to a width.
func Clip(s string, width float64) string {
	s = strings.Join(strings.Fields(s), " ")
	if Wide(s) <= width {
		return s
	}
	for runes := []rune(s); len(runes) > 0; {
		runes = runes[:len(runes)-1]
		if short := strings.TrimSpace(string(runes)) + "…"; Wide(short) <= width {
			return short
		}
	}
	return ""
}
