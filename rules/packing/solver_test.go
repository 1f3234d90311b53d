//go:build solver

package packing_test

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"slices"
	"strconv"
	"strings"
	"testing"

	"larderlamp/rules/packing"
)

// program is a trip as an integer program. A kind of jar is one index with a
// number; x[t,m] are opened at meal m, z[t,m] is one of them that is kept, r[m]
// is what is left over after it, e[m] what is eaten, c[m] whether it is held and
// o[m] whether anything is opened.
type program struct {
	trip  *packing.Trip
	rows  strings.Builder
	whole []string // integer variables
	parts [8]string
	n     int
}

func (p *program) row(format string, args ...any) {
	p.n++
	fmt.Fprintf(&p.rows, " R%d: %s\n", p.n, fmt.Sprintf(format, args...))
}

// sum writes terms, of which the first may not begin with a sign.
func sum(terms []string) string {
	if len(terms) == 0 {
		return "0 c0"
	}
	return strings.Join(terms, " + ")
}

func write(t *packing.Trip) *program {
	p := &program{trip: t}
	type stack struct {
		packing.Candidate
		n int
	}
	var stacks []stack
	grams, space := t.Must()
	for _, j := range t.Jars {
		found := false
		for i := range stacks {
			if stacks[i].Candidate == j {
				stacks[i].n++
				found = true
			}
		}
		if !found {
			stacks = append(stacks, stack{j, 1})
		}
	}
	p.row("c0 = 0")
	var missed, left, must, first, weigh, fill, opened, age []string
	total := 0
	for _, s := range stacks {
		total += s.Portions * s.n
	}
	before := map[int]int{} // the last meal of each kind
	of := map[int][]int{}
	for m, meal := range t.Meals {
		p.whole = append(p.whole, fmt.Sprintf("c%d", m+1), fmt.Sprintf("o%d", m+1))
		p.row("c%d <= 1", m+1)
		p.row("o%d - c%d <= 0", m+1, m+1)
		missed = append(missed, fmt.Sprintf("1 c%d", m+1))
		p.row("e%d - %d c%d >= 0", m+1, meal.Portions, m+1)
		p.row("e%d - %d c%d <= 0", m+1, meal.Portions+meal.Extra, m+1)
		balance := fmt.Sprintf("r%d + e%d", m+1, m+1)
		if last, ok := before[meal.Kind]; ok {
			balance += fmt.Sprintf(" - r%d", last+1)
			// Whatever was left is eaten before anything is opened.
			p.row("e%d - r%d - %d o%d >= -%d", m+1, last+1, total, m+1, total)
		}
		var keeps, kept []string
		for s, k := range stacks {
			if k.Kind != meal.Kind || k.LastDay < meal.Day {
				continue
			}
			x, z := fmt.Sprintf("x%d_%d", s, m+1), fmt.Sprintf("z%d_%d", s, m+1)
			p.whole = append(p.whole, x, z)
			p.row("%s - %d o%d <= 0", x, k.n, m+1)
			p.row("%s - %s <= 0", z, x)
			balance += fmt.Sprintf(" - %d %s", k.Portions, x)
			keeps = append(keeps, fmt.Sprintf("%d %s", k.Portions-1, z))
			kept = append(kept, z)
		}
		p.row("%s = 0", balance)
		if len(keeps) > 0 {
			p.row("%s <= 1", sum(kept))
			p.row("r%d - %s + %d o%d <= %d", m+1, strings.Join(keeps, " - "), total, m+1, total)
		}
		before[meal.Kind] = m
		of[meal.Kind] = append(of[meal.Kind], m)
	}
	for _, meals := range of {
		left = append(left, fmt.Sprintf("1 r%d", meals[len(meals)-1]+1))
		for i, m := range meals {
			for s, k := range stacks {
				day := t.Meals[m].Day
				if k.Kind != t.Meals[m].Kind || k.LastDay < day {
					continue
				}
				until := min(day+k.Fridge-1, t.Cold[day])
				var between []string
				// The end of the trip is the last moment at which it has to keep.
				for n, late := range append(slices.Clone(meals[i+1:]), -1) {
					if late < 0 && len(t.Cold)-1 > until || late >= 0 && t.Meals[late].Day > until {
						// Gone by then, or replaced by what was opened since.
						last := meals[i+n]
						text := fmt.Sprintf("r%d + %d z%d_%d", last+1, total, s, m+1)
						for _, o := range between {
							text += fmt.Sprintf(" - %d %s", total, o)
						}
						p.row("%s <= %d", text, total)
						break
					}
					between = append(between, fmt.Sprintf("o%d", late+1))
				}
			}
		}
	}
	for s, k := range stacks {
		var all []string
		for m, meal := range t.Meals {
			if k.Kind != meal.Kind || k.LastDay < meal.Day {
				continue
			}
			x := fmt.Sprintf("x%d_%d", s, m+1)
			all = append(all, x)
			opened = append(opened, "1 "+x)
			first = append(first, fmt.Sprintf("%d %s", k.First*k.Portions, x))
			age = append(age, fmt.Sprintf("%d %s", k.Age*k.Portions, x))
			if k.Must {
				must = append(must, "1 "+x)
			} else {
				weigh = append(weigh, fmt.Sprintf("%d %s", k.Grams, x))
				fill = append(fill, fmt.Sprintf("%d %s", k.Space, x))
			}
		}
		if len(all) > 0 {
			p.row("%s <= %d", sum(all), k.n)
		}
	}
	if t.Grams < packing.Unlimited {
		p.row("%s <= %d", sum(weigh), t.Grams-grams)
	}
	if t.Space < packing.Unlimited {
		p.row("%s <= %d", sum(fill), t.Space-space)
	}
	for i, terms := range [][]string{missed, left, must, first, weigh, fill, opened, age} {
		p.parts[i] = sum(terms)
	}
	return p
}

// For larger trips, where not every plan can be tried, an independent integer-program
// solver finds the same optimum, for each part of the score.
func TestAgainstIntegerProgram(t *testing.T) {
	where := os.Getenv("SOLVER")
	if where == "" {
		t.Fatal("SOLVER does not say where the solver is: use make solver")
	}
	cmd := exec.Command("node", "../../testdata/solver/solve.cjs", where)
	cmd.Stderr = os.Stderr
	in, err := cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	answers := bufio.NewReader(out)
	defer func() {
		in.Close()
		if err := cmd.Wait(); err != nil {
			t.Error(err)
		}
	}()
	solve := func(sense, objective, rows string, whole []string) (int, bool) {
		text := fmt.Sprintf("%s\n obj: %s\nSubject To\n%sGeneral\n %s\nEnd\n", sense, objective, rows, strings.Join(whole, " "))
		line, err := json.Marshal(text)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := fmt.Fprintf(in, "%s\n", line); err != nil {
			t.Fatal(err)
		}
		back, err := answers.ReadString('\n')
		if err != nil && err != io.EOF {
			t.Fatal(err)
		}
		var a struct {
			Status    string  `json:"status"`
			Objective float64 `json:"objective"`
		}
		if err := json.Unmarshal([]byte(back), &a); err != nil {
			t.Fatalf("got %q from the solver: %v", back, err)
		}
		if a.Status == "Infeasible" {
			return 0, false
		}
		if a.Status != "Optimal" || math.Abs(a.Objective-math.Round(a.Objective)) > 1e-4 {
			t.Fatalf("got %q from the solver", back)
		}
		return int(math.Round(a.Objective)), true
	}
	trips, err := strconv.Atoi(os.Getenv("TRIPS"))
	if err != nil || trips < 4 {
		t.Fatalf("TRIPS: %q is not a number of trips from 4 on", os.Getenv("TRIPS"))
	}
	r := rand.New(rand.NewPCG(19, 20))
	bound, missed, refused := 0, 0, 0
	for n := range trips {
		trip := draw(r, 12+r.IntN(30), 6+r.IntN(8), 1+r.IntN(3))
		// A batch is several identical jars.
		for i := range trip.Jars {
			if i > 0 && r.IntN(2) == 0 {
				trip.Jars[i] = trip.Jars[i-1]
			}
			if trip.Jars[i].Must && r.IntN(2) == 0 {
				trip.Jars[i].Must = false
			}
		}
		if trip.Grams < packing.Unlimited {
			trip.Grams += 3000
		}
		if trip.Space < packing.Unlimited {
			trip.Space += 40
		}
		plan, err := packing.Solve(trip)
		if err != nil {
			t.Fatal(err)
		}
		p := write(trip)
		if plan == nil {
			refused++
			continue
		}
		if len(plan.Missed) > 0 {
			missed++
		}
		if trip.Grams < packing.Unlimited || trip.Space < packing.Unlimited {
			bound++
		}
		grams, space := trip.Must()
		got := plan.Score
		ours := [8]int{len(trip.Meals) - got.Missed, got.Left, got.Must, got.First, got.Grams - grams, got.Space - space, got.Opened, got.Age}
		names := [8]string{"meals", "left", "must", "first", "grams", "space", "opened", "age"}
		rows := p.rows.String()
		for i, objective := range p.parts {
			sense := "Maximize"
			if i == 1 || i >= 4 && i <= 6 {
				sense = "Minimize"
			}
			best, ok := solve(sense, objective, rows, p.whole)
			if !ok || best != ours[i] {
				t.Fatalf("trip %d: %s: got %d, want %d as from the solver (%v)\n%+v\n%+v", n, names[i], ours[i], best, ok, trip, plan)
			}
			rows += fmt.Sprintf(" F%d: %s = %d\n", i, objective, best)
		}
	}
	t.Logf("%d trips; %d with a meal missed, %d with a limit, %d refused", trips, missed, bound, refused)
	if missed < trips/4 || bound < trips/4 {
		t.Errorf("got too few hard trips")
	}
}
