package draw_test

import (
	"encoding/xml"
	"io"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"larderlamp/app/draw"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// charts are pictures of all kinds with a name in every place that takes one.
func charts(name string, v float64) map[string]string {
	bars := draw.Bars{Label: prose.Own(name), Unit: prose.Own(name), Series: []prose.Text{prose.Own(name), "b", "c"}, Rows: []draw.Bar{{Label: prose.Own(name), Values: []float64{v, 1, 2}}, {Label: "x", Values: []float64{0, 3, v}}}, Limits: []draw.Limit{{At: 2, Name: prose.Own(name)}}}
	lines := draw.Lines{Label: prose.Own(name), Unit: prose.Own(name), Ticks: []draw.Tick{{X: 0, Name: prose.Own(name)}, {X: 9, Name: prose.Own(name)}}, Limits: []draw.Limit{{At: 35, Name: prose.Own(name)}},
		Series: []draw.Series{{Name: prose.Own(name), Band: true, Points: []draw.Point{{X: 0, Low: v, High: 2}, {X: 5, Low: 1, High: v}}}, {Name: "s", Steps: true, Points: []draw.Point{{X: 0, Low: 1, High: 1}, {X: 9, Low: v, High: v}}}}}
	intervals := draw.Intervals{Label: prose.Own(name), Rows: []draw.Interval{{Label: prose.Own(name), Value: v, Low: 0, High: 0.5}, {Label: "y", Value: 0.1, Low: v, High: v, Marked: true}}}
	return map[string]string{
		"bars": bars.SVG(nil), "lines": lines.SVG(nil), "intervals": intervals.SVG(nil),
		"on a shelf": draw.OnShelf(draw.ShelfJar{Verdict: 77, Open: true, Opened: v > 0, Size: 9}), "small": draw.OnShelf(draw.ShelfJar{Verdict: rules.Keep, Size: -1}),
	}
}

// Pictures are valid XML whatever a name or a number holds; they contain no
// markup from a name, and nothing that the page's policy forbids.
func TestChartsAreSafe(t *testing.T) {
	for _, name := range []string{"Cellar", "", `<script>alert(1)</script>`, `" onload="x`, "&amp; <b>", strings.Repeat("long ", 50), "Grüne 🫙"} {
		for _, v := range []float64{0, 1, -3, 0.25, 1e300, math.NaN(), math.Inf(1), math.Inf(-1)} {
			for kind, svg := range charts(name, v) {
				d := xml.NewDecoder(strings.NewReader(svg))
				for {
					token, err := d.Token()
					if err == io.EOF {
						break
					}
					if err != nil {
						t.Fatalf("%s of %q and %v: %v", kind, name, v, err)
					}
					if e, ok := token.(xml.StartElement); ok {
						for _, a := range e.Attr {
							if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") || strings.Contains(a.Name.Local, "href") {
								t.Fatalf("%s of %q: attribute %s", kind, name, a.Name.Local)
							}
							if a.Name.Local != "aria-label" && (strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf")) {
								t.Fatalf("%s of %v: %s is %q", kind, v, a.Name.Local, a.Value)
							}
						}
						if e.Name.Local == "script" || e.Name.Local == "b" {
							t.Fatalf("%s of %q: element %s", kind, name, e.Name.Local)
						}
					}
				}
				if again := charts(name, v)[kind]; again != svg {
					t.Fatalf("%s is drawn differently the second time", kind)
				}
			}
		}
	}
}

// box is roughly where a text of a chart is, at 12 points.
type box struct {
	text                     string
	left, right, top, bottom float64
}

// texts reads the texts of a chart, and its width and height.
func texts(t *testing.T, svg string) (all []box, width, height float64) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	var b *box
	anchor := ""
	for {
		token, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			at := map[string]string{}
			for _, a := range e.Attr {
				at[a.Name.Local] = a.Value
			}
			if v := strings.Fields(at["viewBox"]); len(v) == 4 && width == 0 {
				width, _ = strconv.ParseFloat(v[2], 64)
				height, _ = strconv.ParseFloat(v[3], 64)
			}
			if e.Name.Local == "text" {
				x, _ := strconv.ParseFloat(at["x"], 64)
				y, _ := strconv.ParseFloat(at["y"], 64)
				b, anchor = &box{left: x, top: y - 9, bottom: y + 3}, at["text-anchor"]
			}
		case xml.CharData:
			if b == nil {
				continue
			}
			b.text = string(e)
			w := 6.2 * float64(len([]rune(b.text)))
			switch anchor {
			case "middle":
				b.left -= w / 2
			case "end":
				b.left -= w
			}
			b.right = b.left + w
			all, b = append(all, *b), nil
		}
	}
}

// No name or figure is cut off at the edge of a chart, and none overlaps
// another: with limits close together, one at the top, and long names of rows.
func TestNothingIsCutOffOrOverprinted(t *testing.T) {
	long := "Bread-and-butter pickles, zucchini"
	for name, svg := range map[string]string{
		"stock": (&draw.Bars{Unit: "months", Limits: []draw.Limit{{At: 2, Name: "2 months"}, {At: 24, Name: "2 years"}},
			Rows: []draw.Bar{{Label: prose.Own(long), Values: []float64{180}}, {Label: "Peaches", Values: []float64{3}}}}).SVG(nil),
		"short stock": (&draw.Bars{Unit: "months", Limits: []draw.Limit{{At: 2, Name: "2 months"}, {At: 24, Name: "2 years"}},
			Rows: []draw.Bar{{Label: "Peaches", Values: []float64{1}}, {Label: prose.Own(long), Values: []float64{30}}}}).SVG(nil),
		"trip": (&draw.Lines{Unit: "°C", Limits: []draw.Limit{{At: 35, Name: "35 °C: the most for jars"}, {At: 4, Name: "4 °C: opened food"}},
			Ticks:  []draw.Tick{{X: 0, Name: "day 1"}, {X: 1, Name: "day 2"}, {X: 2, Name: "day 3"}},
			Series: []draw.Series{{Name: "air there", Points: []draw.Point{{X: 0, Low: 12, High: 26}, {X: 3, Low: 12, High: 26}}}}}).SVG(nil),
		"shares": (&draw.Intervals{Rows: []draw.Interval{{Label: prose.Own(long), Value: 0.2, Low: 0.1, High: 1}, {Label: "Cellar", Value: 0.5, Low: 0.1, High: 0.9}}}).SVG(nil),
	} {
		all, width, height := texts(t, svg)
		if len(all) < 5 {
			t.Errorf("%s: got only %d texts", name, len(all))
		}
		for i, a := range all {
			if a.left < 0 || a.right > width || a.top < 0 || a.bottom > height {
				t.Errorf("%s: %q is cut off: %+v on %v by %v", name, a.text, a, width, height)
			}
			for _, b := range all[i+1:] {
				if a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom {
					t.Errorf("%s: %q overlaps %q: %+v, %+v", name, a.text, b.text, a, b)
				}
			}
		}
	}
}

// Every verdict has its own look on the shelf, also one that is not settled.
func TestShelfTellsVerdictsApart(t *testing.T) {
	seen := map[string]rules.Verdict{}
	for _, v := range []rules.Verdict{rules.Keep, rules.UseSoon, rules.Discard} {
		for _, open := range []bool{false, true} {
			svg := draw.OnShelf(draw.ShelfJar{Verdict: v, Open: open})
			if other, again := seen[svg]; again && !open {
				t.Errorf("%v looks like %v", v, other)
			}
			seen[svg] = v
		}
	}
	if len(seen) != 4 {
		t.Errorf("%d looks, want three verdicts and one for what is not settled", len(seen))
	}
}

// A chart with nothing to show is a picture too.
func TestEmpty(t *testing.T) {
	for _, svg := range []string{(&draw.Bars{}).SVG(nil), (&draw.Lines{}).SVG(nil), (&draw.Intervals{}).SVG(nil), draw.OnShelf(draw.ShelfJar{})} {
		if !strings.HasPrefix(svg, "<svg") || !strings.HasSuffix(svg, "</svg>") {
			t.Errorf("got %s", svg)
		}
	}
}

// A figure beside its bar has a box of its own, so that no limit line crosses it
// out; and six lines or bands in one chart differ in more than their color.
func TestFiguresAreNotStruckThrough(t *testing.T) {
	svg := (&draw.Bars{Unit: "months", Limits: []draw.Limit{{At: 2, Name: "2 months"}, {At: 24, Name: "2 years"}},
		Rows: []draw.Bar{{Label: "Peaches", Values: []float64{1.5}}, {Label: "Pears", Values: []float64{22}}, {Label: "Corn", Values: []float64{96}}}}).SVG(nil)
	if plates, figures := strings.Count(svg, `class="plate"`), strings.Count(svg, `class="value"`); plates != 3 || figures != 3 {
		t.Errorf("%d plates for %d figures, want 3 and 3", plates, figures)
	}
	if strings.LastIndex(svg, `class="limit"`) > strings.Index(svg, `class="plate"`) {
		t.Error("a limit is drawn over the boxes of the figures")
	}
	l := draw.Lines{}
	for range 6 {
		l.Series = append(l.Series, draw.Series{Name: "a", Points: []draw.Point{{X: 0, Low: 1, High: 1}, {X: 1, Low: 2, High: 2}}})
	}
	css, err := os.ReadFile("../../static/css/shelf.css")
	if err != nil {
		t.Fatal(err)
	}
	dashes := map[string]bool{}
	for k := range 6 {
		class := "series-" + strconv.Itoa(k+1) + "-line"
		if !strings.Contains(l.SVG(nil), `"line `+class+`"`) {
			t.Errorf("no line has the class %s", class)
		}
		_, rule, _ := strings.Cut(string(css), ".chart .line."+class+" {")
		rule, _, _ = strings.Cut(rule, "}")
		_, dash, _ := strings.Cut(rule, "stroke-dasharray:")
		if dashes[dash] {
			t.Errorf("%s is dashed like another: %q", class, dash)
		}
		dashes[dash] = true
	}
}
