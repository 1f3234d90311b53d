// Package practice makes jars to practice on, and keeps count of how a learner
// does.
//
// An [Item] is a pair of twins: two jars of one product that differ in exactly
// one sign and in their verdict. Items are composed from the rules themselves:
// a rule is chosen, a jar that it fires on is filled up, and one sign is turned.
// Every verdict is the evaluator's; the package holds none of its own. What no
// jar can show together is never composed (see [Shows]).
//
// A [Deck] is the endless row of items of one seed. It is balanced over verdicts
// and products, and the same seed and edition of the rules always give the same
// items, so that a class gets the same set from a link.
//
// A [Ladder] spaces the repetition: every rule climbs a rung when it was judged
// right, and comes back after more items or days. A missed danger falls to the
// foot and comes back at once.
//
// The package imports the standard library and rules only: no clock, no input
// or output. Days are passed in as numbers.
package practice
