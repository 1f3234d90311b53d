// Package shelf holds the screens of what there is: the first page, the shelf, a
// jar, the places and the stock.
package shelf
