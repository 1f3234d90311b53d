// Package process says whether a jar was processed as published.
//
// [Was] judges a [Record] of how a jar was heated against the printed tables
// ([Foods]). [Lines] looks up what the tables ask for. The files fruit.go,
// jams.go, tomatoes.go, pickles.go, vegetables.go and meats.go are those
// tables; steam.go is the physics that explains them.
//
// # Promises
//
//   - The published table decides. Physics explains an answer ([Judgment.Heat])
//     and never makes one; no answer rests on a floating-point number.
//   - Nothing is interpolated or carried over: a food, form, pack, method or
//     altitude without a row has no tested process ([ErrNoProcess]). A jar size
//     without a row takes the time of the next larger size that has one, and
//     never that of a smaller one.
//   - Any one published line is enough; lines are never mixed.
//   - A row known only from memory can find a jar short, and can never by
//     itself find it as published: [Agrees] is not [Met].
//   - What is not known is a set or a range, and the answer is the set of all
//     answers still possible. Knowing less never makes that set smaller.
//   - Less time, less pressure, a higher altitude or a dial that reads higher
//     never makes the answer milder.
//   - An altitude at the edge of a band belongs to the lower band; anything
//     above it, be it a fraction of a foot, to the next ([Feet]).
//
// The package imports the standard library only and keeps no state.
package process
