package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
	"larderlamp/rules/locale"
)

// homePage is the first page. All of it can be read, and its stop signs used,
// before the program has loaded and without it.
type homePage struct {
	app.Compo
	house *household
}

func (p *homePage) OnNav(ctx app.Context) { p.house.arrive(ctx, "/") }

func (p *homePage) Render() app.UI {
	return frame("/",
		el("section", "hero",
			el("div", "",
				title("Hold the jar up to the light."),
				txt("p", "lead", "Say what you see. Learn whether to keep it, use it soon or discard it safely, why, and who says so."),
				el("p", "go", anchor("button big", "/check", "Check a jar"), anchor("button plain", "/history", "Earlier checks")),
			),
			el("div", "hero-jar", app.Raw(heroJar())),
		),
		stopSigns(),
		el("section", "uses",
			use("/shelf", "The shelf", "Record what you can once. Every jar is judged from then on, and what to eat first is on top."),
			use("/sweep", "The sweep", "Go round all jars four times a year: one touch for a sound one."),
			use("/trip", "A trip", "Which jars travel with a small cooler, what is opened when, and what stays home."),
			use("/learn", "Learn", "The signs and their harmless look-alikes, in half an hour, and jars to practise on."),
		),
		el("section", "promise",
			txt("h2", "", "What it does, and what it cannot"),
			el("ul", "", texts([]string{
				"It asks one thing at a time, danger first, and stops as soon as the answer cannot change.",
				"Every reason names its published source. What is from memory or only common practice says so.",
				"It works without a connection. What you enter stays on this device.",
				"It cannot see, smell or test your jar, and it cannot know that a source is right. Looks never prove a low-acid jar safe.",
			})...),
		),
	)
}

// use leads to one of the uses.
func use(path, name, words string) app.UI {
	return el("div", "card", el("h2", "", anchor("", path, name)), txt("p", "", words))
}

// stopLine names the stop signs in one breath.
func stopLine() app.UI {
	short := make([]string, len(rules.StopSigns))
	for i := range rules.StopSigns {
		short[i] = rules.StopSigns[i].Short
	}
	return el("p", "stop-short", txt("b", "", "Stop signs: "), prose(say("%s. Any one of these: do not taste it, discard it safely.", locale.List(short, ", "))))
}

// stopSigns lists the signs that alone mean discard. It is plain markup, so
// that it works with scripts switched off.
func stopSigns() app.UI {
	return el("section", "stop",
		txt("h2", "", "Stop signs"),
		txt("p", "", "Any one of these: do not taste it, do not open it, discard it safely. You need no guide for that."),
		el("ul", "stop-list", each(len(rules.StopSigns), func(i int) app.UI { return txt("li", "", rules.StopSigns[i].Do) })...),
		txt("p", "", "And whatever it looks like: vegetables, meat, fish, soup or broth that were not pressure canned by a current published recipe."),
		disposal("Still closed: how to discard it", "dispose.sealed"),
		disposal("Open or leaking: how to discard it", "dispose.low"),
		disposal("Cleaning up", "cleanup"),
		fold("", "If someone has eaten from it", el("ul", "", texts(rules.CautionByID("botulism").Lines)...)),
		fold("", "Sources of the stop signs", el("ul", "", each(len(rules.StopSigns), func(i int) app.UI {
			s := &rules.StopSigns[i]
			return el("li", "", txt("span", "", s.Do), cites(s.Cites()))
		})...)),
	)
}

func disposal(summary, id string) app.UI {
	return fold("", summary, el("ol", "", texts(rules.AdviceByID(id).Steps)...))
}

// shellPage is what the service worker answers with while it opens a page it
// has not stored: it has no content of its own but the stop signs.
type shellPage struct {
	app.Compo
	house *household
}

func (p *shellPage) OnNav(ctx app.Context) { p.house.arrive(ctx, "/shell") }

func (p *shellPage) Render() app.UI {
	return frame("", title("Opening the guide…"), stopSigns())
}

// missingPage is shown for an address that this site does not have.
type missingPage struct {
	app.Compo
	house *household
}

func (p *missingPage) OnNav(ctx app.Context) { p.house.arrive(ctx, "") }

func (p *missingPage) Render() app.UI {
	return frame("",
		title("There is no such page"),
		txt("p", "", "The address may be mistyped, or from another edition of the guide."),
		el("p", "go", anchor("button", "/check", "Check a jar"), anchor("button plain", "/history", "Earlier checks")),
		stopSigns(),
	)
}
