package rules_test

import (
	"bufio"
	"os"
	"slices"
	"strings"
	"testing"

	"larderlamp/rules"
)

// rows reads a table of testdata/search: tab-separated, the first line names the
// columns.
func rows(t testing.TB, name string, columns int) (rows [][]string) {
	t.Helper()
	f, err := os.Open("../testdata/search/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for n := 0; lines.Scan(); n++ {
		row := strings.Split(lines.Text(), "\t")
		if len(row) != columns {
			t.Fatalf("%s:%d: got %d columns, want %d", name, n+1, len(row), columns)
		}
		if n > 0 {
			rows = append(rows, row)
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	return
}

// The words in testdata/search were written by somebody who had not seen the
// search, from cookbooks and memory: everyday, regional, misspelled, compound. A
// plainly named food has to be found. Where the food is a compound, the plain food
// may come first only when the search says what it does not cover.
func TestWordsThatPeopleType(t *testing.T) {
	foods := map[string][]string{}
	for _, row := range rows(t, "foods.tsv", 2) {
		for _, id := range strings.Fields(row[1]) {
			if _, ok := rules.ProductByID(id); !ok {
				t.Fatalf("foods.tsv: %s: no product %q", row[0], id)
			}
		}
		foods[row[0]] = strings.Fields(row[1])
	}
	typed := rows(t, "typed.tsv", 4)
	if len(typed) < 400 {
		t.Fatalf("got %d rows, want at least 400", len(typed))
	}
	wrong, open := 0, 0
	for _, row := range typed {
		query, kind, why := row[0], row[1], row[3]
		food, lacking, _ := strings.Cut(row[2], " | not covered: ")
		want, listed := foods[food]
		if !listed && food != "none" {
			t.Fatalf("typed.tsv: %q: foods.tsv does not list %q", query, food)
		}
		hits := rules.Search(query, 3)
		fail := func(what string) {
			wrong++
			t.Logf("%-45s %s: %s (%s)", query, what, named(hits), row[2])
		}
		switch {
		case kind == "none" || len(hits) == 0:
			if kind == "none" && len(hits) > 0 && len(hits[0].NotCovered) == 0 {
				fail("is no food")
			}
			if kind != "none" && kind != "compound" && !strings.Contains(why, "no entry is acceptable") {
				fail("finds nothing")
			}
		case kind == "compound":
			if slices.Contains(want, hits[0].Product.ID) && !says(hits[0], lacking) && !names(hits[0].Product, lacking) {
				fail("takes the plain food for it")
			}
		case !slices.Contains(want, hits[0].Product.ID):
			if len(hits[0].NotCovered) == 0 {
				fail("is another food")
			} else {
				open++
				t.Logf("%-45s only openly: %s (%s)", query, named(hits), row[2])
			}
		case len(hits[0].NotCovered) > 0:
			open++
			t.Logf("%-45s right, and not covered: %s", query, named(hits))
		}
	}
	t.Logf("%d words: %d wrong, %d of plain foods only with words that are not covered", len(typed), wrong, open)
	if 20*wrong > len(typed) {
		t.Errorf("got %d of %d wrong, want at most one in 20", wrong, len(typed))
	}
}

// says reports whether a hit says that each of the words is not covered.
func says(h rules.Hit, words string) bool {
	said := strings.ToLower(strings.Join(h.NotCovered, " "))
	for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return r == ' ' || r == ',' }) {
		if !strings.Contains(said, w) {
			return false
		}
	}
	return true
}

// names reports whether the product itself names the words: it is no plain food.
func names(p *rules.Product, words string) bool {
	all := strings.ToLower(p.Name.String() + " " + strings.Join(p.Also, " "))
	for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return r == ' ' || r == ',' }) {
		if strings.Contains(all, w) {
			return !p.Processed() && p.Class == rules.ClassLow
		}
	}
	return false
}

func named(hits []rules.Hit) string {
	var s []string
	for _, h := range hits {
		name := h.Product.ID
		if len(h.NotCovered) > 0 {
			name += " without “" + strings.Join(h.NotCovered, "”, “") + "”"
		}
		s = append(s, name)
	}
	return strings.Join(s, "; ")
}

// namesOf returns up to n names of each product that can be canned or named.
func namesOf(p *rules.Product, n int) []string {
	return append([]string{p.Name.String()}, p.Also[:min(n-1, len(p.Also))]...)
}

// stem is the beginning that a word shares with its other forms.
func stem(word string) string {
	word = strings.ToLower(word)
	return word[:max(min(len(word), 4), len(word)-3)]
}

// Whatever is added to the name of a product is covered by a name of what is
// found, or is said to be not covered: over every product and what people put
// into jars.
func TestNothingIsDroppedInSilence(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and the same natively")
	}
	added := strings.Fields("bacon cream garlic flour oil beans noodles cheese mushrooms jalapeno smoked gravy confit xylograph")
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.Group == rules.GroupUnlisted {
			continue
		}
		for _, name := range namesOf(p, 2) {
			for _, word := range added {
				for _, query := range []string{name + " with " + word, word + " " + name} {
					for _, h := range rules.Search(query, 3) {
						all := strings.ToLower(strings.Join(append([]string{h.Product.Name.String()}, h.Product.Also...), " "))
						if !strings.Contains(all, stem(word)) && !slices.ContainsFunc(h.NotCovered, func(s string) bool { return strings.Contains(s, word) }) && !synonym(word, all) {
							t.Errorf("%q: got %s, with %q silently dropped", query, named([]rules.Hit{h}), word)
						}
					}
				}
			}
		}
	}
}

// synonym reports whether a text has another word for a thing that is added in the
// test above.
func synonym(word, all string) bool {
	return word == "jalapeno" && strings.Contains(all, "jalapeño") || word == "mushrooms" && strings.Contains(all, "mushroom")
}

// What a food was made into differs from what it was added to: "onion relish" is
// a relish of onions, and "relish with onions" is not.
func TestAddedIsNotMadeOf(t *testing.T) {
	for made, added := range map[string]string{"onion relish": "relish with onions", "corn relish": "relish w/ corn", "mango salsa": "salsa with mango", "cherry pie filling": "pie filling with cherries",
		"hot dog relish": "relish with hot dogs", "tomato jam": "jam plus tomato", "strawberry jam": "jam with strawberries"} {
		if hits := rules.Search(made, 1); len(hits) == 0 || len(hits[0].NotCovered) > 0 {
			t.Errorf("%q: got %s, want a product that covers it", made, named(hits))
		}
		for _, h := range rules.Search(added, 3) {
			if len(h.NotCovered) == 0 && h.Product.Processed() {
				t.Errorf("%q: got %s with everything covered", added, named([]rules.Hit{h}))
			}
		}
	}
	for _, h := range rules.Search("cherry pie", 3) {
		if strings.HasPrefix(h.Product.ID, "cherries-") && len(h.NotCovered) == 0 {
			t.Errorf("a cherry pie: got %s", h.Product.ID)
		}
	}
}

// A query that says acid is missing is never silently dropped, whatever the food.
func TestMissingAcidIsNeverCovered(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and the same natively")
	}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.Group == rules.GroupUnlisted {
			continue
		}
		for _, name := range namesOf(p, 2) {
			for _, lacks := range []string{"no vinegar", "without vinegar", "half the vinegar", "less vinegar", "without the lemon juice", "no lemon juice added", "vinegar left out", "vinegar free",
				"not enough vinegar", "diluted vinegar", "forgot the lemon juice", "no citric acid", "w/o vinegar", "with half of the vinegar the recipe called for", "unacidified", "low acid"} {
				for _, query := range []string{name + " " + lacks, lacks + " " + name} {
					for _, h := range rules.Search(query, 2) {
						if len(h.NotCovered) == 0 {
							t.Errorf("%q: got %s with everything covered", query, h.Product.ID)
						}
					}
				}
			}
		}
	}
}

// Sizes, years, whose recipe it is and how it was packed change nothing.
func TestWordsThatChangeNothing(t *testing.T) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.Group == rules.GroupUnlisted {
			continue
		}
		plain := rules.Search(p.Name.String(), 1)
		for _, query := range []string{("homemade " + p.Name).String(), ("grandma's " + p.Name).String(), ("7 pints of " + p.Name).String(), (p.Name + " 2019").String(), (p.Name + " (raw pack)").String(), (p.Name + ", half pints").String(), ("my mom's " + p.Name + " recipe").String(),
			("12 qts " + p.Name).String(), (p.Name + " from the garden").String(), ("the last of our " + p.Name).String(), (p.Name + " - pressure canned").String(), ("Aunt's home-canned " + p.Name).String(), ("one jar of " + p.Name).String()} {
			got := rules.Search(query, 1)
			if len(got) == 0 || got[0].Product != plain[0].Product || len(got[0].NotCovered) > 0 {
				t.Errorf("%q: got %s, want %s as without the added words", query, named(got), named(plain))
			}
		}
	}
}

// A typing slip never silently leads to a milder food: for every name, and every
// letter of it that is left out, doubled or swapped with its neighbor, the first
// hit is the product, or one at least as strict, or one that says what it does not
// cover.
func TestSlipsNeverMakeAFoodMilder(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and the same natively")
	}
	strict := func(p *rules.Product) int {
		n := 2 * int(p.Class)
		if !p.Processed() {
			n++
		}
		return n
	}
	slips, other := 0, 0
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.Group == rules.GroupUnlisted {
			continue
		}
		for _, name := range namesOf(p, 3) {
			if name != strings.ToLower(name) && name == p.Name.String() && strings.ContainsAny(name, ",:(") {
				continue // a heading, not what is typed
			}
			first := rules.Search(name, 1)
			if len(first) == 0 {
				continue
			}
			for at := 1; at < len(name)-1; at++ {
				if name[at] == ' ' || name[at+1] == ' ' || name[at] >= 0x80 || name[at+1] >= 0x80 || name[at-1] >= 0x80 || wordAt(name, at) < 5 {
					continue
				}
				for _, slip := range []string{name[:at] + name[at+1:], name[:at] + name[at:at+1] + name[at:], name[:at] + name[at+1:at+2] + name[at:at+1] + name[at+2:]} {
					slips++
					hits := rules.Search(slip, 1)
					if len(hits) == 0 || len(hits[0].NotCovered) > 0 || hits[0].Product == first[0].Product || isOrBegins(slip, hits[0].Product) {
						continue
					}
					other++
					if strict(hits[0].Product) < strict(first[0].Product) {
						t.Errorf("%q, a slip for %q (%s): got the milder %s", slip, name, first[0].Product.ID, named(hits))
					}
				}
			}
		}
	}
	t.Logf("%d slips, %d find another food", slips, other)
}

// wordAt returns the length of the word at a place of a text.
func wordAt(text string, at int) int {
	start := strings.LastIndexByte(text[:at], ' ') + 1
	if end := strings.IndexByte(text[at:], ' '); end >= 0 {
		return at + end - start
	}
	return len(text) - start
}

// isOrBegins reports whether a text is a name of a product, or the beginning of
// one: then it is no slip.
func isOrBegins(text string, p *rules.Product) bool {
	return slices.ContainsFunc(append([]string{p.Name.String()}, p.Also...), func(name string) bool {
		return len(text) <= len(name) && strings.EqualFold(name[:len(text)], text)
	})
}
