package rules

import "slices"

// Group is a family of products, for browsing and for the picture.
type Group string

// The groups of the catalog, in shelf order.
const (
	GroupFruit     Group = "fruit"
	GroupJam       Group = "jam"
	GroupForaged   Group = "foraged"
	GroupPickle    Group = "pickle"
	GroupSalsa     Group = "salsa"
	GroupTomato    Group = "tomato"
	GroupVegetable Group = "vegetable"
	GroupBroth     Group = "broth"
	GroupSoup      Group = "soup"
	GroupPoultry   Group = "poultry"
	GroupMeat      Group = "meat"
	GroupGame      Group = "game"
	GroupCured     Group = "cured"
	GroupFish      Group = "fish"
	GroupNever     Group = "never"
	GroupUnlisted  Group = "unlisted"
)

// GroupNames holds each group's heading, in shelf order.
var GroupNames = []struct {
	Group Group
	Name  Text
}{
	{GroupFruit, "Fruit and juice"},
	{GroupJam, "Jam, jelly and fruit butter"},
	{GroupForaged, "Flowers and foraged food"},
	{GroupPickle, "Pickles and relishes"},
	{GroupSalsa, "Salsa"},
	{GroupTomato, "Tomatoes"},
	{GroupVegetable, "Vegetables"},
	{GroupBroth, "Broth"},
	{GroupSoup, "Soup, stew and beans"},
	{GroupPoultry, "Poultry"},
	{GroupMeat, "Red meat"},
	{GroupGame, "Game"},
	{GroupCured, "Cured meat"},
	{GroupFish, "Fish and shellfish"},
	{GroupNever, "Must not be canned"},
	{GroupUnlisted, "Not in the list"},
}

// LookAlike is a harmless oddity that a product is known for.
type LookAlike struct {
	Trait Value // the Yes value of the trait
	Looks Text  // what is seen
	Cause Text  // why
	Flip  Text  // what makes it a danger after all
	Cites []Cite
}

// Range is a pH range in hundredths: 350 is pH 3.50. The zero Range is none.
type Range struct{ Low, High int }

// Product is one kind of food in the catalog.
type Product struct {
	ID    string
	Name  Text
	Group Group
	Food  string   // filling style of the picture
	Also  []string // regional names, plurals that are not regular, common misspellings
	Class Value
	Route Value
	Keeps Value
	PH    Range
	Looks []*LookAlike
	// Caution says why the product has no safe process, or what it needs.
	Caution Text
	// Condition is what has to be asked about the food for its published process
	// to hold; nil when the other questions ask everything.
	Condition *Condition
	// Pigment marks food colored by a pigment that is red in acid and turns blue
	// without it.
	Pigment bool
	// Opaque marks food that is never clear, although its filling style is that of
	// pieces in a liquid; Ropy marks food whose own juice is slippery.
	Opaque, Ropy bool
	// RecipeThickens marks the one food whose tested recipe holds a flour paste:
	// flour is no addition there.
	RecipeThickens bool
	Cites          []Cite
}

// Tell narrows the situation to what the catalog knows of the product. A
// look-alike that is not listed is not harmless.
func (p *Product) Tell(s *Situation) error {
	values := []Value{p.Class, p.Route, p.Keeps, p.warms()}
	for t := SignHazes; t <= SignTogether; t++ {
		v := p.withoutLook(t)
		for i := range p.Looks {
			if p.Looks[i].Trait.Sign() == t {
				v = p.Looks[i].Trait
			}
		}
		values = append(values, v)
	}
	if p.Condition == nil {
		values = append(values, ConditionMet)
	}
	return s.Tell(values...)
}

// Processed reports whether a tested process is published for the food, after which
// it can be kept.
func (p *Product) Processed() bool { return p.Route <= RoutePressure }

// ForMonths reports whether a published recipe keeps the food for some months, after
// which it is eaten up.
func (p *Product) ForMonths() bool { return p.Route == RouteMonths || p.Route == RouteBottle }

// OnShelf is what a jar of the food may be that stands on a shelf and was not opened:
// closed, or never sealed at all.
func (p *Product) OnShelf() []Value {
	if p.Route == RouteBottle {
		return []Value{OpenedNo, OpenedBottle}
	}
	return []Value{OpenedNo}
}

// withoutLook is the value of a trait that no look-alike of the product gives.
func (p *Product) withoutLook(trait SignID) Value {
	switch {
	case trait == SignTogether:
		return TogetherNo
	case trait == SignBlues && p.Pigment:
		return BluesAcid
	}
	return Signs[trait].Values[1].Value
}

// Worded returns the question in the words of the product: what its process
// depends on is different for each.
func (p *Product) Worded(q Question) Question {
	if p.RecipeThickens && slices.Contains(q.Signs, SignExtras) {
		q.How = "The flour paste that its tested recipe stirs in before canning does not count; more flour, or another thickener, does."
	}
	for i := range FoodWordings {
		if w := &FoodWordings[i]; slices.Contains(q.Signs, w.Sign) && w.fits(p) {
			q = w.put(q)
		}
	}
	c := p.Condition
	if c == nil || len(q.Signs) != 1 || q.Signs[0] != SignCondition {
		return q
	}
	q.Ask, q.Why = c.Ask, c.Why
	choices := slices.Clone(q.Choices)
	for i := range choices {
		switch choices[i].ID {
		case ConditionMet.ID():
			choices[i].Label = c.OK
		case ConditionNot.ID():
			choices[i].Label = c.Not
		}
	}
	q.Choices = choices
	return q
}

// LookAlikeFor returns the product's harmless look-alike behind a trait, or nil.
func (p *Product) LookAlikeFor(trait SignID) *LookAlike {
	for i := range p.Looks {
		if p.Looks[i].Trait.Sign() == trait {
			return p.Looks[i]
		}
	}
	return nil
}
