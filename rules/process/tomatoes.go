package process

// What copies of the tomato tables disagree about.
const (
	noteCrushed     = "read in a poorly reworded copy, all of whose times agree with the Guide as remembered"
	noteJuice       = "the juice blend takes the same time; no copy of the table for juice was found that shows this line"
	noteSauce15     = "one reprint misprints this line as 10 minutes; the stricter 15 stands, as another prints it"
	noteMango       = "15 minutes from 1,001 to 6,000 ft were also read in a reprint; the page of the National Center was cut off"
	notePintsOnly   = "the copy prints this line for pints only; the Guide gives it for pints or quarts"
	notePintsQuarts = "the copy prints one pressure line for pints and the next for quarts; the Guide gives every line for pints or quarts"
	noteInWater15   = notePintsQuarts + "; a copy of the 1994 text misprints 20 minutes at 6 pounds"
	noteTomatillos  = "boiled for 5 to 10 minutes, then canned hot as whole tomatoes in water, with the acid of tomatoes (p. 3-13)"
	notePints40     = "misprinted in one copy as pints 40 and quarts 25 minutes; both lines are for pints or quarts (University of Florida IFAS Extension HE178)"
)

// tomatoes: tomatoes, tomato products and salsas.
var tomatoes = []Food{
	{"tomatoes-crushed", "crushed tomatoes", "no added liquid", TomatoDose, []Row{
		{Hot, Pint, boil4(35, 40, 45, 50), laterTomatoes(), noteCrushed},
		{Hot, Quart, boil4(45, 50, 55, 60), laterTomatoes(), noteCrushed},
		{Hot, Pint | Quart, press(20, mildDial), text1994Tomatoes(), notePintsOnly},
		{Hot, Pint | Quart, press(20, mildWeighted), maker("p. 27"), ""},
		{Hot, Pint | Quart, press(15, standardDial), recalledTomatoes(), ""},
		{Hot, Pint | Quart, press(15, standardWeighted), maker("p. 27"), ""},
		{Hot, Pint | Quart, press(10, fifteen), maker("p. 27"), ""},
	}},
	{"tomatoes-whole-or-halved", "whole or halved tomatoes", "packed in water", TomatoDose, []Row{
		{Hot | Raw, Pint, boil4(40, 45, 50, 55), laterTomatoes(), ""},
		{Hot | Raw, Quart, boil4(45, 50, 55, 60), laterTomatoes(), ""},
		{Hot | Raw, Pint | Quart, press(15, mild), laterTomatoes(), noteInWater15},
		{Hot | Raw, Pint | Quart, press(10, standard), laterTomatoes(), notePintsQuarts},
		{Hot | Raw, Pint | Quart, press(1, fifteen), laterTomatoes(), notePintsQuarts},
	}},
	{"tomatoes-whole-or-halved", "whole or halved tomatoes", "packed in tomato juice", TomatoDose, []Row{
		{Hot | Raw, Pint | Quart, boil4(85, 90, 95, 100), michigan("01600828"), ""},
		{Hot | Raw, Pint | Quart, press(40, mild), michigan("01600828"), notePints40},
		{Hot | Raw, Pint | Quart, press(25, standard), michigan("01600828"), notePints40},
		{Hot | Raw, Pint | Quart, press(15, fifteen), michigan("01600828"), ""},
	}},
	{"tomatoes-whole-or-halved", "whole or halved tomatoes", "raw, no added liquid", TomatoDose, []Row{
		{Raw, Pint | Quart, boil4(85, 90, 95, 100), noLiquid, ""},
		{Raw, Pint | Quart, press(40, mild), noLiquid, notePints40},
		{Raw, Pint | Quart, press(25, standard), noLiquid, notePints40},
		{Raw, Pint | Quart, press(15, fifteen), noLiquid, ""},
	}},
	{"tomatillos", "tomatillos", "whole, packed in water", TomatoDose, []Row{
		{Hot, Pint, boil4(40, 45, 50, 55), laterTomatoes(), noteTomatillos},
		{Hot, Quart, boil4(45, 50, 55, 60), laterTomatoes(), noteTomatillos},
		{Hot, Pint | Quart, press(15, mild), laterTomatoes(), noteTomatillos},
		{Hot, Pint | Quart, press(10, standard), laterTomatoes(), noteTomatillos},
		{Hot, Pint | Quart, press(1, fifteen), laterTomatoes(), noteTomatillos},
	}},
	{"tomato-juice", "tomato juice", "juice", TomatoDose, []Row{
		{Hot, Pint, boil4(35, 40, 45, 50), laterTomatoes(), ""},
		{Hot, Quart, boil4(40, 45, 50, 55), laterTomatoes(), ""},
		{Hot, Pint | Quart, press(20, mildDial), laterTomatoes(), notePintsQuarts},
		{Hot, Pint | Quart, press(15, standardDial), laterTomatoes(), notePintsQuarts},
		{Hot, Pint | Quart, press(20, mildWeighted), wisconsin, notePintsQuarts},
		{Hot, Pint | Quart, press(15, standardWeighted), wisconsin, notePintsQuarts},
		{Hot, Pint | Quart, press(10, fifteen), recalledTomatoes(), noteJuice},
	}},
	{"tomato-vegetable-juice-blend", "tomato-vegetable juice blend", "juice", TomatoDose, []Row{
		{Hot, Pint, boil4(35, 40, 45, 50), laterTomatoes(), ""},
		{Hot, Quart, boil4(40, 45, 50, 55), laterTomatoes(), ""},
		{Hot, Pint | Quart, press(20, mild), laterTomatoes(), notePintsQuarts},
		{Hot, Pint | Quart, press(15, standard), laterTomatoes(), notePintsQuarts},
		{Hot, Pint | Quart, press(10, fifteen), laterTomatoes(), notePintsQuarts},
	}},
	{"tomato-sauce", "standard tomato sauce", "standard sauce", TomatoDose, []Row{
		{Hot, Pint, boil4(35, 40, 45, 50), laterTomatoes(), ""},
		{Hot, Quart, boil4(40, 45, 50, 55), laterTomatoes(), ""},
		{Hot, Pint | Quart, press(20, mildWeighted), center, ""},
		{Hot, Pint | Quart, press(15, standardWeighted), center, ""},
		{Hot, Pint | Quart, press(10, fifteen), center, ""},
		{Hot, Pint | Quart, press(20, mildDial), text1994Tomatoes(), notePintsOnly},
		{Hot, Pint | Quart, press(15, standardDial), laterTomatoes(), noteSauce15},
	}},
	{"spaghetti-sauce", "spaghetti sauce", "without meat", NoAcid, []Row{
		{Hot, Pint, press(20, standard), michigan("01600877"), ""},
		{Hot, Quart, press(25, standard), michigan("01600877"), ""},
	}},
	{"spaghetti-sauce", "spaghetti sauce", "with meat", NoAcid, []Row{
		{Hot, Pint, press(60, standard), michigan("01600878"), ""},
		{Hot, Quart, press(70, standard), michigan("01600878"), ""},
	}},
	{"mexican-tomato-sauce", "Mexican tomato sauce", "sauce", NoAcid, []Row{
		{Hot, Pint, press(20, standard), michigan("01600879"), ""},
		{Hot, Quart, press(25, standard), michigan("01600879"), ""},
	}},
	{"tomatoes-with-okra-or-zucchini", "tomatoes with okra or zucchini", "mixed", NoAcid, []Row{
		{Hot, Pint, press(30, standard), michigan("01600876"), ""},
		{Hot, Quart, press(35, standard), michigan("01600876"), ""},
	}},
	{"tomato-ketchup", "tomato ketchup", "ketchup", RecipeKetchup, []Row{
		{Hot, Pint, boil3(15, 20, 25), michigan("01600827"), ""},
	}},
	{"chile-salsa", "chile salsa", "hot tomato-pepper sauce", RecipeSalsa, []Row{
		{Hot, Pint, boil3(15, 20, 25), oklahoma, ""},
	}},
	{"tomatillo-green-salsa", "tomatillo green salsa", "salsa", RecipeSalsa, []Row{
		{Hot, Pint, boil3(15, 20, 25), maker("p. 15, citing p. 3-22"), ""},
	}},
	{"tomato-salsa-using-paste-tomatoes", "tomato salsa using paste tomatoes", "salsa", RecipeSalsa, []Row{
		{Hot, Pint, boil3(15, 20, 25), recalledTomatoes(), ""},
	}},
	{"tomato-salsa-using-slicing-tomatoes", "tomato salsa using slicing tomatoes", "salsa", RecipeSalsa, []Row{
		{Hot, Pint, boil3(15, 20, 25), recalledTomatoes(), ""},
	}},
	{"tomato-green-chile-salsa", "tomato and green chile salsa", "salsa", RecipeSalsa, []Row{
		{Hot, Pint, boil3(15, 20, 25), recalledTomatoes(), ""},
	}},
	{"chile-salsa-ii", "chile salsa II", "salsa", RecipeSalsa, []Row{
		{Hot, Pint, boil3(15, 20, 25), recalledTomatoes(), ""},
	}},
	{"tomato-tomato-paste-salsa", "tomato and tomato paste salsa", "salsa", RecipeSalsa, []Row{
		{Hot, Pint, boil3(15, 20, 25), laterTomatoes(), ""},
	}},
	{"tomato-taco-sauce", "tomato taco sauce", "salsa", RecipeSalsa, []Row{
		{Hot, Pint, boil3(15, 20, 25), recalledTomatoes(), ""},
	}},
	{"mango-salsa", "mango salsa", "salsa", RecipeSalsa, []Row{
		{Hot, HalfPint, boil3(10, 15, 20), recalledFruit(), noteMango},
	}},
	{"peach-apple-salsa", "peach apple salsa", "salsa", RecipeSalsa, []Row{
		{Hot, Pint, boil3(15, 20, 25), recalledFruit(), ""},
	}},
	{"spicy-cranberry-salsa", "spicy cranberry salsa", "salsa", RecipeSalsa, []Row{
		{Hot, HalfPint | Pint, boil3(10, 15, 20), cranberry, ""},
	}},
}
