// Package session is a check while it is made: the answers so far, what they
// come to, and the next question. It needs no browser.
package session
