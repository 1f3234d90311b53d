package shelf

import (
	"fmt"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/pantry"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/todo"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// HomePage is the first page. All of it can be read, and its stop signs used, before
// the program has loaded and without it. Once jars are recorded it shows the day:
// what has to be done with them, the most urgent first.
type HomePage struct {
	app.Compo
	House *house.House

	ctx        app.Context
	ready      bool
	unfinished *record.Check  // a check that can be continued
	odd        []record.Check // checks of jars that are on no shelf, left after something odd was told
}

func (p *HomePage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/") {
		return
	}
	p.ctx = ctx
	p.House.Screen = p
	p.House.WithShelf(ctx, func(app.Context) { p.ready = true })
	p.findUnfinished(func(app.Context) {})
}

// Renew implements screen.
func (p *HomePage) Renew(ctx app.Context, done func(app.Context)) { p.findUnfinished(done) }

// lately is how long a check that was left is offered again.
const lately = 3 * 24 * time.Hour

// mostChecks is how many checks are looked through for those that were left.
const mostChecks = 100

// findUnfinished looks for the checks that were started and not finished: the last one,
// and every one in which something odd was told. The shelf knows those of its own jars.
func (p *HomePage) findUnfinished(done func(app.Context)) {
	p.House.List(p.ctx, "", mostChecks, func(ctx app.Context, checks []record.Check, _ bool) {
		p.unfinished, p.odd = nil, nil
		for i := range checks {
			switch c := &checks[i]; {
			case c.Finished || len(c.Answers) == 0:
			case c.Jar == "" && c.Thrown == "" && len(pantry.Odd(&record.Event{Seen: c.Seen()})) > 0:
				p.odd = append(p.odd, *c)
			case p.unfinished == nil && time.Since(c.Changed) < lately:
				p.unfinished = c
			}
		}
		done(ctx)
	})
}

func (p *HomePage) Render() app.UI {
	if p.ready && (len(p.House.Shelf.Jars) > 0 || p.unfinished != nil || len(p.odd) > 0) {
		return p.day()
	}
	return ui.Frame("/",
		ui.El("section", "hero",
			ui.El("div", "",
				ui.Title("Hold the jar up to the light."),
				ui.Txt("p", "lead", "Say what you see. Learn whether to keep it, use it soon or discard it safely. Learn why, and who says so."),
				ui.El("p", "go", ui.Anchor("button big", "/check", "Check a jar"), ui.Anchor("button", "/check#odd=1", "Something looks odd"), ui.Anchor("button plain", "/batch", "Record what you canned")),
			),
			ui.El("div", "hero-jar", app.Raw(parts.HeroJar())),
		),
		parts.StopSigns(true),
		ui.El("section", "uses",
			useLink("/shelf", "Record your jars", "Say once what you canned. Then every jar is judged, and what to eat first is on top."),
			useLink("/sweep", "Look at all jars", "Walk past every jar four times a year: one touch for a sound one."),
			useLink("/trip", "Take jars on a trip", "Which jars travel with a small cooler, what to open when, what stays home."),
			useLink("/learn", "Learn the signs", "The signs and their harmless look-alikes in half an hour. Then jars to practice on."),
		),
		ui.El("section", "promise",
			ui.Txt("h2", "", "What it does, and what it cannot"),
			ui.El("ul", "", ui.Texts([]prose.Text{
				"It asks one thing at a time, danger first. It stops as soon as the answer cannot change.",
				"Each reason names its published source. What is from memory, or only common practice, says so.",
				"It works without a connection. What you enter stays on this device, unless you share your shelf.",
				"It cannot see, smell or test your jar. It cannot know that a source is right. Looks never prove a low-acid jar safe.",
			})...),
		),
	)
}

// mostOdd is how many jars that were odd are named, each by itself.
const mostOdd = 30

// signNames names signs that were odd.
func signNames(ids []rules.SignID) prose.Text {
	var names []prose.Text
	for _, id := range ids {
		names = append(names, prose.Lower(id.Info().Name))
	}
	return prose.List(names, ", ")
}

// mostOut is how many groups of a kind the day names; the shelf has all.
const mostOut = 4

// day is what has to be done with the jars today. Each line leads to its
// action.
func (p *HomePage) day() app.UI {
	s, now := p.House.Shelf, time.Now()
	s.Judged(now)
	t := todo.Of(s.Pantry, s.Grouped, now)
	var lines []app.UI
	some := func(groups []*pantry.Group, class string, part pantry.Part, words func(g *pantry.Group) (prose.Text, prose.Text)) {
		for _, g := range groups[:min(len(groups), mostOut)] {
			head, more := words(g)
			lines = append(lines, dayLine(class, parts.StateMark(g.State), parts.GroupPath(g), head, more))
		}
		if n := len(groups) - mostOut; n > 0 {
			lines = append(lines, dayLine(class, nil, partPath(part), ui.Say("And %d more", n), ""))
		}
	}
	some(t.Out, parts.StateClass(pantry.ToDiscard), pantry.TakeOut, func(g *pantry.Group) (prose.Text, prose.Text) {
		return ui.Say("Take out: %s", parts.GroupName(g)), ui.Say("%s · %s", s.PlaceName(g.Place), p.why(g))
	})
	named := map[string]bool{} // checks that have a line
	for _, v := range t.Odd[:min(len(t.Odd), mostOdd)] {
		path := "/jar?id=" + v.Jar.ID
		if c := v.Basis.Look.Check; c != "" {
			path, named[c] = "/check#id="+c, true
		}
		lines = append(lines, dayLine("verdict-open", parts.Mark(0), path, ui.Say("Odd, and not settled: %s", s.JarName(v.Jar)), ui.Say("%s · %s", s.PlaceName(v.Basis.Place), signNames(v.Worrying()))))
	}
	if n := len(t.Odd) - mostOdd; n > 0 {
		lines = append(lines, dayLine("verdict-open", nil, partPath(pantry.LookAt), ui.Say("And %d more", n), ""))
	}
	for i := range p.odd {
		c := &p.odd[i]
		lines = append(lines, dayLine("verdict-open", parts.Mark(0), "/check#id="+c.ID, ui.Say("Odd, and not settled: %s", parts.CheckName(c)), ui.Say("%s · %s", ui.When(c.Changed), signNames(pantry.Odd(&record.Event{Seen: c.Seen()})))))
	}
	some(t.Finish, parts.StateClass(pantry.ToFinish), pantry.EatFirst, func(g *pantry.Group) (prose.Text, prose.Text) {
		return parts.GroupName(g), parts.GroupVerdict(g)
	})
	if t.Sweep != nil {
		lines = append(lines, dayLine("verdict-open", parts.Mark(0), "/sweep", ui.Say("Go on with the sweep: %d of %d jars", t.Done, t.Of), ""))
	}
	if c := p.unfinished; c != nil && !named[c.ID] {
		lines = append(lines, dayLine("verdict-open", parts.Mark(0), "/check#id="+c.ID, ui.Say("Go on with the check: %s", parts.CheckName(c)), prose.Own(ui.When(c.Changed))))
	}
	if t.Packed != nil {
		lines = append(lines, dayLine("verdict-open", parts.Mark(0), "/trip?id="+t.Packed.ID, ui.Say("Packed: %s", parts.TripName(t.Packed)), ui.Say("%s packed", ui.Count(len(t.Packed.Packed), "jar", "jars"))))
	}
	some(t.Eat, parts.StateClass(pantry.ToUse), pantry.EatFirst, func(g *pantry.Group) (prose.Text, prose.Text) {
		words := ui.Say("%s · %s", s.PlaceName(g.Place), parts.MadeWords(g))
		if g.State == pantry.ToUse {
			words = ui.Say("%s · %s", g.State, words)
		}
		return ui.Say("Eat first: %s", parts.GroupName(g)), words
	})
	if t.Look > 0 {
		words := prose.Text("They may be sound: nobody has looked at them lately.")
		lines = append(lines, dayLine("verdict-open", parts.Mark(0), partPath(pantry.LookAt), ui.Say("Look at %s", ui.Count(t.Look, "jar", "jars")), words))
	}
	if t.Settle > 0 {
		words := prose.Text("They were looked at. Something else about them is not known yet.")
		lines = append(lines, dayLine("verdict-open", parts.Mark(0), partPath(pantry.LookAt), ui.Say("Settle %s", ui.Count(t.Settle, "jar", "jars")), words))
	}
	if t.Seek > 0 {
		lines = append(lines, dayLine("verdict-open", parts.Mark(0), partPath(pantry.LookAt), ui.Say("Find %s", ui.Count(t.Seek, "jar", "jars")), "Not found at the last sweep."))
	}
	heading := prose.Text("Today")
	if t.Total == 0 {
		heading = "No jars are recorded yet."
	}
	return ui.Frame("/",
		p.House.Notices(),
		ui.El("div", "day",
			ui.Title(heading),
			ui.El("p", "go", ui.Anchor("button big", "/check", "Check a jar"), ui.Anchor("button", "/check#odd=1", "Something looks odd"), ui.Anchor("button plain", "/batch", "Record a batch")),
			ui.El("ul", "day-lines", lines...),
			ui.Only(t.Total > 0 && t.Look+t.Settle+t.Seek+len(t.Out)+len(t.Odd)+len(t.Finish) == 0, func() app.UI {
				return ui.Txt("p", "", ui.Say("All %s are fine. The next sweep is due %s.", ui.Count(t.Total, "jar", "jars"), ui.DayWords(walk.NextDue(s.Pantry, now))))
			}),
		),
		backupDue(p.House),
		parts.StopSigns(true),
	)
}

// why says in a few words why a jar has to be taken out.
func (p *HomePage) why(g *pantry.Group) prose.Text {
	return ui.CmpOr(parts.GroupWhy(p.House, g, (*rules.Rule).Short), g.State.Text())
}

// partPath leads to the shelf, with only one part of it shown.
func partPath(part pantry.Part) string { return fmt.Sprintf("/shelf?show=%d", part) }

// dayLine is one thing to do; the whole line can be touched.
func dayLine(class string, sign app.UI, path string, head, more prose.Text) app.UI {
	return ui.El("li", class, ui.ToPage("day-line", path).Body(sign, ui.El("span", "", ui.Txt("strong", "", head), ui.Only(more != "", func() app.UI { return ui.Txt("small", "", more) }))))
}

// useLink leads to one of the uses.
func useLink(path string, name, words prose.Text) app.UI {
	return ui.El("div", "card", ui.El("h2", "", ui.Anchor("", path, name)), ui.Txt("p", "", words))
}

// ShellPage is what the service worker answers with while it opens a page it
// has not stored: its only content is the stop signs.
type ShellPage struct {
	app.Compo
	House *house.House
}

func (p *ShellPage) OnNav(ctx app.Context) { p.House.Arrive(ctx, "/shell") }

func (p *ShellPage) Render() app.UI {
	return ui.Frame("", ui.Title("Opening the guide…"), parts.StopSigns(true))
}

// MissingPage is shown for an address that this site does not have.
type MissingPage struct {
	app.Compo
	House *house.House
}

func (p *MissingPage) OnNav(ctx app.Context) { p.House.Arrive(ctx, "") }

func (p *MissingPage) Render() app.UI {
	return ui.Frame("",
		ui.Title("There is no such page"),
		ui.Txt("p", "", "The address may be typed wrong, or be from an older form of the guide."),
		ui.El("p", "go", ui.Anchor("button", "/check", "Check a jar"), ui.Anchor("button plain", "/history", "Earlier checks")),
		parts.StopSigns(true),
	)
}
