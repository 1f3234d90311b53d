package process

// What copies of the fruit tables disagree about.
const (
	noteUtahBerries = "the Utah table prints 40 minutes for hot quarts above 8,000 ft, likely a misprint for 30; the stricter figure stands"
	noteGrapes      = "one transcription of the 1994 text prints 10, 15, 20 and 25 minutes; Florida, Michigan and the University of Georgia (2020) print these"
	noteApricots    = "the Utah State University Extension table confirms the times from 3,001 to 8,000 ft"
	noteApplePie    = "the reprint gives no jar size; pints or quarts from memory"
	noteMincemeat   = "it holds beef and suet and no acid but cider: never in boiling water; the 1994 text prints the same"
	noteAsianPears  = "20 minutes for pints to 1,000 ft, and the lemon juice, were read at the National Center itself"
)

// fruit: fruit, fruit juices, syrups and pie fillings.
var fruit = []Food{
	{"apples", "apples", "sliced", NoAcid, []Row{
		{Hot, Pint | Quart, boil5(20, 25, 30, 35, 40), laterFruit(), ""},
		{Hot, Pint | Quart, press(8, mild), laterFruit(), ""},
	}},
	{"applesauce", "applesauce", "sauce", NoAcid, []Row{
		{Hot, Pint, boil5(15, 20, 20, 25, 30), michigan("01600353"), ""},
		{Hot, Quart, boil5(20, 25, 30, 35, 40), michigan("01600353"), ""},
		{Hot, Pint, press(8, mild), michigan("01600353"), ""},
		{Hot, Quart, press(10, mild), michigan("01600353"), ""},
	}},
	{"nectarines", "nectarines", "halved or sliced", NoAcid, []Row{
		{Hot, Pint, boil4(20, 25, 30, 35), text1994Fruit(), ""},
		{Hot, Quart, boil4(25, 30, 35, 40), text1994Fruit(), ""},
		{Raw, Pint, boil4(25, 30, 35, 40), text1994Fruit(), ""},
		{Raw, Quart, boil4(30, 35, 40, 45), text1994Fruit(), ""},
		{Hot | Raw, Pint | Quart, press(10, mild), text1994Fruit(), ""},
	}},
	{"peaches", "peaches", "halved or sliced", NoAcid, []Row{
		{Hot, Pint, boil5(20, 25, 30, 35, 40), text1994Fruit(), ""},
		{Hot, Quart, boil5(25, 30, 35, 40, 45), text1994Fruit(), ""},
		{Raw, Pint, boil5(25, 30, 35, 40, 45), text1994Fruit(), ""},
		{Raw, Quart, boil5(30, 35, 40, 45, 50), text1994Fruit(), ""},
		{Hot | Raw, Pint | Quart, press(10, mild), text1994Fruit(), ""},
	}},
	{"apricots", "apricots", "halved or sliced", NoAcid, []Row{
		{Hot, Pint, boil5(20, 25, 30, 35, 40), michigan("01600770"), noteApricots},
		{Hot, Quart, boil5(25, 30, 35, 40, 45), michigan("01600770"), noteApricots},
		{Raw, Pint, boil5(25, 30, 35, 40, 45), michigan("01600770"), noteApricots},
		{Raw, Quart, boil5(30, 35, 40, 45, 50), michigan("01600770"), noteApricots},
		{Hot | Raw, Pint | Quart, press(10, mild), text1994Fruit(), ""},
	}},
	{"berries", "berries", "whole", NoAcid, []Row{
		{Hot, Pint, boil5(15, 20, 20, 25, 30), michigan("01600304"), ""},
		{Hot, Quart, boil5(15, 20, 20, 25, 40), michigan("01600304"), noteUtahBerries},
		{Raw, Pint, boil5(15, 20, 20, 25, 30), michigan("01600304"), ""},
		{Raw, Quart, boil5(20, 25, 30, 35, 40), michigan("01600304"), ""},
		{Hot, Pint | Quart, press(8, mildWeighted), michigan("01600304"), ""},
		{Raw, Pint, press(8, mildWeighted), michigan("01600304"), ""},
		{Raw, Quart, press(10, mildWeighted), michigan("01600304"), ""},
		{Hot, Pint | Quart, press(8, mildDial), laterFruit(), ""},
		{Raw, Pint, press(8, mildDial), laterFruit(), ""},
		{Raw, Quart, press(10, mildDial), laterFruit(), ""},
	}},
	{"cherries", "cherries", "whole sweet or sour", NoAcid, []Row{
		{Hot, Pint, boil5(15, 20, 20, 25, 30), florida("FCS8279 (HE227)"), ""},
		{Hot, Quart, boil5(20, 25, 30, 35, 40), florida("FCS8279 (HE227)"), ""},
		{Raw, Pint | Quart, boil5(25, 30, 35, 40, 45), florida("FCS8279 (HE227)"), ""},
		{Hot, Pint, press(8, mildDial), laterFruit(), ""},
		{Hot, Quart, press(10, mildDial), laterFruit(), ""},
		{Raw, Pint | Quart, press(10, mildDial), laterFruit(), ""},
		{Hot, Pint, press(8, mildWeighted), laterFruit(), ""},
		{Hot, Quart, press(10, mildWeighted), laterFruit(), ""},
		{Raw, Pint | Quart, press(10, mildWeighted), laterFruit(), ""},
	}},
	{"grapefruit-and-orange-sections", "grapefruit and orange sections", "sections", NoAcid, []Row{
		{Raw, Pint | Quart, boil3(10, 15, 20), michigan("01600449"), ""},
		{Raw, Pint, press(8, mildDial), text1994Fruit(), ""},
		{Raw, Quart, press(10, mildDial), text1994Fruit(), ""},
	}},
	{"grapes", "grapes", "whole", NoAcid, []Row{
		{Hot, Pint | Quart, boil4(10, 15, 15, 20), florida("FCS8283 (HE231)"), noteGrapes},
		{Raw, Pint, boil4(15, 20, 20, 25), florida("FCS8283 (HE231)"), ""},
		{Raw, Quart, boil4(20, 25, 30, 35), florida("FCS8283 (HE231)"), ""},
	}},
	{"pears", "pears", "halved", NoAcid, []Row{
		{Hot, Pint, boil5(20, 25, 30, 35, 40), text1994Fruit(), ""},
		{Hot, Quart, boil5(25, 30, 35, 40, 45), text1994Fruit(), ""},
		{Hot, Pint | Quart, press(10, mild), text1994Fruit(), ""},
	}},
	{"plums", "plums", "halved or whole", NoAcid, []Row{
		{Hot | Raw, Pint, boil5(20, 25, 30, 35, 40), michigan("01600415"), ""},
		{Hot | Raw, Quart, boil5(25, 30, 35, 40, 45), michigan("01600415"), ""},
		{Hot | Raw, Pint | Quart, press(10, mild), laterFruit(), ""},
	}},
	{"rhubarb", "rhubarb", "stewed", NoAcid, []Row{
		{Hot, Pint | Quart, boil3(15, 20, 25), michigan("01600253"), ""},
		{Hot, Pint | Quart, press(8, mild), michigan("01600253"), ""},
	}},
	{"pineapple", "pineapple", "sliced or cubed", NoAcid, []Row{
		{Hot, Pint, boil4(15, 20, 20, 25), text1994Fruit(), ""},
		{Hot, Quart, boil4(20, 25, 30, 35), text1994Fruit(), ""},
	}},
	{"fruit-puree", "fruit purée", "puree", NoAcid, []Row{
		{Hot, Pint | Quart, boil5(15, 20, 20, 25, 30), michigan("01600839"), ""},
		{Hot, Pint | Quart, press(8, mild), michigan("01600839"), ""},
	}},
	{"figs", "figs", "whole", FigDose, []Row{
		{Hot, Pint, boil4(45, 50, 55, 60), michigan("01600838"), ""},
		{Hot, Quart, boil4(50, 55, 60, 65), michigan("01600838"), ""},
	}},
	{"pears-asian", "Asian pears", "halved or sliced", AsianPearDose, []Row{
		{Hot, Pint, boil4(20, 25, 30, 35), asianReprint, noteAsianPears},
		{Hot, Quart, boil4(25, 30, 35, 40), asianReprint, noteAsianPears},
	}},
	{"mixed-fruit-cocktail", "mixed fruit cocktail", "mixed", NoAcid, []Row{
		{Raw, HalfPint | Pint, boil4(20, 25, 30, 35), text1994Fruit(), ""},
	}},
	{"apple-juice", "apple juice", "juice", NoAcid, []Row{
		{Hot, Pint | Quart, boil5(5, 10, 10, 15, 20), text1994Fruit(), ""},
		{Hot, HalfGallon, boil3(10, 15, 20), text1994Fruit(), ""},
	}},
	{"grape-juice", "grape juice", "juice", NoAcid, []Row{
		{Hot, Pint | Quart, boil5(5, 10, 10, 15, 20), michigan("01600323"), ""},
		{Hot, HalfGallon, boil3(10, 15, 20), michigan("01600323"), ""},
	}},
	{"apple-butter", "apple butter", "butter", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(5, 10, 15), michigan("01600362"), ""},
		{Hot, Quart, boil3(10, 15, 20), michigan("01600362"), ""},
	}},
	{"berry-syrup", "berry syrup", "syrup", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(10, 15, 20), text1994Fruit(), ""},
	}},
	{"spiced-apple-rings", "spiced apple rings", "rings", NoAcid, []Row{
		{Hot, HalfPint | Pint, boil3(10, 15, 20), michigan("01600836"), ""},
	}},
	{"spiced-crab-apples", "spiced crab apples", "whole", NoAcid, []Row{
		{Hot, Pint, boil4(20, 25, 30, 35), florida("FCS8275 (HE223)"), ""},
	}},
	{"apple-pie-filling", "apple pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Pint | Quart, boil4(25, 30, 35, 40), copiedFruit(), noteApplePie},
	}},
	{"blueberry-pie-filling", "blueberry pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Pint | Quart, boil4(30, 35, 40, 45), text1994Fruit(), ""},
	}},
	{"cherry-pie-filling", "cherry pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Pint | Quart, boil4(30, 35, 40, 45), michigan("01600844"), ""},
	}},
	{"peach-pie-filling", "peach pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Pint | Quart, boil4(30, 35, 40, 45), text1994Fruit(), ""},
	}},
	{"mincemeat-pie-filling", "mincemeat pie filling", "pie filling with meat", NoAcid, []Row{
		{Hot, Quart, press(90, standard), mincemeat, noteMincemeat},
	}},
	{"zucchini-pineapple", "zucchini-pineapple", "cubed or shredded", RecipeLemon, []Row{
		{Hot, HalfPint | Pint, boil3(15, 20, 25), florida("FCS8299 (HE247)"), ""},
	}},
	{"green-tomato-pie-filling", "green tomato pie filling", "pie filling", RecipeLemon, []Row{
		{Hot, Quart, boil3(15, 20, 25), michigan("01600846"), ""},
	}},
}
