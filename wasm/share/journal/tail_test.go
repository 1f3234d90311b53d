package journal

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"
	"time"

	"github.com/nats-io/nats.go"

	"larderlamp/share/store"
)

// announce is the message in which the log tells a version.
func announce(v told) *nats.Msg {
	m := nats.NewMsg("news." + v.household)
	m.Header.Set("Nats-Subject", fmt.Sprintf("version.%s.%d.%s", v.household, len(v.Sealed), v.Name))
	m.Header.Set("Nats-Sequence", strconv.FormatUint(v.Number, 10))
	m.Header.Set("Nats-Time-Stamp", v.Stored.Format(time.RFC3339Nano))
	m.Data = v.Sealed
	return m
}

// Whatever is told, left out, repeated or told late: what the tail says it knows is
// what is in the log.
func TestTailKnowsOrSaysNot(t *testing.T) {
	type place struct {
		household string
		number    uint64
	}
	knew, read := 0, 0
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 1))
		tail, log := newTail(), []told(nil)
		tail.keep = 400
		tail.begin(0)
		first := map[string]uint64{} // what was removed is before it
		losses := r.IntN(3) == 0
		for range 300 {
			household := fmt.Sprint("home", r.IntN(3))
			n := uint64(len(log) + 1)
			v := told{household, store.Version{Number: n, Stored: time.Unix(int64(n), 0).UTC(), Name: fmt.Sprint("name", n), Sealed: bytes.Repeat([]byte{byte(n)}, r.IntN(60))}}
			log = append(log, v)
			switch {
			case losses && r.IntN(10) == 0: // it is never told
			case losses && r.IntN(30) == 0: // by another server, too late
				tail.hear(announce(log[r.IntN(len(log))]))
				tail.hear(announce(v))
			default:
				tail.hear(announce(v))
			}
			if r.IntN(40) == 0 {
				tail.removed(household)
				first[household] = n
			}
			if r.IntN(20) == 0 { // is asked for the last number, twice
				tail.compare(n, n)
			}
			for i := range 3 {
				household := fmt.Sprint("home", i)
				from := place{household, uint64(r.IntN(len(log) + 1))}
				most, size := 1+r.IntN(5), 1+r.IntN(200)
				got, next, known := tail.after(t.Context(), from.household, from.number, most, size)
				if !known {
					read++
					continue
				}
				knew++
				var want []told
				for _, v := range log[:tail.head] {
					if v.household == household && v.Number > max(from.number, first[household]) && len(want) < most {
						want = append(want, v)
					}
				}
				var numbers []uint64
				for _, v := range want {
					numbers = append(numbers, v.Number)
				}
				if !slices.Equal(next, numbers) || len(got) > len(want) {
					t.Fatalf("seed %d: after %v: got the numbers %v, want %v", seed, from, next, numbers)
				}
				for i, v := range got {
					if v.Number != want[i].Number || v.Name != want[i].Name || !v.Stored.Equal(want[i].Stored) || !bytes.Equal(v.Sealed, want[i].Sealed) {
						t.Fatalf("seed %d: after %v: got %v, want %v", seed, from, v, want[i])
					}
				}
			}
			if tail.bytes > tail.keep {
				t.Fatalf("seed %d: keeps %d bytes, want at most %d", seed, tail.bytes, tail.keep)
			}
		}
	}
	if knew < 10_000 || read < 10_000 {
		t.Errorf("knew %d times and not %d times: too few of one of them to prove anything", knew, read)
	}
}

// A phone that waits is told of each version of its household, and to look at the log
// when something may have been left out; also when that was the last thing told.
func TestTailTellsWhoWaits(t *testing.T) {
	tail := newTail()
	tail.begin(5)
	news, end := tail.listen("home")
	other, _ := tail.listen("other")
	version := func(n uint64, household string) *nats.Msg {
		return announce(told{household, store.Version{Number: n, Stored: time.Unix(1, 0), Name: "name", Sealed: []byte{1}}})
	}
	want := func(step string, c <-chan uint64, numbers ...uint64) {
		t.Helper()
		var got []uint64
		select {
		case n := <-c:
			got = append(got, n)
		default:
		}
		if !slices.Equal(got, numbers) {
			t.Errorf("%s: got told %v, want %v", step, got, numbers)
		}
	}
	tail.hear(version(6, "home"))
	want("its own", news, 6)
	want("not the other's", other)
	tail.hear(version(7, "home"))
	tail.hear(version(8, "home"))
	want("only the last", news, 8)
	tail.hear(version(10, "other"))
	want("9 was left out", news, 0)
	want("its own, in place of 0", other, 10)
	tail.compare(10, 11)
	want("nothing is missing", news)
	tail.compare(11, 12)
	want("11 was left out", news, 0)
	want("11 was left out", other, 0)
	tail.hear(&nats.Msg{Subject: "news.home"})
	want("from somebody who is not the log", news, 0)
	end()
	tail.hear(version(13, "home"))
	want("it has gone", news)
	if len(tail.waiting) != 1 {
		t.Errorf("got %d households that wait, want 1", len(tail.waiting))
	}
}

// What was removed does not come back by being told late.
func TestTailToldLate(t *testing.T) {
	tail := newTail()
	tail.begin(0)
	version := func(n uint64) *nats.Msg {
		return announce(told{"home", store.Version{Number: n, Stored: time.Unix(1, 0), Name: "name", Sealed: []byte{1}}})
	}
	for n := range uint64(3) {
		tail.hear(version(n + 1))
	}
	tail.removed("home")
	tail.hear(version(2))
	tail.hear(version(3))
	if _, _, known := tail.after(t.Context(), "home", 1, 10, 100); known {
		t.Error("knows what was removed")
	}
	tail.hear(version(4))
	if list, _, known := tail.after(t.Context(), "home", 3, 10, 100); !known || len(list) != 1 {
		t.Errorf("got %d versions, known %t, want the new one", len(list), known)
	}
}

// What another exchange has stored is found as soon as it was acknowledged there, told
// or not.
func TestCatchUp(t *testing.T) {
	one, e := open(t, t.TempDir(), 0)
	defer e.Close()
	conn, err := nats.Connect("", nats.InProcessServer(e.server))
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	other, err := Open(t.Context(), conn, Settings{Households: 10, Bytes: 1 << 30, Largest: large, Replicas: 1, Patience: time.Minute})
	if err != nil {
		t.Fatal(err)
	}
	for n := range 60 {
		if n == 50 { // from now on it is told nothing
			other.tail.interrupted()
			other.tail = newTail()
			other.tail.late = time.Millisecond
		}
		if _, _, err := one.Put(t.Context(), "home", fmt.Sprint("name", n), []byte{byte(n)}); err != nil {
			t.Fatal(err)
		}
		if err := other.CatchUp(t.Context()); err != nil {
			t.Fatal(err)
		}
		list, err := other.After(t.Context(), "home", 0, 100, 1<<20)
		if err != nil || len(list) != n+1 {
			t.Fatalf("got %d versions, %v, want %d", len(list), err, n+1)
		}
	}
}

// What was acknowledged is known at once, or the log is read.
func TestTailOwes(t *testing.T) {
	tail := newTail()
	tail.begin(0)
	tail.late = time.Hour
	tail.acknowledged(1)
	heard := make(chan bool)
	go func() {
		list, _, known := tail.after(t.Context(), "home", 0, 10, 100)
		heard <- known && len(list) == 1
	}()
	tail.hear(announce(told{"home", store.Version{Number: 1, Stored: time.Unix(1, 0), Name: "name", Sealed: []byte{1}}}))
	if !<-heard {
		t.Error("got nothing, want the version that was acknowledged")
	}
	tail.late = time.Millisecond
	tail.acknowledged(2)
	if _, _, known := tail.after(t.Context(), "home", 1, 10, 100); known {
		t.Error("knows what was never told")
	}
	ended, end := context.WithCancel(t.Context())
	end()
	tail.acknowledged(3)
	if _, _, known := tail.after(ended, "home", 1, 10, 100); known {
		t.Error("knows what it did not wait for")
	}
}

// Read by its numbers, from memory or by a walk over the log, it is the same.
func TestEveryWayOfReading(t *testing.T) {
	folder := t.TempDir()
	j, e := open(t, folder, 0)
	r := rand.New(rand.NewPCG(1, 1))
	numbers := map[string][]uint64{}
	put := func(n int) {
		for i := range n {
			household := fmt.Sprint("home", r.IntN(4))
			number, _, err := j.Put(t.Context(), household, fmt.Sprintf("name%d-%d", n, i), bytes.Repeat([]byte{byte(i)}, 1+r.IntN(50)))
			if err != nil {
				t.Fatal(err)
			}
			numbers[household] = append(numbers[household], number)
		}
	}
	same := func() {
		t.Helper()
		for household, of := range numbers {
			for _, from := range append([]uint64{0}, of...) {
				got, err := j.After(t.Context(), household, from, 30, 1<<20)
				if err != nil {
					t.Fatal(err)
				}
				want, err := j.scan(t.Context(), household, from, 30, 1<<20)
				if err != nil {
					t.Fatal(err)
				}
				if !slices.EqualFunc(got, want, func(a, b store.Version) bool {
					return a.Number == b.Number && a.Stored.Equal(b.Stored) && a.Name == b.Name && bytes.Equal(a.Sealed, b.Sealed)
				}) {
					t.Fatalf("%s after %d: got %d versions, a walk over the log gives %d", household, from, len(got), len(want))
				}
			}
		}
	}
	j.tail.keep = 1000 // so that most are read by their numbers
	put(200)
	same()
	e.Close()
	j, e = open(t, folder, 0)
	defer e.Close()
	same() // all before it was opened
	put(50)
	same()
	if err := j.Remove(t.Context(), "home1"); err != nil {
		t.Fatal(err)
	}
	same()
	if list, err := j.After(t.Context(), "home1", 0, 10, 1<<20); len(list) > 0 || err != nil {
		t.Errorf("of a removed household: got %d versions, %v", len(list), err)
	}
}
