//go:build js && wasm

// Command browser is the bare page's program.
package main

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/wasm/bare"
)

func main() {
	bare.Register()
	app.RunWhenOnBrowser()
}
