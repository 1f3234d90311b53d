package office

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/backup"
	"larderlamp/app/house"
	"larderlamp/app/ledger"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// choose reads a file and shows what importing it would change.
func (p *KeepingPage) choose() {
	p.plan, p.whole, p.said, p.errors = nil, false, "", nil
	failed := func(text string) {
		p.head, p.errors = "Nothing was brought in. The file could not be read:", []prose.Text{prose.Upper(ui.Say("%s.", text))}
	}
	ui.OnPromise(p.ctx, ui.Device().Call("large", ".json,application/json", backup.MostFileBytes), func(v app.Value) {
		if !v.Truthy() {
			return
		}
		p.from, p.busy, p.file = v.Get("name").String(), true, v
		h := p.House
		go func() {
			plan, err := h.Survey(p.reader())
			p.ctx.Dispatch(func(app.Context) {
				p.busy, p.plan = false, plan
				if err != nil {
					p.plan = nil
					p.head, p.errors = ui.Say("Nothing was brought in. What is wrong with %s:", p.from), ui.EachFault(err)
				}
				ui.Focus(p.ctx, "title")
			})
		}()
	}, failed)
}

// reader reads the chosen file from its beginning.
func (p *KeepingPage) reader() *house.Chosen {
	return &house.Chosen{File: p.file, Size: p.file.Get("size").Int()}
}

// preview shows what importing a file would change.
func (p *KeepingPage) preview() app.UI {
	if p.plan == nil {
		return nil
	}
	plan := p.plan
	return ui.El("section", "card",
		ui.Txt("h2", "", ui.Say("Bringing in %s would", p.from)),
		ui.Table([]prose.Text{"Kind", "add", "change", "leave"}, len(record.Kinds), func(i int) []prose.Text {
			k := record.Kinds[i]
			return []prose.Text{k.Text(), ui.Number(plan.Added[k]), ui.Number(plan.Changed[k]), ui.Number(plan.Same[k])}
		}),
		ui.Only(len(plan.Aside) > 0, func() app.UI {
			n := 0
			for _, k := range record.Kinds {
				n += plan.Aside[k]
			}
			return ui.Txt("p", "", ui.Say("%s changed on both devices. The later version counts; the other is kept beside it for you to look at.", ui.Count(n, "record was", "records were")))
		}),
		ui.Only(plan.Lost > 0, func() app.UI {
			return ui.Txt("p", "", ui.Say("%s of a batch that is neither in the file nor here. What is in such a jar counts as unknown.", ui.Count(plan.Lost, "jar is", "jars are")))
		}),
		ui.Only(plan.Gone > 0, func() app.UI {
			return ui.Txt("p", "", prose.Agree(plan.Gone, "One record of the file was deleted here. It stays deleted.", "%d records of the file were deleted here. They stay deleted.", plan.Gone))
		}),
		p.fileSettings(plan),
		ui.El("p", "row",
			ui.Only(plan.Count() > 0 || p.settingsChange(plan), func() app.UI {
				return ui.Action("button", "Bring it in", func() {
					p.busy = true
					p.House.Import(p.reader(), plan.File, p.whole, func(n int) { p.said = ui.Say("Brought in: %d records.", n) })
					p.House.Settled(p.ctx, func(app.Context) { p.busy = false })
					p.plan = nil
				}, "take")
			}),
			ui.Only(plan.Count() == 0 && !p.settingsChange(plan), func() app.UI {
				if plan.Gone > 0 {
					return ui.Txt("p", "", "Nothing: the rest of it is here already.")
				}
				return ui.Txt("p", "", "Nothing: all of it is here already.")
			}),
			ui.Action("button plain", "Leave it", func() { p.plan = nil }, "leave"),
		),
	)
}

// settingsChange reports whether importing the file changes a setting.
func (p *KeepingPage) settingsChange(plan *ledger.Merging) bool {
	after := p.House.Settings.From(plan.File, p.whole)
	return !after.Same(&p.House.Settings)
}

// fileSettings says what happens to the settings, and lets the person use those of
// the file where they differ.
func (p *KeepingPage) fileSettings(plan *ledger.Merging) app.UI {
	all := p.House.Settings.From(plan.File, true)
	if all.Same(&p.House.Settings) {
		return nil
	}
	after := p.House.Settings.From(plan.File, p.whole)
	return ui.El("div", "",
		ui.Txt("p", "", ui.Say("Settings after that: %s", p.settingsWords(&after))),
		ui.Only(!p.whole && !after.Same(&all), func() app.UI {
			return ui.Action("button plain", ui.Say("Use those of the file instead: %s", p.settingsWords(&all)), func() { p.whole = true }, "whole")
		}),
		ui.Only(p.whole, func() app.UI {
			return ui.Action("button plain", "Keep my settings", func() { p.whole = false }, "mine")
		}),
	)
}

// settingsWords describes settings in one line.
func (p *KeepingPage) settingsWords(s *record.Settings) prose.Text {
	altitude := prose.Text("altitude not given")
	if s.AltitudeFeet != nil {
		altitude = ui.Say("altitude up to %d ft (%d m)", *s.AltitudeFeet, process.Feet(*s.AltitudeFeet).Meters())
	}
	unit := "°C"
	if s.Fahrenheit {
		unit = "°F"
	}
	return ui.Say("%s, a sweep every %s, %s.", altitude, ui.Count(s.MonthsBetweenSweeps(), "month", "months"), unit)
}
