package process

import (
	"slices"

	"larderlamp/rules/evidence"
	"larderlamp/rules/prose"
)

// Pack is how the food goes into the jar, or the set of packs still possible.
type Pack uint8

// The packs. A row for hot or raw pack carries both.
const (
	Hot Pack = 1 << iota
	Raw
	anyPack = Hot | Raw
)

// Size is a jar size, or the set of sizes still possible. The published sizes
// are the half-pint, the pint, the quart and the half-gallon.
type Size uint8

// The jar sizes, from small to large: of 4, 8, 12, 16, 24 to 28, 32 and 64 US
// fluid ounces. OtherJar is a size that is not known to be one of these, such
// as a gallon: nothing is ever carried over to it. See [Food.size] for the
// sizes in between.
const (
	FourOunce Size = 1 << iota
	HalfPint
	TwelveOunce
	Pint
	TwentyFourOunce // and the 28-ounce jar
	Quart
	HalfGallon
	OtherJar
	anyJar = FourOunce | HalfPint | TwelveOunce | Pint | TwentyFourOunce | Quart | HalfGallon | OtherJar
)

// Method is how the closed jars were heated, or the set still possible.
type Method uint8

// The methods. Pasteurized is half an hour in water kept at 180 to 185 °F by a
// thermometer. OtherMethod is every way without published times: oven,
// multi-cooker, hot fill, none. Only the first two have rows; see [Lines] for
// what a steam canner may borrow, and [Food.LowHeat] for pasteurizing.
const (
	BoilingWater Method = 1 << iota
	Pressure
	SteamCanner
	Pasteurized
	OtherMethod
	anyMethod = BoilingWater | Pressure | SteamCanner | Pasteurized | OtherMethod
)

// Gauge is the kind of pressure gauge, or the set still possible.
type Gauge uint8

// The gauges.
const (
	Dial Gauge = 1 << iota
	Weighted
	anyGauge = Dial | Weighted
)

// Cite names the published work a figure comes from.
type Cite struct {
	Source   string // body, title, number
	Evidence evidence.Mark
}

// String is it in English.
func (c Cite) String() string { return c.Text().String() }

// Text returns the source and how it is known.
func (c Cite) Text() prose.Text { return prose.Say("%s (%s)", c.Source, c.Evidence) }

// Food is one product in one form, with every published process for it.
type Food struct {
	ID   string // names the product in the catalog; shared by its forms
	Name prose.Text
	Form prose.Text // in English it names the form in records
	Acid Acid
	Rows []Row
}

// LowHeat is the source when the recipe of the food itself allows
// low-temperature pasteurizing instead of boiling; the zero Cite for every other
// food. "Use this treatment only when the recipe says so" is its first rule.
func (f *Food) LowHeat() (c Cite) {
	switch f.ID {
	case "quick-fresh-pack-dill-pickles":
		return michigan("01600865")
	case "dill-pickles-fermented", "quick-sweet-pickles":
		return text1994Pickles()
	}
	return
}

// Canner is how many quarts the canner must hold for the process of the food, at
// least and at most; zero when any size will do.
func (f *Food) Canner() (least, most int) {
	// National Center for Home Food Preservation, Smoked Fish (read).
	if f.ID == "smoked-fish" {
		return 16, 22
	}
	return
}

// Row is one line of a published table.
type Row struct {
	Pack Pack
	Jar  Size
	Process
	Cite Cite
	Note prose.Text // what copies of the table disagree about, or what else the procedure needs
}

// Process is what a row asks for: minutes in boiling water, or minutes and
// pressures in a pressure canner.
type Process struct {
	// Minutes by altitude: to 1,000 ft, to 3,000 ft, to 6,000 ft, above.
	// Under pressure all four are the same.
	Minutes [4]uint8
	// High is Utah State University Extension's stricter boiling-water time
	// above 8,000 ft, where it prints one; otherwise 0.
	High uint8
	Pressures
}

// Pressures are pounds per square inch by altitude; 0 means not published.
type Pressures struct {
	Dial     [4]uint8 // to 2,000 ft, to 4,000 ft, to 6,000 ft, to 8,000 ft
	Weighted [2]uint8 // to 1,000 ft, above
}

// The pressures that occur in the tables. Food that is not acid gets the
// standard set; acid fruit and acidified tomatoes may have a mild one. The
// shortest tomato processes use 15 pounds, and only to 1,000 ft.
var (
	standard         = Pressures{[4]uint8{11, 12, 13, 14}, [2]uint8{10, 15}}
	standardDial     = Pressures{Dial: standard.Dial}
	standardWeighted = Pressures{Weighted: standard.Weighted}
	mild             = Pressures{[4]uint8{6, 7, 8, 9}, [2]uint8{5, 10}}
	mildDial         = Pressures{Dial: mild.Dial}
	mildWeighted     = Pressures{Weighted: mild.Weighted}
	fifteen          = Pressures{Weighted: [2]uint8{15, 0}}
)

// boil4 is a boiling-water row with four altitude bands.
func boil4(to1000, to3000, to6000, above uint8) Process {
	return Process{Minutes: [4]uint8{to1000, to3000, to6000, above}}
}

// boil3 is a boiling-water row printed with three bands: to 1,000 ft, to
// 6,000 ft, above.
func boil3(to1000, to6000, above uint8) Process {
	return Process{Minutes: [4]uint8{to1000, to6000, to6000, above}}
}

// boil5 has the stricter time above 8,000 ft too.
func boil5(to1000, to3000, to6000, above, high uint8) Process {
	return Process{Minutes: [4]uint8{to1000, to3000, to6000, above}, High: high}
}

// press is a pressure row.
func press(minutes uint8, p Pressures) Process {
	return Process{Minutes: [4]uint8{minutes, minutes, minutes, minutes}, Pressures: p}
}

// Method reports whether it is a boiling-water or a pressure process.
func (p *Process) Method() Method {
	if p.Pressures == (Pressures{}) {
		return BoilingWater
	}
	return Pressure
}

// BoilingMinutes returns the boiling-water minutes at an altitude, the stricter
// figure where two sources differ.
func (p *Process) BoilingMinutes(at Feet) int {
	if at > 8000 {
		return int(max(p.Minutes[3], p.High))
	}
	return int(p.Minutes[band(at, 1000, 3000, 6000)])
}

// PSI returns the pressure at an altitude for one kind of gauge; 0 means that
// none is published.
func (p *Process) PSI(g Gauge, at Feet) int {
	switch {
	case g == Weighted:
		return int(p.Weighted[band(at, 1000)])
	case at > 8000: // the printed dial tables end here
		return 0
	}
	return int(p.Dial[band(at, 2000, 4000, 6000)])
}

// band counts the edges that lie below an altitude. An edge belongs to the
// lower band.
func band(at Feet, edges ...Feet) (n int) {
	for _, e := range edges {
		if at > e {
			n++
		}
	}
	return
}

// guide is the source of nearly every figure.
const guide = "US Department of Agriculture, Complete Guide to Home Canning, AIB 539"

// Each source is a function that is one literal: so the tables are data, and no
// code has to build them at start. recalled was not read; text1994 and later were
// read in copies of the editions named, copied in a reprint whose origin is not
// stated, maker in the booklet of a maker of canners, and recipe on a page that
// reprints the recipes of the National Center. The bulletins of Michigan were read
// in an archive, those of Florida where they are published.
func copiedFruit() Cite {
	return Cite{guide + " (figures in an unnamed reprint), Guide 2, fruit", evidence.Copied}
}
func copiedPickles() Cite {
	return Cite{guide + " (figures in an unnamed reprint), Guide 6, fermented food and pickled vegetables", evidence.Copied}
}
func copiedJams() Cite {
	return Cite{guide + " (figures in an unnamed reprint), Guide 7, jams and jellies", evidence.Copied}
}
func laterFruit() Cite {
	return Cite{guide + " (after 1994, as reprinted), Guide 2, fruit", evidence.Copied}
}
func laterTomatoes() Cite {
	return Cite{guide + " (after 1994, as reprinted), Guide 3, tomatoes", evidence.Copied}
}
func laterPickles() Cite {
	return Cite{guide + " (after 1994, as reprinted), Guide 6, fermented food and pickled vegetables", evidence.Copied}
}
func recalledFruit() Cite    { return Cite{guide + " (2015), Guide 2, fruit", evidence.Memory} }
func recalledTomatoes() Cite { return Cite{guide + " (2015), Guide 3, tomatoes", evidence.Memory} }
func recalledMeats() Cite {
	return Cite{guide + " (2015), Guide 5, poultry, red meats and seafoods", evidence.Memory}
}
func recalledPickles() Cite {
	return Cite{guide + " (2015), Guide 6, fermented food and pickled vegetables", evidence.Memory}
}
func recalledJams() Cite     { return Cite{guide + " (2015), Guide 7, jams and jellies", evidence.Memory} }
func text1994Fruit() Cite    { return Cite{guide + " (1994 text), Guide 2, fruit", evidence.Copied} }
func text1994Tomatoes() Cite { return Cite{guide + " (1994 text), Guide 3, tomatoes", evidence.Copied} }
func text1994Vegetables() Cite {
	return Cite{guide + " (1994 text), Guide 4, vegetables", evidence.Copied}
}
func text1994Meats() Cite {
	return Cite{guide + " (1994 text), Guide 5, poultry, red meats and seafoods", evidence.Copied}
}
func text1994Pickles() Cite {
	return Cite{guide + " (1994 text), Guide 6, fermented food and pickled vegetables", evidence.Copied}
}

func maker(page string) Cite {
	return Cite{guide + ", as reprinted in a booklet of a maker of canners, " + page, evidence.Copied}
}
func recipe(name string) Cite {
	return Cite{"University of Georgia, So Easy to Preserve (2020), and National Center for Home Food Preservation, as reprinted: " + name, evidence.Copied}
}

func michigan(bulletin string) Cite {
	return Cite{"Michigan State University Extension, bulletin " + bulletin + " (1997, from AIB 539)", evidence.Copied}
}

func florida(number string) Cite {
	return Cite{"University of Florida IFAS Extension, " + number + " (from AIB 539)", evidence.Read}
}

var (
	center        = Cite{"National Center for Home Food Preservation, Standard Tomato Sauce (from AIB 539, 2015)", evidence.Read}
	mincemeat     = Cite{"National Center for Home Food Preservation, Festive Mincemeat Pie Filling (from AIB 539, 2015)", evidence.Read}
	cranberry     = Cite{"National Center for Home Food Preservation, Spicy Cranberry Salsa", evidence.Read}
	reducedSodium = Cite{"National Center for Home Food Preservation, Reduced-Sodium Sliced Dill Pickles (from AIB 539, 2009)", evidence.Read}
	wisconsin     = Cite{"a county extension sheet on tomato juice after University of Wisconsin Extension, Tomatoes Tart and Tasty, as stored", evidence.Copied}
	asianReprint  = Cite{"National Center for Home Food Preservation, Pears, Asian, as reprinted", evidence.Copied}
	asianPears    = Cite{"National Center for Home Food Preservation, Pears, Asian (from Oregon State University SP 50-694)", evidence.Read}
	tuna          = Cite{"Oregon State University Extension, answers 473000 (2018) and 889422 (2024); pints in a booklet of a maker of canners", evidence.Copied}
	jarSizes      = Cite{"National Center for Home Food Preservation, Jar size choices have you frustrated?; Kansas State University Extension, Choose the right jar (2019)", evidence.Read}
	oklahoma      = Cite{"Oklahoma State University Extension, Chile Salsa (from AIB 539)", evidence.Read}
	// noLiquid stands for raw tomatoes without liquid: two bulletins.
	noLiquid = Cite{florida("FCS8189 (HE178)").Source + "; dial pressures " + michigan("01600875").Source, evidence.Copied}
)

// UtahHigh is the source of [Process.High].
var UtahHigh = Cite{"Utah State University Extension, fruit canning table, column for 8,001 to 10,000 ft", evidence.Copied}

// Acid is what a food needs besides heat.
type Acid uint8

// The acid requirements of the tables.
const (
	NoAcid Acid = iota
	TomatoDose
	FigDose
	AsianPearDose
	RecipeLemon
	RecipeSalsa
	RecipeKetchup
	RecipeVinegar
	RecipeMarinade
	RecipeCrab
	Fermented
)

var acids = [...]struct {
	text prose.Text
	cite Cite
}{
	NoAcid:         {},
	TomatoDose:     {"per quart: 2 tbsp bottled lemon juice or 1/2 tsp citric acid (or 4 tbsp 5% vinegar); per pint: 1 tbsp or 1/4 tsp (or 2 tbsp vinegar); needed for pressure options too", michigan("01600875")},
	FigDose:        {"2 tbsp bottled lemon juice or 1/2 tsp citric acid per quart (1 tbsp or 1/4 tsp per pint)", michigan("01600838")},
	AsianPearDose:  {"2 tbsp bottled lemon juice per quart (1 tbsp per pint)", asianPears},
	RecipeLemon:    {"lemon juice is in the tested recipe; do not omit", michigan("01600846")},
	RecipeSalsa:    {"bottled lemon/lime juice or 5% vinegar in the tested recipe; never reduce", laterTomatoes()},
	RecipeKetchup:  {"vinegar in the tested recipe", michigan("01600827")},
	RecipeVinegar:  {"5% vinegar in the tested recipe", text1994Pickles()},
	RecipeMarinade: {"bottled lemon juice and 5% vinegar in the tested recipe", michigan("01600863")},
	RecipeCrab:     {"guide recipe adds lemon juice or citric acid", michigan("01600852")},
	Fermented:      {"fermented acid; must be fully fermented", laterPickles()},
}

// String is it in English.
func (a Acid) String() string { return a.Text().String() }

// Text says what is needed; empty when nothing is.
func (a Acid) Text() prose.Text { return acids[a].text }

// Cite names the source of the requirement; the zero Cite when there is none.
func (a Acid) Cite() Cite { return acids[a].cite }

// Foods lists every food of the tables, in printed order. Callers must not
// change it.
var Foods = slices.Concat(fruit, jams, tomatoes, pickles, vegetables, meats)

// byID gathers the forms of each product.
var byID = func() map[string][]Food {
	m := map[string][]Food{}
	for _, f := range Foods {
		m[f.ID] = append(m[f.ID], f)
	}
	return m
}()

// Forms lists the forms a product is published in; nil when it is not in the
// tables.
func Forms(product string) (forms []prose.Text) {
	for _, f := range byID[product] {
		forms = append(forms, f.Form)
	}
	return
}

// FoodOf finds the food of a product in a form, as records name them.
func FoodOf(product, form string) (*Food, bool) {
	of := byID[product]
	for i := range of {
		if of[i].Form.String() == form {
			return &of[i], true
		}
	}
	return nil, false
}
