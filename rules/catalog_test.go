package rules_test

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"larderlamp/rules"
	"larderlamp/rules/process"
)

// fillings are the filling styles of the jar picture.
var fillings = strings.Fields(`fruit-halves berries jam jelly pickles relish salsa tomatoes cubes beans grains greens
	shreds broth soup meat fish sauce slices whole-small bread spears sticks pearls juice plain`)

func product(t *testing.T, id string) *rules.Product {
	t.Helper()
	p, ok := rules.ProductByID(id)
	if !ok {
		t.Fatalf("no product %q", id)
	}
	return p
}

// freshOrDried are names of fresh and of dried beans alike: whoever says one is asked
// which, because the times differ.
var freshOrDried = map[string]bool{"butter beans": true, "butterbeans": true, "limas": true}

func TestCatalogShape(t *testing.T) {
	if n := len(rules.Catalog); n < 130 {
		t.Errorf("got %d products, want at least 130", n)
	}
	seen := map[string]bool{}
	names := map[string]string{}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if seen[p.ID] {
			t.Errorf("%s: the id is used twice", p.ID)
		}
		seen[p.ID] = true
		if strings.Trim(p.ID, "abcdefghijklmnopqrstuvwxyz-") != "" || strings.Trim(p.ID, "-") != p.ID || strings.Contains(p.ID, "--") || p.ID == "" {
			t.Errorf("%q is not in kebab case", p.ID)
		}
		if q, ok := rules.ProductByID(p.ID); !ok || q != p {
			t.Errorf("ProductByID(%q): got another product", p.ID)
		}
		for _, name := range append([]string{p.Name.String()}, p.Also...) {
			if key := strings.ToLower(name); names[key] != "" && !freshOrDried[key] {
				t.Errorf("%q names both %s and %s", name, names[key], p.ID)
			} else {
				names[key] = p.ID
			}
			if strings.TrimSpace(name) == "" || !utf8.ValidString(name) {
				t.Errorf("%s: name %q", p.ID, name)
			}
		}
		if !slices.Contains(fillings, p.Food) {
			t.Errorf("%s: no filling style %q", p.ID, p.Food)
		}
		if p.Class.Sign() != rules.SignClass || p.Route.Sign() != rules.SignRoute || p.Keeps.Sign() != rules.SignKeeps {
			t.Errorf("%s: the class, route or keeping time is a value of another sign", p.ID)
		}
		if p.PH.Low > p.PH.High || p.PH.High != 0 && (p.PH.Low < 200 || p.PH.High > 800) {
			t.Errorf("%s: pH %v", p.ID, p.PH)
		}
		if len(p.Cites) == 0 {
			t.Errorf("%s: got no cite, want at least one", p.ID)
		}
		checkCites(t, p.ID, p.Cites)
	}
	if _, ok := rules.ProductByID("no-such-food"); ok {
		t.Error("ProductByID finds a product that does not exist")
	}
}

func checkCites(t *testing.T, where string, cites []rules.Cite) {
	t.Helper()
	for _, c := range cites {
		if c.Source == nil || c.Source.Title == "" || c.Evidence < rules.Read || c.Evidence > rules.Copied {
			t.Errorf("%s: incomplete cite %+v", where, c)
		}
		if c.Locator == "" {
			t.Errorf("%s: the cite of %s names no place in the source", where, c.Source.ID)
		}
	}
}

func TestCatalogIsInShelfOrder(t *testing.T) {
	place := map[rules.Group]int{}
	count := map[rules.Group]int{}
	for i, g := range rules.GroupNames {
		place[g.Group] = i
	}
	last := 0
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		at, ok := place[p.Group]
		if !ok {
			t.Fatalf("%s: unknown group %q", p.ID, p.Group)
		}
		if at < last {
			t.Errorf("%s: group %s comes after %s", p.ID, p.Group, rules.GroupNames[last].Group)
		}
		last = at
		count[p.Group]++
	}
	for _, g := range rules.GroupNames {
		if count[g.Group] < 5 {
			t.Errorf("group %s: got %d products", g.Group, count[g.Group])
		}
	}
}

// keepsLonger names the food that is not acid and yet keeps longer than 4 days in
// the refrigerator, with the source that says so. Eggs are not acid; the vinegar
// they lie in is, and they are published for months in the cold.
var keepsLonger = map[string]string{"pickled-eggs": "refrigerated: 2 to 3 months", "pickled-fish": "refrigerator, within 6 weeks", "maple-syrup": "refrigerated once opened", "horseradish": "fades within 1 to 2 months"}

// What the acid class, the process and the days once opened say about each
// other holds for every product.
func TestCatalogIsStrict(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.Class == rules.ClassLow && p.Route == rules.RouteBoiling {
			t.Errorf("%s: low-acid, yet processed in boiling water", p.ID)
		}
		if p.Route == rules.RoutePressure && p.Class != rules.ClassLow {
			t.Errorf("%s: only a pressure process, yet its class is %s", p.ID, p.Class.ID())
		}
		if source := keepsLonger[p.ID]; source != "" {
			if !slices.ContainsFunc(p.Cites, func(c rules.Cite) bool { return strings.Contains(c.String(), source) }) {
				t.Errorf("%s: kept longer than other food that is not acid, and no cite says %q", p.ID, source)
			}
			if p.Class != rules.ClassLow {
				t.Errorf("%s: listed as low-acid food that keeps longer, yet its class is %s", p.ID, p.Class.ID())
			}
		} else if p.Class == rules.ClassLow && p.Keeps != rules.KeepsLow && p.Keeps != rules.KeepsBroth {
			t.Errorf("%s: low-acid, yet it keeps like %s once opened", p.ID, p.Keeps.ID())
		}
		if p.Route == rules.RouteNone && p.Caution == "" {
			t.Errorf("%s: no process, and no caution that says why", p.ID)
		}
		if p.Class == rules.ClassBorderline && p.Caution == "" {
			t.Errorf("%s: borderline, and no caution about its acid", p.ID)
		}
		if p.ForMonths() && (p.Condition == nil || p.Class < rules.ClassBorderline) {
			t.Errorf("%s: keeps for some months, but no question asks about what makes it keep", p.ID)
		}
		// Food in oil is preserved by its own acid, or not at all.
		if p.Group == rules.GroupNever && p.Route != rules.RouteNone && !(p.Route == rules.RouteBottle && slices.Contains(oily, p.ID)) {
			t.Errorf("%s: must not be canned, yet its process is %s", p.ID, p.Route.ID())
		}
		if p.Group == rules.GroupNever && p.Class < rules.ClassBorderline {
			t.Errorf("%s: must not be canned, yet %s", p.ID, p.Class.ID())
		}
	}
}

func TestLookAlikes(t *testing.T) {
	carried := map[rules.Value]int{}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		had := map[rules.SignID]bool{}
		for _, l := range p.Looks {
			s := l.Trait.Sign()
			if s < rules.SignHazes || s > rules.SignTogether || slices.Contains(noLook, l.Trait) {
				t.Errorf("%s: %q is not a trait", p.ID, l.Looks)
				continue
			}
			if had[s] {
				t.Errorf("%s: %s twice", p.ID, s.ID())
			}
			had[s] = true
			carried[l.Trait]++
			if l.Looks == "" || l.Cause == "" || l.Flip == "" || len(l.Cites) == 0 {
				t.Errorf("%s: %s lacks a text or a cite", p.ID, s.ID())
			}
			checkCites(t, p.ID+" "+s.ID(), l.Cites)
			if l.Trait == rules.HazesYes && p.Class != rules.ClassPickled && !slices.Contains(ferments, p.ID) && !slices.Contains(oily, p.ID) {
				t.Errorf("%s: a hazy liquid is harmless only in pickles, ferments and food in oil", p.ID)
			}
			if slices.Contains([]rules.Value{rules.SettlesJam}, l.Trait) && p.Class != rules.ClassAcid && p.LookAlikeFor(rules.SignFoams) == nil {
				t.Errorf("%s: %s is for jam, jelly and fruit butter", p.ID, l.Trait.ID())
			}
			if l.Trait == rules.FoamsYes && p.Group != rules.GroupJam && p.Group != rules.GroupForaged {
				t.Errorf("%s: a dry skin of foam is harmless only on jam and jelly", p.ID)
			}
			// Two looks together are harmless only where each of them is by itself.
			for _, one := range together[l.Trait] {
				if !slices.ContainsFunc(one, func(v rules.Value) bool {
					look := p.LookAlikeFor(v.Sign())
					return look != nil && look.Trait == v
				}) {
					t.Errorf("%s: %s, but none of %v is listed as harmless by itself", p.ID, l.Trait.ID(), valueNames(one))
				}
			}
		}
		if p.Group == rules.GroupUnlisted && len(p.Looks) != 0 {
			t.Errorf("%s: a look is called harmless for a food that is not in the list", p.ID)
		}
		if p.Pigment && had[rules.SignBlues] {
			t.Errorf("%s: blue is called harmless, though its red pigment turns blue without acid", p.ID)
		}
	}
	for s := rules.SignHazes; s <= rules.SignTogether; s++ {
		for _, v := range s.Info().Values {
			if !slices.Contains(noLook, v.Value) && carried[v.Value] == 0 {
				t.Errorf("no product carries %s %s", s.ID(), v.ID)
			}
		}
	}
}

func valueNames(vs []rules.Value) (ids []string) {
	for _, v := range vs {
		ids = append(ids, v.Sign().ID()+" "+v.ID())
	}
	return
}

// ferments are the foods whose brine is cloudy because they fermented.
var ferments = strings.Fields("sauerkraut sauerkraut-raw half-sour-pickles")

// oily food has oil in it, which turns cloudy in the cold.
var oily = strings.Fields("marinated-peppers pickled-mushrooms acidified-oil garlic-in-oil herb-oil vegetables-in-oil")

// noLook are the values of the traits that say of a look that it is not harmless.
var noLook = []rules.Value{rules.HazesNo, rules.SettlesNo, rules.AbsorbsNo, rules.FadesNo, rules.PinksNo, rules.BluesNo, rules.BluesAcid,
	rules.BrownsNo, rules.DarkensNo, rules.CrystalsNo, rules.SpecksNo, rules.FattyNo, rules.FoamsNo, rules.TogetherNo}

// together holds the looks that two looks at once are made of: a color, and a
// cloud or a layer.
var together = map[rules.Value][][]rules.Value{
	rules.TogetherPink: {{rules.PinksYes}, {rules.HazesYes, rules.SettlesYes}},
	rules.TogetherDull: {{rules.FadesYes, rules.BrownsYes, rules.BrownsSoon, rules.BluesYes}, {rules.HazesYes, rules.SettlesYes, rules.SettlesJam}},
}

// reddened is a second listing, from general knowledge of plants and not from the
// catalog, of the foods whose red or purple is a pigment that turns blue
// without acid. From memory but for cabbage and berries.
var reddened = strings.Fields(`blackberries blueberries raspberries strawberries currants mulberries huckleberries lingonberries lingonberries-raw saskatoons
	elderberries elderberry-syrup elderberry-jelly cherries-sweet cherries-sour cranberry-sauce cranberry-salsa grapes grape-juice plums rhubarb
	berry-syrup blueberry-pie-filling cherry-pie-filling strawberry-jam raspberry-jam blackberry-jam blueberry-jam mixed-berry-jam
	plum-jam plum-preserves cherry-jam currant-jelly rhubarb-jam grape-jelly chokecherry-jelly mayhaw-jelly wild-plum-jelly haw-jelly
	crab-apples-spiced crab-apple-jelly violet-jelly lilac-jelly rose-petal-jelly pickled-red-cabbage`)

// Food that is colored by such a pigment says with its color whether it is acid:
// blue is never usual for it.
func TestBlueSaysThatAcidIsMissing(t *testing.T) {
	for _, id := range reddened {
		if !product(t, id).Pigment {
			t.Errorf("%s has the pigment but is not marked", id)
		}
	}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.Pigment && !slices.Contains(reddened, p.ID) {
			t.Errorf("%s is marked but has no such pigment", p.ID)
		}
		if !p.Pigment {
			continue
		}
		s := rules.NewSituation()
		if err := p.Tell(&s); err != nil {
			t.Fatal(err)
		}
		if !s.Is(rules.BluesAcid) {
			t.Errorf("%s: turning blue is not taken to mean that its acid is missing", p.ID)
		}
		if err := s.Tell(rules.ColorBlue); err != nil {
			t.Fatal(err)
		}
		if o := rules.Evaluate(s); o.Lowest != rules.Discard {
			t.Errorf("%s, turned blue: got %v at best", p.ID, o.Lowest)
		}
	}
}

// harmless is a second listing, made from the tables of harmless oddities and
// not from the catalog: for every trait, each product known for it. An extra
// or missing trait in the catalog fails the test.
var harmless = map[rules.Value]string{
	rules.HazesYes: `fiddlehead-pickles dill-pickles dill-pickles-fermented bread-and-butter-pickles sweet-pickles reduced-salt-pickles
		pickled-carrots pickled-asparagus dilly-beans pickled-cauliflower pickled-onions pickled-bell-peppers pickled-hot-peppers
		pickled-pepper-rings pickled-jalapenos marinated-peppers pickled-mushrooms pickled-okra pickled-green-tomatoes
		pickled-zucchini pickled-red-cabbage mixed-pickles sauerkraut sauerkraut-raw refrigerator-pickles half-sour-pickles
		watermelon-rind-pickles cantaloupe-pickles acidified-oil garlic-in-oil herb-oil vegetables-in-oil`,
	rules.SettlesYes: `applesauce apple-juice fruit-puree grape-juice berry-syrup apple-pie-filling blueberry-pie-filling cherry-pie-filling
		peach-pie-filling green-tomato-pie-filling fiddlehead-pickles dill-pickles dill-pickles-fermented
		bread-and-butter-pickles sweet-pickles reduced-salt-pickles pickled-carrots pickled-asparagus dilly-beans
		three-bean-salad pickled-cauliflower pickled-onions pickled-bell-peppers pickled-hot-peppers pickled-pepper-rings
		pickled-jalapenos marinated-peppers pickled-mushrooms pickled-okra pickled-green-tomatoes pickled-zucchini
		pickled-red-cabbage mixed-pickles sauerkraut sauerkraut-raw refrigerator-pickles half-sour-pickles pickle-relish
		corn-relish piccalilli pepper-relish zucchini-relish chutney watermelon-rind-pickles cantaloupe-pickles tomato-salsa
		green-chile-salsa chile-salsa tomatillo-salsa taco-sauce mango-salsa peach-salsa cranberry-salsa hot-sauce tomatoes-whole
		tomatoes-crushed tomato-juice tomato-vegetable-juice tomato-sauce spaghetti-sauce meat-sauce mexican-tomato-sauce
		stewed-tomatoes tomatoes-okra-zucchini ketchup barbecue-sauce asparagus green-beans wax-beans lima-beans carrots
		corn-whole mixed-vegetables mushrooms okra peas field-peas peppers potatoes sweet-potatoes pumpkin-cubes winter-squash
		spinach greens succotash chicken-broth beef-broth game-broth vegetable-soup chicken-soup bean-soup seafood-soup chili
		dry-beans kidney-beans black-beans chicken chicken-bone-in turkey duck-goose beef pork lamb veal venison bear rabbit
		game-birds`,
	rules.SettlesJam: `cranberry-sauce strawberry-jam raspberry-jam blackberry-jam blueberry-jam mixed-berry-jam apricot-jam peach-jam plum-jam
		plum-preserves cherry-jam gooseberry-jam currant-jelly rhubarb-jam fig-jam grape-jelly apple-jelly quince-jelly
		mint-jelly pepper-jelly marmalade conserve apple-butter fruit-butter low-sugar-jam tomato-jam freezer-jam
		crab-apple-jelly chokecherry-jelly mayhaw-jelly wild-plum-jelly`,
	rules.AbsorbsYes: `corn-cream vegetable-soup chicken-soup bean-soup chili dry-beans kidney-beans black-beans beans-in-sauce baked-beans
		chicken chicken-bone-in turkey duck-goose beef pork lamb veal venison bear rabbit game-birds salmon trout oily-fish
		lean-fish tuna tomatoes-whole tomatoes-crushed`,
	rules.FadesYes: `tomato-sauce tomato-paste spaghetti-sauce meat-sauce mexican-tomato-sauce stewed-tomatoes
		tomatoes-okra-zucchini ketchup apples applesauce apricots blackberries blueberries raspberries strawberries currants gooseberries mulberries
		cherries-sweet cherries-sour cranberry-sauce figs fruit-cocktail fruit-puree citrus-sections grapes grape-juice
		mango-green nectarines papaya peaches pineapple plums rhubarb berry-syrup apple-pie-filling blueberry-pie-filling
		cherry-pie-filling peach-pie-filling green-tomato-pie-filling zucchini-pineapple strawberry-jam raspberry-jam
		blackberry-jam blueberry-jam mixed-berry-jam apricot-jam peach-jam plum-jam plum-preserves cherry-jam gooseberry-jam
		currant-jelly rhubarb-jam fig-jam grape-jelly apple-jelly quince-jelly mint-jelly pepper-jelly marmalade conserve
		apple-butter fruit-butter low-sugar-jam tomato-jam freezer-jam fiddlehead-pickles crab-apples-spiced crab-apple-jelly
		huckleberries chokecherry-jelly mayhaw-jelly wild-plum-jelly dill-pickles dill-pickles-fermented bread-and-butter-pickles
		sweet-pickles reduced-salt-pickles pickled-beets pickled-asparagus dilly-beans three-bean-salad pickled-cauliflower
		pickled-onions pickled-bell-peppers pickled-hot-peppers pickled-pepper-rings pickled-jalapenos marinated-peppers
		pickled-okra pickled-green-tomatoes pickled-zucchini pickled-red-cabbage mixed-pickles refrigerator-pickles
		half-sour-pickles pickle-relish corn-relish piccalilli pepper-relish zucchini-relish chutney spiced-apple-rings
		pickled-fruit watermelon-rind-pickles cantaloupe-pickles tomato-salsa green-chile-salsa chile-salsa tomatillo-salsa
		taco-sauce mango-salsa peach-salsa cranberry-salsa hot-sauce tomatoes-whole tomatoes-crushed tomato-juice
		tomato-vegetable-juice tomatillos asparagus green-beans wax-beans lima-beans beets carrots mixed-vegetables okra peas
		field-peas peppers spinach greens succotash vegetable-soup chicken-soup salmon`,
	rules.PinksYes: `apples applesauce fruit-cocktail fruit-puree nectarines peaches pears pears-asian apple-pie-filling peach-pie-filling
		dill-pickles dill-pickles-fermented reduced-salt-pickles pickled-carrots pickled-asparagus dilly-beans
		pickled-cauliflower pickled-onions pickled-okra pickled-green-tomatoes pickled-zucchini mixed-pickles sauerkraut
		refrigerator-pickles half-sour-pickles piccalilli pickled-fruit chicken chicken-bone-in turkey ham bacon corned-beef
		smoked-sausage`,
	rules.BluesYes: `apples nectarines peaches pears fiddlehead-pickles dill-pickles dill-pickles-fermented bread-and-butter-pickles
		sweet-pickles reduced-salt-pickles pickled-carrots pickled-asparagus dilly-beans pickled-cauliflower pickled-bell-peppers
		pickled-hot-peppers pickled-pepper-rings pickled-jalapenos marinated-peppers pickled-mushrooms pickled-okra
		pickled-green-tomatoes pickled-zucchini mixed-pickles refrigerator-pickles half-sour-pickles pickled-fruit clams oysters
		crab`,
	rules.BrownsYes: `mushrooms pears green-tomato-pie-filling strawberry-jam raspberry-jam blackberry-jam blueberry-jam mixed-berry-jam apricot-jam
		peach-jam plum-jam plum-preserves cherry-jam gooseberry-jam currant-jelly rhubarb-jam fig-jam grape-jelly apple-jelly
		quince-jelly mint-jelly pepper-jelly marmalade conserve apple-butter fruit-butter low-sugar-jam tomato-jam freezer-jam
		fiddlehead-pickles crab-apple-jelly chokecherry-jelly mayhaw-jelly wild-plum-jelly dill-pickles dill-pickles-fermented
		bread-and-butter-pickles sweet-pickles reduced-salt-pickles pickled-asparagus dilly-beans three-bean-salad
		pickled-cauliflower pickled-bell-peppers pickled-hot-peppers pickled-pepper-rings pickled-jalapenos marinated-peppers
		pickled-okra pickled-green-tomatoes pickled-zucchini mixed-pickles refrigerator-pickles half-sour-pickles pickle-relish
		corn-relish piccalilli pepper-relish zucchini-relish chutney green-chile-salsa tomatillo-salsa hot-sauce barbecue-sauce
		tomatillos asparagus green-beans lima-beans mixed-vegetables okra peas field-peas peppers spinach greens succotash
		vegetable-soup chicken-soup beans-in-sauce baked-beans chicken chicken-bone-in turkey duck-goose beef pork lamb veal
		venison bear rabbit game-birds`,
	rules.BrownsSoon: `corn-whole corn-cream apples applesauce apricots fruit-cocktail fruit-puree citrus-sections nectarines peaches
		pineapple mango-green apple-pie-filling peach-pie-filling tomato-salsa chile-salsa taco-sauce tomatoes-whole
		tomatoes-crushed tomato-juice tomato-vegetable-juice tomato-sauce tomato-paste ketchup`,
	rules.DarkensYes: `fiddlehead-pickles dill-pickles dill-pickles-fermented bread-and-butter-pickles sweet-pickles reduced-salt-pickles
		pickled-carrots pickled-asparagus dilly-beans pickled-cauliflower pickled-onions pickled-bell-peppers pickled-hot-peppers
		pickled-pepper-rings pickled-jalapenos pickled-mushrooms pickled-okra pickled-green-tomatoes pickled-zucchini
		pickled-red-cabbage mixed-pickles refrigerator-pickles half-sour-pickles pickle-relish corn-relish piccalilli
		pepper-relish zucchini-relish chutney watermelon-rind-pickles cantaloupe-pickles asparagus carrots mushrooms potatoes
		sweet-potatoes seafood-soup chicken chicken-bone-in turkey duck-goose beef ground-beef pork lamb veal venison
		ground-venison bear rabbit game-birds trout oily-fish lean-fish tuna clams oysters shrimp`,
	rules.CrystalsYes: `grapes grape-juice strawberry-jam raspberry-jam blackberry-jam blueberry-jam mixed-berry-jam apricot-jam peach-jam
		plum-jam plum-preserves cherry-jam gooseberry-jam currant-jelly rhubarb-jam fig-jam grape-jelly apple-jelly quince-jelly
		mint-jelly pepper-jelly marmalade conserve low-sugar-jam tomato-jam freezer-jam crab-apple-jelly chokecherry-jelly
		mayhaw-jelly wild-plum-jelly pickled-asparagus pickled-onions asparagus spinach greens salmon tuna smoked-fish crab
		shrimp`,
	rules.SpecksYes: `pickled-asparagus tomato-sauce tomato-paste ketchup asparagus chicken chicken-bone-in turkey duck-goose beef pork lamb
		veal venison bear rabbit game-birds salmon trout oily-fish lean-fish tuna smoked-fish`,
	rules.FattyYes: `acidified-oil garlic-in-oil herb-oil vegetables-in-oil marinated-peppers pickled-mushrooms meat-sauce chicken-broth beef-broth game-broth vegetable-soup chicken-soup bean-soup
		chili chicken chicken-bone-in turkey duck-goose beef ground-beef pork ground-pork lamb veal venison ground-venison bear
		rabbit game-birds sausage salmon trout oily-fish`,
	rules.FoamsYes: `strawberry-jam raspberry-jam blackberry-jam blueberry-jam mixed-berry-jam apricot-jam peach-jam plum-jam plum-preserves
		cherry-jam gooseberry-jam currant-jelly rhubarb-jam fig-jam grape-jelly apple-jelly quince-jelly mint-jelly pepper-jelly
		marmalade conserve low-sugar-jam tomato-jam freezer-jam crab-apple-jelly chokecherry-jelly mayhaw-jelly wild-plum-jelly`,
	rules.TogetherPink: `sauerkraut`,
	rules.TogetherDull: `strawberry-jam raspberry-jam blackberry-jam blueberry-jam mixed-berry-jam apricot-jam peach-jam plum-jam plum-preserves
		cherry-jam gooseberry-jam currant-jelly rhubarb-jam fig-jam grape-jelly apple-jelly quince-jelly mint-jelly pepper-jelly
		marmalade conserve apple-butter fruit-butter low-sugar-jam tomato-jam freezer-jam fiddlehead-pickles crab-apple-jelly
		chokecherry-jelly mayhaw-jelly wild-plum-jelly dill-pickles dill-pickles-fermented bread-and-butter-pickles sweet-pickles
		reduced-salt-pickles pickled-carrots pickled-asparagus dilly-beans pickled-bell-peppers pickled-hot-peppers
		pickled-pepper-rings pickled-jalapenos marinated-peppers pickled-mushrooms pickled-okra pickled-green-tomatoes
		pickled-zucchini mixed-pickles refrigerator-pickles half-sour-pickles asparagus green-beans lima-beans corn-whole
		mixed-vegetables okra peas field-peas peppers spinach greens succotash vegetable-soup chicken-soup
		applesauce fruit-puree grape-juice berry-syrup apple-pie-filling blueberry-pie-filling cherry-pie-filling peach-pie-filling
		green-tomato-pie-filling pickle-relish corn-relish piccalilli pepper-relish zucchini-relish chutney tomato-salsa green-chile-salsa
		chile-salsa tomatillo-salsa taco-sauce mango-salsa peach-salsa cranberry-salsa hot-sauce tomatoes-whole tomatoes-crushed
		tomato-juice tomato-vegetable-juice tomato-sauce spaghetti-sauce meat-sauce mexican-tomato-sauce stewed-tomatoes
		tomatoes-okra-zucchini ketchup barbecue-sauce`,
}

func TestHarmlessLooksAreThoseListed(t *testing.T) {
	known := func(p *rules.Product, trait rules.Value) bool {
		l := p.LookAlikeFor(trait.Sign())
		return l != nil && l.Trait == trait
	}
	for s := rules.SignHazes; s <= rules.SignTogether; s++ {
		for _, v := range s.Info().Values {
			if slices.Contains(noLook, v.Value) {
				continue
			}
			listed := strings.Fields(harmless[v.Value])
			for _, id := range listed {
				if !known(product(t, id), v.Value) {
					t.Errorf("%s is not known for %s %s, and should be", id, s.ID(), v.ID)
				}
			}
			for i := range rules.Catalog {
				if p := &rules.Catalog[i]; known(p, v.Value) && !slices.Contains(listed, p.ID) {
					t.Errorf("%s is known for %s %s, and should not be", p.ID, s.ID(), v.ID)
				}
			}
		}
	}
}

// A product settles every fact, and nothing it says contradicts itself.
func TestProductTellsEveryFact(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		s := rules.NewSituation()
		if err := p.Tell(&s); err != nil {
			t.Errorf("%s: %v", p.ID, err)
		}
		for f := rules.SignClass; f <= rules.SignTogether; f++ {
			v, ok := s.Known(f)
			if !ok {
				t.Errorf("%s: got the fact %s open, want it settled", p.ID, f.ID())
			} else if f >= rules.SignHazes && slices.Contains(noLook, v) != (p.LookAlikeFor(f) == nil) {
				t.Errorf("%s: the fact %s: got the value %s", p.ID, f.ID(), v.ID())
			}
		}
	}
}

// acidity is a transcription, independent of the catalog, of the published
// pH lists (in hundredths; 0 for none) and of the class the guidance gives.
var acidity = []struct {
	food      string
	low, high int
	class     rules.Value
	products  string
}{
	{"apples, eating", 330, 400, rules.ClassAcid, "apples"},
	{"applesauce", 310, 360, rules.ClassAcid, "applesauce"},
	{"apricots", 330, 480, rules.ClassAcid, "apricots"},
	{"artichokes", 550, 600, rules.ClassLow, "artichokes"},
	{"asparagus", 600, 670, rules.ClassLow, "asparagus"},
	{"bananas", 450, 520, rules.ClassLow, "bananas"},
	{"beans, green", 560, 560, rules.ClassLow, "green-beans"},
	{"beans, wax", 530, 570, rules.ClassLow, "wax-beans"},
	{"beans, kidney", 540, 600, rules.ClassLow, "kidney-beans"},
	{"beans, lima", 650, 650, rules.ClassLow, "lima-beans"},
	{"beans, black", 578, 602, rules.ClassLow, "black-beans"},
	{"beans, pork and tomato sauce", 510, 580, rules.ClassLow, "beans-in-sauce"},
	{"beets", 530, 660, rules.ClassLow, "beets"},
	{"beets, canned acidified", 430, 460, rules.ClassPickled, "pickled-beets"},
	{"blackberries", 385, 450, rules.ClassAcid, "blackberries"},
	{"blueberries", 311, 333, rules.ClassAcid, "blueberries"},
	{"broccoli", 630, 685, rules.ClassLow, "broccoli"},
	{"cabbage, green", 550, 675, rules.ClassLow, "cabbage"},
	{"carrots", 588, 640, rules.ClassLow, "carrots"},
	{"cauliflower", 560, 560, rules.ClassLow, "cauliflower"},
	{"celery", 570, 600, rules.ClassLow, "celery"},
	{"cherries, sweet", 401, 454, rules.ClassAcid, "cherries-sweet"},
	{"cherries, red water-pack", 325, 382, rules.ClassAcid, "cherries-sour"},
	{"corn", 590, 750, rules.ClassLow, "corn-whole corn-cream"},
	{"cucumbers", 512, 578, rules.ClassLow, "cucumbers"},
	{"dill pickles", 320, 370, rules.ClassPickled, "dill-pickles dill-pickles-fermented"},
	{"cucumbers, pickled", 420, 460, rules.ClassPickled, "bread-and-butter-pickles sweet-pickles"},
	{"eggplant", 450, 530, rules.ClassLow, "eggplant"},
	{"elderberry", 470, 520, rules.ClassLow, "elderberries elderberry-syrup"},
	{"figs", 505, 598, rules.ClassBorderline, "figs"},
	{"four-bean salad: low unless a tested pickle", 560, 560, rules.ClassBorderline, "three-bean-salad"},
	{"fruit cocktail", 360, 400, rules.ClassAcid, "fruit-cocktail"},
	{"garlic", 580, 630, rules.ClassLow, "garlic garlic-in-oil"},
	{"grapes, Concord type", 280, 300, rules.ClassAcid, "grapes"},
	{"horseradish", 535, 535, rules.ClassLow, "horseradish"},
	{"jam, fruit", 350, 450, rules.ClassAcid, "strawberry-jam raspberry-jam blackberry-jam blueberry-jam mixed-berry-jam apricot-jam peach-jam plum-jam cherry-jam gooseberry-jam rhubarb-jam"},
	{"jelly, fruit", 300, 350, rules.ClassAcid, "grape-jelly apple-jelly currant-jelly quince-jelly crab-apple-jelly mayhaw-jelly chokecherry-jelly wild-plum-jelly"},
	{"jelly, mint", 301, 301, rules.ClassAcid, "mint-jelly"},
	{"flower and herb jelly: only its lemon juice is acid", 0, 0, rules.ClassBorderline, "dandelion-jelly violet-jelly lilac-jelly rose-petal-jelly flower-jelly"},
	{"ketchup: acid by pH, held borderline as a tomato product", 389, 392, rules.ClassBorderline, "ketchup"},
	{"mango, ripe", 580, 600, rules.ClassLow, "mango-ripe"},
	{"mango, green", 340, 480, rules.ClassAcid, "mango-green"},
	{"melon, cantaloupe", 613, 658, rules.ClassLow, "melon"},
	{"mushrooms", 600, 670, rules.ClassLow, "mushrooms wild-mushrooms"},
	{"nectarines", 390, 390, rules.ClassAcid, "nectarines"},
	{"okra, cooked", 550, 660, rules.ClassLow, "okra"},
	{"olives, ripe", 600, 750, rules.ClassLow, "olives"},
	{"onions", 530, 580, rules.ClassLow, "onions"},
	{"parsnips", 530, 530, rules.ClassLow, "parsnips"},
	{"peaches", 330, 405, rules.ClassAcid, "peaches"},
	{"peaches, white-fleshed: may exceed 4.6", 0, 0, rules.ClassBorderline, "peaches-white"},
	{"pears", 350, 460, rules.ClassAcid, "pears"},
	{"pears, Asian: not acid alone, acidified", 470, 470, rules.ClassBorderline, "pears-asian"},
	{"peas", 580, 700, rules.ClassLow, "peas"},
	{"peppers", 465, 593, rules.ClassLow, "peppers"},
	{"pineapple", 320, 400, rules.ClassAcid, "pineapple"},
	{"plums", 280, 460, rules.ClassAcid, "plums"},
	{"potatoes", 540, 590, rules.ClassLow, "potatoes"},
	{"pumpkin", 499, 550, rules.ClassLow, "pumpkin-cubes pumpkin-puree pumpkin-butter"},
	{"raspberries", 320, 395, rules.ClassAcid, "raspberries"},
	{"rhubarb", 310, 340, rules.ClassAcid, "rhubarb"},
	{"rose hips: acid only by a tested recipe", 300, 430, rules.ClassBorderline, "rose-hip-jelly"},
	{"salsa, tested recipe", 370, 430, rules.ClassBorderline, "tomato-salsa"},
	{"sauerkraut", 340, 360, rules.ClassAcid, "sauerkraut"},
	{"spinach, greens", 550, 680, rules.ClassLow, "spinach greens"},
	{"squash, winter", 518, 649, rules.ClassLow, "winter-squash"},
	{"squash, summer", 550, 610, rules.ClassLow, "summer-squash"},
	{"strawberries", 300, 390, rules.ClassAcid, "strawberries"},
	{"sweet potatoes", 530, 560, rules.ClassLow, "sweet-potatoes"},
	{"tomatoes", 430, 490, rules.ClassBorderline, "tomatoes-whole tomatoes-crushed"},
	{"tomato juice", 410, 460, rules.ClassBorderline, "tomato-juice"},
	{"tomato paste", 350, 470, rules.ClassBorderline, "tomato-paste"},
	{"tomato purée", 430, 450, rules.ClassBorderline, "tomato-sauce"},
	{"turnips", 520, 590, rules.ClassLow, "turnips"},
	{"watermelon", 520, 560, rules.ClassLow, "watermelon"},
	{"beef, ground", 510, 620, rules.ClassLow, "ground-beef"},
	{"chicken", 650, 670, rules.ClassLow, "chicken chicken-bone-in"},
	{"pork", 530, 690, rules.ClassLow, "pork"},
	{"ham", 590, 610, rules.ClassLow, "ham"},
	{"sausage, fresh", 560, 620, rules.ClassLow, "sausage"},
	{"venison", 550, 620, rules.ClassLow, "venison ground-venison"},
	{"salmon", 610, 630, rules.ClassLow, "salmon"},
	{"tuna", 520, 610, rules.ClassLow, "tuna"},
	{"shrimp", 680, 700, rules.ClassLow, "shrimp"},
	{"broth, meat soups", 550, 680, rules.ClassLow, "chicken-broth beef-broth game-broth chicken-soup"},
	{"vegetable soup", 500, 500, rules.ClassLow, "vegetable-soup"},
	{"tomato soup: treat as low", 460, 460, rules.ClassLow, "tomato-soup"},
	{"spaghetti sauce with vegetables or meat", 430, 550, rules.ClassLow, "spaghetti-sauce meat-sauce"},
}

func TestAcidityIsAsPublished(t *testing.T) {
	for _, a := range acidity {
		for _, id := range strings.Fields(a.products) {
			p := product(t, id)
			if p.Class != a.class {
				t.Errorf("%s (%s): got the class %s, want %s", id, a.food, p.Class.ID(), a.class.ID())
			}
			if p.PH != (rules.Range{Low: a.low, High: a.high}) {
				t.Errorf("%s (%s): got pH %v, want %d to %d", id, a.food, p.PH, a.low, a.high)
			}
		}
	}
}

// A pH that no list gives is not in the catalog.
func TestNoPHWithoutAList(t *testing.T) {
	listed := map[string]bool{}
	for _, a := range acidity {
		for _, id := range strings.Fields(a.products) {
			listed[id] = true
		}
	}
	for i := range rules.Catalog {
		if p := &rules.Catalog[i]; p.PH != (rules.Range{}) && !listed[p.ID] {
			t.Errorf("%s has pH %v, which the lists do not give", p.ID, p.PH)
		}
	}
}

// The published lists of what has no safe process.
func TestWhatMustNotBeCanned(t *testing.T) {
	for why, products := range map[string]string{
		"mashed pumpkin and squash":     "pumpkin-puree pumpkin-butter vegetable-puree",
		"summer squash, plain":          "summer-squash",
		"dairy and cream soups":         "butter milk cheese cream-soup",
		"thickeners":                    "gravy mustard-pickles",
		"rice, pasta, noodles":          "rice-dishes pasta-dishes noodle-soup",
		"oil":                           "garlic-in-oil herb-oil vegetables-in-oil pesto",
		"bread in a jar":                "bread-in-a-jar",
		"untested recipes":              "own-salsa corn-bean-salsa",
		"eggs":                          "eggs pickled-eggs fruit-curd",
		"flower jellies":                "dandelion-jelly violet-jelly lilac-jelly rose-petal-jelly flower-jelly",
		"white peaches, elderberries":   "peaches-white elderberries elderberry-syrup elderberry-jelly",
		"gifts without a tested recipe": "chocolate-sauce",
		"own combinations":              "brunswick-stew combination-meals",
		"mashed beans":                  "refried-beans",
		"nuts":                          "nut-butter",
		"vegetables without a process":  "cabbage broccoli cauliflower brussels-sprouts eggplant artichokes olives lettuce cucumbers garlic onions celery turnips parsnips",
		"fruit that is not acid":        "bananas melon watermelon mango-ripe pawpaw persimmons",
		"wild mushrooms":                "wild-mushrooms",
		"cured meat":                    "ham bacon corned-beef smoked-sausage",
	} {
		for _, id := range strings.Fields(products) {
			p := product(t, id)
			if p.Route != rules.RouteNone && !(why == "oil" && p.Route == rules.RouteBottle) {
				t.Errorf("%s: %s: got the process %s, want none", why, id, p.Route.ID())
			}
			if p.Class < rules.ClassBorderline {
				t.Errorf("%s: %s is %s, which would let an unproven jar be eaten", why, id, p.Class.ID())
			}
		}
	}
}

func TestUnlistedIsNeverMilderForNotKnowing(t *testing.T) {
	class := func(answers []rules.Answer) rules.Value {
		id := rules.Unlisted(answers...)
		p := product(t, id)
		if p.Group != rules.GroupUnlisted || p.Route != rules.RouteNone {
			t.Fatalf("%v: got %s, want an unlisted food without a process", answers, id)
		}
		return p.Class
	}
	n := len(rules.UnlistedQuestions)
	reached := map[string]bool{}
	answers := make([]rules.Answer, n)
	var walk func(i int)
	walk = func(i int) {
		if i == n {
			reached[rules.Unlisted(answers...)] = true
			for j, said := range answers {
				if said != rules.AnswerUnsure {
					continue
				}
				unsure := class(answers)
				for _, known := range []rules.Answer{rules.AnswerYes, rules.AnswerNo} {
					answers[j] = known
					if c := class(answers); unsure < c {
						t.Errorf("the answers %v: got %s; with question %d unknown: got %s, want the same or stricter", answers, c.ID(), j, unsure.ID())
					}
				}
				answers[j] = said
			}
			return
		}
		for _, a := range []rules.Answer{rules.AnswerYes, rules.AnswerNo, rules.AnswerUnsure} {
			answers[i] = a
			walk(i + 1)
		}
	}
	walk(0)
	for i := range rules.Catalog {
		if p := &rules.Catalog[i]; p.Group == rules.GroupUnlisted && !reached[p.ID] {
			t.Errorf("no answers lead to %s", p.ID)
		}
	}
}

func TestUnlistedAsksUntilItIsSettled(t *testing.T) {
	var said []rules.Answer
	for i, q := range rules.UnlistedQuestions {
		if id := rules.Unlisted(said...); id != "" {
			t.Errorf("after %d answers of no: got %s, want another question", i, id)
		}
		if got := rules.Unlisted(append(slices.Clone(said), rules.AnswerYes)...); got != q.Yes {
			t.Errorf("yes to %q gives %s, want %s", q.Ask, got, q.Yes)
		}
		if got := rules.Unlisted(append(slices.Clone(said), rules.AnswerUnsure)...); got != "unknown-contents" {
			t.Errorf("“don't know” to %q: got %s", q.Ask, got)
		}
		said = append(said, rules.AnswerNo)
	}
	if got := rules.Unlisted(said...); got != "unknown-contents" {
		t.Errorf("no to every question: got %s", got)
	}
}

// Every table of a published process belongs to a product, and every product that
// names one to a table that there is.
func TestEveryTableHasItsProduct(t *testing.T) {
	used := map[string]bool{}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		for _, link := range p.Processes() {
			table, form, one := strings.Cut(link, "/")
			if len(process.Forms(table)) == 0 {
				t.Errorf("%s: no table %q", p.ID, table)
			}
			if _, ok := process.FoodOf(table, form); one && !ok {
				t.Errorf("%s: table %s has no form %q", p.ID, table, form)
			}
			used[table] = true
			if p.Route == rules.RouteNone {
				t.Errorf("%s: the table %s is listed, but the product has no process", p.ID, table)
			}
			if p.Class == rules.ClassLow && boils(table, form) {
				t.Errorf("%s: low-acid, yet the table %s has boiling-water times", p.ID, link)
			}
			if p.Route == rules.RouteBoiling && !boils(table, form) {
				t.Errorf("%s: the table %s has no boiling-water times", p.ID, link)
			}
		}
	}
	for _, f := range process.Foods {
		if !used[f.ID] {
			t.Errorf("no product uses the table %s", f.ID)
		}
	}
}

// boils reports whether a table, in one form or in any, has a line in boiling water.
func boils(table, form string) bool {
	for _, f := range process.Foods {
		if f.ID == table && (form == "" || f.Form.String() == form) {
			for _, r := range f.Rows {
				if r.Pressures == (process.Pressures{}) {
					return true
				}
			}
		}
	}
	return false
}
