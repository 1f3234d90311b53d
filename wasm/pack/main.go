// Command pack makes a compiled program smaller for the way to the phone,
// without changing what it does:
//
//	go run ./wasm/pack build/linked/app.wasm build/app.wasm
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
// one goes by the name of that. Build ./wasm/browser without pack to see the lines.
//
// What stays is several times smaller column by column (compact.go), as are the
// variables that have pointers (words.go). Both are stored behind the memory that
// the program starts with. Functions that pack adds to the program (expand.go) write
// them where they were, when the program is instantiated and before any function of
// Go runs. They are run when the program is packed, and it is refused if the runtime
// would not find all that it needs.
//
// Jumps forward become branches (jumps.go), and what is done with variables on the stack
// shorter (slots.go): the program is smaller and runs sooner.
//
// Last come zeros, if brotli would take the program for text without them (zeros.go).
package main

import (
	"errors"
	"fmt"
	"os"
	"runtime"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: pack PROGRAM PACKED")
		os.Exit(2)
	}
	if err := packFile(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintf(os.Stderr, "pack: %s: %v\n", os.Args[1], err)
		os.Exit(1)
	}
}

// packFile writes a program packed into another file.
func packFile(from, to string) error {
	program, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	packed, err := pack(program)
	if err != nil {
		return err
	}
	return os.WriteFile(to, packed, 0o755)
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
	if m.find(startSection) != nil {
		return nil, errors.New("it has a start section, as a program has that is packed: want it as Go's linker writes it")
	}
	if err := m.shorten(); err != nil {
		return nil, err
	}
	before := m.image()
	t, err := findTable(m.memory)
	if err != nil {
		return nil, err
	}
	after, err := m.compact(t)
	if err != nil {
		return nil, err
	}
	if err := same(before, after); err != nil {
		return nil, err
	}
	return withZeros(m.write()), nil
}
