package rules

import "slices"

// fresh is food that was never canned: it was put in the cold after it was made, hot
// or not.
var fresh = []Value{MethodHotFill, MethodNone}

// neverShelved is food that has been cold since the day it was made.
var neverShelved = []Value{OpenedChilled, OpenedFrozen, OpenedThawed}

// unspoiled is everything that may be in food from the cold, but for what stood warm
// before or holds metal: neither heat nor cold takes out what is poisonous then.
var unspoiled = []Value{ExtrasNone, ExtrasVegetables, ExtrasThickener, ExtrasStarch, ExtrasDairy, ExtrasMeat, ExtrasOil, ExtrasMashed, ExtrasDry}

// overripe is that and over-ripe fruit, which is only less acid.
var overripe = append(slices.Clone(unspoiled), ExtrasSpent)

// citesCorrected is what is said of a mistake that is found on the first day.
var citesCorrected = []Cite{read(&srcReprocess, "within 24 hours, only if a tested recipe was followed at first"), read(&srcClemson, "under-processing found within 24 hours"), read(&srcNCState, "24, pickles without enough vinegar")}

// Food that has been cold since the day it was made: the number of days counts.
// It was never on a shelf, so no seal can have failed.
//
// What was canned and did not seal stood in its jar until that was noticed, for up to
// a day. If it is not acid, it needs what an unsealed jar on a shelf needs on the
// first day: a published recipe, and for low-acid food a pressure canner.
//
// Frozen food is “use soon”, not “keep”, although it may stay frozen for months: a
// jar to keep goes back on a shelf with no last day, but frozen food must never be
// put on a shelf, and is past its best after a year. The advice says so: keep it
// frozen, for up to a year.
var coldRules = []Rule{
	{"cold.refrigerated", ColdSupport, When{{OpenedChilled}, fresh, unspoiled}, UseSoon,
		"Never canned, and in the refrigerator since the day it was made, so its days count.",
		[]Cite{read(&srcFridgeChart, "days in the refrigerator")}},
	{"cold.frozen", ColdSupport, When{{OpenedFrozen}, fresh, unspoiled}, UseSoon,
		"Never canned, and in the freezer since the day it was made: nothing grows in it while it is frozen.",
		[]Cite{derived(&srcReprocess, "unsealed jars are frozen, for up to a year"), copied(&srcFreezerJam, "a year in the freezer"), copied(&srcBurn, "dry, pale spots are a matter of quality, not of safety")}},
	{"cold.thawed", ColdSupport, When{{OpenedThawed}, fresh, unspoiled}, UseSoon,
		"It was in the freezer and has thawed, so its days in the refrigerator count from then on.",
		[]Cite{copied(&srcPowerCut, "freezer: at 40 °F or below, or with ice crystals"), derived(&srcFridgeChart, "days in the refrigerator")}},
	{"cold.acid", ColdSupport, When{neverShelved, {ClassAcid}, overripe}, UseSoon,
		"Acid food, cold since the day it was made. Its days count, not how it was canned.",
		[]Cite{read(&srcReprocess, "unsealed jars are refrigerated, or frozen for up to a year"), derived(&srcFridgeChart, "days in the refrigerator")}},
	{"cold.pickled", ColdSupport, When{neverShelved, {ClassPickled}, {AcidHalf, AcidFull}, overripe}, UseSoon,
		"Pickles with all their vinegar, cold since the day they were made. Their days count, not how they were canned.",
		[]Cite{read(&srcReprocess, "unsealed jars are refrigerated, or frozen for up to a year"), derived(&srcDillyMSU, "vinegar of 5 %")}},
	{"cold.borderline", ColdSupport, When{neverShelved, {ClassBorderline}, fresh, overripe}, UseSoon,
		"Never canned, and cold since the day it was made, so its days count.",
		[]Cite{derived(&srcFridgeChart, "days in the refrigerator")}},
	{"cold.corrected", ColdSupport, When{neverShelved, {ClassPickled, ClassBorderline}, {ConditionMet}, {StandingPublished, StandingChanged}, {ExtrasNone, ExtrasVegetables, ExtrasThickener, ExtrasMashed, ExtrasSpent}}, UseSoon,
		"Canned by a published recipe and chilled on the first day: its days count.", citesCorrected},
	{"cold.corrected.low", ColdSupport, When{neverShelved, {RoutePressure}, {ConditionMet}, {StandingPublished, StandingChanged}, {MethodPressure}, {ExtrasNone, ExtrasVegetables, ExtrasThickener}}, UseSoon,
		"Pressure canned by a published recipe, chilled on the first day: its days count.", citesCorrected},
	{"cold.unsealed", Lack, When{neverShelved, {ClassBorderline, ClassLow}, {StandingUnshown}, {MethodPressure, MethodBoiling, MethodSteam, MethodSteamLong, MethodPasteur, MethodUntold, MethodCooker, MethodOven}}, 0,
		"The cold does not put a wrong process right. A jar that did not seal is refrigerated or frozen only if it was canned as published.",
		[]Cite{read(&srcMMWRPeas, "unsealed peas from the refrigerator: refrigerating is only for jars that were correctly processed"), read(&srcReprocess, "without a tested recipe all jars are discarded, sealed or unsealed")}},
}
