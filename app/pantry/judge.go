package pantry

import (
	"time"

	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/keeping"
	"larderlamp/rules/prose"
)

// lookGrace is how many days after a sweep is due the previous one still
// stillCounts. Ours, derived from the practice of looking four times a year.
const lookGrace = 14

// Basis says what a jar was judged by.
type Basis struct {
	record.Standing
	// Stale says that the last look is too long ago: what was sound then counts
	// as not looked at; what was odd still counts.
	Stale bool
	// Unlooked lists the open signs of the outside and of what is seen through the
	// glass.
	Unlooked []rules.SignID
	// Disputed says that what was seen contradicts the record; the record was
	// then applied first and the strictest of what remains counts.
	Disputed bool
	// Apart says that two devices changed the batch or a place apart from each other,
	// and nobody has decided yet: the stricter version counts.
	Apart    bool
	Age      int // in days, from the date of the batch
	Exposure keeping.Exposure
	Now      time.Time
}

// situation is Situation by the versions that count.
func (p *Pantry) situation(j *record.Jar, now time.Time) (rules.Situation, Basis) {
	basis := Basis{Standing: j.Standing(), Now: now}
	var s rules.Situation
	tell := func(values ...rules.Value) {
		if len(values) > 0 && s.Tell(values...) != nil {
			basis.Disputed = true
		}
	}
	k := p.knownOf(j.Batch)
	s = k.situation
	if k.made > 0 {
		basis.Age = max(0, record.DayNumber(now)-k.made)
		// The hour is not recorded: the age is a range of one day.
		tell(Values("age_days", max(1, basis.Age), basis.Age+1)...)
	}
	tell(k.siblings(j.ID))
	p.tellStorage(&s, j, &basis, tell)

	if look := basis.Look; look != nil {
		basis.Stale = !p.stillCounts(look, now)
		p.tellLook(&s, look, now, &basis)
		// A look dated ahead of the clock may hide what was seen after it, and
		// so may others: what was odd at any of them counts.
		if InFuture(look.At, now) {
			for i := range j.Events {
				if e := &j.Events[i]; (e.What == record.Looked || e.What == record.Checked) && !e.Undone && e != look && InFuture(e.At, now) {
					p.tellLook(&s, e, now, &basis)
				}
			}
			if look = lastLook(j, now); look != nil {
				p.tellLook(&s, look, now, &basis)
			}
		}
	}
	switch basis.Stage {
	case record.OnShelf, record.IsMissing:
		tell(p.Batches[j.Batch].Food().OnShelf()...)
	case record.IsOpen:
		p.tellOpened(&s, &basis, tell)
	}
	for _, id := range lookedAt {
		if s.Open(id) {
			if basis.Unlooked == nil {
				basis.Unlooked = make([]rules.SignID, 0, len(lookedAt))
			}
			basis.Unlooked = append(basis.Unlooked, id)
		}
	}
	return s, basis
}

// lookedAt are the signs of the outside and of what is seen through the glass.
var lookedAt = func() (ids []rules.SignID) {
	for id := range rules.SignID(rules.NumSigns) {
		if isLookedAt(id) {
			ids = append(ids, id)
		}
	}
	return
}()

func isLookedAt(id rules.SignID) bool {
	c := id.Info().Chapter
	return c == rules.ChapterOutside || c == rules.ChapterGlass
}

// InFuture reports whether a moment is further ahead than travel and daylight
// saving time explain: it was recorded while the clock was wrong, and nobody
// knows how long ago.
func InFuture(at, now time.Time) bool { return at.After(now.AddDate(0, 0, 1)) }

// stillCounts reports whether what was sound at a look still counts.
func (p *Pantry) stillCounts(look *record.Event, now time.Time) bool {
	return !InFuture(look.At, now) && !now.After(look.At.AddDate(0, p.Settings.MonthsBetweenSweeps(), lookGrace))
}

// lastLook is the last look or check that is not ahead of the clock, or nil.
func lastLook(j *record.Jar, now time.Time) (last *record.Event) {
	for i := range j.Events {
		e := &j.Events[i]
		if (e.What == record.Looked || e.What == record.Checked) && !e.Undone && !InFuture(e.At, now) && (last == nil || record.ByTime(last, e) < 0) {
			last = e
		}
	}
	return
}

// tellLook applies what still counts from a look.
func (p *Pantry) tellLook(s *rules.Situation, look *record.Event, now time.Time, basis *Basis) {
	seen := counting(look.Values(), !p.stillCounts(look, now))
	if s.Tell(seen...) == nil {
		return
	}
	// One by one, so that only contradictions are left out.
	basis.Disputed = true
	for i := 0; i < len(seen); {
		n := i + 1
		for n < len(seen) && seen[n].Sign() == seen[i].Sign() {
			n++
		}
		_ = s.Tell(seen[i:n]...)
		i = n
	}
}

// Values returns the values that a number can mean.
func Values(band string, low, high int) []rules.Value {
	b, ok := rules.BandByID(band)
	if !ok {
		panic("no band " + band)
	}
	vs, err := b.Values(low, high)
	if err != nil {
		panic(err) // low is never above high
	}
	return vs
}

// shared is what all jars of a batch share: it is worked out once, until the
// batch or one of its jars changes.
type shared struct {
	situation     rules.Situation // the catalog and the record
	made          int             // the day, 0 when it is not known
	trouble       map[string]string
	spoiled, seal int
	ill           bool // someone fell ill who ate from one of them
}

// knownOf returns what the jars of a batch share. About a batch that is not
// recorded nothing is known.
func (p *Pantry) knownOf(batch string) *shared {
	if k := p.known[batch]; k != nil {
		return k
	}
	k := &shared{situation: rules.NewSituation(), trouble: map[string]string{}}
	if b := p.Batches[batch]; b != nil {
		_ = b.Food().Tell(&k.situation) // a test applies every product
		b.Tell(&k.situation, p.Settings.AltitudeFeet)
		k.made, _ = b.Made.Number()
	} else {
		food, _ := rules.ProductByID("unknown-contents")
		_ = food.Tell(&k.situation)
	}
	for _, j := range p.ofBatch[batch] {
		k.ill = k.ill || j.MadeIll()
		switch t := j.Trouble(); t {
		case record.ForSpoiled:
			k.spoiled++
			k.trouble[j.ID] = t
		case record.ForSeal:
			k.seal++
			k.trouble[j.ID] = t
		}
	}
	p.known[batch] = k
	return k
}

// siblings says what happened to the other jars of the batch. If none is
// recorded as spoiled, that means that none is known to be.
func (k *shared) siblings(jar string) rules.Value {
	own := k.trouble[jar]
	switch {
	case k.ill: // of the jar itself too, whatever is seen of it later
		return rules.SiblingsIll
	case k.spoiled > 1 || k.spoiled == 1 && own != record.ForSpoiled:
		return rules.SiblingsSpoiled
	case k.seal > 1 || k.seal == 1 && own != record.ForSeal:
		return rules.SiblingsSeal
	}
	return rules.SiblingsSound
}

// counting reduces what was seen to what still counts: from a stale look, only
// what was odd.
func counting(seen []rules.Value, stale bool) []rules.Value {
	if !stale {
		return seen
	}
	var odd []rules.Value
	for i := 0; i < len(seen); {
		n, sound := i, false
		for n < len(seen) && seen[n].Sign() == seen[i].Sign() {
			sound = sound || seen[n] == seen[n].Sign().Info().Sound
			n++
		}
		if !sound {
			odd = append(odd, seen[i:n]...)
		}
		i = n
	}
	return odd
}

// tellStorage says what the places report about the storage.
func (p *Pantry) tellStorage(s *rules.Situation, j *record.Jar, basis *Basis, tell func(...rules.Value)) {
	told := len(basis.Stays) > 0
	wet, light, wetKnown, lightKnown := rules.WetDry, rules.PlaceDark, told, told
	for _, stay := range basis.Stays {
		place := p.Places[stay.Place]
		if place == nil {
			wetKnown, lightKnown = false, false
			continue
		}
		// The values of both signs are in rising order of harm.
		if v, ok := rules.SignWet.ValueByID(place.Wet); ok {
			wet = max(wet, v)
		} else {
			wetKnown = false
		}
		if v, ok := rules.SignPlace.ValueByID(place.Light); ok {
			light = max(light, v)
		} else {
			lightKnown = false
		}
	}
	if wetKnown || wet != rules.WetDry {
		tell(wet)
	}
	if lightKnown || light != rules.PlaceDark {
		tell(light)
	}
	p.tellHeat(j, basis, tell)
}

// tellOpened says what the clock reports about a jar that is open, or that has
// been in the cold since the day it was made.
func (p *Pantry) tellOpened(s *rules.Situation, basis *Basis, tell func(...rules.Value)) {
	state, from := p.inCold(&basis.Standing)
	tell(state)
	if state == rules.OpenedFrozen {
		return
	}
	// If it was opened ahead of the clock, nobody knows how long it has been
	// open.
	if !InFuture(from, basis.Now) {
		days := max(1, int(basis.Now.Sub(from).Hours()/24)+1)
		tell(Values("open_days", days, days)...)
	}
	if place := p.Places[basis.Place]; place != nil {
		switch place.What {
		case record.Fridge, record.Freezer:
			// The name that a person gives the place says that it is cold
			// enough.
			tell(rules.ChillCold, rules.ChillPaused)
		case record.Shelf:
			tell(rules.ChillWarm)
		}
	}
}

// inCold says what an opened or chilled jar is to the rules, and from when its
// days count: a jar that was in a freezer since the day it was made thaws when
// it is moved to another place.
func (p *Pantry) inCold(st *record.Standing) (state rules.Value, from time.Time) {
	from = st.Opened.At
	if !st.Cold {
		return rules.OpenedBefore, from
	}
	frozen := func(id string) bool { place := p.Places[id]; return place != nil && place.What == record.Freezer }
	state = rules.OpenedChilled
	for _, stay := range st.Stays {
		switch {
		case stay.From.Before(from):
		case frozen(stay.Place):
			state = rules.OpenedFrozen
		case state == rules.OpenedFrozen:
			state, from = rules.OpenedThawed, stay.From
		}
	}
	return state, from
}

// Verdict is the outcome for a jar now.
type Verdict struct {
	Jar *record.Jar
	rules.Outcome
	Basis Basis
	// Deadline is the last day on which the jar may still be eaten, for jars that
	// are open, and yesterday if nobody knows since when; empty for others.
	Deadline record.Day
}

// Judge returns the outcome for a jar: exactly, from the one evaluator.
func (p *Pantry) Judge(j *record.Jar, now time.Time) Verdict {
	s, basis := p.Situation(j, now)
	// Most jars of a batch are in the same situation.
	v := Verdict{Jar: j, Outcome: p.Outcome(s), Basis: basis}
	v.Deadline = p.deadline(&s, &basis)
	return v
}

// deadline is the last day on which an opened jar keeps: the last day before
// its age alone means discard.
func (p *Pantry) deadline(s *rules.Situation, basis *Basis) record.Day {
	if basis.Stage != record.IsOpen {
		return ""
	}
	if InFuture(basis.Opened.At, basis.Now) {
		return record.DayOf(basis.Now.AddDate(0, 0, -1))
	}
	state, from := p.inCold(&basis.Standing)
	if state == rules.OpenedFrozen {
		return ""
	}
	last := rules.KeptDays(*s)
	if last == 0 {
		return record.DayOf(from)
	}
	return record.DayOf(from.In(basis.Now.Location()).AddDate(0, 0, last-1))
}

// NewCheckOf begins a check of a jar of the shelf, with what the shelf knows of it
// already answered. What was seen earlier has to be looked at again. Its label is
// written in the language of the reader, and stays so.
func (p *Pantry) NewCheckOf(j *record.Jar, now time.Time, in prose.Language) (*record.Check, error) {
	b := p.Batches[j.Batch]
	product := "unknown-contents"
	if b != nil {
		product = b.Food().ID
	}
	c, err := record.NewCheck(product, now)
	if err != nil {
		return nil, err
	}
	s, basis := p.Situation(j, now)
	c.Jar, c.Label, c.Edition = j.ID, p.JarName(j).In(in), rules.Edition
	o := rules.Judge(s)
	c.Lowest, c.Highest = o.Lowest.ID(), o.Highest.ID()
	if basis.Stage == record.OnShelf || basis.Stage == record.IsMissing {
		// It has been on a shelf; whether it is still closed is for the person to say.
		a := record.Answer{Sign: rules.SignOpened.ID(), Question: record.FromShelf, At: c.Begun}
		for _, v := range append(b.Food().OnShelf(), rules.OpenedNow, rules.OpenedBefore) {
			a.Values = append(a.Values, v.ID())
		}
		c.Answers = append(c.Answers, a)
	}
	for id := range rules.SignID(rules.NumSigns) {
		switch id.Info().Chapter {
		case rules.ChapterRecord, rules.ChapterStorage:
		default:
			if basis.Stage != record.IsOpen || id != rules.SignOpened && id != rules.SignDays {
				continue
			}
		}
		if id.Fact() || s.Untouched(id) {
			continue
		}
		a := record.Answer{Sign: id.ID(), Question: record.FromShelf, At: c.Begun}
		for _, v := range s.Values(id) {
			a.Values = append(a.Values, v.ID())
		}
		c.Answers = append(c.Answers, a)
	}
	return &c, nil
}
