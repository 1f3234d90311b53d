package cases_test

import (
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/cases"
)

const good = "jam A jar of jam.\n  product strawberry-jam\n  like sound\n  verdict keep\n  source Somebody, Something (read)\n"

func TestParse(t *testing.T) {
	all, err := cases.Parse("a.txt", "# a comment\n\n"+good)
	if err != nil {
		t.Fatal(err)
	}
	if len(all) != 1 || all[0].ID != "jam" || all[0].Name != "A jar of jam." || all[0].Where != "a.txt:3" {
		t.Errorf("got %+v", all)
	}
}

// Every error in a file names its line and key.
func TestParseRefuses(t *testing.T) {
	for what, c := range map[string]struct{ text, want string }{
		"a key before any case":  {"  verdict keep\n", "a.txt:1: before the first case"},
		"a case of no words":     {"jam\n", `a.txt:1: want the id of a case and its sentence, got "jam"`},
		"a key that is not one":  {good + "  color red\n", "a.txt:6: color: no such key"},
		"a food that is not one": {"jam A jar.\n  product gold\n", `a.txt:2: product: no product "gold"`},
		"sound before the food":  {"jam A jar.\n  like sound\n", "a.txt:2: like: "},
		"a sign that is not one": {good + "  say moon=full\n", `a.txt:6: say: no sign "moon"`},
		"no source":              {"jam A jar.\n  verdict keep\n", "a.txt:1: case jam has no source or no verdict"},
		"no verdict":             {"jam A jar.\n  source Somebody (read)\n", "a.txt:1: case jam has no source or no verdict"},
		"an unmarked source":     {good + "  source Somebody\n", `a.txt:6: source: "Somebody" does not say how it is known`},
		"a rule that is not one": {good + "  fires moon.full\n", `a.txt:6: fires: no rule "moon.full"`},
		"only without a sign":    {good + "  only\n", `a.txt:6: only: want a rule and a sign, got ""`},
		"only of another rule":   {good + "  only moon.full lid=down\n", `a.txt:6: only: no rule "moon.full"`},
		"only of another sign":   {good + "  only outside.lid.bulging moon=full\n", `a.txt:6: only: no sign "moon"`},
		"only of another value":  {good + "  only outside.lid.bulging lid=round\n", `a.txt:6: only: lid: no value "round"`},
		"no sign and no value":   {good + "  say lid\n", `a.txt:6: say: "lid" is not sign=value`},
		"a value of another":     {good + "  say lid=spots\n", "a.txt:6: say: lid: "},
		"a number that is none":  {good + "  say age_days=old\n", "a.txt:6: say: "},
		"a range without an end": {good + "  say age_days=3..old\n", "a.txt:6: say: "},
		"a verdict of none":      {good + "  verdict maybe\n", "a.txt:6: verdict: "},
		"a range of none":        {good + "  verdict keep..maybe\n", "a.txt:6: verdict: "},
		"an open sign of none":   {good + "  open moon\n", `a.txt:6: open: no sign "moon"`},
		"advice of none":         {good + "  advice moon\n", `a.txt:6: advice: no advice "moon"`},
		"failing for no reason":  {good + "  failing\n", "a.txt:6: failing: no reason given"},
	} {
		if _, err := cases.Parse("a.txt", c.text); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %s", what, err, c.want)
		}
	}
}

// Every key of a case is read into what it says.
func TestKeys(t *testing.T) {
	all, err := cases.Parse("a.txt", `x A jar that shows everything.
  product strawberry-jam
  like sound
  say lid=flat|bulging rust=?
  say age_days=3..400
  verdict keep..discard
  open rust lid
  fires outside.lid.bulging
  not outside.lid.flat
  only outside.rust.through rust=spots|through
  cites Complete Guide
  advice eaten
  failing the source is read another way
  source Somebody, Something (memory)
`)
	if err != nil {
		t.Fatal(err)
	}
	c := all[0]
	s := &c.Situation
	for v, want := range map[rules.Value]bool{
		rules.LidDown: false, rules.LidFlat: true, rules.LidBulged: true, // one of the two
		rules.RustNone: true, rules.RustThrough: true, // anything again
		rules.AgeDay: false, rules.AgeYear: true, // more than two days, and perhaps more than a year
		rules.GlassSound: true, rules.GlassCracked: false, // as on a sound jar
		rules.MethodBoiling: true, rules.MethodPressure: false, // as jam is canned
	} {
		if got := s.Possible(v); got != want {
			t.Errorf("%s of %s: got possible %t, want %t", v.ID(), v.Sign().ID(), got, want)
		}
	}
	if c.Product.ID != "strawberry-jam" || c.Lowest != rules.Keep || c.Highest != rules.Discard || c.Failing == "" || c.Source == "" {
		t.Errorf("got %+v", c)
	}
	if !slices.Equal(c.Open, []string{"rust", "lid"}) || !slices.Equal(c.Fires, []string{"outside.lid.bulging", "outside.rust.through"}) || !slices.Equal(c.Not, []string{"outside.lid.flat"}) ||
		!slices.Equal(c.Cites, []string{"Complete Guide"}) || !slices.Equal(c.Advice, []string{"eaten"}) {
		t.Errorf("got the lists %v, %v, %v, %v, %v", c.Open, c.Fires, c.Not, c.Cites, c.Advice)
	}
	// Spots and rust through are the second and the third of the values.
	if want := (cases.Only{Rule: "outside.rust.through", Sign: rules.SignRust, Set: 0b110}); !slices.Equal(c.Only, []cases.Only{want}) {
		t.Errorf("got %+v, want %+v", c.Only, want)
	}
}

// All files are read, each case once, from a place in a file.
func TestAll(t *testing.T) {
	all, err := cases.All()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) < 700 {
		t.Errorf("got %d cases, want at least 700", len(all))
	}
	where := map[string]bool{}
	for _, c := range all {
		if where[c.Where] || !strings.Contains(c.Where, ".txt:") {
			t.Errorf("%s: got the place %q, want one of its own", c.ID, c.Where)
		}
		where[c.Where] = true
	}
}
