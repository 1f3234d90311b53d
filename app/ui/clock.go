package ui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
)

// A browser takes as long to write one day as to draw a row of a list, mostly
// to find out how days are written. So the formatter is kept, and every day
// that was written.
var (
	dayFormat app.Value
	dayTexts  = map[record.Day]string{}
)

// forgetDates drops what was written in another language.
func forgetDates() {
	dayFormat = nil
	clear(dayTexts)
	clear(monthTexts)
}

// DayWords writes a day the way the reader does.
func DayWords(d record.Day) string {
	if text, ok := dayTexts[d]; ok {
		return text
	}
	t, err := time.Parse(record.DayLayout, string(d))
	if err != nil || !app.IsClient {
		return string(d)
	}
	if dayFormat == nil {
		options := app.Window().Get("Object").New()
		options.Set("dateStyle", "medium")
		options.Set("timeZone", "UTC")
		dayFormat = app.Window().Get("Intl").Get("DateTimeFormat").New(dateLanguage(), options)
	}
	text := dayFormat.Call("format", float64(t.UnixMilli())).String()
	dayTexts[d] = text
	return text
}

// monthTexts are the months already written, by format and month.
var monthTexts = map[[2]string]string{}

// MonthWords writes a month, as 2006-01, the way the reader does: its name "short" or
// "long", with its year.
func MonthWords(month, name string) string {
	if text, ok := monthTexts[[2]string{name, month}]; ok {
		return text
	}
	t, err := time.Parse(MonthLayout, month)
	if err != nil || !app.IsClient {
		return month
	}
	options := app.Window().Get("Object").New()
	options.Set("month", name)
	options.Set("year", "numeric")
	options.Set("timeZone", "UTC")
	text := app.Window().Get("Intl").Get("DateTimeFormat").New(dateLanguage(), options).Call("format", float64(t.UnixMilli())).String()
	monthTexts[[2]string{name, month}] = text
	return text
}

// When writes a time the way the reader does, in the reader's time zone.
func When(t time.Time) string {
	if !app.IsClient {
		return t.Format("2006-01-02 15:04")
	}
	options := app.Window().Get("Object").New()
	options.Set("dateStyle", "medium")
	options.Set("timeStyle", "short")
	date := app.Window().Get("Date").New(float64(t.UnixMilli()))
	return date.Call("toLocaleString", dateLanguage(), options).String()
}

// Clock writes a full hour of the day the way the reader does.
func Clock(hour int) string {
	if !app.IsClient {
		return fmt.Sprintf("%d:00", hour)
	}
	options := app.Window().Get("Object").New()
	options.Set("timeStyle", "short")
	options.Set("timeZone", "UTC")
	date := app.Window().Get("Date").New(float64(hour) * 3600e3)
	return date.Call("toLocaleTimeString", dateLanguage(), options).String()
}

// dateLanguage is the language dates are written in: that of the page, as used where
// the reader lives, as far as the browser says so. A reader whose own language the
// site does not have reads English, with dates as at home. Some systems name a
// language that the browser itself does not accept, such as "C": then the browser
// chooses.
func dateLanguage() any {
	known := func(language string) any {
		if Device().Truthy() && Device().Call("knowsLanguage", language).Bool() {
			return language
		}
		return app.Undefined()
	}
	navigator := app.Window().Get("navigator")
	theirs := []string{}
	if own := navigator.Get("language"); own.Truthy() {
		theirs = append(theirs, own.String())
	}
	if all := navigator.Get("languages"); all.Truthy() {
		for i := range all.Length() {
			theirs = append(theirs, all.Index(i).String())
		}
	}
	for _, language := range theirs {
		if main(language) == main(ReaderTag) {
			return known(language)
		}
	}
	if ReaderTag == "en" && !slices.ContainsFunc(theirs, func(language string) bool {
		return slices.ContainsFunc(Offered, func(l Language) bool { return main(l.Tag) == main(language) })
	}) {
		return known(append(theirs, "")[0])
	}
	return known(ReaderTag)
}

// main is the language that a tag such as "es-MX" begins with.
func main(tag string) string {
	language, _, _ := strings.Cut(strings.ToLower(tag), "-")
	return language
}

// DayFirst reports whether the reader writes the day of a date before its
// month.
func DayFirst() bool {
	if !app.IsClient {
		return false
	}
	options := app.Window().Get("Object").New()
	options.Set("timeZone", "UTC")
	date := app.Window().Get("Date").New(float64(time.Date(2006, 11, 25, 0, 0, 0, 0, time.UTC).UnixMilli()))
	written := date.Call("toLocaleDateString", dateLanguage(), options).String()
	return strings.Index(written, "25") < strings.Index(written, "11")
}

// monthLayout is how a month is written, without its day.
const MonthLayout = "2006-01"
