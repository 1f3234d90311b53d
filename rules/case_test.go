package rules_test

import (
	"bufio"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"larderlamp/rules"
)

// kase is one acceptance case: a jar as guidance describes it, and what must
// come out. The files in testdata/cases are written for a food-safety educator
// to review with a pen; every key is checked, and an unknown one is an error.
//
//	ID Sentence that gives the situation and the reason.
//	  product  id from the catalogue
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
//	  failing  why the rules are known to fail this case; one that passes is an error
//	  source   publisher, title (read, memory, practice or derived)
type kase struct {
	where, id, name string
	product         *rules.Product
	situation       rules.Situation
	lowest, highest rules.Verdict
	open            []string
	fires, not      []string
	only            []sole
	cites, advice   []string
	source          string
	failing         string
}

// sole says for which values of a sign a rule fires, all else being as it is.
type sole struct {
	rule string
	sign rules.SignID
	set  rules.Set
}

func cases(t testing.TB) (all []kase) {
	t.Helper()
	files, err := filepath.Glob("../testdata/cases/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	seen := map[string]string{}
	for _, name := range files {
		file, err := os.Open(name)
		if err != nil {
			t.Fatal(err)
		}
		defer file.Close()
		line, lines := 0, bufio.NewScanner(file)
		for lines.Scan() {
			line++
			text := lines.Text()
			where := fmt.Sprintf("%s:%d", filepath.Base(name), line)
			switch {
			case strings.TrimSpace(text) == "" || strings.HasPrefix(text, "#"):
			case strings.HasPrefix(text, "  "):
				if len(all) == 0 {
					t.Fatalf("%s: before the first case", where)
				}
				key, value, _ := strings.Cut(strings.TrimSpace(text), " ")
				if err := all[len(all)-1].set(key, strings.TrimSpace(value)); err != nil {
					t.Fatalf("%s: %s: %v", where, key, err)
				}
			default:
				id, sentence, ok := strings.Cut(text, " ")
				if old, twice := seen[id]; !ok || twice {
					t.Fatalf("%s: case %s stands at %s too, or has no sentence", where, id, old)
				}
				seen[id] = where
				all = append(all, kase{where: where, id: id, name: sentence, situation: rules.NewSituation()})
			}
		}
	}
	for _, c := range all {
		if c.source == "" || c.lowest == 0 {
			t.Errorf("%s: case %s has no source or no verdict", c.where, c.id)
		}
	}
	return all
}

func (c *kase) set(key, value string) error {
	switch key {
	case "product":
		p, ok := rules.ProductByID(value)
		if !ok {
			return fmt.Errorf("no product %q", value)
		}
		c.product = p
		return p.Tell(&c.situation)
	case "like":
		if value != "sound" || c.product == nil {
			return fmt.Errorf("%q, or no product before it", value)
		}
		return c.sound()
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
		if c.lowest, err = rules.ParseVerdict(low); err != nil {
			return err
		}
		c.highest, err = rules.ParseVerdict(high)
		return err
	case "open":
		for _, id := range strings.Fields(value) {
			if _, ok := rules.SignByID(id); !ok {
				return fmt.Errorf("no sign %q", id)
			}
			c.open = append(c.open, id)
		}
	case "fires", "not":
		for _, id := range strings.Fields(value) {
			if _, ok := rules.RuleByID(id); !ok {
				return fmt.Errorf("no rule %q", id)
			}
			if key == "fires" {
				c.fires = append(c.fires, id)
			} else {
				c.not = append(c.not, id)
			}
		}
	case "only":
		words := strings.Fields(value)
		if _, ok := rules.RuleByID(words[0]); !ok || len(words) < 2 {
			return fmt.Errorf("no rule %q, or no sign after it", words[0])
		}
		c.fires = append(c.fires, words[0])
		for _, word := range words[1:] {
			name, values, _ := strings.Cut(word, "=")
			id, ok := rules.SignByID(name)
			if !ok {
				return fmt.Errorf("no sign %q", name)
			}
			o := sole{rule: words[0], sign: id}
			for _, v := range strings.Split(values, "|") {
				value, ok := id.ValueByID(v)
				if !ok {
					return fmt.Errorf("%s: no value %q", name, v)
				}
				o.set |= 1 << slices.IndexFunc(id.Info().Values, func(i rules.ValueInfo) bool { return i.Value == value })
			}
			c.only = append(c.only, o)
		}
	case "failing":
		if value == "" {
			return fmt.Errorf("no reason given")
		}
		c.failing = value
	case "cites":
		c.cites = append(c.cites, value)
	case "advice":
		for _, id := range strings.Fields(value) {
			if rules.AdviceByID(id) == nil {
				return fmt.Errorf("no advice %q", id)
			}
			c.advice = append(c.advice, id)
		}
	case "source":
		for _, known := range []string{"(read)", "(memory)", "(practice)", "(derived)"} {
			if strings.HasSuffix(value, known) {
				c.source = value
				return nil
			}
		}
		return fmt.Errorf("%q does not say how it is known", value)
	default:
		return fmt.Errorf("no such key")
	}
	return nil
}

// sound tells everything that is true of a good jar of the product: closed,
// canned within the year by a published process of its kind.
func (c *kase) sound() error {
	for i := range rules.Signs {
		id := rules.SignID(i)
		if id.Fact() || rules.Signs[i].Chapter >= rules.ChapterOpening {
			continue
		}
		v := rules.Signs[i].Sound
		if id == rules.SignMethod && (c.product.Route == rules.RouteBoiling || c.product.Route == rules.RoutePasteur) {
			v = rules.MethodBoiling
		}
		if err := c.situation.Tell(v); err != nil {
			return err
		}
	}
	return c.situation.Tell(rules.OpenedNo)
}

// say replaces what is known of a sign.
func (c *kase) say(word string) error {
	name, value, ok := strings.Cut(word, "=")
	if !ok {
		return fmt.Errorf("%q is not sign=value", word)
	}
	forget := func(id rules.SignID) {
		c.situation.Forget(id)
		if ch := id.Info().Chapter; ch >= rules.ChapterOpening && id != rules.SignOpened && c.situation.Is(rules.OpenedNo) {
			c.situation.Forget(rules.SignOpened)
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
		return c.situation.TellNumber(name, a, z)
	}
	id, ok := rules.SignByID(name)
	if !ok {
		return fmt.Errorf("no sign %q", name)
	}
	forget(id)
	if value == "?" {
		return nil
	}
	return c.situation.TellNamed(name, strings.Split(value, "|"))
}

func TestCases(t *testing.T) {
	for _, c := range cases(t) {
		t.Run(c.id, func(t *testing.T) {
			if c.failing != "" {
				if b := table(); !c.fails(&b) {
					t.Errorf("%s: known to fail (%s), and it passes: take the mark off", c.where, c.failing)
				}
				return
			}
			trace := rules.Explain(c.situation)
			if trace.Lowest != c.lowest || trace.Highest != c.highest {
				t.Errorf("%s: %s\n  is %v to %v, want %v to %v", c.where, c.name, trace.Lowest, trace.Highest, c.lowest, c.highest)
			}
			var open []string
			for _, id := range trace.Open {
				open = append(open, id.ID())
			}
			if !slices.Equal(open, c.open) {
				t.Errorf("%s: open are %v, want %v", c.where, open, c.open)
			}
			fired, sources := map[string]bool{}, ""
			for _, l := range append(slices.Clone(trace.Deciding), trace.Also...) {
				fired[l.Rule.ID] = true
				for _, cite := range l.Rule.Cites {
					sources += cite.String() + "\n"
				}
			}
			for _, id := range c.fires {
				if !fired[id] {
					t.Errorf("%s: %s is not among the reasons %v", c.where, id, fired)
				}
			}
			for _, id := range c.not {
				if fired[id] {
					t.Errorf("%s: %s is among the reasons", c.where, id)
				}
			}
			b := table()
			for _, o := range c.only {
				if fires := o.values(&b, c.situation); fires != o.set {
					t.Errorf("%s: %s fires for %b of %s, want %b", c.where, o.rule, fires, o.sign.ID(), o.set)
				}
			}
			for _, text := range c.cites {
				if !strings.Contains(sources, text) {
					t.Errorf("%s: no source says %q; they are\n%s", c.where, text, sources)
				}
			}
			for _, id := range c.advice {
				if !slices.Contains(rules.AdviceFor(c.situation), rules.AdviceByID(id)) {
					t.Errorf("%s: the advice %s is not given", c.where, id)
				}
			}
		})
	}
}

// Every rule is brought in by some case, and left out by another that differs
// from bringing it in by a single condition.
func TestCasesCoverEveryRule(t *testing.T) {
	all := cases(t)
	for p := range rules.Parts {
		for i := range rules.Parts[p].Rules {
			r := &rules.Parts[p].Rules[i]
			fires, near := false, false
			for _, c := range all {
				o := rules.Evaluate(c.situation)
				if o.Certain[p]>>i&1 != 0 {
					fires = true
				}
				failed := 0
				for _, condition := range r.When {
					holds := true
					id := condition[0].Sign()
					s := c.situation
					if id == rules.SignBacking {
						s[id] = o.Backing
					}
					for _, v := range id.Info().Values {
						holds = holds && (!s.Possible(v.Value) || slices.Contains(condition, v.Value))
					}
					if !holds {
						failed++
					}
				}
				near = near || failed == 1 && o.Possible[p]>>i&1 == 0
			}
			if !fires || !near {
				t.Errorf("%s: brought in %v, left out by one condition %v", r.ID, fires, near)
			}
		}
	}
}
