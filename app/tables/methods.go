package tables

import (
	"strings"

	"larderlamp/rules"
)

// methodNames are what people call a way of heating, in English and in Spanish, as
// [plainName] writes it, where it can mean no other one. Missing on purpose: a pressure
// cooker, "olla a presión" and "canner", which may be of several kinds; a steam canner,
// because nobody said for how long; and hot pack, which says how jars were filled.
var methodNames = map[string]rules.Value{
	"water bath": rules.MethodBoiling, "waterbath": rules.MethodBoiling, "boiling water bath": rules.MethodBoiling, "bwb": rules.MethodBoiling,
	"water bath canner": rules.MethodBoiling, "boiling water canner": rules.MethodBoiling, "water bath canned": rules.MethodBoiling,
	"bano maria": rules.MethodBoiling, "bano de maria": rules.MethodBoiling, "al bano maria": rules.MethodBoiling,
	"pressure canner": rules.MethodPressure, "pressure canned": rules.MethodPressure,
	"oven": rules.MethodOven, "horno": rules.MethodOven, "al horno": rules.MethodOven,
	"none": rules.MethodNone, "ninguno": rules.MethodNone, "ninguna": rules.MethodNone,
}

// methodCalled is the way of heating that has just this name.
func methodCalled(text string) (rules.Value, bool) {
	v, ok := methodNames[plainName(text)]
	return v, ok
}

// plainName writes a name without capitals, accents, hyphens and spare spaces.
func plainName(text string) string {
	text = accents.Replace(strings.ToLower(text))
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == '-' || r == '\u00a0' || r == '\t' }), " ")
}

// accents are the letters of Spanish that people write without their marks; the last
// ones are marks that stand behind their letter.
var accents = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n", "\u0301", "", "\u0303", "", "\u0308", "")
