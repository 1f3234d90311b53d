// Package pantry knows how every jar of a household stands today: what is known
// of it from its batch, its places and the last look, what the rules make of
// that, and in which list it belongs. It decides nothing by itself: it puts
// together a [rules.Situation] and asks the rules.
package pantry
