package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"time"

	"larderlamp/rules/prose"
)

// Dish is a kind of food wanted for the meals of a trip.
type Dish struct {
	ID          string
	Name        prose.Text
	Milliliters int // size of a portion. Ours.
}

// Dishes lists the kinds of food, in the order of [Trip.Meals].
var Dishes = [...]Dish{
	{"fruit", "Fruit", 120},
	{"spread", "Jam and spread", 20},
	{"pickle", "Pickles and salsa", 60},
	{"tomato", "Tomatoes and sauce", 120},
	{"vegetable", "Vegetables", 120},
	{"soup", "Soup and broth", 240},
	{"meat", "Meat and fish", 120},
}

// Where jars travel and stand on a trip.
const (
	InShade   = "shade"
	InSun     = "sun"
	InCar     = "car"
	InTrailer = "trailer"
	InCabin   = "cabin" // inside with people
)

// The kinds of coolers.
const (
	NoCooler    = "none"
	SoftCooler  = "soft"
	HardCooler  = "hard"
	ThickCooler = "thick"
	FridgeOnBus = "fridge"
)

// The limits of a trip.
const (
	MostTripDays = 21
	MostPeople   = 12
)

// Weather is the lowest and the highest temperature expected of a day, in tenths
// of a degree Celsius.
type Weather struct {
	Night int `json:"night"`
	Day   int `json:"day"`
}

// Packed is a jar that goes, and what the plan says about it.
type Packed struct {
	Jar  string `json:"jar"`
	Open int    `json:"open"` // the day of the trip on which it is opened, from 0; below zero when it is a spare
	Last int    `json:"last"` // the last day on which it should be opened
}

// Served is a meal of a plan, and what the plan says about it. It is kept with
// the trip, so that a trip that is packed or over shows the plan that was made.
type Served struct {
	Meal int    `json:"meal"`           // its place among all meals of the plan, from 0
	Day  int    `json:"day"`            // day of the trip, from 0
	Dish int    `json:"dish"`           // index in [Dishes]
	Jar  string `json:"jar,omitempty"`  // empty for a meal without a jar
	Open bool   `json:"open,omitempty"` // the jar is opened at this meal
	Left int    `json:"left,omitempty"` // portions that stay in the jar
}

// Trip is a journey that jars are taken on.
type Trip struct {
	Head
	Name     string    `json:"name,omitempty"`
	From     Day       `json:"from"`
	Days     int       `json:"days"`
	People   int       `json:"people"`
	Appetite int       `json:"appetite"` // percent of a portion
	Meals    []int     `json:"meals"`    // how many meals of each of Dishes are wanted
	Weather  []Weather `json:"weather"`  // one for all days, or one for each
	Feet     int       `json:"altitude_feet"`
	Ride     string    `json:"ride"`
	Drive    int       `json:"drive_hours"` // hours of driving on the first and on the last day
	Stand    string    `json:"stand"`
	Indoors  bool      `json:"indoors,omitempty"` // jars are protected from frost at night

	Cooler      string `json:"cooler"`
	CoolerStand string `json:"cooler_stand"`
	Liters      int    `json:"liters"`
	Quarts      int    `json:"quarts,omitempty"` // the size as it was entered, where quarts are used; Liters is what counts
	Ice         int    `json:"ice_grams"`
	More        int    `json:"more_ice_grams,omitempty"` // ice is added again and again
	Every       int    `json:"more_ice_days,omitempty"`  // every so many days
	// What the owner has observed: how much ice lasted how many half days at
	// which average temperature.
	SeenIce  int `json:"seen_ice_grams,omitempty"`
	SeenHalf int `json:"seen_half_days,omitempty"`
	SeenAir  int `json:"seen_tenths_c,omitempty"`

	Grams int      `json:"most_grams,omitempty"`       // 0 for no limit
	Space int      `json:"most_milliliters,omitempty"` // 0 for no limit
	Must  []string `json:"must,omitempty"`             // jars that come in any case

	Packed []Packed   `json:"packed,omitempty"`
	Plan   []Served   `json:"plan,omitempty"` // as it was when the jars were packed
	Home   *time.Time `json:"home,omitempty"` // when it was settled what happened to them
}

// tripKeys are the fields that had a key in British spelling in earlier editions. They
// can be read, and are written with the new key.
var tripKeys = []struct{ old, now string }{{"litres", "liters"}, {"most_millilitres", "most_milliliters"}}

// withTripKeys returns the text of a trip with the current keys.
func withTripKeys(text []byte) ([]byte, error) {
	if !slices.ContainsFunc(tripKeys, func(k struct{ old, now string }) bool { return bytes.Contains(text, []byte(`"`+k.old+`"`)) }) {
		return text, nil
	}
	var fields map[string]json.RawMessage
	if json.Unmarshal(text, &fields) != nil {
		return text, nil // the reader reports what is wrong
	}
	found := false
	for _, k := range tripKeys {
		v, ok := fields[k.old]
		if !ok {
			continue
		}
		found = true
		if _, twice := fields[k.now]; twice {
			return nil, fmt.Errorf("%s: it is there as %s too", k.now, k.old)
		}
		fields[k.now] = v
		delete(fields, k.old)
	}
	if !found { // only a version that was set aside has them
		return text, nil
	}
	return json.Marshal(fields)
}

// NewTrip starts a trip with the usual values: a summer weekend for four with a
// hard cooler and ice available every day.
func NewTrip(from Day, now time.Time) (*Trip, error) {
	head, err := newHead(now)
	if err != nil {
		return nil, fmt.Errorf("trip: %w", err)
	}
	t := &Trip{Head: head, From: from, Days: 4, People: 4, Appetite: 100, Weather: []Weather{{120, 260}},
		Ride: InCabin, Drive: 3, Stand: InShade, Cooler: HardCooler, CoolerStand: InShade, Liters: 40, Ice: 12000, More: 10000, Every: 1}
	t.Meals = []int{3, 2, 2, 1, 3, 1, 2}
	return t, nil
}

// Kind implements [Record].
func (t *Trip) Kind() Kind { return Trips }

// body has the keys of earlier editions: the bytes that name a version must be the
// same in all editions, or a version that was replaced long ago would count as one
// made elsewhere.
func (t *Trip) body() ([]byte, error) {
	text, err := bodyOf(t)
	for _, k := range tripKeys {
		text = bytes.Replace(text, []byte(`"`+k.now+`":`), []byte(`"`+k.old+`":`), 1)
	}
	return text, err
}

// Encode implements [Record].
func (t *Trip) Encode() ([]byte, error) { return encode(t, t) }

// Validate implements [Record].
func (t *Trip) Validate() error {
	f := faults{record: "trip " + t.ID}
	t.check(&f)
	f.text("name", t.Name, MostName)
	f.day("from", t.From)
	for _, n := range []struct {
		field        string
		v, low, high int
		unit         prose.Text
	}{
		{"days", t.Days, 1, MostTripDays, "days"},
		{"people", t.People, 1, MostPeople, "people"},
		{"appetite", t.Appetite, 25, 300, "percent"},
		{"altitude_feet", t.Feet, -1500, MostAltitude, "feet"},
		{"drive_hours", t.Drive, 0, 12, "hours"},
		{"liters", t.Liters, 3, 300, "liters"},
		{"quarts", t.Quarts, 0, 317, "quarts"},
		{"ice_grams", t.Ice, 0, 200000, "grams"},
		{"more_ice_grams", t.More, 0, 200000, "grams"},
		{"more_ice_days", t.Every, 0, MostTripDays, "days"},
		{"seen_ice_grams", t.SeenIce, 0, 200000, "grams"},
		{"seen_half_days", t.SeenHalf, 0, 60, "half days"},
		{"seen_tenths_c", t.SeenAir, 0, 600, "tenths of a degree"},
		{"most_grams", t.Grams, 0, 1000000, "grams"},
		{"most_milliliters", t.Space, 0, 1000000, "milliliters"},
	} {
		f.within(n.field, n.v, n.low, n.high, n.unit)
	}
	if len(t.Meals) != len(Dishes) {
		f.add("meals", "%d of them, for %d kinds of food", len(t.Meals), len(Dishes))
	}
	for _, n := range t.Meals {
		f.within("meals", n, 0, 2*t.Days, "meals")
	}
	if len(t.Weather) != 1 && len(t.Weather) != t.Days {
		f.add("weather", "%d of them, for one day or for %d", len(t.Weather), t.Days)
	}
	for _, w := range t.Weather {
		f.within("weather: night", w.Night, Coldest, Hottest, "tenths of a degree")
		f.within("weather: day", w.Day, w.Night, Hottest, "tenths of a degree")
	}
	f.one("ride", t.Ride, InCabin, InCar, InTrailer)
	f.one("stand", t.Stand, InShade, InSun, InCar, InTrailer)
	f.one("cooler", t.Cooler, NoCooler, SoftCooler, HardCooler, ThickCooler, FridgeOnBus)
	f.one("cooler_stand", t.CoolerStand, InShade, InSun, InCar, InTrailer)
	if len(t.Packed) > 1000 || len(t.Must) > 1000 {
		f.add("packed", "%d jars and %d that must come are too many", len(t.Packed), len(t.Must))
	}
	for i, p := range t.Packed {
		if !isID(p.Jar) {
			f.add("packed", "%d: %q is not an id of this program", i+1, p.Jar)
		}
		f.within("packed: open", p.Open, -1, MostTripDays, "")
		f.within("packed: last", p.Last, -1, MostTripDays, "")
	}
	if len(t.Plan) > 5000 {
		f.add("plan", "%d lines are too many", len(t.Plan))
	}
	for i, v := range t.Plan {
		if v.Jar != "" && !isID(v.Jar) {
			f.add("plan", "%d: %q is not an id of this program", i+1, v.Jar)
		}
		f.within("plan: meal", v.Meal, 0, 2*MostTripDays*len(Dishes), "")
		f.within("plan: day", v.Day, 0, MostTripDays-1, "")
		f.within("plan: dish", v.Dish, 0, len(Dishes)-1, "")
		f.within("plan: left", v.Left, 0, 1000, "portions")
	}
	for i, id := range t.Must {
		if !isID(id) {
			f.add("must", "%d: %q is not an id of this program", i+1, id)
		}
	}
	if t.Home != nil {
		f.time("home", *t.Home)
	}
	return f.err()
}

// Unpack lets the trip be planned again.
func (t *Trip) Unpack() { t.Packed, t.Plan = nil, nil }

// Quart is in milliliters.
const Quart = 946.352946

// SetQuarts notes the size of the cooler in quarts.
func (t *Trip) SetQuarts(n int) {
	t.Quarts, t.Liters = n, int(math.Round(float64(n)*Quart/1000))
}

// InQuarts is the size of the cooler in quarts: as it was entered, or converted
// from liters.
func (t *Trip) InQuarts() int {
	if t.Quarts > 0 {
		return t.Quarts
	}
	return int(math.Round(float64(t.Liters) * 1000 / Quart))
}
