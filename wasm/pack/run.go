package main

import (
	"encoding/binary"
	"fmt"
)

// A machine runs functions of ours when a program is built, to prove what they will do
// in the browser. It knows the instructions that they are made of.
type machine struct {
	memory    []byte
	calls     int // the number of the first function
	functions []running
}

// A running function is one with its instructions taken apart.
type running struct {
	arguments, variables int
	does                 []instruction
}

type instruction struct {
	op byte
	n  int // what follows it; of one that goes elsewhere, the number of the instruction there
}

func newMachine(memory []byte, calls int, functions []added) (*machine, error) {
	m := &machine{memory: memory, calls: calls}
	for _, f := range functions {
		does, variables, err := takeApart(f.body)
		if err != nil {
			return nil, err
		}
		m.functions = append(m.functions, running{f.arguments, variables, does})
	}
	return m, nil
}

// takeApart reads the body of a function.
func takeApart(body code) (does []instruction, variables int, err error) {
	type block struct {
		begin  int
		to     []int // the instructions that go to its end
		isLoop bool
	}
	var blocks []block
	r := &reader{b: body}
	if size := r.unsigned(); size != len(r.b) {
		return nil, 0, fmt.Errorf("a function of %d bytes says that it has %d", len(r.b), size)
	}
	r.take(1) // one group of variables of one type
	variables = r.unsigned()
	r.take(1)
	for len(r.b) > 0 {
		w := r.next()
		does = append(does, instruction{w.op, w.number})
		in := &does[len(does)-1]
		here := len(does) - 1
		switch in.op {
		case opBlock, opLoop, opIf:
			blocks = append(blocks, block{begin: here, isLoop: in.op == opLoop})
			if in.op == opIf {
				blocks[len(blocks)-1].to = []int{here}
			}
		case opElse:
			b := &blocks[len(blocks)-1]
			does[b.begin].n = here + 1
			b.to = []int{here}
		case opEnd:
			if len(blocks) > 0 {
				for _, from := range blocks[len(blocks)-1].to {
					does[from].n = here
				}
				blocks = blocks[:len(blocks)-1]
			}
		case opBr, opBrIf:
			b := &blocks[len(blocks)-1-w.number]
			if in.n = b.begin; !b.isLoop {
				b.to = append(b.to, here)
			}
		}
	}
	return does, variables, r.err
}

// run calls a function that has no arguments. What would be a fault in the browser is
// an error.
func (m *machine) run(function int) (err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("function %d: %v", function, fault)
		}
	}()
	m.call(function-m.calls, nil)
	return nil
}

// call runs a function, and returns the stack without its arguments and with its result.
func (m *machine) call(function int, stack []uint32) []uint32 {
	f := m.functions[function]
	locals := make([]uint32, f.arguments+f.variables)
	rest := len(stack) - f.arguments
	copy(locals, stack[rest:])
	stack = stack[:rest]
	pop := func() uint32 {
		v := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		return v
	}
	push := func(v uint32) { stack = append(stack, v) }
	for next := 0; next < len(f.does); next++ {
		in := f.does[next]
		switch in.op {
		case opBlock, opLoop, opEnd:
		case opIf:
			if pop() == 0 {
				next = in.n - 1
			}
		case opElse, opBr:
			next = in.n - 1
		case opBrIf:
			if pop() != 0 {
				next = in.n - 1
			}
		case opCall:
			stack = m.call(in.n-m.calls, stack)
		case opGet:
			push(locals[in.n])
		case opSet:
			locals[in.n] = pop()
		case opLoad:
			push(binary.LittleEndian.Uint32(m.memory[int(pop())+in.n:]))
		case opLoad8:
			push(uint32(m.memory[int(pop())+in.n]))
		case opStore:
			v := pop()
			binary.LittleEndian.PutUint32(m.memory[int(pop())+in.n:], v)
		case opStore8:
			v := pop()
			m.memory[int(pop())+in.n] = byte(v)
		case opConst:
			push(uint32(in.n))
		case opEqz:
			push(truth(pop() == 0))
		case opMemory:
			n, v, at := int(pop()), int(pop()), int(pop())
			if in.n == memoryCopy {
				copy(m.memory[at:at+n], m.memory[v:v+n])
				break
			}
			for i := range m.memory[at : at+n] {
				m.memory[at+i] = byte(v)
			}
		default:
			b, a := pop(), pop()
			push(calculate(in.op, a, b))
		}
	}
	return stack
}

func truth(is bool) uint32 {
	if is {
		return 1
	}
	return 0
}

// calculate works a value out of two.
func calculate(op byte, a, b uint32) uint32 {
	switch op {
	case opEq:
		return truth(a == b)
	case opLess:
		return truth(a < b)
	case opAdd:
		return a + b
	case opSub:
		return a - b
	case opMul:
		return a * b
	case opDivide:
		return a / b
	case opAnd:
		return a & b
	case opOr:
		return a | b
	case opXor:
		return a ^ b
	case opShl:
		return a << (b % 32)
	case opShr:
		return a >> (b % 32)
	}
	panic(fmt.Sprintf("the instruction %#x is not known", op))
}
