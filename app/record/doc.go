// Package record holds the records of a household: what was looked at and said
// of its jars, and its settings. It validates them, writes them as JSON, and
// merges two versions of one record.
//
// # Promises
//
// A record that is read back is valid, or reading it fails with an error that
// names the record and the field. The same record always gives the same bytes.
// Merging is idempotent, commutative and associative, so that the records of two
// devices can be put together in any order, and nothing that was deleted comes
// back by it.
package record
