package rules

// notTested is everything the safety of a jar can rest on but a tested process
// or the cold.
var notTested = []Value{BackingPlain, BackingOther}

// The outside: smell, leaks, rust and glass.
var outsideRules = []Rule{
	{"outside.odor", Restriction, When{{OdorOff}}, Discard,
		"A closed jar that smells is leaking, and what leaks out has spoiled.",
		[]Cite{derived(&srcSpoiled, "leaks and off odors")}},
	{"outside.seep.leak", Restriction, When{{SeepStreak, SeepWet}}, Discard,
		"Food has come out, so air and germs can go in.",
		[]Cite{read(&srcSpoiled, "leaks and streaks from the top"), read(&srcAskExt, "600985: streaks that appear later")}},
	{"outside.seep.unbacked", Restriction, When{{SeepFirstDay}, notTested}, Discard,
		"Residue from the day of canning is harmless only on a jar that was canned by a tested process.",
		[]Cite{read(&srcAskExt, "600985: boil-over, good seal, correct process")}},
	{"outside.seep.first-day", Note, When{{SeepFirstDay}, {BackingTested}}, 0,
		"Residue that boiled over on the day of canning is harmless once washed off, if the seal holds when tested again.",
		[]Cite{read(&srcAskExt, "600985: boil-over, good seal, correct process")}},
	{"outside.rust.through", Restriction, When{{RustThrough}}, Discard,
		"Rust through the metal opens the jar, even where no hole can be seen.",
		[]Cite{read(&srcStoreMSU, "corrosion"), read(&srcYearbook, "p. 112")}},
	{"outside.rust.unbacked", Restriction, When{{RustSpots}, notTested}, Discard,
		"Surface rust is harmless only on a sealed jar that was processed right.",
		[]Cite{read(&srcNCState, "468, rust on lids")}},
	{"outside.rust.spots", Note, When{{RustSpots}, {BackingTested}}, 0,
		"Rust spots on the surface are harmless while the jar is sealed and was processed right.",
		[]Cite{read(&srcNCState, "468, rust on lids")}},
	{"outside.glass.cracked", Restriction, When{{GlassCracked}}, Discard,
		"A crack or chip breaks the seal and can leave splinters in the food.",
		[]Cite{read(&srcCDCHome, "damaged containers"), read(&srcFreezeCU, "cracked jars")}},
}
