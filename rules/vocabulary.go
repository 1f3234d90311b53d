package rules

// Chapter is one part of the published guidance, in the order a jar is met.
type Chapter uint8

// The chapters. Facts come from the catalogue.
const (
	ChapterFacts Chapter = iota
	ChapterRecord
	ChapterOutside
	ChapterGlass
	ChapterStorage
	ChapterOpening
	ChapterOpened
)

var chapterNames = [...]string{"What it is", "The record", "The outside", "Through the glass", "Storage", "Opening", "After opening"}

// String is the chapter's heading.
func (c Chapter) String() string { return chapterNames[c] }

// Sign describes one sign: its stable name, how it is asked for and its values.
type Sign struct {
	ID      string
	Name    string // heading, a few words
	Chapter Chapter
	Ask     string // the question, in plain words
	Why     string // why it is asked
	How     string // how to look, where that needs saying
	Values  []ValueInfo
	// Untold is what "don't know" means for a sign of the record: the record
	// says nothing. It is 0 where "don't know" leaves every value possible.
	Untold Value
	// Sound is the value a sound jar shows: nothing is noticed.
	Sound Value
}

// ValueInfo describes one value of a sign.
type ValueInfo struct {
	Value Value
	ID    string
	Label string // the choice, in plain words
}

// yesNo builds the two values of a catalogue fact.
func yesNo(yes Value) []ValueInfo {
	return []ValueInfo{{yes, "yes", "Yes"}, {yes + 1, "no", "No, or not known"}}
}

// fact builds a catalogue trait: a look-alike that is known to be harmless for a product.
func fact(id, name string, yes Value) Sign {
	return Sign{ID: id, Name: name, Chapter: ChapterFacts, Values: yesNo(yes), Sound: yes,
		Ask: "Is this a known harmless look of the product?",
		Why: "An oddity is harmless only for the products known to show it."}
}

// Signs holds every sign, indexed by SignID.
var Signs = [NumSigns]Sign{
	SignClass: {ID: "class", Name: "Acid class", Chapter: ChapterFacts, Sound: ClassAcid,
		Ask: "How acid is the food by itself?",
		Why: "Below pH 4.6 the botulism germ cannot grow; above it only a pressure canner makes a jar safe.",
		Values: []ValueInfo{
			{ClassAcid, "acid", "Plainly acid: sour fruit, jam, jelly, sauerkraut"},
			{ClassPickled, "pickled", "Made acid with vinegar: pickles"},
			{ClassBorderline, "borderline", "On the line, or acid only by its recipe: tomatoes, figs, salsa, relish"},
			{ClassLow, "low", "Not acid: vegetables, meat, fish, broth, soup, or a mixture"},
		}},
	SignRoute: {ID: "route", Name: "Published process", Chapter: ChapterFacts, Sound: RouteBoiling,
		Ask: "Is there a published process for this food?",
		Why: "Some foods have no tested process at all, whatever care is taken.",
		Values: []ValueInfo{
			{RouteBoiling, "boiling-water", "In boiling water"},
			{RoutePressure, "pressure", "Only under pressure"},
			{RouteNone, "none", "None"},
		}},
	SignKeeps: {ID: "keeps", Name: "Days once opened", Chapter: ChapterFacts, Sound: KeepsJam,
		Ask: "What kind of food is it, once opened?",
		Why: "Opened food keeps for a number of days that depends on its acid and sugar.",
		Values: []ValueInfo{
			{KeepsJam, "jam", "Jam or jelly with full sugar"},
			{KeepsReduced, "reduced-jam", "Jam with little or no sugar"},
			{KeepsAcid, "acid", "Fruit, tomatoes, pickles and other acid food"},
			{KeepsLow, "low", "Vegetables, meat, fish, soup and other food that is not acid"},
			{KeepsBroth, "broth", "Broth or gravy"},
		}},
	SignHazes:    fact("hazes", "Hazy liquid is known for it", HazesYes),
	SignSettles:  fact("settles", "A pale layer at the bottom is known for it", SettlesYes),
	SignAbsorbs:  fact("absorbs", "Standing low in its liquid is known for it", AbsorbsYes),
	SignFades:    fact("fades", "Fading is known for it", FadesYes),
	SignPinks:    fact("pinks", "Turning pink is known for it", PinksYes),
	SignBlues:    fact("blues", "Turning blue or green is known for it", BluesYes),
	SignBrowns:   fact("browns", "Browning is known for it", BrownsYes),
	SignDarkens:  fact("darkens", "Turning grey or black is known for it", DarkensYes),
	SignCrystals: fact("crystals", "Crystals are known for it", CrystalsYes),
	SignSpecks:   fact("specks", "Hard specks or soft curd are known for it", SpecksYes),
	SignFatty:    fact("fatty", "A cap of fat or jelly is known for it", FattyYes),

	SignStanding: {ID: "standing", Name: "Recipe", Chapter: ChapterRecord, Sound: StandingPublished, Untold: StandingUnshown,
		Ask: "Whose recipe was it?",
		Why: "Only a current published recipe has been tested to heat the middle of the jar enough.",
		Values: []ValueInfo{
			{StandingPublished, "published", "A current published recipe (extension service, agriculture department), followed exactly"},
			{StandingChanged, "changed", "A published recipe, with changes"},
			{StandingUnshown, "unshown", "An own, family, shared or online recipe, or nobody can say"},
		}},
	SignMethod: {ID: "method", Name: "Heating", Chapter: ChapterRecord, Sound: MethodPressure, Untold: MethodUntold,
		Ask: "How were the filled jars heated?",
		Why: "Boiling does not kill the spores that cause botulism; pressure does. Acid food needs boiling to stop moulds.",
		Values: []ValueInfo{
			{MethodPressure, "pressure-canner", "In a pressure canner"},
			{MethodBoiling, "boiling-water", "Covered by boiling water"},
			{MethodSteam, "steam-canner", "In a steam canner without pressure, 45 minutes at most"},
			{MethodUntold, "untold", "Nobody can say"},
			{MethodCooker, "multi-cooker", "In an electric multi-cooker"},
			{MethodHotFill, "hot-fill", "Filled hot and closed, or turned upside down"},
			{MethodOven, "oven", "In an oven, dishwasher, microwave or the sun"},
			{MethodNone, "none", "Not at all, or only a vacuum pump"},
		}},
	SignProcess: {ID: "process", Name: "Time and pressure", Chapter: ChapterRecord, Sound: ProcessMet, Untold: ProcessShort,
		Ask: "Were time and pressure as published for this food, jar size and altitude?",
		Why: "A jar heated too short or at too low a pressure may look perfect and still hold living spores.",
		Values: []ValueInfo{
			{ProcessMet, "met", "Yes: minutes, pressure, jar size and altitude all as published"},
			{ProcessShort, "short", "No, a larger jar than published, or it cannot be shown"},
		}},
	SignAcid: {ID: "acid", Name: "Acid added", Chapter: ChapterRecord, Sound: AcidFull, Untold: AcidShort,
		Ask: "Was the acid of the recipe added in full?",
		Why: "Tomatoes, figs, salsa and pickles are safe only with all their lemon juice, citric acid or vinegar of at least 5 %.",
		How: "Tomatoes: 2 tablespoons bottled lemon juice or half a teaspoon citric acid for each quart (about a litre), half of that for a pint.",
		Values: []ValueInfo{
			{AcidFull, "full", "Yes, the full dose; vinegar of 5 % or more"},
			{AcidShort, "short", "Less, weaker, none, or it cannot be shown"},
		}},
	SignExtras: {ID: "extras", Name: "Changes", Chapter: ChapterRecord, Sound: ExtrasNone,
		Ask: "Was anything in the jar that the recipe does not have?",
		Why: "Thickener, starch, fat and extra vegetables slow the heat or use up the acid.",
		Values: []ValueInfo{
			{ExtrasNone, "none", "Nothing that anyone knows of"},
			{ExtrasVegetables, "vegetables", "More onions, peppers, garlic or other vegetables"},
			{ExtrasThickener, "thickener", "Flour, starch or another thickener"},
			{ExtrasStarch, "rice-or-pasta", "Rice, pasta, noodles, barley or dumplings"},
			{ExtrasDairy, "dairy-or-egg", "Milk, cream, butter, cheese or egg"},
			{ExtrasOil, "oil", "Packed in oil"},
			{ExtrasMashed, "mashed", "Mashed or puréed where the recipe has pieces"},
			{ExtrasDry, "packed-dry", "Packed dry, without liquid, where the recipe has liquid"},
			{ExtrasSpent, "spent-fruit", "Fruit from dead or frosted vines, over-ripe or decayed"},
		}},
	SignClosure: {ID: "closure", Name: "Closure", Chapter: ChapterRecord, Sound: ClosureLid,
		Ask: "How is the jar closed?",
		Why: "The seal tests are made for flat metal lids; other closures hide a lost seal.",
		Values: []ValueInfo{
			{ClosureLid, "flat-lid", "A flat metal lid"},
			{ClosureOther, "clamp-or-cap", "A clamp with a rubber ring, or a one-piece cap"},
			{ClosureWax, "wax", "Wax, paper or cloth"},
		}},
	SignSiblings: {ID: "siblings", Name: "Other jars of the batch", Chapter: ChapterRecord, Sound: SiblingsSound,
		Ask: "Has another jar of the same batch gone wrong?",
		Why: "What went wrong in one jar may be wrong in all jars filled the same day.",
		Values: []ValueInfo{
			{SiblingsSound, "none", "None that anyone knows of"},
			{SiblingsSeal, "lost-seal", "One only lost its seal"},
			{SiblingsSpoiled, "spoiled", "One spoiled: bulged, spurted, moulded or smelled"},
		}},

	SignLid: {ID: "lid", Name: "Lid", Chapter: ChapterOutside, Sound: LidDown,
		Ask: "Look across the lid at eye level. What shape is it?",
		Why: "Gas from spoilage pushes a lid up. A sealed lid is drawn down.",
		How: "Take the screw band off first. Hold a straight edge across the lid if you are not sure.",
		Values: []ValueInfo{
			{LidDown, "down", "Drawn down in the middle"},
			{LidFlat, "flat", "Flat, or it stands up a little"},
			{LidBulged, "bulging", "Bulging, swollen"},
		}},
	SignPress: {ID: "press", Name: "Pressed", Chapter: ChapterOutside, Sound: PressFirm,
		Ask: "Press the middle of the lid. Does it move?",
		Why: "A lid that springs has no vacuum under it.",
		Values: []ValueInfo{
			{PressFirm, "firm", "It does not move"},
			{PressGives, "gives", "It gives, springs or clicks"},
		}},
	SignLift: {ID: "lift", Name: "Lifted", Chapter: ChapterOutside, Sound: LiftHolds,
		Ask: "Hold the jar by the edge of its lid, a hand's breadth above a table. Does the lid hold?",
		Why: "A screw band can hold a loose lid in place for years.",
		How: "Band off, two fingers under the rim of the lid, your other hand below the jar.",
		Values: []ValueInfo{
			{LiftHolds, "holds", "The lid holds the jar"},
			{LiftOff, "comes-off", "The lid comes off or slides"},
		}},
	SignSeep: {ID: "seep", Name: "Leaks and streaks", Chapter: ChapterOutside, Sound: SeepNone,
		Ask: "Is there any leak, streak or dried food on the outside?",
		Why: "Food that came out shows where air and germs can get in.",
		Values: []ValueInfo{
			{SeepNone, "none", "Clean"},
			{SeepFirstDay, "first-day", "Residue from the day of canning; washed off, seal tested again"},
			{SeepStreak, "streak", "A dried streak running down from the lid"},
			{SeepWet, "wet", "Wet, leaking"},
		}},
	SignRust: {ID: "rust", Name: "Rust", Chapter: ChapterOutside, Sound: RustNone,
		Ask: "Is the lid rusty?",
		Why: "Rust on the surface is ugly; rust through the metal opens the jar.",
		Values: []ValueInfo{
			{RustNone, "none", "No rust"},
			{RustSpots, "spots", "Spots on the surface only"},
			{RustThrough, "through", "Deep, pitted or rusted through"},
		}},
	SignGlass: {ID: "glass", Name: "Glass", Chapter: ChapterOutside, Sound: GlassSound,
		Ask: "Is the glass whole?",
		Why: "A crack or chip breaks the seal and leaves splinters in the food.",
		Values: []ValueInfo{
			{GlassSound, "sound", "Whole"},
			{GlassCracked, "cracked", "Cracked or chipped"},
		}},

	SignCloud: {ID: "cloud", Name: "Liquid", Chapter: ChapterGlass, Sound: CloudClear,
		Ask: "Hold the jar up to a light. How clear is the liquid?",
		Why: "Cloudy liquid is often the first sign of spoilage; in starchy vegetables and some pickles it can be harmless.",
		How: "If it is cloudy, let the jar stand and look again: starch settles.",
		Values: []ValueInfo{
			{CloudClear, "clear", "As clear as usual for this food"},
			{CloudSettled, "settled", "A pale layer lies at the bottom, clear above it"},
			{CloudHazy, "hazy", "Evenly cloudy"},
			{CloudMurky, "murky", "Murky, thick or stringy"},
		}},
	SignBubbles: {ID: "bubbles", Name: "Bubbles", Chapter: ChapterGlass, Sound: BubblesNone,
		Ask: "Tilt the jar gently and let it rest. Are there bubbles?",
		Why: "Rising bubbles are gas from something alive in the jar.",
		Values: []ValueInfo{
			{BubblesNone, "none", "None"},
			{BubblesStill, "still", "A few, trapped, not moving"},
			{BubblesRising, "rising", "Rising, streaming or foaming"},
		}},
	SignLevel: {ID: "level", Name: "Liquid level", Chapter: ChapterGlass, Sound: LevelUsual,
		Ask: "How high does the liquid stand?",
		Why: "Liquid lost during canning is a matter of quality; a level that drops later means a leak.",
		Values: []ValueInfo{
			{LevelUsual, "usual", "Where it should be"},
			{LevelLow, "low", "Lower, but less than half is missing, since the day of canning"},
			{LevelHalf, "half", "More than half is missing, since the day of canning"},
			{LevelDropped, "dropped", "It has dropped since it was stored"},
		}},
	SignBody: {ID: "body", Name: "Texture", Chapter: ChapterGlass, Sound: BodyUsual,
		Ask: "How does the food hold together?",
		Why: "Spoiling food goes soft, slimy or slippery.",
		Values: []ValueInfo{
			{BodyUsual, "usual", "As usual for this food"},
			{BodySoft, "soft", "Softer than usual, pieces still whole"},
			{BodySlimy, "slimy", "Slimy, slippery or falling to mush"},
		}},
	SignColour: {ID: "colour", Name: "Colour", Chapter: ChapterGlass, Sound: ColourUsual,
		Ask: "What colour is the food?",
		Why: "Many colour changes are harmless, but only for the foods known to show them.",
		Values: []ValueInfo{
			{ColourUsual, "usual", "As usual for this food"},
			{ColourTop, "dark-top", "Darker only where it stands above the liquid"},
			{ColourFaded, "faded", "Faded, paler"},
			{ColourPink, "pink", "Pink or reddish"},
			{ColourBlue, "blue-green", "Blue, green or purple"},
			{ColourBrowned, "browned", "Brown all through"},
			{ColourDark, "grey-black", "Grey or black"},
			{ColourOdd, "odd", "Another colour it should not have"},
		}},
	SignMould: {ID: "mould", Name: "Mould", Chapter: ChapterGlass, Sound: MouldNone,
		Ask: "Is there anything fuzzy or cotton-like, of any colour, on the food or under the lid?",
		Why: "Mould means air got in, and it can use up the acid that keeps a jar safe.",
		Values: []ValueInfo{
			{MouldNone, "none", "None"},
			{MouldSeen, "seen", "Yes: white, blue, green, black or grey"},
		}},
	SignDeposit: {ID: "deposit", Name: "Crystals and specks", Chapter: ChapterGlass, Sound: DepositNone,
		Ask: "Are there crystals, specks or scale?",
		Why: "Hard crystals are usually minerals from the food itself. Anything fuzzy is mould.",
		Values: []ValueInfo{
			{DepositNone, "none", "None"},
			{DepositCrystals, "crystals", "Hard crystals, glassy or like needles or powder"},
			{DepositSpecks, "specks", "Specks, hard scale or soft curd, not fuzzy"},
		}},
	SignTop: {ID: "top", Name: "On top", Chapter: ChapterGlass, Sound: TopClear,
		Ask: "What lies on top, under the lid?",
		Why: "Fat and floating fruit are harmless; a film or scum is something growing.",
		Values: []ValueInfo{
			{TopClear, "clear", "Nothing unusual"},
			{TopFloat, "floating", "Pieces float"},
			{TopFat, "fat-cap", "A pale cap of fat, or set jelly"},
			{TopFilm, "film", "A film, scum or foam"},
		}},

	SignHeat: {ID: "heat", Name: "Warmest", Chapter: ChapterStorage, Sound: HeatCool,
		Ask: "How warm has it been where the jar stood, at the worst?",
		Why: "Above 35 °C (95 °F) food ages in weeks, and heat-loving germs that survive canning can grow.",
		Values: []ValueInfo{
			{HeatCool, "cool", "Never above 24 °C (75 °F)"},
			{HeatWarm, "warm", "Above that, up to 35 °C (95 °F)"},
			{HeatHot, "hot", "Above 35 °C, not over 37 °C (99 °F)"},
			{HeatExtreme, "extreme", "Over 37 °C: a heat wave, a closed car, by a furnace"},
		}},
	SignFrozen: {ID: "frozen", Name: "Frozen", Chapter: ChapterStorage, Sound: FrozenNo,
		Ask: "Has it been frozen in store?",
		Why: "Ice pushes lids loose and breaks glass.",
		Values: []ValueInfo{
			{FrozenNo, "no", "No"},
			{FrozenHeld, "seal-held", "Yes, thawed, and the seal held"},
			{FrozenCold, "seal-broke-still-frozen", "Yes, the seal broke, and it is still frozen"},
			{FrozenThawed, "seal-broke-thawed", "Yes, the seal broke, and it thawed"},
		}},
	SignWet: {ID: "wet", Name: "Damp or flood", Chapter: ChapterStorage, Sound: WetDry,
		Ask: "Has the jar been damp or under water?",
		Why: "Damp eats lids. Flood water carries filth under any lid.",
		Values: []ValueInfo{
			{WetDry, "dry", "Dry"},
			{WetDamp, "damp", "Damp, dripping or misted"},
			{WetFlood, "flood", "Under flood water"},
		}},
	SignPlace: {ID: "place", Name: "Where it stood", Chapter: ChapterStorage, Sound: PlaceDark,
		Ask: "Where did it stand?",
		Why: "Light fades food, heat ages it, and fire spoils it.",
		Values: []ValueInfo{
			{PlaceDark, "dark", "In the dark: cellar, cupboard, pantry"},
			{PlaceLight, "light", "In sunlight"},
			{PlaceHeater, "heater", "By a range, furnace or hot pipe, or under the roof"},
			{PlaceFire, "fire", "Near a fire, its heat, smoke or fumes"},
		}},
	SignAge: {ID: "age", Name: "Age", Chapter: ChapterStorage, Sound: AgeYear,
		Ask: "How long ago was it canned?",
		Why: "Quality is best in the first year, and lids corrode with time. In the first 24 hours a failed seal can still be put right.",
		Values: []ValueInfo{
			{AgeDay, "24-hours", "Within the last 24 hours"},
			{AgeYear, "1-year", "Up to 12 months ago"},
			{AgeTwo, "2-years", "12 to 24 months ago"},
			{AgeOlder, "older", "More than 24 months ago, or nobody can say"},
		}, Untold: AgeOlder},

	SignOpened: {ID: "opened", Name: "Opened?", Chapter: ChapterOpening, Sound: OpenedNo,
		Ask: "Is the jar closed?",
		Why: "What there is to look at depends on it.",
		Values: []ValueInfo{
			{OpenedNo, "closed", "Closed, on the shelf"},
			{OpenedNow, "now", "Just opened, or being opened"},
			{OpenedBefore, "before", "Opened earlier"},
		}},
	SignRelease: {ID: "release", Name: "On opening", Chapter: ChapterOpening, Sound: ReleaseIn,
		Ask: "What happened when the lid came off?",
		Why: "A sealed jar draws air in. Pressure from inside means gas, and gas means spoilage.",
		Values: []ValueInfo{
			{ReleaseIn, "drawn-in", "It had to be prised off, and air was drawn in"},
			{ReleaseNone, "no-vacuum", "It came off loosely"},
			{ReleaseHiss, "hiss-out", "It hissed outward"},
			{ReleaseSpurt, "spurted", "Liquid or foam spurted"},
		}},
	SignSmell: {ID: "smell", Name: "Smell", Chapter: ChapterOpening, Sound: SmellUsual,
		Ask: "Does the jar, without leaning close, smell as it should?",
		Why: "An off smell is spoilage. A good smell proves nothing.",
		How: "Never put your nose in the jar, and never taste to decide.",
		Values: []ValueInfo{
			{SmellUsual, "usual", "As it should, or no smell"},
			{SmellOff, "off", "Off: rancid, putrid, sour, cheesy, yeasty"},
		}},
	SignFilm: {ID: "film", Name: "Surface", Chapter: ChapterOpening, Sound: FilmClean,
		Ask: "What does the surface look like?",
		Why: "A film or foam is something growing.",
		Values: []ValueInfo{
			{FilmClean, "clean", "Clean"},
			{FilmFilm, "film", "A film or scum"},
			{FilmFoam, "foam", "Foam or bubbles"},
		}},
	SignUnderlid: {ID: "underlid", Name: "Under the lid", Chapter: ChapterOpening, Sound: UnderlidClean,
		Ask: "What does the underside of the lid look like?",
		Why: "A dark stain comes from the food and is harmless; holes and fuzz are not.",
		Values: []ValueInfo{
			{UnderlidClean, "clean", "Clean"},
			{UnderlidDark, "dark-stain", "A dark stain, metal whole"},
			{UnderlidPitted, "pitted", "Pitted or eaten through"},
			{UnderlidFuzzy, "fuzzy", "Something fuzzy"},
		}},

	SignDays: {ID: "days", Name: "Days open", Chapter: ChapterOpened, Sound: DaysTwo, Untold: DaysLonger,
		Ask: "How many days ago was it opened?",
		Why: "Cold slows spoilage; it does not stop it.",
		Values: []ValueInfo{
			{DaysTwo, "2", "Today to 2 days"},
			{DaysFour, "4", "3 or 4 days"},
			{DaysWeek, "7", "5 to 7 days"},
			{DaysTwoWeeks, "14", "8 to 14 days"},
			{DaysMonth, "30", "15 to 30 days"},
			{DaysLonger, "longer", "More than 30 days, or nobody can say"},
		}},
	SignChill: {ID: "chill", Name: "Kept cold", Chapter: ChapterOpened, Sound: ChillCold, Untold: ChillWarm,
		Ask: "Was it kept cold since?",
		Why: "At 4 °C (40 °F) or below opened food keeps for its days; above, for hours.",
		Values: []ValueInfo{
			{ChillCold, "cold", "In a refrigerator at 4 °C (40 °F) or below"},
			{ChillPaused, "power-cut", "Refrigerator off for up to 4 hours, door shut"},
			{ChillWarm, "warm", "Warmer, off for longer, or nobody can say"},
		}},
	SignOut: {ID: "out", Name: "Hours out", Chapter: ChapterOpened, Sound: OutOne, Untold: OutLonger,
		Ask: "How long, in all, has it stood out of the cold?",
		Why: "Germs double in minutes at room temperature.",
		Values: []ValueInfo{
			{OutOne, "1-hour", "Up to 1 hour"},
			{OutTwo, "2-hours", "Up to 2 hours"},
			{OutLonger, "longer", "More than 2 hours, or nobody can say"},
		}},
	SignAir: {ID: "air", Name: "How warm there", Chapter: ChapterOpened, Sound: AirMild,
		Ask: "How warm was it there?",
		Why: "Above 32 °C (90 °F) the limit is one hour, not two.",
		Values: []ValueInfo{
			{AirMild, "mild", "Up to 32 °C (90 °F)"},
			{AirHot, "hot", "Above 32 °C (90 °F)"},
		}},

	SignBacking: {ID: "backing", Name: "Tested process", Chapter: ChapterRecord, Sound: BackingTested,
		Ask: "Does a tested process stand behind this jar?",
		Why: "Looks, smell and seal cannot prove a jar safe; its process can.",
		Values: []ValueInfo{
			{BackingTested, "tested", "Yes"},
			{BackingOther, "other", "No, or it is not shown"},
		}},
}

// signOf, first and valueAt index the vocabulary once, so that a value finds
// its sign in constant time.
var signOf, valueAt = func() (s [NumValues]SignID, at [NumValues]uint8) {
	for i := range Signs {
		for j, v := range Signs[i].Values {
			s[v.Value], at[v.Value] = SignID(i), uint8(j)
		}
	}
	return
}()

// Sign is the sign the value belongs to.
func (v Value) Sign() SignID { return signOf[v] }

// Info is the value's description.
func (v Value) Info() ValueInfo { return Signs[signOf[v]].Values[valueAt[v]] }

// ID is the value's stable name, unique within its sign.
func (v Value) ID() string { return v.Info().ID }

// Info is the sign's description.
func (s SignID) Info() *Sign { return &Signs[s] }

// ID is the sign's stable name.
func (s SignID) ID() string { return Signs[s].ID }

// Fact tells whether the sign is known from the catalogue or derived, and so
// never observed on a jar.
func (s SignID) Fact() bool { return Signs[s].Chapter == ChapterFacts || s == SignBacking }
