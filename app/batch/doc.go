// Package batch holds the screens on which batches are written down: one at a
// time, many at once, and the look at all of one.
package batch
