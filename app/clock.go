package app

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
)

// dayWords writes a day in the reader's own manner.
func dayWords(d pantry.Day) string {
	t, err := time.Parse(pantry.DayLayout, string(d))
	if err != nil || !app.IsClient {
		return string(d)
	}
	options := app.Window().Get("Object").New()
	options.Set("dateStyle", "medium")
	options.Set("timeZone", "UTC")
	date := app.Window().Get("Date").New(float64(t.UnixMilli()))
	return date.Call("toLocaleDateString", app.Window().Get("navigator").Get("language"), options).String()
}

// when writes a time in the reader's own place and manner.
func when(t time.Time) string {
	if !app.IsClient {
		return t.Format("2006-01-02 15:04")
	}
	options := app.Window().Get("Object").New()
	options.Set("dateStyle", "medium")
	options.Set("timeStyle", "short")
	date := app.Window().Get("Date").New(float64(t.UnixMilli()))
	return date.Call("toLocaleString", app.Window().Get("navigator").Get("language"), options).String()
}
