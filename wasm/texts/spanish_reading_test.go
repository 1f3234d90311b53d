package texts_test

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"larderlamp/rules"
	"larderlamp/rules/prose"
	"larderlamp/wasm/texts"
)

// spanishSyllables counts the syllables of a Spanish word: each group of vowels is one,
// but for two of a, e, o side by side, and for an í or ú beside another vowel.
func spanishSyllables(word string) int {
	word = strings.ToLower(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }))
	if word == "" || unicode.IsDigit(rune(word[0])) {
		return 2 // a number, or a sign that is read as a word
	}
	for _, silent := range [][2]string{{"qu", "q"}, {"gue", "ge"}, {"gui", "gi"}, {"gué", "gé"}, {"guí", "gí"}, {"h", ""}} {
		word = strings.ReplaceAll(word, silent[0], silent[1])
	}
	n, last := 0, ' '
	letters := []rune(word)
	for i, r := range letters {
		if r == 'y' && (i == len(letters)-1 || !strings.ContainsRune("aeiouáéíóú", letters[i+1])) {
			r = 'i'
		}
		switch {
		case !strings.ContainsRune("aeiouáéíóúü", r):
		case !strings.ContainsRune("aeiouáéíóúü", last), apart(last) && apart(r):
			n++
		}
		last = r
	}
	return max(n, 1)
}

// apart reports whether a vowel stands in a syllable of its own beside another such.
func apart(r rune) bool { return strings.ContainsRune("aeoáéóíú", r) }

// inflesz is how easy a Spanish text is to read, by the formula of Flesch as Szigriszt
// fitted it to Spanish (1993); 65 or more is "bastante fácil" on the scale INFLESZ of
// Barrio Cantalejo (2008), which counts a sentence up to a period, colon, semicolon,
// question or exclamation mark. Both from memory.
func inflesz(text string) float64 {
	words, syllables, sentences := 0, 0, 0
	for _, s := range stops.Split(text+" ", -1) {
		list := strings.Fields(s)
		if len(list) == 0 {
			continue
		}
		sentences++
		for _, w := range list {
			words++
			syllables += spanishSyllables(w)
		}
	}
	if words == 0 {
		return 100
	}
	return 206.835 - 62.3*float64(syllables)/float64(words) - float64(words)/float64(sentences)
}

// easiest to miss: the syllables of these were counted by hand.
func TestSpanishSyllables(t *testing.T) {
	for word, want := range map[string]int{
		"sol": 1, "pan": 1, "rey": 1, "y": 1, "hay": 1, "buey": 1, "tapa": 2, "frasco": 2, "agua": 2, "hielo": 2, "cuidado": 3, "aire": 2, "aceite": 3,
		"día": 2, "tío": 2, "baúl": 2, "país": 2, "caía": 3, "río": 2, "sandía": 3, "frío": 2, "poeta": 3, "leer": 2, "ahora": 3, "alcohol": 3, "aéreo": 4,
		"que": 1, "quien": 1, "guisado": 3, "guerra": 2, "pingüino": 3, "agüita": 3, "guantes": 2, "queso": 2, "paraguas": 3, "ciudad": 2, "viuda": 2, "muy": 1,
		"descarte": 3, "conserve": 3, "botulismo": 4, "temperatura": 5, "refrigerador": 5, "enlatadora": 5, "presión": 2, "ebullición": 4, "acidez": 3, "después": 2,
		"huevo": 2, "zanahoria": 4, "prohibido": 3, "búho": 2, "ahí": 2, "yema": 2, "mayo": 2, "ley": 1, "cayó": 2, "construir": 2, "averiguáis": 4, "también": 2,
	} {
		if got := spanishSyllables(word); got != want {
			t.Errorf("%s: got %d syllables, want %d", word, got, want)
		}
	}
}

// easy is what a question or an advice has to reach: "bastante fácil".
const easy = 65

// A tired person reads every question and every advice at once in Spanish too.
func TestSpanishIsEasyToRead(t *testing.T) {
	all, err := inSpanish()
	if err != nil {
		t.Fatal(err)
	}
	reader := all.Reader()
	except, n := map[string]bool{}, 0
	for _, row := range table(t, "es-hard.tsv", 2) {
		except[row[0]] = false
	}
	// What has less than five words has no grade: a single long one would decide it.
	check := func(where string, text string) {
		if len(strings.Fields(text)) < 5 {
			return
		}
		n++
		got := inflesz(text)
		if _, ok := except[where]; ok {
			except[where] = except[where] || got < easy
			return
		}
		if got < easy {
			t.Errorf("%s: got %.1f, want %d: %s", where, got, easy, text)
		}
	}
	for i := range rules.Advices {
		a := &rules.Advices[i]
		title := a.Title.In(reader)
		if !strings.HasSuffix(title, ".") && !strings.HasSuffix(title, "?") {
			title += "."
		}
		check("advice "+a.ID, title+" "+prose.List(a.Steps, " ").In(reader))
	}
	for i := range rules.Signs {
		if id := rules.SignID(i); !id.Fact() {
			s := id.Info()
			check("question "+s.ID, strings.TrimSpace(s.Ask.In(reader)+" "+s.How.In(reader)))
			for _, w := range s.Wordings {
				if w.Ask != "" {
					check("question "+s.ID+" in other words", strings.TrimSpace(w.Ask.In(reader)+" "+w.How.In(reader)))
				}
			}
		}
	}
	// Questions about several signs, those that rules ask of a food, and the like.
	english, err := texts.English()
	if err != nil {
		t.Fatal(err)
	}
	for i := range english {
		e := &english[i]
		if strings.Contains(e.All, "?") && e.One == "" && slices.ContainsFunc(e.In, func(file string) bool { return strings.HasPrefix(file, "rules/") }) {
			check(e.ID, prose.Text(e.All).In(reader))
		}
	}
	for where, hard := range except {
		if !hard {
			t.Errorf("es-hard.tsv: %s: is no exception", where)
		}
	}
	if n < 150 {
		t.Errorf("got only %d texts", n)
	}
}
