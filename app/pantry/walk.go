package pantry

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"time"

	"larderlamp/app/sheet"
	"larderlamp/rules"
	"larderlamp/rules/locale"
	"larderlamp/rules/order"
	"larderlamp/rules/tally"
)

// Due tells whether a jar is to be looked at: it is on the shelf, or missing,
// and was not looked at for as long as lies between two sweeps.
func (p *Pantry) Due(j *Jar, now time.Time) bool {
	s := j.Standing()
	if s.Stage == IsGone || s.Stage == IsOpen {
		return false
	}
	return s.Look == nil || ahead(s.Look.At, now) || !now.Before(s.Look.At.AddDate(0, p.Settings.Every(), 0))
}

// WalkOrder lists jars in the order in which they are walked past: place by
// place, in a place batch by batch, in a batch by number. A place "" holds jars
// without one. With due only, jars that were looked at lately are left out.
func (p *Pantry) WalkOrder(places []string, dueOnly bool, now time.Time) []string {
	rank := map[string]int{}
	for i, id := range places {
		rank[id] = i
	}
	type stop struct {
		id, made, name, batch string
		place, number         int
	}
	var stops []stop
	for _, j := range p.Jars {
		s := j.Standing()
		at, chosen := rank[s.Place]
		if !chosen || s.Stage == IsGone || s.Stage == IsOpen || dueOnly && !p.Due(j, now) {
			continue
		}
		st := stop{id: j.ID, batch: j.Batch, place: at, number: j.Number}
		if b := p.Batches[j.Batch]; b != nil {
			st.made, st.name = string(b.Made), b.Name()
		}
		stops = append(stops, st)
	}
	order.By(stops, func(a, b *stop) bool {
		return cmp.Or(cmp.Compare(a.place, b.place), cmp.Compare(a.name, b.name), cmp.Compare(a.made, b.made), cmp.Compare(a.batch, b.batch), cmp.Compare(a.number, b.number), cmp.Compare(a.id, b.id)) < 0
	})
	ids := make([]string, len(stops))
	for i := range stops {
		ids[i] = stops[i].id
	}
	return ids
}

// Running is the sweep that was begun and not ended, the latest if there are
// several; nil when there is none.
func (p *Pantry) Running() (running *Sweep) {
	for _, s := range p.Sweeps {
		if s.Ended == nil && (running == nil || s.ID > running.ID) {
			running = s
		}
	}
	return
}

// Ended lists the sweeps that were ended, the latest first, without the looks
// before a trip.
func (p *Pantry) Ended() (ended []*Sweep) {
	for _, s := range p.Sweeps {
		if s.Ended != nil && s.Trip == "" {
			ended = append(ended, s)
		}
	}
	order.By(ended, func(a, b **Sweep) bool { return (*a).Ended.After(*(*b).Ended) })
	return
}

// AnswerOf is what a sweep came to for a jar: the last event of it, or nil. A
// check that was begun and in which nothing was seen is no answer.
func (s *Sweep) AnswerOf(j *Jar) (last *Event) {
	for i := range j.Events {
		if e := &j.Events[i]; s.answered(e) && (last == nil || before(last, e)) {
			last = e
		}
	}
	return
}

// answered tells whether an event is an answer of the sweep.
func (s *Sweep) answered(e *Event) bool {
	if e.Sweep != s.ID || e.Undone {
		return false
	}
	switch e.What {
	case Missing, Discarded, Noted:
		return true
	}
	return len(e.Seen) > 0
}

// found is the worst that the sweep saw of a jar, and when: one that was found
// spoiled and then thrown out was found spoiled.
func (s *Sweep) found(j *Jar) (trouble string, at time.Time) {
	for i := range j.Events {
		e := &j.Events[i]
		if !s.answered(e) {
			continue
		}
		if t := e.trouble(); t == ForSpoiled && (trouble != ForSpoiled || e.At.After(at)) || t == ForSeal && trouble == "" {
			trouble, at = t, e.At
		}
	}
	return
}

// Walk is where a sweep stands.
type Walk struct {
	Sweep   *Sweep
	Next    []*Jar // still to be looked at, in the order of the walk
	Again   int    // of them, how many because a jar of their batch spoiled since
	Done    int
	Total   int
	Answers []Answered // the latest first

	pantry *Pantry
	now    time.Time
}

// Answered is one answer of a sweep.
type Answered struct {
	Jar   *Jar
	Event *Event
}

// Walk works out where a sweep stands from what stands with the jars: a closed
// tab loses nothing. A jar of whose batch one was found spoiled after it was
// looked at comes again, unless it is to be discarded anyway.
func (p *Pantry) Walk(s *Sweep, now time.Time) *Walk {
	w := &Walk{Sweep: s, pantry: p, now: now}
	spoiled := map[string]time.Time{} // by batch, when it was found in this sweep
	answers := make([]*Event, len(s.Order))
	for i, id := range s.Order {
		j := p.Jars[id]
		if j == nil {
			continue
		}
		answers[i] = s.AnswerOf(j)
		if trouble, at := s.found(j); trouble == ForSpoiled && at.After(spoiled[j.Batch]) {
			spoiled[j.Batch] = at
		}
	}
	var again []*Jar
	for i, id := range s.Order {
		j := p.Jars[id]
		if j == nil {
			continue
		}
		st := j.Standing()
		if st.Stage == IsOpen || st.Stage == IsGone && answers[i] == nil {
			continue
		}
		w.Total++
		e := answers[i]
		if e == nil {
			w.Next = append(w.Next, j)
			continue
		}
		w.Answers = append(w.Answers, Answered{j, e})
		if found, ok := spoiled[j.Batch]; ok && st.Stage == OnShelf && found.After(e.At) && e.trouble() == "" && p.Judge(j, now).Lowest != rules.Discard {
			again = append(again, j)
			continue
		}
		w.Done++
	}
	w.Again = len(again)
	w.Next = append(w.Next, again...)
	order.By(w.Answers, func(a, b *Answered) bool { return before(b.Event, a.Event) })
	return w
}

// Sound notes that the short look holds for jars. It refuses all of them when one
// is condemned: no look makes such a jar sound.
func (w *Walk) Sound(jars []*Jar, at time.Time) error {
	for _, j := range jars {
		if w.Condemned(j) {
			return fmt.Errorf("jar %s: it has to be discarded, whatever it looks like", j.ID)
		}
	}
	var seen []Seen
	for _, v := range rules.ShortLookValues() {
		seen = append(seen, Seen{v.Sign().ID(), []string{v.ID()}})
	}
	return w.Sweep.note(jars, Looked, at, func(e *Event) { e.Seen = seen })
}

// Condemned tells whether a jar has to be discarded whatever is seen of it now.
func (w *Walk) Condemned(j *Jar) bool { return w.pantry.Judge(j, w.now).Lowest == rules.Discard }

// TakeOut notes that condemned jars were taken from the shelf to be discarded,
// and what for. It refuses all of them when one is not condemned.
func (w *Walk) TakeOut(jars []*Jar, at time.Time) error {
	why := make([]string, len(jars))
	for i, j := range jars {
		if !w.Condemned(j) {
			return fmt.Errorf("jar %s: nothing says that it has to be discarded", j.ID)
		}
		why[i] = w.pantry.WhyOut(j, w.now)
	}
	for i, j := range jars {
		if err := w.Sweep.note([]*Jar{j}, Discarded, at, func(e *Event) { e.Why = why[i] }); err != nil {
			return err
		}
	}
	return nil
}

// LeftStanding notes that jars stay on the shelf for now although they have to be
// discarded, so that the walk can go on.
func (s *Sweep) LeftStanding(jars []*Jar, at time.Time) error {
	return s.note(jars, Noted, at, func(e *Event) {
		e.Words = locale.Text("Still on the shelf after a sweep, though it has to be discarded.")
	})
}

// WhyOut is what a jar that has to be discarded is discarded for.
func (p *Pantry) WhyOut(j *Jar, now time.Time) string {
	if t := j.trouble(); t != "" {
		return t
	}
	s, _ := p.Situation(j, now)
	for _, l := range rules.Explain(s).Deciding {
		if l.Part == rules.PartRecord {
			return ForProcess
		}
		for _, v := range l.Shown {
			if v.Sign() == rules.SignAge {
				return ForAge
			}
		}
	}
	return ""
}

// note adds an event of the sweep to jars.
func (s *Sweep) note(jars []*Jar, what string, at time.Time, fill func(*Event)) error {
	for _, j := range jars {
		e, err := j.Add(what, at)
		if err != nil {
			return err
		}
		e.Sweep = s.ID
		if fill != nil {
			fill(e)
		}
	}
	return nil
}

// Lost notes that a jar was not found.
func (s *Sweep) Lost(j *Jar, at time.Time) error { return s.note([]*Jar{j}, Missing, at, nil) }

// Row is the first jar and those that stand beside it: of the same batch, in
// the same place, next in the walk, and condemned like it or like it not.
func (w *Walk) Row() []*Jar {
	if len(w.Next) == 0 {
		return nil
	}
	first := w.Next[0]
	place, out := first.Standing().Place, w.Condemned(first)
	n := 1
	for n < len(w.Next) && w.Next[n].Batch == first.Batch && w.Next[n].Standing().Place == place && w.Condemned(w.Next[n]) == out {
		n++
	}
	return w.Next[:n]
}

// MostUndo is how many answers can be taken back, one after the other.
const MostUndo = 10

// LastAnswer gives the jars whose latest answer can be taken back together: a
// row that was answered with one touch comes back as one.
func (w *Walk) LastAnswer() (last []Answered) {
	for _, a := range w.Answers {
		if len(last) > 0 && !(a.Event.At.Equal(last[0].Event.At) && a.Event.What == last[0].Event.What && (a.Event.What == Looked || a.Event.What == Discarded || a.Event.What == Noted) && a.Jar.Batch == last[0].Jar.Batch) {
			break
		}
		last = append(last, a)
	}
	return
}

// Report is what a sweep found and what follows.
type Report struct {
	Sweep *Sweep
	// Every jar that was answered for is counted once, in one of these.
	Fine     int // to keep or to use soon
	Unsure   int // nothing wrong was seen, and something is not known
	Seal     int // the seal failed
	Spoiled  int
	Unfit    int // nothing wrong was seen, but it has to be discarded
	Missing  int
	Added    int // of all of them, how many were found by the way
	Left     int // never looked at
	Looked   int // seals that were looked at
	Failed   int // of them, those that failed, with the jars that spoiled
	Discard  []Verdict
	UseSoon  []Verdict
	Second   []Verdict // to be looked at again: something is odd or not settled
	Findings []tally.Finding
	Curve    []tally.Step
	Before   *tally.Change // against the sweep before
	Earlier  *Sweep
}

// The confidence of every interval, and the level below which chance is said
// not to explain.
const (
	Confidence = 0.95
	level      = 0.05
)

// ageNames are the bands of age by which failures are compared.
var ageNames = []string{"up to 1 year", "1 to 2 years", "older than 2 years"}

// Report works out what a sweep found.
func (p *Pantry) Report(s *Sweep, now time.Time) (*Report, error) {
	r := &Report{Sweep: s}
	obs, failed := p.observations(s)
	r.Looked, r.Failed = len(obs), failed
	for _, id := range s.Order {
		j := p.Jars[id]
		if j == nil {
			continue
		}
		e := s.AnswerOf(j)
		v := p.Judge(j, now)
		if e == nil {
			if v.Basis.Stage != IsGone && v.Basis.Stage != IsOpen {
				r.Left++
			}
			continue
		}
		if j.foundIn(s) {
			r.Added++
		}
		trouble, _ := s.found(j)
		switch {
		case e.What == Missing:
			r.Missing++
			continue
		case trouble == ForSpoiled:
			r.Spoiled++
		case trouble == ForSeal:
			r.Seal++
		case v.Lowest == rules.Discard || e.What == Discarded:
			r.Unfit++
		case v.Highest == rules.Discard && v.Basis.Stage == OnShelf:
			r.Unsure++
		default:
			r.Fine++
		}
		if v.Basis.Stage == IsGone {
			continue
		}
		switch v.State() {
		case ToDiscard:
			r.Discard = append(r.Discard, v)
		case ToUse:
			r.UseSoon = append(r.UseSoon, v)
		case ToLook:
			r.Second = append(r.Second, v)
		}
	}
	var err error
	if r.Findings, err = tally.Findings(obs, Confidence, level); err != nil {
		return nil, err
	}
	if r.Curve, err = tally.Survival(p.lives(now), Confidence); err != nil {
		return nil, err
	}
	for _, e := range p.Ended() {
		if e.ID < s.ID && r.Earlier == nil {
			r.Earlier = e
		}
	}
	if r.Earlier != nil && len(obs) > 0 {
		before, bad := p.observations(r.Earlier)
		if len(before) > 0 {
			c, err := tally.Compare(bad, len(before), failed, len(obs), Confidence)
			if err != nil {
				return nil, err
			}
			r.Before = &c
		}
	}
	return r, nil
}

// foundIn tells whether the jar was found during the sweep.
func (j *Jar) foundIn(s *Sweep) bool {
	for i := range j.Events {
		e := &j.Events[i]
		if e.What == Found && !e.Undone && !e.At.Before(s.Begun) && (s.Ended == nil || !e.At.After(*s.Ended)) {
			return true
		}
	}
	return false
}

// Answered is how many jars the sweep came to.
func (r *Report) Answered() int {
	return r.Fine + r.Unsure + r.Seal + r.Spoiled + r.Unfit + r.Missing
}

// lookOf is the last look of the sweep at a jar, or nil.
func (s *Sweep) lookOf(j *Jar) (last *Event) {
	for i := range j.Events {
		if e := &j.Events[i]; s.answered(e) && (e.What == Looked || e.What == Checked) && (last == nil || before(last, e)) {
			last = e
		}
	}
	return
}

// observations are the jars that were looked at in a sweep.
func (p *Pantry) observations(s *Sweep) (obs []tally.Observation, failed int) {
	for _, j := range p.Jars {
		e := s.lookOf(j)
		if e == nil {
			continue
		}
		trouble, _ := s.found(j)
		o := tally.Observation{Failed: trouble != ""}
		if o.Failed {
			failed++
		}
		o.Groups[tally.Place] = p.placeAt(j, e.At)
		if b := p.Batches[j.Batch]; b != nil {
			o.Groups[tally.Batch] = b.Name() + " " + string(b.Made)
			o.Groups[tally.LidLot], o.Groups[tally.Size], o.Groups[tally.Method] = b.LidLot, b.Size, b.Method
			if made, ok := b.Made.Number(); ok {
				o.Groups[tally.Age] = ageNames[min(2, max(0, dayNumber(e.At)-made-1)/365)]
			}
		}
		obs = append(obs, o)
	}
	return
}

// placeAt is the name of the place where a jar stood at a moment.
func (p *Pantry) placeAt(j *Jar, at time.Time) string {
	name := ""
	for _, stay := range j.Standing().Stays {
		if !stay.From.After(at) {
			name = p.PlaceName(stay.Place)
		}
	}
	return name
}

// lives are how long the seals of all jars were known to hold: until the first
// look that found one failed, or until the jar was opened or gone, or until the
// last look that found it sound.
func (p *Pantry) lives(now time.Time) (lives []tally.Life) {
	for _, j := range p.Jars {
		b := p.Batches[j.Batch]
		if b == nil {
			continue
		}
		made, err := time.Parse(DayLayout, string(b.Made))
		if err != nil {
			continue
		}
		var until time.Time
		failed := false
		for i := range j.Events {
			e := &j.Events[i]
			if e.Undone || failed {
				continue
			}
			switch {
			case (e.What == Looked || e.What == Checked) && e.trouble() != "", e.What == Discarded && (e.Why == ForSeal || e.Why == ForSpoiled):
				until, failed = e.At, true
			case e.What == Looked, e.What == Checked, e.What == Opened, e.What == Eaten, e.What == Given, e.What == Discarded:
				if e.At.After(until) {
					until = e.At
				}
			}
		}
		if until.IsZero() {
			continue
		}
		lives = append(lives, tally.Life{Months: max(0, int(math.Round(until.Sub(made).Hours()/24/30.4375))), Failed: failed})
	}
	return
}

// Table is the findings of a report as CSV.
func (r *Report) Table() []byte {
	head := []string{"by", "group", "jars", "failed", "share", "low", "high", "chance", "chance corrected", "more than chance"}
	var rows [][]string
	num := func(v float64) string { return strconv.FormatFloat(v, 'f', 4, 64) }
	for _, f := range r.Findings {
		rows = append(rows, []string{f.Factor.String(), f.Group, strconv.Itoa(f.Jars), strconv.Itoa(f.Failures), num(float64(f.Failures) / float64(f.Jars)), num(f.Share.Low), num(f.Share.High), num(f.P), num(f.Adjusted), strconv.FormatBool(f.More)})
	}
	return sheet.Write(head, rows)
}

// AddFound records a jar that was found: one of its batch that was missing, or
// else one that had never been recorded.
func (p *Pantry) AddFound(batch, place string, now time.Time) (*Jar, error) {
	b := p.Batches[batch]
	if b == nil {
		return nil, fmt.Errorf("there is no batch %s", batch)
	}
	for _, j := range p.OfBatch(batch) {
		if j.Standing().Stage == IsMissing {
			return j, j.find(place, now)
		}
	}
	number := 0
	for _, j := range p.OfBatch(batch) {
		number = max(number, j.Number)
	}
	j, err := NewJar(batch, number+1, now)
	if err != nil {
		return nil, err
	}
	return j, j.find(place, now)
}

// find notes that the jar was found in a place.
func (j *Jar) find(place string, now time.Time) error {
	e, err := j.Add(Found, now)
	if err == nil {
		e.Place = place
	}
	return err
}

// Join puts a jar that was found into the walk, as the next one.
func (s *Sweep) Join(j *Jar, now time.Time) {
	if !slices.Contains(s.Order, j.ID) {
		s.Order = append([]string{j.ID}, s.Order...)
	}
	s.Touch(now)
}
