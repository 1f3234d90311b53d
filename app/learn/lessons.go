package learn

import (
	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// lesson is one step of the first half hour.
type lesson struct {
	id       string
	name     prose.Text
	minutes  int
	say      []prose.Text
	jars     []specimen
	rules    []string     // ids, whose reasons and sources are shown
	advice   []string     // ids of advice, whose steps and sources are shown
	cautions []string     // ids of cautions
	try      []prose.Text // done with a jar in hand
}

// specimen is a jar to look at: a product, sound except for some values.
type specimen struct {
	product string
	shows   []rules.Value
	note    prose.Text
}

// lessons lists the first half hour, in the order of a careful look.
var lessons = []lesson{
	{id: "seal", name: "Why a seal can lie", minutes: 4,
		say: []prose.Text{
			"A jar that cools pulls its lid down, whatever is in it and however it was heated. The seal only says that no air came in. It does not say that the germs inside are dead.",
			"The germ that causes botulism grows where there is no air and little acid. In such food a good seal is no protection from it.",
			"So a jar has to pass two tests: it was canned by a tested recipe, and it looks sound today. One alone is not enough.",
		},
		jars: []specimen{
			{"green-beans", nil, "Beans, pressure canned by a published recipe."},
			{"green-beans", []rules.Value{rules.MethodBoiling}, "Beans, boiled for hours. The same lid, the same clear look."},
		},
		rules:    []string{"record.lack.boiled-low", "record.lack.unheated", "record.low.pressure"},
		cautions: []string{"never-taste"},
		try: []prose.Text{
			"Pick up a jar and ask what you can't see. What recipe was it? How was it heated, for how long, and at what altitude?",
			"Does it have a label? Write down what you would still have to ask the person who canned it.",
		}},
	{id: "acid", name: "What acid does", minutes: 4,
		say: []prose.Text{
			"Acid is measured as pH: the lower the number, the sourer the food. Below pH 4.6 the botulism germ can't grow. Sour fruit, jam and pickles in full-strength vinegar are below it. Boiling water is enough for them.",
			"Vegetables, meat, fish, soup and broth are above it. Only a pressure canner gets hot enough to kill the spores in them.",
			"Tomatoes, figs, salsa and relishes are close to the line. Their recipes add acid, and they are safe only with all of it.",
		},
		jars: []specimen{
			{"peaches", []rules.Value{rules.ProcessUntold}, "Peaches, and no one knows for how long they were heated: use soon."},
			{"green-beans", []rules.Value{rules.ProcessUntold}, "Green beans, and no one knows for how long: discard."},
		},
		rules: []string{"record.acid.plain", "record.borderline.process", "record.lack.acid"},
		try: []prose.Text{
			"Sort five jars, real or made up, into four groups. They are acid by itself, acid from vinegar, acid added by the recipe, and not acid.",
			"Look one of them up in the check: the small words beside the name say which it is.",
		}},
	{id: "look", name: "Look, before you touch", minutes: 4,
		say: []prose.Text{
			"Seven things end the check at once, before you touch the jar. The lid bulges, or is rusted through. It smells bad. It leaks, or has a streak. There is mold. Bubbles rise. The glass is cracked.",
			"Stay calm, and do not open it “to see”: a jar under pressure can spurt.",
			"Some marks only look bad. They are spots of rust on the surface, or food that boiled over on canning day and was washed off.",
		},
		jars: []specimen{
			{"peaches", []rules.Value{rules.LidBulged}, "The lid bulges: there is gas inside."},
			{"peaches", []rules.Value{rules.RustSpots}, "Rust on the surface: harmless on a sealed jar that was canned right."},
		},
		rules: []string{"outside.lid.bulging", "outside.seep.leak", "outside.seep.first-day", "outside.rust.through", "outside.rust.spots", "outside.glass.cracked"},
		try: []prose.Text{
			"Put the jar at eye level and look across the lid. Is its middle below the rim, level with it, or above it?",
			"Walk around it with a lamp. Look for a line of dried food that starts at the lid.",
		}},
	{id: "touch", name: "Touch: three tests of a seal", minutes: 3,
		say: []prose.Text{
			"Take the screw band off. It can hold a loose lid in place for years.",
			"Press the middle: it must not move. Lift the jar an inch by the edge of the lid, your other hand below it: the lid must hold the jar.",
			"A jar that lost its seal in storage is spoiled, whatever is in it. Only in the first 24 hours after canning can a failed seal be put right.",
		},
		jars: []specimen{
			{"plums", []rules.Value{rules.PressGives}, "The lid gives when pressed. Found in storage: discard."},
			{"plums", []rules.Value{rules.PressGives, rules.AgeDay}, "The same jar, canned today: chill it, freeze it, or can it again from the start."},
		},
		rules: []string{"outside.press.gives", "outside.lift.off", "outside.press.gives-day"},
		try: []prose.Text{
			"Take the band off a sealed jar and press. Remember how still it is.",
			"Open a jar you mean to eat, put its lid back loosely and press again. That is a lost seal.",
		}},
	{id: "glass", name: "Through the glass", minutes: 6,
		say: []prose.Text{
			"This is where good jars are thrown away out of fear. Cloudy liquid, a new color, crystals and fat can all be harmless. Three things must be true: the food is known for it, the jar was canned by a tested recipe, and nothing else is odd.",
			"Two odd signs at once are a danger. Cloudy and soft, pink and cloudy, specks in a cloudy liquid: discard.",
			"Some signs are a danger in every food. Look for fuzz, slime, a film, or murky liquid. Look for bubbles that rise, and for liquid that drops in storage.",
		},
		jars: []specimen{
			{"beef", []rules.Value{rules.TopFat}, "A cap of fat: fat sets when it is cool. No danger."},
			{"beef", []rules.Value{rules.TopFilm}, "A film: something is growing."},
			{"pears", []rules.Value{rules.ColorPink}, "Pink pears: heat changed their color."},
			{"pears", []rules.Value{rules.ColorPink, rules.CloudHazy}, "Pink and cloudy: two signs, discard."},
		},
		rules: []string{"deposit.top.fat-harmless", "deposit.top.film", "color.pink-harmless", "color.cloudy", "liquid.cloud.settled-harmless", "liquid.cloud.soft", "deposit.mold"},
		try: []prose.Text{
			"Hold a jar up to a lamp and turn it slowly. Look at the liquid, the food, the bottom and the space under the lid, in that order.",
			"Tilt it, let it rest, and watch one bubble. Does it stay or rise?",
			"If it is cloudy, let it stand and look again. Starch sinks, and leaves clear liquid above.",
		}},
	{id: "opening", name: "Opening", minutes: 3,
		say: []prose.Text{
			"Open only what has passed so far. Hold the jar away from your face.",
			"If air rushes in, there was a vacuum. If air or liquid comes out, there was pressure, and pressure means gas.",
			"Look at the surface and at the underside of the lid. Notice the smell without leaning close. Never taste to decide.",
		},
		jars: []specimen{
			{"chicken", []rules.Value{rules.UnderlidDark}, "A dark stain under the lid, and no holes: harmless."},
			{"chicken", []rules.Value{rules.UnderlidFuzzy}, "Fuzz under the lid: mold."},
		},
		rules:    []string{"opening.release.in", "opening.release.hiss", "opening.release.spurt", "opening.smell", "opening.underlid.stain", "opening.underlid.fuzzy"},
		cautions: []string{"never-taste"},
		try: []prose.Text{
			"Open a jar you mean to eat and listen: which way did the air go?",
			"Turn the lid over under the lamp.",
		}},
	{id: "opened", name: "Once it is open", minutes: 2,
		say: []prose.Text{
			"Open food never goes back on the shelf. Put it in the refrigerator at once, and count its days.",
			"How long it keeps depends on acid and sugar. Broth: 2 days. Other food that is not acid: 4. Acid food: 7. Jam with little sugar: 14. Other jam: 30.",
			"Out of the cold it keeps for two hours in all. When it is very warm, for one hour.",
		},
		rules: []string{"opening.clock", "opened.days.broth", "opened.days.low", "opened.days.acid", "opened.days.reduced", "opened.days.jam", "opened.out.long", "opened.out.hot"},
		try: []prose.Text{
			"Write the date on the next jar you open.",
			"Put a thermometer in the refrigerator. Does it say 40 °F (4 °C) or less?",
		}},
	{id: "away", name: "Throwing away safely", minutes: 4,
		say: []prose.Text{
			"If the jar is still closed, leave it closed and throw it away whole. If it is open or leaks, and the food is not surely acid, treat it as poison.",
			"Then clean what it touched, and look at the other jars of the same day.",
			"Learn what to do if someone has eaten from a bad jar, before you need it.",
		},
		advice:   []string{"dispose.sealed", "dispose.low", "cleanup", "batch"},
		cautions: []string{"botulism"},
		try: []prose.Text{
			"Find gloves, two strong bags, tape and unscented bleach at home. Where would you keep a jar until the trash is picked up?",
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
