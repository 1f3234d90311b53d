// Package cases holds the acceptance cases of the rules: jars as published
// guidance describes them, and what must come out. The files are written for a
// food-safety educator to review with a pen; every key is checked, and an unknown
// one is an error.
//
//	ID Sentence that gives the situation and the reason.
//	  product  id from the catalog
//	  like     sound: first, everything about the jar is as it should be
//	  say      sign=value|value, or number=low..high; several on a line
//	  verdict  one word, or lowest..highest
//	  open     the signs that are still open, exactly
//	  fires    rules that must be among the reasons
//	  not      rules that must not
//	  only     a rule and sign=value|value, several: the rule fires here, and with
//	           one of these signs changed for just these values of it
//	  cites    texts that must stand in the sources of the reasons
//	  advice   pieces of advice that must be given
//	  failing  why the rules are known to fail this case; it is an error if it passes
//	  source   publisher, title (read, memory, practice or derived)
package cases

import (
	"embed"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"larderlamp/rules"
)

// One file for each chapter of the guidance.
//
//go:embed *.txt
var files embed.FS

// Case is one acceptance case.
type Case struct {
	Where, ID, Name string // Where is its file and line
	Product         *rules.Product
	Situation       rules.Situation
	Lowest, Highest rules.Verdict
	Open            []string
	Fires, Not      []string
	Only            []Only
	Cites, Advice   []string
	Source          string
	Failing         string
}

// Only says for which values of a sign a rule fires when nothing else changes.
type Only struct {
	Rule string
	Sign rules.SignID
	Set  rules.Set
}

// All reads every case, in the order of the files' names.
func All() ([]Case, error) {
	entries, err := files.ReadDir(".")
	if err != nil {
		return nil, err
	}
	var all []Case
	for _, e := range entries {
		text, err := files.ReadFile(e.Name())
		if err != nil {
			return nil, err
		}
		some, err := Parse(e.Name(), string(text))
		if err != nil {
			return nil, err
		}
		all = append(all, some...)
	}
	seen := map[string]string{}
	for _, c := range all {
		if old, twice := seen[c.ID]; twice {
			return nil, fmt.Errorf("%s: case %s stands at %s too", c.Where, c.ID, old)
		}
		seen[c.ID] = c.Where
	}
	return all, nil
}

// Parse reads the cases of one file; its name is for the errors.
func Parse(name, text string) ([]Case, error) {
	var all []Case
	number := 0
	for line := range strings.Lines(text) {
		number++
		line = strings.TrimRight(line, "\r\n")
		where := fmt.Sprintf("%s:%d", name, number)
		switch {
		case strings.TrimSpace(line) == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "  "):
			if len(all) == 0 {
				return nil, fmt.Errorf("%s: before the first case", where)
			}
			key, value, _ := strings.Cut(strings.TrimSpace(line), " ")
			if err := all[len(all)-1].Set(key, strings.TrimSpace(value)); err != nil {
				return nil, fmt.Errorf("%s: %s: %w", where, key, err)
			}
		default:
			id, sentence, _ := strings.Cut(line, " ")
			if id == "" || sentence == "" {
				return nil, fmt.Errorf("%s: want the id of a case and its sentence, got %q", where, line)
			}
			all = append(all, Case{Where: where, ID: id, Name: sentence, Situation: rules.NewSituation()})
		}
	}
	for _, c := range all {
		if c.Source == "" || c.Lowest == 0 {
			return nil, fmt.Errorf("%s: case %s has no source or no verdict", c.Where, c.ID)
		}
	}
	return all, nil
}

// Set applies one line of the file to the case.
func (c *Case) Set(key, value string) error {
	switch key {
	case "product":
		p, ok := rules.ProductByID(value)
		if !ok {
			return fmt.Errorf("no product %q", value)
		}
		c.Product = p
		return p.Tell(&c.Situation)
	case "like":
		if value != "sound" || c.Product == nil {
			return fmt.Errorf("%q, or no product before it", value)
		}
		return c.Sound()
	case "say":
		for _, word := range strings.Fields(value) {
			if err := c.say(word); err != nil {
				return err
			}
		}
	case "verdict":
		low, high, _ := strings.Cut(value, "..")
		if high == "" {
			high = low
		}
		var err error
		if c.Lowest, err = rules.ParseVerdict(low); err != nil {
			return err
		}
		c.Highest, err = rules.ParseVerdict(high)
		return err
	case "open":
		for _, id := range strings.Fields(value) {
			if _, ok := rules.SignByID(id); !ok {
				return fmt.Errorf("no sign %q", id)
			}
			c.Open = append(c.Open, id)
		}
	case "fires", "not":
		for _, id := range strings.Fields(value) {
			if _, ok := rules.RuleByID(id); !ok {
				return fmt.Errorf("no rule %q", id)
			}
			if key == "fires" {
				c.Fires = append(c.Fires, id)
			} else {
				c.Not = append(c.Not, id)
			}
		}
	case "only":
		words := strings.Fields(value)
		if len(words) < 2 {
			return fmt.Errorf("want a rule and a sign, got %q", value)
		}
		if _, ok := rules.RuleByID(words[0]); !ok {
			return fmt.Errorf("no rule %q", words[0])
		}
		c.Fires = append(c.Fires, words[0])
		for _, word := range words[1:] {
			name, values, _ := strings.Cut(word, "=")
			id, ok := rules.SignByID(name)
			if !ok {
				return fmt.Errorf("no sign %q", name)
			}
			o := Only{Rule: words[0], Sign: id}
			for _, v := range strings.Split(values, "|") {
				value, ok := id.ValueByID(v)
				if !ok {
					return fmt.Errorf("%s: no value %q", name, v)
				}
				o.Set |= 1 << slices.IndexFunc(id.Info().Values, func(i rules.ValueInfo) bool { return i.Value == value })
			}
			c.Only = append(c.Only, o)
		}
	case "failing":
		if value == "" {
			return errors.New("no reason given")
		}
		c.Failing = value
	case "cites":
		c.Cites = append(c.Cites, value)
	case "advice":
		for _, id := range strings.Fields(value) {
			if rules.AdviceByID(id) == nil {
				return fmt.Errorf("no advice %q", id)
			}
			c.Advice = append(c.Advice, id)
		}
	case "source":
		for _, known := range []string{"(read)", "(memory)", "(practice)", "(derived)"} {
			if strings.HasSuffix(value, known) {
				c.Source = value
				return nil
			}
		}
		return fmt.Errorf("%q does not say how it is known", value)
	default:
		return errors.New("no such key")
	}
	return nil
}

// Sound states everything that is true of a good jar of the product: closed,
// canned within the year by a published process of its kind.
func (c *Case) Sound() error {
	for i := range rules.Signs {
		id := rules.SignID(i)
		if id.Fact() || rules.Signs[i].Chapter >= rules.ChapterOpening {
			continue
		}
		v := rules.Signs[i].Sound
		if id == rules.SignMethod && (c.Product.Route == rules.RouteBoiling || c.Product.Route == rules.RoutePasteur) {
			v = rules.MethodBoiling
		}
		if err := c.Situation.Tell(v); err != nil {
			return err
		}
	}
	return c.Situation.Tell(rules.OpenedNo)
}

// say replaces what is known of a sign.
func (c *Case) say(word string) error {
	name, value, ok := strings.Cut(word, "=")
	if !ok {
		return fmt.Errorf("%q is not sign=value", word)
	}
	forget := func(id rules.SignID) {
		c.Situation.Forget(id)
		if ch := id.Info().Chapter; ch >= rules.ChapterOpening && id != rules.SignOpened && c.Situation.Is(rules.OpenedNo) {
			c.Situation.Forget(rules.SignOpened)
		}
	}
	if b, ok := rules.BandByID(name); ok {
		low, high, _ := strings.Cut(value, "..")
		if high == "" {
			high = low
		}
		a, err := strconv.Atoi(low)
		if err != nil {
			return err
		}
		z, err := strconv.Atoi(high)
		if err != nil {
			return err
		}
		forget(b.Sign)
		return c.Situation.TellNumber(name, a, z)
	}
	id, ok := rules.SignByID(name)
	if !ok {
		return fmt.Errorf("no sign %q", name)
	}
	forget(id)
	if value == "?" {
		return nil
	}
	return c.Situation.TellNamed(name, strings.Split(value, "|"))
}
