package main

import (
	"bytes"
	"encoding/binary"
	"math/rand/v2"
	"testing"
)

// slotted is the body of a function that reads and writes variables on the stack about as
// Go's compiler has it, and everything around what it may write differently.
func slotted(rng *rand.Rand) code {
	sp := code{opGlobalGet, 0}
	all := code{2, 2, typeInt, 1, 0x7e} // two variables of 32 bits, one of 64
	switch rng.IntN(3) {
	case 0:
		all, sp = append(all, opGlobalGet, 0, opSet, 1), code{opGet, 1}
	case 1: // it is another variable
		all, sp = join(all, set(1, num(300))), code{opGet, 1}
	}
	all = join(all, set(2, num(100)))
	long := func(v int) code { return appendSigned(code{opConst64}, v) }
	pointer := func() code {
		return pick(rng, sp, sp, sp, code{opGlobalGet, 0}, code{opGet, 2}, num(500))
	}
	far := func() int { return pick(rng, 0, 8, 16, 120, 4096, 1<<30-1, 1<<32+40, -16) }
	slot := func() code {
		c := far()
		if c == 1<<30-1 { // too far to be added, and too far to be read
			return join(pointer(), code{opExtend}, long(c), code{opAdd64}, long(8-c), code{opAdd64, opWrap})
		}
		return join(pointer(), code{opExtend}, long(c), code{opAdd64, opWrap})
	}
	offset := func() byte { return byte(rng.IntN(100)) }
	value := func() code {
		return pick(rng, num(rng.IntN(1<<30)), code{opGet, 2}, code{opGlobalGet, 0},
			join(slot(), code{opLoad, 2, offset()}),
			join(pointer(), code{opLoad, 2, offset()}),
			join(pointer(), code{opLoad8, 0, offset()}),
			join(long(rng.IntN(1<<40)), code{opWrap}),
			join(slot(), code{opLoad, 2, offset(), opExtend, opEqz64}),
			code{opGet, 3, opEqz64})
	}
	for range 1 + rng.IntN(12) {
		all = join(all, pick(rng,
			join(slot(), value(), code{opStore, 2, offset()}),
			join(slot(), value(), code{opStore8, 0, offset()}),
			join(pointer(), value(), code{opStore, 2, offset()}),
			join(slot(), long(rng.IntN(1<<40)), code{0x37, 3, offset()}), // i64.store
			join(slot(), code{0x29, 3, offset(), opSet, 3}),              // i64.load
			join(slot(), code{opGet, 3, 0x37, 3, offset()}),
			join(pointer(), slot(), code{opGet, 2, opAdd, opStore, 2, offset()}),
			join(pointer(), slot(), code{opEqz, opLoad, 2, offset(), opStore, 2, offset()}),
			set(2, add(do(value(), opAnd, num(1023)), num(16))),
			when(value(), slot(), value(), code{opStore, 2, offset()}),
		))
	}
	return join(all, num(0), code{opEnd})
}

func pick[T any](rng *rand.Rand, from ...T) T { return from[rng.IntN(len(from))] }

// What a function leaves in memory is the same.
func TestSlots(t *testing.T) {
	saved := 0
	for seed := range uint64(600) {
		body := slotted(rand.New(rand.NewPCG(seed, 2)))
		short, err := slots(body)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if got, want := runs(t, short, 0), runs(t, body, 0); !bytes.Equal(got, want) {
			t.Fatalf("seed %d: got other memory:\n% x\n% x", seed, body, short)
		}
		saved += len(body) - len(short)
	}
	if saved < 10000 {
		t.Errorf("%d bytes are saved, want more", saved)
	}
}

// Only the stack pointer is known to lie in memory with all that it leads to.
func TestNotASlot(t *testing.T) {
	prologue := code{1, 2, typeInt, opGlobalGet, 0, opSet, 1}
	slot := func(sp code, c int) code {
		return join(sp, code{opExtend}, appendSigned(code{opConst64}, c), code{opAdd64, opWrap})
	}
	shorter := func(sp code, c int) code { return join(sp, num(c), code{opAdd}) }
	load := code{opLoad, 2, 4}
	for name, c := range map[string]struct{ body, want code }{
		"the stack":           {slot(code{opGet, 1}, 8), code{opGet, 1, opLoad, 2, 12}},
		"as it is":            {slot(code{opGlobalGet, 0}, 200), code{opGlobalGet, 0, opLoad, 2, 204, 1}},
		"another variable":    {slot(code{opGet, 2}, 8), join(shorter(code{opGet, 2}, 8), load)},
		"another global":      {slot(code{opGlobalGet, 1}, 8), join(shorter(code{opGlobalGet, 1}, 8), load)},
		"in front of it":      {slot(code{opGet, 1}, -8), join(shorter(code{opGet, 1}, -8), load)},
		"too far":             {slot(code{opGet, 1}, 1<<30), join(shorter(code{opGet, 1}, 1<<30), load)},
		"around all 32 bits":  {slot(code{opGet, 1}, 1<<32+8), code{opGet, 1, opLoad, 2, 12}},
		"with something else": {join(code{opGet, 1}, num(8), code{opSub}), join(code{opGet, 1}, num(8), code{opSub}, load)},
	} {
		got, err := slots(join(prologue, c.body, load, code{opEnd}))
		if want := join(prologue, c.want, code{opEnd}); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s: got % x, %v, want % x", name, got, err, want)
		}
	}
	for _, v := range []int{0, 1, -1, 63, 64, -65, 1<<31 - 1, -1 << 31, 1 << 40, -1 << 63, 1<<63 - 1} {
		r := &reader{b: appendSigned(nil, v)}
		if got := r.long(); got != v || len(r.b) > 0 || r.err != nil {
			t.Errorf("got %d for %d, and %d bytes are left: %v", got, v, len(r.b), r.err)
		}
	}
	if r := (&reader{b: binary.AppendUvarint(nil, 1<<63)[:9]}); r.long() != 0 || r.err == nil {
		t.Error("a number without an end is read")
	}
}
