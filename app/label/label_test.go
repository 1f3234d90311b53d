package label_test

import (
	"encoding/xml"
	"fmt"
	"image"
	"image/color"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"larderlamp/app/label"
)

const jar = "https://example.org/larder/jar?id=0199f1f0-7b7c-7abc-8def-0123456789ab"

// called is what a sheet is called.
func called(n int) string { return fmt.Sprintf("A sheet of %d & more", n) }

func labels(n int) (ls []label.Label) {
	for i := range n {
		ls = append(ls, label.Label{Product: "Peaches", Line2: fmt.Sprintf("jar %d of %d", i+1, n), Date: "2026-08-14", Link: jar})
	}
	return
}

var (
	codes = regexp.MustCompile(`<path fill="#000" d="([^"]*)"/>`)
	runs  = regexp.MustCompile(`M([\d.]+) ([\d.]+)h([\d.]+)v([\d.]+)H`)
)

// paint makes a picture of the codes of a sheet, 12 pixels per millimeter, and
// returns the picture of each.
func paint(t *testing.T, sheet string) (pictures []*image.Gray) {
	t.Helper()
	const scale = 12
	for _, code := range codes.FindAllStringSubmatch(sheet, -1) {
		type box struct{ x, y, w, h float64 }
		var boxes []box
		left, top, right, bottom := math.Inf(1), math.Inf(1), 0.0, 0.0
		for _, m := range runs.FindAllStringSubmatch(code[1], -1) {
			var v [4]float64
			for i := range v {
				v[i], _ = strconv.ParseFloat(m[i+1], 64)
			}
			boxes = append(boxes, box{v[0], v[1], v[2], v[3]})
			left, top, right, bottom = min(left, v[0]), min(top, v[1]), max(right, v[0]+v[2]), max(bottom, v[1]+v[3])
		}
		const quiet = 3
		img := image.NewGray(image.Rect(0, 0, int((right-left+2*quiet)*scale), int((bottom-top+2*quiet)*scale)))
		for i := range img.Pix {
			img.Pix[i] = 255
		}
		for _, b := range boxes {
			for y := int((b.y - top + quiet) * scale); y < int((b.y-top+quiet+b.h)*scale); y++ {
				for x := int((b.x - left + quiet) * scale); x < int((b.x-left+quiet+b.w)*scale); x++ {
					img.SetGray(x, y, color.Gray{})
				}
			}
		}
		pictures = append(pictures, img)
	}
	return
}

// An independent decoder reads every code of every paper, from short links to
// the longest the paper has room for.
func TestAnotherDecoderReadsTheCodes(t *testing.T) {
	for _, s := range label.Stocks {
		read := 0
		for length := len(jar); length <= 150; length += 17 {
			link := jar + strings.Repeat("x", length-len(jar))
			sheets, err := label.Sheets(s, 0, []label.Label{{Product: "Peaches", Date: "2026-08-14", Link: link}}, called)
			if err != nil {
				continue
			}
			for _, img := range paint(t, sheets[0]) {
				bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
				if err != nil {
					t.Fatal(err)
				}
				result, err := qrcode.NewQRCodeReader().Decode(bitmap, nil)
				if err != nil || result.GetText() != link {
					t.Errorf("%s, %d characters: decoded %v, %v", s.ID, length, result, err)
				}
				read++
			}
		}
		if read == 0 {
			t.Errorf("%s has no room for the shortest link of a jar", s.ID)
		}
	}
}

// Labels stay on the sheet, do not overlap, and start where they are told to.
func TestPlaces(t *testing.T) {
	for _, s := range label.Stocks {
		n := s.Columns * s.Rows
		if s.AcrossPitch < s.LabelWidth || s.DownwardPitch < s.LabelHeight {
			t.Errorf("%s: labels overlap", s.ID)
		}
		if right := s.Left + float64(s.Columns-1)*s.AcrossPitch + s.LabelWidth; s.Left < 0 || right > s.PageWidth+0.001 {
			t.Errorf("%s: labels leave the sheet at the side: %v of %v", s.ID, right, s.PageWidth)
		}
		if bottom := s.Top + float64(s.Rows-1)*s.DownwardPitch + s.LabelHeight; s.Top < 0 || bottom > s.PageHeight+0.001 {
			t.Errorf("%s: labels leave the sheet below: %v of %v", s.ID, bottom, s.PageHeight)
		}
		for start := range n {
			sheets, err := label.Sheets(s, start, labels(n), called)
			if err != nil {
				t.Fatalf("%s: got %v", s.ID, err)
			}
			on := 0
			for _, sheet := range sheets {
				on += len(codes.FindAllString(sheet, -1))
			}
			if first := len(codes.FindAllString(sheets[0], -1)); on != n || first != n-start || (start > 0) != (len(sheets) == 2) {
				t.Fatalf("%s from %d: got %d labels on %d sheets, %d on the first", s.ID, start, on, len(sheets), first)
			}
		}
		for _, bad := range []int{-1, n} {
			if _, err := label.Sheets(s, bad, labels(1), called); err == nil {
				t.Errorf("%s: got no error for label %d", s.ID, bad)
			}
		}
	}
}

var place = regexp.MustCompile(`<text x="([\d.]+)" y="([\d.]+)" font-family="sans-serif" font-size="([\d.]+)"[^>]*>([^<]*)<`)

// Names of any length stay on their label, as valid markup that contains no
// markup from the name.
func TestNames(t *testing.T) {
	for _, name := range []string{"", "Jam", strings.Repeat("Strawberry ", 12), strings.Repeat("W", 90), `<script>alert("x")</script> & 'more'`, "Grüne Bohnen 🫘 mit Speck und Zwiebeln, nach Tante", "日本の梅干し、三年もの、大きな瓶"} {
		for _, s := range label.Stocks {
			sheets, err := label.Sheets(s, 0, []label.Label{{Product: name, Line2: name, Date: "2026-08-14", Link: jar, Short: "EJB-QXC"}}, called)
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(sheets[0], ">EJB-QXC<") {
				t.Errorf("%s, %q: the short code is missing", s.ID, name)
			}
			d := xml.NewDecoder(strings.NewReader(sheets[0]))
			for {
				token, err := d.Token()
				if err == io.EOF {
					break
				}
				if err != nil {
					t.Fatalf("%s, %q: got %v", s.ID, name, err)
				}
				if e, ok := token.(xml.StartElement); ok {
					if e.Name.Local == "script" {
						t.Fatalf("%q puts a script into the label", name)
					}
					for _, a := range e.Attr {
						if a.Name.Local == "style" || strings.Contains(a.Name.Local, "href") || strings.HasPrefix(a.Name.Local, "on") {
							t.Errorf("%s: attribute %s", s.ID, a.Name.Local)
						}
					}
				}
			}
			for _, m := range place.FindAllStringSubmatch(sheets[0], -1) {
				if y, _ := strconv.ParseFloat(m[2], 64); y > s.Top+s.LabelHeight {
					t.Errorf("%s, %q: a line is at %v, below the label", s.ID, name, y)
				}
			}
			if strings.Contains(sheets[0], "NaN") || strings.Contains(sheets[0], "Inf") {
				t.Errorf("%s, %q: the number is missing", s.ID, name)
			}
		}
	}
}

// A code that would be too fine to read is refused, with the name of the paper.
func TestTooMuchForTheLabel(t *testing.T) {
	for _, s := range label.Stocks {
		_, err := label.Sheets(s, 0, []label.Label{{Product: "x", Link: strings.Repeat("x", 1500)}}, called)
		if err == nil || !strings.Contains(err.Error(), s.Name.String()) {
			t.Errorf("%s: got %v", s.ID, err)
		}
	}
}
