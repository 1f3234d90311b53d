package process

// What copies of the pickle tables disagree about.
const (
	noteBeets      = "a copy of the 1994 text misprints 45 minutes from 1,001 to 3,000 ft"
	noteDilled     = "weak copy: retold figures that agree with the Guide as remembered"
	noteReduced    = "pints only: the page of the National Center, the 1994 text and a bulletin of Michigan State University print no quarts"
	noteSauerkraut = "the times to 1,000 ft were also read in a discussion of the Guide"
)

// pickles: pickles, relishes and fermented vegetables.
var pickles = []Food{
	{"quick-fresh-pack-dill-pickles", "quick fresh-pack dill pickles", "whole cucumbers", RecipeVinegar, []Row{
		{Raw, Pint, boil3(10, 15, 20), michigan("01600865"), ""},
		{Raw, Quart, boil3(15, 20, 25), michigan("01600865"), ""},
	}},
	{"bread-and-butter-pickles", "bread-and-butter pickles", "slices", RecipeVinegar, []Row{
		{Hot, Pint | Quart, boil3(10, 15, 20), michigan("01600131"), ""},
	}},
	{"pickle-relish", "pickle relish", "chopped", RecipeVinegar, []Row{
		{Hot, HalfPint | Pint, boil3(10, 15, 20), michigan("01600138"), ""},
	}},
	{"pickled-beets", "pickled beets", "slices or whole baby", RecipeVinegar, []Row{
		{Hot, Pint | Quart, boil4(30, 35, 40, 45), michigan("01600047"), noteBeets},
	}},
	{"pickled-carrots", "pickled carrots", "rounds", RecipeVinegar, []Row{
		{Hot, Pint, boil3(15, 20, 25), laterPickles(), ""},
	}},
	{"pickled-hot-peppers", "pickled hot peppers", "whole or quartered", RecipeVinegar, []Row{
		{Raw, HalfPint | Pint, boil3(10, 15, 20), michigan("01600864"), ""},
	}},
	{"pickled-yellow-pepper-rings", "pickled yellow pepper rings", "rings", RecipeVinegar, []Row{
		{Raw, Pint, boil3(10, 15, 20), recipe("pickled yellow pepper rings"), ""},
	}},
	{"pickled-jalapeno-rings", "pickled jalapeño rings", "rings", RecipeVinegar, []Row{
		{Raw, Pint, boil3(10, 15, 20), recalledPickles(), ""},
	}},
	{"pickled-dilled-beans", "pickled dilled beans", "whole beans", RecipeVinegar, []Row{
		{Raw, Pint, boil3(5, 10, 15), copiedPickles(), noteDilled},
	}},
	{"sauerkraut", "sauerkraut", "fermented", Fermented, []Row{
		{Hot, Pint, boil4(10, 15, 15, 20), recalledPickles(), noteSauerkraut},
		{Hot, Quart, boil4(15, 20, 20, 25), recalledPickles(), noteSauerkraut},
		{Raw, Pint, boil4(20, 25, 30, 35), recalledPickles(), noteSauerkraut},
		{Raw, Quart, boil4(25, 30, 35, 40), recalledPickles(), noteSauerkraut},
	}},
	{"dill-pickles-fermented", "fermented dill pickles", "whole cucumbers", Fermented, []Row{
		{Raw, Pint, boil3(10, 15, 20), laterPickles(), ""},
		{Raw, Quart, boil3(15, 20, 25), laterPickles(), ""},
	}},
	{"reduced-sodium-sliced-dill-pickles", "reduced-sodium sliced dill pickles", "slices", RecipeVinegar, []Row{
		{Raw, Pint, boil3(15, 20, 25), reducedSodium, noteReduced},
	}},
	{"quick-sweet-pickles", "quick sweet pickles", "slices", RecipeVinegar, []Row{
		{Hot, Pint | Quart, boil3(5, 10, 15), recalledPickles(), ""},
		{Raw, Pint, boil3(10, 15, 20), recalledPickles(), ""},
		{Raw, Quart, boil3(15, 20, 25), recalledPickles(), ""},
	}},
	{"marinated-peppers", "marinated peppers", "in oil and acid", RecipeMarinade, []Row{
		{Raw, HalfPint | Pint, boil4(15, 20, 20, 25), copiedPickles(), noteDilled},
	}},
	{"corn-relish", "corn relish", "relish", RecipeVinegar, []Row{
		{Hot, HalfPint | Pint, boil3(15, 20, 25), michigan("01600282"), ""},
	}},
	{"piccalilli", "piccalilli", "relish", RecipeVinegar, []Row{
		{Hot, HalfPint | Pint, boil3(5, 10, 15), michigan("01600209"), ""},
	}},
	{"pickled-three-bean-salad", "pickled three-bean salad", "mixed", RecipeVinegar, []Row{
		{Hot, HalfPint | Pint, boil3(15, 20, 25), text1994Pickles(), ""},
	}},
	{"pickled-bell-peppers", "pickled bell peppers", "strips", RecipeVinegar, []Row{
		{Hot, HalfPint | Pint, boil3(5, 10, 15), text1994Pickles(), ""},
	}},
	{"pickled-asparagus", "pickled asparagus", "spears", RecipeVinegar, []Row{
		{Raw, Pint, boil3(10, 15, 20), recipe("pickled asparagus"), ""},
	}},
}
