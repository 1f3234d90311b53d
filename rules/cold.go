package rules

// Food that has been cold since the day it was made: the number of days counts,
// not the process. It was never on a shelf, so no seal can have failed either.
//
// Frozen food is “use soon”, not “keep”, although it may stay frozen for months: a
// jar to keep goes back on a shelf with no last day, but frozen food must never be
// put on a shelf, and is past its best after a year. The advice says so: keep it
// frozen, for up to a year.
var coldRules = []Rule{
	{"cold.refrigerated", ColdSupport, When{{OpenedChilled}}, UseSoon,
		"In the refrigerator since the day it was made, so its days count, not how it was canned.",
		[]Cite{read(&srcFridgeChart, "days in the refrigerator"), read(&srcReprocess, "unsealed jars are refrigerated")}},
	{"cold.frozen", ColdSupport, When{{OpenedFrozen}}, UseSoon,
		"In the freezer since the day it was made: nothing grows in it while it is frozen.",
		[]Cite{read(&srcReprocess, "unsealed jars are frozen, for up to a year"), copied(&srcFreezerJam, "a year in the freezer"), copied(&srcBurn, "dry, pale spots are a matter of quality, not of safety")}},
	{"cold.thawed", ColdSupport, When{{OpenedThawed}}, UseSoon,
		"It was in the freezer and has thawed, so its days in the refrigerator count from then on.",
		[]Cite{copied(&srcPowerCut, "freezer: at 40 °F or below, or with ice crystals"), derived(&srcFridgeChart, "days in the refrigerator")}},
}
