// Package share keeps the shelves of the phones of one household in sync: it
// records what has changed here, sends it to an exchange, and merges what comes
// from there with what is here. It is plain Go; the exchange is reached through
// Exchange, and records are stored through a store and the ledger.
//
// # Promises
//
// Nothing is recorded for sharing or sent unless sharing is on. A change is
// recorded in the same transaction as the record itself, so that no change is
// forgotten however the page ends. A record counts as shared only when it has come
// back from the exchange's log. Incoming versions are merged with record.Merge: the
// order in which they come, and how often, makes no difference. A fault of the
// exchange changes no record.
package share
