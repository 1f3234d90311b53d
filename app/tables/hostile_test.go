package tables_test

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"larderlamp/app/backup"
	"larderlamp/app/hostile"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/testkit"
	"larderlamp/rules"
)

// Whatever a person may type comes back the same from a backup, starts no
// formula in a table, and never ends a property of a calendar.
func TestHostileWordsInFiles(t *testing.T) {
	records := testkit.Hostile(t, hostile.Texts...)
	whole := &backup.File{Written: testkit.Noon, Edition: rules.Edition, Settings: record.Settings{Version: record.Version}, Records: records}
	testkit.CheckRoundTrip(t, whole)
	p := pantry.New()
	for _, r := range records {
		p.Put(r)
	}
	for name, table := range map[string][]byte{"jars": tables.Jars(p, testkit.Noon, nil), "checks": tables.Checks(records, nil)} {
		rows, err := csv.NewReader(strings.NewReader(string(table))).ReadAll()
		if err != nil || len(rows) != 1+len(hostile.Texts) {
			t.Errorf("%s: got %d rows, %v", name, len(rows), err)
		}
		for _, row := range rows {
			for _, c := range row {
				if c != "" && strings.ContainsAny(c[:1], "=+-@\t\r\n") {
					t.Errorf("%s: %q begins as a formula", name, c)
				}
			}
		}
	}
	dates, err := tables.Calendar(p, testkit.Noon, nil)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.SplitSeq(strings.ReplaceAll(string(dates), "\r\n ", ""), "\r\n") {
		name, _, _ := strings.Cut(line, ":")
		name, _, _ = strings.Cut(name, ";")
		if !slices.Contains([]string{"", "BEGIN", "END", "VERSION", "PRODID", "CALSCALE", "UID", "DTSTAMP", "DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "RRULE", "TRANSP"}, name) {
			t.Errorf("%q begins a property of its own", line)
		}
	}
	if n := strings.Count(string(dates), "\nBEGIN:VEVENT\r"); n != 1+len(hostile.Texts) {
		t.Errorf("%d dates for the sweep and %d batches", n, len(hostile.Texts))
	}
}
