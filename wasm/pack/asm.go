package main

import "encoding/binary"

// code is a run of WebAssembly instructions. What works a value out leaves it on
// the stack of the machine; all values are numbers of 32 bits.
type code []byte

// The instructions that are written or read, by their numbers in the binary format.
const (
	opNothing      = 0x01 // nop, behind unreachable
	opBlock        = 0x02
	opLoop         = 0x03
	opIf           = 0x04
	opElse         = 0x05
	opEnd          = 0x0b
	opBr           = 0x0c
	opBrIf         = 0x0d
	opBrTable      = 0x0e
	opReturn       = 0x0f
	opCall         = 0x10
	opCallIndirect = 0x11
	opDrop         = 0x1a
	opSelect       = 0x1b
	opGet          = 0x20 // local.get
	opSet          = 0x21 // local.set
	opTee          = 0x22 // local.tee
	opGlobalGet    = 0x23
	opGlobalSet    = 0x24
	opLoad         = 0x28 // i32.load, the first of those that read memory
	opLoad8        = 0x2d // i32.load8_u
	opLastLoad     = 0x35 // i64.load32_u
	opStore        = 0x36 // i32.store
	opStore8       = 0x3a // i32.store8
	opLastMemory   = 0x3e // i64.store32
	opSizeMemory   = 0x3f
	opGrowMemory   = 0x40
	opConst        = 0x41 // i32.const
	opConst64      = 0x42 // i64.const
	opFloat32      = 0x43 // f32.const
	opFloat64      = 0x44 // f64.const
	opEqz          = 0x45 // i32.eqz, the first of those that only work a value out
	opEq           = 0x46 // i32.eq
	opLess         = 0x49 // i32.lt_u
	opEqz64        = 0x50 // i64.eqz
	opAdd          = 0x6a // i32.add
	opSub          = 0x6b // i32.sub
	opMul          = 0x6c // i32.mul
	opDivide       = 0x6e // i32.div_u
	opAnd          = 0x71 // i32.and
	opOr           = 0x72 // i32.or
	opXor          = 0x73 // i32.xor
	opShl          = 0x74 // i32.shl
	opShr          = 0x76 // i32.shr_u
	opAdd64        = 0x7c // i64.add
	opWrap         = 0xa7 // i32.wrap_i64
	opExtend       = 0xad // i64.extend_i32_u
	opLastNumeric  = 0xc4 // i64.extend32_s
	opMemory       = 0xfc // the first byte of:
	lastRounding   = 7    // i64.trunc_sat_f64_u
	memoryCopy     = 10
	memoryFill     = 11
	noResult       = 0x40 // of a block, a loop or a branch
	emptyBlock     = -64  // the same, read as a signed number
	typeInt        = 0x7f // i32
	typeOfCode     = 0x60 // the type of a function follows
)

// A local is a variable of a function: first its arguments, then the others.
type local int

func join(parts ...code) code {
	var all code
	for _, p := range parts {
		all = append(all, p...)
	}
	return all
}

func withNumber(op byte, n int) code { return binary.AppendUvarint(code{op}, uint64(n)) }

// num is a constant.
func num(v int) code { return appendSigned(code{opConst}, int(int32(v))) }

func get(l local) code                { return withNumber(opGet, int(l)) }
func set(l local, v code) code        { return join(v, withNumber(opSet, int(l))) }
func do(a code, op byte, b code) code { return join(a, b, code{op}) }
func add(a, b code) code              { return do(a, opAdd, b) }
func not(a code) code                 { return append(a, opEqz) }

// move adds to a variable.
func move(l local, by code) code { return set(l, add(get(l), by)) }

// load and store read and write a number in memory at a place and an offset. The
// first byte behind the instruction says that the place may be any.
func load(at code, offset int) code {
	return join(at, code{opLoad, 0}, binary.AppendUvarint(nil, uint64(offset)))
}
func load8(at code, offset int) code {
	return join(at, code{opLoad8, 0}, binary.AppendUvarint(nil, uint64(offset)))
}
func store(at code, offset int, v code) code {
	return join(at, v, code{opStore, 0}, binary.AppendUvarint(nil, uint64(offset)))
}
func store8(at, v code) code { return join(at, v, code{opStore8, 0, 0}) }

// copyMemory and fillMemory are part of the bulk memory operations, which every
// program of Go makes use of (runtime/memmove_wasm.s).
func copyMemory(to, from, n code) code { return join(to, from, n, code{opMemory, memoryCopy, 0, 0}) }
func fillMemory(at, v, n code) code    { return join(at, v, n, code{opMemory, memoryFill, 0}) }

func call(f int, arguments ...code) code { return join(join(arguments...), withNumber(opCall, f)) }

// when runs the body if a value is not 0.
func when(v code, body ...code) code {
	return join(v, code{opIf, noResult}, join(body...), code{opEnd})
}

// either runs one of two bodies.
func either(v, then, otherwise code) code {
	return join(v, code{opIf, noResult}, then, code{opElse}, otherwise, code{opEnd})
}

// while runs the body as long as a value is not 0.
func while(v code, body ...code) code {
	return join(code{opBlock, noResult, opLoop, noResult}, // br 1 leaves, br 0 goes on
		not(v), code{opBrIf, 1},
		join(body...), code{opBr, 0},
		code{opEnd, opEnd})
}

// count runs the body for each value of a variable from 0 up to n.
func count(l local, n code, body ...code) code {
	return join(set(l, num(0)), while(do(get(l), opLess, n), join(body...), move(l, num(1))))
}

// functionBody is the body of a function with so many variables besides its arguments.
func functionBody(variables int, body ...code) code {
	c := binary.AppendUvarint(code{1}, uint64(variables)) // they are all of one type
	c = join(append(c, typeInt), join(body...), code{opEnd})
	return join(binary.AppendUvarint(nil, uint64(len(c))), c)
}

// functionType is the type of a function with so many arguments and results.
func functionType(arguments, results int) code {
	c := code{typeOfCode, byte(arguments)}
	for range arguments {
		c = append(c, typeInt)
	}
	c = append(c, byte(results))
	for range results {
		c = append(c, typeInt)
	}
	return c
}
