package rules

import "slices"

// FoodWording asks for one sign in words that fit a kind of food. A question
// that does not fit must not condemn a jar: sauce is never clear, okra is always
// slippery, and red cabbage is purple.
type FoodWording struct {
	Foods    Text // which, in words
	Sign     SignID
	Ask, How Text // empty to leave that of the sign
	Notice   Text // its line in a question about several signs; empty to leave it
	Labels   []ValueLabel
	Hide     []Value
	fits     func(*Product) bool
}

// FoodWordings holds the words that fit some foods only. They change no rule: an
// answer means what its value assumes, in these words too.
var FoodWordings = []FoodWording{
	{Foods: "Food that is never clear: sauce, salsa, relish, soup, jam, purée, and okra", Sign: SignCloud,
		Ask:    "This food is never clear. Has it changed since it was canned?",
		How:    "Let the jar stand and look again. Layers that come together again when the jar is turned over are layers, not cloud.",
		Notice: "It has turned cloudier than it was, or has parted into layers",
		Labels: []ValueLabel{
			{CloudClear, "No: it looks as it did when it was canned"},
			{CloudSettled, "It has parted into layers: solids or pulp in one, liquid that is clear in the other"},
			{CloudHazy, "It has turned cloudy or milky since it was canned, all through"},
			{CloudMurky, "It has turned stringy, slimy or murky since it was canned"},
		},
		fits: (*Product).opaque},
	// Scum is skimmed off a crock that still ferments; slime, mold and a bad smell end
	// it: Oregon State University Extension, Sauerkraut: problems and solutions, SP
	// 50-745, and North Dakota State University Extension on sauerkraut.
	{Foods: "Food that ferments in salt", Sign: SignOpened,
		How:  "Still fermenting? Skim white scum off, keep it under brine. Throw it out if slimy, dark, moldy or foul.",
		fits: (*Product).ferments},
	// Fermented pickles keep in their crock in the refrigerator while scum is taken off
	// regularly: the recipe for fermented dill pickles (from memory); skimming is for
	// open crocks only: Oregon State University Extension, SP 50-745.
	{Foods: "Food that ferments in salt", Sign: SignFilm,
		Notice: "A film, scum or foam (not white scum skimmed off a cold crock)",
		Labels: []ValueLabel{
			{FilmClean, "Clean, or only white scum that is skimmed off a cold crock every few days"},
			{FilmFilm, "A film or scum on food that was canned, or one that was left to grow"},
		},
		fits: (*Product).ferments},
	// Mother of vinegar is harmless: Canadian Food Inspection Agency, Mother of vinegar.
	{Foods: "Vinegar", Sign: SignDeposit,
		Notice: "Crystals, specks, scale or curd, or bits of herbs and spice (a clear or tan jelly in vinegar that was not heated counts as a bit of it)",
		Labels: []ValueLabel{{DepositRecipe, "Bits of the recipe, or mother of vinegar: a smooth, clear or tan disc or jelly, not fuzzy"}},
		fits:   func(p *Product) bool { return p.ID == "flavored-vinegar" }},
	// Jelly that was cloudy from the first day is safe: Oregon State University
	// Extension, Jams and jellies: problems and solutions, SP 50-746.
	{Foods: "Jelly", Sign: SignCloud,
		Ask:    "Has the jelly turned cloudy, or has anything settled or wept out of it, since it was made?",
		Notice: "It has turned cloudy since it was made, or weeps, or something has settled",
		Labels: []ValueLabel{
			{CloudClear, "No: clear, or as cloudy as it was on the first day"},
			{CloudSettled, "A little clear syrup has wept out, or something has settled"},
			{CloudHazy, "It has turned cloudy since it was made"},
		},
		fits: func(p *Product) bool { return p.Food == "jelly" }},
	{Foods: "Okra, and food with okra in it", Sign: SignBody,
		Notice: "The food is much softer than usual, falling to mush, or slimier than okra always is",
		Labels: []ValueLabel{
			{BodyUsual, "As usual for okra: slippery juice, the pieces whole"},
			{BodySlimy, "Slimier than okra always is, or mush that never froze"},
		},
		fits: func(p *Product) bool { return p.Ropy }},
	{Foods: "Food colored by the red of cabbage, berries, plums, cherries and grapes", Sign: SignColor,
		Labels: []ValueLabel{
			{ColorUsual, "As usual for this food: red, pink, purple or violet"},
			{ColorBlue, "Blue, gray-blue or green; red, purple and violet do not count"},
		},
		fits: func(p *Product) bool { return p.Pigment }},
	// The red of jam turns brown in time, and that is a matter of quality: Utah
	// State University Extension, answer 2809.
	{Foods: "Jam, jelly and fruit butter", Sign: SignColor, Hide: []Value{ColorBrowned},
		Labels: []ValueLabel{{ColorFaded, "Faded, duller or browner than it was"}},
		fits:   func(p *Product) bool { return p.LookAlikeFor(SignSettles) == &jamWeeps }},
	{Foods: "Fruit, jam and jelly, which hold no garlic", Sign: SignColor, Hide: []Value{ColorGarlic},
		fits: func(p *Product) bool { return p.Group == GroupFruit || p.Group == GroupJam }},
	{Foods: "Marinades with oil", Sign: SignCloud,
		How:  "Oil turns cloudy or sets in the cold, and clears in a warm room. Let the jar stand there for a day and look again.",
		fits: func(p *Product) bool { return p.LookAlikeFor(SignHazes) == &oilClouds }},
	// Oil that clouds in the cold is harmless: North Carolina State University
	// Extension, answer 338.
	{Foods: "Food in oil", Sign: SignCloud,
		How:    "Oil turns cloudy or sets in the refrigerator, and clears again in a warm room.",
		Notice: "The oil is cloudy from something else than the cold, or has bubbles, slime or something growing in it",
		Labels: []ValueLabel{
			{CloudClear, "Clear, or cloudy or set only by the cold of the refrigerator"},
			{CloudHazy, "Cloudy, and I don't know whether it is from the cold"},
			{CloudMurky, "Muddy, stringy or slimy, or with something growing in it"},
		},
		fits: func(p *Product) bool { return p.LookAlikeFor(SignHazes) == &coldOil }},
	// Beans, corn and potatoes take up their liquid, and their starch thickens what
	// is left: Kansas State University Extension, Canning problems and their causes.
	{Foods: "Beans and other food that takes up its liquid", Sign: SignCloud,
		How:    "Starch makes the liquid of beans thick or milky. Let the jar stand and look again: starch settles.",
		Notice: "The liquid is cloudier than the starch of this food makes it, or a pale layer lies at the bottom",
		Labels: []ValueLabel{
			{CloudSettled, "Thick or milky with its own starch ever since it was canned, or settled: a pale layer, clear beside it"},
			{CloudHazy, "It has turned cloudy since, and does not settle"},
		},
		fits: func(p *Product) bool { return p.LookAlikeFor(SignAbsorbs) == &absorbs && !p.opaque() }},
	{Foods: "Jam, jelly and fruit butter", Sign: SignBody,
		Labels: []ValueLabel{
			{BodyUnset, "Runny since the day it was made: it never set"},
			{BodySoft, "It was set and has gone looser, from warmth or age; not slimy"},
		},
		fits: func(p *Product) bool {
			return p.LookAlikeFor(SignFoams) != nil || p.LookAlikeFor(SignSettles) == &jamWeeps
		}},
	// Dark tissue near the bone is pigment out of the marrow: University of Wisconsin
	// Extension, Canning wild game.
	{Foods: "Poultry and rabbit", Sign: SignColor,
		Notice: "The color has changed (dark meat close to a bone does not count)",
		Labels: []ValueLabel{
			{ColorUsual, "As usual; meat that is dark close to a bone is usual"},
			{ColorDark, "Gray or black, and not only close to a bone"},
		},
		fits: func(p *Product) bool { return p.LookAlikeFor(SignDarkens) == &boneDarkens }},
	// Particles of the meat sink: Ask Extension, answer 272189.
	{Foods: "Meat packed raw", Sign: SignCloud,
		How: "Meat that is packed raw leaves fine bits in its own golden broth. Let the jar stand for a day and look again: they sink.",
		Labels: []ValueLabel{
			{CloudSettled, "It settles: fine bits of meat at the bottom, clear broth above them"},
			{CloudHazy, "Cloudy all through, even after it has stood for a day"},
		},
		fits: func(p *Product) bool { return p.LookAlikeFor(SignSettles) == &rawMeatSettles }},
	// Sugar and the sand of the sap settle in syrup: Michigan State University
	// Extension, Storing maple syrup, has it filtered out.
	{Foods: "Maple syrup", Sign: SignDeposit, Hide: []Value{DepositCrystals},
		Labels: []ValueLabel{{DepositRecipe, "Hard sugar crystals or fine sand at the bottom, as syrup has them"}},
		fits:   func(p *Product) bool { return p.ID == "maple-syrup" }},
	// Less of what is not acid only makes salsa more acid: University of California
	// Cooperative Extension, safe ingredient swaps for home-canned salsa.
	{Foods: "Taco sauce and hot sauce", Sign: SignStanding,
		How: "Some changes only touch the taste. They do not count: fewer onions or peppers, another kind of pepper in the same amount, more or less dried spice, table salt for canning salt.",
		Labels: []ValueLabel{
			{StandingPublished, "A current recipe of an extension service, the agriculture department or a jar maker's canning book, followed exactly, but for such changes"},
			{StandingChanged, "One of those, but with more onions or peppers, less acid, or anything else changed"},
		},
		fits: func(p *Product) bool { return p.Group == GroupSalsa && p.Food != "salsa" && p.Processed() }},
	// Vinegar and salt take up copper, brass and zinc, which make pickles bright green
	// and can be poisonous: Michigan State University Extension, bulletin 01600557, and
	// the agriculture department, Home canning of pickles and relishes.
	{Foods: "Pickles, relish and chutney", Sign: SignColor,
		Notice: "The color has changed, or is bright green from a copper or brass pot",
		Labels: []ValueLabel{
			{ColorBlue, "Blue, green or purple that is not usual for it; no copper or brass pot was used"},
			{ColorOdd, "Any other color, or bright green from a copper or brass pot"},
		},
		fits: func(p *Product) bool { return p.Group == GroupPickle && !p.Pigment && p.Processed() }},
	// Copper and brass are for no acid food, fruit and tomatoes among them, and zinc is
	// not for fruit juice, tomatoes and pickles: Michigan State University Extension,
	// bulletins 01500153 and 01600817. For pickles iron is named too.
	{Foods: "Food that is acid or made acid", Sign: SignExtras,
		Notice: holds + "; or it was made in bare copper, brass or galvanized (zinc) metal",
		fits:   func(p *Product) bool { return p.Class != ClassLow && !vinegared(p) }},
	{Foods: "Food that is not acid, which dissolves no metal", Sign: SignExtras, Hide: []Value{ExtrasMetal},
		fits: func(p *Product) bool { return p.Class == ClassLow }},
	{Foods: "Pickles, relish, chutney, salsa and hot sauce", Sign: SignExtras,
		Notice: holds + "; or it was made in bare copper, brass, iron or galvanized (zinc) metal",
		Labels: []ValueLabel{{ExtrasMetal, "Bare copper, brass, iron or galvanized (zinc) metal: it was cooked or stood in such a pot or tub"}},
		fits:   vinegared},
	{Foods: "Pickles, relish and chutney", Sign: SignStanding,
		How: "Some changes do no harm. They do not count: table salt for canning salt, more or less dried herbs and spice, as much bottled lemon juice in place of the vinegar.",
		Labels: []ValueLabel{
			{StandingChanged, "One of those, but with other changes, such as less vinegar or more vegetables"},
		},
		fits: func(p *Product) bool { return p.Group == GroupPickle && p.Processed() }},
	// In salsa as much bottled lemon or lime juice may take the place of the vinegar,
	// because it is more acid; vinegar never takes theirs: Ask Extension, answer 435085.
	{Foods: "Salsa", Sign: SignStanding,
		How: "Some changes do no harm: fewer onions or peppers, another kind of pepper in the same amount, more or less dried spice, table salt, as much bottled lemon or lime juice in place of the vinegar.",
		Labels: []ValueLabel{
			{StandingPublished, "A current recipe of an extension service, the agriculture department or a jar maker's canning book, followed exactly, but for such changes"},
			{StandingChanged, "One of those, but with more onions or peppers, less acid, vinegar in place of lemon or lime juice, or anything else changed"},
		},
		fits: tableSalsa},
	{Foods: "Salsa", Sign: SignAcid,
		How:  "Vinegar of 5 % or stronger, or bottled lemon or lime juice. As much of such juice may stand in for the vinegar of the recipe. Vinegar may not stand in for the juice.",
		fits: tableSalsa},
	{Foods: "Relish, chutney and mixed pickles", Sign: SignAcid,
		How:  "Vinegar of 5 % or stronger, from a shop. As much bottled lemon juice may stand in for the vinegar of the recipe. Vinegar may not stand in for such juice.",
		fits: func(p *Product) bool { return p.Group == GroupPickle && p.Class == ClassBorderline && p.Processed() }},
	// A little onion or garlic changes nothing in meat that is canned by a tested
	// recipe: University of Wisconsin Extension, Safe substitutions when canning.
	{Foods: "Meat, poultry and game in pieces or ground", Sign: SignStanding,
		How: "Some changes only touch the taste. They do not count: more or less salt, dried herbs and spices, a slice of onion or a clove of garlic in a jar.",
		Labels: []ValueLabel{
			{StandingPublished, "A current recipe of an extension service, the agriculture department or a jar maker's canning book, followed exactly, but for such changes"},
			{StandingChanged, "One of those, but with other changes"},
		},
		fits: plainMeat},
	{Foods: "Meat, poultry and game in pieces or ground", Sign: SignExtras,
		Notice: "It holds anything of these that a current published recipe for this meat does not call for: vegetables, fresh herbs, thickener, rice or pasta, milk or egg, other meat, oil or fat over it (salt, dried herbs and spices, and a slice of onion or a clove of garlic in a jar do not count); or it stood warm for over 2 hours before, or was ground, mashed or packed dry where that recipe says otherwise",
		Labels: []ValueLabel{
			{ExtrasNone, "None of these, or only a slice of onion or a clove of garlic in a jar"},
			{ExtrasVegetables, "More onion or garlic than that, or other vegetables, fresh herbs, nuts or fruit"},
		},
		fits: plainMeat},
	// The starch for canning stays smooth in the jar; other starches clump and keep the
	// heat out: Iowa State University Extension, Thickeners for home canning, and
	// University of Illinois Extension, Canning pie filling. No source calls clumps
	// harmless.
	{Foods: "Pie filling thickened with the starch for canning", Sign: SignDeposit,
		Labels: []ValueLabel{
			{DepositRecipe, "Bits of the recipe, there from the start: seeds, spice, pulp of the fruit"},
			{DepositSpecks, "Clumps in its gel, or specks, scale or curd that are not of the recipe"},
		},
		fits: func(p *Product) bool { return p.Condition == &pieThickener }},
	// Without vitamin C canned mushrooms darken, and so does their broth: US Department
	// of Agriculture, Complete Guide to Home Canning, mushrooms.
	{Foods: "Mushrooms", Sign: SignColor,
		Notice: "The color has changed (tan or brown mushrooms in brown broth are usual)",
		Labels: []ValueLabel{{ColorUsual, "As usual for mushrooms: white to brown, in clear yellow or brown broth"}},
		fits:   func(p *Product) bool { return p.ID == "mushrooms" }},
	{Foods: "Pickled beets", Sign: SignColor,
		Labels: []ValueLabel{{ColorUsual, "As usual for beets: red or purple, and so are the onions and the brine that stand with them"}},
		fits:   func(p *Product) bool { return p.ID == "pickled-beets" }},
	{Foods: "Tomatoes", Sign: SignLevel,
		Labels: []ValueLabel{{LevelOwn, "Little juice, but none was lost: the tomatoes were packed raw without added liquid, and float above their own juice"}},
		fits:   func(p *Product) bool { return p.LookAlikeFor(SignAbsorbs) == &rawTomatoes }},
}

// ferments reports whether the food is made by fermenting it in salt.
func (p *Product) ferments() bool {
	return p.Condition == &fullyFermented || slices.Contains([]string{"sauerkraut-raw", "kimchi", "half-sour-pickles"}, p.ID)
}

// vinegared reports whether the food is made acid with vinegar or juice.
func vinegared(p *Product) bool {
	return p.Class != ClassLow && (p.Class == ClassPickled || p.Group == GroupPickle || p.Group == GroupSalsa)
}

// tableSalsa reports whether the food is salsa with a published recipe.
func tableSalsa(p *Product) bool { return p.Group == GroupSalsa && p.Food == "salsa" && p.Processed() }

// plainMeat reports whether the food is meat alone, with a published process.
func plainMeat(p *Product) bool {
	return p.Processed() && (p.Group == GroupPoultry || p.Group == GroupMeat || p.Group == GroupGame)
}

// opaque reports whether nothing can be seen through the food in a good jar.
func (p *Product) opaque() bool {
	return p.Opaque || p.Ropy || slices.Contains([]string{"sauce", "salsa", "relish", "soup", "jam"}, p.Food)
}

// put words the question that way.
func (w *FoodWording) put(q Question) Question {
	q.Choices = slices.Clone(q.Choices)
	if len(q.Signs) > 1 {
		for i := range q.Choices {
			if c := &q.Choices[i]; w.Notice != "" && len(c.Tell) > 0 && c.ID != "none" && c.Tell[0].Sign() == w.Sign {
				c.Label = w.Notice
			}
		}
		return q
	}
	if w.Ask != "" {
		q.Ask = w.Ask
	}
	if w.How != "" {
		q.How = w.How
	}
	q.Choices = slices.DeleteFunc(q.Choices, func(c Choice) bool { return len(c.Tell) > 0 && slices.Contains(w.Hide, c.Tell[0]) })
	for i := range q.Choices {
		for _, l := range w.Labels {
			if c := &q.Choices[i]; c.ID == l.Value.ID() {
				c.Label = l.Label
			}
		}
	}
	return q
}

// Words returns the label of a value that fits the food, from the question about its
// sign; ok is false for one that does not fit the food at all.
func (p *Product) Words(asked Question, v ValueInfo) (label Text, ok bool) {
	for i := range FoodWordings {
		if w := &FoodWordings[i]; slices.Contains(w.Hide, v.Value) && w.fits(p) {
			return "", false
		}
	}
	for _, c := range asked.Choices {
		if c.ID == v.ID && len(asked.Signs) == 1 {
			return c.Label, true
		}
	}
	return v.Label, true
}
