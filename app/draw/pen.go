package draw

import (
	"fmt"

	"larderlamp/rules/prose"
)

// color is 0xRRGGBB.
type color uint32

func (c color) String() string { return fmt.Sprintf("#%06x", uint32(c)) }

// The palette of the house, and the inks mixed from it.
const (
	cellar color = 0x14201b
	lamp   color = 0xf2b544
	paper  color = 0xf6f1e4
	ghost  color = 0x9a9277 // what has not been looked at
	brass  color = 0xc9a050
	rust   color = 0xa8451c
	ice    color = 0xdcecee
	slime  color = 0xb9bf8e
	ember  color = 0xd9541e
)

// mix moves c toward d by part in a hundred.
func (c color) mix(d color, part int) color {
	var m color
	for shift := 0; shift <= 16; shift += 8 {
		a, b := int(c>>shift&255), int(d>>shift&255)
		m |= color(a+(b-a)*part/100) << shift
	}
	return m
}

// pen collects markup. Coordinates are whole units of a 280 x 400 sheet, so
// that the bytes do not depend on a machine's floating-point arithmetic.
type pen struct {
	markup []byte
	prefix string
	in     prose.Language // the language of its texts
	copies int            // how many paths have an id so far, to be reused
}

func (p *pen) put(s string) { p.markup = append(p.markup, s...) }

func (p *pen) putf(format string, args ...any) { p.markup = fmt.Appendf(p.markup, format, args...) }

// said returns a text in the language of the picture, for its markup.
func (p *pen) said(t prose.Text) string { return Escape(t.In(p.in)) }

// shape draws a closed figure with an inked edge.
func (p *pen) shape(fill color, d string) {
	p.putf(`<path fill="%s" stroke="%s" stroke-width="2" d="%s"/>`, fill, cellar, d)
}

// fill draws a figure without an edge; opacity is in hundredths.
func (p *pen) fill(c color, opacity int, d string) {
	p.putf(`<path fill="%s" opacity=".%02d" d="%s"/>`, c, opacity, d)
}

// line draws a line of the given width.
func (p *pen) line(c color, width int, d string) {
	p.putf(`<path fill="none" stroke="%s" stroke-width="%d" d="%s"/>`, c, width, d)
}

// inked draws a light line with a dark edge, readable on any ground.
func (p *pen) inked(c color, width int, d string) {
	if len(d) > 40 {
		// A long path is written once and used twice.
		p.copies++
		p.putf(`<g fill="none"><g stroke="%s" stroke-width="%d"><path id="%s-i%d" d="%s"/></g><use href="#%[3]s-i%[4]d" stroke="%[6]s" stroke-width="%[7]d"/></g>`, cellar, width+3, p.prefix, p.copies, d, c, width)
		return
	}
	p.line(cellar, width+3, d)
	p.line(c, width, d)
}

// noise is a fixed hash: the grain of the drawing.
func noise(seed, i int) uint32 {
	h := uint32(seed)*0x9e3779b1 ^ uint32(i)*0x85ebca6b
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	return h ^ h>>15
}

// jitter is a number from -span to span.
func jitter(seed, i, span int) int { return int(noise(seed, i)%uint32(2*span+1)) - span }

// points writes n round dots as a path of empty strokes, spread over a box.
func points(seed, n, x, y, w, h int) string {
	var d []byte
	for i := range n {
		d = fmt.Appendf(d, "M%d %dh0", x+int(noise(seed, 2*i)%uint32(w)), y+int(noise(seed, 2*i+1)%uint32(h)))
	}
	return string(d)
}

// Escape makes a text safe in markup, between tags or in an attribute with
// double quotes.
func Escape(s string) string {
	var b []byte
	for i := range len(s) {
		switch c := s[i]; c {
		case '&':
			b = append(b, "&amp;"...)
		case '<':
			b = append(b, "&lt;"...)
		case '>':
			b = append(b, "&gt;"...)
		case '"':
			b = append(b, "&quot;"...)
		default:
			b = append(b, c)
		}
	}
	return string(b)
}
