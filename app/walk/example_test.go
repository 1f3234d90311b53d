package walk_test

import (
	"fmt"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/walk"
)

// A sweep of a shelf with three jars. Answers are stored with the jars, and so a
// walk that is rebuilt from the same records continues where it was.
func ExampleNew() {
	noon := time.Date(2026, 10, 1, 12, 0, 0, 0, time.UTC)
	p := pantry.New()
	place, err := record.NewPlace("Cellar", noon)
	if err != nil {
		fmt.Println(err)
		return
	}
	batch, err := record.NewBatch("peaches", noon)
	if err != nil {
		fmt.Println(err)
		return
	}
	batch.Made, batch.Count = "2026-06-12", 3
	jars, err := record.NewJars(batch, place.ID, noon)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, r := range append(jars, place, batch) {
		p.Put(r)
	}
	places := []string{place.ID}
	sweep, err := record.NewSweep(places, walk.Order(p, places, true, noon), noon)
	if err != nil {
		fmt.Println(err)
		return
	}
	p.Put(sweep)

	w := walk.New(p, sweep, noon)
	fmt.Println("jar", w.Next[0].Number, "is next,", w.Done, "of", w.Total, "done")
	if err := walk.LeaveOnShelf(sweep, w.Next[:2], noon, nil); err != nil {
		fmt.Println(err)
		return
	}
	w = walk.New(p, sweep, noon)
	fmt.Println("jar", w.Next[0].Number, "is next,", w.Done, "of", w.Total, "done")
	// Output:
	// jar 1 is next, 0 of 3 done
	// jar 3 is next, 2 of 3 done
}
