// Package travel works out a trip: how warm it gets around the jars and in the
// cooler (weather.go), which jars may go and until when (planner.go), which of
// them cover the meals (meals.go), and what is recorded when the box is packed
// and when it comes home (packed.go).
package travel
