package rules

import "fmt"

// Band turns a measured integer into values of one sign.
type Band struct {
	ID    string // the name of the number in files
	Sign  SignID
	Unit  Text   // a part of a unit that has begun counts as a whole one
	Cold  bool   // the number may lie below zero
	Steps []Step // in rising order; the last has no upper edge
	Cites []Cite
}

// Step is one value of a band and the largest number that still belongs to it.
type Step struct {
	Max   int
	Value Value
}

// noEdge is the Max of the last step.
const noEdge = int(^uint(0) >> 1)

// Bands holds every number that can stand in for a sign, with its edges. An
// edge belongs to the milder side only where the source says "up to".
// Numbers are rounded up before they come here, so that no rounding makes advice
// milder: a jar of 25 hours is 2 days old.
var Bands = []Band{
	{"age_days", SignAge, "days since processing, a begun day counted whole", false, []Step{{1, AgeDay}, {365, AgeYear}, {730, AgeTwo}, {noEdge, AgeOlder}},
		[]Cite{read(&srcReprocess, "within 24 hours"), read(&srcAgePSU, "one year"), read(&srcYearbook, "p. 12: two years")}},
	// 75, 95 and 100 °F are 23.89, 35.00 and 37.78 °C; tenths are cut, not rounded.
	{"warmest_tenths_c", SignHeat, "tenths of a degree Celsius, rounded up", true, []Step{{238, HeatCool}, {350, HeatWarm}, {377, HeatHot}, {noEdge, HeatExtreme}},
		[]Cite{read(&srcHeatUC, "75 °F"), read(&srcStoreMSU, "95 °F"), read(&srcHeatOSU, "100 °F")}},
	{"open_days", SignDays, "days since it was opened, made or thawed, a begun day counted whole", false, []Step{{2, DaysTwo}, {4, DaysFour}, {7, DaysWeek}, {14, DaysTwoWeeks}, {21, DaysThreeWeeks}, {30, DaysMonth}, {60, DaysTwoMonths}, {90, DaysThreeMonths}, {180, DaysSixMonths}, {noEdge, DaysLonger}},
		[]Cite{read(&srcFridgeChart, "1 to 2, 3 to 4 days"), read(&srcFridge, "5 to 7 days"), memory(&srcJamOpen, "2 to 4 weeks"), read(&srcJamOpen, "one month")}},
	{"out_minutes", SignOut, "minutes out of the cold in all, rounded up", false, []Step{{60, OutOne}, {120, OutTwo}, {1440, OutDay}, {noEdge, OutLonger}},
		[]Cite{read(&srcFSIS, "2 hours; 1 hour above 90 °F"), practice("no source says how long acid food may stand; a day is the most that is trusted")}},
	// 90 °F is 32.22 °C.
	{"air_tenths_c", SignAir, "tenths of a degree Celsius, rounded up", true, []Step{{322, AirMild}, {noEdge, AirHot}},
		[]Cite{read(&srcFSIS, "90 °F")}},
}

// BandByID finds a band by the name of its number.
func BandByID(id string) (*Band, bool) {
	for i := range Bands {
		if Bands[i].ID == id {
			return &Bands[i], true
		}
	}
	return nil, false
}

// Values returns the values a number between low and high, both included, can
// stand for. A number whose error straddles an edge stays open between both
// sides. It is an error when high is below low.
func (b *Band) Values(low, high int) ([]Value, error) {
	if high < low {
		return nil, fmt.Errorf("%s: %d to %d: the second number is below the first", b.ID, low, high)
	}
	vs := make([]Value, 0, len(b.Steps))
	floor := -noEdge
	for _, s := range b.Steps {
		if low <= s.Max && high >= floor {
			vs = append(vs, s.Value)
		}
		if s.Max != noEdge {
			floor = s.Max + 1
		}
	}
	return vs, nil
}
