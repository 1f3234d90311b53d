package record

import (
	"fmt"
	"slices"
	"time"
)

// Sweep is a walk past the places, jar by jar. What was seen is in the events of
// the jars, which name the sweep. A sweep that looks only at the jars of a trip
// before they are packed names the trip.
type Sweep struct {
	Head
	Begun  time.Time  `json:"begun"`
	Ended  *time.Time `json:"ended,omitempty"`
	Places []string   `json:"places"`
	Order  []string   `json:"order"` // the jars, in the order of the walk
	Trip   string     `json:"trip,omitempty"`
}

// NewSweep begins a sweep.
func NewSweep(places, order []string, now time.Time) (*Sweep, error) {
	head, err := newHead(now)
	if err != nil {
		return nil, fmt.Errorf("sweep: %w", err)
	}
	return &Sweep{Head: head, Begun: head.Changed.Truncate(time.Second), Places: places, Order: order}, nil
}

// Kind implements [Record].
func (s *Sweep) Kind() Kind { return Sweeps }

func (s *Sweep) body() ([]byte, error) { return bodyOf(s) }

// Encode implements [Record].
func (s *Sweep) Encode() ([]byte, error) { return encode(s, s) }

// Validate implements [Record].
func (s *Sweep) Validate() error {
	f := faults{record: "sweep " + s.ID}
	s.check(&f)
	f.time("begun", s.Begun)
	if s.Ended != nil {
		f.time("ended", *s.Ended)
	}
	if s.Trip != "" && !isID(s.Trip) {
		f.add("trip", "%q is not an id of this program", s.Trip)
	}
	if len(s.Order) > 100000 || len(s.Places) > 1000 {
		f.add("order", "%d jars and %d places are too many", len(s.Order), len(s.Places))
	}
	for n, ids := range [][]string{s.Places, s.Order} {
		for i, id := range ids {
			// A place may be "": jars that nobody has given one.
			if id != "" && !isID(id) {
				f.add([]string{"places", "order"}[n], "%d: %q is not an id of this program", i+1, id)
			}
		}
	}
	return f.err()
}

// Join adds a jar that was found to the walk, as the next one.
func (s *Sweep) Join(j *Jar, now time.Time) {
	if !slices.Contains(s.Order, j.ID) {
		s.Order = append([]string{j.ID}, s.Order...)
	}
	s.Touch(now)
}
