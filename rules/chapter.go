package rules

// Chapter is one part of the published guidance, in the order of examining a jar.
type Chapter uint8

var chapterNames = [...]Text{"What it is", "The record", "The outside", "Through the glass", "Storage", "Opening", "After opening"}

// String is the chapter's heading.
func (c Chapter) Text() Text { return chapterNames[c] }

// String is it in English.
func (c Chapter) String() string { return c.Text().String() }

// The chapters. Facts come from the catalog.
const (
	ChapterFacts Chapter = iota
	ChapterRecord
	ChapterOutside
	ChapterGlass
	ChapterStorage
	ChapterOpening
	ChapterOpened
)
