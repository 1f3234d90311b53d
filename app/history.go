package app

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/record"
	"larderlamp/rules"
)

// historyPage lists the checks kept on this device, newest first.
type historyPage struct {
	app.Compo
	house *household

	ctx     app.Context // of the page: it outlives the buttons in it
	checks  []record.Check
	more    bool
	loaded  bool
	first   string         // id of the check after which those that are shown begin
	last    string         // id of the oldest check that was fetched
	newest  bool           // the checks shown begin with the newest
	deleted []record.Check // can be brought back, newest last
}

func (p *historyPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/history") {
		return
	}
	p.ctx = ctx
	p.house.screen = p
	p.load("")
}

// renew implements screen: the same checks are read again.
func (p *historyPage) renew(ctx app.Context, done func(app.Context)) {
	p.house.list(p.ctx, p.first, max(pageSize, len(p.checks)), func(ctx app.Context, checks []record.Check, more bool) {
		p.checks, p.more = checks, more
		if len(checks) > 0 {
			p.last = checks[len(checks)-1].ID
		}
		done(ctx)
	})
}

// pageSize is how many checks are fetched at once, and mostChecks how many are
// shown: a page with more answers a key too late.
const pageSize, mostChecks = 30, 90

// load fetches the checks older than the one given, or the newest.
func (p *historyPage) load(after string) {
	p.house.list(p.ctx, after, pageSize, func(ctx app.Context, checks []record.Check, more bool) {
		if after == "" {
			p.newest, p.first = true, ""
			p.checks = nil
		} else if len(p.checks)+len(checks) > mostChecks {
			p.newest, p.first = false, after
			p.checks = nil // the older ones take their place
		}
		if len(checks) > 0 {
			p.last = checks[len(checks)-1].ID
		}
		p.checks, p.more, p.loaded = append(p.checks, checks...), more, true
		if slices.ContainsFunc(checks, func(c record.Check) bool { return c.Jar != "" }) {
			// What became of those jars only the shelf knows.
			p.house.shelved(p.ctx, func(app.Context) {})
		}
	})
}

func (p *historyPage) Render() app.UI {
	return frame("/history",
		title("Earlier checks"),
		p.house.notices(),
		only(!p.loaded, func() app.UI { return txt("p", "", "Opening what is kept on this device…") }),
		only(p.loaded && len(p.checks) == 0 && !p.more && p.newest, func() app.UI {
			return el("div", "card",
				txt("p", "", "Nothing yet. Every check is kept here from its first answer on, on this device only."),
				el("p", "", anchor("button", "/check", "Check a jar")),
			)
		}),
		live("", only(len(p.deleted) > 0, func() app.UI {
			last := p.deleted[len(p.deleted)-1]
			return el("p", "undo", prose(say("Deleted: %s. ", checkName(&last))), action("button plain", "Undo", p.undo))
		})),
		el("ul", "history", each(len(p.checks), func(i int) app.UI { return p.row(p.checks[i]) })...),
		only(p.more, func() app.UI {
			return action("button plain", "Older checks", func() { p.load(p.last) })
		}),
		only(p.loaded && !p.newest, func() app.UI {
			return action("button plain", "The newest checks", func() { p.load("") })
		}),
	)
}

func (p *historyPage) row(c record.Check) app.UI {
	s := resume(c)
	situation := s.situation()
	outcome := rules.Judge(situation)
	saved, _ := rules.ParseVerdict(c.Highest)
	state, shown, open := outcome.Highest.String(), outcome.Highest, "See the check"
	if !c.Finished {
		state, shown, open = "Not finished", 0, "Go on"
	}
	name, address := checkName(&c), "/check#id="+c.ID
	became := p.became(&c)
	return el("li", "entry",
		el("div", "thumb", app.Raw(jarPicture(s.product, situation, shown, draw.Options{Prefix: "h" + c.ID, Plain: true}))),
		el("div", "",
			el("h2", "", anchor("", address, name)),
			el("p", "entry-verdict", mark(shown), txt("strong", "", state), txt("span", "", say(" · %s", when(c.Begun)))),
			only(became != "", func() app.UI { return txt("p", "became", became) }),
			only(c.Finished && saved != outcome.Highest, func() app.UI {
				return txt("p", "changed", say("When it was checked the answer was “%s” (edition %s). The rules have changed since.", saved.String(), c.Edition))
			}),
			el("p", "row",
				toPage("button plain", address).Aria("label", local(open+": "+name)).Text(local(open)),
				only(c.Jar != "", func() app.UI {
					return toPage("button plain", "/jar?id="+c.Jar).Aria("label", say("The jar: %s", name)).Text(local("The jar"))
				}),
				only(c.Jar == "" && c.Thrown == "" && c.Finished && outcome.Highest != rules.Discard && situation.Is(rules.OpenedNo), func() app.UI {
					return toPage("button plain", "/batch?check="+c.ID).Aria("label", say("Add it to my shelf list: %s", name)).Text(local("Add it to my shelf list"))
				}),
				named("quiet", "Delete", say("Delete: %s", name), func() { p.remove(c) }, c.ID),
			),
		),
	)
}

// became says what became of the jar that was checked: where it stands now, or that it
// is gone; empty while nobody has said it.
func (p *historyPage) became(c *record.Check) string {
	if c.Thrown != "" {
		return thrownWords(c.Thrown) + "."
	}
	if c.Jar == "" || p.house.shelf == nil || !p.house.shelf.loaded {
		return ""
	}
	j := p.house.shelf.Jars[c.Jar]
	if j == nil {
		return local("The jar is not on this device any more.")
	}
	b := p.house.shelf.Judge(j, time.Now()).Basis
	switch place := p.house.shelf.PlaceName(b.Place); b.Stage {
	case record.IsGone:
		what := map[string]string{record.Discarded: "Thrown out on %s.", record.Eaten: "Eaten on %s.", record.Given: "Given away on %s."}[b.Ended.What]
		return say(cmpOr(what, "Gone since %s."), dayWords(record.DayOf(b.Ended.At.Local())))
	case record.IsOpen:
		return say("Open, in %s.", place)
	case record.IsMissing:
		return say("Not found; last in %s.", place)
	default:
		return say("On the shelf: %s.", place)
	}
}

// checkName names a check by its product and the person's own words.
func checkName(c *record.Check) string {
	name := c.Product
	if product, ok := rules.ProductByID(c.Product); ok {
		name = product.Name
	}
	if c.Label != "" {
		name += " · " + c.Label
	}
	return name
}

func (p *historyPage) remove(c record.Check) {
	for i := range p.checks {
		if p.checks[i].ID == c.ID {
			p.checks = append(p.checks[:i:i], p.checks[i+1:]...)
			break
		}
	}
	p.deleted = append(p.deleted, c)
	c.Delete(time.Now())
	p.house.save(p.ctx, &c)
}

func (p *historyPage) undo() {
	c := p.deleted[len(p.deleted)-1]
	p.deleted = p.deleted[:len(p.deleted)-1]
	// One revision for the deletion, one for bringing it back.
	c.Revision++
	c.Restore(time.Now())
	p.house.save(p.ctx, &c)
	p.house.settled(p.ctx, func(app.Context) { p.load("") })
}
