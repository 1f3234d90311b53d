// Package packing chooses which jars travel: an exact optimum over a pantry.
//
// # The problem
//
// A trip has meals, each of one kind of food, with a number of portions. A jar has
// portions of one kind. At a meal, jars are opened and what is on the table is
// eaten: at least the portions that are wanted, and at most as many more as people
// will take as a second helping. Leftovers may come from one jar only, have to be
// kept cold without a break, and are served first, and eaten up before anything
// else is opened, at the next meal of their kind that takes place. At the end,
// something may be left of one jar of each kind, if it is cold and keeps through
// the last day. A meal may be missed, but is never served in part.
//
// The best plan misses the fewest meals; then leaves the least over at the end;
// then opens the most of the jars that must come; then serves the most of what
// should be used first; then weighs least, takes the least space, opens the fewest
// jars, and finally takes the older ones. Weight and space have limits.
//
// # How it is solved
//
// Kinds meet only in weight and space. For each kind the meals are gone through
// from the last to the first. Jars that are equal in size, weight, space, cold
// keeping and duty are a class; how many of a class are opened at which meal
// settles everything but which. Of a class the most wanted jar that may still be
// opened on that day is taken: from the last meal to the first the jars that may
// be opened only become more, and taking the best each time is then as good as
// any other choice (jobs of equal length with last dates are a matroid; E. L.
// Lawler, Combinatorial Optimization, 1976, from memory). What is kept of a
// partial plan is what is still owed to later meals and which jars are gone; of
// equals the one that misses fewest meals stays. The plans of a kind that no
// other beats in outcome, weight and space are then put together with those of
// the other kinds.
//
// Jars of one batch that are alike count as one kind of jar with a number, so the
// work does not grow with the number of jars in a batch.
package packing
