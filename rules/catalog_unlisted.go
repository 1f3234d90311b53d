package rules

// For a food that is not in the list no published process is known, so none is
// counted, and no look is called harmless. Its class is the strictest that
// the answers to [UnlistedQuestions] leave.
var (
	citesUnlisted = []Cite{read(&srcReprocess, "jars without a tested process"), read(&srcGifts, "ask how it was canned")}
	citesSour     = []Cite{read(&srcHealthCanada, "acid foods"), read(&srcPrinciples, "acid foods")}
)

const unlisted = "Not in this list, so no published process is counted for it. Ask your extension service or food-safety authority whether there is one."

var catalogUnlisted = []Product{
	{ID: "another-sour-fruit", Name: "Another fruit, surely sour", Group: GroupUnlisted, Food: "plain",
		Class: ClassAcid, Route: RouteNone, Keeps: KeepsAcid, Caution: unlisted, Cites: citesSour},
	{ID: "another-jam", Name: "Another jam, jelly or marmalade of sour fruit", Group: GroupUnlisted, Food: "plain",
		Class: ClassAcid, Route: RouteNone, Keeps: KeepsReduced, Caution: unlisted, Cites: citesSour},
	{ID: "another-pickle", Name: "Another pickle in full vinegar", Group: GroupUnlisted, Food: "plain",
		Class: ClassPickled, Route: RouteNone, Keeps: KeepsAcid, Caution: unlisted,
		Cites: []Cite{read(&srcDillyMSU, "vinegar of 5 %"), read(&srcReprocess, "jars without a tested process")}},
	{ID: "another-sauce", Name: "Another salsa, relish, chutney or sauce", Group: GroupUnlisted, Food: "plain",
		Class: ClassLow, Route: RouteNone, Keeps: KeepsLow, Caution: unlisted,
		Cites: []Cite{read(&srcLossUNL, "own recipes"), read(&srcReprocess, "jars without a tested process")}},
	{ID: "another-fruit", Name: "Another fruit, not surely sour", Group: GroupUnlisted, Food: "plain",
		Class: ClassLow, Route: RouteNone, Keeps: KeepsLow, Caution: unlisted,
		Cites: []Cite{read(&srcFruitUC, "fruits that need added acid"), read(&srcReprocess, "jars without a tested process")}},
	{ID: "another-vegetable", Name: "Another vegetable, bean, grain, nut or herb", Group: GroupUnlisted, Food: "plain",
		Class: ClassLow, Route: RouteNone, Keeps: KeepsLow, Caution: unlisted, Cites: citesUnlisted},
	{ID: "another-meat-or-fish", Name: "Something else with meat, fish, milk, egg or oil", Group: GroupUnlisted, Food: "plain",
		Class: ClassLow, Route: RouteNone, Keeps: KeepsLow, Caution: unlisted, Cites: citesUnlisted},
	{ID: "another-mixture", Name: "Another soup, stew or ready meal", Group: GroupUnlisted, Food: "plain",
		Class: ClassLow, Route: RouteNone, Keeps: KeepsLow, Caution: unlisted, Cites: citesUnlisted},
	{ID: "unknown-contents", Name: "I don't know what it is", Group: GroupUnlisted, Food: "plain",
		Class: ClassLow, Route: RouteNone, Keeps: KeepsLow,
		Caution: "Without a name there is no process to check it against: it counts as the strictest class.",
		Cites:   []Cite{read(&srcOldMSU, "jars of unknown history"), read(&srcReprocess, "jars without a tested process")}},
}

// UnlistedQuestion is one step in placing a food that is not in the list.
type UnlistedQuestion struct {
	Ask Text
	Yes string // id of the product that "yes" settles on
}

// UnlistedQuestions are asked in this order. "Yes" settles on a product, "no"
// leads to the next question, and after the last to unknown-contents. "Don't
// know" settles on unknown-contents at once: what is not known for sure must
// never end milder than either answer.
var UnlistedQuestions = []UnlistedQuestion{
	{"Is there any meat, fish, milk, cheese, egg or oil in it?", "another-meat-or-fish"},
	{"Is it a soup, a stew or a ready meal?", "another-mixture"},
	{"Is it a mixture made by a recipe, such as a salsa, relish, chutney, ketchup or sauce?", "another-sauce"},
	{"Is it packed in vinegar of 5 % or more, with at least as much vinegar as water?", "another-pickle"},
	{"Is there any vegetable, mushroom, bean, grain, nut, herb or flower in it?", "another-vegetable"},
	{"Is it jam, jelly or marmalade, boiled with its full sugar, of a fruit that is surely sour?", "another-jam"},
	{"Is it a fruit that is surely sour: a kind of apple, plum, cherry, currant, gooseberry, cranberry, raspberry, blackberry, citrus or rhubarb?", "another-sour-fruit"},
	{"Is it any other fruit?", "another-fruit"},
}

// Answer is what somebody says to an [UnlistedQuestion].
type Answer uint8

// The answers.
const (
	AnswerYes Answer = iota
	AnswerNo
	AnswerUnsure
)

// Unlisted places a food by the answers given so far, in the order of
// [UnlistedQuestions]. It returns the id of a product, or "" while the question
// with index len(answers) is still to be asked.
func Unlisted(answers ...Answer) string {
	for i, q := range UnlistedQuestions {
		if i == len(answers) {
			return ""
		}
		switch answers[i] {
		case AnswerYes:
			return q.Yes
		case AnswerUnsure:
			return "unknown-contents"
		}
	}
	return "unknown-contents"
}
