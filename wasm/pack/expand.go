package main

// An expansion is where a stream lies, and where the table is that it expands to.
type expansion struct {
	names, places, functions, data, find, end int // the parts of the table
	row                                       int // the first row
	count, code                               int // how many functions, and the number of the code of the first
	words, wordsEnd                           int // the variables with pointers
	last                                      int // where it is kept what the last string of each length was
	at, size                                  int // the memory for all that, which is cleared in the end
	calls                                     int // the number of the first of the functions that expand
}

// By a list of buckets the runtime finds the function of a place. Each is for 4,096
// places, begins with the number of the function of the first of them, and says of
// each 16th of them how many functions come in between: none, because the code of a
// function has 65,536 places.
const (
	bucketSize = 20
	perCode    = 16 // buckets
)

// An added is a function that is added to the program.
type added struct {
	arguments, results int
	body               code
}

// The functions that expand, in their order.
const (
	callNext = iota
	callThing
	callLearn
	callWord
	callPut
	callExpand
)

// instructions are the functions that expand.
func (x expansion) instructions() []added {
	return []added{
		callNext:   {1, 1, x.nextBody()},
		callThing:  {1, 1, x.thingBody()},
		callLearn:  {1, 1, x.learnBody()},
		callWord:   {1, 1, x.wordBody()},
		callPut:    {2, 1, x.putBody()},
		callExpand: {0, 0, x.expandBody()},
	}
}

// nextBody reads the next number of a column.
func (x expansion) nextBody() code {
	const cell, at, b, shift, v local = 0, 1, 2, 3, 4
	return functionBody(4,
		set(at, load(get(cell), 0)),
		set(b, load8(get(at), 0)),
		set(v, get(b)), // most are of one byte
		while(do(num(127), opLess, get(b)), // there is one more
			move(shift, num(7)),
			move(at, num(1)),
			set(b, load8(get(at), 0)),
			// The bit that said so is cancelled by the one that is taken off.
			set(v, do(get(v), opXor, do(do(get(b), opXor, num(1)), opShl, get(shift)))),
		),
		store(get(cell), 0, add(get(at), num(1))),
		get(v),
	)
}

// thingBody reads a reference, and returns where the thing is, or 0 if it is a new one.
func (x expansion) thingBody() code {
	const cell, n local = 0, 1
	return functionBody(1,
		set(n, call(x.calls+callNext, get(cell))),
		when(get(n), set(n, add(load(get(cell), cellThings), do(get(n), opShl, num(2))))),
		get(n),
	)
}

// learnBody returns where the next new thing goes.
func (x expansion) learnBody() code {
	const cell, at local = 0, 1
	return functionBody(1,
		set(at, load(get(cell), cellNew)),
		store(get(cell), cellNew, add(get(at), num(4))),
		get(at),
	)
}

// wordBody reads a word: one of before, or a new one from the column behind.
func (x expansion) wordBody() code {
	const cell, thing local = 0, 1
	return functionBody(1,
		set(thing, call(x.calls+callThing, get(cell))),
		when(not(get(thing)),
			set(thing, call(x.calls+callLearn, get(cell))),
			store(get(thing), 0, call(x.calls+callNext, add(get(cell), num(cellSize)))),
		),
		load(get(thing), 0),
	)
}

// putBody writes a number at a place, and returns where it ends.
func (x expansion) putBody() code {
	const at, v local = 0, 1
	return functionBody(0,
		while(do(num(127), opLess, get(v)),
			store8(get(at), do(get(v), opOr, num(128))), // the upper bits are cut off
			set(v, do(get(v), opShr, num(7))),
			move(at, num(1)),
		),
		store8(get(at), get(v)),
		add(get(at), num(1)),
	)
}

// cell is where in memory the cell of a column is.
func (x expansion) cell(c column) code { return num(x.at + cellSize*int(c)) }

func (x expansion) next(c column) code  { return call(x.calls+callNext, x.cell(c)) }
func (x expansion) thing(c column) code { return call(x.calls+callThing, x.cell(c)) }
func (x expansion) learn(c column) code { return call(x.calls+callLearn, x.cell(c)) }
func (x expansion) word(c column) code  { return call(x.calls+callWord, x.cell(c)) }

// put writes a number at the place that a variable says, and moves it there.
func (x expansion) put(at local, v code) code { return set(at, call(x.calls+callPut, get(at), v)) }

// signed makes a number that was read one that may be negative.
func signed(v local) code {
	return do(do(get(v), opShr, num(1)), opXor, do(num(0), opSub, do(get(v), opAnd, num(1))))
}

func aligned(v code) code { return do(add(v, num(7)), opAnd, num(-8)) }

// The variables of expandBody.
const (
	lFunction local = iota // the number of a function
	lRow                   // where what is said of it is
	lName                  // where the next new name is,
	lList                  // the next list,
	lFresh                 // and the next data
	lThing                 // where a thing is
	lAlive                 // the list of which pointers are alive
	lFrame                 // the number of the frame
	lPlaces                // how many places a list is for
	lKind                  // of data
	lCell                  // of the column of references to them
	lLike                  // how many maps the arguments have
	lCount                 // how many
	lOuter                 // and which,
	lInner                 // in two loops
	lValue                 // what was read
	lWide                  // how many bytes a map has
	lFrom                  // where its bytes are
	variables = iota
)

// rowEnd is where the row ends that begins where a variable says.
func rowEnd(row local) code {
	kinds := add(load(get(row), fieldPlaceKinds), load8(get(row), fieldDataKinds))
	return add(add(get(row), num(fixedSize)), do(kinds, opShl, num(2)))
}

// expandBody writes the table.
func (x expansion) expandBody() code {
	return functionBody(variables,
		set(lRow, num(x.row)),
		set(lName, num(x.names+1)), // at 0 is none
		set(lList, num(x.places+1)),
		set(lFresh, num(x.data)),
		count(lFunction, num(x.count),
			store(do(get(lFunction), opShl, num(3)), x.functions, add(get(lFunction), num(x.code))),
			store(do(get(lFunction), opShl, num(3)), x.functions+4, do(get(lRow), opSub, num(x.functions))),
			set(lThing, x.thing(rows)),
			either(get(lThing),
				join(
					set(lThing, load(get(lThing), 0)),
					copyMemory(get(lRow), get(lThing), do(rowEnd(lThing), opSub, get(lThing))),
				),
				join(
					store(x.learn(rows), 0, get(lRow)),
					x.newRow(),
				)),
			store(get(lRow), 0, add(get(lFunction), num(x.code))),
			x.name(),
			set(lRow, aligned(rowEnd(lRow))),
		),
		store(num(0), x.functions+entrySize*x.count, num(x.code+x.count)), // where all code ends
		count(lFunction, num((x.end-x.find+bucketSize-4)/bucketSize),
			store(do(get(lFunction), opMul, num(bucketSize)), x.find, do(get(lFunction), opDivide, num(perCode))),
		),
		x.writeWords(),
		fillMemory(num(x.at), num(0), num(x.size)), // Go takes memory that it has not used for 0
	)
}

// name names the function.
func (x expansion) name() code {
	// A name of before is as many places in front of the place for the next new one as
	// the number says, less one. At 1 that place is meant, which is still 0.
	before := do(load(x.cell(names), cellNew), opSub, do(do(get(lValue), opSub, num(1)), opShl, num(2)))
	return join(
		set(lValue, x.next(names)),
		either(get(lValue),
			store(get(lRow), fieldName, load(before, 0)),
			join(
				set(lValue, do(get(lName), opSub, num(x.names))),
				store(get(lRow), fieldName, get(lValue)),
				store(x.learn(names), 0, get(lValue)),
				while(load8(get(lName), 0), move(lName, num(1))), // over the name,
				move(lName, num(1)),                              // and the 0 behind it
			)),
	)
}

// newRow writes a row that was not there before.
func (x expansion) newRow() code {
	return join(
		store(get(lRow), fieldArguments, x.word(argumentSizes)),
		store(get(lRow), fieldDefer, x.word(deferPlaces)),
		store(get(lRow), fieldKind, x.word(functionKinds)),
		store(get(lRow), fieldPlaceKinds, x.next(placeKinds)),
		x.aliveList(),
		x.stackList(),
		set(lLike, num(0)),
		count(lKind, load8(get(lRow), fieldDataKinds), x.oneData()),
	)
}

// aliveList writes the list of which pointers are alive.
func (x expansion) aliveList() code {
	return join(
		set(lAlive, num(0)),
		when(do(num(alive), opLess, load(get(lRow), fieldPlaceKinds)),
			set(lThing, x.thing(aliveLists)),
			when(not(get(lThing)),
				set(lThing, x.learn(aliveLists)),
				store(get(lThing), 0, do(get(lList), opSub, num(x.places))),
				x.put(lList, x.next(aliveValues)), // the first may be 0; at any other 0 the list ends
				set(lValue, num(1)),
				while(get(lValue),
					x.put(lList, x.next(alivePlaces)),
					set(lValue, x.next(aliveValues)),
					x.put(lList, get(lValue)),
				),
			),
			set(lAlive, load(get(lThing), 0)),
			store(get(lRow), fixedSize+4*alive, get(lAlive)),
		),
	)
}

// stackList writes the list of the stack, as the function of this name says. Both
// lists of a function are for as many places.
func (x expansion) stackList() code {
	return join(
		set(lFrame, x.next(frames)),
		when(get(lFrame),
			either(get(lAlive),
				join( // read the list that was written
					store(x.cell(expanded), 0, add(get(lAlive), num(x.places))),
					set(lValue, x.next(expanded)),
					set(lPlaces, num(0)),
					set(lValue, num(1)),
					while(get(lValue),
						move(lPlaces, x.next(expanded)),
						set(lValue, x.next(expanded)),
					),
				),
				set(lPlaces, x.next(frameLengths)),
			),
			store(get(lRow), fieldStack, do(get(lList), opSub, num(x.places))),
			x.put(lList, num(2)),
			when(do(num(1), opLess, get(lFrame)),
				x.put(lList, num(1)),
				x.put(lList, do(do(get(lFrame), opSub, num(1)), opShl, num(4))),
				move(lPlaces, num(-1)),
			),
			x.put(lList, get(lPlaces)),
			x.put(lList, num(0)),
		),
	)
}

// oneData names the data of one kind, and writes them if they are new. A thing is
// here one more than the place of the data, so that for none it is 0.
func (x expansion) oneData() code {
	of := func(k int, body ...code) code { return when(do(get(lKind), opEq, num(k)), body...) }
	return join(
		set(lCell, add(x.cell(dataOf), do(get(lKind), opMul, num(cellSize)))),
		set(lThing, call(x.calls+callThing, get(lCell))),
		when(not(get(lThing)),
			set(lFresh, aligned(get(lFresh))),
			set(lThing, call(x.calls+callLearn, get(lCell))),
			store(get(lThing), 0, do(get(lFresh), opSub, num(x.data-1))),
			when(do(get(lKind), opLess, num(objects)), x.maps()),
			of(objects, x.objects()),
			of(deferred,
				x.put(lFresh, x.next(deferBits)),
				x.put(lFresh, x.next(deferSlots)),
			),
			of(wraps,
				store(get(lFresh), 0, x.word(wrapped)),
				move(lFresh, num(4)),
			),
		),
		set(lValue, load(get(lThing), 0)),
		store(do(rowEnd(lRow), opSub, do(do(load8(get(lRow), fieldDataKinds), opSub, get(lKind)), opShl, num(2))), 0,
			do(get(lValue), opSub, num(1))),
		of(argumentPointers, when(get(lValue), set(lLike, load(get(lValue), x.data-1)))),
	)
}

// maps writes how many maps there are and of how many bits, and the maps.
func (x expansion) maps() code {
	return join(
		set(lCell, add(x.cell(argumentMaps), do(get(lKind), opMul, num(cellSize*int(variableMaps-argumentMaps))))),
		set(lValue, call(x.calls+callNext, get(lCell))),
		set(lCount, add(signed(lValue), get(lLike))),
		set(lValue, call(x.calls+callNext, add(get(lCell), num(cellSize)))),
		store(get(lFresh), 0, get(lCount)),
		store(get(lFresh), 4, get(lValue)),
		move(lFresh, num(8)),
		set(lWide, do(add(get(lValue), num(7)), opShr, num(3))),
		set(lFrom, load(get(lCell), 2*cellSize)),
		count(lOuter, get(lWide),
			count(lInner, get(lCount),
				store8(add(add(get(lFresh), get(lOuter)), do(get(lInner), opMul, get(lWide))), load8(get(lFrom), 0)),
				move(lFrom, num(1)),
			),
		),
		store(get(lCell), 2*cellSize, get(lFrom)),
		move(lFresh, do(get(lCount), opMul, get(lWide))),
	)
}

// objects writes the objects on the stack.
func (x expansion) objects() code {
	return join(
		set(lCount, x.next(objectCounts)),
		store(get(lFresh), 0, get(lCount)),
		move(lFresh, num(8)),
		set(lFrom, num(0)), // the end of the one before
		count(lOuter, get(lCount),
			set(lValue, x.next(objectPlaces)),
			store(get(lFresh), 0, add(get(lFrom), signed(lValue))),
			set(lInner, x.thing(objectTypes)),
			either(get(lInner),
				copyMemory(add(get(lFresh), num(4)), load(get(lInner), 0), num(objectSize-4)),
				join(
					store(x.learn(objectTypes), 0, add(get(lFresh), num(4))),
					store(get(lFresh), 4, x.next(objectSizes)),
					store(get(lFresh), 8, x.next(objectPointers)),
					store(get(lFresh), 12, x.next(objectMasks)),
				)),
			set(lFrom, add(load(get(lFresh), 0), load(get(lFresh), 4))),
			move(lFresh, num(objectSize)),
		),
	)
}
