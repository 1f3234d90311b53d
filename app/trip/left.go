package trip

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/parts"
	"larderlamp/app/travel"
	"larderlamp/app/ui"
	"larderlamp/rules/prose"
)

// reason says why a jar stays, to follow its name.
func (p *Page) reason(tr *travel.Traveler) prose.Text {
	switch w := whyWords[tr.Why]; {
	case w != "" && tr.Look && tr.Fate == travel.NotNeeded:
		return ui.Say(" (%s; to be looked at first)", w)
	case w != "":
		return ui.Say(" (%s)", w)
	case tr.Look:
		return " (to be looked at first)"
	}
	return ""
}

var whyWords = map[string]prose.Text{
	travel.WhyDiscard:  "it has to be discarded",
	travel.WhyOpen:     "it is open: eat it up at home",
	travel.WhyMissing:  "its place is not known",
	travel.WhyHeat:     "it would get too warm for it",
	travel.WhyFrost:    "it might freeze",
	travel.WhyNoMeal:   "no meal of its kind is wanted",
	travel.WhyTooMuch:  "opened, it would not be finished in time",
	travel.WhyOthers:   "others go first",
	travel.WhyTooLate:  "it would have to be opened before its first meal",
	travel.WhyNoRecord: "what is in it is not known",
	travel.WhyUnknown:  "too little is known about it, and a look would not tell",
}

// jarGroup is jars of one batch with the same fate.
type jarGroup struct {
	first *travel.Traveler
	jars  []*travel.Traveler
}

// groupJars groups jars about which the plan says the same.
func groupJars(all []*travel.Traveler, take func(*travel.Traveler) bool) (groups []*jarGroup) {
	type key struct {
		batch, why string
		fate       travel.Fate
		look       bool
	}
	of := map[key]*jarGroup{}
	for _, tr := range all {
		if !take(tr) {
			continue
		}
		k := key{tr.Jar.Batch, tr.Why, tr.Fate, tr.Look}
		if of[k] == nil {
			of[k] = &jarGroup{first: tr}
			groups = append(groups, of[k])
		}
		of[k].jars = append(of[k].jars, tr)
	}
	return
}

// groupName names the jars of a batch.
func (p *Page) groupName(k *jarGroup) prose.Text {
	name := prose.Text("Jars of a batch that is not recorded")
	if b := k.first.Batch(); b != nil {
		name = ui.Say("%s %s", b.Name(), b.Made.Year())
	}
	return ui.Say("%d × %s", len(k.jars), name)
}

// mostKins is how many rows of a kind are shown at first.
const mostKins = 40

// others lists what does not go: jars that need a look first, that must not go,
// and that are not needed.
func (p *Page) others() app.UI {
	j := p.journey
	stays := groupJars(j.Jars, func(tr *travel.Traveler) bool { return tr.Fate == travel.Stays })
	rest := groupJars(j.Jars, func(tr *travel.Traveler) bool {
		return tr.Fate == travel.NotNeeded || tr.Must && tr.Fate != travel.Stays
	})
	many := func(groups []*jarGroup) (n int) {
		for _, k := range groups {
			n += len(k.jars)
		}
		return
	}
	return ui.El("div", "",
		ui.Only(len(stays) > 0, func() app.UI {
			return ui.Fold("card", ui.Say("%s that must stay", ui.Count(many(stays), "jar", "jars")),
				ui.El("ul", "", ui.Each(min(len(stays), mostKins), func(i int) app.UI { return p.stay(stays[i]) })...))
		}),
		ui.Only(len(rest) > 0, func() app.UI {
			return ui.Fold("card", ui.Say("%s that could go", ui.Count(many(rest), "jar", "jars")),
				ui.Txt("p", "hint", "Ask for one of them, and the plan is worked out again."),
				ui.El("ul", "plain-list", ui.Each(min(len(rest), mostKins), func(i int) app.UI { return p.offer(rest[i]) })...))
		}),
	)
}

// stay says why jars stay, with the rules.
func (p *Page) stay(k *jarGroup) app.UI {
	rs := p.planner.Reasons(k.first)
	if why := k.first.Why; why != travel.WhyDiscard && why != travel.WhyHeat && why != travel.WhyFrost {
		rs = nil
	}
	return ui.El("li", "", ui.Prose(ui.Say("%s%s", p.groupName(k), p.reason(k.first))),
		ui.Only(len(rs) > 0, func() app.UI {
			return ui.Fold("", "Why", ui.Each(len(rs), func(i int) app.UI {
				return ui.El("div", "", ui.Txt("p", "", rs[i].Say), parts.Cites(rs[i].Cites))
			})...)
		}))
}

// offer lets a person ask for a jar, or stop asking for it.
func (p *Page) offer(k *jarGroup) app.UI {
	first := k.first
	text, label := prose.Text("Bring one"), ui.Say("Bring one: %s", p.groupName(k))
	if first.Must {
		text, label = "It may stay", ui.Say("It may stay: %s", p.groupName(k))
	}
	return ui.El("li", "offer", ui.Prose(ui.Say("%s%s ", p.groupName(k), p.reason(first))),
		ui.Only(p.trip.Home == nil && len(p.trip.Packed) == 0, func() app.UI {
			return ui.Named("button plain", text, label, func() {
				t := p.trip
				var must []string
				for _, id := range t.Must {
					if id != first.Jar.ID {
						must = append(must, id)
					}
				}
				if !first.Must {
					must = append(must, first.Jar.ID)
				}
				t.Must = must
				p.keep(t, func() { p.open(t) })
			}, first.Jar.ID, first.Must)
		}))
}
