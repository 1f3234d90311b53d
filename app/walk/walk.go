package walk

import (
	"cmp"
	"slices"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// Due reports whether a jar has to be looked at: it is on the shelf, or
// missing, and was not looked at during the time between two sweeps.
func Due(p *pantry.Pantry, j *record.Jar, now time.Time) bool {
	s := j.Standing()
	if s.Stage == record.IsGone || s.Stage == record.IsOpen {
		return false
	}
	return s.Look == nil || pantry.InFuture(s.Look.At, now) || !now.Before(s.Look.At.AddDate(0, p.Settings.MonthsBetweenSweeps(), 0))
}

// Order lists jars in the order in which they are walked past: place by place,
// in a place batch by batch, in a batch by number. The place "" holds jars
// without one. With due only, jars that were looked at lately are left out.
func Order(p *pantry.Pantry, places []string, dueOnly bool, now time.Time) []string {
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
		if !chosen || s.Stage == record.IsGone || s.Stage == record.IsOpen || dueOnly && !Due(p, j, now) {
			continue
		}
		st := stop{id: j.ID, batch: j.Batch, place: at, number: j.Number}
		if b := p.Batches[j.Batch]; b != nil {
			st.made, st.name = string(b.Made), b.Name().String()
		}
		stops = append(stops, st)
	}
	slices.SortStableFunc(stops, func(a, b stop) int {
		return cmp.Or(cmp.Compare(a.place, b.place), cmp.Compare(a.name, b.name), cmp.Compare(a.made, b.made), cmp.Compare(a.batch, b.batch), cmp.Compare(a.number, b.number), cmp.Compare(a.id, b.id))
	})
	ids := make([]string, len(stops))
	for i := range stops {
		ids[i] = stops[i].id
	}
	return ids
}

// Running is the sweep that was started and not finished, the latest if there
// are several; nil when there is none.
func Running(p *pantry.Pantry) (running *record.Sweep) {
	for _, s := range p.Sweeps {
		if s.Ended == nil && (running == nil || s.ID > running.ID) {
			running = s
		}
	}
	return
}

// Ended lists the finished sweeps, the latest first, without the looks before a
// trip.
func Ended(p *pantry.Pantry) (ended []*record.Sweep) {
	for _, s := range p.Sweeps {
		if s.Ended != nil && s.Trip == "" {
			ended = append(ended, s)
		}
	}
	slices.SortStableFunc(ended, func(a, b *record.Sweep) int { return b.Ended.Compare(*a.Ended) })
	return
}

// Walk is the state of a sweep.
type Walk struct {
	Sweep   *record.Sweep
	Next    []*record.Jar // still to be looked at, in the order of the walk
	Again   int           // how many of them because a jar of their batch spoiled since
	Done    int
	Total   int
	Answers []Answered // the latest first

	pantry *pantry.Pantry
	now    time.Time
}

// Answered is one answer of a sweep.
type Answered struct {
	Jar   *record.Jar
	Event *record.Event
}

// New works out the state of a sweep from what is stored with the jars: a
// closed tab loses nothing. If a jar was looked at before another of its batch
// was found spoiled, it comes again, unless it has to be discarded anyway.
func New(p *pantry.Pantry, s *record.Sweep, now time.Time) *Walk {
	w := &Walk{Sweep: s, pantry: p, now: now}
	spoiled := map[string]time.Time{} // by batch, when a spoiled jar was found in this sweep
	answers := make([]*record.Event, len(s.Order))
	for i, id := range s.Order {
		j := p.Jars[id]
		if j == nil {
			continue
		}
		answers[i] = AnswerOf(s, j)
		if trouble, at := worst(s, j); trouble == record.ForSpoiled && at.After(spoiled[j.Batch]) {
			spoiled[j.Batch] = at
		}
	}
	var again []*record.Jar
	for i, id := range s.Order {
		j := p.Jars[id]
		if j == nil {
			continue
		}
		st := j.Standing()
		if st.Stage == record.IsOpen || st.Stage == record.IsGone && answers[i] == nil {
			continue
		}
		w.Total++
		e := answers[i]
		if e == nil {
			w.Next = append(w.Next, j)
			continue
		}
		w.Answers = append(w.Answers, Answered{j, e})
		if found, ok := spoiled[j.Batch]; ok && st.Stage == record.OnShelf && found.After(e.At) && e.Trouble() == "" && p.Judge(j, now).Lowest != rules.Discard {
			again = append(again, j)
			continue
		}
		w.Done++
	}
	w.Again = len(again)
	w.Next = append(w.Next, again...)
	slices.SortStableFunc(w.Answers, func(a, b Answered) int { return record.ByTime(b.Event, a.Event) })
	return w
}

// Sound records that jars passed the short look. It refuses all of them when one
// is condemned: no look makes such a jar sound.
func (w *Walk) Sound(jars []*record.Jar, at time.Time) error {
	for _, j := range jars {
		if w.Condemned(j) {
			return prose.Errorf("jar %s: it has to be discarded, whatever it looks like", j.ID)
		}
	}
	var seen []record.Seen
	for _, v := range rules.ShortLookValues() {
		seen = append(seen, record.Seen{Sign: v.Sign().ID(), Values: []string{v.ID()}})
	}
	return note(w.Sweep, jars, record.Looked, at, func(e *record.Event) { e.Seen = seen })
}

// Condemned reports whether a jar has to be discarded whatever is seen of it
// now.
func (w *Walk) Condemned(j *record.Jar) bool { return w.pantry.Judge(j, w.now).Lowest == rules.Discard }

// TakeOut records that condemned jars were taken from the shelf to be
// discarded, and why. It refuses all of them when one is not condemned.
func (w *Walk) TakeOut(jars []*record.Jar, at time.Time) error {
	why := make([]string, len(jars))
	for i, j := range jars {
		if !w.Condemned(j) {
			return prose.Errorf("jar %s: nothing says that it has to be discarded", j.ID)
		}
		why[i] = WhyOut(w.pantry, j, w.now)
	}
	for i, j := range jars {
		if err := note(w.Sweep, []*record.Jar{j}, record.Discarded, at, func(e *record.Event) { e.Why = why[i] }); err != nil {
			return err
		}
	}
	return nil
}

// WhyOut is the reason for which a jar is discarded.
func WhyOut(p *pantry.Pantry, j *record.Jar, now time.Time) string {
	if t := j.Trouble(); t != "" {
		return t
	}
	s, _ := p.Situation(j, now)
	for _, l := range rules.Explain(s).Deciding {
		if l.Part == rules.PartRecord {
			return record.ForProcess
		}
		for _, v := range l.Shown {
			if v.Sign() == rules.SignAge {
				return record.ForAge
			}
		}
	}
	return ""
}

// Row is the first jar and those beside it: of the same batch, in the same
// place, next in the walk, and either all condemned or all not.
func (w *Walk) Row() []*record.Jar {
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

// MostUndo is how many answers can be undone, one after the other.
const MostUndo = 10

// LastAnswer returns the jars whose latest answer can be undone together: a row
// that was answered with one touch is undone as one.
func (w *Walk) LastAnswer() (last []Answered) {
	for _, a := range w.Answers {
		if len(last) > 0 && !(a.Event.At.Equal(last[0].Event.At) && a.Event.What == last[0].Event.What && (a.Event.What == record.Looked || a.Event.What == record.Discarded || a.Event.What == record.Noted) && a.Jar.Batch == last[0].Jar.Batch) {
			break
		}
		last = append(last, a)
	}
	return
}

// oldestLook is the oldest of the last looks at the jars on a shelf; zero when one of
// them was never looked at, and when there is none.
func oldestLook(p *pantry.Pantry) (oldest time.Time) {
	for _, j := range p.Jars {
		st := j.Standing()
		if st.Stage != record.OnShelf {
			continue
		}
		if st.Look == nil {
			return time.Time{}
		}
		if oldest.IsZero() || st.Look.At.Before(oldest) {
			oldest = st.Look.At
		}
	}
	return oldest
}

// NextDue is the day on which the next sweep is due: so many months after the
// last one that was finished. Before the first it is so many after the oldest look at
// a jar on a shelf, and today as long as nobody has looked at one of them.
func NextDue(p *pantry.Pantry, now time.Time) record.Day {
	var last time.Time
	for _, s := range p.Sweeps {
		if s.Ended != nil && s.Trip == "" && s.Ended.After(last) {
			last = *s.Ended
		}
	}
	if last.IsZero() {
		last = oldestLook(p)
	}
	if last.IsZero() {
		return record.DayOf(now)
	}
	return record.DayOf(last.In(now.Location()).AddDate(0, p.Settings.MonthsBetweenSweeps(), 0))
}
