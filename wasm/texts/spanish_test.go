package texts_test

import (
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"larderlamp/wasm/texts"
)

// pair is an English text, or one form of it, beside its Spanish.
type pair struct{ id, en, es string }

// spanish returns every text of es.json beside the English that it was made from.
func spanish(t testing.TB) (pairs []pair) {
	t.Helper()
	raw, err := os.ReadFile("es.json")
	if err != nil {
		t.Fatal(err)
	}
	var f texts.File
	if err := json.Unmarshal(raw, &f); err != nil {
		t.Fatal(err)
	}
	english, err := texts.English()
	if err != nil {
		t.Fatal(err)
	}
	for i := range english {
		e := &english[i]
		theirs, ok := f.Texts[e.ID]
		switch {
		case !ok || theirs.From != e.From():
			t.Errorf("%s: %q has no Spanish, or that of another English", e.ID, e.All)
		case e.One == "":
			pairs = append(pairs, pair{e.ID, e.All, theirs.To})
		default:
			pairs = append(pairs, pair{e.ID, e.One, theirs.One}, pair{e.ID, e.All, theirs.Many}, pair{e.ID, e.All, theirs.Other})
		}
	}
	return pairs
}

// table reads a table of testdata/texts: tab-separated, the first line names the
// columns.
func table(t testing.TB, name string, columns int) (rows [][]string) {
	t.Helper()
	raw, err := os.ReadFile("../../testdata/texts/" + name)
	if err != nil {
		t.Fatal(err)
	}
	for n, line := range strings.Split(strings.TrimSuffix(string(raw), "\n"), "\n") {
		row := strings.Split(line, "\t")
		if len(row) != columns || slices.Contains(row, "") {
			t.Fatalf("%s:%d: want %d columns, each with something in it: %q", name, n+1, columns, line)
		}
		if n > 0 {
			rows = append(rows, row)
		}
	}
	return rows
}

var (
	filledIn = regexp.MustCompile(`%(\[\d+\])?[-+#0]*[\d.]*[a-zA-Z]|\{[a-z]+\}`)
	pieces   = regexp.MustCompile(`#|\d+(?:[.,]\d+)*|°[fc]|%|\pL+(?:['’]\pL+)*|[.,;:()!?…—–]`)
	// stops are where a sentence ends, or a part of one that could stand by itself.
	stops = regexp.MustCompile(`[.!?:;…]["”)]?\s+`)
)

// words cuts a text into its words, in lower case, and its marks; # stands for what is
// filled in.
func words(text string) []string {
	text = strings.ReplaceAll(filledIn.ReplaceAllString(text, " # "), "%%", "%")
	return pieces.FindAllString(strings.ReplaceAll(strings.ToLower(text), "’", "'"), -1)
}

// spaced writes the words of a text with a space on both sides of each, without marks:
// so a phrase can be found whole.
func spaced(text string) string {
	var b strings.Builder
	for _, w := range words(text) {
		if !strings.Contains(".,;:()!?…—–", w) {
			b.WriteString(" " + w + " ")
		}
	}
	return b.String()
}

// phrases matches any of the phrases between commas in a spaced text. A star stands for
// the rest of a word, or by itself for one to three words; # for a number.
func phrases(list string) *regexp.Regexp {
	var all []string
	for _, p := range strings.Split(list, ", ") {
		var one strings.Builder
		for _, w := range strings.Fields(strings.ReplaceAll(p, "-", " ")) {
			switch {
			case w == "*":
				one.WriteString(`(?: [^ ]+ ){1,3}?`)
			case w == "#":
				one.WriteString(` (?:#|\d[^ ]*|one|two|three|four|five|six) `)
			case strings.HasSuffix(w, "*"):
				one.WriteString(" " + regexp.QuoteMeta(strings.TrimSuffix(w, "*")) + `[^ ]* `)
			default:
				one.WriteString(" " + regexp.QuoteMeta(w) + " ")
			}
		}
		all = append(all, one.String())
	}
	return regexp.MustCompile(strings.Join(all, "|"))
}

// condition is a row of es-safety.tsv: what an English sentence says has to be said as
// often in Spanish.
type condition struct {
	name   string
	en, es *regexp.Regexp
}

func conditions(t testing.TB) (all []condition) {
	t.Helper()
	for _, row := range table(t, "es-safety.tsv", 2) {
		all = append(all, condition{row[0], phrases(row[0]), phrases(row[1])})
	}
	return all
}

// sentences cuts both texts into sentences when there are as many in each; else each
// is one.
func (p *pair) sentences() (pairs []pair) {
	en, es := stops.Split(p.en, -1), stops.Split(p.es, -1)
	if len(en) != len(es) {
		return []pair{*p}
	}
	for i := range en {
		pairs = append(pairs, pair{p.id, en[i], es[i]})
	}
	return pairs
}

// units are what is counted or measured, in English and in Spanish.
var units = func() map[string]string {
	of := map[string]string{}
	for _, u := range []string{"°f | °f", "°c | °c", "% | %", "psi | psi", "pound pounds lb | libra libras lb", "second seconds | segundo segundos", "minute minutes min | minuto minutos min",
		"hour hours h | hora horas h", "day days | día días", "week weeks | semana semanas", "month months | mes meses", "year years | año años", "inch inches | pulgada pulgadas",
		"foot feet ft | pie pies", "mile miles | milla millas", "km | km", "m | m", "ml | ml", "l | l", "g | g", "kg | kg", "ounce ounces oz | onza onzas oz", "pint pints | pinta pintas", "quart quarts | cuarto cuartos",
		"gallon gallons | galón galones", "cup cups | taza tazas", "tablespoon tablespoons tbsp | cucharada cucharadas", "teaspoon teaspoons tsp | cucharadita cucharaditas",
		"jar jars | frasco frascos", "batch batches | tanda tandas", "place places | lugar lugares", "trip trips | viaje viajes", "time times | vez veces", "megabyte megabytes mb | megabyte megabytes mb", "kb | kb"} {
		en, es, _ := strings.Cut(u, " | ")
		for _, w := range strings.Fields(en) {
			of["en "+w] = en
		}
		for _, w := range strings.Fields(es) {
			of["es "+w] = en
		}
	}
	return of
}()

// measures lists the numbers of a text in order, and those that have a unit with it,
// and with # for what is filled in.
func measures(language, text string) (numbers, measured []string) {
	list := words(text)
	for i, w := range list {
		if w != "#" && (w[0] < '0' || w[0] > '9') {
			continue
		}
		number := strings.ReplaceAll(w, ",", "")
		if number != "#" {
			numbers = append(numbers, number)
		}
		next := list[i+1:]
		if len(next) > 1 && next[0] == "de" {
			next = next[1:] // "1/4 de cucharadita"
		}
		if len(next) > 0 && units[language+" "+next[0]] != "" {
			measured = append(measured, number+" "+units[language+" "+next[0]])
		}
	}
	slices.Sort(numbers)
	slices.Sort(measured)
	return numbers, measured
}

// arguments lists what is filled into a text, each place with its kind.
func arguments(text string) (all []string) {
	next := 1
	for _, verb := range filledIn.FindAllString(strings.ReplaceAll(text, "%%", ""), -1) {
		kind := verb[len(verb)-1:]
		if verb[0] == '{' {
			all = append(all, verb)
			continue
		}
		if _, err := fmt.Sscanf(verb, "%%[%d]", &next); err != nil && strings.Contains(verb, "[") {
			all = append(all, "unreadable "+verb)
		}
		all = append(all, fmt.Sprint(next, kind))
		next++
	}
	slices.Sort(all)
	return all
}

var (
	englishNo = phrases("not, never, no, nothing, none, nobody, nowhere, neither, cannot, without, can't, don't, isn't, doesn't, won't")
	// nearlyNo are English words for which plain Spanish says "no" or "sin": "unopened"
	// is "sin abrir", "other than" is "que no sea".
	nearlyNo = phrases("unopened, unsealed, unscented, unnatural, unripe, unvented, unknown, boneless, colorless, bands off, band off, off your skin, gone, bare, other than, else than, other changes than, anything but, nothing but, disagree*, missed, packed dry, below the boil, green tomato*, mango green, lost its seal")
	// noDenial are Spanish phrases with such a word that deny nothing.
	noDenial = regexp.MustCompile(`(?i)\b(?:sin duda|sin peligro|no más de|no más que|sin importar|ya no está)`)
)

// negations counts what a Spanish sentence denies. What goes on with it in the same
// clause, as "nada" in "no hay nada", counts once; a word such as "nada" behind its
// verb needs a word before the verb, and unbacked reports one that has none.
func negations(text string) (n, strong int, unbacked string) {
	denied, opening := false, true
	list := words(text)
	for i, w := range list {
		was := opening
		opening = false
		switch w {
		case ",", ";", ":", ".", "(", ")", "!", "?", "…", "—", "–":
			denied, opening = false, true
			if w == "," {
				continue
			}
		case "y", "o", "u", "e", "pero", "porque", "si", "que", "cuando", "donde", "hasta":
			denied, opening = denied && w == "que", true
		case "a", "de", "en", "con", "por", "para", "como", "es", "ahora", "los", "las", "solo", "casi", "ya":
			opening = was || w != "es"
		case "no", "sin":
			n++
			strong++
			denied = true
		case "nunca", "jamás", "nada", "nadie", "ni", "tampoco", "ningún", "ninguno", "ninguna", "ningunos", "ningunas":
			if !denied {
				n++
				if w == "ni" && n == 1 && !slices.Contains(list[i+1:], "ni") || !was && strings.HasPrefix(w, "n") && w != "ni" && w != "nunca" {
					unbacked = w
				}
			}
			denied = true
		}
	}
	return n, strong, unbacked
}

// faults lists what the Spanish of a text says less strictly than the English, or
// otherwise: the checks by name with what is wrong.
func (p *pair) faults(conditions []condition) map[string]string {
	found := map[string]string{}
	numbers, measured := measures("en", p.en)
	theirs, inSpanish := measures("es", p.es)
	if !slices.Equal(numbers, theirs) {
		found["numbers"] = fmt.Sprintf("got %q, want %q", theirs, numbers)
	}
	if !slices.Equal(measured, inSpanish) {
		found["units"] = fmt.Sprintf("got %q, want %q", inSpanish, measured)
	}
	if en, es := arguments(p.en), arguments(p.es); !slices.Equal(en, es) {
		found["arguments"] = fmt.Sprintf("got %q, want %q", es, en)
	}
	for _, s := range p.sentences() {
		en, es := spaced(s.en), spaced(s.es)
		want := len(englishNo.FindAllString(en, -1))
		got, _, unbacked := negations(s.es)
		denied, strong, _ := negations(noDenial.ReplaceAllString(s.es, " "))
		switch {
		case got < want:
			found["negation left out"] = fmt.Sprintf("denies %d times, want %d, in %q", got, want, s.es)
		case (want == 0 && denied > 0 || strong > want) && !nearlyNo.MatchString(en):
			found["negation added"] = fmt.Sprintf("denies what the English does not, in %q", s.es)
		case unbacked != "":
			found["negation alone"] = fmt.Sprintf("%q lacks its no in %q", unbacked, s.es)
		}
		for _, c := range conditions {
			want := len(c.en.FindAllString(en, -1))
			if want > 0 && len(c.es.FindAllString(es, -1)) < want {
				found[c.name] = fmt.Sprintf("%q says it %d times, want its like in %q", s.en, want, s.es)
			}
		}
	}
	return found
}

// excepted reads es-exceptions.tsv: texts that say the same in other words, by id and
// check.
func excepted(t testing.TB) map[[2]string]bool {
	t.Helper()
	all := map[[2]string]bool{}
	for _, row := range table(t, "es-exceptions.tsv", 3) {
		all[[2]string{row[0], row[1]}] = false
	}
	return all
}

// The Spanish of a text says no less than its English and nothing milder: every number
// with its unit, everything that is filled in, every negation and every condition.
func TestSpanishSaysNoLess(t *testing.T) {
	list, except := conditions(t), excepted(t)
	for _, p := range spanish(t) {
		for check, wrong := range p.faults(list) {
			if _, ok := except[[2]string{p.id, check}]; ok {
				except[[2]string{p.id, check}] = true
				continue
			}
			t.Errorf("%s: %s: %s\n\tEnglish: %s\n\tSpanish: %s", p.id, check, wrong, p.en, p.es)
		}
	}
	for key, used := range except {
		if !used {
			t.Errorf("es-exceptions.tsv: %s: %s: is no exception", key[0], key[1])
		}
	}
}

// spanishNo are the Spanish words that deny. A second one in a clause, as in "no hay
// ningún proceso", changes nothing.
var (
	spanishNo = regexp.MustCompile(`(?i)(^|[^\pL])(no|sin|nunca|nada|nadie|ning[uú]n[oa]?)([^\pL])`)
	second    = regexp.MustCompile(`(?i)(?:^|[^\pL])(?:no|sin|ni|nunca|nada|nadie|ning[uú]n[oa]?)(?:[^\pL,;:.][^,;:.]*)? $`)
)

// without returns a text without each of the places of a pattern in turn; the first
// and the last group around it stay.
func without(pattern *regexp.Regexp, text string) (all []string) {
	for _, at := range pattern.FindAllStringSubmatchIndex(text, -1) {
		if pattern == spanishNo && at[5]-at[4] > 3 && second.MatchString(text[:at[4]]) {
			continue
		}
		all = append(all, text[:at[4]]+strings.TrimLeft(text[at[5]:], " "))
	}
	return all
}

// plainly matches a phrase of es-safety.tsv in a text as it is written, as the second
// of three groups.
func plainly(list string) *regexp.Regexp {
	var all []string
	for _, p := range strings.Split(list, ", ") {
		p = strings.ReplaceAll(regexp.QuoteMeta(p), ` \* `, `(?: \pL+){1,3}? `)
		all = append(all, strings.ReplaceAll(p, `\*`, `\pL*`))
	}
	return regexp.MustCompile(`(?i)(^|[^\pL])(` + strings.Join(all, "|") + `)([^\pL]|$)`)
}

// The checks notice what a slip of a translator would do to a text: over all texts,
// whatever is changed in one place.
func TestSpanishSlipsAreNoticed(t *testing.T) {
	list, except := conditions(t), excepted(t)
	rows := table(t, "es-safety.tsv", 2)
	said := make([]*regexp.Regexp, len(rows))
	for i := range rows {
		said[i] = plainly(rows[i][1])
	}
	numbers := regexp.MustCompile(`(^|[^\d.,%\[])(\d+)()`)
	measured := regexp.MustCompile(`(\d ?)(°F|°C|horas?|minutos?|días?|semanas?|meses|mes|años?|pulgadas?|libras?|pintas?|cuartos?|tazas?|cucharadas?|cucharaditas?)()`)
	verb := regexp.MustCompile(`^(¿|¡|“)?(El|La|Los|Las|Un|Una|Este|Esta|Su) (\pL+) `)
	type kind struct {
		name          string
		least         float64 // the share that has to be noticed
		made, noticed int
	}
	kinds := []*kind{{name: "a number is changed", least: 1}, {name: "a unit is changed", least: .95}, {name: "what is filled in is left out", least: 1}, {name: "what is filled in is swapped", least: 1},
		{name: "a negation is left out", least: .9}, {name: "a negation is added", least: .9}, {name: "a condition is left out", least: .9}}
	try := func(k *kind, p pair, changed string) {
		if changed == p.es {
			return
		}
		k.made++
		p.es = changed
		for check := range p.faults(list) {
			if _, ok := except[[2]string{p.id, check}]; !ok {
				k.noticed++
				return
			}
		}
		if k.least == 1 || testing.Verbose() {
			t.Logf("%s: not noticed: %s: %s", k.name, p.id, changed)
		}
	}
	for _, p := range spanish(t) {
		for _, at := range numbers.FindAllStringSubmatchIndex(p.es, -1) {
			try(kinds[0], p, p.es[:at[5]]+"0"+p.es[at[5]:])
		}
		for _, at := range measured.FindAllStringSubmatchIndex(p.es, -1) {
			other := " ml"
			switch unit := p.es[at[4]:at[5]]; {
			case unit == "°F":
				other = "°C"
			case unit == "°C":
				other = "°F"
			case strings.HasPrefix(unit, "hora"):
				other = "minutos"
			case strings.HasPrefix(unit, "d"):
				other = "semanas"
			}
			try(kinds[1], p, p.es[:at[4]]+other+p.es[at[5]:])
		}
		filled := filledIn.FindAllStringIndex(strings.ReplaceAll(p.es, "%%", "##"), -1)
		for i, at := range filled {
			try(kinds[2], p, p.es[:at[0]]+p.es[at[1]:])
			for _, next := range filled[i+1:] {
				a, b := p.es[at[0]:at[1]], p.es[next[0]:next[1]]
				if a[len(a)-1] != b[len(b)-1] && !strings.Contains(a+b, "[") && a[0] == '%' {
					try(kinds[3], p, p.es[:at[0]]+b+p.es[at[1]:next[0]]+a+p.es[next[1]:])
				}
			}
		}
		if strings.TrimSpace(p.es) != "" && len(englishNo.FindAllString(spaced(p.en), -1)) > 0 {
			for _, changed := range without(spanishNo, p.es) {
				try(kinds[4], p, changed)
			}
		}
		if at := verb.FindStringIndex(p.es); at != nil {
			try(kinds[5], p, p.es[:at[1]]+"no "+p.es[at[1]:])
		}
		for i := range list {
			if list[i].en.MatchString(spaced(p.en)) {
				for _, changed := range without(said[i], p.es) {
					try(kinds[6], p, changed)
				}
			}
		}
	}
	for _, k := range kinds {
		share := float64(k.noticed) / float64(max(1, k.made))
		t.Logf("%s: %d of %d noticed (%.1f %%)", k.name, k.noticed, k.made, 100*share)
		if k.made < 20 || share < k.least {
			t.Errorf("%s: %d of %d noticed, want %.0f %%", k.name, k.noticed, k.made, 100*k.least)
		}
	}
}

// One thing has one word: each term of the list that an English text has is there in
// Spanish, by the term that the list gives it. The list says of each where it was read.
func TestSpanishHasOneWordForOneThing(t *testing.T) {
	rows := table(t, "es-terms.tsv", 3)
	pairs := spanish(t)
	for _, row := range rows {
		if !strings.HasPrefix(row[2], "read: ") && !strings.HasPrefix(row[2], "from memory") {
			t.Errorf("es-terms.tsv: %s: %q does not say where it was read", row[0], row[2])
		}
		en, es := phrases(row[0]), phrases(row[1])
		n := 0
		for _, p := range pairs {
			if !en.MatchString(spaced(p.en)) {
				continue
			}
			n++
			if !es.MatchString(spaced(p.es)) {
				t.Errorf("%s: %q has no %q\n\tEnglish: %s\n\tSpanish: %s", p.id, row[0], row[1], p.en, p.es)
			}
		}
		if n == 0 {
			t.Errorf("es-terms.tsv: %s: no text has it", row[0])
		}
	}
}

// inBrackets is what stands beside a word to explain it, such as its English.
var inBrackets = regexp.MustCompile(`\([^)]*\)`)

// No Spanish text has a word of another region for what has a word here, a form of tú,
// or a word that stayed English.
func TestSpanishHasNoRetiredWords(t *testing.T) {
	pairs := spanish(t)
	for _, row := range table(t, "es-words.tsv", 2) {
		bad := phrases(row[0])
		for _, p := range pairs {
			if found := bad.FindString(spaced(inBrackets.ReplaceAllString(p.es, ""))); found != "" {
				t.Errorf("%s: say %q, not %q: %s", p.id, row[1], strings.TrimSpace(found), p.es)
			}
		}
	}
}
