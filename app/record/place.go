package record

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"larderlamp/rules"
)

// The kinds of places.
const (
	Shelf   = "shelf" // pantry, cellar, cupboard
	Fridge  = "fridge"
	Freezer = "freezer"
	Box     = "box" // moved around: trailer, crate, cooler
)

// How the temperature of a place is known.
const (
	Steady  = "steady"  // always between two readings
	Seasons = "seasons" // a range in winter, one in summer, and how much a day varies
	Days    = "days"    // the lowest and the highest of each day
)

// DayReading is the lowest and the highest temperature of one day, in tenths of
// a degree Celsius.
type DayReading struct {
	Day Day `json:"day"`
	Min int `json:"min"`
	Max int `json:"max"`
}

// Air is what is known about the temperature of a place, in tenths of a degree
// Celsius.
type Air struct {
	How    string       `json:"how"`
	Low    int          `json:"low,omitempty"` // steady, or winter
	High   int          `json:"high,omitempty"`
	Summer [2]int       `json:"summer,omitzero"`
	Swing  int          `json:"swing,omitempty"` // half of the difference between day and night, at most
	South  bool         `json:"south,omitempty"` // south of the equator
	Days   []DayReading `json:"days,omitempty"`  // in order, each day once
}

// Place is where jars are stored.
type Place struct {
	Head
	Name  string `json:"name"`
	What  string `json:"what"`
	Order int    `json:"order"`           // the order in which the places are walked
	Wet   string `json:"wet,omitempty"`   // value of the sign
	Light string `json:"light,omitempty"` // value of the sign "place"
	Air   *Air   `json:"air,omitempty"`
	Notes string `json:"notes,omitempty"`
}

// NewPlace begins a place.
func NewPlace(name string, now time.Time) (*Place, error) {
	head, err := newHead(now)
	if err != nil {
		return nil, fmt.Errorf("place: %w", err)
	}
	return &Place{Head: head, Name: name, What: Shelf}, nil
}

// Kind implements [Record].
func (p *Place) Kind() Kind { return Places }

func (p *Place) body() ([]byte, error) { return bodyOf(p) }

// Encode implements [Record].
func (p *Place) Encode() ([]byte, error) { return encode(p, p) }

// The limits of a reading, in tenths of a degree Celsius.
const (
	Coldest = -600
	Hottest = 1000
)

// Validate implements [Record].
func (p *Place) Validate() error {
	f := faults{record: "place " + p.ID}
	p.check(&f)
	f.text("name", p.Name, MostName)
	if p.Name == "" {
		f.add("name", "a place needs one")
	}
	f.text("notes", p.Notes, MostNotes)
	f.one("what", p.What, Shelf, Fridge, Freezer, Box)
	f.within("order", p.Order, 0, 1<<20, "")
	for _, s := range []struct {
		field, value string
		sign         rules.SignID
	}{{"wet", p.Wet, rules.SignWet}, {"light", p.Light, rules.SignPlace}} {
		if _, ok := s.sign.ValueByID(s.value); s.value != "" && !ok {
			f.add(s.field, "%q is none of its values", s.value)
		}
	}
	if p.Air != nil {
		p.Air.check(&f)
	}
	return f.err()
}

func (a *Air) check(f *faults) {
	f.one("air: how", a.How, Steady, Seasons, Days)
	pair := func(field string, low, high int) {
		f.within(field, low, Coldest, Hottest, "tenths of a degree")
		f.within(field, high, Coldest, Hottest, "tenths of a degree")
		if high < low {
			f.add(field, "%d is the lower and %d the higher", low, high)
		}
	}
	switch a.How {
	case Steady:
		pair("air: low", a.Low, a.High)
	case Seasons:
		pair("air: low", a.Low, a.High)
		pair("air: summer", a.Summer[0], a.Summer[1])
		f.within("air: swing", a.Swing, 0, 500, "tenths of a degree")
	case Days:
		if len(a.Days) > 20000 {
			f.add("air: days", "%d of them, at most 20000", len(a.Days))
			return
		}
		for i, d := range a.Days {
			at := fmt.Sprintf("air: days: %d", i+1)
			f.day(at, d.Day)
			pair(at, d.Min, d.Max)
			if i > 0 && d.Day <= a.Days[i-1].Day {
				f.add(at, "%s follows %s", d.Day, a.Days[i-1].Day)
			}
		}
	default:
		f.add("air: how", "it is missing")
	}
}

// Record adds daily readings to those that are there; a later reading of the
// same day widens its range.
func (a *Air) Record(readings ...DayReading) {
	a.How = Days
	a.Days = append(a.Days, readings...)
	slices.SortStableFunc(a.Days, func(x, y DayReading) int { return cmp.Compare(x.Day, y.Day) })
	kept := a.Days[:0]
	for _, d := range a.Days {
		if n := len(kept); n > 0 && kept[n-1].Day == d.Day {
			kept[n-1].Min, kept[n-1].Max = min(kept[n-1].Min, d.Min), max(kept[n-1].Max, d.Max)
			continue
		}
		kept = append(kept, d)
	}
	a.Days = kept
}

// AnyKnown reports whether anything at all is known about how jars are stored
// there.
func (p *Place) AnyKnown() bool { return p.Wet != "" || p.Light != "" || p.Air != nil }

// AllKnown reports whether everything is known that the place does to its jars:
// damp, light and temperature.
func (p *Place) AllKnown() bool { return p.Wet != "" && p.Light != "" && p.Air != nil }

// The values of a place that is described with one touch, in tenths of a degree Celsius:
// just above frost, and 75 and 95 °F, the limits of warmth that the rules know.
const (
	aboveFrost = 5
	CoolPlace  = 238
	WarmPlace  = 350
)

// Describe records that the place was dry, dark, free of frost and never warmer
// than so many tenths of a degree, for everything that nobody has said yet.
func (p *Place) Describe(warmest int, now time.Time) {
	if p.Wet == "" {
		p.Wet = rules.WetDry.ID()
	}
	if p.Light == "" {
		p.Light = rules.PlaceDark.ID()
	}
	if p.Air == nil {
		p.Air = &Air{How: Steady, Low: aboveFrost, High: warmest}
	}
	p.Touch(now)
}
