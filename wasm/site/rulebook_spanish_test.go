package main

import (
	"bytes"
	"html/template"
	"strings"
	"testing"

	"larderlamp/rules"
	"larderlamp/rules/prose"
)

// The Spanish book has the anchors of the English one, and each reason, question,
// answer, step of advice and caution in Spanish.
func TestSpanishRulebook(t *testing.T) {
	uses, err := casesByRule()
	if err != nil {
		t.Fatal(err)
	}
	in, err := reader("es")
	if err != nil {
		t.Fatal(err)
	}
	var english, spanish bytes.Buffer
	if err := writeBook(&english, uses, "en", nil); err != nil {
		t.Fatal(err)
	}
	if err := writeBook(&spanish, uses, "es", in); err != nil {
		t.Fatal(err)
	}
	book := spanish.String()
	if !strings.Contains(book, `<html lang="es">`) {
		t.Error("the Spanish book does not say that it is in Spanish")
	}
	if got, want := strings.Count(book, ` id="`), strings.Count(english.String(), ` id="`); got != want || want == 0 {
		t.Errorf("got %d anchors in Spanish, want %d", got, want)
	}
	seen := 0
	translated := func(where string, text prose.Text) {
		if text.String() == "" {
			return
		}
		seen++
		theirs := text.In(in)
		if theirs == text.String() && strings.Contains(theirs, " ") {
			t.Errorf("%s: stays English: %s", where, theirs)
		}
		if !strings.Contains(book, template.HTMLEscapeString(theirs)) {
			t.Errorf("%s: the book lacks: %s", where, theirs)
		}
	}
	for p := range rules.Parts {
		for _, r := range rules.Parts[p].Rules {
			translated(r.ID, r.Say)
		}
	}
	for id := range rules.SignID(rules.NumSigns) {
		if !strings.Contains(english.String(), `id="question.`+id.ID()+`"`) {
			continue // the guide finds it out itself
		}
		translated(id.ID(), id.Info().Ask)
		translated(id.ID(), id.Info().How)
	}
	for _, a := range rules.Advices {
		translated(a.ID, a.Title)
		for _, s := range a.Steps {
			translated(a.ID, s)
		}
	}
	for _, c := range rules.Cautions {
		translated(c.ID, c.Title)
		for _, l := range c.Lines {
			translated(c.ID, l)
		}
	}
	if seen < 300 {
		t.Errorf("looked at only %d texts", seen)
	}
}
