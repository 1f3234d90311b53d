package app

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/rules"
)

// keepingPage keeps what is on the device safe: backup, merge, tables, dates.
type keepingPage struct {
	app.Compo
	house *household

	ctx       app.Context
	ready     bool
	said      string
	errors    []string
	busy      bool
	from      string // name of the file that is looked at
	plan      *pantry.Plan
	persisted bool
}

func (p *keepingPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/keeping") {
		return
	}
	p.ctx = ctx
	fill := ctx.Page().URL().Query().Get("demo") == "fill"
	p.house.shelved(ctx, func(app.Context) {
		p.ready = true
		if fill && p.house.demo {
			p.fillDemo()
		}
	})
	promised(ctx, device().Call("persisted"), func(v app.Value) { p.persisted = v.Bool() }, func(string) {})
}

func (p *keepingPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("Safe keeping"), txt("p", "", "Opening what is kept on this device…"))
	}
	last := "never"
	if at := p.house.settings.LastBackup; at != nil {
		last = when(*at)
	}
	share := canShare("larderlamp.json", "application/json")
	return frame("/shelf",
		title("Safe keeping"),
		p.house.notices(),
		live("",
			only(p.said != "", func() app.UI { return txt("p", "notice", p.said) }),
			only(len(p.errors) > 0, func() app.UI {
				return el("div", "notice", txt("p", "", say("Nothing was taken in. What is wrong with %s:", p.from)), el("ul", "", texts(p.errors)...))
			}),
			only(p.busy, func() app.UI { return txt("p", "", "One moment…") }),
		),
		p.preview(),
		el("section", "card",
			txt("h2", "", "Backup"),
			txt("p", "", say("One file with everything: batches, jars, places, checks, photos, sweeps. Last backup: %s.", last)),
			el("p", "row",
				action("button", "Save a backup", func() { p.backup(false) }, "save"),
				only(share, func() app.UI { return action("button plain", "Share it", func() { p.backup(true) }, "share") }),
				action("button plain", "Take in a backup, or that of another phone", p.choose, "choose"),
			),
			txt("p", "hint", "Taking in a file shows first what would change, and then does all of it or nothing. Two phones' files put together lose nothing, in whatever order."),
		),
		el("section", "card",
			txt("h2", "", "Tables and dates"),
			el("p", "row",
				action("button plain", "Jars as a table (CSV)", func() { p.table("larderlamp-jars.csv", p.house.shelf.JarTable(time.Now())) }, "jars"),
				action("button plain", "Checks as a table (CSV)", p.checks, "checks"),
				action("button plain", "Dates for a calendar (iCalendar)", p.calendar, "dates"),
			),
			txt("p", "hint", "Dates: the next sweep, until when opened jars keep, and the day each batch is a year old."),
			field("Sweep every", elem("select", "").On("change", func(ctx app.Context, e app.Event) {
				n, err := strconv.Atoi(picked(ctx))
				if err == nil {
					p.house.keepSettings(p.ctx, func(s *pantry.Settings) { s.SweepMonths = n })
				}
			}).Body(each(6, func(i int) app.UI {
				return option(fmt.Sprint(i+1), count(i+1, "month", "months"), p.house.settings.Every() == i+1)
			})...)),
		),
		el("section", "card",
			txt("h2", "", "This device"),
			txt("p", "", persistWords(p.persisted)),
			el("p", "row",
				only(!p.persisted, func() app.UI {
					return action("button plain", "Ask the browser not to clear it", func() {
						promised(p.ctx, device().Call("persist"), func(v app.Value) {
							p.persisted = v.Bool()
							if !p.persisted {
								p.said = "The browser did not agree. It may once the guide is installed or used more often. Keep backups."
							}
						}, func(text string) { p.said = upperFirst(text) + "." })
					}, "persist")
				}),
				only(!p.house.demo, func() app.UI {
					return action("button plain", "Show the invented household", p.house.showDemo, "demo")
				}),
				only(p.house.demo, func() app.UI {
					return action("button plain", "Take the invented household away", p.emptyDemo, "empty")
				}),
			),
		),
	)
}

func persistWords(persisted bool) string {
	if persisted {
		return "The browser has promised not to clear what is kept here by itself. Clearing the site's data still does."
	}
	return "The browser may clear what is kept here when it runs short of room."
}

// backup writes everything into one file.
func (p *keepingPage) backup(share bool) {
	p.busy, p.said, p.errors = true, "", nil
	h, now := p.house, time.Now()
	go func() {
		records, err := h.everything()
		var text []byte
		if err == nil {
			text, err = pantry.WriteBackup(pantry.Backup{Written: now, Edition: rules.Edition, Settings: h.settings, Records: records})
		}
		p.ctx.Dispatch(func(ctx app.Context) {
			p.busy = false
			if err != nil {
				p.from, p.errors = "the backup", []string{plain(err)}
				return
			}
			name := "larderlamp-" + now.Format("2006-01-02") + ".json"
			saveFile(ctx, share, name, "application/json", string(text), func(text string) { p.said = upperFirst(text) + "." })
			h.keepSettings(ctx, func(s *pantry.Settings) {
				at := now.UTC().Truncate(time.Second)
				s.LastBackup = &at
			})
			p.said = say("Backup written: %s, %d records.", name, len(records))
		})
	}()
}

// choose looks at a file and shows what taking it in would change.
func (p *keepingPage) choose() {
	p.plan, p.said, p.errors = nil, "", nil
	failed := func(text string) { p.from, p.errors = "the file", []string{upperFirst(text) + "."} }
	promised(p.ctx, device().Call("choose", ".json,application/json", pantry.MostFileBytes), func(v app.Value) {
		if !v.Truthy() {
			return
		}
		p.from, p.busy = v.Index(0).String(), true
		text := []byte(v.Index(1).String())
		h := p.house
		go func() {
			plan, err := h.plan(text)
			p.ctx.Dispatch(func(app.Context) {
				p.busy, p.plan = false, plan
				if err != nil {
					p.plan, p.errors = nil, strings.Split(plain(err), "\n")
				}
				focus(p.ctx, "title")
			})
		}()
	}, failed)
}

// plan reads a backup and puts it together with what is here. It must not be
// called on the UI goroutine.
func (h *household) plan(text []byte) (*pantry.Plan, error) {
	b, err := pantry.ReadBackup(text)
	if err != nil {
		return nil, err
	}
	here, err := h.everything()
	if err != nil {
		return nil, err
	}
	type key struct {
		kind pantry.Kind
		id   string
	}
	at := make(map[key]pantry.Record, len(here))
	for _, r := range here {
		at[key{r.Kind(), r.Key()}] = r
	}
	return pantry.PlanMerge(b, func(k pantry.Kind, id string) (pantry.Record, error) {
		if r, ok := at[key{k, id}]; ok {
			return r, nil
		}
		return nil, nil
	})
}

// preview shows what taking in a file would change.
func (p *keepingPage) preview() app.UI {
	if p.plan == nil {
		return nil
	}
	plan := p.plan
	return el("section", "card",
		txt("h2", "", say("Taking in %s would", p.from)),
		table([]string{"Kind", "add", "change", "leave"}, len(pantry.Kinds), func(i int) []string {
			k := pantry.Kinds[i]
			return []string{string(k), fmt.Sprint(plan.Added[k]), fmt.Sprint(plan.Changed[k]), fmt.Sprint(plan.Same[k])}
		}),
		only(len(plan.Aside) > 0, func() app.UI {
			n := 0
			for _, k := range pantry.Kinds {
				n += plan.Aside[k]
			}
			return txt("p", "", say("%s changed on both devices. The later version counts; the other is kept beside it for you to look at.", count(n, "record was", "records were")))
		}),
		el("p", "row",
			only(len(plan.Writes) > 0, func() app.UI {
				return action("button", "Take it in", func() {
					p.busy = true
					p.house.keep(p.ctx, func() { p.said = say("Taken in: %d records.", len(plan.Writes)) }, plan.Writes...)
					p.house.settled(p.ctx, func(app.Context) { p.busy = false })
					p.plan = nil
				}, "take")
			}),
			only(len(plan.Writes) == 0, func() app.UI { return txt("p", "", "Nothing: all of it is here already.") }),
			action("button plain", "Leave it", func() { p.plan = nil }, "leave"),
		),
	)
}

func (p *keepingPage) table(name string, text []byte) {
	saveFile(p.ctx, false, name, "text/csv", string(text), nil)
	p.said = say("Saved: %s.", name)
}

// checks writes a table of all checks.
func (p *keepingPage) checks() {
	h := p.house
	go func() {
		records, err := h.everything()
		p.ctx.Dispatch(func(app.Context) {
			if err != nil {
				p.from, p.errors = "the checks", []string{plain(err)}
				return
			}
			p.table("larderlamp-checks.csv", pantry.CheckTable(records))
		})
	}()
}

// calendar writes the dates that matter.
func (p *keepingPage) calendar() {
	text, err := p.house.shelf.Calendar(time.Now())
	if err != nil {
		p.from, p.errors = "the dates", []string{plain(err)}
		return
	}
	saveFile(p.ctx, false, "larderlamp.ics", "text/calendar", string(text), nil)
	p.said = "Saved: larderlamp.ics."
}

// fillDemo fills the invented household, unless it is there, and shows it.
func (p *keepingPage) fillDemo() {
	if len(p.house.shelf.Jars) == 0 {
		records, err := pantry.Demo(time.Now())
		if err != nil {
			p.house.complain(plain(err))
			return
		}
		p.house.commit(p.ctx, records...)
	}
	p.house.settled(p.ctx, func(ctx app.Context) {
		p.house.replaceAddress(link("/keeping")) // a step back does not fill it again
		ctx.Navigate(link("/shelf"))
	})
}

// emptyDemo takes every record of the invented household away for good.
func (p *keepingPage) emptyDemo() {
	p.house.clearDemo(p.ctx, p.house.hideDemo)
}
