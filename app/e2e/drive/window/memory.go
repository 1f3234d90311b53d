//go:build e2e && linux

package main

import "unsafe"

// kept holds on to what C was given, for as long as the window lives.
var kept []any

// text returns a text of C.
func text(s string) uintptr {
	b := append([]byte(s), 0)
	kept = append(kept, b)
	return uintptr(unsafe.Pointer(&b[0]))
}

// pointer returns the address of a list of C.
func pointer[T any](v *T) uintptr {
	kept = append(kept, v)
	return uintptr(unsafe.Pointer(v))
}
