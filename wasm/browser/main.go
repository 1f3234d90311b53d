//go:build js && wasm

// Command browser is the program that runs in the page. It imports neither
// net/http nor anything that does, which would double its size.
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
	app.Register(strings.TrimSuffix(goapp.Getenv("GOAPP_ROOT_PREFIX"), "/"))
	goapp.RunWhenOnBrowser()
}
