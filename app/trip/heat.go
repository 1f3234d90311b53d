package trip

import (
	"larderlamp/app/draw"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/keeping"
	"larderlamp/rules/prose"
)

// chart draws the temperatures of the air, of the jar that gets warmest, and of
// the cooler.
func (p *Page) chart() string {
	j := p.journey
	series := func(name prose.Text, at []keeping.Range) draw.Series {
		s := draw.Series{Name: name, Band: true}
		for i := 0; i < len(at); i += max(1, len(at)/160) {
			s.Points = append(s.Points, draw.Point{X: float64(i) / 24, Low: p.scale(at[i].Low), High: p.scale(at[i].High)})
		}
		return s
	}
	l := draw.Lines{Label: "How cold and how warm it can get on the trip", Unit: "°C", Series: []draw.Series{series("air there", j.Outside)}}
	if p.House.Settings.Fahrenheit {
		l.Unit = "°F"
	}
	if c, ok := j.Hottest(); ok {
		l.Series = append(l.Series, series("in a jar", c.At))
	}
	if j.Chill != nil {
		l.Series = append(l.Series, series("in the cooler", j.Chill.At))
	}
	l.Limits = []draw.Limit{{At: p.scale(35), Name: ui.Say("%s: the most for jars", p.House.Degrees(350))}, {At: p.scale(4), Name: ui.Say("%s: opened food", p.House.Degrees(40))}}
	if len(j.Nights) > 0 {
		l.Limits = append(l.Limits, draw.Limit{At: p.scale(0), Name: "frost"})
	}
	for d := range p.trip.Days {
		if p.trip.Days < 9 || d%3 == 0 {
			l.Ticks = append(l.Ticks, draw.Tick{X: float64(d), Name: ui.Say("day %d", d+1)})
		}
	}
	return l.SVG(ui.Reader)
}

func (p *Page) scale(c float64) float64 {
	if p.House.Settings.Fahrenheit {
		return record.Fahrenheit(c)
	}
	return c
}

// warmth describes the temperatures.
func (p *Page) warmth() (lines []prose.Text) {
	j := p.journey
	if e, ok := j.Worst(); ok {
		hot := prose.Text("never above 35 °C (95 °F)")
		if h := e.HoursHot.High; h > 0 {
			hot = ui.Say("up to %.0f hours above 35 °C (95 °F)", h)
		}
		lines = append(lines, ui.Say("Jars: at most %s, %s; the trip ages them like %.0f to %.0f days at 20 °C.",
			p.House.Degrees(int(e.Warmest.High*10)), hot, e.Aged.Low, e.Aged.High))
	}
	if n := len(j.Nights); n > 0 {
		lines = append(lines, ui.Say("%s on which a jar may freeze: a frozen jar can lose its seal. Take them where it does not freeze.", ui.Count(n, "night", "nights")))
	}
	if j.Chill != nil {
		lines = append(lines, ui.Say("The cooler %s. A thermometer inside is the only proof.", p.holds(j)))
		if j.IceADay > 0 {
			lines = append(lines, ui.Say("Up to %s of ice may melt in a day.", p.House.Grams(int(j.IceADay*1000))))
		}
	}
	return
}
