// Package check holds the screens of a check: finding the food, the questions,
// the answer, and the checks of earlier days.
package check
