package journal

import (
	"context"
	"encoding/json"
	"fmt"
	"strconv"
	"time"

	"github.com/nats-io/nats.go"

	"larderlamp/share/store"
)

// After gives the versions of a household that follow a number, in their order, at
// most so many and about so many bytes. A server of a cluster that is behind gives
// fewer, and never leaves one out between two others.
func (j *Journal) After(ctx context.Context, household string, number uint64, most, bytes int) ([]store.Version, error) {
	ctx, done := context.WithTimeout(ctx, j.patience)
	defer done()
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
			stored, err := time.Parse(time.RFC3339Nano, m.Header.Get("Nats-Time-Stamp"))
			if err != nil {
				return nil, fmt.Errorf("%w: a version without its time: %w", store.ErrNotNow, err)
			}
			at, err := strconv.ParseUint(m.Header.Get("Nats-Sequence"), 10, 64)
			if err != nil {
				return nil, fmt.Errorf("%w: a version without its number: %w", store.ErrNotNow, err)
			}
			whose, name, size, err := parts(m.Header.Get("Nats-Subject"))
			if err != nil {
				return nil, err
			}
			if whose != household || at <= max(number, last) || size != int64(len(m.Data)) {
				return nil, fmt.Errorf("%w: a version that was not asked for", store.ErrNotNow)
			}
			last = at
			list = append(list, store.Version{Number: at, Stored: stored, Name: name, Sealed: m.Data})
		}
	}
}

// News tells of each version of a household that is stored from now on: its number.
// Notifications that come too fast for the reader are dropped, because every number
// says that all before it are there. The function ends it.
func (j *Journal) News(household string) (<-chan uint64, func(), error) {
	raw := make(chan *nats.Msg, 8)
	sub, err := j.conn.ChanSubscribe("news."+household, raw)
	if err != nil {
		return nil, nil, fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	// The next reader of the log must not miss what is stored right after.
	if err := j.conn.FlushTimeout(j.patience); err != nil {
		sub.Unsubscribe() // the connection is gone, and with it what it had asked for
		return nil, nil, fmt.Errorf("%w: %w", store.ErrNotNow, err)
	}
	news := make(chan uint64, 1)
	ended := make(chan struct{})
	go func() {
		for {
			select {
			case <-ended:
				return
			case m := <-raw:
				number, err := strconv.ParseUint(m.Header.Get("Nats-Sequence"), 10, 64)
				if err != nil {
					continue // from somebody who is not the log
				}
				select {
				case <-news: // the reader learns of the later one
				default:
				}
				news <- number
			}
		}
	}()
	return news, func() {
		sub.Unsubscribe()
		close(ended)
	}, nil
}
