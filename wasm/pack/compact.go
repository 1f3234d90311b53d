package main

import (
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// A column holds numbers of the same sort, because those compress well next to each
// other. They are written as encoding/binary writes unsigned ones, or signed ones
// where they may be negative.
//
// A column of references names things that come again and again: 0 is a new one, of
// which other columns say what it is, and n is the nth one. A column of words is one
// of references whose new words are in the column behind it.
type column int

const (
	// Of each function:
	rows  column = iota // references to rows: what is said of a function but its code and name
	names               // 0 is the next name, 1 none, 2 the newest one, 3 the one before
	// Of each new row:
	argumentSizes // words
	newArgumentSizes
	deferPlaces // words
	newDeferPlaces
	functionKinds // words: what kind of function, and how many kinds of data
	newFunctionKinds
	placeKinds   // how many
	aliveLists   // references to lists of which pointers are alive; 1 is none
	frames       // 0 is no list of the stack, 1 one without a frame, 2 one with a frame of 8 bytes
	frameLengths // how many places the list of the stack is for, if no other list says it
	// Of each new list of which pointers are alive:
	aliveValues // the steps of the value, with the 0 at the end
	alivePlaces // the steps of the place
	// Of new data of the pointers among arguments and among variables:
	argumentMaps   // how many maps, signed
	argumentWidths // how many bits a map has
	argumentBytes  // the first bytes of all maps, then the second ones
	variableMaps   // how many maps more than of the arguments, signed
	variableWidths
	variableBytes
	// Of new data of objects on the stack:
	objectCounts
	objectPlaces // of each object: how far it is behind the end of the one before, signed
	objectTypes  // references to the other words of an object
	objectSizes
	objectPointers
	objectMasks
	// Of other new data:
	deferBits
	deferSlots
	wrapped // words
	newWrapped
	// Of the variables of the program (words.go):
	wordKinds
	smallWords
	pointerWords
	otherWords
	// Of each new row: references to the data of each kind; 1 is none.
	dataOf
	// Has no numbers of its own: what is already expanded is read as one.
	expanded = dataOf + mostKinds
	columns  = expanded + 1
)

// A row is what the table says of a function but its code and name, without what is
// only there to print files and lines.
type row struct {
	arguments, deferPlace, kind, placeKinds int
	stack, alive                            string            // lists
	data                                    [mostKinds]string // "" is none
	dataKinds                               int
}

func (t *table) row(f function) (row, error) {
	r := row{
		arguments:  t.number(f.at + fieldArguments),
		deferPlace: t.number(f.at + fieldDefer),
		kind:       t.number(f.at + fieldKind),
		placeKinds: f.placeKinds,
		dataKinds:  f.dataKinds,
	}
	stack, err := t.list(t.number(f.at + fieldStack))
	if err != nil {
		return r, err
	}
	r.stack = string(stack)
	for kind := range f.placeKinds {
		list, err := t.list(t.number(f.place(kind)))
		if err != nil {
			return r, err
		}
		switch {
		case kind == alive:
			r.alive = string(list)
		case !unused(kind) && len(list) > 0:
			return r, fmt.Errorf("places of the unknown kind %d", kind)
		}
	}
	for kind := range f.dataKinds {
		data, err := t.dataOf(f, kind)
		if err != nil {
			return r, err
		}
		r.data[kind] = string(data)
	}
	return r, nil
}

// A stream is a table column by column.
type stream struct {
	columns [columns][]byte
	known   [columns]map[string]int // the numbers of the things that a column refers to
}

func (s *stream) add(c column, v int) {
	s.columns[c] = binary.AppendUvarint(s.columns[c], uint64(uint32(v)))
}

func (s *stream) addSigned(c column, v int) { s.add(c, zigzag(v)) }

// zigzag makes a number that may be negative one that is not, in 32 bits.
func zigzag(v int) int {
	n := int32(v)
	return int(uint32(n<<1 ^ n>>31))
}

// number returns the number of a thing, which is 0 if it is new.
func (s *stream) number(c column, thing string) int {
	n := s.known[c][thing]
	if n == 0 {
		if s.known[c] == nil {
			s.known[c] = map[string]int{}
		}
		s.known[c][thing] = len(s.known[c]) + 1
	}
	return n
}

// refer writes a reference, and reports whether it is to a new thing.
func (s *stream) refer(c column, thing string) bool {
	n := s.number(c, thing)
	s.add(c, n)
	return n == 0
}

func (s *stream) word(c column, v int) {
	if s.refer(c, fmt.Sprint(v)) {
		s.add(c+1, v)
	}
}

// withNone are the columns of references in which 1 is none.
func withNone(c column) bool { return c == names || c == aliveLists || c >= dataOf && c < expanded }

// stream writes the table column by column. Its names have to be in the order of
// their first use.
func (t *table) stream() (*stream, error) {
	s := &stream{}
	for c := range columns {
		if withNone(c) {
			s.number(c, "")
		}
	}
	first := t.number(t.functions)
	for i := range t.count {
		f := t.function(i)
		if code := t.number(f.at); code != first+i {
			return nil, fmt.Errorf("function %d: its code is %d, want %d", i, code, first+i)
		}
		r, err := t.row(f)
		if err != nil {
			return nil, fmt.Errorf("function %d: %w", i, err)
		}
		s.name(t.name(f))
		if s.refer(rows, fmt.Sprintf("%#v", r)) {
			if err := s.row(r); err != nil {
				return nil, fmt.Errorf("function %d: %w", i, err)
			}
		}
	}
	return s, nil
}

func (s *stream) name(name string) {
	n := s.number(names, name)
	if n > 1 {
		n = len(s.known[names]) + 2 - n
	}
	s.add(names, n)
}

func (s *stream) row(r row) error {
	s.word(argumentSizes, r.arguments)
	s.word(deferPlaces, r.deferPlace)
	s.word(functionKinds, r.kind)
	s.add(placeKinds, r.placeKinds)
	if r.placeKinds > alive && s.refer(aliveLists, r.alive) {
		for i, v := range steps(r.alive) {
			s.add(aliveValues+column(i%2), v)
		}
	}
	if err := s.stack(r); err != nil {
		return err
	}
	for kind, data := range r.data[:r.dataKinds] {
		if s.refer(dataOf+column(kind), data) {
			s.data(kind, data, r.data[argumentPointers])
		}
	}
	return nil
}

// steps are the numbers of a list: steps of the value, each but the last with a step
// of the place behind it.
func steps(list string) []int {
	var all []int
	for b := []byte(list); len(b) > 0; {
		v, n := binary.Uvarint(b)
		all = append(all, int(v))
		b = b[n:]
	}
	return all
}

// length is how many places a list is for.
func length(list string) int {
	all := 0
	for i, v := range steps(list) {
		all += v * (i % 2)
	}
	return all
}

// stackList is the list of a function that is as many places long, and at whose
// second place a frame is put on the stack. It begins below 0, and its steps of the
// value are written as signed numbers.
func stackList(frame, length int) string {
	list := []byte{2}
	if frame > 0 {
		list = binary.AppendUvarint(append(list, 1), uint64(2*frame))
		length--
	}
	return string(append(binary.AppendUvarint(list, uint64(length)), 0))
}

// stack writes the list of the stack.
func (s *stream) stack(r row) error {
	if r.stack == "" {
		s.add(frames, 0)
		return nil
	}
	frame, of := 0, length(r.stack)
	if all := steps(r.stack); len(all) > 3 {
		frame = all[2] / 2
	}
	if r.stack != stackList(frame, of) || frame%8 != 0 || r.alive != "" && length(r.alive) != of {
		return fmt.Errorf("the list %v of its stack: want one frame, of whole words, from its second place on, and as many places as %v has", steps(r.stack), steps(r.alive))
	}
	s.add(frames, 1+frame/8)
	if r.alive == "" {
		s.add(frameLengths, of)
	}
	return nil
}

// data writes data of one kind of a function with such data of its arguments.
func (s *stream) data(kind int, data, arguments string) {
	b := []byte(data)
	number := func(at int) int { return int(binary.LittleEndian.Uint32(b[at:])) }
	switch kind {
	case argumentPointers, variablePointers:
		first := argumentMaps + column(kind)*(variableMaps-argumentMaps)
		like := 0
		if kind == variablePointers && arguments != "" {
			like = int(binary.LittleEndian.Uint32([]byte(arguments)))
		}
		s.addSigned(first, number(0)-like)
		s.add(first+1, number(4))
		for wide, j := (number(4)+7)/8, 0; j < wide; j++ {
			for at := 8 + j; at < len(b); at += wide {
				s.columns[first+2] = append(s.columns[first+2], b[at])
			}
		}
	case objects:
		s.add(objectCounts, number(0))
		end := 0
		for at := 8; at < len(b); at += objectSize {
			place := int(int32(number(at)))
			s.addSigned(objectPlaces, place-end)
			if s.refer(objectTypes, string(b[at+4:at+objectSize])) {
				s.add(objectSizes, number(at+4))
				s.add(objectPointers, number(at+8))
				s.add(objectMasks, number(at+12))
			}
			end = place + number(at+4)
		}
	case deferred:
		bits, n := binary.Uvarint(b)
		slots, _ := binary.Uvarint(b[n:])
		s.add(deferBits, int(bits))
		s.add(deferSlots, int(slots))
	case wraps:
		s.word(wrapped, number(0))
	}
}

// Of each column there is a cell: where its next number is; and if it has references,
// 4 bytes in front of where the first thing is, and where the next new one comes. All
// things are numbers.
const (
	cellSize   = 12
	cellThings = 4
	cellNew    = 8
)

// stored returns the stream as it lies in memory at a place, and how much memory it
// needs with the things to come.
func (s *stream) stored(at int) (b []byte, size int) {
	b = make([]byte, cellSize*int(columns))
	set := func(c column, field, v int) {
		binary.LittleEndian.PutUint32(b[cellSize*int(c)+field:], uint32(v))
	}
	for c := range columns {
		set(c, 0, at+len(b))
		b = append(b, s.columns[c]...)
		if c == otherWords { // they are in the order of memory, but taken from the end
			set(c, 0, at+len(b))
		}
	}
	size = (len(b) + 3) &^ 3
	for c := range columns {
		if s.known[c] == nil {
			continue
		}
		set(c, cellThings, at+size-4)
		first := 0
		if withNone(c) && c != names {
			first = 4 // memory is 0 there, as none is
		}
		set(c, cellNew, at+size+first)
		size += 4 * len(s.known[c])
	}
	return b, size
}

// compact writes the table of functions as a stream behind all memory that the program
// starts with, where it takes everything for 0, and adds to the program what expands it.
// It returns the memory that the program then starts with.
func (m *module) compact(t *table) ([]byte, error) {
	t.dropNames()
	s, err := t.stream()
	if err != nil {
		return nil, err
	}
	x := expansion{
		names: t.names, places: t.places, functions: t.functions, data: t.data, find: t.dataEnd, end: t.end,
		row: t.function(0).at, count: t.count, code: t.number(t.functions),
		at: (len(m.memory)+7)&^7 + wordSize, // the word in front is looked at as the one behind the last
	}
	// The last ones may be 0, and are then not in memory.
	x.words, x.wordsEnd = t.variables, max(t.variables, min(t.variablesEnd, len(t.memory)&^(wordSize-1)))
	s.words(t.memory, x.words, x.wordsEnd)
	stored, size := s.stored(x.at)
	x.last, x.size = x.at+size, size+4*smallEnd
	room, err := m.room()
	if err != nil {
		return nil, err
	}
	if x.at+x.size > room {
		return nil, fmt.Errorf("%d bytes of memory behind the %d that the program starts with: want %d", room-x.at, x.at, x.size)
	}
	if x.calls, err = m.functions(); err != nil {
		return nil, err
	}
	clear(t.memory[t.units:t.end])
	clear(t.memory[x.words:x.wordsEnd])
	size = len(m.memory)
	m.memory = slices.Concat(m.memory, make([]byte, x.at-len(m.memory)), stored)
	instructions := x.instructions()
	if err := m.addFunctions(instructions, x.calls+callExpand); err != nil {
		return nil, err
	}
	expanded := make([]byte, x.at+x.size)
	copy(expanded, m.memory)
	runs, err := newMachine(expanded, x.calls, instructions)
	if err != nil {
		return nil, err
	}
	if err := runs.run(x.calls + callExpand); err != nil {
		return nil, err
	}
	if slices.Max(expanded[size:]) > 0 {
		return nil, errors.New("the memory of the stream is not cleared")
	}
	return expanded[:size], nil
}
