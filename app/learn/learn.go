package learn

import (
	"fmt"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/practice"
	"larderlamp/rules/prose"
)

// Page is the first half hour: short lessons, one after the other.
type Page struct {
	app.Compo
	House *house.House

	lesson string // id of the one that is open, "" for the list
}

func (p *Page) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/learn") {
		return
	}
	p.lesson = ctx.Page().URL().Query().Get("lesson")
	if l, _ := lessonByID(p.lesson); l != nil {
		p.House.ShowTitle(ctx, l.name)
		ui.Focus(ctx, "title")
	}
}

func (p *Page) Render() app.UI {
	if l, i := lessonByID(p.lesson); l != nil {
		return ui.Frame("/learn", l.page(i))
	}
	return ui.Frame("/learn",
		ui.Title("Learn to read a jar"),
		ui.Txt("p", "lead", "Half an hour, from the first look to the trash can. Learn to miss no danger, and not to fear a fat cap."),
		ui.El("ol", "lessons", ui.Each(len(lessons), func(i int) app.UI {
			l := &lessons[i]
			return ui.El("li", "", ui.ToPage("lesson-link", l.address()).Body(
				ui.Txt("span", "number", ui.Number(i+1)), ui.Txt("span", "", l.name), ui.Txt("small", "", ui.Say("%d minutes", l.minutes))))
		})...),
		ui.El("section", "ways",
			way("/signs", "Signs, side by side", "Each danger beside the harmless look that is like it, food by food."),
			way("/practice", "Practice", "Pairs of jars, one sign apart. The rules say what is right, and what you miss comes back."),
			way("/class", "For a class", "A big screen, a hand-out, flash cards, and a set that everybody gets the same."),
		),
		notCertified(),
	)
}

// way is a card that links to a page.
func way(path string, name, what prose.Text) app.UI {
	return ui.El("section", "card", ui.El("h2", "", ui.Anchor("", path, name)), ui.Txt("p", "", what))
}

// notCertified says what learning here does not give: a certificate.
func notCertified() app.UI {
	return ui.El("section", "notice", ui.El("p", "",
		ui.Txt("strong", "", "No certificate. "),
		ui.Prose("If you do well here, you can read the published signs. It is no official test, and no license to can for others. It does not prove that a jar is safe. Some dangers can't be seen by anyone."),
	))
}

func (l *lesson) address() string { return "/learn?lesson=" + l.id }

// page is one lesson.
func (l *lesson) page(at int) app.UI {
	last := at == len(lessons)-1
	return ui.El("article", "lesson",
		ui.Txt("p", "kind", ui.Say("Lesson %d of %d, about %d minutes", at+1, len(lessons), l.minutes)),
		ui.Title(l.name),
		ui.El("div", "", ui.Each(len(l.say), func(i int) app.UI { return ui.Txt("p", "lead", l.say[i]) })...),
		ui.Only(len(l.jars) > 0, func() app.UI {
			return ui.El("div", "specimens", ui.Each(len(l.jars), func(i int) app.UI { return l.jars[i].figure(fmt.Sprintf("l%d", i)) })...)
		}),
		ui.Only(len(l.rules) > 0, func() app.UI {
			return ui.El("section", "", ui.Txt("h2", "", "What the rules say"), rulesSaid(l.rules))
		}),
		ui.El("div", "", ui.Each(len(l.advice), func(i int) app.UI {
			a := rules.AdviceByID(l.advice[i])
			return ui.El("section", "do", ui.Txt("h2", "", a.Title), ui.El("ol", "", ui.Texts(a.Steps)...), ui.Fold("", "Sources", parts.Cites(a.Cites)))
		})...),
		ui.El("div", "", ui.Each(len(l.cautions), func(i int) app.UI {
			c := rules.CautionByID(l.cautions[i])
			return ui.El("section", "card caution", ui.Txt("h2", "", c.Title), ui.El("ul", "", ui.Texts(c.Lines)...), ui.Fold("", "Sources", parts.Cites(c.Cites)))
		})...),
		ui.El("section", "card try", ui.Txt("h2", "", "Try it on a jar in your hand"), ui.El("ul", "", ui.Texts(l.try)...)),
		ui.El("p", "row",
			ui.Only(!last, func() app.UI {
				return ui.Anchor("button", lessons[(at+1)%len(lessons)].address(), ui.Say("Next: %s", lessons[(at+1)%len(lessons)].name))
			}),
			ui.Only(last, func() app.UI { return ui.Anchor("button", "/practice", "Now practice") }),
			ui.Only(at > 0, func() app.UI { return ui.Anchor("button plain", lessons[max(at-1, 0)].address(), "Back") }),
			ui.Anchor("button plain", "/learn", "All lessons"),
		),
	)
}

// rulesSaid lists rules with their reasons and sources.
func rulesSaid(ids []string) app.UI {
	return ui.El("ul", "reasons", ui.Each(len(ids), func(i int) app.UI {
		r, _ := rules.RuleByID(ids[i])
		return parts.WithSource(r.Say, "", r.Cites, r)
	})...)
}

// specimenJar makes the jar of a specimen. The specimens are our own, and a
// test makes every one of them.
func specimenJar(product string, shows ...rules.Value) practice.Twin {
	p, _ := rules.ProductByID(product)
	j, err := practice.Sound(p, shows...)
	if err != nil {
		panic(err)
	}
	return j
}

func (s *specimen) figure(id string) app.UI {
	j := specimenJar(s.product, s.shows...)
	return jarFigure(&j, id, s.note)
}

// jarFigure is a jar with its name and what is said about it. The verdict is
// neither in the picture nor in the words.
func jarFigure(j *practice.Twin, id string, note prose.Text) app.UI {
	return ui.El("figure", "specimen",
		ui.El("div", "jar-box still", app.Raw(parts.JarPicture(j.Product, j.Situation, 0, draw.Options{Prefix: id, Plain: true}))),
		ui.El("figcaption", "", ui.Txt("strong", "", j.Product.Name), ui.Txt("span", "", note)),
	)
}
