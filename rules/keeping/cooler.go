package keeping

import (
	"errors"
	"fmt"
	"math"
)

// Melting is the heat that melts a kilogram of ice, in kJ.
//
// Source: the enthalpy of fusion of water, 333.55 kJ/kg at 0 °C, CRC Handbook of
// Chemistry and Physics (from memory).
const Melting = 333.55

// Cold is the temperature, in degrees Celsius, that opened food needs: 4 °C
// (40 °F) or below.
//
// Source: USDA FSIS, danger zone (read).
const Cold = 4.0

// kJ per K and kg of water, of food put in, and of the air of a liter of cooler.
// From memory.
const (
	heatOfWater = 4.186
	heatOfIce   = 2.1
	heatOfAir   = 0.0012
)

// lastIce is the share of the ice that is not relied on: the last of it lies in one
// corner. Our own figure.
const lastIce = 0.1

// Wall is how a cooler is built.
type Wall uint8

// The kinds of coolers.
const (
	SoftWall  Wall = iota
	HardWall       // ordinary
	ThickWall      // of 4 inches
)

// walls is how thick the insulation is, in meters, and foam how well it leads
// heat, in W/(m·K), with lid and seams. From memory, not measured.
var (
	walls = [...]Range{SoftWall: {0.005, 0.012}, HardWall: {0.022, 0.035}, ThickWall: {0.035, 0.06}}
	foam  = Range{0.022, 0.036}
)

// Leak is how much heat gets into a cooler of a given size in liters, in W for each
// degree. Derived: foam over thickness, over the surface of a box of 1 × 1 × 1.5,
// measured at the middle of its wall. It fails outside 3 to 300 liters.
func Leak(liters int, wall Wall) (Range, error) {
	if liters < 3 || liters > 300 {
		return Range{}, fmt.Errorf("cooler: %d liters are not between 3 and 300", liters)
	}
	if int(wall) >= len(walls) {
		return Range{}, fmt.Errorf("cooler: no wall %d", wall)
	}
	at := func(conducts, thick float64) float64 {
		side := math.Cbrt(float64(liters) / 1000 / 1.5)
		a, b := side+thick, 1.5*side+thick
		return conducts / thick * (2*a*a + 4*a*b)
	}
	return Range{at(foam.Low, walls[wall].High), at(foam.High, walls[wall].Low)}, nil
}

// Calibrate returns the leak of a cooler, with its openings, in W for each degree,
// from what its owner has seen: so many kilograms of ice lasted so many days
// while it was so warm around it on average, day and night. The weight is taken
// to be right within a tenth, the time within half a day, the temperature within
// 3 °C: ours.
func Calibrate(kilograms, days, celsius float64) (Range, error) {
	const weight, time, warmth = 0.1, 0.5, 3
	if !(kilograms > 0 && kilograms <= 200) {
		return Range{}, fmt.Errorf("cooler: %v kg of ice are not above 0 and up to 200", kilograms)
	}
	if !(days >= 1 && days <= 30) {
		return Range{}, fmt.Errorf("cooler: %v days are not between 1 and 30", days)
	}
	if !(celsius > warmth && celsius <= 60) {
		return Range{}, fmt.Errorf("cooler: %v °C are not above %d and up to 60", celsius, warmth)
	}
	heat := kilograms * Melting * 1000 // J
	const day = 86400.0
	return Range{
		heat * (1 - weight) / ((celsius + warmth) * (days + time) * day),
		heat * (1 + weight) / ((celsius - warmth) * (days - time) * day),
	}, nil
}

// Cooler is a box with ice in it, or one with a machine.
type Cooler struct {
	Leak     Range   // W for each degree
	Liters   int     // inside
	Openings int     // a day; 0 when the leak has them in it
	Contents Range   // kg of cold food and drink, without the ice
	Daily    float64 // kg of food put in every day as warm as the air outside
	// Ice is what is put in at the beginning of an hour, in kg.
	Ice map[int]float64
	// Fits is how much ice there is room for at any time, in kg: what is put in
	// beyond that stays outside. 0 for no limit.
	Fits float64
	// Electric says that a machine keeps it cold, without ice.
	Electric bool
	// Fails is the hour from which there is neither ice nor machine, whatever
	// was put in; below zero for never.
	Fails int
}

// Chill is what a cooler does, hour by hour.
type Chill struct {
	Ice []Range // kg; Ice[i] after i hours, Ice[0] at the beginning
	Course
}

// chills is the time constant, in hours, with which fresh ice cools what has
// become warm. Ours.
const chills = 2.0

// Run follows the cooler through the air around it. As long as there is more ice
// in it than a tenth of what it had, it counts as at 0 to 4 °C. Then what is in
// it warms up.
//
// An energy balance: what leaks in, and what comes in with openings and warm
// food, against the melting of the ice. The worse case has 0 °C inside, so that
// most leaks in, and ice that is no colder; the better one 4 °C inside and ice at
// -18 °C. The water that ice leaves behind counts for nothing.
func (c *Cooler) Run(around []Range) (*Chill, error) {
	if err := errors.Join(c.Leak.check(), c.Contents.check()); err != nil {
		return nil, fmt.Errorf("cooler: %w", err)
	}
	if c.Leak.Low <= 0 || c.Contents.Low < 0 || !(c.Daily >= 0) || c.Openings < 0 || c.Liters < 0 || !(c.Fits >= 0) {
		return nil, errors.New("cooler: a leak that is not above zero, or something in it below zero")
	}
	for h, kg := range c.Ice {
		if !(kg >= 0) || h < 0 || math.IsInf(kg, 0) {
			return nil, fmt.Errorf("cooler: hour %d: %v kg of ice", h, kg)
		}
	}
	for h, out := range around {
		if err := out.check(); err != nil {
			return nil, fmt.Errorf("cooler: hour %d: %w", h+1, err)
		}
	}
	air := float64(c.Openings*c.Liters) * heatOfAir / 24 // kJ for each degree and hour
	// Damp air gives off up to twice as much again.
	// Without ice it follows the air at the quickest or at the slowest.
	quick := max(0.05, c.Contents.Low*heatOfWater/(c.Leak.High*3.6))
	slow := max(quick, (c.Contents.High+c.allIce())*heatOfWater/(c.Leak.Low*3.6))
	worse := c.play(around, scene{
		out:  func(r Range) float64 { return r.High },
		free: func(t, out float64) float64 { return max(Respond(t, out, 1, quick), Respond(t, out, 1, slow)) },
		leak: c.Leak.High*3.6 + 3*air + c.Daily*heatOfWater/24, within: 0, shows: Cold,
		ice: Melting, kept: lastIce, warm: c.Contents.High * heatOfWater})
	better := c.play(around, scene{
		out:  func(r Range) float64 { return r.Low },
		free: func(t, out float64) float64 { return min(Respond(t, out, 1, quick), Respond(t, out, 1, slow)) },
		leak: c.Leak.Low*3.6 + air, within: Cold, shows: 0,
		ice: Melting + 18*heatOfIce})
	ch := &Chill{Ice: make([]Range, len(worse)), Course: Course{At: make([]Range, len(worse))}}
	for i := range worse {
		ch.Ice[i] = Range{worse[i].ice, better[i].ice}
		ch.At[i] = Range{min(better[i].temp, worse[i].temp), worse[i].temp}
	}
	return ch, nil
}

// allIce is what is put in altogether, in kg.
func (c *Cooler) allIce() (sum float64) {
	for _, kg := range c.Ice {
		sum += kg
	}
	return
}

// scene is one end of what is possible.
type scene struct {
	out           func(Range) float64             // the air outside
	free          func(temp, out float64) float64 // °C after an hour without ice
	leak          float64                         // kJ for each degree and hour, all that comes in
	within, shows float64                         // °C with ice in it: for the balance, and for the food
	ice           float64                         // kJ that a kilogram takes up
	kept          float64                         // the share of the ice that is not counted on
	warm          float64                         // kJ for each degree that fresh ice has to cool down
}

// moment is the state of a cooler: kg of ice and °C.
type moment struct{ ice, temp float64 }

func (c *Cooler) play(around []Range, s scene) []moment {
	fits := math.Inf(1)
	if c.Fits > 0 {
		fits = c.Fits
	}
	first, temp := min(c.Ice[0], fits), s.shows
	store, had := first*s.ice, first*s.ice
	ms := append(make([]moment, 0, len(around)+1), moment{first, temp})
	for h, r := range around {
		out := s.out(r)
		if kg := c.Ice[h]; h > 0 && kg > 0 {
			store = min(store+kg*s.ice, fits*s.ice)
			had = store
		}
		works := c.Fails < 0 || h < c.Fails
		if !works {
			store = 0
		}
		left := max(0, store-s.leak*max(0, out-s.within))
		// In the hour in which it runs out, one case takes it to be gone, the
		// other to be there.
		counts := left > had*s.kept
		if s.kept == 0 {
			counts = store > 0
		}
		store = left
		free := s.free(temp, out)
		switch cold := works && (c.Electric || counts); {
		case !cold:
			temp = free
		case temp > s.shows:
			next := max(s.shows, Respond(temp, 0, 1, chills))
			store = max(0, store-s.warm*(temp-next))
			temp = next
		default:
			temp = min(s.shows, free) // frost gets in anyway
		}
		ms = append(ms, moment{store / s.ice, temp})
	}
	return ms
}

// Holds reports for how many hours from one on the cooler is at or below [Cold]
// for certain.
func (ch *Chill) Holds(from int) int {
	n := 0
	for h := from; h+1 < len(ch.At) && max(ch.At[h].High, ch.At[h+1].High) <= Cold; h++ {
		n++
	}
	return n
}
