// Package label makes sheets of jar labels as SVG, in millimeters, each label
// with a QR code (ISO/IEC 18004) that leads to its jar and a short one to type.
//
// # Promises
//
// No label overlaps another or leaves its sheet, and no text leaves its label.
// The short code is on every label, however long the name is.
// A module of a code is at least a third of a millimeter, with the quiet zone of
// four modules that the standard asks for; a label too small for that is
// refused. The markup holds no style attribute, script or outside reference,
// and text is escaped.
package label

import (
	"fmt"
	"html"
	"strconv"
	"strings"

	"rsc.io/qr"

	"larderlamp/app/draw"
	"larderlamp/rules/prose"
)

// Stock is a kind of label paper, in millimeters.
type Stock struct {
	ID                         string
	Name                       prose.Text
	PageWidth, PageHeight      float64
	LabelWidth, LabelHeight    float64
	Left, Top                  float64 // corner of the first label
	AcrossPitch, DownwardPitch float64 // distance from one label to the next
	Columns, Rows              int
	Round                      bool
	Cut                        bool // plain paper: lines to cut along
}

// Stocks lists the papers offered. The measurements of label sheets are common
// practice, no source: measure yours.
var Stocks = []Stock{
	{"a4-plain", "A4, plain paper to cut, 24 of 70 × 37 mm", 210, 297, 70, 37, 0, 0.5, 70, 37, 3, 8, false, true},
	{"a4-21", "A4 sheet, 21 of 63.5 × 38.1 mm", 210, 297, 63.5, 38.1, 7.25, 15.15, 66, 38.1, 3, 7, false, false},
	{"a4-40", "A4 sheet, 40 of 48.5 × 25.4 mm", 210, 297, 48.5, 25.4, 8, 21.5, 48.5, 25.4, 4, 10, false, false},
	{"a4-round", "A4 sheet, 24 round of 40 mm", 210, 297, 40, 40, 16, 13.5, 46, 46, 4, 6, true, false},
	{"letter-plain", "Letter, plain paper to cut, 21 of 70 × 37 mm", 215.9, 279.4, 70, 37, 2.9, 10, 70, 37, 3, 7, false, true},
	{"letter-30", "Letter sheet, 30 of 66.7 × 25.4 mm", 215.9, 279.4, 66.7, 25.4, 4.8, 12.7, 69.8, 25.4, 3, 10, false, false},
	{"letter-10", "Letter sheet, 10 of 101.6 × 50.8 mm", 215.9, 279.4, 101.6, 50.8, 4.1, 12.7, 106.1, 50.8, 2, 5, false, false},
}

// Label is the content of one label.
type Label struct {
	Product, Line2, Date string
	Link                 string // content of the code
	Short                string // typed where no camera reads the code
}

// The limits of a code, in millimeters and modules.
const (
	leastModule = 0.33
	quiet       = 4
)

// margin keeps text and code off the edge of a label, in millimeters.
const margin = 1.8

// Sheets makes the sheets for some labels, starting at the first free label of
// the first sheet, counted from 0. A sheet of so many labels is called what it is
// given for those who can't see it. Errors name the paper or the label that is wrong.
func Sheets(s Stock, start int, labels []Label, called func(n int) string) ([]string, error) {
	each := s.Columns * s.Rows
	if start < 0 || start >= each {
		return nil, prose.Errorf("%s: it has %d labels, there is no number %d", s.Name, each, start+1)
	}
	var sheets []string
	for len(labels) > 0 {
		n := min(each-start, len(labels))
		w := &writer{}
		w.put(`<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="`, html.EscapeString(called(n)), `" width="`, mm(s.PageWidth), `mm" height="`, mm(s.PageHeight), `mm" viewBox="0 0 `, mm(s.PageWidth), ` `, mm(s.PageHeight), `">`)
		for i, l := range labels[:n] {
			at := start + i
			x := s.Left + float64(at%s.Columns)*s.AcrossPitch
			y := s.Top + float64(at/s.Columns)*s.DownwardPitch
			if err := w.label(&s, &l, x, y); err != nil {
				return nil, err
			}
		}
		w.put(`</svg>`)
		sheets = append(sheets, w.String())
		labels, start = labels[n:], 0
	}
	return sheets, nil
}

type writer struct{ strings.Builder }

func (w *writer) put(parts ...string) {
	for _, p := range parts {
		w.WriteString(p)
	}
}

// mm writes millimeters to the hundredth.
func mm(v float64) string { return strconv.FormatFloat(float64(int(v*100+0.5))/100, 'f', -1, 64) }

func (w *writer) label(s *Stock, l *Label, x, y float64) error {
	if s.Cut {
		w.put(`<rect fill="none" stroke="#888" stroke-width=".1" stroke-dasharray="1 1" x="`, mm(x), `" y="`, mm(y), `" width="`, mm(s.LabelWidth), `" height="`, mm(s.LabelHeight), `"/>`)
	}
	if s.Round {
		return w.round(s, l, x, y)
	}
	side := min(s.LabelHeight-2*margin, s.LabelWidth*0.42)
	if err := w.code(s, l, x+margin, y+(s.LabelHeight-side)/2, side); err != nil {
		return err
	}
	left := x + margin + side + 1
	w.words(l, left, y+margin, x+s.LabelWidth-margin-left, s.LabelHeight-2*margin, "start")
	return nil
}

// round puts the code in the upper half of a round label and the words below.
func (w *writer) round(s *Stock, l *Label, x, y float64) error {
	side := s.LabelHeight * 0.52
	if err := w.code(s, l, x+(s.LabelWidth-side)/2, y+margin+0.6, side); err != nil {
		return err
	}
	width := s.LabelWidth * 0.74
	top := y + margin + 0.6 + side
	w.words(l, x+s.LabelWidth/2, top, width, y+s.LabelHeight-3.4-top, "middle")
	return nil
}

// code draws the code with the strongest error correction that the label has
// room for, so that dirt does the least harm.
func (w *writer) code(s *Stock, l *Label, x, y, side float64) error {
	for _, level := range []qr.Level{qr.M, qr.L} {
		c, err := qr.Encode(l.Link, level)
		if err != nil {
			return fmt.Errorf("label %q: %w", l.Product, err)
		}
		module := side / float64(c.Size+2*quiet)
		if module < leastModule {
			continue
		}
		w.modules(c, x, y, module)
		return nil
	}
	return prose.Errorf("%s: its labels are too small for a code of %d characters", s.Name, len(l.Link))
}

// modules draws the dark modules of a code, inside its quiet zone.
func (w *writer) modules(c *qr.Code, x, y, module float64) {
	w.put(`<path fill="#000" d="`)
	for row := range c.Size {
		for from := 0; from < c.Size; from++ {
			to := from
			for to < c.Size && c.Black(to, row) {
				to++
			}
			if to > from {
				// A tiny overlap keeps printers from leaving gaps.
				w.put("M", fine(x+float64(from+quiet)*module), " ", fine(y+float64(row+quiet)*module), "h", fine(float64(to-from)*module), "v", fine(module+0.005), "H", fine(x+float64(from+quiet)*module), "z")
				from = to
			}
		}
	}
	w.put(`"/>`)
}

// Code draws a text as a QR code alone, in modules, for a screen. Its name is for
// those who can't see it.
func Code(text, called string) (string, error) {
	c, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", fmt.Errorf("code: %w", err)
	}
	w := &writer{}
	side := strconv.Itoa(c.Size + 2*quiet)
	w.put(`<svg xmlns="http://www.w3.org/2000/svg" class="code" role="img" aria-label="`, html.EscapeString(called), `" viewBox="0 0 `, side, ` `, side, `"><rect fill="#fff" width="`, side, `" height="`, side, `"/>`)
	w.modules(c, 0, 0, 1)
	w.put(`</svg>`)
	return w.String(), nil
}

func fine(v float64) string { return strconv.FormatFloat(v, 'f', 3, 64) }

// words fits the text into a box: the product as large as possible on up to three
// lines, the rest below. A name that is too long for that fills all the lines there
// are and is cut off at the end of the last one.
func (w *writer) words(l *Label, x, y, width, height float64, anchor string) {
	const (
		least = 2   // the smallest letters, in millimeters
		below = 3   // lines below the name
		bold  = 1.1 // times as wide as other letters; from memory
	)
	size, lines := 4.6, []string(nil)
	room := func() int { return int((height/1.15 - below*min(2.5, size)) / size) }
	for ; size > least; size -= 0.2 {
		if lines = wrap(l.Product, width/size/bold, min(3, room())); lines != nil {
			break
		}
	}
	if lines == nil {
		size = least
		lines = filled(l.Product, width/size/bold, max(1, room()))
	}
	at := y
	put := func(text string, size float64, weight string) {
		at += size * 1.15
		if at > y+height+0.01 || text == "" {
			return
		}
		w.put(`<text x="`, mm(x), `" y="`, mm(at-size*0.2), `" font-family="sans-serif" font-size="`, mm(size), `" font-weight="`, weight, `" text-anchor="`, anchor, `" fill="#000">`, draw.Escape(text), `</text>`)
	}
	for _, line := range lines {
		put(line, size, "700")
	}
	small := min(2.5, size)
	put(draw.Clip(l.Short, width/small/bold), small, "700")
	put(draw.Clip(l.Date, width/small), small, "400")
	put(draw.Clip(l.Line2, width/small), small, "400")
}

// wrap breaks a text at spaces into at most so many lines of a width; it is nil
// when the text does not fit.
func wrap(s string, width float64, most int) (lines []string) {
	line := ""
	for word := range strings.FieldsSeq(s) {
		longer := strings.TrimSpace(line + " " + word)
		switch {
		case draw.Wide(word) > width:
			return nil
		case draw.Wide(longer) <= width:
			line = longer
		default:
			lines = append(lines, line)
			line = word
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	if len(lines) == 0 || len(lines) > most {
		return nil
	}
	return lines
}

// filled breaks a text into at most so many lines of a width, and cuts off what does
// not fit.
func filled(s string, width float64, most int) (lines []string) {
	for rest := strings.Fields(s); len(rest) > 0; {
		n := 1
		for n < len(rest) && draw.Wide(strings.Join(rest[:n+1], " ")) <= width {
			n++
		}
		if len(lines) == most-1 {
			n = len(rest)
		}
		lines = append(lines, draw.Clip(strings.Join(rest[:n], " "), width))
		rest = rest[n:]
	}
	return lines
}
