// Package app puts the screens together: which page stands at which address. What
// a screen does stands in the package of its use.
package app
