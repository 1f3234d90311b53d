package parts

import (
	"slices"
	"time"

	"larderlamp/app/house"
	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/ui"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// VerdictWords says in one line what the rules say about a jar.
func VerdictWords(v *pantry.Verdict) prose.Text {
	looks := v.Looks()
	return verdictWords(v, &looks)
}

// GroupVerdict says in one line what the rules say about every jar of a group.
func GroupVerdict(g *pantry.Group) prose.Text { return verdictWords(g.First(), &g.Looks) }

// verdictWords says it of the jars that were counted, of which v is one.
func verdictWords(v *pantry.Verdict, looks *pantry.Looks) prose.Text {
	switch st := v.State(); {
	case st == pantry.ToSeek:
		return "Not found at the last sweep"
	case st == pantry.ToFinish && v.Deadline < record.DayOf(v.Basis.Now):
		return ui.Say("Open, and past its days since %s", ui.DayWords(v.Deadline))
	case st == pantry.ToFinish:
		return ui.Say("Open: finish by %s, %s", ui.DayWords(v.Deadline), daysLeft(v.Deadline, v.Basis.Now))
	case st == pantry.ToLook && v.Lowest == rules.UseSoon:
		return ui.Say("%s; use soon at best", unsettledWords(looks))
	case st == pantry.ToLook:
		return unsettledWords(looks)
	}
	return v.Highest.Text()
}

// unsettledWords says why jars are not settled, as far as their looks tell.
func unsettledWords(l *pantry.Looks) prose.Text {
	switch all := l.All(); {
	case l.Never == all:
		return "Not looked at yet"
	case l.Lately.Jars == 0:
		return "Not looked at lately"
	case l.Lately.Jars < all:
		return ui.Say("%d of %d not looked at lately", all-l.Lately.Jars, all)
	case l.Partly == 0:
		return "Looked at, but too little is recorded"
	}
	return "Looked at, but not settled yet"
}

// daysLeft counts down to a day.
func daysLeft(d record.Day, now time.Time) prose.Text {
	last, _ := d.Number()
	today, _ := record.DayOf(now).Number()
	switch n := last - today; n {
	case 0:
		return "today"
	case 1:
		return "tomorrow"
	default:
		return ui.Count(n, "day", "days")
	}
}

// BasisWords says plainly what the answer is based on and what is still open.
func BasisWords(v *pantry.Verdict) prose.Text {
	looks := v.Looks()
	return basisWords(v, &looks)
}

// GroupBasis says the same of every jar of a group.
func GroupBasis(g *pantry.Group) prose.Text { return basisWords(g.First(), &g.Looks) }

// basisWords says it of the jars that were counted, of which v is one.
func basisWords(v *pantry.Verdict, l *pantry.Looks) prose.Text {
	all := l.All()
	var words []prose.Text
	switch st := v.State(); {
	case st == pantry.ToDiscard || v.Basis.Stage == record.IsMissing:
	case l.Never == all:
		words = append(words, "never looked at since it was recorded")
	case l.Old.Jars == all:
		words = append(words, ui.Say("last looked at %s: too long ago to count", lookDays(&l.Old, v.Basis.Now)))
	case l.Lately.Jars == all:
		words = append(words, ui.Say("looked at %s", lookDays(&l.Lately, v.Basis.Now)))
	default:
		if n := l.Lately.Jars; n > 0 {
			words = append(words, ui.Say("%d looked at %s", n, lookDays(&l.Lately, v.Basis.Now)))
		}
		if n := l.Old.Jars; n > 0 {
			words = append(words, ui.Say("%d last looked at %s, too long ago to count", n, lookDays(&l.Old, v.Basis.Now)))
		}
		if l.Never > 0 {
			words = append(words, ui.Say("%d never looked at", l.Never))
		}
	}
	if l.Partly > 0 && v.State() == pantry.ToLook {
		switch {
		case l.Lately.Jars == all && len(l.Unlooked) > 0:
			var names []prose.Text
			for _, id := range l.Unlooked[:min(len(l.Unlooked), 3)] {
				names = append(names, prose.Lower(id.Info().Name))
			}
			words = append(words, ui.Say("not looked at: %s", prose.List(names, ", ")))
		default:
			words = append(words, prose.Agree(l.Partly, "one look was not complete", "%d looks were not complete", l.Partly))
		}
	}
	if l.Disputed > 0 {
		words = append(words, ofSome(l.Disputed, all, "what was seen and what is recorded disagree"))
	}
	if l.Apart > 0 {
		words = append(words, ofSome(l.Apart, all, "two phones do not agree: go by the stricter one"))
	}
	return prose.List(words, "; ")
}

// ofSome says something of jars, and of how many of them unless it is true of all.
func ofSome(n, all int, words prose.Text) prose.Text {
	if n == all {
		return words
	}
	return ui.Say("for %d of %d, %s", n, all, words)
}

// lookDays says on which days jars were looked at: the first counts for all of them.
func lookDays(l *pantry.Looked, now time.Time) prose.Text {
	first, last := l.Days(now.Location())
	if first == last {
		return prose.Own(ui.DayWords(first))
	}
	return ui.Say("%s or later", ui.DayWords(first))
}

// oldest is the jar of a group that is used first.
func oldest(g *pantry.Group) *pantry.Verdict {
	first := g.First()
	for i := range g.Jars {
		if v := &g.Jars[i]; v.Aged() > first.Aged() {
			first = v
		}
	}
	return first
}

// GroupWhy says why the rules say it of a group: the first reason of each of its jars,
// and of how many it is the reason unless it is that of all.
func GroupWhy(h *house.House, g *pantry.Group, in func(*rules.Rule) prose.Text) prose.Text {
	type reason struct {
		rule *rules.Rule
		jars int
	}
	var reasons []*reason
	of := map[rules.Situation]*reason{} // most jars of a batch are in the same situation
	for i := range g.Jars {
		s, _ := h.Shelf.Situation(g.Jars[i].Jar, g.Jars[i].Basis.Now)
		r := of[s]
		if r == nil {
			var rule *rules.Rule
			if trace := rules.Explain(s); len(trace.Deciding) > 0 {
				rule = trace.Deciding[0].Rule
			}
			if at := slices.IndexFunc(reasons, func(r *reason) bool { return r.rule == rule }); at >= 0 {
				r = reasons[at]
			} else {
				r = &reason{rule: rule}
				reasons = append(reasons, r)
			}
			of[s] = r
		}
		r.jars++
	}
	var words []prose.Text
	for _, r := range reasons {
		if r.rule == nil {
			continue
		}
		if r.jars == len(g.Jars) {
			return in(r.rule)
		}
		words = append(words, ui.Say("%s: %s", ui.Count(r.jars, "jar", "jars"), in(r.rule)))
	}
	return prose.List(words, " ")
}
