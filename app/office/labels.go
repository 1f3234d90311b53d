package office

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/label"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// LabelsPage prints sheets of labels, each with a code that opens its jar here,
// even without a connection.
type LabelsPage struct {
	app.Compo
	House *house.House

	ctx    app.Context
	ready  bool
	batch  string // only this batch
	jar    string // only this jar
	chosen map[string]bool
	stock  int
	start  int // first free label of the first sheet, from 1
	turn   int
}

func (p *LabelsPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/labels") {
		return
	}
	q := ctx.Page().URL().Query()
	p.ctx, p.batch, p.jar, p.start, p.stock = ctx, q.Get("batch"), q.Get("jar"), 1, usualPaper()
	p.turn++
	p.chosen = map[string]bool{}
	p.House.WithShelf(ctx, func(app.Context) {
		p.ready = true
		if p.batch != "" {
			p.chosen[p.batch] = true
		}
	})
}

// loopback reports whether the guide was opened from an address that no other
// device can reach.
func loopback() bool {
	if !app.IsClient {
		return false
	}
	host := app.Window().Get("location").Get("hostname").String()
	return host == "localhost" || strings.HasSuffix(host, ".localhost") || strings.HasPrefix(host, "127.") || host == "[::1]"
}

// usualPaper is the first paper of the usual size where the reader lives: Letter in
// North America and a few other countries, A4 elsewhere. Common practice, no source.
func usualPaper() int {
	if app.IsClient && app.Window().Get("larderLetter").Truthy() {
		for i := range label.Stocks {
			if strings.HasPrefix(label.Stocks[i].ID, "letter") {
				return i
			}
		}
	}
	return 0
}

// mostLabels is how many labels are made at once.
const mostLabels = 400

// labels are those of the jars chosen.
func (p *LabelsPage) labels() (ls []label.Label) {
	s := p.House.Shelf
	add := func(j *record.Jar) {
		b := s.Batches[j.Batch]
		st := j.Standing()
		if b == nil || st.Stage == record.IsGone || len(ls) == mostLabels {
			return
		}
		ls = append(ls, label.Label{
			Product: ui.Local(b.Name()),
			Line2:   ui.Local(ui.Say("jar %d of %d", j.Number, b.Count)),
			Date:    ui.DayWords(b.Made),
			Short:   j.Code(),
			Link:    app.Window().Get("location").Get("origin").String() + ui.Link("/jar?id="+j.ID),
		})
	}
	if j := s.Jars[p.jar]; j != nil {
		add(j)
		return
	}
	for _, b := range s.BatchOrder() {
		if p.chosen[b.ID] {
			for _, j := range s.OfBatch(b.ID) {
				add(j)
			}
		}
	}
	return
}

func (p *LabelsPage) Render() app.UI {
	if !p.ready {
		return ui.Frame("/shelf", ui.Title("Labels"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	ls := p.labels()
	sheets, err := label.Sheets(label.Stocks[p.stock], p.start-1, ls, func(n int) string { return ui.Local(ui.Say("A sheet of %s", ui.Count(n, "label", "labels"))) })
	batches := p.House.Shelf.BatchOrder()
	size, _, _ := strings.Cut(label.Stocks[p.stock].ID, "-") // one style for each kind of paper
	return ui.Frame("/shelf",
		ui.El("div", "noprint",
			p.House.Notices(),
			ui.Title("Labels"),
			ui.Only(loopback(), func() app.UI {
				return ui.Txt("p", "notice", ui.Say("These codes lead to %s, which only this computer can reach. On a phone they open nothing. Before you print, open this page at the address that your phones use.", app.Window().Get("location").Get("origin").String()))
			}),
			ui.Txt("p", "", "Each label has the name, the date, and a line to write on. It has a square code for a camera and a short one to type. “Scan a label” on the shelf reads either code and opens the jar. It works on every device that has this guide and the jar."),
			ui.Only(ui.PhoneKeepsTwo(), func() app.UI {
				return ui.Txt("p", "notice", "The camera app of an iPhone or iPad opens a label in the browser. The guide on the Home Screen keeps its own jars, and the browser does not see them. Scan from there, with “Scan a label”.")
			}),
			ui.Only(p.jar == "", func() app.UI {
				return ui.Fold("", ui.Say("Batches (%v chosen)", len(p.chosen)), ui.El("div", "choose", ui.Each(min(len(batches), 60), func(i int) app.UI {
					b := batches[i]
					return ui.Tick(p.turn, ui.Say("%s, %s", b.Name(), ui.DayWords(b.Made)), p.chosen[b.ID], func(on bool) {
						if on {
							p.chosen[b.ID] = true
						} else {
							delete(p.chosen, b.ID)
						}
					})
				})...))
			}),
			ui.El("div", "grid",
				ui.Field("Paper", ui.Elem("select", "").On("change", func(ctx app.Context, e app.Event) { p.stock, _ = strconv.Atoi(ui.Picked(ctx)) }).
					Body(ui.Each(len(label.Stocks), func(i int) app.UI { return ui.Option(fmt.Sprint(i), label.Stocks[i].Name, i == p.stock) })...)),
				ui.Field("First free label on the sheet", ui.Input("number", fmt.Sprint(p.start), "").Attr("min", 1).Attr("max", 100).
					On("change", func(ctx app.Context, e app.Event) {
						n, _ := strconv.Atoi(ui.Typed(ctx))
						p.start = max(1, min(n, label.Stocks[p.stock].Columns*label.Stocks[p.stock].Rows))
					}, app.EventScope(p.turn))),
			),
			ui.Only(err != nil, func() app.UI { return ui.Txt("p", "notice", prose.Upper(ui.Plain(err))) }),
			ui.Only(len(ls) == mostLabels, func() app.UI {
				return ui.Txt("p", "notice", ui.Say("These are the first %v labels. Print them, then choose the rest.", mostLabels))
			}),
			ui.El("p", "row",
				ui.Only(err == nil && len(ls) > 0, func() app.UI {
					return ui.Action("button big", ui.Say("Print %s on %s", ui.Count(len(ls), "label", "labels"), ui.Count(len(sheets), "sheet", "sheets")), func() { app.Window().Call("print") }, len(ls))
				}),
				ui.Anchor("button plain", "/shelf", "Back to the shelf"),
			),
			ui.Only(len(ls) == 0, func() app.UI { return ui.Txt("p", "hint", "Choose a batch.") }),
			ui.Txt("p", "hint", "Print at 100 %, with no margins added by the printer."),
		),
		ui.Elem("div", "sheets").Role("region").Aria("label", ui.Local("The sheets as they will be printed")).TabIndex(0).Body(ui.Each(len(sheets), func(i int) app.UI { return ui.El("div", "sheet "+size, app.Raw(sheets[i])) })...),
	)
}
