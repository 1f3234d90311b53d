package ledger

import (
	"context"
	"fmt"
	"slices"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

// device is a store in memory that fails, hangs and is changed by another tab when a
// test wants it to.
type device struct {
	*store.Memory
	mu      sync.Mutex
	fault   error         // every write fails with this error, if it is set
	only    string        // only writes of this record fail
	noReads bool          // every read fails too
	hold    chan struct{} // a write waits until this is closed, if it is set
	written [][]string    // ids in each write that succeeded
}

func (d *device) set(change func()) {
	d.mu.Lock()
	defer d.mu.Unlock()
	change()
}

func (d *device) Write(ctx context.Context, changes []store.Change) error {
	d.mu.Lock()
	hold := d.hold
	d.mu.Unlock()
	if hold != nil {
		<-hold
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	has := func(c store.Change) bool { return d.only == "" || c.Row.ID == d.only }
	if d.fault != nil && slices.ContainsFunc(changes, has) {
		return d.fault
	}
	if err := d.Memory.Write(ctx, changes); err != nil {
		return err
	}
	var ids []string
	for _, c := range changes {
		ids = append(ids, c.Row.ID)
	}
	d.written = append(d.written, ids)
	return nil
}

func (d *device) WriteAll(ctx context.Context, fill func(func(store.Change) error) error) error {
	d.mu.Lock()
	fault := d.fault
	d.mu.Unlock()
	return d.Memory.WriteAll(ctx, func(put func(store.Change) error) error {
		if err := fill(put); err != nil {
			return err
		}
		return fault
	})
}

func (d *device) reading() error {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.noReads {
		return d.fault
	}
	return nil
}

func (d *device) Get(ctx context.Context, kind store.Kind, id string) (store.Row, error) {
	if err := d.reading(); err != nil {
		return store.Row{}, err
	}
	return d.Memory.Get(ctx, kind, id)
}

func (d *device) List(ctx context.Context, kind store.Kind, o store.ListOptions) ([]store.Row, error) {
	if err := d.reading(); err != nil {
		return nil, err
	}
	return d.Memory.List(ctx, kind, o)
}

// put writes records as another tab does: faults of this tab do not affect it.
func (d *device) put(t *testing.T, records ...record.Record) {
	t.Helper()
	for _, r := range records {
		text, err := r.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Memory.Write(t.Context(), []store.Change{{Row: store.Row{Kind: store.Kind(r.Kind()), ID: r.Key(), JSON: text}}}); err != nil {
			t.Fatal(err)
		}
	}
}

// stored is the record as the device has it, or nil.
func stored[R record.Record](t *testing.T, d *device, kind record.Kind, id string) (r R) {
	t.Helper()
	row, err := d.Memory.Get(t.Context(), store.Kind(kind), id)
	if err == store.ErrNotFound {
		return r
	}
	if err != nil {
		t.Fatal(err)
	}
	got, err := record.Decode(kind, row.JSON)
	if err != nil {
		t.Fatal(err)
	}
	return got.(R)
}

// fakePage is a page: what waits for it runs when the test says so.
type fakePage struct {
	mu      sync.Mutex
	todo    []func()
	writing bool
	logged  []error
}

func (s *fakePage) Do(f func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.todo = append(s.todo, f)
}

func (s *fakePage) Writing(yes bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.writing = yes
}

func (s *fakePage) Log(err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.logged = append(s.logged, err)
}

func (s *fakePage) Mark(string) {}

// settle runs what waits for the page until nothing does any more, and everything
// off the page waits for something else.
func (s *fakePage) settle() {
	for {
		synctest.Wait()
		s.mu.Lock()
		todo := s.todo
		s.todo = nil
		s.mu.Unlock()
		if len(todo) == 0 {
			return
		}
		for _, f := range todo {
			f()
		}
	}
}

// rig is a ledger on a device, with a page.
type rig struct {
	*Ledger
	*testing.T
	page   *fakePage
	device *device
	place  *record.Place
	batch  *record.Batch
	jars   []*record.Jar
}

// inBubble runs a test with a clock of its own, in the fall of 2026, on a device
// that has a place, a batch and three jars.
func inBubble(t *testing.T, test func(*rig)) {
	t.Helper()
	synctest.Test(t, func(t *testing.T) {
		time.Sleep(time.Until(time.Date(2026, 10, 1, 9, 0, 0, 0, time.UTC)))
		r := &rig{T: t, device: &device{Memory: store.NewMemory()}}
		var err error
		r.place, err = record.NewPlace("Cellar", time.Now())
		r.must(err)
		r.batch, err = record.NewBatch("green-beans", time.Now())
		r.must(err)
		r.batch.Count = 3
		made, err := record.NewJars(r.batch, r.place.ID, time.Now())
		r.must(err)
		for _, j := range made {
			r.jars = append(r.jars, j.(*record.Jar))
		}
		r.device.put(t, append(made, r.place, r.batch)...)
		r.open()
		test(r)
		r.device.set(func() { r.device.fault = nil })
	})
}

// open opens the ledger as a newly loaded page does: nothing is in memory yet.
func (r *rig) open() {
	r.page = &fakePage{}
	r.Ledger = New(r.page, func() (store.Store, store.Status) { return r.device, store.Status{Durable: true} },
		func() record.Settings { return record.Settings{Version: record.Version, Fahrenheit: true} })
}

// shelved reads the shelf.
func (r *rig) shelved() {
	r.Helper()
	read := false
	r.WithShelf(func() { read = true })
	r.page.settle()
	if !read {
		r.Fatal("the shelf was not read")
	}
}

func (r *rig) must(err error) {
	r.Helper()
	if err != nil {
		r.Fatal(err)
	}
}

// fails makes every write fail from now on, or none.
func (r *rig) fails(err error) { r.device.set(func() { r.device.fault = err }) }

// note records something about a jar that is in memory, as a page does, and returns
// the id of the event.
func (r *rig) note(n int, done func()) string {
	r.Helper()
	j := r.Shelf.Jars[r.jars[n].ID]
	e, err := j.Add(record.Stored, time.Now())
	r.must(err)
	e.Place = r.place.ID
	id := e.ID
	if !r.Keep(done, nil, j) {
		r.Fatal("the jar was refused")
	}
	return id
}

// has reports whether a jar has an event.
func has(j *record.Jar, event string) bool {
	return slices.ContainsFunc(j.Events, func(e record.Event) bool { return e.ID == event })
}

func (r *rig) wantTrouble(want string) {
	r.Helper()
	if got := r.Trouble(); got.String() != want {
		r.Errorf("trouble: got %q, want %q", got, want)
	}
}

func (r *rig) wantSaved(want bool) {
	r.Helper()
	if got := r.Saved(); got != want {
		r.Errorf("saved: got %t, want %t; trouble: %s", got, want, r.Trouble())
	}
}

var errSlipped = fmt.Errorf("the disk slipped")
