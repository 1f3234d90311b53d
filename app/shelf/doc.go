// Package shelf holds the screens for what a household has: the first page, the
// shelf, a jar, the places and the stock.
package shelf
