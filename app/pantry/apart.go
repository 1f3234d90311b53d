package pantry

import (
	"maps"
	"slices"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
)

// apart is a pantry in which a version of a batch or of a place counts that another
// device made at the same time, and that lost in the merge.
type apart struct {
	*Pantry
	id string // of the batch or the place
}

// aparts lists them: one for each version that nobody has decided about yet.
func (p *Pantry) aparts() []apart {
	if p.others != nil {
		return *p.others
	}
	var all []apart
	other := func(kind record.Kind, id string, text []byte) {
		r, err := record.Decode(kind, text)
		if err != nil || r.IsDeleted() {
			return // a merge has read it before
		}
		q := *p
		q.meters, q.known, q.others = map[string]*meter{}, map[string]*shared{}, &[]apart{}
		switch r := r.(type) {
		case *record.Batch:
			q.Batches = maps.Clone(p.Batches)
			q.Batches[id] = r
		case *record.Place:
			q.Places = maps.Clone(p.Places)
			q.Places[id] = r
		}
		all = append(all, apart{&q, id})
	}
	for _, id := range slices.Sorted(maps.Keys(p.Batches)) {
		for _, text := range p.Batches[id].Aside {
			other(record.Batches, id, text)
		}
	}
	for _, id := range slices.Sorted(maps.Keys(p.Places)) {
		for _, text := range p.Places[id].Aside {
			other(record.Places, id, text)
		}
	}
	p.others = &all
	return all
}

// Situation is what is known about a jar now: the catalog, the record of its
// batch, what happened to the other jars of the batch, how it was stored, and
// the last look. While two versions of its batch or of a place have to be decided
// about, it is judged by the stricter one.
func (p *Pantry) Situation(j *record.Jar, now time.Time) (rules.Situation, Basis) {
	s, basis := p.situation(j, now)
	for _, other := range p.aparts() {
		if other.id != j.Batch && !slices.ContainsFunc(basis.Stays, func(stay record.Stay) bool { return stay.Place == other.id }) {
			continue
		}
		t, theirs := other.situation(j, now)
		if a, b := p.Outcome(s), p.Outcome(t); b.Highest > a.Highest || b.Highest == a.Highest && b.Lowest > a.Lowest {
			s, basis = t, theirs
		}
		basis.Apart = true
	}
	return s, basis
}
