package rules

import "slices"

// Advice is what to do now, step by step.
type Advice struct {
	ID    string
	Title Text
	Steps []Text
	Cites []Cite
	// Boil asks the screen to add the minutes of boiling for the altitude.
	Boil bool
	// Within is how many days the food still keeps, counting today; 0 for
	// advice that sets no time. Of several, only the strictest is given.
	Within int
	// when and may select the advice: every condition of when must certainly
	// hold, every condition of may must still be possible. Disposal is selected
	// by what may be, so that an unknown never makes handling less careful. or
	// stands in for when.
	when, or, may When
	any           []Value // at least one of these must still be possible
	grows         growth
	// lasts says for which days the advice is: the days that the food surely keeps, and
	// those that it keeps if nothing shortens them. Without it, for any.
	lasts    func(surely, atBest int) bool
	verdicts [2]Verdict // lowest and highest verdict it belongs to
	throw    discardKind
}

// discardKind says what kind of discarding the advice is for.
type discardKind uint8

const (
	throwAny      discardKind = iota
	throwSuspect              // the food may be poisonous
	throwLeftover             // it was good, and has only been open for too long
)

// growth says whether advice is for food in which the botulism germ may be able to grow.
type growth uint8

const (
	anyFood  growth = iota
	mayGrow         // it may be able to
	noGrowth        // it is acid for certain
)

// maybeNotAcid reports whether the botulism germ may be able to grow in the food: it is
// not acid by itself, its acid may be missing, it may not be the kind of food that is
// acid, or something is in it that is not.
func maybeNotAcid(s *Situation) bool {
	return s.Possible(ClassBorderline) || s.Possible(ClassLow) ||
		s.Possible(ClassPickled) && s.Possible(AcidShort) ||
		s.Possible(ConditionNot) ||
		s[SignExtras]&setOf([]Value{ExtrasNone, ExtrasThickener, ExtrasDry, ExtrasMetal}) == 0
}

var (
	anyVerdict  = [2]Verdict{Keep, Discard}
	onlyDiscard = [2]Verdict{Discard, Discard}
	eaten       = [2]Verdict{Keep, UseSoon}
	onlyKeep    = [2]Verdict{Keep, Keep}
	onlySoon    = [2]Verdict{UseSoon, UseSoon}
)

// notAcid is food in which the botulism germ may be able to grow.
var notAcid = []Value{ClassBorderline, ClassLow}

// loose lists what lets the contents of a jar out.
var loose = []Value{OpenedNow, OpenedBefore, OpenedChilled, OpenedThawed, OpenedBottle, SeepStreak, SeepWet, LidFlat, PressGives, LiftOff, GlassCracked}

// boilSteps treat an open or leaking suspect jar before it goes in the trash.
var boilSteps = []Text{
	"Wear rubber gloves. Keep the food off your skin and away from wounds.",
	"Either bag it: put jar, lid and food in a bag, close it, put that in a second bag, tape it shut, and put it in the trash out of reach of people and animals.",
	"Or boil it first: lay jars and lids on their sides in a deep pot (8 quarts or liters, or more), wash your hands, add water gently until it stands 1 in. (2.5 cm) above them, cover, and boil for 30 minutes from when it boils. Let it cool, and put jar, lid and food in the trash.",
	"Do not pour it down a sink or toilet, do not compost it, do not feed it to animals. Do not use the jar again.",
}

var citesBoil = []Cite{read(&srcSpoiled, "detoxifying; discard the containers too"), read(&srcSalmonUAF, "milder: drain, and the jar may be used again; the stricter stands"), read(&srcCDCHome, "double-bagging"), read(&srcNormanOK, "gloves")}

// inCold is food whose days in the refrigerator count, now or from today on.
var inCold = []Value{OpenedNow, OpenedBefore, OpenedChilled, OpenedThawed}

// keepFor is the advice on how long food keeps in the refrigerator.
func keepFor(id string, keeps Value, days int, title, steps Text, cites ...Cite) Advice {
	return Advice{ID: id, Title: title, verdicts: onlySoon, Within: days,
		lasts: func(surely, _ int) bool { return surely >= days },
		when:  When{inCold, {keeps}}, or: When{{AgeDay}, {OpenedNo}, {keeps}}, Steps: []Text{steps}, Cites: cites}
}

// keepIf is the advice for food of which nobody has said whether something shortens its
// days: they are four, and the long ones only if it does not.
func keepIf(id string, keeps Value, days int, title Text) Advice {
	return Advice{ID: id, Title: title, verdicts: onlySoon, Within: 4,
		lasts: func(surely, atBest int) bool { return surely < days && atBest >= days },
		when:  When{inCold, {keeps}}, or: When{{AgeDay}, {OpenedNo}, {keeps}},
		Steps: []Text{
			"Every jar got all the vinegar or other acid of its recipe, and it is just the food that the recipe is for.",
			"There is no oil, milk, egg or meat in it.",
			"It is kept at 4 °C (40 °F) or below, pickles under their brine. If mold shows, discard it all.",
		},
		Cites: citesFour}
}

// Advices lists every piece of advice, in the order it is shown.
var Advices = []Advice{
	{ID: "eaten", Title: "Has anyone eaten from it?", verdicts: onlyDiscard, grows: mayGrow, throw: throwSuspect, Steps: eatenSteps, Cites: citesEaten},
	{ID: "eaten.ill", Title: "Someone is ill: get help now.", verdicts: onlyDiscard, when: When{{IllSeen}}, grows: noGrowth, throw: throwSuspect, Steps: eatenSteps, Cites: citesEaten},
	{ID: "eaten.mold", Title: "Has anyone eaten from it?", verdicts: onlyDiscard, when: When{{MoldSeen}}, grows: noGrowth, throw: throwSuspect, Steps: eatenSteps, Cites: citesEaten},
	{ID: "dispose.sealed", Title: "Still closed and dry: do not open it. Throw the whole jar away.", verdicts: onlyDiscard, throw: throwSuspect,
		may: When{{OpenedNo, OpenedFrozen}, {SeepNone, SeepFirstDay}, {LidDown, LidNone, LidDented, LidBulged}, {PressFirm, PressNone}, {LiftHolds, LiftNone}, {GlassSound}},
		Steps: []Text{
			"Put the closed jar in a strong bag, close the bag, and put it in the ordinary trash, or bury it deep.",
			"Do not open it, pour it away, compost it or feed it to animals.",
			"Keep it where no child or animal can reach it until it is collected. Mark it “not food”.",
		},
		Cites: []Cite{read(&srcSpoiled, "swollen or sealed suspect jars"), read(&srcCDCHome, "disposal"), read(&srcWSU, "disposal")}},
	{ID: "dispose.low", Title: "Open, unsealed or leaking: treat it as poisonous.", verdicts: onlyDiscard, throw: throwSuspect,
		grows: mayGrow, any: loose, Steps: boilSteps, Cites: citesBoil},
	{ID: "dispose.mold", Title: "Moldy and open: treat it as poisonous, acid or not.", verdicts: onlyDiscard, throw: throwSuspect,
		when: When{{MoldSeen}}, grows: noGrowth, any: loose,
		Steps: boilSteps, Cites: append([]Cite{read(&srcMold, "mold can raise pH")}, citesBoil...)},
	{ID: "dispose.acid", Title: "Open, unsealed or leaking: bag it and throw it away.", verdicts: onlyDiscard, throw: throwSuspect,
		grows: noGrowth, may: When{{MoldNone}}, any: loose,
		Steps: []Text{
			"Put food, lid and jar in a bag, close it, and put it in the trash where no person or animal can get at it.",
			"Wash what it touched with hot water and soap.",
		},
		Cites: []Cite{read(&srcSpoiled, "spoiled acid food"), read(&srcMold, "mold and tomatoes are treated as low-acid")}},
	{ID: "dispose.leftover", Title: "It has been open, or out of the cold, for too long: throw the food away.", verdicts: onlyDiscard, throw: throwLeftover,
		Steps: []Text{
			"Put the food in a bag and the bag in the trash, where no person or animal can get at it.",
			"Wash the jar, your hands and what the food touched with hot water and soap. Nothing else needs cleaning.",
		},
		Cites: []Cite{derived(&srcFridgeChart, "food past its days is discarded")}},
	{ID: "dispose.glass", Title: "Broken glass.", verdicts: onlyDiscard, when: When{{GlassCracked}},
		Steps: []Text{
			"Wear thick gloves. Lift the jar into a strong bag or a box, wrap it, and mark it “broken glass”.",
			"Do not try to save any of the food.",
		},
		Cites: []Cite{read(&srcFreezeCU, "cracked jars"), practice("broken glass is wrapped and marked")}},
	{ID: "cleanup", Title: "Clean what the food touched.", verdicts: onlyDiscard, throw: throwSuspect,
		grows: mayGrow, any: loose,
		Steps: []Text{
			"Keep your gloves on. Mix 1 part unscented bleach with 5 parts water. Never mix bleach with another cleaner; open a window.",
			"Wet everything the food may have touched: counter, can opener, tools, sink, floor. Leave it wet for 30 minutes, then wipe it up with paper towels, still in gloves.",
			"Wet it all a second time with fresh mix, leave it for 30 minutes, and rinse.",
			"Bag the paper towels, sponges, cloths and gloves and put them in the trash. Wash clothes that may have been splashed, with bleach if they can take it, or throw them away.",
			"Wash your hands with soap and running water for 2 minutes.",
		},
		Cites: []Cite{memory(&srcGuide, "2015: 1 part to 5, 30 minutes, twice; the stricter stands"), read(&srcCDC, "1 part to 8, 15 minutes; hands 2 minutes; sponges and gloves go too"), read(&srcSpoiled, "clean-up, clothes")}},
	{ID: "batch", Title: "Look at its whole batch.", verdicts: onlyDiscard, may: When{later}, throw: throwSuspect,
		Steps: []Text{
			"Take out every jar filled the same day and check each one.",
			"If they were not canned by a tested process, discard them all, however good they look.",
		},
		Cites: []Cite{read(&srcYearbook, "p. 112: pull and inspect the whole batch"), read(&srcReprocess, "jars without a tested process")}},

	{ID: "day.half", Title: "Half the liquid was lost: 2 to 3 days in the refrigerator.", verdicts: onlySoon, when: When{{LevelHalf}, {AgeDay}, shelved}, or: When{{LevelOwn}, {AbsorbsNo}, {AgeDay}, shelved}, Within: 3,
		Steps: []Text{"Refrigerate it now at 4 °C (40 °F) or below and use it within 2 to 3 days."},
		Cites: []Cite{read(&srcLossUNL, "more than half lost")}},
	{ID: "frozen.cold", Title: "Keep it frozen, or use it in 1 to 2 days.", verdicts: onlySoon, when: When{{FrozenCold}, shelved}, Within: 2,
		Steps: []Text{"Move it to the freezer in another container, or thaw it in the refrigerator and use it within 1 to 2 days. Do not can it again."},
		Cites: []Cite{read(&srcYearbook, "p. 86: use in 1 to 2 days; do not can again")}},
	{ID: "frozen.kept", Title: "Keep it frozen, for up to a year.", verdicts: onlySoon, when: When{{OpenedFrozen}},
		Steps: []Text{"Thaw it in the refrigerator, never on the counter. From then on it keeps as long as food of its kind that was just opened."},
		Cites: []Cite{read(&srcReprocess, "freezing, for up to a year"), copied(&srcFreezerJam, "a year in the freezer")}},
	keepFor("keep.broth", KeepsBroth, 2, "In the refrigerator: 2 days.", "Keep it at 4 °C (40 °F) or below, use it within 2 days, or freeze it.",
		read(&srcFridgeChart, "older card: 1 to 2 days; the current 3 to 4 days is milder")),
	keepFor("keep.low", KeepsLow, 4, "In the refrigerator: 3 to 4 days.", "Keep it at 4 °C (40 °F) or below and use it within 3, at most 4 days.",
		read(&srcFridgeChart, "3 to 4 days"), read(&srcReprocess, "milder for a jar that did not seal: a week")),
	keepFor("keep.acid", KeepsAcid, 7, "In the refrigerator: 5 to 7 days.", "Keep it at 4 °C (40 °F) or below and use it within 5, at most 7 days.",
		read(&srcFridge, "5 to 7 days, given for food from a shop"), read(&srcReprocess, "a jar that did not seal: a week"), practice("opened fruit is used within about two weeks, before mold starts: milder, not followed")),
	keepFor("keep.reduced", KeepsReduced, 14, "In the refrigerator: 2 weeks.", "Keep it at 4 °C (40 °F) or below and use it within 2 weeks. Pickles stay under their brine.",
		copied(&srcCondiments, "pickles: 2 weeks, given for food from a shop"), memory(&srcJamOpen, "reduced sugar: 2 to 4 weeks")),
	keepFor("keep.three-weeks", KeepsThreeWeeks, 21, "In the refrigerator: 3 weeks.", "Keep it at 4 °C (40 °F) or below and use it within 3 weeks. Pickles stay under their brine.",
		copied(&srcFreezerJam, "freezer jam: 3 weeks"), copied(&srcButterUNR, "apple butter: 4 weeks")),
	keepFor("keep.jam", KeepsJam, 30, "In the refrigerator: 1 month.", "Keep it at 4 °C (40 °F) or below and use it within a month. Pickles stay under their brine. If mold shows, discard it all.",
		read(&srcJamOpen, "best within one month"), read(&srcNCState, "591, mold on jam"), derived(&srcPickleUSDA, "opened pickles: 1 to 3 months"), derived(&srcRefrigMU, "refrigerator pickles: while no sign of spoilage shows")),
	keepFor("keep.two-months", KeepsTwoMonths, 60, "In the refrigerator: 2 months.", "Keep it at 4 °C (40 °F) or below, under its liquid, and use it within 2 months.",
		copied(&srcPickleUSDA, "opened pickles: 1 to 3 months")),
	keepFor("keep.six-months", KeepsSixMonths, 180, "In the refrigerator: 6 months.", "Keep it at 4 °C (40 °F) or below, pickles under their brine, and use it within 6 months.",
		copied(&srcFermented, "fermented dill pickles: 4 to 6 months"), read(&srcVinegarAsk, "flavored vinegar: 6 to 8 months")),
	keepFor("keep.three-months", KeepsThreeMonths, 90, "In the refrigerator: 3 months.", "Keep it at 4 °C (40 °F) or below, under its liquid, and use it within 3 months.",
		read(&srcOilOSU, "flavored oil: refrigerated for no more than 3 months"), read(&srcEggsUGA, "pickled eggs: 2 to 3 months")),
	keepIf("keep.if.acid", KeepsAcid, 7, "In the refrigerator: 4 days. A week only if all of this is true:"),
	keepIf("keep.if.reduced", KeepsReduced, 14, "In the refrigerator: 4 days. 2 weeks only if all of this is true:"),
	keepIf("keep.if.three-weeks", KeepsThreeWeeks, 21, "In the refrigerator: 4 days. 3 weeks only if all of this is true:"),
	keepIf("keep.if.jam", KeepsJam, 30, "In the refrigerator: 4 days. A month only if all of this is true:"),
	keepIf("keep.if.two-months", KeepsTwoMonths, 60, "In the refrigerator: 4 days. 2 months only if all of this is true:"),
	keepIf("keep.if.three-months", KeepsThreeMonths, 90, "In the refrigerator: 4 days. 3 months only if all of this is true:"),
	keepIf("keep.if.six-months", KeepsSixMonths, 180, "In the refrigerator: 4 days. 6 months only if all of this is true:"),
	{ID: "keep.short", Title: "In the refrigerator: 3 to 4 days.", verdicts: onlySoon, Within: 4,
		lasts: func(_, atBest int) bool { return atBest <= 4 },
		when:  When{inCold, longer}, or: When{{AgeDay}, {OpenedNo}, longer},
		Steps: []Text{"Keep it at 4 °C (40 °F) or below and use it within 4 days. What would keep it longer is missing."},
		Cites: citesFour},
	{ID: "day.freeze", Title: "Or freeze it today.", verdicts: onlySoon, when: When{{AgeDay}, {OpenedNo}},
		Steps: []Text{"Freeze it in a box or jar with 1 to 1½ in. (2.5 to 4 cm) of room at the top, for up to a year."},
		Cites: []Cite{read(&srcReprocess, "freezing, for up to a year")}},
	{ID: "day.again", Title: "Or can it again, within 24 hours, and best within 2.", verdicts: onlySoon, when: When{{AgeDay}, {OpenedNo}, {RouteBoiling, RoutePasteur, RoutePressure}, {ConditionMet}},
		Steps: []Text{
			"Put right what was wrong: the acid, the recipe, the time. After such a mistake some extension services allow only 2 hours.",
			"Empty the jar, heat the food to boiling, fill a clean sound jar, use a new lid, and process it again for the full time. Only where a hot-pack process is published for it.",
		},
		Cites: []Cite{read(&srcReprocess, "discouraged for quality, hot pack only, the stricter stands"), read(&srcNickUNL, "correctly processed: 24 hours; processed wrong: 2 hours"), read(&srcAskC, "milder: same time, new lid"), read(&srcNCState, "24: add the vinegar and process again")}},
	{ID: "open.hours", Title: "Out of the cold: 2 hours.", verdicts: onlySoon, when: When{inCold}, may: When{{OutOne, OutTwo}, {ChillCold, ChillPaused}},
		Steps: []Text{"Two hours in all, one hour above 32 °C (90 °F). Never seal or can it again."},
		Cites: []Cite{read(&srcFSIS, "2 hours; 1 hour above 90 °F"), read(&srcOpenCFIA, "within 2 hours")}},
	{ID: "open.warm", Title: "Put it back in the cold now.", verdicts: onlySoon, when: When{{OpenedBefore}, {OutDay}}, or: When{{OpenedBefore}, {ChillDay}},
		Steps: []Text{"It has had its hours in the warm. Look at it each time you use it, and throw it out if it is moldy or smells of yeast. Its days count from when it was opened, as before."},
		Cites: []Cite{read(&srcOutage, "safe above 40 °F for over 2 hours"), read(&srcOutageLSU, "no mold, no yeasty smell")}},
	{ID: "months", Title: "Eat it within 3 months of the day it was made.", verdicts: onlySoon, when: When{{RouteMonths, RouteBottle}, {ConditionMet}, {ClassBorderline}, {OpenedNo, OpenedBottle}},
		Steps: []Text{"Its recipe keeps it for 3 months at room temperature, curd for 4 at most. If it is older, eat it now. Throw out curd that has browned or separated, whatever its age."},
		Cites: []Cite{copied(&srcCurdNC, "3 to 4 months; discard it once it browns or separates"), read(&srcVinegarAsk, "3 months at room temperature")}},
	{ID: "soon", Title: "Put it in front.", verdicts: onlySoon, when: When{{OpenedNo, OpenedBottle}, later}, may: When{notCold},
		Steps: []Text{"Eat it before the jars you keep. Check it again when you open it."},
		Cites: []Cite{practice("last year's jars go before this year's")}},
	{ID: "store", Title: "Put it back without its screw band.", verdicts: onlyKeep, when: When{{OpenedNo}},
		Steps: []Text{
			"Store it in the dark and dry, best at 10 to 21 °C (50 to 70 °F).",
			"When you open it, look again: air drawn in, smell, surface, underside of the lid.",
		},
		Cites: []Cite{read(&srcFreezeMU, "50 to 70 °F"), read(&srcSpoiled, "bands off")}},
	{ID: "boil", Title: "Boil it before you serve it.", verdicts: eaten, may: When{notAcid, {RouteBoiling, RoutePasteur, RoutePressure, RouteNone}}, Boil: true,
		Steps: []Text{
			"Boil means large bubbles over the whole surface. Thick food: stir, and heat it through.",
			"This is an extra for a good jar. It never rescues a doubtful one.",
		},
		Cites: []Cite{read(&srcSafetySake, "10 minutes, plus 1 for each 1,000 ft; not to rescue"), read(&srcCDC, "low-acid food and tomatoes"), read(&srcNAL, "boiling"), read(&srcWater, "older: 20 minutes for corn, spinach, meat, poultry")}},
	{ID: "ask", Title: "Ask someone who knows.", verdicts: anyVerdict,
		Steps: []Text{"The extension office or the health department near you can help. Your food-safety authority can too. Go by their word before this guide's."},
		Cites: []Cite{read(&srcCDC, "home canning")}},
}

// eatenSteps are what to do, in this order, when somebody has eaten from a jar
// that may be poisonous.
var eatenSteps = []Text{
	"Trouble breathing or swallowing? Blurred or double vision, drooping eyelids, slurred speech, a dry mouth, weakness? Then call an ambulance now (911 in the United States and Canada). Say “botulism” and “home-canned food”.",
	"No trouble yet: call a poison center now. United States 1-800-222-1222; Canada 1-844-764-7669, Quebec 1-800-463-5060. Trouble can begin from 6 hours to 10 days after eating. Do not wait for it.",
	"Take the jar's story along. What was in it? Who canned it, and how? Who ate how much of it, and when?",
	"Do not throw it away yet. Close it, put it in a bag, and mark it “not food”. Keep it cold and out of reach, so that it can be tested.",
}

var citesEaten = []Cite{read(&srcAlaska, "onset and symptoms"), read(&srcWSU, "hospital at once"), read(&srcPoison, "poison center, United States"),
	memory(&srcPoison, "poison centers, Canada and Quebec: numbers read in press pages"), memory(&srcCDC, "keep the food for testing")}

// AdviceFor selects the advice for a situation, given as the verdict that is
// shown: the highest one still possible. Of the advice that sets a time only
// the strictest is left.
func AdviceFor(s Situation) (as []*Advice) {
	o := Judge(s)
	leftover := o.isLeftover() && !s.Is(IllSeen)
	strictest := 0
	surely, atBest := KeptDays(s), keptDays(s, false)
	for i := range Advices {
		a := &Advices[i]
		if a.lasts != nil && !a.lasts(surely, atBest) || !a.fits(&s, &o) || a.throw == throwSuspect && leftover || a.throw == throwLeftover && !leftover {
			continue
		}
		if a.Within > 0 && (strictest == 0 || a.Within < strictest) {
			strictest = a.Within
		}
		as = append(as, a)
	}
	timed := false
	return slices.DeleteFunc(as, func(a *Advice) bool {
		if a.Within == 0 {
			return false
		}
		drop := a.Within > strictest || timed
		timed = timed || !drop
		return drop
	})
}

// isLeftover reports whether all that speaks against the food is the time or the
// warmth it has had since it was opened: it was good, and is thrown away as any
// other leftover.
func (o *Outcome) isLeftover() bool {
	if o.Lowest != Discard || o.Support.Worst == Discard {
		return false
	}
	for p := range engines {
		if p != PartOpened && p != PartSour && p != PartWarmth && o.Possible[p]&engines[p].discard != 0 {
			return false
		}
	}
	return true
}

// fits reports whether the advice is for the situation and its outcome.
func (a *Advice) fits(s *Situation, o *Outcome) bool {
	if o.Highest < a.verdicts[0] || o.Highest > a.verdicts[1] {
		return false
	}
	sure := func(w When) bool {
		return !slices.ContainsFunc(w, func(c []Value) bool { return s[c[0].Sign()]&^setOf(c) != 0 })
	}
	if !sure(a.when) && (a.or == nil || !sure(a.or)) {
		return false
	}
	if slices.ContainsFunc(a.may, func(c []Value) bool { return s[c[0].Sign()]&setOf(c) == 0 }) {
		return false
	}
	if a.grows != anyFood && (a.grows == mayGrow) != maybeNotAcid(s) {
		return false
	}
	return len(a.any) == 0 || slices.ContainsFunc(a.any, s.Possible)
}

// KeptDays is how many days food keeps in the refrigerator, by the rules about
// days: the longest time for which none of them means discard, whatever is still
// open. It is 0 when no day is allowed.
func KeptDays(s Situation) int { return keptDays(s, true) }

// keptDays is KeptDays, or how many days at best: those for which a rule may mean
// discard, but does not for certain, then count too.
func keptDays(s Situation, surely bool) (days int) {
	s.Forget(SignDays)
	if s[SignOpened]&setOf(chilled) == 0 {
		s.Forget(SignOpened)
	}
	s[SignOpened] &= setOf(chilled)
	band, _ := BandByID("open_days")
	for _, step := range band.Steps {
		one := s
		one[SignDays] = step.Value.bit()
		for _, p := range []int{PartOpened, PartSour} {
			matched, possible := engines[p].match(&one)
			if surely {
				matched = possible
			}
			for i := range Parts[p].Rules {
				r := &Parts[p].Rules[i]
				if matched>>i&1 != 0 && r.Kind == Restriction && slices.ContainsFunc(r.When, func(c []Value) bool { return c[0].Sign() == SignDays }) {
					return days
				}
			}
		}
		days = step.Max
	}
	return days
}

// AdviceByID finds a piece of advice; it is nil for an unknown id.
func AdviceByID(id string) *Advice {
	for i := range Advices {
		if Advices[i].ID == id {
			return &Advices[i]
		}
	}
	return nil
}

// CautionByID finds a caution; it is nil for an unknown id.
func CautionByID(id string) *Caution {
	for i := range Cautions {
		if Cautions[i].ID == id {
			return &Cautions[i]
		}
	}
	return nil
}

// Caution is a warning that is always within reach.
type Caution struct {
	ID    string
	Title Text
	Lines []Text
	Cites []Cite
}

// Cautions are shown on every answer and in the page that needs no program.
var Cautions = []Caution{
	{"never-taste", "Never taste to decide",
		[]Text{"A taste can be fatal. The toxin of botulism has no look, smell or taste.", "Looks, smell and a good seal cannot prove a jar safe."},
		[]Cite{read(&srcSafetySake, "never taste"), read(&srcSpoiled, "never taste")}},
	{"botulism", "If someone has eaten from it",
		[]Text{
			eatenSteps[0], eatenSteps[1], eatenSteps[2], eatenSteps[3],
			"It begins mostly 12 to 36 hours after eating. The mind stays clear and there is usually no fever.",
		},
		append(citesEaten, read(&srcHealthCanada, "no fever"))},
	{"boil-extra", "Boiling is an extra, never a rescue",
		[]Text{"Low-acid food and tomatoes from a good jar are boiled before serving: 10 minutes, longer at altitude. Boiling does not make a doubtful jar safe to eat."},
		[]Cite{read(&srcSafetySake, "boiling"), read(&srcCDC, "boiling")}},
	{"at-risk", "Who falls ill more easily",
		[]Text{
			"Germs that grow even in the cold can kill a baby, before its birth too. They can kill people of 65 years and over, and people with weak defenses.",
			"For them: keep food from the refrigerator for fewer days, heat it until it steams, and throw out what you are not sure of.",
			"No honey before a baby's first birthday, cooked or in jam either.",
		},
		[]Cite{read(&srcAtRisk, "pregnant people, newborns, 65 years or older, a weakened immune system"), memory(&srcCDC, "no honey before 12 months")}},
	{"limits", "What this guide is",
		[]Text{"This guide supports, and never replaces, your local food-safety authority and current published guidance. When they differ, follow them. When in doubt, throw it out."},
		[]Cite{read(&srcCDC, "when in doubt")}},
}
