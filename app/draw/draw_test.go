package draw_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"larderlamp/app/draw"
	"larderlamp/rules"
)

// drawn reports whether the values of a sign have their own drawings.
func drawn(id rules.SignID) bool {
	switch rules.Signs[id].Chapter {
	case rules.ChapterOutside, rules.ChapterGlass, rules.ChapterOpening:
		return true
	case rules.ChapterStorage:
		return id != rules.SignAge
	case rules.ChapterRecord:
		return id == rules.SignClosure // the lid can be seen; the rest of the record is only written
	}
	return false
}

// visible lists the signs that have drawings.
func visible() (ids []rules.SignID) {
	for i := range rules.Signs {
		if drawn(rules.SignID(i)) {
			ids = append(ids, rules.SignID(i))
		}
	}
	return
}

// sound is a jar found sound in every sign but one, which is left open.
func sound(t testing.TB, except rules.SignID) rules.Situation {
	t.Helper()
	s := rules.NewSituation()
	for _, id := range visible() {
		if id == except || id == rules.SignOpened {
			continue
		}
		onlyOpen := rules.Signs[id].Chapter == rules.ChapterOpening
		if onlyOpen && (except == rules.SignOpened || rules.Signs[except].Chapter != rules.ChapterOpening) {
			continue
		}
		if err := s.Tell(rules.Signs[id].Sound); err != nil {
			t.Fatal(err)
		}
	}
	switch {
	case except == rules.SignOpened:
	case rules.Signs[except].Chapter == rules.ChapterOpening:
		if err := s.Tell(rules.OpenedNow); err != nil {
			t.Fatal(err)
		}
	default:
		if err := s.Tell(rules.OpenedNo); err != nil {
			t.Fatal(err)
		}
	}
	return s
}

func tell(t testing.TB, s rules.Situation, v ...rules.Value) rules.Situation {
	t.Helper()
	if err := s.Tell(v...); err != nil {
		t.Fatal(err)
	}
	return s
}

// everyPicture calls f for every value of every sign with every filling.
func everyPicture(t testing.TB, f func(name string, j draw.Picture)) {
	for food := range draw.NumFoods {
		f(draw.Food(food).String()+"/nothing", draw.Picture{Food: draw.Food(food), Situation: rules.NewSituation()})
		for _, id := range visible() {
			for _, v := range rules.Signs[id].Values {
				f(draw.Food(food).String()+"/"+id.ID()+"/"+v.ID, draw.Picture{Food: draw.Food(food), Situation: tell(t, sound(t, id), v.Value)})
			}
		}
	}
}

// worst is a jar in which as much as possible has gone wrong at once.
func worst(t testing.TB) rules.Situation {
	return tell(t, rules.NewSituation(), rules.OdorOff, rules.ClosureUsed, rules.LidBulged, rules.PressGives, rules.LiftOff, rules.SeepWet, rules.RustThrough,
		rules.GlassCracked, rules.CloudMurky, rules.BubblesRising, rules.LevelDropped, rules.BodySlimy, rules.ColorOdd,
		rules.MoldSeen, rules.DepositCrystals, rules.TopFilm, rules.HeatExtreme, rules.FrozenThawed, rules.WetFlood,
		rules.PlaceFire, rules.OpenedNow, rules.ReleaseSpurt, rules.SmellOff, rules.FilmFoam, rules.UnderlidFuzzy)
}

func TestEveryValueHasItsOwnDrawing(t *testing.T) {
	for food := range draw.NumFoods {
		for _, id := range visible() {
			seen := map[string]string{}
			for _, v := range rules.Signs[id].Values {
				// A thumbnail has no nails in its shelf: the jar itself must differ.
				svg := draw.Picture{Food: draw.Food(food), Situation: tell(t, sound(t, id), v.Value)}.SVG(draw.Options{Plain: true})
				_, picture, _ := strings.Cut(svg, "</desc>")
				if other, ok := seen[picture]; ok {
					t.Errorf("%v: %s: %s looks like %s", draw.Food(food), id.ID(), v.ID, other)
				}
				seen[picture] = v.ID
			}
		}
	}
}

// picture is the markup without its words.
func picture(s rules.Situation, o draw.Options) string {
	_, after, _ := strings.Cut(draw.Picture{Situation: s}.SVG(o), "</desc>")
	return after
}

// Whatever closes the jar, and whatever else was said about it that does not
// fit, a danger that was reported for its lid is drawn.
func TestNoClosureHidesADanger(t *testing.T) {
	plain := draw.Options{Plain: true}
	for _, closure := range rules.Signs[rules.SignClosure].Values {
		for _, id := range []rules.SignID{rules.SignOdor, rules.SignLid, rules.SignPress, rules.SignLift, rules.SignSeep, rules.SignRust} {
			for _, shape := range []rules.Value{rules.LidDown, rules.LidNone} {
				s := tell(t, sound(t, rules.SignClosure), closure.Value)
				s.Forget(rules.SignLid)
				s = tell(t, s, shape)
				calm := picture(s, plain)
				s.Forget(id)
				for _, v := range rules.Signs[id].Values {
					if v.Value.Shows() != rules.NoFault && picture(tell(t, s, v.Value), plain) == calm {
						t.Errorf("%s, lid %s: %s=%s is not drawn", closure.ID, shape.ID(), id.ID(), v.ID)
					}
				}
			}
		}
	}
}

// A jar that has been cold since it was made has its lid on until something is
// reported that only an open jar shows.
func TestColdJarsAreOpenedToBeLookedInto(t *testing.T) {
	for _, cold := range []rules.Value{rules.OpenedChilled, rules.OpenedThawed} {
		shut := tell(t, sound(t, rules.SignOpened), cold)
		lidOn := picture(shut, draw.Options{Plain: true})
		for _, id := range []rules.SignID{rules.SignSmell, rules.SignFilm, rules.SignUnderlid} {
			seen := map[string]string{lidOn: "the lid on"}
			for _, v := range rules.Signs[id].Values {
				now := picture(tell(t, shut, v.Value), draw.Options{Plain: true})
				if other, ok := seen[now]; ok {
					t.Errorf("%s: %s=%s looks like %s", cold.ID(), id.ID(), v.ID, other)
				}
				seen[now] = v.ID
			}
		}
	}
}

// The tag shows which entries of the record are still missing, and an unknown
// date is not written like a known one.
func TestTagShowsTheRecord(t *testing.T) {
	full := rules.NewSituation()
	var record []rules.SignID
	for i := range rules.Signs {
		id := rules.SignID(i)
		if !id.Fact() && (rules.Signs[i].Chapter == rules.ChapterRecord || id == rules.SignAge) {
			record = append(record, id)
			full = tell(t, full, rules.Signs[i].Sound)
		}
	}
	written := picture(full, draw.Options{})
	for _, id := range record {
		s := full
		s.Forget(id)
		if picture(s, draw.Options{}) == written {
			t.Errorf("%s is missing, but the tag looks full", id.ID())
		}
	}
	s := full
	s.Forget(rules.SignAge)
	open := picture(s, draw.Options{})
	if unknown := picture(tell(t, s, rules.AgeUnknown), draw.Options{}); unknown == written || unknown == open {
		t.Error("a date that nobody knows looks like a known one, or like one not asked for")
	}
}

func TestUnlookedAtDiffersFromSound(t *testing.T) {
	for food := range draw.NumFoods {
		for _, id := range visible() {
			unseen := sound(t, id)
			picture := func(s rules.Situation) string {
				_, after, _ := strings.Cut(draw.Picture{Food: draw.Food(food), Situation: s}.SVG(draw.Options{}), "</desc>")
				return after
			}
			ghost := picture(unseen)
			for _, v := range rules.Signs[id].Values {
				if picture(tell(t, unseen, v.Value)) == ghost {
					t.Errorf("%v: %s: %s looks like not looked at", draw.Food(food), id.ID(), v.ID)
				}
			}
		}
	}
}

func TestMarkupIsSafeAndSmall(t *testing.T) {
	const ceiling = 12 << 10 // bytes
	largest, name := 0, ""
	check := func(title string, j draw.Picture) {
		svg := j.SVG(draw.Options{Prefix: "a7", Interactive: true})
		if n := len(j.SVG(draw.Options{Prefix: "a7"})); n > largest {
			largest, name = n, title
		}
		checkMarkup(t, title, svg, "a7-")
		if again := j.SVG(draw.Options{Prefix: "a7", Interactive: true}); again != svg {
			t.Errorf("%s: drawn differently the second time", title)
		}
	}
	everyPicture(t, check)
	t.Logf("largest picture with one oddity: %s, %d bytes", name, largest)
	if largest > ceiling {
		t.Errorf("%s: %d bytes, more than %d", name, largest, ceiling)
	}
	for food := range draw.NumFoods {
		check(draw.Food(food).String()+"/worst", draw.Picture{Food: draw.Food(food), Situation: worst(t), Verdict: rules.Discard})
	}
	t.Logf("largest picture of all: %s, %d bytes", name, largest)
	if largest > 2*ceiling {
		t.Errorf("%s: %d bytes, more than %d", name, largest, 2*ceiling)
	}
}

var reference = regexp.MustCompile(`url\(#([^)]+)\)`)

// checkMarkup reads the markup as XML and fails for anything that the page's
// security policy would block, for ids without the prefix and for references to
// nothing.
func checkMarkup(t *testing.T, title, svg, prefix string) {
	t.Helper()
	for _, bad := range []string{"style=", "<style", "<script", "javascript:", "%!"} {
		if strings.Contains(svg, bad) {
			t.Errorf("%s: holds %q", title, bad)
		}
	}
	if rest := strings.ReplaceAll(svg, `xmlns="http://www.w3.org/2000/svg"`, ""); strings.Contains(rest, "http") || strings.Contains(rest, "//") {
		t.Errorf("%s: refers to something outside", title)
	}
	ids, wanted := map[string]bool{}, []string{}
	inText := ""
	for d := xml.NewDecoder(strings.NewReader(svg)); ; {
		token, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("%s: got %v", title, err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			inText = e.Name.Local
			for _, a := range e.Attr {
				if strings.HasPrefix(a.Name.Local, "on") {
					t.Errorf("%s: handler %s", title, a.Name.Local)
				}
				switch a.Name.Local {
				case "id":
					if ids[a.Value] || !strings.HasPrefix(a.Value, prefix) {
						t.Errorf("%s: id %q is used twice or lacks its prefix", title, a.Value)
					}
					ids[a.Value] = true
				case "href":
					wanted = append(wanted, strings.TrimPrefix(a.Value, "#"))
				case "aria-labelledby", "aria-describedby":
					wanted = append(wanted, a.Value)
				}
				for _, m := range reference.FindAllStringSubmatch(a.Value, -1) {
					wanted = append(wanted, m[1])
				}
			}
		case xml.EndElement:
			inText = ""
		case xml.CharData:
			if inText != "title" && inText != "desc" && len(bytes.TrimSpace(e)) > 0 {
				t.Errorf("%s: text %q in <%s>", title, e, inText)
			}
		}
	}
	for _, id := range wanted {
		if !ids[id] {
			t.Errorf("%s: nothing has the id %q", title, id)
		}
	}
}

func TestPrefixIsCleaned(t *testing.T) {
	svg := draw.Picture{}.SVG(draw.Options{Prefix: `x"><script>7_b-`})
	checkMarkup(t, "hostile prefix", svg, "xscript7_b-")
	checkMarkup(t, "no prefix", draw.Picture{}.SVG(draw.Options{}), "jar-")
}

func TestDescriptionSaysOnlyWhatWasReported(t *testing.T) {
	describe := func(s rules.Situation) string {
		_, after, _ := strings.Cut(draw.Picture{Situation: s}.SVG(draw.Options{}), "<desc id=\"jar-d\">")
		text, _, _ := strings.Cut(after, "</desc>")
		return text
	}
	if got := describe(rules.NewSituation()); got != "Nothing has been reported yet." {
		t.Errorf("untouched jar: %q", got)
	}
	for _, id := range visible() {
		for _, v := range rules.Signs[id].Values {
			got := describe(tell(t, rules.NewSituation(), v.Value))
			if want := rules.Signs[id].Name + ": " + v.Label + "."; !strings.Contains(got, want.String()) {
				t.Errorf("%s %s: %q does not say %q", id.ID(), v.ID, got, want)
			}
			if n := strings.Count(got, ": "); n > 1 && !strings.Contains(v.Label.String(), ": ") && !strings.Contains(got, "Opened") {
				t.Errorf("%s %s: %q says more than was reported", id.ID(), v.ID, got)
			}
		}
	}
}

func TestEverySignIsReachedFromSomeZone(t *testing.T) {
	reached := map[rules.SignID]bool{}
	for _, z := range draw.Zones {
		if z.ID == "" || z.Label == "" {
			t.Errorf("zone %+v has no name", z)
		}
		for _, id := range z.Signs {
			reached[id] = true
		}
	}
	for i := range rules.Signs {
		id := rules.SignID(i)
		if id.Fact() || rules.Signs[i].Chapter == rules.ChapterOpened {
			if reached[id] {
				t.Errorf("%s cannot be seen on a jar, yet a zone reports it", id.ID())
			}
		} else if !reached[id] {
			t.Errorf("%s is in no zone", id.ID())
		}
	}
}

func TestTouchAreas(t *testing.T) {
	type rect struct {
		zone       string
		x, y, w, h int
	}
	for _, opened := range rules.Signs[rules.SignOpened].Values {
		j := draw.Picture{Situation: tell(t, rules.NewSituation(), opened.Value)}
		var rects []rect
		zone := ""
		var zones []string
		for d := xml.NewDecoder(strings.NewReader(j.SVG(draw.Options{Interactive: true}))); ; {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			e, ok := token.(xml.StartElement)
			if !ok {
				continue
			}
			attr := map[string]string{}
			for _, a := range e.Attr {
				attr[a.Name.Local] = a.Value
			}
			if attr["data-zone"] != "" {
				zone = attr["data-zone"]
				zones = append(zones, zone)
				if attr["tabindex"] != "0" || attr["role"] != "button" || attr["aria-label"] == "" || attr["class"] != "zone" {
					t.Errorf("%s cannot be reached by keyboard or screen reader: %v", zone, attr)
				}
			}
			if e.Name.Local == "rect" && zone != "" {
				n := func(k string) int { v, _ := strconv.Atoi(attr[k]); return v }
				rects = append(rects, rect{zone, n("x"), n("y"), n("width"), n("height")})
			}
		}
		for _, z := range draw.Zones {
			if !slices.Contains(zones, z.ID) {
				t.Errorf("no touch area for %s", z.ID)
			}
		}
		for i, a := range rects {
			if a.w < 48 || a.h < 48 || a.x < 0 || a.y < 0 || a.x+a.w > 280 || a.y+a.h > 400 {
				t.Errorf("%+v is too small for a thumb or off the sheet", a)
			}
			for _, b := range rects[i+1:] {
				if a.zone != b.zone && a.x < b.x+b.w && b.x < a.x+a.w && a.y < b.y+b.h && b.y < a.y+a.h {
					t.Errorf("%+v and %+v overlap", a, b)
				}
			}
		}
	}
	if svg := (draw.Picture{}).SVG(draw.Options{}); strings.Contains(svg, "data-zone") || !strings.Contains(svg, `role="img"`) {
		t.Error("a picture that is not interactive must be one image without touch areas")
	}
}

func TestFoods(t *testing.T) {
	for f := range draw.NumFoods {
		if got, ok := draw.ParseFood(draw.Food(f).String()); !ok || int(got) != f {
			t.Errorf("ParseFood(%q) = %d, %v", draw.Food(f), got, ok)
		}
	}
	if _, ok := draw.ParseFood("no such filling"); ok {
		t.Error("an unknown filling was read")
	}
	for i := range rules.Catalog {
		if _, ok := draw.ParseFood(rules.Catalog[i].Food); !ok {
			t.Errorf("%s: no filling is called %q", rules.Catalog[i].ID, rules.Catalog[i].Food)
		}
	}
}

func TestMarks(t *testing.T) {
	seen := map[string]rules.Verdict{}
	for v := rules.Verdict(0); v <= rules.Discard; v++ {
		mark := draw.Mark(v)
		checkMarkup(t, v.String(), mark, "")
		if other, ok := seen[mark]; ok {
			t.Errorf("%v looks like %v", v, other)
		}
		seen[mark] = v
	}
	if draw.Mark(rules.Discard+1) != draw.Mark(0) {
		t.Error("a verdict that does not exist must look unsettled")
	}
}

func BenchmarkSVG(b *testing.B) {
	for _, c := range []struct {
		name string
		jar  draw.Picture
	}{
		{"sound", draw.Picture{Food: draw.Grains, Situation: sound(b, rules.SignClass)}},
		{"worst", draw.Picture{Food: draw.Slices, Situation: worst(b)}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				c.jar.SVG(draw.Options{Prefix: "j", Interactive: true})
			}
		})
	}
}
