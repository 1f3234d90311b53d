package check

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/session"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// HistoryPage lists the checks kept on this device, newest first.
type HistoryPage struct {
	app.Compo
	House *house.House

	ctx     app.Context // context of the page: it outlives its buttons
	checks  []record.Check
	more    bool
	loaded  bool
	first   string         // id of the check just before those that are shown
	last    string         // id of the oldest check that was fetched
	newest  bool           // the checks shown begin with the newest
	deleted []record.Check // can be brought back, newest last
}

func (p *HistoryPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/history") {
		return
	}
	p.ctx = ctx
	p.House.Screen = p
	p.load("")
}

// Renew implements screen: the same checks are read again.
func (p *HistoryPage) Renew(ctx app.Context, done func(app.Context)) {
	p.House.List(p.ctx, p.first, max(pageSize, len(p.checks)), func(ctx app.Context, checks []record.Check, more bool) {
		p.checks, p.more = checks, more
		if len(checks) > 0 {
			p.last = checks[len(checks)-1].ID
		}
		done(ctx)
	})
}

// pageSize is how many checks are fetched at once, and mostChecks how many are
// shown: a page with more reacts too slowly to keys.
const pageSize, mostChecks = 30, 90

// load fetches the checks older than the given one, or the newest. They are shown
// together with what became of their jars, which only the shelf knows: adding
// those lines later would move a row that someone is about to touch.
func (p *HistoryPage) load(after string) {
	p.House.List(p.ctx, after, pageSize, func(ctx app.Context, checks []record.Check, more bool) {
		show := func(app.Context) {
			if after == "" {
				p.newest, p.first = true, ""
				p.checks = nil
			} else if len(p.checks)+len(checks) > mostChecks {
				p.newest, p.first = false, after
				p.checks = nil // the older ones replace them
			}
			if len(checks) > 0 {
				p.last = checks[len(checks)-1].ID
			}
			p.checks, p.more, p.loaded = append(p.checks, checks...), more, true
		}
		if slices.ContainsFunc(checks, func(c record.Check) bool { return c.Jar != "" }) {
			p.House.WithShelf(p.ctx, show)
		} else {
			show(ctx)
		}
	})
}

func (p *HistoryPage) Render() app.UI {
	return ui.Frame("/history",
		p.House.Notices(),
		ui.Title("Earlier checks"),
		ui.Only(!p.loaded, func() app.UI { return ui.Txt("p", "", "Opening what is kept on this device…") }),
		ui.Only(p.loaded && len(p.checks) == 0 && !p.more && p.newest, func() app.UI {
			return ui.El("div", "card",
				ui.Txt("p", "", "Nothing yet. Every check is kept here, from its first answer on."),
				ui.El("p", "", ui.Anchor("button", "/check", "Check a jar")),
			)
		}),
		ui.Live("", ui.Only(len(p.deleted) > 0, func() app.UI {
			last := p.deleted[len(p.deleted)-1]
			return ui.El("p", "undo", ui.Prose(ui.Say("Deleted: %s. ", parts.CheckName(&last))), ui.Action("button plain", "Undo", p.undo))
		})),
		ui.El("ul", "history", ui.Each(len(p.checks), func(i int) app.UI { return p.row(p.checks[i]) })...),
		ui.Only(p.more, func() app.UI {
			return ui.Action("button plain", "Older checks", func() { p.load(p.last) })
		}),
		ui.Only(p.loaded && !p.newest, func() app.UI {
			return ui.Action("button plain", "The newest checks", func() { p.load("") })
		}),
	)
}

func (p *HistoryPage) row(c record.Check) app.UI {
	s := session.Resume(c)
	situation := s.Situation()
	outcome := rules.Judge(situation)
	saved, _ := rules.ParseVerdict(c.Highest)
	state, shown, open := outcome.Highest.Text(), outcome.Highest, prose.Text("See the check")
	if !c.Finished {
		state, shown, open = "Not finished", 0, "Go on"
	}
	name, address := parts.CheckName(&c), "/check#id="+c.ID
	became := p.whereNow(&c)
	return ui.El("li", "entry",
		ui.El("div", "thumb", app.Raw(parts.JarPicture(s.Product, situation, shown, draw.Options{Prefix: "h" + c.ID, Plain: true}))),
		ui.El("div", "",
			ui.El("h2", "", ui.Anchor("", address, name)),
			ui.El("p", "entry-verdict", parts.Mark(shown), ui.Txt("strong", "", state), ui.Txt("span", "", ui.Say(" · %s", ui.When(c.Begun)))),
			ui.Only(became != "", func() app.UI { return ui.Txt("p", "became", became) }),
			ui.Only(c.Finished && saved != outcome.Highest, func() app.UI {
				return ui.Txt("p", "changed", ui.Say("When it was checked the answer was “%s” (edition %s). The rules have changed since.", saved, c.Edition))
			}),
			ui.El("p", "row",
				ui.ToPage("button plain", address).Aria("label", ui.Local(ui.Say("%s: %s", open, name))).Text(ui.Local(open)),
				ui.Only(c.Jar != "", func() app.UI {
					return ui.ToPage("button plain", "/jar?id="+c.Jar).Aria("label", ui.Local(ui.Say("The jar: %s", name))).Text(ui.Local("The jar"))
				}),
				ui.Only(c.Jar == "" && c.Thrown == "" && c.Finished && outcome.Highest != rules.Discard && situation.Is(rules.OpenedNo), func() app.UI {
					return ui.ToPage("button plain", "/batch?check="+c.ID).Aria("label", ui.Local(ui.Say("Add it to my shelf list: %s", name))).Text(ui.Local("Add it to my shelf list"))
				}),
				ui.Named("quiet", "Delete", ui.Say("Delete: %s", name), func() { p.remove(c) }, c.ID),
			),
		),
	)
}

// whereNow says what became of the jar that was checked: where it is now, or that it is
// gone; empty while nobody has said.
func (p *HistoryPage) whereNow(c *record.Check) prose.Text {
	if c.Thrown != "" {
		return ui.Say("%s.", parts.ThrownWords(c.Thrown))
	}
	if c.Jar == "" || p.House.Shelf == nil || !p.House.Shelf.Loaded {
		return ""
	}
	j := p.House.Shelf.Jars[c.Jar]
	if j == nil {
		return "The jar is not on this device any more."
	}
	b := p.House.Shelf.Judge(j, time.Now()).Basis
	switch place := p.House.Shelf.PlaceName(b.Place); b.Stage {
	case record.IsGone:
		what := map[string]prose.Text{record.Discarded: "Thrown out on %s.", record.Eaten: "Eaten on %s.", record.Given: "Given away on %s."}[b.Ended.What]
		return ui.Say(ui.CmpOr(what, "Gone since %s."), ui.DayWords(record.DayOf(b.Ended.At.Local())))
	case record.IsOpen:
		return ui.Say("Open, in %s.", place)
	case record.IsMissing:
		return ui.Say("Not found; last in %s.", place)
	default:
		return ui.Say("On the shelf: %s.", place)
	}
}

func (p *HistoryPage) remove(c record.Check) {
	for i := range p.checks {
		if p.checks[i].ID == c.ID {
			p.checks = append(p.checks[:i:i], p.checks[i+1:]...)
			break
		}
	}
	p.deleted = append(p.deleted, c)
	c.Delete(time.Now())
	p.House.Save(&c)
}

func (p *HistoryPage) undo() {
	c := p.deleted[len(p.deleted)-1]
	p.deleted = p.deleted[:len(p.deleted)-1]
	// One revision for the deletion, one for the restoration.
	c.Revision++
	c.Restore(time.Now())
	p.House.Save(&c)
	p.House.Settled(p.ctx, func(app.Context) { p.load("") })
}
