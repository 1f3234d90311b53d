// Package walk is the sweep: the way round the shelves jar by jar. It says which
// jars are due and in what order they are walked past, where a sweep that was
// begun stands, and what it found in the end. What was seen lives in the events
// of the jars, so that a closed tab loses nothing.
package walk
