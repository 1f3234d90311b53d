package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/testkit"
	"larderlamp/share/phone"
	"larderlamp/share/sealed"
)

var noon = time.Date(2026, 9, 1, 12, 0, 0, 0, time.UTC)

// shelf is a shelf that several phones change, and all that was ever on it.
type shelf struct {
	t        *testing.T
	r        *rand.Rand
	secret   sealed.Secret
	base     string
	way      *way
	patience time.Duration // how long a phone waits for an answer
	phones   []*phone.Phone
	saved    []phone.Disk        // what each phone has on its disk for certain
	made     map[string][][]byte // every version that a person made, by record
}

// way is how requests get to the exchange: some never arrive, the answers of
// others get lost, and some arrive twice.
type way struct {
	r     *rand.Rand
	bad   bool
	under http.RoundTripper
}

var errLost = errors.New("the connection was lost")

func (w *way) RoundTrip(r *http.Request) (*http.Response, error) {
	if !w.bad {
		return w.under.RoundTrip(r)
	}
	switch w.r.IntN(8) {
	case 0: // it never arrives
		return nil, errLost
	case 1: // the answer gets lost
		answer, err := w.under.RoundTrip(r)
		if err == nil {
			answer.Body.Close()
		}
		return nil, errLost
	case 2: // it arrives twice
		again := r.Clone(r.Context())
		if r.GetBody != nil {
			again.Body, _ = r.GetBody()
		}
		if answer, err := w.under.RoundTrip(again); err == nil {
			io.Copy(io.Discard, answer.Body)
			answer.Body.Close()
		}
	case 3: // the answer breaks off
		answer, err := w.under.RoundTrip(r)
		if err == nil && answer.ContentLength > 1 {
			answer.Body = struct {
				io.Reader
				io.Closer
			}{io.MultiReader(io.LimitReader(answer.Body, w.r.Int64N(answer.ContentLength)), broken{}), answer.Body}
		}
		return answer, err
	}
	return w.under.RoundTrip(r)
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func newShelf(t *testing.T, r *rand.Rand, base string, under http.RoundTripper) *shelf {
	t.Helper()
	s := &shelf{t: t, r: r, secret: sealed.NewSecret(), base: base, way: &way{r, false, under}, patience: time.Minute, made: map[string][][]byte{}}
	s.join()
	if err := s.phones[0].Found(t.Context()); err != nil {
		t.Fatal(err)
	}
	return s
}

// join adds a phone with nothing on it.
func (s *shelf) join() {
	p, err := phone.New(s.secret, s.base, &http.Client{Transport: s.way, Timeout: s.patience})
	if err != nil {
		s.t.Fatal(err)
	}
	s.phones = append(s.phones, p)
	s.saved = append(s.saved, p.Disk.Clone())
}

// change lets a person change something on a phone: it is on the disk at once.
func (s *shelf) change(n int) {
	p, r := s.phones[n], s.r
	now := noon.Add(time.Duration(r.IntN(1000)) * time.Minute)
	keys := slices.Sorted(maps.Keys(p.Disk.Shelf))
	var rec record.Record
	if len(keys) == 0 || r.IntN(6) == 0 {
		rec = testkit.Draw(s.t, r, now)
	} else {
		kind, id, _ := strings.Cut(keys[r.IntN(len(keys))], "/")
		var err error
		if rec, err = p.Record(record.Kind(kind), id); err != nil {
			s.t.Fatal(err)
		}
		testkit.Edit(s.t, rec, r, now)
	}
	if err := p.Keep(rec); err != nil {
		s.t.Fatal(err)
	}
	key := string(rec.Kind()) + "/" + rec.Key()
	s.made[key] = append(s.made[key], p.Disk.Shelf[key])
	s.saved[n] = p.Disk.Clone()
}

// step does one thing on one phone.
func (s *shelf) step(ctx context.Context) {
	n := s.r.IntN(len(s.phones))
	p := s.phones[n]
	switch s.r.IntN(9) {
	case 0, 1, 2:
		s.change(n)
	case 3, 4:
		p.Send(ctx) // what fails is sent again
	case 5, 6:
		p.Fetch(ctx)
	case 7: // the phone ends, and has what was on its disk
		p.Disk = s.saved[n].Clone()
	case 8:
		s.saved[n] = p.Disk.Clone()
	}
}

// agree lets every phone send and fetch until nothing is left, and compares all
// shelves with the merge of everything that was ever made.
func (s *shelf) agree() {
	s.t.Helper()
	s.way.bad = false
	ctx := s.t.Context()
	for range 4 {
		for _, p := range s.phones {
			eventually(s.t, "a phone gets nothing through", func() error {
				if _, err := p.Send(ctx); err != nil {
					return err
				}
				return p.Catch(ctx)
			})
		}
	}
	for n, p := range s.phones {
		if len(p.Disk.Unmet) > 0 || p.Disk.Wrong > 0 {
			s.t.Fatalf("phone %d: got %d records that are not in the log and %d that do not open", n+1, len(p.Disk.Unmet), p.Disk.Wrong)
		}
		if len(p.Disk.Shelf) != len(s.made) {
			s.t.Fatalf("phone %d: got %d records, want %d", n+1, len(p.Disk.Shelf), len(s.made))
		}
	}
	for key, all := range s.made {
		kind, _, _ := strings.Cut(key, "/")
		var merged record.Record
		for _, i := range s.r.Perm(len(all)) {
			v, err := record.Decode(record.Kind(kind), all[i])
			if err == nil && merged != nil {
				v, err = record.Merge(merged, v)
			}
			if err != nil {
				s.t.Fatal(err)
			}
			merged = v
		}
		want, err := merged.Encode()
		if err != nil {
			s.t.Fatal(err)
		}
		for n, p := range s.phones {
			if !bytes.Equal(p.Disk.Shelf[key], want) {
				s.t.Fatalf("phone %d: %s: got\n%s\nwant\n%s", n+1, key, p.Disk.Shelf[key], want)
			}
		}
	}
}

// ideal is the model of an exchange: a list of versions for each household.
type ideal struct {
	log  []phone.Sent
	time int
}

func (x *ideal) RoundTrip(r *http.Request) (*http.Response, error) {
	if r.Body != nil {
		defer r.Body.Close()
	}
	w := httptest.NewRecorder()
	say := func(status int, what any) (*http.Response, error) {
		w.WriteHeader(status)
		err := json.NewEncoder(w).Encode(what)
		answer := w.Result()
		answer.ContentLength = int64(w.Body.Len())
		return answer, err
	}
	parts := strings.Split(r.URL.Path, "/")
	switch {
	case len(parts) == 4:
		return say(201, map[string]bool{"founded": true})
	case r.Method == "PUT":
		body, err := io.ReadAll(r.Body)
		if err != nil {
			return nil, err
		}
		name := parts[5]
		for i, v := range x.log {
			if v.Name == name {
				return say(200, map[string]int{"number": i + 1})
			}
		}
		x.time++
		x.log = append(x.log, phone.Sent{Place: fmt.Sprint(len(x.log)+1, ".", x.time), Name: name, Sealed: body})
		return say(201, map[string]int{"number": len(x.log)})
	}
	from := 0
	if after := r.URL.Query().Get("after"); after != "" {
		from = slices.IndexFunc(x.log, func(v phone.Sent) bool { return v.Place == after }) + 1
		if from == 0 {
			return say(410, map[string]any{"refused": "place-gone", "start_over": true})
		}
	}
	return say(200, map[string]any{"versions": x.log[from:min(len(x.log), from+3)]})
}

// Any number of phones end up with the same shelf, which is the merge of every change:
// whatever is done on them, in whatever order it gets through, more than once or
// late, even when the exchange is restored from an older backup or a phone stops.
func TestPhonesAgree(t *testing.T) {
	t.Parallel()
	for seed := range uint64(number(t, "DRAWS", 300)) {
		r := rand.New(rand.NewPCG(seed, 18))
		x := &ideal{}
		s := newShelf(t, r, "http://exchange", x)
		for range r.IntN(4) {
			s.join()
		}
		s.way.bad = true
		backup := 0
		for range 40 + r.IntN(80) {
			s.step(t.Context())
			switch r.IntN(40) {
			case 0:
				s.join()
			case 1:
				backup = len(x.log)
			case 2:
				x.log = slices.Clone(x.log[:min(backup, len(x.log))])
			}
		}
		s.agree()
		if t.Failed() {
			t.Fatalf("seed %d", seed)
		}
	}
}

// The same through the real command.
func TestPhonesAgreeAtTheCommand(t *testing.T) {
	t.Parallel()
	c := start(t, "-site", published(t), "-folder", t.TempDir(), "-rate", "100000", "-founding", "1000")
	for seed := range uint64(number(t, "DRAWS", 12)) {
		r := rand.New(rand.NewPCG(seed, 81))
		s := newShelf(t, r, c.base, http.DefaultTransport)
		for range r.IntN(4) {
			s.join()
		}
		s.way.bad = true
		for range 40 + r.IntN(60) {
			s.step(t.Context())
		}
		s.join()
		s.agree()
	}
}

// number reads how much of something is wanted.
func number(t *testing.T, name string, usual int) int {
	t.Helper()
	text := os.Getenv(name)
	if text == "" {
		return usual
	}
	var n int
	if _, err := fmt.Sscanf(text, "%d", &n); err != nil {
		t.Fatalf("%s=%s: %v", name, text, err)
	}
	return n
}
