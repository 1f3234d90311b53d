// Package ledger is what the household keeps while the program runs: the open
// store, the queue of writes and those that failed, the shelf in memory, what other
// tabs have changed, undo, and the settings. It is plain Go and tested natively; what
// it has to say to the page that is shown goes through Page.
package ledger
