package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// unused reports whether nothing in the browser reads that kind of places.
func unused(kind int) bool {
	return kind == uninterrupted || kind == inlinedAt || kind == argumentAlive
}

// needed are the beginnings of the names that stay: of the functions of this
// program, for a report of a fault, and of those that the runtime knows by name
// (runtime/stkframe.go, proc.go).
var needed = []string{"runtime.", "reflect.", "internal/runtime/", "main.", "larderlamp/"}

// isNeeded reports whether the name of a function has to stay. A fault in a wrapper is
// described with its name (runtime/error.go).
func (t *table) isNeeded(f function) bool {
	name := t.name(f)
	return t.memory[f.at+fieldKind] == wrapper || slices.ContainsFunc(needed, func(begin string) bool { return strings.HasPrefix(name, begin) })
}

// inside matches what the name of a function within another function adds to the
// name of that one.
var inside = regexp.MustCompile(`(\.(func|gowrap|deferwrap)\d.*|-fm|-range\d.*)$`)

// stays is the name that a function keeps, or "". One that stands in another
// function of this program goes by the name of that.
func (t *table) stays(f function) string {
	name := t.name(f)
	switch {
	case !t.isNeeded(f):
		return ""
	case strings.HasPrefix(name, "larderlamp/"), strings.HasPrefix(name, "main."):
		return inside.ReplaceAllString(name, "")
	}
	return name
}

// name is the name of a function.
func (t *table) name(f function) string {
	at := t.number(f.at + fieldName)
	if at == 0 {
		return "" // it has none
	}
	b := t.memory[t.names+at : t.units]
	if end := bytes.IndexByte(b, 0); end >= 0 {
		b = b[:end]
	}
	return string(b)
}

// dropNames leaves out the names that are only there to print where in the code of
// others a fault came about. Those functions then have no name. The names that
// stay move together.
func (t *table) dropNames() {
	kept := []byte{0} // at 0 is none
	moved := map[string]int{}
	for i := range t.count {
		f := t.function(i)
		at := 0
		if name := t.stays(f); name != "" {
			if moved[name] == 0 {
				moved[name] = len(kept)
				kept = append(append(kept, name...), 0)
			}
			at = moved[name]
		}
		t.set(f.at+fieldName, at)
	}
	clear(t.memory[t.names:t.units])
	copy(t.memory[t.names:t.units], kept)
}

// same proves that the runtime finds in a memory all that it needs of the one
// before: outside the table everything, and of each function its code, name,
// arguments, stack, pointers, and what it defers.
func same(before, after []byte) error {
	b, err := findTable(before)
	if err != nil {
		return err
	}
	a, err := findTable(after)
	if err != nil {
		return fmt.Errorf("once packed: %w", err)
	}
	if b.start != a.start || b.end != a.end || b.count != a.count {
		return errors.New("the table was moved")
	}
	if !bytes.Equal(before[:b.start], after[:b.start]) || !bytes.Equal(before[b.end:], after[b.end:]) {
		return errors.New("memory outside the table of functions was changed")
	}
	if !bytes.Equal(before[b.start:b.names], after[b.start:b.names]) || !bytes.Equal(before[b.dataEnd:b.end], after[b.dataEnd:b.end]) {
		return errors.New("the way to find a function was changed")
	}
	rows := b.function(0).at
	if from := b.functions + entrySize*b.count; !bytes.Equal(before[from:rows], after[from:rows]) {
		return errors.New("the end of the list of functions was changed")
	}
	for i := range b.count {
		if !bytes.Equal(before[b.functions+entrySize*i:][:entrySize], after[a.functions+entrySize*i:][:entrySize]) {
			return fmt.Errorf("function %d was moved", i)
		}
		f, g := b.function(i), a.function(i)
		if f != g || !bytes.Equal(before[f.at:f.at+fieldName], after[f.at:f.at+fieldName]) ||
			!bytes.Equal(before[f.at+fieldArguments:f.at+fieldStack], after[f.at+fieldArguments:f.at+fieldStack]) ||
			!bytes.Equal(before[f.at+fieldKind:f.at+fixedSize], after[f.at+fieldKind:f.at+fixedSize]) {
			return fmt.Errorf("what is said of function %d was changed", i)
		}
		if got, want := a.name(g), b.stays(f); got != want {
			return fmt.Errorf("function %d: its name was changed from %q to %q, want %q", i, b.name(f), got, want)
		}
		for k, at := range f.lists() {
			if unused(k - 1) { // the first list is of the stack
				continue
			}
			want, err := b.list(b.number(at))
			if err != nil {
				return err
			}
			if got, err := a.list(a.number(at)); err != nil || !bytes.Equal(want, got) {
				return fmt.Errorf("function %d: list %d of its places was changed", i, k)
			}
		}
		for kind := range f.dataKinds {
			want, err := b.dataOf(f, kind)
			if err != nil {
				return err
			}
			if got, err := a.dataOf(g, kind); err != nil || !bytes.Equal(want, got) {
				return fmt.Errorf("function %d: its data of kind %d were changed", i, kind)
			}
		}
	}
	return nil
}

// dataOf returns the data of one kind of a function, or nil if it has none or nothing
// in the browser reads them.
func (t *table) dataOf(f function, kind int) ([]byte, error) {
	at := t.number(f.data(kind))
	if at == noData || kind == inlined || kind == arguments || kind == argumentsAlive {
		return nil, nil
	}
	b := t.memory[t.data+at : t.dataEnd]
	size, aligned := len(b)+1, 4
	switch {
	case kind == wraps:
		size = 4
	case kind == deferred:
		aligned = 1
		if _, n := binary.Uvarint(b); n > 0 {
			if _, m := binary.Uvarint(b[n:]); m > 0 {
				size = n + m
			}
		}
	case len(b) < 8:
	case kind == argumentPointers, kind == variablePointers:
		size = 8 + int(binary.LittleEndian.Uint32(b))*((int(binary.LittleEndian.Uint32(b[4:]))+7)/8)
	case kind == objects:
		size, aligned = 8+int(binary.LittleEndian.Uint64(b))*objectSize, 8
	default:
		return nil, fmt.Errorf("data of the unknown kind %d", kind)
	}
	if size < 0 || size > len(b) {
		return nil, fmt.Errorf("data of kind %d at %d end behind all data", kind, at)
	}
	if (t.data+at)%aligned != 0 {
		return nil, fmt.Errorf("data of kind %d at %d, which is not a multiple of %d", kind, at, aligned)
	}
	return b[:size], nil
}
