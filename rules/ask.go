package rules

import (
	"cmp"
	"math/bits"
	"slices"
)

// Stage orders the questions: look before touching, touch before opening.
type Stage uint8

// The stages, in the order they are asked.
const (
	StageLook Stage = iota
	StageState
	StageSight
	StageTouch
	StageGlass
	StageRecord
	StageStorage
	StageRelease
	StageOpening
	StageOpened
)

// Question is one thing to ask. A question about several signs at once takes
// one answer for all of them when nothing is noticed.
type Question struct {
	ID      string
	Stage   Stage
	Signs   []SignID
	Ask     string
	Why     string
	How     string
	Choices []Choice
	// Several tells that more than one choice can be true at once: then the one
	// with the strictest outcome counts, see [WorstOf].
	Several bool
}

// Choice is one answer and what it tells.
type Choice struct {
	ID    string
	Label string
	Tell  []Value
}

// notice is one line of a question about several signs: what may be noticed,
// and what is left when it is not.
type notice struct {
	id    string
	label string
	seen  []Value
	none  []Value
}

// form is a question before it is fitted to a situation. A form without
// notices asks for one sign, value by value.
type form struct {
	id    string
	stage Stage
	sign  SignID
	ask   string
	why   string
	how   string
	none  string
	// The same once something of it has been noticed: nobody is asked twice whether
	// all is as usual.
	more, rest string
	notices    []notice
	odd        bool // asked at this place only once something odd was noticed
}

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
			{"press", "The middle gives, springs or clicks when pressed", []Value{PressNone, PressGives}, []Value{PressFirm}},
			{"lift", "The lid slides or comes off when the jar is lifted by it", []Value{LiftNone, LiftOff}, []Value{LiftHolds}},
		}},
	{id: "closure", stage: StageTouch, sign: SignClosure, odd: true},
	{id: "lid", stage: StageTouch, sign: SignLid},
	{id: "press", stage: StageTouch, sign: SignPress},
	{id: "lift", stage: StageTouch, sign: SignLift},
	{id: "contents", stage: StageGlass,
		ask:  "Hold the jar up to a light. Is anything not as usual for this food?",
		why:  "Cloud, color, crystals and a low level can be harmless or not; it depends on the food and on how it was canned.",
		how:  "Turn it slowly. Look at the liquid, the food, the bottom and the space under the lid.",
		none: "No, all as usual",
		more: "Is anything else not as usual for this food?", rest: "No, everything else is as usual",
		notices: []notice{
			{"cloud", "The liquid is cloudy, or a pale layer lies at the bottom (seeds and spices of the recipe do not count)", []Value{CloudSettled, CloudHazy, CloudMurky}, []Value{CloudClear}},
			{"color", "The color has changed", []Value{ColorTop, ColorGarlic, ColorFaded, ColorPink, ColorBlue, ColorBrowned, ColorDark, ColorOdd}, []Value{ColorUsual}},
			{"level", "Some of the food is not covered by liquid, or the level is low", []Value{LevelLow, LevelOwn, LevelHalf, LevelDropped}, []Value{LevelUsual}},
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
			{"extras", "It holds anything of these that a current published recipe for this food does not call for: onion, garlic or other vegetables, fresh herbs, banana or other fruit that is not sour, thickener, rice or pasta, milk or egg, meat, oil (salt, dry spices, vinegar, bottled lemon juice, sugar, and in fruit and jam other sour fruit do not count); or fruit that was over-ripe or rotten or from dead or frosted plants, or was mashed or packed dry where that recipe says otherwise",
				[]Value{ExtrasVegetables, ExtrasThickener, ExtrasStarch, ExtrasDairy, ExtrasMeat, ExtrasOil, ExtrasMashed, ExtrasDry, ExtrasSpent}, []Value{ExtrasNone}},
			{"used-lid", "Its flat metal lid was used before", []Value{ClosureUsed}, []Value{ClosureLid}},
			{"siblings", "Another jar of the batch lost its seal or spoiled", []Value{SiblingsSeal, SiblingsSpoiled}, []Value{SiblingsSound}},
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
			{"wet", "Water stood, dripped or beaded on it, or covered it (not just a slightly damp cellar)", []Value{WetDamp, WetFlood}, []Value{WetDry}},
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
			continue // it has been said, or the notice would not cover what is possible
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

// wording gives the words in which a sign is asked for in the situation.
func (info *Sign) wording(s *Situation) (w Wording) {
	w = Wording{Ask: info.Ask, How: info.How}
	for i := range info.Wordings {
		other := &info.Wordings[i]
		if !other.fits(s) {
			continue
		}
		if other.Ask != "" {
			w.Ask, w.How = other.Ask, other.How
		}
		w.Labels, w.Hide = append(w.Labels, other.Labels...), append(w.Hide, other.Hide...)
	}
	return
}

// label is the value's label in those words.
func (w *Wording) label(v ValueInfo) string {
	for _, l := range w.Labels {
		if l.Value == v.Value {
			return l.Label
		}
	}
	return v.Label
}

// noMetal is what is answered in place of a lid's shape where there is no flat
// metal lid, and what it says of the other tests of a seal.
var noMetal = []Choice{
	{"one-piece-cap", "It has no flat lid: it is a one-piece screw cap", []Value{ClosureCap, LiftNone}},
	{"zinc-cap", "It has no flat lid: it is a zinc cap with a porcelain liner", []Value{ClosureCap, LidNone, PressNone, LiftNone}},
	{"glass-lid", "It has no flat metal lid: it is a glass lid with clips or a wire, or a plastic lid on a rubber ring", []Value{ClosureClamp, LidNone, PressNone}},
	{"wax", "It has no flat lid: it is closed with wax, paper or cloth", []Value{ClosureWax, LidNone, PressNone, LiftNone}},
}

// implied is what a value says of other signs, where they are still open.
func implied(v Value) []Value {
	switch v {
	case ReleaseIn:
		// A lid that had to be pried off was sealed until then.
		return []Value{LidDown, PressFirm, LiftHolds, ClosureLid, ClosureUsed, ClosureCap, ClosureClamp}
	case ClosureClamp:
		return []Value{LidNone, PressNone}
	case ClosureCap:
		return []Value{LiftNone}
	case ClosureWax:
		return []Value{LidNone, PressNone, LiftNone}
	case LidDown, LidDented, LidFlat, LidBulged:
		// Asked of a lid, where the choices name the other closures too.
		return []Value{ClosureLid, ClosureUsed, PressFirm, PressGives, LiftHolds, LiftOff}
	}
	return nil
}

// with adds to a value what it implies, leaving out what is settled or not
// possible any more.
func (s *Situation) with(v Value) []Value {
	tell := []Value{v}
	for _, also := range implied(v) {
		if id := also.Sign(); s.Possible(also) && s.Open(id) {
			tell = append(tell, also)
		}
	}
	return tell
}

// SignQuestion asks for one sign, offering the values that are still possible.
func SignQuestion(id SignID, s *Situation) Question {
	info := &Signs[id]
	w := info.wording(s)
	q := Question{ID: info.ID, Signs: []SignID{id}, Ask: w.Ask, Why: info.Why, How: w.How, Several: info.Several}
	for i := range forms {
		if forms[i].notices == nil && forms[i].sign == id {
			q.Stage = forms[i].stage
		}
	}
	for _, v := range info.Values {
		if !s.Possible(v.Value) || slices.Contains(w.Hide, v.Value) {
			continue
		}
		if v.Value == LidNone && s.Open(SignClosure) {
			for _, c := range noMetal {
				if s.Possible(c.Tell[0]) {
					q.Choices = append(q.Choices, c)
				}
			}
			continue
		}
		q.Choices = append(q.Choices, Choice{v.ID, w.label(v), s.with(v.Value)})
	}
	return q
}

// Skipped is the set of signs that were answered "don't know". A question about
// several signs that was answered so is in it by itself: its signs are then
// asked for one by one, so that one "don't know" does not become several.
type Skipped struct {
	signs uint64
	forms uint64
}

// With adds signs to the set.
func (k Skipped) With(ids ...SignID) Skipped {
	for _, id := range ids {
		k.signs |= 1 << id
	}
	return k
}

// WithQuestion adds the question about several signs with that id.
func (k Skipped) WithQuestion(id string) Skipped {
	for i := range forms {
		if forms[i].id == id && forms[i].notices != nil {
			k.forms |= 1 << i
		}
	}
	return k
}

// Has tells whether the sign is in the set.
func (k Skipped) Has(id SignID) bool { return k.signs>>id&1 != 0 }

// Next chooses the next question, or reports that there is none: the check is
// settled, or nothing that could still move the outcome is left to ask for.
//
// Stages follow each other from what is safest to observe to what is not; of a
// jar that is open what shows only then comes before its record.
// Within a stage the question is asked that leaves the least doubt about the
// verdict. Where no tested process exists at all, only a jar of the last 24
// hours can be saved, so its age is asked for right after the first look.
func Next(s Situation, skipped Skipped) (Question, bool) {
	o := Judge(s)
	open := relevant(&s, &o)
	var set Skipped
	set = set.With(open...)
	// On an opened jar the seal cannot be tested any more, whether or not somebody
	// remembers how the lid came off. A seal that is lost is lost: the other tests of it tell nothing more. Then all
	// hangs on whether that is the day of canning, or the jar never thawed.
	// What closed a jar still counts where frost broke its seal.
	lost := s.Is(LidFlat) || s.Is(PressGives) || s.Is(LiftOff)
	matters := func(id SignID) bool {
		seal := id == SignLid || id == SignPress || id == SignLift
		return set.Has(id) && !skipped.Has(id) && !(seal && !s.Possible(OpenedNo)) && !(lost && (seal || id == SignClosure && !s.Is(FrozenCold)))
	}
	if lost && !s.Is(OpenedNow) {
		for _, id := range []SignID{SignOpened, SignAge, SignFrozen} {
			if matters(id) && !(id == SignFrozen && s.Possible(AgeDay)) {
				return SignQuestion(id, &s), true
			}
		}
	}
	q, ok := first(&s, matters, skipped)
	// Most of the record matters to such a jar only if something happened to it.
	if ok && lost && q.Stage == StageRecord {
		for i := range forms {
			f := &forms[i]
			if f.stage != StageStorage || f.notices == nil || skipped.forms>>i&1 != 0 {
				continue
			}
			if before, fits := f.fit(&s, matters); fits {
				return before, true
			}
		}
	}
	if ok && q.Stage > StageState && o.Support.Best > Keep && q.Stage != StageRelease && q.Stage != StageOpening && matters(SignAge) && decisive(&s, SignAge) {
		return SignQuestion(SignAge, &s), true
	}
	return q, ok
}

// first is the best question of the first stage that has something to ask. Once
// something was noticed in a question about several signs, what exactly was
// seen is asked for before the rest.
func first(s *Situation, matters func(SignID) bool, skipped Skipped) (best Question, ok bool) {
	least := 0
	var covered Skipped // signs that a question about several already asks for
	for _, i := range askedIn(s) {
		f := &forms[i]
		if ok && f.stage != best.Stage {
			break
		}
		// How the time is asked for depends on how the jars were heated.
		if f.sign == SignProcess && f.notices == nil && matters(SignMethod) {
			continue
		}
		if f.notices == nil && covered.Has(f.sign) || skipped.forms>>i&1 != 0 || f.odd && !noticed(s, f.sign) {
			continue
		}
		q, fits := f.fit(s, matters)
		if !fits {
			continue
		}
		covered = covered.With(q.Signs...)
		if f.notices == nil && !s.Untouched(f.sign) && noticed(s, f.sign) {
			return q, true
		}
		if left := doubtAfter(s, &q); !ok || left < least {
			best, least, ok = q, left, true
		}
	}
	return best, ok
}

// Before orders the stages for a situation. Of a jar that is known to be open the
// dangers that show only now come first: what spurted, smells or grows decides
// before anybody has to remember the recipe.
func (st Stage) Before(other Stage, s *Situation) bool { return st.rank(s) < other.rank(s) }

func (st Stage) rank(s *Situation) int {
	if !s.Possible(OpenedNo) && (st == StageRelease || st == StageOpening) {
		return int(StageState)*4 + 1 + int(st-StageRelease)
	}
	return int(st) * 4
}

// askedIn is the order in which the questions are asked of a jar.
func askedIn(s *Situation) []int {
	if s.Possible(OpenedNo) {
		return closedOrder
	}
	return openOrder
}

var closedOrder, openOrder = orders()

func orders() (closed, open []int) {
	s := NewSituation()
	s[SignOpened] = OpenedNow.bit()
	for i := range forms {
		closed, open = append(closed, i), append(open, i)
	}
	slices.SortStableFunc(open, func(a, b int) int { return cmp.Compare(forms[a].stage.rank(&s), forms[b].stage.rank(&s)) })
	return closed, open
}

// noticed tells whether something about the sign was noticed: what a sound jar
// shows has been ruled out.
func noticed(s *Situation, id SignID) bool { return !s.Possible(Signs[id].Sound) }

// doubtAfter is the doubt that the answer to a question leaves on average, in
// millionths of a bit, so that the same question is chosen on every machine.
func doubtAfter(s *Situation, q *Question) int {
	total, left := 0.0, 0.0
	for _, c := range q.Choices {
		after := *s
		if after.Tell(c.Tell...) != nil {
			continue
		}
		share := 1.0
		for _, id := range q.Signs {
			share *= mass(&after, id) / mass(s, id)
		}
		total += share
		left += share * wholeTree().Doubt(after)
	}
	return int(1e6 * left / total)
}

// mass is how often the values still possible for a sign come up.
func mass(s *Situation, id SignID) (m float64) {
	for _, v := range Signs[id].Values {
		if s.Possible(v.Value) {
			m += weight(id, v.Value)
		}
	}
	return
}

// decisive tells whether all values of the sign but one settle the check.
func decisive(s *Situation, id SignID) bool {
	open := 0
	for set := s[id]; set != 0; set &= set - 1 {
		one := *s
		one[id] = 1 << bits.TrailingZeros16(uint16(set))
		if o := Evaluate(one); !o.Settled() {
			open++
		}
	}
	return open <= 1
}

// Separates lists the rules that answering the question could bring in or rule
// out: the reason it is asked.
func (q *Question) Separates(s Situation) (rs []*Rule) {
	o := Evaluate(s)
	for p := range Parts {
		for i := range Parts[p].Rules {
			r := &Parts[p].Rules[i]
			if (o.Possible[p]&^o.Certain[p])>>i&1 == 0 || !o.couldChange(r) {
				continue
			}
			for _, c := range r.When {
				for _, id := range q.Signs {
					if c[0].Sign() == id {
						rs = append(rs, r)
					}
				}
			}
		}
	}
	return
}

// WorstOf gives, of several values of one sign that a jar shows at once, the one
// with the strictest outcome. Of those that come to the same it is the one that
// the sign lists last.
func WorstOf(s Situation, values ...Value) (worst Value) {
	var highest, lowest Verdict
	for _, v := range values {
		one := s
		one.Forget(v.Sign())
		if one.Tell(v) != nil {
			continue
		}
		o := Judge(one)
		if o.Highest > highest || o.Highest == highest && (o.Lowest > lowest || o.Lowest == lowest && v > worst) {
			worst, highest, lowest = v, o.Highest, o.Lowest
		}
	}
	return
}

// FindOut lists what is worth finding out: what nobody could say of the record
// and, all of it together, could still make the answer milder, and the mildest
// answer it could lead to. Unknown names the signs that were answered "don't
// know"; that counts as the strictest, but is not the same as knowing the worst.
// A gauge that was never tested can still be tested.
func FindOut(s Situation, unknown ...SignID) (ids []SignID, best Verdict) {
	best = Judge(s).Lowest
	all := s
	var open []SignID
	for i := range Signs {
		id := SignID(i)
		asked := slices.Contains(unknown, id) && Signs[i].Untold != 0 && s.Is(Signs[i].Untold)
		if asked || id == SignMethod && s.Is(MethodUntold) || id == SignProcess && s.Is(ProcessGauge) {
			open = append(open, id)
			all.Forget(id)
		}
	}
	reach := func(s Situation) Verdict {
		lowest, _ := wholeTree().Reach(s)
		return lowest
	}
	mildest := reach(all)
	if len(open) == 0 || mildest >= best {
		return nil, best
	}
	// What the milder answer cannot do without is named; where any of several
	// would do, all of them are.
	for _, id := range open {
		one := all
		one[id] = s[id]
		if reach(one) > mildest {
			ids = append(ids, id)
		}
	}
	if len(ids) == 0 {
		ids = open
	}
	return ids, mildest
}
