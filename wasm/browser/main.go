//go:build js && wasm

// Command browser is the program of the site: every page, the judge that compares
// two editions, and work to measure the pages by.
//
// A panic ends it; static/stopped.js then says so over the page, because no state
// can be trusted any longer.
package main

import (
	"os"
	"strings"

	goapp "github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app"
)

func main() {
	if len(os.Args) > 0 {
		switch os.Args[0] {
		case "judge":
			app.Judge()
			return
		case "reference":
			app.Reference()
			return
		}
	}
	app.Register(strings.TrimSuffix(goapp.Getenv("GOAPP_ROOT_PREFIX"), "/"))
	goapp.RunWhenOnBrowser()
}
