package check

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/parts"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// answer is the end of a check. Its first screen holds the verdict, what it
// means for what worried the person, the one thing to do now, and help for
// anyone who has eaten from the jar; everything else is one touch away. An
// answer from an earlier day is not today's verdict, unless it is to discard the
// jar, and leads to a new look.
func (p *Page) answer(situation *rules.Situation, t *rules.Trace) app.UI {
	s := p.session
	v := t.Highest
	class, shown, words := parts.VerdictClass(v), v, v.Text()
	old := !s.Holds(v, time.Now())
	if old {
		class, shown, words = "verdict-open", 0, ui.Say("On %s it was “%s”", ui.DayWords(record.DayOf(s.Check.Begun.Local())), v)
	}
	b := rules.BriefFor(*situation, s.Product, t, s.Worries()...)
	as := rules.AdviceFor(*situation)
	return ui.Once("article", "check answer "+class,
		p.look(situation, shown, nil),
		ui.El("header", "verdict", ui.El("div", "", ui.El("div", "verdict-line", parts.Mark(shown), ui.Title(words)), parts.Named(s))),
		ui.El("div", "tell",
			ui.Only(old, func() app.UI {
				return ui.El("div", "notice",
					ui.Txt("p", "", "That is not today’s answer: what was seen then may have changed. Look at the jar again before anybody eats from it."),
					ui.El("p", "row", p.again()))
			}),
			ui.El("div", "first",
				ui.El("div", "worry", ui.Each(len(b.Worry), func(i int) app.UI { return ui.Txt("p", "", b.Worry[i]) })...),
				ui.Only(!old, func() app.UI { return p.doNow(situation, t, &b) }),
				eaten(b.Ill),
				ui.Only(!t.Settled(), func() app.UI { return p.unsettled(t) }),
			),
			p.backToShelf(situation, t),
			ui.Only(b.Out, func() app.UI { return parts.AdviceCard(rules.AdviceByID("cleanup"), p.House) }),
			ui.El("div", "more-of-it",
				p.findOut(situation, t),
				why(s.Product, t),
				ui.Only(len(t.Also) > 0, func() app.UI {
					return ui.Fold("", "What else you saw", parts.PlainReasons(s.Product, t.Also))
				}),
				howTo(t.Highest, as, b.Out, p.House),
				wouldChange(situation, t),
				ui.Fold("", "Cautions", parts.CautionCards(rules.AdviceByID("eaten").Steps...)),
				codes(t),
				p.answers(),
			),
			p.tools(),
		),
		ui.Live("unseen-live", ui.Prose(p.said)),
	)
}

// eaten says what to do for someone who has eaten from the jar. It is open at
// first only when somebody is ill; otherwise it would bury what the others have
// to do.
func eaten(open bool) app.UI {
	if open {
		return ui.El("section", "eaten open", ui.Txt("h2", "", "Someone is ill: get help now"), eatenSteps())
	}
	return ui.Fold("eaten", "Someone ate from it: what to do", eatenSteps())
}

func eatenSteps() app.UI { return ui.El("ol", "", ui.Texts(rules.AdviceByID("eaten").Steps)...) }

// ateButton is beside the buttons back, so that this help is one touch away from
// every screen of a check, however long the question is.
func (p *Page) ateButton() app.UI {
	return ui.Action("button plain ate", "Someone ate it", p.eatenFrom, p.turn)
}

func (p *Page) eatenFrom() {
	p.ate = true
	ui.Focus(p.ctx, "title")
}

// atePanel is what to do for someone who has eaten from the jar. It replaces the
// question; nothing of the check is lost.
func (p *Page) atePanel() app.UI {
	return ui.Once("section", "eaten open",
		ui.Title("Someone ate from it: what to do"),
		eatenSteps(),
		ui.El("p", "row", ui.Action("button", "Back to the check", func() {
			p.ate = false
			ui.Focus(p.ctx, "title")
		}, p.turn)),
	)
}

// doNow is the one thing to do, with its day or its minutes.
func (p *Page) doNow(situation *rules.Situation, t *rules.Trace, b *rules.Brief) app.UI {
	return ui.El("section", "do-now",
		ui.Only(t.Highest == rules.Discard && !b.Ill, func() app.UI {
			if parts.Unopened(situation, &t.Outcome) {
				return ui.Txt("p", "stop-line", "Do not open it. Do not taste it.")
			}
			return ui.Txt("p", "stop-line", "Do not taste it.")
		}),
		ui.Txt("p", "do-this", b.Do),
		ui.Only(b.Days >= 0, func() app.UI { return ui.Txt("p", "by", lastDay(p.deadline(b.Days))) }),
		ui.Only(t.Highest == rules.Keep, func() app.UI { return ui.Txt("p", "by", p.best()) }),
		ui.Only(b.Sealed, func() app.UI {
			return ui.Txt("p", "", "When you open it, listen: air rushes in. If not, or if you see or smell anything new, discard it.")
		}),
		ui.Only(b.Boil, func() app.UI { return ui.Txt("p", "", parts.BoilWords(p.House)) }),
	)
}

// lastDay says until when it may be eaten.
func lastDay(d record.Day) prose.Text {
	switch {
	case d == record.DayOf(time.Now()):
		return "Eat it today."
	case d < record.DayOf(time.Now()):
		return "Its days are over: do not eat it."
	}
	return ui.Say("Eat it by %s.", ui.DayWords(d))
}

// deadline is the last day on which it may be eaten; if the shelf has an
// earlier day, that one.
func (p *Page) deadline(days int) record.Day {
	last := record.DayOf(time.Now().AddDate(0, 0, days))
	if j := p.shelved(); j != nil {
		if v := p.House.Shelf.Judge(j, time.Now()); v.Deadline != "" && v.Deadline < last {
			return v.Deadline
		}
	}
	return last
}

// best says until when a jar that is kept is at its best: for a year.
func (p *Page) best() prose.Text {
	if j := p.shelved(); j != nil {
		if b := p.House.Shelf.Batches[j.Batch]; b != nil {
			if made, err := time.Parse(record.DayLayout, string(b.Made)); err == nil {
				return ui.Say("At its best until %s.", ui.DayWords(record.DayOf(made.AddDate(1, 0, 0))))
			}
		}
	}
	return "Best within 12 months of canning. After that, eat it first."
}

// shelved is the jar of the check once the shelf has been read; nil before that,
// and for a jar that is not on it.
func (p *Page) shelved() *record.Jar {
	if p.House.Shelf == nil || p.session.Check.Jar == "" {
		return nil
	}
	return p.House.Shelf.Jars[p.session.Check.Jar]
}

// unsettled says plainly that the verdict is strict because something is not
// known; each thing to find out leads to its question.
func (p *Page) unsettled(t *rules.Trace) app.UI {
	return ui.El("div", "unsettled",
		ui.Txt("p", "", ui.Say("It may be “%s”. Find out, and tap to answer:", t.Lowest.Text())),
		p.toFind(t.Open),
	)
}

// findOut says what is worth finding out, and where: knowing it could make the
// answer milder. What the answer waits for is on its first screen already.
func (p *Page) findOut(situation *rules.Situation, t *rules.Trace) app.UI {
	ids, _ := rules.FindOut(*situation, p.session.Unknown()...)
	if len(ids) == 0 || !t.Settled() {
		return nil
	}
	return ui.Fold("unsettled", "If you can find out more", p.toFind(ids))
}

func (p *Page) toFind(ids []rules.SignID) app.UI {
	return ui.El("ul", "to-find", ui.Each(len(ids), func(i int) app.UI {
		id := ids[i]
		info := id.Info()
		open := p.session.Situation()
		open.Forget(id)
		return ui.El("li", "",
			ui.Action("button plain", p.session.Product.Worded(rules.SignQuestion(id, &open)).Ask, func() {
				p.moveOn()
				p.change, p.changes = id, true
			}, p.session.Check.ID, info.ID),
			ui.Only(info.Find != "", func() app.UI { return ui.Txt("span", "find", info.Find) }))
	})...)
}

// roomy is the width in pixels from which an answer has room for its reasons.
const roomy = 1000

// why lists the reasons, each with its source.
func why(product *rules.Product, t *rules.Trace) app.UI {
	width, _ := app.Window().Size()
	return ui.Elem("details", "").Attr("open", width >= roomy).Body(
		ui.Txt("summary", "", "Why, and who says so"),
		parts.PlainReasons(product, t.Deciding),
		ui.Only(!product.Processed(), func() app.UI {
			return ui.El("ul", "reasons", parts.WithSource(product.Caution, "", product.Cites, nil))
		}),
		ui.Only(!t.Settled() && len(t.Pending) > 0, func() app.UI {
			return ui.El("div", "", ui.Txt("h3", "", "What could not be ruled out"), ui.El("ul", "", ui.Each(len(t.Pending), func(i int) app.UI {
				return ui.Txt("li", "", t.Pending[i].Rule.Say)
			})...))
		}),
	)
}

// codes lists the codes of the rules that matched, for anyone who wants to look
// them up.
func codes(t *rules.Trace) app.UI {
	all := append(append([]rules.Line{}, t.Deciding...), t.Also...)
	return ui.Fold("codes", "The rules, by their codes", ui.El("ul", "", ui.Each(len(all), func(i int) app.UI {
		return ui.El("li", "", parts.RuleLink(all[i].Rule, prose.Own(all[i].Rule.ID)))
	})...))
}

// howTo is the advice step by step, behind one touch; the whole batch has advice
// of its own. What is open already is not said twice.
func howTo(v rules.Verdict, as []*rules.Advice, cleaned bool, house *house.House) app.UI {
	var steps, batch []app.UI
	for _, a := range as {
		switch {
		case a.ID == "batch":
			batch = append(batch, parts.AdviceCard(a, house))
		case strings.HasPrefix(a.ID, "eaten"), cleaned && a.ID == "cleanup":
		default:
			steps = append(steps, parts.AdviceCard(a, house))
		}
	}
	name := map[rules.Verdict]prose.Text{rules.Keep: "How to store it and serve it", rules.UseSoon: "How to keep it and serve it", rules.Discard: "How to discard it"}[v]
	return ui.El("div", "",
		ui.Fold("advice", name, steps...),
		ui.Only(len(batch) > 0, func() app.UI { return ui.Fold("advice", "The other jars of its batch", batch...) }))
}

// nearest is how many differences are written out before the rest is folded.
const nearest = 5

// wouldChange says what would change the answer, the nearest first: the value
// that differs from what was said by the fewest steps. On paper the nearest are
// enough.
func wouldChange(s *rules.Situation, t *rules.Trace) app.UI {
	changes := slices.Clone(t.Changes)
	slices.SortStableFunc(changes, func(a, b rules.Change) int { return cmp.Compare(steps(s, a.Value), steps(s, b.Value)) })
	list := func(cs []rules.Change) app.UI {
		return ui.El("ul", "", ui.Each(len(cs), func(i int) app.UI {
			c := cs[i]
			verdict := c.Highest.Text()
			if c.Lowest != c.Highest {
				verdict = ui.Say("%s to %s", c.Lowest, verdict)
			}
			return ui.El("li", "", ui.Prose(ui.Say("%s: %s → ", c.Value.Sign().Info().Name, c.Value.Info().Label)), ui.Txt("strong", "", verdict))
		})...)
	}
	few := min(nearest, len(changes))
	return ui.Fold("", "What would change the answer",
		ui.Only(few == 0, func() app.UI {
			return ui.Txt("p", "", "Nothing by itself: more than one thing is wrong, or nothing you could see matters here.")
		}),
		ui.Only(few > 0, func() app.UI { return list(changes[:few]) }),
		ui.Only(few < len(changes), func() app.UI { return ui.Fold("noprint", "More that would change it", list(changes[few:])) }),
		ui.Only(len(t.Nearly) > 0, func() app.UI {
			return ui.Fold("noprint", "Rules that nearly applied", ui.El("ul", "", ui.Each(len(t.Nearly), func(i int) app.UI {
				n := t.Nearly[i]
				return ui.El("li", "", parts.RuleLink(n.Rule, n.Rule.Say),
					ui.Prose(ui.Say(" It did not, because of %s: %s.", prose.Lower(n.Sign.Info().Name), parts.Labels(n.Shown))))
			})...))
		}),
	)
}

// steps is how far a value is from what was said about its sign.
func steps(s *rules.Situation, v rules.Value) int {
	least := int(rules.NumValues)
	for _, said := range s.Values(v.Sign()) {
		least = min(least, max(int(v)-int(said), int(said)-int(v)))
	}
	return least
}
