package record

import (
	"fmt"
	"strings"
	"time"

	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/processed"
	"larderlamp/rules/prose"
)

// The limits on what a person may write.
const (
	MostName  = 60
	MostNotes = 2000
	MostJars  = 500 // jars of one batch
)

// Day is a date without a time, written as 2025-08-31.
type Day string

// DayLayout is how a [Day] is written.
const DayLayout = time.DateOnly

// DayOf is the day of a moment, in the zone of the moment.
func DayOf(t time.Time) Day { return Day(t.Format(DayLayout)) }

// Number counts days since 1 January 1970; ok is false for what is not a date.
func (d Day) Number() (n int, ok bool) {
	t, err := time.Parse(DayLayout, string(d))
	return int(t.Unix() / 86400), err == nil
}

// DayNumber counts the days since 1 January 1970 up to a moment, in its zone.
func DayNumber(t time.Time) int {
	_, offset := t.Zone()
	seconds := t.Unix() + int64(offset)
	return int((seconds - ((seconds%86400)+86400)%86400) / 86400)
}

// day reports a date that no record can have.
func (f *faults) day(field string, d Day) {
	if t, err := time.Parse(DayLayout, string(d)); err != nil || t.Year() < 1950 {
		f.add(field, "%q is not a date from 1950 on, written as 2025-08-31", string(d))
	}
}

// The sizes of jars: those of the published tables, and the common ones in
// between, which use the time of the next larger size.
var Sizes = []struct {
	ID          string
	Name        prose.Text
	Jar         process.Size
	Milliliters int
}{
	{"4-ounce", "4-ounce (120 ml)", process.FourOunce, 120},
	{"half-pint", "half-pint (240 ml)", process.HalfPint, 240},
	{"12-ounce", "12-ounce (360 ml)", process.TwelveOunce, 360},
	{"pint", "pint (480 ml)", process.Pint, 480},
	{"24-ounce", "24- or 28-ounce (710 to 830 ml)", process.TwentyFourOunce, 830},
	{"quart", "quart (950 ml)", process.Quart, 950},
	{"half-gallon", "half-gallon (1.9 l)", process.HalfGallon, 1900},
	{"other", "another size", process.OtherJar, 700},
}

// Batch is jars filled and processed together. What is empty or nil is not
// known.
type Batch struct {
	Head
	Product string `json:"product"`
	Title   string `json:"title,omitempty"` // the household's own name for it
	Made    Day    `json:"made"`
	Count   int    `json:"count"` // jars filled
	Size    string `json:"size,omitempty"`

	// The record: values of the signs of that chapter, by id.
	Condition string `json:"condition,omitempty"`
	Standing  string `json:"standing,omitempty"`
	Method    string `json:"method,omitempty"`
	Acid      string `json:"acid,omitempty"`
	Extras    string `json:"extras,omitempty"`
	Closure   string `json:"closure,omitempty"`

	// Followed is what the household says about the process where its figures do
	// not decide: a value of [rules.SignProcess].
	Followed string `json:"followed,omitempty"`

	// The process, as in the published tables.
	Table      string `json:"table,omitempty"` // "product" or "product/form"
	Pack       string `json:"pack,omitempty"`  // hot, raw
	Gauge      string `json:"gauge,omitempty"` // dial, weighted
	Vented     string `json:"vented,omitempty"`
	Minutes    *int   `json:"minutes,omitempty"`
	TenthsPSI  *int   `json:"tenths_psi,omitempty"`
	ReadsHigh  *int   `json:"reads_high_tenths_psi,omitempty"` // how far the dial reads above the true pressure
	Feet       *int   `json:"altitude_feet,omitempty"`
	FoundMet   bool   `json:"found_met,omitempty"` // the person found the same process in current guidance
	LidLot     string `json:"lid_lot,omitempty"`
	Notes      string `json:"notes,omitempty"`
	RecipeFrom string `json:"recipe_from,omitempty"`
}

// NewBatch begins a batch of a product.
func NewBatch(product string, now time.Time) (*Batch, error) {
	head, err := newHead(now)
	if err != nil {
		return nil, fmt.Errorf("batch: %w", err)
	}
	return &Batch{Head: head, Product: product, Made: DayOf(now), Count: 1}, nil
}

// Kind implements [Record].
func (b *Batch) Kind() Kind { return Batches }

func (b *Batch) body() ([]byte, error) { return bodyOf(b) }

// Encode implements [Record].
func (b *Batch) Encode() ([]byte, error) { return encode(b, b) }

// said lists the signs of the record that a batch carries.
func (b *Batch) said() []struct {
	Field string
	Sign  rules.SignID
	Value string
} {
	return []struct {
		Field string
		Sign  rules.SignID
		Value string
	}{
		{"condition", rules.SignCondition, b.Condition},
		{"standing", rules.SignStanding, b.Standing},
		{"method", rules.SignMethod, b.Method},
		{"acid", rules.SignAcid, b.Acid},
		{"extras", rules.SignExtras, b.Extras},
		{"closure", rules.SignClosure, b.Closure},
	}
}

// The limits of a process, far outside what a household canner can do.
const (
	mostMinutes   = 1000
	mostTenthsPSI = 300
)

// Validate implements [Record].
func (b *Batch) Validate() error {
	f := faults{record: "batch " + b.ID}
	b.check(&f)
	if !IsName(b.Product) {
		f.add("product", "%q is not a name", b.Product)
	}
	f.text("title", b.Title, MostName)
	f.text("table", b.Table, MostName)
	f.text("lid_lot", b.LidLot, MostName)
	f.text("recipe_from", b.RecipeFrom, MostName)
	f.text("notes", b.Notes, MostNotes)
	f.day("made", b.Made)
	f.within("count", b.Count, 1, MostJars, "jars")
	var sizes []string
	for _, s := range Sizes {
		sizes = append(sizes, s.ID)
	}
	f.one("size", b.Size, sizes...)
	for _, s := range b.said() {
		if _, ok := s.Sign.ValueByID(s.Value); s.Value != "" && !ok {
			f.add(s.Field, "%q is none of its values", s.Value)
		}
	}
	if _, ok := rules.SignProcess.ValueByID(b.Followed); b.Followed != "" && !ok {
		f.add("followed", "%q is none of its values", b.Followed)
	}
	f.one("pack", b.Pack, process.IDs(process.Packs)...)
	f.one("gauge", b.Gauge, process.IDs(process.Gauges)...)
	f.one("vented", b.Vented, process.IDs(process.Vents)...)
	for _, n := range []struct {
		field     string
		v         *int
		low, high int
		unit      prose.Text
	}{
		{"minutes", b.Minutes, 0, mostMinutes, "minutes"},
		{"tenths_psi", b.TenthsPSI, 0, mostTenthsPSI, "tenths of a psi"},
		{"reads_high_tenths_psi", b.ReadsHigh, -100, 100, "tenths of a psi"},
		{"altitude_feet", b.Feet, -1500, MostAltitude, "feet"},
	} {
		if n.v != nil {
			f.within(n.field, *n.v, n.low, n.high, n.unit)
		}
	}
	return f.err()
}

// MadeAfter reports whether the batch was made after a day: a date in the future is
// a typing error.
func (b *Batch) MadeAfter(today Day) bool { return b.Made > today }

// Name is the household's own name for the batch, or that of its product.
func (b *Batch) Name() prose.Text {
	if b.Title != "" {
		return prose.Own(b.Title)
	}
	if p, ok := rules.ProductByID(b.Product); ok {
		return p.Name
	}
	return prose.Own(b.Product)
}

// Food is the product of the batch. A product that is no longer in the
// catalog is judged as unknown contents, and so is a jar whose batch is not
// recorded, which is nil.
func (b *Batch) Food() *rules.Product {
	if b != nil {
		if p, ok := rules.ProductByID(b.Product); ok {
			return p
		}
	}
	p, _ := rules.ProductByID("unknown-contents")
	return p
}

// Processing is what the batch says about its process, for the published
// tables. Without an altitude of its own it uses the household's.
func (b *Batch) Processing(household *int) process.Record {
	r := processed.Record(b.Food(), b.Table)
	for _, s := range Sizes {
		if s.ID == b.Size {
			r.Jar = s.Jar
		}
	}
	r.Pack, r.Gauge, r.Vented = process.PackByID(b.Pack), process.GaugeByID(b.Gauge), process.VentByID(b.Vented)
	r.Minutes, r.Pressure, r.ReadsHigh = known(b.Minutes), known(b.TenthsPSI), known(b.ReadsHigh)
	r.Altitude = known(b.Feet)
	if b.Feet == nil && household != nil {
		r.Altitude = process.BandUpTo(process.Feet(*household))
	}
	r.Method = processed.Method(rules.SignMethod.ValueByID(b.Method))
	return r
}

func known(n *int) process.Range {
	if n == nil {
		return process.Range{}
	}
	return process.Exactly(*n)
}

// Process judges the process by the published tables.
func (b *Batch) Process(household *int) process.Judgment {
	return process.Was(b.Processing(household))
}

// processValues is what the judgment of the figures says about the sign. What
// the household says counts only where the figures leave it open.
func (b *Batch) processValues(household *int) []rules.Value {
	followed, said := rules.SignProcess.ValueByID(b.Followed)
	return processed.Values(b.Process(household).Possible, b.FoundMet, followed, said)
}

// Tell narrows a situation to what the record of the batch says.
func (b *Batch) Tell(s *rules.Situation, household *int) {
	values := b.processValues(household)
	for _, said := range b.said() {
		if v, ok := said.Sign.ValueByID(said.Value); ok {
			values = append(values, v)
		}
	}
	// The record is applied first and one value per sign: it can't contradict.
	_ = s.Tell(values...)
}

// Year is the year of a day.
func (d Day) Year() string {
	year, _, _ := strings.Cut(string(d), "-")
	return year
}
