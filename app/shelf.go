package app

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/locale"
)

// shelfPage lists all jars by what should be used first, or by place, and draws
// them.
type shelfPage struct {
	app.Compo
	house *household

	ctx    app.Context
	query  string
	place  string // id, or "" for all
	part   int    // of pantry.Parts that is shown, or -1 for all
	most   int    // rows shown
	ready  bool
	scans  bool          // a label is being read
	films  bool          // by the camera
	typed  string        // the code of a label
	same   []*record.Jar // that share it
	failed string        // why reading did not work
}

// mostRows is how many rows a list shows at once.
const mostRows = 30

func (p *shelfPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/shelf") {
		return
	}
	p.ctx, p.most, p.part = ctx, mostRows, -1
	if n, err := strconv.Atoi(ctx.Page().URL().Query().Get("show")); err == nil && n >= 0 && n < len(pantry.Parts) {
		p.part = n
	}
	p.house.shelved(ctx, func(app.Context) { p.ready = true })
}

// OnMount marks the moment from which a person can act, for measurements.
func (p *shelfPage) OnMount(app.Context) {
	measured("answerable")
}

// OnDismount stops the camera.
func (p *shelfPage) OnDismount() {
	p.closeCamera()
}

func (p *shelfPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("The shelf"), p.house.notices(), txt("p", "", "Opening what is kept on this device…"))
	}
	s := p.house.shelf
	s.judged(time.Now())
	if len(s.Jars) == 0 {
		return frame("/shelf", title("The shelf"), p.house.notices(), p.empty())
	}
	groups := p.chosen()
	shown := groups[:min(len(groups), p.most)]
	jars := 0
	for _, g := range groups {
		jars += len(g.Jars)
	}
	return frame("/shelf",
		title("The shelf"),
		p.house.notices(),
		p.house.backupDue(),
		p.counts(),
		p.scanner(),
		p.picture(groups),
		legend(),
		el("p", "go",
			anchor("button big", "/batch", "Add a batch"),
			anchor("button plain", "/stock", "What you have"),
			anchor("button plain", "/places", "Places"),
			anchor("button plain", "/labels", "Labels"),
			anchor("button plain", "/keeping", "Backups"),
			action("button plain", "Scan a label", p.scan, "scan"),
		),
		el("div", "sift",
			field("Find", input("search", p.query, "peaches 2025, cellar, lid lot…").ID("find").Attr("autocomplete", "off").
				On("input", func(ctx app.Context, e app.Event) { p.query, p.most = typed(ctx), mostRows })),
			field("Place", elem("select", "").On("change", func(ctx app.Context, e app.Event) { p.place = picked(ctx) }).Body(p.placeOptions()...)),
		),
		live("found", txt("p", "", say("%s in %s, what to use first on top.", count(jars, "jar", "jars"), count(len(groups), "group", "groups")))),
		el("ul", "shelf", each(len(shown), func(i int) app.UI { return p.house.groupRow(shown[i], true) })...),
		only(len(groups) > len(shown), func() app.UI {
			return action("button plain", say("Show more (%d)", len(groups)-len(shown)), func() { p.most = min(p.most+mostRows, 100) }, p.most)
		}),
		only(p.most >= 100 && len(groups) > 100, func() app.UI {
			return txt("p", "hint", "The list shows 100 groups at most. Narrow it down by name, place or state.")
		}),
	)
}

// empty is the shelf before anything was entered.
func (p *shelfPage) empty() app.UI {
	return el("div", "card",
		txt("p", "lead", "Record what you can once, batch by batch. From then on every jar is judged by its recipe and process, the place it stands in and the last look at it; what to eat first is on top, and nothing is forgotten."),
		el("p", "go",
			anchor("button big", "/batch", "Add the first batch"),
			anchor("button plain", "/keeping", "Bring in a file"),
			only(!p.house.demo, func() app.UI {
				return action("button plain", "Show me a made-up household", p.house.showDemo)
			}),
		),
	)
}

// chosen lists the groups that fit what is asked for.
func (p *shelfPage) chosen() (groups []*pantry.Group) {
	for _, g := range p.house.shelf.groups {
		if (p.place == "" || g.Place == p.place) && (p.part < 0 || g.State.Part() == pantry.Parts[p.part]) && g.Fits(p.query) {
			groups = append(groups, g)
		}
	}
	return
}

func (p *shelfPage) placeOptions() []app.UI {
	places := p.house.shelf.PlaceOrder()
	return append([]app.UI{option("", "all places", p.place == "")}, each(len(places), func(i int) app.UI {
		return option(places[i].ID, places[i].Name, p.place == places[i].ID)
	})...)
}

// counts are the four parts of the shelf with their numbers, each a filter.
func (p *shelfPage) counts() app.UI {
	var n [4]int
	for i := range p.house.shelf.verdicts {
		n[p.house.shelf.verdicts[i].State().Part()]++
	}
	return elem("div", "counts").Role("group").Aria("label", local("Show only")).Body(each(len(pantry.Parts), func(i int) app.UI {
		part := pantry.Parts[i]
		class, sign := partLook(part)
		return elem("button", "count "+class).Attr("type", "button").Aria("pressed", fmt.Sprint(p.part == i)).
			On("click", func(app.Context, app.Event) {
				if p.part == i {
					p.part = -1
				} else {
					p.part = i
				}
				p.most = mostRows
			}, app.EventScope(i)).
			Body(txt("strong", "", fmt.Sprint(n[part])), sign, txt("span", "", part.String()))
	})...)
}

// partLook is the class and the sign of a part.
func partLook(part pantry.Part) (class string, sign app.UI) {
	for _, st := range pantry.States {
		if st.Part() == part {
			return stateClass(st), stateMark(st)
		}
	}
	return "", nil
}

// stateClass colours a state.
func stateClass(st pantry.State) string {
	switch st {
	case pantry.ToDiscard:
		return verdictClass(rules.Discard)
	case pantry.ToUse, pantry.ToFinish:
		return verdictClass(rules.UseSoon)
	case pantry.ToKeep:
		return verdictClass(rules.Keep)
	}
	return "verdict-open"
}

// stateMark is the sign of the verdict behind a state, or the open one.
func stateMark(st pantry.State) app.UI {
	switch st {
	case pantry.ToDiscard:
		return mark(rules.Discard)
	case pantry.ToUse, pantry.ToFinish:
		return mark(rules.UseSoon)
	case pantry.ToKeep:
		return mark(rules.Keep)
	}
	return mark(0)
}

// groupRow is one line of a list of jars. It leads to the batch, if that is
// wanted and there are several, or else to the first jar.
func (h *household) groupRow(g *pantry.Group, toBatch bool) app.UI {
	v := g.First()
	name, path := "Jars of a batch that is not recorded", "/jar?id="+v.Jar.ID
	if g.Batch != nil {
		name = say("%s %s", g.Batch.Name(), g.Batch.Made.Year())
		if toBatch && len(g.Jars) > 1 {
			path = "/batch?id=" + g.Batch.ID + "&place=" + g.Place
		}
	}
	return el("li", "row-jar "+stateClass(g.State),
		stateMark(g.State),
		el("div", "",
			el("h2", "", anchor("", path, name)),
			el("p", "",
				txt("strong", "", verdictWords(v)),
				prose(say(" · %s · %s", h.shelf.PlaceName(g.Place), madeWords(g))),
			),
			only(basisWords(v) != "", func() app.UI { return txt("p", "hint", basisWords(v)) }),
			h.instead(v),
		),
		txt("span", "times", "× "+fmt.Sprint(len(g.Jars))),
	)
}

// instead says which jar of the same product to take first, if another is.
func (h *household) instead(v *pantry.Verdict) app.UI {
	if st := v.State(); st != pantry.ToKeep && st != pantry.ToLook && st != pantry.ToUse {
		return nil
	}
	o := h.shelf.Instead(v, h.shelf.firsts)
	if o == nil {
		return nil
	}
	return el("p", "hint", prose("Not this one yet: take "), anchor("", "/jar?id="+o.Jar.ID, h.shelf.JarName(o.Jar)), prose(" first."))
}

// madeWords says when a group was canned.
func madeWords(g *pantry.Group) string {
	if g.Batch == nil {
		return "no record of the canning"
	}
	return say("canned %s", dayWords(g.Batch.Made))
}

// verdictWords says in a line what the rules make of a jar.
func verdictWords(v *pantry.Verdict) string {
	switch st := v.State(); {
	case st == pantry.ToSeek:
		return "Not found at the last sweep"
	case st == pantry.ToFinish && v.Deadline < record.DayOf(v.Basis.Now):
		return say("Open, and past its days since %s", dayWords(v.Deadline))
	case st == pantry.ToFinish:
		return say("Open: finish by %s, %s", dayWords(v.Deadline), daysLeft(v.Deadline, v.Basis.Now))
	case st == pantry.ToLook && v.Lowest == rules.UseSoon:
		return "Not looked at yet; use soon at best"
	case st == pantry.ToLook:
		return "Not looked at yet"
	}
	return v.Highest.String()
}

// daysLeft counts down to a day.
func daysLeft(d record.Day, now time.Time) string {
	last, _ := d.Number()
	today, _ := record.DayOf(now).Number()
	switch n := last - today; n {
	case 0:
		return "today"
	case 1:
		return "tomorrow"
	default:
		return count(n, "day", "days")
	}
}

// basisWords says plainly what the answer rests on and what is still open.
func basisWords(v *pantry.Verdict) string {
	b := &v.Basis
	var words []string
	switch {
	case v.State() == pantry.ToDiscard || b.Stage == record.IsMissing:
	case b.Look == nil:
		words = append(words, "never looked at since it was recorded")
	case b.Stale:
		words = append(words, say("last looked at %s: too long ago to count", dayWords(record.DayOf(b.Look.At))))
	default:
		words = append(words, say("looked at %s", dayWords(record.DayOf(b.Look.At))))
	}
	if n := len(b.Unlooked); n > 0 && b.Look != nil && !b.Stale && v.State() == pantry.ToLook {
		var names []string
		for _, id := range b.Unlooked[:min(n, 3)] {
			names = append(names, strings.ToLower(id.Info().Name))
		}
		words = append(words, say("not looked at: %s", locale.List(names, ", ")))
	}
	if b.Disputed {
		words = append(words, "what was seen and what is recorded disagree")
	}
	return locale.List(words, "; ")
}

// picture draws the shelves in the order in which they are walked past. Each jar that
// is drawn stands for its group, and leads to it.
func (p *shelfPage) picture(groups []*pantry.Group) app.UI {
	s := p.house.shelf
	of := map[string][]*pantry.Group{}
	var at []string
	for _, place := range s.PlaceOrder() {
		at = append(at, place.ID)
	}
	for _, g := range groups[:min(len(groups), mostRows)] {
		if !slices.Contains(at, g.Place) {
			at = append(at, g.Place)
		}
		of[g.Place] = append(of[g.Place], g)
	}
	at = slices.DeleteFunc(at, func(id string) bool { return len(of[id]) == 0 })
	return el("div", "shelf-drawn", each(len(at), func(i int) app.UI {
		stood := of[at[i]]
		return el("section", "",
			app.Elem("h2").Text(s.PlaceName(at[i])),
			el("ul", "board", each(len(stood), func(i int) app.UI { return p.stands(stood[i]) })...),
		)
	})...)
}

// stands is a group as one jar on its shelf.
func (p *shelfPage) stands(g *pantry.Group) app.UI {
	v := g.First()
	jar := draw.ShelfJar{Verdict: v.Highest, Open: !v.Settled(), Opened: v.Basis.Stage == record.IsOpen, Size: 1}
	if g.Batch != nil {
		jar.Food, jar.Size = food(g.Batch.Food()), sizeOf(g.Batch.Size)
	}
	return el("li", "", toPage("stands", groupPath(g)).Aria("label", say("%s: %s", groupName(g), g.State.Part().String())).Body(
		app.Raw(draw.OnShelf(jar)),
		only(len(g.Jars) > 1, func() app.UI { return app.Elem("span").Text(fmt.Sprint("×", len(g.Jars))) }),
	))
}

// legend says what the signs under the jars mean.
func legend() app.UI {
	return el("p", "legend", each(len(pantry.Parts), func(i int) app.UI {
		class, sign := partLook(pantry.Parts[i])
		return el("span", class, sign, prose(pantry.Parts[i].String()))
	})...)
}

// sizeOf is how large a jar is drawn.
func sizeOf(id string) int {
	for i := range record.Sizes {
		if s := &record.Sizes[i]; s.ID == id {
			switch {
			case s.Millilitres < 300:
				return 0
			case s.Millilitres < 600:
				return 1
			case s.Millilitres < 1200:
				return 2
			}
			return 3
		}
	}
	return 1
}

// scan opens what reads a label: the camera where there is one, a photo, and a
// field for the code that can be typed.
func (p *shelfPage) scan() {
	p.scans, p.failed = true, ""
	p.films = device().Call("canScan").Bool()
	if !p.films {
		focus(p.ctx, "code")
		return
	}
	p.ctx.Defer(func(ctx app.Context) {
		found := app.FuncOf(func(_ app.Value, args []app.Value) any {
			text := args[0].String()
			ctx.Dispatch(func(app.Context) { p.read(text) })
			return nil
		})
		promised(ctx, device().Call("scan", app.Window().GetElementByID("camera"), found), func(app.Value) { found.Release() }, func(text string) {
			found.Release()
			p.films, p.failed = false, say("The camera could not be used: %s. Take a photo of the code, or type it.", text)
		})
	})
}

// read opens the jar of a label, from what its code says.
func (p *shelfPage) read(text string) {
	if id, ok := jarOfLabel(text); ok {
		p.scans = false
		p.ctx.Navigate(link("/jar?id=" + id))
		return
	}
	p.films, p.failed = false, "That code is not a label of this guide."
}

// photographed reads the code in a photo.
func (p *shelfPage) photographed() {
	p.closeCamera()
	promised(p.ctx, device().Call("scanPhoto"), func(v app.Value) {
		switch {
		case v.IsNull():
		case v.String() == "":
			p.failed = "No code can be read in that photo. Try again, closer and straight from the front, or type the short code beside it."
		default:
			p.read(v.String())
		}
	}, func(text string) { p.failed = upperFirst(text) + "." })
}

// open opens the jar whose code was typed.
func (p *shelfPage) open(ctx app.Context, e app.Event) {
	e.PreventDefault()
	switch found := p.house.shelf.Coded(p.typed); len(found) {
	case 0:
		p.same, p.failed = nil, "No jar on this device has that code. It has six letters and digits, such as 7K2-9QX."
	case 1:
		p.closeCamera()
		p.scans = false
		ctx.Navigate(link("/jar?id=" + found[0].ID))
	default:
		p.same, p.failed = found, "More than one jar has that code. Which is it?"
	}
}

func (p *shelfPage) closeCamera() {
	if p.films {
		device().Call("stopScan")
		p.films = false
	}
}

// jarOfLabel finds the jar in the address on a label.
func jarOfLabel(address string) (string, bool) {
	_, id, found := strings.Cut(address, "/jar?id=")
	return id, found && len(id) == 36
}

// phoneKeepsTwo tells whether labels that the camera app reads open where other
// data are kept than in the guide on the Home Screen.
func phoneKeepsTwo() bool { return app.IsClient && device().Truthy() && device().Call("apple").Bool() }

func (p *shelfPage) scanner() app.UI {
	if !p.scans {
		return nil
	}
	return el("section", "card scanner",
		txt("h2", "", "The label of a jar"),
		// The picture and what is said in its place take the same room, so that
		// nothing below moves under a finger.
		el("div", "camera-room",
			only(p.films, func() app.UI {
				return elem("video", "camera").ID("camera").Attr("playsinline", true).Attr("muted", true)
			}),
			live("", only(p.failed != "", func() app.UI { return txt("p", "notice", p.failed) })),
		),
		only(len(p.same) > 0, func() app.UI {
			return el("ul", "", each(len(p.same), func(i int) app.UI {
				return el("li", "", anchor("", "/jar?id="+p.same[i].ID, p.house.shelf.JarName(p.same[i])))
			})...)
		}),
		el("p", "row", action("button plain", "Take a photo of the code", p.photographed, "photo")),
		elem("form", "").On("submit", p.open).Body(
			field("Or type the short code", input("text", p.typed, "7K2-9QX").ID("code").Attr("autocomplete", "off").Attr("autocapitalize", "characters").Attr("spellcheck", "false").Attr("maxlength", 20).
				On("input", func(ctx app.Context, e app.Event) { p.typed = typed(ctx) })),
			el("p", "row",
				elem("button", "button").Attr("type", "submit").Text(local("Open the jar")),
				action("button plain", "Stop", func() {
					p.closeCamera()
					p.scans = false
				}, "stop"),
			),
		),
		only(phoneKeepsTwo(), func() app.UI {
			return txt("p", "hint", "The camera app of this device opens labels in the browser, which does not see the jars of the guide on the Home Screen.")
		}),
	)
}

// backupEvery is how old the last backup may be before it is spoken of.
const backupEvery = 30 * 24 * time.Hour

// backupDue reminds of a backup when there is something to lose: of a browser
// that forgets before it can happen, which is after any day on which the guide was
// used.
func (h *household) backupDue() app.UI {
	last, every, forgets := h.settings.LastBackup, backupEvery, forgetsWords()
	if forgets != "" {
		every = 24 * time.Hour
	}
	if h.demo || len(h.shelf.Jars) < 5 && (forgets == "" || len(h.shelf.Jars) == 0) || last != nil && time.Since(*last) < every {
		return nil
	}
	words := "You have no backup yet. Everything is on this device only. "
	if last != nil {
		words = say("Your last backup is from %s. ", dayWords(record.DayOf(*last)))
	}
	return el("div", "notice",
		only(forgets != "", func() app.UI { return txt("p", "", forgets) }),
		el("p", "", prose(words), anchor("", "/keeping", "Keep one now")))
}
