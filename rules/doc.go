// Package rules decides what to do with a home-canned jar.
//
// A [Situation] says, for every [Sign], which of its values are still
// possible. Nothing is ever assumed: a sign that nobody has looked at keeps all
// of its values. [Evaluate] turns a situation into an [Outcome]: the lowest and
// the highest [Verdict] that some completion of the situation can still reach,
// and which rules fired. When both are the same the check is settled.
//
// # How a verdict is reached
//
// A support rule is published guidance that lets a jar be kept, or used soon.
// A restriction rule makes the advice stricter. The verdict of a fully known
// jar is the strictest matching restriction, or the best matching support if
// that is stricter, and discard when nothing supports the jar. The order of
// the rules never matters, and adding a restriction can never soften advice.
// Note rules leave the verdict alone; they explain harmless look-alikes.
//
// # Shape
//
// The rules are Go literals, one file per chapter of the guidance, each rule
// with its cites. They are grouped into parts ([Part]), sub-decisions of at
// most ten inputs, so that each can be proved over its whole space. The record
// part also yields [SignBacking] (is there a tested process behind this jar?),
// which is an input of the later parts: a harmless look-alike is harmless only
// with a tested process behind it.
//
// # Promises
//
// The package imports the standard library only: no browser, clock, input,
// output or changing global state. The same situation always gives the same
// outcome. Numbers enter as bands of integers in stated units (band.go).
package rules
