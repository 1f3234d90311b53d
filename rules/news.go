package rules

// News tells what is new in this edition of the guide, for those who have the
// one before: a line for each change of advice or of use.
var News = []string{
	"Trips: which jars travel, what is opened when, what stays home, and what the trip did to those that come back.",
	"No rule has changed.",
}
