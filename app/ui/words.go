package ui

import (
	"errors"
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

// plainError is an error that says itself in words for a person.
type plainError interface {
	error
	Plain() string
}

// Plain says what went wrong in words for a person.
func Plain(err error) string {
	if p, ok := errors.AsType[plainError](err); ok {
		return p.Plain()
	}
	return err.Error() + "."
}

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
