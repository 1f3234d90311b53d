//go:build js && wasm

// Command scan reads the code of a label from the frames of a camera, for
// browsers that cannot do so themselves. It is a program of its own, fetched
// when somebody first wants to scan there: most of it is tables of characters
// and arithmetic that no other part of the guide needs.
package main

import (
	"syscall/js"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
)

// static/later/scan.js waits for window.larderReads: a function that takes the
// pixels of a frame, four bytes each, with its width and height, and gives the
// text of the code, or "" when there is none.
func main() {
	reader := qrcode.NewQRCodeReader()
	var rgba []byte
	js.Global().Set("larderReads", js.FuncOf(func(_ js.Value, args []js.Value) any {
		pixels, width, height := args[0], args[1].Int(), args[2].Int()
		if n := width * height * 4; cap(rgba) < n {
			rgba = make([]byte, n)
		} else {
			rgba = rgba[:n]
		}
		js.CopyBytesToGo(rgba, pixels)
		return read(reader, grey(rgba), width, height)
	}))
	select {}
}

func read(reader gozxing.Reader, luminance []byte, width, height int) string {
	source := gozxing.NewPlanarYUVLuminanceSource
	s, err := source(luminance, width, height, 0, 0, width, height, false)
	if err != nil {
		return ""
	}
	bitmap, err := gozxing.NewBinaryBitmap(gozxing.NewHybridBinarizer(s))
	if err != nil {
		return ""
	}
	found, err := reader.Decode(bitmap, nil)
	if err != nil {
		return ""
	}
	return found.GetText()
}

func grey(rgba []byte) []byte {
	out := make([]byte, len(rgba)/4)
	for i := range out {
		p := rgba[4*i : 4*i+4]
		out[i] = byte((299*int(p[0]) + 587*int(p[1]) + 114*int(p[2])) / 1000)
	}
	return out
}
