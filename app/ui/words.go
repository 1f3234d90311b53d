package ui

import (
	"strconv"
	"strings"

	"larderlamp/app/record"
	"larderlamp/rules/prose"
)

// Decimal writes a number given in units of 1/scale, scale being 1 or 10.
func Decimal(n, scale int) string {
	if scale == 10 && n%10 != 0 {
		return strconv.FormatFloat(float64(n)/10, 'f', 1, 64)
	}
	return strconv.Itoa(n / scale)
}

// Plain says what went wrong in plain words.
func Plain(err error) prose.Text { return prose.Plain(err) }

// EachFault lists everything that is wrong, one by one.
func EachFault(err error) (lines []prose.Text) {
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range joined.Unwrap() {
			line := prose.Error(e)
			if f, ok := e.(*record.Fault); ok {
				line = prose.Say("%s: %s", f.Field, f.What) // the page says which record it is
			}
			lines = append(lines, line)
		}
		lines[len(lines)-1] = prose.Say("%s.", lines[len(lines)-1])
		return lines
	}
	return []prose.Text{Plain(err)}
}

// Number is a whole number that stands alone.
func Number(n int) prose.Text { return prose.Own(strconv.Itoa(n)) }

// CmpOr is the first of two texts that is not empty.
func CmpOr[T ~string](a, b T) T {
	if strings.TrimSpace(string(a)) != "" {
		return a
	}
	return b
}
