//go:build slim

// Package rand is the random source of the browser. The standard library's goes
// to the same one, and brings a tested generator and AES with it.
package rand

import (
	"io"
	"syscall/js"
)

// Reader returns random bytes.
var Reader io.Reader = browser{}

type browser struct{}

// most is what the browser gives at once.
const most = 65536

func (browser) Read(b []byte) (int, error) {
	if len(b) > most {
		b = b[:most]
	}
	bytes := js.Global().Get("Uint8Array").New(len(b))
	js.Global().Get("crypto").Call("getRandomValues", bytes)
	return js.CopyBytesToGo(b, bytes), nil
}
