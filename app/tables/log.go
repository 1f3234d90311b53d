package tables

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/sheet"
	"larderlamp/rules/prose"
)

// logLimits restrict a logger's file: ten years of a reading every five
// minutes.
var logLimits = sheet.Limits{Rows: 1100000, Columns: 40, Cell: 200}

// isoTimes are the date formats that can't be misread.
var isoTimes = []string{time.RFC3339, "2006-01-02T15:04:05", "2006-01-02T15:04", "2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02", "2006/01/02 15:04:05", "2006/01/02 15:04", "2006/01/02", "02.01.2006 15:04:05", "02.01.2006 15:04", "02.01.2006"}

// slashed are the ones that can: which comes first, the day or the month?
var slashed = [2][]string{
	{"2/1/2006 15:04:05", "2/1/2006 15:04", "2/1/2006", "2/1/2006 3:04:05 PM", "2/1/2006 3:04 PM"},
	{"1/2/2006 15:04:05", "1/2/2006 15:04", "1/2/2006", "1/2/2006 3:04:05 PM", "1/2/2006 3:04 PM"},
}

// plain writes the accents away that Spanish names of columns have.
var plain = strings.NewReplacer("á", "a", "í", "i")

// ReadLog reads the table of a temperature logger, with a column for the time
// and one for the temperature, or one each for the lowest and the highest. The
// columns are found by their names, English or Spanish, in any order; the unit is
// Celsius unless a name says Fahrenheit. It returns the lowest and the highest of each day, in
// tenths of a degree Celsius. Errors name the line.
func ReadLog(text []byte) ([]record.DayReading, error) {
	t, err := sheet.Read(text, logLimits)
	if err != nil {
		return nil, err
	}
	col := map[string]int{}
	fahrenheit := false
	for i, name := range t.Header {
		name = plain.Replace(strings.ToLower(name))
		what := ""
		has := func(words ...string) bool {
			for _, w := range words {
				if strings.Contains(name, w) {
					return true
				}
			}
			return false
		}
		dated, lowest, highest := has("date", "fecha"), has("min", "low", "baja"), has("max", "high", "alta")
		switch {
		case has("humid", "humed", "dew", "rocio", "%"):
		case dated && (lowest || highest): // “Fecha de alta” is when something was entered: no temperature, and not its day
		case lowest:
			what = "min"
		case highest:
			what = "max"
		case !dated && has("temp", "celsius", "fahrenheit", "°c", "°f"):
			what = "temperature"
		case has("date") && has("time"), has("timestamp"), has("fecha") && has("hora"):
			what = "time"
		case has("date", "day", "time", "fecha", "hora"):
			what = "time"
			if _, twice := col["time"]; twice {
				continue // a clock time beside a date adds nothing to the day
			}
		}
		if what == "" {
			continue
		}
		if _, twice := col[what]; twice {
			return nil, prose.Errorf("line 1: two columns could be the %s: %q is the second", what, t.Header[i])
		}
		col[what] = i
		if what != "time" && has("fahrenheit", "°f", "(f)", "_f", " f") {
			fahrenheit = true
		}
	}
	_, hasTime := col["time"]
	_, hasTemp := col["temperature"]
	_, hasMin := col["min"]
	_, hasMax := col["max"]
	if !hasTime || !hasTemp && !(hasMin && hasMax) {
		return nil, prose.Errorf("line 1: the columns are %s: want a date or time, and a temperature or a lowest and a highest", fmt.Sprintf("%q", t.Header))
	}
	days, err := readTimes(&t, col["time"])
	if err != nil {
		return nil, err
	}
	var a record.Air
	readings := make([]record.DayReading, 0, len(t.Rows))
	var wrong []error
	for i, row := range t.Rows {
		cell := func(what string) (int, error) {
			v, err := readDegrees(row.Cells[col[what]], fahrenheit)
			if err != nil {
				err = fmt.Errorf("line %d: %s: %w", row.Line, what, err)
			}
			return v, err
		}
		r := record.DayReading{Day: days[i]}
		if hasTemp {
			r.Min, err = cell("temperature")
			r.Max = r.Min
		} else {
			var errMax error
			r.Min, err = cell("min")
			r.Max, errMax = cell("max")
			err = errors.Join(err, errMax)
			if err == nil && r.Max < r.Min {
				err = prose.Errorf("line %d: the highest, %s, is below the lowest", row.Line, row.Cells[col["max"]])
			}
		}
		if err != nil {
			if wrong = append(wrong, err); len(wrong) == 10 {
				break
			}
			continue
		}
		readings = append(readings, r)
	}
	if len(wrong) > 0 {
		return nil, errors.Join(wrong...)
	}
	if len(readings) == 0 {
		return nil, prose.Errorf("the file has no readings")
	}
	a.Record(readings...)
	return a.Days, nil
}

// readTimes reads the days of all rows. Whether 3/4 is in March or in April is
// decided by all rows together, or the file is refused.
func readTimes(t *sheet.Table, col int) ([]record.Day, error) {
	days := make([]record.Day, len(t.Rows))
	possible := [2]bool{true, true}
	undecided := -1
	parse := func(layouts []string, text string) (record.Day, bool) {
		for _, l := range layouts {
			if at, err := time.Parse(l, text); err == nil && at.Year() >= 1950 && at.Year() < 2200 {
				return record.DayOf(at), true
			}
		}
		return "", false
	}
	for i, row := range t.Rows {
		text := strings.TrimSpace(row.Cells[col])
		if d, ok := parse(isoTimes, text); ok {
			days[i] = d
			continue
		}
		_, first := parse(slashed[0], text)
		_, second := parse(slashed[1], text)
		if !first && !second {
			return nil, prose.Errorf("line %d: %q is not a time this program can read; write it as 2025-08-31 14:00", row.Line, row.Cells[col])
		}
		possible[0], possible[1] = possible[0] && first, possible[1] && second
		undecided = i
	}
	if undecided < 0 {
		return days, nil
	}
	if possible[0] == possible[1] {
		row := t.Rows[undecided]
		return nil, prose.Errorf("line %d: in %q either number could be the month; write it as 2025-08-31", row.Line, row.Cells[col])
	}
	which := 0
	if possible[1] {
		which = 1
	}
	for i, row := range t.Rows {
		if days[i] == "" {
			days[i], _ = parse(slashed[which], strings.TrimSpace(row.Cells[col]))
		}
	}
	return days, nil
}

// readDegrees reads a temperature into tenths of a degree Celsius, rounded up:
// warmer is the stricter side.
func readDegrees(text string, fahrenheit bool) (int, error) {
	clean := strings.TrimSpace(text)
	for _, unit := range []string{"°C", "°F", "C", "F"} {
		if rest, ok := strings.CutSuffix(clean, unit); ok {
			clean = strings.TrimSpace(rest)
			fahrenheit = strings.HasSuffix(unit, "F")
			break
		}
	}
	v, err := strconv.ParseFloat(strings.Replace(clean, ",", ".", 1), 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, prose.Errorf("%q is not a temperature", text)
	}
	if fahrenheit {
		v = record.Celsius(v)
	}
	if v < record.Coldest/10 || v > record.Hottest/10 {
		return 0, prose.Errorf("%q lies outside %d to %d °C", text, record.Coldest/10, record.Hottest/10)
	}
	return int(math.Ceil(v*10 - 1e-9)), nil
}
