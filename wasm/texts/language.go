package texts

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/text/feature/plural"
	tag "golang.org/x/text/language"

	"larderlamp/app/language"
	"larderlamp/rules"
)

// File is a file of a translator.
type File struct {
	Language string                 `json:"language"` // as BCP 47 has it, such as "de"
	Name     string                 `json:"name"`     // in its own words, such as "Deutsch"
	Capitals bool                   `json:"capitals,omitempty"`
	Texts    map[string]Translation `json:"texts"` // by id; what is missing stays English
	Foods    map[string][]string    `json:"foods,omitempty"`
	// Search is what the search of foods has to know of the language.
	Search *rules.Spoken `json:"search,omitempty"`
}

// Translation is a text in another language.
type Translation struct {
	From string `json:"from"`         // the English that it was made from
	To   string `json:"to,omitempty"` // the text; empty where it depends on a number
	// The forms that a number takes, as CLDR names them: those that the language has.
	Zero  string `json:"zero,omitempty"`
	One   string `json:"one,omitempty"`
	Two   string `json:"two,omitempty"`
	Few   string `json:"few,omitempty"`
	Many  string `json:"many,omitempty"`
	Other string `json:"other,omitempty"`
}

// forms returns the forms that are written, by their names.
func (t *Translation) forms() map[string]string {
	all := map[string]string{"zero": t.Zero, "one": t.One, "two": t.Two, "few": t.Few, "many": t.Many, "other": t.Other}
	maps.DeleteFunc(all, func(_, form string) bool { return form == "" })
	return all
}

// Language is a language that can be published.
type Language struct {
	Name  string // in its own words, such as "Deutsch"
	Texts *language.Texts
	// Stale are the ids of translations whose English has changed since, and Unused
	// those of texts that are no longer there. A stale one is not used: what has
	// changed may be the advice.
	Stale, Unused []string
}

var (
	tags = regexp.MustCompile(`^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$`)
	// What follows a number as in "5 % or more" is no verb: none here has a space.
	verbs = regexp.MustCompile(`%(\[\d+\])?[-+#0]*[\d.]*[a-zA-Z%]|\{[a-z]+\}`)
	place = regexp.MustCompile(`\[\d+\]`)
)

// Parse reads a file of a translator. Errors name the text at fault: one that is
// empty, is filled in with other things than the English one, or lacks a form that
// the language has.
func Parse(name string, text []byte, english []Text) (*Language, error) {
	var f File
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(&f); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if _, err := d.Token(); err != io.EOF {
		return nil, fmt.Errorf("%s: something follows the texts", name)
	}
	if !tags.MatchString(f.Language) {
		return nil, fmt.Errorf("%s: language %q is no tag such as de or pt-BR", name, f.Language)
	}
	known, err := tag.Parse(f.Language)
	if err != nil {
		return nil, fmt.Errorf("%s: language: %w", name, err)
	}
	if strings.TrimSpace(f.Name) == "" {
		return nil, fmt.Errorf("%s: the language has no name: want it in its own words, such as Deutsch", name)
	}
	if len(f.Texts) == 0 {
		return nil, fmt.Errorf("%s: no texts", name)
	}
	plurals, needed := Plural(known)
	l := &Language{Name: f.Name,
		Texts: &language.Texts{Tag: f.Language, Whole: map[string]string{}, Forms: map[string]map[string]string{}, Plural: plurals, Capitals: f.Capitals, Foods: f.Foods, Search: f.Search}}
	of := map[string]*Text{}
	for i := range english {
		of[english[i].ID] = &english[i]
	}
	wrong := sameKey(english)
	for _, id := range slices.Sorted(maps.Keys(f.Texts)) {
		t, theirs := of[id], f.Texts[id]
		switch {
		case t == nil:
			l.Unused = append(l.Unused, id)
			continue
		case theirs.From != t.From():
			l.Stale = append(l.Stale, id)
			continue
		}
		if err := theirs.fits(t, needed); err != nil {
			wrong = append(wrong, fmt.Errorf("%s: %s: %q: %w", name, id, t.All, err))
			continue
		}
		if t.One != "" {
			l.Texts.Forms[t.key()] = theirs.forms()
			continue
		}
		l.Texts.Whole[t.key()] = theirs.To
	}
	for _, id := range slices.Sorted(maps.Keys(f.Foods)) {
		if _, ok := rules.ProductByID(id); !ok {
			wrong = append(wrong, fmt.Errorf("%s: foods: %s: no such food", name, id))
		}
	}
	return l, errors.Join(wrong...)
}

// key stands for the text in what a page is given.
func (t *Text) key() string {
	if t.One != "" {
		return language.Key(language.FormsOf(t.One, t.All))
	}
	return language.Key(t.All)
}

// Has reports whether a text is translated.
func (l *Language) Has(t *Text) bool {
	if t.One != "" {
		return len(l.Texts.Forms[t.key()]) > 0
	}
	return l.Texts.Whole[t.key()] != ""
}

// sameKey finds texts that a page could not tell apart.
func sameKey(english []Text) (wrong []error) {
	of := map[string]string{}
	for i := range english {
		t := &english[i]
		key := t.key()
		if other, taken := of[key]; taken {
			wrong = append(wrong, fmt.Errorf("%s and %s have the same key %s: change the words of one", other, t.ID, key))
		}
		of[key] = t.ID
	}
	return wrong
}

// fits reports what is wrong with a translation.
func (t *Translation) fits(english *Text, needed []string) error {
	forms := t.forms()
	if english.One == "" {
		if len(forms) > 0 {
			return errors.New("it depends on no number, and has forms for one")
		}
		if strings.TrimSpace(t.To) == "" {
			return errors.New("the text is empty")
		}
		return sameFilled(english.All, t.To)
	}
	if t.To != "" {
		return fmt.Errorf("it depends on a number: want the forms %s", strings.Join(needed, ", "))
	}
	for _, form := range needed {
		theirs := forms[form]
		if strings.TrimSpace(theirs) == "" {
			return fmt.Errorf("the form %q is missing", form)
		}
		if err := sameFilled(english.All, theirs); err != nil && sameFilled(english.One, theirs) != nil {
			return fmt.Errorf("%s: %w", form, err)
		}
	}
	return nil
}

func sameFilled(english, theirs string) error {
	if want, got := filled(english), filled(theirs); !slices.Equal(want, got) {
		return fmt.Errorf("filled in with %q, want %q", got, want)
	}
	return nil
}

// filled lists what is filled into a text, each by its place among the arguments, in
// any order.
func filled(text string) []string {
	found := verbs.FindAllString(text, -1)
	next := 1
	for i, verb := range found {
		if verb == "%%" || verb[0] == '{' {
			continue
		}
		if at := place.FindString(verb); at != "" {
			next, _ = strconv.Atoi(at[1 : len(at)-1])
		}
		found[i] = fmt.Sprintf("%%[%d]%s", next, place.ReplaceAllString(verb, "")[1:])
		next++
	}
	slices.Sort(found)
	return found
}

var formNames = map[plural.Form]string{plural.Zero: "zero", plural.One: "one", plural.Two: "two", plural.Few: "few", plural.Many: "many", plural.Other: "other"}

// Form is the form that a whole number takes in a language, by the rules of CLDR.
func Form(t tag.Tag, n int) string { return formNames[plural.Cardinal.MatchPlural(t, n, 0, 0, 0, 0)] }

// Plural writes down the rules of CLDR for a language as a page can read them, for
// which it needs no library: see [language.Category]. The second result lists the
// forms that there are.
func Plural(t tag.Tag) (plurals string, forms []string) {
	letters := make([]byte, language.Sampled+1)
	for n := range language.Sampled + 1 {
		number := n
		if n == language.Sampled {
			number = 1_000_000
		}
		form := Form(t, number)
		letters[n] = language.Letter(form)
		if !slices.Contains(forms, form) {
			forms = append(forms, form)
		}
	}
	slices.Sort(forms)
	return string(letters), forms
}
