package app

import (
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/pantry"
	"larderlamp/rules"
	"larderlamp/rules/locale"
)

// answerCard is the verdict: word, mark and colour; what to do; why; what would
// change it. One that is not from today is not today's verdict, unless it is to
// discard the jar, and again leads to a fresh look.
func answerCard(s *session, situation *rules.Situation, t *rules.Trace, house *household, again app.UI) app.UI {
	v := t.Highest
	class, shown, words := verdictClass(v), v, v.String()
	old := !s.holds(v, time.Now())
	if old {
		class, shown, words = "verdict-open", 0, say("On %s it was “%s”", dayWords(pantry.DayOf(s.check.Begun.Local())), v.String())
	}
	return el("article", "answer "+class,
		el("header", "verdict", mark(shown), title(words)),
		only(old, func() app.UI {
			return el("div", "notice",
				txt("p", "", "That is not today’s answer: what was seen then may have changed. Look at the jar again before anybody eats from it."),
				el("p", "row", again))
		}),
		only(unopened(situation, &t.Outcome), func() app.UI { return txt("p", "stop-line", "Do not open it. Do not taste it.") }),
		only(!t.Settled(), func() app.UI { return unsettled(t) }),
		el("section", "",
			txt("h2", "", "Why"),
			reasons(s.product, t.Deciding),
			only(s.product.Route == rules.RouteNone, func() app.UI {
				return el("ul", "reasons", sourced(s.product.Caution, "", s.product.Cites, nil))
			}),
			only(!t.Settled() && len(t.Pending) > 0, func() app.UI {
				return fold("", "What could not be ruled out", el("ul", "", each(len(t.Pending), func(i int) app.UI {
					return el("li", "", ruleLink(t.Pending[i].Rule, t.Pending[i].Rule.Say))
				})...))
			}),
		),
		findOut(rules.FindOut(*situation)),
		adviceList(rules.AdviceFor(*situation), house),
		only(len(t.Also) > 0, func() app.UI {
			return el("section", "", txt("h2", "", "Also noticed"), reasons(s.product, t.Also))
		}),
		wouldChange(t),
		cautionCards(),
	)
}

// unsettled says plainly that the strict verdict stands for want of knowledge.
func unsettled(t *rules.Trace) app.UI {
	open := each(len(t.Open), func(i int) app.UI {
		info := t.Open[i].Info()
		return el("li", "", txt("strong", "", info.Name), only(info.Find != "", func() app.UI { return txt("span", "find", info.Find) }))
	})
	return el("div", "unsettled",
		el("p", "",
			txt("strong", "", "Not settled. "),
			prose(say("It may be “%s”. We can't say so yet: find out first.", t.Lowest.String())),
		),
		el("ul", "", open...),
		txt("p", "", "Until then the stricter answer counts."),
	)
}

// findOut says what is worth finding out, and where: with it the answer could be
// milder.
func findOut(ids []rules.SignID) app.UI {
	if len(ids) == 0 {
		return nil
	}
	return el("section", "unsettled", txt("h2", "", "It would help to find out"), el("ul", "", each(len(ids), func(i int) app.UI {
		info := ids[i].Info()
		return el("li", "", txt("strong", "", info.Name), txt("span", "find", info.Find))
	})...))
}

func reasons(p *rules.Product, ls []rules.Line) app.UI {
	return el("ul", "reasons", each(len(ls), func(i int) app.UI { return reason(p, ls[i]) })...)
}

// reason is one rule that matched, with its sources. A harmless look-alike is
// explained in the words of the product.
func reason(p *rules.Product, l rules.Line) app.UI {
	look := lookAlike(p, l)
	if look == nil {
		return sourced(l.Rule.Say, "", l.Rule.Cites, l.Rule)
	}
	cause := say("%s: %s.", look.Looks, look.Cause)
	if look.Flip != "" {
		cause += say(" Not harmless if: %s.", look.Flip)
	}
	return sourced(l.Rule.Say, cause, look.Cites, l.Rule)
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

func adviceList(as []*rules.Advice, house *household) app.UI {
	return el("section", "advice", append([]app.UI{txt("h2", "", "What to do now")}, each(len(as), func(i int) app.UI {
		a := as[i]
		return el("section", "do",
			txt("h3", "", a.Title),
			only(a.Boil, func() app.UI { return &boilLine{House: house} }),
			el("ol", "", texts(a.Steps)...),
			fold("", "Sources", cites(a.Cites)),
		)
	})...)...)
}

// wouldChange lists the single differences that would give another answer, and
// the rules that nearly applied.
func wouldChange(t *rules.Trace) app.UI {
	return el("section", "",
		txt("h2", "", "What would change it"),
		only(len(t.Changes) == 0, func() app.UI {
			return txt("p", "", "No single difference would: more than one thing is wrong, or nothing you could see bears on it.")
		}),
		only(len(t.Changes) > 0, func() app.UI {
			return fold("", count(len(t.Changes), "single difference", "single differences"), el("ul", "", each(len(t.Changes), func(i int) app.UI {
				c := t.Changes[i]
				verdict := c.Highest.String()
				if c.Lowest != c.Highest {
					verdict = say("%s to %s", c.Lowest.String(), verdict)
				}
				return el("li", "", prose(say("%s: %s → ", c.Value.Sign().Info().Name, c.Value.Info().Label)), txt("strong", "", verdict))
			})...))
		}),
		only(len(t.Nearly) > 0, func() app.UI {
			return fold("", count(len(t.Nearly), "rule nearly applied", "rules nearly applied"), el("ul", "", each(len(t.Nearly), func(i int) app.UI {
				n := t.Nearly[i]
				return el("li", "", ruleLink(n.Rule, n.Rule.Say),
					prose(say(" It did not, because of %s: %s.", lowerFirst(n.Sign.Info().Name), labels(n.Shown))))
			})...))
		}),
	)
}

func labels(vs []rules.Value) string {
	var words []string
	for _, v := range vs {
		words = append(words, v.Info().Label)
	}
	return locale.List(words, ", or ")
}
