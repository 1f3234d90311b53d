package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// limits are numbers around those at which one is written with one more byte.
var limits = []int{0, 1, 127, 128, 16383, 16384, 2097151, 2097152, 268435455, 268435456, 1<<31 - 1, 1 << 31, 1<<32 - 1}

// words are numbers as they are in memory.
func words(numbers ...int) string {
	var b []byte
	for _, v := range numbers {
		b = binary.LittleEndian.AppendUint32(b, uint32(v))
	}
	return string(b)
}

// bitmaps are data of so many maps.
func bitmaps(count, bits int, fill func(i int) byte) string {
	b := []byte(words(count, bits))
	for i := range count * ((bits + 7) / 8) {
		b = append(b, fill(i))
	}
	return string(b)
}

// tableOf lays out in memory a table of functions with such rows and names, and variables
// behind it, in a module that has nothing else but pages of memory.
func tableOf(names []string, rows []row, variables string, pages int) (*module, *table) {
	const room = 1 << 17 // for each part
	t := &table{start: 4096, names: 8192, units: 8192 + room, count: len(rows)}
	t.places = t.units + 64
	t.functions = t.places + room
	t.data = t.functions + room
	t.dataEnd = t.data + room
	t.end = t.dataEnd + bucketSize*perCode*(len(rows)-1) + 5 // the last bucket is cut off
	t.variables = (t.end + 63) &^ 7
	t.variablesEnd = t.variables + len(variables) + 8
	t.memory = make([]byte, t.variables+len(variables))
	copy(t.memory[t.end:], "behind the table")
	copy(t.memory[t.variables:], variables)
	put := func(at *int, b string, aligned int) int {
		*at = (*at + aligned - 1) / aligned * aligned
		defer func() { *at += len(b) }()
		copy(t.memory[*at:], b)
		return *at
	}
	// Lists and data are laid out from the last row to the first, unlike what is
	// expanded, and none twice.
	name, list, data, known := t.names+1, t.places+1, t.data+40, map[string]int{"": 0}
	once := func(at *int, begin int, b string, aligned int) int {
		key := fmt.Sprint(begin, b)
		if b != "" && known[key] == 0 {
			known[key] = put(at, b, aligned) - begin
		}
		return known[key]
	}
	at := t.functions + entrySize*len(rows) + 8
	for i, r := range rows {
		t.set(t.functions+entrySize*i, 4096+i)
		t.set(t.functions+entrySize*i+4, at-t.functions)
		t.set(at, 4096+i)
		t.set(at+fieldArguments, r.arguments)
		t.set(at+fieldDefer, r.deferPlace)
		t.set(at+fieldKind, r.kind&0xffffff|r.dataKinds<<24)
		t.set(at+fieldPlaceKinds, r.placeKinds)
		at = (at + fixedSize + 4*(r.placeKinds+r.dataKinds) + 7) &^ 7
	}
	t.set(t.functions+entrySize*len(rows), 4096+len(rows))
	for i := range (t.end - t.dataEnd + bucketSize - 1) / bucketSize {
		t.set(t.dataEnd+bucketSize*i, i/perCode)
	}
	for i, r := range slices.Backward(rows) {
		f := t.function(i)
		t.set(f.at+fieldName, once(&name, t.names, names[i]+"\x00", 1))
		t.set(f.at+fieldStack, once(&list, t.places, r.stack, 1))
		if r.placeKinds > alive {
			t.set(f.place(alive), once(&list, t.places, r.alive, 1))
		}
		for kind := range r.dataKinds {
			t.set(f.data(kind), noData)
			if r.data[kind] != "" {
				t.set(f.data(kind), once(&data, t.data, r.data[kind], 8))
			}
		}
	}
	return &module{
		memory: t.memory,
		sections: []section{
			{typeSection, []byte{0}}, {functionSection, []byte{0}}, {memorySection, binary.AppendUvarint([]byte{1, 0}, uint64(pages))},
			{codeSection, []byte{0}}, {kind: dataSection},
		},
	}, t
}

// manyRows are rows of every mixture of what a function may have.
func manyRows(random *rand.Rand) (names []string, rows []row) {
	limit := func() int { return limits[random.IntN(len(limits))] }
	list := func() string {
		b := binary.AppendUvarint(nil, uint64(random.IntN(2)*limit()))
		for range random.IntN(4) {
			b = binary.AppendUvarint(binary.AppendUvarint(b, uint64(random.IntN(300))), uint64(1+limit()%(1<<29)))
		}
		return string(append(binary.AppendUvarint(b, uint64(1+random.IntN(200))), 0))
	}
	fill := func(int) byte { return byte(random.Uint32()) }
	for range 1 + random.IntN(60) {
		if len(rows) > 0 && random.IntN(3) == 0 { // one that was there before
			i := random.IntN(len(rows))
			rows, names = append(rows, rows[i]), append(names, names[random.IntN(len(rows))])
			continue
		}
		r := row{arguments: limit(), deferPlace: limit(), placeKinds: random.IntN(5), dataKinds: random.IntN(mostKinds + 1)}
		r.kind = limit()&0xffffff | r.dataKinds<<24
		of := 1 + limit()%(1<<30)
		if r.placeKinds > alive && random.IntN(4) > 0 {
			r.alive = list()
			of = length(r.alive)
		}
		if random.IntN(4) > 0 {
			r.stack = stackList(8*(limit()%(1<<27)), of)
		}
		for kind := range r.dataKinds {
			switch {
			case random.IntN(3) == 0:
			case kind < objects:
				r.data[kind] = bitmaps(random.IntN(12), random.IntN(70), fill)
			case kind == objects:
				r.data[kind] = words(0, 0)
				for range random.IntN(5) {
					r.data[kind] += words(limit(), limit(), random.IntN(2), limit())
				}
				r.data[kind] = words(len(r.data[kind])/objectSize, 0) + r.data[kind][8:]
			case kind == deferred:
				r.data[kind] = string(binary.AppendUvarint(binary.AppendUvarint(nil, uint64(limit())), uint64(limit())))
			case kind == wraps:
				r.data[kind] = words(limit())
			}
		}
		rows, names = append(rows, r), append(names, strings.Repeat("main.", random.IntN(2))+fmt.Sprint(random.IntN(20)))
	}
	return names, rows
}

// manyWords are variables of every mixture of numbers, strings, and what is neither.
func manyWords(random *rand.Rand) string {
	var b []byte
	for range random.IntN(300) {
		v := uint64(limits[random.IntN(len(limits))])
		switch random.IntN(5) {
		case 0:
			length := []int{1, 5, smallEnd - 1, smallEnd}[random.IntN(4)]
			at := []int{smallEnd, pointerEnd - 1, 50000 + length*random.IntN(100)}[random.IntN(3)]
			b = append(b, words(at, 0, length, 0)...)
			continue
		case 1:
			v = random.Uint64()
		case 2:
			v = []uint64{smallEnd - 1, smallEnd, pointerEnd - 1, pointerEnd}[random.IntN(4)]
		case 3:
			v = 0
		}
		b = binary.LittleEndian.AppendUint64(b, v)
	}
	for range random.IntN(8) { // the last word is cut off where the rest is 0
		b = append(b, 1)
	}
	return string(b)
}

// What a real engine expands is what was stored, for every mixture of numbers.
func TestExpanded(t *testing.T) {
	for seed := range uint64(150) {
		random := rand.New(rand.NewPCG(seed, 0))
		names, rows := manyRows(random)
		if seed == 0 {
			names, rows = []string{""}, []row{{}} // most columns are empty
		}
		m, want := tableOf(names, rows, manyWords(random), 20)
		before := slices.Clone(m.memory)
		got := *want
		after, err := m.compact(want)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		memory := started(t, m.write())
		if !bytes.Equal(memory[:len(after)], after) || slices.Max(memory[len(after):]) > 0 {
			t.Fatalf("seed %d: the engine has other memory than the machine", seed)
		}
		got.memory, want.memory = after, before
		for i := range rows {
			f, g := want.function(i), got.function(i)
			a, errWant := want.row(f)
			b, errGot := got.row(g)
			if errWant != nil || errGot != nil || a != b {
				t.Fatalf("seed %d: function %d of %d: got %#v, want %#v: %v %v", seed, i, len(rows), b, a, errGot, errWant)
			}
			if a != kept(rows[i]) {
				t.Fatalf("seed %d: function %d of %d: got %#v, want %#v", seed, i, len(rows), a, rows[i])
			}
			if got, want := got.name(g), want.stays(f); f != g || got != want {
				t.Fatalf("seed %d: function %d of %d: got the name %q at %v, want %q at %v", seed, i, len(rows), got, g, want, f)
			}
		}
		copy(after[want.names:want.end], before[want.names:want.end])
		if !bytes.Equal(before, after) {
			t.Fatalf("seed %d: memory outside the table was changed", seed)
		}
	}
}

// kept is what of a row is kept.
func kept(r row) row {
	for _, kind := range []int{inlined, arguments, argumentsAlive} {
		r.data[kind] = ""
	}
	return r
}

// A table that is not as the stream takes it to be is refused.
func TestNotCompact(t *testing.T) {
	plain := row{stack: stackList(16, 9), placeKinds: 5, dataKinds: 8, kind: 8 << 24}
	for want, change := range map[string]func(m *module, t *table){
		"its code is":                  func(m *module, t *table) { t.set(t.function(1).at, 7) },
		"bytes of memory behind":       func(m *module, t *table) { m.sections[2].body = []byte{1, 0, 8} },
		"2 memories":                   func(m *module, t *table) { m.sections[2].body[0] = 2 },
		"no section of kind 3":         func(m *module, t *table) { m.sections[1].kind = 0 },
		"want one frame":               func(m *module, t *table) { t.memory[t.places+t.number(t.function(1).at+fieldStack)] = 4 },
		"of whole words":               func(m *module, t *table) { t.memory[t.places+t.number(t.function(1).at+fieldStack)+2] = 12 },
		"places of the unknown kind 4": func(m *module, t *table) { t.set(t.function(1).place(4), t.number(t.function(0).at+fieldStack)) },
		"data of kind 0 at":            func(m *module, t *table) { t.set(t.function(1).data(0), t.dataEnd-t.data-4) },
		"which is not a multiple of 8": func(m *module, t *table) { t.set(t.function(1).data(2), 4) },
		"want only functions":          func(m *module, t *table) { m.sections[0] = section{importSection, []byte("\x01\x01a\x01b\x02\x00")} },
		"the list of places at 1 has no": func(m *module, t *table) {
			for i := t.places; i < t.functions; i++ {
				t.memory[i] = 0x80
			}
		},
	} {
		m, table := tableOf([]string{"main.a", "main.b"}, []row{plain, plain}, "", 20)
		change(m, table)
		if _, err := m.compact(table); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got the error %v, want one that says %q", err, want)
		}
	}
}
