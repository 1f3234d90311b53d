package store

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"syscall/js"

	"github.com/hack-pad/go-indexeddb/idb"
)

// mostHeals limits how often one opening adds what is missing: another page may
// do the same at the same moment.
const mostHeals = 5

// connect opens the database and adds whatever is missing, whatever its version
// says. On some devices, a program that opened it only to read has created an
// empty database, which the steps then never completed.
func (s *IndexedDB) connect(ctx context.Context) (db *idb.Database, err error) {
	defer rescue("open", &err)
	version := uint(len(s.steps))
	for range mostHeals {
		db, err = s.open(ctx, version)
		if errors.Is(err, errVersion) && version != 0 {
			// From a newer edition, or on a device to which something was
			// added.
			version = 0
			continue
		}
		if err != nil {
			return nil, err
		}
		have, err := db.ObjectStoreNames()
		if err != nil {
			return nil, wrap("open", err)
		}
		// Every step of the schema adds a kind.
		for _, name := range have {
			if !slices.Contains(kinds(s.steps), name) {
				return nil, errors.Join(fmt.Errorf("store: open: there are %s: %w", name, ErrNewer), db.Close())
			}
		}
		if len(have) == len(kinds(s.steps)) {
			return db, nil
		}
		now, err := db.Version()
		if err == nil {
			err = db.Close()
		}
		if err != nil {
			return nil, wrap("open", err)
		}
		version = now + 1
	}
	return nil, fmt.Errorf("store: open: something is missing however often it is added: %w", ErrRefused)
}

// open opens the database at a version, or as it is when the version is 0, and
// adds the kinds that are missing when the browser lets it.
func (s *IndexedDB) open(ctx context.Context, version uint) (*idb.Database, error) {
	helper := js.Global().Get("larderStore")
	if !helper.Truthy() {
		return nil, fmt.Errorf("store: idb.js is not loaded: %w", ErrRefused)
	}
	factory, err := idb.WrapFactory(helper.Get("factory"))
	if err != nil {
		return nil, wrap("open", err)
	}
	// With its context the library would stop listening for the upgrade. A browser
	// that was blocked by another tab would then create the new version without
	// its stores.
	request, err := factory.Open(context.WithoutCancel(ctx), s.name, version, func(db *idb.Database, _, _ uint) error {
		have, err := db.ObjectStoreNames()
		if err != nil {
			return err
		}
		for _, kind := range kinds(s.steps) {
			if slices.Contains(have, kind) {
				continue
			}
			if _, err := db.CreateObjectStore(kind, idb.ObjectStoreOptions{}); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, wrap("open", err)
	}
	db, err := request.Await(ctx)
	// When it stops waiting, the library returns nothing and no error.
	if ctx.Err() != nil {
		return nil, fmt.Errorf("store: open: %w: %w", ErrRefused, ctx.Err())
	}
	if err != nil {
		return nil, wrap("open", err)
	}
	return db, nil
}

// kinds lists the kinds of a schema.
func kinds(steps []Step) (names []string) {
	for _, step := range steps {
		for _, k := range step {
			names = append(names, string(k))
		}
	}
	return
}

// connected calls f with the connection. Phones close connections while they
// sleep, and browsers when they clean up: then it is opened again and f is
// called once more. A write of f happens completely or not at all, so that
// writing it twice does no harm.
func (s *IndexedDB) connected(ctx context.Context, doing string, f func(*idb.Database) error) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	for again := false; ; again = true {
		db, err := s.connection(ctx)
		if err == nil {
			err = attempt(doing, db, f)
		}
		if err == nil || again || !errors.Is(err, errCutOff) {
			return err
		}
		js.Global().Get("console").Call("warn", "storage is opened again: "+err.Error())
		s.drop(db)
	}
}

// attempt calls f and turns what the browser throws into an error.
func attempt(doing string, db *idb.Database, f func(*idb.Database) error) (err error) {
	defer rescue(doing, &err)
	return f(db)
}

// connection returns the connection, and opens one if there is none.
func (s *IndexedDB) connection(ctx context.Context) (*idb.Database, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.closed {
		return nil, fmt.Errorf("store: %s was given back: %w", s.name, ErrClosed)
	}
	if s.db == nil {
		ctx, cancel := context.WithTimeout(ctx, patience)
		defer cancel()
		db, err := s.connect(ctx)
		if err != nil {
			return nil, err
		}
		s.db = db
	}
	return s.db, nil
}

// drop forgets a connection that the system has closed.
func (s *IndexedDB) drop(db *idb.Database) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.db == db && db != nil {
		_ = db.Close() // it is useless either way
		s.db = nil
	}
}
