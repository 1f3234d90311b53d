package rules

// later is every age past the first 24 hours; stored jars whose seal then
// fails are spoiled whatever they hold.
var later = []Value{AgeYear, AgeTwo, AgeOlder}

// notCold is every frozen history in which a broken seal cannot be excused by
// the food having stayed frozen (see storage.frozen.cold).
var notCold = []Value{FrozenNo, FrozenHeld, FrozenThawed}

var citesUnsealed = []Cite{read(&srcNCState, "357, jars unsealed in storage"), read(&srcSpoiled, "loose lids"), read(&srcClemson, "not sealed after 24 hours")}
var citesDay = []Cite{read(&srcReprocess, "within 24 hours"), read(&srcSealTest, "reprocessing within 24 hours"), read(&srcMMWRPeas, "refrigerating is no remedy where the process was wrong")}

// The outside: what can be seen and felt without opening.
var outsideRules = []Rule{
	{"outside.lid.bulging", Restriction, When{{LidBulged}}, Discard,
		"A bulging lid means gas: something is growing in the jar.",
		[]Cite{read(&srcSpoiled, "signs of spoilage"), read(&srcCDCHome, "bulging containers"), read(&srcYearbook, "p. 112")}},
	{"outside.lid.flat", Restriction, When{{LidFlat}, later, notCold}, Discard,
		"The lid is not drawn down: the jar has lost its seal, and a jar that came unsealed in storage is spoiled.", citesUnsealed},
	{"outside.press.gives", Restriction, When{{PressGives}, later, notCold}, Discard,
		"The lid gives when pressed: there is no vacuum, and a jar that came unsealed in storage is spoiled.", citesUnsealed},
	{"outside.lift.off", Restriction, When{{LiftOff}, later, notCold}, Discard,
		"The lid does not hold the jar: it is not sealed, and a jar that came unsealed in storage is spoiled.",
		append([]Cite{read(&srcLiftPSU, "lift test")}, citesUnsealed...)},
	{"outside.lid.flat-day", Restriction, When{{LidFlat}, {AgeDay}}, UseSoon,
		"It did not seal. Within 24 hours of processing that can be put right.", citesDay},
	{"outside.press.gives-day", Restriction, When{{PressGives}, {AgeDay}}, UseSoon,
		"The lid gives: it did not seal. Within 24 hours of processing that can be put right.", citesDay},
	{"outside.lift.off-day", Restriction, When{{LiftOff}, {AgeDay}}, UseSoon,
		"The lid comes off: it did not seal. Within 24 hours of processing that can be put right.", citesDay},
	{"outside.seep.leak", Restriction, When{{SeepStreak, SeepWet}}, Discard,
		"Food has come out, so air and germs can go in.",
		[]Cite{read(&srcSpoiled, "leaks and streaks from the top"), read(&srcAskExt, "600985: streaks that appear later")}},
	{"outside.seep.unbacked", Restriction, When{{SeepFirstDay}, {BackingOther}}, Discard,
		"Residue from the day of canning is harmless only on a jar with a tested process behind it.",
		[]Cite{read(&srcAskExt, "600985: boil-over, good seal, correct process")}},
	{"outside.seep.first-day", Note, When{{SeepFirstDay}, {BackingTested}}, 0,
		"Residue that boiled over on the day of canning is harmless once washed off, if the seal holds when tested again.",
		[]Cite{read(&srcAskExt, "600985: boil-over, good seal, correct process")}},
	{"outside.rust.through", Restriction, When{{RustThrough}}, Discard,
		"Rust through the metal opens the jar, even where no hole can be seen.",
		[]Cite{read(&srcStoreMSU, "corrosion"), read(&srcYearbook, "p. 112")}},
	{"outside.rust.unbacked", Restriction, When{{RustSpots}, {BackingOther}}, Discard,
		"Surface rust is harmless only on a sealed jar that was processed right.",
		[]Cite{read(&srcNCState, "468, rust on lids")}},
	{"outside.rust.spots", Note, When{{RustSpots}, {BackingTested}}, 0,
		"Rust spots on the surface are harmless while the jar is sealed and was processed right.",
		[]Cite{read(&srcNCState, "468, rust on lids")}},
	{"outside.glass.cracked", Restriction, When{{GlassCracked}}, Discard,
		"A crack or chip breaks the seal and can leave splinters in the food.",
		[]Cite{read(&srcCDCHome, "damaged containers"), read(&srcFreezeCU, "cracked jars")}},
}
