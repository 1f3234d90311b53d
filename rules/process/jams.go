package process

// What must be said about the jam rows.
const (
	noteLeaflet = "read in a leaflet on strawberry jam whose publisher is not named"
	noteJelly   = "jam without added pectin takes the same times; the table of the jelly itself was not found"
	notePectin  = "general pattern; a few products differ, such as spreads with reduced sugar"
)

// jams: jams, jellies and preserves.
var jams = []Food{
	{"jam-without-added-pectin", "jam without added pectin", "jam", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(5, 10, 15), copiedJams(), noteLeaflet},
	}},
	{"plum-preserves", "plum preserves", "preserves", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(5, 10, 15), recipe("plum preserves"), ""},
	}},
	{"jelly-without-added-pectin", "jelly without added pectin", "jelly", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(5, 10, 15), recalledJams(), noteJelly},
	}},
	{"jam-or-jelly-with-added-pectin", "jam or jelly with added pectin", "general pattern", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(5, 10, 15), michigan("01600895"), notePectin},
	}},
}
