package rules

// What heat, light and age do to the color and the firmness of a sound jar, by kind
// of food: a separate part, because neither the color nor the liquid depends on the
// kind of food otherwise.
var agingRules = []Rule{
	{"aging.untold", Restriction, When{{ColorBrowned}, {MethodUntold}, shelved}, Discard,
		"Browning is harmless only in food that is known to have been heated in its jar.",
		[]Cite{derived(&srcAskExt, "478671: acid food is discarded when unprocessed"), read(&srcDarkWSU, "fruit turns dark when it was heated too little, or packed raw")}},
	{"aging.soft-low", Restriction, When{{ColorFaded, ColorBrowned}, {BodySoft}, {ClassBorderline, ClassLow}}, Discard,
		"A change of color and soft food are two signs at once in food that is not plainly acid.",
		[]Cite{derived(&srcAskExt, "165277: brown and soft pears"), derived(&srcVegOSU, "soft food")}},
	{"aging.soft-acid", Restriction, When{{ColorFaded, ColorBrowned}, {BodySoft}, {ClassAcid, ClassPickled}}, UseSoon,
		"Heat and age brown acid food and soften it. Its quality has suffered: do not store it any longer.",
		[]Cite{read(&srcStoreMSU, "not above 95 °F"), read(&srcYearbook, "p. 12: colors fade or darken in storage; safe for more than two years"), read(&srcAskExt, "165277: brown pears are not eaten when they are soft and smell off"), read(&srcJamUSU, "brown jam: quality, not safety")}},
	{"aging.jam", Restriction, When{{BodySoft}, {FoamsYes}}, UseSoon,
		"Jam or jelly that was set and has gone loose stood too warm or too long. Its quality has suffered: do not store it any longer.",
		[]Cite{derived(&srcJamOSU, "weeping: a place that was too warm"), read(&srcStoreMSU, "not above 95 °F")}},
}
