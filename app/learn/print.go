package learn

import (
	"fmt"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/practice"
	"larderlamp/rules/prose"
)

// printed is a page to print, with what is said about printing above it.
func (p *ClassPage) printed(name, how prose.Text, sheets app.UI) app.UI {
	return ui.El("div", "",
		ui.El("div", "noprint",
			ui.Title(ui.Say("%s, set %d", name, p.seed)),
			ui.Txt("p", "", how),
			ui.El("p", "row",
				ui.Action("button big", "Print", func() { app.Window().Call("print") }),
				ui.Anchor("button plain", p.address(""), "Back"),
			),
		),
		sheets,
	)
}

// colophon says on paper where the sheet is from.
func (p *ClassPage) colophon() app.UI {
	return ui.Txt("p", "colophon", ui.Say("%s, set %d, %s, rules %s. It supports, and never replaces, your local food-safety authority and current published guidance. No certificate.", ui.Name, p.seed, ui.Count(len(p.items), "item", "items"), rules.Edition))
}

// thumb is a small picture for paper.
func thumb(j *practice.Twin, id string) app.UI {
	return ui.El("div", "jar-box still", app.Raw(parts.JarPicture(j.Product, j.Situation, 0, draw.Options{Prefix: id, Plain: true})))
}

// handout has the questions first and the answers on pages of their own.
func (p *ClassPage) handout() app.UI {
	questions := ui.Each(len(p.items), func(i int) app.UI {
		it := &p.items[i]
		return ui.El("section", "paper sheet-item",
			ui.Txt("h2", "", "What would you do with these jars?"),
			ui.Txt("h3", "", ui.Say("%d. %s", i+1, it.Jars[0].Product.Name)),
			ui.El("div", "sheet-twins", ui.Each(2, func(k int) app.UI {
				return ui.El("div", "sheet-jar", thumb(&it.Jars[k], fmt.Sprintf("p%d%s", i, letters[k])), ui.El("div", "",
					ui.Txt("strong", "", ui.Say("Jar %s", letters[k])), notes(&it.Jars[k]),
					boxes()))
			})...),
			ui.Txt("p", "boxes", "The sign that decides: ______________________"),
			ui.Txt("p", "boxes", "Why: ____________________________________________________________"),
			p.colophon(),
		)
	})
	answers := ui.Each(len(p.items), func(i int) app.UI {
		it := &p.items[i]
		return ui.El("section", "sheet-answer",
			ui.Txt("h3", "", ui.Say("%d. %s: %s decides", i+1, it.Jars[0].Product.Name, prose.Lower(it.Sign.Info().Name))),
			ui.El("div", "", ui.Each(2, func(k int) app.UI { return answerLine(&it.Jars[k], it.Sign, ui.Say("Jar %s", letters[k])) })...),
		)
	})
	return ui.El("div", "print",
		ui.El("div", "", questions...),
		ui.El("div", "paper", append(append([]app.UI{ui.Txt("h2", "", "Answers")}, answers...), p.colophon())...),
	)
}

// teacher is what to say and to point at: one page for leading the class, and
// one for each item.
func (p *ClassPage) teacher() app.UI {
	lead := ui.El("section", "paper",
		ui.Txt("h2", "", "How to lead it"),
		ui.El("ol", "", ui.Texts([]prose.Text{
			"Show an item on the big screen. Let each person choose a verdict for both jars before anybody speaks.",
			"Ask who saw the sign that decides. Let one of them point at it.",
			"Show the answer. Read the reason aloud, and who says so.",
			"Count the group's answer. A missed danger weighs more than a false alarm: talk about those first.",
			"End with this: never taste to decide. Looks, smell and a good seal cannot prove a jar safe.",
		})...),
		ui.Txt("p", "", ui.Say("Allow 3 minutes for an item. All of this set takes about %d minutes.", 3*len(p.items))),
		p.colophon(),
	)
	items := ui.Each(len(p.items), func(i int) app.UI {
		it := &p.items[i]
		info := it.Sign.Info()
		tells := prose.Text("")
		for _, pair := range pairsOf(it.Sign) {
			for k := range it.Jars {
				if it.Jars[k].Situation.Is(pair.danger) {
					tells = pair.tell
				}
			}
		}
		return ui.El("section", "paper sheet-item",
			ui.Txt("h3", "", ui.Say("%d. %s: %s decides", i+1, it.Jars[0].Product.Name, prose.Lower(info.Name))),
			ui.El("p", "", ui.Txt("strong", "", "Ask: "), ui.Prose(info.Ask)),
			ui.El("p", "", ui.Txt("strong", "", "Because: "), ui.Prose(info.Why)),
			ui.Only(tells != "", func() app.UI { return ui.El("p", "", ui.Txt("strong", "", "What tells them apart: "), ui.Prose(tells)) }),
			ui.El("div", "sheet-twins", ui.Each(2, func(k int) app.UI {
				return ui.El("div", "sheet-jar", thumb(&it.Jars[k], fmt.Sprintf("t%d%s", i, letters[k])), ui.El("div", "", notes(&it.Jars[k]), answerLine(&it.Jars[k], it.Sign, ui.Say("Jar %s", letters[k]))))
			})...),
			p.colophon(),
		)
	})
	return ui.El("div", "print", lead, ui.El("div", "", items...))
}

// answerLine is the verdict of a jar with its first reason and source.
func answerLine(j *practice.Twin, id rules.SignID, name prose.Text) app.UI {
	r := because(j, id)
	return ui.El("p", "", ui.Txt("strong", "", ui.Say("%s: %s. ", name, j.Verdict)), ui.Prose(ui.Say("%s ", r.Say)), ui.El("small", "", cited(r)...))
}

// because is the rule by which a jar has its verdict, as far as the sign is concerned.
func because(j *practice.Twin, id rules.SignID) *rules.Rule {
	point, _ := splitTrace(j, id)
	return point[0].Rule
}

// cited is the place in the first source of a rule, how it is known, and the rule.
func cited(r *rules.Rule) []app.UI {
	return []app.UI{parts.Source(r.Cites[0]), ui.Prose(knownBy(r))}
}

// knownBy says how the first source of a rule is known, and which rule it is.
func knownBy(r *rules.Rule) prose.Text {
	return ui.Say("(%s; rule %s)", r.Cites[0].Known(), r.ID)
}

// cards has one card for each jar, to be folded in the middle.
func (p *ClassPage) cards() app.UI {
	return ui.El("div", "print", ui.El("div", "paper cards", append(ui.Each(2*len(p.items), func(i int) app.UI {
		it := &p.items[i/2]
		j := &it.Jars[i%2]
		r := because(j, it.Sign)
		return ui.El("section", "flash",
			ui.El("div", "front", thumb(j, fmt.Sprintf("c%d", i)), ui.El("div", "", ui.Txt("strong", "", j.Product.Name), notes(j))),
			ui.El("div", "back "+parts.VerdictClass(j.Verdict), ui.El("p", "", parts.VerdictWord(j.Verdict)), ui.Txt("p", "", r.Say), ui.El("p", "colophon", cited(r)...),
				ui.Txt("p", "colophon", ui.Say("Set %d, card %d%s, rules %s", p.seed, i/2+1, letters[i%2], rules.Edition))),
		)
	}), p.colophon())...))
}

// boxes are the verdicts to choose from, each with its box on one line.
func boxes() app.UI {
	all := []rules.Verdict{rules.Keep, rules.UseSoon, rules.Discard}
	return ui.El("p", "boxes", ui.Each(len(all), func(i int) app.UI {
		return ui.El("span", "box", app.Text("☐ "), ui.Prose(all[i].Text()))
	})...)
}
