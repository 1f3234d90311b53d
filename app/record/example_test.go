package record_test

import (
	"fmt"
	"time"

	"larderlamp/app/record"
)

// A phone and a tablet each record something about the same jar while they are
// apart. The merge has both, whichever of the two is merged into the other.
func ExampleMerge() {
	noon := time.Date(2026, 10, 1, 12, 0, 0, 0, time.UTC)
	jar, err := record.NewJar("00000000-0000-7000-8000-000000000001", 1, noon)
	if err != nil {
		fmt.Println(err)
		return
	}
	apart := func(what string) *record.Jar {
		copied := *jar
		copied.Events = append([]record.Event{}, jar.Events...)
		if _, err := copied.Add(what, noon); err != nil {
			fmt.Println(err)
		}
		return &copied
	}
	phone, tablet := apart(record.Looked), apart(record.Opened)
	for _, pair := range [][2]*record.Jar{{phone, tablet}, {tablet, phone}} {
		both, err := record.Merge(pair[0], pair[1])
		if err != nil {
			fmt.Println(err)
			return
		}
		events := both.(*record.Jar).Events
		fmt.Println(events[0].What, "and", events[1].What)
	}
	// Output:
	// looked and opened
	// looked and opened
}
