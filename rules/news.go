package rules

// News says what is new in this edition of the guide, for those who have the
// one before: a line for each change of advice or of use.
var News = []Text{
	"Mincemeat is for the pressure canner only, cactus pads have no process, and foods whose process is for one kind only ask which kind you have.",
	"Pickles of your own recipe ask for at least as much vinegar as water; what else is in a jar counts even if your own recipe has it.",
	"New: glass lids, one-piece caps, used and dented lids, a smell from a closed jar, food kept in the refrigerator or freezer from the start, an unvented canner, an untested gauge, a jar without a date.",
	"Milder, each by its source: jam with crystals, fading, a soft set or dry foam; a few foods with two normal looks at once; pickles, chutney and fruit butter once opened.",
	"Milder too, each by its source: olive and dull green vegetables and pickles, blue garlic and pink cauliflower, jam that browns or weeps, sauces that part, oil that clouds in the cold, gray seafood, fish in vinegar kept cold, sauce that is paler and in layers, table salt or other dried spices than the recipe says, and a nick in the rim of a jar that never sealed.",
	"If you do not know something of the record, the answer now says what to find out, instead of only to discard the jar.",
	"Milder, each by its source: canned fruit, jam, jelly, pickles, relish and ketchup, once opened, outlast a night on the table or a day without power.",
	"Milder too: salsa with bottled lemon or lime juice in place of its vinegar, a slice of onion or a clove of garlic in meat, and a tested recipe from the current book of a jar maker.",
	"A lid that only frost pushed off a jar that is still frozen has one path now: keep the jar frozen, or use it in 1 to 2 days.",
	"Stricter: fresh lemon juice in tomatoes does not count, and the boil must not have stopped. Plastic lids on a rubber ring are asked for.",
	"Foods that a published recipe keeps for some months, such as curd and flavored vinegar, have questions and times of their own.",
	"Stricter, each by its source: a jar that is known to have been boiled too short, without the minutes for the altitude or under too little water is discarded after a day, fruit and jam too; a jar that lost some of its liquid is eaten first, and half of it counts as too much.",
	"New to be said: bare copper, brass, iron or zinc for acid food, homemade vinegar, pickling lime left in, less salt in a ferment, and that nobody knows the time.",
	"Milder, each by its source: bottled lemon juice in place of vinegar in pickles, mother of vinegar, freezer burn, and white scum skimmed off a cold crock.",
	"Stricter, each by its source: food that is not acid, was canned wrong and did not seal is not put right by the cold; on the first day a recipe that nobody has tested counts; food from the cold without its acid, or with oil, milk, egg or meat in it, keeps 4 days; flood water that only touched the jar is enough.",
}
