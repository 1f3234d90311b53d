package tables

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"larderlamp/app/record"
	"larderlamp/app/sheet"
	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// manyLimits bound a table of batches.
var manyLimits = sheet.Limits{Rows: 5000, Columns: 40, Cell: 2000}

// manyColumns are the columns of a table of batches, with their other names, in English
// and in Spanish.
var manyColumns = map[string][]string{
	"product":  {"food", "what", "contents", "producto", "alimento"},
	"date":     {"made", "canned", "canned on", "day", "fecha"},
	"jars":     {"count", "number", "quantity", "frascos", "cantidad"},
	"size":     {"jar", "jar size", "tamaño"},
	"method":   {"heating", "process", "método"},
	"minutes":  {"time", "min", "minutos"},
	"pressure": {"psi", "pounds", "presión"},
	"gauge":    {"manómetro"},
	"altitude": {"altitude ft", "feet", "altitude (ft)", "altitud"},
	"recipe":   {"standing", "receta"},
	"acid":     {"ácido"},
	"extras":   {"changes"},
	"packed":   {"pack", "envasado"},
	"closure":  {"lid", "cierre"},
	"kind":     {"condition", "tipo"},
	"lid lot":  {"lot", "lids", "lote de tapas"},
	"place":    {"shelf", "where", "lugar"},
	"title":    {"name", "label", "título"},
	"notes":    {"note", "remarks", "notas"},
}

// ManyColumns lists the columns in the order in which they are offered.
var BatchColumns = []string{"product", "date", "jars", "size", "method", "minutes", "pressure", "gauge", "altitude", "recipe", "acid", "extras", "packed", "closure", "kind", "lid lot", "place", "title", "notes"}

// BatchRow is one line of a table of batches: the batch, or what is wrong.
type BatchRow struct {
	Line  int
	Batch *record.Batch
	Place string // name of the place; "" when none is given
	Err   error
	Offer []prose.Text // names of foods that may be meant
}

// fieldColumns are the columns whose names differ from those of the record.
var fieldColumns = map[string]string{"count": "jars", "made": "date", "standing": "recipe", "lid_lot": "lid lot", "tenths_psi": "pressure", "altitude_feet": "altitude", "pack": "packed", "condition": "kind"}

// cellError is what is wrong with a cell, by the name of its column or of the field of
// a batch that it fills.
type cellError struct {
	name string
	err  error
}

func (e *cellError) Error() string { return e.name + ": " + e.err.Error() }

func (e *cellError) Unwrap() error { return e.err }

// Wrong says what is wrong with the row, by column.
func (r *BatchRow) Wrong() map[string]prose.Text {
	if r.Err == nil {
		return nil
	}
	faults := []error{r.Err}
	if joined, ok := r.Err.(interface{ Unwrap() []error }); ok {
		faults = joined.Unwrap()
	}
	wrong := map[string]prose.Text{}
	for _, err := range faults {
		column, words := "product", prose.Error(err)
		if e, ok := errors.AsType[*cellError](err); ok {
			name := e.name
			if known, ok := fieldColumns[name]; ok {
				name = known
			}
			if slices.Contains(BatchColumns, name) {
				column, words = name, prose.Error(e.err)
			}
		}
		if wrong[column] != "" {
			words = prose.List([]prose.Text{wrong[column], words}, "; ")
		}
		wrong[column] = words
	}
	return wrong
}

// ofBatch says what is wrong with a batch by its fields alone: the line of the table
// says which batch it is.
func ofBatch(err error) error {
	joined, ok := err.(interface{ Unwrap() []error })
	if !ok {
		return err
	}
	var wrong []error
	for _, err := range joined.Unwrap() {
		if f, ok := errors.AsType[*record.Fault](err); ok {
			err = &cellError{f.Field, prose.Errorf("%s", f.What)}
		}
		wrong = append(wrong, err)
	}
	return errors.Join(wrong...)
}

// Sheet is a table of batches before it is read: the cells of each line, in the order
// of [BatchColumns].
type Sheet struct {
	Lines []int
	Cells [][]string
}

// ReadSheet reads a table with a heading of the names of the columns. Only the product
// and the date are needed. An error is for a table that cannot be read at all.
func ReadSheet(text []byte) (*Sheet, error) {
	t, err := sheet.Read(text, manyLimits)
	if err != nil {
		return nil, err
	}
	col, unknown, err := sheet.Columns(t.Header, manyColumns)
	if err != nil {
		return nil, err
	}
	if len(unknown) > 0 {
		return nil, prose.Errorf("line 1: unknown columns %s; known are %s", fmt.Sprintf("%q", unknown), strings.Join(BatchColumns, ", "))
	}
	for _, must := range []string{"product", "date"} {
		if _, ok := col[must]; !ok {
			return nil, prose.Errorf("line 1: there is no column %q", must)
		}
	}
	s := &Sheet{}
	for _, r := range t.Rows {
		cells := make([]string, len(BatchColumns))
		for i, name := range BatchColumns {
			if at, ok := col[name]; ok {
				cells[i] = strings.TrimSpace(r.Cells[at])
			}
		}
		s.Lines, s.Cells = append(s.Lines, r.Line), append(s.Cells, cells)
	}
	return s, nil
}

// HasHeading reports whether the first line of a text names columns of such a table:
// a text without a heading contains only cells.
func HasHeading(text string) bool {
	first, _, _ := strings.Cut(strings.TrimLeft(text, "\ufeff\r\n"), "\n")
	t, err := sheet.Read([]byte(first), manyLimits)
	if err != nil {
		return false
	}
	col, _, err := sheet.Columns(t.Header, manyColumns)
	return err != nil || len(col) > 1 || len(col) == len(t.Header)
}

// ReadRow reads one line of a table, its cells in the order of [BatchColumns]. If
// either number of a date may be the month, dayFirst says which is the day. What has a
// name may be given by that, in English or in the language of the words.
func ReadRow(cells []string, dayFirst bool, now time.Time, words Words) BatchRow {
	var row BatchRow
	cell := func(name string) string {
		if i := slices.Index(BatchColumns, name); i < len(cells) {
			return strings.TrimSpace(cells[i])
		}
		return ""
	}
	row.Batch, row.Offer, row.Err = readBatch(cell, dayFirst, now, words)
	if row.Err == nil {
		row.Place = cell("place")
		if err := record.PlainText(row.Place, record.MostName); err != nil {
			row.Err = &cellError{"place", err}
		}
	}
	return row
}

// ReadBatches reads a table of batches: a heading with the names of the columns
// and a line for each batch. A line with a fault is reported; the others are
// kept.
func ReadBatches(text []byte, dayFirst bool, now time.Time) ([]BatchRow, error) {
	s, err := ReadSheet(text)
	if err != nil {
		return nil, err
	}
	var rows []BatchRow
	for i, cells := range s.Cells {
		row := ReadRow(cells, dayFirst, now, Words{})
		row.Line = s.Lines[i]
		rows = append(rows, row)
	}
	return rows, nil
}

func readBatch(cell func(string) string, dayFirst bool, now time.Time, words Words) (*record.Batch, []prose.Text, error) {
	var wrong []error
	fail := func(column string, err error) { wrong = append(wrong, &cellError{column, err}) }
	product, offer, err := words.product(cell("product"))
	id := ""
	if err != nil {
		fail("product", err)
	} else {
		id = product.ID
	}
	b, err := record.NewBatch(id, now)
	if err != nil {
		return nil, nil, err
	}
	if cell("date") == "" {
		fail("date", prose.Errorf("it is empty"))
	} else if b.Made, err = ReadDay(cell("date"), dayFirst, now); err != nil {
		fail("date", err)
	} else if b.MadeAfter(record.DayOf(now)) {
		fail("date", prose.Errorf("%s has not come yet", string(b.Made)))
	}
	number := func(column string, scale int, set func(*int)) {
		text := cell(column)
		if text == "" {
			return
		}
		n, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
		v := int(n * float64(scale))
		if err != nil || n < -1e6 || n > 1e6 || float64(v) != n*float64(scale) {
			fail(column, prose.Errorf("%q is not a number that can be taken here", text))
			return
		}
		set(&v)
	}
	number("jars", 1, func(n *int) { b.Count = *n })
	number("minutes", 1, func(n *int) { b.Minutes = n })
	number("pressure", 10, func(n *int) { b.TenthsPSI = n })
	number("altitude", 1, func(n *int) { b.Feet = n })
	choose := func(column string, set *string, ids []string, names []prose.Text) {
		text := strings.ToLower(cell(column))
		if text == "" {
			return
		}
		if column == "method" {
			if v, ok := methodCalled(text); ok {
				*set = v.ID()
				return
			}
		}
		// A steam canner alone does not say for how long, and whether its lid was kept on.
		dashed := strings.ReplaceAll(text, " ", "-")
		if text == "steam canner" {
			dashed = ""
		}
		for i := range ids {
			if text == ids[i] || text == strings.ToLower(names[i].String()) || text == strings.ToLower(names[i].In(words.In)) || dashed == ids[i] {
				*set = ids[i]
				return
			}
		}
		fail(column, prose.Errorf("%q is none of these: %s", cell(column), prose.List(names, "; ")))
	}
	if text := cell("size"); text != "" {
		size, ok := ReadSize(text)
		if !ok {
			fail("size", prose.Errorf("%q is no size of jar", text))
		}
		b.Size = size
	}
	choose("gauge", &b.Gauge, process.IDs(process.Gauges), []prose.Text{"dial gauge", "weight"})
	for _, s := range []struct {
		column string
		id     rules.SignID
		set    *string
	}{{"closure", rules.SignClosure, &b.Closure}, {"method", rules.SignMethod, &b.Method}, {"recipe", rules.SignStanding, &b.Standing}, {"acid", rules.SignAcid, &b.Acid}, {"extras", rules.SignExtras, &b.Extras}} {
		var ids []string
		var labels []prose.Text
		for _, v := range s.id.Info().Values {
			ids, labels = append(ids, v.ID), append(labels, v.Label)
		}
		choose(s.column, s.set, ids, labels)
	}
	choose("packed", &b.Pack, process.IDs(process.Packs), []prose.Text{"hot pack", "raw pack"})
	if c := b.Food().Condition; c != nil {
		choose("kind", &b.Condition, []string{rules.ConditionMet.ID(), rules.ConditionNot.ID()}, []prose.Text{c.OK, c.Not})
	}
	b.LidLot, b.Title, b.Notes = cell("lid lot"), cell("title"), strings.Join(strings.Fields(cell("notes")), " ")
	if len(wrong) == 0 {
		if err := b.Validate(); err != nil {
			return nil, nil, ofBatch(err)
		}
		if ids, _ := b.Kinds(); len(ids) == 1 {
			b.Table = ids[0]
		}
	}
	return b, offer, errors.Join(wrong...)
}

// Words are the words that a table is read in, beside English ones.
type Words struct {
	In prose.Language // nil is English
	// Find finds foods by their names; nil is [rules.Search].
	Find func(query string, limit int) []rules.Hit
}

// product finds the product that a person means: by its id, its name or another name
// that it alone has, or as the only one that fits. If it cannot, it gives the names of
// those that may be meant.
func (w Words) product(text string) (*rules.Product, []prose.Text, error) {
	if text == "" {
		return nil, nil, prose.Errorf("it is empty")
	}
	if p, ok := rules.ProductByID(strings.ToLower(text)); ok {
		return p, nil, nil
	}
	find := w.Find
	if find == nil {
		find = rules.Search
	}
	found := find(text, 6)
	var names []prose.Text
	var called []*rules.Product // by just this name
	for _, h := range found {
		p := h.Product
		if strings.EqualFold(p.Name.String(), text) {
			return p, nil, nil
		}
		if strings.EqualFold(p.Name.In(w.In), text) || slices.ContainsFunc(p.Also, func(also string) bool { return strings.EqualFold(also, text) }) {
			called = append(called, p)
		}
		names = append(names, p.Name)
	}
	if len(called) == 1 {
		return called[0], nil, nil
	}
	if len(found) > 0 && len(found[0].NotCovered) > 0 {
		return nil, names, prose.Errorf("%q: nothing in the list covers “%s”; the nearest is %s. Use the id of a food that is not in the list, such as another-mixture or unknown-contents, and keep your name for it as the title",
			text, strings.Join(found[0].NotCovered, "”, “"), names[0])
	}
	switch len(found) {
	case 0:
		return nil, nil, prose.Errorf("nothing in the list sounds like %q", text)
	case 1:
		return found[0].Product, nil, nil
	}
	return nil, names, prose.Errorf("%q could be %s", text, prose.List(names, ", "))
}
