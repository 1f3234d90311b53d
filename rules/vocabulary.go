package rules

// Sign describes one sign: its stable name, how it is asked for and its values.
type Sign struct {
	ID      string
	Name    Text // heading, a few words
	Chapter Chapter
	Ask     Text // the question, in plain words
	Why     Text // why it is asked
	How     Text // how to look, where that needs saying
	Values  []ValueInfo
	// IfUnknown is what "don't know" means for a sign of the record: the record
	// says nothing. It is 0 where "don't know" leaves every value possible.
	IfUnknown Value
	// Sound is the value a sound jar shows: nothing is noticed.
	Sound Value
	// Wordings ask in other words where those of the sign would not fit.
	Wordings []Wording
	// Several says that a jar can show more than one of the values at once.
	Several bool
	// Find says where to look, or whom to ask, for what nobody remembers. It is
	// there for everything that cannot be seen on the jar itself.
	Find Text
}

// ValueInfo describes one value of a sign.
type ValueInfo struct {
	Value Value
	ID    string
	Label Text // the choice, in plain words
	// Assumes is what a rule that uses the value takes for granted. The words
	// of the question and of the choice have to say all of it.
	Assumes Text
}

// yesNo builds the two values of a catalog fact.
func yesNo(yes Value) []ValueInfo {
	return []ValueInfo{
		{yes, "yes", "Yes", "a published source names this look as harmless for this very food"},
		{yes + 1, "no", "No, or not known", "no source names it as harmless for this food"},
	}
}

// fact builds a catalog trait: a look-alike that is known to be harmless for a product.
func fact(id string, name Text, yes Value, more ...ValueInfo) Sign {
	return Sign{ID: id, Name: name, Chapter: ChapterFacts, Values: append(yesNo(yes), more...), Sound: yes,
		Ask: "Is this a known harmless look of the product?",
		Why: "An odd look is harmless only for the foods known to show it."}
}

// Signs holds every sign, indexed by SignID. It is one table, and so this file is longer
// than others: Go has no way to write an array in two places.
var Signs = [NumSigns]Sign{
	SignClass: {ID: "class", Name: "Acid class", Chapter: ChapterFacts, Sound: ClassAcid,
		Ask: "How acid is the food by itself?",
		Why: "Below pH 4.6 the botulism germ cannot grow; above it only a pressure canner makes a jar safe.",
		Values: []ValueInfo{
			{ClassAcid, "acid", "Plainly acid: sour fruit, jam, jelly, sauerkraut", "every part of the food is below pH 4.6 by itself"},
			{ClassPickled, "pickled", "Made acid with vinegar: pickles", "vinegar keeps every piece below pH 4.6 if there is enough of it"},
			{ClassBorderline, "borderline", "On the line, or acid only by its recipe: tomatoes, figs, salsa, relish", "the food is below pH 4.6 only with the acid of its recipe"},
			{ClassLow, "low", "Not acid: vegetables, meat, fish, broth, soup, or a mixture", "the botulism germ can grow in it"},
		}},
	SignRoute: {ID: "route", Name: "Published process", Chapter: ChapterFacts, Sound: RouteBoiling,
		Ask: "Is there a published process for this food?",
		Why: "Some foods have no tested process at all, whatever care is taken.",
		Values: []ValueInfo{
			{RouteBoiling, "boiling-water", "In boiling water", "a tested process in boiling water is published for it"},
			{RoutePasteur, "pasteurized", "In boiling water, or in water kept at 82 to 85 °C (180 to 185 °F)", "a tested process in boiling water is published for it, and its recipe names low-temperature pasteurizing too"},
			{RoutePressure, "pressure", "Only under pressure", "a tested process is published, and only a pressure canner can do it"},
			{RouteMonths, "months", "By a recipe that keeps it for some months", "a published recipe keeps it sealed at room temperature for some months, if it is followed as the question about this food says"},
			{RouteBottle, "bottle", "By its own acid, for some months, sealed or not", "a published recipe keeps it at room temperature for some months by its acid alone, without heat and without a seal"},
			{RouteNone, "none", "None", "no tested process is published for it"},
		}},
	SignKeeps: {ID: "keeps", Name: "Days once opened", Chapter: ChapterFacts, Sound: KeepsJam,
		Ask: "What kind of food is it, once opened?",
		Why: "Opened food keeps for a number of days that depends on its acid, salt and sugar.",
		Values: []ValueInfo{
			{KeepsSixMonths, "6-months", "Keeps 6 months in the refrigerator", "a source gives it 6 months once opened or made"},
			{KeepsThreeMonths, "3-months", "Keeps 3 months in the refrigerator", "a source gives it 3 months once opened or made"},
			{KeepsTwoMonths, "2-months", "Keeps 2 months in the refrigerator", "a source gives it 2 months once opened or made"},
			{KeepsJam, "jam", "Jam, jelly, relish, refrigerator pickles and kimchi: a month", "a source gives it a month once opened"},
			{KeepsThreeWeeks, "3-weeks", "Freezer jam, fruit butter and jam with little sugar: 3 weeks", "a source gives it 3 weeks in the refrigerator"},
			{KeepsReduced, "reduced-jam", "Half-sour pickles, fruit syrup and flower jelly: 2 weeks", "it keeps 2 weeks once opened"},
			{KeepsAcid, "acid", "Fruit, tomatoes, salsa and other acid food: a week", "it keeps a week once opened"},
			{KeepsLow, "low", "Vegetables, meat, fish, soup and other food that is not acid: 4 days", "it keeps 4 days once opened"},
			{KeepsBroth, "broth", "Broth or gravy: 2 days", "it keeps 2 days once opened"},
		}},
	SignHazes:   fact("hazes", "Cloudy liquid is known for it", HazesYes),
	SignSettles: fact("settles", "A settled layer is known for it", SettlesYes, ValueInfo{SettlesJam, "jam", "Yes, in jam or jelly that weeps, by whatever recipe", "a published source calls weeping jam and jelly safe without asking for their process"}),
	SignAbsorbs: fact("absorbs", "Little free liquid is known for it", AbsorbsYes),
	SignFades:   fact("fades", "Fading is known for it", FadesYes),
	SignPinks:   fact("pinks", "Turning pink is known for it", PinksYes),
	SignBlues: {ID: "blues", Name: "Turning blue or green is known for it", Chapter: ChapterFacts, Sound: BluesYes,
		Ask:    "Is this a known harmless look of the product?",
		Why:    "Garlic may turn blue and still be good. Red cabbage and berries turn blue when their acid is missing.",
		Values: append(yesNo(BluesYes), ValueInfo{BluesAcid, "acid-lost", "No: it says that the acid is missing", "the food is colored by a pigment that is red in acid and blue without it"})},
	SignBrowns: {ID: "browns", Name: "Browning is known for it", Chapter: ChapterFacts, Sound: BrownsYes,
		Ask:    "Is this a known harmless look of the product?",
		Why:    "An odd look is harmless only for the foods known to show it.",
		Values: append(yesNo(BrownsYes), ValueInfo{BrownsSoon, "soon", "Yes, but it does not keep", "a published source names it as harmless for this food and says to use it soon"})},
	SignDarkens:  fact("darkens", "Turning gray or black is known for it", DarkensYes),
	SignCrystals: fact("crystals", "Crystals are known for it", CrystalsYes),
	SignSpecks:   fact("specks", "Hard specks or soft curd are known for it", SpecksYes),
	SignFatty:    fact("fatty", "A cap of fat or jelly is known for it", FattyYes),
	SignFoams:    fact("foams", "A dry skin of foam is known for it", FoamsYes),
	SignTogether: {ID: "together", Name: "Color and cloud that belong together", Chapter: ChapterFacts, Sound: TogetherNo,
		Ask: "Which change of color is known to come with a cloudy liquid?",
		Why: "Two odd looks at once are a danger sign, but for the few foods that are known for both.",
		Values: []ValueInfo{
			{TogetherNo, "none", "None", "no source names a change of color and a cloud together as harmless for this food"},
			{TogetherPink, "pink", "Pink", "a source names both as harmless for this food, each by the same ferment"},
			{TogetherDull, "dull", "Paler, duller, olive or brown, or blue garlic", "the color is age or heat or is in the garlic, and the cloud is starch, brine, weeping syrup or the layers of a sauce or pulp that has parted: they have nothing to do with each other"},
		}},

	SignCondition: {ID: "condition", Name: "What its process depends on", Chapter: ChapterRecord,
		Find: "Read the label, or ask whoever canned it what exactly is in the jar.", Sound: ConditionMet, IfUnknown: ConditionNot,
		Ask: "Does this jar hold exactly what the published process is for?",
		Why: "The published process for this food is for one kind of it only.",
		Values: []ValueInfo{
			{ConditionMet, "met", "Yes", "the food is of the one kind that the published process is for, as the product's own question says"},
			{ConditionNot, "not", "No", "the published process is not for what is in this jar, and its acid is not known either"},
		}},
	SignStanding: {ID: "standing", Name: "Recipe", Chapter: ChapterRecord,
		Find: "Ask whoever canned it which recipe it was, and look in that book or leaflet for the name of an extension service and the year.", Sound: StandingPublished, IfUnknown: StandingUnshown,
		Ask: "What recipe was it?",
		Why: "Only a current published recipe has been tested to heat the middle of the jar enough.",
		How: "Some changes touch only taste and looks. They do not count: table salt for canning salt, more or less dried herbs and spice, less sugar in the syrup over fruit.",
		Values: []ValueInfo{
			{StandingPublished, "published", "A current recipe of an extension service, the agriculture department, a jar maker's canning book or, for jam and jelly, the pectin box, followed exactly", "the recipe is a current published and tested one for this very food, of an extension service, the agriculture department or a jar maker's canning book, or came with the pectin that is in it, and nothing in it was changed but table salt for canning salt, dried herbs and spices, the sugar in the syrup over fruit, a slice of onion or a clove of garlic in meat, in pickles as much bottled lemon juice in place of vinegar, or, in salsa, fewer onions or peppers, other peppers, or as much bottled lemon or lime juice in place of vinegar"},
			{StandingChanged, "changed", "One of those, but with other changes than table salt, dried herbs or spices, or the sugar over canned fruit", "what was changed has not been tested"},
			{StandingUnshown, "unshown", "My own, a family, friend's or online recipe, or food from a shop, canned again", "nobody has tested the recipe, or the food was canned before"},
		}},
	SignMethod: {ID: "method", Name: "Heating", Chapter: ChapterRecord,
		Find: "Ask whoever canned it how the filled jars were heated.", Sound: MethodPressure, IfUnknown: MethodUntold,
		Ask: "How were the filled jars heated?",
		Why: "Boiling does not kill the spores that cause botulism; pressure does. Acid food needs boiling to stop molds.",
		Values: []ValueInfo{
			{MethodPressure, "pressure-canner", "In a stove-top pressure canner that holds four quart jars or more", "a stove-top pressure canner that holds four quart jars or more"},
			{MethodBoiling, "boiling-water", "Covered by boiling water", "the closed, filled jars stood under boiling water"},
			{MethodSteam, "steam-canner", "In a steam canner (no pressure): 45 minutes or less, its lid kept on", "the closed, filled jars stood in pure steam for 45 minutes at most, and the lid of the canner was not opened"},
			{MethodSteamLong, "steam-canner-long", "In a steam canner (no pressure): longer than 45 minutes, or its lid was opened", "the water may have boiled away, or the steam was not pure"},
			{MethodPasteur, "pasteurized", "For 30 minutes in water kept at 82 to 85 °C (180 to 185 °F), by a thermometer, as a pickle recipe says", "the water over the closed, filled jars stayed between 82 and 85 °C for 30 minutes, and the recipe names this way"},
			{MethodUntold, "untold", "I don't know", "any of the others may be true"},
			{MethodCooker, "multi-cooker", "In an electric pressure cooker or multi-cooker, or a stove-top one too small for four quart jars", "no one has shown how hot the jars got"},
			{MethodHotFill, "hot-fill", "Filled hot and closed, or turned upside down", "the closed jars were not heated"},
			{MethodOven, "oven", "In an oven, dishwasher, microwave or the sun", "the jars were not heated in water or steam"},
			{MethodNone, "none", "Not at all, or only with a vacuum pump", "the jars were not heated"},
		},
		Wordings: []Wording{
			{When: []Value{ClassAcid, ClassBorderline, ClassLow}, Hide: []Value{MethodPasteur}},
			{When: neverShelved, Ask: "Was it canned before it went into the cold? How were the filled jars heated?",
				Labels: []ValueLabel{
					{MethodHotFill, "It was not canned: it was filled hot and closed, or turned upside down"},
					{MethodNone, "It was not canned, or only with a vacuum pump"},
				}},
		}},
	SignProcess: {ID: "process", Name: "Time and pressure", Chapter: ChapterRecord,
		Find: "Ask whoever canned it for minutes, pressure and jar size, and look them up in the recipe; the extension service knows your altitude and tests gauges.", Sound: ProcessMet, IfUnknown: ProcessUntold,
		Ask: "Were the jars heated for the full time the recipe gives?",
		Why: "A jar heated too short or at too low a pressure may look perfect and still hold living spores.",
		How: "The time is for one size of jar and for how high above the sea you live. A jar that is smaller than the sizes listed takes the time of the next larger. If the recipe does not list a jar this big, the answer is no. If you followed the recipe for both, the answer is yes even if you no longer know the numbers.",
		Values: []ValueInfo{
			{ProcessMet, "met", "Yes: packed hot or raw as the recipe says, for its full time, for this jar size and my altitude", "minutes, pressure and jar size were as published for this food, this way of packing and the altitude; water or steam was hot for all of the time without a break; boiling water stood at least an inch over the lids; a pressure canner was vented for 10 minutes, held its pressure without a break, cooled by itself, and its gauge is a weight, or a dial that was tested within the last year and read right or low"},
			{ProcessUnvented, "unvented", "The pressure canner was closed without letting steam out for 10 minutes first", "air was left in the canner, so it was cooler than its gauge said"},
			{ProcessGauge, "untested-gauge", "As the recipe says, but by a dial gauge that was not tested within the last year", "all else is as published, and the gauge may have shown more than there was"},
			{ProcessUntold, "untold", "I don't know", "any of the others may be true"},
			{ProcessShort, "short", "No: shorter, less pressure (also by a gauge that read high), a larger jar, another way of packing, or cooled with water; or unsealed and canned again after a day", "the jars may have been heated too little"},
		},
		Wordings: []Wording{
			{When: []Value{MethodPressure}, Ask: "Was the pressure canner run as the recipe says?",
				How: "All of it has to be true. The jars were packed hot or raw, as the recipe says. Steam was let out for 10 minutes before the canner was closed. It ran for the recipe's minutes and at its pressure, for this jar size and your altitude. If the pressure fell, the time was started again. The canner cooled by itself. Its gauge is a weight, or a dial that was tested within the last year and read right or low. If you did all that, say yes, even if you no longer know the numbers.",
				Labels: []ValueLabel{
					{ProcessMet, "Yes, all of it: packed as the recipe says, vented 10 minutes, full time and pressure without a break for this jar size and my altitude, cooled by itself, and a weighted gauge, or a dial gauge tested in the last year that read right or low"},
				}},
			{When: []Value{MethodBoiling, MethodSteam, MethodPasteur}, Hide: []Value{ProcessUnvented, ProcessGauge},
				Labels: []ValueLabel{
					{ProcessMet, "Yes: packed hot or raw as the recipe says, for its full time without a break, for this jar size and my altitude, the water (if any) an inch over the lids throughout"},
					{ProcessShort, "No: shorter, no minutes added for altitude, water lower than that, or the boil stopped and the time was not started again, a larger jar, or another way of packing; or it came unsealed and was canned again after a day"},
				}},
		}},
	SignAcid: {ID: "acid", Name: "Acid added", Chapter: ChapterRecord,
		Find: "Read the recipe for the amount of vinegar, lemon juice or citric acid, and the vinegar bottle for its strength.", Sound: AcidFull, IfUnknown: AcidShort,
		Ask: "Did every jar get all its acid?",
		Why: "Tomatoes, figs, salsa and pickles are safe only with all their lemon juice, citric acid or vinegar.",
		Values: []ValueInfo{
			{AcidHalf, "half-vinegar", "Vinegar of 5 % or stronger, at least as much of it as water, and no less than the recipe says", "the liquid over the food is half vinegar or bottled lemon juice or more, none of the recipe's vinegar was left out, and it is bought, of 5 % or stronger, and no crisping lime was left in the food"},
			{AcidFull, "full", "All the acid that a current published recipe for this food gives", "the acid is the amount and strength of a current published recipe for this food, or as much bottled lemon juice (in salsa lime juice too) in place of its vinegar"},
			{AcidShort, "short", "Less than that, less than the recipe says, or weaker", "the food may not be acid enough"},
		},
		Wordings: []Wording{
			{When: []Value{ClassPickled}, Ask: "How much vinegar is in the jar?",
				How: "Its label has to say 5 % or more; homemade vinegar counts as weaker. Count only the liquid that covers the food, and bottled lemon juice as vinegar.",
				Labels: []ValueLabel{
					{AcidHalf, "At least as much vinegar as water, no less than the recipe says, and of 5 % or stronger"},
					{AcidFull, "Less vinegar than water, but exactly what a current published recipe for this pickle gives"},
					{AcidShort, "Less than that or than the recipe says, weaker or homemade vinegar, or pickling lime not rinsed out three times"},
				}},
			{When: []Value{ClassBorderline, ClassLow}, Hide: []Value{AcidHalf}, Ask: "Did every jar get all the acid of the published recipe?",
				How: "For tomatoes that is 2 tablespoons of bottled lemon juice for a quart (about a liter). Or it is half a teaspoon of citric acid, or 4 tablespoons of vinegar of 5 %. A pint takes half of that.",
				Labels: []ValueLabel{
					{AcidFull, "Yes, the full amount in every jar: bottled juice, citric acid, or vinegar of 5 %"},
					{AcidShort, "Less, or none, or fresh-squeezed juice, or weaker or homemade vinegar"},
				}},
		}},
	SignExtras: {ID: "extras", Name: "What else is in it", Chapter: ChapterRecord,
		Find: "Read the label or the recipe, or ask whoever canned it what went in.", Sound: ExtrasNone, Several: true,
		Ask: "Is any of this in the jar? Leave out only what a current published recipe for this food calls for.",
		Why: "Thickener, starch, fat and extra vegetables slow the heat or use up the acid. It does not matter whether your own recipe has them. Salt, dry spices, vinegar, bottled lemon juice, sugar, and in fruit and jam other sour fruit with its peel and juice, do none of that.",
		Values: []ValueInfo{
			{ExtrasNone, "none", "None of these", "the jar holds only what a published recipe for this food has, and meat a slice of onion or a clove of garlic at most besides, packed as it says, of fruit that was sound and not from dead or frosted plants"},
			{ExtrasVegetables, "vegetables", "Onion, pepper, garlic, fresh herbs, nuts, flowers or other vegetables, or fruit that is not sour (banana, melon, fig, papaya, coconut)", "the jar holds low-acid food that no published recipe for it has"},
			{ExtrasThickener, "thickener", "Flour, cornstarch or another thickener", "the jar is thicker than what was tested"},
			{ExtrasStarch, "rice-or-pasta", "Rice, pasta, noodles, barley, bread or dumplings", "the jar holds starch that swells and slows the heat"},
			{ExtrasDairy, "dairy-or-egg", "Milk, cream, butter, cheese or egg (a dab of butter against foam in jam does not count)", "the jar holds milk fat or egg"},
			{ExtrasMeat, "meat", "Meat, sausage, bacon or fish", "the jar holds meat that no published recipe for it has"},
			{ExtrasOil, "oil", "Oil or lard over the food", "there is no air under the oil"},
			{ExtrasMashed, "mashed", "It is mashed or puréed, and the recipe has pieces", "heat reaches the middle more slowly than was tested"},
			{ExtrasDry, "packed-dry", "It was packed dry, and the recipe has liquid", "the tested heat does not reach the food"},
			{ExtrasSpent, "spent-fruit", "Over-ripe, rotten or from dead or frosted plants; or meat or cooked food that stood warm for over 2 hours before", "the fruit is less acid than what was tested, or something may have grown in the food before it was canned"},
			{ExtrasMetal, "bare-metal", "Bare copper, brass or galvanized (zinc) metal: it was cooked or stood in such a pot or tub", "acid food or its brine was heated or stood in bare copper, brass, iron or zinc, which acid dissolves"},
		}},
	SignClosure: {ID: "closure", Name: "Closure", Chapter: ChapterRecord,
		Find: "Take the screw band off and look; ask whoever canned it whether the lid was new.", Sound: ClosureLid,
		Ask: "What closes the jar?",
		Why: "The tests of a seal are made for flat metal lids; other closures hide a lost seal.",
		Values: []ValueInfo{
			{ClosureLid, "flat-lid", "A flat metal lid, used for the first time", "a new two-piece lid, on which the press and lift tests tell a lost seal"},
			{ClosureUsed, "used-lid", "A flat metal lid that was used before", "its ring of sealing compound was pressed flat before and may let air in later"},
			{ClosureCap, "one-piece-cap", "A one-piece screw cap, or a zinc cap with a porcelain liner", "only the button in its middle tells whether it sealed"},
			{ClosureClamp, "glass-lid", "A glass lid with clips or a wire, or a plastic lid, on a rubber ring", "only lifting it by the lid, with clips undone or the band off, tells whether it sealed"},
			{ClosureWax, "wax", "Wax, paper or cloth", "nothing keeps air out"},
		}},
	SignSiblings: {ID: "siblings", Name: "Other jars of the batch", Chapter: ChapterRecord,
		Find: "Ask whoever canned it, or whoever else was given a jar of the same batch.", Sound: SiblingsSound,
		Ask: "Has another jar of the same batch gone wrong?",
		Why: "What went wrong in one jar may be wrong in all jars filled the same day.",
		Values: []ValueInfo{
			{SiblingsSound, "none", "Not that I know of", "no other jar of the batch is known to have spoiled"},
			{SiblingsSeal, "lost-seal", "One only lost its seal", "one lost its seal and showed nothing else"},
			{SiblingsSpoiled, "spoiled", "One spoiled: it bulged, spurted, grew mold or smelled", "something grew in another jar of the batch"},
			{SiblingsIll, "ill", "Someone fell ill after eating from one", "another jar of the batch may have made someone ill"},
		}},

	SignOdor: {ID: "odor", Name: "Smell of the closed jar", Chapter: ChapterOutside, Sound: OdorNone,
		Ask: "Does the closed jar smell of anything?",
		Why: "A sealed jar lets no smell out. A bad smell around it means it leaks and has spoiled.",
		Values: []ValueInfo{
			{OdorNone, "none", "No", "no smell comes from the closed jar"},
			{OdorOff, "off", "Yes, a bad or sour smell", "the smell comes from this jar"},
		}},
	SignLid: {ID: "lid", Name: "Lid", Chapter: ChapterOutside, Sound: LidDown,
		Ask: "Take the screw band off. Look across the lid at eye level. What shape is it?",
		Why: "Gas from spoilage pushes a lid up. A sealed lid curves down.",
		How: "Hold a straight edge across the lid if you are not sure.",
		Values: []ValueInfo{
			{LidDown, "down", "Curved down in the middle", "the middle of the metal lid is lower than its rim: there is a vacuum"},
			{LidDented, "dented", "Dented or creased, by a knock or since the day it was canned", "the metal is bent, so that its rim may not lie flat on the glass; it was bent from outside or by a band that was too tight, not by gas"},
			{LidFlat, "flat", "Flat, or it stands up a little", "there is no vacuum under the lid"},
			{LidBulged, "bulging", "Bulging or swollen, or it has buckled since it was stored", "gas pushes the lid up"},
			{LidNone, "no-metal", "It has no lid that could curve: glass, plastic, zinc, wax, paper or cloth", "nothing about the lid's shape tells whether it is sealed"},
		},
		Wordings: []Wording{{When: []Value{ClosureCap}, Ask: "Look across the screw cap at eye level. What shape is its top?"}}},
	SignPress: {ID: "press", Name: "Pressed", Chapter: ChapterOutside, Sound: PressFirm,
		Ask: "Press the middle of the lid. Does it move?",
		Why: "A lid that springs has no vacuum under it.",
		Values: []ValueInfo{
			{PressFirm, "firm", "It does not move", "the metal lid is held down by a vacuum"},
			{PressNone, "no-metal", "There is nothing to press: glass, plastic, zinc, wax, paper or cloth", "pressing tells nothing about the seal"},
			{PressGives, "gives", "It gives, springs or clicks, or stays down only since it was pressed", "there is no vacuum under the lid"},
		},
		Wordings: []Wording{{When: []Value{ClosureCap}, Ask: "Press the middle of the cap, or the button in it. Does it move?"}}},
	SignLift: {ID: "lift", Name: "Lifted", Chapter: ChapterOutside, Sound: LiftHolds,
		Ask: "Lift the jar an inch by the edge of its lid. Does the lid hold?",
		Why: "A screw band can hold a loose lid in place for years.",
		How: "Screw band off, fingertips under the rim of the lid, your other hand below the jar.",
		Values: []ValueInfo{
			{LiftHolds, "holds", "The lid holds the jar", "the lid alone, without band or clips, held the weight of the jar"},
			{LiftNone, "cannot", "It can't be lifted by it: a screw cap, wax, paper or cloth", "lifting tells nothing about the seal"},
			{LiftOff, "comes-off", "The lid comes off or slides", "nothing but band or clips held the lid"},
		},
		Wordings: []Wording{{When: []Value{ClosureClamp}, Ask: "Undo the clips or the wire, or take the band off. Lift the jar an inch by the lid. Does the lid hold?",
			How: "Over a towel, your other hand below the jar. Close the clips again afterwards."}}},
	SignSeep: {ID: "seep", Name: "Leaks and streaks", Chapter: ChapterOutside, Sound: SeepNone, Several: true,
		Ask: "Is there any leak, streak or dried food on the outside?",
		Why: "Food that came out shows where air and germs can get in.",
		Values: []ValueInfo{
			{SeepNone, "none", "Clean", "nothing came out of the jar"},
			{SeepFirstDay, "first-day", "Residue from the day of canning; washed off then, and the seal tested again", "it boiled over in the canner, was washed off, and the seal held when tested afterward"},
			{SeepStreak, "streak", "A dried streak running down from the lid", "food came out after the day of canning"},
			{SeepWet, "wet", "Wet, leaking", "food is coming out"},
		}},
	SignRust: {ID: "rust", Name: "Rust", Chapter: ChapterOutside, Sound: RustNone, Several: true,
		Ask: "Is the lid rusty? Rust on the screw band alone does not count.",
		Why: "Rust on the surface is ugly; rust through the metal opens the jar.",
		Values: []ValueInfo{
			{RustNone, "none", "No rust on the lid", "the metal of the lid is whole"},
			{RustSpots, "spots", "Spots on the surface only", "the rust wipes or brushes off and the metal under it is whole"},
			{RustThrough, "through", "Deep, pitted or rusted through", "there may be a hole in the lid"},
		}},
	SignGlass: {ID: "glass", Name: "Glass", Chapter: ChapterOutside, Sound: GlassSound,
		Ask: "Is the glass whole?",
		Why: "A crack or chip breaks the seal and leaves splinters in the food.",
		Values: []ValueInfo{
			{GlassSound, "sound", "Whole, or with a tiny, smooth nick in the rim of a jar that never sealed", "no crack, no chip and no splinter; at most a nick in the rim, on a jar that never sealed"},
			{GlassCracked, "cracked", "Cracked, chipped or splintered", "air can get in and splinters into the food"},
		}},

	SignCloud: {ID: "cloud", Name: "Liquid", Chapter: ChapterGlass, Sound: CloudClear, Several: true,
		Ask: "Hold the jar up to a light. How clear is the liquid?",
		Why: "Cloudy liquid is often the first sign of spoilage; in starchy vegetables and some pickles it can be harmless.",
		How: "If it is cloudy, let the jar stand and look again: starch settles.",
		Values: []ValueInfo{
			{CloudClear, "clear", "As clear as usual for this food", "no cloud and no layer"},
			{CloudSettled, "settled", "It settles: milky at most when shaken, then pale or pulpy at the bottom (or on top) and clear beside it", "after standing, one layer is clear; or it is food that takes up its liquid, and has been thick with starch since it was canned"},
			{CloudHazy, "hazy", "Evenly cloudy, even after standing", "it stays cloudy but is thin"},
			{CloudMurky, "murky", "Muddy, stringy or slimy", "something grew in the liquid"},
		},
		Wordings: []Wording{{When: []Value{KeepsJam, KeepsReduced}, Ask: "Hold the jar up to a light. Has anything settled or gone cloudy?"}}},
	SignBubbles: {ID: "bubbles", Name: "Bubbles", Chapter: ChapterGlass, Sound: BubblesNone, Several: true,
		Ask: "Tilt the jar gently and let it rest. Are there bubbles?",
		Why: "Rising bubbles are gas from something alive in the jar.",
		Values: []ValueInfo{
			{BubblesNone, "none", "None", "no bubbles, moving or not"},
			{BubblesStill, "still", "A few, trapped, not moving", "the bubbles stay where they are and do not grow"},
			{BubblesRising, "rising", "Rising, streaming or foaming", "gas is being made in the jar"},
		}},
	SignLevel: {ID: "level", Name: "Liquid level", Chapter: ChapterGlass, Sound: LevelUsual,
		Ask: "How much of the food is covered?",
		Why: "Liquid lost in the canner is a matter of quality while less than half is gone; a level that drops later means a leak.",
		Values: []ValueInfo{
			{LevelUsual, "usual", "As full as it should be, or lower by half an inch (1 cm) at most", "no more than half an inch of the liquid was lost"},
			{LevelLow, "low", "Lower than that, but less than half of the liquid is missing, ever since the day of canning", "less than half was lost, all of it in the canner"},
			{LevelOwn, "own", "Little liquid, but none was lost: meat or tomatoes packed raw without added liquid, or food that soaked it up and still fills the jar", "no liquid was added, or it went into food that still fills the jar: nothing left the jar"},
			{LevelHalf, "half", "Half of the liquid or more is missing, ever since the day of canning", "half or more of the liquid that was put in was lost in the canner"},
			{LevelDropped, "dropped", "It has dropped since it was stored", "liquid left the sealed jar in storage"},
		}},
	SignBody: {ID: "body", Name: "Texture", Chapter: ChapterGlass, Sound: BodyUsual, Several: true,
		Ask: "How does the food hold together?",
		Why: "Spoiling food goes soft, slimy or slippery.",
		Values: []ValueInfo{
			{BodyUsual, "usual", "As usual for this food", "the pieces are as firm, or the jam as set, as they were"},
			{BodyUnset, "unset", "Runny: jam or jelly that never set", "it has been runny since the day it was made, and is not slimy"},
			{BodySoft, "soft", "Softer than usual, or than it was: the pieces whole, or mushy only since the jar froze; not slippery", "soft from cooking, freezing, heat or age: not slippery, and falling apart only if the jar froze"},
			{BodySlimy, "slimy", "Slimy, slippery, or mush that never froze", "something is breaking the food down"},
		},
		Wordings: []Wording{{When: []Value{KeepsAcid, KeepsLow, KeepsBroth, KeepsTwoMonths, KeepsThreeMonths, KeepsSixMonths}, Hide: []Value{BodyUnset}}}},
	SignColor: {ID: "color", Name: "Color", Chapter: ChapterGlass, Sound: ColorUsual, Several: true,
		Ask: "What has happened to the color?",
		Why: "Many changes of color are harmless, but only for the foods known to show them.",
		How: "Choose what comes nearest. Green vegetables and pickles turn dull or olive in the heat: that is both faded and olive.",
		Values: []ValueInfo{
			{ColorUsual, "usual", "As usual for this food (frozen: pale, dry spots are usual)", "no change of color but freezer burn, which dries frozen food in spots"},
			{ColorTop, "dark-top", "Darker only at the top: above the liquid, or just under the lid", "only what air touches is darker"},
			{ColorGarlic, "garlic", "Only its garlic or cauliflower: blue, green, purple or pink", "garlic or cauliflower has changed, and nothing else in the jar"},
			{ColorFaded, "faded", "Faded, paler or duller", "the food's own color is weaker, and no other color has come"},
			{ColorPink, "pink", "Pink or reddish that is not usual for it", "the food or its liquid has turned pink"},
			{ColorBlue, "blue-green", "Blue, green or purple that is not usual for it", "the food or its liquid has turned blue, green or purple"},
			{ColorBrowned, "browned", "Brown, tan or olive all through", "the food is evenly brown, tan or olive"},
			{ColorDark, "gray-black", "Gray or black", "the food is gray or black, and not fuzzy"},
			{ColorOdd, "odd", "Any other color", "no harmless cause is known for the color"},
		}},
	SignMold: {ID: "mold", Name: "Mold", Chapter: ChapterGlass, Sound: MoldNone,
		Ask: "Is anything fuzzy, of any color, on the food or under the lid? What was scraped off counts too.",
		Why: "Mold means air got in, and it can use up the acid that keeps a jar safe.",
		Values: []ValueInfo{
			{MoldNone, "none", "None, now or ever", "nothing fuzzy anywhere, and none was scraped off"},
			{MoldSeen, "seen", "Yes, or some was scraped off: white, blue, green, black or gray", "mold grew in the jar"},
		}},
	SignDeposit: {ID: "deposit", Name: "Crystals and specks", Chapter: ChapterGlass, Sound: DepositNone, Several: true,
		Ask: "Are there crystals, specks or scale?",
		Why: "Hard crystals are usually minerals or sugar from the food itself. Anything fuzzy is mold.",
		Values: []ValueInfo{
			{DepositNone, "none", "None", "nothing of the kind"},
			{DepositRecipe, "recipe", "Bits of the recipe, there from the start: seeds, spice, mustard, herbs, pulp", "the recipe put them into the jar, and they have not grown or spread since"},
			{DepositCrystals, "crystals", "Hard crystals, glassy or like needles, sugar or powder", "hard, with edges, not fuzzy and not slimy"},
			{DepositSpecks, "specks", "Specks that are not of the recipe, hard scale or soft curd, not fuzzy", "not fuzzy and not spreading"},
		}},
	SignTop: {ID: "top", Name: "On top", Chapter: ChapterGlass, Sound: TopClear, Several: true,
		Ask: "What lies on top, under the lid?",
		Why: "Fat and floating fruit are harmless; a film or scum is something growing.",
		Values: []ValueInfo{
			{TopClear, "clear", "Nothing unusual", "nothing on top"},
			{TopFloat, "floating", "Pieces float", "whole pieces of the food float in the liquid"},
			{TopFat, "fat-cap", "A pale cap of fat, or set jelly", "hard, even and smooth: fat or gelatin that set in the cool"},
			{TopFoam, "dry-foam", "A thin, dried skin of foam that does not move", "it was skimmed too little on the day of canning and has not changed since"},
			{TopFilm, "film", "A film, scum or fresh foam", "something grew on the surface"},
		}},

	SignHeat: {ID: "heat", Name: "Warmest", Chapter: ChapterStorage,
		Find: "Ask who kept it, and think of the hottest week: was it in a car, a shed or by a furnace?", Sound: HeatCool,
		Ask: "How warm has it been where the jar stood, at the worst?",
		Why: "Above 35 °C (95 °F) food ages in weeks, and heat-loving germs that survive canning can grow.",
		Values: []ValueInfo{
			{HeatCool, "cool", "Never above 24 °C (75 °F)", "the jar was never warmer than 24 °C"},
			{HeatWarm, "warm", "Above 24 °C (75 °F), up to 35 °C (95 °F)", "the jar was never warmer than 35 °C"},
			{HeatHot, "hot", "Above 35 °C (95 °F), but not over 37 °C (99 °F)", "the jar was never warmer than 37 °C"},
			{HeatExtreme, "extreme", "Over 37 °C (99 °F): a heat wave, an attic, a closed car, by a furnace", "the jar was warmer than 37 °C"},
		}},
	SignFrozen: {ID: "frozen", Name: "Frozen", Chapter: ChapterStorage,
		Find: "Ask who kept it whether it ever froze there.", Sound: FrozenNo,
		Ask: "Has it frozen on its shelf?",
		Why: "Ice pushes lids loose and breaks glass.",
		Values: []ValueInfo{
			{FrozenNo, "no", "No", "it never froze"},
			{FrozenHeld, "seal-held", "Yes, it thawed, and the seal held", "it thawed and the seal was tested afterward"},
			{FrozenCold, "seal-broke-still-frozen", "Yes, the seal broke; still frozen, or put frozen into a refrigerator today", "it was frozen without a break since the seal broke, or until it was put into a refrigerator or freezer within the last day"},
			{FrozenThawed, "seal-broke-thawed", "Yes, the seal broke, and it thawed", "it thawed with a broken seal"},
		}},
	SignWet: {ID: "wet", Name: "Damp or flood", Chapter: ChapterStorage,
		Find: "Look for water stains on label and lid; ask who kept it.", Sound: WetDry,
		Ask: "Has the jar been damp, or in a flood?",
		Why: "Damp eats lids. Flood water carries filth under any lid, even if it only touched the jar.",
		Values: []ValueInfo{
			{WetDry, "dry", "Dry (a slightly damp cellar is dry enough)", "no water stood on the jar"},
			{WetDamp, "damp", "Wet with drops or mist on the lid", "water stood on the lid, but not over it"},
			{WetFlood, "flood", "Touched by flood water, however little", "flood water may have touched the jar"},
		}},
	SignPlace: {ID: "place", Name: "Where it stood", Chapter: ChapterStorage,
		Find: "Ask who kept it where it stood.", Sound: PlaceDark,
		Ask: "Where did it stand?",
		Why: "Light fades food, heat ages it, and fire spoils it.",
		Values: []ValueInfo{
			{PlaceDark, "dark", "In the dark: cellar, cupboard, pantry", "out of sunlight and away from anything hot"},
			{PlaceLight, "light", "In sunlight", "the sun shone on it"},
			{PlaceHeater, "heater", "By a range, furnace or hot pipe", "something hot was near"},
			{PlaceFire, "fire", "Near a fire, its heat or smoke", "heat or fumes of a fire reached it"},
		}},
	SignAge: {ID: "age", Name: "Age", Chapter: ChapterStorage,
		Find: "Look for a date on lid, label or band; ask whoever canned it.", Sound: AgeYear, IfUnknown: AgeUnknown,
		Ask: "How long ago was it canned, or made?",
		Why: "Quality is best in the first year, and lids corrode with time. In the first 24 hours a failed seal can still be put right.",
		Values: []ValueInfo{
			{AgeDay, "24-hours", "Within the last 24 hours", "it came out of the canner less than 24 hours ago"},
			{AgeYear, "1-year", "Up to 12 months ago", "more than 24 hours and no more than 12 months ago"},
			{AgeTwo, "2-years", "12 to 24 months ago", "no more than 24 months ago"},
			{AgeUnknown, "unknown", "It has no date, and I can't find out", "it may be of any age past the first day"},
			{AgeOlder, "older", "More than 24 months ago", "more than 24 months ago"},
		}},

	SignOpened: {ID: "opened", Name: "Where it has been", Chapter: ChapterOpening,
		Find: "Ask who had it last.", Sound: OpenedNo,
		Ask: "Which is true of the jar?",
		Why: "What you have to look at depends on it. Food that has been cold since it was made is judged by its days. What is not acid is judged by how it was canned as well.",
		Values: []ValueInfo{
			{OpenedNo, "closed", "Closed, on the shelf, or only frost has pushed its lid loose", "it has stood unrefrigerated since it was canned, and nobody has opened it or knocked its lid off"},
			{OpenedNow, "now", "Just opened, or its lid just came off, not by frost: sealed until then", "it was sealed until now, whoever or whatever opened it"},
			{OpenedBefore, "before", "Opened earlier", "it was sealed until it was opened, some time before today or earlier today"},
			{OpenedChilled, "refrigerator", "In the refrigerator, never kept on a shelf: since the day it was made, did not seal, or was done fermenting", "it was put in the refrigerator on the day it was made or failed to seal, or when it was done fermenting, and stayed there"},
			{OpenedFrozen, "freezer", "In the freezer ever since the day it was made", "it was frozen within a day of being made or of failing to seal, and never thawed"},
			{OpenedThawed, "thawed", "It was in the freezer since that day, and has thawed", "it was frozen since the day it was made until it thawed"},
			{OpenedBottle, "bottle", "On a shelf, under a cork, a cap or a lid that was never sealed, poured from or not", "it stands unrefrigerated and was never sealed, so that nothing but what is in it keeps it"},
		},
		Wordings: []Wording{
			{When: []Value{RouteBoiling, RoutePasteur, RoutePressure, RouteMonths, RouteNone}, Hide: []Value{OpenedBottle}},
			{When: []Value{RouteBottle}, Hide: []Value{OpenedNow, OpenedBefore}, Ask: "Where is it kept?",
				Labels: []ValueLabel{
					{OpenedNo, "On a shelf, in a jar whose flat lid was sealed by heat and never opened"},
					{OpenedChilled, "In the refrigerator"},
					{OpenedFrozen, "In the freezer"},
				}},
		}},
	SignRelease: {ID: "release", Name: "On opening", Chapter: ChapterOpening, Sound: ReleaseIn, Several: true,
		Ask: "What happened when the lid came off?",
		Why: "A sealed jar draws air in. Pressure from inside means gas, and gas means spoilage.",
		Values: []ValueInfo{
			{ReleaseIn, "drawn-in", "It had to be pried off, or air was drawn in; or a knock broke a seal that was surely tight until then", "the lid was held by a vacuum until it was opened"},
			{ReleaseNone, "no-vacuum", "It came off loosely, or I do not know whether it was tight", "there was no vacuum"},
			{ReleaseHiss, "hiss-out", "It hissed outward", "there was gas under pressure"},
			{ReleaseSpurt, "spurted", "Liquid or foam spurted", "there was gas under pressure"},
		}},
	SignSmell: {ID: "smell", Name: "Smell", Chapter: ChapterOpening, Sound: SmellUsual,
		Ask: "Without leaning close: does the jar smell as it should?",
		Why: "An off smell is spoilage. A good smell proves nothing.",
		How: "Never put your nose in the jar, and never taste to decide.",
		Values: []ValueInfo{
			{SmellUsual, "usual", "As it should, or no smell", "nothing smells off from where you stand"},
			{SmellOff, "off", "Off: rancid, putrid, sour, cheesy, yeasty", "the smell is not that of this food"},
		}},
	SignFilm: {ID: "film", Name: "Surface", Chapter: ChapterOpening, Sound: FilmClean, Several: true,
		Ask: "What does the surface look like?",
		Why: "A film or foam is something growing.",
		Values: []ValueInfo{
			{FilmClean, "clean", "Clean", "no film, scum or foam"},
			{FilmFilm, "film", "A film or scum", "something grew on the surface"},
			{FilmFoam, "foam", "Foam or bubbles", "gas is being made in the food"},
		}},
	SignUnderlid: {ID: "underlid", Name: "Under the lid", Chapter: ChapterOpening, Sound: UnderlidClean, Several: true,
		Ask: "What does the underside of the lid look like?",
		Why: "A dark stain comes from the food and is harmless; holes and fuzz are not.",
		Values: []ValueInfo{
			{UnderlidClean, "clean", "Clean", "nothing on it"},
			{UnderlidDark, "dark-stain", "A dark stain, the metal whole", "flat, not fuzzy, and no hole in the metal"},
			{UnderlidPitted, "pitted", "Pitted or eaten through", "the metal may have a hole"},
			{UnderlidFuzzy, "fuzzy", "Something fuzzy", "mold grew under the lid"},
		}},

	SignIll: {ID: "ill", Name: "Someone who ate from it", Chapter: ChapterOpened, Sound: IllNone,
		Find: "Ask everyone who ate from it.",
		Ask:  "Is anyone ill who ate from it? Do they see blurred or double, or do their eyelids droop? Is it hard for them to swallow or speak?",
		Why:  "These are signs of botulism, and they need an emergency room at once.",
		Values: []ValueInfo{
			{IllNone, "no", "No, or nobody has eaten from it", "nobody who ate from it has a sign of botulism"},
			{IllSeen, "yes", "Yes", "someone who ate from it has a sign of botulism"},
		}},

	SignDays: {ID: "days", Name: "Days in the refrigerator", Chapter: ChapterOpened,
		Find: "Look for a date on the jar; ask the others in your house when it was opened.", Sound: DaysTwo, IfUnknown: DaysLonger,
		Ask: "How many days ago was it opened?",
		Why: "Cold slows spoilage; it does not stop it.",
		Values: []ValueInfo{
			{DaysTwo, "2", "Today to 2 days", "2 days at most"},
			{DaysFour, "4", "3 or 4 days", "4 days at most"},
			{DaysWeek, "7", "5 to 7 days", "7 days at most"},
			{DaysTwoWeeks, "14", "8 to 14 days", "14 days at most"},
			{DaysThreeWeeks, "21", "15 to 21 days", "21 days at most"},
			{DaysMonth, "30", "22 to 30 days", "30 days at most"},
			{DaysTwoMonths, "60", "1 to 2 months", "60 days at most"},
			{DaysThreeMonths, "90", "2 to 3 months", "90 days at most"},
			{DaysSixMonths, "180", "3 to 6 months", "180 days at most"},
			{DaysLonger, "longer", "Longer", "it may be any number of days"},
		},
		Wordings: []Wording{
			{When: []Value{OpenedChilled}, Ask: "For how many days has it been kept in the refrigerator?"},
			{When: []Value{OpenedThawed}, Ask: "How many days ago did it thaw?"},
		}},
	SignWarms: {ID: "warms", Name: "Hours in the warm, once opened", Chapter: ChapterFacts, Sound: WarmsYes,
		Ask: "Is it a food that may be kept after hours in the warm?",
		Why: "Opened jam, jelly, pickles, relish and canned fruit are acid enough to outlast a power cut. Most other food is not.",
		Values: []ValueInfo{
			{WarmsYes, "yes", "Yes", "a published list names this kind of food, opened, as safe after more than 2 hours above 4 °C"},
			{WarmsNo, "no", "No, or not known", "no list names it as safe"},
		}},
	SignChill: {ID: "chill", Name: "Kept cold", Chapter: ChapterOpened,
		Find: "Put a thermometer in the refrigerator; ask whether it was ever off.", Sound: ChillCold, IfUnknown: ChillWarm,
		Ask: "Has it been kept cold since?",
		Why: "At 4 °C (40 °F) or below opened food keeps for its days; above, for hours.",
		Values: []ValueInfo{
			{ChillCold, "cold", "In a refrigerator at 4 °C (40 °F) or below", "at 4 °C or below all the time, but for the hours asked for next"},
			{ChillPaused, "power-cut", "The refrigerator was off for up to 4 hours, its door shut", "the door stayed shut and it was off for 4 hours at most"},
			{ChillDay, "warm-day", "Warmer, or off for longer, but not for more than a day", "it was warmer than 4 °C for a day at most, all times added"},
			{ChillWarm, "warm", "Warmer, or off, for more than a day", "it may have been warm for any time"},
		},
		Wordings: []Wording{{When: []Value{OpenedThawed}, Hide: []Value{ChillDay}, Ask: "Did it stay as cold as a refrigerator while it thawed, and since?",
			Labels: []ValueLabel{
				{ChillCold, "Yes: it still had ice crystals, or was at 4 °C (40 °F) or below all the time"},
				{ChillWarm, "No: it was warmer, or the refrigerator was off for longer"},
			}}}},
	SignOut: {ID: "out", Name: "Hours out", Chapter: ChapterOpened,
		Find: "Ask everyone who had it out.", Sound: OutOne, IfUnknown: OutLonger,
		Ask: "How long, in all, has it stood out of the cold?",
		Why: "Germs double in minutes at room temperature.",
		Values: []ValueInfo{
			{OutOne, "1-hour", "Up to 1 hour", "1 hour at most, all times added"},
			{OutTwo, "2-hours", "Up to 2 hours", "2 hours at most, all times added"},
			{OutDay, "day", "More than 2 hours, up to a day, as overnight", "24 hours at most, all times added"},
			{OutLonger, "longer", "More than a day", "it may have been out for any time"},
		},
		Wordings: []Wording{
			{When: []Value{OpenedChilled}, Ask: "Since it first went into the refrigerator, how long, in all, was it out?"},
			{When: []Value{OpenedThawed}, Ask: "Since it thawed, how long, in all, was it out of the cold?"}}},
	SignAir: {ID: "air", Name: "How warm there", Chapter: ChapterOpened,
		Find: "Look up how warm it was that day.", Sound: AirMild,
		Ask: "How warm was it there?",
		Why: "Above 32 °C (90 °F) the limit is one hour, not two.",
		Values: []ValueInfo{
			{AirMild, "mild", "Up to 32 °C (90 °F)", "never warmer than 32 °C where it stood"},
			{AirHot, "hot", "Above 32 °C (90 °F)", "warmer than 32 °C where it stood"},
		}},

	SignBacking: {ID: "backing", Name: "What its safety rests on", Chapter: ChapterRecord, Sound: BackingTested,
		Ask: "What does the safety of this jar rest on?",
		Why: "Looks, smell and seal cannot prove a jar safe; its process, its own acid or the cold can.",
		Values: []ValueInfo{
			{BackingTested, "tested", "A tested process, or the cold since the day it was made", "a keep of the record, or food that was never kept on a shelf"},
			{BackingPlain, "plain", "Only its own acid", "plainly acid food whose process is not shown"},
			{BackingOther, "other", "Nothing that is shown", "neither"},
		}},
}

// signOf and valueAt index the vocabulary once, so that a value finds
// its sign in constant time.
var signOf, valueAt = places()

func places() (s [NumValues]SignID, at [NumValues]uint8) {
	for i := range Signs {
		for j, v := range Signs[i].Values {
			s[v.Value], at[v.Value] = SignID(i), uint8(j)
		}
	}
	return
}

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

// Fact reports whether the sign is known from the catalog or derived, and so
// never observed on a jar.
func (s SignID) Fact() bool { return Signs[s].Chapter == ChapterFacts || s == SignBacking }
