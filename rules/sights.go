package rules

// idleSights say nothing about what is seen.
const idleSights = " a an the of and or is are was were be been it its i im ive my me we our us they them there theres this that these those some any bit little lot lots kind sort" +
	" really very quite so too just like looks look looking looked seems seem see seen saw has have had having got get getting jar jars jarred canned canning can food stuff thing things something" +
	" do does did dont know think ok okay safe eat eating still should what why how when where which who whats wrong bad? if then than but with without to for from by as at all am will would could" +
	" home made homemade year years old new one two ones today yesterday noticed notice found find help please weird odd strange funny off went since last first day days week weeks hours gone keeps coming comes own across "

// sightWords brings words that mean the same together: the one that stands in
// the phrases, and the others.
const sightWords = `bulg:bulge swollen swell swelled puffed puffy puff domed dome convex bowed bloated inflated ballooned rounded poofed
pop:popped popping ping pinged
mold:mould moldy mouldy mildew fungus mildewy
fuzz:fuzzy furry hairy fur fluff fluffy cotton cottony whiskers wool woolly velvety hair
slim:slime slimy slippery slick snotty gooey goo mucus
mush:mushy squishy squashy mashed disintegrated disintegrating pulpy
soft:softer limp soggy flabby tender
cloud:cloudy clouded milky hazy haze foggy opaque turbid misty unclear
murk:murky stringy ropy
sediment:residue dregs silt sludge settled settling layer powder powdery dust grit sand deposit
bottom:base underneath
smell:smells stink stinks stinky odor odour reek reeks whiff smelly stench aroma scent
sour:vinegary rancid putrid rotten cheesy yeasty eggs fermented fermenty beer wine alcohol boozy
leak:leaks leaking leaky oozing ooze seeping seep seeped dripping drip drips weeping
streak:streaks streaked drip-mark runny-line trail dribble
stick:sticky tacky crusty crust
wet:damp moist
rust:rusty rusted corroded corrosion
hole:holes pinhole eaten pitted pits
crack:cracked cracks chipped chip chips broken fracture fractured shattered nick nicked hairline
float:floating floats floated floaters rising-fruit
pink:pinkish rosy rose reddish red
blue:bluish purple violet turquoise lilac
green:greenish
brown:browned browning tan amber caramel
dark:darker darkened darkening black blackened blackish gray grey greyish grayish
fade:faded fading pale paler bleached colorless washed
color:colour colored discolored discoloured discoloration coloration colors
crystal:crystals crystallized crystallised sugary glassy sharp shards needles gritty glass-like grains grain granular
speck:specks spots spot dots dot flecks fleck speckles speckled particles bits flakes freckles
film:skin scum membrane pellicle slick-film
foam:foamy froth frothy fizz fizzy fizzing suds sudsy bubbly scummy
bubbl:bubble bubbles bubbling carbonated
ris:rise rises rising moving streaming
spurt:spurted sprayed spray squirted squirt gushed gush exploded explode erupted shot volcano overflowed
hiss:hissed hissing fizzed whoosh
seal:sealed sealing unsealed
loos:loose unstuck
push:pushes pushed press pressed presses springs springy clicks click clicky flexes gives pops-back bounces
fat:grease greasy lard tallow oily oil
cap:plug disc disk
jell:jelly jellied gel gelled gelatin gelatinous congealed
runn:runny unset syrup syrupy liquidy watery
level:liquid fluid brine juice syrup-level
low:lower lost missing half-empty gone dropped drop drops
lid:lids top-lid cover
under:underside inside underneath-lid
top:surface above
froz:frozen freeze froze freezing ice icy
flood:flooded floodwater
fir:fire smoke smoky burned
hot:heat heatwave scorching warm
ill:sick nauseous vomiting dizzy
vision:double blurry blurred eyelids drooping slurred
dent:dented bent creased buckled warped crushed ding
flat:flattened level-lid
white:whitish chalky
yellow:yellowish`

// sights are the phrases that people use for what they see, by value.
var sights = []struct {
	v       Value
	phrases string
}{
	{OdorOff, "smell through closed lid, smell from unopened sealed, smell around lid, stink closed, smell before opening, smell when closed, closed smell"},
	{LidBulged, "lid bulge, bulge, lid pop up, lid raised, lid pushed up, lid up high, top bulge, lid like a balloon, lid is not flat any more it bulge, lid buckled in storage, lid swelling up, lid poking up, lid pop off by itself, lid under pressure, button pop up, cap bulge, lid lifted in middle"},
	{LidFlat, "lid flat, dull thud when tapped, dull sound lid, lid not curved down, lid not concave, lid not sucked down, lid not dipped, lid not down, middle not down, lid stands up, lid never pop, lid didnt pop, no dip in lid"},
	{LidDented, "lid dent, dent, lid crease, lid knocked, lid buckled on canning day, bump in lid"},
	{PressGives, "lid push, lid springs back, lid pop when push, lid goes up and down, lid clicks, push middle moves, lid flexes, button moves, lid not tight middle gives, lid pop, center pop"},
	{LiftOff, "lid loos, lid moves side to side, lid came off in hand, seal compound came off, unsealed itself, seal broke, lid comes loos, lid not sealed, seal broken, seal failed, lost seal, lid unsealed, not sealed, didnt seal, came unsealed, false seal, lid slides, lid fell, lid lifts easily, seal let loos, lid not stuck"},
	{SeepStreak, "streak down side, stick under lid, sugar outside, white crust outside, mouse chewed, dried streak on outside, stick outside, dried juice on outside, stick lid, stain on label under lid, juice ran down, trail from lid, dried drip side, stick rim, stick ring, residue outside, crust around rim"},
	{SeepWet, "leak, stick puddle, weeping from lid, juice leak, liquid coming out, wet under, puddle under, wet outside, wet ring on shelf, drip from lid, leak on shelf, shelf wet, oozing from lid, liquid on shelf"},
	{SeepFirstDay, "boiled over in canner, siphoned food outside, residue after canning washed off, greasy outside after canning, food between ring and lid after canning"},
	{RustSpots, "rust, rust lid, rust spots lid, rust ring, rust around edge, rust band, orange spots on lid"},
	{RustThrough, "rust through, rust hole, hole in lid, lid rust deep, pinhole in lid, lid eaten through from outside, badly rust lid, flaking rust"},
	{GlassCracked, "crack, glass crack, chip glass, chip rim, crack down side, bottom fell out, glass broke, jar broke, line in glass, hairline crack"},
	{CloudSettled, "white sediment bottom, clear liquid under red, water on bottom, water at bottom, juice separated, juice below, meat sank broth on top, chalk sediment, sediment bottom, white bottom, cloud bottom, layer at bottom, white powder bottom, separated layers, clear on top pulp at bottom, stuff sunk to bottom, settled bottom, starch bottom, liquid separated, pulp floats clear below, white at the bottom, sandy bottom, yellow layer clear liquid, separating"},
	{CloudHazy, "cloud, liquid cloud, brine cloud, water cloud, cloud juice, cloud broth, not clear, milk liquid, cloud syrup, white cloud water"},
	{CloudMurky, "murk, liquid murk, thick liquid, string liquid, threads in liquid, brine thick, ropy brine, dirty water, slim liquid, strings floating, cobweb in liquid, gunky liquid, stringy brine"},
	{BubblesStill, "bubbl, air bubbl, trapped bubbl, tiny bubbl not moving, bubbl stuck on side, bubbl in jam, air pockets, bubbl at the glass, few bubbl, air gaps, holes in jam"},
	{BubblesRising, "bubbl ris, bubbl moving, foam, fizz, ferment, bubbl up like soda, bubbl coming up, stream of bubbl, active bubbl, gas, fizzing when moved, working, bubbl to the top, carbonated, champagne bubbl"},
	{LevelLow, "level low, lost water in canner, juice below food, liquid low, not full, food above liquid, lost liquid in canner, siphoned, liquid loss, too much headspace, fruit not covered, top not covered, some liquid lost, exposed food, beans sticking out, half inch low, food out of the liquid, headspace big"},
	{LevelOwn, "no liquid, hardly liquid, meat without liquid, dry jar, beans soaked up water, absorbed liquid, corn soaked liquid, dry looking meat, liquid absorbed, soaked up all the water"},
	{LevelHalf, "half liquid gone, half empty, more than half liquid lost, only half full of liquid, most liquid gone after canning, liquid half way"},
	{LevelDropped, "level dropped on shelf, liquid lower than before, liquid going down, level fell in storage, less liquid than last month, liquid disappeared, evaporated, level drop since, liquid down over time"},
	{BodyUnset, "jam runn, jelly weeping, liquid on top of jam, weeping jelly, jam water, jelly runn, jam did not set, jelly didnt set, jam not thick, jelly like syrup, never set, jam too thin, soft set, unset, did not jell, jam loose, jelly soft, jam liquid"},
	{BodySoft, "soft, fell apart, beans fell apart, shriveled, hollow, hollow inside, wrinkled pickles, food soft, pickles soft, soft pickles not crisp, not crunchy, food falling, fruit soft, beans soft, texture soft, overcooked, limp pickles, mush pickles, rubbery, lost crunch"},
	{BodySlimy, "slim, pickles slim, food slim, slim okra, mush, turned to mush, falling apart, food broke down, slim texture, slim feel, fruit mush, slim pickles"},
	{ColorTop, "top brown, top dark, brown on top, dark on top, top layer brown, peaches brown top, top pieces brown, fruit at top darker, dark above liquid, brown where no liquid, top inch discolored, dark band at top, top gray, top layer dark, jam dark on top"},
	{ColorFaded, "fade, color fade, pale, lost color, color washed out, lighter than before, strawberries white, bleached, fruit lost color, color gone, dull color, strawberries pale"},
	{ColorPink, "pink, turned pink, pears pink, brine pink, fruit pink, red color, pickles pink, pink liquid, pink tint, pink kraut, apples pink, meat pink"},
	{ColorGarlic, "garlic blue, garlic green, garlic turned blue, blue garlic, green garlic, purple garlic, turquoise garlic, pink garlic, pink cauliflower, cauliflower turned pink"},
	{ColorBlue, "blue, green, purple, beets blue, turned blue, cabbage blue, blue tint, pears purple, blueberries blue"},
	{ColorBrowned, "brown, turned brown, brown all through, all brown, apples brown, corn brown, pears brown, jam brown, applesauce brown, potatoes brown, color brown, brown throughout, peaches brown, brown liquid, caramel color corn, darker than last year jam, green beans brown"},
	{ColorDark, "dark, gray, turned gray, turned dark, meat gray, potatoes dark, pickles dark, gray liquid, beets dark, black food, dark meat, black pickles, fish dark, color dark, dark liquid, black color, gray green"},
	{ColorOdd, "color wrong, color went yellow, turned yellow, unnatural color, color changed, orange tint, yellow color, green liquid, neon color, different color, color not right, green slime color, orange liquid, rainbow color"},
	{MoldSeen, "mold, fuzz, white fuzz, green fuzz, mold on top, black fuzz, mold under lid, mold on jam, white spots on top fuzz, gray fuzz, blue fuzz, fuzz spots, white patches on top, green spots on top, black mold, scraped mold off, growth on top, island on top, something growing, growing, mold ring, white dot fuzz on top, fuzz ball, fuzz inside"},
	{DepositCrystals, "crystal, sugar crystal, crystal in jelly, glass like bits, crystal in salmon, glass in fish, needles in tuna, grit jelly, crystal grape, white crystal, jam sugary, sand in jelly, crunchy bits, sharp bits, crystal bottom, yellow crystal, hard bits"},
	{DepositRecipe, "spice at the bottom, mustard seed, dill seed, seeds at the bottom, ground spice, pulp in the jar, pepper flakes, herbs floating"},
	{DepositSpecks, "speck, lumps in salmon, yellow powder asparagus, seeds sprouting, scale on glass, sand looking spinach, white speck, yellow speck, white spots, white dots on food, black speck, white curd, curd on fish, white flakes floating, scale, white bits, white on tomatoes, yellow spots asparagus, yellow dots onions, white stuff on salmon, egg white looking, curdled, specks on food, white clumps fish, protein, white beads"},
	{TopFloat, "float, fruit float, pieces float, food float to top, fruit rose to top, pickles float, strawberries float, tomatoes float, gap at bottom, all fruit at top, peaches float, food risen, fruit up top liquid at bottom"},
	{TopFat, "fat on top, orange oil float salmon, jell on bottom meat, fat line, fat cap, white layer on top meat, hard white top, grease on top, white solid top, fat ring, solid layer top, yellow fat, broth jell, jell top, orange fat on top, waxy layer, white plug, soup congealed, stew white top, white hard disc, jell broth, meat in jell, gel around chicken"},
	{TopFoam, "foam on jam, dry foam, dried foam top, skimmed foam, jam foam top, foam skin jam, white foam jelly, bubbly layer on jam top, foam on top of jelly"},
	{TopFilm, "film on top, white film, scum on top, film on liquid, film on brine, white film brine, yeast on top, wrinkled film, skin on top of pickles, oily film, slim film top, milky film, cloud on top, thin white layer on top pickles, film floating"},

	{ReleaseNone, "no pop when opened, lid came off easily when opened, no vacuum, no resistance, opened too easily, no sound opening, no whoosh, no sound when opened, lid lifted right off opening, didnt pop when i opened it"},
	{ReleaseIn, "sucked air in when opened, popped inward, whoosh in, hard to get lid off, hard to open, pop when opened, hiss of air in when opened, sucking sound opening, had to pry, lid stuck on, vacuum sound, popped like normal when opened"},
	{ReleaseHiss, "hiss when opened, hiss, hiss out, gas came out, air came out opening, fizz when opened, sound like soda, pressure when opened, pop loud and hiss"},
	{ReleaseSpurt, "spurt, spurt when opened, liquid shot out, foam over when opened, exploded when opened, sprayed everywhere, bubbled over when opened, overflow opened, liquid shot, juice squirted, squirted at me"},
	{SmellOff, "smell, smell bad, smell sour, smell rotten, smell like beer, smell like wine, smell rancid, smell cheese, smell yeast, smell wrong, smell like rotten eggs, smell like feet, smell alcohol, smell fermented, funky smell, smell when opened, bad smell, smell musty, smell metallic, smell sulfur, smell like dirty socks, smell like nail polish"},
	{FilmFilm, "film on opened jar, film after opening, open jar film, scum on open jar, film in refrigerator"},
	{DaysWeek, "opened a week ago, open in fridge weeks, been open a while, opened days ago, open for weeks"},
	{FilmFoam, "foam after opening, open jar foam, bubbl after opening, opened jar fizz, foam in fridge"},
	{UnderlidDark, "black under lid, dark under lid, stain under lid, black spots under lid, lid stained inside, lid black inside, brown stain inside lid, gray lid under, under lid discolored, black deposit lid under, lid under dark, purple under lid"},
	{UnderlidPitted, "under lid hole, lid inside eaten, lid coating gone inside, under lid pitted, under lid corroded, under lid rust, rust inside lid, lid inside peeling, metal showing under lid, coating flaked under lid"},
	{UnderlidFuzzy, "fuzz under lid, mold under lid inside, white fuzz under lid, growth on lid underside, mold on inside of lid, green under lid fuzz"},

	{HeatExtreme, "left in hot car, attic, garage in summer, hot shed, heatwave, over 100 degrees, in the sun in car, hot storage, too hot, trunk of car, power out heat cellar, trailer hot, shed hot"},
	{FrozenHeld, "froz, froz in garage, jar froz, froz and thawed, ice in jar, got too cold, froz on porch, slush"},
	{FrozenThawed, "froz and lid popped, froz seal broke, froz lid loos, froz then leaked, froz lid pushed up"},
	{WetFlood, "flood, basement flood, under water, flood water, sewage, water got on jars, hurricane, water damage, submerged"},
	{WetDamp, "damp cellar, damp basement, condensation on jar, sweating jars, jars sweating, wet cellar, moisture lids, humid"},
	{PlaceFire, "fir, house fir, smoke damage, near fir, soot"},
	{PlaceLight, "sunlight, in window, sunny shelf, sun on jar, windowsill, light on shelf, sat in sun"},
	{PlaceHeater, "next to furnace, near stove, hot pipe, above oven, near heater, by woodstove, near water heater, radiator"},
	{AgeOlder, "three year old, very old, ancient, from 2019, five year old, ten years old, expired, out of date, years old, long time, ten yr, from years ago, exp"},
	{AgeUnknown, "no date, no label, dont know how old, unlabeled, no idea when, not dated, mystery age, grandmas from before, dont know who made it, unknown maker"},
	{OutDay, "left out overnight, left on counter, sat out, forgot on counter, left out, not put back in fridge, out all night, counter all day"},
	{ChillDay, "fridge broke, power outage, refrigerator off, fridge warm, power went out, fridge died, no power, lights out fridge, ice melted cooler, cooler warm"},
	{IllSeen, "ill after eating, vision, sick after eating, vision after eating, cant swallow, drooping eyelids, slurred speech, stomach ache after eating, ate and feel sick, weak after eating, dizzy after eating, throwing up, numb"},
	{SiblingsIll, "made someone ill, got sick from another jar, food poisoning from same batch, husband sick after eating a jar"},
	{SiblingsSpoiled, "other jars spoiled, another jar bulge, one jar of batch went bad, same batch mold, another jar exploded, one jar in batch spoiled"},
	{SiblingsSeal, "another jar didnt seal, one of batch not sealed, one of batch lost seal, sister jar unsealed"},
	{ClosureWax, "wax, paraffin, wax seal, wax on top, sealed with wax, paper cover"},
	{ClosureClamp, "glass top wire rubber, glass lid, rubber ring, wire bail, clamp lid, bail lid, glass top with wire, old style glass lid"},
	{ClosureCap, "zinc lid, zinc cap, plastic cap, screw cap, one piece lid, store jar lid, reused pickle jar, mayo jar, commercial jar lid, spaghetti sauce jar"},
	{LidDown, "lid sucked down, lid tight, tight as a drum, rings when tapped, lid curved down, lid concave, sealed tight, clear ring when tapped"},
	{AcidShort, "forgot lemon juice, forgot vinegar, forgot citric acid, no acid added, no lemon juice, too little vinegar, half the vinegar, less vinegar, weak vinegar"},
	{ExtrasVegetables, "added peppers, added onions, extra garlic, doubled the onions, more vegetables than recipe, added herbs, extra peppers"},
	{ExtrasThickener, "thick gravy, added flour, cornstarch, thickened, added thickener, roux"},
	{ExtrasStarch, "noodles, rice, pasta, barley, dumplings, noodles swelled, rice took up broth"},
	{ExtrasDairy, "butter added, cream in it, milk in it, cheese in it, butter went in, egg in it"},
	{ExtrasMeat, "added bacon, added meat, sausage in it, ham in it"},
	{ExtrasOil, "oil on top of vegetables, packed in oil, oil added, olive oil, garlic in oil"},
	{MethodBoiling, "boiled the beans hours, water bath, boiling water bath, waterbath meat, boiled vegetables"},
	{MethodCooker, "electric pressure pot, electric pressure cooker, multi cooker, canned in pressure pot"},
	{MethodHotFill, "turned upside down, flipped upside down, open kettle, sealed without boiling, hot fill, inverted, never processed, poured hot and closed"},
	{MethodOven, "oven canned, in the oven, dishwasher, microwave, baked the jars"},
	{ProcessShort, "wrong time, too short, not long enough, forgot altitude, altitude not added, water below lids, water boiled away, pressure dropped, pressure fell, wrong pressure, undercooked, underprocessed, used pint time for quart"},
	{ProcessUnvented, "didnt vent, not vented, forgot to vent, no venting"},
	{ProcessGauge, "gauge wrong, gauge off, gauge not tested, gauge never checked, gauge reads high"},
	{ClosureUsed, "reused lid, used lid, old lid used again, lid used twice, recycled lid"},
}
