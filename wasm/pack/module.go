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
	before, after []byte // everything in front of and behind the data section
	memory        []byte
}

const (
	customSection = 0
	dataSection   = 11
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

// signed reads a signed LEB128 number, which is not that of encoding/binary.
func (r *reader) signed() int {
	v, shift := 0, 0
	for shift < 35 && len(r.b) > 0 {
		c := r.b[0]
		r.b = r.b[1:]
		v |= int(c&0x7f) << shift
		shift += 7
		if c < 0x80 {
			if c&0x40 != 0 {
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

func (r *reader) fail() {
	r.b = nil
	if r.err == nil {
		r.err = errShort
	}
}

// read takes a program apart.
func read(program []byte) (*module, error) {
	if !bytes.HasPrefix(program, []byte("\x00asm\x01\x00\x00\x00")) {
		return nil, errors.New("not a WebAssembly program of version 1")
	}
	m := &module{before: slices.Clone(program[:8])}
	r := &reader{b: program[8:]}
	for len(r.b) > 0 {
		start := r.b
		kind := r.take(1)[0]
		body := r.take(r.unsigned())
		if r.err != nil {
			return nil, r.err
		}
		whole := start[:len(start)-len(r.b)]
		switch {
		case kind == dataSection && m.memory != nil:
			return nil, errors.New("two data sections")
		case kind == dataSection:
			if err := m.readData(body); err != nil {
				return nil, err
			}
		case m.memory == nil:
			m.before = append(m.before, whole...)
		default:
			m.after = append(m.after, whole...)
		}
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
	body := append(binary.AppendUvarint(nil, uint64(count)), pieces...)
	program := append(slices.Clone(m.before), dataSection)
	program = binary.AppendUvarint(program, uint64(len(body)))
	program = append(program, body...)
	return append(program, m.after...)
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
