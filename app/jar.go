package app

import (
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/order"
)

// jarPage is one jar of the shelf: what the rules make of it now, what can be
// done with it, and what happened to it.
type jarPage struct {
	app.Compo
	house *household

	ctx    app.Context
	ready  bool
	id     string
	doing  string // record.Opened, record.Discarded ... while it is being asked for
	words  string
	said   string
	undo   string // id of the event that the notice can take back
	photos map[string]*record.Photo
	turn   int
}

func (p *jarPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/jar") {
		return
	}
	p.house.screen = p
	q := ctx.Page().URL().Query()
	*p = jarPage{Compo: p.Compo, house: p.house, ctx: ctx, turn: p.turn + 1, ready: p.ready, id: q.Get("id"), doing: q.Get("do"), photos: map[string]*record.Photo{}}
	p.house.shelved(ctx, func(app.Context) {
		p.ready = true
		p.fetchPhotos()
	})
}

// renew implements screen. The buttons are made anew: they hold the jar as it was.
func (p *jarPage) renew(ctx app.Context, done func(app.Context)) {
	p.turn++
	p.fetchPhotos()
	done(ctx)
}

// fetchPhotos reads the photos of the jar.
func (p *jarPage) fetchPhotos() {
	j := p.house.shelf.Jars[p.id]
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
	p.house.fetch(p.ctx, record.Photos, ids, func(rs []record.Record) {
		for _, r := range rs {
			p.photos[r.Key()] = r.(*record.Photo)
		}
	})
}

func (p *jarPage) Render() app.UI {
	if !p.ready {
		return frame("/shelf", title("A jar"), txt("p", "", "Opening what is kept on this device…"))
	}
	j := p.house.shelf.Jars[p.id]
	if j == nil {
		return frame("/shelf", title("This jar is not on this device"),
			txt("p", "", "Its label may be from another device, or the jar was deleted. If you keep a backup, bring it in under “Backups”."),
			only(phoneKeepsTwo(), func() app.UI {
				return txt("p", "notice", "On an iPhone or iPad the camera app opens labels in the browser. If the guide is on your Home Screen, its jars are kept there and not here: open it from the Home Screen and choose “Scan a label” on the shelf.")
			}),
			el("p", "go", anchor("button", "/shelf", "The shelf"), anchor("button plain", "/check", "Check a jar")))
	}
	now := time.Now()
	situation, _ := p.house.shelf.Situation(j, now)
	v := p.house.shelf.Judge(j, now)
	b := p.house.shelf.Batches[j.Batch]
	food := b.Food()
	trace := rules.Explain(situation)
	shown := rules.Verdict(0)
	if v.Settled() {
		shown = v.Highest
	}
	return frame("/shelf",
		p.house.notices(),
		live("", only(p.said != "", func() app.UI {
			return el("p", "notice", prose(p.said+" "), only(p.undo != "", func() app.UI { return action("button plain", "Undo", func() { p.takeBack(j) }, p.undo) }))
		})),
		el("div", "check jar-page",
			el("div", "look",
				el("div", "jar-box", app.Raw(jarPicture(food, situation, shown, draw.Options{Prefix: "jar", Plain: true}))),
				el("div", "beside",
					txt("p", "jar-name", p.house.shelf.JarName(j)),
					txt("p", "jar-label", p.house.shelf.PlaceName(v.Basis.Place)),
					only(b != nil, func() app.UI { return el("p", "", anchor("", "/batch?id="+j.Batch, "The batch")) }),
				),
			),
			el("div", "tell",
				p.heading(&v, &situation),
				p.actions(j, &v),
				p.answer(&v, &trace, &situation),
				p.timeline(j),
			),
		),
	)
}

// heading is the verdict, above everything that can be done with the jar.
func (p *jarPage) heading(v *pantry.Verdict, s *rules.Situation) app.UI {
	if v.Basis.Stage == record.IsGone {
		ended := v.Basis.Ended
		return el("article", "card", title(upperFirst(happenedWords(ended))+" "+dayWords(record.DayOf(ended.At))), txt("p", "", "It stays in the record, for what it says about its batch."))
	}
	return el("article", "answer "+stateClass(v.State()),
		el("header", "verdict", stateMark(v.State()), title(verdictWords(v))),
		only(unopened(s, &v.Outcome) && v.Basis.Stage != record.IsOpen, func() app.UI { return txt("p", "stop-line", "Do not open it. Do not taste it.") }),
	)
}

// answer says what the verdict of the jar rests on, why, and what is still
// unlooked-at.
func (p *jarPage) answer(v *pantry.Verdict, t *rules.Trace, s *rules.Situation) app.UI {
	if v.Basis.Stage == record.IsGone {
		return nil
	}
	food := p.house.shelf.Batches[v.Jar.Batch].Food()
	lines := t.Deciding
	return el("article", "answer "+stateClass(v.State()),
		only(basisWords(v) != "", func() app.UI { return txt("p", "", upperFirst(basisWords(v))+".") }),
		only(!v.Settled(), func() app.UI {
			return el("div", "unsettled",
				el("p", "", prose("As recorded it can be "), verdictWord(v.Lowest), prose(" to "), verdictWord(v.Highest), prose(". Still open:")),
				el("ul", "", each(len(t.Open), func(i int) app.UI { return txt("li", "", t.Open[i].Info().Name) })...),
				txt("p", "", "Until then, go by the stricter answer."),
			)
		}),
		p.house.instead(v),
		only(len(lines) > 0, func() app.UI { return el("section", "", txt("h2", "", "Why"), reasons(food, lines)) }),
		only(v.Settled(), func() app.UI { return adviceList(rules.AdviceFor(*s), p.house) }),
		only(len(t.Also) > 0, func() app.UI { return el("section", "", txt("h2", "", "Also noticed"), reasons(food, t.Also)) }),
	)
}

func upperFirst(s string) string {
	first, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[n:]
}

// happen notes what happened and keeps it.
func (p *jarPage) happen(j *record.Jar, what string, fill func(*record.Event)) {
	e, err := j.Add(what, time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	if fill != nil {
		fill(e)
	}
	words, id := say("Noted: %s.", happenedWords(e)), e.ID
	p.house.keep(p.ctx, func() { p.said, p.undo = words, id }, j)
	p.doing, p.words = "", ""
	p.turn++
	focus(p.ctx, "title")
}

// takeBack takes back what the notice says has happened.
func (p *jarPage) takeBack(j *record.Jar) {
	j.Undo(p.undo, true)
	p.house.keep(p.ctx, func() { p.said, p.undo = "Taken back.", "" }, j)
	p.turn++
}

// actions are what can be done with the jar.
func (p *jarPage) actions(j *record.Jar, v *pantry.Verdict) app.UI {
	stage := v.Basis.Stage
	if stage == record.IsGone {
		return el("p", "row", action("button plain", "It is still here after all", func() {
			j.Undo(v.Basis.Ended.ID, true)
			p.house.keep(p.ctx, func() { p.said, p.undo = "Noted: still here.", "" }, j)
			p.turn++
		}, j.ID, p.turn))
	}
	if p.doing != "" {
		return p.ask(j, v)
	}
	do := func(text, what string) app.UI {
		return action("button plain", text, func() {
			p.doing = what
			p.turn++
			focus(p.ctx, "asked")
		}, j.ID, p.turn)
	}
	// What has to be thrown out is not to be opened, eaten or given away.
	good := v.Lowest != rules.Discard
	b := p.house.shelf.Batches[j.Batch]
	looks := false
	if b != nil && stage == record.OnShelf {
		looks, _ = b.LookToo(time.Now())
	}
	return elem("div", "acts").Role("group").Aria("label", local("What happens to the jar")).Body(
		only(!good, func() app.UI { return do("Thrown out", record.Discarded) }),
		only(good && stage != record.IsOpen, func() app.UI { return do("Open it", record.Opened) }),
		only(good, func() app.UI { return do("Eaten", record.Eaten) }),
		do("Move it", record.Moved),
		only(looks && good, func() app.UI { return do("Look at it", record.Looked) }),
		action("button plain", "Check it now", func() { p.house.check(p.ctx, j) }, j.ID, p.turn),
		only(good, func() app.UI { return do("Thrown out", record.Discarded) }),
		only(stage == record.OnShelf && v.Basis.Age <= 1, func() app.UI { return do("It did not seal", record.Chilled) }),
		only(good, func() app.UI { return do("Given away", record.Given) }),
		only(stage != record.IsMissing, func() app.UI {
			return action("button plain", "Not found", func() { p.happen(j, record.Missing, nil) }, j.ID, p.turn)
		}),
		do("A note", record.Noted),
		action("button plain", "A photo", func() { p.photo(j) }, j.ID, p.turn),
		anchor("button plain", "/labels?jar="+j.ID, "Its label"),
	)
}

// check begins a check of a jar with what the shelf knows already answered, and
// goes to it once it is on the device. The context is that of a page.
func (h *household) check(ctx app.Context, j *record.Jar) {
	c, err := h.shelf.NewCheckOf(j, time.Now())
	if err != nil {
		h.complain(plain(err))
		return
	}
	h.keep(ctx, func() { ctx.Navigate(link("/check#id=" + c.ID)) }, c)
}

// reasonsToDiscard are what a jar may be discarded for, with their words.
var reasonsToDiscard = []struct{ id, words, advice string }{
	{record.ForSpoiled, "It spoiled: bulged, spurted, grew mold or smelled", ""},
	{record.ForSeal, "Its seal is lost, or it leaked", ""},
	{record.ForProcess, "It was not canned as published", ""},
	{record.ForAge, "Too old, or open too long", ""},
	{record.ForTaste, "Nobody wants to eat it", ""},
}

// ask asks what has to be known of a thing that happened.
func (p *jarPage) ask(j *record.Jar, v *pantry.Verdict) app.UI {
	places := p.house.shelf.PlaceOrder()
	ask := func(words string, body ...app.UI) app.UI {
		return el("section", "card",
			append(append([]app.UI{elem("h2", "").ID("asked").TabIndex(-1).Text(local(words))}, body...),
				el("p", "row", action("quiet", "Cancel", func() {
					p.doing = ""
					p.turn++
				}, j.ID, p.turn)))...)
	}
	into := func(what string) func(i int) app.UI {
		return func(i int) app.UI {
			place := places[i]
			return action("button plain", place.Name, func() {
				p.happen(j, what, func(e *record.Event) { e.Place = place.ID })
			}, j.ID, place.ID, what)
		}
	}
	switch p.doing {
	case record.Looked:
		return ask("Is it sealed and sound today?",
			txt("p", "hint", "Screw band off, the jar in your hand, then up to a light:"),
			lookLines(p.house.shelf.Batches[j.Batch]),
			el("p", "row",
				action("button", "Yes, all true", func() { p.look(j) }, j.ID, "sound"),
				action("button plain", "Something is odd: check it", func() { p.house.check(p.ctx, j) }, j.ID, "odd"),
			))
	case record.Moved:
		return ask("Where does it stand now?", el("p", "row", each(len(places), into(record.Moved))...))
	case record.Opened:
		cold := slices.DeleteFunc(slices.Clone(places), func(pl *record.Place) bool { return pl.What != record.Fridge })
		return ask("Check it as you open it. Then: where does it go?",
			el("p", "row", action("button", "Check it while opening", func() { p.house.check(p.ctx, j) }, j.ID, "check")),
			txt("p", "", "Opened food keeps only in a refrigerator at 4 °C (40 °F) or below, and is out of it for two hours in all at most, one when it is warmer than 32 °C (90 °F)."),
			el("p", "row", each(len(cold), func(i int) app.UI {
				place := cold[i]
				return action("button plain", say("Opened, into %s", place.Name), func() {
					p.happen(j, record.Opened, func(e *record.Event) { e.Place = place.ID })
				}, j.ID, place.ID)
			})...),
			el("p", "row",
				only(len(cold) == 0, func() app.UI {
					return action("button plain", "Opened, into the refrigerator", func() { p.intoFridge(j, record.Opened) }, j.ID, "fridge")
				}),
				action("button plain", "Opened and eaten at once", func() { p.happen(j, record.Eaten, nil) }, j.ID, "at once"),
			))
	case record.Chilled:
		cold := slices.DeleteFunc(slices.Clone(places), func(pl *record.Place) bool { return pl.What != record.Fridge && pl.What != record.Freezer })
		return ask("It did not seal: where does it go today?",
			txt("p", "", "From today on its days in the refrigerator count, however it was canned."),
			el("p", "row", append(each(len(cold), intoPlace(cold, func(id string) {
				p.happen(j, record.Chilled, func(e *record.Event) { e.Place = id })
			}, j.ID)), only(len(cold) == 0, func() app.UI {
				return action("button plain", "Into the refrigerator", func() { p.intoFridge(j, record.Chilled) }, j.ID, "chill")
			}))...))
	case record.Eaten:
		return ask("Eaten up?", el("p", "row", action("button", "Yes, the jar is empty", func() { p.happen(j, record.Eaten, nil) }, j.ID, "eaten")))
	case record.Given:
		return ask("Given away",
			txt("p", "", "Tell whoever gets it what it is, how and when it was canned, and that vegetables, meat, fish and soup are boiled before they are served."),
			el("p", "row", action("button", "Given away", func() { p.happen(j, record.Given, nil) }, j.ID, "given")))
	case record.Discarded:
		return ask("What for?",
			el("p", "row", each(len(reasonsToDiscard), func(i int) app.UI {
				r := reasonsToDiscard[i]
				return action("button plain", r.words, func() {
					p.happen(j, record.Discarded, func(e *record.Event) { e.Why = r.id })
				}, j.ID, r.id)
			})...),
			txt("p", "", "How to discard it safely:"),
			disposal("Still closed", "dispose.sealed"),
			disposal("Open or leaking", "dispose.low"),
			disposal("Cleaning up", "cleanup"))
	case record.Noted:
		return ask("A note",
			field("Words", elem("textarea", "").Attr("rows", 3).Attr("maxlength", record.MostNotes).On("input", func(ctx app.Context, e app.Event) { p.words = typed(ctx) }, app.EventScope(j.ID, p.turn))),
			el("p", "row", action("button", "Keep the note", func() {
				if strings.TrimSpace(p.words) != "" {
					words := strings.Join(strings.Fields(p.words), " ")
					p.happen(j, record.Noted, func(e *record.Event) { e.Words = words })
				}
			}, j.ID, "note")))
	}
	return nil
}

// look notes that the short look held for the jar.
func (p *jarPage) look(j *record.Jar) {
	if err := record.Look([]*record.Jar{j}, time.Now()); err != nil {
		p.house.complain(plain(err))
		return
	}
	id := j.Events[len(j.Events)-1].ID
	p.house.keep(p.ctx, func() { p.said, p.undo = "Noted: sealed and sound.", id }, j)
	p.doing = ""
	p.turn++
	focus(p.ctx, "title")
}

// intoPlace makes a button for each place.
func intoPlace(places []*record.Place, act func(id string), scope string) func(i int) app.UI {
	return func(i int) app.UI {
		place := places[i]
		return action("button plain", say("Into %s", place.Name), func() { act(place.ID) }, scope, place.ID, "chill")
	}
}

// intoFridge notes that the jar went into a refrigerator that was not recorded
// before.
func (p *jarPage) intoFridge(j *record.Jar, what string) {
	place, err := record.NewPlace("Refrigerator", time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	place.What, place.Order = record.Fridge, len(p.house.shelf.Places)
	if p.house.commit(p.ctx, place) {
		p.happen(j, what, func(e *record.Event) { e.Place = place.ID })
	}
}

// photo takes a picture of the jar and keeps it.
func (p *jarPage) photo(j *record.Jar) {
	promised(p.ctx, device().Call("picture", record.MostPixels), func(v app.Value) {
		jpeg := v.String()
		if jpeg == "" {
			return
		}
		photo, err := record.NewPhoto(j.ID, "", jpeg, time.Now())
		if err != nil {
			p.house.complain(plain(err))
			return
		}
		p.house.picture(p.ctx, photo, func() {
			p.photos[photo.ID] = photo
			p.said = "The photo is kept with the jar."
		})
	}, func(text string) { p.said = upperFirst(text) + "." })
}

// happenedWords says what happened.
func happenedWords(e *record.Event) string {
	words := map[string]string{
		record.Stored: "stored", record.Moved: "moved", record.Opened: "opened", record.Chilled: "put in the cold unsealed", record.Eaten: "eaten", record.Given: "given away",
		record.Discarded: "discarded", record.Missing: "not found", record.Found: "found", record.Looked: "looked at", record.Checked: "checked",
		record.Traveled: "back from a trip", record.Noted: "note", record.Pictured: "photo",
	}[e.What]
	for _, r := range reasonsToDiscard {
		if e.Why == r.id {
			words += ": " + lowerFirst(r.words)
		}
	}
	return words
}

// timeline lists what happened, newest first. A mistake can be taken back; the
// record of it stays.
func (p *jarPage) timeline(j *record.Jar) app.UI {
	events := slices.Clone(j.Events)
	order.By(events, func(a, b *record.Event) bool { return a.At.After(b.At) })
	return el("section", "",
		txt("h2", "", "What happened"),
		el("ol", "timeline", each(len(events), func(i int) app.UI { return p.event(j, &events[i]) })...),
	)
}

func (p *jarPage) event(j *record.Jar, e *record.Event) app.UI {
	id, undone := e.ID, e.Undone
	class, toggle := "", "Undo"
	if undone {
		class, toggle = "undone", "It did happen"
	}
	words := upperFirst(happenedWords(e))
	if e.Place != "" {
		words = say("%s, %s", words, p.house.shelf.PlaceName(e.Place))
	}
	photo := p.photos[e.Photo]
	return el("li", class,
		el("span", "", txt("strong", "", words), prose(say(" · %s", dayWords(record.DayOf(e.At.Local()))))),
		only(e.Words != "", func() app.UI { return txt("p", "", e.Words) }),
		only(len(e.Seen) > 0, func() app.UI {
			return fold("", "What was seen", el("ul", "", each(len(e.Seen), func(i int) app.UI {
				sign, ok := rules.SignByID(e.Seen[i].Sign)
				if !ok {
					return txt("li", "", e.Seen[i].Sign)
				}
				return txt("li", "", sign.Info().Name+": "+saidWords(sign, e.Seen[i].Values))
			})...))
		}),
		only(e.Check != "", func() app.UI { return anchor("", "/check#id="+e.Check, "The whole check") }),
		only(photo != nil && !undone, func() app.UI {
			return elem("img", "photo").Attr("src", "data:image/jpeg;base64,"+photo.JPEG).Attr("alt", "Photo of the jar, "+dayWords(record.DayOf(e.At)))
		}),
		only(e.What != record.Checked, func() app.UI {
			return named("quiet", toggle, toggle+": "+words, func() {
				j.Undo(id, !undone)
				p.house.commit(p.ctx, j)
				p.said, p.undo = "", "" // of what was just taken back, perhaps
				p.turn++
			}, id, undone)
		}),
	)
}
