package tables

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/sheet"
	"larderlamp/rules/prose"
)

// jarColumns and checkColumns are the headings of the two tables that are written.
var (
	jarColumns   = []prose.Text{"jar", "product", "title", "made", "number", "size", "method", "lid lot", "place", "state", "lowest", "highest", "deadline", "looked at", "gone", "why"}
	checkColumns = []prose.Text{"check", "begun", "product", "label", "jar", "lowest", "highest", "edition", "finished", "answers"}
)

// Jars is a table of all jars, one a line, as CSV, with headings and words in a
// language; nil is English. What a program reads stays the same in every language.
func Jars(p *pantry.Pantry, now time.Time, in prose.Language) []byte {
	var rows [][]string
	for _, b := range p.BatchOrder() {
		for _, j := range p.OfBatch(b.ID) {
			v := p.Judge(j, now)
			looked, gone, why, state := "", "", "", v.State().Text().In(in)
			if v.Basis.Look != nil {
				looked = string(record.DayOf(v.Basis.Look.At))
			}
			if e := v.Basis.Ended; e != nil {
				gone, why, state = string(record.DayOf(e.At)), e.Why, e.What
			}
			rows = append(rows, []string{j.ID, b.Product, b.Title, string(b.Made), strconv.Itoa(j.Number), b.Size, b.Method, b.LidLot,
				p.PlaceName(v.Basis.Place).In(in), state, v.Lowest.ID(), v.Highest.ID(), string(v.Deadline), looked, gone, why})
		}
	}
	return sheet.Write(headings(jarColumns, in), rows)
}

// Checks is a table of all checks among the records, one a line, as CSV, with headings
// in a language; nil is English.
func Checks(records []record.Record, in prose.Language) []byte {
	var rows [][]string
	for _, r := range records {
		c, ok := r.(*record.Check)
		if !ok || c.IsDeleted() {
			continue
		}
		var said []string
		for _, a := range c.Answers {
			said = append(said, a.Sign+"="+strings.Join(a.Values, "|"))
		}
		rows = append(rows, []string{c.ID, c.Begun.Format(time.RFC3339), c.Product, c.Label, c.Jar, c.Lowest, c.Highest, c.Edition, strconv.FormatBool(c.Finished), strings.Join(said, " ")})
	}
	slices.SortStableFunc(rows, func(a, b []string) int { return cmp.Compare(a[0], b[0]) })
	return sheet.Write(headings(checkColumns, in), rows)
}

func headings(columns []prose.Text, in prose.Language) (all []string) {
	for _, c := range columns {
		all = append(all, c.In(in))
	}
	return all
}
