//go:build js && wasm

// Command browser is the program of the site: every page, and the judge that
// compares two editions.
//
// A panic ends it; static/stopped.js then says so over the page, because no state
// is left that could be trusted.
package main

import (
	"os"
	"strings"

	goapp "github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app"
)

func main() {
	if len(os.Args) > 0 && os.Args[0] == "judge" {
		app.Judge()
		return
	}
	app.Register(strings.TrimSuffix(goapp.Getenv("GOAPP_ROOT_PREFIX"), "/"))
	goapp.RunWhenOnBrowser()
}
