package rules_test

import (
	"fmt"

	"larderlamp/rules"
)

// A bulging lid alone settles the verdict, whatever else the jar shows.
func ExampleEvaluate() {
	s := rules.NewSituation()
	unknown := rules.Evaluate(s)
	fmt.Println("nothing is known:", unknown.Lowest, "to", unknown.Highest)

	if err := s.Tell(rules.LidBulged); err != nil {
		fmt.Println(err)
		return
	}
	bulging := rules.Evaluate(s)
	fmt.Println("a bulging lid:", bulging.Lowest, "settled:", bulging.Settled())
	// Output:
	// nothing is known: Keep to Discard safely
	// a bulging lid: Discard safely settled: true
}

// A trace names the rules that decide, and where each of them stands.
func ExampleExplain() {
	s := rules.NewSituation()
	if err := s.Tell(rules.LidBulged); err != nil {
		fmt.Println(err)
		return
	}
	t := rules.Explain(s)
	for _, line := range t.Deciding {
		fmt.Println(line.Rule.ID, "→", line.Rule.Then)
		for _, c := range line.Rule.Cites[:1] {
			fmt.Println(c.Known())
		}
	}
	// Output:
	// outside.lid.bulging → Discard safely
	// read in a copy
}

// The next question is asked as long as an answer can still change the verdict,
// and what stands on the jar is asked before what is in it.
func ExampleNext() {
	food, ok := rules.ProductByID("green-beans")
	if !ok {
		return
	}
	s := rules.NewSituation()
	if err := food.Tell(&s); err != nil {
		fmt.Println(err)
		return
	}
	q, more := rules.Next(s, rules.Skipped{})
	fmt.Println("more to ask:", more, "— several answers:", len(q.Choices) > 1)

	if err := s.Tell(rules.LidBulged); err != nil {
		fmt.Println(err)
		return
	}
	_, more = rules.Next(s, rules.Skipped{}.With(rules.SignOpened))
	o := rules.Evaluate(s)
	fmt.Println("after a bulging lid:", o.Lowest, "— settled:", o.Settled())
	// Output:
	// more to ask: true — several answers: true
	// after a bulging lid: Discard safely — settled: true
}
