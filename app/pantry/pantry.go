package pantry

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"larderlamp/rules"
	"larderlamp/rules/locale"
	"larderlamp/rules/order"
)

// Pantry is all that a household keeps but its checks and photos, which are
// many and fetched when they are looked at.
type Pantry struct {
	Batches  map[string]*Batch
	Jars     map[string]*Jar
	Places   map[string]*Place
	Sweeps   map[string]*Sweep
	Trips    map[string]*Trip
	Settings Settings

	ofBatch map[string][]*Jar
	meters  map[string]*meter
	known   map[string]*shared // by batch
	judged  map[rules.Situation]rules.Outcome
}

// New makes an empty pantry.
func New() *Pantry {
	return &Pantry{
		Batches: map[string]*Batch{}, Jars: map[string]*Jar{}, Places: map[string]*Place{}, Sweeps: map[string]*Sweep{}, Trips: map[string]*Trip{},
		Settings: Settings{Version: Version},
		ofBatch:  map[string][]*Jar{},
		meters:   map[string]*meter{},
		known:    map[string]*shared{},
		judged:   map[rules.Situation]rules.Outcome{},
	}
}

// Put takes up a record, or takes it away when it is deleted. Checks and photos
// are left to the store.
func (p *Pantry) Put(r Record) {
	switch r := r.(type) {
	case *Place:
		place(p.Places, r)
		delete(p.meters, r.ID)
	case *Batch:
		place(p.Batches, r)
		delete(p.known, r.ID)
		clear(p.meters) // they begin with the first batch, which may be this one
	case *Sweep:
		place(p.Sweeps, r)
	case *Trip:
		place(p.Trips, r)
	case *Jar:
		if old := p.Jars[r.ID]; old != nil {
			p.ofBatch[old.Batch] = slices.DeleteFunc(p.ofBatch[old.Batch], func(j *Jar) bool { return j.ID == r.ID })
		}
		place(p.Jars, r)
		delete(p.known, r.Batch)
		if !r.Gone() {
			p.ofBatch[r.Batch] = append(p.ofBatch[r.Batch], r)
		}
	}
}

// Has tells whether a record of the kind and id is in the pantry.
func (p *Pantry) Has(r Record) bool {
	switch id := r.Key(); r.Kind() {
	case Places:
		return p.Places[id] != nil
	case Batches:
		return p.Batches[id] != nil
	case Jars:
		return p.Jars[id] != nil
	case Sweeps:
		return p.Sweeps[id] != nil
	case Trips:
		return p.Trips[id] != nil
	}
	return false
}

func place[R Record](records map[string]R, r R) {
	if r.Gone() {
		delete(records, r.Key())
	} else {
		records[r.Key()] = r
	}
}

// Settle takes the settings, on which much of what is known rests.
func (p *Pantry) Settle(s Settings) {
	p.Settings = s
	clear(p.known)
}

// OfBatch lists the jars of a batch by number.
func (p *Pantry) OfBatch(id string) []*Jar {
	jars := slices.Clone(p.ofBatch[id])
	order.By(jars, func(i, j **Jar) bool {
		a, b := *i, *j
		return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID)) < 0
	})
	return jars
}

// PlaceName is the name of a place; of none, that nobody said.
func (p *Pantry) PlaceName(id string) string {
	if place := p.Places[id]; place != nil {
		return place.Name
	}
	return "No place given"
}

// PlaceOrder lists the places in the order in which they are walked.
func (p *Pantry) PlaceOrder() []*Place {
	places := slices.Collect(maps.Values(p.Places))
	order.By(places, func(i, j **Place) bool {
		a, b := *i, *j
		return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID)) < 0
	})
	return places
}

// BatchOrder lists the batches, the newest first.
func (p *Pantry) BatchOrder() []*Batch {
	batches := slices.Collect(maps.Values(p.Batches))
	order.By(batches, func(i, j **Batch) bool {
		a, b := *i, *j
		return cmp.Or(cmp.Compare(b.Made, a.Made), cmp.Compare(a.Name(), b.Name()), cmp.Compare(a.ID, b.ID)) < 0
	})
	return batches
}

// JarName names a jar by its batch and number.
func (p *Pantry) JarName(j *Jar) string {
	b := p.Batches[j.Batch]
	if b == nil {
		return locale.Say("Jar %d of a batch that is not recorded", j.Number)
	}
	return locale.Say("%s %s, jar %d", b.Name(), b.Made.Year(), j.Number)
}

// Year is the year of a day.
func (d Day) Year() string {
	year, _, _ := strings.Cut(string(d), "-")
	return year
}
