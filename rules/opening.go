package rules

// open is food that can be looked at and smelled: the jar is open, or it has
// been in the refrigerator since it was made.
var open = []Value{OpenedNow, OpenedBefore, OpenedChilled, OpenedThawed, OpenedBottle}

// prised is a jar that stood sealed on a shelf until it was opened.
var prised = []Value{OpenedNow, OpenedBefore}

// Opening: what shows when the lid comes off.
var openingRules = []Rule{
	{"opening.clock", Restriction, When{{OpenedNow, OpenedBefore, OpenedChilled, OpenedThawed, OpenedFrozen}}, UseSoon,
		"Opened food, and food that was never sealed, keeps only in the cold and only for its time.",
		[]Cite{read(&srcFridge, "opened canned food"), read(&srcFridgeChart, "days in the refrigerator")}},
	{"opening.bottle", Restriction, When{{OpenedBottle}, later, {RouteBoiling, RoutePasteur, RoutePressure, RouteMonths, RouteNone}}, Discard,
		"Nothing published says that its acid alone keeps it on a shelf unsealed.",
		[]Cite{derived(&srcReprocess, "unsealed jars are refrigerated"), read(&srcVinegarUW, "only vinegar that is strong enough keeps by itself")}},
	{"opening.bottle.soon", Restriction, When{{OpenedBottle}}, UseSoon,
		"It was never sealed, so it keeps for some months at the most.",
		[]Cite{read(&srcVinegarAsk, "3 months at room temperature")}},
	{"opening.release.spurt", Restriction, When{prised, {ReleaseSpurt}}, Discard,
		"Spurting means gas: something was growing in the jar.",
		[]Cite{read(&srcSpoiled, "spurting liquid"), read(&srcCDCHome, "spurts liquid or foam")}},
	{"opening.release.hiss", Restriction, When{prised, {ReleaseHiss}}, Discard,
		"A hiss outward is pressure from inside: gas.",
		[]Cite{read(&srcCDCHome, "spurts liquid or foam when opened")}},
	{"opening.release.none", Restriction, When{prised, {ReleaseNone}, later}, Discard,
		"The lid came off loosely: the jar was no longer sealed.", citesUnsealed},
	{"opening.release.in", Note, When{prised, {ReleaseIn}}, 0,
		"Air drawn in shows there was a vacuum. It does not prove the food was heated enough.",
		[]Cite{practice("a pop as air is drawn in is normal on opening"), read(&srcHeatOSU, "inward air does not prove safety"), derived(&srcVegOSU, "a seal broken for an unknown amount of time: one that broke just now is an opened jar")}},
	{"opening.smell", Restriction, When{open, {SmellOff}}, Discard,
		"An off smell is spoilage. Do not taste.",
		[]Cite{read(&srcSpoiled, "off odors"), read(&srcVegOSU, "off odors"), read(&srcFlatSour, "sour smell, flat lid")}},
	{"opening.film", Restriction, When{open, {FilmFilm, FilmFoam}}, Discard,
		"A film or foam on the surface is something growing.",
		[]Cite{read(&srcSpoiled, "foam"), read(&srcPickleNC, "scum: only during open fermenting")}},
	{"opening.underlid.fuzzy", Restriction, When{open, {UnderlidFuzzy}}, Discard,
		"Fuzz under the lid is mold.",
		[]Cite{read(&srcSpoiled, "mold under the lid")}},
	{"opening.underlid.pitted", Restriction, When{open, {UnderlidPitted}}, Discard,
		"A lid eaten through no longer sealed the jar.",
		[]Cite{read(&srcStoreMSU, "corrosion"), read(&srcYearbook, "p. 112")}},
	{"opening.underlid.unbacked", Restriction, When{open, {UnderlidDark}, notTested}, Discard,
		"A dark stain under the lid is harmless only if the jar was sealed and processed right.",
		[]Cite{read(&srcNCState, "245, dark deposit under lids")}},
	{"opening.underlid.stain", Note, When{open, {UnderlidDark}, {BackingTested}}, 0,
		"A dark stain under the lid comes from food acids or sulfur on worn coating. Harmless.",
		[]Cite{read(&srcNCState, "245, dark deposit under lids"), read(&srcMeat, "black under the lid"), read(&srcGame, "black under the lid")}},
}
