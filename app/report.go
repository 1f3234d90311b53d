package app

import (
	"fmt"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/tally"
)

// percent writes a share.
func percent(v float64) string { return fmt.Sprintf("%.1f %%", v*100) }

// chance writes a probability.
func chance(p float64) string {
	if p < 0.001 {
		return "below 0.001"
	}
	return fmt.Sprintf("%.3f", p)
}

// showReport is what a sweep found, what to do, and what it teaches: one page
// to print.
func (p *sweepPage) showReport() app.UI {
	s := p.house.shelf
	sw := s.Sweeps[p.report]
	if sw == nil {
		return el("div", "", title("This sweep is not on this device"), el("p", "", anchor("button", "/sweep", "The sweep")))
	}
	if p.made == nil || p.made.Sweep != sw {
		made, err := walk.NewReport(s.Pantry, sw, time.Now())
		if err != nil {
			return el("div", "", title("The report could not be made"), txt("p", "notice", plain(err)))
		}
		p.made = made
	}
	r := p.made
	due := dayWords(walk.NextDue(s.Pantry, time.Now()))
	day := record.DayOf(sw.Begun)
	if sw.Ended != nil {
		day = record.DayOf(*sw.Ended)
	}
	return el("article", "report",
		title(say("Sweep of %s", dayWords(day))),
		el("section", "card felt",
			txt("p", "lead", tallyWords(r)),
			only(r.Left > 0, func() app.UI {
				return txt("p", "", say("%s not looked at this time.", count(r.Left, "jar was", "jars were")))
			}),
			only(r.Added > 0, func() app.UI {
				return txt("p", "", say("%s found that the list did not have.", count(r.Added, "jar was", "jars were")))
			}),
			txt("p", "", p.savedWords(r)),
			txt("p", "", say("The next sweep is due %s.", due)),
			el("p", "row noprint",
				action("button", "Put it into a calendar", p.nextDate, "next"),
				anchor("button plain", "/shelf", "The shelf"),
			),
		),
		p.toDo("Discard safely", r.Discard, el("div", "",
			el("div", "noprint", disposal("Still closed: how to discard it", "dispose.sealed"), disposal("Open or leaking: how to discard it", "dispose.low"), disposal("Cleaning up", "cleanup")),
			el("div", "print-only", printed("Still closed", "dispose.sealed"), printed("Open or leaking", "dispose.low"), printed("Cleaning up", "cleanup")))),
		p.toDo("Find out, or look at again", r.Second, nil),
		p.toDo("To the front: use soon", r.UseSoon, nil),
		p.teaches(r),
		p.curve(r),
		el("p", "row noprint",
			action("button plain", "Print this page", func() { app.Window().Call("print") }, "print"),
			action("button plain", "The numbers as a table (CSV)", func() {
				saveFile("larderlamp-sweep-"+string(day)+".csv", "text/csv", string(r.Table()))
			}, "csv"),
			anchor("button plain", "/sweep", "Sweeps"),
		),
	)
}

// printed are the steps of an advice, open for print.
func printed(head, id string) app.UI {
	return el("div", "", txt("h3", "", head), el("ol", "", texts(rules.AdviceByID(id).Steps)...))
}

// savedWords says what would have been forgotten without the sweep.
func (p *sweepPage) savedWords(r *walk.Report) string {
	if len(r.UseSoon) == 0 {
		return "Nothing stood forgotten: no jar has to be used before the others."
	}
	first := p.house.shelf.Groups(r.UseSoon)[0]
	return say("Saved from being forgotten: %s to use before the others, first of all %s.", count(len(r.UseSoon), "jar", "jars"), p.house.shelf.JarName(first.First().Jar))
}

// nextDate saves the date of the next sweep for a calendar.
func (p *sweepPage) nextDate() {
	text, err := tables.SweepCalendar(p.house.shelf.Pantry, time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	saveFile("larderlamp-sweep.ics", "text/calendar", string(text))
	p.said = "Saved: larderlamp-sweep.ics. Open it to add the date."
}

// toDo lists the jars to do something about, batch by batch.
func (p *sweepPage) toDo(head string, vs []pantry.Verdict, more app.UI) app.UI {
	if len(vs) == 0 {
		return nil
	}
	groups := p.house.shelf.Groups(vs)
	return el("section", "card",
		txt("h2", "", say("%s: %s", head, count(len(vs), "jar", "jars"))),
		el("ul", "todo", each(len(groups), func(i int) app.UI {
			g := groups[i]
			var numbers []string
			for k := range g.Jars {
				numbers = append(numbers, fmt.Sprint(g.Jars[k].Jar.Number))
			}
			name := "A batch that is not recorded"
			if g.Batch != nil {
				name = say("%s %s", g.Batch.Name(), g.Batch.Made.Year())
			}
			situation, _ := p.house.shelf.Situation(g.First().Jar, time.Now())
			t := rules.Explain(situation)
			why := ""
			if len(t.Deciding) > 0 {
				why = t.Deciding[0].Rule.Say
			}
			return el("li", "",
				anchor("", "/jar?id="+g.First().Jar.ID, name),
				prose(say(", %s, jar %s. ", p.house.shelf.PlaceName(g.Place), strings.Join(numbers, ", "))),
				txt("span", "why", why),
				only(g.State == pantry.ToDiscard, func() app.UI {
					return el("p", "row noprint", named("button plain", "They are out", say("They are out: %s", name), func() { p.out(g) }, g.First().Jar.ID, len(g.Jars)))
				}),
			)
		})...),
		more,
	)
}

// out notes that jars which have to be discarded were taken from the shelf, after
// the sweep that found them.
func (p *sweepPage) out(g *pantry.Group) {
	sw := p.house.shelf.Sweeps[p.report]
	var jars []*record.Jar
	var records []record.Record
	for i := range g.Jars {
		jars, records = append(jars, g.Jars[i].Jar), append(records, g.Jars[i].Jar)
	}
	if err := walk.New(p.house.shelf.Pantry, sw, time.Now()).TakeOut(jars, time.Now()); err != nil {
		p.house.complain(plain(err))
		return
	}
	p.house.keep(p.ctx, func() {
		p.made = nil
		p.said = say("%s taken out.", count(len(jars), "jar", "jars"))
		p.turn++
	}, records...)
}

// teaches says which groups fail more often than chance explains, and shows the
// numbers.
func (p *sweepPage) teaches(r *walk.Report) app.UI {
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
			more = append(more, txt("li", "", say("%s %s: %d of %d failed, of the others %d of %d. Chance alone would do this with probability %s, after correction for the %d groups that were compared.",
				f.Factor, f.Group, f.Failures, f.Jars, f.OtherBad, f.Others, chance(f.Adjusted), tested)))
		}
	}
	all, _ := tally.Wilson(r.Failed, r.Looked, walk.Confidence)
	return el("section", "card",
		txt("h2", "", "What it teaches"),
		only(r.Failed == 0, func() app.UI {
			return txt("p", "", say("None of %s failed. With so many that can still mean up to %s in the long run (95 %% interval).", count(r.Looked, "seal", "seals"), percent(all.High)))
		}),
		only(r.Failed > 0, func() app.UI {
			return txt("p", "", say("%d of %d seals failed: %s (95 %% interval %s to %s).", r.Failed, r.Looked, percent(float64(r.Failed)/float64(r.Looked)), percent(all.Low), percent(all.High)))
		}),
		only(r.Before != nil, func() app.UI {
			c := r.Before
			return txt("p", "", say("Against the sweep of %s: %+.1f points (95 %% interval %+.1f to %+.1f; chance explains it with probability %s).", dayWords(record.DayOf(*r.Earlier.Ended)), c.Difference*100, c.Interval.Low*100, c.Interval.High*100, chance(c.P)))
		}),
		only(len(more) > 0, func() app.UI {
			return el("div", "notice", txt("p", "", "Fails more often than chance explains. That is no proof of a cause: lids, days and hands go together."), el("ul", "", more...))
		}),
		only(len(more) == 0 && r.Failed > 0, func() app.UI {
			return txt("p", "", "No batch, lid lot, size, heating, place or age fails more often than chance explains.")
		}),
		only(r.Failed > 0, func() app.UI {
			return el("div", "", each(int(tally.NumFactors), func(i int) app.UI { return p.factor(r, tally.Factor(i)) })...)
		}),
		txt("p", "hint", "Wilson intervals (Wilson 1927, Newcombe 1998); Fisher's exact test of each group against the rest, one-sided (Fisher 1935), corrected for all groups (Holm 1979)."),
	)
}

// mostGroups is how many groups a chart shows: those that chance explains least.
const mostGroups = 12

// factor is the chart of one factor, and the table behind it.
func (p *sweepPage) factor(r *walk.Report, f tally.Factor) app.UI {
	var rows []tally.Finding
	for _, g := range r.Findings {
		if g.Factor == f {
			rows = append(rows, g)
		}
	}
	if len(rows) < 2 {
		return nil
	}
	chart := draw.Intervals{Label: say("Share of failed seals by %s, with 95 %% intervals; the table has the numbers", lowerFirst(f.String()))}
	for _, g := range rows[:min(len(rows), mostGroups)] {
		chart.Rows = append(chart.Rows, draw.Interval{Label: g.Group, Value: float64(g.Failures) / float64(g.Jars), Low: g.Share.Low, High: g.Share.High, Marked: g.More})
	}
	return fold("", f.String(),
		el("div", "chart-box", app.Raw(chart.SVG())),
		table([]string{f.String(), "failed", "jars", "share", "from", "to", "chance", "corrected"}, len(rows), func(i int) []string {
			g := rows[i]
			return []string{g.Group, fmt.Sprint(g.Failures), fmt.Sprint(g.Jars), percent(float64(g.Failures) / float64(g.Jars)), percent(g.Share.Low), percent(g.Share.High), chance(g.P), chance(g.Adjusted)}
		}),
	)
}

// curve shows how long seals hold.
func (p *sweepPage) curve(r *walk.Report) app.UI {
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
		Ticks: []draw.Tick{{X: 0, Name: "0"}, {X: float64(last), Name: fmt.Sprint(last)}}}
	return el("section", "card",
		txt("h2", "", "How long seals hold"),
		txt("p", "", "Jars that were eaten or opened count until then. A failure counts from the look that found it, so the true times are a little shorter."),
		el("div", "chart-box", app.Raw(chart.SVG())),
		fold("", "The table behind it", table([]string{"Month", "held until then", "failed", "share that hold", "from", "to"}, len(r.Curve), func(i int) []string {
			st := r.Curve[i]
			return []string{fmt.Sprint(st.Month), fmt.Sprint(st.AtRisk), fmt.Sprint(st.Failures), percent(st.Share), percent(st.Bounds.Low), percent(st.Bounds.High)}
		})),
		txt("p", "hint", "Kaplan and Meier (1958), standard errors by Greenwood (1926), bounds on the log-log scale."),
	)
}
