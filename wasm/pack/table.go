package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"maps"
	"regexp"
	"slices"
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
	uninterrupted   = 0 // PCDATA_UnsafePoint
	inlinedAt       = 2 // PCDATA_InlTreeIndex
	argumentAlive   = 3 // PCDATA_ArgLiveIndex
	inlined         = 3 // FUNCDATA_InlTree
	arguments       = 5 // FUNCDATA_ArgInfo
	argumentsAlive  = 6 // FUNCDATA_ArgLiveInfo
	noData          = 1<<32 - 1
	entrySize       = 8  // an entry of the list of functions: the place of its code, and of what is said of it
	fixedSize       = 44 // what is said of each function, before what it may have
	moduleDataSize  = 336
	pcHeaderSize    = 72
	pcHeaderMagic   = "\xf1\xff\xff\xff\x00\x00\x01\x08"
	fieldName       = 4
	fieldArguments  = 8
	fieldDefer      = 12
	fieldStack      = 16
	fieldFile       = 20
	fieldLine       = 24
	fieldPlaceKinds = 28
	fieldUnit       = 32
	fieldStartLine  = 36
	fieldKind       = 40
	fieldDataKinds  = 43
	wrapper         = 23 // internal/abi.FuncIDWrapper, a kind of function
)

// A table is Go's table of functions within the memory of a program.
type table struct {
	memory []byte
	// Where its parts begin: the names of the functions, those of the units of
	// compilation and of the files, the lists of places, the functions, and the data
	// of functions with its end. The whole table ends at end.
	start, names, units, places, functions, data, dataEnd, end int
	count                                                      int // of functions
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
		}
		if header < names && names < units && units < files && files < places && places < functions &&
			functions < t.data && t.data < t.dataEnd && t.dataEnd < t.end && t.end <= len(memory) {
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
		if f.placeKinds > 8 || f.dataKinds > 8 || f.data(f.dataKinds) > t.data {
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

// dropLines leaves out what is only there to print files and lines. What stays
// keeps its place, but for the lists, which are rebuilt.
func (t *table) dropLines() error {
	lists := []byte{0} // at 0 is none
	moved := map[int]int{0: 0}
	kept, all := map[int]bool{}, map[int]bool{}
	for i := range t.count {
		f := t.function(i)
		for _, at := range []int{f.at + fieldFile, f.at + fieldLine, f.at + fieldUnit, f.at + fieldStartLine} {
			t.set(at, 0)
		}
		for kind := range f.placeKinds {
			if unused(kind) {
				t.set(f.place(kind), 0)
			}
		}
		for kind := range f.dataKinds {
			d := t.number(f.data(kind))
			if d == noData {
				continue
			}
			d += t.data
			all[d] = true
			if kind == inlined || kind == arguments || kind == argumentsAlive {
				t.set(f.data(kind), noData)
			} else {
				kept[d] = true
			}
		}
		for _, at := range f.lists() {
			from := t.number(at)
			if _, ok := moved[from]; !ok {
				list, err := t.list(from)
				if err != nil {
					return err
				}
				moved[from] = len(lists)
				lists = append(lists, list...)
			}
		}
	}
	for i := range t.count {
		for _, at := range t.function(i).lists() {
			t.set(at, moved[t.number(at)])
		}
	}
	clear(t.memory[t.places:t.functions])
	copy(t.memory[t.places:t.functions], lists)
	clear(t.memory[t.units:t.places])
	t.eachData(all, func(d, end int) {
		if !kept[d] {
			clear(t.memory[d:end])
		}
	})
	return nil
}

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

// eachData goes over the data of functions: each lasts until the next begins.
func (t *table) eachData(starts map[int]bool, do func(start, end int)) {
	in := slices.Sorted(maps.Keys(starts))
	for i, d := range in {
		end := t.dataEnd
		if i+1 < len(in) {
			end = in[i+1]
		}
		do(d, end)
	}
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
	ends := map[int]int{}
	all := map[int]bool{}
	for i := range b.count {
		f := b.function(i)
		for kind := range f.dataKinds {
			if d := b.number(f.data(kind)); d != noData {
				all[b.data+d] = true
			}
		}
	}
	b.eachData(all, func(d, end int) { ends[d] = end })
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
			d := b.number(f.data(kind))
			if kind == inlined || kind == arguments || kind == argumentsAlive || d == noData {
				continue
			}
			if at := b.data + d; a.number(f.data(kind)) != d || !bytes.Equal(before[at:ends[at]], after[at:ends[at]]) {
				return fmt.Errorf("function %d: its data of kind %d were changed", i, kind)
			}
		}
	}
	return nil
}
