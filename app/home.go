package app

import (
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/todo"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/locale"
)

// homePage is the first page. All of it can be read, and its stop signs used,
// before the program has loaded and without it. Once jars are recorded it is the day:
// what is to be done with them, the most urgent first.
type homePage struct {
	app.Compo
	house *household

	ctx        app.Context
	ready      bool
	unfinished *record.Check // that can be gone on with
}

func (p *homePage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/") {
		return
	}
	p.ctx = ctx
	p.house.screen = p
	p.house.shelved(ctx, func(app.Context) { p.ready = true })
	p.seek(func(app.Context) {})
}

// renew implements screen.
func (p *homePage) renew(ctx app.Context, done func(app.Context)) { p.seek(done) }

// lately is for how long a check that was left is offered again.
const lately = 3 * 24 * time.Hour

// seek looks for a check that was begun and not ended.
func (p *homePage) seek(done func(app.Context)) {
	p.house.list(p.ctx, "", 5, func(ctx app.Context, checks []record.Check, _ bool) {
		p.unfinished = nil
		for i := range checks {
			if c := &checks[i]; !c.Finished && len(c.Answers) > 0 && time.Since(c.Changed) < lately {
				p.unfinished = c
				break
			}
		}
		done(ctx)
	})
}

func (p *homePage) Render() app.UI {
	if p.ready && (len(p.house.shelf.Jars) > 0 || p.unfinished != nil) {
		return p.day()
	}
	return frame("/",
		el("section", "hero",
			el("div", "",
				title("Hold the jar up to the light."),
				txt("p", "lead", "Say what you see. Learn whether to keep it, use it soon or discard it safely, why, and who says so."),
				el("p", "go", anchor("button big", "/check", "Check a jar"), anchor("button", "/check#odd=1", "Something looks odd"), anchor("button plain", "/batch", "Record what you canned")),
			),
			el("div", "hero-jar", app.Raw(heroJar())),
		),
		stopSigns(),
		el("section", "uses",
			use("/shelf", "Record your jars", "Say once what you canned. From then on every jar is judged, and what to eat first is on top."),
			use("/sweep", "Look at all jars", "Go round four times a year: one touch for a sound jar."),
			use("/trip", "Take jars on a trip", "Which jars travel with a small cooler, what is opened when, and what stays home."),
			use("/learn", "Learn the signs", "The signs and their harmless look-alikes, in half an hour, and jars to practice on."),
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

// mostOut is how many groups of a kind the day names; the shelf has all.
const mostOut = 4

// day is what is to be done with the jars today. Each line leads to its act.
func (p *homePage) day() app.UI {
	s, now := p.house.shelf, time.Now()
	s.judged(now)
	t := todo.Of(s.Pantry, s.groups, now)
	var lines []app.UI
	some := func(groups []*pantry.Group, class string, part pantry.Part, words func(g *pantry.Group) (string, string)) {
		for _, g := range groups[:min(len(groups), mostOut)] {
			head, more := words(g)
			lines = append(lines, dayLine(class, stateMark(g.State), groupPath(g), head, more))
		}
		if n := len(groups) - mostOut; n > 0 {
			lines = append(lines, dayLine(class, nil, partPath(part), say("And %d more", n), ""))
		}
	}
	some(t.Out, stateClass(pantry.ToDiscard), pantry.TakeOut, func(g *pantry.Group) (string, string) {
		return say("Take out: %s", groupName(g)), say("%s · %s", s.PlaceName(g.Place), p.why(g))
	})
	some(t.Finish, stateClass(pantry.ToFinish), pantry.EatFirst, func(g *pantry.Group) (string, string) {
		return groupName(g), verdictWords(g.First())
	})
	if t.Sweep != nil {
		lines = append(lines, dayLine("verdict-open", mark(0), "/sweep", say("Go on with the sweep: %d of %d jars", t.Done, t.Of), ""))
	}
	if c := p.unfinished; c != nil {
		lines = append(lines, dayLine("verdict-open", mark(0), "/check#id="+c.ID, say("Go on with the check: %s", checkName(c)), when(c.Changed)))
	}
	if t.Packed != nil {
		lines = append(lines, dayLine("verdict-open", mark(0), "/trip?id="+t.Packed.ID, say("Packed: %s", tripName(t.Packed)), say("%s packed", count(len(t.Packed.Packed), "jar", "jars"))))
	}
	some(t.Eat, stateClass(pantry.ToUse), pantry.EatFirst, func(g *pantry.Group) (string, string) {
		words := say("%s · %s", s.PlaceName(g.Place), madeWords(g))
		if g.State == pantry.ToUse {
			words = say("%s · %s", g.State.String(), words)
		}
		return say("Eat first: %s", groupName(g)), words
	})
	if t.Look > 0 {
		words := "They may be sound: nobody has looked at them lately."
		lines = append(lines, dayLine("verdict-open", mark(0), partPath(pantry.LookAt), say("Look at %s", count(t.Look, "jar", "jars")), words))
	}
	if t.Seek > 0 {
		lines = append(lines, dayLine("verdict-open", mark(0), partPath(pantry.LookAt), say("Find %s", count(t.Seek, "jar", "jars")), "Not found at the last sweep."))
	}
	heading := "Today"
	if t.Total == 0 {
		heading = "No jars are recorded yet."
	}
	return frame("/",
		p.house.notices(),
		el("div", "day",
			title(heading),
			el("p", "go", anchor("button big", "/check", "Check a jar"), anchor("button", "/check#odd=1", "Something looks odd"), anchor("button plain", "/batch", "Record a batch")),
			el("ul", "day-lines", lines...),
			only(t.Total > 0 && t.Look+t.Seek+len(t.Out)+len(t.Finish) == 0, func() app.UI {
				return txt("p", "", say("All %s are fine. The next sweep is due %s.", count(t.Total, "jar", "jars"), dayWords(walk.NextDue(s.Pantry, now))))
			}),
		),
		p.house.backupDue(),
		stopSigns(),
	)
}

// why says in a few words why a jar has to be taken out.
func (p *homePage) why(g *pantry.Group) string {
	situation, _ := p.house.shelf.Situation(g.First().Jar, time.Now())
	trace := rules.Explain(situation)
	if len(trace.Deciding) == 0 {
		return g.State.String()
	}
	return local(trace.Deciding[0].Rule.Say)
}

// groupName names the jars of a group.
func groupName(g *pantry.Group) string {
	n := count(len(g.Jars), "jar", "jars")
	if g.Batch == nil {
		return say("%s of a batch that is not recorded", n)
	}
	return say("%s of %s %s", n, g.Batch.Name(), g.Batch.Made.Year())
}

// groupPath leads to a jar that is alone, or to its batch.
func groupPath(g *pantry.Group) string {
	if len(g.Jars) > 1 && g.Batch != nil {
		return "/batch?id=" + g.Batch.ID
	}
	return "/jar?id=" + g.First().Jar.ID
}

// partPath leads to the shelf, with only one part of it shown.
func partPath(part pantry.Part) string { return fmt.Sprintf("/shelf?show=%d", part) }

// dayLine is one thing to do, as a whole line that can be touched.
func dayLine(class string, sign app.UI, path, head, more string) app.UI {
	return el("li", class, toPage("day-line", path).Body(sign, el("span", "", app.Elem("strong").Text(head), only(more != "", func() app.UI { return txt("small", "", more) }))))
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
