package main

import (
	"encoding/binary"
	"slices"
	"unicode/utf8"
)

// mostText is how much of a program may look like text. An encoder of brotli takes
// what is text for three quarters as UTF-8, and a program compresses worse by one
// part in a hundred if it is told to expect that; this stays clear of it.
const mostText = 0.73

// withZeros adds a section of zeros, which nobody reads and which compress to nothing,
// to a program that looks too much like text.
func withZeros(program []byte) []byte {
	zeros := int(float64(text(program))/mostText) - len(program)
	if zeros <= 0 {
		return program
	}
	name := []byte("\x05zeros")
	size := binary.AppendUvarint([]byte{customSection}, uint64(len(name)+zeros))
	return slices.Concat(program, size, name, make([]byte, zeros))
}

// text is how many bytes belong to characters in UTF-8, other than zeros.
func text(b []byte) int {
	n := 0
	for len(b) > 0 {
		r, size := utf8.DecodeRune(b)
		if r != 0 && (r != utf8.RuneError || size > 1) {
			n += size
		}
		b = b[size:]
	}
	return n
}
