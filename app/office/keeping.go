package office

import (
	"fmt"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/backup"
	"larderlamp/app/demo"
	"larderlamp/app/house"
	"larderlamp/app/ledger"
	"larderlamp/app/record"
	"larderlamp/app/tables"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// KeepingPage keeps what is on the device safe: backup, merge, tables, dates.
type KeepingPage struct {
	app.Compo
	House *house.House

	ctx       app.Context
	ready     bool
	said      prose.Text
	errors    []prose.Text
	busy      bool
	from      string // name of the file being looked at
	file      app.Value
	plan      *ledger.Merging
	whole     bool       // the settings of the file are used, whatever was set here
	head      prose.Text // what the errors are about
	persisted bool
	made      app.Value  // a backup ready to be shared, when the browser wants another touch
	stored    prose.Text // whether the guide is stored, in words
}

func (p *KeepingPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/keeping") {
		return
	}
	p.ctx = ctx
	fill := ctx.Page().URL().Query().Get("demo") == "fill"
	p.House.WithShelf(ctx, func(app.Context) {
		p.ready = true
		if fill && p.House.Demo {
			p.fillDemo()
		}
	})
	ui.OnPromise(ctx, ui.Device().Call("persisted"), func(v app.Value) { p.persisted = v.Truthy() }, func(string) {})
	p.cellar()
}

// cellar checks whether the guide is stored, again and again until it is.
func (p *KeepingPage) cellar() {
	helper := app.Window().Get("larderStored")
	if !helper.Truthy() {
		return
	}
	ui.OnPromise(p.ctx, helper.Call("cellar"), func(v app.Value) {
		have, of, why := v.Get("have").Int(), v.Get("of").Int(), v.Get("why").String()
		p.stored = cellarWords(have, of, why)
		if why == "starting" {
			p.ctx.After(time.Second, func(app.Context) { p.cellar() })
		}
	}, func(string) {})
}

// cellarWords says whether the guide works without a connection, and what to do
// when it does not.
func cellarWords(have, of int, why string) prose.Text {
	switch {
	case why == "" && have == of:
		return ui.Say("Ready for the cellar: yes. All %d files of the guide are on this device, and it works without a connection.", of)
	case why == "insecure":
		return "Ready for the cellar: no. This address is not secure (https), and a browser stores a guide only from one that is. Open it by an https address, or on this computer itself."
	case why == "unable":
		return "Ready for the cellar: no. This browser can't store a guide, or not in a private window. Open it in a normal window, or in another browser."
	case why == "full":
		return "Ready for the cellar: no, because there is no room for it on this device. Free some room, and load this page again."
	case why == "failed":
		return "Ready for the cellar: no, because storing it did not work. Check the connection, and load this page again."
	case of > 0:
		return ui.Say("Ready for the cellar: %d of %d files. Stay connected until all of them are here.", have, of)
	}
	return "Ready for the cellar: not yet. Stay connected until all files of the guide are here."
}

func (p *KeepingPage) Render() app.UI {
	if !p.ready {
		return ui.Frame("/shelf", ui.Title("Backups"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	last := "never"
	if at := p.House.Settings.LastBackup; at != nil {
		last = ui.When(*at)
	}
	share := ui.CanShare("larderlamp.json", "application/json")
	sheet := share && ui.Device().Call("sheet", "larderlamp.json", "application/json").Bool()
	return ui.Frame("/shelf",
		p.House.Notices(),
		ui.Title("Backups"),
		ui.Live("",
			ui.Only(p.said != "", func() app.UI { return ui.Txt("p", "notice", p.said) }),
			ui.Only(len(p.errors) > 0, func() app.UI {
				return ui.El("div", "notice", ui.Txt("p", "", p.head), ui.El("ul", "", ui.Texts(p.errors)...))
			}),
			ui.Only(p.busy, func() app.UI { return ui.Txt("p", "", "One moment…") }),
		),
		p.preview(),
		ui.El("section", "card",
			ui.Txt("h2", "", "Backup"),
			ui.Txt("p", "", ui.Say("One file with all of it: batches, jars, places, checks, photos, sweeps. Last backup: %s.", last)),
			ui.El("p", "row",
				ui.Action("button", "Save a backup", func() { p.backup(sheet) }, "save"),
				ui.Only(share, func() app.UI { return ui.Action("button plain", "Share it", func() { p.backup(true) }, "share") }),
				ui.Action("button plain", "Bring in a backup, or that of another phone", p.choose, "choose"),
			),
			ui.Txt("p", "hint", "You see first what a file would change. Then all of it is brought in, or nothing. Files of two phones can be put together in any order: nothing is lost."),
		),
		ui.El("section", "card",
			ui.Txt("h2", "", "Tables and dates"),
			ui.El("p", "row",
				ui.Action("button plain", "Jars as a table (CSV)", func() { p.table("larderlamp-jars.csv", tables.Jars(p.House.Shelf.Pantry, time.Now(), ui.Reader)) }, "jars"),
				ui.Action("button plain", "Checks as a table (CSV)", p.checks, "checks"),
				ui.Action("button plain", "Dates for a calendar (iCalendar)", p.calendar, "dates"),
			),
			ui.Txt("p", "hint", "Dates: the next sweep, the last day of each open jar, and the day each batch is a year old."),
			ui.Field("Sweep every", ui.Elem("select", "").On("change", func(ctx app.Context, e app.Event) {
				n, err := strconv.Atoi(ui.Picked(ctx))
				if err == nil {
					p.House.KeepSettings(func(s *record.Settings) { s.SweepMonths = n })
				}
			}).Body(ui.Each(6, func(i int) app.UI {
				return ui.Option(fmt.Sprint(i+1), ui.Count(i+1, "month", "months"), p.House.Settings.MonthsBetweenSweeps() == i+1)
			})...)),
		),
		ui.El("section", "card",
			ui.Txt("h2", "", "This device"),
			ui.Only(p.stored != "", func() app.UI { return ui.Txt("p", "cellar", p.stored) }),
			ui.Only(ui.ForgetsWords() != "", func() app.UI { return ui.Txt("p", "notice", ui.ForgetsWords()) }),
			ui.Txt("p", "", persistWords(p.House.Private, p.persisted)),
			ui.El("p", "row",
				ui.Only(!p.persisted && p.House.Private != "yes", func() app.UI {
					return ui.Action("button plain", "Ask the browser not to clear it", func() {
						p.said = "The browser may ask you now, at the edge of its window."
						ui.OnPromise(p.ctx, ui.Device().Call("persist"), func(v app.Value) {
							p.persisted = v.Truthy()
							switch {
							case p.persisted:
								p.said = ""
							case v.IsNull():
								p.said = "The browser has not said whether it agrees. Keep backups."
							default:
								p.said = "The browser did not agree. It may once the guide is installed or used more often. Keep backups."
							}
						}, func(text string) { p.said = prose.Upper(ui.Say("%s.", text)) })
					}, "persist")
				}),
				ui.Only(!p.House.Demo, func() app.UI {
					return ui.Action("button plain", "Show the made-up household", p.House.ShowDemo, "demo")
				}),
				ui.Only(p.House.Demo, func() app.UI {
					return ui.Action("button plain", "Remove the made-up household", p.emptyDemo, "empty")
				}),
			),
		),
	)
}

func persistWords(private string, persisted bool) prose.Text {
	if private == "yes" {
		return "This is a private window: what is kept here is deleted when it is closed. Save a backup before that."
	}
	if persisted {
		return "The browser has promised not to clear what is kept here. If you clear the data of this site, it is gone."
	}
	if private == "" {
		return "The browser may clear what is kept here when it runs short of room. In a private window it is deleted when the window is closed."
	}
	return "The browser may clear what is kept here when it runs short of room."
}

// backup writes everything into one file.
func (p *KeepingPage) backup(share bool) {
	h, now := p.House, time.Now()
	name := "larderlamp-" + now.Format("2006-01-02") + ".json"
	if share && p.made != nil {
		p.share(name, p.made)
		return
	}
	p.busy, p.said, p.errors = true, "", nil
	b := h.Edition(backup.File{Written: now})
	parts := ui.Device().Call("parts", "application/json")
	go func() {
		written, unread, err := h.WriteBackup(house.Pieces{Parts: parts}, b)
		p.ctx.Dispatch(func(ctx app.Context) {
			p.busy = false
			if err != nil {
				p.fails("The backup could not be written:", err)
				return
			}
			if unread > 0 {
				h.Complain(ui.Count(unread, "record could not be read. It is not in the backup.", "records could not be read. They are not in the backup."))
			}
			file := parts.Call("blob")
			if share {
				p.share(name, file)
				return
			}
			ui.Device().Call("save", name, "application/json", file)
			p.backedUp()
			p.said = ui.Say("Backup written: %s, %d records.", name, written)
		})
	}()
}

// fails says what could not be done.
func (p *KeepingPage) fails(head prose.Text, err error) {
	p.head, p.errors = head, []prose.Text{ui.Plain(err)}
}

// share hands a backup to another program on the device. If the person did not
// send it, it does not count as a backup.
func (p *KeepingPage) share(name string, file app.Value) {
	p.made = nil
	ui.OnPromise(p.ctx, ui.Device().Call("share", name, "application/json", file), func(v app.Value) {
		switch v.String() {
		case "shared":
			p.backedUp()
			p.said = ui.Say("Backup shared: %s.", name)
		case "again":
			p.made = file
			p.said = "The backup is ready. Touch “Share it” once more."
		default:
			p.said = "Nothing was shared: there is no new backup."
		}
	}, func(text string) { p.said = prose.Upper(ui.Say("%s.", text)) })
}

// backedUp records that there is a backup from today.
func (p *KeepingPage) backedUp() {
	p.House.KeepSettings(func(s *record.Settings) {
		at := time.Now().UTC().Truncate(time.Second)
		s.LastBackup = &at
	})
}

func (p *KeepingPage) table(name string, text []byte) {
	ui.SaveFile(name, "text/csv", string(text))
	p.said = ui.Say("Saved: %s.", name)
}

// checks writes a table of all checks.
func (p *KeepingPage) checks() {
	h := p.House
	go func() {
		records, err := h.Everything()
		p.ctx.Dispatch(func(app.Context) {
			if err != nil {
				p.fails("The table of checks could not be written:", err)
				return
			}
			p.table("larderlamp-checks.csv", tables.Checks(records, ui.Reader))
		})
	}()
}

// calendar writes the dates that matter.
func (p *KeepingPage) calendar() {
	text, err := tables.Calendar(p.House.Shelf.Pantry, time.Now(), ui.Reader)
	if err != nil {
		p.fails("The dates could not be written:", err)
		return
	}
	ui.SaveFile("larderlamp.ics", "text/calendar", string(text))
	p.said = "Saved: larderlamp.ics."
}

// fillDemo fills the made-up household, unless it already exists, and shows it.
func (p *KeepingPage) fillDemo() {
	if len(p.House.Shelf.Jars) == 0 {
		records, err := demo.RecordsIn(ui.Reader, time.Now())
		if err != nil {
			p.House.Complain(ui.Plain(err))
			return
		}
		p.House.Commit(records...)
	}
	p.House.Settled(p.ctx, func(ctx app.Context) {
		p.House.ReplaceAddress(ui.Link("/keeping")) // a step back does not fill it again
		ctx.Navigate(ui.Link("/shelf"))
	})
}

// emptyDemo removes every record of the made-up household permanently.
func (p *KeepingPage) emptyDemo() {
	p.House.ClearDemo(p.House.HideDemo)
}
