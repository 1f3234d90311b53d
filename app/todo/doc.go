// Package todo says what a household has to do with its jars on a day.
package todo
