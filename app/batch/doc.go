// Package batch holds the screens on which batches are recorded, one at a time
// or many at once, and the look at all jars of one batch.
package batch
