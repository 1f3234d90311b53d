package app

import (
	"fmt"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/draw"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/walk"
	"larderlamp/rules"
	"larderlamp/rules/locale"
)

// The cards of the walk, one at a time: what the person holds, and the one great
// button for it.

// walkCard is a card of the walk: where it stands, what it is about, the great
// button, and the ways off it.
func (p *sweepPage) walkCard(class string, card, great app.UI, others ...app.UI) app.UI {
	w := p.walk
	hand, _ := deviceItem(handKey)
	place := p.house.shelf.PlaceName(w.Next[0].Standing().Place)
	return el("div", "walk "+class+" "+hand,
		el("div", "stand",
			elem("div", "progress").Role("progressbar").Aria("valuenow", w.Done).Aria("valuemin", 0).Aria("valuemax", w.Total).Aria("label", local("Jars looked at")).
				Body(elem("progress", "").Attr("value", w.Done).Attr("max", w.Total).Aria("hidden", true)),
			txt("p", "hint", say("%d of %d · %s", w.Done+1, w.Total, place)),
		),
		card,
		el("div", "hands", great),
		el("div", "row others", others...),
		el("p", "row",
			only(len(w.Answers) > 0 && p.taken < walk.MostUndo, func() app.UI { return action("quiet", "Undo", p.undo, p.turn) }),
			action("quiet", "Here is a jar that is not in the list", func() {
				p.finding, p.query = true, ""
				p.turn++
				focus(p.ctx, "title")
			}, p.turn, "found"),
			action("quiet", "End the sweep here", p.finish, p.turn, "end"),
		),
		fold("", "Keys, and what the short look rests on",
			txt("p", "", "s: all five hold · 1 to 5: that line does not hold · t: taken out · o: something else is odd · r: the whole row · n: not here · u: undo. Close the page at any moment: what you answered is kept, and the sweep goes on where it was."),
			cites(rules.ShortLookCites),
		),
	)
}

// handTop is the picture of the jar in the hand, and what it is.
func (p *sweepPage) handTop(head string, j *record.Jar, v *pantry.Verdict, more ...app.UI) app.UI {
	s := p.house.shelf
	situation, _ := s.Situation(j, time.Now())
	b := s.Batches[j.Batch]
	lines := []app.UI{title(head)}
	if b != nil {
		lines = append(lines, txt("p", "hint", say("%s · %s", dayWords(b.Made), lookedWords(v))))
	}
	return el("div", "hand-top",
		el("div", "hand-picture", app.Raw(jarPicture(b.Food(), situation, 0, draw.Options{Prefix: "walk", Plain: true}))),
		el("div", "", append(lines, more...)...),
	)
}

// lookedWords says when a jar was looked at last.
func lookedWords(v *pantry.Verdict) string {
	if v.Basis.Look == nil {
		return "never looked at"
	}
	return say("looked at %s", dayWords(record.DayOf(v.Basis.Look.At.Local())))
}

// handName names the jar in the hand.
func (p *sweepPage) handName(j *record.Jar) string {
	if b := p.house.shelf.Batches[j.Batch]; b != nil {
		return say("%s, jar %d", b.Name(), j.Number)
	}
	return say("A jar of a batch that is not recorded, jar %d", j.Number)
}

// walking is the jar in the hand, and the short look.
func (p *sweepPage) walking() app.UI {
	s := p.house.shelf
	j := p.walk.Next[0]
	v := s.Judge(j, time.Now())
	pr := s.Prospect(j, time.Now())
	row := p.walk.Row()
	var great app.UI
	if p.unread > 0 {
		great = elem("button", "button big plain sound").ID("unread").Attr("type", "button").
			On("click", func(app.Context, app.Event) { p.soundOne() }, app.EventScope(j.ID, p.turn, "unread")).
			Text(say("Look at every line: %d more", p.unread))
	} else {
		great = elem("button", "button big sound").ID("sound").Attr("type", "button").
			On("click", func(app.Context, app.Event) { p.soundOne() }, app.EventScope(j.ID, p.turn)).
			On("contextmenu", func(_ app.Context, e app.Event) {
				// A long press of a finger, or the other button of a mouse.
				e.PreventDefault()
				p.openRow()
			}, app.EventScope("row", p.turn)).
			Text(local("All five hold"))
	}
	return p.walkCard("",
		el("section", "card hand-jar",
			p.handTop(p.handName(j), j, &v, p.flags(j, &v, pr)),
			txt("p", "hint glances-hint", "Touch the line that does not hold:"),
			el("ul", "glances", each(len(rules.ShortLook), func(i int) app.UI {
				g := &rules.ShortLook[i]
				return elem("li", "").Attr("data-line", g.ID).Body(named("glance", g.Say, say("%s: this does not hold", g.Say), func() { p.odd(g) }, g.ID, p.turn))
			})...),
		),
		great,
		action("button plain", "Something else is odd", func() { p.odd(nil) }, j.ID, p.turn),
		only(len(row) > 1, func() app.UI {
			return action("button plain", say("All %d of this row, but…", len(row)), p.openRow, j.ID, p.turn, "row")
		}),
		action("button plain", "It is not here", p.missing, j.ID, p.turn, "missing"),
	)
}

// flags say what is special about a jar before it is looked at.
func (p *sweepPage) flags(j *record.Jar, v *pantry.Verdict, pr *pantry.Prospect) app.UI {
	trouble := p.batchTrouble(j)
	switch {
	case trouble != nil:
		return trouble
	case pr.Hopeless():
		open := pr.Open()
		words := lowerFirst(open[0].Info().Name)
		if len(open) > 1 {
			words = say("%s, and %d more", words, len(open)-1)
		}
		return el("p", "flag", mark(rules.Discard), txt("strong", "", "Doubtful however it looks. "), prose(say("Not known: %s.", words)))
	case pr.Highest == rules.UseSoon:
		return el("p", "flag", mark(rules.UseSoon), txt("strong", "", "To the front: use soon at best."))
	}
	return nil
}

// batchTrouble says on every sibling that a jar of the batch spoiled, with the
// rule and its source.
func (p *sweepPage) batchTrouble(j *record.Jar) app.UI {
	situation, _ := p.house.shelf.Situation(j, time.Now())
	r, ok := rules.RuleByID("record.siblings.second-look")
	if !ok || !situation.Is(rules.SiblingsSpoiled) {
		return nil
	}
	return el("div", "notice", txt("p", "", r.Say), el("p", "source", source(r.Cites[0]), evidence(r.Cites[0].Evidence), prose(" "), ruleLink(r, say("Rule %s", r.ID))))
}

// outWords say in short why a jar is taken out.
var outWords = map[string]string{
	"":                "Take it out",
	record.ForSpoiled: "Take it out: it spoiled",
	record.ForSeal:    "Take it out: its seal failed",
	record.ForProcess: "Take it out: no tested process",
	record.ForAge:     "Take it out: too old",
}

// outCard is a jar that has to be discarded, whatever it looks like: it says why,
// and never offers to note it as sound.
func (p *sweepPage) outCard() app.UI {
	s := p.house.shelf
	j := p.walk.Next[0]
	v := s.Judge(j, time.Now())
	situation, _ := s.Situation(j, time.Now())
	t := rules.Explain(situation)
	row := p.walk.Row()
	why := t.Deciding
	reason := func(i int) app.UI { return sourced(why[i].Rule.Say, "", why[i].Rule.Cites[:1], why[i].Rule) }
	return p.walkCard("out verdict-discard",
		el("section", "card hand-jar",
			p.handTop(outWords[walk.WhyOut(s.Pantry, j, time.Now())], j, &v, txt("p", "", p.handName(j))),
			el("ul", "reasons", each(min(1, len(why)), reason)...),
			only(len(why) > 1, func() app.UI {
				return fold("", count(len(why)-1, "more reason", "more reasons"), el("ul", "reasons", each(len(why)-1, func(i int) app.UI { return reason(i + 1) })...))
			}),
			only(unopened(&situation, &t.Outcome), func() app.UI { return txt("p", "stop-line", "Do not open it. Do not taste it.") }),
			disposal("Still closed: how to discard it", "dispose.sealed"),
			disposal("Open or leaking: how to discard it", "dispose.low"),
			only(s.Batches[j.Batch] != nil, func() app.UI {
				return fold("", "The record is wrong",
					el("p", "", prose("Put it right, then go on with the sweep: the jar is judged afresh. "), anchor("button plain", "/batch?id="+j.Batch, "The record of the batch")))
			}),
		),
		elem("button", "button big sound").ID("out").Attr("type", "button").
			On("click", func(app.Context, app.Event) { p.takeOut(p.walk.Next[:1]) }, app.EventScope(j.ID, p.turn)).
			Text(local("I have taken it out")),
		only(len(row) > 1, func() app.UI {
			return action("button plain", say("All %d of this row, but…", len(row)), p.openRow, j.ID, p.turn, "row")
		}),
		action("button plain", "It stays for now", func() { p.leave(p.walk.Next[:1]) }, j.ID, p.turn, "stays"),
		action("button plain", "It is not here", p.missing, j.ID, p.turn, "missing"),
	)
}

// placeCard asks once what a place is like, before its jars are looked at: what
// is true of it is true of all of them.
func (p *sweepPage) placeCard(place *record.Place) app.UI {
	var lines []string
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
	great := action("button big sound", "Yes", func() { p.describe(place, record.CoolPlace) }, place.ID, p.turn)
	if warm {
		great = action("button big sound", "Yes, and never above 24 °C (75 °F)", func() { p.describe(place, record.CoolPlace) }, place.ID, p.turn)
	}
	return p.walkCard("",
		el("section", "card hand-jar",
			title(say("First the place: %s", place.Name)),
			txt("p", "hint", "Asked once for all jars there. Has all of this been so, all the time?"),
			el("ul", "glances place-lines", texts(lines)...),
		),
		great,
		only(warm, func() app.UI {
			return action("button plain", "Yes, and at times up to 35 °C (95 °F)", func() { p.describe(place, record.WarmPlace) }, place.ID, p.turn, "warm")
		}),
		anchor("button plain", "/places", "No: describe the place"),
		action("button plain", "I don't know", func() {
			p.passed[place.ID] = true
			p.turned()
		}, place.ID, p.turn, "pass"),
	)
}

// wholeRow answers for all jars of a row but some.
func (p *sweepPage) wholeRow() app.UI {
	row := p.walk.Row()
	out := p.walk.Condemned(row[0])
	all := slices.DeleteFunc(slices.Clone(row), func(j *record.Jar) bool { return p.except[j.ID] })
	head, hint := "All five hold for every jar of this row, but these:", "Touch the jars that are not like that. They come next. Each of the others has been in your hand."
	if out {
		head, hint = "Every jar of this row is taken out, but these:", "Touch the jars that are still there. They come next."
	}
	great := action("button big", say("All five hold for %s", count(len(all), "jar", "jars")), func() {
		if p.read() {
			p.sound(all)
		}
	}, p.turn, len(all))
	if p.unread > 0 {
		great = action("button big plain", say("Look at every line: %d more", p.unread), func() { p.read() }, p.turn, "unread")
	}
	return el("section", "card",
		title(head),
		txt("p", "hint", hint),
		only(!out, func() app.UI {
			return el("ul", "row-lines", each(len(rules.ShortLook), func(i int) app.UI {
				g := &rules.ShortLook[i]
				return elem("li", "").Attr("data-line", g.ID).Text(local(g.Say))
			})...)
		}),
		el("div", "row-jars", each(len(row), func(i int) app.UI {
			j := row[i]
			return elem("button", "pick").Attr("type", "button").Aria("pressed", fmt.Sprint(p.except[j.ID])).
				On("click", func(app.Context, app.Event) { p.except[j.ID] = !p.except[j.ID] }, app.EventScope(j.ID, p.turn)).
				Text(say("Jar %d", j.Number))
		})...),
		el("p", "row",
			only(len(all) > 0 && !out, func() app.UI { return great }),
			only(len(all) > 0 && out, func() app.UI {
				return action("button big", say("%s out", count(len(all), "jar is", "jars are")), func() { p.takeOut(all) }, p.turn, len(all), "out")
			}),
			action("button plain", "Back", p.turned, p.turn),
		),
	)
}

// end is what is left when every jar was looked at.
func (p *sweepPage) end() app.UI {
	words := "Every jar was looked at"
	if p.walk.Sweep.Trip != "" {
		words = "Every jar for the trip was looked at"
	}
	r, err := walk.NewReport(p.house.shelf.Pantry, p.walk.Sweep, time.Now())
	if err != nil {
		return txt("p", "notice", plain(err))
	}
	text := "End the sweep and see what was found"
	if p.walk.Sweep.Trip != "" {
		text = "Back to the trip"
	}
	return el("section", "card",
		title(words),
		txt("p", "lead", tallyWords(r)),
		el("p", "row",
			action("button big", text, p.finish, p.turn),
			action("button plain", "Undo", p.undo, p.turn, "undo"),
		),
	)
}

// tallyWords says what a sweep found, in figures that add up.
func tallyWords(r *walk.Report) string {
	var parts []string
	add := func(n int, words string) {
		if n > 0 {
			parts = append(parts, say("%d %s", n, local(words)))
		}
	}
	add(r.Fine, "fine")
	add(r.Unsure, "not certain yet")
	add(r.Seal, "with a failed seal")
	add(r.Spoiled, "spoiled")
	add(r.Unfit, "to discard for what is known of them")
	add(r.Missing, "not found")
	if len(parts) == 0 {
		return "No jar was looked at."
	}
	return say("%s: %s.", count(r.Answered(), "jar", "jars"), locale.List(parts, ", "))
}

// finish ends the sweep. One in which no jar was looked at is taken away, so that
// it does not put the next one off. A look before a trip leads back to the trip.
func (p *sweepPage) finish() {
	now := time.Now().UTC().Truncate(time.Second)
	s := *p.walk.Sweep
	if len(p.walk.Answers) == 0 {
		s.Delete(now)
	} else {
		s.Ended = &now
		s.Touch(now)
	}
	p.house.keep(p.ctx, func() {
		device().Call("awake", false)
		if s.Trip != "" {
			p.ctx.Navigate(link("/trip?id=" + s.Trip))
			return
		}
		if s.Ended == nil {
			p.turned()
			p.notice = "No jar was looked at, so this sweep does not count."
			return
		}
		p.report = s.ID
		p.house.replaceAddress(link("/sweep?report=" + s.ID))
		p.turned()
	}, &s)
}
