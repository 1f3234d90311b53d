package texts_test

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"time"

	"larderlamp/app/demo"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/testkit"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// A batch that is written down in Spanish words, under Spanish headings, is the one that
// the same line in English is.
func TestTableOfBatchesInSpanish(t *testing.T) {
	now := time.Date(2026, time.November, 27, 12, 0, 0, 0, time.UTC)
	all, finder := spanishFinder(t)
	in := all.Reader()
	say := func(t prose.Text) string { return t.In(in) }
	words := tables.Words{In: in, Find: finder.Search}
	peaches, _ := rules.ProductByID("peaches")
	read := func(text string, words tables.Words) *record.Batch {
		s, err := tables.ReadSheet([]byte(text))
		if err != nil {
			t.Fatal(err)
		}
		row := tables.ReadRow(s.Cells[0], true, now, words)
		if row.Err != nil {
			t.Fatalf("%s: %v", text, row.Err)
		}
		return row.Batch
	}
	for method := range rules.SignMethod.Info().Values {
		for standing := range rules.SignStanding.Info().Values {
			label := func(s rules.SignID, n int) string { return `"` + say(s.Info().Values[n].Label) + `"` }
			id := func(s rules.SignID, n int) string { return s.Info().Values[n].ID }
			theirs := read("fecha;producto;frascos;tamaño;método;minutos;altitud;receta;lote de tapas;lugar;título;notas\n"+
				strings.Join([]string{"14 de agosto de 2026", `"` + say(peaches.Name) + `"`, "7", "cuarto", label(rules.SignMethod, method), "30", "800", label(rules.SignStanding, standing), "H-1", "Sótano", "Los de la tía", "con poco azúcar"}, ";")+"\n", words)
			ours := read("date;product;jars;size;method;minutes;altitude;recipe;lid lot;place;title;notes\n"+
				strings.Join([]string{"2026-08-14", "peaches", "7", "quart", id(rules.SignMethod, method), "30", "800", id(rules.SignStanding, standing), "H-1", "Sótano", "Los de la tía", "con poco azúcar"}, ";")+"\n", tables.Words{})
			theirs.Head = ours.Head
			if !reflect.DeepEqual(theirs, ours) {
				t.Errorf("got %+v\nwant %+v", theirs, ours)
			}
		}
	}
}

// A food that a table takes without asking is the one that was meant, or a stricter one,
// for every word of testdata/search/spanish.tsv; and no food is taken for a word that
// names none.
func TestFoodsOfATableInSpanish(t *testing.T) {
	now := time.Date(2026, time.November, 27, 12, 0, 0, 0, time.UTC)
	all, finder := spanishFinder(t)
	words := tables.Words{In: all.Reader(), Find: finder.Search}
	taken := 0
	for n, row := range rows(t, "spanish.tsv", 4) {
		read := tables.ReadRow([]string{row[0], "2026-08-14"}, true, now, words)
		if read.Err != nil {
			continue
		}
		taken++
		got, ok := rules.ProductByID(read.Batch.Product)
		if !ok || row[1] == "none" {
			t.Errorf("line %d: %q names no food, got %s", n+2, row[0], read.Batch.Product)
			continue
		}
		milder := true
		for _, id := range strings.Fields(row[2]) {
			if want, ok := rules.ProductByID(id); ok && strictness(got) >= strictness(want) {
				milder = false
			}
		}
		if milder {
			t.Errorf("line %d: %q: got %s, milder than %s", n+2, row[0], got.ID, row[2])
		}
	}
	if taken < 50 {
		t.Errorf("got %d foods without a question, want at least 50", taken)
	}
	t.Logf("%d taken", taken)
}

// The tables that are written have Spanish headings, and the same cells but for the
// words of a state and the names of places.
func TestTablesInSpanish(t *testing.T) {
	now := time.Date(2026, time.November, 27, 12, 0, 0, 0, time.UTC)
	all, _ := spanishFinder(t)
	in := all.Reader()
	p := testkit.Invented(t, now)
	records, err := demo.Records(now)
	if err != nil {
		t.Fatal(err)
	}
	for name, both := range map[string][2][]byte{
		"jars":   {tables.Jars(p, now, nil), tables.Jars(p, now, in)},
		"checks": {tables.Checks(records, nil), tables.Checks(records, in)},
	} {
		ours, theirs := strings.SplitAfter(string(both[0]), "\r\n"), strings.SplitAfter(string(both[1]), "\r\n")
		if len(ours) != len(theirs) {
			t.Fatalf("%s: got %d lines, want %d", name, len(theirs), len(ours))
		}
		for i, heading := range strings.Split(strings.TrimSpace(ours[0]), ",") {
			if strings.Split(strings.TrimSpace(theirs[0]), ",")[i] == heading {
				t.Errorf("%s: got the heading %q", name, heading)
			}
		}
	}
	text, err := tables.Calendar(p, now, in)
	if err != nil {
		t.Fatal(err)
	}
	english, err := tables.Calendar(p, now, nil)
	if err != nil {
		t.Fatal(err)
	}
	summaries := func(text []byte) (all []string) {
		for line := range strings.Lines(strings.ReplaceAll(string(text), "\r\n ", "")) {
			if words, ok := strings.CutPrefix(line, "SUMMARY:"); ok {
				all = append(all, words)
			}
		}
		return all
	}
	theirs, ours := summaries(text), summaries(english)
	if len(theirs) != len(ours) || len(ours) < 5 {
		t.Fatalf("got %d dates, want %d", len(theirs), len(ours))
	}
	for i := range ours {
		if ours[i] == theirs[i] {
			t.Errorf("got the date %q", ours[i])
		}
	}
	for line := range bytes.Lines(text) {
		if len(bytes.TrimRight(line, "\r\n")) > 75 {
			t.Errorf("got a line of %d bytes: %q", len(line), line)
		}
	}
}
