package pantry

import (
	"errors"
	"fmt"
)

// faults collects what is wrong with a record.
type faults struct {
	record string
	list   []error
}

// add notes a fault of a field. It is kept out of line, because written into
// every check it would be the larger part of this package in the page program.
//
//go:noinline
func (f *faults) add(field, format string, a ...any) {
	f.list = append(f.list, fmt.Errorf("%s: %s: %w", f.record, field, fmt.Errorf(format, a...)))
}

func (f *faults) err() error { return errors.Join(f.list...) }
