package shelf

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/house"
	"larderlamp/app/pantry"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// Page lists all jars by what should be used first, or by place, and draws
// them.
type Page struct {
	app.Compo
	House *house.House

	ctx    app.Context
	query  string
	place  string // id, or "" for all
	part   int    // index in pantry.Parts of the part that is shown, or -1 for all
	most   int    // rows shown
	few    bool   // of them only the first, until these are on the screen
	paper  bool   // all of it is there to be printed
	ready  bool
	scans  bool          // a label is being read
	films  bool          // the label is being read by the camera
	typed  string        // the code of a label
	same   []*record.Jar // jars that share it
	failed prose.Text    // why reading did not work
}

// mostRows is how many rows a list shows at once. A page comes with firstRows of them
// and with firstJars pictures on its boards, about what the screen of a phone has room for,
// and with the others one draw later: drawing all takes longer than a touch should.
const (
	mostRows  = 30
	firstRows = 2
	firstJars = 12
)

func (p *Page) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/shelf") {
		return
	}
	p.ctx, p.most, p.part, p.paper = ctx, mostRows, -1, false
	if n, err := strconv.Atoi(ctx.Page().URL().Query().Get("show")); err == nil && n >= 0 && n < len(pantry.Parts) {
		p.part = n
	}
	p.House.WithShelf(ctx, func(ctx app.Context) {
		p.ready, p.few = true, true
		ui.OneDrawLater(ctx, func(app.Context) { p.few = false })
	})
}

// OnMount marks when a person can start to act, for measurements.
func (p *Page) OnMount(app.Context) {
	ui.MarkTime("answerable")
}

// OnDismount stops the camera.
func (p *Page) OnDismount() {
	p.closeCamera()
}

func (p *Page) Render() app.UI {
	if !p.ready {
		return ui.Frame("/shelf", p.House.Notices(), ui.Title("The shelf"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	s := p.House.Shelf
	s.Judged(time.Now())
	if len(s.Jars) == 0 {
		return ui.Frame("/shelf", p.House.Notices(), ui.Title("The shelf"), p.empty())
	}
	groups := p.chosen()
	shown := groups[:min(len(groups), p.most)]
	drawn, list := shown, "shelf"
	if p.paper {
		drawn, list = groups, "shelf noprint"
	}
	rows := len(shown)
	if p.few {
		rows = min(rows, firstRows)
	}
	jars := 0
	for _, g := range groups {
		jars += len(g.Jars)
	}
	return ui.Frame("/shelf",
		p.House.Notices(),
		ui.Title("The shelf"),
		backupDue(p.House),
		p.counts(),
		p.scanner(),
		p.picture(drawn),
		legend(),
		ui.Only(len(drawn) < len(groups), func() app.UI {
			return ui.Txt("p", "hint", ui.Say("The first %d of %d groups are drawn and listed.", len(drawn), len(groups)))
		}),
		ui.El("p", "go",
			ui.Anchor("button big", "/batch", "Add a batch"),
			ui.Anchor("button plain", "/stock", "What you have"),
			ui.Anchor("button plain", "/places", "Places"),
			ui.Anchor("button plain", "/labels", "Labels"),
			ui.Anchor("button plain", "/keeping", "Backups"),
			ui.Action("button plain", "Scan a label", p.scan, "scan"),
			ui.Action("button plain", "Print the shelf", p.print, "print"),
		),
		ui.El("div", "sift",
			ui.Field("Find", ui.Input("search", p.query, "peaches 2025, cellar, lid lot…").ID("find").Attr("autocomplete", "off").
				On("input", func(ctx app.Context, e app.Event) { p.query, p.most = ui.Typed(ctx), mostRows })),
			ui.Field("Place", ui.Elem("select", "").On("change", func(ctx app.Context, e app.Event) { p.place = ui.Picked(ctx) }).Body(p.placeOptions()...)),
		),
		ui.Live("found", ui.Txt("p", "", ui.Say("%s in %s, what to use first on top.", ui.Count(jars, "jar", "jars"), ui.Count(len(groups), "group", "groups")))),
		ui.Only(p.paper, func() app.UI { return p.printed(groups) }),
		ui.El("ul", list, ui.Each(rows, func(i int) app.UI { return parts.GroupRow(p.House, shown[i], true) })...),
		ui.Only(len(groups) > len(shown) && !p.few, func() app.UI {
			return ui.Action("button plain", ui.Say("Show more (%d)", len(groups)-len(shown)), func() { p.most = min(p.most+mostRows, 100) }, p.most)
		}),
		ui.Only(p.most >= 100 && len(groups) > 100, func() app.UI {
			return ui.Txt("p", "hint", "The list shows 100 groups at most. Narrow it down by name, place or state.")
		}),
	)
}

// empty is the shelf before anything was entered.
func (p *Page) empty() app.UI {
	return ui.El("div", "card",
		ui.Txt("p", "lead", "Record what you canned once, batch by batch. Then every jar is judged: its recipe, its process, its place, your last look. What to eat first is on top."),
		ui.El("p", "go",
			ui.Anchor("button big", "/batch", "Add the first batch"),
			ui.Anchor("button plain", "/keeping", "Bring in a file"),
			ui.Only(!p.House.Demo, func() app.UI {
				return ui.Action("button plain", "Show me a made-up household", p.House.ShowDemo)
			}),
		),
	)
}

// chosen lists the groups that match the filters.
func (p *Page) chosen() (groups []*pantry.Group) {
	for _, g := range p.House.Shelf.Grouped {
		if (p.place == "" || g.Place == p.place) && (p.part < 0 || g.State.Part() == pantry.Parts[p.part]) && g.Matches(p.query, ui.Reader) {
			groups = append(groups, g)
		}
	}
	return
}

func (p *Page) placeOptions() []app.UI {
	places := p.House.Shelf.PlaceOrder()
	return append([]app.UI{ui.Option("", "all places", p.place == "")}, ui.Each(len(places), func(i int) app.UI {
		return ui.Option(places[i].ID, prose.Own(places[i].Name), p.place == places[i].ID)
	})...)
}

// counts are the four parts of the shelf with their numbers, each a filter.
func (p *Page) counts() app.UI {
	var n [4]int
	for i := range p.House.Shelf.Verdicts {
		n[p.House.Shelf.Verdicts[i].State().Part()]++
	}
	return ui.Elem("div", "counts").Role("group").Aria("label", ui.Local("Show only")).Body(ui.Each(len(pantry.Parts), func(i int) app.UI {
		part := pantry.Parts[i]
		class, sign := partLook(part)
		return ui.Elem("button", "count "+class).Attr("type", "button").Aria("pressed", fmt.Sprint(p.part == i)).
			On("click", func(app.Context, app.Event) {
				if p.part == i {
					p.part = -1
				} else {
					p.part = i
				}
				p.most = mostRows
			}, app.EventScope(i)).
			Body(ui.Txt("strong", "", ui.Number(n[part])), sign, ui.Txt("span", "", part.Text()))
	})...)
}

// partLook is the class and the sign of a part.
func partLook(part pantry.Part) (class string, sign app.UI) {
	for _, st := range pantry.States {
		if st.Part() == part {
			return parts.StateClass(st), parts.StateMark(st)
		}
	}
	return "", nil
}

// picture draws the shelves in the order in which they are walked. Each jar drawn
// represents its group, and leads to it.
func (p *Page) picture(groups []*pantry.Group) app.UI {
	s := p.House.Shelf
	of := map[string][]*pantry.Group{}
	var at []string
	for _, place := range s.PlaceOrder() {
		at = append(at, place.ID)
	}
	for _, g := range groups {
		if !slices.Contains(at, g.Place) {
			at = append(at, g.Place)
		}
		of[g.Place] = append(of[g.Place], g)
	}
	at = slices.DeleteFunc(at, func(id string) bool { return len(of[id]) == 0 })
	n := 0
	return ui.El("div", "shelf-drawn", ui.Each(len(at), func(i int) app.UI {
		stood := of[at[i]]
		return ui.El("section", "",
			ui.Txt("h2", "", s.PlaceName(at[i])),
			ui.El("ul", "board", ui.Each(len(stood), func(i int) app.UI {
				if n++; p.few && n > firstJars {
					return ui.El("li", "blank") // room for it
				}
				return p.stands(stood[i])
			})...),
		)
	})...)
}

// stands is a group drawn as one jar on its shelf.
func (p *Page) stands(g *pantry.Group) app.UI {
	v := g.Strictest()
	jar := draw.ShelfJar{Verdict: v.Highest, Open: !v.Settled(), Opened: v.Basis.Stage == record.IsOpen, Size: 1}
	if g.Batch != nil {
		jar.Food, jar.Size = parts.Food(g.Batch.Food()), sizeOf(g.Batch.Size)
	}
	return ui.El("li", "", ui.ToPage("stands", parts.GroupPath(g)).Aria("label", ui.Local(ui.Say("%s: %s", parts.GroupName(g), g.State.Part()))).Body(
		app.Raw(draw.OnShelf(jar)),
		ui.Only(len(g.Jars) > 1, func() app.UI { return app.Elem("span").Text(fmt.Sprint("×", len(g.Jars))) }),
	))
}

// print puts every group on paper: the screen shows a part of a long shelf. The
// table stays in the page until it is left, because some browsers print only after
// the call has returned.
func (p *Page) print() {
	p.paper = true
	p.ctx.Defer(func(app.Context) { app.Window().Call("print") })
}

// printed is the shelf for paper: a table for each part, a line for each group.
func (p *Page) printed(groups []*pantry.Group) app.UI {
	return ui.El("div", "print-only", ui.Each(len(pantry.Parts), func(i int) app.UI {
		part := pantry.Parts[i]
		var of []*pantry.Group
		for _, g := range groups {
			if g.State.Part() == part {
				of = append(of, g)
			}
		}
		class, sign := partLook(part)
		return ui.Only(len(of) > 0, func() app.UI {
			return ui.El("section", "part "+class,
				ui.El("h2", "", sign, ui.Prose(part.Text())),
				ui.Table([]prose.Text{"Jars", "What", "Place", "What is known"}, len(of), func(i int) []prose.Text {
					g := of[i]
					name := prose.Text("Jars of a batch that is not recorded")
					if g.Batch != nil {
						name = ui.Say("%s, %s", g.Batch.Name(), parts.MadeWords(g))
					}
					return []prose.Text{ui.Number(len(g.Jars)), name, p.House.Shelf.PlaceName(g.Place), parts.GroupVerdict(g)}
				}))
		})
	})...)
}

// legend explains the signs under the jars.
func legend() app.UI {
	return ui.El("p", "legend", ui.Each(len(pantry.Parts), func(i int) app.UI {
		class, sign := partLook(pantry.Parts[i])
		return ui.El("span", class, sign, ui.Prose(pantry.Parts[i].Text()))
	})...)
}

// sizeOf is how large a jar is drawn.
func sizeOf(id string) int {
	for i := range record.Sizes {
		if s := &record.Sizes[i]; s.ID == id {
			switch {
			case s.Milliliters < 300:
				return 0
			case s.Milliliters < 600:
				return 1
			case s.Milliliters < 1200:
				return 2
			}
			return 3
		}
	}
	return 1
}

// backupEvery is how old the last backup may be before a reminder is shown.
const backupEvery = 30 * 24 * time.Hour

// backupDue reminds of a backup when there is something to lose; in a browser that
// deletes data, before that can happen, which is after any day on which the guide
// was used.
func backupDue(h *house.House) app.UI {
	last, every, forgets := h.Settings.LastBackup, backupEvery, ui.ForgetsWords()
	if forgets != "" {
		every = 24 * time.Hour
	}
	if h.Demo || len(h.Shelf.Jars) < 5 && (forgets == "" || len(h.Shelf.Jars) == 0) || last != nil && time.Since(*last) < every {
		return nil
	}
	words := prose.Text("You have no backup yet. Everything is on this device only. ")
	if last != nil {
		words = ui.Say("Your last backup is from %s. ", ui.DayWords(record.DayOf(*last)))
	}
	return ui.El("div", "notice",
		ui.Only(forgets != "", func() app.UI { return ui.Txt("p", "", forgets) }),
		ui.El("p", "", ui.Prose(words), ui.Anchor("", "/keeping", "Save one now")))
}
