package tables_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/tables"
)

// spanish are the months.
var spanish = strings.Fields("enero febrero marzo abril mayo junio julio agosto septiembre octubre noviembre diciembre")

// Every day of two years is read back from each way of writing it, in either order of
// day and month.
func TestReadDayOfEveryWay(t *testing.T) {
	now := time.Date(2026, 11, 26, 20, 0, 0, 0, time.UTC)
	for d := now.AddDate(-1, 0, 1); !d.After(now); d = d.AddDate(0, 0, 1) {
		want := record.DayOf(d)
		for text, dayFirst := range map[string]int{
			d.Format("2006-01-02"): -1, d.Format("1/2/2006"): 0, d.Format("1/2/06"): 0, d.Format("01/02/2006"): 0, d.Format("1-2-2006"): 0,
			d.Format("2/1/2006"): 1, d.Format("2.1.2006"): 1, d.Format("02.01.06"): 1, d.Format("Jan 2, 2006"): -1, d.Format("2 January 2006"): -1,
			d.Format("January 2"): -1, d.Format("2 Jan"): -1,
			d.Format("2") + " de " + spanish[d.Month()-1] + " de " + d.Format("2006"): -1, d.Format("2 ") + spanish[d.Month()-1]: -1,
			d.Format("2 ") + spanish[d.Month()-1][:3] + d.Format(" 2006"): -1, d.Format("2/") + spanish[d.Month()-1][:3] + d.Format("/2006"): -1,
		} {
			for order, first := range map[int]bool{0: false, 1: true} {
				if dayFirst >= 0 && dayFirst != order {
					continue
				}
				if got, err := tables.ReadDay(text, first, now); err != nil || got != want {
					t.Errorf("%q, day first %v: %s, %v; want %s", text, first, got, err, want)
				}
			}
		}
		if short, err := tables.ReadDay(d.Format("1/2"), false, now); err != nil || short != want {
			t.Errorf("%q: %s, %v; want %s", d.Format("1/2"), short, err, want)
		}
	}
}

// A number above twelve is the day in either order; what is not a date is refused, and
// a month without a day means the first.
func TestReadDayEdges(t *testing.T) {
	now := time.Date(2026, 11, 26, 20, 0, 0, 0, time.UTC)
	for text, want := range map[string]record.Day{
		"14/8/2026": "2026-08-14", "8/14/2026": "2026-08-14", "Aug 2026": "2026-08-01", "12/12": "2025-12-12", "11/26": "2026-11-26", "11/27": "2025-11-27",
		"29.2.2024": "2024-02-29", "29.2.2026": "", "0/4/2026": "", "4/0/2026": "", "13/13/2026": "", "1/2/3": "", "": "", "soon": "", "2026-13-01": "", "1/2/20266": "", "1//2": "2026-01-02",
	} {
		got, err := tables.ReadDay(text, false, now)
		if got != want || (err == nil) != (want != "") {
			t.Errorf("%q: %q, %v; want %q", text, got, err, want)
		}
	}
}

// Sizes as people write them; metric ones never use the time of a smaller jar.
func TestReadSize(t *testing.T) {
	for text, want := range map[string]string{
		"qt": "quart", "Quarts": "quart", "32oz": "quart", "32 oz.": "quart", "pt": "pint", "16 ounces": "pint", "half pint": "half-pint", "1/2 pint": "half-pint", "8oz": "half-pint",
		"12-ounce": "12-ounce", "1 l": "half-gallon", "500 ml": "24-ounce", "480ml": "pint", "0.9 l": "quart", "5 l": "other", "another size": "other", "bucket": "", "": "", "-3 ml": "", "7": "",
	} {
		got, ok := tables.ReadSize(text)
		if got != want || ok != (want != "") {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
	for i, s := range record.Sizes {
		if got, ok := tables.ReadSize(s.ID); !ok || got != s.ID {
			t.Errorf("%s is read as %q", s.ID, got)
		}
		if got, ok := tables.ReadSize(s.Name.String()); !ok || got != s.ID {
			t.Errorf("%s is read as %q", s.Name, got)
		}
		if s.ID == "other" || i == 0 {
			continue
		}
		got, _ := tables.ReadSize(fmt.Sprintf("%d ml", record.Sizes[i-1].Milliliters+1))
		if got != s.ID {
			t.Errorf("%d ml is %q, want the next larger, %s", record.Sizes[i-1].Milliliters+1, got, s.ID)
		}
	}
}

// A mistake is reported in the cell that it is about, and every column named is one
// of the table.
func TestWrongCells(t *testing.T) {
	now := time.Date(2026, 11, 26, 20, 0, 0, 0, time.UTC)
	at := func(name string) int {
		for i, c := range tables.BatchColumns {
			if c == name {
				return i
			}
		}
		t.Fatalf("no column %s", name)
		return -1
	}
	good := map[string]string{"product": "peaches", "date": "8/14/26", "jars": "7", "size": "qt"}
	for column, bad := range map[string]string{"product": "bear claws", "date": "31/31/26", "jars": "0", "size": "bucket", "method": "prayer", "minutes": "9999", "pressure": "11.55", "altitude": "99999", "packed": "cold", "place": "\u202ecellar"} {
		cells := make([]string, len(tables.BatchColumns))
		for c, v := range good {
			cells[at(c)] = v
		}
		if row := tables.ReadRow(cells, false, now, tables.Words{}); row.Err != nil || row.Batch.Size != "quart" || row.Batch.Made != "2026-08-14" {
			t.Fatalf("a good row: got %+v", row)
		}
		cells[at(column)] = bad
		row := tables.ReadRow(cells, false, now, tables.Words{})
		if wrong := row.Wrong(); len(wrong) != 1 || wrong[column] == "" {
			t.Errorf("%s %q: got %v", column, bad, wrong)
		}
	}
	row := tables.ReadRow([]string{"jam", "8/14/26"}, false, now, tables.Words{})
	if len(row.Offer) < 2 || row.Wrong()["product"] == "" {
		t.Errorf("a food of several kinds: got offer %q, %v", row.Offer, row.Err)
	}
	// Fresh and dried ones are called alike, and dried ones take longer.
	for _, name := range []string{"butter beans", "Limas", "butterbeans"} {
		row := tables.ReadRow([]string{name, "8/14/26"}, false, now, tables.Words{})
		if row.Wrong()["product"] == "" || !slices.Contains(row.Offer, "Dried beans, cooked") || !slices.Contains(row.Offer, "Lima beans, fresh") {
			t.Errorf("%s: got offer %q, %v, want both", name, row.Offer, row.Err)
		}
	}
	for _, name := range []string{"yellow beans", "navy beans", "green beans"} {
		if row := tables.ReadRow([]string{name, "8/14/26"}, false, now, tables.Words{}); row.Err != nil {
			t.Errorf("%s: %v", name, row.Err)
		}
	}
}

// What people call a way of heating is taken where it can mean only one, in English and
// in Spanish, and nothing else is: a wrong way would keep a jar that nobody should eat.
func TestMethodsByTheirNames(t *testing.T) {
	now := time.Date(2026, 11, 26, 20, 0, 0, 0, time.UTC)
	for method, want := range map[string]string{
		"water bath": "boiling-water", "Waterbath": "boiling-water", "water-bath": "boiling-water", "BWB": "boiling-water", "Boiling  Water Bath": "boiling-water", "boiling water": "boiling-water",
		"baño maría": "boiling-water", "bano maria": "boiling-water", "Baño María": "boiling-water", "ban\u0303o mari\u0301a": "boiling-water",
		"pressure canner": "pressure-canner", "Pressure canned": "pressure-canner", "pressure-canner": "pressure-canner",
		"oven": "oven", "horno": "oven", "none": "none", "ninguno": "none", "steam-canner": "steam-canner", "steam-canner-long": "steam-canner-long",
		"hot pack": "", "hot-pack": "", "canner": "", "canned": "", "bath": "", "pressure": "", "pressure cooker": "", "pressure cooked": "", "olla a presión": "", "olla a presion": "", "steam canner": "", "Steam Canner": "", "steamed": "", "water": "", "water bath 10 min": "", "not water bath": "", "maria": "", "electric pressure canner": "", "vapor": "",
	} {
		rows, err := tables.ReadBatches([]byte("product,date,method\ngreen-beans,2026-08-14,"+method+"\n"), false, now)
		if err != nil || len(rows) != 1 {
			t.Fatalf("%q: %v", method, err)
		}
		got, wrong := rows[0].Batch, rows[0].Wrong()["method"].String()
		if want != "" && (rows[0].Err != nil || got.Method != want) {
			t.Errorf("%q: got %+v, %v; want %s", method, got, rows[0].Err, want)
		}
		if want == "" && (!strings.Contains(wrong, "Covered by boiling water") || strings.Contains(wrong, "boiling-water")) {
			t.Errorf("%q: got %q, want a list of what can be chosen", method, wrong)
		}
	}
}
