package shelf

import (
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/house"
	"larderlamp/app/pantry"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// JarPage is one jar of the shelf: what the rules say about it now, what can be
// done with it, and what happened to it.
type JarPage struct {
	app.Compo
	House *house.House

	ctx    app.Context
	ready  bool
	id     string
	doing  string // record.Opened, record.Discarded ... while it is being asked for
	words  string
	said   prose.Text
	undo   string // id of the event that the notice can undo
	photos map[string]*record.Photo
	turn   int
}

func (p *JarPage) OnNav(ctx app.Context) {
	if !p.House.Arrive(ctx, "/jar") {
		return
	}
	p.House.Screen = p
	q := ctx.Page().URL().Query()
	*p = JarPage{Compo: p.Compo, House: p.House, ctx: ctx, turn: p.turn + 1, ready: p.ready, id: q.Get("id"), doing: q.Get("do"), photos: map[string]*record.Photo{}}
	p.House.WithShelf(ctx, func(app.Context) {
		p.ready = true
		p.fetchPhotos()
	})
}

// Renew implements screen. The buttons are made again: they hold the jar as it
// was.
func (p *JarPage) Renew(ctx app.Context, done func(app.Context)) {
	p.turn++
	p.fetchPhotos()
	done(ctx)
}

// fetchPhotos reads the photos of the jar.
func (p *JarPage) fetchPhotos() {
	j := p.House.Shelf.Jars[p.id]
	if j == nil {
		return
	}
	var ids []string
	for _, e := range j.Events {
		if e.Photo != "" && !e.Undone {
			ids = append(ids, e.Photo)
		}
	}
	if len(ids) == 0 {
		return
	}
	p.House.Fetch(p.ctx, record.Photos, ids, func(rs []record.Record) {
		for _, r := range rs {
			p.photos[r.Key()] = r.(*record.Photo)
		}
	})
}

func (p *JarPage) Render() app.UI {
	if !p.ready {
		return ui.Frame("/shelf", ui.Title("A jar"), ui.Txt("p", "", "Opening what is kept on this device…"))
	}
	j := p.House.Shelf.Jars[p.id]
	if j == nil {
		return ui.Frame("/shelf", ui.Title("This jar is not on this device"),
			ui.Txt("p", "", "Its label may be from another device, or the jar was deleted. If you keep a backup, bring it in under “Backups”."),
			ui.Only(ui.PhoneKeepsTwo(), func() app.UI {
				return ui.Txt("p", "notice", "On an iPhone or iPad the camera app opens labels in the browser. Is the guide on your Home Screen? Then its jars are kept there, and not here. Open it from there, and choose “Scan a label” on the shelf.")
			}),
			ui.El("p", "go", ui.Anchor("button", "/shelf", "The shelf"), ui.Anchor("button plain", "/check", "Check a jar")))
	}
	now := time.Now()
	situation, _ := p.House.Shelf.Situation(j, now)
	v := p.House.Shelf.Judge(j, now)
	b := p.House.Shelf.Batches[j.Batch]
	food := b.Food()
	trace := rules.Explain(situation)
	shown := rules.Verdict(0)
	if v.Settled() {
		shown = v.Highest
	}
	return ui.Frame("/shelf",
		p.House.Notices(),
		ui.Live("", ui.Only(p.said != "", func() app.UI {
			return ui.El("p", "notice", ui.Prose(ui.Say("%s ", p.said)), ui.Only(p.undo != "", func() app.UI { return ui.Action("button plain", "Undo", func() { p.undoNotice(j) }, p.undo) }))
		})),
		ui.El("div", "check jar-page",
			ui.El("div", "look",
				ui.El("div", "jar-box", app.Raw(parts.JarPicture(food, situation, shown, draw.Options{Prefix: "jar", Plain: true}))),
				ui.El("div", "beside",
					ui.Txt("p", "jar-name", p.House.Shelf.JarName(j)),
					ui.Txt("p", "jar-label", p.House.Shelf.PlaceName(v.Basis.Place)),
					ui.Only(b != nil, func() app.UI { return ui.El("p", "", ui.Anchor("", "/batch?id="+j.Batch, "The batch")) }),
				),
			),
			ui.El("div", "tell",
				p.heading(&v, &situation),
				p.actions(j, &v),
				p.answer(&v, &trace, &situation),
				p.timeline(j),
			),
		),
	)
}

// heading is the verdict, above everything that can be done with the jar.
func (p *JarPage) heading(v *pantry.Verdict, s *rules.Situation) app.UI {
	if v.Basis.Stage == record.IsGone {
		ended := v.Basis.Ended
		return ui.El("article", "card", ui.Title(ui.Say("%s %s", prose.Upper(happenedWords(ended)), ui.DayWords(record.DayOf(ended.At)))), ui.Txt("p", "", "It stays in the record, because it says something about its batch."))
	}
	return ui.El("article", "answer "+parts.StateClass(v.State()),
		ui.El("header", "verdict", parts.StateMark(v.State()), ui.Title(parts.VerdictWords(v))),
		ui.Only(parts.Unopened(s, &v.Outcome) && v.Basis.Stage != record.IsOpen, func() app.UI { return ui.Txt("p", "stop-line", "Do not open it. Do not taste it.") }),
	)
}

// answer says what the verdict of the jar is based on, why, and what still has
// to be looked at.
func (p *JarPage) answer(v *pantry.Verdict, t *rules.Trace, s *rules.Situation) app.UI {
	if v.Basis.Stage == record.IsGone {
		return nil
	}
	food := p.House.Shelf.Batches[v.Jar.Batch].Food()
	lines := t.Deciding
	return ui.El("article", "answer "+parts.StateClass(v.State()),
		ui.Only(parts.BasisWords(v) != "", func() app.UI { return ui.Txt("p", "", ui.Say("%s.", prose.Upper(parts.BasisWords(v)))) }),
		ui.Only(!v.Settled(), func() app.UI {
			return ui.El("div", "unsettled",
				ui.El("p", "", ui.Prose("By its record it can be "), parts.VerdictWord(v.Lowest), ui.Prose(" to "), parts.VerdictWord(v.Highest), ui.Prose(". Still open:")),
				ui.El("ul", "", ui.Each(len(t.Open), func(i int) app.UI { return ui.Txt("li", "", t.Open[i].Info().Name) })...),
				ui.Txt("p", "", "Until then, go by the stricter answer."),
			)
		}),
		parts.Instead(p.House, v),
		ui.Only(len(lines) > 0, func() app.UI { return ui.El("section", "", ui.Txt("h2", "", "Why"), parts.Reasons(food, lines)) }),
		ui.Only(v.Settled(), func() app.UI { return parts.AdviceList(rules.AdviceFor(*s), p.House) }),
		ui.Only(len(t.Also) > 0, func() app.UI {
			return ui.El("section", "", ui.Txt("h2", "", "Also noticed"), parts.Reasons(food, t.Also))
		}),
	)
}

// addEvent records what happened and saves it.
func (p *JarPage) addEvent(j *record.Jar, what string, fill func(*record.Event)) {
	e, err := j.Add(what, time.Now())
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	if fill != nil {
		fill(e)
	}
	words, id := ui.Say("Noted: %s.", happenedWords(e)), e.ID
	p.House.Keep(p.ctx, func() { p.said, p.undo = words, id }, j)
	p.doing, p.words = "", ""
	p.turn++
	ui.Focus(p.ctx, "title")
}

// undoNotice undoes what the notice says has happened.
func (p *JarPage) undoNotice(j *record.Jar) {
	j.Undo(p.undo, true)
	p.House.Keep(p.ctx, func() { p.said, p.undo = "Undone.", "" }, j)
	p.turn++
}

// actions are what can be done with the jar.
func (p *JarPage) actions(j *record.Jar, v *pantry.Verdict) app.UI {
	stage := v.Basis.Stage
	if stage == record.IsGone {
		return ui.El("p", "row", ui.Action("button plain", "It is still here after all", func() {
			j.Undo(v.Basis.Ended.ID, true)
			p.House.Keep(p.ctx, func() { p.said, p.undo = "Noted: still here.", "" }, j)
			p.turn++
		}, j.ID, p.turn))
	}
	if p.doing != "" {
		return p.ask(j, v)
	}
	do := func(text prose.Text, what string) app.UI {
		return ui.Action("button plain", text, func() {
			p.doing = what
			p.turn++
			ui.Focus(p.ctx, "asked")
		}, j.ID, p.turn)
	}
	// A jar that has to be thrown out must not be opened, eaten or given away.
	good := v.Lowest != rules.Discard
	b := p.House.Shelf.Batches[j.Batch]
	looks := false
	if b != nil && stage == record.OnShelf {
		looks, _ = b.CanLookTogether(time.Now())
	}
	return ui.Elem("div", "acts").Attr("data-once", true).Role("group").Aria("label", ui.Local("What happens to the jar")).Body(
		ui.Only(!good, func() app.UI { return do("Thrown out", record.Discarded) }),
		ui.Only(good && stage != record.IsOpen, func() app.UI { return do("Open it", record.Opened) }),
		ui.Only(good, func() app.UI { return do("Eaten", record.Eaten) }),
		do("Move it", record.Moved),
		ui.Only(looks && good, func() app.UI { return do("Look at it", record.Looked) }),
		ui.Action("button plain", "Check it now", func() { p.House.Check(p.ctx, j) }, j.ID, p.turn),
		ui.Only(good, func() app.UI { return do("Thrown out", record.Discarded) }),
		ui.Only(stage == record.OnShelf && v.Basis.Age <= 1, func() app.UI { return do("It did not seal", record.Chilled) }),
		ui.Only(good, func() app.UI { return do("Given away", record.Given) }),
		ui.Only(stage != record.IsMissing, func() app.UI {
			return ui.Action("button plain", "Not found", func() { p.addEvent(j, record.Missing, nil) }, j.ID, p.turn)
		}),
		do("A note", record.Noted),
		ui.Action("button plain", "A photo", func() { p.photo(j) }, j.ID, p.turn),
		ui.Anchor("button plain", "/labels?jar="+j.ID, "Its label"),
	)
}

// reasonsToDiscard are the reasons to discard a jar, with their words.
var reasonsToDiscard = []struct {
	id     string
	words  prose.Text
	advice string
}{
	{record.ForSpoiled, "It spoiled: bulged, spurted, grew mold or smelled", ""},
	{record.ForSeal, "Its seal is lost, or it leaked", ""},
	{record.ForProcess, "It was not canned as published", ""},
	{record.ForAge, "Too old, or open too long", ""},
	{record.ForTaste, "Nobody wants to eat it", ""},
}

// ask asks what has to be known about something that happened.
func (p *JarPage) ask(j *record.Jar, v *pantry.Verdict) app.UI {
	places := p.House.Shelf.PlaceOrder()
	ask := func(words prose.Text, body ...app.UI) app.UI {
		return ui.Once("section", "card",
			append(append([]app.UI{ui.Elem("h2", "").ID("asked").TabIndex(-1).Text(ui.Local(words))}, body...),
				ui.El("p", "row", ui.Action("quiet", "Cancel", func() {
					p.doing = ""
					p.turn++
				}, j.ID, p.turn)))...)
	}
	into := func(what string) func(i int) app.UI {
		return func(i int) app.UI {
			place := places[i]
			return ui.Action("button plain", prose.Own(place.Name), func() {
				p.addEvent(j, what, func(e *record.Event) { e.Place = place.ID })
			}, j.ID, place.ID, what)
		}
	}
	switch p.doing {
	case record.Looked:
		return ask("Is it sealed and sound today?",
			ui.Txt("p", "hint", "Screw band off, the jar in your hand, then up to a light:"),
			parts.LookLines(p.House.Shelf.Batches[j.Batch]),
			ui.El("p", "row",
				ui.Action("button", "Yes, all true", func() { p.look(j) }, j.ID, "sound"),
				ui.Action("button plain", "Something is odd: check it", func() { p.House.Check(p.ctx, j) }, j.ID, "odd"),
			))
	case record.Moved:
		return ask("Where does it stand now?", ui.El("p", "row", ui.Each(len(places), into(record.Moved))...))
	case record.Opened:
		cold := slices.DeleteFunc(slices.Clone(places), func(pl *record.Place) bool { return pl.What != record.Fridge })
		return ask("Check it as you open it. Then: where does it go?",
			ui.El("p", "row", ui.Action("button", "Check it while opening", func() { p.House.Check(p.ctx, j) }, j.ID, "check")),
			ui.Txt("p", "", "Opened food keeps only in a refrigerator at 4 °C (40 °F) or below. It may be out for two hours in all, or one hour above 32 °C (90 °F)."),
			ui.El("p", "row", ui.Each(len(cold), func(i int) app.UI {
				place := cold[i]
				return ui.Action("button plain", ui.Say("Opened, into %s", place.Name), func() {
					p.addEvent(j, record.Opened, func(e *record.Event) { e.Place = place.ID })
				}, j.ID, place.ID)
			})...),
			ui.El("p", "row",
				ui.Only(len(cold) == 0, func() app.UI {
					return ui.Action("button plain", "Opened, into the refrigerator", func() { p.intoFridge(j, record.Opened) }, j.ID, "fridge")
				}),
				ui.Action("button plain", "Opened and eaten at once", func() { p.addEvent(j, record.Eaten, nil) }, j.ID, "at once"),
			))
	case record.Chilled:
		cold := slices.DeleteFunc(slices.Clone(places), func(pl *record.Place) bool { return pl.What != record.Fridge && pl.What != record.Freezer })
		return ask("It did not seal: where does it go today?",
			ui.Txt("p", "", "From today its days in the cold count. The cold does not put a wrong process right: vegetables, meat, fish and soup that were not canned as published are thrown away."),
			ui.El("p", "row", append(ui.Each(len(cold), intoPlace(cold, func(id string) {
				p.addEvent(j, record.Chilled, func(e *record.Event) { e.Place = id })
			}, j.ID)), ui.Only(len(cold) == 0, func() app.UI {
				return ui.Action("button plain", "Into the refrigerator", func() { p.intoFridge(j, record.Chilled) }, j.ID, "chill")
			}))...))
	case record.Eaten:
		return ask("Eaten up?", ui.El("p", "row", ui.Action("button", "Yes, the jar is empty", func() { p.addEvent(j, record.Eaten, nil) }, j.ID, "eaten")))
	case record.Given:
		return ask("Given away",
			ui.Txt("p", "", "Tell whoever gets it what it is, and how and when it was canned. Tell them to boil vegetables, meat, fish and soup before serving."),
			ui.El("p", "row", ui.Action("button", "Given away", func() { p.addEvent(j, record.Given, nil) }, j.ID, "given")))
	case record.Discarded:
		return ask("What for?",
			ui.El("p", "row", ui.Each(len(reasonsToDiscard), func(i int) app.UI {
				r := reasonsToDiscard[i]
				return ui.Action("button plain", r.words, func() {
					p.addEvent(j, record.Discarded, func(e *record.Event) { e.Why = r.id })
				}, j.ID, r.id)
			})...),
			ui.Txt("p", "", "How to discard it safely:"),
			parts.Disposal("Still closed", "dispose.sealed"),
			parts.Disposal("Open or leaking", "dispose.low"),
			parts.Disposal("Cleaning up", "cleanup"))
	case record.Noted:
		return ask("A note",
			ui.Field("Words", ui.Elem("textarea", "").Attr("rows", 3).Attr("maxlength", record.MostNotes).On("input", func(ctx app.Context, e app.Event) { p.words = ui.Typed(ctx) }, app.EventScope(j.ID, p.turn))),
			ui.El("p", "row", ui.Action("button", "Keep the note", func() {
				if strings.TrimSpace(p.words) != "" {
					words := strings.Join(strings.Fields(p.words), " ")
					p.addEvent(j, record.Noted, func(e *record.Event) { e.Words = words })
				}
			}, j.ID, "note")))
	}
	return nil
}

// look records that the jar passed the short look.
func (p *JarPage) look(j *record.Jar) {
	if err := record.Look([]*record.Jar{j}, time.Now()); err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	id := j.Events[len(j.Events)-1].ID
	p.House.Keep(p.ctx, func() { p.said, p.undo = "Noted: sealed and sound.", id }, j)
	p.doing = ""
	p.turn++
	ui.Focus(p.ctx, "title")
}

// intoPlace makes a button for each place.
func intoPlace(places []*record.Place, act func(id string), scope string) func(i int) app.UI {
	return func(i int) app.UI {
		place := places[i]
		return ui.Action("button plain", ui.Say("Into %s", place.Name), func() { act(place.ID) }, scope, place.ID, "chill")
	}
}

// intoFridge records that the jar went into a refrigerator that was not
// recorded before.
func (p *JarPage) intoFridge(j *record.Jar, what string) {
	place, err := record.NewPlace(ui.Local("Refrigerator"), time.Now())
	if err != nil {
		p.House.Complain(ui.Plain(err))
		return
	}
	place.What, place.Order = record.Fridge, len(p.House.Shelf.Places)
	if p.House.Commit(place) {
		p.addEvent(j, what, func(e *record.Event) { e.Place = place.ID })
	}
}

// photo takes a picture of the jar and saves it.
func (p *JarPage) photo(j *record.Jar) {
	ui.OnPromise(p.ctx, ui.Device().Call("picture", record.MostPixels), func(v app.Value) {
		jpeg := v.String()
		if jpeg == "" {
			return
		}
		photo, err := record.NewPhoto(j.ID, "", jpeg, time.Now())
		if err != nil {
			p.House.Complain(ui.Plain(err))
			return
		}
		p.House.Picture(photo, func() {
			p.photos[photo.ID] = photo
			p.said = "The photo is kept with the jar."
		})
	}, func(text string) { p.said = prose.Upper(ui.Say("%s.", text)) })
}
