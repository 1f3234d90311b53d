package rules

// The harmless look-alikes that several products share. Each is harmless only
// in a jar with a good seal, a tested process and no second sign.
var (
	starchSettles = LookAlike{SettlesYes, "A white layer at the bottom, the liquid above it clear",
		"Starch leaves the food and settles.", "The liquid is murky, the food soft, or there is gas or an odor.",
		[]Cite{read(&srcCornBeans, "cloudy beans"), read(&srcVegOSU, "cloudy liquid")}}
	mineralSettles = LookAlike{SettlesYes, "A white layer at the bottom, the liquid above it clear",
		"Starch, hard water or a filler in the salt.", "The process cannot be shown, the liquid is murky or the food soft.",
		[]Cite{read(&srcVCE, "white sediment"), read(&srcVegOSU, "cloudy liquid")}}
	cutTomatoSeparates = LookAlike{SettlesYes, "Red pulp and a clear amber layer, one above the other",
		"Cut raw, tomatoes free an enzyme that lets the pulp sink. Shake and use.", "Moving bubbles, spurting, mold.",
		[]Cite{derived(&srcNCState, "421, the same enzyme as in juice"), derived(&srcIllinois, "separation")}}
	pulpSettles = LookAlike{SettlesYes, "Fine pulp at the bottom, clear juice above",
		"Fruit pulp settles.", "Moving bubbles, spurting, mold.",
		[]Cite{practice("unfiltered juice settles")}}
	tomatoSeparates = LookAlike{SettlesYes, "Red pulp and a clear amber layer, one above the other",
		"Cut raw, tomatoes free an enzyme that lets the pulp sink. Shake and use.", "Moving bubbles, spurting, mold.",
		[]Cite{read(&srcNCState, "421, juice that separates"), read(&srcIllinois, "separation")}}
	brothSettles = LookAlike{SettlesYes, "Fine meat particles at the bottom, clear broth above",
		"Small particles and set protein sink.", "The broth is murky or smells, or the lid is loose.",
		[]Cite{practice("fine particles settle in strained broth")}}
	soupSettles = LookAlike{SettlesYes, "A pale layer at the bottom, clear liquid above",
		"Starch of beans, corn or potatoes settles.", "The liquid is murky, there is gas or an odor.",
		[]Cite{derived(&srcVegOSU, "cloudy liquid of starchy vegetables")}}

	rawMeatSettles = LookAlike{SettlesYes, "Fine particles at the bottom, clear broth above",
		"Minerals, salt and particles of the meat, set by the heat, sink.", "The broth stays cloudy after standing, the meat is soft, there is gas or an odor, or a dial gauge was never tested.",
		[]Cite{read(&srcAskExt, "272189: sediment in jars of meat, safe if sealed and processed right"), practice("set protein of raw-packed meat sinks")}}
	pickleSettles = LookAlike{SettlesYes, "White sediment at the bottom, clear brine above, the pickles firm",
		"A filler in table salt, or lactic acid bacteria that were on the vegetables.", "Soft or slippery pickles, an odor, mold, gas.",
		[]Cite{copied(&srcPickleTable, "white sediment in pickles, fermented or quick"), read(&srcPickleMSU, "fillers in table salt")}}

	pickleHazes = LookAlike{HazesYes, "Slightly cloudy brine, the pickles firm",
		"A filler in table salt, hard water or minerals.", "Mushy or slippery pickles, an odor, mold, gas.",
		[]Cite{read(&srcPickleMSU, "cloudy brine")}}
	fermentHazes = LookAlike{HazesYes, "Cloudy brine",
		"A finished ferment leaves its lactic acid bacteria in the brine.", "Slime, a putrid smell, mold.",
		[]Cite{read(&srcPickleMSU, "cloudy brine of fermented pickles"), read(&srcKrautOSU, "cloudy brine")}}
	fermentSettles = LookAlike{SettlesYes, "White sediment at the bottom",
		"Yeasts and bacteria of a finished ferment settle.", "Slime, a putrid smell, mold.",
		[]Cite{read(&srcPickleMSU, "white sediment"), read(&srcKrautOSU, "white sediment")}}

	sauceParts = LookAlike{SettlesYes, "Pulp, seeds or solids in one layer, clear liquid in the other",
		"The cut vegetables or fruit let their juice go, as tomatoes do. Shake and use.", "Moving bubbles, spurting, mold.",
		[]Cite{derived(&srcNCState, "421: juice that separates"), derived(&srcIllinois, "separation")}}
	pulpParts = LookAlike{SettlesYes, "Fruit pulp in one layer, clear juice in the other",
		"Fruit pulp sinks or rises and lets its juice go. Stir and use.", "Moving bubbles, spurting, mold.",
		[]Cite{derived(&srcNCState, "421: juice that separates"), practice("unfiltered juice settles")}}
	partsDull = LookAlike{TogetherDull, "Paler or browner than it was, and parted into layers",
		"Parting into layers is no cloud: the juice that runs out is clear. Light, heat and age do the rest.", "Liquid that is cloudy itself, moving bubbles, mold, a lost seal.",
		[]Cite{derived(&srcNCState, "421: juice that separates"), derived(&srcIllinois, "separation"), derived(&srcYearbook, "p. 12: light bleaches color")}}
	oilSets = LookAlike{FattyYes, "A pale layer of oil that has set",
		"Some of the fats of oil turn solid in the cold; in a warm room they melt again.", "It stays set or cloudy in a warm room, a rancid smell, gas.",
		[]Cite{read(&srcNCState, "338: oil turns cloudy in the cold")}}
	coldOil = LookAlike{HazesYes, "Cloudy or set oil, in the refrigerator",
		"Some of the fats of oil turn solid in the cold; in a warm room they melt again.", "It stays cloudy in a warm room, gas, an odor.",
		[]Cite{read(&srcNCState, "338: oil turns cloudy in the cold")}}
	oilClouds = LookAlike{HazesYes, "Cloudy oil on the brine",
		"Some of the fats of oil turn solid in the cold; in a warm room they melt again.", "It stays cloudy in a warm room, soft food, gas, an odor.",
		[]Cite{read(&srcNCState, "338: oil turns cloudy in the cold, with sediment in it"), read(&srcPickleMSU, "cloudy brine")}}

	picklesBrown = LookAlike{BrownsYes, "Olive pickles, or red-brown brine",
		"Heat and acid turn green olive; rust or iron in the water reddens the brine, and that fades in months.", "Soft pickles, gas, an odor.",
		[]Cite{read(&srcNCState, "354, the olive green of pickles"), copied(&srcPickleMSU, "01600601: olive green is the color of pickles"), read(&srcPickleMSU, "red brine")}}
	picklePinks = LookAlike{PinksYes, "Pink brine",
		"Over-mature dill, or its pigment has shifted.", "A film, gas or soft pickles: then it is yeast.",
		[]Cite{read(&srcPickleFAQ, "pink brine"), read(&srcPickleMSU, "pink brine")}}
	pickleDarkens = LookAlike{DarkensYes, "Dark or gray pickles",
		"Ground spice, iodized salt or iron.", "Soft pickles, gas, an odor.",
		[]Cite{read(&srcPickleMSU, "dark pickles")}}
	garlicBlues = LookAlike{BluesYes, "Blue, green or purple garlic",
		"A pigment of young garlic, or traces of copper.", "Gas or an odor. One source would eat the pickles and bin the garlic.",
		[]Cite{read(&srcPickleMSU, "blue or green garlic"), read(&srcColor, "garlic"), read(&srcPickleFAQ, "garlic")}}

	garlicInHaze = LookAlike{TogetherDull, "Blue or green garlic in slightly cloudy brine, the pickles firm",
		"The color is in the garlic and the cloud in the brine: two harmless looks with causes of their own.", "Soft or slippery pickles, a color in anything but garlic, a film, gas, an odor.",
		[]Cite{derived(&srcPickleMSU, "blue garlic and cloudy brine, each by itself"), derived(&srcColor, "garlic")}}
	krautPinks = LookAlike{TogetherPink, "Pink sauerkraut with cloudy brine or a white layer",
		"One ferment makes both: yeast from uneven salt turns it pink, and finished brine is cloudy.", "Slime, or a yeasty smell once it is open: then it has spoiled.",
		[]Cite{derived(&srcKrautOSU, "pink kraut: safe unless slimy"), derived(&srcPickleMSU, "cloudy brine of fermented food"), read(&srcNCState, "19, stricter: cloudy and smelling of yeast is spoiled")}}
	cornInStarch = LookAlike{TogetherDull, "Browned corn with a white layer at the bottom",
		"Its sugar browned in the heat, and its starch settled.", "Liquid that stays cloudy, soft corn, gas, an odor, or it was not pressure canned.",
		[]Cite{derived(&srcCornBeans, "brown corn, and starch that settles, each by itself")}}

	cauliflowerPinks = LookAlike{PinksYes, "Pink cauliflower, onions or dill",
		"A colorless pigment turns pink in acid.", "Soft pieces, a film, an odor, gas: then it is yeast.",
		[]Cite{read(&srcPickleMSU, "pink cauliflower, pink dill"), read(&srcAskColor, "cauliflower"), copied(&srcColorNews, "pickled cauliflower: pink or blue")}}
	cauliflowerBlues = LookAlike{BluesYes, "Purple cauliflower, or blue or green garlic",
		"A pigment changed by acid, or by minerals of the water.", "Soft pieces, an odor, gas.",
		[]Cite{read(&srcColor, "cauliflower, garlic"), read(&srcPigments, "cauliflower"), copied(&srcColorNews, "pickled cauliflower: pink or blue")}}
	onionPinks = LookAlike{PinksYes, "Pink onions",
		"The pigment of red onions, or a colorless one of white onions, is pink in vinegar.", "Soft onions, a film, gas.",
		[]Cite{derived(&srcAskColor, "colorless and red pigments of vegetables"), derived(&srcPigments, "red pigments are red in acid")}}
	picklesFade = LookAlike{FadesYes, "Paler than it was",
		"Color goes into the brine, and light bleaches it.", "Soft pickles, gas, an odor.",
		[]Cite{read(&srcYearbook, "p. 12: light bleaches color"), derived(&srcColor, "pigments")}}
	sauceDarkens = LookAlike{BrownsYes, "Darker or browner than it was",
		"Sugar, spice and fruit darken in time.", "Gas, mold, an odor.",
		[]Cite{derived(&srcJamUSU, "fruit turns brown in time: quality, not safety"), read(&srcPickleMSU, "dark pickles: spice")}}
	mushroomsBrown = LookAlike{BrownsYes, "Brown mushrooms, or brown broth over them",
		"Mushrooms brown in the heat where no vitamin C was added, and color their broth.", "Cloudy liquid, soft or slimy food, gas, an odor.",
		[]Cite{derived(&srcProcesses, "mushrooms: ascorbic acid for better color"), read(&srcYearbook, "iron and copper may turn some foods brown, black or gray")}}
	ironDarkens = LookAlike{DarkensYes, "Gray or dark food",
		"Iron or copper of the water or the pot.", "Cloudy liquid, soft food, gas, an odor.",
		[]Cite{read(&srcYearbook, "iron and copper may turn some foods brown, black or gray")}}
	seafoodGreys = LookAlike{DarkensYes, "Gray or gray-blue meat, most at the edges",
		"Sulfur and traces of metal in the meat. Lemon juice in the water or the jar holds it back, for the looks.", "Slime, an odor, gas, cloudy liquid, or the process cannot be shown.",
		[]Cite{copied(&srcSalmonPNW, "2011 text: lemon juice and vinegar are for color and flavor, and may be left out"), derived(&srcShellMSU, "01600851: lemon juice or citric acid in the blanching water")}}
	seafoodBlues = LookAlike{BluesYes, "Bluish or greenish meat",
		"Copper in the blood or the feed of shellfish. Lemon juice holds it back, for the looks.", "Slime, an odor, gas, cloudy liquid, or the process cannot be shown.",
		[]Cite{copied(&srcSalmonPNW, "2011 text: lemon juice and vinegar are for color and flavor, and may be left out")}}

	fruitReds = LookAlike{PinksYes, "Pink or purple pieces",
		"Heat changes a colorless pigment of the fruit, or iron and copper do.", "Soft fruit, an odor, gas.",
		[]Cite{copied(&srcColorUI, "apples, pears, peaches, quinces: pink, red, blue or purple, not harmful"), read(&srcAskColor, "canned apples, pears and peaches")}}
	fruitBlues = LookAlike{BluesYes, "Blue or purple pieces",
		"Heat, iron and copper change a pigment of the fruit.", "Soft fruit, an odor, gas.",
		[]Cite{copied(&srcColorUI, "apples, pears, peaches, quinces: pink, red, blue or purple, not harmful"), read(&srcAskColor, "canned apples, pears and peaches")}}
	lightFades = LookAlike{FadesYes, "Paler than it was",
		"Light bleaches color, and it goes into the syrup.", "Mold, gas.",
		[]Cite{read(&srcYearbook, "p. 12: light bleaches color")}}

	fruitFades = LookAlike{FadesYes, "Pale fruit in colored syrup",
		"The pigment goes into the syrup, and light bleaches it.", "Mold, gas.",
		[]Cite{read(&srcYearbook, "p. 12: light bleaches color"), derived(&srcColor, "pigments")}}
	jamFades = LookAlike{FadesYes, "Paler, duller or browner than it was",
		"The color of fruit fades and turns brown in time, sooner in light and warmth and with little sugar.", "Mold, moving bubbles, a lost seal.",
		[]Cite{read(&srcJamUSU, "red jam turns brown in time, most at the top: quality, not safety"), derived(&srcYearbook, "p. 12: light bleaches color"), memory(&srcUGAManual, "fading of jellies")}}
	jamDarkens = LookAlike{BrownsYes, "Browner than it was, most at the top",
		"The color of fruit turns brown in time, sooner in the warm, in the light and with little sugar.", "Mold, moving bubbles, a lost seal.",
		[]Cite{read(&srcJamUSU, "red jam turns brown in time: quality, not safety"), copied(&srcJamOpen, "light-colored jams darken: no matter of safety"), read(&srcJamOSU, "darkening")}}
	jamWeeps = LookAlike{SettlesJam, "A little clear syrup beside the jam or jelly",
		"Too much acid, or a place that was too warm: it weeps.", "Mold, moving bubbles, a lost seal, or it was firm for months and is runny now.",
		[]Cite{read(&srcJamOSU, "syneresis: weepy products are safe to eat")}}
	jamWeepsBrown = LookAlike{TogetherDull, "Faded or brown jam that weeps",
		"Age does the one, and acid or warmth the other.", "Mold, moving bubbles, a lost seal.",
		[]Cite{derived(&srcJamOSU, "weeping"), derived(&srcJamUSU, "brown jam")}}
	sugarCrystals = LookAlike{CrystalsYes, "Crystals of sugar",
		"Too much sugar for the water, or too little boiling.", "Mold, moving bubbles, a lost seal.",
		[]Cite{read(&srcJamOSU, "crystals")}}
	foamSkin = LookAlike{FoamsYes, "A thin dry skin of foam on top",
		"Air from boiling that was not skimmed off.", "It moves, grows, is fuzzy or smells of yeast.",
		[]Cite{read(&srcJamOSU, "bubbles that do not move"), practice("foam that is not skimmed off jam dries on top")}}
	tartrateCrystals = LookAlike{CrystalsYes, "Sharp, glassy crystals",
		"Tartar from the grape itself.", "Mold, gas, a lost seal.",
		[]Cite{read(&srcGrape, "crystals in grape products"), read(&srcStoreMSU, "crystals in grape juice")}}

	calciumSpecks = LookAlike{SpecksYes, "Hard, scaly white spots",
		"Calcium salts of the tomato.", "Soft or fuzzy spots: mold.",
		[]Cite{read(&srcPigments, "white spots on tomato")}}
	rutinSpecks = LookAlike{SpecksYes, "Yellow or white specks on the pieces",
		"Rutin of the vegetable, crystallized.", "Fuzzy specks: mold.",
		[]Cite{read(&srcAsparagus, "yellow and white specks")}}
	rutinInVinegar = LookAlike{CrystalsYes, "Yellow or white crystals on the pieces",
		"Rutin of the vegetable, crystallized.", "Fuzzy growth: mold.",
		[]Cite{read(&srcAsparagus, "yellow and white specks")}}
	rutinPowder = LookAlike{SpecksYes, "Bright yellow specks or powder",
		"Rutin of the vegetable, set free by the heat.", "Fuzzy specks, gas, an odor.",
		[]Cite{read(&srcNCState, "188, crystals in asparagus"), read(&srcPigments, "rutin")}}
	rutinCrystals = LookAlike{CrystalsYes, "Bright yellow crystals",
		"Rutin of the vegetable, crystallized by the heat.", "Fuzzy growth, gas, an odor.",
		[]Cite{read(&srcNCState, "188, crystals in asparagus"), read(&srcPigments, "rutin")}}
	onionCrystals = LookAlike{CrystalsYes, "Yellow crystals on the onions",
		"Quercetin of the onion, crystallized.", "Fuzzy growth, gas, soft onions.",
		[]Cite{memory(&srcUGAManual, "yellow crystals")}}
	oxalateCrystals = LookAlike{CrystalsYes, "White crystals",
		"Calcium oxalate of the leaves.", "Fuzzy growth, gas, an odor.",
		[]Cite{read(&srcPigments, "calcium oxalate in spinach")}}
	greensBrown = LookAlike{BrownsYes, "Olive or olive-brown instead of green",
		"Heat and acid break down the green of leaves and pods.", "Murky liquid, gas, an odor.",
		[]Cite{read(&srcNCState, "354, the olive green of pickles"), copied(&srcPickleMSU, "01600601: heat and acid turn chlorophyll olive green")}}
	greensDull = LookAlike{FadesYes, "Dull or drab instead of bright green",
		"Heat and acid break down the green of leaves and pods.", "Murky liquid, gas, an odor.",
		[]Cite{read(&srcNCState, "354, the olive green of pickles"), copied(&srcPickleMSU, "01600601: heat and acid turn chlorophyll olive green")}}
	greensInHaze = LookAlike{TogetherDull, "Olive pickles, or blue garlic, in slightly cloudy brine, the pickles firm",
		"Olive is the color of every green pickle, blue is in the garlic, and the cloud is in the brine.", "Soft or slippery pickles, a film, gas, an odor.",
		[]Cite{derived(&srcPickleMSU, "olive pickles, blue garlic and cloudy brine, each by itself")}}
	greensInStarch = LookAlike{TogetherDull, "Olive vegetables with a white layer at the bottom",
		"Their green breaks down in the heat, and their starch settles.", "Liquid that stays cloudy, soft food, gas, an odor, or it was not pressure canned.",
		[]Cite{derived(&srcCornBeans, "starch that settles"), derived(&srcPickleMSU, "01600601: heat turns chlorophyll olive green")}}

	fatCaps = LookAlike{FattyYes, "A solid white or yellow cap",
		"Fat sets in the cool.", "A rancid smell, a loose lid. Much fat can spoil a seal.",
		[]Cite{practice("a hard white fat cap on meat is normal"), read(&srcMeatFAQ, "fat and seals"), read(&srcNCState, "538, fat and seals")}}
	brothGels = LookAlike{FattyYes, "A cap of fat, or the broth set to jelly",
		"Fat sets in the cool; gelatin sets the broth.", "Bubbles, an odor, a loose lid.",
		[]Cite{practice("broth sets to jelly in a cool store"), read(&srcMeatFAQ, "fat and seals")}}
	rawTomatoes = LookAlike{AbsorbsYes, "Tomatoes floating above an inch or two of their own juice",
		"Packed raw and pressed, without added liquid, they give the only juice there is, and the air in them lets them float.", "The level fell in storage, rising bubbles, or the jar leaks.",
		[]Cite{copied(&srcProcesses, "tomatoes packed raw without added liquid: their own process, 85 minutes"), read(&srcNCState, "73, tomatoes that float")}}
	tomatoesFade = LookAlike{FadesYes, "Paler than it was",
		"The red of tomatoes fades in light and with long storage.", "Gas, mold, an odor.",
		[]Cite{read(&srcYearbook, "p. 12: the red of tomatoes fades in storage")}}
	tomatoesBrown = LookAlike{BrownsSoon, "Browner than it was",
		"Heat, light and age darken the red of tomatoes.", "Gas, mold, an odor, or the process cannot be shown.",
		[]Cite{read(&srcYearbook, "p. 12: colors darken in light, and fade in long storage; safe for more than two years")}}
	fruitBrowns = LookAlike{BrownsSoon, "Tan or brown fruit",
		"Light, warmth, air in the jar and age brown light-colored fruit, sooner when it was packed raw.", "Mold, moving bubbles, an odor, a lost seal.",
		[]Cite{read(&srcYearbook, "p. 12: colors darken in light and in storage"), copied(&srcColorUI, "EHE-661: fruit darkens in warmth, in light and by air in the jar"), read(&srcDarkWSU, "raw-packed pears, apples and pineapple turn dark")}}
	rawPackLow = LookAlike{AbsorbsYes, "Meat standing above its liquid",
		"Raw-packed meat makes its own broth, half to two thirds of the jar.", "The level fell in storage, or the jar leaks.",
		[]Cite{practice("meat packed without liquid stands in its own broth"), read(&srcMeat, "level after cooling")}}
	absorbs = LookAlike{AbsorbsYes, "Thick, with little free liquid",
		"Beans, corn and potatoes take up liquid, and their starch thickens it.", "A thickener was added, the level fell in storage, or the jar leaks.",
		[]Cite{read(&srcProblemsK, "starchy food absorbs liquid")}}
	proteinSpecks = LookAlike{SpecksYes, "Pale curd in the broth or on the meat",
		"Protein of the meat juice, set by the heat.", "Slime, an odor, gas.",
		[]Cite{practice("raw-packed meat shows set protein")}}
	curdSpecks = LookAlike{SpecksYes, "White curd on the fish",
		"Protein of the fish, set by the heat.", "An odor, gas.",
		[]Cite{memory(&srcSalmonPNW, "curd on salmon")}}
	struvite = LookAlike{CrystalsYes, "Glass-like crystals, up to 8 mm",
		"Struvite: minerals of the fish. It dissolves in warm lemon juice or vinegar, glass does not.", "Splinters that do not dissolve.",
		[]Cite{read(&srcFishMSU, "struvite"), read(&srcStruvite, "struvite")}}
	meatBrowns = LookAlike{BrownsYes, "Brown meat, most above the broth",
		"Air in the jar darkens meat that was packed raw, and it goes on a little in storage.", "Slime, an odor, gas, or the process cannot be shown.",
		[]Cite{read(&srcAskExt, "289541: raw-packed meat, brown or gray through and through")}}
	meatGreys = LookAlike{DarkensYes, "Gray meat, most above the broth",
		"Air in the jar darkens meat that was packed raw; it shows most on light-colored poultry.", "Slime, an odor, gas, or the process cannot be shown.",
		[]Cite{read(&srcAskExt, "289541: raw-packed meat, brown or gray through and through")}}
	boneDarkens = LookAlike{DarkensYes, "Dark meat near the bone",
		"Heat draws the pigment out of the marrow.", "Slime, an odor, gas.",
		[]Cite{read(&srcGame, "dark tissue near the bone")}}
	meatDarkens = LookAlike{DarkensYes, "Dark brown to nearly black meat",
		"The pigment of red meat, darkened by heat.", "Slime, an odor, gas.",
		[]Cite{memory(&srcMeatColor, "myoglobin")}}
	poultryPinks = LookAlike{PinksYes, "A pink tinge",
		"Blood pigment or traces of nitrate.", "An odor, or the process cannot be shown.",
		[]Cite{read(&srcMeatColor, "cooked poultry is white, pink or tan")}}
	curePinks = LookAlike{PinksYes, "Pink all through",
		"The curing salt sets the color.", "Slime, an odor, gas.",
		[]Cite{memory(&srcMeatColor, "cured meat")}}
)
