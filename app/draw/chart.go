package draw

import (
	"math"
	"strconv"
	"strings"

	"larderlamp/rules/prose"
)

// Limit is a line that something should stay below, or a mark on an axis.
type Limit struct {
	At   float64
	Name prose.Text
}

// Tick is a named place on the axis of time.
type Tick struct {
	X    float64
	Name prose.Text
}

// Bar is a row of a bar chart: one value for each series.
type Bar struct {
	Label  prose.Text
	Values []float64
}

// Bars is a chart of horizontal bars, stacked when there are several series.
type Bars struct {
	Label  prose.Text // description for those who can't see it
	Unit   prose.Text
	Series []prose.Text
	Rows   []Bar
	Limits []Limit
}

// The sheet of a chart: as wide as the card on a phone 360 pixels wide, so that
// its text has exactly the size it states.
const (
	chartWidth = 290
	labelWidth = 122
	textSize   = 12
	// The most that a letter takes of a line on average, in the units of the chart.
	letter = 6.2
)

// seriesFill are the looks of stacked series: a color each, and a hatching that
// tells them apart in gray. Lines have dashes of their own.
var seriesFill = [...]string{"series-1", "series-2", "series-3", "series-4", "series-5", "series-6"}

// canvas collects the markup of a chart.
type canvas struct{ pen }

func (c *canvas) open(label prose.Text, height int) {
	c.put(`<svg xmlns="http://www.w3.org/2000/svg" class="chart" role="img" aria-label="` + c.said(label) + `" viewBox="0 0 ` + strconv.Itoa(chartWidth) + ` ` + strconv.Itoa(height) + `">`)
	c.put(`<defs><pattern id="hatch-2" width="5" height="5" patternUnits="userSpaceOnUse"><path class="series-2-line" d="M0 5L5 0" stroke-width="1.4"/></pattern><pattern id="hatch-3" width="4" height="4" patternUnits="userSpaceOnUse"><path class="series-3-line" d="M0 2H4" stroke-width="1.4"/></pattern></defs>`)
}

func (c *canvas) text(x, y float64, anchor, class, s string) {
	c.put(`<text x="` + num(x) + `" y="` + num(y) + `" text-anchor="` + anchor + `" class="` + class + `" font-size="` + strconv.Itoa(textSize) + `">` + Escape(s) + `</text>`)
}

// inLine is how wide a name on one line before a bar can be, in units of its size.
const inLine = (labelWidth - 6.0) / textSize

// name writes the name of a row, on two lines when it is long.
func (c *canvas) name(y int, s string) {
	first, rest := s, ""
	for at := strings.LastIndex(s, " "); at > 0 && Wide(first) > inLine; at = strings.LastIndex(s[:at], " ") {
		first, rest = s[:at], s[at+1:]
	}
	if rest == "" {
		c.text(labelWidth-6, float64(y+18), "end", "name", Clip(first, inLine))
		return
	}
	c.text(labelWidth-6, float64(y+12), "end", "name", Clip(first, inLine))
	c.text(labelWidth-6, float64(y+25), "end", "name", Clip(rest, inLine))
}

func (c *canvas) path(class, d string) { c.put(`<path class="` + class + `" d="` + d + `"/>`) }

// num writes a coordinate to a tenth.
func num(v float64) string { return strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64) }

// sane replaces a value that would break a chart.
func sane(v float64) float64 {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return 0
	}
	return max(-1e7, min(1e7, v))
}

// step is a round distance between marks on an axis, for at most so many marks.
func step(span float64, most int) float64 {
	if span <= 0 {
		return 1
	}
	rough := span / float64(most)
	ten := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*ten >= rough {
			return m * ten
		}
	}
	return 10 * ten
}

// label writes a number for an axis.
func axisLabel(v float64) string {
	v = math.Round(v*100) / 100
	if v == 0 {
		v = 0 // without a unit sign
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

// SVG draws the chart.
func (b *Bars) SVG(in prose.Language) string {
	const row, top = 30, 8
	most := 0.0
	for _, r := range b.Rows {
		sum := 0.0
		for _, v := range r.Values {
			sum += max(0, sane(v))
		}
		most = max(most, sum)
	}
	for _, l := range b.Limits {
		if l.At < 2*most {
			most = max(most, l.At)
		}
	}
	if most == 0 {
		most = 1
	}
	c := &canvas{pen{in: in}}
	legend := 0
	if len(b.Series) > 1 {
		legend = 18
	}
	shown := 0 // names of limits, one per line
	for _, l := range b.Limits {
		if l.At <= most {
			shown++
		}
	}
	bottom := top + row*len(b.Rows)
	names := bottom + 16 + 14*shown
	c.open(b.Label, names+8+legend)
	x := func(v float64) float64 { return labelWidth + v/most*(chartWidth-labelWidth-36) }
	for v := 0.0; v <= most*1.0001; v += step(most, 4) {
		c.path("grid", "M"+num(x(v))+" "+strconv.Itoa(top)+"V"+strconv.Itoa(bottom))
		c.text(x(v), float64(bottom+14), "middle", "axis", axisLabel(v))
	}
	c.text(labelWidth-12, float64(bottom+14), "end", "axis", b.Unit.In(in))
	// Draw limits below the bars and below the boxes of their figures, so that no line
	// crosses out a figure.
	line := 0
	for _, l := range b.Limits {
		if l.At <= most {
			line++
			c.path("limit", "M"+num(x(l.At))+" "+strconv.Itoa(top-4)+"V"+strconv.Itoa(bottom))
			anchor := "middle"
			if x(l.At) > chartWidth-60 {
				anchor = "end"
			}
			c.text(x(l.At), float64(bottom+16+14*line), anchor, "limit-name", l.Name.In(in))
		}
	}
	for i, r := range b.Rows {
		y := top + row*i
		c.name(y, r.Label.In(in))
		at, sum := 0.0, 0.0
		for k, v := range r.Values {
			v = max(0, sane(v))
			sum += v
			if v > 0 {
				d := "M" + num(x(at)) + " " + strconv.Itoa(y+6) + "H" + num(x(at+v)) + "v16H" + num(x(at)) + "Z"
				c.path(seriesFill[k%len(seriesFill)], d)
				if k == 1 || k == 2 {
					c.put(`<path fill="url(#hatch-` + strconv.Itoa(k+1) + `)" d="` + d + `"/>`)
				}
				at += v
			}
		}
		figure := axisLabel(math.Round(sum*10) / 10)
		if sum >= 10 {
			figure = axisLabel(math.Round(sum))
		}
		wide := letter*float64(len(figure)) + 4
		left := min(x(at)+3, chartWidth-wide)
		c.path("plate", "M"+num(left)+" "+strconv.Itoa(y+6)+"h"+num(wide)+"v16h-"+num(wide)+"Z")
		c.text(left+2, float64(y+18), "start", "value", figure)
	}
	if legend > 0 {
		at := 6.0
		for k, s := range b.Series {
			y := names + 4
			d := "M" + num(at) + " " + strconv.Itoa(y) + "h12v10h-12Z"
			c.path(seriesFill[k%len(seriesFill)], d)
			if k == 1 || k == 2 {
				c.put(`<path fill="url(#hatch-` + strconv.Itoa(k+1) + `)" d="` + d + `"/>`)
			}
			c.text(at+16, float64(y+9), "start", "name", s.In(in))
			at += 28 + letter*float64(len([]rune(s.In(in))))
		}
	}
	c.put(`</svg>`)
	return string(c.markup)
}

// Point is a place on a line, or the two edges of a band.
type Point struct{ X, Low, High float64 }

// Series is one line (Low and High are equal) or one band.
type Series struct {
	Name  prose.Text
	Band  bool
	Steps bool // the value stays the same until the next point
	// Points in the order of X.
	Points []Point
}

// Lines is a chart over time.
type Lines struct {
	Label  prose.Text
	Unit   prose.Text
	Series []Series
	Limits []Limit
	Ticks  []Tick
	Floor  *float64 // lowest value of the axis, when it is fixed
	Roof   *float64
}

// SVG draws the chart.
func (l *Lines) SVG(in prose.Language) string {
	const left, right, top, bottom = 34.0, chartWidth - 6.0, 26.0, 186.0
	minX, maxX, minY, maxY := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, s := range l.Series {
		for _, p := range s.Points {
			minX, maxX = min(minX, sane(p.X)), max(maxX, sane(p.X))
			minY, maxY = min(minY, sane(p.Low)), max(maxY, sane(p.High))
		}
	}
	if minX > maxX {
		minX, maxX, minY, maxY = 0, 1, 0, 1
	}
	span := max(maxY-minY, 1e-9)
	for _, limit := range l.Limits {
		if limit.At > minY-span && limit.At < maxY+span {
			minY, maxY = min(minY, limit.At), max(maxY, limit.At)
		}
	}
	if l.Floor != nil {
		minY = *l.Floor
	}
	if l.Roof != nil {
		maxY = *l.Roof
	}
	if maxX == minX {
		maxX++
	}
	if maxY-minY < 1e-9 {
		maxY, minY = maxY+1, minY-1
	}
	x := func(v float64) float64 { return left + (sane(v)-minX)/(maxX-minX)*(right-left) }
	y := func(v float64) float64 { return bottom - (sane(v)-minY)/(maxY-minY)*(bottom-top) }
	// Names stand side by side if all of them fit, or else each on a line of its own.
	const mark = 27
	columns := 2
	for _, s := range l.Series {
		if Wide(s.Name.In(in))*textSize > chartWidth/2-mark {
			columns = 1
		}
	}
	legend := 0
	if len(l.Series) > 1 {
		legend = 16 * ((len(l.Series) + columns - 1) / columns)
	}
	c := &canvas{pen{in: in}}
	c.open(l.Label, int(bottom)+22+legend)
	d := step(maxY-minY, 5)
	for v := math.Ceil(minY/d-1e-9) * d; v <= maxY+d*1e-6; v += d {
		c.path("grid", "M"+num(left)+" "+num(y(v))+"H"+num(right))
		c.text(left-4, y(v)+4, "end", "axis", axisLabel(v))
	}
	for i, t := range l.Ticks {
		anchor := "middle"
		if i == 0 {
			anchor = "start"
		} else if x(t.X) > right-letter*float64(len([]rune(t.Name.In(in))))/2 {
			anchor = "end" // otherwise it would be cut off
		}
		c.path("grid", "M"+num(x(t.X))+" "+num(bottom)+"v4")
		c.text(x(t.X), bottom+15, anchor, "axis", t.Name.In(in))
	}
	c.text(2, 12, "start", "axis", l.Unit.In(in))
	for k, s := range l.Series {
		class := seriesFill[k%len(seriesFill)]
		var up, down strings.Builder
		lastY := ""
		for i, p := range s.Points {
			if i == 0 {
				up.WriteString("M" + num(x(p.X)) + " " + num(y(p.High)))
			} else {
				if s.Steps {
					up.WriteString("L" + num(x(p.X)) + " " + lastY)
				}
				up.WriteString("L" + num(x(p.X)) + " " + num(y(p.High)))
			}
			lastY = num(y(p.High))
		}
		if s.Band {
			for i := len(s.Points) - 1; i >= 0; i-- {
				p := s.Points[i]
				if s.Steps && i < len(s.Points)-1 {
					down.WriteString("L" + num(x(s.Points[i+1].X)) + " " + num(y(p.Low)))
				}
				down.WriteString("L" + num(x(p.X)) + " " + num(y(p.Low)))
			}
			c.path("band "+class, up.String()+down.String()+"Z")
			c.path("edge "+class+"-line", up.String()+"M"+strings.TrimPrefix(down.String(), "L"))
			continue
		}
		c.path("line "+class+"-line", up.String())
	}
	for _, limit := range l.Limits {
		if limit.At >= minY && limit.At <= maxY {
			c.path("limit", "M"+num(left)+" "+num(y(limit.At))+"H"+num(right))
			c.text(right, y(limit.At)-3, "end", "limit-name", limit.Name.In(in))
		}
	}
	if legend > 0 {
		for k, s := range l.Series {
			at, row := 4+float64(k%columns)*146, bottom+34+16*float64(k/columns)
			c.path("line "+seriesFill[k%len(seriesFill)]+"-line", "M"+num(at)+" "+num(row-4)+"h22")
			c.text(at+mark, row, "start", "name", Clip(s.Name.In(in), (chartWidth-4-mark)/textSize))
		}
	}
	c.put(`</svg>`)
	return string(c.markup)
}

// Interval is a row of a chart of shares with their uncertainty, from 0 to 1.
type Interval struct {
	Label            prose.Text
	Value, Low, High float64
	Marked           bool // stands out: by another shape, not only by another color
}

// Intervals is a chart of shares.
type Intervals struct {
	Label prose.Text
	Rows  []Interval
}

// SVG draws the chart.
func (v *Intervals) SVG(in prose.Language) string {
	const row, top = 30, 8
	most := 0.05
	for _, r := range v.Rows {
		most = max(most, min(1, sane(r.High)))
	}
	c := &canvas{pen{in: in}}
	bottom := top + row*len(v.Rows)
	c.open(v.Label, bottom+20)
	x := func(s float64) float64 {
		return labelWidth + max(0, min(1, sane(s)))/most*(chartWidth-labelWidth-12)
	}
	for s := 0.0; s <= most*1.0001; s += step(most, 4) {
		c.path("grid", "M"+num(x(s))+" "+strconv.Itoa(top)+"V"+strconv.Itoa(bottom))
		label := axisLabel(s*100) + " %"
		half := letter / 2 * float64(len([]rune(label))) // at most half the width of the label
		c.text(min(x(s), chartWidth-half), float64(bottom+14), "middle", "axis", label)
	}
	for i, r := range v.Rows {
		y := float64(top + row*i + 14)
		c.name(top+row*i, r.Label.In(in))
		c.path("line series-1-line", "M"+num(x(r.Low))+" "+num(y)+"H"+num(x(r.High))+"M"+num(x(r.Low))+" "+num(y-4)+"v8M"+num(x(r.High))+" "+num(y-4)+"v8")
		if r.Marked {
			c.path("marked", "M"+num(x(r.Value))+" "+num(y-7)+"l7 7l-7 7l-7-7Z")
		} else {
			c.path("series-1", "M"+num(x(r.Value)-4)+" "+num(y)+"a4 4 0 1 0 8 0a4 4 0 1 0-8 0Z")
		}
	}
	c.put(`</svg>`)
	return string(c.markup)
}
