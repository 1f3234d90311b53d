//go:build e2e && linux

// Command inpage runs a WebAssembly program of Go in a page of an engine, for
// go test -exec "inpage firefox".
package main

import (
	"fmt"
	"os"

	"larderlamp/app/e2e/drive"
)

func main() {
	if len(os.Args) < 3 {
		fmt.Fprintln(os.Stderr, "usage: inpage engine program.wasm arguments")
		os.Exit(2)
	}
	code, err := drive.RunProgram(drive.Engine(os.Args[1]), os.Args[2], os.Args[3:], os.Stdout)
	if err != nil {
		fmt.Fprintln(os.Stderr, "inpage:", err)
		os.Exit(1)
	}
	os.Exit(code)
}
