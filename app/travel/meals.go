package travel

import (
	"larderlamp/app/record"
	"larderlamp/rules"
	"larderlamp/rules/packing"
)

// luggage is what a filled jar of a size weighs, and how much room it takes in
// a box. From memory: household jars of these sizes with lid and band.
var luggage = map[string]struct{ grams, space int }{
	"4-ounce": {240, 320}, "half-pint": {450, 600}, "12-ounce": {640, 780}, "pint": {820, 950}, "24-ounce": {1290, 1510}, "quart": {1450, 1700}, "half-gallon": {2800, 3200}, "other": {1150, 1350},
}

// DishOf sorts a product into [Dishes]. Unknown contents belong to none: below
// zero.
func DishOf(p *rules.Product) int {
	switch p.Group {
	case rules.GroupFruit:
		return 0
	case rules.GroupJam:
		return 1
	case rules.GroupPickle, rules.GroupSalsa:
		return 2
	case rules.GroupTomato:
		return 3
	case rules.GroupVegetable:
		return 4
	case rules.GroupBroth, rules.GroupSoup:
		return 5
	case rules.GroupPoultry, rules.GroupMeat, rules.GroupGame, rules.GroupCured, rules.GroupFish:
		return 6
	}
	switch p.Keeps {
	case rules.KeepsJam, rules.KeepsReduced:
		return 1
	case rules.KeepsAcid:
		return 0
	}
	if p.ID == "unknown-contents" {
		return -1
	}
	return 4
}

// OpenDays is how many days a jar keeps when it is opened and kept cold,
// counting the day of opening; 0 when it does not keep.
func OpenDays(s rules.Situation) int {
	s.Forget(rules.SignOpened)
	if s.Tell(rules.OpenedBefore) != nil {
		return 0
	}
	return rules.KeptDays(s)
}

// wanted spreads the meals over the days.
func (j *Journey) wanted() {
	t := j.Trip
	portions := max(1, (t.People*t.Appetite+99)/100)
	for d := range t.Days {
		for k, n := range t.Meals {
			for i := range n {
				if (2*i+1)*t.Days/(2*n) == d {
					j.Meals = append(j.Meals, packing.Meal{Day: d, Kind: k, Portions: portions, Extra: 1})
				}
			}
		}
	}
}

// problem describes the trip for the packing. loose leaves out one demand.
func (j *Journey) problem(loose string) (*packing.Trip, []*Traveler) {
	t := j.Trip
	limit := func(n int, what string) int {
		if n == 0 || loose == what {
			return packing.Unlimited
		}
		return n
	}
	p := &packing.Trip{Meals: j.Meals, Cold: j.Cold, Grams: limit(t.Grams, BindWeight), Space: limit(t.Space, BindSpace)}
	if loose == BindCold {
		p.Cold = make([]int, t.Days)
		for d := range p.Cold {
			p.Cold[d] = t.Days - 1
		}
	}
	var of []*Traveler
	for _, tr := range j.Jars {
		last := tr.LastDay
		switch {
		case tr.Fate == NotNeeded:
		case tr.Fate == Stays && (tr.Why == WhyHeat || tr.Why == WhyFrost) && loose == BindHeat:
		default:
			continue
		}
		if loose == BindHeat {
			last = t.Days
		}
		first := 0
		if tr.Best == rules.UseSoon {
			first = 3
		} else if tr.Basis.Age >= usesFirst {
			first = 1
		}
		ml := 0
		for _, s := range record.Sizes {
			if s.ID == tr.batch.Size || tr.batch.Size == "" && s.ID == "other" {
				ml = s.Milliliters
			}
		}
		p.Jars = append(p.Jars, packing.Candidate{
			Kind: tr.Dish, Portions: max(1, (ml+record.Dishes[tr.Dish].Milliliters/2)/record.Dishes[tr.Dish].Milliliters),
			Grams: tr.Grams, Space: tr.space, LastDay: last, Fridge: OpenDays(tr.base), First: first, Age: tr.Basis.Age, Must: tr.Must})
		of = append(of, tr)
	}
	return p, of
}

// pack chooses the jars, and says why the rest stays.
func (j *Journey) pack(pl *Planner) {
	for _, tr := range j.Jars {
		if tr.Must && tr.Fate != NotNeeded {
			j.Refused = append(j.Refused, tr.Jar.ID)
		}
	}
	problem, of := j.problem("")
	j.packed = of
	plan, err := packing.Solve(problem)
	if err != nil || plan == nil {
		// Only the jars that must come can be too much.
		j.Binds = append(j.Binds, Bind{What: BindWeight})
		if grams, _ := problem.Must(); grams <= problem.Grams {
			j.Binds[0].What = BindSpace
		}
		return
	}
	j.Plan = plan
	for _, o := range plan.Openings {
		of[o.Jar].Fate, of[o.Jar].Opens = Goes, o.Meal
	}
	for i, tr := range of {
		if tr.Fate == Goes {
			continue
		}
		if tr.Must {
			tr.Fate = Spare
			continue
		}
		tr.Why = j.notNeeded(&problem.Jars[i])
	}
	if missed := len(plan.Missed); missed > 0 {
		for _, loose := range []string{BindWeight, BindSpace, BindCold, BindHeat} {
			p, _ := j.problem(loose)
			if better, err := packing.Solve(p); err == nil && better != nil && len(better.Missed) < missed {
				j.Binds = append(j.Binds, Bind{loose, missed - len(better.Missed)})
			}
		}
		if len(j.Binds) == 0 {
			j.Binds = []Bind{{BindStock, 0}}
		}
	}
}

// notNeeded says why the plan does without a jar.
func (j *Journey) notNeeded(jar *packing.Candidate) string {
	why := WhyNoMeal
	for _, m := range j.Meals {
		if m.Kind != jar.Kind {
			continue
		}
		if m.Day > jar.LastDay {
			if why == WhyNoMeal {
				why = WhyTooLate
			}
			continue
		}
		// Could it be opened here and finished, or kept cold to the end?
		left, until := jar.Portions-m.Portions-m.Extra, min(m.Day+jar.Fridge-1, j.Cold[m.Day])
		if left <= 0 || until >= j.Trip.Days-1 {
			return WhyOthers
		}
		for _, later := range j.Meals {
			if later.Kind == jar.Kind && later.Day > m.Day && later.Day <= until {
				left -= later.Portions + later.Extra
			}
		}
		if left <= 0 {
			return WhyOthers
		}
		why = WhyTooMuch
	}
	return why
}

// Served lists the meals of the plan in order, including those that the jars do
// not cover.
func (j *Journey) Served() (lines []record.Served) {
	if j.Plan == nil {
		return nil
	}
	opens := map[packing.Opening]bool{}
	for _, o := range j.Plan.Openings {
		opens[o] = true
	}
	of := make([][]packing.Serving, len(j.Meals))
	for _, s := range j.Plan.Servings {
		of[s.Meal] = append(of[s.Meal], s)
	}
	for m, meal := range j.Meals {
		if len(of[m]) == 0 {
			lines = append(lines, record.Served{Meal: m, Day: meal.Day, Dish: meal.Kind})
		}
		for _, s := range of[m] {
			lines = append(lines, record.Served{Meal: m, Day: meal.Day, Dish: meal.Kind, Jar: j.packed[s.Jar].Jar.ID, Open: opens[packing.Opening{Jar: s.Jar, Meal: s.Meal}], Left: s.Left})
		}
	}
	return
}
