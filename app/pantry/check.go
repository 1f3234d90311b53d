package pantry

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/google/uuid"
)

// Version is the version of the records' JSON. A record of a later version is
// refused, never guessed at.
const Version = 1

// MostLabel is how many characters a person's own words for a jar may have.
const MostLabel = 120

// mostAnswers bounds a record that is read; no check has as many signs.
const mostAnswers = 200

// Answer is what was said of one sign of a jar.
type Answer struct {
	Sign     string    `json:"sign"`
	Values   []string  `json:"values"`   // those still possible; all of them mean "don't know"
	Question string    `json:"question"` // that was asked; answers given together share it and At
	At       time.Time `json:"at"`
}

// Check is one dated look at one jar.
type Check struct {
	Version  int        `json:"version"`
	ID       string     `json:"id"`              // UUIDv7, so that ids sort by the time they were made
	Label    string     `json:"label,omitempty"` // the person's own words for the jar
	Product  string     `json:"product"`
	Begun    time.Time  `json:"begun"`
	Changed  time.Time  `json:"changed"`
	Answers  []Answer   `json:"answers"`
	Edition  string     `json:"edition"` // of the rules that gave the verdict
	Lowest   string     `json:"lowest"`
	Highest  string     `json:"highest"`
	Finished bool       `json:"finished"`
	Deleted  *time.Time `json:"deleted,omitempty"` // set while it is in the bin
	Revision int64      `json:"revision"`          // grows with every change
}

// NewCheck begins a check of a product.
func NewCheck(product string, now time.Time) (Check, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return Check{}, fmt.Errorf("check: no id: %w", err)
	}
	now = now.UTC()
	return Check{Version: Version, ID: id.String(), Product: product, Begun: now, Changed: now, Answers: []Answer{}}, nil
}

// SetLabel takes the person's own words for the jar. Spaces around them are cut.
func (c *Check) SetLabel(label string) error {
	label = strings.TrimSpace(label)
	if err := plainText(label, MostLabel); err != nil {
		return fmt.Errorf("your words for the jar: %w", err)
	}
	c.Label = label
	return nil
}

// Delete puts the check in the bin: it stays as a mark that it was deleted, so
// that a merge with an older copy does not bring it back.
func (c *Check) Delete(now time.Time) {
	now = now.UTC()
	c.Deleted, c.Changed = &now, now
	c.Revision++
}

// Restore takes the check out of the bin.
func (c *Check) Restore(now time.Time) {
	c.Deleted, c.Changed = nil, now.UTC()
	c.Revision++
}

// plainText tells whether text can be shown without misleading: no control
// characters, and none that turn the direction of writing, with which a label
// could be made to read as something else.
func plainText(text string, most int) error {
	if !utf8.ValidString(text) {
		return errors.New("not readable text")
	}
	if n := utf8.RuneCountInString(text); n > most {
		return fmt.Errorf("%d characters, at most %d", n, most)
	}
	for i, r := range text {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029' {
			return fmt.Errorf("character %d (U+%04X) is not allowed", utf8.RuneCountInString(text[:i])+1, r)
		}
	}
	return nil
}

// verdicts are the ids a check may carry.
var verdicts = []string{"keep", "use-soon", "discard"}

// Validate tells what is wrong with the check: every fault, by field.
func (c *Check) Validate() error {
	f := faults{record: "check " + c.ID}
	if c.Version != Version {
		f.add("version", "%d, this program knows %d", c.Version, Version)
	}
	if id, err := uuid.Parse(c.ID); err != nil || id.Version() != 7 || id.String() != c.ID {
		f.add("id", "%q is not an id of this program", c.ID)
	}
	if err := plainText(c.Label, MostLabel); err != nil {
		f.add("label", "%w", err)
	}
	for _, d := range []struct{ name, value string }{{"product", c.Product}, {"edition", c.Edition}} {
		if !name(d.value) {
			f.add(d.name, "%q is not a name", d.value)
		}
	}
	for _, d := range []struct {
		name  string
		value time.Time
	}{{"begun", c.Begun}, {"changed", c.Changed}} {
		if d.value.Year() < 2000 || d.value.Year() > 9999 {
			f.add(d.name, "%s is not a date a check can have", d.value.Format(time.RFC3339))
		}
	}
	if c.Changed.Before(c.Begun.Add(-48 * time.Hour)) {
		// Clocks are set back, and phones travel, but not by two days.
		f.add("changed", "%s lies before the check was begun", c.Changed.Format(time.RFC3339))
	}
	if c.Revision < 0 {
		f.add("revision", "%d is below zero", c.Revision)
	}
	low, high := slices.Index(verdicts, c.Lowest), slices.Index(verdicts, c.Highest)
	switch {
	case low < 0:
		f.add("lowest", "%q is not a verdict", c.Lowest)
	case high < 0:
		f.add("highest", "%q is not a verdict", c.Highest)
	case high < low:
		f.add("highest", "%s is milder than %s, the lowest", c.Highest, c.Lowest)
	}
	if len(c.Answers) > mostAnswers {
		f.add("answers", "%d of them, at most %d", len(c.Answers), mostAnswers)
	}
	for i, a := range c.Answers {
		at := fmt.Sprintf("answers: %d", i+1)
		if !name(a.Sign) || !name(a.Question) {
			f.add(at, "sign %q or question %q is not a name", a.Sign, a.Question)
		}
		if len(a.Values) == 0 || !allNames(a.Values) {
			f.add(at, "%s: the values %q are not names", a.Sign, a.Values)
		}
	}
	return f.err()
}

// name tells whether s can be an id of a product, sign, value or edition.
func name(s string) bool {
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
	return !slices.ContainsFunc(ss, func(s string) bool { return !name(s) })
}

// Encode writes the check as JSON, after validating it.
func (c *Check) Encode() ([]byte, error) {
	if err := c.Validate(); err != nil {
		return nil, err
	}
	return json.Marshal(c)
}

// DecodeCheck reads a check and validates it. Fields it does not know are an error.
func DecodeCheck(text []byte) (Check, error) {
	var c Check
	if err := decode(text, &c); err != nil {
		return Check{}, fmt.Errorf("check %s: %w", c.ID, err)
	}
	return c, c.Validate()
}

// decode reads one JSON value and nothing after it.
func decode(text []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return err
	}
	if d.More() {
		return errors.New("something follows the record")
	}
	return nil
}

// MergeChecks puts two versions of one check together. The later revision
// stands; of equal ones the one whose bytes sort last, so that the order does
// not matter.
func MergeChecks(a, b Check) (Check, error) {
	if a.ID != b.ID {
		return Check{}, fmt.Errorf("check %s: cannot be merged with check %s", a.ID, b.ID)
	}
	ta, err := a.Encode()
	if err != nil {
		return Check{}, err
	}
	tb, err := b.Encode()
	if err != nil {
		return Check{}, err
	}
	if cmp.Or(cmp.Compare(a.Revision, b.Revision), bytes.Compare(ta, tb)) >= 0 {
		return a, nil
	}
	return b, nil
}
