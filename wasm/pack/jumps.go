package main

import (
	"encoding/binary"
	"fmt"
	"slices"
)

// Go's compiler turns every jump from one part of a function to another into three
// instructions: keep the number of the place to jump to, go back to the beginning of a
// loop around the whole function, and let a table there choose the part. WebAssembly has
// no way to jump back but a loop. Forward it has: a part further down begins where a block
// ends, and a branch out of that block leads there at once. Most jumps lead forward. As
// branches they are a third as long, and faster until the browser has optimized a
// function; and a browser that counts how often a function loops optimizes one that does,
// not every long one that runs once.
//
// What is kept of a place is read by the table alone, so that a branch need not keep it.

// placeVariable is where the number of the place is kept that is jumped to.
const placeVariable = 0

// A written is an instruction as it is written.
type written struct {
	op     byte
	number int   // the last of the numbers behind it, if it has any that fits
	table  []int // of br_table, the last one for all other values
	bytes  []byte
}

// next reads an instruction.
func (r *reader) next() (w written) {
	begin := r.b
	if op := r.take(1); r.err == nil {
		w.op = op[0]
	}
	switch op := w.op; {
	case op == opBlock || op == opLoop || op == opIf || op == opConst:
		w.number = r.signed()
	case op == opBr || op == opBrIf || op == opCall || opGet <= op && op <= opGlobalSet || op == opSizeMemory || op == opGrowMemory:
		w.number = r.unsigned()
	case op == opCallIndirect || opLoad <= op && op <= opLastMemory:
		r.unsigned()
		w.number = r.unsigned()
	case op == opBrTable:
		for range r.unsigned() + 1 {
			if w.table = append(w.table, r.unsigned()); r.err != nil {
				return w
			}
		}
	case op == opConst64:
		w.number = r.long()
	case op == opFloat32:
		r.take(4)
	case op == opFloat64:
		r.take(8)
	case op == opMemory:
		switch w.number = r.unsigned(); {
		case w.number == memoryCopy:
			r.take(2)
		case w.number == memoryFill:
			r.take(1)
		case w.number > lastRounding:
			r.refuse(fmt.Errorf("the instruction %#x %d is not one that Go's compiler writes", op, w.number))
		}
	case op <= opNothing || op == opElse || op == opEnd || op == opReturn || op == opDrop || op == opSelect || opEqz <= op && op <= opLastNumeric:
	default:
		r.refuse(fmt.Errorf("the instruction %#x is not one that Go's compiler writes", op))
	}
	w.bytes = begin[:len(begin)-len(r.b)]
	return w
}

// variables reads over those of a function, with which its body begins.
func (r *reader) variables() {
	for range r.unsigned() { // so many of one type
		r.unsigned()
		r.take(1)
	}
}

// parts is how a function of Go begins that jumps: after its variables come a block that it
// leaves when the stack is unwound, the loop, and a block for each part of its code.
type parts struct {
	count int
	table []int // the part that each place is in, and the last one for all others
}

// beginning reads it, up to where the first part begins, and returns where the loop is.
func (r *reader) beginning(body []byte) (p parts, loop int, is bool) {
	i := r.next()
	if i.op == opGlobalGet { // where the stack is goes into a variable
		r.next()
		i = r.next()
	}
	if i.op == opBlock && len(r.b) > 0 && r.b[0] == opLoop {
		i = r.next()
	}
	loop = len(body) - len(r.b) - len(i.bytes)
	if i.op != opLoop {
		return p, 0, false
	}
	for i = r.next(); i.op == opBlock; i = r.next() {
		p.count++
	}
	choice, end := r.next(), r.next()
	p.table = choice.table
	return p, loop, r.err == nil && p.count > 0 && i.op == opGet && i.number == placeVariable &&
		choice.op == opBrTable && end.op == opEnd && slices.Max(p.table) < p.count
}

// part is the one that a place is in.
func (p parts) part(place int) int {
	return p.table[min(uint(place), uint(len(p.table)-1))]
}

// direct returns the body of a function with branches for its jumps forward, and without
// the loop if none leads back; or the same body if it does not jump as Go's compiler has it.
func direct(body []byte) ([]byte, error) {
	r := &reader{b: body}
	r.variables()
	p, loop, is := r.beginning(body)
	if r.err != nil {
		return nil, r.err
	}
	if !is {
		return body, nil
	}
	begin := len(body) - len(r.b)
	code, loops, is := p.branches(r, true)
	if is && !loops {
		code, _, is = p.branches(&reader{b: body[begin:]}, false)
		body = slices.Delete(slices.Clone(body), loop, loop+2)
		begin -= 2
	}
	if r.err != nil || !is {
		return body, r.err
	}
	return append(slices.Clone(body[:begin]), code...), nil
}

// branches returns the code of all parts with branches forward, and whether some still lead
// back to the loop, which stays or is left out. It is not good if the code does something
// that Go's compiler does not.
func (p parts) branches(r *reader, loopStays bool) (out []byte, loops, good bool) {
	inner, at := 0, 0 // blocks within the part, and the number of the part
	var last [3]written
	only, to := -1, 0 // where the condition is whose whole body is the branch just written, and how many blocks that leaves
	for len(r.b) > 0 {
		i := r.next()
		alone := only
		only = -1
		toLoop := inner + p.count - 1 - at // how many blocks lie between here and the loop
		condition, place, set := last[0], last[1], last[2]
		last = [3]written{place, set, i}
		switch i.op {
		case opBlock, opLoop, opIf:
			inner++
		case opEnd:
			if alone >= 0 { // the condition itself branches
				inner--
				out = binary.AppendUvarint(append(out[:alone], opBrIf), uint64(to-1))
				continue
			}
			if inner > 0 {
				inner--
				break
			}
			at++
			if at == p.count && !loopStays { // it is the end of the loop
				continue
			}
		case opGet, opTee:
			// Only the table reads the place. A call uses its variable for something else,
			// but not without setting it first.
			if i.number == placeVariable && !(set.op == opConst && place.op == opSet && place.number == placeVariable) {
				return nil, false, false
			}
		case opBrTable:
			return nil, false, false
		case opBr, opBrIf:
			if i.number > toLoop && at < p.count && !loopStays {
				i.bytes = binary.AppendUvarint([]byte{i.op}, uint64(i.number-1))
			}
			if i.number != toLoop || at >= p.count {
				break
			}
			if i.op == opBr && place.op == opConst && set.op == opSet && set.number == placeVariable {
				if part := p.part(place.number); part > at {
					out = out[:len(out)-len(place.bytes)-len(set.bytes)]
					if condition.op == opIf && condition.number == emptyBlock {
						only = len(out) - len(condition.bytes)
					}
					to = inner + part - at - 1
					i.bytes = binary.AppendUvarint([]byte{opBr}, uint64(to))
					break
				}
			}
			loops = true
		}
		out = append(out, i.bytes...)
	}
	return out, loops, true
}

// shorten makes all jumps forward direct, and what is done with variables on the stack
// shorter.
func (m *module) shorten() error {
	count, bodies, err := m.counted(codeSection)
	if err != nil || count == 0 {
		return err
	}
	code := binary.AppendUvarint(nil, uint64(count))
	r := &reader{b: bodies}
	for i := range count {
		body := r.take(r.unsigned())
		if r.err != nil {
			return r.err
		}
		if body, err = direct(body); err == nil {
			body, err = slots(body)
		}
		if err != nil {
			return fmt.Errorf("the code of function %d: %w", i, err)
		}
		code = append(binary.AppendUvarint(code, uint64(len(body))), body...)
	}
	m.find(codeSection).body = code
	return nil
}
