package rules

// Condition is what a food has to be, beyond its recipe, its acid and its
// heating, for its published process to hold: a kind, a ripeness, a way of
// packing, a size of jar. "Yes" is what makes the jar safe. Anything else, an
// honest "don't know" included, leaves the jar without support.
type Condition struct {
	Ask   Text // answered by yes or no, by somebody who knows the jar
	Why   Text
	OK    Text // label of the answer that meets it
	Not   Text // label of the answer that does not
	Cites []Cite
}

// A product says in Caution what it needs; what somebody has to be asked about
// is here too. What the questions about acid, additions, heating and recipe
// already ask is not asked twice.
var (
	yellowFlesh = Condition{
		Ask: "Is the flesh of the fruit yellow?",
		Why: "White-fleshed peaches and nectarines can stand above pH 4.6, where the botulism germ grows, and no amount of added acid has been tested for them.",
		OK:  "Yes, yellow", Not: "No, white or pale",
		Cites: []Cite{read(&srcPeach, "caution"), read(&srcFruitMaine, "white-fleshed fruit")}}
	pickledYellow = Condition{
		Ask: "Is the fruit pears, plums, or peaches with yellow flesh?",
		Why: "White-fleshed peaches can stand above pH 4.6, and the published pickles are made of pears or of yellow-fleshed peaches.",
		OK:  "Yes, pears, plums or yellow peaches", Not: "No, other fruit, or peaches with white flesh",
		Cites: []Cite{read(&srcPeach, "caution"), memory(&srcRecipes, "peach pickles, pear pickles")}}
	cocktailFruit = Condition{
		Ask: "Is every fruit in it one of these: pears, grapes, cherries, pineapple, or peaches with yellow flesh?",
		Why: "Melon, banana and white-fleshed peaches are not acid enough, and a mixture is only as safe as its least acid fruit.",
		OK:  "Yes, only these", Not: "No, there is other fruit in it",
		Cites: []Cite{copied(&srcProcesses, "mixed fruit cocktail (1994 text)"), read(&srcFruitUC, "fruits that need added acid"), read(&srcPeach, "caution")}}
	pureeFruit = Condition{
		Ask: "Is it only of surely sour fruit: apples, apricots, berries other than elderberries, cherries, grapes, pears, pineapple, plums, rhubarb, or peaches with yellow flesh?",
		Why: "The process is for acid fruit. Figs, tomatoes, melon, banana, papaya, ripe mango, coconut, elderberries and white-fleshed peaches are not acid enough.",
		OK:  "Yes, only these", Not: "No, there is something else in it",
		Cites: []Cite{copied(&srcProcesses, "fruit puree"), read(&srcFruitUC, "fruits that need added acid")}}
	butterFruit = Condition{
		Ask: "Is it only of surely sour fruit: apples, apricots, pears, plums, cherries, berries other than elderberries, grapes, or peaches with yellow flesh?",
		Why: "A butter of pumpkin, squash, banana, sweet potato or white peach is thick and not acid; home-made pumpkin butters were measured up to pH 5.4.",
		OK:  "Yes, only these", Not: "No, there is something else in it",
		Cites: []Cite{read(&srcPumpkin, "pumpkin butter"), read(&srcHealthCanada, "acid foods: fruit butter"), read(&srcPeach, "caution")}}
	jamFruit = Condition{
		Ask: "Is it only of surely sour fruit: berries other than elderberries, cherries, plums, apricots, apples, grapes, citrus, rhubarb, or peaches with yellow flesh?",
		Why: "Without its full sugar a jam is kept safe by the acid of its fruit alone.",
		OK:  "Yes, only these", Not: "No, there is something else in it",
		Cites: []Cite{read(&srcHealthCanada, "acid foods: jam"), read(&srcFruitUC, "fruits that need added acid")}}
	syrupBerries = Condition{
		Ask: "Is it only of strawberries, raspberries, blackberries, blueberries, currants, grapes or cherries?",
		Why: "The published syrup is made of acid berries. Elderberries, which are often used for syrup, are not acid enough.",
		OK:  "Yes, only these", Not: "No, there are elderberries or something else in it",
		Cites: []Cite{copied(&srcProcesses, "berry syrup (1994 text)"), read(&srcFruitMaine, "elderberries")}}
	greenMango = Condition{
		Ask: "Was the mango hard and green when it went into the jar?",
		Why: "Green mango is acid. Ripe mango is not: its pH is near 6.",
		OK:  "Yes, hard and green", Not: "No, ripe, soft or yellow",
		Cites: []Cite{phFDA(), read(&srcFruitUC, "fruits that need added acid")}}
	pieThickener = Condition{
		Ask: "Does it have all the lemon juice of its published recipe, and no thickener but the modified starch for canning that the recipe names?",
		Why: "The lemon juice decides whether the filling is acid. Flour and ordinary starch set too stiff for the heat to reach the middle.",
		OK:  "Yes, both", Not: "No, less lemon juice, or flour or another starch",
		Cites: []Cite{copied(&srcPieMSU, "pie fillings: lemon juice, modified starch")}}
	mintBase = Condition{
		Ask: "Is it mostly apple juice, or does it have the vinegar or lemon juice of a published recipe?",
		Why: "Mint in sugared water is not acid; the acid of the jelly comes from the juice or the vinegar.",
		OK:  "Yes", Not: "No, only mint, water, sugar and pectin",
		Cites: []Cite{memory(&srcRecipes, "mint jelly"), copied(&srcPectin1994, "mint")}}
	conserveNuts = Condition{
		Ask: "Is it mostly sour fruit, with no more nuts and raisins than its published recipe has?",
		Why: "Nuts are not acid, and more of them than were tested take up the acid of the fruit.",
		OK:  "Yes", Not: "No, more nuts or raisins, or other fruit",
		Cites: []Cite{memory(&srcRecipes, "conserves")}}
	trueHuckleberry = Condition{
		Ask: "Did the berries grow on a woody bush, as wild blueberries, bilberries and true huckleberries do?",
		Why: "The garden huckleberry, a soft plant of the nightshade family, is another fruit: it is not acid, and unripe it is poisonous.",
		OK:  "Yes, from a bush", Not: "No, garden huckleberries",
		Cites: []Cite{copied(&srcProcesses, "berries, whole: the berries named"), practice("the garden huckleberry is a nightshade")}}
	wholeStones = Condition{
		Ask: "Were the stones left whole and taken out, so that only the juice went into the jar?",
		Why: "Crushed stones of chokecherries set cyanide free.",
		OK:  "Yes, juice only", Not: "No, stones were crushed or left in",
		Cites: []Cite{memory(&srcPrairie, "chokecherries")}}
	fullyFermented = Condition{
		Ask: "Did it have all the salt of its recipe, and had it stopped bubbling and turned sour all through, after three weeks or more?",
		Why: "Its acid comes from the fermentation alone, and only the full salt makes that safe. Stopped too early it is a low-acid vegetable.",
		OK:  "Yes, full salt, fully fermented", Not: "No, less salt, a salt substitute, or canned earlier",
		Cites: []Cite{read(&srcSaltMU, "not with less salt or a salt substitute"), copied(&srcProcesses, "fermented dill pickles and sauerkraut: 3 to 4 weeks at 70 to 75 °F")}}
	thinRelish = Condition{
		Ask: "Is it loose and runny, without flour, starch or another thickener?",
		Why: "The published relish has none. Flour and starch slow the heat on its way to the middle of the jar.",
		OK:  "Yes, no thickener", Not: "No, it is thickened",
		Cites: []Cite{copied(&srcProcesses, "piccalilli (Guide 6)"), read(&srcCreamSoup, "thickeners")}}
	peeledTomatoes = Condition{
		Ask: "Were the tomatoes peeled?",
		Why: "The process was tested for peeled tomatoes; with the skins on nobody has tested it.",
		OK:  "Yes, peeled", Not: "No, the skins are on",
		Cites: []Cite{copied(&srcProcesses, "tomatoes, whole or halved: skins slipped off"), read(&srcGiftsISU, "skins left on")}}
	boiledTomatillos = Condition{
		Ask: "Were the tomatillos whole and boiled for 5 to 10 minutes before they went into the jar?",
		Why: "That is how the process for them was published; cut or raw ones have none.",
		OK:  "Yes, whole and boiled", Not: "No, raw or cut up",
		Cites: []Cite{copied(&srcProcesses, "tomatillos (p. 3-13)")}}
	juiceShare = Condition{
		Ask: "Was there at most 1 cup of vegetables for each 7 pounds (about 3 kg) of tomatoes?",
		Why: "Celery, onions, carrots and peppers are not acid. The published juice has at most 3 cups of them for 22 pounds of tomatoes.",
		OK:  "Yes, no more than that", Not: "No, more vegetables",
		Cites: []Cite{copied(&srcTomatoMSU, "01600833, tomato and vegetable juice blend")}}
	okraShare = Condition{
		Ask: "Is there about three times as much tomato as okra or zucchini?",
		Why: "The process was tested for about 3 pounds of tomatoes to 1 pound of vegetable. More okra or zucchini heats more slowly.",
		OK:  "Yes, or more tomato", Not: "No, more vegetable",
		Cites: []Cite{copied(&srcTomatoMSU, "01600876, tomatoes with okra or zucchini")}}
	pintOrLess = Condition{
		Ask: "Is the jar a pint (about half a liter) or smaller?",
		Why: "No process was ever published for a larger jar of this food, and none can be worked out.",
		OK:  "Yes, a pint or smaller", Not: "No, larger",
		Cites: []Cite{read(&srcJarSizes, "no process for a jar larger than the largest one tested")}}
	plainCreamCorn = Condition{
		Ask: "Is the jar a pint (about half a liter) or smaller, with nothing but corn and water in it?",
		Why: "It heats slowly: the process is for pints, hot packed. Milk, cream and thickener make it slower still.",
		OK:  "Yes, both", Not: "No, larger, or something else is in it",
		Cites: []Cite{copied(&srcProcesses, "corn, cream style: hot pack, pints"), read(&srcJarSizes, "no process for a jar larger than the largest one tested")}}
	cultivatedMushrooms = Condition{
		Ask: "Are they mushrooms that were bought or grown, not picked wild, in a pint jar or smaller?",
		Why: "The process is for cultivated mushrooms in half-pints and pints. Wild ones differ in density and in germs, and some are poisonous.",
		OK:  "Yes, both", Not: "No, wild mushrooms, or a larger jar",
		Cites: []Cite{copied(&srcProcesses, "mushrooms"), memory(&srcProcesses, "mushrooms: wild ones must not be canned")}}
	mixedVegetables = Condition{
		Ask: "Are all the vegetables in it of kinds such as carrots, corn kernels, green beans, lima beans, tomatoes and zucchini, cut in pieces, with none of these: leafy greens, dried beans, creamed corn, winter squash, pumpkin, sweet potatoes?",
		Why: "The one time for mixed vegetables was tested without them: they pack too tightly or heat too slowly.",
		OK:  "Yes, only such", Not: "No, one of those is in it",
		Cites: []Cite{copied(&srcProcesses, "mixed vegetables"), memory(&srcProcesses, "mixed vegetables: what may be in it")}}
	piecesInLiquid = Condition{
		Ask: "Is it in pieces, with water or syrup all around them, not mashed?",
		Why: "Heat travels in the liquid between the pieces. For mashed food, and for pieces packed dry, no process holds.",
		OK:  "Yes, pieces in liquid", Not: "No, mashed or packed dry",
		Cites: []Cite{read(&srcPumpkin, "cubes only"), read(&srcDryCan, "dry packing")}}
	firmSquash = Condition{
		Ask: "Is it a firm winter squash such as butternut, acorn or Hubbard, in cubes with water around them, not mashed?",
		Why: "Mashed squash has no process, and the flesh of spaghetti squash falls apart into a mash.",
		OK:  "Yes, cubes of firm squash", Not: "No, mashed, or spaghetti squash",
		Cites: []Cite{read(&srcPumpkin, "cubes only"), memory(&srcProcesses, "pumpkin and winter squash: spaghetti squash")}}
	thinSoup = Condition{
		Ask: "Is at least half of the jar liquid, and is there nothing in it but broth, tomatoes, meat, cooked beans and vegetables that may be canned by themselves?",
		Why: "The process was tested for jars half full of solids. Noodles, rice, flour, cream and cabbage make soup too thick for it, or have no process at all.",
		OK:  "Yes, both", Not: "No, thicker, or something else is in it",
		Cites: []Cite{copied(&srcProcesses, "meat-vegetable soup"), read(&srcMeatFAQ, "soups"), read(&srcNotToCan, "noodles, rice, thickeners")}}
	beanSoup = Condition{
		Ask: "Were the beans soaked and cooked first, and is at least half of the jar free liquid?",
		Why: "Dry beans swell in the jar and take up its liquid, and a thick or mashed soup heats too slowly.",
		OK:  "Yes, both", Not: "No, dry, mashed or thick",
		Cites: []Cite{copied(&srcProcesses, "meat-vegetable soup: dried beans or peas"), read(&srcMeatFAQ, "soups")}}
	clearSeafood = Condition{
		Ask: "Is at least half of the jar clear liquid, without milk, cream, flour or mashed potatoes?",
		Why: "Milk and thickener shield spores from the heat; the process is for soup with free liquid.",
		OK:  "Yes", Not: "No, creamy or thick",
		Cites: []Cite{copied(&srcProcesses, "soup with seafood"), read(&srcCreamSoup, "creamed soup")}}
	cookedBeans = Condition{
		Ask: "Were the dried beans soaked and boiled before they went into the jar?",
		Why: "Beans packed dry swell, take up the liquid and keep the heat out of the middle.",
		OK:  "Yes, soaked and boiled", Not: "No, packed dry",
		Cites: []Cite{copied(&srcProcesses, "beans or peas, dried"), read(&srcDryCan, "dry packing")}}
	notConfit = Condition{
		Ask: "Was the meat packed raw, or in broth or water, with no fat poured over it?",
		Why: "Meat under its own fat, confit, has no published process: fat shields spores from the heat.",
		OK:  "Yes, no fat was added", Not: "No, it was covered with fat",
		Cites: []Cite{copied(&srcProcesses, "chicken or rabbit"), derived(&srcNotToCan, "food packed in fat")}}
	boneless = Condition{
		Ask: "Is the meat without bones?",
		Why: "The process is for boneless pieces. Where chronic wasting disease occurs, deer bones should not be used at all.",
		OK:  "Yes, boneless", Not: "No, there are bones in it",
		Cites: []Cite{copied(&srcProcesses, "meat strips, cubes or chunks"), read(&srcGame, "bones of deer")}}
	freshSausage = Condition{
		Ask: "Is it fresh sausage, neither smoked nor cured, and was it cooked before it went into the jar?",
		Why: "The process is for fresh ground meat, packed hot. Salt, cure and smoke change how meat heats, and no process is published for them.",
		OK:  "Yes, fresh and cooked first", Not: "No, smoked, cured or packed raw",
		Cites: []Cite{copied(&srcProcesses, "ground or chopped meat"), noProcess()}}
	kingOrDungeness = Condition{
		Ask: "Is it king or Dungeness crab, with lemon juice or citric acid in each jar, in a pint jar or smaller?",
		Why: "Only these two have a published process, and it has the acid in it. Blue crab has none: freeze it.",
		OK:  "Yes", Not: "No, another crab, no acid, or a larger jar",
		Cites: []Cite{copied(&srcShellMSU, "01600852, king and Dungeness crab")}}
	smokedInPints = Condition{
		Ask: "Is it in a pint jar or smaller, canned in a pressure canner that holds 16 to 22 quarts?",
		Why: "Smoked fish is dry and heats slowly. Times are known for pints in canners of this size only, no quarts.",
		OK:  "Yes, both", Not: "No, a larger jar, or a smaller or larger canner",
		Cites: []Cite{read(&srcSmokedFish, "pints, 16- to 22-quart canner")}}
	centerCurd = Condition{
		Ask: "Is it by the National Center's recipe: bottled lemon or lime juice, half-pint jars, and 15 minutes in boiling water (20 above 1,000 ft, 25 above 6,000 ft)?",
		Why: "Egg and butter are not acid. One recipe was tested, and only with bottled juice, in jars of this size.",
		OK:  "Yes, all of it", Not: "No, another recipe, fresh juice, larger jars or a shorter time",
		Cites: []Cite{read(&srcCurdNC, "bottled juice, half-pint jars, boiling water"), copied(&srcCurdNC, "15, 20 and 25 minutes"), memory(&srcCurdNC, "lime juice in place of lemon")}}
	hotSyrup = Condition{
		Ask: "Is it nothing but maple syrup, boiled down all the way, and filled at 82 °C (180 °F) or hotter?",
		Why: "Its sugar keeps it while it is dense enough, and the heat kills the yeast and mold in the jar.",
		OK:  "Yes, finished syrup, filled that hot", Not: "No, thinner, cooler, or with something added",
		Cites: []Cite{read(&srcMapleMSU, "packed hot against yeast and mold"), memory(&srcMapleMSU, "180 °F or above")}}
	strongVinegar = Condition{
		Ask: "Is all the liquid in it bought vinegar of 5 % or stronger?",
		Why: "Vinegar of that strength keeps itself. Water, juice or oil thins it, and no one knows how strong homemade vinegar is.",
		OK:  "Yes, only such vinegar", Not: "No, weaker or homemade vinegar, or something else too",
		Cites: []Cite{read(&srcVinegarUW, "only in vinegar that is strong enough"), read(&srcVinegarAsk, "flavored vinegar")}}
	soaked = Condition{
		Ask: "Did only garlic, basil, oregano or rosemary go in, after a full day in 3 % citric acid?",
		Why: "That makes them sour enough to stand in oil. It was tested for these four, and with citric acid only.",
		OK:  "Yes, by the university recipe", Not: "No, something else, another acid, or none",
		Cites: []Cite{read(&srcOilOSU, "garlic, basil, rosemary and oregano, citric acid, 24 hours"), read(&srcOilPNW, "garlic, basil, oregano and rosemary soaked in citric acid")}}
)
