package process

import (
	"math"
	"math/bits"

	"larderlamp/rules/prose"
)

// Status is the answer about a record, or the set of answers still possible.
// The answers are ordered from mild to strict.
type Status uint8

// The answers. NoProcess is for a record that no published row covers at all.
const (
	Met       Status = 1 << iota // as a row that was read, at its source or in a copy, asks
	Agrees                       // as a row from memory asks: confirm against current published guidance
	Short                        // less than every published row asks
	NoProcess                    // no tested process is published for this
)

var statusWords = words{"as published", "agrees with a row known from memory: confirm against current published guidance",
	"short of the published process", "no tested process is published"}

// Settled reports whether one answer is left.
func (s Status) Settled() bool { return bits.OnesCount8(uint8(s)) == 1 }

// Strictest is the strictest answer still possible.
func (s Status) Strictest() Status { return 1 << (bits.Len8(uint8(s)) - 1) }

// Text says it in words.
func (s Status) Text() prose.Text {
	if s.Settled() {
		return statusWords.of(uint8(s))
	}
	return prose.Say("cannot tell: %s", statusWords.list(uint8(s)))
}

// String is it in English.
func (s Status) String() string { return s.Text().String() }

// Vent reports whether the air was driven out before the canner was closed, or
// which of the two is still possible.
type Vent uint8

// Vented is 10 minutes of steady steam before closing.
const (
	Vented Vent = 1 << iota
	Unvented
	anyVent = Vented | Unvented
)

// Record is what is known of how a jar was processed. The zero value of a
// field means that it is not known.
type Record struct {
	Product  string // as in [Food.ID]
	Form     string // as in [Food.Form]
	Pack     Pack
	Jar      Size
	Method   Method
	Gauge    Gauge
	Vented   Vent
	Minutes  Range // whole minutes without a break at the boil or at pressure
	Pressure Range // tenths of a psi, as the dial read or the weight is marked
	// ReadsHigh is by how many tenths of a psi the dial reads above the truth,
	// negative when it reads below. A weight needs none.
	ReadsHigh Range
	Altitude  Range // feet; see [FeetFromMeters]
}

// Datum is a field of a record, or a set of fields.
type Datum uint16

// The fields of a [Record].
const (
	DatumProduct Datum = 1 << iota
	DatumForm
	DatumPack
	DatumJar
	DatumMethod
	DatumGauge
	DatumVented
	DatumMinutes
	DatumPressure
	DatumReadsHigh
	DatumAltitude
	numData = iota
)

var datumWords = [numData]prose.Text{"the product", "the form of the food", "hot or raw pack", "the size of the jar", "how the jars were heated",
	"the kind of gauge", "whether the canner was vented", "the minutes", "the pressure", "how far off the dial gauge reads", "the altitude"}

// Words names each field of the set.
func (d Datum) Words() (w []prose.Text) {
	for ; d != 0; d &= d - 1 {
		w = append(w, datumWords[bits.TrailingZeros16(uint16(d))])
	}
	return
}

// Judgment is the answer about a record.
type Judgment struct {
	Record Record
	// Possible holds every answer that some completion of the record reaches.
	Possible Status
	// Missing names the open fields that could by themselves narrow the
	// answer; empty when settled.
	Missing Datum
	// Worst is a completion of the record with the strictest answer still
	// possible. Its Pack is 0 when the food itself is not printed.
	Worst Query
	// Against is the published line that the worst completion meets or comes
	// nearest to; its Row is nil when there is none.
	Against Line
	// MinutesShort and PressureShort (tenths of a psi) say by how much the
	// worst completion fails Against.
	MinutesShort, PressureShort int
	// Unvented and Unsure tell that the worst completion is short whatever the
	// figures: the canner was not vented, or the dial reads more than 2 psi
	// high and must be replaced, not allowed for.
	Unvented, Unsure bool
}

// maxAllowance is how many tenths of a psi a dial gauge may read high and
// still be allowed for.
//
// Source: Iowa State University Extension, Canning season readiness (2024);
// Oregon State University Extension, Test your pressure canner dial gauge
// (2020); Ohio State University Extension, Dial gauge testing (all read).
const maxAllowance = 20

// Was judges a record: were time and pressure as published for this food, jar
// and altitude? The published table alone decides. Acid is another matter: see
// [Food.Acid].
//
//   - A row that was read establishes Met; a remembered one only Agrees.
//   - Any one published line is enough, and no time is mixed with the pressure
//     of another line.
//   - A pressure canner that was not vented is Short.
//   - A dial that reads high is corrected by its error, up to 2 psi. A dial
//     that reads low earns nothing.
//   - What is not known may be anything: the answer is the set of all answers
//     that can still be reached. That holds for the error of a dial gauge too.
func Was(r Record) Judgment {
	j := Judgment{Record: r}
	r.Pack, r.Jar, r.Method = or(r.Pack, anyPack), or(r.Jar, anyJar), or(r.Method, anyMethod)
	r.Gauge, r.Vented = or(r.Gauge, anyGauge), or(r.Vented, anyVent)
	var w worst
	j.Possible = r.possible(&w)
	j.Worst, j.Against, j.MinutesShort, j.PressureShort = w.query, w.line, w.minutes, w.pressure
	j.Unvented, j.Unsure = w.unvented, w.unsure
	if !j.Possible.Settled() {
		j.Missing = r.missing(j.Possible)
	}
	return j
}

// worst keeps the completion with the strictest answer.
type worst struct {
	status            Status
	query             Query
	line              Line
	minutes, pressure int
	unvented, unsure  bool
}

// note keeps a completion when it is stricter than any before.
func (w *worst) note(s Status, q *Query) bool {
	if s <= w.status {
		return false
	}
	*w = worst{status: s, query: *q}
	return true
}

// edges are the altitudes after which some table changes.
var edges = [...]int{1000, 2000, 3000, 4000, 6000, 8000}

// The ends of what a record may leave unsaid.
const (
	lowest, highest = -1500, 10000 // feet; no table changes beyond
	never, ever     = 0, math.MaxInt16
)

// possible walks every completion of the record that the tables tell apart.
func (r *Record) possible(w *worst) (all Status) {
	if r.Product == "" {
		w.note(NoProcess, &Query{})
		return Met | Agrees | Short | NoProcess
	}
	forms := byID[r.Product]
	known := false
	for i := range forms {
		if r.Form == "" || r.Form == forms[i].Form.String() {
			known = true
			all |= r.form(&forms[i], w)
		}
	}
	if !known {
		w.note(NoProcess, &Query{Product: r.Product, Form: r.Form})
		all = NoProcess
	}
	return
}

// form walks the completions for one form of the food, high altitudes first.
func (r *Record) form(f *Food, w *worst) (all Status) {
	low, high := r.Altitude.ends(lowest, highest)
	for at := high; ; {
		q := Query{Product: f.ID, Form: f.Form.String(), Altitude: Feet(at)}
		for jar := FourOunce; jar != 0; jar <<= 1 {
			if r.Jar&jar == 0 {
				continue
			}
			for pack := Hot; pack <= Raw; pack <<= 1 {
				if r.Pack&pack != 0 {
					q.Jar, q.Pack = jar, pack
					all |= r.heating(f, q, w)
				}
			}
		}
		next := low - 1 // the highest altitude of the next band down
		for _, e := range edges {
			if e < at && e >= low {
				next = e
			}
		}
		if at = next; at < low {
			return
		}
	}
}

// heating walks the methods, gauges and figures for one jar.
func (r *Record) heating(f *Food, q Query, w *worst) (all Status) {
	var room [4]Line // no look-up gives more
	a, b := r.Minutes.ends(never, ever)
	for method := BoilingWater; method <= OtherMethod; method <<= 1 {
		if r.Method&method == 0 {
			continue
		}
		q.Method, q.Gauge = method, 0
		if method != Pressure {
			all |= figures(q.appendLines(room[:0], f), &q, a, b, 0, 0, w)
			continue
		}
		for gauge := Dial; gauge <= Weighted; gauge <<= 1 {
			if r.Gauge&gauge == 0 {
				continue
			}
			q.Gauge = gauge
			lines := q.appendLines(room[:0], f)
			if len(lines) == 0 {
				all |= NoProcess
				w.note(NoProcess, &q)
				continue
			}
			if r.Vented&Unvented != 0 {
				all |= Short
				if w.note(Short, &q) {
					w.unvented = true
					w.against(lines, a, first(r.Pressure.ends(never, ever)))
				}
			}
			if r.Vented&Vented == 0 {
				continue
			}
			c, d, sure, unsure := r.truePressure(gauge)
			if unsure {
				all |= Short
				if w.note(Short, &q) {
					w.unsure = true
					w.against(lines, a, c)
				}
			}
			if sure {
				all |= figures(lines, &q, a, b, c, d, w)
			}
		}
	}
	return
}

// truePressure returns the lowest and highest true pressure, in tenths of a psi:
// sure reports whether the error can be one that is allowed for, unsure whether
// it can be too large for that.
func (r *Record) truePressure(g Gauge) (low, high int, sure, unsure bool) {
	low, high = r.Pressure.ends(never, ever)
	if g == Weighted {
		return low, high, true, false
	}
	a, b := r.ReadsHigh.ends(-ever, ever)
	return low - min(max(b, 0), maxAllowance), high - max(a, 0), a <= maxAllowance, b > maxAllowance
}

// figures walks the minutes from a to b and the true pressures from c to d.
// The answer can only change where one of them reaches what a line asks.
func figures(lines []Line, q *Query, a, b, c, d int, w *worst) (all Status) {
	if len(lines) == 0 {
		w.note(NoProcess, q)
		return NoProcess
	}
	for i := -1; i < len(lines); i++ {
		minutes := a
		if i >= 0 {
			if minutes = lines[i].Minutes; minutes <= a || minutes > b {
				continue
			}
		}
		for k := -1; k < len(lines); k++ {
			pressure := c
			if k >= 0 {
				if pressure = lines[k].PSI * 10; pressure <= c || pressure > d {
					continue
				}
			}
			s := answer(lines, minutes, pressure)
			all |= s
			if w.note(s, q) {
				w.against(lines, minutes, pressure)
			}
		}
	}
	return
}

// answer judges exact figures.
func answer(lines []Line, minutes, pressure int) Status {
	s := Short
	for i := range lines {
		if minutes < lines[i].Minutes || pressure < lines[i].PSI*10 {
			continue
		}
		if lines[i].evidence().Found() {
			return Met
		}
		s = Agrees
	}
	return s
}

// against picks the line that the figures meet or come nearest to: the one
// with the smallest sum of the shares of time and pressure that are wanting,
// among equals the one printed first.
func (w *worst) against(lines []Line, minutes, pressure int) {
	best := math.MaxInt
	for i := range lines {
		l := &lines[i]
		m, p := max(0, l.Minutes-minutes), max(0, l.PSI*10-pressure)
		rank := m * 10000 / l.Minutes
		if p > 0 {
			rank += p * 1000 / l.PSI
		}
		if rank < best {
			best, w.line, w.minutes, w.pressure = rank, *l, m, p
		}
	}
}
