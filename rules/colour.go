package rules

// changed is every colour change that a product may be known for.
var changed = []Value{ColourFaded, ColourPink, ColourBlue, ColourBrowned, ColourDark}

var citesColourOdd = []Cite{read(&srcSpoiled, "unnatural color"), read(&srcCDCHome, "discolored food")}

const saysCloudy = "A change of color and a cloudy liquid are two signs at once; each alone may be harmless, together they are not."

var citesCloudy = []Cite{read(&srcAskColour, "faded beets: safe while the liquid is clear"), derived(&srcNCState, "245 and 468: harmless only without a second sign")}

// The color, seen through the glass.
var colourRules = []Rule{
	{"colour.odd", Restriction, When{{ColourOdd}}, Discard,
		"A color the food should not have, and no harmless cause known for it.", citesColourOdd},
	{"colour.faded", Restriction, When{{ColourFaded}, {FadesNo}}, Discard,
		"Fading is not a known harmless look of this food.", citesColourOdd},
	{"colour.pink", Restriction, When{{ColourPink}, {PinksNo}}, Discard,
		"Turning pink is not a known harmless look of this food; yeasts can be pink.", citesColourOdd},
	{"colour.blue", Restriction, When{{ColourBlue}, {BluesNo}}, Discard,
		"Turning blue or green is not a known harmless look of this food.", citesColourOdd},
	{"colour.browned", Restriction, When{{ColourBrowned}, {BrownsNo}}, Discard,
		"Browning all through is not a known harmless look of this food.", citesColourOdd},
	{"colour.dark", Restriction, When{{ColourDark}, {DarkensNo}}, Discard,
		"Turning gray or black is not a known harmless look of this food.", citesColourOdd},
	{"colour.blue-acid", Restriction, When{{ColourBlue}, {BluesAcid}}, Discard,
		"The red pigment of this food turns blue or green when its acid is missing.",
		[]Cite{derived(&srcColour, "pigments"), derived(&srcPigments, "red pigments are red in acid and blue without it")}},
	{"colour.faded-unbacked", Restriction, When{{ColourFaded}, {BackingOther}}, Discard,
		"Fading is harmless only if the jar was canned by a tested process, or in plainly acid food.",
		[]Cite{read(&srcAskColour, "safe if sealed and processed right")}},
	{"colour.top-unbacked", Restriction, When{{ColourTop}, {BackingOther}}, Discard,
		"Darkening at the top is harmless only if the jar was canned by a tested process, or in plainly acid food.",
		[]Cite{read(&srcColour, "darkening at the top"), read(&srcAskColour, "safe if sealed and processed right")}},
	{"colour.unbacked", Restriction, When{{ColourPink, ColourBlue, ColourBrowned, ColourDark}, notTested}, Discard,
		"A change of color is harmless only in a sealed jar that was canned by a tested process.",
		[]Cite{read(&srcAskColour, "safe if sealed and processed right"), read(&srcAskExt, "165277, brown pears")}},
	{"colour.cloudy", Restriction, When{{ColourFaded, ColourBlue, ColourBrowned}, {TogetherNo, TogetherPink}, cloudy}, Discard, saysCloudy, citesCloudy},
	{"colour.cloudy.dark", Restriction, When{{ColourDark}, cloudy}, Discard, saysCloudy, citesCloudy},
	{"colour.cloudy.pink", Restriction, When{{ColourPink}, {TogetherNo, TogetherDull}, cloudy}, Discard, saysCloudy, citesCloudy},
	{"colour.browned-soon", Restriction, When{{ColourBrowned}, {BrownsSoon}}, UseSoon,
		"The sugar of this food browned in the heat. That is no danger after a full process, but such a jar does not keep its quality for long.",
		[]Cite{read(&srcCornBeans, "brown corn: refrigerate it or eat it sooner"), read(&srcNCState, "224, brown corn: safe if properly processed")}},
	{"colour.soft", Restriction, When{changed, {BodySoft}}, Discard,
		"A change of color and soft food are two signs at once.",
		[]Cite{read(&srcAskExt, "165277: brown and soft pears"), read(&srcPickleFAQ, "pink brine with softness is yeast")}},
	{"colour.garlic", Note, When{{ColourGarlic}}, 0,
		"Garlic turns blue, green or purple, and cauliflower pink, when their pigments meet acid, heat or traces of metal. That is harmless, and says nothing of the rest of the jar.",
		[]Cite{read(&srcColour, "garlic: greenish or purple"), copied(&srcColourNews, "pickled cauliflower or garlic: pink or blue, not harmful"), read(&srcPickleMSU, "blue or green garlic; pink cauliflower"), read(&srcPickleFAQ, "milder on pickles, stricter on garlic: eat the pickles, bin the garlic")}},
	{"colour.top-harmless", Note, When{{ColourTop}, {BackingTested, BackingPlain}}, 0,
		"Food that stands above the liquid darkens in the air left in the jar. Harmless.",
		[]Cite{read(&srcNCState, "475, food above the liquid"), read(&srcColour, "darkening at the top")}},
	{"colour.faded-harmless", Note, When{{ColourFaded}, {FadesYes}, {BackingTested, BackingPlain}, {BodyUsual}}, 0,
		"This food is known to fade or go dull. Its color goes into the liquid, light bleaches it, or heat, acid and age turn it dull or brown.",
		[]Cite{read(&srcColour, "fading"), read(&srcYearbook, "p. 12: light"), read(&srcNCState, "354, the olive green of pickles"), read(&srcJamUSU, "the red of jam turns brown in time: quality, not safety")}},
	{"colour.pink-harmless", Note, When{{ColourPink}, {PinksYes}, {BackingTested}, {BodyUsual}}, 0,
		"This food is known to turn pink: a natural pigment changed by heat or acid.",
		[]Cite{read(&srcPears, "pink pears"), read(&srcColour, "pigments"), read(&srcAskColour, "pigments")}},
	{"colour.blue-harmless", Note, When{{ColourBlue}, {BluesYes}, {BackingTested}, {BodyUsual}}, 0,
		"This food is known to turn blue, green or purple: a natural pigment, acid or traces of metal.",
		[]Cite{read(&srcColour, "garlic"), read(&srcPickleMSU, "blue or green garlic"), read(&srcPickleFAQ, "milder on pickles, stricter on garlic: eat the pickles, bin the garlic")}},
	{"colour.browned-harmless", Note, When{{ColourBrowned}, {BrownsYes, BrownsSoon}, {BackingTested}, {BodyUsual}}, 0,
		"This food is known to brown: by its sugar, by light or by the air in the jar. Green food browns in the heat.",
		[]Cite{read(&srcAskExt, "165277, brown pears"), read(&srcAskExt, "289541: raw-packed meat, brown above the broth")}},
	{"colour.dark-harmless", Note, When{{ColourDark}, {DarkensYes}, {BackingTested}, {CloudClear}, {BodyUsual}}, 0,
		"This food is known to turn gray or dark: spice, iron, blood pigment or air.",
		[]Cite{read(&srcPickleMSU, "dark pickles"), read(&srcGame, "dark tissue by the bone"), read(&srcAskExt, "289541: gray meat above the broth")}},
}
