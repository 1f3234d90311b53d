package process

// What copies of the fruit tables disagree about.
const (
	noteUtahBerries = "the Utah table prints 40 minutes for hot quarts above 8,000 ft, likely a misprint for 30; the stricter figure stands"
	noteGrapes      = "copies of the 1994 text print 10, 15, 20 and 25 minutes for hot pack; two later copies print 10, 15, 15 and 20"
	noteApricots    = "the Utah State University Extension table confirms the times from 3,001 to 8,000 ft"
	noteApplePie    = "the reprint gives no jar size; pints or quarts from memory"
	noteCherryPie   = "30 minutes at low altitude was also read in a reprint"
)

// fruit: fruit, fruit juices, syrups and pie fillings.
var fruit = []Food{
	{"apples", "apples", "sliced", NoAcid, []Row{
		{Hot, Pint | Quart, boil4(20, 25, 30, 35).high(40), later(2), ""},
		{Hot, Pint | Quart, press(8, mild), later(2), ""},
	}},
	{"applesauce", "applesauce", "sauce", NoAcid, []Row{
		{Hot, Pint, boil4(15, 20, 20, 25).high(30), michigan("01600353"), ""},
		{Hot, Quart, boil4(20, 25, 30, 35).high(40), michigan("01600353"), ""},
		{Hot, Pint, press(8, mild), michigan("01600353"), ""},
		{Hot, Quart, press(10, mild), michigan("01600353"), ""},
	}},
	{"nectarines", "nectarines", "halved or sliced", NoAcid, []Row{
		{Hot, Pint, boil4(20, 25, 30, 35), text1994(2), ""},
		{Hot, Quart, boil4(25, 30, 35, 40), text1994(2), ""},
		{Raw, Pint, boil4(25, 30, 35, 40), text1994(2), ""},
		{Raw, Quart, boil4(30, 35, 40, 45), text1994(2), ""},
		{Hot | Raw, Pint | Quart, press(10, mild), text1994(2), ""},
	}},
	{"peaches", "peaches", "halved or sliced", NoAcid, []Row{
		{Hot, Pint, boil4(20, 25, 30, 35).high(40), text1994(2), ""},
		{Hot, Quart, boil4(25, 30, 35, 40).high(45), text1994(2), ""},
		{Raw, Pint, boil4(25, 30, 35, 40).high(45), text1994(2), ""},
		{Raw, Quart, boil4(30, 35, 40, 45).high(50), text1994(2), ""},
		{Hot | Raw, Pint | Quart, press(10, mild), text1994(2), ""},
	}},
	{"apricots", "apricots", "halved or sliced", NoAcid, []Row{
		{Hot, Pint, boil4(20, 25, 30, 35).high(40), recalled(2), noteApricots},
		{Hot, Quart, boil4(25, 30, 35, 40).high(45), recalled(2), noteApricots},
		{Raw, Pint, boil4(25, 30, 35, 40).high(45), recalled(2), noteApricots},
		{Raw, Quart, boil4(30, 35, 40, 45).high(50), recalled(2), noteApricots},
		{Hot | Raw, Pint | Quart, press(10, mild), recalled(2), ""},
	}},
	{"berries", "berries", "whole", NoAcid, []Row{
		{Hot, Pint, boil4(15, 20, 20, 25).high(30), michigan("01600304"), ""},
		{Hot, Quart, boil4(15, 20, 20, 25).high(40), michigan("01600304"), noteUtahBerries},
		{Raw, Pint, boil4(15, 20, 20, 25).high(30), michigan("01600304"), ""},
		{Raw, Quart, boil4(20, 25, 30, 35).high(40), michigan("01600304"), ""},
		{Hot, Pint | Quart, press(8, mildWeighted), michigan("01600304"), ""},
		{Raw, Pint, press(8, mildWeighted), michigan("01600304"), ""},
		{Raw, Quart, press(10, mildWeighted), michigan("01600304"), ""},
		{Hot, Pint | Quart, press(8, mildDial), recalled(2), ""},
		{Raw, Pint, press(8, mildDial), recalled(2), ""},
		{Raw, Quart, press(10, mildDial), recalled(2), ""},
	}},
	{"cherries", "cherries", "whole sweet or sour", NoAcid, []Row{
		{Hot, Pint, boil4(15, 20, 20, 25).high(30), florida("FCS8279 (HE227)"), ""},
		{Hot, Quart, boil4(20, 25, 30, 35).high(40), florida("FCS8279 (HE227)"), ""},
		{Raw, Pint | Quart, boil4(25, 30, 35, 40).high(45), florida("FCS8279 (HE227)"), ""},
		{Hot, Pint, press(8, mildDial), later(2), ""},
		{Hot, Quart, press(10, mildDial), later(2), ""},
		{Raw, Pint | Quart, press(10, mildDial), later(2), ""},
		{Hot, Pint, press(8, mildWeighted), recalled(2), ""},
		{Hot, Quart, press(10, mildWeighted), recalled(2), ""},
		{Raw, Pint | Quart, press(10, mildWeighted), recalled(2), ""},
	}},
	{"grapefruit-and-orange-sections", "grapefruit and orange sections", "sections", NoAcid, []Row{
		{Raw, Pint | Quart, boil3(10, 15, 20), michigan("01600449"), ""},
		{Raw, Pint, press(8, mildDial), text1994(2), ""},
		{Raw, Quart, press(10, mildDial), text1994(2), ""},
	}},
	{"grapes", "grapes", "whole", NoAcid, []Row{
		{Hot, Pint | Quart, boil4(10, 15, 15, 20), nebraska, noteGrapes},
		{Raw, Pint, boil4(15, 20, 20, 25), nebraska, ""},
		{Raw, Quart, boil4(20, 25, 30, 35), nebraska, ""},
	}},
	{"pears", "pears", "halved", NoAcid, []Row{
		{Hot, Pint, boil4(20, 25, 30, 35).high(40), text1994(2), ""},
		{Hot, Quart, boil4(25, 30, 35, 40).high(45), text1994(2), ""},
		{Hot, Pint | Quart, press(10, mild), text1994(2), ""},
	}},
	{"plums", "plums", "halved or whole", NoAcid, []Row{
		{Hot | Raw, Pint, boil4(20, 25, 30, 35).high(40), michigan("01600415"), ""},
		{Hot | Raw, Quart, boil4(25, 30, 35, 40).high(45), michigan("01600415"), ""},
		{Hot | Raw, Pint | Quart, press(10, mild), later(2), ""},
	}},
	{"rhubarb", "rhubarb", "stewed", NoAcid, []Row{
		{Hot, Pint | Quart, boil3(15, 20, 25), michigan("01600253"), ""},
		{Hot, Pint | Quart, press(8, mild), michigan("01600253"), ""},
	}},
	{"pineapple", "pineapple", "sliced or cubed", NoAcid, []Row{
		{Hot, Pint, boil4(15, 20, 20, 25), text1994(2), ""},
		{Hot, Quart, boil4(20, 25, 30, 35), text1994(2), ""},
	}},
	{"fruit-puree", "fruit purée", "puree", NoAcid, []Row{
		{Hot, Pint | Quart, boil3(15, 20, 25).high(30), michigan("01600839"), ""},
		{Hot, Pint | Quart, press(8, mild), michigan("01600839"), ""},
	}},
	{"figs", "figs", "whole", FigDose, []Row{
		{Hot, Pint, boil4(45, 50, 55, 60), recalled(2), ""},
		{Hot, Quart, boil4(50, 55, 60, 65), recalled(2), ""},
	}},
	{"pears-asian", "Asian pears", "halved or sliced", AsianPearDose, []Row{
		{Hot, Pint, boil4(20, 25, 30, 35), recalled(2), ""},
		{Hot, Quart, boil4(25, 30, 35, 40), recalled(2), ""},
	}},
	{"mixed-fruit-cocktail", "mixed fruit cocktail", "mixed", NoAcid, []Row{
		{Raw, HalfPint | Pint, boil4(20, 25, 30, 35), recalled(2), ""},
	}},
	{"apple-juice", "apple juice", "juice", NoAcid, []Row{
		{Hot, Pint | Quart, boil3(5, 10, 15).high(20), recalled(2), ""},
		{Hot, HalfGallon, boil3(10, 15, 20), recalled(2), ""},
	}},
	{"grape-juice", "grape juice", "juice", NoAcid, []Row{
		{Hot, Pint | Quart, boil3(5, 10, 15).high(20), recalled(2), ""},
		{Hot, HalfGallon, boil3(10, 15, 20), recalled(2), ""},
	}},
	{"apple-butter", "apple butter", "butter", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(5, 10, 15), recalled(2), ""},
		{Hot, Quart, boil3(10, 15, 20), recalled(2), ""},
	}},
	{"berry-syrup", "berry syrup", "syrup", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(10, 15, 20), recalled(2), ""},
	}},
	{"spiced-apple-rings", "spiced apple rings", "rings", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(10, 15, 20), recalled(2), ""},
	}},
	{"spiced-crab-apples", "spiced crab apples", "whole", NoAcid, []Row{
		{Hot, Pint, boil4(20, 25, 30, 35), recalled(2), ""},
	}},
	{"apple-pie-filling", "apple pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Pint | Quart, boil4(25, 30, 35, 40), copied(2), noteApplePie},
	}},
	{"blueberry-pie-filling", "blueberry pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Pint | Quart, boil4(30, 35, 40, 45), text1994(2), ""},
	}},
	{"cherry-pie-filling", "cherry pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Pint | Quart, boil4(30, 35, 40, 45), recalled(2), noteCherryPie},
	}},
	{"peach-pie-filling", "peach pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Pint | Quart, boil4(30, 35, 40, 45), text1994(2), ""},
	}},
	{"mincemeat-pie-filling", "mincemeat pie filling", "pie filling with meat", NoAcid, []Row{
		{Hot, Quart, boil4(25, 30, 35, 40), recalled(2), ""},
	}},
	{"green-tomato-pie-filling", "green tomato pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Quart, boil3(15, 20, 25), recalled(2), ""},
	}},
}
