package travel

import (
	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/keeping"
)

// atHome is how warm a jar is when it is packed, in degrees Celsius.
var atHome = keeping.Range{Low: 5, High: 25}

// heating is what the trip does to all jars of a size and filling.
type heating struct {
	course keeping.Course
	until  []keeping.Exposure // up to the end of each day
}

type body struct {
	size string
	fill keeping.Fill
}

func fillOf(p *rules.Product) keeping.Fill {
	switch {
	case p.Group == rules.GroupBroth:
		return keeping.Liquid
	case DishOf(p) == 1:
		return keeping.Thick
	}
	return keeping.Pieces
}

// stands lists where something is in every hour: at home, on the way, there.
func stands(t *record.Trip, at string) []keeping.Stand {
	of := map[string]keeping.Stand{record.InShade: keeping.Shade, record.InSun: keeping.Sun, record.InCar: keeping.Car, record.InTrailer: keeping.Trailer, record.InCabin: keeping.Cabin}
	all := make([]keeping.Stand, 24*t.Days)
	for h := range all {
		all[h] = of[at]
		day, o := h/24, h%24
		switch {
		case day == 0 && o < leaves:
			all[h] = keeping.Shade
		case (day == 0 || day == t.Days-1) && o >= leaves && o < leaves+t.Drive:
			all[h] = of[t.Ride]
		}
	}
	return all
}

// outside returns the temperature outside, and around something in a given
// spot.
func outside(t *record.Trip, hotter int) (outside []keeping.Range, err error) {
	days := make([]keeping.Reading, t.Days)
	for d := range days {
		w := t.Weather[min(d, len(t.Weather)-1)]
		days[d] = keeping.Reading{Min: float64(w.Night)/10 + float64(hotter), Max: float64(w.Day)/10 + float64(hotter)}
	}
	return keeping.Outside(days, unsure)
}

// iceALiter is how many grams of ice fit in each liter of a cooler. A heap of cubes
// weighs about 550, from memory; common practice, no source. The food in the cooler
// needs room too.
const iceALiter = 500

// IceFits is the most ice that is counted, in grams: no more fits into the cooler.
func IceFits(t *record.Trip) int { return iceALiter * t.Liters }

// cooler is the box of the trip, nil when there is none.
func cooler(t *record.Trip, iceGone int) (*keeping.Cooler, error) {
	wall, ok := map[string]keeping.Wall{record.SoftCooler: keeping.SoftWall, record.HardCooler: keeping.HardWall, record.ThickCooler: keeping.ThickWall}[t.Cooler]
	if !ok && t.Cooler != record.FridgeOnBus {
		return nil, nil
	}
	c := &keeping.Cooler{Liters: t.Liters, Openings: openings, Daily: dailyFood * float64(t.People), Electric: t.Cooler == record.FridgeOnBus,
		Contents: keeping.Range{Low: 1, High: max(1, 0.4*float64(t.Liters))}, Ice: map[int]float64{}, Fits: float64(IceFits(t)) / 1000, Fails: -1}
	var err error
	if t.SeenIce > 0 && t.SeenHalf > 0 {
		c.Openings = 0
		c.Leak, err = keeping.Calibrate(float64(t.SeenIce)/1000, float64(t.SeenHalf)/2, float64(t.SeenAir)/10)
	} else {
		c.Leak, err = keeping.Leak(t.Liters, wall)
	}
	c.Ice[0] = float64(t.Ice) / 1000
	if t.Every > 0 {
		for d := t.Every; d < t.Days; d += t.Every {
			c.Ice[24*d+refills] = float64(t.More) / 1000
		}
	}
	if iceGone > 0 {
		c.Fails = 24 * (iceGone - 1)
	}
	return c, err
}

// chill works out the cooler.
func (j *Journey) chill() error {
	t := j.Trip
	c, err := cooler(t, j.What.IceGone)
	if err != nil {
		return err
	}
	j.Cold = make([]int, t.Days)
	for d := range j.Cold {
		j.Cold[d] = d - 1
	}
	if c == nil {
		return nil
	}
	around, err := keeping.Around(j.Outside, stands(t, t.CoolerStand))
	if err != nil {
		return err
	}
	if j.Chill, err = c.Run(around); err != nil {
		return err
	}
	if !c.Electric {
		// With more ice than can melt, the missing ice has melted.
		full := *c
		full.Ice, full.Fits, full.Fails = map[int]float64{0: 1000}, 0, -1
		ch, err := full.Run(around)
		if err != nil {
			return err
		}
		j.IceADay = (1000 - ch.Ice[24*t.Days].Low) / float64(t.Days)
	}
	for d := range j.Cold {
		from := 24*d + firstMeal
		until := from + j.Chill.Holds(from)
		for e := d; e < t.Days && 24*e+lastMeal <= until; e++ {
			j.Cold[d] = e
		}
	}
	return nil
}

// heating computes the temperatures of jars of one size and filling.
func (j *Journey) heating(known map[body]*heating, b *record.Batch) (*heating, error) {
	k := body{size: "other", fill: keeping.Pieces}
	if b != nil {
		k.fill = fillOf(b.Food())
		if _, ok := luggage[b.Size]; ok {
			k.size = b.Size
		}
	}
	if h := known[k]; h != nil {
		return h, nil
	}
	ml := 0
	for _, s := range record.Sizes {
		if s.ID == k.size {
			ml = s.Milliliters
		}
	}
	tau, err := keeping.TimeConstant(ml, k.fill, keeping.StillAir)
	if err != nil {
		return nil, err
	}
	h := &heating{}
	if h.course, err = keeping.Follow(atHome, j.Around, tau); err != nil {
		return nil, err
	}
	var e keeping.Exposure
	for d := range j.Trip.Days {
		day := h.course.Expose(24*d, 24*d+24)
		if d == 0 {
			e = day
		} else {
			e = e.Add(day)
		}
		if !day.Unfrozen() && (len(j.Nights) == 0 || j.Nights[len(j.Nights)-1] < d) {
			j.Nights = append(j.Nights, d)
		}
		h.until = append(h.until, e)
	}
	known[k] = h
	return h, nil
}
