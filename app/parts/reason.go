package parts

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Reasons are rules that matched, with a link to each in the rule book.
func Reasons(p *rules.Product, ls []rules.Line) app.UI {
	return ui.El("ul", "reasons", ui.Each(len(ls), func(i int) app.UI { return reason(p, ls[i], ls[i].Rule) })...)
}

// PlainReasons are the same without their codes, which come last in an answer.
func PlainReasons(p *rules.Product, ls []rules.Line) app.UI {
	return ui.El("ul", "reasons", ui.Each(len(ls), func(i int) app.UI { return reason(p, ls[i], nil) })...)
}

// reason is one rule that matched, with its sources. A harmless look-alike is
// explained in the words of the product.
func reason(p *rules.Product, l rules.Line, link *rules.Rule) app.UI {
	look := lookAlike(p, l)
	if look == nil {
		return WithSource(l.Rule.Say, "", l.Rule.Cites, link)
	}
	cause := ui.Say("%s: %s.", look.Looks, look.Cause)
	if look.Flip != "" {
		cause = ui.Say("%s: %s. Not harmless if: %s.", look.Looks, look.Cause, look.Flip)
	}
	return WithSource(l.Rule.Say, cause, look.Cites, link)
}

// WithSource is a statement with its first source beside it and the others folded.
func WithSource(statement, more prose.Text, cs []rules.Cite, r *rules.Rule) app.UI {
	return ui.El("li", "reason",
		ui.Txt("p", "say", statement),
		ui.Only(more != "", func() app.UI { return ui.Txt("p", "cause", more) }),
		ui.El("p", "source",
			Source(cs[0]),
			Evidence(cs[0].Known()),
			ui.Only(r != nil, func() app.UI { return ui.El("span", "", ui.Prose(" "), RuleLink(r, ui.Say("Rule %s", r.ID))) }),
		),
		ui.Only(len(cs) > 1, func() app.UI {
			return ui.Fold("", ui.Count(len(cs)-1, "more source", "more sources"), Cites(cs[1:]))
		}),
	)
}

// lookAlike is the product's own account of a harmless look, if a note depends on one.
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

func AdviceList(as []*rules.Advice, house *house.House) app.UI {
	return ui.El("section", "advice", append([]app.UI{ui.Txt("h2", "", "What to do now")}, ui.Each(len(as), func(i int) app.UI { return AdviceCard(as[i], house) })...)...)
}

func AdviceCard(a *rules.Advice, house *house.House) app.UI {
	return ui.El("section", "do",
		ui.Txt("h3", "", a.Title),
		ui.Only(a.Boil, func() app.UI { return &boilLine{House: house, Language: ui.ReaderTag} }),
		ui.El("ol", "", ui.Texts(a.Steps)...),
		ui.Fold("", "Sources", Cites(a.Cites)),
	)
}

func Labels(vs []rules.Value) prose.Text {
	var words []prose.Text
	for _, v := range vs {
		words = append(words, v.Info().Label)
	}
	return prose.List(words, ", or ")
}

// Unopened reports whether the answer is to leave the jar closed: it has to be
// discarded and nobody has said that it is open.
func Unopened(s *rules.Situation, o *rules.Outcome) bool {
	return o.Lowest == rules.Discard && s.Possible(rules.OpenedNo)
}
