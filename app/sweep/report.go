package sweep

import (
	"fmt"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/pantry"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/prose"
	"larderlamp/rules/tally"
)

// percent writes a share.
func percent(v float64) prose.Text { return ui.Say("%.1f %%", v*100) }

// chance writes a probability.
func chance(p float64) prose.Text {
	if p < 0.001 {
		return "below 0.001"
	}
	return ui.Say("%.3f", p)
}

// showReport is what a sweep found, what to do, and what it shows: one page to
// print.
func (p *Page) showReport() app.UI {
	s := p.House.Shelf
	sw := s.Sweeps[p.report]
	if sw == nil {
		return ui.El("div", "", ui.Title("This sweep is not on this device"), ui.El("p", "", ui.Anchor("button", "/sweep", "The sweep")))
	}
	if p.made == nil || p.made.Sweep != sw {
		made, err := walk.NewReport(s.Pantry, sw, time.Now())
		if err != nil {
			return ui.El("div", "", ui.Title("The report could not be made"), ui.Txt("p", "notice", ui.Plain(err)))
		}
		p.made = made
	}
	r := p.made
	due := ui.DayWords(walk.NextDue(s.Pantry, time.Now()))
	day := record.DayOf(sw.Begun)
	if sw.Ended != nil {
		day = record.DayOf(*sw.Ended)
	}
	return ui.El("article", "report",
		ui.Title(ui.Say("Sweep of %s", ui.DayWords(day))),
		ui.El("section", "card felt",
			ui.Txt("p", "lead", tallyWords(r)),
			ui.Only(r.Left > 0, func() app.UI {
				return ui.Txt("p", "", ui.Say("%s not looked at this time.", ui.Count(r.Left, "jar was", "jars were")))
			}),
			ui.Only(r.Added > 0, func() app.UI {
				return ui.Txt("p", "", ui.Say("%s found that the list did not have.", ui.Count(r.Added, "jar was", "jars were")))
			}),
			ui.Txt("p", "", p.savedWords(r)),
			ui.Txt("p", "", ui.Say("The next sweep is due %s.", due)),
			ui.El("p", "row noprint",
				ui.Action("button", "Put it into a calendar", p.nextDate, "next"),
				ui.Anchor("button plain", "/shelf", "The shelf"),
			),
		),
		p.toDo("Discard safely", r.Discard, ui.El("div", "",
			ui.El("div", "noprint", parts.Disposal("Still closed: how to discard it", "dispose.sealed"), parts.Disposal("Open or leaking: how to discard it", "dispose.low"), parts.Disposal("Cleaning up", "cleanup")),
			ui.El("div", "print-only", printed("Still closed", "dispose.sealed"), printed("Open or leaking", "dispose.low"), printed("Cleaning up", "cleanup")))),
		p.toDo("Find out, or look at again", r.Second, nil),
		p.toDo("To the front: use soon", r.UseSoon, nil),
		p.patterns(r),
		p.curve(r),
		ui.El("p", "row noprint",
			ui.Action("button plain", "Print this page", func() { app.Window().Call("print") }, "print"),
			ui.Action("button plain", "The numbers as a table (CSV)", func() {
				ui.SaveFile("larderlamp-sweep-"+string(day)+".csv", "text/csv", string(r.Table()))
			}, "csv"),
			ui.Anchor("button plain", "/sweep", "Sweeps"),
		),
	)
}

// printed are the steps of an advice, open for print.
func printed(head prose.Text, id string) app.UI {
	return ui.El("div", "", ui.Txt("h3", "", head), ui.El("ol", "", ui.Texts(rules.AdviceByID(id).Steps)...))
}

// savedWords says what would have been lost without the sweep.
func (p *Page) savedWords(r *walk.Report) prose.Text {
	if len(r.UseSoon) == 0 {
		return "No jar was forgotten: none has to be used before the others."
	}
	first := p.House.Shelf.Groups(r.UseSoon)[0]
	return ui.Say("Saved from being forgotten: %s to use before the others, first of all %s.", ui.Count(len(r.UseSoon), "jar", "jars"), p.House.Shelf.JarName(first.First().Jar))
}

// nextDate saves the date of the next sweep for a calendar.
func (p *Page) nextDate() {
	text, err := tables.SweepCalendar(p.House.Shelf.Pantry, time.Now(), ui.Reader)
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	ui.SaveFile("larderlamp-sweep.ics", "text/calendar", string(text))
	p.said = "Saved: larderlamp-sweep.ics. Open it to add the date."
}

// toDo lists the jars that something has to be done about, batch by batch.
func (p *Page) toDo(head prose.Text, vs []pantry.Verdict, more app.UI) app.UI {
	if len(vs) == 0 {
		return nil
	}
	groups := p.House.Shelf.Groups(vs)
	return ui.El("section", "card",
		ui.Txt("h2", "", ui.Say("%s: %s", head, ui.Count(len(vs), "jar", "jars"))),
		ui.El("ul", "todo", ui.Each(len(groups), func(i int) app.UI {
			g := groups[i]
			var numbers []string
			for k := range g.Jars {
				numbers = append(numbers, fmt.Sprint(g.Jars[k].Jar.Number))
			}
			name := prose.Text("A batch that is not recorded")
			if g.Batch != nil {
				name = ui.Say("%s %s", g.Batch.Name(), g.Batch.Made.Year())
			}
			why := parts.GroupWhy(p.House, g, func(r *rules.Rule) prose.Text { return r.Say })
			return ui.El("li", "",
				ui.Anchor("", "/jar?id="+g.First().Jar.ID, name),
				ui.Prose(ui.Say(", %s, jar %s. ", p.House.Shelf.PlaceName(g.Place), strings.Join(numbers, ", "))),
				ui.Txt("span", "why", why),
				ui.Only(g.State == pantry.ToDiscard, func() app.UI {
					return ui.El("p", "row noprint", ui.Named("button plain", "They are out", ui.Say("They are out: %s", name), func() { p.recordTakenOut(g) }, g.First().Jar.ID, len(g.Jars)))
				}),
			)
		})...),
		more,
	)
}

// recordTakenOut records that jars that have to be discarded were taken from the shelf,
// after the sweep that found them.
func (p *Page) recordTakenOut(g *pantry.Group) {
	sw := p.House.Shelf.Sweeps[p.report]
	var jars []*record.Jar
	var records []record.Record
	for i := range g.Jars {
		jars, records = append(jars, g.Jars[i].Jar), append(records, g.Jars[i].Jar)
	}
	if err := walk.New(p.House.Shelf.Pantry, sw, time.Now()).TakeOut(jars, time.Now()); err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	p.House.Keep(p.ctx, func() {
		p.made = nil
		p.said = ui.Say("%s taken out.", ui.Count(len(jars), "jar", "jars"))
		p.turn++
	}, records...)
}

// patterns says which groups fail more often than chance explains, and shows the
// numbers.
func (p *Page) patterns(r *walk.Report) app.UI {
	if r.Looked == 0 {
		return nil
	}
	var more []app.UI
	tested := 0
	for _, f := range r.Findings {
		if f.Others > 0 {
			tested++
		}
		if f.More {
			more = append(more, ui.Txt("li", "", ui.Say("%s %s: %d of %d failed, of the others %d of %d. Chance alone would do this with probability %s, after correction for the %d groups that were compared.",
				f.Factor, f.Group, f.Failures, f.Jars, f.OtherBad, f.Others, chance(f.Adjusted), tested)))
		}
	}
	all, _ := tally.Wilson(r.Failed, r.Looked, walk.Confidence)
	return ui.El("section", "card",
		ui.Txt("h2", "", "What this sweep shows"),
		ui.Only(r.Failed == 0, func() app.UI {
			return ui.Txt("p", "", ui.Say("None of %s failed. With so many that can still mean up to %s in the long run (95 %% interval).", ui.Count(r.Looked, "seal", "seals"), percent(all.High)))
		}),
		ui.Only(r.Failed > 0, func() app.UI {
			return ui.Txt("p", "", ui.Say("%d of %d seals failed: %s (95 %% interval %s to %s).", r.Failed, r.Looked, percent(float64(r.Failed)/float64(r.Looked)), percent(all.Low), percent(all.High)))
		}),
		ui.Only(r.Before != nil, func() app.UI {
			c := r.Before
			return ui.Txt("p", "", ui.Say("Against the sweep of %s: %+.1f points (95 %% interval %+.1f to %+.1f; chance explains it with probability %s).", ui.DayWords(record.DayOf(*r.Earlier.Ended)), c.Difference*100, c.Interval.Low*100, c.Interval.High*100, chance(c.P)))
		}),
		ui.Only(len(more) > 0, func() app.UI {
			return ui.El("div", "notice", ui.Txt("p", "", "Fails more often than chance explains. That does not prove the cause: lids, days and hands go together."), ui.El("ul", "", more...))
		}),
		ui.Only(len(more) == 0 && r.Failed > 0, func() app.UI {
			return ui.Txt("p", "", "No batch, lid lot, size, heating, place or age fails more often than chance explains.")
		}),
		ui.Only(r.Failed > 0, func() app.UI {
			return ui.El("div", "", ui.Each(int(tally.NumFactors), func(i int) app.UI { return p.factor(r, tally.Factor(i)) })...)
		}),
		ui.Txt("p", "hint", "Wilson intervals (Wilson 1927, Newcombe 1998); Fisher's exact test of each group against the rest, one-sided (Fisher 1935), corrected for all groups (Holm 1979)."),
	)
}

// mostGroups is how many groups a chart shows: those that chance explains least.
const mostGroups = 12

// factor is the chart of one factor, and the table behind it.
func (p *Page) factor(r *walk.Report, f tally.Factor) app.UI {
	var rows []tally.Finding
	for _, g := range r.Findings {
		if g.Factor == f {
			rows = append(rows, g)
		}
	}
	if len(rows) < 2 {
		return nil
	}
	chart := draw.Intervals{Label: ui.Say("Share of failed seals by %s, with 95 %% intervals; the table has the numbers", prose.Lower(f.Text()))}
	for _, g := range rows[:min(len(rows), mostGroups)] {
		chart.Rows = append(chart.Rows, draw.Interval{Label: g.Group, Value: float64(g.Failures) / float64(g.Jars), Low: g.Share.Low, High: g.Share.High, Marked: g.More})
	}
	return ui.Fold("", f.Text(),
		ui.El("div", "chart-box", app.Raw(chart.SVG(ui.Reader))),
		ui.Table([]prose.Text{f.Text(), "failed", "jars", "share", "from", "to", "chance", "corrected"}, len(rows), func(i int) []prose.Text {
			g := rows[i]
			return []prose.Text{g.Group, ui.Number(g.Failures), ui.Number(g.Jars), percent(float64(g.Failures) / float64(g.Jars)), percent(g.Share.Low), percent(g.Share.High), chance(g.P), chance(g.Adjusted)}
		}),
	)
}

// curve shows how long seals hold.
func (p *Page) curve(r *walk.Report) app.UI {
	failures := 0
	for _, st := range r.Curve {
		failures += st.Failures
	}
	if failures == 0 {
		return nil // a level line says nothing
	}
	zero, one := 0.0, 1.0
	s := draw.Series{Name: "seals that hold", Band: true, Steps: true, Points: []draw.Point{{X: 0, Low: 1, High: 1}}}
	line := draw.Series{Name: "share", Steps: true, Points: []draw.Point{{X: 0, Low: 1, High: 1}}}
	for _, st := range r.Curve {
		s.Points = append(s.Points, draw.Point{X: float64(st.Month), Low: st.Bounds.Low, High: st.Bounds.High})
		line.Points = append(line.Points, draw.Point{X: float64(st.Month), Low: st.Share, High: st.Share})
	}
	last := r.Curve[len(r.Curve)-1].Month
	chart := draw.Lines{Label: "Share of seals that still hold, by months since canning, with 95 % bounds; the table has the numbers", Unit: "share, by months since canning", Series: []draw.Series{s, line}, Floor: &zero, Roof: &one,
		Ticks: []draw.Tick{{X: 0, Name: "0"}, {X: float64(last), Name: ui.Number(last)}}}
	return ui.El("section", "card",
		ui.Txt("h2", "", "How long seals hold"),
		ui.Txt("p", "", "Jars that were eaten or opened count until then. A failure counts from the look that found it, so the true times are a little shorter."),
		ui.El("div", "chart-box", app.Raw(chart.SVG(ui.Reader))),
		ui.Fold("", "The table behind it", ui.Table([]prose.Text{"Month", "held until then", "failed", "share that hold", "from", "to"}, len(r.Curve), func(i int) []prose.Text {
			st := r.Curve[i]
			return []prose.Text{ui.Number(st.Month), ui.Number(st.AtRisk), ui.Number(st.Failures), percent(st.Share), percent(st.Bounds.Low), percent(st.Bounds.High)}
		})),
		ui.Txt("p", "hint", "Kaplan and Meier (1958), standard errors by Greenwood (1926), bounds on the log-log scale."),
	)
}
