package app

import (
	"fmt"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/rules"
	"larderlamp/rules/practice"
)

// learnPage is the first half hour: short lessons, one after the other.
type learnPage struct {
	app.Compo
	house *household

	lesson string // id of the one that is open, "" for the list
}

func (p *learnPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/learn") {
		return
	}
	p.lesson = ctx.Page().URL().Query().Get("lesson")
	if l, _ := lessonByID(p.lesson); l != nil {
		ctx.Page().SetTitle(say("%s · %s", l.name, Name))
		focus(ctx, "title")
	}
}

func (p *learnPage) Render() app.UI {
	if l, i := lessonByID(p.lesson); l != nil {
		return frame("/learn", l.page(i))
	}
	return frame("/learn",
		title("Learn to read a jar"),
		txt("p", "lead", "Half an hour, from the first look to the trash can: miss no danger, and stop being afraid of a fat cap."),
		el("ol", "lessons", each(len(lessons), func(i int) app.UI {
			l := &lessons[i]
			return el("li", "", toPage("lesson-link", l.address()).Body(
				txt("span", "number", fmt.Sprint(i+1)), txt("span", "", l.name), txt("small", "", say("%d minutes", l.minutes))))
		})...),
		el("section", "ways",
			way("/signs", "Signs, side by side", "Every danger beside the harmless look that resembles it, food by food."),
			way("/practice", "Practice", "Pairs of jars, one sign apart. The rules say what is right, and what you miss comes back."),
			way("/class", "For a class", "A big screen, a hand-out, flash cards, and a set that everybody gets the same."),
		),
		notCertified(),
	)
}

// way is a card that leads to a page.
func way(path, name, what string) app.UI {
	return el("section", "card", el("h2", "", anchor("", path, name)), txt("p", "", what))
}

// notCertified says what learning here is not.
func notCertified() app.UI {
	return el("section", "notice", el("p", "",
		txt("strong", "", "No certificate. "),
		prose("If you do well here, you have learned to read the published signs. That is no permission to can for others, no official test, and no proof that a jar is safe. Some dangers can't be seen by anyone."),
	))
}

func (l *lesson) address() string { return "/learn?lesson=" + l.id }

// page is one lesson.
func (l *lesson) page(at int) app.UI {
	last := at == len(lessons)-1
	return el("article", "lesson",
		txt("p", "kind", say("Lesson %d of %d, about %d minutes", at+1, len(lessons), l.minutes)),
		title(l.name),
		el("div", "", each(len(l.say), func(i int) app.UI { return txt("p", "lead", l.say[i]) })...),
		only(len(l.jars) > 0, func() app.UI {
			return el("div", "specimens", each(len(l.jars), func(i int) app.UI { return l.jars[i].figure(fmt.Sprintf("l%d", i)) })...)
		}),
		only(len(l.rules) > 0, func() app.UI {
			return el("section", "", txt("h2", "", "What the rules say"), rulesSaid(l.rules))
		}),
		el("div", "", each(len(l.advice), func(i int) app.UI {
			a := rules.AdviceByID(l.advice[i])
			return el("section", "do", txt("h2", "", a.Title), el("ol", "", texts(a.Steps)...), fold("", "Sources", cites(a.Cites)))
		})...),
		el("div", "", each(len(l.cautions), func(i int) app.UI {
			c := rules.CautionByID(l.cautions[i])
			return el("section", "card caution", txt("h2", "", c.Title), el("ul", "", texts(c.Lines)...), fold("", "Sources", cites(c.Cites)))
		})...),
		el("section", "card try", txt("h2", "", "Try it on a jar in your hand"), el("ul", "", texts(l.try)...)),
		el("p", "row",
			only(!last, func() app.UI {
				return anchor("button", lessons[(at+1)%len(lessons)].address(), say("Next: %s", lessons[(at+1)%len(lessons)].name))
			}),
			only(last, func() app.UI { return anchor("button", "/practice", "Now practice") }),
			only(at > 0, func() app.UI { return anchor("button plain", lessons[max(at-1, 0)].address(), "Back") }),
			anchor("button plain", "/learn", "All lessons"),
		),
	)
}

// rulesSaid lists rules with their reasons and sources.
func rulesSaid(ids []string) app.UI {
	return el("ul", "reasons", each(len(ids), func(i int) app.UI {
		r, _ := rules.RuleByID(ids[i])
		return sourced(r.Say, "", r.Cites, r)
	})...)
}

// specimenJar makes the jar of a specimen. The specimens are our own, and a
// test makes every one of them.
func specimenJar(product string, shows ...rules.Value) practice.Jar {
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

// jarFigure is a jar with its name and what is to be said of it. The verdict is
// neither in the picture nor in its words.
func jarFigure(j *practice.Jar, id, note string) app.UI {
	return el("figure", "specimen",
		el("div", "jar-box still", app.Raw(jarPicture(j.Product, j.Situation, 0, draw.Options{Prefix: id, Plain: true}))),
		el("figcaption", "", txt("strong", "", j.Product.Name), txt("span", "", note)),
	)
}
