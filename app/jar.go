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
	doing  string // pantry.Opened, pantry.Discarded ... while it is being asked for
	words  string
	said   string
	photos map[string]*pantry.Photo
	turn   int
}

func (p *jarPage) OnNav(ctx app.Context) {
	if !p.house.arrive(ctx, "/jar") {
		return
	}
	p.house.screen = p
	q := ctx.Page().URL().Query()
	*p = jarPage{Compo: p.Compo, house: p.house, ctx: ctx, turn: p.turn + 1, ready: p.ready, id: q.Get("id"), doing: q.Get("do"), photos: map[string]*pantry.Photo{}}
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
	p.house.fetch(p.ctx, pantry.Photos, ids, func(rs []pantry.Record) {
		for _, r := range rs {
			p.photos[r.Key()] = r.(*pantry.Photo)
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
			txt("p", "", "Its label may be from another device, or the jar was deleted. If you keep a backup, take it in under “Safe keeping”."),
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
		live("", only(p.said != "", func() app.UI { return txt("p", "notice", p.said) })),
		el("div", "check",
			el("div", "look",
				el("div", "jar-box", app.Raw(jarPicture(food, situation, shown, draw.Options{Prefix: "jar", Plain: true}))),
				el("div", "beside",
					txt("p", "jar-name", p.house.shelf.JarName(j)),
					txt("p", "jar-label", p.house.shelf.PlaceName(v.Basis.Place)),
					only(b != nil, func() app.UI { return el("p", "", anchor("", "/batch?id="+j.Batch, "The batch")) }),
				),
			),
			el("div", "tell",
				p.answer(&v, &trace, &situation),
				p.actions(j, &v),
				p.timeline(j),
			),
		),
	)
}

// answer says what the rules make of the jar, why, and what is still unlooked-at.
func (p *jarPage) answer(v *pantry.Verdict, t *rules.Trace, s *rules.Situation) app.UI {
	if v.Basis.Stage == pantry.IsGone {
		ended := v.Basis.Ended
		return el("article", "card", title(upperFirst(happenedWords(ended))+" "+dayWords(pantry.DayOf(ended.At))), txt("p", "", "It stays in the record, for what it says about its batch."))
	}
	food := p.house.shelf.Batches[v.Jar.Batch].Food()
	class := stateClass(v.State())
	lines := t.Deciding
	return el("article", "answer "+class,
		el("header", "verdict", stateMark(v.State()), title(verdictWords(v))),
		only(unopened(s, &v.Outcome) && v.Basis.Stage != pantry.IsOpen, func() app.UI { return txt("p", "stop-line", "Do not open it. Do not taste it.") }),
		only(basisWords(v) != "", func() app.UI { return txt("p", "", upperFirst(basisWords(v))+".") }),
		only(!v.Settled(), func() app.UI {
			return el("div", "unsettled",
				el("p", "", prose("As recorded it can be "), verdictWord(v.Lowest), prose(" to "), verdictWord(v.Highest), prose(". Still open:")),
				el("ul", "", each(len(t.Open), func(i int) app.UI { return txt("li", "", t.Open[i].Info().Name) })...),
				txt("p", "", "Until then the stricter answer counts."),
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
func (p *jarPage) happen(j *pantry.Jar, what string, fill func(*pantry.Event)) {
	e, err := j.Add(what, time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	if fill != nil {
		fill(e)
	}
	words := say("Noted: %s.", happenedWords(e))
	p.house.keep(p.ctx, func() { p.said = words }, j)
	p.doing, p.words = "", ""
	p.turn++
	focus(p.ctx, "title")
}

// actions are what can be done with the jar.
func (p *jarPage) actions(j *pantry.Jar, v *pantry.Verdict) app.UI {
	stage := v.Basis.Stage
	if stage == pantry.IsGone {
		return el("p", "row", action("button plain", "It is still here after all", func() {
			j.Undo(v.Basis.Ended.ID, true)
			p.house.keep(p.ctx, func() { p.said = "Noted: still here." }, j)
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
	return el("div", "",
		el("p", "row",
			action("button", "Check it now", func() { p.house.check(p.ctx, j) }, j.ID, p.turn),
			only(stage != pantry.IsOpen, func() app.UI { return do("Open it", pantry.Opened) }),
			only(stage == pantry.OnShelf && v.Basis.Age <= 1, func() app.UI { return do("It did not seal", pantry.Chilled) }),
			do("Move it", pantry.Moved),
			do("Eaten", pantry.Eaten),
			do("Given away", pantry.Given),
			do("Discard", pantry.Discarded),
			only(stage != pantry.IsMissing, func() app.UI {
				return action("button plain", "Not found", func() { p.happen(j, pantry.Missing, nil) }, j.ID, p.turn)
			}),
			do("A note", pantry.Noted),
			action("button plain", "A photo", func() { p.photo(j) }, j.ID, p.turn),
			anchor("button plain", "/labels?jar="+j.ID, "Its label"),
		),
	)
}

// check begins a check of a jar with what the shelf knows already answered, and
// goes to it once it is on the device. The context is that of a page.
func (h *household) check(ctx app.Context, j *pantry.Jar) {
	c, err := h.shelf.NewCheckOf(j, time.Now())
	if err != nil {
		h.complain(plain(err))
		return
	}
	h.keep(ctx, func() { ctx.Navigate(link("/check#id=" + c.ID)) }, c)
}

// reasonsToDiscard are what a jar may be discarded for, with their words.
var reasonsToDiscard = []struct{ id, words, advice string }{
	{pantry.ForSpoiled, "It spoiled: bulged, spurted, moulded or smelled", ""},
	{pantry.ForSeal, "Its seal is lost, or it leaked", ""},
	{pantry.ForProcess, "It was not canned as published", ""},
	{pantry.ForAge, "Too old, or open too long", ""},
	{pantry.ForTaste, "Nobody wants to eat it", ""},
}

// ask asks what has to be known of a thing that happened.
func (p *jarPage) ask(j *pantry.Jar, v *pantry.Verdict) app.UI {
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
				p.happen(j, what, func(e *pantry.Event) { e.Place = place.ID })
			}, j.ID, place.ID, what)
		}
	}
	switch p.doing {
	case pantry.Moved:
		return ask("Where does it stand now?", el("p", "row", each(len(places), into(pantry.Moved))...))
	case pantry.Opened:
		cold := slices.DeleteFunc(slices.Clone(places), func(pl *pantry.Place) bool { return pl.What != pantry.Fridge })
		return ask("Check it as you open it. Then: where does it go?",
			el("p", "row", action("button", "Check it while opening", func() { p.house.check(p.ctx, j) }, j.ID, "check")),
			txt("p", "", "Opened food keeps only in a refrigerator at 4 °C (40 °F) or below, and is out of it for two hours in all at most, one when it is warmer than 32 °C (90 °F)."),
			el("p", "row", each(len(cold), func(i int) app.UI {
				place := cold[i]
				return action("button plain", say("Opened, into %s", place.Name), func() {
					p.happen(j, pantry.Opened, func(e *pantry.Event) { e.Place = place.ID })
				}, j.ID, place.ID)
			})...),
			el("p", "row",
				only(len(cold) == 0, func() app.UI {
					return action("button plain", "Opened, into the refrigerator", func() { p.intoFridge(j, pantry.Opened) }, j.ID, "fridge")
				}),
				action("button plain", "Opened and eaten at once", func() { p.happen(j, pantry.Eaten, nil) }, j.ID, "at once"),
			))
	case pantry.Chilled:
		cold := slices.DeleteFunc(slices.Clone(places), func(pl *pantry.Place) bool { return pl.What != pantry.Fridge && pl.What != pantry.Freezer })
		return ask("It did not seal: where does it go today?",
			txt("p", "", "From today on its days in the refrigerator count, however it was canned."),
			el("p", "row", append(each(len(cold), intoPlace(cold, func(id string) {
				p.happen(j, pantry.Chilled, func(e *pantry.Event) { e.Place = id })
			}, j.ID)), only(len(cold) == 0, func() app.UI {
				return action("button plain", "Into the refrigerator", func() { p.intoFridge(j, pantry.Chilled) }, j.ID, "chill")
			}))...))
	case pantry.Eaten:
		return ask("Eaten up?", el("p", "row", action("button", "Yes, the jar is empty", func() { p.happen(j, pantry.Eaten, nil) }, j.ID, "eaten")))
	case pantry.Given:
		return ask("Given away",
			txt("p", "", "Tell whoever gets it what it is, how and when it was canned, and that vegetables, meat, fish and soup are boiled before they are served."),
			el("p", "row", action("button", "Given away", func() { p.happen(j, pantry.Given, nil) }, j.ID, "given")))
	case pantry.Discarded:
		return ask("What for?",
			el("p", "row", each(len(reasonsToDiscard), func(i int) app.UI {
				r := reasonsToDiscard[i]
				return action("button plain", r.words, func() {
					p.happen(j, pantry.Discarded, func(e *pantry.Event) { e.Why = r.id })
				}, j.ID, r.id)
			})...),
			txt("p", "", "How to discard it safely:"),
			disposal("Still closed", "dispose.sealed"),
			disposal("Open or leaking", "dispose.low"),
			disposal("Cleaning up", "cleanup"))
	case pantry.Noted:
		return ask("A note",
			field("Words", elem("textarea", "").Attr("rows", 3).Attr("maxlength", pantry.MostNotes).On("input", func(ctx app.Context, e app.Event) { p.words = typed(ctx) }, app.EventScope(j.ID, p.turn))),
			el("p", "row", action("button", "Keep the note", func() {
				if strings.TrimSpace(p.words) != "" {
					words := strings.Join(strings.Fields(p.words), " ")
					p.happen(j, pantry.Noted, func(e *pantry.Event) { e.Words = words })
				}
			}, j.ID, "note")))
	}
	return nil
}

// intoPlace makes a button for each place.
func intoPlace(places []*pantry.Place, act func(id string), scope string) func(i int) app.UI {
	return func(i int) app.UI {
		place := places[i]
		return action("button plain", say("Into %s", place.Name), func() { act(place.ID) }, scope, place.ID, "chill")
	}
}

// intoFridge notes that the jar went into a refrigerator that was not recorded
// before.
func (p *jarPage) intoFridge(j *pantry.Jar, what string) {
	place, err := pantry.NewPlace("Refrigerator", time.Now())
	if err != nil {
		p.house.complain(plain(err))
		return
	}
	place.What, place.Order = pantry.Fridge, len(p.house.shelf.Places)
	if p.house.commit(p.ctx, place) {
		p.happen(j, what, func(e *pantry.Event) { e.Place = place.ID })
	}
}

// photo takes a picture of the jar and keeps it.
func (p *jarPage) photo(j *pantry.Jar) {
	promised(p.ctx, device().Call("picture", pantry.MostPixels), func(v app.Value) {
		jpeg := v.String()
		if jpeg == "" {
			return
		}
		photo, err := pantry.NewPhoto(j.ID, "", jpeg, time.Now())
		if err == nil {
			var e *pantry.Event
			if e, err = j.Add(pantry.Pictured, time.Now()); err == nil {
				e.Photo = photo.ID
				p.house.keep(p.ctx, func() {
					p.photos[photo.ID] = photo
					p.said = "The photo is kept with the jar."
				}, photo, j)
			}
		}
		if err != nil {
			p.house.complain(plain(err))
		}
	}, func(text string) { p.said = upperFirst(text) + "." })
}

// happenedWords says what happened.
func happenedWords(e *pantry.Event) string {
	words := map[string]string{
		pantry.Stored: "stored", pantry.Moved: "moved", pantry.Opened: "opened", pantry.Chilled: "put in the cold unsealed", pantry.Eaten: "eaten", pantry.Given: "given away",
		pantry.Discarded: "discarded", pantry.Missing: "not found", pantry.Found: "found", pantry.Looked: "looked at", pantry.Checked: "checked",
		pantry.Travelled: "back from a trip", pantry.Noted: "note", pantry.Pictured: "photo",
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
func (p *jarPage) timeline(j *pantry.Jar) app.UI {
	events := slices.Clone(j.Events)
	order.By(events, func(a, b *pantry.Event) bool { return a.At.After(b.At) })
	return el("section", "",
		txt("h2", "", "What happened"),
		el("ol", "timeline", each(len(events), func(i int) app.UI { return p.event(j, &events[i]) })...),
	)
}

func (p *jarPage) event(j *pantry.Jar, e *pantry.Event) app.UI {
	id, undone := e.ID, e.Undone
	class, toggle := "", "Take back"
	if undone {
		class, toggle = "undone", "It did happen"
	}
	words := upperFirst(happenedWords(e))
	if e.Place != "" {
		words = say("%s, %s", words, p.house.shelf.PlaceName(e.Place))
	}
	photo := p.photos[e.Photo]
	return el("li", class,
		el("span", "", txt("strong", "", words), prose(say(" · %s", dayWords(pantry.DayOf(e.At.Local()))))),
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
			return elem("img", "photo").Attr("src", "data:image/jpeg;base64,"+photo.JPEG).Attr("alt", "Photo of the jar, "+dayWords(pantry.DayOf(e.At)))
		}),
		only(e.What != pantry.Checked, func() app.UI {
			return named("quiet", toggle, toggle+": "+words, func() {
				j.Undo(id, !undone)
				p.house.commit(p.ctx, j)
				p.turn++
			}, id, undone)
		}),
	)
}
