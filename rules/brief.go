package rules

import (
	"slices"
	"strings"

	"larderlamp/rules/prose"
)

// Brief is an answer on one screen: what it says about the worry that made somebody
// pick up the jar, and the one thing to do now. It says nothing that the outcome, its
// reasons and its advice do not say; it only puts the most relevant of them first.
type Brief struct {
	// Worry is one sentence, and a second where a look is harmless and the jar is
	// still not one to keep.
	Worry []Text
	// Do is the one thing to do now.
	Do Text
	// Days is how many days after today it may be eaten at the latest: 0 is
	// today, and -1 means that no day is set.
	Days int
	// Boil says that it is boiled before it is served.
	Boil bool
	// Sealed says that it is to be opened from a sealed jar, where air rushes in.
	Sealed bool
	// Out says that food has come out of a jar that is to be discarded and may be
	// poisonous, so that what it touched has to be cleaned. Somebody who can't tell
	// yet is not told to clean.
	Out bool
	// Ill says that somebody who ate from it is ill.
	Ill bool
}

// BriefFor puts an answer on one screen. The worries are what the person saw
// first: of several things to say, what is said of those comes first.
func BriefFor(s Situation, p *Product, t *Trace, worries ...Value) Brief {
	as := AdviceFor(s)
	b := Brief{
		Days: -1,
		Ill:  s.Is(IllSeen),
		Boil: has(as, "boil"),
		Out:  t.Lowest == Discard && has(as, "cleanup") && foodCameOut(&s),
	}
	b.Worry = worry(&s, p, t, worries)
	b.Do, b.Days = doNow(&s, t, as)
	b.Sealed = t.Highest == Keep || b.Do == eatNext && s.Possible(OpenedNo)
	return b
}

// foodCameOut reports whether food is known to have come out of the jar.
func foodCameOut(s *Situation) bool {
	return !s.Possible(OpenedNo) && !s.Possible(OpenedFrozen) || s.Is(SeepWet) || s.Is(SeepStreak) || s.Is(GlassCracked)
}

func has(as []*Advice, id string) bool {
	return slices.ContainsFunc(as, func(a *Advice) bool { return a.ID == id })
}

// within returns the advice that sets a time, and is nil where none does.
func within(as []*Advice) *Advice {
	for _, a := range as {
		if a.Within > 0 {
			return a
		}
	}
	return nil
}

const eatNext Text = "Put it in front. Eat it next, before your other jars."

// doNow is the one thing to do, and the last day for it counted from today, or -1.
func doNow(s *Situation, t *Trace, as []*Advice) (do Text, days int) {
	switch {
	case s.Is(IllSeen):
		return "Call an ambulance now: 911 in the United States and Canada.", -1
	case has(as, "dispose.leftover"):
		return "Throw the food away now.", -1
	case t.Highest == Discard && t.Lowest < Discard:
		return "Do not eat from it until you know more.", -1
	case has(as, "dispose.glass"):
		return "Put on thick gloves. Wrap the jar, mark it “broken glass”. Throw it away now.", -1
	case t.Highest == Discard && foodCameOut(s) && !has(as, "cleanup"):
		return "Put jar, lid and spilled food in a strong bag. Put it in the trash now.", -1
	case t.Highest == Discard && foodCameOut(s):
		return "Put on rubber gloves. Bag jar, lid and spilled food twice. Put it all in the trash now.", -1
	case t.Highest == Discard && !has(as, "dispose.sealed"):
		return "Put on rubber gloves. Bag the jar twice. Put it in the trash now.", -1
	case t.Highest == Discard:
		return "Put the jar in a strong bag and tie it. Put it in the trash now.", -1
	case has(as, "frozen.kept"):
		return "Keep it frozen, for up to a year.", -1
	case has(as, "frozen.cold"):
		return "Keep it frozen. Once it thaws in the refrigerator, eat it within 2 days.", -1
	case within(as) != nil && s.Possible(OpenedNo):
		return "Put it in the refrigerator now.", within(as).Within - 1
	case within(as) != nil:
		return "Keep it in the refrigerator, at 40 °F (4 °C) or below.", max(0, within(as).Within-1-daysGone(s))
	case t.Highest == UseSoon:
		return eatNext, -1
	}
	return "Put it back on the shelf, without the screw band. The lid stays on.", -1
}

// daysGone is how many of the days that the food keeps may already have passed.
func daysGone(s *Situation) (days int) {
	if s[SignOpened]&setOf(chilled) == 0 {
		return 0
	}
	band, _ := BandByID("open_days")
	for _, step := range band.Steps {
		if s.Possible(step.Value) {
			days = step.Max
		}
	}
	return days
}

// worry is what the answer says of what worried the person.
func worry(s *Situation, p *Product, t *Trace, worries []Value) (said []Text) {
	if t.Highest == Discard && t.Lowest < Discard {
		return []Text{"We can't say yes yet."}
	}
	worried := func(l *Line) bool {
		return slices.ContainsFunc(l.Shown, func(v Value) bool { return slices.Contains(worries, v) })
	}
	say := func(text Text) {
		if !slices.Contains(said, text) {
			said = append(said, text)
		}
	}
	if t.Highest < Discard {
		if l := pick(t.Also, func(l *Line) int {
			switch {
			case l.Rule.Kind != Note || !isOdd(s, l):
				return 0
			case worried(l):
				return 2
			}
			return 1
		}); l != nil {
			say(harmlessLook(p, l))
		}
	}
	if l := pick(t.Deciding, func(l *Line) int {
		switch {
		case !isOdd(s, l) && l.Rule.Kind != Lack:
			return 0
		case worried(l):
			return 5
		case slices.ContainsFunc(l.Shown, func(v Value) bool { return s.Is(v) && v.Shows() != NoFault }):
			return 4
		case l.Rule.Kind == Restriction && observed(l):
			return 3
		case l.Rule.Kind == Restriction:
			return 2
		}
		return 1
	}); l != nil && t.Highest > Keep {
		say(l.Rule.under(t.Highest))
	}
	switch {
	case len(said) > 0:
	case t.Highest == Keep:
		say("Sealed, nothing odd, and canned with a tested recipe.")
	case t.Highest == UseSoon && t.Lowest == Keep:
		say("Nothing odd so far, but not all is known.")
	case len(t.Deciding) > 0:
		say(t.Deciding[0].Rule.under(t.Highest))
	default:
		say("We know no reason to trust this jar.")
	}
	return said
}

// pick is the line with the highest rank, the first of several; nil when all rank 0.
func pick(ls []Line, rank func(*Line) int) (best *Line) {
	most := 0
	for i := range ls {
		if r := rank(&ls[i]); r > most {
			best, most = &ls[i], r
		}
	}
	return best
}

// isOdd reports whether a line rests on something that a sound jar does not show. That a jar
// was canned today worries nobody.
func isOdd(s *Situation, l *Line) bool {
	return slices.ContainsFunc(l.Shown, func(v Value) bool {
		id := v.Sign()
		return !id.Fact() && id != SignOpened && v != AgeDay && v != Signs[id].Sound && !s.Possible(Signs[id].Sound)
	})
}

// observed reports whether a line rests on what is seen, felt or smelled.
func observed(l *Line) bool {
	return slices.ContainsFunc(l.Shown, func(v Value) bool {
		c := v.Sign().Info().Chapter
		return c == ChapterOutside || c == ChapterGlass || c == ChapterOpening
	})
}

// harmlessLook says of a harmless look that it is one: of the food where the food is
// known for it.
func harmlessLook(p *Product, l *Line) Text {
	for _, v := range l.Shown {
		if name := looks[v]; name != "" && p.LookAlikeFor(traitOf[v]) != nil {
			return prose.Say("%s: harmless in %s.", name, p.Plain())
		}
	}
	return l.Rule.Short()
}

// looks names what some foods show and others must not, in few words.
var looks = map[Value]Text{
	CloudHazy: "Slightly cloudy", CloudSettled: "A layer at the bottom", LevelOwn: "Little liquid",
	ColorFaded: "Faded", ColorPink: "Pink", ColorBlue: "Blue or green", ColorBrowned: "Brown", ColorDark: "Dark or gray",
	DepositCrystals: "Crystals", DepositSpecks: "Specks or curd", TopFat: "A pale layer of fat on top", TopFoam: "A dry skin of foam",
}

// traitOf is the fact of the catalog that makes such a look harmless.
var traitOf = map[Value]SignID{
	CloudHazy: SignHazes, CloudSettled: SignSettles, LevelOwn: SignAbsorbs,
	ColorFaded: SignFades, ColorPink: SignPinks, ColorBlue: SignBlues, ColorBrowned: SignBrowns, ColorDark: SignDarkens,
	DepositCrystals: SignCrystals, DepositSpecks: SignSpecks, TopFat: SignFatty, TopFoam: SignFoams,
}

// properNames begin names that keep their capital inside a sentence.
var properNames = []string{"Brunswick", "Brussels", "Mexican", "Saskatoon"}

// Plain is the food's name inside a sentence, without the words that only tell it
// from others of its kind.
func (p *Product) Plain() Text {
	if p.Group == GroupUnlisted {
		return "this food"
	}
	name := prose.Head(p.Name)
	if slices.ContainsFunc(properNames, func(proper string) bool { return strings.HasPrefix(p.Name.String(), proper) }) {
		return name
	}
	return prose.Lower(name)
}
