package app

import (
	"encoding/json"
	"sort"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Reference is work of a fixed size, done in the program of the pages: rows of
// JSON are decoded, and rows are looped over. A slow or busy computer takes longer
// for it too, so `make bench` relates the time of a page to it. Each is run
// several times, and the median of the milliseconds is returned.
func Reference() {
	text := referenceText()
	var rows []referenceRow
	decode := median(func() {
		rows = nil
		if err := json.Unmarshal(text, &rows); err != nil {
			panic(err) // the text is ours
		}
	})
	found := 0
	pass := median(func() {
		for range 200 {
			found += passOver(rows)
		}
	})
	app.Window().Set("larderReference", map[string]any{"decode": decode, "pass": pass, "found": found})
}

type (
	referenceRow struct {
		ID     string
		Number int
		Place  string
		Seen   []referenceLook
	}
	referenceLook struct {
		At    time.Time
		Sound bool
	}
)

func referenceText() []byte {
	looked := time.Date(2026, 1, 2, 10, 0, 0, 0, time.UTC)
	rows := make([]referenceRow, 1000)
	for i := range rows {
		rows[i] = referenceRow{strconv.Itoa(1e6 + i), i, strconv.Itoa(i % 7), []referenceLook{{looked, true}, {looked.AddDate(0, 3, 1), i%5 > 0}}}
	}
	text, err := json.Marshal(rows)
	if err != nil {
		panic(err) // the rows are ours
	}
	return text
}

func passOver(rows []referenceRow) (found int) {
	after := time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)
	places := map[string]int{}
	for i := range rows {
		for _, s := range rows[i].Seen {
			if s.Sound && s.At.After(after) {
				found++
				places[rows[i].Place]++
			}
		}
	}
	return found + len(places)
}

func median(do func()) float64 {
	var took []float64
	for range 9 {
		from := time.Now()
		do()
		took = append(took, float64(time.Since(from).Microseconds())/1000)
	}
	sort.Float64s(took)
	return took[len(took)/2]
}
