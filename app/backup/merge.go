package backup

import (
	"bytes"

	"larderlamp/app/record"
	"larderlamp/app/session"
)

// Plan is what importing a backup would change.
type Plan struct {
	Added, Changed, Same map[record.Kind]int
	Aside                map[record.Kind]int // records with two versions that were changed independently
	Gone                 int                 // records of the file that were deleted here, and stay deleted
	Writes               []record.Record     // everything that has to be written, or nothing; see [PlanMerge]
}

// NewPlan is a plan before the first record.
func NewPlan() *Plan {
	return &Plan{Added: map[record.Kind]int{}, Changed: map[record.Kind]int{}, Same: map[record.Kind]int{}, Aside: map[record.Kind]int{}}
}

// Count is how many records would be written.
func (p *Plan) Count() (n int) {
	for _, k := range record.Kinds {
		n += p.Added[k] + p.Changed[k]
	}
	return
}

// Take merges a record of a backup with the one that is stored here, or nil, and
// returns what has to be written, or nil. What two people have answered in one check
// at the same time is gathered: see [session.Gather].
func (p *Plan) Take(r, here record.Record) (record.Record, error) {
	k := r.Kind()
	if here == nil {
		p.Added[k]++
		return r, nil
	}
	merged, err := record.Merge(here, r)
	if err != nil {
		return nil, err
	}
	if c, ok := merged.(*record.Check); ok {
		if _, err := session.Gather(c); err != nil {
			return nil, err
		}
	}
	if merged.IsDeleted() && !r.IsDeleted() {
		p.Gone++
	}
	was, err := here.Encode()
	if err != nil {
		return nil, err
	}
	now, err := merged.Encode()
	if err != nil {
		return nil, err
	}
	if bytes.Equal(was, now) {
		p.Same[k]++
		return nil, nil
	}
	p.Changed[k]++
	if len(record.SetAside(merged)) > len(record.SetAside(here)) {
		p.Aside[k]++
	}
	return merged, nil
}

// PlanMerge merges a backup with what is stored here. find returns the stored
// record of a kind and id, or nil.
func PlanMerge(b *File, find func(record.Kind, string) (record.Record, error)) (*Plan, error) {
	p := NewPlan()
	for _, r := range b.Records {
		here, err := find(r.Kind(), r.Key())
		if err != nil {
			return nil, err
		}
		write, err := p.Take(r, here)
		if err != nil {
			return nil, err
		}
		if write != nil {
			p.Writes = append(p.Writes, write)
		}
	}
	return p, nil
}
