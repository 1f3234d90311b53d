// Package prose is the type of everything a reader is told. A [Text] is a text of
// this program, with whatever is filled in, before the language is chosen in which
// it is read. What the household wrote is a plain string and never becomes a Text by
// itself: it can be filled into one, or stand for itself as [Own].
//
// A constant becomes a Text without being converted, so that texts are written
// where they are used. [Text.In] says them in the reader's language; the
// package knows English only, and holds nothing that changes.
package prose

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text is something to be read. A constant is the English text. Every other one is
// made by the functions of this package, which write down what they were given, so
// that it is put together in the language of the reader and not before. Such a Text
// can be compared, copied and kept like a constant, but its bytes are for In alone:
// TestTexts in app refuses a conversion from or to string, and a +.
type Text string

// mark begins the bytes of a Text that is no constant. After it comes how it is made
// and then its parts, each with its kind and its length.
const mark = "\x01"

// How a Text is made.
const (
	filled = 's' // a format, and what is filled in
	counts = 'c' // a number, the name of one thing and that of several
	agrees = 'p' // a number, the format for one and for several, and what is filled in
	owned  = 'o' // words that stay as they are
	joined = 'j' // a mark between, and the texts
	upper  = 'u' // begins a sentence
	lower  = 'l' // stands inside a sentence
	headed = 'h' // what is before the first comma or colon
	begun  = 'b' // the first sentence
)

// The kinds of parts.
const (
	isText   = 't'
	isOwn    = 'o'
	isWhole  = 'i'
	isNumber = 'f'
)

// Say fills in a format as fmt.Sprintf does. A Text among the arguments comes in the
// reader's language, a string stays as it is. A language that needs another order
// numbers the arguments, as in %[2]s.
func Say(format Text, args ...any) Text {
	return Text(fill([]byte(mark), filled, format, args))
}

// Count is a number of things with their name for one and for several.
func Count(n int, one, several Text) Text {
	return Text(text(text(whole(append([]byte(mark), counts), n), one), several))
}

// Agree is a sentence that differs between one thing and several. Both forms are
// filled in with the same arguments, or the singular one with none.
func Agree(n int, one, several Text, args ...any) Text {
	return Text(fill(text(whole(append([]byte(mark), agrees), n), one), 0, several, args))
}

// Own is words that stay as they are in every language, such as a name that the
// household gave or the title of a source.
func Own(words string) Text {
	if words == "" {
		return ""
	}
	return Text(mark + string(rune(owned)) + words)
}

// List joins texts with a mark between them.
func List(texts []Text, between Text) Text {
	switch len(texts) {
	case 0:
		return ""
	case 1:
		return texts[0]
	}
	b := text(append([]byte(mark), joined), between)
	for _, t := range texts {
		b = text(b, t)
	}
	return Text(b)
}

// Upper begins a sentence with a text that may stand inside one.
func Upper(t Text) Text { return made(upper, t) }

// Lower puts a text that begins with a capital inside a sentence.
func Lower(t Text) Text { return made(lower, t) }

// Head is a text up to its first comma or colon.
func Head(t Text) Text { return made(headed, t) }

// First is the first sentence of a text.
func First(t Text) Text { return made(begun, t) }

func made(how byte, t Text) Text {
	if t == "" {
		return ""
	}
	return Text(append(append([]byte(mark), how), t...))
}

// fill writes down a format and what is filled in, after how it is made.
func fill(b []byte, how byte, format Text, args []any) []byte {
	if how != 0 {
		b = append(b, how)
	}
	b = text(b, format)
	for _, a := range args {
		switch v := a.(type) {
		case Text:
			b = text(b, v)
		case interface{ Text() Text }:
			b = text(b, v.Text())
		case string:
			b = part(b, isOwn, v)
		case int:
			b = whole(b, v)
		case float64:
			b = part(b, isNumber, strconv.FormatFloat(v, 'g', -1, 64))
		default:
			b = other(b, a)
		}
	}
	return b
}

// other encodes what is neither a text nor one of the common numbers.
func other(b []byte, a any) []byte {
	v := reflect.ValueOf(a)
	_, says := a.(fmt.Stringer)
	switch {
	case says:
	case v.CanInt(), v.CanUint():
		return part(b, isWhole, fmt.Sprint(a))
	case v.CanFloat():
		return part(b, isNumber, strconv.FormatFloat(v.Float(), 'g', -1, 64))
	}
	return part(b, isOwn, fmt.Sprint(a))
}

func text(b []byte, t Text) []byte { return part(b, isText, string(t)) }

func whole(b []byte, n int) []byte { return part(b, isWhole, strconv.Itoa(n)) }

func part(b []byte, kind byte, s string) []byte {
	b = append(strconv.AppendInt(append(b, kind), int64(len(s)), 10), ':')
	return append(b, s...)
}

// next cuts the first part off what is written down.
func next(rest string) (kind byte, value, after string) {
	length, tail, _ := strings.Cut(rest[1:], ":")
	n, _ := strconv.Atoi(length)
	return rest[0], tail[:n], tail[n:]
}

// Language says the texts of this program. English is one; others are made of a
// file of texts, above this package.
type Language interface {
	// Whole returns a constant text or a format.
	Whole(english string) string
	// Form returns the form that a number takes: of a noun, or of a format.
	Form(n int, one, several string) string
	// Inside returns a text the beginning that it has inside a sentence.
	Inside(text string) string
}

// String is the text in English.
func (t Text) String() string { return t.In(English{}) }

// MarshalText writes the text in English into files.
func (t Text) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// In is the text in a language; without one it is English.
func (t Text) In(l Language) string {
	if l == nil {
		l = English{}
	}
	s := string(t)
	if !strings.HasPrefix(s, mark) {
		if s == "" {
			return ""
		}
		return l.Whole(s)
	}
	how, rest := s[len(mark)], s[len(mark)+1:]
	switch how {
	case owned:
		return rest
	case upper:
		return begin(Text(rest).In(l), unicode.ToUpper)
	case lower:
		return l.Inside(Text(rest).In(l))
	case headed:
		s := Text(rest).In(l)
		if i := strings.IndexAny(s, ",:"); i >= 0 {
			s = s[:i]
		}
		return s
	case begun:
		s := Text(rest).In(l)
		if i := strings.Index(s, ". "); i >= 0 {
			s = s[:i+1]
		}
		return s
	case joined:
		_, between, rest := next(rest)
		var all []string
		for rest != "" {
			var one string
			_, one, rest = next(rest)
			all = append(all, Text(one).In(l))
		}
		return strings.Join(all, Text(between).In(l))
	case counts:
		n, one, several, _ := forms(rest)
		return fmt.Sprintf(l.Whole(numbered), n, l.Form(n, one, several))
	case agrees:
		n, one, several, rest := forms(rest)
		form := l.Form(n, one, several)
		if !strings.Contains(form, "%") {
			return form // the singular form may have no placeholder
		}
		return fmt.Sprintf(form, args(rest, l)...)
	}
	_, format, rest := next(rest)
	return fmt.Sprintf(l.Whole(format), args(rest, l)...)
}

// numbered is a number with what it counts.
const numbered = "%d %s"

// Numbered is how a number stands with what it counts, for the list of texts.
const Numbered Text = numbered

// forms reads a number and the form for one and for several.
func forms(rest string) (n int, one, several, after string) {
	_, number, rest := next(rest)
	n, _ = strconv.Atoi(number)
	_, one, rest = next(rest)
	_, several, after = next(rest)
	return n, one, several, after
}

// args reads what is filled in.
func args(rest string, l Language) (all []any) {
	for rest != "" {
		var kind byte
		var value string
		kind, value, rest = next(rest)
		switch kind {
		case isText:
			all = append(all, Text(value).In(l))
		case isWhole:
			n, _ := strconv.Atoi(value)
			all = append(all, n)
		case isNumber:
			n, _ := strconv.ParseFloat(value, 64)
			all = append(all, n)
		default:
			all = append(all, value)
		}
	}
	return all
}

// English is the language that the texts are written in.
type English struct{}

// Whole returns the text itself.
func (English) Whole(english string) string { return english }

// Form distinguishes one from several.
func (English) Form(n int, one, several string) string {
	if n == 1 {
		return one
	}
	return several
}

// Inside begins with a small letter.
func (English) Inside(text string) string { return begin(text, unicode.ToLower) }

// begin gives the first letter of a text another case.
func begin(s string, with func(rune) rune) string {
	if s == "" {
		return ""
	}
	first, n := utf8.DecodeRuneInString(s)
	return string(with(first)) + s[n:]
}
