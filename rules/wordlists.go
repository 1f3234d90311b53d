package rules

import (
	"strings"
	"sync"
)

// lists are the word lists that a word is in, a bit each.
type lists uint16

const (
	isIdle lists = 1 << iota
	isFill
	isHarmless
	isWeak
	isHead
	isKnown
	isNoFood
	isMade // says what was made of a food
	isAcid
	isTaker
	isBetween
	beginsPair // may begin one of noFoodPairs, or another pair
)

// listed holds every word of the lists. It is built on the first search.
var listed = sync.OnceValue(func() map[string]lists {
	in := make(map[string]lists, 1500)
	for _, l := range []struct {
		in    lists
		words string
	}{{isIdle, idleWords}, {isFill, fillWords}, {isHarmless, harmlessWords}, {isWeak, weakWords}, {isHead | isMade, headWords}, {isKnown, knownWords}, {isNoFood, noFoodWords},
		{isMade, " preserve filling paste pickle pickled dilled smoked dried fermented candied brandied "}, {isAcid, acidWords}, {isTaker, takers}, {isBetween, between},
		{beginsPair, " jelly dog cat pet chicken fish baby half "}} {
		for _, w := range strings.Fields(l.words) {
			in[w] |= l.in
		}
	}
	return in
})

// listsOf reports in which lists a word is.
func listsOf(word string) lists {
	return listed()[word]
}

// inList reports whether a word is in a short list.
func inList(list, word string) bool {
	return word != "" && strings.Contains(list, " "+word+" ")
}

func harmless(word string) bool { return listsOf(word)&isHarmless != 0 }

func isKnownWord(word string) bool { return listsOf(word)&isKnown != 0 }

func filler(word string) bool { return listsOf(word)&isFill != 0 }

// ofGroup reports whether a word changes nothing for the foods of a group: a cut
// of meat, the root of a vegetable, the water it is canned in.
func ofGroup(g Group, word string) bool {
	switch g {
	case GroupMeat, GroupGame, GroupPoultry, GroupCured:
		return inList(meatCuts, word) || word == inWater
	case GroupFish:
		return inList(meatCuts, word) || word == "fish" || word == inWater
	case GroupFruit, GroupForaged:
		return inList(fruitWords, word) || word == inWater
	case GroupVegetable, GroupTomato:
		return inList(plantParts, word) || word == inWater
	}
	return false
}
