package rules

var before = []Value{OpenedBefore}

// After opening: days, cold and hours.
var openedRules = []Rule{
	{"opened.days.broth", Restriction, When{before, {KeepsBroth}, {DaysFour, DaysWeek, DaysTwoWeeks, DaysMonth, DaysLonger}}, Discard,
		"Opened broth is kept for 2 days.",
		[]Cite{read(&srcFridgeChart, "older card: 1 to 2 days, the stricter stands"), read(&srcFridgeChart, "current: 3 to 4 days")}},
	{"opened.days.low", Restriction, When{before, {KeepsLow}, {DaysWeek, DaysTwoWeeks, DaysMonth, DaysLonger}}, Discard,
		"Opened food that is not acid is kept for 3 to 4 days.",
		[]Cite{read(&srcFridgeChart, "vegetables, meat, soup: 3 to 4 days"), read(&srcOils, "garlic in oil: 4 days"), read(&srcChilled, "growth at 4 °C in weeks")}},
	{"opened.days.acid", Restriction, When{before, {KeepsAcid}, {DaysTwoWeeks, DaysMonth, DaysLonger}}, Discard,
		"Opened acid food is kept for 5 to 7 days.",
		[]Cite{read(&srcFridge, "high-acid canned food: 5 to 7 days, the stricter stands"), practice("milder: opened fruit is used within about two weeks, before mould starts")}},
	{"opened.days.reduced", Restriction, When{before, {KeepsReduced}, {DaysMonth, DaysLonger}}, Discard,
		"Opened jam with little sugar is kept for 2 weeks.",
		[]Cite{memory(&srcJamOpen, "reduced sugar: 2 to 4 weeks, the stricter stands")}},
	{"opened.days.jam", Restriction, When{before, {DaysLonger}}, Discard,
		"Opened jam is kept for a month, and nothing opened is kept longer.",
		[]Cite{read(&srcJamOpen, "best within one month")}},
	{"opened.chill.warm", Restriction, When{before, {ChillWarm}}, Discard,
		"It was not kept at 4 °C (40 °F) or below.",
		[]Cite{read(&srcFSIS, "4 to 60 °C is the danger zone"), memory(&srcFSIS, "power cut: 4 hours")}},
	{"opened.chill.paused", Note, When{before, {ChillPaused}}, 0,
		"A closed refrigerator stays cold for about 4 hours without power.",
		[]Cite{memory(&srcFSIS, "power cut: 4 hours")}},
	{"opened.out.long", Restriction, When{before, {OutLonger}}, Discard,
		"Out of the cold for more than 2 hours.",
		[]Cite{read(&srcFSIS, "2 hours"), read(&srcOpenCFIA, "back in the refrigerator within 2 hours")}},
	{"opened.out.hot", Restriction, When{before, {OutTwo}, {AirHot}}, Discard,
		"Out of the cold for more than 1 hour above 32 °C (90 °F).",
		[]Cite{read(&srcFSIS, "1 hour above 90 °F")}},
}
