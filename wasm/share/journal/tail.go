package journal

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"sync"
	"time"

	"github.com/nats-io/nats.go"

	"larderlamp/share/store"
)

// tail is what an exchange remembers of the end of the log. NATS finds the versions
// of one household by walking over those of all the others, so that each phone would
// cost more the more households there are. But the log tells every version that it
// stores, in its order, with the next number: as long as no number is missing, the
// tail knows which versions of a household follow a place, and that there are no
// others between them.
//
// It can be forgotten at any time: then the log is read.
type tail struct {
	mu    sync.Mutex
	moved *sync.Cond // the head is another one
	head  uint64     // the number that was told last
	owed  uint64     // the highest number that was acknowledged to this exchange
	floor uint64     // every version after this one, up to the head, was told
	homes map[string]*home
	count int // numbers in all homes

	recent  []told // the last versions up to the head, with their bytes
	bytes   int
	keep    int // how many bytes it may be
	late    time.Duration
	waiting map[string]map[chan uint64]struct{} // for news, by household
}

// home is what the tail knows of a household.
type home struct {
	floor   uint64 // as that of the tail; a removal is before it
	numbers []uint64
}

// told is a version as the log told it.
type told struct {
	household string
	store.Version
}

const (
	// So many bytes of versions are remembered, so that phones that wait get them at
	// once.
	mostRecent = 16 << 20
	// So many numbers are remembered, of eight bytes each.
	mostNumbers = 8 << 20
	// The log tells what it stored just before it acknowledges it. If that does not
	// arrive within this time, it was lost.
	late = time.Second
)

func newTail() *tail {
	t := &tail{keep: mostRecent, late: late, homes: map[string]*home{}, waiting: map[string]map[chan uint64]struct{}{}}
	t.moved = sync.NewCond(&t.mu)
	return t
}

// hear notes a version that the log tells.
func (t *tail) hear(m *nats.Msg) {
	v, err := read(m)
	t.mu.Lock()
	defer t.mu.Unlock()
	if err != nil { // from somebody who is not this log
		t.lose(t.head)
		return
	}
	if v.Number != t.head+1 || t.count >= mostNumbers {
		t.lose(v.Number - 1)
	}
	t.head = v.Number
	h := t.homes[v.household]
	if h == nil {
		h = &home{floor: t.floor}
		t.homes[v.household] = h
	}
	h.numbers = append(h.numbers, v.Number)
	t.count++
	t.recent = append(t.recent, v)
	for t.bytes += len(v.Sealed); t.bytes > t.keep; t.recent = t.recent[1:] {
		t.bytes -= len(t.recent[0].Sealed)
		t.recent[0] = told{} // or its bytes would stay in memory
	}
	t.moved.Broadcast()
	for phone := range t.waiting[v.household] {
		tell(phone, v.Number)
	}
}

// lose forgets everything up to a number, because something before it may not have
// been told. Every phone that waits looks at the log.
func (t *tail) lose(number uint64) {
	// When it is told again of what was long ago, it does not know that better than now.
	t.head, t.floor = number, max(number, t.head, t.floor)
	t.homes, t.count = map[string]*home{}, 0
	t.recent, t.bytes = nil, 0
	t.moved.Broadcast()
	for _, phones := range t.waiting {
		for phone := range phones {
			tell(phone, 0)
		}
	}
}

// tell tells a phone of a number, in place of an earlier one that it has not read.
func tell(phone chan uint64, number uint64) {
	select {
	case <-phone:
	default:
	}
	phone <- number
}

// compare is told the last number of the log, again and again. If it has not been
// told of the one before within that time, that was lost.
func (t *tail) compare(before, now uint64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.head < before {
		t.lose(now)
	}
}

// interrupted notes that something may not have been told.
func (t *tail) interrupted() {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.owed = 0 // the log may have been put back to an earlier day
	t.lose(t.head)
}

// begin begins with the last number of the log.
func (t *tail) begin(last uint64) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.head == 0 {
		t.head, t.floor = last, last
	}
}

// acknowledged notes that a version with this number is in the log.
func (t *tail) acknowledged(number uint64) {
	t.mu.Lock()
	t.owed = max(t.owed, number)
	t.mu.Unlock()
}

// removed forgets a household.
func (t *tail) removed(household string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if h := t.homes[household]; h != nil {
		t.count -= len(h.numbers)
	}
	// One that is founded again begins after what was removed.
	t.homes[household] = &home{floor: t.head}
}

// after gives the versions of a household that follow a number, if all of them are
// known: those that are in memory, or else the numbers of the next ones.
func (t *tail) after(ctx context.Context, household string, number uint64, most, bytes int) (list []store.Version, next []uint64, known bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.catchUp(ctx)
	h := t.homes[household]
	if h == nil {
		return nil, nil, number >= t.floor
	}
	if number < h.floor {
		return nil, nil, false
	}
	i, _ := slices.BinarySearch(h.numbers, number+1)
	next = h.numbers[i:min(i+most, len(h.numbers))]
	first := t.head + 1 - uint64(len(t.recent))
	size := 0
	for _, n := range next {
		if n < first || size >= bytes {
			break
		}
		v := t.recent[n-first].Version
		list = append(list, v)
		size += len(v.Sealed)
	}
	return list, slices.Clone(next), true
}

// catchUp waits until everything was told that was acknowledged: a phone must find
// what it has just sent.
func (t *tail) catchUp(ctx context.Context) {
	if t.head >= t.owed {
		return
	}
	within, done := context.WithTimeout(ctx, t.late)
	defer done()
	defer context.AfterFunc(within, func() {
		t.mu.Lock()
		defer t.mu.Unlock()
		t.moved.Broadcast()
	})()
	for t.head < t.owed && within.Err() == nil {
		t.moved.Wait()
	}
	if t.head < t.owed && ctx.Err() == nil {
		t.lose(t.owed)
	}
}

// listen has a phone told of each version of a household, until end is called.
func (t *tail) listen(household string) (news <-chan uint64, end func()) {
	t.mu.Lock()
	defer t.mu.Unlock()
	phone := make(chan uint64, 1)
	if t.waiting[household] == nil {
		t.waiting[household] = map[chan uint64]struct{}{}
	}
	t.waiting[household][phone] = struct{}{}
	return phone, func() {
		t.mu.Lock()
		defer t.mu.Unlock()
		delete(t.waiting[household], phone)
		if len(t.waiting[household]) == 0 {
			delete(t.waiting, household)
		}
	}
}

// read reads a version from a message of the log.
func read(m *nats.Msg) (told, error) {
	household, name, size, err := parts(m.Header.Get("Nats-Subject"))
	if err != nil {
		return told{}, err
	}
	if size != int64(len(m.Data)) {
		return told{}, fmt.Errorf("%w: a version of another size than it has", store.ErrNotNow)
	}
	stored, err := time.Parse(time.RFC3339Nano, m.Header.Get("Nats-Time-Stamp"))
	if err != nil {
		return told{}, fmt.Errorf("%w: a version without its time: %w", store.ErrNotNow, err)
	}
	number, err := strconv.ParseUint(m.Header.Get("Nats-Sequence"), 10, 64)
	if err != nil || number == 0 {
		return told{}, fmt.Errorf("%w: a version without its number", store.ErrNotNow)
	}
	return told{household, store.Version{Number: number, Stored: stored, Name: name, Sealed: m.Data}}, nil
}
