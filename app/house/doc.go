// Package house holds the household while the program runs: the open store, the
// queue of writes, the shelf in memory, what other tabs changed meanwhile, undo,
// the settings, and the page that is shown. Screens use the store only through
// it.
package house
