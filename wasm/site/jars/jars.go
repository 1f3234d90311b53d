// Package jars reads jars as JSON, and writes what is judged of them: the input and
// output of `site check`. It stands by itself, because whatever its fuzz test is
// built from has to be recompiled for it.
package jars

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"larderlamp/rules"
	"larderlamp/rules/process"
	"larderlamp/rules/prose"
)

// InputError is an error in what is read, or asked for.
type InputError struct{ error }

// jarStatement is one jar as it is read.
type jarStatement struct {
	id        string
	product   *rules.Product
	situation rules.Situation
	unlisted  bool          // the product that was named is none
	process   *jarProcess   // nil when no figures are given
	altitude  process.Range // of the process
}

// jarOutcome is one jar as it is printed.
type jarOutcome struct {
	ID        string       `json:"id,omitempty"`
	Product   string       `json:"product,omitempty"`
	Edition   string       `json:"edition"`
	Verdict   string       `json:"verdict"` // the strictest still possible: what to go by
	Lowest    string       `json:"lowest"`
	Highest   string       `json:"highest"`
	Settled   bool         `json:"settled"`
	DoNotOpen bool         `json:"do_not_open"`
	Reasons   []jarReason  `json:"reasons"`
	Open      []string     `json:"open"`
	Ask       string       `json:"ask,omitempty"`      // id of the next question
	Question  prose.Text   `json:"question,omitempty"` // the same in words
	Process   *jarProcess  `json:"process,omitempty"`
	Advice    []jarAdvice  `json:"advice"`
	Near      []jarReason  `json:"nearly,omitempty"`
	Changes   []jarChanges `json:"changes,omitempty"`
}

type jarReason struct {
	Rule  string     `json:"rule"`
	Say   prose.Text `json:"say"`
	Cites []string   `json:"cites"`
}

// jarAdvice is what to do, in the order it has to be done.
type jarAdvice struct {
	ID    string       `json:"id"`
	Title prose.Text   `json:"title"`
	Steps []prose.Text `json:"steps"`
	Cites []string     `json:"cites"`
}

type jarChanges struct {
	Sign    string `json:"sign"`
	Value   string `json:"value"`
	Lowest  string `json:"lowest"`
	Highest string `json:"highest"`
}

// Judge reads the jars in the text and writes their outcomes, with their texts in a
// language; nil is English.
func Judge(name string, text []byte, explain bool, in prose.Language, out io.Writer) error {
	jars, many, faults := readJars(text)
	if len(faults) > 0 {
		for i := range faults {
			faults[i] = fmt.Errorf("%s: %w", name, faults[i])
		}
		return InputError{errors.Join(faults...)}
	}
	outcomes := make([]jarOutcome, len(jars))
	for i := range jars {
		outcomes[i] = jars[i].outcome(explain, in)
	}
	said(reflect.ValueOf(outcomes), in)
	w := bufio.NewWriter(out)
	encode := json.NewEncoder(w)
	encode.SetEscapeHTML(false)
	encode.SetIndent("", "  ")
	var err error
	if many {
		err = encode.Encode(outcomes)
	} else {
		err = encode.Encode(outcomes[0])
	}
	return errors.Join(err, w.Flush())
}

// said puts every text within a value, which would be written in English, into a
// language.
func said(v reflect.Value, in prose.Language) {
	switch {
	case in == nil:
	case v.Type() == reflect.TypeFor[prose.Text]():
		v.Set(reflect.ValueOf(prose.Own(v.Interface().(prose.Text).In(in))))
	case v.Kind() == reflect.Pointer && !v.IsNil():
		said(v.Elem(), in)
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			said(v.Index(i), in)
		}
	case v.Kind() == reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				said(v.Field(i), in)
			}
		}
	}
}

// readJars reads one jar or an array of jars; many tells which. It returns
// every fault it finds, each naming the record and the field.
func readJars(text []byte) (jars []jarStatement, many bool, faults []error) {
	var records []json.RawMessage
	trimmed := bytes.TrimSpace(text)
	switch {
	case len(trimmed) == 0:
		return nil, false, []error{errors.New("empty: expected one jar or an array of jars")}
	case trimmed[0] == '[':
		many = true
		if err := json.Unmarshal(trimmed, &records); err != nil {
			return nil, true, []error{err}
		}
	default:
		if !json.Valid(trimmed) {
			var any json.RawMessage
			return nil, false, []error{json.Unmarshal(trimmed, &any)}
		}
		records = []json.RawMessage{trimmed}
	}
	seen := map[string]int{}
	for i, record := range records {
		jar, errs := readJar(record)
		where := fmt.Sprintf("jar %d", i+1)
		if jar.id != "" {
			where += fmt.Sprintf(" (%q)", jar.id)
			if first, twice := seen[jar.id]; twice {
				errs = append(errs, fmt.Errorf("id: already used by jar %d", first))
			}
			seen[jar.id] = i + 1
		}
		for _, err := range errs {
			faults = append(faults, fmt.Errorf("%s: %w", where, err))
		}
		jars = append(jars, jar)
	}
	return
}

// readJar reads one jar.
func readJar(text []byte) (jar jarStatement, faults []error) {
	jar.situation = rules.NewSituation()
	fault := func(err error) {
		if err != nil {
			faults = append(faults, err)
		}
	}
	members, err := object(text)
	if err != nil {
		return jar, []error{err}
	}
	var heated json.RawMessage
	for _, m := range members {
		switch m.name {
		case "id":
			fault(field("id", json.Unmarshal(m.value, &jar.id)))
			if visible(jar.id) != jar.id {
				fault(fmt.Errorf("id: %q holds characters that cannot be seen", jar.id))
			}
		case "product":
			var id string
			if err := json.Unmarshal(m.value, &id); err != nil {
				fault(field("product", err))
				continue
			}
			product, ok := rules.ProductByID(id)
			if !ok {
				jar.unlisted = true
				fault(field("product", noProduct(id)))
				continue
			}
			jar.product = product
			fault(field("product", product.Tell(&jar.situation)))
		case "process":
			heated = m.value // judged when the rest is known
		case "signs":
			signs, err := object(m.value)
			fault(field("signs", err))
			for _, s := range signs {
				values, err := oneOrMany[string](s.value)
				if err != nil {
					fault(fmt.Errorf("signs: %s: %w", s.name, err))
					continue
				}
				fault(field("signs", jar.situation.TellNamed(s.name, values)))
			}
		case "numbers":
			numbers, err := object(m.value)
			fault(field("numbers", err))
			for _, n := range numbers {
				ends, err := oneOrMany[int](n.value)
				if err != nil || len(ends) == 0 || len(ends) > 2 {
					fault(fmt.Errorf("numbers: %s: want a whole number or [lowest, highest], have %s", n.name, short(n.value)))
					continue
				}
				fault(field("numbers", jar.situation.TellNumber(n.name, ends[0], ends[len(ends)-1])))
			}
		default:
			fault(fmt.Errorf("%s: no such field%s", m.name, didYouMean(m.name, []string{"id", "product", "signs", "numbers", "process"})))
		}
	}
	if heated != nil {
		faults = append(faults, jar.readProcess(heated)...)
	}
	return
}

// field wraps an error with the field it belongs to; nil stays nil.
func field(name string, err error) error {
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// member is one member of a JSON object.
type member struct {
	name  string
	value json.RawMessage
}

// object reads a JSON object. A name that stands in it twice is an error: a
// repeated sign must not silently replace the first.
func object(text []byte) (members []member, err error) {
	d := json.NewDecoder(bytes.NewReader(text))
	d.UseNumber()
	if t, err := d.Token(); err != nil || t != json.Delim('{') {
		return nil, fmt.Errorf("want an object, have %s", short(text))
	}
	for d.More() {
		t, err := d.Token()
		if err != nil {
			return nil, err
		}
		m := member{name: visible(t.(string))}
		if err := d.Decode(&m.value); err != nil {
			return nil, fmt.Errorf("%s: %w", m.name, err)
		}
		if slices.ContainsFunc(members, func(o member) bool { return o.name == m.name }) {
			return nil, fmt.Errorf("%s: stands here twice", m.name)
		}
		members = append(members, m)
	}
	return members, nil
}

// oneOrMany reads a single value or a list of values.
func oneOrMany[T any](text json.RawMessage) (values []T, err error) {
	if len(text) > 0 && text[0] == '[' {
		err = json.Unmarshal(text, &values)
		return
	}
	if string(text) == "null" {
		return nil, errors.New("null is not a value; leave it out when nothing is known")
	}
	values = make([]T, 1)
	err = json.Unmarshal(text, &values[0])
	return
}

// short cuts a text for a message.
func short(text []byte) string {
	if len(text) > 40 {
		return visible(string(text[:40])) + "…"
	}
	return visible(string(text))
}

// visible writes a text as one line in which every character is seen as what it
// is: what steers a terminal, or turns the direction of writing, is written out.
// A name that is known is never changed by it.
func visible(text string) string {
	if !strings.ContainsFunc(text, func(r rune) bool { return r == utf8.RuneError || !unicode.IsGraphic(r) }) {
		return text
	}
	quoted := strconv.QuoteToGraphic(text)
	return quoted[1 : len(quoted)-1]
}

// outcome judges the jar. How a source is known is said in the language.
func (j *jarStatement) outcome(explain bool, in prose.Language) jarOutcome {
	t := rules.Explain(j.situation)
	o := jarOutcome{ID: j.id, Edition: rules.Edition, Verdict: t.Highest.ID(), Lowest: t.Lowest.ID(), Highest: t.Highest.ID(),
		Settled: t.Settled(), DoNotOpen: t.Lowest == rules.Discard && j.situation.Possible(rules.OpenedNo),
		Reasons: []jarReason{}, Open: []string{}, Process: j.process, Advice: []jarAdvice{}}
	if j.product != nil {
		o.Product = j.product.ID
	}
	for _, l := range t.Deciding {
		o.Reasons = append(o.Reasons, printed(l.Rule, in))
	}
	for _, id := range t.Open {
		o.Open = append(o.Open, id.ID())
	}
	for _, a := range rules.AdviceFor(j.situation) {
		o.Advice = append(o.Advice, j.advice(a, in))
	}
	if q, ok := rules.Next(j.situation, rules.Skipped{}); ok {
		if j.product != nil {
			q = j.product.Worded(q)
		}
		o.Ask, o.Question = q.ID, q.Ask
	}
	if explain {
		for _, n := range t.Nearly {
			o.Near = append(o.Near, printed(n.Rule, in))
		}
		for _, c := range t.Changes {
			o.Changes = append(o.Changes, jarChanges{c.Value.Sign().ID(), c.Value.ID(), c.Lowest.ID(), c.Highest.ID()})
		}
	}
	return o
}

// advice is a piece of advice as it is printed; the minutes of boiling are those
// for the altitude, if it is known.
func (j *jarStatement) advice(a *rules.Advice, in prose.Language) jarAdvice {
	steps := append([]prose.Text{}, a.Steps...)
	if a.Boil {
		boil := prose.Text("Boil it 10 minutes, and 1 minute more for each 1,000 ft (305 m) of altitude.")
		if j.altitude.Known {
			boil = prose.Say("Boil it %d minutes at your altitude.", process.BoilMinutes(process.Feet(j.altitude.High)))
		}
		steps = append(steps, boil)
	}
	return jarAdvice{a.ID, a.Title, steps, printedCites(a.Cites, in)}
}

func printed(r *rules.Rule, in prose.Language) jarReason {
	return jarReason{Rule: r.ID, Say: r.Say, Cites: printedCites(r.Cites, in)}
}

func printedCites(cites []rules.Cite, in prose.Language) (all []string) {
	for _, c := range cites {
		all = append(all, c.String()+" ["+c.Known().Text().In(in)+"]")
	}
	return
}
