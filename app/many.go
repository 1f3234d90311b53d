package app

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/rules"
)

// manyPage takes many batches at once, in a grid that is typed and pasted into: each
// mistake is said in its cell, what is good is saved, and what is not stays.
type manyPage struct {
	app.Compo
	house *household

	ctx   app.Context
	ready bool
	said  string
	busy  bool // the rows are being added
	turn  int  // makes each form a fresh one
	all   bool // columns are shown
	text  string
	cells [][]string // of each row, in the order of tables.BatchColumns
	asked bool       // mistakes are shown
	err   error      // of a table that cannot be read at all
}

// usualColumns are those that are shown at first.
var usualColumns = []string{"product", "date", "jars", "size", "method", "minutes", "place"}

// emptyRows is how many rows the grid begins with, and mostGrid how many are shown.
const emptyRows, mostGrid = 3, 100

// example is a table that can be tried.
const example = "product,date,jars,size,method,minutes,pressure,gauge,altitude,recipe,place\npeaches,2026-08-14,7,quart,boiling-water,30,,,800,published,Cellar\ngreen-beans,2026-07-20,9,pint,pressure-canner,20,11,dial,800,published,Cellar"

func (p *manyPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/many") {
		return
	}
	*p = manyPage{Compo: p.Compo, house: p.house, ctx: ctx, ready: p.ready, turn: p.turn + 1}
	p.grow(emptyRows)
	p.house.shelved(ctx, func(app.Context) { p.ready = true })
}

// grow adds empty rows.
func (p *manyPage) grow(rows int) {
	for range rows {
		p.cells = append(p.cells, make([]string, len(tables.BatchColumns)))
	}
}

// blank tells whether nothing stands in a row.
func blank(cells []string) bool {
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

// rows reads every row that is not blank; others give nil.
func (p *manyPage) rows(now time.Time) []*tables.BatchRow {
	first := dayFirst()
	rows := make([]*tables.BatchRow, len(p.cells))
	for i, cells := range p.cells {
		if !blank(cells) {
			r := tables.ReadRow(cells, first, now)
			rows[i] = &r
		}
	}
	return rows
}

// take puts a text into the grid: a table with a heading by its columns, anything else
// cell by cell from a row and column on.
func (p *manyPage) take(text string, row, column int) {
	p.err, p.said = nil, ""
	if tables.HasHeading(text) {
		s, err := tables.ReadSheet([]byte(text))
		if err != nil {
			p.err = err
			return
		}
		p.cells = slices.DeleteFunc(p.cells, blank)
		p.cells = append(p.cells, s.Cells...)
		p.asked, p.text = true, ""
		p.turn++
		return
	}
	shown := p.columns()
	lines := strings.Split(strings.TrimRight(strings.ReplaceAll(text, "\r\n", "\n"), "\n"), "\n")
	for i, line := range lines {
		for row+i >= len(p.cells) {
			p.grow(1)
		}
		for k, cell := range strings.Split(line, "\t") {
			if column+k < len(shown) {
				p.cells[row+i][slices.Index(tables.BatchColumns, shown[column+k])] = strings.TrimSpace(cell)
			}
		}
	}
	p.asked = true
	p.turn++
}

// columns are those that are shown.
func (p *manyPage) columns() []string {
	if p.all {
		return tables.BatchColumns
	}
	var shown []string
	for i, name := range tables.BatchColumns {
		used := slices.ContainsFunc(p.cells, func(cells []string) bool { return cells[i] != "" })
		if used || slices.Contains(usualColumns, name) {
			shown = append(shown, name)
		}
	}
	return shown
}

func (p *manyPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("Enter many at once"), txt("p", "", "Opening what is kept on this device…"))
	}
	rows := p.rows(time.Now())
	batches, jars, wrong := 0, 0, 0
	for _, r := range rows {
		switch {
		case r == nil:
		case r.Err != nil:
			wrong++
		default:
			batches++
			jars += r.Batch.Count
		}
	}
	return frame("/shelf",
		title("Enter many at once"),
		p.house.notices(),
		live("", only(p.said != "", func() app.UI { return txt("p", "notice", p.said) })),
		txt("p", "", "A row for each batch. Write as you are used to: 8 oz, quarts, Aug 14, 8/14/26. Cells copied from a spreadsheet can be pasted into any cell. Only food and date are needed."),
		p.grid(rows),
		el("p", "row",
			action("button plain", "More rows", func() {
				p.grow(emptyRows)
				p.turn++
			}, p.turn, "rows"),
			only(!p.all, func() app.UI {
				return action("button plain", "All columns", func() {
					p.all = true
					p.turn++
				}, p.turn, "columns")
			}),
		),
		live("",
			only(p.asked && batches+wrong > 0, func() app.UI {
				return txt("p", "", say("%s with %s can be added; %s.", count(batches, "batch", "batches"), count(jars, "jar", "jars"), count(wrong, "row has a mistake", "rows have a mistake")))
			}),
			only(p.err != nil, func() app.UI { return txt("p", "notice", upperFirst(p.err.Error())+".") }),
		),
		el("p", "row",
			only(batches > 0, func() app.UI {
				return action("button big", say("Add %s", count(batches, "batch", "batches")), p.add, p.turn, "add", batches)
			}),
			only(batches == 0 && wrong > 0 && !p.asked, func() app.UI {
				return action("button", "What is wrong?", func() { p.asked = true }, "wrong")
			}),
			anchor("button plain", "/shelf", "Back to the shelf"),
		),
		fold("", "A whole table at once",
			txt("p", "", "A heading with the names of the columns, then a line for each batch."),
			elem("p", "").Attr("translate", "no").Text(strings.Join(tables.BatchColumns, ", ")), elem("pre", "").TabIndex(0).Attr("translate", "no").Text(example),
			field("The table", elem("textarea", "").ID("many").Attr("rows", 7).Text(p.text).On("input", func(ctx app.Context, e app.Event) {
				p.text = typed(ctx)
			}, app.EventScope(p.turn))),
			el("p", "row",
				action("button", "Look at it", func() {
					if !tables.HasHeading(p.text) {
						p.err = errors.New("line 1: it names no columns")
						return
					}
					p.take(p.text, 0, 0)
				}, p.turn, "look"),
				action("button plain", "Choose a CSV file", func() {
					promised(p.ctx, device().Call("choose", ".csv,text/csv,text/plain", 8<<20), func(v app.Value) {
						if v.Truthy() {
							p.take(v.Index(1).String(), 0, 0)
						}
					}, func(text string) { p.err = fmt.Errorf("%s", text) })
				}, p.turn, "file"),
			),
		),
		datalist("foods", len(rules.Catalogue), func(i int) string { return rules.Catalogue[i].Name }),
		datalist("sizes", len(record.Sizes), func(i int) string { return record.Sizes[i].ID }),
		p.placeList(),
	)
}

// datalist is what a field suggests.
func datalist(id string, n int, text func(i int) string) app.UI {
	return elem("datalist", "").ID(id).Body(each(n, func(i int) app.UI { return elem("option", "").Attr("value", text(i)) })...)
}

func (p *manyPage) placeList() app.UI {
	places := p.house.shelf.PlaceOrder()
	return datalist("places", len(places), func(i int) string { return places[i].Name })
}

// suggests are the lists behind the columns.
var suggests = map[string]string{"product": "foods", "size": "sizes", "place": "places"}

// headings are the columns in words.
var headings = map[string]string{"product": "food", "method": "heated in", "kind": "which kind"}

// grid is the rows and columns, each cell a field.
func (p *manyPage) grid(rows []*tables.BatchRow) app.UI {
	shown := p.columns()
	heading := func(name string) string {
		if h, ok := headings[name]; ok {
			return local(h)
		}
		return local(name)
	}
	// What was typed into a field stays in it, whatever the row holds then: a grid that
	// was filled or emptied is one of fresh fields.
	fresh := "div"
	if p.turn%2 == 1 {
		fresh = "section"
	}
	return elem(fresh, "table-box").Role("region").Aria("label", local("The batches")).TabIndex(0).Body(el("table", "many",
		el("thead", "", el("tr", "", each(len(shown), func(i int) app.UI { return app.Elem("th").Text(upperFirst(heading(shown[i]))) })...)),
		el("tbody", "", each(min(len(rows), mostGrid), func(i int) app.UI {
			var wrong map[string]string
			if rows[i] != nil && p.asked {
				wrong = rows[i].Wrong()
			}
			return el("tr", "", each(len(shown), func(k int) app.UI {
				at := slices.Index(tables.BatchColumns, shown[k])
				set := func(v string) { p.cells[i][at] = v }
				bad := wrong[shown[k]]
				id := fmt.Sprintf("wrong-%d-%d", i, k)
				cell := elem("input", "").Attr("type", "text").Attr("value", p.cells[i][at]).Attr("autocomplete", "off").Attr("maxlength", 2000).
					Aria("label", say("Row %d, %s", i+1, heading(shown[k]))).
					On("change", func(ctx app.Context, e app.Event) { set(typed(ctx)) }, app.EventScope("cell", i, k, p.turn)).
					On("paste", func(ctx app.Context, e app.Event) {
						data := e.Get("clipboardData")
						if !data.Truthy() {
							return
						}
						if text := data.Call("getData", "text").String(); strings.ContainsAny(strings.TrimSpace(text), "\t\n") {
							e.PreventDefault()
							p.take(text, i, k)
						}
					}, app.EventScope("paste", i, k, p.turn))
				if list := suggests[shown[k]]; list != "" {
					cell = cell.Attr("list", list)
				}
				if bad != "" {
					cell = cell.Aria("invalid", "true").Aria("describedby", id)
				}
				var offer []string
				if bad != "" && shown[k] == "product" {
					offer = rows[i].Offer
				}
				return el("td", "", cell,
					only(bad != "", func() app.UI { return elem("small", "wrong").ID(id).Text(upperFirst(bad)) }),
					el("div", "chips", each(len(offer), func(n int) app.UI {
						name := offer[n]
						return elem("button", "chip").Attr("type", "button").Text(local(name)).On("click", func(app.Context, app.Event) {
							set(name)
							p.turn++
						}, app.EventScope(i, name))
					})...),
					only(shown[k] == "date" && bad == "" && rows[i] != nil && rows[i].Batch != nil && p.cells[i][at] != "" && rows[i].Wrong()["date"] == "", func() app.UI {
						return elem("small", "").Text(dayWords(rows[i].Batch.Made))
					}),
				)
			})...)
		})...),
	))
}

// add keeps the batches without a mistake, with their jars and places: all of
// them or none. Only rows with a mistake stay.
func (p *manyPage) add() {
	if p.busy {
		return
	}
	now := time.Now()
	places := map[string]string{}
	for _, place := range p.house.shelf.PlaceOrder() {
		places[strings.ToLower(place.Name)] = place.ID
	}
	var records []record.Record
	fail := func(err error) { p.house.complain(plain(err)) }
	batches := 0
	var left [][]string
	for i, r := range p.rows(now) {
		if r == nil {
			continue
		}
		if r.Err != nil {
			left = append(left, p.cells[i])
			continue
		}
		name := cmpOr(r.Place, "Shelf 1")
		into, ok := places[strings.ToLower(name)]
		if !ok {
			place, err := record.NewPlace(name, now)
			if err != nil {
				fail(err)
				return
			}
			place.Order = len(places)
			into = place.ID
			places[strings.ToLower(name)] = into
			records = append(records, place)
		}
		if feet := p.house.settings.AltitudeFeet; r.Batch.Feet == nil && feet != nil {
			here := *feet
			r.Batch.Feet = &here
		}
		jars, err := newJars(r.Batch, into, now)
		if err != nil {
			fail(err)
			return
		}
		records = append(append(records, r.Batch), jars...)
		batches++
	}
	p.house.send(p.ctx, &p.busy, func() {
		p.said = say("Added: %s.", count(batches, "batch", "batches"))
		if n := len(left); n > 0 {
			p.said = say("Added: %s. %s here still, to be put right.", count(batches, "batch", "batches"), count(n, "row is", "rows are"))
		}
		p.cells, p.text, p.asked, p.err = left, "", len(left) > 0, nil
		p.grow(max(0, emptyRows-len(left)))
		p.turn++
		focus(p.ctx, "title")
	}, records...)
}
