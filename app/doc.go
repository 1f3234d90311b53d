// Package app holds the screens: go-app components, one file each. Nothing
// here decides anything about a jar; verdicts, questions and advice come from
// package rules, pictures from app/draw, records from app/pantry and
// app/store.
package app
