package journal

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"github.com/nats-io/nats.go"

	"larderlamp/share/store"
)

// CatchUp has After give what is in the log by now. In a cluster, other exchanges store
// too, and what they stored may not have been told here yet, or not at all: after a
// server was cut off, for instance.
func (j *Journal) CatchUp(ctx context.Context) error {
	if j.alone {
		return nil // it knows of everything that it has stored
	}
	last, err := j.last(ctx)
	if err != nil {
		return fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	j.tail.acknowledged(last)
	return nil
}

// After gives the versions of a household that follow a number, in their order, at
// most so many and about so many bytes. A server of a cluster that is behind gives
// fewer, and never leaves one out between two others.
func (j *Journal) After(ctx context.Context, household string, number uint64, most, bytes int) ([]store.Version, error) {
	ctx, done := context.WithTimeout(ctx, j.patience)
	defer done()
	if !j.conn.IsConnected() { // what is remembered may be far behind
		return nil, fmt.Errorf("%w: %w", store.ErrNotNow, nats.ErrDisconnected)
	}
	list, next, known := j.tail.after(ctx, household, number, most, bytes)
	if known && len(list) == 0 && len(next) > 0 {
		var err error
		if list, err = j.pick(ctx, household, next, bytes); err != nil {
			return nil, err
		}
		known = len(list) > 0 // or else they were removed, or the server is behind
	}
	if known {
		return list, nil
	}
	return j.scan(ctx, household, number, most, bytes)
}

// pick reads versions by their numbers, up to the first that is not there.
func (j *Journal) pick(ctx context.Context, household string, numbers []uint64, bytes int) (list []store.Version, err error) {
	// So many are on their way at a time.
	const ahead = 16
	inbox := j.conn.NewInbox()
	answers := make(chan *nats.Msg, ahead)
	sub, err := j.conn.ChanSubscribe(inbox+".*", answers)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	defer sub.Unsubscribe() // of a connection that is gone nothing is left to undo
	for size := 0; len(numbers) > 0 && size < bytes; {
		now := numbers[:min(ahead, len(numbers))]
		numbers = numbers[len(now):]
		for i, n := range now {
			if err := j.conn.PublishRequest("$JS.API.DIRECT.GET."+versions, inbox+"."+strconv.Itoa(i), fmt.Appendf(nil, `{"seq":%d}`, n)); err != nil {
				return nil, fmt.Errorf("%w: %w", store.ErrNotNow, err)
			}
		}
		got := make([]*nats.Msg, len(now))
		for range now {
			select {
			case <-ctx.Done():
				return nil, fmt.Errorf("%w: %w", store.ErrNotNow, ctx.Err())
			case m := <-answers:
				i, err := strconv.Atoi(strings.TrimPrefix(m.Subject, inbox+"."))
				if err != nil || i < 0 || i >= len(got) {
					return nil, fmt.Errorf("%w: an answer that was not asked for", store.ErrNotNow)
				}
				got[i] = m
			}
		}
		for i, m := range got {
			if m == nil || m.Header.Get("Status") != "" {
				return list, nil
			}
			v, err := read(m)
			if err != nil {
				return nil, err
			}
			if v.household != household || v.Number != now[i] {
				return nil, fmt.Errorf("%w: a version that was not asked for", store.ErrNotNow)
			}
			list = append(list, v.Version)
			size += len(v.Sealed)
		}
	}
	return list, nil
}

// scan reads the same from the log, in which NATS walks over the versions of all
// households.
func (j *Journal) scan(ctx context.Context, household string, number uint64, most, bytes int) ([]store.Version, error) {
	ask, err := json.Marshal(map[string]any{
		"seq": number + 1, "next_by_subj": "version." + household + ".*.*", "batch": most, "max_bytes": bytes,
	})
	if err != nil {
		return nil, err
	}
	inbox := j.conn.NewInbox()
	// It has room for all of the answer, and so none of it is dropped.
	answers := make(chan *nats.Msg, most+1)
	sub, err := j.conn.ChanSubscribe(inbox, answers)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	defer sub.Unsubscribe() // of a connection that is gone nothing is left to undo
	if err := j.conn.PublishRequest("$JS.API.DIRECT.GET."+versions, inbox, ask); err != nil {
		return nil, fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	var list []store.Version
	last := uint64(0)
	for {
		select {
		case <-ctx.Done():
			return nil, fmt.Errorf("%w: %w", store.ErrNotNow, ctx.Err())
		case m := <-answers:
			status := m.Header.Get("Status")
			if status == "404" { // there is nothing
				return nil, nil
			}
			// Each piece, and the end, names the piece before it.
			if before, err := strconv.ParseUint(m.Header.Get("Nats-Last-Sequence"), 10, 64); err != nil || before != last {
				return nil, fmt.Errorf("%w: a piece of its answer is missing", store.ErrNotNow)
			}
			switch status {
			case "":
			case "204":
				return list, nil
			default:
				return nil, fmt.Errorf("%w: status %s %s", store.ErrNotNow, status, m.Header.Get("Description"))
			}
			v, err := read(m)
			if err != nil {
				return nil, err
			}
			if v.household != household || v.Number <= max(number, last) {
				return nil, fmt.Errorf("%w: a version that was not asked for", store.ErrNotNow)
			}
			last = v.Number
			list = append(list, v.Version)
		}
	}
}

// News tells of each version of a household that is stored from now on: its number,
// or 0 when some may not have been told. What comes too fast for the reader is left
// out, because every number says that all before it are there. The function ends it.
func (j *Journal) News(household string) (<-chan uint64, func()) { return j.tail.listen(household) }
