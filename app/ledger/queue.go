package ledger

import (
	"context"
	"slices"
	"sync"
	"time"

	"larderlamp/rules/prose"
)

// write is something to be written. Records are on the page before they are on the
// device. When the write fails it is repeated before the next write, and until then
// it is merged with whatever is read: nothing that was said is lost as long as the
// page is open. A write that makes something new is undone instead: its form is
// still there, and makes it again when it is sent again.
type write struct {
	ids   []string                    // the records; the person is told once they are saved
	do    func(context.Context) error // nil when the records can't be written at all
	show  func()                      // puts the records into memory; may be nil
	undo  func()                      // takes them out of memory, when the write is not to be repeated; may be nil
	done  func()                      // called once this write and everything before it is done; may be nil
	fail  func()                      // called on the page when the write fails; may be nil
	waits bool                        // nothing is written: it only waits for all others
}

// within reports whether a later write contains everything in this one.
func (w *write) within(later *write) bool {
	for _, id := range w.ids {
		if !slices.Contains(later.ids, id) {
			return false
		}
	}
	return true
}

// mostWait is how long a reader waits for what is being written before it, and a
// person until they are told that it takes long. A write that hangs blocks
// nobody for longer.
const mostWait = 10 * time.Second

// queue runs writes one after the other, in the order in which they were
// requested. It reports what went wrong, and what is saved.
type queue struct {
	page  Page
	ready chan struct{}                       // closed once writes can run
	begin func()                              // starts what will close ready
	lock  func(context.Context) (done func()) // keeps other pages out between reading and writing

	mu      sync.Mutex
	trouble prose.Text    // what last went wrong, in plain words
	told    bool          // the trouble has been shown
	passing bool          // the trouble is over once everything is saved
	saved   bool          // everything requested so far has been written
	unsaved []*write      // failed writes, the oldest first; one that names no record left nothing on the page
	writes  []*write      // writes still to be done
	asked   int           // counts the writes requested, here and in other tabs
	writing chan struct{} // closed when nothing is left to be done; nil while nothing is written
}

// Complain records what went wrong, for the next time the page is drawn.
func (q *queue) Complain(text prose.Text) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.complain(text, false)
}

// complain records what went wrong, which may be over once everything is saved.
// The lock is held.
func (q *queue) complain(text prose.Text, passing bool) {
	q.trouble, q.told, q.passing = text, false, passing
}

// Trouble is what last went wrong, in plain words, or "". After that it counts as
// shown.
func (q *queue) Trouble() prose.Text {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.told = true
	return q.trouble
}

// PageLeft forgets what went wrong on a page that has been left, if it was shown, except
// for what still has to be saved.
func (q *queue) PageLeft() {
	q.mu.Lock()
	defer q.mu.Unlock()
	if !q.told {
		return
	}
	q.unsaved = slices.DeleteFunc(q.unsaved, func(u *write) bool { return u.do == nil })
	if len(q.unsaved) == 0 && (q.writing == nil || !q.passing) {
		q.complain("", false)
	}
}

// refuse says why a record can't be written. Until it can, the page does not
// say that everything is saved, whatever else is written.
func (q *queue) refuse(err error, id string) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.complain(prose.Say("This could not be saved: %s", prose.Plain(err)), false)
	q.failed(&write{ids: []string{id}})
}

// failed records a write that failed. The lock is held.
func (q *queue) failed(w *write) {
	q.succeeded(w) // what it has in common with earlier ones is not needed twice
	q.unsaved = append(q.unsaved, w)
}

// succeeded forgets the failed writes that a later one contains. The lock is
// held.
func (q *queue) succeeded(w *write) {
	q.unsaved = slices.DeleteFunc(q.unsaved, func(u *write) bool { return u.within(w) })
}

// IsUnsaved reports whether the last write of a record failed.
func (q *queue) IsUnsaved(id string) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	return slices.ContainsFunc(q.unsaved, func(u *write) bool { return slices.Contains(u.ids, id) })
}

// waiting lists the failed writes that can be repeated.
func (q *queue) waiting() (ws []*write) {
	q.mu.Lock()
	defer q.mu.Unlock()
	for _, u := range q.unsaved {
		if u.do != nil {
			ws = append(ws, u)
		}
	}
	return
}

// again repeats the failed writes, up to the first that still fails.
func (q *queue) again(ctx context.Context) {
	for _, w := range q.waiting() {
		if w.do(ctx) != nil {
			return
		}
		q.mu.Lock()
		q.unsaved = slices.DeleteFunc(q.unsaved, func(u *write) bool { return u == w })
		q.mu.Unlock()
	}
}

// write runs a write after all earlier ones, and reports a failure. It
// continues when the page that requested it has been left.
func (q *queue) write(do func(context.Context) error) { q.ask(&write{do: do}) }

// ask runs a write after all earlier ones.
func (q *queue) ask(w *write) {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.writes = append(q.writes, w)
	q.asked++
	q.saved = false // not yet
	if q.writing != nil {
		return
	}
	q.writing = make(chan struct{})
	q.page.Writing(true)
	q.begin()
	go func() {
		<-q.ready
		for {
			next := q.next()
			if next == nil {
				return
			}
			q.run(context.Background(), next)
			q.page.Do(func() {})
		}
	}()
}

// next is the next write to run, or nil when there is none.
func (q *queue) next() *write {
	q.mu.Lock()
	defer q.mu.Unlock()
	if len(q.writes) == 0 {
		close(q.writing)
		q.writing = nil
		q.page.Writing(false)
		return nil
	}
	next := q.writes[0]
	q.writes = q.writes[1:]
	return next
}

// run runs a write, after repeating those that failed.
func (q *queue) run(ctx context.Context, w *write) {
	release := q.lock(ctx)
	over := false
	slow := time.AfterFunc(mostWait, func() {
		q.mu.Lock()
		if !over {
			q.complain("This is not saved yet: the browser has not answered for ten seconds. Keep this page open.", true)
		}
		q.mu.Unlock()
		q.page.Do(func() {})
	})
	q.again(ctx)
	err := w.do(ctx)
	slow.Stop()
	release()
	q.mu.Lock()
	over = true
	switch {
	case err == nil:
		if !w.waits {
			q.succeeded(w)
		}
	case len(w.ids) > 0 && w.undo == nil:
		q.failed(w)
		q.complain(prose.Say("This could not be saved: %s It stays on this page, and is saved as soon as saving works again.", prose.Plain(err)), true)
	default: // nothing in it is on the page, and the person does it again
		q.failed(&write{})
		q.complain(prose.Say("This could not be saved: %s", prose.Plain(err)), true)
	}
	good := err == nil && len(q.unsaved) == 0
	if good && q.passing {
		q.complain("", false)
	}
	q.saved = good && len(q.writes) == 0
	q.mu.Unlock()
	if err != nil && w.undo != nil {
		q.page.Do(w.undo)
	}
	// Nothing is said to be done while something before it is not done.
	if good && w.done != nil {
		w.done()
	} else if !good && w.fail != nil {
		q.page.Do(w.fail)
	}
}

// written waits until everything requested so far has been written, so that a page
// that is opened at once reads what the page before it has saved. It must not be
// called on the goroutine that draws the page.
func (q *queue) written() {
	<-q.ready
	q.mu.Lock()
	writing := q.writing
	q.mu.Unlock()
	if writing != nil {
		select {
		case <-writing:
		case <-time.After(mostWait):
		}
	}
}

// AtWork reports whether something is being written, or has been written and
// the page that waits for it is about to hear: only a failed write counts as
// not at work.
func (q *queue) AtWork() bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.writing != nil || q.saved && len(q.unsaved) == 0
}

// allSaved reports whether everything requested so far has been written.
func (q *queue) allSaved() bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.saved && len(q.unsaved) == 0
}

// Changed records that another tab has written: what is being read may be old.
func (q *queue) Changed() {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.asked++
}

// count is how many writes were requested, here and in other tabs: what is read
// while it grows may be incomplete.
func (q *queue) count() int {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.asked
}

// Settled calls f once everything written before is done. It calls f off the
// page's goroutine.
func (q *queue) Settled(f func()) {
	q.ask(&write{waits: true, do: func(context.Context) error {
		f()
		return nil
	}})
}
