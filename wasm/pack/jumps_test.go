package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/tetratelabs/wazero"
)

// jumping is the body of a function that jumps about as Go's compiler has it, as often as
// the number in memory at 4 says. It mixes the parts that it comes through into the number
// at 0, and leaves the outermost block by way of the number at 8.
func jumping(rng *rand.Rand) code {
	count := 1 + rng.IntN(9)
	var table code
	places := make([]int, 0, 3*count) // the part that each place is in
	for part := range count {
		for range 1 + rng.IntN(3) {
			places = append(places, part)
			table = binary.AppendUvarint(table, uint64(part))
		}
	}
	all := append(code{1, 1, typeInt}, opGlobalGet, 0, opSet, 1)
	if rng.IntN(2) > 0 {
		all = all[:3]
	}
	all = append(all, opBlock, noResult, opLoop, noResult)
	for range count {
		all = append(all, opBlock, noResult)
	}
	all = join(append(all, opGet, 0, opBrTable), binary.AppendUvarint(nil, uint64(len(places))), table,
		binary.AppendUvarint(nil, uint64(rng.IntN(count))), code{opEnd})
	for part := range count {
		depth := count - 1 - part // how many blocks lie between here and the loop
		jump := func(depth int) code {
			place := rng.IntN(len(places) + 1)
			return join(set(0, num(place)), withNumber(opBr, depth))
		}
		mix := func() code {
			return join(store(num(0), 0, add(do(load(num(0), 0), opMul, num(31)), num(rng.IntN(1000)))),
				store(num(0), 4, do(load(num(0), 4), opSub, num(1))),
				not(load(num(0), 4)), withNumber(opBrIf, depth+1)) // enough: over the loop
		}
		all = append(all, mix()...)
		for range rng.IntN(4) {
			if bit := do(do(load(num(0), 0), opShr, num(rng.IntN(20))), opAnd, num(1)); rng.IntN(2) > 0 {
				all = join(all, when(bit, jump(depth+1)))
			} else {
				all = join(all, when(bit, code{opBlock, noResult}, mixDeep(rng), when(not(load(num(0), 0)), jump(depth+3)), jump(depth+2), code{opEnd}))
			}
		}
		if rng.IntN(2) > 0 {
			all = join(all, jump(depth))
		} else if depth == 0 {
			all = join(all, withNumber(opBr, 1)) // leave
		}
		all = append(all, opEnd) // of the block of the next part, and in the end of the loop
	}
	const unreachable = 0
	return join(all, code{unreachable, opEnd}, store(num(0), 8, num(1)), num(1), code{opEnd})
}

func mixDeep(rng *rand.Rand) code {
	return store(num(0), 0, do(load(num(0), 0), opXor, num(rng.IntN(1<<20))))
}

// runs puts the body into a program of its own, calls it at a place, and returns what it
// has left in memory.
func runs(t *testing.T, body code, place uint64) []byte {
	t.Helper()
	section := func(kind byte, parts ...code) code {
		b := join(parts...)
		return join(code{kind}, binary.AppendUvarint(nil, uint64(len(b))), b)
	}
	program := join(code(header),
		section(typeSection, code{1}, functionType(1, 1)),
		section(functionSection, code{1, 0}),
		section(memorySection, code{1, 0, 1}),
		section(6, code{1, typeInt, 0}, num(700), code{opEnd}), // a global
		section(7, code{2, 1, 'f', 0, 0, 1, 'm', 2, 0}),        // what it shows
		section(codeSection, code{1}, binary.AppendUvarint(nil, uint64(len(body))), body))
	ctx := context.Background()
	r := wazero.NewRuntimeWithConfig(ctx, wazero.NewRuntimeConfigInterpreter())
	defer r.Close(ctx)
	m, err := r.Instantiate(ctx, program)
	if err != nil {
		t.Fatalf("%v\n% x", err, body)
	}
	m.Memory().WriteUint32Le(4, 200)
	if _, err := m.ExportedFunction("f").Call(ctx, place); err != nil {
		t.Fatal(err)
	}
	left, _ := m.Memory().Read(0, 1<<16)
	return slices.Clone(left)
}

// What a function does is the same with branches, wherever it begins, and no jump forward
// is left, nor a loop that nothing leads back to.
func TestDirect(t *testing.T) {
	branches, unlooped := 0, 0
	for seed := range uint64(400) {
		rng := rand.New(rand.NewPCG(seed, 1))
		body := jumping(rng)
		short, err := direct(body)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for range 3 {
			place := rng.Uint64N(30)
			if got, want := runs(t, short, place), runs(t, body, place); !bytes.Equal(got, want) {
				t.Fatalf("seed %d, from place %d: got % x, want % x", seed, place, got, want)
			}
		}
		again, err := direct(short)
		if err != nil || !bytes.Equal(again, short) {
			t.Fatalf("seed %d: a second pass changes it again: %v", seed, err)
		}
		branches += len(body) - len(short)
		if !bytes.Contains(short, []byte{opLoop, noResult, opBlock}) {
			unlooped++
		}
	}
	if branches == 0 || unlooped == 0 || unlooped == 400 {
		t.Errorf("%d bytes are saved, and %d of 400 have no loop any more: want some of each", branches, unlooped)
	}
}

// A program keeps all of its instructions, in their order, but for those that say where to
// go on, and those that TestSlots is about.
func TestDirectPrograms(t *testing.T) {
	m := mustRead(t, compiled(t))
	before := slices.Clone(m.find(codeSection).body)
	if err := m.shorten(); err != nil {
		t.Fatal(err)
	}
	after := m.find(codeSection).body
	if len(after) > len(before)*98/100 {
		t.Errorf("got %d bytes of code, were %d: want fewer", len(after), len(before))
	}
	was, is := stays(t, before, slots), stays(t, after, nil)
	if len(was) != len(is) || len(was) < 1000 {
		t.Fatalf("got %d functions, want %d", len(is), len(was))
	}
	for i := range was {
		if !slices.EqualFunc(was[i], is[i], bytes.Equal) {
			t.Errorf("function %d: got other instructions than it had", i)
		}
	}
}

// stays are the instructions of each function in a section that do not say where to go on,
// after something was done to the function.
func stays(t *testing.T, section []byte, do func([]byte) ([]byte, error)) (functions [][][]byte) {
	t.Helper()
	all := &reader{b: section}
	for range all.unsigned() {
		body := all.take(all.unsigned())
		if do != nil {
			var err error
			if body, err = do(body); err != nil {
				t.Fatal(err)
			}
		}
		r := &reader{b: body}
		r.variables()
		var kept [][]byte
		for len(r.b) > 0 {
			switch w := r.next(); {
			case slices.Contains([]byte{opBlock, opLoop, opIf, opEnd, opBr, opBrIf}, w.op):
			case w.op == opSet && w.number == 0 && kept[len(kept)-1][0] == opConst:
				kept = kept[:len(kept)-1]
			default:
				kept = append(kept, w.bytes)
			}
		}
		if r.err != nil {
			t.Fatal(r.err)
		}
		functions = append(functions, kept)
	}
	return functions
}

// What is not as Go's compiler has it is left alone, or refused by name.
func TestNotDirect(t *testing.T) {
	begin := code{1, 1, typeInt, opBlock, noResult, opLoop, noResult, opBlock, noResult, opBlock, noResult, opGet, 0, opBrTable, 1, 0, 1, opEnd}
	end := code{opEnd, opEnd, 0, opEnd, opConst, 1, opEnd}
	jump := code{opConst, 1, opSet, 0, opBr, 1}
	if short, err := direct(join(begin, jump, end)); err != nil || len(short) != len(begin)+len(end)+2-3 {
		t.Errorf("got % x, %v: want the jump as a branch, and no loop", short, err)
	}
	for name, body := range map[string]code{
		"no jumps":                 {0, opConst, 1, opEnd},
		"the place is read":        join(begin, jump, code{opGet, 0, opDrop}, end),
		"the place is kept":        join(begin, jump, code{opConst, 1, opTee, 0, opDrop}, end),
		"a place that is not said": join(begin, code{opGet, 1, opSet, 0, opBr, 1}, end),
		"another table":            join(begin, jump, code{opConst, 0, opBrTable, 0, 0}, end),
		"back":                     join(begin, code{opConst, 0, opSet, 0, opBr, 1}, end),
	} {
		if got, err := direct(body); err != nil || !bytes.Equal(got, body) {
			t.Errorf("%s: got % x, %v: want % x", name, got, err, body)
		}
	}
	for _, bad := range []code{{0xd0, 0x70}, {opMemory, 12}, {opMemory, 8}, {0xfd, 0}} {
		m := &module{sections: []section{{codeSection, join(code{2, 4, 0, opConst, 1, opEnd}, binary.AppendUvarint(nil, uint64(len(begin)+len(bad)+len(end))), begin, bad, end)}}}
		if err := m.shorten(); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("function 1: the instruction %#x", bad[0])) {
			t.Errorf("% x: got %v, want an error that names the function and the instruction", bad, err)
		}
	}
	for _, short := range []code{{}, {1}, begin[:len(begin)-3], join(begin, code{opConst}), join(begin, code{opFloat64, 1, 2})} {
		m := &module{sections: []section{{codeSection, join(code{1, byte(len(short))}, short)}}}
		if err := m.shorten(); !errors.Is(err, errShort) {
			t.Errorf("% x: got %v, want %v", short, err, errShort)
		}
	}
}
