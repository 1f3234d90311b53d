package rules

import (
	"slices"
	"sync"
)

// Catalog holds every product, in shelf order. It is read only.
//
// A product's acid class is the class its source gives it, never computed from
// its pH: many ranges straddle 4.6. Where a source leaves room, the
// stricter class is used, and a food for which no source names a process has
// [RouteNone].
var Catalog = slices.Concat(
	catalogFruit,
	catalogJam,
	catalogForaged,
	catalogMoreForaged,
	catalogPickle,
	catalogMorePickle,
	catalogSalsa,
	catalogTomato,
	catalogVegetable,
	catalogBroth,
	catalogSoup,
	catalogPoultry,
	catalogMeat,
	catalogGame,
	catalogCured,
	catalogFish,
	catalogNever,
	catalogMoreNever,
	catalogUnlisted,
)

// productAt finds the place of a product in the catalog by its id.
var productAt = sync.OnceValue(func() map[string]int {
	at := make(map[string]int, len(Catalog))
	for i := range Catalog {
		at[Catalog[i].ID] = i
	}
	return at
})

// ProductByID returns the product with that id; ok is false when there is none.
func ProductByID(id string) (p *Product, ok bool) {
	i, ok := productAt()[id]
	if !ok {
		return nil, false
	}
	return &Catalog[i], true
}

// ProductsOf lists the products of a group, in shelf order.
func ProductsOf(g Group) (ps []*Product) {
	for i := range Catalog {
		if Catalog[i].Group == g {
			ps = append(ps, &Catalog[i])
		}
	}
	return
}

// Cautions that several products share.
const (
	needsAcid    = "Needs its full acid in every jar: 2 tablespoons bottled lemon juice or half a teaspoon citric acid for each quart (about a liter), half of that for a pint."
	needsRecipe  = "Acid only through its published recipe: never less vinegar or lemon juice, never more vegetables."
	needsVinegar = "Needs vinegar of at least 5 % acidity, in the amount of the published recipe."
)

// The lists of pH values. An entry is marked as from memory where it was recalled.
// These cites, and similar ones in the other files, are functions, not variables:
// the compiler turns such a call into data, while a variable would be copied by
// code each time a program starts.
func phFDA() Cite    { return read(&srcFDApH, "entry for the food") }
func phRecall() Cite { return memory(&srcFDApH, "entry for the food") }
func phBug() Cite    { return read(&srcBadBug, "entry for the food") }
func phIdaho() Cite  { return read(&srcIdahoPH, "entry for the food") }
