package cases_test

import (
	"strings"
	"testing"

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
	} {
		if _, err := cases.Parse("a.txt", c.text); err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("%s: got %v, want %s", what, err, c.want)
		}
	}
}
