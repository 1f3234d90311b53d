package share

import (
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/store"
	"larderlamp/rules"
)

// check reads a check from a device.
func (d *device) check(t *testing.T, id string) *session.Session {
	t.Helper()
	at, err := d.Memory.Get(t.Context(), store.Kind(record.Checks), id)
	must(t, err)
	c, err := record.DecodeCheck(at.JSON)
	must(t, err)
	return session.Resume(c)
}

// keepCheck writes a check with its jar, as the ledger does.
func (d *device) keepCheck(t *testing.T, c *record.Check) {
	t.Helper()
	d.keep(t, c)
	at, err := d.Memory.Get(t.Context(), store.Kind(record.Jars), c.Jar)
	must(t, err)
	j, err := record.DecodeJar(at.JSON)
	must(t, err)
	j.AddCheck(c)
	d.keep(t, j)
}

// drawn answers one of the questions of a check at random, as often without knowing
// as not.
func drawn(s *session.Session, r *rand.Rand, now time.Time) {
	q, more := s.Next()
	switch {
	case more && r.IntN(2) == 0:
		if r.IntN(4) == 0 {
			s.DontKnow(q, now)
		} else {
			s.Say(q.ID, now, q.Choices[r.IntN(len(q.Choices))].Tell...)
		}
	default:
		info := rules.Signs[r.IntN(len(rules.Signs))]
		s.Say(info.ID, now, info.Values[r.IntN(len(info.Values))].Value)
	}
}

// Two or three people answer the same check at the same time on phones that do not
// hear of one another, also with clocks that differ. Then all phones have the same
// check and the same jar, every answer of each is in it, and its verdict is not milder
// than that of any.
func TestTwoAnswerOneCheck(t *testing.T) {
	for seed := range uint64(300) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			r := rand.New(rand.NewPCG(seed, 7))
			m := newMeeting()
			devices := []*device{newDevice(m), newDevice(m), newDevice(m)}[:2+seed%2]
			product := &rules.Catalog[r.IntN(len(rules.Catalog))]
			batch, err := record.NewBatch(product.ID, noon)
			must(t, err)
			jar, err := record.NewJar(batch.ID, 1, noon)
			must(t, err)
			s, err := session.New(product, noon)
			must(t, err)
			s.Check.Jar = jar.ID
			for range 1 + r.IntN(3) {
				drawn(s, r, noon)
			}
			devices[0].keep(t, batch)
			devices[0].keep(t, jar)
			devices[0].keepCheck(t, &s.Check)
			must(t, Start(t.Context(), devices[0], devices[0].door, "secret", "a", "Kitchen", noon))
			for i, d := range devices[1:] {
				must(t, Join(t.Context(), d, d.door, "secret", fmt.Sprint("b", i), "Cellar", noon))
			}
			for range 2 {
				for _, d := range devices {
					d.rounds(t)
				}
			}
			lowest := rules.Keep
			specific := map[string]bool{}
			for _, d := range devices {
				s := d.check(t, s.Check.ID)
				answers := r.IntN(4)
				if answers == 0 && r.IntN(2) == 0 {
					continue
				}
				for i := range answers {
					drawn(s, r, noon.Add(time.Duration(r.IntN(100)-50+i)*time.Minute))
				}
				if answers == 0 {
					must(t, s.Name("Grandma's", noon.Add(time.Minute)))
				}
				d.keepCheck(t, &s.Check)
				lowest = max(lowest, rules.Judge(s.Situation()).Lowest)
				for _, a := range s.Check.Answers {
					if len(a.Values) == 1 || a.All {
						specific[a.Sign] = true
					}
				}
			}
			for range 4 {
				for _, d := range devices {
					d.rounds(t)
				}
			}
			for i, d := range devices {
				got := d.check(t, s.Check.ID)
				if low := rules.Judge(got.Situation()).Lowest; low < lowest {
					t.Errorf("on %d: got at least %s, want at least %s: %+v", i, low.ID(), lowest.ID(), got.Check.Answers)
				}
				for _, a := range got.Check.Answers {
					if len(a.Values) == 1 || a.All {
						delete(specific, a.Sign)
					}
				}
				at, err := d.Memory.Get(t.Context(), store.Kind(record.Jars), jar.ID)
				must(t, err)
				j, err := record.DecodeJar(at.JSON)
				must(t, err)
				if got, want := fmt.Sprint(j.Events[len(j.Events)-1].Seen), fmt.Sprint(got.Check.Seen()); got != want {
					t.Errorf("on %d: got %s for the jar, want %s as in the check", i, got, want)
				}
			}
			if len(specific) > 0 {
				t.Errorf("got no answer about %v", specific)
			}
			want := devices[0].shelf(t)
			for _, d := range devices[1:] {
				for k, got := range d.shelf(t) {
					if got != want[k] {
						t.Errorf("%s: got %s on one and %s on another", k, want[k], got)
					}
				}
			}
		})
	}
}
