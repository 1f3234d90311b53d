package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"strings"
)

// layout is the version of Go whose runtime (runtime/symtab.go and
// runtime/runtime2.go) this file was written from. When moving to another version,
// check there whether anything has moved.
const layout = "go1.26"

func knownLayout(version string) bool {
	return version == layout || strings.HasPrefix(version, layout+".")
}

// What a function says of its places, by the numbers of internal/abi. Of the
// places inlined, and of the arguments that are alive, only a report of a fault
// makes use; of the places at which it must not be interrupted, only a signal,
// which there is none of in WebAssembly (runtime/preempt.go).
const (
	uninterrupted    = 0 // PCDATA_UnsafePoint
	alive            = 1 // PCDATA_StackMapIndex: which pointers are alive
	inlinedAt        = 2 // PCDATA_InlTreeIndex
	argumentAlive    = 3 // PCDATA_ArgLiveIndex
	argumentPointers = 0 // FUNCDATA_ArgsPointerMaps
	variablePointers = 1 // FUNCDATA_LocalsPointerMaps
	objects          = 2 // FUNCDATA_StackObjects
	inlined          = 3 // FUNCDATA_InlTree
	deferred         = 4 // FUNCDATA_OpenCodedDeferInfo
	arguments        = 5 // FUNCDATA_ArgInfo
	argumentsAlive   = 6 // FUNCDATA_ArgLiveInfo
	wraps            = 7 // FUNCDATA_WrapInfo
	mostKinds        = 8 // of data
	noData           = 1<<32 - 1
	objectSize       = 16 // an object on the stack: its place, its size, how much of it has pointers, and which
	entrySize        = 8  // an entry of the list of functions: the place of its code, and of what is said of it
	fixedSize        = 44 // what is said of each function, before what it may have
	moduleDataSize   = 336
	pcHeaderSize     = 72
	pcHeaderMagic    = "\xf1\xff\xff\xff\x00\x00\x01\x08"
	fieldName        = 4
	fieldArguments   = 8
	fieldDefer       = 12
	fieldStack       = 16
	fieldFile        = 20
	fieldLine        = 24
	fieldPlaceKinds  = 28
	fieldUnit        = 32
	fieldStartLine   = 36
	fieldKind        = 40
	fieldDataKinds   = 43
	wrapper          = 23 // internal/abi.FuncIDWrapper, a kind of function
)

// A table is Go's table of functions within the memory of a program.
type table struct {
	memory []byte
	// Where its parts begin: the names of the functions, those of the units of
	// compilation and of the files, the lists of places, the functions, and the data
	// of functions with its end. The whole table ends at end.
	start, names, units, places, functions, data, dataEnd, end int
	count                                                      int // of functions
	variables, variablesEnd                                    int // the variables of the program that have pointers
}

// findTable finds the table by the runtime's own description of the program.
func findTable(memory []byte) (*table, error) {
	var found *table
	for from := 0; ; {
		i := bytes.Index(memory[from:], []byte(pcHeaderMagic))
		if i < 0 {
			break
		}
		at := from + i
		from = at + 1
		if at%8 != 0 || at+pcHeaderSize > len(memory) {
			continue
		}
		if t := described(memory, at); t != nil {
			if found != nil {
				return nil, errors.New("two tables of functions")
			}
			found = t
		}
	}
	if found == nil {
		return nil, errors.New("no table of functions as " + layout + " lays it out")
	}
	return found, found.check()
}

// described returns the table whose header is at a place, if the runtime's
// description of the program (moduledata) refers to it.
func described(memory []byte, header int) *table {
	word := func(at int) int { return int(binary.LittleEndian.Uint64(memory[at:])) }
	names, units, files := header+word(header+32), header+word(header+40), header+word(header+48)
	places, functions, count := header+word(header+56), header+word(header+64), word(header+8)
	address := binary.LittleEndian.AppendUint64(nil, uint64(header))
	for from := 0; ; {
		i := bytes.Index(memory[from:], address)
		if i < 0 {
			return nil
		}
		at := from + i
		from = at + 1
		if at%8 != 0 || at+moduleDataSize > len(memory) {
			continue
		}
		if word(at+8) != names || word(at+32) != units || word(at+56) != files || word(at+80) != places ||
			word(at+104) != functions || word(at+128) != functions || word(at+136) != count+1 {
			continue
		}
		t := &table{
			memory: memory, start: header, names: names, units: units, places: places, functions: functions,
			data: word(at + 320), dataEnd: word(at + 152), end: word(at + 328), count: count,
			variables: word(at + 208), variablesEnd: word(at + 216),
		}
		if header < names && names < units && units < files && files < places && places < functions &&
			functions < t.data && t.data < t.dataEnd && t.dataEnd < t.end && t.end <= len(memory) &&
			t.end <= t.variables && t.variables <= t.variablesEnd && t.variables%8 == 0 && t.variablesEnd%8 == 0 {
			return t
		}
	}
}

func (t *table) number(at int) int { return int(binary.LittleEndian.Uint32(t.memory[at:])) }

func (t *table) set(at, v int) { binary.LittleEndian.PutUint32(t.memory[at:], uint32(v)) }

// A function is what the table says of one.
type function struct {
	at                    int
	placeKinds, dataKinds int
}

func (t *table) function(i int) function {
	at := t.functions + t.number(t.functions+entrySize*i+4)
	return function{at, t.number(at + fieldPlaceKinds), int(t.memory[at+fieldDataKinds])}
}

// place is where the list of one kind of places is named, and data where the
// data of one kind are.
func (f function) place(kind int) int { return f.at + fixedSize + 4*kind }
func (f function) data(kind int) int  { return f.at + fixedSize + 4*f.placeKinds + 4*kind }

// check verifies what has to be true of such a table.
func (t *table) check() error {
	last := -1
	for i := range t.count {
		entry := t.functions + entrySize*i
		if entry+entrySize > t.data {
			return fmt.Errorf("function %d of %d is behind the end of the table", i, t.count)
		}
		at := t.functions + t.number(entry+4)
		if at < entry+entrySize || at+fixedSize > t.data {
			return fmt.Errorf("function %d: what is said of it is at %d, outside the table", i, at)
		}
		f := t.function(i)
		if code := t.number(f.at); code != t.number(entry) || code <= last {
			return fmt.Errorf("function %d: its code is at %d, want it behind %d and at %d", i, code, last, t.number(entry))
		} else {
			last = code
		}
		if f.placeKinds > 8 || f.dataKinds > mostKinds || f.data(f.dataKinds) > t.data {
			return fmt.Errorf("function %d: %d kinds of places and %d kinds of data", i, f.placeKinds, f.dataKinds)
		}
		for kind := range f.dataKinds {
			if d := t.number(f.data(kind)); d != noData && t.data+d >= t.dataEnd {
				return fmt.Errorf("function %d: its data of kind %d are at %d, behind the end", i, kind, d)
			}
		}
		for _, list := range append(f.lists(), f.at+fieldFile, f.at+fieldLine) {
			if _, err := t.list(t.number(list)); err != nil {
				return fmt.Errorf("function %d: %w", i, err)
			}
		}
	}
	return nil
}

// lists are where the lists of places of a function are named, without those of
// its files and lines.
func (f function) lists() []int {
	lists := []int{f.at + fieldStack}
	for kind := range f.placeKinds {
		lists = append(lists, f.place(kind))
	}
	return lists
}

// list is a list of places: pairs of a step of the value and a step of the place,
// until a step of the value is 0 that is not the first.
func (t *table) list(at int) ([]byte, error) {
	if at == 0 {
		return nil, nil // there is none
	}
	if t.places+at >= t.functions {
		return nil, fmt.Errorf("a list of places at %d, behind the end", at)
	}
	b := t.memory[t.places+at : t.functions]
	for i, first := 0, true; ; first = false {
		value, n := binary.Uvarint(b[i:])
		if n <= 0 {
			break
		}
		i += n
		if value == 0 && !first {
			return b[:i], nil
		}
		if _, n = binary.Uvarint(b[i:]); n <= 0 {
			break
		}
		i += n
	}
	return nil, fmt.Errorf("the list of places at %d has no end", at)
}
