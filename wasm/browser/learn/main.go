//go:build js && wasm

// Command learn is the program of the pages that teach. Like its
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
	app.RegisterLearn(strings.TrimSuffix(goapp.Getenv("GOAPP_ROOT_PREFIX"), "/"))
	goapp.RunWhenOnBrowser()
}
