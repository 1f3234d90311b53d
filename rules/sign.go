package rules

// SignID names a sign: one thing a person can observe, look up in the record
// or read from the catalog.
type SignID uint8

// The signs, in chapter order. Facts come from the catalog and are asked for
// only when the product is not in it.
const (
	SignClass    SignID = iota // acid class of the product
	SignRoute                  // which published process exists for it
	SignKeeps                  // how long it keeps in a refrigerator once opened
	SignHazes                  // is an evenly hazy liquid a known harmless look of it?
	SignSettles                // is a pale layer at the bottom?
	SignAbsorbs                // does it take up or start with little liquid?
	SignFades                  // does it fade?
	SignPinks                  // does it turn pink?
	SignBlues                  // does it turn blue, green or purple?
	SignBrowns                 // does it brown?
	SignDarkens                // does it turn gray or black?
	SignCrystals               // does it grow crystals?
	SignSpecks                 // does it show specks, scale or curd?
	SignFatty                  // does fat or jelly set on top?
	SignFoams                  // does a dry skin of foam set on top?
	SignTogether               // which change of color comes with a cloud that belongs to it?

	SignCondition // what the published process of the product depends on
	SignStanding  // standing of the recipe
	SignMethod    // how the jars were heated
	SignProcess   // were time, pressure and altitude as published?
	SignAcid      // acid added
	SignExtras    // what is in the jar, or was done, that no published recipe for it has
	SignClosure   // kind of lid
	SignSiblings  // other jars of the batch

	SignOdor  // smell of the closed jar
	SignLid   // shape of the lid
	SignPress // center pressed
	SignLift  // lifted by the lid
	SignSeep  // leak, streak or residue
	SignRust  // rust
	SignGlass // glass

	SignCloud   // clarity of the liquid
	SignBubbles // bubbles
	SignLevel   // liquid level
	SignBody    // how the food holds together
	SignColor   // color
	SignMold    // mold
	SignDeposit // crystals, specks, scale
	SignTop     // what lies on top

	SignHeat   // warmest it has been
	SignFrozen // frozen in store
	SignWet    // damp or flood
	SignPlace  // where it stood
	SignAge    // time since processing

	SignOpened   // closed, opened, or never on a shelf but in the cold
	SignRelease  // what happened at opening
	SignSmell    // smell once open
	SignFilm     // surface once open
	SignUnderlid // underside of the lid
	SignIll      // someone who ate from it is ill

	SignDays  // days in the refrigerator, since it was opened, made or thawed
	SignWarms // may it be kept after hours in the warm, once opened?
	SignChill // kept cold since
	SignOut   // hours at room temperature
	SignAir   // temperature of that room

	SignBacking // derived from the record: what the safety of the jar rests on

	NumSigns = int(SignBacking) + 1
)

// Value is one named value of one sign. Every value belongs to exactly one
// sign, so a condition is just a list of values.
type Value uint8

// The values, grouped by sign and, within a sign, from the mildest to the
// strictest reading where such an order exists.
const (
	ClassAcid       Value = iota // plainly acid: fruit, jam, jelly, sauerkraut
	ClassPickled                 // made acid by vinegar
	ClassBorderline              // near pH 4.6, or acid only by its recipe
	ClassLow                     // low-acid

	RouteBoiling  // a published boiling-water process exists (a pressure one may too)
	RoutePasteur  // that, and its recipe names low-temperature pasteurizing too
	RoutePressure // only a published pressure process exists
	RouteMonths   // a published recipe keeps it sealed for some months, then it is eaten up
	RouteBottle   // that, and it needs no seal: its own acid keeps it
	RouteNone     // no published process

	KeepsSixMonths   // up to 180 days opened
	KeepsThreeMonths // up to 90 days
	KeepsTwoMonths   // up to 60 days
	KeepsJam         // up to 30 days
	KeepsThreeWeeks  // up to 21 days
	KeepsReduced     // up to 14 days
	KeepsAcid        // up to 7 days
	KeepsLow         // up to 4 days
	KeepsBroth       // up to 2 days

	HazesYes
	HazesNo
	SettlesYes
	SettlesNo
	SettlesJam // jam and jelly that weep: harmless whatever their process
	AbsorbsYes
	AbsorbsNo
	FadesYes
	FadesNo
	PinksYes
	PinksNo
	BluesYes
	BluesNo
	BluesAcid // blue says that its acid is missing
	BrownsYes
	BrownsNo
	BrownsSoon // harmless, but it does not keep
	DarkensYes
	DarkensNo
	CrystalsYes
	CrystalsNo
	SpecksYes
	SpecksNo
	FattyYes
	FattyNo
	FoamsYes
	FoamsNo
	TogetherNo   // no change of color is known to come with a cloud
	TogetherPink // pink with a cloudy liquid
	TogetherDull // duller, paler, brown, olive, or blue garlic, with either

	ConditionMet // or the product has none
	ConditionNot

	StandingPublished // current published recipe, followed exactly
	StandingChanged   // published recipe with changes
	StandingUnshown   // own, family, shared or unknown recipe

	MethodPressure  // pressure canner
	MethodBoiling   // boiling-water canner
	MethodSteam     // atmospheric steam canner
	MethodSteamLong // the same for longer than 45 minutes, or with the lid opened
	MethodPasteur   // 30 minutes in water kept at 82 to 85 °C (180 to 185 °F)
	MethodUntold    // no one knows
	MethodCooker    // electric multi-cooker
	MethodHotFill   // hot fill, open kettle, turned upside down
	MethodOven      // oven, dishwasher, microwave, sun
	MethodNone      // no heat: vacuum pump, lid only

	ProcessMet      // as published for food, jar size and altitude
	ProcessUnvented // the pressure canner was closed before its air was out
	ProcessGauge    // by a dial gauge that nobody has tested
	ProcessUntold   // it is not known whether it was as published
	ProcessShort    // shorter, weaker, or a larger jar

	AcidHalf  // at least as much vinegar as water, of 5 % or stronger
	AcidFull  // the full dose of a current published recipe
	AcidShort // less, weaker, or none

	ExtrasNone
	ExtrasVegetables // vegetables, herbs, garlic, nuts or fruit that is not sour
	ExtrasThickener  // flour, starch, roux
	ExtrasStarch     // rice, pasta, noodles, barley, dumplings
	ExtrasDairy      // butter, milk, cheese, cream, egg
	ExtrasMeat       // meat, sausage, fish
	ExtrasOil        // packed in oil
	ExtrasMashed     // puréed or mashed where the recipe has pieces
	ExtrasDry        // packed dry, without liquid
	ExtrasSpent      // fruit from dead or frosted vines, over-ripe or decayed
	ExtrasMetal      // acid food that was heated or stood in bare copper, brass, iron or zinc

	ClosureLid   // new flat metal lid held by a screw band
	ClosureUsed  // flat metal lid used before
	ClosureCap   // one-piece screw cap
	ClosureClamp // glass lid with a rubber ring and clips or a wire
	ClosureWax   // wax, paraffin, paper, cloth

	SiblingsSound   // none known to have gone wrong
	SiblingsSeal    // one only lost its seal
	SiblingsSpoiled // one spoiled
	SiblingsIll     // someone who ate from one fell ill

	OdorNone
	OdorOff

	LidDown   // curved down in the middle
	LidNone   // glass or wax: nothing to see
	LidDented // dented, creased, or buckled since the day of canning
	LidFlat   // flat, or stands up a little and can be pushed
	LidBulged // bulging, or buckled in storage

	PressFirm
	PressNone // glass or wax: nothing to press
	PressGives

	LiftHolds
	LiftNone // a cap that screws on, or wax: nothing to lift by
	LiftOff

	SeepNone
	SeepFirstDay // residue of the day it was canned, cleaned, seal tested again
	SeepStreak   // dried streak running from the top
	SeepWet      // wet leak

	RustNone
	RustSpots   // on the surface
	RustThrough // through the metal, pitted

	GlassSound
	GlassCracked // cracked or chipped

	CloudClear
	CloudSettled // pale layer below, clear above
	CloudHazy    // evenly hazy
	CloudMurky   // thick, stringy, murky

	BubblesNone
	BubblesStill  // trapped, not moving
	BubblesRising // rising, foaming

	LevelUsual
	LevelLow     // less than half lost, since the day of canning
	LevelOwn     // little liquid, but none was lost
	LevelHalf    // half or more lost, since the day of canning
	LevelDropped // has dropped in storage

	BodyUsual
	BodyUnset // jam or jelly that never set
	BodySoft  // softer than usual, pieces whole
	BodySlimy // slimy, mushy, slippery

	ColorUsual
	ColorTop     // darkened where it stands above the liquid
	ColorGarlic  // only garlic or cauliflower: blue, green, purple, pink
	ColorFaded   // paler, duller
	ColorPink    // pink or red
	ColorBlue    // blue, green, purple
	ColorBrowned // brown throughout
	ColorDark    // gray or black
	ColorOdd     // any other unnatural color

	MoldNone
	MoldSeen

	DepositNone
	DepositRecipe   // seeds, spice, herbs or pulp of the recipe, from the start
	DepositCrystals // hard, glassy or needle-like
	DepositSpecks   // hard specks, scale, soft curd; not fuzzy

	TopClear
	TopFloat // pieces float
	TopFat   // pale fat or jelly set on top
	TopFoam  // a thin dry skin of foam that does not move
	TopFilm  // film, scum, foam

	HeatCool    // never above 24 °C (75 °F)
	HeatWarm    // above 24, up to 35 °C (95 °F)
	HeatHot     // above 35, up to 37 °C (just under 100 °F)
	HeatExtreme // 38 °C (100 °F) and above

	FrozenNo
	FrozenHeld   // frozen, seal held
	FrozenCold   // seal broke, never thawed
	FrozenThawed // seal broke and it thawed

	WetDry
	WetDamp  // damp, condensation
	WetFlood // under flood water

	PlaceDark
	PlaceLight  // sunlight
	PlaceHeater // by a range, furnace, hot pipe, under the roof
	PlaceFire   // near a fire, its heat or fumes

	AgeDay     // up to 24 hours
	AgeYear    // up to 12 months
	AgeTwo     // up to 24 months
	AgeUnknown // it has no date and nobody knows
	AgeOlder   // more than 24 months

	OpenedNo
	OpenedFrozen  // in the freezer since the day it was made
	OpenedThawed  // was in the freezer since then, and thawed
	OpenedChilled // in the refrigerator since the day it was made
	OpenedNow
	OpenedBefore
	OpenedBottle // on a shelf, kept by its acid alone, never sealed

	ReleaseIn    // sealed: prised off, air drawn in
	ReleaseNone  // came off loosely, no vacuum
	ReleaseHiss  // hiss outward
	ReleaseSpurt // liquid or foam spurted

	SmellUsual
	SmellOff

	FilmClean
	FilmFilm // film or scum
	FilmFoam // foam, bubbles

	UnderlidClean
	UnderlidDark   // dark stain, metal whole
	UnderlidPitted // pitted, eaten through
	UnderlidFuzzy  // fuzz

	IllNone
	IllSeen // signs of botulism in someone who ate from it

	DaysTwo         // up to 2 days
	DaysFour        // 3 or 4
	DaysWeek        // 5 to 7
	DaysTwoWeeks    // 8 to 14
	DaysThreeWeeks  // 15 to 21
	DaysMonth       // 22 to 30
	DaysTwoMonths   // 31 to 60
	DaysThreeMonths // 61 to 90
	DaysSixMonths   // 91 to 180
	DaysLonger      // more than 180

	WarmsYes
	WarmsNo

	ChillCold   // at 4 °C (40 °F) or below throughout
	ChillPaused // power off up to 4 hours, door shut
	ChillDay    // warmer, or longer without power, for up to a day
	ChillWarm   // that for more than a day

	OutOne    // up to 1 hour in all
	OutTwo    // up to 2 hours
	OutDay    // up to a day
	OutLonger // more than a day

	AirMild // up to 32 °C (90 °F)
	AirHot  // above

	BackingTested // a tested process, or the cold since the day it was made
	BackingPlain  // plainly acid food: no process is needed against botulism
	BackingOther  // nothing is shown

	NumValues = int(BackingOther) + 1
)
