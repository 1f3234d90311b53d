package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"time"

	"larderlamp/rules/prose"

	"github.com/google/uuid"
)

// Kind is a kind of record.
type Kind string

// The kinds of records, in the order in which they refer to each other.
const (
	Places  Kind = "places"
	Batches Kind = "batches"
	Jars    Kind = "jars"
	Checks  Kind = "checks"
	Photos  Kind = "photos"
	Sweeps  Kind = "sweeps"
	Trips   Kind = "trips"
)

// Kinds lists every kind that a backup holds, except the settings.
var Kinds = []Kind{Places, Batches, Jars, Checks, Photos, Sweeps, Trips}

var kindWords = map[Kind]prose.Text{Places: "places", Batches: "batches", Jars: "jars", Checks: "checks", Photos: "photos", Sweeps: "sweeps", Trips: "trips"}

// Text names records of the kind.
func (k Kind) Text() prose.Text { return kindWords[k] }

// Record is one thing that a household keeps.
type Record interface {
	Kind() Kind
	Key() string     // the id
	IsDeleted() bool // deleted, kept only as a mark
	Validate() error
	Encode() ([]byte, error)
	Delete(now time.Time)
	Restore(now time.Time)

	head() *Head
	// body is the record as JSON, without what Head keeps for merging.
	body() ([]byte, error)
}

// Head is at the beginning of every record.
type Head struct {
	Version  int        `json:"version"`
	ID       string     `json:"id"` // UUIDv7, so that ids sort by the time they were made
	Changed  time.Time  `json:"changed"`
	Revision int64      `json:"revision"`          // grows with every change
	Deleted  *time.Time `json:"deleted,omitempty"` // set while it is in the bin
	// Past names the versions of this record that this one has replaced, so
	// that a merge can distinguish an older version from one made elsewhere.
	Past []string `json:"past,omitempty"`
	// Aside holds the versions made elsewhere that lost in a merge. Nothing is
	// lost: the person is shown them and decides.
	Aside []json.RawMessage `json:"aside,omitempty"`

	last string // names the version that was read or written last
	read []byte // or the text of that version, until somebody asks for the name
}

// newID makes an id. Ids sort by the time they were made.
func newID() (string, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return "", fmt.Errorf("no id: %w", err)
	}
	return id.String(), nil
}

// newHead begins a record.
func newHead(now time.Time) (Head, error) {
	id, err := newID()
	return Head{Version: Version, ID: id, Changed: now.UTC()}, err
}

func (h *Head) head() *Head { return h }

// Key implements [Record].
func (h *Head) Key() string { return h.ID }

// IsDeleted implements [Record].
func (h *Head) IsDeleted() bool { return h.Deleted != nil }

// Touch records a change. A clock that was set back does not make it older than
// the last one.
func (h *Head) Touch(now time.Time) {
	if now.After(h.Changed) {
		h.Changed = now.UTC()
	}
	h.Revision++
}

// Delete moves the record to the trash: it stays as a mark that it was deleted,
// so that a merge with an older copy does not bring it back.
func (h *Head) Delete(now time.Time) {
	h.Touch(now)
	at := h.Changed
	h.Deleted = &at
}

// Restore takes the record out of the trash.
func (h *Head) Restore(now time.Time) {
	h.Touch(now)
	h.Deleted = nil
}

// check says what is wrong with the head.
func (h *Head) check(f *faults) {
	if !isID(h.ID) {
		f.record = strings.TrimSuffix(f.record, h.ID) + strconv.Quote(h.ID)
		f.add("id", "%q is not an id of this program", h.ID)
	}
	if h.Version < 1 || h.Version > Version {
		f.add("version", "%d, this program knows 1 to %d", h.Version, Version)
	}
	f.time("changed", h.Changed)
	if h.Deleted != nil {
		f.time("deleted", *h.Deleted)
	}
	if h.Revision < 0 || h.Revision > 1<<52 {
		f.add("revision", "%d is not a count of changes", h.Revision)
	}
	if len(h.Past) > 5000 || len(h.Aside) > 100 {
		f.add("past", "%d earlier versions and %d set aside are too many", len(h.Past), len(h.Aside))
	}
	for _, p := range h.Past {
		if !IsName(p) {
			f.add("past", "%q is not the name of a version", p)
		}
	}
}

func isID(s string) bool {
	id, err := uuid.Parse(s)
	return err == nil && id.Version() == 7 && id.String() == s
}

// bodyOf is a record as JSON without its past and what was set aside. It works on a
// copy: a record may be read by the page while it is written.
func bodyOf[T any, R interface {
	*T
	head() *Head
}](r R) ([]byte, error) {
	copied := *r
	h := R(&copied).head()
	h.Past, h.Aside = nil, nil
	return json.Marshal(&copied)
}

// encode writes a record as JSON, after validating it.
func encode(r Record, whole any) ([]byte, error) {
	if err := r.Validate(); err != nil {
		return nil, err
	}
	h := r.head()
	body, err := r.body()
	if err != nil {
		return nil, err
	}
	if h.read != nil {
		before, err := Decode(r.Kind(), h.read)
		if err != nil {
			return nil, err
		}
		text, err := before.body()
		if err != nil {
			return nil, err
		}
		h.last, h.read = named(text), nil
	}
	now := named(body)
	if h.last != "" && h.last != now {
		h.Past = append(h.Past, h.last)
	}
	h.last = now
	h.tidy()
	return json.Marshal(whole)
}

// decodeInto reads a record and validates it. Fields it does not know are an
// error.
func decodeInto[R Record](text []byte, r R) (R, error) {
	if err := decode(text, r); err != nil {
		return r, fmt.Errorf("%s %q: %w", r.Kind(), r.Key(), err)
	}
	if err := r.Validate(); err != nil {
		return r, err
	}
	h := r.head()
	h.Version = Version
	for i, a := range h.Aside {
		if err := h.checkAside(r.Kind(), a); err != nil {
			return r, fmt.Errorf("%s %s: aside: %d: %w", r.Kind(), r.Key(), i+1, err)
		}
		var b bytes.Buffer
		if err := json.Compact(&b, a); err != nil {
			return r, fmt.Errorf("%s %s: aside: %d: %w", r.Kind(), r.Key(), i+1, err)
		}
		h.Aside[i] = b.Bytes()
	}
	h.tidy()
	h.read = text
	return r, nil
}

// blank is an empty record of a kind, or nil.
func blank(kind Kind) Record {
	switch kind {
	case Places:
		return &Place{}
	case Batches:
		return &Batch{}
	case Jars:
		return &Jar{}
	case Checks:
		return &Check{}
	case Photos:
		return &Photo{}
	case Sweeps:
		return &Sweep{}
	case Trips:
		return &Trip{}
	}
	return nil
}

// Decode reads a record of a kind.
func Decode(kind Kind, text []byte) (Record, error) {
	r := blank(kind)
	if r == nil {
		return nil, fmt.Errorf("%q is not a kind of record", kind)
	}
	return decodeInto(text, r)
}
