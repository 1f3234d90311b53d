package rules

// overFour is more than the 3 to 4 days for which food that is not acid keeps.
var overFour = []Value{DaysWeek, DaysTwoWeeks, DaysThreeWeeks, DaysMonth, DaysTwoMonths, DaysThreeMonths, DaysSixMonths, DaysLonger}

// souring is food whose days rest on the acid that was added to it. What ferments makes
// its own, and keeps for 6 months if it is the kind that its question asks for. Half-sour
// pickles, flower jelly and fruit syrup are not in it: their two weeks take for
// granted that they have little.
var souring = []Value{KeepsThreeMonths, KeepsTwoMonths, KeepsJam, KeepsThreeWeeks, KeepsAcid}

// longer is all food that may keep for more than 4 days.
var longer = []Value{KeepsSixMonths, KeepsThreeMonths, KeepsTwoMonths, KeepsJam, KeepsThreeWeeks, KeepsReduced, KeepsAcid}

// Days that rest on acid: the long ones are for food that got all of it. This is a part
// of its own, because nothing in it depends on what else is in the jar.
var sourRules = []Rule{
	{"opened.sour.pickled", Restriction, When{chilled, {ClassPickled}, souring, {AcidShort}, overFour}, Discard,
		"Without all their vinegar pickles keep 3 to 4 days.", citesFour},
	{"opened.sour.recipe", Restriction, When{chilled, {ClassBorderline}, {RouteBoiling, RoutePasteur, RoutePressure}, souring, {AcidShort}, overFour}, Discard,
		"Without all the acid of its recipe it keeps 3 to 4 days.", citesFour},
	{"opened.sour.vinegar", Restriction, When{chilled, {ClassBorderline, ClassLow}, {KeepsThreeMonths}, {AcidShort}, overFour}, Discard,
		"Only with all its vinegar does it keep for 3 months. Without, it keeps for 3 to 4 days.", citesFour},
}

var citesFour = []Cite{derived(&srcFridgeChart, "vegetables, meat, soup: 3 to 4 days"), derived(&srcOils, "garlic in oil, without acid: 4 days")}
