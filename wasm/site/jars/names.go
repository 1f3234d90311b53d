package jars

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"strings"

	"larderlamp/rules"
	"larderlamp/rules/processed"
	"larderlamp/rules/prose"
)

// listedProduct is a product as `site check -list products` prints it.
type listedProduct struct {
	ID        string           `json:"id"`
	Name      prose.Text       `json:"name"`
	Also      []string         `json:"also,omitempty"`
	Tables    []string         `json:"tables,omitempty"` // for a process
	Condition *listedCondition `json:"condition,omitempty"`
}

// listedCondition is what the sign "condition" asks of a product.
type listedCondition struct {
	Ask prose.Text `json:"ask"`
	Met prose.Text `json:"met"`
	Not prose.Text `json:"not"`
}

// listedSign is a sign as `site check -list signs` prints it.
type listedSign struct {
	ID     string        `json:"id"`
	Name   prose.Text    `json:"name"`
	Ask    prose.Text    `json:"ask"`
	Values []listedValue `json:"values"`
}

type listedValue struct {
	ID    string     `json:"id"`
	Label prose.Text `json:"label"`
}

// List prints the names that a jar can be told by, in a language; nil is English.
func List(what string, asJSON bool, in prose.Language, out io.Writer) error {
	w := bufio.NewWriter(out)
	var all any
	switch what {
	case "products":
		products := make([]listedProduct, len(rules.Catalog))
		for i := range rules.Catalog {
			p := &rules.Catalog[i]
			products[i] = listedProduct{p.ID, p.Name, p.Also, processed.Tables(p), nil}
			if spoken, ok := in.(interface{ Names(*rules.Product) []string }); ok {
				products[i].Also = spoken.Names(p)[1:]
			}
			if c := p.Condition; c != nil {
				products[i].Condition = &listedCondition{c.Ask, c.OK, c.Not}
			}
			if asJSON {
				continue
			}
			fmt.Fprintf(w, "%s\t%s\n", p.ID, p.Name.In(in))
			if also := products[i].Also; len(also) > 0 {
				fmt.Fprintf(w, "\talso: %s\n", strings.Join(also, "; "))
			}
			if tables := products[i].Tables; len(tables) > 1 {
				fmt.Fprintf(w, "\ttables: %s\n", strings.Join(tables, "; "))
			}
			if c := p.Condition; c != nil {
				fmt.Fprintf(w, "\tcondition: %s met: %s; not: %s\n", c.Ask.In(in), c.OK.In(in), c.Not.In(in))
			}
		}
		said(reflect.ValueOf(products), in)
		all = products
	case "signs":
		var signs []listedSign
		for i := range rules.Signs {
			if rules.SignID(i) == rules.SignBacking {
				continue // worked out, never told
			}
			info := rules.SignID(i).Info()
			s := listedSign{ID: info.ID, Name: info.Name, Ask: info.Ask}
			for _, v := range info.Values {
				s.Values = append(s.Values, listedValue{v.ID, v.Label})
			}
			signs = append(signs, s)
			if asJSON {
				continue
			}
			fmt.Fprintf(w, "%s\t%s: %s\n", s.ID, s.Name.In(in), s.Ask.In(in))
			for _, v := range s.Values {
				fmt.Fprintf(w, "\t%s\t%s\n", v.ID, v.Label.In(in))
			}
		}
		said(reflect.ValueOf(signs), in)
		all = signs
	default:
		return InputError{fmt.Errorf("-list: want products or signs, have %q", what)}
	}
	var err error
	if asJSON {
		encode := json.NewEncoder(w)
		encode.SetEscapeHTML(false)
		encode.SetIndent("", "  ")
		err = encode.Encode(all)
	}
	return errors.Join(err, w.Flush())
}

// noProduct says that there is no product with that id, and which was meant.
func noProduct(id string) error {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		for _, name := range rules.EnglishNames(p) {
			if strings.EqualFold(name, id) {
				return fmt.Errorf("no product %q: that is a name of %s (%s)", visible(id), p.ID, p.Name)
			}
		}
	}
	var all, near []string
	for i := range rules.Catalog {
		all = append(all, rules.Catalog[i].ID)
	}
	for _, id := range rules.Nearest(id, all, 3) {
		p, _ := rules.ProductByID(id)
		near = append(near, fmt.Sprintf("%s (%s)", p.ID, p.Name))
	}
	for _, h := range rules.Search(strings.ReplaceAll(id, "-", " "), 3) {
		name := fmt.Sprintf("%s (%s)", h.Product.ID, h.Product.Name)
		if len(h.NotCovered) > 0 {
			name = fmt.Sprintf("%s (%s, which does not cover “%s”)", h.Product.ID, h.Product.Name, visible(strings.Join(h.NotCovered, "”, “")))
		}
		if len(near) < 4 && !strings.Contains(strings.Join(near, " "), h.Product.ID+" (") {
			near = append(near, name)
		}
	}
	if len(near) == 0 {
		near = []string{"unknown-contents"}
	}
	return fmt.Errorf("no product %q; did you mean %s? (site check -list products)", visible(id), strings.Join(near, ", "))
}

// didYouMean ends an error with the nearest valid names.
func didYouMean(name string, valid []string) string {
	near := rules.Nearest(name, valid, 2)
	if len(near) == 0 {
		near = valid
	}
	return "; did you mean " + strings.Join(near, ", ") + "?"
}
