// Package locale puts texts into the reader's language. The English text is its
// own name: what a language does not have stays English, and so does what the
// household wrote. testdata/texts lists all texts there are.
package locale

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

var texts map[string]string // by English text; nil for English

// Use takes the texts of a language by their English ones, before anything is
// shown; nil is English.
func Use(language map[string]string) { texts = language }

// Foreign tells whether another language than English is used.
func Foreign() bool { return texts != nil }

// List joins texts, each in the reader's language.
func List(english []string, mark string) string {
	if texts == nil {
		return strings.Join(english, mark)
	}
	theirs := make([]string, len(english))
	for i, s := range english {
		theirs[i] = Text(s)
	}
	return strings.Join(theirs, Text(mark))
}

// Text gives a text in the reader's language. White space around it stays. A
// text put together of others with punctuation comes part by part.
func Text(english string) string {
	if texts == nil {
		return english
	}
	core := strings.TrimSpace(english)
	if core == "" {
		return english
	}
	before, after, _ := strings.Cut(english, core)
	return before + whole(core) + after
}

// whole is Text without white space around it.
func whole(s string) string {
	if theirs, ok := texts[s]; ok {
		return theirs
	}
	// The beginning of a sentence may be a word from the middle of one, and the
	// other way round.
	first, n := utf8.DecodeRuneInString(s)
	if unicode.IsUpper(first) {
		if theirs, ok := texts[string(unicode.ToLower(first))+s[n:]]; ok {
			return begin(theirs, unicode.ToUpper)
		}
	} else if theirs, ok := texts[string(unicode.ToUpper(first))+s[n:]]; ok {
		return begin(theirs, unicode.ToLower)
	}
	for _, mark := range []string{" · ", " → ", "; ", ". ", ": "} {
		if left, right, ok := strings.Cut(s, mark); ok {
			return whole(left) + mark + whole(right)
		}
	}
	for _, mark := range []string{".", ":"} {
		if rest, ok := strings.CutSuffix(s, mark); ok {
			return whole(rest) + mark
		}
	}
	return s
}

// begin gives the first letter of a text another case.
func begin(s string, with func(rune) rune) string {
	first, n := utf8.DecodeRuneInString(s)
	return string(with(first)) + s[n:]
}

// Say fills in a format as fmt.Sprintf does. Format and arguments that are texts
// come in the reader's language; a language that needs another order numbers the
// arguments, as in %[2]s.
func Say(format string, args ...any) string {
	if texts == nil {
		return fmt.Sprintf(format, args...)
	}
	theirs := make([]any, len(args))
	for i, a := range args {
		if s, ok := a.(string); ok {
			a = Text(s)
		}
		theirs[i] = a
	}
	before, after, _ := strings.Cut(format, strings.TrimSpace(format))
	if t, ok := texts[strings.TrimSpace(format)]; ok {
		format = before + t + after
	}
	return fmt.Sprintf(format, theirs...)
}
