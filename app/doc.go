// Package app holds the screens: go-app components, one file each. Nothing
// here decides anything about a jar; verdicts, questions and advice come from
// package rules, pictures from app/draw, records from app/record,
// and what they come to from app/pantry, app/walk and app/travel.
package app
