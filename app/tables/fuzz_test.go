package tables_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/app/backup"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/testkit"
	"larderlamp/rules"
	"larderlamp/rules/seeds"
)

// Readings are refused with the line, or they are valid readings of a place.
func FuzzReadLog(f *testing.F) {
	seeds.Add(f, "log", "sheet")
	f.Fuzz(func(t *testing.T, text []byte) {
		days, err := tables.ReadLog(text)
		if err != nil {
			for line := range strings.SplitSeq(err.Error(), "\n") {
				if !strings.HasPrefix(line, "line ") && line != "the table is empty" && line != "the file has no readings" {
					t.Errorf("the error does not name the line: %q", line)
				}
			}
			return
		}
		place, err := record.NewPlace("x", testkit.Noon)
		if err != nil {
			t.Fatal(err)
		}
		place.Air = &record.Air{How: record.Days, Days: days}
		testkit.CheckRoundTrip(t, &backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: []record.Record{place}})
	})
}

// Every line of a table is a batch that comes back the same, or says which
// column is wrong.
func FuzzReadBatches(f *testing.F) {
	seeds.Add(f, "batches", "sheet")
	// What the columns are called in the record.
	columns := append([]string{"count", "made", "standing", "lid_lot", "tenths_psi", "altitude_feet", "pack", "condition"}, tables.BatchColumns...)
	f.Fuzz(func(t *testing.T, text []byte) {
		rows, err := tables.ReadBatches(text, false, testkit.Noon)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "line ") && err.Error() != "the table is empty" {
				t.Errorf("the error does not name the line: %q", err)
			}
			return
		}
		b := &backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}}
		for i, r := range rows {
			if r.Line < 2 || i > 0 && r.Line <= rows[i-1].Line {
				t.Fatalf("row %d: got line %d", i+1, r.Line)
			}
			if r.Err == nil {
				b.Records = append(b.Records, r.Batch)
				continue
			}
			for line := range strings.SplitSeq(r.Err.Error(), "\n") {
				column, _, _ := strings.Cut(line, ": ")
				if !slices.Contains(columns, column) {
					t.Errorf("line %d: the error does not name the column: %q", r.Line, line)
				}
			}
		}
		testkit.CheckRoundTrip(t, b)
	})
}
