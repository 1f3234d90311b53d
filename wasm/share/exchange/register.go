package exchange

import (
	"context"
	"errors"
	"sync"
	"time"

	"golang.org/x/time/rate"

	"larderlamp/share/store"
)

// household is what an exchange remembers about a household for a while. All of it
// can be read from the log again, except its request rate.
type household struct {
	digest           []byte
	writing, reading *rate.Limiter

	mu       sync.Mutex
	versions int
	bytes    int64
	read     time.Time // when the log was asked
	waiting  int       // phones that wait for news
	latest   []uint64  // the numbers of the last versions that were stored
	gone     chan struct{}
}

// How long a count from the log is trusted. Other exchanges of the same log accept
// versions too, which are not counted here until then.
const believed = 5 * time.Minute

// How many households are remembered. Requests for a hundred thousand others in
// between only cause the log to be read again.
const remembered = 100_000

// register is the households that an exchange remembers.
type register struct {
	log      store.Log
	limits   Limits
	founding *rate.Limiter

	mu        sync.Mutex
	known     map[string]*household
	listening int
}

func newRegister(log store.Log, l Limits) *register {
	return &register{log: log, limits: l, known: map[string]*household{},
		founding: rate.NewLimiter(rate.Limit(l.Founding), max(10, int(l.Founding)))}
}

// get gives a household, asking the log when it has to.
func (r *register) get(ctx context.Context, id string) (*household, error) {
	r.mu.Lock()
	h := r.known[id]
	r.mu.Unlock()
	if h != nil {
		h.mu.Lock()
		fresh := time.Since(h.read) < believed
		h.mu.Unlock()
		if fresh {
			return h, nil
		}
	}
	digest, err := r.log.Digest(ctx, id)
	if errors.Is(err, store.ErrUnknown) {
		r.forget(id) // it was removed, and there was no notification
	}
	if err != nil {
		return nil, err
	}
	versions, bytes, err := r.log.Count(ctx, id)
	if err != nil {
		return nil, err
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if h = r.known[id]; h == nil {
		r.makeRoom()
		h = &household{
			digest:  digest,
			writing: rate.NewLimiter(rate.Limit(r.limits.Rate), r.limits.Burst),
			reading: rate.NewLimiter(rate.Limit(r.limits.Rate), r.limits.Burst),
			gone:    make(chan struct{}),
		}
		r.known[id] = h
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	h.versions, h.bytes, h.read = versions, bytes, time.Now()
	return h, nil
}

// makeRoom forgets some household that nobody waits for, if there are many.
func (r *register) makeRoom() {
	if len(r.known) < remembered {
		return
	}
	for id, h := range r.known {
		h.mu.Lock()
		idle := h.waiting == 0
		h.mu.Unlock()
		if idle {
			delete(r.known, id)
			return
		}
	}
}

// forget ends what waits for a household, and forgets it.
func (r *register) forget(id string) {
	r.mu.Lock()
	defer r.mu.Unlock()
	h := r.known[id]
	if h == nil {
		return
	}
	close(h.gone)
	delete(r.known, id)
	h.mu.Lock()
	defer h.mu.Unlock()
	if late := h.latest; len(late) > 0 {
		// What was stored after the removal and before this exchange was told of it. If
		// the log does not answer, it stays behind, where no phone gets it.
		go r.log.Forget(context.Background(), id, late)
	}
}

// mostLatest is how many versions an exchange may store between the removal of a
// household and its being told.
const mostLatest = 128

// stored notes the number of a version that was stored, unless the household was
// removed in the meantime.
func (h *household) stored(number uint64) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	select {
	case <-h.gone:
		return false
	default:
	}
	if len(h.latest) == mostLatest {
		h.latest = append(h.latest[:0], h.latest[mostLatest/2:]...)
	}
	h.latest = append(h.latest, number)
	return true
}

// reserve counts a version that is about to be stored, if there is room for it.
func (h *household) reserve(size int64, l Limits) bool {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.versions >= l.Versions || h.bytes+size > l.Bytes {
		return false
	}
	h.versions++
	h.bytes += size
	return true
}

// release takes back what was not stored, or was there before.
func (h *household) release(size int64) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.versions--
	h.bytes -= size
}

// listen counts a phone that waits for news, if it may; done ends that.
func (r *register) listen(h *household) (done func(), ok bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	h.mu.Lock()
	defer h.mu.Unlock()
	if r.listening >= r.limits.Listeners || h.waiting >= r.limits.Phones {
		return nil, false
	}
	r.listening++
	h.waiting++
	return func() {
		r.mu.Lock()
		defer r.mu.Unlock()
		h.mu.Lock()
		defer h.mu.Unlock()
		r.listening--
		h.waiting--
	}, true
}
