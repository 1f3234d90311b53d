package sheet_test

import (
	"encoding/csv"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"larderlamp/app/sheet"
	"larderlamp/rules/seeds"
)

var wide = sheet.Limits{Rows: 1000, Columns: 50, Cell: 1000}

// hostile are pieces of cells that break tables and spreadsheets.
var hostile = []string{"=1+1", "+49", "-3", "@sum", "'", "''=x", "\t", "\r", "\n", "\r\n", `"`, `""`, ",", ";", "ü", "🫙", "<b>", " ", "x", "", "\u202e"}

func cell(r *rand.Rand) (s string) {
	for range r.IntN(4) {
		s += hostile[r.IntN(len(hostile))]
	}
	return
}

// What is written comes back exactly, except for line ends within a cell.
func TestComesBack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		head := []string{"name", "b", "c"}
		var rows [][]string
		for range r.IntN(6) {
			rows = append(rows, []string{"x" + cell(r), cell(r), cell(r)})
		}
		text := sheet.Write(head, rows)
		back, err := sheet.Read(text, wide)
		if err != nil {
			t.Fatalf("got %v\n%q", err, text)
		}
		var got [][]string
		for _, row := range back.Rows {
			got = append(got, row.Cells)
		}
		for _, row := range rows {
			for i := range row {
				row[i] = strings.ReplaceAll(strings.ReplaceAll(row[i], "\r\n", "\n"), "\r", "\n")
			}
		}
		if !reflect.DeepEqual(back.Header, head) || !reflect.DeepEqual(got, rows) {
			t.Fatalf("%q\ncame back as\n%q\nby way of %q", rows, got, text)
		}
	}
}

// No cell of what is written begins as a formula, for any reader.
func TestNoFormulas(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 2000 {
		text := sheet.Write([]string{"a", "b"}, [][]string{{cell(r), cell(r)}})
		noFormulas(t, text)
		if strings.Count(string(text), "\n") != strings.Count(string(text), "\r\n") {
			t.Fatalf("a line of %q does not end with CR LF", text)
		}
	}
}

// noFormulas reads a table as others do and looks at every cell.
func noFormulas(t *testing.T, text []byte) {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range all {
		for _, c := range row {
			if c != "" && strings.ContainsAny(c[:1], "=+-@\t\r\n") {
				t.Fatalf("%q starts like a formula", c)
			}
		}
	}
}

func TestSeparators(t *testing.T) {
	for name, text := range map[string]string{
		"commas": "a,b\n1,2\n", "semicolons": "a;b\n1;2\n", "tabs": "a\tb\n1\t2", "byte order mark": "\ufeffa,b\r\n1,2\r\n",
		"quotes": "\"a\",\"b\"\n\"1\",2\n", "empty lines": "a,b\n\n1,2\n\n", "lines of separators": "a,b,c\n1,2,\n, \n",
	} {
		table, err := sheet.Read([]byte(text), wide)
		if err != nil || table.Header[0] != "a" || table.Header[1] != "b" || len(table.Rows) != 1 || table.Rows[0].Cells[1] != "2" {
			t.Errorf("%s: got %+v, %v", name, table, err)
		}
	}
}

// Errors name the line.
func TestFaultsNameTheLine(t *testing.T) {
	limits := sheet.Limits{Rows: 2, Columns: 3, Cell: 5}
	for text, want := range map[string]string{
		"":                  "empty",
		"a,b\n1,2,3\n":      "line 2: 3 columns, the heading has 2",
		"a,b\n1\n":          "line 2: 1 columns",
		"a,b\n1,\"2\n":      "line",
		"a,b,c,d\n":         "line 1: 4 columns, at most 3",
		"a\n1\n2\n3\n":      "line 4: more than 2 rows",
		"a\n123456\n":       "line 2: column 1 has 6 bytes",
		"a\n\xff\n":         "line 2: not readable",
		",,\n":              "line 1: the heading is empty",
		"a,b\n1,2\"3\n":     "line 2",
		"a\n\n\n" + "1,2\n": "line 4",
	} {
		if table, err := sheet.Read([]byte(text), limits); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %+v, %v", text, table, err)
		}
	}
	// Both sides of every limit.
	for text, ok := range map[string]bool{"a,b,c\n1,2,3\n": true, "a\n1\n2\n": true, "a\n12345\n": true} {
		if _, err := sheet.Read([]byte(text), limits); (err == nil) != ok {
			t.Errorf("%q: got %v", text, err)
		}
	}
}

func TestColumns(t *testing.T) {
	known := map[string][]string{"product": {"food"}, "lid lot": {"lot"}}
	at, unknown, err := sheet.Columns([]string{"FOOD", " Lid_Lot ", "color"}, known)
	if err != nil || at["product"] != 0 || at["lid lot"] != 1 || len(unknown) != 1 || unknown[0] != "color" {
		t.Errorf("got %v, %v, %v", at, unknown, err)
	}
	if _, _, err := sheet.Columns([]string{"food", "product"}, known); err == nil {
		t.Error("a column that appears twice was accepted")
	}
}

// A table that is read comes back the same, and what is written from it holds
// no formula; one that is refused names the line.
func FuzzRead(f *testing.F) {
	seeds.Add(f, "sheet", "batches", "log")
	f.Fuzz(func(t *testing.T, text []byte) {
		table, err := sheet.Read(text, wide)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "line ") && err.Error() != "the table is empty" {
				t.Errorf("the error does not name the line: %q", err)
			}
			return
		}
		var rows [][]string
		for _, r := range table.Rows {
			if len(r.Cells) != len(table.Header) {
				t.Fatalf("line %d: got %d cells, want %d", r.Line, len(r.Cells), len(table.Header))
			}
			rows = append(rows, r.Cells)
		}
		written := sheet.Write(table.Header, rows)
		noFormulas(t, written)
		// Apostrophes and doubled quotes make it longer.
		again, err := sheet.Read(written, sheet.Limits{Rows: 1000, Columns: 50, Cell: 2000})
		if err != nil || !slices.Equal(again.Header, ends(table.Header)) || len(again.Rows) != len(rows) {
			t.Fatalf("%q, %q was written as %q and came back as %+v, %v", table.Header, rows, written, again.Rows, err)
		}
		for i, r := range again.Rows {
			if !slices.Equal(r.Cells, ends(rows[i])) {
				t.Fatalf("%q was written as %q and came back as %q", rows[i], written, r.Cells)
			}
		}
	})
}

// ends writes the line ends within cells as reading does.
func ends(cells []string) []string {
	out := slices.Clone(cells)
	for i := range out {
		out[i] = strings.ReplaceAll(strings.ReplaceAll(out[i], "\r\n", "\n"), "\r", "\n")
	}
	return out
}
