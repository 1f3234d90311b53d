package packing

import (
	"cmp"
	"slices"
)

// class holds jars that differ only in which of them should go first.
type class struct {
	Portions, Grams, Space, Fridge int
	Must                           bool
	stacks                         []stack // the best first
}

// maxStack is the most jars that a stack counts, so that a byte is enough.
const maxStack = 255

// stack holds jars that are alike in everything.
type stack struct {
	jar  *Candidate
	jars []int
}

// classes sorts the jars of a kind. Differences that do not matter on this trip do
// not separate them: a last day after the last meal, or keeping longer than the
// cooler stays cold.
func classes(t *Trip, kind, lastMeal int) (cs []class) {
	longest := 0
	for day, until := range t.Cold {
		longest = max(longest, min(until, len(t.Cold)-1)-day+1)
	}
	for i := range t.Jars {
		j := &t.Jars[i]
		if j.Kind != kind || j.LastDay < 0 {
			continue
		}
		alike := *j
		alike.LastDay, alike.Fridge = min(j.LastDay, lastMeal), min(j.Fridge, longest)
		j = &alike
		c := slices.IndexFunc(cs, func(c class) bool {
			return c.Portions == j.Portions && c.Grams == j.Grams && c.Space == j.Space && c.Fridge == j.Fridge && c.Must == j.Must
		})
		if c < 0 {
			c = len(cs)
			cs = append(cs, class{j.Portions, j.Grams, j.Space, j.Fridge, j.Must, nil})
		}
		k := &cs[c]
		s := slices.IndexFunc(k.stacks, func(s stack) bool { return *s.jar == *j && len(s.jars) < maxStack })
		if s < 0 {
			s = len(k.stacks)
			k.stacks = append(k.stacks, stack{jar: j})
		}
		k.stacks[s].jars = append(k.stacks[s].jars, i)
	}
	for i := range cs {
		ss := cs[i].stacks
		slices.SortStableFunc(ss, func(a, b stack) int {
			x, y := a.jar, b.jar
			return cmp.Or(cmp.Compare(y.First, x.First), cmp.Compare(y.Age, x.Age))
		})
	}
	return
}

// best is the stack of a class from which the next jar is taken on a day, or
// below zero. used holds how many of each stack are gone.
func (c *class) best(used []uint8, day int) int {
	for i := range c.stacks {
		if s := &c.stacks[i]; s.jar.LastDay >= day && int(used[i]) < len(s.jars) {
			return i
		}
	}
	return -1
}

// label is a partial plan, from a meal to the end.
type label struct {
	owed   int // portions that an open jar has to bring to this meal
	until  int // the last day on which it has to keep
	used   string
	missed int
	left   int // portions at the end
	// How it came about: the jars opened at the meal, by stack over all
	// classes; what it continues; and what is eaten.
	opened []uint8
	eaten  int
	next   *label
	skip   bool
}

type state struct {
	owed, until int
	used        string
}

// solver goes through the meals of one kind.
type solver struct {
	trip    *Trip
	meals   []int // of the kind
	classes []class
	first   []int // number of the first stack of each class
	stacks  int
	// room[i][day] is one more than the portions that a jar opened before the
	// meal i of the kind can bring to it and keep up to that day.
	room [][]int
	// mostLeft is the most that can be left of a jar at the end.
	mostLeft int
}

func newSolver(t *Trip, kind int) *solver {
	s := &solver{trip: t}
	last := 0
	for i, m := range t.Meals {
		if m.Kind == kind {
			s.meals = append(s.meals, i)
			last = m.Day
		}
	}
	s.classes = classes(t, kind, last)
	for i := range s.classes {
		s.first = append(s.first, s.stacks)
		s.stacks += len(s.classes[i].stacks)
	}
	room := make([]int, len(t.Cold))
	for _, meal := range s.meals {
		s.room = append(s.room, slices.Clone(room))
		for _, c := range s.classes {
			for day := t.Meals[meal].Day; day <= s.keeps(&c, t.Meals[meal].Day); day++ {
				room[day] = max(room[day], c.Portions)
			}
		}
	}
	s.mostLeft = max(0, room[len(room)-1]-1)
	return s
}

// keeps is the last day of the trip up to which a jar that is opened on a day
// keeps.
func (s *solver) keeps(c *class, day int) int {
	return min(day+c.Fridge-1, s.trip.Cold[day], len(s.trip.Cold)-1)
}

// layer holds the partial plans from one meal on; of equal ones it keeps the one
// that misses the fewest meals. The order is always the same, and so is the plan.
type layer struct {
	labels []*label
	of     map[state]int
}

func (y *layer) put(l *label) {
	k := state{l.owed, l.until, l.used}
	if i, ok := y.of[k]; !ok {
		y.of[k] = len(y.labels)
		y.labels = append(y.labels, l)
	} else if old := y.labels[i]; l.missed < old.missed || l.missed == old.missed && l.left < old.left {
		y.labels[i] = l
	}
}

// plans returns the plans of the kind that stay within a number of missed meals and
// of portions left at the end, and that no other of them beats.
func (s *solver) plans(most, left int) []*option {
	none := string(make([]byte, s.stacks))
	now := &layer{labels: []*label{{used: none}}}
	for n := range left {
		now.labels = append(now.labels, &label{owed: n + 1, until: len(s.trip.Cold) - 1, left: n + 1, used: none})
	}
	for i := len(s.meals) - 1; i >= 0; i-- {
		before := &layer{of: map[state]int{}}
		for _, l := range now.labels {
			s.step(i, l, func(l *label) {
				if l.missed <= most && (l.owed == 0 || l.owed < s.room[i][l.until]) {
					before.put(l)
				}
			})
		}
		now = before
	}
	var all []*option
	for _, l := range now.labels {
		all = append(all, &option{label: l, solver: s, score: s.score(l)})
	}
	return undominated(all)
}

// step handles meal i of the kind, going backward.
func (s *solver) step(i int, l *label, put func(*label)) {
	m := &s.trip.Meals[s.meals[i]]
	put(&label{owed: l.owed, until: l.until, used: l.used, missed: l.missed + 1, left: l.left, next: l, skip: true})
	// Without opening anything: what comes is what is eaten and what is owed.
	until := m.Day
	if l.owed > 0 {
		until = l.until
	}
	for eaten := m.Portions; eaten <= m.Portions+m.Extra; eaten++ {
		put(&label{owed: eaten + l.owed, until: until, used: l.used, missed: l.missed, left: l.left, next: l, eaten: eaten})
	}
	s.open(m, l, put, 0, 0, false, []byte(l.used), make([]uint8, s.stacks))
}

// open opens more jars of the classes from one on. sum is what is opened so far,
// and keeps whether one of it can keep what is owed.
func (s *solver) open(m *Meal, l *label, put func(*label), from, sum int, keeps bool, used []byte, opened []uint8) {
	if sum > 0 && (l.owed == 0 || keeps) {
		for eaten := m.Portions; eaten <= m.Portions+m.Extra; eaten++ {
			// What came before is eaten first, all of it.
			owed := eaten + l.owed - sum
			if owed < 0 {
				continue
			}
			until := 0
			if owed > 0 {
				until = m.Day
			}
			put(&label{owed: owed, until: until, used: string(used), missed: l.missed, left: l.left, opened: slices.Clone(opened), eaten: eaten, next: l})
		}
	}
	for i := from; i < len(s.classes); i++ {
		c := &s.classes[i]
		if sum+c.Portions > m.Portions+m.Extra+l.owed {
			continue
		}
		mine := used[s.first[i] : s.first[i]+len(c.stacks)]
		k := c.best(mine, m.Day)
		if k < 0 {
			continue
		}
		mine[k]++
		opened[s.first[i]+k]++
		can := l.owed > 0 && c.Portions > l.owed && s.keeps(c, m.Day) >= l.until
		s.open(m, l, put, i, sum+c.Portions, keeps || can, used, opened)
		mine[k]--
		opened[s.first[i]+k]--
	}
}

// score judges a plan of the kind. What must come weighs nothing here.
func (s *solver) score(l *label) Score {
	sc := Score{Missed: l.missed, Left: l.left}
	for i := range s.classes {
		c := &s.classes[i]
		for k := range c.stacks {
			n, j := int(l.used[s.first[i]+k]), c.stacks[k].jar
			sc.Opened += n
			sc.First += n * j.First * j.Portions
			sc.Age += n * j.Age * j.Portions
			if c.Must {
				sc.Must += n
			} else {
				sc.Grams += n * j.Grams
				sc.Space += n * j.Space
			}
		}
	}
	return sc
}
