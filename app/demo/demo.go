package demo

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
	"larderlamp/rules/prose"
)

// The made-up household of Tansy Quill and Joss Ferrow at Hollin Bank. Nothing
// in it belongs to a real person. Its dates are counted back from today, so
// that its age stays the same.

// demoPlaces are what | wet | light | winter low, high | summer low, high.
const demoPlaces = `
shelf | dry | dark | 80 110 | 150 180
shelf | damp | dark | 70 100 | 150 180
shelf | dry | dark | 180 210 | 210 250
shelf | dry | heater | 50 90 | 240 300
fridge | dry | dark | 20 40 | 20 40
box | dry | dark |  |
`

// placeNames are the names of the places, in the same order.
var placeNames = []prose.Text{"Cellar, left", "Cellar, right", "Kitchen cupboard", "Loft shelf", "Refrigerator", "Trailer box"}

// titles are the batches that the household has names of its own for, by the name in
// the table.
var titles = map[string]prose.Text{
	"lane":   "Elderberry jelly from the lane",
	"whole":  "Whole tomatoes, lemon forgotten",
	"green":  "Joss’s green salsa",
	"beans":  "A neighbor’s beans",
	"barley": "Soup, with extra barley",
}

// demoBatches are product | months ago | jars | size | recipe | method | minutes |
// tenths of a psi | acid | pack | table | place | lid lot | eaten | name. "-"
// means not known.
const demoBatches = `
peaches | 3 | 12 | quart | published | boiling-water | 30 | - | - | raw | - | 0 | H-4471 | 1 |
peaches | 15 | 14 | quart | published | boiling-water | 30 | - | - | raw | - | 0 | H-3310 | 10 |
pears | 2 | 10 | quart | published | boiling-water | 25 | - | - | hot | - | 0 | H-4471 | 0 |
applesauce | 1 | 14 | pint | published | boiling-water | 15 | - | - | hot | - | 0 | H-4502 | 2 |
applesauce | 13 | 12 | pint | published | boiling-water | 15 | - | - | hot | - | 0 | H-3310 | 9 |
cherries-sour | 17 | 8 | pint | published | boiling-water | 15 | - | - | hot | - | 2 | H-3310 | 5 |
strawberry-jam | 5 | 16 | half-pint | published | boiling-water | 10 | - | - | hot | - | 2 | J-1180 | 4 |
strawberry-jam | 17 | 16 | half-pint | published | boiling-water | 10 | - | - | hot | - | 2 | J-0977 | 13 |
blackberry-jam | 3 | 12 | half-pint | published | boiling-water | 10 | - | - | hot | - | 2 | J-1180 | 2 |
elderberry-jelly | 14 | 6 | half-pint | unshown | hot-fill | - | - | - | - | - | 3 | J-0977 | 0 | lane
dandelion-jelly | 7 | 5 | half-pint | unshown | boiling-water | 10 | - | - | - | - | 3 | J-1180 | 1 |
dill-pickles | 4 | 9 | quart | published | boiling-water | 15 | - | full | raw | - | 1 | H-4471 | 2 |
bread-and-butter-pickles | 16 | 8 | pint | published | boiling-water | 10 | - | full | hot | - | 1 | H-3310 | 4 |
pickled-beets | 3 | 7 | pint | published | boiling-water | 30 | - | full | hot | - | 1 | H-4471 | 1 |
sauerkraut | 10 | 6 | quart | published | boiling-water | 20 | - | - | hot | - | 1 | H-4120 | 2 |
tomatoes-crushed | 3 | 14 | quart | published | boiling-water | 45 | - | full | hot | - | 0 | H-4471 | 3 |
tomatoes-whole | 15 | 10 | pint | published | boiling-water | 40 | - | short | raw | - | 0 | H-3310 | 4 | whole
tomato-salsa | 3 | 9 | pint | published | boiling-water | 15 | - | full | hot | - | 2 | H-4471 | 3 |
own-salsa | 15 | 6 | pint | unshown | boiling-water | 15 | - | short | - | - | 2 | H-3310 | 1 | green
green-beans | 4 | 12 | pint | published | pressure-canner | 20 | 110 | - | raw | - | 0 | H-4471 | 3 |
green-beans | 27 | 4 | quart | unshown | boiling-water | 180 | - | - | raw | - | 1 | - | 0 | beans
corn-whole | 3 | 10 | pint | published | pressure-canner | 55 | 110 | - | hot | - | 0 | H-4471 | 1 |
potatoes | 2 | 8 | quart | published | pressure-canner | 40 | 110 | - | hot | - | 0 | H-4502 | 0 |
winter-squash | 1 | 6 | quart | published | pressure-canner | 90 | 110 | - | hot | - | 0 | H-4502 | 0 |
chicken-broth | 6 | 9 | quart | published | pressure-canner | 25 | 110 | - | hot | - | 1 | H-4120 | 2 |
beef | 8 | 8 | pint | published | pressure-canner | 75 | 110 | - | raw | - | 1 | H-4120 | 2 |
venison | 12 | 6 | pint | published | pressure-canner | 75 | 80 | - | raw | - | 1 | H-4120 | 1 |
chicken | 9 | 7 | quart | published | pressure-canner | 90 | 110 | - | raw | - | 1 | H-4120 | 1 |
vegetable-soup | 5 | 6 | quart | changed | pressure-canner | 75 | 110 | - | hot | - | 3 | H-4120 | 0 | barley
apple-butter | 12 | 8 | half-pint | published | boiling-water | 5 | - | - | hot | - | 3 | J-0977 | 3 |
`

// Records makes the records of the made-up household, with English names.
func Records(now time.Time) ([]record.Record, error) { return RecordsIn(nil, now) }

// RecordsIn makes them with the names in a language; nil is English.
func RecordsIn(l prose.Language, now time.Time) (records []record.Record, err error) {
	var places []*record.Place
	for i, f := range fields(demoPlaces) {
		place, err := record.NewPlace(placeNames[i].In(l), now)
		if err != nil {
			return nil, err
		}
		place.What, place.Wet, place.Light, place.Order = f[0], f[1], f[2], i
		if winter, summer := numbers(f[3]), numbers(f[4]); len(winter) == 2 {
			place.Air = &record.Air{How: record.Seasons, Low: winter[0], High: winter[1], Summer: [2]int{summer[0], summer[1]}, Swing: 20}
		}
		places = append(places, place)
		records = append(records, place)
	}
	noon := time.Date(now.Year(), now.Month(), now.Day(), 12, 0, 0, 0, now.Location())
	for n, f := range fields(demoBatches) {
		batch, jars, err := demoBatch(f, noon, places)
		if err != nil {
			return nil, fmt.Errorf("batch %d: %w", n+1, err)
		}
		if f[14] != "" {
			batch.Title = titles[f[14]].In(l)
		}
		for _, j := range jars {
			records = append(records, j)
		}
		records = append(records, batch)
		if err := demoTrouble(batch, jars, noon, places); err != nil {
			return nil, err
		}
	}
	for _, r := range records {
		if err := r.Validate(); err != nil {
			return nil, err
		}
	}
	return records, nil
}

// fields splits a table of the demo.
func fields(text string) (rows [][]string) {
	for line := range strings.SplitSeq(strings.TrimSpace(text), "\n") {
		cells := strings.Split(line, "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		rows = append(rows, cells)
	}
	return
}

func numbers(text string) (ns []int) {
	for w := range strings.FieldsSeq(text) {
		n, err := strconv.Atoi(w)
		if err == nil {
			ns = append(ns, n)
		}
	}
	return
}

func demoBatch(f []string, noon time.Time, places []*record.Place) (*record.Batch, []*record.Jar, error) {
	b, err := record.NewBatch(f[0], noon)
	if err != nil {
		return nil, nil, err
	}
	if _, ok := rules.ProductByID(f[0]); !ok {
		return nil, nil, fmt.Errorf("no product %q", f[0])
	}
	known := func(s string) string { return strings.TrimPrefix(s, "-") }
	number := func(s string) *int {
		if n := numbers(s); len(n) == 1 {
			return &n[0]
		}
		return nil
	}
	zero, feet := 0, 800
	months := *number(f[1])
	made := noon.AddDate(0, -months, -len(f[0])%9)
	b.Made, b.Count, b.Size, b.Standing, b.Method = record.DayOf(made), *number(f[2]), f[3], f[4], f[5]
	b.Minutes, b.TenthsPSI, b.Acid, b.Pack, b.Table, b.LidLot = number(f[6]), number(f[7]), known(f[8]), known(f[9]), known(f[10]), known(f[12])
	b.Condition, b.Extras, b.Closure, b.Feet = rules.ConditionMet.ID(), rules.ExtrasNone.ID(), rules.ClosureLid.ID(), &feet
	if b.Method == rules.MethodPressure.ID() {
		b.Gauge, b.Vented, b.ReadsHigh = process.Dial.ID(), process.Vented.ID(), &zero
	}
	if b.Standing == rules.StandingPublished.ID() && b.Table == "" {
		if all := processed.Tables(b.Food()); len(all) > 0 {
			b.Table = all[0]
		}
		b.FoundMet = true
	}
	var jars []*record.Jar
	for i := range b.Count {
		j, err := record.NewJar(b.ID, i+1, noon)
		if err != nil {
			return nil, nil, err
		}
		if err := happen(j, record.Stored, made, func(e *record.Event) { e.Place = places[*number(f[11])].ID }); err != nil {
			return nil, nil, err
		}
		// Jars were looked at a month and a half ago, and have been eaten one
		// after another.
		if months >= 2 && i%4 != 3 {
			if err := happen(j, record.Looked, noon.AddDate(0, 0, -45), func(e *record.Event) { e.Seen = soundSeen() }); err != nil {
				return nil, nil, err
			}
		}
		if eaten := *number(f[13]); i < eaten {
			if err := happen(j, record.Eaten, made.Add(noon.Sub(made)*time.Duration(i+1)/time.Duration(eaten+1)), nil); err != nil {
				return nil, nil, err
			}
		}
		jars = append(jars, j)
	}
	return b, jars, nil
}

func happen(j *record.Jar, what string, at time.Time, fill func(*record.Event)) error {
	e, err := j.Add(what, at)
	if err == nil && fill != nil {
		fill(e)
	}
	return err
}

// soundSeen is a look at which everything outside and through the glass was sound.
func soundSeen() (seen []record.Seen) {
	for id := range rules.SignID(rules.NumSigns) {
		if c := id.Info().Chapter; c == rules.ChapterOutside || c == rules.ChapterGlass || id == rules.SignFrozen {
			seen = append(seen, record.Seen{Sign: id.ID(), Values: []string{id.Info().Sound.ID()}})
		}
	}
	return
}

// with replaces what was seen for a sign.
func with(seen []record.Seen, v rules.Value) []record.Seen {
	for i := range seen {
		if seen[i].Sign == v.Sign().ID() {
			seen[i].Values = []string{v.ID()}
		}
	}
	return seen
}

// demoTrouble gives some jars the problems that the demo shows.
func demoTrouble(b *record.Batch, jars []*record.Jar, noon time.Time, places []*record.Place) error {
	last := jars[len(jars)-1]
	days := func(n int) time.Time { return noon.AddDate(0, 0, -n) }
	look := func(j *record.Jar, v rules.Value) error {
		return happen(j, record.Looked, days(6), func(e *record.Event) { e.Seen = with(soundSeen(), v) })
	}
	discard := func(j *record.Jar, why string, at time.Time) error {
		return happen(j, record.Discarded, at, func(e *record.Event) { e.Why = why })
	}
	switch b.Product {
	case "chicken":
		return look(last, rules.LidBulged)
	case "beef":
		return look(last, rules.PressGives)
	case "pears":
		return look(last, rules.ColorPink)
	case "chicken-broth":
		return look(last, rules.TopFat)
	case "potatoes":
		return look(last, rules.CloudSettled)
	case "sauerkraut":
		return look(last, rules.SeepStreak)
	case "corn-whole":
		return happen(last, record.Missing, days(40), nil)
	case "venison":
		return discard(last, record.ForSeal, days(30))
	case "vegetable-soup":
		return discard(last, record.ForSpoiled, days(20))
	case "tomato-salsa":
		return happen(last, record.Opened, days(3), func(e *record.Event) { e.Place = places[4].ID })
	case "strawberry-jam":
		if b.LidLot == "J-1180" {
			return happen(last, record.Opened, days(9), func(e *record.Event) { e.Place = places[4].ID })
		}
	case "green-beans":
		if b.TenthsPSI != nil {
			return happen(last, record.Opened, days(6), func(e *record.Event) { e.Place = places[4].ID })
		}
	case "dill-pickles":
		for _, j := range jars[5:] {
			if err := happen(j, record.Moved, days(50), func(e *record.Event) { e.Place = places[5].ID }); err != nil {
				return err
			}
		}
	}
	return nil
}
