package rules_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
)

// searches is what people type and the product they mean.
var searches = []struct{ query, want string }{
	// as it is called
	{"peaches", "peaches"}, {"green beans", "green-beans"}, {"tomato salsa", "tomato-salsa"}, {"dill pickles", "dill-pickles"},
	{"chicken", "chicken"}, {"salmon", "salmon"}, {"sauerkraut", "sauerkraut"}, {"venison", "venison"}, {"ham", "ham"},
	{"strawberry jam", "strawberry-jam"}, {"apple butter", "apple-butter"}, {"pumpkin butter", "pumpkin-butter"}, {"butter", "butter"},
	{"pesto", "pesto"}, {"ketchup", "ketchup"}, {"chili", "chili"}, {"corn", "corn-whole"}, {"peas", "peas"}, {"figs", "figs"},
	{"beets", "beets"}, {"tuna", "tuna"}, {"eggs", "eggs"}, {"milk", "milk"}, {"cheese", "cheese"}, {"garlic", "garlic"},
	{"mango", "mango-ripe"}, {"melon", "melon"}, {"bacon", "bacon"}, {"crab", "crab"}, {"lentils", "lentils"}, {"pawpaw", "pawpaw"},
	// singular, plural, word order
	{"peach", "peaches"}, {"pear", "pears"}, {"tomatoes", "tomatoes-whole"}, {"tomato", "tomatoes-whole"}, {"potato", "potatoes"},
	{"cherry jam", "cherry-jam"}, {"jam cherry", "cherry-jam"}, {"beans green", "green-beans"}, {"blackberry", "blackberries"},
	{"raspberry", "raspberries"}, {"pickled red beets", "pickled-beets"}, {"juice of grapes", "grape-juice"}, {"sauce tomato", "tomato-sauce"},
	{"fiddlehead", "fiddleheads"}, {"ramp", "ramps"}, {"mushroom", "mushrooms"}, {"carrot", "carrots"}, {"olive", "olives"},
	{"pickle dill", "dill-pickles"}, {"relish corn", "corn-relish"}, {"jelly grape", "grape-jelly"}, {"syrup elderberry", "elderberry-syrup"},
	// spelling
	{"tomatos", "tomatoes-whole"}, {"tomatoe", "tomatoes-whole"}, {"potatos", "potatoes"}, {"strawbery jam", "strawberry-jam"},
	{"rasberry jam", "raspberry-jam"}, {"bluberries", "blueberries"}, {"blue berries", "blueberries"}, {"huckelberries", "huckleberries"},
	{"saurkraut", "sauerkraut"}, {"sourkraut", "sauerkraut"}, {"sauerkruat", "sauerkraut"}, {"zuchini", "summer-squash"},
	{"zucchinni", "summer-squash"}, {"cauliflour", "cauliflower"}, {"brocolli", "broccoli"}, {"asparagas", "asparagus"},
	{"rhubard", "rhubarb"}, {"marmelade", "marmalade"}, {"apircots", "apricots"}, {"dandylion jelly", "dandelion-jelly"},
	{"chokecherrys", "chokecherry-jelly"}, {"spagetti sauce", "spaghetti-sauce"}, {"ketsup", "ketchup"}, {"piccallili", "piccalilli"},
	{"jalepenos", "peppers"}, {"pickled jalepenos", "pickled-jalapenos"}, {"red cabbage", "cabbage"}, {"horse radish", "horseradish"}, {"cranbery sauce", "cranberry-sauce"}, {"venisen", "venison"},
	{"chiken", "chicken"}, {"chickn broth", "chicken-broth"}, {"salmn", "salmon"}, {"mackeral", "oily-fish"}, {"sucotash", "succotash"},
	{"spinich", "spinach"}, {"elder berry jelly", "elderberry-jelly"}, {"rose hip", "rose-hip-jelly"}, {"rosehip jelly", "rose-hip-jelly"},
	{"crabapple jelly", "crab-apple-jelly"}, {"crab-apple jelly", "crab-apple-jelly"}, {"pineaple", "pineapple"}, {"nectarins", "nectarines"},
	{"lemmon curd", "lemon-curd"}, {"worstershire pesto", "pesto"}, {"brocoli", "broccoli"}, {"artichoks", "artichokes"}, {"tomatilos", "tomatillos"},
	// accents, hyphens, capitals
	{"PEACHES", "peaches"}, {"bread-and-butter", "bread-and-butter-pickles"}, {"bread and butter pickles", "bread-and-butter-pickles"},
	{"bread & butter pickles", "bread-and-butter-pickles"}, {"jalapeño", "peppers"}, {"jalapeno jelly", "pepper-jelly"},
	{"purée of pumpkin", "pumpkin-puree"}, {"pumpkin puree", "pumpkin-puree"}, {"pate", "organ-meat"}, {"ragu", "meat-sauce"},
	{"Brussels sprouts", "brussels-sprouts"}, {"chow chow", "piccalilli"}, {"three bean salad", "three-bean-salad"},
	{"black-eyed peas", "field-peas"}, {"bear's garlic", "ramps"}, {"lions mane", "wild-mushrooms"},
	// British
	{"beetroot", "beets"}, {"pickled beetroot", "pickled-beets"}, {"courgettes", "summer-squash"}, {"courgette", "summer-squash"},
	{"aubergine", "eggplant"}, {"runner beans", "green-beans"}, {"French beans", "green-beans"}, {"broad beans", "broad-beans"},
	{"swede", "turnips"}, {"sweetcorn", "corn-whole"}, {"gherkins", "sweet-pickles"}, {"passata", "tomato-sauce"}, {"mince", "ground-beef"},
	{"minced beef", "ground-beef"}, {"gammon", "ham"}, {"prawns", "shrimp"}, {"stock", "chicken-broth"}, {"chicken stock", "chicken-broth"},
	{"beef stock", "beef-broth"}, {"bilberries", "huckleberries"}, {"whortleberries", "huckleberries"}, {"damsons", "plums"},
	{"damson jam", "plum-jam"}, {"greengages", "plums"}, {"bramble jelly", "blackberry-jam"}, {"blackcurrants", "currants"},
	{"redcurrant jelly", "currant-jelly"}, {"sloe jelly", "wild-plum-jelly"}, {"ramsons", "ramps"}, {"wild garlic", "ramps"},
	{"piccalilli", "piccalilli"}, {"pickled walnuts", "pickled-walnuts"}, {"mincemeat", "mincemeat"}, {"elderflower cordial", "elderflower-cordial"},
	{"rashers", "bacon"}, {"kippers", "smoked-fish"}, {"chilli jam", "pepper-jelly"}, {"chillies", "peppers"}, {"haricot beans", "dry-beans"},
	{"mushy peas", "refried-beans"}, {"rollmops", "pickled-fish"}, {"chilli con carne", "chili"}, {"rocket", "lettuce"},
	// Australian and New Zealand
	{"rockmelon", "melon"}, {"capsicum", "peppers"}, {"pickled capsicum", "pickled-bell-peppers"}, {"kumara", "sweet-potatoes"},
	{"silverbeet", "spinach"}, {"snags", "sausage"}, {"bottled peaches", "peaches"}, {"nashi", "pears-asian"}, {"butternut pumpkin", "winter-squash"},
	{"passionfruit butter", "fruit-curd"}, {"chook", "chicken"}, {"yabbies", "other-shellfish"}, {"paw paw", "pawpaw"}, {"tomato relish", "chutney"},
	// American and Canadian
	{"catsup", "ketchup"}, {"string beans", "green-beans"}, {"snap beans", "green-beans"}, {"garbanzo beans", "dry-beans"},
	{"rutabaga", "turnips"}, {"collards", "greens"}, {"salsa verde", "tomatillo-salsa"}, {"cantaloupe", "melon"}, {"juneberries", "saskatoons"},
	{"saskatoon", "saskatoons"}, {"serviceberry", "saskatoons"}, {"partridgeberries", "lingonberries"}, {"hamburger", "ground-beef"},
	{"deer meat", "venison"}, {"moose", "venison"}, {"hot dogs", "smoked-sausage"}, {"bone broth", "chicken-broth"}, {"apple cider", "apple-juice"},
	{"chow-chow", "piccalilli"}, {"mayhaw", "mayhaw-jelly"}, {"lima beans", "lima-beans"}, {"wax beans", "wax-beans"}, {"pork and beans", "beans-in-sauce"},
	{"morels", "wild-mushrooms"}, {"steelhead", "salmon"}, {"banana bread", "bread-in-a-jar"}, {"cowboy caviar", "corn-bean-salsa"},
	// unfinished
	{"peac", "peaches"}, {"strawb", "strawberries"}, {"sauerk", "sauerkraut"}, {"dill pi", "dill-pickles"}, {"pumpkin bu", "pumpkin-butter"},
	{"white pea", "peaches-white"}, {"chicken noo", "pasta-dishes"}, {"asp", "asparagus"}, {"lila", "lilac-jelly"},
	// more words than the name has
	{"grandmother's strawberry jam", "strawberry-jam"}, {"a jar of pickled onions", "pickled-onions"}, {"canned salmon", "salmon"},
	{"home canned venison", "venison"}, {"tinned tomatoes", "tomatoes-crushed"}, {"plain zucchini", "summer-squash"},
}

func TestSearchFindsWhatPeopleMean(t *testing.T) {
	for _, c := range searches {
		found := rules.Search(c.query, 3)
		if len(found) == 0 {
			t.Errorf("%q: got nothing, want %s", c.query, c.want)
		} else if found[0].Product.ID != c.want {
			t.Errorf("%q: got %s first, want %s (then %s)", c.query, found[0].Product.ID, c.want, ids(found[1:]))
		}
	}
}

func ids(hits []rules.Hit) string {
	var s []string
	for _, h := range hits {
		s = append(s, h.Product.ID)
	}
	return strings.Join(s, ", ")
}

func TestEveryProductIsFoundByItsNames(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		for _, name := range []string{p.Name.String(), strings.ToUpper(p.Name.String()), strings.ReplaceAll(p.Name.String(), " ", "-")} {
			if found := rules.Search(name, 1); len(found) == 0 || found[0].Product != p {
				t.Errorf("%s: %q: got %s first", p.ID, name, ids(found))
			}
		}
		for _, name := range p.Also {
			if found := rules.Search(name, 3); !slices.ContainsFunc(found, func(h rules.Hit) bool { return h.Product == p && len(h.NotCovered) == 0 }) {
				t.Errorf("%s: its other name %q: got %s", p.ID, name, ids(found))
			}
		}
	}
}

func TestSearchIsDeterministicAndLimited(t *testing.T) {
	for _, q := range []string{"", "   ", "jam", "pickled", "b", "fruit"} {
		first := rules.Search(q, 20)
		for range 5 {
			if again := rules.Search(q, 20); !reflect.DeepEqual(first, again) {
				t.Errorf("%q: got %s, then %s, want the same", q, ids(first), ids(again))
			}
		}
		if short := rules.Search(q, 4); !reflect.DeepEqual(short, first[:4]) {
			t.Errorf("%q: got %s with a limit of 4, want the first 4 of 20: %s", q, ids(short), ids(first[:4]))
		}
	}
	if n := len(rules.Search("jam", 0)) + len(rules.Search("jam", -1)) + len(rules.Search("", -1)); n != 0 {
		t.Errorf("a limit of 0 or less: got %d products, want none", n)
	}
	all := rules.Search("", len(rules.Catalog)+1)
	if len(all) != len(rules.Catalog) {
		t.Fatalf("the empty query: got %d products, want all %d", len(all), len(rules.Catalog))
	}
	for i, h := range all {
		if h.Product != &rules.Catalog[i] {
			t.Fatalf("the empty query: got %s at %d, want shelf order", h.Product.ID, i)
		}
	}
	for _, q := range []string{"xyzzyq", strings.Repeat("q", 200), strings.Repeat("peach", 5000), "日本", "\xff\xfe", "-&-", "???"} {
		if found := rules.Search(q, 5); len(found) != 0 {
			t.Errorf("%q: got %s, want nothing", q, ids(found))
		}
	}
}

// Names that fit equally well come in shelf order.
func TestSearchKeepsShelfOrderAmongEquals(t *testing.T) {
	var got []string
	for _, h := range rules.Search("jam", 100) {
		p := h.Product
		if strings.HasSuffix(p.Name.String(), " jam") && strings.Count(p.Name.String(), " ") == 1 {
			got = append(got, p.ID)
		}
	}
	want := strings.Fields(`strawberry-jam raspberry-jam blackberry-jam blueberry-jam apricot-jam peach-jam plum-jam cherry-jam
		gooseberry-jam rhubarb-jam tomato-jam freezer-jam`)
	if !slices.Equal(got, want) {
		t.Errorf("jam: got %v, want %v", got, want)
	}
}

// Dangerous neighbors share words with safe ones and must not hide behind them.
func TestSearchKeepsDangerousNeighborsApart(t *testing.T) {
	for _, c := range []struct{ query, want string }{
		{"pumpkin purée", "pumpkin-puree"}, {"mashed pumpkin", "pumpkin-puree"}, {"white peaches", "peaches-white"},
		{"elderberry", "elderberries"}, {"wild mushrooms", "wild-mushrooms"}, {"ripe mango", "mango-ripe"}, {"green mango", "mango-green"},
		{"garlic in oil", "garlic-in-oil"}, {"chicken noodle soup", "noodle-soup"}, {"cream of tomato soup", "tomato-soup"},
		{"ground turkey", "ground-poultry"}, {"pickled eggs", "pickled-eggs"}, {"smoked salmon", "smoked-fish"}, {"refried beans", "refried-beans"},
		{"sun-dried tomatoes in oil", "vegetables-in-oil"}, {"beef stew", "vegetable-soup"}, {"stew", "combination-meals"}, {"beef curry", "combination-meals"}, {"beef sticks", "jerky"}, {"seal meat", "other-game"}, {"onions, pickled", "pickled-onions"}, {"red cabbage pickled", "pickled-red-cabbage"}, {"meat sauce", "meat-sauce"}, {"corned beef", "corned-beef"},
		{"mustard pickle", "mustard-pickles"}, {"freezer jam", "freezer-jam"}, {"clam chowder", "cream-soup"}, {"peanut butter", "nut-butter"},
	} {
		if found := rules.Search(c.query, 1); len(found) == 0 || found[0].Product.ID != c.want {
			t.Errorf("%q: got %s first, want %s", c.query, ids(found), c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	names := []string{"record", "outside", "glass", "opened", "opening", "storage", "gabbs"}
	for _, c := range []struct {
		id   string
		n    int
		want []string
	}{
		{"recrod", 1, []string{"record"}},
		{"opend", 2, []string{"opened", "opening"}},
		{"open", 3, []string{"opened", "opening"}},
		{"glass", 1, []string{"glass"}},
		{"galss", 1, []string{"glass"}}, // letters swapped are one fault, gabbs is two
		{"zzzzzz", 3, nil},
		{"record", 0, nil},
		{"record", -1, nil},
		{"", 3, nil},
	} {
		if got := rules.Nearest(c.id, names, c.n); !slices.Equal(got, c.want) {
			t.Errorf("Nearest(%q, %d): got %v, want %v", c.id, c.n, got, c.want)
		}
	}
}

func BenchmarkSearch(b *testing.B) {
	for _, q := range []string{"p", "rasberry", "grandmother's strawberry rhubarb jam"} {
		b.Run(q, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				rules.Search(q, 20)
			}
		})
	}
}
