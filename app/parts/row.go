package parts

import (
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"larderlamp/app/house"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// SaidWords writes the values that an answer left possible.
func SaidWords(id rules.SignID, values []string) prose.Text {
	if len(values) == len(id.Info().Values) {
		return "don't know"
	}
	var words []prose.Text
	for _, v := range id.Info().Values {
		if slices.ContainsFunc(values, func(name string) bool { is, _ := id.ValueByID(name); return is == v.Value }) {
			words = append(words, v.Label)
		}
	}
	return prose.List(words, ", or: ")
}

// GroupName names the jars of a group.
func GroupName(g *pantry.Group) prose.Text {
	n := ui.Count(len(g.Jars), "jar", "jars")
	if g.Batch == nil {
		return ui.Say("%s of a batch that is not recorded", n)
	}
	return ui.Say("%s of %s %s", n, g.Batch.Name(), g.Batch.Made.Year())
}

// GroupPath leads to a jar that is alone, or to its batch.
func GroupPath(g *pantry.Group) string {
	if len(g.Jars) > 1 && g.Batch != nil {
		return "/batch?id=" + g.Batch.ID
	}
	return "/jar?id=" + g.First().Jar.ID
}

// LookLines are the statements of the short look: for jars that may still be cooling,
// the first is that they have had their hours.
func LookLines(b *record.Batch) app.UI {
	var lines []prose.Text
	if b != nil {
		if cooled := b.CooledLine(time.Now()); cooled != "" {
			lines = append(lines, cooled)
		}
	}
	for _, g := range rules.ShortLook {
		lines = append(lines, g.Say)
	}
	return ui.El("ul", "lines look-lines", ui.Texts(lines)...)
}

// StateClass is the class that colors a state.
func StateClass(st pantry.State) string {
	if v := verdictOf(st); v != 0 {
		return VerdictClass(v)
	}
	return "verdict-open"
}

// StateMark is the sign of the verdict behind a state, or the open one.
func StateMark(st pantry.State) app.UI {
	return Mark(verdictOf(st))
}

// verdictOf is the verdict behind a state, or 0 while it is open.
func verdictOf(st pantry.State) rules.Verdict {
	switch st {
	case pantry.ToDiscard:
		return rules.Discard
	case pantry.ToUse, pantry.ToFinish:
		return rules.UseSoon
	case pantry.ToKeep:
		return rules.Keep
	}
	return 0
}

// GroupRow is one line of a list of jars. It leads to the batch, if requested
// and there are several jars, or otherwise to the first jar.
func GroupRow(h *house.House, g *pantry.Group, toBatch bool) app.UI {
	v := g.First()
	name, path := prose.Text("Jars of a batch that is not recorded"), "/jar?id="+v.Jar.ID
	if g.Batch != nil {
		name = ui.Say("%s %s", g.Batch.Name(), g.Batch.Made.Year())
		if toBatch && len(g.Jars) > 1 {
			path = "/batch?id=" + g.Batch.ID + "&place=" + g.Place
		}
	}
	return ui.El("li", "row-jar "+StateClass(g.State),
		StateMark(g.State),
		ui.El("div", "",
			ui.El("h2", "", ui.Anchor("", path, name)),
			ui.El("p", "",
				ui.Txt("strong", "", GroupVerdict(g)),
				ui.Prose(ui.Say(" · %s · %s", h.Shelf.PlaceName(g.Place), MadeWords(g))),
			),
			ui.Only(GroupBasis(g) != "", func() app.UI { return ui.Txt("p", "hint", GroupBasis(g)) }),
			Instead(h, oldest(g)), // then it is true of the others too
		),
		ui.Txt("span", "times", ui.Say("× %d", len(g.Jars))),
	)
}

// Instead says which jar of the same product to use first, if another one is
// better.
func Instead(h *house.House, v *pantry.Verdict) app.UI {
	if st := v.State(); st != pantry.ToKeep && st != pantry.ToLook && st != pantry.ToUse {
		return nil
	}
	o := h.Shelf.Instead(v, h.Shelf.FirstOf)
	if o == nil {
		return nil
	}
	return ui.El("p", "hint", ui.Prose("Not this one yet: take "), ui.Anchor("", "/jar?id="+o.Jar.ID, h.Shelf.JarName(o.Jar)), ui.Prose(" first."))
}

// MadeWords says when a group was canned.
func MadeWords(g *pantry.Group) prose.Text {
	if g.Batch == nil {
		return "no record of the canning"
	}
	return ui.Say("canned %s", ui.DayWords(g.Batch.Made))
}

func TripName(t *record.Trip) prose.Text {
	return ui.CmpOr(prose.Own(t.Name), ui.Say("Trip from %s", ui.DayWords(t.From)))
}

// ThrownWords says on which day a jar was thrown out.
func ThrownWords(day record.Day) prose.Text { return ui.Say("Thrown out on %s", ui.DayWords(day)) }
