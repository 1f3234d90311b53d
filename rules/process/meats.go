package process

// What the fish procedures need besides time and pressure.
const (
	noteFishQuart = "quarts have their own heating and venting schedule (University of Alaska FNH-00126)"
	noteTuna      = "the answers print the pressures to 2,000 ft; above, they are those of every table for food that is not acid. 90 minutes is the old time"
	noteSmoked    = "no quarts; 4 quarts of cool water in the canner; half-pints take the same time (National Center for Home Food Preservation, Smoked Fish)"
)

// meats: poultry, meat, fish and soups: pressure only.
var meats = []Food{
	{"chicken-or-rabbit", "chicken or rabbit", "without bones", NoAcid, []Row{
		{Hot | Raw, Pint, press(75, standard), text1994Meats(), ""},
		{Hot | Raw, Quart, press(90, standard), text1994Meats(), ""},
	}},
	{"chicken-or-rabbit", "chicken or rabbit", "with bones", NoAcid, []Row{
		{Hot | Raw, Pint, press(65, standardDial), text1994Meats(), ""},
		{Hot | Raw, Quart, press(75, standardDial), text1994Meats(), ""},
		{Hot | Raw, Pint, press(65, standardWeighted), michigan("01600482"), ""},
		{Hot | Raw, Quart, press(75, standardWeighted), michigan("01600482"), ""},
	}},
	{"ground-or-chopped-meat", "ground or chopped meat", "ground or chopped", NoAcid, []Row{
		{Hot, Pint, press(75, standard), michigan("01600473"), ""},
		{Hot, Quart, press(90, standard), michigan("01600473"), ""},
	}},
	{"meat-strips-cubes-or-chunks", "strips, cubes or chunks of meat", "strips, cubes or chunks", NoAcid, []Row{
		{Hot | Raw, Pint, press(75, standard), michigan("01600849"), ""},
		{Hot | Raw, Quart, press(90, standard), michigan("01600849"), ""},
	}},
	{"meat-stock-broth", "meat stock", "broth", NoAcid, []Row{
		{Hot, Pint, press(20, standard), michigan("01600478"), ""},
		{Hot, Quart, press(25, standard), michigan("01600478"), ""},
	}},
	{"chile-con-carne", "chile con carne", "with beans", NoAcid, []Row{
		{Hot, Pint, press(75, standard), text1994Meats(), ""},
	}},
	{"fish-not-tuna", "fish other than tuna", "pieces", NoAcid, []Row{
		{Raw, Pint, press(100, standard), michigan("01600574"), ""},
		{Raw, Quart, press(160, standard), recalledMeats(), noteFishQuart},
	}},
	{"smoked-fish", "smoked fish", "pieces", NoAcid, []Row{
		{Raw, Pint, press(110, standardDial), recalledMeats(), noteSmoked},
		{Raw, Pint, press(110, standardWeighted), maker("p. 35"), noteSmoked},
	}},
	{"meat-vegetable-soup", "meat-vegetable soup", "soup without seafood", NoAcid, []Row{
		{Hot, Pint, press(60, standard), michigan("01600886"), ""},
		{Hot, Quart, press(75, standard), michigan("01600886"), ""},
	}},
	{"soup-with-seafood", "soup with seafood", "soup containing seafood", NoAcid, []Row{
		{Hot, Pint | Quart, press(100, standard), michigan("01600886"), ""},
	}},
	{"clams", "clams", "whole or minced", NoAcid, []Row{
		{Hot, HalfPint, press(60, standard), michigan("01600851"), ""},
		{Hot, Pint, press(70, standard), michigan("01600851"), ""},
	}},
	{"king-and-dungeness-crab", "king and Dungeness crab", "meat", RecipeCrab, []Row{
		{Hot, HalfPint, press(70, standard), michigan("01600852"), ""},
		{Hot, Pint, press(80, standard), michigan("01600852"), ""},
	}},
	{"oysters", "oysters", "meat", NoAcid, []Row{
		{Hot, HalfPint | Pint, press(75, standard), michigan("01600853"), ""},
	}},
	{"tuna", "tuna", "pieces", NoAcid, []Row{
		{Hot | Raw, HalfPint | Pint, press(100, standard), tuna, noteTuna},
	}},
}
