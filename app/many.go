package app

import (
	"fmt"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
)

// manyPage takes many batches at once, from a paste or a file: it shows first
// what would be added and what is wrong, line by line.
type manyPage struct {
	app.Compo
	house *household

	ctx   app.Context
	ready bool
	said  string
	turn  int // makes each form a fresh one
	text  string
	rows  []pantry.ManyRow
	err   error
	read  bool
}

// example is a table that can be tried.
const example = "product,date,jars,size,method,minutes,pressure,gauge,altitude,recipe,place\npeaches,2026-08-14,7,quart,boiling-water,30,,,800,published,Cellar\ngreen-beans,2026-07-20,9,pint,pressure-canner,20,11,dial,800,published,Cellar"

func (p *manyPage) look(now time.Time) {
	p.rows, p.err = pantry.ReadBatches([]byte(p.text), now)
	p.read = true
}

// good counts the lines that can be added, and their jars.
func (p *manyPage) good() (batches, jars int) {
	for i := range p.rows {
		if p.rows[i].Err == nil {
			batches++
			jars += p.rows[i].Batch.Count
		}
	}
	return
}

func (p *manyPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/many") {
		return
	}
	p.ctx = ctx
	p.house.shelved(ctx, func(app.Context) { p.ready = true })
}

func (p *manyPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("Enter many at once"), txt("p", "", "Opening what is kept on this device…"))
	}
	batches, jars := p.good()
	return frame("/shelf",
		title("Enter many at once"),
		p.house.notices(),
		live("", only(p.said != "", func() app.UI { return txt("p", "notice", p.said) })),
		txt("p", "", "Paste a table, or take a CSV file: a heading with the names of the columns, then a line for each batch. Only product and date are needed."),
		fold("", "The columns, with an example", elem("p", "").Attr("translate", "no").Text(strings.Join(pantry.ManyColumns, ", ")), elem("pre", "").TabIndex(0).Attr("translate", "no").Text(example)),
		field("The table", elem("textarea", "").ID("many").Attr("rows", 7).Text(p.text).On("input", func(ctx app.Context, e app.Event) {
			p.text, p.read = typed(ctx), false
		}, app.EventScope(p.turn))),
		el("p", "row",
			action("button", "Look at it", func() { p.look(time.Now()) }, p.turn, "look"),
			action("button plain", "Take a CSV file", func() {
				promised(p.ctx, device().Call("choose", ".csv,text/csv,text/plain", 8<<20), func(v app.Value) {
					if v.Truthy() {
						p.text = v.Index(1).String()
						p.look(time.Now())
						p.turn++
					}
				}, func(text string) { p.err, p.read = fmt.Errorf("%s", text), true })
			}, p.turn, "file"),
			anchor("button plain", "/shelf", "Back to the shelf"),
		),
		live("",
			only(p.read && p.err != nil, func() app.UI { return txt("p", "notice", upperFirst(p.err.Error())+".") }),
			only(p.read && p.err == nil, func() app.UI {
				shown := p.rows[:min(len(p.rows), 100)]
				return el("div", "",
					txt("p", "", say("%s with %s can be added; %s wrong.", count(batches, "batch", "batches"), count(jars, "jar", "jars"), count(len(p.rows)-batches, "line is", "lines are"))),
					table([]string{"Line", "Batch", "Process"}, len(shown), func(i int) []string {
						r := &shown[i]
						if r.Err != nil {
							return []string{fmt.Sprint(r.Line), strings.ReplaceAll(r.Err.Error(), "\n", "; "), "not added"}
						}
						return []string{fmt.Sprint(r.Line), fmt.Sprintf("%s, %s, %s", r.Batch.Name(), dayWords(r.Batch.Made), count(r.Batch.Count, "jar", "jars")), r.Batch.Process(p.house.settings.AltitudeFeet).Possible.String()}
					}),
					only(batches > 0, func() app.UI {
						return el("p", "row", action("button big", say("Add %s", count(batches, "batch", "batches")), p.add, p.turn, "add"))
					}),
				)
			}),
		),
	)
}

// add keeps the batches without a fault, with their jars and places: all of
// them or none.
func (p *manyPage) add() {
	now := time.Now()
	places := map[string]string{}
	for _, place := range p.house.shelf.PlaceOrder() {
		places[strings.ToLower(place.Name)] = place.ID
	}
	var records []pantry.Record
	fail := func(err error) { p.house.complain(plain(err)) }
	batches := 0
	for i := range p.rows {
		r := &p.rows[i]
		if r.Err != nil {
			continue
		}
		name := cmpOr(r.Place, "Shelf 1")
		into, ok := places[strings.ToLower(name)]
		if !ok {
			place, err := pantry.NewPlace(name, now)
			if err != nil {
				fail(err)
				return
			}
			place.Order = len(places)
			into = place.ID
			places[strings.ToLower(name)] = into
			records = append(records, place)
		}
		jars, err := newJars(r.Batch, into, now)
		if err != nil {
			fail(err)
			return
		}
		records = append(append(records, r.Batch), jars...)
		batches++
	}
	p.house.keep(p.ctx, func() {
		p.said = say("Added: %s.", count(batches, "batch", "batches"))
		p.text, p.rows, p.read = "", nil, false
		p.turn++
		focus(p.ctx, "title")
	}, records...)
}
