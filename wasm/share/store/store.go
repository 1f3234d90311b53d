// Package store defines what an exchange needs from a log. The implementation in use
// is package journal.
package store

import (
	"context"
	"errors"
	"time"
)

// Errors that the caller can act on.
var (
	ErrUnknown  = errors.New("there is no such household")
	ErrTaken    = errors.New("it is there already")
	ErrNoMore   = errors.New("there is no room for another household")
	ErrFull     = errors.New("the log is full")
	ErrNotNow   = errors.New("the log does not answer")
	ErrNotThere = errors.New("there is no such place in the log")
)

// Version is a sealed version in the log.
type Version struct {
	Number uint64
	Stored time.Time
	Name   string
	Sealed []byte
}

// Log keeps the sealed versions of all households in their order.
type Log interface {
	// Found makes a household, known by the digest of its token. [ErrTaken] says
	// that it is there already.
	Found(ctx context.Context, household string, digest []byte) error
	// Digest gives the digest of the token of a household, or [ErrUnknown].
	Digest(ctx context.Context, household string) ([]byte, error)
	// Remove forgets a household and all of its versions, and tells every exchange.
	Remove(ctx context.Context, household string) error
	// Forget forgets versions of a household that was removed while they were stored.
	Forget(ctx context.Context, household string, numbers []uint64) error
	// WhenRemoved calls f whenever any exchange has removed a household.
	WhenRemoved(f func(household string)) error
	// Put adds a version at the end of the log and gives its number. One that is
	// there already keeps its number, and fresh is false.
	Put(ctx context.Context, household, name string, version []byte) (number uint64, fresh bool, err error)
	// Count tells how many versions of a household there are, and their bytes.
	Count(ctx context.Context, household string) (count int, size int64, err error)
	// Stored tells when the version with a number was stored, or [ErrNotThere] if
	// that is none of this household: the log was put back from an older copy.
	Stored(ctx context.Context, household string, number uint64) (time.Time, error)
	// CatchUp has After give what is in the log by now: another exchange may just have
	// stored something.
	CatchUp(ctx context.Context) error
	// After gives the versions of a household that follow a number, in their order,
	// at most so many and about so many bytes. It may give fewer than there are, and
	// never leaves one out between two others.
	After(ctx context.Context, household string, number uint64, most, bytes int) ([]Version, error)
	// News tells of each version of a household that is stored from now on: its
	// number, or 0 when some may not have been told. What is told too fast for the
	// reader is left out, as every number says that all before it is there. The
	// function ends it.
	News(household string) (<-chan uint64, func())
}
