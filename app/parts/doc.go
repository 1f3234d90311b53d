// Package parts holds the parts of screens that show jars, foods, verdicts,
// reasons and sources, for all screens alike.
package parts
