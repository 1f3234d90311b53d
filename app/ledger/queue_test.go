package ledger

import (
	"fmt"
	"math/rand/v2"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/store"
)

const full = "This could not be saved: The browser has no room left for this site. It stays on this page, and is saved as soon as saving works again."

// A failed write is repeated before the next, and nothing is called saved or
// done in between.
func TestFailedWriteIsDoneAgainFirst(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		r.fails(store.ErrFull)
		done := 0
		first := r.note(0, func() { done++ })
		r.page.settle()
		r.wantSaved(false)
		r.wantTrouble(full)
		if done != 0 || !r.IsUnsaved(r.jars[0].ID) || r.AtWork() {
			t.Fatalf("after a failed write: got done %d times, unsaved %t, at work %t", done, r.IsUnsaved(r.jars[0].ID), r.AtWork())
		}

		r.fails(nil)
		r.device.written = nil
		second := r.note(1, func() { done++ })
		if !r.AtWork() || r.Saved() {
			t.Errorf("during the write: got at work %t, saved %t", r.AtWork(), r.Saved())
		}
		r.page.settle()
		r.wantSaved(true)
		r.wantTrouble("")
		if got, want := fmt.Sprint(r.device.written), fmt.Sprint([][]string{{r.jars[0].ID}, {r.jars[1].ID}}); got != want {
			t.Errorf("written: got %s, want %s", got, want)
		}
		if !has(stored[*record.Jar](t, r.device, record.Jars, r.jars[0].ID), first) || !has(stored[*record.Jar](t, r.device, record.Jars, r.jars[1].ID), second) {
			t.Error("something reported as saved is not stored")
		}
		if done != 1 || r.IsUnsaved(r.jars[0].ID) {
			t.Errorf("done %d times, want once, for the second; unsaved %t", done, r.IsUnsaved(r.jars[0].ID))
		}
	})
}

// A later write of the same record contains everything in the one that failed.
func TestLaterWriteReplacesTheFailedOne(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		r.fails(errSlipped)
		r.note(0, nil)
		r.page.settle()
		r.wantTrouble("This could not be saved: the disk slipped. It stays on this page, and is saved as soon as saving works again.")
		r.note(0, nil)
		r.page.settle()
		if got := len(r.waiting()); got != 1 {
			t.Errorf("%d writes wait, want the later one only", got)
		}
	})
}

// Nothing is said to be done while something before it is not, even when the device
// accepts one and not the other.
func TestNothingIsDoneBeforeWhatFailed(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		r.device.set(func() { r.device.fault, r.device.only = store.ErrFull, r.jars[0].ID })
		r.note(0, nil)
		r.page.settle()
		done, failed := 0, 0
		j := r.Shelf.Jars[r.jars[1].ID]
		r.Keep(func() { done++ }, func() { failed++ }, j)
		r.page.settle()
		if done != 0 || failed != 1 {
			t.Errorf("done %d times, failed %d, want 0 and 1", done, failed)
		}
		r.wantSaved(false)
		r.wantTrouble(full)
		r.fails(nil)
		r.Renew(func() {})
		r.page.settle()
		r.wantSaved(true)
	})
}

// A refused record keeps the page from saying that everything is saved until the
// person has left the page.
func TestRefused(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		bad := *r.Shelf.Places[r.place.ID]
		bad.Name = ""
		if r.Commit(&bad) {
			t.Fatal("a place without a name was not refused")
		}
		r.note(0, nil)
		r.page.settle()
		r.wantSaved(false)
		if r.Trouble() == "" || !r.IsUnsaved(bad.ID) {
			t.Error("the refusal is not reported")
		}
		r.PageLeft()
		r.wantTrouble("")
		r.wantSaved(false)
		r.note(0, nil)
		r.page.settle()
		r.wantSaved(true)
	})
}

// A photo that could not be saved is on no page. It is taken again, and after that
// the first is not mentioned any more.
func TestPhotoIsTakenAgain(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		take := func() (done bool) {
			photo, err := record.NewPhoto(r.jars[0].ID, "", "/9j/", time.Now())
			r.must(err)
			r.Picture(photo, func() { done = true })
			r.page.settle()
			if there := stored[*record.Photo](t, r.device, record.Photos, photo.ID) != nil; there != done {
				t.Errorf("the photo is stored: %t, reported as stored: %t", there, done)
			}
			return done
		}
		r.fails(store.ErrFull)
		if take() {
			t.Error("the photo is reported as saved although there is no space")
		}
		r.wantTrouble("This could not be saved: The browser has no room left for this site.")
		r.wantSaved(false)
		r.fails(nil)
		if !take() {
			t.Error("the photo is not saved although there is space")
		}
		r.wantTrouble("")
		r.wantSaved(true)
	})
}

// A write that only waits for a failed one does not clear its message.
func TestWhoWaitsHearsOfTheFailure(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		r.fails(store.ErrFull)
		photo, err := record.NewPhoto(r.jars[0].ID, "", "/9j/", time.Now())
		r.must(err)
		heard := false
		r.Picture(photo, func() { t.Error("a photo that was not stored is reported as saved") })
		r.Settled(func() { heard = true })
		r.page.settle()
		if !heard {
			t.Error("the code that waits for the photo is never called")
		}
		r.wantTrouble("This could not be saved: The browser has no room left for this site.")
		r.wantSaved(false)
	})
}

// A page that is left takes its message with it, once it was shown, except for what
// still has to be saved.
func TestTroubleOfThePageThatWasLeft(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		r.Complain("The photo is of nothing.")
		r.PageLeft()
		r.wantTrouble("The photo is of nothing.") // nobody had seen it
		r.PageLeft()
		r.wantTrouble("")

		r.fails(store.ErrFull)
		r.note(0, nil)
		r.page.settle()
		r.wantTrouble(full)
		r.PageLeft()
		r.wantTrouble(full)
	})
}

// A person is told about a write that takes long; a reader waits for ten seconds
// at most.
func TestSlowWrite(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		hold := make(chan struct{})
		r.device.set(func() { r.device.hold = hold })
		event := r.note(0, nil)
		read := make(chan bool, 1)
		go func() {
			r.Fetch(record.Jars, []string{r.jars[0].ID})
			read <- true
		}()
		time.Sleep(mostWait - time.Millisecond)
		r.page.settle()
		r.wantTrouble("")
		if len(read) > 0 || !r.page.writing {
			t.Errorf("just before ten seconds: got read %t, writing %t", len(read) > 0, r.page.writing)
		}
		time.Sleep(2 * time.Millisecond)
		r.page.settle()
		r.wantTrouble("This is not saved yet: the browser has not answered for ten seconds. Keep this page open.")
		if len(read) == 0 {
			t.Error("a reader waits longer than ten seconds")
		}
		r.PageLeft() // the message is still on the next page
		if r.Trouble() == "" {
			t.Error("a write that still hangs is no longer reported")
		}
		close(hold)
		r.page.settle()
		r.wantTrouble("")
		r.wantSaved(true)
		if r.page.writing || !has(stored[*record.Jar](t, r.device, record.Jars, r.jars[0].ID), event) {
			t.Error("the write was not done")
		}
	})
}

// What is read while something is written is read after that.
func TestReadAfterWrite(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		hold := make(chan struct{})
		r.device.set(func() { r.device.hold = hold })
		event := r.note(2, nil)
		var got []record.Record
		go func() { got = r.Fetch(record.Jars, []string{r.jars[2].ID, r.batch.ID}) }()
		synctest.Wait()
		close(hold)
		r.page.settle()
		if len(got) != 1 || !has(got[0].(*record.Jar), event) {
			t.Errorf("read %v, want the jar as it was written, and nothing for an id of another kind", got)
		}
	})
}

// A form that makes something new gets one answer: it is done, or it is undone and
// can be sent again.
func TestNewOnesAreTakenBack(t *testing.T) {
	inBubble(t, func(r *rig) {
		r.shelved()
		fresh, err := record.NewPlace("Barn", time.Now())
		r.must(err)
		done, failed := 0, 0
		send := func() { r.Keep(func() { done++ }, func() { failed++ }, fresh); r.page.settle() }
		r.fails(store.ErrFull)
		send()
		if done != 0 || failed != 1 || r.Shelf.Places[fresh.ID] != nil {
			t.Fatalf("got done %d times, failed %d, on the shelf %t", done, failed, r.Shelf.Places[fresh.ID] != nil)
		}
		r.wantTrouble("This could not be saved: The browser has no room left for this site.")
		if fresh.IsDeleted() {
			t.Fatal("the form's own place is marked as deleted")
		}
		r.fails(nil)
		r.note(0, nil)
		r.page.settle()
		if stored[*record.Place](t, r.device, record.Places, fresh.ID) != nil {
			t.Fatal("a place that was undone is stored by the next write")
		}
		r.wantTrouble("")
		send()
		if done != 1 || failed != 1 {
			t.Errorf("sent again: got done %d times, failed %d", done, failed)
		}
		if p := stored[*record.Place](t, r.device, record.Places, fresh.ID); p == nil || p.IsDeleted() {
			t.Error("sent again, it is not stored")
		}
	})
}

// Whatever is said, read, undone and changed by another tab, and whatever fails in
// between: what is called saved is stored, what was said is in memory and finally on
// the device, and failed writes are repeated in order.
func TestNothingSaidIsForgotten(t *testing.T) {
	for seed := range uint64(60) {
		inBubble(t, func(r *rig) {
			rnd := rand.New(rand.NewPCG(seed, 15))
			r.shelved()
			var mu sync.Mutex                     // guards what follows
			said := make([][]string, len(r.jars)) // the ids of the events, by jar
			var order []string                    // the ids of all events, in order
			of := map[string]int{}                // the jar of each
			theirs := make([][]string, len(r.jars))
			deleted := map[string]bool{} // what the person did to the place
			isStored := func(event string) bool {
				return has(stored[*record.Jar](t, r.device, record.Jars, r.jars[of[event]].ID), event)
			}
			look := func(step int) {
				t.Helper()
				for n := range r.jars {
					j := stored[*record.Jar](t, r.device, record.Jars, r.jars[n].ID)
					for _, e := range theirs[n] {
						if !has(j, e) {
							t.Fatalf("seed %d, step %d: what another tab wrote is lost", seed, step)
						}
					}
					for _, e := range said[n] {
						if r.Shelf.Loaded && !has(r.Shelf.Jars[r.jars[n].ID], e) {
							t.Fatalf("seed %d, step %d: what was said is not in memory", seed, step)
						}
						if r.Saved() && !has(j, e) {
							t.Fatalf("seed %d, step %d: reported as saved but not stored", seed, step)
						}
					}
				}
				// All or none of the writes fail here, so what is stored is what was said first.
				missing := ""
				for _, e := range order {
					switch here := isStored(e); {
					case !here && missing == "":
						missing = e
					case here && missing != "" && of[e] != of[missing]:
						t.Fatalf("seed %d, step %d: a later write was done before one that had failed", seed, step)
					}
				}
			}
			for step := range 40 {
				switch n := rnd.IntN(len(r.jars)); rnd.IntN(8) {
				case 0, 1, 2:
					upTo := len(order) + 1
					e := r.note(n, func() {
						mu.Lock()
						defer mu.Unlock()
						for _, before := range order[:min(upTo, len(order))] {
							if !isStored(before) {
								t.Errorf("seed %d, step %d: reported as done while something before it is not", seed, step)
							}
						}
					})
					mu.Lock()
					of[e] = n
					said[n], order = append(said[n], e), append(order, e)
					mu.Unlock()
				case 3:
					j := stored[*record.Jar](t, r.device, record.Jars, r.jars[n].ID)
					e, err := j.Add(record.Stored, time.Now())
					r.must(err)
					e.Place = r.place.ID
					theirs[n] = append(theirs[n], e.ID)
					r.device.put(t, j)
					r.Changed()
				case 4:
					r.Renew(func() {})
				case 5:
					r.page.settle()
					r.fails([]error{nil, store.ErrFull, store.ErrClosed}[rnd.IntN(3)])
				case 6:
					p := r.Shelf.Places[r.place.ID]
					if len(r.Deleted) > 0 {
						r.UndoDelete()
						deleted[r.place.ID] = false
					} else if p != nil {
						p.Delete(time.Now())
						r.Deleted = []record.Record{p}
						r.Commit(p)
						deleted[p.ID] = true
					}
				case 7:
					r.page.settle()
					look(step)
				}
				time.Sleep(time.Second)
			}
			r.page.settle()
			look(40)
			r.fails(nil)
			r.Renew(func() {})
			r.page.settle()
			look(41)
			r.wantSaved(true)
			r.wantTrouble("")
			if p := stored[*record.Place](t, r.device, record.Places, r.place.ID); p.IsDeleted() != deleted[r.place.ID] {
				t.Errorf("seed %d: the place is deleted: got %t, want %t", seed, p.IsDeleted(), deleted[r.place.ID])
			}
			// A page that is loaded afterward has all of it.
			r.open()
			r.shelved()
			for n := range r.jars {
				for _, e := range append(said[n], theirs[n]...) {
					if !has(r.Shelf.Jars[r.jars[n].ID], e) {
						t.Fatalf("seed %d: not there after the page was loaded again", seed)
					}
				}
			}
		})
		if t.Failed() {
			return
		}
	}
}
