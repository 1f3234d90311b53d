package share

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"

	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/store"
)

// take merges versions with what is here: all of them, with the place that was
// reached, or nothing.
func (r *Round) take(ctx context.Context, list []Version) error {
	done := r.Store.Lock(ctx)
	came, err := r.write(ctx, list)
	done()
	if err == nil && came && r.Came != nil {
		r.Came()
	}
	return err
}

func (r *Round) write(ctx context.Context, list []Version) (came bool, err error) {
	h, err := r.household(ctx)
	if err != nil {
		return false, err
	}
	waiting, err := readUnmet(ctx, r.Store)
	if err != nil {
		return false, err
	}
	t := taking{r.Store, waiting, map[string]store.Row{}, nil}
	for _, v := range list {
		h.Place = v.Place
		// Somebody without a key can send something that does not open. A version
		// that is not a record is from a later edition, or from nobody: it is
		// counted and ignored.
		if v.Wrong {
			h.Wrong++
			continue
		}
		switch err := t.one(ctx, v); {
		case errors.Is(err, errNoRecord):
			h.Wrong++
		case err != nil:
			return false, err
		}
	}
	changes := append(t.notes, row(householdID, h))
	for _, at := range t.rows {
		changes = append(changes, store.Change{Row: at})
		came = came || at.Kind != store.KindShared
	}
	return came, r.Store.Write(ctx, changes)
}

// taking is what is about to be written.
type taking struct {
	store   store.Store
	waiting map[string]unmet
	rows    map[string]store.Row // the rows by key
	notes   []store.Change
}

// errNoRecord means that a version cannot be read as a record.
var errNoRecord = errors.New("share: no record")

// here returns the row with a key as it is here, or will be.
func (t *taking) here(ctx context.Context, kind store.Kind, id string) (*store.Row, error) {
	if at, ok := t.rows[key(kind, id)]; ok {
		return &at, nil
	}
	at, err := t.store.Get(ctx, kind, id)
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	return &at, err
}

// met records that a version has come back from the log.
func (t *taking) met(key, name string) {
	if t.waiting[key].Name == name {
		t.notes = append(t.notes, gone(unmetRows+key))
		delete(t.waiting, key)
	}
}

func (t *taking) one(ctx context.Context, v Version) error {
	if v.Kind == KindPhone {
		return t.phone(ctx, v)
	}
	if !shared(store.Kind(v.Kind)) {
		return errNoRecord
	}
	theirs, err := record.Decode(record.Kind(v.Kind), []byte(v.Text))
	if err != nil {
		return fmt.Errorf("%w: %w", errNoRecord, err)
	}
	kind, id := store.Kind(v.Kind), theirs.Key()
	defer t.met(key(kind, id), v.Name)
	here, err := t.here(ctx, kind, id)
	if err != nil {
		return err
	}
	both := theirs
	if here != nil {
		ours, err := record.Decode(theirs.Kind(), here.JSON)
		if err != nil {
			return err
		}
		if both, err = record.Merge(ours, theirs); err != nil {
			return fmt.Errorf("%w: %w", errNoRecord, err)
		}
	}
	if err := t.put(both, here); err != nil {
		return err
	}
	if c, ok := both.(*record.Check); ok {
		return t.gather(ctx, c)
	}
	return nil
}

// put notes a record to be written, if it differs from the one here.
func (t *taking) put(r record.Record, here *store.Row) error {
	text, err := r.Encode()
	if err != nil {
		return err
	}
	kind, id := store.Kind(r.Kind()), r.Key()
	if here == nil || !bytes.Equal(here.JSON, text) {
		t.rows[key(kind, id)] = store.Row{Kind: kind, ID: id, JSON: text}
	}
	return nil
}

// gather makes one check of what two people have answered in it at the same time,
// adds that to its jar, and shares both: neither may be left with a milder verdict
// than both of them together have reason for.
func (t *taking) gather(ctx context.Context, c *record.Check) error {
	if len(c.Aside) == 0 {
		return nil
	}
	gathered, err := session.Gather(c)
	if err != nil {
		return err
	}
	if gathered {
		if err := t.share(c); err != nil {
			return err
		}
	}
	if c.Jar == "" {
		return nil
	}
	at, err := t.here(ctx, store.Kind(record.Jars), c.Jar)
	if err != nil || at == nil {
		return err
	}
	j, err := record.DecodeJar(at.JSON)
	if err != nil || !j.AddGathered(c) {
		return err
	}
	return t.share(j)
}

// share notes a record to be written and sent.
func (t *taking) share(r record.Record) error {
	if err := t.put(r, nil); err != nil {
		return err
	}
	k := key(store.Kind(r.Kind()), r.Key())
	t.waiting[k] = unmet{}
	t.notes = append(t.notes, row(unmetRows+k, unmet{}))
	return nil
}

// phone stores what a phone says about itself, if it counts.
func (t *taking) phone(ctx context.Context, v Version) error {
	var theirs Phone
	if err := json.Unmarshal([]byte(v.Text), &theirs); err != nil || theirs.ID == "" {
		return errNoRecord
	}
	id := phoneRows + theirs.ID
	defer t.met(id, v.Name)
	here, err := t.here(ctx, store.KindShared, id)
	if err != nil {
		return err
	}
	if here != nil {
		var ours Phone
		if err := json.Unmarshal(here.JSON, &ours); err != nil {
			return fmt.Errorf("%s: %w", id, err)
		}
		if !theirs.replaces(&ours) {
			return nil
		}
	}
	t.rows[key(store.KindShared, id)] = row(id, theirs).Row
	return nil
}
