package main

import (
	"encoding/binary"
	"slices"
)

// Go's compiler works out where a variable on the stack is with 64 bits: it makes the 32
// bits of the stack pointer 64, adds a number, and cuts the sum down to 32 bits again. The
// same can be said with 32 bits, and if the variable is read or written right there, the
// number can be added by the instruction that does so. That one refuses a sum of more than
// 32 bits where the other begins again at 0, but the stack lies in memory, and so does all
// that its pointer leads to.

const (
	stackPointer = 0 // the global variable
	mostOffset   = 1 << 30
)

// slots returns the body of a function with shorter instructions for its variables on the
// stack.
func slots(body []byte) ([]byte, error) {
	r := &reader{b: body}
	r.variables()
	out := slices.Clone(body[:len(body)-len(r.b)])
	code := tail{local: -1}
	for len(r.b) > 0 {
		code.add(r.next())
	}
	for _, w := range code.all {
		out = append(out, w.bytes...)
	}
	return out, r.err
}

// A tail is the code of a function, which is made shorter at its end as it comes.
type tail struct {
	all   []written
	local int // the variable that the stack pointer is kept in, or -1
}

// last returns the nth instruction from the end, which is the first.
func (t *tail) last(n int) written {
	if n > len(t.all) {
		return written{}
	}
	return t.all[len(t.all)-n]
}

// replace puts instructions in the place of the last n ones.
func (t *tail) replace(n int, with ...written) {
	t.all = append(t.all[:len(t.all)-n], with...)
}

// isStack reports whether an instruction gives the stack pointer.
func (t *tail) isStack(w written) bool {
	return w.op == opGlobalGet && w.number == stackPointer || w.op == opGet && w.number == t.local
}

// isPlain reports whether an instruction gives a value and does nothing else.
func isPlain(w written) bool {
	return w.op == opGet || w.op == opGlobalGet || w.op == opConst || w.op == opConst64 || w.op == opFloat32 || w.op == opFloat64
}

func isLoad(w written) bool { return opLoad <= w.op && w.op <= opLastLoad }

func (t *tail) add(w written) {
	t.all = append(t.all, w)
	switch op := w.op; {
	case op == opSet && len(t.all) == 2 && t.isStack(t.last(2)):
		t.local = w.number
	case op == opWrap && t.last(2).op == opConst64:
		t.replace(2, constant(t.last(2).number))
	case op == opWrap && t.last(2).op == opAdd64 && t.last(3).op == opConst64 && t.last(4).op == opExtend:
		t.replace(4, constant(t.last(3).number), written{op: opAdd, bytes: []byte{opAdd}})
	case op == opEqz64 && t.last(2).op == opExtend:
		t.replace(2, written{op: opEqz, bytes: []byte{opEqz}})
	case isLoad(w) && t.isSlot(2, w):
		t.replace(3, w.further(t.last(3).number))
	case opLastLoad < op && op <= opLastMemory && isPlain(t.last(2)) && t.isSlot(3, w):
		t.replace(4, t.last(2), w.further(t.last(4).number))
	case opLastLoad < op && op <= opLastMemory && isLoad(t.last(2)) && isPlain(t.last(3)) && t.isSlot(4, w):
		t.replace(5, t.last(3), t.last(2), w.further(t.last(5).number))
	}
}

// isSlot reports whether the nth instruction from the end adds a number to the stack
// pointer that an instruction can add itself.
func (t *tail) isSlot(n int, w written) bool {
	number := t.last(n + 1)
	return t.last(n).op == opAdd && number.op == opConst && t.isStack(t.last(n+2)) &&
		number.number >= 0 && number.number+w.number < mostOffset
}

// further is an instruction that reads or writes memory, further on.
func (w written) further(by int) written {
	w.number += by
	w.bytes = binary.AppendUvarint(slices.Clone(w.bytes[:2]), uint64(w.number)) // its alignment is one byte
	return w
}

// constant is the instruction that gives the lower 32 bits of a number.
func constant(v int) written {
	return written{op: opConst, number: int(int32(v)), bytes: num(v)}
}
