package practice

import (
	"slices"

	"larderlamp/rules"
)

// bar is a combination that no jar can show, although the rules would judge it.
type bar struct {
	why  string
	when rules.When
}

var (
	unsealed  = []rules.When{{{rules.LidFlat, rules.LidBulged}}, {{rules.PressGives}}, {{rules.LiftOff}}}
	unheated  = []rules.Value{rules.MethodSteamLong, rules.MethodCooker, rules.MethodHotFill, rules.MethodOven, rules.MethodNone, rules.MethodUntold}
	noLid     = []rules.Value{rules.ClosureClamp, rules.ClosureWax}
	metal     = []rules.Value{rules.ClosureLid, rules.ClosureUsed, rules.ClosureCap}
	cold      = []rules.Value{rules.OpenedFrozen, rules.OpenedThawed, rules.OpenedChilled, rules.OpenedBottle}
	afterDays = []rules.Value{rules.DaysFour, rules.DaysWeek, rules.DaysTwoWeeks, rules.DaysThreeWeeks, rules.DaysMonth, rules.DaysTwoMonths, rules.DaysThreeMonths, rules.DaysSixMonths, rules.DaysLonger}
)

// makeBars lists them. They limit what is practiced on and affect no verdict.
func makeBars() (bs []bar) {
	add := func(why string, conditions ...[]rules.Value) { bs = append(bs, bar{why, conditions}) }
	for _, u := range unsealed {
		add("a lid that had to be pried off was sealed until then", []rules.Value{rules.ReleaseIn}, u[0])
		add("a seal that held is a seal", []rules.Value{rules.FrozenHeld}, u[0])
	}
	add("only what stood on a shelf was pried open", cold, []rules.Value{rules.ReleaseIn, rules.ReleaseNone, rules.ReleaseHiss, rules.ReleaseSpurt})
	add("a glass lid and wax have no shape", noLid, []rules.Value{rules.LidDown, rules.LidDented, rules.LidFlat, rules.LidBulged})
	add("a glass lid and wax cannot be pressed", noLid, []rules.Value{rules.PressFirm, rules.PressGives})
	add("a cap and wax cannot be lifted by", []rules.Value{rules.ClosureCap, rules.ClosureWax}, []rules.Value{rules.LiftHolds, rules.LiftOff})
	add("metal has a shape", metal, []rules.Value{rules.LidNone})
	add("metal can be pressed", metal, []rules.Value{rules.PressNone})
	add("a flat lid and a glass lid can be lifted by", []rules.Value{rules.ClosureLid, rules.ClosureUsed, rules.ClosureClamp}, []rules.Value{rules.LiftNone})
	add("a seal that broke does not pass every test of a seal", []rules.Value{rules.FrozenCold, rules.FrozenThawed},
		[]rules.Value{rules.LidDown}, []rules.Value{rules.PressFirm}, []rules.Value{rules.LiftHolds})
	add("a seal that broke draws no air in", []rules.Value{rules.FrozenCold, rules.FrozenThawed}, []rules.Value{rules.ReleaseIn})
	add("what is frozen hard neither moves nor was opened", []rules.Value{rules.FrozenCold}, []rules.Value{rules.OpenedNow, rules.OpenedBefore})
	add("what is frozen hard does not bubble", []rules.Value{rules.FrozenCold}, []rules.Value{rules.BubblesRising})
	add("wax has no metal to rust", []rules.Value{rules.ClosureWax}, []rules.Value{rules.RustSpots, rules.RustThrough})
	add("wax has no metal to corrode", []rules.Value{rules.ClosureWax}, []rules.Value{rules.UnderlidDark, rules.UnderlidPitted})

	add("canned within a day, it was not opened days ago", []rules.Value{rules.AgeDay}, afterDays)
	add("canned within a day, it has not been stored", []rules.Value{rules.AgeDay}, []rules.Value{rules.LevelDropped})
	add("nothing rusts through in a day", []rules.Value{rules.AgeDay}, []rules.Value{rules.RustThrough})
	add("nothing is eaten through or overgrown in a day", []rules.Value{rules.AgeDay}, []rules.Value{rules.UnderlidPitted, rules.UnderlidFuzzy})
	add("mold does not grow in a day", []rules.Value{rules.AgeDay}, []rules.Value{rules.MoldSeen})

	add("what is not known, or no book prints, was not as published", unheated, []rules.Value{rules.ProcessMet, rules.ProcessUnvented, rules.ProcessGauge})
	add("only a pressure canner is vented and has a gauge", []rules.Value{rules.MethodBoiling, rules.MethodSteam, rules.MethodPasteur}, []rules.Value{rules.ProcessUnvented, rules.ProcessGauge})
	add("what is not known, or no book prints, did not follow a book", unheated, []rules.Value{rules.StandingPublished})
	add("no process is published for it", []rules.Value{rules.RouteMonths, rules.RouteBottle, rules.RouteNone}, []rules.Value{rules.ProcessMet})
	add("no recipe of a process is published for it", []rules.Value{rules.RouteMonths, rules.RouteBottle, rules.RouteNone}, []rules.Value{rules.StandingPublished, rules.StandingChanged})
	add("followed exactly, nothing was added", []rules.Value{rules.StandingPublished},
		[]rules.Value{rules.ExtrasVegetables, rules.ExtrasThickener, rules.ExtrasStarch, rules.ExtrasDairy, rules.ExtrasMeat, rules.ExtrasOil, rules.ExtrasMashed, rules.ExtrasDry, rules.ExtrasSpent})
	add("no recipe for it adds acid", []rules.Value{rules.ClassAcid, rules.ClassLow}, []rules.Value{rules.AcidShort})
	add("only fruit hangs on vines", []rules.Value{rules.ClassLow}, []rules.Value{rules.ExtrasSpent})
	dry := []rules.Value{rules.ExtrasDry}
	add("without liquid none is cloudy", dry, []rules.Value{rules.CloudSettled, rules.CloudHazy, rules.CloudMurky})
	add("without liquid none is lost", dry, []rules.Value{rules.LevelLow, rules.LevelOwn, rules.LevelHalf, rules.LevelDropped})
	add("without liquid nothing bubbles or floats", dry, []rules.Value{rules.BubblesStill, rules.BubblesRising})
	add("without liquid nothing floats", dry, []rules.Value{rules.TopFloat, rules.TopFoam, rules.TopFilm})
	return
}

// Shows reports whether a jar can show what the situation says. Open signs exclude
// nothing.
func Shows(s *rules.Situation) bool {
	return !slices.ContainsFunc(bars.get(makeBars), func(b bar) bool {
		for _, c := range b.when {
			if !slices.ContainsFunc(c, s.Is) {
				return false
			}
		}
		return true
	})
}
