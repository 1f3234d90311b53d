package rules

// later is every age past the first 24 hours; stored jars whose seal then
// fails are spoiled whatever they hold.
var later = []Value{AgeYear, AgeTwo, AgeUnknown, AgeOlder}

// notCold is every frozen history in which a broken seal cannot be excused by
// the food having stayed frozen (see storage.frozen.cold).
var notCold = []Value{FrozenNo, FrozenHeld, FrozenThawed}

var citesUnsealed = []Cite{read(&srcNCState, "357, jars unsealed in storage"), read(&srcSpoiled, "loose lids"), read(&srcClemson, "not sealed after 24 hours")}
var citesDay = []Cite{read(&srcReprocess, "within 24 hours"), copied(&srcNickMSU, "check the rim for tiny nicks, change the jar, or refrigerate it"), read(&srcNickUNL, "check the rim for nicks, change the jar"), read(&srcSealTest, "reprocessing within 24 hours"), read(&srcMMWRPeas, "refrigerating is no remedy where the process was wrong")}

// The seal: what can be seen and felt of the lid without opening.
var sealRules = []Rule{
	{"outside.lid.bulging", Restriction, When{{LidBulged}}, Discard,
		"A bulging lid means gas: something is growing in the jar.",
		[]Cite{read(&srcSpoiled, "signs of spoilage"), read(&srcCDCHome, "bulging containers"), read(&srcYearbook, "p. 112"), read(&srcBucklePSU, "a lid that buckles in storage")}},
	{"outside.lid.dented", Restriction, When{{LidDented}}, UseSoon,
		"A dented or buckled lid may not lie flat on the glass, so its seal may fail later.",
		[]Cite{read(&srcBucklePSU, "buckled on the day of canning, but sealed: mark it and use it first"), read(&srcBuckleMU, "stricter: not for the shelf")}},
	{"outside.lid.dented-unbacked", Restriction, When{{LidDented}, later, notCold, shelved, notTested}, Discard,
		"A dented or buckled lid may have let air in, and no tested process is known for this jar.",
		[]Cite{derived(&srcBuckleMU, "buckled lids: not for the shelf")}},
	{"outside.lid.none", Restriction, When{{LidNone}}, UseSoon,
		"Without a flat metal lid the seal cannot be seen.",
		[]Cite{read(&srcPrinciples, "closures not recommended")}},
	{"outside.press.none", Restriction, When{{PressNone}}, UseSoon,
		"Without a flat metal lid the seal cannot be felt.",
		[]Cite{read(&srcPrinciples, "closures not recommended")}},
	{"outside.lift.none", Restriction, When{{LiftNone}}, UseSoon,
		"A jar that cannot be lifted by its lid cannot be tested that way.",
		[]Cite{read(&srcPrinciples, "closures not recommended")}},
	{"outside.lid.flat", Restriction, When{{LidFlat}, later, notCold, shelved}, Discard,
		"The lid does not curve down: the jar has lost its seal, and a jar that came unsealed in storage is spoiled.", citesUnsealed},
	{"outside.press.gives", Restriction, When{{PressGives}, later, notCold, shelved}, Discard,
		"The lid gives when pressed: there is no vacuum, and a jar that came unsealed in storage is spoiled.", citesUnsealed},
	{"outside.lift.off", Restriction, When{{LiftOff}, later, notCold, shelved}, Discard,
		"The lid does not hold the jar: it is not sealed, and a jar that came unsealed in storage is spoiled.",
		append([]Cite{read(&srcLiftPSU, "lift test")}, citesUnsealed...)},
	{"outside.lid.flat-day", Restriction, When{{LidFlat}, {AgeDay}}, UseSoon,
		"It did not seal. Within 24 hours of processing that can be put right.", citesDay},
	{"outside.press.gives-day", Restriction, When{{PressGives}, {AgeDay}}, UseSoon,
		"The lid gives: it did not seal. Within 24 hours of processing that can be put right.", citesDay},
	{"outside.lift.off-day", Restriction, When{{LiftOff}, {AgeDay}}, UseSoon,
		"The lid comes off: it did not seal. Within 24 hours of processing that can be put right.", citesDay},
}
