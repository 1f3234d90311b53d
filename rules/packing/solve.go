package packing

import (
	"cmp"
	"slices"
)

// option is a plan of one kind, or of several put together.
type option struct {
	score  Score
	label  *label // of one kind
	solver *solver
	a, b   *option // put together
}

// undominated keeps the plans that no other equals or beats in score, weight and
// space.
func undominated(all []*option) []*option {
	slices.SortStableFunc(all, func(a, b *option) int { return a.score.Compare(b.score) })
	// Those before are better in score: a plan stays only when it is lighter or
	// smaller than each of them.
	var kept []*option
	var edge []*option // the kept ones that none of the kept beats in both
	for _, o := range all {
		if slices.ContainsFunc(edge, func(k *option) bool {
			return k.score.Grams <= o.score.Grams && k.score.Space <= o.score.Space
		}) {
			continue
		}
		kept = append(kept, o)
		edge = append(slices.DeleteFunc(edge, func(k *option) bool {
			return o.score.Grams <= k.score.Grams && o.score.Space <= k.score.Space
		}), o)
	}
	return kept
}

// Solve returns the best plan. It fails, with a nil plan, for a trip that
// [Trip.Check] rejects, and when the jars that must come are already too much.
func Solve(t *Trip) (*Plan, error) {
	if err := t.Check(); err != nil {
		return nil, err
	}
	grams, space := t.Must()
	left := Score{Grams: t.Grams - grams, Space: t.Space - space}
	if left.Grams < 0 || left.Space < 0 {
		return nil, nil
	}
	var kinds []int
	for _, m := range t.Meals {
		if !slices.Contains(kinds, m.Kind) {
			kinds = append(kinds, m.Kind)
		}
	}
	solvers := make([]*solver, len(kinds))
	of := make([][]*option, len(kinds))
	most := make([]int, len(kinds)) // meals of the kind to miss
	for i, k := range kinds {
		s := newSolver(t, k)
		solvers[i] = s
		for left := 0; len(of[i]) == 0; left++ {
			if left > s.mostLeft {
				left = 0
				most[i]++
			}
			of[i] = s.plans(most[i], left)
		}
	}
	best := &option{}
	for _, os := range of {
		best = join(best, os[0])
	}
	if !fits(best.score, left) {
		best = solveTogether(solvers, of, most, left)
	}
	p := best.plan()
	p.Score = best.score.add(Score{Grams: grams, Space: space})
	return p, nil
}

// Must is the weight and the space of all that must come.
func (t *Trip) Must() (grams, space int) {
	for _, j := range t.Jars {
		if j.Must {
			grams, space = grams+j.Grams, space+j.Space
		}
	}
	return
}

func join(a, b *option) *option { return &option{score: a.score.add(b.score), a: a, b: b} }

func fits(s, left Score) bool { return s.Grams <= left.Grams && s.Space <= left.Space }

// solveTogether puts the kinds together when weight or space bind. No kind misses more
// meals than all of them do together: once the best plan that is found misses no
// more than each kind was allowed to, there is no better one.
func solveTogether(solvers []*solver, of [][]*option, most []int, left Score) *option {
	for i, s := range solvers {
		of[i] = s.plans(most[i], s.mostLeft)
	}
	for {
		best := together(of, left)
		again := false
		for i, s := range solvers {
			if m := len(s.meals); most[i] < m && (best == nil || best.score.Missed > most[i]) {
				most[i] = m
				if best != nil {
					most[i] = min(m, best.score.Missed)
				}
				of[i] = s.plans(most[i], s.mostLeft)
				again = true
			}
		}
		if !again {
			return best
		}
	}
}

// together returns the best of all sums of plans, one of each kind, that fit; nil
// when none does.
func together(of [][]*option, left Score) *option {
	sums := []*option{{}}
	for _, os := range of {
		var next []*option
		for _, a := range sums {
			for _, b := range os {
				if fits(a.score.add(b.score), left) {
					next = append(next, join(a, b))
				}
			}
		}
		sums = undominated(next)
	}
	if len(sums) == 0 {
		return nil
	}
	return sums[0]
}

// plan reads what happens out of an option.
func (o *option) plan() *Plan {
	p := &Plan{}
	o.read(p)
	slices.Sort(p.Missed)
	slices.SortStableFunc(p.Openings, func(a, b Opening) int {
		return cmp.Or(cmp.Compare(a.Meal, b.Meal), cmp.Compare(a.Jar, b.Jar))
	})
	slices.SortStableFunc(p.Servings, func(a, b Serving) int { return cmp.Compare(a.Meal, b.Meal) })
	return p
}

func (o *option) read(p *Plan) {
	if o.a != nil {
		o.a.read(p)
		o.b.read(p)
		return
	}
	if o.solver == nil {
		return
	}
	s := o.solver
	// The jars of a stack are alike but for their numbers; from the last meal
	// to the first they were taken in order.
	gone := make([]int, s.stacks)
	at := make([][]int, len(s.meals))
	var chain []*label
	for l := o.label; l.next != nil; l = l.next {
		chain = append(chain, l)
	}
	for i := len(chain) - 1; i >= 0; i-- {
		l := chain[i]
		for c := range s.classes {
			for k := range s.classes[c].stacks {
				n := s.first[c] + k
				if l.opened == nil {
					continue
				}
				for range l.opened[n] {
					at[i] = append(at[i], s.classes[c].stacks[k].jars[gone[n]])
					gone[n]++
				}
			}
		}
	}
	open := -1 // the jar that is kept
	for i, l := range chain {
		meal := s.meals[i]
		if l.skip {
			p.Missed = append(p.Missed, meal)
			continue
		}
		rest := l.eaten
		if l.owed > 0 {
			eaten := min(rest, l.owed)
			p.Servings = append(p.Servings, Serving{open, meal, eaten, l.owed - eaten})
			rest -= eaten
		}
		if len(at[i]) == 0 {
			continue
		}
		owed := l.next.owed
		keeper := -1
		m := &s.trip.Meals[meal]
		for _, j := range at[i] {
			jar := &s.trip.Jars[j]
			if owed > 0 && jar.Portions > owed && min(m.Day+jar.Fridge-1, s.trip.Cold[m.Day]) >= l.next.until {
				keeper = j
			}
		}
		for _, j := range at[i] {
			p.Openings = append(p.Openings, Opening{j, meal})
			sv := Serving{j, meal, s.trip.Jars[j].Portions, 0}
			if j == keeper {
				sv.Portions, sv.Left = sv.Portions-owed, owed
			}
			p.Servings = append(p.Servings, sv)
		}
		open = keeper
	}
}
