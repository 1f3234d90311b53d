package ui

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"larderlamp/rules/locale"
)

// Decimal writes a number given in units of 1/scale, scale being 1 or 10.
func Decimal(n, scale int) string {
	if scale == 10 && n%10 != 0 {
		return strconv.FormatFloat(float64(n)/10, 'f', 1, 64)
	}
	return strconv.Itoa(n / scale)
}

// Plain says what went wrong in words for a person.
func Plain(err error) string { return locale.Plain(err) }

func UpperFirst(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[n:]
}

func LowerFirst(s string) string {
	if locale.Foreign() {
		return Local(s) // where nouns have capitals they keep them
	}
	first, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToLower(first)) + s[n:]
}

// CmpOr is the first of two texts that is not empty.
func CmpOr(a, b string) string {
	if strings.TrimSpace(a) != "" {
		return a
	}
	return b
}
