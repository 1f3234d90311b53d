// Package ui holds the shapes of markup that every screen is made of, the frame
// around a page, numbers and dates in words, and what a device offers. It knows
// nothing about jars.
package ui
