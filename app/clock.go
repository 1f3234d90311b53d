package app

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

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
