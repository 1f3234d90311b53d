package shelf

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/house"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// StockPage says what there is in stock, how long it lasts, and how the shelf
// has aged, as charts with the table behind each.
type StockPage struct {
	app.Compo
	House *house.House

	ready bool
}

func (p *StockPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/stock") {
		return
	}
	p.House.WithShelf(ctx, func(app.Context) { p.ready = true })
}

// ages name the parts of the stock by age.
var ages = []prose.Text{"up to 1 year", "1 to 2 years", "older"}

func (p *StockPage) Render() app.UI {
	if !p.ready {
		return ui.Frame("/shelf", ui.Title("What you have"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	stocks := p.House.Shelf.Stocks(time.Now())
	places := p.House.Shelf.PlaceOrder()
	total, paced := 0, false
	for i := range stocks {
		total += stocks[i].Shelf
		paced = paced || stocks[i].Left >= 0
	}
	return ui.Frame("/shelf",
		p.House.Notices(),
		ui.Title("What you have"),
		ui.Only(total == 0, func() app.UI {
			return ui.El("div", "", ui.Txt("p", "", "There are no jars yet."), ui.El("p", "row", ui.Anchor("button", "/batch", "Add a batch")))
		}),
		ui.Only(total > 0, func() app.UI {
			return ui.Txt("p", "", ui.Say("%s of %s on the shelf.", ui.Count(total, "jar", "jars"), ui.Count(len(stocks), "product", "products")))
		}),
		p.says(stocks),
		ui.Only(total > 0, func() app.UI {
			return ui.El("section", "card",
				ui.Txt("h2", "", "By age"),
				ui.El("div", "chart-box", app.Raw(ageChart(stocks))),
				ui.Fold("", "The table behind it", ui.Table([]prose.Text{"Product", ages[0], ages[1], ages[2], "in all"}, len(stocks), func(i int) []prose.Text {
					s := &stocks[i]
					return []prose.Text{s.Product.Name, ui.Number(s.ByAge[0]), ui.Number(s.ByAge[1]), ui.Number(s.ByAge[2]), ui.Number(s.Shelf)}
				})),
			)
		}),
		ui.Only(paced, func() app.UI {
			return ui.El("section", "card",
				ui.Txt("h2", "", "How long it lasts"),
				ui.Txt("p", "", "At the pace of the last twelve months, or since you began to record. Only what you mark as opened or eaten counts."),
				ui.El("div", "chart-box", app.Raw(leftChart(stocks))),
				ui.Fold("", "The table behind it", ui.Table([]prose.Text{"Product", "eaten", "in months", "months left"}, len(stocks), func(i int) []prose.Text {
					s := &stocks[i]
					left := prose.Text("no pace yet")
					if s.Left >= 0 {
						left = prose.Own(fmt.Sprintf("%.1f", s.Left))
					}
					return []prose.Text{s.Product.Name, ui.Number(s.Eaten), prose.Own(fmt.Sprintf("%.1f", s.Months)), left}
				})),
			)
		}),
		p.aging(),
		ui.El("div", "", ui.Each(len(places), func(i int) app.UI { return p.readings(places[i]) })...),
	)
}

// says lists the foods with too much in stock and those running out.
func (p *StockPage) says(stocks []pantry.Stock) app.UI {
	var many, few []prose.Text
	for i := range stocks {
		switch stocks[i].Suggestion() {
		case pantry.TooMany:
			many = append(many, stocks[i].Product.Name)
		case pantry.RunningOut:
			few = append(few, stocks[i].Product.Name)
		}
	}
	list := func(words prose.Text, names []prose.Text) app.UI {
		return ui.Only(len(names) > 0, func() app.UI {
			ui.Sort(names)
			return ui.El("div", "notice", ui.Txt("p", "", words), ui.El("ul", "", ui.Texts(names)...))
		})
	}
	return ui.El("div", "", list("More than you eat in two years:", many), list("Gone within two months at this pace:", few))
}

// mostBars is how many products a chart shows: those with the most jars.
const mostBars = 20

// largest returns the stocks with the most jars, the largest first.
func largest(stocks []pantry.Stock, fits func(*pantry.Stock) bool) []pantry.Stock {
	var some []pantry.Stock
	for i := range stocks {
		if fits(&stocks[i]) {
			some = append(some, stocks[i])
		}
	}
	slices.SortStableFunc(some, func(a, b pantry.Stock) int { return cmp.Compare(b.Shelf, a.Shelf) })
	return some[:min(len(some), mostBars)]
}

func ageChart(stocks []pantry.Stock) string {
	chart := draw.Bars{Label: "Jars on the shelf by product and age; the table has the numbers", Series: ages, Unit: "jars"}
	for _, s := range largest(stocks, func(s *pantry.Stock) bool { return s.Shelf > 0 }) {
		chart.Rows = append(chart.Rows, draw.Bar{Label: s.Product.Name, Values: []float64{float64(s.ByAge[0]), float64(s.ByAge[1]), float64(s.ByAge[2])}})
	}
	return chart.SVG(ui.Reader)
}

func leftChart(stocks []pantry.Stock) string {
	chart := draw.Bars{Label: "Months that the shelf lasts, by product; the table has the numbers", Unit: "months", Limits: []draw.Limit{{At: 2, Name: "2 months"}, {At: 24, Name: "2 years"}}}
	for _, s := range largest(stocks, func(s *pantry.Stock) bool { return s.Left >= 0 }) {
		chart.Rows = append(chart.Rows, draw.Bar{Label: s.Product.Name, Values: []float64{s.Left}})
	}
	return chart.SVG(ui.Reader)
}

// aging shows how much faster than at 20 °C the jars of each place have aged.
func (p *StockPage) aging() app.UI {
	rows := p.House.Shelf.Aging(time.Now())
	if len(rows) == 0 {
		return ui.El("section", "card", ui.Txt("h2", "", "How the shelf ages"),
			ui.El("p", "", ui.Prose("Say how warm your "), ui.Anchor("", "/places", "places"), ui.Prose(" are. This shows which of them age your jars faster.")))
	}
	chart := draw.Lines{Label: "How fast a jar ages in each place, in days at 20 °C. The table has the numbers.", Unit: "days at 20 °C"}
	for _, r := range rows {
		s := draw.Series{Name: prose.Own(r.Place), Band: true}
		for i, x := range r.Days {
			s.Points = append(s.Points, draw.Point{X: float64(x), Low: r.Low[i], High: r.High[i]})
		}
		chart.Series = append(chart.Series, s)
	}
	last := rows[0].Days[len(rows[0].Days)-1]
	chart.Ticks = []draw.Tick{{X: 0, Name: "a year ago"}, {X: float64(last), Name: "today"}}
	return ui.El("section", "card",
		ui.Txt("h2", "", "How the shelf ages"),
		ui.Txt("p", "", "How much a jar aged in a year in each place, in days at 20 °C. For each 10 °C more, quality falls two to three times as fast. That figure is from memory and for planning only: it is no safety rule."),
		ui.El("div", "chart-box", app.Raw(chart.SVG(ui.Reader))),
		ui.Fold("", "The table behind it", ui.Table([]prose.Text{"Place", "days at 20 °C, at least", "at most", "hours above 35 °C, at most"}, len(rows), func(i int) []prose.Text {
			r := rows[i]
			return []prose.Text{prose.Own(r.Place), prose.Own(fmt.Sprintf("%.0f", r.Low[len(r.Low)-1])), prose.Own(fmt.Sprintf("%.0f", r.High[len(r.High)-1])), prose.Own(fmt.Sprintf("%.0f", r.Hot))}
		})),
	)
}

// readings draws the readings of a place with the limits that matter.
func (p *StockPage) readings(place *record.Place) app.UI {
	a := place.Air
	if a == nil || a.How != record.Days || len(a.Days) < 2 {
		return nil
	}
	first, _ := a.Days[0].Day.Number()
	line := draw.Lines{Label: ui.Say("How cold and how warm %s gets, day by day", place.Name), Unit: "°C", Limits: []draw.Limit{{At: 35, Name: "35 °C, too hot"}, {At: 24, Name: "24 °C, warm"}, {At: 0, Name: "freezing"}}}
	shown := func(tenths int) float64 { return float64(tenths) / 10 }
	if p.House.Settings.Fahrenheit {
		line.Unit, line.Limits = "°F", []draw.Limit{{At: 95, Name: "95 °F, too hot"}, {At: 75, Name: "75 °F, warm"}, {At: 32, Name: "freezing"}}
		shown = func(tenths int) float64 { return record.Fahrenheit(float64(tenths) / 10) }
	}
	band := draw.Series{Name: "between day and night", Band: true}
	for _, r := range a.Days {
		n, _ := r.Day.Number()
		band.Points = append(band.Points, draw.Point{X: float64(n - first), Low: shown(r.Min), High: shown(r.Max)})
	}
	line.Series = []draw.Series{band}
	line.Ticks = []draw.Tick{{X: 0, Name: prose.Own(ui.DayWords(a.Days[0].Day))}, {X: band.Points[len(band.Points)-1].X, Name: prose.Own(ui.DayWords(a.Days[len(a.Days)-1].Day))}}
	last := a.Days[max(0, len(a.Days)-60):]
	return ui.El("section", "card",
		ui.Txt("h2", "", ui.Say("Temperature: %s", place.Name)),
		ui.El("div", "chart-box", app.Raw(line.SVG(ui.Reader))),
		ui.Fold("", "The table behind it", ui.Table([]prose.Text{"Day", "Lowest", "Highest"}, len(last), func(i int) []prose.Text {
			r := last[len(last)-1-i]
			return []prose.Text{prose.Own(ui.DayWords(r.Day)), p.House.Degrees(r.Min), p.House.Degrees(r.Max)}
		})),
		ui.Only(len(a.Days) > len(last), func() app.UI { return ui.Txt("p", "hint", "The table has the last 60 days; all are in the backup.") }),
	)
}
