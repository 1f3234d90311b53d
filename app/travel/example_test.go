package travel_test

import (
	"fmt"
	"time"

	"larderlamp/app/demo"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/travel"
	"larderlamp/rules"
)

// Which jars of the made-up household go on a trip? None that would have to be
// discarded on the way, however much hotter than planned it becomes.
func ExamplePlanner_Plan() {
	now := time.Date(2026, 6, 20, 10, 0, 0, 0, time.UTC)
	records, err := demo.Records(now)
	if err != nil {
		fmt.Println(err)
		return
	}
	p := pantry.New()
	for _, r := range records {
		p.Put(r)
	}
	trip, err := record.NewTrip(record.DayOf(now.AddDate(0, 0, 3)), now)
	if err != nil {
		fmt.Println(err)
		return
	}
	planner := travel.NewPlanner(p, trip, now)
	for _, what := range []travel.WhatIf{{}, {Hotter: 10}} {
		journey, err := planner.Plan(what)
		if err != nil {
			fmt.Println(err)
			return
		}
		discarded := 0
		for _, j := range journey.Jars {
			if j.Fate == travel.Goes && j.Lowest == rules.Discard {
				discarded++
			}
		}
		fmt.Println("planned:", journey.Plan != nil, "— go though they are to be discarded:", discarded)
	}
	// Output:
	// planned: true — go though they are to be discarded: 0
	// planned: true — go though they are to be discarded: 0
}
