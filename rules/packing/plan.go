package packing

import (
	"cmp"
	"fmt"
)

// Meal is one meal of one kind of food. The meals of a trip are in the order in
// which they are eaten.
type Meal struct {
	Day      int // from 0
	Kind     int
	Portions int // wanted, at least 1
	Extra    int // second helpings, at most
}

// Candidate is a jar that may come.
type Candidate struct {
	Kind     int
	Portions int // at least 1
	Grams    int
	Space    int // milliliters of luggage
	// LastDay is the last day on which it may be opened.
	LastDay int
	// Fridge is for how many days it keeps when opened and cold, the day of
	// opening being the first; 0 when it has to be finished at once.
	Fridge int
	// First is how much a portion of it should be used before that of others; 0
	// when there is no haste.
	First int
	// Age is what decides between jars that are alike in everything else: the
	// higher goes.
	Age int
	// Must says that it comes in any case. Its weight and space always count.
	Must bool
}

// Trip is what to pack for.
type Trip struct {
	Meals []Meal
	Jars  []Candidate
	// Cold is, for each day, the last day up to which something put into the
	// cooler on that day stays cold without a break; less than the day itself when
	// there is none.
	Cold  []int
	Grams int // at most
	Space int // at most
}

// Unlimited is a weight or a space without a limit.
const Unlimited = 1 << 40

// Opening is a jar that is opened at a meal.
type Opening struct{ Jar, Meal int }

// Serving is what happens to a jar at a meal.
type Serving struct {
	Jar, Meal int
	Portions  int // eaten
	Left      int // kept cold for a later meal
}

// Plan is the best plan of a trip.
type Plan struct {
	Missed   []int // meals, in order
	Openings []Opening
	Servings []Serving
	Score    Score
}

// Score is what a plan is judged by, the first difference deciding.
type Score struct {
	Missed int // meals: fewer is better
	Left   int // portions in open jars at the end: fewer is better
	Must   int // jars that must come and are opened: more is better
	First  int // haste of what is served: more is better
	Grams  int // of the luggage, with all that must come: less is better
	Space  int // less is better
	Opened int // jars: fewer is better
	Age    int // of what is opened, by portions: more is better
}

// Compare is below zero when s is the better plan, above when o is.
func (s Score) Compare(o Score) int {
	return cmp.Or(cmp.Compare(s.Missed, o.Missed), cmp.Compare(s.Left, o.Left), cmp.Compare(o.Must, s.Must), cmp.Compare(o.First, s.First),
		cmp.Compare(s.Grams, o.Grams), cmp.Compare(s.Space, o.Space), cmp.Compare(s.Opened, o.Opened), cmp.Compare(o.Age, s.Age))
}

func (s Score) add(o Score) Score {
	return Score{s.Missed + o.Missed, s.Left + o.Left, s.Must + o.Must, s.First + o.First, s.Grams + o.Grams, s.Space + o.Space, s.Opened + o.Opened, s.Age + o.Age}
}

// The bounds of a trip that is planned.
const (
	mostMeals    = 200
	mostPortions = 500
	mostDays     = 60
)

// Check reports what is wrong with a trip.
func (t *Trip) Check() error {
	if len(t.Cold) > mostDays {
		return fmt.Errorf("trip: %d days, at most %d", len(t.Cold), mostDays)
	}
	if len(t.Meals) > mostMeals {
		return fmt.Errorf("trip: %d meals, at most %d", len(t.Meals), mostMeals)
	}
	if t.Grams < 0 || t.Space < 0 {
		return fmt.Errorf("trip: a limit of %d g and %d ml", t.Grams, t.Space)
	}
	for i, m := range t.Meals {
		switch {
		case m.Day < 0 || m.Day >= len(t.Cold):
			return fmt.Errorf("meal %d: day %d of a trip of %d days", i+1, m.Day, len(t.Cold))
		case i > 0 && m.Day < t.Meals[i-1].Day:
			return fmt.Errorf("meal %d: on day %d, after one on day %d", i+1, m.Day, t.Meals[i-1].Day)
		case m.Portions < 1 || m.Portions > mostPortions || m.Extra < 0 || m.Extra > m.Portions:
			return fmt.Errorf("meal %d: %d portions and %d more", i+1, m.Portions, m.Extra)
		}
	}
	for i, j := range t.Jars {
		if j.Portions < 1 || j.Portions > mostPortions || j.Grams < 0 || j.Grams > 1e6 || j.Space < 0 || j.Space > 1e6 || j.First < 0 || j.Age < 0 || j.Fridge < 0 || j.First > 1e6 || j.Age > 1e6 {
			return fmt.Errorf("jar %d: %+v is out of bounds", i+1, j)
		}
	}
	return nil
}
