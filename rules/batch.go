package rules

// shelved is a jar that has stood on a shelf, where only its seal and its
// process keep it.
var shelved = []Value{OpenedNo, OpenedNow, OpenedBefore}

// The closure of the jar and what became of the rest of its batch.
var batchRules = []Rule{
	{"record.closure.used", Restriction, When{{ClosureUsed}}, UseSoon,
		"A flat lid seals well once. Used again it may lose its seal later, so do not keep storing the jar.",
		[]Cite{read(&srcLidsNDSU, "used lids may fail to seal")}},
	{"record.closure.other", Restriction, When{{ClosureCap, ClosureClamp, ClosureWax}}, UseSoon,
		"Glass and plastic lids, one-piece caps and wax hide a lost seal, so do not keep storing the jar.",
		[]Cite{read(&srcPrinciples, "closures not recommended"), read(&srcPlasticNC, "reusable plastic lids: too little is known to recommend them"), read(&srcOnePiece, "one-piece caps are not adequately tested")}},
	{"record.closure.wax", Restriction, When{{ClosureWax}, later, shelved}, Discard,
		"Wax shrinks and leaves pinholes; mold gets in, and nothing was processed under it.",
		[]Cite{read(&srcUGAJam, "paraffin no longer accepted"), read(&srcJamOSU, "paraffin"), derived(&srcAskC, "open-kettle jars")}},
	{"record.siblings.second-look", Restriction, When{{SiblingsSpoiled, SiblingsIll}}, UseSoon,
		"Another jar of this batch spoiled: look at every jar of it again, and keep storing none of them.",
		[]Cite{read(&srcYearbook, "p. 112: pull and inspect the whole batch")}},
	{"record.siblings.low", Restriction, When{{SiblingsSpoiled}, {ClassBorderline, ClassLow}, shelved}, Discard,
		"Another jar of this batch spoiled. In food that can grow the botulism germ, jars that still look good are no safer.",
		[]Cite{read(&srcAgentBeans, "good-looking jars of a spoiled batch"), derived(&srcYearbook, "p. 112: pull and inspect the whole batch")}},
	{"record.siblings.unbacked", Restriction, When{{SiblingsSpoiled, SiblingsIll}, notTested}, Discard,
		"Another jar of this batch spoiled, and no tested process is known for any of them.",
		[]Cite{read(&srcYearbook, "p. 112: pull and inspect the whole batch"), derived(&srcReprocess, "under-processed jars")}},
	{"record.siblings.ill", Restriction, When{{SiblingsIll}}, Discard,
		"Someone fell ill after eating from another jar of this batch. Eat from none of them, and keep one for those who ask.",
		[]Cite{memory(&srcCDC, "keep the food for testing"), derived(&srcAgentBeans, "good-looking jars of a spoiled batch")}},
	{"record.siblings.seal", Note, When{{SiblingsSeal}}, 0,
		"One lost seal in a batch is common and says little about the others; test each of their seals.",
		[]Cite{read(&srcSeal2020, "causes of seal failure")}},
}
