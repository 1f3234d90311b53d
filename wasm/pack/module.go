package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// A module is a WebAssembly program whose memory at the start is one image.
type module struct {
	sections []section // in their order; that of the data is written anew
	memory   []byte
}

// A section is a part of a program.
type section struct {
	kind byte
	body []byte
}

const (
	customSection   = 0
	typeSection     = 1
	importSection   = 2
	functionSection = 3
	memorySection   = 5
	startSection    = 8
	codeSection     = 10
	dataSection     = 11
	header          = "\x00asm\x01\x00\x00\x00"
	pageSize        = 64 << 10
)

var errShort = errors.New("the program ends in the middle of a number or a section")

// A reader takes numbers from the front of b.
type reader struct {
	b   []byte
	err error
}

// unsigned reads a LEB128 number of WebAssembly.
func (r *reader) unsigned() int {
	v, n := binary.Uvarint(r.b)
	if n <= 0 || v > 1<<32-1 {
		r.fail()
		return 0
	}
	r.b = r.b[n:]
	return int(v)
}

// signed reads a signed LEB128 number of 32 bits, which is not that of encoding/binary.
func (r *reader) signed() int { return r.signedOf(5) }

// long reads one of 64 bits.
func (r *reader) long() int { return r.signedOf(10) }

// signedOf reads a signed number of at most so many bytes.
func (r *reader) signedOf(bytes int) int {
	v, shift := 0, 0
	for range bytes {
		if len(r.b) == 0 {
			break
		}
		c := r.b[0]
		r.b = r.b[1:]
		v |= int(c&0x7f) << shift
		shift += 7
		if c < 0x80 {
			if c&0x40 != 0 && shift < 64 {
				v -= 1 << shift
			}
			return v
		}
	}
	r.fail()
	return 0
}

func (r *reader) take(n int) []byte {
	if n > len(r.b) {
		r.fail()
		return nil
	}
	b := r.b[:n]
	r.b = r.b[n:]
	return b
}

func (r *reader) fail() { r.refuse(errShort) }

func (r *reader) refuse(err error) {
	r.b = nil
	if r.err == nil {
		r.err = err
	}
}

// read takes a program apart.
func read(program []byte) (*module, error) {
	if !bytes.HasPrefix(program, []byte(header)) {
		return nil, errors.New("not a WebAssembly program of version 1")
	}
	m := &module{}
	r := &reader{b: program[len(header):]}
	for len(r.b) > 0 {
		s := section{kind: r.take(1)[0]}
		s.body = r.take(r.unsigned())
		if r.err != nil {
			return nil, r.err
		}
		if s.kind == dataSection {
			if m.memory != nil {
				return nil, errors.New("two data sections")
			}
			if err := m.readData(s.body); err != nil {
				return nil, err
			}
		}
		m.sections = append(m.sections, s)
	}
	if m.memory == nil {
		return nil, errors.New("no data section")
	}
	return m, nil
}

// mostMemory is more than any program of ours starts with.
const mostMemory = 64 << 20

func (m *module) readData(body []byte) error {
	m.memory = []byte{}
	r := &reader{b: body}
	for range r.unsigned() {
		if mode := r.take(1); r.err == nil && mode[0] != 0 {
			return fmt.Errorf("a piece of memory of kind %d: want 0, at a fixed place of the one memory", mode[0])
		}
		if op := r.take(1); r.err == nil && op[0] != 0x41 {
			return fmt.Errorf("a piece of memory whose place is worked out by the instruction %#x: want a constant", op[0])
		}
		at := r.signed()
		r.take(1) // the end of the constant
		piece := r.take(r.unsigned())
		if r.err != nil {
			return r.err
		}
		end := at + len(piece)
		if at < 0 || end > mostMemory {
			return fmt.Errorf("a piece of memory at %d to %d: want it between 0 and %d", at, end, mostMemory)
		}
		if end > len(m.memory) {
			m.memory = append(m.memory, make([]byte, end-len(m.memory))...)
		}
		copy(m.memory[at:end], piece)
	}
	if len(r.b) > 0 {
		return fmt.Errorf("%d bytes behind the last piece of memory", len(r.b))
	}
	return r.err
}

// image is a copy of the memory.
func (m *module) image() []byte { return slices.Clone(m.memory) }

// shortest is the shortest run of zeros that is left out of what is written.
const shortest = 64

// write puts the program together. Memory is zero where no piece lies.
func (m *module) write() []byte {
	var pieces []byte
	count := 0
	for at := 0; at < len(m.memory); {
		if m.memory[at] == 0 {
			at++
			continue
		}
		end, zeros := at+1, 0
		for i := end; i < len(m.memory) && zeros < shortest; i++ {
			if m.memory[i] == 0 {
				zeros++
			} else {
				zeros, end = 0, i+1
			}
		}
		pieces = append(pieces, 0, 0x41)
		pieces = appendSigned(pieces, at)
		pieces = append(pieces, 0x0b)
		pieces = binary.AppendUvarint(pieces, uint64(end-at))
		pieces = append(pieces, m.memory[at:end]...)
		count++
		at = end
	}
	data := append(binary.AppendUvarint(nil, uint64(count)), pieces...)
	program := []byte(header)
	for _, s := range m.sections {
		body := s.body
		if s.kind == dataSection {
			body = data
		}
		program = binary.AppendUvarint(append(program, s.kind), uint64(len(body)))
		program = append(program, body...)
	}
	return program
}

// find returns the section of a kind, or nil.
func (m *module) find(kind byte) *section {
	for i := range m.sections {
		if m.sections[i].kind == kind {
			return &m.sections[i]
		}
	}
	return nil
}

// counted returns how many things a section has, and the things.
func (m *module) counted(kind byte) (count int, things []byte, err error) {
	s := m.find(kind)
	if s == nil {
		return 0, nil, nil
	}
	r := &reader{b: s.body}
	count = r.unsigned()
	return count, r.b, r.err
}

// room is how much memory the program starts with.
func (m *module) room() (int, error) {
	count, things, err := m.counted(memorySection)
	if err != nil {
		return 0, err
	}
	if count != 1 {
		return 0, fmt.Errorf("%d memories: want one", count)
	}
	r := &reader{b: things}
	r.take(1) // whether there is a limit
	pages := r.unsigned()
	return pages * pageSize, r.err
}

// functions is how many functions the program has, with those that it imports.
func (m *module) functions() (int, error) {
	imports, things, err := m.counted(importSection)
	if err != nil {
		return 0, err
	}
	r := &reader{b: things}
	for range imports {
		r.take(r.unsigned()) // the module
		r.take(r.unsigned()) // and the name
		if kind := r.take(1); r.err == nil && kind[0] != 0 {
			return 0, fmt.Errorf("an import of kind %d: want only functions", kind[0])
		}
		r.unsigned() // its type
	}
	if r.err != nil {
		return 0, r.err
	}
	count, _, err := m.counted(functionSection)
	return imports + count, err
}

// add adds a thing behind the others of a section.
func (m *module) add(kind byte, thing []byte) error {
	count, things, err := m.counted(kind)
	if err != nil {
		return err
	}
	s := m.find(kind)
	if s == nil {
		return fmt.Errorf("no section of kind %d", kind)
	}
	s.body = slices.Concat(binary.AppendUvarint(nil, uint64(count+1)), things, thing)
	return nil
}

// addFunctions adds functions behind those of the program, so that none gets another
// number, and has one of them run before anything else.
func (m *module) addFunctions(functions []added, start int) error {
	for _, f := range functions {
		types, _, err := m.counted(typeSection)
		if err != nil {
			return err
		}
		if err := errors.Join(
			m.add(typeSection, functionType(f.arguments, f.results)),
			m.add(functionSection, binary.AppendUvarint(nil, uint64(types))),
			m.add(codeSection, f.body),
		); err != nil {
			return err
		}
	}
	at := slices.IndexFunc(m.sections, func(s section) bool { return s.kind > startSection })
	m.sections = slices.Insert(m.sections, at, section{startSection, binary.AppendUvarint(nil, uint64(start))})
	return nil
}

func appendSigned(b []byte, v int) []byte {
	for {
		c := byte(v & 0x7f)
		v >>= 7
		if v == 0 && c&0x40 == 0 || v == -1 && c&0x40 != 0 {
			return append(b, c)
		}
		b = append(b, c|0x80)
	}
}
