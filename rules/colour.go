package rules

// changed is every colour change that a product may be known for.
var changed = []Value{ColourFaded, ColourPink, ColourBlue, ColourBrowned, ColourDark}

var citesColourOdd = []Cite{read(&srcSpoiled, "unnatural colour"), read(&srcCDCHome, "discoloured food")}

// The colour, seen through the glass.
var colourRules = []Rule{
	{"colour.odd", Restriction, When{{ColourOdd}}, Discard,
		"A colour the food should not have, and no harmless cause known for it.", citesColourOdd},
	{"colour.faded", Restriction, When{{ColourFaded}, {FadesNo}}, Discard,
		"Fading is not a known harmless look of this food.", citesColourOdd},
	{"colour.pink", Restriction, When{{ColourPink}, {PinksNo}}, Discard,
		"Turning pink is not a known harmless look of this food; yeasts can be pink.", citesColourOdd},
	{"colour.blue", Restriction, When{{ColourBlue}, {BluesNo}}, Discard,
		"Turning blue or green is not a known harmless look of this food.", citesColourOdd},
	{"colour.browned", Restriction, When{{ColourBrowned}, {BrownsNo}}, Discard,
		"Browning all through is not a known harmless look of this food.", citesColourOdd},
	{"colour.dark", Restriction, When{{ColourDark}, {DarkensNo}}, Discard,
		"Turning grey or black is not a known harmless look of this food.", citesColourOdd},
	{"colour.unbacked", Restriction, When{append([]Value{ColourTop}, changed...), {BackingOther}}, Discard,
		"A change of colour is harmless only in a sealed jar with a tested process behind it.",
		[]Cite{read(&srcAskColour, "safe if sealed and processed right"), read(&srcAskExt, "165277, brown pears")}},
	{"colour.cloudy", Restriction, When{changed, cloudy}, Discard,
		"A change of colour and a cloudy liquid are two signs at once; each alone may be harmless, together they are not.",
		[]Cite{read(&srcAskColour, "faded beets: safe while the liquid is clear"), derived(&srcNCState, "245 and 468: harmless only without a second sign")}},
	{"colour.soft", Restriction, When{changed, {BodySoft}}, Discard,
		"A change of colour and soft food are two signs at once.",
		[]Cite{read(&srcAskExt, "165277: brown and soft pears"), read(&srcPickleFAQ, "pink brine with softness is yeast")}},
	{"colour.top-harmless", Note, When{{ColourTop}, {BackingTested}}, 0,
		"Food that stands above the liquid darkens in the air left in the jar. Harmless.",
		[]Cite{read(&srcNCState, "475, food above the liquid"), read(&srcColour, "darkening at the top")}},
	{"colour.faded-harmless", Note, When{{ColourFaded}, {FadesYes}, {BackingTested}, {CloudClear}, {BodyUsual}}, 0,
		"This food is known to fade: its colour goes into the liquid or is bleached by light.",
		[]Cite{read(&srcColour, "fading"), read(&srcYearbook, "p. 12: light")}},
	{"colour.pink-harmless", Note, When{{ColourPink}, {PinksYes}, {BackingTested}, {CloudClear}, {BodyUsual}}, 0,
		"This food is known to turn pink: a natural pigment changed by heat or acid.",
		[]Cite{read(&srcPears, "pink pears"), read(&srcColour, "pigments"), read(&srcAskColour, "pigments")}},
	{"colour.blue-harmless", Note, When{{ColourBlue}, {BluesYes}, {BackingTested}, {CloudClear}, {BodyUsual}}, 0,
		"This food is known to turn blue, green or purple: a natural pigment, acid or traces of metal.",
		[]Cite{read(&srcColour, "garlic"), read(&srcPickleMSU, "blue or green garlic"), read(&srcPickleFAQ, "milder on pickles, stricter on garlic: eat the pickles, bin the garlic")}},
	{"colour.browned-harmless", Note, When{{ColourBrowned}, {BrownsYes}, {BackingTested}, {CloudClear}, {BodyUsual}}, 0,
		"This food is known to brown: its sugar, light, or the chlorophyll breaking down.",
		[]Cite{read(&srcCornBeans, "brown corn"), read(&srcAskExt, "165277, brown pears")}},
	{"colour.dark-harmless", Note, When{{ColourDark}, {DarkensYes}, {BackingTested}, {CloudClear}, {BodyUsual}}, 0,
		"This food is known to turn grey or dark: spice, iron, blood pigment or air.",
		[]Cite{read(&srcPickleMSU, "dark pickles"), read(&srcGame, "dark tissue by the bone"), read(&srcAskExt, "289541: grey meat above the broth")}},
}
