package ui

import (
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

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

// collator compares texts as the language of the reader orders them.
var collator app.Value

// Sort puts texts in the order that they have in the language of the reader.
func Sort(texts []prose.Text) {
	if app.IsClient && collator == nil {
		collator = app.Window().Get("Intl").Get("Collator").New(ReaderTag)
	}
	slices.SortStableFunc(texts, func(a, b prose.Text) int {
		if collator == nil {
			return strings.Compare(Local(a), Local(b))
		}
		return collator.Call("compare", Local(a), Local(b)).Int()
	})
}

// CmpOr is the first of two texts that is not empty.
func CmpOr[T ~string](a, b T) T {
	if strings.TrimSpace(string(a)) != "" {
		return a
	}
	return b
}
