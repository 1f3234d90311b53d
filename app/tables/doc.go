// Package tables is what goes in and out as a table or a calendar: lists of jars
// and checks, many batches at once, the file of a thermometer, and the dates that
// a household puts into its own calendar.
package tables
