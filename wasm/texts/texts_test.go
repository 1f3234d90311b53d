package texts_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	tag "golang.org/x/text/language"

	"larderlamp/app/language"
	"larderlamp/rules/prose"
	"larderlamp/wasm/texts"
)

// english are the texts of a small program.
var english = []texts.Text{
	{ID: "d-of-s", All: "%d of %s", In: []string{"a.go"}},
	{ID: "loading", All: "Loading: {progress} %", In: []string{"static/a.js"}},
	{ID: "vinegar", All: "vinegar of 5 % or more", In: []string{"a.go"}},
	{ID: "interval", All: "95 %% interval of %d", In: []string{"a.go"}},
	{ID: "keep", All: "Keep", In: []string{"a.go"}},
	{ID: "jars", One: "jar", All: "jars", In: []string{"a.go"}},
}

// A file of a translator is read whole, or refused with the text that is at fault.
func TestParse(t *testing.T) {
	for _, c := range []struct{ text, wrong string }{
		{`{"language":"de","name":"x","texts":{"d-of-s":{"from":"%d of %s","to":"von %[2]s %[1]d"}}}`, ""},
		{`{"language":"pt-BR","name":"x","texts":{"loading":{"from":"Loading: {progress} %","to":"{progress} %"}}}`, ""},
		{`{"language":"de","name":"x","texts":{"vinegar":{"from":"vinegar of 5 % or more","to":"Essig mit 5 % und mehr"}}}`, ""},
		{`{"language":"de","name":"x","texts":{"interval":{"from":"95 %% interval of %d","to":"%d, 95 %%"}}}`, ""},
		{`{"language":"de","name":"x","texts":{"jars":{"from":"jar | jars","one":"Glas","other":"Gläser"}}}`, ""},
		{`{"language":"ja","name":"x","texts":{"jars":{"from":"jar | jars","other":"瓶"}}}`, ""},
		{`{"language":"de","name":"x","texts":{"keep":{"from":"Keep","to":"x"}},"foods":{"green-beans":["Fisolen"]}}`, ""},
		{`{"language":"de","name":"x","texts":{"keep":{"from":"Keep","to":"x"}},"foods":{"no-such-food":["x"]}}`, `no-such-food`},
		{`{"language":"de","name":"x","texts":{"interval":{"from":"95 %% interval of %d","to":"%d, 95 %"}}}`, `interval: "95 %% interval of %d"`},
		{`{"language":"de","name":"x","texts":{"d-of-s":{"from":"%d of %s","to":"von %s"}}}`, `d-of-s: "%d of %s"`},
		{`{"language":"de","name":"x","texts":{"d-of-s":{"from":"%d of %s","to":"%s von %s"}}}`, `d-of-s: "%d of %s"`},
		{`{"language":"de","name":"x","texts":{"d-of-s":{"from":"%d of %s","to":"%s von %d"}}}`, `d-of-s: "%d of %s"`},
		{`{"language":"de","name":"x","texts":{"d-of-s":{"from":"%d of %s","to":"%[2]d von %[1]s"}}}`, `d-of-s: "%d of %s"`},
		{`{"language":"de","name":"x","texts":{"loading":{"from":"Loading: {progress} %","to":"Lädt"}}}`, `loading: "Loading: {progress} %"`},
		{`{"language":"de","name":"x","texts":{"keep":{"from":"Keep","to":" "}}}`, `keep: "Keep": the text is empty`},
		{`{"language":"de","name":"x","texts":{"keep":{"from":"Keep","to":"x","one":"y"}}}`, `keep: "Keep": it depends on no number`},
		{`{"language":"de","name":"x","texts":{"jars":{"from":"jar | jars","one":"Glas"}}}`, `jars: "jars": the form "other" is missing`},
		{`{"language":"pl","name":"x","texts":{"jars":{"from":"jar | jars","one":"słoik","other":"słoika","many":"słoików"}}}`, `jars: "jars": the form "few" is missing`},
		{`{"language":"de","name":"x","texts":{"jars":{"from":"jar | jars","to":"Gläser"}}}`, `jars: "jars": it depends on a number`},
		{`{"language":"de","texts":{"keep":{"from":"Keep","to":"x"}}}`, "no name"},
		{`{"language":"../x","name":"x","texts":{"keep":{"from":"Keep","to":"x"}}}`, "language"},
		{`{"language":"de","name":"x","texts":{}}`, "no texts"},
		{`{"language":"de","name":"x","words":{}}`, "words"},
		{`{"language":"de","name":"x","texts":{"keep":{"from":"Keep","to":"x"}}}}`, "follows"},
		{``, "EOF"},
	} {
		l, err := texts.Parse("de.json", []byte(c.text), english)
		if c.wrong == "" {
			if err != nil || len(l.Texts.Whole)+len(l.Texts.Forms) != 1 || len(l.Stale)+len(l.Unused) > 0 {
				t.Errorf("%s: %+v, %v", c.text, l, err)
			}
		} else if err == nil || !strings.Contains(err.Error(), c.wrong) || !strings.Contains(err.Error(), "de.json") {
			t.Errorf("%s: got %v, want %q", c.text, err, c.wrong)
		}
	}
}

// A translation of an English text that has changed since is not used, and is named.
func TestStale(t *testing.T) {
	l, err := texts.Parse("de.json", []byte(`{"language":"de","name":"x","texts":{"keep":{"from":"Keep it","to":"x"},"gone":{"from":"Gone","to":"y"},"loading":{"from":"Loading: {progress} %","to":"{progress} %"}}}`), english)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(l.Stale, []string{"keep"}) || !slices.Equal(l.Unused, []string{"gone"}) {
		t.Errorf("got stale %q and unused %q", l.Stale, l.Unused)
	}
	if got := prose.Text("Keep").In(l.Texts.Reader()); got != "Keep" {
		t.Errorf("got the stale translation %q", got)
	}
	if got := prose.Text("Loading: {progress} %").In(l.Texts.Reader()); got != "{progress} %" {
		t.Errorf("got %q for the translation that still holds", got)
	}
}

// What is said of a number is in the form that CLDR gives that number: a page gets by
// with two hundred of them in every language below. In a few others, such as Cornish,
// more than the last two digits count.
func TestFormsAreThoseOfCLDR(t *testing.T) {
	numbers := []int{}
	for n := range 3000 {
		numbers = append(numbers, n)
	}
	numbers = append(numbers, 9_999, 10_000, 100_000, 100_001, 999_999, 1_000_000, 1_000_001, 1_000_002, 1_100_000, 2_000_000, 3_000_021, 10_000_000)
	for _, name := range strings.Fields("ar be bg bn br bs ca cs cy da de el en es et eu fa fi fr ga gd gl gv he hi hr hu hy is it ja ka km ko lt lv mk mt nl no pl pt pt-PT ro ru sk sl so sq sr sv sw ta th tl tr uk ur uz vi zh zu") {
		spoken := tag.MustParse(name)
		plural, forms := texts.Plural(spoken)
		for _, n := range numbers {
			if got, want := language.Category(plural, n), texts.Form(spoken, n); got != want || !slices.Contains(forms, got) {
				t.Errorf("%s: %d: got the form %q, want %q", name, n, got, want)
			}
		}
	}
}

// An id is given once: it stays when the English changes, when texts come and go
// around it, and when the text moves.
func TestIDsStay(t *testing.T) {
	list := func(lines ...string) (all []texts.Text) {
		for _, line := range lines {
			id, text, _ := strings.Cut(line, "=")
			all = append(all, texts.Text{ID: id, All: text, In: []string{"a.go"}})
		}
		return all
	}
	before := list("first=First", "keep=Keep the jar", "boil=Boil it first", "last=Last")
	for what, c := range map[string]struct{ found, want []texts.Text }{
		"nothing changed":      {list("=First", "=Keep the jar", "=Boil it first", "=Last"), before},
		"one was edited":       {list("=First", "=Keep this jar", "=Boil it first", "=Last"), list("first=First", "keep=Keep this jar", "boil=Boil it first", "last=Last")},
		"two were edited":      {list("=First", "=Boil the food first", "=Keep this jar", "=Last"), list("first=First", "boil=Boil the food first", "keep=Keep this jar", "last=Last")},
		"one was written anew": {list("=First", "=Put it back", "=Boil it first", "=Last"), list("first=First", "keep=Put it back", "boil=Boil it first", "last=Last")},
		"one came":             {list("=First", "=Keep the jar", "=And smile", "=Boil it first", "=Last"), list("first=First", "keep=Keep the jar", "and-smile=And smile", "boil=Boil it first", "last=Last")},
		"one went":             {list("=First", "=Boil it first", "=Last"), list("first=First", "boil=Boil it first", "last=Last")},
		"one moved":            {list("=Last", "=First", "=Keep the jar", "=Boil it first"), list("last=Last", "first=First", "keep=Keep the jar", "boil=Boil it first")},
		"an id is taken":       {list("=First", "=Keep the jar", "=Boil it first", "=Last", "=last!", "=Last."), list("first=First", "keep=Keep the jar", "boil=Boil it first", "last=Last", "last-2=last!", "last-3=Last.")},
	} {
		if got := texts.Named(before, c.found); fmt.Sprint(got) != fmt.Sprint(c.want) {
			t.Errorf("%s: got\n%v, want\n%v", what, got, c.want)
		}
	}
}

// The list is read as it is written.
func TestListStays(t *testing.T) {
	all, err := texts.English()
	if err != nil {
		t.Fatal(err)
	}
	written, err := texts.Write(all)
	if err != nil {
		t.Fatal(err)
	}
	again, err := texts.Read(written)
	if err != nil || fmt.Sprint(again) != fmt.Sprint(all) {
		t.Errorf("%v: got a list other than what was written", err)
	}
	ids := map[string]bool{}
	for _, one := range all {
		if one.ID == "" || ids[one.ID] {
			t.Errorf("%q has the id %q of another", one.All, one.ID)
		}
		ids[one.ID] = true
	}
}

// Every language of this program has each text, made from the English of today, and
// nothing else. Who changes a text changes its translation, or has it changed.
func TestLanguagesAreComplete(t *testing.T) {
	english, err := texts.English()
	if err != nil {
		t.Fatal(err)
	}
	all, err := texts.Languages()
	if err != nil {
		t.Fatal(err)
	}
	if len(all) == 0 {
		t.Fatal("there is no language besides English")
	}
	for _, l := range all {
		for _, id := range l.Stale {
			t.Errorf("%s: %s was translated from another English text than today's", l.Texts.Tag, id)
		}
		for _, id := range l.Unused {
			t.Errorf("%s: %s is no text any more", l.Texts.Tag, id)
		}
		for i := range english {
			e := &english[i]
			if !l.Has(e) && !slices.Contains(l.Stale, e.ID) {
				t.Errorf("%s: %s is missing: %s", l.Texts.Tag, e.ID, e.From())
			}
		}
	}
}
