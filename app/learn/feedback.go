package learn

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/practice"
	"larderlamp/rules/prose"
)

// feedback is the trace of the rules for each jar.
func (p *PracticePage) feedback() app.UI {
	heading, note, class := prose.Text("Right"), prose.Text(""), "right"
	a := p.given()
	switch a.Worst(p.item) {
	case practice.Missed:
		heading, class = "A danger missed", "missed"
		note = "This jar had to be discarded. It comes back soon, as it is here, until you see it."
		if p.set != nil {
			note = "This jar had to be discarded. A person who eats from such a jar can be poisoned. You will see it again in your own practice."
		}
	case practice.FalseAlarm:
		heading, class = "A false alarm", "alarm"
		note = "Nobody is harmed by this. But good food is lost, and so is trust in a careful look."
	case practice.TooMild:
		heading, class = "Too mild", "alarm"
		note = "It is safe to eat soon, but not to store any longer."
	default:
		if !a.Decides(p.item) {
			heading, class = "Right verdict, another sign", "alarm"
		}
	}
	deciding := p.item.Sign.Info().Name
	if !p.pair {
		deciding = signNames(p.item.Jars[0].Deciders())
	}
	return ui.Once("article", "practice",
		p.where(),
		ui.El("header", "outcome "+class, ui.Title(ui.Say("%s.", heading)), ui.Only(note != "", func() app.UI { return ui.Txt("p", "", note) })),
		ui.El("p", "tell-apart", ui.Txt("strong", "", "What decides: "), ui.Prose(ui.Say("%s.", deciding))),
		ui.El("div", "twins", ui.Each(2, p.traceJar)...),
		ui.El("p", "row",
			ui.Action("button big", "Next", p.next, p.turn()),
			ui.Anchor("button plain", "/signs?sign="+p.item.Sign.ID(), ui.Say("More on %s", prose.Lower(p.item.Sign.Info().Name))),
			ui.Action("button plain", "Stop here", p.stop, p.turn()),
		),
	)
}

func signNames(ids []rules.SignID) prose.Text {
	if len(ids) == 0 {
		return "Nothing: it can be kept"
	}
	names := make([]prose.Text, len(ids))
	for i, id := range ids {
		if names[i] = id.Info().Name; id == rules.SignRoute {
			names[i] = "The food itself"
		}
	}
	return prose.List(names, ", ")
}

// traceJar shows a jar with its verdict and the rules' own trace.
func (p *PracticePage) traceJar(i int) app.UI {
	j := &p.item.Jars[i]
	point, rest := splitTrace(j, p.item.Sign)
	name := p.jarName(0)
	v, _ := j.Situation.Known(p.item.Sign)
	switch {
	case p.pair:
		name = p.jarName(i)
	case i == 1:
		name = "One sign apart"
	}
	return ui.El("section", "twin answer "+parts.VerdictClass(j.Verdict),
		ui.El("div", "jar-box still", app.Raw(parts.JarPicture(j.Product, j.Situation, j.Verdict, draw.Options{Prefix: "f" + letters[i]}))),
		ui.Txt("h2", "", name),
		ui.El("p", "", parts.VerdictWord(j.Verdict), ui.Only(p.said[i] != 0 && p.said[i] != j.Verdict, func() app.UI {
			return ui.Txt("small", "said-so", ui.Say("You said: %s.", p.said[i]))
		})),
		ui.El("p", "", ui.Txt("strong", "", ui.Say("%s: ", p.item.Sign.Info().Name)), ui.Prose(v.Info().Label)),
		parts.Reasons(j.Product, point),
		ui.Only(len(rest) > 0, func() app.UI {
			return ui.Fold("", ui.Count(len(rest), "more reason", "more reasons"), parts.Reasons(j.Product, rest))
		}),
		told(j),
	)
}

// dependsOn reports whether a value belongs to the sign or depends on it: the
// tested process depends on the record.
func dependsOn(v rules.Value, id rules.SignID) bool {
	return v.Sign() == id || v.Sign() == rules.SignBacking && id.Info().Chapter == rules.ChapterRecord
}

// splitTrace splits the trace of a jar into the lines about the sign, or the line
// about the verdict when there are none, and all others.
func splitTrace(j *practice.Twin, id rules.SignID) (point, rest []rules.Line) {
	t := rules.Explain(j.Situation)
	all := append(t.Deciding, t.Also...)
	speaks := func(l *rules.Line) bool {
		return slices.ContainsFunc(l.Shown, func(v rules.Value) bool { return dependsOn(v, id) })
	}
	if !slices.ContainsFunc(all, func(l rules.Line) bool { return speaks(&l) }) {
		speaks = func(l *rules.Line) bool { return l.Rule == t.Deciding[0].Rule }
	}
	for i := range all {
		if speaks(&all[i]) {
			point = append(point, all[i])
		} else {
			rest = append(rest, all[i])
		}
	}
	return
}

// ended is the page after the last item of a set.
func (p *PracticePage) ended() app.UI {
	return ui.El("div", "",
		ui.Title(ui.Say("The end of %s", p.name)),
		tallyLines(&p.marks),
		ui.El("p", "row",
			ui.Action("button", "Go on with your own practice", func() {
				p.set = nil
				p.next()
			}),
			ui.Action("button plain", "This set again", func() {
				p.at, p.marks = 0, practice.Tally{}
				p.next()
			}),
			ui.Anchor("button plain", "/class", "Another set"),
		),
		p.progress(),
	)
}
