// Package tables reads and writes tables and calendars: lists of jars and checks,
// many batches at once, the file of a thermometer, and the dates that a household
// puts into its own calendar.
package tables
