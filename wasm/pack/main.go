// Command pack makes a compiled program smaller for the way to the phone,
// without changing what it does:
//
//	go run ./wasm/pack build/app.wasm
//
// The linker writes the memory that a program starts with as up to 100,000 small
// pieces, leaving out every short run of zeros. The numbers between the pieces
// cost more after compression than the zeros would, so that pack writes few and
// large pieces.
//
// Go's table of functions tells the runtime how to walk the stack and where the
// pointers are. A third of it only serves to print the file and line of a place
// in the code, and pack leaves that part out: a fault of the program is reported
// with the names of the functions of this program, but with ? for the file, and
// without the names of the functions of others. A function that stands in another
// one goes by the name of that. Build ./wasm/browser
// without pack to see the lines.
package main

import (
	"bytes"
	"fmt"
	"os"
	"runtime"
)

func main() {
	if len(os.Args) < 2 {
		fmt.Fprintln(os.Stderr, "usage: pack PROGRAM...")
		os.Exit(2)
	}
	for _, name := range os.Args[1:] {
		if err := packFile(name); err != nil {
			fmt.Fprintf(os.Stderr, "pack: %s: %v\n", name, err)
			os.Exit(1)
		}
	}
}

// packFile packs a program in place.
func packFile(name string) error {
	program, err := os.ReadFile(name)
	if err != nil {
		return err
	}
	small, err := pack(program)
	if err != nil {
		return err
	}
	if bytes.Equal(small, program) {
		return nil
	}
	return os.WriteFile(name, small, 0o755)
}

// pack returns the program with fewer pieces of memory, and without lines and the names of others.
func pack(program []byte) ([]byte, error) {
	m, err := read(program)
	if err != nil {
		return nil, err
	}
	if !knownLayout(runtime.Version()) {
		fmt.Fprintf(os.Stderr, "pack: the table of functions was read as %s lays it out; built with %s, the program keeps its line numbers and is larger\n", layout, runtime.Version())
		return m.write(), nil
	}
	before := m.image()
	t, err := findTable(m.memory)
	if err != nil {
		return nil, err
	}
	if err := t.dropLines(); err != nil {
		return nil, err
	}
	t.dropNames()
	if err := same(before, m.memory); err != nil {
		return nil, err
	}
	return m.write(), nil
}
