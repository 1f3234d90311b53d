package rules_test

import (
	"strings"
	"testing"

	"larderlamp/rules"
)

// families are foods of one kind, found by their ids: they have one acid class,
// except for some exceptions, whose caution says why in these words.
var families = []struct {
	name    string
	has     func(id string) bool
	class   rules.Value
	apart   map[string]string
	mildest rules.Value // what stands apart is never milder than this
}{
	{"jellies and infusions of flowers and herbs", oneOf("dandelion-jelly violet-jelly lilac-jelly rose-petal-jelly flower-jelly elderflower-cordial mint-jelly"),
		rules.ClassBorderline, map[string]string{"mint-jelly": "the acid comes from apple juice or vinegar"}, rules.ClassAcid},
	{"jams, jellies and marmalades of fruit", func(id string) bool {
		fruit := strings.HasSuffix(id, "-jam") || strings.HasSuffix(id, "-jelly") || strings.HasSuffix(id, "-preserves") || id == "marmalade"
		return fruit && !oneOf("dandelion-jelly violet-jelly lilac-jelly rose-petal-jelly flower-jelly mint-jelly")(id)
	}, rules.ClassAcid, map[string]string{
		"fig-jam":            "Figs are not acid enough",
		"pepper-jelly":       "Acid only through its published recipe",
		"tomato-jam":         "Acid only through its published recipe",
		"rose-hip-jelly":     "differs from species to species",
		"elderberry-jelly":   "not acid enough",
		"haw-jelly":          "of unknown acid",
		"prickly-pear-jelly": "The fruit is not acid",
		"vegetable-jam":      "Sugar does not make vegetables or meat acid",
	}, rules.ClassBorderline},
	{"fruit butters", oneOf("apple-butter fruit-butter pumpkin-butter"), rules.ClassAcid,
		map[string]string{"pumpkin-butter": "pH 5.4"}, rules.ClassBorderline},
	{"pie fillings", func(id string) bool { return strings.HasSuffix(id, "-pie-filling") || id == "mincemeat" }, rules.ClassAcid,
		map[string]string{"green-tomato-pie-filling": "Only with the lemon juice", "mincemeat": "Holds meat and suet"}, rules.ClassBorderline},
	{"vegetables pickled in vinegar", func(id string) bool {
		return strings.HasPrefix(id, "pickled-") || strings.HasSuffix(id, "-pickles") || id == "another-pickle" || id == "dilly-beans"
	}, rules.ClassPickled, map[string]string{
		"pickled-fruit":     "white-fleshed", // fruit that is acid itself
		"pickled-mushrooms": "Acid only through its published recipe",
		"mustard-pickles":   "Flour and starch slow the heat",
		"pickled-garlic":    "takes up vinegar slowly",
		"pickled-ramps":     "No published process is known",
		"pickled-walnuts":   "No published process is known",
		"pickled-eggs":      "Refrigerator only",
		"pickled-fish":      "A refrigerator food",
		"pickled-meat":      "Vinegar does not reach the middle of the meat",
		"half-sour-pickles": "Only half fermented",
		"other-pickles":     "No published recipe for the shelf",
	}, rules.ClassAcid},
	{"relishes and chutneys", func(id string) bool { return strings.HasSuffix(id, "-relish") || id == "chutney" || id == "piccalilli" },
		rules.ClassBorderline, nil, rules.ClassBorderline},
	{"salsas", func(id string) bool {
		return strings.HasSuffix(id, "-salsa") || id == "taco-sauce" || id == "hot-sauce"
	}, rules.ClassBorderline,
		map[string]string{"corn-bean-salsa": "use up the acid", "own-salsa": "its acid"}, rules.ClassLow},
	{"meat and beans in sauce, soups and ready meals", func(id string) bool {
		return strings.HasSuffix(id, "-soup") || strings.HasSuffix(id, "-stew") || oneOf("meat-sauce spaghetti-sauce chili beans-in-sauce baked-beans combination-meals gravy")(id)
	}, rules.ClassLow, nil, rules.ClassLow},
	{"elderberries", oneOf("elderberries elderberry-syrup"), rules.ClassLow, nil, rules.ClassLow},
}

func oneOf(list string) func(string) bool {
	return func(id string) bool {
		for _, one := range strings.Fields(list) {
			if one == id {
				return true
			}
		}
		return false
	}
}

// Foods of one family have one class: a new entry that is milder than the rest of
// its family by mistake fails here.
func TestFamiliesHoldTogether(t *testing.T) {
	for _, f := range families {
		members, apart := 0, map[string]bool{}
		for i := range rules.Catalog {
			p := &rules.Catalog[i]
			if !f.has(p.ID) {
				continue
			}
			members++
			why, stands := f.apart[p.ID]
			switch {
			case !stands && p.Class != f.class:
				t.Errorf("%s: %s: got the class %s, want %s as in its family", f.name, p.ID, p.Class.ID(), f.class.ID())
			case stands:
				apart[p.ID] = true
				if p.Class == f.class {
					t.Errorf("%s: %s is listed as an exception but has the class of its family", f.name, p.ID)
				}
				if !strings.Contains(p.Caution.String(), why) {
					t.Errorf("%s: %s is an exception, but its caution does not say %q: %s", f.name, p.ID, why, p.Caution)
				}
				if p.Class < f.mildest {
					t.Errorf("%s: %s: got the class %s, milder than an exception may be", f.name, p.ID, p.Class.ID())
				}
			}
		}
		if members < 2 {
			t.Errorf("%s: got only %d members", f.name, members)
		}
		for id := range f.apart {
			if !apart[id] {
				t.Errorf("%s: there is no product %s", f.name, id)
			}
		}
	}
}
