// Package app puts the screens together: it says which page is at which address.
// What a screen does is in the package for its use.
package app
