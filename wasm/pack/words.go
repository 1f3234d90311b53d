package main

import "encoding/binary"

// The variables of the program with pointers are stored word by word, in columns of
// their own. Most are 0, small numbers, or pointers, and what lies behind a pointer is
// mostly a length. The linker sorts strings by their length, and those of one length
// roughly in the order in which the program names them. So a pointer is stored as how
// far it is from the string that stands next to the last one of this length. Because
// the length has to be known by then, words are taken from the last to the first.

// The kinds of words.
const (
	zeroWord = iota
	smallWord
	pointerWord
	otherWord
)

const (
	wordSize = 8
	// What is less is taken for a small number, and may be a length.
	smallEnd = 4096
	// What is less, and not small, is taken for a pointer.
	pointerEnd = 1 << 24
)

// lengthBehind is the length that lies behind a word, or 0.
func lengthBehind(memory []byte, at int) int {
	var b [wordSize]byte // memory is 0 behind its end
	copy(b[:], memory[min(at+wordSize, len(memory)):])
	if v := binary.LittleEndian.Uint64(b[:]); v < smallEnd {
		return int(v)
	}
	return 0
}

// words writes the words of a part of memory.
func (s *stream) words(memory []byte, begin, end int) {
	// Other words are in the order of memory, so that what is longer than one is as it was.
	for at := begin; at < end; at += wordSize {
		if b := memory[at : at+wordSize]; binary.LittleEndian.Uint64(b) >= pointerEnd {
			s.columns[otherWords] = append(s.columns[otherWords], b...)
		}
	}
	var last [smallEnd]int
	for at := end - wordSize; at >= begin; at -= wordSize {
		switch v := binary.LittleEndian.Uint64(memory[at:]); {
		case v == 0:
			s.add(wordKinds, zeroWord)
		case v < smallEnd:
			s.add(wordKinds, smallWord)
			s.add(smallWords, int(v))
		case v < pointerEnd:
			s.add(wordKinds, pointerWord)
			length := lengthBehind(memory, at)
			s.pointer(int(v)-(last[length]-length), length)
			last[length] = int(v)
		default:
			s.add(wordKinds, otherWord)
		}
	}
}

// pointer writes how far a pointer is from where it is expected: in strings of its
// length, or in bytes, which makes the number odd.
func (s *stream) pointer(far, length int) {
	if length > 0 && far%length == 0 {
		s.add(pointerWords, zigzag(far/length)<<1)
	} else {
		s.add(pointerWords, zigzag(far)<<1|1)
	}
}

// writeWords writes the words.
func (x expansion) writeWords() code {
	of := func(kind int, body ...code) code { return when(do(get(lKind), opEq, num(kind)), body...) }
	return join(
		set(lRow, num(x.wordsEnd)),
		set(lFrom, load(x.cell(wordKinds), 0)), // one byte each
		while(do(num(x.words), opLess, get(lRow)),
			move(lRow, num(-wordSize)),
			set(lKind, load8(get(lFrom), 0)), // one of 0 is there already
			move(lFrom, num(1)),
			of(smallWord, store(get(lRow), 0, x.next(smallWords))),
			of(pointerWord,
				set(lCount, load(get(lRow), wordSize)), // the length behind it
				when(do(load(get(lRow), wordSize+4), opOr, do(num(smallEnd-1), opLess, get(lCount))), set(lCount, num(0))),
				set(lThing, add(num(x.last), do(get(lCount), opShl, num(2)))),
				set(lInner, x.next(pointerWords)),
				set(lValue, do(get(lInner), opShr, num(1))),
				set(lValue, signed(lValue)),
				when(not(do(get(lInner), opAnd, num(1))), set(lValue, do(get(lValue), opMul, get(lCount)))),
				set(lValue, add(get(lValue), do(load(get(lThing), 0), opSub, get(lCount)))),
				store(get(lThing), 0, get(lValue)),
				store(get(lRow), 0, get(lValue)),
			),
			of(otherWord,
				store(x.cell(otherWords), 0, do(load(x.cell(otherWords), 0), opSub, num(wordSize))),
				copyMemory(get(lRow), load(x.cell(otherWords), 0), num(wordSize)),
			),
		),
	)
}
