package record

import (
	"strings"
	"time"

	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
	"larderlamp/rules/prose"
)

// Way is one published way to process a food in jars of a size at an altitude: a
// batch that was canned exactly so gets it with one touch.
type Way struct {
	Method    rules.Value
	Pack      process.Pack
	Gauge     process.Gauge // 0 without pressure
	Minutes   int
	TenthsPSI int // 0 without pressure
}

// Ways lists the published ways for the table, size and altitude of a batch, in
// boiling water where there is one, and else under pressure: a dial before a weight,
// hot before raw. Of several rows for one pack the longest is used: jars processed
// by it meet all of them.
func (b *Batch) Ways() (ways []Way) {
	if b.Feet == nil {
		return nil
	}
	r := b.Processing(nil)
	if r.Jar == 0 || r.Product == "" || r.Form == "" && len(process.Forms(r.Product)) > 1 {
		return nil
	}
	for _, how := range []struct {
		method rules.Value
		gauge  process.Gauge
	}{{rules.MethodBoiling, 0}, {rules.MethodPressure, process.Dial}, {rules.MethodPressure, process.Weighted}} {
		if how.method == rules.MethodPressure && len(ways) > 0 && ways[0].Method == rules.MethodBoiling {
			break
		}
		for _, pack := range process.Packs {
			lines, err := process.Lines(process.Query{Product: r.Product, Form: r.Form, Pack: pack, Jar: r.Jar,
				Method: processed.Method(how.method, true), Gauge: how.gauge, Altitude: process.Feet(*b.Feet)})
			if err != nil {
				continue
			}
			w := Way{Method: how.method, Pack: pack, Gauge: how.gauge}
			for i := range lines {
				w.Minutes, w.TenthsPSI = max(w.Minutes, lines[i].Minutes), max(w.TenthsPSI, 10*lines[i].PSI)
			}
			ways = append(ways, w)
		}
	}
	return ways
}

// Go records that the batch was processed in this way. A dial counts as tested
// and right: the words of the way say so.
func (b *Batch) Go(w Way) {
	minutes := w.Minutes
	b.Method, b.Pack, b.Gauge, b.Minutes = w.Method.ID(), w.Pack.ID(), w.Gauge.ID(), &minutes
	b.TenthsPSI, b.ReadsHigh, b.Vented = nil, nil, ""
	if w.TenthsPSI > 0 {
		psi := w.TenthsPSI
		b.TenthsPSI, b.Vented = &psi, process.Vented.ID()
	}
	if w.Gauge == process.Dial {
		right := 0
		b.ReadsHigh = &right
	}
}

// ProcessedAs reports whether the batch was processed in this way and no other.
func (b *Batch) ProcessedAs(w Way) bool {
	same := func(v *int, n int) bool { return v != nil && *v == n }
	return b.Method == w.Method.ID() && b.Pack == w.Pack.ID() && b.Gauge == w.Gauge.ID() && same(b.Minutes, w.Minutes) &&
		(w.TenthsPSI == 0 && b.TenthsPSI == nil || same(b.TenthsPSI, w.TenthsPSI) && b.Vented == process.Vented.ID()) &&
		(w.Gauge != process.Dial || same(b.ReadsHigh, 0))
}

// SizesOf lists the sizes of jars in which a food is canned according to the
// published table of the batch: those that a row names. Without a table any size
// is possible.
func (b *Batch) SizesOf() (ids []string) {
	copied := *b
	feet := 0
	copied.Feet = &feet
	r := b.Processing(nil)
	for _, s := range Sizes {
		copied.Size = s.ID
		if r.Product != "" && len(copied.Ways()) == 0 || s.ID == "other" {
			continue
		}
		ids = append(ids, s.ID)
	}
	return ids
}

// Line is one thing that must be true of a batch for its jars to be keepable.
// Together the lines are the record of a batch canned by the book.
type Line struct {
	Sign rules.SignID
	Say  prose.Text // what is true, in words that say everything the rules assume
	Want string     // the value of the sign
	Have string     // what the batch says, empty for not known
}

// Holds reports whether the batch says exactly that.
func (l *Line) Holds() bool { return l.Have == l.Want }

// Lines lists what makes the record of the batch that of a batch canned by the
// book: the food itself, its recipe, its acid, nothing else in it, its closure,
// and, if no table says so, that it was heated for the full time.
func (b *Batch) Lines() []Line {
	food := b.Food()
	var lines []Line
	add := func(id rules.SignID, say prose.Text, have string) {
		lines = append(lines, Line{id, say, id.Info().Sound.ID(), have})
	}
	if c := food.Condition; c != nil {
		lines = append(lines, Line{rules.SignCondition, c.OK, rules.ConditionMet.ID(), b.Condition})
	}
	add(rules.SignStanding, "A current recipe of an extension service, the agriculture department or a jar maker's canning book, for this very food, followed exactly", b.Standing)
	if b.AsksAcid() {
		add(rules.SignAcid, "All the acid that a current published recipe for this food gives, in every jar: bottled juice, citric acid, or vinegar of 5 %", b.Acid)
	}
	add(rules.SignExtras, "Only what a published recipe for this food has: no thickener, starch, milk, egg, fat or meat, and no other vegetables or fruit that is not sour. Packed as it says, and not mashed or dry instead. Nothing over-ripe or rotten, or from dead or frosted plants", b.Extras)
	add(rules.SignClosure, "Flat metal lids, used for the first time", b.Closure)
	if !b.HasTable() {
		add(rules.SignProcess, "Packed as a published recipe for this food says, and heated for its full time without a break, for this jar and altitude. Under pressure: vented 10 minutes, without a break, cooled by itself, with a weight or a dial that was tested within a year", b.Followed)
	}
	return lines
}

// AsksAcid reports whether the food of the batch is safe only with added acid.
func (b *Batch) AsksAcid() bool {
	class := b.Food().Class
	return class != rules.ClassAcid && class != rules.ClassLow
}

// HasTable reports whether there is a published table for the food.
func (b *Batch) HasTable() bool { return len(processed.Tables(b.Food())) > 0 }

// Set records a value of one of the signs that a batch carries.
func (b *Batch) Set(id rules.SignID, value string) {
	switch id {
	case rules.SignCondition:
		b.Condition = value
	case rules.SignStanding:
		b.Standing = value
	case rules.SignMethod:
		b.Method = value
	case rules.SignAcid:
		b.Acid = value
	case rules.SignExtras:
		b.Extras = value
	case rules.SignClosure:
		b.Closure = value
	case rules.SignProcess:
		b.Followed = value
	}
}

// Again starts another batch that was canned like this one: the same food in the
// same way. Where and when it was canned, how many jars it filled and its notes are
// its own.
func (b *Batch) Again(now time.Time) (*Batch, error) {
	n, err := NewBatch(b.Product, now)
	if err != nil {
		return nil, err
	}
	head, made := n.Head, n.Made
	*n = *b
	n.Head, n.Made, n.Notes, n.Feet = head, made, "", nil
	return n, nil
}

// cooling is how many hours jars cool before their seals are tested. Published: a
// jar is left alone for 12 to 24 hours (NCHFP, Cooling jars and testing jar seals,
// read).
const cooling = 12

// CanLookTogether reports whether the jars of a batch can be looked at together, with
// the short look: they close with flat metal lids, which its tests are made for,
// and they have had time to cool. The second result says in words why not.
func (b *Batch) CanLookTogether(now time.Time) (ok bool, why prose.Text) {
	switch v, known := rules.SignClosure.ValueByID(b.Closure); {
	case !known:
		return false, "Say in the record what closes these jars: the short look is made for flat metal lids."
	case v != rules.ClosureLid && v != rules.ClosureUsed:
		return false, "The short look is made for flat metal lids. Check these jars one by one."
	}
	if made, ok := b.Made.Number(); ok && made == DayNumber(now) {
		return false, prose.Say("Jars cool for %d to 24 hours before their seals are tested. Look at them tomorrow.", cooling)
	}
	return true, ""
}

// CooledLine is what must also be true when jars of a batch are looked at that may
// still be cooling: canned today or yesterday, which can be an hour or a day ago,
// because a batch knows its day and not its hour. It is empty for older ones.
func (b *Batch) CooledLine(now time.Time) prose.Text {
	if made, ok := b.Made.Number(); ok && made >= DayNumber(now)-1 {
		return prose.Say("Out of the canner for at least %d hours", cooling)
	}
	return ""
}

// Look records that each of the jars passed the short look.
func Look(jars []*Jar, at time.Time) error {
	for _, j := range jars {
		e, err := j.Add(Looked, at)
		if err != nil {
			return err
		}
		for _, v := range rules.ShortLookValues() {
			e.Seen = append(e.Seen, Seen{v.Sign().ID(), []string{v.ID()}})
		}
	}
	return nil
}

// TableName is the name of a published table in words.
func TableName(table string) prose.Text {
	product, form, _ := strings.Cut(table, "/")
	f, ok := process.FoodOf(product, form)
	if !ok {
		return prose.Own(table)
	}
	if form == "" {
		return f.Name
	}
	return prose.Say("%s, %s", f.Name, f.Form)
}

// Kinds names the tables of a food by what distinguishes them.
func (b *Batch) Kinds() (ids []string, names []prose.Text) {
	tables := processed.Tables(b.Food())
	same := true
	for _, t := range tables {
		product, _, _ := strings.Cut(tables[0], "/")
		same = same && strings.HasPrefix(t, product+"/")
	}
	for _, t := range tables {
		name := TableName(t)
		if product, form, ok := strings.Cut(t, "/"); ok && same {
			if f, ok := process.FoodOf(product, form); ok {
				name = f.Form
			}
		}
		ids, names = append(ids, t), append(names, name)
	}
	return ids, names
}
