// Package store keeps the records of a household on the device: rows of JSON
// text by kind and id. There are two stores, one in memory and one in the
// browser's IndexedDB, and one test suite for both.
package store

import (
	"context"
	"errors"

	"larderlamp/rules/prose"
)

// Kind is a kind of record, and the name of its object store.
type Kind string

// The kinds of what is not a record. Those of the records are named in app/record.
const (
	KindSettings Kind = "settings"
	// KindShared is what this device knows about a shared shelf: see app/share. It
	// is not part of a backup.
	KindShared Kind = "shared"
)

// Step is one step of the schema: the kinds that it adds. The number of steps
// is the version of the database; steps are only ever added at the end.
type Step []Kind

// Steps is the schema, as it grew; a test of app/ledger holds it to the kinds of
// the records.
var Steps = []Step{
	{"checks", KindSettings},
	{"places", "batches", "jars", "photos", "sweeps"},
	{"trips"},
	{KindShared},
}

// Row is one record.
type Row struct {
	Kind Kind
	ID   string
	JSON []byte // without line ends, as encoding/json writes it
}

// Change is one row to put or delete.
type Change struct {
	Row    Row
	Delete bool
}

// ListOptions choose the rows of a list.
type ListOptions struct {
	Newest bool   // ids in descending order; ids are UUIDv7, so the newest come first
	After  string // only rows after this id in that order; "" for all
	Limit  int    // at most this many rows; 0 for all
}

// Store keeps rows. Its methods may be called from several goroutines.
type Store interface {
	// Write makes all changes or, when it returns an error, none.
	Write(ctx context.Context, changes []Change) error
	// WriteAll makes all changes that fill puts or, when fill or the writing
	// returns an error, none. It is for more rows than the program can hold at
	// once.
	WriteAll(ctx context.Context, fill func(put func(Change) error) error) error
	// Get returns one row, or ErrNotFound.
	Get(ctx context.Context, kind Kind, id string) (Row, error)
	// List returns rows in the order of their ids.
	List(ctx context.Context, kind Kind, options ListOptions) ([]Row, error)
	// Lock waits until no other page of the site is between reading something
	// and writing it back, and returns a function that lets the next page
	// continue.
	Lock(ctx context.Context) (done func())
	// Close closes the store. It must not be used afterward.
	Close() error
}

// Status says whether and how this device keeps records.
type Status struct {
	Durable bool       // records outlive the page
	Message prose.Text // why not, in plain words
}

// fault is an error that a screen can show as it is.
type fault struct {
	code  string
	plain prose.Text
}

func (f *fault) Error() string { return "store: " + f.code }

// Plain says it in a sentence for a person.
func (f *fault) Plain() prose.Text { return f.plain }

// The errors of a store. Others are wrapped and mean a fault of this program or
// of the browser.
var (
	ErrNotFound error = &fault{"not found", "It is not on this device."}
	ErrFull     error = &fault{"full", "The browser has no room left for this site."}
	ErrNewer    error = &fault{"of a newer edition", "A newer edition is open in another tab. Reload this page."}
	ErrClosed   error = &fault{"closed", "It was closed. Load this page again."}
	ErrRefused  error = &fault{"refused", "The browser does not let this page keep anything, as in a private window."}
)

// unknownKind is the error for a kind that is not in the schema.
func unknownKind(k Kind) error { return errors.New("store: no kind " + string(k)) }

// known reports whether the schema has the kind.
func known(k Kind) bool {
	for _, step := range Steps {
		for _, have := range step {
			if have == k {
				return true
			}
		}
	}
	return false
}

// check refuses changes that can't be stored.
func check(changes []Change) error {
	for _, c := range changes {
		switch {
		case !known(c.Row.Kind):
			return unknownKind(c.Row.Kind)
		case c.Row.ID == "":
			return errors.New("store: " + string(c.Row.Kind) + ": a row without an id")
		}
		for _, b := range c.Row.JSON {
			if b == '\n' {
				return errors.New("store: " + string(c.Row.Kind) + " " + c.Row.ID + ": a line end in the row")
			}
		}
	}
	return nil
}
