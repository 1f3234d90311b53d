// Package tally is the statistics of a sweep: how often seals fail, in which
// group more often than chance explains, and how long they last.
//
// # Promises
//
//   - Every share carries an interval; no share is given without one.
//   - That a group fails more often is said only after correction for all groups
//     that were looked at (Holm 1979). It is an association, not a cause: lids,
//     days and hands go together.
//   - Exact tests are exact: they add up the probabilities of whole tables.
//   - The order of the observations does not matter.
package tally
