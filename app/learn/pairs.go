package learn

import (
	"larderlamp/app/parts"
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// pair is a danger and the harmless look that resembles it most.
type pair struct {
	danger, mate rules.Value // the same where only the food distinguishes them
	tell         prose.Text  // what distinguishes them
}

// foodTells is what distinguishes a look that only some foods are known for
// from the same look on any other food.
const foodTells = "The look is the same; the food tells. It is harmless only on food that is known for it. The jar must also be canned by a tested process, and nothing else may be odd. On any other food we know of no harmless cause."

// pairs lists every value that alone makes a sound jar one to discard, in the
// order of the chapters; a test compares it with the rules. How to tell them
// apart is our wording of the guidance cited below each pair; where a source
// does not say how to look, it is common practice.
var pairs = []pair{
	{rules.OdorOff, rules.OdorNone, "Smell the air above the closed jar, not the jar itself. A sealed jar lets nothing out."},
	{rules.LidBulged, rules.LidDown, "Look across the lid at eye level, or lay a straight edge on it. Over a sealed lid there is a gap in the middle; a bulging one lifts the edge."},
	{rules.LidFlat, rules.LidDown, "A sealed lid curves down like a dish. A flat one has let go, even if it sits tight."},
	{rules.PressGives, rules.PressFirm, "Press the middle with a finger. A sealed lid stays still and silent; a lost seal gives, clicks or springs back."},
	{rules.LiftOff, rules.LiftHolds, "Band off, lift it an inch by the edge of the lid, over a table. A sealed lid carries the jar."},
	{rules.SeepStreak, rules.SeepFirstDay, "When did it come? Residue of the day of canning was washed off then and did not return. A streak that appears later came out of the jar."},
	{rules.SeepWet, rules.SeepFirstDay, "Residue of the day of canning is dry and gone once washed off. Wet means it is leaking now."},
	{rules.RustThrough, rules.RustSpots, "Spots lie flat on sound metal. Pits, flakes and holes go into it."},
	{rules.GlassCracked, rules.GlassSound, "Turn it before a lamp and use your eyes, not your fingers. A crack throws a line of light through the glass."},
	{rules.CloudSettled, rules.CloudSettled, foodTells},
	{rules.CloudHazy, rules.CloudHazy, foodTells},
	{rules.CloudMurky, rules.CloudSettled, "Let it stand. Starch and pulp sink and leave clear liquid above. Murk stays, thick or stringy."},
	{rules.BubblesRising, rules.BubblesStill, "Tilt the jar, let it rest, and watch one bubble. Trapped air stays where it is; gas rises, and more comes."},
	{rules.LevelOwn, rules.LevelOwn, foodTells},
	{rules.LevelHalf, rules.LevelLow, "How much was lost in the canner? Less than half is safe, but eat that jar first. With half or more gone, the food may not have been hot enough."},
	{rules.LevelDropped, rules.LevelLow, "Compare it with the day of canning: a mark, a photo, its siblings. What was lost in the canner stays lost and falls no further. A level that falls later is a leak."},
	{rules.BodyUnset, rules.BodyUnset, foodTells},
	{rules.BodySlimy, rules.BodySoft, "Turn the jar. Soft pieces keep their shape; slime draws strings and mush falls apart."},
	{rules.ColorFaded, rules.ColorFaded, foodTells},
	{rules.ColorPink, rules.ColorPink, foodTells},
	{rules.ColorBlue, rules.ColorBlue, foodTells},
	{rules.ColorBrowned, rules.ColorBrowned, foodTells},
	{rules.ColorDark, rules.ColorDark, foodTells},
	{rules.ColorOdd, rules.ColorTop, "Darkening in the air of the jar ends where the liquid begins. A color that the food should not have keeps to no such line. We know of no harmless cause for it."},
	{rules.MoldSeen, rules.DepositSpecks, "Fuzzy or like cotton: mold. Hard, glassy, scaly: a deposit of the food itself. If you cannot tell, it is mold."},
	{rules.DepositCrystals, rules.DepositCrystals, foodTells},
	{rules.DepositSpecks, rules.DepositSpecks, foodTells},
	{rules.TopFat, rules.TopFat, foodTells},
	{rules.TopFoam, rules.TopFoam, foodTells},
	{rules.TopFilm, rules.TopFat, "A cap of fat or jelly is solid: it stays put when you tilt the cool jar. A film wrinkles, scum slides, foam is full of bubbles."},

	{rules.HeatExtreme, rules.HeatWarm, "The jar does not show it. A thermometer in the place does: over 37 °C food that is not plainly acid can spoil under a flat lid."},
	{rules.FrozenThawed, rules.FrozenHeld, "Test the seal once it has thawed. A seal that held keeps the food safe, if softer; one that broke lets it spoil as it thaws."},
	{rules.WetFlood, rules.WetDry, "A line of mud, silt under the band, a label that floated off. Flood water gets under lids that look tight."},
	{rules.PlaceFire, rules.PlaceDark, "Soot, a smell of smoke, a scorched label. Fumes and heat reach into closed jars."},

	{rules.ReleaseNone, rules.ReleaseIn, "You have to pry a sealed lid off, and air goes in. A lid that comes off in your fingers was not sealed."},
	{rules.ReleaseHiss, rules.ReleaseIn, "Which way did the air go? In: there was a vacuum. Out: there was gas."},
	{rules.ReleaseSpurt, rules.ReleaseIn, "Anything that is pushed out was under pressure. A vacuum pushes nothing out."},
	{rules.SmellOff, rules.SmellUsual, "Keep your face away; what is off reaches you. A good smell proves nothing."},
	{rules.FilmFilm, rules.FilmClean, "Tilt it under the lamp: a film wrinkles, clean liquid only shines."},
	{rules.FilmFoam, rules.FilmClean, "Bubbles that form by themselves, not from pouring."},
	{rules.UnderlidPitted, rules.UnderlidDark, "Hold the lid against the lamp. A stain is flat and the metal whole; pits are deep, and holes let light through."},
	{rules.UnderlidFuzzy, rules.UnderlidDark, "A stain is flat. Anything that stands up is mold."},

	{rules.IllSeen, rules.IllNone, "Only the people who ate from it can tell. Do not wait and see: call for help."},
	{rules.DaysFour, rules.DaysTwo, "Only the date tells. Broth and gravy: 2 days."},
	{rules.DaysWeek, rules.DaysFour, "Only the date tells. Food that is not acid: 4 days."},
	{rules.DaysTwoWeeks, rules.DaysWeek, "Only the date tells. Acid food: 7 days."},
	{rules.DaysThreeWeeks, rules.DaysTwoWeeks, "Only the date tells. Half-sour pickles and fruit syrup: 14 days."},
	{rules.DaysMonth, rules.DaysThreeWeeks, "Only the date tells. Fruit butter and freezer jam: 21 days."},
	{rules.DaysTwoMonths, rules.DaysMonth, "Only the date tells. Jam with its full sugar, and kimchi: 30 days."},
	{rules.DaysThreeMonths, rules.DaysTwoMonths, "Only the date tells. Pickles in vinegar, once opened: 60 days."},
	{rules.DaysSixMonths, rules.DaysThreeMonths, "Only the date tells. Pickled eggs: 90 days."},
	{rules.DaysLonger, rules.DaysSixMonths, "Only the date tells. Fermented pickles, raw sauerkraut and flavored vinegar: 180 days. Nothing keeps longer once it is open."},
	{rules.ChillDay, rules.ChillPaused, "Only a thermometer and a clock can tell. A closed refrigerator stays cold for 4 hours or so with no power. Opened jam, pickles and fruit outlast a day."},
	{rules.ChillWarm, rules.ChillPaused, "Only a thermometer and a clock can tell. A closed refrigerator stays cold for 4 hours or so with no power."},
	{rules.OutDay, rules.OutTwo, "Only the clock tells: 2 hours in all, 1 when it is above 32 °C (90 °F). Opened jam, pickles and fruit outlast a night in a cool room."},
	{rules.OutLonger, rules.OutTwo, "Only the clock tells: 2 hours in all, 1 when it is above 32 °C (90 °F)."},
}

// trait returns the fact that makes a value harmless on some foods.
func trait(v rules.Value) (rules.SignID, bool) {
	for id, shown := range parts.ShownBy {
		if shown == v {
			return id, true
		}
	}
	return 0, false
}
