package rules

// Glance is one statement of the short look, which stands for the signs it
// covers: that it holds says that each of them is sound.
type Glance struct {
	ID    string
	Say   Text
	Signs []SignID
}

// ShortLook is the look of a sweep: made in a few seconds, jar by jar. It holds
// only when every statement does; anything else, harmless or not, is looked at
// in full. Together the statements cover every sign of the outside and through
// the glass, so that no sign that could forbid a keep is left out.
var ShortLook = []Glance{
	{"lid", "The lid curves down in the middle", []SignID{SignLid}},
	{"press", "It does not give when pressed", []SignID{SignPress}},
	{"lift", "Lifted by its edge, it holds the jar", []SignID{SignLift}},
	{"outside", "No leak, streak, rust or smell, and the glass is whole", []SignID{SignSeep, SignRust, SignGlass, SignOdor}},
	{"inside", "Inside all is as usual: clear, still, full, nothing odd and no mold", []SignID{SignCloud, SignBubbles, SignLevel, SignBody, SignColor, SignMold, SignDeposit, SignTop}},
}

// ShortLookCites says where the short look comes from.
var ShortLookCites = []Cite{
	read(&srcSealTest, "look, press, lift"),
	read(&srcSpoiled, "what to look for before opening"),
	practice("all seals are looked at four times a year"),
}

// ShortLookValues returns what a short look that holds tells of a jar.
func ShortLookValues() (vs []Value) {
	for _, g := range ShortLook {
		for _, id := range g.Signs {
			vs = append(vs, Signs[id].Sound)
		}
	}
	return
}
