// Package walk is the sweep: the path past the shelves jar by jar. It says which
// jars are due and in what order they are walked past, where an unfinished sweep
// is, and what it found in the end. What was seen is stored in the events of the
// jars, so that a closed tab loses nothing.
package walk
