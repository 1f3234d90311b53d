package rules

// chilled is food whose days in the refrigerator count.
var chilled = []Value{OpenedBefore, OpenedChilled, OpenedThawed}

// tasted is food of which somebody may have eaten.
var tasted = []Value{OpenedBefore, OpenedChilled, OpenedThawed, OpenedBottle}

// After opening, or in the refrigerator since the day it was made: its days.
var openedRules = []Rule{
	{"opened.days.broth", Restriction, When{chilled, {KeepsBroth}, {DaysFour, DaysWeek, DaysTwoWeeks, DaysThreeWeeks, DaysMonth, DaysTwoMonths, DaysThreeMonths, DaysSixMonths, DaysLonger}}, Discard,
		"Opened broth is kept for 2 days.",
		[]Cite{read(&srcFridgeChart, "older card: 1 to 2 days, the stricter stands"), read(&srcFridgeChart, "current: 3 to 4 days")}},
	{"opened.days.low", Restriction, When{chilled, {KeepsLow}, {DaysWeek, DaysTwoWeeks, DaysThreeWeeks, DaysMonth, DaysTwoMonths, DaysThreeMonths, DaysSixMonths, DaysLonger}}, Discard,
		"Food that is not acid is kept for 3 to 4 days in the refrigerator.",
		[]Cite{read(&srcFridgeChart, "vegetables, meat, soup: 3 to 4 days"), read(&srcOils, "garlic in oil: 4 days"), read(&srcChilled, "growth at 4 °C in weeks")}},
	{"opened.days.acid", Restriction, When{chilled, {KeepsAcid}, {DaysTwoWeeks, DaysThreeWeeks, DaysMonth, DaysTwoMonths, DaysThreeMonths, DaysSixMonths, DaysLonger}}, Discard,
		"Acid food is kept for 5 to 7 days in the refrigerator.",
		[]Cite{read(&srcFridge, "high-acid canned food: 5 to 7 days, the stricter stands"), practice("milder: opened fruit is used within about two weeks, before mold starts")}},
	{"opened.days.reduced", Restriction, When{chilled, {KeepsReduced}, {DaysThreeWeeks, DaysMonth, DaysTwoMonths, DaysThreeMonths, DaysSixMonths, DaysLonger}}, Discard,
		"Half-sour pickles, fruit syrup and flower jelly are kept for 2 weeks in the refrigerator.",
		[]Cite{copied(&srcCondiments, "pickles: 2 weeks"), memory(&srcJamOpen, "reduced sugar: 2 to 4 weeks")}},
	{"opened.days.three-weeks", Restriction, When{chilled, {KeepsThreeWeeks}, {DaysMonth, DaysTwoMonths, DaysThreeMonths, DaysSixMonths, DaysLonger}}, Discard,
		"This food is kept for 3 weeks in the refrigerator.",
		[]Cite{copied(&srcFreezerJam, "3 weeks in the refrigerator"), memory(&srcJamOpen, "reduced sugar: 2 to 4 weeks"), copied(&srcButterUNR, "apple butter: 4 weeks"), read(&srcStoreMSU, "milder: freezer jam 4 weeks; the stricter stands")}},
	{"opened.days.jam", Restriction, When{chilled, {KeepsJam}, {DaysTwoMonths, DaysThreeMonths, DaysSixMonths, DaysLonger}}, Discard,
		"Jam, jelly, relish, refrigerator pickles and kimchi are kept for a month in the refrigerator.",
		[]Cite{read(&srcRefrigMU, "refrigerator pickles may be eaten while no sign of spoilage shows; how long cannot be said"), copied(&srcPickleUSDA, "opened pickles: 1 to 3 months; the stricter end stands for relish"), read(&srcJamOpen, "best within one month"), copied(&srcCondiments, "milder for food from a shop: chutney 1 to 2 months, ketchup 6 months")}},
	{"opened.days.two-months", Restriction, When{chilled, {KeepsTwoMonths}, {DaysThreeMonths, DaysSixMonths, DaysLonger}}, Discard,
		"This food is kept for 2 months in the refrigerator.",
		[]Cite{copied(&srcPickleUSDA, "opened pickles: 1 to 3 months")}},
	{"opened.days.three-months", Restriction, When{chilled, {KeepsThreeMonths}, {DaysSixMonths, DaysLonger}}, Discard,
		"This food is kept for 3 months in the refrigerator.",
		[]Cite{read(&srcOilOSU, "refrigerated for no more than 3 months"), read(&srcEggsUGA, "pickled eggs: 2 to 3 months"), copied(&srcGarlicUC, "garlic in vinegar: about 4 months, the stricter stands")}},
	{"opened.days.longest", Restriction, When{chilled, {DaysLonger}}, Discard,
		"Nothing that is open or was never sealed is kept for longer than 6 months.",
		[]Cite{copied(&srcFermented, "fermented pickles: 4 to 6 months in the refrigerator, the longest time of any food"), read(&srcVinegarAsk, "flavored vinegar: 6 to 8 months, the stricter end stands")}},
	{"opened.days.kind", Restriction, When{chilled, {ConditionNot}, overFour}, Discard,
		"It is not sure to be the kind that keeps longer. It is kept for 3 to 4 days.",
		[]Cite{derived(&srcFridgeChart, "vegetables, meat, soup: 3 to 4 days"), derived(&srcOils, "garlic in oil, without acid: 4 days")}},
	{"opened.days.mixed", Restriction, When{chilled, {ExtrasDairy, ExtrasMeat, ExtrasOil}, overFour}, Discard,
		"With milk, egg, meat or oil in it, it keeps 3 to 4 days.",
		[]Cite{derived(&srcFridgeChart, "meat, soup: 3 to 4 days"), derived(&srcOils, "under oil: 4 days")}},
	{"opened.ill", Restriction, When{tasted, {IllSeen}}, Discard,
		"Someone who ate from it has signs of botulism: get help now, and keep the jar to be tested.",
		[]Cite{read(&srcAlaska, "onset and symptoms"), read(&srcWSU, "symptoms and what to do")}},
}
