package process_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// ounces is what a jar holds at most, in US fluid ounces.
var ounces = map[process.Size]int{process.FourOunce: 4, process.HalfPint: 8, process.TwelveOunce: 12, process.Pint: 16,
	process.TwentyFourOunce: 28, process.Quart: 32, process.HalfGallon: 64}

// No jar is ever judged at the time of a smaller one: every line of every
// look-up is published for a jar that holds as much, or more.
func TestNoJarTakesTheTimeOfASmallerOne(t *testing.T) {
	borrowed := 0
	for _, at := range altitudes {
		eachQuery(at, func(f process.Food, q process.Query) {
			lines, err := process.Lines(q)
			if err != nil {
				return
			}
			if q.Jar == process.OtherJar {
				t.Errorf("%+v: got a process for a jar of unknown size", q)
			}
			for _, l := range lines {
				size := q.Jar
				if l.Larger != 0 {
					borrowed++
					if size = l.Larger; ounces[size] <= ounces[q.Jar] {
						t.Errorf("%+v: got the time of a jar of %d ounces, want a larger one", q, ounces[size])
					}
					if !strings.Contains(l.Cite().Source, "Choose the right jar") {
						t.Errorf("%+v: got a time of another size without a source for that: %s", q, l.Cite())
					}
				}
				if l.Row.Jar&size == 0 {
					t.Errorf("%+v: no row of its size %b", q, size)
				}
			}
		})
	}
	if borrowed == 0 {
		t.Error("no jar of a size in between was looked up")
	}
}

// What is enough for a jar is enough for every smaller jar, and what is short
// for a jar is short for every larger one: judged at every minute and pound that
// a row asks for, and at one less.
func TestALargerJarNeverNeedsLess(t *testing.T) {
	short := process.Short | process.NoProcess
	checks := 0
	for _, at := range []process.Feet{0, 1001, 3001, 6001, 8001} {
		eachQuery(at, func(f process.Food, q process.Query) {
			i := slices.Index(jars, q.Jar)
			if i == 0 || q.Jar == process.OtherJar {
				return
			}
			for _, row := range f.Rows {
				for _, minutes := range append(row.Minutes[:], row.High, 30) {
					for _, less := range []int{0, 1} {
						for _, psi := range append(append([]uint8{0}, row.Dial[:]...), row.Weighted[:]...) {
							r := record(q, int(minutes)-less, int(psi)*10)
							larger := process.Was(r).Possible
							r.Jar = jars[i-1]
							smaller := process.Was(r).Possible
							if checks++; smaller&short != 0 && larger&short == 0 {
								t.Fatalf("%+v: got %v, yet the next larger jar is %v", r, smaller, larger)
							}
						}
					}
				}
			}
		})
	}
	if checks == 0 {
		t.Error("got no checks")
	}
}

// The sizes in between as the sources name them, on both sides of the time.
func TestSizesInBetween(t *testing.T) {
	for _, c := range []struct {
		name    string
		query   process.Query
		minutes int // what the size that counts asks for
		tenths  int
		enough  process.Status
	}{
		{"a 4-ounce jar of jam takes the half-pint time", process.Query{Product: "jam-without-added-pectin", Pack: process.Hot, Jar: process.FourOunce, Method: process.BoilingWater}, 5, 0, process.Met},
		{"a 12-ounce jar of pickle relish takes the pint time", process.Query{Product: "pickle-relish", Pack: process.Hot, Jar: process.TwelveOunce, Method: process.BoilingWater}, 10, 0, process.Met},
		{"a 24-ounce jar of peaches takes the quart time", process.Query{Product: "peaches", Pack: process.Hot, Jar: process.TwentyFourOunce, Method: process.BoilingWater}, 25, 0, process.Met},
		{"a half-pint of fish takes the pint time", process.Query{Product: "fish-not-tuna", Pack: process.Raw, Jar: process.HalfPint, Method: process.Pressure, Gauge: process.Dial}, 100, 110, process.Met},
		{"a 12-ounce jar of fish takes the pint time", process.Query{Product: "fish-not-tuna", Pack: process.Raw, Jar: process.TwelveOunce, Method: process.Pressure, Gauge: process.Dial}, 100, 110, process.Met},
		{"a half-pint of smoked fish takes the pint time", process.Query{Product: "smoked-fish", Pack: process.Raw, Jar: process.HalfPint, Method: process.Pressure, Gauge: process.Weighted}, 110, 100, process.Met},
		{"a half-pint of green beans takes the pint time", process.Query{Product: "beans-snap-and-italian", Pack: process.Hot, Jar: process.HalfPint, Method: process.Pressure, Gauge: process.Dial}, 20, 110, process.Met},
		{"a 12-ounce jar of clams takes the pint time, not the half-pint's", process.Query{Product: "clams", Pack: process.Hot, Jar: process.TwelveOunce, Method: process.Pressure, Gauge: process.Dial}, 70, 110, process.Met},
		{"a pint of mincemeat takes the quart time, the only one published", process.Query{Product: "mincemeat-pie-filling", Pack: process.Hot, Jar: process.Pint, Method: process.Pressure, Gauge: process.Dial}, 90, 110, process.Met},
		{"a 24-ounce jar of sauerkraut takes a time from memory", process.Query{Product: "sauerkraut", Pack: process.Raw, Jar: process.TwentyFourOunce, Method: process.BoilingWater}, 25, 0, process.Agrees},
		{"a half-gallon of apple juice", process.Query{Product: "apple-juice", Pack: process.Hot, Jar: process.HalfGallon, Method: process.BoilingWater}, 10, 0, process.Met},
	} {
		if got := process.Was(record(c.query, c.minutes, c.tenths)).Possible; got != c.enough {
			t.Errorf("%s: got %v at %d minutes, want %v", c.name, got, c.minutes, c.enough)
		}
		if got := process.Was(record(c.query, c.minutes-1, c.tenths)).Possible; got != process.Short {
			t.Errorf("%s: got %v at %d minutes, want short", c.name, got, c.minutes-1)
		}
	}
	j := process.Was(record(process.Query{Product: "clams", Pack: process.Hot, Jar: process.TwelveOunce, Method: process.Pressure, Gauge: process.Dial}, 60, 110))
	if why := prose.List(j.Why(), " ").String(); j.Possible != process.Short || !strings.Contains(why, "No time is published for 12-ounce jars; the time for pint jars is enough for a smaller jar.") {
		t.Errorf("12-ounce clams for the half-pint's 60 minutes: got %v, %s", j.Possible, why)
	}
}

// The 45 minutes of a steam canner include what is added for altitude.
func TestSteamCannerEndsAtFortyFiveMinutes(t *testing.T) {
	pears := process.Query{Product: "pears", Pack: process.Hot, Jar: process.Quart, Method: process.SteamCanner, Altitude: 8000}
	if got := process.Was(record(pears, 40, 0)).Possible; got != process.Met {
		t.Errorf("quarts of pears, 40 minutes at 8,000 ft: %v", got)
	}
	pears.Altitude = 8001 // 45 minutes
	if got := process.Was(record(pears, 45, 0)).Possible; got != process.Met {
		t.Errorf("quarts of pears, 45 minutes at 8,001 ft: %v", got)
	}
	peaches := process.Query{Product: "peaches", Pack: process.Raw, Jar: process.Quart, Method: process.SteamCanner, Altitude: 8000}
	if got := process.Was(record(peaches, 45, 0)).Possible; got != process.Met {
		t.Errorf("raw quarts of peaches, 45 minutes at 8,000 ft: %v", got)
	}
	peaches.Altitude = 8001 // 50 minutes
	if got := process.Was(record(peaches, 60, 0)).Possible; got != process.NoProcess {
		t.Errorf("raw quarts of peaches, 60 minutes of steam at 8,001 ft: %v", got)
	}
}

// Low-temperature pasteurizing holds for half an hour, for the recipes that name
// it, at every altitude, and for nothing else.
func TestPasteurizingIsForTheRecipesThatNameIt(t *testing.T) {
	for _, at := range altitudes {
		eachQuery(at, func(f process.Food, q process.Query) {
			if q.Method != process.Pasteurized {
				return
			}
			for minutes, want := range map[int]process.Status{29: process.Short, 30: process.Met} {
				if published(f, q) == 0 {
					want = process.NoProcess
				}
				if got := process.Was(record(q, minutes, 0)).Possible; got != want {
					t.Errorf("%+v for %d minutes: got %v, want %v", q, minutes, got, want)
				}
			}
		})
	}
	dill := record(process.Query{Product: "quick-fresh-pack-dill-pickles", Pack: process.Raw, Jar: process.Quart, Method: process.Pasteurized}, 29, 0)
	j := process.Was(dill)
	if why := prose.List(j.Why(), " ").String(); !strings.Contains(why, "30 minutes in water kept at 180 to 185 °F (82 to 85 °C) by a thermometer") || strings.Contains(why, "published heat") {
		t.Errorf("dill pickles for 29 minutes: got %s", why)
	}
}

// Smoked fish is the one food with a canner of its own.
func TestSmokedFishNeedsItsCanner(t *testing.T) {
	for i := range process.Foods {
		f := &process.Foods[i]
		if least, most := f.Canner(); (least == 16 && most == 22) != (f.ID == "smoked-fish") || (least == 0) != (most == 0) {
			t.Errorf("%s: got a canner of %d to %d quarts", f.ID, least, most)
		}
	}
	r := record(process.Query{Product: "smoked-fish", Pack: process.Raw, Jar: process.Pint, Method: process.Pressure, Gauge: process.Weighted}, 110, 100)
	j := process.Was(r)
	if why := prose.List(j.Why(), " ").String(); !strings.Contains(why, "Only in a canner that holds 16 to 22 quarts.") {
		t.Errorf("smoked fish: got %s", why)
	}
}
