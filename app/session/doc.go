// Package session is a check while it is being made: the answers so far, the
// resulting verdict, and the next question. It needs no browser.
package session
