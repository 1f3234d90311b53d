package texts_test

import (
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"larderlamp/app/language"
	"larderlamp/rules"
	"larderlamp/wasm/texts"
)

// inSpanish is es.json as a page is given it.
var inSpanish = sync.OnceValues(func() (*language.Texts, error) {
	raw, err := os.ReadFile("es.json")
	if err != nil {
		return nil, err
	}
	english, err := texts.English()
	if err != nil {
		return nil, err
	}
	l, err := texts.Parse("es.json", raw, english)
	if err != nil {
		return nil, err
	}
	return l.Texts, nil
})

func spanishFinder(t testing.TB) (*language.Texts, *rules.Finder) {
	t.Helper()
	all, err := inSpanish()
	if err != nil {
		t.Fatal(err)
	}
	return all, rules.NewFinder(all.Names, all.Search)
}

// strictness orders products by how much it takes to keep a jar of them.
func strictness(p *rules.Product) int {
	n := 2 * int(p.Class)
	if !p.Processed() {
		n++
	}
	return n
}

func namedHits(hits []rules.Hit) string {
	var all []string
	for _, h := range hits {
		name := h.Product.ID
		if len(h.NotCovered) > 0 {
			name += " without “" + strings.Join(h.NotCovered, "”, “") + "”"
		}
		all = append(all, name)
	}
	return strings.Join(all, "; ")
}

// rows reads a table of testdata/search without its first line, which names the columns.
func rows(t testing.TB, name string, columns int) (rows [][]string) {
	t.Helper()
	raw, err := os.ReadFile("../../testdata/search/" + name)
	if err != nil {
		t.Fatal(err)
	}
	for n, line := range strings.Split(strings.TrimSuffix(string(raw), "\n"), "\n") {
		row := strings.Split(line, "\t")
		if len(row) != columns {
			t.Fatalf("%s:%d: got %d columns, want %d", name, n+1, len(row), columns)
		}
		rows = append(rows, row)
	}
	return rows[1:]
}

// The words in testdata/search/spanish.tsv were written before their author had seen
// the Spanish names: with and without accents, regional, misspelled, in both
// languages at once. The food that is meant has to be found; what is found with
// everything covered is never milder than what was meant.
func TestSpanishWordsThatPeopleType(t *testing.T) {
	_, finder := spanishFinder(t)
	typed, wrong, open := 0, 0, 0
	for n, row := range rows(t, "spanish.tsv", 4) {
		typed++
		query, kind, want, what := row[0], row[1], strings.Fields(row[2]), row[3]
		least := 0
		for i, id := range want {
			if p, ok := rules.ProductByID(id); ok {
				if s := strictness(p); i == 0 || s < least {
					least = s
				}
			} else if kind != "none" {
				t.Fatalf("spanish.tsv:%d: no product %q", n+2, id)
			}
		}
		hits := finder.Search(query, 3)
		covered := len(hits) > 0 && len(hits[0].NotCovered) == 0
		switch {
		case kind == "none":
			if covered {
				wrong++
				t.Logf("%-35s is no food: %s", query, namedHits(hits))
			}
		case len(hits) == 0 || covered && !slices.Contains(want, hits[0].Product.ID):
			wrong++
			t.Logf("%-35s %s: got %s, want %s", query, what, namedHits(hits), want)
			if covered && strictness(hits[0].Product) < least {
				t.Errorf("%q: got %s, milder than %s", query, hits[0].Product.ID, want)
			}
		case !covered:
			open++
			t.Logf("%-35s %s: only openly: %s", query, what, namedHits(hits))
		}
	}
	t.Logf("%d words: %d wrong, %d only with words that are not covered", typed, wrong, open)
	if typed < 300 || 20*wrong > typed || 10*open > typed {
		t.Errorf("got %d of %d wrong and %d only openly, want at most one in 20 and one in 10 of at least 300", wrong, typed, open)
	}
}

// everyName calls do with each Spanish name of each food that can be named.
func everyName(all *language.Texts, do func(p *rules.Product, name string)) {
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.Group == rules.GroupUnlisted {
			continue
		}
		for _, name := range all.Names(p)[:1+len(all.Foods[p.ID])] {
			do(p, name)
		}
	}
}

var unaccented = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n")

// Accents, the tilde and capital letters change nothing.
func TestSpanishIsTypedAnyWay(t *testing.T) {
	all, finder := spanishFinder(t)
	everyName(all, func(p *rules.Product, name string) {
		want := namedHits(finder.Search(name, 1))
		for _, typed := range []string{strings.ToUpper(name), unaccented.Replace(strings.ToLower(name))} {
			if got := namedHits(finder.Search(typed, 1)); got != want {
				t.Errorf("%q: got %s, want %s as for %q", typed, got, want, name)
			}
		}
	})
}

// A Spanish name finds its food, or one at least as strict that has the name too.
func TestSpanishNamesFindTheirFood(t *testing.T) {
	all, finder := spanishFinder(t)
	everyName(all, func(p *rules.Product, name string) {
		hits := finder.Search(name, 3)
		if len(hits) == 0 || len(hits[0].NotCovered) > 0 || strictness(hits[0].Product) < strictness(p) {
			t.Errorf("%q of %s: got %s", name, p.ID, namedHits(hits))
		}
	})
}

// number changes the last letters of a Spanish word to those of one or of several, by
// the rule of the grammar; "" where it has no such form.
func number(word string) string {
	plain := unaccented.Replace(word)
	last := plain[len(plain)-1]
	switch {
	case len(plain) < 4:
		return ""
	case strings.HasSuffix(plain, "ces") && strings.ContainsRune("aeiou", rune(plain[len(plain)-4])):
		return plain[:len(plain)-3] + "z"
	case last == 's' && len(plain) > 4 && strings.Contains("aeiou", plain[len(plain)-2:len(plain)-1]):
		if stem := plain[:len(plain)-2]; strings.HasSuffix(plain, "es") && (strings.HasSuffix(stem, "i") || strings.HasSuffix(stem, "on") || strings.HasSuffix(stem, "ol") || strings.HasSuffix(stem, "or") || strings.HasSuffix(stem, "el")) {
			return stem
		}
		return plain[:len(plain)-1]
	case strings.ContainsRune("aeo", rune(last)):
		return plain + "s"
	case last == 'z':
		return plain[:len(plain)-1] + "ces"
	case strings.ContainsRune("lnrd", rune(last)):
		return plain + "es"
	}
	return ""
}

// One or several of a food are the same food.
func TestSpanishPluralsChangeNothing(t *testing.T) {
	all, finder := spanishFinder(t)
	tried := 0
	everyName(all, func(p *rules.Product, name string) {
		first, rest, _ := strings.Cut(name, " ")
		other := number(strings.ToLower(first))
		if strings.ContainsAny(name, "(,:") || other == "" || strings.HasSuffix(first, "ng") {
			return
		}
		tried++
		typed := strings.TrimSpace(other + " " + rest)
		if want, got := namedHits(finder.Search(name, 1)), namedHits(finder.Search(typed, 1)); got != want {
			t.Errorf("%q: got %s, want %s as for %q", typed, got, want, name)
		}
	})
	if tried < 500 {
		t.Errorf("tried only %d names", tried)
	}
}

// Whatever is added to a Spanish name is covered by a name of what is found, or is said
// to be not covered.
func TestNothingIsDroppedInSilenceInSpanish(t *testing.T) {
	all, finder := spanishFinder(t)
	added := strings.Fields("tocino crema ajo harina aceite frijoles fideos queso hongos jalapeños cacahuates arroz chorizo xilógrafo")
	names := map[string]string{}
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		names[p.ID] = unaccented.Replace(strings.ToLower(strings.Join(all.Names(p), " ")))
	}
	turn := 0
	everyName(all, func(p *rules.Product, name string) {
		for range 4 { // of each name four words, in turn
			word := added[turn%len(added)]
			turn++
			stem := unaccented.Replace(word)[:3]
			for _, h := range finder.Search(name+" con "+word, 3) {
				names := names[h.Product.ID]
				said := slices.ContainsFunc(h.NotCovered, func(s string) bool { return strings.Contains(s, word) })
				if english := all.Search.Words[unaccented.Replace(word)]; !said && !strings.Contains(names, stem) && (english == "" || !strings.Contains(names, english)) {
					t.Errorf("%q: got %s, with %q silently dropped", name+" con "+word, namedHits([]rules.Hit{h}), word)
				}
			}
		}
	})
}

// A query in Spanish that says acid is missing is never silently dropped.
func TestMissingAcidIsNeverCoveredInSpanish(t *testing.T) {
	all, finder := spanishFinder(t)
	everyName(all, func(p *rules.Product, name string) {
		for _, lacks := range []string{"sin vinagre", "sin el jugo de limón", "con menos vinagre", "con la mitad del vinagre", "con poco vinagre", "sin ácido cítrico", "con vinagre diluido", "olvidé el vinagre", "sin nada de vinagre", "con vinagre rebajado"} {
			for _, h := range finder.Search(name+" "+lacks, 2) {
				if len(h.NotCovered) == 0 {
					t.Errorf("%q: got %s with everything covered", name+" "+lacks, h.Product.ID)
				}
			}
		}
	})
}

// Sizes, years, whose recipe it is and how it was packed change nothing.
func TestSpanishWordsThatChangeNothing(t *testing.T) {
	all, finder := spanishFinder(t)
	for i := range rules.Catalog {
		p := &rules.Catalog[i]
		if p.Group == rules.GroupUnlisted {
			continue
		}
		name := all.Names(p)[0]
		want := namedHits(finder.Search(name, 1))
		for _, typed := range []string{name + " caseros", name + " de mi abuela", "7 pintas de " + name, name + " 2019", "un frasco de " + name, name + " de la cosecha de verano", "receta de mi mamá: " + name, name + " del huerto", "enlatado en casa, " + name} {
			if got := namedHits(finder.Search(typed, 1)); got != want {
				t.Errorf("%q: got %s, want %s as without the added words", typed, got, want)
			}
		}
	}
}

// A typing slip in Spanish never silently leads to a milder food: for every name, and
// every letter of it, which is left out, doubled or swapped with its neighbor in turn.
func TestSpanishSlipsNeverMakeAFoodMilder(t *testing.T) {
	if testing.Short() {
		t.Skip("long, and the same natively")
	}
	all, finder := spanishFinder(t)
	slips := 0
	tried := map[*rules.Product]int{}
	everyName(all, func(p *rules.Product, name string) {
		name = unaccented.Replace(strings.ToLower(name))
		first := finder.Search(name, 1)
		if tried[p]++; strings.ContainsAny(name, ",:(") || len(first) == 0 || tried[p] > 3 {
			return
		}
		// A slip that makes another word, "caritas" of "carnitas", or the beginning of
		// one is none.
		own := func(typed, word string, p *rules.Product) bool {
			return slices.ContainsFunc(all.Names(p), func(name string) bool {
				name = unaccented.Replace(strings.ToLower(name))
				return strings.HasPrefix(name, typed) || slices.ContainsFunc(strings.Fields(name), func(w string) bool { return w+"s" == word || strings.HasPrefix(w, word) })
			})
		}
		for at := 1; at < len(name)-1; at++ {
			if name[at] == ' ' || name[at+1] == ' ' {
				continue
			}
			start := strings.LastIndexByte(name[:at], ' ') + 1
			end := strings.IndexByte(name[at:]+" ", ' ') + at
			if end-start < 5 {
				continue
			}
			slip := []string{name[:at] + name[at+1:], name[:at] + name[at:at+1] + name[at:], name[:at] + name[at+1:at+2] + name[at:at+1] + name[at+2:]}[slips%3]
			slips++
			hits := finder.Search(slip, 1)
			if len(hits) > 0 && len(hits[0].NotCovered) == 0 && strictness(hits[0].Product) < strictness(first[0].Product) && !own(slip, slip[start:end+len(slip)-len(name)], hits[0].Product) {
				t.Errorf("%q, a slip for %q (%s): got the milder %s", slip, name, first[0].Product.ID, namedHits(hits))
			}
		}
	})
	if slips < 8_000 {
		t.Errorf("tried only %d slips", slips)
	}
}

// inEnglish searches as a page in English does that has what a page in Spanish goes by,
// cut down to what the search needs; asked reports whether it needed it.
func inEnglish(t testing.TB) (search func(typed string, limit int) (hits []rules.Hit, asked bool)) {
	t.Helper()
	all, _ := spanishFinder(t)
	part := all.ForSearch()
	english, both := rules.NewFinder(rules.EnglishNames, nil), []*rules.Finder{rules.NewFinder(part.Names, part.Search)}
	return func(typed string, limit int) (hits []rules.Hit, asked bool) {
		hits = english.SearchToo(typed, limit, func() []*rules.Finder {
			asked = true
			return both
		})
		return hits, asked
	}
}

// milder reports whether the best of some hits says less than that of others: a milder
// food, or fewer words that are not covered.
func milder(hits, than []rules.Hit) bool {
	if len(hits) == 0 || len(than) == 0 {
		return len(hits) == 0 && len(than) > 0
	}
	return len(hits[0].NotCovered) < len(than[0].NotCovered) || strictness(hits[0].Product) < strictness(than[0].Product)
}

// What people type in Spanish is found on a page in English as it is on one in Spanish, or
// a stricter food is. Names that are English too, and beginnings of such, keep their
// English meaning.
func TestSpanishIsFoundOnAPageInEnglish(t *testing.T) {
	_, finder := spanishFinder(t)
	search := inEnglish(t)
	english := map[string]string{"col": "collards", "adobo": "of the seasonings", "chile con carne": "chili"}
	same, other, mild := 0, 0, 0
	for _, row := range rows(t, "spanish.tsv", 4) {
		typed := row[0]
		hits, asked := search(typed, 14)
		want := finder.Search(typed, 14)
		switch {
		case namedHits(hits) == namedHits(want):
			same++
		case asked && !milder(hits, want):
			other++
		case !asked && namedHits(hits) == namedHits(rules.Search(typed, 14)) && (english[typed] != "" || !milder(hits, want)):
			if other++; milder(hits, want) {
				mild++
			}
		default:
			t.Errorf("%q: got %s, want %s as on a page in Spanish, or stricter", typed, namedHits(hits), namedHits(want))
		}
	}
	t.Logf("%d found as on a page in Spanish, %d otherwise", same, other)
	if same < 400 || other > 40 {
		t.Errorf("got %d found as on a page in Spanish and %d otherwise, want 400 at least and 40 at most", same, other)
	}
	if mild != len(english) {
		t.Errorf("got %d names whose English meaning is milder, want %d as in the list", mild, len(english))
	}
}

// Every Spanish name finds on a page in English what it finds on one in Spanish, or a
// stricter food, unless its letters are an English name or the beginning of one.
func TestSpanishNamesAreFoundOnAPageInEnglish(t *testing.T) {
	all, finder := spanishFinder(t)
	search := inEnglish(t)
	names, kept := 0, 0
	everyName(all, func(p *rules.Product, name string) {
		names++
		hits, asked := search(name, 3)
		switch {
		case !asked:
			if kept++; namedHits(hits) != namedHits(rules.Search(name, 3)) {
				t.Errorf("%q of %s: got %s, want %s as by English names alone", name, p.ID, namedHits(hits), namedHits(rules.Search(name, 3)))
			}
		case len(hits) == 0 || len(hits[0].NotCovered) > 0 || milder(hits, finder.Search(name, 3)):
			t.Errorf("%q of %s: got %s, want %s as on a page in Spanish, or stricter", name, p.ID, namedHits(hits), namedHits(finder.Search(name, 3)))
		}
	})
	t.Logf("%d of %d names have their English meaning", kept, names)
	if names < 900 || 10*kept > names {
		t.Errorf("got %d of %d names with an English meaning, want one in 10 at most", kept, names)
	}
}

// Whatever an English name says is found on a page in English as if it knew no other
// language. What none says is never found as a milder food than before, and where words
// were not covered, what covers them is no milder.
func TestEnglishIsFoundAsBefore(t *testing.T) {
	search := inEnglish(t)
	var typed []string
	for _, row := range slices.Concat(rows(t, "foods.tsv", 2), rows(t, "typed.tsv", 4)) {
		typed = append(typed, row[0])
	}
	for i := range rules.Catalog {
		typed = append(typed, rules.EnglishNames(&rules.Catalog[i])...)
	}
	changed := 0
	for _, typed := range typed {
		hits, _ := search(typed, 14)
		before := rules.Search(typed, 14)
		if namedHits(hits) == namedHits(before) {
			continue
		}
		changed++
		if len(before) > 0 && (len(before[0].NotCovered) == 0 || strictness(hits[0].Product) < strictness(before[0].Product)) || len(before) == 0 && len(hits[0].NotCovered) == 0 {
			t.Errorf("%q: got %s, want %s as by English names alone", typed, namedHits(hits), namedHits(before))
		}
	}
	t.Logf("%d of %d changed", changed, len(typed))
	if changed > 10 {
		t.Errorf("got %d of %d changed, want at most 10", changed, len(typed))
	}
}
