package app

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/backup"
	"larderlamp/app/demo"
	"larderlamp/app/record"
	"larderlamp/app/tables"
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
	file      app.Value
	plan      *merging
	whole     bool   // the settings of the file are taken, whatever was set here
	head      string // what the errors are about
	persisted bool
	made      app.Value // a backup that is to be shared, when the browser wants another touch
	stored    string    // whether the guide is stored, in words
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
	promised(ctx, device().Call("persisted"), func(v app.Value) { p.persisted = v.Truthy() }, func(string) {})
	p.cellar()
}

// cellar asks whether the guide is stored, again and again until it is.
func (p *keepingPage) cellar() {
	helper := app.Window().Get("larderStored")
	if !helper.Truthy() {
		return
	}
	promised(p.ctx, helper.Call("cellar"), func(v app.Value) {
		have, of, why := v.Get("have").Int(), v.Get("of").Int(), v.Get("why").String()
		p.stored = cellarWords(have, of, why)
		if why == "starting" {
			p.ctx.After(time.Second, func(app.Context) { p.cellar() })
		}
	}, func(string) {})
}

// cellarWords says whether the guide works without a connection, and what to do
// when it does not.
func cellarWords(have, of int, why string) string {
	switch {
	case why == "" && have == of:
		return say("Ready for the cellar: yes. All %d files of the guide are on this device, and it works without a connection.", of)
	case why == "insecure":
		return "Ready for the cellar: no, because this address is not encrypted (https), and browsers store a guide only from one that is. Open it from an https address, or from this computer itself."
	case why == "unable":
		return "Ready for the cellar: no, because this browser cannot store a guide, or not in a private window. Open it in a normal window, or in another browser."
	case why == "full":
		return "Ready for the cellar: no, because there is no room for it on this device. Free some room, and load this page again."
	case why == "failed":
		return "Ready for the cellar: no, because storing it did not work. Check the connection, and load this page again."
	case of > 0:
		return say("Ready for the cellar: %d of %d files. Stay connected until all of them are here.", have, of)
	}
	return "Ready for the cellar: not yet. Stay connected until all files of the guide are here."
}

// forgetsWords says what the browser of this device does with what a page keeps,
// and what to do about it; "" for one that keeps it.
func forgetsWords() string {
	if !app.IsClient || !device().Truthy() {
		return ""
	}
	switch device().Call("forgets").String() {
	case "ios":
		return "An iPhone or iPad deletes what a page keeps when the page was not opened for seven days. Put the guide on the Home Screen, and it stays: save a backup here, touch Share, then Add to Home Screen, open the guide from there, and take the backup in. The guide on the Home Screen does not see what is kept here."
	case "mac":
		return "This browser deletes what a page keeps when the page was not opened for seven days. Add the guide to the Dock, and it stays: save a backup here, choose File, then Add to Dock, open the guide from there, and take the backup in. The guide in the Dock does not see what is kept here."
	}
	return ""
}

func (p *keepingPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("Backups"), txt("p", "", "Opening what is kept on this device…"))
	}
	last := "never"
	if at := p.house.settings.LastBackup; at != nil {
		last = when(*at)
	}
	share := canShare("larderlamp.json", "application/json")
	sheet := share && device().Call("sheet", "larderlamp.json", "application/json").Bool()
	return frame("/shelf",
		title("Backups"),
		p.house.notices(),
		live("",
			only(p.said != "", func() app.UI { return txt("p", "notice", p.said) }),
			only(len(p.errors) > 0, func() app.UI {
				return el("div", "notice", txt("p", "", p.head), el("ul", "", texts(p.errors)...))
			}),
			only(p.busy, func() app.UI { return txt("p", "", "One moment…") }),
		),
		p.preview(),
		el("section", "card",
			txt("h2", "", "Backup"),
			txt("p", "", say("One file with everything: batches, jars, places, checks, photos, sweeps. Last backup: %s.", last)),
			el("p", "row",
				action("button", "Save a backup", func() { p.backup(sheet) }, "save"),
				only(share, func() app.UI { return action("button plain", "Share it", func() { p.backup(true) }, "share") }),
				action("button plain", "Bring in a backup, or that of another phone", p.choose, "choose"),
			),
			txt("p", "hint", "Taking in a file shows first what would change, and then does all of it or nothing. Two phones' files put together lose nothing, in whatever order."),
		),
		el("section", "card",
			txt("h2", "", "Tables and dates"),
			el("p", "row",
				action("button plain", "Jars as a table (CSV)", func() { p.table("larderlamp-jars.csv", tables.Jars(p.house.shelf.Pantry, time.Now())) }, "jars"),
				action("button plain", "Checks as a table (CSV)", p.checks, "checks"),
				action("button plain", "Dates for a calendar (iCalendar)", p.calendar, "dates"),
			),
			txt("p", "hint", "Dates: the next sweep, until when opened jars keep, and the day each batch is a year old."),
			field("Sweep every", elem("select", "").On("change", func(ctx app.Context, e app.Event) {
				n, err := strconv.Atoi(picked(ctx))
				if err == nil {
					p.house.keepSettings(p.ctx, func(s *record.Settings) { s.SweepMonths = n })
				}
			}).Body(each(6, func(i int) app.UI {
				return option(fmt.Sprint(i+1), count(i+1, "month", "months"), p.house.settings.Every() == i+1)
			})...)),
		),
		el("section", "card",
			txt("h2", "", "This device"),
			only(p.stored != "", func() app.UI { return txt("p", "cellar", p.stored) }),
			only(forgetsWords() != "", func() app.UI { return txt("p", "notice", forgetsWords()) }),
			txt("p", "", persistWords(p.house.private, p.persisted)),
			el("p", "row",
				only(!p.persisted && p.house.private != "yes", func() app.UI {
					return action("button plain", "Ask the browser not to clear it", func() {
						p.said = "The browser may ask you now, at the edge of its window."
						promised(p.ctx, device().Call("persist"), func(v app.Value) {
							p.persisted = v.Truthy()
							switch {
							case p.persisted:
								p.said = ""
							case v.IsNull():
								p.said = "The browser has not said whether it agrees. Keep backups."
							default:
								p.said = "The browser did not agree. It may once the guide is installed or used more often. Keep backups."
							}
						}, func(text string) { p.said = upperFirst(text) + "." })
					}, "persist")
				}),
				only(!p.house.demo, func() app.UI {
					return action("button plain", "Show the made-up household", p.house.showDemo, "demo")
				}),
				only(p.house.demo, func() app.UI {
					return action("button plain", "Take the made-up household away", p.emptyDemo, "empty")
				}),
			),
		),
	)
}

func persistWords(private string, persisted bool) string {
	if private == "yes" {
		return "This is a private window: what is kept here is deleted when it is closed. Save a backup before that."
	}
	if persisted {
		return "The browser has promised not to clear what is kept here by itself. Clearing the site's data still does."
	}
	if private == "" {
		return "The browser may clear what is kept here when it runs short of room. In a private window it is deleted when the window is closed."
	}
	return "The browser may clear what is kept here when it runs short of room."
}

// backup writes everything into one file.
func (p *keepingPage) backup(share bool) {
	h, now := p.house, time.Now()
	name := "larderlamp-" + now.Format("2006-01-02") + ".json"
	if share && p.made != nil {
		p.share(name, p.made)
		return
	}
	p.busy, p.said, p.errors = true, "", nil
	b := h.edition(backup.File{Written: now})
	parts := device().Call("parts", "application/json")
	go func() {
		written, unread, err := h.writeBackup(pieces{parts}, b)
		p.ctx.Dispatch(func(ctx app.Context) {
			p.busy = false
			if err != nil {
				p.fails("The backup could not be written:", err)
				return
			}
			if unread > 0 {
				h.complain(count(unread, "record could not be read. It is not in the backup.", "records could not be read. They are not in the backup."))
			}
			file := parts.Call("blob")
			if share {
				p.share(name, file)
				return
			}
			device().Call("save", name, "application/json", file)
			p.backedUp()
			p.said = say("Backup written: %s, %d records.", name, written)
		})
	}()
}

// fails says what could not be done.
func (p *keepingPage) fails(head string, err error) { p.head, p.errors = head, []string{plain(err)} }

// share hands a backup to another program of the device. One that the person did
// not send is no backup.
func (p *keepingPage) share(name string, file app.Value) {
	p.made = nil
	promised(p.ctx, device().Call("share", name, "application/json", file), func(v app.Value) {
		switch v.String() {
		case "shared":
			p.backedUp()
			p.said = say("Backup shared: %s.", name)
		case "again":
			p.made = file
			p.said = "The backup is ready. Touch “Share it” once more."
		default:
			p.said = "Nothing was shared: there is no new backup."
		}
	}, func(text string) { p.said = upperFirst(text) + "." })
}

// backedUp notes that there is a backup of today.
func (p *keepingPage) backedUp() {
	p.house.keepSettings(p.ctx, func(s *record.Settings) {
		at := time.Now().UTC().Truncate(time.Second)
		s.LastBackup = &at
	})
}

// choose looks at a file and shows what taking it in would change.
func (p *keepingPage) choose() {
	p.plan, p.whole, p.said, p.errors = nil, false, "", nil
	failed := func(text string) {
		p.head, p.errors = "Nothing was taken in. The file could not be read:", []string{upperFirst(text) + "."}
	}
	promised(p.ctx, device().Call("large", ".json,application/json", backup.MostFileBytes), func(v app.Value) {
		if !v.Truthy() {
			return
		}
		p.from, p.busy, p.file = v.Get("name").String(), true, v
		h := p.house
		go func() {
			plan, err := h.survey(p.reader())
			p.ctx.Dispatch(func(app.Context) {
				p.busy, p.plan = false, plan
				if err != nil {
					p.plan = nil
					p.head, p.errors = say("Nothing was taken in. What is wrong with %s:", p.from), strings.Split(plain(err), "\n")
				}
				focus(p.ctx, "title")
			})
		}()
	}, failed)
}

// reader reads the chosen file from its beginning.
func (p *keepingPage) reader() *chosen {
	return &chosen{file: p.file, size: p.file.Get("size").Int()}
}

// preview shows what taking in a file would change.
func (p *keepingPage) preview() app.UI {
	if p.plan == nil {
		return nil
	}
	plan := p.plan
	return el("section", "card",
		txt("h2", "", say("Taking in %s would", p.from)),
		table([]string{"Kind", "add", "change", "leave"}, len(record.Kinds), func(i int) []string {
			k := record.Kinds[i]
			return []string{string(k), fmt.Sprint(plan.Added[k]), fmt.Sprint(plan.Changed[k]), fmt.Sprint(plan.Same[k])}
		}),
		only(len(plan.Aside) > 0, func() app.UI {
			n := 0
			for _, k := range record.Kinds {
				n += plan.Aside[k]
			}
			return txt("p", "", say("%s changed on both devices. The later version counts; the other is kept beside it for you to look at.", count(n, "record was", "records were")))
		}),
		only(plan.lost > 0, func() app.UI {
			return txt("p", "", say("%s of a batch that is neither in the file nor here. What is in such a jar counts as unknown.", count(plan.lost, "jar is", "jars are")))
		}),
		p.fileSettings(plan),
		el("p", "row",
			only(plan.Count() > 0 || p.settingsChange(plan), func() app.UI {
				return action("button", "Take it in", func() {
					p.busy = true
					p.house.takeIn(p.ctx, p.reader(), plan.file, p.whole, func(n int) { p.said = say("Taken in: %d records.", n) })
					p.house.settled(p.ctx, func(app.Context) { p.busy = false })
					p.plan = nil
				}, "take")
			}),
			only(plan.Count() == 0 && !p.settingsChange(plan), func() app.UI { return txt("p", "", "Nothing: all of it is here already.") }),
			action("button plain", "Leave it", func() { p.plan = nil }, "leave"),
		),
	)
}

// settingsChange tells whether taking in the file changes a setting.
func (p *keepingPage) settingsChange(plan *merging) bool {
	after := p.house.settings.From(plan.file, p.whole)
	return !after.Same(&p.house.settings)
}

// fileSettings says what becomes of the settings, and lets those of the file be taken
// where they differ.
func (p *keepingPage) fileSettings(plan *merging) app.UI {
	all := p.house.settings.From(plan.file, true)
	if all.Same(&p.house.settings) {
		return nil
	}
	after := p.house.settings.From(plan.file, p.whole)
	return el("div", "",
		txt("p", "", say("Settings after that: %s", p.settingsWords(&after))),
		only(!p.whole && !after.Same(&all), func() app.UI {
			return action("button plain", say("Use those of the file instead: %s", p.settingsWords(&all)), func() { p.whole = true }, "whole")
		}),
		only(p.whole, func() app.UI { return action("button plain", "Leave my settings", func() { p.whole = false }, "mine") }),
	)
}

// settingsWords says settings in a line.
func (p *keepingPage) settingsWords(s *record.Settings) string {
	altitude := local("altitude not given")
	if s.AltitudeFeet != nil {
		altitude = say("altitude up to %d ft (%d m)", *s.AltitudeFeet, *s.AltitudeFeet*3048/10000)
	}
	unit := "°C"
	if s.Fahrenheit {
		unit = "°F"
	}
	return say("%s, a sweep every %s, %s.", altitude, count(s.Every(), "month", "months"), unit)
}

func (p *keepingPage) table(name string, text []byte) {
	saveFile(name, "text/csv", string(text))
	p.said = say("Saved: %s.", name)
}

// checks writes a table of all checks.
func (p *keepingPage) checks() {
	h := p.house
	go func() {
		records, err := h.everything()
		p.ctx.Dispatch(func(app.Context) {
			if err != nil {
				p.fails("The table of checks could not be written:", err)
				return
			}
			p.table("larderlamp-checks.csv", tables.Checks(records))
		})
	}()
}

// calendar writes the dates that matter.
func (p *keepingPage) calendar() {
	text, err := tables.Calendar(p.house.shelf.Pantry, time.Now())
	if err != nil {
		p.fails("The dates could not be written:", err)
		return
	}
	saveFile("larderlamp.ics", "text/calendar", string(text))
	p.said = "Saved: larderlamp.ics."
}

// fillDemo fills the made-up household, unless it is there, and shows it.
func (p *keepingPage) fillDemo() {
	if len(p.house.shelf.Jars) == 0 {
		records, err := demo.Records(time.Now())
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

// emptyDemo takes every record of the made-up household away for good.
func (p *keepingPage) emptyDemo() {
	p.house.clearDemo(p.ctx, p.house.hideDemo)
}
