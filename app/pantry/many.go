package pantry

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"larderlamp/app/sheet"
	"larderlamp/rules"
)

// manyLimits bound a table of batches.
var manyLimits = sheet.Limits{Rows: 5000, Columns: 40, Cell: 2000}

// manyColumns are the columns of a table of batches, with their other names.
var manyColumns = map[string][]string{
	"product":  {"food", "what", "contents"},
	"date":     {"made", "canned", "canned on", "day"},
	"jars":     {"count", "number", "quantity"},
	"size":     {"jar", "jar size"},
	"method":   {"heating", "process"},
	"minutes":  {"time", "min"},
	"pressure": {"psi", "pounds"},
	"gauge":    {},
	"altitude": {"altitude ft", "feet", "altitude (ft)"},
	"recipe":   {"standing"},
	"acid":     {},
	"extras":   {"changes"},
	"lid lot":  {"lot", "lids"},
	"place":    {"shelf", "where"},
	"title":    {"name", "label"},
	"notes":    {"note", "remarks"},
}

// ManyColumns lists the columns in the order in which they are offered.
var ManyColumns = []string{"product", "date", "jars", "size", "method", "minutes", "pressure", "gauge", "altitude", "recipe", "acid", "extras", "lid lot", "place", "title", "notes"}

// ManyRow is one line of a table of batches: the batch, or what is wrong.
type ManyRow struct {
	Line  int
	Batch *Batch
	Place string // name; "" when none is given
	Err   error
}

// ReadBatches reads a table of batches: a heading with the names of the columns
// and a line for each batch. Only the product and the date are needed. A line
// with a fault is told apart; the others stand. An error is for a table that
// cannot be read at all.
func ReadBatches(text []byte, now time.Time) ([]ManyRow, error) {
	t, err := sheet.Read(text, manyLimits)
	if err != nil {
		return nil, err
	}
	col, unknown, err := sheet.Columns(t.Header, manyColumns)
	if err != nil {
		return nil, err
	}
	if len(unknown) > 0 {
		return nil, fmt.Errorf("line 1: unknown columns %q; known are %s", unknown, strings.Join(ManyColumns, ", "))
	}
	for _, must := range []string{"product", "date"} {
		if _, ok := col[must]; !ok {
			return nil, fmt.Errorf("line 1: there is no column %q", must)
		}
	}
	var rows []ManyRow
	for _, r := range t.Rows {
		row := ManyRow{Line: r.Line}
		cell := func(name string) string {
			if i, ok := col[name]; ok {
				return strings.TrimSpace(r.Cells[i])
			}
			return ""
		}
		row.Batch, row.Err = readBatch(cell, now)
		if row.Err == nil {
			row.Place = cell("place")
			if err := plainText(row.Place, MostName); err != nil {
				row.Err = fmt.Errorf("place: %w", err)
			}
		}
		rows = append(rows, row)
	}
	return rows, nil
}

func readBatch(cell func(string) string, now time.Time) (*Batch, error) {
	product, err := findProduct(cell("product"))
	if err != nil {
		return nil, err
	}
	b, err := NewBatch(product.ID, now)
	if err != nil {
		return nil, err
	}
	var wrong []error
	fail := func(column string, err error) { wrong = append(wrong, fmt.Errorf("%s: %w", column, err)) }
	b.Made = Day(cell("date"))
	if _, ok := b.Made.Number(); !ok {
		fail("date", fmt.Errorf("%q is not a date written as 2025-08-31", cell("date")))
	} else if b.Late(DayOf(now)) {
		fail("date", fmt.Errorf("%s has not come yet", b.Made))
	}
	number := func(column string, scale int, set func(*int)) {
		text := cell(column)
		if text == "" {
			return
		}
		n, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		v := int(n * float64(scale))
		if err != nil || n < -1e6 || n > 1e6 || float64(v) != n*float64(scale) {
			fail(column, fmt.Errorf("%q is not a number that can be taken here", text))
			return
		}
		set(&v)
	}
	number("jars", 1, func(n *int) { b.Count = *n })
	number("minutes", 1, func(n *int) { b.Minutes = n })
	number("pressure", 10, func(n *int) { b.TenthsPSI = n })
	number("altitude", 1, func(n *int) { b.Feet = n })
	choose := func(column string, set *string, ids, names []string) {
		text := strings.ToLower(cell(column))
		if text == "" {
			return
		}
		for i := range ids {
			if text == ids[i] || text == strings.ToLower(names[i]) || strings.ReplaceAll(text, " ", "-") == ids[i] {
				*set = ids[i]
				return
			}
		}
		fail(column, fmt.Errorf("%q is none of %s", cell(column), strings.Join(ids, ", ")))
	}
	var sizes, sizeNames []string
	for _, s := range Sizes {
		sizes, sizeNames = append(sizes, s.ID), append(sizeNames, s.Name)
	}
	choose("size", &b.Size, sizes, sizeNames)
	choose("gauge", &b.Gauge, []string{"dial", "weighted"}, []string{"dial gauge", "weight"})
	for _, s := range []struct {
		column string
		id     rules.SignID
		set    *string
	}{{"condition", rules.SignCondition, &b.Condition}, {"method", rules.SignMethod, &b.Method}, {"recipe", rules.SignStanding, &b.Standing}, {"acid", rules.SignAcid, &b.Acid}, {"extras", rules.SignExtras, &b.Extras}} {
		var ids, labels []string
		for _, v := range s.id.Info().Values {
			ids, labels = append(ids, v.ID), append(labels, v.Label)
		}
		choose(s.column, s.set, ids, labels)
	}
	b.LidLot, b.Title, b.Notes = cell("lid lot"), cell("title"), strings.Join(strings.Fields(cell("notes")), " ")
	if len(wrong) == 0 {
		if err := b.Validate(); err != nil {
			return nil, errors.New(strings.ReplaceAll(err.Error(), "batch "+b.ID+": ", ""))
		}
	}
	return b, errors.Join(wrong...)
}

// findProduct finds the product that a person means: by its id, its name or
// another name for it, or as the only one that fits.
func findProduct(text string) (*rules.Product, error) {
	if text == "" {
		return nil, errors.New("product: it is empty")
	}
	if p, ok := rules.ProductByID(strings.ToLower(text)); ok {
		return p, nil
	}
	found := rules.Search(text, 4)
	var names []string
	for _, h := range found {
		p := h.Product
		if strings.EqualFold(p.Name, text) {
			return p, nil
		}
		for _, also := range p.Also {
			if strings.EqualFold(also, text) {
				return p, nil
			}
		}
		names = append(names, p.Name)
	}
	if len(found) > 0 && len(found[0].NotCovered) > 0 {
		return nil, fmt.Errorf("product: %q: nothing in the list covers “%s”; the nearest is %s. Use the id of a food that is not in the list, such as another-mixture or unknown-contents, and keep your name for it as the title",
			text, strings.Join(found[0].NotCovered, "”, “"), names[0])
	}
	switch len(found) {
	case 0:
		return nil, fmt.Errorf("product: nothing in the list sounds like %q", text)
	case 1:
		return found[0].Product, nil
	}
	return nil, fmt.Errorf("product: %q could be %s", text, strings.Join(names, ", "))
}
