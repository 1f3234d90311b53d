package pantry

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"time"

	"larderlamp/rules"
	"larderlamp/rules/keeping"
	"larderlamp/rules/order"
	"larderlamp/rules/packing"
)

// What is taken for granted on a trip. Ours, unless said otherwise.
const (
	unsure    = 3.0 // degrees by which a forecast may be wrong
	openings  = 12  // of a cooler, a day
	dailyFood = 0.1 // kg for each person that go into the cooler warm, a day
	leaves    = 9   // o'clock, on the first and on the last day
	firstMeal = 8
	lastMeal  = 20 // o'clock: meals lie between
	refills   = 10 // o'clock: fresh ice goes in
	// usesFirst is the age in days from which a jar that keeps should go before
	// younger ones: the season before last year's.
	usesFirst = 270
)

// atHome is how warm a jar is when it is packed, in degrees Celsius.
var atHome = keeping.Range{Low: 5, High: 25}

// luggage is what a jar of a size weighs, filled, and takes up in a box. From
// memory: household jars of these sizes with lid and band.
var luggage = map[string]struct{ grams, space int }{
	"4-ounce": {240, 320}, "half-pint": {450, 600}, "12-ounce": {640, 780}, "pint": {820, 950}, "24-ounce": {1290, 1510}, "quart": {1450, 1700}, "half-gallon": {2800, 3200}, "other": {1150, 1350},
}

// WhatIf is what may come differently on a trip.
type WhatIf struct {
	Hotter  int // degrees Celsius, all the time
	IceGone int // on this day, from 1; 0 for not before it melts
}

// Fate is what becomes of a jar.
type Fate uint8

// A jar goes and is on the plan, goes as a spare, is not wanted on this trip, or
// stays. One that goes may have to be looked at before it is packed.
const (
	Goes Fate = iota
	Spare
	NotNeeded
	Stays
)

// Why a jar stays or is not needed.
const (
	WhyDiscard  = "discard"   // it has to be discarded
	WhyOpen     = "open"      // it is open
	WhyMissing  = "missing"   // nobody knows where it is
	WhyHeat     = "heat"      // the trip would make it worse than use soon
	WhyFrost    = "frost"     // it might freeze
	WhyNoMeal   = "no-meal"   // nothing of its kind is wanted
	WhyTooMuch  = "too-much"  // opened, it would not be finished in its time
	WhyOthers   = "others"    // others go first
	WhyTooLate  = "too-late"  // it would have to be opened before the first meal
	WhyNoRecord = "no-record" // nobody knows what is in it
	WhyUnknown  = "unknown"   // something is not known of it that no look tells
)

// Traveller is a jar and what the trip has for it.
type Traveller struct {
	*Verdict
	Fate Fate
	Why  string
	// Look tells that the plan takes the jar for sound although nobody has looked
	// at it, or at its place: that has to be done before it is packed.
	Look bool
	Best rules.Verdict // what it is then
	Dish int
	Must bool
	// LastDay is the last day of the trip on which it may be opened, from 0.
	LastDay int
	// Opens is the meal at which it is opened, below zero when it is not.
	Opens    int
	Exposure keeping.Exposure // of the whole trip
	Back     rules.Outcome    // if it comes back unopened
	// Rules are those that would be met on the way, when it stays for that.
	Rules []*rules.Rule
	Grams int
	space int
	batch *Batch
	base  rules.Situation
	heat  *heating
}

// Batch is what the jar belongs to.
func (t *Traveller) Batch() *Batch { return t.batch }

// heating is what the trip does to all jars of a size and filling.
type heating struct {
	course keeping.Course
	until  []keeping.Exposure // up to the end of each day
}

type body struct {
	size string
	fill keeping.Fill
}

// Bind is a demand of the trip that costs meals, and how many would be covered
// without it.
type Bind struct {
	What  string
	Meals int
}

// What can bind.
const (
	BindWeight = "weight"
	BindSpace  = "space"
	BindCold   = "cold"
	BindHeat   = "heat"
	BindStock  = "stock" // nothing helps: there are too few jars
)

// Journey is a trip worked out.
type Journey struct {
	Trip    *Trip
	What    WhatIf
	Outside []keeping.Range
	Around  []keeping.Range // the jars
	Chill   *keeping.Chill  // nil without a cooler
	Cold    []int           // see [packing.Trip]
	// IceADay is how many kilograms of ice may melt in a day, at the most; 0
	// without ice.
	IceADay float64
	Jars    []*Traveller
	Meals   []packing.Meal
	Plan    *packing.Plan // nil when what must come is too much
	Binds   []Bind
	Nights  []int // on which a jar may freeze
	Refused []string
	packed  []*Traveller // by the number of the jar in the plan
}

// Traveller gives the jar of a number in the plan.
func (j *Journey) Traveller(number int) *Traveller { return j.packed[number] }

// Worst is what the trip does to the jars that go, each in its way, or to all
// when none goes.
func (j *Journey) Worst() (e keeping.Exposure, ok bool) {
	for _, all := range []bool{false, true} {
		for _, t := range j.Jars {
			if !all && t.Fate != Goes && t.Fate != Spare {
				continue
			}
			if x := &t.Exposure; !ok || x.Warmest.High > e.Warmest.High {
				e, ok = *x, true
			}
		}
		if ok {
			return
		}
	}
	return
}

// Hottest is the course of the jar that gets warmest.
func (j *Journey) Hottest() (c keeping.Course, ok bool) {
	hot := 0.0
	for _, t := range j.Jars {
		if h := t.Exposure.Warmest.High; !ok || h > hot {
			c, hot, ok = t.heat.course, h, true
		}
	}
	return
}

// Luggage is what goes, in grams.
func (j *Journey) Luggage() (grams int) {
	for _, t := range j.Jars {
		if t.Fate == Goes || t.Fate == Spare {
			grams += t.Grams
		}
	}
	return
}

// Planner works a trip out again and again: what does not depend on the weather
// is kept.
type Planner struct {
	pantry *Pantry
	trip   *Trip
	jars   []*Traveller
	start  time.Time
}

// DishOf sorts a product into [Dishes]. What nobody knows is in none: below
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

func fillOf(p *rules.Product) keeping.Fill {
	switch {
	case p.Group == rules.GroupBroth:
		return keeping.Liquid
	case DishOf(p) == 1:
		return keeping.Thick
	}
	return keeping.Pieces
}

// NewPlanner looks at every jar that is not gone, as it will be when the trip
// begins, but not before now. Once the trip is packed only what was packed
// counts.
func (p *Pantry) NewPlanner(t *Trip, now time.Time) *Planner {
	pl := &Planner{pantry: p, trip: t, start: now}
	if from, err := time.ParseInLocation(DayLayout, string(t.From), now.Location()); err == nil && from.After(now) {
		pl.start = from
	}
	must := map[string]bool{}
	for _, id := range t.Must {
		must[id] = true
	}
	packed := map[string]bool{}
	for _, one := range t.Packed {
		packed[one.Jar] = true
	}
	for _, j := range p.Jars {
		if len(packed) > 0 && !packed[j.ID] {
			continue
		}
		v := p.Judge(j, pl.start)
		if v.Basis.Stage == IsGone {
			continue
		}
		tr := &Traveller{Verdict: &v, Must: must[j.ID], Dish: -1, batch: p.Batches[j.Batch]}
		pr := p.Prospect(j, pl.start)
		// The plan is made as if what can be sound is sound.
		tr.base, tr.Best, tr.Look = pr.situation, pr.Highest, v.Highest > rules.UseSoon && pr.Highest <= rules.UseSoon
		size := "other"
		if b := tr.batch; b != nil {
			tr.Dish = DishOf(b.Food())
			if _, ok := luggage[b.Size]; ok {
				size = b.Size
			}
		}
		tr.Grams, tr.space = luggage[size].grams, luggage[size].space
		pl.jars = append(pl.jars, tr)
	}
	order.By(pl.jars, func(a, b **Traveller) bool {
		x, y := *a, *b
		if x.batch != nil && y.batch != nil && x.batch != y.batch {
			return cmp.Or(cmp.Compare(x.batch.Made, y.batch.Made), cmp.Compare(x.batch.ID, y.batch.ID)) < 0
		}
		// Of jars that are alike those go first that somebody has looked at.
		if x.Look != y.Look {
			return y.Look
		}
		return x.Jar.ID < y.Jar.ID
	})
	return pl
}

// stands lists where something is in every hour: at home, on the way, there.
func (t *Trip) stands(at string) []keeping.Stand {
	of := map[string]keeping.Stand{InShade: keeping.Shade, InSun: keeping.Sun, InCar: keeping.Car, InTrailer: keeping.Trailer, InCabin: keeping.Cabin}
	all := make([]keeping.Stand, 24*t.Days)
	for h := range all {
		all[h] = of[at]
		day, o := h/24, h%24
		switch {
		case day == 0 && o < leaves:
			all[h] = keeping.Shade
		case (day == 0 || day == t.Days-1) && o >= leaves && o < leaves+t.Drive:
			all[h] = of[t.Ride]
		}
	}
	return all
}

// air gives the air outside, and around what stands somewhere.
func (t *Trip) air(hotter int) (outside []keeping.Range, err error) {
	days := make([]keeping.Reading, t.Days)
	for d := range days {
		w := t.Weather[min(d, len(t.Weather)-1)]
		days[d] = keeping.Reading{Min: float64(w.Night)/10 + float64(hotter), Max: float64(w.Day)/10 + float64(hotter)}
	}
	return keeping.Outside(days, unsure)
}

// cooler is the box of the trip, nil when there is none.
func (t *Trip) cooler(iceGone int) (*keeping.Cooler, error) {
	wall, ok := map[string]keeping.Wall{SoftCooler: keeping.SoftWall, HardCooler: keeping.HardWall, ThickCooler: keeping.ThickWall}[t.Cooler]
	if !ok && t.Cooler != FridgeOnBus {
		return nil, nil
	}
	c := &keeping.Cooler{Litres: t.Litres, Openings: openings, Daily: dailyFood * float64(t.People), Electric: t.Cooler == FridgeOnBus,
		Contents: keeping.Range{Low: 1, High: max(1, 0.4*float64(t.Litres))}, Ice: map[int]float64{}, Fails: -1}
	var err error
	if t.SeenIce > 0 && t.SeenHalf > 0 {
		c.Openings = 0
		c.Leak, err = keeping.Calibrate(float64(t.SeenIce)/1000, float64(t.SeenHalf)/2, float64(t.SeenAir)/10)
	} else {
		c.Leak, err = keeping.Leak(t.Litres, wall)
	}
	c.Ice[0] = float64(t.Ice) / 1000
	if t.Every > 0 {
		for d := t.Every; d < t.Days; d += t.Every {
			c.Ice[24*d+refills] = float64(t.More) / 1000
		}
	}
	if iceGone > 0 {
		c.Fails = 24 * (iceGone - 1)
	}
	return c, err
}

// Plan works the trip out.
func (pl *Planner) Plan(what WhatIf) (*Journey, error) {
	t := pl.trip
	j := &Journey{Trip: t, What: what}
	var err error
	if j.Outside, err = t.air(what.Hotter); err != nil {
		return nil, err
	}
	if j.Around, err = keeping.Around(j.Outside, t.stands(t.Stand)); err != nil {
		return nil, err
	}
	if t.Indoors {
		for h := range j.Around {
			j.Around[h].Low = max(j.Around[h].Low, 1)
			j.Around[h].High = max(j.Around[h].High, 1)
		}
	}
	if err := j.chill(); err != nil {
		return nil, err
	}
	heats := map[body]*heating{}
	for _, tr := range pl.jars {
		tr := *tr
		tr.heat, err = j.heating(heats, tr.batch)
		if err != nil {
			return nil, err
		}
		tr.Exposure = tr.heat.until[t.Days-1]
		tr.LastDay, tr.Opens = t.Days, -1
		pl.travels(&tr)
		j.Jars = append(j.Jars, &tr)
	}
	j.wanted()
	j.pack(pl)
	return j, nil
}

// chill works the cooler out.
func (j *Journey) chill() error {
	t := j.Trip
	c, err := t.cooler(j.What.IceGone)
	if err != nil {
		return err
	}
	j.Cold = make([]int, t.Days)
	for d := range j.Cold {
		j.Cold[d] = d - 1
	}
	if c == nil {
		return nil
	}
	around, err := keeping.Around(j.Outside, t.stands(t.CoolerStand))
	if err != nil {
		return err
	}
	if j.Chill, err = c.Run(around); err != nil {
		return err
	}
	if !c.Electric {
		// With more ice than can melt, what is gone has melted.
		full := *c
		full.Ice, full.Fails = map[int]float64{0: 1000}, -1
		ch, err := full.Run(around)
		if err != nil {
			return err
		}
		j.IceADay = (1000 - ch.Ice[24*t.Days].Low) / float64(t.Days)
	}
	for d := range j.Cold {
		from := 24*d + firstMeal
		until := from + j.Chill.Holds(from)
		for e := d; e < t.Days && 24*e+lastMeal <= until; e++ {
			j.Cold[d] = e
		}
	}
	return nil
}

// heating follows the jars of a size and filling.
func (j *Journey) heating(known map[body]*heating, b *Batch) (*heating, error) {
	k := body{size: "other", fill: keeping.Pieces}
	if b != nil {
		k.fill = fillOf(b.Food())
		if _, ok := luggage[b.Size]; ok {
			k.size = b.Size
		}
	}
	if h := known[k]; h != nil {
		return h, nil
	}
	ml := 0
	for _, s := range Sizes {
		if s.ID == k.size {
			ml = s.Millilitres
		}
	}
	tau, err := keeping.TimeConstant(ml, k.fill, keeping.StillAir)
	if err != nil {
		return nil, err
	}
	h := &heating{}
	if h.course, err = keeping.Follow(atHome, j.Around, tau); err != nil {
		return nil, err
	}
	var e keeping.Exposure
	for d := range j.Trip.Days {
		day := h.course.Expose(24*d, 24*d+24)
		if d == 0 {
			e = day
		} else {
			e = e.Add(day)
		}
		if !day.Unfrozen() && (len(j.Nights) == 0 || j.Nights[len(j.Nights)-1] < d) {
			j.Nights = append(j.Nights, d)
		}
		h.until = append(h.until, e)
	}
	known[k] = h
	return h, nil
}

// travels judges whether a jar may go, and up to which day it may be opened.
func (pl *Planner) travels(tr *Traveller) {
	tr.Fate = NotNeeded
	switch v := tr.Verdict; {
	case v.Lowest == rules.Discard:
		tr.Fate, tr.Why = Stays, WhyDiscard
	case v.Basis.Stage == IsMissing:
		tr.Fate, tr.Why = Stays, WhyMissing
	case v.Basis.Stage == IsOpen:
		tr.Fate, tr.Why = Stays, WhyOpen
	case tr.batch == nil || tr.Dish < 0:
		tr.Fate, tr.Why = Stays, WhyNoRecord
	case tr.Best > rules.UseSoon:
		tr.Fate, tr.Why = Stays, WhyUnknown
	}
	last := pl.trip.Days - 1
	tr.Back = pl.projected(tr, last)
	if tr.Fate != NotNeeded || tr.Back.Highest <= rules.UseSoon {
		return
	}
	for tr.LastDay = last - 1; tr.LastDay >= 0; tr.LastDay-- {
		if o := pl.projected(tr, tr.LastDay); o.Highest <= rules.UseSoon {
			return
		}
	}
	tr.Fate, tr.Why = Stays, WhyHeat
	if s := pl.situation(tr, 0, true); pl.judge(s).Highest <= rules.UseSoon {
		tr.Why = WhyFrost
	}
}

// situation is that of the jar at the end of a day of the trip.
func (pl *Planner) situation(tr *Traveller, day int, noFrost bool) rules.Situation {
	s, e := tr.base, &tr.heat.until[day]
	if tr.batch != nil {
		age := tr.Basis.Age
		s.Forget(rules.SignAge)
		_ = s.Tell(values("age_days", max(1, age), age+day+2)...)
	}
	// At least as warm as it was warm on the way.
	had := s.Values(rules.SignHeat)
	var heat []rules.Value
	for _, a := range had {
		for _, b := range keeping.HeatOf(e.Warmest) {
			heat = append(heat, max(a, b)) // in rising order of harm
		}
	}
	s.Forget(rules.SignHeat)
	_ = s.Tell(heat...) // every value is one of the sign
	if !e.Unfrozen() && !noFrost {
		s.Forget(rules.SignFrozen)
	}
	return s
}

func (pl *Planner) projected(tr *Traveller, day int) rules.Outcome {
	return pl.judge(pl.situation(tr, day, false))
}

func (pl *Planner) judge(s rules.Situation) rules.Outcome { return pl.pantry.outcome(s) }

// Reasons gives the rules for which a jar stays, or could come back worse.
func (pl *Planner) Reasons(tr *Traveller) (rs []*rules.Rule) {
	day := pl.trip.Days - 1
	if tr.Why == WhyHeat || tr.Why == WhyFrost {
		day = 0
	}
	s := pl.situation(tr, day, false)
	if tr.Why == WhyDiscard {
		s = tr.base
	}
	trace := rules.Explain(s)
	seen := map[*rules.Rule]bool{}
	for _, l := range append(trace.Deciding, trace.Pending...) {
		if l.Rule.Then > rules.Keep && !seen[l.Rule] {
			seen[l.Rule] = true
			rs = append(rs, l.Rule)
		}
	}
	return
}

// OpenDays is for how many days a jar keeps when it is opened and kept cold, the
// day of opening being the first; 0 when it does not.
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

// problem writes the trip down for the packing. loose leaves a demand out.
func (j *Journey) problem(loose string) (*packing.Trip, []*Traveller) {
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
	var of []*Traveller
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
		for _, s := range Sizes {
			if s.ID == tr.batch.Size || tr.batch.Size == "" && s.ID == "other" {
				ml = s.Millilitres
			}
		}
		p.Jars = append(p.Jars, packing.Jar{
			Kind: tr.Dish, Portions: max(1, (ml+Dishes[tr.Dish].Millilitres/2)/Dishes[tr.Dish].Millilitres),
			Grams: tr.Grams, Space: tr.space, LastDay: last, Fridge: OpenDays(tr.base), First: first, Age: tr.Basis.Age, Must: tr.Must})
		of = append(of, tr)
	}
	return p, of
}

// pack chooses, and says why the rest stays.
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
		// Only what must come can be too much.
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

// notNeeded tells why the plan does without a jar.
func (j *Journey) notNeeded(jar *packing.Jar) string {
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
		// Could it be opened here and be finished, or kept cold to the end?
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

// Looks lists the jars of the plan that have to be looked at before they are
// packed.
func (j *Journey) Looks() (looks []*Traveller) {
	for _, tr := range j.Jars {
		if tr.Look && (tr.Fate == Goes || tr.Fate == Spare) {
			looks = append(looks, tr)
		}
	}
	return
}

// Served lists the meals of the plan in their order, those that the jars do not
// cover too.
func (j *Journey) Served() (lines []Served) {
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
			lines = append(lines, Served{Meal: m, Day: meal.Day, Dish: meal.Kind})
		}
		for _, s := range of[m] {
			lines = append(lines, Served{Meal: m, Day: meal.Day, Dish: meal.Kind, Jar: j.packed[s.Jar].Jar.ID, Open: opens[packing.Opening{Jar: s.Jar, Meal: s.Meal}], Left: s.Left})
		}
	}
	return
}

// Pack takes the plan into the trip. A plan without a jar cannot be packed, nor
// one with a jar that has to be looked at first.
func (j *Journey) Pack() error {
	if n := len(j.Looks()); n > 0 {
		return fmt.Errorf("trip %s: %d jars have to be looked at first", j.Trip.ID, n)
	}
	var packed []Packed
	for _, tr := range j.Jars {
		if tr.Fate != Goes && tr.Fate != Spare {
			continue
		}
		open := -1
		if tr.Opens >= 0 {
			open = j.Meals[tr.Opens].Day
		}
		packed = append(packed, Packed{Jar: tr.Jar.ID, Open: open, Last: min(tr.LastDay, j.Trip.Days)})
	}
	if len(packed) == 0 {
		return fmt.Errorf("trip %s: there is no jar to pack", j.Trip.ID)
	}
	order.By(packed, func(a, b *Packed) bool { return a.Open < b.Open || a.Open == b.Open && a.Jar < b.Jar })
	j.Trip.Packed, j.Trip.Plan = packed, j.Served()
	return nil
}

// Unpack lets the trip be planned again.
func (t *Trip) Unpack() { t.Packed, t.Plan = nil, nil }

// Kept is the plan that a trip was packed with. One that was packed by an edition
// that kept no plan has the jars that were to be opened, by their days.
func (p *Pantry) Kept(t *Trip) []Served {
	if len(t.Plan) > 0 {
		return t.Plan
	}
	var lines []Served
	for _, one := range t.Packed {
		j := p.Jars[one.Jar]
		if j == nil || one.Open < 0 || p.Batches[j.Batch] == nil {
			continue
		}
		lines = append(lines, Served{Meal: len(lines), Day: one.Open, Dish: max(0, DishOf(p.Batches[j.Batch].Food())), Jar: one.Jar, Open: true})
	}
	return lines
}

// LookBefore begins the short walk to the jars of a plan that have to be looked
// at before they are packed, place by place.
func (p *Pantry) LookBefore(j *Journey, now time.Time) (*Sweep, error) {
	wanted := map[string]bool{}
	for _, tr := range j.Looks() {
		wanted[tr.Jar.ID] = true
	}
	places := []string{""}
	for _, place := range p.PlaceOrder() {
		places = append(places, place.ID)
	}
	s, err := NewSweep(nil, slices.DeleteFunc(p.WalkOrder(places, false, now), func(id string) bool { return !wanted[id] }), now)
	if err != nil {
		return nil, err
	}
	s.Trip = j.Trip.ID
	return s, nil
}

// tenths rounds a temperature up, or down, to tenths of a degree.
func tenths(c float64, up bool) int {
	if up {
		return int(math.Ceil(c*10 - 1e-9))
	}
	return int(math.Floor(c*10 + 1e-9))
}

// Return notes on a jar that it came back unopened, with what the trip may have
// done to it at the worst.
func (tr *Traveller) Return(at time.Time, place, words string) error {
	e, err := tr.Jar.Add(Travelled, at)
	if err != nil {
		return err
	}
	hot, cold := tenths(tr.Exposure.Warmest.High, true), tenths(tr.Exposure.Coldest.Low, false)
	e.Warmest, e.Coldest, e.Place, e.Words = &hot, &cold, place, words
	return nil
}
