package rules

import "slices"

var (
	citesPowerCut = []Cite{read(&srcFSIS, "4 to 60 °C is the danger zone"), copied(&srcPowerCut, "about 4 hours with the door closed")}
	citesTwoHours = []Cite{read(&srcFSIS, "2 hours"), read(&srcOpenCFIA, "back in the refrigerator within 2 hours: stricter for jam than the list for power cuts")}
)

// How long opened food may be left out warm. A published list names the foods that
// are safe after a power outage; it sets no limit to the hours, so at most a day is
// trusted here, in a room that is not hot, and only for a jar that is known to be
// acid: by its process, or by the food itself. See [Product.warms].
//
// This is a part of its own, because nothing in it depends on the days.
var warmthRules = []Rule{
	{"opened.chill.long", Restriction, When{{OpenedBefore, OpenedChilled}, {ChillWarm}}, Discard,
		"It was too warm for more than a day.", citesPowerCut},
	{"opened.chill.chilled", Restriction, When{{OpenedChilled}, {ChillDay}}, Discard,
		"It was not kept at 4 °C (40 °F) or below. Only the cold keeps it.", citesPowerCut},
	{"opened.chill.warm", Restriction, When{{OpenedBefore}, {ChillDay}, {WarmsNo}}, Discard,
		"It was not kept at 4 °C (40 °F) or below.", citesPowerCut},
	{"opened.chill.unbacked", Restriction, When{{OpenedBefore}, {ChillDay}, {BackingOther}}, Discard,
		"It was not kept at 4 °C (40 °F) or below. Nothing shows that it is acid enough for that.",
		[]Cite{derived(&srcOutage, "names these foods because they are acid")}},
	{"opened.chill.acid", Note, When{{OpenedBefore}, {ChillDay}, {WarmsYes}, {BackingTested, BackingPlain}}, 0,
		"Food like this, once opened, is safe after some hours in the warm. Put it back in the cold.",
		[]Cite{read(&srcOutage, "canned fruit, fruit juice, jelly, relish, taco sauce, ketchup and pickles, opened, above 40 °F for over 2 hours: safe"), read(&srcOutageLSU, "pickles, relishes, ketchup, jam, jelly, preserves and syrup are all right; look for mold")}},
	{"opened.chill.thawed", Restriction, When{{OpenedThawed}, {ChillDay, ChillWarm}, {ClassPickled, ClassBorderline, ClassLow}}, Discard,
		"It thawed and was not kept at 4 °C (40 °F) or below.",
		[]Cite{copied(&srcPowerCut, "freezer: meat, soup and vegetables")}},
	{"opened.chill.thawed-fruit", Note, When{{OpenedThawed}, {ChillDay, ChillWarm}, {ClassAcid}}, 0,
		"Thawed fruit and jam may be frozen again if nothing is moldy, slimy or smells of yeast.",
		[]Cite{copied(&srcPowerCut, "freezer: fruit and juice")}},
	{"opened.chill.paused", Note, When{chilled, {ChillPaused}}, 0,
		"A closed refrigerator stays cold for about 4 hours without power.",
		[]Cite{copied(&srcPowerCut, "about 4 hours with the door closed")}},
	{"opened.out.long", Restriction, When{chilled, {OutLonger}}, Discard,
		"Out of the cold for more than a day.", citesTwoHours},
	{"opened.out.chilled", Restriction, When{{OpenedChilled, OpenedThawed}, {OutDay}}, Discard,
		"Out of the cold for more than 2 hours. Only the cold keeps it.", citesTwoHours},
	{"opened.out.warm", Restriction, When{{OpenedBefore}, {OutDay}, {WarmsNo}}, Discard,
		"Out of the cold for more than 2 hours.", citesTwoHours},
	{"opened.out.unbacked", Restriction, When{{OpenedBefore}, {OutDay}, {BackingOther}}, Discard,
		"Out of the cold for more than 2 hours. Nothing shows that it is acid enough for that.",
		[]Cite{derived(&srcOutage, "names these foods because they are acid")}},
	{"opened.out.acid", Note, When{{OpenedBefore}, {OutDay}, {WarmsYes}, {BackingTested, BackingPlain}, {AirMild}}, 0,
		"Food like this, once opened, is safe after a night in a room. Put it back in the cold.",
		[]Cite{read(&srcOutage, "canned fruit, fruit juice, jelly, relish, taco sauce, ketchup and pickles, opened, above 40 °F for over 2 hours: safe"), read(&srcOutageLSU, "pickles, relishes, ketchup, jam, jelly, preserves and syrup are all right; look for mold")}},
	{"opened.out.twice", Restriction, When{{OpenedBefore}, {ChillDay}, {OutDay}}, Discard,
		"It was too warm twice, for up to a day each. A day in all is the most that is trusted.",
		[]Cite{derived(&srcOutage, "it sets no limit to the hours; a day is trusted")}},
	{"opened.out.hot", Restriction, When{chilled, {OutTwo, OutDay}, {AirHot}}, Discard,
		"Out of the cold for more than 1 hour above 32 °C (90 °F).",
		[]Cite{read(&srcFSIS, "1 hour above 90 °F")}},
}

// warms reports whether a published list for power cuts names food like this, once
// opened, as safe after hours above 4 °C: canned fruit and juice, jam and jelly,
// pickles, relish, ketchup, barbecue and taco sauce. It names spaghetti sauce,
// vegetable juice, garlic in oil, horseradish, eggs, meat and soup as not safe.
// What it does not name, or what was never heated in its jar, is not in it:
// salsa, tomatoes, hot sauce, kimchi, freezer jam.
func (p *Product) warms() Value {
	named := slices.Contains([]string{"fig-jam", "pepper-jelly", "ketchup", "barbecue-sauce", "taco-sauce"}, p.ID)
	if p.Processed() && (p.Class == ClassAcid || p.Class == ClassPickled || p.Food == "relish" || named) {
		return WarmsYes
	}
	return WarmsNo
}
