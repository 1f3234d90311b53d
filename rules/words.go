package rules

import (
	"cmp"
	"strings"
	"unicode"
	"unicode/utf8"

	"larderlamp/rules/prose"
)

// said is a word of a query or of a name, or a phrase that counts as one.
type said struct {
	text  string // plain, lower case, without its plural ending
	full  string // with it
	typed string
	at    int // place among the words typed
	span  int // how many of them it is
	kind  wordKind
	in    lists
	acid  bool // of an absent one: what is lacking is acid
	aside bool // it is in brackets
	added bool // it comes after a "with"
}

// wordKind is what a word does for the search.
type wordKind uint8

const (
	plainWord wordKind = iota
	fillWord           // changes nothing: a size, a year, whose recipe it is
	absent             // what is said not to be in it
	idleWord           // "of", "the"
	noFood             // nothing that is eaten: there is nothing to find
)

// Word lists, each word without its plural ending.
const (
	idleWords = " a an and n the of in or with w plus on for to at by from into as our my your his her their its i we it is was are some any this that these those" +
		" but so be me you he she they im ive thing stuff "

	// fillWords say whose it is, when it was made, how much there is and how it
	// was heated. The last is asked about later.
	fillWords = " home homemade house can canned canning canner jar jarred bottle bottled tin tinned put up putup made make making make" +
		" recipe batch style type kind sort think maybe probably guess like called old new fresh freshly young big small large little medium huge tiny mini jumbo giant" +
		" good great best better nice favorite favourite delicious yummy tasty famous classic traditional fashioned basic regular ordinary normal simple easy plain straight just only usual" +
		" mom mum mother dad father grandma granny gran nana nanna grandpa grandmother grandfather aunt auntie uncle cousin sister brother neighbor neighbour friend friends church lady family wife husband" +
		" garden backyard farm farmer market store cellar basement pantry shelf cupboard kitchen shed attic homegrown organic local heirloom" +
		" summer fall autumn winter spring harvest season year last early late january february april june july august september october november december jan feb mar apr may jun jul aug sep sept oct nov dec" +
		" monday tuesday wednesday thursday friday saturday sunday christmas thanksgiving easter holiday leftover leftovers" +
		" pint pt quart qt gallon gal litre liter l ml oz ounce lb pound kg gram g cup dozen half halfpint pts qts lbs ozs gals" +
		" one two three four five six seven eight nine ten eleven twelve fourteen" +
		" pressure waterbath bath bwb pc processed process unprocessed sealed unlabeled unlabelled labeled labelled mystery unknown opened unopened" +
		" used also then still already there here what which who when left found got gave given gift bought really very quite too much pretty about ripe "

	// harmlessWords say how the food was cut. No cut of these is a mash.
	harmlessWords = " slice sliced half halved halve quarter quartered whole piece chunk chunky cube cubed dice diced chop chopped cut wedge stick strip coin spear" +
		" peel peeled skinned skinless boned boneless deboned pitted unpitted stoned seeded seedless stemmed trimmed baby washed cooked ready segment section "

	meatCuts   = " meat flesh fillet filet steak roast chop loin tenderloin breast thigh leg shoulder cutlet neck rump chuck round sirloin backstrap haunch stewing skin tender "
	fruitWords = " fruit berry flesh "
	plantParts = " root leaf stalk kernel floret cob ear bulb clove pod stem spear tip head "

	// weakWords do not say by themselves which food it is.
	weakWords = " red green yellow white black blue purple pink golden gold brown dark light hot sweet sour spicy mild wild dry dried fresh mixed mix spiced plain pickled smoked roasted roast" +
		" fried fermented mashed creamed creamy stuffed candied glazed salted salt cured cure marinated pureed ground minced mince stewed baked boiled grilled sun freeze frozen freezer" +
		" refrigerator fridge cold low reduced sugar free no bread water oil olive vinegar honey sauce soup jam jelly jellied butter pie filling juice syrup salad dip relish salsa chutney stew" +
		" stock broth pudding spread paste curry marmalade preserve conserve drink cordial puree meal casserole cocktail milk cream style sweetened rind raw leaf flower blossom candy food thick thickened" +
		" fat english french italian irish mexican asian chinese japanese southern american polish german indian sea big "

	// headWords say what was made, not of what: they find a name that says no
	// more than they do, as "stew" does.
	headWords = " sauce soup jam jelly butter juice syrup salad dip relish salsa chutney stew stock broth pudding spread curry marmalade conserve cordial puree casserole cocktail milk cream bread pie gravy "

	// knownWords are foods and dishes that the catalog has no word for, and
	// words that look like one of its words. They are never taken for a
	// misspelled one.
	knownWords = " date prune raisin sultana craisin kiwi kumquat lychee litchi guava passion dragon star fruit starfruit jackfruit durian feijoa medlar loquat acai goji acerola tamarind plantain yuzu pomelo" +
		" leek radish fennel chayote jicama cassava yuca taro lotus bamboo endive chicory radicchio cress watercress cardoon daikon celtuce tomatillo arrowroot seaweed kelp nori sprout shoot" +
		" kudzu clover nasturtium caper juniper hop hemp sage dillweed thyme oregano marjoram tarragon cilantro coriander cumin curcuma turmeric clove allspice nutmeg mace anise vanilla saffron cardamom fenugreek" +
		" oat wheat rye millet bulgur couscous farro polenta grit masa tortilla taco burrito enchilada tamale empanada pierogi perogy gnocchi dough biscuit cracker cookie brownie muffin waffle pancake donut pizza" +
		" cola soda beer wine mead rum gin vodka whiskey whisky bourbon brandy tequila moonshine liqueur schnapps kirsch port sherry ale stout cider shrub tea coffee cocoa lemonade punch smoothie eggnog kvass kombucha kefir tepache" +
		" mayo aioli ranch alfredo teriyaki soy miso tahini wasabi mole adobo enchilada hoisin sriracha worcestershire harissa pesto hummus falafel guacamole ganache caramel toffee fudge fondant marshmallow" +
		" starch cornstarch flour gelatin pectin agar clear yeast lye ash alum lard tallow suet margarine shortening oil ghee cream cheese" +
		" cat dog hog sow boar deer elk antelope gator alligator turtle frog snail eel shark ray skate sole carp perch bream snapper grouper tilapia pollock haddock anchovy dove crow dill" +
		" cake tart crisp crumble cobbler crumb pie roll wrap patty hash loaf ball dumpling stuffing dressing glaze rub cob ear ale nog sap nut seed pod pit pip husk rind zest peel" +
		" tea leather jerky chip fry rind cracklin chitlin hock jowl brain lung spleen marrow gizzard giblet tripe tongue tail trotter foot feet skin bone fat grease dripping" +
		" mat cheer bear fair hair chair care rare rate plate plant plan mint met neat heat seat gate lamp limb lime line lane pine vine fine dine mine wine" +
		" bowl cook book look soap soup loop stoop chicken hen cock rooster goat ram ewe ox bull cow calf pony pie dish fork spoon knife cup hand foot stand brand grand sand land" +
		" chia rum cashew pistachio macadamia hazel brazil pine acorn beech cattail reed rush lily tulip daisy iris violet pansy borage chamomile hyssop sorrel dock plantain burdock" +
		" grits greasy leather pasty video prepper spelt amaranth teff sorghum molasses treacle agave stevia saccharin xylitol heavy half part parts extra more less double added add thick thin weak strong smoky chunky chipotle habanero serrano ancho poblano anaheim cayenne paprika "

	noFoodWords = " soap soil candle paint detergent bleach shampoo lotion motor gasoline petrol fuel diesel kerosene fertilizer fertiliser mulch potting lid nail screw marble pill medicine" +
		" vitamin toy battery yarn thread sock shoe dirt glue perfume cologne varnish antifreeze jellybean crayon chalk "
)

// Names of foods for pets, and a candy, that would else be found by their words.
var noFoodPairs = []string{"jelly bean", "dog food", "cat food", "pet food", "dog treat", "cat treat", "dog chow", "cat litter", "chicken feed", "fish food"}

// Words for the same thing, and forms of one word that are not plurals.
var sameWordGroups = []string{
	"chile chili chilli", "vegetable veggie veggy veg", "potato tater spud", "tomato mater tomater", "barbecue bbq barbeque barbq", "stock broth", "minced ground mince", "aubergine eggplant", "courgette zucchini zuke",
	"beetroot beet", "prawn shrimp", "puree pureed mashed mash", "pickle pickled", "cream creamed creamy", "smoke smoked", "dry dried dehydrated", "spice spiced spicy", "dill dilled dilly", "ferment fermented lactofermented",
	"pumpkin punkin", "mushroom shroom", "salt salted", "candied candy", "ketchup catsup", "marinated marinade", "yogurt yoghurt", "omelet omelette", "chickpea garbanzo", "cuke cucumber", "strawberry strawb", "raspberry razzberry",
	"noodle noodly", "sundried sun", "jalapeno jalapenos jalap", "roast roasted", "bologna bolognese", "sweetcorn corn", "capsicum pepper", "chicken chix chkn", "rutabaga swede", "apple apples",
}

// inWater is what stands for "in water": it changes nothing but for pickles.
const inWater = "in water"

// sameWords returns the other words for a word.
func sameWords(word string) (same []string) {
	for _, group := range sameWordGroups {
		if strings.Contains(group, word) && inList(" "+group+" ", word) {
			for _, other := range strings.Fields(group) {
				if other != word {
					same = append(same, other)
				}
			}
		}
	}
	return
}

// Words around what is not in the food.
const (
	acidWords = " vinegar lemon lime citric acid acidity acidified ascorbic "
	// takers say, before the name of an acid, that there is not enough of it.
	takers = " no not without wo minus zero sans less half halved low lower little reduced reduce reducing weak diluted dilute watered skip skipped skipping forgot forgotten" +
		" missing omit omitted omitting never instead cut quarter third short hold lack lacks lacking replaced substitute substituted "
	// takenAfter say the same behind it.
	takenAfter = " free less omitted skipped missing forgotten diluted halved reduced replaced substituted "
	between    = " the a an of any all its my our amount called for recipe strength enough much as added down out on bottled white cider apple distilled juice extra percent to in with was were is got left some powder "
	oils       = " olive vegetable canola sunflower cooking salad "
	lackers    = " no without wo minus zero sans "
)

// splitWords cuts a text into its words and says what each does.
func splitWords(text string, spoken *Spoken) []said {
	raw := tokens(text)
	for i := range raw {
		raw[i].text = spoken.english(raw[i].text)
	}
	words := make([]said, 0, len(raw))
	added := false
	for i := 0; i < len(raw); {
		w := raw[i]
		w.span, w.added = 1, added
		added = added || w.text == "with" || w.text == "w" || w.text == "plus"
		if n := acidTaken(raw, i); n > 0 {
			w.kind, w.acid, w.span = absent, true, n
		} else if n := countLacking(raw, i); n > 0 {
			w.kind, w.span = absent, n
			w.text = singular(raw[i+n-1].text)
			if raw[i+n-1].text == "free" {
				w.text = singular(raw[i].text)
			}
		} else if n := packing(raw, i); n > 0 {
			if w.kind, w.span = fillWord, n; raw[i+n-1].text == "water" && w.text == "in" {
				w.kind, w.text = plainWord, inWater
			}
		} else if i+1 < len(raw) && inList(oils, w.text) && raw[i+1].text == "oil" {
			w.text, w.span = "oil", 2 // it keeps the air out, whatever it is pressed from
		} else {
			w.kind, w.text = kindOf(raw, i)
		}
		if w.span > 1 {
			first, last := raw[i], raw[i+w.span-1]
			w.typed = text[first.at : last.at+len(last.typed)]
		}
		w.at = i
		i += w.span
		words = append(words, w)
	}
	return words
}

// english returns the English word for one that the other language has to say, and any
// other word as it is.
func (s *Spoken) english(word string) string {
	return cmp.Or(s.Words[word], s.Words[singular(word)], word)
}

// kindOf returns the kind of a word that is no part of a phrase, and the word
// without its plural ending.
func kindOf(raw []said, i int) (wordKind, string) {
	w := singular(raw[i].text)
	in := listsOf(w)
	pair := ""
	if in&beginsPair != 0 && i+1 < len(raw) {
		pair = w + " " + singular(raw[i+1].text)
		for _, p := range noFoodPairs {
			if p == pair {
				return noFood, w
			}
		}
	}
	digit := isNumber(w)
	switch {
	case len(raw) == 1 && len(w) == 1:
		return plainWord, w
	case in&isNoFood != 0:
		return noFood, w
	case listsOf(raw[i].text)&isIdle != 0 || len(w) == 1 && w[0] < utf8.RuneSelf && !digit:
		return idleWord, w
	case digit:
		return fillWord, w
	case w == "stew" && i+1 < len(raw) && raw[i+1].text == "meat":
		return fillWord, w
	case w == "half" && (i+2 < len(raw) && raw[i+2].text == "half" || i > 1 && raw[i-2].text == "half"), pair == "baby food" || pair == "half sour" || pair == "half runner":
		return plainWord, w
	case (in|listsOf(raw[i].text))&isFill != 0 || in&isHarmless != 0:
		return fillWord, w
	}
	return plainWord, w
}

// acidTaken returns the number of words from i that say that acid is wanting:
// "no vinegar", "half the vinegar", "lemon juice left out".
func acidTaken(raw []said, i int) int {
	const far = 5
	acid := func(k int) bool { return listsOf(singular(raw[k].text))&isAcid != 0 }
	switch w := raw[i].text; {
	case w == "unacidified" || w == "vinegarless" || w == "acidless" || w == "unvinegared":
		return 1
	case listsOf(w)&isTaker != 0:
		for k := i + 1; k < len(raw) && k <= i+far; k++ {
			if acid(k) {
				if w == "half" && raw[k].text != "vinegar" && (k+1 == len(raw) || raw[k+1].text != "juice") {
					return 0 // half lemon, half lime
				}
				for k+1 < len(raw) && (acid(k+1) || raw[k+1].text == "juice") {
					k++
				}
				return k + 1 - i
			}
			if listsOf(raw[k].text)&isBetween == 0 && !isNumber(raw[k].text) {
				return 0
			}
		}
	case acid(i):
		for k := i + 1; k < len(raw) && k <= i+far; k++ {
			if inList(takenAfter, raw[k].text) || raw[k].text == "out" && raw[k-1].text == "left" {
				return k + 1 - i
			}
			if listsOf(raw[k].text)&isBetween == 0 {
				return 0
			}
		}
	}
	return 0
}

// countLacking returns the number of words from i that say that something else is not
// in it: "no noodles", "sugar free".
func countLacking(raw []said, i int) int {
	w := raw[i].text
	next := func(k int) string {
		if k < len(raw) {
			return raw[k].text
		}
		return ""
	}
	switch {
	case next(i+1) == "free" && next(i+2) != "range" && listsOf(w)&isIdle == 0:
		return 2
	case w == "instead" && next(i+1) == "of" && next(i+2) != "":
		return 3
	case inList(lackers, w) || w == "or" && i > 0 && saysAbsent(raw, i):
		for k := i + 1; k < len(raw); k++ {
			if !inList(" the a an any added extra ", raw[k].text) {
				return k + 1 - i
			}
		}
	}
	return 0
}

// saysAbsent reports whether the "or" at i goes on with what is not in it.
func saysAbsent(raw []said, i int) bool {
	return i >= 2 && inList(lackers, raw[i-2].text)
}

// packing returns the number of words from i that only say what the food was
// packed in or how: "raw pack", "in light syrup".
func packing(raw []said, i int) int {
	next := func(k int) string {
		if k < len(raw) {
			return raw[k].text
		}
		return ""
	}
	switch w := raw[i].text; {
	case inList(" raw hot cold ", w) && inList(" pack packed packing ", next(i+1)):
		return 2
	case w == "rawpack" || w == "hotpack" || w == "pack" || w == "packed":
		return 1
	case w == "free" && next(i+1) == "range", w == "boiling" && next(i+1) == "water", w == "water" && inList(" bath bathed ", next(i+1)),
		w == "raw" && inList(" pack packed ", next(i+1)), w == "old" && next(i+1) == "fashioned":
		return 2
	case inList(" light heavy medium thin ", w) && next(i+1) == "syrup":
		return 2
	case w == "extra" && inList(" light heavy large ", next(i+1)):
		if next(i+2) == "syrup" {
			return 3
		}
		return 2
	case w == "in":
		k := i + 1
		for inList(" light heavy medium thin very extra sugar simple own its their the natural ", next(k)) {
			k++
		}
		if last := next(k); inList(" syrup juice juices water ", last) || editDistance(last, "syrup", 1) > 0 {
			return k + 1 - i
		}
	}
	return 0
}

func isNumber(text string) bool { return text != "" && text[0] >= '0' && text[0] <= '9' }

// Holds reports whether every word of what is typed stands in some texts, in a language
// or in English, whatever its accents.
func Holds(typed string, in prose.Language, texts ...Text) bool {
	return Seek(in, texts...).Holds(typed)
}

// Sought are texts made ready to be searched again and again.
type Sought struct{ plain string }

// Seek makes texts ready, in a language and in English.
func Seek(in prose.Language, texts ...Text) Sought {
	all := prose.List(texts, " ")
	return Sought{plainText(all.In(in) + " " + all.String())}
}

// Holds reports whether every word of what is typed stands in the texts, whatever its
// accents.
func (s Sought) Holds(typed string) bool {
	for word := range strings.FieldsSeq(plainText(typed)) {
		if !strings.Contains(s.plain, word) {
			return false
		}
	}
	return true
}

// plainRune is a letter in lower case and without its accent.
func plainRune(r rune) rune {
	r = unicode.ToLower(r)
	if r >= utf8.RuneSelf {
		if i := strings.IndexRune(accented, r); i >= 0 {
			r = rune(unaccented[i/2])
		}
	}
	return r
}

// plainText is a text in lower case and without accents.
func plainText(text string) string {
	return strings.Map(plainRune, text)
}

// tokens cuts a text into lower-case words without accents; at is the place of
// each in the text.
func tokens(text string) (raw []said) {
	var plain strings.Builder
	start, brackets := -1, 0
	end := func(at int) {
		switch n := len(raw) - 1; {
		case start < 0 || plain.Len() == 0:
		case plain.String() == "o" && n >= 0 && raw[n].text == "w" && raw[n].at == start-2: // w/o
			raw[n].text, raw[n].typed = "wo", text[start-2:at]
		default:
			raw = append(raw, said{text: plain.String(), full: plain.String(), typed: text[start:at], at: start, aside: brackets > 0})
		}
		plain.Reset()
		start = -1
	}
	for at, r := range text {
		switch {
		case r == '(':
			end(at)
			brackets++
			continue
		case r == ')':
			end(at)
			brackets--
			continue
		case (r == '\'' || r == '’') && start >= 0:
			continue
		}
		r = plainRune(r)
		if r == utf8.RuneError || !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			end(at)
			continue
		}
		if start < 0 {
			start = at
		}
		plain.WriteRune(r)
	}
	end(len(text))
	return
}
