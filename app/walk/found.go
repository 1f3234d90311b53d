package walk

import (
	"fmt"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
)

// AddFound records a jar that was found: one of its batch that was missing, or
// else one that had never been recorded.
func AddFound(p *pantry.Pantry, batch, place string, now time.Time) (*record.Jar, error) {
	b := p.Batches[batch]
	if b == nil {
		return nil, fmt.Errorf("there is no batch %s", batch)
	}
	for _, j := range p.OfBatch(batch) {
		if j.Standing().Stage == record.IsMissing {
			return j, find(j, place, now)
		}
	}
	number := 0
	for _, j := range p.OfBatch(batch) {
		number = max(number, j.Number)
	}
	j, err := record.NewJar(batch, number+1, now)
	if err != nil {
		return nil, err
	}
	return j, find(j, place, now)
}

// find records that the jar was found in a place.
func find(j *record.Jar, place string, now time.Time) error {
	e, err := j.Add(record.Found, now)
	if err == nil {
		e.Place = place
	}
	return err
}
