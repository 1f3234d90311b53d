// Package pantry knows how every jar of a household stands today: what is known
// about it from its batch, its places and the last look, what the rules say
// about that, and in which list it belongs. It decides nothing by itself: it
// builds a [rules.Situation] and asks the rules.
package pantry
