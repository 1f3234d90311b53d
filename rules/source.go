package rules

// Evidence says how we know what a cite claims.
type Evidence uint8

const (
	// Read in a published page or a stored copy of it.
	Read Evidence = iota + 1
	// Memory: recalled, to be confirmed against the source named.
	Memory
	// Practice: common practice, no published source.
	Practice
	// Derived by reasoning from cited facts.
	Derived
	// Copied: read in a reprint or an archived copy, not at the publisher.
	Copied
)

var evidenceWords = [...]string{Read: "read in the source", Memory: "from memory, to be confirmed", Practice: "common practice, no source", Derived: "derived from cited facts", Copied: "read in a copy"}

// Found tells whether the words were read, at the publisher or in a copy.
func (e Evidence) Found() bool { return e == Read || e == Copied }

// String says it in words, as shown beside a reason.
func (e Evidence) String() string { return evidenceWords[e] }

// Source is a published work.
type Source struct {
	ID        string
	Title     string
	Publisher string
	Year      string // of the edition or page read; empty when undated
}

// Cite points to the place in a source that a rule or a number rests on.
type Cite struct {
	Source   *Source
	Locator  string // chapter, table, section or question within the source
	Evidence Evidence
}

// String gives publisher, title and locator, as printed under a reason.
func (c Cite) String() string {
	t := c.Source.Title
	if c.Source.Publisher != "" {
		t = c.Source.Publisher + ", " + t
	}
	if c.Source.Year != "" {
		t += " (" + c.Source.Year + ")"
	}
	if c.Locator != "" {
		t += ": " + c.Locator
	}
	return t
}

// read, copied, memory, practice and derived build a cite with its evidence mark.
func read(s *Source, locator string) Cite    { return Cite{s, locator, Read} }
func copied(s *Source, locator string) Cite  { return Cite{s, locator, Copied} }
func memory(s *Source, locator string) Cite  { return Cite{s, locator, Memory} }
func derived(s *Source, locator string) Cite { return Cite{s, locator, Derived} }
func practice(what string) Cite              { return Cite{&srcPractice, what, Practice} }
