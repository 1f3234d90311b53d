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
	Ask     Text
	Why     Text
	How     Text
	Choices []Choice
	// Several says that more than one choice can be true at once: then the one
	// with the strictest outcome counts, see [WorstOf].
	Several bool
}

// Choice is one answer and what it tells.
type Choice struct {
	ID    string
	Label Text
	Tell  []Value
}

// wording returns the words in which a sign is asked for in the situation.
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
func (w *Wording) label(v ValueInfo) Text {
	for _, l := range w.Labels {
		if l.Value == v.Value {
			return l.Label
		}
	}
	return v.Label
}

// implied is what a value says of other signs, where they are still open.
func implied(v Value) []Value {
	switch v {
	case ReleaseIn:
		// A lid that had to be pried off was sealed until then.
		return []Value{LidDown, PressFirm, LiftHolds, ClosureLid, ClosureUsed, ClosureCap, ClosureClamp}
	case MethodUntold:
		// People who do not know how it was heated do not know for how long.
		return []Value{ProcessUntold}
	case ClosureClamp:
		return []Value{LidNone, PressNone}
	case ClosureCap:
		return []Value{LiftNone}
	case ClosureWax:
		return []Value{LidNone, PressNone, LiftNone}
	case LidDown, LidDented, LidFlat, LidBulged:
		// Asked about a lid, where the choices name the other closures too.
		return []Value{ClosureLid, ClosureUsed, PressFirm, PressGives, LiftHolds, LiftOff}
	}
	return nil
}

// with adds to a value what it implies, leaving out what is settled or not
// possible any longer.
func (s *Situation) with(v Value) []Value {
	tell := []Value{v}
	for _, also := range implied(v) {
		if id := also.Sign(); s.Possible(also) && s.Open(id) {
			tell = append(tell, also)
		}
	}
	return tell
}

// IfUnknown returns what "don't know" tells of a sign of the record, and nothing where it
// leaves every value possible.
func (s *Situation) IfUnknown(id SignID) []Value {
	if u := Signs[id].IfUnknown; u != 0 && s.Possible(u) {
		return s.with(u)
	}
	return nil
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
	// On an opened jar the seal can no longer be tested, whether or not somebody
	// remembers how the lid came off. Once a seal is lost, its other tests tell
	// nothing more. Then everything depends on whether it is still the day of
	// canning, or the jar never thawed.
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
		if f.notices == nil && covered.Has(f.sign) || skipped.forms>>i&1 != 0 || f.odd && !wasNoticed(s, f.sign) {
			continue
		}
		q, fits := f.fit(s, matters)
		if !fits {
			continue
		}
		covered = covered.With(q.Signs...)
		if f.notices == nil && !s.Untouched(f.sign) && wasNoticed(s, f.sign) {
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

// wasNoticed reports whether something about the sign was noticed, that is, whether the
// value of a sound jar has been ruled out.
func wasNoticed(s *Situation, id SignID) bool { return !s.Possible(Signs[id].Sound) }

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
			share *= frequency(&after, id) / frequency(s, id)
		}
		total += share
		left += share * wholeTree().Doubt(after)
	}
	return int(1e6 * left / total)
}

// frequency is how often the values still possible for a sign come up.
func frequency(s *Situation, id SignID) (m float64) {
	for _, v := range Signs[id].Values {
		if s.Possible(v.Value) {
			m += weight(id, v.Value)
		}
	}
	return
}

// decisive reports whether all values of the sign but one settle the check.
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
