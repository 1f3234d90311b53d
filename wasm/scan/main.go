//go:build js && wasm

// Command scan reads the code of a label from the frames of a camera, for
// browsers that cannot do so themselves. It is a program of its own, fetched
// when somebody first wants to scan there: most of it is tables of characters
// and arithmetic that no other part of the guide needs.
package main

import (
	"syscall/js"

	"larderlamp/wasm/scan/label"
)

// static/later/scan.js waits for window.larderReads: a function that takes the
// pixels of a frame, four bytes each, with its width and height, and returns the
// text of the code, or "" when there is none.
func main() {
	var rgba []byte
	js.Global().Set("larderReads", js.FuncOf(func(_ js.Value, args []js.Value) any {
		pixels, width, height := args[0], args[1].Int(), args[2].Int()
		if n := width * height * 4; cap(rgba) < n {
			rgba = make([]byte, n)
		} else {
			rgba = rgba[:n]
		}
		js.CopyBytesToGo(rgba, pixels)
		return label.Read(rgba, width, height)
	}))
	select {}
}
