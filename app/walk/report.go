package walk

import (
	"math"
	"strconv"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/sheet"
	"larderlamp/rules"
	"larderlamp/rules/prose"
	"larderlamp/rules/tally"
)

// Report is what a sweep found, and what to do about it.
type Report struct {
	Sweep *record.Sweep
	// Every jar with an answer is counted once, in one of these.
	Fine     int // jars to keep or to use soon
	Unsure   int // nothing wrong was seen, and something is not known
	Seal     int // the seal failed
	Spoiled  int
	Unfit    int // nothing wrong was seen, but it has to be discarded
	Missing  int
	Added    int // how many of all of them were found by the way
	Left     int // never looked at
	Looked   int // seals that were looked at
	Failed   int // those of them that failed, including the jars that spoiled
	Discard  []pantry.Verdict
	UseSoon  []pantry.Verdict
	Second   []pantry.Verdict // jars to be looked at again: something is odd or not settled
	Findings []tally.Finding
	Curve    []tally.Step
	Before   *tally.Change // compared with the sweep before
	Earlier  *record.Sweep
}

// The confidence of every interval, and the level below which the report says
// that chance does not explain the failures.
const (
	Confidence = 0.95
	level      = 0.05
)

// ageNames are the bands of age by which failures are compared.
var ageNames = []prose.Text{"up to 1 year", "1 to 2 years", "older than 2 years"}

// NewReport works out what a sweep found.
func NewReport(p *pantry.Pantry, s *record.Sweep, now time.Time) (*Report, error) {
	r := &Report{Sweep: s}
	obs, failed := observations(p, s)
	r.Looked, r.Failed = len(obs), failed
	for _, id := range s.Order {
		j := p.Jars[id]
		if j == nil {
			continue
		}
		e := AnswerOf(s, j)
		v := p.Judge(j, now)
		if e == nil {
			if v.Basis.Stage != record.IsGone && v.Basis.Stage != record.IsOpen {
				r.Left++
			}
			continue
		}
		if foundIn(j, s) {
			r.Added++
		}
		trouble, _ := worst(s, j)
		switch {
		case e.What == record.Missing:
			r.Missing++
			continue
		case trouble == record.ForSpoiled:
			r.Spoiled++
		case trouble == record.ForSeal:
			r.Seal++
		case v.Lowest == rules.Discard || e.What == record.Discarded:
			r.Unfit++
		case v.Highest == rules.Discard && v.Basis.Stage == record.OnShelf:
			r.Unsure++
		default:
			r.Fine++
		}
		if v.Basis.Stage == record.IsGone {
			continue
		}
		switch v.State() {
		case pantry.ToDiscard:
			r.Discard = append(r.Discard, v)
		case pantry.ToUse:
			r.UseSoon = append(r.UseSoon, v)
		case pantry.ToLook:
			r.Second = append(r.Second, v)
		}
	}
	var err error
	if r.Findings, err = tally.Findings(obs, Confidence, level); err != nil {
		return nil, err
	}
	if r.Curve, err = tally.Survival(sealLives(p, now), Confidence); err != nil {
		return nil, err
	}
	for _, e := range Ended(p) {
		if e.ID < s.ID && r.Earlier == nil {
			r.Earlier = e
		}
	}
	if r.Earlier != nil && len(obs) > 0 {
		before, bad := observations(p, r.Earlier)
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

// foundIn reports whether the jar was found during the sweep.
func foundIn(j *record.Jar, s *record.Sweep) bool {
	for i := range j.Events {
		e := &j.Events[i]
		if e.What == record.Found && !e.Undone && !e.At.Before(s.Begun) && (s.Ended == nil || !e.At.After(*s.Ended)) {
			return true
		}
	}
	return false
}

// Answered is how many jars the sweep came to.
func (r *Report) Answered() int {
	return r.Fine + r.Unsure + r.Seal + r.Spoiled + r.Unfit + r.Missing
}

// observations are the jars that were looked at in a sweep.
func observations(p *pantry.Pantry, s *record.Sweep) (obs []tally.Observation, failed int) {
	for _, j := range p.Jars {
		e := lookOf(s, j)
		if e == nil {
			continue
		}
		trouble, _ := worst(s, j)
		o := tally.Observation{Failed: trouble != ""}
		if o.Failed {
			failed++
		}
		o.Groups[tally.Place] = placeAt(p, j, e.At)
		if b := p.Batches[j.Batch]; b != nil {
			o.Groups[tally.Batch] = prose.Say("%s %s", b.Name(), string(b.Made))
			o.Groups[tally.LidLot], o.Groups[tally.Size], o.Groups[tally.Method] = prose.Own(b.LidLot), prose.Own(b.Size), prose.Own(b.Method)
			if made, ok := b.Made.Number(); ok {
				o.Groups[tally.Age] = ageNames[min(2, max(0, record.DayNumber(e.At)-made-1)/365)]
			}
		}
		obs = append(obs, o)
	}
	return
}

// placeAt is the name of the place where a jar was at a moment.
func placeAt(p *pantry.Pantry, j *record.Jar, at time.Time) (name prose.Text) {
	for _, stay := range j.Standing().Stays {
		if !stay.From.After(at) {
			name = p.PlaceName(stay.Place)
		}
	}
	return name
}

// sealLives are how long the seals of all jars were known to hold: until the first
// look that found one failed, or until the jar was opened or gone, or until the
// last look that found it sound.
func sealLives(p *pantry.Pantry, now time.Time) (lives []tally.Life) {
	for _, j := range p.Jars {
		b := p.Batches[j.Batch]
		if b == nil {
			continue
		}
		made, err := time.Parse(record.DayLayout, string(b.Made))
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
			case (e.What == record.Looked || e.What == record.Checked) && e.Trouble() != "", e.What == record.Discarded && (e.Why == record.ForSeal || e.Why == record.ForSpoiled):
				until, failed = e.At, true
			case e.What == record.Looked, e.What == record.Checked, e.What == record.Opened, e.What == record.Eaten, e.What == record.Given, e.What == record.Discarded:
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
		rows = append(rows, []string{f.Factor.Text().String(), f.Group.String(), strconv.Itoa(f.Jars), strconv.Itoa(f.Failures), num(float64(f.Failures) / float64(f.Jars)), num(f.Share.Low), num(f.Share.High), num(f.P), num(f.Adjusted), strconv.FormatBool(f.More)})
	}
	return sheet.Write(head, rows)
}
