package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"time"

	"larderlamp/rules"
)

// Version is the version of the records' JSON. A record of a later version is
// refused, never guessed at. Version 2 brought the shelf; checks of version 1
// have no jar and no past.
const Version = 2

// MostLabel is how many characters a person's own words for a jar may have.
const MostLabel = 120

// mostAnswers bounds a record that is read; no check has as many signs.
const mostAnswers = 200

// Answer is what was said about one sign of a jar.
type Answer struct {
	Sign     string    `json:"sign"`
	Values   []string  `json:"values"`        // those still possible; all of them mean "don't know"
	All      bool      `json:"all,omitempty"` // the jar shows all of the values at once: the worst counts
	Question string    `json:"question"`      // the question; answers given together share it and At
	At       time.Time `json:"at"`
}

// Check is one dated look at one jar.
type Check struct {
	Head
	Label    string    `json:"label,omitempty"` // the person's own words for the jar
	Jar      string    `json:"jar,omitempty"`   // the jar on the shelf; empty for a jar that is not kept there
	Sweep    string    `json:"sweep,omitempty"` // the sweep in which it was made
	Product  string    `json:"product"`
	Begun    time.Time `json:"begun"`
	Answers  []Answer  `json:"answers"`
	Edition  string    `json:"edition"` // edition of the rules that gave the verdict
	Lowest   string    `json:"lowest"`
	Highest  string    `json:"highest"`
	Finished bool      `json:"finished"`
	Thrown   Day       `json:"thrown,omitempty"` // day on which the jar was thrown out, when it is not on any shelf
}

// NewCheck begins a check of a product.
func NewCheck(product string, now time.Time) (Check, error) {
	head, err := newHead(now)
	if err != nil {
		return Check{}, fmt.Errorf("check: %w", err)
	}
	return Check{Head: head, Product: product, Begun: head.Changed, Answers: []Answer{}}, nil
}

// Kind implements [Record].
func (c *Check) Kind() Kind { return Checks }

func (c *Check) body() ([]byte, error) { return bodyOf(c) }

// SetLabel sets the person's own words for the jar. Spaces around them are cut.
func (c *Check) SetLabel(label string) error {
	label = strings.TrimSpace(label)
	if err := PlainText(label, MostLabel); err != nil {
		return fmt.Errorf("your words for the jar: %w", err)
	}
	c.Label = label
	return nil
}

// Validate says what is wrong with the check: every fault, by field.
func (c *Check) Validate() error {
	f := faults{record: "check " + c.ID}
	c.check(&f)
	f.text("label", c.Label, MostLabel)
	if c.Jar != "" && !isID(c.Jar) || c.Sweep != "" && !isID(c.Sweep) {
		f.add("jar", "%q or the sweep %q is not an id of this program", c.Jar, c.Sweep)
	}
	for _, d := range []struct{ name, value string }{{"product", c.Product}, {"edition", c.Edition}} {
		if !IsName(d.value) {
			f.add(d.name, "%q is not a name", d.value)
		}
	}
	f.time("begun", c.Begun)
	if c.Thrown != "" {
		f.day("thrown", c.Thrown)
	}
	if c.Changed.Before(c.Begun.Add(-48 * time.Hour)) {
		// Clocks are set back, and phones travel, but not by two days.
		f.add("changed", "%s lies before the check was begun", c.Changed.Format(time.RFC3339))
	}
	low, badLow := rules.ParseVerdict(c.Lowest)
	high, badHigh := rules.ParseVerdict(c.Highest)
	switch {
	case badLow != nil:
		f.add("lowest", "%q is not a verdict", c.Lowest)
	case badHigh != nil:
		f.add("highest", "%q is not a verdict", c.Highest)
	case high < low:
		f.add("highest", "%s is milder than %s, the lowest", c.Highest, c.Lowest)
	}
	if len(c.Answers) > mostAnswers {
		f.add("answers", "%d of them, at most %d", len(c.Answers), mostAnswers)
	}
	for i, a := range c.Answers {
		at := fmt.Sprintf("answers: %d", i+1)
		if !IsName(a.Sign) || !IsName(a.Question) {
			f.add(at, "sign %q or question %q is not a name", a.Sign, a.Question)
		}
		if len(a.Values) == 0 || !allNames(a.Values) {
			f.add(at, "%s: the values %s are not names", a.Sign, fmt.Sprintf("%q", a.Values))
		}
	}
	return f.err()
}

// IsName reports whether s can be an id of a product, sign, value or edition.
func IsName(s string) bool {
	if s == "" || len(s) > 80 {
		return false
	}
	for _, r := range s {
		if !(r == '-' || r == '.' || r == '_' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z') {
			return false
		}
	}
	return true
}

func allNames(ss []string) bool {
	return !slices.ContainsFunc(ss, func(s string) bool { return !IsName(s) })
}

// Encode writes the check as JSON, after validating it.
func (c *Check) Encode() ([]byte, error) { return encode(c, c) }

// DecodeCheck reads a check and validates it.
func DecodeCheck(text []byte) (Check, error) {
	c, err := decodeInto(text, &Check{})
	return *c, err
}

// decode reads one JSON value and nothing after it. The errors of the decoder do
// not always say which field they are about; so the first field that can't be
// read by itself is named.
func decode(text []byte, into any) error {
	if _, trip := into.(*Trip); trip {
		var err error
		if text, err = withTripKeys(text); err != nil {
			return err
		}
	}
	err := decodeAll(text, into)
	var fields map[string]json.RawMessage
	if err == nil || json.Unmarshal(text, &fields) != nil {
		return err
	}
	var bad []string
	for field, v := range fields {
		one := slices.Concat([]byte(`{"`+field+`":`), v, []byte("}"))
		if IsName(field) && decodeAll(one, reflect.New(reflect.TypeOf(into).Elem()).Interface()) != nil {
			bad = append(bad, field)
		}
	}
	if len(bad) == 0 {
		return err
	}
	slices.Sort(bad)
	return fmt.Errorf("%s: %w", bad[0], err)
}

func decodeAll(text []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if _, err := d.Token(); err != io.EOF {
		return errors.New("something follows it")
	}
	return nil
}

// FromShelf is the question of answers that the shelf gave: the record of the
// batch, the places, the clock. They are not part of what was seen.
const FromShelf = "shelf"

// MarkUntrue records that a statement of the short look is not true. When it is about
// one sign, that sign is not sound; when it is about several, nothing is known
// about any of them except that they have to be looked at.
func (c *Check) MarkUntrue(g *rules.Glance) {
	if len(g.Signs) != 1 {
		return
	}
	info := g.Signs[0].Info()
	a := Answer{Sign: info.ID, Question: info.ID, At: c.Begun}
	for _, v := range info.Values {
		// The statement does not deny that a closure has no such test.
		if v.Value != info.Sound && v.Value != rules.LidNone && v.Value != rules.PressNone && v.Value != rules.LiftNone {
			a.Values = append(a.Values, v.ID)
		}
	}
	c.Answers = append(c.Answers, a)
}

// Unanswered is the sign of an answer that says that nobody could answer a
// question about several signs: its one value is the id of the question.
const Unanswered = "unanswered"

// Situation is what the answers say about a jar of the product. If the jar shows
// several values of a sign at once, the worst of them counts, given everything
// else.
func (c *Check) Situation(product *rules.Product) rules.Situation {
	s := rules.NewSituation()
	_ = product.Tell(&s) // a test applies every product
	for _, a := range c.Answers {
		// Answers to one check are kept free of contradictions while it is made;
		// one from a damaged or older record is left out, which only leaves more
		// open.
		if !a.All {
			_ = s.TellNamed(a.Sign, a.Values)
		}
	}
	for _, a := range c.Answers {
		if a.All {
			if v := a.worst(s); v != "" {
				_ = s.TellNamed(a.Sign, []string{v})
			}
		}
	}
	return s
}

// worst is the worst of the values, in the situation; empty when there is none.
func (a *Answer) worst(s rules.Situation) string {
	id, ok := rules.SignByID(a.Sign)
	if !ok {
		return ""
	}
	var values []rules.Value
	for _, name := range a.Values {
		if v, ok := id.ValueByID(name); ok {
			values = append(values, v)
		}
	}
	// None of them may be possible, in a damaged record: then there is no worst.
	worst := rules.WorstOf(s, values...)
	if !slices.Contains(values, worst) {
		return ""
	}
	return worst.ID()
}

// Seen is what was seen in the check: the last answer to each sign that the
// record and the shelf do not answer.
func (c *Check) Seen() (seen []Seen) {
	at := map[rules.SignID]int{}
	for _, a := range c.Answers {
		id, ok := rules.SignByID(a.Sign)
		if !ok || a.Question == FromShelf || id.Info().Chapter == rules.ChapterRecord {
			continue
		}
		values := a.Values
		if a.All {
			food, ok := rules.ProductByID(c.Product)
			if !ok {
				food, _ = rules.ProductByID("unknown-contents")
			}
			if worst := a.worst(c.Situation(food)); worst != "" {
				values = []string{worst}
			}
		}
		if i, again := at[id]; again {
			seen[i].Values = values
			continue
		}
		at[id] = len(seen)
		seen = append(seen, Seen{id.ID(), values})
	}
	return
}

// AddCheck adds a check to what happened to the jar, or updates its entry. The
// event has the id of the check.
func (j *Jar) AddCheck(c *Check) {
	e := Event{ID: c.ID, What: Checked, At: c.Begun.Truncate(time.Second), Check: c.ID, Sweep: c.Sweep, Seen: c.Seen()}
	for i := range j.Events {
		if j.Events[i].ID == c.ID {
			e.At, e.Undone, e.Revision = j.Events[i].At, c.IsDeleted(), j.Events[i].Revision+1
			j.Events[i] = e
			return
		}
	}
	e.At = j.afterLooks(e.At)
	j.Events = append(j.Events, e)
}

// DecodeJar reads a jar and validates it.
func DecodeJar(text []byte) (*Jar, error) { return decodeInto(text, &Jar{}) }
