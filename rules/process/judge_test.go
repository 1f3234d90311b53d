package process_test

import (
	"math/bits"
	"slices"
	"strings"
	"testing"

	"larderlamp/rules/evidence"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// record is a record in which nothing is left open.
func record(q process.Query, minutes, tenths int) process.Record {
	return process.Record{Product: q.Product, Form: q.Form, Pack: q.Pack, Jar: q.Jar, Method: q.Method, Gauge: q.Gauge,
		Vented: process.Vented, Minutes: process.Exactly(minutes), Pressure: process.Exactly(tenths),
		ReadsHigh: process.Exactly(0), Altitude: process.Exactly(int(q.Altitude))}
}

var beans = record(process.Query{Product: "beans-snap-and-italian", Pack: process.Raw, Jar: process.Quart,
	Method: process.Pressure, Gauge: process.Dial, Altitude: 500}, 25, 110)

func TestWas(t *testing.T) {
	crushed := record(process.Query{Product: "tomatoes-crushed", Pack: process.Hot, Jar: process.Quart,
		Method: process.BoilingWater, Altitude: 500}, 45, 0)
	kraut := record(process.Query{Product: "sauerkraut", Pack: process.Raw, Jar: process.Quart, Method: process.BoilingWater, Altitude: 500}, 25, 0)
	sauce := record(process.Query{Product: "tomato-sauce", Pack: process.Hot, Jar: process.Pint,
		Method: process.Pressure, Gauge: process.Weighted, Altitude: 500}, 15, 100)
	apples := record(process.Query{Product: "apples", Pack: process.Hot, Jar: process.Pint,
		Method: process.BoilingWater, Altitude: 8000}, 35, 0)
	with := func(r process.Record, change func(*process.Record)) process.Record { change(&r); return r }
	const none = process.Datum(0)
	for _, c := range []struct {
		name    string
		record  process.Record
		want    process.Status
		missing process.Datum
		minutes int // short
		tenths  int // short
	}{
		{"quart of beans exactly as printed", beans, process.Met, none, 0, 0},
		{"longer and hotter than printed", with(beans, func(r *process.Record) { r.Minutes, r.Pressure = process.Exactly(40), process.Exactly(150) }), process.Met, none, 0, 0},
		{"a minute short", with(beans, func(r *process.Record) { r.Minutes = process.Exactly(24) }), process.Short, none, 1, 0},
		{"a tenth of a pound short", with(beans, func(r *process.Record) { r.Pressure = process.Exactly(109) }), process.Short, none, 0, 1},
		{"at 2,000 ft", with(beans, func(r *process.Record) { r.Altitude = process.Exactly(2000) }), process.Met, none, 0, 0},
		{"at 2,001 ft", with(beans, func(r *process.Record) { r.Altitude = process.Exactly(2001) }), process.Short, none, 0, 10},
		{"at 8,001 ft no dial pressure is printed", with(beans, func(r *process.Record) { r.Altitude, r.Pressure = process.Exactly(8001), process.Exactly(150) }), process.NoProcess, none, 0, 0},
		{"dial reads one pound high", with(beans, func(r *process.Record) { r.ReadsHigh = process.Exactly(10) }), process.Short, none, 0, 10},
		{"dial reads two pounds high and was allowed for", with(beans, func(r *process.Record) { r.ReadsHigh, r.Pressure = process.Exactly(20), process.Exactly(130) }), process.Met, none, 0, 0},
		{"dial reads more than two pounds high", with(beans, func(r *process.Record) { r.ReadsHigh, r.Pressure = process.Exactly(21), process.Exactly(150) }), process.Short, none, 0, 0},
		{"dial reads low: no credit", with(beans, func(r *process.Record) { r.ReadsHigh, r.Pressure = process.Exactly(-10), process.Exactly(100) }), process.Short, none, 0, 10},
		{"not vented", with(beans, func(r *process.Record) { r.Vented = process.Unvented }), process.Short, none, 0, 0},
		{"nobody knows about venting", with(beans, func(r *process.Record) { r.Vented = 0 }), process.Met | process.Short, process.DatumVented, 0, 0},
		{"dial never tested", with(beans, func(r *process.Record) { r.ReadsHigh = process.Range{} }), process.Met | process.Short, process.DatumReadsHigh, 0, 20},
		{"a weight needs no test", with(beans, func(r *process.Record) {
			r.Gauge, r.Pressure, r.ReadsHigh = process.Weighted, process.Exactly(100), process.Range{}
		}), process.Met, none, 0, 0},
		{"ten-pound weight above 1,000 ft", with(beans, func(r *process.Record) {
			r.Gauge, r.Pressure, r.Altitude = process.Weighted, process.Exactly(100), process.Exactly(1001)
		}), process.Short, none, 0, 50},
		{"gauge not known, eleven pounds at 1,500 ft", with(beans, func(r *process.Record) { r.Gauge, r.Altitude = 0, process.Exactly(1500) }), process.Met | process.Short, process.DatumGauge, 0, 40},
		{"altitude not known", with(beans, func(r *process.Record) { r.Altitude = process.Range{} }), process.Met | process.Short | process.NoProcess, process.DatumAltitude, 0, 0},
		{"altitude not known, but enough up to 8,000 ft", with(beans, func(r *process.Record) { r.Altitude, r.Pressure = process.Between(8000, 0), process.Exactly(140) }), process.Met, none, 0, 0},
		{"jar not known, pint time", with(beans, func(r *process.Record) { r.Jar, r.Minutes = process.Pint|process.Quart, process.Exactly(20) }), process.Met | process.Short, process.DatumJar, 5, 0},
		{"pack does not matter to beans", with(beans, func(r *process.Record) { r.Pack = 0 }), process.Met, none, 0, 0},
		{"low-acid food in boiling water, for hours", with(beans, func(r *process.Record) { r.Method, r.Minutes = process.BoilingWater, process.Exactly(240) }), process.NoProcess, none, 0, 0},
		{"row read in a copy", crushed, process.Met, none, 0, 0},
		{"row read in a copy, a minute short", with(crushed, func(r *process.Record) { r.Minutes = process.Exactly(44) }), process.Short, none, 1, 0},
		{"remembered row", kraut, process.Agrees, none, 0, 0},
		{"remembered row, a minute short", with(kraut, func(r *process.Record) { r.Minutes = process.Exactly(24) }), process.Short, none, 1, 0},
		{"one line is enough", sauce, process.Met, none, 0, 0},
		{"time of one line with the pressure of another", with(sauce, func(r *process.Record) { r.Pressure = process.Exactly(50) }), process.Short, none, 5, 0},
		{"the line at fifteen pounds", with(sauce, func(r *process.Record) { r.Minutes, r.Pressure = process.Exactly(10), process.Exactly(150) }), process.Met, none, 0, 0},
		{"the line at fifteen pounds ends at 1,000 ft", with(sauce, func(r *process.Record) {
			r.Minutes, r.Pressure, r.Altitude = process.Exactly(10), process.Exactly(150), process.Exactly(1001)
		}), process.Short, none, 5, 0},
		{"the Guide's last band holds to 8,000 ft", apples, process.Met, none, 0, 0},
		{"above 8,000 ft the stricter column stands", with(apples, func(r *process.Record) { r.Altitude = process.Exactly(8001) }), process.Short, none, 5, 0},
		{"steam canner within 45 minutes", with(crushed, func(r *process.Record) { r.Method = process.SteamCanner }), process.Met, none, 0, 0},
		{"steam canner over 45 minutes", with(crushed, func(r *process.Record) {
			r.Method, r.Minutes, r.Altitude = process.SteamCanner, process.Exactly(90), process.Exactly(1001)
		}), process.NoProcess, none, 0, 0},
		{"form not known and it matters", record(process.Query{Product: "chicken-or-rabbit", Pack: process.Raw, Jar: process.Quart,
			Method: process.Pressure, Gauge: process.Dial}, 75, 110), process.Met | process.Short, process.DatumForm, 15, 0},
		{"a product that is not printed", process.Record{Product: "pesto"}, process.NoProcess, none, 0, 0},
		{"a form that is not printed", process.Record{Product: "carrots", Form: "grated"}, process.NoProcess, none, 0, 0},
		{"nothing known", process.Record{}, process.Met | process.Agrees | process.Short | process.NoProcess, process.DatumProduct, 0, 0},
		{"swapped ends of a range", with(beans, func(r *process.Record) { r.Minutes = process.Range{Low: 30, High: 20, Known: true} }), process.Met | process.Short, process.DatumMinutes, 5, 0},
		{"a value that names nothing", with(beans, func(r *process.Record) { r.Vented = 1 << 7 }), process.Met | process.Short, process.DatumVented, 0, 0},
	} {
		j := process.Was(c.record)
		if j.Possible != c.want || j.Missing != c.missing || j.MinutesShort != c.minutes || j.PressureShort != c.tenths {
			t.Errorf("%s: got %v, missing %v, short %d min %d tenths; want %v, %v, %d, %d", c.name,
				j.Possible, j.Missing.Words(), j.MinutesShort, j.PressureShort, c.want, c.missing.Words(), c.minutes, c.tenths)
		}
		if why := j.Why(); len(why) == 0 || !strings.EqualFold(why[0].String(), c.want.String()+".") {
			t.Errorf("%s: got the explanation %q", c.name, why)
		}
	}
}

// oracle judges an exact record straight from the rows, as a person would.
func oracle(f process.Food, r process.Record) process.Status {
	at, s := process.Feet(r.Altitude.Low), process.NoProcess
	own := published(f, process.Query{Pack: r.Pack, Jar: r.Jar, Method: r.Method, Gauge: r.Gauge})
	for i := range f.Rows {
		row := &f.Rows[i]
		if row.Pack&r.Pack == 0 || row.Jar&own == 0 {
			continue
		}
		minutes, psi, remembered := int(row.Minutes[0]), 0, row.Cite.Evidence == evidence.Memory
		switch {
		case r.Method == process.OtherMethod || (r.Method == process.Pressure) != (row.Method() == process.Pressure):
			continue
		case r.Method == process.Pressure:
			if psi = row.PSI(r.Gauge, at); psi == 0 {
				continue
			}
		case r.Method == process.Pasteurized:
			if !slices.Contains(lowHeat, f.ID) {
				continue
			}
			minutes, remembered = 30, false
		default:
			if minutes = row.BoilingMinutes(at); r.Method == process.SteamCanner && minutes > 45 {
				continue
			}
		}
		true10 := r.Pressure.Low
		if r.Gauge == process.Dial {
			true10 -= max(r.ReadsHigh.Low, 0)
		}
		enough := r.Minutes.Low >= minutes && (psi == 0 || true10 >= psi*10 && r.Vented == process.Vented &&
			(r.Gauge == process.Weighted || r.ReadsHigh.Low <= 20))
		switch {
		case !enough:
			s = min(s, process.Short)
		case remembered:
			s = min(s, process.Agrees)
		default:
			s = min(s, process.Met)
		}
	}
	return s
}

var altitudes = []process.Feet{0, 1000, 1001, 2000, 2001, 3000, 3001, 4000, 4001, 6000, 6001, 8000, 8001, 10001}

// TestEveryExactRecord judges every food, pack, jar and heating on both sides
// of every edge, at every whole minute and pound that could matter: the answer
// is the one read straight off the rows, and a minute less, a pound less or
// the next altitude up never makes it milder.
func TestEveryExactRecord(t *testing.T) {
	const minutes, pounds = 165, 17
	count := 0
	eachQuery(0, func(f process.Food, q process.Query) {
		longest := 0
		for _, r := range f.Rows {
			if r.Method() == q.Method && r.Pack&q.Pack != 0 && r.Jar&published(f, q) != 0 {
				longest = max(longest, int(r.Minutes[3]), int(r.High))
			}
			if q.Method == process.Pasteurized && slices.Contains(lowHeat, f.ID) {
				longest = 30
			}
		}
		pounds := pounds
		if q.Method != process.Pressure {
			pounds = 1
		}
		longest = min(longest, minutes) + 2
		below := make([]process.Status, longest*pounds) // the answers at the altitude before
		for _, q.Altitude = range altitudes {
			here := make([]process.Status, longest*pounds)
			for m := range longest {
				for p := range pounds {
					r := record(q, m, p*10)
					got := process.Was(r).Possible
					here[m*pounds+p] = got
					count++
					if want := oracle(f, r); got != want {
						t.Fatalf("%+v: %v, want %v", r, got, want)
					}
					if m > 0 && here[(m-1)*pounds+p] < got {
						t.Fatalf("%+v: got a milder answer with a minute less", r)
					}
					if p > 0 && here[m*pounds+p-1] < got {
						t.Fatalf("%+v: got a milder answer with a pound less", r)
					}
					if below[m*pounds+p] > got {
						t.Fatalf("%+v: got a milder answer than at the altitude below", r)
					}
				}
			}
			below = here
		}
	})
	if count < 1_000_000 {
		t.Errorf("got only %d records", count)
	}
}

// TestGaugeErrorNeverHelps tries every reading and every error of a dial, in
// tenths of a pound.
func TestGaugeErrorNeverHelps(t *testing.T) {
	for _, id := range []string{"beans-snap-and-italian", "tomatoes-crushed", "tomato-sauce", "berries"} {
		for _, f := range process.Foods {
			if f.ID != id {
				continue
			}
			for _, minutes := range []int{10, 15, 20, 25} {
				r := record(process.Query{Product: id, Form: f.Form.String(), Pack: process.Hot, Jar: process.Pint,
					Method: process.Pressure, Gauge: process.Dial, Altitude: 2001}, minutes, 0)
				for reading := range 180 {
					milder := process.Status(0)
					for off := -30; off <= 40; off++ {
						r.Pressure, r.ReadsHigh = process.Exactly(reading), process.Exactly(off)
						got := process.Was(r).Possible
						if want := oracle(f, r); got != want {
							t.Fatalf("%+v: %v, want %v", r, got, want)
						}
						if got < milder {
							t.Fatalf("%+v: got a milder answer than with a dial that reads lower", r)
						}
						milder = got
					}
				}
			}
		}
	}
}

// TestMemoryNeverEstablishes: where only remembered rows are left, no record
// is as published, however long and hot.
func TestMemoryNeverEstablishes(t *testing.T) {
	remembered := 0
	for _, at := range altitudes {
		eachQuery(at, func(f process.Food, q process.Query) {
			lines, err := process.Lines(q)
			if err != nil {
				return
			}
			seen := false
			for _, l := range lines {
				seen = seen || l.Cite().Evidence.Found()
			}
			got := process.Was(record(q, 1000, 300)).Possible
			want := process.Met
			if !seen {
				want = process.Agrees
				remembered++
			}
			if got != want {
				t.Errorf("%+v: %v, want %v", q, got, want)
			}
		})
	}
	if remembered == 0 {
		t.Error("got no rows from memory")
	}
}

// forget leaves the fields of a set unsaid.
func forget(r process.Record, d process.Datum) process.Record {
	for bit, clear := range map[process.Datum]func(){
		process.DatumProduct: func() { r.Product = "" }, process.DatumForm: func() { r.Form = "" },
		process.DatumPack: func() { r.Pack = 0 }, process.DatumJar: func() { r.Jar = 0 },
		process.DatumMethod: func() { r.Method = 0 }, process.DatumGauge: func() { r.Gauge = 0 },
		process.DatumVented: func() { r.Vented = 0 }, process.DatumMinutes: func() { r.Minutes = process.Range{} },
		process.DatumPressure: func() { r.Pressure = process.Range{} }, process.DatumReadsHigh: func() { r.ReadsHigh = process.Range{} },
		process.DatumAltitude: func() { r.Altitude = process.Range{} },
	} {
		if d&bit != 0 {
			clear()
		}
	}
	return r
}

// TestForgettingOnlyWidens forgets every set of fields of several records, one
// field after another: the set of answers never loses one. Where the answer is
// open, what is missing is among what was forgotten.
func TestForgettingOnlyWidens(t *testing.T) {
	const all = process.DatumAltitude<<1 - 1
	records := []process.Record{
		beans,
		record(process.Query{Product: "tomatoes-whole-or-halved", Form: "packed in water", Pack: process.Hot, Jar: process.Pint,
			Method: process.Pressure, Gauge: process.Weighted, Altitude: 900}, 10, 100),
		record(process.Query{Product: "tomato-sauce", Pack: process.Hot, Jar: process.Quart, Method: process.Pressure, Gauge: process.Dial, Altitude: 4001}, 15, 130),
		record(process.Query{Product: "berries", Pack: process.Raw, Jar: process.Quart, Method: process.BoilingWater, Altitude: 3000}, 25, 0),
		record(process.Query{Product: "figs", Pack: process.Hot, Jar: process.Pint, Method: process.SteamCanner, Altitude: 500}, 45, 0),
		record(process.Query{Product: "smoked-fish", Pack: process.Raw, Jar: process.Quart, Method: process.Pressure, Gauge: process.Dial, Altitude: 8500}, 120, 150),
	}
	for _, r := range records {
		var got [all + 1]process.Status
		for d := process.Datum(0); d <= all; d++ {
			j := process.Was(forget(r, d))
			got[d] = j.Possible
			for rest := d; rest != 0; rest &= rest - 1 {
				if less := got[d&^(rest&-rest)]; less&^j.Possible != 0 {
					t.Fatalf("%+v: without %v the answer %v is lost", r, (rest & -rest).Words(), less&^j.Possible)
				}
			}
			open := d
			if len(process.Forms(r.Product)) > 1 && r.Form == "" {
				open |= process.DatumForm
			}
			if r.Gauge == 0 {
				open |= process.DatumGauge
			}
			if j.Missing&^open != 0 || (j.Missing == 0) != j.Possible.Settled() {
				t.Fatalf("%+v without %v: got %v, missing %v", r, d.Words(), j.Possible, j.Missing.Words())
			}
		}
	}
}

// TestUnknownIsTheUnion compares a record that leaves one number open, or
// bounded, with every number it could be.
func TestUnknownIsTheUnion(t *testing.T) {
	bases := []process.Record{beans, forget(beans, process.DatumGauge),
		record(process.Query{Product: "tomato-sauce", Pack: process.Hot, Jar: process.Pint, Method: process.Pressure, Gauge: process.Weighted, Altitude: 1500}, 15, 100),
		record(process.Query{Product: "tomato-sauce", Pack: process.Hot, Jar: process.Pint, Method: process.Pressure, Gauge: process.Dial, Altitude: 1500}, 17, 115),
		forget(record(process.Query{Product: "apricots", Pack: process.Hot, Jar: process.Pint, Method: process.BoilingWater, Altitude: 1500}, 35, 0), process.DatumPack),
	}
	for _, base := range bases {
		for name, set := range map[string]func(*process.Record, process.Range){
			"minutes":   func(r *process.Record, v process.Range) { r.Minutes = v },
			"pressure":  func(r *process.Record, v process.Range) { r.Pressure = v },
			"error":     func(r *process.Record, v process.Range) { r.ReadsHigh = v },
			"altitude":  func(r *process.Record, v process.Range) { v.Low, v.High = v.Low*50+1, v.High*50+1; r.Altitude = v },
			"altitude2": func(r *process.Record, v process.Range) { v.Low, v.High = v.Low+1900, v.High+1900; r.Altitude = v },
		} {
			const low, high = -5, 190
			for a := low; a <= high; a += 7 {
				var union process.Status
				for b := a; b <= high; b++ {
					r := base
					set(&r, process.Exactly(b))
					union |= process.Was(r).Possible
					set(&r, process.Between(a, b))
					got := process.Was(r).Possible
					if union&^got != 0 {
						t.Fatalf("%+v: %s from %d to %d: got %v, but %v is possible", base, name, a, b, got, union)
					}
					if name != "altitude" && got != union { // the coarse altitudes step over feet
						t.Fatalf("%+v: %s from %d to %d: got %v, but only %v is possible", base, name, a, b, got, union)
					}
				}
			}
		}
	}
}

// TestAltitudeRangeIsTheUnion bounds the altitude between every two sides of
// the edges, for every food, pack, jar and heating, at the minutes and
// pressures its rows ask for.
func TestAltitudeRangeIsTheUnion(t *testing.T) {
	checks := 0
	eachQuery(0, func(f process.Food, q process.Query) {
		for _, row := range f.Rows {
			if row.Pack&q.Pack == 0 || row.Jar&published(f, q) == 0 || row.Method() == process.BoilingWater && q.Gauge != 0 {
				continue
			}
			for i, minutes := range append(row.Minutes[:], row.High) {
				tenths := int(append(row.Dial[:], row.Weighted[:]...)[i]) * 10
				for low := range altitudes {
					var union process.Status
					for high := low; high < len(altitudes); high++ {
						q.Altitude = altitudes[high]
						r := record(q, int(minutes), tenths)
						union |= process.Was(r).Possible
						r.Altitude = process.Between(int(altitudes[low]), int(altitudes[high]))
						if checks++; process.Was(r).Possible != union {
							t.Fatalf("%+v: %v, want %v", r, process.Was(r).Possible, union)
						}
					}
				}
			}
		}
	})
	if checks == 0 {
		t.Error("got no checks")
	}
}

// TestMissingNumbers compares what is said to be missing with a search through
// every value of the number.
func TestMissingNumbers(t *testing.T) {
	const juice = "tomato-juice"
	for _, base := range []process.Record{
		beans, forget(beans, process.DatumGauge), forget(beans, process.DatumJar|process.DatumVented), forget(beans, process.DatumMethod|process.DatumPack),
		record(process.Query{Product: juice, Pack: process.Hot, Jar: process.Pint, Method: process.Pressure, Gauge: process.Dial, Altitude: 1500}, 15, 110),
		forget(record(process.Query{Product: juice, Pack: process.Hot, Jar: process.Pint, Method: process.Pressure, Altitude: 1500}, 15, 110), process.DatumMethod),
	} {
		for _, c := range []struct {
			datum process.Datum
			set   func(*process.Record, process.Range)
			step  int
		}{
			{process.DatumMinutes, func(r *process.Record, v process.Range) { r.Minutes = v }, 1},
			{process.DatumPressure, func(r *process.Record, v process.Range) { r.Pressure = v }, 1},
			{process.DatumReadsHigh, func(r *process.Record, v process.Range) { r.ReadsHigh = v }, 1},
			{process.DatumAltitude, func(r *process.Record, v process.Range) { r.Altitude = v }, 47},
		} {
			for _, others := range []process.Datum{0, process.DatumMinutes, process.DatumPressure, process.DatumReadsHigh, process.DatumAltitude} {
				r := forget(base, others|c.datum)
				all := process.Was(r)
				narrows := false
				for v := -10; v < 200 && !narrows; v++ {
					exact := r
					c.set(&exact, process.Exactly(v*c.step))
					narrows = process.Was(exact).Possible != all.Possible
				}
				if !all.Possible.Settled() && narrows != (all.Missing&c.datum != 0) {
					t.Errorf("%+v: some %v narrows %v: want %v, got missing %v", r, c.datum.Words(), all.Possible, narrows, all.Missing.Words())
				}
			}
		}
	}
}

// TestMissingWouldSettle answers each missing field in turn.
func TestMissingWouldSettle(t *testing.T) {
	r := forget(beans, process.DatumVented|process.DatumAltitude|process.DatumPack)
	j := process.Was(r)
	if want := process.DatumVented | process.DatumAltitude; j.Missing != want {
		t.Fatalf("got missing %v, want %v", j.Missing.Words(), want.Words())
	}
	r.Vented = process.Vented
	if j = process.Was(r); j.Missing != process.DatumAltitude {
		t.Fatalf("with venting known: got missing %v, want the altitude", j.Missing.Words())
	}
	r.Altitude = process.Exactly(700)
	if j = process.Was(r); j.Missing != 0 || j.Possible != process.Met {
		t.Fatalf("with the altitude known: got %v, missing %v, want it settled", j.Possible, j.Missing.Words())
	}
}

func TestHeatExplains(t *testing.T) {
	r := beans
	r.Vented = process.Unvented
	j := process.Was(r)
	h, err := j.Heat()
	if err != nil || h.Held >= h.Published || h.Share() <= 0 || h.Share() >= 0.5 {
		t.Errorf("not vented: got %+v, %v", h, err)
	}
	r = beans
	r.ReadsHigh = process.Exactly(10)
	j = process.Was(r)
	// One psi low at 11 psi and sea level leaves 0.755 of the lethal rate.
	if h, err = j.Heat(); err != nil || h.Share() < 0.745 || h.Share() > 0.765 {
		t.Errorf("one pound high: got the share %g, %v", h.Share(), err)
	}
	for _, d := range []process.Datum{process.DatumMinutes, process.DatumPressure, process.DatumAltitude, process.DatumReadsHigh} {
		j = process.Was(forget(beans, d))
		if _, err := j.Heat(); err == nil {
			t.Errorf("got the heat without %v, want an error", d.Words())
		}
	}
	j = process.Was(process.Record{Product: "pesto"})
	if _, err := j.Heat(); err == nil {
		t.Error("got the heat without a published line, want an error")
	}
}

// TestWhy holds the sentences that must not go missing.
func TestWhy(t *testing.T) {
	tomatoes := record(process.Query{Product: "tomatoes-whole-or-halved", Form: "packed in water", Pack: process.Hot, Jar: process.Pint,
		Method: process.Pressure, Gauge: process.Dial, Altitude: 2500}, 14, 60)
	unvented, broken := beans, beans
	unvented.Vented = process.Unvented
	broken.ReadsHigh = process.Exactly(25)
	sweet := record(process.Query{Product: "quick-sweet-pickles", Pack: process.Hot, Jar: process.Pint, Method: process.BoilingWater}, 5, 0)
	crushed := record(process.Query{Product: "tomatoes-crushed", Pack: process.Hot, Jar: process.Pint, Method: process.Pressure, Gauge: process.Dial}, 20, 110)
	steamed := record(process.Query{Product: "rhubarb", Pack: process.Hot, Jar: process.Pint, Method: process.SteamCanner}, 15, 0)
	for _, c := range []struct {
		record process.Record
		want   []string
	}{
		{tomatoes, []string{"Short of", "15 minutes at 7 pounds by a dial gauge", "Note: ", "misprints 20 minutes", "Too short by 1 min", "Too little pressure by 1.0 pounds", "Acid: per quart: 2 tbsp", "of the published heat"}},
		{unvented, []string{"not vented"}},
		{broken, []string{"must be replaced"}},
		{steamed, []string{"for a steam canner National Center", "Willmore", "vented to pure steam"}},
		{sweet, []string{"Agrees with", "from memory", "boiled before filling"}},
		{crushed, []string{"As published", "20 minutes at 6 pounds", "1994 text"}}, // the line that was read, not the one remembered
		{process.Record{Product: "chile-con-carne", Jar: process.Quart, Method: process.Pressure}, []string{"quart jars of chile con carne"}},
		{forget(beans, process.DatumJar|process.DatumAltitude|process.DatumGauge), []string{"It would help to know: the size of the jar or the altitude."}},
	} {
		j := process.Was(c.record)
		why := prose.List(j.Why(), " ").String()
		for _, want := range c.want {
			if !strings.Contains(why, want) {
				t.Errorf("%q lacks %q", why, want)
			}
		}
	}
	j := process.Was(beans)
	if why := prose.List(j.Why(), " ").String(); strings.Contains(why, "Too ") || strings.Contains(why, "help to know") || strings.Contains(why, "Acid") || strings.Contains(why, "published heat") {
		t.Errorf("beans as published: %q", why)
	}
}

// TestSterileJars: jars must be boiled first for less than 10 minutes in
// boiling water, and only there.
func TestSterileJars(t *testing.T) {
	for _, at := range altitudes {
		eachQuery(at, func(_ process.Food, q process.Query) {
			lines, _ := process.Lines(q)
			for _, l := range lines {
				if want := q.Method != process.Pressure && l.Minutes <= 9; l.SterileJars() != want {
					t.Errorf("%+v: got %t, want %t", q, !want, want)
				}
			}
		})
	}
	ten := process.Line{Minutes: 10}
	nine := process.Line{Minutes: 9}
	if ten.SterileJars() || !nine.SterileJars() {
		t.Error("want sterile jars for 9 minutes and not for 10")
	}
}

func TestStatusWords(t *testing.T) {
	for s := process.Met; s <= process.NoProcess; s <<= 1 {
		if !s.Settled() || s.Strictest() != s || s.String() == "" {
			t.Errorf("got %v, %v, %q, want one settled answer with words", s.Settled(), s.Strictest(), s.String())
		}
	}
	both := process.Met | process.Short
	if both.Settled() || both.Strictest() != process.Short || !strings.HasPrefix(both.String(), "cannot tell") {
		t.Errorf("got %v, want that it cannot be told, and at the strictest too short", both)
	}
	all := process.DatumAltitude<<1 - 1
	if len(all.Words()) != bits.OnesCount16(uint16(all)) {
		t.Errorf("got %v, want words for each figure", all.Words())
	}
}

func BenchmarkWas(b *testing.B) {
	for name, r := range map[string]process.Record{
		"known": beans, "untested dial": forget(beans, process.DatumReadsHigh), "product only": {Product: "tomato-sauce"},
	} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				process.Was(r)
			}
		})
	}
}
