//go:build slim

// Package log writes to the console of the browser. The standard library's brings
// its formats, its prefixes and its structured logs with it.
package log

import (
	"fmt"
	"os"
)

// Println writes a line, with spaces between the values.
func Println(values ...any) {
	fmt.Fprintln(os.Stderr, values...)
}
