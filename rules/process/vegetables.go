package process

// noteCreamCorn is about a line that was dropped.
const noteCreamCorn = "hot pack in pints only; a raw-pack line of 95 minutes stands only in copies of the 1994 weighted-gauge table"

// vegetables: vegetables and dried beans: pressure only.
var vegetables = []Food{
	{"asparagus", "asparagus", "spears or pieces", NoAcid, []Row{
		{Hot | Raw, Pint, press(30, standard), michigan("01600038"), ""},
		{Hot | Raw, Quart, press(40, standard), michigan("01600038"), ""},
	}},
	{"beans-snap-and-italian", "snap and Italian beans", "pieces", NoAcid, []Row{
		{Hot | Raw, Pint, press(20, standard), michigan("01600883"), ""},
		{Hot | Raw, Quart, press(25, standard), michigan("01600883"), ""},
	}},
	{"beans-lima-fresh", "fresh lima beans", "shelled", NoAcid, []Row{
		{Hot | Raw, Pint, press(40, standard), text1994Vegetables(), ""},
		{Hot | Raw, Quart, press(50, standard), text1994Vegetables(), ""},
	}},
	{"beets", "beets", "whole, cubed or sliced", NoAcid, []Row{
		{Hot, Pint, press(30, standard), michigan("01600045"), ""},
		{Hot, Quart, press(35, standard), michigan("01600045"), ""},
	}},
	{"carrots", "carrots", "sliced or diced", NoAcid, []Row{
		{Hot | Raw, Pint, press(25, standard), text1994Vegetables(), ""},
		{Hot | Raw, Quart, press(30, standard), text1994Vegetables(), ""},
	}},
	{"corn-cream-style", "cream-style corn", "cream style", NoAcid, []Row{
		{Hot, Pint, press(85, standard), michigan("01600884"), noteCreamCorn},
	}},
	{"corn-whole-kernel", "whole-kernel corn", "kernels", NoAcid, []Row{
		{Hot | Raw, Pint, press(55, standardDial), text1994Vegetables(), ""},
		{Hot | Raw, Quart, press(85, standardDial), text1994Vegetables(), ""},
		{Hot | Raw, Pint, press(55, standardWeighted), michigan("01600280"), ""},
		{Hot | Raw, Quart, press(85, standardWeighted), michigan("01600280"), ""},
	}},
	{"mixed-vegetables", "mixed vegetables", "mixed", NoAcid, []Row{
		{Hot, Pint, press(75, standard), michigan("01600885"), ""},
		{Hot, Quart, press(90, standard), michigan("01600885"), ""},
	}},
	{"mushrooms", "mushrooms", "whole or sliced", NoAcid, []Row{
		{Hot, HalfPint | Pint, press(45, standard), michigan("01600287"), ""},
	}},
	{"okra", "okra", "whole or pieces", NoAcid, []Row{
		{Hot, Pint, press(25, standard), text1994Vegetables(), ""},
		{Hot, Quart, press(40, standard), text1994Vegetables(), ""},
	}},
	{"peas-green", "green peas", "shelled", NoAcid, []Row{
		{Hot | Raw, Pint | Quart, press(40, standard), michigan("01600242"), ""},
	}},
	{"peppers", "peppers", "hot or sweet", NoAcid, []Row{
		{Hot, HalfPint | Pint, press(35, standard), michigan("01600704"), ""},
	}},
	{"potatoes-white", "white potatoes", "cubed or whole", NoAcid, []Row{
		{Hot, Pint, press(35, standard), michigan("01600267"), ""},
		{Hot, Quart, press(40, standard), michigan("01600267"), ""},
	}},
	{"potatoes-sweet", "sweet potatoes", "pieces or whole", NoAcid, []Row{
		{Hot, Pint, press(65, standard), michigan("01600190"), ""},
		{Hot, Quart, press(90, standard), michigan("01600190"), ""},
	}},
	{"pumpkin-and-winter-squash", "pumpkin and winter squash", "cubed", NoAcid, []Row{
		{Hot, Pint, press(55, standard), text1994Vegetables(), ""},
		{Hot, Quart, press(90, standard), text1994Vegetables(), ""},
	}},
	{"spinach-and-other-greens", "spinach and other greens", "leaves", NoAcid, []Row{
		{Hot, Pint, press(70, standard), michigan("01600053"), ""},
		{Hot, Quart, press(90, standard), michigan("01600053"), ""},
	}},
	{"succotash", "succotash", "mixed", NoAcid, []Row{
		{Hot | Raw, Pint, press(60, standard), michigan("01600225"), ""},
		{Hot | Raw, Quart, press(85, standard), michigan("01600225"), ""},
	}},
	{"beans-or-peas-dried", "dried beans or peas", "shelled, all varieties", NoAcid, []Row{
		{Hot, Pint, press(75, standard), michigan("01600235"), ""},
		{Hot, Quart, press(90, standard), michigan("01600235"), ""},
	}},
	{"beans-dry-with-tomato-or-molasses-sauce", "dry beans with tomato or molasses sauce", "in sauce", NoAcid, []Row{
		{Hot, Pint, press(65, standard), michigan("01600236"), ""},
		{Hot, Quart, press(75, standard), michigan("01600236"), ""},
	}},
	{"beans-baked", "baked beans", "baked", NoAcid, []Row{
		{Hot, Pint, press(65, standard), michigan("01600237"), ""},
		{Hot, Quart, press(75, standard), michigan("01600237"), ""},
	}},
}
