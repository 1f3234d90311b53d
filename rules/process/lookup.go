package process

import (
	"errors"
	"fmt"
	"math/bits"

	"larderlamp/rules/evidence"
	"larderlamp/rules/prose"
)

// ErrNoProcess says that no tested process is published for what was asked.
// The error that wraps it is a [*NoProcessError] and says what is missing.
var ErrNoProcess = errors.New("no tested process")

// ErrVague says that a query leaves open what only one answer can be given for.
var ErrVague = errors.New("query names not exactly one of each")

// Query asks for the published process of one food in one jar. Pack, Jar,
// Method and, under pressure, Gauge name one value each.
type Query struct {
	Product  string // as in [Food.ID]
	Form     string // as in [Food.Form]; empty for a product with one form
	Pack     Pack
	Jar      Size
	Method   Method
	Gauge    Gauge
	Altitude Feet
}

// Line is one published way to process the jar: minutes in boiling water
// (PSI is 0), or minutes at a pressure.
type Line struct {
	Food    *Food
	Row     *Row
	Method  Method
	Minutes int
	PSI     int
	Gauge   Gauge
	UtahTop bool // the minutes are those of [UtahHigh]
	// Larger is the published size whose time the jar takes, being smaller; 0
	// when its own size is published.
	Larger Size
}

// Cite names the source of the minutes. A line that rests on a remembered row
// stays remembered, whatever else confirms it.
func (l *Line) Cite() Cite {
	c := l.Row.Cite
	if l.UtahTop {
		c.Source = UtahHigh.Source + "; otherwise " + c.Source
	}
	if l.Method == SteamCanner {
		c.Source += "; for a steam canner " + steamSource
	}
	if l.Method == Pasteurized {
		c = l.Food.LowHeat() // the minutes are not the row's
	}
	if l.Larger != 0 {
		c.Source += "; for a smaller jar " + jarSizes.Source
	}
	return c
}

// evidence says how the minutes are known.
func (l *Line) evidence() evidence.Mark {
	if l.Method == Pasteurized {
		return l.Food.LowHeat().Evidence
	}
	return l.Row.Cite.Evidence
}

// SterileJars reports whether jars must be boiled before filling (10 minutes,
// and one more for each 1,000 ft): so the Guide says for less than 10 minutes
// in boiling water.
func (l *Line) SterileJars() bool { return l.PSI == 0 && l.Minutes < 10 }

// Text says it in words: "25 minutes at 12 pounds by a dial gauge".
func (l *Line) Text() prose.Text {
	if l.Method == Pasteurized {
		return prose.Say("%d minutes in water kept at 180 to 185 °F (82 to 85 °C) by a thermometer", l.Minutes)
	}
	if l.PSI == 0 {
		return prose.Say("%d minutes at a boil", l.Minutes)
	}
	return prose.Say("%d minutes at %d pounds by a %s", l.Minutes, l.PSI, gaugeWords.of(uint8(l.Gauge)))
}

// String is it in English.
func (l *Line) String() string { return l.Text().String() }

// steamLimit is the longest boiling-water process, in minutes, that a steam
// canner without pressure may stand in for, what is added for altitude included.
// The sources were read: the second is the study that the limit rests on.
const (
	steamLimit             = 45
	steamSource            = "National Center for Home Food Preservation, Burning issue: using atmospheric steam canners; Willmore et al., Food Protection Trends 35(3), 2015; Iowa State University Extension, Canning equipment"
	steamNeeds  prose.Text = "A steam canner holds this only with preheated jars, vented to pure steam before the time starts, never opened, and the jars cooled in still air"
)

// lowHeat is how long jars stay in the warm water; it does not grow with
// altitude, for the water is below the boil everywhere that people live.
const lowHeat = 30

// Lines returns every published process that fits, each valid by itself; the
// time of one must never go with the pressure of another. The error wraps
// [ErrNoProcess] when there is none: nothing is ever interpolated, carried
// over to another jar size or pack, or extended above the highest printed
// altitude. It wraps [ErrVague] when the query does not name one of each.
//
// A steam canner without pressure takes the boiling-water lines of up to 45
// minutes at that altitude. A jar of a size that is not published takes the time
// of the next larger size that is, never that of a smaller one. Low-temperature
// pasteurizing holds for the foods whose recipe names it.
func Lines(q Query) ([]Line, error) {
	forms := byID[q.Product]
	if q.Form == "" && len(forms) > 1 {
		return nil, fmt.Errorf("%w: form of %s: %s", ErrVague, forms[0].Name.String(), prose.List(Forms(q.Product), "; ").String())
	}
	for _, f := range []struct {
		what string
		set  uint8
	}{{"pack", uint8(q.Pack)}, {"jar size", uint8(q.Jar)}, {"method", uint8(q.Method)}} {
		if bits.OnesCount8(f.set) != 1 {
			return nil, fmt.Errorf("%w: %s", ErrVague, f.what)
		}
	}
	if q.Method == Pressure && bits.OnesCount8(uint8(q.Gauge)) != 1 {
		return nil, fmt.Errorf("%w: gauge", ErrVague)
	}
	var lines []Line
	for i := range forms {
		if q.Form == "" || forms[i].Form.String() == q.Form {
			lines = q.appendLines(lines, &forms[i])
		}
	}
	if len(lines) == 0 {
		return nil, q.missing()
	}
	return lines, nil
}

// appendLines adds the lines of one food that fit the query.
func (q *Query) appendLines(lines []Line, f *Food) []Line {
	jar := f.size(q)
	for i := range f.Rows {
		r := &f.Rows[i]
		if r.Jar&jar == 0 || !f.fits(r, q) {
			continue
		}
		l := Line{Food: f, Row: r, Method: q.Method}
		if jar != q.Jar {
			l.Larger = jar
		}
		switch q.Method {
		case Pressure:
			l.Minutes, l.PSI, l.Gauge = int(r.Minutes[0]), r.PSI(q.Gauge, q.Altitude), q.Gauge
			if l.PSI == 0 {
				continue
			}
		case Pasteurized:
			l.Minutes = lowHeat
		default:
			l.Minutes, l.UtahTop = r.BoilingMinutes(q.Altitude), q.Altitude > 8000 && r.High > r.Minutes[3]
			if q.Method == SteamCanner && l.Minutes > steamLimit {
				continue
			}
		}
		lines = append(lines, l)
	}
	return lines
}

// fits reports whether a row of the food is for the pack, method and gauge asked
// for, whatever the jar.
func (f *Food) fits(r *Row, q *Query) bool {
	if r.Pack&q.Pack == 0 {
		return false
	}
	switch q.Method {
	case Pressure:
		return gauges(r)&uint8(q.Gauge) != 0
	case Pasteurized:
		return r.Method() == BoilingWater && f.LowHeat() != Cite{}
	case OtherMethod:
		return false
	}
	return r.Method() == BoilingWater
}

// size returns the published size whose time a jar takes: its own, or else the
// next larger one that is published for the pack and method; 0 when there is
// none. A jar never takes the time of a smaller one, and one of unknown size
// takes none.
func (f *Food) size(q *Query) Size {
	var published Size
	for i := range f.Rows {
		if r := &f.Rows[i]; f.fits(r, q) {
			published |= r.Jar
		}
	}
	published &^= q.Jar - 1 // the smaller sizes
	return published & -published
}

// NoProcessError says for what there is no tested process and what is published instead.
type NoProcessError struct {
	Query Query
	Lacks prose.Text // what was asked for that no row has, in words
	Has   prose.Text // what is published, in words; empty when nothing is
}

func (e *NoProcessError) Error() string { return e.Text().String() }

// Text says it for a person.
func (e *NoProcessError) Text() prose.Text {
	if e.Has != "" {
		return prose.Say("no tested process for %s; published: %s", e.Lacks, e.Has)
	}
	return prose.Say("no tested process for %s", e.Lacks)
}

// Unwrap makes errors.Is find [ErrNoProcess].
func (e *NoProcessError) Unwrap() error { return ErrNoProcess }

// missing finds the first part of the query that no row of the product matches.
func (q *Query) missing() *NoProcessError {
	lacks := func(has, format prose.Text, a ...any) *NoProcessError {
		return &NoProcessError{*q, prose.Say(format, a...), has}
	}
	forms := byID[q.Product]
	if q.Product == "" {
		return lacks("", "a food that is not named")
	}
	if len(forms) == 0 {
		return lacks("", "the product %q", q.Product)
	}
	name := forms[0].Name
	var rows []*Row
	var form prose.Text
	for i := range forms {
		if q.Form != "" && q.Form != forms[i].Form.String() {
			continue
		}
		form = forms[i].Form
		for j := range forms[i].Rows {
			rows = append(rows, &forms[i].Rows[j])
		}
	}
	if rows == nil {
		return lacks(prose.List(Forms(q.Product), "; "), "%s in the form %q", name, q.Form)
	}
	if len(forms) > 1 && q.Form != "" {
		name = prose.Say("%s (%s)", name, form)
	}
	// keep drops the rows that lack what was asked and gathers what all had.
	keep := func(has func(*Row) uint8, want uint8) (all uint8) {
		var kept []*Row
		for _, r := range rows {
			all |= has(r)
			if has(r)&want != 0 {
				kept = append(kept, r)
			}
		}
		rows = kept
		return
	}
	methods := func(r *Row) uint8 {
		m := r.Method()
		if m == BoilingWater {
			m |= SteamCanner
			for i := range forms {
				if forms[i].LowHeat() != (Cite{}) {
					m |= Pasteurized
				}
			}
		}
		return uint8(m)
	}
	how := methodWords.of(uint8(q.Method))
	if all := keep(methods, uint8(q.Method)) &^ uint8(SteamCanner); rows == nil {
		return lacks(methodWords.list(all), "%s %s", name, how)
	}
	// Any size that is not smaller will do.
	if all := keep(func(r *Row) uint8 { return uint8(r.Jar) }, ^uint8(q.Jar-1)); rows == nil {
		return lacks(jarWords.list(all), "%s of %s %s", jarWords.of(uint8(q.Jar)), name, how)
	}
	jars := prose.Say("%s of %s", jarWords.of(uint8(q.Jar)), name)
	if all := keep(func(r *Row) uint8 { return uint8(r.Pack) }, uint8(q.Pack)); rows == nil {
		return lacks(packWords.list(all), "%s %s %s", jars, packWords.of(uint8(q.Pack)), how)
	}
	if q.Method == SteamCanner {
		return lacks(methodWords.of(uint8(BoilingWater)), "%s %s: the published time is over %d minutes", jars, how, steamLimit)
	}
	if all := keep(gauges, uint8(q.Gauge)); rows == nil {
		return lacks(gaugeWords.list(all), "%s by a %s", jars, gaugeWords.of(uint8(q.Gauge)))
	}
	return lacks("lower altitudes", "%s by a %s at %d ft", jars, gaugeWords.of(uint8(q.Gauge)), q.Altitude)
}

// gauges reports for which gauges a row prints pressures at any altitude.
func gauges(r *Row) (g uint8) {
	if r.Dial[0] > 0 {
		g = uint8(Dial)
	}
	if r.Weighted[0] > 0 {
		g |= uint8(Weighted)
	}
	return
}

// words names the values of a set, by bit.
type words []prose.Text

var (
	packWords   = words{"packed hot", "packed raw"}
	jarWords    = words{"4-ounce jars", "half-pint jars", "12-ounce jars", "pint jars", "24- or 28-ounce jars", "quart jars", "half-gallon jars", "jars of another size"}
	methodWords = words{"in a boiling-water canner", "in a pressure canner", "in a steam canner without pressure", "pasteurized in water below the boil", "heated in another way"}
	gaugeWords  = words{"dial gauge", "weighted gauge"}
)

// of names the one value of a set.
func (w words) of(set uint8) prose.Text { return w[bits.TrailingZeros8(set)] }

// list names every value of a set.
func (w words) list(set uint8) prose.Text {
	var s []prose.Text
	for ; set != 0; set &= set - 1 {
		s = append(s, w.of(set))
	}
	return prose.List(s, ", ")
}
