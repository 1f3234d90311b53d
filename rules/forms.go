package rules

// notice is one line of a question about several signs: what may be noticed,
// and what is left when it is not.
type notice struct {
	id    string
	label Text
	seen  []Value
	none  []Value
}

// form is a question before it is fitted to a situation. A form without
// notices asks for one sign, value by value.
type form struct {
	id    string
	stage Stage
	sign  SignID
	ask   Text
	why   Text
	how   Text
	none  Text
	// The wording once something has been noticed: nobody is asked twice whether
	// everything is as usual.
	more, rest Text
	notices    []notice
	odd        bool // asked at this place only once something odd was noticed
}

// holds asks in one line for what else is in the jar.
const holds = "It holds anything of these that a current published recipe for this food does not call for: onion, garlic or other vegetables, fresh herbs, banana or other fruit that is not sour, thickener, rice or pasta, milk or egg, meat, oil (salt, dry spices, vinegar, bottled lemon juice, sugar, and in fruit and jam other sour fruit do not count); or food that was over-ripe, rotten, from dead or frosted plants, or (meat and cooked food) warm for over 2 hours before, or was mashed or packed dry where that recipe says otherwise"

// forms lists every question, in the order of a careful look at a jar.
var forms = []form{
	{id: "look", stage: StageLook,
		ask:  "Before you touch: any of these?",
		why:  "Each of these alone means the jar is discarded, unopened.",
		none: "None of these",
		notices: []notice{
			{"bulging", "A lid that bulges or is swollen, or buckled in storage", []Value{LidBulged}, []Value{LidDown, LidNone, LidDented, LidFlat}},
			{"odor", "A bad smell from the closed jar", []Value{OdorOff}, []Value{OdorNone}},
			{"leak", "A leak, or a streak down from the lid", []Value{SeepStreak, SeepWet}, []Value{SeepNone, SeepFirstDay}},
			{"mold", "Mold or fuzz of any color, now or scraped off earlier", []Value{MoldSeen}, []Value{MoldNone}},
			{"bubbles", "Rising bubbles or fresh foam (not a dry skin of foam)", []Value{BubblesRising}, []Value{BubblesNone, BubblesStill}},
			{"cracked", "Cracked or chipped glass", []Value{GlassCracked}, []Value{GlassSound}},
			{"rust", "Rust through the lid, or a hole in it", []Value{RustThrough}, []Value{RustNone, RustSpots}},
		}},
	{id: "opened", stage: StageState, sign: SignOpened},
	{id: "odor", stage: StageSight, sign: SignOdor},
	{id: "seal", stage: StageTouch,
		ask:  "Take the screw band off and test the seal. Do you notice any of these?",
		why:  "A screw band can hold a loose lid in place for years. A lost seal shows on the lid.",
		how:  "Look across the lid at eye level. Press its middle. Then lift the jar an inch by the edge of the lid, your other hand below it.",
		none: "None of these: the lid curves down, does not move, and holds the jar",
		more: "Do you notice any of these on the seal as well?", rest: "None of these",
		notices: []notice{
			{"closure", "It has no flat metal lid, but a screw cap, a zinc, glass or plastic lid, wax or paper", []Value{ClosureCap, ClosureClamp, ClosureWax}, []Value{ClosureLid, ClosureUsed}},
			{"lid", "The lid is flat, stands up, or is dented", []Value{LidNone, LidDented, LidFlat, LidBulged}, []Value{LidDown}},
			{"press", "The middle gives or clicks, or did until it was pressed", []Value{PressNone, PressGives}, []Value{PressFirm}},
			{"lift", "The lid slides or comes off when the jar is lifted by it", []Value{LiftNone, LiftOff}, []Value{LiftHolds}},
		}},
	{id: "closure", stage: StageTouch, sign: SignClosure, odd: true},
	{id: "lid", stage: StageTouch, sign: SignLid},
	{id: "press", stage: StageTouch, sign: SignPress},
	{id: "lift", stage: StageTouch, sign: SignLift},
	{id: "contents", stage: StageGlass,
		ask:  "Hold the jar up to a light. Is anything not as usual for this food?",
		why:  "Cloud, color, crystals and a low level can be harmless or not; it depends on the food and on how it was canned.",
		how:  "Turn it slowly. Look at the liquid, the food, the bottom and the space under the lid. On frozen food, frost and pale, dry spots (freezer burn) do not count.",
		none: "No, all as usual",
		more: "Is anything else not as usual for this food?", rest: "No, everything else is as usual",
		notices: []notice{
			{"cloud", "The liquid is cloudy, or a pale layer lies at the bottom (seeds and spices of the recipe do not count)", []Value{CloudSettled, CloudHazy, CloudMurky}, []Value{CloudClear}},
			{"color", "The color has changed", []Value{ColorTop, ColorGarlic, ColorFaded, ColorPink, ColorBlue, ColorBrowned, ColorDark, ColorOdd}, []Value{ColorUsual}},
			{"level", "The liquid is low: more than half an inch (1 cm) under where it should be (floating pieces do not count)", []Value{LevelLow, LevelOwn, LevelHalf, LevelDropped}, []Value{LevelUsual}},
			{"body", "The food is softer than usual or than it was, slimy or mushy, or jam is runny", []Value{BodyUnset, BodySoft, BodySlimy}, []Value{BodyUsual}},
			{"deposit", "Crystals, specks, scale or curd, or bits of seeds and spice", []Value{DepositRecipe, DepositCrystals, DepositSpecks}, []Value{DepositNone}},
			{"top", "A pale cap, floating pieces, foam or a film on top", []Value{TopFloat, TopFat, TopFoam, TopFilm}, []Value{TopClear}},
			{"bubbles", "A few bubbles, not moving", []Value{BubblesStill}, []Value{BubblesNone}},
		}},
	{id: "cloud", stage: StageGlass, sign: SignCloud},
	{id: "bubbles", stage: StageGlass, sign: SignBubbles},
	{id: "color", stage: StageGlass, sign: SignColor},
	{id: "mold", stage: StageGlass, sign: SignMold},
	{id: "level", stage: StageGlass, sign: SignLevel},
	{id: "body", stage: StageGlass, sign: SignBody},
	{id: "deposit", stage: StageGlass, sign: SignDeposit},
	{id: "top", stage: StageGlass, sign: SignTop},
	{id: "condition", stage: StageRecord, sign: SignCondition},
	{id: "method", stage: StageRecord, sign: SignMethod},
	{id: "standing", stage: StageRecord, sign: SignStanding},
	{id: "process", stage: StageRecord, sign: SignProcess},
	{id: "acid", stage: StageRecord, sign: SignAcid},
	{id: "batch", stage: StageRecord,
		ask:  "Is any of this true of the jar or its batch?",
		why:  "What else is in the jar, and trouble in the same batch, both weigh on the answer.",
		none: "None of these, as far as I know",
		more: "Is any of this true as well?", rest: "None of these, as far as I know",
		notices: []notice{
			{"extras", holds,
				[]Value{ExtrasVegetables, ExtrasThickener, ExtrasStarch, ExtrasDairy, ExtrasMeat, ExtrasOil, ExtrasMashed, ExtrasDry, ExtrasSpent, ExtrasMetal}, []Value{ExtrasNone}},
			{"used-lid", "Its flat metal lid was used before", []Value{ClosureUsed}, []Value{ClosureLid}},
			{"siblings", "Another jar of the batch lost its seal, spoiled, or made someone ill", []Value{SiblingsSeal, SiblingsSpoiled, SiblingsIll}, []Value{SiblingsSound}},
		}},
	{id: "extras", stage: StageRecord, sign: SignExtras},
	{id: "closure", stage: StageRecord, sign: SignClosure},
	{id: "siblings", stage: StageRecord, sign: SignSiblings},
	{id: "age", stage: StageStorage, sign: SignAge},
	{id: "storage", stage: StageStorage,
		ask:  "Since it was made, did any of this happen to the jar?",
		why:  "Heat, frost, water and fire undo a good jar.",
		none: "None of these, as far as I know",
		more: "Did any of this happen to the jar as well?", rest: "None of these, as far as I know",
		notices: []notice{
			{"heat", "It was above 35 °C (95 °F): heat wave, attic, closed car, furnace", []Value{HeatHot, HeatExtreme}, []Value{HeatCool, HeatWarm}},
			{"frozen", "It froze", []Value{FrozenHeld, FrozenCold, FrozenThawed}, []Value{FrozenNo}},
			{"wet", "Flood water touched it, or water stood, dripped or beaded on it (not just a slightly damp cellar)", []Value{WetDamp, WetFlood}, []Value{WetDry}},
			{"place", "It stood in sunlight, or near a furnace, range, hot pipe or fire", []Value{PlaceLight, PlaceHeater, PlaceFire}, []Value{PlaceDark}},
			{"seep", "Food boiled over or leaked onto the outside, even if it was washed off", []Value{SeepFirstDay, SeepStreak, SeepWet}, []Value{SeepNone}},
			{"rust", "Its lid has rusted, even in spots (not just its screw band)", []Value{RustSpots, RustThrough}, []Value{RustNone}},
		}},
	// After the first look seep, rust and glass matter only where no tested process
	// stands behind the jar, so the record is asked for before them.
	{id: "seep", stage: StageStorage, sign: SignSeep},
	{id: "rust", stage: StageStorage, sign: SignRust},
	{id: "glass", stage: StageStorage, sign: SignGlass},
	{id: "heat", stage: StageStorage, sign: SignHeat},
	{id: "frozen", stage: StageStorage, sign: SignFrozen},
	{id: "wet", stage: StageStorage, sign: SignWet},
	{id: "place", stage: StageStorage, sign: SignPlace},
	{id: "release", stage: StageRelease, sign: SignRelease},
	{id: "opening", stage: StageOpening,
		ask:  "Now that it is open, do you notice any of these?",
		why:  "Some spoilage shows only when the lid is off. Do not taste.",
		how:  "Keep your face away from the jar. Turn the lid over.",
		none: "None of these",
		more: "Do you notice any of these as well?", rest: "None of these",
		notices: []notice{
			{"ill", "Someone who ate from it has blurred or double vision, drooping eyelids, or trouble swallowing or speaking", []Value{IllSeen}, []Value{IllNone}},
			{"smell", "An off smell: rancid, putrid, sour, cheesy, yeasty", []Value{SmellOff}, []Value{SmellUsual}},
			{"film", "A film, scum or foam on the surface", []Value{FilmFilm, FilmFoam}, []Value{FilmClean}},
			{"underlid", "A stain, holes or fuzz under the lid", []Value{UnderlidDark, UnderlidPitted, UnderlidFuzzy}, []Value{UnderlidClean}},
			{"body", "Slimy or slippery food, or food gone to mush that never froze", []Value{BodySlimy}, []Value{BodyUsual, BodyUnset, BodySoft}},
			{"mold", "Mold on the food, now or scraped off earlier", []Value{MoldSeen}, []Value{MoldNone}},
		}},
	{id: "ill", stage: StageOpening, sign: SignIll},
	{id: "smell", stage: StageOpening, sign: SignSmell},
	{id: "film", stage: StageOpening, sign: SignFilm},
	{id: "underlid", stage: StageOpening, sign: SignUnderlid},
	{id: "days", stage: StageOpened, sign: SignDays},
	{id: "chill", stage: StageOpened, sign: SignChill},
	{id: "out", stage: StageOpened, sign: SignOut},
	{id: "air", stage: StageOpened, sign: SignAir},
}

// fit turns a form into a question for the situation, or reports that it has
// nothing to ask: only signs that matter are asked for, and only values that
// are still possible are offered.
func (f *form) fit(s *Situation, matters func(SignID) bool) (q Question, ok bool) {
	q = Question{ID: f.id, Stage: f.stage, Ask: f.ask, Why: f.why, How: f.how}
	if f.notices == nil {
		if !matters(f.sign) {
			return q, false
		}
		q = SignQuestion(f.sign, s)
		q.Stage = f.stage
		return q, true
	}
	var none []Value
	rest := f.none
	for _, n := range f.notices {
		id := n.seen[0].Sign()
		seen, unseen := setOf(n.seen), setOf(n.none)
		if f.more != "" && s[id]&seen != 0 && s[id]&unseen == 0 {
			q.Ask, rest = f.more, f.rest
		}
		if !matters(id) || s[id]&seen == 0 || s[id]&unseen == 0 || s[id]&^(seen|unseen) != 0 {
			continue // already answered, or the notice would not cover what is possible
		}
		q.Signs = append(q.Signs, id)
		q.Choices = append(q.Choices, Choice{n.id, n.label, n.seen})
		none = append(none, n.none...)
	}
	// A question about one sign alone is better asked value by value.
	if len(q.Signs) < 2 {
		return q, false
	}
	q.Choices = append(q.Choices, Choice{"none", rest, none})
	return q, true
}

// noMetal is what is answered in place of a lid's shape where there is no flat
// metal lid, and what it says of the other tests of a seal.
var noMetal = []Choice{
	{"one-piece-cap", "It has no flat lid: it is a one-piece screw cap", []Value{ClosureCap, LiftNone}},
	{"zinc-cap", "It has no flat lid: it is a zinc cap with a porcelain liner", []Value{ClosureCap, LidNone, PressNone, LiftNone}},
	{"glass-lid", "It has no flat metal lid: it is a glass lid with clips or a wire, or a plastic lid on a rubber ring", []Value{ClosureClamp, LidNone, PressNone}},
	{"wax", "It has no flat lid: it is closed with wax, paper or cloth", []Value{ClosureWax, LidNone, PressNone, LiftNone}},
}
