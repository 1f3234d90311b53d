package rules

import (
	"slices"
	"strings"

	"larderlamp/rules/locale"
)

// Brief is an answer on one screen: what it says of the worry that the jar was
// picked up with, and the one thing to do now. It says nothing that the outcome,
// its reasons and its advice do not say; it only puts the nearest of them first.
type Brief struct {
	// Worry is one sentence, and a second where a look is harmless and the jar is
	// still not one to keep.
	Worry []string
	// Do is the one thing to do now.
	Do string
	// Days tells how many days after today the last day is on which it may be
	// eaten: 0 is today, and -1 where no day is set.
	Days int
	// Boil tells that it is boiled before it is served.
	Boil bool
	// Sealed tells that it is to be opened from a sealed jar, where air rushes in.
	Sealed bool
	// Out tells that food has come out of a jar that may be poisonous, so that
	// what it touched has to be cleaned.
	Out bool
	// Ill tells that somebody who ate from it is ill.
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
		Out:  has(as, "cleanup") && came(&s),
	}
	b.Worry = worry(&s, p, t, worries)
	b.Do, b.Days = doNow(&s, t, as)
	b.Sealed = t.Highest == Keep || b.Do == eatNext && s.Possible(OpenedNo)
	return b
}

// came tells whether food is known to have come out of the jar.
func came(s *Situation) bool {
	return !s.Possible(OpenedNo) && !s.Possible(OpenedFrozen) || s.Is(SeepWet) || s.Is(SeepStreak) || s.Is(GlassCracked)
}

func has(as []*Advice, id string) bool {
	return slices.ContainsFunc(as, func(a *Advice) bool { return a.ID == id })
}

// within gives the advice that sets a time, and is nil where none does.
func within(as []*Advice) *Advice {
	for _, a := range as {
		if a.Within > 0 {
			return a
		}
	}
	return nil
}

const eatNext = "Put it in front. Eat it next, before your other jars."

// doNow is the one thing to do, and the last day for it counted from today, or -1.
func doNow(s *Situation, t *Trace, as []*Advice) (do string, days int) {
	switch {
	case s.Is(IllSeen):
		return "Call an ambulance now: 911 in the United States and Canada.", -1
	case has(as, "dispose.leftover"):
		return "Throw the food away now.", -1
	case t.Highest == Discard && t.Lowest < Discard:
		return "Do not eat from it until you know more.", -1
	case has(as, "dispose.glass"):
		return "Put on thick gloves. Wrap the jar, mark it “broken glass”. Throw it away now.", -1
	case t.Highest == Discard && came(s) && !has(as, "cleanup"):
		return "Put jar, lid and spilled food in a strong bag. Put it in the trash now.", -1
	case t.Highest == Discard && came(s):
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
		return "Keep it in the refrigerator, at 40 °F (4 °C) or below.", max(0, within(as).Within-1-gone(s))
	case t.Highest == UseSoon:
		return eatNext, -1
	}
	return "Put it back on the shelf, without the screw band. The lid stays on.", -1
}

// gone is how many days of those that the food keeps may have gone by.
func gone(s *Situation) (days int) {
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
func worry(s *Situation, p *Product, t *Trace, worries []Value) (said []string) {
	if t.Highest == Discard && t.Lowest < Discard {
		return []string{"We can't say yes yet."}
	}
	worried := func(l *Line) bool {
		return slices.ContainsFunc(l.Shown, func(v Value) bool { return slices.Contains(worries, v) })
	}
	say := func(text string) {
		if !slices.Contains(said, text) {
			said = append(said, text)
		}
	}
	if t.Highest < Discard {
		if l := pick(t.Also, func(l *Line) int {
			switch {
			case l.Rule.Kind != Note || !odd(s, l):
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
		case !odd(s, l) && l.Rule.Kind != Lack:
			return 0
		case worried(l):
			return 5
		case slices.ContainsFunc(l.Shown, func(v Value) bool { return s.Is(v) && v.Info().Shows != NoFault }):
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

// odd tells whether a line rests on something that a sound jar does not show.
func odd(s *Situation, l *Line) bool {
	return slices.ContainsFunc(l.Shown, func(v Value) bool {
		id := v.Sign()
		return !id.Fact() && id != SignOpened && v != Signs[id].Sound && !s.Possible(Signs[id].Sound)
	})
}

// observed tells whether a line rests on what is seen, felt or smelled.
func observed(l *Line) bool {
	return slices.ContainsFunc(l.Shown, func(v Value) bool {
		c := v.Sign().Info().Chapter
		return c == ChapterOutside || c == ChapterGlass || c == ChapterOpening
	})
}

// harmlessLook says of a harmless look that it is one: of the food where the food is
// known for it.
func harmlessLook(p *Product, l *Line) string {
	for _, v := range l.Shown {
		if name := looks[v]; name != "" && p.LookAlikeFor(traitOf[v]) != nil {
			return locale.Say("%s: harmless in %s.", name, p.Plain())
		}
	}
	return l.Rule.Short()
}

// looks names what some foods show and others must not, in few words.
var looks = map[Value]string{
	CloudHazy: "Slightly cloudy", CloudSettled: "A layer at the bottom", LevelOwn: "Little liquid",
	ColorFaded: "Faded", ColorPink: "Pink", ColorBlue: "Blue or green", ColorBrowned: "Brown", ColorDark: "Dark or gray",
	DepositCrystals: "Crystals", DepositSpecks: "Specks or curd", TopFat: "A pale layer of fat on top", TopFoam: "A dry skin of foam",
}

// traitOf gives the fact of the catalogue that makes such a look harmless.
var traitOf = map[Value]SignID{
	CloudHazy: SignHazes, CloudSettled: SignSettles, LevelOwn: SignAbsorbs,
	ColorFaded: SignFades, ColorPink: SignPinks, ColorBlue: SignBlues, ColorBrowned: SignBrowns, ColorDark: SignDarkens,
	DepositCrystals: SignCrystals, DepositSpecks: SignSpecks, TopFat: SignFatty, TopFoam: SignFoams,
}

// properNames begin names that keep their capital inside a sentence.
var properNames = []string{"Brunswick", "Brussels", "Mexican", "Saskatoon"}

// Plain is the food's name inside a sentence, without what is added to tell it
// from others of its kind.
func (p *Product) Plain() string {
	if p.Group == GroupUnlisted {
		return "this food"
	}
	name, _, _ := strings.Cut(p.Name, ",")
	name, _, _ = strings.Cut(name, ":")
	if slices.ContainsFunc(properNames, func(proper string) bool { return strings.HasPrefix(name, proper) }) {
		return name
	}
	return strings.ToLower(name[:1]) + name[1:]
}

// Short is the rule in one short sentence, for the first screen of an answer.
func (r *Rule) Short() string {
	if short, ok := shorts[r.ID]; ok {
		return short
	}
	first, _, more := strings.Cut(r.Say, ". ")
	if more {
		first += "."
	}
	return first
}

// under is the short sentence below a verdict: what lacks a tested recipe may be
// eaten where its own acid keeps it safe, and only there.
func (r *Rule) under(v Verdict) string {
	if v == UseSoon && r.ID == "record.lack.standing" {
		return "Not from a tested recipe: don't store it any longer."
	}
	return r.Short()
}

// shorts say rules in at most 14 words, where their first sentence is longer or
// does not begin with what the person saw.
var shorts = map[string]string{
	"outside.odor":                "It smells through the lid: it leaks, and it has spoiled.",
	"outside.seep.leak":           "Food came out: air and germs can get in.",
	"outside.seep.unbacked":       "Food boiled over, and we know of no tested recipe for it.",
	"outside.seep.first-day":      "Food boiled over on canning day: harmless while the seal holds.",
	"outside.rust.through":        "The lid is rusted through: air can get in.",
	"outside.rust.unbacked":       "The lid has rust, and we know of no tested recipe for it.",
	"outside.rust.spots":          "Rust spots outside on the lid: harmless on a sealed jar.",
	"outside.glass.cracked":       "The glass is cracked or chipped: air gets in, and splinters.",
	"outside.lid.bulging":         "The lid bulges: something is growing inside.",
	"outside.lid.dented":          "The lid is dented: its seal may fail later.",
	"outside.lid.dented-unbacked": "The lid is dented, and we know of no tested recipe for it.",
	"outside.lid.none":            "There is no flat metal lid, so the seal can't be seen.",
	"outside.press.none":          "There is no flat metal lid, so the seal can't be felt.",
	"outside.lift.none":           "The lid can't be lifted, so the seal can't be tested that way.",
	"outside.lid.flat":            "The lid is flat: the seal is gone, and the food has spoiled.",
	"outside.press.gives":         "The lid moves when pressed: the seal is gone.",
	"outside.lift.off":            "The lid comes off: the seal is gone.",
	"outside.lid.flat-day":        "It did not seal. Today that can still be put right.",
	"outside.press.gives-day":     "It did not seal. Today that can still be put right.",
	"outside.lift.off-day":        "It did not seal. Today that can still be put right.",

	"liquid.cloud.murky":            "The liquid is murky: it has spoiled.",
	"liquid.cloud.hazy":             "Cloudy, and it does not settle: not usual here, so it may be spoiled.",
	"liquid.cloud.hazy-unbacked":    "Cloudy, and we know of no tested recipe for it.",
	"liquid.cloud.hazy-harmless":    "Slightly cloudy: usual for this food while the pieces are firm.",
	"liquid.cloud.settled":          "A layer at the bottom is not usual here: it may be spoiled.",
	"liquid.cloud.settled-unbacked": "A layer at the bottom, and we know of no tested recipe for it.",
	"liquid.cloud.settled-harmless": "A layer at the bottom: usual for this food.",
	"liquid.cloud.soft":             "Cloudy and soft together: that is spoilage.",
	"liquid.cloud.bubbles":          "Cloudy with bubbles: two signs at once are a danger.",
	"liquid.bubbles.rising":         "Bubbles rise: something is growing inside.",
	"liquid.bubbles.still":          "Bubbles that do not move: air from filling, harmless.",
	"liquid.body.slimy":             "Slimy or mushy: the food has spoiled.",
	"liquid.body.soft-unbacked":     "Soft food, and we know of no tested recipe for it.",
	"liquid.body.soft-harmless":     "Softer than usual: long cooking or frost, no danger.",
	"liquid.body.unset":             "It stayed runny, but it is safe. Use it as a syrup.",
	"liquid.level.dropped":          "The liquid has dropped since: the seal leaks.",
	"liquid.level.half":             "Most of the liquid was lost: it may not have been heated enough.",
	"liquid.level.half-day":         "Most of the liquid was lost: it may not have been heated enough.",
	"liquid.level.own":              "So little liquid is not usual for this food.",
	"liquid.level.own-day":          "So little liquid is not usual for this food.",
	"liquid.level.low":              "Some liquid was lost in the canner: safe while sealed.",
	"liquid.level.absorbed":         "Little liquid is usual for this food: nothing was lost.",

	"deposit.mold":              "Mold: the whole jar is spoiled. Taking the mold off does not help.",
	"deposit.crystals":          "Crystals: not usual for this food, so it may be spoiled.",
	"deposit.specks":            "Specks or curd: they may be something growing.",
	"deposit.crystals-unbacked": "Crystals, and we know of no tested recipe for it.",
	"deposit.specks-unbacked":   "Specks or curd, and we know of no tested recipe for it.",
	"deposit.specks-cloudy":     "Specks in a cloudy liquid: two signs at once are a danger.",
	"deposit.crystals-harmless": "Crystals: usual in this food.",
	"deposit.specks-harmless":   "Specks or curd: usual in this food.",
	"deposit.unset":             "Only jam and jelly may be runny. This food has spoiled.",
	"deposit.top.film":          "A film or foam on top: something is growing.",
	"deposit.top.foam":          "Dry foam is usual only on jam. Here something may grow.",
	"deposit.top.foam-harmless": "A dry skin of foam: harmless while it does not move.",
	"deposit.top.fat":           "A pale cap on food that has no fat: something may be growing.",
	"deposit.top.fat-unbacked":  "A pale cap, and we know of no tested recipe for it.",
	"deposit.top.fat-harmless":  "A hard pale cap: fat that set in the cool, harmless.",
	"deposit.top.float":         "Floating pieces: harmless. They weigh less than the syrup.",

	"deposit.recipe":         "Seeds or spice of the recipe: harmless while they do not grow.",
	"color.odd":              "A color this food should not have: it may be spoiled.",
	"color.faded":            "Faded: not usual for this food, so it may be spoiled.",
	"color.pink":             "Pink: not usual for this food, so it may be spoiled.",
	"color.blue":             "Blue or green: not usual for this food, so it may be spoiled.",
	"color.browned":          "Brown all through: not usual for this food, so it may be spoiled.",
	"color.dark":             "Gray or black: not usual for this food, so it may be spoiled.",
	"color.blue-acid":        "Blue or green: this food turns so when its acid is missing.",
	"color.faded-unbacked":   "Faded, and we know of no tested recipe for it.",
	"color.top-unbacked":     "Dark on top, and we know of no tested recipe for it.",
	"color.unbacked":         "The color changed, and we know of no tested recipe for it.",
	"color.cloudy":           "A changed color and a cloudy liquid: together they are a danger.",
	"color.cloudy.pink":      "Pink and cloudy: together they are a danger.",
	"color.cloudy.dark":      "Dark and cloudy: together they are a danger.",
	"color.garlic":           "Garlic or cauliflower changed color: harmless in a sound jar.",
	"liquid.cloud.weeps":     "A little clear syrup: jam and jelly weep, harmless.",
	"color.browned-soon":     "Browned by heat, light or age: safe, but it does not keep long.",
	"color.browned-unbacked": "Brown, and no tested recipe stands behind the jar.",
	"aging.untold":           "Brown, and it is not known how the jar was heated.",
	"aging.soft-low":         "A changed color and soft food: together they are a danger.",
	"aging.soft-acid":        "Faded or brown, and softer: heat or age, not spoilage.",
	"aging.jam":              "The jam has gone loose: it stood too warm or too long.",
	"color.soft":             "A changed color and soft food: together they are a danger.",
	"color.top-harmless":     "Dark pieces above the liquid: harmless. Canning leaves a little air on top.",
	"color.faded-harmless":   "Faded: usual for this food.",
	"color.pink-harmless":    "Pink: usual for this food.",
	"color.blue-harmless":    "Blue or green: usual for this food.",
	"color.browned-harmless": "Brown: usual for this food.",
	"color.dark-harmless":    "Dark or gray: usual for this food.",

	"storage.heat.hot":        "It was hotter than 95 °F (35 °C): it does not keep any longer.",
	"storage.heat.extreme":    "It reached 100 °F (38 °C): germs can grow in this food.",
	"storage.heat.warm":       "Above 75 °F (24 °C) food only ages faster.",
	"storage.frozen.held":     "It froze and the seal held: safe, but softer.",
	"storage.frozen.cold":     "The seal broke, but it never thawed.",
	"storage.wet.damp":        "It stood damp: damp eats lids and breaks seals.",
	"storage.wet.flood":       "Flood water gets under lids that look tight.",
	"storage.place.exposed":   "Sun or heat ages the food: don't keep storing it.",
	"storage.place.fire":      "Heat and smoke of a fire spoil food in closed jars.",
	"storage.age.second-year": "Over a year old: past its best, so eat it before newer jars.",
	"storage.age.unknown":     "No date and no tested recipe: don't trust this jar.",
	"storage.age.unbacked":    "Over two years old, and we know of no tested recipe for it.",

	"opening.clock":             "Open or not sealed: it keeps only in the cold, and not for long.",
	"opening.release.spurt":     "It spurted: something was growing inside.",
	"opening.release.hiss":      "It hissed outward: gas from something growing inside.",
	"opening.release.none":      "The lid came off loosely: the seal was gone.",
	"opening.release.in":        "Air went in, so it was sealed. That alone proves nothing.",
	"opening.smell":             "It smells off: it has spoiled.",
	"opening.film":              "A film or foam on top: something is growing.",
	"opening.underlid.fuzzy":    "Fuzz under the lid: that is mold.",
	"opening.underlid.pitted":   "The lid is eaten through: the seal was gone.",
	"opening.underlid.unbacked": "A stained lid, and we know of no tested recipe for it.",
	"opening.underlid.stain":    "A dark stain under the lid: it comes from the food, harmless.",

	"opened.days.broth":         "Open broth keeps for 2 days, and they are over.",
	"opened.days.low":           "Food like this keeps for 4 days, and they are over.",
	"opened.days.acid":          "Food like this keeps for 7 days, and they are over.",
	"opened.days.reduced":       "Food like this keeps for 2 weeks, and they are over.",
	"opened.days.three-weeks":   "Food like this keeps for 3 weeks, and they are over.",
	"opened.days.jam":           "Food like this keeps for a month, and it is over.",
	"opened.days.two-months":    "Food like this keeps for 2 months, and they are over.",
	"opened.days.longest":       "Nothing that is open keeps for more than 6 months.",
	"opened.ill":                "Someone who ate from it is ill: this may be botulism.",
	"opened.chill.warm":         "It was not kept cold enough.",
	"opened.chill.thawed":       "It thawed and was not kept cold enough.",
	"opened.chill.thawed-fruit": "Thawed fruit may be frozen again if nothing is odd.",
	"opened.chill.paused":       "A closed refrigerator stays cold for 4 hours without power.",
	"opened.out.hot":            "It was out of the cold for over an hour in the heat.",

	"record.lack.boiled-low":      "It was canned in boiling water: not hot enough, even if it looks fine.",
	"record.lack.steam-long":      "A steam canner is safe for 45 minutes at most.",
	"record.lack.pasteurized":     "Water below the boil is not hot enough for this food.",
	"record.lack.cooker":          "This kind of cooker is not known to get jars hot enough.",
	"record.lack.unheated":        "The closed jar was not heated: a seal alone proves nothing.",
	"record.lack.untold-low":      "We don't know how it was heated, and this food needs pressure.",
	"record.lack.route":           "No safe way to can this food at home is known here.",
	"record.lack.standing":        "Not from a tested recipe: no one knows that it is safe.",
	"record.lack.condition":       "The tested recipe is for another kind of this food.",
	"record.lack.unvented":        "Air was left in the canner: it was cooler than it showed.",
	"record.lack.gauge":           "The dial gauge was not tested: it may have shown too much.",
	"record.lack.process":         "It was not heated as the tested recipe says.",
	"record.lack.acid":            "There may be too little acid: deadly germs can grow.",
	"record.lack.half":            "It needs all the acid of its own tested recipe.",
	"record.lack.vegetables":      "Something was added that uses up the acid.",
	"record.lack.thickener":       "Flour, starch, rice or pasta keep the heat out.",
	"record.lack.dairy":           "Milk, cream, butter, cheese or egg can't be canned safely.",
	"record.lack.meat":            "Meat or fish was added: the food is no longer acid.",
	"record.lack.oil":             "Under oil deadly germs can grow.",
	"record.lack.mashed":          "Mashed food is too thick for the heat to get through.",
	"record.lack.dry":             "Without liquid the heat does not reach the food.",
	"record.lack.extras":          "It holds something that no tested recipe for it has.",
	"record.lack.spent":           "Fruit like that has lost the acid that the recipe counts on.",
	"record.closure.used":         "The lid was used before: its seal may fail later.",
	"record.closure.other":        "This kind of lid hides a lost seal: don't keep storing it.",
	"record.closure.wax":          "Wax and paper let mold in.",
	"record.siblings.second-look": "Another jar of this batch spoiled: keep none of them.",
	"record.siblings.low":         "Another jar of this batch spoiled: this one is no safer.",
	"record.siblings.unbacked":    "Another jar spoiled, and we know of no tested recipe for this one.",
	"record.siblings.seal":        "One lost seal says little about the other jars.",
	"record.acid.plain":           "The food is acid, but we know of no tested recipe for it.",
	"record.pickled.plain":        "It has enough vinegar, but we know of no tested recipe for it.",
	"record.pickled.dose":         "It has enough vinegar, but we know of no tested recipe for it.",
	"record.day.acid":             "It was canned today: what was wrong can still be put right.",
	"record.day.low":              "It was canned today: what was wrong can still be put right.",
	"record.low.pressure":         "Pressure canned by a tested recipe.",
	"record.acid.process":         "Acid food, canned by a tested recipe.",
	"record.pickled.process":      "Pickled and canned by a tested recipe.",
	"record.pickled.pasteurized":  "Pickled and heated by a tested recipe.",
	"record.borderline.process":   "Canned by a tested recipe, with all its acid.",
	"cold.refrigerated":           "It was in the refrigerator all along, so its days count.",
	"cold.frozen":                 "It was frozen all along: nothing grows in it.",
	"cold.thawed":                 "It has thawed, so its days count from then on.",
}
