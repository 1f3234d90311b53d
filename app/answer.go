package app

import (
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/locale"
	"larderlamp/rules/order"
)

// answer is the end of a check. Its first screen holds the verdict, what it says
// of the worry, the one thing to do now, and help for whoever has eaten from the
// jar; all else is one touch away. One that is not from today is not today's
// verdict, unless it is to discard the jar, and leads to a fresh look.
func (p *checkPage) answer(situation *rules.Situation, t *rules.Trace) app.UI {
	s := p.session
	v := t.Highest
	class, shown, words := verdictClass(v), v, v.String()
	old := !s.holds(v, time.Now())
	if old {
		class, shown, words = "verdict-open", 0, say("On %s it was “%s”", dayWords(record.DayOf(s.check.Begun.Local())), v.String())
	}
	b := rules.BriefFor(*situation, s.product, t, s.worries()...)
	as := rules.AdviceFor(*situation)
	return el("article", "check answer "+class,
		p.look(situation, shown, nil),
		el("header", "verdict", el("div", "", el("div", "verdict-line", mark(shown), title(words)), s.named())),
		el("div", "tell",
			only(old, func() app.UI {
				return el("div", "notice",
					txt("p", "", "That is not today’s answer: what was seen then may have changed. Look at the jar again before anybody eats from it."),
					el("p", "row", p.again()))
			}),
			el("div", "first",
				el("div", "worry", each(len(b.Worry), func(i int) app.UI { return txt("p", "", b.Worry[i]) })...),
				only(!old, func() app.UI { return p.doNow(situation, t, &b) }),
				eaten(b.Ill),
				only(!t.Settled(), func() app.UI { return p.unsettled(t) }),
			),
			p.backToShelf(situation, t),
			only(b.Out, func() app.UI { return adviceCard(rules.AdviceByID("cleanup"), p.house) }),
			el("div", "more-of-it",
				p.findOut(situation, t),
				why(s.product, t),
				only(len(t.Also) > 0, func() app.UI {
					return fold("", "What else you saw", plainReasons(s.product, t.Also))
				}),
				howTo(t.Highest, as, b.Out, p.house),
				wouldChange(situation, t),
				fold("", "Cautions", cautionCards()),
				codes(t),
				p.answers(),
			),
			p.tools(),
		),
		live("unseen-live", prose(p.said)),
	)
}

// eaten says what to do for who has eaten from the jar. It stands open only when
// somebody is ill; before that it would bury what the others have to do.
func eaten(open bool) app.UI {
	if open {
		return el("section", "eaten open", txt("h2", "", "Someone is ill: get help now"), eatenSteps())
	}
	return fold("eaten", "Someone ate from it: what to do", eatenSteps())
}

func eatenSteps() app.UI { return el("ol", "", texts(rules.AdviceByID("eaten").Steps)...) }

// ateButton stands beside the ways back, so that this help is one touch away from
// every screen of a check, however long the question is.
func (p *checkPage) ateButton() app.UI {
	return action("button plain ate", "Someone ate it", p.eatenFrom, p.turn)
}

func (p *checkPage) eatenFrom() {
	p.ate = true
	focus(p.ctx, "title")
}

// atePanel is what to do for who has eaten from the jar, in place of the question.
// Nothing of the check is lost.
func (p *checkPage) atePanel() app.UI {
	return el("section", "eaten open",
		title("Someone ate from it: what to do"),
		eatenSteps(),
		el("p", "row", action("button", "Back to the check", func() {
			p.ate = false
			focus(p.ctx, "title")
		}, p.turn)),
	)
}

// doNow is the one thing to do, with its day or its minutes.
func (p *checkPage) doNow(situation *rules.Situation, t *rules.Trace, b *rules.Brief) app.UI {
	return el("section", "do-now",
		only(t.Highest == rules.Discard && !b.Ill, func() app.UI {
			if unopened(situation, &t.Outcome) {
				return txt("p", "stop-line", "Do not open it. Do not taste it.")
			}
			return txt("p", "stop-line", "Do not taste it.")
		}),
		txt("p", "do-this", b.Do),
		only(b.Days >= 0, func() app.UI { return txt("p", "by", lastDay(p.deadline(b.Days))) }),
		only(t.Highest == rules.Keep, func() app.UI { return txt("p", "by", p.best()) }),
		only(b.Sealed, func() app.UI {
			return txt("p", "", "When you open it, listen: air rushes in. If not, or if you see or smell anything new, discard it.")
		}),
		only(b.Boil, func() app.UI { return txt("p", "", boilWords(p.house)) }),
	)
}

// lastDay says until when it may be eaten.
func lastDay(d record.Day) string {
	switch {
	case d == record.DayOf(time.Now()):
		return "Eat it today."
	case d < record.DayOf(time.Now()):
		return "Its days are over: do not eat it."
	}
	return say("Eat it by %s.", dayWords(d))
}

// deadline is the last day on which it may be eaten: what the shelf has noted,
// where that is earlier.
func (p *checkPage) deadline(days int) record.Day {
	last := record.DayOf(time.Now().AddDate(0, 0, days))
	if j := p.shelved(); j != nil {
		if v := p.house.shelf.Judge(j, time.Now()); v.Deadline != "" && v.Deadline < last {
			return v.Deadline
		}
	}
	return last
}

// best says until when a jar that is kept is at its best: for a year.
func (p *checkPage) best() string {
	if j := p.shelved(); j != nil {
		if b := p.house.shelf.Batches[j.Batch]; b != nil {
			if made, err := time.Parse(record.DayLayout, string(b.Made)); err == nil {
				return say("At its best until %s.", dayWords(record.DayOf(made.AddDate(1, 0, 0))))
			}
		}
	}
	return "Best within 12 months of canning. After that, eat it first."
}

// shelved is the jar of the check, once the shelf has been read; nil before, and
// for one that is not on it.
func (p *checkPage) shelved() *record.Jar {
	if p.house.shelf == nil || p.session.check.Jar == "" {
		return nil
	}
	return p.house.shelf.Jars[p.session.check.Jar]
}

// unsettled says plainly that the strict verdict stands for want of knowledge;
// each thing to find out leads to its question.
func (p *checkPage) unsettled(t *rules.Trace) app.UI {
	return el("div", "unsettled",
		txt("p", "", say("It may be “%s”. Find out, and tap to answer:", t.Lowest.String())),
		p.toFind(t.Open),
	)
}

// findOut says what is worth finding out, and where: with it the answer could be
// milder. What the answer waits for stands on its first screen already.
func (p *checkPage) findOut(situation *rules.Situation, t *rules.Trace) app.UI {
	ids, _ := rules.FindOut(*situation, p.session.unknown()...)
	if len(ids) == 0 || !t.Settled() {
		return nil
	}
	return fold("unsettled", "If you can find out more", p.toFind(ids))
}

func (p *checkPage) toFind(ids []rules.SignID) app.UI {
	return el("ul", "to-find", each(len(ids), func(i int) app.UI {
		id := ids[i]
		info := id.Info()
		open := p.session.situation()
		open.Forget(id)
		return el("li", "",
			action("button plain", p.session.product.Worded(rules.SignQuestion(id, &open)).Ask, func() {
				p.turned()
				p.change, p.changes = id, true
			}, p.session.check.ID, info.ID),
			only(info.Find != "", func() app.UI { return txt("span", "find", info.Find) }))
	})...)
}

// roomy is the width in pixels from which an answer has room for its reasons.
const roomy = 1000

// why gives the reasons, each with who says so.
func why(product *rules.Product, t *rules.Trace) app.UI {
	width, _ := app.Window().Size()
	return elem("details", "").Attr("open", width >= roomy).Body(
		txt("summary", "", "Why, and who says so"),
		plainReasons(product, t.Deciding),
		only(!product.Processed(), func() app.UI {
			return el("ul", "reasons", sourced(product.Caution, "", product.Cites, nil))
		}),
		only(!t.Settled() && len(t.Pending) > 0, func() app.UI {
			return el("div", "", txt("h3", "", "What could not be ruled out"), el("ul", "", each(len(t.Pending), func(i int) app.UI {
				return txt("li", "", t.Pending[i].Rule.Say)
			})...))
		}),
	)
}

// reasons are rules that matched, with a link to each in the rule book.
func reasons(p *rules.Product, ls []rules.Line) app.UI {
	return el("ul", "reasons", each(len(ls), func(i int) app.UI { return reason(p, ls[i], ls[i].Rule) })...)
}

// plainReasons are the same without their codes, which stand last on an answer.
func plainReasons(p *rules.Product, ls []rules.Line) app.UI {
	return el("ul", "reasons", each(len(ls), func(i int) app.UI { return reason(p, ls[i], nil) })...)
}

// reason is one rule that matched, with its sources. A harmless look-alike is
// explained in the words of the product.
func reason(p *rules.Product, l rules.Line, link *rules.Rule) app.UI {
	look := lookAlike(p, l)
	if look == nil {
		return sourced(l.Rule.Say, "", l.Rule.Cites, link)
	}
	cause := say("%s: %s.", look.Looks, look.Cause)
	if look.Flip != "" {
		cause += say(" Not harmless if: %s.", look.Flip)
	}
	return sourced(l.Rule.Say, cause, look.Cites, link)
}

// codes names the rules that matched, for who wants to look them up.
func codes(t *rules.Trace) app.UI {
	all := append(append([]rules.Line{}, t.Deciding...), t.Also...)
	return fold("codes", "The rules, by their codes", el("ul", "", each(len(all), func(i int) app.UI {
		return el("li", "", ruleLink(all[i].Rule, all[i].Rule.ID))
	})...))
}

// sourced is a statement with its first source beside it and the others folded.
func sourced(statement, more string, cs []rules.Cite, r *rules.Rule) app.UI {
	return el("li", "reason",
		txt("p", "say", statement),
		only(more != "", func() app.UI { return txt("p", "cause", more) }),
		el("p", "source",
			source(cs[0]),
			evidence(cs[0].Evidence),
			only(r != nil, func() app.UI { return el("span", "", prose(" "), ruleLink(r, say("Rule %s", r.ID))) }),
		),
		only(len(cs) > 1, func() app.UI {
			return fold("", count(len(cs)-1, "more source", "more sources"), cites(cs[1:]))
		}),
	)
}

// lookAlike is the product's own account of a harmless look, where a note rests on one.
func lookAlike(p *rules.Product, l rules.Line) *rules.LookAlike {
	if l.Rule.Kind != rules.Note {
		return nil
	}
	for _, v := range l.Shown {
		if look := p.LookAlikeFor(v.Sign()); look != nil && look.Trait == v {
			return look
		}
	}
	return nil
}

// howTo is the advice step by step, behind one touch; the whole batch has one of
// its own. What stands open already is not said twice.
func howTo(v rules.Verdict, as []*rules.Advice, cleaned bool, house *household) app.UI {
	var steps, batch []app.UI
	for _, a := range as {
		switch {
		case a.ID == "batch":
			batch = append(batch, adviceCard(a, house))
		case strings.HasPrefix(a.ID, "eaten"), cleaned && a.ID == "cleanup":
		default:
			steps = append(steps, adviceCard(a, house))
		}
	}
	name := map[rules.Verdict]string{rules.Keep: "How to store it and serve it", rules.UseSoon: "How to keep it and serve it", rules.Discard: "How to discard it"}[v]
	return el("div", "",
		fold("advice", name, steps...),
		only(len(batch) > 0, func() app.UI { return fold("advice", "The other jars of its batch", batch...) }))
}

func adviceList(as []*rules.Advice, house *household) app.UI {
	return el("section", "advice", append([]app.UI{txt("h2", "", "What to do now")}, each(len(as), func(i int) app.UI { return adviceCard(as[i], house) })...)...)
}

func adviceCard(a *rules.Advice, house *household) app.UI {
	return el("section", "do",
		txt("h3", "", a.Title),
		only(a.Boil, func() app.UI { return &boilLine{House: house} }),
		el("ol", "", texts(a.Steps)...),
		fold("", "Sources", cites(a.Cites)),
	)
}

// nearest is how many differences are said in words before the rest is folded.
const nearest = 5

// wouldChange says what would give another answer, the nearest first: what was
// said differs from it by the fewest steps.
func wouldChange(s *rules.Situation, t *rules.Trace) app.UI {
	changes := slices.Clone(t.Changes)
	order.By(changes, func(a, b *rules.Change) bool { return steps(s, a.Value) < steps(s, b.Value) })
	list := func(cs []rules.Change) app.UI {
		return el("ul", "", each(len(cs), func(i int) app.UI {
			c := cs[i]
			verdict := c.Highest.String()
			if c.Lowest != c.Highest {
				verdict = say("%s to %s", c.Lowest.String(), verdict)
			}
			return el("li", "", prose(say("%s: %s → ", c.Value.Sign().Info().Name, c.Value.Info().Label)), txt("strong", "", verdict))
		})...)
	}
	few := min(nearest, len(changes))
	return fold("", "What would change the answer",
		only(few == 0, func() app.UI {
			return txt("p", "", "Nothing by itself: more than one thing is wrong, or nothing you could see matters here.")
		}),
		only(few > 0, func() app.UI { return list(changes[:few]) }),
		only(few < len(changes), func() app.UI { return fold("", "More that would change it", list(changes[few:])) }),
		only(len(t.Nearly) > 0, func() app.UI {
			return fold("", "Rules that nearly applied", el("ul", "", each(len(t.Nearly), func(i int) app.UI {
				n := t.Nearly[i]
				return el("li", "", ruleLink(n.Rule, n.Rule.Say),
					prose(say(" It did not, because of %s: %s.", lowerFirst(n.Sign.Info().Name), labels(n.Shown))))
			})...))
		}),
	)
}

// steps is how far a value lies from what was said of its sign.
func steps(s *rules.Situation, v rules.Value) int {
	least := int(rules.NumValues)
	for _, said := range s.Values(v.Sign()) {
		least = min(least, max(int(v)-int(said), int(said)-int(v)))
	}
	return least
}

func labels(vs []rules.Value) string {
	var words []string
	for _, v := range vs {
		words = append(words, v.Info().Label)
	}
	return locale.List(words, ", or ")
}
