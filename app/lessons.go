package app

import "larderlamp/rules"

// lesson is one step of the first half hour.
type lesson struct {
	id, name string
	minutes  int
	say      []string
	jars     []specimen
	rules    []string // ids, whose reasons and sources are shown
	advice   []string // ids of advice, whose steps and sources are shown
	cautions []string // ids of cautions
	try      []string // with a jar in hand
}

// specimen is a jar to look at: a product, sound but for some values.
type specimen struct {
	product string
	shows   []rules.Value
	note    string
}

// lessons lists the first half hour, in the order of a careful look.
var lessons = []lesson{
	{id: "seal", name: "Why a seal can lie", minutes: 4,
		say: []string{
			"When a jar cools, its lid is pulled down, no matter what is in it or how it was heated. The seal only says that no air came in. It does not say that the germs inside are dead.",
			"The germ that causes botulism grows where there is no air and little acid. In such food a good seal is no protection from it.",
			"So a jar has to pass twice. It was canned by a tested process, and it looks sound today. One of the two is not enough.",
		},
		jars: []specimen{
			{"green-beans", nil, "Beans, pressure canned by a published recipe."},
			{"green-beans", []rules.Value{rules.MethodBoiling}, "Beans, boiled for hours. The same lid, the same clear look."},
		},
		rules:    []string{"record.lack.boiled-low", "record.lack.unheated", "record.low.pressure"},
		cautions: []string{"never-taste"},
		try: []string{
			"Take a jar and ask of it what no eye can see: whose recipe, heated how, for how long, at what altitude?",
			"Is there a label? Write down what you would have to ask the person who canned it.",
		}},
	{id: "acid", name: "What acid does", minutes: 4,
		say: []string{
			"Below pH 4.6 the botulism germ cannot grow. Sour fruit, jam and full-strength pickles are below it by themselves; boiling water is enough for them.",
			"Vegetables, meat, fish, soup and broth are above it. Only a pressure canner gets hot enough to kill the spores in them.",
			"Tomatoes, figs, salsa and relishes stand on the line. Their recipe adds acid, and they are safe only with all of it.",
		},
		jars: []specimen{
			{"peaches", []rules.Value{rules.ProcessShort}, "Peaches, process not shown: use soon."},
			{"green-beans", []rules.Value{rules.ProcessShort}, "Green beans, process not shown: discard."},
		},
		rules: []string{"record.acid.plain", "record.borderline.process", "record.lack.acid"},
		try: []string{
			"Sort five jars, yours or in your mind: acid by nature, acid by vinegar, acid by recipe, not acid.",
			"Look one of them up in the check: the small words beside the name say which it is.",
		}},
	{id: "look", name: "Look, before you touch", minutes: 4,
		say: []string{
			"Six things end the check at once, before you touch anything: a bulging lid, a leak or a streak, mold, rising bubbles, cracked glass, a lid rusted through.",
			"Stay calm, and do not open it “to see”: a jar under pressure can spurt.",
			"Some marks only look bad: spots of rust on the surface, or a little residue that was washed off on the day of canning.",
		},
		jars: []specimen{
			{"peaches", []rules.Value{rules.LidBulged}, "The lid stands up: gas."},
			{"peaches", []rules.Value{rules.RustSpots}, "Rust on the surface: harmless on a sealed jar that was processed right."},
		},
		rules: []string{"outside.lid.bulging", "outside.seep.leak", "outside.seep.first-day", "outside.rust.through", "outside.rust.spots", "outside.glass.cracked"},
		try: []string{
			"Put the jar at eye level and look across the lid. Where is the middle: below the rim, level, above?",
			"Walk around it with a lamp. Look for a line of dried food that starts at the lid.",
		}},
	{id: "touch", name: "Touch: three tests of a seal", minutes: 3,
		say: []string{
			"Take the screw band off. It can hold a loose lid in place for years.",
			"Press the middle: it must not move. Lift by the edge of the lid, 4 inches (10 cm) above a table: the lid must carry the jar.",
			"A jar that lost its seal in storage is spoiled, whatever is in it. Only in the first 24 hours after canning can a failed seal be put right.",
		},
		jars: []specimen{
			{"plums", []rules.Value{rules.PressGives}, "It gives when pressed. In storage: discard."},
			{"plums", []rules.Value{rules.PressGives, rules.AgeDay}, "The same, canned today: chill it, freeze it, or can it again in full."},
		},
		rules: []string{"outside.press.gives", "outside.lift.off", "outside.press.gives-day"},
		try: []string{
			"Take the band off a sealed jar and press. Remember how still it is.",
			"Open a jar you mean to eat, put its lid back loosely and press again. That is a lost seal.",
		}},
	{id: "glass", name: "Through the glass", minutes: 6,
		say: []string{
			"Here good jars are thrown away for fear. Cloud, color, crystals and fat can all be harmless, if three things hold: the food is known for it, the jar was canned by a tested process, and nothing else is odd.",
			"Two oddities at once are never harmless. Cloudy and soft, pink and cloudy, specks in a haze: discard.",
			"Some things no food is known for: anything fuzzy, slime, murk, bubbles that rise, a film, a level that falls in storage.",
		},
		jars: []specimen{
			{"beef", []rules.Value{rules.TopFat}, "A fat cap: fat sets in the cool. Nothing to be afraid of."},
			{"beef", []rules.Value{rules.TopFilm}, "A film: something grows."},
			{"pears", []rules.Value{rules.ColourPink}, "Pink pears: a pigment, changed by heat."},
			{"pears", []rules.Value{rules.ColourPink, rules.CloudHazy}, "Pink and cloudy: two signs, discard."},
		},
		rules: []string{"deposit.top.fat-harmless", "deposit.top.film", "colour.pink-harmless", "colour.cloudy", "liquid.cloud.settled-harmless", "liquid.cloud.soft", "deposit.mould"},
		try: []string{
			"Hold a jar up to a lamp and turn it slowly. Look at liquid, food, bottom and the space under the lid, in this order.",
			"Tilt it, let it rest, and watch one bubble. Does it stay or rise?",
			"If it is cloudy, let it stand and look again: starch sinks and leaves clear liquid above.",
		}},
	{id: "opening", name: "Opening", minutes: 3,
		say: []string{
			"Open only what has passed so far. Hold the jar away from your face.",
			"Air goes in with a sigh: that was a vacuum. Air or liquid that comes out was pressure, and pressure means gas.",
			"Look at the surface and at the underside of the lid. Notice the smell without leaning close. Never taste to decide.",
		},
		jars: []specimen{
			{"chicken", []rules.Value{rules.UnderlidDark}, "A dark stain under the lid, metal whole: harmless."},
			{"chicken", []rules.Value{rules.UnderlidFuzzy}, "Fuzz under the lid: mold."},
		},
		rules:    []string{"opening.release.in", "opening.release.hiss", "opening.release.spurt", "opening.smell", "opening.underlid.stain", "opening.underlid.fuzzy"},
		cautions: []string{"never-taste"},
		try: []string{
			"Open a jar you mean to eat and listen: which way did the air go?",
			"Turn the lid over under the lamp.",
		}},
	{id: "opened", name: "Once it is open", minutes: 2,
		say: []string{
			"Open food is not kept on the shelf. It goes into the cold at once, and its days are counted.",
			"How many days depends on its acid and sugar: broth 2, other food that is not acid 4, acid food 7, jam 30, and with little sugar 14.",
			"Out of the cold it has two hours in all, one when it is very warm.",
		},
		rules: []string{"opening.clock", "opened.days.broth", "opened.days.low", "opened.days.acid", "opened.days.reduced", "opened.days.jam", "opened.out.long", "opened.out.hot"},
		try: []string{
			"Write the date on the next jar you open.",
			"Put a thermometer in the refrigerator: does it say 4 °C (40 °F) or less?",
		}},
	{id: "away", name: "Throwing away safely", minutes: 4,
		say: []string{
			"A jar that is still closed stays closed and goes away whole. One that is open or leaks, and is not plainly acid, is treated as poisonous.",
			"Then clean what it touched, and look at the other jars of the same day.",
			"Know what to do when somebody has eaten from a suspect jar, before you need it.",
		},
		advice:   []string{"dispose.sealed", "dispose.low", "cleanup", "batch"},
		cautions: []string{"botulism"},
		try: []string{
			"Find the gloves, two strong bags, tape and unscented bleach in your household. Where would you put a jar until it is collected?",
		}},
}

// lessonByID finds a lesson by its id, and its place.
func lessonByID(id string) (*lesson, int) {
	for i := range lessons {
		if lessons[i].id == id {
			return &lessons[i], i
		}
	}
	return nil, 0
}
