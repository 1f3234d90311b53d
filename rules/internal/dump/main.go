// Command dump prints the rule base as JSON, so that two editions of it can be
// compared by diffrules.
package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"

	"larderlamp/rules"
)

// Sign and Rule are what decides; words and sources are left out.
type (
	Sign struct {
		ID     string   `json:"id"`
		Values []string `json:"values"`
	}
	Rule struct {
		ID   string              `json:"id"`
		Kind string              `json:"kind"`
		Then string              `json:"then,omitempty"`
		When map[string][]string `json:"when"`
	}
	Book struct {
		Edition string `json:"edition"`
		// Order is that in which the diagram of the whole tree tests the signs.
		Order []string `json:"order"`
		Signs []Sign   `json:"signs"`
		Rules []Rule   `json:"rules"`
	}
)

func main() {
	if err := write(os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "dump:", err)
		os.Exit(1)
	}
}

// write writes the rule base.
func write(out io.Writer) error {
	book := Book{Edition: rules.Edition}
	for _, id := range rules.NewTree().Order {
		book.Order = append(book.Order, id.ID())
	}
	for i := range rules.Signs {
		s := Sign{ID: rules.Signs[i].ID}
		for _, v := range rules.Signs[i].Values {
			s.Values = append(s.Values, v.ID)
		}
		book.Signs = append(book.Signs, s)
	}
	for p := range rules.Parts {
		for _, r := range rules.Parts[p].Rules {
			rule := Rule{ID: r.ID, Kind: r.Kind.Text().String(), Then: r.Then.ID(), When: map[string][]string{}}
			for _, c := range r.When {
				for _, v := range c {
					rule.When[v.Sign().ID()] = append(rule.When[v.Sign().ID()], v.ID())
				}
			}
			book.Rules = append(book.Rules, rule)
		}
	}
	encode := json.NewEncoder(out)
	encode.SetIndent("", " ")
	return encode.Encode(book)
}
