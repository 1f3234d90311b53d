package process_test

import (
	"encoding/csv"
	"errors"
	"fmt"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"larderlamp/rules/evidence"
	"larderlamp/rules/process"
)

var (
	packs  = []process.Pack{process.Hot, process.Raw}
	jars   = []process.Size{process.FourOunce, process.HalfPint, process.TwelveOunce, process.Pint, process.TwentyFourOunce, process.Quart, process.HalfGallon, process.OtherJar}
	gauges = []process.Gauge{process.Dial, process.Weighted}
)

// heatings are the methods, the pressure canner once for each gauge.
var heatings = []struct {
	method process.Method
	gauge  process.Gauge
}{{process.BoilingWater, 0}, {process.Pressure, process.Dial}, {process.Pressure, process.Weighted}, {process.SteamCanner, 0}, {process.Pasteurized, 0}, {process.OtherMethod, 0}}

// takes lists the published sizes whose time is enough for a jar, the one that
// counts first: the next larger that is published. Kansas State University
// Extension, Choose the right jar (2019); National Center for Home Food
// Preservation, Jar size choices have you frustrated? (both read).
var takes = map[process.Size][]process.Size{
	process.FourOunce:       {process.HalfPint, process.Pint, process.Quart, process.HalfGallon},
	process.HalfPint:        {process.HalfPint, process.Pint, process.Quart, process.HalfGallon},
	process.TwelveOunce:     {process.Pint, process.Quart, process.HalfGallon},
	process.Pint:            {process.Pint, process.Quart, process.HalfGallon},
	process.TwentyFourOunce: {process.Quart, process.HalfGallon},
	process.Quart:           {process.Quart, process.HalfGallon},
	process.HalfGallon:      {process.HalfGallon},
}

// lowHeat are the foods whose recipes name low-temperature pasteurizing: bulletin
// 01600865 of Michigan State University Extension; AIB 539, 1994 text (both read
// in copies).
var lowHeat = []string{"quick-fresh-pack-dill-pickles", "dill-pickles-fermented", "quick-sweet-pickles"}

// published finds the size whose time a jar takes; 0 when there is none.
func published(f process.Food, q process.Query) process.Size {
	for _, jar := range takes[q.Jar] {
		for i := range f.Rows {
			if r := &f.Rows[i]; r.Jar&jar != 0 && r.Pack&q.Pack != 0 && heats(f, r, q) {
				return jar
			}
		}
	}
	return 0
}

// heats reports whether a row is for a method and a gauge.
func heats(f process.Food, r *process.Row, q process.Query) bool {
	switch q.Method {
	case process.Pressure:
		return r.PSI(q.Gauge, 0) > 0
	case process.Pasteurized:
		return r.Method() == process.BoilingWater && slices.Contains(lowHeat, f.ID)
	case process.OtherMethod:
		return false
	}
	return r.Method() == process.BoilingWater
}

// eachQuery visits every food, pack, jar and heating at an altitude.
func eachQuery(at process.Feet, visit func(process.Food, process.Query)) {
	for _, f := range process.Foods {
		for _, pack := range packs {
			for _, jar := range jars {
				for _, h := range heatings {
					visit(f, process.Query{Product: f.ID, Form: f.Form.String(), Pack: pack, Jar: jar, Method: h.method, Gauge: h.gauge, Altitude: at})
				}
			}
		}
	}
}

func TestFoodsAreNamedOnce(t *testing.T) {
	seen := map[string]bool{}
	ids := map[string]bool{}
	for _, f := range process.Foods {
		key := f.ID + "/" + f.Form.String()
		if seen[key] {
			t.Errorf("%s is in the table twice", key)
		}
		seen[key], ids[f.ID] = true, true
		if f.ID != slug(f.ID) || f.Name == "" || f.Form == "" || len(f.Rows) == 0 {
			t.Errorf("%s: the id, name, form or rows are missing or wrong", key)
		}
	}
	if len(ids) != 107 {
		t.Errorf("got %d products, want 107", len(ids))
	}
}

// TestRowsAreSound checks that every row says everything and that no two rows
// of a food ask for the same thing.
func TestRowsAreSound(t *testing.T) {
	for _, f := range process.Foods {
		for i, r := range f.Rows {
			where := fmt.Sprintf("%s (%s) row %d", f.ID, f.Form, i)
			if r.Pack == 0 || r.Jar == 0 || r.Jar&^(process.HalfPint|process.Pint|process.Quart|process.HalfGallon) != 0 || r.Minutes[0] < 1 {
				t.Errorf("%s: got %+v, want a pack, published sizes and minutes", where, r)
			}
			if cited := f.Acid.Cite().Source != ""; cited != (f.Acid != process.NoAcid) || cited != (f.Acid.String() != "") {
				t.Errorf("%s: acid %v, %+v", where, f.Acid, f.Acid.Cite())
			}
			if r.Cite.Source == "" || !r.Cite.Evidence.Found() && r.Cite.Evidence != evidence.Memory {
				t.Errorf("%s: cite %+v", where, r.Cite)
			}
			if strings.Contains(r.Cite.Source+r.Note.String(), "http") {
				t.Errorf("%s cites an address", where)
			}
			if !slices.IsSorted(r.Minutes[:]) || !slices.IsSorted(r.Dial[:]) {
				t.Errorf("%s falls with altitude: %+v", where, r.Process)
			}
			if r.High != 0 && (r.Method() != process.BoilingWater || r.High < r.Minutes[3]+5) {
				t.Errorf("%s: %d minutes above 8,000 ft", where, r.High)
			}
			for k, o := range f.Rows[:i] {
				same := o.Pack&r.Pack != 0 && o.Jar&r.Jar != 0 && o.Method() == r.Method()
				if same && (r.Method() == process.BoilingWater || o.Dial[0] == r.Dial[0] && r.Dial[0] != 0 || o.Weighted[0] == r.Weighted[0] && r.Weighted[0] != 0) {
					t.Errorf("%s overlaps row %d", where, k)
				}
			}
		}
	}
}

// TestTranscription compares every cell with testdata/tables/process.csv,
// which was typed separately from the same sources, in both directions.
func TestTranscription(t *testing.T) {
	file, err := os.Open("../../testdata/tables/process.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	table := csv.NewReader(file)
	table.Comment = '#'
	records, err := table.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	header := strings.Join(records[0], ",")
	if want := "product,form,pack,method,jar,band,minutes,dial_psi,weighted_psi,acid,evidence"; header != want {
		t.Fatalf("got the header %s, want %s", header, want)
	}
	theirs := map[string]string{}
	for i, r := range records[1:] {
		if len(r) != len(records[0]) {
			t.Fatalf("line %d: got %d fields", i+2, len(r))
		}
		key := slug(r[0]) + "|" + slug(r[1]) + "|" + slug(r[2]) + "|" + slug(r[3]) + "|" + slug(r[4]) + "|"
		psi := r[8]
		if r[7] != "" {
			key, psi = key+"dial "+r[6]+" min|", r[7]
		} else if r[8] != "" {
			key += "weighted " + r[6] + " min|"
		}
		key += r[5]
		cell := fmt.Sprintf("%s min, %s psi, acid %q, %s", r[6], psi, r[9], r[10])
		if old, twice := theirs[key]; twice {
			t.Errorf("line %d: %s is there twice: %s; %s", i+2, key, old, cell)
		}
		theirs[key] = cell
	}
	ours := cells()
	for key, cell := range ours {
		if theirs[key] != cell {
			t.Errorf("%s: got %s in the table, want %s as in the transcription", key, cell, theirs[key])
		}
	}
	for key, cell := range theirs {
		if _, ok := ours[key]; !ok {
			t.Errorf("%s is not in the table: %s", key, cell)
		}
	}
}

// cells lays the tables out one cell a line, as the transcription does.
func cells() map[string]string {
	packs := map[process.Pack]string{process.Hot: "hot", process.Raw: "raw", process.Hot | process.Raw: "hot-or-raw"}
	jarIDs := map[process.Size]string{process.HalfPint: "half-pint", process.Pint: "pint", process.Quart: "quart", process.HalfGallon: "half-gallon"}
	marks := map[evidence.Mark]string{evidence.Read: "seen", evidence.Copied: "copy", evidence.Memory: "memory"}
	all := map[string]string{}
	for _, f := range process.Foods {
		for _, r := range f.Rows {
			for jar, id := range jarIDs {
				if r.Jar&jar == 0 {
					continue
				}
				put := func(method, line string, minutes int, band, psi string) {
					key := strings.Join([]string{f.ID, slug(f.Form.String()), packs[r.Pack], method, id, line + band}, "|")
					all[key] = fmt.Sprintf("%d min, %s psi, acid %q, %s", minutes, psi, f.Acid, marks[r.Cite.Evidence])
				}
				if r.Method() == process.BoilingWater {
					for i, band := range []string{"1000", "3000", "6000", "8000", "above"} {
						put("boiling-water", "", int(r.Minutes[min(i, 3)]), band, "")
					}
					continue
				}
				psi := func(v int) string {
					if v == 0 {
						return "NR"
					}
					return strconv.Itoa(v)
				}
				if r.Dial[0] > 0 {
					for i, band := range []string{"2000", "4000", "6000", "8000"} {
						put("pressure", fmt.Sprintf("dial %d min|", r.Minutes[0]), int(r.Minutes[0]), band, psi(int(r.Dial[i])))
					}
				}
				if r.Weighted[0] > 0 {
					for i, band := range []string{"1000", "above"} {
						put("pressure", fmt.Sprintf("weighted %d min|", r.Minutes[0]), int(r.Minutes[0]), band, psi(int(r.Weighted[i])))
					}
				}
			}
		}
	}
	return all
}

// slug writes a name the way ids are written.
func slug(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-")
}

// TestBandEdges looks every row up on both sides of every edge.
func TestBandEdges(t *testing.T) {
	type side struct {
		at    process.Feet
		index int // in the row; -1 means no process
	}
	boil := []side{{-400, 0}, {0, 0}, {1000, 0}, {1001, 1}, {3000, 1}, {3001, 2}, {6000, 2}, {6001, 3}, {8000, 3}}
	dial := []side{{-400, 0}, {0, 0}, {2000, 0}, {2001, 1}, {4000, 1}, {4001, 2}, {6000, 2}, {6001, 3}, {8000, 3}, {8001, -1}, {30000, -1}}
	weighted := []side{{-400, 0}, {0, 0}, {1000, 0}, {1001, 1}, {8001, 1}, {30000, 1}}
	checks := 0
	for _, f := range process.Foods {
		for i := range f.Rows {
			r := &f.Rows[i]
			for _, pack := range packs {
				for _, jar := range jars {
					if r.Pack&pack == 0 || r.Jar&jar == 0 {
						continue
					}
					q := process.Query{Product: f.ID, Form: f.Form.String(), Pack: pack, Jar: jar, Method: r.Method()}
					has := func(minutes uint8, psi int) bool {
						lines, err := process.Lines(q)
						if err != nil && !errors.Is(err, process.ErrNoProcess) {
							t.Fatal(err)
						}
						checks++
						return slices.ContainsFunc(lines, func(l process.Line) bool {
							return l.Minutes == int(minutes) && (psi < 0 || l.PSI == psi) && l.Row.Cite == r.Cite
						})
					}
					if r.Method() == process.BoilingWater {
						for _, s := range boil {
							if q.Altitude = s.at; !has(r.Minutes[s.index], 0) {
								t.Errorf("%+v: want %d min", q, r.Minutes[s.index])
							}
						}
						for _, q.Altitude = range []process.Feet{8001, 30000} {
							if want := max(r.Minutes[3], r.High); !has(want, 0) {
								t.Errorf("%+v: want %d min", q, want)
							}
						}
						continue
					}
					for _, g := range gauges {
						sides, psis := dial, r.Dial[:]
						if g == process.Weighted {
							sides, psis = weighted, r.Weighted[:]
						}
						if psis[0] == 0 {
							continue
						}
						for _, s := range sides {
							q.Altitude, q.Gauge = s.at, g
							if s.index < 0 || psis[s.index] == 0 {
								if has(r.Minutes[0], -1) {
									t.Errorf("%+v: want no line of %d min", q, r.Minutes[0])
								}
							} else if !has(r.Minutes[0], int(psis[s.index])) {
								t.Errorf("%+v: want %d min at %d psi", q, r.Minutes[0], psis[s.index])
							}
						}
					}
				}
			}
		}
	}
	if checks < 4000 {
		t.Errorf("got only %d look-ups", checks)
	}
}

// TestNothingIsInterpolated looks up every food, form, pack, jar and method,
// with each gauge, from below the sea to above every band: there is a line
// exactly where a row prints one, and otherwise an error that says so.
func TestNothingIsInterpolated(t *testing.T) {
	found, absent := 0, 0
	for _, at := range []process.Feet{-400, 0, 1000, 1001, 2000, 2001, 3000, 3001, 4000, 4001, 6000, 6001, 8000, 8001, 12000} {
		eachQuery(at, func(f process.Food, q process.Query) {
			want := 0
			for i := range f.Rows {
				r := &f.Rows[i]
				if r.Pack&q.Pack == 0 || r.Jar&published(f, q) == 0 {
					continue
				}
				switch q.Method {
				case process.Pasteurized:
					if heats(f, r, q) {
						want++
					}
				case process.BoilingWater, process.SteamCanner:
					if r.Method() == process.BoilingWater && (q.Method == process.BoilingWater || r.BoilingMinutes(at) <= 45) {
						want++
					}
				case process.Pressure:
					if r.PSI(q.Gauge, at) > 0 {
						want++
					}
				}
			}
			lines, err := process.Lines(q)
			if len(lines) != want {
				t.Errorf("%+v: got %d lines, want %d", q, len(lines), want)
			}
			var lacks *process.NoProcessError
			if want > 0 {
				found++
				if err != nil {
					t.Errorf("%+v: %v", q, err)
				}
			} else if absent++; !errors.As(err, &lacks) || !errors.Is(err, process.ErrNoProcess) || lacks.Lacks == "" || lacks.Has == "" {
				t.Errorf("%+v: got the error %v", q, err)
			}
			for i, l := range lines {
				// Lines of one look-up differ: neither asks for less of both.
				for _, o := range lines[:i] {
					if (o.Minutes-l.Minutes)*(o.PSI-l.PSI) >= 0 {
						t.Errorf("%+v: %v makes %v unnecessary", q, &o, &l)
					}
				}
			}
		})
	}
	if found == 0 || absent == 0 {
		t.Errorf("got %d look-ups with a line and %d without, want some of each", found, absent)
	}
}

// TestRequirementNeverFalls climbs every foot: no line asks for less above.
func TestRequirementNeverFalls(t *testing.T) {
	for _, f := range process.Foods {
		for i := range f.Rows {
			r := &f.Rows[i]
			for at := process.Feet(-100); at < 10500; at++ {
				if r.BoilingMinutes(at+1) < r.BoilingMinutes(at) {
					t.Errorf("%s: minutes fall above %d ft", f.ID, at)
				}
				for _, g := range gauges {
					if a, b := r.PSI(g, at), r.PSI(g, at+1); b != 0 && b < a || a == 0 && b != 0 {
						t.Errorf("%s: pressure falls above %d ft", f.ID, at)
					}
				}
			}
		}
	}
}

func TestMissingProcessIsNamed(t *testing.T) {
	for _, c := range []struct {
		name  string
		query process.Query
		want  string
	}{
		{"a jar size without a row", process.Query{Product: "chile-con-carne", Pack: process.Hot, Jar: process.Quart, Method: process.Pressure, Gauge: process.Dial},
			"no tested process for quart jars of chile con carne in a pressure canner; published: pint jars"},
		{"low-acid food in boiling water", process.Query{Product: "beans-snap-and-italian", Pack: process.Raw, Jar: process.Pint, Method: process.BoilingWater},
			"no tested process for snap and Italian beans in a boiling-water canner; published: in a pressure canner"},
		{"a pack without a row", process.Query{Product: "corn-cream-style", Pack: process.Raw, Jar: process.Pint, Method: process.Pressure, Gauge: process.Weighted},
			"no tested process for pint jars of cream-style corn packed raw in a pressure canner; published: packed hot"},
		{"above the printed dial bands", process.Query{Product: "carrots", Pack: process.Raw, Jar: process.Pint, Method: process.Pressure, Gauge: process.Dial, Altitude: 8001},
			"no tested process for pint jars of carrots by a dial gauge at 8001 ft; published: lower altitudes"},
		{"a gauge without a row", process.Query{Product: "grapefruit-and-orange-sections", Pack: process.Raw, Jar: process.Pint, Method: process.Pressure, Gauge: process.Weighted},
			"no tested process for pint jars of grapefruit and orange sections by a weighted gauge; published: dial gauge"},
		{"too long for a steam canner", process.Query{Product: "figs", Pack: process.Hot, Jar: process.Quart, Method: process.SteamCanner},
			"no tested process for quart jars of figs in a steam canner without pressure: the published time is over 45 minutes; published: in a boiling-water canner"},
		{"a jar of unknown size", process.Query{Product: "rhubarb", Pack: process.Hot, Jar: process.OtherJar, Method: process.BoilingWater},
			"no tested process for jars of another size of rhubarb in a boiling-water canner; published: pint jars, quart jars"},
		{"a jar larger than the largest one published", process.Query{Product: "mushrooms", Pack: process.Hot, Jar: process.TwentyFourOunce, Method: process.Pressure, Gauge: process.Dial},
			"no tested process for 24- or 28-ounce jars of mushrooms in a pressure canner; published: half-pint jars, pint jars"},
		{"tomato juice in a half-gallon jar", process.Query{Product: "tomato-juice", Pack: process.Hot, Jar: process.HalfGallon, Method: process.BoilingWater},
			"no tested process for half-gallon jars of tomato juice in a boiling-water canner; published: pint jars, quart jars"},
		{"pasteurizing what its recipe does not", process.Query{Product: "pickled-beets", Pack: process.Hot, Jar: process.Pint, Method: process.Pasteurized},
			"no tested process for pickled beets pasteurized in water below the boil; published: in a boiling-water canner"},
		{"a way of heating without times", process.Query{Product: "rhubarb", Pack: process.Hot, Jar: process.Pint, Method: process.OtherMethod},
			"no tested process for rhubarb heated in another way; published: in a boiling-water canner, in a pressure canner"},
		{"a form that is not printed", process.Query{Product: "chicken-or-rabbit", Form: "whole", Pack: process.Raw, Jar: process.Quart, Method: process.Pressure, Gauge: process.Dial},
			`no tested process for chicken or rabbit in the form "whole"; published: without bones; with bones`},
		{"a form that is printed in another pack", process.Query{Product: "tomatoes-whole-or-halved", Form: "raw, no added liquid", Pack: process.Hot, Jar: process.Quart, Method: process.BoilingWater},
			"no tested process for quart jars of whole or halved tomatoes (raw, no added liquid) packed hot in a boiling-water canner; published: packed raw"},
		{"a product that is not printed", process.Query{Product: "pesto", Pack: process.Raw, Jar: process.Pint, Method: process.Pressure, Gauge: process.Dial},
			`no tested process for the product "pesto"`},
		{"no product", process.Query{Pack: process.Raw, Jar: process.Pint, Method: process.Pressure, Gauge: process.Dial},
			"no tested process for a food that is not named"},
	} {
		_, err := process.Lines(c.query)
		if !errors.Is(err, process.ErrNoProcess) || err.Error() != c.want {
			t.Errorf("%s:\n got %v\nwant %s", c.name, err, c.want)
		}
	}
}

func TestVagueQueriesAreRefused(t *testing.T) {
	exact := process.Query{Product: "carrots", Pack: process.Raw, Jar: process.Pint, Method: process.Pressure, Gauge: process.Dial}
	if _, err := process.Lines(exact); err != nil {
		t.Fatal(err)
	}
	for what, change := range map[string]func(*process.Query){
		"pack":     func(q *process.Query) { q.Pack = process.Hot | process.Raw },
		"jar size": func(q *process.Query) { q.Jar = 0 },
		"method":   func(q *process.Query) { q.Method = process.Pressure | process.BoilingWater },
		"gauge":    func(q *process.Query) { q.Gauge = 0 },
		"form":     func(q *process.Query) { q.Product = "spaghetti-sauce" },
	} {
		q := exact
		change(&q)
		if _, err := process.Lines(q); !errors.Is(err, process.ErrVague) || !strings.Contains(err.Error(), what) {
			t.Errorf("got the error %v, want one that names %s", err, what)
		}
	}
}

// TestUtahColumn spells out the stricter column above 8,000 ft that the tables
// hold beside the Guide's last band.
func TestUtahColumn(t *testing.T) {
	type key struct {
		id   string
		pack process.Pack
	}
	want := map[key][2]uint8{ // pint, quart
		{"apples", process.Hot}: {40, 40}, {"applesauce", process.Hot}: {30, 40},
		{"apricots", process.Hot}: {40, 45}, {"apricots", process.Raw}: {45, 50},
		{"berries", process.Hot}: {30, 40}, {"berries", process.Raw}: {30, 40},
		{"cherries", process.Hot}: {30, 40}, {"cherries", process.Raw}: {45, 45},
		{"apple-juice", process.Hot}: {20, 20}, {"grape-juice", process.Hot}: {20, 20},
		{"fruit-puree", process.Hot}: {30, 30},
		{"peaches", process.Hot}:     {40, 45}, {"peaches", process.Raw}: {45, 50},
		{"pears", process.Hot}: {40, 45},
		{"plums", process.Hot}: {40, 45}, {"plums", process.Raw}: {40, 45},
	}
	for _, f := range process.Foods {
		for _, r := range f.Rows {
			for _, pack := range packs {
				for i, jar := range []process.Size{process.Pint, process.Quart} {
					if r.Method() != process.BoilingWater || r.Pack&pack == 0 || r.Jar&jar == 0 {
						continue
					}
					if w := want[key{f.ID, pack}][i]; r.High != w {
						t.Errorf("%s: got %d minutes above 8,000 ft, want %d", f.ID, r.High, w)
					}
				}
			}
		}
	}
	lines, err := process.Lines(process.Query{Product: "apples", Pack: process.Hot, Jar: process.Pint, Method: process.BoilingWater, Altitude: 8001})
	if err != nil || len(lines) != 1 || !strings.Contains(lines[0].Cite().Source, process.UtahHigh.Source) {
		t.Errorf("apples at 8,001 ft: got %v, %v", lines, err)
	}
}
