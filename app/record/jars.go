package record

import (
	"fmt"
	"time"
)

// NewJars makes all jars of a batch and puts them in a place on the day they
// were canned.
func NewJars(b *Batch, into string, now time.Time) (records []Record, err error) {
	at, err := time.ParseInLocation(DayLayout, string(b.Made), now.Location())
	if err != nil {
		return nil, fmt.Errorf("batch %s: made: %w", b.ID, err)
	}
	for n := range max(0, min(b.Count, MostJars)) {
		j, err := NewJar(b.ID, n+1, now)
		if err != nil {
			return nil, err
		}
		e, err := j.Add(Stored, at.Add(12*time.Hour))
		if err != nil {
			return nil, err
		}
		e.Place = into
		records = append(records, j)
	}
	return records, nil
}
