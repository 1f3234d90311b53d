//go:build js && wasm

// Command trip is the program of what travels. Like its
// siblings it imports neither net/http nor anything that does, which would
// double its size.
//
// A panic ends it; static/boot.js then says so over the page, because no state
// is left that could be trusted.
package main

import (
	"strings"

	goapp "github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app"
)

func main() {
	app.RegisterTrip(strings.TrimSuffix(goapp.Getenv("GOAPP_ROOT_PREFIX"), "/"))
	goapp.RunWhenOnBrowser()
}
