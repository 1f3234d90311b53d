// Package share keeps the shelves of the phones of one household together: it notes
// what has changed here, sends it to an exchange, and puts what comes from there
// together with what is here. It is plain Go; the exchange is reached through
// Exchange, and what is kept through a store and the ledger.
//
// # Promises
//
// Nothing is noted or sent unless sharing is on. What is noted is noted in the same
// transaction as the record itself, so that no change is forgotten however the page
// ends. A record counts as shared only when it has come back out of the exchange's
// log. What comes is put together with what is here by record.Merge: the order in
// which things come, and how often, makes no difference. A fault of the exchange
// changes no record.
package share
