package batch

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// ManyPage records many batches at once, in a grid that can be typed or pasted into.
// Each mistake is shown in its cell; good rows are saved, and the others stay.
type ManyPage struct {
	app.Compo
	House *house.House

	ctx   app.Context
	ready bool
	said  prose.Text
	busy  bool // the rows are being added
	turn  int  // changes to make each form a fresh one
	all   bool // choice of columns is open
	text  string
	cells [][]string // the cells of each row, in the order of tables.BatchColumns
	asked bool       // mistakes are shown
	err   error      // what is wrong with a table that can't be read at all
}

// usualColumns are the columns shown at first.
var usualColumns = []string{"product", "date", "jars", "size", "method", "minutes", "place"}

// emptyRows is how many rows the grid starts with, and mostGrid the most that are
// shown.
const emptyRows, mostGrid = 3, 100

// example is a table to try.
const example = "product,date,jars,size,method,minutes,pressure,gauge,altitude,recipe,place\npeaches,2026-08-14,7,quart,boiling-water,30,,,800,published,Cellar\ngreen-beans,2026-07-20,9,pint,pressure-canner,20,11,dial,800,published,Cellar"

func (p *ManyPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/many") {
		return
	}
	*p = ManyPage{Compo: p.Compo, House: p.House, ctx: ctx, ready: p.ready, turn: p.turn + 1}
	p.grow(emptyRows)
	p.House.WithShelf(ctx, func(app.Context) { p.ready = true })
}

// grow adds empty rows.
func (p *ManyPage) grow(rows int) {
	for range rows {
		p.cells = append(p.cells, make([]string, len(tables.BatchColumns)))
	}
}

// blank reports whether a row has no text.
func blank(cells []string) bool {
	return !slices.ContainsFunc(cells, func(c string) bool { return strings.TrimSpace(c) != "" })
}

// rows reads every row; blank ones give nil.
func (p *ManyPage) rows(now time.Time) []*tables.BatchRow {
	first := ui.DayFirst()
	rows := make([]*tables.BatchRow, len(p.cells))
	for i, cells := range p.cells {
		if !blank(cells) {
			r := tables.ReadRow(cells, first, now, tables.Words{In: ui.Reader, Find: parts.Search})
			rows[i] = &r
		}
	}
	return rows
}

// take puts a text into the grid: a table with a heading by its columns, anything else
// cell by cell, starting at a row and column.
func (p *ManyPage) take(text string, row, column int) {
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

// columns are the columns shown.
func (p *ManyPage) columns() []string {
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

func (p *ManyPage) Render() app.UI {
	if !p.ready {
		return ui.Frame("/shelf", ui.Title("Enter many at once"), ui.Txt("p", "", "Opening what is kept on this device…"))
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
	return ui.Frame("/shelf",
		p.House.Notices(),
		ui.Title("Enter many at once"),
		ui.Live("", ui.Only(p.said != "", func() app.UI { return ui.Txt("p", "notice", p.said) })),
		ui.Txt("p", "", "A row for each batch. Write as you are used to: 8 oz, quarts, Aug 14, 8/14/26. Cells copied from a spreadsheet can be pasted into any cell. Only food and date are needed."),
		p.grid(rows),
		ui.El("p", "row",
			ui.Action("button plain", "More rows", func() {
				p.grow(emptyRows)
				p.turn++
			}, p.turn, "rows"),
			ui.Only(!p.all, func() app.UI {
				return ui.Action("button plain", "All columns", func() {
					p.all = true
					p.turn++
				}, p.turn, "columns")
			}),
		),
		ui.Live("",
			ui.Only(p.asked && batches+wrong > 0, func() app.UI {
				return ui.Txt("p", "", ui.Say("%s with %s can be added; %s.", ui.Count(batches, "batch", "batches"), ui.Count(jars, "jar", "jars"), ui.Count(wrong, "row has a mistake", "rows have a mistake")))
			}),
			ui.Only(p.err != nil, func() app.UI { return ui.Txt("p", "notice", prose.Upper(ui.Plain(p.err))) }),
		),
		ui.El("p", "row",
			ui.Only(batches > 0, func() app.UI {
				return ui.Action("button big", ui.Say("Add %s", ui.Count(batches, "batch", "batches")), p.add, p.turn, "add", batches)
			}),
			ui.Only(batches == 0 && wrong > 0 && !p.asked, func() app.UI {
				return ui.Action("button", "What is wrong?", func() { p.asked = true }, "wrong")
			}),
			ui.Anchor("button plain", "/shelf", "Back to the shelf"),
		),
		ui.Fold("", "A whole table at once",
			ui.Txt("p", "", "A heading with the names of the columns, then a line for each batch."),
			ui.Elem("p", "").Attr("translate", "no").Text(strings.Join(tables.BatchColumns, ", ")), ui.Elem("pre", "").TabIndex(0).Attr("translate", "no").Text(example),
			ui.Field("The table", ui.Elem("textarea", "").ID("many").Attr("rows", 7).Text(p.text).On("input", func(ctx app.Context, e app.Event) {
				p.text = ui.Typed(ctx)
			}, app.EventScope(p.turn))),
			ui.El("p", "row",
				ui.Action("button", "Look at it", func() {
					if !tables.HasHeading(p.text) {
						p.err = prose.Errorf("line 1: it names no columns")
						return
					}
					p.take(p.text, 0, 0)
				}, p.turn, "look"),
				ui.Action("button plain", "Choose a CSV file", func() {
					ui.OnPromise(p.ctx, ui.Device().Call("choose", ".csv,text/csv,text/plain", 8<<20), func(v app.Value) {
						if v.Truthy() {
							p.take(v.Index(1).String(), 0, 0)
						}
					}, func(text string) { p.err = fmt.Errorf("%s", text) })
				}, p.turn, "file"),
			),
		),
		datalist("foods", len(rules.Catalog), func(i int) string { return rules.Catalog[i].Name.String() }),
		datalist("sizes", len(record.Sizes), func(i int) string { return record.Sizes[i].ID }),
		p.placeList(),
	)
}

// datalist holds the suggestions for a field.
func datalist(id string, n int, text func(i int) string) app.UI {
	return ui.Elem("datalist", "").ID(id).Body(ui.Each(n, func(i int) app.UI { return ui.Elem("option", "").Attr("value", text(i)) })...)
}

func (p *ManyPage) placeList() app.UI {
	places := p.House.Shelf.PlaceOrder()
	return datalist("places", len(places), func(i int) string { return places[i].Name })
}

// suggests are the lists behind the columns.
var suggests = map[string]string{"product": "foods", "size": "sizes", "place": "places"}

// headings are the columns in words.
var headings = map[string]prose.Text{"product": "food", "date": "date", "jars": "jars", "size": "size", "method": "heated in", "minutes": "minutes", "pressure": "pressure", "gauge": "gauge",
	"altitude": "altitude", "recipe": "recipe", "acid": "acid", "extras": "extras", "packed": "packed", "closure": "closure", "kind": "which kind", "lid lot": "lid lot", "place": "place", "title": "title", "notes": "notes"}

// grid is the table of rows and columns, with a field in each cell.
func (p *ManyPage) grid(rows []*tables.BatchRow) app.UI {
	shown := p.columns()
	// A field keeps what was typed into it, whatever its row holds later, so a grid
	// that was filled or emptied gets fresh fields.
	fresh := "div"
	if p.turn%2 == 1 {
		fresh = "section"
	}
	return ui.Elem(fresh, "table-box").Role("region").Aria("label", ui.Local("The batches")).TabIndex(0).Body(ui.El("table", "many",
		ui.El("thead", "", ui.El("tr", "", ui.Each(len(shown), func(i int) app.UI { return ui.Txt("th", "", prose.Upper(headings[shown[i]])) })...)),
		ui.El("tbody", "", ui.Each(min(len(rows), mostGrid), func(i int) app.UI {
			var wrong map[string]prose.Text
			if rows[i] != nil && p.asked {
				wrong = rows[i].Wrong()
			}
			return ui.El("tr", "", ui.Each(len(shown), func(k int) app.UI {
				at := slices.Index(tables.BatchColumns, shown[k])
				set := func(v string) { p.cells[i][at] = v }
				bad := wrong[shown[k]]
				id := fmt.Sprintf("wrong-%d-%d", i, k)
				cell := ui.Elem("input", "").Attr("type", "text").Attr("value", p.cells[i][at]).Attr("autocomplete", "off").Attr("maxlength", 2000).
					Aria("label", ui.Local(ui.Say("Row %d, %s", i+1, headings[shown[k]]))).
					On("change", func(ctx app.Context, e app.Event) { set(ui.Typed(ctx)) }, app.EventScope("cell", i, k, p.turn)).
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
				var offer []prose.Text
				if bad != "" && shown[k] == "product" {
					if offer = rows[i].Offer; len(offer) > 0 {
						bad = "Which of these is it?" // their names are on the buttons below
					}
				}
				return ui.El("td", "", cell,
					ui.Only(bad != "", func() app.UI { return ui.Elem("small", "wrong").ID(id).Text(ui.Local(prose.Upper(bad))) }),
					ui.El("div", "chips", ui.Each(len(offer), func(n int) app.UI {
						name := offer[n]
						return ui.Elem("button", "chip").Attr("type", "button").Text(ui.Local(name)).On("click", func(app.Context, app.Event) {
							set(name.String())
							p.turn++
						}, app.EventScope(i, name))
					})...),
					ui.Only(shown[k] == "date" && bad == "" && rows[i] != nil && rows[i].Batch != nil && p.cells[i][at] != "" && rows[i].Wrong()["date"] == "", func() app.UI {
						return ui.Elem("small", "").Text(ui.DayWords(rows[i].Batch.Made))
					}),
				)
			})...)
		})...),
	))
}

// add saves the batches without a mistake, with their jars and places: all of
// them or none. Only rows with a mistake stay.
func (p *ManyPage) add() {
	if p.busy {
		return
	}
	now := time.Now()
	places := map[string]string{}
	for _, place := range p.House.Shelf.PlaceOrder() {
		places[strings.ToLower(place.Name)] = place.ID
	}
	var records []record.Record
	fail := func(err error) { p.House.Complain(ui.Plain(err)) }
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
		name := ui.CmpOr(r.Place, ui.Local("Shelf 1"))
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
		if feet := p.House.Settings.AltitudeFeet; r.Batch.Feet == nil && feet != nil {
			here := *feet
			r.Batch.Feet = &here
		}
		jars, err := record.NewJars(r.Batch, into, now)
		if err != nil {
			fail(err)
			return
		}
		records = append(append(records, r.Batch), jars...)
		batches++
	}
	p.House.Send(p.ctx, &p.busy, func() {
		p.said = ui.Say("Added: %s.", ui.Count(batches, "batch", "batches"))
		if n := len(left); n > 0 {
			p.said = ui.Say("Added: %s. %s still to fix.", ui.Count(batches, "batch", "batches"), ui.Count(n, "row is", "rows are"))
		}
		p.cells, p.text, p.asked, p.err = left, "", len(left) > 0, nil
		p.grow(max(0, emptyRows-len(left)))
		p.turn++
		ui.Focus(p.ctx, "title")
	}, records...)
}
