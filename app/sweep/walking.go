package sweep

import (
	"fmt"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/pantry"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// The cards of the walk, one at a time: what the person holds, and the one big
// button for it.

// walkCard is a card of the walk: where the walk is, what the card is about,
// the big button, and the ways to leave it.
func (p *Page) walkCard(class string, card, great app.UI, others ...app.UI) app.UI {
	w := p.walk
	hand, _ := ui.DeviceItem(handKey)
	place := p.House.Shelf.PlaceName(w.Next[0].Standing().Place)
	return ui.Once("div", "walk "+class+" "+hand,
		ui.El("div", "stand",
			ui.Elem("div", "progress").Role("progressbar").Aria("valuenow", w.Done).Aria("valuemin", 0).Aria("valuemax", w.Total).Aria("label", ui.Local("Jars looked at")).
				Body(ui.Elem("progress", "").Attr("value", w.Done).Attr("max", w.Total).Aria("hidden", true)),
			ui.Txt("p", "hint", ui.Say("%d of %d · %s", w.Done+1, w.Total, place)),
		),
		card,
		ui.El("div", "hands", great),
		ui.El("div", "row others", others...),
		ui.El("p", "row",
			ui.Only(len(w.Answers) > 0 && p.taken < walk.MostUndo, func() app.UI { return ui.Again(ui.Action("quiet", "Undo", p.undo, p.turn)) }),
			ui.Action("quiet", "Here is a jar that is not in the list", func() {
				p.finding, p.query = true, ""
				p.turn++
				ui.Focus(p.ctx, "title")
			}, p.turn, "found"),
			ui.Action("quiet", "End the sweep here", p.finish, p.turn, "end"),
		),
		ui.Fold("noprint", "Keys, and what the short look rests on",
			ui.Txt("p", "", "s: all lines true · 1 to 5: that line is not true · t: taken out · o: something else is odd · r: the whole row · n: not here · u: undo. Close the page at any moment: what you answered is kept, and the sweep goes on where it was."),
			parts.Cites(rules.ShortLookCites),
		),
	)
}

// handTop is the picture of the jar in hand, and what it is.
func (p *Page) handTop(head prose.Text, j *record.Jar, v *pantry.Verdict, more ...app.UI) app.UI {
	s := p.House.Shelf
	situation, _ := s.Situation(j, time.Now())
	b := s.Batches[j.Batch]
	lines := []app.UI{ui.Title(head)}
	if b != nil {
		lines = append(lines, ui.Txt("p", "hint", ui.Say("%s · %s", ui.DayWords(b.Made), lookedWords(v))))
	}
	return ui.El("div", "hand-top",
		ui.El("div", "hand-picture", app.Raw(parts.JarPicture(b.Food(), situation, 0, draw.Options{Prefix: "walk", Plain: true}))),
		ui.El("div", "", append(lines, more...)...),
	)
}

// lookedWords says when a jar was last looked at.
func lookedWords(v *pantry.Verdict) prose.Text {
	if v.Basis.Look == nil {
		return "never looked at"
	}
	return ui.Say("looked at %s", ui.DayWords(record.DayOf(v.Basis.Look.At.Local())))
}

// handName names the jar in hand.
func (p *Page) handName(j *record.Jar) prose.Text {
	if b := p.House.Shelf.Batches[j.Batch]; b != nil {
		return ui.Say("%s, jar %d", b.Name(), j.Number)
	}
	return ui.Say("A jar of a batch that is not recorded, jar %d", j.Number)
}

// walking is the jar in hand, and the short look.
func (p *Page) walking() app.UI {
	s := p.House.Shelf
	j := p.walk.Next[0]
	v := s.Judge(j, time.Now())
	pr := s.Prospect(j, time.Now())
	row := p.walk.Row()
	cooled := p.coolingLine()
	all := prose.Text("All five true")
	if cooled != "" {
		all = "All six true"
	}
	var great app.UI
	if p.unread > 0 {
		great = ui.Elem("button", "button big plain sound").ID("unread").Attr("type", "button").
			On("click", func(app.Context, app.Event) { p.soundOne() }, app.EventScope(j.ID, p.turn, "unread")).
			Text(ui.Local(ui.Say("Look at every line: %d more", p.unread)))
	} else {
		great = ui.Elem("button", "button big sound").ID("sound").Attr("type", "button").
			On("click", func(app.Context, app.Event) { p.soundOne() }, app.EventScope(j.ID, p.turn)).
			On("contextmenu", func(_ app.Context, e app.Event) {
				// A long press of a finger, or a right click.
				e.PreventDefault()
				p.openRow()
			}, app.EventScope("row", p.turn)).
			Text(ui.Local(all))
	}
	return p.walkCard("",
		ui.El("section", "card hand-jar",
			p.handTop(p.handName(j), j, &v, p.flags(j, &v, pr)),
			ui.Txt("p", "hint glances-hint", "Touch the line that is not true:"),
			ui.El("ul", "glances", append([]app.UI{ui.Only(cooled != "", func() app.UI {
				return ui.Elem("li", "").Attr("data-line", "cooled").Body(ui.Named("glance", cooled, ui.Say("%s: not true", cooled), p.leaveCooling, j.ID, p.turn, "cooled"))
			})}, ui.Each(len(rules.ShortLook), func(i int) app.UI {
				g := &rules.ShortLook[i]
				return ui.Elem("li", "").Attr("data-line", g.ID).Body(ui.Named("glance", g.Say, ui.Say("%s: not true", g.Say), func() { p.openCheck(g) }, g.ID, p.turn))
			})...)...),
		),
		great,
		ui.Action("button plain", "Something else is odd", func() { p.openCheck(nil) }, j.ID, p.turn),
		ui.Only(len(row) > 1, func() app.UI {
			return ui.Action("button plain", ui.Say("All %d of this row, but…", len(row)), p.openRow, j.ID, p.turn, "row")
		}),
		ui.Action("button plain", "It is not here", p.missing, j.ID, p.turn, "missing"),
	)
}

// flags say what is special about a jar before it is looked at.
func (p *Page) flags(j *record.Jar, v *pantry.Verdict, pr *pantry.Prospect) app.UI {
	trouble := p.batchTrouble(j)
	switch {
	case trouble != nil:
		return trouble
	case pr.Hopeless():
		open := pr.Open()
		words := prose.Lower(open[0].Info().Name)
		if len(open) > 1 {
			words = ui.Say("%s, and %d more", words, len(open)-1)
		}
		return ui.El("p", "flag", parts.Mark(rules.Discard), ui.Txt("strong", "", "In doubt, however it looks. "), ui.Prose(ui.Say("Not known: %s.", words)))
	case pr.Highest == rules.UseSoon:
		return ui.El("p", "flag", parts.Mark(rules.UseSoon), ui.Txt("strong", "", "To the front: use soon at best."))
	}
	return nil
}

// batchTrouble says on every jar of a batch that one of them spoiled, and links to the
// rule and its sources: in full they would push the lines off a small screen.
func (p *Page) batchTrouble(j *record.Jar) app.UI {
	situation, _ := p.House.Shelf.Situation(j, time.Now())
	r, ok := rules.RuleByID("record.siblings.second-look")
	if !ok || !situation.Is(rules.SiblingsSpoiled) {
		return nil
	}
	return ui.El("p", "flag", parts.Mark(rules.UseSoon), ui.Txt("strong", "", r.Short()), ui.Prose(" "), parts.RuleLink(r, "Why, and who says so"))
}

// outWords says briefly why a jar is taken out.
var outWords = map[string]prose.Text{
	"":                "Take it out",
	record.ForSpoiled: "Take it out: it spoiled",
	record.ForSeal:    "Take it out: its seal failed",
	record.ForProcess: "Take it out: no tested process",
	record.ForAge:     "Take it out: too old",
}

// outCard is a jar that has to be discarded, whatever it looks like: it says why,
// and never offers to record it as sound.
func (p *Page) outCard() app.UI {
	s := p.House.Shelf
	j := p.walk.Next[0]
	v := s.Judge(j, time.Now())
	situation, _ := s.Situation(j, time.Now())
	t := rules.Explain(situation)
	row := p.walk.Row()
	why := t.Deciding
	reason := func(i int) app.UI { return parts.WithSource(why[i].Rule.Say, "", why[i].Rule.Cites[:1], why[i].Rule) }
	return p.walkCard("out verdict-discard",
		ui.El("section", "card hand-jar",
			p.handTop(outWords[walk.WhyOut(s.Pantry, j, time.Now())], j, &v, ui.Txt("p", "", p.handName(j))),
			ui.Only(parts.Unopened(&situation, &t.Outcome), func() app.UI { return ui.Txt("p", "stop-line", "Do not open it. Do not taste it.") }),
			ui.El("ul", "reasons", ui.Each(min(1, len(why)), reason)...),
			ui.Only(len(why) > 1, func() app.UI {
				return ui.Fold("", ui.Count(len(why)-1, "more reason", "more reasons"), ui.El("ul", "reasons", ui.Each(len(why)-1, func(i int) app.UI { return reason(i + 1) })...))
			}),
			parts.Disposal("Still closed: how to discard it", "dispose.sealed"),
			parts.Disposal("Open or leaking: how to discard it", "dispose.low"),
			ui.Only(s.Batches[j.Batch] != nil, func() app.UI {
				return ui.Fold("noprint", "The record is wrong",
					ui.El("p", "", ui.Prose("Put it right, then go on with the sweep: the jar is judged afresh. "), ui.Anchor("button plain", "/batch?id="+j.Batch, "The record of the batch")))
			}),
		),
		ui.Elem("button", "button big sound").ID("out").Attr("type", "button").
			On("click", func(app.Context, app.Event) { p.takeOut(p.walk.Next[:1]) }, app.EventScope(j.ID, p.turn)).
			Text(ui.Local("I have taken it out")),
		ui.Only(len(row) > 1, func() app.UI {
			return ui.Action("button plain", ui.Say("All %d of this row, but…", len(row)), p.openRow, j.ID, p.turn, "row")
		}),
		ui.Action("button plain", "It stays for now", func() { p.leave(p.walk.Next[:1]) }, j.ID, p.turn, "stays"),
		ui.Action("button plain", "It is not here", p.missing, j.ID, p.turn, "missing"),
	)
}

// placeCard asks once what a place is like, before its jars are looked at: the
// answer is true of all of them.
func (p *Page) placeCard(place *record.Place) app.UI {
	var lines []prose.Text
	if place.Wet == "" {
		lines = append(lines, "Dry: nothing drips, nothing was under water")
	}
	if place.Light == "" {
		lines = append(lines, "Dark: no sun on the jars, nothing hot beside them")
	}
	warm := place.Air == nil
	if warm {
		lines = append(lines, "It never froze there")
	}
	great := ui.Action("button big sound", "Yes", func() { p.describe(place, record.CoolPlace) }, place.ID, p.turn)
	if warm {
		great = ui.Action("button big sound", "Yes, and never above 24 °C (75 °F)", func() { p.describe(place, record.CoolPlace) }, place.ID, p.turn)
	}
	return p.walkCard("",
		ui.El("section", "card hand-jar",
			ui.Title(ui.Say("First the place: %s", place.Name)),
			ui.Txt("p", "hint", "Asked once for all jars there. Has all of this been so, all the time?"),
			ui.El("ul", "glances place-lines", ui.Texts(lines)...),
		),
		great,
		ui.Only(warm, func() app.UI {
			return ui.Action("button plain", "Yes, and at times up to 35 °C (95 °F)", func() { p.describe(place, record.WarmPlace) }, place.ID, p.turn, "warm")
		}),
		ui.Anchor("button plain", "/places", "No: describe the place"),
		ui.Action("button plain", "I don't know", func() {
			p.passed[place.ID] = true
			p.moveOn()
		}, place.ID, p.turn, "pass"),
	)
}

// wholeRow answers for all jars of a row except some.
func (p *Page) wholeRow() app.UI {
	row := p.walk.Row()
	out := p.walk.Condemned(row[0])
	all := slices.DeleteFunc(slices.Clone(row), func(j *record.Jar) bool { return p.except[j.ID] })
	cooled, words := p.coolingLine(), prose.Text("All five true for %s")
	head, hint := prose.Text("All five true for every jar of this row, except these:"), prose.Text("Touch the jars where it is not true. They come next. You have held each of the others.")
	if cooled != "" {
		head, words = "All six true for every jar of this row, except these:", "All six true for %s"
	}
	if out {
		head, hint = "Every jar of this row is taken out, except these:", "Touch the jars that are still there. They come next."
	}
	great := ui.Action("button big", ui.Say(words, ui.Count(len(all), "jar", "jars")), func() {
		if p.read() {
			p.sound(all)
		}
	}, p.turn, len(all))
	if p.unread > 0 {
		great = ui.Action("button big plain", ui.Say("Look at every line: %d more", p.unread), func() { p.read() }, p.turn, "unread")
	}
	return ui.Once("section", "card",
		ui.Title(head),
		ui.Txt("p", "hint", hint),
		ui.Only(!out, func() app.UI {
			return ui.El("ul", "row-lines", append([]app.UI{ui.Only(cooled != "", func() app.UI {
				return ui.Elem("li", "").Attr("data-line", "cooled").Text(ui.Local(cooled))
			})}, ui.Each(len(rules.ShortLook), func(i int) app.UI {
				g := &rules.ShortLook[i]
				return ui.Elem("li", "").Attr("data-line", g.ID).Text(ui.Local(g.Say))
			})...)...)
		}),
		ui.El("div", "row-jars", ui.Each(len(row), func(i int) app.UI {
			j := row[i]
			return ui.Elem("button", "pick").Attr("type", "button").Aria("pressed", fmt.Sprint(p.except[j.ID])).
				On("click", func(app.Context, app.Event) { p.except[j.ID] = !p.except[j.ID] }, app.EventScope(j.ID, p.turn)).
				Text(ui.Local(ui.Say("Jar %d", j.Number)))
		})...),
		ui.El("p", "row",
			ui.Only(len(all) > 0 && !out, func() app.UI { return great }),
			ui.Only(len(all) > 0 && out, func() app.UI {
				return ui.Action("button big", ui.Say("%s out", ui.Count(len(all), "jar is", "jars are")), func() { p.takeOut(all) }, p.turn, len(all), "out")
			}),
			ui.Action("button plain", "Back", p.moveOn, p.turn),
		),
	)
}

// end is the card when every jar has been looked at.
func (p *Page) end() app.UI {
	words := prose.Text("Every jar was looked at")
	if p.walk.Sweep.Trip != "" {
		words = "Every jar for the trip was looked at"
	}
	r, err := walk.NewReport(p.House.Shelf.Pantry, p.walk.Sweep, time.Now())
	if err != nil {
		return ui.Txt("p", "notice", ui.Plain(err))
	}
	text := prose.Text("End the sweep and see what was found")
	if p.walk.Sweep.Trip != "" {
		text = "Back to the trip"
	}
	return ui.Once("section", "card",
		ui.Title(words),
		ui.Txt("p", "lead", tallyWords(r)),
		ui.El("p", "row",
			ui.Action("button big", text, p.finish, p.turn),
			ui.Again(ui.Action("button plain", "Undo", p.undo, p.turn, "undo")),
		),
	)
}

// tallyWords says what a sweep found, in figures that add up.
func tallyWords(r *walk.Report) prose.Text {
	var parts []prose.Text
	add := func(n int, words prose.Text) {
		if n > 0 {
			parts = append(parts, ui.Say("%d %s", n, ui.Local(words)))
		}
	}
	add(r.Fine, "fine")
	add(r.Unsure, "not certain yet")
	add(r.Seal, "with a failed seal")
	add(r.Spoiled, "spoiled")
	add(r.Unfit, "to discard because of their record")
	add(r.Missing, "not found")
	if len(parts) == 0 {
		return "No jar was looked at."
	}
	return ui.Say("%s: %s.", ui.Count(r.Answered(), "jar", "jars"), prose.List(parts, ", "))
}

// finish ends the sweep. A sweep in which no jar was looked at is removed, so
// that it does not delay the next one. A look before a trip leads back to the
// trip.
func (p *Page) finish() {
	now := time.Now().UTC().Truncate(time.Second)
	s := *p.walk.Sweep
	if len(p.walk.Answers) == 0 {
		s.Delete(now)
	} else {
		s.Ended = &now
		s.Touch(now)
	}
	p.House.Keep(p.ctx, func() {
		ui.Device().Call("awake", false)
		if s.Trip != "" {
			p.ctx.Navigate(ui.Link("/trip?id=" + s.Trip))
			return
		}
		if s.Ended == nil {
			p.moveOn()
			p.notice = "No jar was looked at, so this sweep does not count."
			return
		}
		p.report = s.ID
		p.House.ReplaceAddress(ui.Link("/sweep?report=" + s.ID))
		p.moveOn()
	}, &s)
}
