// Package evidence says how a fact or a figure is known. The rules and the
// published tables of processes use the same marks.
package evidence

import "larderlamp/rules/prose"

// Mark says how we know what is stated.
type Mark uint8

const (
	// Read in a published page or a stored copy of it.
	Read Mark = iota + 1
	// Memory: recalled, to be confirmed against the source named.
	Memory
	// Practice: common practice, no published source.
	Practice
	// Derived by reasoning from cited facts.
	Derived
	// Copied: read in a reprint or an archived copy, not at the publisher.
	Copied
)

var words = [...]prose.Text{Read: "read in the source", Memory: "from memory, to be confirmed", Practice: "common practice, no source", Derived: "derived from cited facts", Copied: "read in a copy"}

// Found reports whether the words were read, at the publisher or in a copy.
func (m Mark) Found() bool { return m == Read || m == Copied }

// Text says it in words, as shown next to a reason.
func (m Mark) Text() prose.Text { return words[m] }

// String is it in English.
func (m Mark) String() string { return m.Text().String() }
