package rules

import "larderlamp/rules/evidence"

// Evidence says how we know what a cite claims.
type Evidence = evidence.Mark

// The marks, by their short names. Where the page of a source is not the publisher's own,
// Cite.Known makes Copied of Read.
const (
	Read     = evidence.Read
	Memory   = evidence.Memory
	Practice = evidence.Practice
	Derived  = evidence.Derived
	Copied   = evidence.Copied
)

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

// Known says how we know it: what was read where only a copy of the source stands was
// read in a copy.
func (c Cite) Known() Evidence {
	if c.Evidence == Read && c.Source.Copy() {
		return Copied
	}
	return c.Evidence
}

// String returns publisher, title and locator, as printed under a reason.
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
