package travel

import (
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/keeping"
	"larderlamp/rules/packing"
)

// What is assumed about a trip. Ours, unless said otherwise.
const (
	unsure    = 3.0 // degrees by which a forecast may be wrong
	openings  = 12  // openings of a cooler, per day
	dailyFood = 0.1 // kg per person that go into the cooler warm, per day
	leaves    = 9   // o'clock, on the first and on the last day
	firstMeal = 8
	lastMeal  = 20 // o'clock: meals are between these
	refills   = 10 // o'clock: fresh ice goes in
	// usesFirst is the age in days from which a jar that keeps should go before
	// younger ones: the season before last year's.
	usesFirst = 270
)

// WhatIf is what may turn out differently on a trip.
type WhatIf struct {
	Hotter  int // degrees Celsius, all the time
	IceGone int // the day on which the ice is gone, from 1; 0 for not before it melts
}

// Fate is what happens to a jar.
type Fate uint8

// A jar goes and is on the plan, goes as a spare, is not wanted on this trip, or
// stays. One that goes may have to be looked at before it is packed.
const (
	Goes Fate = iota
	Spare
	NotNeeded
	Stays
)

// Why a jar stays or is not needed.
const (
	WhyDiscard  = "discard"   // it has to be discarded
	WhyOpen     = "open"      // it is open
	WhyMissing  = "missing"   // nobody knows where it is
	WhyHeat     = "heat"      // the trip would make it worse than use soon
	WhyFrost    = "frost"     // it might freeze
	WhyNoMeal   = "no-meal"   // nothing of its kind is wanted
	WhyTooMuch  = "too-much"  // opened, it would not be finished in its time
	WhyOthers   = "others"    // others go first
	WhyTooLate  = "too-late"  // it would have to be opened before the first meal
	WhyNoRecord = "no-record" // nobody knows what is in it
	WhyUnknown  = "unknown"   // something about it is not known that no look shows
)

// Traveler is a jar and what the trip means for it.
type Traveler struct {
	*pantry.Verdict
	Fate Fate
	Why  string
	// Look says that the plan treats the jar as sound although nobody has looked
	// at it, or at its place: that has to be done before it is packed.
	Look bool
	Best rules.Verdict // what it is then
	Dish int
	Must bool
	// LastDay is the last day of the trip on which it may be opened, from 0.
	LastDay int
	// Opens is the meal at which it is opened, below zero if it is not.
	Opens    int
	Exposure keeping.Exposure // exposure during the whole trip
	Back     rules.Outcome    // if it comes back unopened
	// Rules are those that would match on the way, when it stays because of
	// that.
	Rules []*rules.Rule
	Grams int
	space int
	batch *record.Batch
	base  rules.Situation
	heat  *heating
}

// Batch is the batch of the jar.
func (t *Traveler) Batch() *record.Batch { return t.batch }

// Bind is a limit of the trip that costs meals, and how many would be covered
// without it.
type Bind struct {
	What  string
	Meals int
}

// What can limit a plan.
const (
	BindWeight = "weight"
	BindSpace  = "space"
	BindCold   = "cold"
	BindHeat   = "heat"
	BindStock  = "stock" // nothing helps: there are too few jars
)

// Journey is a trip that has been worked out.
type Journey struct {
	Trip    *record.Trip
	What    WhatIf
	Outside []keeping.Range
	Around  []keeping.Range // the jars
	Chill   *keeping.Chill  // nil without a cooler
	Cold    []int           // see [packing.Trip]
	// IceADay is how many kilograms of ice may melt in a day, at most; 0
	// without ice.
	IceADay float64
	Jars    []*Traveler
	Meals   []packing.Meal
	Plan    *packing.Plan // nil when what must come is too much
	Binds   []Bind
	Nights  []int // nights on which a jar may freeze
	Refused []string
	packed  []*Traveler // jars by their number in the plan
}

// Traveler returns the jar with a number in the plan.
func (j *Journey) Traveler(number int) *Traveler { return j.packed[number] }

// Worst is what the trip does to the jars that go, each the way it travels, or
// to all when none goes.
func (j *Journey) Worst() (e keeping.Exposure, ok bool) {
	for _, all := range []bool{false, true} {
		for _, t := range j.Jars {
			if !all && t.Fate != Goes && t.Fate != Spare {
				continue
			}
			if x := &t.Exposure; !ok || x.Warmest.High > e.Warmest.High {
				e, ok = *x, true
			}
		}
		if ok {
			return
		}
	}
	return
}

// Hottest is the temperature curve of the jar that gets warmest.
func (j *Journey) Hottest() (c keeping.Course, ok bool) {
	hot := 0.0
	for _, t := range j.Jars {
		if h := t.Exposure.Warmest.High; !ok || h > hot {
			c, hot, ok = t.heat.course, h, true
		}
	}
	return
}

// Luggage is the weight of what goes, in grams.
func (j *Journey) Luggage() (grams int) {
	for _, t := range j.Jars {
		if t.Fate == Goes || t.Fate == Spare {
			grams += t.Grams
		}
	}
	return
}
