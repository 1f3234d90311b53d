package pantry

import (
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/keeping"
)

// meter answers questions about the temperature of a place up to a day.
type meter struct {
	*keeping.Meter
	from, to int
}

// temperature is what is known about the temperature of a place, in degrees
// Celsius.
func temperature(a *record.Air) keeping.Air {
	if a == nil {
		return nil
	}
	tenths := func(low, high int) keeping.Range {
		return keeping.Range{Low: float64(low) / 10, High: float64(high) / 10}
	}
	switch a.How {
	case record.Steady:
		return keeping.Steady(tenths(a.Low, a.High))
	case record.Seasons:
		return keeping.Seasons{Winter: tenths(a.Low, a.High), Summer: tenths(a.Summer[0], a.Summer[1]), Swing: float64(a.Swing) / 10, South: a.South}
	}
	readings := keeping.Readings{}
	for _, d := range a.Days {
		if n, ok := d.Day.Number(); ok {
			readings[n] = keeping.Reading{Min: float64(d.Min) / 10, Max: float64(d.Max) / 10}
		}
	}
	return readings
}

// earliest is the day on which the first batch was made, at most twenty years
// ago.
func (p *Pantry) earliest(today int) int {
	first := today
	for _, b := range p.Batches {
		if n, ok := b.Made.Number(); ok {
			first = min(first, n)
		}
	}
	return max(first, today-7300)
}

// meter returns the meter of a place, made again when the day or the place
// changes.
func (p *Pantry) meter(place string, today int) *meter {
	m := p.meters[place]
	if m == nil || m.to != today+1 {
		from := p.earliest(today)
		var air *record.Air
		if pl := p.Places[place]; pl != nil {
			air = pl.Air
		}
		m = &meter{keeping.NewMeter(temperature(air), from, today+1), from, today + 1}
		p.meters[place] = m
	}
	return m
}

// Exposure is what the places did to a jar, from its first day to today.
func (p *Pantry) Exposure(s *record.Standing, now time.Time) keeping.Exposure {
	today := record.DayNumber(now)
	var e keeping.Exposure
	for i, stay := range s.Stays {
		from, to := record.DayNumber(stay.From.In(now.Location())), today+1
		if i+1 < len(s.Stays) {
			to = record.DayNumber(s.Stays[i+1].From.In(now.Location()))
		}
		part := p.meter(stay.Place, today).Between(from, to)
		if i == 0 {
			e = part
		} else {
			e = e.Add(part)
		}
	}
	return e
}

// tellHeat says how warm it has been at the worst, if the places say so. If
// they do not, what was said at the last look counts.
func (p *Pantry) tellHeat(j *record.Jar, basis *Basis, tell func(...rules.Value)) {
	e := p.Exposure(&basis.Standing, basis.Now)
	basis.Exposure = e
	heat := e.Heat()
	if w := basis.Warmest; w != nil {
		// A trip was at least as warm as its warmest reading.
		trip := Values("warmest_tenths_c", *w, *w)
		if len(heat) == 0 {
			heat = trip
		}
		for i := range heat {
			heat[i] = max(heat[i], trip[0]) // in rising order of harm
		}
	}
	if e.Unknown > 0 || len(heat) == 0 {
		if look := basis.Look; look != nil {
			for _, seen := range look.Seen {
				if seen.Sign == rules.SignHeat.ID() {
					heat = heat[:0]
					for _, name := range seen.Values {
						if v, ok := rules.SignHeat.ValueByID(name); ok {
							heat = append(heat, v)
						}
					}
				}
			}
		}
	}
	tell(heat...)
	if e.Unfrozen() && (basis.Coldest == nil || *basis.Coldest > 0) {
		tell(rules.FrozenNo)
	}
}

// Aging is how a jar ages in one place over the last year, for the chart.
type Aging struct {
	Place     string
	Days      []int // since the beginning
	Low, High []float64
	Hot       float64 // hours above 35 °C, at most
}

// Aging follows one year in each place whose temperature is known.
func (p *Pantry) Aging(now time.Time) (rows []Aging) {
	today, _ := record.DayOf(now).Number()
	for _, place := range p.PlaceOrder() {
		if place.Air == nil {
			continue
		}
		m := keeping.NewMeter(temperature(place.Air), today-365, today)
		all := m.Between(today-365, today)
		if all.Unknown > 0 {
			continue
		}
		a := Aging{Place: place.Name, Hot: all.HoursHot.High}
		for d := 0; d <= 365; d += 5 {
			e := m.Between(today-365, today-365+d)
			a.Days = append(a.Days, d)
			a.Low, a.High = append(a.Low, e.Aged.Low), append(a.High, e.Aged.High)
		}
		rows = append(rows, a)
	}
	return
}
