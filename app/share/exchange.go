package share

import (
	"context"
	"errors"
	"strconv"
	"strings"
	"time"
)

// Exchange is where the phones of a household meet, with the secret of one of
// them: it seals what is sent and opens what comes.
type Exchange interface {
	// Found makes the household, or finds it made.
	Found(ctx context.Context) error
	// Remove makes the exchange forget the household.
	Remove(ctx context.Context) error
	// Send sends one version and gives its name and its number in the log.
	Send(ctx context.Context, kind, text string) (name string, number uint64, err error)
	// List gives what follows a place in the log, "" for its beginning. Nothing
	// means that this was all.
	List(ctx context.Context, place string) ([]Version, error)
	// Wait returns when something may follow the place, or the connection ends.
	Wait(ctx context.Context, place string) error
}

// Version is a version of a record as it came from the exchange.
type Version struct {
	Place, Name string
	Kind, Text  string
	Wrong       bool // this household did not seal it
}

// Refusal is what the exchange answers instead of doing what it was asked.
type Refusal struct {
	Word      string        // for the program
	Say       string        // for people
	StartOver bool          // it was put back to an earlier day
	After     time.Duration // to wait before asking again; 0 when that would be in vain
}

func (r *Refusal) Error() string { return "exchange: " + r.Word }

// Plain says it in a sentence for a person.
func (r *Refusal) Plain() string { return r.Say }

// refused tells whether an error is the refusal with this word.
func refused(err error, word string) bool {
	r, ok := errors.AsType[*Refusal](err)
	return ok && r.Word == word
}

// number is that of a place in the log; the beginning has 0.
func number(place string) uint64 {
	text, _, _ := strings.Cut(place, ".")
	n, _ := strconv.ParseUint(text, 10, 64)
	return n
}
