package travel

import (
	"cmp"
	"math"
	"slices"
	"time"

	"larderlamp/app/pantry"
	"larderlamp/app/record"
	"larderlamp/app/walk"
	"larderlamp/rules/prose"
)

// Looks lists the jars of the plan that have to be looked at before they are
// packed.
func (j *Journey) Looks() (looks []*Traveler) {
	for _, tr := range j.Jars {
		if tr.Look && (tr.Fate == Goes || tr.Fate == Spare) {
			looks = append(looks, tr)
		}
	}
	return
}

// Pack writes the plan into the trip. A plan without a jar can't be packed, and
// neither can one with a jar that has to be looked at first.
func (j *Journey) Pack() error {
	if n := len(j.Looks()); n > 0 {
		return prose.Errorf("trip %s: %d jars have to be looked at first", j.Trip.ID, n)
	}
	var packed []record.Packed
	for _, tr := range j.Jars {
		if tr.Fate != Goes && tr.Fate != Spare {
			continue
		}
		open := -1
		if tr.Opens >= 0 {
			open = j.Meals[tr.Opens].Day
		}
		packed = append(packed, record.Packed{Jar: tr.Jar.ID, Open: open, Last: min(tr.LastDay, j.Trip.Days)})
	}
	if len(packed) == 0 {
		return prose.Errorf("trip %s: there is no jar to pack", j.Trip.ID)
	}
	slices.SortStableFunc(packed, func(a, b record.Packed) int {
		return cmp.Or(cmp.Compare(a.Open, b.Open), cmp.Compare(a.Jar, b.Jar))
	})
	j.Trip.Packed, j.Trip.Plan = packed, j.Served()
	return nil
}

// Kept is the plan that a trip was packed with. For a trip packed by an edition
// that kept no plan, it has the jars that were to be opened, by their days.
func Kept(p *pantry.Pantry, t *record.Trip) []record.Served {
	if len(t.Plan) > 0 {
		return t.Plan
	}
	var lines []record.Served
	for _, one := range t.Packed {
		j := p.Jars[one.Jar]
		if j == nil || one.Open < 0 || p.Batches[j.Batch] == nil {
			continue
		}
		lines = append(lines, record.Served{Meal: len(lines), Day: one.Open, Dish: max(0, DishOf(p.Batches[j.Batch].Food())), Jar: one.Jar, Open: true})
	}
	return lines
}

// LookBefore starts the short walk to the jars of a plan that have to be looked
// at before they are packed, place by place.
func LookBefore(p *pantry.Pantry, j *Journey, now time.Time) (*record.Sweep, error) {
	wanted := map[string]bool{}
	for _, tr := range j.Looks() {
		wanted[tr.Jar.ID] = true
	}
	places := []string{""}
	for _, place := range p.PlaceOrder() {
		places = append(places, place.ID)
	}
	s, err := record.NewSweep(nil, slices.DeleteFunc(walk.Order(p, places, false, now), func(id string) bool { return !wanted[id] }), now)
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

// Return records on a jar that it came back unopened, with the worst that the
// trip may have done to it.
func (tr *Traveler) Return(at time.Time, place, words string) error {
	e, err := tr.Jar.Add(record.Traveled, at)
	if err != nil {
		return err
	}
	hot, cold := tenths(tr.Exposure.Warmest.High, true), tenths(tr.Exposure.Coldest.Low, false)
	e.Warmest, e.Coldest, e.Place, e.Words = &hot, &cold, place, words
	return nil
}
