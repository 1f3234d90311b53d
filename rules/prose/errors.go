package prose

import (
	"errors"
	"strings"
)

// Plain says what went wrong in words for a person: those of the error that has some
// ready, in a method Plain, or else what each error says.
func Plain(err error) Text {
	if p, ok := errors.AsType[interface {
		error
		Plain() Text
	}](err); ok {
		return p.Plain()
	}
	return Say("%s.", Error(err))
}

// Error is an error in the reader's language, as far as it or one that it wraps
// knows its Text; what only has a string stays as it is.
func Error(err error) Text {
	switch e := err.(type) {
	case interface{ Text() Text }:
		return e.Text()
	case interface{ Unwrap() []error }:
		all := e.Unwrap()
		said := make([]Text, len(all))
		for i := range all {
			said[i] = Error(all[i])
		}
		return List(said, "\n")
	case interface{ Unwrap() error }:
		if inner := e.Unwrap(); inner != nil {
			if before, after, ok := strings.Cut(err.Error(), inner.Error()); ok {
				return Say("%s%s%s", before, Error(inner), after)
			}
		}
	}
	return Own(err.Error())
}

// failure is an error that is said in the reader's language.
type failure struct{ said Text }

func (f *failure) Error() string { return f.said.String() }

// Text says it.
func (f *failure) Text() Text { return f.said }

// Errorf is an error that is said in the reader's language.
func Errorf(format Text, args ...any) error {
	if len(args) == 0 {
		return &failure{format}
	}
	return &failure{Say(format, args...)}
}
