package locale

import "errors"

// Count is a number of things, with their name for one and for several.
func Count(n int, one, many string) string {
	if n == 1 {
		return Say("1 %s", one)
	}
	return Say("%d %s", n, many)
}

// plainError is an error that says itself in words for a person.
type plainError interface {
	error
	Plain() string
}

// Plain says what went wrong in words for a person.
func Plain(err error) string {
	if p, ok := errors.AsType[plainError](err); ok {
		return p.Plain()
	}
	return err.Error() + "."
}
