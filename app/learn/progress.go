package learn

import (
	"cmp"
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/practice"
	"larderlamp/rules/prose"
)

// progress says how the learner is doing: dangers caught and false alarms, each
// with its interval, by sign and by food, and what to practice next.
func (p *PracticePage) progress() app.UI {
	l := p.ladder
	if l.All.Jars() == 0 {
		return notCertified()
	}
	weakest := l.Weakest(4)
	return ui.El("section", "",
		ui.Txt("h2", "", "How am I doing?"),
		tallyLines(&l.All),
		ui.Txt("p", "", ui.Say("The sign that decides was found in %d of %s.", l.Touched, ui.Count(l.Turn, "item", "items"))),
		ui.Txt("h3", "", "To practice next"),
		ui.El("ul", "chips", ui.Each(len(weakest), func(i int) app.UI {
			return ui.El("li", "", ui.Anchor("button plain", "/practice?sign="+weakest[i].ID(), weakest[i].Info().Name))
		})...),
		ui.Txt("p", "hint", "Signs whose dangers you missed, or have seldom met."),
		ui.Fold("", "By sign", tallyTable("Sign", l.Signs, func(id string) prose.Text {
			s, _ := rules.SignByID(id)
			return s.Info().Name
		})),
		ui.Fold("", "By food", tallyTable("Food", l.Products, func(id string) prose.Text {
			product, _ := rules.ProductByID(id)
			return product.Name
		})),
		notCertified(),
		ui.Txt("p", "hint", "The ranges are 95 % intervals by the method of Wilson: what your share could be if these jars were drawn by chance. Few jars make wide ranges. What you do here stays on this device."),
		ui.El("p", "", ui.Action("quiet", "Forget all of this and start over", func() {
			p.ladder = practice.NewLadder(p.ladder.Seed + 1)
			saveLadder(p.ladder)
			ui.Focus(p.ctx, "title")
		})),
	)
}

// share writes k of n with its interval.
func share(k, n int) prose.Text {
	if n == 0 {
		return "none met yet"
	}
	low, high := practice.Wilson(k, n)
	return ui.Say("%d of %d (%.0f to %.0f %%)", k, n, 100*low, 100*high)
}

// tallyLines says what was caught, what was a false alarm and what was too mild.
func tallyLines(t *practice.Tally) app.UI {
	return ui.El("dl", "tally",
		ui.Txt("dt", "", "Dangers caught"), ui.Txt("dd", "", share(t.Dangers-t.Missed, t.Dangers)),
		ui.Txt("dt", "", "False alarms"), ui.Txt("dd", "", share(t.Alarms, t.Harmless)),
		ui.Only(t.Mild > 0, func() app.UI { return ui.Txt("dt", "", "Kept, but to be used soon") }),
		ui.Only(t.Mild > 0, func() app.UI { return ui.Txt("dd", "", share(t.Mild, t.Harmless)) }),
	)
}

// tallyTable lists tallies, the most missed dangers first.
func tallyTable(what prose.Text, of map[string]*practice.Tally, name func(string) prose.Text) app.UI {
	var ids []string
	for id := range of {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	slices.SortStableFunc(ids, func(a, b string) int { return cmp.Compare(of[b].Missed, of[a].Missed) })
	const most = 60
	ids = ids[:min(len(ids), most)]
	return ui.El("table", "means",
		ui.El("thead", "", ui.El("tr", "", ui.Txt("th", "", what), ui.Txt("th", "", "Dangers caught"), ui.Txt("th", "", "False alarms"))),
		ui.El("tbody", "", ui.Each(len(ids), func(i int) app.UI {
			t := of[ids[i]]
			return ui.El("tr", "", ui.Elem("th", "").Attr("scope", "row").Text(ui.Local(name(ids[i]))), ui.Txt("td", "", share(t.Dangers-t.Missed, t.Dangers)), ui.Txt("td", "", share(t.Alarms, t.Harmless)))
		})...),
	)
}
