package main

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
)

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
