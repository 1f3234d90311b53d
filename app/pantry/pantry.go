package pantry

import (
	"cmp"
	"maps"
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Pantry is everything that a household keeps except its checks and photos,
// which are many and are fetched when they are looked at.
type Pantry struct {
	Batches  map[string]*record.Batch
	Jars     map[string]*record.Jar
	Places   map[string]*record.Place
	Sweeps   map[string]*record.Sweep
	Trips    map[string]*record.Trip
	Settings record.Settings

	ofBatch map[string][]*record.Jar
	meters  map[string]*meter
	known   map[string]*shared // cached by batch
	judged  map[rules.Situation]rules.Outcome
	others  *[]apart // nil until it is asked for
}

// New makes an empty pantry.
func New() *Pantry {
	return &Pantry{
		Batches: map[string]*record.Batch{}, Jars: map[string]*record.Jar{}, Places: map[string]*record.Place{}, Sweeps: map[string]*record.Sweep{}, Trips: map[string]*record.Trip{},
		Settings: record.Settings{Version: record.Version},
		ofBatch:  map[string][]*record.Jar{},
		meters:   map[string]*meter{},
		known:    map[string]*shared{},
		judged:   map[rules.Situation]rules.Outcome{},
	}
}

// Put adds a record, or removes it when it is deleted. The store keeps checks
// and photos.
func (p *Pantry) Put(r record.Record) {
	p.others = nil
	switch r := r.(type) {
	case *record.Place:
		place(p.Places, r)
		delete(p.meters, r.ID)
	case *record.Batch:
		place(p.Batches, r)
		delete(p.known, r.ID)
		clear(p.meters) // they start with the first batch, which may be this one
	case *record.Sweep:
		place(p.Sweeps, r)
	case *record.Trip:
		place(p.Trips, r)
	case *record.Jar:
		if old := p.Jars[r.ID]; old != nil {
			delete(p.known, old.Batch) // a table may have put it into another batch
			p.ofBatch[old.Batch] = slices.DeleteFunc(p.ofBatch[old.Batch], func(j *record.Jar) bool { return j.ID == r.ID })
		}
		place(p.Jars, r)
		delete(p.known, r.Batch)
		if !r.IsDeleted() {
			p.ofBatch[r.Batch] = append(p.ofBatch[r.Batch], r)
		}
	}
}

// Has reports whether a record of the kind and id is in the pantry.
func (p *Pantry) Has(r record.Record) bool {
	switch id := r.Key(); r.Kind() {
	case record.Places:
		return p.Places[id] != nil
	case record.Batches:
		return p.Batches[id] != nil
	case record.Jars:
		return p.Jars[id] != nil
	case record.Sweeps:
		return p.Sweeps[id] != nil
	case record.Trips:
		return p.Trips[id] != nil
	}
	return false
}

func place[R record.Record](records map[string]R, r R) {
	if r.IsDeleted() {
		delete(records, r.Key())
	} else {
		records[r.Key()] = r
	}
}

// SetSettings sets the settings, on which much of what is known depends.
func (p *Pantry) SetSettings(s record.Settings) {
	p.Settings = s
	p.others = nil
	clear(p.known)
}

// OfBatch lists the jars of a batch by number.
func (p *Pantry) OfBatch(id string) []*record.Jar {
	jars := slices.Clone(p.ofBatch[id])
	slices.SortStableFunc(jars, func(a, b *record.Jar) int {
		return cmp.Or(cmp.Compare(a.Number, b.Number), cmp.Compare(a.ID, b.ID))
	})
	return jars
}

// PlaceName is the name of a place; without a place, that nobody said.
func (p *Pantry) PlaceName(id string) prose.Text {
	if place := p.Places[id]; place != nil {
		return prose.Own(place.Name)
	}
	return "No place given"
}

// PlaceOrder lists the places in the order in which they are walked.
func (p *Pantry) PlaceOrder() []*record.Place {
	places := slices.Collect(maps.Values(p.Places))
	slices.SortStableFunc(places, func(a, b *record.Place) int {
		return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Name, b.Name), cmp.Compare(a.ID, b.ID))
	})
	return places
}

// BatchOrder lists the batches, the newest first.
func (p *Pantry) BatchOrder() []*record.Batch {
	batches := slices.Collect(maps.Values(p.Batches))
	slices.SortStableFunc(batches, func(a, b *record.Batch) int {
		return cmp.Or(cmp.Compare(b.Made, a.Made), cmp.Compare(a.Name().String(), b.Name().String()), cmp.Compare(a.ID, b.ID))
	})
	return batches
}

// JarName names a jar by its batch and number.
func (p *Pantry) JarName(j *record.Jar) prose.Text {
	b := p.Batches[j.Batch]
	if b == nil {
		return prose.Say("Jar %d of a batch that is not recorded", j.Number)
	}
	return prose.Say("%s %s, jar %d", b.Name(), b.Made.Year(), j.Number)
}

// BatchesWithoutAltitude lists the batches that have no altitude of their own, each with the given
// one set: when the household's altitude changes, what was canned before stays as it
// was judged.
func (p *Pantry) BatchesWithoutAltitude(feet int, now time.Time) (records []record.Record) {
	for _, b := range p.BatchOrder() {
		if b.Feet == nil {
			bound := *b
			bound.Feet = &feet
			bound.Touch(now)
			records = append(records, &bound)
		}
	}
	return records
}
