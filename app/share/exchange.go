package share

import (
	"context"
	"errors"
	"strconv"
	"strings"
	"time"

	"larderlamp/rules/prose"
)

// Exchange is where the phones of a household meet, with the secret of one
// household: it seals what is sent and opens what comes.
type Exchange interface {
	// Found creates the household, or finds it already created.
	Found(ctx context.Context) error
	// Remove makes the exchange forget the household.
	Remove(ctx context.Context) error
	// Send sends one version and gives its name and its number in the log.
	Send(ctx context.Context, kind, text string) (name string, number uint64, err error)
	// List returns what follows a place in the log, "" for its beginning. An
	// empty result means that this was all.
	List(ctx context.Context, place string) ([]Version, error)
	// Wait returns when something may follow the place, or when the connection
	// ends.
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
	Word      string
	StartOver bool          // it was reset to an earlier day
	After     time.Duration // how long to wait before asking again; 0 when asking again is useless
}

func (r *Refusal) Error() string { return "exchange: " + r.Word }

// said is what each word of an exchange means to a person. The exchange's own
// sentence is not shown: this guide decides what is on a screen.
var said = map[string]prose.Text{
	"no-household":       "This shelf is not shared here, or not any more.",
	"wrong-token":        "This shelf is not shared here, or not any more.",
	"place-gone":         "The exchange was put back to an earlier day. It gets everything again.",
	"no-place":           "The exchange was put back to an earlier day. It gets everything again.",
	"too-large":          "The record is too large to be shared. It stays on this phone.",
	"household-full":     "The household has no more room at the exchange. Everything stays on this phone. Make a new code to begin with what is here today.",
	"exchange-full":      "The exchange has no more room. Everything stays on this phone.",
	"no-more-households": "There is no room here for one more household.",
	"too-fast":           "The exchange is asked too much at the moment. It goes on by itself.",
	"too-many-phones":    "Too many phones wait at this exchange. It goes on by itself.",
	"not-now":            "The exchange cannot reach its log. Everything stays on this phone and is sent later.",
	"nobody":             "The exchange cannot be reached now.",
	"stranger":           "Something else answers than the exchange, such as a sign-in page.",
	"not-loaded":         "The part of the guide that shares a shelf could not be loaded. Load this page again.",
	"no-code":            "This is no code to join a shelf. Copy the whole link.",
}

// Plain says it in a sentence for a person.
func (r *Refusal) Plain() prose.Text {
	if t, ok := said[r.Word]; ok {
		return t
	}
	return "The exchange refuses it, and this guide does not know why. A newer edition may."
}

// refused reports whether an error is the refusal with this word.
func refused(err error, word string) bool {
	r, ok := errors.AsType[*Refusal](err)
	return ok && r.Word == word
}

// number is the number of a place in the log; the beginning is 0.
func number(place string) uint64 {
	text, _, _ := strings.Cut(place, ".")
	n, _ := strconv.ParseUint(text, 10, 64)
	return n
}
