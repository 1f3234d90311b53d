package app

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/label"
	"larderlamp/app/record"
)

// labelsPage prints sheets of labels, each with a code that opens its jar here,
// without a connection too.
type labelsPage struct {
	app.Compo
	house *household

	ctx    app.Context
	ready  bool
	batch  string // only this batch
	jar    string // only this jar
	chosen map[string]bool
	stock  int
	start  int // first free label of the first sheet, from 1
	turn   int
}

func (p *labelsPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/labels") {
		return
	}
	q := ctx.Page().URL().Query()
	p.ctx, p.batch, p.jar, p.start, p.stock = ctx, q.Get("batch"), q.Get("jar"), 1, usualPaper()
	p.turn++
	p.chosen = map[string]bool{}
	p.house.shelved(ctx, func(app.Context) {
		p.ready = true
		if p.batch != "" {
			p.chosen[p.batch] = true
		}
	})
}

// loopback tells whether the guide was opened from an address that no other
// device reaches.
func loopback() bool {
	if !app.IsClient {
		return false
	}
	host := app.Window().Get("location").Get("hostname").String()
	return host == "localhost" || strings.HasSuffix(host, ".localhost") || strings.HasPrefix(host, "127.") || host == "[::1]"
}

// usualPaper is the first paper of the size that is usual where the reader lives:
// Letter in the countries of North America and a few others, and A4 elsewhere. Common
// practice, no source.
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
func (p *labelsPage) labels() (ls []label.Label) {
	s := p.house.shelf
	add := func(j *record.Jar) {
		b := s.Batches[j.Batch]
		st := j.Standing()
		if b == nil || st.Stage == record.IsGone || len(ls) == mostLabels {
			return
		}
		ls = append(ls, label.Label{
			Product: b.Name(),
			Line2:   say("jar %d of %d", j.Number, b.Count),
			Date:    dayWords(b.Made),
			Short:   j.Code(),
			Link:    app.Window().Get("location").Get("origin").String() + link("/jar?id="+j.ID),
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

func (p *labelsPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("Labels"), txt("p", "", "Opening what is kept on this device…"))
	}
	ls := p.labels()
	sheets, err := label.Sheets(label.Stocks[p.stock], p.start-1, ls)
	batches := p.house.shelf.BatchOrder()
	return frame("/shelf",
		el("div", "noprint",
			title("Labels"),
			p.house.notices(),
			only(loopback(), func() app.UI {
				return txt("p", "notice", say("The codes on these labels lead to %s, which only this computer reaches: on a phone they open nothing. Before you print, open this page at the address that your phones use.", app.Window().Get("location").Get("origin").String()))
			}),
			txt("p", "", "Each label has the product, the date, a square code for a camera, and a short code to type. “Scan a label” on the shelf reads either and opens the jar, on any device that has this guide and the jar."),
			only(phoneKeepsTwo(), func() app.UI {
				return txt("p", "notice", "The camera app of an iPhone or iPad opens a label in the browser. The guide on the Home Screen keeps its own jars, which the browser does not see: scan from there, with “Scan a label”.")
			}),
			only(p.jar == "", func() app.UI {
				return fold("", say("Batches (%v chosen)", len(p.chosen)), el("div", "choose", each(min(len(batches), 60), func(i int) app.UI {
					b := batches[i]
					return tick(p.turn, say("%s, %s", b.Name(), dayWords(b.Made)), p.chosen[b.ID], func(on bool) {
						if on {
							p.chosen[b.ID] = true
						} else {
							delete(p.chosen, b.ID)
						}
					})
				})...))
			}),
			el("div", "grid",
				field("Paper", elem("select", "").On("change", func(ctx app.Context, e app.Event) { p.stock, _ = strconv.Atoi(picked(ctx)) }).
					Body(each(len(label.Stocks), func(i int) app.UI { return option(fmt.Sprint(i), label.Stocks[i].Name, i == p.stock) })...)),
				field("First free label on the sheet", input("number", fmt.Sprint(p.start), "").Attr("min", 1).Attr("max", 100).
					On("change", func(ctx app.Context, e app.Event) {
						n, _ := strconv.Atoi(typed(ctx))
						p.start = max(1, min(n, label.Stocks[p.stock].Columns*label.Stocks[p.stock].Rows))
					}, app.EventScope(p.turn))),
			),
			only(err != nil, func() app.UI { return txt("p", "notice", upperFirst(plain(err))) }),
			only(len(ls) == mostLabels, func() app.UI {
				return txt("p", "notice", say("These are the first %v labels. Print them, then choose the rest.", mostLabels))
			}),
			el("p", "row",
				only(err == nil && len(ls) > 0, func() app.UI {
					return action("button big", say("Print %s on %s", count(len(ls), "label", "labels"), count(len(sheets), "sheet", "sheets")), func() { app.Window().Call("print") }, len(ls))
				}),
				anchor("button plain", "/shelf", "Back to the shelf"),
			),
			only(len(ls) == 0, func() app.UI { return txt("p", "hint", "Choose a batch.") }),
			txt("p", "hint", "Print at 100 %, without margins of the printer's own."),
		),
		elem("div", "sheets").Role("region").Aria("label", local("The sheets as they will be printed")).TabIndex(0).Body(each(len(sheets), func(i int) app.UI { return el("div", "sheet", app.Raw(sheets[i])) })...),
	)
}
