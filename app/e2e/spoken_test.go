//go:build e2e && linux

package e2e

import (
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"larderlamp/app/e2e/drive"
	"larderlamp/wasm/texts"
)

// With LANGUAGE=es the browser of every test asks for pages in Spanish, and the flows
// that look for English words run on them. What a test reads of the page (innerText)
// is put back into English by the file of the language, text by text; and an English
// text that a test compares it with, or looks for in a label, becomes the one that it
// is put back into, or is labeled with. A test that looks for a part of a text sees
// the whole English text, and so finds it.
//
// Where two English texts are one in the other language, both become the first.

// spoken is the language that all flows run in: "" for English, and Spanish where
// speaks says so.
var spoken = os.Getenv("LANGUAGE")

// bilingual knows a language both ways.
type bilingual struct {
	tag    string
	theirs map[string]string // by the English
	script string            // evaluated in every page before its own scripts
	canon  map[string]string // the English that an English text comes back as, where it is another
	filled []filled          // formats, those that say the most first
	pairs  [][2]string       // every English text with the other language's, formats too
}

// filled is a format as a label of a test is put into the other language.
type filled struct {
	english *regexp.Regexp
	theirs  pattern
}

// verb is what is filled into a format, with its number if it has one.
var verb = regexp.MustCompile(`%(?:\[(\d+)\])?[-+#0]*[\d.]*([a-zA-Z%])|\{([a-z]+)\}`)

// pattern is a format as the page can put it back.
type pattern struct {
	Match   string `json:"match"`   // what the other language's text looks like
	Filled  []int  `json:"filled"`  // which argument each group is
	English string `json:"english"` // the English, with arguments as \u0001N\u0001
	length  int
}

// translated reads the English texts of the program, and their translations.
func translated(tag string) (english []texts.Text, file texts.File, err error) {
	if english, err = texts.English(); err != nil {
		return nil, file, err
	}
	text, err := os.ReadFile(languageFile(tag))
	if err != nil {
		return nil, file, err
	}
	return english, file, json.Unmarshal(text, &file)
}

// spanish is Spanish for the tests that speak it in one engine.
var spanish = sync.OnceValues(func() (*bilingual, error) { return both("es") })

// both reads a language of the program.
func both(tag string) (*bilingual, error) {
	english, file, err := translated(tag)
	if err != nil {
		return nil, err
	}
	b := &bilingual{tag: file.Language, theirs: map[string]string{}, canon: map[string]string{}}
	back := map[string]string{}
	var patterns []pattern
	add := func(english, theirs string) {
		b.pairs = append(b.pairs, [2]string{english, theirs})
		if !verb.MatchString(english) {
			if first, there := back[theirs]; there {
				b.canon[english] = first
			} else {
				back[theirs] = english
			}
			b.theirs[english] = theirs
			return
		}
		patterns = append(patterns, formatted(english, theirs))
		forth := formatted(theirs, english)
		b.filled = append(b.filled, filled{regexp.MustCompile(forth.Match), forth})
	}
	for i := range english {
		e := &english[i]
		t := file.Texts[e.ID]
		if e.One == "" {
			add(e.All, t.To)
			marks := []string{". ", " ("} // first sentences, and what is explained
			if strings.HasPrefix(e.In[0], "rules/catalog") {
				marks = append(marks, ",", ":") // names of foods up to a comma
			}
			for _, mark := range marks {
				if at, theirs := strings.Index(e.All, mark), strings.Index(t.To, mark); at > 0 && theirs > 0 && !verb.MatchString(e.All) {
					end := len(strings.TrimRight(mark[:1], " ,:"))
					if _, there := back[t.To[:theirs+end]]; !there {
						back[t.To[:theirs+end]] = e.All[:at+end]
					}
				}
			}
			continue
		}
		add(e.One, t.One)
		add(e.All, t.Other)
	}
	slices.SortStableFunc(patterns, func(a, b pattern) int { return b.length - a.length })
	slices.SortStableFunc(b.filled, func(a, b filled) int { return b.theirs.length - a.theirs.length })
	dictionary, err := json.Marshal(map[string]any{"texts": back, "patterns": patterns, "tag": tag})
	if err != nil {
		return nil, err
	}
	b.script = "(" + backwards + ")(" + string(dictionary) + ");"
	return b, nil
}

// number is what is filled in for %d.
const number = `([-−]?[\d,.]+)`

// formatted makes a format one that can be put back.
func formatted(english, theirs string) (p pattern) {
	argument := func(m []int, text string, count *int) int {
		if m[2] >= 0 {
			n, _ := strconv.Atoi(text[m[2]:m[3]])
			*count = n
			return n
		}
		*count++
		return *count
	}
	names := map[string]int{}
	split := func(text string, literal func(string), filled func(n int, kind string)) {
		at, count := 0, 0
		for _, m := range verb.FindAllStringSubmatchIndex(text, -1) {
			literal(text[at:m[0]])
			at = m[1]
			switch {
			case m[4] >= 0 && text[m[4]:m[5]] == "%":
				literal("%")
			case m[6] >= 0:
				name := text[m[6]:m[7]]
				if names[name] == 0 {
					names[name] = len(names) + 1
				}
				filled(names[name], "s")
			default:
				filled(argument(m, text, &count), text[m[4]:m[5]])
			}
		}
		literal(text[at:])
	}
	var to, from strings.Builder
	split(english, func(s string) { to.WriteString(s) }, func(n int, _ string) { fmt.Fprintf(&to, "\x01%d\x01", n) })
	from.WriteString("^")
	split(theirs, func(s string) { from.WriteString(regexp.QuoteMeta(s)); p.length += len(s) }, func(n int, kind string) {
		if kind == "d" {
			from.WriteString(number)
		} else {
			from.WriteString("(.+?)")
		}
		p.Filled = append(p.Filled, n)
	})
	from.WriteString("$")
	p.Match, p.English = from.String(), to.String()
	return p
}

// backwards makes what a test reads of a page English again.
const backwards = `dictionary => {
	const languages = [dictionary.tag + "-MX", dictionary.tag];
	Object.defineProperty(navigator, "languages", { get: () => languages });
	Object.defineProperty(navigator, "language", { get: () => languages[0] });
	const patterns = dictionary.patterns.map(p => ({ ...p, match: null, source: p.match }));
	const known = new Map(), certain = new Set(), texts = new Map(Object.entries(dictionary.texts));
	const first = (text, how) => text.charAt(0)[how]() + text.slice(1);
	const whole = text => texts.get(text)
		?? (texts.has(first(text, "toUpperCase")) ? first(texts.get(first(text, "toUpperCase")), "toLowerCase") : undefined)
		?? (texts.has(first(text, "toLowerCase")) ? first(texts.get(first(text, "toLowerCase")), "toUpperCase") : undefined);
	// formats gives what a text is by the formats, when all that is filled in is known;
	// and otherwise what it is likely to be: what a person typed is not known. Formats
	// with few words of their own are no likely ones: nearly every text looks like one.
	const formats = (text, deep) => {
		let likely;
		for (const strong of [true, false])
			for (const p of patterns) {
				p.letters ??= p.source.replace(/\\.|\(\.\+\?\)/g, "").match(/\p{L}/gu)?.length ?? 0;
				const m = p.letters < 5 !== strong && text.match(p.match ??= new RegExp(p.source, "s"));
				if (!m) continue;
				const filled = p.filled.map((_, i) => turn(m[i + 1], deep + 1));
				const unknown = p.filled.some((_, i) => !certain.has(m[i + 1]));
				if (filled.includes(undefined) && !strong) continue;
				if (unknown && likely !== undefined) continue;
				const english = p.english.replace(/\u0001(\d+)\u0001/g, (_, n) => { const at = p.filled.indexOf(Number(n)); return filled[at] ?? m[at + 1] ?? "" });
				if (!unknown) return { sure: english };
				likely = english;
			}
		return { likely };
	};
	const sentences = (text, deep) => {
		for (let at = text.indexOf(". "); at > 0; at = text.indexOf(". ", at + 1)) {
			const head = text.slice(0, at + 1), left = text.slice(at + 2);
			const first = whole(head) ?? formats(head, deep + 1).sure;
			const rest = first === undefined ? undefined : turn(left, deep + 1);
			if (rest !== undefined) return first + " " + rest;
		}
	};
	const parts = (text, deep) => {
		const counted = text.match(/^([\d,.]+) (.+)$/s) ?? text.match(/^(.+) (\d{4})$/s);
		const all = counted?.slice(1).map(part => turn(part, deep + 1));
		if (all?.every(part => part !== undefined)) return all.join(" ");
		for (const between of [": ", "? ", " · ", " → ", ", "])
			for (let at = text.indexOf(between); at > 0; at = text.indexOf(between, at + 1)) {
				const end = at + between.trimEnd().length * /[:?]/.test(between);
				const left = text.slice(at + between.length);
				if (between === " · ") { // what a person typed stands between such dots
					const sides = [text.slice(0, at), left].map(side => turn(side, deep + 1));
					if (sides.some(side => side !== undefined)) return (sides[0] ?? text.slice(0, at)) + between + (sides[1] ?? left);
					continue;
				}
				const head = whole(text.slice(0, end)) ?? (/[:?]/.test(between) ? undefined : turn(text.slice(0, end), deep + 1));
				const rest = head === undefined ? undefined : turn(left, deep + 1);
				if (rest !== undefined) return head + text.slice(end, at + between.length) + rest;
			}
	};
	const turn = (text, deep) => {
		if (!/\p{L}/u.test(text.replace(/\b\d{1,2} \p{L}{3,4} \d{4}\b/gu, ""))) { // dates stay
			certain.add(text);
			return text;
		}
		if (known.has(text)) return known.get(text);
		if (deep > 9) return undefined;
		let english = whole(text);
		if (english === undefined) {
			const { sure, likely } = formats(text, deep);
			english = sure;
			if (sure === undefined) english = sentences(text, deep) ?? likely ?? parts(text, deep);
			else certain.add(text);
		} else certain.add(text);
		known.set(text, english);
		return english;
	};
	const back = text => turn(text, 0) ?? text;
	const english = (text, parent) => {
		let rest = text, said = "";
		const walk = document.createTreeWalker(parent, NodeFilter.SHOW_TEXT);
		while (walk.nextNode()) {
			const text = walk.currentNode.data.trim().replace(/\s+/g, " ");
			const at = text && !walk.currentNode.parentElement.closest("[translate=no], script, style") ? rest.indexOf(text) : -1;
			if (at < 0) continue;
			said += rest.slice(0, at) + back(text);
			rest = rest.slice(at + text.length);
		}
		return said + rest;
	};
	const real = Object.getOwnPropertyDescriptor(HTMLElement.prototype, "innerText");
	Object.defineProperty(HTMLElement.prototype, "innerText", { ...real, get() { return english(real.get.call(this), this); } });
	Object.defineProperty(HTMLElement.prototype, "saidText", { get() { return real.get.call(this); } });
	// The page's own scripts read textContent and labels, so these stay, and a test reads others.
	Element.prototype.englishAttribute = function (name) { const text = this.getAttribute(name); return text && back(text.trim().replace(/\s+/g, " ")) };
	Object.defineProperty(Element.prototype, "englishText", { get() { return english(this.textContent, this); } });
}`

// compared is a text that an expression of a test compares with what it has read of
// the page. What is compared with an id or the like is a name of the code.
var compared = regexp.MustCompile(`(\.(?:id|name|type) )?(?:[!=]== |\.(?:includes|startsWith|endsWith|indexOf)\()("(?:[^"\\]|\\.)*")`)

// content is what an expression reads, or sets.
var content = regexp.MustCompile(`\.textContent( = )?`)

// labelOf is a label that an expression of a test looks for.
var labelOf = regexp.MustCompile(`\[(aria-label|placeholder)=(\\?["'])(.*?)(\\?["'])\]`)

// in makes an expression of a test look for what the page says.
func (b *bilingual) in(expression string) string {
	expression = content.ReplaceAllStringFunc(expression, func(read string) string {
		if strings.HasSuffix(read, "= ") {
			return read
		}
		return ".englishText"
	})
	expression = strings.ReplaceAll(expression, `.getAttribute("aria-label")`, `.englishAttribute("aria-label")`)
	expression = labelOf.ReplaceAllStringFunc(expression, func(label string) string {
		m := labelOf.FindStringSubmatch(label)
		// What is filled in may be the program's word, or one that a person typed.
		typed, said := b.translate(m[3], func(english string) string { return english }), b.translate(m[3], b.word)
		return ":is([" + m[1] + "=" + m[2] + typed + m[4] + "],[" + m[1] + "=" + m[2] + said + m[4] + "])"
	})
	return compared.ReplaceAllStringFunc(expression, func(comparison string) string {
		m := compared.FindStringSubmatch(comparison)
		var english string
		if m[1] != "" || json.Unmarshal([]byte(m[2]), &english) != nil {
			return comparison
		}
		if canon, ok := b.canon[english]; ok {
			if other, err := json.Marshal(canon); err == nil {
				return strings.TrimSuffix(comparison, m[2]) + string(other)
			}
		}
		return comparison
	})
}

// word is what the page says for an English text; one that is not the program's stays.
func (b *bilingual) word(english string) string {
	if theirs, ok := b.theirs[english]; ok {
		return theirs
	}
	return english
}

// translate is the same for a text with something filled in, which becomes what word
// makes of it.
func (b *bilingual) translate(english string, word func(string) string) string {
	if _, ok := b.theirs[english]; ok {
		return b.theirs[english]
	}
	for _, f := range b.filled {
		m := f.english.FindStringSubmatch(english)
		if m == nil || f.theirs.length < 4 {
			continue
		}
		theirs := f.theirs.English
		for i, n := range f.theirs.Filled {
			theirs = strings.ReplaceAll(theirs, fmt.Sprintf("\x01%d\x01", n), word(m[i+1]))
		}
		return theirs
	}
	return english
}

// digits are what is filled in where a format has a number.
var digits = regexp.MustCompile(`\d+`)

// said lists what a text in the language of the flows may have for an English text or
// for a part of one: the longest piece, between what is filled in, of each text that has
// such a part. It is for what is too much to be put back into English: a whole print.
func said(english string) []string {
	all := []string{english} // a name that a person gave
	if speaking == nil {
		return all
	}
	rest := strings.TrimPrefix(english, "☐ ")
	box := strings.TrimSuffix(english, rest)
	rest = strings.TrimSuffix(rest, ":")
	end := strings.TrimPrefix(english, box+rest)
	var in func(string) string
	in = func(text string) string { return speaking.translate(text, in) }
	all = append(all, box+in(rest)+end, box+in(rest+end))
	filled := digits.ReplaceAllString(rest, "#")
	for _, pair := range speaking.pairs {
		if strings.Contains(digits.ReplaceAllString(verb.ReplaceAllString(pair[0], "#"), "#"), filled) {
			pieces := verb.Split(pair[1], -1)
			// A piece of three letters or fewer is in nearly every text.
			if longest := strings.TrimSpace(slices.MaxFunc(pieces, func(a, b string) int { return len(a) - len(b) })); len(longest) > 3 {
				all = append(all, box+longest+end)
			}
		}
	}
	return all
}

// timesSaid tells how often a text in the language of the flows has what is English.
func timesSaid(text, english string) (most int) {
	for _, s := range said(english) {
		if s != "" {
			most = max(most, strings.Count(text, s))
		}
	}
	return most
}

// spaceFor is the room for what is so long in English: other languages need more.
func spaceFor(pages int) int {
	if speaking == nil {
		return pages
	}
	return pages + (pages+3)/4
}

// between is a text between the tags of a file, or the quotes of a record.
var between = regexp.MustCompile(`[^<>"]+`)

// inEnglish puts what a page has written into a file or a record back into English.
func (p *tab) inEnglish(written string) string {
	p.t.Helper()
	if speaking == nil {
		return written
	}
	list, err := json.Marshal(between.FindAllString(written, -1))
	if err != nil {
		p.t.Fatal(err)
	}
	turned := eval[[]string](p, "["+string(list)+`].flat().map(text => { const e = document.createElement("p"); e.append(text.trim()); return text.trim().includes(" ") ? text.replace(text.trim(), () => e["english" + "Text"]) : text })`)
	return between.ReplaceAllStringFunc(written, func(string) string {
		next := turned[0]
		turned = turned[1:]
		return next
	})
}

// apart are the tests that choose the languages of their browsers themselves, or are
// about the English texts: they say nothing more about the flows in another language.
var apart = map[string]string{
	"TestAnotherLanguage":              "runs in a language made for it",
	"TestLanguageWithoutAName":         "sets the language that its browser names itself",
	"TestSpanish":                      "chooses the languages of its browser",
	"TestSpanishCannotStart":           "chooses the languages of its browser",
	"TestSpanishDoesNotCome":           "chooses the languages of its browser",
	"TestSpanishFoodsOnAPageInEnglish": "chooses the languages of its browser",
	"TestEveryPageInSpanish":           "chooses the languages of its browser",
	"TestFaultsHaveAnAddress":          "chooses the languages of its browser",
	"TestQuestionsFitTheScreen":        "measures every language of the guide",
	"TestReaderInTheUnitedStates":      "chooses the language of its browser",
	"TestReadersManner":                "chooses the languages of its browser, Spanish among them",
}

// speak sets the language of every browser that is started. LANGUAGE is also a setting
// of the system: one that the guide does not have is not meant for it.
func speak() error {
	if _, err := os.Stat(languageFile(spoken)); spoken == "" || spoken == "en" || err != nil {
		spoken = ""
		return nil
	}
	b, err := both(spoken)
	if err != nil {
		return err
	}
	fmt.Fprintf(os.Stderr, "the flows run in the language %s\n", b.tag)
	speakIn(b)
	return flag.Set("test.skip", "^("+strings.Join(slices.Sorted(maps.Keys(apart)), "|")+")$")
}

// speaks sets the language of the browsers that a test starts in an engine. Without
// LANGUAGE the flows that run in every engine are in Spanish in Firefox: what an engine
// does wrong and what a language does wrong have nothing to do with one another, so
// neither is missed, and it takes no longer.
func speaks(t *testing.T, e drive.Engine) {
	t.Helper()
	if spoken != "" || e != drive.Firefox {
		return
	}
	b, err := spanish()
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { speakIn(nil) })
	speakIn(b)
}

// speaking is the language that the browsers are started in, or nil for English.
var speaking *bilingual

// speakIn starts the browsers from now on in a language.
func speakIn(b *bilingual) {
	speaking, drive.Script, drive.Words = b, "", func(expression string) string { return expression }
	if b != nil {
		drive.Script, drive.Words = b.script, b.in
	}
}

// languageFile is the file of a language.
func languageFile(tag string) string { return "../../wasm/texts/" + tag + ".json" }

// A text comes back from the other language as it was, whatever is filled in.
func TestFormatsComeBack(t *testing.T) {
	for _, c := range []struct{ english, theirs, match, want string }{
		{"%d of %s", "de %[2]s, %[1]d", `^de (.+?), ` + number + `$`, "\x011\x01 of \x012\x01"},
		{"Loading: {progress} %", "Va {progress} %", `^Va (.+?) %$`, "Loading: \x011\x01 %"},
		{"95 %% of %d", "el 95 %% de %d", `^el 95 % de ` + number + `$`, "95 % of \x011\x01"},
	} {
		if got := formatted(c.english, c.theirs); got.Match != c.match || got.English != c.want {
			t.Errorf("%q: got %q and %q", c.english, got.Match, got.English)
		}
	}
}
