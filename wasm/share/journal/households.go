package journal

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/nats-io/nats.go"
	"github.com/nats-io/nats.go/jetstream"

	"larderlamp/share/store"
)

// Found makes a household, known by the digest of its token. [store.ErrTaken] says that
// it is there already.
func (j *Journal) Found(ctx context.Context, household string, digest []byte) error {
	if err := j.hasRoom(); err != nil {
		return err
	}
	ctx, done := context.WithTimeout(ctx, j.patience)
	defer done()
	_, err := j.js.Publish(ctx, "household."+household, digest, jetstream.WithExpectLastSequencePerSubject(0))
	if err != nil {
		return said(err, store.ErrNoMore)
	}
	return nil
}

// Digest gives the digest of the token of a household, or [store.ErrUnknown].
func (j *Journal) Digest(ctx context.Context, household string) ([]byte, error) {
	m, err := j.newest(ctx, households, "household."+household)
	if err != nil {
		return nil, err
	}
	if m == nil {
		return nil, store.ErrUnknown
	}
	return m.Data, nil
}

// Remove forgets a household and all of its versions, and tells every exchange.
func (j *Journal) Remove(ctx context.Context, household string) error {
	// Its versions go first: if this ends halfway, the household is there, and can be
	// removed again. They go once more for what was stored in the meantime. From then
	// on an exchange that has not been told of the removal forgets what it still stores.
	for _, of := range [][2]string{
		{versions, "version." + household + ".>"}, {households, "household." + household}, {versions, "version." + household + ".>"},
	} {
		s, err := j.js.Stream(ctx, of[0])
		if err == nil {
			err = s.Purge(ctx, jetstream.WithPurgeSubject(of[1]))
		}
		if err != nil {
			return fmt.Errorf("%w: %w", store.ErrNotNow, err)
		}
	}
	j.tail.removed(household)
	return j.conn.Publish("removed."+household, nil)
}

// Forget forgets versions of a household that was removed while they were stored.
func (j *Journal) Forget(ctx context.Context, household string, numbers []uint64) error {
	ctx, done := context.WithTimeout(ctx, j.patience)
	defer done()
	s, err := j.js.Stream(ctx, versions)
	if err != nil {
		return fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	for _, n := range numbers {
		_, err := j.Stored(ctx, household, n)
		if errors.Is(err, store.ErrNotThere) {
			continue
		}
		if err == nil {
			err = s.DeleteMsg(ctx, n)
		}
		if err != nil {
			return fmt.Errorf("%w: %w", store.ErrNotNow, err)
		}
	}
	return nil
}

// WhenRemoved calls f whenever any exchange has removed a household.
func (j *Journal) WhenRemoved(f func(household string)) error {
	_, err := j.conn.Subscribe("removed.*", func(m *nats.Msg) { f(strings.TrimPrefix(m.Subject, "removed.")) })
	return err
}
