package app

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/rules"
	"larderlamp/rules/order"
	"larderlamp/rules/practice"
)

// progress says how the learner is doing: dangers caught and false alarms, each
// with its interval, by sign and by food, and what to practice next.
func (p *practicePage) progress() app.UI {
	l := p.ladder
	if l.All.Jars() == 0 {
		return notCertified()
	}
	weakest := l.Weakest(4)
	return el("section", "",
		txt("h2", "", "How am I doing?"),
		tallyLines(&l.All),
		txt("p", "", say("The sign that decides was found in %d of %s.", l.Touched, count(l.Turn, "item", "items"))),
		txt("h3", "", "To practice next"),
		el("ul", "chips", each(len(weakest), func(i int) app.UI {
			return el("li", "", anchor("button plain", "/practice?sign="+weakest[i].ID(), weakest[i].Info().Name))
		})...),
		txt("p", "hint", "The signs of which it is least known that you see their dangers: missed, or seldom met."),
		fold("", "By sign", tallyTable("Sign", l.Signs, func(id string) string {
			s, _ := rules.SignByID(id)
			return s.Info().Name
		})),
		fold("", "By food", tallyTable("Food", l.Products, func(id string) string {
			product, _ := rules.ProductByID(id)
			return product.Name
		})),
		notCertified(),
		txt("p", "hint", "The ranges are 95 % intervals by the method of Wilson: what your share could be if these jars were drawn by chance. Few jars make wide ranges. What you do here stays on this device."),
		el("p", "", action("quiet", "Forget all of this and start at the foot", func() {
			p.ladder = practice.NewLadder(p.ladder.Seed + 1)
			saveLadder(p.ladder)
			focus(p.ctx, "title")
		})),
	)
}

// share writes k of n with its interval.
func share(k, n int) string {
	if n == 0 {
		return "none met yet"
	}
	low, high := practice.Wilson(k, n)
	return say("%d of %d (%.0f to %.0f %%)", k, n, 100*low, 100*high)
}

// tallyLines says what was caught, what was a false alarm and what was too mild.
func tallyLines(t *practice.Tally) app.UI {
	return el("dl", "tally",
		txt("dt", "", "Dangers caught"), txt("dd", "", share(t.Dangers-t.Missed, t.Dangers)),
		txt("dt", "", "False alarms"), txt("dd", "", share(t.Alarms, t.Harmless)),
		only(t.Mild > 0, func() app.UI { return txt("dt", "", "Kept, but to be used soon") }),
		only(t.Mild > 0, func() app.UI { return txt("dd", "", share(t.Mild, t.Harmless)) }),
	)
}

// tallyTable lists tallies, the most missed dangers first.
func tallyTable(what string, of map[string]*practice.Tally, name func(string) string) app.UI {
	var ids []string
	for id := range of {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	order.By(ids, func(a, b *string) bool { return of[*a].Missed > of[*b].Missed })
	const most = 60
	ids = ids[:min(len(ids), most)]
	return el("table", "means",
		el("thead", "", el("tr", "", txt("th", "", what), txt("th", "", "Dangers caught"), txt("th", "", "False alarms"))),
		el("tbody", "", each(len(ids), func(i int) app.UI {
			t := of[ids[i]]
			return el("tr", "", elem("th", "").Attr("scope", "row").Text(local(name(ids[i]))), txt("td", "", share(t.Dangers-t.Missed, t.Dangers)), txt("td", "", share(t.Alarms, t.Harmless)))
		})...),
	)
}
