package rules

import "slices"

// Advice is what to do now, step by step.
type Advice struct {
	ID    string
	Title string
	Steps []string
	Cites []Cite
	// Boil asks the screen to add the minutes of boiling for the altitude.
	Boil bool
	// when and may select the advice: every condition of when must certainly
	// hold, every condition of may must still be possible. Disposal is selected
	// by what may be, so that an unknown never makes handling less careful.
	when, may When
	any       []Value    // of these, one at least must still be possible
	verdicts  [2]Verdict // lowest and highest verdict it belongs to
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

// loose is what lets the contents of a jar out.
var loose = []Value{OpenedNow, OpenedBefore, SeepStreak, SeepWet, LidFlat, PressGives, LiftOff, GlassCracked}

// boilSteps treat an open or leaking suspect jar before it goes in the bin.
var boilSteps = []string{
	"Wear rubber gloves. Keep the food off your skin and away from wounds.",
	"Either bag it: put jar, lid and food in a bag, close it, put that in a second bag, tape it shut, and bin it out of reach of people and animals.",
	"Or boil it first: lay jars and lids on their sides in a deep pot (8 litres or more), wash your hands, add water gently to 2.5 cm (1 in.) above them, cover, and boil for 30 minutes from the boil. Let it cool; bin jar, lid and food.",
	"Do not pour it down a sink or toilet, do not compost it, do not feed it to animals. Do not use the jar again.",
}

var citesBoil = []Cite{read(&srcSpoiled, "detoxifying; discard the containers too"), read(&srcSalmonUAF, "milder: drain, and the jar may be used again; the stricter stands"), read(&srcCDCHome, "double-bagging"), read(&srcNormanOK, "gloves")}

// Advices lists every piece of advice, in the order it is shown.
var Advices = []Advice{
	{ID: "dispose.sealed", Title: "Still closed and dry: do not open it. Throw the whole jar away.", verdicts: onlyDiscard,
		may: When{{OpenedNo}, {SeepNone, SeepFirstDay}, {LidDown, LidBulged}, {PressFirm}, {LiftHolds}, {GlassSound}},
		Steps: []string{
			"Put the closed jar in a strong bag, close the bag, and put it in the ordinary rubbish, or bury it deep.",
			"Do not open it, pour it away, compost it or feed it to animals.",
			"Keep it where no child or animal can reach it until it is collected. Mark it “not food”.",
		},
		Cites: []Cite{read(&srcSpoiled, "swollen or sealed suspect jars"), read(&srcCDCHome, "disposal"), read(&srcWSU, "disposal")}},
	{ID: "dispose.low", Title: "Open, unsealed or leaking: treat it as poisonous.", verdicts: onlyDiscard,
		may: When{notAcid}, any: loose, Steps: boilSteps, Cites: citesBoil},
	{ID: "dispose.mould", Title: "Mouldy and open: treat it as poisonous, acid or not.", verdicts: onlyDiscard,
		when: When{{MouldSeen}}, may: When{{ClassAcid, ClassPickled}}, any: loose,
		Steps: boilSteps, Cites: append([]Cite{read(&srcMould, "mould can raise pH")}, citesBoil...)},
	{ID: "dispose.acid", Title: "Open, unsealed or leaking: bag it and bin it.", verdicts: onlyDiscard,
		when: When{{ClassAcid, ClassPickled}}, may: When{{MouldNone}}, any: loose,
		Steps: []string{
			"Put food, lid and jar in a bag, close it, and bin it where no person or animal can get at it.",
			"Wash what it touched with hot water and soap.",
		},
		Cites: []Cite{read(&srcSpoiled, "spoiled acid food"), read(&srcMould, "mould and tomatoes are treated as low-acid")}},
	{ID: "dispose.glass", Title: "Broken glass.", verdicts: onlyDiscard, may: When{{GlassCracked}},
		Steps: []string{
			"Wear thick gloves. Lift the jar into a strong bag or a box, wrap it, and mark it “broken glass”.",
			"Do not try to save any of the food.",
		},
		Cites: []Cite{read(&srcFreezeCU, "cracked jars"), practice("broken glass is wrapped and marked")}},
	{ID: "cleanup", Title: "Clean what the food touched.", verdicts: onlyDiscard,
		may: When{notAcid}, any: loose,
		Steps: []string{
			"Mix 1 part unscented bleach with 5 parts water. Never mix bleach with another cleaner; open a window.",
			"Wet everything the food may have touched: counter, tools, sink, floor. Leave it wet for 30 minutes, then wipe it up with paper towels.",
			"Wash with soap and water. Bag and bin the towels, sponges and gloves. Wash your hands well.",
		},
		Cites: []Cite{memory(&srcGuide, "2015: 1 part to 5, 30 minutes; the stricter stands"), read(&srcCDC, "1 part to 8, 15 minutes"), read(&srcSpoiled, "clean-up")}},
	{ID: "batch", Title: "Look at its whole batch.", verdicts: onlyDiscard, may: When{{AgeYear, AgeTwo, AgeOlder}},
		Steps: []string{
			"Take out every jar filled the same day and check each one.",
			"If they were not canned by a tested process, discard them all, however good they look.",
		},
		Cites: []Cite{read(&srcYearbook, "p. 112: pull and inspect the whole batch"), read(&srcReprocess, "jars without a tested process")}},

	{ID: "day.low", Title: "Today: chill it, freeze it, or can it again.", verdicts: onlySoon, when: When{{AgeDay}, {ClassLow}},
		Steps: []string{
			"Refrigerate it now at 4 °C (40 °F) or below and use it within 3 to 4 days,",
			"or freeze it in a box or jar with 2.5 to 4 cm (1 to 1½ in.) of room, for up to a year,",
			"or, within 24 hours, empty it, heat the food to boiling, fill a clean sound jar, use a new lid, and process it again for the full time. Only where a hot-pack process is published for it.",
		},
		Cites: []Cite{read(&srcReprocess, "refrigerate, freeze, reprocess; discouraged for quality, hot pack only, the stricter stands"), read(&srcAskC, "milder: same time, new lid"), read(&srcMMWRPeas, "milder: several days in the refrigerator"), read(&srcFridgeChart, "3 to 4 days, stricter than a week")}},
	{ID: "day.acid", Title: "Today: chill it, freeze it, or can it again.", verdicts: onlySoon, when: When{{AgeDay}, {ClassAcid, ClassPickled, ClassBorderline}},
		Steps: []string{
			"Refrigerate it now at 4 °C (40 °F) or below and use it within a week,",
			"or freeze it with 2.5 to 4 cm (1 to 1½ in.) of room, for up to a year,",
			"or, within 24 hours, put right what was wrong (the acid, the recipe, the time), heat it to boiling, use a new lid, and process it again for the full time.",
		},
		Cites: []Cite{read(&srcReprocess, "refrigerate, freeze, reprocess"), read(&srcNCState, "24: add the vinegar and process again")}},
	{ID: "day.half", Title: "Half the liquid lost: 2 to 3 days.", verdicts: onlySoon, when: When{{LevelHalf}, {AbsorbsNo}, {AgeDay}},
		Steps: []string{"Refrigerate it now and use it within 2 to 3 days."},
		Cites: []Cite{read(&srcLossUNL, "more than half lost")}},
	{ID: "frozen.cold", Title: "Keep it frozen, or use it in 1 to 2 days.", verdicts: onlySoon, when: When{{FrozenCold}},
		Steps: []string{"Move it to the freezer in another container, or thaw it in the refrigerator and use it within 1 to 2 days. Do not can it again."},
		Cites: []Cite{read(&srcYearbook, "p. 86: use in 1 to 2 days; do not can again")}},

	{ID: "open.broth", Title: "Open: 2 days in the refrigerator.", verdicts: onlySoon, when: When{{OpenedNow, OpenedBefore}, {KeepsBroth}},
		Steps: []string{"Keep it at 4 °C (40 °F) or below, use it within 2 days of opening, or freeze it."},
		Cites: []Cite{read(&srcFridgeChart, "older card: 1 to 2 days; the current 3 to 4 days is milder")}},
	{ID: "open.low", Title: "Open: 3 to 4 days in the refrigerator.", verdicts: onlySoon, when: When{{OpenedNow, OpenedBefore}, {KeepsLow}},
		Steps: []string{"Keep it at 4 °C (40 °F) or below and use it within 3, at most 4 days of opening."},
		Cites: []Cite{read(&srcFridgeChart, "3 to 4 days")}},
	{ID: "open.acid", Title: "Open: 5 to 7 days in the refrigerator.", verdicts: onlySoon, when: When{{OpenedNow, OpenedBefore}, {KeepsAcid}},
		Steps: []string{"Keep it at 4 °C (40 °F) or below and use it within 5, at most 7 days of opening. Pickles stay under their brine."},
		Cites: []Cite{read(&srcFridge, "5 to 7 days"), practice("opened fruit is used within about two weeks, before mould starts: milder, not followed")}},
	{ID: "open.reduced", Title: "Open: 2 weeks in the refrigerator.", verdicts: onlySoon, when: When{{OpenedNow, OpenedBefore}, {KeepsReduced}},
		Steps: []string{"Keep it at 4 °C (40 °F) or below and use it within 2 weeks of opening."},
		Cites: []Cite{memory(&srcJamOpen, "reduced sugar: 2 to 4 weeks")}},
	{ID: "open.jam", Title: "Open: 1 month in the refrigerator.", verdicts: onlySoon, when: When{{OpenedNow, OpenedBefore}, {KeepsJam}},
		Steps: []string{"Keep it at 4 °C (40 °F) or below and use it within a month of opening. Mould on it: discard it all."},
		Cites: []Cite{read(&srcJamOpen, "best within one month"), read(&srcNCState, "591, mould on jam")}},
	{ID: "open.hours", Title: "Out of the cold: 2 hours.", verdicts: onlySoon, when: When{{OpenedNow, OpenedBefore}},
		Steps: []string{"Two hours in all, one hour above 32 °C (90 °F). Never reseal or can it again."},
		Cites: []Cite{read(&srcFSIS, "2 hours; 1 hour above 90 °F"), read(&srcOpenCFIA, "within 2 hours")}},
	{ID: "soon", Title: "Put it in front.", verdicts: onlySoon, when: When{{OpenedNo}, later},
		Steps: []string{"Eat it before the jars you keep. Check it again when you open it."},
		Cites: []Cite{practice("last year's jars go before this year's")}},
	{ID: "store", Title: "Put it back, band off.", verdicts: onlyKeep, when: When{{OpenedNo}},
		Steps: []string{
			"Store it without its screw band, in the dark, dry, best at 10 to 21 °C (50 to 70 °F).",
			"When you open it, look again: air drawn in, smell, surface, underside of the lid.",
		},
		Cites: []Cite{read(&srcFreezeMU, "50 to 70 °F"), read(&srcSpoiled, "bands off")}},
	{ID: "first", Title: "Eat this one first.", verdicts: onlyKeep, when: When{{LevelLow}, {AbsorbsNo}},
		Steps: []string{"It lost liquid: safe, but it darkens sooner than its siblings."},
		Cites: []Cite{read(&srcLossUNL, "less than half lost"), read(&srcNCState, "475, loss of liquid")}},
	{ID: "boil", Title: "Boil it before you serve it.", verdicts: eaten, may: When{notAcid}, Boil: true,
		Steps: []string{
			"Boil means large bubbles over the whole surface. Thick food: stir, and heat it through.",
			"Ready-cooked potatoes that are boiled 10 to 15 minutes to heat them through before mashing have had it with 15 minutes up to 5,999 ft (1,828 m), with 10 minutes below 1,000 ft (304 m).",
			"This is an extra for a good jar. It never rescues a doubtful one.",
		},
		Cites: []Cite{practice("ready-cooked potatoes are boiled 10 to 15 minutes to heat through when mashed"), read(&srcSafetySake, "10 minutes, plus 1 for each 1,000 ft; not to rescue"), read(&srcCDC, "low-acid food and tomatoes"), read(&srcNAL, "boiling"), read(&srcWater, "older: 20 minutes for corn, spinach, meat, poultry")}},
	{ID: "ask", Title: "Ask someone who knows.", verdicts: anyVerdict,
		Steps: []string{"Your local extension office, food-safety authority or health department answers questions about home canning. Their word goes before this guide's."},
		Cites: []Cite{read(&srcCDC, "home canning")}},
}

// AdviceFor selects the advice for a situation, given as the verdict that is
// shown: the highest one still possible.
func AdviceFor(s Situation) (as []*Advice) {
	o := Judge(s)
	for i := range Advices {
		a := &Advices[i]
		if o.Highest < a.verdicts[0] || o.Highest > a.verdicts[1] {
			continue
		}
		fits := true
		for _, c := range a.when {
			fits = fits && s[c[0].Sign()]&^setOf(c) == 0
		}
		for _, c := range a.may {
			fits = fits && s[c[0].Sign()]&setOf(c) != 0
		}
		some := len(a.any) == 0
		for _, v := range a.any {
			some = some || s.Possible(v)
		}
		if fits && some {
			as = append(as, a)
		}
	}
	return
}

// AdviceByID finds a piece of advice; it is nil for an id that is not one.
func AdviceByID(id string) *Advice {
	for i := range Advices {
		if Advices[i].ID == id {
			return &Advices[i]
		}
	}
	return nil
}

// CautionByID finds a caution; it is nil for an id that is not one.
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
	Title string
	Lines []string
	Cites []Cite
}

// Cautions are shown on every answer and in the page that needs no program.
var Cautions = []Caution{
	{"never-taste", "Never taste to decide",
		[]string{"A taste can be fatal. The toxin of botulism has no look, smell or taste.", "Looks, smell and a good seal cannot prove a jar safe."},
		[]Cite{read(&srcSafetySake, "never taste"), read(&srcSpoiled, "never taste")}},
	{"botulism", "If someone has eaten from it",
		[]string{
			"Blurred or double vision, drooping eyelids, slurred speech, dry mouth, trouble swallowing, weakness, trouble breathing: go to an emergency room at once. Do not wait.",
			"It begins mostly 12 to 36 hours after eating, but from 6 hours to 10 days. The mind stays clear and there is usually no fever.",
			"No symptoms yet, but the jar is suspect: call a poison centre now (in the United States 1-800-222-1222) or your health department.",
			"Keep the jar and what is left, closed and out of reach, for testing.",
		},
		[]Cite{read(&srcAlaska, "onset and symptoms"), read(&srcWSU, "symptoms and what to do"), read(&srcPoison, "poison center"), memory(&srcCDC, "no fever; keep the food for testing")}},
	{"boil-extra", "Boiling is an extra, never a rescue",
		[]string{"Low-acid food and tomatoes from a good jar are boiled before serving: 10 minutes, longer at altitude. Boiling does not make a doubtful jar safe to eat."},
		[]Cite{read(&srcSafetySake, "boiling"), read(&srcCDC, "boiling")}},
	{"limits", "What this guide is",
		[]string{"This guide supports, and never replaces, your local food-safety authority and current published guidance. When they differ, follow them. When in doubt, throw it out."},
		[]Cite{read(&srcCDC, "when in doubt")}},
}

// StopSign is a sign that alone means discard, for the page that must work
// before, or without, the program.
type StopSign struct {
	Value Value
	Short string // as one of a list of things
	Do    string
}

// Cites names the sources of the sign: those of every rule that discards a jar
// that shows it.
func (s *StopSign) Cites() (cs []Cite) {
	for p := range Parts {
		for i := range Parts[p].Rules {
			r := &Parts[p].Rules[i]
			if r.Kind != Restriction || r.Then != Discard {
				continue
			}
			for _, c := range r.When {
				if slices.Contains(c, s.Value) {
					cs = append(cs, r.Cites...)
				}
			}
		}
	}
	return
}

// StopSigns lists them in the order they are looked for.
var StopSigns = []StopSign{
	{LidBulged, "a bulging lid", "The lid bulges or is swollen."},
	{SeepWet, "a leak", "It leaks, or a dried streak runs down from the lid."},
	{PressGives, "a seal lost in storage", "The lid gives when pressed, or comes off: it has lost its seal in storage."},
	{GlassCracked, "cracked glass", "The glass is cracked or chipped."},
	{MouldSeen, "mould", "There is mould, anything fuzzy, in any colour."},
	{BubblesRising, "rising bubbles", "Bubbles rise, or it foams."},
	{CloudMurky, "murky or slimy food", "The liquid is murky, or the food slimy."},
	{ReleaseSpurt, "spurting", "It spurts or hisses outward when opened."},
	{SmellOff, "an off smell", "It smells off."},
	{RustThrough, "rust through the lid", "The lid is rusted through."},
	{WetFlood, "a flood or fire", "It stood under flood water or near a fire."},
}
