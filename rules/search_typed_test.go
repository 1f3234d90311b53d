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
			t.Fatalf("%s:%d: %d columns, want %d", name, n+1, len(row), columns)
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
// search, from cook books and memory: everyday, regional, misspelt, compound.
// What is named plainly has to be found. Where the food is a compound, the plain
// food may come first only when what it lacks is said.
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
		t.Fatalf("%d rows, want at least 400", len(typed))
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
		t.Errorf("%d of %d are wrong, at most one in 20 may be", wrong, len(typed))
	}
}

// says tells whether a hit says that each of the words is not covered.
func says(h rules.Hit, words string) bool {
	said := strings.ToLower(strings.Join(h.NotCovered, " "))
	for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return r == ' ' || r == ',' }) {
		if !strings.Contains(said, w) {
			return false
		}
	}
	return true
}

// names tells whether the product itself names the words: it is no plain food.
func names(p *rules.Product, words string) bool {
	all := strings.ToLower(p.Name + " " + strings.Join(p.Also, " "))
	for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return r == ' ' || r == ',' }) {
		if strings.Contains(all, w) {
			return p.Route == rules.RouteNone && p.Class == rules.ClassLow
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
