// Package trip holds the screens of a trip: planning, packing, coming home.
package trip
