package rules_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"larderlamp/rules"
)

// A condition is a question that somebody can answer, with both answers, a
// reason and a source. Only a food that has a published process can have one.
func TestConditionsAreWhole(t *testing.T) {
	n := 0
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		c := p.Condition
		if c == nil {
			continue
		}
		n++
		if p.Route == rules.RouteNone {
			t.Errorf("%s has a condition but no process that could depend on it", p.ID)
		}
		if !strings.HasSuffix(c.Ask.String(), "?") || strings.Count(c.Ask.String(), "?") != 1 || !strings.HasSuffix(c.Why.String(), ".") {
			t.Errorf("%s: got the condition %q with the reason %q, want one question and a whole sentence", p.ID, c.Ask, c.Why)
		}
		if !strings.HasPrefix(c.OK.String(), "Yes") || !strings.HasPrefix(c.Not.String(), "No") {
			t.Errorf("%s: the answers to %q: got %q and %q, want yes to be the safe one", p.ID, c.Ask, c.OK, c.Not)
		}
		if len(c.Cites) == 0 {
			t.Errorf("%s: the condition has no source", p.ID)
		}
		checkCites(t, "condition of "+p.ID, c.Cites)
	}
	if n < 50 {
		t.Errorf("got %d products with a condition, want at least 50", n)
	}
}

// askedElsewhere names the cautions that the other questions ask in full, and
// by which sign: a food with such a caution needs no condition of its own.
var askedElsewhere = []struct {
	caution string // how it begins
	sign    rules.SignID
}{
	{"Needs its full acid in every jar: 2 tablespoons", rules.SignAcid},
	{"Needs vinegar of at least 5 %", rules.SignAcid},
	{"Acid only through its published recipe: never less vinegar or lemon juice", rules.SignAcid},
	{"White and very ripe mulberries", rules.SignAcid},
	{"Not acid enough by themselves: 1 tablespoon bottled lemon juice", rules.SignAcid},
	{"Figs are not acid enough alone", rules.SignAcid},
	{"Zucchini is not acid: only with the bottled lemon juice", rules.SignAcid},
	{"The acid differs from species to species", rules.SignAcid},
	{"The one published recipe with oil", rules.SignAcid},
	{"Holds meat and suet: pressure only", rules.SignMethod},
	{"Its onions, peppers and mushrooms make it low in acid", rules.SignExtras},
	{"Chiles and onions make it low in acid: pressure only", rules.SignMethod},
	{"Celery, onions and peppers make it low in acid: pressure only", rules.SignMethod},
	// These two are advice about the animal and about taste; neither affects a verdict.
	{"Where chronic wasting disease occurs", rules.SignStanding},
	{"Strong-flavored game is soaked", rules.SignStanding},
}

// A caution that restricts a food with a published process is asked: by the
// condition of the product, or by one of the questions that every such food
// gets. A sentence that only some screens show decides nothing.
func TestEveryRestrictionIsAsked(t *testing.T) {
	used := map[string]bool{}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.Route == rules.RouteNone || p.Caution == "" {
			continue
		}
		elsewhere := false
		for _, a := range askedElsewhere {
			if !strings.HasPrefix(p.Caution.String(), a.caution) {
				continue
			}
			elsewhere, used[a.caution] = true, true
			// Acid is asked only of foods that rest on what was added.
			if a.sign == rules.SignAcid && p.Class != rules.ClassPickled && p.Class != rules.ClassBorderline {
				t.Errorf("%s is %s, so no question asks about its acid: %s", p.ID, p.Class.ID(), p.Caution)
			}
		}
		if p.Condition == nil && !elsewhere {
			t.Errorf("%s: no question asks about %q", p.ID, p.Caution)
		}
	}
	for _, a := range askedElsewhere {
		if !used[a.caution] {
			t.Errorf("no product has the caution %q", a.caution)
		}
	}
}

// Only the corn relish has a tested recipe with flour in it.
func TestFlourBelongsToOneRecipe(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.RecipeThickens != (p.ID == "corn-relish") {
			t.Errorf("%s: got RecipeThickens %v", p.ID, p.RecipeThickens)
		}
		open := rules.NewSituation()
		q := p.Worded(rules.SignQuestion(rules.SignExtras, &open))
		if says := strings.Contains(q.How.String(), "flour paste"); says != p.RecipeThickens {
			t.Errorf("%s: the question about what else is in it: got %q", p.ID, q.How)
		}
	}
}

// A source that nothing cites is either forgotten or unnecessary.
func TestEverySourceIsCited(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var list, rest string
	for _, name := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case name == "cites.go":
			list = string(text)
		case !strings.HasSuffix(name, "_test.go"):
			rest += string(text)
		}
	}
	sources := regexp.MustCompile(`(?m)^\t(src\w+)\s+= Source\{"([^"]+)"`).FindAllStringSubmatch(list, -1)
	if len(sources) < 100 {
		t.Fatalf("got only %d sources in cites.go", len(sources))
	}
	ids := map[string]bool{}
	for _, s := range sources {
		if !strings.Contains(rest, "&"+s[1]+",") {
			t.Errorf("nothing cites %s", s[1])
		}
		if ids[s[2]] {
			t.Errorf("two sources have the id %q", s[2])
		}
		ids[s[2]] = true
	}
}
